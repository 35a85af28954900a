//! What works without a screen: list, show, enter, check. Each command is one file.
//!
//! A command gets its world handed in (clock, input, output) and gives back a [`Fault`] or what comes next, so that a test
//! can run it sealed. The screens are opened by whoever called, since this room knows nothing of them.

pub mod animal;
pub mod backup;
pub mod bring;
pub mod case;
pub mod check;
pub mod cli;
pub mod contact;
pub mod crash;
pub mod day_list;
pub mod day_parts;
pub mod demo;
pub mod desk;
pub mod due;
pub mod enter;
pub mod entered;
pub mod export;
pub mod farm;
pub mod farm_card;
pub mod fault;
pub mod form;
pub mod gone;
pub mod herd;
pub mod import;
pub mod instruct;
pub mod join;
pub mod json;
pub mod keys;
pub mod log;
pub mod manual;
pub mod odd;
pub mod of_farm;
pub mod place;
pub mod practice;
pub mod press;
pub mod progress;
pub mod recorder;
pub mod renumber;
mod renumbered;
pub mod rescue;
pub mod restore;
pub mod rules;
pub mod sample;
pub mod sheets;
pub mod take_off;
pub mod totals;
pub mod twice;
pub mod undo;
pub mod visit;
pub mod visits;
pub mod walk;

use crate::domain::practice::Practice;
use crate::domain::record::Moment;
use crate::keys::keymap::Keymap;
use crate::keys::trial::Trial;
use crate::report::words::Words;
use crate::store::Store;
use crate::store::error::Problem;
use chrono::NaiveDate;
use cli::{Cli, Command};
use fault::Fault;
use recorder::Recorder;
use std::io::{Read, Write};
use std::path::{Path, PathBuf};
use tempfile::TempDir;

/// All that a command needs from outside.
pub struct World<'w> {
    /// What the clock says.
    pub now: Moment,
    /// Who records what a command writes. Found where a book is opened; asked by `recorder::said_who` alone.
    pub by: Recorder,
    /// Input, read where a file is called `-`.
    pub input: &'w mut dyn Read,
    /// Where answers go.
    pub out: &'w mut dyn Write,
    /// Where problems on the way go.
    pub err: &'w mut dyn Write,
    /// Whether a person sits at a terminal.
    pub terminal: bool,
    /// Whether that terminal can do nothing but lines.
    pub dumb: bool,
    /// Whether `err` is a terminal, on which a bar can grow.
    pub watched: bool,
    /// The number of the signal that asked for the end, if one did. Asked by what takes long, between two records.
    pub stop: &'w dyn Fn() -> Option<u8>,
}

/// What comes after the command.
pub enum Next {
    /// Nothing: it is done, with this exit code.
    Done(u8),
    /// The screens are to be opened.
    Screens(Box<Opened>),
    /// Keys are to be tried, and said in these words.
    Trial(Box<Trial>, Words),
    /// The same in lines.
    Lines(Box<Opened>),
}

impl Next {
    /// Screens where they can be drawn and lines were not asked for.
    fn of(opened: Opened, cli: &Cli, world: &World) -> Next {
        let opened = Box::new(opened);
        if cli.plain || world.dumb || !world.terminal { Next::Lines(opened) } else { Next::Screens(opened) }
    }
}

/// A book ready for the screens.
pub struct Opened {
    /// The book.
    pub store: Store,
    /// The farm to begin with.
    pub farm: Option<String>,
    /// Keys.
    pub keymap: Keymap,
    /// What the practice says about itself.
    pub practice: Practice,
    /// Problems that are shown until read.
    pub problems: Vec<String>,
    /// What was wrong with the book on the way.
    pub told: Vec<Problem>,
    /// The folder in which herd lists are looked for.
    pub lists: PathBuf,
    /// A folder that goes when the screens are left.
    pub kept: Option<TempDir>,
}

/// Runs what was asked for.
///
/// # Errors
/// A [`Fault`], to be written to the person who asked.
pub fn run(cli: &Cli, world: &mut World) -> Result<Next, Fault> {
    let done = |()| Next::Done(0);
    match &cli.command {
        None => screens(cli, world),
        Some(Command::Demo) => demo::demo(cli, world),
        Some(Command::Due { farm, form }) => due::due(cli, world, farm.as_deref(), *form).map(done),
        Some(Command::Animal { number, farm, form }) => {
            animal::animal(cli, world, number, farm.as_deref(), *form).map(done)
        }
        Some(Command::Renumber { called, farm, number, tag, electronic, name, shared }) => {
            let [number, tag, electronic, name] = [number, tag, electronic, name].map(Clone::clone);
            let new = renumber::NewLabels { number, tag, electronic, name, shared: *shared };
            renumber::renumber(cli, world, called, farm.as_deref(), &new).map(done)
        }
        Some(Command::Twice { what, farm, form }) => {
            twice::twice(cli, world, what.as_ref(), farm.as_deref(), *form).map(done)
        }
        Some(Command::DayList { farm, form, blank }) => {
            day_list::day_list(cli, world, farm.as_deref(), *form, usize::from(*blank)).map(done)
        }
        Some(Command::Visits { farm, form }) => visits::visits(cli, world, farm.as_deref(), *form).map(done),
        Some(Command::Visit { farm, told, form }) => visit::visit(cli, world, farm.as_deref(), told, *form).map(done),
        Some(Command::TakeOffList { farm, form }) => take_off::take_off(cli, world, farm.as_deref(), *form).map(done),
        Some(Command::Enter { files, new_farm }) => enter::enter(cli, world, files, *new_farm).map(done),
        Some(Command::Herd { file, farm, new_farm, group, take, days, form }) => {
            let (file, farm, figures) = (file.as_deref(), farm.as_deref(), cli::figures(*days));
            let asked = herd::Asked {
                file,
                farm,
                group: group.as_deref(),
                new_farm: *new_farm,
                take: *take,
                figures,
                form: *form,
            };
            herd::herd(cli, world, &asked).map(Next::Done)
        }
        Some(Command::Walk { farm, file, form }) => walk::walk(cli, world, farm, file.as_deref(), *form).map(done),
        Some(Command::Gone { animals, missing_from: None, farm, how: _, back: true, words }) => {
            gone::back(cli, world, farm.as_deref(), (animals, words)).map(done)
        }
        Some(Command::Gone { animals, missing_from, farm, how, back: _, words }) => {
            let asked = gone::Asked { animals, missing_from: missing_from.as_deref(), how: *how, words };
            gone::gone(cli, world, farm.as_deref(), &asked).map(done)
        }
        Some(Command::Farm { name, told, contact, form }) => {
            farm_card::farm(cli, world, name.as_deref(), (told, contact.as_ref()), *form).map(done)
        }
        Some(Command::Instruct { scope, text, farm, by, why, review, vet, takes_no_horn, goes_on, end, since }) => {
            let (text, vet, end) = (text.as_deref(), vet.as_deref(), end.as_deref());
            let asked = instruct::Asked {
                scope: *scope,
                text,
                by,
                why,
                review: *review,
                vet,
                takes_no_horn: *takes_no_horn,
                goes_on: *goes_on,
                end,
                since: *since,
            };
            instruct::instruct(cli, world, farm.as_deref(), &asked).map(done)
        }
        Some(Command::Called { words, about, urgent, by, farm }) => {
            let call = of_farm::Call { words, about: about.as_deref(), urgent: *urgent, by };
            of_farm::called(cli, world, farm.as_deref(), &call).map(done)
        }
        Some(Command::Changed { change, words, since, farm }) => {
            of_farm::changed(cli, world, farm.as_deref(), (*change, words), *since).map(done)
        }
        Some(Command::Undo { farm, yes }) => undo::undo(cli, world, farm.as_deref(), *yes).map(done),
        Some(Command::Export { form, to }) => export::export(cli, world, *form, to.as_deref()).map(Next::Done),
        Some(Command::Import { files }) => import::import(cli, world, files).map(Next::Done),
        Some(Command::Join { other }) => join::join(cli, world, other).map(Next::Done),
        Some(Command::Totals { farm, form }) => totals::totals(cli, world, farm.as_deref(), *form).map(done),
        Some(Command::Rules { file, farm }) => rules::rules(cli, world, file.as_deref(), farm.as_deref()).map(done),
        Some(Command::Keys { file, attempt: false }) => keys::keys(cli, world, file.as_deref()).map(done),
        Some(Command::Keys { file, attempt: true }) => keys::attempt(cli, world, file.as_deref()),
        Some(Command::Backup { folder }) => backup::backup(cli, world, folder.as_deref()).map(Next::Done),
        Some(Command::Restore { backup, set_newer_aside }) => {
            restore::restore(cli, world, backup, *set_newer_aside).map(done)
        }
        Some(Command::Check) => check::check(cli, world).map(Next::Done),
        Some(Command::CheckHere) => check::check_here(cli, world).map(Next::Done),
        Some(Command::Rescue { damaged, to }) => rescue::rescue(world, damaged, to.as_deref()).map(Next::Done),
        Some(Command::Folders) => place::folders(cli, world).map(done),
        Some(Command::Completions { shell }) => manual::completions(world, *shell).map(done),
        Some(Command::Manual { of }) => manual::manual(world, of.as_deref()).map(done),
    }
}

fn screens(cli: &Cli, world: &mut World) -> Result<Next, Fault> {
    let book = place::book(cli)?;
    let (store, told) = place::open_and_tell(&book)?;
    Ok(Next::of(Opened { told, ..opened(cli, store, &book, None) }, cli, world))
}

/// A book with the user's own keys and words, and every problem of their files.
fn opened(cli: &Cli, store: Store, book: &Path, farm: Option<String>) -> Opened {
    let (practice, more) = practice::own(cli);
    let (keymap, mut problems) = keys::own(cli, practice.hands);
    problems.extend(more);
    let lists = place::lists(book);
    Opened { store, farm, keymap, practice, problems, told: Vec::new(), lists, kept: None }
}

/// The day that counts as today.
fn today(cli: &Cli, world: &World) -> NaiveDate {
    cli.today.unwrap_or_else(|| world.now.date_naive())
}

/// Says what was wrong on the way; the command goes on.
fn note(world: &mut World, problems: &[Problem]) -> Result<(), Fault> {
    for problem in problems {
        writeln!(world.err, "crushbook: {}", crate::report::safe::safe(&problem.to_string()))?;
    }
    Ok(())
}
