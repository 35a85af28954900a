//! Contacts of a farm: its people, what each does there, and their telephone numbers. The newest word on a name holds, however it
//! is written in capitals. Whom to ask for first is a fact of the farm and stands beside them.

use super::event::Event;
use super::history::standing::Standing;
use super::ids::FarmId;
use super::letters::seen;
use chrono::NaiveDate;
use std::fmt;

/// One of a farm's people.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Contact {
    /// Who.
    pub name: String,
    /// What they do there, in words; empty: not told.
    pub does: String,
    /// Their telephone number; empty: not known.
    pub phone: String,
}

/// A word about one.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Word {
    /// The day it was said.
    pub on: NaiveDate,
    /// Who, what and which number.
    pub contact: Contact,
    /// Whether they are there no longer.
    pub gone: bool,
}

/// All that was ever told of one.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Known {
    /// What holds.
    pub now: Word,
    /// What was said before, newest first.
    pub before: Vec<Word>,
}

/// Why somebody cannot be kept so.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum No {
    /// No name.
    NoName,
    /// The name has more letters than that.
    LongName(usize),
    /// What they do has more letters than that.
    LongDoes(usize),
    /// The number holds something else than a number does, or too little, or too much.
    NoPhone,
}

impl fmt::Display for No {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            No::NoName => write!(f, "a contact has a name"),
            No::LongName(most) => write!(f, "a name has at most {most} letters"),
            No::LongDoes(most) => write!(f, "what they do has at most {most} letters"),
            No::NoPhone => f.write_str(NO_NUMBER),
        }
    }
}

/// How a telephone number is written.
pub const NO_NUMBER: &str = "a telephone number is digits, like 01632 960123 or +44 1632 960123";
/// Most letters of a name: it stands in a cell of the pad and on lists.
pub const NAME: usize = 60;
/// Most letters of what somebody does.
pub const DOES: usize = 200;
/// Most letters of a number.
pub const PHONE: usize = 40;
/// What a number holds besides digits: ITU-T E.123 has blanks, hyphens or points between groups, the plus before a country, brackets
/// round what is not always dialled, a stroke before another number.
const BESIDE: [char; 7] = [' ', '-', '.', '+', '(', ')', '/'];
/// Digits of a number: inside a house as few as three (common practice); ITU-T E.164 has at most 15, and a stroke may bring more.
const DIGITS: std::ops::RangeInclusive<usize> = 3..=30;

/// The word as it is kept, or why it cannot be.
///
/// # Errors
/// No name, too many letters, a number that is none.
pub fn checked(name: &str, does: &str, phone: &str) -> Result<Contact, No> {
    let contact = Contact { name: seen(name), does: seen(does), phone: seen(phone) };
    let letters = |text: &str| text.chars().count();
    if contact.name.is_empty() {
        Err(No::NoName)
    } else if letters(&contact.name) > NAME {
        Err(No::LongName(NAME))
    } else if letters(&contact.does) > DOES {
        Err(No::LongDoes(DOES))
    } else if contact.phone.is_empty() || is_number(&contact.phone) {
        Ok(contact)
    } else {
        Err(No::NoPhone)
    }
}

/// Whether it can be dialled.
pub fn is_number(phone: &str) -> bool {
    let digits = phone.chars().filter(char::is_ascii_digit).count();
    let known = |letter: char| letter.is_ascii_digit() || BESIDE.contains(&letter);
    phone.chars().all(known) && DIGITS.contains(&digits) && phone.chars().count() <= PHONE
}

/// A name as it is compared.
fn folded(name: &str) -> String {
    seen(name).to_lowercase()
}

/// Whether two names mean one of a farm's people.
pub fn is_called(one: &str, other: &str) -> bool {
    folded(one) == folded(other)
}

/// Everybody of whom anything was told on a farm: those who are there in the order in which they were first told, then those who
/// are there no longer.
pub fn known(standing: &Standing, farm: FarmId) -> Vec<Known> {
    let mut all: Vec<Known> = Vec::new();
    for record in standing.about(farm.0) {
        let Some(Event::ContactTold { name, does, phone, gone, .. }) = record.event() else { continue };
        let contact = Contact { name: name.clone(), does: does.clone(), phone: phone.clone() };
        let now = Word { on: record.on, contact, gone: *gone };
        match all.iter_mut().find(|known| is_called(&known.now.contact.name, name)) {
            Some(known) => {
                let was = std::mem::replace(&mut known.now, now);
                known.before.insert(0, was);
            }
            None => all.push(Known { now, before: Vec::new() }),
        }
    }
    all.sort_by_key(|known| known.now.gone);
    all
}

/// Those who are there.
pub fn here(standing: &Standing, farm: FarmId) -> Vec<Contact> {
    known(standing, farm).into_iter().filter(|known| !known.now.gone).map(|known| known.now.contact).collect()
}

/// The contact of that name.
pub fn named<'c>(contacts: &'c [Contact], name: &str) -> Option<&'c Contact> {
    contacts.iter().find(|contact| is_called(&contact.name, name))
}
