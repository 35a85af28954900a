//! What is found in a zone, likeliest first: as published, then as counted where that is clear.

use crate::support::cow::{Cow, SOLE, after};
use crushbook::domain::anatomy::Zone;
use crushbook::domain::finding::{Degree, FINDINGS, Finding};
use crushbook::domain::likely::{Counts, ENOUGH, LIKELY};
use std::collections::BTreeSet;

fn counts(zone: u8, seen: &[(Finding, u32)]) -> Counts {
    let mut counts = Counts::default();
    seen.iter().for_each(|(what, times)| counts.count(zone, *what, *times));
    counts
}

#[test]
fn every_zone_has_its_row_with_a_source_and_nothing_impossible() {
    for (number, row) in (0..).zip(LIKELY) {
        assert_eq!(row.zone, number);
        assert!(!row.source.is_empty());
        for what in row.findings {
            assert!(what.row().zones.contains(&number), "{what:?} in zone {number}");
        }
    }
}

/// Solano et al. 2016, whole herds: digital dermatitis in 15, sole ulcer in 6, white line disease in 4, any other in 1 to 2 of
/// a hundred cows. So each of the three is the first where it occurs, but in the cleft: there it is common practice.
#[test]
fn with_nothing_counted_the_published_order_stands() {
    let first = |zone: u8| Counts::default().order(zone)[0];
    for (zone, what) in
        [(1, Finding::WL), (2, Finding::WL), (3, Finding::WL), (4, Finding::SU), (9, Finding::DD), (10, Finding::DD)]
    {
        assert_eq!(first(zone), what, "zone {zone}");
    }
}

#[test]
fn whatever_is_counted_a_zone_offers_the_same_findings() {
    for zone in Zone::all().map(Zone::number) {
        let all = |counts: &Counts| counts.order(zone).into_iter().collect::<BTreeSet<Finding>>();
        let published = all(&Counts::default());
        for row in FINDINGS.iter().filter(|row| row.zones.contains(&zone)) {
            let counted = counts(zone, &[(row.finding, 10_000)]);
            assert_eq!(all(&counted), published, "zone {zone}, {:?}", row.finding);
            // What the zone can hold is offered, itself or its group, but for what is told with words.
            let words = matches!(row.finding, Finding::OwnWords | Finding::ForeignBody | Finding::U);
            let there = published.iter().any(|what| what.group() == row.finding.group());
            assert!(words || there, "zone {zone}, {:?}", row.finding);
        }
    }
}

#[test]
fn a_key_moves_only_for_what_is_clearly_likelier() {
    let order = |seen: &[(Finding, u32)]| counts(4, seen).order(4);
    let published = [Finding::SU, Finding::SH, Finding::TS, Finding::DS];
    // Too few in all: 29 of the 30.
    assert_eq!(order(&[(Finding::SH, ENOUGH - 1)]), published);
    assert_eq!(order(&[(Finding::SH, ENOUGH)])[..2], [Finding::SH, Finding::SU]);
    // Less than twice as many.
    assert_eq!(order(&[(Finding::SU, 501), (Finding::SH, 1000)]), published);
    // Twice as many, but 20 and 10 differ by less than three times the root of 30, which is 16.4.
    assert_eq!(order(&[(Finding::SU, 10), (Finding::SH, 20)]), published);
    // 60 and 20 differ by 40; three times the root of 80 is 26.8.
    assert_eq!(order(&[(Finding::SU, 20), (Finding::SH, 60)])[..2], [Finding::SH, Finding::SU]);
    // The last goes up past those only that it is clear of.
    assert_eq!(order(&[(Finding::SU, 100), (Finding::DS, 90)]), [Finding::SU, Finding::DS, Finding::SH, Finding::TS]);
}

#[test]
fn subtypes_count_for_the_key_that_offers_them() {
    let counted = counts(4, &[(Finding::SHC, 30), (Finding::SHD, 30), (Finding::SU, 5)]);
    assert_eq!(counted.order(4)[0], Finding::SH);
}

#[test]
fn what_is_found_on_the_day_itself_moves_no_key_on_it() {
    let mut cow = Cow::new();
    for _ in 0..40 {
        cow.find(SOLE, Finding::SH, Degree::NotGiven);
        cow.again(7);
    }
    let records = || cow.tablet.seen.clone();
    let first = |day| {
        let mut counts = Counts::default();
        counts.add(records(), day);
        counts.order(4)[0]
    };
    assert_eq!(first(after(0)), Finding::SU);
    assert_eq!(first(after(400)), Finding::SH);
}
