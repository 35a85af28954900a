//! A finding of an earlier visit that was said wrongly.

use crate::screens::world::screen;
use crate::stories::rig::Rig;
use crushbook::domain::anatomy::{Foot, Horn, Place, Side};
use crushbook::domain::event::{Detail, Event};
use crushbook::domain::finding::{Degree, Finding, Grade};
use crushbook::domain::history::open::OpenItem;
use crushbook::domain::history::{Found, PutView};
use crushbook::domain::treatment::{Colour, Put};
use crushbook::keys::keymap::BuiltIn;
use crushbook::session::{Notice, Refusal};

/// A week ago 12 had a light ulcer at the left hind outer claw; now she is in the crush again.
fn a_week_later(map: BuiltIn) -> Rig {
    let mut rig = Rig::with(map, &["12"]);
    rig.press("1 2 Enter 1 4 1 1 Enter Enter");
    rig.pass(7);
    rig.press("1 2 Enter");
    rig
}

fn found(rig: &Rig) -> &Found {
    rig.history().turns.iter().flat_map(|turn| &turn.found).next().expect("the finding")
}

#[test]
fn a_grade_is_corrected_with_a_reason_and_the_old_one_stays_readable() {
    for (map, keys) in [(BuiltIn::TwoHands, "l c 1 3 s l i p Enter"), (BuiltIn::Keypad, "0 1 1 3 7 Enter")] {
        let mut rig = a_week_later(map);
        rig.press(keys);
        assert_eq!(found(&rig).degree, Degree::Grade(Grade::Severe));
        assert_eq!(rig.history().cases(35)[0].degree, Degree::Grade(Grade::Severe));
        let was = &found(&rig).was;
        assert_eq!(was.len(), 1);
        assert!(matches!(&was[0].event, Event::Detailed { detail: Detail::Degree(Degree::Grade(Grade::Light)), .. }));
        rig.press(if map == BuiltIn::TwoHands { "l" } else { "0" });
        let shown = screen(&rig, map, (120, 40));
        assert!(shown.contains("LH outer 4 SU severe, was light:"), "{shown}");
    }
}

#[test]
fn no_reason_no_correction() {
    let mut rig = a_week_later(BuiltIn::TwoHands);
    let before = rig.records();
    rig.press("l c 1 3 Enter");
    assert_eq!((rig.records(), found(&rig).degree), (before, Degree::Grade(Grade::Light)));
}

#[test]
fn another_finding_claw_foot_or_zone() {
    // White line in zone 3 of the inner claw, moderate.
    let mut rig = a_week_later(BuiltIn::TwoHands);
    rig.press("l c 1 9 3 Enter");
    rig.press("1 7 2 x Enter");
    let inner = Place::Horn(Foot::LeftHind, Side::Inner, Horn::WallBulb);
    let now = found(&rig);
    assert_eq!((now.place, now.what.group(), now.degree), (inner, Finding::WL, Degree::Grade(Grade::Moderate)));
    // The other foot.
    rig.press("l c 1 8 . x Enter");
    assert_eq!(found(&rig).place, inner.at_foot(Foot::RightHind));
    assert_eq!(rig.history().corrections.len(), 3, "finding and grade, then the foot: {:?}", rig.history().corrections);
    assert!(rig.history().doubts.is_empty());
}

#[test]
fn a_correction_is_corrected_and_each_is_undone_on_its_own() {
    let mut rig = a_week_later(BuiltIn::TwoHands);
    rig.press("l c 1 3 s l i p Enter");
    rig.press("l c 1 2 a g a i n Enter");
    assert_eq!(found(&rig).degree, Degree::Grade(Grade::Moderate));
    let whys: Vec<&str> = found(&rig).was.iter().map(|was| was.why.as_str()).collect();
    assert_eq!(whys, ["slip", "again"], "what was said first, and what was said then");
    rig.press("u");
    assert_eq!(found(&rig).degree, Degree::Grade(Grade::Severe));
    rig.press("u");
    assert_eq!(found(&rig).degree, Degree::Grade(Grade::Light));
    assert!(found(&rig).was.is_empty());
    rig.press("r r");
    assert_eq!(found(&rig).degree, Degree::Grade(Grade::Moderate));
}

#[test]
fn what_is_so_already_and_what_is_no_zone_is_refused() {
    let mut rig = a_week_later(BuiltIn::TwoHands);
    rig.press("l c 1 1 x Enter");
    assert_eq!(rig.notice(), Some(&Notice::Refused(Refusal::AlreadySo)));
    let mut rig = a_week_later(BuiltIn::TwoHands);
    rig.press("l c 1 9 1 3 Enter");
    assert_eq!(rig.notice(), Some(&Notice::Refused(Refusal::NoZone("13".into()))));
    let mut rig = a_week_later(BuiltIn::TwoHands);
    rig.press("l Left Left c");
    assert_eq!(rig.notice(), Some(&Notice::Refused(Refusal::NothingFound)), "the turn in which she was added");
}

#[test]
fn a_wraps_colour_and_day_and_a_blocks_material() {
    let mut rig = Rig::with(BuiltIn::TwoHands, &["12"]);
    // Left hind: an ulcer, a wood block on its partner. Right hind: a blue wrap, off in three days.
    rig.press("1 2 Enter 1 4 1 3 b 1 Enter 3 w 3 0 H e l e n Enter 2 Enter Enter");
    rig.pass(1);
    rig.press("1 2 Enter l c 3 1 r e d Enter");
    let wrap = |rig: &Rig| -> PutView {
        let mut puts = rig.history().turns.iter().flat_map(|turn| &turn.puts);
        puts.find(|view| matches!(view.put, Put::Wrap { .. })).expect("the wrap").clone()
    };
    assert!(matches!(wrap(&rig).put, Put::Wrap { colour: Some(Colour::Red), .. }), "{:?}", wrap(&rig));
    assert_eq!(wrap(&rig).was.len(), 1);
    // Two days, not three: the list goes by it at once.
    let promised = |rig: &Rig| wrap(rig).off_by.map(|promise| promise.day);
    let before = promised(&rig);
    rig.press("l c 3 0 2 Enter l a t e Enter");
    assert_eq!(promised(&rig), before.and_then(|day| day.pred_opt()));
    let open =
        rig.history().open.iter().any(
            |item| matches!(item, OpenItem::On { off_by: Some(promise), .. } if Some(promise.day) == promised(&rig)),
        );
    assert!(open, "{:?}", rig.history().open);
    rig.press("l c 2 2 r u b b e r Enter l");
    let shown = screen(&rig, BuiltIn::TwoHands, (200, 50));
    assert!(shown.contains("LH inner rubber block") && shown.contains(" was wood: rubber"), "{shown}");
    assert!(shown.contains("red wrap") && shown.contains(" was blue: red"), "{shown}");
    assert!(rig.history().doubts.is_empty());
    rig.press("Backspace u u u");
    assert_eq!((promised(&rig), rig.history().corrections.len()), (before, 0));
    rig.press("l c 3 0 3 1 Enter");
    assert_eq!(rig.notice(), Some(&Notice::Refused(Refusal::NoDays("31".into()))));
}
