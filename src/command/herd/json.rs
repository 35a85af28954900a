//! A herd, and a list against it, as JSON: fields are called as the columns are, with `_` for a blank.

use crate::domain::herd::{Herd, Labels};
use crate::domain::herd_list::column::Column;
use crate::domain::herd_list::her::Her;
use crate::domain::ids::AnimalId;
use crate::domain::vocabulary::Vocabulary;
use crate::report::herd_list::Told;
use crate::wire::herd_csv::RowProblem;
use serde_json::{Value, json};

/// The herd as it is: `farm, animals[]`, each with a field for every column.
pub fn herd<'h>(farm: &str, herd: impl Iterator<Item = &'h Her>) -> Value {
    let animals: Vec<Value> = herd.map(|her| cells(&her.known.labels, &her.known.herd)).collect();
    json!({ "farm": farm, "animals": animals })
}

/// Every column as a field, `null` where nothing is told.
pub fn cells(labels: &Labels, herd: &Herd) -> Value {
    fields(Column::ALL.iter().copied(), labels, herd)
}

/// Some columns as fields. A lactation is a number, everything else a text.
pub fn fields(columns: impl Iterator<Item = Column>, labels: &Labels, herd: &Herd) -> Value {
    let mut value = json!({});
    for column in columns {
        let cell = column.cell(labels, herd);
        let text = (!cell.is_empty()).then_some(cell);
        value[field(column)] = if column == Column::Lactation { json!(herd.lactation) } else { json!(text) };
    }
    value
}

/// A column's name as a field.
pub fn field(column: Column) -> String {
    column.word().replace(' ', "_")
}

/// A list against the herd: `farm, list, date, taken, columns[]` of it that are known, `left_out[]` that are not, `new[]` with `line` and all columns, `changed[]` with `animal, line,
/// changes[]` of `column, was, now`, `same`, `missing[]` with `animal, on[]`, `bad[]` with `line, column, value, why`, and
/// `doubtful[]` in words.
pub fn preview(told: &Told<'_>, bad: &[RowProblem], taken: bool) -> Value {
    let called = |animal: &AnimalId| told.called.get(animal).cloned().unwrap_or_default();
    let new = told.preview.new.iter().map(|row| {
        let mut value = cells(&row.labels, &row.herd);
        value["line"] = json!(row.line);
        value
    });
    let changed = told.preview.changed.iter().map(|one| {
        let some = |text: &String| (!text.is_empty()).then(|| text.clone());
        let changes = one.changes.iter().map(
            |change| json!({ "column": field(change.column), "was": some(&change.was), "now": some(&change.now) }),
        );
        json!({ "animal": called(&one.animal), "line": one.row.line, "changes": changes.collect::<Vec<Value>>() })
    });
    let missing = told
        .preview
        .missing
        .iter()
        .map(|animal| json!({ "animal": called(animal), "on": told.on.get(animal).cloned().unwrap_or_default() }));
    let bad = bad.iter().map(
        |problem| json!({ "line": problem.line, "column": problem.column, "value": problem.value, "why": problem.why }),
    );
    json!({
        "farm": told.farm, "list": told.list, "date": told.today.to_string(), "taken": taken,
        "columns": told.columns.0.iter().map(|column| field(*column)).collect::<Vec<String>>(), "left_out": told.columns.1,
        "new": new.collect::<Vec<Value>>(), "changed": changed.collect::<Vec<Value>>(), "same": told.preview.same,
        "missing": missing.collect::<Vec<Value>>(), "bad": bad.collect::<Vec<Value>>(), "doubtful": told.doubts,
    })
}
