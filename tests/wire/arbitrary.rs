//! Strategies for any event, record and derived row. The table of events says only field names: each field's strategy
//! follows from its type.

use chrono::{DateTime, FixedOffset, NaiveDate};
use crushbook::domain::anatomy::{Foot, Horn, Place, Side, Skin};
use crushbook::domain::contact::Contact;
use crushbook::domain::event::{Detail, Event, Gap, Item, OpenGap, PauseWhy, PutDetail};
use crushbook::domain::finding::{Degree, Finding, Grade, Stage};
use crushbook::domain::herd::{
    Change, Charge, FarmFact, Herd, Labels, Leaving, MedicineUse, ProductKind, Scope, Status, VisitWhy, VisitWord,
};
use crushbook::domain::history::TurnState;
use crushbook::domain::history::course::{Carried, Kept};
use crushbook::domain::history::open::{Knowing, Open, OpenItem};
use crushbook::domain::ids::{AnimalId, CaseId, FarmId, PersonId, PutId, RecordId, TurnId, VisitId};
use crushbook::domain::instruction::Instruction;
use crushbook::domain::record::{Body, Moment, Record};
use crushbook::domain::treatment::{
    BlockKind, Colour, Gait, GaitScale, Means, Measure, Milking, Off, OffBy, Outcome, Put, Relief, Sign, SkinState,
    Trim, Word,
};
use crushbook::domain::vocabulary::Vocabulary;
use crushbook::domain::withdrawal::Stated;
use crushbook::wire::rows::{DayRow, FarmRow, LabelRow};
use proptest::collection::vec;
use proptest::prelude::{BoxedStrategy, Just, ProptestConfig, Strategy, prop_oneof};
use proptest::sample::select;
use proptest::strategy::Union;
use proptest::test_runner::RngSeed;

/// How properties are run: the same cases every time, nothing written down. `PROPTEST_RNG_SEED` and `PROPTEST_CASES`
/// ask for others.
pub fn config() -> ProptestConfig {
    let given = ProptestConfig::default();
    let rng_seed = match given.rng_seed {
        RngSeed::Random => RngSeed::Fixed(0x2025_0514),
        fixed => fixed,
    };
    ProptestConfig { rng_seed, failure_persistence: None, ..given }
}

/// Something of which any value can be made.
pub trait Any: Sized + std::fmt::Debug {
    /// Any value.
    fn any() -> BoxedStrategy<Self>;
}

/// Any value of a type that the place it is used in decides.
pub fn any<T: Any>() -> BoxedStrategy<T> {
    T::any()
}

macro_rules! numbers {
    ($($type:ty)+) => {$( impl Any for $type {
        fn any() -> BoxedStrategy<$type> { proptest::arbitrary::any::<$type>().boxed() }
    } )+};
}
numbers! { bool u8 u16 u32 u64 }

macro_rules! words {
    ($($type:ty)+) => {$( impl Any for $type {
        fn any() -> BoxedStrategy<$type> { select(<$type as Vocabulary>::ALL).boxed() }
    } )+};
}
words! {
    Foot Side Skin Horn Gap PauseWhy Finding Grade Stage Change Charge FarmFact Leaving ProductKind Scope Status VisitWhy VisitWord
    BlockKind Colour GaitScale Means Measure Milking Off Outcome Relief Sign SkinState Trim Word Knowing
}

macro_rules! ids {
    ($($id:ident)+) => {$( impl Any for $id {
        fn any() -> BoxedStrategy<$id> { any().prop_map($id).boxed() }
    } )+};
}
ids! { FarmId AnimalId VisitId TurnId PutId CaseId PersonId }

macro_rules! any_for {
    ($field:ident) => {
        any()
    };
}

/// A struct, or a variant with named fields, of any fields.
macro_rules! of_fields {
    ($($name:ident)::+ { $($field:ident),+ $(,)? }) => {
        ($(any_for!($field),)+).prop_map(|($($field,)+)| $($name)::+ { $($field),+ }).boxed()
    };
}

impl Any for String {
    fn any() -> BoxedStrategy<String> {
        prop_oneof![2 => Just(String::new()), 6 => "[ -~]{1,12}", 2 => ".{1,20}", 1 => "(?s).{0,40}"].boxed()
    }
}

impl<T: Any + Clone + 'static> Any for Option<T> {
    fn any() -> BoxedStrategy<Option<T>> {
        proptest::option::of(T::any()).boxed()
    }
}

impl<T: Any + 'static> Any for Vec<T> {
    fn any() -> BoxedStrategy<Vec<T>> {
        vec(T::any(), 0..5).boxed()
    }
}

impl<A: Any + 'static, B: Any + 'static> Any for (A, B) {
    fn any() -> BoxedStrategy<(A, B)> {
        (A::any(), B::any()).boxed()
    }
}

impl Any for RecordId {
    fn any() -> BoxedStrategy<RecordId> {
        let series = prop_oneof![4 => 1..4_u64, 1 => any()];
        let seq = prop_oneof![4 => 1..60_u64, 1 => any()];
        (series, seq).prop_map(|(series, seq)| RecordId { series, seq }).boxed()
    }
}

/// Number of 1 January 2025, counted from 1 January of year 1, which is 1, and of the last day of 9999.
const DAYS: (i32, i32) = (739_252, 3_652_059);

impl Any for NaiveDate {
    fn any() -> BoxedStrategy<NaiveDate> {
        prop_oneof![8 => DAYS.0..DAYS.0 + 400, 1 => 1..=DAYS.1]
            .prop_map(|number| NaiveDate::from_num_days_from_ce_opt(number).expect("a day of the years 1 to 9999"))
            .boxed()
    }
}

/// Moments of the years 2 to 9998, to the second, with any offset of whole minutes.
impl Any for Moment {
    fn any() -> BoxedStrategy<Moment> {
        let seconds = prop_oneof![8 => 1_735_689_600..1_767_225_600_i64, 1 => -62_104_060_800..253_370_764_800_i64];
        (seconds, -1439..=1439_i32)
            .prop_map(|(seconds, minutes)| {
                let offset = FixedOffset::east_opt(minutes * 60).expect("less than a day");
                DateTime::from_timestamp(seconds, 0).expect("a moment").with_timezone(&offset)
            })
            .boxed()
    }
}

impl Any for Place {
    fn any() -> BoxedStrategy<Place> {
        prop_oneof![
            Just(Place::Animal),
            any().prop_map(Place::Above),
            any().prop_map(Place::Foot),
            any().prop_map(|(foot, skin)| Place::Skin(foot, skin)),
            any().prop_map(|(foot, side)| Place::Claw(foot, side)),
            any().prop_map(|(foot, side)| Place::Dewclaw(foot, side)),
            any().prop_map(|((foot, side), horn)| Place::Horn(foot, side, horn)),
        ]
        .boxed()
    }
}

impl Any for Degree {
    fn any() -> BoxedStrategy<Degree> {
        prop_oneof![Just(Degree::NotGiven), any().prop_map(Degree::Grade), any().prop_map(Degree::Stage)].boxed()
    }
}

impl Any for Item {
    fn any() -> BoxedStrategy<Item> {
        prop_oneof![any().prop_map(Item::Known), any().prop_map(Item::Met)].boxed()
    }
}

impl Any for Detail {
    fn any() -> BoxedStrategy<Detail> {
        prop_oneof![
            any().prop_map(Detail::Degree),
            any().prop_map(Detail::Subtype),
            any().prop_map(Detail::Infected),
            any().prop_map(Detail::Deep),
            any().prop_map(Detail::Side),
        ]
        .boxed()
    }
}

impl Any for PutDetail {
    fn any() -> BoxedStrategy<PutDetail> {
        prop_oneof![
            any().prop_map(PutDetail::OffBy),
            any().prop_map(PutDetail::Remover),
            any().prop_map(PutDetail::Colour),
            any().prop_map(PutDetail::Kind),
            any().prop_map(PutDetail::Product),
        ]
        .boxed()
    }
}

impl Any for Put {
    fn any() -> BoxedStrategy<Put> {
        prop_oneof![
            of_fields!(Put::Block { foot, side, kind }),
            of_fields!(Put::Wrap { over, colour }),
            of_fields!(Put::Dressing { place, product }),
        ]
        .boxed()
    }
}

impl Any for Gait {
    fn any() -> BoxedStrategy<Gait> {
        any::<GaitScale>().prop_flat_map(|scale| scale.range().prop_map(move |score| Gait { scale, score })).boxed()
    }
}

macro_rules! structs {
    ($($name:ident { $($field:ident),+ $(,)? })+) => {$( impl Any for $name {
        fn any() -> BoxedStrategy<$name> { of_fields!($name { $($field),+ }) }
    } )+};
}
structs! {
    Labels { number, tag, electronic, name }
    Herd { breed, group, born, lactation, calved, dry_from, due_to_calve, status }
    OffBy { day, milking }
    OpenGap { gap, place }
    Open { animal, farm, labels, status, left, items }
    LabelRow { animal, of, farm, labels, current, left, status, count }
    Instruction { id, since, scope, text, asked_by, why, review_on, vet, reviewed }
    Contact { name, does, phone }
    FarmRow { farm, name, facts, given_up, joined_into, instructions, contacts, going, aside, count }
    DayRow { farm, visit, animal, turn, on, state, found }
}

/// Strategies know no tuples of twenty, so the columns come in two halves.
impl Any for Box<MedicineUse> {
    fn any() -> BoxedStrategy<Box<MedicineUse>> {
        let front =
            of_fields!(MedicineFront { product, registration, batch, expiry, first, last, doses, quantity, unit });
        let back = of_fields!(MedicineBack { route, reason, given_by, prescriber, supplier, meat_days, milk_days });
        let texts: BoxedStrategy<((String, String), (String, String))> = any();
        (front, back, texts)
            .prop_map(|(front, back, ((prescriber_contact, supplier_address), (document, stated_by)))| MedicineUse {
                product: front.product,
                registration: front.registration,
                batch: front.batch,
                expiry: front.expiry,
                first: front.first,
                last: front.last,
                doses: front.doses,
                quantity: front.quantity,
                unit: front.unit,
                route: back.route,
                reason: back.reason,
                given_by: back.given_by,
                prescriber: back.prescriber,
                prescriber_contact,
                supplier: back.supplier,
                supplier_address,
                document,
                meat_days: back.meat_days,
                milk_days: back.milk_days,
                stated_by,
            })
            .prop_map(Box::new)
            .boxed()
    }
}

#[derive(Debug)]
struct MedicineFront {
    product: String,
    registration: String,
    batch: String,
    expiry: Option<NaiveDate>,
    first: Option<NaiveDate>,
    last: Option<NaiveDate>,
    doses: Option<u16>,
    quantity: String,
    unit: String,
}

#[derive(Debug)]
struct MedicineBack {
    route: String,
    reason: String,
    given_by: String,
    prescriber: String,
    supplier: String,
    meat_days: Option<u16>,
    milk_days: Option<u16>,
}

impl Any for Stated {
    fn any() -> BoxedStrategy<Stated> {
        of_fields!(Stated { product, milk_days, meat_days, by })
    }
}

impl Any for TurnState {
    fn any() -> BoxedStrategy<TurnState> {
        select(&[TurnState::Open, TurnState::Paused, TurnState::Signed]).boxed()
    }
}

impl<T: Any + Copy + 'static> Any for Kept<T> {
    fn any() -> BoxedStrategy<Kept<T>> {
        of_fields!(Kept { word, unseen })
    }
}

impl Any for Carried {
    fn any() -> BoxedStrategy<Carried> {
        of_fields!(Carried { what, degree, infected, deep })
    }
}

impl Any for OpenItem {
    fn any() -> BoxedStrategy<OpenItem> {
        prop_oneof![
            of_fields!(OpenItem::On { put, what, since, off_by, remover, seen_on, knowing, told, trouble }),
            of_fields!(OpenItem::LookSoon { of, place, since }),
            of_fields!(OpenItem::Recheck { case, place, told, last }),
            of_fields!(OpenItem::SetByHand { of, place, on, words }),
            of_fields!(OpenItem::Lame { of, since, last, gait, severe_since, looked, sound }),
            of_fields!(OpenItem::Withheld { of, place, used, stated, counts }),
            of_fields!(OpenItem::Vet { of, place, sign, since, words }),
        ]
        .boxed()
    }
}

macro_rules! events {
    ($($event:ident { $($field:ident),+ $(,)? })+) => {
        /// One strategy for each kind of event but the correction. A test compares them with the table of kinds.
        pub fn plain_events() -> Vec<BoxedStrategy<Event>> {
            vec![$(of_fields!(Event::$event { $($field),+ }),)+]
        }
    };
}
events! {
    PersonBegun { name }
    ProductNamed { kind, name, words }
    PriceSet { charge, amount, currency, farm }
    RulesAdopted { farm, text }
    FarmBegun { name }
    FarmDescribed { farm, fact, words }
    FarmGivenUp { farm, handed_to }
    FarmChanged { farm, change, words }
    FarmCalled { farm, words, urgent, caller }
    FarmRung { farm, answered, who, words }
    Instructed { farm, scope, text, asked_by, why, review_on, vet }
    InstructionEnded { instruction, why }
    InstructionReviewed { instruction, review_on, words }
    ContactTold { farm, name, does, phone, gone }
    VisitBegun { farm, why }
    VisitPaused { visit }
    VisitClosed { visit }
    Counted { visit, count, words }
    VisitDescribed { visit, word }
    AnimalBegun { farm, labels }
    Renumbered { animal, labels }
    Described { animal, herd }
    Left { animal, why, words }
    CullSaid { animal }
    Kicker { animal, kicks }
    ClawGone { animal, foot, side }
    Joined { one, other }
    Parted { joined }
    KeptApart { one, other }
    TurnBegun { visit, animal }
    TurnPaused { turn, why }
    TurnResumed { turn }
    TurnSigned { turn, open }
    TurnReopened { turn }
    TurnMoved { turn, to }
    Looked { turn, foot, lifted, trimmed, all_seen }
    Found { turn, place, what, degree, words }
    Detailed { of, detail }
    Answered { turn, case, outcome }
    Staged { turn, case, stage }
    Trimmed { turn, place, how }
    PutOn { turn, put, off_by, remover, by_others }
    PutDetailed { put, detail }
    SeenOff { turn, item, outcome, skin }
    ToldOff { item, by, means, word }
    MedicineGiven { turn, medicine }
    PainRelief { turn, relief }
    Measured { turn, place, what, mm }
    Walked { turn, gait }
    Sore { turn, place }
    Noted { turn, place, text }
    VetAdvised { turn, place, sign, words }
    VetAnswered { of, words }
    RecheckSet { turn, place, on, words }
    CameBack { animal, words }
    Undone { press }
    Redone { undo }
}

/// Corrections, into any event that is none.
pub fn corrections() -> BoxedStrategy<Event> {
    (any(), Union::new(plain_events()), any())
        .prop_map(|(of, to, why)| Event::Corrected { of, to: Box::new(to), why })
        .boxed()
}

impl Any for Event {
    fn any() -> BoxedStrategy<Event> {
        Union::new(plain_events().into_iter().chain([corrections()])).boxed()
    }
}

/// Records of any event this program knows.
impl Any for Record {
    fn any() -> BoxedStrategy<Record> {
        let body = any::<Event>().prop_map(Body::Known).boxed();
        of_fields_and_body(body)
    }
}

/// Records of kinds that this program does not have.
pub fn newer() -> BoxedStrategy<Record> {
    let also = any::<Option<RecordId>>().prop_map(also_bytes);
    let body = (1000..=u16::MAX, any::<u8>(), also, vec(any::<u8>(), 0..60))
        .prop_map(|(kind, revision, also, payload)| Body::Newer {
            kind,
            revision,
            bytes: [also, payload].concat().into(),
        })
        .boxed();
    of_fields_and_body(body)
}

/// The bytes that say whom else a record is about.
pub fn also_bytes(also: Option<RecordId>) -> Vec<u8> {
    let id = also.unwrap_or(RecordId::PRACTICE);
    let flag = [u8::from(also.is_some())];
    [flag.as_slice(), &id.series.to_le_bytes(), &id.seq.to_le_bytes()].concat()
}

fn of_fields_and_body(body: BoxedStrategy<Body>) -> BoxedStrategy<Record> {
    (any(), any(), any(), any(), any(), any(), any(), body)
        .prop_map(|(id, tick, press, about, by, written, on, body)| Record {
            id,
            tick,
            press,
            about,
            by,
            written,
            on,
            body,
        })
        .boxed()
}
