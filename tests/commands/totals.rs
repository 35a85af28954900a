//! What a day at a farm adds up to, counted by hand from its sheet.

use super::home::{Home, TODAY};

const SHEET: &str = "\
farm Hollow
day 14 May 2026
by Ann

animal 1
  hinds lifted trimmed all seen
  LH outer 4 SU severe
  LH inner block wood
  signed

animal 2
  all four trimmed nothing found
  signed

animal 3
  RH lifted trimmed all seen
  RH heel DD M2
  RH heel dressing \"blue spray\"
  RH heel wrap blue off by 17 May evening by \"Helen\"
  signed
";

#[test]
fn a_day_adds_up() {
    let home = Home::new();
    home.write("day.txt", SHEET);
    home.run(&["enter", "day.txt", "--book", "b.book", "--today", TODAY]).well();
    let totals = home.json(&["totals", "--book", "b.book"]);
    let count = |name: &str| totals[name].as_u64();
    assert_eq!((count("animals"), count("turns")), (Some(3), Some(3)), "{totals}");
    assert_eq!((count("feet_lifted"), count("feet_trimmed")), (Some(7), Some(7)));
    assert_eq!((count("blocks"), count("wraps"), count("dressings")), (Some(1), Some(1), Some(1)));
    assert_eq!((totals["farm"].as_str(), totals["date"].as_str()), (Some("Hollow"), Some("2026-05-14")));
    let text = home.run(&["totals", "--book", "b.book", "--today", TODAY, "--region", "uk"]).well();
    assert!(text.contains("Hollow, THU 14 May 2026") && text.contains("bandages           1"), "{text}");
    let other = home.run(&["totals", "--book", "b.book", "--today", "2026-05-13"]).well();
    assert!(other.contains("animals            0"), "another day: {other}");
}
