//! An open item in few letters: where a line has room for what is on and for how long, and for nothing else.

use crate::domain::anatomy::Place;
use crate::domain::follow_up::rules::Rules;
use crate::domain::history::open::{Knowing, Open, OpenItem};
use crate::domain::treatment::Sign;
use crate::domain::vocabulary::Vocabulary;
use crate::report::safe::whole;
use crate::report::withheld;
use crate::report::words::{self, Term, Words};
use chrono::NaiveDate;
use unicode_width::UnicodeWidthStr;

/// How much of what is on is said.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Form {
    Full,
    /// Without colour and material.
    Kind,
    /// Without the claw too: a foot has one block.
    Foot,
}

/// An item with its age: `RH blue WRAP 6 days`.
pub fn short(open: &Open, item: &OpenItem, by: (&Rules, NaiveDate), words: Words) -> String {
    told((open, item), by, words, Form::Full)
}

/// The same in fewer and fewer letters: in full, without colour and material, without the claw.
pub fn forms(open: &Open, item: &OpenItem, by: (&Rules, NaiveDate), words: Words) -> [String; 3] {
    [Form::Full, Form::Kind, Form::Foot].map(|form| told((open, item), by, words, form).replace(" days", " d"))
}

/// The same in so many columns: in full, else with less and less, else its beginning with dots behind it.
pub fn within(open: &Open, item: &OpenItem, by: (&Rules, NaiveDate), words: Words, columns: usize) -> String {
    let forms = forms(open, item, by, words);
    let fitting = forms.iter().find(|form| form.width() <= columns).cloned();
    fitting.unwrap_or_else(|| format!("{} ...", whole(&forms[0], columns.saturating_sub(4))))
}

fn told((open, item): (&Open, &OpenItem), (rules, today): (&Rules, NaiveDate), words: Words, form: Form) -> String {
    let age = |since: NaiveDate| match (today - since).num_days() {
        ..0 => format!("DATED {}", words::weekday(since)),
        0 => "today".to_owned(),
        1 => "1 day".to_owned(),
        days => format!("{days} days"),
    };
    let text = match item {
        OpenItem::On { what, since, trouble, knowing, .. } => {
            // A short place leaves room for the age: the zone under a wrap is on the map.
            let place = what.place().foot().map_or("", |foot| words.foot(foot));
            let side = what.place().side().map_or("", Vocabulary::word);
            let side = if form == Form::Foot { "" } else { side };
            let thing = if form == Form::Full { words.put(what) } else { words.kind_of(what) };
            let thing = thing.replace(words.term(Term::Wrap), words.term(Term::LoudWrap));
            let word = match (trouble, knowing) {
                (Some(_), _) => "SWOLLEN?",
                (None, Knowing::ToldOff | Knowing::ToldBare | Knowing::KeeperTold) => words::knowing_short(*knowing),
                (None, Knowing::NotHeard | Knowing::Asked | Knowing::StillOn) => "",
            };
            [place, side, &thing, &age(*since), word]
                .iter()
                .filter(|part| !part.is_empty())
                .copied()
                .collect::<Vec<_>>()
                .join(" ")
        }
        OpenItem::LookSoon { place, since, .. } => format!("{} look: {}", words.place(*place), age(*since)),
        OpenItem::Vet { place, sign, .. } => {
            let at = if *place == Place::Animal { String::new() } else { words.place(*place) };
            let sign = if form == Form::Full { words.sign(*sign) } else { sign_short(*sign, words) };
            format!("{at} VET: {sign}").trim_start().to_owned()
        }
        OpenItem::Recheck { place, told, .. } => {
            let state = told.within(rules.window(Some(open.farm)));
            format!("{} {}", words.place(*place), words::finding(state.what, state.degree, ""))
        }
        OpenItem::Lame { gait, since, .. } => format!("{} since {}", words.gait(*gait), words::weekday(*since)),
        OpenItem::Withheld { used, stated, counts, .. } => withheld::line(stated, *used, *counts, words),
        OpenItem::SetByHand { place, on, .. } => format!("{} look {}", words.place(*place), words::weekday(*on)),
    };
    text.trim_end().to_owned()
}

fn sign_short(sign: Sign, words: Words) -> String {
    sign_forms(sign).first().map_or(String::new(), |text| words.fill(text))
}

/// A stop sign in few letters, fullest first.
pub fn sign_forms(sign: Sign) -> &'static [&'static str] {
    match sign {
        Sign::Advised => &["vet"],
        Sign::OneSided => &["one side swollen", "one side"],
        Sign::AbovePastern => &["swollen above", "above"],
        Sign::Long => &["lame 14 days", "14 d"],
        Sign::FoulNotBetter => &["{foul} not better", "{foul}"],
        Sign::CoronetFront => &["swollen in front", "front"],
        Sign::PainUnderBlock => &["sore on block", "sore"],
        Sign::Tract => &["running hole", "hole"],
        Sign::Joint => &["joint bare", "joint"],
        Sign::ToeNecrosis => &["toe dead", "toe"],
        Sign::Sloughed => &["claw off"],
        Sign::Bleeding => &["bleeds on", "bleeds"],
        Sign::DeepNail => &["nail deep", "nail"],
        Sign::CutIn => &["{wrap} cut in", "cut in"],
        Sign::CannotRise => &["cannot rise", "down"],
        Sign::RawHeels => &["raw heels", "raw"],
        Sign::Notifiable => &["BLISTERS"],
        Sign::LookHigher => &["lame, foot sound", "higher"],
    }
}
