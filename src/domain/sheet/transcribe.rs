//! From a turn on a sheet to records: finds which finding an answer means and which wrap or block came off.
//!
//! Pure: the caller hands in the names of visit and animal, the animal's history as at the sheet's day, and a stamp. One
//! sheet turn is one press, so that undo takes a wrong sheet back whole, whoever recorded parts of it.

use super::super::anatomy::Place;
use super::super::contact;
use super::super::event::{Detail, Event, Item, PauseWhy};
use super::super::finding::Finding;
use super::super::her_days::NoDay;
use super::super::herd::{FarmFact, Leaving, Scope};
use super::super::herd_list::column::Column;
use super::super::history::open::OpenItem;
use super::super::history::{History, Verdict};
use super::super::ids::{AnimalId, CaseId, PersonId, PutId, RecordId, TurnId, VisitId};
use super::super::instruction::NoReview;
use super::super::label::{Label, NoLabel};
use super::super::record::{Record, Stamp};
use super::super::treatment::Put;
use super::super::which::Named;
use super::{End, Fact, NewFinding, SheetTurn, Thing};
use chrono::NaiveDate;

/// A fact of a sheet that cannot be entered.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Snag {
    /// Number of the fact in its turn, from 0.
    pub fact: usize,
    /// Why not.
    pub why: SnagWhy,
}

/// Why a fact of a sheet cannot be entered.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum SnagWhy {
    /// An answer, and no open finding of that kind at that place.
    NothingToAnswer {
        /// Where.
        place: Place,
        /// What was answered.
        what: Finding,
    },
    /// Word about a wrap or block, and none known to be on there.
    NothingOn {
        /// Where.
        place: Place,
        /// What was spoken of.
        thing: Thing,
    },
    /// What came of the vet, and nobody advised one there.
    NoVet {
        /// Where.
        place: Place,
    },
    /// The end of an instruction that nobody gave.
    NoInstruction {
        /// For which claws.
        scope: Scope,
    },
    /// An instruction that goes on, and none for those claws holds on that day.
    NotHeld {
        /// For which claws.
        scope: Scope,
    },
    /// An instruction that is spoken of, and not one alone of those that hold for those claws fits.
    WhichInstruction {
        /// For which claws.
        scope: Scope,
        /// Those that hold.
        hold: Vec<Named>,
    },
    /// An instruction that holds on that day already, for the same claws in the same words.
    HoldsAlready {
        /// For which claws.
        scope: Scope,
        /// Its words, and the day it was given.
        one: Named,
    },
    /// The day to look at an instruction again is none.
    NoReview {
        /// Why not.
        why: NoReview,
        /// Days within which it is to be looked at again.
        within: u16,
    },
    /// A word on a fact of the farm that it cannot have, and how it is to be written.
    NoFact(FarmFact, &'static str),
    /// Somebody told of as one of the farm's people who cannot be kept so.
    NoContact(contact::No),
    /// Somebody told of as gone who is none of the farm's people; those there are.
    NobodyCalled {
        /// Who.
        name: String,
        /// The others.
        here: Vec<String>,
    },
    /// Another farm is called so.
    FarmCalled(String),
    /// What she is to be called cannot be kept.
    NoLabel(Label, NoLabel),
    /// Another animal of the farm bears it.
    Borne(Label, String),
    /// A day that cannot be hers.
    NoDay(Column, NoDay),
    /// A call about one who has left.
    HasLeft(Leaving, NaiveDate),
    /// Told outside the crush, though only somebody with the foot in hand can know it.
    NeedsTurn,
}

/// Makes the records of one sheet turn, or lists every fact that cannot be entered; never half of it. `people` are those to whom it was
/// handed over, in the order of the turn.
pub fn transcribe(
    turn: &SheetTurn,
    visit: VisitId,
    animal: AnimalId,
    history: Option<&History>,
    stamp: &Stamp,
    people: &[PersonId],
) -> Result<Vec<Record>, Vec<Snag>> {
    let mut desk = Desk::new(history, stamp);
    desk.events.push(Event::TurnBegun { visit, animal });
    let (mut snags, mut people) = (Vec::new(), people.iter());
    for (fact, told) in turn.facts.iter().enumerate() {
        if let Fact::HandedOver(_) = told {
            desk.handed.extend(people.next().map(|person| (desk.events.len(), *person)));
        }
        if let Err(why) = desk.enter(told) {
            snags.push(Snag { fact, why });
        }
    }
    desk.close(&turn.end);
    if snags.is_empty() { Ok(desk.records(animal)) } else { Err(snags) }
}

/// The newest wrap or block known to be on at that place: exactly there, else on that foot where the foot alone was named
/// or where a wrap is meant, since a foot carries one wrap whatever it is said to cover.
pub(super) fn on_there(history: &History, thing: Thing, place: Place, on: NaiveDate, gone: &[PutId]) -> Option<PutId> {
    let there = |matches: &dyn Fn(&Put) -> bool| {
        history.open.iter().rev().find_map(|item| match item {
            OpenItem::On { put, what, since, .. }
                if thing.is(what) && *since <= on && !gone.contains(put) && matches(what) =>
            {
                Some(*put)
            }
            OpenItem::On { .. }
            | OpenItem::LookSoon { .. }
            | OpenItem::Recheck { .. }
            | OpenItem::SetByHand { .. }
            | OpenItem::Lame { .. }
            | OpenItem::Withheld { .. }
            | OpenItem::Vet { .. } => None,
        })
    };
    let by_foot = thing == Thing::Wrap || matches!(place, Place::Foot(_));
    there(&|what| what.place() == place).or_else(|| there(&|what| by_foot && what.foot() == place.foot()))
}

/// The sheet turn being written out: its events so far, and what it has already answered or taken off.
struct Desk<'a> {
    history: Option<&'a History>,
    stamp: &'a Stamp,
    events: Vec<Event>,
    answered: Vec<CaseId>,
    gone: Vec<PutId>,
    /// From which event on who recorded.
    handed: Vec<(usize, PersonId)>,
}

impl<'a> Desk<'a> {
    fn new(history: Option<&'a History>, stamp: &'a Stamp) -> Desk<'a> {
        Desk { history, stamp, events: Vec::new(), answered: Vec::new(), gone: Vec::new(), handed: Vec::new() }
    }

    /// One press, each record by whoever recorded it.
    fn records(self, animal: AnimalId) -> Vec<Record> {
        let mut records: Vec<Record> = self.stamp.press(self.events.into_iter().map(|event| (animal.0, event)));
        for (from, person) in self.handed {
            records[from..].iter_mut().for_each(|record| record.by = Some(person));
        }
        records
    }

    /// Name of the record that the next event becomes.
    fn next(&self) -> RecordId {
        RecordId { series: self.stamp.next.series, seq: self.stamp.next.seq + self.events.len() as u64 }
    }

    fn turn(&self) -> TurnId {
        TurnId(self.stamp.next)
    }

    fn enter(&mut self, fact: &Fact) -> Result<(), SnagWhy> {
        match fact {
            Fact::Found(found) => self.found(found),
            Fact::Answered { place, what, verdict } => self.answered(*place, *what, *verdict)?,
            Fact::Off { thing, place, outcome, skin } => {
                let item = self.came_off(*thing, *place, outcome.closes());
                let turn = Some(self.turn());
                self.events.push(Event::SeenOff { turn, item, outcome: *outcome, skin: *skin });
            }
            Fact::HandedOver(_) => {}
            Fact::Look { .. }
            | Fact::Trimmed { .. }
            | Fact::Put { .. }
            | Fact::Gait(_)
            | Fact::Measured { .. }
            | Fact::Sore(_)
            | Fact::Note { .. }
            | Fact::Medicine(_)
            | Fact::Relief(_)
            | Fact::Vet { .. }
            | Fact::Recheck { .. } => self.events.extend(plain(fact, self.turn())),
        }
        Ok(())
    }

    fn found(&mut self, found: &NewFinding) {
        let turn = self.turn();
        let of = CaseId(self.next());
        let NewFinding { place, what, degree, infected, deep, side, words } = found.clone();
        self.events.push(Event::Found { turn, place, what, degree, words });
        let details =
            [infected.then_some(Detail::Infected(true)), deep.then_some(Detail::Deep(true)), side.map(Detail::Side)];
        self.events.extend(details.into_iter().flatten().map(|detail| Event::Detailed { of, detail }));
    }

    fn answered(&mut self, place: Place, what: Finding, verdict: Verdict) -> Result<(), SnagWhy> {
        let on = self.stamp.on;
        let case = self
            .history
            .into_iter()
            .flat_map(History::open_courses)
            .filter(|course| course.place == place && course.what().group() == what.group() && course.since() <= on)
            .filter(|course| !self.answered.contains(&course.id))
            .last()
            .map(|course| course.id)
            .ok_or(SnagWhy::NothingToAnswer { place, what })?;
        self.answered.push(case);
        let turn = self.turn();
        self.events.push(match verdict {
            Verdict::Outcome(outcome) => Event::Answered { turn, case, outcome },
            Verdict::Stage(stage) => Event::Staged { turn, case, stage },
        });
        Ok(())
    }

    /// What the sheet means by "the wrap there": one known before, else one that this turn put on, else one just met.
    fn came_off(&mut self, thing: Thing, place: Place, closes: bool) -> Item {
        let known = self.history.and_then(|history| on_there(history, thing, place, self.stamp.on, &self.gone));
        let Some(put) = known.or_else(|| self.put_on_today(thing, place)) else {
            return Item::Met(place);
        };
        if closes {
            self.gone.push(put);
        }
        Item::Known(put)
    }

    fn put_on_today(&self, thing: Thing, place: Place) -> Option<PutId> {
        let first = self.stamp.next;
        let names = (first.seq..).map(|seq| PutId(RecordId { series: first.series, seq }));
        let mut own: Vec<(PutId, &Event)> = names.zip(&self.events).collect();
        own.reverse();
        let is_it = |event: &Event| matches!(event, Event::PutOn { put, .. } if thing.is(put) && put.place() == place);
        own.into_iter().find(|(id, event)| is_it(event) && !self.gone.contains(id)).map(|(id, _)| id)
    }

    fn close(&mut self, end: &End) {
        let turn = self.turn();
        match end {
            End::Open => {}
            End::Paused(why) => {
                self.events.push(Event::TurnPaused { turn, why: why.unwrap_or(PauseWhy::SetAside) });
            }
            End::Signed(open) => self.events.push(Event::TurnSigned { turn, open: open.clone() }),
        }
    }
}

/// The event of a fact that means the same whatever was before it; none for the others.
fn plain(fact: &Fact, turn: TurnId) -> Option<Event> {
    Some(match fact.clone() {
        Fact::Look { foot, look } => {
            Event::Looked { turn, foot, lifted: look.lifted, trimmed: look.trimmed, all_seen: look.all_seen }
        }
        Fact::Trimmed { place, how } => Event::Trimmed { turn, place, how },
        Fact::Measured { place, what, mm } => Event::Measured { turn, place, what, mm },
        Fact::Sore(place) => Event::Sore { turn, place },
        Fact::Relief(relief) => Event::PainRelief { turn, relief },
        Fact::Put { .. }
        | Fact::Gait(_)
        | Fact::Note { .. }
        | Fact::Medicine(_)
        | Fact::Vet { .. }
        | Fact::Recheck { .. } => return outside(fact, Some(turn)),
        Fact::Found(_) | Fact::Answered { .. } | Fact::Off { .. } | Fact::HandedOver(_) => return None,
    })
}

/// The event of a fact that can stand outside any turn; none for the others.
pub(super) fn outside(fact: &Fact, turn: Option<TurnId>) -> Option<Event> {
    Some(match fact.clone() {
        Fact::Put { put, off_by, remover, by_others } => Event::PutOn { turn, put, off_by, remover, by_others },
        Fact::Gait(gait) => Event::Walked { turn, gait },
        Fact::Note { place, text } => Event::Noted { turn, place, text },
        Fact::Medicine(medicine) => Event::MedicineGiven { turn, medicine },
        Fact::Vet { place, sign, words } => Event::VetAdvised { turn, place, sign, words },
        Fact::Recheck { place, on, words } => Event::RecheckSet { turn, place, on, words },
        Fact::Look { .. }
        | Fact::Found(_)
        | Fact::Answered { .. }
        | Fact::Trimmed { .. }
        | Fact::Off { .. }
        | Fact::Measured { .. }
        | Fact::Sore(_)
        | Fact::Relief(_)
        | Fact::HandedOver(_) => return None,
    })
}

impl Fact {
    /// Whether it can be told outside the crush: what others put on, and what needs no foot in hand.
    pub fn needs_no_turn(&self) -> bool {
        match self {
            Fact::Put { by_others, .. } => !by_others.is_empty(),
            Fact::Gait(_) | Fact::Note { .. } | Fact::Medicine(_) | Fact::Vet { .. } | Fact::Recheck { .. } => true,
            Fact::Look { .. }
            | Fact::Found(_)
            | Fact::Answered { .. }
            | Fact::Trimmed { .. }
            | Fact::Off { .. }
            | Fact::Measured { .. }
            | Fact::Sore(_)
            | Fact::Relief(_)
            | Fact::HandedOver(_) => false,
        }
    }
}
