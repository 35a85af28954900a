//! The last row says what its keys do on the very screen it stands on.

use super::pads::{SIZES, every_screen};
use super::world::{buffer, six_days_later, text};
use crate::support::tablet::moment;
use crushbook::domain::ids::RecordId;
use crushbook::domain::record::Stamp;
use crushbook::keys::keymap::BuiltIn;
use crushbook::screen::View;
use crushbook::screen::theme::Colour;
use crushbook::screen::touch::Targets;
use crushbook::session::Refusal;
use crushbook::session::decide::{Decision, decide};
use crushbook::session::touch::Target;

const MAP: BuiltIn = BuiltIn::TwoHands;

#[test]
fn last_time_is_gone_back_from_and_not_opened() {
    let mut rig = six_days_later(MAP);
    rig.press("1 3 8 2 Enter l");
    for size in SIZES {
        let shown = text(&buffer(rig.session(), MAP, Colour::Full, size));
        let last = shown.lines().last().unwrap_or_default();
        assert!(last.contains("Enter back") && !last.contains("open") && !last.contains("last time"), "{last}");
    }
    rig.press("Enter");
    assert!(matches!(rig.mode(), crushbook::session::mode::Mode::Crush(_)), "{:?}", rig.mode());
}

#[test]
fn no_key_that_is_shown_means_nothing_there() {
    let keymap = MAP.keymap();
    for session in every_screen() {
        let view = View { keymap: &keymap, now: moment(session.today), colour: Colour::Full, targets: None };
        let next = RecordId { series: 1, seq: 1 };
        let stamp = Stamp { next, tick: 1, by: None, now: moment(session.today), on: session.today };
        for (_, target) in Targets::of(&session, &view, (120, 40)) {
            let Target::Wish(intent) = target else { continue };
            let decision = decide(&session, intent, &stamp);
            assert_ne!(decision, Decision::Refuse(Refusal::NotHere), "{intent:?} in {:?}", session.mode);
        }
    }
}
