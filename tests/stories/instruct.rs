//! The farm on the screens: its card with a new word for a fact, and its standing instructions given, looked at again, changed
//! and ended.

use super::rig::Rig;
use crate::screens::world::screen;
use crate::support::sample::today;
use chrono::{Days, NaiveDate};
use crushbook::domain::event::Event;
use crushbook::domain::farm::checked;
use crushbook::domain::farm_card::Line;
use crushbook::domain::follow_up::Urgency;
use crushbook::domain::herd::{FarmFact, Scope};
use crushbook::domain::instruction::NoReview;
use crushbook::domain::record::Record;
use crushbook::keys::keymap::BuiltIn;
use crushbook::session::farm_card::lines;
use crushbook::session::instruct::Refused as No;
use crushbook::session::lists::{due, reviews};
use crushbook::session::mode::{Mode, Only};
use crushbook::session::of_farm::Refused;
use crushbook::session::{Notice, Refusal};

const MAP: BuiltIn = BuiltIn::TwoHands;
/// An instruction for the outer claws behind, up to the question whether it takes horn away.
const TOLD: &str = "f 7 4 l o w e r Enter B o Enter l o n g Space t r a c k Enter";

/// Records that the last of these keys wrote.
fn wrote(rig: &mut Rig, keys: &str) -> Vec<Record> {
    rig.press(keys);
    if let Some(Notice::Saved { press, .. }) = rig.notice() { press.clone() } else { Vec::new() }
}

fn typed(text: &str) -> String {
    let key = |letter: char| if letter == ' ' { "Space".to_owned() } else { letter.to_string() };
    text.chars().map(key).collect::<Vec<_>>().join(" ")
}

/// Keys that walk the card to a line, with the card just opened.
fn to(rig: &Rig, wanted: impl Fn(&Line) -> bool) -> String {
    let at = lines(rig.session()).iter().position(wanted).expect("a line of the card");
    vec!["Down"; at].join(" ")
}

/// Opens the card and presses those keys on the line of a fact.
fn on_the_card(rig: &mut Rig, wanted: impl Fn(&Line) -> bool, keys: &str) -> Vec<Record> {
    rig.press("f 6");
    assert!(matches!(rig.mode(), Mode::Card { cursor: 0, .. }), "{:?}", rig.mode());
    let walk = to(rig, wanted);
    wrote(rig, &format!("{walk} {keys}"))
}

fn day(text: &str) -> NaiveDate {
    text.parse().expect("a day")
}

#[test]
fn an_instruction_is_told_step_by_step_and_is_one_press() {
    let mut rig = Rig::with(MAP, &["12"]);
    let (farm, on) = (rig.session().farm.as_ref().expect("open").id, rig.session().today);
    assert_eq!(wrote(&mut rig, TOLD), []);
    let records = wrote(&mut rig, "1 1");
    let [record] = records.as_slice() else { panic!("one record: {records:?}") };
    assert_eq!(record.about, farm.0);
    // trade.md, section 8: review within 90 days; with nothing said that is the day.
    let wanted = Event::Instructed {
        farm,
        scope: Scope::OuterHind,
        text: "lower".to_owned(),
        asked_by: "Bo".to_owned(),
        why: "long track".to_owned(),
        review_on: Some(on + Days::new(90)),
        vet: String::new(),
    };
    assert_eq!(record.event(), Some(&wanted));
    assert!(matches!(rig.mode(), Mode::Today { .. }), "{:?}", rig.mode());
    assert_eq!(rig.session().instructions.len(), 1, "it stands beside the map from now on");
    let undone = wrote(&mut rig, "u");
    assert!(matches!(undone[0].event(), Some(Event::Undone { press }) if *press == record.press_id()), "{undone:?}");
    assert_eq!(rig.session().instructions, []);
    assert!(rig.every().iter().any(|kept| kept.id == record.id), "it is in the book all the same");
}

#[test]
fn one_that_takes_horn_away_is_not_written_without_the_vet() {
    let mut rig = Rig::with(MAP, &["12"]);
    let before = rig.held();
    rig.press(&format!("{TOLD} 2"));
    // Nothing typed keeps nothing, and it is said what is missing.
    assert_eq!(wrote(&mut rig, "Enter"), []);
    assert!(screen(&rig, MAP, (60, 20)).contains("say which vet: it takes horn away"), "{:?}", rig.notice());
    assert_eq!(rig.held(), before);
    let records = wrote(&mut rig, "I v o Enter 1");
    assert!(matches!(records[0].event(), Some(Event::Instructed { vet, .. }) if vet == "Ivo"), "{records:?}");
    assert!(rig.session().instructions[0].takes_horn());
}

#[test]
fn going_on_where_a_key_is_asked_for_goes_one_step_back_and_loses_nothing() {
    let mut rig = Rig::with(MAP, &["12"]);
    rig.press(&format!("{TOLD} Enter"));
    assert!(matches!(rig.mode(), Mode::Text { text, .. } if text == "long track"), "{:?}", rig.mode());
    // From the day too, and with nothing typed from each text to the one before it.
    rig.press("Enter 1 Enter Enter");
    assert!(matches!(rig.mode(), Mode::Text { text, .. } if text == "long track"), "{:?}", rig.mode());
    rig.press(&["Backspace"; 11].join(" "));
    assert!(matches!(rig.mode(), Mode::Text { text, .. } if text == "Bo"), "{:?}", rig.mode());
    rig.press("Backspace Backspace Backspace");
    assert!(matches!(rig.mode(), Mode::Text { text, .. } if text == "lower"), "{:?}", rig.mode());
    let records = wrote(&mut rig, "Enter B o Enter x Enter 1 1");
    assert!(matches!(records[..], [ref one] if matches!(one.event(), Some(Event::Instructed { .. }))), "{records:?}");
}

#[test]
fn a_day_is_refused_that_has_gone_by_or_is_more_than_90_days_on() {
    let mut rig = Rig::with(MAP, &["12"]);
    let today = rig.session().today;
    let at = |days: u64| typed(&(today + Days::new(days)).format("%-d.%-m.%Y").to_string());
    rig.press(&format!("{TOLD} 1 4"));
    assert_eq!(wrote(&mut rig, &format!("{} Enter", at(91))), []);
    let last = today + Days::new(90);
    let Some(Notice::Refused(Refusal::Farm(Refused::NoReview(NoReview::TooLate(_, allowed), 90)))) = rig.notice()
    else {
        panic!("{:?} {:?}", rig.notice(), rig.mode())
    };
    assert_eq!(*allowed, last, "and it is said which day may be");
    let erase = |days: u64| vec!["Backspace"; at(days).split(' ').count()].join(" ");
    assert_eq!(wrote(&mut rig, &format!("{} {} Enter", erase(91), at(0))), []);
    assert!(matches!(rig.notice(), Some(Notice::Refused(Refusal::NoDay(_, _)))), "{:?}", rig.notice());
    let records = wrote(&mut rig, &format!("{} {} Enter", erase(0), at(90)));
    assert!(
        matches!(records[0].event(), Some(Event::Instructed { review_on: Some(day), .. }) if *day == last),
        "{records:?}"
    );
}

/// On 2 May, 1.5 is a day of next year: whoever meant yesterday sees it. In December the days offered are of next year too.
#[test]
fn the_year_of_a_review_is_said_where_it_is_not_this_one() {
    let mut rig = Rig::with(MAP, &["12"]);
    rig.press(&format!("{TOLD} 1 4 1 . 5 Enter"));
    let shown = screen(&rig, MAP, (80, 24));
    // 90 days after 2 May, counted on a calendar.
    assert!(shown.contains("SAT 1 May 2027 is too late: FRI 31 Jul at the latest"), "{shown}");
    let mut rig = Rig::with(MAP, &["12"]);
    rig.pass(230);
    rig.press(&format!("{TOLD} 1"));
    let shown = screen(&rig, MAP, (120, 40));
    assert!(shown.contains("THU 18 Mar 2027"), "90 days after 18 December: {shown}");
    rig.press("4 1 . 2 Enter");
    let shown = screen(&rig, MAP, (80, 24));
    assert!(shown.contains("standing instruction, review 1 Feb 2027: lower"), "{shown}");
}

#[test]
fn threlmarsh_is_told_on_today_and_on_the_due_list_until_it_goes_on() {
    let mut rig = Rig::at(MAP, "Threlmarsh");
    // To be reviewed by 4 May (sample-herd/threlmarsh/2026-02-03.txt); it is 14 May.
    for size in [(60, 20), (80, 24), (120, 40)] {
        let shown = screen(&rig, MAP, size);
        assert!(shown.contains("review inner front, was due MON 4 May: f"), "{size:?}\n{shown}");
    }
    rig.press("d");
    for size in [(60, 20), (80, 24), (120, 40)] {
        let shown = screen(&rig, MAP, size);
        let wanted =
            if size.0 == 60 { "review inner front, due 4 May" } else { "review inner front, was due MON 4 May" };
        assert!(shown.contains(wanted), "{size:?}\n{shown}");
    }
    let session = rig.session();
    let [review] = reviews(session, Only::All).try_into().expect("one review");
    assert_eq!((review.due.day, review.due.urgency), (day("2026-05-04"), Urgency::Due));
    // It stands below the animals.
    let last = due(session, Only::All).items.len();
    rig.press(&vec!["Down"; last + 3].join(" "));
    assert!(matches!(rig.mode(), Mode::Due { cursor, .. } if *cursor == last), "{:?}", rig.mode());
    let records = wrote(&mut rig, "- 1");
    let [record] = records.as_slice() else { panic!("one record: {records:?}") };
    let Some(Event::InstructionReviewed { review_on, .. }) = record.event() else { panic!("{record:?}") };
    assert_eq!(*review_on, Some(today() + Days::new(90)));
    assert!(matches!(rig.mode(), Mode::Due { .. }), "{:?}", rig.mode());
    assert_eq!(reviews(rig.session(), Only::All), []);
    assert_eq!(rig.session().instructions.len(), 1, "it goes on");
    rig.press("u");
    assert_eq!(reviews(rig.session(), Only::All).len(), 1, "taken back, it is due again");
}

#[test]
fn from_today_it_is_changed_in_one_press_and_both_are_on_the_card() {
    let mut rig = Rig::at(MAP, "Threlmarsh");
    let old = rig.session().instructions[0].clone();
    // Its words stand there to be changed; who asked, why and the vet stay as they are.
    let records = wrote(&mut rig, "f 8 3 Space n o w Enter Enter Enter 2 Enter 2");
    let [ended, given] = records.as_slice() else { panic!("two records: {records:?}") };
    assert_eq!(ended.press_id(), given.press_id());
    assert!(
        matches!(ended.event(), Some(Event::InstructionEnded { instruction, .. }) if *instruction == old.id),
        "{ended:?}"
    );
    let Some(Event::Instructed { text, asked_by, why, vet, scope, review_on, .. }) = given.event() else {
        panic!("{given:?}")
    };
    assert_eq!((text, asked_by, why), (&format!("{} now", old.text), &old.asked_by, &old.why));
    assert_eq!((vet.as_str(), *scope), ("Ivo Lask", Scope::InnerFront));
    assert_eq!(*review_on, Some(today() + Days::new(56)));
    assert_eq!(reviews(rig.session(), Only::All), []);
    rig.press("f 6");
    let card = rig.session().card.as_ref().expect("read");
    let last = card.given.ended.last().expect("ended");
    assert_eq!((last.was.id, last.into), (old.id, Some(given.id)));
    rig.press("PageDown PageDown PageDown");
    let shown = screen(&rig, MAP, (120, 40));
    assert!(shown.contains("14 May 2026 to: leave the wall"), "{shown}");
}

#[test]
fn it_is_ended_with_its_reason_and_not_without() {
    let mut rig = Rig::at(MAP, "Threlmarsh");
    assert_eq!(wrote(&mut rig, "f 8 4 Enter"), []);
    assert!(screen(&rig, MAP, (60, 20)).contains("say why it is ended"), "{:?}", rig.notice());
    let records = wrote(&mut rig, "s o u n d Enter");
    assert!(matches!(records[0].event(), Some(Event::InstructionEnded { why, .. }) if why == "sound"), "{records:?}");
    assert_eq!(rig.session().instructions, []);
    // Nothing is to be reviewed any more, and the menu has no row for it.
    assert_eq!(wrote(&mut rig, "f 8"), []);
    assert!(matches!(rig.notice(), Some(Notice::Refused(Refusal::NoSuchChoice))), "{:?}", rig.notice());
    rig.press("Backspace f 6 PageDown PageDown");
    let shown = screen(&rig, MAP, (120, 40));
    assert!(shown.contains("May 2026, because sound"), "{shown}");
    // The one before it too, with its own reason (sample-herd/threlmarsh/2026-02-03.txt).
    assert!(shown.contains("reviewed with Ivo Lask"), "{shown}");
}

#[test]
fn a_fact_gets_a_new_word_and_the_word_before_stays_below_it() {
    let mut rig = Rig::at(MAP, "Threlmarsh");
    let is = |fact: FarmFact| move |line: &Line| *line == Line::Fact(fact);
    // The word that holds stands there; going on leaves it and writes nothing.
    assert_eq!(on_the_card(&mut rig, is(FarmFact::HerdSize), "Enter Enter"), []);
    assert!(matches!(rig.mode(), Mode::Card { .. }), "{:?}", rig.mode());
    let records = wrote(&mut rig, "Enter Backspace 8 Enter");
    assert!(
        matches!(records[0].event(), Some(Event::FarmDescribed { fact: FarmFact::HerdSize, words, .. }) if words == "98"),
        "{records:?}"
    );
    let shown = screen(&rig, MAP, (80, 24));
    let at = shown.find("herd size     98, since 14 May 2026").unwrap_or_else(|| panic!("{shown}"));
    assert!(
        shown[at..].lines().nth(1).is_some_and(|line| line.contains("was") && line.contains("92, since")),
        "{shown}"
    );
    // Emptied, it holds no longer.
    let records = wrote(&mut rig, "Enter Backspace Backspace Enter");
    assert!(
        matches!(records[0].event(), Some(Event::FarmDescribed { fact: FarmFact::HerdSize, words, .. }) if words.is_empty()),
        "{records:?}"
    );
    assert!(screen(&rig, MAP, (80, 24)).contains("herd size     nothing, since 14 May 2026"));
}

#[test]
fn a_word_that_a_fact_cannot_have_is_refused_as_the_command_refuses_it() {
    let mut rig = Rig::at(MAP, "Threlmarsh");
    for (fact, erase, word) in [(FarmFact::HerdSize, 2, "lots"), (FarmFact::GaitScale, 3, "0-5")] {
        let keys = format!("Enter {} {} Enter", vec!["Backspace"; erase].join(" "), typed(word));
        assert_eq!(on_the_card(&mut rig, |line| *line == Line::Fact(fact), &keys), []);
        let why = checked(fact, word).expect_err("the command refuses it");
        let Some(Notice::Refused(Refusal::Farm(Refused::Fact(of, said, how)))) = rig.notice() else {
            panic!("{:?}", rig.notice())
        };
        assert_eq!((*of, said.as_str(), *how), (fact, word, why));
        // What was typed stands there to be set right.
        rig.press(&vec!["Backspace"; word.len() + 1].join(" "));
        rig.press("Backspace");
    }
    // The name of another farm.
    let keys = format!("Enter {} {} Enter", ["Backspace"; 10].join(" "), typed("oddenfold"));
    assert_eq!(on_the_card(&mut rig, |line| *line == Line::Fact(FarmFact::Name), &keys), []);
    assert!(matches!(rig.notice(), Some(Notice::Refused(Refusal::Farm(Refused::Named(_))))), "{:?}", rig.notice());
}

#[test]
fn what_the_card_only_works_out_is_not_typed() {
    let mut rig = Rig::at(MAP, "Threlmarsh");
    assert_eq!(on_the_card(&mut rig, |line| *line == Line::Animals, "Enter"), []);
    assert!(matches!(rig.notice(), Some(Notice::Refused(Refusal::Farm(Refused::NotTyped)))), "{:?}", rig.notice());
}

#[test]
fn calls_and_changes_stand_on_the_card_the_newest_first() {
    let mut rig = Rig::at(MAP, "Threlmarsh");
    rig.press("f 1 2 g a t e Enter f 6");
    let card = rig.session().card.as_ref().expect("read");
    let days: Vec<NaiveDate> = card.heard.iter().map(|one| one.on()).collect();
    assert!(days.len() > 2 && days.iter().rev().is_sorted(), "{days:?}");
    assert_eq!(days.first(), Some(&today()));
}

#[test]
fn with_an_animal_in_the_crush_a_review_is_taken_back_from_beside_the_map_too() {
    let mut rig = Rig::at(MAP, "Threlmarsh");
    rig.press("9 9 9 a");
    assert!(rig.session().crush.is_some());
    let last = due(rig.session(), Only::All).items.len();
    rig.press(&format!("d {}", vec!["Down"; last + 1].join(" ")));
    let records = wrote(&mut rig, "Enter 4 o v e r Enter");
    assert!(matches!(records[0].event(), Some(Event::InstructionEnded { .. })), "{records:?}");
    assert_eq!(rig.session().instructions, []);
    rig.press("Backspace u");
    assert!(matches!(rig.mode(), Mode::Crush(_)), "{:?}", rig.mode());
    assert_eq!(rig.session().instructions.len(), 1);
}

/// What a line told, from Threlmarsh.
fn lines_of(rig: &mut Rig, lines: &[&str]) -> String {
    lines.iter().map(|line| rig.line(line)).last().unwrap_or_default()
}

#[test]
fn in_lines_the_card_is_told_and_a_fact_is_written_anew() {
    let mut rig = Rig::at(MAP, "Threlmarsh");
    let told = rig.line("say");
    assert!(told.contains("review: review inner front, was due MON 4 May: sole at least 5 mm, vet Ivo"), "{told}");
    let told = rig.line("farm");
    assert!(told.contains("key 6: its card") && told.contains("key 8: review: inner front"), "{told}");
    let told = rig.line("6");
    assert!(told.contains("card: Threlmarsh") && told.contains("#2: phone: 01632 960145"), "{told}");
    let told = lines_of(&mut rig, &["#12", ""]);
    assert!(told.contains("write: herd size") && told.contains("now: 92"), "{told}");
    let before = rig.held();
    let told = rig.line("lots");
    assert!(told.contains("herd size cannot be \"lots\": write a whole number of animals"), "{told}");
    // The word that held is the one that an empty line leaves.
    rig.line("");
    assert_eq!(rig.held(), before);
    let told = lines_of(&mut rig, &["", "98"]);
    assert!(told.contains("saved") && rig.held() == before + 1, "{told}");
    assert_eq!(rig.session().card.as_ref().map(|card| card.now(FarmFact::HerdSize).to_owned()), Some("98".to_owned()));
    lines_of(&mut rig, &["", "-"]);
    assert_eq!(rig.session().card.as_ref().map(|card| card.now(FarmFact::HerdSize).to_owned()), Some(String::new()));
}

#[test]
fn in_lines_a_review_is_told_and_answered_and_an_instruction_given() {
    let mut rig = Rig::at(MAP, "Threlmarsh");
    let told = rig.line("farm 8");
    assert!(told.contains("question: inner front, sole at least 5 mm, vet Ivo Lask: leave the wall"), "{told}");
    let told = rig.line("1");
    assert!(told.contains("standing instruction goes on, review 12 Aug 2026"), "{told}");
    lines_of(&mut rig, &["farm 7", "5", "leave the heel", "0", "Marla", "thin soles", "2"]);
    let told = lines_of(&mut rig, &["Ivo Lask", "1"]);
    assert!(told.contains("standing instruction, vet Ivo Lask, review 12 Aug 2026: leave"), "{told}");
    let one = rig.session().instructions.last().expect("given");
    assert_eq!((one.asked_by.as_str(), one.vet.as_str(), one.scope), ("Marla", "Ivo Lask", Scope::InnerHind));
    // Said whole when that claw comes into the hand; before that only that there is one.
    let told = rig.line("999 add");
    assert!(told.contains("always: 2 for some of the feet: say always") && !told.contains("leave the heel"), "{told}");
    let told = rig.line("lh");
    assert!(told.contains("always: 1 for the other claw: say always") && !told.contains("leave the heel"), "{told}");
    let told = rig.line("always");
    for part in [
        "at the other claw: inner hind, sole at least 5 mm, vet Ivo Lask: leave the",
        "asked by Marla, because thin",
        "at other feet: inner front, sole at least 5 mm, vet Ivo Lask: leave the",
    ] {
        assert!(told.contains(part), "{part}: {told}");
    }
    assert!(told.contains("next: an empty line: back"), "{told}");
    rig.line("");
    let told = rig.line("Right");
    assert!(told.contains("always: inner hind, sole at least 5 mm, vet Ivo Lask: leave the heel"), "{told}");
}

/// Who asked, why and the vet are asked for until they are said; what was told before stays.
#[test]
fn going_on_with_nothing_typed_says_what_is_missing_and_stays() {
    let mut rig = Rig::with(MAP, &["12"]);
    let before = rig.held();
    for (keys, said) in [
        ("f 7 4 Enter", "say what is to be done"),
        ("Space Enter", "say what is to be done"),
        ("l o w Enter Enter", "say who asks for it"),
        ("B o Enter Enter", "say why"),
        ("Space Space Enter", "say why"),
        ("x Enter 1 4 Enter", "say a day: day month"),
        ("Backspace Backspace 2 Enter", "say which vet"),
    ] {
        rig.press(keys);
        for size in [(60, 20), (80, 24), (120, 40)] {
            let shown = screen(&rig, MAP, size);
            assert!(shown.contains(said), "{keys} at {size:?}: {:?}\n{shown}", rig.mode());
        }
        assert!(matches!(rig.mode(), Mode::Text { .. } | Mode::Pad { .. }), "{keys}: {:?}", rig.mode());
    }
    assert_eq!(rig.held(), before);
    // Going back is another key, and nothing of what was said is lost.
    let records = wrote(&mut rig, "Backspace 1 1");
    let Some(Event::Instructed { text, asked_by, why, vet, .. }) = records[0].event() else { panic!("{records:?}") };
    assert_eq!((text.as_str(), asked_by.as_str(), why.as_str(), vet.as_str()), ("low", "Bo", "x", ""));
}

#[test]
fn in_lines_an_empty_line_goes_back_where_there_is_no_key_beside_it() {
    let mut rig = Rig::with(MAP, &["12"]);
    let told = lines_of(&mut rig, &["farm 7", "4", "lower"]);
    assert!(told.contains("who asks for it") && told.contains("an empty line keeps nothing"), "{told}");
    let told = rig.line("");
    assert!(told.contains("what is to be done") && told.contains("now: lower"), "{told}");
}

#[test]
fn the_same_for_the_same_feet_is_refused_where_its_words_are_typed() {
    let mut rig = Rig::with(MAP, &["12"]);
    wrote(&mut rig, &format!("{TOLD} 1 1"));
    let held = rig.held();
    rig.press("f 7 4 Space L O W e r Enter");
    let shown = screen(&rig, MAP, (60, 20));
    assert!(shown.contains("outer hind: holds already, since 2 May 2026"), "{shown}");
    assert!(matches!(rig.mode(), Mode::Text { .. }), "what was typed stands there: {:?}", rig.mode());
    assert_eq!(rig.held(), held);
    // A letter more is another; so are the same words for other feet.
    let records = wrote(&mut rig, "s Enter B o Enter x Enter 1 1");
    assert!(matches!(records[0].event(), Some(Event::Instructed { text, .. }) if text == "LOWers"), "{records:?}");
    let records = wrote(&mut rig, "f 7 5 l o w e r Enter B o Enter x Enter 1 1");
    assert_eq!(records.len(), 1);
    assert_eq!(rig.session().instructions.len(), 3);
}

/// One that is changed ends as the other begins: its own words may stay, the words of another that holds may not be taken.
#[test]
fn one_that_is_changed_may_keep_its_words_and_not_take_those_of_another() {
    let mut rig = Rig::at(MAP, "Threlmarsh");
    let records = wrote(&mut rig, "f 8 3 Enter Enter Enter 2 Enter 1");
    assert_eq!(records.len(), 2, "{records:?}");
    wrote(&mut rig, "f 7 7 l o w Enter 0 B o Enter x Enter 1 1");
    wrote(&mut rig, "f 7 7 h i g h Enter 0 B o Enter x Enter 1 1");
    assert_eq!(rig.session().instructions.len(), 3, "{:?}", rig.mode());
    rig.press("f 6");
    let walk = to(&rig, |line| *line == Line::Standing(2));
    rig.press(&format!("{walk} Enter 3 {} l o w Enter", ["Backspace"; 4].join(" ")));
    assert!(
        matches!(rig.notice(), Some(Notice::Refused(Refusal::Farm(Refused::Instruct(No::HoldsAlready(_, _)))))),
        "{:?} {:?}",
        rig.notice(),
        rig.mode()
    );
}
