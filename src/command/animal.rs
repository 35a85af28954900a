//! `animal`: everything recorded of one animal.

use super::fault::Fault;
use super::{AnimalForm, Cli, Done, Here, book, due};
use crate::domain::finding::Degree;
use crate::domain::follow_up::list;
use crate::domain::follow_up::rules::Rules;
use crate::domain::history::{History, Turn, Verdict};
use crate::domain::sheet::{Line, Sheet, SheetTurn};
use crate::domain::vocabulary::Vocabulary;
use crate::domain::{anatomy::Place, herd::VisitWhy};
use crate::report::{animal, marks, words};
use crate::wire::sheet;
use chrono::NaiveDate;
use serde_json::{Value, json};
use std::io::Write;

/// Prints an animal.
///
/// # Errors
/// An unknown number or farm; what the store says.
pub fn run(
    cli: &Cli,
    here: &Here,
    number: &str,
    farm: Option<&str>,
    form: AnimalForm,
    out: &mut dyn Write,
) -> Result<Done, Fault> {
    let (store, _) = book::open(cli.book.as_deref())?;
    let farm = book::farm(&store, farm)?;
    let (mut rows, _) = store.find(farm.farm, number)?;
    rows.sort_by_key(|row| !row.current);
    let Some(row) = rows.first() else {
        return Err(Fault::usage(
            format!("{} has no animal {number:?}", farm.name),
            "old numbers find her too: look at the number again, or at the farm",
        ));
    };
    let (records, problems) = store.records(row.of.0)?;
    let history = History::of(records, row.of);
    let (rules, today) = (Rules::default(), cli.day(here));
    match form {
        AnimalForm::Text => {
            if !row.current {
                writeln!(out, "{number} was her number; it is {} now", history.labels.number)?;
            }
            for line in animal::lines(&history, &rules, today) {
                writeln!(out, "{line}")?;
            }
            for problem in problems {
                writeln!(out, "note: {problem}")?;
            }
        }
        AnimalForm::Json => {
            let value = as_json(&history, &farm.name, &rules, today);
            let text = serde_json::to_string_pretty(&value)
                .map_err(|error| Fault::failed(error.to_string(), "this is a fault of the program"))?;
            writeln!(out, "{text}")?;
        }
        AnimalForm::Sheet => {
            let sheets: Vec<String> = sheets(&history, &farm.name).iter().map(sheet::print).collect();
            write!(out, "{}", sheets.join("\n"))?;
        }
    }
    store.close()?;
    Ok(Done::Code(0))
}

/// Her turns as sheets, one a day, oldest first.
fn sheets(history: &History, farm: &str) -> Vec<Sheet> {
    let mut sheets: Vec<Sheet> = Vec::new();
    for turn in &history.turns {
        let line = Line::Turn(SheetTurn::of(turn, history));
        match sheets.last_mut() {
            Some(sheet) if sheet.on == turn.on => sheet.lines.push(line),
            Some(_) | None => sheets.push(Sheet {
                farm: farm.to_owned(),
                on: turn.on,
                by: String::new(),
                why: VisitWhy::Routine,
                lines: vec![line],
            }),
        }
    }
    sheets
}

/// Stable field names, documented in the README.
fn as_json(history: &History, farm: &str, rules: &Rules, today: NaiveDate) -> Value {
    let open = [marks::facts(history)];
    let items = list(&open, rules, today);
    json!({
        "farm": farm,
        "animal": history.labels.number,
        "turns": history.turns.iter().rev().map(turn).collect::<Vec<_>>(),
        "open": items.iter().map(|item| due::json(item, farm, today)).collect::<Vec<_>>(),
    })
}

fn at(place: Place) -> Value {
    let zone = place.zone();
    json!({
        "foot": place.foot().map(Vocabulary::word),
        "claw": place.side().map(Vocabulary::word),
        "zone": zone.map(|zone| zone.number()),
        "map": zone.map(|zone| zone.map().word()),
    })
}

fn with(place: Place, more: Value) -> Value {
    let (Value::Object(mut row), Value::Object(more)) = (at(place), more) else { return Value::Null };
    row.extend(more);
    Value::Object(row)
}

fn turn(turn: &Turn) -> Value {
    let found = turn.found.iter().map(|found| {
        let (grade, stage) = match found.degree {
            Degree::NotGiven => (None, None),
            Degree::Grade(grade) => (Some(grade.word()), None),
            Degree::Stage(stage) => (None, Some(stage.word())),
        };
        let more = json!({
            "code": found.what.word(), "grade": grade, "stage": stage, "outcome": null, "infected": found.infected,
            "deep": found.deep, "words": found.words,
        });
        with(found.place, more)
    });
    let answered = turn.answers.iter().map(|answer| {
        let (outcome, stage) = match answer.verdict {
            Verdict::Outcome(outcome) => (Some(outcome.word()), None),
            Verdict::Stage(stage) => (None, Some(stage.word())),
        };
        let more = json!({
            "code": answer.what.word(), "grade": null, "stage": stage, "outcome": outcome,
        });
        with(answer.place, more)
    });
    let put = turn.puts.iter().map(|view| {
        let off_by = view.off_by.map(|promise| promise.day.to_string());
        with(view.put.place(), json!({"what": words::put(&view.put), "off_by": off_by, "who": view.remover}))
    });
    let trimmed = turn.trims.iter().map(|(_, place, how)| with(*place, json!({"what": how.word()})));
    let removed = turn.offs.iter().map(|off| {
        let what = off.put.as_ref().map(words::put);
        with(off.place, json!({"what": what, "outcome": off.outcome.word(), "skin": off.skin.word()}))
    });
    let gait = turn.gaits.last().map(|(_, gait)| json!({"scale": gait.scale.word(), "score": gait.score}));
    json!({
        "date": turn.on.to_string(),
        "findings": found.chain(answered).collect::<Vec<_>>(),
        "treatments": trimmed.chain(put).collect::<Vec<_>>(),
        "removed": removed.collect::<Vec<_>>(),
        "gait": gait,
    })
}
