//! A typed line, read whole before any of it is done: keys with blanks between them, or wishes by their names in the table.

use crate::keys::burst::BurstRule;
use crate::keys::context::Context;

use crate::keys::intent::Intent;
use crate::keys::key::Key;
use crate::keys::near::nearest;
use crate::keys::reading::tag_digits;
use crate::keys::table::{Row, TABLE};
use crate::report::words::Words;
use thiserror::Error;

/// One word of a line.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Word {
    /// A key, pressed.
    Key(Key),
    /// A wish by its name; what it means hangs on where the hands are.
    Name(String),
    /// Several digits: an animal's number.
    Number(String),
    /// A line of the list that was said, from 1: it is picked.
    Line(usize),
    /// What the keys mean here.
    Help,
    /// All that is so here, once more.
    Say,
    /// The next page of a list.
    More,
}

/// A word that nothing answers to.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
#[error("\"{word}\" is no key and no word{}; nothing of that line was done", near.as_ref().map_or(String::new(), |near| format!(": did you mean {near}?")))]
pub struct Unknown {
    /// As it was typed.
    pub word: String,
    /// The nearest known word.
    pub near: Option<String>,
}

/// Words that only lines have.
pub const OWN: [(&str, Word); 3] = [("?", Word::Help), ("say", Word::Say), ("more", Word::More)];

/// Reads a line.
///
/// # Errors
/// The first word that nothing answers to.
pub fn read(line: &str, words: Words) -> Result<Vec<Word>, Unknown> {
    line.split_whitespace().map(|word| one(word, words)).collect()
}

fn one(text: &str, words: Words) -> Result<Word, Unknown> {
    let lower = text.to_lowercase();
    if let Some((_, own)) = OWN.iter().find(|(name, _)| *name == lower) {
        return Ok(own.clone());
    }
    if let Some(line) = text.strip_prefix('#').and_then(|digits| digits.parse().ok()) {
        return Ok(Word::Line(line));
    }
    // A key with a capital, as help writes it, is the key: Left is not left.
    let key = text.parse::<Key>().ok();
    if let Some(key) = key.filter(|key| text.chars().nth(1).is_none() || key.to_string() == text) {
        return Ok(Word::Key(key));
    }
    if text.chars().all(|letter| letter.is_ascii_digit()) {
        return Ok(Word::Number(text.to_owned()));
    }
    if names(words).any(|name| name == lower) {
        return Ok(Word::Name(lower));
    }
    key.map(Word::Key).ok_or_else(|| {
        let own = OWN.iter().map(|(name, _)| (*name).to_owned());
        let known: Vec<String> = names(words).chain(own).chain(Key::names().map(str::to_owned)).collect();
        let near = nearest(&lower, known.iter().map(String::as_str)).map(str::to_owned);
        Unknown { word: text.to_owned(), near }
    })
}

/// Every name of every wish.
fn names(words: Words) -> impl Iterator<Item = String> {
    TABLE.iter().flat_map(move |row| called(row, words))
}

/// The names of a wish: the one of keymap files, and the short one of the pad, with hyphens for blanks, where no other wish has it
/// for its name.
pub fn called(row: &Row, words: Words) -> impl Iterator<Item = String> + use<> {
    let short = words.fill(row.short).to_lowercase().replace(' ', "-");
    let is_word = short.len() > 1 && short.chars().all(|letter| letter.is_ascii_alphabetic() || letter == '-');
    let is_word = is_word && !TABLE.iter().any(|other| other.name == short && other.intent != row.intent);
    std::iter::once(row.name.to_owned()).chain(is_word.then_some(short))
}

/// The wish of that name here.
pub fn meant(context: Context, name: &str, words: Words) -> Option<Intent> {
    let here = |row: &&Row| row.meant.contains(&context) && called(row, words).any(|known| known == name);
    TABLE.iter().find(here).map(|row| row.intent)
}

/// The digits of a tag, where a reader typed the line: as many as the filter of keys takes for a reader. Keys stand alone, so a
/// line with a single figure in it is no tag.
pub fn tag(line: &str) -> Option<String> {
    /// Some readers write blanks between groups of three.
    const GROUP: usize = 3;
    let digits = tag_digits(line)?;
    let whole = line.split_whitespace().all(|word| word.chars().count() >= GROUP);
    (whole && digits.len() >= BurstRule::default().least).then_some(digits)
}
