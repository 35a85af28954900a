//! A scoring walk: the herd walks by, after milking say, and each animal is given a gait score outside the crush. Nothing here is
//! stored; it is read from the records of each animal, as they were known on that day.

use super::event::Event;
use super::follow_up::due;
use super::follow_up::rules::Rules;
use super::herd::{Herd, Labels, Status};
use super::history::History;
use super::history::open::{Open, OpenItem};
use super::ids::AnimalId;
use super::known::as_of;
use super::record::Record;
use super::treatment::{Gait, GaitScale};
use super::vocabulary::Vocabulary;
use chrono::NaiveDate;

/// One animal of the herd on the day of a walk.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Walker {
    /// Who.
    pub animal: AnimalId,
    /// What she is called.
    pub labels: Labels,
    /// Whether she walks by with the herd, as far as is known: whoever is dry, a heifer or a bull is elsewhere.
    pub milked: bool,
    /// Her score of that walk; of several the newest.
    pub score: Option<Gait>,
    /// How often she was scored on it.
    pub times: usize,
    /// Her last score before it, in the crush or on a walk.
    pub before: Option<(NaiveDate, Gait)>,
    /// Of a lame one: the day by which she is to be looked at.
    pub look_by: Option<NaiveDate>,
}

impl Walker {
    /// Whether she is lame by her score of that walk.
    pub fn is_lame(&self) -> bool {
        self.score.is_some_and(|gait| gait.scale.is_lame(gait.score))
    }
}

/// What one animal's records say of a walk of that day; none where she was not there, or had left before it.
pub fn walker(animal: AnimalId, records: &[Record], rules: &Rules, on: NaiveDate) -> Option<Walker> {
    let now = History::of(records.to_vec(), animal);
    let then = History::of(as_of(records, on), animal);
    let outside = || {
        then.outside
            .iter()
            .filter_map(|told| if let Event::Walked { gait, .. } = &told.event { Some((told.on, *gait)) } else { None })
    };
    let today: Vec<Gait> = outside().filter(|(day, _)| *day == on).map(|(_, gait)| gait).collect();
    let was_there =
        records.iter().any(|record| record.on <= on && matches!(record.event(), Some(Event::AnimalBegun { .. })));
    if today.is_empty() && (!was_there || then.left.is_some()) {
        return None;
    }
    let in_turns = then.turns.iter().flat_map(|turn| turn.gaits.iter().map(|(_, gait)| (turn.on, *gait)));
    let before = outside().filter(|(day, _)| *day < on).chain(in_turns).max_by_key(|(day, _)| *day);
    let open = Open::of(&then);
    let lame = then.open.iter().find(|item| matches!(item, OpenItem::Lame { .. }));
    let look_by = lame.and_then(|item| due(&open, item, rules, on)).map(|due| due.day);
    let score = today.last().copied();
    Some(Walker {
        animal,
        labels: now.labels,
        milked: is_milked(&then.herd, on),
        score,
        times: today.len(),
        before,
        look_by: look_by.filter(|_| score.is_some_and(|gait| gait.scale.is_lame(gait.score))),
    })
}

fn is_milked(herd: &Herd, on: NaiveDate) -> bool {
    match herd.status {
        Some(Status::Dry | Status::Heifer | Status::Male) => false,
        Some(Status::InMilk) | None => !herd.is_dry(on),
    }
}

/// How many were given a score.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Count {
    /// The score.
    pub gait: Gait,
    /// How many.
    pub animals: usize,
    /// Of all that were scored on that scale, in percent, rounded to the nearest.
    pub percent: usize,
}

/// A walk of a day.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Walk {
    /// Everybody of the herd.
    pub walkers: Vec<Walker>,
}

/// A walk counts for the whole herd where so many of a hundred animals in milk were scored (Solano et al. 2016, in trade.md, section 8).
const WHOLE_HERD: usize = 80;

impl Walk {
    /// One animal.
    pub fn of(&self, animal: AnimalId) -> Option<&Walker> {
        self.walkers.iter().find(|walker| walker.animal == animal)
    }

    /// Takes in what is said of one animal now; of a new one too.
    pub fn take(&mut self, animal: AnimalId, walker: Option<Walker>) {
        self.walkers.retain(|known| known.animal != animal);
        self.walkers.extend(walker);
    }

    /// Those that were scored.
    pub fn scored(&self) -> impl Iterator<Item = &Walker> {
        self.walkers.iter().filter(|walker| walker.score.is_some())
    }

    /// How many were given each score, of every scale that was used, and of this one.
    pub fn counts(&self, scale: GaitScale) -> Vec<Count> {
        let used =
            |scale: &&GaitScale| self.scored().any(|walker| walker.score.is_some_and(|gait| gait.scale == **scale));
        let scales = GaitScale::ALL.iter().filter(|one| used(one) || **one == scale);
        let given = |gait: Gait| self.scored().filter(|walker| walker.score == Some(gait)).count();
        scales
            .flat_map(|scale| {
                let each: Vec<(Gait, usize)> =
                    scale.range().map(|score| Gait { scale: *scale, score }).map(|gait| (gait, given(gait))).collect();
                let all: usize = each.iter().map(|(_, animals)| animals).sum();
                each.into_iter().map(move |(gait, animals)| Count { gait, animals, percent: percent(animals, all) })
            })
            .collect()
    }

    /// The lame ones, the worst first: very lame before lame, then by score and number.
    pub fn lame(&self) -> Vec<&Walker> {
        let mut lame: Vec<&Walker> = self.walkers.iter().filter(|walker| walker.is_lame()).collect();
        lame.sort_by_cached_key(|walker| {
            let gait = walker.score.map(|gait| (gait.scale.is_severe(gait.score), gait.score));
            (std::cmp::Reverse(gait), number(&walker.labels))
        });
        lame
    }

    /// Who was not scored yet: who is milked first, then by number.
    pub fn unscored(&self) -> Vec<&Walker> {
        let mut left: Vec<&Walker> = self.walkers.iter().filter(|walker| walker.score.is_none()).collect();
        left.sort_by_cached_key(|walker| (!walker.milked, number(&walker.labels)));
        left
    }

    /// Whether so few of the milked animals were scored that the shares are theirs alone and not the herd's.
    pub fn is_part(&self) -> bool {
        let milked = || self.walkers.iter().filter(|walker| walker.milked);
        milked().filter(|walker| walker.score.is_some()).count() * 100 < milked().count() * WHOLE_HERD
    }
}

/// A share of a hundred, rounded to the nearest.
fn percent(part: usize, all: usize) -> usize {
    (part * 200 + all).checked_div(all * 2).unwrap_or(0)
}

/// Numbers in the order in which people look for them.
fn number(labels: &Labels) -> (usize, String) {
    (labels.number.len(), labels.number.clone())
}
