//! One property over all events about events: two tablets write at random, meet now and then, and whatever way their
//! records arrive, the history of every animal is the same.

use crate::support::tablet::{Tablet, day};
use crushbook::domain::anatomy::{Foot, Horn, Place, Side, Skin};
use crushbook::domain::event::{Detail, Event, Item};
use crushbook::domain::finding::{Degree, Finding, Grade, Stage};
use crushbook::domain::herd::{Labels, Leaving};
use crushbook::domain::history::History;
use crushbook::domain::ids::{AnimalId, CaseId, PutId, RecordId, TurnId, VisitId};
use crushbook::domain::record::Record;
use crushbook::domain::treatment::{Means, Off, Outcome, Put, SkinState, Word};
use proptest::prelude::{Just, Strategy, any, prop_assert_eq, proptest};
use proptest::sample::Index;

/// What a tablet does next; every `Index` picks among what it has seen.
#[derive(Debug, Clone)]
pub enum Step {
    Turn(Index),
    Find(Index, Index),
    Answer(Index, Index),
    Put(Index),
    Off(Index),
    Met(Index),
    Told(Index),
    Undo(Index),
    Redo(Index),
    Correct(Index),
    Again(Index),
    Grade(Index),
    Move(Index, Index),
    Join(Index, Index),
    Part(Index),
    Apart(Index, Index),
    Renumber(Index),
    Leave(Index),
    Meet,
}

pub fn steps() -> impl Strategy<Value = Vec<(bool, u32, Step)>> {
    let i = any::<Index>;
    let step = proptest::prop_oneof![
        3 => i().prop_map(Step::Turn),
        4 => (i(), i()).prop_map(|(a, b)| Step::Find(a, b)),
        3 => (i(), i()).prop_map(|(a, b)| Step::Answer(a, b)),
        3 => i().prop_map(Step::Put),
        2 => i().prop_map(Step::Off),
        1 => i().prop_map(Step::Met),
        1 => i().prop_map(Step::Told),
        3 => i().prop_map(Step::Undo),
        2 => i().prop_map(Step::Redo),
        2 => i().prop_map(Step::Correct),
        2 => i().prop_map(Step::Again),
        2 => i().prop_map(Step::Grade),
        2 => (i(), i()).prop_map(|(a, b)| Step::Move(a, b)),
        1 => (i(), i()).prop_map(|(a, b)| Step::Join(a, b)),
        1 => i().prop_map(Step::Part),
        1 => (i(), i()).prop_map(|(a, b)| Step::Apart(a, b)),
        1 => i().prop_map(Step::Renumber),
        1 => i().prop_map(Step::Leave),
        1 => Just(Step::Meet),
    ];
    proptest::collection::vec((any::<bool>(), 1_u32..=28, step), 1..40)
}

fn pick<T: Copy>(from: &[T], index: &Index) -> Option<T> {
    (!from.is_empty()).then(|| *index.get(from))
}

fn seen<T>(tablet: &Tablet, of: impl Fn(&Record, &Event) -> Option<T>) -> Vec<T> {
    tablet.seen.iter().filter_map(|record| of(record, record.event()?)).collect()
}

fn place(number: usize) -> Place {
    match number % 3 {
        0 => Place::Horn(Foot::LeftHind, Side::Outer, Horn::SoleBulb),
        1 => Place::Skin(Foot::LeftHind, Skin::Heel),
        _ => Place::Horn(Foot::RightHind, Side::Inner, Horn::ToeWhiteLine),
    }
}

fn finding(turn: TurnId, number: usize) -> Event {
    let (what, degree) = match number % 3 {
        0 => (Finding::SU, Degree::Grade(Grade::Severe)),
        1 => (Finding::DD, Degree::Stage(Stage::M2)),
        _ => (Finding::WL, Degree::NotGiven),
    };
    Event::Found { turn, place: place(number), what, degree, words: String::new() }
}

/// The animal a turn was begun for, as far as this tablet has seen.
fn animal_of(tablet: &Tablet, turn: TurnId) -> RecordId {
    seen(tablet, |record, event| match event {
        Event::TurnBegun { animal, .. } if record.id == turn.0 => Some(animal.0),
        _ => None,
    })
    .first()
    .copied()
    .unwrap_or(RecordId::PRACTICE)
}

fn act(tablet: &mut Tablet, on: chrono::NaiveDate, step: &Step, visit: VisitId) {
    let animals = seen(tablet, |r, e| matches!(e, Event::AnimalBegun { .. }).then_some(AnimalId(r.id)));
    let turns = seen(tablet, |r, e| matches!(e, Event::TurnBegun { .. }).then_some(TurnId(r.id)));
    let cases = seen(tablet, |r, e| matches!(e, Event::Found { .. }).then_some((CaseId(r.id), r.about)));
    let puts = seen(tablet, |r, e| matches!(e, Event::PutOn { .. }).then_some((PutId(r.id), r.about)));
    match step {
        Step::Turn(a) => {
            if let Some(animal) = pick(&animals, a) {
                tablet.turn(on, visit, animal);
            }
        }
        Step::Find(t, p) => {
            if let Some(turn) = pick(&turns, t) {
                let about = animal_of(tablet, turn);
                tablet.write(on, about, finding(turn, p.index(3)));
            }
        }
        Step::Answer(t, c) => {
            if let (Some(turn), Some((case, about))) = (pick(&turns, t), pick(&cases, c)) {
                let outcome = if on < day(14) { Outcome::Healed } else { Outcome::Worse };
                tablet.write(on, about, Event::Answered { turn, case, outcome });
            }
        }
        Step::Put(t) => {
            if let Some(turn) = pick(&turns, t) {
                let about = AnimalId(animal_of(tablet, turn));
                tablet.put(on, about, turn, Put::Wrap { over: place(1), colour: None });
            }
        }
        Step::Off(p) => {
            if let Some((put, about)) = pick(&puts, p) {
                let off =
                    Event::SeenOff { turn: None, item: Item::Known(put), outcome: Off::Ring, skin: SkinState::Raw };
                tablet.write(on, about, off);
            }
        }
        Step::Met(t) => {
            if let Some(turn) = pick(&turns, t) {
                let about = animal_of(tablet, turn);
                let met = Event::SeenOff {
                    turn: Some(turn),
                    item: Item::Met(place(1)),
                    outcome: Off::Bare,
                    skin: SkinState::Sound,
                };
                tablet.write(on, about, met);
            }
        }
        Step::Told(p) => {
            if let Some((item, about)) = pick(&puts, p) {
                let told = Event::ToldOff { item, by: "Tom".into(), means: Means::Telephone, word: Word::Off };
                tablet.write(on, about, told);
            }
        }
        Step::Undo(r) => {
            let presses: Vec<_> = tablet.seen.iter().map(|record| (record.press_id(), record.about)).collect();
            if let Some((press, about)) = pick(&presses, r) {
                tablet.write(on, about, Event::Undone { press });
            }
        }
        Step::Redo(r) => {
            let undos = seen(tablet, |r, e| matches!(e, Event::Undone { .. }).then_some((r.id, r.about)));
            if let Some((undo, about)) = pick(&undos, r) {
                tablet.write(on, about, Event::Redone { undo });
            }
        }
        Step::Correct(c) => {
            if let (Some((case, about)), Some(turn)) = (pick(&cases, c), pick(&turns, c)) {
                let to = Box::new(finding(turn, c.index(7)));
                tablet.write(on, about, Event::Corrected { of: case.0, to, why: "misheard".into() });
            }
        }
        // A correction of a correction, of either kind.
        Step::Again(c) => {
            let corrected = seen(tablet, |r, e| match e {
                Event::Corrected { to, .. } => Some((r.id, r.about, (**to).clone())),
                _ => None,
            });
            if !corrected.is_empty() {
                let (of, about, to) = c.get(&corrected).clone();
                tablet.write(on, about, Event::Corrected { of, to: Box::new(to), why: "once more".into() });
            }
        }
        // A grade told after the finding, and then corrected where it was told.
        Step::Grade(c) => {
            if let Some((case, about)) = pick(&cases, c) {
                let graded = |grade| Event::Detailed { of: case, detail: Detail::Degree(Degree::Grade(grade)) };
                let of = tablet.write(on, about, graded(Grade::Light));
                let to = Box::new(graded(Grade::Moderate));
                tablet.write(on, about, Event::Corrected { of, to, why: "misread".into() });
            }
        }
        Step::Move(t, a) => {
            if let (Some(turn), Some(to)) = (pick(&turns, t), pick(&animals, a)) {
                let about = animal_of(tablet, turn);
                tablet.write(on, about, Event::TurnMoved { turn, to });
            }
        }
        Step::Join(a, b) => {
            if let (Some(one), Some(other)) = (pick(&animals, a), pick(&animals, b)) {
                tablet.write(on, one.0, Event::Joined { one: one.0, other: other.0 });
            }
        }
        Step::Part(j) => {
            let joins = seen(tablet, |r, e| matches!(e, Event::Joined { .. }).then_some((r.id, r.about)));
            if let Some((joined, about)) = pick(&joins, j) {
                tablet.write(on, about, Event::Parted { joined });
            }
        }
        Step::Apart(a, b) => {
            if let (Some(one), Some(other)) = (pick(&animals, a), pick(&animals, b)) {
                tablet.write(on, one.0, Event::KeptApart { one: one.0, other: other.0 });
            }
        }
        Step::Renumber(a) => {
            if let Some(animal) = pick(&animals, a) {
                let labels = Labels { number: format!("{}", tablet.seq), ..Labels::default() };
                tablet.write(on, animal.0, Event::Renumbered { animal, labels });
            }
        }
        Step::Leave(a) => {
            if let Some(animal) = pick(&animals, a) {
                tablet.write(on, animal.0, Event::Left { animal, why: Leaving::Sold, words: String::new() });
            }
        }
        Step::Meet => {}
    }
}

/// Plays steps on two tablets; returns every record that either wrote, and the animals.
pub fn play(steps: &[(bool, u32, Step)]) -> (Vec<Record>, Vec<AnimalId>) {
    let mut one = Tablet::new(11);
    let farm = one.farm(day(1));
    let animals: Vec<AnimalId> = ["1", "2", "3"].into_iter().map(|number| one.animal(day(1), farm, number)).collect();
    let visit = one.visit(day(1), farm);
    let mut two = Tablet::new(5);
    two.meet(&one);
    for (first, on, step) in steps {
        if matches!(step, Step::Meet) {
            one.meet(&two);
            two.meet(&one);
        }
        act(if *first { &mut one } else { &mut two }, day(*on), step, visit);
    }
    one.meet(&two);
    (one.seen, animals)
}

proptest! {
    #[test]
    fn order_of_arrival_cannot_matter(steps in steps(), seed in any::<u64>()) {
        let (records, animals) = play(&steps);
        let mut shuffled = records.clone();
        // A fixed mixing of positions: sorted by a hash of id and seed.
        shuffled.sort_by_key(|r| (r.id.seq ^ r.id.series << 32).wrapping_mul(seed | 1).rotate_left(17));
        // Some arrive twice.
        let twice: Vec<Record> = shuffled.iter().step_by(3).cloned().collect();
        shuffled.extend(twice);
        for animal in animals {
            let expected = History::of(records.clone(), animal);
            prop_assert_eq!(&expected, &History::of(shuffled.clone(), animal));
        }
    }

    #[test]
    fn every_turn_is_exactly_one_animals(steps in steps()) {
        let (records, animals) = play(&steps);
        let standing = crushbook::domain::history::standing::Standing::of(records.clone());
        let mut begun: Vec<TurnId> = standing
            .records()
            .iter()
            .filter(|record| matches!(record.event(), Some(Event::TurnBegun { .. })))
            .map(|record| TurnId(record.id))
            .collect();
        // Joined animals share one history: each is asked once.
        let mut classes: Vec<History> = Vec::new();
        for animal in animals {
            let history = History::of(records.clone(), animal);
            if !classes.iter().any(|known| known.animals == history.animals) {
                classes.push(history);
            }
        }
        let mut told: Vec<TurnId> = classes.iter().flat_map(|history| history.turns.iter().map(|turn| turn.id)).collect();
        begun.sort();
        told.sort();
        prop_assert_eq!(told, begun);
    }
}
