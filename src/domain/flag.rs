//! Flags: what a trimmer wants to be told before the first cut, each with the facts that raise it. One table; a flag says
//! what was recorded and is no diagnosis.

use super::anatomy::{Foot, Place};
use super::case::Case;
use super::finding::{Degree, Finding, Grade};
use super::follow_up::rules::RuleSet;
use super::hinds::{self, How};
use super::history::course::Said;
use super::history::open::OpenItem;
use super::history::{History, Verdict};
use super::sign_off;
use super::treatment::{Outcome, Put};
use super::vocabulary::{Vocabulary, vocabulary};
use chrono::NaiveDate;

vocabulary! {
    /// Kinds of flag, in the order in which they are told.
    Kind, "flag" {
        /// A block stands on a claw that is sore itself.
        BlockedSore = 1 "blocked-claw-sore",
        /// Worse at two looks running.
        WorseTwice = 2 "worse-twice",
        /// Still there at a look after the time in which such horn closes.
        HealedLate = 3 "healed-late",
        /// Third case at the same claw or zone.
        Third = 4 "third-case",
        /// Dermatitis back soon after it had healed.
        Back = 5 "dermatitis-back",
        /// The same on the opposite foot.
        Opposite = 6 "opposite-foot",
        /// Not trimmed for long.
        Overdue = 7 "overdue-trim",
    }
}

/// A flag and the facts that raise it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Flag {
    /// Kind.
    pub kind: Kind,
    /// Where.
    pub place: Place,
    /// What it is about; none for a block or a trim.
    pub what: Option<Finding>,
    /// Since when: the case's first day, the day a block was put on, the last trim.
    pub since: NaiveDate,
    /// Days, or for a third case their number.
    pub count: i64,
    /// Days, or the number, from which it is told.
    pub limit: i64,
}

/// What a row of the table looks at.
pub struct Seen<'h> {
    history: &'h History,
    /// Her cases that are trouble, oldest first.
    cases: Vec<Case>,
    rules: &'h RuleSet,
    today: NaiveDate,
}

/// One row: the kind, where it comes from, and how it is raised.
pub struct Row {
    /// The kind.
    pub kind: Kind,
    /// Where it comes from.
    pub source: &'static str,
    raised: fn(&Seen<'_>, &Row) -> Vec<Flag>,
}

/// Every flag.
#[rustfmt::skip]
pub const FLAGS: [Row; 7] = [
    Row { kind: Kind::BlockedSore, source: "a block goes on the sound partner claw: common practice", raised: blocked_sore },
    Row { kind: Kind::WorseTwice, source: "common practice", raised: worse_twice },
    Row { kind: Kind::HealedLate, source: "horn closed in 25, 33, 42 days, slight to severe: 74 cows", raised: healed_late },
    Row { kind: Kind::Third, source: "rule case.repeat: common practice", raised: third },
    Row { kind: Kind::Back, source: "rule case.back: common practice", raised: back },
    Row { kind: Kind::Opposite, source: "38 % of chronic cases were lame on the other side later: Thomas et al. 2016", raised: opposite },
    Row { kind: Kind::Overdue, source: "rule trim.overdue: common practice", raised: overdue },
];

/// Days in which the horn over an ulcer closed, slight, moderate, severe (74 cows); severe where no grade was given.
const CLOSES: [(Grade, i64); 3] = [(Grade::Light, 25), (Grade::Moderate, 33), (Grade::Severe, 42)];

/// The flags of an animal on a day, in the order of the table. None of an animal that left.
pub fn flags(history: &History, rules: &RuleSet, today: NaiveDate) -> Vec<Flag> {
    if history.left.is_some() {
        return Vec::new();
    }
    let cases = history.cases(rules.case.window).into_iter().filter(|case| is_trouble(case.what)).collect();
    let seen = Seen { history, cases, rules, today };
    FLAGS.iter().flat_map(|row| (row.raised)(&seen, row)).collect()
}

/// Whether a finding counts for flags: what lames or ulcerates. Worn heels, shapes and stains come and go at most turns, and
/// flagging them would teach to look past the flags (common practice).
pub fn is_trouble(what: Finding) -> bool {
    match what {
        Finding::DD
        | Finding::IP
        | Finding::SW
        | Finding::HFA
        | Finding::U
        | Finding::SU
        | Finding::BU
        | Finding::TU
        | Finding::TN
        | Finding::WL
        | Finding::WLF
        | Finding::WLA
        | Finding::ForeignBody => true,
        Finding::AC
        | Finding::CD
        | Finding::CC
        | Finding::SC
        | Finding::ID
        | Finding::IH
        | Finding::DS
        | Finding::TS
        | Finding::HHE
        | Finding::HF
        | Finding::HFH
        | Finding::HFV
        | Finding::SH
        | Finding::SHD
        | Finding::SHC
        | Finding::OwnWords => false,
    }
}

impl Row {
    fn about(&self, case: &Case, count: i64, limit: i64) -> Flag {
        Flag { kind: self.kind, place: case.place, what: Some(case.what), since: case.since, count, limit }
    }
}

impl Seen<'_> {
    fn age(&self, day: NaiveDate) -> i64 {
        (self.today - day).num_days()
    }

    /// Cases that are open, or were looked at within the time that cases count.
    fn recent(&self) -> impl Iterator<Item = &Case> {
        self.cases.iter().filter(|case| case.is_open() || self.age(case.last) <= i64::from(self.rules.case.repeat))
    }
}

fn blocked_sore(seen: &Seen<'_>, row: &Row) -> Vec<Flag> {
    let flag = |item: &OpenItem| match item {
        OpenItem::On { what: Put::Block { foot, side, .. }, since, .. } => {
            let sore = i64::from(sign_off::soreness(seen.history, *foot, *side));
            let place = Place::Claw(*foot, *side);
            let flag = Flag { kind: row.kind, place, what: None, since: *since, count: seen.age(*since), limit: 0 };
            (sore > 0).then_some(flag)
        }
        OpenItem::On { what: Put::Wrap { .. } | Put::Dressing { .. }, .. }
        | OpenItem::LookSoon { .. }
        | OpenItem::Recheck { .. }
        | OpenItem::SetByHand { .. }
        | OpenItem::Lame { .. }
        | OpenItem::Withheld { .. }
        | OpenItem::Vet { .. } => None,
    };
    seen.history.open.iter().filter_map(flag).collect()
}

/// The newest two looks of an open case both said worse.
fn worse_twice(seen: &Seen<'_>, row: &Row) -> Vec<Flag> {
    let worse = |case: &&Case| {
        let looks = case.steps.iter().rev().filter(|step| step.looked()).take(2);
        looks.filter(|step| step.said == Said::Answered(Verdict::Outcome(Outcome::Worse))).count() == 2
    };
    let open = seen.cases.iter().filter(|case| case.is_open());
    open.filter(worse).map(|case| row.about(case, seen.age(case.since), 0)).collect()
}

/// An ulcer that was still there at a look after the time in which such horn closes. Healed when nobody had looked in between is
/// not late: it may have healed long before.
fn healed_late(seen: &Seen<'_>, row: &Row) -> Vec<Flag> {
    let late = |case: &Case| {
        let limit = closes_in(case)?;
        let there = case.steps.iter().rfind(|step| step.looked() && !step.heals())?;
        let days = (there.on - case.since).num_days();
        (days > limit).then(|| row.about(case, days, limit))
    };
    seen.recent().filter_map(late).collect()
}

/// By the worst grade that was ever told of it.
fn closes_in(case: &Case) -> Option<i64> {
    if !matches!(case.what, Finding::SU | Finding::BU | Finding::U) {
        return None;
    }
    let worst = match case.worst() {
        Degree::Grade(grade) => grade,
        Degree::NotGiven | Degree::Stage(_) => Grade::Severe,
    };
    CLOSES.iter().find(|(grade, _)| *grade == worst).map(|(_, days)| *days)
}

/// Where a case counts together with others: its claw, for skin its zone.
fn spot(place: Place) -> Place {
    match place {
        Place::Horn(foot, side, _) | Place::Claw(foot, side) => Place::Claw(foot, side),
        Place::Animal | Place::Above(_) | Place::Foot(_) | Place::Skin(_, _) | Place::Dewclaw(_, _) => place,
    }
}

fn third(seen: &Seen<'_>, row: &Row) -> Vec<Flag> {
    const THIRD: usize = 3;
    let within = |case: &&Case| seen.age(case.since) <= i64::from(seen.rules.case.repeat);
    let cases: Vec<&Case> = seen.cases.iter().filter(within).collect();
    let mut spots: Vec<Place> = cases.iter().map(|case| spot(case.place)).collect();
    spots.sort();
    spots.dedup();
    let flag = |place: Place| {
        let here: Vec<&&Case> = cases.iter().filter(|case| spot(case.place) == place).collect();
        let what = here.last().map(|case| case.what);
        (here.len() >= THIRD).then(|| Flag {
            kind: row.kind,
            place,
            what,
            since: here[0].since,
            count: here.len() as i64,
            limit: THIRD as i64,
        })
    };
    spots.into_iter().filter_map(flag).collect()
}

/// Open dermatitis on a foot where one had healed not long before it began.
fn back(seen: &Seen<'_>, row: &Row) -> Vec<Flag> {
    let limit = i64::from(seen.rules.case.back);
    let dermatitis = || seen.cases.iter().filter(|case| case.what == Finding::DD);
    let flag = |case: &Case| {
        let healed = dermatitis().filter(|other| other.place.foot() == case.place.foot());
        let days = healed.filter_map(Case::healed).map(|day| (case.since - day).num_days());
        // Healed and found again on one day is a stage corrected, not a return.
        days.filter(|days| (1..=limit).contains(days)).min().map(|days| row.about(case, days, limit))
    };
    dermatitis().filter(|case| case.is_open()).filter_map(flag).collect()
}

/// Open on both feet of a pair: told once, at the foot where it came later.
fn opposite(seen: &Seen<'_>, row: &Row) -> Vec<Flag> {
    let open: Vec<&Case> = seen.cases.iter().filter(|case| case.is_open()).collect();
    let flag = |(at, case): (usize, &&Case)| {
        let across = case.place.foot().map(Foot::across);
        let like = |other: &&&Case| other.place.foot() == across && other.what.group() == case.what.group();
        open[..at].iter().find(like).map(|_| row.about(case, seen.age(case.since), 0))
    };
    open.iter().enumerate().filter_map(flag).collect()
}

/// Of the hind feet the one that was not trimmed for longer: one foot that was called out for says nothing of the other. A look at
/// which nothing was cut is no trim. Where one of them was never trimmed here, nobody knows when it was, and any trim counts.
fn overdue(seen: &Seen<'_>, row: &Row) -> Vec<Flag> {
    let hinds: Vec<(Foot, Option<NaiveDate>)> = hinds::days(seen.history, How::Trimmed).collect();
    let any = || Foot::ALL.iter().filter_map(|foot| hinds::last(seen.history, *foot, How::Trimmed)).max();
    let both = hinds.iter().map(|(_, day)| *day).min().flatten();
    let Some(last) = both.or_else(any) else { return Vec::new() };
    let behind = hinds.iter().filter(|(_, day)| *day == Some(last)).map(|(foot, _)| Place::Foot(*foot));
    let alone = behind.clone().next().filter(|_| both.is_some() && behind.count() < hinds.len());
    let place = alone.unwrap_or(Place::Animal);
    let (days, limit) = (seen.age(last), i64::from(seen.rules.overdue));
    let flag = Flag { kind: row.kind, place, what: None, since: last, count: days, limit };
    if days > limit { vec![flag] } else { Vec::new() }
}
