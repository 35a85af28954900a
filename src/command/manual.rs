//! `crushbook completions` and `crushbook manual`: for shells and for `man`, from the one definition of the command line.

use super::World;
use super::cli::Cli;
use super::fault::Fault;
use clap::{Command, CommandFactory};
use clap_complete::{Shell, generate};
use clap_mangen::Man;

const NAME: &str = "crushbook";

/// Prints what a shell needs to complete commands and options.
///
/// # Errors
/// Those of the output.
pub fn completions(world: &mut World, shell: Shell) -> Result<(), Fault> {
    let mut text = Vec::new();
    generate(shell, &mut shown(), NAME, &mut text);
    Ok(world.out.write_all(&text)?)
}

/// Prints the manual page, or that of one command.
///
/// # Errors
/// A command that there is not, or the output's.
pub fn manual(world: &mut World, of: Option<&str>) -> Result<(), Fault> {
    let mut text = Vec::new();
    Man::new(page(of)?).source(format!("{NAME} {}", env!("CARGO_PKG_VERSION"))).render(&mut text)?;
    Ok(world.out.write_all(&text)?)
}

/// The command that a page is about, with what counts for every command.
fn page(of: Option<&str>) -> Result<Command, Fault> {
    let mut all = shown();
    all.build();
    let Some(name) = of else { return Ok(all) };
    let known: Vec<&str> = all.get_subcommands().map(Command::get_name).filter(|name| *name != "help").collect();
    match all.find_subcommand(name) {
        Some(command) => Ok(command.clone()),
        None => {
            Err(Fault::usage(format!("there is no command {name}"), format!("The commands are {}.", known.join(", "))))
        }
    }
}

/// The commands that people are told of: what is hidden from help is no command to complete.
fn shown() -> Command {
    let all = Cli::command();
    let told = all.get_subcommands().filter(|command| !command.is_hide_set()).cloned();
    let mut shown = Command::new(NAME).subcommands(told).args(all.get_arguments().cloned());
    shown = shown.version(env!("CARGO_PKG_VERSION"));
    if let (Some(about), Some(long)) = (all.get_about(), all.get_long_about()) {
        shown = shown.about(about.clone()).long_about(long.clone());
    }
    shown
}
