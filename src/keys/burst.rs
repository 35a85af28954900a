//! Tells machine typing from fingers: the first stage of the filter.
//!
//! A tag reader or a paste types its text as if it were keys. Run as commands, fifteen
//! digits would write fifteen findings, so characters are held for a moment: as long as
//! the next one follows within the gap they belong to one run, and the length of the
//! run decides.
//!
//! | run | taken for | what happens |
//! | --- | --- | --- |
//! | 8 or more characters, 2 or more different | a reader or a paste | one [`Sorted::Machine`] |
//! | 4 to 7, 3 or more different | a palm on the keys, or a short paste | one [`Sorted::Swept`]: nothing runs, it is shown |
//! | anything else | fingers, or a key held down | ordinary keys, each with its own time |
//!
//! Four different keys within 105 ms are beyond any hand (two fingers can land within
//! 20 ms, a third rarely, a fourth never on purpose), so the middle row may be refused
//! without losing anything that was meant. Where text is written the middle row is
//! ordinary keys: letters in a note hurt nobody.
//!
//! This stage must come before the bounce stage, which would eat the repeated digits of
//! a tag.

use std::time::Duration;

use crate::keys::key::Key;

/// The numbers of this stage.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct BurstRule {
    /// The longest silence inside a run; up to 60 ms for a slow wireless reader.
    pub gap: Duration,
    /// The fewest characters of machine typing.
    pub least: usize,
    /// The fewest characters that are beyond a hand.
    pub beyond_hands: usize,
    /// How long after machine typing characters are dropped: readers read twice.
    pub deaf: Duration,
}

impl Default for BurstRule {
    fn default() -> BurstRule {
        BurstRule { gap: Duration::from_millis(35), least: 8, beyond_hands: 4, deaf: Duration::from_millis(300) }
    }
}

/// What came out of this stage.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Sorted {
    /// An ordinary key, with the time it was pressed.
    Key(Duration, Key),
    /// Machine typing, without its Enter.
    Machine(String),
    /// Too fast for fingers, too short for a tag; not run.
    Swept(String),
    /// A key that came right after machine typing, and was dropped.
    Late(Key),
}

/// No tag and no paste is longer; what comes beyond it in one run is let go.
const MOST: usize = 4096;

/// The first moment after a silence that was waited for.
const JUST_AFTER: Duration = Duration::from_millis(1);

/// The keys of the run that is being collected.
#[derive(Clone, Debug, Default)]
pub struct Burst {
    rule: BurstRule,
    run: Vec<(Duration, char)>,
    last: Duration,
    deaf_until: Duration,
}

impl Burst {
    /// Begins with the given numbers.
    pub fn new(rule: BurstRule) -> Burst {
        Burst { rule, ..Burst::default() }
    }

    /// Takes one key pressed at `at`, a time since the start that never runs back.
    pub fn take(&mut self, at: Duration, key: Key, writing: bool) -> Vec<Sorted> {
        let mut out = self.tick(at, writing);
        if at < self.deaf_until && is_typing(key) {
            // A second reading that starts late would otherwise come through without its head.
            self.deaf_until = self.deaf_until.max(at + self.rule.gap);
            out.push(Sorted::Late(key));
            return out;
        }
        match key {
            Key::Char(c) => {
                if self.run.len() < MOST {
                    self.run.push((at, c));
                }
                self.last = at;
            }
            Key::Enter | Key::Tab if self.is_machine() => {
                self.last = at;
                out.extend(self.close(writing));
            }
            other => {
                out.extend(self.close(writing));
                out.push(Sorted::Key(at, other));
            }
        }
        out
    }

    /// Lets go of the run if it has been silent for longer than the gap.
    pub fn tick(&mut self, now: Duration, writing: bool) -> Vec<Sorted> {
        match self.ends_at() {
            Some(end) if now > end => self.close(writing),
            _ => Vec::new(),
        }
    }

    /// When [`Burst::tick`] has to be called next, if no key comes before.
    pub fn wakes_at(&self) -> Option<Duration> {
        self.ends_at().map(|end| end + JUST_AFTER)
    }

    /// The last moment at which a character still belongs to the run.
    fn ends_at(&self) -> Option<Duration> {
        (!self.run.is_empty()).then(|| self.last + self.rule.gap)
    }

    /// Drops what comes in the next moments, as after a burst: a paste is one too.
    pub fn deafen(&mut self, at: Duration) {
        self.deaf_until = at + self.rule.deaf;
    }

    fn is_machine(&self) -> bool {
        self.run.len() >= self.rule.least && self.different() >= 2
    }

    fn is_swept(&self) -> bool {
        self.run.len() >= self.rule.beyond_hands && self.different() >= 3
    }

    fn different(&self) -> usize {
        let mut chars: Vec<char> = self.run.iter().map(|(_, c)| *c).collect();
        chars.sort_unstable();
        chars.dedup();
        chars.len()
    }

    fn close(&mut self, writing: bool) -> Vec<Sorted> {
        let (machine, swept) = (self.is_machine(), self.is_swept() && !writing);
        let run = std::mem::take(&mut self.run);
        let text = || run.iter().map(|(_, c)| *c).collect();
        if machine {
            self.deafen(self.last);
            vec![Sorted::Machine(text())]
        } else if swept {
            vec![Sorted::Swept(text())]
        } else {
            run.iter().map(|(at, c)| Sorted::Key(*at, Key::Char(*c))).collect()
        }
    }
}

/// What a reader types: characters, and one of the two keys that end a reading.
fn is_typing(key: Key) -> bool {
    matches!(key, Key::Char(_) | Key::Enter | Key::Tab)
}
