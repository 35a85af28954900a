//! `crushbook renumber`: what is new is said, and what is doubtful about it as herd lists say it.

use super::home::{Home, TODAY};

fn renumber(home: &Home, told: &[&str]) -> super::home::Said {
    let book = ["--farm", "Quillbarrow", "--book", "herd.book", "--today", TODAY, "--recorded-by", "Ann"];
    home.run(&[&["renumber"], told, &book].concat())
}

#[test]
fn what_is_new_on_her_is_said_and_what_is_doubtful_about_it() {
    let home = Home::with_herd();
    // The check digit of a GB tag: herd and animal as one number, modulo 7, plus 1 (trade.md, section 9). Of 000000 and 01382 that is
    // 1382 = 7 * 197 + 3, so 4.
    let said = renumber(&home, &["1382", "--tag", "UK 000000 101382"]);
    assert_eq!((said.code, said.out.as_str()), (Some(0), "1382 Clover, tag now UK 000000 101382\n"));
    assert_eq!(
        said.err,
        "crushbook: \"UK 000000 101382\": the check digit of this GB tag should be 4: look at the tag, two digits may be swapped\n"
    );
    assert_eq!(
        renumber(&home, &["1382", "--tag", "UK 000000 401382"]).well(),
        "1382 Clover, tag now UK 000000 401382\n"
    );
    // ISO 11784: 999 is for tests, and 38 bits are at most 274877906943.
    for (number, what) in
        [("999000000999999", "999 is the code for tests"), ("826274877906944", "at most 274877906943")]
    {
        let said = renumber(&home, &["1383", "--electronic", number]);
        assert_eq!(said.out, format!("1383 Fennel, electronic number now {number}\n"));
        assert!(said.err.contains(&format!("crushbook: \"{number}\": ")) && said.err.contains(what), "{}", said.err);
    }
    assert_eq!(renumber(&home, &["1383", "--number", "7383", "--name", "Fen"]).well(), "1383 Fennel is now 7383 Fen\n");
}

#[test]
fn who_loses_her_number_is_said_to_be_called_otherwise_and_by_something() {
    let home = Home::with_herd();
    renumber(&home, &["1382", "--tag", "XX 9"]).well();
    let said = renumber(&home, &["1382", "--number", ""]).well();
    assert_eq!(said, "1382 Clover is now XX 9 Clover, no number any more: she is called by her tag\n");
    let before = home.run(&["export", "--book", "herd.book"]).well();
    let said = renumber(&home, &["XX 9", "--tag", "", "--electronic", "", "--name", ""]).complained(2);
    assert!(
        said.contains("nothing would be left that XX 9 is called by") && said.contains("Nothing was written"),
        "{said}"
    );
    assert_eq!(home.run(&["export", "--book", "herd.book"]).well(), before);
}
