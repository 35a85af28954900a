//! Where and when, in columns.

use crate::domain::visit_log::Visit;
use crate::domain::vocabulary::Vocabulary;
use crate::report::safe::{in_columns, safe};
use crate::report::words;
use chrono::NaiveTime;

/// A visit with all that its line says.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Line {
    /// The farm.
    pub farm: String,
    /// Its address; empty where nobody told it.
    pub address: String,
    /// Who began the visit; empty where nobody was named.
    pub by: String,
    /// The visit.
    pub visit: Visit,
    /// Animals that came.
    pub animals: usize,
    /// Of them, those signed off.
    pub signed: usize,
}

/// One line a visit, in columns.
pub fn text(lines: &[Line]) -> String {
    if lines.is_empty() {
        return "No visit is in this book up to that day.\n".to_owned();
    }
    let heads = ["day", "farm", "visit", "from", "to", "by", "animals", "done"].map(str::to_owned);
    in_columns(
        &std::iter::once(heads.to_vec()).chain(lines.iter().map(|line| cells(line).to_vec())).collect::<Vec<_>>(),
    )
}

fn cells(line: &Line) -> [String; 8] {
    let time = |time: Option<NaiveTime>| time.map_or(String::new(), |time| time.format("%H:%M").to_string());
    let Visit { on, why, from, to, .. } = line.visit;
    let place = [&line.farm, &line.address].map(|text| safe(text));
    [
        format!("{} {}", words::weekday(on), on.format("%Y")),
        place.into_iter().filter(|text| !text.is_empty()).collect::<Vec<_>>().join(", "),
        why.word().to_owned(),
        time(from),
        time(to),
        safe(&line.by),
        line.animals.to_string(),
        line.signed.to_string(),
    ]
}
