//! The "saved" line: what a press wrote, with foot, place and name even where the record holds only a grade.

use crate::domain::anatomy::Place;
use crate::domain::case::Case;
use crate::domain::electronic::{self, Doubt};
use crate::domain::event::{Event, Item};
use crate::domain::herd::{FarmFact, Herd, Labels, Status};
use crate::domain::herd_list::doubt::{What, tag};
use crate::domain::history::open::OpenItem;
use crate::domain::history::{Found, PutView};
use crate::domain::ids::{AnimalId, PutId, RecordId};
use crate::domain::record::Record;
use crate::report::due::called;
use crate::report::herd::told;
use crate::report::safe::safe;
use crate::report::words::{self, Words};
use crate::screen::words::of;
use crate::session::ghost::case;
use crate::session::{Session, undo};

/// A press in words. Several feet at once are named in one go.
pub fn press(session: &Session, records: &[Record]) -> String {
    let words = of(session);
    let events: Vec<&Event> = records.iter().filter_map(Record::event).collect();
    let feet: Vec<&str> = events.iter().filter_map(|event| foot_done(event, words)).collect();
    if feet.len() > 1 && feet.len() == events.len() {
        return format!("{} trimmed, all looked at", feet.join(" "));
    }
    let mut lines: Vec<String> = Vec::new();
    for record in records.iter().filter(|record| !goes_without_saying(record, records)) {
        let Some(event) = record.event() else { continue };
        let line = about(session, event).unwrap_or_else(|| named(session, record, event));
        // An undo is written about each of its subjects and is still one undo.
        if !lines.contains(&line) {
            lines.push(line);
        }
    }
    lines.join(", ")
}

/// A visit that begins with its first animal is not spoken of, nor that whoever is back is in the crush; and of a herd list only
/// how much it said.
fn goes_without_saying(record: &Record, press: &[Record]) -> bool {
    let is_list = |event: &Event| matches!(event, Event::FarmDescribed { fact: FarmFact::HerdList, .. });
    if press.iter().filter_map(Record::event).any(is_list) {
        return !record.event().is_some_and(is_list);
    }
    let begins = matches!(record.event(), Some(Event::VisitBegun { .. }));
    let is_back = || press.iter().any(|record| matches!(record.event(), Some(Event::CameBack { .. })));
    if matches!(record.event(), Some(Event::TurnBegun { .. } | Event::TurnResumed { .. })) && is_back() {
        return true;
    }
    begins && press.iter().any(|record| matches!(record.event(), Some(Event::TurnBegun { .. })))
}

/// The words of an event, with her number where it is not said of whoever is in the crush.
fn named(session: &Session, record: &Record, event: &Event) -> String {
    let words = of(session);
    if let Event::AnimalBegun { labels, .. } = event {
        return format!("new animal {}", called(labels)).trim_end().to_owned();
    }
    let said = if let Event::Renumbered { labels, .. } = event {
        format!("{}now {}", doubt(labels), worn(labels))
    } else if let Event::Described { herd, .. } = event {
        stands(herd)
    } else if let Event::ToldOff { item, .. } = event {
        format!("{} {}", thing(session, *item, words), words.event(event)).trim().to_owned()
    } else {
        words.event(event)
    };
    if is_of_her(event) {
        format!("{} {said}", number(session, AnimalId(record.about))).trim_start().to_owned()
    } else {
        said
    }
}

/// What is said of an animal that may not be in the crush.
fn is_of_her(event: &Event) -> bool {
    matches!(
        event,
        Event::Renumbered { .. }
            | Event::Described { .. }
            | Event::ToldOff { .. }
            | Event::Left { .. }
            | Event::CameBack { .. }
            | Event::Walked { turn: None, .. }
            | Event::TurnBegun { .. }
            | Event::TurnResumed { .. }
            | Event::TurnReopened { .. }
            | Event::TurnPaused { .. }
            | Event::TurnSigned { .. }
            | Event::TurnMoved { .. }
            | Event::VetAnswered { .. }
            | Event::Joined { .. }
            | Event::Parted { .. }
    )
}

/// Where she stands in the herd's year, then what else was told of her.
fn stands(herd: &Herd) -> String {
    let state = match herd.status {
        Some(Status::Dry) => Some("dried off".to_owned()),
        Some(Status::InMilk) => Some("in milk".to_owned()),
        Some(Status::Heifer) => Some("heifer".to_owned()),
        Some(Status::Male) => Some("bull or steer".to_owned()),
        None => None,
    };
    let more = told(&Labels::default(), &Herd { dry_from: herd.dry_from.filter(|_| state.is_none()), ..herd.clone() });
    let lactation = herd.lactation.map(|number| format!("lactation {number}"));
    let parts = [state, lactation, (!more.is_empty()).then_some(more)].into_iter().flatten();
    parts.collect::<Vec<_>>().join(", ")
}

/// What an animal is called by, where she is known here.
fn number(session: &Session, animal: AnimalId) -> String {
    let crush = session.crush.as_ref().filter(|crush| crush.history.animals.contains(&animal));
    let listed = session.herd.iter().find(|line| line.id == animal).map(|line| &line.labels);
    let open = session.open.iter().find(|open| open.animal == animal).map(|open| &open.labels);
    crush.map(|crush| &crush.history.labels).or(listed).or(open).map_or(String::new(), called)
}

/// What is doubtful about a tag or an electronic number of hers; before all else and short, since the line may be longer than the screen.
fn doubt(labels: &Labels) -> String {
    let tag = match tag(&labels.tag) {
        Some(What::TagCheck(fits)) => Some(format!("tag's check should be {fits}")),
        Some(What::TagDigits(count)) => Some(format!("GB tag of {count} digits, not 12")),
        Some(other) => Some(other.to_string()),
        None => None,
    };
    let electronic = electronic::doubt(&labels.electronic).filter(|_| !labels.electronic.is_empty());
    let electronic = electronic.map(|doubt| match doubt {
        Doubt::Length(count) => format!("{count} digits, not {}", electronic::DIGITS),
        Doubt::TooHigh => "electronic no. too high".to_owned(),
        Doubt::Test => "999 is for tests".to_owned(),
    });
    let said = [tag, electronic].into_iter().flatten().map(|what| format!("DOUBTFUL: {what}; "));
    said.collect()
}

/// All that she wears now.
fn worn(labels: &Labels) -> String {
    let Labels { number, tag, electronic, name } = labels;
    let parts = [("number", number), ("ear tag", tag), ("electronic no.", electronic), ("name", name)];
    let worn: Vec<String> = parts
        .iter()
        .filter(|(_, text)| !text.is_empty())
        .map(|(what, text)| format!("{what} {}", safe(text)))
        .collect();
    if worn.is_empty() { "without number".to_owned() } else { worn.join(", ") }
}

/// Something on a list, with its place.
fn thing(session: &Session, put: PutId, words: Words) -> String {
    let on = session.open.iter().flat_map(|open| &open.items).find_map(|item| {
        let OpenItem::On { put: id, what, .. } = item else { return None };
        (*id == put).then(|| format!("{} {}", words.place(what.place()), words.put(what)))
    });
    on.unwrap_or_default()
}

fn foot_done(event: &Event, words: Words) -> Option<&'static str> {
    let Event::Looked { foot, lifted: true, trimmed: true, all_seen: true, .. } = event else { return None };
    Some(words.foot(*foot))
}

/// The words of an event that only names another record; none for an event that says it all.
fn about(session: &Session, event: &Event) -> Option<String> {
    let words = of(session);
    if let Event::Detailed { of: id, .. } = event {
        return found(session, id.0).map(|found| whole(found, words));
    }
    if let Event::Answered { case: id, outcome, .. } = event {
        return case(session, *id).map(|case| format!("{}: {}", mark(&case, words), words::outcome(*outcome)));
    }
    if let Event::Staged { case: id, stage, .. } = event {
        use crate::domain::vocabulary::Vocabulary;
        return case(session, *id).map(|case| format!("{}: now {}", mark(&case, words), stage.word()));
    }
    if let Event::PutDetailed { put: id, detail } = event {
        return put(session, *id).map(|view| {
            format!("{} {}, {}", words.place(view.put.place()), words.put(&view.put), words::put_detail(detail))
        });
    }
    if let Event::SeenOff { item: Item::Known(id), outcome, skin, .. } = event {
        return put(session, *id).map(|view| {
            let line = format!("{} {}: {}", words.place(view.put.place()), words.put(&view.put), words::off(*outcome));
            [line.as_str(), words::skin(*skin)].join(" ").trim_end().to_owned()
        });
    }
    if let Event::Undone { press: id } = event {
        let of = session.trail.iter().find(|known| known.id == *id)?;
        return Some(format!("taken back: {}", plain(session, &of.records)));
    }
    if let Event::Redone { .. } = event {
        return undo::newest(&session.trail).map(|of| format!("put back: {}", plain(session, &of.records)));
    }
    None
}

/// A press by its own records, which is all that is left of it once it is taken back; the place from what it told more about.
fn plain(session: &Session, records: &[Record]) -> String {
    let words = of(session);
    let line = |record: &Record| {
        let event = record.event()?;
        let line = match told_more_about(session, event) {
            Some(place) => format!("{} {}", words.place(place), words.event(event)),
            None => named(session, record, event),
        };
        (!goes_without_saying(record, records)).then_some(line)
    };
    records.iter().filter_map(line).collect::<Vec<_>>().join(", ")
}

/// The place of what an event tells more about.
fn told_more_about(session: &Session, event: &Event) -> Option<Place> {
    if let Event::Detailed { of: id, .. } = event {
        return found(session, id.0).map(|found| found.place);
    }
    if let Event::PutDetailed { put: id, .. } | Event::SeenOff { item: Item::Known(id), .. } = event {
        return put(session, *id).map(|view| view.put.place());
    }
    if let Event::Answered { case: id, .. } | Event::Staged { case: id, .. } = event {
        return case(session, *id).map(|case| case.place);
    }
    None
}

/// A finding with all that was told about it: `LH outer 4 sole ulcer severe deep`.
pub fn whole(found: &Found, words: Words) -> String {
    let name = match found.what {
        crate::domain::finding::Finding::OwnWords => "",
        what => what.row().name,
    };
    let parts = [
        words.place(found.place),
        name.to_owned(),
        words::degree(found.degree).to_owned(),
        crate::report::safe::safe(&found.words),
        if found.deep { "deep".to_owned() } else { String::new() },
        if found.infected { "infected".to_owned() } else { String::new() },
    ];
    parts.iter().filter(|part| !part.is_empty()).cloned().collect::<Vec<_>>().join(" ")
}

/// An earlier finding: `LH outer 4 sole ulcer`.
fn mark(case: &Case, words: Words) -> String {
    let name =
        if case.words.is_empty() { case.what.row().name.to_owned() } else { crate::report::safe::safe(&case.words) };
    format!("{} {name}", words.place(case.place))
}

fn found(session: &Session, id: RecordId) -> Option<&Found> {
    session.turn()?.1.found.iter().find(|found| found.id == id)
}

fn put(session: &Session, id: PutId) -> Option<&PutView> {
    let turns = &session.crush.as_ref()?.history.turns;
    turns.iter().flat_map(|turn| &turn.puts).find(|view| view.id == id)
}
