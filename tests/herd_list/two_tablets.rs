//! Herd data told on two tablets: whichever is joined first, the newest fact holds and both are in the history.

use crate::support::tablet::{Tablet, day};
use crushbook::domain::event::Event;
use crushbook::domain::herd::{Herd, Status};
use crushbook::domain::history::History;
use crushbook::domain::ids::AnimalId;
use crushbook::domain::record::Record;
use crushbook::report::herd::changes;

/// One tablet says on the 5th what another said otherwise on the 9th, and on the 9th too.
fn told() -> (AnimalId, Vec<Record>) {
    let mut one = Tablet::new(1);
    let farm = one.farm(day(1));
    let animal = one.animal(day(1), farm, "7");
    let mut other = Tablet::new(2);
    other.meet(&one);
    let described = |herd: Herd| Event::Described { animal, herd };
    other.write(day(9), animal.0, described(Herd { lactation: Some(4), calved: Some(day(8)), ..Herd::default() }));
    // Typed later, by a tablet that had seen nothing of it, about an earlier day.
    for _ in 0..5 {
        one.write(day(5), animal.0, described(Herd { lactation: Some(3), group: "low".into(), ..Herd::default() }));
    }
    one.write(
        day(9),
        animal.0,
        described(Herd { group: "high".into(), status: Some(Status::InMilk), ..Herd::default() }),
    );
    one.meet(&other);
    (animal, one.seen)
}

#[test]
fn the_newest_fact_holds_in_any_order_and_both_are_kept() {
    let (animal, records) = told();
    let history = History::of(records.clone(), animal);
    let wanted = Herd {
        lactation: Some(4),
        calved: Some(day(8)),
        group: "high".into(),
        status: Some(Status::InMilk),
        ..Herd::default()
    };
    assert_eq!(history.herd, wanted);
    assert_eq!(history.told.len(), 7, "every word is kept");
    assert_eq!(history.told.iter().filter(|(_, herd)| herd.lactation == Some(3)).count(), 5);
    let lines = changes(&history);
    assert_eq!(lines, ["Told 9 May 2026: group high, was low", "Told 9 May 2026: lactation 4, was 3"]);
    let mut turned = records;
    for by in [1, 3, 4] {
        turned.rotate_left(by);
        assert_eq!(History::of(turned.clone(), animal), history);
        turned.reverse();
        assert_eq!(History::of(turned.clone(), animal), history);
    }
}
