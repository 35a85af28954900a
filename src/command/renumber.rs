//! `crushbook renumber`: another number, tag, electronic number or name. The old one still finds her.

use super::cli::Cli;
use super::farm::Farms;
use super::fault::Fault;
use super::press::press;
use super::renumbered::say;
use super::{World, note, place, today};
use crate::domain::event::Event;
use crate::domain::herd::Labels;
use crate::domain::history::History;
use crate::domain::label::{Label, bears};
use crate::domain::sheet::check::doubtful;
use crate::domain::vocabulary::Vocabulary;
use crate::report::safe::safe;
use crate::wire::error::plain;

/// Writes what is new on an animal.
///
/// # Errors
/// An animal that is not there; a number that another wears; what cannot be kept as one; nothing that she would be called by.
pub fn renumber(cli: &Cli, world: &mut World, number: &str, farm: Option<&str>, new: &NewLabels) -> Result<(), Fault> {
    place::with_book(cli, world, |store, world| {
        let (farms, problems) = Farms::of(store)?;
        note(world, &problems)?;
        let farm = farms.meant(farm)?;
        let name = farms.name(farm);
        let animal = super::animal::meant(store, farm, &name, number)?;
        let history = History::of(store.records(animal.0)?.0, animal);
        let mut labels = history.labels.clone();
        let new_labels = new.checked()?;
        for (label, text) in &new_labels {
            label.set(&mut labels, text);
        }
        if labels == history.labels {
            let hint = "Say what is new: --number, --tag, --electronic or --name.";
            return Err(Fault::usage(format!("{} is called so already", safe(number)), hint));
        }
        let (herd, problems) = store.animals(farm)?;
        note(world, &problems)?;
        let others = || herd.iter().filter(|row| row.left.is_none() && row.of != animal);
        for (_, text) in new_labels.iter().filter(|(label, text)| label.is_one_animals() && !text.is_empty()) {
            if others().any(|row| bears(&row.labels, text)) && !new.shared {
                return Err(Fault::failed(
                    format!("another animal of {} is called {}", safe(&name), safe(text)),
                    "If they are one, join them with crushbook twice join; if both bear it, say --shared.",
                ));
            }
        }
        if labels == Labels::default() {
            let hint =
                "Nothing was written. Say first what she is called instead: --number, --tag, --electronic or --name.";
            return Err(Fault::usage(format!("nothing would be left that {} is called by", safe(number)), hint));
        }
        let event = Event::Renumbered { animal, labels: labels.clone() };
        let odd = doubtful(&event, &history, today(cli, world));
        press(store, cli, world, vec![(animal.0, event)])?;
        say(world, &history.labels, &labels)?;
        for (value, what) in odd {
            writeln!(world.err, "crushbook: \"{}\": {what}", safe(&value))?;
        }
        Ok(())
    })
}

/// What is new on an animal.
pub struct NewLabels {
    /// Working number; empty: she has none any more.
    pub number: Option<String>,
    /// Ear tag.
    pub tag: Option<String>,
    /// Electronic number.
    pub electronic: Option<String>,
    /// Name.
    pub name: Option<String>,
    /// Whether another may bear it too.
    pub shared: bool,
}

impl NewLabels {
    /// What is new, as it is kept.
    fn checked(&self) -> Result<Vec<(Label, String)>, Fault> {
        let told = [
            (Label::Number, &self.number),
            (Label::Tag, &self.tag),
            (Label::Electronic, &self.electronic),
            (Label::Name, &self.name),
        ];
        let told = told.into_iter().filter_map(|(label, text)| Some((label, text.as_ref()?)));
        told.map(|(label, text)| match label.checked(text) {
            Ok(text) => Ok((label, text)),
            Err(why) => {
                let what = format!("the {} cannot be \"{}\": {why}", label.word().replace('-', " "), plain(text));
                Err(Fault::usage(what, format!("Nothing was written; {}.", why.instead())))
            }
        })
        .collect()
    }
}
