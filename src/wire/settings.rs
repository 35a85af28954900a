//! Plain TOML that people write: one value a name, names in sections. Every problem is told, with line and a way out.

use toml::Spanned;
use toml::de::{DeTable, DeValue};

/// What is wrong with a file, and where.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, thiserror::Error)]
#[error("{file}:{line}: {what}; {next}")]
pub struct SettingProblem {
    /// The file's name, as the caller gave it.
    pub file: String,
    /// Line, from 1.
    pub line: usize,
    /// What is wrong.
    pub what: String,
    /// What to do next.
    pub next: String,
}

/// One value.
pub(super) struct Setting {
    /// Section; empty outside any.
    pub section: String,
    /// Name.
    pub name: String,
    /// Line, from 1.
    pub line: usize,
    /// What stands there.
    pub value: Value,
}

/// What stands behind a name.
pub(super) enum Value {
    /// A text.
    Text(String),
    /// A whole number.
    Whole(i64),
    /// Anything else.
    Other,
}

impl Value {
    /// The value as a sentence quotes it.
    pub(super) fn quoted(&self) -> String {
        match self {
            Value::Text(text) => format!("\"{}\"", shown(text)),
            Value::Whole(number) => number.to_string(),
            Value::Other => "that".to_owned(),
        }
    }
}

/// No settings file is larger, bytes: reading one with a mistake in every line takes time that grows with the square.
pub const LARGEST: usize = 1 << 14;
/// Mistakes that are told; the rest is counted.
const TOLD: usize = 20;

/// A file being read: its values, and every problem met.
pub(super) struct Reading {
    file: String,
    /// Values in the order of the file.
    pub settings: Vec<Setting>,
    /// Problems so far.
    pub problems: Vec<SettingProblem>,
}

impl Reading {
    /// Takes the file apart. `example` is what a right line looks like.
    pub(super) fn of(file: &str, bytes: &[u8], example: &str) -> Reading {
        let mut reading = Reading { file: file.to_owned(), settings: Vec::new(), problems: Vec::new() };
        if bytes.len() > LARGEST {
            let what = format!("this file has {} bytes and may have {LARGEST}", bytes.len());
            reading.problem(1, what, "it is hardly the file that was meant".to_owned());
            return reading;
        }
        let text = match std::str::from_utf8(bytes) {
            Ok(text) => text.trim_start_matches('\u{feff}'),
            Err(error) => {
                let line = line(bytes, error.valid_up_to());
                reading.problem(line, "this is not text".to_owned(), "save it as UTF-8".to_owned());
                return reading;
            }
        };
        let (table, errors) = DeTable::parse_recoverable(text);
        for error in errors {
            let at = line(text.as_bytes(), error.span().unwrap_or_default().start);
            reading.problem(at, shown(error.message()), format!("a line looks like this: {example}"));
        }
        for (name, value) in table.get_ref() {
            match value.get_ref() {
                DeValue::Table(section) => {
                    for (inner, value) in section {
                        reading.setting(text, name.get_ref(), inner, value);
                    }
                }
                _ => reading.setting(text, "", name, value),
            }
        }
        reading.settings.sort_by_key(|setting| setting.line);
        reading
    }

    fn setting(
        &mut self,
        text: &str,
        section: &str,
        name: &Spanned<std::borrow::Cow<'_, str>>,
        value: &Spanned<DeValue<'_>>,
    ) {
        let value = match value.get_ref() {
            DeValue::String(text) => Value::Text(text.to_string()),
            DeValue::Integer(number) => {
                i64::from_str_radix(number.as_str(), number.radix()).map_or(Value::Other, Value::Whole)
            }
            _ => Value::Other,
        };
        let line = line(text.as_bytes(), name.span().start);
        self.settings.push(Setting { section: section.to_owned(), name: name.get_ref().to_string(), line, value });
    }

    /// Adds a problem.
    pub(super) fn problem(&mut self, line: usize, what: String, next: String) {
        self.problems.push(SettingProblem { file: self.file.clone(), line, what, next });
    }

    /// Every problem, in the order of the lines.
    pub(super) fn told(mut self) -> Vec<SettingProblem> {
        self.problems.sort();
        let more = self.problems.len().saturating_sub(TOLD);
        self.problems.truncate(TOLD);
        if let (1.., Some(last)) = (more, self.problems.last()) {
            let (line, what) = (last.line, format!("{more} more mistakes follow"));
            self.problem(line, what, "mend these first".to_owned());
        }
        self.problems
    }
}

fn line(bytes: &[u8], at: usize) -> usize {
    1 + bytes.iter().take(at).filter(|byte| **byte == b'\n').count()
}

/// Words side by side, each in quotes.
pub(super) fn listed<'w>(words: impl Iterator<Item = &'w str>) -> String {
    words.map(|word| format!("\"{word}\"")).collect::<Vec<_>>().join(", ")
}

/// Foreign text made harmless: what cannot be seen is written as a code, and a long text is cut.
pub(super) fn shown(text: &str) -> String {
    const MOST: usize = 60;
    text.chars().take(MOST).flat_map(char::escape_debug).collect()
}
