//! Numbered lines and pages of a list.

use super::form::check;
use crushbook::plain::page::{Answer, PAGE, Pages, said};

fn list(count: usize) -> Answer {
    Answer { list: (1..=count).map(|at| said(format!("#{at}"), "an animal")).collect(), ..Answer::default() }
}

#[test]
fn a_long_list_comes_in_pages_and_every_line_of_it_comes() {
    let mut pages = Pages::default();
    let first = pages.write(list(PAGE * 2 + 1));
    assert!(first.ends_with(&format!("{} more: {} more lines: say more\n", PAGE + 1, PAGE + 1)), "{first}");
    let second = pages.more();
    assert!(second.contains("more: 1 more line: say more\n"), "{second}");
    let third = pages.more();
    assert!(third.contains(&format!("#{}: an animal", PAGE * 2 + 1)), "{third}");
    let all = [first, second, third, pages.more()].concat();
    check(&all, 0);
    assert!((1..=PAGE * 2 + 1).all(|at| all.contains(&format!(" #{at}: an animal\n"))), "{all}");
    assert!(all.ends_with("more: there is no more\n"), "{all}");
}

#[test]
fn a_page_is_as_long_as_its_lines_and_no_entry_is_torn() {
    let long = "word ".repeat(40);
    let list = (1..=7).map(|at| said(format!("#{at}"), long.trim_end())).collect();
    let mut pages = Pages::default();
    let mut all = pages.write(Answer { list, ..Answer::default() });
    assert!(check(&all, 0) <= PAGE + 1, "{all}");
    // Three lines each: four of them.
    assert!(
        all.contains(" #4: ") && !all.contains(" #5: ") && all.ends_with("more: 3 more lines: say more\n"),
        "{all}"
    );
    all += &pages.more();
    assert_eq!(all.matches(" #7: ").count(), 3, "{all}");
    // One that is longer than a page comes all the same.
    let list = vec![said("#1", "word ".repeat(300)), said("#2", "end")];
    let first = Pages::default().write(Answer { list, ..Answer::default() });
    assert!(!first.contains(" #2: ") && first.matches("word").count() == 300, "{first}");
}

#[test]
fn what_is_said_at_once_is_never_paged() {
    let now = (0..40).map(|_| said("on her", "a wrap")).collect();
    let text = Pages::default().write(Answer { now, ..Answer::default() });
    assert_eq!(check(&text, 0), 40);
    assert!(!text.contains("more:"));
}

#[test]
fn a_long_line_goes_on_below_and_loses_nothing() {
    let words = format!("{} {} end", "word ".repeat(60), "\u{6f22}\u{5b57}".repeat(100));
    let mut pages = Pages::default();
    // Numbers of one figure, of two and of three.
    for number in [0, 9, 99] {
        while check_number(&pages) < number {
            pages.write(Answer { now: vec![said("a", "b")], ..Answer::default() });
        }
        let before = check_number(&pages);
        let text = pages.write(Answer { now: vec![said("note", words.clone())], ..Answer::default() });
        check(&text, before);
        let all: String = text.lines().map(|line| line.split_once(": ").expect("about").1).collect();
        let bare = |text: &str| text.chars().filter(|letter| *letter != ' ').collect::<String>();
        assert_eq!(bare(&all), bare(&words));
    }
}

/// How many lines were written, asked of a copy.
fn check_number(pages: &Pages) -> usize {
    let text = pages.clone().write(Answer { now: vec![said("a", "b")], ..Answer::default() });
    text.split(' ').next().and_then(|number| number.parse::<usize>().ok()).expect("a number") - 1
}

#[test]
fn what_steers_a_terminal_never_comes_through() {
    let text = "\u{1b}[2J\u{9b}red\u{7}\u{202e}tfel\r\nb\u{2028}";
    let written = Pages::default().write(Answer { now: vec![said(text, text)], ..Answer::default() });
    assert_eq!(written, "1 [2Jredtfelb: [2Jredtfelb\n");
}
