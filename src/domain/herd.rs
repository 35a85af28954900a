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
