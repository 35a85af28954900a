//! Backups: whole, of one moment, and never in the way. The battery is pulled at every operation, the folder fails in every
//! way it can; the book and the older backups are as they were, and what is cut is never taken for whole.

use super::cabinet::Cabinet;
use super::power::{AT_REST, world};
use super::tablet::day;
use super::world::Step::{Draft, Kill, Open, Pack, Press, Take};
use super::world::{Step, World};
use super::{every, farm_of, take};
use chrono::{Days, NaiveDate};
use crushbook::domain::backup::{Lag, Made, NEWEST, lag, spare};
use crushbook::domain::ids::RecordId;
use crushbook::domain::record::Record;
use crushbook::store::Store;
use crushbook::store::backup::{Backup, BackupError, make};
use crushbook::store::folder::{Files, Folder};
use crushbook::store::medium::{Medium, hand_beside};
use crushbook::wire::backup::{name, read_name, unfinished};
use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::Path;

type All = Vec<(RecordId, Record)>;

/// Records of a whole backup; it must be sound and know what it is.
fn inside(folder: &dyn Folder, name: &str) -> All {
    let (made, _) = read_name(name).expect("the name of a backup");
    let none = Medium::Backend(Box::new(|| Ok(Box::new(redb::backends::InMemoryBackend::new()))));
    let (mut store, problems) = Store::open(none, folder.file(name), &mut || Ok(0xbac)).expect("a backup opens");
    assert_eq!(problems, []);
    assert_eq!(store.backed_up(), Some(made), "it knows what it is");
    let verdict = store.verify().expect("read");
    assert!(verdict.is_sound(), "{name}: {verdict:?}");
    let all = every(&store);
    assert_eq!(all.len() as u64, made.count, "{name}");
    all
}

/// Names of whole backups, oldest first.
fn whole(names: &[String]) -> Vec<String> {
    let mut names: Vec<String> = names.iter().filter(|name| read_name(name).is_some()).cloned().collect();
    names.sort();
    names
}

fn backup(store: &Store, folder: &dyn Folder, on: NaiveDate) -> Backup {
    make(store.snapshot().expect("a moment"), folder, on).expect("a backup")
}

/// Some presses in the hand and some packed.
const WORK: &[Step] = &[Open, Take(2), Press, Press, Pack, Press, Press, Draft("13"), Press];

#[test]
fn a_backup_is_what_book_and_hand_held_when_it_was_asked_for() {
    let mut world = world(AT_REST);
    world.play(WORK).expect("worked");
    let cabinet = Cabinet::new(&world.bench.power);
    let asked = every(world.store());
    let of = world.store().snapshot().expect("a moment");
    world.play(&[Press, Pack, Press, Take(1)]).expect("work goes on");
    let made = make(of, &cabinet, day(2)).expect("a backup");
    assert_eq!((made.problems.as_slice(), made.gone), (&[][..], 0));
    let names = whole(&cabinet.listed());
    assert_eq!(names, [name(made.made, world.store().series())], "and nothing else is left there");
    assert_eq!(inside(&cabinet, &names[0]), asked);
    assert_eq!(world.judge(), [] as [String; 0]);
}

/// The gate is the folder itself: the copy stands still at its first byte while keys are pressed and the hand is packed.
#[test]
fn keys_are_taken_and_packed_while_a_backup_stands_still() {
    let home = tempfile::tempdir().expect("a folder");
    let book = home.path().join("my.book");
    let (mut store, _) =
        Store::open(Medium::File(hand_beside(&book)), Medium::File(book), &mut || Ok(7)).expect("opens");
    take(&mut store, &farm_of(50).known.records);
    let asked = every(&store);
    let (open, opened) = std::sync::mpsc::channel::<()>();
    let of = store.snapshot().expect("a moment");
    let folder = home.path().to_owned();
    let backup = std::thread::spawn(move || {
        opened.recv().expect("somebody opens the gate");
        make(of, &Files::new(&folder), day(2))
    });
    let mut tablet = farm_of(50);
    let packed = tablet.known.records.len();
    for _ in 0..20 {
        tablet.farm(day(1), "Lower Meadow");
    }
    for record in &tablet.known.records[packed..] {
        store.append(std::slice::from_ref(record)).expect("saved");
        store.pack().expect("packed");
    }
    assert!(!backup.is_finished());
    open.send(()).expect("it waits");
    let made = backup.join().expect("no panic").expect("a backup");
    let files = Files::new(home.path());
    assert_eq!(inside(&files, &name(made.made, store.series())), asked);
    assert_eq!(every(&store).len(), asked.len() + 20);
}

/// A machine with a book that is worked with, and a folder with an older backup of it in it.
struct Office {
    world: World,
    cabinet: Cabinet,
    older: BTreeMap<String, All>,
}

impl Office {
    fn new() -> Office {
        let mut world = world(AT_REST);
        world.play(&[Open]).expect("opens");
        let cabinet = Cabinet::new(&world.bench.power);
        backup(world.store(), &cabinet, day(1));
        world.play(&WORK[1..]).expect("worked");
        let older = whole(&cabinet.listed()).into_iter().map(|name| (name.clone(), inside(&cabinet, &name))).collect();
        Office { world: world.copy(), cabinet, older }
    }

    /// The same at another machine, with presses in its hand; and all that is recorded there.
    fn copy(&self) -> (World, Cabinet, All) {
        let mut world = self.world.copy();
        let cabinet = self.cabinet.copy(&world.bench.power);
        world.play(&[Open, Press, Press]).expect("worked");
        let all = every(world.store());
        (world, cabinet, all)
    }

    /// What is there besides the older backups, each of them as it was.
    fn newer(&self, cabinet: &Cabinet, when: &str) -> BTreeMap<String, All> {
        let names = whole(&cabinet.listed());
        let mut there: BTreeMap<String, All> =
            names.into_iter().map(|name| (name.clone(), inside(cabinet, &name))).collect();
        for (name, records) in &self.older {
            assert_eq!(there.remove(name).as_ref(), Some(records), "{when}: {name} is as it was");
        }
        there
    }
}

#[test]
fn the_battery_may_go_at_every_operation_of_a_backup() {
    let office = Office::new();
    let (mut world, cabinet, _) = office.copy();
    let series = world.store().series();
    let begin = world.bench.power.operations();
    backup(world.store(), &cabinet, day(2));
    let operations = world.bench.power.operations() - begin;
    assert!(operations > 20, "{operations}");
    let (mut cut_short, mut made) = (0, 0);
    for at in 0..=operations {
        for toss in 0..3 {
            let (mut world, cabinet, asked) = office.copy();
            let when = format!("cut at {at} of {operations}, toss {toss}");
            world.bench.power.cut_at(world.bench.power.operations() + at, (at * 3 + toss) as u64);
            let of = world.store().snapshot().expect("a moment");
            let said = make(of, &cabinet, day(2));
            world.lose_power();
            cabinet.lose_power();
            assert_eq!(world.judge(), [] as [String; 0], "{when}");
            let newer = office.newer(&cabinet, &when);
            assert!(newer.values().all(|records| *records == asked), "{when}: it is whole");
            assert!(said.is_err() || newer.len() == 1, "{when}: what was said to be made is there");
            made += newer.len();
            cut_short += usize::from(cabinet.listed().contains(&unfinished(series)));
            // The next one clears up.
            backup(world.store(), &cabinet, day(3));
            assert_eq!(cabinet.listed().len(), whole(&cabinet.listed()).len(), "{when}: {:?}", cabinet.listed());
        }
    }
    assert!(cut_short > 10 && made > 0, "{cut_short} were cut short, {made} were made all the same");
}

#[test]
fn an_error_and_a_full_disk_at_every_call_of_a_backup_cost_nothing() {
    let office = Office::new();
    let (mut world, cabinet, _) = office.copy();
    let begin = world.bench.power.calls();
    backup(world.store(), &cabinet, day(2));
    let calls = world.bench.power.calls() - begin;
    let (mut refused, mut tried) = (0, 0);
    // Most calls are reads, which are alike.
    for call in (0..calls).step_by(3) {
        for full in [false, true] {
            tried += 1;
            let (mut world, cabinet, asked) = office.copy();
            let (power, when) = (world.bench.power.clone(), format!("call {call} of {calls}, full: {full}"));
            let of = world.store().snapshot().expect("a moment");
            match full {
                true => power.fill_at(Some(power.calls() + call)),
                false => power.fail(power.calls() + call, 1),
            }
            let said = make(of, &cabinet, day(2));
            power.fill_at(None);
            refused += usize::from(said.is_err());
            if let Err(why) = &said {
                assert!(why.to_string().starts_with("no backup was made in (a cabinet): "), "{why}");
            }
            // Its name may be there already when the folder refuses to have it reach the disk.
            let newer = office.newer(&cabinet, &when);
            assert!(newer.values().all(|records| *records == asked), "{when}: it is whole");
            assert!(said.is_err() || newer.len() == 1, "{when}: what was said to be made is there");
            world.lose_power();
            assert_eq!(world.judge(), [] as [String; 0], "{when}");
        }
    }
    assert!(refused > tried / 2, "{refused} of {tried} were refused");
}

#[test]
fn a_folder_that_cannot_be_used_is_said_and_left_as_it_is() {
    let home = tempfile::tempdir().expect("a folder");
    let mut world = world(AT_REST);
    world.play(&[Open]).expect("opens");
    let mut said = |folder: &Path| {
        let of = world.store().snapshot().expect("a moment");
        make(of, &Files::new(folder), day(2)).expect_err("no backup").to_string()
    };
    let gone = home.path().join("stick");
    assert!(said(&gone).contains("stick is not there. Put the stick in"), "{}", said(&gone));
    assert!(!gone.exists(), "it is not made: the stick may only have been pulled out");
    let file = home.path().join("letter");
    fs::write(&file, "Dear farmer,\n").expect("written");
    assert!(said(&file).contains("letter is a file, not a folder"), "{}", said(&file));
    assert_eq!(fs::read_to_string(&file).expect("there"), "Dear farmer,\n");
}

#[cfg(unix)]
#[test]
fn a_folder_that_may_only_be_read_is_said() {
    use std::os::unix::fs::PermissionsExt;
    let home = tempfile::tempdir().expect("a folder");
    let folder = home.path().join("archive");
    fs::create_dir(&folder).expect("made");
    fs::set_permissions(&folder, fs::Permissions::from_mode(0o500)).expect("set");
    let mut world = world(AT_REST);
    world.play(&[Open]).expect("opens");
    let of = world.store().snapshot().expect("a moment");
    match make(of, &Files::new(&folder), day(2)) {
        Err(why) => assert!(matches!(why, BackupError::ReadOnly(_)), "{why}"),
        // Whoever may do everything may write there too.
        Ok(made) => assert!(made.file.exists()),
    }
}

#[test]
fn a_damaged_book_is_backed_up_as_it_is_under_another_name_and_nothing_is_thinned() {
    let home = tempfile::tempdir().expect("a folder");
    let book = home.path().join("my.book");
    let open = || Store::open(Medium::File(hand_beside(&book)), Medium::File(book.clone()), &mut || Ok(7));
    let (mut store, _) = open().expect("opens");
    let records = farm_of(50).known.records;
    take(&mut store, &records);
    store.close().expect("closed");
    let mut bytes = fs::read(&book).expect("read");
    let word = b"1400";
    for at in (0..bytes.len() - 4).filter(|at| bytes[*at..].starts_with(word)).collect::<Vec<_>>() {
        bytes[at] ^= 1;
    }
    fs::write(&book, bytes).expect("written in place");
    let (store, _) = open().expect("opens");
    let made = backup(&store, &Files::new(home.path()), day(2));
    assert!(!made.problems.is_empty());
    let file = made.file.file_name().and_then(|name| name.to_str()).expect("a name");
    assert!(file.ends_with("-damaged.redb") && read_name(file).is_none(), "{file}");
    assert!(made.file.exists());
    // Whatever can still be read is in it.
    let (copy, _) = Store::open(Medium::File(hand_beside(&made.file)), Medium::File(made.file.clone()), &mut || Ok(8))
        .expect("opens");
    let readable = copy.every().expect("read").filter(Result::is_ok).count();
    assert_eq!(readable, records.len() - 1);
}

fn made(of_2026: u32, count: u64) -> Made {
    Made { on: NaiveDate::from_yo_opt(2026, of_2026).expect("a day"), count }
}

/// The rule of the brief in words: the last ten, then one a month.
#[test]
fn the_last_ten_are_kept_and_then_the_newest_of_each_month() {
    let all: BTreeSet<Made> = (1..=200).map(|day| made(day, u64::from(day) * 5)).collect();
    let spare = spare(&all);
    let kept: Vec<String> = all.difference(&spare).map(|made| made.on.to_string()).collect();
    // Day 200 of 2026 is 19 July (31 + 28 + 31 + 30 + 31 + 30 = 181).
    let months = ["2026-01-31", "2026-02-28", "2026-03-31", "2026-04-30", "2026-05-31", "2026-06-30"];
    let july = (9..=19).map(|day| format!("2026-07-{day:02}"));
    assert_eq!(kept, months.map(String::from).into_iter().chain(july).collect::<Vec<_>>());
    assert!(self::spare(&all.difference(&spare).copied().collect()).is_empty(), "once is enough");
}

#[test]
fn a_clock_that_went_back_costs_no_backup_that_was_just_made() {
    let mut all: BTreeSet<Made> = (100..100 + NEWEST as u32 + 5).map(|day| made(day, u64::from(day))).collect();
    let newest = made(1, 500);
    all.insert(newest);
    assert!(!spare(&all).contains(&newest));
}

#[test]
fn thinning_takes_only_good_backups_of_this_very_book() {
    let home = tempfile::tempdir().expect("a folder");
    let folder = Files::new(home.path());
    let book = home.path().join("my.book");
    let (mut store, _) =
        Store::open(Medium::File(hand_beside(&book)), Medium::File(book), &mut || Ok(7)).expect("opens");
    take(&mut store, &farm_of(1).known.records);
    let first = day(1);
    let mut tablet = farm_of(1);
    for number in 0..14 {
        backup(&store, &folder, first + Days::new(number));
        let from = tablet.known.records.len();
        tablet.farm(first, "Lower Meadow");
        store.append(&tablet.known.records[from..]).expect("saved");
    }
    let kept = whole(&folder.names().expect("listed"));
    // Fourteen from 2 May on: ten, and the newest of the four before them.
    assert_eq!(kept.len(), NEWEST + 1, "{kept:?}");
    assert!(kept[0].starts_with("crushbook-2026-05-05-"), "{kept:?}");

    // The same names, but: another book inside, a letter, a book of another series by its name.
    let oldest = |day| made(day, 1);
    let (stranger, letter, other) = (name(oldest(1), 7), name(oldest(2), 7), name(oldest(3), 8));
    let other_book = home.path().join("other.book");
    let (other_store, _) =
        Store::open(Medium::File(hand_beside(&other_book)), Medium::File(other_book.clone()), &mut || Ok(9))
            .expect("opens");
    other_store.close().expect("closed");
    fs::copy(&other_book, home.path().join(&stranger)).expect("copied");
    fs::write(home.path().join(&letter), "Dear farmer,\n").expect("written");
    fs::copy(home.path().join(&kept[0]), home.path().join(&other)).expect("copied");
    backup(&store, &folder, first + Days::new(20));
    for name in [stranger, letter, other] {
        assert!(home.path().join(&name).exists(), "{name} is none of ours");
    }
}

#[test]
fn names_say_day_count_and_series_and_are_read_back() {
    let one = Made { on: NaiveDate::from_ymd_opt(2026, 5, 14).expect("a day"), count: 4632 };
    let text = name(one, 0x7c15_9e37_79b9_7f4a);
    assert_eq!(text, "crushbook-2026-05-14-000004632-7c159e3779b97f4a.redb");
    assert_eq!(read_name(&text), Some((one, 0x7c15_9e37_79b9_7f4a)));
    for other in [
        "crushbook-2026-05-14-4632-7c159e3779b97f4a.redb",
        "crushbook-2026-05-14-000004632-7c159e3779b97f4a-damaged.redb",
        "crushbook-2026-05-14-000004632-7C159E3779B97F4A.redb",
        "crushbook-2026-5-14-000004632-7c159e3779b97f4a.redb",
        "crushbook-7c159e3779b97f4a.unfinished",
        "book.redb",
        "",
        "crushbook-.redb",
    ] {
        assert_eq!(read_name(other), None, "{other}");
    }
    let later = name(Made { on: one.on + Days::new(1), count: 4632 }, 1);
    let more = name(Made { count: 10_000_000, ..one }, 1);
    assert!(text < more && more < later, "they sort as they were made");
}

#[test]
fn a_lag_is_said_only_when_records_came_since() {
    let last = made(100, 50);
    let day = |of_year| made(of_year, 0).on;
    let cases = [
        (None, 0, 100, None, "nothing to lose yet"),
        (None, 1, 100, Some(Lag::Never), "never one"),
        (Some(last), 50, 300, None, "nothing came since"),
        (Some(last), 51, 106, None, "six days"),
        (Some(last), 51, 107, Some(Lag::Since(last.on)), "seven days"),
        (Some(last), 51, 99, None, "a day ahead: the clock of another zone"),
        (Some(last), 51, 80, Some(Lag::Since(last.on)), "made on a day far ahead, by a clock that was wrong"),
    ];
    for (last, count, today, expected, why) in cases {
        assert_eq!(lag(last, count, day(today), 7), expected, "{why}");
    }
}

#[test]
fn the_last_good_backup_is_remembered_and_an_older_one_is_no_news() {
    let mut world = world(AT_REST);
    world.play(&[Open]).expect("opens");
    let (old, new) = (made(1, 5), made(2, 9));
    world.store().remember_backup(new).expect("kept");
    world.store().remember_backup(old).expect("no news");
    world.play(&[Press, Pack, Kill, Open]).expect("again");
    assert_eq!(world.store().backed_up(), Some(new));
}
