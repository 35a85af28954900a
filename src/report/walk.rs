//! A scoring walk in words: how many were given which score, who is lame, who was not scored yet.

use crate::domain::treatment::{Gait, GaitScale};
use crate::domain::vocabulary::Vocabulary;
use crate::domain::walk::{Count, Walk, Walker};
use crate::report::due::called;
use crate::report::words::{day, weekday};
use chrono::{Datelike, NaiveDate};

/// What those are called that bear neither number nor name.
pub const NO_NUMBER: &str = "no number";

/// How many were scored of how many: `12 of 51 scored`.
pub fn head(walk: &Walk) -> String {
    format!("{} of {} scored", walk.scored().count(), walk.walkers.len())
}

/// One score and how many were given it, in columns: `score 2    5    12 %`; the scale where several were used.
pub fn count(count: &Count, several: bool) -> String {
    let scale = if several { format!(" of {}", count.gait.scale.word()) } else { String::new() };
    format!("score {}{scale} {:>4} {:>4} %", count.gait.score, count.animals, count.percent)
}

/// Every score and how many were given it.
pub fn counts(walk: &Walk, scale: GaitScale) -> Vec<String> {
    let counts = walk.counts(scale);
    let several = counts.iter().any(|one| one.gait.scale != scale);
    counts.iter().map(|one| count(one, several)).collect()
}

/// What the shares are of, where so few were scored that they are not the herd's.
pub fn part(walk: &Walk) -> Option<&'static str> {
    let some = walk.scored().next().is_some();
    (some && walk.is_part()).then_some("shares of those scored, not of the herd")
}

/// What she is called.
pub fn name(walker: &Walker) -> String {
    Some(called(&walker.labels)).filter(|name| !name.is_empty()).unwrap_or_else(|| NO_NUMBER.to_owned())
}

/// Her score before: `was 1, 30 Apr`; the scale where it is another, the year where it is.
pub fn was(before: Option<(NaiveDate, Gait)>, scale: GaitScale, today: NaiveDate) -> String {
    let Some((on, gait)) = before else { return "first score".to_owned() };
    let on = if on.year() == today.year() { on.format("%-d %b").to_string() } else { day(on) };
    let other = if gait.scale == scale { String::new() } else { format!(" on {}", gait.scale.word()) };
    format!("was {}{other}, {on}", gait.score)
}

/// How lame a score is, where it is.
pub fn lame(gait: Gait) -> Option<&'static str> {
    match (gait.scale.is_severe(gait.score), gait.scale.is_lame(gait.score)) {
        (true, _) => Some("VERY LAME"),
        (false, true) => Some("LAME"),
        (false, false) => None,
    }
}

/// A lame one: `3 VERY LAME  1402 Hyssop, was 1, 30 Apr, look by FRI 1 May`.
pub fn lame_line(walker: &Walker, today: NaiveDate) -> Option<String> {
    let gait = walker.score?;
    let look = walker.look_by.map_or(String::new(), |by| format!(", look by {}", weekday(by)));
    let how = lame(gait)?;
    Some(format!("{} {how}  {}, {}{look}", gait.score, name(walker), was(walker.before, gait.scale, today)))
}

/// Numbers side by side, two blanks between them, as many lines as that takes.
pub fn flowed(names: impl Iterator<Item = String>, columns: usize) -> Vec<String> {
    use unicode_width::UnicodeWidthStr;
    let mut lines: Vec<String> = Vec::new();
    for name in names {
        match lines.last_mut() {
            Some(line) if line.width() + 2 + name.width() <= columns => {
                line.push_str("  ");
                line.push_str(&name);
            }
            Some(_) | None => lines.push(name),
        }
    }
    lines
}

/// What one of those not scored is called in few letters: her number, else her name.
pub fn short(walker: &Walker) -> String {
    let labels = &walker.labels;
    let told =
        [&labels.number, &labels.name, &labels.tag, &labels.electronic].into_iter().find(|text| !text.is_empty());
    told.map_or(NO_NUMBER.to_owned(), |text| crate::report::safe::safe(text))
}

/// A walk on paper.
pub fn text(walk: &Walk, farm: &str, scale: GaitScale, on: NaiveDate) -> String {
    /// Columns of a printed line.
    const COLUMNS: usize = 78;
    let mut lines =
        vec![format!("{}, {} {}: {}", crate::report::safe::safe(farm), weekday(on), on.format("%Y"), head(walk))];
    lines.extend(counts(walk, scale).into_iter().map(|line| format!("  {line}")));
    lines.extend(part(walk).map(|line| format!("  {line}")));
    let lame = walk.lame();
    if !lame.is_empty() {
        lines.extend([String::new(), format!("{} lame", lame.len())]);
        lines.extend(lame.into_iter().filter_map(|walker| lame_line(walker, on)).map(|line| format!("  {line}")));
    }
    for (milked, heading) in [(true, "not scored"), (false, "not scored; dry, heifers, bulls")] {
        let left: Vec<&Walker> = walk.unscored().into_iter().filter(|walker| walker.milked == milked).collect();
        if !left.is_empty() {
            lines.extend([String::new(), format!("{} {heading}", left.len())]);
            lines.extend(flowed(left.into_iter().map(short), COLUMNS).into_iter().map(|line| format!("  {line}")));
        }
    }
    lines.iter().map(|line| format!("{}\n", line.trim_end())).collect()
}
