//! The list of a day: who should come through and why, to be printed and ticked off, or written upon.

use crate::domain::anatomy::Place;
use crate::domain::day_list::{Came, DayList, Line, Reason, Why};
use crate::domain::farm_call::FarmCall;
use crate::domain::finding::Finding;
use crate::domain::follow_up::review::Review;
use crate::domain::follow_up::rules::Rules;
use crate::domain::follow_up::{Due, Urgency};
use crate::domain::history::open::OpenItem;
use crate::domain::hours;
use crate::domain::ids::FarmId;
use crate::domain::practice::Region;
use crate::domain::record::Moment;
use crate::domain::sheet::FEET;
use crate::domain::sheet::of::called as in_a_sheet;
use crate::domain::treatment::Put;
use crate::domain::vocabulary::Vocabulary;
use crate::report::day_line;
use crate::report::due;
use crate::report::farm;
use crate::report::safe::{safe, wrapped};
use crate::report::turn;
use crate::report::words::{self, Words};
use chrono::NaiveDate;

/// Columns of a printed line.
const COLUMNS: usize = 80;
/// Where what is said of an animal begins.
const INDENT: usize = 8;

/// How it is settled who is still here.
const SETTLED: &str = "crushbook gone NUMBER..., or gone --missing-from a list of the herd, says who is not";

/// A list, and what it is read with.
pub struct Page<'l> {
    /// The list.
    pub list: &'l DayList,
    /// The farm.
    pub of: FarmId,
    /// Its name.
    pub farm: &'l str,
    /// What the farm called about itself since the last visit, with the day.
    pub calls: &'l [FarmCall],
    /// Standing instructions of the farm whose review day has come.
    pub again: &'l [Review<'l>],
    /// The rules in force.
    pub rules: &'l Rules,
    /// The day.
    pub today: NaiveDate,
    /// The moment it is read at: of a lame animal hours count.
    pub at: Moment,
    /// The words of the region.
    pub words: Words,
}

impl Page<'_> {
    /// The list as text, with a box to tick for each animal.
    pub fn text(&self) -> String {
        let mut lines = vec![self.heading()];
        lines.extend(self.calls.iter().flat_map(|call| indented("  ", &farm_call(call))));
        lines.extend(self.again.iter().flat_map(|review| indented("  ", &self.review(review))));
        for reason in Reason::ALL {
            let first = |line: &&Line| line.why.first().is_some_and(|why| why.reason() == *reason);
            let mut some = self.list.expected.iter().filter(first).peekable();
            if some.peek().is_some() {
                lines.extend([String::new(), self.words.fill(heading(*reason))]);
                lines.extend(some.flat_map(|line| self.animal(line)));
            }
        }
        if !self.list.unasked.is_empty() {
            lines.extend([String::new(), "Came unasked".to_owned()]);
            lines.extend(self.list.unasked.iter().flat_map(|line| self.animal(line)));
        }
        if !self.list.spared.is_empty() {
            lines.extend([String::new(), "No routine trim now: soon due to calve".to_owned()]);
            lines.extend(self.list.spared.iter().flat_map(|spared| {
                let day = words::weekday(spared.due_to_calve);
                indented("      ", &format!("{}, due to calve {day}", due::called(&spared.labels)))
            }));
        }
        if let Some(asked) = day_line::asked(self.list, self.rules.of(self.of)) {
            let who: Vec<String> = self.list.still_here.iter().map(|unseen| due::called(&unseen.labels)).collect();
            lines.extend([String::new(), asked]);
            lines.extend(indented("", &who.join(", ")));
            lines.extend(indented("", SETTLED));
        }
        lines.iter().map(|line| format!("{}\n", line.trim_end())).collect()
    }

    /// A standing instruction that is to be looked at again with the farm.
    pub fn review(&self, review: &Review<'_>) -> String {
        let whose = farm::scope(self.words, review.of.scope);
        let since = words::weekday(review.due.day);
        let what = farm::what(review.of, self.rules.of(review.farm));
        format!("to be reviewed with the farm since {since}: {whose}: {what}")
    }

    fn heading(&self) -> String {
        let (expected, done) = self.list.done();
        let day = format!("{} {}", words::weekday(self.today), self.today.format("%Y"));
        let unasked = match self.list.unasked.len() {
            0 => String::new(),
            count => format!(", {count} came unasked"),
        };
        format!("{}, {day}: {expected} expected, {done} done{unasked}", safe(self.farm))
    }

    /// One animal: a box, what she is called and why she should come; then what else there is to say.
    fn animal(&self, line: &Line) -> Vec<String> {
        let (first, others) = self.whys(line);
        let head = format!("{}  {first}", due::called(&line.labels));
        let mut lines = indented(&format!("  {} ", tick(line.came)), &head);
        lines.extend(others.iter().flat_map(|why| indented("", &format!("also {why}"))));
        lines.extend(line.missed.map(|on| format!("{:INDENT$}did not come on {}", "", words::weekday(on))));
        lines.extend(self.last(line).into_iter().flat_map(|last| indented("", &last)));
        lines
    }

    /// Why she should come: the most pressing, and the others.
    fn whys(&self, line: &Line) -> (String, Vec<String>) {
        let mut all = line.why.iter().map(|why| self.why(line, why));
        (all.next().unwrap_or_default(), all.collect())
    }

    /// One reason in words.
    pub fn why(&self, line: &Line, why: &Why) -> String {
        match why {
            Why::Open(item, due) => {
                let place = item.place();
                let foot = place.foot().map_or(String::new(), |foot| format!("{} ", words::foot_in_full(foot)));
                let reason = due::reason(&line.open, item, (self.rules, self.today), self.words);
                let when = due.map_or(String::new(), |due| format!("; {}", self.when(line, item, due)));
                safe(&format!("{foot}{reason}{when}"))
            }
            Why::Called { on, words: said, urgent } => {
                let urgent = if *urgent { ", urgent" } else { "" };
                safe(&format!("called {}{urgent}: {said}", words::weekday(*on)))
            }
            Why::HalfDone(on) => {
                format!("not finished on {}: got away, set aside or not signed off", words::weekday(*on))
            }
            Why::DriedOff(on) => format!("dried off {}", words::weekday(*on)),
            Why::InMilk(days) => format!("{days} days in milk, no trim since she calved"),
            Why::Unseen(Some(on)) => format!("last seen {}", words::day(*on)),
            Why::Unseen(None) => "never seen".to_owned(),
            Why::HindsUnseen(Some(on)) => self.words.fill(&format!("both {{hind}} feet last up {}", words::day(*on))),
            Why::HindsUnseen(None) => self.words.fill("both {hind} feet never up"),
            Why::Calving(days) => format!("due to calve in {days} days"),
        }
    }

    /// When it is due; of a lame animal the hours that are left.
    fn when(&self, line: &Line, item: &OpenItem, due: Due) -> String {
        let hours = hours::left(item, due, line.scored, (self.today, self.at)).map(day_line::hours);
        match (due.urgency, hours, (due.day - self.today).num_days()) {
            (Urgency::Coming | Urgency::Due, Some(hours), _) => hours,
            (Urgency::Coming, None, _) => format!("not before {}", words::weekday(due.day)),
            (Urgency::Due, None, 0) => "due today".to_owned(),
            (urgency, _, _) => format!("{} since {}", words::urgency(urgency), words::weekday(due.day)),
        }
    }

    /// What was found and done last time, in one sentence.
    fn last(&self, line: &Line) -> Option<String> {
        let last = line.last.as_ref()?;
        let said: Vec<String> = turn::told(last, self.words).iter().map(|line| line.trim_end().to_owned()).collect();
        let nothing = if last.is_look() { "nothing found" } else { "no foot up" };
        let said = if said.is_empty() { nothing.to_owned() } else { said.join("; ") };
        Some(format!("last time {}: {said}", words::weekday(last.on)))
    }

    /// Sheets to write upon: one for each that was expected and has not come, and so many with nothing on them. Old marks and
    /// what was left on her stand there with the answers to choose from.
    pub fn sheets(&self, blank: usize) -> String {
        let day = self.today.format("%-d %b %Y");
        let mut lines = vec![format!("farm {}", safe(self.farm)), format!("day {day}"), format!("by {RULE}")];
        lines.push(format!("visit {RULE}"));
        lines.extend(commented(OF_THE_VISIT));
        lines.extend(self.again.iter().flat_map(|review| self.goes_on(review)));
        for line in self.list.who(None) {
            lines.extend([String::new(), format!("animal {}", safe(&in_a_sheet(&line.labels)))]);
            let comments = line.why.iter().map(|why| self.why(line, why));
            lines.extend(comments.flat_map(|why| commented(&why)));
            lines.extend(line.open.items.iter().filter_map(|item| self.asked(item)).flatten());
            lines.extend(self.feet());
        }
        for _ in 0..blank {
            lines.extend([String::new(), format!("animal {RULE}")]);
            lines.extend(self.feet());
        }
        lines.iter().map(|line| format!("{}\n", line.trim_end())).collect()
    }

    /// An instruction that is to be looked at again, and the line that says what came of it.
    fn goes_on(&self, review: &Review<'_>) -> Vec<String> {
        let scope = review.of.scope.word().replace('-', " ");
        // By its day it is told from others for the same feet.
        let since = words::day(review.of.since);
        let line = [String::new(), format!("told instruction {scope} since {since} {RULE}")];
        let answers = ["goes on \"why\" review DAY; or ended \"why\"".to_owned(), self.review(review)];
        line.into_iter().chain(answers.iter().flat_map(|text| commented(text))).collect()
    }

    fn feet(&self) -> impl Iterator<Item = String> {
        let feet = FEET.map(|foot| format!("  {} {RULE}", PLAIN.foot(foot)));
        feet.into_iter().chain(["  signed".to_owned()])
    }

    /// The line of a sheet that settles an open item, and the words to choose from.
    fn asked(&self, item: &OpenItem) -> Option<Vec<String>> {
        let place = PLAIN.place(item.place());
        // A sheet names skin by its word or its number, and not by both.
        let place = match (item.place(), place.rsplit_once(' ')) {
            (Place::Skin(_, _), Some((words, _))) => words,
            _ => &place,
        };
        let answer = |what: &str, of: &str| {
            let choices = wrapped(of, COLUMNS - 6).into_iter().map(|line| format!("    # {line}"));
            Some(std::iter::once(format!("  {place} {what} {RULE}")).chain(choices).collect())
        };
        match item {
            OpenItem::On { what: Put::Wrap { .. }, .. } => answer(
                "wrap",
                "off bare, off ring, already off, left on, replaced, not found; then skin sound, raw, cut in",
            ),
            OpenItem::On { what: Put::Block { .. }, .. } => {
                answer("block", "taken off, fell off, left sound, left worn, replaced, not found")
            }
            OpenItem::Recheck { told, .. } => {
                let what = told.within(self.rules.window(None)).what;
                let is_dermatitis = what == Finding::DD;
                let answers =
                    if is_dermatitis { "now M0 M1 M2 M3 M4 M4.1" } else { "healed, better, same, worse, not looked" };
                answer(what.word(), answers)
            }
            OpenItem::On { what: Put::Dressing { .. }, .. }
            | OpenItem::LookSoon { .. }
            | OpenItem::SetByHand { .. }
            | OpenItem::Lame { .. }
            | OpenItem::Withheld { .. }
            | OpenItem::Vet { .. } => None,
        }
    }
}

/// Sheets are written in plain words everywhere.
const PLAIN: Words = Words(Region::Plain);
/// What can be told of the visit.
const OF_THE_VISIT: &str = "call out, whole herd, selected, cleaned before or after, gone on, set aside, closed";
/// A line to write on.
const RULE: &str = "______________________________";

fn commented(text: &str) -> Vec<String> {
    wrapped(text, COLUMNS - 4).into_iter().map(|line| format!("  # {line}")).collect()
}

/// A text behind its first letters, and the rest of it below, further in.
fn indented(first: &str, text: &str) -> Vec<String> {
    let lines = wrapped(text, COLUMNS - INDENT);
    let begin = |at: usize| if at == 0 && !first.is_empty() { first.to_owned() } else { " ".repeat(INDENT) };
    lines.into_iter().enumerate().map(|(at, line)| format!("{}{line}", begin(at))).collect()
}

/// The box: ticked once she is done, a stroke while she is set aside or in the crush, or was let go with no foot up.
fn tick(came: Option<Came>) -> &'static str {
    match came {
        None => "[ ]",
        Some(Came::InTheCrush | Came::SetAside | Came::NoFootUp) => "[-]",
        Some(Came::Done) => "[x]",
    }
}

/// The heading of a kind of reason, a term that regions say differently in braces.
fn heading(reason: Reason) -> &'static str {
    match reason {
        Reason::Urgent => "Urgent now",
        Reason::LeftOn => "A {wrap} or block is on her",
        Reason::LookAgain => "To be looked at again",
        Reason::Called => "The farm called",
        Reason::Lame => "Lame by score",
        Reason::HalfDone => "Not finished last time",
        Reason::DriedOff => "Dried off: routine",
        Reason::InMilk => "In milk: routine",
        Reason::Unseen => "Not seen for long",
        Reason::Calving => "Before calving: routine",
    }
}

/// What the farm called about itself, and when.
pub fn farm_call(call: &FarmCall) -> String {
    let urgent = if call.urgent { ", urgent" } else { "" };
    safe(&format!("the farm called {}{urgent}: {}", words::weekday(call.on), call.words))
}
