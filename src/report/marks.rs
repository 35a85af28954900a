//! What the map is to show of a history: today's findings, last time's that wait, blocks, wraps, how far each foot is.

use crate::claw_map::marks::{ClawMark, Due, FootMark, FootState, LeftOn, Marks, Time, Weight, ZoneMark};
use crate::domain::anatomy::{Foot, Place};
use crate::domain::finding::{Degree, Finding, Grade, Stage};
use crate::domain::follow_up::rules::Rules;
use crate::domain::follow_up::{Urgency, due};
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
    found(&mut marks, &turn.found);
    for case in sign_off::unanswered(history, turn) {
        ghost(&mut marks, case.place, case.what, case.degree);
    }
    on_the_feet(&mut marks, history, rules, today);
    feet(&mut marks, turn, hand);
    marks
}

/// An earlier turn as it was: its findings, and what was put on then, without an age.
pub fn as_it_was(turn: &Turn, words: Words) -> Marks {
    let mut marks = Marks { names: words.on_map(), ..Marks::default() };
    found(&mut marks, &turn.found);
    let new = LeftOn { days: None, due: Due::Coming };
    for view in &turn.puts {
        left_on(&mut marks, &view.put, new);
    }
    feet(&mut marks, turn, None);
    marks
}

/// What is known of an animal with no turn under way: open cases as they were last seen, and what is on the feet today.
pub fn standing(history: &History, rules: &Rules, today: NaiveDate, words: Words) -> Marks {
    let mut marks = Marks { names: words.on_map(), ..Marks::default() };
    for case in history.open_cases() {
        ghost(&mut marks, case.place, case.what, case.degree);
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
            OpenItem::Recheck { place, what, degree, .. } => ghost(&mut marks, *place, *what, *degree),
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
        let mark = mark(one.place, one.what, one.degree, Time::Today);
        match marks.zones.iter_mut().find(|known| known.place == one.place) {
            // The worse of two stands on the map, with a count.
            Some(known) => {
                let more = known.more + 1;
                if mark.weight > known.weight {
                    *known = mark;
                }
                known.more = more;
            }
            None => marks.zones.push(mark),
        }
    }
}

fn ghost(marks: &mut Marks, place: Place, what: Finding, degree: Degree) {
    match marks.zones.iter_mut().find(|known| known.place == place) {
        Some(known) => match known.time {
            Time::Today | Time::Both => known.time = Time::Both,
            Time::LastTime => known.more += 1,
        },
        None => marks.zones.push(mark(place, what, degree, Time::LastTime)),
    }
}

fn mark(place: Place, what: Finding, degree: Degree, time: Time) -> ZoneMark {
    let stage = match degree {
        Degree::Stage(stage) => Some(stage),
        Degree::NotGiven | Degree::Grade(_) => None,
    };
    let code = match (stage, what) {
        (Some(stage), _) => stage.word(),
        (None, Finding::ForeignBody) => "FB",
        (None, Finding::OwnWords) => "*",
        (None, what) => what.word(),
    };
    let group = match what {
        Finding::ForeignBody | Finding::OwnWords => code,
        what => what.group().word(),
    };
    ZoneMark {
        place,
        code: code.to_owned(),
        group: if stage.is_some() { code.to_owned() } else { group.to_owned() },
        weight: weight(degree),
        staged: stage.is_some(),
        time,
        more: 0,
    }
}

fn weight(degree: Degree) -> Weight {
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
        let count = turn.found.iter().filter(|found| found.place.foot() == Some(*foot)).count();
        marks.foot_mut(*foot).state = match look {
            _ if hand == Some(*foot) => FootState::InHand(count),
            Some(look) if look.lifted && count == 0 => FootState::NothingFound,
            Some(look) if look.lifted => FootState::Done(count),
            Some(_) | None if count > 0 => FootState::Done(count),
            Some(_) | None => FootState::NotLookedAt,
        };
    }
}
