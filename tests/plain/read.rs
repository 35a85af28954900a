//! Lines as they come from a terminal, a pipe or a reader: whole ones only.

use crushbook::terminal::event::Line;
use crushbook::terminal::lines::next;

fn all(bytes: &[u8]) -> Vec<Line> {
    let mut input = bytes;
    std::iter::from_fn(|| next(&mut input).expect("bytes in memory can be read")).collect()
}

fn text(text: &str) -> Line {
    Line::Text(text.to_owned())
}

#[test]
fn a_line_ends_with_either_end_and_an_empty_one_is_one() {
    assert_eq!(all(b"lh 4\n\r\n\n3\r\n"), [text("lh 4"), text(""), text(""), text("3")]);
    assert_eq!(all(b""), []);
}

#[test]
fn what_cannot_be_meant_is_told_and_the_next_line_is_whole_again() {
    let mut bytes = vec![b'x'; 10_000];
    bytes.extend(b"\n\xff\xfe\nu\n");
    assert_eq!(all(&bytes), [Line::TooLong, Line::NotText, text("u")]);
    // At the limit of 4096 bytes with its end, and one beyond it.
    let mut fits = vec![b'x'; 4096];
    fits.push(b'\n');
    assert_eq!(all(&fits), [text(&"x".repeat(4096))]);
    fits.insert(0, b'x');
    assert_eq!(all(&fits), [Line::TooLong]);
}

#[test]
fn a_line_that_the_end_cut_short_is_not_taken_for_one() {
    assert_eq!(all(b"1382\n4"), [text("1382"), Line::Unfinished]);
    assert_eq!(all(&vec![b'x'; 10_000]), [Line::TooLong]);
}
