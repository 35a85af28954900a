//! `crushbook herd`: the herd of a farm as a list, and a list against the herd. First what would change; written only where
//! `--take` says so, and then all of it in one commit.

pub mod against;
pub mod json;
pub mod known;

use super::cli::{Cli, Take};
use super::farm::Farms;
use super::fault::Fault;
use super::form::TableForm;
use super::recorder::said_who;
use super::{World, enter, note, place, practice, today};
use crate::domain::farm::checked;
use crate::domain::herd::{FarmFact, Labels};
use crate::domain::herd_list::figures::Figures;
use crate::domain::herd_list::her::{Her, groups, is_of};
use crate::domain::herd_list::written;
use crate::domain::ids::FarmId;
use crate::domain::record::Stamp;
use crate::report;
use crate::report::safe::safe;
use crate::store::Store;
use crate::wire::error::plain;
use crate::wire::herd_csv::{HerdList, read, rows};
use crate::wire::table;
use against::Against;
use chrono::SubsecRound;
use std::path::Path;

/// What was asked for.
pub struct Asked<'a> {
    /// The list; none: the herd as it is.
    pub file: Option<&'a Path>,
    /// The farm.
    pub farm: Option<&'a str>,
    /// Of the herd as it is, only this group.
    pub group: Option<&'a str>,
    /// Whether a farm that nobody knows is begun.
    pub new_farm: bool,
    /// What is taken; none: nothing, it is only shown.
    pub take: Option<Take>,
    /// Which way round days in figures are.
    pub figures: Figures,
    /// How it is written.
    pub form: TableForm,
}

/// Shows the herd, or a list against it; takes the list where that was asked for. Gives the exit code: 1 where a row is bad.
///
/// # Errors
/// A list that cannot be read, a farm that is not there; with `--take all`, any bad row.
pub fn herd(cli: &Cli, world: &mut World, asked: &Asked<'_>) -> Result<u8, Fault> {
    let Some(file) = asked.file else {
        if asked.take.is_some() || asked.new_farm {
            return Err(Fault::usage("no list was named", "Name its file: crushbook herd LIST.csv --take all."));
        }
        return place::with_book(cli, world, |store, world| as_it_is(store, world, asked)).map(|()| 0);
    };
    if asked.form == TableForm::Csv {
        let hint = "Leave the list away to have the herd as it is, or write the preview as text or json.";
        return Err(Fault::usage("csv is a form of the herd, and a list was named", hint));
    }
    let (name, bytes) = named(file, world, "a herd list")?;
    let list = read(&bytes, &name, asked.figures);
    for notice in &list.notices {
        writeln!(world.err, "crushbook: {}: {}", safe(&name), safe(notice))?;
    }
    if !list.broken.is_empty() {
        let causes = list.broken.iter().map(ToString::to_string).collect();
        let hint = "Nothing was written. Correct the first line; it names the columns.";
        return Err(Fault::failed(format!("{name} is no herd list"), hint).because(causes));
    }
    place::with_book(cli, world, |store, world| against(store, cli, world, asked, (&name, &list)))
}

/// The list's name without its folders, and its bytes; `-` is the input. `wanted` is what it should be.
pub fn named(file: &Path, world: &mut World, wanted: &str) -> Result<(String, Vec<u8>), Fault> {
    if file != Path::new("-") {
        let (_, bytes) = place::named_file(file, wanted)?;
        let name = file.file_name().unwrap_or(file.as_os_str());
        return Ok((name.to_string_lossy().into_owned(), bytes));
    }
    let mut bytes = Vec::new();
    world.input.read_to_end(&mut bytes).map_err(|why| {
        Fault::failed(format!("the input cannot be read: {why}"), "Name a file, or look what writes into the pipe.")
    })?;
    Ok(("input".to_owned(), bytes))
}

/// Writes the herd as it is: whoever has not left.
fn as_it_is(store: &Store, world: &mut World, asked: &Asked<'_>) -> Result<(), Fault> {
    let (farms, problems) = Farms::of(store)?;
    note(world, &problems)?;
    let farm = farms.meant(asked.farm)?;
    let (herd, problems) = known::herd(store, farm)?;
    note(world, &problems)?;
    let is_in = |her: &&Her| asked.group.is_none_or(|group| is_of(her, group));
    let here = || herd.iter().filter(|her| her.known.left.is_none()).filter(is_in);
    if let Some(group) = asked.group.filter(|_| here().next().is_none()) {
        return Err(no_group(group, &herd));
    }
    match asked.form {
        TableForm::Json => {
            let value = json::herd(&farms.name(farm), here());
            writeln!(world.out, "{}", super::json::written(&value))?;
        }
        TableForm::Text | TableForm::Csv => {
            let nameless = here().filter(|her| her.known.labels == Labels::default()).count();
            if nameless > 0 {
                writeln!(world.err, "crushbook: {nameless} without a number or name cannot stand on a list")?;
            }
            let lines = here().filter(|her| her.known.labels != Labels::default());
            let cells = rows(lines.map(|her| (&her.known.labels, &her.known.herd)));
            let text = if asked.form == TableForm::Csv {
                table::write(&cells)
                    .map_err(|why| Fault::failed(why.to_string(), "Report this fault of the program."))?
            } else {
                columns(&cells)
            };
            write!(world.out, "{text}")?;
        }
    }
    Ok(())
}

/// Nobody is in that group: those there are.
fn no_group(group: &str, herd: &[Her]) -> Fault {
    let groups = groups(herd);
    let hint = match groups.is_empty() {
        true => "Nobody of this farm is in a group.".to_owned(),
        false => format!("The groups there are: {}.", groups.join(", ")),
    };
    Fault::failed(format!("nobody here is in group {}", plain(group)), hint)
}

/// Cells in columns, as wide as the widest of each; columns in which nothing is told are left out.
pub fn columns(rows: &[Vec<String>]) -> String {
    let count = rows.first().map_or(0, Vec::len);
    let is_told = |at: usize| rows.iter().skip(1).any(|row| row.get(at).is_some_and(|cell| !cell.is_empty()));
    let kept: Vec<usize> = (0..count).filter(|at| is_told(*at)).collect();
    let lines = rows.iter().map(|row| kept.iter().filter_map(|at| row.get(*at).cloned()).collect());
    report::safe::in_columns(&lines.collect::<Vec<Vec<String>>>())
}

/// A farm that a list is about: known, or to be begun.
struct Meant {
    farm: Option<FarmId>,
    name: String,
    herd: Vec<Her>,
}

fn against(
    store: &mut Store,
    cli: &Cli,
    world: &mut World,
    asked: &Asked<'_>,
    (name, list): (&str, &HerdList),
) -> Result<u8, Fault> {
    let today = today(cli, world);
    let meant = meant(store, world, asked)?;
    let (id, tick, now) = (store.next_id(), store.tick(), world.now.trunc_subsecs(0));
    let stamp = Stamp { next: id, tick, by: world.by.person(), now, on: today };
    let about = written::Meant { farm: meant.farm, name: &meant.name, herd: &meant.herd };
    let against = Against::of(&stamp, (name, list), about, practice::words(cli, world)?);
    let (told, bad) = (against.told(name, &meant.name, today), &against.bad);
    let all_good = bad.is_empty();
    let taken = match asked.take {
        Some(Take::All) if !all_good => {
            let what = format!("{} of {} cannot be taken, and nothing was written", several(bad.len(), "cell"), name);
            let hint = "Correct these and take the list again; --take good takes all other rows.";
            return Err(Fault::failed(what, hint).because(against.bad_lines.clone()));
        }
        Some(Take::All | Take::Good) if !against.preview.is_empty() => {
            said_who(world)?;
            enter::take(store, &against.written, world)?;
            true
        }
        Some(Take::All | Take::Good) | None => false,
    };
    match asked.form {
        TableForm::Json => {
            let value = json::preview(&told, bad, taken);
            writeln!(world.out, "{}", super::json::written(&value))?;
        }
        TableForm::Text | TableForm::Csv => {
            write!(world.out, "{}", told.text())?;
            next(world, asked, &told, taken)?;
        }
    }
    Ok(u8::from(!all_good))
}

/// What to do now.
fn next(world: &mut World, asked: &Asked<'_>, told: &report::herd_list::Told<'_>, taken: bool) -> Result<(), Fault> {
    let farm = option(told.farm);
    writeln!(world.out)?;
    if !told.preview.missing.is_empty() {
        writeln!(world.out, "Who is gone is said with crushbook gone NUMBER{farm}; a list alone takes nobody away.")?;
    }
    match (taken, told.preview.is_empty(), asked.take) {
        (true, _, _) => writeln!(world.out, "Taken. crushbook undo{farm} takes all of it back.")?,
        (false, true, _) => writeln!(world.out, "Nothing is new, and nothing was written.")?,
        (false, false, _) if told.bad.is_empty() => {
            writeln!(world.out, "Nothing was written yet: --take all takes it.")?;
        }
        (false, false, _) => writeln!(world.out, "Nothing was written yet: --take good takes all but what is bad.")?,
    }
    Ok(())
}

/// The option that names a farm, as it is typed.
pub fn option(farm: &str) -> String {
    let farm = safe(farm);
    let is_plain = |letter: char| letter.is_alphanumeric() || "-_.".contains(letter);
    if farm.chars().all(is_plain) {
        format!(" --farm {farm}")
    } else {
        format!(" --farm '{}'", farm.replace('\'', "'\\''"))
    }
}

/// The name of a farm that is begun.
fn begun(name: &str) -> Result<String, Fault> {
    checked(FarmFact::Name, name).map_err(|why| {
        Fault::usage(format!("a farm cannot be called \"{}\"", plain(name)), format!("{why}; nothing was written."))
    })
}

fn several(count: usize, what: &str) -> String {
    if count == 1 { format!("1 {what}") } else { format!("{count} {what}s") }
}

fn meant(store: &Store, world: &mut World, asked: &Asked<'_>) -> Result<Meant, Fault> {
    let (farms, problems) = Farms::of(store)?;
    note(world, &problems)?;
    if let Some(name) = asked.farm.filter(|name| asked.new_farm && farms.named(name).is_none()) {
        return Ok(Meant { farm: None, name: begun(name)?, herd: Vec::new() });
    }
    let farm = farms.meant(asked.farm).map_err(|fault| match asked.farm {
        Some(_) => Fault { hint: format!("{} --new-farm begins it.", fault.hint), ..fault },
        None => fault,
    })?;
    let (herd, problems) = known::herd(store, farm)?;
    note(world, &problems)?;
    Ok(Meant { farm: Some(farm), name: farms.name(farm), herd })
}
