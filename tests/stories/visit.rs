//! The visit: what is said of it, set aside and gone on with, two people at one crush, washed before and after, closed.

use super::rig::Rig;
use crate::screens::world::screen;
use crate::support::tablet::{Tablet, day, moment};
use crushbook::domain::anatomy::Foot;
use crushbook::domain::backup::{Backups, DAYS};
use crushbook::domain::event::Event;
use crushbook::domain::herd::{VisitWhy, VisitWord};
use crushbook::domain::history::{History, TurnState};
use crushbook::domain::ids::VisitId;
use crushbook::domain::practice::Region;
use crushbook::domain::record::Record;
use crushbook::domain::sheet::SheetTurn;
use crushbook::domain::visit::Visits;
use crushbook::domain::visit_log::{State, Visit, visits};
use crushbook::keys::context::Context;
use crushbook::keys::intent::Intent;
use crushbook::keys::keymap::BuiltIn;
use crushbook::report::turn::lines;
use crushbook::report::words::Words;
use crushbook::session::act::Ask;
use crushbook::session::mode::Mode;
use crushbook::session::{Notice, Refusal, of_farm, visit};
use std::collections::BTreeSet;

const MAP: BuiltIn = BuiltIn::TwoHands;
/// All four trimmed and nothing found, signed off.
const ROUTINE: &str = "5 Enter";
/// What the farm's menu is opened with, and its row of the visit.
const VISIT: &str = "f 3";

/// Keys of a keymap that say these rows of the visit's menu.
fn saying(map: BuiltIn, rows: &[u8]) -> String {
    let keymap = map.keymap();
    let key = |context, intent| keymap.keys_for(context, intent).remove(0);
    let rows = [3].iter().chain(rows).map(|row| key(Context::Pad, Intent::Pick(*row)));
    std::iter::once(key(Context::Today, Intent::Farm)).chain(rows).collect::<Vec<_>>().join(" ")
}

/// Records that the last of these keys wrote.
fn wrote(rig: &mut Rig, keys: &str) -> Vec<Record> {
    rig.press(keys);
    if let Some(Notice::Saved { press, .. }) = rig.notice() { press.clone() } else { Vec::new() }
}

fn words(records: &[Record]) -> Vec<VisitWord> {
    let word = |record: &Record| match record.event() {
        Some(Event::VisitDescribed { word, .. }) => Some(*word),
        _ => None,
    };
    records.iter().filter_map(word).collect()
}

/// The visits that the book itself tells of, the newest first.
fn log(rig: &mut Rig) -> Vec<Visit> {
    let farm = rig.session().farm.as_ref().expect("open").id;
    visits(rig.every(), farm)
}

fn asks(rig: &Rig) -> Option<&visit::Ask> {
    match rig.mode() {
        Mode::Pad { ask: Ask::Farm(of_farm::Ask::Visit(asked)), .. } => Some(asked),
        _ => None,
    }
}

fn states(rig: &Rig) -> Vec<(&str, Option<TurnState>)> {
    rig.session().herd.iter().map(|line| (line.labels.number.as_str(), line.turn.map(|turn| turn.state))).collect()
}

#[test]
fn before_the_first_animal_a_word_begins_the_visit_and_after_it_a_word_corrects_it() {
    for map in BuiltIn::ALL {
        let mut rig = Rig::with(map, &["12"]);
        let press = wrote(&mut rig, &saying(map, &[2]));
        assert!(
            matches!(press[..], [ref one] if matches!(one.event(), Some(Event::VisitBegun { why: VisitWhy::CallOut, .. }))),
            "{map:?}: {press:?}"
        );
        let visit = VisitId(press[0].id);
        assert_eq!(words(&wrote(&mut rig, &saying(map, &[3]))), [VisitWord::WholeHerd]);
        // The newest word counts, and each stays in the book.
        assert_eq!(words(&wrote(&mut rig, &saying(map, &[4]))), [VisitWord::Selected]);
        assert_eq!(words(&wrote(&mut rig, &saying(map, &[1]))), [VisitWord::Routine]);
        let log = log(&mut rig);
        assert_eq!((log[0].id, log[0].why, log[0].whole_herd), (visit, VisitWhy::Routine, Some(false)), "{map:?}");
        // The first animal comes in that visit and begins no other.
        assert_eq!(rig.session().visits.now, Some(visit));
    }
}

#[test]
fn the_first_animal_begins_the_visit_silently_and_the_same_word_again_writes_nothing() {
    let mut rig = Rig::with(MAP, &["12"]);
    let press = wrote(&mut rig, "1 2 Enter");
    assert!(matches!(press[0].event(), Some(Event::VisitBegun { why: VisitWhy::Routine, .. })), "{press:?}");
    let visit = VisitId(press[0].id);
    rig.press(ROUTINE);
    assert_eq!(words(&wrote(&mut rig, "f 3 2")), [VisitWord::CallOut]);
    let held = rig.held();
    rig.press("f 3 2");
    assert!(matches!(rig.notice(), Some(Notice::Refused(Refusal::AlreadySo))), "{:?}", rig.notice());
    assert_eq!(rig.held(), held);
    let log = log(&mut rig);
    assert_eq!((log[0].id, log[0].why), (visit, VisitWhy::CallOut));
    // Undo takes the word back, and the visit is what it was.
    rig.press("Backspace f 3 5 u");
    assert_eq!(rig.session().visits.under_way().map(|visit| visit.cleaned_before), Some(None));
}

#[test]
fn a_visit_set_aside_goes_on_days_later_under_its_own_name() {
    let mut rig = Rig::with(MAP, &["12", "34", "56"]);
    rig.press(&format!("1 2 Enter {ROUTINE} 3 4 Enter e 1"));
    let first = rig.today;
    // 34 got away: she waits.
    rig.press("3 4 Enter q");
    rig.pass(0);
    let visit = rig.session().visits.now.expect("under way");
    assert!(
        matches!(wrote(&mut rig, &format!("{VISIT} 7"))[0].event(), Some(Event::VisitPaused { visit: of }) if *of == visit)
    );
    assert_eq!(rig.session().visits.now, None);
    // The battery is dead in between: it is as it was.
    rig.pull_battery();
    rig.pass(2);
    assert!(matches!(asks(&rig), Some(visit::Ask::Which)), "{:?}", rig.mode());
    assert!(screen(&rig, MAP, (60, 20)).contains("go on with"), "{}", screen(&rig, MAP, (60, 20)));
    let held = rig.held();
    assert_eq!(words(&wrote(&mut rig, "1")), [VisitWord::GoneOn]);
    assert_eq!((rig.session().visits.now, rig.held()), (Some(visit), held + 1));
    // Who was done in it is done, who waits still waits.
    let wanted = [("12", Some(TurnState::Signed)), ("34", Some(TurnState::Paused)), ("56", None)];
    let states = states(&rig);
    assert!(wanted.iter().all(|one| states.contains(one)), "{states:?}");
    // Nobody came today: who waits is asked for again, and the row of who is done says on which day.
    let counts = |rig: &Rig| rig.session().day.list().counts();
    assert_eq!((counts(&rig).waiting, counts(&rig).to_come, counts(&rig).done), (0, 1, 0));
    let shown = screen(&rig, MAP, (60, 20));
    let day = first.format("done %a").to_string();
    assert!(
        shown.lines().any(|row| row.starts_with("  12") && row.to_lowercase().contains(&day.to_lowercase())),
        "{shown}"
    );
    assert!(shown.lines().any(|row| row.starts_with("  34") && row.contains("not finished")), "{shown}");
    let press = wrote(&mut rig, "5 6 Enter");
    let today = rig.today;
    assert!(
        matches!(press[..], [ref one] if one.on == today && matches!(one.event(), Some(Event::TurnBegun { visit: of, .. }) if *of == visit)),
        "{press:?}"
    );
    rig.press(&format!("{ROUTINE} s"));
    let shown = screen(&rig, MAP, (80, 24));
    let Mode::Totals { totals, visit: Some(sum), .. } = rig.mode() else { panic!("{:?}", rig.mode()) };
    assert_eq!((totals.animals, totals.turns, sum.waits.as_slice()), (3, 3, &["34".to_owned()][..]), "{shown}");
    assert!(shown.contains("waits") && shown.contains("days"), "{shown}");
    let log = log(&mut rig);
    assert_eq!(log[0].days.iter().copied().collect::<Vec<_>>(), [first, today]);
    // She who waits goes on too, in the turn that she had.
    rig.press("3 4 Enter");
    let hers = |rig: &Rig| rig.session().turn().map(|(_, turn)| (turn.visit, turn.on, turn.state));
    assert_eq!(hers(&rig), Some((visit, first, TurnState::Open)));
    // And stands in the crush again after a dead battery, though her turn is two days old.
    rig.pull_battery();
    assert_eq!(hers(&rig), Some((visit, first, TurnState::Open)));
    assert_eq!((counts(&rig).waiting, counts(&rig).to_come), (1, 0), "a turn of that day that goes on is one of today");
    rig.press(ROUTINE);
    assert_eq!((counts(&rig).expected, counts(&rig).done), (1, 1));
    assert!(rig.session().herd.iter().all(|line| line.turn.is_some_and(|turn| turn.state == TurnState::Signed)));
}

#[test]
fn nothing_is_asked_where_nothing_was_set_aside_or_it_was_closed() {
    let mut rig = Rig::with(MAP, &["12"]);
    rig.press(&format!("1 2 Enter {ROUTINE}"));
    rig.pass(3);
    assert!(matches!(rig.mode(), Mode::Today { .. }), "left without a word: {:?}", rig.mode());
    rig.press(&format!("1 2 Enter {ROUTINE} {VISIT} 7"));
    rig.press(&format!("{VISIT} 8 1 0"));
    rig.pass(1);
    assert!(!matches!(rig.mode(), Mode::Pad { .. }), "{:?}", rig.mode());
}

#[test]
fn another_visit_may_begin_and_the_one_set_aside_is_still_there() {
    let mut rig = Rig::with(MAP, &["12", "34"]);
    rig.press(&format!("1 2 Enter {ROUTINE} {VISIT} 7"));
    rig.pass(4);
    // Put off: a number asks again before anything is written.
    rig.press("Backspace");
    assert!(matches!(rig.mode(), Mode::Today { .. }));
    let held = rig.held();
    // So does a word about the visit: of which of them it is said is the trimmer's to say.
    rig.press(&format!("{VISIT} 5"));
    assert!(matches!(asks(&rig), Some(visit::Ask::Which)) && rig.held() == held, "{:?}", rig.mode());
    rig.press("Backspace 1 2 Enter");
    assert!(matches!(asks(&rig), Some(visit::Ask::Which)) && rig.held() == held, "{:?}", rig.mode());
    let press = wrote(&mut rig, "2");
    assert!(matches!(press[..], [ref one] if matches!(one.event(), Some(Event::VisitBegun { .. }))), "{press:?}");
    // The number still stands there.
    let begun = VisitId(press[0].id);
    let press = wrote(&mut rig, "Enter");
    assert!(matches!(press[0].event(), Some(Event::TurnBegun { visit, .. }) if *visit == begun), "{press:?}");
    rig.press(ROUTINE);
    let log = log(&mut rig);
    assert_eq!((log[0].state, log[1].state), (State::Open, State::Paused(day(2))), "{log:?}");
    assert!(matches!(rig.mode(), Mode::Today { .. }), "a visit is under way: not asked again");
    // Set aside that very day it is the one that the next animal is of, whatever waits from before.
    rig.press(&format!("{VISIT} 7"));
    let press = wrote(&mut rig, "3 4 Enter");
    assert!(
        matches!(press[0].event(), Some(Event::VisitDescribed { visit, word: VisitWord::GoneOn }) if *visit == begun),
        "{press:?}"
    );
}

#[test]
fn a_visit_set_aside_is_closed_days_later_without_going_on() {
    let mut rig = Rig::with(MAP, &["12"]);
    rig.press(&format!("1 2 Enter {ROUTINE} {VISIT} 7"));
    let visit = log(&mut rig)[0].id;
    rig.pass(3);
    rig.press(&format!("Backspace {VISIT} 8"));
    assert!(matches!(asks(&rig), Some(visit::Ask::Close(sum)) if sum.visit.id == visit), "{:?}", rig.mode());
    let press = wrote(&mut rig, "1 0");
    assert!(
        matches!(press[..], [ref one] if matches!(one.event(), Some(Event::VisitClosed { visit: of }) if *of == visit)),
        "{press:?}"
    );
    assert_eq!(log(&mut rig)[0].state, State::Closed(rig.today));
}

#[test]
fn on_the_same_day_the_next_animal_goes_on_with_a_visit_set_aside() {
    let mut rig = Rig::with(MAP, &["12", "34"]);
    rig.press(&format!("1 2 Enter {ROUTINE}"));
    let visit = rig.session().visits.now.expect("under way");
    rig.press(&format!("{VISIT} 7"));
    let press = wrote(&mut rig, "3 4 Enter");
    assert_eq!(words(&press), [VisitWord::GoneOn]);
    assert!(matches!(press[1].event(), Some(Event::TurnBegun { visit: of, .. }) if *of == visit), "{press:?}");
    // Both are one press, and one undo.
    rig.press("u");
    assert_eq!(log(&mut rig)[0].state, State::Paused(day(2)));
}

#[test]
fn washed_before_and_after_is_ticked_once_with_its_time() {
    let mut rig = Rig::with(MAP, &["12"]);
    let press = wrote(&mut rig, "f 3 5");
    assert_eq!((press.len(), words(&press)), (2, vec![VisitWord::CleanedBefore]), "it begins the visit too");
    let held = rig.held();
    rig.press("f 3 5");
    assert_eq!(rig.held(), held, "once is enough");
    assert_eq!(words(&wrote(&mut rig, "Backspace f 3 6")), [VisitWord::CleanedAfter]);
    let told = log(&mut rig).remove(0);
    let at = Some(moment(rig.today).time());
    assert_eq!(told.cleaned_before.map(|told| (told.on, told.at)), Some((rig.today, at)));
    assert!(told.cleaned_after.is_some());
    rig.press("s");
    let shown = screen(&rig, MAP, (80, 24));
    assert!(shown.contains("cleaned before 09:30") && shown.contains("cleaned after  09:30"), "{shown}");
}

#[test]
fn a_tick_is_taken_back_with_undo_and_may_be_set_again() {
    let mut rig = Rig::with(MAP, &["12"]);
    let after = |rig: &Rig| rig.session().visits.under_way().and_then(|visit| visit.cleaned_after);
    rig.press(&format!("1 2 Enter {ROUTINE} f 3 6"));
    assert!(after(&rig).is_some());
    rig.press("u");
    assert!(after(&rig).is_none(), "{:?}", rig.notice());
    rig.press("s");
    assert!(screen(&rig, MAP, (80, 24)).contains("cleaned after  not told"), "{}", screen(&rig, MAP, (80, 24)));
    assert_eq!(words(&wrote(&mut rig, "Enter f 3 6")), [VisitWord::CleanedAfter]);
}

#[test]
fn what_was_washed_on_one_day_of_a_visit_is_told_anew_on_the_next() {
    let mut rig = Rig::with(MAP, &["12", "34"]);
    rig.press(&format!("1 2 Enter {ROUTINE} f 3 6 f 3 7"));
    rig.pass(2);
    rig.press("1");
    assert_eq!(words(&wrote(&mut rig, "f 3 6")), [VisitWord::CleanedAfter]);
    let log = log(&mut rig);
    assert_eq!(log[0].cleaned_after.map(|told| told.on), Some(rig.today));
}

#[test]
fn a_visit_is_closed_with_its_totals_and_one_key_where_nothing_is_left() {
    let folder = tempfile::tempdir().expect("a folder");
    let mut rig = Rig::with(MAP, &["12", "34"]);
    rig.practice.backups = Some(Backups { folder: folder.path().display().to_string(), days: DAYS });
    rig.pass(0);
    rig.press(&format!("1 2 Enter {ROUTINE} f 3 6"));
    let visit = rig.session().visits.now.expect("under way");
    rig.press("f 3 8");
    let shown = screen(&rig, MAP, (60, 20));
    assert!(matches!(asks(&rig), Some(visit::Ask::Close(_))), "{:?}", rig.mode());
    assert!(shown.contains("animals 1, turns 1, feet lifted 4") && shown.contains("after: 09:30"), "{shown}");
    let press = wrote(&mut rig, "1");
    assert!(
        matches!(press[..], [ref one] if matches!(one.event(), Some(Event::VisitClosed { visit: of }) if *of == visit))
    );
    assert!(matches!(rig.mode(), Mode::Farms { .. }), "{:?}", rig.mode());
    assert!(rig.session().backup.as_ref().is_some_and(|backup| backup.under_way), "one is made at its end");
    rig.settle();
    // Undo opens it again.
    rig.press("u");
    assert_eq!(rig.session().visits.now, Some(visit));
    rig.press("r");
    assert_eq!(rig.session().visits.now, None, "put back: {:?}", rig.notice());
    // Its totals can be read all that day.
    rig.press("Enter s");
    assert!(matches!(rig.mode(), Mode::Totals { visit: Some(sum), .. } if sum.visit.id == visit), "{:?}", rig.mode());
    // What is told of it now is told of it; the next animal begins another.
    rig.press("Backspace f 3 3");
    assert_eq!(rig.session().visits.get(visit).and_then(|visit| visit.whole_herd), Some(true));
    let press = wrote(&mut rig, "3 4 Enter");
    assert!(matches!(press[0].event(), Some(Event::VisitBegun { .. })), "{press:?}");
}

#[test]
fn a_visit_in_which_somebody_waits_or_nothing_was_washed_asks_for_a_second_key() {
    let mut rig = Rig::with(MAP, &["12", "34"]);
    rig.press("1 2 Enter q");
    rig.pass(0);
    let held = rig.held();
    rig.press("f 3 8");
    assert!(screen(&rig, MAP, (60, 20)).contains("STILL WAITS: 12"), "{}", screen(&rig, MAP, (60, 20)));
    for again in ["1", "1", "Enter"] {
        assert!(wrote(&mut rig, again).is_empty() && rig.held() == held, "{again}: {:?}", rig.mode());
    }
    rig.press("f 3 8 1 0");
    assert_eq!(rig.held(), held + 1);
    assert!(matches!(log(&mut rig)[0].state, State::Closed(_)));
    // Washed and nobody waiting: no second key; not washed and nobody waiting: one.
    let mut rig = Rig::with(MAP, &["12"]);
    rig.press(&format!("1 2 Enter {ROUTINE} f 3 8 1"));
    assert!(matches!(asks(&rig), Some(visit::Ask::Sure(_))), "{:?}", rig.mode());
    assert!(screen(&rig, MAP, (60, 20)).contains("nothing was told of washing"), "{}", screen(&rig, MAP, (60, 20)));
}

#[test]
fn the_battery_may_be_pulled_after_each_key_of_a_visit() {
    let keys = "f 3 2 f 3 3 f 3 5 1 2 Enter 5 Enter f 3 7 f 3 7 f 3 6 f 3 8 1";
    let mut plain = Rig::with(MAP, &["12"]);
    plain.press(keys);
    let whole = plain.every().len();
    let mut last = 0;
    for count in 1..=keys.split_whitespace().count() {
        let mut rig = Rig::with(MAP, &["12"]);
        let begun: Vec<&str> = keys.split_whitespace().take(count).collect();
        rig.press(&begun.join(" "));
        let held = usize::try_from(rig.held()).expect("few");
        assert_eq!(rig.left().len(), held, "{begun:?}");
        assert!(held >= last, "{begun:?}");
        last = held;
    }
    assert_eq!(last, whole);
}

#[test]
fn an_emergency_with_one_foot_lifted_leaves_the_other_three_not_looked_at() {
    let mut rig = Rig::with(MAP, &["7"]);
    rig.press("f 3 2 7 Enter 1 4 1 3 Enter");
    let her = rig.animal("7");
    let history = rig.history().clone();
    let turn = history.turns.last().expect("one");
    let looks: Vec<Option<bool>> = turn.looks.iter().map(|look| look.map(|look| look.lifted)).collect();
    // LF, RF, LH, RH: nothing is said of three, and nothing found on them is not said either.
    assert_eq!([looks[0], looks[1], looks[3]], [None; 3], "{looks:?}");
    let said = lines(turn, Words(Region::Plain)).join("; ");
    assert!(said.contains("not looked at: LF RF RH"), "{said}");
    let sheet = SheetTurn::of(turn, &history);
    let feet: Vec<Foot> = sheet.facts.iter().filter_map(|fact| fact.place()?.foot()).collect();
    assert!(!feet.is_empty() && feet.iter().all(|foot| *foot == Foot::LeftHind), "{sheet:?}");
    rig.press("Backspace q");
    rig.pass(0);
    rig.pass(3);
    rig.press("7 Enter l");
    let shown = screen(&rig, MAP, (80, 24));
    assert!(shown.contains("not looked at"), "{shown}");
    let records = rig.kept().into_iter().filter(|record| record.about == her.0).collect();
    // Got away on the first day, then the emergency, then now.
    assert_eq!(History::of(records, her).turns.len(), 3);
}

/// Two farms; nobody names one when the program starts.
fn two_farms() -> Rig {
    let mut rig = Rig::with(MAP, &["12"]);
    rig.press("v Down Enter B e c k Enter");
    rig.pass(1);
    assert!(matches!(rig.mode(), Mode::Farms { .. }), "nothing is to go on with: {:?}", rig.mode());
    rig
}

fn farm(rig: &Rig) -> Option<&str> {
    rig.session().farm.as_ref().map(|farm| farm.name.as_str())
}

#[test]
fn the_program_starts_at_the_farm_that_has_a_visit_to_go_on_with() {
    let mut rig = two_farms();
    // At Thistle one is set aside; the day after, nobody was in the crush yet.
    rig.press(&format!("Down Enter 1 2 Enter {ROUTINE} {VISIT} 7"));
    rig.pass(1);
    assert_eq!((farm(&rig), asks(&rig)), (Some("Thistle"), Some(&visit::Ask::Which)));
    // Gone on with, before the first animal.
    rig.press("1");
    rig.pass(0);
    assert_eq!((farm(&rig), asks(&rig)), (Some("Thistle"), None));
    // Set aside again, and another begun at Beck: that is where the day goes on.
    rig.press(&format!("{VISIT} 7 v Enter f 3 2"));
    rig.pass(0);
    assert_eq!(farm(&rig), Some("Beck"));
}

#[test]
fn with_several_visits_to_go_on_with_the_list_of_farms_says_which() {
    let mut rig = two_farms();
    let aside = rig.today.format("%-d %b").to_string();
    rig.press(&format!("Down Enter 1 2 Enter {ROUTINE} {VISIT} 7 v Enter f 3 2 f 3 7"));
    rig.pass(1);
    assert!(matches!(rig.mode(), Mode::Farms { .. }), "{:?}", rig.mode());
    for size in [(60, 20), (80, 24), (120, 40)] {
        let seen = screen(&rig, MAP, size);
        for name in ["Beck", "Thistle"] {
            let line = seen.lines().find(|line| line.contains(name)).unwrap_or_default();
            assert!(line.contains(&format!("visit set aside {aside}")), "{name} at {size:?}\n{seen}");
        }
    }
    let told = rig.line("say");
    assert!(told.contains(&format!("Beck, visit set aside {aside}")), "{told}");
    // One of them goes on, and is the only one under way; closed, the other is the only one that waits.
    rig.press("Enter 1 v");
    assert!(screen(&rig, MAP, (60, 20)).contains("visit under way"));
    rig.pass(0);
    assert_eq!(farm(&rig), Some("Beck"));
    rig.press("f 3 5 f 3 6 f 3 8 1");
    rig.pass(0);
    assert_eq!((farm(&rig), asks(&rig)), (Some("Thistle"), Some(&visit::Ask::Which)));
}

/// Two tablets may begin one each: the newest that is under way is the one. What was set aside that very day goes on and does not wait.
#[test]
fn of_two_under_way_the_newest_is_and_of_two_set_aside_the_earlier_day_waits() {
    let mut tablet = Tablet::new(1);
    let farm = tablet.farm(day(1));
    let [first, second] = [(); 2].map(|()| tablet.visit(day(2), farm));
    let of = |tablet: &Tablet, on| Visits::of(visits(tablet.seen.clone(), farm), &BTreeSet::new(), day(on));
    assert_eq!(of(&tablet, 2).now, Some(second));
    let pause = |tablet: &mut Tablet, on, visit| {
        tablet.write(day(on), farm.0, Event::VisitPaused { visit });
    };
    pause(&mut tablet, 2, second);
    assert_eq!(of(&tablet, 2).now, Some(first), "that one was not set aside");
    pause(&mut tablet, 2, first);
    tablet.write(day(3), farm.0, Event::VisitDescribed { visit: second, word: VisitWord::GoneOn });
    pause(&mut tablet, 3, second);
    let then = of(&tablet, 3);
    assert_eq!(then.waiting(day(3)).map(|visit| visit.id).collect::<Vec<_>>(), [first]);
    assert_eq!((then.aside(day(3)).map(|visit| visit.id), then.asks(day(3))), (Some(second), false));
    assert_eq!(then.waiting(day(4)).map(|visit| visit.id).collect::<Vec<_>>(), [second, first]);
    assert!(of(&tablet, 4).asks(day(4)));
}
