//! What is found in a zone, likeliest first: as published until the book has counted enough, then as counted where that is
//! clear. A digit that was learned moves rarely: see `clearly`.

use super::event::Event;
use super::finding::{FINDINGS, Finding};
use super::history::standing::Standing;
use super::record::Record;
use chrono::NaiveDate;
use std::collections::BTreeMap;

/// What is likely in a zone before anything is counted.
#[derive(Debug, Clone, Copy)]
pub struct Row {
    /// Number of the zone.
    pub zone: u8,
    /// Findings, likeliest first.
    pub findings: &'static [Finding],
    /// Where that stands.
    pub source: &'static str,
}

const fn row(zone: u8, findings: &'static [Finding], source: &'static str) -> Row {
    Row { zone, findings, source }
}

/// Cows with it among 8,020 of whole herds: digital dermatitis 15, sole ulcer 6, white line disease 4, each other 1 to 2 in
/// a hundred. Read in the abstract only.
const SOLANO: &str = "Solano et al. 2016, J Dairy Sci 99:6828: 28,607 cows, trimmers' records";
/// Lesions sit where the poster shows them; how many is not said there.
const POSTER: &str = "places: lameness committee poster 2008; order: common practice";
const PRACTICE: &str = "common practice";

/// The one table, zone by zone.
#[rustfmt::skip]
pub const LIKELY: [Row; 13] = [
    row(0, &[Finding::IH, Finding::IP, Finding::ID, Finding::DD], PRACTICE),
    row(1, &[Finding::WL, Finding::SH, Finding::TU, Finding::TN], SOLANO),
    row(2, &[Finding::WL, Finding::SH], SOLANO),
    row(3, &[Finding::WL, Finding::SH], SOLANO),
    row(4, &[Finding::SU, Finding::SH, Finding::TS, Finding::DS], SOLANO),
    row(5, &[Finding::SH, Finding::TS, Finding::TU, Finding::DS, Finding::TN], POSTER),
    row(6, &[Finding::HHE, Finding::SH, Finding::BU, Finding::DS], POSTER),
    row(7, &[Finding::HF], POSTER),
    row(8, &[Finding::HF], POSTER),
    row(9, &[Finding::DD, Finding::IP, Finding::SW], SOLANO),
    row(10, &[Finding::DD, Finding::SW, Finding::ID], SOLANO),
    row(11, &[Finding::HFA, Finding::HFH], PRACTICE),
    row(12, &[Finding::HFA, Finding::HFH], PRACTICE),
];

/// Findings that a zone must hold before its order is looked at.
pub const ENOUGH: u32 = 30;

/// How often each finding was seen in each zone.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Counts(BTreeMap<(u8, Finding), u32>);

impl Counts {
    /// Adds what stands among the records of an animal, from before that day: what is found on the day itself moves no key
    /// on it.
    pub fn add(&mut self, records: Vec<Record>, day: NaiveDate) {
        for record in Standing::of(records).records().iter().filter(|record| record.on < day) {
            if let Some(Event::Found { place, what, .. }) = record.event()
                && let Some(zone) = place.zone()
            {
                self.count(zone.number(), *what, 1);
            }
        }
    }

    /// Adds so many of a finding in a zone, under the code that the pad offers there.
    pub fn count(&mut self, zone: u8, what: Finding, times: u32) {
        let listed = published(zone);
        let same = listed.iter().find(|one| **one == what);
        let group = || listed.iter().find(|one| one.group() == what.group());
        if let Some(one) = same.or_else(group) {
            *self.0.entry((zone, *one)).or_default() += times;
        }
    }

    fn of(&self, zone: u8, what: Finding) -> u32 {
        self.0.get(&(zone, what)).copied().unwrap_or(0)
    }

    /// The findings of a zone, likeliest first.
    pub fn order(&self, zone: u8) -> Vec<Finding> {
        let mut list = published(zone);
        let all: u32 = list.iter().map(|what| self.of(zone, *what)).sum();
        if all < ENOUGH {
            return list;
        }
        // Each goes up past those that it is clearly likelier than, one by one.
        for from in 1..list.len() {
            let mut at = from;
            while at > 0 && clearly(self.of(zone, list[at]), self.of(zone, list[at - 1])) {
                list.swap(at, at - 1);
                at -= 1;
            }
        }
        list
    }
}

/// Whether one is clearly likelier than the other: seen at least twice as often, and by more than three times what chance
/// makes of two that are equally likely, whose difference strays by the root of their sum.
fn clearly(one: u32, other: u32) -> bool {
    let (one, other) = (u64::from(one), u64::from(other));
    one >= 2 * other && one > other && (one - other).pow(2) > 9 * (one + other)
}

/// As published, then any other that the table of findings allows there. Subtypes of a listed group follow with the grade.
fn published(zone: u8) -> Vec<Finding> {
    let likely = LIKELY.iter().find(|row| row.zone == zone).map_or(&[][..], |row| row.findings);
    let others = FINDINGS
        .iter()
        .filter(|row| row.zones.contains(&zone))
        .map(|row| row.finding)
        .filter(|finding| !matches!(finding, Finding::OwnWords | Finding::ForeignBody | Finding::U))
        .filter(|finding| !likely.contains(finding) && !likely.contains(&finding.group()));
    likely.iter().copied().chain(others).collect()
}
