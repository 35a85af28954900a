//! The due list and the farms to ring at the smallest size: nothing loses its last word there.

use super::world::{buffer, six_days_later, text};
use chrono::{Datelike, Days};
use crushbook::domain::anatomy::Place;
use crushbook::domain::follow_up::What;
use crushbook::domain::history::open::{Knowing, OpenItem};
use crushbook::domain::ids::{FarmId, RecordId};
use crushbook::domain::practice::Region;
use crushbook::domain::vocabulary::Vocabulary;
use crushbook::domain::withdrawal::Stated;
use crushbook::keys::keymap::BuiltIn;
use crushbook::report::words::{Words, knowing_short};
use crushbook::screen::theme::Colour;
use crushbook::session::Session;
use crushbook::session::farm_card::lines;
use crushbook::session::lists::due;
use crushbook::session::mode::{Mode, Only};
use unicode_width::UnicodeWidthStr;

const MAP: BuiltIn = BuiltIn::TwoHands;
const SMALL: (u16, u16) = (60, 20);

/// What a list of several farms has for what is to be done.
const COLUMNS: usize = 9;

#[test]
fn what_is_to_be_done_has_a_form_for_the_narrow_list_in_every_region() {
    for region in Region::ALL {
        for what in What::ALL {
            let words = Words(*region);
            let forms = [words.what(*what), words.what_short(*what)];
            assert!(forms.iter().any(|form| form.width() <= COLUMNS), "{region:?}: {forms:?}");
        }
    }
}

/// The list with what is on, as it is known, and a second farm, so that each line names its own.
fn known_as(keys: &str, knowing: Knowing) -> Session {
    let mut rig = six_days_later(MAP);
    rig.press(keys);
    let mut session = rig.session().clone();
    for item in session.open.iter_mut().flat_map(|open| &mut open.items) {
        if let OpenItem::On { knowing: known, .. } = item {
            *known = knowing;
        }
    }
    let mut other = session.open[0].clone();
    other.farm = FarmId(RecordId { series: 77, seq: 1 });
    session.open.push(other);
    session
}

fn shown(session: &Session) -> String {
    text(&buffer(session, MAP, Colour::Full, SMALL))
}

#[test]
fn a_ring_that_is_to_be_looked_for_is_said_whole_on_the_due_list() {
    let told = shown(&known_as("d", Knowing::ToldOff));
    assert!(told.contains("any ring? RH blue WRAP 6 d told off\n"), "{told}");
    let bare = shown(&known_as("d", Knowing::ToldBare));
    assert!(bare.contains("LH block 6 d told bare\n"), "claw and material give way, what was told does not\n{bare}");
}

#[test]
fn what_is_too_long_for_its_line_ends_in_dots_and_stands_whole_where_it_is_picked() {
    let mut session = known_as("d Down Down Down Down", Knowing::NotHeard);
    let stated = Stated {
        product: "own ointment".to_owned(),
        milk_days: Some(2),
        meat_days: Some(10),
        by: "the vet".to_owned(),
    };
    let of = RecordId { series: 77, seq: 2 };
    session.open[0].items.push(OpenItem::Withheld {
        of,
        place: Place::Animal,
        used: session.today,
        stated,
        counts: true,
    });
    let position = |session: &Session| {
        due(session, Only::All).items.iter().position(|item| matches!(item.item, OpenItem::Withheld { .. }))
    };
    let at = position(&session).expect("it is on the list");
    session.mode =
        Mode::Due { cursor: at, only: Only::All, under: Box::new(Mode::Today { typed: String::new(), cursor: 0 }) };
    let picked = shown(&session);
    assert!(picked.contains("withheld  NO MILK until SUN 10 ...\n"), "{picked}");
    let whole = "NO MILK until SUN 10 May is over, NO MEAT until MON 18 May is over, stated by the vet: own ointment";
    let one = picked.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(one.contains(whole), "{picked}");
    session.mode =
        Mode::Due { cursor: 0, only: Only::All, under: Box::new(Mode::Today { typed: String::new(), cursor: 0 }) };
    assert!(!shown(&session).contains("ointment"), "only where it is picked");
}

#[test]
fn what_a_farm_said_stands_whole_beside_what_is_on() {
    for knowing in [Knowing::NotHeard, Knowing::Asked, Knowing::StillOn] {
        let list = shown(&known_as("t", knowing));
        let line = list.lines().find(|line| line.contains("WRAP")).unwrap_or_else(|| panic!("{knowing:?}\n{list}"));
        assert!(line.ends_with(knowing_short(knowing)), "{knowing:?}\n{list}");
    }
}

#[test]
fn the_longest_day_stands_whole_beside_the_map() {
    let mut session = known_as("d", Knowing::NotHeard);
    for item in session.open.iter_mut().flat_map(|open| &mut open.items) {
        if let OpenItem::On { off_by: Some(promise), .. } = item {
            promise.day = session.today.with_day(15).expect("a day");
        }
    }
    for size in [(80, 24), (120, 40)] {
        let list = text(&buffer(&session, MAP, Colour::Full, size));
        assert!(list.contains(" 15 May PM\n") || list.contains(" 15 May PM "), "{size:?}\n{list}");
    }
}

/// Ulcers of a year ago fold into one line a farm, and of its day no figure is cut, however long the farm's name is.
#[test]
fn the_day_of_the_oldest_look_that_nobody_saw_to_stands_whole() {
    for name in [
        "Thistle",
        "Quillbarrow Upper Meadow",
        "The Old Rectory Farm at Nether Threlmarsh by the Mill",
        &"W".repeat(70),
    ] {
        let mut session = six_days_later(MAP).session().clone();
        session.today = session.today + Days::new(400);
        session.farms.iter_mut().for_each(|farm| farm.name = name.to_owned());
        session.mode = Mode::Due { cursor: 0, only: Only::All, under: Box::new(Mode::today()) };
        // Dermatitis, active: looked at on 2 May, to be looked at again after 7 days (trade.md 6).
        for size in [SMALL, (80, 24), (120, 40)] {
            let seen = text(&buffer(&session, MAP, Colour::Full, size));
            let line = seen.lines().find(|line| line.contains(&name[..6]) && line.contains("2026")).unwrap_or_default();
            assert!(line.contains(" 9 May 2026"), "{name} at {size:?}: {line:?}\n{seen}");
        }
    }
}

/// Whatever of the card is below the edge is counted in a row, and at its end nothing is.
#[test]
fn the_card_says_how_many_lines_are_below_the_edge() {
    for size in [SMALL, (80, 24), (120, 40)] {
        let mut rig = six_days_later(MAP);
        // A telephone number, and another one since: the earlier stands on a line of its own.
        rig.press("f 6 Down Enter 0 1 6 3 2 Enter Enter Backspace 3 Enter");
        let all = lines(rig.session()).len();
        for cursor in 0..all {
            let mut session = rig.session().clone();
            session.mode = Mode::Card { cursor, under: Box::new(Mode::today()) };
            let seen = text(&buffer(&session, MAP, Colour::Full, size));
            // Every line of this card is one row, and what it says begins in the 17th column.
            let is_line = |line: &&str| line.chars().nth(16).is_some_and(|letter| letter != ' ');
            let body: Vec<&str> = seen.lines().skip(2).take_while(is_line).collect();
            let picked =
                body.iter().position(|line| line.starts_with('>')).unwrap_or_else(|| panic!("{cursor}\n{seen}"));
            let below = all - cursor - (body.len() - picked);
            let said = seen.lines().find(|line| line.starts_with("...")).map(str::trim_end);
            let wanted = match below {
                0 => None,
                1 => Some("... 1 more line".to_owned()),
                more => Some(format!("... {more} more lines")),
            };
            assert_eq!(said.map(str::to_owned), wanted, "{cursor} at {size:?}\n{seen}");
        }
        assert!(
            size != SMALL || text(&buffer(rig.session(), MAP, Colour::Full, size)).contains("... "),
            "it is longer than the screen"
        );
    }
}
