//! The practice's own file: what it says once and for all, as plain TOML. Every problem is told, with line and a way out,
//! and a file with a problem never stops work: what could be read counts, and for the rest the defaults.

use crate::domain::practice::{Practice, Region};
use crate::domain::vocabulary::Vocabulary;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

/// What is wrong with the file, and where.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{file}:{line}: {what}; {next}")]
pub struct PracticeProblem {
    /// The file's name, as the caller gave it.
    pub file: String,
    /// Line, from 1.
    pub line: usize,
    /// What is wrong.
    pub what: String,
    /// What to do next.
    pub next: String,
}

/// How a value is kept; the reason says what to write instead.
type Keep = fn(&mut Practice, &DeValue<'_>) -> Result<(), String>;

/// What the file may say, by name.
const NAMES: &[(&str, Keep)] = &[("region", |practice, value| {
    let region = value.as_str().and_then(Region::from_word);
    practice.region = region.ok_or_else(|| format!("write one of {}", quoted(Region::ALL.iter().map(|r| r.word()))))?;
    Ok(())
})];

/// Reads the file.
pub fn read(file: &str, bytes: &[u8]) -> (Practice, Vec<PracticeProblem>) {
    let mut practice = Practice::default();
    let mut problems = Vec::new();
    let mut problem = |line, what: String, next: String| {
        problems.push(PracticeProblem { file: file.to_owned(), line, what, next });
    };
    let text = match std::str::from_utf8(bytes) {
        Ok(text) => text.trim_start_matches('\u{feff}'),
        Err(error) => {
            let line = 1 + bytes[..error.valid_up_to()].iter().filter(|byte| **byte == b'\n').count();
            problem(line, "this is not text".to_owned(), "save it as UTF-8".to_owned());
            return (practice, problems);
        }
    };
    let line = |at: usize| 1 + text.bytes().take(at).filter(|byte| *byte == b'\n').count();
    let (table, errors) = DeTable::parse_recoverable(text);
    for error in errors {
        let at = error.span().unwrap_or_default().start;
        problem(line(at), shown(error.message()), "a line looks like this: region = \"uk\"".to_owned());
    }
    for (name, value) in table.get_ref() {
        let at = line(name.span().start);
        if let Err((what, next)) = keep(&mut practice, name.get_ref(), value) {
            problem(at, what, next);
        }
    }
    problems.sort_by_key(|problem| problem.line);
    (practice, problems)
}

/// Keeps one value, or says what is wrong with it and what to do.
fn keep(practice: &mut Practice, name: &str, value: &Spanned<DeValue<'_>>) -> Result<(), (String, String)> {
    let Some((_, keep)) = NAMES.iter().find(|(known, _)| *known == name) else {
        let known = quoted(NAMES.iter().map(|(name, _)| *name));
        return Err((format!("nothing here is called \"{}\"", shown(name)), format!("what can be said is {known}")));
    };
    let said = value.get_ref().as_str().map_or("that".to_owned(), |text| format!("\"{}\"", shown(text)));
    keep(practice, value.get_ref()).map_err(|next| (format!("{name} cannot be {said}"), next))
}

fn quoted<'w>(words: impl Iterator<Item = &'w str>) -> String {
    words.map(|word| format!("\"{word}\"")).collect::<Vec<_>>().join(", ")
}

/// Foreign text made harmless: what cannot be seen is written as a code, and a long text is cut.
fn shown(text: &str) -> String {
    const MOST: usize = 60;
    text.chars().take(MOST).flat_map(char::escape_debug).collect()
}
