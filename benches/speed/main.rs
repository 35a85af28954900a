//! The speed figures, as ratios of what was measured in one interleaved run. What can be counted is asserted in
//! `tests/costs`; this prints what only a clock can tell.
//!
//! `cargo bench --manifest-path benches/Cargo.toml` makes ten years; `-- --small` one year and few rounds, in some seconds.

mod backup;
mod books;
mod day;
mod exchange;
mod floor;
mod key;
// The tests use all of it.
#[allow(dead_code)]
#[path = "../../tests/support/meter.rs"]
mod meter;
mod press;
mod rounds;
mod sample;
mod start;
mod twin;
mod watched;
#[path = "../../tests/support/years.rs"]
mod years;

use rounds::Outcome;
use std::path::Path;
use years::{Plan, TEN_YEARS};

/// How much is measured.
struct Size {
    years: u64,
    rounds: usize,
}

const FULL: Size = Size { years: 10, rounds: 2000 };
const SMALL: Size = Size { years: 1, rounds: 200 };

fn main() -> Outcome<()> {
    let arguments: Vec<String> = std::env::args().skip(1).filter(|argument| argument != "--bench").collect();
    let arguments: Vec<&str> = arguments.iter().map(String::as_str).collect();
    match arguments.as_slice() {
        [] => measure(&FULL),
        ["--small"] => measure(&SMALL),
        ["--day"] => days(),
        ["--start", book, today] => start::child(Path::new(book), today.parse()?),
        ["--export", book, file] => exchange::export(Path::new(book), Path::new(file)),
        ["--import", file, book] => exchange::import(Path::new(file), Path::new(book)),
        _ => Err("say nothing for ten years, or --small for one".into()),
    }
}

/// The lists of a day alone.
fn days() -> Outcome<()> {
    let program = std::env::current_exe()?;
    let folder = tempfile::tempdir_in(program.parent().unwrap_or(Path::new(".")))?;
    sample::enter(folder.path())?;
    listed(folder.path(), &|what, measured, goal| println!("| {what} | {measured} | {goal} |"))
}

/// What it takes to open a farm with its list: the largest of the sample herd, and two that were invented.
fn listed(folder: &Path, row: &dyn Fn(&str, String, &str)) -> Outcome<()> {
    let (animals, ms) = day::sample(&folder.join("sample"))?;
    row(&format!("farm opened with its list, sample herd: {animals} animals"), format!("{ms:.0} ms"), "");
    for herd in [80, 250] {
        let day::Listed { animals, expected, records, times } = day::invented(folder, herd, &format!("herd-{herd}"))?;
        let what =
            format!("farm opened with its list, to SQLite's records folded once: {animals} animals, {records} records");
        let [day, alone] = ["list of a day", "herd alone"].map(|name| times.median(name) / 1e3);
        let ratio = times.ratio("list of a day", "list of a day, SQLite");
        let measured = format!("{ratio:.2} x ({day:.0} ms; rows of the herd alone {alone:.1} ms), {expected} expected");
        row(&what, measured, "2 x, 300 ms");
    }
    Ok(())
}

fn measure(size: &Size) -> Outcome<()> {
    // Beside the program and not in the system's folder for temporary files, which may have no disk under it.
    let program = std::env::current_exe()?;
    let folder = tempfile::tempdir_in(program.parent().unwrap_or(Path::new(".")))?;
    let folder = folder.path();
    let long_plan = Plan { years: size.years, ..TEN_YEARS };
    // As much open after a year as after ten takes three times as many farms.
    let short_plan = Plan { years: 1, farms: TEN_YEARS.farms * if size.years > 1 { 3 } else { 1 }, ..TEN_YEARS };
    let empty = books::make(folder, "empty", None)?;
    let short = books::make(folder, "short", Some(short_plan))?;
    let long = books::make(folder, "long", Some(long_plan))?;
    let after = |plan: Plan| plan.begin() + chrono::Days::new(plan.days());
    let (short_today, today) = (after(short_plan), after(long_plan));

    let counts = start::count(&long.book, today)?;
    let memory = start::memory(&long.book, today)?;
    let starts = start::run(folder, size.rounds / 10, (&short, short_today), (&long, today))?;
    let presses = press::run(folder, size.rounds, &empty, &long)?;
    let screens = key::count(&long.book, today)?;
    let (keys, sends) = key::run(folder, &long.book, today)?;
    let (entered, entering) = sample::enter(folder)?;
    let beside = backup::run(folder, &long.book, today)?;
    let carried = exchange::carry(folder, &long.book)?;

    let each = |name: &str, open: usize| starts.median(name) / open as f64;
    println!("\n| what | measured | goal |\n| --- | --- | --- |");
    let row = |what: &str, measured: String, goal: &str| println!("| {what} | {measured} | {goal} |");
    row("F, one write and one fdatasync", format!("{:.0} us", presses.median("F")), "");
    for book in ["empty", "large"] {
        row(&format!("press, {book} book"), format!("{:.2} F", presses.ratio(book, "F")), "1.6 F");
        let than = format!("{:.2} x", presses.ratio(book, &format!("{book}, SQLite")));
        row(&format!("press, {book} book, to SQLite"), than, "1.25 x");
    }
    row("press, large book to empty", format!("{:.2} x", presses.ratio("large", "empty")), "0.9 to 1.1 x");
    let slow = presses.share("large", 95) / presses.share("F", 95);
    row("press, 95 of 100, to F's", format!("{slow:.2} x"), "2.5 x");
    let start = format!("{:.2} x ({:.0} us)", starts.ratio("start", "start, SQLite"), starts.median("start"));
    row("start to due list and last turn, to SQLite", start, "1.2 x");
    let opening = format!("{:.1} F, {} flushes", starts.ratio("opening", "F of starts"), counts.flushes);
    row("of it: opening, a new hand made", opening, "");
    let look = format!("{:.2} x ({:.0} us)", starts.ratio("look", "look, SQLite"), starts.median("look"));
    row("of it: due list and last turn, to SQLite", look, "1.2 x");
    let reads = [&counts.opening, &counts.list, &counts.animal].map(|count| count.reads);
    let [opening, list, animal] = reads;
    let sum: u64 = reads.iter().sum();
    let kib = (counts.opening.bytes_read + counts.list.bytes_read + counts.animal.bytes_read) >> 10;
    let reads = format!("{sum}: opening {opening}, list {list}, animal {animal}; {kib} KiB");
    row(&format!("start: reads of the book, {} animals on the list", long.open), reads, "64");
    row("start: peak memory", memory.map_or("not told".to_owned(), |mb| format!("{mb:.1} MB")), "16 MB");
    row("due list to SQLite", format!("{:.2} x", starts.ratio("list, long", "list, SQLite")), "1.2 x");
    let years = each("list, long", long.open) / each("list, short", short.open);
    row("due list, long book to short, for each animal on it", format!("{years:.2} x"), "1 x");
    let key = format!("{:.2} F ({:.0} us)", keys.ratio("key", "F of keys"), keys.median("key"));
    row("a key that records: decide, commit, apply, draw", key, "");
    // A picture every sixtieth of a second is as fast as eyes and screens are.
    let of_a_picture = |us: f64| format!("{:.0} of 100", us / (1_000_000.0 / 60.0) * 100.0);
    row("of it, of a sixtieth of a second", of_a_picture(keys.median("key")), "100 of 100");
    let shows = sends.shows.as_secs_f64() * 1_000_000.0;
    row("a key that only shows: decide and draw", format!("{shows:.0} us, {}", of_a_picture(shows)), "100 of 100");
    row("bytes its picture sends", sends.bytes.to_string(), "");
    row("opening the screens", format!("{:.1} ms", keys.median("screens") / 1000.0), "");
    row("opening the screens: reads", format!("{} of {} KiB", screens.reads, screens.bytes_read >> 10), "64");
    let entering = format!("{:.0} ms, {entered} records", entering.as_secs_f64() * 1000.0);
    row("the sample herd, entered", entering, "");
    listed(folder, &row)?;
    beside.rows(&row);
    for (what, time, peak) in carried {
        row(&format!("the large book {what}: time; peak memory"), format!("{time:.1} s; {peak:.1} MB"), "");
    }
    Ok(())
}
