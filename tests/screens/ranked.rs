//! Instructions fitted into few rows: at any width and number none is missing without a trace, and what comes first in rank is not left
//! out for what comes after it.

use crushbook::claw_map::marks::Tone;
use crushbook::screen::ranked::{Ranked, Room, Shown, fitted};
use crushbook::screen::theme::Role;
use proptest::prelude::*;
use unicode_width::UnicodeWidthStr;

const KEY: &str = "Tab Tab Space";

/// The one of that number: each word of it bears the number or its letter, so that it is told from the others.
fn one(at: usize, words: usize, of_vet: bool, due: bool) -> Ranked {
    let letter = letter(at);
    Ranked {
        whose: if of_vet {
            format!("inner front, sole at least 5 mm, vet Ivo-{letter}")
        } else {
            "all feet".to_owned()
        },
        words: (0..words).map(|word| format!("w{at}x{word}")).collect::<Vec<_>>().join(" "),
        asked: format!("asked by Marla-{letter}, because lines-{letter}"),
        since: format!("since day-{letter}"),
        review: format!("review day-{letter}"),
        due: due.then(|| format!("REVIEW DUE {letter}")),
        least: of_vet.then(|| ("ALWAYS SOLE 5 mm".to_owned(), format!("vet Ivo-{letter}"))),
        tone: Role::Label(if due { Tone::Warn } else { Tone::Note }),
    }
}

fn some() -> impl Strategy<Value = Vec<Ranked>> {
    proptest::collection::vec((1..30_usize, any::<bool>(), any::<bool>()), 1..6).prop_map(|all| {
        all.into_iter().enumerate().map(|(at, (words, of_vet, due))| one(at, words, of_vet, due)).collect()
    })
}

fn letter(at: usize) -> char {
    char::from(b'a' + u8::try_from(at).expect("few"))
}

/// How many the last line counts that are not there: `+2 more: key`, `2 ALWAYS: key`, or `vet Ivo +2 ... key`.
fn counted(last: &str) -> usize {
    let number =
        |text: &str| text.trim_start_matches('+').split(|next: char| !next.is_ascii_digit()).next().map(str::parse);
    let behind = last.split_once(" +").map_or(last, |(_, behind)| behind);
    number(behind).and_then(Result::ok).unwrap_or(0)
}

proptest! {
    #[test]
    fn each_has_its_first_words_there_or_is_counted(all in some(), columns in 24..60_usize, rows in 0..40_usize, unseen in 0..3_usize) {
        let (lines, shown) = fitted(&all, Room { columns, rows, key: Some(KEY), unseen });
        prop_assert!(lines.len() <= rows, "{lines:#?}");
        prop_assert!(lines.iter().all(|(line, _)| line.width() <= columns), "{lines:#?}");
        let text = lines.iter().map(|(line, _)| line.trim()).collect::<Vec<_>>().join(" ");
        let there = (0..all.len()).filter(|at| text.contains(&format!("w{at}x0"))).count();
        let least = usize::from(text.contains("ALWAYS SOLE 5 mm"));
        if let Some((last, _)) = lines.last() {
            prop_assert_eq!(there + least + counted(last), all.len() + unseen, "{:#?}", lines);
        }
        prop_assert_eq!(lines.is_empty(), rows == 0);
        // Whoever is first is not left out for one behind it.
        prop_assert!((0..there).all(|at| text.contains(&format!("w{at}x0"))), "{lines:#?}");
        // One that takes horn away never has words without its vet and its sole.
        for (at, one) in all.iter().enumerate().filter(|(_, one)| one.least.is_some()) {
            let words = text.find(&format!("w{at}x0"));
            prop_assert!(words.is_none_or(|words| text[..words].contains(&one.whose)), "{lines:#?}");
        }
        let words = |at: usize, one: &Ranked| text.contains(&one.words) && one.due.as_ref().is_none_or(|_| text.contains(&format!("review day-{}", letter(at))));
        let asked = |one: &Ranked| text.contains(&one.asked);
        let since = |one: &Ranked| text.contains(&one.since);
        let every = |is: &dyn Fn(usize, &Ranked) -> bool| all.iter().enumerate().all(|(at, one)| is(at, one));
        prop_assert!(shown < Shown::Words || every(&words), "{lines:#?}");
        prop_assert!(shown < Shown::Asked || every(&|_, one| asked(one)), "{lines:#?}");
        prop_assert_eq!(shown == Shown::Whole, every(&|_, one| since(one)), "{:#?}", lines);
        // Whatever is left out, the key stands there.
        prop_assert!(rows == 0 || shown == Shown::Whole && unseen == 0 || text.contains(KEY), "{lines:#?}");
    }

    #[test]
    fn with_more_rows_no_less_is_shown(all in some(), columns in 24..60_usize, rows in 0..40_usize) {
        let shown = |rows| fitted(&all, Room { columns, rows, key: Some(KEY), unseen: 0 }).1;
        prop_assert!(shown(rows) <= shown(rows + 1));
    }
}

/// Three in 22 letters a row and ten rows, counted by hand: with a row for what is left out each has three, and ends in dots.
#[test]
fn three_in_ten_rows_have_three_each() {
    let all = [one(0, 12, false, false), one(1, 12, false, false), one(2, 12, false, false)];
    let (lines, shown) = fitted(&all, Room { columns: 24, rows: 10, key: Some("Tab"), unseen: 0 });
    let text: Vec<&str> = lines.iter().map(|(line, _)| line.as_str()).collect();
    assert_eq!(shown, Shown::Cut);
    assert_eq!(text[0], "ALWAYS all feet: w0x0");
    assert_eq!(text[2], "w0x5 w0x6 w0x7 w0x8...");
    assert_eq!(text[9], "more ALWAYS: Tab");
    // One row, and none where letters are typed and no key is.
    let last = |rows, key| fitted(&all, Room { columns: 24, rows, key, unseen: 1 }).0;
    assert_eq!(last(1, Some("* * Enter"))[0].0, "4 ALWAYS: * * Enter");
    assert_eq!(last(1, None)[0].0, "4 ALWAYS");
    assert_eq!(last(0, None), []);
}
