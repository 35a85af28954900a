//! The one table of intents: name in keymap files, words for people, and where it counts.
//!
//! Help, hints, the drawn pad, the README and the checks of a keymap file all read this
//! table and nothing else. An intent may have several rows when the same wish is said in
//! other words elsewhere (Enter opens an animal on Today and ends a foot in the crush);
//! its name is then the same in each, and no context is in two of them.

use crate::keys::context::Context;
use crate::keys::intent::{Intent, Role};

/// One line of the table.
#[derive(Clone, Copy, Debug)]
pub struct Row {
    /// The intent.
    pub intent: Intent,
    /// Its name in keymap files.
    pub name: &'static str,
    /// At most ten letters, for a cell of the drawn pad. Here and in `words` a term that regions say differently stands
    /// in braces, to be filled by whoever shows it.
    pub short: &'static str,
    /// What it does, for help and README.
    pub words: &'static str,
    /// What a keymap owes it.
    pub role: Role,
    /// Where it is meant.
    pub meant: &'static [Context],
}

use Context::{Animal, Foot, Help, List, Pad, Ring, SignOff, Text, Today};
use Role::{Moves, Records, Shortcut};

const EVERYWHERE: &[Context] = &Context::ALL;
const NOT_WRITING: &[Context] = &[Today, Animal, Foot, Pad, SignOff, List, Ring, Help];
const CHOICES: &[Context] = &[Pad, SignOff, Ring];
const LINES: &[Context] = &[Today, List, Ring, Help];
const PAGES: &[Context] = &[List, Help];

const fn row(
    intent: Intent,
    name: &'static str,
    short: &'static str,
    words: &'static str,
    role: Role,
    meant: &'static [Context],
) -> Row {
    Row { intent, name, short, words, role, meant }
}

/// Every intent, in the order in which help shows them.
#[rustfmt::skip]
pub static TABLE: &[Row] = &[
    row(Intent::Digit(0), "digit-0", "0", "the animal's number", Records, &[Today]),
    row(Intent::Digit(1), "digit-1", "1", "the animal's number", Records, &[Today]),
    row(Intent::Digit(2), "digit-2", "2", "the animal's number", Records, &[Today]),
    row(Intent::Digit(3), "digit-3", "3", "the animal's number", Records, &[Today]),
    row(Intent::Digit(4), "digit-4", "4", "the animal's number", Records, &[Today]),
    row(Intent::Digit(5), "digit-5", "5", "the animal's number", Records, &[Today]),
    row(Intent::Digit(6), "digit-6", "6", "the animal's number", Records, &[Today]),
    row(Intent::Digit(7), "digit-7", "7", "the animal's number", Records, &[Today]),
    row(Intent::Digit(8), "digit-8", "8", "the animal's number", Records, &[Today]),
    row(Intent::Digit(9), "digit-9", "9", "the animal's number", Records, &[Today]),

    row(Intent::LiftLf, "lift-lf", "LF", "lift the left front foot", Records, &[Animal, Foot]),
    row(Intent::LiftRf, "lift-rf", "RF", "lift the right front foot", Records, &[Animal, Foot]),
    row(Intent::LiftLh, "lift-lh", "{LH}", "lift the left {hind} foot", Records, &[Animal, Foot]),
    row(Intent::LiftRh, "lift-rh", "{RH}", "lift the right {hind} foot", Records, &[Animal, Foot]),
    row(Intent::AllSound, "all-sound", "all four", "all four trimmed, nothing found", Records, &[Animal]),
    row(Intent::HindsSound, "hinds-sound", "{hind}s", "{hind}s trimmed, nothing found", Records, &[Animal]),
    row(Intent::RestSound, "rest-sound", "the rest", "the rest trimmed, nothing found", Records, &[Animal]),

    row(Intent::Zone(0), "zone-0", "cleft", "zones 0 to 12", Records, &[Foot]),
    row(Intent::Zone(1), "zone-1", "toe line", "zones 0 to 12", Records, &[Foot]),
    row(Intent::Zone(2), "zone-2", "white line", "zones 0 to 12", Records, &[Foot]),
    row(Intent::Zone(3), "zone-3", "wall-bulb", "zones 0 to 12", Records, &[Foot]),
    row(Intent::Zone(4), "zone-4", "sole-bulb", "zones 0 to 12", Records, &[Foot]),
    row(Intent::Zone(5), "zone-5", "sole", "zones 0 to 12", Records, &[Foot]),
    row(Intent::Zone(6), "zone-6", "bulb", "zones 0 to 12", Records, &[Foot]),
    row(Intent::Zone(7), "zone-7", "wall toe", "zones 0 to 12", Records, &[Foot]),
    row(Intent::Zone(8), "zone-8", "wall heel", "zones 0 to 12", Records, &[Foot]),
    row(Intent::Zone(9), "zone-9", "front skin", "zones 0 to 12", Records, &[Foot]),
    row(Intent::Zone(10), "zone-10", "heel skin", "zones 0 to 12", Records, &[Foot]),
    row(Intent::Zone(11), "zone-11", "cleft wall", "zones 0 to 12", Records, &[Foot]),
    row(Intent::Zone(12), "zone-12", "cleft heel", "zones 0 to 12", Records, &[Foot]),

    row(Intent::Pick(1), "pick-1", "1", "choices 1 to 9, then 0", Records, CHOICES),
    row(Intent::Pick(2), "pick-2", "2", "choices 1 to 9, then 0", Records, CHOICES),
    row(Intent::Pick(3), "pick-3", "3", "choices 1 to 9, then 0", Records, CHOICES),
    row(Intent::Pick(4), "pick-4", "4", "choices 1 to 9, then 0", Records, CHOICES),
    row(Intent::Pick(5), "pick-5", "5", "choices 1 to 9, then 0", Records, CHOICES),
    row(Intent::Pick(6), "pick-6", "6", "choices 1 to 9, then 0", Records, CHOICES),
    row(Intent::Pick(7), "pick-7", "7", "choices 1 to 9, then 0", Records, CHOICES),
    row(Intent::Pick(8), "pick-8", "8", "choices 1 to 9, then 0", Records, CHOICES),
    row(Intent::Pick(9), "pick-9", "9", "choices 1 to 9, then 0", Records, CHOICES),
    row(Intent::Pick(0), "pick-0", "0", "choices 1 to 9, then 0", Records, CHOICES),
    row(Intent::PickDot, "pick-dot", ".", "the choice after 0", Records, CHOICES),

    row(Intent::GoOn, "go-on", "open", "open the animal; on the walk keep her score", Records, &[Today]),
    row(Intent::GoOn, "go-on", "sign off", "sign off", Records, &[Animal]),
    row(Intent::GoOn, "go-on", "foot done", "foot done: trimmed, all of it looked at", Records, &[Foot]),
    row(Intent::GoOn, "go-on", "go on", "not given, go on", Records, &[Pad]),
    row(Intent::GoOn, "go-on", "let her go", "let her go, once every line is settled", Records, &[SignOff]),
    row(Intent::GoOn, "go-on", "open", "open this line", Moves, &[List]),
    row(Intent::GoOn, "go-on", "answers", "say who answers the telephone", Moves, &[Ring]),
    row(Intent::GoOn, "go-on", "keep", "keep what is written", Records, &[Text]),
    row(Intent::GoOn, "go-on", "close", "close the help", Moves, &[Help]),

    row(Intent::ClawLeft, "claw-left", "left claw", "the claw on the left of the picture", Moves, &[Foot]),
    row(Intent::ClawRight, "claw-right", "right claw", "the claw on the right of the picture", Moves, &[Foot]),
    row(Intent::WholeFoot, "whole-foot", "whole foot", "findings of the whole foot or claw, and by name", Records, &[Foot]),
    // Terms of the ICAR Claw Health Atlas; each of these four has one zone of the numbered map only.
    row(Intent::FindSu, "find-su", "SU", "sole ulcer, in zone 4", Shortcut, &[Foot]),
    row(Intent::FindBu, "find-bu", "BU", "bulb ulcer, in zone 6", Shortcut, &[Foot]),
    row(Intent::FindHhe, "find-hhe", "HHE", "heel horn erosion, in zone 6", Shortcut, &[Foot]),
    row(Intent::FindIh, "find-ih", "IH", "interdigital hyperplasia, in zone 0", Shortcut, &[Foot]),
    row(Intent::SameOtherClaw, "same-other-claw", "other claw", "the same on the other claw", Records, &[Foot]),
    row(Intent::SameOtherHind, "same-other-hind", "other {hind}", "the same on the other {hind} foot", Records, &[Foot]),
    row(Intent::PutOn, "put-on", "put on", "put on: block, {wrap}, dressing, others", Records, &[Animal, Foot, Pad]),
    row(Intent::PutBlock, "put-block", "block", "put a block on", Shortcut, &[Foot]),
    row(Intent::PutWrap, "put-wrap", "{wrap}", "put a {wrap} on", Shortcut, &[Foot]),
    row(Intent::PutDressing, "put-dressing", "dressing", "put a dressing on", Shortcut, &[Foot]),
    row(Intent::TakeOff, "take-off", "take off", "take off what is on", Records, &[Animal, Foot, Pad]),
    row(Intent::TakeOff, "take-off", "is off", "this one is off: told or seen", Records, &[List]),
    row(Intent::Trim, "trim", "trimmed", "trimmed: routine, lowered claw, loose horn, dewclaw", Records, &[Foot]),
    row(Intent::Measure, "measure", "measure", "dorsal wall and sole in mm", Records, &[Animal, Foot]),
    row(Intent::Gait, "gait", "{gait}", "score her {gait}", Records, &[Animal, Foot]),
    row(Intent::Whole, "whole", "animal", "the whole animal: kicker, sore, to be culled", Records, &[Animal, Foot]),
    row(Intent::Vet, "vet", "vet", "a vet call is advised", Records, &[Animal, Foot]),
    row(Intent::Note, "note", "note", "a note about the farm", Records, &[Today]),
    row(Intent::Note, "note", "note", "a note in own words", Records, &[Animal, Foot, SignOff]),
    row(Intent::GotAway, "got-away", "got away", "she got away: her turn waits", Records, &[Animal, Foot, Pad]),

    row(Intent::Up, "up", "up", "one line up", Moves, LINES),
    row(Intent::Down, "down", "down", "one line down", Moves, LINES),
    row(Intent::PageUp, "page-up", "page up", "one page up", Moves, PAGES),
    row(Intent::PageDown, "page-down", "page down", "one page down", Moves, PAGES),
    row(Intent::Older, "older", "older", "the turn before", Moves, &[List]),
    row(Intent::Newer, "newer", "newer", "the turn after", Moves, &[List]),
    row(Intent::Visit, "visit", "visit", "choose farm and visit, or start one", Records, &[Today]),
    row(Intent::Add, "add", "add", "add an animal nobody listed, or one without a number", Records, &[Today]),

    row(Intent::Add, "add", "herd list", "in the herd: take a herd list", Records, &[List]),

    row(Intent::Left, "left", "left, dry", "she is gone, sold, dead, back, dried off, or in milk again", Records, &[Today, List]),
    row(Intent::NewNumber, "new-number", "new number", "another number, tag or name, or she lost one", Records, &[Today]),
    row(Intent::Farm, "farm", "farm", "the farm: a call, a change, a scoring walk, paper", Records, &[Today]),
    row(Intent::Twice, "twice", "twice?", "two that may be one: join them, or keep them apart", Records, &[Today, List]),
    row(Intent::Correct, "correct", "correct", "a finding of that turn was said wrongly", Records, &[List]),
    row(Intent::Whose, "whose", "whose", "that turn was another animal's", Records, &[List]),
    row(Intent::Totals, "totals", "totals", "what the visit adds up to", Moves, &[Today]),
    row(Intent::Backup, "backup", "backup", "make a backup now; one is made at the end of each visit too", Moves, &[Today, List]),
    row(Intent::Newcomers, "newcomers", "all new", "unknown numbers are new, in a group; once more: no longer", Records, &[Today]),

    row(Intent::NextGhost, "next-ghost", "old mark", "the next mark of last time that waits for its answer", Moves, &[Animal, Foot, Pad, SignOff]),
    row(Intent::Last, "last", "last time", "the map of last time", Moves, &[Animal, Foot, Pad, SignOff, List]),
    row(Intent::Always, "always", "always", "the standing instructions, whole; once more: back", Moves, &[Animal, Foot, Pad, SignOff, List]),
    row(Intent::Due, "due", "due", "what is due", Moves, NOT_WRITING),
    row(Intent::Ring, "ring", "ring farms", "farms to ring: what is still on, farm by farm", Moves, &[Today, List]),
    row(Intent::Paper, "paper", "take-off", "the take-off list of the farm, page by page, to be photographed", Moves, &[Today, List]),
    row(Intent::Only, "only", "only some", "only this farm, what is on, what is late; in the herd the next group; then all again", Moves, &[List]),
    row(Intent::Back, "back", "back", "one step back; erases a typed digit first", Moves, &[Today]),
    row(Intent::Back, "back", "down", "put the foot down, nothing more said", Moves, &[Foot]),
    row(Intent::Back, "back", "back", "one step back", Moves, &[Animal, Pad, SignOff, List, Ring, Help]),
    row(Intent::Back, "back", "erase", "erase a letter; with none left, one step back", Moves, &[Text]),
    row(Intent::Undo, "undo", "undo", "undo the last press", Records, NOT_WRITING),
    row(Intent::Redo, "redo", "redo", "redo", Records, NOT_WRITING),
    row(Intent::Who, "who", "who", "who is recording", Records, NOT_WRITING),
    row(Intent::Light, "light", "light", "light: normal, sun, shed", Moves, NOT_WRITING),
    row(Intent::Touch, "touch", "touch", "taps on or off", Moves, NOT_WRITING),
    row(Intent::Help, "help", "help", "help", Moves, NOT_WRITING),
    row(Intent::Leave, "leave", "leave", "leave; the animal in the {crush} is paused", Moves, EVERYWHERE),
];

/// The row that says what this intent is in this context, if it is meant there.
pub fn row_in(context: Context, intent: Intent) -> Option<&'static Row> {
    TABLE.iter().find(|row| row.intent == intent && row.meant.contains(&context))
}

/// The intent with this name.
pub fn named(name: &str) -> Option<Intent> {
    TABLE.iter().find(|row| row.name == name).map(|row| row.intent)
}

/// The name of an intent in keymap files.
pub fn name_of(intent: Intent) -> &'static str {
    TABLE.iter().find(|row| row.intent == intent).map(|row| row.name).unwrap_or("nothing")
}

/// Every context in which an intent is meant.
pub fn meant(intent: Intent) -> impl Iterator<Item = Context> {
    Context::ALL.into_iter().filter(move |context| row_in(*context, intent).is_some())
}
