//! Where two tablets disagree about one foot on one day: both facts are kept, neither closes or lowers anything, and it is
//! said until the foot has been up again.
//!
//! What a writer had seen cannot be read off two counters: a higher one may have seen the other or not. So facts of one day
//! from different series disagree unless one of them names the other; better said once too often.

use super::anatomy::{Foot, Place, Side};
use super::event::{Event, Item};
use super::finding::{Degree, Finding};
use super::history::{History, Turn, Verdict};
use super::ids::RecordId;
use super::treatment::{Off, Put};
use super::vocabulary::Vocabulary;
use chrono::NaiveDate;
use std::collections::BTreeMap;

/// Two facts that cannot both be how it was.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Disagreement {
    /// The day of both.
    pub on: NaiveDate,
    /// Where.
    pub place: Place,
    /// What each said, in the order of their series.
    pub said: [Said; 2],
    /// Whether the foot was up on a later day, so that what was seen then counts.
    pub settled: bool,
}

/// One of the two.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Said {
    /// The record.
    pub id: RecordId,
    /// What it said.
    pub what: Fact,
}

/// What can be said of a place.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Fact {
    /// She was in the crush.
    InCrush,
    /// This was found.
    Found(Finding, Degree),
    /// An earlier finding was answered.
    Answered(Finding, Verdict),
    /// This was put on.
    PutOn(Put),
    /// This is how what was on was found.
    Seen(Off),
}

/// What facts of a day are compared by.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Topic {
    /// Her turn itself.
    Turn,
    /// A finding at a place, by its group.
    Finding(Place, Finding),
    /// A wrap on a foot.
    Wrap(Foot),
    /// A block under a claw.
    Block(Foot, Side),
}

/// A fact with what it names.
#[derive(Debug, Clone)]
struct Told {
    place: Place,
    said: Said,
    names: Option<RecordId>,
}

/// Every disagreement in the records of one animal, oldest first.
pub fn of(history: &History) -> Vec<Disagreement> {
    let mut words: BTreeMap<(NaiveDate, Topic), BTreeMap<u64, Told>> = BTreeMap::new();
    for (on, topic, told) in history.turns.iter().flat_map(of_turn).chain(outside(history)) {
        let by_series = words.entry((on, topic)).or_default();
        let last = by_series.entry(told.said.id.series).or_insert_with(|| told.clone());
        // The last word of a tablet is what it says.
        if last.said.id.seq < told.said.id.seq {
            *last = told;
        }
    }
    let mut all = Vec::new();
    for ((on, _), by_series) in words {
        let said: Vec<Told> = by_series.into_values().collect();
        for (index, one) in said.iter().enumerate() {
            let against = said[index + 1..].iter().filter(|other| !knew(one, other) && contradict(one, other));
            all.extend(against.map(|other| Disagreement {
                on,
                place: one.place,
                said: [one.said.clone(), other.said.clone()],
                settled: up_again(history, on, one.place),
            }));
        }
    }
    all
}

fn of_turn(turn: &Turn) -> Vec<(NaiveDate, Topic, Told)> {
    let told = |topic, place, id, what, names| (turn.on, topic, Told { place, said: Said { id, what }, names });
    let mut all = vec![told(Topic::Turn, Place::Animal, turn.id.0, Fact::InCrush, None)];
    // Own words are compared by nobody.
    for found in turn.found.iter().filter(|found| found.what != Finding::OwnWords) {
        let topic = Topic::Finding(found.place, found.what.group());
        all.push(told(topic, found.place, found.id, Fact::Found(found.what, found.degree), None));
    }
    for answer in turn.answers.iter().filter(|answer| answer.verdict.looked()) {
        let topic = Topic::Finding(answer.place, answer.what.group());
        let what = Fact::Answered(answer.what, answer.verdict);
        all.push(told(topic, answer.place, answer.id, what, Some(answer.case.0)));
    }
    for view in &turn.puts {
        all.extend(
            put_on(&view.put).map(|(topic, place)| told(topic, place, view.id.0, Fact::PutOn(view.put.clone()), None)),
        );
    }
    for view in &turn.offs {
        all.extend(
            seen(view.put.as_ref(), view.place, view.outcome)
                .map(|topic| told(topic, view.place, view.id, Fact::Seen(view.outcome), named(view.item))),
        );
    }
    all
}

/// What was put on or seen outside any turn.
fn outside(history: &History) -> impl Iterator<Item = (NaiveDate, Topic, Told)> {
    history.outside.iter().filter_map(|told| {
        let say = |topic, place, what, names| (told.on, topic, Told { place, said: Said { id: told.id, what }, names });
        if let Event::PutOn { put, .. } = &told.event {
            let (topic, place) = put_on(put)?;
            return Some(say(topic, place, Fact::PutOn(put.clone()), None));
        }
        let Event::SeenOff { item, outcome, .. } = &told.event else { return None };
        let (put, place) = match item {
            Item::Known(put) => {
                let put = history.put(*put)?;
                (Some(put), put.place())
            }
            Item::Met(place) => (None, *place),
        };
        Some(say(seen(put, place, *outcome)?, place, Fact::Seen(*outcome), named(*item)))
    })
}

fn put_on(put: &Put) -> Option<(Topic, Place)> {
    Some((thing(put)?, put.place()))
}

fn thing(put: &Put) -> Option<Topic> {
    match put {
        Put::Wrap { over, .. } => over.foot().map(Topic::Wrap),
        Put::Block { foot, side, .. } => Some(Topic::Block(*foot, *side)),
        Put::Dressing { .. } => None,
    }
}

/// What was seen: the thing itself where it is known, else a block under a claw and a wrap round anything else.
fn seen(put: Option<&Put>, place: Place, outcome: Off) -> Option<Topic> {
    if outcome == Off::NotFound {
        return None;
    }
    if let Some(put) = put {
        return thing(put);
    }
    if let Place::Claw(foot, side) = place {
        return Some(Topic::Block(foot, side));
    }
    place.foot().map(Topic::Wrap)
}

fn named(item: Item) -> Option<RecordId> {
    match item {
        Item::Known(put) => Some(put.0),
        Item::Met(_) => None,
    }
}

/// Whether one of them was written with the other in sight.
fn knew(one: &Told, other: &Told) -> bool {
    one.names == Some(other.said.id) || other.names == Some(one.said.id)
}

/// Whether not both can be how it was.
fn contradict(one: &Told, other: &Told) -> bool {
    match (&one.said.what, &other.said.what) {
        (Fact::InCrush, Fact::InCrush) => true,
        (Fact::Found(what, degree), Fact::Found(other_what, other_degree)) => {
            *what != *other_what && is_exact(*what) && is_exact(*other_what) || differ(*degree, *other_degree)
        }
        (Fact::Answered(_, verdict), Fact::Answered(_, other)) => verdict != other,
        (Fact::Found(_, degree), Fact::Answered(_, verdict)) | (Fact::Answered(_, verdict), Fact::Found(_, degree)) => {
            match verdict {
                Verdict::Outcome(_) => verdict.ends(),
                Verdict::Stage(stage) => verdict.ends() || differ(*degree, Degree::Stage(*stage)),
            }
        }
        (Fact::PutOn(_), Fact::Seen(seen)) | (Fact::Seen(seen), Fact::PutOn(_)) => is_off(*seen),
        (Fact::Seen(seen), Fact::Seen(other)) => is_off(*seen) != is_off(*other),
        // Two things on are two things; and the rest speak of different things.
        (
            Fact::InCrush | Fact::Found(..) | Fact::Answered(..) | Fact::PutOn(_) | Fact::Seen(_),
            Fact::InCrush | Fact::Found(..) | Fact::Answered(..) | Fact::PutOn(_) | Fact::Seen(_),
        ) => false,
    }
}

/// Whether a finding is no group that another tablet may have told more exactly.
fn is_exact(what: Finding) -> bool {
    what.row().group.is_some()
}

fn differ(one: Degree, other: Degree) -> bool {
    one != Degree::NotGiven && other != Degree::NotGiven && one != other
}

/// Whether nothing was on when she was let go. What was replaced was on again.
fn is_off(seen: Off) -> bool {
    seen.closes() && seen != Off::Replaced
}

/// Whether the foot was up on a later day, or something was seen on it; for the whole animal, whether she was in the crush
/// again.
fn up_again(history: &History, on: NaiveDate, place: Place) -> bool {
    let Some(foot) = place.foot() else { return history.turns.iter().any(|turn| turn.on > on) };
    let at = Foot::ALL.iter().position(|candidate| *candidate == foot);
    let lifted = |turn: &Turn| at.and_then(|at| turn.looks[at]).is_some_and(|look| look.lifted);
    let seen = |turn: &Turn| of_turn(turn).iter().any(|(_, _, told)| told.place.foot() == Some(foot));
    history.turns.iter().filter(|turn| turn.on > on).any(|turn| lifted(turn) || seen(turn))
}
