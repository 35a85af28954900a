//! How what is asked for on the command line is written.

use clap::ValueEnum;

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
    /// A table for spreadsheets
    Csv,
    /// Sheets to write upon, each with what is to be answered
    Sheet,
}

/// How what has a row for each of many is written.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum TableForm {
    /// For people
    Text,
    /// A table for spreadsheets; of a herd in the columns in which a list is read
    Csv,
    /// For programs
    Json,
}

/// How what is known of a farm is written.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum FarmForm {
    /// For people
    Text,
    /// A table for spreadsheets
    Csv,
    /// For programs
    Json,
    /// Sheets of what was told of it and of its visits, ready to be entered into another book
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

/// How a whole book is written.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum ExportForm {
    /// The exchange file: one record a line, loss-free both ways
    Jsonl,
}
