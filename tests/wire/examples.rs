//! Example records: at least one of every kind, and one of every shape a field can take. Farm, people and products are
//! invented. Golden bytes are made of them, so an example is never changed, only added behind the others of its kind.

use chrono::{DateTime, FixedOffset, NaiveDate};
use crushbook::domain::anatomy::{Foot, Horn, Place, Side, Skin};
use crushbook::domain::event::{Detail, Event, Gap, Item, OpenGap, PauseWhy, PutDetail};
use crushbook::domain::finding::{Degree, Finding, Grade, Stage};
use crushbook::domain::herd::{
    Change, Charge, FarmFact, Herd, Labels, Leaving, MedicineUse, ProductKind, Scope, Status, VisitWhy, VisitWord,
};
use crushbook::domain::ids::{AnimalId, CaseId, FarmId, PersonId, PutId, RecordId, TurnId, VisitId};
use crushbook::domain::record::{Body, Moment, Record};
use crushbook::domain::treatment::{
    BlockKind, Colour, Gait, GaitScale, Means, Measure, Milking, Off, OffBy, Outcome, Put, Relief, Sign, SkinState,
    Trim, Word,
};
use crushbook::wire::revisions::kind_of;
use std::collections::BTreeMap;

/// Series of the examples.
pub const SERIES: u64 = 0x0123_4567_89ab_cdef;

/// The record with this number.
pub fn id(seq: u64) -> RecordId {
    RecordId { series: SERIES, seq }
}

/// A day of May 2025.
pub fn may(day: u32) -> NaiveDate {
    NaiveDate::from_ymd_opt(2025, 5, day).expect("a day of May")
}

/// Half past eight in the morning of 14 May 2025, two hours east.
pub fn moment() -> Moment {
    let text = "2025-05-14T08:30:00+02:00";
    DateTime::<FixedOffset>::parse_from_rfc3339(text).expect("a moment")
}

/// One record about the animal of the examples.
pub fn record(seq: u64, event: Event) -> Record {
    Record {
        id: id(seq),
        tick: seq + 5,
        press: seq,
        about: id(30),
        by: Some(PersonId(id(1))),
        written: moment(),
        on: may(14),
        body: Body::Known(event),
    }
}

/// Every example. Its number is a hundred times that of its kind, and its place in the kind, so that no example moves
/// when another is added.
pub fn examples() -> Vec<Record> {
    let mut places = BTreeMap::new();
    [practice(), farms(), visits(), animals(), turns(), findings(), treatments(), told(), about_records()]
        .concat()
        .into_iter()
        .map(|event| {
            let kind = u64::from(kind_of(&event).number);
            let place = places.entry(kind).and_modify(|place| *place += 1).or_insert(0);
            record(kind * 100 + *place, event)
        })
        .collect()
}

const FARM: FarmId = FarmId(RecordId { series: SERIES, seq: 10 });
const VISIT: VisitId = VisitId(RecordId { series: SERIES, seq: 20 });
const ANIMAL: AnimalId = AnimalId(RecordId { series: SERIES, seq: 30 });
const TURN: TurnId = TurnId(RecordId { series: SERIES, seq: 40 });
const CASE: CaseId = CaseId(RecordId { series: SERIES, seq: 47 });
const PUT: PutId = PutId(RecordId { series: SERIES, seq: 52 });

fn practice() -> Vec<Event> {
    vec![
        Event::PersonBegun { name: "Ina".into() },
        Event::ProductNamed { kind: ProductKind::Block, name: "wedge".into(), words: "small".into() },
        Event::PriceSet { charge: Charge::Animal, amount: "18.50".into(), currency: "EUR".into(), farm: Some(FARM) },
        Event::PriceSet { charge: Charge::CallOut, amount: "40".into(), currency: "EUR".into(), farm: None },
        Event::RulesAdopted { farm: None, text: "wrap-off = 3".into() },
    ]
}

fn farms() -> Vec<Event> {
    vec![
        Event::FarmBegun { name: "Überbach".into() },
        Event::FarmDescribed { farm: FARM, fact: FarmFact::Phone, words: "555 0100".into() },
        Event::FarmGivenUp { farm: FARM, handed_to: "Till".into() },
        Event::FarmChanged { farm: FARM, change: Change::Footbath, words: "twice a week".into() },
        Event::FarmCalled { farm: FARM, words: "412 worse".into(), urgent: true, caller: "Mo".into() },
        Event::FarmRung { farm: FARM, answered: false, who: String::new(), words: String::new() },
        Event::Instructed {
            farm: FARM,
            scope: Scope::OuterHind,
            text: "leave long".into(),
            asked_by: "Mo".into(),
            why: "thin soles".into(),
            review_on: Some(may(31)),
            vet: "Dr Rix".into(),
        },
        Event::InstructionEnded { instruction: id(12), why: "soles grown".into() },
        Event::InstructionReviewed { instruction: id(13), review_on: Some(may(30)), words: "still thin".into() },
        Event::ContactTold {
            farm: FARM,
            name: "Mo".into(),
            does: "takes wraps off".into(),
            phone: "01632 960123".into(),
            gone: false,
        },
        Event::ContactTold { farm: FARM, name: "Mo".into(), does: String::new(), phone: String::new(), gone: true },
    ]
}

fn visits() -> Vec<Event> {
    vec![
        Event::VisitBegun { farm: FARM, why: VisitWhy::Routine },
        Event::VisitPaused { visit: VISIT },
        Event::VisitClosed { visit: VISIT },
        Event::Counted { visit: VISIT, count: 70_000, words: "heifers".into() },
        Event::VisitDescribed { visit: VISIT, word: VisitWord::WholeHerd },
    ]
}

fn animals() -> Vec<Event> {
    let labels = Labels {
        number: "0412".into(),
        tag: "XX 0412".into(),
        electronic: "999000000000412".into(),
        name: "Alma".into(),
    };
    let herd = Herd {
        breed: "brown".into(),
        group: "fresh".into(),
        born: Some(may(1)),
        lactation: Some(3),
        calved: Some(may(2)),
        dry_from: None,
        due_to_calve: None,
        status: Some(Status::InMilk),
    };
    vec![
        Event::AnimalBegun { farm: FARM, labels: labels.clone() },
        Event::AnimalBegun { farm: FARM, labels: Labels::default() },
        Event::Renumbered { animal: ANIMAL, labels },
        Event::Described { animal: ANIMAL, herd },
        Event::Described { animal: ANIMAL, herd: Herd::default() },
        Event::Left { animal: ANIMAL, why: Leaving::Sold, words: "to market".into() },
        Event::CullSaid { animal: ANIMAL },
        Event::Kicker { animal: ANIMAL, kicks: true },
        Event::ClawGone { animal: ANIMAL, foot: Foot::LeftHind, side: Side::Inner },
        Event::Joined { one: id(30), other: RecordId { series: 7, seq: 300 } },
        Event::Parted { joined: id(37) },
        Event::KeptApart { one: id(30), other: RecordId { series: 7, seq: 300 } },
    ]
}

fn turns() -> Vec<Event> {
    let open = vec![
        OpenGap { gap: Gap::NoDay, place: Place::Foot(Foot::RightHind) },
        OpenGap { gap: Gap::Unanswered, place: Place::Animal },
    ];
    vec![
        Event::TurnBegun { visit: VISIT, animal: ANIMAL },
        Event::TurnPaused { turn: TURN, why: PauseWhy::GotAway },
        Event::TurnResumed { turn: TURN },
        Event::TurnSigned { turn: TURN, open },
        Event::TurnSigned { turn: TURN, open: Vec::new() },
        Event::TurnReopened { turn: TURN },
        Event::TurnMoved { turn: TURN, to: AnimalId(id(31)) },
        Event::Looked { turn: TURN, foot: Foot::RightHind, lifted: true, trimmed: false, all_seen: true },
    ]
}

/// An ulcer in zone 4 of the outer claw of the right hind foot.
pub fn ulcer() -> Event {
    Event::Found {
        turn: TURN,
        place: Place::Horn(Foot::RightHind, Side::Outer, Horn::SoleBulb),
        what: Finding::SU,
        degree: Degree::Grade(Grade::Severe),
        words: String::new(),
    }
}

fn findings() -> Vec<Event> {
    let found =
        |place, what, degree, words: &str| Event::Found { turn: TURN, place, what, degree, words: words.into() };
    let detailed = |detail| Event::Detailed { of: CASE, detail };
    vec![
        ulcer(),
        found(Place::Skin(Foot::LeftHind, Skin::Heel), Finding::DD, Degree::Stage(Stage::M41), ""),
        found(Place::Above(Foot::LeftFront), Finding::OwnWords, Degree::NotGiven, "hock rubbed"),
        found(Place::Claw(Foot::RightFront, Side::Inner), Finding::CC, Degree::NotGiven, ""),
        found(Place::Dewclaw(Foot::RightFront, Side::Inner), Finding::OwnWords, Degree::NotGiven, "torn"),
        found(Place::Foot(Foot::RightFront), Finding::SC, Degree::NotGiven, ""),
        detailed(Detail::Degree(Degree::NotGiven)),
        detailed(Detail::Degree(Degree::Stage(Stage::M2))),
        detailed(Detail::Subtype(Finding::WLA)),
        detailed(Detail::Infected(true)),
        detailed(Detail::Deep(false)),
        detailed(Detail::Side(Side::Outer)),
        Event::Answered { turn: TURN, case: CASE, outcome: Outcome::Better },
        Event::Staged { turn: TURN, case: CASE, stage: Stage::M3 },
    ]
}

fn treatments() -> Vec<Event> {
    let hind = Place::Foot(Foot::RightHind);
    let put = |turn, put, off_by, remover: &str, by_others: &str| Event::PutOn {
        turn,
        put,
        off_by,
        remover: remover.into(),
        by_others: by_others.into(),
    };
    let block = Put::Block { foot: Foot::RightHind, side: Side::Inner, kind: BlockKind::Wood };
    let wrap = Put::Wrap { over: hind, colour: Some(Colour::Red) };
    let dressing = Put::Dressing { place: Place::Skin(Foot::LeftHind, Skin::Heel), product: "grey powder".into() };
    let off_by = OffBy { day: may(17), milking: Milking::Evening };
    let detailed = |detail| Event::PutDetailed { put: PUT, detail };
    vec![
        Event::Trimmed { turn: TURN, place: hind, how: Trim::Lowered },
        put(Some(TURN), block, None, "", ""),
        put(Some(TURN), wrap, Some(off_by), "Mo", ""),
        put(None, dressing, None, "", "the vet"),
        detailed(PutDetail::OffBy(off_by)),
        detailed(PutDetail::Remover("Mo".into())),
        detailed(PutDetail::Colour(Colour::Blue)),
        detailed(PutDetail::Kind(BlockKind::Shoe)),
        detailed(PutDetail::Product("grey powder".into())),
        Event::SeenOff { turn: Some(TURN), item: Item::Known(PUT), outcome: Off::Ring, skin: SkinState::Raw },
        Event::SeenOff { turn: None, item: Item::Met(hind), outcome: Off::Bare, skin: SkinState::NotTold },
        Event::ToldOff { item: PUT, by: "Mo".into(), means: Means::Telephone, word: Word::Felt },
        Event::MedicineGiven { turn: Some(TURN), medicine: Box::new(medicine()) },
        Event::MedicineGiven { turn: None, medicine: Box::default() },
        Event::PainRelief { turn: TURN, relief: Relief::Given },
    ]
}

/// A use of a medicine with every column told, and a name that is no product's.
fn medicine() -> MedicineUse {
    MedicineUse {
        product: "Example".into(),
        registration: "R 1".into(),
        batch: "B 2".into(),
        expiry: Some(may(31)),
        first: Some(may(14)),
        last: Some(may(16)),
        doses: Some(3),
        quantity: "20".into(),
        unit: "MLT".into(),
        route: "im".into(),
        reason: "foul".into(),
        given_by: "Mo".into(),
        prescriber: "Dr Rix".into(),
        prescriber_contact: "555 0101".into(),
        supplier: "Dr Rix".into(),
        supplier_address: "Hill 1".into(),
        document: "D 3".into(),
        meat_days: Some(400),
        milk_days: Some(0),
        stated_by: "label".into(),
    }
}

fn told() -> Vec<Event> {
    let hind = Place::Foot(Foot::RightHind);
    let walked = |turn, scale, score| Event::Walked { turn, gait: Gait { scale, score } };
    vec![
        Event::Measured {
            turn: TURN,
            place: Place::Claw(Foot::RightHind, Side::Outer),
            what: Measure::DorsalWall,
            mm: 75,
        },
        walked(Some(TURN), GaitScale::ZeroToThree, 2),
        walked(None, GaitScale::OneToFive, 4),
        Event::Sore { turn: TURN, place: Place::Claw(Foot::RightHind, Side::Outer) },
        Event::Noted { turn: Some(TURN), place: Place::Animal, text: "calm".into() },
        Event::Noted { turn: None, place: hind, text: "line\none \u{7} two".into() },
        Event::VetAdvised { turn: Some(TURN), place: hind, sign: Sign::Joint, words: String::new() },
        Event::VetAnswered { of: id(62), words: "came on Friday".into() },
        Event::RecheckSet { turn: Some(TURN), place: hind, on: may(28), words: "look again".into() },
        Event::CameBack { animal: ANIMAL, words: "not sold after all".into() },
    ]
}

fn about_records() -> Vec<Event> {
    let correct = |to| Event::Corrected { of: id(47), to: Box::new(to), why: "wrong claw".into() };
    vec![
        Event::Undone { press: id(47) },
        Event::Redone { undo: id(90) },
        correct(ulcer()),
        correct(Event::TurnMoved { turn: TURN, to: AnimalId(id(31)) }),
    ]
}
