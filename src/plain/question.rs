//! What is asked: choices with their keys, a text, and the lines to settle before she goes.

use super::her::{counted, mark, place};
use super::page::{Said, said};
use crate::keys::context::Context;
use crate::keys::intent::Intent;
use crate::report::safe::safe;
use crate::report::twice;
use crate::screen::View;
use crate::screen::words::{self, of};
use crate::screen::{brief, sign_off};
use crate::session::act::{Ask, Choice};
use crate::session::amend;
use crate::session::choices::{DOT, choices};
use crate::session::mode::{Mode, TextFor};
use crate::session::sign_off::{Line, open_lines};
use crate::session::{Session, ghost, herd, of_farm, visit};

/// A question with what must be said first, its choices, and what going on does.
pub fn asked(session: &Session, view: &View<'_>, ask: &Ask) -> Vec<Said> {
    let mut lines = vec![said("question", title(session, ask))];
    lines.extend(words::shouts(ask).into_iter().map(|shout| said("first", shout)));
    lines.extend(words::note(session, ask).map(|note| said("note", note)));
    lines.extend(told_apart(session, ask));
    lines.extend(choices(session, ask).iter().map(|choice| one(session, view, choice)));
    let off = match ask {
        Ask::About(_) => format!("; {} takes it off again", key(view, Context::Pad, Intent::TakeOff)),
        _ => String::new(),
    };
    lines.push(said("next", format!("an empty line: {}{off}", brief::go_on(ask).first().unwrap_or(&"back"))));
    lines
}

fn one(session: &Session, view: &View<'_>, choice: &Choice) -> Said {
    let intent = if choice.key == DOT { Intent::PickDot } else { Intent::Pick(choice.key) };
    said(format!("key {}", key(view, Context::Pad, intent)), words::act(session, &choice.act))
}

/// The first key of a wish.
pub fn key(view: &View<'_>, context: Context, intent: Intent) -> String {
    view.keymap.keys_for(context, intent).into_iter().next().unwrap_or_else(|| "none".to_owned())
}

/// The heading of a question; where the screens are short, whole.
fn title(session: &Session, ask: &Ask) -> String {
    match ask {
        Ask::Finding(at) => format!("{}: what is found?", place(of(session), *at)),
        Ask::Answer(id) => match ghost::case(session, *id) {
            Some(case) => format!("what became of {}?", mark(session, &case)),
            None => words::title(session, ask),
        },
        _ => words::title(session, ask),
    }
}

/// Those that are to be told apart, one after the other.
fn told_apart(session: &Session, ask: &Ask) -> Vec<Said> {
    let those: Vec<_> = match ask {
        Ask::Amend(amend::Ask::Twice(twins)) => twins.both.iter().collect(),
        Ask::Amend(amend::Ask::Which(those, _)) => those.iter().collect(),
        _ => Vec::new(),
    };
    let by = (&session.rules, session.today);
    let told =
        |(at, sketch)| said(format!("{} of {}", at + 1, those.len()), twice::lines(sketch, by, of(session)).join(", "));
    those.iter().copied().enumerate().map(told).collect()
}

/// What a text is typed for.
pub fn text(session: &Session, what: &TextFor) -> Vec<Said> {
    let how = "the next line is kept as it is typed; an empty line keeps nothing and goes back";
    let now = match &session.mode {
        Mode::Text { text, .. } if !text.is_empty() => Some(said("now", safe(text))),
        _ => None,
    };
    let how = match (&now, what) {
        (Some(_), TextFor::Farm(of_farm::Text::Fact(_) | of_farm::Text::Herd(_) | of_farm::Text::Contact(_))) => {
            "the next line is kept in its place; an empty line leaves it; - alone says that nothing is"
        }
        (Some(_), _) => "the next line is kept in its place; an empty line leaves it as it is",
        (None, _) => how,
    };
    [Some(said("write", words::prompt(session, what))), now, Some(said("next", how))].into_iter().flatten().collect()
}

/// The lines to settle before she goes, each with the key that opens it, and what will be left open.
pub fn before_she_goes(session: &Session, view: &View<'_>, passed: &[Line]) -> Vec<Said> {
    let open = open_lines(session, passed);
    let keys = (1_u8..).map(|number| key(view, Context::SignOff, Intent::Pick(number)));
    let mut lines = vec![said("before she goes", counted(open.len(), "line to settle", "lines to settle"))];
    lines.extend(open.iter().zip(keys).map(|(line, key)| said(format!("key {key}"), words::check(session, *line))));
    let ghosts = ghost::waiting(session);
    if !ghosts.is_empty() {
        lines.push(said("old marks", words::ghosts(session, view, ghosts.len()).to_lowercase()));
        let cases = ghosts.iter().filter_map(|course| ghost::case(session, course.id));
        lines.extend(cases.map(|case| said("old mark", mark(session, &case))));
    }
    lines.extend(sign_off::left_open(session, passed).into_iter().map(|text| said("left open", text)));
    lines.push(match open.is_empty() {
        true => said("next", "an empty line lets her go"),
        false => said("next", "say the key of a line; an empty line does not pass one"),
    });
    lines
}

/// Whether a question is to be heard before it is answered: the rest of a line that led there is left out. Such are questions
/// that a foot or a number asks by itself, so that a digit meant for a zone or a finding must not answer them, and those whose
/// choices change with what is on her or was used last.
pub fn is_heard_first(ask: &Ask) -> bool {
    match ask {
        Ask::Answer(_)
        | Ask::Seen(_)
        | Ask::BlockClaw(_)
        | Ask::TakeOff(_)
        | Ask::WrapWho(_)
        | Ask::Product(_)
        | Ask::Left(_, _)
        | Ask::Doubt(_)
        | Ask::Twice(_)
        | Ask::Again(_, _)
        | Ask::Gone(_)
        | Ask::Reopen(_, _)
        | Ask::Settle(_)
        | Ask::Stated(_)
        // Digits that can be read two ways.
        | Ask::Farm(of_farm::Ask::Walked(_))
        | Ask::Farm(of_farm::Ask::Visit(visit::Ask::Which | visit::Ask::Close(_) | visit::Ask::Sure(_) | visit::Ask::Who))
        | Ask::Farm(of_farm::Ask::Herd(herd::Ask::List(_)))
        // Who is offered is another list on each farm.
        | Ask::Farm(of_farm::Ask::Contact(_))
        | Ask::Amend(_) => true,
        Ask::Finding(_)
        | Ask::About(_)
        | Ask::Skin(_, _)
        | Ask::WholeFoot(_, _)
        | Ask::PutOn(_)
        | Ask::BlockKind(_)
        | Ask::WrapDay(_)
        | Ask::WrapColour(_)
        | Ask::Trim(_, _)
        | Ask::Gait
        | Ask::Whole(_)
        | Ask::Vet(_, _)
        | Ask::Measure(_)
        | Ask::Told(_)
        | Ask::Farm(
            of_farm::Ask::Menu(_)
            | of_farm::Ask::Urgent(_)
            | of_farm::Ask::Change
            | of_farm::Ask::Since(_)
            | of_farm::Ask::Visit(visit::Ask::Menu)
            | of_farm::Ask::Instruct(_)
            | of_farm::Ask::Herd(herd::Ask::Status(_)),
        ) => false,
    }
}
