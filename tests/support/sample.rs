//! The sample herd, entered once into a store in memory and folded, for every test that reads its story.

use super::tablet::moment;
use chrono::NaiveDate;
use crushbook::command::World;
use crushbook::command::demo;
use crushbook::command::recorder::Recorder;
use crushbook::domain::history::History;
use crushbook::domain::history::open::Open;
use crushbook::domain::ids::FarmId;
use crushbook::domain::record::Record;
use crushbook::store::Store;
use crushbook::store::medium::Medium;
use crushbook::wire::rows::LabelRow;
use redb::backends::InMemoryBackend;
use std::sync::OnceLock;

/// The day of its last sheet.
pub fn today() -> NaiveDate {
    NaiveDate::from_ymd_opt(2026, 5, 14).expect("a day")
}

/// A farm of it.
pub struct Farm {
    pub id: FarmId,
    pub name: String,
    /// What was recorded about the farm itself.
    pub records: Vec<Record>,
    /// Her records, for each animal.
    pub animals: Vec<(Vec<Record>, History)>,
    pub open: Vec<Open>,
}

impl Farm {
    pub fn histories(&self) -> impl Iterator<Item = &History> {
        self.animals.iter().map(|(_, history)| history)
    }

    /// Everybody who has, or ever had, that number.
    pub fn called(&self, number: &str) -> Vec<&History> {
        let is = |her: &&History| {
            her.labels.number == number || her.earlier.iter().any(|(_, labels)| labels.number == number)
        };
        self.histories().filter(is).collect()
    }

    /// The only animal that has, or ever had, that number.
    pub fn animal(&self, number: &str) -> &History {
        let found = self.called(number);
        assert_eq!(found.len(), 1, "{} {number}", self.name);
        found[0]
    }
}

/// All farms by name.
pub fn farms() -> &'static [Farm] {
    static FARMS: OnceLock<Vec<Farm>> = OnceLock::new();
    FARMS.get_or_init(read)
}

/// The farm of that name.
pub fn farm(name: &str) -> &'static Farm {
    farms().iter().find(|farm| farm.name == name).unwrap_or_else(|| panic!("no farm {name}"))
}

/// Enters all of it into an empty store, on its last day.
pub fn fill(store: &mut Store) {
    let (mut input, mut out, mut err) = (std::io::empty(), Vec::new(), Vec::new());
    let mut world = World {
        by: Recorder::default(),
        now: moment(today()),
        input: &mut input,
        out: &mut out,
        err: &mut err,
        terminal: false,
        dumb: false,
        watched: false,
        stop: &|| None,
    };
    demo::fill(store, today(), &mut world).unwrap_or_else(|fault| panic!("{fault:?}"));
    assert!(err.is_empty(), "{}", String::from_utf8_lossy(&err));
}

fn in_memory() -> Medium {
    Medium::Backend(Box::new(|| Ok(Box::new(InMemoryBackend::new()))))
}

fn read() -> Vec<Farm> {
    let (mut store, problems) = Store::open(in_memory(), in_memory(), &mut || Ok(1)).expect("a store");
    assert_eq!(problems, []);
    fill(&mut store);
    let (rows, problems) = store.farms().expect("farms");
    assert_eq!(problems, []);
    let mut farms: Vec<Farm> = rows.into_iter().map(|row| one(&store, row.farm, row.name)).collect();
    farms.sort_by(|a, b| a.name.cmp(&b.name));
    farms
}

fn one(store: &Store, farm: FarmId, name: String) -> Farm {
    let (labels, problems) = store.animals(farm).expect("labels");
    assert_eq!(problems, []);
    let animals = labels.into_iter().map(|LabelRow { of: animal, .. }| {
        let (records, problems) = store.records(animal.0).expect("records");
        assert_eq!(problems, []);
        (records.clone(), History::of(records, animal))
    });
    let (open, problems) = store.open_items(Some(farm)).expect("open items");
    assert_eq!(problems, []);
    let (records, problems) = store.records(farm.0).expect("the farm's records");
    assert_eq!(problems, []);
    Farm { id: farm, name, records, animals: animals.collect(), open }
}
