//! Herd lists: a table of animals as farms send it (RFC 4180, `,` or `;`), columns in any order by the name at their head.
//!
//! Every bad cell is listed with line, column, value and why; good rows are handed back beside them, and the caller
//! decides whether they come in. Numbers of animals are text and stay as they are written. Whom a row means, and whether two
//! rows can be meant together, is not told here but in [`crate::domain::herd_list::compare`].

use super::herd_text::{Text, line_of, text as text_of};
use super::plain_text::{NO_TEXT, is_no_text};
use super::table::restored;
use crate::domain::flood;
use crate::domain::herd::{Herd, Labels, Status};
use crate::domain::herd_list::Row;
use crate::domain::herd_list::cell::{self, NoText};
use crate::domain::herd_list::column::Column;
use crate::domain::herd_list::figures::Figures;
use crate::domain::letters::is_unseen;
use crate::domain::vocabulary::Vocabulary;
use chrono::{Datelike, NaiveDate};
use std::collections::BTreeMap;

/// What is wrong with a list, and where.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{file}:{line}: column {column}, {value:?}: {why}")]
pub struct RowProblem {
    /// File the list came from.
    pub file: String,
    /// Line, from 1.
    pub line: u64,
    /// Name of the column; "all" where it is the whole line.
    pub column: String,
    /// What stands there.
    pub value: String,
    /// What is wrong with it, and what to do.
    pub why: String,
}

/// A herd list, read.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct HerdList {
    /// Good rows.
    pub rows: Vec<Row>,
    /// Rows with a problem: as much of each as could be read, to know whom they name. Nothing of them comes in.
    pub unread: Vec<Row>,
    /// Everything wrong with those.
    pub problems: Vec<RowProblem>,
    /// What is wrong with the list as a whole: then no row of it can be trusted.
    pub broken: Vec<RowProblem>,
    /// Said for information: columns and states this program does not know, a list that was not UTF-8.
    pub notices: Vec<String>,
    /// The columns it has.
    pub columns: Vec<Column>,
    /// Names of columns that are not known.
    pub left_out: Vec<String>,
    /// Said where rows may be lost in a cell of several lines, by quotes that may be meant so.
    pub tall: Option<String>,
}

/// How a cell is kept. The reason says what to write instead.
type Keep = fn(&mut Row, &str, Figures) -> Result<(), &'static str>;

/// Columns in the order in which they are named to people, each with further names that lists give it. The first is the
/// column's own; the others are common practice of the trade in its regions, and no source was looked up. A dash, a line
/// below, a dot or a capital makes no difference, nor whether it says number, no. or #.
const COLUMNS: [(Column, &[&str], Keep); 12] = [
    (
        Column::Number,
        &[
            "cow",
            "cow number",
            "animal",
            "animal number",
            "working number",
            "flag tag",
            "collar",
            "collar number",
            "freeze brand",
        ],
        |row, cell, _| text(&mut row.labels.number, cell),
    ),
    (
        Column::Tag,
        &["ear tag", "eartag", "tag number", "ear tag number", "eartag number", "printed tag", "official tag"],
        |row, cell, _| text(&mut row.labels.tag, cell),
    ),
    (
        Column::Electronic,
        &["electronic", "electronic tag", "electronic id", "eid", "eid number", "rfid", "transponder"],
        |row, cell, _| electronic(row, cell),
    ),
    (Column::Name, &["cow name", "animal name"], |row, cell, _| text(&mut row.labels.name, cell)),
    (Column::Breed, &[], |row, cell, _| text(&mut row.herd.breed, cell)),
    (Column::Born, &["birth", "birth date", "date born", "date of birth", "dob"], |row, cell, figures| {
        day(&mut row.herd.born, cell, figures)
    }),
    (Column::Lactation, &["lactation number", "lact", "lact number", "parity"], |row, cell, _| lactation(row, cell)),
    (
        Column::Calved,
        &["calving date", "date calved", "last calving", "last calving date", "last calved", "fresh date"],
        |row, cell, figures| day(&mut row.herd.calved, cell, figures),
    ),
    (Column::DryFrom, &["dry", "dried off", "dry date", "dry off date", "date dried off"], |row, cell, figures| {
        day(&mut row.herd.dry_from, cell, figures)
    }),
    (Column::DueToCalve, &["due", "due date", "due calving", "expected calving"], |row, cell, figures| {
        day(&mut row.herd.due_to_calve, cell, figures)
    }),
    (Column::Group, &["pen", "mob", "herd group", "string"], |row, cell, _| text(&mut row.herd.group, cell)),
    (Column::Status, &["state"], |row, cell, _| status(row, cell)),
];

/// Names that may mean a column where no surer one does: a list may have her number and another one of the office.
const PERHAPS: [(&str, Column); 5] = [
    ("animal id", Column::Number),
    ("cow id", Column::Number),
    ("management number", Column::Number),
    ("id", Column::Number),
    ("id number", Column::Number),
];

/// Words for a state besides its own, common practice of the trade.
const STATES: [(&str, Status); 10] = [
    ("milking", Status::InMilk),
    ("milk", Status::InMilk),
    ("lactating", Status::InMilk),
    ("milker", Status::InMilk),
    ("dried off", Status::Dry),
    ("dry cow", Status::Dry),
    ("in calf heifer", Status::Heifer),
    ("bull", Status::Male),
    ("steer", Status::Male),
    ("bullock", Status::Male),
];

/// Words for animals that are here no more. Such a row is no animal of the herd, and a list alone takes nobody away.
const AWAY: [&str; 8] = ["sold", "dead", "died", "culled", "gone", "left", "slaughter", "slaughtered"];
/// What is said of one.
const GONE: &str = "she is here no more by that: take the line out, and say with crushbook gone how she left";
/// A state that is not known says nothing; what it says is told with the lines.
const NO_STATE: &str = "not known";

/// Reads a herd list. Never stops at the first problem.
pub fn read(bytes: &[u8], file: &str, figures: Figures) -> HerdList {
    let mut list = HerdList::default();
    let text = match table(bytes) {
        Ok(text) => text,
        Err((line, value, why)) => {
            list.broken.push(whole_line(file, line, &value, why));
            return list;
        }
    };
    if text.windows {
        let told = "the list is not UTF-8 and was read as Windows-1252, which holds Latin-1: check names with accents";
        list.notices.push(told.to_owned());
    }
    for (line, value) in &text.open {
        let why = format!("a quote is opened on line {line} and never closed: close it or take it out");
        list.problems.push(whole_line(file, *line, value, &why));
    }
    let mut reader = csv::ReaderBuilder::new()
        .has_headers(false)
        .flexible(true)
        .delimiter(text.separator)
        .from_reader(text.text.as_bytes());
    let mut records = reader.records().flatten().filter(|record| !is_blank(record));
    let head = records.next();
    let head_line = head.as_ref().map_or(u64::MAX, |head| line_of(&text.text, head.position()));
    if text.open.first().is_some_and(|(line, _)| *line < head_line) {
        // The head itself, or what stands before it.
        list.broken.append(&mut list.problems);
        return list;
    }
    let Some(head) = head else {
        list.broken.push(whole_line(file, 1, "", "the list is empty: its first line names the columns"));
        return list;
    };
    let columns = columns(&head, (file, head_line), &mut list);
    let mut aside = Aside::default();
    for record in records {
        let line = line_of(&text.text, record.position());
        one_row(&record, &columns, (file, line, figures), (&mut list, &mut aside));
    }
    list.problems.sort_by_key(|problem| problem.line);
    list.tall = aside.tall();
    list.notices.extend(list.tall.clone());
    list.notices.extend(aside.said());
    list
}

/// The bytes as a text that may be a table; else the line, what stands there, and why it is none.
fn table(bytes: &[u8]) -> Result<Text, (u64, String, &'static str)> {
    if bytes.starts_with(b"\xff\xfe") || bytes.starts_with(b"\xfe\xff") {
        return Err((1, String::new(), "the list is written in UTF-16: save it as CSV in UTF-8"));
    }
    if is_no_text(bytes) {
        return Err((1, String::new(), NO_TEXT));
    }
    const SIGN: &str = "this line is to name the sign between cells and names none: write sep=; or take it out";
    text_of(bytes).map_err(|(line, value)| (line, value, SIGN))
}

fn is_blank(record: &csv::StringRecord) -> bool {
    record.iter().all(|cell| cell.trim().is_empty())
}

/// What is left out of rows that are good without it.
#[derive(Default)]
struct Aside {
    /// States that are not known: the first line of each, and how many lines more.
    states: BTreeMap<String, (u64, usize)>,
    /// The first row that has lines in a cell which is left out, its last line, and how many rows more.
    tall: Option<(u64, u64, usize)>,
}

impl Aside {
    fn said(self) -> Vec<String> {
        let more = |count: usize| if count > 0 { format!(" and {count} more") } else { String::new() };
        let words: Vec<&str> = Status::ALL.iter().map(|status| status.word()).collect();
        let known = words.join(", ");
        let state = |(value, (line, count)): (String, (u64, usize))| {
            let more = more(count);
            format!("status {value:?} is not known and was left out on line {line}{more}; known are: {known}")
        };
        flood::told(&self.states.into_iter().map(state).collect::<Vec<String>>())
    }

    fn tall(&self) -> Option<String> {
        let (line, last, count) = self.tall?;
        let more = if count > 0 { format!(", and {count} rows more so") } else { String::new() };
        Some(format!("lines {line} to {last} are one row by their quotes{more}: look whether a quote is missing"))
    }
}

/// The lines of a list: a head, then for each animal a row, in all columns of this program.
pub fn rows<'a>(herd: impl Iterator<Item = (&'a Labels, &'a Herd)>) -> Vec<Vec<String>> {
    let head = Column::ALL.iter().map(|column| column.word().to_owned()).collect();
    let cells = |(labels, herd)| Column::ALL.iter().map(|column| column.cell(labels, herd)).collect();
    std::iter::once(head).chain(herd.map(cells)).collect()
}

fn whole_line(file: &str, line: u64, value: &str, why: &str) -> RowProblem {
    RowProblem {
        file: file.to_string(),
        line,
        column: "all".to_string(),
        value: value.to_string(),
        why: why.to_string(),
    }
}

/// A column and how its cells are kept.
type Known = (Column, &'static [&'static str], Keep);

/// What each column of the list is kept as.
fn columns(head: &csv::StringRecord, (file, line): (&str, u64), list: &mut HerdList) -> Vec<Option<&'static Known>> {
    let mut columns: Vec<Option<&'static Known>> = Vec::new();
    for name in head {
        let plain = head_word(name);
        let known = COLUMNS.iter().find(|(column, others, _)| column.word() == plain || others.contains(&&*plain));
        if let Some((column, _, _)) = known.filter(|(column, _, _)| has(&columns, *column)) {
            let why = format!("this is a second column of the kind {:?}: take one out", column.word());
            list.broken.push(whole_line(file, line, name, &why));
        }
        columns.push(known);
    }
    for (at, name) in head.iter().enumerate().filter(|(_, name)| !head_word(name).is_empty()) {
        let perhaps = perhaps(&head_word(name)).filter(|_| columns[at].is_none());
        match perhaps {
            Some((column, _, _)) if has(&columns, *column) => {
                let told = format!("column {name:?} was left out: another one is surer to be the {}", column.word());
                list.notices.push(told);
            }
            Some(_) => columns[at] = perhaps,
            None if columns[at].is_none() => list.left_out.push(name.to_owned()),
            None => {}
        }
    }
    list.columns = columns.iter().flatten().map(|(column, _, _)| *column).collect();
    let known = Column::ALL.iter().map(|column| column.word()).collect::<Vec<&str>>().join(", ");
    let names: Vec<String> = list.left_out.iter().map(|name| format!("{name:?}")).collect();
    let out = match names.len() {
        0 => None,
        1 => Some(format!("column {} is not known and was left out", names[0])),
        _ => Some(format!("columns {} are not known and were left out", flood::told(&names).join(", "))),
    };
    list.notices.extend(out.map(|out| format!("{out}; known are: {known}")));
    if list.columns.is_empty() {
        let why = format!("no column is known: the first line names the columns, number first; known are: {known}");
        list.broken.push(whole_line(file, line, "", &why));
    }
    columns
}

fn has(columns: &[Option<&Known>], column: Column) -> bool {
    columns.iter().flatten().any(|(other, _, _)| *other == column)
}

/// What a name may mean.
fn perhaps(plain: &str) -> Option<&'static Known> {
    let (_, meant) = PERHAPS.iter().find(|(name, _)| *name == plain)?;
    COLUMNS.iter().find(|(column, _, _)| column == meant)
}

/// A column's name as it is compared.
fn head_word(name: &str) -> String {
    let words = folded(&name.replace('#', " # "));
    let number = |word: &str| matches!(word, "no" | "nr" | "num" | "#");
    words.split(' ').map(|word| if number(word) { "number" } else { word }).collect::<Vec<_>>().join(" ")
}

/// A name as it is compared: small letters, one blank between words.
fn folded(name: &str) -> String {
    let letters = name.chars().filter(|letter| !is_unseen(*letter)).collect::<String>();
    letters.to_lowercase().replace(['-', '_', '.'], " ").split_whitespace().collect::<Vec<_>>().join(" ")
}

fn one_row(
    record: &csv::StringRecord,
    columns: &[Option<&'static Known>],
    (file, line, figures): (&str, u64, Figures),
    (list, aside): (&mut HerdList, &mut Aside),
) {
    let mut row = Row { line, ..Row::default() };
    let before = list.problems.len();
    if record.len() != columns.len() {
        let cells = if record.len() == 1 { "1 cell".to_owned() } else { format!("{} cells", record.len()) };
        let why = format!("{cells} where the first line names {}: is a quote or a separator missing?", columns.len());
        list.problems.push(whole_line(file, line, &record[0], &why));
    }
    tall(record, columns, (file, line), (list, aside));
    for (cell, known) in record.iter().zip(columns) {
        let (cell, Some((column, _, keep))) = (restored(cell.trim()), known) else { continue };
        let cell = cell.trim();
        if cell.is_empty() || cell.contains('\n') {
            continue;
        }
        if let Err(why) = keep(&mut row, cell, figures) {
            if *column == Column::Status && why == NO_STATE {
                aside.states.entry(cell.to_owned()).and_modify(|(_, more)| *more += 1).or_insert((line, 0));
                continue;
            }
            let (file, column, value) = (file.to_owned(), column.word().to_owned(), cell.to_owned());
            list.problems.push(RowProblem { file, line, column, value, why: why.to_owned() });
        }
    }
    if row.labels == Labels::default() && list.problems.len() == before {
        list.problems.push(whole_line(file, line, &record[0], "neither number, tag, electronic number nor name"));
    }
    if list.problems.len() == before { &mut list.rows } else { &mut list.unread }.push(row);
}

/// A row of several lines: nothing that is known of an animal has so many, and whoever stands on the later ones would be missing.
/// In a cell that is left out they may be meant.
fn tall(
    record: &csv::StringRecord,
    columns: &[Option<&'static Known>],
    (file, line): (&str, u64),
    (list, aside): (&mut HerdList, &mut Aside),
) {
    let lines = |cell: &str| cell.matches('\n').count() as u64;
    let last = line + record.iter().map(lines).sum::<u64>();
    let in_known = record.iter().zip(columns).find(|(cell, known)| known.is_some() && lines(cell) > 0);
    if let Some((cell, _)) = in_known {
        let begin = cell.split('\n').next().unwrap_or_default();
        let why = format!("a quote is opened on line {line} and closed on line {last} only: is one missing?");
        list.problems.push(whole_line(file, line, begin, &why));
    } else if last > line {
        aside.tall = Some(aside.tall.map_or((line, last, 0), |(first, end, more)| (first, end, more + 1)));
    }
}

fn text(field: &mut String, text: &str) -> Result<(), &'static str> {
    *field = cell::text(text).map_err(|why| match why {
        NoText::Control => "a control character stands in it: take it out",
        NoText::Long => "longer than any label: is a quote missing?",
    })?;
    Ok(())
}

fn electronic(row: &mut Row, text: &str) -> Result<(), &'static str> {
    const HINT: &str = "an electronic number has 15 digits; a spreadsheet may have rounded it: keep the column as text";
    row.labels.electronic = cell::electronic(text).ok_or(HINT)?;
    Ok(())
}

fn lactation(row: &mut Row, text: &str) -> Result<(), &'static str> {
    row.herd.lactation = Some(cell::lactation(text).ok_or("a lactation is a whole number from 0 to 30")?);
    Ok(())
}

fn status(row: &mut Row, cell: &str) -> Result<(), &'static str> {
    let plain = folded(cell);
    let other = STATES.iter().find(|(word, _)| *word == plain).map(|(_, status)| *status);
    let status = Status::from_word(&plain.replace(' ', "-")).or(other);
    row.herd.status = Some(status.ok_or(if AWAY.contains(&&*plain) { GONE } else { NO_STATE })?);
    Ok(())
}

/// Days as 2026-05-14 or 14 May 2026. In figures alone with `/` they are read both ways round, and refused unless somebody
/// said which.
fn day(field: &mut Option<NaiveDate>, cell: &str, figures: Figures) -> Result<(), &'static str> {
    const PLAIN: [&str; 3] = ["%Y-%m-%d", "%d %b %Y", "%d %B %Y"];
    let figures: &[&str] = match figures {
        Figures::Unsaid => &[],
        Figures::DayFirst => &["%d/%m/%Y", "%d.%m.%Y", "%d-%m-%Y"],
        Figures::MonthFirst => &["%m/%d/%Y", "%m.%d.%Y", "%m-%d-%Y"],
    };
    let day = PLAIN.iter().chain(figures).find_map(|format| NaiveDate::parse_from_str(cell, format).ok());
    // `14/05/26` would be a day of the first century.
    *field = Some(
        day.filter(|day| day.year() >= 1900)
            .ok_or("write the day as 2026-05-14 or 14 May 2026, or say which figure comes first: with --days, on the screens by going on at the list")?,
    );
    Ok(())
}
