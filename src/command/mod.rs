//! What works without a screen: one file a command, and one definition of the command line.
//!
//! Output goes to the writer that is handed in, messages to the caller as a [`fault::Fault`].

pub mod animal;
pub mod book;
pub mod check;
pub mod demo;
pub mod due;
pub mod enter;
pub mod fault;
pub mod keys;
pub mod ledger;

use chrono::NaiveDate;
use clap::{Parser, Subcommand, ValueEnum};
use fault::Fault;
use std::io::Write;
use std::path::PathBuf;

/// A record of cattle feet for the people who trim them.
///
/// Without a command the screens open. A record and a reminder, no diagnosis: treatment, medicines and anaesthesia belong
/// to the animal's vet and to local law.
#[derive(Debug, Parser)]
#[command(name = "crushbook", version, about, long_about)]
pub struct Cli {
    /// Book to use instead of the one in your data folder.
    #[arg(long, global = true, value_name = "FILE")]
    pub book: Option<PathBuf>,
    /// Look at the book as at the end of this day: 2026-05-14.
    #[arg(long, global = true, value_name = "DATE")]
    pub today: Option<NaiveDate>,
    /// What to do.
    #[command(subcommand)]
    pub command: Option<Command>,
}

/// Commands.
#[derive(Debug, Subcommand)]
pub enum Command {
    /// Open a fresh copy of the sample herd; with --book it is kept.
    Demo,
    /// Wraps, blocks and looks that are due, most urgent first.
    Due {
        /// Only this farm.
        #[arg(long)]
        farm: Option<String>,
        /// Form of the output.
        #[arg(long = "as", value_enum, default_value_t = Form::Text)]
        form: Form,
    },
    /// Everything recorded of one animal, newest first.
    Animal {
        /// Her number.
        number: String,
        /// Her farm; may be left out where the book holds one farm.
        #[arg(long)]
        farm: Option<String>,
        /// Form of the output.
        #[arg(long = "as", value_enum, default_value_t = AnimalForm::Text)]
        form: AnimalForm,
    },
    /// Type up sheets from files, or from standard input with -.
    Enter {
        /// Sheets.
        #[arg(required = true)]
        files: Vec<PathBuf>,
        /// Begin farms that the book does not know yet.
        #[arg(long)]
        new_farm: bool,
    },
    /// The key table, or every problem of a keymap file.
    Keys {
        /// A keymap file to check.
        file: Option<PathBuf>,
    },
    /// Check every checksum, and that what is derived equals a replay.
    Check,
    /// The folders that are used.
    Folders,
    /// Checks in this process: what `check` runs beside itself.
    #[command(hide = true)]
    CheckHere,
}

/// Form of a list.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum Form {
    /// For people.
    Text,
    /// For programs.
    Json,
}

/// Form of an animal.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum AnimalForm {
    /// For people, with the last map.
    Text,
    /// For programs.
    Json,
    /// In the notation of `enter`.
    Sheet,
}

/// The moment a command is run, and whether a person sees its output.
#[derive(Debug, Clone, Copy)]
pub struct Here {
    /// The clock.
    pub now: crate::domain::record::Moment,
    /// Standard output is a terminal.
    pub terminal: bool,
}

impl Cli {
    /// The day that is meant.
    pub fn day(&self, here: &Here) -> NaiveDate {
        self.today.unwrap_or(here.now.date_naive())
    }
}

/// What is left to do after a command: the screens are the caller's.
pub enum Done {
    /// Nothing; leave with this code.
    Code(u8),
    /// Open the screens on this book. The folder of a temporary book goes when it is dropped.
    Screens(Box<crate::store::Store>, Option<tempfile::TempDir>, Vec<String>),
}

/// Does what the command line says.
///
/// # Errors
/// [`Fault`], ready to be shown.
pub fn run(cli: &Cli, here: &Here, out: &mut dyn Write) -> Result<Done, Fault> {
    match &cli.command {
        None if !here.terminal => Err(Fault::usage("the screens need a terminal", "run `crushbook due` for a list")),
        None => {
            let (store, problems) = book::open(cli.book.as_deref())?;
            Ok(Done::Screens(Box::new(store), None, problems))
        }
        Some(Command::Demo) => demo::run(cli, here, out),
        Some(Command::Due { farm, form }) => due::run(cli, here, farm.as_deref(), *form, out),
        Some(Command::Animal { number, farm, form }) => animal::run(cli, here, number, farm.as_deref(), *form, out),
        Some(Command::Enter { files, new_farm }) => enter::run(cli, here, files, *new_farm, out),
        Some(Command::Keys { file }) => keys::run(file.as_deref(), out),
        Some(Command::Check) => check::run(cli, out),
        Some(Command::CheckHere) => check::here(cli, out),
        Some(Command::Folders) => book::folders(out),
    }
}
