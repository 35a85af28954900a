//! `crushbook keys --try` in a pseudo-terminal: what is shown, how it ends, and that the terminal is put back.

use super::program::Terminal;

#[test]
fn keys_are_shown_as_they_arrive_and_leave_twice_ends_it() {
    let home = tempfile::tempdir().expect("a home");
    let mut terminal = Terminal::open(home.path(), &["keys", "--try", "--keys", "left-hand"]);
    terminal.until(&["keys as they arrive: left-hand", "[_]7", "[_]leave Tab q"]);
    terminal.press("e", &["[x]7", "foot      zone 7, wall toe", "finger"]);
    terminal.press("a", &["[x]undo a", "undo the last press"]);
    // A tap as terminals report it: column 5, row 12, counted from 1 there and from 0 here.
    terminal.press("\u{1b}[<0;6;13M", &["tap at column 5, row 12"]);
    terminal.press("\u{1b}[200~two words\u{1b}[201~", &["pasted: two words"]);
    terminal.press("\t", &["begins a sequence"]);
    terminal.press("q", &["[x]leave Tab q"]);
    terminal.press("\t", &["begins a sequence"]);
    assert_eq!(terminal.leave_clean("q"), 0);
}

#[test]
fn ctrl_c_ends_it_at_once() {
    let home = tempfile::tempdir().expect("a home");
    let mut terminal = Terminal::open(home.path(), &["keys", "--try"]);
    terminal.until(&["keys as they arrive: two-hands"]);
    assert_eq!(terminal.leave_clean("\u{3}"), 0);
}
