//! Meaning survives grey around the map: what a label says in words belongs to one loudness only.

use super::sizes::{rigs, twins};
use super::theme::TONES;
use super::world::{buffer, text};
use crushbook::claw_map::layout::{Layout, MapLayout, Pair};
use crushbook::claw_map::marks::Tone;
use crushbook::claw_map::picture::View;
use crushbook::keys::keymap::BuiltIn;
use crushbook::screen::theme::{Colour, Role, Theme};
use crushbook::session::mode::Mode;
use crushbook::session::{Light, Session};
use ratatui::buffer::Buffer;
use ratatui::style::Style;
use std::collections::BTreeMap;

const SIZES: [(u16, u16); 3] = [(60, 20), (80, 24), (120, 40)];

/// Whether the map of claws is drawn here: its characters have a test of their own (`claw_map/grey.rs`).
fn on_the_map(session: &Session, buffer: &Buffer, (col, row): (u16, u16)) -> bool {
    let (cols, rows) = (buffer.area.width, buffer.area.height);
    let Some(hand) = session.mode.hand() else { return false };
    let on = |map: &MapLayout| map.feet.iter().any(|foot| foot.area.contains(col, row));
    match session.mode {
        Mode::Last { .. } => Pair::for_screen(cols, rows, View::ToeDown).is_some_and(|pair| pair.maps.iter().any(on)),
        _ => Layout::for_screen(cols, rows, hand.foot, View::ToeDown).map().is_some_and(on),
    }
}

/// What stands around the map in cells that look like this; a label that was broken into lines in one piece.
fn labels(session: &Session, buffer: &Buffer, style: Style) -> Vec<String> {
    let mut labels: Vec<(u16, String)> = Vec::new();
    for row in 0..buffer.area.height {
        let like = |col: &u16| {
            let cell = &buffer[(*col, row)];
            !on_the_map(session, buffer, (*col, row)) && Some(cell.bg) == style.bg && Some(cell.fg) == style.fg
        };
        let run: String = (0..buffer.area.width).filter(like).map(|col| buffer[(col, row)].symbol()).collect();
        match labels.last_mut() {
            _ if run.is_empty() => {}
            Some((last, label)) if *last + 1 == row => {
                *last = row;
                label.push_str(&run);
            }
            Some(_) | None => labels.push((row, run)),
        }
    }
    labels.into_iter().map(|(_, label)| label.trim().to_owned()).collect()
}

#[test]
fn no_label_has_its_meaning_from_its_colour_alone() {
    let theme = Theme { light: Light::Normal, colour: Colour::Full };
    let mut said: BTreeMap<String, Tone> = BTreeMap::new();
    let mut tones = Vec::new();
    for rig in rigs().into_iter().chain(twins()) {
        for size in SIZES {
            let drawn = buffer(rig.session(), BuiltIn::TwoHands, Colour::Full, size);
            for tone in TONES {
                for run in labels(rig.session(), &drawn, theme.role(Role::Label(tone))) {
                    assert!(
                        run.chars().any(|c| !c.is_whitespace()),
                        "{tone:?}: a label without a word\n{}",
                        text(&drawn)
                    );
                    let other = said.insert(run.clone(), tone);
                    assert!(other.is_none_or(|other| other == tone), "\"{run}\" is {tone:?} and {other:?}");
                    tones.push(tone);
                }
            }
        }
    }
    assert!(TONES.iter().all(|tone| tones.contains(tone)), "all three were looked at");
}

#[test]
fn without_colour_and_with_sixteen_the_characters_are_the_same_but_for_outlines() {
    // Where fields have colours of their own the outline of a claw is not drawn; nothing else may differ.
    const OUTLINE: &[char] = &['/', '\\', '|', '_', '-', '*', '.', '\'', ',', '(', ')', ':', '+', '`', '"', '='];
    for rig in rigs() {
        for size in SIZES {
            let shown = [Colour::Full, Colour::Sixteen, Colour::None]
                .map(|colour| buffer(rig.session(), BuiltIn::TwoHands, colour, size));
            let [full, sixteen, none] = &shown;
            assert_eq!(text(sixteen), text(none), "{size:?}");
            for (one, other) in full.content().iter().zip(none.content()) {
                let outline = one.symbol() == " " && other.symbol().chars().all(|c| OUTLINE.contains(&c));
                assert!(one.symbol() == other.symbol() || outline, "{:?} {:?}", one.symbol(), other.symbol());
            }
        }
    }
}
