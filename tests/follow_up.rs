//! When an open item is due: each day of the tables of trade.md sections 5 and 6, on the edge and one past it.

use crate::support::tablet::day;
use chrono::{Days, NaiveDate};
use crushbook::domain::anatomy::{Foot, Place, Side, Skin};
use crushbook::domain::finding::{Degree, Finding, Grade, Stage};
use crushbook::domain::follow_up::list::{Unseen, list, loud};
use crushbook::domain::follow_up::review;
use crushbook::domain::follow_up::rules::{RULES, RuleSet, Rules};
use crushbook::domain::follow_up::{Due, Urgency, What, due};
use crushbook::domain::herd::{Labels, Leaving, Scope, Status};
use crushbook::domain::history::course::{Carried, State};
use crushbook::domain::history::open::{Knowing, Open, OpenItem};
use crushbook::domain::ids::{AnimalId, CaseId, FarmId, PutId, RecordId};
use crushbook::domain::instruction::Instruction;
use crushbook::domain::treatment::{BlockKind, Gait, GaitScale, Milking, OffBy, Put, Sign};

const ID: RecordId = RecordId { series: 1, seq: 1 };

/// A finding as it was told when it was last looked at.
fn recheck(place: Place, state: State, last: NaiveDate) -> OpenItem {
    OpenItem::Recheck { case: CaseId(ID), place, told: Carried::said(state), last }
}

fn plain(what: Finding, degree: Degree) -> State {
    State { what, degree, infected: false, deep: false }
}

fn open(items: Vec<OpenItem>) -> Open {
    Open {
        animal: AnimalId(ID),
        farm: FarmId(ID),
        labels: Labels::default(),
        status: Some(Status::InMilk),
        left: None,
        items,
    }
}

fn on(what: Put) -> OpenItem {
    OpenItem::On {
        put: PutId(ID),
        what,
        since: day(1),
        off_by: None,
        remover: String::new(),
        seen_on: None,
        knowing: Knowing::NotHeard,
        told: None,
        trouble: None,
    }
}

fn wrap() -> OpenItem {
    on(Put::Wrap { over: Place::Skin(Foot::LeftHind, Skin::Heel), colour: None })
}

fn block(kind: BlockKind) -> OpenItem {
    on(Put::Block { foot: Foot::LeftHind, side: Side::Inner, kind })
}

fn after(days: u64) -> NaiveDate {
    day(1) + Days::new(days)
}

fn at(item: &OpenItem, days: u64) -> Due {
    due(&open(vec![]), item, &Rules::default(), after(days)).expect("something is due")
}

#[test]
fn a_wrap_is_due_at_3_late_after_5_urgent_after_7() {
    // trade.md section 5: off within 3 days, late after 5, urgent after 7.
    for (days, urgency) in [
        (2, Urgency::Coming),
        (3, Urgency::Due),
        (5, Urgency::Due),
        (6, Urgency::Late),
        (7, Urgency::Late),
        (8, Urgency::Urgent),
    ] {
        assert_eq!(at(&wrap(), days), Due { what: What::WrapOff, day: after(3), urgency }, "{days} days on");
    }
}

#[test]
fn a_promised_day_moves_lateness_with_it() {
    let mut item = wrap();
    if let OpenItem::On { off_by, .. } = &mut item {
        *off_by = Some(OffBy { day: after(2), milking: Milking::Evening });
    }
    for (days, urgency) in
        [(1, Urgency::Coming), (2, Urgency::Due), (4, Urgency::Due), (5, Urgency::Late), (7, Urgency::Urgent)]
    {
        assert_eq!(at(&item, days).urgency, urgency, "{days} days on");
    }
}

#[test]
fn blocks_by_kind() {
    // trade.md section 5. Look 14 (common practice), recheck 28 (AHDB), off by 42, urgent after 56; foam look 14, off by
    // 21 (German trial); shoe recheck 28, off 42 (Bell / AHDB 2021).
    for (kind, days, what, urgency) in [
        (BlockKind::Wood, 13, What::BlockLook, Urgency::Coming),
        (BlockKind::Wood, 14, What::BlockLook, Urgency::Due),
        (BlockKind::Rubber, 28, What::BlockLook, Urgency::Due),
        (BlockKind::Rubber, 29, What::BlockLook, Urgency::Late),
        (BlockKind::Plastic, 42, What::BlockOff, Urgency::Due),
        (BlockKind::Plastic, 43, What::BlockOff, Urgency::Late),
        (BlockKind::Wood, 56, What::BlockOff, Urgency::Late),
        (BlockKind::Wood, 57, What::BlockOff, Urgency::Urgent),
        (BlockKind::Foam, 14, What::BlockLook, Urgency::Due),
        (BlockKind::Foam, 21, What::BlockOff, Urgency::Due),
        (BlockKind::Shoe, 27, What::BlockLook, Urgency::Coming),
        (BlockKind::Shoe, 28, What::BlockLook, Urgency::Due),
        (BlockKind::Shoe, 42, What::BlockOff, Urgency::Due),
    ] {
        let mut item = block(kind);
        if let OpenItem::On { seen_on, .. } = &mut item
            && days > 35
        {
            *seen_on = Some(after(28));
        }
        let due = at(&item, days);
        assert_eq!((due.what, due.urgency), (what, urgency), "{kind:?} {days} days on");
    }
}

#[test]
fn a_block_seen_on_is_looked_at_again_at_the_next_step() {
    let mut item = block(BlockKind::Wood);
    if let OpenItem::On { seen_on, .. } = &mut item {
        *seen_on = Some(after(14));
    }
    assert_eq!(at(&item, 15), Due { what: What::BlockLook, day: after(28), urgency: Urgency::Coming });
}

#[test]
fn a_block_nobody_looked_at_is_late_before_it_must_be_off() {
    let due = at(&block(BlockKind::Wood), 42);
    assert_eq!((due.what, due.urgency), (What::BlockOff, Urgency::Late));
}

#[test]
fn told_bare_is_never_loud_and_told_off_still_is() {
    for (knowing, what, urgency) in [
        (Knowing::Asked, What::WrapOff, Urgency::Urgent),
        (Knowing::StillOn, What::WrapOff, Urgency::Urgent),
        (Knowing::ToldOff, What::RingLook, Urgency::Urgent),
        (Knowing::ToldBare, What::RingLook, Urgency::Due),
    ] {
        let mut item = wrap();
        if let OpenItem::On { knowing: known, .. } = &mut item {
            *known = knowing;
        }
        let due = at(&item, 30);
        assert_eq!((due.what, due.urgency), (what, urgency), "{knowing:?}");
    }
}

#[test]
fn rechecks_by_finding() {
    // trade.md section 6.
    let grade = Degree::Grade;
    for (what, degree, infected, deep, days) in [
        (Finding::SU, Degree::NotGiven, false, false, Some(28)),
        (Finding::SU, grade(Grade::Severe), true, false, Some(7)),
        (Finding::BU, Degree::NotGiven, false, true, Some(7)),
        (Finding::TU, Degree::NotGiven, false, false, Some(10)),
        (Finding::WLA, grade(Grade::Light), false, false, Some(14)),
        (Finding::WLF, grade(Grade::Light), false, false, None),
        (Finding::WLF, grade(Grade::Moderate), false, false, Some(28)),
        (Finding::HFA, grade(Grade::Severe), false, true, Some(7)),
        (Finding::HFA, grade(Grade::Light), false, false, None),
        (Finding::SW, Degree::NotGiven, false, false, Some(7)),
        (Finding::WLF, grade(Grade::Light), true, false, Some(7)),
        (Finding::TS, Degree::NotGiven, false, false, Some(28)),
        (Finding::DD, Degree::Stage(Stage::M1), false, false, Some(7)),
        (Finding::DD, Degree::Stage(Stage::M2), false, false, Some(7)),
        (Finding::DD, Degree::Stage(Stage::M3), false, false, None),
        (Finding::DD, Degree::Stage(Stage::M4), false, false, None),
        (Finding::DD, Degree::Stage(Stage::M41), false, false, Some(7)),
        (Finding::IP, Degree::NotGiven, false, false, Some(3)),
        (Finding::HHE, grade(Grade::Severe), false, false, None),
    ] {
        let place = Place::Foot(Foot::LeftHind);
        let item = recheck(place, State { what, degree, infected, deep }, day(1));
        let day = due(&open(vec![]), &item, &Rules::default(), day(1)).map(|due| due.day);
        assert_eq!(day, days.map(after), "{what:?} {degree:?}");
    }
}

#[test]
fn a_light_white_line_fissure_is_looked_at_again_where_she_is_lame() {
    // trade.md section 6: WLF 28, only moderate or worse, or lame.
    let place = Place::Claw(Foot::LeftHind, Side::Outer);
    let (what, degree) = (Finding::WLF, Degree::Grade(Grade::Light));
    let item = recheck(place, plain(what, degree), day(1));
    let gait = Gait { scale: GaitScale::ZeroToThree, score: 2 };
    let lame =
        OpenItem::Lame { of: ID, since: day(1), last: day(1), gait, severe_since: None, looked: true, sound: false };
    let on = |items| due(&open(items), &item, &Rules::default(), day(1)).map(|due| due.day);
    assert_eq!(on(vec![]), None);
    assert_eq!(on(vec![lame]), Some(after(28)));
}

#[test]
fn toe_necrosis_and_advice_are_the_vets_at_once() {
    let place = Place::Claw(Foot::LeftHind, Side::Outer);
    let necrosis = recheck(place, plain(Finding::TN, Degree::NotGiven), day(1));
    let advised = OpenItem::Vet { of: ID, place, sign: Sign::Tract, since: day(1), words: String::new() };
    for item in [necrosis, advised] {
        assert_eq!(at(&item, 0), Due { what: What::Vet, day: day(1), urgency: Urgency::Urgent });
    }
}

#[test]
fn a_later_day_never_makes_an_item_less_urgent() {
    let recheck = |what, degree| recheck(Place::Claw(Foot::LeftHind, Side::Outer), plain(what, degree), day(1));
    let lame = |score, severe_since, looked, sound| OpenItem::Lame {
        of: ID,
        since: day(1),
        last: day(2),
        gait: Gait { scale: GaitScale::ZeroToThree, score },
        severe_since,
        looked,
        sound,
    };
    let items = [
        wrap(),
        block(BlockKind::Wood),
        block(BlockKind::Foam),
        block(BlockKind::Shoe),
        recheck(Finding::SU, Degree::NotGiven),
        recheck(Finding::IP, Degree::NotGiven),
        recheck(Finding::TN, Degree::NotGiven),
        recheck(Finding::DD, Degree::Stage(Stage::M2)),
        OpenItem::LookSoon { of: ID, place: Place::Foot(Foot::LeftHind), since: day(1) },
        OpenItem::SetByHand { of: ID, place: Place::Animal, on: day(9), words: String::new() },
        OpenItem::Vet { of: ID, place: Place::Animal, sign: Sign::Tract, since: day(1), words: String::new() },
        lame(2, None, false, false),
        lame(3, Some(day(1)), false, false),
        lame(3, Some(day(1)), true, true),
    ];
    let lefts = [None, Some((Leaving::Sold, day(3))), Some((Leaving::Gone, day(3)))];
    for item in &items {
        for status in [Status::InMilk, Status::Dry] {
            for left in lefts {
                let open = Open { status: Some(status), left, ..open(vec![]) };
                let urgency = |days| due(&open, item, &Rules::default(), after(days)).expect("always due").urgency;
                for days in 0..120 {
                    assert!(urgency(days) <= urgency(days + 1), "{item:?} at {days} days");
                }
            }
        }
    }
}

#[test]
fn the_list_puts_urgent_first_then_the_kinds_of_knowing_and_leaves_out_the_dead() {
    let with = |knowing, since| {
        let mut item = wrap();
        if let OpenItem::On { knowing: known, since: day, .. } = &mut item {
            (*known, *day) = (knowing, since);
        }
        item
    };
    let items = vec![
        with(Knowing::ToldBare, day(1)),
        with(Knowing::ToldOff, day(1)),
        with(Knowing::NotHeard, day(19)),
        with(Knowing::NotHeard, day(1)),
        with(Knowing::StillOn, day(2)),
    ];
    let alive = open(items.clone());
    let dead = Open { left: Some((Leaving::Died, day(3))), ..open(items) };
    let all = [alive, dead];
    let order: Vec<(Option<Knowing>, Urgency)> =
        list(&all, &Rules::default(), day(20)).items.iter().map(|item| (item.knowing(), item.due.urgency)).collect();
    assert_eq!(
        order,
        [
            (Some(Knowing::StillOn), Urgency::Urgent),
            (Some(Knowing::NotHeard), Urgency::Urgent),
            (Some(Knowing::ToldOff), Urgency::Urgent),
            (Some(Knowing::ToldBare), Urgency::Due),
            (Some(Knowing::NotHeard), Urgency::Coming),
        ]
    );
}

#[test]
fn looks_that_nobody_saw_to_for_long_fold_into_one_line_a_farm_and_nothing_else_does() {
    let rules = Rules::default();
    let look = |what, last| recheck(Place::Claw(Foot::LeftHind, Side::Outer), plain(what, Degree::NotGiven), last);
    let by_hand = OpenItem::SetByHand { of: ID, place: Place::Animal, on: day(9), words: String::new() };
    let vet = OpenItem::Vet { of: ID, place: Place::Animal, sign: Sign::Tract, since: day(1), words: String::new() };
    let raw = OpenItem::LookSoon { of: ID, place: Place::Foot(Foot::LeftHind), since: day(1) };
    let stays = vec![wrap(), block(BlockKind::Wood), vet, raw, look(Finding::TN, day(1))];
    let folds = vec![look(Finding::SU, day(1)), look(Finding::WLA, day(3)), by_hand];
    let all = [open([stays.clone(), folds].concat())];
    let late = day(9) + Days::new(89);
    let before = list(&all, &rules, late);
    assert_eq!((before.items.len(), before.unseen.values().map(|unseen| unseen.count).sum::<usize>()), (6, 2));
    let after = list(&all, &rules, late + Days::new(1));
    assert_eq!(after.items.len(), stays.len(), "wraps, blocks, raw skin and what is the vet's never fold");
    // The abscess of day 3 was due on day 17, the day set by hand was day 9.
    assert_eq!(after.unseen.values().copied().collect::<Vec<_>>(), [Unseen { count: 3, oldest: day(9) }]);
    assert_eq!(loud(&all, None, &rules, late + Days::new(1)), stays.len() + 1, "counted as the line it is");
    assert_eq!(loud(&[], None, &rules, late), 0);
}

#[test]
fn a_block_on_a_dry_animal_is_looked_at_every_week() {
    // trade.md section 5: on a dry animal a look every week (common practice).
    let dry = Open { status: Some(Status::Dry), ..open(vec![]) };
    let at = |item: &OpenItem, days| due(&dry, item, &Rules::default(), after(days)).expect("always due");
    let item = block(BlockKind::Wood);
    assert_eq!(at(&item, 6).urgency, Urgency::Coming);
    assert_eq!((at(&item, 7).what, at(&item, 7).urgency), (What::BlockLook, Urgency::Due));
    assert_eq!((at(&item, 14).urgency, at(&item, 15).urgency), (Urgency::Due, Urgency::Late));
    let mut seen = block(BlockKind::Wood);
    if let OpenItem::On { seen_on, .. } = &mut seen {
        *seen_on = Some(after(14));
    }
    assert_eq!((at(&seen, 20).urgency, at(&seen, 21).urgency), (Urgency::Coming, Urgency::Due));
}

#[test]
fn every_rule_has_a_source_and_an_order_that_holds() {
    for rule in RULES {
        assert!(!rule.source.is_empty(), "{}.{}", rule.section, rule.name);
        assert_eq!(RULES.iter().filter(|one| (one.section, one.name) == (rule.section, rule.name)).count(), 1);
        let mut set = RuleSet::default();
        rule.set(&mut set, 77);
        assert_eq!(rule.get(&set), 77);
        let others = RULES.iter().filter(|one| (one.section, one.name) != (rule.section, rule.name));
        assert!(others.into_iter().all(|one| one.get(&set) == one.days), "{}.{} is its own", rule.section, rule.name);
    }
    assert_eq!(RuleSet::default().misordered(), []);
}

#[test]
fn sold_with_something_on_is_the_new_keepers_to_know() {
    // trade.md and common practice: whoever has her now looks under it only when told.
    let sold = Open { left: Some((Leaving::Sold, after(1))), ..open(vec![]) };
    let told = |mut item: OpenItem, word| {
        if let OpenItem::On { knowing, .. } = &mut item {
            *knowing = word;
        }
        item
    };
    for item in [wrap(), block(BlockKind::Wood)] {
        let at = |item: &OpenItem, days| due(&sold, item, &Rules::default(), after(days));
        let first = at(&item, 1).expect("due at once");
        assert_eq!((first.what, first.day, first.urgency), (What::TellKeeper, after(1), Urgency::Late));
        for days in 1..80 {
            assert!(at(&item, days).expect("due").urgency <= at(&item, days + 1).expect("due").urgency);
        }
        assert_eq!(at(&item, 60).map(|due| due.urgency), Some(Urgency::Urgent));
        assert!(at(&told(item.clone(), Knowing::ToldOff), 3).is_some(), "a word of the old keeper is not his");
        assert_eq!(at(&told(item.clone(), Knowing::KeeperTold), 60), None);
        let back = open(vec![]);
        let item = told(item, Knowing::KeeperTold);
        assert!(due(&back, &item, &Rules::default(), after(60)).is_some(), "she is back: as if nobody had been asked");
    }
}

/// A standing instruction given on the first.
fn instruction(seq: u64, review_on: Option<NaiveDate>) -> Instruction {
    Instruction {
        id: RecordId { series: 1, seq },
        since: day(1),
        scope: Scope::Hinds,
        text: "leave the heel".to_owned(),
        asked_by: "the farm".to_owned(),
        why: "thin soles".to_owned(),
        review_on,
        vet: String::new(),
        reviewed: None,
    }
}

#[test]
fn an_instruction_is_due_on_its_review_day_or_after_90_days_and_late_after_14_more() {
    // trade.md section 8: review within 90 days; a visit every fortnight is the commonest, so late after 14 more: common practice.
    let rules = Rules::default();
    for (said, first) in [(None, 90), (Some(after(90)), 90), (Some(after(30)), 30), (Some(after(200)), 200)] {
        for (days, urgency) in [
            (first - 1, Urgency::Coming),
            (first, Urgency::Due),
            (first + 14, Urgency::Due),
            (first + 15, Urgency::Late),
            (first + 1000, Urgency::Late),
        ] {
            let due = review::due(&rules.practice, &instruction(1, said), after(days));
            assert_eq!(due, Due { what: What::Review, day: after(first), urgency }, "{said:?} {days}");
        }
    }
    // Looked at again with no day said: 90 days from that look.
    let looked = Instruction { reviewed: Some(after(40)), ..instruction(1, None) };
    assert_eq!(review::due(&rules.practice, &looked, after(129)).urgency, Urgency::Coming);
    assert_eq!(review::due(&rules.practice, &looked, after(130)).urgency, Urgency::Due);
}

#[test]
fn only_instructions_whose_day_has_come_are_listed_the_late_first_and_by_the_rules_of_their_farm() {
    let given = [instruction(1, Some(after(60))), instruction(2, Some(after(40))), instruction(3, Some(after(61)))];
    let mut rules = Rules::default();
    let listed = |rules: &Rules, days: u64| {
        let all = given.iter().map(|one| (FarmId(ID), one));
        review::list(all, rules, after(days)).iter().map(|one| (one.of.id.seq, one.due.urgency)).collect::<Vec<_>>()
    };
    assert_eq!(listed(&rules, 39), []);
    assert_eq!(listed(&rules, 60), [(2, Urgency::Late), (1, Urgency::Due)]);
    let mut own = rules.practice.clone();
    own.instruction.late = 30;
    rules.farms.insert(FarmId(ID), own);
    assert_eq!(listed(&rules, 60), [(2, Urgency::Due), (1, Urgency::Due)]);
}
