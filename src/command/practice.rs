//! What the practice says about itself, from its file and the command line.

use super::World;
use super::cli::Cli;
use super::fault::Fault;
use super::place::{places, read_file};
use crate::domain::practice::Practice;
use crate::report::safe::safe;
use crate::report::words::Words;
use crate::wire::practice::read;

/// The practice, with every problem of its file, which never stops work.
pub fn own(cli: &Cli) -> (Practice, Vec<String>) {
    let (mut practice, problems) = from_file();
    practice.region = cli.region.unwrap_or(practice.region);
    practice.hands = cli.keys.unwrap_or(practice.hands);
    // Whoever says nothing of backups is still told that there are none.
    practice.backups.get_or_insert_default();
    (practice, problems)
}

fn from_file() -> (Practice, Vec<String>) {
    let Ok(places) = places() else { return (Practice::default(), Vec::new()) };
    let name = places.practice.display().to_string();
    match read_file(&places.practice) {
        Ok(bytes) => {
            let (practice, problems) = read(&name, &bytes);
            (practice, problems.iter().map(ToString::to_string).collect())
        }
        Err(why) if why.kind() == std::io::ErrorKind::NotFound => (Practice::default(), Vec::new()),
        Err(why) => (Practice::default(), vec![format!("{name} cannot be read ({why}); the plain words are used")]),
    }
}

/// Its words for a text; problems of the file are said on the way.
///
/// # Errors
/// Those of the output.
pub fn words(cli: &Cli, world: &mut World) -> Result<Words, Fault> {
    Ok(Words(told(cli, world)?.region))
}

/// All that it says; problems of the file are said on the way.
///
/// # Errors
/// Those of the output.
pub fn told(cli: &Cli, world: &mut World) -> Result<Practice, Fault> {
    let (practice, problems) = own(cli);
    for problem in problems {
        writeln!(world.err, "crushbook: {}", safe(&problem))?;
    }
    Ok(practice)
}
