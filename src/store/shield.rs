//! What redb may do to the program on a damaged file: panic. Nothing of it is called but behind this shield, where a panic
//! becomes an error of the file like any other.
//!
//! A process that it aborts cannot be kept; `crushbook check` therefore reads in a second one.

use std::cell::Cell;
use std::panic::{AssertUnwindSafe, catch_unwind};

/// What is said of a file that made redb panic.
pub const BROKEN: &str = "its structure does not hold together";

thread_local! {
    static UP: Cell<usize> = const { Cell::new(0) };
}

/// Whether a panic on this thread would be caught here: then it is no end, and nothing needs to be put back or reported.
pub fn is_up() -> bool {
    UP.get() > 0
}

/// Does something with redb; nothing where it panicked.
pub(super) fn shielded<T>(work: impl FnOnce() -> T) -> Option<T> {
    UP.set(UP.get() + 1);
    let done = catch_unwind(AssertUnwindSafe(work)).ok();
    UP.set(UP.get() - 1);
    done
}

/// An iterator that ends where redb panics, with one last item that says so.
pub(super) fn each<I: Iterator>(mut items: I, last: impl FnOnce() -> I::Item) -> impl Iterator<Item = I::Item> {
    let mut last = Some(last);
    std::iter::from_fn(move || {
        last.as_ref()?;
        shielded(|| items.next()).unwrap_or_else(|| last.take().map(|last| last()))
    })
}
