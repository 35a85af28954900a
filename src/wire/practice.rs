//! The practice's own file: what it says once and for all. A file with a problem never stops work: what could be read
//! counts, and for the rest the defaults.

use super::settings::{Reading, SettingProblem, Value, listed, shown};
use crate::domain::practice::{Hands, Pace, Practice, Region};
use crate::domain::vocabulary::Vocabulary;
use crate::domain::withdrawal::{Stated, Unstated};
use std::ops::RangeInclusive;
use std::path::Path;

/// How a value is kept; the reason says what to write instead.
type Keep = fn(&mut Practice, &Value) -> Result<(), String>;

/// What the file may say, by name.
const NAMES: &[(&str, Keep)] = &[
    ("region", |practice, value| {
        let region = if let Value::Text(word) = value { Region::from_word(word) } else { None };
        let known = || format!("write one of {}", listed(Region::ALL.iter().map(|r| r.word())));
        practice.region = region.ok_or_else(known)?;
        Ok(())
    }),
    ("keys", |practice, value| {
        let hands = if let Value::Text(word) = value { Hands::from_word(word) } else { None };
        let known = || format!("write one of {}", listed(Hands::ALL.iter().map(|hands| hands.word())));
        practice.hands = hands.ok_or_else(known)?;
        Ok(())
    }),
    ("backup", |practice, value| match value {
        // From wherever the program is started it is the same folder.
        Value::Text(folder) if Path::new(folder).is_absolute() && !folder.contains(char::is_control) => {
            practice.backups.get_or_insert_default().folder.clone_from(folder);
            Ok(())
        }
        _ => Err("write the whole path of a folder in quotes, like \"/media/stick\"".to_owned()),
    }),
    ("backup-days", |practice, value| {
        let days = if let Value::Whole(days) = value { u16::try_from(*days).ok() } else { None };
        let days = days.filter(|days| (1..=MOST_DAYS).contains(days));
        let days = days.ok_or_else(|| format!("write a number of days, 1 to {MOST_DAYS}"))?;
        practice.backups.get_or_insert_default().days = days;
        Ok(())
    }),
    ("same-key-crush", |practice, value| keep_ms(&mut practice.pace.crush, value, Pace::CRUSH)),
    ("same-key-typing", |practice, value| keep_ms(&mut practice.pace.typing, value, Pace::TYPING)),
    ("reader-gap", |practice, value| keep_ms(&mut practice.pace.reader, value, Pace::READER)),
];

/// Keeps a number of milliseconds that is within its limits.
fn keep_ms(into: &mut u16, value: &Value, limits: RangeInclusive<u16>) -> Result<(), String> {
    let ms = if let Value::Whole(ms) = value { u16::try_from(*ms).ok() } else { None };
    let (least, most) = (limits.start(), limits.end());
    let wanted = || format!("write milliseconds, {least} to {most}");
    *into = ms.filter(|ms| limits.contains(ms)).ok_or_else(wanted)?;
    Ok(())
}

/// A year without a backup is not worth asking about.
const MOST_DAYS: u16 = 365;

/// Section of the days that were stated for medicated products, one product a line: `"product" = "milk 2 meat 10 label"`.
const STATED: &str = "stated";

fn stated(product: &str, value: &Value) -> Result<Stated, String> {
    let Value::Text(text) = value else { return Err(Unstated::NoDays.to_string()) };
    Stated::read(product, text).map_err(|why| why.to_string())
}

/// Reads the file.
pub fn read(file: &str, bytes: &[u8]) -> (Practice, Vec<SettingProblem>) {
    let mut practice = Practice::default();
    let mut reading = Reading::of(file, bytes, "region = \"uk\"");
    for setting in std::mem::take(&mut reading.settings) {
        let (line, name) = (setting.line, setting.name.as_str());
        if setting.section == STATED {
            match stated(name, &setting.value) {
                Ok(stated) => practice.medicines.push(stated),
                Err(next) => {
                    reading.problem(line, format!("{} cannot be {}", shown(name), setting.value.quoted()), next);
                }
            }
            continue;
        }
        match NAMES.iter().find(|(known, _)| setting.section.is_empty() && *known == name) {
            Some((_, keep)) => {
                if let Err(next) = keep(&mut practice, &setting.value) {
                    reading.problem(line, format!("{name} cannot be {}", setting.value.quoted()), next);
                }
            }
            None => {
                let known = listed(NAMES.iter().map(|(name, _)| *name));
                let what = format!("nothing here is called \"{}\"", shown(name));
                reading.problem(line, what, format!("what can be said is {known}, and [{STATED}]"));
            }
        }
    }
    (practice, reading.told())
}
