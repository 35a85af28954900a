//! The list as text: never wider than its paper, nothing left out, pages that tear no entry.

use super::world::{PLAIN, World};
use crate::support::tablet::day;
use crushbook::domain::anatomy::{Foot, Place};
use crushbook::domain::event::Event;
use crushbook::domain::herd::{Labels, Status};
use crushbook::domain::treatment::Sign;
use crushbook::report::safe::{column, cut, wrapped};
use crushbook::report::take_off::text::{COLUMNS, pages, text};
use unicode_width::UnicodeWidthStr;

/// Names that no list was made for: wide, joined, without a blank, moving the cursor, turning the direction.
const HOSTILE: [&str; 7] = [
    "\u{1b}[31mred\u{1b}[0m\r\n\tNEXT",
    "abc\u{202e}fed\u{2066}x",
    "Rindviehhaltungsgemeinschaftsvorsitzendenstellvertreterin",
    "牛舎の北にある大きな牧草地のいちばん奥の柵のところにいる三頭目の白い牛",
    "e\u{301}e\u{301}e\u{301} \u{2764}\u{fe0f}\u{2764}\u{fe0f}\u{2764}\u{fe0f} 👩\u{200d}🌾",
    "<script>alert(1)</script>&\"'",
    "BEGIN:VEVENT\nUID:x;y,z\\n",
];

/// A farm on which everything is called by this.
pub fn called(name: &str) -> World {
    let mut world = World::new();
    world.named.name = name.to_owned();
    world.named.vet = name.to_owned();
    world.named.vet_phone = name.to_owned();
    let (wrapped, turn, _) = world.wrapped(day(1), name);
    let (blocked, _, _) = world.blocked(day(1), "2");
    for animal in [wrapped, blocked] {
        let labels = Labels { number: name.into(), name: name.into(), ..Labels::default() };
        world.tablet.write(day(1), animal.0, Event::Renumbered { animal, labels });
        world.status(day(1), animal, Status::Dry, name);
    }
    let place = Place::Foot(Foot::RightFront);
    let event = Event::VetAdvised { turn: Some(turn), place, sign: Sign::Tract, words: name.repeat(3) };
    world.tablet.write(day(1), wrapped.0, event);
    world
}

pub fn hostile() -> impl Iterator<Item = World> {
    HOSTILE.iter().map(|name| called(name))
}

#[test]
fn no_line_is_wider_than_the_paper() {
    assert_eq!(COLUMNS, 48, "an 80 mm receipt printer");
    let mut full = false;
    for world in hostile().chain([called("1394")]) {
        for today in [day(2), day(20), day(1) + chrono::Days::new(60)] {
            for line in world.text(today).lines() {
                assert!(line.width() <= 48, "{} columns: {line}", line.width());
                assert!(!line.chars().any(char::is_control), "{line:?}");
                assert!(!line.contains('\u{202e}') && !line.contains('\u{2066}'), "{line:?}");
                full |= line.width() == 48;
            }
        }
    }
    assert!(full, "some line uses all of it");
}

#[test]
fn a_name_too_long_for_a_line_is_broken_and_nothing_of_it_lost() {
    for name in &HOSTILE[2..4] {
        let world = called(name);
        let all: String = world.text(day(2)).split_whitespace().collect();
        // Farm, vet and number, twice each animal (number and name, group), and the vet's reason.
        assert!(all.matches(name).count() >= 3, "{name}\n{all}");
    }
}

#[test]
fn text_is_wrapped_between_words_and_measured_in_columns() {
    assert_eq!(wrapped("one two three", 7), ["one two", "three"]);
    assert_eq!(wrapped("abcdefghij kl", 4), ["abcd", "efgh", "ij", "kl"]);
    assert_eq!(wrapped("  ", 4), Vec::<String>::new());
    assert_eq!(wrapped("牛牛牛", 4), ["牛牛", "牛"]);
    assert_eq!(wrapped("牛", 1), ["牛"], "an end comes all the same");
    // A heart that is asked to be a picture is two columns wide.
    assert!(cut("\u{2764}\u{fe0f}\u{2764}\u{fe0f}", 3).width() <= 3);
    for text in HOSTILE {
        for columns in 1..20 {
            assert_eq!(column(text, columns).width(), columns, "{text:?}");
        }
    }
}

#[test]
fn an_empty_list_says_so() {
    let world = World::new();
    let text = world.text(day(2));
    assert!(text.starts_with("TAKE-OFF LIST                     SAT 2 May 2026\nThistle Bank\n"), "{text}");
    assert!(text.contains("\nNothing is on any foot.\n"), "{text}");
    assert!(!text.contains("TAKE OFF\n") && text.contains("no diagnosis"), "{text}");
}

#[test]
fn without_a_vet_there_is_a_line_to_write_one_on() {
    let mut world = World::new();
    (world.named.vet, world.named.vet_phone) = (String::new(), " ".into());
    assert!(world.text(day(2)).contains("\nVet: ____"), "{}", world.text(day(2)));
}

#[test]
fn pages_hold_all_of_it_and_tear_no_entry() {
    let mut world = World::new();
    for number in 1380..1392 {
        world.wrapped(day(1), &number.to_string());
        world.blocked(day(1), &format!("2{number}"));
    }
    let list = world.list(day(2));
    let whole = text(&list, PLAIN);
    for rows in [16, 20, 24, 40, 500] {
        let pages = pages(&list, PLAIN, rows);
        let count = pages.len();
        let mut lines = Vec::new();
        for (at, page) in pages.iter().enumerate() {
            assert!(page.len() <= rows, "{} rows of {rows}", page.len());
            assert!(page[0].starts_with("TAKE-OFF LIST") && page[1] == "Thistle Bank", "{page:#?}");
            assert_eq!(page[3].trim(), format!("page {} of {count}", at + 1));
            // A box and the line to sign on stay together.
            let of = |word: &str| page.iter().filter(|line| line.contains(word)).count();
            assert_eq!(of("[ ] 13"), of("who ____"), "{page:#?}");
            assert_eq!(of("WOOD BLOCK"), of("pain relief"), "{page:#?}");
            assert!(page.iter().all(|line| line.width() <= COLUMNS));
            lines.extend(page[4..].iter().map(|line| line.trim_end().to_owned()));
        }
        let expected: Vec<&str> = whole.lines().skip(3).collect();
        assert_eq!(lines, expected);
        assert_eq!(count == 1, rows == 500);
    }
    // No room at all: a line a page, and an end.
    assert!(pages(&list, PLAIN, 0).len() > 50);
}
