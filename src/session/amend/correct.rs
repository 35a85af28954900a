//! A finding, wrap or block of an earlier turn that was said wrongly: what is right, and why. What was said before stays
//! readable.

use super::{Act, Ask, Text, ask, choice, in_order, refuse, type_for};
use crate::domain::anatomy::{Place, Zone};
use crate::domain::event::{Detail, Event, PutDetail};
use crate::domain::finding::{Degree, Finding, Grade, Scale};
use crate::domain::history::standing::Standing;
use crate::domain::history::{Found, History, PutView, Turn};
use crate::domain::ids::{CaseId, PutId, RecordId, TurnId};
use crate::domain::record::Stamp;
use crate::domain::treatment::{Colour, Milking, OffBy, Put};
use crate::domain::vocabulary::Vocabulary;
use crate::session::act::{Choice, KINDS};
use crate::session::choices::{DOT, STAGES, possible};
use crate::session::decide::{Decision, Effect, Next};
use crate::session::mode::Mode;
use crate::session::{Refusal, Session, lists};
use chrono::Days;

/// Most days after which a wrap can be said to come off; longer is a slip.
const LONGEST: u64 = 30;

/// What a finding should have said.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Change {
    /// The finding.
    pub found: RecordId,
    /// Where.
    pub place: Place,
    /// What.
    pub what: Finding,
    /// Grade or stage.
    pub degree: Degree,
}

impl Change {
    fn of(found: &Found) -> Change {
        Change { found: found.id, place: found.place, what: found.what, degree: found.degree }
    }
}

/// The key on an earlier turn of the animal in the crush: which of its facts?
pub fn earlier(session: &Session) -> Decision {
    match lists::earlier(session) {
        Some(turn) if acts(turn).is_empty() => refuse(Refusal::NothingFound),
        Some(turn) => ask(Ask::Facts(turn.id), &session.mode),
        None => refuse(Refusal::NotHere),
    }
}

pub(super) fn facts(session: &Session, turn: TurnId) -> Vec<Choice> {
    let turn = session.crush.as_ref().and_then(|crush| crush.history.turn(turn));
    in_order(turn.map(acts).unwrap_or_default().into_iter())
}

/// Findings, then wraps and blocks.
fn acts(turn: &Turn) -> Vec<Act> {
    let found = turn.found.iter().map(|found| Ask::Right(Change::of(found)));
    let puts = turn.puts.iter().filter(|view| view.put.must_come_off()).map(|view| Ask::RightPut(view.id));
    found.chain(puts).map(|asked| Act::Ask(Box::new(asked))).collect()
}

/// Something put on, as it stands.
pub fn put_on(history: &History, put: PutId) -> Option<&PutView> {
    history.turns.iter().flat_map(|turn| &turn.puts).find(|view| view.id == put)
}

/// A wrap's nine colours and its day on 0; a block's material from 1 on.
pub(super) fn right_put(session: &Session, put: PutId) -> Vec<Choice> {
    let Some(view) = session.crush.as_ref().and_then(|crush| put_on(&crush.history, put)) else { return Vec::new() };
    let why = |detail| Act::Type(Text::WhyPut(put, detail));
    match &view.put {
        Put::Wrap { .. } => {
            let colours = Colour::ALL.iter().map(|colour| why(PutDetail::Colour(*colour)));
            let mut list = in_order(colours);
            list.push(choice(0, Act::Type(Text::Day(put))));
            list
        }
        Put::Block { .. } => in_order(KINDS.into_iter().map(|kind| why(PutDetail::Kind(kind)))),
        Put::Dressing { .. } => Vec::new(),
    }
}

/// So many days after it was put on.
pub(super) fn day(session: &Session, put: PutId, text: &str, under: &Mode) -> Decision {
    let view = session.crush.as_ref().and_then(|crush| put_on(&crush.history, put));
    let days = text.trim().parse().ok().filter(|days: &u64| *days <= LONGEST);
    let (Some(view), Some(days)) = (view, days) else { return refuse(Refusal::NoDays(text.to_owned())) };
    let milking = view.off_by.map_or(Milking::Evening, |promise| promise.milking);
    let detail = PutDetail::OffBy(OffBy { day: view.on + Days::new(days), milking });
    type_for(Text::WhyPut(put, detail), under)
}

/// Writes it where it was told: as one more word about the thing, else with the thing itself.
pub(super) fn record_put(session: &Session, put: PutId, to: &PutDetail, why: &str, stamp: &Stamp) -> Decision {
    let Some(crush) = &session.crush else { return refuse(Refusal::NotHere) };
    let standing = Standing::of(crush.records.clone());
    let same = |detail: &PutDetail| std::mem::discriminant(detail) == std::mem::discriminant(to);
    let told = standing.records().iter().rev().find_map(|record| match record.event() {
        Some(Event::PutDetailed { put: of, detail }) if *of == put && same(detail) => Some((record.id, detail)),
        Some(_) | None => None,
    });
    let begun = standing.records().iter().find(|record| record.id == put.0).and_then(|record| record.event());
    let (of, event) = match (told, begun) {
        (Some((_, detail)), _) if detail == to => return refuse(Refusal::AlreadySo),
        (Some((id, _)), _) => (id, Event::PutDetailed { put, detail: to.clone() }),
        (None, Some(begun)) => {
            let now = with(begun, to);
            if now == *begun {
                return refuse(Refusal::AlreadySo);
            }
            (put.0, now)
        }
        (None, None) => return refuse(Refusal::NotHere),
    };
    let corrected = Event::Corrected { of, to: Box::new(event), why: why.to_owned() };
    let next = Next::Do(Effect::OpenAnimal(crush.animal, crush.turn));
    Decision::Record(stamp.press([(crush.animal.0, corrected)]), next)
}

/// The same thing put on, but for this.
fn with(begun: &Event, detail: &PutDetail) -> Event {
    let mut event = begun.clone();
    if let Event::PutOn { put, off_by, .. } = &mut event {
        match (detail, put) {
            (PutDetail::Colour(now), Put::Wrap { colour, .. }) => *colour = Some(*now),
            (PutDetail::Kind(now), Put::Block { kind, .. }) => *kind = *now,
            (PutDetail::OffBy(now), Put::Wrap { .. }) => *off_by = Some(*now),
            (
                PutDetail::Colour(_)
                | PutDetail::Kind(_)
                | PutDetail::OffBy(_)
                | PutDetail::Product(_)
                | PutDetail::Remover(_),
                Put::Wrap { .. } | Put::Block { .. } | Put::Dressing { .. },
            ) => {}
        }
    }
    event
}

/// The finding as it stands.
pub fn finding(history: &History, id: RecordId) -> Option<&Found> {
    history.turns.iter().flat_map(|turn| &turn.found).find(|found| found.id == id)
}

/// Its grade or stage on the digits they always have; then what, claw, foot and zone; the point goes on to the reason.
pub(super) fn right(session: &Session, change: &Change) -> Vec<Choice> {
    let degrees: Vec<(u8, Degree)> = match change.what.row().scale {
        Scale::Grade => Grade::ALL.iter().zip(1..).map(|(grade, key)| (key, Degree::Grade(*grade))).collect(),
        Scale::Stage => STAGES.into_iter().map(|(key, stage)| (key, Degree::Stage(stage))).collect(),
        Scale::None => Vec::new(),
    };
    let why = |degree| Act::Type(Text::Why(Change { degree, ..*change }));
    let mut list: Vec<Choice> = degrees.into_iter().map(|(key, degree)| choice(key, why(degree))).collect();
    let again = |place| Act::Ask(Box::new(Ask::Right(Change { place, ..*change })));
    list.push(choice(6, Act::Ask(Box::new(Ask::Finding(*change)))));
    list.extend(change.place.at_partner().map(|place| choice(7, again(place))));
    list.extend(change.place.foot().map(|foot| choice(8, again(change.place.at_foot(foot.across())))));
    if change.place.zone().is_some() {
        list.push(choice(9, Act::Type(Text::Zone(*change))));
    }
    let now = session.crush.as_ref().and_then(|crush| finding(&crush.history, change.found)).map(Change::of);
    if now != Some(*change) {
        list.push(choice(DOT, why(change.degree)));
    }
    list
}

/// What else can be found there; its grade is asked anew where it is of another kind.
pub(super) fn findings(session: &Session, change: &Change) -> Vec<Choice> {
    let keep = |what: Finding| {
        let what = change.place.zone().map_or(what, |zone| what.told_by(zone));
        let degree = if what.row().scale == change.what.row().scale { change.degree } else { Degree::NotGiven };
        Act::Ask(Box::new(Ask::Right(Change { what, degree, ..*change })))
    };
    let keys = (1..=9).chain([0, DOT]);
    possible(session, change.place).into_iter().zip(keys).map(|(what, key)| choice(key, keep(what))).collect()
}

/// The number of the right zone was typed.
pub(super) fn zone(session: &Session, change: &Change, text: &str, under: &Mode) -> Decision {
    let zone = text.trim().parse().ok().and_then(Zone::from_number);
    let (Some(zone), Some(foot)) = (zone, change.place.foot()) else {
        return refuse(Refusal::NoZone(text.to_owned()));
    };
    let place = zone.on(foot, change.place.side().unwrap_or(foot.likely_claw()));
    let there = Change { place, ..*change };
    // What cannot be found in that zone was wrong too.
    let fits = possible(session, place).iter().any(|what| what.group() == change.what.group());
    ask(if fits { Ask::Right(there) } else { Ask::Finding(there) }, under)
}

/// Writes it: the finding itself, and what was told about it after its first key, so that nothing told then says otherwise.
pub(super) fn record(session: &Session, change: &Change, why: &str, stamp: &Stamp) -> Decision {
    let Some(crush) = &session.crush else { return refuse(Refusal::NotHere) };
    let corrected = corrections(&Standing::of(crush.records.clone()), change);
    if corrected.is_empty() {
        return refuse(Refusal::AlreadySo);
    }
    let facts = corrected
        .into_iter()
        .map(|(of, to)| (crush.animal.0, Event::Corrected { of, to: Box::new(to), why: why.to_owned() }));
    Decision::Record(stamp.press(facts), Next::Do(Effect::OpenAnimal(crush.animal, crush.turn)))
}

/// Records that say something else than the change, with what they should have said.
fn corrections(standing: &Standing, change: &Change) -> Vec<(RecordId, Event)> {
    let details: Vec<(RecordId, Detail)> = standing
        .records()
        .iter()
        .filter_map(|record| match record.event() {
            Some(Event::Detailed { of, detail }) if of.0 == change.found => Some((record.id, *detail)),
            Some(_) | None => None,
        })
        .collect();
    let graded = details.iter().any(|(_, detail)| matches!(detail, Detail::Degree(_)));
    let typed = details.iter().any(|(_, detail)| matches!(detail, Detail::Subtype(_)));
    let mut list = Vec::new();
    let found = standing.records().iter().find(|record| record.id == change.found).and_then(|record| record.event());
    if let Some(Event::Found { turn, place, what, degree, words }) = found {
        // A grade or subtype that was told after the first key is corrected where it was told.
        let same_scale = what.row().scale == change.what.row().scale;
        let degree_now = if graded && same_scale { *degree } else { change.degree };
        let what_now = if typed && what.group() == change.what.group() { *what } else { change.what };
        if (*place, *what, *degree) != (change.place, what_now, degree_now) {
            let (place, what, degree) = (change.place, what_now, degree_now);
            list.push((change.found, Event::Found { turn: *turn, place, what, degree, words: words.clone() }));
        }
    }
    let row = change.what.row();
    for (id, detail) in details {
        let now = match detail {
            Detail::Degree(_) => Detail::Degree(change.degree),
            Detail::Subtype(_) => Detail::Subtype(change.what),
            Detail::Infected(yes) => Detail::Infected(yes && row.infectable),
            Detail::Deep(yes) => Detail::Deep(yes && row.infectable),
            Detail::Side(side) => Detail::Side(side),
        };
        if now != detail {
            list.push((id, Event::Detailed { of: CaseId(change.found), detail: now }));
        }
    }
    list
}
