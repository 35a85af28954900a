//! Paper is held to the checks of the keys and the commands: what cannot be so is refused whole, with its line and what to do; what may be
//! a slip of the pen is said with its line, and the work goes on.

use super::home::{Home, Said, TODAY};

fn enter(home: &Home, text: &str) -> Said {
    home.run_with(&["enter", "-", "--book", "b.book", "--today", TODAY], text)
}

fn run(home: &Home, arguments: &[&str]) -> Said {
    home.run(&[arguments, &["--book", "b.book", "--today", TODAY]].concat())
}

fn sheet(lines: &str) -> String {
    format!("farm Lintel\nday 14 May 2026\nby Ann\n{lines}\n")
}

/// A farm with three animals, one of them gone, and another farm.
fn home() -> Home {
    let home = Home::new();
    let turn = |number: &str| format!("animal {number}\n  all four trimmed nothing found\n  signed\n");
    let first = ["12", "13", "14"].map(turn).concat();
    let both =
        format!("farm Lintel\nday 7 May 2026\nby Ann\n{first}\nfarm Threlmarsh\nday 7 May 2026\nby Ann\n{}", turn("7"));
    home.run_with(&["enter", "-", "--new-farm", "--book", "b.book", "--today", TODAY], &both).well();
    let sold = ["gone", "14", "--how", "sold", "--farm", "Lintel", "--book", "b.book", "--today", "2026-05-10"];
    home.run(&sold).well();
    home
}

fn count(home: &Home) -> usize {
    home.run(&["export", "--book", "b.book"]).well().lines().count()
}

/// Each line on a sheet of its own is refused with these words, and nothing is written.
fn refused(rows: &[(&str, &str)]) {
    let home = home();
    let before = count(&home);
    let mut wrong = Vec::new();
    for (line, why) in rows {
        let said = enter(&home, &sheet(&format!("told 12 kicks\n{line}")));
        let wanted = format!("1 mistake; nothing was entered\n  input:5:1: {why}\n");
        if said.code != Some(1) || !said.err.contains(&wanted) {
            wrong.push(format!("{line}: {}", said.err));
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
    assert_eq!(count(&home), before);
}

#[test]
fn days_that_cannot_be_hers() {
    refused(&[
        ("told 12 calved 15 May 2026", "calved: that day is still to come; look at the year"),
        ("told 12 dry since 2 June 2026", "dry from: that day is still to come; look at the year"),
        // 14 May and 354 days: counted on a calendar.
        (
            "told 12 due to calve 3 May",
            "due to calve: that is in 354 days, and no cow carries longer than 304; look at the year",
        ),
        ("told 12 calved 2 May 1926", "calved: that is longer ago than cattle live; look at the year"),
    ]);
    let home = home();
    home.write("list.csv", "number,born\n12,2024-06-01\n13,2024-06-01\n");
    run(&home, &["herd", "list.csv", "--farm", "Lintel", "--take", "all"]).well();
    let early = enter(&home, &sheet("told 12 calved 1 May 2024\ntold 13 dry since 1 May 2024")).complained(1);
    assert!(early.contains("input:4:1: calved: she was born on 1 Jun 2024; look at both days"), "{early}");
    assert!(early.contains("input:5:1: dry from: she was born on 1 Jun 2024; look at both days"), "{early}");
    // What may be so is kept: due today in 283 days, and what is told again is not asked about again.
    enter(&home, &sheet("told 12 due to calve 21 Feb 2027\ntold 13 calved 14 May 2026")).well();
    let late = enter(&home, &sheet("told 13 due to calve 1 Mar 2024"));
    assert_eq!(late.code, Some(1), "before she was born: {late:?}");
    let late = enter(&home, "farm Threlmarsh\nday 14 May 2026\nby Ann\ntold 7 due to calve 1 Mar 2026\n");
    let doubt = "crushbook: input:4: \"2026-03-01\": she would be 74 days past it, and no calving was told: look at the year, or say that she calved\n";
    assert_eq!((late.code, late.err.as_str()), (Some(0), doubt));
}

#[test]
fn a_list_with_such_a_day_is_not_taken_whole() {
    let home = home();
    let list = "number,born,calved,dry from,due to calve\n12,2026-06-01,,,\n13,,2027-01-01,,\n20,2024-01-01,2023-01-01,,\n21,,,,2028-05-01\n\
                22,,,2026-08-01,2026-10-01\n";
    home.write("list.csv", list);
    let said = run(&home, &["herd", "list.csv", "--farm", "Lintel", "--take", "all"]).complained(1);
    for why in [
        "list.csv:2: column born, \"2026-06-01\": that day is still to come: look at the year",
        "list.csv:3: column calved, \"2027-01-01\": that day is still to come: look at the year",
        "list.csv:4: column born, \"2024-01-01\": she calved on 1 Jan 2023, before that: look at both days",
        "list.csv:5: column due to calve, \"2028-05-01\": that is in 718 days, and no cow carries longer than 304",
    ] {
        assert!(said.contains(why), "{why}: {said}");
    }
    let good = run(&home, &["herd", "list.csv", "--farm", "Lintel", "--take", "good"]);
    assert!(good.out.contains("1 new") || good.out.contains("22"), "{good:?}");
    let herd = run(&home, &["herd", "--farm", "Lintel", "--as", "csv"]).well();
    assert!(herd.contains("2026-08-01") && !herd.contains("2028") && !herd.contains("2027"), "{herd}");
}

#[test]
fn a_label_of_another_one_that_is_none_and_a_call_about_one_who_left() {
    refused(&[
        (
            "told 12 number \"13\"",
            "another animal of this farm is called \"13\"; check the number; if both bear it, write number \"13\" shared",
        ),
        (
            "told 12 number \"1\\u{202e}3\"",
            "that is no number: letters stand in it that nobody sees: control characters, or marks that turn the direction of writing; type it anew, letter by letter",
        ),
        (
            "told 12 electronic number \"8260\"",
            "that is no electronic number: an electronic number has 15 digits; write it with all its digits",
        ),
        (
            "told 14 called \"lame\"",
            "she left: sold 10 May 2026; if she is back, write came back above it; what is not about her is told of the farm: told called",
        ),
    ]);
    let home = home();
    // Both are known on one sheet, too, and a tag is one with blanks and without.
    let two = enter(&home, &sheet("told 12 tag \"UK 284205 700016\"\ntold 13 tag \"uk284205700016\"")).complained(1);
    assert!(
        two.contains("input:5:1: another animal of this farm is called \"uk284205700016\"; check the tag"),
        "{two}"
    );
    let gone = enter(&home, &sheet("told 12 number \"14\"")).well();
    assert!(gone.contains("1 told"), "she who bore it left: {gone}");
    let shared = sheet("told 13 number \"14\" shared\ntold 13 name \"Clover\"");
    assert!(enter(&home, &shared).well().contains("2 told"));
    assert!(enter(&home, &shared.replace("13", "Clover")).well().contains("already entered"));
    // trade.md 9: herd 284205, animal 00016 gives 7. Paper keeps what stands on it.
    let tag = enter(&home, &sheet("told Clover tag \"UK 284205 300016\""));
    let doubt = "crushbook: input:4: \"UK 284205 300016\": the check digit of this GB tag should be 7: look at the tag, two digits may be \
                 swapped\n";
    assert_eq!((tag.code, tag.err.as_str()), (Some(0), doubt));
    let said = run(&home, &["renumber", "Clover", "--tag", "UK 284205 400016", "--farm", "Lintel"]);
    assert!(said.code == Some(0) && said.err.contains("the check digit of this GB tag should be 7"), "{said:?}");
}

#[test]
fn a_name_of_another_farm_a_number_that_is_none_and_a_contact_nobody_knows() {
    refused(&[
        (
            "told name \"threlmarsh\"",
            "another farm is called \"threlmarsh\"; write another name; if the two are one, join them first: crushbook twice lists them",
        ),
        (
            "told phone \"ask Ada\"",
            "the phone cannot be so; a telephone number is digits, like 01632 960123 or +44 1632 960123",
        ),
        (
            "told vet phone \"ask Ada\"",
            "the vet phone cannot be so; a telephone number is digits, like 01632 960123 or +44 1632 960123",
        ),
        (
            "told contact \"Q\" gone",
            "no contact there is called \"Q\"; no contact of this farm is known: take the line out",
        ),
    ]);
    let home = home();
    let said = run(&home, &["farm", "Lintel", "--phone", "ask Ada"]).complained(2);
    assert!(said.contains("a telephone number is digits"), "{said}");
    enter(&home, &sheet("told contact \"Tom\" \"milks\" \"01632 960123\"")).well();
    let said = enter(&home, &sheet("told contact \"Q\" gone")).complained(1);
    assert!(said.contains("no contact there is called \"Q\"; those there are: \"Tom\""), "{said}");
    let gone = sheet("told contact \"tom\" gone");
    assert!(enter(&home, &gone).well().contains("1 told"));
    assert!(enter(&home, &gone).well().contains("already entered"));
    // Its own name in other letters is its own, and later sheets of the same run find it by the new one.
    let named =
        format!("{}\nfarm Lintel Hill\nday 14 May 2026\nby Ann\ntold 12 kicks\n", sheet("told name \"Lintel Hill\""));
    assert!(enter(&home, &named).well().contains("Lintel Hill, THU 14 May 2026: 1 told"));
}

#[test]
fn a_day_long_ago_a_new_person_and_one_known_only_by_being_sold_are_said_and_kept() {
    let home = home();
    let old = enter(&home, &sheet("told 12 kicks").replace("2026", "1926"));
    let said = "crushbook: input:2: 14 May 1926 is 100 years before today, 14 May 2026. Is the year right?\n";
    assert_eq!((old.code, old.err.as_str()), (Some(0), said));
    enter(&home, &sheet("told 12 kicks").replace("14 May 2026", "14 May 2024")).well();
    let by = |name: &str| enter(&home, &sheet("told 13 cull").replace("by Ann", &format!("by {name}")));
    let jory = by("Jory");
    assert_eq!(jory.err, "crushbook: input:3: begins the person Jory; known: Ann\n", "{jory:?}");
    let jorry = by("Jorry");
    assert_eq!(
        jorry.err,
        "crushbook: input:3: begins the person Jorry; known: Ann, Jory; one letter from Jory. A slip of the pen?\n"
    );
    let ann = by("ann");
    let said = "crushbook: input:3: begins the person ann; known: Ann, Jorry, Jory; Ann but for how it is written: crushbook twice joins them\n";
    assert_eq!(ann.err, said);
    assert!(by("Jory").well().contains("already entered"), "known from now on");
    let hidden = by("Jo\u{202e}ry").complained(1);
    assert!(hidden.contains("input:3:1: nobody can be called") && hidden.contains("type it anew"), "{hidden}");
    let handed = "animal 13\n  LH lifted\n  handed over to \"Anne\"\n  RH lifted\n  signed";
    let handed = enter(&home, &sheet(handed));
    assert!(
        handed.err.starts_with(
            "crushbook: input:6: begins the person Anne; known: Ann, Jorry, Jory and 1 more; one letter from Ann."
        ),
        "{handed:?}"
    );
    for (told, by) in [
        ("90 sold", "being sold"),
        ("91 died", "having died"),
        ("92 called \"lame\"", "a call"),
        ("93 came back", "being back"),
        ("94 cull\ntold 94 LH inner gone", "what is told here"),
    ] {
        let number = &told[..2];
        let said = enter(&home, &sheet(&format!("told {told}")));
        let wanted = format!("crushbook: input:4: begins {number}, known only by {by}. A slip of the pen?\n");
        assert_eq!((said.code, said.err), (Some(0), wanted));
    }
    // She who is in the crush on the same sheet is known by more, and what a list may tell of a new one is no slip.
    let both = "told 95 sold\nanimal 95\n  LH lifted\n  signed\ntold 96 lactation 2";
    assert!(enter(&home, &sheet(both)).well().contains("new animal 95"));
}

#[test]
fn a_command_takes_no_letters_that_nobody_sees() {
    let home = home();
    let before = count(&home);
    for arguments in [
        &["renumber", "12", "--number", "1\u{202e}5", "--farm", "Lintel"][..],
        &["renumber", "12", "--tag", "UK\u{1b}[2J", "--farm", "Lintel"],
        &["renumber", "12", "--name", "Clo\u{200b}ver", "--farm", "Lintel"],
        &["renumber", "12", "--electronic", "826", "--farm", "Lintel"],
        &["farm", "Lintel", "--name", "Lin\u{202e}tel"],
        &["farm", "Lintel", "--vet", "Ivo\u{7}"],
        &["called", "lame", "--by", "To\u{202e}m", "--farm", "Lintel"],
        &["instruct", "all", "trim long", "--by", "To\u{202e}m", "--takes-no-horn", "--farm", "Lintel"],
        &["instruct", "all", "trim long", "--vet", "Iv\u{202e}o", "--farm", "Lintel"],
        &["herd", "list.csv", "--farm", "Ne\u{202e}w", "--new-farm", "--take", "all"],
    ] {
        home.write("list.csv", "number\n1\n");
        let said = run(&home, arguments).complained(2);
        assert!(said.contains("othing was written"), "{arguments:?}: {said}");
        assert!(!said.contains('\u{1b}') && !said.contains('\u{202e}'), "{said:?}");
    }
    assert_eq!(count(&home), before);
}

#[test]
fn what_is_told_of_an_instruction_stands_in_any_order() {
    let home = home();
    let line = "told instruction all \"trim long\" takes no horn review 1 Jun why \"white line\" by \"Hester\"";
    enter(&home, &sheet(line)).well();
    let printed = run(&home, &["farm", "Lintel", "--as", "sheet"]).well();
    let wanted = "told instruction all \"trim long\" by \"Hester\" why \"white line\" review 1 Jun no vet named\n";
    assert!(printed.contains(wanted), "{printed}");
}
