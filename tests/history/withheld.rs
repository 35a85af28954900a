//! Milk and meat withheld as somebody stated: counted from the last use, under a wrap by the vet's words only.

use crate::support::tablet::{Tablet, day};
use crushbook::domain::anatomy::{Foot, Place, Skin};
use crushbook::domain::event::Event;
use crushbook::domain::follow_up::rules::Rules;
use crushbook::domain::follow_up::{Due, Urgency, What, due};
use crushbook::domain::herd::MedicineUse;
use crushbook::domain::history::open::{Open, OpenItem};
use crushbook::domain::ids::{AnimalId, RecordId, TurnId};
use crushbook::domain::treatment::Put;
use crushbook::domain::withdrawal::{Stated, Unstated};

struct Cow {
    tablet: Tablet,
    cow: AnimalId,
    turn: TurnId,
}

fn cow() -> Cow {
    let mut tablet = Tablet::new(1);
    let farm = tablet.farm(day(1));
    let cow = tablet.animal(day(1), farm, "7");
    let visit = tablet.visit(day(1), farm);
    let turn = tablet.turn(day(2), visit, cow);
    Cow { tablet, cow, turn }
}

fn medicine(milk_days: Option<u16>, meat_days: Option<u16>, by: &str) -> Box<MedicineUse> {
    Box::new(MedicineUse {
        product: "pale paste".into(),
        milk_days,
        meat_days,
        stated_by: by.to_owned(),
        ..MedicineUse::default()
    })
}

impl Cow {
    fn write(&mut self, on: u32, event: Event) -> RecordId {
        self.tablet.write(day(on), self.cow.0, event)
    }

    fn put(&mut self, put: Put) {
        let turn = Some(self.turn);
        self.write(2, Event::PutOn { turn, put, off_by: None, remover: String::new(), by_others: String::new() });
    }

    fn due(&self, on: u32) -> Vec<Due> {
        let open = Open::of(&self.tablet.history(self.cow));
        let withheld = open.items.iter().filter(|item| matches!(item, OpenItem::Withheld { .. }));
        withheld.filter_map(|item| due(&open, item, &Rules::default(), day(on))).collect()
    }

    /// Dressed above the heel of the left hind foot, and perhaps wrapped.
    fn dressed(wrapped: bool) -> Cow {
        let mut cow = cow();
        let place = Place::Skin(Foot::LeftHind, Skin::Heel);
        cow.put(Put::Dressing { place, product: "pale paste".into() });
        if wrapped {
            cow.put(Put::Wrap { over: place, colour: None });
        }
        cow
    }
}

#[test]
fn stated_days_run_from_the_last_use_and_end_with_the_longer_of_milk_and_meat() {
    // trade.md section 5: days stated by label or vet, counted from the last use.
    let mut cow = cow();
    let used = MedicineUse { last: Some(day(4)), ..*medicine(Some(2), Some(5), "label") };
    cow.write(2, Event::MedicineGiven { turn: Some(cow.turn), medicine: Box::new(used) });
    let running = Due { what: What::Withheld, day: day(9), urgency: Urgency::Coming };
    assert_eq!(cow.due(4), [running]);
    assert_eq!(cow.due(9), [running]);
    assert_eq!(cow.due(10), []);
}

#[test]
fn told_outside_a_turn_it_counts_too() {
    let mut cow = cow();
    cow.write(2, Event::MedicineGiven { turn: None, medicine: medicine(None, Some(3), "label") });
    assert_eq!(cow.due(5).len(), 1);
    assert_eq!(cow.due(6), []);
}

#[test]
fn nothing_is_invented_and_no_days_withhold_nothing() {
    let mut cow = cow();
    cow.write(2, Event::MedicineGiven { turn: Some(cow.turn), medicine: medicine(None, None, "") });
    cow.write(2, Event::MedicineGiven { turn: Some(cow.turn), medicine: medicine(Some(0), Some(0), "label") });
    assert_eq!(cow.due(2), []);
}

#[test]
fn under_a_wrap_the_label_does_not_count_until_the_vet_has_spoken() {
    // trade.md section 5: under a wrap or off label only the vet's words count.
    let mut cow = Cow::dressed(true);
    let given =
        cow.write(2, Event::MedicineGiven { turn: Some(cow.turn), medicine: medicine(Some(0), Some(0), "label") });
    let ask = |urgency| Due { what: What::VetsDays, day: day(2), urgency };
    assert_eq!(cow.due(2), [ask(Urgency::Due)]);
    assert_eq!(cow.due(30), [ask(Urgency::Late)], "it waits until a fact answers it");
    // The vet's days run from the last use too.
    cow.write(3, Event::VetAnswered { of: given, words: "milk 36h meat 7 Ivo Lask".into() });
    assert_eq!(cow.due(9), [Due { what: What::Withheld, day: day(9), urgency: Urgency::Coming }]);
    assert_eq!(cow.due(10), []);
}

#[test]
fn a_label_counts_on_an_open_foot_and_a_vet_under_a_wrap() {
    for (wrapped, by) in [(false, "label"), (true, "Ivo Lask")] {
        let mut cow = Cow::dressed(wrapped);
        cow.write(2, Event::MedicineGiven { turn: Some(cow.turn), medicine: medicine(Some(1), None, by) });
        assert_eq!(cow.due(2), [Due { what: What::Withheld, day: day(3), urgency: Urgency::Coming }], "{by}");
    }
}

#[test]
fn what_was_over_when_she_was_last_heard_of_is_kept_on_no_list() {
    let mut cow = cow();
    cow.write(2, Event::MedicineGiven { turn: Some(cow.turn), medicine: medicine(Some(2), None, "label") });
    let items = |cow: &Cow| Open::of(&cow.tablet.history(cow.cow)).items.len();
    assert_eq!(items(&cow), 1);
    cow.write(5, Event::Noted { turn: None, place: Place::Animal, text: "walks well".into() });
    assert_eq!(items(&cow), 0);
}

#[test]
fn a_typed_statement_is_days_or_hours_and_who_said_so() {
    let read = |text| Stated::read("pale paste", text);
    let stated = |milk_days, meat_days, by: &str| {
        Ok(Stated { product: "pale paste".into(), milk_days, meat_days, by: by.into() })
    };
    assert_eq!(read("milk 2 meat 10 label"), stated(Some(2), Some(10), "label"));
    // Hours count as whole days, the longer way, and are kept in words.
    assert_eq!(read("Ivo Lask Milk 36h"), stated(Some(2), None, "Ivo Lask (milk 36h)"));
    assert_eq!(read("meat 0d label"), stated(None, Some(0), "label"));
    assert_eq!(read("label"), Err(Unstated::NoDays));
    assert_eq!(read("milk two label"), Err(Unstated::NotDays));
    assert_eq!(read("milk"), Err(Unstated::NotDays));
    assert_eq!(read("milk 1000 label"), Err(Unstated::NotDays));
    assert_eq!(read("milk 2 meat 10"), Err(Unstated::Nobody));
    assert!(!read("milk 24h label").expect("read").is_vets() && read("milk 24h Ivo").expect("read").is_vets());
}
