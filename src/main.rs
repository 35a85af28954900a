//! Arguments in, exit code out.

use clap::Parser;
use crushbook::command::cli::{Cli, refused};
use crushbook::command::fault::Fault;
use crushbook::command::{Next, Opened, World, run};
use crushbook::run::{Start, screens};
use crushbook::terminal::clock;
use crushbook::terminal::signal::Asked;
use std::io::{IsTerminal, stderr, stdin, stdout};
use std::process::ExitCode;

fn main() -> ExitCode {
    let cli = match Cli::try_parse() {
        Ok(cli) => cli,
        Err(error) => return ExitCode::from(refused(&error, &mut stderr())),
    };
    match go(&cli) {
        Ok(code) => ExitCode::from(code),
        Err(fault) => {
            // Where even this cannot be written, the exit code still tells.
            let _ = fault.write(&mut stderr());
            ExitCode::from(fault.code())
        }
    }
}

fn go(cli: &Cli) -> Result<u8, Fault> {
    let asked = Asked::default();
    let mut world = World {
        now: clock::now(),
        input: &mut stdin(),
        out: &mut stdout(),
        err: &mut stderr(),
        terminal: stdin().is_terminal() && stdout().is_terminal(),
        watched: stderr().is_terminal(),
        stop: &|| asked.number(),
    };
    match run(cli, &mut world)? {
        Next::Done(code) => Ok(code),
        Next::Screens(opened) => open_screens(cli, *opened),
    }
}

fn open_screens(cli: &Cli, opened: Opened) -> Result<u8, Fault> {
    let Opened { store, farm, keymap, problems, practice, kept } = opened;
    let start = Start { today: cli.today, farm, keymap, problems, practice };
    let ended = screens(store, start).map_err(|why| Fault::failed(why.to_string(), ""));
    // The temporary book goes only once the screens have closed it.
    drop(kept);
    ended
}
