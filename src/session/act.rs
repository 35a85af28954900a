//! What can be asked, and what a choice does: data, so that the pad, help and tests read the same list.

use super::amend;
use super::mode::{Hand, TextFor};
use super::of_farm;
use super::ring::Call;
use super::sign_off::Line;
use crate::domain::anatomy::{Foot, Place, Side};
use crate::domain::event::{Detail, Item, PutDetail};
use crate::domain::finding::{Finding, Stage};
use crate::domain::herd::{Leaving, Status};
use crate::domain::ids::{AnimalId, CaseId, PutId, RecordId, TurnId};
use crate::domain::travel::Caution;
use crate::domain::treatment::{BlockKind, Gait, Measure, Off, Outcome, Put, Relief, Sign, SkinState, Trim, Word};
use crate::domain::withdrawal::Stated;
use chrono::NaiveDate;

/// A question with numbered choices.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Ask {
    /// What is found at this place?
    Finding(Place),
    /// Grade, stage, subtype of this finding?
    About(RecordId),
    /// What became of this earlier finding?
    Answer(CaseId),
    /// How was this item found?
    Seen(PutId),
    /// What is the skin under it like?
    Skin(Item, Off),
    /// Findings of the whole foot or claw, and those with one possible zone.
    WholeFoot(Foot, Side),
    /// What is put on?
    PutOn(Hand),
    /// Which claw does the block go on?
    BlockClaw(Foot),
    /// What is the block made of?
    BlockKind(PutId),
    /// By when is the wrap to be off?
    WrapDay(PutId),
    /// Who takes it off?
    WrapWho(PutId),
    /// What colour is it?
    WrapColour(PutId),
    /// What was dressed with?
    Product(PutId),
    /// Which days were stated for it, and by whom?
    Stated(PutId),
    /// What comes off?
    TakeOff(Foot),
    /// What was trimmed?
    Trim(Foot, Side),
    /// How does she walk?
    Gait,
    /// What about the whole animal?
    Whole(Hand),
    /// Which sign for the vet, page by page?
    Vet(Place, u8),
    /// What is measured?
    Measure(Place),
    /// What became of her, with what must be said before she travels?
    Left(AnimalId, Vec<Caution>),
    /// What does the farm say about it?
    Told(Call),
    /// What was just seen does not fit the book: is it her?
    Doubt(Box<Act>),
    /// One key opened the question and answered it: is that meant?
    Twice(Box<Act>),
    /// She was in the crush already today.
    Again(AnimalId, TurnId),
    /// She is known to be gone: is she back?
    Gone(AnimalId),
    /// Undo reaches past a sign-off: this press of hers.
    Reopen(AnimalId, RecordId),
    /// How is this line settled?
    Settle(Line),
    /// What is to be set right?
    Amend(amend::Ask),
    /// A matter of the farm.
    Farm(of_farm::Ask),
}

/// What a choice does.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Act {
    /// Records a finding, or selects it where it is already there.
    Find(Place, Finding),
    /// Tells more about a finding.
    Tell(RecordId, Detail),
    /// Answers an earlier finding.
    Answer(CaseId, Outcome),
    /// Answers an earlier digital dermatitis mark.
    Stage(CaseId, Stage),
    /// Records how an item was found.
    Seen(Item, Off),
    /// Records the skin under it.
    Skin(Item, Off, SkinState),
    /// Takes off and puts a new one on.
    Replace(PutId),
    /// Puts something on.
    Put(Put),
    /// Puts a dressing on and a wrap over it, in one press.
    WrapOver(Put, Put),
    /// Puts on record what others put on.
    PutByOthers(Put),
    /// Tells more about something put on.
    TellPut(PutId, PutDetail),
    /// Takes on what was stated about the product of a dressing.
    Stated(Stated),
    /// Records a trim.
    Trim(Place, Trim),
    /// Records a gait score.
    Gait(Gait),
    /// Advises the vet.
    Vet(Place, Sign),
    /// She kicks, or no longer does.
    Kicker(bool),
    /// The farmer says cull.
    Cull,
    /// Sore to testers here.
    Sore(Place),
    /// This claw is gone.
    ClawGone(Foot, Side),
    /// Pain relief, as told.
    Relief(Relief),
    /// Look again on this day.
    Recheck(Place, NaiveDate),
    /// Asks further.
    Ask(Ask),
    /// Asks for a text.
    Text(TextFor),
    /// Begins another turn of an animal already done today.
    AnotherTurn(AnimalId),
    /// Opens a signed turn again.
    Reopen(AnimalId, TurnId),
    /// She left the herd.
    Left(AnimalId, Leaving),
    /// She had left and is back.
    Back(AnimalId),
    /// She had left, is back, and comes into the crush.
    BackIn(AnimalId),
    /// It is not her who had left, but a new animal of her number.
    AnotherOf(AnimalId),
    /// She is dry, or in milk.
    Stands(AnimalId, Status),
    /// The farm's word about something left on.
    Word(Call, Word),
    /// It is her: does what the number was doubted for.
    Sure(Box<Act>),
    /// It was no second press by accident: does it.
    Meant(Box<Act>),
    /// It was the wrong number: the right one is typed on Today, and what was written goes with it.
    WrongNumber,
    /// Lifts this foot to settle the line.
    Lift(Foot),
    /// Passes the line knowingly; it is written as left open.
    Pass(Line),
    /// Sets something right.
    Amend(amend::Act),
    /// A matter of the farm.
    Farm(of_farm::Act),
}

/// A choice and the key it stands on: 1 to 9, 0, and 10 for the point.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Choice {
    /// Key.
    pub key: u8,
    /// What it does.
    pub act: Act,
}

/// Kinds of block in the order of their keys.
pub const KINDS: [BlockKind; 5] =
    [BlockKind::Wood, BlockKind::Rubber, BlockKind::Plastic, BlockKind::Foam, BlockKind::Shoe];

/// What can be measured in the order of the keys.
pub const MEASURES: [Measure; 2] = [Measure::DorsalWall, Measure::Sole];
