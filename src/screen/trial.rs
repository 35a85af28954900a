//! Keys being tried: what to press, what the newest press means everywhere, and what came in before it.

use super::page::{Page, UNBROKEN, wrapped};
use super::theme::{Colour, Role, Theme};
use crate::claw_map::marks::Tone;
use crate::keys::context::Context;
use crate::keys::trial::{Heard, Trial};
use crate::report::words::Words;
use crate::session::Light;
use ratatui::Frame;

/// Columns of the names of states.
const NAME: usize = 9;

/// Draws the trial.
pub fn draw(frame: &mut Frame<'_>, trial: &Trial, words: Words, colour: Colour) {
    let area = frame.area();
    let mut page = Page::new(frame.buffer_mut(), area, Theme { light: Light::Normal, colour });
    page.line(&format!(" keys as they arrive: {}", trial.keymap().name()), Role::Bar);
    page.line("Press each of these; leave twice, or Ctrl+c once, ends it.", Role::Strong);
    wanted(&mut page, trial);
    num_lock(&mut page, trial);
    for (context, meaning) in trial.meanings() {
        let said = words.fill(&meaning.words(*context));
        page.line(&format!("{:NAME$} {said}", title(*context)), Role::Text);
    }
    for heard in trial.heard().rev() {
        page.line(&line(heard), Role::Grey);
    }
}

fn wanted(page: &mut Page<'_>, trial: &Trial) {
    let marks = trial.wanted().iter().map(|wanted| {
        // A box and its name stay on one line.
        format!("[{}]{}", if wanted.came { "x" } else { "_" }, wanted.name.replace(' ', UNBROKEN))
    });
    let marks: Vec<String> = marks.collect();
    for row in wrapped(&marks.join(" "), usize::from(page.width())) {
        page.line(&row, Role::Text);
    }
}

fn num_lock(page: &mut Page<'_>, trial: &Trial) {
    match trial.num_lock() {
        None => page.line("[_]NumLock: press digits on the keypad, where there is one", Role::Text),
        Some(true) => page.line("[x]NumLock: digits come as digits", Role::Text),
        Some(false) => page.label(" NumLock looks off: press NumLock, then digits ", Role::Label(Tone::Alarm)),
    }
}

/// The name of a context in keymap files, which is short.
fn title(context: Context) -> &'static str {
    context.name()
}

fn line(heard: &Heard) -> String {
    match heard {
        Heard::Press { key, since, verdict, .. } => {
            let since = since.map_or("first".to_owned(), |since| format!("+{} ms", since.as_millis()));
            format!("{:10} {since:>10}  {}", key.to_string(), verdict.word())
        }
        Heard::Paste(text) => format!("pasted: {text}"),
        Heard::Tap(column, row) => format!("tap at column {column}, row {row}"),
    }
}
