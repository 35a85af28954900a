//! Walks along the words of one line and says precisely where it stumbled.
//!
//! A word of several parts may be written with spaces or hyphens, in any case: "got away" is "got-away" is "GOT AWAY".

use super::Mistake;
use super::mistake::{did_you_mean, one_of, safe};
use super::tokens::Token;
use super::words::{all, printed};
use crate::domain::vocabulary::Vocabulary;
use chrono::NaiveDate;

/// Most parts that a word of the notation has.
const MOST_PARTS: usize = 5;

/// One line being read.
pub(super) struct Reader<'a> {
    file: &'a str,
    line: usize,
    tokens: &'a [Token],
    at: usize,
    /// The sheet's day.
    pub(super) today: NaiveDate,
    /// Mistakes that did not stop the reading of this line.
    pub(super) mistakes: Vec<Mistake>,
}

impl<'a> Reader<'a> {
    pub(super) fn new(file: &'a str, line: usize, tokens: &'a [Token], today: NaiveDate) -> Reader<'a> {
        Reader { file, line, tokens, at: 0, today, mistakes: Vec::new() }
    }

    pub(super) fn peek(&self) -> Option<&'a Token> {
        self.tokens.get(self.at)
    }

    /// Whether the next word is in quotes.
    pub(super) fn at_quote(&self) -> bool {
        self.peek().is_some_and(|token| token.quoted)
    }

    pub(super) fn at(&self) -> usize {
        self.at
    }

    pub(super) fn back_to(&mut self, at: usize) {
        self.at = at;
    }

    /// The longest run of bare words from here that the table knows, taken.
    pub(super) fn longest<T>(&mut self, known: impl Fn(&str) -> Option<T>) -> Option<T> {
        let (meant, parts) = self.peek_longest(known)?;
        self.at += parts;
        Some(meant)
    }

    /// The same without taking it; with how many words it spans.
    pub(super) fn peek_longest<T>(&self, known: impl Fn(&str) -> Option<T>) -> Option<(T, usize)> {
        let bare = self.tokens[self.at..].iter().take(MOST_PARTS).take_while(|token| !token.quoted).count();
        (1..=bare).rev().find_map(|parts| {
            let words: Vec<&str> = self.tokens[self.at..self.at + parts].iter().map(|token| &*token.text).collect();
            known(&words.join("-")).map(|meant| (meant, parts))
        })
    }

    /// Takes these words if they come next; spaces and hyphens are one.
    pub(super) fn take(&mut self, words: &str) -> bool {
        let wanted = words.replace(' ', "-");
        self.longest(|word| word.eq_ignore_ascii_case(&wanted).then_some(())).is_some()
    }

    /// Takes a member of a list if one comes next.
    pub(super) fn member<V: Vocabulary>(&mut self) -> Option<V> {
        self.longest(V::from_word)
    }

    /// Takes a member of a list, or says which there are.
    pub(super) fn need<V: Vocabulary>(&mut self) -> Result<V, Mistake> {
        self.member().ok_or_else(|| self.unknown(V::NAME, &all::<V>()))
    }

    /// Takes one text: in quotes, or a single bare word.
    pub(super) fn text(&mut self, what: &str) -> Result<String, Mistake> {
        let Some(token) = self.peek() else {
            return Err(self.stumble(format!("{what} is missing"), format!("write {what} in quotes")));
        };
        self.at += 1;
        Ok(token.text.clone())
    }

    /// Takes a text in quotes if one comes next, else empty.
    pub(super) fn words(&mut self) -> String {
        match self.peek() {
            Some(token) if token.quoted => {
                self.at += 1;
                token.text.clone()
            }
            Some(_) | None => String::new(),
        }
    }

    /// Takes all that is left as one text, words joined by a space.
    pub(super) fn rest(&mut self, what: &str) -> Result<String, Mistake> {
        let first = self.text(what)?;
        let more = self.tokens[self.at..].iter().map(|token| token.text.clone());
        let whole: Vec<String> = std::iter::once(first).chain(more).collect();
        self.at = self.tokens.len();
        Ok(whole.join(" "))
    }

    /// Whether a text stands in what was read since an earlier word.
    pub(super) fn said(&self, since: usize, text: &str) -> bool {
        self.tokens[since..self.at].iter().any(|token| token.text.contains(text))
    }

    /// Takes a number if one comes next.
    pub(super) fn number<N: std::str::FromStr>(&mut self) -> Option<N> {
        let token = self.peek().filter(|token| !token.quoted && token.text.bytes().all(|b| b.is_ascii_digit()))?;
        let number = token.text.parse().ok()?;
        self.at += 1;
        Some(number)
    }

    /// A mistake at the next word.
    pub(super) fn stumble(&self, what: impl Into<String>, suggestion: impl Into<String>) -> Mistake {
        self.mistake(self.column(self.at), what, suggestion)
    }

    /// A mistake at an earlier word of the line.
    pub(super) fn stumble_at(&self, at: usize, what: impl Into<String>, suggestion: impl Into<String>) -> Mistake {
        self.mistake(self.column(at), what, suggestion)
    }

    fn column(&self, at: usize) -> usize {
        let end = || self.tokens.last().map_or(1, |token| token.end + 1);
        self.tokens.get(at).map_or_else(end, |token| token.column)
    }

    pub(super) fn mistake(&self, column: usize, what: impl Into<String>, suggestion: impl Into<String>) -> Mistake {
        Mistake {
            file: self.file.to_string(),
            line: self.line,
            column,
            what: what.into(),
            suggestion: suggestion.into(),
        }
    }

    /// A mistake: the next word is none of the choices.
    pub(super) fn unknown(&self, what: &str, choices: &[String]) -> Mistake {
        match self.peek() {
            Some(token) => {
                let said = format!("{} is no {what}", safe(&token.text));
                self.stumble(said, did_you_mean(&token.text, choices))
            }
            None => self.stumble(format!("the {what} is missing"), one_of(choices)),
        }
    }

    /// The end of the line, or a mistake at what is left over; `more` is what could have stood there.
    pub(super) fn finish(&self, more: &[String]) -> Result<(), Mistake> {
        match self.peek() {
            None => Ok(()),
            Some(token) if more.is_empty() => {
                Err(self.stumble(format!("{} is too much here", safe(&token.text)), "put it on a line of its own"))
            }
            Some(token) => {
                let said = format!("{} does not belong here", safe(&token.text));
                Err(self.stumble(said, did_you_mean(&token.text, more)))
            }
        }
    }
}

/// Printed forms of some members, as choices for a message.
pub(super) fn choices<V: Vocabulary>(members: impl IntoIterator<Item = V>) -> Vec<String> {
    members.into_iter().map(printed).collect()
}

/// Plain words as choices for a message.
pub(super) fn plain(words: &[&str]) -> Vec<String> {
    words.iter().map(ToString::to_string).collect()
}
