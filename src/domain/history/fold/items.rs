//! What is open: wraps and blocks not known to be off, looks that are owed, vets that were advised.

use super::super::course::Course;
use super::super::names::Names;
use super::super::open::{Knowing, OpenItem};
use super::super::{History, OffView, PutView};
use crate::domain::anatomy::{Foot, Place};
use crate::domain::event::{Event, Item, PutDetail};
use crate::domain::finding::Finding;
use crate::domain::ids::{PutId, RecordId, TurnId};
use crate::domain::record::{Order, Record};
use crate::domain::treatment::{BlockKind, Off, OffBy, Put, Sign, SkinState, Word};
use chrono::{Days, NaiveDate};

/// A block lost before this many days beside a deep lesion is looked at again now (common practice).
const BLOCK_HELD: Days = Days::new(14);

/// Open items in the order they arose.
pub(super) struct Items<'s> {
    open: Vec<(OpenItem, Origin)>,
    names: &'s Names,
}

/// Where an item came from: what may close it depends on that.
struct Origin {
    id: RecordId,
    order: Order,
    turn: Option<TurnId>,
}

impl Origin {
    fn of(record: &Record, turn: Option<TurnId>) -> Origin {
        Origin { id: record.id, order: record.order(), turn }
    }
}

impl<'s> Items<'s> {
    /// Nothing open yet.
    pub(super) fn new(names: &'s Names) -> Items<'s> {
        Items { open: Vec::new(), names }
    }

    /// Something was put on.
    pub(super) fn put_on(&mut self, record: &Record, view: &PutView) {
        if !view.put.must_come_off() {
            return;
        }
        let turn = record.event().and_then(Event::turn);
        self.open.push((on_item(view), Origin::of(record, turn)));
    }

    /// The foot was lifted and this was seen. False where the item it names is not hers.
    pub(super) fn seen_off(
        &mut self,
        record: &Record,
        view: &OffView,
        turn: Option<TurnId>,
        courses: &[Course],
    ) -> bool {
        let fits = match view.item {
            Item::Known(_) => view.put.is_some(),
            Item::Met(_) => true,
        };
        let names = self.names;
        let hit = |item: &OpenItem, origin: &Origin| match (item, view.item) {
            (OpenItem::On { put, .. }, Item::Known(known)) => *put == known,
            (OpenItem::On { what, .. }, Item::Met(place)) => {
                same_thing(what, view.outcome, place) && surely_before(origin, record, names)
            }
            (
                OpenItem::LookSoon { .. }
                | OpenItem::Recheck { .. }
                | OpenItem::SetByHand { .. }
                | OpenItem::Lame { .. }
                | OpenItem::Withheld { .. }
                | OpenItem::Vet { .. },
                _,
            ) => false,
        };
        let mut lost_early = None;
        let mut hits = 0;
        self.open.retain_mut(|(item, origin)| {
            if !hit(item, origin) {
                return true;
            }
            hits += 1;
            if let OpenItem::On { what, since, seen_on, knowing, trouble, .. } = item {
                if view.outcome.seen_on() {
                    *trouble = None;
                    *seen_on = Some(record.on);
                    *knowing = Knowing::StillOn;
                }
                if view.outcome == Off::FellOff && since.checked_add_days(BLOCK_HELD).is_some_and(|day| record.on < day)
                {
                    lost_early = Some(what.place());
                }
            }
            !view.outcome.closes()
        });
        if hits == 0 && matches!(view.item, Item::Met(_)) && view.outcome.seen_on() {
            self.open.push((met_item(record, view), Origin::of(record, turn)));
        }
        self.skin(record, view, turn);
        if let Some(place) = lost_early {
            self.lost_early(record, turn, place, courses);
        }
        fits
    }

    fn skin(&mut self, record: &Record, view: &OffView, turn: Option<TurnId>) {
        let origin = Origin::of(record, turn);
        match view.skin {
            SkinState::Raw => {
                let item = OpenItem::LookSoon { of: record.id, place: view.place, since: record.on };
                self.open.push((item, origin));
            }
            SkinState::CutIn => self.push_vet(record, view.place, Sign::CutIn, "", origin),
            SkinState::NotTold | SkinState::Sound => {}
        }
    }

    fn lost_early(&mut self, record: &Record, turn: Option<TurnId>, block: Place, courses: &[Course]) {
        let Some(sore) = block.at_partner() else { return };
        let deep = courses.iter().any(|course| {
            course.end().is_none()
                && course.place.foot() == sore.foot()
                && course.place.side() == sore.side()
                && matches!(course.what(), Finding::SU | Finding::TU | Finding::WLA)
        });
        if deep {
            let item = OpenItem::LookSoon { of: record.id, place: sore, since: record.on };
            self.open.push((item, Origin::of(record, turn)));
        }
    }

    /// The farm called about her, and it is urgent: so is everything that is on her.
    pub(super) fn trouble(&mut self, on: NaiveDate) {
        for (open, _) in &mut self.open {
            if let OpenItem::On { knowing, trouble, .. } = open {
                *trouble = Some(on);
                *knowing = doubted(*knowing);
            }
        }
    }

    /// The farm's word. False where the item is not hers; word about something closed already changes nothing.
    pub(super) fn told(&mut self, item: PutId, by: &str, word: Word, on: NaiveDate) -> bool {
        for (open, _) in &mut self.open {
            if let OpenItem::On { put, knowing, told, trouble, .. } = open
                && *put == item
            {
                match word {
                    Word::Trouble => *trouble = Some(on),
                    Word::Felt => *trouble = None,
                    Word::NoAnswer | Word::Tonight | Word::Off | Word::StillOn | Word::KeeperTold => {}
                }
                *knowing = match word {
                    Word::NoAnswer | Word::Tonight => Knowing::Asked,
                    Word::Off => Knowing::ToldOff,
                    Word::Felt => Knowing::ToldBare,
                    Word::StillOn => Knowing::StillOn,
                    Word::KeeperTold => Knowing::KeeperTold,
                    Word::Trouble => doubted(*knowing),
                };
                *told = Some((by.to_owned(), on));
                return true;
            }
        }
        true
    }

    /// The vet was advised.
    pub(super) fn vet(&mut self, record: &Record, place: Place, sign: Sign, words: &str) {
        let turn = record.event().and_then(Event::turn);
        self.push_vet(record, place, sign, words, Origin::of(record, turn));
    }

    fn push_vet(&mut self, record: &Record, place: Place, sign: Sign, words: &str, origin: Origin) {
        let item = OpenItem::Vet { of: record.id, place, sign, since: record.on, words: words.to_owned() };
        self.open.push((item, origin));
    }

    /// Something came of it. False where nothing of hers was advised by that record.
    pub(super) fn vet_answered(&mut self, advised: RecordId) -> bool {
        let before = self.open.len();
        self.open.retain(|(item, _)| !matches!(item, OpenItem::Vet { of, .. } if *of == advised));
        self.open.len() < before
    }

    /// A day to look again was set.
    pub(super) fn set_by_hand(
        &mut self,
        record: &Record,
        turn: Option<TurnId>,
        place: Place,
        on: NaiveDate,
        words: &str,
    ) {
        let item = OpenItem::SetByHand { of: record.id, place, on, words: words.to_owned() };
        self.open.push((item, Origin::of(record, turn)));
    }

    /// A foot was lifted: looks that were owed on it from other turns are done.
    pub(super) fn foot_lifted(&mut self, turn: TurnId, foot: Foot) {
        self.open.retain(|(item, origin)| !(is_look_owed(item, Some(foot)) && origin.turn != Some(turn)));
    }

    /// A turn was signed off: looks owed on the whole animal from other turns are done.
    pub(super) fn turn_signed(&mut self, turn: TurnId) {
        self.open.retain(|(item, origin)| !(is_look_owed(item, None) && origin.turn != Some(turn)));
    }

    /// The open items, with a recheck for every course that no answer has ended.
    pub(super) fn open(self, courses: &[Course]) -> Vec<OpenItem> {
        let rechecks = courses.iter().filter(|course| course.end().is_none()).map(|course| OpenItem::Recheck {
            case: course.id,
            place: course.place,
            told: course.carried(),
            last: course.last(),
        });
        self.open.into_iter().map(|(item, _)| item).chain(rechecks).collect()
    }
}

/// Trouble where all was said to be off and felt: it is looked for again.
fn doubted(knowing: Knowing) -> Knowing {
    if knowing == Knowing::ToldBare { Knowing::ToldOff } else { knowing }
}

/// A look owed on this foot (or, with none, on the whole animal) that a lifting settles.
fn is_look_owed(item: &OpenItem, foot: Option<Foot>) -> bool {
    match item {
        OpenItem::LookSoon { place, .. } | OpenItem::SetByHand { place, .. } => place.foot() == foot,
        OpenItem::On { .. }
        | OpenItem::Recheck { .. }
        | OpenItem::Lame { .. }
        | OpenItem::Withheld { .. }
        | OpenItem::Vet { .. } => false,
    }
}

/// A removal met by place closes only what was surely there before it: put on on an earlier day, or earlier in the same
/// series. On the same day, from another tablet, nobody knows; the item stays, which is the safe side.
fn surely_before(origin: &Origin, record: &Record, names: &Names) -> bool {
    let (day, _, series, _) = origin.order;
    let one_tablet = series == record.id.series && !names.is_apart(origin.id) && !names.is_apart(record.id);
    day < record.on || (one_tablet && origin.order < record.order())
}

/// Whether what was met and how it was found can be this thing: a wrap anywhere on the foot, a block under that claw.
fn same_thing(what: &Put, outcome: Off, met: Place) -> bool {
    match (what, thing_met(outcome, met)) {
        (Put::Wrap { over, .. }, Thing::Wrap) => over.foot() == met.foot(),
        (Put::Block { .. }, Thing::Block) => what.place() == met,
        (Put::Wrap { .. } | Put::Block { .. } | Put::Dressing { .. }, Thing::Wrap | Thing::Block) => false,
    }
}

enum Thing {
    Wrap,
    Block,
}

/// A block is met under a claw, a wrap round anything else; an outcome of only one of them decides first.
fn thing_met(outcome: Off, met: Place) -> Thing {
    match outcome {
        Off::Bare | Off::Ring | Off::AlreadyOff | Off::LeftOn => Thing::Wrap,
        Off::TakenOff | Off::FellOff | Off::LeftSound | Off::LeftWorn => Thing::Block,
        Off::Replaced | Off::NotFound => match met {
            Place::Claw(_, _) => Thing::Block,
            Place::Animal
            | Place::Above(_)
            | Place::Foot(_)
            | Place::Skin(_, _)
            | Place::Dewclaw(_, _)
            | Place::Horn(_, _, _) => Thing::Wrap,
        },
    }
}

fn on_item(view: &PutView) -> OpenItem {
    OpenItem::On {
        put: view.id,
        what: view.put.clone(),
        since: view.on,
        off_by: view.off_by,
        remover: view.remover.clone(),
        seen_on: None,
        knowing: Knowing::NotHeard,
        told: None,
        trouble: None,
    }
}

/// Something met on the foot, left on, and known to nobody until now.
fn met_item(record: &Record, view: &OffView) -> OpenItem {
    let what = match (thing_met(view.outcome, view.place), view.place) {
        (Thing::Block, Place::Claw(foot, side)) => Put::Block { foot, side, kind: BlockKind::NotTold },
        (Thing::Block | Thing::Wrap, place) => Put::Wrap { over: place, colour: None },
    };
    OpenItem::On {
        put: PutId(record.id),
        what,
        since: record.on,
        off_by: None,
        remover: String::new(),
        seen_on: None,
        knowing: Knowing::StillOn,
        told: None,
        trouble: None,
    }
}

/// More told about something put on, in its turn and on the list. False where nothing of hers is named.
pub(super) fn detail(history: &mut History, items: &mut Items<'_>, put: PutId, detail: &PutDetail) -> bool {
    let mut known = false;
    for view in history.turns.iter_mut().flat_map(|turn| &mut turn.puts).filter(|view| view.id == put) {
        tell(&mut view.put, &mut view.off_by, &mut view.remover, detail);
        known = true;
    }
    for (item, _) in &mut items.open {
        if let OpenItem::On { put: id, what, off_by, remover, .. } = item
            && *id == put
        {
            tell(what, off_by, remover, detail);
            known = true;
        }
    }
    known
}

fn tell(what: &mut Put, off_by: &mut Option<OffBy>, remover: &mut String, detail: &PutDetail) {
    match (detail, what) {
        (PutDetail::OffBy(day), _) => *off_by = Some(*day),
        (PutDetail::Remover(name), _) => name.clone_into(remover),
        (PutDetail::Colour(told), Put::Wrap { colour, .. }) => *colour = Some(*told),
        (PutDetail::Kind(told), Put::Block { kind, .. }) => *kind = *told,
        (PutDetail::Product(told), Put::Dressing { product, .. }) => told.clone_into(product),
        // A colour of a block, a material of a wrap: says nothing.
        (
            PutDetail::Colour(_) | PutDetail::Kind(_) | PutDetail::Product(_),
            Put::Wrap { .. } | Put::Block { .. } | Put::Dressing { .. },
        ) => {}
    }
}

/// Adds what was seen to a turn. The skin is told with its own key after the outcome: the second record of the same outcome
/// says the rest of the first.
pub(super) fn show_off(offs: &mut Vec<OffView>, view: OffView) {
    match offs.iter_mut().find(|off| off.item == view.item && off.skin == SkinState::NotTold) {
        Some(off) if off.outcome == view.outcome => *off = view,
        Some(_) | None => offs.push(view),
    }
}

/// What a removal looked like, with the thing itself where it is hers.
pub(super) fn off_view(history: &History, id: RecordId, item: Item, outcome: Off, skin: SkinState) -> OffView {
    let (put, place) = match item {
        Item::Known(put) => {
            let put = history.put(put).cloned();
            let place = put.as_ref().map_or(Place::Animal, Put::place);
            (put, place)
        }
        Item::Met(place) => (None, place),
    };
    OffView { id, item, put, place, outcome, skin }
}
