//! A standing instruction of the foot in hand is never among the lines that have no room.

use super::pads::SIZES;
use super::world::{buffer, six_days_later, text};
use crushbook::domain::herd::Scope;
use crushbook::domain::ids::RecordId;
use crushbook::domain::instruction::Instruction;
use crushbook::keys::keymap::BuiltIn;
use crushbook::screen::theme::Colour;

#[test]
fn what_is_always_done_at_this_foot_stands_beside_it_whole() {
    for keys in ["1", "1 Enter 1", "7", "7 4", "7 4 1", "7 +", "7 t"] {
        let mut rig = six_days_later(BuiltIn::TwoHands);
        rig.press(&format!("1 3 8 2 Enter {keys}"));
        let mut session = rig.session().clone();
        session.instructions = vec![Instruction {
            id: RecordId { series: 1, seq: 1 },
            since: session.today,
            scope: Scope::All,
            text: "leave the heel of the inner claw".to_owned(),
            asked_by: "the farm".to_owned(),
            why: String::new(),
            review_on: None,
            vet: String::new(),
        }];
        for size in SIZES {
            let shown = text(&buffer(&session, BuiltIn::TwoHands, Colour::Full, size));
            // Beside the map it goes on from line to line, below it stands in one.
            let left = if size.0 == 60 { 40 } else { 0 };
            let right = |line: &str| line.chars().skip(left).collect::<String>();
            let one: Vec<String> = shown.lines().map(|line| right(line).trim().to_owned()).collect();
            let wanted = "ALWAYS all feet: leave the heel of the inner claw";
            assert!(one.join(" ").contains(wanted), "{keys} at {size:?}\n{shown}");
        }
    }
}
