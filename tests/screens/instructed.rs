//! Standing instructions beside the map: whenever they apply, whole where there is room, and one that takes horn away never
//! without whose it is and how much sole stays.

use super::pads::SIZES;
use super::world::{buffer, six_days_later, text};
use crate::stories::rig::Rig;
use crushbook::domain::anatomy::Foot;
use crushbook::domain::herd::Scope;
use crushbook::domain::ids::RecordId;
use crushbook::domain::instruction::Instruction;
use crushbook::keys::keymap::BuiltIn;
use crushbook::screen::theme::Colour;
use crushbook::session::Session;
use crushbook::session::mode::Mode;
use ratatui::buffer::Buffer;

const MAP: BuiltIn = BuiltIn::TwoHands;

fn instruction(session: &Session, scope: Scope, text: &str) -> Instruction {
    Instruction {
        id: RecordId { series: 1, seq: 1 },
        since: session.today,
        scope,
        text: text.to_owned(),
        asked_by: "Marla".to_owned(),
        why: "white lines".to_owned(),
        review_on: None,
        vet: String::new(),
        reviewed: None,
    }
}

/// One as long as the sample herd's, that takes horn away and should have been looked at ten days ago.
fn of_the_vet(session: &Session, scope: Scope) -> Instruction {
    Instruction {
        vet: "Ivo Lask".to_owned(),
        review_on: session.today.checked_sub_days(chrono::Days::new(10)),
        ..instruction(session, scope, "leave the wall, take out what is loose, open every dark line to its end")
    }
}

fn with(keys: &str, of: impl Fn(&Session) -> Instruction) -> Session {
    let mut rig = six_days_later(MAP);
    rig.press(&format!("1 3 8 2 Enter {keys}"));
    let mut session = rig.session().clone();
    session.instructions = vec![of(&session)];
    session
}

fn drawn(session: &Session, size: (u16, u16)) -> Buffer {
    buffer(session, MAP, Colour::Full, size)
}

/// Whether one of them is for the foot in hand: then the map leaves the words more room.
fn is_to_read(session: &Session, foot: Foot) -> bool {
    session.instructions.iter().any(|one| one.scope.covers(foot))
}

/// The words of a screen, whether a review is due or not: what stands beside the map and what stands under it, each going on from
/// line to line, then every line whole.
fn words(session: &Session, size: (u16, u16)) -> String {
    let shown = text(&drawn(session, size));
    let foot = session.mode.hand().and_then(|hand| hand.foot);
    let left = match (size.0, foot.map(|foot| is_to_read(session, foot))) {
        (60, Some(true)) => 36,
        (60, _) | (80, Some(true)) => 40,
        (80, None) => 41,
        (80, Some(false)) => 53,
        (120, None) => 81,
        (_, _) => 77,
    };
    let joined = |part: &dyn Fn(&str) -> String| {
        let parts: Vec<String> = shown.lines().map(|line| part(line).trim().to_owned()).collect();
        parts.join(" ")
    };
    let beside = joined(&|line| line.chars().skip(left).collect());
    let under = joined(&|line| line.chars().take(left).collect());
    let lines: Vec<&str> = shown.lines().map(str::trim).collect();
    let all = format!("{beside} | {under} | {}", lines.join(" | "));
    all.replace("ALWAYS!", "ALWAYS")
}

/// Ways on which a foot is up, with little room and much.
const UP: [&str; 7] = ["1", "1 Enter 1", "7", "7 4", "7 4 1", "7 +", "7 t"];

#[test]
fn what_is_always_done_at_this_foot_stands_beside_it_whole() {
    for keys in UP {
        let session = with(keys, |session| instruction(session, Scope::All, "leave the heel of the inner claw"));
        for size in SIZES {
            let wanted = "ALWAYS all feet: leave the heel of the inner claw";
            assert!(words(&session, size).contains(wanted), "{keys} at {size:?}\n{}", text(&drawn(&session, size)));
        }
    }
}

/// One as long as the sample herd's is read to its end at every size, whatever is asked of the foot and however much is on her;
/// and what is loudest about her has its lines all the same.
#[test]
fn text_who_asked_why_since_when_and_the_review_stand_beside_the_foot_in_hand() {
    for keys in UP {
        let mut session = with(keys, |session| Instruction {
            asked_by: "Marla Tove".to_owned(),
            why: "white line trouble there goes on, fewer than before".to_owned(),
            ..of_the_vet(session, Scope::All)
        });
        let of_no_vet = Instruction { vet: String::new(), review_on: None, ..session.instructions[0].clone() };
        for (one, review) in [(session.instructions[0].clone(), "REVIEW WAS DUE"), (of_no_vet, "review ")] {
            session.instructions = vec![one];
            for size in SIZES {
                let shown = words(&session, size);
                let since = format!("since {}", session.today.format("%-d %b %Y"));
                for part in [
                    "leave the wall, take out what is loose, open every dark line to its end",
                    since.as_str(),
                    "asked by Marla Tove",
                    "because white line trouble there goes on, fewer than before",
                    review,
                ] {
                    assert!(shown.contains(part), "{part}, {keys} at {size:?}\n{}", text(&drawn(&session, size)));
                }
                assert!(!shown.contains("Tab"), "nothing of it is left out, {keys} at {size:?}");
            }
        }
    }
}

#[test]
fn one_of_the_vet_never_stands_without_the_least_sole_and_the_vet() {
    // Sole at the toe: 5 mm critical (trade.md, section 4: Tsuka et al., from memory). One that takes horn away names the vet and
    // stands with the sole minimum beside it (trade.md, section 8).
    for keys in ["", "1", "1 Enter 1", "7", "7 4", "7 4 1", "7 +", "7 + 2", "7 t", "7 -"] {
        let session = with(keys, |session| of_the_vet(session, Scope::All));
        for size in SIZES {
            let shown = words(&session, size);
            let wanted = "ALWAYS all feet, sole at least 5 mm, vet Ivo Lask: leave";
            // Beside the pad of a finding two rows are left at 80 columns.
            let least = "ALWAYS SOLE 5 mm vet Ivo Lask ... Tab";
            let is_narrow = size == (80, 24) && shown.contains(least);
            assert!(shown.contains(wanted) || is_narrow, "{keys} at {size:?}\n{}", text(&drawn(&session, size)));
        }
    }
    let mut session = with("7", |session| of_the_vet(session, Scope::All));
    session.rules.practice.sole = 7;
    assert!(words(&session, (60, 20)).contains("sole at least 7 mm"), "the rule says how much");
}

#[test]
fn what_is_left_out_on_a_small_screen_is_one_key_away() {
    // More than has room: so long a text is cut, and its reason with it.
    let long = "leave the wall, take out what is loose, open every dark line to its end, and where the sole gives way under \
                the thumb leave all of it and put her on straw; what looks the same on both feet is told to the vet the same day";
    let mut session = with("7 4 1", |session| Instruction { text: long.to_owned(), ..of_the_vet(session, Scope::All) });
    let shown = words(&session, (60, 20));
    assert!(!shown.contains("the same day") && shown.contains("... Tab"), "{shown}");
    let at_the_pad = session.mode.clone();
    for size in SIZES {
        session.mode = Mode::Always { top: 0, under: Box::new(at_the_pad.clone()) };
        let shown = joined(&session, size);
        for part in [
            "ALWAYS AT THIS CLAW all feet, sole at least 5 mm, vet Ivo Lask: leave the wall",
            "told to the vet the same day",
            "asked by Marla, because white lines",
            "since 8 May 2026",
            "REVIEW WAS DUE 28 Apr 2026",
        ] {
            assert!(shown.contains(part), "{part} at {size:?}: {shown}");
        }
    }
}

/// A screen as one line of words.
fn joined(session: &Session, size: (u16, u16)) -> String {
    text(&drawn(session, size)).split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn the_key_opens_them_over_the_map_and_goes_back_in_every_keymap() {
    for (map, key, go) in [
        (MAP, "Tab", "Enter"),
        (BuiltIn::Keypad, "* * Enter", "Enter"),
        (BuiltIn::LeftHand, "Tab Tab Space", "Space"),
        (BuiltIn::RightHand, "n n Enter", "Enter"),
    ] {
        let mut rig = six_days_later(map);
        rig.press("1 3 8 2 Enter");
        // No foot up, one up, a question over it, one about what was just found.
        for way in ["", "7", "4", "1"] {
            rig.press(way);
            let (before, held) = (rig.mode().clone(), rig.held());
            for back in [key, "Backspace", go] {
                rig.press(key);
                assert!(matches!(rig.mode(), Mode::Always { top: 0, .. }), "{map:?} {way}: {:?}", rig.mode());
                let shown = text(&buffer(rig.session(), map, Colour::Full, (60, 20)));
                assert!(shown.contains("no standing instruction holds on this farm"), "{map:?}: {shown}");
                rig.press(back);
                assert_eq!(*rig.mode(), before, "{map:?} {way} {back}");
            }
            assert_eq!(rig.held(), held, "{map:?} {way}: it writes nothing");
        }
    }
}

#[test]
fn more_than_a_screen_holds_is_walked_to_its_end() {
    let mut session = three(&with("7", |session| of_the_vet(session, Scope::All)), 3);
    session.instructions.extend(session.instructions.clone());
    let under = Box::new(session.mode.clone());
    session.mode = Mode::Always { top: 0, under: under.clone() };
    let first = joined(&session, (60, 20));
    assert!(first.contains("more lines, Down"), "{first}");
    session.mode = Mode::Always { top: 1000, under };
    let last = joined(&session, (60, 20));
    assert!(last.contains("that is all; up Up") && last.contains("second:"), "{last}");
}

/// So many for the foot in hand, the last of them of the vet.
fn three(session: &Session, count: usize) -> Session {
    let words = [
        "first: leave the heel of the inner claw as it is",
        "second: open every dark line to its end",
        "third: lower a little toward the heel",
    ];
    let of = |(at, words): (usize, &&str)| {
        let one = if at == 2 { of_the_vet(session, Scope::All) } else { instruction(session, Scope::All, "") };
        Instruction { id: RecordId { series: 1, seq: 1 + at as u64 }, text: (*words).to_owned(), ..one }
    };
    Session { instructions: words.iter().take(count).enumerate().map(of).collect(), ..session.clone() }
}

/// Of several that hold for one foot none is missing without a trace: its first words are there, or it is counted; and where who
/// asked, why, since when or the review of any has no room, a row says so with the key.
#[test]
fn of_several_for_one_foot_each_stands_there_or_is_counted() {
    for keys in ["", "1", "1 Enter 1", "7", "7 4", "7 4 1", "7 +", "7 t", "7 -"] {
        let base = with(keys, |session| instruction(session, Scope::All, "x"));
        for count in [1, 2, 3] {
            let session = three(&base, count);
            for size in SIZES {
                let (shown, raw) = (words(&session, size), text(&drawn(&session, size)));
                let there = ["first:", "second:", "third:"].iter().filter(|word| shown.contains(**word)).count();
                // Two rows: how much sole stays, and whose it is.
                let least = usize::from(shown.contains("ALWAYS SOLE 5 mm"));
                let counted = (1..=count).rev().find(|left| {
                    [format!("+{left} more"), format!("{left} ALWAYS: Tab"), format!("+{left} ...")]
                        .iter()
                        .any(|form| shown.contains(form))
                });
                assert_eq!(there + least + counted.unwrap_or(0), count, "{keys} at {size:?}\n{raw}");
                let told = shown.matches("asked by Marla, because white lines").count();
                let since = shown.matches("since 8 May 2026").count();
                let all = told >= count && since >= count;
                assert!(all || shown.contains("Tab"), "{told} and {since} of {count}, {keys} at {size:?}\n{raw}");
            }
        }
    }
    // At 80 columns and more the words of three stand whole beside a foot of which nothing is asked.
    let session = three(&with("7", |session| instruction(session, Scope::All, "x")), 3);
    for size in [(80, 24), (120, 40)] {
        let shown = words(&session, size);
        for words in ["the inner claw as it is", "dark line to its end", "lower a little toward the heel"] {
            assert!(shown.contains(words), "{words} at {size:?}\n{}", text(&drawn(&session, size)));
        }
    }
}

/// A wrap that is late is not displaced by words, however many (common practice).
#[test]
fn what_is_late_on_her_keeps_a_row_beside_any_number_of_instructions() {
    for keys in ["7", "1", "3"] {
        let mut rig = Rig::at(MAP, "Quillbarrow");
        rig.press(&format!("1 3 9 4 Enter {keys}"));
        for count in [1, 2, 3] {
            let session = three(rig.session(), count);
            for size in SIZES {
                let raw = text(&drawn(&session, size));
                assert!(raw.contains("RH yellow WRAP"), "{count} of {keys} at {size:?}\n{raw}");
            }
        }
    }
}

#[test]
fn one_for_the_other_claw_of_the_foot_in_hand_is_counted_and_so_are_those_of_some_feet_before_one_is_up() {
    for (keys, scope, trace) in [
        ("7", Scope::OuterFront, "1 ALWAYS: Tab"),
        ("7", Scope::InnerHind, ""),
        ("1", Scope::InnerHind, "1 ALWAYS: Tab"),
        ("", Scope::InnerHind, "1 ALWAYS: Tab"),
    ] {
        let session = with(keys, |session| instruction(session, scope, "leave the heel"));
        for size in [(60, 20), (80, 24)] {
            let shown = words(&session, size);
            assert_eq!(
                (shown.contains("ALWAYS"), shown.contains(trace)),
                (!trace.is_empty(), true),
                "{scope:?}, {keys} at {size:?}\n{shown}"
            );
        }
    }
    let mut session = with("7", |session| instruction(session, Scope::All, "leave the heel"));
    session.instructions.push(instruction(&session, Scope::OuterFront, "round the toe"));
    for size in SIZES {
        let shown = words(&session, size);
        assert!(shown.contains("leave the heel") && shown.contains("+1 more ALWAYS: Tab"), "{size:?}\n{shown}");
    }
}

/// One of before the questions were asked says what nobody said.
#[test]
fn of_one_of_before_it_is_said_that_nobody_said_who_asked_or_why() {
    let old = |session: &Session| Instruction {
        asked_by: String::new(),
        why: String::new(),
        ..instruction(session, Scope::All, "leave the heel")
    };
    let mut session = with("7", old);
    for size in SIZES {
        let shown = words(&session, size);
        assert!(shown.contains("since 8 May 2026, nobody said who asked or why"), "{size:?}\n{shown}");
    }
    session.mode = Mode::Always { top: 0, under: Box::new(session.mode.clone()) };
    let shown = joined(&session, (60, 20));
    assert!(
        shown.contains("nobody said who asked or why since 8 May 2026, review 6 Aug 2026, no vet named"),
        "{shown}"
    );
}

#[test]
fn it_stands_there_for_its_own_feet_and_claws_only() {
    for (scope, keys, there) in [
        (Scope::All, "", true),
        (Scope::All, "7", true),
        (Scope::Fronts, "7", true),
        (Scope::Hinds, "7", false),
        // The cursor starts on the inner claw in front.
        (Scope::InnerFront, "7", true),
        (Scope::OuterFront, "7", false),
        (Scope::OuterFront, "7 Left", true),
        (Scope::InnerHind, "7", false),
    ] {
        let session = with(keys, |session| instruction(session, scope, "leave the heel"));
        for size in SIZES {
            assert_eq!(words(&session, size).contains("leave the heel"), there, "{scope:?}, {keys} at {size:?}");
        }
    }
}

#[test]
fn before_a_foot_is_lifted_all_of_them_are_read_whole_where_nothing_else_gives_way_to_them() {
    let session = with("", |session| instruction(session, Scope::Fronts, "leave the heel"));
    for size in SIZES {
        let shown = words(&session, size);
        let whole =
            shown.contains("ALWAYS fronts: leave the heel") && shown.contains("asked by Marla, because white lines");
        assert_eq!((whole, shown.contains("1 ALWAYS: Tab")), (size.0 == 120, size.0 != 120), "{size:?}\n{shown}");
    }
    // On an animal with little on her there is room at 80 columns too.
    let mut rig = Rig::at(MAP, "Threlmarsh");
    rig.press("9 9 9 a");
    let shown = words(rig.session(), (80, 24));
    assert!(shown.contains("ALWAYS inner front, sole at least 5 mm, vet Ivo Lask: leave the wall"), "{shown}");
    assert!(
        shown.contains("asked by") && shown.contains("because") && shown.contains("REVIEW WAS DUE 4 May 2026"),
        "{shown}"
    );
}

#[test]
fn a_review_that_is_due_is_said_in_the_tone_of_what_is_due() {
    let shade = |session: &Session| {
        let drawn = drawn(session, (80, 24));
        let cells: Vec<(u16, u16)> =
            (0..drawn.area.height).flat_map(|y| (0..drawn.area.width).map(move |x| (x, y))).collect();
        let at = cells.iter().find(|(x, y)| {
            (0..6).all(|on| {
                drawn
                    .cell((x + on, *y))
                    .is_some_and(|cell| cell.symbol() == &"ALWAYS"[usize::from(on)..=usize::from(on)])
            })
        });
        at.map(|(x, y)| drawn[(*x, *y)].bg).expect("it stands there")
    };
    let coming = with("7", |session| instruction(session, Scope::All, "leave the heel"));
    let due = with("7", |session| of_the_vet(session, Scope::All));
    assert_ne!(shade(&coming), shade(&due));
    // Without colour it is said in letters: in words where there is a row for them.
    for (keys, size, said) in
        [("7", (60, 20), "REVIEW WAS DUE"), ("7 4 1", (80, 24), "REVIEW WAS DUE"), ("7", (120, 40), "REVIEW WAS DUE")]
    {
        let due = with(keys, |session| of_the_vet(session, Scope::All));
        assert!(text(&drawn(&due, size)).contains(said), "{keys} at {size:?}\n{}", text(&drawn(&due, size)));
    }
    assert!(!words(&coming, (80, 24)).contains("REVIEW"));
}

#[test]
fn the_sample_herd_s_stands_beside_an_inner_front_claw() {
    let mut rig = Rig::at(MAP, "Threlmarsh");
    rig.press("9 9 9 a 7");
    for size in SIZES {
        let shown = words(rig.session(), size);
        let wanted = "ALWAYS inner front, sole at least 5 mm, vet Ivo Lask: leave the wall";
        assert!(shown.contains(wanted), "{size:?}\n{}", text(&drawn(rig.session(), size)));
        let review = "REVIEW WAS DUE 4 May 2026";
        let raw = text(&drawn(rig.session(), size));
        assert!(shown.contains(review) || raw.contains(review), "{size:?}\n{raw}");
    }
}
