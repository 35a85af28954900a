//! Events about events: undo, redo, correction, move, join, part, renumber.

use crate::support::tablet::{Tablet, day};
use crushbook::domain::anatomy::{Foot, Horn, Place, Side};
use crushbook::domain::event::Event;
use crushbook::domain::finding::{Degree, Finding, Grade};
use crushbook::domain::herd::Labels;
use crushbook::domain::ids::{AnimalId, FarmId, RecordId, TurnId, VisitId};

const SOLE: Place = Place::Horn(Foot::LeftHind, Side::Outer, Horn::SoleBulb);

struct World {
    tablet: Tablet,
    farm: FarmId,
    cow: AnimalId,
    visit: VisitId,
    turn: TurnId,
    found: RecordId,
}

fn ulcer(turn: TurnId) -> Event {
    Event::Found { turn, place: SOLE, what: Finding::SU, degree: Degree::Grade(Grade::Light), words: String::new() }
}

fn world() -> World {
    let mut tablet = Tablet::new(7);
    let farm = tablet.farm(day(1));
    let cow = tablet.animal(day(1), farm, "1382");
    let visit = tablet.visit(day(1), farm);
    let turn = tablet.turn(day(1), visit, cow);
    let found = tablet.write(day(1), cow.0, ulcer(turn));
    World { tablet, farm, cow, visit, turn, found }
}

#[test]
fn undo_takes_the_press_back_and_redo_gives_it_again() {
    let mut world = world();
    let cow = world.cow;
    let before = world.tablet.history(cow).turns;
    let undo = world.tablet.write(day(1), cow.0, Event::Undone { press: world.found });
    assert!(world.tablet.history(cow).courses.is_empty());
    let redo = world.tablet.write(day(1), cow.0, Event::Redone { undo });
    assert_eq!(world.tablet.history(cow).turns, before);
    // Undoing the redo takes it back again.
    world.tablet.write(day(1), cow.0, Event::Undone { press: redo });
    assert!(world.tablet.history(cow).courses.is_empty());
}

#[test]
fn a_correction_says_what_the_record_should_have_said_and_the_newest_wins() {
    let mut world = world();
    let cow = world.cow;
    let inner = Place::Horn(Foot::LeftHind, Side::Inner, Horn::SoleBulb);
    let to = |place| {
        let event =
            Event::Found { turn: world.turn, place, what: Finding::SU, degree: Degree::NotGiven, words: String::new() };
        Event::Corrected { of: world.found, to: Box::new(event), why: "wrong claw".into() }
    };
    let first = world.tablet.write(day(2), cow.0, to(inner));
    assert_eq!(world.tablet.history(cow).courses[0].place, inner);
    let second = world.tablet.write(day(3), cow.0, to(SOLE));
    assert_eq!(world.tablet.history(cow).courses[0].place, SOLE);
    world.tablet.write(day(3), cow.0, Event::Undone { press: second });
    assert_eq!(world.tablet.history(cow).courses[0].place, inner, "the older correction stands again");
    world.tablet.write(day(3), cow.0, Event::Undone { press: first });
    assert_eq!(
        world.tablet.history(cow).courses[0].carried().degree.word,
        Degree::Grade(Grade::Light),
        "the record itself again"
    );
}

#[test]
fn a_moved_turn_takes_its_findings_to_the_other_animal() {
    let mut world = world();
    let cow = world.cow;
    let other = world.tablet.animal(day(1), world.farm, "1328");
    let grade = Event::Detailed {
        of: crushbook::domain::ids::CaseId(world.found),
        detail: crushbook::domain::event::Detail::Infected(true),
    };
    world.tablet.write(day(1), cow.0, grade);
    let moved = world.tablet.write(day(1), cow.0, Event::TurnMoved { turn: world.turn, to: other });
    assert!(world.tablet.history(cow).turns.is_empty());
    let history = world.tablet.history(other);
    assert_eq!(history.courses.len(), 1);
    assert!(history.courses[0].carried().infected.word, "what was told about the finding goes with it");
    assert!(history.doubts.is_empty());
    world.tablet.write(day(1), cow.0, Event::Undone { press: moved });
    assert_eq!(world.tablet.history(cow).turns.len(), 1);
    assert!(world.tablet.history(other).turns.is_empty());
}

#[test]
fn joined_then_parted_is_identity() {
    let mut world = world();
    let cow = world.cow;
    let twin = world.tablet.animal(day(2), world.farm, "R 77");
    let turn = world.tablet.turn(day(2), world.visit, twin);
    world.tablet.write(day(2), twin.0, ulcer(turn));
    let before = (world.tablet.history(cow), world.tablet.history(twin));
    let joined = world.tablet.write(day(3), cow.0, Event::Joined { one: cow.0, other: twin.0 });
    let together = world.tablet.history(twin);
    assert_eq!(together.animals, [cow, twin]);
    assert_eq!(together.turns.len(), 2);
    assert_eq!(together, world.tablet.history(cow));
    assert_eq!(together.courses.len(), 1, "the same ulcer two days running is one case");
    world.tablet.write(day(4), cow.0, Event::Parted { joined });
    let after = (world.tablet.history(cow), world.tablet.history(twin));
    assert_eq!(before.0.turns, after.0.turns);
    assert_eq!(before.0.courses, after.0.courses);
    assert_eq!(before.1.turns, after.1.turns);
    assert_eq!(before.1.courses, after.1.courses);
    assert_eq!(before.1.labels, after.1.labels);
}

#[test]
fn a_renumbered_animal_keeps_the_old_number() {
    let mut world = world();
    let cow = world.cow;
    let labels = Labels { number: "2040".into(), ..Labels::default() };
    world.tablet.write(day(9), cow.0, Event::Renumbered { animal: cow, labels });
    let history = world.tablet.history(cow);
    assert_eq!(history.labels.number, "2040");
    assert_eq!(history.earlier.len(), 1);
    assert_eq!(history.earlier[0].1.number, "1382");
}

#[test]
fn a_sheet_typed_late_lands_on_its_day() {
    let mut world = world();
    let cow = world.cow;
    let visit = world.tablet.visit(day(20), world.farm);
    let later = world.tablet.turn(day(20), visit, cow);
    let late = world.tablet.turn(day(10), visit, cow);
    let days: Vec<TurnId> = world.tablet.history(cow).turns.iter().map(|turn| turn.id).collect();
    assert_eq!(days, [world.turn, late, later]);
}
