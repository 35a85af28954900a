//! Reads keymap files. Every problem is reported, never only the first, and a file with a
//! problem never stops the work: the built-in map it is based on is used instead.
//!
//! A file with `base = "two-hands"` (or another built-in map) replaces single lines of that map; a
//! line replaces the line of the same intent in the same section, all its keys together.
//! A file without `base` must be complete by itself, as the built-in ones are.

use std::ops::Range;

use toml::Spanned;
use toml::de::{DeTable, DeValue};

use crate::keys::context::Context;
use crate::keys::fault::{Fault, LARGEST, LONGEST, Problem, TOLD};
use crate::keys::intent::Intent;
use crate::keys::key::Key;
use crate::keys::keymap::{BuiltIn, Keymap, Line, Section, Sequence};
use crate::keys::near::nearest;
use crate::keys::table;

const EVERYWHERE: &str = "everywhere";
const BASE: &str = "base";

/// Reads a keymap file.
///
/// Returns the map to work with and every problem found. With a problem the map is the
/// built-in one the file is based on, unchanged, so that no key is half rebound.
pub fn load(file: &str, bytes: &[u8]) -> (Keymap, Vec<Problem>) {
    load_or(file, bytes, BuiltIn::TwoHands)
}

/// The same, with the map to work with where the file is bad and names none it is based on.
pub fn load_or(file: &str, bytes: &[u8], otherwise: BuiltIn) -> (Keymap, Vec<Problem>) {
    let mut reader = Reader::default();
    let lines = reader.read(bytes);
    let (map, found) = Keymap::build(file, &lines);
    let mut faults = reader.faults;
    faults.extend(found.into_iter().filter(|fault| !is_echo(fault, &faults)).collect::<Vec<_>>());
    faults.sort();
    if faults.is_empty() {
        return (map, Vec::new());
    }
    let more = faults.len().saturating_sub(TOLD);
    faults.truncate(TOLD);
    if let (1.., Some((line, _))) = (more, faults.last()) {
        faults.push((*line, Fault::More(more)));
    }
    let problems = faults.into_iter().map(|(line, fault)| Problem { file: file.to_string(), line, fault }).collect();
    (built_in(reader.base.unwrap_or(otherwise)), problems)
}

/// Whether what was found in the map only repeats what was said of the file: a key missing because its line could not be
/// read, or anything missing from a file that could be read in part only.
fn is_echo((line, fault): &(usize, Fault), said: &[(usize, Fault)]) -> bool {
    let Fault::Unreachable { .. } = fault else { return false };
    // Line 0: the file that was read says nothing of it.
    said.iter().any(|(known, why)| if *line == 0 { why.hides_lines() } else { known == line })
}

/// The built-in map; the tests prove that [`load`] finds no fault in its file.
pub fn built_in(map: BuiltIn) -> Keymap {
    let lines = Reader::default().read(map.text().as_bytes());
    Keymap::build(map.name(), &lines).0
}

#[derive(Default)]
struct Reader {
    base: Option<BuiltIn>,
    /// The byte at which each line begins.
    starts: Vec<usize>,
    faults: Vec<(usize, Fault)>,
}

impl Reader {
    /// The lines of the file, over those of its base.
    fn read(&mut self, bytes: &[u8]) -> Vec<Line> {
        if bytes.len() > LARGEST {
            self.faults.push((1, Fault::TooLarge(bytes.len())));
            return Vec::new();
        }
        let text = match std::str::from_utf8(bytes) {
            Ok(text) => text.trim_start_matches('\u{feff}'),
            Err(error) => {
                let before = &bytes[..error.valid_up_to()];
                let line = 1 + before.iter().filter(|byte| **byte == b'\n').count();
                self.faults.push((line, Fault::NotText));
                return Vec::new();
            }
        };
        self.starts = std::iter::once(0).chain(text.match_indices('\n').map(|(at, _)| at + 1)).collect();
        let (table, errors) = DeTable::parse_recoverable(text);
        for error in errors {
            let line = self.line(&error.span().unwrap_or_default());
            self.faults.push((line, Fault::Syntax(error.message().to_string())));
        }
        let mut own = Vec::new();
        for (name, value) in table.get_ref() {
            let line = self.line(&name.span());
            self.entry(line, name.get_ref(), value, &mut own);
        }
        self.over_base(own)
    }

    fn entry(&mut self, line: usize, name: &str, value: &Spanned<DeValue>, own: &mut Vec<Line>) {
        if name == BASE {
            let wanted = value.get_ref().as_str().unwrap_or_default();
            self.base = BuiltIn::named(wanted);
            if self.base.is_none() {
                self.faults.push((line, Fault::UnknownBase(wanted.to_string())));
            }
            return;
        }
        let section =
            if name == EVERYWHERE { Some(Section::Everywhere) } else { Context::named(name).map(Section::In) };
        match (section, value.get_ref()) {
            (Some(section), DeValue::Table(table)) => self.section(section, table, own),
            (Some(_), _) => self.faults.push((line, Fault::NotATable(name.to_string()))),
            (None, _) => {
                let known = Context::ALL.map(Context::name);
                let near = nearest(name, known.into_iter().chain([EVERYWHERE, BASE]));
                self.faults.push((line, Fault::UnknownSection { name: name.to_string(), near }));
            }
        }
    }

    fn section(&mut self, section: Section, table: &DeTable, own: &mut Vec<Line>) {
        for (name, value) in table {
            let number = self.line(&name.span());
            let name: &str = name.get_ref();
            let Some(intent) = table::named(name) else {
                let near = nearest(name, table::TABLE.iter().map(|row| row.name));
                self.faults.push((number, Fault::UnknownIntent { name: name.to_string(), near }));
                continue;
            };
            if let Section::In(context) = section
                && table::row_in(context, intent).is_none()
            {
                self.faults.push((number, Fault::NotMeant { intent, context }));
                continue;
            }
            let keys = self.keys(intent, value);
            if section == Section::In(Context::Text) {
                self.refuse_single_characters(number, &keys);
            }
            own.push(Line { section, intent, keys, number });
        }
    }

    fn refuse_single_characters(&mut self, number: usize, keys: &[Sequence]) {
        for sequence in keys {
            if let [key] = sequence.as_slice()
                && key.text().is_some()
            {
                self.faults.push((number, Fault::HidesText(*key)));
            }
        }
    }

    /// The keys of one line: a text, or a list of texts.
    fn keys(&mut self, intent: Intent, value: &Spanned<DeValue>) -> Vec<Sequence> {
        let number = self.line(&value.span());
        let texts: Vec<(usize, Option<&str>)> = match value.get_ref() {
            DeValue::Array(list) => {
                list.iter().map(|item| (self.line(&item.span()), item.get_ref().as_str())).collect()
            }
            single => vec![(number, single.as_str())],
        };
        let mut keys = Vec::new();
        for (number, text) in texts {
            match text {
                Some(text) => keys.extend(self.sequence(number, text)),
                None => self.faults.push((number, Fault::NotKeys(intent))),
            }
        }
        keys
    }

    /// One sequence, its keys folded as [`Keymap::resolve`] will look them up.
    fn sequence(&mut self, number: usize, text: &str) -> Option<Sequence> {
        let mut sequence = Sequence::new();
        let mut sound = true;
        for word in text.split_whitespace().take(LONGEST + 1) {
            match word.parse::<Key>() {
                Ok(key) => sequence.push(key.folded()),
                Err(_) => {
                    sound = false;
                    let near = nearest(word, Key::names());
                    self.faults.push((number, Fault::UnknownKey { name: word.to_string(), near }));
                }
            }
        }
        if sound && !(1..=LONGEST).contains(&sequence.len()) {
            sound = false;
            self.faults.push((number, Fault::Length(text.to_string())));
        }
        sound.then_some(sequence)
    }

    /// Puts the user's lines over those of the base; lines of the base have number 0.
    fn over_base(&self, own: Vec<Line>) -> Vec<Line> {
        let Some(base) = self.base else { return own };
        let beneath = Reader::default().read(base.text().as_bytes());
        let replaced = |line: &Line| own.iter().any(|o| (o.section, o.intent) == (line.section, line.intent));
        let mut lines: Vec<Line> =
            beneath.into_iter().filter(|line| !replaced(line)).map(|line| Line { number: 0, ..line }).collect();
        lines.extend(own);
        lines
    }

    /// The line, from 1, on which a span begins.
    fn line(&self, span: &Range<usize>) -> usize {
        self.starts.partition_point(|start| *start <= span.start).max(1)
    }
}
