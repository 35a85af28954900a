//! `crushbook import`: takes in exchange files. What is whole comes in, in one commit; every line that is not is told with its
//! number and what to do.

use super::bring::{Told, bring};
use super::cli::Cli;
use super::fault::Fault;
use super::recorder::Recorder;
use super::{World, place};
use crate::store::error::Problem;
use crate::wire::envelope::Raw;
use crate::wire::exchange::{Reading, Wrong};
use std::cell::Cell;
use std::fs::File;
use std::io::{self, BufReader, Read};
use std::path::{Path, PathBuf};

/// Bytes read at a time.
const BUFFER: usize = 1 << 16;

/// Takes in these files; gives the exit code: 1 where something in them was lost.
pub fn import(cli: &Cli, world: &mut World, files: &[PathBuf]) -> Result<u8, Fault> {
    // All are looked at before anything is taken: a slip in a name changes nothing.
    let sources = files.iter().map(|file| Source::new(file)).collect::<Result<Vec<_>, _>>()?;
    take_in(cli, world, &sources, &|_| true)
}

/// A file to be read, or the input.
pub struct Source {
    path: PathBuf,
    /// How long it is; none for the input.
    bytes: Option<u64>,
}

impl Source {
    /// A file; `-` is the input. Errors: it cannot be read.
    pub fn new(file: &Path) -> Result<Source, Fault> {
        let source = |bytes| Source { path: file.to_owned(), bytes };
        if file == Path::new("-") {
            return Ok(source(None));
        }
        let name = file.display();
        if file.is_dir() {
            let hint = format!("crushbook join {name} takes in all exchange files of a folder.");
            return Err(Fault::failed(format!("{name} is a folder"), hint));
        }
        if file.metadata().is_ok_and(|there| !there.is_file()) {
            let hint = "Give what comes through it as input: crushbook import -";
            return Err(Fault::failed(format!("{name} is a pipe or a device, not a file"), hint));
        }
        let there = File::open(file).and_then(|open| open.metadata());
        there.map(|there| source(Some(there.len()))).map_err(|why| {
            let hint = "Nothing was taken in. Check the name, or ask its owner for the right to read.";
            Fault::failed(format!("{name} cannot be read: {why}"), hint)
        })
    }

    /// A file of a folder: whether it can be read shows when it is its turn.
    pub fn later(path: PathBuf) -> Source {
        let bytes = path.metadata().map_or(0, |there| there.len());
        Source { path, bytes: Some(bytes) }
    }

    fn name(&self) -> String {
        if self.bytes.is_none() { "input".to_owned() } else { self.path.display().to_string() }
    }
}

/// Takes in sources, one after the other. `lost` says of which faults of a file something was lost that should be here.
pub fn take_in(cli: &Cli, world: &mut World, sources: &[Source], lost: &dyn Fn(&Wrong) -> bool) -> Result<u8, Fault> {
    // How much waits in the input nobody knows.
    let bytes: Option<u64> = sources.iter().map(|source| source.bytes).sum();
    let told = Told::new(bytes.unwrap_or(0));
    let mut nothing = io::empty();
    let mut input: Option<&mut dyn Read> = Some(&mut *world.input);
    let mut world =
        World { input: &mut nothing, out: &mut *world.out, err: &mut *world.err, by: Recorder::default(), ..*world };
    let mut records = sources.iter().flat_map(|source| {
        let from: Box<dyn Read> = match (source.bytes, input.take()) {
            (None, Some(input)) => Box::new(input),
            // The input is read once.
            (None, None) => Box::new(io::empty()),
            (Some(_), kept) => {
                input = kept;
                match File::open(&source.path) {
                    Ok(file) => Box::new(file),
                    Err(why) => Box::new(Failing(Some(why))),
                }
            }
        };
        let from = Reading::new(BufReader::with_capacity(BUFFER, Counted { from, done: &told.done }));
        from.filter_map(|given| {
            given.map(Ok::<Raw, Problem>).map_err(|wrong| told.note(&say(source, &wrong), lost(&wrong))).ok()
        })
    });
    place::with_book(cli, &mut world, |store, world| bring(cli, world, store, &told, &mut records))
}

/// `FILE:12: why` for a line, `FILE: why` for the whole.
fn say(source: &Source, wrong: &Wrong) -> String {
    match wrong {
        Wrong::Line { line, why } => format!("{}:{line}: {why}", source.name()),
        Wrong::Empty
        | Wrong::Foreign(_)
        | Wrong::Newer(_)
        | Wrong::Long(_)
        | Wrong::NoHead(_)
        | Wrong::Cut(_)
        | Wrong::NoEnd(_)
        | Wrong::Count { .. }
        | Wrong::Medium { .. } => format!("{}: {wrong}", source.name()),
    }
}

/// Counts what is read.
struct Counted<'t> {
    from: Box<dyn Read + 't>,
    done: &'t Cell<u64>,
}

impl Read for Counted<'_> {
    fn read(&mut self, to: &mut [u8]) -> io::Result<usize> {
        let read = self.from.read(to)?;
        self.done.set(self.done.get() + read as u64);
        Ok(read)
    }
}

/// A file that went away before it was its turn.
struct Failing(Option<io::Error>);

impl Read for Failing {
    fn read(&mut self, _: &mut [u8]) -> io::Result<usize> {
        self.0.take().map_or(Ok(0), Err)
    }
}
