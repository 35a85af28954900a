//! The options of `crushbook farm` that tell of one of the farm's people: what they do and their number, or that they are there no
//! longer. What is not said of somebody known stays as it was.

use super::fault::Fault;
use crate::domain::contact::{Contact, No, Word, checked};
use crate::domain::event::Event;
use crate::domain::farm_card::Card;
use crate::domain::ids::FarmId;
use crate::report::contact::{now, was};
use crate::report::words;
use crate::wire::error::plain;
use chrono::NaiveDate;

/// What can be told of one of the farm's people.
#[derive(Debug, Clone, Default, clap::Args)]
pub struct ContactTold {
    /// One of its people, known there or not yet
    #[arg(long, value_name = "NAME")]
    pub contact_named: Option<String>,
    /// What they do there
    #[arg(long, value_name = "TEXT", requires = "contact_named")]
    pub contact_does: Option<String>,
    /// Their telephone number
    #[arg(long, value_name = "NUMBER", requires = "contact_named")]
    pub contact_phone: Option<String>,
    /// One of its people who is there no longer
    #[arg(long, value_name = "NAME", conflicts_with = "contact_named")]
    pub contact_gone: Option<String>,
}

/// A word to write, and what is said of it.
pub struct Told {
    /// What is written.
    pub event: Event,
    /// What holds from now on, and what held before.
    pub said: String,
}

impl ContactTold {
    /// Whether anything was told.
    pub fn is_told(&self) -> bool {
        self.contact_named.is_some() || self.contact_gone.is_some()
    }

    /// The word to write about a farm, as far as it is new.
    ///
    /// # Errors
    /// Nobody of that name who could be gone; a name or a number that is none; more was told on a later day.
    pub fn word(&self, card: &Card, (farm, today): (FarmId, NaiveDate)) -> Result<Option<Told>, Fault> {
        let Some(name) = self.contact_named.as_ref().or(self.contact_gone.as_ref()) else { return Ok(None) };
        let before = card.contact(name);
        if let Some(word) = before.filter(|word| word.on > today) {
            let (who, on) = (plain(&word.contact.name), words::day(word.on));
            let hint = "The newest word holds. Say it with --today of that day or later; nothing was written.";
            return Err(Fault::usage(format!("{who} was told of on {on}, which is after {}", words::day(today)), hint));
        }
        let gone = self.contact_gone.is_some();
        // Gone is whoever is known, as they are written there.
        let name = match before.filter(|word| gone && !word.gone) {
            Some(word) => &word.contact.name,
            None if gone => return Err(nobody(name, card)),
            None => name,
        };
        let kept = |said: &Option<String>, known: fn(&Contact) -> &String| {
            let known = before.filter(|_| !gone).map(|word| known(&word.contact).clone());
            said.clone().or(known).unwrap_or_default()
        };
        let does = kept(&self.contact_does, |one| &one.does);
        let phone = kept(&self.contact_phone, |one| &one.phone);
        let contact = checked(name, &does, &phone).map_err(|why| refused(why, name, &phone))?;
        let word = Word { on: today, contact, gone };
        if before.is_some_and(|before| before.gone == gone && before.contact == word.contact) {
            return Ok(None);
        }
        let said =
            format!("contact {}{}", now(&word), before.map_or(String::new(), |word| format!("; was {}", was(word))));
        let Contact { name, does, phone } = word.contact;
        Ok(Some(Told { event: Event::ContactTold { farm, name, does, phone, gone }, said }))
    }
}

fn nobody(name: &str, card: &Card) -> Fault {
    let names: Vec<String> = card.contacts_here().map(|one| plain(&one.name)).collect();
    let hint = if names.is_empty() {
        "No contact of this farm is known; nothing was written.".to_owned()
    } else {
        format!("Those there are: {}. Nothing was written.", names.join(", "))
    };
    Fault::failed(format!("no contact there is called \"{}\"", plain(name)), hint)
}

fn refused(why: No, name: &str, phone: &str) -> Fault {
    let what = match why {
        No::NoName | No::LongName(_) => format!("a contact cannot be called \"{}\"", plain(name)),
        No::LongDoes(_) => format!("what \"{}\" does is too long", plain(name)),
        No::NoPhone => format!("\"{}\" is no telephone number", plain(phone)),
    };
    Fault::usage(what, format!("{why}; nothing was written."))
}
