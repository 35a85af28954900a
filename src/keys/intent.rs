//! What can be meant. Imperative, one word for one wish; what happened because of it is
//! an event, and not decided here.
//!
//! The words, names and contexts of every intent stand in [`crate::keys::table`].

/// Something a key press can mean.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Intent {
    /// The next step: open the animal, foot done, grade not given, sign off.
    GoOn,
    /// One step back; erases a typed character first. Writes nothing.
    Back,
    /// Take the last press back.
    Undo,
    /// Put back what undo took.
    Redo,
    /// Show what the keys do.
    Help,
    /// Leave; a turn in the crush is paused.
    Leave,
    /// Next of normal, sun, shed.
    Light,
    /// Say who is recording.
    Who,
    /// Open the due list.
    Due,
    /// The take-off list, page by page, to be photographed.
    Paper,
    /// Open the farms to ring.
    Ring,
    /// Only some lines of the due list, or all again.
    Only,
    /// Look at the map of an earlier turn.
    Last,
    /// Read the standing instructions whole; once more: back.
    Always,
    /// Go to the next mark of last time that waits for its answer.
    NextGhost,
    /// Taps on or off.
    Touch,
    /// A digit of an animal's number, 0 to 9.
    Digit(u8),
    /// Add an animal that nobody listed, or one without a number.
    Add,
    /// Unknown numbers are new animals of a group, or no longer.
    Newcomers,
    /// Say that she is gone, sold, dead, dry, or in milk again.
    Left,
    /// She has another number, tag or name.
    NewNumber,
    /// Two that may be one, beside each other.
    Twice,
    /// What was found in that turn was something else.
    Correct,
    /// That turn was another animal's.
    Whose,
    /// The farm's own matters.
    Farm,
    /// What the visit adds up to.
    Totals,
    /// Make a backup now.
    Backup,
    /// Choose farm and visit, or start one.
    Visit,
    /// One line up.
    Up,
    /// One line down.
    Down,
    /// One page up.
    PageUp,
    /// One page down.
    PageDown,
    /// The turn before this one.
    Older,
    /// The turn after this one.
    Newer,
    /// Lift the left front foot.
    LiftLf,
    /// Lift the right front foot.
    LiftRf,
    /// Lift the left hind foot.
    LiftLh,
    /// Lift the right hind foot.
    LiftRh,
    /// All four feet trimmed, nothing found.
    AllSound,
    /// Both hind feet trimmed, nothing found.
    HindsSound,
    /// The feet not yet done trimmed, nothing found.
    RestSound,
    /// The animal got out of the crush; her turn waits.
    GotAway,
    /// Score her gait.
    Gait,
    /// Write a note in own words.
    Note,
    /// A vet call is advised.
    Vet,
    /// Put something on: block, wrap, dressing, others.
    PutOn,
    /// Take something off, or say that it is off.
    TakeOff,
    /// Take a measure of the claw.
    Measure,
    /// Facts about the whole animal: kicker, sore, to be culled.
    Whole,
    /// A zone of the map, 0 to 12.
    Zone(u8),
    /// The claw on the left of the picture.
    ClawLeft,
    /// The claw on the right of the picture.
    ClawRight,
    /// Findings of the whole foot or claw, and those with one possible zone.
    WholeFoot,
    /// What was trimmed: routine, lowered claw, loose horn, dewclaw.
    Trim,
    /// The same on the other claw of this foot.
    SameOtherClaw,
    /// The same on the other foot of this pair.
    SameOtherHind,
    /// Sole ulcer on the claw in hand.
    FindSu,
    /// Bulb ulcer on the claw in hand.
    FindBu,
    /// Heel horn erosion on the claw in hand.
    FindHhe,
    /// Interdigital hyperplasia of the foot in hand.
    FindIh,
    /// Put a block on.
    PutBlock,
    /// Put a wrap on.
    PutWrap,
    /// Put a dressing on.
    PutDressing,
    /// Choice 0 to 9 of the open list.
    Pick(u8),
    /// The choice on the point, after 9 and 0.
    PickDot,
}

/// What an intent is for, and so how much a keymap owes it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Role {
    /// It writes facts, or opens what writes them: every keymap must reach it.
    Records,
    /// It moves or shows: every keymap must reach it.
    Moves,
    /// A shorter way to what other keys reach too: a keymap may leave it out.
    Shortcut,
}
