//! Herd lists: a table of animals as farms send it (RFC 4180, `,` or `;`), columns in any order by the name at their head.
//!
//! Every bad cell is listed with line, column, value and why; good rows are handed back beside them, and the caller
//! decides whether they come in. Numbers of animals are text and stay as they are written. Whom a row means, and whether two
//! rows can be meant together, is not told here but in [`crate::domain::herd_list::compare`].

use super::table::restored;
use crate::domain::herd::{Herd, Labels, Status};
use crate::domain::herd_list::Row;
use crate::domain::herd_list::cell::{self, NoText};
use crate::domain::herd_list::column::Column;
use crate::domain::herd_list::figures::Figures;
use crate::domain::letters::is_unseen;
use crate::domain::vocabulary::Vocabulary;
use chrono::{Datelike, NaiveDate};

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
    /// Said for information: columns this program does not know, a list that was not UTF-8.
    pub notices: Vec<String>,
}

/// How a cell is kept. The reason says what to write instead.
type Keep = fn(&mut Row, &str, Figures) -> Result<(), &'static str>;

/// Columns in the order in which they are named to people, each with further names that lists give it. The first is the
/// column's own; the others are common practice of the trade in its regions, and no source was looked up. A dash, a line
/// below or a capital makes no difference.
const COLUMNS: [(Column, &[&str], Keep); 12] = [
    (
        Column::Number,
        &["no", "cow", "cow number", "animal", "animal number", "working number", "flag tag", "collar", "freeze brand"],
        |row, cell, _| text(&mut row.labels.number, cell),
    ),
    (Column::Tag, &["ear tag", "eartag", "ear tag number", "printed tag", "official tag"], |row, cell, _| {
        text(&mut row.labels.tag, cell)
    }),
    (Column::Electronic, &["electronic", "electronic tag", "eid", "rfid", "transponder"], |row, cell, _| {
        electronic(row, cell)
    }),
    (Column::Name, &["cow name", "animal name"], |row, cell, _| text(&mut row.labels.name, cell)),
    (Column::Breed, &[], |row, cell, _| text(&mut row.herd.breed, cell)),
    (Column::Born, &["birth", "birth date", "date of birth", "dob"], |row, cell, figures| {
        day(&mut row.herd.born, cell, figures)
    }),
    (Column::Lactation, &["lactation number", "lact", "parity"], |row, cell, _| lactation(row, cell)),
    (Column::Calved, &["calving date", "last calving", "last calved", "fresh date"], |row, cell, figures| {
        day(&mut row.herd.calved, cell, figures)
    }),
    (Column::DryFrom, &["dry", "dried off", "dry date", "dry off date"], |row, cell, figures| {
        day(&mut row.herd.dry_from, cell, figures)
    }),
    (Column::DueToCalve, &["due", "due date", "due calving", "expected calving"], |row, cell, figures| {
        day(&mut row.herd.due_to_calve, cell, figures)
    }),
    (Column::Group, &["pen", "mob", "herd group", "string"], |row, cell, _| text(&mut row.herd.group, cell)),
    (Column::Status, &["state"], |row, cell, _| status(row, cell)),
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

/// Reads a herd list. Never stops at the first problem.
pub fn read(bytes: &[u8], file: &str, figures: Figures) -> HerdList {
    let mut list = HerdList::default();
    if bytes.starts_with(b"\xff\xfe") || bytes.starts_with(b"\xfe\xff") {
        list.broken.push(whole_line(file, 1, "", "the list is written in UTF-16: save it as CSV in UTF-8"));
        return list;
    }
    let text = decode(bytes, &mut list.notices);
    let mut reader = csv::ReaderBuilder::new()
        .has_headers(false)
        .flexible(true)
        .delimiter(separator(&text))
        .from_reader(text.as_bytes());
    let mut records = reader.records();
    let head = match records.next() {
        Some(Ok(head)) => head,
        Some(Err(_)) | None => {
            list.broken.push(whole_line(file, 1, "", "the list is empty: its first line names the columns"));
            return list;
        }
    };
    let columns = columns(&head, file, &mut list);
    for record in records {
        match record {
            Ok(record) => one_row(&record, &columns, (file, figures), &mut list),
            Err(error) => {
                let line = error.position().map_or(0, csv::Position::line);
                list.problems.push(whole_line(file, line, "", "this line cannot be read as a table: check its quotes"));
            }
        }
    }
    list
}

/// The lines of a list: a head, then for each animal a row, in all columns of this program.
pub fn rows<'a>(herd: impl Iterator<Item = (&'a Labels, &'a Herd)>) -> Vec<Vec<String>> {
    let head = Column::ALL.iter().map(|column| column.word().to_owned()).collect();
    let cells = |(labels, herd)| Column::ALL.iter().map(|column| column.cell(labels, herd)).collect();
    std::iter::once(head).chain(herd.map(cells)).collect()
}

/// UTF-8 with or without its mark; what is no UTF-8 is read as Latin-1, and said.
fn decode(bytes: &[u8], notices: &mut Vec<String>) -> String {
    let bytes = bytes.strip_prefix(b"\xef\xbb\xbf").unwrap_or(bytes);
    // Lines end in LF alone from here on: the csv reader counts a CR LF as belonging to the line after it.
    match std::str::from_utf8(bytes) {
        Ok(text) => text.replace("\r\n", "\n"),
        Err(_) => {
            notices.push("the list is not UTF-8 and was read as Latin-1: check names with accents".to_string());
            bytes.iter().map(|byte| char::from(*byte)).collect::<String>().replace("\r\n", "\n")
        }
    }
}

fn separator(text: &str) -> u8 {
    let head = text.lines().next().unwrap_or_default();
    if head.matches(';').count() > head.matches(',').count() { b';' } else { b',' }
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
fn columns(head: &csv::StringRecord, file: &str, list: &mut HerdList) -> Vec<Option<&'static Known>> {
    let mut columns: Vec<Option<&'static Known>> = Vec::new();
    for name in head {
        let plain = folded(name);
        let known = COLUMNS.iter().find(|(column, others, _)| column.word() == plain || others.contains(&&*plain));
        match known {
            None if plain.is_empty() => {}
            None => {
                let all: Vec<&str> = Column::ALL.iter().map(|column| column.word()).collect();
                list.notices
                    .push(format!("column {name:?} is not known and was left out; known are: {}", all.join(", ")));
            }
            Some((column, _, _)) if columns.iter().flatten().any(|(other, _, _)| other == column) => {
                let why = format!("this is a second column of the kind {:?}: take one out", column.word());
                list.broken.push(whole_line(file, 1, name, &why));
            }
            Some(_) => {}
        }
        columns.push(known);
    }
    if columns.iter().all(Option::is_none) {
        list.broken.push(whole_line(file, 1, "", "no column is known: the first line names the columns, number first"));
    }
    columns
}

/// A name as it is compared: small letters, one blank between words.
fn folded(name: &str) -> String {
    let letters = name.chars().filter(|letter| !is_unseen(*letter)).collect::<String>();
    letters.to_lowercase().replace(['-', '_', '.'], " ").split_whitespace().collect::<Vec<_>>().join(" ")
}

fn one_row(
    record: &csv::StringRecord,
    columns: &[Option<&'static Known>],
    (file, figures): (&str, Figures),
    list: &mut HerdList,
) {
    let line = record.position().map_or(0, csv::Position::line);
    if record.iter().all(|cell| cell.trim().is_empty()) {
        return;
    }
    let mut row = Row { line, ..Row::default() };
    let before = list.problems.len();
    if record.len() != columns.len() {
        let cells = if record.len() == 1 { "1 cell".to_owned() } else { format!("{} cells", record.len()) };
        let why = format!("{cells} where the first line names {}: is a quote or a separator missing?", columns.len());
        list.problems.push(whole_line(file, line, &record[0], &why));
    }
    for (cell, known) in record.iter().zip(columns) {
        let (cell, Some((column, _, keep))) = (restored(cell.trim()).trim(), known) else { continue };
        if cell.is_empty() {
            continue;
        }
        if let Err(why) = keep(&mut row, cell, figures) {
            let (file, column, value) = (file.to_owned(), column.word().to_owned(), cell.to_owned());
            list.problems.push(RowProblem { file, line, column, value, why: why.to_owned() });
        }
    }
    if row.labels == Labels::default() && list.problems.len() == before {
        list.problems.push(whole_line(file, line, &record[0], "neither number, tag, electronic number nor name"));
    }
    if list.problems.len() == before { &mut list.rows } else { &mut list.unread }.push(row);
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
    row.herd.status = Some(status.ok_or("write in-milk, dry, heifer or male")?);
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
