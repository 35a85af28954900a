//! The check: a sound book, a flipped byte, a file cut short, no book at all.

use super::home::Home;

#[test]
fn a_sound_book_is_said_to_be_sound() {
    let home = Home::with_herd();
    let said = home.run(&["check", "--book", "herd.book"]).well();
    assert!(said.contains("The book is sound"), "{said}");
    assert!(
        said.contains(" records about 169 animals and farms"),
        "165 animals, three farms, and the practice: {said}"
    );
}

#[test]
fn a_flipped_byte_is_found() {
    let home = Home::with_herd();
    let mut bytes = std::fs::read(home.path("herd.book")).expect("there");
    let word = b"copper paste";
    let places: Vec<usize> = (0..bytes.len() - word.len()).filter(|at| bytes[*at..].starts_with(word)).collect();
    assert!(!places.is_empty());
    for at in places {
        bytes[at] ^= 0x20;
    }
    std::fs::write(home.path("hurt.book"), bytes).expect("written");
    let said = home.run(&["check", "--book", "hurt.book"]).complained(1);
    assert!(said.contains("checksum") && said.contains("backup"), "{said}");
}

#[test]
fn a_file_cut_short_and_a_file_that_is_none_end_in_a_sentence() {
    let home = Home::with_herd();
    let bytes = std::fs::read(home.path("herd.book")).expect("there");
    std::fs::write(home.path("cut.book"), &bytes[..bytes.len() / 2]).expect("written");
    let said = home.run(&["check", "--book", "cut.book"]).complained(1);
    assert!(said.contains("cut.book is") && said.contains("damaged"), "{said}");
    let said = home.run(&["check", "--book", "none.book"]).complained(1);
    assert!(said.contains("there is no book at none.book"), "{said}");
    assert!(!home.path("none.book").exists(), "and none is made");
}
