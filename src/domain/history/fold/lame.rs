//! Lame by her score, and what was done about it.

use super::super::open::OpenItem;
use super::super::{Answer, History, Turn};
use crate::domain::event::Event;
use crate::domain::ids::RecordId;
use crate::domain::treatment::Gait;
use chrono::NaiveDate;

/// The open item of an animal whose last score was lame; none where it was not. Scales are never converted: each score is
/// judged on its own.
pub(super) fn item(history: &History) -> Option<OpenItem> {
    let run: Vec<Scored> =
        scores(history).into_iter().rev().take_while(|one| one.gait.scale.is_lame(one.gait.score)).collect();
    let (newest, first) = (*run.first()?, *run.last()?);
    let severe = run.iter().take_while(|one| one.gait.scale.is_severe(one.gait.score)).last();
    let since = history.turns.get(first.turns..).unwrap_or_default();
    let lifted = |turn: &&Turn| turn.looks.iter().flatten().any(|look| look.lifted);
    let found = since.iter().rfind(lifted).is_some_and(|turn| !turn.found.is_empty());
    let up = |foot: usize| since.iter().any(|turn| turn.looks[foot].is_some_and(|look| look.lifted));
    // With one foot up and nothing in it, the others are still to be looked at.
    let all_up = (0..4).all(up);
    // What was there before explains it where somebody has looked at it since: one that nobody answered says nothing of today.
    let is_open = |answer: &Answer| history.open_courses().any(|course| course.id == answer.case);
    let answered = since.iter().any(|turn| turn.answers.iter().any(is_open));
    let known = found || answered;
    Some(OpenItem::Lame {
        of: first.id,
        since: first.on,
        last: newest.on,
        gait: newest.gait,
        severe_since: severe.map(|one| one.on),
        looked: known || all_up,
        sound: all_up && !known,
    })
}

/// A score.
#[derive(Clone, Copy)]
struct Scored {
    on: NaiveDate,
    id: RecordId,
    gait: Gait,
    /// The first of her turns in which her feet may have been looked at for it.
    turns: usize,
}

/// Every score she was given, in the crush and outside it, by day.
fn scores(history: &History) -> Vec<Scored> {
    let of_turn = |(turns, turn): (usize, &Turn)| {
        turn.gaits.iter().map(|(id, gait)| Scored { on: turn.on, id: *id, gait: *gait, turns }).collect::<Vec<_>>()
    };
    let outside = history.outside.iter().filter_map(|told| {
        if let Event::Walked { gait, .. } = &told.event {
            Some(Scored { on: told.on, id: told.id, gait: *gait, turns: told.turns })
        } else {
            None
        }
    });
    let mut scores: Vec<Scored> = history.turns.iter().enumerate().flat_map(of_turn).chain(outside).collect();
    scores.sort_by_key(|one| (one.on, one.id));
    scores
}
