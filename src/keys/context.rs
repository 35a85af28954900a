//! Where the hands are: the states in which a key can mean different things.
//!
//! Few on purpose. Whatever the program shows, it is in one of these, and no key means
//! two things in one of them.

/// A state of the program that decides what keys mean.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Context {
    /// The visit, and the scoring walk: only there digits are an animal's number.
    Today,
    /// An animal is in the crush and no foot is up.
    Animal,
    /// A foot is up: digits are zones.
    Foot,
    /// A numbered list of choices is open: findings, grades, things to put on or take off.
    Pad,
    /// The lines that must be settled before the animal goes.
    SignOff,
    /// A list to walk through: due, farms and visits, earlier turns.
    List,
    /// Farms are rung: digits are answers.
    Ring,
    /// Letters go into a field: a note, a name, a measure.
    Text,
    /// The help is open.
    Help,
}

impl Context {
    /// Every context, in the order of a day.
    pub const ALL: [Context; 9] = [
        Context::Today,
        Context::Animal,
        Context::Foot,
        Context::Pad,
        Context::SignOff,
        Context::List,
        Context::Ring,
        Context::Text,
        Context::Help,
    ];

    /// The name of this context's table in a keymap file.
    pub fn name(self) -> &'static str {
        match self {
            Context::Today => "today",
            Context::Animal => "animal",
            Context::Foot => "foot",
            Context::Pad => "pad",
            Context::SignOff => "sign-off",
            Context::List => "list",
            Context::Ring => "ring",
            Context::Text => "text",
            Context::Help => "help",
        }
    }

    /// The heading of this context in help and README, a term that regions say differently in braces.
    pub fn words(self) -> &'static str {
        match self {
            Context::Today => "Today",
            Context::Animal => "Animal in the {crush}, no foot up",
            Context::Foot => "A foot is up",
            Context::Pad => "A list of choices is open",
            Context::SignOff => "Sign-off",
            Context::List => "A list to walk through",
            Context::Ring => "Farms to ring",
            Context::Text => "Writing",
            Context::Help => "Help",
        }
    }

    /// The context with this name.
    pub fn named(name: &str) -> Option<Context> {
        Context::ALL.into_iter().find(|c| c.name() == name)
    }

    /// Whether digits are expected here, so that a run of End, Home and the like means
    /// that NumLock is off.
    pub fn takes_digits(self) -> bool {
        match self {
            Context::Today | Context::Animal | Context::Foot | Context::Pad | Context::SignOff | Context::Ring => true,
            Context::List | Context::Text | Context::Help => false,
        }
    }
}
