//! A scoring walk as text: a line for each animal, her number and her score, with a comma, a semicolon, a tab or a blank between them.
//!
//! ```text
//! number,score
//! 1394,2
//! 44 0
//! ```
//!
//! The last word of a line is the score, everything before it the number, which is text and may hold blanks. A first line of the
//! words for both, blank lines and what stands behind `#` do not count. Every mistake is listed with its line; whose number it is,
//! and whether the score is on the farm's scale, is not told here.

use super::plain_text::{NO_TEXT, is_no_text};
use super::table::restored;
use crate::domain::letters::is_unseen;

/// Most letters of a number: longer than any tag.
const LONGEST: usize = 40;

/// One line.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Scored {
    /// Line, from 1.
    pub line: usize,
    /// The number, as it is written.
    pub number: String,
    /// The score.
    pub score: u8,
}

/// What is wrong with a line.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("line {line}, {value:?}: {why}")]
pub struct Mistake {
    /// Line, from 1.
    pub line: usize,
    /// What stands there.
    pub value: String,
    /// What is wrong with it, and what to do.
    pub why: String,
}

/// Words that stand above the two columns.
const HEADS: [&str; 5] = ["score", "gait", "mobility", "locomotion", "lameness"];

/// Reads a walk. Never stops at the first mistake; what is plainly no text is one.
pub fn read(bytes: &[u8]) -> (Vec<Scored>, Vec<Mistake>) {
    if is_no_text(bytes) {
        return (Vec::new(), vec![Mistake { line: 1, value: String::new(), why: NO_TEXT.to_owned() }]);
    }
    let text = String::from_utf8_lossy(bytes);
    let text = text.strip_prefix('\u{feff}').unwrap_or(&text);
    let (mut scored, mut mistakes) = (Vec::new(), Vec::new());
    let mut first = true;
    for (line, text) in (1..).zip(text.lines()) {
        let text = text.split('#').next().unwrap_or_default();
        let text = text.trim_matches(|letter: char| letter.is_whitespace() || is_between(letter));
        if text.is_empty() {
            continue;
        }
        let is_head = std::mem::take(&mut first) && HEADS.iter().any(|head| text.to_lowercase().ends_with(head));
        if is_head {
            continue;
        }
        match one(text) {
            Ok((number, score)) => scored.push(Scored { line, number, score }),
            Err((value, why)) => mistakes.push(Mistake { line, value, why: why.to_owned() }),
        }
    }
    (scored, mistakes)
}

fn is_between(letter: char) -> bool {
    matches!(letter, ',' | ';')
}

/// Number and score of a line.
fn one(text: &str) -> Result<(String, u8), (String, &'static str)> {
    let (number, score) = text
        .rsplit_once(|letter: char| letter.is_whitespace() || is_between(letter))
        .ok_or_else(|| (seen(text), "number and score are two words: 1394 2"))?;
    let number = cell(number.trim_end_matches(|letter: char| letter.is_whitespace() || is_between(letter)));
    let score = cell(score);
    let digit = score.parse::<u8>().map_err(|_| (seen(&score), "the last word of a line is the score, a digit"))?;
    if number.is_empty() {
        return Err((seen(text), "there is a score and no number before it"));
    }
    if number.chars().any(|letter| is_unseen(letter) || is_between(letter) || letter == '"') {
        return Err((seen(&number), "that is no number of an animal"));
    }
    if number.chars().count() > LONGEST {
        return Err((seen(&number), "no number is so long"));
    }
    Ok((number, digit))
}

/// What a cell of a table holds: without quotes, and as it was before a spreadsheet was kept from running it.
fn cell(text: &str) -> String {
    let text = text.trim();
    let quoted = text.strip_prefix('"').and_then(|text| text.strip_suffix('"'));
    let bare = quoted.map_or(text.to_owned(), |text| text.replace("\"\"", "\""));
    restored(bare.trim()).trim().to_owned()
}

/// What stands there, in letters that can be seen, and not all of a long line.
fn seen(text: &str) -> String {
    text.chars().filter(|letter| !is_unseen(*letter)).take(LONGEST).collect()
}

/// Body of the fuzz target: of any bytes each line that counts is read or told once, in the order of lines, a number holds nothing
/// unseen, no message moves a cursor, and what was read and is written out again reads the same.
pub fn fuzz_walk(bytes: &[u8]) {
    let (scored, mistakes) = read(bytes);
    let mut lines: Vec<usize> = scored.iter().map(|one| one.line).chain(mistakes.iter().map(|one| one.line)).collect();
    lines.sort_unstable();
    assert!(lines.windows(2).all(|two| two[0] < two[1]), "a line is one thing: {lines:?}");
    for mistake in &mistakes {
        assert!(!mistake.to_string().chars().any(char::is_control), "a message moves no cursor: {mistake}");
    }
    let rows: Vec<Vec<String>> = scored.iter().map(|one| vec![one.number.clone(), one.score.to_string()]).collect();
    let head = vec!["number".to_owned(), "score".to_owned()];
    let text = super::table::write(&[vec![head], rows].concat()).expect("a table of text");
    let (again, mistakes) = read(text.as_bytes());
    assert_eq!(mistakes, []);
    let told = |all: &[Scored]| all.iter().map(|one| (one.number.clone(), one.score)).collect::<Vec<_>>();
    assert_eq!(told(&again), told(&scored), "written out and read again");
}
