//! From a sheet to records: what an answer means, which wrap came off, and that nothing is half entered.

use super::entered::{Book, entered};
use chrono::{NaiveTime, TimeDelta, TimeZone, Utc};
use crushbook::domain::anatomy::{Foot, Horn, Place, Side};
use crushbook::domain::event::{Detail, Event, Item};
use crushbook::domain::finding::Finding;
use crushbook::domain::follow_up::rules::RuleSet;
use crushbook::domain::ids::{AnimalId, FarmId, RecordId};
use crushbook::domain::record::Stamp;
use crushbook::domain::sheet::instruct::Then;
use crushbook::domain::sheet::tell::{tell, tell_farm};
use crushbook::domain::sheet::transcribe::SnagWhy;
use crushbook::domain::sheet::{Line, SheetTurn, Told};
use crushbook::wire::sheet;

const FIRST: &str = "farm A\nday 1 May 2026\nanimal 7\nLH outer 4 SU severe infected deep\nLH heel DD M2\nLH inner block wood\nLH heel wrap blue off by 4 May by \"Tom\"\nsigned\n";

fn head(day: &str, lines: &str) -> String {
    format!("farm A\nday {day} 2026\nanimal 7\n{lines}\n")
}

#[test]
fn one_sheet_turn_is_one_press_with_ids_in_a_row() {
    let book = entered(&[FIRST]);
    let records = book.records("7");
    let turn: Vec<_> = records.iter().filter(|record| record.on.to_string() == "2026-05-01").skip(2).collect();
    assert!(turn.iter().all(|record| record.press == turn[0].id.seq && record.tick == turn[0].tick));
    let seqs: Vec<u64> = turn.iter().map(|record| record.id.seq).collect();
    assert_eq!(seqs, (turn[0].id.seq..turn[0].id.seq + seqs.len() as u64).collect::<Vec<_>>());
    let found = turn.iter().find(|record| matches!(record.event(), Some(Event::Found { what: Finding::SU, .. })));
    let found = found.expect("the ulcer").id;
    let details = turn.iter().filter_map(|record| match record.event() {
        Some(Event::Detailed { of, detail }) if of.0 == found => Some(*detail),
        _ => None,
    });
    assert_eq!(details.collect::<Vec<_>>(), [Detail::Infected(true), Detail::Deep(true)]);
}

#[test]
fn an_answer_finds_its_case_and_an_off_finds_its_wrap() {
    let second = head(
        "15 May",
        "LH outer 4 U better\nLH heel DD now M0\nLH wrap off ring skin raw\nLH block left sound\nsigned",
    );
    let book = entered(&[FIRST, &second]);
    let history = book.history("7");
    let turn = history.turns.last().expect("the second turn");
    assert_eq!(turn.answers.len(), 2);
    assert_eq!(history.open_courses().map(|course| course.what()).collect::<Vec<_>>(), [Finding::SU]);
    assert!(turn.offs.iter().all(|off| matches!(off.item, Item::Known(_))), "{:?}", turn.offs);
    let still_on =
        history.open.iter().filter(|item| matches!(item, crushbook::domain::history::open::OpenItem::On { .. }));
    assert_eq!(still_on.count(), 1, "the block stays");
}

#[test]
fn a_wrap_nobody_knew_of_is_met_and_an_answer_to_nothing_is_refused() {
    let met = entered(&[&head("1 May", "RH wrap already off\nsigned")]);
    let history = met.history("7");
    assert_eq!(history.turns[0].offs[0].item, Item::Met(Place::Foot(Foot::RightHind)));

    let mut book = Book::default();
    let text = head("1 May", "RH nothing found\nLH outer 4 SU better");
    let reading = sheet::read(&text, "x.txt").expect("a sheet");
    let (entry, snags) = book.enter(&reading.sheet).expect_err("nothing to answer");
    let place = Place::Horn(Foot::LeftHind, Side::Outer, Horn::SoleBulb);
    assert_eq!(snags[0].why, SnagWhy::NothingToAnswer { place, what: Finding::SU });
    let told = sheet::explain(&reading, "x.txt", entry, &snags[0]);
    assert_eq!((told.line, told.column), (5, 1));
    assert!(told.to_string().contains("LH outer 4 SU with grade or stage"), "{told}");
}

#[test]
fn a_finding_on_an_open_case_is_new_unless_written_as_an_answer() {
    let second = head("15 May", "LH outer 4 SU light\nsigned");
    let history = entered(&[FIRST, &second]).history("7");
    assert!(history.turns[1].answers.is_empty());
    assert_eq!(history.turns[1].found.len(), 1);
}

#[test]
fn word_about_a_wrap_never_put_on_is_refused() {
    let mut book = Book::default();
    let reading =
        sheet::read("farm A\nday 1 May 2026\ntold 7 LH wrap off by \"Tom\" telephone\n", "x").expect("a sheet");
    let (_, snags) = book.enter(&reading.sheet).expect_err("none is on");
    assert!(matches!(snags[0].why, SnagWhy::NothingOn { .. }));
}

#[test]
fn a_recorded_turn_prints_as_a_sheet_that_is_known_to_be_entered() {
    let second =
        head("15 May", "LH outer 4 U better\nLH wrap off ring skin raw\nLH trimmed\nLH lifted\nnote \"calm\"\nsigned");
    let book = entered(&[FIRST, &second]);
    let history = book.history("7");
    for text in [FIRST, &second] {
        let sheet = sheet::parse(text, "x").expect("a sheet");
        let turn = sheet.turns().next().expect("a turn");
        assert!(turn.is_in(&history, sheet.on), "{text}");
        let other = SheetTurn { facts: turn.facts[1..].to_vec(), ..turn.clone() };
        assert!(!other.is_in(&history, sheet.on), "a fact less is another sheet");
    }
    let again = SheetTurn::of(&history.turns[0], &history);
    assert_eq!(again.animal, "7");
    assert_eq!(again.facts.len(), 4);
}

#[test]
fn what_was_told_outside_the_crush_becomes_one_event_each() {
    let sheet = sheet::parse(include_str!("seeds/everything.txt"), "everything").expect("a sheet");
    let id = |seq| RecordId { series: 9, seq };
    let (animal, farm) = (AnimalId(id(1)), FarmId(id(2)));
    let (mut farm_events, rules) = (0, RuleSet::default());
    let mut farm_records = Vec::new();
    let now = Utc.from_utc_datetime(&sheet.on.and_time(NaiveTime::MIN)).fixed_offset();
    let stamp = |seq| Stamp { next: RecordId { series: 8, seq }, tick: seq, by: None, now, on: sheet.on };
    for line in &sheet.lines {
        match line {
            Line::Turn(_) => {}
            Line::Farm(told) => {
                farm_events += 1;
                let then = Then { on: sheet.on, rules: &rules };
                let event = tell_farm(told, farm, &farm_records, then).expect("needs nothing but what stands above it");
                farm_records.extend(stamp(farm_events).press([(farm.0, event.clone())]));
                assert!(event.turn().is_none(), "{event:?}");
            }
            Line::Animal { told: told @ (Told::Word { .. } | Told::VetAnswered { .. }), .. } => {
                assert!(
                    tell(told, animal, farm, None, sheet.on).is_err(),
                    "nothing is known to be on, and no vet was advised"
                );
            }
            Line::Animal { told, .. } => {
                let event = tell(told, animal, farm, None, sheet.on).expect("needs nothing known before");
                assert!(event.turn().is_none(), "{event:?}");
            }
        }
    }
    assert_eq!(farm_events, 19);
    let given: Vec<_> = farm_records.iter().rev().take(8).rev().collect();
    let Some(Event::InstructionReviewed { instruction, .. }) = given[2].event() else { panic!("{given:?}") };
    assert_eq!(*instruction, given[1].id, "the one for the inner claws in front");
    let Some(Event::InstructionReviewed { instruction, .. }) = given[5].event() else { panic!("{given:?}") };
    assert_eq!(*instruction, given[4].id, "of the two for the hinds the one of these words");
    let Some(Event::InstructionEnded { instruction, .. }) = given[6].event() else { panic!("{given:?}") };
    assert_eq!(*instruction, given[3].id, "and the other");
    let Some(Event::InstructionEnded { instruction, .. }) = given[7].event() else { panic!("{given:?}") };
    assert_eq!(*instruction, given[0].id, "the one for all feet, not the newer one for some");
}

#[test]
fn a_moved_sheet_moves_every_day_and_nothing_else() {
    let sheet = sheet::parse(include_str!("seeds/everything.txt"), "everything").expect("a sheet");
    let moved = sheet.clone().moved(TimeDelta::days(7)).expect("days of the calendar");
    assert_ne!(moved.on, sheet.on);
    let printed = sheet::print(&moved);
    for day in [
        "day 21 May 2026",
        "off by 24 May evening",
        "recheck 4 Jun",
        "expiry=\"7 Jan 2028\"",
        "since 9 May 2026",
        "review 19 Aug",
        "review 8 Aug",
    ] {
        assert!(printed.contains(day), "{day}\n{printed}");
    }
    assert_eq!(moved.moved(TimeDelta::days(-7)), Some(sheet));
}

#[test]
fn what_the_vet_answered_finds_the_advice_that_waits() {
    use crushbook::domain::history::open::OpenItem;
    let advised = head("2 May", "LH vet tract\nRH vet advised \"foul\"\nsigned");
    let waiting = |book: &super::entered::Book| -> Vec<Place> {
        let open = book.history("7").open;
        open.iter().filter(|item| matches!(item, OpenItem::Vet { .. })).map(OpenItem::place).collect()
    };
    let told = |day: &str, line: &str| format!("farm A\nday {day} 2026\ntold 7 {line}\n");
    let both = entered(&[&advised]);
    assert_eq!(waiting(&both), [Place::Foot(Foot::LeftHind), Place::Foot(Foot::RightHind)]);
    let there = entered(&[&advised, &told("3 May", "LH vet answered \"seen\"")]);
    assert_eq!(waiting(&there), [Place::Foot(Foot::RightHind)], "the place says which");
    let newest = entered(&[&advised, &told("3 May", "vet answered")]);
    assert_eq!(waiting(&newest), [Place::Foot(Foot::LeftHind)], "with no place told, the newest");
    // A place where nobody was asked, and a day before anybody was.
    for (day, line) in [("3 May", "LF vet answered"), ("1 May", "vet answered")] {
        let mut book = entered(&[&advised]);
        let sheet = sheet::parse(&told(day, line), "x").expect("a sheet");
        let (entry, snags) = book.enter(&sheet).expect_err(line);
        assert_eq!((entry, snags.len()), (0, 1), "{line}");
        assert!(matches!(snags[0].why, SnagWhy::NoVet { .. }), "{line}");
    }
}
