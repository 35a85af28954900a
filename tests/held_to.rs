//! What screens, commands and sheets hold a word to: the tables of `domain/her_days.rs`, `domain/label.rs` and `domain/farm.rs`.

use chrono::{Days, NaiveDate};
use crushbook::domain::farm::{checked, is_called};
use crushbook::domain::her_days::{NoDay, wrong};
use crushbook::domain::herd::{FarmFact, Herd, Labels, Status};
use crushbook::domain::herd_list::column::Column;
use crushbook::domain::label::{Label, NoLabel, bears};

fn day(text: &str) -> Option<NaiveDate> {
    Some(text.parse().expect("a day"))
}

fn on() -> NaiveDate {
    NaiveDate::from_ymd_opt(2026, 5, 14).expect("a day")
}

/// What of this cannot be so of an animal born on 1 February 2022 who calved on 1 March 2026.
fn said(told: &Herd) -> Vec<(Column, NoDay)> {
    let known = Herd { born: day("2022-02-01"), calved: day("2026-03-01"), ..Herd::default() };
    wrong(told, &known, on())
}

#[test]
fn days_that_cannot_be_hers_are_refused_and_days_that_can_are_not() {
    let calved = |text| Herd { calved: day(text), ..Herd::default() };
    let born = |text| Herd { born: day(text), ..Herd::default() };
    let dry = |text| Herd { dry_from: day(text), status: Some(Status::Dry), ..Herd::default() };
    let planned = |text| Herd { dry_from: day(text), ..Herd::default() };
    let due = |text| Herd { due_to_calve: day(text), ..Herd::default() };
    for (told, wanted) in [
        (calved("2026-05-14"), None),
        (calved("2026-05-15"), Some((Column::Calved, NoDay::ToCome))),
        (calved("2022-01-31"), Some((Column::Calved, NoDay::BeforeBirth(on() - Days::new(1563))))),
        (born("2026-05-15"), Some((Column::Born, NoDay::ToCome))),
        (born("2026-03-02"), Some((Column::Born, NoDay::After(Column::Calved, on() - Days::new(74))))),
        (born("2026-03-01"), None),
        // The oldest cow that is known was 48 (from memory).
        (born("1926-05-14"), Some((Column::Born, NoDay::TooOld))),
        (born("1977-05-14"), None),
        (dry("2026-05-15"), Some((Column::DryFrom, NoDay::ToCome))),
        (dry("2026-05-14"), None),
        (dry("2021-12-31"), Some((Column::DryFrom, NoDay::BeforeBirth(on() - Days::new(1563))))),
        // A list may tell when she is to be dried off.
        (planned("2026-08-01"), None),
        (due("2026-05-01"), None),
        (due("2021-05-01"), Some((Column::DueToCalve, NoDay::BeforeBirth(on() - Days::new(1563))))),
    ] {
        assert_eq!(said(&told).first().copied(), wanted, "{told:?}");
    }
}

/// Breeds carry for 279 to 292 days, each animal up to twelve more or fewer (R. Torell, Nevada Extension): 304 at the longest.
#[test]
fn she_is_due_within_the_longest_that_any_cow_carries() {
    let due = |days| Herd { due_to_calve: Some(on() + Days::new(days)), ..Herd::default() };
    assert_eq!(said(&due(283)), [], "served today");
    assert_eq!(said(&due(292 + 12)), []);
    assert_eq!(said(&due(305)), [(Column::DueToCalve, NoDay::TooLong(305))]);
    let said = NoDay::TooLong(354).to_string();
    assert_eq!(said, "that is in 354 days, and no cow carries longer than 304: look at the year");
}

#[test]
fn a_label_is_letters_that_are_seen_and_an_electronic_number_has_its_digits() {
    for (label, text, wanted) in [
        (Label::Number, " 1382 ", Ok("1382")),
        (Label::Number, "", Ok("")),
        (Label::Number, "13\u{202e}82", Err(NoLabel::Unseen)),
        (Label::Tag, "UK\u{7}1", Err(NoLabel::Unseen)),
        (Label::Name, "Clo\u{200b}ver", Err(NoLabel::Unseen)),
        (Label::Name, "Clo\nver", Err(NoLabel::Unseen)),
        (Label::Name, "Fl\u{f6}ckchen", Ok("Fl\u{f6}ckchen")),
        // ISO 11784: 3 digits and 12.
        (Label::Electronic, "826 000012345678", Ok("826000012345678")),
        (Label::Electronic, "82600001234567", Err(NoLabel::NotElectronic)),
        (Label::Electronic, "", Ok("")),
    ] {
        assert_eq!(label.checked(text).as_deref(), wanted.as_ref().map(|text| *text), "{label:?} {text:?}");
    }
    assert_eq!(Label::Name.checked(&"x".repeat(201)), Err(NoLabel::Long));
}

#[test]
fn she_bears_her_number_her_tag_and_her_electronic_number_and_her_name_may_be_anothers_too() {
    let her = Labels {
        number: "12a".into(),
        tag: "UK 284205 700016".into(),
        electronic: "826000012345678".into(),
        name: "Clover".into(),
    };
    for one in ["12A", " 12a ", "uk284205700016", "UK 284205 700016", "826-000012345678"] {
        assert!(bears(&her, one), "{one}");
    }
    for other in ["12", "Clover", "", " ", "UK284205700017"] {
        assert!(!bears(&her, other), "{other}");
    }
    assert!(!bears(&Labels::default(), ""), "nothing is nobody's");
}

#[test]
fn a_telephone_number_of_a_farm_is_one_that_can_be_dialled_and_a_name_is_seen_whole() {
    // ITU-T E.123: digits, with blanks, hyphens, brackets, a plus before the country.
    for (fact, words, good) in [
        (FarmFact::Phone, "01632 960114", true),
        (FarmFact::Phone, "+44 1632 960114", true),
        (FarmFact::Phone, "(01632) 960-114", true),
        (FarmFact::Phone, "", true),
        (FarmFact::Phone, "ask Ada", false),
        (FarmFact::Phone, "01632 96O114", false),
        (FarmFact::VetPhone, "the same", false),
        (FarmFact::VetPhone, "01632 960187", true),
        (FarmFact::Name, "Lin\u{202e}tel", false),
        (FarmFact::Vet, "Ivo\u{1b}[2J", false),
        (FarmFact::Note, "two lines\nof words", true),
    ] {
        assert_eq!(checked(fact, words).is_ok(), good, "{fact:?} {words:?}");
    }
    assert!(is_called(" lintel", "Lintel ") && !is_called("Lintel", "Lin-tel"));
}
