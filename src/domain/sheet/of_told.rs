//! From what was told outside the crush back to the words of a sheet.

use super::super::anatomy::Place;
use super::super::event::Event;
use super::super::herd::{Herd, Status};
use super::super::history::History;
use super::super::ids::{PutId, RecordId};
use super::super::treatment::{Put, SkinState};
use super::{Fact, Thing, Told};
use chrono::NaiveDate;

/// The words of a sheet for an event outside a turn, a fact each; none for what a sheet has no words for. Renumbering is left
/// out too: a sheet written afterwards calls her by the number she has now.
pub fn told_of(event: &Event, history: &History) -> Vec<Told> {
    if let Event::ToldOff { item, by, means, word } = event {
        let put = put(history, *item);
        let named = |put: Put| {
            let thing = if Thing::Block.is(&put) { Thing::Block } else { Thing::Wrap };
            Told::Word { place: put.place(), thing, by: by.clone(), means: *means, word: *word }
        };
        return put.map(named).into_iter().collect();
    }
    if let Event::Described { herd, .. } = event {
        return of_herd(herd);
    }
    if let Event::VetAnswered { of, words } = event {
        let advised = vets(history).into_iter().find(|(_, advised, _)| advised == of);
        return advised.map(|(_, _, place)| Told::VetAnswered { place, words: words.clone() }).into_iter().collect();
    }
    of_animal(event.clone()).or_else(|| of_fact(event.clone()).map(Told::Fact)).into_iter().collect()
}

/// Calving says that she is in milk and drying off that she is dry, so the one that holds comes last.
fn of_herd(herd: &Herd) -> Vec<Told> {
    let (calved, dry) = (herd.calved.map(Told::Calved), herd.dry_from.map(Told::Dry));
    let pair = if herd.status == Some(Status::Dry) { [calved, dry] } else { [dry, calved] };
    let group = (!herd.group.is_empty()).then(|| Told::Group(herd.group.clone()));
    let more = [herd.lactation.map(Told::Lactation), herd.due_to_calve.map(Told::DueToCalve), group];
    pair.into_iter().chain(more).flatten().collect()
}

fn of_animal(event: Event) -> Option<Told> {
    if let Event::Left { why, words, .. } = event {
        return Some(Told::Left { why, words });
    }
    if let Event::CameBack { words, .. } = event {
        return Some(Told::Back(words));
    }
    if let Event::Kicker { kicks, .. } = event {
        return Some(Told::Kicks(kicks));
    }
    if let Event::CullSaid { .. } = event {
        return Some(Told::Cull);
    }
    if let Event::ClawGone { foot, side, .. } = event {
        return Some(Told::ClawGone(foot, side));
    }
    if let Event::FarmCalled { words, urgent, caller, .. } = event {
        return Some(Told::Called { words, urgent, caller });
    }
    None
}

fn of_fact(event: Event) -> Option<Fact> {
    if let Event::PutOn { put, off_by, remover, by_others, .. } = event {
        return (!by_others.is_empty()).then_some(Fact::Put { put, off_by, remover, by_others });
    }
    if let Event::Walked { gait, .. } = event {
        return Some(Fact::Gait(gait));
    }
    if let Event::Noted { place, text, .. } = event {
        return Some(Fact::Note { place, text });
    }
    if let Event::MedicineGiven { medicine, .. } = event {
        return Some(Fact::Medicine(medicine));
    }
    if let Event::VetAdvised { place, sign, words, .. } = event {
        return Some(Fact::Vet { place, sign, words });
    }
    if let Event::RecheckSet { place, on, words, .. } = event {
        return Some(Fact::Recheck { place, on, words });
    }
    None
}

/// Every record that asked for a vet, with its day and place: advice in a turn, skin that was cut in, advice outside any turn.
pub(super) fn vets(history: &History) -> Vec<(NaiveDate, RecordId, Place)> {
    let mut vets = Vec::new();
    for turn in &history.turns {
        vets.extend(turn.vet.iter().map(|(of, place, _, _)| (turn.on, *of, *place)));
        let cut_in = turn.offs.iter().filter(|off| off.skin == SkinState::CutIn);
        vets.extend(cut_in.map(|off| (turn.on, off.id, off.place)));
    }
    for told in &history.outside {
        if let Event::VetAdvised { place, .. } = &told.event {
            vets.push((told.on, told.id, *place));
        }
    }
    vets
}

/// What was put on under that name, in a turn or outside one.
fn put(history: &History, id: PutId) -> Option<Put> {
    let mut in_turns = history.turns.iter().flat_map(|turn| &turn.puts);
    if let Some(view) = in_turns.find(|view| view.id == id) {
        return Some(view.put.clone());
    }
    let told = history.outside.iter().find(|told| told.id == id.0)?;
    if let Event::PutOn { put, .. } = &told.event { Some(put.clone()) } else { None }
}
