//! A whole sheet: the head (farm, day, who), then turns and what was told outside them.

use super::Mistake;
use super::day::{self, Near};
use super::mistake::{did_you_mean, safe};
use super::reader::{Reader, plain};
use super::tokens::{Token, cut};
use super::words::{all, printed, shown};
use super::{Reading, fact, place, told};
use crate::domain::anatomy::Foot;
use crate::domain::event::{Gap, OpenGap, PauseWhy};
use crate::domain::herd::{VisitWhy, VisitWord};
use crate::domain::sheet::{End, Fact, Line, Sheet, SheetTurn, VisitEnd};
use crate::domain::vocabulary::Vocabulary;
use chrono::NaiveDate;

/// Words of the head of a sheet.
const HEAD: [&str; 4] = ["farm", "day", "by", "visit"];

/// A line with words on it.
struct Words {
    number: usize,
    tokens: Vec<Token>,
}

impl Words {
    /// The head word it starts with, if it does.
    fn head(&self) -> Option<&'static str> {
        let first = self.tokens.first().filter(|token| !token.quoted)?;
        HEAD.into_iter().find(|word| word.eq_ignore_ascii_case(&first.text))
    }
}

/// Reads a sheet; see [`super::read`].
pub(super) fn read(text: &str, file: &str) -> Result<Reading, Vec<Mistake>> {
    let file = shown(&[file]);
    let (lines, mut mistakes) = cut_lines(text, &file);
    let (head, body): (Vec<&Words>, Vec<&Words>) = lines.iter().partition(|line| line.head().is_some());
    let head = read_head(&head, &file, &mut mistakes);
    let mut page = Page::new(&file, head.day.unwrap_or_default());
    for line in body {
        page.line(line);
    }
    page.close();
    mistakes.extend(page.mistakes);
    mistakes.sort_by_key(|mistake| (mistake.line, mistake.column));
    match (head.farm, head.day) {
        (Some(farm), Some(on)) if mistakes.is_empty() => {
            let (by, lines) = (head.by.unwrap_or_default(), page.entries);
            let (why, visit, ended) = (head.why, head.visit, head.ended);
            let sheet = Sheet { farm, on, by, why, visit, ended, lines };
            Ok(Reading { sheet, lines: page.places, day: head.lines.day, by: head.lines.by, visit: head.lines.visit })
        }
        _ => Err(mistakes),
    }
}

fn cut_lines(text: &str, file: &str) -> (Vec<Words>, Vec<Mistake>) {
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    let (mut lines, mut mistakes) = (Vec::new(), Vec::new());
    for (index, line) in text.split('\n').enumerate() {
        let number = index + 1;
        match cut(line.strip_suffix('\r').unwrap_or(line)) {
            Ok(tokens) if tokens.is_empty() => {}
            Ok(tokens) => lines.push(Words { number, tokens }),
            Err((column, what, suggestion)) => mistakes.push(Mistake {
                file: file.to_string(),
                line: number,
                column,
                what,
                suggestion: suggestion.to_string(),
            }),
        }
    }
    (lines, mistakes)
}

struct Head {
    farm: Option<String>,
    day: Option<NaiveDate>,
    by: Option<String>,
    why: VisitWhy,
    visit: Vec<VisitWord>,
    ended: Option<VisitEnd>,
    lines: HeadLines,
}

/// On which lines the day, who recorded and the visit stand.
struct HeadLines {
    day: usize,
    by: Option<usize>,
    visit: Option<usize>,
}

/// Reads the head wherever it stands, so that days without a year can be told by the sheet's own.
fn read_head(lines: &[&Words], file: &str, mistakes: &mut Vec<Mistake>) -> Head {
    let mut head = Head {
        farm: None,
        day: None,
        by: None,
        why: VisitWhy::Routine,
        visit: Vec::new(),
        ended: None,
        lines: HeadLines { day: 1, by: None, visit: None },
    };
    let mut told = Vec::new();
    for line in lines {
        let mut reader = Reader::new(file, line.number, &line.tokens, NaiveDate::default());
        let word = line.head().unwrap_or_default();
        reader.back_to(1);
        if told.contains(&word) {
            mistakes.push(reader.stumble_at(
                0,
                format!("{word} is told twice"),
                "begin a new file for another farm or day",
            ));
            continue;
        }
        told.push(word);
        match word {
            "day" => head.lines.day = line.number,
            "by" => head.lines.by = Some(line.number),
            "visit" => head.lines.visit = Some(line.number),
            _ => {}
        }
        if let Err(mistake) = head_line(&mut reader, word, &mut head) {
            mistakes.push(mistake);
        }
    }
    for (word, example) in [("farm", "farm Brackenhope"), ("day", "day 14 May 2026")] {
        if !told.contains(&word) {
            let reader = Reader::new(file, 1, &[], NaiveDate::default());
            mistakes
                .push(reader.stumble(format!("the {word} is missing"), format!("begin with a line like {example}")));
        }
    }
    head
}

fn head_line(reader: &mut Reader, word: &str, head: &mut Head) -> Result<(), Mistake> {
    match word {
        "farm" => head.farm = Some(name(reader, "the farm's name")?),
        "by" => head.by = Some(name(reader, "the name")?),
        "visit" => return visit(reader, head),
        _ => head.day = Some(whole_day(reader)?),
    }
    reader.finish(&[])
}

/// What is told of the visit: at least one word, and none that another takes back.
fn visit(reader: &mut Reader, head: &mut Head) -> Result<(), Mistake> {
    let mut told: Vec<VisitWord> = Vec::new();
    loop {
        match visit_end(reader, head.ended)? {
            Some(end) => head.ended = Some(end),
            None => told.push(visit_word(reader, &told)?),
        }
        if reader.peek().is_none() {
            break;
        }
    }
    head.why = if told.contains(&VisitWord::CallOut) { VisitWhy::CallOut } else { VisitWhy::Routine };
    told.retain(|word| *word != VisitWord::CallOut);
    told.sort();
    head.visit = told;
    Ok(())
}

/// How the visit ended, if that comes next.
fn visit_end(reader: &mut Reader, told: Option<VisitEnd>) -> Result<Option<VisitEnd>, Mistake> {
    let at = reader.at();
    let end = reader.member::<VisitEnd>();
    match (told, end) {
        (Some(before), Some(end)) if before == end => {
            Err(reader.stumble_at(at, format!("{} is told twice", printed(end)), "say it once"))
        }
        (Some(before), Some(end)) => {
            Err(reader.stumble_at(at, format!("{} after {}", printed(end), printed(before)), "say the last of them"))
        }
        (_, end) => Ok(end),
    }
}

/// A word of the visit that goes with those told before it.
fn visit_word(reader: &mut Reader, told: &[VisitWord]) -> Result<VisitWord, Mistake> {
    let at = reader.at();
    let Some(word) = reader.member::<VisitWord>() else {
        let words: Vec<String> = all::<VisitWord>().into_iter().chain(all::<VisitEnd>()).collect();
        return Err(reader.unknown(VisitWord::NAME, &words));
    };
    match told.iter().find(|other| **other == word || other.excludes(word)) {
        Some(other) => {
            let what = format!("{} after {}", printed(word), printed(*other));
            Err(reader.stumble_at(at, what, "say one of them, once"))
        }
        None => Ok(word),
    }
}

fn name(reader: &mut Reader, what: &str) -> Result<String, Mistake> {
    let at = reader.at();
    let name = reader.rest(what)?;
    if name.is_empty() { Err(reader.stumble_at(at, format!("{what} is empty"), "write it")) } else { Ok(name) }
}

/// The sheet's own day needs its year: there is nothing to tell it by.
fn whole_day(reader: &mut Reader) -> Result<NaiveDate, Mistake> {
    let at = reader.at();
    let day = day::read(reader, Near::Ahead)?;
    let year = day.format("%Y").to_string();
    if reader.said(at, &year) {
        Ok(day)
    } else {
        Err(reader.stumble_at(at, "the sheet's day needs its year", "write it like 14 May 2026"))
    }
}

/// The turn being read.
struct Turn {
    turn: SheetTurn,
    lines: Vec<usize>,
    nothing_on: Vec<(Foot, usize)>,
    ended: bool,
}

/// Entries read so far, with the lines they stand on.
struct Page<'a> {
    file: &'a str,
    today: NaiveDate,
    entries: Vec<Line>,
    places: Vec<Vec<usize>>,
    turn: Option<Turn>,
    mistakes: Vec<Mistake>,
}

impl<'a> Page<'a> {
    fn new(file: &'a str, today: NaiveDate) -> Page<'a> {
        Page { file, today, entries: Vec::new(), places: Vec::new(), turn: None, mistakes: Vec::new() }
    }

    fn line(&mut self, line: &Words) {
        let mut reader = Reader::new(self.file, line.number, &line.tokens, self.today);
        let outcome = self.read(&mut reader, line.number);
        self.mistakes.append(&mut reader.mistakes);
        self.mistakes.extend(outcome.err());
    }

    fn read(&mut self, reader: &mut Reader, number: usize) -> Result<(), Mistake> {
        if reader.take("animal") {
            self.close();
            // A turn begins even where the number cannot be read, so that its lines are not all called homeless.
            let animal = reader.text("the animal's number");
            self.begin(animal.clone().unwrap_or_default(), number);
            return animal.and_then(|_| reader.finish(&[]));
        }
        if reader.take("told") {
            self.close();
            let entry = told::read(reader)?;
            self.entries.push(entry);
            self.places.push(vec![number]);
            return Ok(());
        }
        let Some(turn) = &mut self.turn else {
            return Err(no_animal(reader));
        };
        if turn.ended {
            return Err(reader.stumble("this animal is already closed", "begin the next with animal NUMBER"));
        }
        if let Some(end) = end(reader)? {
            turn.turn.end = end;
            turn.ended = true;
            return Ok(());
        }
        let seen: Vec<Foot> = turn.turn.facts.iter().filter_map(foot_of).collect();
        let told = fact::read(reader, &seen)?;
        turn.lines.extend(told.facts.iter().map(|_| number));
        turn.turn.facts.extend(told.facts);
        turn.nothing_on.extend(told.nothing_on.into_iter().map(|foot| (foot, number)));
        Ok(())
    }

    fn begin(&mut self, animal: String, number: usize) {
        let turn = SheetTurn { animal, facts: Vec::new(), end: End::Open };
        self.turn = Some(Turn { turn, lines: vec![number], nothing_on: Vec::new(), ended: false });
    }

    /// Closes the turn being read, and checks what only the whole of it can show.
    fn close(&mut self) {
        let Some(turn) = self.turn.take() else { return };
        for (foot, line) in &turn.nothing_on {
            if let Some(at) = turn.turn.facts.iter().position(|fact| fact.shows_trouble_on(*foot)) {
                let reader = Reader::new(self.file, *line, &[], self.today);
                self.mistakes.push(reader.stumble(
                    format!("\"nothing found\", and line {} says there is something on that foot", turn.lines[at + 1]),
                    "write lifted, trimmed, all seen instead",
                ));
            }
        }
        self.entries.push(Line::Turn(turn.turn));
        self.places.push(turn.lines);
    }
}

fn no_animal(reader: &Reader) -> Mistake {
    let words = plain(&["farm", "day", "by", "visit", "animal", "told"]);
    match reader.peek() {
        Some(token) => {
            let said = format!("{} without an animal", safe(&token.text));
            let near = did_you_mean(&token.text, &words);
            let instead = if near.starts_with("did") { near } else { "write animal NUMBER above it".to_string() };
            reader.stumble(said, instead)
        }
        None => reader.stumble("an empty line", "take it out"),
    }
}

/// The foot a fact shows to have been in hand, for "rest".
fn foot_of(fact: &Fact) -> Option<Foot> {
    fact.place().and_then(|place| place.foot())
}

fn end(reader: &mut Reader) -> Result<Option<End>, Mistake> {
    if reader.take("signed") {
        let mut open = Vec::new();
        while reader.take("open") {
            let gap = reader.need::<Gap>()?;
            open.push(OpenGap { gap, place: place::read(reader)? });
        }
        reader.finish(&plain(&["open"]))?;
        return Ok(Some(End::Signed(open)));
    }
    let end = if let Some(why) = reader.member::<PauseWhy>() {
        End::Paused(Some(why))
    } else if reader.take("paused") {
        End::Paused(None)
    } else {
        return Ok(None);
    };
    reader.finish(&[])?;
    Ok(Some(end))
}
