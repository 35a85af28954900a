//! Arguments to a command or the screens, and one place that prints an error.
#![allow(clippy::print_stderr)]

use clap::Parser;
use crushbook::command::fault::Fault;
use crushbook::command::{self, Cli, Done, Here};
use crushbook::keys::keymap::BuiltIn;
use crushbook::keys::load::load;
use crushbook::report::words::Region;
use crushbook::run::{self, Start};
use crushbook::terminal::clock;
use std::io::{IsTerminal, Write, stdout};
use std::process::ExitCode;

fn main() -> ExitCode {
    let cli = Cli::parse();
    let here = Here { now: clock::now(), terminal: stdout().is_terminal() };
    let mut out = stdout().lock();
    let done = command::run(&cli, &here, &mut out);
    let flushed = out.flush();
    drop(out);
    let code = done.and_then(|done| flushed.map_err(Fault::from).and(Ok(done))).and_then(|done| match done {
        Done::Code(code) => Ok(code),
        Done::Screens(store, folder, problems) => {
            let code = run::screens(*store, start(&cli, problems));
            drop(folder);
            code.map_err(|error| Fault::failed(error.to_string(), ""))
        }
    });
    match code {
        Ok(code) => ExitCode::from(code),
        Err(fault) => {
            eprintln!("{fault}");
            ExitCode::from(fault.code)
        }
    }
}

/// The screens' beginning: the user's keymap where there is one, the built-in one where it has problems.
fn start(cli: &Cli, mut problems: Vec<String>) -> Start {
    let file = command::book::user_folders().ok().map(|folders| folders.config.join("keys.toml"));
    let keymap = match file.and_then(|file| Some((file.display().to_string(), std::fs::read(file).ok()?))) {
        Some((name, bytes)) => {
            let (keymap, found) = load(&name, &bytes);
            problems.extend(found.iter().map(ToString::to_string));
            keymap
        }
        None => BuiltIn::TwoHands.keymap(),
    };
    Start { today: cli.today, farm: None, keymap, problems, region: Region::Uk }
}
