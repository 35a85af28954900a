//! Cases: one trouble over visits, with its length, its treatment and its end.
//!
//! A course is cut into cases where nobody looked for longer than the rule's window and it was then found anew: whether it
//! had healed in between, nobody knows. The window is a rule, so this is done when a history is read and never stored.

use super::anatomy::Place;
use super::finding::{Degree, Finding};
use super::history::course::{Carried, Course, Said, State, Step};
use super::history::{History, Turn, Verdict};
use super::ids::{CaseId, TurnId};
use super::treatment::{Outcome, Put, Trim};
use super::vocabulary::vocabulary;
use chrono::NaiveDate;

/// One trouble over visits.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Case {
    /// Its name: its first finding.
    pub id: CaseId,
    /// Where.
    pub place: Place,
    /// The newest, most exact word on what it is.
    pub what: Finding,
    /// Newest grade or stage.
    pub degree: Degree,
    /// Infected with digital dermatitis.
    pub infected: bool,
    /// Deep or necrotic.
    pub deep: bool,
    /// Own words.
    pub words: String,
    /// Day of the first finding.
    pub since: NaiveDate,
    /// Day it was last looked at.
    pub last: NaiveDate,
    /// Its findings and answers, oldest first.
    pub steps: Vec<Step>,
    /// Days that nobody had looked before it was found anew, where another case was at this place before and got no end.
    pub unseen: Option<i64>,
    /// The finding that began the next case at this place without an answer to this one.
    pub anew: Option<CaseId>,
}

/// What became of a case.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Fate {
    /// Answered healed, or stage M0, on this day.
    Healed(NaiveDate),
    /// Nobody looked for longer than the window.
    Lost,
    /// Under way.
    Open,
}

vocabulary! {
    /// How a case is now, against how an earlier turn left it.
    Change, "change" {
        /// Worse.
        Worse = 1 "worse",
        /// Not there then.
        New = 2 "new",
        /// Nobody has looked since.
        NotSeen = 3 "not-seen",
        /// The same.
        Same = 4 "same",
        /// Better.
        Better = 5 "better",
        /// Healed since.
        Healed = 6 "healed",
    }
}

/// A case against an earlier turn.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Changed {
    /// The case as it is now.
    pub case: Case,
    /// How that turn left it; none where it was not there yet.
    pub then: Option<State>,
    /// What changed.
    pub change: Change,
}

/// What was done about a case.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Done {
    /// Trimmed so.
    Trimmed(Trim),
    /// Put on its foot.
    Put(Put),
}

impl History {
    /// Her cases, oldest first, where a place may go unseen for so many days.
    pub fn cases(&self, window: u16) -> Vec<Case> {
        let mut cases: Vec<Case> = self.courses.iter().flat_map(|course| cut(course, window)).collect();
        cases.sort_by_key(|case| case.since);
        cases
    }

    /// The newest case of the course that has a finding of this name.
    pub fn case_now(&self, id: CaseId, window: u16) -> Option<Case> {
        cut(self.course(id)?, window).pop()
    }

    /// What changed from the state in which a turn left her to now: one line a case that was there then or is there now, the
    /// worst news first.
    pub fn changes(&self, since: TurnId, window: u16) -> Vec<Changed> {
        let then = self.upto(since);
        let cases = self.cases(window).into_iter();
        let mut changes: Vec<Changed> = cases.filter_map(|case| changed(case, |turn| then.contains(&turn))).collect();
        changes.sort_by_key(|one| one.change);
        changes
    }

    /// What was there when a turn had ended, by its own look or since before, with the state it was left in.
    pub fn left_by(&self, turn: TurnId, window: u16) -> Vec<(Case, State)> {
        let upto = self.upto(turn);
        let there = |case: Case| state_at(&case, |turn| upto.contains(&turn)).map(|state| (case, state));
        self.cases(window).into_iter().filter_map(there).collect()
    }

    /// The turns up to one, and with it; all where it is not hers.
    fn upto(&self, turn: TurnId) -> Vec<TurnId> {
        let end = self.turns.iter().position(|known| known.id == turn).map_or(self.turns.len(), |at| at + 1);
        self.turns[..end].iter().map(|turn| turn.id).collect()
    }

    /// What was done about a case, oldest first: in the turns that looked at it, at its place or for its claw.
    pub fn done_about(&self, case: &Case) -> Vec<(NaiveDate, Done)> {
        let turns = self.turns.iter().filter(|turn| case.steps.iter().any(|step| step.turn == turn.id));
        turns.flat_map(|turn| done_in(turn, case.place)).collect()
    }
}

/// Cuts a course where it was found anew after more days unseen than the window.
fn cut(course: &Course, window: u16) -> Vec<Case> {
    let mut parts: Vec<Vec<Step>> = vec![Vec::new()];
    let mut last: Option<NaiveDate> = None;
    for step in &course.steps {
        let unseen = last.map_or(0, |last| (step.on - last).num_days());
        if step.is_finding() && unseen > i64::from(window) {
            parts.push(Vec::new());
        }
        if step.looked() {
            last = last.max(Some(step.on));
        }
        parts.last_mut().expect("one part at least").push(*step);
    }
    let mut cases: Vec<Case> = parts.into_iter().map(|steps| case(course, steps)).collect();
    for at in 1..cases.len() {
        cases[at - 1].anew = Some(cases[at].id);
        cases[at].unseen = Some((cases[at].since - cases[at - 1].last).num_days());
    }
    cases
}

fn case(course: &Course, steps: Vec<Step>) -> Case {
    let state = Carried::of(&steps).expect("a case begins with a finding").newest();
    let since = steps[0].on;
    Case {
        id: CaseId(steps[0].id),
        place: course.place,
        what: state.what,
        degree: state.degree,
        infected: state.infected,
        deep: state.deep,
        words: course.words.clone(),
        since,
        last: steps.iter().filter(|step| step.looked()).map(|step| step.on).max().unwrap_or(since),
        steps,
        unseen: None,
        anew: None,
    }
}

/// The state in which some turns left a case; none where it had not begun or had healed.
fn state_at(case: &Case, in_them: impl Fn(TurnId) -> bool) -> Option<State> {
    let upto: Vec<Step> = case.steps.iter().filter(|step| in_them(step.turn)).copied().collect();
    let there = upto.iter().rfind(|step| step.looked()).is_some_and(|step| !step.heals());
    Carried::of(&upto).map(Carried::newest).filter(|_| there)
}

fn changed(case: Case, before: impl Fn(TurnId) -> bool) -> Option<Changed> {
    let then = state_at(&case, &before);
    let look = case.steps.iter().rfind(|step| step.looked() && !before(step.turn));
    let change = match (then, case.healed(), look) {
        (None, Some(_), _) | (None, None, None) => return None,
        (None, None, Some(_)) => Change::New,
        (Some(_), Some(_), _) => Change::Healed,
        // The case that took its place tells what is there now.
        (Some(_), None, None) if case.anew.is_some() => return None,
        (Some(_), None, None) => Change::NotSeen,
        (Some(then), None, Some(look)) => compared(then.degree, case.degree, look),
    };
    Some(Changed { case, then, change })
}

/// By the word of the last look where it has one, else by grade or stage.
fn compared(then: Degree, now: Degree, look: &Step) -> Change {
    match look.said {
        Said::Answered(Verdict::Outcome(Outcome::Better)) => Change::Better,
        Said::Answered(Verdict::Outcome(Outcome::Worse)) => Change::Worse,
        Said::Answered(Verdict::Outcome(Outcome::Same | Outcome::Healed | Outcome::NotLooked)) => Change::Same,
        Said::Answered(Verdict::Stage(_)) | Said::Found(_) => match (then.rank(), now.rank()) {
            (Some(then), Some(now)) if now > then => Change::Worse,
            (Some(then), Some(now)) if now < then => Change::Better,
            // Found again, and nobody said how bad it was then or is now.
            _ => Change::Same,
        },
    }
}

fn done_in(turn: &Turn, place: Place) -> Vec<(NaiveDate, Done)> {
    let trims = turn.trims.iter().filter(|(_, at, how)| *how != Trim::Routine && of_claw(*at, place));
    let puts = turn.puts.iter().filter(|view| match &view.put {
        // A block stands on the partner, for the sake of this claw.
        Put::Block { .. } => place.side().is_some() && view.put.foot() == place.foot(),
        Put::Wrap { .. } | Put::Dressing { .. } => view.put.foot() == place.foot(),
    });
    let trims = trims.map(|(_, _, how)| Done::Trimmed(*how));
    let puts = puts.map(|view| Done::Put(view.put.clone()));
    trims.chain(puts).map(|done| (turn.on, done)).collect()
}

fn of_claw(at: Place, place: Place) -> bool {
    at.foot() == place.foot() && at.side() == place.side()
}

impl Case {
    /// The day it was answered healed, if the newest look said so.
    pub fn healed(&self) -> Option<NaiveDate> {
        self.steps.iter().rfind(|step| step.looked()).filter(|step| step.heals()).map(|step| step.on)
    }

    /// What became of it by a day.
    pub fn fate(&self, window: u16, today: NaiveDate) -> Fate {
        match self.healed() {
            Some(day) => Fate::Healed(day),
            None if self.anew.is_some() || (today - self.last).num_days() > i64::from(window) => Fate::Lost,
            None => Fate::Open,
        }
    }

    /// The worst grade or stage that was ever told of it.
    pub fn worst(&self) -> Degree {
        let told = self.steps.iter().map(|step| match step.said {
            Said::Found(told) => told.degree,
            Said::Answered(Verdict::Stage(stage)) => Degree::Stage(stage),
            Said::Answered(Verdict::Outcome(_)) => Degree::NotGiven,
        });
        told.max_by_key(|degree| degree.rank()).unwrap_or(Degree::NotGiven)
    }

    /// Whether no answer has ended it and no later case stands in its place.
    pub fn is_open(&self) -> bool {
        self.healed().is_none() && self.anew.is_none()
    }

    /// The first look after the one that found it, and what it said.
    pub fn first_answer(&self) -> Option<&Step> {
        self.steps.iter().find(|step| step.looked() && step.turn != self.steps[0].turn)
    }
}
