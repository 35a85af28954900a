//! An earlier turn against today, in words: what changed, what was done, what was left on and when it really came off.

use crate::domain::anatomy::Foot;
use crate::domain::came_off::{After, came_off, on_after};
use crate::domain::case::{Change, Changed};
use crate::domain::history::{History, Turn};
use crate::domain::treatment::Put;
use crate::domain::vocabulary::Vocabulary;
use crate::report::case::{change, change_word};
use crate::report::due::called;
use crate::report::safe::safe;
use crate::report::was;
use crate::report::words::{self, Words};
use chrono::NaiveDate;

/// A heading and what stands below it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Section {
    /// The heading.
    pub head: String,
    /// Its lines.
    pub lines: Vec<String>,
}

/// The turn against now, what was left on first. `by` did it, empty where nobody was named; `now` is the turn under way.
pub fn sections(
    history: &History,
    (then, by): (&Turn, &str),
    (now, today): (Option<&Turn>, NaiveDate),
    changes: &[Changed],
    words: Words,
) -> Vec<Section> {
    let section = |head: &str, lines: Vec<String>| Section { head: head.to_owned(), lines };
    let all = [
        // What may still be on her comes before everything else.
        section("LEFT ON THEN", left_on(history, then, words)),
        section(&counted(changes), changed(changes, today, words)),
        section("SET RIGHT SINCE", set_right(then, words)),
        section("DONE THEN", done(then, by, words)),
        section(&words.fill("{gait}, then and now").to_uppercase(), gait(then, now, words)),
        section("SAID THEN", said(then, words)),
    ];
    all.into_iter().filter(|section| !section.lines.is_empty()).collect()
}

fn changed(changes: &[Changed], today: NaiveDate, words: Words) -> Vec<String> {
    match changes {
        [] => vec!["no mark then, none now".to_owned()],
        changes => changes.iter().map(|one| change(one, today, words)).collect(),
    }
}

/// How many cases changed how: `CHANGED 2 worse, 1 new, 1 healed`.
fn counted(changes: &[Changed]) -> String {
    let told = Change::ALL.iter().filter_map(|change| {
        let count = changes.iter().filter(|one| one.change == *change).count();
        (count > 0).then(|| format!("{count} {}", change_word(*change)))
    });
    format!("CHANGED {}", told.collect::<Vec<_>>().join(", ")).trim_end().to_owned()
}

/// What was corrected since, each with what it said before, and whose turn it was taken for.
fn set_right(then: &Turn, words: Words) -> Vec<String> {
    let with = |what: String, was: Vec<String>| (!was.is_empty()).then(|| format!("{what},{}", was.join(",")));
    let found = then.found.iter().filter_map(|found| {
        let what = words::finding(found.what, found.degree, &found.words);
        with(format!("{} {what}", words.place(found.place)), was::found(found, words))
    });
    let puts = then.puts.iter().filter_map(|view| {
        with(format!("{} {}", words.place(view.put.place()), words.put(&view.put)), was::put(view, words))
    });
    let from = then.came_from.as_ref().map(|labels| format!("came from {}", called(labels)));
    found.chain(puts).chain(from).collect()
}

/// What was left on, by when it was to be off, and what is known of it since.
fn left_on(history: &History, then: &Turn, words: Words) -> Vec<String> {
    on_after(history, then)
        .into_iter()
        .map(|view| {
            let promised = view.off_by.map_or(String::new(), |promise| format!(", off by {}", words::off_by(promise)));
            let after = after(&came_off(history, view), view.on);
            format!("{} {}{promised}: {after}", words.place(view.put.place()), words.put(&view.put))
        })
        .collect()
}

fn after(after: &After, since: NaiveDate) -> String {
    let days = |day: NaiveDate| (day - since).num_days();
    match after {
        After::Off(day, off) => format!("{} {}, after {} d", words::off(*off), words::weekday(*day), days(*day)),
        After::SeenOn(day, off) => format!("{} {}, after {} d", words::off(*off), words::weekday(*day), days(*day)),
        After::Told(day, who, word) => {
            let by = if who.is_empty() { String::new() } else { format!(" by {}", safe(who)) };
            format!("told {}{by} {}", words::word(*word), words::weekday(*day))
        }
        After::NotHeard => "nothing heard since".to_owned(),
    }
}

fn done(then: &Turn, by: &str, words: Words) -> Vec<String> {
    let feet: Vec<&str> = feet(then, |look| look.trimmed).map(|foot| words.foot(foot)).collect();
    let mut lines: Vec<String> = Vec::new();
    if !by.is_empty() {
        lines.push(format!("by {}", safe(by)));
    }
    if !feet.is_empty() {
        lines.push(format!("trimmed {}", feet.join(" ")));
    }
    lines.extend(then.trims.iter().map(|(_, place, how)| format!("{} {}", words.place(*place), words::trim(*how))));
    let dressings = then.puts.iter().filter(|view| matches!(view.put, Put::Dressing { .. }));
    lines.extend(dressings.map(|view| format!("{} {}", words.place(view.put.place()), words.put(&view.put))));
    lines.extend(then.medicines.iter().map(|(_, medicine)| format!("medicine {}", safe(&medicine.product))));
    lines.extend(then.relief.iter().map(|(_, relief)| words::relief(*relief).to_owned()));
    lines
}

fn gait(then: &Turn, now: Option<&Turn>, words: Words) -> Vec<String> {
    let told = |turn: &Turn| turn.gaits.last().map(|(_, gait)| words.gait(*gait));
    let now = now.and_then(told);
    if then.gaits.is_empty() && now.is_none() {
        return Vec::new();
    }
    let or_not = |gait: Option<String>| gait.unwrap_or_else(|| "not scored".to_owned());
    vec![format!("then {}, now {}", or_not(told(then)), or_not(now))]
}

fn said(then: &Turn, words: Words) -> Vec<String> {
    let sore = then.sore.iter().map(|(_, place)| format!("{} sore to testers", words.place(*place)));
    let vet = then.vet.iter().map(|(_, place, sign, _)| format!("{} VET: {}", words.place(*place), words.sign(*sign)));
    let notes = then.notes.iter().map(|(_, place, text)| format!("{} note: {}", words.place(*place), safe(text)));
    let looks = then.rechecks.iter();
    let looks = looks.map(|(_, place, on, _)| format!("{} look again {}", words.place(*place), words::weekday(*on)));
    let unseen: Vec<&str> =
        Foot::ALL.iter().filter(|foot| !lifted(then, **foot)).map(|foot| words.foot(*foot)).collect();
    let unseen = (!unseen.is_empty()).then(|| format!("not looked at: {}", unseen.join(" ")));
    sore.chain(vet).chain(notes).chain(looks).chain(unseen).collect()
}

fn lifted(turn: &Turn, foot: Foot) -> bool {
    feet(turn, |look| look.lifted).any(|one| one == foot)
}

fn feet(turn: &Turn, of: fn(&crate::domain::history::Look) -> bool) -> impl Iterator<Item = Foot> {
    let looks = turn.looks;
    Foot::ALL
        .iter()
        .copied()
        .enumerate()
        .filter(move |(at, _)| looks[*at].as_ref().is_some_and(of))
        .map(|(_, foot)| foot)
}
