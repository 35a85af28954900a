//! The calendar's bytes, against RFC 5545.

use super::paper::hostile;
use super::world::World;
use crate::support::tablet::day;
use crushbook::domain::treatment::{Milking, Off, OffBy};
use crushbook::report::take_off::calendar::Entry;
use crushbook::report::take_off::ics::ics;

/// Lines of the file with folds undone, each checked (3.1: CR LF, at most 75 octets, no control characters).
fn lines(file: &str) -> Vec<String> {
    assert!(file.ends_with("\r\n"));
    let mut lines: Vec<String> = Vec::new();
    for line in file.split_terminator("\r\n") {
        assert!(!line.contains(['\r', '\n']), "a bare line end: {line:?}");
        assert!(line.len() <= 75, "{} octets: {line}", line.len());
        assert!(!line.chars().any(char::is_control), "{line:?}");
        match (line.strip_prefix(' '), lines.last_mut()) {
            (Some(more), Some(last)) => last.push_str(more),
            (_, _) => lines.push(line.to_owned()),
        }
    }
    lines
}

/// The value of a property of an event's lines, where it is there exactly once.
fn one<'l>(event: &'l [String], name: &str) -> &'l str {
    let values: Vec<&str> = event.iter().filter_map(|line| line.strip_prefix(name)?.strip_prefix(':')).collect();
    assert_eq!(values.len(), 1, "{name}: {event:#?}");
    values[0]
}

fn events(file: &str) -> Vec<Vec<String>> {
    let lines = lines(file);
    assert_eq!(lines[..2], ["BEGIN:VCALENDAR", "VERSION:2.0"]);
    assert_eq!(lines.last().map(String::as_str), Some("END:VCALENDAR"));
    let begins = lines.iter().enumerate().filter(|(_, line)| *line == "BEGIN:VEVENT").map(|(at, _)| at);
    let until = |from: usize| from + lines[from..].iter().position(|line| line == "END:VEVENT").expect("an end");
    begins.map(|from| lines[from..=until(from)].to_vec()).collect()
}

#[test]
fn an_event_is_one_whole_day_with_an_alarm() {
    let mut world = World::new();
    let (_, _, put) = world.wrapped(day(1), "1394");
    let events = events(&world.ics(day(2)));
    let [event] = events.as_slice() else { panic!("one event: {events:#?}") };
    assert_eq!(one(event, "UID"), format!("{}@crushbook", put.0));
    // Written at half past nine, an hour east of Greenwich: nothing here is the time it is now.
    assert_eq!(one(event, "DTSTAMP"), "20260501T083000Z");
    assert_eq!(one(event, "DTSTART;VALUE=DATE"), "20260504");
    assert!(
        !event.iter().any(|line| line.starts_with("DTEND") || line.starts_with("DURATION")),
        "a day alone is a day"
    );
    assert_eq!(one(event, "STATUS"), "CONFIRMED");
    assert_eq!(one(event, "SUMMARY"), "1394 BACK LEFT: BLUE WRAP off");
    assert!(event.iter().any(|line| line.starts_with("DESCRIPTION:By MON 4 May evening milking\\, by Tom\\nOnly in")));
    assert!(event.iter().any(|line| line.ends_with("\\nVet: Orla Venn 01632 960187")), "{event:#?}");
    let alarm: Vec<&String> = event.iter().skip_while(|line| *line != "BEGIN:VALARM").collect();
    assert!(alarm.len() == 6 && alarm[1] == "ACTION:DISPLAY" && alarm[3] == "TRIGGER:PT15H", "{alarm:#?}");
    assert!(alarm[2].starts_with("DESCRIPTION:1394"), "{alarm:#?}");
}

#[test]
fn the_alarm_rings_before_the_milking_is_over() {
    let mut world = World::new();
    world.wrapped(day(1), "1394");
    let entry = world.entries(day(2)).remove(0);
    let hour = |milking| {
        let file = ics(&[Entry { off_by: OffBy { day: day(4), milking }, ..entry.clone() }]);
        lines(&file).into_iter().find(|line| line.starts_with("TRIGGER")).expect("a trigger")
    };
    assert_eq!(
        [Milking::Morning, Milking::Any, Milking::Evening].map(hour),
        ["TRIGGER:PT5H", "TRIGGER:PT7H", "TRIGGER:PT15H"]
    );
}

#[test]
fn what_is_cancelled_says_so_and_rings_no_more() {
    let mut world = World::new();
    let (animal, _, put) = world.wrapped(day(1), "1394");
    world.seen(day(4), animal, put, Off::Bare);
    let events = events(&world.ics(day(4)));
    assert_eq!(one(&events[0], "STATUS"), "CANCELLED");
    assert_eq!(one(&events[0], "SUMMARY"), "Not needed: 1394 BACK LEFT: BLUE WRAP");
    assert_eq!(one(&events[0], "DTSTART;VALUE=DATE"), "20260504");
    assert_eq!(one(&events[0], "DTSTAMP"), "20260504T083000Z");
    assert!(!events[0].iter().any(|line| line.contains("VALARM")), "{events:#?}");
}

#[test]
fn nothing_that_was_typed_ends_a_line_or_a_value() {
    for world in hostile() {
        let events = events(&world.ics(day(2)));
        assert_eq!(events.len(), 2, "{events:#?}");
        for event in &events {
            for name in ["UID", "DTSTAMP", "SEQUENCE", "STATUS", "SUMMARY"] {
                one(event, name);
            }
            for value in
                [one(event, "SUMMARY"), event.iter().find_map(|line| line.strip_prefix("DESCRIPTION:")).expect("words")]
            {
                let bare = value.replace("\\\\", "").replace("\\,", "").replace("\\;", "").replace("\\n", "");
                assert!(!bare.contains([',', ';', '\\']), "{value}");
            }
        }
    }
}

#[test]
fn lines_are_folded_between_characters() {
    let mut world = World::new();
    world.wrapped(day(1), "1394");
    let entry = world.entries(day(2)).remove(0);
    for letter in ["x", "é", "牛", "🐄"] {
        for count in 0..120 {
            let summary = letter.repeat(count);
            let file = ics(&[Entry { summary: summary.clone(), ..entry.clone() }]);
            let event = events(&file).remove(0);
            assert!(event.contains(&format!("SUMMARY:{summary}")), "{file}");
        }
    }
    // 8 octets of name and 67 of text fill a line; one more begins the next.
    let file = |count| ics(&[Entry { summary: "x".repeat(count), ..entry.clone() }]);
    assert!(file(67).contains(&format!("SUMMARY:{}\r\nDESC", "x".repeat(67))));
    assert!(file(68).contains(&format!("SUMMARY:{}\r\n x\r\nDESC", "x".repeat(67))));
}

#[test]
fn a_calendar_with_nothing_to_do_still_holds_a_component() {
    // RFC 5545, 3.6: a calendar must include at least one component.
    let file = World::new().ics(day(2));
    let lines = lines(&file);
    assert!(lines.contains(&"BEGIN:VTIMEZONE".to_owned()) && lines.contains(&"END:VTIMEZONE".to_owned()), "{file}");
    assert!(events(&file).is_empty());
}
