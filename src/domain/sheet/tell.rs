//! What was told outside the crush, from a sheet to events: word by telephone, a sale, a change on the farm.

use super::super::event::Event;
use super::super::herd::{Herd, Labels, Status};
use super::super::history::History;
use super::super::ids::{AnimalId, FarmId};
use super::transcribe::{Snag, SnagWhy, on_there, outside};
use super::{FarmTold, Told};
use chrono::NaiveDate;

/// The event of something told about an animal, or why it cannot be entered. `on` is the sheet's day.
pub fn tell(
    told: &Told,
    animal: AnimalId,
    farm: FarmId,
    history: Option<&History>,
    on: NaiveDate,
) -> Result<Event, Snag> {
    let described = |herd: Herd| Event::Described { animal, herd };
    Ok(match told.clone() {
        Told::Word { place, thing, by, means, word } => {
            let item = history
                .and_then(|history| on_there(history, thing, place, on, &[]))
                .ok_or(Snag { fact: 0, why: SnagWhy::NothingOn { place, thing } })?;
            Event::ToldOff { item, by, means, word }
        }
        Told::Left { why, words } => Event::Left { animal, why, words },
        Told::Number(number) => {
            let labels = history.map(|history| history.labels.clone()).unwrap_or_default();
            Event::Renumbered { animal, labels: Labels { number, ..labels } }
        }
        Told::Kicks(kicks) => Event::Kicker { animal, kicks },
        Told::Cull => Event::CullSaid { animal },
        Told::ClawGone(foot, side) => Event::ClawGone { animal, foot, side },
        Told::Dry(day) => described(Herd { dry_from: Some(day), status: Some(Status::Dry), ..Herd::default() }),
        Told::Calved(day) => described(Herd { calved: Some(day), status: Some(Status::InMilk), ..Herd::default() }),
        Told::DueToCalve(day) => described(Herd { due_to_calve: Some(day), ..Herd::default() }),
        Told::Group(group) => described(Herd { group, ..Herd::default() }),
        Told::Called { words, urgent, caller } => Event::FarmCalled { farm, words, urgent, caller },
        Told::Fact(fact) => outside(&fact, None).ok_or(Snag { fact: 0, why: SnagWhy::NeedsTurn })?,
    })
}

/// The event of something told about a farm.
pub fn tell_farm(told: &FarmTold, farm: FarmId) -> Event {
    match told.clone() {
        FarmTold::Fact(fact, words) => Event::FarmDescribed { farm, fact, words },
        FarmTold::Changed(change, words) => Event::FarmChanged { farm, change, words },
        FarmTold::Called { words, urgent, caller } => Event::FarmCalled { farm, words, urgent, caller },
        FarmTold::Rung { answered, who, words } => Event::FarmRung { farm, answered, who, words },
    }
}
