//! A foot trimmer's book over years, made up record by record from a seed: the same plan gives the same bytes. It is never
//! all in memory, so that ten years cost what one visit costs. The benches fill their book with it too.
//!
//! Each farm is visited every four weeks. A quarter of its animals leaves in a year and is replaced; of most of them nobody
//! says so, and what was open on them stays open.

use chrono::{DateTime, Days, NaiveDate, NaiveTime};
use crushbook::domain::anatomy::{Foot, Horn, Place, Side, Skin};
use crushbook::domain::event::{Detail, Event, Item};
use crushbook::domain::finding::{Degree, Finding, Grade, Stage};
use crushbook::domain::herd::{Labels, Leaving, VisitWhy};
use crushbook::domain::ids::{AnimalId, CaseId, FarmId, PutId, RecordId, TurnId, VisitId};
use crushbook::domain::record::Stamp;
use crushbook::domain::treatment::{
    BlockKind, Colour, Gait, GaitScale, Milking, Off, OffBy, Outcome, Put, SkinState, Trim,
};
use crushbook::wire::envelope::{Raw, encode};
use std::collections::VecDeque;

/// How large a practice.
#[derive(Debug, Clone, Copy)]
pub struct Plan {
    /// Farms.
    pub farms: u32,
    /// Animals on each at any time.
    pub herd: u32,
    /// Years of visits.
    pub years: u64,
    /// Of a thousand turns, in how many something is found. What is open at the end follows from it.
    pub found: u64,
    /// What all tosses follow from.
    pub seed: u64,
}

/// Ten years of a full working life: about 1.3 million records, 132,000 turns, 15,000 animals.
pub const TEN_YEARS: Plan = Plan { farms: 60, herd: 80, years: 10, found: 125, seed: 1 };

/// Weeks between two visits, in days.
const BETWEEN_VISITS: u64 = 28;
/// Of a thousand animals, how many leave between two visits: a quarter in a year of thirteen visits.
const LEAVE: u64 = 19;
/// Of a thousand that leave, how many nobody tells of.
const UNTOLD: u64 = 600;
/// Of a thousand animals, how many are brought to a visit: with nothing open, and with something open.
const BROUGHT: [u64; 2] = [191, 950];

/// Where things are found, and what.
#[rustfmt::skip]
const FOUND: [(Finding, Place, Degree); 6] = [
    (Finding::DD, Place::Skin(Foot::RightHind, Skin::Heel), Degree::Stage(Stage::M2)),
    (Finding::DD, Place::Skin(Foot::LeftHind, Skin::Heel), Degree::Stage(Stage::M4)),
    (Finding::SU, Place::Horn(Foot::LeftHind, Side::Outer, Horn::SoleBulb), Degree::Grade(Grade::Severe)),
    (Finding::WLF, Place::Horn(Foot::RightHind, Side::Outer, Horn::WallBulb), Degree::Grade(Grade::Moderate)),
    (Finding::SHD, Place::Horn(Foot::LeftHind, Side::Inner, Horn::SoleBulb), Degree::Grade(Grade::Light)),
    (Finding::TU, Place::Horn(Foot::RightFront, Side::Inner, Horn::SoleApex), Degree::Grade(Grade::Moderate)),
];

const FEET: [Foot; 4] = [Foot::LeftFront, Foot::RightFront, Foot::LeftHind, Foot::RightHind];

/// One animal on a farm now.
struct Animal {
    id: AnimalId,
    cases: Vec<(CaseId, Finding)>,
    puts: Vec<(PutId, Put)>,
}

struct Farm {
    id: FarmId,
    /// None stands for one that has come and was not in the crush yet.
    animals: Vec<Option<Animal>>,
    numbers: u32,
}

/// The records of a plan, oldest first.
pub struct Years {
    plan: Plan,
    stamp: Stamp,
    toss: u64,
    day: u64,
    farms: Vec<Farm>,
    ready: VecDeque<Raw>,
}

impl Plan {
    /// First day of its visits.
    pub fn begin(self) -> NaiveDate {
        NaiveDate::from_ymd_opt(2016, 6, 1).expect("a day of June")
    }

    /// How many days that takes.
    pub fn days(self) -> u64 {
        self.years * 365
    }

    /// Its records, written in this series.
    pub fn records(self, series: u64) -> Years {
        let stamp = Stamp {
            next: RecordId { series, seq: 1 },
            tick: 1,
            by: None,
            now: DateTime::from_naive_utc_and_offset(
                self.begin().and_time(NaiveTime::MIN),
                chrono::FixedOffset::east_opt(0).expect("no offset"),
            ),
            on: self.begin(),
        };
        Years { plan: self, stamp, toss: self.seed, day: 0, farms: Vec::new(), ready: VecDeque::new() }
    }
}

impl Iterator for Years {
    type Item = Raw;
    fn next(&mut self) -> Option<Raw> {
        while self.ready.is_empty() && self.day < self.plan.days() {
            self.pass_day();
        }
        self.ready.pop_front()
    }
}

impl Years {
    /// A number below `end`, by splitmix64.
    fn below(&mut self, end: u64) -> u64 {
        self.toss = self.toss.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut mixed = self.toss;
        mixed = (mixed ^ mixed >> 30).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        mixed = (mixed ^ mixed >> 27).wrapping_mul(0x94d0_49bb_1331_11eb);
        (mixed ^ mixed >> 31) % end
    }

    /// True so many times in a thousand.
    fn often(&mut self, of_thousand: u64) -> bool {
        self.below(1000) < of_thousand
    }

    /// Writes one press and names its first record.
    fn press<const N: usize>(&mut self, facts: [(RecordId, Event); N]) -> RecordId {
        let first = self.stamp.next;
        for record in self.stamp.press(facts) {
            self.ready.push_back(encode(&record).expect("an invented record can be written"));
        }
        self.stamp.next.seq += N as u64;
        self.stamp.tick += 1;
        self.stamp.now += chrono::TimeDelta::seconds(4);
        first
    }

    fn pass_day(&mut self) {
        let on = self.plan.begin() + Days::new(self.day);
        self.stamp.on = on;
        self.stamp.now =
            DateTime::from_naive_utc_and_offset(on.and_hms_opt(7, 0, 0).expect("a morning"), *self.stamp.now.offset());
        if self.day == 0 {
            self.begin_farms();
        }
        for farm in 0..self.farms.len() {
            if self.day % BETWEEN_VISITS == farm as u64 % BETWEEN_VISITS {
                self.visit(farm);
            }
        }
        self.day += 1;
    }

    fn begin_farms(&mut self) {
        for number in 0..self.plan.farms {
            let id = FarmId(self.stamp.next);
            self.press([(id.0, Event::FarmBegun { name: format!("Invented Farm {}", number + 1) })]);
            let animals = (0..self.plan.herd).map(|_| None).collect();
            self.farms.push(Farm { id, animals, numbers: 100 });
        }
    }

    fn visit(&mut self, farm: usize) {
        let id = self.farms[farm].id;
        let visit = VisitId(self.press([(id.0, Event::VisitBegun { farm: id, why: VisitWhy::Routine })]));
        for place in 0..self.farms[farm].animals.len() {
            let animal = self.farms[farm].animals[place].take();
            let animal = animal.and_then(|animal| self.stays(animal));
            let open = animal.as_ref().is_some_and(|animal| !animal.puts.is_empty() || !animal.cases.is_empty());
            let brought = self.often(BROUGHT[usize::from(open)]);
            self.farms[farm].animals[place] = if brought { Some(self.turn(farm, visit, animal)) } else { animal };
        }
        self.press([(id.0, Event::VisitClosed { visit })]);
    }

    /// She stays, or leaves, told or not.
    fn stays(&mut self, animal: Animal) -> Option<Animal> {
        if !self.often(LEAVE) {
            return Some(animal);
        }
        if !self.often(UNTOLD) {
            let left = Event::Left { animal: animal.id, why: Leaving::Sold, words: String::new() };
            self.press([(animal.id.0, left)]);
        }
        None
    }

    /// One animal's stay in the crush; one that was never there before is begun.
    fn turn(&mut self, farm: usize, visit: VisitId, animal: Option<Animal>) -> Animal {
        let next = self.stamp.next;
        let (mut animal, turn) = match animal {
            Some(animal) => {
                let turn = self.press([(animal.id.0, Event::TurnBegun { visit, animal: animal.id })]);
                (animal, TurnId(turn))
            }
            None => {
                let (id, of) = (AnimalId(next), self.farms[farm].id);
                self.farms[farm].numbers += 1;
                let number = self.farms[farm].numbers;
                let tag = format!("XX {:06} {number:05}", farm + 1);
                let labels = Labels { number: number.to_string(), tag, ..Labels::default() };
                let begun = Event::AnimalBegun { farm: of, labels };
                self.press([(id.0, begun), (id.0, Event::TurnBegun { visit, animal: id })]);
                let turn = TurnId(RecordId { seq: next.seq + 1, ..next });
                (Animal { id, cases: Vec::new(), puts: Vec::new() }, turn)
            }
        };
        self.feet(animal.id, turn);
        self.answer(&mut animal, turn);
        if self.often(self.plan.found) {
            self.find(&mut animal, turn);
        }
        let gait = Gait { scale: GaitScale::ZeroToThree, score: 0 };
        self.press([(animal.id.0, Event::Walked { turn: Some(turn), gait })]);
        self.press([(animal.id.0, Event::TurnSigned { turn, open: Vec::new() })]);
        animal
    }

    fn feet(&mut self, animal: AnimalId, turn: TurnId) {
        for foot in FEET {
            let looked = Event::Looked { turn, foot, lifted: true, trimmed: foot.is_hind(), all_seen: true };
            self.press([(animal.0, looked)]);
        }
        for foot in FEET.into_iter().filter(|foot| foot.is_hind()) {
            let place = Place::Claw(foot, foot.likely_claw());
            self.press([(animal.0, Event::Trimmed { turn, place, how: Trim::Routine })]);
        }
    }

    /// What was open is looked at again: it comes off, and most of it has healed.
    fn answer(&mut self, animal: &mut Animal, turn: TurnId) {
        for (put, what) in std::mem::take(&mut animal.puts) {
            let outcome = if matches!(what, Put::Block { .. }) { Off::TakenOff } else { Off::Bare };
            let seen = Event::SeenOff { turn: Some(turn), item: Item::Known(put), outcome, skin: SkinState::Sound };
            self.press([(animal.id.0, seen)]);
        }
        for (case, what) in std::mem::take(&mut animal.cases) {
            let healed = self.often(900);
            let answer = match (what, healed) {
                (Finding::DD, true) => Event::Staged { turn, case, stage: Stage::M0 },
                (Finding::DD, false) => Event::Staged { turn, case, stage: Stage::M3 },
                (_, true) => Event::Answered { turn, case, outcome: Outcome::Healed },
                (_, false) => Event::Answered { turn, case, outcome: Outcome::Better },
            };
            self.press([(animal.id.0, answer)]);
            if !healed {
                animal.cases.push((case, what));
            }
        }
    }

    /// Something is found, and a wrap, or a block on the partner claw, is put on for it.
    fn find(&mut self, animal: &mut Animal, turn: TurnId) {
        let which = usize::try_from(self.below(FOUND.len() as u64)).expect("few findings");
        let (what, place, degree) = FOUND[which];
        let found = Event::Found { turn, place, what, degree: Degree::NotGiven, words: String::new() };
        let case = CaseId(self.press([(animal.id.0, found)]));
        self.press([(animal.id.0, Event::Detailed { of: case, detail: Detail::Degree(degree) })]);
        animal.cases.push((case, what));
        if !self.often(600) {
            return;
        }
        let put = match (place.foot(), place.side()) {
            (Some(foot), Some(side)) => Put::Block { foot, side: side.partner(), kind: BlockKind::Wood },
            (Some(_) | None, _) => Put::Wrap { over: place, colour: Some(Colour::Blue) },
        };
        let off_by = Some(OffBy { day: self.stamp.on + Days::new(3), milking: Milking::Any });
        let on = Event::PutOn {
            turn: Some(turn),
            put: put.clone(),
            off_by,
            remover: "the herdsman".to_owned(),
            by_others: String::new(),
        };
        let id = PutId(self.press([(animal.id.0, on)]));
        animal.puts.push((id, put));
    }
}
