//! Drops what wet contacts and held keys add to a press: the second stage of the filter.
//!
//! A worn or wet key reports up to 100 ms after the press a second one. Hands press the
//! same key twice in no less than about 120 ms, so beside the crush the same key is not
//! counted again for that long, and in number fields ("4711") for 45 ms only; there too
//! this is for what is typed, erased or walked with, and the key that undoes or opens waits
//! as long as beside the crush. Any other key in between ends the waiting.
//!
//! A key held down is another matter: its first repeat comes after 250 to 660 ms and
//! looks exactly like a second press. Beside the crush a repeated key is therefore kept
//! back until it is seen whether more follow at once (repeats come 25 to 92 ms apart):
//! with one follower it was a press that bounced and counts, with two it is held down and
//! none of them counts. So a held undo undoes once, and 4 pressed twice, zone and then
//! choice, stays two presses.

use std::time::Duration;

use crate::keys::context::Context;
use crate::keys::key::{Key, french_digit};

/// The numbers of this stage for one kind of place.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct BounceRule {
    /// The same key within this time of the last one that counted is dropped.
    pub bounce: Duration,
    /// A repeated key is kept back this long, to see whether it is held; zero for never.
    pub hold: Duration,
}

/// Both sets of numbers.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct BounceRules {
    /// With an animal in the crush, where keys write.
    pub crush: BounceRule,
    /// What is typed, erased or walked with in fields and lists.
    pub fields: BounceRule,
}

impl Default for BounceRules {
    fn default() -> BounceRules {
        let ms = Duration::from_millis;
        BounceRules {
            crush: BounceRule { bounce: ms(120), hold: ms(100) },
            fields: BounceRule { bounce: ms(45), hold: ms(0) },
        }
    }
}

impl BounceRules {
    fn at(&self, context: Context, key: Key) -> BounceRule {
        match context {
            Context::Animal | Context::Foot | Context::Pad | Context::SignOff | Context::Ring => self.crush,
            Context::Text if key != Key::Enter => self.fields,
            Context::Today | Context::List | Context::Help if is_typing(key) => self.fields,
            Context::Today | Context::List | Context::Text | Context::Help => self.crush,
        }
    }
}

/// A key that counts, or one that does not.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Press {
    /// It counts.
    Counts(Key),
    /// It was a bounce or a repeat.
    Dropped(Key),
}

/// What this stage remembers.
#[derive(Clone, Debug, Default)]
pub struct Bounce {
    rules: BounceRules,
    /// The last key that counted, and when.
    counted: Option<(Duration, Key)>,
    /// The last key of any kind, when it came, and whether it has shown to be held down.
    seen: Option<(Duration, Key)>,
    held: bool,
    /// Whether the last key came first where keys write: held down, it is that press still, wherever the hands are by now.
    began_strict: bool,
    /// A repeated key that is kept back.
    kept: Option<Kept>,
}

#[derive(Clone, Copy, Debug)]
struct Kept {
    at: Duration,
    until: Duration,
    key: Key,
    followers: u8,
}

/// So many at once behind a kept key, and the key is being held down.
const HELD: u8 = 2;

/// The first moment after a silence that was waited for.
const JUST_AFTER: Duration = Duration::from_millis(1);

impl Bounce {
    /// Begins with the given numbers.
    pub fn new(rules: BounceRules) -> Bounce {
        Bounce { rules, ..Bounce::default() }
    }

    /// Takes one key pressed at `at`.
    pub fn take(&mut self, at: Duration, key: Key, context: Context) -> Vec<Press> {
        let mut out = self.tick(at);
        let folded = key.folded();
        let before = self.seen.replace((at, folded));
        let here = self.rules.at(context, folded);
        match since(before, at, folded) {
            Some(gap) => {
                let rule = if self.began_strict { self.rules.crush } else { here };
                self.again(at, key, gap, rule, &mut out);
            }
            None => {
                out.extend(self.release());
                self.held = false;
                self.began_strict = here == self.rules.crush;
                out.push(self.count(at, key));
            }
        }
        out
    }

    /// The same key once more, with no other in between.
    fn again(&mut self, at: Duration, key: Key, gap: Duration, rule: BounceRule, out: &mut Vec<Press>) {
        self.held &= gap <= rule.hold;
        if let Some(kept) = &mut self.kept {
            kept.followers += 1;
            kept.until = at + rule.hold;
            if kept.followers >= HELD {
                out.push(Press::Dropped(kept.key));
                self.kept = None;
                self.held = true;
            }
            out.push(Press::Dropped(key));
            return;
        }
        let passed = since(self.counted, at, key.folded());
        if self.held || passed.is_some_and(|passed| passed < rule.bounce) {
            out.push(Press::Dropped(key));
        } else if rule.hold > Duration::ZERO {
            self.kept = Some(Kept { at, until: at + rule.hold, key, followers: 0 });
        } else {
            out.push(self.count(at, key));
        }
    }

    /// Lets a kept key count once nothing followed it.
    pub fn tick(&mut self, now: Duration) -> Vec<Press> {
        match self.kept {
            Some(kept) if now > kept.until => self.release().into_iter().collect(),
            _ => Vec::new(),
        }
    }

    /// When [`Bounce::tick`] has to be called next.
    pub fn wakes_at(&self) -> Option<Duration> {
        self.kept.map(|kept| kept.until + JUST_AFTER)
    }

    fn release(&mut self) -> Option<Press> {
        let kept = self.kept.take()?;
        Some(self.count(kept.at, kept.key))
    }

    fn count(&mut self, at: Duration, key: Key) -> Press {
        self.counted = Some((at, key.folded()));
        Press::Counts(key)
    }
}

/// What a number is typed and erased with, or a list walked through: pressed quickly, and held down on purpose.
fn is_typing(key: Key) -> bool {
    match key {
        Key::Char(c) => c.is_ascii_digit() || french_digit(c).is_some(),
        Key::Backspace
        | Key::Up
        | Key::Down
        | Key::Left
        | Key::Right
        | Key::Home
        | Key::End
        | Key::PageUp
        | Key::PageDown
        | Key::Delete => true,
        Key::Ctrl(_) | Key::F(_) | Key::Enter | Key::Tab | Key::BackTab | Key::Esc | Key::Insert | Key::Clear => false,
    }
}

/// How long ago this very key came, if it was the last.
fn since(before: Option<(Duration, Key)>, at: Duration, key: Key) -> Option<Duration> {
    before.filter(|(_, other)| *other == key).map(|(then, _)| at.saturating_sub(then))
}
