//! The calendar's entries as iCalendar (RFC 5545): all-day events with an alarm, which is what telephones show.
//!
//! A start without an end is one whole day (RFC 5545, 3.6.1). Names are those of records and moments those of their writing,
//! so that the same book gives the same bytes, and a telephone that reads it again changes what it has.

use super::calendar::Entry;
use crate::domain::treatment::Milking;
use crate::report::safe::safe;

/// Most octets in a line, its end left out (RFC 5545, 3.1).
const LINE: usize = 75;

/// A calendar must hold something (RFC 5545, 3.6), also where nothing is to come off.
const NOTHING: [&str; 9] = [
    "BEGIN:VTIMEZONE",
    "TZID:Etc/UTC",
    "BEGIN:STANDARD",
    "DTSTART:19700101T000000",
    "TZOFFSETFROM:+0000",
    "TZOFFSETTO:+0000",
    "TZNAME:UTC",
    "END:STANDARD",
    "END:VTIMEZONE",
];

/// Writes the calendar.
pub fn ics(entries: &[Entry]) -> String {
    let head = ["BEGIN:VCALENDAR", "VERSION:2.0", "PRODID:-//crushbook//take-off list//EN", "CALSCALE:GREGORIAN"];
    let mut lines: Vec<String> = head.map(str::to_owned).to_vec();
    if entries.is_empty() {
        lines.extend(NOTHING.map(str::to_owned));
    }
    for entry in entries {
        lines.extend(event(entry));
    }
    lines.push("END:VCALENDAR".to_owned());
    lines.iter().map(|line| folded(line)).collect()
}

fn event(entry: &Entry) -> Vec<String> {
    let stamp = entry.stamp.naive_utc().format("%Y%m%dT%H%M%SZ");
    let description: Vec<String> = entry.description.iter().map(|line| escaped(line)).collect();
    let mut lines = vec![
        "BEGIN:VEVENT".to_owned(),
        format!("UID:{}@crushbook", entry.id),
        format!("DTSTAMP:{stamp}"),
        format!("LAST-MODIFIED:{stamp}"),
        format!("SEQUENCE:{}", entry.sequence),
        format!("STATUS:{}", if entry.cancelled { "CANCELLED" } else { "CONFIRMED" }),
        format!("DTSTART;VALUE=DATE:{}", entry.off_by.day.format("%Y%m%d")),
        format!("SUMMARY:{}", escaped(&entry.summary)),
    ];
    if !description.is_empty() {
        lines.push(format!("DESCRIPTION:{}", description.join("\\n")));
    }
    // A whole day that is still free for other things.
    lines.push("TRANSP:TRANSPARENT".to_owned());
    if !entry.cancelled {
        lines.extend(alarm(entry));
    }
    lines.push("END:VEVENT".to_owned());
    lines
}

fn alarm(entry: &Entry) -> [String; 5] {
    [
        "BEGIN:VALARM".to_owned(),
        "ACTION:DISPLAY".to_owned(),
        format!("DESCRIPTION:{}", escaped(&entry.summary)),
        format!("TRIGGER:PT{}H", alarm_hour(entry.off_by.milking)),
        "END:VALARM".to_owned(),
    ]
}

/// Hours after midnight at which a telephone rings: before the milking is over (common practice).
fn alarm_hour(milking: Milking) -> u8 {
    match milking {
        Milking::Morning => 5,
        Milking::Any => 7,
        Milking::Evening => 15,
    }
}

/// Text without anything that would end a line or a value (RFC 5545, 3.3.11).
fn escaped(text: &str) -> String {
    safe(text).replace('\\', "\\\\").replace(';', "\\;").replace(',', "\\,")
}

/// The line with its end, folded so that no line is too long and no character is cut: every further line begins with a
/// blank, which is not part of the text.
fn folded(line: &str) -> String {
    let mut out = String::with_capacity(line.len() + 2);
    let mut room = LINE;
    for letter in line.chars() {
        if letter.len_utf8() > room {
            out.push_str("\r\n ");
            room = LINE - 1;
        }
        out.push(letter);
        room -= letter.len_utf8();
    }
    out.push_str("\r\n");
    out
}
