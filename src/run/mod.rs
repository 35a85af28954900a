//! The loop that joins the rooms: a key becomes an intent, a decision, a commit, a state, a picture. In that order: nothing
//! is drawn that is not on disk.

pub mod desk;
pub mod fuzz;
mod herd;
mod patience;

use crate::domain::practice::Practice;
use crate::keys::keymap::Keymap;
use crate::screen::theme::Colour;
use crate::screen::{self, View};
use crate::session::Session;
use crate::store::Store;
use crate::terminal::clock::{self, Watch};
use crate::terminal::event::{Event, Signal, Stamped, TerminalError};
use crate::terminal::guard::{self, Guard, Screen};
use crate::terminal::{input, signal};
use chrono::NaiveDate;
use desk::{Desk, Flow};
use std::cell::RefCell;
use std::rc::Rc;
use std::sync::mpsc::{Receiver, RecvTimeoutError, channel};
use std::time::Duration;
use thiserror::Error;

/// How the screens are opened.
#[derive(Debug)]
pub struct Start {
    /// The day, where another than the clock's is meant.
    pub today: Option<NaiveDate>,
    /// The farm to open, by name.
    pub farm: Option<String>,
    /// Keys.
    pub keymap: Keymap,
    /// Problems found on the way here: shown until read.
    pub problems: Vec<String>,
    /// What the practice says about itself.
    pub practice: Practice,
}

/// How the screens ended.
#[derive(Debug)]
pub struct Ended {
    /// The exit code: 0, or 128 and the number of the signal that ended them.
    pub code: u8,
    /// What is still to be said.
    pub words: Option<String>,
}

/// What ends the screens before their time.
#[derive(Debug, Error)]
pub enum RunError {
    /// The terminal.
    #[error(transparent)]
    Terminal(#[from] TerminalError),
    /// Drawing.
    #[error("the picture cannot be drawn: {0}; everything pressed is saved, start the program again")]
    Draw(std::io::Error),
    /// The book, at the end.
    #[error(transparent)]
    Store(#[from] crate::store::error::StoreError),
}

/// Runs the screens until they are left.
///
/// # Errors
/// [`RunError`]; whatever it is, every press that was shown as saved is on disk.
pub fn screens(store: Store, start: Start) -> Result<Ended, RunError> {
    let watch = Watch::start();
    let guard = Guard::enter(false)?;
    let screen = Rc::new(RefCell::new(guard.screen()?));
    let (to, from) = channel();
    signal::listen(watch, to.clone())?;
    input::listen(watch, to)?;
    let mut desk = Desk::new(store, start, clock::now());
    if let Ok(size) = screen.borrow().size() {
        desk.set_size(size.width, size.height);
    }
    let slow = Rc::clone(&screen);
    // What cannot be drawn now is said by the next picture.
    desk.when_slow(Box::new(move |session, keymap| drop(draw(&mut slow.borrow_mut(), session, keymap))));
    draw(&mut screen.borrow_mut(), desk.session(), desk.keymap())?;
    desk.begin(clock::now());
    let code = turn_over(&screen, &mut desk, &from, watch);
    desk.when_slow(Box::new(|_, _| {}));
    drop(screen);
    drop(guard);
    let words = desk.backup_trouble();
    let closed = desk.close();
    let code = code?;
    closed?;
    Ok(Ended { code, words })
}

fn turn_over(
    screen: &RefCell<Screen>,
    desk: &mut Desk,
    from: &Receiver<Stamped>,
    watch: Watch,
) -> Result<u8, RunError> {
    loop {
        draw(&mut screen.borrow_mut(), desk.session(), desk.keymap())?;
        let Some(stamped) = wait(desk, from, watch) else {
            if desk.tick(watch.shows(), clock::now()) == Flow::Leave {
                return Ok(0);
            }
            continue;
        };
        let flow = match stamped.event {
            Event::Resize { width, height } => {
                desk.set_size(width, height);
                guard::afresh(&mut screen.borrow_mut())?;
                Flow::On
            }
            Event::Signal(Signal::Stop) => Flow::Suspend,
            Event::Signal(signal) => {
                desk.set_aside(clock::now());
                return Ok(signal.exit_code().unwrap_or(0));
            }
            Event::Gone(_) => {
                desk.set_aside(clock::now());
                return Ok(0);
            }
            event => desk.take(stamped.at, event, clock::now()),
        };
        match flow {
            Flow::On => {}
            Flow::Leave => return Ok(0),
            Flow::Taps(on) => guard::set_taps(on)?,
            Flow::Suspend => {
                guard::suspend()?;
                guard::afresh(&mut screen.borrow_mut())?;
            }
        }
    }
}

/// The next thing that comes in; none when a filter or an unsaved press wants a look first.
fn wait(desk: &Desk, from: &Receiver<Stamped>, watch: Watch) -> Option<Stamped> {
    let received = match desk.wakes_at() {
        Some(at) => from.recv_timeout(at.saturating_sub(watch.shows())),
        None => from.recv().map_err(|_| RecvTimeoutError::Disconnected),
    };
    match received {
        Ok(stamped) => Some(stamped),
        Err(RecvTimeoutError::Timeout) => None,
        Err(RecvTimeoutError::Disconnected) => {
            Some(Stamped { at: watch.shows(), event: Event::Gone("the input ended".to_owned()) })
        }
    }
}

fn draw(screen: &mut Screen, session: &Session, keymap: &Keymap) -> Result<(), RunError> {
    let colour = Colour::of(std::env::var_os("NO_COLOR").as_deref());
    let view = View { keymap, now: clock::now(), colour };
    screen.draw(|frame| screen::draw(frame, session, &view)).map(|_| ()).map_err(RunError::Draw)
}

/// How often an unsaved press is tried again.
pub const TRY_AGAIN: Duration = Duration::from_secs(2);
