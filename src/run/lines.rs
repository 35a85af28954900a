//! The loop of the talk in lines: lines come from the input, answers go to the output, and the terminal is left as it is.

use super::desk::{Desk, Flow};
use super::plain::Talk;
use super::{Ended, RunError, Start, wait};
use crate::command::log::Log;
use crate::domain::record::Moment;
use crate::store::Store;
use crate::terminal::clock::{self, Watch};
use crate::terminal::event::{Event, Line, Signal, Stamped, TerminalError};
use crate::terminal::{lines as input, signal};
use std::io::{ErrorKind, Write};
use std::sync::mpsc::{Receiver, channel};
use std::time::Duration;

/// Talks until the input ends or the program is left. Whatever ends it, every press that was told as saved is on disk.
pub(super) fn lines(store: Store, start: Start, log: Log, out: &mut dyn Write) -> Result<Ended, RunError> {
    let watch = Watch::start();
    let (to, from) = channel();
    signal::listen(watch, to.clone())?;
    input::listen(watch, to)?;
    let mut desk = Desk::new(store, start, clock::now());
    desk.keep_log(Box::new(move |line| log.say(clock::now(), &line)));
    desk.begin(clock::now());
    let code = talk(&mut desk, out, watch, &from);
    let words = desk.backup_trouble();
    let closed = desk.close();
    let (code, read) = code?;
    closed?;
    Ok(Ended { code, read, words })
}

/// Talks; the exit code, and whether somebody was there to the end.
fn talk(desk: &mut Desk, out: &mut dyn Write, watch: Watch, from: &Receiver<Stamped>) -> Result<(u8, bool), RunError> {
    let (mut talk, text) = Talk::begin(desk, clock::now());
    if let Some(code) = tell(desk, out, &text)? {
        return Ok((code, false));
    }
    loop {
        let now = clock::now();
        let (flow, text) = match wait(desk, from, watch).map(|stamped| (stamped.at, stamped.event)) {
            None => talk.tick(desk, watch.shows(), now),
            Some((at, Event::Line(line))) => heard(&mut talk, desk, line, (at, clock::now())),
            Some((_, Event::Signal(Signal::Stop))) => {
                signal::stop().map_err(TerminalError::Suspend)?;
                (Flow::On, talk.again(desk, clock::now()))
            }
            Some((_, Event::Signal(signal))) => {
                let text = talk.set_aside(desk, clock::now());
                // Whoever asked for the end may be gone.
                let _ = tell(desk, out, &text);
                return Ok((signal.exit_code().unwrap_or(0), false));
            }
            Some((at, Event::Gone(why))) => {
                // Nobody can type any more, so leaving is the last word: as its key, and a held press is tried once more.
                let (held, ended) = (desk.is_held(), talk.tell("input", &why));
                let (mut flow, mut text) = talk.leave(desk, at, clock::now());
                if desk.is_held() {
                    return Err(RunError::NotSaved);
                }
                if held {
                    let (then, more) = talk.leave(desk, at, clock::now());
                    flow = then;
                    text.push_str(&more);
                }
                (flow, ended + &text)
            }
            Some((_, Event::Key(_) | Event::Paste(_) | Event::Tap { .. } | Event::Resize { .. })) => {
                (Flow::On, String::new())
            }
        };
        if let Some(code) = tell(desk, out, &text)? {
            return Ok((code, false));
        }
        if flow == Flow::Leave {
            return Ok((0, true));
        }
    }
}

/// What a line came to; of one that cannot be read nothing is done.
fn heard(talk: &mut Talk, desk: &mut Desk, line: Line, by: (Duration, Moment)) -> (Flow, String) {
    let why = match line {
        Line::Text(text) => return talk.take(desk, &text, by.0, by.1),
        Line::NotText => "that line is not in UTF-8: nothing of it was done; type it again",
        Line::TooLong => "that line is too long for any command or note: nothing of it was done",
        Line::Unfinished => "the input ended in the middle of a line: nothing of it was done",
    };
    (Flow::On, talk.tell("not done", why))
}

/// Writes an answer at once; the exit code where nobody is there any more to hear it.
fn tell(desk: &mut Desk, out: &mut dyn Write, text: &str) -> Result<Option<u8>, RunError> {
    let Err(why) = out.write_all(text.as_bytes()).and_then(|()| out.flush()) else { return Ok(None) };
    desk.set_aside(clock::now());
    match why.kind() {
        ErrorKind::BrokenPipe => Ok(Some(0)),
        // The terminal was closed: its signal is on the way, and may come second.
        _ if super::is_gone(&why) => Ok(Signal::HangUp.exit_code()),
        _ => Err(RunError::Output(why)),
    }
}
