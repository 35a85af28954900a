//! What can be wrong with a keymap file: what, where, and what to do next.
//!
//! A file is somebody's own text, so whatever is quoted from it is cut short and made
//! visible first: nothing in it can move the cursor or turn the writing round.

use std::fmt;

use thiserror::Error;

use crate::keys::context::Context;
use crate::keys::intent::Intent;
use crate::keys::key::Key;
use crate::keys::keymap::{BuiltIn, written};
use crate::keys::table;

/// One thing wrong with one line.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Error)]
pub enum Fault {
    /// The file is not text.
    #[error("the file is not UTF-8 text")]
    NotText,
    /// The file has so many bytes.
    #[error("this file has {0} bytes and may have {LARGEST}")]
    TooLarge(usize),
    /// So many more faults than are told.
    #[error("{0} more mistakes follow")]
    More(usize),
    /// The file is not TOML here.
    #[error("this cannot be read: {}", shown(.0))]
    Syntax(String),
    /// `base` names no built-in map.
    #[error("there is no built-in keymap {}", quoted(.0))]
    UnknownBase(String),
    /// A table that is no context.
    #[error("there is no state called {}", quoted(.name))]
    UnknownSection {
        /// The name in the file.
        name: String,
        /// The nearest known name.
        near: Option<&'static str>,
    },
    /// A section that is not a table.
    #[error("{} must be a table", quoted(.0))]
    NotATable(String),
    /// A line that names no intent.
    #[error("nothing here is called {}", quoted(.name))]
    UnknownIntent {
        /// The name in the file.
        name: String,
        /// The nearest known name.
        near: Option<&'static str>,
    },
    /// Neither a text nor a list of texts.
    #[error("the keys of {} must be a text or a list of texts", table::name_of(*.0))]
    NotKeys(Intent),
    /// A key that has no such name.
    #[error("no key is called {}", quoted(.name))]
    UnknownKey {
        /// The name in the file.
        name: String,
        /// The nearest known name.
        near: Option<&'static str>,
    },
    /// A sequence of more than [`LONGEST`] keys, or of none.
    #[error("{} is not one to {LONGEST} keys", quoted(.0))]
    Length(String),
    /// A single character bound where characters are text.
    #[error("{} could no longer be written in a note", quoted(&.0.to_string()))]
    HidesText(Key),
    /// An intent in a context where it means nothing.
    #[error("{} means nothing in [{}]", table::name_of(*.intent), .context.name())]
    NotMeant {
        /// The intent.
        intent: Intent,
        /// Where it stands.
        context: Context,
    },
    /// One key for two intents.
    #[error("{} would mean both {} and {}", quoted(&written(.keys)), table::name_of(*.one), table::name_of(*.other))]
    KeyTwice {
        /// The keys.
        keys: Vec<Key>,
        /// The first intent.
        one: Intent,
        /// The second intent.
        other: Intent,
    },
    /// A key that is also the beginning of a sequence.
    #[error("{} is also the beginning of {}", quoted(&written(.short)), quoted(&written(.long)))]
    Prefix {
        /// The shorter keys.
        short: Vec<Key>,
        /// The longer keys.
        long: Vec<Key>,
    },
    /// An intent that no key reaches.
    #[error("no key reaches {} in [{}]", table::name_of(*.intent), .context.name())]
    Unreachable {
        /// The intent.
        intent: Intent,
        /// Where it is needed.
        context: Context,
    },
}

/// The most keys a sequence may have.
pub const LONGEST: usize = 4;

/// No keymap file is larger, bytes: as with every file that people write by hand.
pub const LARGEST: usize = 1 << 14;
/// Faults that are told; the rest is counted.
pub const TOLD: usize = 20;

impl Fault {
    /// The intents that want one key.
    pub fn fighting(&self) -> Vec<Intent> {
        match self {
            Fault::KeyTwice { one, other, .. } => vec![*one, *other],
            Fault::NotText
            | Fault::TooLarge(_)
            | Fault::More(_)
            | Fault::Syntax(_)
            | Fault::UnknownBase(_)
            | Fault::UnknownSection { .. }
            | Fault::NotATable(_)
            | Fault::UnknownIntent { .. }
            | Fault::NotKeys(_)
            | Fault::UnknownKey { .. }
            | Fault::Length(_)
            | Fault::HidesText(_)
            | Fault::NotMeant { .. }
            | Fault::Prefix { .. }
            | Fault::Unreachable { .. } => Vec::new(),
        }
    }

    /// Whether lines of the file were not read because of it, so that what they bind is not known.
    pub fn hides_lines(&self) -> bool {
        match self {
            Fault::NotText
            | Fault::TooLarge(_)
            | Fault::More(_)
            | Fault::Syntax(_)
            | Fault::UnknownBase(_)
            | Fault::UnknownSection { .. }
            | Fault::NotATable(_)
            | Fault::UnknownIntent { .. } => true,
            Fault::NotKeys(_)
            | Fault::UnknownKey { .. }
            | Fault::Length(_)
            | Fault::HidesText(_)
            | Fault::NotMeant { .. }
            | Fault::KeyTwice { .. }
            | Fault::Prefix { .. }
            | Fault::Unreachable { .. } => false,
        }
    }

    /// What to do next, as a whole clause.
    pub fn suggestion(&self) -> String {
        match self {
            Fault::NotText => "save it as UTF-8".into(),
            Fault::TooLarge(_) => "it is hardly the file that was meant".into(),
            Fault::More(_) => "mend these first".into(),
            Fault::Syntax(_) => "a line looks like this: undo = \"u\" or undo = [\"u\", \"/\"]".into(),
            Fault::UnknownBase(_) => {
                let names = BuiltIn::ALL.map(|map| format!("\"{}\"", map.name()));
                format!("write base = {}", names.join(" or base = "))
            }
            Fault::UnknownSection { near, .. } => did_you_mean(*near, || {
                let names = Context::ALL.map(Context::name);
                format!("the states are everywhere, {}", names.join(", "))
            }),
            Fault::NotATable(name) => format!("write [{}] on a line of its own", shown(name)),
            Fault::UnknownIntent { near, .. } => {
                did_you_mean(*near, || "`crushbook keys` prints every name".to_string())
            }
            Fault::NotKeys(intent) => {
                format!("write {} = \"u\" or a list of such texts", table::name_of(*intent))
            }
            Fault::UnknownKey { near, .. } => did_you_mean(*near, || {
                "a key is one character, or a name such as Enter, Backspace, PageUp, F2, Ctrl+c".to_string()
            }),
            Fault::Length(_) => "put a space between the keys of a sequence".into(),
            Fault::HidesText(_) => "use a key that writes nothing, such as Enter or F2".into(),
            Fault::NotMeant { intent, .. } => {
                let places: Vec<_> = table::meant(*intent).map(Context::name).collect();
                format!("it belongs in {}", places.join(", "))
            }
            Fault::KeyTwice { one, other, .. } => {
                let (one, other) = (table::name_of(*one), table::name_of(*other));
                format!("give {one} or {other} another key")
            }
            Fault::Prefix { .. } => "use another key for one of them".into(),
            Fault::Unreachable { intent, context } => {
                format!("give {} a key in [{}]", table::name_of(*intent), context.name())
            }
        }
    }
}

/// A fault with its place.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Problem {
    /// The file's name, as the caller gave it.
    pub file: String,
    /// Line number from 1; 0 when the whole file is meant.
    pub line: usize,
    /// What is wrong.
    pub fault: Fault,
}

impl fmt::Display for Problem {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Problem { file, line, fault } = self;
        write!(f, "{}", shown(file))?;
        if *line > 0 {
            write!(f, ":{line}")?;
        }
        write!(f, ": {fault}; {}", fault.suggestion())
    }
}

fn did_you_mean(near: Option<&'static str>, otherwise: impl FnOnce() -> String) -> String {
    match near {
        Some(near) => format!("did you mean {near}?"),
        None => otherwise(),
    }
}

fn quoted(text: &str) -> String {
    format!("\"{}\"", shown(text))
}

/// Foreign text made harmless: what cannot be seen is written as a code, and a long text is cut.
fn shown(text: &str) -> String {
    const MOST: usize = 60;
    let mut out: String = text
        .chars()
        .take(MOST)
        .flat_map(|c| match c {
            '"' | '\'' | '\\' => vec![c],
            other => other.escape_debug().collect(),
        })
        .collect();
    if text.chars().nth(MOST).is_some() {
        out.push_str("...");
    }
    out
}
