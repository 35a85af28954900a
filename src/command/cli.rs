//! What can be asked for on the command line: one definition, from which parsing and `--help` come.

use crate::domain::practice::Region;
use crate::domain::vocabulary::Vocabulary;
use crate::report::safe::safe;
use chrono::NaiveDate;
use clap::{Parser, Subcommand, ValueEnum};
use clap_complete::Shell;
use std::io::Write;
use std::path::PathBuf;

/// A record of cattle feet for the people who trim them: eight claws, single keys, and every wrap that must come off.
///
/// Without a command the screens are opened, or lines where there is no terminal. A record and a reminder, no diagnosis: treatment and medicines belong to the
/// animal's vet.
#[derive(Debug, Parser)]
#[command(name = "crushbook", version)]
pub struct Cli {
    /// The book to work with, instead of the one in your data folder
    #[arg(long, global = true, value_name = "FILE")]
    pub book: Option<PathBuf>,
    /// Look at the book as at the end of that day: 2026-05-14 or "14 May 2026"
    #[arg(long, global = true, value_name = "DATE", value_parser = day)]
    pub today: Option<NaiveDate>,
    /// Say it in the words of this region, whatever the practice's file says
    #[arg(long, global = true, value_name = "REGION", value_parser = region)]
    pub region: Option<Region>,
    /// Line by line instead of screens: for screen readers, braille, scripts, and terminals that can do no more
    #[arg(long, global = true)]
    pub plain: bool,
    /// What to do; the screens are opened where nothing is said
    #[command(subcommand)]
    pub command: Option<Command>,
}

/// What can be done without a screen.
#[derive(Debug, Subcommand)]
pub enum Command {
    /// Open a fresh copy of the sample herd (kept only with --book); in a pipe, without --plain: due list and map as text
    Demo,
    /// List wraps, blocks and findings that are due, most urgent first
    Due {
        /// Only this farm
        #[arg(long, value_name = "FARM")]
        farm: Option<String>,
        /// How to write it
        #[arg(long = "as", value_name = "FORM", value_enum, default_value_t = ListForm::Text)]
        form: ListForm,
    },
    /// List who should come through today and why, to print and tick off; or sheets to write upon
    DayList {
        /// The farm; may be left out where the book holds one farm only
        #[arg(long, value_name = "FARM")]
        farm: Option<String>,
        /// How to write it
        #[arg(long = "as", value_name = "FORM", value_enum, default_value_t = DayListForm::Text)]
        form: DayListForm,
        /// So many sheets with nothing on them behind the others
        #[arg(long, value_name = "COUNT", default_value_t = 0, value_parser = clap::value_parser!(u16).range(..=500))]
        blank: u16,
    },
    /// Add up a day at a farm: animals, feet, blocks, wraps
    Totals {
        /// The farm; may be left out where the book holds one farm only
        #[arg(long, value_name = "FARM")]
        farm: Option<String>,
        /// How to write it
        #[arg(long = "as", value_name = "FORM", value_enum, default_value_t = ListForm::Text)]
        form: ListForm,
    },
    /// Show one animal: what is open, her last map, all her turns
    Animal {
        /// Her number, tag, electronic number or name
        number: String,
        /// Her farm; may be left out where the book holds one farm only
        #[arg(long, value_name = "FARM")]
        farm: Option<String>,
        /// How to write it
        #[arg(long = "as", value_name = "FORM", value_enum, default_value_t = AnimalForm::Text)]
        form: AnimalForm,
    },
    /// Say that an animal has another number, tag or name; the old one still finds her
    Renumber {
        /// What she is called until now
        called: String,
        /// Her farm; may be left out where the book holds one farm only
        #[arg(long, value_name = "FARM")]
        farm: Option<String>,
        /// Her new number; "" where she has none any more
        #[arg(long, value_name = "NUMBER")]
        number: Option<String>,
        /// Her new ear tag; "" where she lost it
        #[arg(long, value_name = "TAG")]
        tag: Option<String>,
        /// Her new electronic number
        #[arg(long, value_name = "NUMBER")]
        electronic: Option<String>,
        /// Her name
        #[arg(long, value_name = "NAME")]
        name: Option<String>,
        /// Another animal may bear it too
        #[arg(long)]
        shared: bool,
    },
    /// List animals, farms and people that may be in the book twice; join them, keep them apart, part them again
    Twice {
        /// What to do; without it they are listed
        #[command(subcommand)]
        what: Option<TwiceWhat>,
        /// Only animals of this farm
        #[arg(long, global = true, value_name = "FARM")]
        farm: Option<String>,
        /// How to write the list
        #[arg(long = "as", value_name = "FORM", value_enum, default_value_t = ListForm::Text)]
        form: ListForm,
    },
    /// What a farm is to take off, for paper and telephone: which foot, by when, and how
    TakeOffList {
        /// The farm; may be left out where the book holds one farm only
        #[arg(long, value_name = "FARM")]
        farm: Option<String>,
        /// How to write it
        #[arg(long = "as", value_name = "FORM", value_enum, default_value_t = TakeOffForm::Text)]
        form: TakeOffForm,
    },
    /// Type up sheets: all of them, or none where one has a mistake
    Enter {
        /// Sheets; - reads one from the input
        #[arg(required = true, value_name = "FILE")]
        files: Vec<PathBuf>,
        /// Begin a farm that the book does not know yet
        #[arg(long)]
        new_farm: bool,
    },
    /// Write all records of the book, for another tablet or as a copy that any program can read
    Export {
        /// How to write it
        #[arg(long = "as", value_name = "FORM", value_enum, default_value_t = ExportForm::Jsonl)]
        form: ExportForm,
        /// Into this file, or into this folder under the name of this book's own series
        #[arg(long, value_name = "FILE")]
        to: Option<PathBuf>,
    },
    /// Take in exchange files that crushbook export wrote
    Import {
        /// Exchange files; - reads one from the input
        #[arg(required = true, value_name = "FILE")]
        files: Vec<PathBuf>,
    },
    /// Take in what is new in another tablet's book, or in a folder of exchange files; the other is never written to
    Join {
        /// A book, an exchange file, or a folder of exchange files
        #[arg(value_name = "OTHER")]
        other: PathBuf,
    },
    /// Print the key table, or every problem of a keymap file
    Keys {
        /// A keymap file to look through
        file: Option<PathBuf>,
    },
    /// Print the rules in force as a file, or adopt such a file
    Rules {
        /// A file of rules to adopt; what it does not say stays as it was
        file: Option<PathBuf>,
        /// For this farm only
        #[arg(long, value_name = "FARM")]
        farm: Option<String>,
    },
    /// Make a backup of the book: checked, dated, the last ten kept and then one a month
    Backup {
        /// The folder to make it in, instead of the one that the practice's file names
        #[arg(value_name = "FOLDER")]
        folder: Option<PathBuf>,
    },
    /// Put a backup in the place of the book, which is set aside and kept
    Restore {
        /// The backup
        #[arg(value_name = "BACKUP")]
        backup: PathBuf,
        /// Set the book aside even where it holds records that the backup lacks, or cannot be read
        #[arg(long)]
        set_newer_aside: bool,
    },
    /// Check every checksum, and that every list equals a replay of the records
    Check,
    /// Take every record that can still be read out of a damaged file, or any file, into a new book
    Rescue {
        /// The damaged book, a copy cut off, or a whole disk image; it is read and nothing else
        #[arg(value_name = "DAMAGED")]
        damaged: PathBuf,
        /// The new book; where nothing is said, beside the damaged one
        #[arg(long, value_name = "NEW")]
        to: Option<PathBuf>,
    },
    /// Print where the book and your keys are kept
    Folders,
    /// Print what a shell needs to complete commands and options
    Completions {
        /// The shell
        #[arg(value_enum)]
        shell: Shell,
    },
    /// Print the manual page, or that of one command
    Manual {
        /// The command
        #[arg(value_name = "COMMAND")]
        of: Option<String>,
    },
    /// Check in this very process
    #[command(hide = true)]
    CheckHere,
}

impl Command {
    /// Its name, as it is typed.
    pub fn name(&self) -> &'static str {
        match self {
            Command::Demo => "demo",
            Command::Due { .. } => "due",
            Command::DayList { .. } => "day-list",
            Command::Totals { .. } => "totals",
            Command::Animal { .. } => "animal",
            Command::TakeOffList { .. } => "take-off-list",
            Command::Enter { .. } => "enter",
            Command::Keys { .. } => "keys",
            Command::Rules { .. } => "rules",
            Command::Renumber { .. } => "renumber",
            Command::Twice { .. } => "twice",
            Command::Backup { .. } => "backup",
            Command::Restore { .. } => "restore",
            Command::Export { .. } => "export",
            Command::Import { .. } => "import",
            Command::Join { .. } => "join",
            Command::Check => "check",
            Command::Rescue { .. } => "rescue",
            Command::Folders => "folders",
            Command::Completions { .. } => "completions",
            Command::Manual { .. } => "manual",
            Command::CheckHere => "check-here",
        }
    }
}

/// What is done about two that may be one.
#[derive(Debug, Clone, Subcommand)]
pub enum TwiceWhat {
    /// They are one: a pair by its number in the list, or two animals by what they are called
    Join {
        /// The number of a pair, or two animals
        #[arg(required = true, num_args = 1..=2, value_name = "PAIR or ANIMAL")]
        which: Vec<String>,
    },
    /// They are two, and are not asked about again
    KeepApart {
        /// The number of the pair in the list
        #[arg(value_name = "PAIR")]
        number: String,
    },
    /// They were joined, and are two after all: a pair by its number, or an animal with --farm
    Part {
        /// The number of the pair in the list, or an animal that was joined
        #[arg(value_name = "PAIR or ANIMAL")]
        which: String,
    },
}

/// How a list is written.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum ListForm {
    /// For people
    Text,
    /// For programs
    Json,
}

/// How the list of a day is written.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum DayListForm {
    /// For people, with a box to tick for each animal
    Text,
    /// For programs
    Json,
    /// Sheets to write upon, each with what is to be answered
    Sheet,
}

/// How an animal is written.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum AnimalForm {
    /// For people
    Text,
    /// For programs
    Json,
    /// Sheets, ready to be entered into another book
    Sheet,
}

/// How a take-off list is written.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum TakeOffForm {
    /// 48 columns, for a receipt printer or a message
    Text,
    /// One page with small maps, for paper and telephone
    Html,
    /// Days for a calendar (iCalendar)
    Ics,
    /// For programs
    Json,
}

/// Says why the arguments cannot be read, with what was typed made harmless; or prints help where that was asked for.
/// Gives the exit code.
pub fn refused(error: &clap::Error, err: &mut dyn Write) -> u8 {
    // Where this cannot be written, the exit code still tells.
    if !error.use_stderr() {
        let _ = error.print();
        return 0;
    }
    for line in error.to_string().lines() {
        let _ = writeln!(err, "{}", safe(line));
    }
    2
}

/// How a whole book is written.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum ExportForm {
    /// The exchange file: one record a line, loss-free both ways
    Jsonl,
}

fn region(text: &str) -> Result<Region, String> {
    let known: Vec<&str> = Region::ALL.iter().map(|region| region.word()).collect();
    Region::from_word(text).ok_or_else(|| format!("the regions are {}", known.join(", ")))
}

/// Ways to write a day on the command line.
const DAYS: [&str; 3] = ["%Y-%m-%d", "%d %b %Y", "%d %B %Y"];

fn day(text: &str) -> Result<NaiveDate, String> {
    DAYS.iter()
        .find_map(|form| NaiveDate::parse_from_str(text.trim(), form).ok())
        .ok_or_else(|| "write the day like 2026-05-14 or \"14 May 2026\"".to_owned())
}
