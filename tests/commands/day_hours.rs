//! The hours that are left of a lame animal: by the clock where it told the very day, else by days; and nothing else goes by it.

use crate::support::tablet::{Tablet, day};
use chrono::{DateTime, NaiveDate};
use crushbook::domain::day_list::{DayList, Line, Part, VisitDays};
use crushbook::domain::event::Event;
use crushbook::domain::follow_up::Urgency;
use crushbook::domain::follow_up::rules::Rules;
use crushbook::domain::hours::{end_of, read_at};
use crushbook::domain::ids::AnimalId;
use crushbook::domain::practice::Region;
use crushbook::domain::record::Moment;
use crushbook::domain::treatment::{Gait, GaitScale};
use crushbook::report::day_line::reasons;
use crushbook::report::day_list::Page;
use crushbook::report::words::Words;

/// That time of that day of May, an hour east.
fn at(text: &str) -> Moment {
    DateTime::parse_from_rfc3339(&format!("2026-05-{text}:00+01:00")).expect("a moment")
}

struct Scored {
    tablet: Tablet,
    animal: AnimalId,
}

impl Scored {
    fn new() -> Scored {
        let mut tablet = Tablet::new(1);
        let farm = tablet.farm(day(1));
        let animal = tablet.animal(day(1), farm, "7");
        Scored { tablet, animal }
    }

    /// Scored on that day, written at that moment; her record.
    fn walk(&mut self, score: u8, on: u32, written: &str) -> crushbook::domain::ids::RecordId {
        let gait = Gait { scale: GaitScale::ZeroToThree, score };
        let id = self.tablet.write(day(on), self.animal.0, Event::Walked { turn: None, gait });
        self.tablet.seen.last_mut().expect("one was written").written = at(written);
        id
    }

    fn line(&self, today: NaiveDate) -> Line {
        let part = Part::of(self.animal, &self.tablet.seen, &VisitDays::new(), &Rules::default(), today);
        DayList::of([&part].into_iter()).expected.remove(0)
    }

    /// What the row of Today says, checked against the printed page.
    fn said(&self, today: u32, now: &str) -> String {
        let (today, at, rules, words) = (day(today), at(now), Rules::default(), Words(Region::Plain));
        let line = self.line(today);
        let row = reasons(&line, (&rules, today), at, words).remove(0).forms.remove(0);
        let hours = row.split(", ").nth(1).unwrap_or_default().to_owned();
        let list = DayList { expected: vec![line], ..DayList::default() };
        let of = crushbook::domain::ids::FarmId(self.animal.0);
        let page = Page { list: &list, of, farm: "F", calls: &[], again: &[], rules: &rules, today, at, words };
        let text = page.text();
        assert!(hours.is_empty() || text.contains(&hours), "{hours}: {text}");
        hours
    }
}

/// Score 2 within 48 h, score 3 within 24 h (DairyNZ 2023, 0-3 scale; trade.md 3), from the moment she was scored.
#[test]
fn hours_count_from_the_moment_of_the_score_to_now() {
    let mut lame = Scored::new();
    lame.walk(2, 12, "12T09:30");
    let wanted = [
        ((12, "12T09:30"), "48 h left"),
        // Of an hour that is begun nothing is left.
        ((12, "12T09:31"), "47 h left"),
        ((13, "13T09:30"), "24 h left"),
        ((13, "13T20:00"), "13 h left"),
        ((14, "14T08:31"), "0 h left"),
        ((14, "14T09:30"), "0 h left"),
        ((14, "14T09:31"), "1 h over"),
        ((14, "14T12:30"), "3 h over"),
        // Late by days: its day says more.
        ((15, "15T08:00"), ""),
    ];
    for ((today, now), words) in wanted {
        assert_eq!(lame.said(today, now), words, "{now}");
    }
    let mut very = Scored::new();
    very.walk(3, 12, "12T18:00");
    assert_eq!([very.said(12, "12T19:00"), very.said(13, "13T17:00")], ["23 h left", "1 h left"]);
}

/// The first of the unbroken run counts, and a moment is the same in any place's time.
#[test]
fn the_first_lame_score_of_the_run_counts() {
    let mut lame = Scored::new();
    lame.walk(2, 10, "10T06:00");
    lame.walk(0, 11, "11T06:00");
    lame.walk(2, 12, "12T10:00");
    lame.walk(2, 13, "13T10:00");
    assert_eq!(lame.said(13, "13T12:00"), "22 h left");
    let line = lame.line(day(13));
    let elsewhere = DateTime::parse_from_rfc3339("2026-05-13T21:00:00+10:00").expect("a moment");
    let rules = Rules::default();
    let said = reasons(&line, (&rules, day(13)), elsewhere, Words(Region::Plain)).remove(0).forms.remove(0);
    assert!(said.contains("22 h left"), "{said}");
}

/// Clocks are wrong, and sheets are typed late: then days count, as they always did.
#[test]
fn where_the_clock_cannot_be_believed_days_count() {
    // Typed the day after; of a clock a day behind; written after now.
    for (written, now) in [("13T08:00", "13T20:00"), ("11T23:00", "13T20:00"), ("12T21:00", "12T20:00")] {
        let mut lame = Scored::new();
        lame.walk(2, 12, written);
        let (today, words) = if now.starts_with("13") { (13, "24 h left") } else { (12, "48 h left") };
        assert_eq!(lame.said(today, now), words, "{written} {now}");
    }
    // On the last day none are left by days.
    let mut lame = Scored::new();
    lame.walk(2, 12, "13T08:00");
    assert_eq!(lame.said(14, "14T20:00"), "");
}

#[test]
fn a_score_that_was_taken_back_or_set_right_counts_no_longer() {
    let mut lame = Scored::new();
    let first = lame.walk(2, 12, "12T06:00");
    lame.walk(2, 12, "12T15:00");
    assert_eq!(lame.said(12, "12T16:00"), "38 h left");
    let mut undone = Scored { tablet: lame.tablet.clone(), animal: lame.animal };
    undone.tablet.write(day(12), undone.animal.0, Event::Undone { press: first });
    assert_eq!(undone.said(12, "12T16:00"), "47 h left");
    // She was not lame the first time after all.
    let sound = Event::Walked { turn: None, gait: Gait { scale: GaitScale::ZeroToThree, score: 1 } };
    let why = "another cow".to_owned();
    let mut righted = Scored { tablet: lame.tablet.clone(), animal: lame.animal };
    righted.tablet.write(day(12), lame.animal.0, Event::Corrected { of: first, to: Box::new(sound), why: why.clone() });
    assert_eq!(righted.said(12, "12T16:00"), "47 h left");
    // Lamer than was written: she walked by at the same moment, whenever it was set right.
    let worse = Event::Walked { turn: None, gait: Gait { scale: GaitScale::ZeroToThree, score: 3 } };
    let mut righted = Scored::new();
    let only = righted.walk(2, 12, "12T06:00");
    righted.tablet.write(day(12), righted.animal.0, Event::Corrected { of: only, to: Box::new(worse), why });
    assert_eq!(righted.said(12, "12T16:00"), "14 h left");
}

/// However the clock is set, whom she stands before and how urgent she is goes by days.
#[test]
fn the_clock_changes_no_order_and_no_urgency() {
    for written in ["12T00:01", "12T23:59", "30T12:00"] {
        let mut lame = Scored::new();
        lame.walk(3, 12, written);
        for (today, urgency) in [(12, Urgency::Coming), (13, Urgency::Due), (14, Urgency::Urgent)] {
            let line = lame.line(day(today));
            let crushbook::domain::day_list::Why::Open(_, due) = &line.why[0] else { panic!("{:?}", line.why) };
            assert_eq!(due.map(|due| due.urgency), Some(urgency), "{written} {today}");
        }
    }
}

#[test]
fn a_day_that_is_not_the_clocks_is_read_as_it_ends() {
    let now = at("13T10:00");
    assert_eq!(read_at(now, day(13)), now);
    // Paper of yesterday; and a day that went on past midnight.
    assert_eq!(read_at(now, day(12)), at("13T00:00"));
    assert_eq!(end_of(day(13), now), at("14T00:00"));
    let mut lame = Scored::new();
    lame.walk(2, 12, "12T09:00");
    let line = lame.line(day(12));
    let rules = Rules::default();
    let said = reasons(&line, (&rules, day(12)), read_at(now, day(12)), Words(Region::Plain)).remove(0).forms.remove(0);
    assert!(said.contains("33 h left"), "{said}");
}
