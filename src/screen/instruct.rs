//! The words of standing instructions: what is asked, what a choice says, what a text is typed for, why something is not done.

use crate::domain::follow_up::review;
use crate::domain::follow_up::review::Review;
use crate::domain::instruction::NoReview;
use crate::report::farm::{review as when, scope, what, whose};
use crate::report::safe::safe;
use crate::report::words::{day, weekday_by};
use crate::screen::contact::name_brief;
use crate::screen::words::of;
use crate::session::Session;
use crate::session::instruct::{Act, Ask, Draft, Refused, Text, Unsaid, askers, held};
use chrono::NaiveDate;

/// What a choice says.
pub fn act(session: &Session, act: &Act) -> String {
    match act {
        Act::Ask(Ask::Scope) => "a standing instruction".to_owned(),
        Act::Ask(Ask::Review(farm, id)) => match held(session, *farm, *id) {
            Some(one) => format!("review: {}", scope(of(session), one.scope)),
            None => "review".to_owned(),
        },
        Act::Ask(Ask::By(_) | Ask::Horn(_) | Ask::Day(_)) => "further".to_owned(),
        Act::By(draft) => safe(&draft.asked_by),
        Act::OtherBy(_) => "type it".to_owned(),
        Act::For(one) => scope(of(session), *one),
        Act::Horn(_, true) => "takes horn away".to_owned(),
        Act::Horn(_, false) => "takes none away".to_owned(),
        Act::Give(_, day) => weekday_by(*day, session.today),
        Act::OtherDay(_) => "another day".to_owned(),
        Act::GoesOn(_, _, day) => format!("goes on, review {}", weekday_by(*day, session.today)),
        Act::GoesOnUntil(_, _) => "goes on, another day".to_owned(),
        Act::Change(_, _) => "changed".to_owned(),
        Act::End(_, _) => "ended".to_owned(),
    }
}

/// The same in fewer letters.
pub fn brief(session: &Session, act: &Act) -> Vec<String> {
    let short = |day: &NaiveDate| day.format("%-d %b").to_string().to_uppercase();
    match act {
        Act::Ask(Ask::Scope) => ["instruction", "instruct", "always"].map(str::to_owned).into(),
        Act::Ask(Ask::Review(_, _)) => vec!["review".to_owned()],
        Act::Ask(Ask::By(_) | Ask::Horn(_) | Ask::Day(_)) | Act::OtherBy(_) => Vec::new(),
        Act::By(draft) => name_brief(&draft.asked_by, askers(session, draft.farm).into_iter()),
        Act::For(one) => {
            let full = scope(of(session), *one);
            vec![full.replace("outer", "out").replace("inner", "in").replace(" feet", "")]
        }
        Act::Horn(_, true) => ["takes horn", "horn"].map(str::to_owned).into(),
        Act::Horn(_, false) => ["no horn", "none"].map(str::to_owned).into(),
        Act::Give(_, day) => vec![short(day)],
        Act::OtherDay(_) => vec!["other".to_owned()],
        Act::GoesOn(_, _, day) => vec![format!("on, {}", short(day)), "goes on".to_owned()],
        Act::GoesOnUntil(_, _) => ["on until", "until"].map(str::to_owned).into(),
        Act::Change(_, _) => vec!["change".to_owned()],
        Act::End(_, _) => vec!["end".to_owned()],
    }
}

/// The heading of a question.
pub fn title(session: &Session, ask: &Ask) -> String {
    match ask {
        Ask::Scope => "instruction: for which feet?".to_owned(),
        Ask::By(draft) => format!("{}: who asks for it?", scope(of(session), draft.scope)),
        Ask::Horn(_) => "does it take horn away? then it is the vet's".to_owned(),
        Ask::Day(_) => "look at it again when?".to_owned(),
        Ask::Review(farm, id) => match held(session, *farm, *id) {
            Some(one) => {
                let rules = session.rules.of(*farm);
                let due = review::due(rules, one, session.today);
                let head = format!("{}: {}", whose(one, rules, of(session)), safe(&one.text));
                format!("{head}, {}", when(due, session.today))
            }
            None => "it holds no longer".to_owned(),
        },
    }
}

/// What a text is typed for.
pub fn prompt(session: &Session, text: &Text) -> String {
    let with = |draft: &Draft, asked: &str| format!("{}: {asked}", scope(of(session), draft.scope));
    match text {
        Text::What(draft) => with(draft, "what is to be done"),
        Text::By(draft) => with(draft, "who asks for it"),
        Text::Why(draft) => with(draft, "why"),
        Text::Vet(draft) => with(draft, "it takes horn away: the vet's name"),
        Text::Day(_) => "look at it again: day month".to_owned(),
        Text::Until(_, _) => "goes on until: day month".to_owned(),
        Text::End(_, _) => "ended: why".to_owned(),
    }
}

/// Why nothing is kept, and what to do next.
pub fn refused(session: &Session, why: &Refused) -> String {
    let what = match why {
        Refused::HoldsAlready(feet, since) => {
            return format!("{}: holds already, since {}", scope(of(session), *feet), day(*since));
        }
        Refused::Unsaid(what) => what,
    };
    let said = match what {
        Unsaid::What => "say what is to be done",
        Unsaid::By => "say who asks for it",
        Unsaid::Why => "say why",
        Unsaid::Vet => "say which vet: it takes horn away",
        Unsaid::Day => "say a day: day month",
        Unsaid::End => "say why it is ended",
    };
    said.to_owned()
}

/// Why a day is none to look at one again.
pub fn no_review(session: &Session, why: NoReview, within: u16) -> String {
    let said = |day| weekday_by(day, session.today);
    match why {
        NoReview::Gone(day) => format!("{} is not after today", said(day)),
        NoReview::TooLate(day, last) => {
            format!("{} is too late: {} at the latest, within {within} days", said(day), said(last))
        }
    }
}

/// An instruction whose review day has come, in one line: `review inner front, was due MON 4 May: leave the wall`.
pub fn due(session: &Session, review: &Review<'_>) -> String {
    format!("{}: {}", due_of(session, review), what(review.of, session.rules.of(review.farm)))
}

/// The same in fewer letters: `review inner front, due 4 May`.
pub fn due_short(session: &Session, review: &Review<'_>) -> String {
    format!("review {}, due {}", scope(of(session), review.of.scope), review.due.day.format("%-d %b"))
}

/// The same without what is to be done: `review inner front, was due MON 4 May`.
pub fn due_of(session: &Session, review: &Review<'_>) -> String {
    let whose = scope(of(session), review.of.scope);
    if review.due.day == session.today {
        return format!("review {whose}, today");
    }
    format!("review {whose}, was due {}", weekday_by(review.due.day, session.today))
}
