//! What the session is shown of the book: farms, the herd of one farm, one animal.

use crate::domain::contact::{Contact, here};
use crate::domain::farm::facts;
use crate::domain::follow_up::given_up::without_routine;
use crate::domain::herd::FarmFact;
use crate::domain::history::open::Open;
use crate::domain::history::standing::Standing;
use crate::domain::ids::{AnimalId, FarmId, PersonId, RecordId, TurnId};
use crate::domain::instruction::{Instruction, standing};
use crate::domain::practice::Region;
use crate::domain::record::Record;
use crate::domain::treatment::GaitScale;
use crate::domain::twice::{Apart, Called, Pair, animals};
use crate::domain::visit::Visits;
use crate::domain::visit_log::visits as log;
use crate::domain::vocabulary::Vocabulary;
use crate::report::words::Words;
use crate::session::{Crush, FarmLine, HerdLine, LineTurn, Session};
use crate::store::Store;
use crate::store::error::{Problem, StoreError};
use crate::wire::rows::FarmRow;
use chrono::NaiveDate;
use std::collections::{BTreeMap, BTreeSet};

/// Farms by name, without those joined into others.
pub fn farms(store: &Store, region: Region) -> Result<(Vec<FarmLine>, Vec<Problem>), StoreError> {
    let (rows, problems) = store.farms()?;
    let mut farms: Vec<FarmLine> =
        rows.iter().filter(|row| row.joined_into.is_none()).map(|row| line(row, region)).collect();
    farms.sort_by(|a, b| a.name.cmp(&b.name));
    Ok((farms, problems))
}

fn line(row: &FarmRow, region: Region) -> FarmLine {
    let told = |fact| row.facts.iter().find(|(known, _)| *known == fact).map(|(_, words)| words.as_str());
    let told = told_of((row.farm, &row.name), told, (row.instructions.clone(), row.contacts.clone()), region);
    FarmLine { given_up: row.given_up.is_some(), going: row.going, aside: row.aside, ..told }
}

/// A farm as its own records tell of it, under the name that it has now.
pub fn line_of(now: &FarmLine, records: &[Record], region: Region) -> FarmLine {
    let known = facts(records.to_vec(), now.id);
    let told = |fact| known.iter().find(|known| known.fact == fact).map(|known| known.now.words.as_str());
    let own = (standing(records.to_vec(), now.id), here(&Standing::of(records.to_vec()), now.id));
    let told = told_of((now.id, &now.name), told, own, region);
    FarmLine { given_up: now.given_up, going: now.going, aside: now.aside, ..told }
}

fn told_of<'t>(
    (id, name): (FarmId, &str),
    told: impl Fn(FarmFact) -> Option<&'t str>,
    (instructions, contacts): (Vec<Instruction>, Vec<Contact>),
    region: Region,
) -> FarmLine {
    let words = |fact| told(fact).unwrap_or_default().to_owned();
    FarmLine {
        id,
        name: name.to_owned(),
        scale: told(FarmFact::GaitScale).and_then(GaitScale::from_word).unwrap_or(region.gait_scale()),
        phone: words(FarmFact::Phone),
        new_animals: words(FarmFact::NewAnimals),
        note: words(FarmFact::Note),
        vet_phone: words(FarmFact::VetPhone),
        ask_for: words(FarmFact::Contact),
        contacts,
        instructions,
        given_up: false,
        going: None,
        aside: None,
    }
}

/// The animals of a farm, each with its newest turn of the day, or of the visit that goes on that day; and the farm's visits,
/// out of its own records.
pub fn herd(store: &Store, farm: FarmId, day: NaiveDate, records: Vec<Record>) -> Result<Herd, StoreError> {
    let (labels, mut problems) = store.labels(farm)?;
    let (mut rows, more) = store.day(farm, day)?;
    problems.extend(more);
    let of_day = rows.iter().map(|row| row.visit).filter(|visit| visit.0 != RecordId::PRACTICE).collect();
    let visits = Visits::of(log(records, farm), &of_day, day);
    let earlier = visits.under_way().into_iter().flat_map(|visit| &visit.days);
    for before in earlier.filter(|before| **before < day) {
        let (more, problem) = store.day(farm, *before)?;
        problems.extend(problem);
        rows.extend(more.into_iter().filter(|row| Some(row.visit) == visits.now));
    }
    let mut lines: BTreeMap<AnimalId, HerdLine> = BTreeMap::new();
    let mut counts = BTreeMap::new();
    for row in labels {
        let line = lines.entry(row.of).or_insert_with(|| HerdLine {
            id: row.of,
            labels: row.labels.clone(),
            earlier: Vec::new(),
            earlier_electronic: Vec::new(),
            status: row.status,
            left: row.left,
            turn: None,
        });
        if row.current {
            counts.insert(row.of, row.count);
            line.labels = row.labels;
            continue;
        }
        if !line.earlier.contains(&row.labels.number) {
            line.earlier.push(row.labels.number);
        }
        if !row.labels.electronic.is_empty() && !line.earlier_electronic.contains(&row.labels.electronic) {
            line.earlier_electronic.push(row.labels.electronic);
        }
    }
    for row in &rows {
        if let Some(line) = lines.get_mut(&row.animal)
            && line.turn.is_none_or(|turn| turn.id <= row.turn)
        {
            line.turn = Some(LineTurn { id: row.turn, state: row.state, on: row.on });
        }
    }
    let mut lines: Vec<HerdLine> = lines.into_values().collect();
    // A tag or a name that changed leaves the number as it was.
    lines.iter_mut().for_each(|line| line.earlier.retain(|number| !number.is_empty() && *number != line.labels.number));
    // A number is given again once its cow is gone: whoever is still there is the first to answer to it.
    lines.sort_by_key(|line| line.left.is_some());
    Ok(Herd { lines, counts, visits, problems })
}

/// A farm's animals on a day.
pub struct Herd {
    /// Animals.
    pub lines: Vec<HerdLine>,
    /// How many records each has: more where more was written of her.
    pub counts: BTreeMap<AnimalId, u64>,
    /// The farm's visits, with the one under way that day.
    pub visits: Visits,
    /// What could not be read.
    pub problems: Vec<Problem>,
}

/// People who record, by the practice's records.
pub fn people(store: &Store) -> Result<Vec<(PersonId, String)>, StoreError> {
    Ok(crate::command::farm::people(store)?.into_iter().collect())
}

/// What the records of a farm itself add up to.
pub struct OfFarm {
    /// The standing instructions that hold.
    pub instructions: Vec<Instruction>,
    /// Animals that may be one.
    pub pairs: Vec<Pair>,
}

/// What a farm's own records say besides its visits.
pub fn of_farm(farm: FarmId, records: &[Record], herd: &[HerdLine]) -> OfFarm {
    let herd: Vec<Called> =
        herd.iter().map(|line| Called { id: line.id.0, labels: &line.labels, left: line.left.is_some() }).collect();
    let pairs = animals(&herd, &Apart::of(&Standing::of(records.to_vec())));
    OfFarm { instructions: standing(records.to_vec(), farm), pairs }
}

/// Animals whose findings are counted for the order of the pads: enough to tell.
const COUNTED: usize = 40;

/// Of whom the findings are counted: animals spread evenly over the herd.
pub fn counted(herd: &BTreeMap<AnimalId, u64>) -> BTreeSet<AnimalId> {
    herd.keys().copied().step_by(herd.len().div_ceil(COUNTED).max(1)).collect()
}

/// Open items of every farm; of those given up what is on an animal, and what cannot wait.
pub fn open_items(store: &Store, farms: &[FarmLine]) -> Result<(Vec<Open>, Vec<Problem>), StoreError> {
    let (mut open, problems) = store.open_items(None)?;
    let given_up = farms.iter().filter(|farm| farm.given_up).map(|farm| farm.id).collect();
    without_routine(&mut open, &given_up);
    Ok((open, problems))
}

/// Everything recorded of one animal.
pub fn animal(store: &Store, animal: AnimalId) -> Result<(Vec<Record>, Vec<Problem>), StoreError> {
    store.records(animal.0)
}

/// What is called out to the farm when she goes: each thing that this turn left on her, with its day.
pub fn left_on(crush: &Crush, turn: TurnId, session: &Session) -> Vec<String> {
    let words = Words(session.practice.region);
    crate::report::call_out::lines(&crush.history, turn, &session.rules, session.today, words)
}
