//! `enter`: sheets typed up. Every mistake of every sheet is found before anything is written.

use super::fault::Fault;
use super::ledger::Ledger;
use super::{Cli, Done, Here, book};
use crate::domain::event::Event;
use crate::domain::herd::{Herd, Labels};
use crate::domain::ids::FarmId;
use crate::domain::sheet::tell::{tell, tell_farm};
use crate::domain::sheet::transcribe::transcribe;
use crate::domain::sheet::{Line, SheetTurn};
use crate::store::error::StoreError;
use crate::wire::sheet::{Mistake, Reading, explain, read};
use std::io::{Read, Write};
use std::path::{Path, PathBuf};

/// What entering a sheet came to.
#[derive(Debug, Default, PartialEq, Eq)]
pub struct Entered {
    /// Turns and lines entered.
    pub new: usize,
    /// Turns and lines that the book held already.
    pub already: usize,
    /// Animals begun.
    pub animals: Vec<String>,
}

/// Enters sheets from files.
///
/// # Errors
/// Every mistake of every sheet; nothing is then written.
pub fn run(cli: &Cli, here: &Here, files: &[PathBuf], new_farm: bool, out: &mut dyn Write) -> Result<Done, Fault> {
    let mut readings = Vec::new();
    let mut mistakes = Vec::new();
    for file in files {
        let name = file.display().to_string();
        match read(&text_of(file)?, &name) {
            Ok(reading) => readings.push((name, reading)),
            Err(found) => mistakes.extend(found),
        }
    }
    let (mut store, _) = book::open(cli.book.as_deref())?;
    let mut ledger = Ledger::new(&mut store, here.now);
    let mut told = Vec::new();
    for (name, reading) in &readings {
        match sheet(&mut ledger, reading, name, new_farm)? {
            Ok(entered) => told.push((name, entered)),
            Err(found) => mistakes.extend(found),
        }
    }
    if !mistakes.is_empty() {
        let causes = mistakes.iter().map(ToString::to_string).collect();
        return Err(Fault::failed("nothing was entered", "mend these lines and enter the sheet again").because(causes));
    }
    ledger.commit()?;
    for (name, entered) in told {
        writeln!(out, "{name}: {}", in_words(&entered))?;
    }
    store.close()?;
    Ok(Done::Code(0))
}

fn in_words(entered: &Entered) -> String {
    if entered.new == 0 {
        return "already entered".to_owned();
    }
    let mut words = format!("{} entered", entered.new);
    if entered.already > 0 {
        words.push_str(&format!(", {} already entered", entered.already));
    }
    if !entered.animals.is_empty() {
        words.push_str(&format!(", new animals: {}", entered.animals.join(", ")));
    }
    words
}

fn text_of(file: &Path) -> Result<String, Fault> {
    let mut bytes = Vec::new();
    let read = if file == Path::new("-") {
        std::io::stdin().read_to_end(&mut bytes).map(|_| ())
    } else {
        std::fs::read(file).map(|content| bytes = content)
    };
    read.map_err(|error| Fault::failed(format!("{} cannot be read: {error}", file.display()), "look at its name"))?;
    String::from_utf8(bytes)
        .map_err(|_| Fault::failed(format!("{} is not UTF-8 text", file.display()), "save it as UTF-8 and try again"))
}

/// Puts a sheet into the ledger, or says all that is wrong with it.
pub fn sheet(
    ledger: &mut Ledger<'_>,
    reading: &Reading,
    name: &str,
    new_farm: bool,
) -> Result<Result<Entered, Vec<Mistake>>, StoreError> {
    let sheet = &reading.sheet;
    let farm = match ledger.farm(&sheet.farm)? {
        Some(farm) => farm,
        None if new_farm => ledger.begin_farm(sheet.on, &sheet.farm),
        None => return Ok(Err(vec![unknown_farm(ledger, name, &sheet.farm)?])),
    };
    ledger.record_as(sheet.on, &sheet.by)?;
    let mut entered = Entered::default();
    let mut mistakes = Vec::new();
    for (entry, line) in sheet.lines.iter().enumerate() {
        let snags = match line {
            Line::Turn(turn) => enter_turn(ledger, farm, reading, turn, &mut entered)?,
            Line::Animal { animal, told } => {
                let id = find_or_begin(ledger, farm, reading, animal, &mut entered)?;
                let history = ledger.history(id, sheet.on)?;
                match tell(told, id, farm, Some(&history), sheet.on) {
                    Ok(event) => {
                        let known = ledger.about(id.0)?.iter().any(|record| record.event() == Some(&event));
                        if let Event::Renumbered { labels, .. } = &event {
                            ledger.renumber(farm, &labels.number, id);
                        }
                        keep(ledger, sheet.on, id.0, event, known, &mut entered);
                        Vec::new()
                    }
                    Err(snag) => vec![snag],
                }
            }
            Line::Farm(told) => {
                let event = tell_farm(told, farm);
                let known = ledger.about(farm.0)?.iter().any(|record| record.event() == Some(&event));
                keep(ledger, sheet.on, farm.0, event, known, &mut entered);
                Vec::new()
            }
        };
        mistakes.extend(snags.iter().map(|snag| explain(reading, name, entry, snag)));
    }
    Ok(if mistakes.is_empty() { Ok(entered) } else { Err(mistakes) })
}

fn keep(
    ledger: &mut Ledger<'_>,
    on: chrono::NaiveDate,
    about: crate::domain::ids::RecordId,
    event: Event,
    known: bool,
    entered: &mut Entered,
) {
    if known {
        entered.already += 1;
    } else {
        ledger.write(on, about, event);
        entered.new += 1;
    }
}

fn enter_turn(
    ledger: &mut Ledger<'_>,
    farm: FarmId,
    reading: &Reading,
    turn: &SheetTurn,
    entered: &mut Entered,
) -> Result<Vec<crate::domain::sheet::transcribe::Snag>, StoreError> {
    let sheet = &reading.sheet;
    let animal = find_or_begin(ledger, farm, reading, &turn.animal, entered)?;
    let history = ledger.history(animal, sheet.on)?;
    if turn.is_in(&history, sheet.on) {
        entered.already += 1;
        return Ok(Vec::new());
    }
    let visit = ledger.visit(farm, sheet.on, sheet.why)?;
    match transcribe(turn, visit, animal, Some(&history), &ledger.stamp(sheet.on)) {
        Ok(records) => {
            ledger.keep(records);
            entered.new += 1;
            Ok(Vec::new())
        }
        Err(snags) => Ok(snags),
    }
}

fn find_or_begin(
    ledger: &mut Ledger<'_>,
    farm: FarmId,
    reading: &Reading,
    number: &str,
    entered: &mut Entered,
) -> Result<crate::domain::ids::AnimalId, StoreError> {
    if let Some(animal) = ledger.animal(farm, number)? {
        return Ok(animal);
    }
    entered.animals.push(number.to_owned());
    let labels = Labels { number: number.to_owned(), ..Labels::default() };
    Ok(ledger.begin_animal(reading.sheet.on, farm, labels, None::<Herd>))
}

fn unknown_farm(ledger: &Ledger<'_>, file: &str, farm: &str) -> Result<Mistake, StoreError> {
    let names = ledger.farm_names()?;
    let known = if names.is_empty() { "none yet".to_owned() } else { names.join(", ") };
    Ok(Mistake {
        file: file.to_owned(),
        line: 1,
        column: 1,
        what: format!("the book knows no farm called {farm:?}"),
        suggestion: format!("known: {known}; --new-farm begins it"),
    })
}
