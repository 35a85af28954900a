//! A farm's people on the screens: told of on its card, changed and gone there, and offered by name where somebody is named.

use super::rig::Rig;
use crate::screens::world::screen;
use crushbook::domain::contact::{Contact, No};
use crushbook::domain::event::{Event, PutDetail};
use crushbook::domain::farm_card::Line;
use crushbook::domain::herd::FarmFact;
use crushbook::domain::record::Record;
use crushbook::keys::keymap::BuiltIn;
use crushbook::session::contact::Refused as Why;
use crushbook::session::farm_card::lines;
use crushbook::session::mode::{Mode, TextFor};
use crushbook::session::of_farm::Refused;
use crushbook::session::ring::who;
use crushbook::session::{Notice, Refusal};

const MAP: BuiltIn = BuiltIn::TwoHands;
const SIZES: [(u16, u16); 3] = [(60, 20), (80, 24), (120, 40)];

/// Records that the last of these keys wrote.
fn wrote(rig: &mut Rig, keys: &str) -> Vec<Record> {
    rig.press(keys);
    if let Some(Notice::Saved { press, .. }) = rig.notice() { press.clone() } else { Vec::new() }
}

fn typed(text: &str) -> String {
    let key = |letter: char| if letter == ' ' { "Space".to_owned() } else { letter.to_string() };
    text.chars().map(key).collect::<Vec<_>>().join(" ")
}

fn erase(text: &str) -> String {
    vec!["Backspace"; text.chars().count()].join(" ")
}

/// Opens the card of the farm in hand with the cursor on that line.
fn on_the_card(rig: &mut Rig, wanted: Line) {
    rig.press("f 6");
    let at = lines(rig.session()).iter().position(|line| *line == wanted).expect("a line of the card");
    rig.press(&vec!["Down"; at].join(" "));
}

/// Tells of somebody on the card and goes back to Today.
fn tell(rig: &mut Rig, name: &str, does: &str, phone: &str) -> Vec<Record> {
    on_the_card(rig, Line::TellContact);
    let keys = ["Enter", &typed(name), "Enter", &typed(does), "Enter", &typed(phone), "Enter"];
    let records = wrote(rig, &keys.join(" "));
    rig.press("Backspace");
    records
}

fn event(record: &Record) -> (&str, &str, &str, bool) {
    let Some(Event::ContactTold { name, does, phone, gone, .. }) = record.event() else { panic!("{record:?}") };
    (name, does, phone, *gone)
}

/// A wrap on each of these animals, put on four days ago, to be taken off by that name.
fn wrapped(rig: &mut Rig, numbers: &[&str], who: &str) {
    for (index, number) in numbers.iter().enumerate() {
        let (digits, colour) = (typed(number), if index == 0 { "1" } else { "" });
        rig.press(&format!("{digits} a 3 w 3 {who} {colour} Enter Enter"));
        assert!(matches!(rig.mode(), Mode::Today { .. }), "{number}: {:?}", rig.mode());
    }
}

#[test]
fn one_is_told_of_step_by_step_and_is_one_press() {
    let mut rig = Rig::with(MAP, &["12"]);
    let farm = rig.session().farm.as_ref().expect("open").id;
    let records = tell(&mut rig, "Tom", "takes wraps off", "01632 960123");
    let [record] = records.as_slice() else { panic!("one record: {records:?}") };
    assert_eq!(record.about, farm.0);
    assert_eq!(event(record), ("Tom", "takes wraps off", "01632 960123", false));
    let tom = Contact { name: "Tom".into(), does: "takes wraps off".into(), phone: "01632 960123".into() };
    assert_eq!(rig.session().farm.as_ref().map(|farm| farm.contacts.clone()), Some(vec![tom.clone()]));
    on_the_card(&mut rig, Line::Contact(0));
    for size in SIZES {
        let shown = screen(&rig, MAP, size);
        assert!(shown.contains("contact       Tom: takes wraps off, 01632 960123"), "{size:?}\n{shown}");
    }
    rig.press("Backspace u");
    assert_eq!(rig.session().farm.as_ref().map(|farm| farm.contacts.clone()), Some(Vec::new()));
    assert!(rig.every().iter().any(|kept| kept.id == record.id), "it is in the book all the same");
}

#[test]
fn a_number_is_changed_and_the_one_before_stays_below_it() {
    let mut rig = Rig::with(MAP, &["12"]);
    tell(&mut rig, "Tom", "takes wraps off", "01632 960123");
    on_the_card(&mut rig, Line::Contact(0));
    // What holds stands there; going on over both writes nothing.
    assert_eq!(wrote(&mut rig, "Enter 1 Enter Enter"), []);
    assert!(matches!(rig.mode(), Mode::Card { .. }), "{:?}", rig.mode());
    let records = wrote(&mut rig, "Enter 1 Enter Backspace 4 Enter");
    assert_eq!(event(&records[0]), ("Tom", "takes wraps off", "01632 960124", false));
    let shown = screen(&rig, MAP, (80, 24));
    let at = shown.find("contact       Tom: takes wraps off, 01632 960124").unwrap_or_else(|| panic!("{shown}"));
    let below: Vec<&str> = shown[at..].lines().take(3).collect();
    assert!(below.iter().any(|line| line.contains("was") && line.contains("960123")), "{shown}");
    // The same name told of once more is the same one: what is known stands there.
    rig.press("Backspace");
    on_the_card(&mut rig, Line::TellContact);
    let records = wrote(
        &mut rig,
        &format!("Enter T O M Enter {} Enter {} Enter", erase("takes wraps off"), erase("01632 960124")),
    );
    assert_eq!(event(&records[0]), ("TOM", "", "", false));
    assert_eq!(rig.session().farm.as_ref().map(|farm| farm.contacts.len()), Some(1));
}

/// What takes away needs a second and different key (the guarantee of `unhurt.rs`).
#[test]
fn whoever_is_gone_is_gone_by_two_keys_and_may_be_told_of_anew() {
    let mut rig = Rig::with(MAP, &["12"]);
    tell(&mut rig, "Tom", "milks", "");
    on_the_card(&mut rig, Line::Contact(0));
    let before = rig.held();
    rig.press("Enter 2 2 2");
    assert_eq!(rig.held(), before, "the same key again takes nobody away");
    let records = wrote(&mut rig, "0");
    assert_eq!(event(&records[0]), ("Tom", "", "", true));
    assert!(matches!(rig.mode(), Mode::Card { .. }), "{:?}", rig.mode());
    assert_eq!(rig.session().farm.as_ref().map(|farm| farm.contacts.clone()), Some(Vec::new()));
    assert!(screen(&rig, MAP, (80, 24)).contains("contact       Tom: there no longer"));
    let records = wrote(&mut rig, &format!("Enter {} Enter Enter", typed("helps")));
    assert_eq!(event(&records[0]), ("Tom", "helps", "", false));
}

#[test]
fn what_cannot_be_kept_is_refused_and_stays_to_be_set_right() {
    let mut rig = Rig::with(MAP, &["12"]);
    let refused = |rig: &Rig| {
        let Some(Notice::Refused(Refusal::Farm(Refused::Contact(Why::No(why))))) = rig.notice() else {
            panic!("{:?} {:?}", rig.notice(), rig.mode())
        };
        *why
    };
    on_the_card(&mut rig, Line::TellContact);
    let before = rig.held();
    rig.press(&format!("Enter T o m Enter Enter {} Enter", typed("ask Ada")));
    assert_eq!(refused(&rig), No::NoPhone);
    assert!(matches!(rig.mode(), Mode::Text { text, .. } if text == "ask Ada"), "{:?}", rig.mode());
    for size in SIZES {
        assert!(screen(&rig, MAP, size).contains("a telephone number is digits"), "{size:?}");
    }
    // Back step by step, with nothing lost.
    rig.press(&format!("{} Backspace Backspace", erase("ask Ada")));
    assert!(matches!(rig.mode(), Mode::Text { text, .. } if text == "Tom"), "{:?}", rig.mode());
    rig.press(&format!("{} Enter", typed(&"x".repeat(60))));
    assert_eq!(refused(&rig), No::LongName(60));
    assert_eq!(rig.held(), before);
}

#[test]
fn whoever_takes_a_wrap_off_is_offered_first_from_the_farms_people_and_by_one_key() {
    let mut rig = Rig::new(MAP);
    tell(&mut rig, "Tom", "takes wraps off", "01632 960123");
    tell(&mut rig, "Ada Fenn", "fetches dry cows", "");
    // Somebody else is typed, and is offered behind them; they stay on their keys.
    rig.press("1 2 a 3 w 3");
    for size in SIZES {
        let shown = screen(&rig, MAP, size);
        assert!(shown.contains("Tom") && shown.contains("Ada"), "{size:?}\n{shown}");
    }
    rig.press(&format!("0 {} Enter 1 Enter Enter 1 4 a 3 w 3", typed("Bo")));
    let shown = screen(&rig, MAP, (80, 24));
    let at = |name: &str| shown.find(name).unwrap_or_else(|| panic!("{name}\n{shown}"));
    assert!(at("Tom") > 0 && at("Bo") > 0, "{shown}");
    let records = wrote(&mut rig, "1");
    let Some(Event::PutDetailed { detail: PutDetail::Remover(name), .. }) = records[0].event() else {
        panic!("{records:?}")
    };
    assert_eq!(name, "Tom");
}

#[test]
fn farms_to_ring_say_the_number_of_whoever_takes_it_off_and_offer_who_answers() {
    let mut rig = Rig::new(MAP);
    tell(&mut rig, "Tom", "takes wraps off", "01632 960123");
    tell(&mut rig, "Ada Fenn", "", "01632 960124");
    wrapped(&mut rig, &["12", "14"], "1");
    rig.pass(4);
    rig.press("t");
    for size in SIZES {
        let shown = screen(&rig, MAP, size);
        assert!(shown.contains("Tom 01632 960123 takes off 12, 14"), "{size:?}\n{shown}");
        assert!(!shown.contains("960124"), "she has nothing to take off: {size:?}\n{shown}");
    }
    let farm = rig.session().farm.as_ref().expect("open").id;
    rig.press("Enter 2");
    assert!(matches!(rig.mode(), Mode::Ring { .. }), "{:?} {:?}", rig.notice(), rig.mode());
    assert_eq!(who(rig.session(), farm), "Ada Fenn");
    // Or somebody else, typed.
    rig.press("Enter 0");
    assert!(matches!(rig.mode(), Mode::Text { what: TextFor::Answers(_), .. }), "{:?}", rig.mode());
    rig.press("B o Enter");
    assert_eq!(who(rig.session(), farm), "Bo");
    let records = wrote(&mut rig, "2");
    let said = records.iter().find_map(|record| match record.event() {
        Some(Event::ToldOff { by, .. }) => Some(by.as_str()),
        Some(_) | None => None,
    });
    assert_eq!(said, Some("Bo"));
    // The wrap that was never named to anybody, and the one told off to be felt for, are asked about as ever.
    rig.press("Backspace p");
    let Mode::Paper { pages, .. } = rig.mode() else { panic!("{:?}", rig.mode()) };
    assert!(pages[0].iter().any(|line| line == "Takes off: Tom 01632 960123"), "{pages:?}");
}

#[test]
fn who_asks_for_an_instruction_is_picked_from_the_farms_people() {
    let mut rig = Rig::with(MAP, &["12"]);
    tell(&mut rig, "Tom", "takes wraps off", "");
    rig.press("f 7 4 l o w e r Enter");
    assert!(matches!(rig.mode(), Mode::Pad { .. }), "{:?}", rig.mode());
    // Going on goes back and loses nothing.
    rig.press("Enter");
    assert!(matches!(rig.mode(), Mode::Text { text, .. } if text == "lower"), "{:?}", rig.mode());
    let records = wrote(&mut rig, "Enter 1 x Enter 1 1");
    assert!(matches!(records[0].event(), Some(Event::Instructed { asked_by, .. }) if asked_by == "Tom"), "{records:?}");
    let records = wrote(&mut rig, "f 7 5 l o w Enter 0 B o Enter x Enter 1 1");
    assert!(matches!(records[0].event(), Some(Event::Instructed { asked_by, .. }) if asked_by == "Bo"), "{records:?}");
}

/// Whom the farm says to ask for is offered too, behind its people, so that those stay on the keys that they have everywhere.
#[test]
fn whom_to_ask_for_is_offered_where_it_is_asked_who_asks_for_an_instruction() {
    let mut rig = Rig::with(MAP, &["12"]);
    on_the_card(&mut rig, Line::Fact(FarmFact::Contact));
    rig.press(&format!("Enter {} Enter Backspace", typed("Hester Vale")));
    let records = wrote(&mut rig, "f 7 4 l o w Enter 1 x Enter 1 1");
    let asked = |records: &[Record]| match records[0].event() {
        Some(Event::Instructed { asked_by, .. }) => asked_by.clone(),
        other => panic!("{other:?}"),
    };
    assert_eq!(asked(&records), "Hester Vale", "there is nobody else");
    tell(&mut rig, "Tom", "takes wraps off", "");
    rig.press("f 7 5 l o w Enter");
    for size in [(60, 20), (80, 24), (120, 40)] {
        let shown = screen(&rig, MAP, size);
        assert!(shown.contains("Tom") && shown.contains("Hester"), "{size:?}\n{shown}");
    }
    assert_eq!(asked(&wrote(&mut rig, "2 x Enter 1 1")), "Hester Vale");
    assert_eq!(asked(&wrote(&mut rig, "f 7 6 l o w Enter 1 x Enter 1 1")), "Tom");
    // Told of as one of its people she is offered once.
    tell(&mut rig, "hester vale", "", "");
    rig.press("f 7 7 l o w Enter 3");
    assert!(matches!(rig.notice(), Some(Notice::Refused(Refusal::NoSuchChoice))), "{:?}", rig.notice());
}

#[test]
fn in_lines_one_is_told_of_changed_and_gone_and_each_step_keeps_its_own_words() {
    let mut rig = Rig::with(MAP, &["12"]);
    tell(&mut rig, "Tom", "milks", "01632 960123");
    rig.line("farm 6");
    let at = lines(rig.session()).iter().position(|line| *line == Line::Contact(0)).expect("a line") + 1;
    let told = rig.line(&format!("#{at}"));
    assert!(told.contains("contact: Tom: milks, 01632 960123"), "{told}");
    let told = rig.line("");
    assert!(told.contains("key 2: there no longer"), "{told}");
    let told = rig.line("1");
    assert!(told.contains("now: milks") && told.contains("- alone"), "{told}");
    // What is typed for one thing does not stand there for the next.
    let told = rig.line("takes wraps off");
    assert!(told.contains("write: Tom: telephone number") && told.contains("now: 01632 960123"), "{told}");
    let told = rig.line("");
    assert!(told.contains("saved") && told.contains("Tom: takes wraps off, 01632 960123"), "{told}");
    rig.line("");
    rig.line("1");
    rig.line("");
    let told = rig.line("-");
    assert!(told.contains("Tom: takes wraps off"), "{told}");
    let here = rig.session().farm.as_ref().map(|farm| farm.contacts.clone()).expect("open");
    assert_eq!((here[0].does.as_str(), here[0].phone.as_str()), ("takes wraps off", ""));
    rig.line("");
    let told = rig.line("2 0");
    assert!(told.contains("question: Tom: there no longer?"), "is heard before it is answered: {told}");
    rig.line("0");
    assert_eq!(rig.session().farm.as_ref().map(|farm| farm.contacts.len()), Some(0));
}

#[test]
fn while_paper_is_typed_up_who_was_there_then_is_offered() {
    let mut rig = Rig::with(MAP, &["12"]);
    rig.pass(4);
    tell(&mut rig, "Tom", "takes wraps off", "01632 960123");
    let here = |rig: &Rig| rig.session().farm.as_ref().map(|farm| farm.contacts.len());
    assert_eq!(here(&rig), Some(1));
    let day = rig.today.pred_opt().expect("a day").format("%-d.%-m.%Y").to_string();
    rig.press(&format!("f 5 {} Enter", typed(&day)));
    assert!(rig.session().paper.is_some(), "{:?}", rig.notice());
    assert_eq!(here(&rig), Some(0), "nobody had told of him");
    rig.press("f 5");
    assert_eq!((rig.session().paper, here(&rig)), (None, Some(1)));
}
