//! Trying keys: what each press was read as, what it means everywhere, and which of the keys that every turn needs have
//! come.
//!
//! A terminal, a keyboard or a layout may send something else than its keys say; this is how to find out before an animal
//! stands there. Pure, like the filter: time is an argument, and nothing is done with what is meant.

use std::collections::VecDeque;
use std::time::Duration;

use crate::keys::context::Context;
use crate::keys::filter::{Filter, Input};
use crate::keys::intent::Intent;
use crate::keys::key::Key;
use crate::keys::keymap::{Keymap, Resolution, Sequence};
use crate::keys::num_lock::NumLock;
use crate::keys::table::row_in;

/// What the filter saw in a press.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Verdict {
    /// It waits to see what follows.
    Waiting,
    /// A finger: it counts.
    Finger,
    /// Part of what a tag reader typed.
    Reader,
    /// Too fast for fingers, too short for a tag.
    Swept,
    /// A second press of the same key too soon after the first.
    Bounced,
    /// A repeat of a key that is held down.
    Held,
}

impl Verdict {
    /// In one word.
    pub fn word(self) -> &'static str {
        match self {
            Verdict::Waiting => "...",
            Verdict::Finger => "finger",
            Verdict::Reader => "reader",
            Verdict::Swept => "swept",
            Verdict::Bounced => "bounced",
            Verdict::Held => "held",
        }
    }
}

/// One thing that came in.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Heard {
    /// A key press.
    Press {
        /// The key.
        key: Key,
        /// Time since the press before it.
        since: Option<Duration>,
        /// What the filter saw in it.
        verdict: Verdict,
    },
    /// Text in one piece.
    Paste(String),
    /// A tap, in cells from the top left corner.
    Tap(u16, u16),
}

/// What keys mean in one context.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Meaning {
    /// This is meant.
    Is(Intent),
    /// More keys are waited for.
    Begins,
    /// A letter of a text.
    Letter,
    /// Nothing.
    Nothing,
}

impl Meaning {
    /// In the words of the table, and which of a family it is; a term that regions say differently stands in braces.
    pub fn words(self, context: Context) -> String {
        let intent = match self {
            Meaning::Is(intent) => intent,
            Meaning::Begins => return "begins a sequence".to_owned(),
            Meaning::Letter => return "a letter".to_owned(),
            Meaning::Nothing => return "nothing".to_owned(),
        };
        let row = row_in(context, intent);
        let (words, short) = row.map_or(("", ""), |row| (row.words, row.short));
        match intent {
            Intent::Digit(digit) => format!("{digit} of {words}"),
            Intent::Zone(zone) => format!("zone {zone}, {short}"),
            Intent::Pick(choice) => format!("choice {choice}"),
            _ => words.to_owned(),
        }
    }
}

/// What a key means after keys that are already waiting.
pub fn meaning(keymap: &Keymap, context: Context, pending: &[Key], key: Key) -> Meaning {
    match keymap.resolve(context, pending, key) {
        Resolution::Found(intent) => Meaning::Is(intent),
        Resolution::Pending => Meaning::Begins,
        Resolution::Unbound if context == Context::Text && key.text().is_some() => Meaning::Letter,
        // What had begun was text after all, and this key stands alone.
        Resolution::Cancelled if context == Context::Text => meaning(keymap, context, &[], key),
        Resolution::Unbound | Resolution::Cancelled => Meaning::Nothing,
    }
}

/// What keys pressed one after the other come to in a context; none for no keys.
pub fn meaning_of(keymap: &Keymap, context: Context, keys: &[Key]) -> Meaning {
    let Some((last, before)) = keys.split_last() else { return Meaning::Nothing };
    // A sequence that was complete earlier, or led nowhere, is over: what comes after it stands alone.
    let mut pending = Sequence::new();
    for key in before {
        match keymap.resolve(context, &pending, *key) {
            Resolution::Pending => pending.push(*key),
            Resolution::Found(_) | Resolution::Unbound | Resolution::Cancelled => pending.clear(),
        }
    }
    meaning(keymap, context, &pending, *last)
}

/// A key that every turn needs.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Wanted {
    /// What is to be meant by it.
    pub intent: Intent,
    /// How it is called, and on which keys it is.
    pub name: String,
    /// Whether it came.
    pub came: bool,
}

/// What stands at the end of the list, beside the keys.
const OTHERS: [(Intent, &str); 4] =
    [(Intent::GoOn, "go on"), (Intent::Undo, "undo"), (Intent::Help, "help"), (Intent::Leave, "leave")];

/// No more is kept than any screen shows.
const KEPT: usize = 200;
/// The leave key so many times, one after the other, ends it.
const LEAVES: u8 = 2;

/// Keys being tried.
#[derive(Clone, Debug)]
pub struct Trial {
    keymap: Keymap,
    filter: Filter,
    num_lock: NumLock,
    num_lock_off: bool,
    heard: VecDeque<Heard>,
    pending: Vec<(Context, Sequence)>,
    meanings: Vec<(Context, Meaning)>,
    wanted: Vec<Wanted>,
    last: Option<Duration>,
    leaves: u8,
    done: bool,
}

impl Trial {
    /// A trial of this keymap, with nothing pressed yet.
    pub fn new(keymap: Keymap) -> Trial {
        let digits = (0..=9).map(|digit| (Intent::Digit(digit), digit.to_string()));
        let others = OTHERS.map(|(intent, name)| {
            let keys = keymap.keys_for(Context::Today, intent).into_iter().next().unwrap_or_default();
            (intent, format!("{name} {keys}"))
        });
        let wanted = digits.chain(others).map(|(intent, name)| Wanted { intent, name, came: false }).collect();
        Trial {
            keymap,
            filter: Filter::default(),
            num_lock: NumLock::default(),
            num_lock_off: false,
            heard: VecDeque::new(),
            pending: Context::ALL.map(|context| (context, Sequence::new())).to_vec(),
            meanings: Vec::new(),
            wanted,
            last: None,
            leaves: 0,
            done: false,
        }
    }

    /// The keymap in force.
    pub fn keymap(&self) -> &Keymap {
        &self.keymap
    }

    /// What came in, the newest last.
    pub fn heard(&self) -> impl DoubleEndedIterator<Item = &Heard> {
        self.heard.iter()
    }

    /// What the newest press that counts means in each context.
    pub fn meanings(&self) -> &[(Context, Meaning)] {
        &self.meanings
    }

    /// The list of keys to press.
    pub fn wanted(&self) -> &[Wanted] {
        &self.wanted
    }

    /// Whether NumLock looks on; none while nothing speaks for either.
    pub fn num_lock(&self) -> Option<bool> {
        let digits = self.wanted.iter().any(|wanted| wanted.came && matches!(wanted.intent, Intent::Digit(_)));
        if self.num_lock_off { Some(false) } else { digits.then_some(true) }
    }

    /// Whether it was left.
    pub fn is_done(&self) -> bool {
        self.done
    }

    /// A key, pressed at `at` since the start.
    pub fn take(&mut self, at: Duration, key: Key) {
        if key == Key::Ctrl('c') {
            self.done = true;
        }
        let since = self.last.map(|last| at.saturating_sub(last));
        self.last = Some(at);
        self.keep(Heard::Press { key, since, verdict: Verdict::Waiting });
        match self.num_lock.notice(Context::Foot, key) {
            Some(_) => self.num_lock_off = true,
            None if matches!(key, Key::Char(c) if c.is_ascii_digit()) => self.num_lock_off = false,
            None => {}
        }
        let inputs = self.filter.take(at, key, Context::Foot);
        self.judge(inputs);
    }

    /// Text in one piece.
    pub fn paste(&mut self, at: Duration, text: &str) {
        let inputs = self.filter.paste(at, text, Context::Text);
        self.judge(inputs);
    }

    /// A tap at this cell.
    pub fn tap(&mut self, column: u16, row: u16) {
        self.keep(Heard::Tap(column, row));
    }

    /// Lets go of what was only waiting for silence.
    pub fn tick(&mut self, now: Duration) {
        let inputs = self.filter.tick(now, Context::Foot);
        self.judge(inputs);
    }

    /// When [`Trial::tick`] has something to do, if no key comes before.
    pub fn wakes_at(&self) -> Option<Duration> {
        self.filter.wakes_at()
    }

    fn keep(&mut self, heard: Heard) {
        self.heard.push_back(heard);
        if self.heard.len() > KEPT {
            self.heard.pop_front();
        }
    }

    fn judge(&mut self, inputs: Vec<Input>) {
        let mut machine = None;
        let dropped = inputs.iter().filter(|input| matches!(input, Input::Bounced(_))).count();
        for input in inputs {
            match input {
                Input::Key(key) => {
                    self.verdict(1, Verdict::Finger);
                    self.counts(key);
                }
                // Two at once: the one that was kept back and the one that showed why.
                Input::Bounced(_) if dropped > 1 => self.held(),
                Input::Bounced(_) | Input::Late(_) => self.dropped(),
                Input::Reader(text) => {
                    machine = Some(Verdict::Reader);
                    self.verdict(text.chars().count(), Verdict::Reader);
                }
                Input::Swept(text) => self.verdict(text.chars().count(), Verdict::Swept),
                Input::Text(text) => self.keep(Heard::Paste(text)),
            }
        }
        // The key that ends a reading is taken without a word.
        if let Some(verdict) = machine.filter(|_| self.filter.wakes_at().is_none()) {
            self.verdict(usize::MAX, verdict);
        }
    }

    fn presses(&mut self) -> impl DoubleEndedIterator<Item = &mut Verdict> {
        self.heard.iter_mut().filter_map(|heard| match heard {
            Heard::Press { verdict, .. } => Some(verdict),
            Heard::Paste(_) | Heard::Tap(_, _) => None,
        })
    }

    /// The verdict on the oldest presses that wait for one.
    fn verdict(&mut self, count: usize, what: Verdict) {
        let waiting = self.presses().filter(|verdict| **verdict == Verdict::Waiting);
        waiting.take(count).for_each(|verdict| *verdict = what);
    }

    /// The newest press does not count: it bounced, or the key is still held down. One that is kept back waits on.
    fn dropped(&mut self) {
        let mut newest = self.presses().rev();
        let (verdict, before) = (newest.next(), newest.next());
        if let Some(verdict) = verdict {
            let held = before.is_some_and(|before| *before == Verdict::Held);
            *verdict = if held { Verdict::Held } else { Verdict::Bounced };
        }
    }

    /// From the press that was kept back on the key has been held down.
    fn held(&mut self) {
        self.presses().skip_while(|verdict| **verdict != Verdict::Waiting).for_each(|verdict| *verdict = Verdict::Held);
    }

    /// A press that counts: what it means, and what it ticks off.
    fn counts(&mut self, key: Key) {
        self.meanings.clear();
        for (context, pending) in &mut self.pending {
            let meaning = meaning(&self.keymap, *context, pending, key);
            match meaning {
                Meaning::Begins => pending.push(key),
                Meaning::Is(_) | Meaning::Letter | Meaning::Nothing => pending.clear(),
            }
            self.meanings.push((*context, meaning));
        }
        let today = self.meanings.iter().find(|(context, _)| *context == Context::Today).map(|(_, meaning)| *meaning);
        match today {
            Some(Meaning::Is(intent)) => {
                self.wanted.iter_mut().filter(|wanted| wanted.intent == intent).for_each(|wanted| wanted.came = true);
                self.leaves = if intent == Intent::Leave { self.leaves + 1 } else { 0 };
                self.done |= self.leaves >= LEAVES;
            }
            Some(Meaning::Begins) => {}
            Some(Meaning::Letter | Meaning::Nothing) | None => self.leaves = 0,
        }
    }
}
