//! `crushbook enter`: types up sheets. All mistakes of all sheets are told before anything is in the book.

use super::cli::Cli;
use super::desk::{Day, Desk, Known};
use super::entered::{Entered, New, say};
use super::fault::Fault;
use super::odd::{self, Odd};
use super::recorder::{OPTION, Recorder, listed};
use super::{World, note, place, today};
use crate::domain::event::Event;
use crate::domain::farm::{checked, is_called};
use crate::domain::follow_up::rules::RuleSet;
use crate::domain::herd::{FarmFact, Labels, VisitWhy, VisitWord};
use crate::domain::history::History;
use crate::domain::ids::{AnimalId, FarmId, PersonId, VisitId};
use crate::domain::label::Label;
use crate::domain::letters::has_unseen;
use crate::domain::record::Record;
use crate::domain::sheet::check::{can_be, doubtful, only_by};
use crate::domain::sheet::instruct::Then;
use crate::domain::sheet::tell::{tell, tell_farm};
use crate::domain::sheet::transcribe::{Snag, SnagWhy, transcribe};
use crate::domain::sheet::{Line, SheetTurn, Told, VisitEnd};
use crate::domain::slip::{Slip, slip};
use crate::domain::visit::No;
use crate::domain::visit_log::visits;
use crate::domain::vocabulary::Vocabulary;
use crate::report::safe::safe;
use crate::report::words;
use crate::store::Store;
use crate::store::error::{Problem, StoreError};
use crate::wire::envelope::encode;
use crate::wire::error::plain;
use crate::wire::plain_text::{NO_TEXT, is_no_text};
use crate::wire::sheet::{Mistake, Reading, explain, read};
use chrono::NaiveDate;
use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

/// A sheet that was read, and where its farm is named.
pub struct Given {
    /// File it came from.
    pub file: String,
    /// Line of the farm's name.
    pub farm_line: usize,
    /// What it says.
    pub reading: Reading,
}

/// Enters files, or standard input for `-`.
///
/// # Errors
/// A file that cannot be read, or every mistake of every sheet; then nothing was entered.
pub fn enter(cli: &Cli, world: &mut World, files: &[PathBuf], new_farm: bool) -> Result<(), Fault> {
    let (mut given, mut mistakes) = (Vec::new(), Vec::new());
    let today = today(cli, world);
    for file in files {
        let text = text_of(file, world)?;
        for sheet in sheets_in(&text, &name_of(file)) {
            match sheet {
                Ok(sheet) if sheet.reading.sheet.on > today => mistakes.push(to_come(&sheet, today)),
                Ok(sheet) => given.push(sheet),
                Err(more) => mistakes.extend(more),
            }
        }
    }
    if !mistakes.is_empty() {
        return Err(refused(&mistakes));
    }
    let entered = place::with_book(cli, world, |store, world| {
        let Written { records, entered, problems } = write_out(store, given, world, (new_farm, today))?;
        note(world, &problems)?;
        take(store, &records, world)?;
        Ok(entered)
    })?;
    say(&entered, world)
}

/// Sheets as records, not in the book yet.
struct Written {
    records: Vec<Record>,
    entered: Vec<Entered>,
    problems: Vec<Problem>,
}

fn write_out(
    store: &Store,
    mut given: Vec<Given>,
    world: &World,
    (new_farm, today): (bool, NaiveDate),
) -> Result<Written, Fault> {
    given.sort_by_key(|given| given.reading.sheet.on);
    let mut desk = Desk::new(store, world.now)?.of(world.by.named());
    let (mut entered, mut mistakes) = (Vec::new(), Vec::new());
    for sheet in &given {
        let mut one = enter_sheet(&mut desk, sheet, new_farm, &mut mistakes)?;
        one.odd.extend(odd::long_ago(one.on, today).filter(|_| one.is_news()).map(|odd| (sheet.reading.day, odd)));
        one.new_animals.iter_mut().for_each(|new| new.only_by = only_by(lines_of(&given, &one.farm), &new.called));
        entered.push(one);
    }
    if !mistakes.is_empty() {
        return Err(refused(&mistakes));
    }
    let (records, problems) = desk.done();
    Ok(Written { records, entered, problems })
}

/// The lines of all sheets of a farm.
fn lines_of<'g>(given: &'g [Given], farm: &str) -> impl Iterator<Item = &'g Line> {
    let of_it = given.iter().map(|given| &given.reading.sheet).filter(move |sheet| is_called(&sheet.farm, farm));
    of_it.flat_map(|sheet| &sheet.lines)
}

/// Writes one sheet out at the desk. Mistakes are added to the list; with one, what is on the desk must be given up.
pub fn enter_sheet(
    desk: &mut Desk,
    given: &Given,
    new_farm: bool,
    mistakes: &mut Vec<Mistake>,
) -> Result<Entered, StoreError> {
    let sheet = &given.reading.sheet;
    let (file, farm) = (given.file.clone(), sheet.farm.clone());
    let mut entered = Entered { file, farm, on: sheet.on, ..Entered::default() };
    let known = desk.farms.named(&sheet.farm);
    // The first farm of a book cannot be a slip for another one.
    if known.is_none() && !new_farm && !desk.farms.is_empty() {
        mistakes.push(unknown_farm(given, desk.farms.nearest(&sheet.farm)));
        return Ok(entered);
    }
    if known.is_none()
        && let Err(why) = checked(FarmFact::Name, &sheet.farm)
    {
        let what = format!("a farm cannot be called {}", plain(&sheet.farm));
        mistakes.push(mistake(given, given.farm_line, what, why.to_owned()));
        return Ok(entered);
    }
    let (before, recorder) = (desk.written(), desk.recorder());
    let by_line = given.reading.by.unwrap_or(given.farm_line);
    let Some(by) = person(desk, (given, by_line), &sheet.by, &mut entered.odd, mistakes)? else { return Ok(entered) };
    let day = Day { on: sheet.on, by };
    let farm = match known {
        Some(farm) => farm,
        None => {
            let near = desk.farms.nearest(&sheet.farm).map(str::to_owned);
            let odd = near.map(|near| (given.farm_line, Odd::Farm(sheet.farm.clone(), near)));
            entered.odd.extend(odd);
            desk.begin_farm(&sheet.farm, day)?
        }
    };
    entered.new_farm = known.is_none();
    let mut clerk = Clerk { desk, given, farm, day, visit: None, no_visit: false, rules: None, entered, mistakes };
    for (entry, line) in sheet.lines.iter().enumerate() {
        clerk.line(entry, line)?;
    }
    clerk.of_visit()?;
    let entered = clerk.entered;
    // A sheet of which all is in the book already asks nobody.
    if let (Recorder::Unsaid(names), true) = (recorder, sheet.by.is_empty() && desk.written() > before) {
        mistakes.push(by_whom(given, &names));
    }
    Ok(entered)
}

/// The person of a name on a line of a sheet; what is odd about it is added to the list. None where the name cannot be kept.
fn person(
    desk: &mut Desk,
    (given, line): (&Given, usize),
    name: &str,
    odd: &mut Vec<(usize, Odd)>,
    mistakes: &mut Vec<Mistake>,
) -> Result<Option<Option<PersonId>>, StoreError> {
    let known = desk.others_than(name).filter(|_| !name.is_empty());
    if known.is_some() && has_unseen(name) {
        let what = format!("nobody can be called {}: letters stand in it that nobody sees", plain(name));
        mistakes.push(mistake(given, line, what, "type it anew, letter by letter".to_owned()));
        return Ok(None);
    }
    // The first of a book cannot be a slip for another.
    let odd_one = known.filter(|known| !known.is_empty()).map(|known| Odd::Person(name.to_owned(), known));
    odd.extend(odd_one.map(|one| (line, one)));
    desk.person(name, given.reading.sheet.on).map(Some)
}

/// One sheet being written out.
struct Clerk<'c, 's> {
    desk: &'c mut Desk<'s>,
    given: &'c Given,
    farm: FarmId,
    day: Day,
    visit: Option<VisitId>,
    no_visit: bool,
    rules: Option<RuleSet>,
    entered: Entered,
    mistakes: &'c mut Vec<Mistake>,
}

impl Clerk<'_, '_> {
    fn line(&mut self, entry: usize, line: &Line) -> Result<(), StoreError> {
        match line {
            Line::Turn(turn) => {
                let Some(animal) = self.animal(entry, &turn.animal)? else { return Ok(()) };
                self.turn(entry, turn, animal)
            }
            Line::Animal { animal, told } => {
                let Some(animal) = self.animal(entry, animal)? else { return Ok(()) };
                self.told(entry, told, animal)
            }
            Line::Farm(told) => {
                let rules = self.rules()?;
                let then = Then { on: self.day.on, rules: &rules };
                let event = match tell_farm(told, self.farm, self.desk.records(self.farm.0)?, then) {
                    Ok(event) => event,
                    Err(snag) => {
                        self.snags(entry, &[snag]);
                        return Ok(());
                    }
                };
                if self.desk.holds(self.farm.0, self.day.on, &event)? {
                    self.entered.held += 1;
                    return Ok(());
                }
                self.farm_told(entry, event)
            }
        }
    }

    /// Writes what is new of the farm; its name, where no other farm bears it.
    fn farm_told(&mut self, entry: usize, event: Event) -> Result<(), StoreError> {
        let mut name = None;
        if let Event::FarmDescribed { fact: FarmFact::Name, words, .. } = &event {
            name = Some(words.clone());
        }
        if let Some(name) = name.as_ref().filter(|name| self.desk.farms.named(name).is_some_and(|of| of != self.farm)) {
            self.snags(entry, &[Snag { fact: 0, why: SnagWhy::FarmCalled(name.clone()) }]);
            return Ok(());
        }
        self.entered.told += 1;
        self.desk.press(self.day, vec![(self.farm.0, event)])?;
        if name.is_some() { self.desk.renamed(self.farm) } else { Ok(()) }
    }

    /// The rules by which the farm went on that day, read once a sheet.
    fn rules(&mut self) -> Result<RuleSet, StoreError> {
        if self.rules.is_none() {
            self.rules = Some(self.desk.rules(self.farm, self.day.on)?);
        }
        Ok(self.rules.clone().unwrap_or_default())
    }

    fn animal(&mut self, entry: usize, called: &str) -> Result<Option<AnimalId>, StoreError> {
        match self.desk.who(self.farm, called, self.day.on)? {
            Known::One(animal) => Ok(Some(animal)),
            Known::Nobody => {
                let number = match Label::Number.checked(called) {
                    Ok(number) => number,
                    Err(why) => {
                        self.snags(entry, &[Snag { fact: 0, why: SnagWhy::NoLabel(Label::Number, why) }]);
                        return Ok(None);
                    }
                };
                let labels = Labels { number, ..Labels::default() };
                let near = self.near(&labels.number)?;
                let new = New { called: labels.number.clone(), line: self.line_of(entry), near, only_by: None };
                self.entered.new_animals.push(new);
                let herd = self.desk.newcomer(self.farm, self.day.on)?;
                self.desk.begin_animal(self.farm, labels, herd, self.day).map(Some)
            }
            Known::Several(several) => {
                let what = format!("{several} animals of this farm are called {}", plain(called));
                let suggestion = "write her tag, electronic number or name instead".to_owned();
                self.mistakes.push(mistake(self.given, self.line_of(entry), what, suggestion));
                Ok(None)
            }
        }
    }

    /// Numbers of the herd from which that one differs by a slip of the pen; not those who are on the sheet themselves.
    fn near(&mut self, number: &str) -> Result<Vec<(Slip, String)>, StoreError> {
        let lines = &self.given.reading.sheet.lines;
        let is_here = |known: &str| lines.iter().filter_map(Line::animal).any(|called| called.trim() == known);
        let known = self.desk.numbers(self.farm)?.iter().filter(|known| !is_here(known));
        let mut near: Vec<_> = known.filter_map(|known| Some((slip(number, known)?, known.clone()))).collect();
        near.sort();
        Ok(near)
    }

    fn turn(&mut self, entry: usize, turn: &SheetTurn, animal: AnimalId) -> Result<(), StoreError> {
        let history = self.desk.history(animal, self.day.on)?;
        if turn.is_in(&history, self.day.on) {
            self.entered.held += 1;
            return Ok(());
        }
        let Some(visit) = self.visit()? else { return Ok(()) };
        let mut people = Vec::new();
        for (fact, name) in turn.handed_to() {
            let place = (self.given, self.line_of_fact(entry, fact));
            let Some(person) = person(self.desk, place, name, &mut self.entered.odd, self.mistakes)? else {
                return Ok(());
            };
            people.extend(person);
        }
        match transcribe(turn, visit, animal, Some(&history), &self.desk.stamp(self.day), &people) {
            Ok(records) => {
                self.entered.turns += 1;
                self.desk.keep(records)
            }
            Err(snags) => {
                self.snags(entry, &snags);
                Ok(())
            }
        }
    }

    /// The visit of the sheet; a mistake where it is to go on and none did begin. Asked for again, that is told once.
    fn visit(&mut self) -> Result<Option<VisitId>, StoreError> {
        if self.visit.is_none() && !self.no_visit {
            self.visit = self.desk.visit(self.farm, &self.given.reading.sheet, self.day)?;
            self.no_visit = self.visit.is_none();
            if self.no_visit {
                let what = "no visit to this farm began before that day and waits to go on".to_owned();
                let instead = "leave out gone on, or enter the sheet of the first day before".to_owned();
                self.mistakes.push(mistake(self.given, self.given.farm_line, what, instead));
            }
        }
        Ok(self.visit)
    }

    /// What the head of the sheet tells of the visit; what became of it comes after all else of the day.
    fn of_visit(&mut self) -> Result<(), StoreError> {
        if self.tells_of_one()? {
            let Some(visit) = self.visit()? else { return Ok(()) };
            self.describe(visit)?;
        }
        match self.given.reading.sheet.ended {
            Some(VisitEnd::SetAside) => self.set_aside(),
            Some(VisitEnd::Closed) => self.close(),
            None => Ok(()),
        }
    }

    /// Whether the sheet tells of a visit that day: that it is routine is what nothing said says, and one may be closed on a day on
    /// which none was made.
    fn tells_of_one(&mut self) -> Result<bool, StoreError> {
        let sheet = &self.given.reading.sheet;
        let aside = sheet.ended == Some(VisitEnd::SetAside);
        if self.visit.is_some() || !sheet.visit.is_empty() || aside {
            return Ok(true);
        }
        // That nobody is on the sheet of a call-out makes it none the less one.
        Ok(sheet.why == VisitWhy::CallOut && !self.desk.has_visit(self.farm, self.day.on)?)
    }

    /// Why it was made and what was said of it, each word once.
    fn describe(&mut self, visit: VisitId) -> Result<(), StoreError> {
        let sheet = &self.given.reading.sheet;
        let known =
            visits(self.desk.records(self.farm.0)?.to_vec(), self.farm).into_iter().find(|known| known.id == visit);
        let call_out = (sheet.why == VisitWhy::CallOut).then_some(VisitWord::CallOut);
        let is_new = |word: &VisitWord| match word {
            VisitWord::Routine | VisitWord::CallOut => known.as_ref().is_none_or(|known| !known.says(*word)),
            VisitWord::WholeHerd
            | VisitWord::Selected
            | VisitWord::CleanedBefore
            | VisitWord::CleanedAfter
            | VisitWord::GoneOn => true,
        };
        for word in call_out.into_iter().chain(sheet.visit.iter().copied()).filter(is_new) {
            let event = Event::VisitDescribed { visit, word };
            if !self.desk.holds(self.farm.0, self.day.on, &event)? {
                self.entered.told += 1;
                self.desk.press(self.day, vec![(self.farm.0, event)])?;
            }
        }
        Ok(())
    }

    fn set_aside(&mut self) -> Result<(), StoreError> {
        let what = "the visit to this farm on that day was closed before it could be set aside";
        let set_aside = self.desk.set_aside(self.farm, self.day)?;
        self.ended(set_aside, (what, "leave out set aside"));
        Ok(())
    }

    fn close(&mut self) -> Result<(), StoreError> {
        let what = "no visit to this farm was made that day, and none before it waits to be closed";
        let closed = self.desk.close(self.farm, self.day)?;
        self.entered.closed = closed.ok().filter(|on| *on < self.day.on);
        self.ended(closed.map(|_| ()), (what, "leave out closed, or enter the sheets of that visit before"));
        Ok(())
    }

    /// Takes in that the visit was set aside or closed, or why it cannot be.
    fn ended(&mut self, ended: Result<(), No>, (what, instead): (&str, &str)) {
        match ended {
            Ok(()) => self.entered.told += 1,
            Err(No::AlreadySo) => {}
            Err(No::NoVisit) => {
                let line = self.given.reading.visit.unwrap_or(self.given.farm_line);
                self.mistakes.push(mistake(self.given, line, what.to_owned(), instead.to_owned()));
            }
        }
    }

    fn told(&mut self, entry: usize, told: &Told, animal: AnimalId) -> Result<(), StoreError> {
        let on = self.day.on;
        let history = self.desk.history(animal, on)?;
        // What the word was about may have come off later that same day, so it is looked for as the day began, too.
        let before = on.pred_opt().map(|day| self.desk.history(animal, day)).transpose()?;
        let event = |history: &History| tell(told, animal, self.farm, Some(history), on);
        for known in [Some(&history), before.as_ref()].into_iter().flatten() {
            if let Ok(event) = event(known)
                && self.desk.holds(animal.0, on, &event)?
            {
                self.entered.held += 1;
                return Ok(());
            }
        }
        let event = event(&history).and_then(|event| can_be(&event, &history, on).map(|()| event));
        match event {
            Ok(Event::Renumbered { labels, .. }) if labels == history.labels => {
                self.entered.held += 1;
                Ok(())
            }
            Ok(event) => self.news(entry, (told, event), animal, &history),
            Err(snag) => {
                self.snags(entry, &[snag]);
                Ok(())
            }
        }
    }

    /// Writes what is new of an animal, where nobody else bears what she is called now; and says what is odd about it.
    fn news(
        &mut self,
        entry: usize,
        (told, event): (&Told, Event),
        animal: AnimalId,
        history: &History,
    ) -> Result<(), StoreError> {
        if let Told::Label { label, text, shared: false } = told
            && label.is_one_animals()
            && self.desk.is_borne(self.farm, text, animal)?
        {
            self.snags(entry, &[Snag { fact: 0, why: SnagWhy::Borne(*label, text.clone()) }]);
            return Ok(());
        }
        if let Event::Renumbered { labels, .. } = &event {
            for label in Label::ALL.iter().map(|label| label.of(labels)).filter(|label| !label.is_empty()) {
                self.desk.call(self.farm, label, animal);
            }
        }
        let line = self.line_of(entry);
        let odd = doubtful(&event, history, self.day.on).into_iter();
        self.entered.odd.extend(odd.map(|(value, what)| (line, Odd::Doubt(value, what))));
        self.entered.told += 1;
        self.desk.press(self.day, vec![(animal.0, event)]).map(|_| ())
    }

    fn snags(&mut self, entry: usize, snags: &[Snag]) {
        let explained = snags.iter().map(|snag| explain(&self.given.reading, &self.given.file, entry, snag));
        self.mistakes.extend(explained);
    }

    fn line_of_fact(&self, entry: usize, fact: usize) -> usize {
        let lines = self.given.reading.lines.get(entry);
        lines.and_then(|lines| lines.get(fact + 1)).copied().unwrap_or_else(|| self.line_of(entry))
    }

    fn line_of(&self, entry: usize) -> usize {
        self.given.reading.lines.get(entry).and_then(|lines| lines.first()).copied().unwrap_or(1)
    }
}

/// Puts what was written out into the book, in one piece.
pub fn take(store: &mut Store, records: &[Record], world: &mut World) -> Result<(), Fault> {
    let mut raws = Vec::with_capacity(records.len());
    for record in records {
        let raw = encode(record).map_err(|why| {
            Fault::failed(format!("a record cannot be written down: {why}"), "Nothing was entered; shorten the text.")
        })?;
        raws.push(Ok(raw));
    }
    let taken =
        store.take(&mut raws.into_iter()).map_err(|why| Fault::failed(why.to_string(), "Nothing was entered."))?;
    note(world, &taken.into_problems())
}

fn refused(mistakes: &[Mistake]) -> Fault {
    let what = match mistakes.len() {
        1 => "1 mistake; nothing was entered".to_owned(),
        several => format!("{several} mistakes; nothing was entered"),
    };
    let causes = mistakes.iter().map(ToString::to_string).collect();
    Fault::failed(what, "Correct these lines and enter the whole again.").because(causes)
}

/// Paper is of a day gone by, as it is on the screens.
fn to_come(given: &Given, today: NaiveDate) -> Mistake {
    let day = words::day(given.reading.sheet.on);
    let what = format!("{day} is still to come: today is {}", words::day(today));
    mistake(given, given.reading.day, what, "correct the day; where today is wrong, say it with --today".to_owned())
}

/// Who wrote it down is said on the sheet, or for all that do not say it.
fn by_whom(given: &Given, names: &BTreeSet<String>) -> Mistake {
    let what = format!("who records is not said, and several do: {}", listed(names));
    mistake(given, given.reading.day, what, format!("write by and the name below the day, or add {OPTION} NAME"))
}

fn mistake(given: &Given, line: usize, what: String, suggestion: String) -> Mistake {
    Mistake { file: given.file.clone(), line, column: 1, what, suggestion }
}

fn unknown_farm(given: &Given, near: Option<&str>) -> Mistake {
    let what = format!("the book knows of no farm {}", plain(&given.reading.sheet.farm));
    let suggestion = match near {
        Some(near) => format!("did you mean {}? a farm is begun with --new-farm", plain(near)),
        None => "begin it with --new-farm".to_owned(),
    };
    mistake(given, given.farm_line, what, suggestion)
}

fn name_of(file: &Path) -> String {
    if file == Path::new("-") { "input".to_owned() } else { safe(&file.display().to_string()) }
}

fn text_of(file: &Path, world: &mut World) -> Result<String, Fault> {
    let mut bytes = Vec::new();
    let read = if file == Path::new("-") {
        world.input.read_to_end(&mut bytes).map(|_| ())
    } else {
        super::place::read_file(file).map(|read| bytes = read)
    };
    read.map_err(|why| super::place::unread(&name_of(file), "a sheet", &why))?;
    if is_no_text(&bytes) {
        return Err(Fault::failed(format!("{}: {NO_TEXT}", name_of(file)), "Nothing was entered."));
    }
    String::from_utf8(bytes).map_err(|why| {
        let before = &why.as_bytes()[..why.utf8_error().valid_up_to()];
        let line = 1 + before.iter().filter(|byte| **byte == b'\n').count();
        let what = format!("{}:{line}: this is no UTF-8 text", name_of(file));
        Fault::failed(what, "Save the sheet as UTF-8 and enter it again.")
    })
}

/// The sheets of one text: each begins where a farm is named again. Lines keep their numbers in the file.
pub fn sheets_in(text: &str, file: &str) -> Vec<Result<Given, Vec<Mistake>>> {
    let mut pieces: Vec<(usize, String)> = Vec::new();
    for (index, line) in text.split('\n').enumerate() {
        let first = line.trim_start_matches('\u{feff}').split_whitespace().next().unwrap_or_default();
        let farm = first.eq_ignore_ascii_case("farm");
        let named = pieces.last().is_some_and(|(farm_line, _)| *farm_line > 0);
        match pieces.last_mut() {
            Some((farm_line, piece)) if !(farm && named) => {
                if farm {
                    *farm_line = index + 1;
                }
                piece.push('\n');
                piece.push_str(line);
            }
            Some(_) | None => {
                pieces.push((if farm { index + 1 } else { 0 }, format!("{}{line}", "\n".repeat(index))));
            }
        }
    }
    pieces
        .into_iter()
        .map(|(farm_line, piece)| read(&piece, file).map(|reading| Given { file: file.to_owned(), farm_line, reading }))
        .collect()
}
