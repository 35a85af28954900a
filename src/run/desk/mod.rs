//! The desk: session, store and keys together, without a terminal, so that a test can sit at it.

mod amend;
mod backup;
mod effects;
mod end;
mod herd_list;
mod lines;
mod reader;
mod touch;
mod type_up;
mod walk;
mod who;

use super::then::Then;
use super::{Start, TRY_AGAIN, crash, herd, patience};
use crate::claw_map::layout::Layout;
use crate::command::day_parts::Parts;
use crate::command::log::Line;
use crate::command::twice::of_practice;
use crate::domain::history::TurnState;
use crate::domain::ids::{FarmId, RecordId};
use crate::domain::practice::Pace;
use crate::domain::record::{Moment, Record, Stamp};
use crate::domain::twice::Pair;
use crate::keys::bounce::BounceRules;
use crate::keys::burst::BurstRule;
use crate::keys::context::Context;
use crate::keys::filter::{Filter, Input};
use crate::keys::intent::Intent;
use crate::keys::key::Key;
use crate::keys::keymap::{Keymap, Resolution};
use crate::keys::num_lock::NumLock;
use crate::session::crush::asked_twice;
use crate::session::decide::{self, Decision, Next};
use crate::session::mode::{Hand, Mode};
use crate::session::type_up::draft as draft_of;
use crate::session::visit::waits;
use crate::session::who::is_owed;
use crate::session::{Dropped, HerdLine, Notice, Session, Spelled};
use crate::store::Store;
use crate::store::error::{Problem, StoreError};
use crate::terminal::event::Event;
use backup::{Keeper, LOOK};
use chrono::NaiveDate;
use herd_list::Lists;
use std::time::Duration;
use who::{Owed, Wish};

/// What the loop does next.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Flow {
    /// Goes on.
    On,
    /// Leaves the program.
    Leave,
    /// Switches taps.
    Taps(bool),
    /// Stops for a while.
    Suspend,
}

/// A press the disk did not take: it is held, and no other is taken before it is on disk.
struct Held {
    press: Vec<Record>,
    next: Next,
}

/// Session, store and keys.
pub struct Desk {
    session: Session,
    store: Store,
    keymap: Keymap,
    filter: Filter,
    num_lock: NumLock,
    held: Option<Held>,
    said_today: Option<NaiveDate>,
    wanted_farm: Option<String>,
    problems: Vec<String>,
    now: Duration,
    spelling: Spelling,
    /// The key that opened the question that is asked.
    asked_by: Option<Key>,
    size: (u16, u16),
    /// Farms and people that may be one, or were joined.
    of_practice: Vec<Pair>,
    /// Farm and day whose findings are counted.
    counted: Option<(FarmId, NaiveDate)>,
    /// What was wished before anybody was named who records.
    owed: Option<Owed>,
    /// What was read for the list of the day.
    parts: Parts,
    /// What was read of the herd for the day of paper.
    then: Then,
    slow: Slow,
    saved: Saved,
    log: Said,
    keeper: Keeper,
    /// Herd lists.
    lists: Lists,
}

/// Keeps a line of the log.
pub type Said = Box<dyn FnMut(Line)>;

/// Hears of each press that was saved, before anything else becomes of it.
pub type Saved = Box<dyn FnMut(&Session)>;

/// Draws a session that waits for the disk.
pub type Slow = Box<dyn FnMut(&Session, &Keymap)>;

/// Digits pressed one after the other with an animal in the crush, and what they wrote.
#[derive(Default)]
struct Spelling {
    digits: String,
    last: Duration,
    presses: Vec<RecordId>,
}

/// The filter of a practice whose keys are so fast.
fn filter(pace: Pace) -> Filter {
    let ms = |ms| Duration::from_millis(u64::from(ms));
    let (burst, mut bounce) = (BurstRule { gap: ms(pace.reader), ..BurstRule::default() }, BounceRules::default());
    bounce.crush.bounce = ms(pace.crush);
    bounce.fields.bounce = ms(pace.typing);
    Filter::new(burst, bounce)
}

/// A pause longer than this ends a number that is being spelled.
const SPELLED_WITHIN: Duration = Duration::from_millis(1500);
/// Shorter numbers are spelled too easily by feet, zones and findings.
const SHORTEST_SPELLED: usize = 3;

impl Desk {
    /// A desk with nothing read yet.
    pub fn new(store: Store, start: Start, now: Moment) -> Desk {
        let filter = filter(start.practice.pace);
        Desk {
            session: Session::new(start.today.unwrap_or(now.date_naive()), start.practice),
            store,
            keymap: start.keymap,
            filter,
            num_lock: NumLock::default(),
            held: None,
            said_today: start.today,
            wanted_farm: start.farm,
            problems: start.problems,
            now: Duration::ZERO,
            spelling: Spelling::default(),
            asked_by: None,
            size: Layout::LEAST,
            of_practice: Vec::new(),
            counted: None,
            owed: None,
            parts: Parts::default(),
            then: Then::default(),
            slow: Box::new(|_, _| {}),
            saved: Box::new(|_| {}),
            log: Box::new(|_| {}),
            keeper: Keeper::default(),
            lists: Lists::of(start.lists),
        }
    }

    /// What keeps the log; where nothing is said, nobody does.
    pub fn keep_log(&mut self, log: Said) {
        self.log = log;
    }

    /// What draws "saving" while the disk is slow.
    pub fn when_slow(&mut self, slow: Slow) {
        self.slow = slow;
    }

    /// Waits for the disk, and says so where that takes long.
    fn wait<T: Send>(&mut self, work: impl FnOnce(&mut Store) -> T + Send) -> T {
        let Desk { store, session, keymap, slow, log, .. } = self;
        patience::wait(store, work, || {
            log(Line::Slow);
            let said = session.notice.replace(Notice::Saving);
            slow(session, keymap);
            session.notice = said;
        })
    }

    /// The session, for drawing.
    pub fn session(&self) -> &Session {
        &self.session
    }

    /// How many records the book and the hand hold.
    pub fn held(&self) -> u64 {
        self.store.held()
    }

    /// The keys.
    pub fn keymap(&self) -> &Keymap {
        &self.keymap
    }

    /// Reads what is needed to go on where the battery went: the animal in the crush, else the visit of the day, else the
    /// farms.
    pub fn begin(&mut self, now: Moment) {
        if let Err(error) = self.resume() {
            self.refused(&error);
        }
        self.session.suppose_recorder();
        self.say_paper();
        // The first press is to cost no more than any other.
        if let Err(error) = self.wait(Store::lay_out) {
            self.refused(&error);
        }
        self.session.faults.append(&mut self.problems);
        self.tell_backups();
        let _ = now;
    }

    fn resume(&mut self) -> Result<(), StoreError> {
        let (farms, problems) = herd::farms(&self.store, self.session.practice.region)?;
        self.note(problems);
        self.session.farms = farms;
        self.session.people = herd::people(&self.store)?;
        self.session.open = herd::open_items(&self.store, &self.session.farms)?.0;
        self.of_practice = of_practice(&self.store)?;
        self.session.pairs.clone_from(&self.of_practice);
        let mut begun = None;
        let paper = self.resume_paper();
        let (rules, problems) = self.rules()?;
        self.session.rules = rules;
        self.problems.extend(problems);
        for farm in self.session.farms.clone().into_iter().filter(|farm| paper.is_none_or(|paper| paper == farm.id)) {
            // The turns of the day alone, not the herd: a book may hold sixty farms.
            let (today, _) = self.store.day(farm.id, self.session.today)?;
            if let Some(row) = today.iter().find(|row| row.state == TurnState::Open) {
                self.open_farm(farm.id)?;
                self.open_animal(row.animal, row.turn)?;
                self.session.mode = Mode::Crush(Hand::DOWN);
                return self.who_recorded();
            }
            if !today.is_empty() {
                begun.get_or_insert(farm.id);
            }
        }
        if self.resume_walk()? {
            return Ok(());
        }
        let wanted = self.wanted_farm.take();
        let named = self.session.farms.iter().find(|farm| Some(&farm.name) == wanted.as_ref()).map(|farm| farm.id);
        let only = match self.session.farms.as_slice() {
            [farm] => Some(farm.id),
            _ => None,
        };
        let waits = waits(&self.session);
        if let Some(farm) = paper.or(named).or(begun).or(waits).or(only) {
            self.open_farm(farm)?;
            let typed = self.typed_number();
            self.session.mode = match typed.as_str() {
                "" => self.session.opened(),
                _ => Mode::Today { typed, cursor: 0 },
            };
            self.who_recorded()?;
            // She may be in a turn that another day of this visit began.
            let open = |line: &HerdLine| line.turn.filter(|turn| turn.state == TurnState::Open);
            let open = self.session.herd.iter().find_map(|line| Some((line.id, open(line)?.id)));
            if let Some((animal, turn)) = open {
                self.open_animal(animal, turn)?;
                self.session.mode = Mode::Crush(Hand::DOWN);
            }
        }
        Ok(())
    }

    /// Something came in.
    pub fn take(&mut self, at: Duration, event: Event, now: Moment) -> Flow {
        self.now = at;
        let context = self.session.mode.context();
        match event {
            Event::Key(Key::Ctrl('z')) => Flow::Suspend,
            Event::Key(key) => {
                let hint = self.num_lock.notice(context, key);
                let inputs = self.filter.take(at, key, context);
                let flow = self.inputs(inputs, now);
                // Said last, or such a key's own "means nothing here" would hide it.
                if hint.is_some() && self.held.is_none() {
                    self.say("NumLock looks off: press NumLock, then digits are digits again".to_owned());
                }
                flow
            }
            Event::Paste(text) => {
                let inputs = self.filter.paste(at, &text, context);
                self.inputs(inputs, now)
            }
            Event::Tap { column, row } => self.tap(column, row, now),
            Event::Resize { .. } | Event::Line(_) | Event::Signal(_) | Event::Gone(_) => Flow::On,
        }
    }

    /// Time passed: keys that only waited for silence count now, and an unsaved press is tried again.
    pub fn tick(&mut self, at: Duration, now: Moment) -> Flow {
        self.now = at;
        if self.look_after_backup() == Flow::Leave {
            return Flow::Leave;
        }
        if self.held.is_some() {
            return self.try_again(now);
        }
        let inputs = self.filter.tick(at, self.session.mode.context());
        self.inputs(inputs, now)
    }

    /// When [`Desk::tick`] has something to do.
    pub fn wakes_at(&self) -> Option<Duration> {
        let held = self.held.as_ref().map(|_| self.now + TRY_AGAIN);
        let backup = self.keeper.is_busy().then_some(self.now + LOOK);
        [self.filter.wakes_at().or(held), backup].into_iter().flatten().min()
    }

    fn inputs(&mut self, inputs: Vec<Input>, now: Moment) -> Flow {
        for input in inputs {
            let flow = match input {
                Input::Key(key) => self.key(key, now),
                Input::Reader(text) => self.reader(&text),
                Input::Text(text) => self.paste(&text),
                Input::Swept(text) => {
                    // What is not saved stays said until it is.
                    if self.held.is_none() {
                        self.say(format!("\"{text}\" came too fast for fingers: nothing was done"));
                    }
                    Flow::On
                }
                Input::Bounced(key) => self.drop_press(Dropped::Again(key)),
                Input::Late(key) => self.drop_press(Dropped::Late(key)),
            };
            if flow != Flow::On {
                return flow;
            }
        }
        Flow::On
    }

    /// Shows beside the last word, which stays, that a press did not count.
    fn drop_press(&mut self, dropped: Dropped) -> Flow {
        self.session.dropped = Some(dropped);
        Flow::On
    }

    fn key(&mut self, key: Key, now: Moment) -> Flow {
        self.session.dropped = None;
        if self.held.is_some() {
            return self.try_again(now);
        }
        let context = self.session.mode.context();
        self.session.selected = None;
        match self.keymap.resolve(context, &self.session.pending, key) {
            Resolution::Found(intent) => {
                self.session.pending.clear();
                crash::note_wish(context, intent);
                let twice = (self.asked_by == Some(key.folded())).then(|| asked_twice(&self.session, intent)).flatten();
                let decision = twice.unwrap_or_else(|| decide::decide(&self.session, intent, &self.stamp(now)));
                let mode = self.session.mode.clone();
                let before = self.session.trail.last().map(|press| press.id);
                let flow = self.act(Wish::Key(intent), decision, now);
                let asks = matches!(self.session.mode, Mode::Pad { .. }) && self.session.mode != mode;
                self.asked_by = asks.then_some(key.folded());
                let wrote = self.session.trail.last().map(|press| press.id).filter(|id| Some(*id) != before);
                self.spell(key, context, wrote);
                flow
            }
            Resolution::Pending => {
                self.session.pending.push(key);
                Flow::On
            }
            Resolution::Unbound if context == Context::Text => {
                self.letter(key, now);
                Flow::On
            }
            Resolution::Cancelled if context == Context::Text => {
                // What had begun was text after all: no letter is lost.
                for waited in std::mem::take(&mut self.session.pending) {
                    self.letter(waited, now);
                }
                self.key(key, now)
            }
            Resolution::Unbound | Resolution::Cancelled => {
                self.session.pending.clear();
                self.session.notice = Some(Notice::Words(format!("{key} means nothing here")));
                Flow::On
            }
        }
    }

    /// A letter of what is written; where a number is asked for, a key that is a digit on Today is that digit here too.
    fn letter(&mut self, key: Key, now: Moment) {
        let asks_number = matches!(&self.session.mode, Mode::Text { what, .. } if what.is_number());
        let letter = self.digit(key).filter(|_| asks_number).or(key.text());
        if let Some(letter) = letter {
            let decision = decide::typed(&self.session, letter);
            self.perform(decision, now);
        }
    }

    /// The digit of a number that this key is on Today.
    fn digit(&self, key: Key) -> Option<char> {
        match self.keymap.resolve(Context::Today, &[], key) {
            Resolution::Found(Intent::Digit(digit)) => char::from_digit(digit.into(), 10),
            Resolution::Found(_) | Resolution::Pending | Resolution::Unbound | Resolution::Cancelled => None,
        }
    }

    /// Does what a wish decides.
    fn wish(&mut self, intent: Intent, now: Moment) -> Flow {
        self.session.pending.clear();
        crash::note_wish(self.session.mode.context(), intent);
        let decision = decide::decide(&self.session, intent, &self.stamp(now));
        self.act(Wish::Key(intent), decision, now)
    }

    /// Does what a wish came to, said with a key or a tap.
    fn act(&mut self, wish: Wish, decision: Decision, now: Moment) -> Flow {
        self.session.notice = None;
        self.asked_by = None;
        if is_owed(&self.session, wish.intent(), &decision) {
            self.ask_who(wish);
            return Flow::On;
        }
        let was_at_farms = matches!(self.session.mode, Mode::Farms { .. });
        // Whoever presses another key stays.
        self.keeper.leaving &= wish.intent() == Intent::Leave;
        let flow = self.perform(decision, now);
        if flow == Flow::On && !was_at_farms && matches!(self.session.mode, Mode::Farms { .. }) {
            self.visit_ended();
        }
        if flow == Flow::On { self.do_owed(now) } else { flow }
    }

    /// Digits are zones here. Do the keys of the last moments spell a number of this herd all the same?
    fn spell(&mut self, key: Key, context: Context, wrote: Option<RecordId>) {
        let digit = self.digit(key);
        let in_crush = matches!(context, Context::Animal | Context::Foot | Context::Pad);
        let Some(digit) = digit.filter(|_| in_crush && self.session.crush.is_some()) else {
            self.spelling = Spelling::default();
            return;
        };
        if self.now.saturating_sub(self.spelling.last) > SPELLED_WITHIN {
            self.spelling = Spelling::default();
        }
        self.spelling.digits.push(digit);
        self.spelling.last = self.now;
        self.spelling.presses.extend(wrote);
        let digits = &self.spelling.digits;
        let in_hand = self.session.crush.as_ref().map(|crush| crush.animal);
        let other = self.session.herd.iter().any(|line| line.labels.number == *digits && Some(line.id) != in_hand);
        if digits.len() >= SHORTEST_SPELLED && other {
            let spelled = Spelled { number: digits.clone(), presses: self.spelling.presses.clone() };
            self.session.notice = Some(Notice::Spelled(spelled));
        }
    }

    /// Columns and rows of the screen: a tap is looked up in the layout that is drawn there.
    pub fn set_size(&mut self, columns: u16, rows: u16) {
        crash::note_size(columns, rows);
        self.size = (columns, rows);
    }

    fn paste(&mut self, text: &str) -> Flow {
        for letter in text.chars() {
            if let Decision::Go(Next::Mode(mode)) = decide::typed(&self.session, letter) {
                self.session.mode = mode;
            }
        }
        Flow::On
    }

    fn stamp(&self, now: Moment) -> Stamp {
        Stamp { next: self.store.next_id(), tick: self.store.tick(), by: self.session.by, now, on: self.session.today }
    }

    /// Commits, then applies, then goes on.
    fn perform(&mut self, decision: Decision, now: Moment) -> Flow {
        match decision {
            Decision::Refuse(refusal) => {
                self.session.notice = Some(Notice::Refused(refusal));
                Flow::On
            }
            Decision::Go(next) => self.go(next, now),
            Decision::Record(press, next) => self.commit(press, next, now),
        }
    }

    fn commit(&mut self, press: Vec<Record>, next: Next, now: Moment) -> Flow {
        if let Err(error) = self.wait(|store| store.append(&press)) {
            (self.log)(Line::refused(&error));
            self.session.notice = Some(Notice::NotSaved(error.to_string()));
            self.held = Some(Held { press, next });
            return Flow::On;
        }
        self.session.apply(&press, now);
        (self.saved)(&self.session);
        self.go(next, now)
    }

    /// The press may be on disk after all: appending it again is idempotent.
    fn try_again(&mut self, now: Moment) -> Flow {
        let Some(held) = self.held.take() else { return Flow::On };
        match self.wait(Store::reopen) {
            Ok(problems) => {
                self.note(problems);
                let flow = self.commit(held.press, held.next, now);
                if self.held.is_none() {
                    (self.log)(Line::SavedAgain);
                }
                flow
            }
            Err(error) => {
                (self.log)(Line::refused(&error));
                self.session.notice = Some(Notice::NotSaved(error.to_string()));
                self.held = Some(held);
                Flow::On
            }
        }
    }

    fn go(&mut self, next: Next, now: Moment) -> Flow {
        let Some(effect) = self.session.go(next) else {
            self.keep_typed();
            return Flow::On;
        };
        match self.effect(effect, now) {
            Ok(flow) => flow,
            Err(error) => {
                self.refused(&error);
                Flow::On
            }
        }
    }

    /// Half a number is kept too: a dead battery loses nothing.
    fn keep_typed(&mut self) {
        let draft = match (&self.session.mode, self.session.mode.base()) {
            (_, Mode::Walk(walking)) => walking.draft(&self.session).unwrap_or_default(),
            (Mode::Today { typed, .. }, _) if !typed.is_empty() => format!("number {typed}"),
            (Mode::Text { text, .. }, _) if !text.is_empty() => format!("text {text}"),
            _ => String::new(),
        };
        let draft = draft_of(&self.session, draft);
        if draft != self.store.draft()
            && let Err(error) = self.wait(|store| store.set_draft(&draft))
        {
            self.refused(&error);
        }
    }

    fn say(&mut self, words: String) {
        self.session.notice = Some(Notice::Words(words));
    }

    fn refused(&mut self, error: &StoreError) {
        (self.log)(Line::refused(error));
        self.say(error.to_string());
    }

    fn note(&mut self, problems: Vec<Problem>) {
        for problem in &problems {
            (self.log)(Line::of(problem));
        }
        self.session.faults.extend(problems.iter().map(ToString::to_string));
        if let Some(problem) = problems.first() {
            self.say(problem.to_string());
        }
    }
}
