//! The scoring walk: the herd walks by, and number, score and go-on are typed of each. The last digit is the score. Where the digits
//! can be read two ways nothing is guessed: it is asked.

use super::act::{self, Choice};
use super::choices::in_order;
use super::decide::{Decision, Effect, Next};
use super::mode::Mode;
use super::of_farm;
use super::undo::Press;
use super::{HerdLine, Refusal, Session, today};
use crate::domain::event::Event;
use crate::domain::herd::Labels;
use crate::domain::ids::{AnimalId, FarmId, RecordId};
use crate::domain::record::{Record, Stamp};
use crate::domain::treatment::{Gait, GaitScale};
use crate::keys::intent::Intent;
use chrono::NaiveDate;
use std::collections::BTreeSet;

/// Longest number and score that can be typed.
const LONGEST: usize = 16;
/// How many of those not scored yet a step up or down passes.
const STEP: usize = 5;

/// Where a walk is.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Walking {
    /// Digits typed so far: number and score; the score alone where she is picked.
    pub typed: String,
    /// Whom a tag or an answer picked.
    pub picked: Option<AnimalId>,
    /// The first shown of those not scored yet.
    pub top: usize,
    /// What was written last.
    pub told: Option<Told>,
}

/// A score as it was kept, with what it followed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Told {
    /// Who.
    pub animal: AnimalId,
    /// Her score.
    pub gait: Gait,
    /// Her score of this walk before; the newer word counts.
    pub again: Option<Gait>,
    /// Her last score before this walk.
    pub before: Option<(NaiveDate, Gait)>,
}

/// What a choice does.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Act {
    /// Opens the walk.
    Open,
    /// This animal, this score.
    Score(AnimalId, u8),
    /// A new animal of this number, and her score.
    New(String, u8),
    /// All digits are her number; her score comes next.
    Pick(AnimalId),
}

impl Walking {
    /// Whether nothing is typed and nobody picked.
    pub fn is_blank(&self) -> bool {
        self.typed.is_empty() && self.picked.is_none()
    }

    /// The draft of a walk on this farm, for a dead battery; the digits alone, since whom a tag picked has them too.
    pub fn draft(&self, session: &Session) -> Option<String> {
        let farm = session.farm.as_ref()?.id.0;
        let picked = self.picked.and_then(|animal| line(session, animal));
        let number = picked.map_or("", |line| line.labels.number.as_str());
        Some(format!("{DRAFT}{:x} {} {number}{}", farm.series, farm.seq, self.typed))
    }
}

/// How a draft of a walk begins.
const DRAFT: &str = "walk ";

/// The farm and the digits of a draft; none where it is another's.
pub fn read_draft(draft: &str) -> Option<(FarmId, String)> {
    let mut words = draft.strip_prefix(DRAFT)?.split(' ');
    let series = u64::from_str_radix(words.next()?, 16).ok()?;
    let seq = words.next()?.parse().ok()?;
    Some((FarmId(RecordId { series, seq }), words.next().unwrap_or_default().to_owned()))
}

/// Opens the walk of the farm in hand.
pub fn open() -> Decision {
    Decision::Go(Next::Do(Effect::Walk(Walking::default())))
}

/// A key on the walk.
pub fn decide(session: &Session, walking: &Walking, intent: Intent, stamp: &Stamp) -> Decision {
    let go = |walking: Walking| Decision::Go(Next::Mode(Mode::Walk(walking)));
    let count = session.walk.unscored().len();
    match intent {
        Intent::Digit(digit) if walking.picked.is_some() => go(with(walking, digit.to_string())),
        Intent::Digit(digit) if walking.typed.len() < LONGEST => go(with(walking, format!("{}{digit}", walking.typed))),
        Intent::Back => erased(walking).map_or(Decision::Go(Next::Do(Effect::WalkOver)), go),
        Intent::Up => go(Walking { top: walking.top.min(count).saturating_sub(STEP), ..walking.clone() }),
        Intent::Down if walking.top + STEP < count => go(Walking { top: walking.top + STEP, ..walking.clone() }),
        Intent::Down => go(walking.clone()),
        Intent::GoOn => enter(session, walking, stamp),
        Intent::Add => add(session, walking, stamp),
        Intent::Newcomers => today::newcomers(session, stamp),
        _ => Decision::Refuse(Refusal::NotHere),
    }
}

fn with(walking: &Walking, typed: String) -> Walking {
    Walking { typed, told: None, ..walking.clone() }
}

/// One digit less; with none left nobody is picked; none where there is nothing to erase.
pub fn erased(walking: &Walking) -> Option<Walking> {
    let mut less = Walking { told: None, ..walking.clone() };
    if less.typed.pop().is_none() {
        less.picked.take()?;
    }
    Some(less)
}

/// The gait scale of the farm in hand.
pub fn scale(session: &Session) -> GaitScale {
    session.farm.as_ref().map_or(GaitScale::ZeroToThree, |farm| farm.scale)
}

/// The digits as number and score: the score is none where the last digit is none of this scale.
pub fn split(session: &Session, typed: &str) -> (String, Option<u8>) {
    let mut number = typed.to_owned();
    let last = number.pop().and_then(|digit| digit.to_digit(10)).and_then(|digit| u8::try_from(digit).ok());
    match last.filter(|score| scale(session).range().contains(score)) {
        Some(score) if !number.is_empty() => (number, Some(score)),
        Some(_) | None => (typed.to_owned(), None),
    }
}

/// Those of the herd who bear a number now; where nobody does, who bore it before.
pub fn bearers<'s>(session: &'s Session, number: &str) -> Vec<&'s HerdLine> {
    let here = || session.herd.iter().filter(|line| line.left.is_none() && !number.is_empty());
    let now: Vec<&HerdLine> = here().filter(|line| line.labels.number == number).collect();
    if now.is_empty() { here().filter(|line| line.earlier.iter().any(|was| was == number)).collect() } else { now }
}

/// One of the herd.
pub fn line(session: &Session, animal: AnimalId) -> Option<&HerdLine> {
    session.herd.iter().find(|line| line.id == animal)
}

/// Everything that the digits may say.
fn readings(session: &Session, typed: &str) -> Vec<Act> {
    let (number, score) = split(session, typed);
    let whole = || bearers(session, typed).into_iter().map(|line| Act::Pick(line.id));
    let Some(score) = score else { return whole().collect() };
    let known: Vec<Act> = bearers(session, &number).iter().map(|line| Act::Score(line.id, score)).collect();
    let is_new = known.is_empty() && session.newcomers().is_some() && !has_left(session, &number);
    let new = is_new.then_some(Act::New(number, score));
    known.into_iter().chain(new).chain(whole()).collect()
}

/// Whether the number is of one who left, and nobody else's.
fn has_left(session: &Session, number: &str) -> bool {
    bearers(session, number).is_empty()
        && session.herd.iter().any(|line| line.left.is_some() && line.labels.number == number)
}

/// The choices where the digits can be read several ways.
pub fn choices(session: &Session, typed: &str) -> Vec<Choice> {
    in_order(readings(session, typed).into_iter().map(|act| act::Act::Farm(of_farm::Act::Walk(act))))
}

/// Her score is kept. With nothing typed nothing is done.
fn enter(session: &Session, walking: &Walking, stamp: &Stamp) -> Decision {
    let typed = walking.typed.as_str();
    match (walking.picked, typed) {
        (None, "") => Decision::Go(Next::Stay),
        (Some(animal), "") => Decision::Refuse(Refusal::NoScore(number_of(session, animal))),
        (Some(animal), score) => match score.parse().ok().filter(|score| scale(session).range().contains(score)) {
            Some(score) => keep(session, animal, score, stamp),
            None => Decision::Refuse(Refusal::NotOnScale(score.to_owned())),
        },
        (None, typed) => match readings(session, typed).as_slice() {
            [] => Decision::Refuse(refused(session, typed)),
            [Act::Pick(_)] => Decision::Refuse(Refusal::NoScore(typed.to_owned())),
            [only] => do_act(session, only.clone(), stamp),
            [_, ..] => {
                let ask = act::Ask::Farm(of_farm::Ask::Walked(typed.to_owned()));
                Decision::Go(Next::Mode(Mode::Pad { ask, under: Box::new(session.mode.clone()) }))
            }
        },
    }
}

/// Why the digits say nothing.
fn refused(session: &Session, typed: &str) -> Refusal {
    let (number, score) = split(session, typed);
    let known = |number: &str| !bearers(session, number).is_empty();
    match (score, typed.char_indices().next_back()) {
        (Some(_), _) if has_left(session, &number) => Refusal::HasLeft(number),
        (Some(_), _) => Refusal::Unknown(number),
        (None, Some((at, last))) if known(&typed[..at]) => Refusal::NotOnScale(last.to_string()),
        (None, _) => Refusal::NoScore(typed.to_owned()),
    }
}

/// Adds the animal whose number nobody bears, with her score.
fn add(session: &Session, walking: &Walking, stamp: &Stamp) -> Decision {
    let (number, score) = split(session, &walking.typed);
    match score.filter(|_| walking.picked.is_none()) {
        Some(score) if bearers(session, &number).is_empty() => begin(session, &number, score, stamp),
        Some(_) | None => enter(session, walking, stamp),
    }
}

/// Does what a choice says.
pub fn do_act(session: &Session, act: Act, stamp: &Stamp) -> Decision {
    match act {
        Act::Open => open(),
        Act::Score(animal, score) => keep(session, animal, score, stamp),
        Act::New(number, score) => begin(session, &number, score, stamp),
        Act::Pick(animal) => {
            let walking = Walking { picked: Some(animal), top: top(session), ..Walking::default() };
            Decision::Go(Next::Mode(Mode::Walk(walking)))
        }
    }
}

/// Where those not scored yet are shown from, whatever is open over the walk.
fn top(session: &Session) -> usize {
    if let Mode::Walk(walking) = session.mode.base() { walking.top } else { 0 }
}

/// Writes her score; what she has already on this walk is not written again.
fn keep(session: &Session, animal: AnimalId, score: u8, stamp: &Stamp) -> Decision {
    let gait = Gait { scale: scale(session), score };
    let walker = session.walk.of(animal);
    let (again, before) = (walker.and_then(|walker| walker.score), walker.and_then(|walker| walker.before));
    let walking = written(session, Told { animal, gait, again, before });
    if again == Some(gait) {
        return Decision::Go(Next::Mode(Mode::Walk(walking)));
    }
    let press = stamp.press([(animal.0, Event::Walked { turn: None, gait })]);
    Decision::Record(press, Next::Do(Effect::Walked(animal, walking)))
}

/// Begins a new animal, in the group of newcomers where there is one, and writes her score in the same press.
fn begin(session: &Session, number: &str, score: u8, stamp: &Stamp) -> Decision {
    let Some(farm) = session.farm.as_ref().map(|farm| farm.id) else { return Decision::Refuse(Refusal::NoFarm) };
    let labels = Labels { number: number.to_owned(), ..Labels::default() };
    let mut facts = Vec::new();
    let animal = today::begun(session, labels, farm, stamp.next, &mut facts);
    let gait = Gait { scale: scale(session), score };
    facts.push((animal.0, Event::Walked { turn: None, gait }));
    let walking = written(session, Told { animal, gait, again: None, before: None });
    let press: Vec<Record> = stamp.press(facts);
    Decision::Record(press, Next::Do(Effect::Walked(animal, walking)))
}

fn written(session: &Session, told: Told) -> Walking {
    Walking { told: Some(told), top: top(session), ..Walking::default() }
}

fn number_of(session: &Session, animal: AnimalId) -> String {
    line(session, animal).map_or(String::new(), |line| line.labels.number.clone())
}

/// Where undo and redo leave the hands: on the walk with nothing typed, for what was written last may be gone.
pub fn stays(base: &Mode) -> Mode {
    if let Mode::Walk(walking) = base {
        return Mode::Walk(Walking { top: walking.top, ..Walking::default() });
    }
    base.clone()
}

/// Whether undo and redo may reach this press from here: on the walk no turn in the crush is taken back unseen.
pub fn may_undo(session: &Session, press: &Press) -> bool {
    !matches!(session.mode.base(), Mode::Walk(_)) || press.turn.is_none()
}

/// Of an animal's records those that a walk wrote, and what takes them back: what undo reaches after a restart. Other presses may be
/// about several animals, of whom not all were read.
pub fn of_walks(records: &[Record]) -> Vec<Record> {
    let scored = |record: &Record| matches!(record.event(), Some(Event::Walked { turn: None, .. }));
    let presses: BTreeSet<RecordId> = records.iter().filter(|record| scored(record)).map(Record::press_id).collect();
    let undoes = |record: &Record| matches!(record.event(), Some(Event::Undone { .. } | Event::Redone { .. }));
    records.iter().filter(|record| presses.contains(&record.press_id()) || undoes(record)).cloned().collect()
}
