//! Answers as JSON: stable field names, days as 2026-05-14, `null` where nothing was told, words as in the record.

use super::case;
use super::farm_card::given;
use super::fault::Fault;
use super::herd::json::fields;
use crate::domain::anatomy::Place;
use crate::domain::disagreement::{self, Disagreement};
use crate::domain::event::Item;
use crate::domain::finding::{Degree, Finding};
use crate::domain::follow_up::list::{DueItem, DueList};
use crate::domain::follow_up::review::Review;
use crate::domain::follow_up::rules::Rules;
use crate::domain::follow_up::{Due, due as due_of};
use crate::domain::herd::{Herd, Labels};
use crate::domain::herd_list::column::Column;
use crate::domain::history::open::{Open, OpenItem};
use crate::domain::history::{History, OffView, PutView, Turn, TurnState, Verdict};
use crate::domain::ids::FarmId;
use crate::domain::practice::Region;
use crate::domain::sheet::FEET;
use crate::domain::sheet::of::called;
use crate::domain::totals::Totals;
use crate::domain::treatment::{Milking, OffBy, Outcome, Put};
use crate::domain::twice::Pair;
use crate::domain::vocabulary::Vocabulary;
use crate::domain::withdrawal::after;
use crate::report;
use crate::report::safe::safe;
use crate::report::take_off::{On, TakeOff, Withheld};
use crate::report::words::Words;
use crate::wire::table::write;
use chrono::NaiveDate;
use serde_json::{Value, json};

/// Fields are the same everywhere, and so are their words.
pub(super) const NEUTRAL: Words = Words(Region::Plain);

/// The text of a value: indented, and without any character that a terminal would obey.
pub fn written(value: &Value) -> String {
    let text = format!("{value:#}");
    let mut out = String::with_capacity(text.len());
    for letter in text.chars() {
        if letter == '\n' || !safe(letter.encode_utf8(&mut [0; 4])).is_empty() {
            out.push(letter);
        } else {
            // Such a letter stands inside a string, where JSON lets it be written as its number.
            let mut units = [0; 2];
            out.extend(letter.encode_utf16(&mut units).iter().map(|unit| format!("\\u{unit:04x}")));
        }
    }
    out
}

/// A table for spreadsheets out of objects: these fields of each. What stands in a list is one cell, and what is null none.
pub(super) fn table(heads: &[&str], rows: &[Value]) -> Result<String, Fault> {
    let cell = |value: &Value| match value {
        Value::Null => String::new(),
        Value::String(text) => safe(text),
        Value::Array(texts) => safe(&texts.iter().filter_map(Value::as_str).collect::<Vec<_>>().join("; ")),
        other => other.to_string(),
    };
    let head = heads.iter().map(|head| (*head).to_owned()).collect();
    let all: Vec<Vec<String>> = std::iter::once(head)
        .chain(rows.iter().map(|row| heads.iter().map(|head| cell(&row[head])).collect()))
        .collect();
    write(&all).map_err(|why| Fault::failed(why.to_string(), "Report this fault of the program."))
}

/// What is due: `today`, `items[]` with `farm, animal, foot, claw, what, since, due, state, reason`, and `unseen[]` with
/// `farm, count, oldest`; `reviews[]` are standing instructions of farms, with `farm, what, for, text, since, asked_by, why, vet,
/// least_sole_mm, due, state`.
pub fn due(
    (list, again): (&DueList, &[Review<'_>]),
    name: &dyn Fn(FarmId) -> String,
    (rules, today): (&Rules, NaiveDate),
) -> Value {
    let row = |item: &DueItem| {
        let mut row = open_item(item.open, item.item, Some(item.due), (rules, today));
        row["farm"] = json!(name(item.open.farm));
        row["animal"] = json!(called(&item.open.labels));
        row
    };
    let rows: Vec<Value> = list.items.iter().map(row).collect();
    let unseen: Vec<Value> = list
        .unseen
        .iter()
        .map(
            |(farm, unseen)| json!({ "farm": name(*farm), "count": unseen.count, "oldest": unseen.oldest.to_string() }),
        )
        .collect();
    let reviews = again.iter().map(|one| review(one, &name(one.farm), rules));
    json!({
        "today": today.to_string(), "items": rows, "reviews": reviews.collect::<Vec<Value>>(), "unseen": unseen,
    })
}

/// A standing instruction that is to be looked at again.
pub(super) fn review(review: &Review<'_>, farm: &str, rules: &Rules) -> Value {
    let mut value = given(review.of);
    value["farm"] = json!(farm);
    value["what"] = json!(review.due.what.word());
    value["least_sole_mm"] = json!(review.of.takes_horn().then_some(rules.of(review.farm).sole));
    value["due"] = json!(day(review.due.day));
    value["state"] = json!(review.due.urgency.word());
    value
}

/// What a day at a farm adds up to: `farm, date`, and each count by its name.
pub fn totals(totals: &Totals, farm: &str, on: NaiveDate) -> Value {
    let mut value = json!({ "farm": farm, "date": on.to_string() });
    for (name, count) in totals.rows() {
        value[name.replace(' ', "_")] = json!(count);
    }
    value
}

/// One animal: `farm, animal, labels, herd` with `days_in_milk, days_to_calving` beside, `left`, `told[]`, the herd data as they
/// were told, newest first; `turns[]` newest first, `open[]`, `cases[]` newest first with `foot, claw, zone, map, code, grade,
/// stage, words, infected, deep, since, last, state, days, healed, first_answer, window, steps[]`; a case's `state` is open,
/// healed or lost to view. `flags[]` with `kind, foot, claw, zone, code, since, count, limit, source,
/// words`. `strip[]`, the oldest turn
/// first, with `date, feet[]` of `foot, looked, code, degree, more, healed, wrap, block`; `disagreements[]`.
pub fn animal(history: &History, farm: &str, rules: &Rules, today: NaiveDate) -> Value {
    let open = Open::of(history);
    let items: Vec<Value> = open
        .items
        .iter()
        .map(|item| open_item(&open, item, due_of(&open, item, rules, today), (rules, today)))
        .collect();
    let turns: Vec<Value> = history.turns.iter().rev().map(turn).collect();
    let mut value = json!({
        "farm": farm, "animal": called(&history.labels), "turns": turns, "open": items,
    });
    value["labels"] = labels(&history.labels);
    value["herd"] = herd(&history.herd);
    value["herd"]["days_in_milk"] = json!(history.herd.days_in_milk(today));
    value["herd"]["days_to_calving"] = json!(history.herd.days_to_calving(today));
    value["left"] = json!(history.left.map(|(how, on)| json!({ "how": how.word(), "date": day(on) })));
    let told = history.told.iter().rev().map(|(on, told)| {
        let mut value = herd(told);
        value["date"] = json!(day(*on));
        value
    });
    value["told"] = json!(told.collect::<Vec<Value>>());
    let rules = rules.of_her(history);
    value["cases"] = json!(case::cases(history, rules, today));
    value["flags"] = json!(case::flags(history, rules, today));
    value["strip"] = json!(case::strip(history));
    value["disagreements"] = json!(disagreement::of(history).iter().map(differ).collect::<Vec<Value>>());
    let earlier =
        history.earlier.iter().rev().map(|(on, labels)| json!({ "animal": called(labels), "until": day(*on) }));
    value["earlier"] = json!(earlier.collect::<Vec<Value>>());
    let moved = history.moved_away.iter().map(|moved| json!({ "date": day(moved.on), "to": called(&moved.labels) }));
    value["moved"] = json!(moved.collect::<Vec<Value>>());
    let corrected = history.corrections.iter().map(|correction| {
        let [was, now] = report::animal::corrected(history, correction, NEUTRAL);
        json!({ "date": day(correction.on), "was": was, "now": now, "why": correction.why })
    });
    value["corrected"] = json!(corrected.collect::<Vec<Value>>());
    value
}

/// What she is called by: `number, tag, electronic_number, name`.
fn labels(labels: &Labels) -> Value {
    fields(Column::ALL.iter().copied().filter(|column| column.is_label()), labels, &Herd::default())
}

/// Herd data: `breed, born, lactation, calved, dry_from, due_to_calve, group, status`.
fn herd(herd: &Herd) -> Value {
    fields(Column::ALL.iter().copied().filter(|column| !column.is_label()), &Labels::default(), herd)
}

/// Two that may be one: `number, kind, farm, called, alike, joined`, and `one, other` as lines.
pub fn pair(pair: &Pair, number: usize, farm: Option<&str>, both: &[Vec<String>; 2]) -> Value {
    json!({
        "number": number, "kind": pair.kind.word(), "farm": farm, "called": pair.called,
        "alike": pair.alike.map(Vocabulary::word), "joined": pair.joined.is_some(), "one": both[0], "other": both[1],
    })
}

/// Where two tablets disagree: `date, foot, claw, zone, said[], settled`.
fn differ(differ: &Disagreement) -> Value {
    json!({
        "date": day(differ.on),
        "foot": foot(differ.place),
        "claw": claw(differ.place),
        "zone": differ.place.zone().map(|zone| zone.number()),
        "said": report::disagreement::said(differ, NEUTRAL),
        "settled": differ.settled,
    })
}

/// The take-off list: `today, farm, vet`, `for_vet[]` with `animal, where, foot, claw, why, words, since`, `withheld[]` with `animal, where, product, used,
/// milk_until, meat_until, by, counts`, and `on[]` with `id, animal,
/// where, foot, claw, what, kind, colour, do, since, due, off_by, milking, state, by, by_phone, relief`.
pub fn take_off(list: &TakeOff) -> Value {
    let for_vet: Vec<Value> = list
        .for_vet
        .iter()
        .map(|one| {
            json!({
                "animal": one.label, "where": some(&one.where_is), "foot": foot(one.place), "claw": claw(one.place),
                "why": one.sign.word(), "words": some(&one.words), "since": one.since.map(day),
            })
        })
        .collect();
    json!({
        "today": day(list.today),
        "farm": list.farm.name,
        "vet": { "name": some(&list.farm.vet), "phone": some(&list.farm.vet_phone) },
        "for_vet": for_vet,
        "withheld": list.withheld.iter().map(withheld).collect::<Vec<Value>>(),
        "on": list.on.iter().map(|one| on(list, one)).collect::<Vec<Value>>(),
    })
}

fn withheld(one: &Withheld) -> Value {
    let until = |days: Option<u16>| days.and_then(|days| after(one.used, days)).map(day);
    json!({
        "animal": one.label, "where": some(&one.where_is), "product": one.stated.product, "used": day(one.used),
        "milk_until": until(one.stated.milk_days), "meat_until": until(one.stated.meat_days),
        "by": some(&one.stated.by), "counts": one.counts,
    })
}

fn on(list: &TakeOff, on: &On) -> Value {
    let (what, kind, colour) = match &on.what {
        Put::Block { kind, .. } => ("block", Some(kind.word()), None),
        Put::Wrap { colour, .. } => ("wrap", None, colour.map(Vocabulary::word)),
        Put::Dressing { .. } => ("dressing", None, None),
    };
    let place = on.what.place();
    json!({
        "id": on.put.0.to_string(), "animal": on.label, "where": some(&on.where_is), "foot": foot(place),
        "claw": claw(place), "what": what, "kind": kind, "colour": colour, "do": on.task.word(), "since": day(on.since),
        "due": day(on.due), "off_by": day(on.off_by.day), "milking": on.off_by.milking.word(),
        "state": on.urgency.word(), "by": some(&on.remover),
        "by_phone": list.who(on).and_then(|one| some(&one.phone)), "relief": on.relief.map(Vocabulary::word),
    })
}

fn open_item(open: &Open, item: &OpenItem, due: Option<Due>, by: (&Rules, NaiveDate)) -> Value {
    let place = item.place();
    json!({
        "foot": foot(place),
        "claw": claw(place),
        "what": due.map(|due| due.what.word()),
        "since": report::due::since(item).map(day),
        "due": due.map(|due| day(due.day)),
        "state": due.map(|due| due.urgency.word()),
        "milking": match item.milking() {
            Milking::Any => None,
            told => Some(told.word()),
        },
        "reason": report::due::reason(open, item, by, NEUTRAL),
    })
}

fn turn(turn: &Turn) -> Value {
    let found = turn.found.iter().map(|found| {
        let side = found.side.or(found.place.side());
        let mut row = finding(found.place, found.what, found.degree);
        row["claw"] = json!(side.map(Vocabulary::word));
        row["words"] = json!(some(&found.words));
        row["infected"] = json!(found.infected);
        row["deep"] = json!(found.deep);
        row
    });
    let answered = turn.answers.iter().map(|answer| {
        let (degree, outcome) = match answer.verdict {
            Verdict::Outcome(outcome) => (Degree::NotGiven, Some(outcome.word())),
            // A mark of dermatitis is answered by its stage; M0 says that it has healed.
            Verdict::Stage(stage) => {
                (Degree::Stage(stage), Some(if answer.verdict.ends() { Outcome::Healed.word() } else { "staged" }))
            }
        };
        let mut row = finding(answer.place, answer.what, degree);
        row["outcome"] = json!(outcome);
        row
    });
    let looks: Vec<Value> = FEET
        .iter()
        .zip(turn.looks)
        .filter_map(|(foot, look)| {
            let look = look?;
            Some(json!({
                "foot": foot.word(), "lifted": look.lifted, "trimmed": look.trimmed, "all_seen": look.all_seen,
            }))
        })
        .collect();
    let gait = turn.gaits.last().map(|(_, gait)| json!({ "score": gait.score, "scale": gait.scale.word() }));
    let notes: Vec<&str> = turn.notes.iter().map(|(_, _, text)| text.as_str()).collect();
    json!({
        "date": day(turn.on),
        "state": state(turn.state),
        "came_from": turn.came_from.as_ref().map(called),
        "feet": looks,
        "findings": found.chain(answered).collect::<Vec<Value>>(),
        "treatments": treatments(turn),
        "removed": turn.offs.iter().map(removed).collect::<Vec<Value>>(),
        "gait": gait,
        "notes": notes,
    })
}

pub(super) fn finding(place: Place, what: Finding, degree: Degree) -> Value {
    let (grade, stage) = match degree {
        Degree::NotGiven => (None, None),
        Degree::Grade(grade) => (Some(grade.word()), None),
        Degree::Stage(stage) => (None, Some(stage.word())),
    };
    json!({
        "foot": foot(place),
        "claw": claw(place),
        "zone": place.zone().map(|zone| zone.number()),
        "map": place.zone().map(|zone| zone.map().word()),
        "code": what.word(),
        "grade": grade,
        "stage": stage,
        "outcome": null,
    })
}

fn treatments(turn: &Turn) -> Vec<Value> {
    let trims = turn.trims.iter().map(|(_, place, how)| treatment(*place, how.word(), None));
    let puts = turn.puts.iter().map(put);
    let medicines = turn.medicines.iter().map(|(_, used)| treatment(Place::Animal, "medicine", some(&used.product)));
    let relief = turn.relief.iter().map(|(_, relief)| treatment(Place::Animal, "pain-relief", Some(relief.word())));
    trims.chain(puts).chain(medicines).chain(relief).collect()
}

fn treatment(place: Place, what: &str, kind: Option<&str>) -> Value {
    let zone = place.zone().map(|zone| zone.number());
    json!({ "foot": foot(place), "claw": claw(place), "zone": zone, "what": what, "kind": kind, "off_by": null, "by": null })
}

fn put(view: &PutView) -> Value {
    let (what, kind) = match &view.put {
        Put::Block { kind, .. } => ("block", Some(kind.word())),
        Put::Wrap { colour, .. } => ("wrap", colour.map(Vocabulary::word)),
        Put::Dressing { product, .. } => ("dressing", some(product)),
    };
    let mut row = treatment(view.put.place(), what, kind);
    row["off_by"] = json!(view.off_by.map(|OffBy { day: on, .. }| day(on)));
    row["by"] = json!(some(&view.by_others));
    row
}

fn removed(view: &OffView) -> Value {
    let what = match (&view.put, view.item) {
        (Some(Put::Block { .. }), _) => Some("block"),
        (Some(Put::Wrap { .. }), _) => Some("wrap"),
        (Some(Put::Dressing { .. }), _) => Some("dressing"),
        (None, Item::Known(_) | Item::Met(_)) => None,
    };
    json!({
        "foot": foot(view.place), "claw": claw(view.place), "what": what,
        "outcome": view.outcome.word(), "off": view.outcome.closes(), "skin": view.skin.word(),
    })
}

fn state(state: TurnState) -> &'static str {
    match state {
        TurnState::Open => "open",
        TurnState::Paused => "paused",
        TurnState::Signed => "signed",
    }
}

fn foot(place: Place) -> Option<&'static str> {
    place.foot().map(Vocabulary::word)
}

fn claw(place: Place) -> Option<&'static str> {
    place.side().map(Vocabulary::word)
}

pub(super) fn day(day: NaiveDate) -> String {
    day.to_string()
}

pub(super) fn some(text: &str) -> Option<&str> {
    (!text.is_empty()).then_some(text)
}
