//! What a herd list would change, as text: everything by name, before anything is written.

use crate::domain::flood;
use crate::domain::herd_list::Row;
use crate::domain::herd_list::column::Column;
use crate::domain::herd_list::compare::Preview;
use crate::domain::ids::AnimalId;
use crate::domain::vocabulary::Vocabulary;
use crate::report::due::called;
use crate::report::safe::safe;
use crate::report::words;
use chrono::NaiveDate;
use std::collections::BTreeMap;

/// A list against a farm.
pub struct Told<'t> {
    /// The list's name.
    pub list: &'t str,
    /// The farm's name.
    pub farm: &'t str,
    /// The day.
    pub today: NaiveDate,
    /// Its columns, and the names of those that are not known.
    pub columns: (&'t [Column], &'t [String]),
    /// What it would change.
    pub preview: &'t Preview,
    /// What each animal of the farm is called.
    pub called: &'t BTreeMap<AnimalId, String>,
    /// What is on those that are missing, in words.
    pub on: &'t BTreeMap<AnimalId, Vec<String>>,
    /// Every bad row: line, column, value, why.
    pub bad: &'t [String],
    /// Every doubtful cell.
    pub doubts: &'t [String],
}

impl Told<'_> {
    /// How much of what there is: `1 new, 2 changed, 40 as they are, 1 missing, 3 bad rows`.
    pub fn counts(&self) -> String {
        let Preview { new, changed, same, missing, .. } = self.preview;
        let counts = [
            (new.len(), "new"),
            (changed.len(), "changed"),
            (*same, "as the list says"),
            (missing.len(), "missing from it"),
            (self.bad.len(), if self.bad.len() == 1 { "bad cell" } else { "bad cells" }),
        ];
        let told = counts.iter().filter(|(count, _)| *count > 0).map(|(count, what)| format!("{count} {what}"));
        let told: Vec<String> = told.collect();
        if told.is_empty() { "no animal stands in it".to_owned() } else { told.join(", ") }
    }

    /// The whole of it.
    pub fn text(&self) -> String {
        let head = format!(
            "{}{} against {} on {}:\n{}\n",
            self.numberless(),
            safe(self.list),
            safe(self.farm),
            words::day(self.today),
            self.counts()
        );
        let parts = [
            part("NEW", &self.newcomers()),
            part("CHANGED", &self.changed()),
            part("BAD, AND NOT TAKEN", &flood::told(self.bad)),
            part("DOUBTFUL, AND TAKEN ALL THE SAME", self.doubts),
            part("MISSING FROM THE LIST, AND KEPT", &self.missing()),
        ];
        head + &parts.concat()
    }

    /// Before all else where nothing of the list is read as a number: whoever is new would have none.
    fn numberless(&self) -> String {
        let (columns, left_out) = self.columns;
        if columns.contains(&Column::Number) {
            return String::new();
        }
        let names: Vec<String> = left_out.iter().map(|name| format!("\"{}\"", safe(name))).collect();
        let left_out = match names.is_empty() {
            true => "whoever is new on it has none".to_owned(),
            false => format!("left out: {}. Call the one that holds them number", flood::told(&names).join(", ")),
        };
        format!("NO COLUMN OF NUMBERS IS KNOWN; {left_out}.\n")
    }

    fn newcomers(&self) -> Vec<String> {
        self.preview.new.iter().map(|row| format!("line {}: {}", row.line, cells(row))).collect()
    }

    fn changed(&self) -> Vec<String> {
        let lines = self.preview.changed.iter().flat_map(|one| {
            let who = self.called.get(&one.animal).map_or("", String::as_str);
            let changes = one.changes.iter().map(|change| {
                let was = if change.was.is_empty() { "nothing" } else { change.was.as_str() };
                format!("  {}: {} -> {}", change.column.word(), safe(was), safe(&change.now))
            });
            std::iter::once(format!("{} (line {})", who, one.row.line)).chain(changes).collect::<Vec<_>>()
        });
        lines.collect()
    }

    /// Whoever has something on stands first, and loud.
    fn missing(&self) -> Vec<String> {
        let Preview { missing, nameless, .. } = self.preview;
        if missing.is_empty() {
            return Vec::new();
        }
        let who = |animal: &AnimalId| self.called.get(animal).cloned().unwrap_or_default();
        let (on, bare): (Vec<&AnimalId>, Vec<&AnimalId>) =
            missing.iter().partition(|animal| self.on.contains_key(animal));
        let mut lines: Vec<String> = Vec::new();
        for animal in on {
            let what = self.on.get(animal).map_or_else(String::new, |on| on.join(", "));
            lines.push(format!("{} HAS SOMETHING ON: {}. She stays on the due list.", who(animal), safe(&what)));
        }
        lines.extend(bare.iter().map(|animal| who(animal)));
        if *nameless > 0 {
            lines.push(format!("and {nameless} without a number or name, whom no list can name"));
        }
        lines
    }
}

/// A heading and its lines; nothing where there are none.
fn part(heading: &str, lines: &[String]) -> String {
    if lines.is_empty() {
        return String::new();
    }
    let lines: String = lines.iter().map(|line| format!("  {}\n", safe(line))).collect();
    format!("\n{heading}\n{lines}")
}

/// A new animal: what she is called, then every other cell that is told.
fn cells(row: &Row) -> String {
    let more = Column::ALL.iter().filter(|column| !matches!(column, Column::Number | Column::Name));
    let more = more.filter_map(|column| {
        let cell = column.of(row);
        (!cell.is_empty()).then(|| format!("{} {cell}", column.word()))
    });
    std::iter::once(called(&row.labels)).chain(more).collect::<Vec<_>>().join(", ")
}
