//! Arguments in, exit code out.

use clap::Parser;
use crushbook::command::cli::{Cli, Command, refused};
use crushbook::command::fault::Fault;
use crushbook::command::log::{Line, Log};
use crushbook::command::place::state_folder;
use crushbook::command::recorder::Recorder;
use crushbook::command::{Next, World, run};
use crushbook::run::trial::open_trial;
use crushbook::run::{crash, open_lines, open_screens};
use crushbook::terminal::clock;
use crushbook::terminal::signal::Asked;
use std::io::{IsTerminal, stderr, stdin, stdout};
use std::process::ExitCode;

fn main() -> ExitCode {
    let cli = match Cli::try_parse() {
        Ok(cli) => cli,
        Err(error) => return ExitCode::from(refused(&error, &mut stderr())),
    };
    // The sample herd leaves nothing behind.
    let log =
        if matches!(cli.command, Some(Command::Demo)) && cli.book.is_none() { Log::default() } else { Log::own() };
    crash::install(state_folder());
    log.say(clock::now(), &Line::Began(cli.command.as_ref().map_or("screens", Command::name)));
    let code = go(&cli, &log).unwrap_or_else(|fault| {
        // Where even this cannot be written, the exit code still tells.
        let _ = fault.write(&mut stderr());
        fault.code()
    });
    log.say(clock::now(), &Line::Ended(code));
    ExitCode::from(code)
}

fn go(cli: &Cli, log: &Log) -> Result<u8, Fault> {
    let asked = Asked::default();
    let mut world = World {
        by: Recorder::default(),
        now: clock::now(),
        input: &mut stdin(),
        out: &mut stdout(),
        err: &mut stderr(),
        terminal: stdin().is_terminal() && stdout().is_terminal(),
        dumb: std::env::var_os("TERM").is_some_and(|name| name == "dumb"),
        watched: stderr().is_terminal(),
        stop: &|| asked.number(),
    };
    match run(cli, &mut world)? {
        Next::Done(code) => Ok(code),
        Next::Screens(opened) => open_screens(cli, *opened, log, world.err),
        Next::Trial(trial, words) => open_trial(*trial, words),
        Next::Lines(opened) => open_lines(cli, *opened, log, &mut world),
    }
}
