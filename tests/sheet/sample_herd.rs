//! The sheets of the sample herd as they lie in their folder: no mistake in any, each in the printed form and named after
//! its day; and entered they are known to be entered. Their story is told in `tests/stories/herd.rs`.

use crate::support::sample::farm;
use crushbook::command::sample::{FARMS, NEW_LIST, SampleFarm};
use crushbook::domain::herd_list::figures::Figures;
use crushbook::domain::sheet::{FarmTold, Line, Sheet};
use crushbook::wire::{herd_csv, sheet};
use std::collections::BTreeSet;
use std::path::Path;

fn parsed(farm: &SampleFarm) -> Vec<(&'static str, Sheet)> {
    let read = |text, name| sheet::parse(text, name).unwrap_or_else(|mistakes| panic!("{mistakes:#?}"));
    farm.sheets.iter().map(|(name, text)| (*name, read(*text, *name))).collect()
}

#[test]
fn every_sheet_is_named_after_its_day_and_stands_in_the_printed_form() {
    let mut otherwise = Vec::new();
    for farm in FARMS {
        for ((name, sheet), (_, text)) in parsed(farm).iter().zip(farm.sheets) {
            assert_eq!(sheet.on.to_string(), *name);
            assert_eq!(sheet.farm.to_lowercase(), farm.folder, "{name}");
            let printed = sheet::print(sheet);
            let line = printed.lines().zip(text.lines()).find(|(wanted, got)| wanted != got);
            otherwise
                .extend(line.map(|(wanted, got)| format!("{}/{name}: {got:?} is printed as {wanted:?}", farm.folder)));
            if line.is_none() {
                assert_eq!(printed, *text, "{name}");
            }
        }
    }
    assert!(otherwise.is_empty(), "{otherwise:#?}");
}

#[test]
fn every_list_and_every_sheet_of_the_folder_is_in_the_program() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-herd");
    let names = |folder: &Path| -> BTreeSet<String> {
        let entries = std::fs::read_dir(folder).expect("a folder");
        entries.map(|entry| entry.expect("an entry").file_name().to_string_lossy().into_owned()).collect()
    };
    let mut there = names(&folder);
    assert!(there.remove("README.md"), "its story is told");
    assert_eq!(there, FARMS.iter().map(|farm| farm.folder.to_owned()).collect());
    for farm in FARMS {
        let mut built_in: BTreeSet<String> = farm.sheets.iter().map(|(day, _)| format!("{day}.txt")).collect();
        built_in.insert("herd.csv".to_owned());
        // To be tried, and not entered: tests/commands/herd.rs.
        built_in.extend((farm.folder == "quillbarrow").then(|| NEW_LIST.0.to_owned()));
        assert_eq!(names(&folder.join(farm.folder)), built_in, "{}", farm.folder);
    }
}

#[test]
fn every_list_is_free_of_problems_and_holds_everybody_a_sheet_speaks_of() {
    for farm in FARMS {
        let list = herd_csv::read(farm.list, farm.folder, Figures::Unsaid);
        let said = (&list.problems, &list.broken, &list.notices);
        assert_eq!(said, (&Vec::new(), &Vec::new(), &Vec::new()), "{}", farm.folder);
        let animals = &crate::support::sample::farm(&parsed(farm)[0].1.farm).animals;
        // Who is new by her number alone (`told new animals`) is told so with her group: tests/stories/herd.rs.
        let new = animals.iter().filter(|(_, her)| her.herd.group == "reared away");
        assert_eq!(animals.len(), list.rows.len() + new.count(), "a sheet begins nobody else");
    }
}

#[test]
fn every_farm_can_be_rung_and_says_how_it_scores_gait() {
    use crushbook::domain::herd::FarmFact;
    let mut scales = BTreeSet::new();
    for farm in FARMS {
        let first = &parsed(farm)[0].1;
        let told = |wanted: FarmFact| {
            let words = first.lines.iter().find_map(|line| match line {
                Line::Farm(FarmTold::Fact(fact, words)) if *fact == wanted => Some(words.clone()),
                Line::Farm(_) | Line::Animal { .. } | Line::Turn(_) => None,
            });
            words.unwrap_or_else(|| panic!("{} tells no {wanted:?}", first.farm))
        };
        told(FarmFact::Contact);
        told(FarmFact::Vet);
        // The range that is kept free for fiction: 01632 960000 to 960999 (Ofcom; from memory).
        assert!(told(FarmFact::Phone).starts_with("01632 960") && told(FarmFact::VetPhone).starts_with("01632 960"));
        scales.insert(told(FarmFact::GaitScale));
    }
    assert_eq!(scales, BTreeSet::from(["0-3".to_owned(), "1-5".to_owned()]), "both scales are shown");
}

#[test]
fn every_recorded_turn_prints_as_a_sheet_that_says_it_is_already_entered() {
    let mut turns = 0;
    for sample in FARMS {
        for (name, sheet) in parsed(sample) {
            for turn in sheet.turns() {
                let known = farm(&sheet.farm).called(&turn.animal).into_iter().any(|her| turn.is_in(her, sheet.on));
                assert!(known, "{name} {}", turn.animal);
                turns += 1;
            }
        }
    }
    assert!(turns > 400, "{turns} turns");
}
