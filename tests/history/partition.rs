//! Cases partition findings: each that stands is in exactly one, whatever the rule says, and no answer lands on another
//! animal. Where a place may go unseen is asked of the rule when the history is read.

use super::any_order::{play, steps};
use crate::support::cow::{Cow, HEEL, SOLE, after, grade, stage};
use crushbook::domain::case::{Case, Change, Fate};
use crushbook::domain::event::{Detail, Event};
use crushbook::domain::finding::{Degree, Finding, Grade, Stage};
use crushbook::domain::follow_up::rules::Rules;
use crushbook::domain::history::History;
use crushbook::domain::history::open::OpenItem;
use crushbook::domain::ids::{CaseId, RecordId};
use crushbook::domain::treatment::Outcome;
use proptest::prelude::{any, prop_assert, prop_assert_eq, proptest};

fn findings(case: &Case) -> impl Iterator<Item = RecordId> {
    case.steps.iter().filter(|step| step.is_finding()).map(|step| step.id)
}

proptest! {
    #[test]
    fn each_standing_finding_is_in_exactly_one_case(steps in steps(), window in 0_u16..30) {
        let (records, animals) = play(&steps);
        for animal in animals {
            let history = History::of(records.clone(), animal);
            let mut standing: Vec<RecordId> =
                history.turns.iter().flat_map(|turn| &turn.found).map(|found| found.id).collect();
            let cases = history.cases(window);
            let mut told: Vec<RecordId> = cases.iter().flat_map(findings).collect();
            standing.sort();
            told.sort();
            prop_assert_eq!(told, standing);
            for case in &cases {
                prop_assert_eq!(case.id.0, case.steps[0].id, "named by its first finding");
                prop_assert!(case.since <= case.last);
            }
        }
    }

    #[test]
    fn an_answer_stands_with_the_animal_whose_finding_it_names(steps in steps(), window in 0_u16..30) {
        let (records, animals) = play(&steps);
        let named = |id: RecordId| {
            let record = records.iter().find(|record| record.id == id)?;
            if let Some(Event::Answered { case, .. }) = record.event() { Some(case.0) } else { None }
        };
        for animal in animals {
            let history = History::of(records.clone(), animal);
            let hers: Vec<RecordId> =
                history.turns.iter().flat_map(|turn| &turn.found).map(|found| found.id).collect();
            let answers = history.turns.iter().flat_map(|turn| &turn.answers).map(|answer| answer.id);
            // An answer that was corrected into another fact names nothing more.
            for case in answers.filter_map(named) {
                prop_assert!(hers.contains(&case), "{case:?} is not among {hers:?}");
            }
            let in_cases = history.cases(window).iter().flat_map(|case| case.steps.clone()).filter(|step| !step.is_finding()).count();
            let in_turns: usize = history.turns.iter().map(|turn| turn.answers.len()).sum();
            prop_assert_eq!(in_cases, in_turns);
        }
    }

    #[test]
    fn the_facts_on_the_list_tell_of_the_newest_case_whatever_the_rule(steps in steps(), window in 0_u16..30) {
        let (records, animals) = play(&steps);
        for animal in animals {
            let history = History::of(records.clone(), animal);
            for item in &history.open {
                if let OpenItem::Recheck { case, told, last, .. } = item {
                    let now = history.case_now(*case, window).expect("a case");
                    let state = told.within(window);
                    prop_assert_eq!((state.what.group(), state.degree), (now.what.group(), now.degree));
                    prop_assert_eq!((state.infected, state.deep, *last), (now.infected, now.deep, now.last));
                    prop_assert!(now.is_open());
                }
            }
        }
    }

    #[test]
    fn a_longer_window_never_makes_more_cases(steps in steps(), window in 0_u16..30, more in any::<u8>()) {
        let (records, animals) = play(&steps);
        for animal in animals {
            let history = History::of(records.clone(), animal);
            prop_assert!(history.cases(window + u16::from(more)).len() <= history.cases(window).len());
        }
    }
}

/// The default of the rule, 35 days: Thomas et al. 2015 looked again on day 35.
fn window() -> u16 {
    let rules = Rules::default();
    assert_eq!(rules.window(None), 35);
    rules.window(None)
}

#[test]
fn found_anew_after_more_days_unseen_than_the_rule_says_is_another_case() {
    for (days, expected) in [(34, 1), (35, 1), (36, 2)] {
        let mut cow = Cow::new();
        let first = cow.ulcer();
        cow.again(days);
        let second = cow.ulcer();
        let cases = cow.cases(window());
        assert_eq!(cases.len(), expected, "{days} days");
        if expected == 2 {
            assert_eq!((cases[0].id, cases[0].anew), (first, Some(second)));
            assert_eq!((cases[0].unseen, cases[1].unseen), (None, Some(36)));
            assert_eq!(cases[0].fate(window(), after(days)), Fate::Lost);
        }
        assert_eq!(cases.last().expect("one").fate(window(), after(days)), Fate::Open);
    }
}

#[test]
fn another_rule_tells_cases_apart_otherwise_and_touches_no_record() {
    let mut cow = Cow::new();
    cow.ulcer();
    cow.again(40);
    cow.ulcer();
    let before = cow.tablet.seen.clone();
    assert_eq!([10, 39, 40, 60].map(|window| cow.cases(window).len()), [2, 2, 1, 1]);
    assert_eq!(cow.tablet.seen, before);
}

#[test]
fn looked_at_in_between_it_is_one_case_however_long_it_takes() {
    let mut cow = Cow::new();
    let case = cow.ulcer();
    for days in [30, 60, 90] {
        cow.again(days);
        cow.answer(case, Outcome::Same);
    }
    cow.again(120);
    cow.ulcer();
    let cases = cow.cases(window());
    assert_eq!(cases.len(), 1);
    assert_eq!((cases[0].since, cases[0].last), (after(0), after(120)));
    // Not looked at is no look: from day 120 it is 40 days.
    cow.again(140);
    cow.answer(case, Outcome::NotLooked);
    cow.again(160);
    cow.ulcer();
    assert_eq!(cow.cases(window()).len(), 2);
}

#[test]
fn an_answer_after_long_is_still_about_the_same_case() {
    let mut cow = Cow::new();
    let case = cow.ulcer();
    cow.again(90);
    cow.answer(case, Outcome::Same);
    let cases = cow.cases(window());
    assert_eq!(cases.len(), 1, "somebody looked and said it is the same");
    assert_eq!(cases[0].fate(window(), after(90)), Fate::Open);
    assert_eq!(cases[0].fate(window(), after(126)), Fate::Lost, "nobody has looked for 36 days");
}

#[test]
fn what_was_said_before_a_long_stretch_is_of_the_other_case() {
    let mut cow = Cow::new();
    let first = cow.find(SOLE, Finding::SU, grade(Grade::Severe));
    cow.tell(first, Detail::Deep(true));
    cow.again(20);
    cow.ulcer();
    let case = cow.history().case_now(first, window()).expect("a case");
    assert_eq!((case.degree, case.deep), (grade(Grade::Severe), true), "not said again, so it holds");
    cow.again(60);
    cow.ulcer();
    let case = cow.history().case_now(first, window()).expect("a case");
    assert_eq!((case.degree, case.deep), (Degree::NotGiven, false), "never a silent default");
}

#[test]
fn a_mark_of_dermatitis_is_answered_by_any_stage_and_m0_heals() {
    for (said, healed) in [
        (Stage::M0, true),
        (Stage::M1, false),
        (Stage::M2, false),
        (Stage::M3, false),
        (Stage::M4, false),
        (Stage::M41, false),
    ] {
        let mut cow = Cow::new();
        let case = cow.find(HEEL, Finding::DD, stage(Stage::M2));
        cow.again(14);
        cow.stage(case, said);
        let cases = cow.cases(window());
        assert_eq!((cases.len(), cases[0].degree), (1, stage(said)));
        assert_eq!(cases[0].fate(window(), after(14)), if healed { Fate::Healed(after(14)) } else { Fate::Open });
    }
    // Found to be M0 says the same as answered M0.
    let mut cow = Cow::new();
    cow.find(HEEL, Finding::DD, stage(Stage::M2));
    cow.again(14);
    cow.find(HEEL, Finding::DD, stage(Stage::M0));
    let cases = cow.cases(window());
    assert_eq!((cases.len(), cases[0].healed()), (1, Some(after(14))));
    assert!(cow.history().open.is_empty());
}

#[test]
fn length_first_answer_and_end_are_told_of_a_case() {
    let mut cow = Cow::new();
    let case = cow.find(SOLE, Finding::SU, grade(Grade::Moderate));
    cow.again(14);
    cow.answer(case, Outcome::NotLooked);
    cow.again(28);
    cow.answer(case, Outcome::Better);
    cow.again(42);
    let healed = cow.answer(case, Outcome::Healed);
    let cases = cow.cases(window());
    assert_eq!(cases[0].first_answer().map(|step| step.on), Some(after(28)), "not looked at is no answer");
    assert_eq!(cases[0].fate(window(), after(60)), Fate::Healed(after(42)));
    // Taken back, the case is open again.
    let press = cow.tablet.seen.iter().find(|record| record.id == healed).expect("it is there").press_id();
    cow.write(Event::Undone { press });
    assert_eq!(cow.cases(window())[0].fate(window(), after(60)), Fate::Open);
}

#[test]
fn what_changed_since_an_earlier_turn() {
    let mut cow = Cow::new();
    let first = cow.turn;
    let ulcer = cow.find(SOLE, Finding::SU, grade(Grade::Light));
    let heel = cow.find(HEEL, Finding::DD, stage(Stage::M2));
    let partner = cow.find(SOLE.at_partner().expect("a claw"), Finding::SU, grade(Grade::Light));
    let second = cow.again(14);
    cow.answer(ulcer, Outcome::Worse);
    cow.stage(heel, Stage::M4);
    cow.answer(partner, Outcome::Healed);
    cow.again(28);
    cow.find(SOLE.at_foot(crushbook::domain::anatomy::Foot::RightHind), Finding::SU, Degree::NotGiven);
    cow.stage(heel, Stage::M41);
    let told = |since| -> Vec<(Change, CaseId)> {
        cow.history().changes(since, window()).into_iter().map(|one| (one.change, one.case.id)).collect()
    };
    let new = cow.cases(window()).last().expect("the newest").id;
    // From M2 to M4.1: still active, but no large open ulcer.
    assert_eq!(
        told(first),
        [(Change::Worse, ulcer), (Change::New, new), (Change::Better, heel), (Change::Healed, partner)]
    );
    // From M4 to M4.1: active again. The ulcer was not looked at since; the partner had healed by then.
    assert_eq!(told(second), [(Change::Worse, heel), (Change::New, new), (Change::NotSeen, ulcer)]);
}
