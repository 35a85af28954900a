//! Lame by her score, and what was done about it.

use super::super::History;
use super::super::open::OpenItem;
use crate::domain::event::Event;
use crate::domain::ids::RecordId;
use crate::domain::treatment::Gait;
use chrono::NaiveDate;

/// The open item of an animal whose last score was lame; none where it was not. Scales are never converted: each score is
/// judged on its own.
pub(super) fn item(history: &History) -> Option<OpenItem> {
    let run: Vec<(NaiveDate, RecordId, Gait)> =
        scores(history).into_iter().rev().take_while(|(_, _, gait)| gait.scale.is_lame(gait.score)).collect();
    let (last, _, gait) = *run.first()?;
    let (since, of, _) = *run.last()?;
    let severe = run.iter().take_while(|(_, _, gait)| gait.scale.is_severe(gait.score)).last();
    let lifted = |turn: &&super::super::Turn| turn.on >= since && turn.looks.iter().flatten().any(|look| look.lifted);
    let looked = history.turns.iter().rev().find(lifted);
    let sound = looked.is_some_and(|turn| turn.found.is_empty()) && history.open_courses().next().is_none();
    Some(OpenItem::Lame {
        of,
        since,
        last,
        gait,
        severe_since: severe.map(|(day, _, _)| *day),
        looked: looked.is_some(),
        sound,
    })
}

/// Every score she was given, in the crush and outside it, by day.
fn scores(history: &History) -> Vec<(NaiveDate, RecordId, Gait)> {
    let in_turns = history.turns.iter().flat_map(|turn| turn.gaits.iter().map(|(id, gait)| (turn.on, *id, *gait)));
    let outside = history.outside.iter().filter_map(|told| {
        if let Event::Walked { gait, .. } = &told.event { Some((told.on, told.id, *gait)) } else { None }
    });
    let mut scores: Vec<(NaiveDate, RecordId, Gait)> = in_turns.chain(outside).collect();
    scores.sort_by_key(|(day, id, _)| (*day, *id));
    scores
}
