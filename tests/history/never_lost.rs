//! What was put on a foot is never lost: it is on the list, or a record that can be named closed it, and no word makes it
//! quieter than it is but "all off, bare and felt".

use super::any_order::{play, steps};
use crate::support::tablet::Tablet;
use crate::support::tablet::day;
use chrono::Days;
use crushbook::domain::event::{Event, Item};
use crushbook::domain::follow_up::list::list;
use crushbook::domain::follow_up::rules::Rules;
use crushbook::domain::herd::{Herd, Leaving, Status};
use crushbook::domain::history::History;
use crushbook::domain::history::open::{Open, OpenItem};
use crushbook::domain::history::standing::Standing;
use crushbook::domain::ids::{AnimalId, FarmId, PutId, RecordId};
use crushbook::domain::record::Record;
use crushbook::domain::treatment::{Means, Put, Word};
use proptest::prelude::{any, prop_assert, proptest};
use std::collections::BTreeSet;

/// Whether a record is able to have closed something put on by another.
fn may_close(off: &Record, put: &Record, what: &Put) -> bool {
    let Some(Event::SeenOff { item, outcome, .. }) = off.event() else { return false };
    let names = match item {
        Item::Known(known) => known.0 == put.id,
        Item::Met(place) => place.foot() == what.foot() && off.on >= put.on,
    };
    names && outcome.closes()
}

/// Late and urgent wraps and blocks of one animal.
fn loud_on(records: &[Record], animal: AnimalId, after: u64) -> usize {
    let open = [Open::of(&History::of(records.to_vec(), animal))];
    let list = list(&open, &Rules::default(), day(28) + Days::new(after));
    list.items.iter().filter(|item| matches!(item.item, OpenItem::On { .. }) && item.is_loud()).count()
}

/// Words and facts that may come in about an animal, none of which says that all is off, bare and felt.
fn words(animal: AnimalId, puts: &[PutId]) -> Vec<Event> {
    let told = |word| {
        puts.iter().map(move |put| Event::ToldOff { item: *put, by: "Tom".into(), means: Means::Telephone, word })
    };
    let mut events: Vec<Event> =
        [Word::NoAnswer, Word::Tonight, Word::Off, Word::StillOn, Word::Trouble].into_iter().flat_map(told).collect();
    let dry = Herd { status: Some(Status::Dry), dry_from: Some(day(28)), ..Herd::default() };
    events.push(Event::Described { animal, herd: dry });
    events.push(Event::Left { animal, why: Leaving::Sold, words: String::new() });
    events.push(Event::Left { animal, why: Leaving::Gone, words: String::new() });
    events.push(Event::CullSaid { animal });
    let farm = FarmId(RecordId::PRACTICE);
    events.push(Event::FarmCalled { farm, words: "smells".into(), urgent: true, caller: "Tom".into() });
    events
}

proptest! {
    #[test]
    fn every_wrap_is_on_the_list_or_closed_by_a_record(steps in steps()) {
        let (records, animals) = play(&steps);
        let on_lists: Vec<PutId> = animals
            .iter()
            .flat_map(|animal| History::of(records.clone(), *animal).open)
            .filter_map(|item| if let OpenItem::On { put, .. } = item { Some(put) } else { None })
            .collect();
        let standing = Standing::of(records);
        for put in standing.records() {
            let Some(Event::PutOn { put: what, .. }) = put.event() else { continue };
            let closed = standing.records().iter().any(|off| may_close(off, put, what));
            prop_assert!(closed || on_lists.contains(&PutId(put.id)), "{put:?}");
        }
    }

    #[test]
    fn nothing_that_is_on_is_on_the_list_twice(steps in steps()) {
        let (records, animals) = play(&steps);
        // Joined animals are one: her list is asked for once.
        let mut histories: Vec<History> = Vec::new();
        for animal in animals {
            let history = History::of(records.clone(), animal);
            if !histories.iter().any(|known| known.animals == history.animals) {
                histories.push(history);
            }
        }
        let mut seen = BTreeSet::new();
        for item in histories.iter().flat_map(|history| &history.open) {
            if let OpenItem::On { put, .. } = item {
                prop_assert!(seen.insert(*put), "{put:?}");
            }
        }
    }

    #[test]
    fn nothing_but_told_bare_and_felt_makes_the_list_quieter(steps in steps(), after in 0_u64..30, pick in any::<usize>()) {
        let (records, animals) = play(&steps);
        for animal in animals {
            let history = History::of(records.clone(), animal);
            let puts: Vec<PutId> = history
                .open
                .iter()
                .filter_map(|item| if let OpenItem::On { put, .. } = item { Some(*put) } else { None })
                .collect();
            // What was told bare and felt before is quiet, and any newer word may make it loud again.
            let before = loud_on(&records, animal, after);
            let words = words(animal, &puts);
            let word = words[pick % words.len()].clone();
            let mut tablet = Tablet::new(77);
            tablet.tick = records.iter().map(|record| record.tick).max().unwrap_or(0) + 1;
            let about: RecordId = animal.0;
            tablet.write(day(28), about, word.clone());
            let with: Vec<Record> = records.iter().cloned().chain(tablet.seen).collect();
            prop_assert!(loud_on(&with, animal, after) >= before, "{word:?}");
        }
    }
}
