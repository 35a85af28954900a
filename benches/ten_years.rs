//! Fills a new book with ten invented years: `cargo run --release --manifest-path benches/Cargo.toml -- BOOK [YEARS]`.

#[path = "../tests/support/years.rs"]
mod years;

use crushbook::store::Store;
use crushbook::store::medium::{Medium, hand_beside};
use std::error::Error;
use std::path::PathBuf;
use years::{Plan, TEN_YEARS};

/// Series of the records, and of the store itself: as long in bytes as a random one.
const SERIES: u64 = 0x7c15_9e37_79b9_7f4a;

fn main() -> Result<(), Box<dyn Error>> {
    let mut arguments = std::env::args().skip(1);
    let Some(book) = arguments.next().map(PathBuf::from) else {
        return Err("name a new file: ten-years BOOK [YEARS]".into());
    };
    if book.exists() {
        return Err(format!("{} is there already; name a new file", book.display()).into());
    }
    let years = arguments.next().map_or(Ok(TEN_YEARS.years), |years| years.parse())?;
    let plan = Plan { years, ..TEN_YEARS };
    let (mut store, _) = Store::open(Medium::File(hand_beside(&book)), Medium::File(book), &mut || Ok(SERIES))?;
    let taken = store.take(&mut plan.records(SERIES).map(Ok))?;
    store.close()?;
    println!("{} records of the {} days from {}", taken.new, plan.days(), plan.begin());
    Ok(())
}
