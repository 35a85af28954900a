//! What each key means here, a line each, from the one table; and the words that only lines have.

use super::page::{Said, said};
use crate::keys::context::Context;
use crate::keys::help::rows;
use crate::keys::intent::Intent;
use crate::keys::table::{name_of, row_in};
use crate::screen::View;
use crate::screen::words::of;
use crate::session::Session;

/// Words that only lines have, and what they do.
const OWN: [(&str, &str); 5] = [
    ("an empty line", "the same as Enter"),
    ("? say more", "this list; all that is so here; the rest of a list"),
    ("#3", "picks line 3 of a list"),
    ("several words", "one after the other: lh 4 1 3; the line ends early where something is to be heard first"),
    ("Ctrl+D or Ctrl+C", "ends the program; an animal that is in hand is set aside"),
];

/// What each key means where the hands are.
pub fn lines(session: &Session, view: &View<'_>) -> Vec<Said> {
    let context = session.mode.context();
    let words = of(session);
    let row = |row: &crate::keys::help::HelpRow| {
        let what = words.fill(row.words);
        // A family of digits has no one name.
        let name = if is_digit(row.intent) { String::new() } else { format!(", or {}", name_of(row.intent)) };
        said(format!("key {}", row.keys.join(" ")), format!("{what}{name}"))
    };
    let keys = rows(view.keymap, context).into_iter().filter(|row| !is_of_the_picture(row.intent)).collect::<Vec<_>>();
    keys.iter().map(row).chain(OWN.map(|(name, what)| said(name, what))).collect()
}

fn is_digit(intent: Intent) -> bool {
    matches!(intent, Intent::Digit(_) | Intent::Zone(_) | Intent::Pick(_))
}

/// Light and taps are of the picture; lines have none.
pub fn is_of_the_picture(intent: Intent) -> bool {
    matches!(intent, Intent::Light | Intent::Touch)
}

/// What an empty line would do here, and where more is told.
pub fn next(session: &Session) -> Option<Said> {
    // A text has its own question, and says there what an empty line does.
    let context = Some(session.mode.context()).filter(|context| *context != Context::Text)?;
    let row = row_in(context, Intent::GoOn)?;
    Some(said("next", format!("an empty line: {}; ? says what else counts", of(session).fill(row.words))))
}
