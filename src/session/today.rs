//! Today: the visit. Numbers are typed only here.

use super::act::{Act, Ask};
use super::amend::{self, Read, Then};
use super::day_list::Stands;
use super::decide::{Decision, Effect, Next};
use super::mode::{Hand, Mode, TextFor};
use super::{HerdLine, LineTurn, Refusal, Session, back, of_farm, visit};
use crate::domain::day_list::Came;
use crate::domain::electronic;
use crate::domain::event::Event;
use crate::domain::farm::is_called;
use crate::domain::follow_up::Urgency;
use crate::domain::follow_up::list::list;
use crate::domain::herd::{FarmFact, Herd, Labels, Leaving, Status, VisitWhy};
use crate::domain::history::TurnState;
use crate::domain::ids::{AnimalId, FarmId, RecordId, TurnId};
use crate::domain::record::{Record, Stamp};
use crate::domain::twice::folded;
use crate::keys::intent::Intent;
use std::collections::BTreeMap;

/// Longest number that can be typed.
const LONGEST: usize = 15;

/// A key on Today.
pub fn decide(session: &Session, typed: &str, cursor: usize, intent: Intent, stamp: &Stamp) -> Decision {
    let today = |typed: String, cursor| Decision::Go(Next::Mode(Mode::Today { typed, cursor }));
    match intent {
        Intent::Digit(digit) if typed.len() < LONGEST => today(format!("{typed}{digit}"), 0),
        Intent::Back if typed.is_empty() && session.is_moving() => Decision::Go(Next::Mode(Mode::Crush(Hand::DOWN))),
        Intent::Back if typed.is_empty() => Decision::Go(Next::Mode(Mode::Farms { cursor: 0 })),
        Intent::Back => {
            let mut typed = typed.to_owned();
            typed.pop();
            today(typed, 0)
        }
        Intent::Up => today(typed.to_owned(), cursor.saturating_sub(1)),
        Intent::Down => {
            let lines = shown(session, typed).len();
            let last = if typed.is_empty() { lines } else { lines.saturating_sub(1) };
            today(typed.to_owned(), (cursor + 1).min(last))
        }
        Intent::GoOn => open(session, typed, cursor, stamp),
        Intent::Add => add(session, typed, stamp),
        Intent::Visit | Intent::Newcomers | Intent::Farm if session.is_moving() => Decision::Refuse(Refusal::NotHere),
        Intent::Totals => Decision::Go(Next::Do(Effect::Totals)),
        Intent::Left => match meant(session, typed, cursor) {
            Ok(line) => Decision::Go(Next::Do(Effect::AskLeft(line.id))),
            Err(refusal) => Decision::Refuse(refusal),
        },
        Intent::NewNumber => match meant(session, typed, cursor) {
            Ok(line) => Decision::Go(Next::Do(Effect::Amend(Read::Labels(line.id)))),
            Err(refusal) => Decision::Refuse(refusal),
        },
        Intent::Twice => amend::twice::show(session),
        Intent::Farm => of_farm::open(session, meant(session, typed, cursor).ok().map(|line| line.id)),
        Intent::Newcomers => newcomers(session, stamp),
        Intent::Note => text_for(session, TextFor::FarmNote),
        Intent::Visit => Decision::Go(Next::Do(Effect::Refresh(Box::new(Mode::Farms { cursor: 0 })))),
        _ => Decision::Refuse(Refusal::NotHere),
    }
}

/// The lines of Today: with digits typed, the animals whose number (now or earlier) begins with them; with none, who
/// waits, who is still to come by the list of the day, who came, of whom something is to be known, the rest.
pub fn shown<'s>(session: &'s Session, typed: &str) -> Vec<&'s HerdLine> {
    let here = session.herd.iter().filter(|line| line.left.is_none() || !typed.is_empty());
    if !typed.is_empty() {
        let mut lines: Vec<&HerdLine> = here.filter(|line| matches(line, typed)).collect();
        let was = |line: &HerdLine| line.earlier.iter().any(|number| number == typed);
        lines.sort_by_key(|line| {
            (line.labels.number != typed, !was(line), line.labels.number.len(), line.labels.number.clone())
        });
        return lines;
    }
    let ranks = session.due_ranks();
    let mut lines: Vec<(Rank, &HerdLine)> = here.map(|line| (rank(session, &ranks, line), line)).collect();
    lines.sort_by(|a, b| (&a.0, number_key(a.1)).cmp(&(&b.0, number_key(b.1))));
    lines.into_iter().map(|(_, line)| line).collect()
}

/// Groups of Today in their order, and the place within one.
#[derive(Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Rank {
    /// In the crush, got away, set aside.
    Waits,
    /// Expected and not here yet: her place on the list.
    ToCome(usize),
    /// Signed off: her place among those expected, then those who came unasked.
    Done(usize),
    /// Not expected, and something is due that needs no crush: her place among what is due.
    Known(usize),
    /// Left for now: her place among those.
    Spared(usize),
    /// May have left without a word: her place among those.
    StillHere(usize),
    /// Everybody else.
    Rest,
}

fn rank(session: &Session, ranks: &BTreeMap<AnimalId, usize>, line: &HerdLine) -> Rank {
    match (session.stands(line), session.asked_for(line.id)) {
        (Stands::Came(Came::SetAside | Came::InTheCrush), _) => Rank::Waits,
        // Among them who was called about since she was done, was let go with no foot up, or was left half done on another day.
        (_, Some((at, _))) => Rank::ToCome(at),
        (Stands::Came(Came::Done | Came::NoFootUp) | Stands::DoneOn(_), None) => {
            Rank::Done(session.day.line(line.id).map_or(usize::MAX, |(at, _)| at))
        }
        (Stands::Away, None) => {
            let known = ranks.get(&line.id).map(|rank| Rank::Known(*rank));
            let spared = || session.day.spared(line.id).map(|(at, _)| Rank::Spared(at));
            let asked = || session.day.still_here(line.id).map(|(at, _)| Rank::StillHere(at));
            known.or_else(spared).or_else(asked).unwrap_or(Rank::Rest)
        }
    }
}

fn number_key(line: &HerdLine) -> (usize, &str) {
    (line.labels.number.len(), &line.labels.number)
}

fn matches(line: &HerdLine, typed: &str) -> bool {
    line.labels.number.starts_with(typed)
        || wears(line, typed)
        || line.earlier_electronic.iter().any(|worn| electronic::same(worn, typed))
        || line.earlier.iter().any(|number| number.starts_with(typed))
}

/// The one animal that is typed or picked.
pub fn picked_line<'s>(session: &'s Session, typed: &str, cursor: usize) -> Option<&'s HerdLine> {
    meant(session, typed, cursor).ok()
}

/// Whether she wears this electronic number now.
pub fn wears(line: &HerdLine, digits: &str) -> bool {
    electronic::same(&line.labels.electronic, digits)
}

impl Session {
    /// Whether she is known to have left.
    pub fn has_left(&self, animal: AnimalId) -> bool {
        let line = self.herd.iter().find(|line| line.id == animal).map(|line| line.left.is_some());
        let open = || self.open.iter().find(|open| open.animal == animal).map(|open| open.left.is_some());
        line.or_else(open).unwrap_or(false)
    }

    /// Place of each animal in the due list, 0 the most urgent; those with nothing due yet are not among them.
    fn due_ranks(&self) -> BTreeMap<AnimalId, usize> {
        let list = list(&self.open, &self.rules, self.today);
        let due = list.items.iter().filter(|item| item.due.urgency > Urgency::Coming);
        let mut ranks = BTreeMap::new();
        for (rank, item) in due.enumerate() {
            ranks.entry(item.open.animal).or_insert(rank);
        }
        ranks
    }
}

/// The line that go-on opens. With nothing typed none is picked until the cursor is moved: go-on pressed once too often
/// must not open an animal.
pub fn picked(typed: &str, cursor: usize) -> Option<usize> {
    if typed.is_empty() { cursor.checked_sub(1) } else { Some(cursor) }
}

/// The cursor that picks that line.
pub fn cursor_of(typed: &str, index: usize) -> usize {
    if typed.is_empty() { index + 1 } else { index }
}

/// Opens the animal: the exact number, else the only match, else the picked line.
fn open(session: &Session, typed: &str, cursor: usize, stamp: &Stamp) -> Decision {
    if session.farm.is_none() {
        return Decision::Refuse(Refusal::NoFarm);
    }
    match meant(session, typed, cursor) {
        Ok(line) => begin(session, line, stamp),
        Err(Refusal::Shared(_)) => {
            let those = called(session, typed).map(|line| line.id).collect();
            Decision::Go(Next::Do(Effect::Amend(Read::Which(those, Then::Open))))
        }
        Err(Refusal::Unknown(_)) if session.newcomers().is_some() => add(session, typed, stamp),
        Err(refusal) => Decision::Refuse(refusal),
    }
}

/// Those that bear a number now and may stand in the crush: who died is not asked about, who was sold may be back.
pub fn called<'s>(session: &'s Session, number: &str) -> impl Iterator<Item = &'s HerdLine> {
    let may_come = |line: &&HerdLine| !matches!(line.left, Some(Leaving::Died | Leaving::Slaughter));
    session.herd.iter().filter(move |line| !number.is_empty() && line.labels.number == number).filter(may_come)
}

/// The animal that was picked among several of one number.
pub fn open_this(session: &Session, animal: AnimalId, stamp: &Stamp) -> Decision {
    match session.herd.iter().find(|line| line.id == animal) {
        Some(line) => begin(session, line, stamp),
        None => Decision::Refuse(Refusal::NotHere),
    }
}

/// Whom the number or the cursor means: the exact number where one bears it, else the picked line.
fn meant<'s>(session: &'s Session, typed: &str, cursor: usize) -> Result<&'s HerdLine, Refusal> {
    let lines = shown(session, typed);
    if cursor == 0 && called(session, typed).nth(1).is_some() {
        return Err(Refusal::Shared(typed.to_owned()));
    }
    let exact = lines.iter().find(|line| !typed.is_empty() && line.labels.number == typed);
    match (exact, lines.as_slice()) {
        (Some(line), _) if cursor == 0 => Ok(line),
        (_, []) if typed.is_empty() => Err(Refusal::NothingTyped),
        (_, []) => Err(Refusal::Unknown(typed.to_owned())),
        (_, lines) => {
            let line = picked(typed, cursor).and_then(|index| lines.get(index).copied());
            line.ok_or(Refusal::NothingTyped)
        }
    }
}

fn begin(session: &Session, line: &HerdLine, stamp: &Stamp) -> Decision {
    match back::asks(session, line) {
        true => back::ask(session, line),
        false => come_in(session, line, Animal::Known(line.id), stamp),
    }
}

/// She comes in as whoever she is.
fn come_in(session: &Session, line: &HerdLine, her: Animal, stamp: &Stamp) -> Decision {
    if session.is_moving() {
        return moved(session, her, stamp);
    }
    match line.turn {
        Some(LineTurn { id: turn, state: TurnState::Open, .. }) => {
            Decision::Go(Next::Do(Effect::OpenAnimal(line.id, turn)))
        }
        Some(LineTurn { id: turn, state: TurnState::Paused, .. }) => {
            // Whoever waits goes on with the visit that she waited in.
            let aside = session.visits.aside(session.today).filter(|_| session.visits.now.is_none());
            let on =
                aside.zip(session.farm.as_ref()).and_then(|(aside, farm)| session.visits.go_on(farm.id, aside.id).ok());
            let resumed = [(line.id.0, Event::TurnResumed { turn })];
            let facts = her.is_back().into_iter().chain(on.unwrap_or_default()).chain(resumed);
            Decision::Record(stamp.press(facts), Next::Do(Effect::OpenAnimal(line.id, turn)))
        }
        Some(LineTurn { id: turn, state: TurnState::Signed, .. }) => {
            let under = Box::new(Mode::today());
            Decision::Go(Next::Mode(Mode::Pad { ask: Ask::Again(line.id, turn), under }))
        }
        None => new_turn(session, her, stamp),
    }
}

enum Animal {
    Known(AnimalId),
    /// She had left.
    Back(AnimalId),
    New(Labels),
}

impl Animal {
    /// That she is back, where she is.
    fn is_back(&self) -> Option<(RecordId, Event)> {
        match self {
            Animal::Back(animal) => Some((animal.0, Event::CameBack { animal: *animal, words: String::new() })),
            Animal::Known(_) | Animal::New(_) => None,
        }
    }
}

/// Begins a turn, and before it the visit with its first animal and the animal herself, all in one press.
fn new_turn(session: &Session, who: Animal, stamp: &Stamp) -> Decision {
    let Some(farm) = session.farm.as_ref().map(|farm| farm.id) else { return Decision::Refuse(Refusal::NoFarm) };
    let mut facts: Vec<(RecordId, Event)> = Vec::new();
    let next = |facts: &Vec<(RecordId, Event)>| RecordId {
        series: stamp.next.series,
        seq: stamp.next.seq + facts.len() as u64,
    };
    if session.visits.asks(session.today) {
        return visit::ask(visit::Ask::Which, &session.mode);
    }
    let (visit, first) = session.visits.in_hand(farm, session.today, next(&facts), VisitWhy::Routine);
    facts.extend(first);
    let animal = known(session, who, farm, next(&facts), &mut facts);
    let turn = TurnId(next(&facts));
    facts.push((animal.0, Event::TurnBegun { visit, animal }));
    Decision::Record(stamp.press(facts), Next::Do(Effect::OpenAnimal(animal, turn)))
}

/// The animal, said to be back where she had left, begun here where she is new, in the group of newcomers where there is one.
fn known(session: &Session, who: Animal, farm: FarmId, next: RecordId, facts: &mut Vec<(RecordId, Event)>) -> AnimalId {
    facts.extend(who.is_back());
    match who {
        Animal::Known(animal) | Animal::Back(animal) => animal,
        Animal::New(labels) => begun(session, labels, farm, next, facts),
    }
}

/// An animal begun, in the group of newcomers where there is one.
pub(super) fn begun(
    session: &Session,
    labels: Labels,
    farm: FarmId,
    next: RecordId,
    facts: &mut Vec<(RecordId, Event)>,
) -> AnimalId {
    let animal = AnimalId(next);
    facts.push((animal.0, Event::AnimalBegun { farm, labels }));
    if let Some(group) = session.newcomers() {
        let herd = Herd { group: group.to_owned(), ..Herd::default() };
        facts.push((animal.0, Event::Described { animal, herd }));
    }
    animal
}

/// The number was wrong: the turn in the crush goes to the animal it belongs to, with all that was written in it.
fn moved(session: &Session, who: Animal, stamp: &Stamp) -> Decision {
    let (Some(crush), Some(farm)) = (&session.crush, &session.farm) else { return Decision::Refuse(Refusal::NotHere) };
    let mut facts = Vec::new();
    let to = known(session, who, farm.id, stamp.next, &mut facts);
    if to == crush.animal {
        return Decision::Go(Next::Mode(Mode::Crush(Hand::DOWN)));
    }
    facts.push((crush.animal.0, Event::TurnMoved { turn: crush.turn, to }));
    Decision::Record(stamp.press(facts), Next::Do(Effect::OpenAnimal(to, crush.turn)))
}

/// Switches: unknown numbers are new in a group that is asked for, or no longer.
pub(super) fn newcomers(session: &Session, stamp: &Stamp) -> Decision {
    match session.newcomers() {
        Some(_) => describe(session, FarmFact::NewAnimals, "", &session.mode, stamp),
        None => text_for(session, TextFor::Group),
    }
}

fn text_for(session: &Session, what: TextFor) -> Decision {
    let under = Box::new(session.mode.clone());
    Decision::Go(Next::Mode(Mode::Text { what, text: String::new(), under }))
}

/// Tells something about the farm in hand.
fn describe(session: &Session, fact: FarmFact, words: &str, under: &Mode, stamp: &Stamp) -> Decision {
    let Some(farm) = session.farm.as_ref().map(|farm| farm.id) else { return Decision::Refuse(Refusal::NoFarm) };
    let told = Event::FarmDescribed { farm, fact, words: words.to_owned() };
    Decision::Record(stamp.press([(farm.0, told)]), Next::Do(Effect::Refresh(Box::new(under.clone()))))
}

/// Begins a new animal of these labels, and her turn.
pub(super) fn begin_new(session: &Session, labels: Labels, stamp: &Stamp) -> Decision {
    new_turn(session, Animal::New(labels), stamp)
}

/// Adds the animal that was typed, or one without a number.
fn add(session: &Session, typed: &str, stamp: &Stamp) -> Decision {
    if let Some(line) = session.herd.iter().find(|line| !typed.is_empty() && line.labels.number == typed) {
        return begin(session, line, stamp);
    }
    of_number(session, typed, stamp)
}

/// The line of whoever is known to be gone.
fn gone(session: &Session, animal: AnimalId) -> Option<&HerdLine> {
    session.herd.iter().find(|line| line.id == animal && line.left.is_some())
}

/// A new animal of that number comes in.
fn of_number(session: &Session, number: &str, stamp: &Stamp) -> Decision {
    let new = Animal::New(Labels { number: number.to_owned(), ..Labels::default() });
    if session.is_moving() { moved(session, new, stamp) } else { new_turn(session, new, stamp) }
}

/// What became of an animal.
pub fn became(animal: AnimalId, act: &Act, under: &Mode, stamp: &Stamp) -> Decision {
    let event = match act {
        Act::Left(_, why) => Event::Left { animal, why: *why, words: String::new() },
        Act::Back(_) => Event::CameBack { animal, words: String::new() },
        Act::Stands(_, status) => {
            let dry_from = (*status == Status::Dry).then_some(stamp.on);
            Event::Described { animal, herd: Herd { status: Some(*status), dry_from, ..Herd::default() } }
        }
        _ => return Decision::Refuse(Refusal::NotHere),
    };
    let next = if matches!(under, Mode::Today { .. }) { Mode::today() } else { under.clone() };
    Decision::Record(stamp.press([(animal.0, event)]), Next::Do(Effect::Refresh(Box::new(next))))
}

/// Choices that are made with no animal in the crush.
pub fn do_act(session: &Session, act: Act, under: &Mode, stamp: &Stamp) -> Decision {
    match act {
        Act::AnotherTurn(animal) => match gone(session, animal) {
            Some(line) => back::ask(session, line),
            None => new_turn(session, Animal::Known(animal), stamp),
        },
        Act::BackIn(animal) => match gone(session, animal) {
            // Signed off, gone, and in once more.
            Some(line) if line.turn.is_some_and(|turn| turn.state == TurnState::Signed) && !session.is_moving() => {
                new_turn(session, Animal::Back(animal), stamp)
            }
            Some(line) => come_in(session, line, Animal::Back(animal), stamp),
            None => Decision::Refuse(Refusal::NotHere),
        },
        Act::AnotherOf(animal) => match gone(session, animal) {
            Some(line) => of_number(session, &line.labels.number, stamp),
            None => Decision::Refuse(Refusal::NotHere),
        },
        Act::Reopen(animal, turn) => {
            let press = stamp.press([(animal.0, Event::TurnReopened { turn })]);
            Decision::Record(press, Next::Do(Effect::OpenAnimal(animal, turn)))
        }
        Act::WrongNumber => Decision::Go(Next::Mode(under.clone())),
        _ => Decision::Refuse(Refusal::NotHere),
    }
}

/// Keeps a text that is not about an animal.
pub fn keep(session: &Session, what: &TextFor, text: &str, under: &Mode, stamp: &Stamp) -> Decision {
    match what {
        TextFor::Who
            if let Some((person, _)) = session.people.iter().find(|(_, name)| folded(name) == folded(text)) =>
        {
            Decision::Go(Next::Do(Effect::Amend(Read::By(*person))))
        }
        TextFor::Who => {
            let press: Vec<Record> = stamp.press([(RecordId::PRACTICE, Event::PersonBegun { name: text.to_owned() })]);
            Decision::Record(press, Next::Mode(under.clone()))
        }
        TextFor::FarmName if session.farms.iter().any(|line| is_called(&line.name, text)) => {
            Decision::Refuse(Refusal::Farm(of_farm::Refused::Named(text.to_owned())))
        }
        TextFor::FarmName => {
            let farm = FarmId(stamp.next);
            let press = stamp.press([(farm.0, Event::FarmBegun { name: text.to_owned() })]);
            Decision::Record(press, Next::Do(Effect::OpenFarm(farm)))
        }
        TextFor::Answers(farm) => Decision::Go(Next::Do(Effect::Answers(*farm, text.to_owned()))),
        TextFor::VetSaid(animal, of) => {
            let said = Event::VetAnswered { of: *of, words: text.to_owned() };
            let next = if session.crush.is_some() {
                Next::Mode(under.clone())
            } else {
                Next::Do(Effect::Refresh(Box::new(under.clone())))
            };
            Decision::Record(stamp.press([(animal.0, said)]), next)
        }
        TextFor::HandedTo(farm) => {
            let given = Event::FarmGivenUp { farm: *farm, handed_to: text.to_owned() };
            Decision::Record(stamp.press([(farm.0, given)]), Next::Do(Effect::Refresh(Box::new(under.clone()))))
        }
        TextFor::Group => describe(session, FarmFact::NewAnimals, text, under, stamp),
        TextFor::FarmNote => describe(session, FarmFact::Note, text, under, stamp),
        TextFor::Stated(_)
        | TextFor::Note(_)
        | TextFor::OwnWords(_)
        | TextFor::ForeignBody(_)
        | TextFor::Product(_)
        | TextFor::Remover(_)
        | TextFor::Amend(_)
        | TextFor::Farm(_)
        | TextFor::Measure(_, _) => Decision::Refuse(Refusal::NotHere),
    }
}
