//! The "saved" line: what a press wrote, with foot, place and name even where the record holds only a grade.

use crate::domain::case::Case;
use crate::domain::event::{Event, Item};
use crate::domain::history::{Found, PutView};
use crate::domain::ids::{PutId, RecordId};
use crate::domain::record::Record;
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
    for event in events.iter().filter(|event| !matches!(event, Event::VisitBegun { .. })) {
        let line = about(session, event).unwrap_or_else(|| words.event(event));
        // An undo is written about each of its subjects and is still one undo.
        if !lines.contains(&line) {
            lines.push(line);
        }
    }
    lines.join(", ")
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
        return Some(format!("taken back: {}", plain(&of.records, words)));
    }
    if let Event::Redone { .. } = event {
        return undo::newest(&session.trail).map(|of| format!("put back: {}", plain(&of.records, words)));
    }
    None
}

/// A press by its own records, which is all that is left of it once it is taken back.
fn plain(records: &[Record], words: Words) -> String {
    let lines: Vec<String> = records.iter().filter_map(Record::event).map(|event| words.event(event)).collect();
    lines.join(", ")
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
