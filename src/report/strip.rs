//! The strip in characters: one column a turn, one row a foot; the newest turns where not all have room.

use crate::claw_map::marks::Weight;
use crate::domain::anatomy::Foot;
use crate::domain::strip::{Cell, Column};
use crate::domain::treatment::Gait;
use crate::domain::vocabulary::Vocabulary;
use crate::report::marks::{code, weight};
use crate::report::words::{Term, Words};
use chrono::{Datelike, NaiveDate};

/// Columns of the narrowest turn: a day and a month.
const NARROWEST: usize = 6;

/// What the signs of a cell mean, in pieces that stay whole; grades as on the map.
const LEGEND: [&str; 2] = ["- not looked at  . nothing found  su? left open  +1 more", "on: # block, / {wrap}"];

/// Writes the strip in so many columns; the first line says how many turns it shows, the last what its signs mean.
pub fn lines(turns: &[Column], columns: usize, words: Words) -> Vec<String> {
    let gait = words.term(Term::Gait);
    let feet = Foot::ALL.iter().map(|foot| words.foot(*foot).len());
    let head = feet.chain([gait.len()]).max().unwrap_or(0) + 1;
    let texts: Vec<[String; 4]> = turns.iter().map(|turn| std::array::from_fn(|at| cell(&turn.feet[at]))).collect();
    let widest = texts.iter().flatten().map(String::len).max().unwrap_or(0);
    let width = widest.max(NARROWEST) + 1;
    let room = (columns.saturating_sub(head) / width).max(1);
    let first = turns.len().saturating_sub(room);
    let (turns, texts) = (&turns[first..], &texts[first..]);
    let row = |name: &str, cells: &mut dyn Iterator<Item = String>| {
        let cells: String = cells.map(|text| format!("{text:width$}")).collect();
        format!("{name:head$}{cells}").trim_end().to_owned()
    };
    let mut lines = vec![match first {
        0 => format!("{} turns, the newest last", turns.len()),
        more => format!("the newest {} of {} turns, {more} earlier left out", turns.len(), turns.len() + more),
    }];
    lines.push(row("", &mut turns.iter().map(|turn| turn.on.format("%-d %b").to_string())));
    lines.push(row("", &mut years(turns).into_iter()));
    for (at, foot) in Foot::ALL.iter().enumerate() {
        lines.push(row(words.foot(*foot), &mut texts.iter().map(|cells| cells[at].clone())));
    }
    if turns.iter().any(|turn| turn.gait.is_some()) {
        lines.push(row(gait, &mut turns.iter().map(|turn| turn.gait.map_or(String::new(), score))));
    }
    let legend = LEGEND.map(|piece| words.fill(piece));
    match legend.join("  ") {
        whole if whole.len() <= columns => lines.push(whole),
        _ => lines.extend(legend),
    }
    lines
}

/// The year where it is another than that of the turn before.
fn years(turns: &[Column]) -> Vec<String> {
    let year = |day: NaiveDate| day.year();
    let mut before = None;
    turns
        .iter()
        .map(|turn| {
            let now = Some(year(turn.on));
            let told = if now == before { String::new() } else { turn.on.format("%Y").to_string() };
            before = now;
            told
        })
        .collect()
}

/// A score with the top of its scale, since scales are never mixed: `2/3`, `4/5`.
fn score(gait: Gait) -> String {
    format!("{}/{}", gait.score, gait.scale.range().end())
}

fn cell(cell: &Cell) -> String {
    let mut text = match cell.worst {
        Some((what, degree)) => {
            let (code, staged) = code(what, degree);
            let sign = if staged { Weight::Untold } else { weight(degree) }.sign();
            format!("{code}{sign}")
        }
        None if cell.healed > 0 => "healed".to_owned(),
        // Small letters and a question, as on the map: nobody answered it.
        None if cell.looked && cell.waiting.is_some() => {
            cell.waiting.map_or(String::new(), |(what, degree)| format!("{}?", code(what, degree).0.to_lowercase()))
        }
        None if cell.looked => ".".to_owned(),
        None => "-".to_owned(),
    };
    if cell.more > 0 {
        text.push_str(&format!("+{}", cell.more));
    }
    text.push_str(if cell.block { "#" } else { "" });
    text.push_str(if cell.wrap { "/" } else { "" });
    text
}
