//! What became of a sheet, as `crushbook enter` says it: above all who was begun new, since a slip of the pen makes an animal more.

use super::World;
use super::fault::Fault;
use super::herd::option;
use super::odd::{self, Odd};
use crate::domain::slip::Slip;
use crate::report::safe::safe;
use crate::report::words;
use chrono::NaiveDate;
use std::collections::BTreeSet;

/// What became of a sheet.
#[derive(Debug, Default)]
pub struct Entered {
    /// The file it came from.
    pub file: String,
    /// Its farm.
    pub farm: String,
    /// Its day.
    pub on: NaiveDate,
    /// How many were in the crush.
    pub turns: usize,
    /// How much was told outside it.
    pub told: usize,
    /// How much of it was in the book before.
    pub held: usize,
    /// The day on which the visit began that it closed, where that was before.
    pub closed: Option<NaiveDate>,
    /// Whether the farm was begun.
    pub new_farm: bool,
    /// Whoever was begun.
    pub new_animals: Vec<New>,
    /// What else is odd about it, each with its line.
    pub odd: Vec<(usize, Odd)>,
}

/// An animal that was begun because nobody of the farm is called so.
#[derive(Debug)]
pub struct New {
    /// What the sheet calls her.
    pub called: String,
    /// The line on which it first does.
    pub line: usize,
    /// Those of the herd whose number differs by one slip, the likeliest first.
    pub near: Vec<(Slip, String)>,
    /// By what alone she is known, where she was never in the crush.
    pub only_by: Option<&'static str>,
}

/// What to do about a number that is wrong.
const SLIP: &str = "If a new one is a slip of the pen: open the number on the screens, with paper of that day where it is not\n\
                    today, and \"turn of another\" gives it to the right number;";

/// Says what became of each sheet, who is new, and what to do about one who is not.
pub fn say(entered: &[Entered], world: &mut World) -> Result<(), Fault> {
    for sheet in entered {
        let day = format!("{} {}", words::weekday(sheet.on), sheet.on.format("%Y"));
        writeln!(world.out, "{}, {day}: {}", safe(&sheet.farm), sheet.counts())?;
        for new in &sheet.new_animals {
            writeln!(world.out, "  new animal {} ({}:{})", safe(&new.called), sheet.file, new.line)?;
        }
    }
    for sheet in entered {
        for (line, odd) in odd::of(sheet) {
            writeln!(world.err, "crushbook: {}:{line}: {odd}", sheet.file)?;
        }
    }
    let mut began = entered.iter().filter(|sheet| !sheet.new_animals.is_empty());
    let farms: BTreeSet<&str> = began.clone().map(|sheet| sheet.farm.as_str()).collect();
    let farm = farms.first().filter(|_| farms.len() == 1).map_or(String::new(), |farm| option(farm));
    if began.next().is_some() {
        writeln!(world.out, "{SLIP}")?;
        writeln!(world.out, "crushbook gone NUMBER{farm} then says that nobody has that one.")?;
    }
    Ok(())
}

impl Entered {
    /// Whether anything of it was new.
    pub fn is_news(&self) -> bool {
        self.turns + self.told > 0 || self.new_farm || !self.new_animals.is_empty()
    }

    fn counts(&self) -> String {
        let mut parts = Vec::new();
        parts.extend(self.new_farm.then(|| "new farm".to_owned()));
        parts.extend((self.turns > 0).then(|| format!("{} in the crush", self.turns)));
        parts.extend((self.told > 0).then(|| format!("{} told", self.told)));
        parts
            .extend(self.closed.map(|on| format!("the visit of {} {} is closed", words::weekday(on), on.format("%Y"))));
        parts.extend(match (self.held, parts.is_empty() && self.new_animals.is_empty()) {
            (_, true) => Some("already entered".to_owned()),
            (0, false) => None,
            (held, false) => Some(format!("{held} already entered")),
        });
        parts.join("; ")
    }
}
