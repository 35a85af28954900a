//! `crushbook keys`: the key table, every problem of a keymap file, or what each key press comes to. And the keymap for the
//! screens: the user's own file, else the one that command line or practice names.

use super::cli::Cli;
use super::fault::Fault;
use super::place::{places, read_file};
use super::{Next, World, place, practice};
use crate::domain::practice::Hands;
use crate::keys::context::Context;
use crate::keys::fault::TOLD;
use crate::keys::help::markdown;
use crate::keys::key::{Key, UnknownKey};
use crate::keys::keymap::{BuiltIn, Keymap, written};
use crate::keys::load::load_or;
use crate::keys::near::nearest;
use crate::keys::trial::{Trial, meaning_of};
use crate::report::safe::{cut, safe};
use crate::report::words::Words;
use std::io::{BufRead, BufReader, Read};
use std::path::Path;

/// Prints the table of the built-in keymaps, or of a file that has no problem.
///
/// # Errors
/// A file that cannot be read, or every problem of it.
pub fn keys(cli: &Cli, world: &mut World, file: Option<&Path>) -> Result<(), Fault> {
    let maps: Vec<Keymap> = match file {
        None => BuiltIn::ALL.map(BuiltIn::keymap).into(),
        Some(file) => vec![read(file)?],
    };
    let words = practice::words(cli, world)?;
    write!(world.out, "{}", markdown(&maps, &|text| words.fill(text)))?;
    Ok(())
}

/// Has keys pressed and says what each comes to; without a terminal, of the names of keys in the input, a line each.
///
/// # Errors
/// A file that cannot be read or has problems; lines that name no key, once all were read.
pub fn attempt(cli: &Cli, world: &mut World, file: Option<&Path>) -> Result<Next, Fault> {
    let practice = practice::told(cli, world)?;
    let keymap = match file {
        Some(file) => read(file)?,
        None => {
            let (keymap, problems) = own(cli, practice.hands);
            for problem in problems {
                writeln!(world.err, "crushbook: {}", safe(&problem))?;
            }
            keymap
        }
    };
    let words = Words(practice.region);
    if world.terminal {
        return Ok(Next::Trial(Box::new(Trial::new(keymap)), words));
    }
    named(&keymap, words, world)?;
    Ok(Next::Done(0))
}

/// Names of keys are short: what comes in a longer line is no name of one.
const LONGEST_LINE: u64 = 1 << 10;

/// Says of each line of names what those keys mean, pressed one after the other, in each state.
fn named(keymap: &Keymap, words: Words, world: &mut World) -> Result<(), Fault> {
    let (mut wrong, mut more) = (Vec::new(), 0_u64);
    let mut input = BufReader::new(&mut *world.input);
    for number in 1.. {
        let mut line = Vec::new();
        let read = input.by_ref().take(LONGEST_LINE).read_until(b'\n', &mut line);
        if read.map_err(|why| Fault::failed(format!("the input cannot be read: {why}"), ""))? == 0 {
            break;
        }
        let line = String::from_utf8_lossy(&line);
        let keys: Result<Vec<Key>, UnknownKey> = line.split_whitespace().map(str::parse).collect();
        match keys {
            Ok(keys) if keys.is_empty() => {}
            Ok(keys) => {
                writeln!(world.out, "{}", written(&keys))?;
                for context in Context::ALL {
                    let means = words.fill(&meaning_of(keymap, context, &keys).words(context));
                    writeln!(world.out, "  {:9} {means}", context.name())?;
                }
            }
            Err(_) if wrong.len() >= TOLD => more += 1,
            Err(UnknownKey(name)) => {
                let near = nearest(&name, Key::names()).map_or(String::new(), |near| format!("; did you mean {near}?"));
                wrong.push(format!("line {number}: no key is called \"{}\"{near}", cut(&name, NAME)));
            }
        }
    }
    if wrong.is_empty() {
        return Ok(());
    }
    if more > 0 {
        wrong.push(format!("{more} more such lines follow"));
    }
    let hint = "A key is one character, or a name such as Enter, Backspace, PageUp, F2, Ctrl+c.";
    Err(Fault::failed("not every line names a key", hint).because(wrong))
}

/// Columns of a name that is quoted.
const NAME: usize = 60;

fn read(file: &Path) -> Result<Keymap, Fault> {
    let (name, bytes) = place::named_file(file, "a keymap")?;
    let (keymap, problems) = load_or(&name, &bytes, BuiltIn::TwoHands);
    if problems.is_empty() {
        return Ok(keymap);
    }
    let causes: Vec<String> = problems.iter().map(ToString::to_string).collect();
    let hint = "Until they are put right the built-in keys are used; crushbook keys prints them.";
    let count = match causes.len() {
        1 => "one problem".to_owned(),
        count => format!("{count} problems"),
    };
    Err(Fault::failed(format!("{count} in {name}"), hint).because(causes))
}

/// The built-in keymap for a hand.
pub fn built_in(hands: Hands) -> BuiltIn {
    match hands {
        Hands::Two => BuiltIn::TwoHands,
        Hands::Keypad => BuiltIn::Keypad,
        Hands::Left => BuiltIn::LeftHand,
        Hands::Right => BuiltIn::RightHand,
    }
}

/// The user's own keymap where there is one, else the built-in one for the hand that is free; with every problem of the
/// file, which never stops the work.
pub fn own(cli: &Cli, hands: Hands) -> (Keymap, Vec<String>) {
    let built_in = built_in(hands);
    let Ok(places) = places() else { return (built_in.keymap(), Vec::new()) };
    let name = places.keys.display().to_string();
    match read_file(&places.keys) {
        Ok(bytes) => {
            let (keymap, problems) = load_or(&name, &bytes, built_in);
            let mut problems: Vec<String> = problems.iter().map(ToString::to_string).collect();
            if cli.keys.is_some() {
                problems.push(format!("{name} comes before --keys; to use --keys, give that file another name"));
            }
            (keymap, problems)
        }
        Err(why) if why.kind() == std::io::ErrorKind::NotFound => (built_in.keymap(), Vec::new()),
        Err(why) => (built_in.keymap(), vec![format!("{name} cannot be read ({why}); the built-in keys are used")]),
    }
}
