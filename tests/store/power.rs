//! Power cuts: at every write and every sync of short stories, one for each way anything is ever committed, and of random
//! ones, on both disks together. Whatever was acknowledged is there afterwards, and nothing else. Disks that lie about
//! syncing go before the same judge, and there it must see losses.

use super::disk::{Disk, Power, Sync};
use super::tablet::Tablet;
use super::world::{Step, World};
use super::{Bench, every, farm_of};
use Step::{Close, Draft, Kill, Open, Pack, Press, Rebuild, Series, Take};
use std::sync::Arc;
use std::sync::atomic::{AtomicUsize, Ordering};

/// One way of committing: what stands before, and the steps that the power is cut in.
struct Path {
    before: &'static [Step],
    cut: &'static [Step],
}

/// A farm with three animals in the book, and the hand gone with the program's good end.
const AT_REST: &[Step] = &[Open, Take(2), Press, Press, Press, Close];
/// The same, killed with presses in the hand.
const IN_HAND: &[Step] = &[Open, Take(2), Press, Press, Pack, Press, Press, Kill];

const APPEND: Path = Path { before: AT_REST, cut: &[Open, Press, Press, Press, Press, Press, Press, Press, Press] };
const PACK: Path = Path { before: AT_REST, cut: &[Open, Press, Press, Press, Press, Pack, Press, Pack] };
const START: Path = Path { before: IN_HAND, cut: &[Open, Press, Kill, Open] };
const TAKE: Path = Path { before: IN_HAND, cut: &[Open, Take(40), Press, Take(1)] };
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
fn world(before: &[Step]) -> World {
    let mut world = World::new();
    if !before.is_empty() {
        world.play(&[Open]).expect("opens");
        world.take_in(farm_of(3).known.records).expect("taken");
        world.play(&[Kill]).expect("killed");
    }
    world.play(before).expect("the story before goes well with the power on");
    world.copy()
}

/// How many operations the steps are.
fn operations(before: &World, steps: &[Step]) -> usize {
    let mut world = before.copy();
    world.play(steps).expect("the story goes well with the power on");
    // What ends the program's use of the disks is not part of the story.
    world.bench.power.operations()
}

/// Plays the steps, pulls the battery at one operation, and judges what is left. Every third time the battery goes once
/// more while the program starts again.
fn cut(before: &World, steps: &[Step], at: usize, seed: u64, sync: Sync) -> Vec<String> {
    let mut world = before.copy();
    world.bench.power.sync(sync);
    world.bench.power.cut_at(at, seed);
    let went = world.play(steps);
    assert!(went.is_err() || world.bench.power.operations() <= at, "the power goes before the story ends");
    world.lose_power();
    if seed.is_multiple_of(3) {
        let power = &world.bench.power;
        power.cut_at(power.operations() + seed as usize / 3 % 40, seed + 1);
        drop(world.bench.open(1));
        world.lose_power();
    }
    world.judge()
}

/// Cuts a path at each of its operations as often as it takes to come to the number wanted; hands back how many cuts there
/// were and what was wrong after each that did not go well.
fn cut_everywhere(path: &Path, wanted: usize, sync: Sync) -> (usize, Vec<String>) {
    let before = world(path.before);
    let operations = operations(&before, path.cut);
    let rounds = wanted.div_ceil(operations);
    let mut wrong = Vec::new();
    for round in 0..rounds {
        for at in 0..operations {
            let seed = (round * operations + at) as u64;
            let found = cut(&before, path.cut, at, seed, sync);
            if !found.is_empty() {
                wrong.push(format!("cut at {at} of {operations}, seed {seed}: {found:?}"));
            }
        }
    }
    (rounds * operations, wrong)
}

macro_rules! paths {
    ($($name:ident: $path:expr),+ $(,)?) => {$(
        #[test]
        fn $name() {
            let (cuts, wrong) = cut_everywhere(&$path, cuts_wanted(), Sync::Honest);
            assert!(cuts >= cuts_wanted());
            assert!(wrong.is_empty(), "{} of {cuts} cuts, the first: {}", wrong.len(), wrong[0]);
        }
    )+

    #[test]
    fn disks_that_lie_about_syncing_are_seen_to_lose_on_every_path() {
        for sync in [Sync::Never, Sync::Early] {
            $(
                let (cuts, wrong) = cut_everywhere(&$path, 1, sync);
                assert!(wrong.len() > 0, "{}: no loss is seen in {cuts} cuts on a disk that syncs {sync:?}", stringify!($name));
            )+
        }
    }};
}

paths! {
    nothing_is_lost_while_keys_are_pressed: APPEND,
    nothing_is_lost_at_sign_off: PACK,
    nothing_is_lost_at_a_start_after_a_dead_battery: START,
    nothing_is_lost_when_records_come_in_bulk: TAKE,
    nothing_is_lost_while_lists_are_made_again: REBUILD,
    nothing_is_lost_at_the_very_first_start: FIRST,
    nothing_is_lost_at_the_end: CLOSE,
    nothing_is_lost_when_a_new_series_begins: SERIES,
    half_typed_text_is_lost_no_more_than_a_press: DRAFT,
}

/// xorshift, so that a story can be told again.
struct Dice(u64);

impl Dice {
    fn roll(&mut self, sides: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        (self.0 >> 33) as usize % sides
    }
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
    for number in 1.. {
        if cuts >= cuts_wanted() {
            break;
        }
        let mut dice = Dice(number * 0x9e37_79b9_7f4a_7c15);
        let steps = story(&mut dice);
        let before = &starts[dice.roll(starts.len())];
        let operations = operations(before, &steps);
        for _ in 0..12 {
            let (at, seed) = (dice.roll(operations), dice.roll(1 << 30) as u64);
            let wrong = cut(before, &steps, at, seed, Sync::Honest);
            assert!(wrong.is_empty(), "story {number} cut at {at}, seed {seed}: {steps:?}: {wrong:?}");
            cuts += 1;
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
