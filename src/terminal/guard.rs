//! Sets the terminal up and puts it back, whatever happens.
//!
//! There is one [`restore`], and four that call it: the end (through [`Guard`]'s drop),
//! the panic hook, the loop when a signal asks it to end, and [`suspend`]. It may be
//! called at any time, from any thread, and twice.

use std::io::{Stdout, Write, stdout};
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Once, OnceLock};

use ratatui::Terminal;
use ratatui::backend::CrosstermBackend;
use ratatui::crossterm::cursor::{Hide, Show};
use ratatui::crossterm::event::{DisableBracketedPaste, EnableBracketedPaste};
use ratatui::crossterm::execute;
use ratatui::crossterm::style::Print;
use ratatui::crossterm::terminal::{EnterAlternateScreen, LeaveAlternateScreen, disable_raw_mode, enable_raw_mode};
use ratatui::layout::Rect;

use crate::terminal::event::TerminalError;

/// Numeric keypad mode: a program that crashed may have left the other one on, in which
/// the keypad sends sequences that are not understood.
const NUMERIC_KEYPAD: &str = "\x1b>";
/// Presses, and positions beyond column 223; no movements, which would flood the loop.
const TAPS_ON: &str = "\x1b[?1000h\x1b[?1006h";
/// Every way of reporting a pointer, since a crashed program may have left others on.
const TAPS_OFF: &str = "\x1b[?1006l\x1b[?1015l\x1b[?1003l\x1b[?1002l\x1b[?1000l";

/// Whether the terminal is ours at the moment.
static OURS: AtomicBool = AtomicBool::new(false);
/// Whether taps are wanted, so that they come back after a stop.
static TAPS: AtomicBool = AtomicBool::new(false);
static PANIC_HOOK: Once = Once::new();
/// Says whether a panic of this thread will be caught.
static CAUGHT: OnceLock<fn() -> bool> = OnceLock::new();

/// Panics of which `caught` says so leave the terminal as it is: somebody catches them, and the program goes on.
pub fn pass_over(caught: fn() -> bool) {
    // Said once, for the whole program.
    let _ = CAUGHT.set(caught);
}

/// The terminal as ratatui sees it.
pub type Screen = Terminal<CrosstermBackend<Stdout>>;

/// Keeps the terminal set up while it lives.
#[derive(Debug)]
pub struct Guard(());

impl Guard {
    /// Sets the terminal up: raw mode, the other screen, no cursor, pastes in one piece.
    ///
    /// Also sets the panic hook, once: it restores the terminal before the hook that was
    /// there before writes its message.
    ///
    /// # Errors
    /// [`TerminalError::SetUp`], with everything put back as it was.
    pub fn enter(taps: bool) -> Result<Guard, TerminalError> {
        PANIC_HOOK.call_once(|| {
            let before = std::panic::take_hook();
            std::panic::set_hook(Box::new(move |panic| {
                if !CAUGHT.get().is_some_and(|caught| caught()) {
                    restore();
                }
                before(panic);
            }));
        });
        TAPS.store(taps, Ordering::SeqCst);
        set_up()?;
        Ok(Guard(()))
    }

    /// The screen to draw on.
    ///
    /// # Errors
    /// [`TerminalError::SetUp`] when the terminal does not tell its size.
    pub fn screen(&self) -> Result<Screen, TerminalError> {
        Terminal::new(CrosstermBackend::new(stdout())).map_err(TerminalError::SetUp)
    }
}

impl Drop for Guard {
    fn drop(&mut self) {
        restore();
    }
}

/// Puts the terminal back as it was: taps and pastes off, main screen, cursor, no raw mode.
///
/// Errors are passed over, because there is nobody left to tell: the terminal may be gone.
pub fn restore() {
    if !OURS.swap(false, Ordering::SeqCst) {
        return;
    }
    let mut out = stdout();
    let _ = execute!(out, Print(TAPS_OFF), DisableBracketedPaste, LeaveAlternateScreen, Show);
    let _ = disable_raw_mode();
    let _ = out.flush();
}

/// Sets the terminal up, again after a stop or a caught panic. Call [`afresh`] then.
///
/// # Errors
/// [`TerminalError::SetUp`], with everything put back as it was.
pub fn set_up() -> Result<(), TerminalError> {
    OURS.store(true, Ordering::SeqCst);
    switch_on().map_err(|cause| {
        restore();
        TerminalError::SetUp(cause)
    })
}

fn switch_on() -> std::io::Result<()> {
    enable_raw_mode()?;
    let taps = if TAPS.load(Ordering::SeqCst) { TAPS_ON } else { TAPS_OFF };
    execute!(stdout(), Print(NUMERIC_KEYPAD), EnterAlternateScreen, Hide, EnableBracketedPaste, Print(taps),)
}

/// Switches taps on or off. Off also gives the terminal its own text selection back.
///
/// # Errors
/// [`TerminalError::SetUp`].
pub fn set_taps(on: bool) -> Result<(), TerminalError> {
    TAPS.store(on, Ordering::SeqCst);
    let switch = if on { TAPS_ON } else { TAPS_OFF };
    execute!(stdout(), Print(switch)).map_err(TerminalError::SetUp)
}

/// Forgets what the screen shows, so that the next drawing paints every cell.
///
/// Not `Terminal::clear`: that asks the terminal where its cursor is, and the answer would
/// be read by the input thread; the question then fails after two seconds.
///
/// # Errors
/// [`TerminalError::SetUp`] when the terminal does not tell its size.
pub fn afresh(screen: &mut Screen) -> Result<(), TerminalError> {
    let size = screen.size().map_err(TerminalError::SetUp)?;
    let whole = Rect::new(0, 0, size.width, size.height);
    screen.resize(whole).map_err(TerminalError::SetUp)
}

/// Gives the terminal back, stops the program until it is brought to the front again, and
/// sets the terminal up. Call [`afresh`] and draw afterwards.
///
/// Where the system cannot stop a program this does nothing.
///
/// # Errors
/// [`TerminalError::Suspend`] or [`TerminalError::SetUp`].
pub fn suspend() -> Result<(), TerminalError> {
    #[cfg(unix)]
    {
        restore();
        let stopped = crate::terminal::signal::stop();
        set_up()?;
        stopped.map_err(TerminalError::Suspend)?;
    }
    Ok(())
}
