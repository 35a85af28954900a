//! Two tablets that disagree about one foot: both facts stand, it is said until the foot has been up again, and what one of
//! them wrote with the other's fact in sight is no disagreement. (What counts as one: common practice, no source.)

use crate::support::tablet::{Tablet, day};
use crushbook::domain::anatomy::{Foot, Horn, Place, Side, Skin};
use crushbook::domain::disagreement::{self, Disagreement, Fact};
use crushbook::domain::event::{Event, Item};
use crushbook::domain::finding::{Degree, Finding, Grade, Stage};
use crushbook::domain::history::History;
use crushbook::domain::history::open::OpenItem;
use crushbook::domain::ids::{AnimalId, CaseId, RecordId, TurnId, VisitId};
use crushbook::domain::practice::Region;
use crushbook::domain::treatment::{Colour, Off, Outcome, Put, SkinState};
use crushbook::report::disagreement::line;
use crushbook::report::words::Words;

const SOLE: Place = Place::Horn(Foot::LeftHind, Side::Outer, Horn::SoleBulb);
const HEEL: Place = Place::Skin(Foot::LeftHind, Skin::Heel);

/// Two tablets that know the same animal and visit, and have not met since.
struct Two {
    one: Tablet,
    other: Tablet,
    cow: AnimalId,
    visit: VisitId,
}

fn two() -> Two {
    let mut one = Tablet::new(7);
    let farm = one.farm(day(1));
    let cow = one.animal(day(1), farm, "1382");
    let visit = one.visit(day(1), farm);
    let mut other = Tablet::new(9);
    other.meet(&one);
    Two { one, other, cow, visit }
}

fn found(turn: TurnId, what: Finding, degree: Degree) -> Event {
    let place = if what == Finding::DD { HEEL } else { SOLE };
    Event::Found { turn, place, what, degree, words: String::new() }
}

fn wrap() -> Put {
    Put::Wrap { over: HEEL, colour: Some(Colour::Blue) }
}

fn seen(turn: TurnId, item: Item, outcome: Off) -> Event {
    Event::SeenOff { turn: Some(turn), item, outcome, skin: SkinState::NotTold }
}

impl Two {
    /// What the records of both add up to, whichever came first.
    fn history(&self) -> History {
        let mut all = self.one.clone();
        all.meet(&self.other);
        let history = all.history(self.cow);
        let mut turned = self.other.clone();
        turned.meet(&self.one);
        assert_eq!(turned.history(self.cow), history);
        history
    }

    /// Disagreements but for her being in the crush twice.
    fn differ(&self) -> Vec<Disagreement> {
        let all = disagreement::of(&self.history()).into_iter();
        all.filter(|differ| differ.said[0].what != Fact::InCrush).collect()
    }
}

#[test]
fn a_different_grade_on_one_day_is_a_disagreement_and_both_stand() {
    let mut two = two();
    for (tablet, grade) in [(&mut two.one, Grade::Severe), (&mut two.other, Grade::Light)] {
        let turn = tablet.turn(day(3), two.visit, two.cow);
        tablet.write(day(3), two.cow.0, found(turn, Finding::SU, Degree::Grade(grade)));
    }
    let differ = two.differ();
    assert_eq!(differ.len(), 1);
    assert_eq!((differ[0].on, differ[0].place, differ[0].settled), (day(3), SOLE, false));
    assert_eq!(differ[0].said[0].what, Fact::Found(Finding::SU, Degree::Grade(Grade::Severe)));
    assert_eq!(differ[0].said[1].what, Fact::Found(Finding::SU, Degree::Grade(Grade::Light)));
    let written = line(&differ[0], Words(Region::Plain));
    assert_eq!(written, format!("two tablets differ, {}: LH outer 4 SU severe / SU light", day(3).format("%-d %b")));
    let history = two.history();
    let found: Vec<usize> = history.turns.iter().map(|turn| turn.found.len()).collect();
    assert_eq!(found, [1, 1], "both facts are kept");
}

#[test]
fn the_same_told_less_exactly_is_none() {
    for pair in [
        [(Finding::SU, Degree::Grade(Grade::Severe)), (Finding::SU, Degree::NotGiven)],
        [(Finding::SU, Degree::NotGiven), (Finding::U, Degree::NotGiven)],
        [(Finding::SU, Degree::Grade(Grade::Severe)), (Finding::SU, Degree::Grade(Grade::Severe))],
        // Another thing at another place.
        [(Finding::SU, Degree::Grade(Grade::Severe)), (Finding::DD, Degree::Stage(Stage::M2))],
    ] {
        let mut two = two();
        for (tablet, (what, degree)) in [&mut two.one, &mut two.other].into_iter().zip(pair) {
            let turn = tablet.turn(day(3), two.visit, two.cow);
            tablet.write(day(3), two.cow.0, found(turn, what, degree));
        }
        assert_eq!(two.differ(), [], "{pair:?}");
    }
}

#[test]
fn healed_on_one_and_found_or_still_there_on_the_other_is_one() {
    let still: [fn(TurnId, CaseId) -> Event; 3] = [
        |turn, _| found(turn, Finding::SU, Degree::NotGiven),
        |turn, case| Event::Answered { turn, case, outcome: Outcome::Same },
        |turn, case| Event::Answered { turn, case, outcome: Outcome::NotLooked },
    ];
    let cases = still.into_iter().zip([1, 1, 0]).enumerate();
    // Whichever of them stands later in the order of facts.
    for ((number, (still, wanted)), healed_last) in cases.flat_map(|case| [(case, false), (case, true)]) {
        let mut two = two();
        let turn = two.one.turn(day(1), two.visit, two.cow);
        let case = CaseId(two.one.write(day(1), two.cow.0, found(turn, Finding::SU, Degree::NotGiven)));
        two.other.meet(&two.one);
        for (tablet, heals) in [(&mut two.one, !healed_last), (&mut two.other, healed_last)] {
            let turn = tablet.turn(day(8), two.visit, two.cow);
            let healed = Event::Answered { turn, case, outcome: Outcome::Healed };
            tablet.write(day(8), two.cow.0, if heals { healed } else { still(turn, case) });
        }
        assert_eq!(two.differ().len(), wanted, "case {number}");
        // Disputed, it stays to be looked at; and the next look, on another day, ends it.
        let is_open = |two: &Two| two.history().open_courses().count() > 0;
        assert_eq!(is_open(&two), wanted == 1, "case {number}, healed last: {healed_last}");
        let turn = two.one.turn(day(9), two.visit, two.cow);
        let open: Vec<CaseId> = two.history().open_courses().map(|case| case.id).collect();
        for case in open {
            two.one.write(day(9), two.cow.0, Event::Answered { turn, case, outcome: Outcome::Healed });
        }
        assert!(!is_open(&two), "case {number}");
    }
}

#[test]
fn a_wrap_on_for_one_and_a_bare_foot_for_the_other_is_one_and_the_wrap_stays_due() {
    let mut two = two();
    let turn = two.one.turn(day(3), two.visit, two.cow);
    let put = two.one.put(day(3), two.cow, turn, wrap());
    let turn = two.other.turn(day(3), two.visit, two.cow);
    two.other.write(day(3), two.cow.0, seen(turn, Item::Met(Place::Foot(Foot::LeftHind)), Off::Bare));
    let differ = two.differ();
    assert_eq!(differ.len(), 1);
    assert_eq!(differ[0].said[1].what, Fact::Seen(Off::Bare));
    let open = two.history().open;
    assert!(open.iter().any(|item| matches!(item, OpenItem::On { put: on, .. } if *on == put)), "{open:?}");
}

#[test]
fn off_for_one_and_left_on_for_the_other_is_one() {
    let mut two = two();
    let turn = two.one.turn(day(1), two.visit, two.cow);
    let put = two.one.put(
        day(1),
        two.cow,
        turn,
        Put::Block { foot: Foot::LeftHind, side: Side::Inner, kind: crushbook::domain::treatment::BlockKind::Wood },
    );
    two.other.meet(&two.one);
    for (tablet, outcome) in [(&mut two.one, Off::TakenOff), (&mut two.other, Off::LeftSound)] {
        let turn = tablet.turn(day(8), two.visit, two.cow);
        tablet.write(day(8), two.cow.0, seen(turn, Item::Known(put), outcome));
    }
    assert_eq!(two.differ().len(), 1);
    assert_eq!(two.differ()[0].place, Place::Claw(Foot::LeftHind, Side::Inner));
}

#[test]
fn what_was_written_with_the_other_in_sight_is_none() {
    let mut two = two();
    let turn = two.one.turn(day(3), two.visit, two.cow);
    let case = CaseId(two.one.write(day(3), two.cow.0, found(turn, Finding::SU, Degree::NotGiven)));
    let put = two.one.put(day(3), two.cow, turn, wrap());
    // They meet at noon; in the afternoon the other takes off what it knows of.
    two.other.meet(&two.one);
    let turn = two.other.turn(day(3), two.visit, two.cow);
    two.other.write(day(3), two.cow.0, Event::Answered { turn, case, outcome: Outcome::Healed });
    two.other.write(day(3), two.cow.0, seen(turn, Item::Known(put), Off::Bare));
    assert_eq!(two.differ(), []);
    assert_eq!(two.history().open_courses().count(), 0, "nobody disputes it");
}

#[test]
fn she_was_in_the_crush_on_both_and_it_is_asked_whether_one_is_another() {
    let mut two = two();
    two.one.turn(day(3), two.visit, two.cow);
    two.other.turn(day(3), two.visit, two.cow);
    let all = disagreement::of(&two.history());
    assert_eq!(all.len(), 1);
    let written = line(&all[0], Words(Region::NorthAmerica));
    assert!(written.ends_with("in the chute on two tablets. Is one of them another animal?"), "{written}");
    // On different days nobody wonders.
    let mut two = self::two();
    two.one.turn(day(3), two.visit, two.cow);
    two.other.turn(day(4), two.visit, two.cow);
    assert_eq!(disagreement::of(&two.history()), []);
}

#[test]
fn one_tablet_may_change_its_mind() {
    let mut two = two();
    for grade in [Grade::Light, Grade::Severe] {
        let turn = two.one.turn(day(3), two.visit, two.cow);
        two.one.write(day(3), two.cow.0, found(turn, Finding::SU, Degree::Grade(grade)));
    }
    assert_eq!(disagreement::of(&two.history()), []);
    // Its last word is what the other's is compared with.
    let turn = two.other.turn(day(3), two.visit, two.cow);
    two.other.write(day(3), two.cow.0, found(turn, Finding::SU, Degree::Grade(Grade::Severe)));
    assert_eq!(two.differ(), []);
}

#[test]
fn once_the_foot_was_up_again_it_is_settled() {
    let mut two = two();
    for (tablet, stage) in [(&mut two.one, Stage::M2), (&mut two.other, Stage::M4)] {
        let turn = tablet.turn(day(3), two.visit, two.cow);
        tablet.write(day(3), two.cow.0, found(turn, Finding::DD, Degree::Stage(stage)));
    }
    let looked = |turn, foot| Event::Looked { turn, foot, lifted: true, trimmed: true, all_seen: true };
    let turn = two.one.turn(day(10), two.visit, two.cow);
    two.one.write(day(10), two.cow.0, looked(turn, Foot::RightHind));
    assert!(!two.differ()[0].settled, "another foot tells nothing");
    two.one.write(day(10), two.cow.0, looked(turn, Foot::LeftHind));
    assert!(two.differ()[0].settled);
}

#[test]
fn a_fact_taken_back_disagrees_with_nobody() {
    let mut two = two();
    let mut press = RecordId::PRACTICE;
    for (tablet, grade) in [(&mut two.one, Grade::Severe), (&mut two.other, Grade::Light)] {
        let turn = tablet.turn(day(3), two.visit, two.cow);
        press = tablet.write(day(3), two.cow.0, found(turn, Finding::SU, Degree::Grade(grade)));
    }
    assert_eq!(two.differ().len(), 1);
    two.other.write(day(3), two.cow.0, Event::Undone { press });
    assert_eq!(two.differ(), []);
}
