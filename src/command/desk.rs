//! The desk at which sheets are typed up: every record is written out here first and handed over at once, so that a
//! mistake anywhere leaves nothing in the book.

use super::farm::{Farms, people};
use super::recorder::Recorder;
use super::rules::in_force_on;
use crate::domain::event::Event;
use crate::domain::farm::facts;
use crate::domain::follow_up::rules::RuleSet;
use crate::domain::herd::{FarmFact, Herd, Labels, VisitWord};
use crate::domain::history::History;
use crate::domain::history::standing::Standing;
use crate::domain::ids::{AnimalId, FarmId, PersonId, RecordId, VisitId};
use crate::domain::known::as_of;
use crate::domain::label::bears;
use crate::domain::record::{Moment, Record, Stamp};
use crate::domain::sheet::Sheet;
use crate::domain::visit::{No, Visits};
use crate::domain::visit_log::{State, Visit, visits};
use crate::store::Store;
use crate::store::error::{Problem, StoreError};
use crate::wire::rows::LabelRow;
use chrono::NaiveDate;
use std::collections::{BTreeMap, BTreeSet};

/// A day's records under way: who writes them, and the day they happened.
#[derive(Debug, Clone, Copy)]
pub struct Day {
    /// The day.
    pub on: NaiveDate,
    /// Who records.
    pub by: Option<PersonId>,
}

/// Records written out and not handed over yet, over what the book holds.
pub struct Desk<'s> {
    store: &'s Store,
    now: Moment,
    next: RecordId,
    tick: u64,
    people: BTreeMap<String, PersonId>,
    /// Whoever was named for sheets that name nobody.
    named: Option<PersonId>,
    /// Farms, those begun here too.
    pub farms: Farms,
    read: BTreeMap<RecordId, Vec<Record>>,
    called: BTreeMap<(FarmId, String), BTreeSet<AnimalId>>,
    numbers: BTreeMap<FarmId, Vec<String>>,
    out: Vec<Record>,
    /// What was wrong with the book on the way.
    pub problems: Vec<Problem>,
}

/// Whom a name on a sheet stands for.
pub enum Known {
    /// Her.
    One(AnimalId),
    /// Nobody.
    Nobody,
    /// More than one.
    Several(usize),
}

impl<'s> Desk<'s> {
    /// A desk over that book; `now` is cut to whole seconds, which is what a record keeps.
    pub fn new(store: &'s Store, now: Moment) -> Result<Desk<'s>, StoreError> {
        use chrono::SubsecRound;
        let (farms, problems) = Farms::of(store)?;
        let people = people(store)?.into_iter().map(|(id, name)| (name, id)).collect();
        Ok(Desk {
            store,
            now: now.trunc_subsecs(0),
            next: store.next_id(),
            tick: store.tick(),
            people,
            named: None,
            farms,
            read: BTreeMap::new(),
            called: BTreeMap::new(),
            numbers: BTreeMap::new(),
            out: Vec::new(),
            problems,
        })
    }

    /// The same, where a sheet that names nobody is that person's.
    pub fn of(self, named: Option<PersonId>) -> Desk<'s> {
        Desk { named, ..self }
    }

    /// How many records were written out.
    pub fn written(&self) -> usize {
        self.out.len()
    }

    /// Who records where a sheet names nobody: whoever was named for it, else whoever alone is known so far, the sheets before it
    /// included.
    pub fn recorder(&self) -> Recorder {
        let people = self.people.iter().map(|(name, person)| (*person, name.as_str()));
        self.named.map_or_else(|| Recorder::supposed(people), Recorder::Named)
    }

    /// All that was written out, in order.
    pub fn done(self) -> (Vec<Record>, Vec<Problem>) {
        (self.out, self.problems)
    }

    /// The stamp of the next press.
    pub fn stamp(&self, day: Day) -> Stamp {
        Stamp { next: self.next, tick: self.tick, by: day.by, now: self.now, on: day.on }
    }

    /// Writes out one press made with the present stamp.
    pub fn keep(&mut self, records: Vec<Record>) -> Result<(), StoreError> {
        self.next.seq += records.len() as u64;
        self.tick += 1;
        for record in &records {
            self.read(record.about)?.push(record.clone());
        }
        self.out.extend(records);
        Ok(())
    }

    /// Writes out one press, and names its first record.
    pub fn press(&mut self, day: Day, events: Vec<(RecordId, Event)>) -> Result<RecordId, StoreError> {
        let stamp = self.stamp(day);
        self.keep(stamp.press(events))?;
        Ok(stamp.next)
    }

    /// Records of a subject: the book's, and those written out here.
    fn read(&mut self, subject: RecordId) -> Result<&mut Vec<Record>, StoreError> {
        if !self.read.contains_key(&subject) {
            let (records, problems) = self.store.records(subject)?;
            self.problems.extend(problems);
            self.read.insert(subject, records);
        }
        Ok(self.read.get_mut(&subject).expect("just put there"))
    }

    /// The same, to look at.
    pub fn records(&mut self, subject: RecordId) -> Result<&[Record], StoreError> {
        self.read(subject).map(|records| records.as_slice())
    }

    /// What an animal's records up to a day add up to. Records about records count whatever day they bear.
    pub fn history(&mut self, animal: AnimalId, until: NaiveDate) -> Result<History, StoreError> {
        let known = |record: &Record| record.on <= until || record.event().is_none_or(Event::is_about_records);
        let records = self.read(animal.0)?.iter().filter(|record| known(record)).cloned().collect();
        Ok(History::of(records, animal))
    }

    /// Whether just that was told of a subject on that day, and stands.
    pub fn holds(&mut self, subject: RecordId, on: NaiveDate, event: &Event) -> Result<bool, StoreError> {
        let standing = Standing::of(self.read(subject)?.clone());
        Ok(standing.records().iter().any(|record| record.on == on && record.event() == Some(event)))
    }

    /// Those who are known to record, where nobody of that name is.
    pub fn others_than(&self, name: &str) -> Option<Vec<String>> {
        (!self.people.contains_key(name)).then(|| self.people.keys().cloned().collect())
    }

    /// The person of that name, begun where nobody is called so; for no name whoever records then.
    pub fn person(&mut self, name: &str, on: NaiveDate) -> Result<Option<PersonId>, StoreError> {
        if name.is_empty() {
            return Ok(self.recorder().person());
        }
        if let Some(known) = self.people.get(name) {
            return Ok(Some(*known));
        }
        let begun = Event::PersonBegun { name: name.to_owned() };
        let id = PersonId(self.press(Day { on, by: None }, vec![(RecordId::PRACTICE, begun)])?);
        self.people.insert(name.to_owned(), id);
        Ok(Some(id))
    }

    /// Begins a farm.
    pub fn begin_farm(&mut self, name: &str, day: Day) -> Result<FarmId, StoreError> {
        let id = self.next;
        self.press(day, vec![(id, Event::FarmBegun { name: name.to_owned() })])?;
        self.farms.add(FarmId(id), name);
        Ok(FarmId(id))
    }

    /// Takes in what a farm is called now that it was told.
    pub fn renamed(&mut self, farm: FarmId) -> Result<(), StoreError> {
        let known = facts(self.read(farm.0)?.clone(), farm);
        if let Some(name) = known.into_iter().find(|known| known.fact == FarmFact::Name) {
            self.farms.call(farm, &name.now.words);
        }
        Ok(())
    }

    /// The visits of a farm as they were known on a day.
    fn visits(&mut self, farm: FarmId, on: NaiveDate) -> Result<Vec<Visit>, StoreError> {
        Ok(visits(as_of(self.read(farm.0)?, on), farm))
    }

    /// Whether a visit to a farm began or went on that day.
    pub fn has_visit(&mut self, farm: FarmId, on: NaiveDate) -> Result<bool, StoreError> {
        Ok(self.visits(farm, on)?.iter().any(|visit| visit.days.contains(&on)))
    }

    /// The rules by which a farm went on a day.
    pub fn rules(&self, farm: FarmId, on: NaiveDate) -> Result<RuleSet, StoreError> {
        Ok(in_force_on(self.store, on)?.0.of(farm).clone())
    }

    /// The visit to a farm on that day, begun where there is none yet. Of a sheet that says that one goes on: the newest that began
    /// before and was set aside, else that was left without a word; none where there is no such.
    pub fn visit(&mut self, farm: FarmId, sheet: &Sheet, day: Day) -> Result<Option<VisitId>, StoreError> {
        let visits = self.visits(farm, day.on)?;
        let of_day = visits.iter().filter(|visit| visit.days.contains(&day.on));
        if let Some(known) = of_day.min_by_key(|visit| visit.id) {
            return Ok(Some(known.id));
        }
        if !sheet.visit.contains(&VisitWord::GoneOn) {
            let begun = Event::VisitBegun { farm, why: sheet.why };
            return Ok(Some(VisitId(self.press(day, vec![(farm.0, begun)])?)));
        }
        let left = || visits.iter().find(|visit| visit.state == State::Open);
        let on = visits.iter().find(|visit| visit.set_aside().is_some()).or_else(left);
        let Some(visit) = on.map(|visit| visit.id) else { return Ok(None) };
        self.press(day, vec![(farm.0, Event::VisitDescribed { visit, word: VisitWord::GoneOn })])?;
        Ok(Some(visit))
    }

    /// Sets the visit of that day aside, as the screens do; that it was set aside that day already is told.
    pub fn set_aside(&mut self, farm: FarmId, day: Day) -> Result<Result<(), No>, StoreError> {
        let visits = self.visits(farm, day.on)?;
        if visits.iter().any(|visit| visit.asides.contains(&day.on)) {
            return Ok(Err(No::AlreadySo));
        }
        match Visits::of(visits, &BTreeSet::new(), day.on).pause(farm) {
            Ok(facts) => self.press(day, facts).map(|_| Ok(())),
            Err(no) => Ok(Err(no)),
        }
    }

    /// What is known of an animal that is new on that day by its number alone: the group in which the farm says such numbers are.
    pub fn newcomer(&mut self, farm: FarmId, on: NaiveDate) -> Result<Option<Herd>, StoreError> {
        let known = facts(as_of(self.read(farm.0)?, on), farm);
        let group = known.into_iter().find(|known| known.fact == FarmFact::NewAnimals).map(|known| known.now.words);
        let group = group.filter(|group| !group.is_empty());
        Ok(group.map(|group| Herd { group, ..Herd::default() }))
    }

    /// Closes the visit to a farm: the one under way that day, else the newest that was set aside, else that was left without a word. Gives the day
    /// on which it began; that one was closed that day already is told.
    pub fn close(&mut self, farm: FarmId, day: Day) -> Result<Result<NaiveDate, No>, StoreError> {
        let visits = Visits::of(self.visits(farm, day.on)?, &BTreeSet::new(), day.on);
        if visits.now.is_none() && visits.all.iter().any(|visit| visit.state == State::Closed(day.on)) {
            return Ok(Err(No::AlreadySo));
        }
        let left =
            || visits.all.iter().find(|visit| visit.state == State::Open).map(|visit| visit.id).ok_or(No::NoVisit);
        let closed = visits.to_close().or_else(|_| left()).and_then(|visit| Ok((visit, visits.close(farm, visit)?)));
        match closed {
            Ok((visit, facts)) => {
                let on = visits.get(visit).map_or(day.on, |visit| visit.on);
                self.press(day, facts).map(|_| Ok(on))
            }
            Err(no) => Ok(Err(no)),
        }
    }

    /// Numbers of the herd of a farm, as it is known: of those who are here and whose tag or electronic number is known, which no sheet
    /// tells, or of all who are here where a list of the herd was taken.
    pub fn numbers(&mut self, farm: FarmId) -> Result<&[String], StoreError> {
        if !self.numbers.contains_key(&farm) {
            let told = facts(self.read(farm.0)?.clone(), farm);
            let listed = told.iter().any(|known| known.fact == FarmFact::HerdList);
            let (rows, problems) = self.store.animals(farm)?;
            self.problems.extend(problems);
            let is_known = |row: &LabelRow| listed || !row.labels.tag.is_empty() || !row.labels.electronic.is_empty();
            let here = rows.into_iter().filter(|row| row.left.is_none() && is_known(row));
            self.numbers.insert(farm, here.map(|row| row.labels.number.trim().to_owned()).collect());
        }
        Ok(self.numbers.get(&farm).map(Vec::as_slice).unwrap_or_default())
    }

    /// Begins an animal, with what a herd list tells of her.
    pub fn begin_animal(
        &mut self,
        farm: FarmId,
        labels: Labels,
        herd: Option<Herd>,
        day: Day,
    ) -> Result<AnimalId, StoreError> {
        let animal = AnimalId(self.next);
        let called = [&labels.number, &labels.tag, &labels.electronic, &labels.name].map(String::clone);
        let mut events = vec![(animal.0, Event::AnimalBegun { farm, labels })];
        events.extend(herd.map(|herd| (animal.0, Event::Described { animal, herd })));
        self.press(day, events)?;
        for label in called.iter().filter(|label| !label.is_empty()) {
            self.call(farm, label, animal);
        }
        Ok(animal)
    }

    /// Whether another animal of the farm that is here bears this as her number, tag or electronic number.
    pub fn is_borne(&mut self, farm: FarmId, text: &str, but: AnimalId) -> Result<bool, StoreError> {
        let (rows, problems) = self.store.animals(farm)?;
        self.problems.extend(problems);
        let mut may: BTreeSet<AnimalId> =
            rows.iter().filter(|row| bears(&row.labels, text)).map(|row| row.of).collect();
        let here = self.called.iter().filter(|((of, _), _)| *of == farm);
        may.extend(here.flat_map(|(_, animals)| animals));
        for other in may {
            let history = History::of(self.read(other.0)?.clone(), other);
            if history.left.is_none() && bears(&history.labels, text) && !history.animals.contains(&but) {
                return Ok(true);
            }
        }
        Ok(false)
    }

    /// Notes that an animal is called so from here on.
    pub fn call(&mut self, farm: FarmId, label: &str, animal: AnimalId) {
        self.called.entry((farm, plain(label))).or_default().insert(animal);
    }

    /// Whom a sheet of that day means: whoever was called so then and was still there, else whoever was called so then,
    /// else whoever is or was called so at any time.
    pub fn who(&mut self, farm: FarmId, called: &str, on: NaiveDate) -> Result<Known, StoreError> {
        let (rows, problems) = self.store.find(farm, called)?;
        self.problems.extend(problems);
        let mut all: BTreeSet<AnimalId> = rows.iter().map(|row| row.of).collect();
        all.extend(self.called.get(&(farm, plain(called))).into_iter().flatten());
        let (mut then, mut here) = (BTreeSet::new(), BTreeSet::new());
        for animal in &all {
            let history = self.history(*animal, on)?;
            if is_called(&history.labels, called) {
                then.insert(*animal);
                if history.left.is_none() {
                    here.insert(*animal);
                }
            }
        }
        let best = [here, then, all].into_iter().find(|set| !set.is_empty()).unwrap_or_default();
        Ok(match (best.first(), best.len()) {
            (Some(only), 1) => Known::One(*only),
            (Some(_), several) => Known::Several(several),
            (None, _) => Known::Nobody,
        })
    }
}

fn plain(label: &str) -> String {
    label.trim().to_lowercase()
}

fn is_called(labels: &Labels, called: &str) -> bool {
    [&labels.number, &labels.tag, &labels.electronic, &labels.name].iter().any(|label| plain(label) == plain(called))
}
