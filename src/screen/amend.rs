//! What is set right: two beside each other, several of one number, and the words of these questions.

use crate::domain::electronic::{self, Doubt, spaced};
use crate::domain::finding::Degree;
use crate::domain::label::Label;

use crate::domain::ids::{AnimalId, PutId};
use crate::domain::twice::Sketch;
use crate::domain::vocabulary::Vocabulary;
use crate::keys::context::Context;
use crate::keys::intent::Intent;
use crate::report::safe::{column, safe};
use crate::report::twice;
use crate::report::words::{self, Words};
use crate::screen::page::{Page, wrapped};
use crate::screen::theme::Role;
use crate::screen::{View, words as says};
use crate::session::Session;
use crate::session::amend::correct::{self, Change, finding};
use crate::session::amend::{Act, Ask, Text, choices};

/// Most that are shown beside each other; of more the first are.
const BESIDE: usize = 3;

/// Draws those that are to be told apart, each under its key, then the choices. False where the question is another one.
pub fn draw(page: &mut Page<'_>, session: &Session, view: &View<'_>, ask: &Ask) -> bool {
    let (those, keys): (Vec<&Sketch>, bool) = match ask {
        Ask::Twice(twins) => (twins.both.iter().collect(), false),
        Ask::Which(those, _) => (those.iter().collect(), true),
        Ask::Labels(_, _)
        | Ask::Taken(_, _)
        | Ask::Unlisted(_, _, _)
        | Ask::Facts(_)
        | Ask::Right(_)
        | Ask::RightPut(_)
        | Ask::Finding(_)
        | Ask::Wearer(_, _)
        | Ask::Wears(_)
        | Ask::NewWearer(_) => return false,
    };
    for line in wrapped(&title(session, ask), usize::from(page.width())) {
        page.line(&line, Role::Strong);
    }
    let list = if keys { Vec::new() } else { choices(session, ask) };
    let below = list.len() + 2;
    beside(page, session, &those, (keys, below));
    for choice in &list {
        let words = says::act(session, &choice.act);
        page.pieces(&[(&format!(" {} ", choice.key), Role::Key), (&format!(" {words}"), Role::Text)]);
    }
    let key = view.keymap.keys_for(Context::Pad, Intent::Back).into_iter().next().unwrap_or_default();
    page.line(&format!("{key} back, nothing written"), Role::Grey);
    true
}

/// Columns of facts, as many rows as leave room for what comes below.
fn beside(page: &mut Page<'_>, session: &Session, those: &[&Sketch], (keys, below): (bool, usize)) {
    let shown = those.len().min(BESIDE);
    let width = usize::from(page.width()) / shown.max(1);
    let room = usize::from(page.left()).saturating_sub(below);
    let columns: Vec<Vec<String>> = those
        .iter()
        .take(shown)
        .map(|sketch| {
            let lines = twice::lines(sketch, (&session.rules, session.today), says::of(session));
            lines.iter().flat_map(|line| wrapped(line, width.saturating_sub(5))).collect()
        })
        .collect();
    let rows = columns.iter().map(Vec::len).max().unwrap_or(0).min(room);
    for row in 0..rows {
        let mut pieces: Vec<(String, Role)> = Vec::new();
        for (at, lines) in columns.iter().enumerate() {
            let key =
                if keys && row == 0 { (format!(" {} ", at + 1), Role::Key) } else { ("   ".to_owned(), Role::Text) };
            let role = if row == 0 { Role::Strong } else { Role::Text };
            let text = lines.get(row).map_or("", String::as_str);
            pieces.extend([key, (format!(" {} ", column(text, width.saturating_sub(5))), role)]);
        }
        page.pieces(&pieces.iter().map(|(text, role)| (text.as_str(), *role)).collect::<Vec<_>>());
    }
    if those.len() > shown {
        page.line(&format!("and {} more, on the keys that follow", those.len() - shown), Role::Grey);
    }
    page.skip(1);
}

/// What a choice says.
pub fn act(session: &Session, act: &Act) -> String {
    match act {
        Act::This(animal, _) => number(session, *animal),
        Act::Join(pair) => twice::choices(pair.kind)[0].to_owned(),
        Act::KeepApart(pair) => twice::choices(pair.kind)[1].to_owned(),
        Act::Part(_) => "two after all: take apart".to_owned(),
        Act::PartHer(_, _) => "two after all".to_owned(),
        Act::Pair(_) => "the next pair".to_owned(),
        Act::Compare(_, other) => format!("is she {}?", number(session, *other)),
        Act::Relabel(wears) => match lost(session, wears) {
            Some(field) => format!("{} lost", label(field)),
            None => "two share it".to_owned(),
        },
        Act::MoveToNew(_, _, number) => format!("new animal {}", safe(number)),
        Act::Ask(asked) => match &**asked {
            Ask::Right(change) => right(session, change),
            Ask::RightPut(put) => put_on(session, *put),
            Ask::Finding(_) => "something else".to_owned(),
            Ask::Wears(worn) => format!("it is {}", number(session, worn.wears.animal)),
            Ask::NewWearer(_) => "a new animal".to_owned(),
            Ask::Which(_, _)
            | Ask::Twice(_)
            | Ask::Labels(_, _)
            | Ask::Taken(_, _)
            | Ask::Unlisted(_, _, _)
            | Ask::Wearer(_, _)
            | Ask::Facts(_) => title(session, asked),
        },
        Act::Type(Text::Label(_, field)) => format!("new {}", label(*field)),
        Act::Type(Text::Whose(_, _)) => "turn of another".to_owned(),
        Act::Type(Text::Zone(_)) => "other zone".to_owned(),
        Act::Type(Text::Why(change)) => match change.degree {
            Degree::NotGiven => "that: say why".to_owned(),
            degree => words::degree(degree).to_owned(),
        },
        Act::Type(Text::WhyPut(_, detail)) => words::put_detail(detail),
        Act::Type(Text::Day(_)) => "other day".to_owned(),
        Act::TakeBack(_) => "take it back".to_owned(),
        Act::Type(Text::Wearer(_)) => "type her number".to_owned(),
        Act::Wear(wears) => format!("yes, {} wears it", number(session, wears.animal)),
        Act::Begin(labels) if labels.number.is_empty() => "new, without number".to_owned(),
        Act::Begin(labels) => format!("yes, {} is new", safe(&labels.number)),
        Act::PutOff(_) => "not now".to_owned(),
    }
}

/// Which of her labels a new set no longer has.
fn lost(session: &Session, wears: &crate::session::amend::labels::Wears) -> Option<Label> {
    let line = session.herd.iter().find(|line| line.id == wears.animal)?;
    let gone = |field: &Label| field.of(&wears.labels).is_empty() && !field.of(&line.labels).is_empty();
    Label::ALL.iter().copied().find(gone)
}

fn label(field: Label) -> &'static str {
    match field {
        Label::Number => "number",
        Label::Tag => "ear tag",
        Label::Electronic => "electronic no.",
        Label::Name => "name",
    }
}

/// What an animal of the farm in hand is called.
fn number(session: &Session, animal: AnimalId) -> String {
    let line = session.herd.iter().find(|line| line.id == animal);
    let labels = line.map(|line| &line.labels);
    labels.map_or(String::new(), |labels| match labels.number.as_str() {
        "" => crate::report::due::called(labels),
        number => safe(number),
    })
}

/// Something put on in an earlier turn.
fn put_on(session: &Session, put: PutId) -> String {
    let view = session.crush.as_ref().and_then(|crush| correct::put_on(&crush.history, put));
    let words = says::of(session);
    view.map_or(String::new(), |view| format!("{} {}", words.foot_of(view.put.place()), words.put(&view.put)))
}

/// A choice among places or findings: what differs from the finding as it stands.
fn right(session: &Session, change: &Change) -> String {
    let words = says::of(session);
    let now = session.crush.as_ref().and_then(|crush| finding(&crush.history, change.found));
    match now {
        Some(found) if found.place != change.place && found.what == change.what => words.place(change.place),
        Some(found) if found.what != change.what => format!("{} {}", change.what.word(), change.what.row().name),
        Some(_) | None => whole(change, words),
    }
}

fn whole(change: &Change, words: Words) -> String {
    format!("{} {}", words.place(change.place), words::finding(change.what, change.degree, ""))
}

/// The heading of a question.
pub fn title(session: &Session, ask: &Ask) -> String {
    let words = says::of(session);
    match ask {
        Ask::Which(those, _) => format!("{} bear that number: which is it?", those.len()),
        Ask::Twice(twins) => twice::title(&twins.pair),
        Ask::Labels(wears, _) => format!("{}: what is new?", crate::report::due::called(&wears.labels)),
        Ask::Taken(wears, other) => {
            let theirs = session.herd.iter().find(|line| line.id == *other);
            let whose = theirs.map_or(String::new(), |line| crate::report::due::called(&line.labels));
            format!("{whose} bears it already: {} too?", number(session, wears.animal))
        }
        Ask::Unlisted(_, _, number) => format!("{} is not in this herd: is she new?", safe(number)),
        Ask::Facts(_) => "what was wrong?".to_owned(),
        Ask::Right(change) => format!("{}?", whole(change, words)),
        Ask::RightPut(put) => format!("{}?", put_on(session, *put)),
        Ask::Finding(change) => format!("{}: what was it?", words.place(change.place)),
        Ask::Wearer(electronic, _) => format!("nobody here wears {}: who does?", spaced(electronic)),
        Ask::Wears(worn) => {
            let (her, tag) = (number(session, worn.wears.animal), spaced(&worn.wears.labels.electronic));
            match safe(&worn.other) {
                none if none.is_empty() => format!("{her} wears {tag}?"),
                other => format!("{her} wears {}: now {tag}?", spaced(&other)),
            }
        }
        Ask::NewWearer(labels) if labels.number.is_empty() => {
            format!("a new animal wears {}?", spaced(&labels.electronic))
        }
        Ask::NewWearer(labels) => format!("{} is not in this herd: is she new?", safe(&labels.number)),
    }
}

/// What is doubtful about the electronic number that is asked about: said, and nothing refused.
pub fn doubt(ask: &Ask) -> Option<String> {
    let digits = match ask {
        Ask::Wearer(electronic, _) => electronic,
        Ask::Wears(worn) => &worn.wears.labels.electronic,
        Ask::NewWearer(labels) => &labels.electronic,
        Ask::Which(_, _)
        | Ask::Twice(_)
        | Ask::Labels(_, _)
        | Ask::Taken(_, _)
        | Ask::Unlisted(_, _, _)
        | Ask::Facts(_)
        | Ask::Right(_)
        | Ask::RightPut(_)
        | Ask::Finding(_) => return None,
    };
    electronic::doubt(digits).map(|doubt| match doubt {
        Doubt::Length(count) => format!("DOUBTFUL: {count} digits, a tag has {}", electronic::DIGITS),
        Doubt::TooHigh => "DOUBTFUL: higher than a tag can be".to_owned(),
        Doubt::Test => "DOUBTFUL: 999 is for tests".to_owned(),
    })
}

/// What a text is typed for.
pub fn prompt(text: &Text) -> String {
    match text {
        Text::Label(wears, field) => {
            format!("{}: new {}", crate::report::due::called(&wears.labels), label(*field))
        }
        // Short enough for the smallest screen: the question is never cut.
        Text::Whose(_, _) => "whose? her number".to_owned(),
        Text::Zone(_) => "zone, 0 to 12".to_owned(),
        Text::Why(_) | Text::WhyPut(_, _) => "why was it wrong?".to_owned(),
        Text::Day(_) => "off after days: 0-30".to_owned(),
        Text::Wearer(electronic) => format!("{}: her number", spaced(electronic)),
    }
}
