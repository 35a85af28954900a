//! Every command over the hostile herd.

use super::herd::{number, records, texts};
use crate::commands::home::Home;
use crushbook::report::safe::safe;
use crushbook::store::Store;
use crushbook::store::medium::{Medium, hand_beside};
use crushbook::wire::envelope::encode;

fn home() -> Home {
    let home = Home::new();
    let book = home.path("herd.book");
    let (mut store, _) =
        Store::open(Medium::File(hand_beside(&book)), Medium::File(book), &mut || Ok(99)).expect("a new book");
    let raws: Vec<_> = records().iter().map(|record| Ok(encode(record).expect("it can be kept"))).collect();
    store.take(&mut raws.into_iter()).expect("taken");
    store.close().expect("at rest");
    home
}

/// Nothing in it moves a cursor, changes a colour or turns the direction of writing.
fn is_plain(what: &str, text: &str) {
    for line in text.split('\n') {
        assert_eq!(safe(line), line, "{what}");
    }
}

#[test]
fn no_list_and_no_animal_is_written_raw() {
    let home = home();
    let book = ["--book", "herd.book", "--today", "2026-05-09"];
    let mut asked: Vec<Vec<String>> = [
        &["due"][..],
        &["due", "--as", "json"],
        &["check"],
        &["twice"],
        &["twice", "--as", "json"],
        &["export"],
        &["farm"],
        &["farm", "--as", "csv"],
        &["farm", "--as", "json"],
        &["farm", "--as", "sheet"],
    ]
    .iter()
    .map(|words| words.iter().map(|word| (*word).to_owned()).collect())
    .collect();
    for index in 0..texts().len() {
        let farm = format!("F{index}");
        for command in [
            &["take-off-list", "--as", "text"][..],
            &["take-off-list", "--as", "html"],
            &["take-off-list", "--as", "ics"],
            &["take-off-list", "--as", "json"],
            &["day-list"],
            &["day-list", "--as", "json"],
            &["day-list", "--as", "sheet", "--blank", "1"],
            &["day-list", "--as", "csv"],
            &["visits", "--as", "csv"],
            &["visits"],
            &["visits", "--as", "json"],
            &["totals"],
            &["rules"],
            &["twice"],
            &["renumber", "nobody", "--number", "9"],
            &["herd"],
            &["herd", "--as", "csv"],
            &["herd", "--as", "json"],
            &["herd", "list.csv"],
            &["herd", "list.csv", "--as", "json"],
            &["herd", "list.csv", "--take", "all"],
            &["gone", "--missing-from", "list.csv"],
            &["undo"],
        ] {
            let with_farm = command.iter().copied().chain(["--farm", &farm]);
            asked.push(with_farm.map(str::to_owned).collect());
        }
        for form in ["text", "json", "sheet"] {
            let number = number(index);
            asked.push(["animal", &number, "--farm", &farm, "--as", form].map(str::to_owned).to_vec());
        }
    }
    let cells = texts().iter().map(|text| format!("\"{}\"", text.replace('"', "\"\""))).collect::<Vec<_>>();
    let lines: String = cells.iter().map(|cell| format!("{cell},{cell},{cell},9,{cell}\n")).collect();
    home.write("list.csv", &format!("number,tag,name,lactation,{}\n{lines}", cells[0]));
    for words in asked {
        let arguments: Vec<&str> = words.iter().map(String::as_str).chain(book).collect();
        let said = home.run(&arguments);
        assert!(matches!(said.code, Some(0..=2)), "{words:?} {:?} {}", said.code, said.err);
        let what = words.join(" ");
        is_plain(&what, &said.err);
        // A calendar ends its lines with CR LF (RFC 5545, 3.1), and so does a table (RFC 4180, 2).
        is_plain(&what, &said.out.replace("\r\n", "\n"));
        assert!(!what.contains("html") || !said.out.contains("<script"), "{what}");
        if said.code == Some(0) && what.contains("ics") {
            let longest = said.out.split("\r\n").map(str::len).max();
            assert!(longest <= Some(75), "{what}: {longest:?} octets in a line");
        }
        // No cell of a table begins with what a spreadsheet runs.
        if what.contains("csv") && what.contains("--as") {
            let cells = said.out.lines().flat_map(|line| line.split(',')).map(|cell| cell.trim_start_matches('"'));
            cells.for_each(|cell| assert!(!cell.starts_with(['=', '+', '-', '@']), "{what}: {cell}"));
        }
        if said.code == Some(0) && what.contains("json") {
            serde_json::from_str::<serde_json::Value>(&said.out).expect("JSON");
        }
    }
}

#[test]
fn no_argument_and_no_path_comes_back_raw() {
    let home = home();
    home.write("list.csv", "number\n1\n");
    for text in ["\u{1b}[2Jx", "a\u{202e}b", "c\u{9b}d"] {
        for arguments in [
            &["due", "--book", text][..],
            &["due", "--book", "herd.book", "--farm", text],
            &["due", "--book", "herd.book", "--today", text],
            &["due", "--region", text],
            &["animal", text, "--book", "herd.book", "--farm", "F0"],
            &["enter", text, "--book", "herd.book"],
            &["keys", text],
            &["twice", "join", text, "--book", "herd.book"],
            &["twice", "join", text, text, "--book", "herd.book", "--farm", "F0"],
            &["twice", "keep-apart", text, "--book", "herd.book"],
            &["twice", "part", text, "--book", "herd.book", "--farm", "F0"],
            &["renumber", text, "--number", text, "--book", "herd.book", "--farm", "F0"],
            &["renumber", "770", "--tag", text, "--book", "herd.book", "--farm", "F0"],
            &["rules", text, "--book", "herd.book"],
            &["herd", text, "--book", "herd.book", "--farm", "F0"],
            &["herd", "list.csv", "--book", "herd.book", "--farm", text, "--new-farm", "--take", "good"],
            &["gone", text, "--book", "herd.book", "--farm", "F0"],
            &["gone", "770", "--book", "herd.book", "--farm", "F0", "--how", text],
            &["farm", text, "--book", "herd.book"],
            &["farm", "F0", "--vet", text, "--name", text, "--book", "herd.book"],
            &["farm", "F0", "--contact-named", text, "--contact-does", text, "--book", "herd.book"],
            &["farm", "F1", "--contact-named", "Tom", "--contact-phone", text, "--book", "herd.book"],
            &["farm", "F1", "--contact-gone", text, "--book", "herd.book"],
            &["farm", "F1", "--gait-scale", text, "--book", "herd.book"],
            &["instruct", "hinds", text, "--by", text, "--book", "herd.book", "--farm", "F1"],
            &["instruct", "hinds", text, "--vet", text, "--book", "herd.book", "--farm", "F1"],
            &["instruct", "hinds", "x", "--takes-no-horn", "--by", text, "--book", "herd.book", "--farm", "F1"],
            &["instruct", "hinds", text, "--end", text, "--book", "herd.book", "--farm", "F1"],
            &["instruct", text, "x", "--book", "herd.book", "--farm", "F1"],
            &["undo", "--farm", "F1", "--book", "herd.book"],
            &["check", "--book", text],
            &["export", "--book", "herd.book", "--to", text],
            &["export", "--book", "herd.book", "--to", &format!("no/{text}")],
            &["import", text, &format!("no {text}"), "--book", "own.book"],
            &["join", &format!("no {text}"), "--book", "own.book"],
            &[text],
            &["due", text],
        ] {
            let said = home.run(arguments);
            is_plain(&format!("{arguments:?}"), &said.err);
            is_plain(&format!("{arguments:?}"), &said.out);
        }
    }
}

#[test]
fn what_another_tablet_wrote_is_told_plainly() {
    let home = home();
    for (other, book) in [("herd.book", "first.book"), ("herd.jsonl", "second.book")] {
        home.run(&["export", "--book", "herd.book", "--to", "herd.jsonl"]).well();
        let said = home.run(&["join", other, "--book", book, "--today", "2026-05-09"]);
        assert_eq!(said.code, Some(0), "{}", said.err);
        is_plain(other, &said.out);
        is_plain(other, &said.err);
    }
    // Files whose names or first lines would move a cursor.
    for (name, text) in [("a\u{1b}[2J.jsonl", "\u{1b}[2Jx\n"), ("b\u{202e}.jsonl", "{\"crushbook\":\"\u{202e}\"}\n")] {
        home.write(name, text);
        let said = home.run(&["import", name, "--book", "third.book"]);
        assert_eq!(said.code, Some(1));
        is_plain(name, &said.err);
    }
}
