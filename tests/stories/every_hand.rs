//! Every wish of the table, in every keymap, by the keys of the hand that is free, from a place in which it is meant: it does
//! what two hands do with it there.

use super::player::Player;
use super::rig::Rig;
use crate::screens::world::six_days_later;
use crate::support::tablet::moment;
use crushbook::domain::ids::RecordId;
use crushbook::domain::record::Stamp;
use crushbook::keys::context::Context;
use crushbook::keys::intent::{Intent, Role};
use crushbook::keys::keymap::BuiltIn;
use crushbook::keys::table::TABLE;
use crushbook::session::Refusal;
use crushbook::session::decide::{Decision, decide};

/// Places that a hand can be in, by the wishes that lead there.
const PLACES: [&str; 21] = [
    "",
    "13",
    "down",
    "visit",
    "due",
    "ring",
    "totals",
    "paper",
    "help",
    "farm pick-9",
    "1382 go-on",
    "1382 go-on last",
    "1382 go-on due",
    "1382 go-on lift-lf",
    "1382 go-on lift-lf zone-2",
    "1382 go-on lift-lf zone-2 pick-1",
    "1382 go-on lift-rh",
    "1382 go-on lift-rh pick-2 pick-1",
    "1382 go-on lift-lf note \"so\"",
    "1382 go-on go-on",
    "1382 go-on lift-lf zone-2 pick-1 pick-1 undo",
];

fn at(base: &Rig, map: BuiltIn, place: &str) -> Player {
    let mut player = Player::new(map, base.copy_with(map));
    player.rig.open();
    player.play(place);
    assert_eq!(player.stuck, Vec::<String>::new(), "{map:?}: {place}");
    player
}

fn does_something(rig: &Rig, intent: Intent) -> bool {
    let session = rig.session();
    let stamp = Stamp {
        next: RecordId { series: 99, seq: 1 },
        tick: 999,
        by: None,
        now: moment(session.today),
        on: session.today,
    };
    !matches!(decide(session, intent, &stamp), Decision::Refuse(Refusal::NotHere))
}

/// What came of a wish: all that a person could notice.
fn outcome(mut player: Player, context: Context, intent: Intent) -> Option<String> {
    let keys = player.keys(context, intent)?;
    let flow = player.rig.press(&keys.join(" "));
    let session = player.rig.session();
    let written = session.crush.as_ref().map(|crush| crush.records.len());
    Some(format!(
        "{flow:?} {:?} {:?} {:?} {} {written:?} {}",
        session.mode,
        session.notice,
        session.light,
        session.taps,
        session.trail.len()
    ))
}

#[test]
fn every_wish_is_granted_to_every_hand() {
    let base = six_days_later(BuiltIn::TwoHands);
    let there: Vec<Player> = PLACES.iter().map(|place| at(&base, BuiltIn::TwoHands, place)).collect();
    let mut wrong = Vec::new();
    for row in TABLE {
        for context in row.meant {
            let here =
                |player: &Player| player.rig.mode().context() == *context && does_something(&player.rig, row.intent);
            let place = PLACES[there.iter().position(here).unwrap_or_else(|| panic!("{} in {context:?}", row.name))];
            let two = outcome(at(&base, BuiltIn::TwoHands, place), *context, row.intent).expect("two hands reach all");
            for map in [BuiltIn::Keypad, BuiltIn::LeftHand, BuiltIn::RightHand] {
                match outcome(at(&base, map, place), *context, row.intent) {
                    Some(same) if same == two => {}
                    None if row.role == Role::Shortcut => {}
                    other => wrong.push(format!("{} in {context:?}, {}: {other:?}, not {two}", row.name, map.name())),
                }
            }
        }
    }
    assert_eq!(wrong, Vec::<String>::new());
}

#[test]
fn a_whole_day_is_possible_with_each_hand() {
    for map in BuiltIn::ALL {
        // From a machine on which the program was never started to a book with a signed turn.
        let mut rig = Rig::empty(map);
        rig.open();
        let mut player = Player::new(map, rig);
        player.play(
            "go-on \"Thistle\" go-on \"Ann\" go-on 7 add lift-lh zone-4 pick-1 pick-3 put-on pick-1 pick-1 go-on rest-sound go-on",
        );
        player.play("due back ring back totals back light help back visit");
        assert_eq!(player.stuck, Vec::<String>::new(), "{map:?}");
        assert_eq!(player.rig.mode().context(), Context::List, "{map:?}: {:?}", player.rig.mode());
        let kinds: Vec<&str> = player.rig.every().iter().filter_map(|record| record.event().map(kind)).collect();
        let expected = [
            "person", "farm", "visit", "animal", "turn", "found", "told", "put", "told", "looked", "looked", "looked",
            "looked", "signed",
        ];
        assert_eq!(kinds, expected, "{map:?}");
    }
}

fn kind(event: &crushbook::domain::event::Event) -> &'static str {
    use crushbook::domain::event::Event;
    match event {
        Event::PersonBegun { .. } => "person",
        Event::FarmBegun { .. } => "farm",
        Event::VisitBegun { .. } => "visit",
        Event::AnimalBegun { .. } => "animal",
        Event::TurnBegun { .. } => "turn",
        Event::Found { .. } => "found",
        Event::Detailed { .. } | Event::PutDetailed { .. } => "told",
        Event::PutOn { .. } => "put",
        Event::Looked { .. } => "looked",
        Event::TurnSigned { .. } => "signed",
        _ => "else",
    }
}
