//! Power cuts: at every write and every sync of short stories, one for each way anything is ever committed, and of random
//! ones, on both disks together. Whatever was acknowledged is there afterwards, and nothing else. Disks that lie about
//! syncing go before the same judge, and there it must see losses.

use super::disk::{Act, Dice, Disk, Platter, Power, Sync};
use super::tablet::Tablet;
use super::world::{Step, World};
use super::{Bench, every, farm_of};
use Step::{Close, Draft, Enter, Kill, Open, Pack, Press, Rebuild, Series, Take};
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::sync::Arc;
use std::sync::atomic::{AtomicUsize, Ordering};

/// One way of committing: what stands before, and the steps that the power is cut in.
struct Path {
    before: &'static [Step],
    cut: &'static [Step],
}

/// A farm with three animals in the book, and the hand gone with the program's good end.
pub const AT_REST: &[Step] = &[Open, Take(2), Press, Press, Press, Close];
/// The same, killed with presses in the hand.
const IN_HAND: &[Step] = &[Open, Take(2), Press, Press, Pack, Press, Press, Kill];

const APPEND: Path = Path { before: AT_REST, cut: &[Open, Press, Press, Press, Press, Press, Press, Press, Press] };
const PACK: Path = Path { before: AT_REST, cut: &[Open, Press, Press, Press, Press, Pack, Press, Pack] };
const START: Path = Path { before: IN_HAND, cut: &[Open, Press, Kill, Open] };
const TAKE: Path = Path { before: IN_HAND, cut: &[Open, Take(5), Press, Take(1)] };
// As the command does it: no hand is laid out before the first key.
const ENTER: Path = Path { before: &[Open, Kill], cut: &[Open, Enter, Enter, Kill, Open, Enter, Enter, Press, Press] };
const REBUILD: Path = Path { before: IN_HAND, cut: &[Open, Rebuild, Press, Pack, Rebuild] };
const FIRST: Path = Path { before: &[], cut: &[Open, Press, Press, Pack] };
const CLOSE: Path = Path { before: IN_HAND, cut: &[Open, Press, Close, Open, Close] };
const SERIES: Path = Path { before: IN_HAND, cut: &[Open, Series, Press, Press, Series, Press, Pack] };
const DRAFT: Path =
    Path { before: AT_REST, cut: &[Open, Draft("1"), Draft("13"), Press, Draft("138"), Draft(""), Pack, Draft("4")] };

/// Cuts for each path: `CRUSHBOOK_CUTS=100000` makes so many.
fn cuts_wanted() -> usize {
    let said = std::env::var("CRUSHBOOK_CUTS").ok();
    said.map_or(600, |said| said.parse().expect("CRUSHBOOK_CUTS is a number of power cuts"))
}

/// The world before the cut steps.
pub fn world(before: &[Step]) -> World {
    let mut world = World::new();
    if !before.is_empty() {
        world.play(&[Open]).expect("opens");
        world.take_in(farm_of(3).known.records).expect("taken");
        world.play(&[Kill]).expect("killed");
    }
    world.play(before).expect("the story before goes well with the power on");
    world.copy()
}

/// A story with all that the disks did, so that it need be told only once.
struct Film {
    /// The world after the story, which remembers what it knew at each operation.
    world: World,
    platters: [Platter; 2],
    acts: Vec<(usize, Act)>,
}

impl Film {
    fn of(before: &World, steps: &[Step]) -> Film {
        let mut world = before.copy();
        let platters = [&world.bench.hand, &world.bench.book].map(|disk| Platter::new(disk.image()));
        world.bench.power.film();
        world.play(steps).expect("the story goes well with the power on");
        let acts = world.bench.power.developed();
        Film { world, platters, acts }
    }

    /// What the power leaves when it goes at each operation in turn, and after the last.
    fn cuts(&self, sync: Sync) -> impl Iterator<Item = (usize, [Platter; 2])> + '_ {
        let mut platters = self.platters.clone();
        (0..=self.acts.len()).map(move |at| {
            if let Some((disk, act)) = at.checked_sub(1).and_then(|done| self.acts.get(done)) {
                platters[*disk].act(act, sync);
            }
            (at, platters.clone())
        })
    }

    /// Judges what is left of one cut. Every third time the battery goes once more while the program starts again; every
    /// eighth time work goes on. A panic is a judgement too: redb may panic on a damaged file.
    fn judge(&self, at: usize, platters: [Platter; 2], seed: u64) -> Vec<String> {
        let judged = catch_unwind(AssertUnwindSafe(|| self.judge_cut(at, platters, seed)));
        judged.unwrap_or_else(|_| vec!["panics".to_owned()])
    }

    fn judge_cut(&self, at: usize, platters: [Platter; 2], seed: u64) -> Vec<String> {
        let mut dice = Dice::new(seed);
        let mut world = self.world.cut(at, platters.map(|platter| platter.lose_power(&mut dice)));
        if dice.roll(3) == 0 {
            let power = &world.bench.power;
            power.cut_at(power.operations() + dice.roll(40), seed);
            drop(world.bench.open(1));
            world.lose_power();
        }
        let wrong = world.judge();
        if wrong.is_empty() && dice.roll(8) == 0 { world.goes_on() } else { wrong }
    }
}

/// Cuts a path at each of its operations as often as it takes to come to the number wanted.
fn cut_everywhere(path: &Path) {
    let film = Film::of(&world(path.before), path.cut);
    let rounds = cuts_wanted().div_ceil(film.acts.len());
    for (at, platters) in film.cuts(Sync::Honest) {
        for round in 0..rounds {
            let seed = (at * rounds + round) as u64;
            let wrong = film.judge(at, platters.clone(), seed);
            assert!(wrong.is_empty(), "cut at {at} of {}, seed {seed}: {wrong:?}", film.acts.len());
        }
    }
}

/// What the same judge says of some cuts of the path on a disk that does not sync as it says.
fn losses(path: &Path, sync: Sync) -> Vec<String> {
    let film = Film::of(&world(path.before), path.cut);
    let cuts = film.cuts(sync).step_by(film.acts.len() / 12);
    cuts.flat_map(|(at, platters)| film.judge(at, platters, at as u64)).collect()
}

macro_rules! paths {
    ($($name:ident: $path:expr),+ $(,)?) => {
        $(
            #[test]
            fn $name() {
                cut_everywhere(&$path);
            }
        )+

        const PATHS: &[(&str, Path)] = &[$((stringify!($name), $path)),+];
    };
}

paths! {
    nothing_is_lost_while_keys_are_pressed: APPEND,
    nothing_is_lost_at_sign_off: PACK,
    nothing_is_lost_at_a_start_after_a_dead_battery: START,
    nothing_is_lost_when_records_come_in_bulk: TAKE,
    nothing_is_lost_and_no_number_given_twice_when_sheets_are_entered: ENTER,
    nothing_is_lost_while_lists_are_made_again: REBUILD,
    nothing_is_lost_at_the_very_first_start: FIRST,
    nothing_is_lost_at_the_end: CLOSE,
    nothing_is_lost_when_a_new_series_begins: SERIES,
    half_typed_text_is_lost_no_more_than_a_press: DRAFT,
}

#[test]
fn disks_that_lie_about_syncing_are_seen_to_lose_on_every_path() {
    let mut seen = Vec::new();
    for sync in [Sync::Never, Sync::Early] {
        for (name, path) in PATHS {
            let wrong = losses(path, sync);
            assert!(!wrong.is_empty(), "{name}: no loss is seen on a disk that syncs {sync:?}");
            seen.extend(wrong);
        }
    }
    assert!(seen.iter().any(|wrong| wrong.contains("was acknowledged and is lost")));
}

/// A story of any steps that can follow each other.
fn story(dice: &mut Dice) -> Vec<Step> {
    let mut steps = vec![Open];
    for _ in 0..4 + dice.roll(8) {
        match dice.roll(14) {
            0..6 => steps.push(Press),
            6 | 7 => steps.push(Pack),
            8 => steps.push(Take(1 + dice.roll(3) as u32)),
            9 => steps.push(Draft(["", "1", "1380"][dice.roll(3)])),
            10 => steps.push(Rebuild),
            11 => steps.push(Series),
            12 => steps.extend([Close, Open]),
            _ => steps.extend([Kill, Open]),
        }
    }
    steps
}

#[test]
fn nothing_is_lost_in_any_story() {
    let starts = [world(&[]), world(AT_REST), world(IN_HAND)];
    let mut cuts = 0;
    let mut number = 0;
    while cuts < cuts_wanted() {
        number += 1;
        let mut dice = Dice::new(number);
        let steps = story(&mut dice);
        let film = Film::of(&starts[dice.roll(starts.len())], &steps);
        for (at, platters) in film.cuts(Sync::Honest) {
            // One in four, so that there are many stories.
            if dice.roll(4) == 0 {
                let wrong = film.judge(at, platters, number);
                assert!(wrong.is_empty(), "story {number} cut at {at}: {steps:?}: {wrong:?}");
                cuts += 1;
            }
        }
    }
}

/// How often redb asks while it repairs a whole file, on a copy of it; 0 where it need not.
pub fn repairs(disk: &Disk) -> usize {
    let repairs = Arc::new(AtomicUsize::new(0));
    let counter = Arc::clone(&repairs);
    let mut builder = redb::Builder::new();
    builder.set_repair_callback(move |_| _ = counter.fetch_add(1, Ordering::Relaxed));
    drop(builder.create_with_backend(disk.copy(&Power::default())));
    repairs.load(Ordering::Relaxed)
}

#[test]
fn after_a_dead_battery_only_the_small_hand_is_repaired_never_the_book() {
    let mut tablet: Tablet = farm_of(3000);
    let records = tablet.known.records.clone();
    let bench = Bench::new();
    let mut store = bench.opened(7);
    super::take(&mut store, &records);
    tablet.farm(super::tablet::day(1), "Lower Meadow");
    store.append(&tablet.known.records[records.len()..]).expect("saved");
    bench.power.cut_at(bench.power.operations(), 5);
    drop(store);
    bench.hand.lose_power();
    bench.book.lose_power();
    bench.power.restore();
    assert_eq!(repairs(&bench.book), 0);
    assert!(repairs(&bench.hand) > 0, "the count counts");
    assert_eq!(every(&bench.opened(7)).len(), records.len() + 1);
}
