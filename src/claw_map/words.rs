//! The words that stand inside the map: names of feet and claws, bars, days.

use crate::claw_map::marks::{FootMark, FootState, LeftOn, Names};
use crate::domain::anatomy::{Foot, Side};
use crate::domain::vocabulary::Vocabulary;

/// "outer" or "inner".
pub fn claw(side: Side) -> &'static str {
    side.word()
}

/// Age of a block, in full: `29 d`, `43 d!`.
pub fn block_days(block: LeftOn) -> String {
    block.days.map_or(String::new(), |days| format!("{days} d{}", block.due.sign()))
}

/// Age of a block in three cells: `29d`, `42+`, `43!`, `99!`; the exact age stands in words beside the map.
pub fn block_days_short(block: LeftOn) -> String {
    /// More than two figures have no room.
    const MOST: u32 = 99;
    let sign = block.due.sign().chars().next().unwrap_or('d');
    block.days.map_or(String::new(), |days| format!("{:2}{sign}", days.min(MOST)))
}

/// The bar under a foot: what is wrapped first, otherwise how far the work is; the fullest form that fits.
///
/// `named` is given where the foot's name has no other place; `found` is a finding of the whole foot.
pub fn bar(foot: FootMark, named: Option<Foot>, found: Option<&str>, names: Names, cols: u16) -> String {
    let forms = match (foot.wrap, named) {
        (Some(wrap), Some(named)) => short_wrap(wrap, named, names),
        (Some(wrap), None) => long_wrap(wrap, foot.state, found, names.wrap),
        (None, Some(named)) => {
            let name = names.foot(named);
            vec![format!("{name} {}", short_state(foot.state)), name.to_owned()]
        }
        (None, None) => long_state(foot.state, found),
    };
    // A wrap's words keep a blank on both sides of them, against the hatching.
    let room = usize::from(if foot.wrap.is_some() && named.is_none() { cols.saturating_sub(2) } else { cols });
    let fits = forms.iter().position(|form| form.chars().count() <= room).unwrap_or(forms.len() - 1);
    forms[fits].clone()
}

fn long_wrap(wrap: LeftOn, state: FootState, found: Option<&str>, name: &str) -> Vec<String> {
    let days = match wrap.days {
        Some(0) => format!("{name} TODAY"),
        Some(1) => format!("{name} 1 DAY"),
        Some(days) => format!("{name} {days} DAYS"),
        None => format!("{name} ON"),
    };
    let days = format!("{days}{}", wrap.due.sign());
    let with_state = format!("{days} {}", box_sign(state)).trim_end().to_owned();
    let with_found = found.map(|found| format!("{with_state} {found}"));
    with_found.into_iter().chain([with_state, days]).collect()
}

fn short_wrap(wrap: LeftOn, foot: Foot, names: Names) -> Vec<String> {
    let days = wrap.days.map_or(String::new(), |days| format!("{days}d"));
    let sign = wrap.due.sign();
    let Names { wrap, wrap_short, .. } = names;
    let foot = names.foot(foot);
    [
        format!("{foot} {wrap} {days}{sign}"),
        format!("{foot} {wrap}{days}{sign}"),
        format!("{foot} {wrap_short}{days}{sign}"),
    ]
    .into()
}

fn long_state(state: FootState, found: Option<&str>) -> Vec<String> {
    let sign = box_sign(state);
    let (long, short) = match state {
        FootState::NotLookedAt => (format!("{sign} not looked at"), sign.to_owned()),
        FootState::NotTold => (String::new(), String::new()),
        FootState::NothingFound => (format!("{sign} nothing found"), sign.to_owned()),
        FootState::LeftOpen(count) => {
            (format!("{sign} nothing new, {count} open"), format!("{sign} {count} left open"))
        }
        FootState::Done(count) => (format!("{sign} done, {count} found"), format!("{sign} {count} found")),
        FootState::Begun(count) => (format!("{sign} {count} found"), format!("{sign} {count} found")),
        FootState::InHand(count) => (format!("{sign} in hand, {count}"), format!("{sign} {count}")),
    };
    let with_found = found.map(|found| [format!("{long}, {found}"), format!("{short}, {found}")]);
    // The short form is for the narrow map; a whole sentence is worth more than a sign.
    let less = matches!(state, FootState::LeftOpen(_)).then_some(short);
    with_found.into_iter().flatten().chain([long]).chain(less).collect()
}

fn short_state(state: FootState) -> String {
    let sign = box_sign(state);
    match state {
        FootState::NotLookedAt | FootState::NotTold | FootState::NothingFound => sign.to_owned(),
        FootState::LeftOpen(count) | FootState::Done(count) | FootState::Begun(count) | FootState::InHand(count) => {
            format!("{sign}{count}")
        }
    }
}

fn box_sign(state: FootState) -> &'static str {
    match state {
        FootState::NotLookedAt | FootState::Begun(_) => "[ ]",
        FootState::NotTold => "",
        FootState::NothingFound => "[=]",
        FootState::LeftOpen(_) => "[?]",
        FootState::Done(_) => "[x]",
        FootState::InHand(_) => "[>]",
    }
}
