//! What the farm calls about itself while a visit goes on: said where the visit is added up and closed, and heard by its closing, on
//! the tablet that had the call. In any other case it is said again at the next visit.

use super::rig::Rig;
use crate::commands::home::{Home, TODAY};
use crate::screens::world::screen;
use crate::support::tablet::{Tablet, day};
use crushbook::domain::event::Event;
use crushbook::domain::farm_call::{during, unheard};
use crushbook::domain::herd::VisitWord;
use crushbook::domain::ids::{FarmId, VisitId};
use crushbook::keys::keymap::BuiltIn;
use std::collections::BTreeSet;

const MAP: BuiltIn = BuiltIn::TwoHands;
const SIZES: [(u16, u16); 3] = [(60, 20), (80, 24), (120, 40)];

struct Farm {
    tablet: Tablet,
    farm: FarmId,
}

impl Farm {
    fn new() -> Farm {
        let mut tablet = Tablet::new(1);
        let farm = tablet.farm(day(1));
        Farm { tablet, farm }
    }

    fn write(&mut self, on: u32, event: Event) {
        self.tablet.write(day(on), self.farm.0, event);
    }

    fn visit(&mut self, on: u32) -> VisitId {
        self.tablet.visit(day(on), self.farm)
    }

    fn call(&mut self, on: u32, words: &str) {
        let farm = self.farm;
        self.write(on, Event::FarmCalled { farm, words: words.to_owned(), urgent: false, caller: String::new() });
    }

    fn close(&mut self, on: u32, visit: VisitId) {
        self.write(on, Event::VisitClosed { visit });
    }

    /// What is said on that day, where somebody was in the crush on these.
    fn said(&self, on: u32, visits: &[u32]) -> Vec<String> {
        let visits: BTreeSet<_> = visits.iter().map(|on| day(*on)).collect();
        let calls = unheard(self.tablet.seen.clone(), self.farm, &visits, day(on));
        calls.into_iter().map(|call| call.words).collect()
    }
}

#[test]
fn a_call_while_a_visit_goes_on_is_heard_when_that_is_closed() {
    let mut farm = Farm::new();
    farm.call(1, "before");
    let visit = farm.visit(2);
    farm.call(2, "meanwhile");
    assert_eq!(farm.said(2, &[]), ["before", "meanwhile"], "all day what was not heard");
    assert_eq!(farm.said(5, &[2]), ["meanwhile"], "nobody closed it");
    farm.close(2, visit);
    farm.call(2, "that evening");
    assert_eq!(farm.said(5, &[2]), ["that evening"]);
    let words: Vec<String> =
        during(farm.tablet.seen.clone(), farm.farm, visit, day(2)).into_iter().map(|call| call.words).collect();
    assert_eq!(words, ["meanwhile"], "what its closing says");
    // The closing is taken back: nobody closed it.
    let press = farm
        .tablet
        .seen
        .iter()
        .rev()
        .find(|record| matches!(record.event(), Some(Event::VisitClosed { .. })))
        .expect("closed")
        .id;
    farm.write(2, Event::Undone { press });
    assert_eq!(farm.said(5, &[2]), ["meanwhile", "that evening"]);
}

/// Nobody knows what the other tablet had when it closed the visit.
#[test]
fn what_another_tablet_heard_is_said_again() {
    let mut farm = Farm::new();
    let visit = farm.visit(2);
    let mut office = farm.tablet.clone();
    (office.series, office.seq) = (2, 1);
    let mut office = Farm { tablet: office, farm: farm.farm };
    office.call(2, "meanwhile");
    farm.close(2, visit);
    farm.tablet.meet(&office.tablet);
    assert_eq!(farm.said(5, &[2]), ["meanwhile"]);
    // The other way round: it closes what the crush called down.
    let mut farm = Farm::new();
    let visit = farm.visit(2);
    farm.call(2, "meanwhile");
    (farm.tablet.series, farm.tablet.seq) = (2, 1);
    farm.close(2, visit);
    assert_eq!(farm.said(5, &[2]), ["meanwhile"]);
}

#[test]
fn only_the_closing_of_the_visit_that_went_on_hears_it() {
    // Set aside before the call: nobody was there.
    let mut farm = Farm::new();
    let visit = farm.visit(2);
    farm.write(2, Event::VisitPaused { visit });
    farm.call(2, "meanwhile");
    farm.close(2, visit);
    assert_eq!(farm.said(5, &[2]), ["meanwhile"]);
    // Set aside after it, and closed on another day without going on.
    let mut farm = Farm::new();
    let visit = farm.visit(2);
    farm.call(2, "meanwhile");
    farm.write(2, Event::VisitPaused { visit });
    assert_eq!(farm.said(3, &[2]), ["meanwhile"]);
    farm.close(3, visit);
    assert_eq!(farm.said(5, &[2]), Vec::<String>::new());
    // It went on the next day: said there as it began again, and not after.
    let mut farm = Farm::new();
    let visit = farm.visit(2);
    farm.call(2, "first day");
    farm.write(2, Event::VisitPaused { visit });
    farm.write(3, Event::VisitDescribed { visit, word: VisitWord::GoneOn });
    farm.call(3, "second day");
    assert_eq!(farm.said(5, &[2, 3]), ["second day"]);
    farm.close(3, visit);
    assert_eq!(farm.said(5, &[2, 3]), Vec::<String>::new());
    // Left without a word, and closed long after: nobody was there when it was said.
    let mut farm = Farm::new();
    let visit = farm.visit(2);
    farm.call(4, "two days later");
    farm.close(5, visit);
    assert_eq!(farm.said(6, &[2]), ["two days later"]);
    // Closed, gone on with, and called: that closing was before it.
    let mut farm = Farm::new();
    let visit = farm.visit(2);
    farm.close(2, visit);
    farm.write(2, Event::VisitDescribed { visit, word: VisitWord::GoneOn });
    farm.call(2, "meanwhile");
    assert_eq!(farm.said(5, &[2]), ["meanwhile"]);
    // Two visits a day: the second one hears what the first was told after its end.
    let mut farm = Farm::new();
    let first = farm.visit(2);
    farm.close(2, first);
    farm.call(2, "between");
    assert_eq!(farm.said(5, &[2]), ["between"]);
    farm.visit(2);
    farm.call(2, "in the second");
    assert_eq!(farm.said(5, &[2]), ["in the second"]);
    // The first was closed again by somebody: that is not the visit it was said in.
    farm.close(2, first);
    assert_eq!(farm.said(5, &[2]), ["in the second"]);
}

/// A visit whose beginning is in no book here: nobody knows what it heard, and it is said once more.
#[test]
fn where_nobody_knows_when_the_visit_began_a_call_of_its_day_is_said_again() {
    let mut farm = Farm::new();
    farm.call(1, "the day before");
    farm.call(2, "that day");
    assert_eq!(farm.said(5, &[2]), ["that day"]);
    // What is still to come is not said, and not what is of no visit's day.
    farm.call(6, "tomorrow");
    assert_eq!(farm.said(5, &[2]), ["that day"]);
    assert_eq!(farm.said(6, &[2]), ["that day", "tomorrow"]);
}

/// At the desk it stands in the totals and in the question that closes the visit, at every size and in lines.
#[test]
fn what_was_called_meanwhile_is_said_where_the_visit_is_closed() {
    let mut rig = Rig::with(MAP, &["12", "34"]);
    rig.press("1 2 Enter 5 Enter f 1 2 g a t e Space i s Space s h u t Enter");
    let call = "gate is shut";
    for keys in ["s", "Enter f 3 8"] {
        rig.press(keys);
        for size in SIZES {
            let seen = screen(&rig, MAP, size);
            assert!(seen.contains(call), "{keys} at {size:?}:\n{seen}");
        }
        let plain = rig.line("say");
        assert!(plain.contains(call), "{keys}: {plain}");
    }
    // Not closed: it is said again.
    let mut left = rig.copy();
    left.open();
    left.pass(5);
    assert_eq!(left.session().calls().map(|call| call.words.as_str()).collect::<Vec<_>>(), [call]);
    rig.press("1 0");
    rig.pass(5);
    rig.press("Enter");
    assert_eq!(rig.session().calls().count(), 0);
}

/// A call as long as a letter leaves room for the keys that answer, and says where the rest of it stands.
#[test]
fn a_long_call_leaves_the_choices_on_the_screen() {
    let mut rig = Rig::with(MAP, &["12"]);
    let long = "g a t e Space ".repeat(60);
    rig.press(&format!("1 2 Enter 5 Enter f 3 6 f 1 2 {long} x Enter f 1 2 {long} y Enter f 3 8"));
    for size in SIZES {
        let seen = screen(&rig, MAP, size);
        let words = ["close the visit of", "(all of it in the totals)", "(1 earlier: in the totals)"];
        let joined = seen.split_whitespace().collect::<Vec<_>>().join(" ");
        for said in words {
            assert!(joined.contains(said), "{size:?}: no {said:?} in\n{seen}");
        }
        assert!(seen.lines().any(|line| line.contains("1 ") && line.contains("close")), "{size:?}\n{seen}");
    }
}

#[test]
fn the_command_that_closes_a_visit_says_it_too() {
    let home = Home::new();
    home.write("day.txt", "farm Hollow\nday 14 May 2026\nanimal 1\n  hinds trimmed nothing found\n  signed\n");
    let run = |arguments: &[&str], today: &str| {
        home.run(&[arguments, &["--book", "b.book", "--today", today]].concat()).well()
    };
    run(&["enter", "day.txt"], TODAY);
    run(&["called", "gate is shut", "--urgent"], TODAY);
    let list = || run(&["day-list"], "2026-05-20");
    assert!(list().contains("the farm called THU 14 May, urgent: gate is shut"), "{}", list());
    let closed = run(&["visit", "Hollow", "--close-all-the-same"], TODAY);
    assert!(closed.contains("the farm called THU 14 May, urgent: gate is shut"), "{closed}");
    assert!(!list().contains("gate is shut"), "{}", list());
    let said: serde_json::Value =
        serde_json::from_str(&run(&["visit", "Hollow", "--as", "json"], TODAY)).expect("JSON");
    let wanted = serde_json::json!([{ "date": TODAY, "words": "gate is shut", "urgent": true }]);
    assert_eq!(said["visits"][0]["calls"], wanted, "{said:#}");
    // It is no longer said, and not lost.
    assert!(run(&["farm", "Hollow"], TODAY).contains("gate is shut"));
    run(&["undo", "--yes"], TODAY);
    assert!(list().contains("gate is shut"), "{}", list());
}
