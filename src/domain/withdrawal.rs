//! Days that milk and meat are withheld after a medicine or a medicated dressing: what label or vet stated, counted from the
//! last use. The program knows no period of its own and invents none.

use super::event::Event;
use super::herd::MedicineUse;
use super::history::{History, Turn};
use super::ids::RecordId;
use super::treatment::Put;
use chrono::{Days, NaiveDate};

/// What was stated about one product.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Stated {
    /// The product, as the practice calls it.
    pub product: String,
    /// Days for milk, also when zero; none: nobody stated any.
    pub milk_days: Option<u16>,
    /// Days for meat.
    pub meat_days: Option<u16>,
    /// Who stated them: the label, or the vet by name.
    pub by: String,
}

/// Most days that can be stated.
pub const MOST_DAYS: u16 = 999;

/// Why a typed statement says nothing.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum Unstated {
    /// Neither milk nor meat is told.
    #[error("write it like: milk 2 meat 10 label")]
    NoDays,
    /// What follows milk or meat is no number of days or hours.
    #[error("write days as 2, hours as 36h, at most 999 days")]
    NotDays,
    /// Nobody is named.
    #[error("say who stated it: label, or the vet's name")]
    Nobody,
}

impl Stated {
    /// Reads `milk 2 meat 10 label`: days, or hours as `36h`, which count as whole days, the longer way; the words then
    /// keep the hours. What is left over says who stated them.
    pub fn read(product: &str, text: &str) -> Result<Stated, Unstated> {
        let mut stated = Stated { product: product.to_owned(), ..Stated::default() };
        let (mut by, mut hours) = (Vec::new(), Vec::new());
        let mut words = text.split_whitespace();
        while let Some(word) = words.next() {
            let field = match word.to_lowercase().as_str() {
                "milk" => &mut stated.milk_days,
                "meat" => &mut stated.meat_days,
                _ => {
                    by.push(word.to_owned());
                    continue;
                }
            };
            let told = words.next().unwrap_or_default();
            *field = Some(days(told).ok_or(Unstated::NotDays)?);
            hours.extend(told.ends_with(HOURS).then(|| format!("({} {told})", word.to_lowercase())));
        }
        if stated.milk_days.or(stated.meat_days).is_none() {
            return Err(Unstated::NoDays);
        }
        if by.is_empty() {
            return Err(Unstated::Nobody);
        }
        by.extend(hours);
        stated.by = by.join(" ");
        Ok(stated)
    }

    /// What was stated with a use; none where no days were.
    pub fn of(medicine: &MedicineUse) -> Option<Stated> {
        medicine.milk_days.or(medicine.meat_days)?;
        Some(Stated {
            product: medicine.product.clone(),
            milk_days: medicine.milk_days,
            meat_days: medicine.meat_days,
            by: medicine.stated_by.clone(),
        })
    }

    /// The use of today that these days belong to.
    pub fn used(self, on: NaiveDate) -> MedicineUse {
        MedicineUse {
            product: self.product,
            first: Some(on),
            last: Some(on),
            milk_days: self.milk_days,
            meat_days: self.meat_days,
            stated_by: self.by,
            ..MedicineUse::default()
        }
    }

    /// Whether a vet said so; else the label, or nobody who is named. Under a wrap or off label only the vet's words count.
    pub fn is_vets(&self) -> bool {
        let first = self.by.split_whitespace().next().unwrap_or_default();
        !first.is_empty() && !first.eq_ignore_ascii_case("label")
    }

    /// The last day on which anything is withheld.
    pub fn ends(&self, used: NaiveDate) -> Option<NaiveDate> {
        self.milk_days.max(self.meat_days).and_then(|days| after(used, days))
    }
}

/// The last day of so many days after a use.
pub fn after(used: NaiveDate, days: u16) -> Option<NaiveDate> {
    used.checked_add_days(Days::new(u64::from(days)))
}

/// How hours end.
const HOURS: [char; 2] = ['h', 'H'];

/// Whole days of a period, the longer way.
fn days(told: &str) -> Option<u16> {
    let days = match told.strip_suffix(HOURS) {
        Some(hours) => hours.parse::<u16>().ok()?.div_ceil(24),
        None => told.trim_end_matches(['d', 'D']).parse().ok()?,
    };
    (days <= MOST_DAYS).then_some(days)
}

/// One use of a medicine in a history.
#[derive(Debug, Clone, Copy)]
pub struct Use<'h> {
    /// The record that told it.
    pub of: RecordId,
    /// The last day of use.
    pub last: NaiveDate,
    /// The use.
    pub medicine: &'h MedicineUse,
    /// The turn it belongs to; none where it was told outside any.
    pub turn: Option<&'h Turn>,
}

impl<'h> Use<'h> {
    /// The dressing of the same turn and product.
    pub fn dressing(&self) -> Option<&'h Put> {
        let same = |put: &&Put| matches!(put, Put::Dressing { product, .. } if *product == self.medicine.product);
        self.turn?.puts.iter().map(|view| &view.put).find(same)
    }

    /// Whether its dressing lies under a wrap of the same turn.
    pub fn is_wrapped(&self) -> bool {
        let Some(foot) = self.dressing().and_then(Put::foot) else { return false };
        self.turn.is_some_and(|turn| wrapped(turn, foot))
    }
}

/// Whether a wrap was put round this foot in this turn.
pub fn wrapped(turn: &Turn, foot: super::anatomy::Foot) -> bool {
    turn.puts.iter().any(|view| matches!(view.put, Put::Wrap { .. }) && view.put.foot() == Some(foot))
}

/// Every use, in turns and outside them.
pub fn uses(history: &History) -> impl Iterator<Item = Use<'_>> {
    let in_turns = history.turns.iter().flat_map(|turn| {
        turn.medicines.iter().map(move |(of, medicine)| Use {
            of: *of,
            last: medicine.last.unwrap_or(turn.on),
            medicine,
            turn: Some(turn),
        })
    });
    let outside = history.outside.iter().filter_map(|told| {
        let Event::MedicineGiven { medicine, .. } = &told.event else { return None };
        Some(Use { of: told.id, last: medicine.last.unwrap_or(told.on), medicine, turn: None })
    });
    in_turns.chain(outside)
}

/// What counts of a use: the vet's later words about it where they state days, else what was stated with it; none where
/// nobody stated anything.
pub fn stated(history: &History, one: &Use) -> Option<Stated> {
    match answer(history, one.of) {
        Some(words) => Stated::read(&one.medicine.product, words).ok(),
        None => Stated::of(one.medicine),
    }
}

/// The vet's newest words about a record.
fn answer(history: &History, about: RecordId) -> Option<&str> {
    history.outside.iter().rev().find_map(|told| {
        let Event::VetAnswered { of, words } = &told.event else { return None };
        (*of == about).then_some(words.as_str())
    })
}
