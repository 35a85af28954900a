//! What the list says besides names and days: headings, how a wrap is taken off, the one caution.

use super::{ForVet, On, TakeOff, Task};
use crate::domain::anatomy::Place;
use crate::domain::follow_up::Urgency;
use crate::domain::treatment::{Put, Relief};
use crate::domain::vocabulary::Vocabulary;
use crate::report::contact;
use crate::report::safe::safe;
use crate::report::words::{self, Words, foot_in_full};

/// How a wrap is taken off, restraint first. Common practice; a wrap cut loose in part has left a ring that tightened into
/// the skin.
const HOW: [&str; 6] = [
    "Only in a {crush} or with the leg tied. Never alone.",
    "Blunt-ended scissors or a hook blade.",
    "Cut over the hard horn of the outer claw. Never over skin, never at the back of the foot.",
    "Unwind it. LEAVE THE BLOCK.",
    "Feel all round, between the claws and above the dewclaws.",
    "Raw, cut in or swollen: ring the vet.",
];

/// The one caution.
pub const CAUTION: &str = "A record and a reminder, no diagnosis. Treatment, medicines and anaesthesia belong to the animal's \
     vet and to the law of the country.";

/// What is asked about pain relief of every animal on a block. Trim, block and pain relief together: 56 % sound, trim alone
/// 24 % (Thomas et al. 2015).
pub const RELIEF: &str = "pain relief: ask the vet";

/// Above the animals for the vet.
pub const FOR_VET: &str = "RING THE VET";

/// Above what is withheld.
pub const WITHHELD: &str = "MILK AND MEAT, AS STATED";

/// What stands where nothing is on any foot.
pub const NOTHING: &str = "Nothing is on any foot.";

/// The title of the list.
pub const TITLE: &str = "Take-off list";

/// How a wrap is taken off, step by step.
pub fn how(words: Words) -> impl Iterator<Item = String> {
    HOW.iter().map(move |step| words.fill(step))
}

/// Above the steps.
pub fn how_title(words: Words) -> String {
    words.fill("TAKING A {WRAP} OFF")
}

/// Above what has this to be done.
pub fn heading(task: Task) -> &'static str {
    match task {
        Task::TakeOff => "TAKE OFF",
        Task::Feel => "SAID TO BE OFF: FEEL FOR A RING",
        Task::TellKeeper => "SOLD WITH IT ON: TELL THE NEW KEEPER",
        Task::LeaveOn => "BLOCKS: LEAVE THEM ON",
        Task::Felt => "FELT ALL ROUND: NOTHING TO DO",
    }
}

/// What is on the foot, in capitals: `YELLOW WRAP`, `WOOD BLOCK`.
pub fn thing(on: &On, words: Words) -> String {
    words.put(&on.what).to_uppercase()
}

/// The foot in full words, and the claw that stands on a block: `BACK RIGHT`, `BACK RIGHT inner claw`.
pub fn spot(place: Place, claw: bool) -> String {
    let foot = place.foot().map_or("whole animal", foot_in_full);
    match place.side().filter(|_| claw) {
        Some(side) => format!("{foot} {} claw", side.word()),
        None => foot.to_owned(),
    }
}

/// The same of something on a foot: of a wrap the foot alone, since it goes round both claws.
pub fn spot_of(on: &On) -> String {
    spot(on.what.place(), matches!(on.what, Put::Block { .. }))
}

/// By when, in words, and who was named for it.
pub fn when(on: &On) -> String {
    let off = words::off_by(on.off_by);
    let day = match on.task {
        Task::TakeOff => format!("off by {off}"),
        Task::Feel => format!("was to be off by {off}"),
        Task::TellKeeper => format!("on since {}", words::weekday(on.since)),
        Task::LeaveOn => format!("look by {}, off by {off}", words::weekday(on.due)),
        Task::Felt => "looked at when the foot is next up".to_owned(),
    };
    match on.task {
        Task::TakeOff | Task::Feel if !on.remover.is_empty() => format!("{day}, by {}", on.remover),
        Task::TakeOff | Task::Feel | Task::TellKeeper | Task::LeaveOn | Task::Felt => day,
    }
}

/// How urgent it is, with its sign; nothing before its day, or a list cries wolf.
pub fn state(on: &On) -> &'static str {
    match on.urgency {
        Urgency::Coming => "",
        Urgency::Due | Urgency::Late | Urgency::Urgent => words::urgency(on.urgency),
    }
}

/// What else must be known before a hand goes to the foot; empty where there is nothing.
pub fn mind(on: &On) -> &'static str {
    match (on.task, &on.what) {
        (Task::TakeOff, Put::Block { .. }) => "Whoever trims takes the block off.",
        (Task::Feel, Put::Block { .. }) => "Look at the claw.",
        (Task::TakeOff | Task::Feel, Put::Wrap { .. }) if on.leave_block => "Leave the block.",
        (
            Task::TakeOff | Task::Feel | Task::TellKeeper | Task::LeaveOn | Task::Felt,
            Put::Wrap { .. } | Put::Block { .. } | Put::Dressing { .. },
        ) => "",
    }
}

/// What the vet is rung about.
pub fn vet_reason(one: &ForVet, words: Words) -> String {
    let since = one.since.map(|day| format!("since {}", words::weekday(day)));
    let parts = [Some(words.sign(one.sign)), Some(one.words.clone()), since];
    parts.into_iter().flatten().filter(|part| !part.is_empty()).collect::<Vec<String>>().join(", ")
}

/// The vet, by name and number; a line to write on where neither is known.
pub fn vet(farm: &super::Farm) -> String {
    let known = [&farm.vet, &farm.vet_phone]
        .map(|part| safe(part).trim().to_owned())
        .into_iter()
        .filter(|part| !part.is_empty());
    match known.collect::<Vec<String>>().join(" ").as_str() {
        "" => "Vet: ______________________".to_owned(),
        known => format!("Vet: {known}"),
    }
}

/// Each who is to take something off and has a number: `Takes off: Tom 01632 960123`.
pub fn to_ring(list: &TakeOff) -> Vec<String> {
    list.to_ring().into_iter().map(|one| format!("Takes off: {}", contact::number(one))).collect()
}

/// The answers about pain relief, each with whether it was told.
pub fn relief(told: Option<Relief>) -> impl Iterator<Item = (&'static str, bool)> {
    Relief::ALL.iter().map(move |relief| {
        let word = match relief {
            Relief::Given => "given",
            Relief::Not => "not",
            Relief::NotKnown => "not known",
        };
        (word, told == Some(*relief))
    })
}
