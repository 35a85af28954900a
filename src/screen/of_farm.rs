//! The words of the farm's matters: choices, headings, what a text is typed for.

use crate::domain::herd::Change;
use crate::domain::ids::AnimalId;
use crate::report::due::called;
use crate::report::words::{change, weekday};
use crate::screen::visit;
use crate::session::Session;
use crate::session::of_farm::{Act, Ask, Text};

/// What a choice says.
pub fn act(session: &Session, act: &Act) -> String {
    match act {
        Act::Ask(Ask::Urgent(None)) => "they called".to_owned(),
        Act::Ask(Ask::Urgent(Some(animal))) => format!("they called about {}", number(session, *animal)),
        Act::Ask(Ask::Change) => "something changed".to_owned(),
        Act::Ask(Ask::Since(what)) => change(*what).to_owned(),
        Act::Ask(Ask::Menu(_)) => "the farm".to_owned(),
        Act::Ask(Ask::Visit(_)) => "the visit".to_owned(),
        Act::Visit(act) => visit::act(session, act),
        Act::Call { urgent: true, .. } => "urgent".to_owned(),
        Act::Call { urgent: false, .. } => "it can wait".to_owned(),
        Act::Since(_, day) if *day == session.today => "today".to_owned(),
        Act::Since(_, day) => weekday(*day),
        Act::OtherDay(_) => "another day".to_owned(),
    }
}

/// The same in fewer letters.
pub fn brief(session: &Session, act: &Act) -> Vec<String> {
    let forms: &[&str] = match act {
        Act::Ask(Ask::Urgent(_)) => &["a call", "call"],
        Act::Ask(Ask::Change) => &["a change", "change"],
        Act::Ask(Ask::Visit(_)) => &["visit"],
        Act::Visit(act) => return visit::brief(session, act),
        Act::Ask(Ask::Since(Change::TurnedOut)) => &["out"],
        Act::Ask(Ask::Since(Change::Footbath)) => &["bath"],
        Act::Call { urgent: false, .. } => &["can wait", "wait"],
        Act::Since(_, day) if *day != session.today => return vec![day.format("%a %-d").to_string().to_uppercase()],
        Act::OtherDay(_) => &["other"],
        Act::Ask(Ask::Since(_) | Ask::Menu(_)) | Act::Since(_, _) | Act::Call { urgent: true, .. } => &[],
    };
    forms.iter().map(|form| (*form).to_owned()).collect()
}

/// The heading of a question.
pub fn title(session: &Session, ask: &Ask) -> String {
    match ask {
        Ask::Menu(_) => "the farm".to_owned(),
        Ask::Urgent(Some(animal)) => format!("{}: swollen, smells, lamer?", number(session, *animal)),
        Ask::Urgent(None) => "can it wait?".to_owned(),
        Ask::Change => "what changed?".to_owned(),
        Ask::Visit(asked) => visit::title(session, asked),
        Ask::Since(what) => format!("{}: since when?", change(*what)),
    }
}

/// What a text is typed for.
pub fn prompt(session: &Session, text: &Text) -> String {
    match text {
        Text::Called { about: Some(animal), .. } => format!("what do they say of {}", number(session, *animal)),
        Text::Called { about: None, .. } => "what do they say".to_owned(),
        Text::Changed(what, day) => format!("{}, {}: how", change(*what), weekday(*day)),
        Text::Since(what) => format!("{}, since: day month", change(*what)),
    }
}

fn number(session: &Session, animal: AnimalId) -> String {
    let line = session.herd.iter().find(|line| line.id == animal);
    line.map_or(String::new(), |line| called(&line.labels))
}
