//! What was set right can be taken back whole: joined and parted, moved and moved back, corrected and undone, over any past; and
//! what was said before stays readable from both sides.

use super::any_order::{play, steps};
use crate::support::tablet::{Tablet, day};
use crushbook::domain::anatomy::{Foot, Horn, Place, Side};
use crushbook::domain::event::{Detail, Event};
use crushbook::domain::finding::{Degree, Finding, Grade};
use crushbook::domain::herd::Labels;
use crushbook::domain::history::History;
use crushbook::domain::ids::{AnimalId, CaseId, RecordId, TurnId};
use crushbook::domain::record::Record;
use crushbook::domain::twice::{Apart, Called, Kind, animals, named};
use proptest::prelude::{any, prop_assert, prop_assert_eq, proptest};
use std::collections::BTreeSet;

/// A third tablet that has seen all of it.
fn third(records: &[Record]) -> Tablet {
    let tick = records.iter().map(|record| record.tick).max().unwrap_or(0) + 1;
    Tablet { tick, seen: records.to_vec(), ..Tablet::new(77) }
}

/// The histories of all, but for how many records they rest on.
fn all(tablet: &Tablet, animals: &[AnimalId]) -> Vec<History> {
    let uncounted = |animal: &AnimalId| History { count: 0, ..tablet.history(*animal) };
    animals.iter().map(uncounted).collect()
}

fn pick<T: Clone>(from: &[T], at: usize) -> Option<T> {
    (!from.is_empty()).then(|| from[at % from.len()].clone())
}

/// Something that sets a past right, about whom it is written.
fn amending(tablet: &Tablet, animals: &[AnimalId], (kind, at): (u8, usize)) -> Option<(RecordId, Event)> {
    let (one, other) = (animals[at % 3], animals[(at + 1 + at / 3 % 2) % 3]);
    let turns: Vec<(TurnId, RecordId)> = tablet
        .seen
        .iter()
        .filter(|record| matches!(record.event(), Some(Event::TurnBegun { .. })))
        .map(|record| (TurnId(record.id), record.about))
        .collect();
    let found: Vec<Record> =
        tablet.seen.iter().filter(|record| matches!(record.event(), Some(Event::Found { .. }))).cloned().collect();
    match kind % 5 {
        0 => Some((one.0, Event::Joined { one: one.0, other: other.0 })),
        1 => pick(&turns, at).map(|(turn, about)| (about, Event::TurnMoved { turn, to: one })),
        2 => {
            let labels = Labels { number: "999".into(), ..Labels::default() };
            Some((one.0, Event::Renumbered { animal: one, labels }))
        }
        3 => {
            let record = pick(&found, at)?;
            let mut to = record.event()?.clone();
            if let Event::Found { place, degree, .. } = &mut to {
                *place = Place::Horn(Foot::LeftFront, Side::Inner, Horn::Bulb);
                *degree = Degree::NotGiven;
            }
            Some((record.about, Event::Corrected { of: record.id, to: Box::new(to), why: "slip".into() }))
        }
        _ => Some((one.0, Event::KeptApart { one: one.0, other: other.0 })),
    }
}

proptest! {
    #[test]
    fn joined_then_parted_is_as_before(steps in steps(), at in any::<usize>()) {
        let (records, animals) = play(&steps);
        let mut tablet = third(&records);
        let before = all(&tablet, &animals);
        let (one, other) = (animals[at % 3].0, animals[(at + 1) % 3].0);
        let joined = tablet.write(day(28), one, Event::Joined { one, other });
        let together = tablet.history(AnimalId(one));
        prop_assert_eq!(&together, &tablet.history(AnimalId(other)), "joined they are one");
        prop_assert!(together.animals.contains(&AnimalId(one)) && together.animals.contains(&AnimalId(other)));
        tablet.write(day(28), one, Event::Parted { joined });
        prop_assert_eq!(before, all(&tablet, &animals));
    }

    #[test]
    fn whatever_set_it_right_undo_gives_the_past_back(steps in steps(), what in any::<(u8, usize)>()) {
        let (records, animals) = play(&steps);
        let mut tablet = third(&records);
        let before = all(&tablet, &animals);
        if let Some((about, event)) = amending(&tablet, &animals, what) {
            let press = tablet.write(day(28), about, event.clone());
            let after = all(&tablet, &animals);
            let undo = tablet.write(day(28), about, Event::Undone { press });
            prop_assert_eq!(before, all(&tablet, &animals), "{:?}", event);
            tablet.write(day(28), about, Event::Redone { undo });
            prop_assert_eq!(after, all(&tablet, &animals), "{:?}", event);
        }
    }

    #[test]
    fn a_turn_that_came_went_from_somebody_and_the_other_way_round(steps in steps()) {
        let (records, animals) = play(&steps);
        let histories: Vec<History> = animals.iter().map(|animal| History::of(records.clone(), *animal)).collect();
        let came: BTreeSet<TurnId> = histories
            .iter()
            .flat_map(|history| &history.turns)
            .filter(|turn| turn.came_from.is_some())
            .map(|turn| turn.id)
            .collect();
        let went: BTreeSet<TurnId> =
            histories.iter().flat_map(|history| &history.moved_away).map(|moved| moved.turn).collect();
        prop_assert_eq!(came, went);
    }

    #[test]
    fn of_every_correction_the_first_word_and_the_last_are_readable(steps in steps()) {
        let (records, animals) = play(&steps);
        for animal in animals {
            let history = History::of(records.clone(), animal);
            for (at, correction) in history.corrections.iter().enumerate() {
                let written = records.iter().find(|record| record.id == correction.of).expect("what was corrected");
                let earlier = history.corrections[..at].iter().rev().find(|other| other.of == correction.of);
                let before = earlier.map_or(written.event(), |earlier| Some(&earlier.now));
                prop_assert_eq!(before, Some(&correction.was), "one after the other, from the first");
            }
        }
    }
}

#[test]
fn a_grade_is_corrected_where_it_was_told_and_the_finding_says_both() {
    let mut tablet = Tablet::new(7);
    let farm = tablet.farm(day(1));
    let cow = tablet.animal(day(1), farm, "1");
    let visit = tablet.visit(day(1), farm);
    let turn = tablet.turn(day(1), visit, cow);
    let place = Place::Horn(Foot::LeftHind, Side::Outer, Horn::SoleBulb);
    let found = Event::Found { turn, place, what: Finding::SU, degree: Degree::NotGiven, words: String::new() };
    let found = CaseId(tablet.write(day(1), cow.0, found));
    let graded = |grade| Event::Detailed { of: found, detail: Detail::Degree(Degree::Grade(grade)) };
    let told = tablet.write(day(1), cow.0, graded(Grade::Light));
    let to = Box::new(graded(Grade::Severe));
    tablet.write(day(9), cow.0, Event::Corrected { of: told, to, why: "misheard".into() });
    let history = tablet.history(cow);
    assert_eq!(history.cases(35)[0].degree, Degree::Grade(Grade::Severe));
    let was = &history.turns[0].found[0].was;
    assert_eq!((was.len(), &was[0].event, was[0].why.as_str()), (1, &graded(Grade::Light), "misheard"));
}

#[test]
fn a_turn_moved_on_came_from_whom_it_was_written_under_and_moved_back_from_nowhere() {
    let mut tablet = Tablet::new(7);
    let farm = tablet.farm(day(1));
    let [one, two, three] = ["1", "2", "3"].map(|number| tablet.animal(day(1), farm, number));
    let visit = tablet.visit(day(1), farm);
    let turn = tablet.turn(day(1), visit, one);
    let number = |labels: &Labels| labels.number.clone();
    let came = |tablet: &Tablet, animal| {
        let turns = tablet.history(animal).turns;
        turns.iter().map(|turn| turn.came_from.as_ref().map(number)).collect::<Vec<_>>()
    };
    let went = |tablet: &Tablet, animal| {
        tablet.history(animal).moved_away.iter().map(|moved| number(&moved.labels)).collect::<Vec<_>>()
    };
    for (from, to) in [(one, two), (two, three)] {
        tablet.write(day(2), from.0, Event::TurnMoved { turn, to });
    }
    assert_eq!(came(&tablet, three), [Some("1".to_owned())]);
    assert_eq!((went(&tablet, one), went(&tablet, two)), (vec!["3".to_owned()], Vec::new()));
    tablet.write(day(3), three.0, Event::TurnMoved { turn, to: one });
    assert_eq!(came(&tablet, one), [None]);
    assert!([one, two, three].iter().all(|animal| went(&tablet, *animal).is_empty()));
}

#[test]
fn joined_labels_are_what_each_was_told_last_and_nothing_is_lost() {
    let mut tablet = Tablet::new(7);
    let farm = tablet.farm(day(1));
    let begun = |tablet: &mut Tablet, on, number: &str, tag: &str| {
        let labels = Labels { number: number.into(), tag: tag.into(), ..Labels::default() };
        AnimalId(tablet.begin(on, Event::AnimalBegun { farm, labels }))
    };
    let one = begun(&mut tablet, day(1), "1382", "XX 1");
    let other = begun(&mut tablet, day(2), "77", "");
    tablet.write(day(3), one.0, Event::Joined { one: one.0, other: other.0 });
    // The other never had a tag; her new number takes none away.
    let labels = Labels { number: "2044".into(), ..Labels::default() };
    tablet.write(day(4), other.0, Event::Renumbered { animal: other, labels });
    let history = tablet.history(one);
    assert_eq!((history.labels.number.as_str(), history.labels.tag.as_str()), ("2044", "XX 1"));
    let numbers: Vec<&str> = history.earlier.iter().map(|(_, labels)| labels.number.as_str()).collect();
    assert_eq!(numbers, ["1382", "77"]);
    // A tag that was lost is lost.
    let lost = Labels { number: "1382".into(), ..Labels::default() };
    tablet.write(day(5), one.0, Event::Renumbered { animal: one, labels: lost });
    assert_eq!(tablet.history(one).labels.tag, "");
}

#[test]
fn of_three_with_one_number_the_rest_is_asked_about_in_turn() {
    let id = |series| RecordId { series, seq: 1 };
    let labels = Labels { number: "7".into(), ..Labels::default() };
    let herd: Vec<Called> = [1, 2, 3].map(|series| Called { id: id(series), labels: &labels, left: false }).to_vec();
    let ids = |apart: &Apart| -> Vec<(u64, u64)> {
        animals(&herd, apart).iter().map(|pair| (pair.one.series, pair.other.series)).collect()
    };
    assert_eq!(ids(&Apart::default()), [(1, 2), (1, 3)]);
    let mut tablet = Tablet::new(9);
    tablet.write(day(1), id(9), Event::KeptApart { one: id(2), other: id(1) });
    let apart = |tablet: &Tablet| Apart::of(&crushbook::domain::history::standing::Standing::of(tablet.seen.clone()));
    assert_eq!(ids(&apart(&tablet)), [(1, 3)], "the first two are two");
    tablet.write(day(1), id(9), Event::KeptApart { one: id(1), other: id(3) });
    assert_eq!(ids(&apart(&tablet)), [(2, 3)], "the third may still be the second");
    let same = |a: &str, b: &str| named(Kind::Farms, &[(id(1), a.into()), (id(2), b.into())], &Apart::default()).len();
    assert_eq!((same("Thistle Bank", "thistle-bank "), same("Thistle Bank", "Thistle Burn")), (1, 0));
}
