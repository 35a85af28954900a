//! What is done when the program panics: the terminal is put back, a report is kept, and a sentence says what to do.

use crate::command::crash::{Doing, keep, report};
use crate::keys::context::Context;
use crate::keys::intent::Intent;
use crate::report::safe::safe;
use crate::store::shield;
use crate::terminal::{clock, guard};
use std::backtrace::Backtrace;
use std::io::{Write, stderr};
use std::panic::PanicHookInfo;
use std::path::PathBuf;
use std::sync::{Mutex, PoisonError};

/// Wishes that are remembered.
const WISHES: usize = 20;

static DOING: Mutex<Doing> = Mutex::new(Doing { size: None, context: "none", wishes: Vec::new() });

/// Sets the panic hook of the program. What panics behind the store's shield is no end, and passes.
pub fn install(folder: Option<PathBuf>) {
    guard::pass_over(shield::is_up);
    std::panic::set_hook(Box::new(move |panic| {
        if !shield::is_up() {
            guard::restore();
            broke_off(panic, folder.as_ref());
        }
    }));
}

fn broke_off(panic: &PanicHookInfo<'_>, folder: Option<&PathBuf>) {
    let now = clock::now();
    // The panic may have come while it was held.
    let doing = DOING.try_lock().map(|doing| doing.clone()).unwrap_or_default();
    let text = report(panic, now, &doing, &Backtrace::force_capture().to_string());
    let kept = folder.and_then(|folder| keep(folder, now, &text).ok());
    let head = text.split("calls\n").next().unwrap_or_default();
    let whereto = kept.map_or_else(
        || head.to_owned(),
        |file| format!("A report without names is in {}", safe(&file.display().to_string())),
    );
    // Where even this cannot be written, the exit code still tells.
    let _ = writeln!(
        stderr(),
        "crushbook broke off by a fault of its own. Everything that was shown as saved is in the book: start it again.\n{whereto}"
    );
}

/// Remembers a wish, by its kind: no digit, no letter.
pub fn note_wish(context: Context, intent: Intent) {
    let words = format!("{intent:?}");
    let kind = words.split('(').next().unwrap_or_default().to_owned();
    let mut doing = DOING.lock().unwrap_or_else(PoisonError::into_inner);
    doing.context = context.name();
    if doing.wishes.len() >= WISHES {
        doing.wishes.remove(0);
    }
    doing.wishes.push(kind);
}

/// Remembers the size of the screen.
pub fn note_size(columns: u16, rows: u16) {
    DOING.lock().unwrap_or_else(PoisonError::into_inner).size = Some((columns, rows));
}
