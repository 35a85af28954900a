//! From a recorded turn back to a sheet, and whether a sheet was entered before.

use super::super::anatomy::Place;
use super::super::herd::Labels;
use super::super::history::{self, History, TurnState};
use super::super::treatment::Put;
use super::{End, FEET, Fact, NewFinding, SheetTurn, Thing};
use chrono::NaiveDate;

impl SheetTurn {
    /// Writes a recorded turn as a sheet would tell it, kind by kind in a fixed order.
    pub fn of(turn: &history::Turn, history: &History) -> SheetTurn {
        let mut facts = Vec::new();
        facts.extend(turn.gaits.iter().map(|(_, gait)| Fact::Gait(*gait)));
        facts
            .extend(FEET.into_iter().zip(turn.looks).filter_map(|(foot, look)| Some(Fact::Look { foot, look: look? })));
        facts.extend(turn.answers.iter().map(|answer| Fact::Answered {
            place: answer.place,
            what: answer.what,
            verdict: answer.verdict,
        }));
        facts.extend(turn.offs.iter().map(|off| Fact::Off {
            thing: Thing::of(off),
            place: off.place,
            outcome: off.outcome,
            skin: off.skin,
        }));
        facts.extend(turn.found.iter().map(|found| Fact::Found(NewFinding::of(found))));
        facts.extend(turn.trims.iter().map(|(_, place, how)| Fact::Trimmed { place: *place, how: *how }));
        facts.extend(turn.measures.iter().map(|(_, place, what, mm)| Fact::Measured {
            place: *place,
            what: *what,
            mm: *mm,
        }));
        facts.extend(turn.sore.iter().map(|(_, place)| Fact::Sore(*place)));
        facts.extend(turn.puts.iter().map(|view| Fact::Put {
            put: view.put.clone(),
            off_by: view.off_by,
            remover: view.remover.clone(),
            by_others: view.by_others.clone(),
        }));
        facts.extend(turn.relief.iter().map(|(_, relief)| Fact::Relief(*relief)));
        facts.extend(turn.medicines.iter().map(|(_, medicine)| Fact::Medicine(Box::new(medicine.clone()))));
        facts.extend(turn.notes.iter().map(|(_, place, text)| Fact::Note { place: *place, text: text.clone() }));
        facts.extend(turn.vet.iter().map(|(_, place, sign, words)| Fact::Vet {
            place: *place,
            sign: *sign,
            words: words.clone(),
        }));
        facts.extend(turn.rechecks.iter().map(|(_, place, on, words)| Fact::Recheck {
            place: *place,
            on: *on,
            words: words.clone(),
        }));
        let end = match turn.state {
            TurnState::Open => End::Open,
            TurnState::Paused => End::Paused(None),
            TurnState::Signed => End::Signed(turn.gaps.clone()),
        };
        SheetTurn { animal: called(&history.labels), facts, end }
    }

    /// Whether the animal's history already holds this turn on that day, told in whatever order.
    pub fn is_in(&self, history: &History, on: NaiveDate) -> bool {
        history.turns.iter().filter(|turn| turn.on == on).any(|turn| SheetTurn::of(turn, history).tells_same(self))
    }

    /// Whether two sheets tell the same facts; a sheet may name a wrap by its foot where the record names the place.
    fn tells_same(&self, other: &SheetTurn) -> bool {
        let mut rest = other.newest_facts();
        let mine = self.newest_facts();
        mine.len() == rest.len()
            && mine.iter().all(|fact| match rest.iter().position(|candidate| fact.tells_same(candidate)) {
                Some(at) => {
                    rest.swap_remove(at);
                    true
                }
                None => false,
            })
    }

    /// Facts without those that a later one of this turn replaces: the looks of a foot, and pain relief. Who recorded them makes none another.
    fn newest_facts(&self) -> Vec<&Fact> {
        let replaced = |fact: &Fact, later: &Fact| {
            if let (Fact::Look { foot, .. }, Fact::Look { foot: other, .. }) = (fact, later) {
                return foot == other;
            }
            matches!((fact, later), (Fact::Relief(_), Fact::Relief(_)))
        };
        (0..self.facts.len())
            .filter(|&at| !matches!(self.facts[at], Fact::HandedOver(_)))
            .filter(|&at| !self.facts[at + 1..].iter().any(|later| replaced(&self.facts[at], later)))
            .map(|at| &self.facts[at])
            .collect()
    }
}

impl Thing {
    /// The thing an off tells of. Where nobody knew of it, the outcome decides, then the place.
    fn of(view: &history::OffView) -> Thing {
        match &view.put {
            Some(Put::Block { .. }) => return Thing::Block,
            Some(Put::Wrap { .. } | Put::Dressing { .. }) => return Thing::Wrap,
            None => {}
        }
        match (Thing::Wrap.can_be(view.outcome), Thing::Block.can_be(view.outcome)) {
            (true, true) if matches!(view.place, Place::Claw(_, _)) => Thing::Block,
            (true, _) | (false, false) => Thing::Wrap,
            (false, true) => Thing::Block,
        }
    }
}

impl Fact {
    fn tells_same(&self, other: &Fact) -> bool {
        if let (
            Fact::Off { thing, place, outcome, skin },
            Fact::Off { thing: thing_2, place: place_2, outcome: outcome_2, skin: skin_2 },
        ) = (self, other)
        {
            return (thing, place.foot(), outcome, skin) == (thing_2, place_2.foot(), outcome_2, skin_2);
        }
        if let (
            Fact::Answered { place, what, verdict },
            Fact::Answered { place: place_2, what: what_2, verdict: verdict_2 },
        ) = (self, other)
        {
            return (place, what.group(), verdict) == (place_2, what_2.group(), verdict_2);
        }
        self == other
    }
}

impl NewFinding {
    fn of(found: &history::Found) -> NewFinding {
        NewFinding {
            place: found.place,
            what: found.what,
            degree: found.degree,
            infected: found.infected,
            deep: found.deep,
            side: found.side,
            words: found.words.clone(),
        }
    }
}

/// What a sheet calls an animal: her number, else the first label she has.
pub fn called(labels: &Labels) -> String {
    let all = [&labels.number, &labels.tag, &labels.electronic, &labels.name];
    all.into_iter().find(|label| !label.is_empty()).cloned().unwrap_or_default()
}
