//! Every question at every size: each choice stands whole on its own key, in the geometry of the keys.

use super::world::{buffer, screen, six_days_later, text};
use crate::stories::amend::twice_twelve;
use crate::stories::rig::Rig;
use crate::support::tablet::moment;
use crushbook::domain::anatomy::{Foot, Side, Zone};
use crushbook::domain::ids::RecordId;
use crushbook::domain::practice::{Practice, Region};
use crushbook::domain::record::Stamp;
use crushbook::domain::vocabulary::Vocabulary;
use crushbook::keys::intent::Intent;
use crushbook::keys::key::Key;
use crushbook::keys::keymap::{BuiltIn, Keymap, Resolution};
use crushbook::screen::View;
use crushbook::screen::brief::forms;
use crushbook::screen::theme::Colour;
use crushbook::screen::touch::Targets;
use crushbook::session::Session;
use crushbook::session::act::{Ask, Choice};
use crushbook::session::choices::{DOT, choices};
use crushbook::session::mode::{Hand, Mode};
use crushbook::session::touch::{Target, does};
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;

pub const SIZES: [(u16, u16); 3] = [(60, 20), (80, 24), (120, 40)];
const MAP: BuiltIn = BuiltIn::TwoHands;

/// Keys that lead from Today to a question, with 1382 and her past before them, each with a name of its own.
const WAYS: &[(&str, &str)] = &[
    ("grade and depth", "1 3 8 2 Enter 7 4 1"),
    ("grade and subtype", "1 3 8 2 Enter 7 2 1"),
    ("stage", "1 3 8 2 Enter 7 . 1"),
    ("side of a swelling", "1 3 8 2 Enter 7 . 2"),
    ("how a wrap was found", "1 3 8 2 Enter 3"),
    ("how a block was found", "1 3 8 2 Enter 1"),
    ("skin under it", "1 3 8 2 Enter 3 1"),
    ("whole foot", "1 3 8 2 Enter 7 e"),
    ("put on, a partner is known", "1 3 8 2 Enter 7 4 1 3 +"),
    ("put on, none is known", "1 3 8 2 Enter 7 +"),
    ("the farm", "f"),
    ("the farm, one picked", "1 3 8 2 f"),
    ("a call", "1 3 8 2 f 1"),
    ("a change", "f 2"),
    ("since when", "f 2 1"),
    ("two readings on a walk", "f 4 1 3 8 2 Enter"),
    ("instruction, which feet", "f 7"),
    ("what is new of a contact", "f 6 Down Down Down Enter T o m Enter Enter 9 6 0 1 2 3 Enter Enter"),
    ("is a contact gone", "f 6 Down Down Down Enter T o m Enter Enter 9 6 0 1 2 3 Enter Enter 2"),
    ("who answers", "f 6 Down Down Down Enter T o m Enter Enter 9 6 0 1 2 3 Enter Backspace t Enter"),
    ("who asks for it", "f 6 Down Down Down Enter T o m Enter Enter 9 6 0 1 2 3 Enter Backspace f 7 4 l o w Enter"),
    ("does it take horn away", "f 7 4 l o w e r Enter B o Enter t h i n Enter"),
    ("when is it looked at again", "f 7 4 l o w e r Enter B o Enter t h i n Enter 1"),
    ("what becomes of it", "f 7 4 l o w e r Enter B o Enter t h i n Enter 1 1 f 6 PageDown Down Down Down Enter"),
    ("what is she now", "f 9 Enter Up PageDown Down Enter"),
    ("what is taken of a good list", "f 9 a Enter Enter"),
    ("what is taken of a bad list", "f 9 a Down Enter Enter"),
    ("is whoever is missing gone", "f 9 a Enter Enter 1"),
    ("the visit", "f 3"),
    ("the visit, one under way", "f 3 2 f 3 3 f 3"),
    ("is it closed", "f 3 2 f 3 8"),
    ("is it closed, one waits", "7 Enter e 1 f 3 8"),
    ("who records", "y B e n Enter f 3 9"),
    ("closed all the same", "f 3 2 f 3 8 1"),
    ("which claw", "1 3 8 2 Enter 7 + 1"),
    ("kind of block", "1 3 8 2 Enter 7 4 1 3 + 1"),
    ("day of a wrap", "1 3 8 2 Enter 7 + 2"),
    ("who takes it off", "1 3 8 2 Enter 7 + 2 3"),
    ("colour", "1 3 8 2 Enter 7 + 2 3 1"),
    ("dressed with", "1 3 8 2 Enter 7 + 3"),
    ("take off", "1 3 8 2 Enter 7 -"),
    ("trimmed", "1 3 8 2 Enter 7 t"),
    ("gait", "1 3 8 2 Enter g"),
    ("the animal, no foot up", "1 3 8 2 Enter e"),
    ("the animal, a foot up", "1 3 8 2 Enter 7 j 6"),
    ("signs", "1 3 8 2 Enter v"),
    ("more signs", "1 3 8 2 Enter v 0"),
    ("signs, a foot up", "1 3 8 2 Enter 7 v"),
    ("more signs, a foot up", "1 3 8 2 Enter 7 v 0"),
    ("measure", "1 3 8 2 Enter 7 m"),
    ("an old grade", "1 3 8 2 Enter Space"),
    ("an old stage", "1 3 8 2 Enter 3 1 1 Space"),
    ("is it her", "1 3 8 2 Enter 7 - 1"),
    ("what became of her", "1 3 8 2 x"),
    ("what the farm says", "d -"),
    ("in once more", "7 Enter 5 Enter 7 Enter"),
    ("is she back", "7 x 2 7 Enter"),
    ("take back past a sign-off", "7 Enter 5 Enter u"),
    ("settle", "1 3 8 2 Enter Enter 1"),
    ("what is new on her", "1 3 8 2 c"),
    ("what was wrong", "1 3 8 2 Enter l c"),
    ("what is right", "1 3 8 2 Enter l c 1"),
    ("which finding is right", "1 3 8 2 Enter l c 1 6"),
    ("what is right of a block", "1 3 8 2 Enter l c 4"),
];

/// Every question, by name.
fn questions(region: Region) -> Vec<(String, Session)> {
    let mut all = Vec::new();
    for (name, keys) in WAYS {
        let mut rig = six_days_later(MAP);
        rig.practice = Practice { region, ..Practice::default() };
        rig.pass(0);
        rig.press(keys);
        assert!(matches!(rig.mode(), Mode::Pad { .. }), "{name} is a question: {:?}", rig.mode());
        all.push(((*name).to_owned(), rig.session().clone()));
    }
    let mut rig: Rig = six_days_later(MAP);
    rig.practice = Practice { region, ..Practice::default() };
    rig.pass(0);
    rig.press("1 3 8 2 Enter 7");
    for zone in Zone::all() {
        let mut session = rig.session().clone();
        let hand = Hand { foot: Some(Foot::LeftFront), side: Side::Inner, zone: Some(zone) };
        let place = zone.on(Foot::LeftFront, Side::Inner);
        session.mode = Mode::Pad { ask: Ask::Finding(place), under: Box::new(Mode::Crush(hand)) };
        all.push((format!("findings of zone {}", zone.number()), session));
    }
    all
}

/// Every mode and every question.
pub fn every_screen() -> Vec<Session> {
    let mut all: Vec<Session> = questions(Region::Plain).into_iter().map(|(_, session)| session).collect();
    for keys in super::sizes::MODES.into_iter().chain(["t", "p", "s", "1 3 8 2 Enter 7 n", "v Down Enter"]) {
        let mut rig = six_days_later(MAP);
        rig.press(keys);
        all.push(rig.session().clone());
    }
    let mut twins = twice_twelve();
    twins.press("w");
    all.push(twins.session().clone());
    all
}

/// A picture and what taps on it mean.
struct Picture {
    buffer: Buffer,
    targets: Vec<(Rect, Target)>,
}

impl Picture {
    fn of(session: &Session, size: (u16, u16)) -> Picture {
        let keymap = MAP.keymap();
        let view = View { keymap: &keymap, now: moment(session.today), colour: Colour::Full, targets: None };
        let targets = Targets::of(session, &view, size);
        Picture { buffer: buffer(session, MAP, Colour::Full, size), targets }
    }

    /// What stands where a tap means this: its rows one after the other.
    fn shows(&self, target: Target) -> String {
        let row =
            |area: &Rect, y| -> String { (area.left()..area.right()).map(|x| self.buffer[(x, y)].symbol()).collect() };
        let areas = self.targets.iter().filter(|(_, of)| *of == target).map(|(area, _)| area);
        let rows = areas.flat_map(|area| (area.top()..area.bottom()).map(move |y| row(area, y)));
        rows.collect::<Vec<_>>().join(" ")
    }
}

fn plain(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn key_of(choice: &Choice) -> (String, Target) {
    match choice.key {
        DOT => (".".to_owned(), Target::Wish(Intent::PickDot)),
        key => (key.to_string(), Target::Wish(Intent::Pick(key))),
    }
}

#[test]
fn every_choice_of_every_question_stands_whole_on_its_key_at_every_size() {
    for region in Region::ALL {
        for (name, session) in questions(*region) {
            let Mode::Pad { ask, .. } = &session.mode else { panic!("{name}") };
            for size in SIZES {
                let picture = Picture::of(&session, size);
                let list = choices(&session, ask);
                assert!(!list.is_empty(), "{name} has choices");
                for choice in list {
                    let (key, target) = key_of(&choice);
                    let shown = picture.shows(target);
                    let words = plain(&shown).strip_prefix(&key).map(plain);
                    let forms: Vec<String> = forms(&session, &choice.act).iter().map(|form| plain(form)).collect();
                    let whole = words.as_ref().is_some_and(|words| forms.contains(words));
                    assert!(
                        whole,
                        "{region:?} {name} at {size:?}: {shown:?} on {key} is none of {forms:?}\n{}",
                        text(&picture.buffer)
                    );
                }
            }
        }
    }
}

#[test]
fn every_question_stands_in_the_geometry_of_the_keys_at_every_size() {
    for region in Region::ALL {
        for (name, session) in questions(*region) {
            for size in SIZES {
                let shown = || text(&buffer(&session, MAP, Colour::Full, size));
                assert!(is_block(&session, size), "{name}, {region:?}, {size:?}\n{}", shown());
            }
        }
    }
}

/// Two, or several of one number, are told apart by what stands in their columns, so each has its key at the head of its own,
/// and the columns stand in the order of the keys. In cells there would be no room for what tells them apart.
#[test]
fn those_that_are_told_apart_stand_beside_each_other_in_the_order_of_their_keys() {
    let mut rig = twice_twelve();
    rig.press("1 2 Enter");
    let Mode::Pad { ask, .. } = rig.mode() else { panic!("{:?}", rig.mode()) };
    let keys: Vec<String> = choices(rig.session(), ask).iter().map(|choice| key_of(choice).0).collect();
    assert_eq!(keys, ["1", "2"]);
    for size in SIZES {
        let shown = text(&buffer(rig.session(), MAP, Colour::Full, size));
        let row = shown.lines().find(|line| line.contains(" 1  12 ")).unwrap_or_else(|| panic!("{size:?}\n{shown}"));
        let at: Vec<usize> = keys.iter().filter_map(|key| row.find(&format!(" {key}  12"))).collect();
        assert!(at.len() == keys.len() && at.is_sorted(), "{size:?}\n{shown}");
    }
}

#[test]
fn the_block_stands_in_its_geometry_in_the_crush_on_today_and_on_the_due_list() {
    for map in [BuiltIn::TwoHands, BuiltIn::Keypad] {
        let keymap = map.keymap();
        for keys in ["", "1 3", "1 3 8 2 Enter", "1 3 8 2 Enter 7", "1 3 8 2 Enter *", "1 3 8 2 Enter 7 *", "."] {
            let mut rig = six_days_later(map);
            rig.press(keys);
            for region in Region::ALL {
                let mut session = rig.session().clone();
                session.practice.region = *region;
                for size in SIZES {
                    let view =
                        View { keymap: &keymap, now: moment(session.today), colour: Colour::Full, targets: None };
                    let targets = Targets::of(&session, &view, size);
                    let shown = text(&buffer(&session, map, Colour::Full, size));
                    let mut seen = Vec::new();
                    for (key, place) in BLOCK {
                        let Some(target) = meant(&keymap, &session, key) else { continue };
                        // The last row has keys of its own, the head of a list too.
                        let drawn = |(area, of): &&(Rect, Target)| *of == target && area.y + 1 < size.1;
                        let at = targets.iter().rfind(drawn).map(|(area, _)| (area.x, area.y));
                        let at = at.unwrap_or_else(|| panic!("{key} is shown at {size:?} in {region:?}\n{shown}"));
                        seen.push((place, at));
                    }
                    assert!(seen.len() > 1, "{keys:?} at {size:?} has keys");
                    assert!(in_geometry(&seen), "{map:?} {keys:?} at {size:?}: {seen:?}\n{shown}");
                }
            }
        }
    }
}

/// The keys of a keypad with their column and row.
const BLOCK: [(Key, (u16, u16)); 12] = [
    (Key::Char('7'), (0, 0)),
    (Key::Char('8'), (1, 0)),
    (Key::Char('9'), (2, 0)),
    (Key::Char('4'), (0, 1)),
    (Key::Char('5'), (1, 1)),
    (Key::Char('6'), (2, 1)),
    (Key::Char('1'), (0, 2)),
    (Key::Char('2'), (1, 2)),
    (Key::Char('3'), (2, 2)),
    (Key::Char('0'), (0, 3)),
    (Key::Char('.'), (1, 3)),
    (Key::Enter, (2, 3)),
];

/// What a key means there after the keys that wait; none where it does nothing.
fn meant(keymap: &Keymap, session: &Session, key: Key) -> Option<Target> {
    let (next, now) = (RecordId { series: 1, seq: 1 }, moment(session.today));
    let stamp = Stamp { next, tick: 1, by: None, now, on: session.today };
    match keymap.resolve(session.mode.context(), &session.pending, key) {
        Resolution::Found(intent) => does(session, intent, &stamp).then_some(Target::Wish(intent)),
        Resolution::Pending => Some(Target::Begin(key)),
        Resolution::Unbound | Resolution::Cancelled => None,
    }
}

/// Column and row.
type At = (u16, u16);

/// Whether each lies to the other as it does on a keypad.
fn in_geometry(keys: &[(At, At)]) -> bool {
    keys.iter().all(|(a, here)| {
        keys.iter().all(|(b, there)| a.0.cmp(&b.0) == here.0.cmp(&there.0) && a.1.cmp(&b.1) == here.1.cmp(&there.1))
    })
}

/// Whether each key of the question lies where it lies on a keypad: left to right, and 7 above 4 above 1 above 0.
fn is_block(session: &Session, size: (u16, u16)) -> bool {
    let Picture { targets, .. } = Picture::of(session, size);
    let at = |target: Target| targets.iter().find(|(_, of)| *of == target).map(|(area, _)| (area.x, area.y));
    let place = |key: u8| match key {
        DOT => (1, 3),
        0 => (0, 3),
        key => (u16::from((key - 1) % 3), u16::from(2 - (key - 1) / 3)),
    };
    let Mode::Pad { ask, .. } = &session.mode else { return false };
    let choices = choices(session, ask);
    let seen: Vec<_> = choices.iter().filter_map(|choice| Some((place(choice.key), at(key_of(choice).1)?))).collect();
    in_geometry(&seen)
}

#[test]
fn no_two_targets_lie_over_each_other_and_none_outside() {
    for session in every_screen() {
        for size in SIZES {
            let Picture { targets, .. } = Picture::of(&session, size);
            assert!(!targets.is_empty(), "{:?} has something to tap", session.mode);
            for (index, (one, of)) in targets.iter().enumerate() {
                assert!(one.right() <= size.0 && one.bottom() <= size.1, "{of:?} at {one:?} is on the screen");
                let over = targets[index + 1..].iter().find(|(other, _)| one.intersects(*other));
                assert_eq!(over, None, "{of:?} at {one:?} in {:?} at {size:?}", session.mode);
            }
        }
    }
}

#[test]
fn a_finding_pad_offers_what_the_zone_can_hold_and_nothing_else() {
    for (name, session) in questions(Region::Plain) {
        let Mode::Pad { ask: Ask::Finding(place), .. } = &session.mode else { continue };
        for choice in choices(&session, &Ask::Finding(*place)) {
            if let crushbook::session::act::Act::Find(at, what) = choice.act {
                assert!(what.can_be_at(at) && at == *place, "{name}: {what:?}");
            }
        }
    }
}

/// The nine keys of one hand lie as a keypad does, so their letters stand where its digits would.
#[test]
fn the_block_shows_the_keys_of_the_hand_that_is_free() {
    let wanted = [
        (BuiltIn::TwoHands, ["7 LF", "5 all four", "En sign off"]),
        (BuiltIn::Keypad, ["7 LF", "5 all four", "En sign off"]),
        (BuiltIn::LeftHand, ["e LF", "f all four", "Sp sign off"]),
        (BuiltIn::RightHand, ["7 LF", "i all four", "En sign off"]),
    ];
    for (map, cells) in wanted {
        let mut rig = Rig::with(map, &["7"]);
        rig.press("7 Enter");
        let shown = screen(&rig, map, (80, 24));
        assert!(cells.iter().all(|cell| shown.contains(cell)), "{map:?}\n{shown}");
    }
    let left = screen(&Rig::with(BuiltIn::LeftHand, &["7"]), BuiltIn::LeftHand, (80, 24));
    assert!(left.contains("s due") && left.contains("e 7") && left.contains("Sp open"), "{left}");
}
