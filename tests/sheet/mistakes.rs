//! Every mistake is told with line, column and what to write instead, and a sheet with one yields nothing.

use crushbook::wire::sheet::parse;

/// A line of a turn, the column of the mistake, and what the message must say.
const LINES: &[(&str, usize, &[&str])] = &[
    ("LH outer 4 SX", 12, &["SX", "did you mean"]),
    ("LH outer 4 SU sever", 15, &["sever", "did you mean severe"]),
    ("LH outer 4 SU M2", 15, &["SU has a grade", "light, moderate, severe"]),
    ("LH heel DD severe", 12, &["DD has a stage", "M0, M1, M2, M3, M4, M4.1"]),
    ("LH heel DD better", 12, &["today's stage", "now M0"]),
    ("LH outer 2 SU", 12, &["cannot be in zone 2", "LH outer 4 SU"]),
    ("LH outer 6 SU", 12, &["cannot be in zone 6", "LH outer 6 BU"]),
    ("LH outer 4 DD M2", 12, &["cannot be in zone 4", "LH heel DD"]),
    ("LH 4 SU", 4, &["zone 4 is on a claw", "LH outer 4 or LH inner 4"]),
    ("LH outer heel DD", 10, &["belongs to the whole foot", "LH heel", "zone 6"]),
    ("LH outer 13 SU", 10, &["no zone 13", "0 to 12"]),
    ("LH SU", 4, &["on a claw", "LH outer 4 SU"]),
    ("SU severe", 1, &["on a foot: which one?"]),
    ("LH outer U", 10, &["needs another place", "LH outer 4 U", "LH outer 1 U"]),
    ("gait 4 of 0-3", 6, &["0-3 has no score 4"]),
    ("gait 0 of 1-5", 6, &["1-5 has no score 0"]),
    ("gait 2", 8, &["gait scale is missing", "0-3, 1-5"]),
    ("LH block wood", 4, &["under one claw", "LH inner block"]),
    ("LH inner block", 16, &["block is missing", "wood, rubber"]),
    ("LH inner block would", 16, &["did you mean wood?"]),
    ("wrap blue", 1, &["which foot"]),
    ("LH wrap bleu", 9, &["bleu", "did you mean blue?"]),
    ("LH wrap off", 9, &["how was the wrap found", "off bare", "already off"]),
    ("LH wrap fell off", 9, &["how was the wrap found"]),
    ("LH inner block off ring", 16, &["how was the block found", "fell off"]),
    ("LH wrap off by 32 May", 16, &["no 32 May"]),
    ("LH wrap off by 14/05/2026", 16, &["is no day", "14 May 2026"]),
    ("LH wrap off by 30 Feb 2027", 16, &["no 30 February"]),
    ("LH wrap off by 1 May 2026", 16, &["before the sheet's own"]),
    ("LH heel wrap blue over heel", 19, &["told twice"]),
    ("LH outer 4 HHE", 12, &["cannot be in zone 4", "LH outer 6 HHE"]),
    ("LH outer 6 HHE infected", 16, &["not marked infected", "SU"]),
    ("LH outer 4 SU inner", 15, &["claw is already told"]),
    ("LH gait 2 of 0-3", 4, &["whole animal", "leave the foot out"]),
    ("wall 78 mm", 1, &["which foot"]),
    ("LH outer wall", 15, &["how many millimetres"]),
    ("LH own words", 14, &["own words without words"]),
    ("vet brocken", 5, &["brocken", "write one of"]),
    ("medicine batsh=\"1\"", 10, &["did you mean batch=?"]),
    ("medicine doses=many", 16, &["whole number"]),
    ("note \"open", 6, &["not closed"]),
    ("note \"a\u{1b}[2J\"", 8, &["control character", "code 27"]),
    ("handed over to", 16, &["the name is missing", "in quotes"]),
    ("handed over to \" \"", 16, &["the name is empty"]),
    ("LH handed over to \"Jory\"", 4, &["whole animal", "leave the foot out"]),
    ("handed ovr to \"Jory\"", 1, &["write one of", "handed over to"]),
    ("LH lifed", 4, &["did you mean lifted?"]),
    ("sgned", 1, &["did you mean signed?"]),
    ("signed open no-relif LH", 13, &["did you mean no relief?"]),
    ("LF nothing found\nLF heel DD M1", 1, &["nothing found", "line 6"]),
];

#[test]
fn each_mistake_has_its_line_its_column_and_a_way_out() {
    for (line, column, said) in LINES {
        let text = format!("farm A\nday 14 May 2026\n\nanimal 1382\n{line}\n");
        let mistakes = parse(&text, "monday.txt").expect_err(line);
        assert_eq!(mistakes.len(), 1, "{line}: {mistakes:#?}");
        let mistake = &mistakes[0];
        assert_eq!((mistake.line, mistake.column), (5, *column), "{line}: {mistake}");
        let message = mistake.to_string();
        assert!(message.starts_with("monday.txt:5:"), "{message}");
        assert!(message.chars().all(|next| !next.is_control()), "{message:?}");
        for words in *said {
            assert!(message.contains(words), "{line}: {message} should say {words}");
        }
    }
}

/// The same of lines outside a turn.
const TOLD: &[(&str, usize, &[&str])] = &[
    ("told instruction inner hoof \"a\"", 18, &["is no scope", "inner front"]),
    ("told instruction", 18, &["scope is missing", "hinds"]),
    ("told instruction all", 22, &["the instruction is missing"]),
    // Column of the word, counted by hand.
    ("told instruction all \"a\"", 26, &["who asked for it?", "write by \"NAME\""]),
    ("told instruction all \"a\" why \"x\" takes no horn", 48, &["who asked for it?"]),
    ("told instruction all \"a\" no vet named", 39, &["who asked for it?"]),
    ("told instruction all \"a\" by \" \" why \"x\" takes no horn", 26, &["who asked has no name"]),
    ("told instruction all \"a\" by", 29, &["the name is missing"]),
    ("told instruction all \"a\" by \"b\"", 33, &["why is it done?", "write why \"REASON\""]),
    ("told instruction all \"a\" by \"b\" review 1 Jun", 46, &["why is it done?"]),
    ("told instruction all \"a\" by \"b\" takes no horn", 47, &["why is it done?"]),
    ("told instruction all \"a\" by \"b\" why \"\" takes no horn", 33, &["the reason has no words"]),
    ("told instruction all \"a\" by \"b\" why", 37, &["the reason is missing"]),
    ("told instruction all \"a\" by \"b\" why \"c\" review 1 May 2026 takes no horn", 48, &["before the sheet's own"]),
    ("told instruction all \" \" by \"b\" why \"c\" takes no horn", 22, &["the instruction has no words"]),
    // trade.md, section 8: one that takes horn away names the vet.
    (
        "told instruction all \"a\" by \"b\" why \"c\"",
        41,
        &["does it take horn away?", "takes no horn", "vet \"NAME\"", "least sole"],
    ),
    ("told instruction all \"a\" by \"b\" why \"c\" review 1 Jun", 54, &["does it take horn away?"]),
    ("told instruction all \"a\" by \"b\" why \"c\" vet \" \"", 41, &["the vet has no name", "takes no horn"]),
    ("told instruction all \"a\" by \"b\" why \"c\" vet", 45, &["the vet's name is missing"]),
    (
        "told instruction all \"a\" by \"b\" why \"c\" vet \"b\" takes no horn",
        49,
        &["takes no horn after vet", "say one of them"],
    ),
    (
        "told instruction all \"a\" by \"b\" why \"c\" takes no horn vet \"b\"",
        55,
        &["vet after takes no horn", "say one of them"],
    ),
    ("told instruction all \"a\" by \"b\" why \"c\" no vet named vet \"b\"", 54, &["vet after no vet named"]),
    (
        "told instruction all \"a\" by \"b\" why \"c\" takes no hoof",
        41,
        &["takes", "write one of: by, why, review, vet, takes no horn"],
    ),
    ("told instruction all \"a\" by \"b\" why \"c\" takes no horn by \"b\"", 55, &["by is told twice"]),
    ("told instruction all \"a\" takes no horn by \"b\" by \"c\"", 47, &["by is told twice", "say it once"]),
    ("told instruction all \"a\" review 1 Jun vet \"b\" review 2 Jun", 47, &["review is told twice"]),
    ("told instruction all \"a\" takes no horn reveiw 1 Jun", 40, &["reveiw", "did you mean review?"]),
    ("told 7 tag \"b\" sharde", 16, &["did you mean", "shared"]),
    ("told 7 tag", 12, &["the new tag is missing"]),
    ("told instruction all since", 28, &["the day is missing"]),
    ("told instruction all \"a\" since 1 May 2026", 43, &["write one of: goes on, ended"]),
    ("told instruction all \"a\" since 1 May 2026 stays", 43, &["\"stays\" is no word about an instruction"]),
    ("told instruction all \"a\" becuase \"b\"", 26, &["becuase", "write one of: by, why, review, vet"]),
    ("told instruction all \"a\" by \"b\" becuase \"c\"", 33, &["becuase", "write one of: by, why, review, vet"]),
    ("told instruction all ended by \"Tom\"", 28, &["by", "too much"]),
    ("told instruction all goes on review 1 May 2026", 37, &["before the sheet's own"]),
    ("told instruction all goes on reveiw 1 Jun", 30, &["reveiw", "did you mean review?"]),
    ("told instruction all goes on \"a\" \"b\"", 34, &["does not belong here"]),
    ("told 7 lactation", 18, &["a lactation is a whole number from 0 to 30", "lactation 2"]),
    ("told 7 lactation 31", 18, &["a lactation is a whole number from 0 to 30"]),
    ("told 7 lactation first", 18, &["a lactation is a whole number"]),
    ("told 7 lactation 2 3", 20, &["too much"]),
    ("told 7 LH vet answred", 15, &["answred"]),
    ("told 7 LH vet answered seen", 24, &["too much"]),
];

#[test]
fn each_mistake_outside_a_turn_has_its_line_its_column_and_a_way_out() {
    for (line, column, said) in TOLD {
        let mistakes = parse(&format!("farm A\nday 14 May 2026\n\n{line}\n"), "monday.txt").expect_err(line);
        assert_eq!(mistakes.len(), 1, "{line}: {mistakes:#?}");
        assert_eq!((mistakes[0].line, mistakes[0].column), (4, *column), "{line}: {}", mistakes[0]);
        for words in *said {
            assert!(mistakes[0].to_string().contains(words), "{line}: {} should say {words}", mistakes[0]);
        }
    }
}

#[test]
fn reading_never_stops_at_the_first_mistake() {
    let text = "farm A\nday 14 May 2026\nLH heel DD M2\nanimal 1\nLH outer 2 SU M2\nLH wrap off\nsigned\nnote \"late\"\ntold 2 LH wrap on\ntold 3 LH outer 4 SU\n";
    let mistakes = parse(text, "x").expect_err("faulty");
    let places: Vec<(usize, usize)> = mistakes.iter().map(|mistake| (mistake.line, mistake.column)).collect();
    assert_eq!(places, [(3, 1), (5, 12), (5, 15), (6, 9), (8, 1), (9, 16), (10, 8)], "{mistakes:#?}");
}

#[test]
fn the_head_is_needed_once_and_whole() {
    let heads: [(&str, &[&str]); 15] = [
        ("", &["1:1: the farm is missing", "1:1: the day is missing"]),
        ("farm A\nday 14 May\n", &["2:5: the sheet's day needs its year"]),
        ("farm A\nday 14 May 2026\nfarm B\n", &["3:1: farm is told twice"]),
        ("farm\nday soon\n", &["1:6: the farm's name is missing", "2:5: \"soon\" is no day"]),
        ("farm A\nday 14 May 2026\nvisit emergency\n", &["3:7: \"emergency\" is no visit"]),
        ("farm A\nday 14 May 2026\nvisit\n", &["3:7: the visit is missing; write one of: routine"]),
        ("farm A\nday 14 May 2026\nvisit routine, call out\n", &["3:16: call out after routine; say one of them"]),
        ("farm A\nday 14 May 2026\nvisit selected whole herd\n", &["3:16: whole herd after selected"]),
        ("farm A\nday 14 May 2026\nvisit gone on, gone on\n", &["3:16: gone on after gone on"]),
        ("farm A\nday 14 May 2026\nvisit set aside, set aside\n", &["3:18: set aside is told twice"]),
        ("farm A\nday 14 May 2026\nvisit closed, closed\n", &["3:15: closed is told twice; say it once"]),
        ("farm A\nday 14 May 2026\nvisit set aside closed\n", &["3:17: closed after set aside; say the last of them"]),
        ("farm A\nday 14 May 2026\nvisit close\n", &["3:7: \"close\" is no visit; did you mean closed?"]),
        ("farm A\nday 14 May 2026\nvisit set asid\n", &["3:7: \"set\" is no visit; write one of: routine, call out"]),
        ("farm A\nday 14 May 2026\nvisit whole herd today\n", &["3:18: \"today\" is no visit"]),
    ];
    for (text, wanted) in heads {
        let mistakes = parse(text, "x").expect_err("no head");
        let said: Vec<String> = mistakes.iter().map(ToString::to_string).collect();
        assert_eq!(said.len(), wanted.len(), "{said:?}");
        for (said, wanted) in said.iter().zip(wanted) {
            assert!(said.strip_prefix("x:").is_some_and(|rest| rest.starts_with(wanted)), "{said} / {wanted}");
        }
    }
}
