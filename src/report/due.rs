//! What is due, as text: one block a farm, most urgent first, and the reason of an item in words.

use crate::domain::follow_up::Urgency;
use crate::domain::follow_up::list::{DueItem, DueList, Unseen};
use crate::domain::follow_up::review::Review;
use crate::domain::follow_up::rules::Rules;
use crate::domain::herd::{Labels, Status};
use crate::domain::history::course::State;
use crate::domain::history::open::{Knowing, Open, OpenItem};
use crate::domain::ids::FarmId;
use crate::domain::treatment::Put;
use crate::domain::vocabulary::Vocabulary;
use crate::report::farm;
use crate::report::safe::{column, safe};
use crate::report::withheld;
use crate::report::words::{self, Words};
use chrono::NaiveDate;
use unicode_width::UnicodeWidthStr;

/// Heads of the columns.
const HEADS: [&str; 7] = ["state", "animal", "foot", "do", "since", "due", "reason"];

/// Writes the list. `name` gives a farm's name; control characters and direction marks never come through.
pub fn text(
    (list, again): (&DueList, &[Review<'_>]),
    name: &dyn Fn(FarmId) -> String,
    (rules, today): (&Rules, NaiveDate),
    words: Words,
) -> String {
    let items = list.items.as_slice();
    if items.is_empty() && again.is_empty() && list.unseen.is_empty() {
        return format!("Nothing is open on {}.\n", day(today));
    }
    let mut text = format!("Due on {}: {}\n", day(today), counts(items, again.len()));
    let mut farms: Vec<FarmId> = Vec::new();
    let of_animals = items.iter().map(|item| item.open.farm);
    for farm in of_animals.chain(again.iter().map(|review| review.farm)).chain(list.unseen.keys().copied()) {
        if !farms.contains(&farm) {
            farms.push(farm);
        }
    }
    let of_animals = items.iter().map(|item| (item.open.farm, row(item, (rules, today), words)));
    let of_farms = again.iter().map(|review| (review.farm, review_row(review, rules, words)));
    let rows: Vec<(FarmId, [String; 7])> = of_animals.chain(of_farms).collect();
    let widths: [usize; 7] = std::array::from_fn(|at| {
        rows.iter().map(|(_, cells)| cells[at].width()).chain([HEADS[at].width()]).max().unwrap_or(0)
    });
    for farm in farms {
        text.push_str(&format!("\n{}\n", safe(&name(farm))));
        text.push_str(&line(&HEADS.map(str::to_owned), &widths));
        for (_, cells) in rows.iter().filter(|(of, _)| *of == farm) {
            text.push_str(&line(cells, &widths));
        }
        if let Some(unseen) = list.unseen.get(&farm) {
            text.push_str(&format!("  and {}\n", self::unseen(*unseen)));
        }
    }
    text
}

/// Looks at findings that nobody saw for long, in one line.
pub fn unseen(unseen: Unseen) -> String {
    let [full, ..] = unseen_forms(unseen);
    full
}

/// The same in fewer and fewer words; of the day it is whole in each.
pub fn unseen_forms(unseen: Unseen) -> [String; 3] {
    let (count, day) = (unseen.count, words::day(unseen.oldest));
    let looks = if count == 1 { "look" } else { "looks" };
    [
        format!("{count} {looks} nobody saw to for long, oldest due {day}"),
        format!("{count} {looks} long unseen, oldest due {day}"),
        format!("{count} unseen since {day}"),
    ]
}

fn counts(items: &[DueItem], again: usize) -> String {
    let again = match again {
        0 => None,
        1 => Some("1 instruction to review".to_owned()),
        count => Some(format!("{count} instructions to review")),
    };
    let told: Vec<String> = Urgency::ALL
        .iter()
        .rev()
        .map(|urgency| (items.iter().filter(|item| item.due.urgency == *urgency).count(), urgency.word()))
        .filter(|(count, _)| *count > 0)
        .map(|(count, word)| format!("{count} {word}"))
        .chain(again)
        .collect();
    told.join(", ")
}

fn line(cells: &[String; 7], widths: &[usize; 7]) -> String {
    let padded: Vec<String> = cells.iter().zip(widths).map(|(cell, width)| column(cell, *width)).collect();
    format!("  {}\n", padded.join("  ").trim_end())
}

/// An item in the columns of the list: how urgent, whose, where, what to do, since when, by when, and why.
pub fn row(item: &DueItem, (rules, today): (&Rules, NaiveDate), words: Words) -> [String; 7] {
    [
        words::urgency(item.due.urgency).to_owned(),
        called(&item.open.labels),
        spot(item.item),
        words.what(item.due.what),
        since(item.item).map(words::weekday).unwrap_or_default(),
        format!("{} {}", words::weekday(item.due.day), words::milking(item.item.milking())).trim_end().to_owned(),
        safe(&reason(item.open, item.item, (rules, today), words)),
    ]
}

/// A standing instruction that is to be looked at again, in the same columns.
fn review_row(review: &Review<'_>, rules: &Rules, words: Words) -> [String; 7] {
    let one = review.of;
    [
        words::urgency(review.due.urgency).to_owned(),
        "the farm".to_owned(),
        farm::scope(words, one.scope),
        words.what(review.due.what),
        words::weekday(one.reviewed.unwrap_or(one.since)),
        words::weekday(review.due.day),
        format!("{}, {}", farm::what(one, rules.of(review.farm)), farm::history(one)),
    ]
}

/// What an animal is called in a list: her number, and her name where she has one.
pub fn called(labels: &Labels) -> String {
    let first = [&labels.number, &labels.tag, &labels.electronic].into_iter().find(|label| !label.is_empty());
    let both = match first {
        Some(number) if labels.name.is_empty() => number.clone(),
        Some(number) => format!("{number} {}", labels.name),
        None => labels.name.clone(),
    };
    safe(&both)
}

/// The foot in full words, and the claw or zone where it matters.
fn spot(item: &OpenItem) -> String {
    let place = item.place();
    let Some(foot) = place.foot() else { return "whole animal".to_owned() };
    let side = place.side().map(|side| format!(" {}", side.word())).unwrap_or_default();
    let zone = place.zone().map(|zone| format!(" {}", zone.number())).unwrap_or_default();
    format!("{}{side}{zone}", words::foot_in_full(foot))
}

/// Since when it is open; none for a day set by hand.
pub fn since(item: &OpenItem) -> Option<NaiveDate> {
    match item {
        OpenItem::On { since, .. } | OpenItem::LookSoon { since, .. } | OpenItem::Vet { since, .. } => Some(*since),
        OpenItem::Recheck { last, .. } => Some(*last),
        OpenItem::Lame { since, .. } => Some(*since),
        OpenItem::Withheld { used, .. } => Some(*used),
        OpenItem::SetByHand { .. } => None,
    }
}

/// Why an item is on the list.
pub fn reason(open: &Open, item: &OpenItem, (rules, today): (&Rules, NaiveDate), words: Words) -> String {
    match item {
        OpenItem::On { what, since, off_by, remover, seen_on, knowing, told, trouble, .. } => {
            let mut parts = vec![format!("{} {}", words.put(what), days(today - *since))];
            parts.extend(trouble.map(|day| format!("swollen, smells or lamer, said {}", words::weekday(day))));
            parts.extend(seen_on.map(|day| format!("seen on {}", words::weekday(day))));
            // Who says that it swells was heard, whatever the key for it says.
            let heard = trouble.is_some() && *knowing == Knowing::NotHeard;
            if !heard && (matches!(what, Put::Wrap { .. }) || told.is_some()) {
                parts.push(words::knowing(*knowing).to_owned());
            }
            let by = |(who, day): &(String, NaiveDate)| match who.as_str() {
                "" => words::weekday(*day),
                who => format!("by {who} {}", words::weekday(*day)),
            };
            parts.extend(told.as_ref().map(by));
            parts.extend(off_by.map(|promise| format!("promised off by {}", words::off_by(promise))));
            if !remover.is_empty() {
                parts.push(format!("taken off by {remover}"));
            }
            if open.status == Some(Status::Dry) {
                parts.push("dry".to_owned());
            }
            parts.join(", ")
        }
        OpenItem::LookSoon { since, .. } => format!("raw skin, or block lost early, {}", words::weekday(*since)),
        OpenItem::Recheck { told, last, .. } => {
            let State { what, degree, infected, deep } = told.within(rules.window(Some(open.farm)));
            let mut parts = vec![words::finding(what, degree, "")];
            parts.extend(infected.then(|| "infected".to_owned()));
            parts.extend(deep.then(|| "deep".to_owned()));
            format!("{}, last looked at {}", parts.join(" "), words::weekday(*last))
        }
        OpenItem::Lame { gait, since, looked, sound, .. } => {
            let found = match (looked, sound) {
                (false, _) => "not all feet lifted",
                (true, true) => "nothing found in the feet",
                (true, false) => "looked at",
            };
            format!("{}, lame since {}, {found}", words.gait(*gait), words::weekday(*since))
        }
        OpenItem::SetByHand { words: said, .. } if said.is_empty() => "day set by hand".to_owned(),
        OpenItem::SetByHand { words: said, .. } => format!("day set by hand: {said}"),
        OpenItem::Withheld { used, stated, counts, .. } => {
            format!("{}, used {}", withheld::line(stated, *used, *counts, words), words::weekday(*used))
        }
        OpenItem::Vet { sign, words: said, .. } if said.is_empty() => words.sign(*sign),
        OpenItem::Vet { sign, words: said, .. } => format!("{}: {said}", words.sign(*sign)),
    }
}

fn days(span: chrono::TimeDelta) -> String {
    match span.num_days() {
        ..0 => "dated ahead of today: doubtful".to_owned(),
        0 => "put on today".to_owned(),
        1 => "on for 1 day".to_owned(),
        days => format!("on for {days} days"),
    }
}

fn day(day: NaiveDate) -> String {
    format!("{} {}", words::weekday(day), day.format("%Y"))
}
