//! Every place that a hand can be in: each mode of the program, and each question it asks.

use super::amend::twice_twelve;
use super::rig::Rig;
use crate::screens::world::six_days_later;
use crushbook::keys::keymap::BuiltIn;
use crushbook::session::act::Ask;
use crushbook::session::amend;
use crushbook::session::mode::Mode;
use crushbook::session::{contact, herd, herd_list, instruct};
use crushbook::session::{of_farm, visit};
use std::collections::BTreeSet;

/// The electronic number of 7.
pub const WORN: &str = "964000000000007";
/// A number that nobody wears.
pub const UNWORN: &str = "964 000000123456";

/// Keys from Today to a place, and its name; `@` is a reading of [`UNWORN`].
const PLACES: [(&str, &str); 104] = [
    ("", "today"),
    ("1 3", "today"),
    ("v", "farms"),
    ("d", "due"),
    ("t", "ring"),
    ("h", "help"),
    ("p", "paper"),
    ("s", "totals"),
    ("n", "text"),
    ("n g a t e", "text"),
    ("v Down Enter B e c k", "text"),
    ("7 c 3", "text"),
    ("1 3 8 2 x", "left"),
    ("f", "farm"),
    ("1 3 8 2 f 1", "call"),
    ("f 1 1", "text"),
    ("f 2", "change"),
    ("f 2 1", "since"),
    ("f 4", "scoring walk"),
    ("f 4 4 4 1", "scoring walk"),
    ("f 4 1 3 8 2 Enter", "walked"),
    ("f 5", "text"),
    ("f 5 5 Enter", "today"),
    ("f 5 5 Enter 1 3 8 2 Enter", "crush"),
    ("f 6", "card"),
    ("f 6 Down Enter 1", "text"),
    ("f 6 Down Down Down Enter T o m", "text"),
    ("f 6 Down Down Down Enter T o m Enter Enter 9 6 0 1 2 3 Enter Enter", "contact"),
    ("f 6 Down Down Down Enter T o m Enter Enter 9 6 0 1 2 3 Enter Enter 2", "contact gone"),
    ("f 6 Down Down Down Enter T o m Enter Enter 9 6 0 1 2 3 Enter Backspace t Enter", "who answers"),
    ("f 6 Down Down Down Enter T o m Enter Enter 9 6 0 1 2 3 Enter Backspace f 7 1 l o w Enter", "who asks"),
    ("f 7", "scope"),
    ("f 7 1 l o w", "text"),
    ("f 7 1 l o w Enter B o Enter t h i n Enter", "horn"),
    ("f 7 1 l o w Enter B o Enter t h i n Enter 2 V", "text"),
    ("f 7 1 l o w Enter B o Enter t h i n Enter 1", "review day"),
    ("f 7 1 l o w Enter B o Enter t h i n Enter 1 4 3", "text"),
    ("f 7 1 l o w Enter B o Enter t h i n Enter 1 1 f 6 PageDown Down Down Down Enter", "review"),
    ("f 7 1 l o w Enter B o Enter t h i n Enter 1 1 f 6 PageDown Down Down Down Enter 4", "text"),
    ("f 9", "herd"),
    ("f 9 Enter", "her data"),
    ("f 9 Enter Enter 9", "text"),
    ("f 9 Enter Up PageDown Down Enter", "her state"),
    ("f 9 a", "herd lists"),
    ("f 9 a Enter", "herd list"),
    ("f 9 a PageDown Enter /", "text"),
    ("f 9 a Enter Enter", "take it"),
    ("f 9 a Enter Enter 4", "missing"),
    ("f 3", "visit"),
    ("f 3 2 f 3 8", "close"),
    ("y B e n Enter f 3 9", "who records"),
    ("f 3 2 f 3 8 1", "close all the same"),
    ("d -", "told"),
    ("7 Enter 5 Enter 7 Enter", "again"),
    ("7 x 2 7 Enter", "gone"),
    ("7 Enter 5 Enter u", "reopen"),
    ("1 3 8 2 c", "labels"),
    ("1 3 8 2 c 1 7 Enter", "taken"),
    ("@", "wearer"),
    ("@ 2 4 4 Enter", "wears"),
    ("@ 2 7 Enter", "wears"),
    ("4 4 @ 3", "wears"),
    ("@ 4", "new wearer"),
    ("@ 2 9 9 Enter", "new wearer"),
    ("1 3 8 2 Enter", "crush"),
    ("1 3 8 2 Enter 7", "crush"),
    ("1 3 8 2 Enter h", "help"),
    ("1 3 8 2 Enter d", "due"),
    ("1 3 8 2 Enter l", "last"),
    ("1 3 8 2 Enter 7 Tab", "always"),
    ("1 3 8 2 Enter n s o r e", "text"),
    ("1 3 8 2 Enter Enter", "sign-off"),
    ("1 3 8 2 Enter Enter 1", "settle"),
    ("1 3 8 2 Enter e .", "today"),
    ("1 3 8 2 Enter 7 2", "finding"),
    ("1 3 8 2 Enter 7 2 1", "about"),
    ("1 3 8 2 Enter 7 4 1", "about"),
    ("1 3 8 2 Enter 1 3 4", "answer"),
    ("1 3 8 2 Enter 3", "seen"),
    ("1 3 8 2 Enter 1", "seen"),
    ("1 3 8 2 Enter 1 1", "twice the key"),
    ("1 3 8 2 Enter 1 Backspace - 1", "seen"),
    ("1 3 8 2 Enter 3 1", "skin"),
    ("1 3 8 2 Enter 7 e", "whole foot"),
    ("1 3 8 2 Enter 7 +", "put on"),
    ("1 3 8 2 Enter 7 + 4", "block claw"),
    ("1 3 8 2 Enter 7 + 4 1", "block kind"),
    ("1 3 8 2 Enter 7 + 2", "wrap day"),
    ("1 3 8 2 Enter 7 + 2 3", "wrap who"),
    ("1 3 8 2 Enter 7 + 2 3 0 B o Enter", "wrap colour"),
    ("1 3 8 2 Enter 7 + 3", "product"),
    ("1 3 8 2 Enter 7 + 3 0 g e l Enter + 7", "stated"),
    ("1 3 8 2 Enter 7 -", "take off"),
    ("1 3 8 2 Enter 7 t", "trim"),
    ("1 3 8 2 Enter g", "gait"),
    ("1 3 8 2 Enter e", "whole"),
    ("1 3 8 2 Enter v", "vet"),
    ("1 3 8 2 Enter 7 m", "measure"),
    ("1 3 8 2 Enter 7 + 5", "doubt"),
    ("1 3 8 2 Enter l m 9 9 Enter", "unlisted"),
    ("1 3 8 2 Enter l c", "facts"),
    ("1 3 8 2 Enter l c 1", "right"),
    ("1 3 8 2 Enter l c 5", "right put"),
    ("1 3 8 2 Enter l c 1 6", "right finding"),
];

/// Two animals of one number.
const OF_TWINS: [(&str, &str); 2] = [("w", "twice"), ("w 2 1 2 Enter", "which")];

/// A visit that was set aside the day before.
const OF_TWO_DAYS: [(&str, &str); 2] = [("", "which visit"), ("Backspace 7 Enter", "which visit")];

/// Every name there is. A new mode or question is missed by the compiler in [`name`], and then here.
const NAMES: [&str; 79] = [
    "who records",
    "today",
    "farms",
    "crush",
    "sign-off",
    "due",
    "ring",
    "last",
    "always",
    "text",
    "paper",
    "totals",
    "help",
    "finding",
    "about",
    "answer",
    "seen",
    "skin",
    "whole foot",
    "put on",
    "block claw",
    "block kind",
    "wrap day",
    "wrap who",
    "wrap colour",
    "product",
    "stated",
    "take off",
    "trim",
    "gait",
    "whole",
    "vet",
    "measure",
    "left",
    "told",
    "doubt",
    "again",
    "gone",
    "reopen",
    "settle",
    "which",
    "twice",
    "labels",
    "taken",
    "unlisted",
    "facts",
    "right",
    "right put",
    "right finding",
    "wearer",
    "wears",
    "new wearer",
    "twice the key",
    "farm",
    "call",
    "change",
    "since",
    "scoring walk",
    "walked",
    "card",
    "scope",
    "who asks",
    "contact",
    "contact gone",
    "who answers",
    "horn",
    "review day",
    "review",
    "visit",
    "which visit",
    "close",
    "close all the same",
    "herd",
    "her data",
    "her state",
    "herd lists",
    "herd list",
    "take it",
    "missing",
];

/// What a place is called.
pub fn name(mode: &Mode) -> &'static str {
    match mode {
        Mode::Today { .. } => "today",
        Mode::Walk(_) => "scoring walk",
        Mode::Farms { .. } => "farms",
        Mode::Crush(_) => "crush",
        Mode::SignOff { .. } => "sign-off",
        Mode::Card { .. } => "card",
        Mode::Herd { page: herd::Page::Animals(_), .. } => "herd",
        Mode::Herd { page: herd::Page::Her(_), .. } => "her data",
        Mode::Herd { page: herd::Page::Files, .. } => "herd lists",
        Mode::Herd { page: herd::Page::List, .. } => "herd list",
        Mode::Due { .. } => "due",
        Mode::Ring { .. } => "ring",
        Mode::Last { .. } => "last",
        Mode::Always { .. } => "always",
        Mode::Text { .. } => "text",
        Mode::Paper { .. } => "paper",
        Mode::Totals { .. } => "totals",
        Mode::Help { .. } => "help",
        Mode::Pad { ask, .. } => asked(ask),
    }
}

fn asked(ask: &Ask) -> &'static str {
    match ask {
        Ask::Finding(_) => "finding",
        Ask::About(_) => "about",
        Ask::Answer(_) => "answer",
        Ask::Seen(_) => "seen",
        Ask::Skin(_, _) => "skin",
        Ask::WholeFoot(_, _) => "whole foot",
        Ask::PutOn(_) => "put on",
        Ask::BlockClaw(_) => "block claw",
        Ask::BlockKind(_) => "block kind",
        Ask::WrapDay(_) => "wrap day",
        Ask::WrapWho(_) => "wrap who",
        Ask::WrapColour(_) => "wrap colour",
        Ask::Product(_) => "product",
        Ask::Stated(_) => "stated",
        Ask::TakeOff(_) => "take off",
        Ask::Trim(_, _) => "trim",
        Ask::Gait => "gait",
        Ask::Whole(_) => "whole",
        Ask::Vet(_, _) => "vet",
        Ask::Measure(_) => "measure",
        Ask::Left(_, _) => "left",
        Ask::Told(_) => "told",
        Ask::Doubt(_) => "doubt",
        Ask::Twice(_) => "twice the key",
        Ask::Again(_, _) => "again",
        Ask::Gone(_) => "gone",
        Ask::Reopen(_, _) => "reopen",
        Ask::Settle(_) => "settle",
        Ask::Amend(amend::Ask::Which(_, _)) => "which",
        Ask::Amend(amend::Ask::Twice(_)) => "twice",
        Ask::Amend(amend::Ask::Labels(_, _)) => "labels",
        Ask::Amend(amend::Ask::Taken(_, _)) => "taken",
        Ask::Amend(amend::Ask::Unlisted(_, _, _)) => "unlisted",
        Ask::Amend(amend::Ask::Facts(_)) => "facts",
        Ask::Amend(amend::Ask::Right(_)) => "right",
        Ask::Amend(amend::Ask::RightPut(_)) => "right put",
        Ask::Amend(amend::Ask::Finding(_)) => "right finding",
        Ask::Amend(amend::Ask::Wearer(_, _)) => "wearer",
        Ask::Amend(amend::Ask::Wears(_)) => "wears",
        Ask::Amend(amend::Ask::NewWearer(_)) => "new wearer",
        Ask::Farm(of_farm::Ask::Menu(_)) => "farm",
        Ask::Farm(of_farm::Ask::Urgent(_)) => "call",
        Ask::Farm(of_farm::Ask::Change) => "change",
        Ask::Farm(of_farm::Ask::Since(_)) => "since",
        Ask::Farm(of_farm::Ask::Walked(_)) => "walked",
        Ask::Farm(of_farm::Ask::Instruct(asked)) => match asked {
            instruct::Ask::Scope => "scope",
            instruct::Ask::By(_) => "who asks",
            instruct::Ask::Horn(_) => "horn",
            instruct::Ask::Day(_) => "review day",
            instruct::Ask::Review(_, _) => "review",
        },
        Ask::Farm(of_farm::Ask::Contact(asked)) => match asked {
            contact::Ask::About(_) => "contact",
            contact::Ask::Gone(_) => "contact gone",
            contact::Ask::Answers(_) => "who answers",
        },
        Ask::Farm(of_farm::Ask::Herd(herd::Ask::Status(_))) => "her state",
        Ask::Farm(of_farm::Ask::Herd(herd::Ask::List(herd_list::Ask::Take))) => "take it",
        Ask::Farm(of_farm::Ask::Herd(herd::Ask::List(herd_list::Ask::Missing))) => "missing",
        Ask::Farm(of_farm::Ask::Visit(visit::Ask::Menu)) => "visit",
        Ask::Farm(of_farm::Ask::Visit(visit::Ask::Which)) => "which visit",
        Ask::Farm(of_farm::Ask::Visit(visit::Ask::Close(_))) => "close",
        Ask::Farm(of_farm::Ask::Visit(visit::Ask::Sure(_))) => "close all the same",
        Ask::Farm(of_farm::Ask::Visit(visit::Ask::Who)) => "who records",
    }
}

/// A machine on Today, and the ways from there to every place.
pub struct World {
    base: Rig,
    ways: &'static [(&'static str, &'static str)],
}

/// The worlds: 1382 and her past, of whom 7 wears a tag; two twelves; and a visit set aside.
pub fn worlds() -> [World; 3] {
    let mut base = six_days_later(BuiltIn::TwoHands);
    let digits: Vec<String> = WORN.chars().map(String::from).collect();
    base.press(&format!("7 c 3 {} Enter", digits.join(" ")));
    base.pass(0);
    let mut twins = twice_twelve();
    twins.pass(0);
    let mut aside = six_days_later(BuiltIn::TwoHands);
    aside.press("f 3 2 f 3 7");
    aside.pass(1);
    [(base, &PLACES[..]), (twins, &OF_TWINS), (aside, &OF_TWO_DAYS)].map(|(base, ways)| World { base, ways })
}

impl World {
    /// The ways and the names of where they lead.
    pub fn ways(&self) -> &'static [(&'static str, &'static str)] {
        self.ways
    }

    /// A machine of its own in that place.
    pub fn at(&self, way: &str) -> Rig {
        let mut rig = self.base.copy();
        rig.open();
        for word in way.split_whitespace() {
            match word {
                "@" => rig.scan(UNWORN),
                key => {
                    rig.press(key);
                }
            }
        }
        rig
    }
}

#[test]
fn every_mode_and_every_question_is_walked_to() {
    let (mut seen, mut wrong) = (BTreeSet::new(), Vec::new());
    for world in worlds() {
        for (way, called) in world.ways() {
            let rig = world.at(way);
            if name(rig.mode()) != *called {
                wrong.push(format!("{way} leads to {}: {:?}", name(rig.mode()), rig.notice()));
            }
            seen.insert(*called);
        }
    }
    assert_eq!(wrong, Vec::<String>::new());
    let missed: Vec<&&str> = NAMES.iter().filter(|name| !seen.contains(*name)).collect();
    assert_eq!(missed, Vec::<&&str>::new());
}
