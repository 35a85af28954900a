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
    /// The left half of a keyboard alone.
    LeftHand,
    /// The right half of a keyboard alone.
    RightHand,
}

impl BuiltIn {
    /// All of them, the default first.
    pub const ALL: [BuiltIn; 4] = [BuiltIn::TwoHands, BuiltIn::Keypad, BuiltIn::LeftHand, BuiltIn::RightHand];

    /// The name that `base = "..."` and the settings use.
    pub fn name(self) -> &'static str {
        match self {
            BuiltIn::TwoHands => "two-hands",
            BuiltIn::Keypad => "keypad",
            BuiltIn::LeftHand => "left-hand",
            BuiltIn::RightHand => "right-hand",
        }
    }

    /// The file itself.
    pub fn text(self) -> &'static str {
        match self {
            BuiltIn::TwoHands => include_str!("../../keymaps/two-hands.toml"),
            BuiltIn::Keypad => include_str!("../../keymaps/keypad.toml"),
            BuiltIn::LeftHand => include_str!("../../keymaps/left-hand.toml"),
            BuiltIn::RightHand => include_str!("../../keymaps/right-hand.toml"),
        }
    }

    /// The built-in map with this name.
    pub fn named(name: &str) -> Option<BuiltIn> {
        BuiltIn::ALL.into_iter().find(|map| map.name() == name)
    }

    /// The map, ready for use. The tests prove that its file is without a fault.
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

/// What a sequence is bound to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct Bound {
    intent: Intent,
    /// The line that says so, as in [`Line::number`].
    number: usize,
    /// Its place among the ways written for its intent: help names the first.
    place: usize,
}

type Bindings = BTreeMap<Sequence, Bound>;

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
        let map = Keymap { name: name.to_string(), bindings };
        // Of two that fight over a key, one is out of reach until the fight is settled.
        let fighting: BTreeSet<Intent> = faults.iter().flat_map(|(_, fault)| fault.fighting()).collect();
        faults.extend(map.unreachable(lines, &fighting));
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
            match readings(context, next).find(|r| self.leads_on(context, &typed, *r)) {
                Some(reading) => typed.push(reading),
                None if pending.is_empty() => return Resolution::Unbound,
                None => return Resolution::Cancelled,
            }
        }
        match self.bindings[&context].get(&typed) {
            Some(bound) => Resolution::Found(bound.intent),
            None => Resolution::Pending,
        }
    }

    /// Every sequence of a context with its intent, in the order of the keys.
    pub fn bindings(&self, context: Context) -> impl Iterator<Item = (&[Key], Intent)> {
        self.bindings[&context].iter().map(|(keys, bound)| (keys.as_slice(), bound.intent))
    }

    /// Every sequence that means this intent here, written out, in the order of the file;
    /// those of the context itself before those of `[everywhere]`.
    pub fn keys_for(&self, context: Context, intent: Intent) -> Vec<String> {
        let mut found: Vec<(usize, &Sequence)> = self.bindings[&context]
            .iter()
            .filter(|(_, bound)| bound.intent == intent)
            .map(|(keys, bound)| (bound.place, keys))
            .collect();
        found.sort();
        found.into_iter().map(|(_, keys)| written(keys)).collect()
    }

    fn leads_on(&self, context: Context, typed: &[Key], next: Key) -> bool {
        let mut longer = typed.to_vec();
        longer.push(next);
        self.bindings[&context].range(longer.clone()..).next().is_some_and(|(keys, _)| keys.starts_with(&longer))
    }

    fn unreachable(&self, lines: &[Line], fighting: &BTreeSet<Intent>) -> Vec<(usize, Fault)> {
        let mut faults = Vec::new();
        for row in table::TABLE.iter().filter(|row| row.role != Role::Shortcut && !fighting.contains(&row.intent)) {
            for context in row.meant {
                if !self.bindings[context].values().any(|bound| bound.intent == row.intent) {
                    let number = line_of(lines, row.intent);
                    let fault = Fault::Unreachable { intent: row.intent, context: *context };
                    faults.push((number, fault));
                }
            }
        }
        faults
    }
}

/// What a key may mean here. Today only digits are meant by the row of digits, so there the unshifted 6 of a French keyboard
/// is one too, unless it has work of its own; with an animal in the crush it stays a minus.
fn readings(context: Context, key: Key) -> impl Iterator<Item = Key> {
    let six = (context == Context::Today && key == Key::Char('-')).then_some(Key::Char('6'));
    key.readings().chain(six)
}

/// Keys as help and README write them: a space between the keys of a sequence.
pub fn written(keys: &[Key]) -> String {
    keys.iter().map(Key::to_string).collect::<Vec<_>>().join(" ")
}

fn line_of(lines: &[Line], intent: Intent) -> usize {
    lines.iter().filter(|line| line.intent == intent).map(|line| line.number).max().unwrap_or(0)
}

/// The lines of one section by their keys.
fn section(lines: &[Line], section: Section, faults: &mut BTreeSet<(usize, Fault)>) -> Bindings {
    let mut placed = Bindings::new();
    for line in lines.iter().filter(|line| line.section == section) {
        let Line { intent, number, .. } = *line;
        for (place, keys) in line.keys.iter().enumerate() {
            let bound = Bound { intent, number, place };
            match placed.insert(keys.clone(), bound) {
                Some(other) if other.intent != intent => {
                    let (keys, one) = (keys.clone(), other.intent);
                    let fault = Fault::KeyTwice { keys, one, other: intent };
                    faults.insert((other.number.max(number), fault));
                }
                _ => {}
            }
        }
    }
    placed
}

/// Puts the lines of `[everywhere]` beneath those of one context.
///
/// Where letters go into a field, nothing of `[everywhere]` may begin with one.
fn merge(context: Context, own: Bindings, everywhere: &Bindings, faults: &mut BTreeSet<(usize, Fault)>) -> Bindings {
    let is_text = |keys: &[Key]| keys.first().is_some_and(|key| key.text().is_some());
    let mut all = own;
    for (keys, bound) in everywhere {
        let meant = table::row_in(context, bound.intent).is_some();
        if meant && !(context == Context::Text && is_text(keys)) {
            // The ways of the context itself are named first.
            let place = LONGEST_LINE + bound.place;
            all.entry(keys.clone()).or_insert(Bound { place, ..*bound });
        }
    }
    let mut last: Option<(&Sequence, usize)> = None;
    for (long, bound) in &all {
        match last {
            // A sequence and all that begin with it stand together in the order of a map.
            Some((short, first)) if long.starts_with(short) => {
                let fault = Fault::Prefix { short: short.clone(), long: long.clone() };
                faults.insert((first.max(bound.number), fault));
            }
            _ => last = Some((long, bound.number)),
        }
    }
    all
}

/// Beyond the number of ways anybody writes for one intent.
const LONGEST_LINE: usize = 1000;
