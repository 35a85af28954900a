//! A farm for each hostile text, with that text in every field of every record that holds one.

use crate::support::tablet::{Tablet, day};
use crushbook::domain::anatomy::{Foot, Place, Side, Skin};
use crushbook::domain::event::{Event, PutDetail};
use crushbook::domain::finding::{Degree, Finding, Grade};
use crushbook::domain::herd::{FarmFact, Herd, Labels, MedicineUse, ProductKind, Scope, VisitWhy};
use crushbook::domain::ids::{AnimalId, FarmId, PutId, RecordId, TurnId, VisitId};
use crushbook::domain::record::Record;
use crushbook::domain::treatment::{Colour, Means, Put, Sign, Word};
use crushbook::domain::vocabulary::Vocabulary;

/// What people, tablets and other programs may put where a name belongs.
pub fn texts() -> Vec<String> {
    let mut texts: Vec<String> = [
        "\u{1b}[2J\u{1b}]0;title\u{7}red\u{1b}[31m",
        "left\u{202e}right\u{2066}in\u{2069}\u{200f}",
        "a\nb\rc\td\u{b}e\u{2028}f\u{85}g",
        "\u{0}\u{7f}\u{9b}2Jx",
        "=1+1",
        "../../../etc/passwd",
        "<script>alert(1)</script>&\"'",
        "\u{feff}e\u{301}\u{327}\u{20dd}\u{1f469}\u{200d}\u{1f469}\u{200d}\u{1f467}",
        "%s%n{wrap}{hind}\\n\\\\",
    ]
    .map(str::to_owned)
    .to_vec();
    texts.push("\u{6f22}\u{5b57}".repeat(600));
    texts.push("x".repeat(4000));
    texts.push("a\u{301}".repeat(1300));
    texts
}

/// The number by which the animal of a text is found: what the field holds is that text and more.
pub fn number(index: usize) -> String {
    format!("77{index}")
}

/// All records.
pub fn records() -> Vec<Record> {
    let mut tablet = Tablet::new(1);
    for (index, text) in texts().iter().enumerate() {
        farm(&mut tablet, index, text);
        // And once more: farms of one name.
        unnamed(&mut tablet, text);
    }
    tablet.seen
}

fn farm(tablet: &mut Tablet, index: usize, text: &str) {
    let words = || text.to_owned();
    unnamed(tablet, text);
    let farm = FarmId(tablet.begin(day(1), Event::FarmBegun { name: format!("F{index}") }));
    let practice = |tablet: &mut Tablet, event| tablet.write(day(1), RecordId::PRACTICE, event);
    tablet.begin(day(1), Event::PersonBegun { name: words() });
    practice(tablet, Event::ProductNamed { kind: ProductKind::Dressing, name: words(), words: words() });
    practice(tablet, Event::RulesAdopted { farm: Some(farm), text: words() });
    for fact in FarmFact::ALL {
        tablet.write(day(1), farm.0, Event::FarmDescribed { farm, fact: *fact, words: words() });
    }
    let told = Event::ContactTold { farm, name: words(), does: words(), phone: words(), gone: false };
    tablet.write(day(1), farm.0, told);
    let gone = Event::ContactTold { farm, name: "Gus".to_owned(), does: words(), phone: words(), gone: true };
    tablet.write(day(1), farm.0, gone);
    tablet.write(day(1), farm.0, Event::FarmRung { farm, answered: true, who: words(), words: words() });
    let asked = Event::Instructed {
        farm,
        scope: Scope::Hinds,
        text: words(),
        asked_by: words(),
        why: words(),
        review_on: Some(day(9)),
        vet: words(),
    };
    let instruction = tablet.write(day(1), farm.0, asked);
    let goes_on = Event::InstructionReviewed { instruction, review_on: Some(day(9)), words: words() };
    tablet.write(day(1), farm.0, goes_on);
    let visit = VisitId(tablet.write(day(2), farm.0, Event::VisitBegun { farm, why: VisitWhy::Routine }));
    tablet.write(day(2), farm.0, Event::Counted { visit, count: 3, words: words() });
    let labels = Labels { number: number(index), tag: words(), electronic: words(), name: words() };
    let animal = AnimalId(tablet.begin(day(2), Event::AnimalBegun { farm, labels }));
    let herd = Herd { breed: words(), group: words(), ..Herd::default() };
    tablet.write(day(2), animal.0, Event::Described { animal, herd });
    tablet.write(day(2), animal.0, Event::FarmCalled { farm, words: words(), urgent: true, caller: words() });
    let turn = TurnId(tablet.write(day(2), animal.0, Event::TurnBegun { visit, animal }));
    for event in turn_of(turn, text) {
        tablet.write(day(2), animal.0, event);
    }
    let wrap = Put::Wrap { over: Place::Foot(Foot::RightHind), colour: Some(Colour::Blue) };
    let on = Event::PutOn { turn: Some(turn), put: wrap, off_by: None, remover: words(), by_others: words() };
    let put = PutId(tablet.write(day(2), animal.0, on));
    tablet.write(day(2), animal.0, Event::PutDetailed { put, detail: PutDetail::Remover(words()) });
    let told = Event::ToldOff { item: put, by: words(), means: Means::Telephone, word: Word::Off };
    tablet.write(day(3), animal.0, told);
    let advised = Event::VetAdvised { turn: None, place: Place::Animal, sign: Sign::Advised, words: words() };
    let of = tablet.write(day(3), animal.0, advised.clone());
    tablet.write(day(3), animal.0, Event::VetAnswered { of, words: words() });
    tablet.write(day(3), animal.0, advised);
    set_right(tablet, (farm, visit, animal), index, text);
}

/// Labels she had, a turn that went and one that came, and a correction, all with that text.
fn set_right(tablet: &mut Tablet, (farm, visit, animal): (FarmId, VisitId, AnimalId), index: usize, text: &str) {
    let words = || text.to_owned();
    let labels = Labels { number: number(index), tag: format!("T{index}"), electronic: words(), name: words() };
    tablet.write(day(3), animal.0, Event::Renumbered { animal, labels });
    let labels = Labels { number: words(), ..Labels::default() };
    let other = AnimalId(tablet.begin(day(3), Event::AnimalBegun { farm, labels }));
    for (from, to) in [(animal, other), (other, animal)] {
        let turn = TurnId(tablet.write(day(3), from.0, Event::TurnBegun { visit, animal: from }));
        let place = Place::Claw(Foot::LeftHind, Side::Inner);
        let found = |degree| Event::Found { turn, place, what: Finding::OwnWords, degree, words: words() };
        let of = tablet.write(day(3), from.0, found(Degree::NotGiven));
        let to_be = Box::new(found(Degree::Grade(Grade::Light)));
        tablet.write(day(3), from.0, Event::Corrected { of, to: to_be, why: words() });
        tablet.write(day(3), from.0, Event::TurnMoved { turn, to });
    }
    // One tag with the first.
    let labels = Labels { tag: format!("T{index}"), name: words(), ..Labels::default() };
    tablet.begin(day(3), Event::AnimalBegun { farm, labels });
}

/// A farm whose very name it is, with a wrap on an animal of that number.
fn unnamed(tablet: &mut Tablet, text: &str) {
    let farm = FarmId(tablet.begin(day(1), Event::FarmBegun { name: text.to_owned() }));
    let labels = Labels { number: text.to_owned(), ..Labels::default() };
    let animal = AnimalId(tablet.begin(day(1), Event::AnimalBegun { farm, labels }));
    let put = Put::Wrap { over: Place::Foot(Foot::LeftHind), colour: None };
    let on = Event::PutOn { turn: None, put, off_by: None, remover: String::new(), by_others: text.to_owned() };
    tablet.write(day(1), animal.0, on);
}

fn turn_of(turn: TurnId, text: &str) -> Vec<Event> {
    let words = || text.to_owned();
    let place = Place::Skin(Foot::LeftHind, Skin::Heel);
    let medicine = MedicineUse {
        product: words(),
        reason: words(),
        given_by: words(),
        prescriber: words(),
        stated_by: words(),
        milk_days: Some(9),
        meat_days: Some(300),
        ..MedicineUse::default()
    };
    let dressing = Put::Dressing { place, product: words() };
    vec![
        Event::Found { turn, place, what: Finding::OwnWords, degree: Degree::NotGiven, words: words() },
        Event::Found {
            turn,
            place: Place::Claw(Foot::LeftHind, Side::Outer),
            what: Finding::ForeignBody,
            degree: Degree::NotGiven,
            words: words(),
        },
        Event::PutOn { turn: Some(turn), put: dressing, off_by: None, remover: words(), by_others: words() },
        Event::MedicineGiven { turn: Some(turn), medicine: Box::new(medicine) },
        Event::Noted { turn: Some(turn), place, text: words() },
        Event::VetAdvised { turn: Some(turn), place, sign: Sign::Tract, words: words() },
        Event::RecheckSet { turn: Some(turn), place, on: day(5), words: words() },
    ]
}
