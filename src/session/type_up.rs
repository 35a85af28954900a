//! Paper typed up on the same screens, with the same keys and checks, as beside the crush: `Session::today` is then the day of the paper,
//! records bear it, and what is read is as it was known on it. One row of the farm's menu begins it, one ends it.

use super::decide::{Decision, Effect, Next};
use super::{Refusal, Session};
use crate::domain::day::gone_by;
use crate::domain::herd::Labels;
use crate::domain::ids::{FarmId, RecordId};
use chrono::NaiveDate;

/// What a row of the menu does.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Act {
    /// Asks for the day of the paper.
    Begin,
    /// It is done: back at today.
    End,
}

/// The row that the menu has now.
pub fn row(session: &Session) -> Act {
    if session.paper.is_some() { Act::End } else { Act::Begin }
}

/// Does what a row says.
pub fn do_act(act: Act) -> Decision {
    Decision::Go(Next::Do(match act {
        Act::Begin => Effect::AskPaper,
        Act::End => Effect::EndPaper,
    }))
}

/// Takes the day that was typed; with nothing typed the one that was offered. Only a day gone by has paper.
pub fn keep(session: &Session, offered: NaiveDate, text: &str) -> Decision {
    let really = session.really();
    match if text.is_empty() { Ok(offered) } else { gone_by(text, really) } {
        Ok(day) if day < really => Decision::Go(Next::Do(Effect::TypeUp(day))),
        Ok(_) => Decision::Refuse(Refusal::IsToday),
        Err(why) => Decision::Refuse(Refusal::NoDay(text.to_owned(), why)),
    }
}

impl Session {
    /// The day it really is, whatever paper is typed up.
    pub fn really(&self) -> NaiveDate {
        self.paper.unwrap_or(self.today)
    }

    /// What whoever is in the crush is called, as it is told: on paper of a day on which she bore no number or no name yet, the one she
    /// bears now, in brackets.
    pub fn her_labels(&self) -> Labels {
        self.labels(|now| format!("({now})"))
    }

    /// The number of whoever is in the crush; on paper of a day on which she bore none yet, the one she bears now.
    pub fn her_number(&self) -> String {
        self.labels(str::to_owned).number
    }

    fn labels(&self, later: impl Fn(&str) -> String) -> Labels {
        let Some(crush) = &self.crush else { return Labels::default() };
        let then = crush.history.labels.clone();
        let line = self.herd.iter().find(|line| crush.history.animals.contains(&line.id));
        let Some(Labels { number, name, .. }) = line.map(|line| &line.labels).filter(|_| self.paper.is_some()) else {
            return then;
        };
        let known = |then: String, now: &str| if then.is_empty() && !now.is_empty() { later(now) } else { then };
        Labels { number: known(then.number, number), name: known(then.name, name), ..then }
    }
}

/// How a draft begins while paper is typed up.
const DRAFT: &str = "paper ";

/// A draft with the day and the farm of the paper before it, where paper is typed up: it is gone on with after a restart.
pub fn draft(session: &Session, inner: String) -> String {
    match (session.paper, &session.farm) {
        (Some(_), Some(farm)) => {
            let RecordId { series, seq } = farm.id.0;
            format!("{DRAFT}{} {series:x} {seq} {inner}", session.today)
        }
        (Some(_) | None, _) => inner,
    }
}

/// The day and the farm of the paper that a draft is of, and what is typed on it; none where it is of today.
pub fn read_draft(draft: &str) -> Option<(NaiveDate, FarmId, &str)> {
    let mut words = draft.strip_prefix(DRAFT)?.splitn(4, ' ');
    let day = words.next()?.parse().ok()?;
    let series = u64::from_str_radix(words.next()?, 16).ok()?;
    let seq = words.next()?.parse().ok()?;
    Some((day, FarmId(RecordId { series, seq }), words.next().unwrap_or_default()))
}

/// What is typed, of a draft of today or of paper.
pub fn typed(draft: &str) -> &str {
    read_draft(draft).map_or(draft, |(_, _, rest)| rest)
}
