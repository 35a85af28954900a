//! What is in hand now: where the trimmer is, what is typed, which animal is in the crush, and what a wish decides.
//!
//! Pure. [`decide::decide`] takes the session, an intent and a stamp and says what to record and where to go; the loop
//! commits, then calls [`Session::apply`], and only then is anything drawn. Choices are data ([`act::Act`]); their words
//! are the screen's.

pub mod act;
pub mod amend;
pub mod back;
pub mod backup;
pub mod choices;
pub mod contact;
pub mod crush;
pub mod day_list;
pub mod decide;
pub mod farm_card;
pub mod ghost;
pub mod herd;
pub mod herd_list;
pub mod instruct;
pub mod lists;
pub mod mode;
pub mod of_farm;
pub mod ring;
pub mod sign_off;
pub mod today;
pub mod touch;
pub mod type_up;
pub mod undo;
pub mod visit;
pub mod walk;
pub mod who;
pub mod withdrawal;

use crate::domain::contact::Contact;
use crate::domain::farm_card::Card;
use crate::domain::follow_up::rules::{RuleSet, Rules};
use crate::domain::herd::{Labels, Leaving, Status, VisitWord};
use crate::domain::herd_list::her::Her;
use crate::domain::history::open::Open;
use crate::domain::history::{History, Turn, TurnState};
use crate::domain::ids::{AnimalId, FarmId, PersonId, TurnId, VisitId};
use crate::domain::instruction::Instruction;
use crate::domain::likely::Counts;
use crate::domain::practice::Practice;
use crate::domain::record::{Moment, Record};
use crate::domain::treatment::{BlockKind, Colour, GaitScale};
use crate::domain::twice::Pair;
use crate::domain::visit::Visits;
use crate::domain::walk::Walk;
use crate::domain::withdrawal::{Stated, Unstated};
use crate::keys::key::Key;
use chrono::NaiveDate;
use day_list::Listed;
use mode::Mode;
use std::collections::{BTreeMap, BTreeSet};

/// A farm to choose.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FarmLine {
    /// The farm.
    pub id: FarmId,
    /// Its name.
    pub name: String,
    /// How its gait is scored.
    pub scale: GaitScale,
    /// Its telephone number; empty: not known.
    pub phone: String,
    /// Group in which unknown numbers are new; empty: unknown numbers are asked about.
    pub new_animals: String,
    /// A note about it; empty: none.
    pub note: String,
    /// Its vet's telephone number; empty: not known.
    pub vet_phone: String,
    /// Whom to ask for there; empty: not told.
    pub ask_for: String,
    /// Its people who are there.
    pub contacts: Vec<Contact>,
    /// Standing instructions that hold there.
    pub instructions: Vec<Instruction>,
    /// Whether it is given up.
    pub given_up: bool,
    /// The last day on which a visit that is under way began or went on.
    pub going: Option<NaiveDate>,
    /// The last day on which a visit was set aside that has not gone on since.
    pub aside: Option<NaiveDate>,
}

/// One animal of the farm in hand.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct HerdLine {
    /// The animal.
    pub id: AnimalId,
    /// Her labels now.
    pub labels: Labels,
    /// Numbers she had before; they still find her.
    pub earlier: Vec<String>,
    /// Electronic numbers she wore before; they still find her.
    pub earlier_electronic: Vec<String>,
    /// In milk, dry, heifer.
    pub status: Option<Status>,
    /// How she left.
    pub left: Option<Leaving>,
    /// Her newest turn of the day or of the visit that goes on, and where it stands.
    pub turn: Option<LineTurn>,
}

/// A turn as a line of Today knows it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct LineTurn {
    /// The turn.
    pub id: TurnId,
    /// Where it stands.
    pub state: TurnState,
    /// Its day.
    pub on: NaiveDate,
}

/// The animal in the crush.
#[derive(Debug, Clone)]
pub struct Crush {
    /// The animal.
    pub animal: AnimalId,
    /// Her turn.
    pub turn: TurnId,
    /// All her records, so that every press folds them anew.
    pub records: Vec<Record>,
    /// What they add up to.
    pub history: History,
}

impl Crush {
    /// Folds the records of an animal with a turn under way.
    pub fn of(animal: AnimalId, turn: TurnId, records: Vec<Record>) -> Crush {
        let history = History::of(records.clone(), animal);
        Crush { animal, turn, records, history }
    }

    /// The turn under way; none if it was taken back.
    pub fn now(&self) -> Option<&Turn> {
        self.history.turn(self.turn)
    }

    /// Turns before this one, oldest first.
    pub fn earlier(&self) -> impl Iterator<Item = &Turn> {
        self.history.turns.iter().take_while(|turn| turn.id != self.turn)
    }

    /// The animal that the turn was begun with: one of those that stand for her, where several were joined.
    pub fn begun_as(&self) -> AnimalId {
        let begun = self.records.iter().find(|record| record.id == self.turn.0);
        match begun.and_then(Record::event) {
            Some(crate::domain::event::Event::TurnBegun { animal, .. }) => *animal,
            Some(_) | None => self.animal,
        }
    }

    /// The newest turn before this one.
    pub fn before(&self) -> Option<&Turn> {
        self.earlier().last()
    }
}

/// What was used last today: the default for the next one. What can hurt is never among them.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Used {
    /// Material of blocks.
    pub block: Option<BlockKind>,
    /// Colour of wraps.
    pub colour: Option<Colour>,
    /// Products of dressings, newest first.
    pub products: Vec<String>,
    /// Who takes wraps off, newest first.
    pub removers: Vec<String>,
    /// Days stated for medicines, newest first.
    pub stated: Vec<Stated>,
}

/// Light of the screen.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub enum Light {
    /// In a shed with lamps.
    #[default]
    Normal,
    /// Sun on the glass.
    Sun,
    /// Dark.
    Shed,
}

impl Light {
    /// The next of normal, sun, shed.
    pub fn next(self) -> Light {
        match self {
            Light::Normal => Light::Sun,
            Light::Sun => Light::Shed,
            Light::Shed => Light::Normal,
        }
    }
}

/// Why something was not done.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Refusal {
    /// No farm is chosen yet.
    NoFarm,
    /// No animal has this number; add adds her.
    Unknown(String),
    /// Nothing is typed or picked.
    NothingTyped,
    /// Means nothing here.
    NotHere,
    /// No foot is up.
    NoFoot,
    /// Something on the foot must be answered first.
    AnswerFirst,
    /// There is no partner claw to carry a block.
    NoPartner,
    /// Nothing is on this foot.
    NothingOn,
    /// She has lost that claw.
    ClawGone,
    /// No finding on this foot to repeat.
    NothingToRepeat,
    /// Nothing to take back.
    NothingToUndo,
    /// Nothing to put back.
    NothingToRedo,
    /// Lines are not settled.
    NotSettled(usize),
    /// It is already so: nothing new was written.
    AlreadySo,
    /// Feet with something on them were left out, and no foot was left.
    AllHaveSomething,
    /// What was typed states no days.
    Unstated(Unstated),
    /// The text is as long as one may be.
    NoMoreLetters,
    /// What was typed is not a number that fits.
    NotANumber(String),
    /// The choice is not on the list.
    NoSuchChoice,
    /// Only the newest turn of the day is reopened.
    NotReopened,
    /// No mark of last time waits for an answer.
    NoGhost,
    /// The book is thrown away at the end.
    NoBackups,
    /// Nothing here may have been entered twice.
    NoneTwice,
    /// Nothing was found in that turn.
    NothingFound,
    /// Several bear this number: the line must be picked.
    Shared(String),
    /// What was typed is no zone of the map.
    NoZone(String),
    /// What was typed is no number of days.
    NoDays(String),
    /// Paper is of a day gone by, and this is today.
    IsToday,
    /// That is of today, and paper is typed up.
    OnPaper,
    /// The walk: of this number no score was typed.
    NoScore(String),
    /// The walk: this is no score of the farm's scale.
    NotOnScale(String),
    /// The walk: whoever bore this number has left.
    HasLeft(String),
    /// No visit is under way.
    NoVisit,
    /// A matter of the farm that cannot be.
    Farm(of_farm::Refused),
    /// What was typed is no such day.
    NoDay(String, crate::domain::day::NoDay),
}

/// The keys of the last moments spell a number of this herd: go-on was forgotten before it. The next key, and only that,
/// may take them all back.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Spelled {
    /// The number.
    pub number: String,
    /// What those keys wrote.
    pub presses: Vec<crate::domain::ids::RecordId>,
}

/// The last word to the trimmer.
#[derive(Debug, Clone, PartialEq)]
pub enum Notice {
    /// This press is on disk.
    Saved {
        /// What it wrote.
        press: Vec<Record>,
        /// When.
        at: Moment,
    },
    /// Not done, and why.
    Refused(Refusal),
    /// Was that the next animal's number?
    Spelled(Spelled),
    /// In words of another room: a problem with the book or a keymap.
    Words(String),
    /// The disk is slow; keys wait for it.
    Saving,
    /// The disk did not take the press; it is held.
    NotSaved(String),
}

/// The session.
#[derive(Debug, Clone)]
pub struct Session {
    /// Where the trimmer is.
    pub mode: Mode,
    /// The day; of paper that is typed up, its day.
    pub today: NaiveDate,
    /// The day it really is, while paper of another is typed up.
    pub paper: Option<NaiveDate>,
    /// Farms, by name.
    pub farms: Vec<FarmLine>,
    /// The farm in hand.
    pub farm: Option<FarmLine>,
    /// The visits of the farm in hand, with the one under way, which begins with its first animal.
    pub visits: Visits,
    /// Animals of the farm in hand.
    pub herd: Vec<HerdLine>,
    /// Its list of the day.
    pub day: Listed,
    /// Who answers the telephone at a farm, as said this evening.
    pub answering: BTreeMap<FarmId, String>,
    /// Farms rung in this run: whether somebody answered.
    pub rung: BTreeSet<(FarmId, bool)>,
    /// Standing instructions of the farm in hand.
    pub instructions: Vec<Instruction>,
    /// The card of the farm in hand, while it is looked at.
    pub card: Option<Card>,
    /// All that is known of the animals of the farm in hand, by number, while its herd is looked at.
    pub animals: Vec<Her>,
    /// Herd lists that may be taken.
    pub lists: herd_list::Files,
    /// The herd list that is looked at.
    pub offered: Option<herd_list::Offered>,
    /// Open items of all farms.
    pub open: Vec<Open>,
    /// The scoring walk of the day, read when it is opened.
    pub walk: Walk,
    /// Animals of the farm in hand, farms and people that may be one; then what was joined.
    pub pairs: Vec<Pair>,
    /// The animal in the crush.
    pub crush: Option<Crush>,
    /// Days after that of the paper on which she was in the crush: what she had then is not known yet.
    pub later: Vec<NaiveDate>,
    /// What was found on this farm before today, by which pads are ordered: the same all day.
    pub likely: Counts,
    /// Used last today.
    pub used: Used,
    /// Presses of this tablet that undo can take back, oldest first.
    pub trail: Vec<undo::Press>,
    /// Rules.
    pub rules: Rules,
    /// Problems of the user's own files and of adopted rules: shown on Today as long as the program runs.
    pub faults: Vec<String>,
    /// What the practice says about itself.
    pub practice: Practice,
    /// How it stands with backups; none for a book that is thrown away.
    pub backup: Option<backup::Keeping>,
    /// Light.
    pub light: Light,
    /// Whether taps count.
    pub taps: bool,
    /// People who record.
    pub people: Vec<(PersonId, String)>,
    /// Who records.
    pub by: Option<PersonId>,
    /// Who recorded today, the newest first.
    pub recorded: Vec<PersonId>,
    /// What was tapped once and waits for the second tap.
    pub selected: Option<touch::Target>,
    /// Keys of a sequence begun.
    pub pending: Vec<Key>,
    /// The last word.
    pub notice: Option<Notice>,
    /// The last press that did not count, until one does.
    pub dropped: Option<Dropped>,
    /// Electronic numbers that nobody wears, put off until another visit.
    pub put_off: BTreeSet<String>,
}

/// A press that did not count. It is shown, or a worn key looks like a program that misses keys.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Dropped {
    /// The same key again, too soon for a finger, or held down.
    Again(Key),
    /// Right after a reading.
    Late(Key),
}

impl Session {
    /// A session with nothing open.
    pub fn new(today: NaiveDate, practice: Practice) -> Session {
        Session {
            mode: Mode::Farms { cursor: 0 },
            today,
            paper: None,
            farms: Vec::new(),
            farm: None,
            visits: Visits::default(),
            herd: Vec::new(),
            day: Listed::default(),
            answering: BTreeMap::new(),
            rung: BTreeSet::new(),
            instructions: Vec::new(),
            card: None,
            animals: Vec::new(),
            lists: herd_list::Files::default(),
            offered: None,
            open: Vec::new(),
            walk: Walk::default(),
            pairs: Vec::new(),
            crush: None,
            later: Vec::new(),
            likely: Counts::default(),
            used: Used::default(),
            trail: Vec::new(),
            rules: Rules::default(),
            faults: Vec::new(),
            practice,
            backup: None,
            light: Light::default(),
            taps: false,
            people: Vec::new(),
            by: None,
            recorded: Vec::new(),
            selected: None,
            pending: Vec::new(),
            notice: None,
            dropped: None,
            put_off: BTreeSet::new(),
        }
    }

    /// Takes in a press that is on disk. Never before.
    pub fn apply(&mut self, press: &[Record], at: Moment) {
        if let Some(crush) = &mut self.crush {
            let subjects = crush.history.animals.clone();
            let hers = press.iter().filter(|record| subjects.contains(&AnimalId(record.about)));
            crush.records.extend(hers.cloned());
            crush.history = History::of(crush.records.clone(), crush.animal);
        }
        for record in press {
            self.remember(record);
        }
        undo::remember(&mut self.trail, press);
        self.notice = Some(Notice::Saved { press: press.to_vec(), at });
    }

    fn remember(&mut self, record: &Record) {
        use crate::domain::event::{Event, PutDetail};
        use crate::domain::treatment::Put;
        let Some(event) = record.event() else { return };
        if let Event::VisitBegun { .. } = event {
            self.visits.now = Some(VisitId(record.id));
        }
        if let Event::VisitDescribed { visit, word: VisitWord::GoneOn } = event {
            self.visits.now = Some(*visit);
        }
        if let Event::FarmRung { farm, answered, .. } = event {
            self.rung.insert((*farm, *answered));
        }
        if let Event::PersonBegun { name } = event {
            self.people.push((PersonId(record.id), name.clone()));
            self.records_now(PersonId(record.id));
        }
        if let Event::PutOn { put: Put::Block { kind, .. }, .. } = event
            && *kind != BlockKind::NotTold
        {
            self.used.block = Some(*kind);
        }
        if let Event::PutOn { put: Put::Dressing { product, .. }, .. } = event {
            newest_first(&mut self.used.products, product);
        }
        if let Event::MedicineGiven { medicine, .. } = event
            && let Some(stated) = Stated::of(medicine)
        {
            self.used.stated.retain(|known| *known != stated);
            self.used.stated.insert(0, stated);
        }
        if let Event::PutDetailed { detail, .. } = event {
            match detail {
                PutDetail::Kind(kind) => self.used.block = Some(*kind),
                PutDetail::Colour(colour) => self.used.colour = Some(*colour),
                PutDetail::Product(product) => newest_first(&mut self.used.products, product),
                PutDetail::Remover(name) => newest_first(&mut self.used.removers, name),
                PutDetail::OffBy(_) => {}
            }
        }
    }

    /// Whoever that is records from now on.
    pub fn records_now(&mut self, person: PersonId) {
        self.recorded.retain(|known| *known != person);
        self.recorded.insert(0, person);
        self.by = Some(person);
    }

    /// Whoever recorded last today besides the one who does now.
    pub fn other_recorder(&self) -> Option<PersonId> {
        self.recorded.iter().copied().find(|person| Some(*person) != self.by)
    }

    /// The rules of the farm in hand.
    pub fn rule_set(&self) -> &RuleSet {
        self.farm.as_ref().map_or(&self.rules.practice, |farm| self.rules.of(farm.id))
    }

    /// The group in which unknown numbers are new, where that is switched on.
    pub fn newcomers(&self) -> Option<&str> {
        self.farm.as_ref().map(|farm| farm.new_animals.as_str()).filter(|group| !group.is_empty())
    }

    /// Whether the number is typed that the turn in the crush really belongs to.
    pub fn is_moving(&self) -> bool {
        self.crush.is_some() && matches!(self.mode.base(), Mode::Today { .. })
    }

    /// The turn under way.
    pub fn turn(&self) -> Option<(&Crush, &Turn)> {
        let crush = self.crush.as_ref()?;
        Some((crush, crush.now()?))
    }
}

fn newest_first(list: &mut Vec<String>, word: &str) {
    if word.is_empty() {
        return;
    }
    list.retain(|known| known != word);
    list.insert(0, word.to_owned());
}
