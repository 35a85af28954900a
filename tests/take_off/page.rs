//! The list as a page: closed, self-contained, and whatever somebody typed is text.

use super::paper::{called, hostile};
use super::world::World;
use crate::support::tablet::day;
use crushbook::domain::anatomy::{Foot, Side, Zone};
use crushbook::domain::event::Event;
use crushbook::domain::finding::{Degree, Finding};
use crushbook::report::take_off::map::map;
use crushbook::report::words::foot_in_full;

/// Elements that have no end (HTML, 13.1.2 void elements), as far as the page uses them.
const VOID: [&str; 2] = ["meta", "col"];

/// Reads the page strictly: every element closed in turn, every attribute quoted, every `&` and `<` part of something.
/// Gives the elements with their attributes, and the text without the style.
fn read(page: &str) -> (Vec<(String, String)>, String) {
    let mut rest = page.strip_prefix("<!DOCTYPE html>").expect("it says that it is HTML");
    let (mut open, mut elements, mut text): (Vec<String>, Vec<(String, String)>, String) = Default::default();
    while let Some(at) = rest.find('<') {
        let before = &rest[..at];
        if open.last().is_none_or(|name| name != "style") {
            text.push_str(&unescaped(before));
        }
        let end = at + rest[at..].find('>').unwrap_or_else(|| panic!("no end: {}", &rest[at..]));
        let tag = &rest[at + 1..end];
        rest = &rest[end + 1..];
        if let Some(name) = tag.strip_prefix('/') {
            assert_eq!(open.pop().as_deref(), Some(name), "closed out of turn");
            continue;
        }
        let (name, attributes) = tag.split_once(' ').unwrap_or((tag, ""));
        assert!(name.chars().all(|letter| letter.is_ascii_alphanumeric()), "{tag}");
        let quotes: Vec<&str> = attributes.split('"').collect();
        assert!(quotes.len() % 2 == 1 && quotes.last().is_some_and(|last| last.is_empty()), "quotes: {tag}");
        quotes.iter().step_by(2).filter(|name| !name.is_empty()).for_each(|name| {
            assert!(name.trim().ends_with('=') && !name.trim()[..name.trim().len() - 1].contains(['=', '\'']), "{tag}");
        });
        elements.push((name.to_owned(), attributes.to_owned()));
        if !VOID.contains(&name) {
            open.push(name.to_owned());
        }
    }
    assert!(open.is_empty() && rest.trim().is_empty(), "left open: {open:?} {rest}");
    (elements, text)
}

fn unescaped(text: &str) -> String {
    for (at, _) in text.match_indices('&') {
        let known = ["&amp;", "&lt;", "&gt;", "&quot;"].iter().any(|name| text[at..].starts_with(name));
        assert!(known, "{}", &text[at..]);
    }
    text.replace("&lt;", "<").replace("&gt;", ">").replace("&quot;", "\"").replace("&amp;", "&")
}

fn check(page: &str) -> String {
    let (elements, text) = read(page);
    for (name, attributes) in &elements {
        let plain = [
            "html", "head", "meta", "title", "style", "body", "header", "section", "footer", "h1", "h2", "p", "b",
            "span",
        ];
        let lists = ["ul", "ol", "li", "table", "colgroup", "col", "thead", "tbody", "tr", "th", "td", "small"];
        let drawn = ["svg", "g", "rect", "path", "text"];
        assert!([&plain[..], &lists, &drawn].concat().contains(&name.as_str()), "{name}");
        for word in ["href", "src", "style=", "on", "url", "http"] {
            let names = attributes.split('"').step_by(2);
            assert!(names.clone().all(|name| !name.trim().starts_with(word)), "{name} {attributes}");
        }
    }
    // Nothing outside is asked for, by any of the ways there are.
    let style = page.split_once("<style>").and_then(|(_, rest)| rest.split_once("</style>")).expect("a style").0;
    for word in ["url(", "@import", "http:", "https:", "//", "src", "expression", "<"] {
        assert!(!style.contains(word), "{word}: {style}");
    }
    assert!(!text.chars().any(|letter| letter.is_control() && letter != '\n'), "{text:?}");
    text
}

#[test]
fn the_page_is_closed_and_asks_nothing_of_anybody() {
    let mut world = World::new();
    let empty = check(&world.page(day(2)));
    assert!(empty.contains("Nothing is on any foot."), "{empty}");
    world.wrapped(day(1), "1394");
    world.blocked(day(1), "1387");
    for today in [day(2), day(9), day(1) + chrono::Days::new(60)] {
        let page = world.page(today);
        let text = check(&page);
        for words in ["Thistle Bank", "1394", "BACK LEFT BLUE WRAP", "off by MON 4 May evening milking, by Tom"] {
            assert!(text.contains(words), "{words}: {text}");
        }
        assert!(!page.contains("http"), "nothing outside is named at all");
    }
}

#[test]
fn what_somebody_typed_is_text() {
    for world in hostile() {
        check(&world.page(day(2)));
    }
    let text = check(&called("<script>alert(1)</script>&\"'").page(day(2)));
    assert!(text.contains("<script>alert(1)</script>&\"'"), "it is shown as it was typed: {text}");
}

#[test]
fn it_prints_on_a4_with_its_heads_on_every_page() {
    let page = World::new().page(day(2));
    for rule in ["@page { size: A4;", "thead { display: table-header-group; }", "tr { break-inside: avoid; }"] {
        assert!(page.contains(rule), "{rule}");
    }
}

#[test]
fn every_thing_to_take_off_has_its_box_its_map_and_a_place_to_sign() {
    let mut world = World::new();
    for number in 0..12 {
        world.wrapped(day(1), &number.to_string());
    }
    let page = world.page(day(2));
    for part in ["<td class=\"tick\"><span class=\"box\">", "<svg class=\"map\"", "<td class=\"who\">"] {
        assert_eq!(page.matches(part).count(), 12, "{part}");
    }
}

/// Cells of a drawing that a class covers: its rectangles, in columns and rows.
fn covered(svg: &str, class: &str) -> Vec<(u32, u32)> {
    let start = format!("<rect class=\"{class}\" ");
    let number = |part: &str, name: &str| -> u32 {
        let (_, rest) = part.split_once(&format!("{name}=\"")).expect("a number");
        rest.split('"').next().and_then(|number| number.parse().ok()).expect("a number")
    };
    let rects = svg.split(&start).skip(1);
    rects
        .flat_map(|part| {
            let [x, y, width] = ["x", "y", "width"].map(|name| number(part, name));
            (0..width / 5).map(move |col| ((x - 4) / 5 + col, (y - 4) / 10))
        })
        .collect()
}

#[test]
fn the_map_shows_the_right_foot_on_the_right_claw() {
    let mut world = World::new();
    let (animal, turn, _) = world.blocked(day(1), "1387");
    let place = Zone::from_number(4).expect("a zone").on(Foot::RightHind, Side::Outer);
    let event = Event::Found { turn, place, what: Finding::SU, degree: Degree::NotGiven, words: String::new() };
    world.tablet.write(day(1), animal.0, event);
    world.wrapped(day(1), "1394");
    let list = world.list(day(2));
    let on = list.on.iter().find(|on| on.animal == "1387").expect("the block");
    let svg = map(&on.marks, Foot::RightHind).into_string();
    // A right foot seen from above has its inner claw on the left and its outer one on the right; the drawing is 19 wide.
    let (block, found) = (covered(&svg, "block"), covered(&svg, "found"));
    assert!(!block.is_empty() && block.iter().all(|(col, _)| *col < 9), "{block:?}");
    assert!(!found.is_empty() && found.iter().all(|(col, _)| *col > 9), "{found:?}");
    assert!(svg.contains(">B</text>") && svg.contains(">SU</text>"), "{svg}");
    assert!(!svg.contains("hatch"), "no wrap there: {svg}");
    let wrap = list.on.iter().find(|on| on.animal == "1394").expect("the wrap");
    let svg = map(&wrap.marks, Foot::LeftHind).into_string();
    assert!(svg.contains("class=\"hatch\""), "{svg}");
    assert_eq!(list.on.len(), 2);
}

#[test]
fn beside_it_stands_where_on_the_animal_the_foot_is() {
    let mut world = World::new();
    world.wrapped(day(1), "1394");
    let marks = &world.list(day(2)).on[0].marks;
    // Left feet left, right feet right, front above hind.
    for (at, foot) in [Foot::LeftFront, Foot::RightFront, Foot::LeftHind, Foot::RightHind].into_iter().enumerate() {
        let svg = map(marks, foot).into_string();
        let feet: Vec<&str> = svg.split("<g transform=\"translate(").skip(1).collect();
        let here: Vec<usize> = (0..4).filter(|at| feet[*at].contains("class=\"here\"")).collect();
        assert_eq!(here, [at], "{foot:?}");
        let corner = |at: usize| -> Vec<u32> {
            let numbers = feet[at].split(')').next().expect("two numbers");
            numbers.split(' ').map(|number| number.parse().expect("a number")).collect()
        };
        let (left, right, below) = (corner(0), corner(1), corner(2));
        assert!(left[0] < right[0] && left[1] == right[1] && left[0] == below[0] && left[1] < below[1]);
        assert!(svg.contains(foot_in_full(foot)), "its name, for who cannot see it");
    }
}
