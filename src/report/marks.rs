//! What the map is to show of a history: today's findings, last time's that wait, blocks, wraps, how far each foot is.

use crate::claw_map::marks::{ClawMark, Due, FootMark, FootState, LeftOn, Marks, Time, Weight, ZoneMark};
use crate::domain::anatomy::{Foot, Place};
use crate::domain::came_off::on_after;
use crate::domain::case::{Case, Change, Changed};
use crate::domain::finding::{Degree, Finding, Grade, Stage};
use crate::domain::follow_up::rules::Rules;
use crate::domain::follow_up::{Urgency, due};
use crate::domain::history::course::State;
use crate::domain::history::open::{Open, OpenItem};
use crate::domain::history::{Found, History, Turn};
use crate::domain::sign_off;
use crate::domain::treatment::Put;
use crate::domain::vocabulary::Vocabulary;
use crate::report::words::Words;
use chrono::NaiveDate;

/// A turn under way: its findings over the ghosts of last time, with everything that is on the feet today.
pub fn under_way(
    history: &History,
    turn: &Turn,
    rules: &Rules,
    today: NaiveDate,
    hand: Option<Foot>,
    words: Words,
) -> Marks {
    let mut marks = Marks { names: words.on_map(), ..Marks::default() };
    let window = rules.window(history.farm);
    found(&mut marks, &turn.found);
    answered(&mut marks, history, turn, window);
    for course in sign_off::unanswered(history, turn) {
        ghost(&mut marks, course.place, course.carried().within(window));
    }
    on_the_feet(&mut marks, history, rules, today);
    feet(&mut marks, turn, hand);
    marks
}

/// An earlier turn as it left her: what it found and what was there before, and what was put on then, without an age.
pub fn as_it_was(history: &History, turn: &Turn, window: u16, words: Words) -> Marks {
    let mut marks = Marks { names: words.on_map(), ..Marks::default() };
    for (case, state) in history.left_by(turn.id, window) {
        // What that turn did not look at was a ghost then.
        let looked = case.steps.iter().any(|step| step.turn == turn.id && step.looked());
        let time = if looked { Time::Today } else { Time::LastTime };
        stand(&mut marks, mark(case.place, state.what, state.degree, time));
    }
    for view in on_after(history, turn) {
        left_on(&mut marks, &view.put, LeftOn { days: None, due: Due::Coming });
    }
    feet(&mut marks, turn, None);
    marks
}

/// Now, against an earlier turn: each mark with the sign of what became of it, and what is on the feet today.
pub fn changed(
    history: &History,
    turn: &Turn,
    changes: &[Changed],
    (rules, today): (&Rules, NaiveDate),
    words: Words,
) -> Marks {
    let mut marks = Marks { names: words.on_map(), ..Marks::default() };
    for one in changes {
        // Small letters wait for today's answer, whatever an earlier look said.
        let seen = one.case.steps.iter().any(|step| step.turn == turn.id && step.looked());
        let time = if seen || one.change == Change::Healed { Time::Today } else { Time::LastTime };
        stand(&mut marks, with_change(one, time));
    }
    on_the_feet(&mut marks, history, rules, today);
    feet(&mut marks, turn, None);
    marks
}

fn with_change(one: &Changed, time: Time) -> ZoneMark {
    let Changed { case, change, .. } = one;
    let degree = if *change == Change::Healed { case.worst() } else { case.degree };
    ZoneMark { change: Some(*change), ..mark(case.place, case.what, degree, time) }
}

/// What is known of an animal with no turn under way: open cases as they were last seen, and what is on the feet today.
pub fn standing(history: &History, rules: &Rules, today: NaiveDate, words: Words) -> Marks {
    let mut marks = Marks { names: words.on_map(), ..Marks::default() };
    for course in history.open_courses() {
        ghost(&mut marks, course.place, course.carried().within(rules.window(history.farm)));
    }
    on_the_feet(&mut marks, history, rules, today);
    if let Some(turn) = history.turns.last() {
        feet(&mut marks, turn, None);
    }
    marks
}

/// An animal on a list: what is open about her, and nothing that would have to be read for it.
pub fn listed(open: &Open, rules: &Rules, today: NaiveDate, words: Words) -> Marks {
    let mut marks = Marks { names: words.on_map(), ..Marks::default() };
    marks.feet.iter_mut().for_each(|foot| foot.state = FootState::NotTold);
    for item in &open.items {
        match item {
            OpenItem::On { what, .. } => left_on(&mut marks, what, on_since(open, item, rules, today)),
            OpenItem::Recheck { place, told, .. } => {
                ghost(&mut marks, *place, told.within(rules.window(Some(open.farm))))
            }
            OpenItem::LookSoon { .. }
            | OpenItem::SetByHand { .. }
            | OpenItem::Lame { .. }
            | OpenItem::Withheld { .. }
            | OpenItem::Vet { .. } => {}
        }
    }
    marks
}

fn found(marks: &mut Marks, findings: &[Found]) {
    for one in findings {
        stand(marks, mark(one.place, one.what, one.degree, Time::Today));
    }
}

/// The worse of two stands on the map, with a count; what has healed gives way to what is there.
fn stand(marks: &mut Marks, mark: ZoneMark) {
    let rank = |mark: &ZoneMark| (mark.tone().is_some(), mark.weight);
    match marks.zones.iter_mut().find(|known| known.place == mark.place) {
        Some(known) => {
            let more = known.more + 1;
            if rank(&mark) > rank(known) {
                *known = mark;
            }
            known.more = more;
        }
        None => marks.zones.push(mark),
    }
}

/// What was there before and this turn answered: it is there still, with the sign of the answer.
fn answered(marks: &mut Marks, history: &History, turn: &Turn, window: u16) {
    let Some(before) = history.last_turn(Some(turn.id)) else { return };
    let found = |case: &Case| case.steps.iter().any(|step| step.turn == turn.id && step.is_finding());
    for one in history.changes(before.id, window) {
        let here = one.case.steps.iter().any(|step| step.turn == turn.id);
        match one.change {
            Change::Better | Change::Worse | Change::Same if here && !found(&one.case) => {
                stand(marks, with_change(&one, Time::Today));
            }
            Change::NotSeen if here => stand(marks, with_change(&one, Time::LastTime)),
            Change::New | Change::Healed | Change::Better | Change::Worse | Change::Same | Change::NotSeen => {}
        }
    }
}

fn ghost(marks: &mut Marks, place: Place, State { what, degree, .. }: State) {
    match marks.zones.iter_mut().find(|known| known.place == place) {
        Some(known) => match known.time {
            Time::Today | Time::Both => known.time = Time::Both,
            Time::LastTime => known.more += 1,
        },
        None => marks.zones.push(mark(place, what, degree, Time::LastTime)),
    }
}

fn mark(place: Place, what: Finding, degree: Degree, time: Time) -> ZoneMark {
    let (code, staged) = code(what, degree);
    let group = match what {
        Finding::ForeignBody | Finding::OwnWords => code,
        what => what.group().word(),
    };
    ZoneMark {
        place,
        code: code.to_owned(),
        group: if staged { code.to_owned() } else { group.to_owned() },
        weight: weight(degree),
        staged,
        time,
        change: None,
        more: 0,
    }
}

/// A finding's code on the map, and whether it is a stage, which says how bad it is.
pub fn code(what: Finding, degree: Degree) -> (&'static str, bool) {
    match (degree, what) {
        (Degree::Stage(stage), _) => (stage.word(), true),
        (Degree::NotGiven | Degree::Grade(_), Finding::ForeignBody) => ("FB", false),
        (Degree::NotGiven | Degree::Grade(_), Finding::OwnWords) => ("*", false),
        (Degree::NotGiven | Degree::Grade(_), what) => (what.word(), false),
    }
}

/// How loud a grade or stage is shown.
pub fn weight(degree: Degree) -> Weight {
    match degree {
        Degree::NotGiven => Weight::Untold,
        Degree::Grade(Grade::Light) => Weight::Light,
        Degree::Grade(Grade::Moderate) => Weight::Moderate,
        Degree::Grade(Grade::Severe) => Weight::Severe,
        Degree::Stage(Stage::M0 | Stage::M3) => Weight::Light,
        Degree::Stage(Stage::M1 | Stage::M4 | Stage::M41) => Weight::Moderate,
        Degree::Stage(Stage::M2) => Weight::Severe,
    }
}

fn on_the_feet(marks: &mut Marks, history: &History, rules: &Rules, today: NaiveDate) {
    let open = Open::of(history);
    for item in &history.open {
        if let OpenItem::On { what, .. } = item {
            left_on(marks, what, on_since(&open, item, rules, today));
        }
    }
    for (foot, side) in &history.claws_gone {
        marks.claw_mut(*foot, *side).gone = true;
    }
}

/// How long something is on, and how near its day is.
fn on_since(open: &Open, item: &OpenItem, rules: &Rules, today: NaiveDate) -> LeftOn {
    let days = match item {
        // A day still to come, by a clock set wrong, counts as today.
        OpenItem::On { since, .. } => Some(u32::try_from((today - *since).num_days()).unwrap_or(0)),
        OpenItem::LookSoon { .. }
        | OpenItem::Recheck { .. }
        | OpenItem::SetByHand { .. }
        | OpenItem::Lame { .. }
        | OpenItem::Withheld { .. }
        | OpenItem::Vet { .. } => None,
    };
    let due = due(open, item, rules, today).map_or(Due::Coming, |due| match due.urgency {
        Urgency::Coming => Due::Coming,
        Urgency::Due => Due::Due,
        Urgency::Late => Due::Late,
        Urgency::Urgent => Due::Urgent,
    });
    LeftOn { days, due }
}

fn left_on(marks: &mut Marks, what: &Put, left: LeftOn) {
    match what {
        Put::Block { foot, side, .. } => {
            let claw: &mut ClawMark = marks.claw_mut(*foot, *side);
            claw.block = Some(claw.block.map_or(left, |known| if known.due > left.due { known } else { left }));
        }
        Put::Wrap { over, .. } => {
            if let Some(foot) = over.foot() {
                let mark: &mut FootMark = marks.foot_mut(foot);
                mark.wrap = Some(mark.wrap.map_or(left, |known| if known.due > left.due { known } else { left }));
            }
        }
        Put::Dressing { .. } => {}
    }
}

fn feet(marks: &mut Marks, turn: &Turn, hand: Option<Foot>) {
    for (foot, look) in Foot::ALL.iter().zip(turn.looks) {
        // What was there before and was answered is there today too.
        let here = |mark: &&ZoneMark| mark.place.foot() == Some(*foot) && mark.tone().is_some();
        let count = marks.zones.iter().filter(here).map(|mark| 1 + mark.more).sum();
        let old = |mark: &&ZoneMark| mark.place.foot() == Some(*foot) && mark.time == Time::LastTime;
        let waiting = marks.zones.iter().filter(old).map(|mark| 1 + mark.more).sum();
        marks.foot_mut(*foot).state = match look {
            _ if hand == Some(*foot) => FootState::InHand(count),
            // Lifted is not looked at: an animal that got away was, too.
            Some(look) if !(look.all_seen || look.trimmed) && count == 0 => FootState::NotLookedAt,
            Some(look) if look.lifted && count == 0 && waiting > 0 => FootState::LeftOpen(waiting),
            Some(look) if look.lifted && count == 0 => FootState::NothingFound,
            Some(look) if look.lifted => FootState::Done(count),
            Some(_) | None if count > 0 => FootState::Begun(count),
            Some(_) | None => FootState::NotLookedAt,
        };
    }
}
