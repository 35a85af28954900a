//! What is told on a sheet against what is known: what cannot be so is refused, as the screens and the commands refuse it; what is only odd
//! is said. What is in the book already is not asked about again.

use super::super::event::Event;
use super::super::her_days::wrong;
use super::super::herd::Leaving;
use super::super::herd_list::Row;
use super::super::herd_list::doubt::{What, doubts};
use super::super::history::History;
use super::transcribe::{Snag, SnagWhy};
use super::{Line, Told};
use chrono::NaiveDate;

/// Whether what is told of an animal can be so on that day.
///
/// # Errors
/// A call about one who has left, a day that cannot be hers.
pub fn can_be(event: &Event, history: &History, on: NaiveDate) -> Result<(), Snag> {
    let refused = |why| Err(Snag { fact: 0, why });
    if let (Event::FarmCalled { .. }, Some((how, day))) = (event, history.left) {
        return refused(SnagWhy::HasLeft(how, day));
    }
    if let Event::Described { herd, .. } = event
        && let Some((column, why)) = wrong(herd, &history.herd, on).first()
    {
        return refused(SnagWhy::NoDay(*column, *why));
    }
    Ok(())
}

/// What is doubtful about something told of an animal on that day: that of it which it says anew, in the words of a herd list.
pub fn doubtful(event: &Event, history: &History, on: NaiveDate) -> Vec<(String, What)> {
    let known = Row { line: 0, labels: history.labels.clone(), herd: history.herd.clone() };
    let mut now = known.clone();
    if let Event::Renumbered { labels, .. } = event {
        now.labels.clone_from(labels);
    }
    if let Event::Described { herd, .. } = event {
        now.herd.hear(herd);
    }
    let before = doubts(&known, on);
    let new = doubts(&now, on).into_iter().filter(|doubt| !before.contains(doubt));
    new.map(|doubt| (doubt.value, doubt.what)).collect()
}

/// Of an animal whom sheets tell of outside the crush and never have in it: by what alone they know her, where it says that she was known
/// before. What a herd list may tell of a new one says nothing of that kind.
pub fn only_by<'l>(lines: impl Iterator<Item = &'l Line>, called: &str) -> Option<&'static str> {
    let is_hers = |line: &&Line| line.animal().is_some_and(|animal| animal.trim() == called.trim());
    let hers: Vec<&Line> = lines.filter(is_hers).collect();
    let mut words = Vec::new();
    for line in &hers {
        if let Line::Animal { told, .. } = line {
            words.push(known_before(told));
        }
    }
    let told = words.iter().flatten().next().filter(|_| words.len() == hers.len())?;
    Some(if words.len() == 1 { told } else { "what is told here" })
}

/// What is told of one who was known before, as it ends "known only by".
fn known_before(told: &Told) -> Option<&'static str> {
    match told {
        Told::Left { why: Leaving::Gone, .. } => Some("being gone"),
        Told::Left { why: Leaving::Sold, .. } => Some("being sold"),
        Told::Left { why: Leaving::Died, .. } => Some("having died"),
        Told::Left { why: Leaving::Slaughter, .. } => Some("going to slaughter"),
        Told::Back(_) => Some("being back"),
        Told::Label { .. } => Some("what she is called now"),
        Told::Cull => Some("being culled"),
        Told::ClawGone(_, _) => Some("a claw that is gone"),
        Told::Called { .. } => Some("a call"),
        Told::Word { .. } | Told::VetAnswered { .. } => Some("word of what is on her"),
        Told::Kicks(_)
        | Told::Dry(_)
        | Told::Calved(_)
        | Told::DueToCalve(_)
        | Told::Lactation(_)
        | Told::Group(_)
        | Told::Fact(_) => None,
    }
}
