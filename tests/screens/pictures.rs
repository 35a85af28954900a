//! Every screen at the three sizes it is made for, as it was read and found right.

use super::world::{buffer, screen, six_days_later, text};
use crate::stories::amend::twice_twelve;
use crate::stories::rig::Rig;
use crushbook::keys::keymap::BuiltIn;
use crushbook::screen::theme::Colour;

const SIZES: [(u16, u16); 3] = [(60, 20), (80, 24), (120, 40)];

fn look(name: &str, map: BuiltIn, rig: &Rig) {
    for (cols, rows) in SIZES {
        insta::assert_snapshot!(format!("{name}_{cols}x{rows}"), screen(rig, map, (cols, rows)));
    }
}

/// The screen after these keys, 1382 and her past before them.
fn after(name: &str, keys: &str) {
    let map = BuiltIn::TwoHands;
    let mut rig = six_days_later(map);
    rig.press(keys);
    look(name, map, &rig);
}

#[test]
fn crush_with_no_foot_up() {
    after("crush", "1 3 8 2 Enter");
}

#[test]
fn crush_with_a_foot_up() {
    after("foot", "1 3 8 2 Enter 1 5 4 1 2 1");
}

#[test]
fn a_foot_with_a_wrap_opens_on_how_it_was_found() {
    after("seen", "1 3 8 2 Enter 3");
}

#[test]
fn findings_of_a_zone() {
    after("findings", "1 3 8 2 Enter 7 4");
}

#[test]
fn grade_of_a_finding() {
    after("grade", "1 3 8 2 Enter 7 4 1");
}

#[test]
fn today() {
    after("today", "");
}

#[test]
fn the_list_of_the_day() {
    for (name, farm, keys) in [
        ("day_list", "Quillbarrow", "Down"),
        ("day_list_close", "Quillbarrow", "s"),
        ("day_list_far", "Oddenfold", "Down Down"),
        ("day_list_gone", "Quillbarrow", "1 3 9 2 x"),
    ] {
        let mut rig = Rig::at(BuiltIn::TwoHands, farm);
        rig.press(keys);
        look(name, BuiltIn::TwoHands, &rig);
    }
}

#[test]
fn today_with_half_a_number() {
    after("number", "1 3");
}

#[test]
fn today_with_an_unknown_number() {
    after("unknown", "9 9");
}

#[test]
fn due() {
    after("due", "d");
}

#[test]
fn the_farm_s_card() {
    after("card", "f 7 4 l o w e r Enter B o Enter t h i n Enter 2 I v o Enter 1 f 6");
}

#[test]
fn a_foot_with_a_standing_instruction_of_the_vet() {
    after(
        "instructed",
        "f 7 6 l e a v e Space t h e Space w a l l Enter B o Enter t h i n Enter 2 I v o Enter 1 1 3 8 2 Enter 7 Left",
    );
}

#[test]
fn a_review_below_what_is_due_on_animals() {
    let map = BuiltIn::TwoHands;
    let mut rig = six_days_later(map);
    rig.press("f 7 4 l o w e r Enter B o Enter t h i n Enter 1 4 1 4 Space 5 Enter");
    rig.pass(6);
    rig.press("d");
    look("review", map, &rig);
    rig.press("Backspace t");
    look("ring_review", map, &rig);
    rig.press("Backspace");
    look("today_review", map, &rig);
}

#[test]
fn the_herd_and_her_data() {
    let mut rig = Rig::at(BuiltIn::TwoHands, "Quillbarrow");
    rig.press("f 9 PageDown");
    look("herd", BuiltIn::TwoHands, &rig);
    rig.press("Enter PageDown");
    look("her_data", BuiltIn::TwoHands, &rig);
}

#[test]
fn a_herd_list_before_it_is_taken() {
    let map = BuiltIn::TwoHands;
    let mut rig = six_days_later(map);
    rig.press("f 9 a");
    look("herd_lists", map, &rig);
    rig.press("Down Enter");
    look("herd_list", map, &rig);
    rig.press("Enter");
    look("herd_list_taken", map, &rig);
    rig.press("Backspace Backspace Up Enter Enter 1");
    look("herd_missing", map, &rig);
}

#[test]
fn farms_to_ring() {
    after("ring", "t");
}

#[test]
fn totals() {
    after("totals", "7 Enter 5 Enter s");
}

#[test]
fn the_take_off_list_to_be_photographed() {
    after("paper", "p");
}

#[test]
fn what_became_of_her() {
    after("left", "1 3 8 2 x");
}

#[test]
fn wrong_number() {
    after("wrong_number", "1 3 8 2 Enter 6 . 4");
}

#[test]
fn last_time() {
    after("last", "1 3 8 2 Enter l");
}

/// A month later with a turn in between: worse twice, healed and new since then, one mark not answered yet.
fn a_month_later() -> Rig {
    let mut rig = six_days_later(BuiltIn::TwoHands);
    // The block is left on; the ulcer is worse. The wrap is off and bare, its skin sound; dermatitis M4.
    rig.press("1 3 8 2 Enter 4 2 1 3 4 4 Enter 3 1 1 . 4 Enter Enter Enter");
    rig.pass(22);
    // Worse; the heel horn on the other foot is healed; severe white line disease is new; dermatitis waits.
    rig.press("1 3 8 2 Enter 4 1 1 3 4 4 Enter 3 Right 6 1 2 1 3 Enter");
    rig
}

#[test]
fn last_time_with_every_kind_of_change() {
    let mut rig = a_month_later();
    rig.press("l");
    look("changed", BuiltIn::TwoHands, &rig);
    rig.press("Left");
    look("changed_before", BuiltIn::TwoHands, &rig);
}

#[test]
fn the_crush_with_ghosts_and_flags() {
    look("ghosts", BuiltIn::TwoHands, &a_month_later());
}

#[test]
fn a_ghost_is_asked_about() {
    let mut rig = a_month_later();
    rig.press("Space");
    look("ghost", BuiltIn::TwoHands, &rig);
}

#[test]
fn without_colours_nothing_is_lost() {
    let mut rig = a_month_later();
    for (name, keys) in [("ghosts_mono", ""), ("changed_mono", "l")] {
        rig.press(keys);
        for size in SIZES {
            let shown = text(&buffer(rig.session(), BuiltIn::TwoHands, Colour::None, size));
            insta::assert_snapshot!(format!("{name}_{}x{}", size.0, size.1), shown);
        }
    }
}

#[test]
fn sign_off() {
    after("sign_off", "1 3 8 2 Enter Enter");
}

#[test]
fn help() {
    after("help", "1 3 8 2 Enter 7 h");
}

#[test]
fn a_note() {
    after("note", "1 3 8 2 Enter 7 n s o r e");
}

#[test]
fn farms() {
    after("farms", "v");
}

#[test]
fn again() {
    after("again", "7 Enter 5 Enter 7 Enter");
}

/// The screen after these keys, where 12 was begun on two tablets.
fn after_twice(name: &str, keys: &str) {
    let mut rig = twice_twelve();
    rig.press(keys);
    look(name, BuiltIn::TwoHands, &rig);
}

#[test]
fn two_may_be_one() {
    after_twice("twice_offered", "");
}

#[test]
fn two_beside_each_other() {
    after_twice("twice", "w");
}

#[test]
fn which_of_two() {
    after_twice("which", "w 2 1 2 Enter");
}

#[test]
fn an_old_number() {
    after_twice("old_number", "3 4 c 1 9 9 Enter 3 4");
}

#[test]
fn what_is_new_on_her() {
    after("labels", "1 3 8 2 c");
}

#[test]
fn whose_turn_was_it() {
    after("whose", "1 3 8 2 Enter l m 4");
}

#[test]
fn which_finding_was_wrong() {
    after("facts", "1 3 8 2 Enter l c");
}

#[test]
fn what_is_right() {
    after("right", "1 3 8 2 Enter l c 1");
}

#[test]
fn why_it_was_wrong() {
    after("why", "1 3 8 2 Enter l c 1 2 s");
}

#[test]
fn last_time_corrected_and_moved() {
    after("last_corrected", "1 3 8 2 Enter l c 1 2 s l i p Enter l");
}

#[test]
fn the_keypad() {
    let map = BuiltIn::Keypad;
    let mut rig = six_days_later(map);
    rig.press("1 3 8 2 Enter 7");
    look("keypad_foot", map, &rig);
}

#[test]
fn a_scoring_walk() {
    after("walk_begun", "f 4");
    after("walk_typed", "f 4 4 4 2");
    after("walk_scored", "f 4 7 0 Enter 4 4 2 Enter 1 3 8 1 Enter 4 4 3 Enter");
    after("walk_asked", "f 4 1 3 8 2 Enter");
}

#[test]
fn a_scoring_walk_of_a_whole_herd() {
    let mut rig = Rig::at(BuiltIn::TwoHands, "Quillbarrow");
    rig.press("f 4 1 3 8 2 2 Enter 1 3 8 5 3 Enter 1 3 9 0 1 Enter 1 4 0 1 0 Enter 1 3 7 4 2");
    look("walk_herd", BuiltIn::TwoHands, &rig);
}

#[test]
fn paper_typed_up() {
    after("type_up_asked", "f 5");
    after("type_up_today", "f 5 5 Enter");
    after("type_up_crush", "1 3 8 2 Enter 3 1 1 Enter 1 4 Enter 8 Enter Enter f 5 5 Enter 1 3 8 2 Enter");
}
