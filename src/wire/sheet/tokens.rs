//! Cuts one line into words and quoted words, and writes quoted words.
//!
//! Quotes keep a trimmer's own words whole: `"under the \"new\" block"`. What could upset a terminal (control characters,
//! marks that turn the direction of writing) is written as `\u{1b}`, so a printed sheet is always plain to read.

/// One word of a line.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Token {
    /// Column of its first character, from 1.
    pub(super) column: usize,
    /// Column of what comes behind it.
    pub(super) end: usize,
    /// The word, without quotes.
    pub(super) text: String,
    /// Whether it stood in quotes.
    pub(super) quoted: bool,
}

/// Something no word can be made of: the column, what is wrong, what to do.
pub(super) type Unreadable = (usize, String, &'static str);

/// Longest text a record can keep, in bytes.
const LONGEST: usize = 4000;

/// Cuts a line. `#` at the start of a word begins a comment; commas are spaces.
pub(super) fn cut(line: &str) -> Result<Vec<Token>, Unreadable> {
    let chars: Vec<char> = line.chars().collect();
    let mut tokens = Vec::new();
    let mut at = 0;
    while at < chars.len() {
        let column = at + 1;
        match chars[at] {
            '#' => break,
            ',' => at += 1,
            '"' => {
                let (text, end) = quote(&chars, at)?;
                tokens.push(Token { column, end: end + 1, text, quoted: true });
                at = end;
            }
            space if space.is_whitespace() => at += 1,
            _ => {
                let end = word(&chars, at)?;
                tokens.push(Token { column, end: end + 1, text: chars[at..end].iter().collect(), quoted: false });
                at = end;
            }
        }
        match tokens.last() {
            Some(token) if token.text.len() > LONGEST => {
                return Err((token.column, "this text is too long to keep".to_string(), "shorten it to 4000 letters"));
            }
            Some(_) | None => {}
        }
    }
    Ok(tokens)
}

/// End of the bare word that starts at `at`. It ends after `=`, so that `batch="A 1"` is two words.
fn word(chars: &[char], start: usize) -> Result<usize, Unreadable> {
    let mut at = start;
    while at < chars.len() && !chars[at].is_whitespace() && !matches!(chars[at], '"' | ',') {
        refuse_control(chars[at], at)?;
        at += 1;
        if chars[at - 1] == '=' {
            break;
        }
    }
    Ok(at)
}

/// The quoted word that starts at `start`, and where the line goes on.
fn quote(chars: &[char], start: usize) -> Result<(String, usize), Unreadable> {
    let mut text = String::new();
    let mut at = start + 1;
    while let Some(&next) = chars.get(at) {
        match next {
            '"' => return Ok((text, at + 1)),
            '\\' => {
                let (meant, end) = escape(chars, at)?;
                text.push(meant);
                at = end;
            }
            plain => {
                refuse_control(plain, at)?;
                text.push(plain);
                at += 1;
            }
        }
    }
    Err((start + 1, "a quote is opened and not closed".to_string(), "close it with \" on the same line"))
}

fn escape(chars: &[char], at: usize) -> Result<(char, usize), Unreadable> {
    let wrong =
        || (at + 1, "a backslash without its letter".to_string(), "write \\\\ for a backslash, \\\" for a quote");
    match chars.get(at + 1) {
        Some('n') => Ok(('\n', at + 2)),
        Some('t') => Ok(('\t', at + 2)),
        Some(plain @ ('"' | '\\')) => Ok((*plain, at + 2)),
        Some('u') if chars.get(at + 2) == Some(&'{') => {
            let digits: String = chars[at + 3..].iter().take(7).take_while(|next| **next != '}').collect();
            let meant = u32::from_str_radix(&digits, 16).ok().and_then(char::from_u32).ok_or_else(wrong)?;
            let end = at + 3 + digits.chars().count();
            if chars.get(end) == Some(&'}') { Ok((meant, end + 1)) } else { Err(wrong()) }
        }
        Some(_) | None => Err(wrong()),
    }
}

fn refuse_control(next: char, at: usize) -> Result<(), Unreadable> {
    if next.is_control() && next != '\t' {
        return Err((at + 1, format!("a control character (code {})", u32::from(next)), "take it out"));
    }
    Ok(())
}

/// Whether a character must not reach a terminal: it controls it, or turns the direction of writing, or hides.
fn upsets(next: char) -> bool {
    next.is_control()
        || matches!(next, '\u{200b}'..='\u{200f}' | '\u{2028}'..='\u{202e}' | '\u{2060}'..='\u{206f}' | '\u{feff}' | '\u{61c}')
}

/// Writes a text in quotes, read back by [`cut`] as it was.
pub(super) fn quoted(text: &str) -> String {
    let mut out = String::from("\"");
    for next in text.chars() {
        match next {
            '"' | '\\' => out.extend(['\\', next]),
            '\n' => out.push_str("\\n"),
            '\t' => out.push_str("\\t"),
            odd if upsets(odd) => out.push_str(&format!("\\u{{{:x}}}", u32::from(odd))),
            plain => out.push(plain),
        }
    }
    out.push('"');
    out
}

/// Writes a text bare where it is one plain word, else in quotes.
pub(super) fn bare_or_quoted(text: &str) -> String {
    let plain = |next: char| next.is_ascii_alphanumeric() || matches!(next, '-' | '\'' | '.' | '/');
    if !text.is_empty() && text.chars().all(plain) { text.to_string() } else { quoted(text) }
}
