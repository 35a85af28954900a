//! A whole book as an exchange file and into an empty book again, each in a process of its own, so that its peak memory shows.

use crate::books::open;
use crate::rounds::{Outcome, timed};
use crushbook::store::error::Problem;
use crushbook::wire::exchange::{Reading, Writing};
use std::fs::File;
use std::io::{BufReader, BufWriter};
use std::path::Path;

/// Bytes at a time, as the commands do.
const BUFFER: usize = 1 << 16;

/// Exports and imports a book; gives what was done, seconds, and peak memory in MB (not a number where the system tells none).
pub fn carry(folder: &Path, book: &Path) -> Outcome<[(&'static str, f64, f64); 2]> {
    let (file, copy) = (folder.join("exchange.jsonl"), folder.join("copy.redb"));
    let (out, out_peak) = child(["--export".as_ref(), book.as_os_str(), file.as_os_str()])?;
    let (back, back_peak) = child(["--import".as_ref(), file.as_os_str(), copy.as_os_str()])?;
    println!("exchange file: {} MB", std::fs::metadata(&file)?.len() / 1_000_000);
    Ok([("exported", out, out_peak), ("imported into an empty one", back, back_peak)])
}

fn child(arguments: [&std::ffi::OsStr; 3]) -> Outcome<(f64, f64)> {
    let child = std::process::Command::new(std::env::current_exe()?).args(arguments).output()?;
    let said = String::from_utf8(child.stdout)?;
    let (time, peak) =
        said.trim().split_once(' ').ok_or_else(|| String::from_utf8_lossy(&child.stderr).into_owned())?;
    Ok((time.parse()?, peak.parse::<f64>().map_or(f64::NAN, |kib| kib / 1024.0)))
}

/// The child: exports, and prints seconds and its peak in KiB.
pub fn export(book: &Path, file: &Path) -> Outcome<()> {
    let store = open(book)?;
    let (_, time) = timed(|| {
        let mut writing = Writing::begin(BufWriter::with_capacity(BUFFER, File::create(file)?))?;
        for raw in store.every()? {
            writing.record(&raw?)??;
        }
        Ok(writing.end()?)
    })?;
    say(time)
}

/// The child: imports.
pub fn import(file: &Path, book: &Path) -> Outcome<()> {
    let mut store = open(book)?;
    let reading = Reading::new(BufReader::with_capacity(BUFFER, File::open(file)?));
    let problem = |why: crushbook::wire::exchange::Wrong| Problem::Given { place: String::new(), why: why.to_string() };
    let (taken, time) = timed(|| Ok(store.take(&mut reading.map(|given| given.map_err(problem)))?))?;
    if !taken.problems.is_empty() {
        return Err(format!("{:?}", taken.problems).into());
    }
    say(time)
}

fn say(time: std::time::Duration) -> Outcome<()> {
    let status = std::fs::read_to_string("/proc/self/status").unwrap_or_default();
    let peak = status.lines().find_map(|line| line.strip_prefix("VmHWM:"));
    println!("{} {}", time.as_secs_f64(), peak.unwrap_or_default().trim_end_matches("kB").trim());
    Ok(())
}
