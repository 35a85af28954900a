//! The scoring walk in lines: what was written, how far the herd is, who is lame, who was not scored yet.

use super::page::{Answer, Said, said};
use crate::report::walk as report;
use crate::screen::walk::written;
use crate::session::Session;
use crate::session::mode::Mode;
use crate::session::walk::{Walking, line, scale};

/// Numbers of those not scored, in one line.
const COLUMNS: usize = 60;

/// The walk: all of it where the hands came to it, else what was typed or written.
pub fn told(session: &Session, was: Option<&Mode>, walking: &Walking) -> Answer {
    let walk = &session.walk;
    let mut answer = Answer::default();
    if was.is_none_or(|was| !matches!(was.base(), Mode::Walk(_))) {
        answer.now.push(said("scoring walk", report::head(walk)));
        answer.now.extend(report::counts(walk, scale(session)).into_iter().map(|line| said("count", squeezed(&line))));
        answer.now.extend(report::part(walk).map(|text| said("count", text)));
        answer.list = walk
            .lame()
            .into_iter()
            .filter_map(|walker| report::lame_line(walker, session.today))
            .map(|line| said("lame", squeezed(&line)))
            .collect();
        answer.list.extend(missing(session));
        answer.then = vec![said("next", "number, then score, and an empty line keeps it; back ends the walk")];
        return answer;
    }
    if let Some(told) = walking.told.filter(|_| walking.typed.is_empty()) {
        let lines = written(session, &told).into_iter().map(|(text, _)| said("scored", squeezed(&text)));
        answer.now.extend(lines.chain([said("scoring walk", report::head(walk))]));
        return answer;
    }
    let her = walking.picked.and_then(|animal| line(session, animal)).map(|line| line.labels.number.as_str());
    let text = match (her, walking.typed.as_str()) {
        (Some(her), "") => format!("{her}, her score comes next"),
        (Some(her), score) => format!("{her}, score {score}"),
        (None, "") => "nothing typed".to_owned(),
        (None, typed) => typed.to_owned(),
    };
    answer.now.push(said("number", text));
    answer
}

fn missing(session: &Session) -> Vec<Said> {
    let left = session.walk.unscored();
    report::flowed(left.iter().map(|walker| report::short(walker)), COLUMNS)
        .into_iter()
        .map(|line| said("not scored", squeezed(&line)))
        .collect()
}

/// Columns are for the eye.
fn squeezed(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}
