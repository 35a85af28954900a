//! What a turn costs in keys: every turn of the list, through every keymap, judged by what was written.
//!
//! `cargo test economy -- --nocapture` prints the table; DEVELOPERS.md keeps it, and `UPDATE_ECONOMY=1` writes it there.

use super::player::Player;
use super::rig::Rig;
use crate::support::turns::{DAY, DAY_TARGET, TURNS, Turn};
use crushbook::domain::event::Event;
use crushbook::domain::history::TurnState;
use crushbook::domain::practice::Region;
use crushbook::domain::record::Record;
use crushbook::domain::vocabulary::Vocabulary;
use crushbook::keys::keymap::BuiltIn;
use crushbook::report::words::Words;
use crushbook::session::{HerdLine, Notice};
use std::path::Path;
use std::sync::OnceLock;

/// No keymap needs more than so many times the keys of the first, in tenths; single turns of no more than so many keys aside.
const MOST_TENTHS: u32 = 15;
const SHORT: u32 = 5;

/// Keys of one turn, a keymap each.
type Counts = [u32; BuiltIn::ALL.len()];

/// A turn as it was played: the keys counted, and what was written in the meantime.
fn played(map: BuiltIn, turn: &Turn) -> (u32, Vec<String>) {
    let mut player = Player::new(map, Rig::with(map, &["1382", "44"]));
    for (wishes, days) in turn.before {
        player.play(wishes);
        if *days > 0 {
            player.rig.pass(*days);
        }
    }
    let (head, counted) = turn.wishes.split_once('(').expect("where counting begins");
    player.play(head);
    // Read without a new start, which would forget what was used last.
    let before =
        player.rig.session().trail.last().and_then(|press| press.records.last()).map_or(0, |record| record.id.seq);
    player.play(&format!("( {counted}"));
    let count = player.count;
    let said = player.rig.notice().cloned();
    let today = player.rig.today;
    let written = player.rig.every().into_iter().filter(|record| record.id.seq > before && record.on == today);
    if turn.name.starts_with("wrap called out") {
        let words = matches!(&said, Some(Notice::Words(words)) if words.contains("1382 BACK RIGHT"));
        assert!(words, "{map:?}: {said:?} {:?}", player.stuck);
    }
    (count, written.filter_map(|record| words(&record)).chain(player.stuck).collect())
}

/// What a record says; that a turn began goes without saying.
fn words(record: &Record) -> Option<String> {
    match record.event().expect("an event of this program") {
        Event::VisitBegun { .. } | Event::TurnBegun { .. } => None,
        Event::TurnSigned { open, .. } if !open.is_empty() => {
            let mut gaps: Vec<&str> = open.iter().map(|gap| gap.gap.word()).collect();
            gaps.dedup();
            Some(format!("signed off: {}", gaps.join(" ")))
        }
        event => Some(Words(Region::Plain).event(event)),
    }
}

/// Every turn through every keymap, played once for all tests; and what was written otherwise than it should be.
fn table() -> &'static (Vec<Counts>, Vec<String>) {
    static TABLE: OnceLock<(Vec<Counts>, Vec<String>)> = OnceLock::new();
    TABLE.get_or_init(|| {
        let mut wrong = Vec::new();
        let mut counts = |turn: &Turn| {
            BuiltIn::ALL.map(|map| {
                let (count, written) = played(map, turn);
                if written != turn.writes {
                    wrong.push(format!("{}, {}: {written:#?}", turn.name, map.name()));
                }
                count
            })
        };
        (TURNS.iter().map(&mut counts).collect(), wrong)
    })
}

/// The table for people.
fn text(rows: &[(String, String, Counts)]) -> String {
    let mut text = String::from("| keys after the number | at most |");
    BuiltIn::ALL.iter().for_each(|map| text.push_str(&format!(" {} |", map.name())));
    text.push_str("\n| --- | --- | --- | --- | --- | --- |\n");
    for (name, target, counts) in rows {
        text.push_str(&format!("| {name} | {target} |"));
        counts.iter().for_each(|count| text.push_str(&format!(" {count} |")));
        text.push('\n');
    }
    text
}

fn sums(of: impl Fn(usize) -> u32) -> Counts {
    std::array::from_fn(of)
}

fn rows() -> Vec<(String, String, Counts)> {
    let turns = TURNS.iter().zip(&table().0);
    let mut rows: Vec<_> =
        turns.map(|(turn, counts)| (turn.name.to_owned(), turn.target.to_string(), *counts)).collect();
    rows.push(("all of these".to_owned(), String::new(), sums(|map| table().0.iter().map(|counts| counts[map]).sum())));
    rows.push(("a day of sixty animals".to_owned(), DAY_TARGET.to_string(), day()));
    rows
}

/// A day of sixty, played animal by animal.
fn day() -> Counts {
    static DAY_OF_SIXTY: OnceLock<Counts> = OnceLock::new();
    *DAY_OF_SIXTY.get_or_init(|| {
        BuiltIn::ALL.map(|map| {
            let turns: Vec<&Turn> = DAY
                .iter()
                .flat_map(|(name, times)| {
                    let turn = TURNS.iter().find(|turn| turn.name == *name).expect("a turn of the list");
                    std::iter::repeat_n(turn, *times)
                })
                .collect();
            let numbers: Vec<String> = (0..turns.len()).map(|at| (2001 + at).to_string()).collect();
            let all: Vec<&str> = numbers.iter().map(String::as_str).collect();
            let mut player = Player::new(map, Rig::with(map, &all));
            let mut keys = 0;
            for (turn, number) in turns.iter().zip(&numbers) {
                player.play(&turn.wishes.replace("1382", number));
                keys += player.count;
            }
            let done = |line: &&HerdLine| line.turn.is_some_and(|turn| turn.state == TurnState::Signed);
            let signed = player.rig.session().herd.iter().filter(done).count();
            assert_eq!(signed, 60, "{map:?}: every one of them is signed off");
            keys
        })
    })
}

#[test]
#[expect(clippy::print_stdout, reason = "the table is what the test is asked for")]
fn economy_of_every_turn_holds_in_every_keymap() {
    assert!(TURNS.len() >= 20, "{} turns", TURNS.len());
    println!("{}", text(&rows()));
    assert_eq!(table().1, Vec::<String>::new(), "written otherwise");
    let mut over = Vec::new();
    for (turn, counts) in TURNS.iter().zip(&table().0) {
        for (map, count) in BuiltIn::ALL.iter().zip(counts) {
            if *count > turn.target {
                over.push(format!("{}: {count} keys with {}, at most {}", turn.name, map.name(), turn.target));
            }
            let two = counts[0];
            if *count > SHORT && count * 10 > two * MOST_TENTHS {
                over.push(format!("{}: {count} keys with {}, {two} with two hands", turn.name, map.name()));
            }
        }
    }
    assert_eq!(over, Vec::<String>::new());
}

const START: &str = "<!-- economy:start -->\n";
const END: &str = "<!-- economy:end -->";

#[test]
fn economy_stands_in_the_guide_as_it_is() {
    let guide = Path::new(env!("CARGO_MANIFEST_DIR")).join("DEVELOPERS.md");
    let kept = std::fs::read_to_string(&guide).expect("a guide");
    let (before, rest) = kept.split_once(START).expect("a mark before the table");
    let (table, after) = rest.split_once(END).expect("a mark behind it");
    let now = text(&rows());
    if std::env::var_os("UPDATE_ECONOMY").is_some() {
        std::fs::write(&guide, [before, START, &now, END, after].concat()).expect("the guide can be written");
        return;
    }
    assert_eq!(table, now, "DEVELOPERS.md: UPDATE_ECONOMY=1 cargo test economy writes the table");
}

#[test]
fn economy_of_the_whole_list_is_near_that_of_two_hands() {
    for (name, _, counts) in rows().iter().rev().take(2) {
        for count in counts {
            assert!(count * 10 <= counts[0] * MOST_TENTHS, "{name}: {counts:?}");
        }
    }
    assert_eq!(DAY.iter().map(|(_, times)| times).sum::<usize>(), 60);
    assert!(day().iter().all(|keys| *keys <= DAY_TARGET), "{:?}", day());
}
