//! Who should come through and why: each reason at its number and not one short of it, what was missed, what was done, and
//! sheets that read back once they are filled in.

use super::home::{Home, TODAY};
use serde_json::Value;

/// All of them were looked at in February and none was trimmed.
fn seen(numbers: &[&str]) -> String {
    let turns = numbers.iter().map(|number| format!("animal {number}\n  hinds lifted\n  signed\n"));
    format!("farm Hollow\nday 1 Feb 2026\n{}", turns.collect::<String>())
}

fn told(lines: &[&str]) -> String {
    format!("farm Hollow\nday 13 May 2026\n{}\n", lines.join("\n"))
}

fn home(sheets: &[String]) -> Home {
    let home = Home::new();
    for sheet in sheets {
        home.write("day.txt", sheet);
        home.run(&["enter", "day.txt", "--book", "b.book", "--today", TODAY]).done();
    }
    home
}

fn list(home: &Home, on: &str) -> Value {
    let said = home.run(&["day-list", "--book", "b.book", "--today", on, "--as", "json"]).well();
    serde_json::from_str(&said).expect("JSON")
}

/// Who is expected, and for what first.
fn expected(list: &Value) -> Vec<(String, String)> {
    let text = |value: &Value| value.as_str().expect("text").to_owned();
    let animals = list["animals"].as_array().expect("a list");
    animals.iter().map(|row| (text(&row["animal"]), text(&row["reason"]))).collect()
}

fn pairs(list: &[(String, String)]) -> Vec<(&str, &str)> {
    list.iter().map(|(animal, reason)| (animal.as_str(), reason.as_str())).collect()
}

/// 60 to 150 days in milk, and none in the last 28 days before calving: ordinary schedules and the odds of abortion after
/// late trims (2.4, 1.48 million pregnancies; trade.md 8). Dry-off within 30 days, calving from 60 days on: common practice.
#[test]
fn routine_trims_at_their_days_and_not_one_before_or_after() {
    let numbers = ["59", "60", "150", "151", "228", "229", "260", "261", "330", "331"];
    let home = home(&[
        seen(&numbers),
        told(&[
            "told 59 calved 16 Mar 2026",
            "told 60 calved 15 Mar 2026",
            "told 150 calved 15 Dec 2025",
            "told 151 calved 14 Dec 2025",
            "told 228 due to calve 11 Jun 2026",
            "told 228 dry since 1 May 2026",
            "told 229 due to calve 12 Jun 2026",
            "told 260 due to calve 13 Jul 2026",
            "told 261 due to calve 14 Jul 2026",
            "told 330 dry since 14 Apr 2026",
            "told 331 dry since 13 Apr 2026",
        ]),
    ]);
    let list = list(&home, TODAY);
    let who = expected(&list);
    let wanted = [("330", "dried-off"), ("60", "in-milk"), ("150", "in-milk"), ("229", "calving"), ("260", "calving")];
    assert_eq!(pairs(&who), wanted, "{list:#}");
    assert_eq!(list["spared"][0]["animal"], "228");
    assert_eq!(list["spared"].as_array().map(Vec::len), Some(1));
}

/// A table drops nothing that the other forms tell.
#[test]
fn a_table_tells_also_what_stands_beside_the_list() {
    let home = Home::with_herd();
    let table =
        home.run(&["day-list", "--farm", "Quillbarrow", "--book", "herd.book", "--today", TODAY, "--as", "csv"]).well();
    let json = home.json(&["day-list", "--farm", "Quillbarrow", "--book", "herd.book"]);
    let rows = |reason: &str| table.lines().filter(|row| row.split(',').nth(1) == Some(reason)).count();
    for (field, reason) in
        [("spared", "spared"), ("still_here", "still-here"), ("calls", "farm-called"), ("reviews", "review")]
    {
        assert_eq!(json[field].as_array().map(Vec::len), Some(rows(reason)), "{reason}: {table}");
    }
    assert!(rows("spared") > 0 && rows("farm-called") > 0, "{table}");
}

/// Two years in which nobody saw her or told anything of her (common practice): she is asked about, counted in one line, and on every
/// form of the list. What is on her, and what the farm says, keeps her on it.
#[test]
fn whoever_nobody_saw_for_two_years_is_asked_about_and_not_expected() {
    let of = |day: &str, numbers: &[&str], more: &str| {
        let turns = numbers.iter().map(|number| format!("animal {number}\n  LH lifted\n{more}  signed\n"));
        format!("farm Hollow\nday {day}\n{}", turns.collect::<String>())
    };
    let wrap = "  LH heel wrap blue off by 16 May 2024 by \"Tom\"\n";
    let home = home(&[
        of("14 May 2024", &["730"], ""),
        of("13 May 2024", &["1", "2", "3", "5", "6"], ""),
        of("13 May 2024", &["4"], wrap),
        "farm Hollow\nday 20 May 2024\ntold 6 sold\n".to_owned(),
        told(&["told 3 called \"slow\"", "told 5 dry since 1 Jan 2026", "told 6 came back"]),
    ]);
    let morning = list(&home, TODAY);
    let wanted = [("4", "urgent"), ("3", "called"), ("5", "unseen"), ("6", "unseen"), ("730", "unseen")];
    assert_eq!(pairs(&expected(&morning)), wanted, "{morning:#}");
    let asked = &morning["still_here"];
    assert_eq!(
        asked,
        &serde_json::json!([{ "animal": "1", "last": "2024-05-13" }, { "animal": "2", "last": "2024-05-13" }])
    );
    let ask = |form: &str| home.run(&["day-list", "--book", "b.book", "--today", TODAY, "--as", form]).well();
    let csv = ask("csv");
    let rows: Vec<&str> = csv.lines().skip(6).collect();
    assert_eq!(rows, ["1,still-here,,,,2024-05-13", "2,still-here,,,,2024-05-13"], "{csv}");
    let text = ask("text");
    assert!(
        text.contains("5 expected, 0 done\n")
            && text.contains("2 not seen for over 2 years: still here?\n        1, 2\n"),
        "{text}"
    );
    assert!(text.contains("gone --missing-from"), "{text}");
    // One comes in, the other is said to be gone: nothing is asked any more.
    home.write("day.txt", &of("14 May 2026", &["1"], ""));
    home.run(&["enter", "day.txt", "--book", "b.book", "--today", TODAY]).well();
    home.run(&["gone", "2", "--book", "b.book", "--today", TODAY]).well();
    let after = list(&home, TODAY);
    assert_eq!((&after["still_here"], &after["unasked"][0]["animal"]), (&serde_json::json!([]), &"1".into()));
}

/// A lame animal, or one with something on, is never left because she is to calve (trade.md 8).
#[test]
fn close_to_calving_only_routine_is_left() {
    let wrapped = "farm Hollow\nday 12 May 2026\nanimal 1\n  LH lifted trimmed all seen\n  LH heel DD M2\n  \
                   LH heel wrap blue off by 15 May by \"Tom\"\n  signed\n";
    let home = home(&[
        seen(&["2", "3", "4"]),
        wrapped.to_owned(),
        told(&[
            "told 1 due to calve 20 May 2026",
            "told 2 due to calve 20 May 2026",
            "told 2 gait 2 of 0-3",
            "told 3 due to calve 20 May 2026",
            "told 3 called \"will not stand\"",
            "told 4 due to calve 20 May 2026",
        ]),
    ]);
    let list = list(&home, TODAY);
    assert_eq!(pairs(&expected(&list)), [("1", "left-on"), ("3", "called"), ("2", "lame")], "{list:#}");
    // Score 2 of 0-3 is looked at within 48 h (DairyNZ 2023; trade.md 3): a day of them is gone.
    let lame = list["animals"][2]["why"][0].as_str().expect("words");
    assert!(lame.contains("24 h left"), "{lame}");
}

/// Swollen, smells or lamer with something on: urgent now (trade.md 6).
#[test]
fn the_most_pressing_stand_first() {
    let put_on = "farm Hollow\nday 13 May 2026\nanimal 1\n  LH lifted trimmed all seen\n  LH outer 4 SU\n  LH inner block wood\n  \
                  signed\nanimal 2\n  LH lifted trimmed all seen\n  LH outer 4 SU\n  LH inner block wood\n  signed\n";
    let home = home(&[
        seen(&["3", "4"]),
        put_on.to_owned(),
        "farm Hollow\nday 14 May 2026\ntold 2 called \"smells\" urgent\ntold 3 called \"slow\"\n".to_owned(),
    ]);
    let list = list(&home, TODAY);
    assert_eq!(pairs(&expected(&list)), [("2", "urgent"), ("1", "left-on"), ("3", "called")], "{list:#}");
    let text = home.run(&["day-list", "--book", "b.book", "--today", TODAY, "--region", "uk"]).well();
    let at = |words: &str| text.find(words).unwrap_or_else(|| panic!("no {words:?} in {text}"));
    assert!(at("Urgent now") < at("A bandage or block is on her") && at("[ ] 2") < at("[ ] 1"), "{text}");
    assert!(text.lines().all(|line| line.len() <= 80), "{text}");
}

#[test]
fn who_stayed_away_is_carried_over_and_who_came_is_ticked() {
    let first = "farm Hollow\nday 1 Apr 2026\nanimal 1\n  LH lifted trimmed all seen\n  LH outer 4 SU\n  signed\n\
                 animal 2\n  LH lifted trimmed all seen\n  LH outer 4 SU\n  signed\nanimal 5\n  hinds trimmed nothing found\n  signed\n";
    let visit = |day: &str| format!("farm Hollow\nday {day}\nanimal 5\n  hinds trimmed nothing found\n  signed\n");
    // An ulcer is looked at again after 28 days: 29 April (trade.md 6).
    let home = home(&[first.to_owned(), visit("20 Apr 2026"), visit("30 Apr 2026"), visit("7 May 2026")]);
    let before = list(&home, TODAY);
    let rows = |list: &Value| {
        let rows = list["animals"].as_array().expect("a list").clone();
        rows.iter().map(|row| (row["animal"].clone(), row["missed"].clone(), row["came"].clone())).collect::<Vec<_>>()
    };
    let waits = |animal: &str| (Value::from(animal), Value::from("2026-04-30"), Value::Null);
    assert_eq!(rows(&before), [waits("1"), waits("2")], "since the first visit after her day: {before:#}");
    home.write("day.txt", "farm Hollow\nday 14 May 2026\nanimal 2\n  LH lifted trimmed all seen\n  LH outer 4 SU healed\n  signed\nanimal 9\n  hinds trimmed nothing found\n  signed\n");
    home.run(&["enter", "day.txt", "--book", "b.book", "--today", TODAY]).well();
    let after = list(&home, TODAY);
    let done = (Value::from("2"), Value::from("2026-04-30"), Value::from("done"));
    assert_eq!(rows(&after), [waits("1"), done], "what was done today takes nobody off the list: {after:#}");
    assert_eq!(
        (&after["expected"], &after["done"], &after["unasked"][0]["animal"]),
        (&Value::from(2), &Value::from(1), &Value::from("9"))
    );
    let text = home.run(&["day-list", "--book", "b.book", "--today", TODAY]).well();
    assert!(text.starts_with("Hollow, THU 14 May 2026: 2 expected, 1 done, 1 came unasked\n"), "{text}");
    let csv = home.run(&["day-list", "--book", "b.book", "--today", TODAY, "--as", "csv"]).well();
    let rows: Vec<&str> = csv.lines().collect();
    assert_eq!((rows.len(), rows[0]), (4, "animal,reason,why,came,missed,last"), "{csv}");
    assert!(rows[2].starts_with("2,look-again,") && rows[2].ends_with(",done,2026-04-30,2026-04-01"), "{csv}");
    assert!(text.contains("[x] 2") && text.contains("[ ] 1") && text.contains("did not come on THU 30 Apr"), "{text}");
}

#[test]
fn sheets_to_write_upon_read_back_once_they_are_filled_in() {
    let home = Home::with_herd();
    let ask = |more: &[&str]| {
        let list = ["day-list", "--book", "herd.book", "--today", "2026-05-15", "--farm", "Quillbarrow", "--as"];
        home.run(&[&list[..], more].concat()).well()
    };
    let blank = ask(&["sheet", "--blank", "2"]);
    assert_eq!(blank.matches("\nanimal _").count(), 2);
    assert!(blank.lines().all(|line| line.len() <= 80), "{blank}");
    // Filled in: wraps bare, blocks off, marks better, dermatitis in its scar; the rest of the lines struck out.
    let mut filled = String::new();
    for line in blank.split("\nanimal _").next().expect("the first part").lines() {
        let (said, _) = line.split_once('_').unwrap_or((line, ""));
        let last = said.trim_end().rsplit(' ').next().unwrap_or_default();
        match last {
            _ if said == line => filled.push_str(line),
            "by" => filled.push_str("by Ann"),
            "visit" => filled.push_str("visit cleaned after, set aside"),
            "wrap" => filled.push_str(&format!("{said}off bare skin sound")),
            "block" => filled.push_str(&format!("{said}taken off")),
            "DD" => filled.push_str(&format!("{said}now M4")),
            "LF" | "RF" | "LH" | "RH" => filled.push_str(&format!("{said}lifted trimmed all seen")),
            _ => filled.push_str(&format!("{said}better")),
        }
        filled.push('\n');
    }
    home.write("filled.txt", &filled);
    home.run(&["enter", "filled.txt", "--book", "herd.book", "--today", "2026-05-15"]).well();
    let list: Value = serde_json::from_str(&ask(&["json"])).expect("JSON");
    assert_eq!(list["expected"], list["done"], "{list:#}");
}

/// The second instruction of Threlmarsh was to be looked at again by 4 May (`sample-herd/README.md`).
#[test]
fn a_sheet_to_write_upon_asks_about_an_instruction_whose_day_has_come() {
    let home = Home::with_herd();
    let ask = ["day-list", "--book", "herd.book", "--today", "2026-05-15", "--farm", "Threlmarsh", "--as", "sheet"];
    let blank = home.run(&ask).well();
    let head = blank.split("\nanimal ").next().expect("the head");
    assert!(head.contains("\nvisit _") && head.contains("\ntold instruction inner front since 3 Feb 2026 _"), "{head}");
    assert!(head.contains("# goes on \"why\" review DAY; or ended \"why\"\n"), "{head}");
    assert!(blank.lines().all(|line| line.len() <= 80), "{blank}");
    let filled = head.replace(&"_".repeat(30), "@").replace("by @", "by Ann").replace("visit @\n", "");
    home.write("filled.txt", &filled.replace('@', "goes on \"all sound\" review 1 Aug"));
    home.run(&["enter", "filled.txt", "--book", "herd.book", "--today", "2026-05-15"]).well();
    let farm = home.run(&["farm", "Threlmarsh", "--book", "herd.book", "--today", "2026-05-15"]).well();
    assert!(farm.contains("looked at    15 May 2026: goes on, all sound\n"), "{farm}");
}

/// On each day that Quillbarrow was visited, whoever the sheet of the day puts in the crush stands on the list as come, and nobody
/// else; done where her sheet says signed.
#[test]
fn on_every_day_of_the_sample_herd_those_came_whom_the_sheet_names() {
    let home = Home::with_herd();
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-herd/quillbarrow");
    let mut days = 0;
    for day in ["2026-03-19", "2026-04-02", "2026-04-16", "2026-04-30", "2026-05-14"] {
        let sheet = std::fs::read_to_string(folder.join(format!("{day}.txt"))).expect("a sheet");
        let turns: Vec<&str> = sheet.split("\nanimal ").skip(1).collect();
        let mut named: Vec<(String, bool)> = Vec::new();
        for turn in turns {
            let number = turn.lines().next().expect("a number").split(' ').next().unwrap_or_default();
            named.retain(|(known, _)| known != number);
            named.push((number.to_owned(), turn.lines().any(|line| line.trim() == "signed")));
        }
        let ask = ["day-list", "--book", "herd.book", "--farm", "Quillbarrow", "--today", day, "--as", "json"];
        let list: Value = serde_json::from_str(&home.run(&ask).well()).expect("JSON");
        let rows = ["animals", "unasked"].into_iter().flat_map(|part| list[part].as_array().expect("a list"));
        let number =
            |row: &Value| row["animal"].as_str().expect("text").split(' ').next().unwrap_or_default().to_owned();
        let mut came: Vec<(String, bool)> =
            rows.filter(|row| !row["came"].is_null()).map(|row| (number(row), row["came"] == "done")).collect();
        // 2397 was 1397 until she was given another number.
        came.iter_mut().for_each(|(number, _)| {
            if number == "2397" {
                *number = "1397".to_owned()
            }
        });
        named.iter_mut().for_each(|(number, _)| {
            if number == "2397" {
                *number = "1397".to_owned()
            }
        });
        came.sort();
        named.sort();
        assert_eq!(came, named, "{day}: {list:#}");
        days += usize::from(!came.is_empty());
    }
    assert_eq!(days, 5);
}

/// `sample-herd/README.md` on its last day: the wrap in the far field first; 1391 whom nobody answers about and 1379 on her old block;
/// 1389's toe ulcer is late to be looked at, and the farm has called about 1398.
#[test]
fn on_its_last_day_the_sample_herd_is_asked_for_as_its_story_tells() {
    let home = Home::with_herd();
    let ask = ["day-list", "--book", "herd.book", "--farm", "Quillbarrow", "--today", "2026-05-14", "--as", "json"];
    let list: Value = serde_json::from_str(&home.run(&ask).well()).expect("JSON");
    let who = expected(&list);
    let reason = |number: &str| who.iter().find(|(animal, _)| animal.starts_with(number)).map(|(_, why)| why.as_str());
    assert!(who[0].0.starts_with("1394"), "{who:?}");
    for (number, why) in [
        ("1394", "urgent"),
        ("1391", "urgent"),
        ("1379", "left-on"),
        ("1387", "left-on"),
        ("1389", "look-again"),
        ("1398", "called"),
    ] {
        assert_eq!(reason(number), Some(why), "{number}: {list:#}");
    }
    // Died and sold.
    assert_eq!((reason("1375"), reason("1392")), (None, None));
}

/// What the farm called about itself before the last visit was heard there, whoever was in the crush then.
#[test]
fn a_call_about_the_farm_stands_until_the_next_visit() {
    let home = home(&[
        "farm Hollow\nday 1 May 2026\ntold called \"mats came\"\n".to_owned(),
        // Whoever came then has no reason today, and it was a visit all the same.
        "farm Hollow\nday 2 May 2026\nanimal 1\n  hinds trimmed nothing found\n  signed\n".to_owned(),
        "farm Hollow\nday 13 May 2026\ntold called \"gate is locked\" urgent\n".to_owned(),
    ]);
    let list = list(&home, TODAY);
    let calls = list["calls"].as_array().expect("calls");
    assert_eq!(calls.len(), 1, "{list:#}");
    assert_eq!((&calls[0]["words"], &calls[0]["urgent"]), (&Value::from("gate is locked"), &Value::from(true)));
    let text = home.run(&["day-list", "--book", "b.book", "--today", TODAY]).well();
    assert!(text.contains("the farm called WED 13 May, urgent: gate is locked"), "{text}");
}
