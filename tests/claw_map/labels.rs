//! Every code that can stand in a zone fits there, whole or shortened as far as the drawing's size makes it.

use super::animals::{found, ghost, zone};
use crushbook::claw_map::label::{self, Run};
use crushbook::claw_map::marks::{Time, Weight, ZoneMark};
use crushbook::claw_map::mask::Size;
use crushbook::claw_map::picture::{FootPicture, View};
use crushbook::domain::anatomy::{Foot, Side};

/// Terms of the ICAR Claw Health Atlas (codes from memory) and the zones they occur in (International Lameness Committee
/// poster 2008; Shearer et al. 2004; 7, 8, 11, 12 from memory). DD by its stage (Doepfer et al. 1997; Berry et al. 2012).
const CODES: [(&str, &[u8]); 23] = [
    ("M1", &[9, 10, 0]),
    ("M2", &[9, 10, 0]),
    ("M3", &[9, 10, 0]),
    ("M4", &[9, 10, 0]),
    ("M4.1", &[9, 10, 0]),
    ("ID", &[0, 10]),
    ("IH", &[0]),
    ("IP", &[0, 9]),
    ("SW", &[9, 10]),
    ("DS", &[4, 5, 6]),
    ("TS", &[4, 5]),
    ("HHE", &[6]),
    ("HFA", &[11, 12]),
    ("HFH", &[7, 8, 11, 12]),
    ("HFV", &[7, 8]),
    ("SHD", &[1, 2, 3, 4, 5, 6]),
    ("SHC", &[1, 2, 3, 4, 5, 6]),
    ("SU", &[4]),
    ("BU", &[6]),
    ("TU", &[1, 5]),
    ("TN", &[1, 5]),
    ("WLF", &[1, 2, 3]),
    ("WLA", &[1, 2, 3]),
];

fn fitted(size: Size, foot: Foot, mark: &ZoneMark) -> Vec<Run> {
    let picture = FootPicture::of(size, foot, View::ToeDown);
    let label = picture.label_box(mark.place).expect("a label");
    let runs = label::fit(mark, label, size.has_numbers());
    for run in &runs {
        for col in run.col..run.col + run.cols() {
            assert_eq!(picture.owner(col, run.row), Some(mark.place), "{size:?} {run:?} leaves its zone");
        }
    }
    runs
}

fn joined(runs: &[Run]) -> String {
    runs.iter().map(|run| run.text.as_str()).collect()
}

fn shown(size: Size, number: u8, mark: impl Fn(crushbook::domain::anatomy::Place) -> ZoneMark) -> String {
    joined(&fitted(size, Foot::LeftHind, &mark(zone(Foot::LeftHind, Side::Outer, number))))
}

#[test]
fn large_sizes_show_every_code_whole_on_one_line() {
    for size in [Size::S, Size::L, Size::M, Size::XL] {
        for (code, zones) in CODES {
            for number in zones {
                let runs = fitted(
                    size,
                    Foot::RightHind,
                    &found(zone(Foot::RightHind, Side::Inner, *number), code, Weight::Severe),
                );
                let sign = if code.starts_with('M') { "" } else { "!" };
                assert_eq!(joined(&runs), format!("{code}{sign}"), "{size:?} zone {number}");
                assert_eq!(runs.len(), 1, "{size:?} zone {number} {code} on one line");
            }
        }
    }
}

#[test]
fn small_sizes_shorten_only_what_does_not_fit() {
    let shortened = |size: Size| {
        let mut list: Vec<String> = Vec::new();
        for (code, zones) in CODES {
            for number in zones {
                let text = shown(size, *number, |place| found(place, code, Weight::Severe));
                let sign = if code.starts_with('M') { "" } else { "!" };
                if text != format!("{code}{sign}") {
                    list.push(format!("{number} {code} -> {text}"));
                }
            }
        }
        list
    };
    assert_eq!(shortened(Size::S80), ["12 HFA -> HF!", "12 HFH -> HF!"]);
    let narrow = ["11 HFA", "12 HFA", "11 HFH", "12 HFH"].map(|code| format!("{code} -> HF!"));
    let bleeding = ["1 SHD", "4 SHD", "1 SHC", "4 SHC"].map(|code| format!("{code} -> SH!"));
    let line = ["1 WLF", "1 WLA"].map(|code| format!("{code} -> WL!"));
    assert_eq!(shortened(Size::S60), [narrow.as_slice(), &bleeding, &line].concat());
}

#[test]
fn last_time_stands_in_small_letters_with_a_question_mark() {
    assert_eq!(shown(Size::L, 4, |place| ghost(place, "SU")), "su?");
    assert_eq!(shown(Size::S80, 3, |place| ghost(place, "WLF")), "wlf?");
    assert_eq!(shown(Size::S80, 10, |place| ghost(place, "M4.1")), "m4.1?");
    assert_eq!(shown(Size::XS, 4, |place| ghost(place, "SU")), "?");
}

#[test]
fn today_over_last_time_keeps_the_code_and_asks() {
    let both = |place| ZoneMark { time: Time::Both, ..found(place, "SU", Weight::Severe) };
    assert_eq!(shown(Size::L, 4, both), "SU!?");
    assert_eq!(shown(Size::S80, 4, both), "SU!?");
    assert_eq!(
        shown(Size::S60, 4, both),
        "SU!",
        "its colour says severe, so its sign does; that one waits is said beside the map"
    );
}

#[test]
fn further_findings_are_counted_where_there_is_room() {
    let three = |place| ZoneMark { more: 2, ..found(place, "SU", Weight::Severe) };
    assert_eq!(shown(Size::L, 4, three), "SU!+2");
    assert_eq!(shown(Size::S80, 4, three), "SU!+2");
    assert_eq!(shown(Size::S60, 4, three), "SU!", "the words beside the map count then");
}

#[test]
fn a_grade_that_was_not_given_has_no_sign() {
    assert_eq!(shown(Size::M, 4, |place| found(place, "SU", Weight::Untold)), "SU");
    assert_eq!(shown(Size::XS, 4, |place| found(place, "SU", Weight::Untold)), "*");
}

#[test]
fn a_long_code_breaks_before_its_point() {
    let place = zone(Foot::LeftHind, Side::Outer, 0);
    let lines: Vec<String> = fitted(Size::S80, Foot::LeftHind, &found(place, "M4.1", Weight::Moderate))
        .into_iter()
        .map(|run| run.text)
        .collect();
    assert_eq!(lines, ["M4", ".1"]);
}
