//! One animal with a past, and a screen to look at her on.

use crate::stories::rig::Rig;
use crate::support::tablet::moment;
use crushbook::keys::keymap::BuiltIn;
use crushbook::screen::theme::Colour;
use crushbook::screen::{View, draw};
use crushbook::session::Session;
use ratatui::Terminal;
use ratatui::backend::TestBackend;
use ratatui::buffer::Buffer;

/// Six days after a visit that left 1382 with a block at the left hind and a blue wrap at the right hind.
pub fn six_days_later(map: BuiltIn) -> Rig {
    let mut rig = Rig::with(map, &["7", "44", "138", "1382"]);
    rig.lists = Some("tests/stories/lists".into());
    let (other_claw, off) = match map {
        BuiltIn::TwoHands => ("Right", "8 Enter"),
        BuiltIn::Keypad => ("* 6", "8 Enter"),
        BuiltIn::LeftHand => ("Tab g", "8 Enter"),
        BuiltIn::RightHand => ("n o", "8 Enter"),
    };
    // Left hind: sole ulcer, severe, a wood block on the partner. Right hind: dermatitis M2 under a wrap, off in 3 days.
    rig.press("1 3 8 2 Enter 1 4 1 3 + 1 1 Enter 3 . 1 2 + 2 3 0 H e l e n Enter 2");
    rig.press(&format!("{other_claw} 6 1 1 Enter {off}"));
    rig.pass(6);
    rig
}

/// The screen of a session in so many columns and rows.
pub fn buffer(session: &Session, map: BuiltIn, colour: Colour, (cols, rows): (u16, u16)) -> Buffer {
    let mut terminal = Terminal::new(TestBackend::new(cols, rows)).expect("a test screen");
    let keymap = map.keymap();
    let view = View { keymap: &keymap, now: moment(session.today), colour, targets: None };
    terminal.draw(|frame| draw(frame, session, &view)).expect("it draws");
    terminal.backend().buffer().clone()
}

/// The characters of a screen, one line a row.
pub fn text(buffer: &Buffer) -> String {
    let area = buffer.area;
    (0..area.height)
        .map(|row| {
            let line: String = (0..area.width).map(|col| buffer[(col, row)].symbol()).collect();
            line.trim_end().to_owned() + "\n"
        })
        .collect()
}

/// The characters of a rig's screen in colour.
pub fn screen(rig: &Rig, map: BuiltIn, size: (u16, u16)) -> String {
    text(&buffer(rig.session(), map, Colour::Full, size))
}
