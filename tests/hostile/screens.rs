//! Every screen over the hostile herd, at several sizes.

use super::herd::{number, records, texts};
use crate::plain::form::check;
use crate::screens::world::buffer;
use crate::stories::rig::Rig;
use crushbook::keys::keymap::BuiltIn;
use crushbook::report::safe::safe;
use crushbook::screen::theme::Colour;

const SIZES: [(u16, u16); 4] = [(40, 15), (60, 20), (80, 24), (120, 40)];

/// Ways to look at her: due, farms to ring, paper, totals, the crush with a foot up, last time, the sign-off.
/// Two that may be one, the next two; what is new on her; what was wrong last time.
const WAYS: [&str; 22] = [
    "",
    "d",
    "t",
    "p",
    "s",
    "Enter 1",
    "Enter l",
    "Enter Enter",
    "w",
    "w 3",
    "Down c",
    "Enter l c",
    "Enter l c 1",
    "Enter l m 1",
    "f 9",
    "f 9 Enter",
    "f 9 Down Enter",
    "t Enter",
    "Enter 1 + 2 3",
    "f 7 1 x Enter",
    "f 6 Down Down Down Enter",
    "f 6 Down Down Down Enter 2",
];

#[test]
fn no_line_is_told_raw() {
    for index in 0..texts().len() {
        let base = Rig::over(BuiltIn::TwoHands, &records(), &format!("F{index}"));
        for way in WAYS.map(|way| way.replace("Down", "#1")) {
            let mut rig = base.copy();
            rig.open();
            let opened = way.starts_with("Enter").then(|| number(index));
            let mut told = String::new();
            // One key a line, since what is on her is heard first.
            for line in opened.iter().map(String::as_str).chain(way.split(' ')).chain(["say", "more", "more"]) {
                told.push_str(&rig.line(line));
            }
            let first = told.split(' ').next().and_then(|number| number.parse::<usize>().ok()).expect("a number");
            check(&told, first - 1);
        }
    }
}

/// A list whose cells, heads and very name are hostile: its files, what it would change, and what is asked of it.
#[test]
fn no_herd_list_is_drawn_or_told_raw() {
    let folder = tempfile::tempdir().expect("a folder");
    for (index, text) in texts().iter().enumerate() {
        let cell = text.replace('"', "\"\"");
        let rows = format!("number,name,{cell},lactation\n99{index},\"{cell}\",x,1\n\"{cell}\",,,\"{cell}\"\n");
        std::fs::write(folder.path().join(format!("{index}.csv")), rows).expect("written");
    }
    // What no file system takes for a name has only the cells.
    let name = "z\u{1b}[2J\u{202e}\u{7}.csv";
    if std::fs::write(folder.path().join(name), "number\n7\n").is_err() {
        std::fs::write(folder.path().join("z.csv"), "number\n7\n").expect("written");
    }
    let mut base = Rig::over(BuiltIn::TwoHands, &records(), "F0");
    base.lists = Some(folder.path().to_owned());
    for line in 0..=texts().len() {
        let down = vec!["Down"; line].join(" ");
        for way in ["", "Enter", "Enter PageDown", "Enter Enter", "Enter Enter 2"] {
            let mut rig = base.copy();
            rig.open();
            rig.press(&format!("f 9 a {down} {way}"));
            for size in SIZES {
                let drawn = buffer(rig.session(), BuiltIn::TwoHands, Colour::Full, size);
                for cell in drawn.content() {
                    assert_eq!(safe(cell.symbol()), cell.symbol(), "file {line}, {way}, {size:?}");
                }
            }
            let told = rig.line("say");
            let first = told.split(' ').next().and_then(|number| number.parse::<usize>().ok()).expect("a number");
            check(&told, first - 1);
        }
    }
}

#[test]
fn no_screen_is_drawn_raw() {
    for index in 0..texts().len() {
        let digits: Vec<String> = number(index).chars().map(String::from).collect();
        let base = Rig::over(BuiltIn::TwoHands, &records(), &format!("F{index}"));
        for way in WAYS {
            let mut rig = base.copy();
            rig.open();
            let keys = if way.starts_with("Enter") { format!("{} {way}", digits.join(" ")) } else { way.to_owned() };
            rig.press(&keys);
            for size in SIZES {
                let drawn = buffer(rig.session(), BuiltIn::TwoHands, Colour::Full, size);
                for cell in drawn.content() {
                    assert_eq!(safe(cell.symbol()), cell.symbol(), "text {index}, {keys}, {size:?}");
                }
            }
        }
    }
}
