//! A course: findings of one kind at one place and their answers, until one says that it has healed. Facts only.
//!
//! How long a place may go unseen before the next finding there is another trouble is a rule, and rules change. So the
//! fold cuts a course nowhere but at healed; `domain::case` cuts it into cases when it is read.

use super::Verdict;
use crate::domain::anatomy::Place;
use crate::domain::finding::{Degree, Finding, Stage};
use crate::domain::ids::{CaseId, RecordId, TurnId};
use chrono::NaiveDate;

/// Findings of one kind at one place and their answers.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Course {
    /// Its name: its first finding.
    pub id: CaseId,
    /// Where.
    pub place: Place,
    /// Own words.
    pub words: String,
    /// Every finding and answer, oldest first; never empty, the first a finding.
    pub steps: Vec<Step>,
}

/// One finding or answer of a course.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Step {
    /// The turn.
    pub turn: TurnId,
    /// The record.
    pub id: RecordId,
    /// The day.
    pub on: NaiveDate,
    /// What it says.
    pub said: Said,
    /// Whether it says healed, and another tablet saw it still there that day: then nobody knows who looked last.
    pub disputed: bool,
}

/// What a step says.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Said {
    /// Found, with all that was told about this finding.
    Found(Told),
    /// An answer.
    Answered(Verdict),
}

/// What was told about one finding; none where nothing was said.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Told {
    /// What.
    pub what: Finding,
    /// Grade or stage.
    pub degree: Degree,
    /// Infected with digital dermatitis.
    pub infected: Option<bool>,
    /// Deep or necrotic.
    pub deep: Option<bool>,
}

/// What is to be taken for true of a finding.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct State {
    /// The newest, most exact word on what it is.
    pub what: Finding,
    /// Newest grade or stage.
    pub degree: Degree,
    /// Infected with digital dermatitis.
    pub infected: bool,
    /// Deep or necrotic.
    pub deep: bool,
}

/// A word, and the longest stretch of days without a look that it was carried over since it was said.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Kept<T> {
    /// The word.
    pub word: T,
    /// Days nobody looked.
    pub unseen: u16,
}

/// The newest words on a finding. Whether one still counts depends on the rule, so each keeps what it was carried over.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Carried {
    /// What.
    pub what: Kept<Finding>,
    /// Grade or stage.
    pub degree: Kept<Degree>,
    /// Infected with digital dermatitis.
    pub infected: Kept<bool>,
    /// Deep or necrotic.
    pub deep: Kept<bool>,
}

impl<T: Copy> Kept<T> {
    /// A word just said.
    pub fn said(word: T) -> Kept<T> {
        Kept { word, unseen: 0 }
    }

    fn over(self, unseen: u16) -> Kept<T> {
        Kept { unseen: self.unseen.max(unseen), ..self }
    }

    fn within(self, window: u16, unsaid: T) -> T {
        if self.unseen <= window { self.word } else { unsaid }
    }
}

impl Carried {
    /// Words that were all just said.
    pub fn said(state: State) -> Carried {
        Carried {
            what: Kept::said(state.what),
            degree: Kept::said(state.degree),
            infected: Kept::said(state.infected),
            deep: Kept::said(state.deep),
        }
    }

    /// The words that steps add up to; the first is a finding.
    pub fn of(steps: &[Step]) -> Option<Carried> {
        let mut carried: Option<Carried> = None;
        let mut last = None;
        for step in steps {
            match (step.said, &mut carried) {
                (Said::Found(told), None) => carried = Some(Carried::said(told.state())),
                (Said::Found(told), Some(known)) => known.found(told, days(last, step.on)),
                (Said::Answered(Verdict::Stage(stage)), Some(known)) => {
                    known.degree = Kept::said(Degree::Stage(stage));
                }
                (Said::Answered(_), _) => {}
            }
            if step.looked() {
                last = last.max(Some(step.on));
            }
        }
        carried
    }

    fn found(&mut self, told: Told, unseen: u16) {
        let exact = told.what.row().group.is_some();
        self.what = if exact { Kept::said(told.what) } else { self.what.over(unseen) };
        self.degree = if told.degree == Degree::NotGiven { self.degree.over(unseen) } else { Kept::said(told.degree) };
        self.infected = told.infected.map_or(self.infected.over(unseen), Kept::said);
        self.deep = told.deep.map_or(self.deep.over(unseen), Kept::said);
    }

    /// What counts where a place may go unseen for so many days; what was said before a longer stretch is of another case.
    pub fn within(self, window: u16) -> State {
        State {
            what: self.what.within(window, self.what.word.group()),
            degree: self.degree.within(window, Degree::NotGiven),
            infected: self.infected.within(window, false),
            deep: self.deep.within(window, false),
        }
    }

    /// The newest words, however old.
    pub fn newest(self) -> State {
        self.within(u16::MAX)
    }
}

/// Days from a look to a finding; none, and a day that came before, count as no time.
fn days(last: Option<NaiveDate>, on: NaiveDate) -> u16 {
    last.map_or(0, |last| u16::try_from((on - last).num_days().max(0)).unwrap_or(u16::MAX))
}

impl Told {
    fn state(self) -> State {
        State {
            what: self.what,
            degree: self.degree,
            infected: self.infected.unwrap_or(false),
            deep: self.deep.unwrap_or(false),
        }
    }
}

impl Step {
    /// Whether the place was looked at.
    pub fn looked(&self) -> bool {
        match self.said {
            Said::Found(_) => true,
            Said::Answered(verdict) => verdict.looked(),
        }
    }

    /// Whether it says that nothing is left: answered healed, or found or answered to be M0; and nobody disputes it.
    pub fn heals(&self) -> bool {
        !self.disputed && self.says_healed()
    }

    fn says_healed(&self) -> bool {
        match self.said {
            Said::Found(told) => told.degree == Degree::Stage(Stage::M0),
            Said::Answered(verdict) => verdict.ends(),
        }
    }

    /// Whether it is a finding.
    pub fn is_finding(&self) -> bool {
        matches!(self.said, Said::Found(_))
    }
}

impl Course {
    /// Its newest words.
    pub fn carried(&self) -> Carried {
        Carried::of(&self.steps).expect("a course begins with a finding")
    }

    /// The newest, most exact word on what it is.
    pub fn what(&self) -> Finding {
        self.carried().what.word
    }

    /// Day it was last looked at.
    pub fn last(&self) -> NaiveDate {
        looks(&self.steps).map(|step| step.on).max().unwrap_or(self.since())
    }

    /// Day of the first finding.
    pub fn since(&self) -> NaiveDate {
        self.steps[0].on
    }

    /// The step that says it has healed, if the newest look said so.
    pub fn end(&self) -> Option<&Step> {
        looks(&self.steps).last().filter(|step| step.heals())
    }

    /// Whether another tablet saw it still there on the day of this answer; a finding that the answer names was in its
    /// writer's sight.
    pub fn disputes(&self, answer: RecordId, on: NaiveDate, named: RecordId) -> bool {
        let theirs = |step: &&Step| step.on == on && step.id.series != answer.series && step.id != named;
        looks(&self.steps).filter(theirs).any(|step| !step.says_healed())
    }

    /// Whether a record is one of its findings.
    pub fn holds(&self, found: RecordId) -> bool {
        self.steps.iter().any(|step| step.id == found && step.is_finding())
    }

    /// Whether a finding is of the same kind: own words are another thing when they are other words.
    pub fn is_of(&self, place: Place, what: Finding, words: &str) -> bool {
        self.place == place && self.what().group() == what.group() && (what != Finding::OwnWords || self.words == words)
    }
}

fn looks(steps: &[Step]) -> impl Iterator<Item = &Step> {
    steps.iter().filter(|step| step.looked())
}
