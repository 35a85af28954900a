//! What an animal is called by, one kind at a time: what may be kept as it, and whether another bears it already. Screens, commands and
//! sheets ask here.

use super::electronic;
use super::herd::Labels;
use super::herd_list::cell::{self, NoText};
use super::letters::has_unseen;
use super::vocabulary::vocabulary;
use std::fmt;

vocabulary! {
    /// One of her labels.
    Label, "label" {
        /// Working number.
        Number = 1 "number",
        /// Printed ear tag.
        Tag = 2 "tag",
        /// Electronic number.
        Electronic = 3 "electronic-number",
        /// Name.
        Name = 4 "name",
    }
}

/// Why a text is no label.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NoLabel {
    /// Letters stand in it that nobody sees.
    Unseen,
    /// It is longer than any label.
    Long,
    /// It is to be an electronic number, and has not the digits of one.
    NotElectronic,
}

impl NoLabel {
    /// What to do about it.
    pub fn instead(self) -> &'static str {
        match self {
            NoLabel::Unseen => "type it anew, letter by letter",
            NoLabel::Long => "write what stands on the tag and no more",
            NoLabel::NotElectronic => "write it with all its digits",
        }
    }
}

impl fmt::Display for NoLabel {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            NoLabel::Unseen => {
                "letters stand in it that nobody sees: control characters, or marks that turn the direction of writing"
            }
            NoLabel::Long => "it is longer than any label",
            NoLabel::NotElectronic => "an electronic number has 15 digits",
        })
    }
}

impl Label {
    /// Whether it is a number: tags and names are letters too.
    pub fn is_number(self) -> bool {
        match self {
            Label::Number | Label::Electronic => true,
            Label::Tag | Label::Name => false,
        }
    }

    /// What she bears of it.
    pub fn of(self, labels: &Labels) -> &str {
        match self {
            Label::Number => &labels.number,
            Label::Tag => &labels.tag,
            Label::Electronic => &labels.electronic,
            Label::Name => &labels.name,
        }
    }

    /// Gives her another.
    pub fn set(self, labels: &mut Labels, text: &str) {
        let field = match self {
            Label::Number => &mut labels.number,
            Label::Tag => &mut labels.tag,
            Label::Electronic => &mut labels.electronic,
            Label::Name => &mut labels.name,
        };
        text.clone_into(field);
    }

    /// The text as it is kept; empty: she has none any more.
    ///
    /// # Errors
    /// Letters that nobody sees, too many letters, an electronic number that is none.
    pub fn checked(self, text: &str) -> Result<String, NoLabel> {
        let text = text.trim();
        if has_unseen(text) {
            return Err(NoLabel::Unseen);
        }
        let text = cell::text(text).map_err(|why| match why {
            NoText::Control => NoLabel::Unseen,
            NoText::Long => NoLabel::Long,
        })?;
        match self {
            Label::Electronic if !text.is_empty() => cell::electronic(&text).ok_or(NoLabel::NotElectronic),
            Label::Number | Label::Tag | Label::Electronic | Label::Name => Ok(text),
        }
    }

    /// Whether another of the herd who bears this would be taken for her: a name may be given to several.
    pub fn is_one_animals(self) -> bool {
        match self {
            Label::Number | Label::Tag | Label::Electronic => true,
            Label::Name => false,
        }
    }
}

/// Whether she is found by this as by her number, tag or electronic number: capitals aside, and blanks in a tag, which is printed with
/// them and typed without.
pub fn bears(labels: &Labels, text: &str) -> bool {
    let is_number = !text.trim().is_empty() && labels.number.trim().to_lowercase() == text.trim().to_lowercase();
    is_number
        || (!folded(text).is_empty() && folded(&labels.tag) == folded(text))
        || electronic::same(&labels.electronic, text)
}

fn folded(tag: &str) -> String {
    tag.chars().filter(|letter| !letter.is_whitespace()).flat_map(char::to_lowercase).collect()
}
