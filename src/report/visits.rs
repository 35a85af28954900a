//! Where and when, in columns.

use crate::domain::visit_log::Visit;
use crate::report::safe::{in_columns, safe};
use crate::report::visit::{self, NOT_TOLD};
use crate::report::words;
use chrono::NaiveTime;

/// A visit with all that its line says.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Line {
    /// The farm.
    pub farm: String,
    /// Its address; empty where nobody told it.
    pub address: String,
    /// Who recorded in the visit, in the order of their first records; empty where nobody was named.
    pub by: Vec<String>,
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
    let heads = ["day", "farm", "visit", "from", "to", "by", "animals", "done", "cleaned"].map(str::to_owned);
    in_columns(
        &std::iter::once(heads.to_vec()).chain(lines.iter().map(|line| cells(line).to_vec())).collect::<Vec<_>>(),
    )
}

fn cells(line: &Line) -> [String; 9] {
    let time = |time: Option<NaiveTime>| time.map_or(String::new(), |time| time.format("%H:%M").to_string());
    let visit = &line.visit;
    let day = format!("{} {}", words::weekday(visit.on), visit.on.format("%Y"));
    let place = [&line.farm, &line.address].map(|text| safe(text));
    [
        if visit.last() > visit.on { format!("{day} to {}", words::weekday(visit.last())) } else { day },
        place.into_iter().filter(|text| !text.is_empty()).collect::<Vec<_>>().join(", "),
        what(visit),
        time(visit.from),
        time(visit.to),
        safe(&line.by.join(", ")),
        line.animals.to_string(),
        line.signed.to_string(),
        cleaned(visit),
    ]
}

/// Why it was made, and what else was told of it.
fn what(visit: &Visit) -> String {
    let aside = visit.set_aside().map(|_| "set aside".to_owned());
    std::iter::once(visit::kind(visit)).chain(aside).collect::<Vec<_>>().join(", ")
}

/// When it was washed before and after.
fn cleaned(visit: &Visit) -> String {
    match (visit.cleaned_before, visit.cleaned_after) {
        (None, None) => NOT_TOLD.to_owned(),
        (before, after) => {
            let [before, after] = [before, after].map(|told| visit::cleaned(visit, told));
            format!("before {before}, after {after}")
        }
    }
}
