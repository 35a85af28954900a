//! What stands on the list, against the trade: how a wrap comes off, the four kinds of knowing, pain relief, the vet.

use super::world::{PLAIN, World};
use crate::support::tablet::day;
use crushbook::domain::anatomy::{Foot, Place};
use crushbook::domain::contact::Contact;
use crushbook::domain::event::Event;
use crushbook::domain::finding::{Degree, Finding};
use crushbook::domain::herd::{Leaving, Status};
use crushbook::domain::practice::Region;
use crushbook::domain::treatment::{Gait, GaitScale, Off, Relief, Sign, Word};
use crushbook::domain::vocabulary::Vocabulary;
use crushbook::report::take_off::text::text;
use crushbook::report::take_off::{Task, words};
use crushbook::report::words::Words;

/// Common practice of the trade, restraint first; that part of a wrap left behind tightens into the skin is why it is felt
/// for all round.
const HOW: [&str; 7] = [
    "Only in a crush or with the leg tied. Never alone.",
    "Blunt-ended scissors or a hook blade.",
    "over the hard horn of the outer claw",
    "Never over skin, never at the back of the foot.",
    "Unwind it. LEAVE THE BLOCK.",
    "Feel all round, between the claws and above the dewclaws.",
    "Raw, cut in or swollen: ring the vet.",
];

#[test]
fn it_says_how_a_wrap_comes_off_restraint_first() {
    let mut world = World::new();
    world.wrapped(day(1), "1394");
    let one_line = |text: &str| text.split_whitespace().collect::<Vec<&str>>().join(" ");
    let steps = one_line(&words::how(PLAIN).collect::<Vec<String>>().join(" "));
    let at: Vec<usize> = HOW.iter().map(|step| steps.find(step).unwrap_or_else(|| panic!("{step}: {steps}"))).collect();
    assert!(at.is_sorted() && at[0] == 0, "{steps}");
    let [text, page, calendar, _] = world.forms(day(2));
    for step in words::how(PLAIN) {
        // The paper numbers and breaks lines, the calendar folds and escapes.
        let paper: String = text
            .lines()
            .map(|line| line.trim_start_matches(|l: char| "123456. ".contains(l)))
            .fold(String::new(), |all, line| format!("{all} {}", line.trim()));
        assert!(paper.contains(&step), "{step}\n{text}");
        assert!(page.contains(&format!("<li>{step}</li>")), "{step}\n{page}");
        let unfolded = calendar.replace("\r\n ", "").replace("\\,", ",");
        assert!(unfolded.contains(&step), "{step}\n{calendar}");
    }
}

#[test]
fn it_names_foot_colour_and_milking_in_full() {
    let mut world = World::new();
    world.wrapped(day(1), "1394");
    let text = world.text(day(2));
    // May 1, 2026 was a Friday, so the fourth was a Monday.
    for words in
        ["[ ] 1394", "BACK LEFT: BLUE WRAP", "off by MON 4 May evening milking, by Tom", "who ____", "when ____"]
    {
        assert!(text.contains(words), "{words}\n{text}");
    }
    assert!(text.contains("Vet: Orla Venn 01632 960187\n"), "{text}");
    assert!(text.contains("A record and a reminder, no diagnosis."), "{text}");
    assert!(world.page(day(2)).contains(words::CAUTION.split('\'').next().expect("a beginning")));
}

#[test]
fn without_a_promise_a_wrap_is_off_within_three_days() {
    // "A few days, then open": proceedings on lameness, from memory of the abstract; the practice's default is 3.
    let mut world = World::new();
    let (animal, turn) = world.cow(day(1), "1394");
    world.tablet.put(day(1), animal, turn, super::world::wrap());
    assert!(world.text(day(2)).contains("off by MON 4 May\n"), "{}", world.text(day(2)));
}

#[test]
fn the_four_kinds_of_knowing_are_four_things_to_do() {
    let mut world = World::new();
    for (number, word) in [
        ("1", None),
        ("2", Some(Word::NoAnswer)),
        ("3", Some(Word::StillOn)),
        ("4", Some(Word::Tonight)),
        ("5", Some(Word::Off)),
        ("6", Some(Word::Felt)),
    ] {
        let (animal, _, put) = world.wrapped(day(1), number);
        if let Some(word) = word {
            world.told(day(3), animal, put, word, "Quentin");
        }
    }
    let (animal, _, put) = world.wrapped(day(1), "7");
    world.seen(day(3), animal, put, Off::Bare);
    let mut tasks = world.tasks(day(4));
    tasks.sort();
    let expected = [
        ("1", Task::TakeOff),
        ("2", Task::TakeOff),
        ("3", Task::TakeOff),
        ("4", Task::TakeOff),
        ("5", Task::Feel),
        ("6", Task::Felt),
    ];
    assert_eq!(tasks, expected.map(|(number, task)| (number.to_owned(), task)));
    let text = world.text(day(4));
    assert!(text.contains("SAID TO BE OFF: FEEL FOR A RING\n[ ] 5"), "{text}");
    assert!(text.contains("FELT ALL ROUND: NOTHING TO DO\n    6\n"), "{text}");
}

#[test]
fn nobody_is_named_for_having_said_off() {
    // Or nobody will say it again (the four kinds of knowing: common practice).
    for &word in Word::ALL {
        let mut world = World::new();
        let (animal, _, put) = world.wrapped(day(1), "1394");
        let (other, _, block) = world.blocked(day(1), "1387");
        world.told(day(3), animal, put, word, "Quentin");
        world.told(day(3), other, block, word, "Quentin");
        for form in world.forms(day(4)) {
            assert!(form.contains("1394") && !form.contains("Quentin"), "{word:?}\n{form}");
        }
    }
}

#[test]
fn a_block_stays_on_until_its_day() {
    // Off by 42 days: Univ. Minnesota 4 to 6 weeks; a New Zealand school after 6. From May 1: June 12.
    let mut world = World::new();
    world.blocked(day(1), "1387");
    let on_day = |days: u64| world.tasks(day(1) + chrono::Days::new(days))[0].1;
    assert_eq!([0, 14, 28, 41].map(on_day), [Task::LeaveOn; 4]);
    assert_eq!([42, 100].map(on_day), [Task::TakeOff; 2]);
    let text = world.text(day(2));
    assert!(text.contains("BLOCKS: LEAVE THEM ON\n    1387\n    BACK RIGHT inner claw: WOOD BLOCK\n"), "{text}");
    assert!(text.contains("look by FRI 15 May, off by FRI 12 Jun"), "{text}");
    assert!(!text.contains("TAKING A WRAP OFF"), "no wrap, no scissors: {text}");
}

#[test]
fn a_wrap_over_a_block_says_that_the_block_stays() {
    let mut world = World::new();
    let (animal, turn, _) = world.blocked(day(1), "1400");
    world.tablet.put(
        day(1),
        animal,
        turn,
        crushbook::domain::treatment::Put::Wrap { over: Place::Foot(Foot::RightHind), colour: None },
    );
    world.wrapped(day(1), "1401");
    let list = world.list(day(2));
    let minded: Vec<(&str, bool)> =
        list.with(Task::TakeOff).map(|on| (on.animal.as_str(), words::mind(on) == "Leave the block.")).collect();
    assert_eq!(minded, [("1400", true), ("1401", false)]);
}

#[test]
fn every_blocked_animal_has_the_line_about_pain_relief() {
    // Trim, block and pain relief together: 56 % sound against 24 % for trim alone (Thomas et al. 2015).
    let cases = [
        (None, "[ ] given [ ] not [ ] not known"),
        (Some(Relief::Given), "[x] given [ ] not [ ] not known"),
        (Some(Relief::Not), "[ ] given [x] not [ ] not known"),
        (Some(Relief::NotKnown), "[ ] given [ ] not [x] not known"),
    ];
    for (relief, line) in cases {
        let mut world = World::new();
        let (animal, turn, _) = world.blocked(day(1), "1387");
        if let Some(relief) = relief {
            world.tablet.write(day(1), animal.0, Event::PainRelief { turn, relief });
        }
        for today in [day(2), day(1) + chrono::Days::new(50)] {
            let text = world.text(today);
            assert!(text.contains(&format!("    pain relief: ask the vet\n    {line}\n")), "{text}");
        }
    }
    // Told before the block went on, it says nothing about this one.
    let mut world = World::new();
    let (animal, turn) = world.cow(day(1), "1387");
    world.tablet.write(day(1), animal.0, Event::PainRelief { turn, relief: Relief::Given });
    let turn = world.tablet.turn(day(5), world.visit, animal);
    world.tablet.put(day(5), animal, turn, super::world::block());
    assert_eq!(world.list(day(6)).on[0].relief, None);
    let (_, _, _) = world.wrapped(day(6), "1394");
    assert_eq!(world.text(day(6)).matches("pain relief").count(), 1, "of blocks only");
}

#[test]
fn animals_for_the_vet_stand_on_top() {
    let mut world = World::new();
    world.wrapped(day(1), "1394");
    let (advised, turn) = world.cow(day(1), "1386");
    let place = Place::Foot(Foot::RightFront);
    let event = Event::VetAdvised { turn: Some(turn), place, sign: Sign::OneSided, words: "hot".into() };
    world.tablet.write(day(1), advised.0, event);
    let (foul, turn) = world.cow(day(1), "1390");
    let found = |what| Event::Found { turn, place, what, degree: Degree::NotGiven, words: String::new() };
    world.tablet.write(day(1), foul.0, found(Finding::IP));
    let text = world.text(day(2));
    let [vet, wrap] = ["RING THE VET\n[ ] 1386\n", "TAKE OFF\n[ ] 1394"].map(|part| text.find(part));
    assert!(vet.is_some() && vet < wrap, "{text}");
    assert!(text.contains("FRONT RIGHT: one side swollen, very lame,\n    hot, since FRI 1 May"), "{text}");
    // No better in 3 days, and late for the look a week on: suspect the joint.
    assert!(!text.contains("1390"), "{text}");
    let later = world.text(day(12));
    assert!(later.contains("1390") && later.contains("foul no better in 3 days"), "{later}");
}

#[test]
fn who_does_not_come_by_is_looked_for() {
    let mut world = World::new();
    let (dry, _, _) = world.wrapped(day(1), "1394");
    world.status(day(2), dry, Status::Dry, "far field");
    let (milked, _, _) = world.wrapped(day(1), "1391");
    world.status(day(2), milked, Status::InMilk, "milkers");
    let (sold, _, _) = world.wrapped(day(1), "1392");
    world.tablet.write(day(2), sold.0, Event::Left { animal: sold, why: Leaving::Sold, words: String::new() });
    let (dead, _, _) = world.wrapped(day(1), "1375");
    world.tablet.write(day(2), dead.0, Event::Left { animal: dead, why: Leaving::Died, words: String::new() });
    let text = world.text(day(3));
    assert!(text.contains("[ ] 1394, dry, far field"), "{text}");
    assert!(text.contains("[ ] 1391\n"), "{text}");
    assert!(text.contains("SOLD WITH IT ON: TELL THE NEW KEEPER\n[ ] 1392, sold SAT 2 May "), "{text}");
    assert!(!text.contains("1375"), "nobody can take anything off her: {text}");
}

#[test]
fn of_what_was_sold_the_new_keeper_is_told_once() {
    let mut world = World::new();
    let (sold, _, put) = world.wrapped(day(1), "1392");
    world.tablet.write(day(2), sold.0, Event::Left { animal: sold, why: Leaving::Sold, words: String::new() });
    assert_eq!(world.tasks(day(3)), [("1392".to_owned(), Task::TellKeeper)]);
    assert!(world.ics(day(3)).contains("SUMMARY:1392 BACK LEFT: BLUE WRAP on when sold\\, tell the new keeper\r\n"));
    world.told(day(3), sold, put, Word::KeeperTold, "Quentin");
    assert_eq!(world.tasks(day(3)), []);
}

#[test]
fn who_is_lame_for_no_reason_in_the_foot_is_the_vets_and_said_once() {
    let mut world = World::new();
    let gait = |turn| Event::Walked { turn: Some(turn), gait: Gait { scale: GaitScale::ZeroToThree, score: 3 } };
    let looked = |turn, foot| Event::Looked { turn, foot, lifted: true, trimmed: true, all_seen: true };
    for (number, advised) in [("205", false), ("1393", true)] {
        let (animal, turn) = world.cow(day(1), number);
        world.tablet.write(day(1), animal.0, gait(turn));
        for foot in Foot::ALL.iter().copied() {
            world.tablet.write(day(1), animal.0, looked(turn, foot));
        }
        if advised {
            let (place, sign) = (Place::Animal, Sign::LookHigher);
            let event = Event::VetAdvised { turn: Some(turn), place, sign, words: "comes at noon".into() };
            world.tablet.write(day(1), animal.0, event);
        }
    }
    let told = |of_may| -> Vec<(String, Sign, String)> {
        let list = world.list(day(of_may)).for_vet.into_iter();
        list.map(|one| (one.animal, one.sign, one.words)).collect()
    };
    let advised = ("1393".to_owned(), Sign::LookHigher, "comes at noon".to_owned());
    assert_eq!(told(2), [advised.clone(), ("205".to_owned(), Sign::LookHigher, String::new())]);
    // Very lame for over 14 days is a stop sign (Streeter 2019; trimmers' code).
    let long = |number: &str| (number.to_owned(), Sign::Long, String::new());
    assert_eq!(told(17), [advised, long("205"), long("1393")]);
}

#[test]
fn regions_say_it_in_their_words() {
    let mut world = World::new();
    world.wrapped(day(1), "1394");
    let said = |region| text(&world.list_in(day(2), Words(region)), Words(region));
    let uk = said(Region::Uk);
    assert!(uk.contains("BLUE BANDAGE") && uk.contains("TAKING A BANDAGE OFF") && !uk.contains("WRAP"), "{uk}");
    let american = said(Region::NorthAmerica);
    assert!(american.contains("Only in a chute") && !american.contains("crush"), "{american}");
    assert!(american.contains("BACK LEFT"), "feet in full everywhere: {american}");
}

/// Whoever is to take something off is rung, so the number stands where the vet's does: once, and only of those who have something to do.
#[test]
fn whoever_takes_it_off_stands_on_the_list_with_the_number_where_it_has_room() {
    let of = |contacts: &[(&str, &str)]| {
        let mut world = World::new();
        world.wrapped(day(1), "1394");
        world.wrapped(day(1), "1395");
        let contact = |(name, phone): &(&str, &str)| Contact {
            name: (*name).into(),
            does: "takes wraps off".into(),
            phone: (*phone).into(),
        };
        world.named.contacts = contacts.iter().map(contact).collect();
        world
    };
    let world = of(&[("Ada", "01632 960124"), ("TOM", "01632 960123")]);
    let text = world.text(day(2));
    assert_eq!(text.matches("Takes off: ").count(), 1, "{text}");
    assert!(text.contains("Vet: Orla Venn 01632 960187\nTakes off: TOM 01632 960123\n"), "{text}");
    assert!(world.page(day(2)).contains("Takes off: TOM 01632 960123"));
    // No number, no line.
    assert!(!of(&[("Tom", "")]).text(day(2)).contains("Takes off"));
    // 48 columns: "Takes off: Tom " and 33 figures fit, one more does not, and is never torn.
    for (digits, shown) in [(33, true), (34, false)] {
        let phone = "1".repeat(digits);
        let text = of(&[("Tom", &phone)]).text(day(2));
        assert_eq!(text.contains(&format!("Takes off: Tom {phone}\n")), shown, "{text}");
        assert!(text.lines().all(|line| line.chars().count() <= 48), "{text}");
        assert!(text.contains("evening milking, by Tom"), "{text}");
    }
    // Felt all round, there is nothing to take off any more.
    let mut world = World::new();
    let (animal, _, put) = world.wrapped(day(1), "1394");
    world.named.contacts = vec![Contact { name: "Tom".into(), does: String::new(), phone: "112".into() }];
    assert!(world.text(day(2)).contains("Takes off: Tom 112\n"));
    world.told(day(2), animal, put, Word::Felt, "Tom");
    assert!(!world.text(day(2)).contains("Takes off"), "{}", world.text(day(2)));
}
