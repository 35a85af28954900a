//! What can be asked for on the command line: one definition, from which parsing and `--help` come.

use super::contact::ContactTold;
use super::form::{AnimalForm, DayListForm, ExportForm, FarmForm, ListForm, TableForm, TakeOffForm};
use super::visit::VisitTold;
use crate::domain::herd::{Change, Leaving, Scope};
use crate::domain::herd_list::figures::Figures;
use crate::domain::practice::{Hands, Region};
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
    /// Who records what is written; where the book knows one person only, it is that one; where it knows
    /// several, whatever writes asks for it
    #[arg(long, global = true, value_name = "NAME")]
    pub recorded_by: Option<String>,
    /// Say it in the words of this region, whatever the practice's file says
    #[arg(long, global = true, value_name = "REGION", value_parser = region)]
    pub region: Option<Region>,
    /// Use this keymap, whatever the practice's file says; a keymap file of your own comes before both
    #[arg(long, global = true, value_name = "KEYS", value_parser = hands)]
    pub keys: Option<Hands>,
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
    /// List where you were and when, the newest visit first
    Visits {
        /// Only this farm
        #[arg(long, value_name = "FARM")]
        farm: Option<String>,
        /// How to write it
        #[arg(long = "as", value_name = "FORM", value_enum, default_value_t = TableForm::Text)]
        form: TableForm,
    },
    /// Show the visit of a day added up, or say one thing of it: begun, set aside, gone on with, washed, closed
    Visit {
        /// The farm; may be left out where the book holds one farm only
        farm: Option<String>,
        /// What is said
        #[command(flatten)]
        told: VisitTold,
        /// How to write it
        #[arg(long = "as", value_name = "FORM", value_enum, default_value_t = ListForm::Text)]
        form: ListForm,
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
    /// Show the herd of a farm, or what a list of it would change; with --take, take the list
    Herd {
        /// A list with the columns' names in its first line; - reads it from the input. Without one the herd is shown
        file: Option<PathBuf>,
        /// The farm; may be left out where the book holds one farm only
        #[arg(long, value_name = "FARM")]
        farm: Option<String>,
        /// Begin a farm that the book does not know yet
        #[arg(long, requires = "farm")]
        new_farm: bool,
        /// Of the herd as it is only this group
        #[arg(long, value_name = "GROUP", conflicts_with = "file")]
        group: Option<String>,
        /// Take the list: all of it, or nothing where anything is bad; or the good rows only
        #[arg(long, value_enum)]
        take: Option<Take>,
        /// Which comes first in days like 03/04/2026
        #[arg(long, value_enum, value_name = "ORDER")]
        days: Option<DayOrder>,
        /// How to write it
        #[arg(long = "as", value_name = "FORM", value_enum, default_value_t = TableForm::Text)]
        form: TableForm,
    },
    /// Print the scoring walk of the day at a farm; with a list, take that walk in first: all of it, or nothing
    Walk {
        /// The farm
        farm: String,
        /// A line for each animal, her number and her score: 1394 2 or 1394,2; - reads them from the input
        file: Option<PathBuf>,
        /// How to write it
        #[arg(long = "as", value_name = "FORM", value_enum, default_value_t = TableForm::Text)]
        form: TableForm,
    },
    /// Say that animals have left a farm, or with --back that they are back; what is still on them stays on the due list
    Gone {
        /// Their numbers, tags, electronic numbers or names
        #[arg(required_unless_present = "missing_from", value_name = "ANIMAL")]
        animals: Vec<String>,
        /// Everybody whom this herd list does not name, but for those with something on: these are named one by one
        #[arg(long, value_name = "LIST", conflicts_with = "animals")]
        missing_from: Option<PathBuf>,
        /// Their farm; may be left out where the book holds one farm only
        #[arg(long, value_name = "FARM")]
        farm: Option<String>,
        /// How they left: gone (not told how), sold, died, slaughter
        #[arg(long, value_name = "HOW", value_parser = leaving, default_value = "gone")]
        how: Leaving,
        /// They had left and are back
        #[arg(long, conflicts_with_all = ["missing_from", "how"])]
        back: bool,
        /// More about it
        #[arg(long, value_name = "TEXT", default_value = "")]
        words: String,
    },
    /// Show what is known of the farms, or tell something about one: its history stays
    Farm {
        /// The farm; without one all are shown
        name: Option<String>,
        /// What is told; "" where it holds no longer
        #[command(flatten)]
        told: FarmTold,
        /// What is told of one of its people
        #[command(flatten)]
        contact: Box<ContactTold>,
        /// How to write it
        #[arg(long = "as", value_name = "FORM", value_enum, default_value_t = FarmForm::Text)]
        form: FarmForm,
    },
    /// Give a standing instruction for a farm, review one with --goes-on, or end it with --end
    Instruct {
        /// Whom it is for: all, fronts, hinds, outer-hind, inner-hind, outer-front, inner-front
        #[arg(value_name = "FEET", value_parser = scope)]
        scope: Scope,
        /// What is to be done at each of these; with --goes-on or --end some words of the one that is meant, where several hold
        #[arg(required_unless_present_any = ["end", "goes_on"])]
        text: Option<String>,
        /// The farm; may be left out where the book holds one farm only
        #[arg(long, value_name = "FARM")]
        farm: Option<String>,
        /// Who asked for it; said of each that is given
        #[arg(long, value_name = "NAME", default_value = "")]
        by: String,
        /// Why it is done; said of each that is given. With --goes-on what was seen
        #[arg(long, value_name = "TEXT", default_value = "")]
        why: String,
        /// The day to look at it again
        #[arg(long, value_name = "DATE", value_parser = day)]
        review: Option<NaiveDate>,
        /// It takes horn away, and this vet was asked
        #[arg(long, value_name = "NAME", conflicts_with_all = ["goes_on", "end"])]
        vet: Option<String>,
        /// It takes no horn away
        #[arg(long, conflicts_with_all = ["vet", "goes_on", "end"])]
        takes_no_horn: bool,
        /// It was looked at again and goes on, until the next review
        #[arg(long)]
        goes_on: bool,
        /// It holds no longer, and why
        #[arg(long, value_name = "WHY", conflicts_with = "goes_on")]
        end: Option<String>,
        /// With --goes-on or --end: the day on which the one that is meant was given
        #[arg(long, value_name = "DATE", value_parser = day)]
        since: Option<NaiveDate>,
    },
    /// Write down a call of a farm, about an animal or about itself
    Called {
        /// What was said
        words: String,
        /// Whom it is about: her number, tag, electronic number or name
        #[arg(long, value_name = "ANIMAL")]
        about: Option<String>,
        /// It cannot wait: she is swollen, smells, or is lamer with something on
        #[arg(long)]
        urgent: bool,
        /// Who called
        #[arg(long, value_name = "NAME", default_value = "")]
        by: String,
        /// The farm; may be left out where the book holds one farm only
        #[arg(long, value_name = "FARM")]
        farm: Option<String>,
    },
    /// Write down that something changed on a farm which may show in its feet
    Changed {
        /// What: footbath, mats, housed, turned-out, feed, other
        #[arg(value_name = "WHAT", value_parser = change)]
        change: Change,
        /// More about it
        #[arg(default_value = "")]
        words: String,
        /// The day it changed; today where it is left out
        #[arg(long, value_name = "DATE", value_parser = day)]
        since: Option<NaiveDate>,
        /// The farm; may be left out where the book holds one farm only
        #[arg(long, value_name = "FARM")]
        farm: Option<String>,
    },
    /// Show what was last written about a farm and its herd from here; with --yes, take it back
    Undo {
        /// The farm; may be left out where the book holds one farm only
        #[arg(long, value_name = "FARM")]
        farm: Option<String>,
        /// Take it back
        #[arg(long)]
        yes: bool,
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
    /// Print the key table, or every problem of a keymap file; --try says what each key press comes to
    Keys {
        /// A keymap file to look through, or to try
        file: Option<PathBuf>,
        /// Press keys and see what they are read as and mean; in a pipe: names of keys, a line each
        #[arg(long = "try")]
        attempt: bool,
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
            Command::Visits { .. } => "visits",
            Command::Visit { .. } => "visit",
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
            Command::Herd { .. } => "herd",
            Command::Walk { .. } => "walk",
            Command::Gone { .. } => "gone",
            Command::Farm { .. } => "farm",
            Command::Instruct { .. } => "instruct",
            Command::Called { .. } => "called",
            Command::Changed { .. } => "changed",
            Command::Undo { .. } => "undo",
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

/// How much of a herd list is taken.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum Take {
    /// All of it; nothing where any row is bad
    All,
    /// The good rows; the bad ones are listed
    Good,
}

/// What comes first in a day written in figures.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum DayOrder {
    /// 14/05/2026
    DayFirst,
    /// 05/14/2026
    MonthFirst,
}

/// What can be told about a farm. The options are called as the facts are in sheets.
#[derive(Debug, Clone, Default, clap::Args)]
pub struct FarmTold {
    /// Its name from now on
    #[arg(long = "name", value_name = "NAME", id = "new-name")]
    pub name: Option<String>,
    /// Its telephone number
    #[arg(long, value_name = "NUMBER")]
    pub phone: Option<String>,
    /// Who answers there
    #[arg(long, value_name = "NAME")]
    pub contact: Option<String>,
    /// Its vet
    #[arg(long, value_name = "NAME")]
    pub vet: Option<String>,
    /// The vet's telephone number
    #[arg(long, value_name = "NUMBER")]
    pub vet_phone: Option<String>,
    /// How many animals it has
    #[arg(long, value_name = "COUNT")]
    pub herd_size: Option<String>,
    /// How gait is scored there: 0-3 or 1-5
    #[arg(long, value_name = "SCALE")]
    pub gait_scale: Option<String>,
    /// Its address
    #[arg(long, value_name = "TEXT")]
    pub address: Option<String>,
    /// A note, shown on Today
    #[arg(long, value_name = "TEXT")]
    pub note: Option<String>,
    /// The group in which unknown numbers are new
    #[arg(long, value_name = "GROUP")]
    pub new_animals: Option<String>,
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

fn region(text: &str) -> Result<Region, String> {
    word(text, "regions")
}

fn hands(text: &str) -> Result<Hands, String> {
    word(text, "keymaps")
}

/// Which way round days in figures are.
pub fn figures(days: Option<DayOrder>) -> Figures {
    match days {
        None => Figures::Unsaid,
        Some(DayOrder::DayFirst) => Figures::DayFirst,
        Some(DayOrder::MonthFirst) => Figures::MonthFirst,
    }
}

fn leaving(text: &str) -> Result<Leaving, String> {
    word(text, "ways to leave")
}

fn scope(text: &str) -> Result<Scope, String> {
    word(text, "feet")
}

fn change(text: &str) -> Result<Change, String> {
    word(text, "changes")
}

/// A member of a list by its word, or which there are.
pub(super) fn word<V: Vocabulary>(text: &str, what: &str) -> Result<V, String> {
    let known: Vec<&str> = V::ALL.iter().map(|one| one.word()).collect();
    V::from_word(text.trim()).ok_or_else(|| format!("the {what} are {}", known.join(", ")))
}

/// Ways to write a day on the command line.
const DAYS: [&str; 3] = ["%Y-%m-%d", "%d %b %Y", "%d %B %Y"];

fn day(text: &str) -> Result<NaiveDate, String> {
    DAYS.iter()
        .find_map(|form| NaiveDate::parse_from_str(text.trim(), form).ok())
        .ok_or_else(|| "write the day like 2026-05-14 or \"14 May 2026\"".to_owned())
}
