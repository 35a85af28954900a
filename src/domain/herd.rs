//! Farms and animals: labels, state, and the words kept about them.

use super::vocabulary::vocabulary;
use chrono::NaiveDate;

/// What an animal is called by. All text, never numbers: a working number is unique only inside a farm, a tag carries
/// letters and leading zeros, and none is derived from another.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Labels {
    /// Working number (flag tag, collar, freeze brand). Empty for an animal without one.
    pub number: String,
    /// Printed ear tag.
    pub tag: String,
    /// Electronic number, 15 digits.
    pub electronic: String,
    /// Name.
    pub name: String,
}

vocabulary! {
    /// Where an animal stands in the herd's year.
    Status, "status" {
        /// In milk.
        InMilk = 1 "in-milk",
        /// Dry: looked at from a distance, and missed.
        Dry = 2 "dry",
        /// Heifer.
        Heifer = 3 "heifer",
        /// Bull or steer.
        Male = 4 "male",
    }
}

/// Herd data of one animal; every field may be unknown.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Herd {
    /// Breed in words.
    pub breed: String,
    /// Group or pen in words.
    pub group: String,
    /// Day of birth.
    pub born: Option<NaiveDate>,
    /// Lactation number.
    pub lactation: Option<u8>,
    /// Day of last calving.
    pub calved: Option<NaiveDate>,
    /// Day dried off.
    pub dry_from: Option<NaiveDate>,
    /// Day due to calve.
    pub due_to_calve: Option<NaiveDate>,
    /// State.
    pub status: Option<Status>,
}

/// A due day nearer to her last calving than this was of that calving: a cow carries for some 283 days, so the next one
/// cannot be due so soon (from memory).
const SOONEST_AGAIN: i64 = 200;

impl Herd {
    /// Takes in newer words: what they do not tell stays as it was.
    pub fn hear(&mut self, told: &Herd) {
        fn newer<T: Clone>(field: &mut Option<T>, told: &Option<T>) {
            if told.is_some() {
                field.clone_from(told);
            }
        }
        fn newer_words(field: &mut String, told: &str) {
            if !told.is_empty() {
                told.clone_into(field);
            }
        }
        let Herd { breed, group, born, lactation, calved, dry_from, due_to_calve, status } = told;
        newer_words(&mut self.breed, breed);
        newer_words(&mut self.group, group);
        newer(&mut self.born, born);
        newer(&mut self.lactation, lactation);
        newer(&mut self.calved, calved);
        newer(&mut self.dry_from, dry_from);
        newer(&mut self.due_to_calve, due_to_calve);
        newer(&mut self.status, status);
    }

    /// Whether nothing is told.
    pub fn is_untold(&self) -> bool {
        *self == Herd::default()
    }

    /// What she is on that day: as it is told, or, where nothing is, dry or in milk by her days.
    pub fn is_what(&self, today: NaiveDate) -> Option<Status> {
        let by_days = || self.is_dry(today).then_some(Status::Dry);
        self.status.or_else(by_days).or_else(|| self.days_in_milk(today).map(|_| Status::InMilk))
    }

    /// Whether she is dry on that day: her state says so, or, where none is told, her days.
    pub fn is_dry(&self, today: NaiveDate) -> bool {
        match self.status {
            Some(Status::Dry) => true,
            Some(Status::InMilk | Status::Heifer | Status::Male) => false,
            None => self.dry_from.is_some_and(|dry| dry <= today && self.calved.is_none_or(|calved| calved < dry)),
        }
    }

    /// Days since she was dried off, of a dry one.
    pub fn days_dry(&self, today: NaiveDate) -> Option<i64> {
        let dry = self.dry_from.filter(|dry| *dry <= today && self.calved.is_none_or(|calved| calved < *dry))?;
        self.is_dry(today).then(|| (today - dry).num_days())
    }

    /// Days since she calved, of one in milk. None where she was dried off since: then her last calving was not told.
    pub fn days_in_milk(&self, today: NaiveDate) -> Option<i64> {
        let calved = self.calved.filter(|calved| *calved <= today)?;
        let milked = match self.status {
            Some(Status::InMilk) | None => self.dry_from.is_none_or(|dry| dry <= calved || dry > today),
            Some(Status::Dry | Status::Heifer | Status::Male) => false,
        };
        milked.then(|| (today - calved).num_days())
    }

    /// Days until she is due to calve; below zero where that day has passed and no calving was told since.
    pub fn days_to_calving(&self, today: NaiveDate) -> Option<i64> {
        let again = |due: &NaiveDate| self.calved.is_none_or(|calved| (*due - calved).num_days() >= SOONEST_AGAIN);
        self.due_to_calve.filter(again).map(|due| (due - today).num_days())
    }
}

vocabulary! {
    /// How an animal left.
    Leaving, "reason" {
        /// Gone, not told how.
        Gone = 1 "gone",
        /// Sold alive: what is still on becomes the new keeper's to know.
        Sold = 2 "sold",
        /// Died.
        Died = 3 "died",
        /// To slaughter.
        Slaughter = 4 "slaughter",
    }
}

vocabulary! {
    /// What is told about a farm.
    FarmFact, "farm fact" {
        /// Its name.
        Name = 1 "name",
        /// Its telephone number.
        Phone = 2 "phone",
        /// Whom to ask for.
        Contact = 3 "contact",
        /// Its vet.
        Vet = 4 "vet",
        /// The vet's telephone number.
        VetPhone = 5 "vet-phone",
        /// How many animals it has.
        HerdSize = 6 "herd-size",
        /// Which gait scale it uses, the scale's word.
        GaitScale = 7 "gait-scale",
        /// Its address.
        Address = 8 "address",
        /// Anything else.
        Note = 9 "note",
        /// What is done with numbers nobody knows: the group they are new in.
        NewAnimals = 10 "new-animals",
        /// The herd list that was taken last, and what it changed.
        HerdList = 11 "herd-list",
    }
}

vocabulary! {
    /// A change on the farm that may show in its feet.
    Change, "change" {
        /// Footbath begun or changed.
        Footbath = 1 "footbath",
        /// Mats or bedding.
        Mats = 2 "mats",
        /// Housed.
        Housed = 3 "housed",
        /// Turned out.
        TurnedOut = 4 "turned-out",
        /// Feed.
        Feed = 5 "feed",
        /// Anything else, in words.
        Other = 6 "other",
    }
}

vocabulary! {
    /// Why a visit is made.
    VisitWhy, "visit" {
        /// Planned.
        Routine = 1 "routine",
        /// Called out.
        CallOut = 2 "call-out",
    }
}

vocabulary! {
    /// What is told about a visit after it began; of the first two, and of the next two, the newest word counts.
    VisitWord, "visit" {
        /// It was planned.
        Routine = 1 "routine",
        /// It is a call-out.
        CallOut = 2 "call-out",
        /// The whole herd is to come through.
        WholeHerd = 3 "whole-herd",
        /// Animals were selected.
        Selected = 4 "selected",
        /// Knives and crush were washed and disinfected before the first animal: between farms, says AHDB, and organisms of digital
        /// dermatitis lived two hours on a blade.
        CleanedBefore = 5 "cleaned-before",
        /// The same after the last one.
        CleanedAfter = 6 "cleaned-after",
        /// It was set aside, and goes on.
        GoneOn = 7 "gone-on",
    }
}

impl VisitWord {
    /// Whether that word takes this one back.
    pub fn excludes(self, other: VisitWord) -> bool {
        let pairs = [(VisitWord::Routine, VisitWord::CallOut), (VisitWord::WholeHerd, VisitWord::Selected)];
        pairs.contains(&(self, other)) || pairs.contains(&(other, self))
    }
}

vocabulary! {
    /// Whom a standing instruction is for.
    Scope, "scope" {
        /// All feet.
        All = 1 "all",
        /// Front feet.
        Fronts = 2 "fronts",
        /// Hind feet.
        Hinds = 3 "hinds",
        /// Outer hind claws.
        OuterHind = 4 "outer-hind",
        /// Inner hind claws.
        InnerHind = 5 "inner-hind",
        /// Outer front claws.
        OuterFront = 6 "outer-front",
        /// Inner front claws.
        InnerFront = 7 "inner-front",
    }
}

vocabulary! {
    /// What a product is.
    ProductKind, "product" {
        /// Block.
        Block = 1 "block",
        /// Glue.
        Glue = 2 "glue",
        /// Wrap.
        Wrap = 3 "wrap",
        /// Dressing.
        Dressing = 4 "dressing",
        /// Medicine.
        Medicine = 5 "medicine",
    }
}

vocabulary! {
    /// What a price is for.
    Charge, "charge" {
        /// One animal trimmed.
        Animal = 1 "animal",
        /// One foot lifted.
        Foot = 2 "foot",
        /// One block.
        Block = 3 "block",
        /// One wrap.
        Wrap = 4 "wrap",
        /// One dressing.
        Dressing = 5 "dressing",
        /// One call-out.
        CallOut = 6 "call-out",
    }
}

/// Use of a medicine, with the columns that EU Reg. 2019/6 Art. 108 and the GB Veterinary Medicines Regulations 2013 ask
/// of a keeper. Text as it stands on label or prescription; the program invents no period.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct MedicineUse {
    /// Product.
    pub product: String,
    /// Registration number.
    pub registration: String,
    /// Batch.
    pub batch: String,
    /// Expiry.
    pub expiry: Option<NaiveDate>,
    /// First day of use.
    pub first: Option<NaiveDate>,
    /// Last day of use.
    pub last: Option<NaiveDate>,
    /// Number of doses.
    pub doses: Option<u16>,
    /// Quantity of one dose, a decimal number as text.
    pub quantity: String,
    /// Unit of one dose, UN/CEFACT code.
    pub unit: String,
    /// Route.
    pub route: String,
    /// Reason.
    pub reason: String,
    /// Given by.
    pub given_by: String,
    /// Prescriber.
    pub prescriber: String,
    /// How the prescriber is reached.
    pub prescriber_contact: String,
    /// Supplier.
    pub supplier: String,
    /// Supplier's address.
    pub supplier_address: String,
    /// Purchase document.
    pub document: String,
    /// Meat withdrawal in days as stated, also when zero.
    pub meat_days: Option<u16>,
    /// Milk withdrawal in days as stated, also when zero.
    pub milk_days: Option<u16>,
    /// Who stated the withdrawal: label, or the vet by name.
    pub stated_by: String,
}
