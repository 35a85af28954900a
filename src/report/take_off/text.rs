//! The list as plain text, 48 columns wide: that fits a receipt printer's 80 mm paper and any message on a telephone.
//!
//! It is put together from blocks that are never torn: the whole list is all of them one after the other, a page is as many
//! as it holds.

use super::words::{self, CAUTION, FOR_VET, NOTHING, RELIEF, TITLE, WITHHELD};
use super::{ForVet, On, TakeOff, Task, Withheld};
use crate::domain::treatment::Put;
use crate::report::safe::{column, cut, safe, wrapped};
use crate::report::withheld;
use crate::report::words::{Words, weekday};
use unicode_width::UnicodeWidthStr;

/// Columns.
pub const COLUMNS: usize = 48;

/// Where the text of an entry begins: behind the box to tick.
const INDENT: usize = 4;
const BOX: &str = "[ ] ";
const SIGNED: &str = "who ______________ when ______________";

/// Lines that stay together.
type Block = Vec<String>;

/// Writes the whole list.
pub fn text(list: &TakeOff, words: Words) -> String {
    let mut lines = head(list);
    lines.extend(blocks(list, words).into_iter().flatten());
    lines.iter().map(|line| format!("{}\n", line.trim_end())).collect()
}

/// The list cut into pages of so many rows, each with its head and its number. No entry is torn, unless it is longer than
/// a page.
pub fn pages(list: &TakeOff, words: Words, rows: usize) -> Vec<Vec<String>> {
    let head = head(list);
    let room = rows.saturating_sub(head.len() + 1).max(1);
    let mut pages: Vec<Block> = Vec::new();
    for block in blocks(list, words) {
        for piece in block.chunks(room) {
            match pages.last_mut() {
                Some(page) if page.len() + piece.len() <= room => page.extend_from_slice(piece),
                Some(_) | None => pages.push(piece.to_vec()),
            }
        }
    }
    let count = pages.len();
    let numbered = |(page, lines): (usize, Block)| {
        let number = format!("page {} of {count}", page + 1);
        [head.clone(), vec![format!("{number:>COLUMNS$}")], lines].concat()
    };
    pages.into_iter().enumerate().map(numbered).collect()
}

fn head(list: &TakeOff) -> Block {
    let day = format!("{} {}", weekday(list.today), list.today.format("%Y"));
    let title = column(&TITLE.to_uppercase(), COLUMNS - day.len());
    let mut lines = vec![format!("{title}{day}")];
    lines.extend(wrapped(&safe(&list.farm.name), COLUMNS));
    lines.extend(wrapped(&words::vet(&list.farm), COLUMNS));
    // A number is not torn: what has no room is left out, and the name stands beside each animal.
    lines.extend(words::to_ring(list).into_iter().filter(|line| line.width() <= COLUMNS));
    lines
}

fn blocks(list: &TakeOff, words: Words) -> Vec<Block> {
    let mut blocks: Vec<Block> = Vec::new();
    section(&mut blocks, FOR_VET, list.for_vet.iter().map(|one| for_vet(one, words)));
    section(&mut blocks, WITHHELD, list.withheld.iter().map(|one| withheld(one, words)));
    for task in Task::ALL {
        section(&mut blocks, words::heading(task), list.with(task).map(|on| entry(on, words)));
    }
    if list.is_empty() {
        blocks.push(vec![rule(), NOTHING.to_owned()]);
    }
    if list.on.iter().any(is_wrap_to_do) {
        blocks.push(how(words));
    }
    blocks.push([vec![rule()], wrapped(CAUTION, COLUMNS)].concat());
    blocks
}

/// A heading stays with the first of what it is about.
fn section(blocks: &mut Vec<Block>, heading: &str, entries: impl Iterator<Item = Block>) {
    for (at, entry) in entries.enumerate() {
        let before = if at == 0 { vec![rule(), heading.to_owned()] } else { Vec::new() };
        blocks.push([before, entry].concat());
    }
}

fn rule() -> String {
    "-".repeat(COLUMNS)
}

/// Whether somebody on the farm will have a wrap in hand.
pub(super) fn is_wrap_to_do(on: &On) -> bool {
    matches!(on.what, Put::Wrap { .. }) && matches!(on.task, Task::TakeOff | Task::Feel)
}

fn for_vet(one: &ForVet, words: Words) -> Block {
    let mut lines = ticked(&[&one.animal, &one.where_is], "");
    lines.extend(indented(&format!("{}: {}", words::spot(one.place, true), words::vet_reason(one, words))));
    lines
}

fn withheld(one: &Withheld, words: Words) -> Block {
    let mut lines = indented(&joined(&[&one.animal, &one.where_is]));
    lines.extend(indented(&withheld::line(&one.stated, one.used, one.counts, words)));
    lines
}

fn entry(on: &On, words: Words) -> Block {
    let what = format!("{}: {}", words::spot_of(on), words::thing(on, words));
    let names = [on.animal.as_str(), on.where_is.as_str()];
    let mut lines = if on.task.is_to_do() { ticked(&names, words::state(on)) } else { indented(&joined(&names)) };
    for line in [what.as_str(), &words::when(on), words::mind(on)] {
        lines.extend(indented(line));
    }
    lines.extend(relief(on));
    if on.task.is_to_do() {
        lines.push(format!("{}{SIGNED}", " ".repeat(INDENT)));
    }
    lines
}

/// The line about pain relief, of blocks only.
fn relief(on: &On) -> Block {
    if !matches!(on.what, Put::Block { .. }) {
        return Block::new();
    }
    let tick = |(word, told): (&str, bool)| format!("[{}] {word}", if told { "x" } else { " " });
    let answers: Vec<String> = words::relief(on.relief).map(tick).collect();
    [indented(RELIEF), indented(&answers.join("  "))].concat()
}

/// A box to tick, names beside it, and a word at the right edge.
fn ticked(names: &[&str], word: &str) -> Block {
    let room = COLUMNS - INDENT - if word.is_empty() { 0 } else { word.width() + 1 };
    let mut lines: Block = Vec::new();
    for (at, line) in wrapped(&joined(names), room).into_iter().enumerate() {
        lines.push(match at {
            0 => format!("{BOX}{}{}", column(&line, COLUMNS - INDENT - word.width()), word),
            _ => format!("{}{line}", " ".repeat(INDENT)),
        });
    }
    lines
}

fn joined(names: &[&str]) -> String {
    names.iter().filter(|name| !name.is_empty()).copied().collect::<Vec<&str>>().join(", ")
}

fn indented(text: &str) -> Block {
    wrapped(text, COLUMNS - INDENT).into_iter().map(|line| format!("{}{line}", " ".repeat(INDENT))).collect()
}

fn how(words: Words) -> Block {
    let mut lines = vec![rule(), words::how_title(words)];
    for (number, step) in (1..).zip(words::how(words)) {
        let wrapped = wrapped(&step, COLUMNS - INDENT);
        let marks = std::iter::once(format!("{number}.")).chain(std::iter::repeat(String::new()));
        lines.extend(wrapped.iter().zip(marks).map(|(line, mark)| format!("{mark:<INDENT$}{}", cut(line, COLUMNS))));
    }
    lines
}
