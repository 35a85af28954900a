//! From a recorded turn back to a sheet, and whether a sheet was entered before.

use super::super::anatomy::{Foot, Place};
use super::super::herd::Labels;
use super::super::history::{self, Answer, History, PutView, TurnState};
use super::super::ids::RecordId;
use super::super::treatment::{Measure, Put};
use super::{End, FEET, Fact, NewFinding, SheetTurn, Thing};
use chrono::NaiveDate;

/// What of a turn a fact of a sheet stands for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Source {
    /// That record.
    Record(RecordId),
    /// The last word on how that foot was looked at.
    Look(Foot),
    /// How the turn ended.
    End,
}

impl SheetTurn {
    /// Writes a recorded turn as a sheet would tell it, kind by kind in a fixed order.
    pub fn of(turn: &history::Turn, history: &History) -> SheetTurn {
        SheetTurn::told(turn, history, facts(turn).into_iter().map(|(_, fact)| fact).collect())
    }

    /// The same of a turn that several recorded: what one of them did stands together, in the order in which they come into it. `by` names
    /// who recorded what; a sheet cannot say that nobody did.
    pub fn shared(turn: &history::Turn, history: &History, by: &dyn Fn(Source) -> String) -> SheetTurn {
        let mut parts = Parts(vec![(by(Source::Record(turn.id.0)), Vec::new())]);
        for (source, fact) in facts(turn) {
            parts.of(by(source)).push(fact);
        }
        let signed = by(Source::End);
        parts.of(signed.clone());
        let hand_back = parts.0.last().is_some_and(|(last, _)| !signed.is_empty() && *last != signed);
        let end = hand_back.then_some(Fact::HandedOver(signed));
        SheetTurn::told(turn, history, parts.facts().chain(end).collect())
    }

    fn told(turn: &history::Turn, history: &History, facts: Vec<Fact>) -> SheetTurn {
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

/// What each person recorded of a turn, whoever began it first.
struct Parts(Vec<(String, Vec<Fact>)>);

impl Parts {
    /// The part of a person; that of the first for no name.
    fn of(&mut self, name: String) -> &mut Vec<Fact> {
        let at = self.0.iter().position(|(known, _)| name.is_empty() || *known == name).unwrap_or(self.0.len());
        if at == self.0.len() {
            self.0.push((name, Vec::new()));
        }
        &mut self.0[at].1
    }

    /// All of them, each but the first behind its name.
    fn facts(self) -> impl Iterator<Item = Fact> {
        let part = |(at, (name, facts)): (usize, (String, Vec<Fact>))| {
            (at > 0).then_some(Fact::HandedOver(name)).into_iter().chain(facts)
        };
        self.0.into_iter().enumerate().flat_map(part)
    }
}

/// What a sheet tells of a turn, kind by kind in a fixed order, each with what it stands for.
fn facts(turn: &history::Turn) -> Vec<(Source, Fact)> {
    let mut facts: Vec<(RecordId, Fact)> = Vec::new();
    facts.extend(turn.answers.iter().map(|answer| {
        let Answer { id, place, what, verdict, .. } = *answer;
        (id, Fact::Answered { place, what, verdict })
    }));
    facts.extend(turn.offs.iter().map(|off| {
        let (thing, place, outcome, skin) = (Thing::of(off), off.place, off.outcome, off.skin);
        (off.id, Fact::Off { thing, place, outcome, skin })
    }));
    facts.extend(turn.found.iter().map(|found| (found.id, Fact::Found(NewFinding::of(found)))));
    facts.extend(turn.trims.iter().map(|(id, place, how)| (*id, Fact::Trimmed { place: *place, how: *how })));
    let measured = |(id, place, what, mm): &(RecordId, Place, Measure, u16)| {
        (*id, Fact::Measured { place: *place, what: *what, mm: *mm })
    };
    facts.extend(turn.measures.iter().map(measured));
    facts.extend(turn.sore.iter().map(|(id, place)| (*id, Fact::Sore(*place))));
    facts.extend(turn.puts.iter().map(|view| {
        let PutView { put, off_by, remover, by_others, .. } = view.clone();
        (view.id.0, Fact::Put { put, off_by, remover, by_others })
    }));
    facts.extend(turn.relief.iter().map(|(id, relief)| (*id, Fact::Relief(*relief))));
    facts.extend(turn.medicines.iter().map(|(id, medicine)| (*id, Fact::Medicine(Box::new(medicine.clone())))));
    facts.extend(turn.notes.iter().map(|(id, place, text)| (*id, Fact::Note { place: *place, text: text.clone() })));
    facts.extend(turn.vet.iter().cloned().map(|(id, place, sign, words)| (id, Fact::Vet { place, sign, words })));
    facts.extend(turn.rechecks.iter().cloned().map(|(id, place, on, words)| (id, Fact::Recheck { place, on, words })));
    let gaits = turn.gaits.iter().map(|(id, gait)| (Source::Record(*id), Fact::Gait(*gait)));
    let looks = FEET.into_iter().zip(turn.looks);
    let looks = looks.filter_map(|(foot, look)| Some((Source::Look(foot), Fact::Look { foot, look: look? })));
    gaits.chain(looks).chain(facts.into_iter().map(|(id, fact)| (Source::Record(id), fact))).collect()
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
