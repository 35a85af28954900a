//! Herd lists: a table of animals as farms send it (RFC 4180, `,` or `;`), columns in any order by the name at their head.
//!
//! Every bad cell is listed with line, column, value and why; good rows are handed back beside them, and the caller
//! decides whether they come in. Numbers of animals are text and stay as they are written.

use crate::domain::herd::{Herd, Labels, Status};
use crate::domain::vocabulary::Vocabulary;
use chrono::NaiveDate;
use std::collections::HashMap;

/// One animal of a list.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct HerdRow {
    /// Line it stands on, from 1.
    pub line: u64,
    /// What she is called by.
    pub labels: Labels,
    /// What the list tells of her.
    pub herd: Herd,
}

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
    pub rows: Vec<HerdRow>,
    /// Everything wrong with the others. A row with a problem is not among the good ones.
    pub problems: Vec<RowProblem>,
    /// Said for information: columns this program does not know, a list that was not UTF-8.
    pub notices: Vec<String>,
}

/// How a cell is kept. The reason says what to write instead.
type Keep = fn(&mut HerdRow, &str) -> Result<(), &'static str>;

/// Columns by the name at their head, in the order in which they are named to people.
const COLUMNS: &[(&str, Keep)] = &[
    ("number", |row, cell| text(&mut row.labels.number, cell)),
    ("tag", |row, cell| text(&mut row.labels.tag, cell)),
    ("electronic number", electronic),
    ("name", |row, cell| text(&mut row.labels.name, cell)),
    ("breed", |row, cell| text(&mut row.herd.breed, cell)),
    ("born", |row, cell| day(&mut row.herd.born, cell)),
    ("lactation", lactation),
    ("calved", |row, cell| day(&mut row.herd.calved, cell)),
    ("dry from", |row, cell| day(&mut row.herd.dry_from, cell)),
    ("due to calve", |row, cell| day(&mut row.herd.due_to_calve, cell)),
    ("group", |row, cell| text(&mut row.herd.group, cell)),
    ("status", status),
];

/// Reads a herd list. Never stops at the first problem.
pub fn read(bytes: &[u8], file: &str) -> HerdList {
    let mut list = HerdList::default();
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
            list.problems.push(whole_line(file, 1, "", "the list is empty: its first line names the columns"));
            return list;
        }
    };
    let columns = columns(&head, file, &mut list);
    let mut seen = HashMap::new();
    for record in records {
        match record {
            Ok(record) => one_row(&record, &columns, file, &mut list, &mut seen),
            Err(error) => {
                let line = error.position().map_or(0, csv::Position::line);
                list.problems.push(whole_line(file, line, "", "this line cannot be read as a table: check its quotes"));
            }
        }
    }
    list
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

/// What each column of the list is kept as.
fn columns(head: &csv::StringRecord, file: &str, list: &mut HerdList) -> Vec<Option<&'static (&'static str, Keep)>> {
    let mut columns: Vec<Option<&'static (&'static str, Keep)>> = Vec::new();
    for name in head {
        let plain = name.trim().to_lowercase().replace(['-', '_'], " ");
        let known = COLUMNS.iter().find(|(known, _)| *known == plain);
        match known {
            None => {
                let all: Vec<&str> = COLUMNS.iter().map(|(name, _)| *name).collect();
                list.notices
                    .push(format!("column {name:?} is not known and was left out; known are: {}", all.join(", ")));
            }
            Some((known, _)) if columns.iter().flatten().any(|(other, _)| other == known) => {
                list.problems.push(whole_line(file, 1, name, "this column stands twice: take one out"));
            }
            Some(_) => {}
        }
        columns.push(known);
    }
    if columns.iter().all(Option::is_none) {
        list.problems.push(whole_line(
            file,
            1,
            "",
            "no column is known: the first line names the columns, number first",
        ));
    }
    columns
}

fn one_row(
    record: &csv::StringRecord,
    columns: &[Option<&'static (&'static str, Keep)>],
    file: &str,
    list: &mut HerdList,
    seen: &mut HashMap<String, u64>,
) {
    let line = record.position().map_or(0, csv::Position::line);
    if record.iter().all(|cell| cell.trim().is_empty()) {
        return;
    }
    let mut row = HerdRow { line, labels: Labels::default(), herd: Herd::default() };
    let before = list.problems.len();
    if record.len() != columns.len() {
        let why = format!("{} cells where the first line names {}", record.len(), columns.len());
        list.problems.push(whole_line(file, line, &record[0], &why));
    }
    for (cell, column) in record.iter().zip(columns) {
        let (cell, Some((name, keep))) = (cell.trim(), column) else { continue };
        if cell.is_empty() {
            continue;
        }
        let kept = keep(&mut row, cell).map_err(str::to_string).and_then(|()| unique(name, cell, line, seen));
        if let Err(why) = kept {
            let (file, column, value) = (file.to_string(), name.to_string(), cell.to_string());
            list.problems.push(RowProblem { file, line, column, value, why });
        }
    }
    if row.labels == Labels::default() && list.problems.len() == before {
        list.problems.push(whole_line(file, line, &record[0], "neither number, tag, electronic number nor name"));
    }
    if list.problems.len() == before {
        list.rows.push(row);
    }
}

/// Numbers are unique inside a farm; names need not be.
fn unique(column: &str, cell: &str, line: u64, seen: &mut HashMap<String, u64>) -> Result<(), String> {
    if !matches!(column, "number" | "tag" | "electronic number") {
        return Ok(());
    }
    match seen.insert(format!("{column} {cell}"), line) {
        Some(earlier) => Err(format!("line {earlier} has the same {column}")),
        None => Ok(()),
    }
}

fn text(field: &mut String, cell: &str) -> Result<(), &'static str> {
    const LONGEST: usize = 200;
    if cell.chars().any(char::is_control) {
        return Err("a control character stands in it: take it out");
    }
    if cell.len() > LONGEST {
        return Err("longer than any label: is a quote missing?");
    }
    *field = cell.to_string();
    Ok(())
}

fn electronic(row: &mut HerdRow, cell: &str) -> Result<(), &'static str> {
    let digits: String = cell.chars().filter(|next| *next != ' ').collect();
    if digits.len() != 15 || !digits.bytes().all(|byte| byte.is_ascii_digit()) {
        return Err("an electronic number has 15 digits; a spreadsheet may have rounded it: keep the column as text");
    }
    row.labels.electronic = digits;
    Ok(())
}

fn lactation(row: &mut HerdRow, cell: &str) -> Result<(), &'static str> {
    let number = cell.parse::<u8>().ok().filter(|number| *number <= 30);
    row.herd.lactation = Some(number.ok_or("a lactation is a whole number from 0 to 30")?);
    Ok(())
}

fn status(row: &mut HerdRow, cell: &str) -> Result<(), &'static str> {
    let status = Status::from_word(&cell.replace([' ', '_'], "-"));
    row.herd.status = Some(status.ok_or("write in-milk, dry, heifer or male")?);
    Ok(())
}

/// Days as 2026-05-14 or 14 May 2026: figures alone with `/` are read both ways round and are refused.
fn day(field: &mut Option<NaiveDate>, cell: &str) -> Result<(), &'static str> {
    let formats = ["%Y-%m-%d", "%d %b %Y", "%d %B %Y"];
    let day = formats.iter().find_map(|format| NaiveDate::parse_from_str(cell, format).ok());
    *field = Some(day.ok_or("write the day as 2026-05-14 or 14 May 2026")?);
    Ok(())
}

/// Body of a fuzz target: any bytes are read without a panic, no problem without its line, and no cell comes out with a
/// character that moves a cursor.
pub fn fuzz(bytes: &[u8]) {
    let list = read(bytes, "fuzz");
    for problem in &list.problems {
        assert!(problem.line > 0, "a problem says its line");
        assert!(!problem.to_string().chars().any(char::is_control), "a message moves no cursor");
    }
}
