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
                assert!(!shown.contains("... l"), "nothing of it is left out, {keys} at {size:?}");
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
            let least = "ALWAYS SOLE 5 mm vet Ivo Lask ... l";
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
    assert!(!shown.contains("the same day") && shown.contains("... l"), "{shown}");
    let mut rig = six_days_later(MAP);
    rig.press("1 3 8 2 Enter 7 4 1 l");
    session.mode = rig.mode().clone();
    let mut shown = String::new();
    for top in 0..30 {
        if let Mode::Last { top: at, .. } = &mut session.mode {
            *at = top;
        }
        // One line more a step, below the two maps.
        shown.push_str(&text(&drawn(&session, (60, 20))));
    }
    let shown = shown.split_whitespace().collect::<Vec<_>>().join(" ");
    for part in ["open every dark line", "told to the vet the same day", "asked by Marla", "because", "REVIEW WAS DUE"]
    {
        assert!(shown.contains(part), "{part}: {shown}");
    }
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
            assert_eq!(words(&session, size).contains("ALWAYS"), there, "{scope:?}, {keys} at {size:?}");
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
        assert_eq!((whole, shown.contains("ALWAYS")), (size.0 == 120, size.0 == 120), "{size:?}\n{shown}");
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
