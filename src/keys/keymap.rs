//! A keymap ready for use: for every context, which keys mean what.
//!
//! Built from lines (`load` reads them). A line of a context beats a line of
//! `[everywhere]`; beyond that nothing is ever decided by order: a key that would mean
//! two things in one context is a fault, and so is a key that would have to be waited
//! for because a longer sequence begins with it.

use std::collections::{BTreeMap, BTreeSet};

use crate::keys::context::Context;
use crate::keys::fault::Fault;
use crate::keys::intent::{Intent, Role};
use crate::keys::key::Key;
use crate::keys::load;
use crate::keys::table;

/// Keys pressed one after the other; most often one.
pub type Sequence = Vec<Key>;

/// The table of a keymap file in which a line stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Section {
    /// Counts wherever the intent is meant.
    Everywhere,
    /// Counts in one context.
    In(Context),
}

/// One line of a keymap file: all the keys of one intent in one section.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Line {
    /// Where it stands.
    pub section: Section,
    /// What is meant.
    pub intent: Intent,
    /// The keys that mean it.
    pub keys: Vec<Sequence>,
    /// Line number in the user's file, from 1; 0 for a line of the built-in map beneath it.
    pub number: usize,
}

/// The keymaps built into the program.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BuiltIn {
    /// A whole keyboard.
    TwoHands,
    /// A numeric keypad alone.
    Keypad,
}

impl BuiltIn {
    /// Both, the default first.
    pub const ALL: [BuiltIn; 2] = [BuiltIn::TwoHands, BuiltIn::Keypad];

    /// The name that `base = "..."` and the settings use.
    pub fn name(self) -> &'static str {
        match self {
            BuiltIn::TwoHands => "two-hands",
            BuiltIn::Keypad => "keypad",
        }
    }

    /// The file itself.
    pub fn text(self) -> &'static str {
        match self {
            BuiltIn::TwoHands => include_str!("../../keymaps/two-hands.toml"),
            BuiltIn::Keypad => include_str!("../../keymaps/keypad.toml"),
        }
    }

    /// The built-in map with this name.
    pub fn named(name: &str) -> Option<BuiltIn> {
        BuiltIn::ALL.into_iter().find(|map| map.name() == name)
    }

    /// The map, ready for use. The tests prove that both files are without a fault.
    pub fn keymap(self) -> Keymap {
        load::built_in(self)
    }
}

/// What a key press came to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Resolution {
    /// This is meant.
    Found(Intent),
    /// A sequence has begun or goes on: keep the key and wait for the next.
    Pending,
    /// Nothing is bound to this key here.
    Unbound,
    /// The sequence that had begun leads nowhere: forget its keys and this one.
    Cancelled,
}

type Bindings = BTreeMap<Sequence, Intent>;

/// For every context, which keys mean what.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Keymap {
    name: String,
    bindings: BTreeMap<Context, Bindings>,
}

impl Keymap {
    /// Builds a keymap from lines and returns every fault with the line it is about.
    pub fn build(name: &str, lines: &[Line]) -> (Keymap, Vec<(usize, Fault)>) {
        let mut faults = BTreeSet::new();
        let everywhere = section(lines, Section::Everywhere, &mut faults);
        let bindings = Context::ALL
            .into_iter()
            .map(|context| {
                let own = section(lines, Section::In(context), &mut faults);
                (context, merge(context, own, &everywhere, &mut faults))
            })
            .collect();
        let map = Keymap {
            name: name.to_string(),
            bindings,
        };
        if faults.is_empty() {
            faults.extend(map.unreachable(lines));
        }
        (map, faults.into_iter().collect())
    }

    /// The name it was loaded under.
    pub fn name(&self) -> &str {
        &self.name
    }

    /// Says what a key means after the keys that are already waiting.
    ///
    /// Case, the comma and the French number row are folded away here, and only where
    /// the key itself is not bound. In [`Context::Text`] an unbound key that has
    /// [`Key::text`] is text.
    pub fn resolve(&self, context: Context, pending: &[Key], key: Key) -> Resolution {
        let mut typed = Sequence::new();
        for next in pending.iter().copied().chain([key]) {
            match next.readings().find(|r| self.leads_on(context, &typed, *r)) {
                Some(reading) => typed.push(reading),
                None if pending.is_empty() => return Resolution::Unbound,
                None => return Resolution::Cancelled,
            }
        }
        match self.bindings[&context].get(&typed) {
            Some(intent) => Resolution::Found(*intent),
            None => Resolution::Pending,
        }
    }

    /// Every sequence of a context with its intent, in the order of the keys.
    pub fn bindings(&self, context: Context) -> impl Iterator<Item = (&[Key], Intent)> {
        self.bindings[&context]
            .iter()
            .map(|(keys, intent)| (keys.as_slice(), *intent))
    }

    /// Every sequence that means this intent here, the shortest first, written out.
    pub fn keys_for(&self, context: Context, intent: Intent) -> Vec<String> {
        let mut found: Vec<&[Key]> = self
            .bindings(context)
            .filter(|(_, bound)| *bound == intent)
            .map(|(keys, _)| keys)
            .collect();
        found.sort_by_key(|keys| (keys.len(), rank(keys)));
        found.into_iter().map(written).collect()
    }

    fn leads_on(&self, context: Context, typed: &[Key], next: Key) -> bool {
        let mut longer = typed.to_vec();
        longer.push(next);
        self.bindings[&context]
            .range(longer.clone()..)
            .next()
            .is_some_and(|(keys, _)| keys.starts_with(&longer))
    }

    fn unreachable(&self, lines: &[Line]) -> Vec<(usize, Fault)> {
        let mut faults = Vec::new();
        for row in table::TABLE.iter().filter(|row| row.role != Role::Shortcut) {
            for context in row.meant {
                if !self.bindings[context]
                    .values()
                    .any(|bound| *bound == row.intent)
                {
                    let number = line_of(lines, row.intent);
                    let fault = Fault::Unreachable {
                        intent: row.intent,
                        context: *context,
                    };
                    faults.push((number, fault));
                }
            }
        }
        faults
    }
}

/// Keys as help and README write them: a space between the keys of a sequence.
pub fn written(keys: &[Key]) -> String {
    keys.iter()
        .map(Key::to_string)
        .collect::<Vec<_>>()
        .join(" ")
}

/// Enter, Backspace and letters before the keys that are only beside them.
fn rank(keys: &[Key]) -> u8 {
    match keys.last() {
        Some(Key::Char(c)) if c.is_alphanumeric() => 0,
        Some(Key::Char(_) | Key::Enter | Key::Backspace) => 1,
        _ => 2,
    }
}

fn line_of(lines: &[Line], intent: Intent) -> usize {
    lines
        .iter()
        .filter(|line| line.intent == intent)
        .map(|line| line.number)
        .max()
        .unwrap_or(0)
}

/// A sequence with what it means and the line that says so.
type Placed = BTreeMap<Sequence, (Intent, usize)>;

/// The lines of one section by their keys.
fn section(lines: &[Line], section: Section, faults: &mut BTreeSet<(usize, Fault)>) -> Placed {
    let mut placed = Placed::new();
    for line in lines.iter().filter(|line| line.section == section) {
        for keys in &line.keys {
            let Some((other, number)) = placed.insert(keys.clone(), (line.intent, line.number))
            else {
                continue;
            };
            if other != line.intent {
                let fault = Fault::KeyTwice {
                    keys: keys.clone(),
                    one: other,
                    other: line.intent,
                };
                faults.insert((number.max(line.number), fault));
            }
        }
    }
    placed
}

/// Puts the lines of `[everywhere]` beneath those of one context.
///
/// Where letters go into a field, nothing of `[everywhere]` may begin with one.
fn merge(
    context: Context,
    own: Placed,
    everywhere: &Placed,
    faults: &mut BTreeSet<(usize, Fault)>,
) -> Bindings {
    let is_text = |keys: &[Key]| keys.first().is_some_and(|key| key.text().is_some());
    let mut all = own;
    for (keys, (intent, number)) in everywhere {
        let meant = table::row_in(context, *intent).is_some();
        if meant && !(context == Context::Text && is_text(keys)) {
            all.entry(keys.clone()).or_insert((*intent, *number));
        }
    }
    let mut last: Option<(&Sequence, usize)> = None;
    for (long, (_, number)) in &all {
        match last {
            // A sequence and all that begin with it stand together in the order of a map.
            Some((short, first)) if long.starts_with(short) => {
                let fault = Fault::Prefix {
                    short: short.clone(),
                    long: long.clone(),
                };
                faults.insert((first.max(*number), fault));
            }
            _ => last = Some((long, *number)),
        }
    }
    all.into_iter()
        .map(|(keys, (intent, _))| (keys, intent))
        .collect()
}
