//! The loop that joins the rooms: a key becomes an intent, a decision, a commit, a state, a picture. In that order: nothing
//! is drawn that is not on disk.

pub mod crash;
pub mod desk;
pub mod fuzz;
mod herd;
mod lines;
mod patience;
pub mod plain;
pub mod then;
pub mod trial;

use crate::command::cli::Cli;
use crate::command::crash::{told as crash_told, unread, was_read};
use crate::command::fault::Fault;
use crate::command::log::{Line, Log, number_of};
use crate::command::{Opened, World, place};
use crate::domain::practice::Practice;
use crate::keys::keymap::Keymap;
use crate::report::safe::safe;
use crate::screen::theme::{Colour, Says};
use crate::screen::{self, View};
use crate::session::Session;
use crate::session::mode::Mode;
use crate::store::Store;
use crate::terminal::clock::{self, Watch};
use crate::terminal::event::{Event, Signal, Stamped, TerminalError};
use crate::terminal::guard::{self, Guard, Screen};
use crate::terminal::{input, signal};
use chrono::NaiveDate;
use desk::{Desk, Flow};
use std::cell::RefCell;
use std::io::Write;
use std::mem::ManuallyDrop;
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
    /// The folder in which herd lists are looked for; none: a list is typed.
    pub lists: Option<std::path::PathBuf>,
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
    /// Telling.
    #[error("the output cannot be written: {0}; everything that was told as saved is in the book")]
    Output(std::io::Error),
    /// The input ended while a press was held.
    #[error(
        "what was pressed last is NOT SAVED, and the input has ended; see that the disk is there and type it again"
    )]
    NotSaved,
    /// The book, at the end.
    #[error(transparent)]
    Store(#[from] crate::store::error::StoreError),
}

/// Opens the screens on a book, with whatever must be said first: what was wrong with it, and how the last run ended.
///
/// # Errors
/// A [`Fault`], to be written to the person who asked.
pub fn open_screens(cli: &Cli, opened: Opened, log: &Log, err: &mut dyn Write) -> Result<u8, Fault> {
    open(cli, opened, log, err, screens)
}

/// The same in lines, for ears, for braille and for terminals that can do no more.
///
/// # Errors
/// A [`Fault`], to be written to the person who asked.
pub fn open_lines(cli: &Cli, opened: Opened, log: &Log, world: &mut World<'_>) -> Result<u8, Fault> {
    let World { out, err, .. } = world;
    open(cli, opened, log, *err, |store, start, log| lines::lines(store, start, log, *out))
}

fn open(
    cli: &Cli,
    opened: Opened,
    log: &Log,
    err: &mut dyn Write,
    run: impl FnOnce(Store, Start, Log) -> Result<Ended, RunError>,
) -> Result<u8, Fault> {
    let Opened { store, farm, keymap, practice, mut problems, told, lists, kept } = opened;
    log.say(clock::now(), &Line::Opened(place::book(cli).map_or(0, |book| number_of(&book)), store.how_many()));
    told.iter().for_each(|problem| log.say(clock::now(), &Line::of(problem)));
    let folder = place::state_folder();
    let unread = folder.as_deref().and_then(unread);
    problems.splice(0..0, told.iter().map(ToString::to_string));
    problems.splice(0..0, unread.as_ref().map(|unread| crash_told(unread, told.is_empty())));
    let start = Start { today: cli.today, farm, keymap, problems, practice, lists: Some(lists) };
    let ended = run(store, start, log.clone());
    // The temporary book goes only once the screens have closed it.
    drop(kept);
    if let (Ok(Ended { read: true, .. }), Some(folder), Some(_)) = (&ended, &folder, unread) {
        was_read(folder);
    }
    let ended = ended.map_err(|why| Fault::failed(why.to_string(), ""))?;
    if let Some(words) = ended.words {
        // The terminal may be gone.
        let _ = writeln!(err, "crushbook: {}", safe(&words));
    }
    Ok(ended.code)
}

/// How the screens ended.
struct Ended {
    /// Exit code: 0, or 128 and the number of the signal that ended them.
    code: u8,
    /// Whether what is shown until it is read was on the screen, and a person then left.
    read: bool,
    /// What is to be said on the terminal that was left: a backup that could not be made.
    words: Option<String>,
}

/// Runs the screens until they are left. Whatever ends them, every press that was shown as saved is on disk.
fn screens(store: Store, start: Start, log: Log) -> Result<Ended, RunError> {
    let watch = Watch::start();
    let guard = Guard::enter(false)?;
    // Never dropped: ratatui would show the cursor, as the guard does, and where the terminal is gone say so on standard
    // error, which panics when that is gone too.
    let screen = Rc::new(RefCell::new(ManuallyDrop::new(guard.screen()?)));
    let (to, from) = channel();
    signal::listen(watch, to.clone())?;
    input::listen(watch, to)?;
    let mut desk = Desk::new(store, start, clock::now());
    desk.keep_log(Box::new(move |line| log.say(clock::now(), &line)));
    if let Ok(size) = screen.borrow().size() {
        desk.set_size(size.width, size.height);
    }
    let slow = Rc::clone(&screen);
    // What cannot be drawn now is said by the next picture.
    desk.when_slow(Box::new(move |session, keymap| drop(draw(&mut slow.borrow_mut(), session, keymap))));
    draw(&mut screen.borrow_mut(), desk.session(), desk.keymap())?;
    desk.begin(clock::now());
    let mut shown = false;
    let code = turn_over(&screen, &mut desk, &from, watch, &mut shown);
    desk.when_slow(Box::new(|_, _| {}));
    drop(screen);
    drop(guard);
    let words = desk.backup_trouble();
    let closed = desk.close();
    let code = code?;
    closed?;
    Ok(Ended { code, read: code == 0 && shown, words })
}

fn turn_over(
    screen: &RefCell<ManuallyDrop<Screen>>,
    desk: &mut Desk,
    from: &Receiver<Stamped>,
    watch: Watch,
    shown: &mut bool,
) -> Result<u8, RunError> {
    loop {
        let drawn = draw(&mut screen.borrow_mut(), desk.session(), desk.keymap());
        if matches!(&drawn, Err(RunError::Draw(why)) if is_gone(why)) {
            // Its signal is on the way, and may come second.
            desk.set_aside(clock::now());
            return Ok(Signal::HangUp.exit_code().unwrap_or(0));
        }
        drawn?;
        *shown |= matches!(desk.session().mode, Mode::Today { .. } | Mode::Farms { .. });
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
                // Nobody left who could have read it.
                *shown = false;
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

/// Whether nobody is there any more to look: the terminal was closed.
fn is_gone(why: &std::io::Error) -> bool {
    /// EIO, what a write to a closed terminal gives (POSIX).
    const EIO: i32 = 5;
    why.kind() == std::io::ErrorKind::BrokenPipe || why.raw_os_error() == Some(EIO)
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
    let view = View { keymap, now: clock::now(), colour: colour(), targets: None };
    screen.draw(|frame| screen::draw(frame, session, &view)).map(|_| ()).map_err(RunError::Draw)
}

/// Which colours this terminal is given. A Windows console says nothing about itself and has them all.
fn colour() -> Colour {
    let said = |name: &str| std::env::var_os(name).map_or(String::new(), |value| value.to_string_lossy().into_owned());
    let (no_color, term, colorterm) = (said("NO_COLOR"), said("TERM"), said("COLORTERM"));
    let term = if cfg!(windows) && term.is_empty() { "direct" } else { &term };
    Colour::of(Says { no_color: &no_color, term, colorterm: &colorterm })
}

/// How often an unsaved press is tried again.
pub const TRY_AGAIN: Duration = Duration::from_secs(2);
