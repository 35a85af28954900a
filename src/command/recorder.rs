//! Who records what a command writes: asked in one place, by whatever writes and by nothing that only reads.

use super::World;
use super::farm::people;
use super::fault::Fault;
use crate::domain::ids::PersonId;
use crate::domain::twice::folded;
use crate::store::Store;
use crate::wire::error::plain;
use std::collections::BTreeSet;

/// Who records, as far as that is known before anything is written.
#[derive(Debug, Clone, Default)]
pub enum Recorder {
    /// Whoever was named with `--recorded-by`.
    Named(PersonId),
    /// The one person that the book knows.
    Only(PersonId),
    /// The book knows nobody.
    #[default]
    Nobody,
    /// The book knows several, of these names, and none of them was named.
    Unsaid(BTreeSet<String>),
}

/// What is to be said where it is not: whoever writes is named.
pub const OPTION: &str = "--recorded-by";

impl Recorder {
    /// Whoever was named, else the one person the book knows. Whoever it does not know is named on the screens or on a sheet, so
    /// that a slip of the pen begins nobody.
    ///
    /// # Errors
    /// Nobody is called so; what the store says.
    pub fn of(store: &Store, named: Option<&str>) -> Result<Recorder, Fault> {
        let people = people(store)?;
        let Some(named) = named else {
            return Ok(Recorder::supposed(people.iter().map(|(id, name)| (*id, name.as_str()))));
        };
        let meant = people.iter().find(|(_, name)| folded(name) == folded(named)).map(|(person, _)| *person);
        meant.map(Recorder::Named).ok_or_else(|| {
            let known: BTreeSet<&str> = people.values().map(String::as_str).collect();
            let hint = match known.is_empty() {
                true => {
                    "The book knows nobody who records yet: they are named on the screens, or on a sheet.".to_owned()
                }
                false => format!("The book knows: {}. Others are named on the screens, or on a sheet.", listed(&known)),
            };
            Fault::usage(format!("nobody who records is called {}", plain(named)), hint)
        })
    }

    /// Who records where nobody was named. One person who was named twice, and joined, is one.
    pub fn supposed<'p>(people: impl Iterator<Item = (PersonId, &'p str)> + Clone) -> Recorder {
        let names: BTreeSet<&str> = people.clone().map(|(_, name)| name).collect();
        match (people.map(|(person, _)| person).min(), names.len()) {
            (None, _) => Recorder::Nobody,
            (Some(only), 1) => Recorder::Only(only),
            (Some(_), _) => Recorder::Unsaid(names.into_iter().map(str::to_owned).collect()),
        }
    }

    /// Whoever was named for this once.
    pub fn named(&self) -> Option<PersonId> {
        match self {
            Recorder::Named(person) => Some(*person),
            Recorder::Only(_) | Recorder::Nobody | Recorder::Unsaid(_) => None,
        }
    }

    /// Whoever it is; nobody where the book knows nobody, and where it is not said.
    pub fn person(&self) -> Option<PersonId> {
        match self {
            Recorder::Named(person) | Recorder::Only(person) => Some(*person),
            Recorder::Nobody | Recorder::Unsaid(_) => None,
        }
    }
}

/// Whose a record is that is about to be written. Whatever a command writes asks here.
///
/// # Errors
/// The book knows several, and none was named.
pub fn said_who(world: &World) -> Result<Option<PersonId>, Fault> {
    match &world.by {
        Recorder::Unsaid(names) => {
            let hint = format!("Say it with {OPTION}: {}; nothing was written.", listed(names));
            Err(Fault::usage("who records is not said", hint))
        }
        Recorder::Named(_) | Recorder::Only(_) | Recorder::Nobody => Ok(world.by.person()),
    }
}

/// Names in a sentence.
pub fn listed<'n>(names: impl IntoIterator<Item = &'n (impl AsRef<str> + 'n + ?Sized)>) -> String {
    let names: Vec<String> = names.into_iter().map(|name| plain(name.as_ref())).collect();
    names.join(", ")
}
