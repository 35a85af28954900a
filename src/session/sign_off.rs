//! The sign-off: what must be settled before she goes. Every check is a row of one table, with the key that settles it.

use super::act::{Act, Ask, Choice};
use super::crush::{ask, go, record, text_for};
use super::decide::{Decision, Effect, Next, pick};
use super::mode::{Hand, Mode, TextFor};
use super::{Refusal, Session, ghost};
use crate::domain::anatomy::Place;
use crate::domain::event::{Event, Gap, OpenGap};
use crate::domain::history::{History, Turn};
use crate::domain::ids::{PutId, RecordId};
use crate::domain::record::Stamp;
use crate::domain::sign_off::{self, Found};
use crate::keys::intent::Intent;

/// What a line asks about.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Check {
    /// Something on that nobody looked at in this turn.
    StillOn,
    /// A wrap without a day to be off.
    WrapDay,
    /// A wrap that nobody takes off.
    WrapWho,
    /// A block on a sore claw, or without a sound partner.
    BlockDoubt,
    /// A stop sign.
    Stop,
}

/// One line that asks before sign-off.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Line {
    /// What it asks about.
    pub check: Check,
    /// The record it is about.
    pub of: RecordId,
    /// Where.
    pub place: Place,
}

/// A check: what it finds, the key that settles a line of it, and what is written where a line is passed knowingly.
struct Row {
    check: Check,
    finds: fn(&History, &Turn) -> Vec<Found>,
    settles: fn(&Session, Line) -> Option<Act>,
    gap: Gap,
}

/// The key that passes a line knowingly.
const PASS: u8 = 9;
/// The key that settles it.
const SETTLE: u8 = 1;

/// Only what hurts asks: asking sixty times a day about everything teaches to skip.
const CHECKS: [Row; 5] = [
    Row {
        check: Check::StillOn,
        finds: sign_off::still_on,
        settles: |_, line| line.place.foot().map(Act::Lift),
        gap: Gap::StillOn,
    },
    Row {
        check: Check::WrapDay,
        finds: sign_off::wraps_without_day,
        settles: |_, line| Some(Act::Ask(Ask::WrapDay(PutId(line.of)))),
        gap: Gap::NoDay,
    },
    Row {
        check: Check::WrapWho,
        finds: sign_off::wraps_without_person,
        settles: |_, line| Some(Act::Ask(Ask::WrapWho(PutId(line.of)))),
        gap: Gap::NoDay,
    },
    Row {
        check: Check::BlockDoubt,
        finds: sign_off::doubtful_blocks,
        settles: |_, line| Some(Act::Ask(Ask::Seen(PutId(line.of)))),
        gap: Gap::BlockDoubt,
    },
    Row {
        check: Check::Stop,
        finds: sign_off::stop_signs,
        settles: |session, line| {
            let animal = session.crush.as_ref()?.animal;
            Some(Act::Text(TextFor::VetSaid(animal, line.of)))
        },
        gap: Gap::StopSign,
    },
];

/// Every check has its row, at its own place.
const _: () = {
    assert!(CHECKS.len() == Check::Stop as usize + 1);
    let mut at = 0;
    while at < CHECKS.len() {
        assert!(CHECKS[at].check as usize == at);
        at += 1;
    }
};

/// Lines that ask, in the order of the feet.
fn lines(history: &History, turn: &Turn) -> Vec<Line> {
    let found = |row: &Row| {
        let check = row.check;
        (row.finds)(history, turn).into_iter().map(move |(of, place)| Line { check, of, place })
    };
    let mut lines: Vec<Line> = CHECKS.iter().flat_map(found).collect();
    lines.sort_by_key(|line| line.place.foot());
    lines
}

impl Line {
    fn row(self) -> &'static Row {
        &CHECKS[self.check as usize]
    }

    /// What is written as left open when the line is passed knowingly.
    fn gap(self) -> OpenGap {
        OpenGap { gap: self.row().gap, place: self.place }
    }

    /// The keys of a line: one settles it, one passes it.
    pub fn choices(self, session: &Session) -> Vec<Choice> {
        let settles = (self.row().settles)(session, self).map(|act| Choice { key: SETTLE, act });
        settles.into_iter().chain([Choice { key: PASS, act: Act::Pass(self) }]).collect()
    }
}

/// Lines that still ask.
pub fn open_lines(session: &Session, passed: &[Line]) -> Vec<Line> {
    let Some((crush, turn)) = session.turn() else { return Vec::new() };
    lines(&crush.history, turn).into_iter().filter(|line| !passed.contains(line)).collect()
}

/// Goes to the sign-off; signs off at once where no line asks and no mark of last time waits: those are shown once.
pub(super) fn begin(session: &Session, stamp: &Stamp) -> Decision {
    if open_lines(session, &[]).is_empty() && ghost::waiting(session).is_empty() {
        return signed(session, &[], stamp);
    }
    Decision::Go(Next::SignOff(Vec::new()))
}

/// A key at the sign-off: each line with the key that settles it; go-on alone never passes one.
pub fn decide(session: &Session, passed: &[Line], intent: Intent, stamp: &Stamp) -> Decision {
    let open = open_lines(session, passed);
    if let Some(key) = pick(intent) {
        return match usize::from(key).checked_sub(1).and_then(|index| open.get(index)) {
            Some(line) => ask(Ask::Settle(*line), session.mode.clone()),
            None => Decision::Refuse(Refusal::NoSuchChoice),
        };
    }
    match intent {
        Intent::GoOn if open.is_empty() => signed(session, passed, stamp),
        Intent::GoOn => Decision::Refuse(Refusal::NotSettled(open.len())),
        Intent::Back => go(Mode::Crush(Hand::DOWN)),
        Intent::Note => text_for(TextFor::Note(Place::Animal), session.mode.clone()),
        _ => Decision::Refuse(Refusal::NotHere),
    }
}

/// Passes a line knowingly.
pub(super) fn pass(line: Line, under: &Mode) -> Decision {
    let Mode::SignOff { passed } = under else { return Decision::Refuse(Refusal::NotHere) };
    let mut passed = passed.clone();
    passed.push(line);
    Decision::Go(Next::SignOff(passed))
}

fn signed(session: &Session, passed: &[Line], stamp: &Stamp) -> Decision {
    let Some((crush, turn)) = session.turn() else { return Decision::Refuse(Refusal::NotHere) };
    let mut open: Vec<OpenGap> = passed.iter().map(|line| line.gap()).collect();
    open.extend(sign_off::gaps(&crush.history, turn));
    record(session, stamp, vec![Event::TurnSigned { turn: crush.turn, open }], Next::Do(Effect::LetGo))
}
