//! What a wish decides: records to write and where to go then, a move, or a refusal in the trimmer's words.

use super::act::Ask;
use super::amend;
use super::mode::{Hand, Mode, Only};
use super::walk::{self, Walking};
use super::{Refusal, Session, choices, crush, ghost, herd_list, lists, ring, sign_off, today, undo, who};
use crate::domain::anatomy::Place;
use crate::domain::history::TurnState;
use crate::domain::ids::{AnimalId, FarmId, PutId, TurnId, VisitId};
use crate::domain::record::{Record, Stamp};
use crate::keys::intent::Intent;

/// What was decided.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Decision {
    /// Write this press; go there once it is on disk.
    Record(Vec<Record>, Next),
    /// Go there; nothing is written.
    Go(Next),
    /// Not done, and why.
    Refuse(Refusal),
}

/// Where to go.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Next {
    /// Nowhere.
    Stay,
    /// To this mode.
    Mode(Mode),
    /// To the next question that the foot in hand asks, else to the hand itself.
    Foot(Hand),
    /// To the next question that something put on asks, else to the mode.
    Put(PutId, Box<Mode>),
    /// To the sign-off if lines ask, else on.
    SignOff(Vec<super::sign_off::Line>),
    /// The loop has something to do first.
    Do(Effect),
}

/// What the loop must do.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Effect {
    /// Read an animal and put her in the crush, her turn under way.
    OpenAnimal(AnimalId, TurnId),
    /// The animal went: take in the hand, read the herd again.
    LetGo,
    /// Read a farm with its herd and the visit of the day.
    OpenFarm(FarmId),
    /// Read open items and farms again.
    Refresh(Box<Mode>),
    /// Read the card of the farm in hand, and show it.
    Card(Box<Mode>),
    /// Read the herd of the farm in hand, and show it.
    Herd(Box<Mode>),
    /// Look which herd lists there are, and show them.
    Lists(Box<Mode>),
    /// Read a herd list, and show what it would change; what it was asked over.
    ReadList(herd_list::Which, Box<Mode>),
    /// A herd list was taken: take in the hand, read the herd again.
    ListTaken,
    /// Read what must be said of her, and ask what became of her.
    AskLeft(AnimalId),
    /// Write the take-off list of the farm in hand.
    Paper,
    /// Read the walk of the day, and go there.
    Walk(Walking),
    /// She was scored: read her again, and go there.
    Walked(AnimalId, Walking),
    /// The walk is over: take in the hand, go back to Today.
    WalkOver,
    /// Ask for the day of paper.
    AskPaper,
    /// Type up paper of that day.
    TypeUp(chrono::NaiveDate),
    /// No more paper: back at today.
    EndPaper,
    /// Add up the visit.
    Totals,
    /// Add up that visit, and ask whether it is closed.
    AskClose(VisitId),
    /// The visit is over: take in the hand, go back to the farms.
    Ended,
    /// Somebody answers the telephone at a farm.
    Answers(FarmId, String),
    /// Read this farm, and have this number typed on Today.
    Find(FarmId, String),
    /// Read what is needed to set something right.
    Amend(amend::Read),
    /// Ask nobody about this electronic number in this visit.
    PutOff(String),
    /// Change the light.
    Light(super::Light),
    /// Switch taps on or off.
    Taps(bool),
    /// Make a backup.
    Backup,
    /// Leave the program.
    Leave,
}

/// Decides. Pure: the same session, intent and stamp give the same decision.
pub fn decide(session: &Session, intent: Intent, stamp: &Stamp) -> Decision {
    match of(session, intent, stamp) {
        Decision::Record(press, _) if undo::is_newest(&session.trail, &press) => Decision::Refuse(Refusal::AlreadySo),
        decision => decision,
    }
}

fn of(session: &Session, intent: Intent, stamp: &Stamp) -> Decision {
    if let Some(decision) = anywhere(session, intent, stamp) {
        return decision;
    }
    match &session.mode {
        Mode::Today { typed, cursor } => today::decide(session, typed, *cursor, intent, stamp),
        Mode::Walk(walking) => walk::decide(session, walking, intent, stamp),
        Mode::Crush(hand) => crush::decide(session, *hand, intent, stamp),
        Mode::Pad { ask, under } => crush::pad(session, ask, under, intent, stamp),
        Mode::SignOff { passed } => sign_off::decide(session, passed, intent, stamp),
        Mode::Text { what, text, under } => crush::text(session, what, text, under, intent, stamp),
        Mode::Ring { lines, cursor, under } => ring::decide(session, lines, *cursor, under, intent, stamp),
        Mode::Farms { .. }
        | Mode::Card { .. }
        | Mode::Herd { .. }
        | Mode::Due { .. }
        | Mode::Last { .. }
        | Mode::Always { .. }
        | Mode::Paper { .. }
        | Mode::Totals { .. }
        | Mode::Help { .. } => lists::decide(session, intent),
    }
}

/// Most letters of a text: longer than any note, shorter than the record's limit.
pub const LONGEST: usize = 500;

/// A letter of a text.
pub fn typed(session: &Session, letter: char) -> Decision {
    let Mode::Text { what, text, under } = &session.mode else { return Decision::Refuse(Refusal::NotHere) };
    if letter.is_control() {
        return Decision::Refuse(Refusal::NotHere);
    }
    if text.chars().count() >= LONGEST {
        return Decision::Refuse(Refusal::NoMoreLetters);
    }
    let text = format!("{text}{letter}");
    Decision::Go(Next::Mode(Mode::Text { what: what.clone(), text, under: under.clone() }))
}

/// Wishes that mean the same everywhere.
fn anywhere(session: &Session, intent: Intent, stamp: &Stamp) -> Option<Decision> {
    let here = || Box::new(session.mode.clone());
    let go = |mode| Some(Decision::Go(Next::Mode(mode)));
    if let (Intent::TakeOff, Some(super::Notice::Spelled(spelled))) = (intent, &session.notice) {
        return Some(spelled_back(session, spelled, stamp));
    }
    match intent {
        Intent::Help => match session.mode {
            Mode::Help { .. } => go(below(&session.mode)),
            Mode::Today { .. }
            | Mode::Walk(_)
            | Mode::Farms { .. }
            | Mode::Crush(_)
            | Mode::Pad { .. }
            | Mode::SignOff { .. }
            | Mode::Card { .. }
            | Mode::Herd { .. }
            | Mode::Due { .. }
            | Mode::Ring { .. }
            | Mode::Last { .. }
            | Mode::Always { .. }
            | Mode::Paper { .. }
            | Mode::Totals { .. }
            | Mode::Text { .. } => go(Mode::Help { top: 0, under: here() }),
        },
        Intent::Due if !matches!(session.mode, Mode::Due { .. }) => {
            let mode = Mode::Due { cursor: 0, only: Only::All, under: here() };
            Some(Decision::Go(Next::Do(Effect::Refresh(Box::new(mode)))))
        }
        // What is to come off, and whom to ring, is of today.
        Intent::Paper | Intent::Ring if session.paper.is_some() => Some(Decision::Refuse(Refusal::OnPaper)),
        Intent::Paper if session.farm.is_none() => Some(Decision::Refuse(Refusal::NoFarm)),
        Intent::Paper => Some(Decision::Go(Next::Do(Effect::Paper))),
        Intent::Ring => {
            let mode = Mode::Ring { lines: ring::calls(session), cursor: 0, under: here() };
            Some(Decision::Go(Next::Do(Effect::Refresh(Box::new(mode)))))
        }
        Intent::Last if session.crush.is_some() && !matches!(session.mode, Mode::Last { .. }) => {
            go(Mode::Last { back: 0, top: 0, under: here() })
        }
        Intent::Always if matches!(session.mode, Mode::Always { .. }) => go(below(&session.mode)),
        Intent::Always if session.farm.is_some() => go(Mode::Always { top: 0, under: here() }),
        Intent::NextGhost if session.crush.is_some() => Some(ghost::next(session)),
        Intent::Who if let Some(other) = session.other_recorder() => {
            Some(Decision::Go(Next::Do(Effect::Amend(amend::Read::By(other)))))
        }
        Intent::Who => go(who::ask(session, &session.mode)),
        Intent::Light => Some(Decision::Go(Next::Do(Effect::Light(session.light.next())))),
        Intent::Touch => Some(Decision::Go(Next::Do(Effect::Taps(!session.taps)))),
        Intent::Backup if session.backup.is_none() => Some(Decision::Refuse(Refusal::NoBackups)),
        Intent::Backup => Some(Decision::Go(Next::Do(Effect::Backup))),
        Intent::Undo => Some(take_back(session, stamp)),
        Intent::Redo => Some(put_back(session, stamp)),
        Intent::Leave => Some(leave(session, stamp)),
        _ => None,
    }
}

/// The mode under whatever is open; with a foot up, the foot down.
pub fn below(mode: &Mode) -> Mode {
    match mode {
        Mode::Crush(hand) => Mode::Crush(Hand { foot: None, zone: None, ..*hand }),
        Mode::SignOff { .. } => Mode::Crush(Hand::DOWN),
        _ => mode.under().unwrap_or(mode).clone(),
    }
}

/// Takes the last press back. A typed digit goes first; past a sign-off the animal is opened again first.
fn take_back(session: &Session, stamp: &Stamp) -> Decision {
    if let Mode::Today { typed, cursor } = &session.mode
        && !typed.is_empty()
    {
        let mut typed = typed.clone();
        typed.pop();
        return Decision::Go(Next::Mode(Mode::Today { typed, cursor: *cursor }));
    }
    if let Mode::Walk(walking) = &session.mode
        && let Some(less) = walk::erased(walking)
    {
        return Decision::Go(Next::Mode(Mode::Walk(less)));
    }
    let newest = undo::newest(&session.trail).filter(|press| walk::may_undo(session, press));
    let Some(press) = newest else { return Decision::Refuse(Refusal::NothingToUndo) };
    match &session.crush {
        Some(crush) if undo::began(press, crush.animal) => {
            Decision::Record(undo::take_back(press, stamp), Next::Do(Effect::LetGo))
        }
        Some(crush) if let Some(moved) = undo::moved(press) => {
            let (animal, turn) = stays_in(crush, moved, |(_, from, _)| from);
            Decision::Record(undo::take_back(press, stamp), Next::Do(Effect::OpenAnimal(animal, turn)))
        }
        Some(crush) if undo::joined(press).is_some() => {
            let next = Next::Do(Effect::OpenAnimal(crush.begun_as(), crush.turn));
            Decision::Record(undo::take_back(press, stamp), next)
        }
        Some(crush) if press.turn.is_none_or(|turn| turn == crush.turn) => {
            let hand = session.mode.hand().unwrap_or(Hand::DOWN);
            // What was asked may be about what is taken back.
            let hand = Hand { zone: None, ..hand };
            Decision::Record(undo::take_back(press, stamp), back_to(press, hand))
        }
        Some(_) => Decision::Refuse(Refusal::NothingToUndo),
        None => match reaches(session, press.turn) {
            Some(animal) => {
                let under = Box::new(session.mode.base().clone());
                Decision::Go(Next::Mode(Mode::Pad { ask: Ask::Reopen(animal, press.id), under }))
            }
            None => {
                Decision::Record(undo::take_back(press, stamp), Next::Do(Effect::Refresh(Box::new(stays(session)))))
            }
        },
    }
}

/// Where undo and redo leave the hands with an animal in the crush: what is known of the farm is read again where it changed.
fn back_to(press: &undo::Press, hand: Hand) -> Next {
    let mode = Mode::Crush(hand);
    if undo::is_of_farm(press) { Next::Do(Effect::Refresh(Box::new(mode))) } else { Next::Mode(mode) }
}

/// Where undo and redo leave the hands with no animal in the crush: a list stays, a question about what is gone does not.
fn stays(session: &Session) -> Mode {
    match &session.mode {
        mode @ (Mode::Card { .. } | Mode::Herd { .. } | Mode::Due { .. } | Mode::Ring { .. }) => mode.clone(),
        mode => walk::stays(mode.base()),
    }
}

/// The keys that spelled the next animal's number are all taken back; she that is in the crush is still to be signed off.
fn spelled_back(session: &Session, spelled: &super::Spelled, stamp: &Stamp) -> Decision {
    let presses: Vec<&undo::Press> =
        session.trail.iter().filter(|press| spelled.presses.contains(&press.id) && press.undone_by.is_none()).collect();
    let down = Next::Mode(Mode::Crush(Hand::DOWN));
    if presses.is_empty() { Decision::Go(down) } else { Decision::Record(undo::take_all_back(&presses, stamp), down) }
}

/// Who is in the crush after a turn was moved back or forth: whoever has the turn that is under way.
fn stays_in(
    crush: &super::Crush,
    moved: (TurnId, AnimalId, AnimalId),
    whose: impl Fn((TurnId, AnimalId, AnimalId)) -> AnimalId,
) -> (AnimalId, TurnId) {
    let animal = if moved.0 == crush.turn { whose(moved) } else { crush.animal };
    (animal, crush.turn)
}

/// The animal of the day whose turn a press belongs to, where that turn is not under way.
fn reaches(session: &Session, turn: Option<TurnId>) -> Option<AnimalId> {
    let line = session.herd.iter().find(|line| line.turn.is_some_and(|its| Some(its.id) == turn))?;
    Some(line.id)
}

fn put_back(session: &Session, stamp: &Stamp) -> Decision {
    let newest = undo::newest_undone(&session.trail).filter(|press| walk::may_undo(session, press));
    let Some(press) = newest else { return Decision::Refuse(Refusal::NothingToRedo) };
    let records = undo::put_back(press, stamp);
    match &session.crush {
        Some(crush) if let Some(moved) = undo::moved(press) => {
            let (animal, turn) = stays_in(crush, moved, |(_, _, to)| to);
            Decision::Record(records, Next::Do(Effect::OpenAnimal(animal, turn)))
        }
        Some(crush) if let Some(one) = undo::joined(press) => {
            Decision::Record(records, Next::Do(Effect::OpenAnimal(one, crush.turn)))
        }
        // Her sign-off stands again.
        Some(crush) if undo::ended(press) == Some(crush.turn) => Decision::Record(records, Next::Do(Effect::LetGo)),
        Some(crush) if press.turn.is_none_or(|turn| turn == crush.turn) => {
            let hand = session.mode.hand().unwrap_or(Hand::DOWN);
            Decision::Record(records, back_to(press, Hand { zone: None, ..hand }))
        }
        Some(_) => Decision::Refuse(Refusal::NothingToRedo),
        None => Decision::Record(records, Next::Do(Effect::Refresh(Box::new(stays(session))))),
    }
}

/// Leaves; an animal in the crush is set aside, and nothing is lost.
fn leave(session: &Session, stamp: &Stamp) -> Decision {
    match session.turn() {
        Some((crush, turn)) if turn.state == TurnState::Open => {
            let event = crate::domain::event::Event::TurnPaused {
                turn: crush.turn,
                why: crate::domain::event::PauseWhy::SetAside,
            };
            Decision::Record(stamp.press([(crush.animal.0, event)]), Next::Do(Effect::Leave))
        }
        Some(_) | None => Decision::Go(Next::Do(Effect::Leave)),
    }
}

impl Session {
    /// Goes there. Effects are the loop's: they come back.
    pub fn go(&mut self, next: Next) -> Option<Effect> {
        match next {
            Next::Stay => {}
            Next::Mode(mode) => self.mode = mode,
            Next::Foot(hand) => self.mode = self.foot(hand),
            Next::Put(put, under) => self.mode = self.put(put, *under),
            Next::SignOff(passed) => self.mode = Mode::SignOff { passed },
            Next::Do(effect) => return Some(effect),
        }
        None
    }

    /// The next question of a foot just lifted or answered: what is on it comes before everything else.
    fn foot(&self, hand: Hand) -> Mode {
        let gone = |side| {
            let crush = self.crush.as_ref();
            hand.foot.zip(crush).is_some_and(|(foot, crush)| crush.history.claws_gone.contains(&(foot, side)))
        };
        // The cursor starts on a claw she has.
        let side = if gone(hand.side) && !gone(hand.side.partner()) { hand.side.partner() } else { hand.side };
        let hand = Hand { side, ..hand };
        let asked = hand.foot.and_then(|foot| crush::unseen(self, foot).into_iter().next());
        match asked {
            Some(put) => Mode::Pad { ask: Ask::Seen(put), under: Box::new(Mode::Crush(hand)) },
            None => Mode::Crush(hand),
        }
    }

    /// The next question of something put on: what can hurt is never defaulted.
    fn put(&self, put: PutId, under: Mode) -> Mode {
        match crush::put_question(self, put) {
            Some(ask) => Mode::Pad { ask, under: Box::new(under) },
            None => under,
        }
    }
}

/// Where a note or a vet's sign goes from this hand.
pub fn place_of(hand: Hand) -> Place {
    hand.place().unwrap_or(Place::Animal)
}

/// Whether a key picks a choice, and which.
pub fn pick(intent: Intent) -> Option<u8> {
    match intent {
        Intent::Pick(key) => Some(key),
        Intent::PickDot => Some(choices::DOT),
        _ => None,
    }
}
