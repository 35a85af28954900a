//! A farm's people in words.

use crate::domain::contact::{Contact, Word};
use crate::report::safe::safe;
use crate::report::words;

/// Who, what they do and their number: `Tom: takes wraps off, 01632 960123`.
pub fn line(name: &str, does: &str, phone: &str) -> String {
    let told = told(does, phone);
    if told.is_empty() { safe(name) } else { format!("{}: {told}", safe(name)) }
}

/// The same of a contact.
pub fn contact(one: &Contact) -> String {
    line(&one.name, &one.does, &one.phone)
}

/// Who, and the number where one is known: `Tom 01632 960123`.
pub fn number(one: &Contact) -> String {
    format!("{} {}", safe(&one.name), safe(&one.phone)).trim_end().to_owned()
}

/// What holds of one, with its day.
pub fn now(word: &Word) -> String {
    let what =
        if word.gone { format!("{}: there no longer", safe(&word.contact.name)) } else { contact(&word.contact) };
    format!("{what}, since {}", words::day(word.on))
}

/// What was said of one before, with its day.
pub fn was(word: &Word) -> String {
    let told = told(&word.contact.does, &word.contact.phone);
    let what = match (word.gone, told.is_empty()) {
        (true, _) => "there no longer".to_owned(),
        (false, true) => "nothing but the name".to_owned(),
        (false, false) => told,
    };
    format!("{what}, since {}", words::day(word.on))
}

fn told(does: &str, phone: &str) -> String {
    [safe(does), safe(phone)].into_iter().filter(|part| !part.is_empty()).collect::<Vec<String>>().join(", ")
}
