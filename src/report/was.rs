//! What a finding, or something put on, said before it was corrected, and why.

use crate::domain::event::Event;
use crate::domain::history::{Found, PutView, Was};
use crate::report::safe::safe;
use crate::report::words::{self, Words};

/// What a finding said before it was corrected, a line each, to stand below what it says now.
pub fn found(found: &Found, words: Words) -> Vec<String> {
    let told = |was: &Was| {
        let said = match &was.event {
            Event::Found { what, degree, words: said, place, .. } if *place == found.place => {
                words::finding(*what, *degree, said)
            }
            other => words.event(other),
        };
        format!(" was {said}: {}", safe(&was.why))
    };
    found.was.iter().map(told).collect()
}

/// What something put on said before it was corrected.
pub fn put(view: &PutView, words: Words) -> Vec<String> {
    let told = |was: &Was| {
        let said = match &was.event {
            Event::PutOn { put, .. } => words.put(put),
            other => words.event(other),
        };
        format!(" was {said}: {}", safe(&was.why))
    };
    view.was.iter().map(told).collect()
}
