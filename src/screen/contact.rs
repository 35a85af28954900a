//! The words of a farm's people: what is asked, what a choice says, what a text is typed for, why something is not done.

use crate::domain::contact::{Contact, No};
use crate::report::contact::contact;
use crate::report::safe::safe;
use crate::report::words::day;
use crate::session::contact::{Act, Ask, Refused, Text};
use unicode_width::UnicodeWidthStr;

/// What a choice says.
pub fn act(act: &Act) -> String {
    match act {
        Act::Ask(asked) => asked_for(asked),
        Act::Change(_) => "what they do, number".to_owned(),
        Act::Gone(_) => "yes, there no longer".to_owned(),
        Act::Answers(_, name) => safe(name),
        Act::OtherAnswers(_) => "type it".to_owned(),
    }
}

fn asked_for(asked: &Ask) -> String {
    match asked {
        Ask::About(one) => safe(&one.name),
        Ask::Gone(_) => "there no longer".to_owned(),
        Ask::Answers(_) => "who answers".to_owned(),
    }
}

/// The same in fewer letters.
pub fn brief(act: &Act, beside: &[Contact]) -> Vec<String> {
    let forms: &[&str] = match act {
        Act::Change(_) => &["changed", "change"],
        Act::Gone(_) | Act::Ask(Ask::Gone(_)) => &["gone"],
        Act::Answers(_, name) => return name_brief(name, beside.iter().map(|one| one.name.as_str())),
        Act::Ask(Ask::About(_) | Ask::Answers(_)) | Act::OtherAnswers(_) => &[],
    };
    forms.iter().map(|form| (*form).to_owned()).collect()
}

/// Columns of a name in the narrowest cell.
const NARROW: usize = 12;

/// A name in fewer letters: its first word, where nobody else is called so and it is shorter.
pub fn name_brief<'n>(name: &str, beside: impl Iterator<Item = &'n str>) -> Vec<String> {
    let first = |name: &str| safe(name).split_whitespace().next().map(str::to_lowercase);
    let alike = beside.filter(|other| *other != name && first(other) == first(name)).count();
    let short = safe(name).split_whitespace().next().map(str::to_owned);
    short.filter(|short| alike == 0 && *short != safe(name) && short.width() <= NARROW).into_iter().collect()
}

/// The heading of a question.
pub fn title(asked: &Ask) -> String {
    match asked {
        Ask::About(one) => contact(one),
        Ask::Gone(one) => format!("{}: there no longer?", safe(&one.name)),
        Ask::Answers(_) => "who answers the telephone?".to_owned(),
    }
}

/// What a text is typed for.
pub fn prompt(text: &Text) -> String {
    match text {
        Text::Name => "contact: name".to_owned(),
        Text::Does(one) => format!("{}: what they do; emptied, nothing is told", safe(&one.name)),
        Text::Phone(one) => format!("{}: telephone number; emptied, none is known", safe(&one.name)),
    }
}

/// Why nothing was told of somebody, and what to do next.
pub fn refused(why: &Refused) -> String {
    match why {
        Refused::No(why @ (No::NoName | No::LongName(_) | No::LongDoes(_) | No::NoPhone)) => why.to_string(),
        Refused::ToldLater(name, on) => format!("{} was told of on {}, which is after today", safe(name), day(*on)),
    }
}
