//! The choices of every question, each on its key. One function; the pad is drawn from it and a pick is looked up in it.

use super::Session;
use super::act::{Act, Ask, Choice, KINDS, MEASURES};
use super::amend;
use super::amend::labels::Wears;
use super::mode::{Hand, TextFor};
use super::{back, contact, of_farm, ring, withdrawal};
use crate::domain::anatomy::{Foot, Horn, Place, Side, Skin, Zone};
use crate::domain::contact::named;
use crate::domain::event::{Detail, Item, PutDetail};
use crate::domain::finding::{Degree, Finding, Grade, Scale, Stage};
use crate::domain::herd::{Leaving, Status};
use crate::domain::history::open::OpenItem;
use crate::domain::ids::{CaseId, PutId, RecordId};
use crate::domain::sign_off;
use crate::domain::treatment::{
    BlockKind, Colour, Gait, GaitScale, Milking, Off, OffBy, Outcome, Put, Relief, Sign, SkinState, Trim, Word,
};
use crate::domain::vocabulary::Vocabulary;
use chrono::Days;

/// The key of the point, after 9 and 0.
pub const DOT: u8 = 10;

/// Keys in the order in which a list fills them.
const ORDER: [u8; 11] = [1, 2, 3, 4, 5, 6, 7, 8, 9, 0, DOT];

/// The key that says that a key pressed twice was meant: it lifts no foot and stands on no line of what is on.
const MEANT: u8 = 0;

/// The choices of a question.
pub fn choices(session: &Session, ask: &Ask) -> Vec<Choice> {
    match ask {
        Ask::Finding(place) => in_order(findings(session, *place)),
        Ask::About(found) => about(session, *found),
        Ask::Answer(case) => answer(session, *case),
        Ask::Seen(put) => seen(session, *put),
        Ask::Skin(item, off) => {
            let skins = [SkinState::Sound, SkinState::Raw, SkinState::CutIn];
            in_order(skins.map(|skin| Act::Skin(*item, *off, skin)))
        }
        Ask::WholeFoot(foot, side) => in_order(whole_foot(*foot, *side)),
        Ask::PutOn(hand) => put_on(session, *hand),
        Ask::BlockClaw(foot) => in_order(Side::ALL.iter().map(|side| Act::Put(block(session, *foot, *side)))),
        Ask::BlockKind(put) => in_order(KINDS.map(|kind| Act::TellPut(*put, PutDetail::Kind(kind)))),
        Ask::WrapDay(put) => wrap_day(session, *put),
        Ask::WrapWho(put) => wrap_who(session, *put),
        Ask::WrapColour(put) => {
            in_order(Colour::ALL.iter().map(|colour| Act::TellPut(*put, PutDetail::Colour(*colour))))
        }
        Ask::Product(put) => product(session, *put),
        Ask::Stated(put) => withdrawal::choices(session, *put),
        Ask::TakeOff(foot) => take_off(session, *foot),
        Ask::Trim(foot, side) => {
            let claw = Place::Claw(*foot, *side);
            in_order([
                Act::Trim(Place::Foot(*foot), Trim::Routine),
                Act::Trim(claw, Trim::Lowered),
                Act::Trim(claw, Trim::LooseHorn),
                Act::Trim(Place::Dewclaw(*foot, *side), Trim::Dewclaw),
            ])
        }
        Ask::Gait => gait(session.farm.as_ref().map_or(GaitScale::ZeroToThree, |farm| farm.scale)),
        Ask::Whole(hand) => whole(session, *hand),
        Ask::Vet(place, page) => vet(*place, *page),
        Ask::Measure(place) => in_order(MEASURES.map(|what| Act::Text(TextFor::Measure(*place, what)))),
        Ask::Left(animal, _) => {
            let left = Leaving::ALL.iter().map(|why| Act::Left(*animal, *why));
            let stands = [Status::Dry, Status::InMilk].map(|status| Act::Stands(*animal, status));
            let back = session.has_left(*animal).then_some(Act::Back(*animal));
            in_order(left.chain(stands).chain(back))
        }
        Ask::Told(call) => {
            let word = |(key, word): (u8, Word)| Choice { key, act: Act::Word(*call, word) };
            ring::WORDS.into_iter().map(word).collect()
        }
        Ask::Doubt(act) => in_order([Act::Sure(act.clone()), Act::WrongNumber]),
        Ask::Twice(act) => vec![Choice { key: MEANT, act: Act::Meant(act.clone()) }],
        Ask::Again(animal, turn) => vec![
            Choice { key: 1, act: Act::Reopen(*animal, *turn) },
            Choice { key: 2, act: Act::AnotherTurn(*animal) },
            Choice { key: 3, act: Act::WrongNumber },
            Choice { key: 4, act: Act::Amend(amend::Act::Type(amend::Text::Whose(*animal, *turn))) },
        ],
        Ask::Gone(animal) => back::choices(*animal),
        Ask::Reopen(_, press) => vec![Choice { key: 1, act: Act::Amend(amend::Act::TakeBack(*press)) }],
        Ask::Amend(asked) => amend::choices(session, asked),
        Ask::Farm(asked) => of_farm::choices(session, asked),
        Ask::Settle(line) => line.choices(session),
    }
}

/// The act on a key; none where the key says nothing.
pub fn picked(session: &Session, ask: &Ask, key: u8) -> Option<Act> {
    choices(session, ask).into_iter().find(|choice| choice.key == key).map(|choice| choice.act)
}

pub(super) fn in_order(acts: impl IntoIterator<Item = Act>) -> Vec<Choice> {
    ORDER.into_iter().zip(acts).map(|(key, act)| Choice { key, act }).collect()
}

/// What can be found in a zone, in the order of the day: likeliest first. What needs words stands last.
fn findings(session: &Session, place: Place) -> Vec<Act> {
    let mut acts: Vec<Act> = possible(session, place).into_iter().map(|finding| Act::Find(place, finding)).collect();
    if place.zone().is_some() {
        acts.push(Act::Text(TextFor::ForeignBody(place)));
    }
    acts.push(Act::Text(TextFor::OwnWords(place)));
    acts
}

/// The same without what needs words; outside the zones nothing.
pub fn possible(session: &Session, place: Place) -> Vec<Finding> {
    place.zone().map_or(Vec::new(), |zone| session.likely.order(zone.number()))
}

/// A grade by its own digit, a stage by its own; subtype, depth and infection beside them.
fn about(session: &Session, id: RecordId) -> Vec<Choice> {
    let Some((_, turn)) = session.turn() else { return Vec::new() };
    let Some(found) = turn.found.iter().find(|found| found.id == id) else { return Vec::new() };
    let tell = |key, detail| Choice { key, act: Act::Tell(id, detail) };
    let mut list = match found.what.row().scale {
        Scale::Grade => {
            let grades = Grade::ALL.iter().zip(1_u8..);
            grades.map(|(grade, key)| tell(key, Detail::Degree(Degree::Grade(*grade)))).collect()
        }
        Scale::Stage => STAGES.map(|(key, stage)| tell(key, Detail::Degree(Degree::Stage(stage)))).to_vec(),
        Scale::None => Vec::new(),
    };
    let group = found.what.group();
    let subtypes = found.place.zone().map(|zone| group.subtypes(zone)).unwrap_or_default();
    if subtypes.len() > 1 {
        list.extend(subtypes.into_iter().zip(7_u8..=9).map(|(what, key)| tell(key, Detail::Subtype(what))));
    }
    if found.what == Finding::SW {
        list.extend(Side::ALL.iter().zip(7_u8..).map(|(side, key)| tell(key, Detail::Side(*side))));
    }
    if found.what.row().infectable {
        // Never one key for yes and no: pressed twice it would say nothing.
        list.push(tell(4, Detail::Deep(true)));
        list.push(tell(5, Detail::Infected(true)));
        list.extend(found.deep.then(|| tell(6, Detail::Deep(false))));
        list.extend(found.infected.then(|| tell(0, Detail::Infected(false))));
    }
    list
}

/// Stages on the digit in their name; M4.1, the active corner of M4, on 5.
pub const STAGES: [(u8, Stage); 6] =
    [(0, Stage::M0), (1, Stage::M1), (2, Stage::M2), (3, Stage::M3), (4, Stage::M4), (5, Stage::M41)];

fn answer(session: &Session, id: CaseId) -> Vec<Choice> {
    let Some(course) = session.crush.as_ref().and_then(|crush| crush.history.course(id)) else { return Vec::new() };
    let mut list: Vec<Choice> = match course.what().row().scale {
        Scale::Stage => STAGES.into_iter().map(|(key, stage)| Choice { key, act: Act::Stage(id, stage) }).collect(),
        Scale::Grade | Scale::None => [Outcome::Healed, Outcome::Better, Outcome::Same, Outcome::Worse]
            .into_iter()
            .zip(1_u8..)
            .map(|(outcome, key)| Choice { key, act: Act::Answer(id, outcome) })
            .collect(),
    };
    list.push(Choice { key: 8, act: Act::Answer(id, Outcome::NotLooked) });
    list.push(Choice { key: 9, act: Act::Ask(Ask::Finding(course.place)) });
    list
}

fn seen(session: &Session, put: PutId) -> Vec<Choice> {
    let item = Item::Known(put);
    match on(session, put) {
        Some(Put::Block { .. }) => in_order([
            Act::Seen(item, Off::TakenOff),
            Act::Seen(item, Off::FellOff),
            Act::Seen(item, Off::LeftSound),
            Act::Seen(item, Off::LeftWorn),
            Act::Replace(put),
            Act::Seen(item, Off::NotFound),
        ]),
        Some(Put::Wrap { .. }) => in_order([
            Act::Seen(item, Off::Bare),
            Act::Seen(item, Off::Ring),
            Act::Seen(item, Off::AlreadyOff),
            Act::Seen(item, Off::LeftOn),
            Act::Replace(put),
            Act::Seen(item, Off::NotFound),
        ]),
        Some(Put::Dressing { .. }) | None => Vec::new(),
    }
}

/// What stands on the list under this name.
pub fn on(session: &Session, put: PutId) -> Option<Put> {
    let history = &session.crush.as_ref()?.history;
    history.open.iter().find_map(|item| match item {
        OpenItem::On { put: id, what, .. } if *id == put => Some(what.clone()),
        OpenItem::On { .. }
        | OpenItem::LookSoon { .. }
        | OpenItem::Recheck { .. }
        | OpenItem::SetByHand { .. }
        | OpenItem::Lame { .. }
        | OpenItem::Withheld { .. }
        | OpenItem::Vet { .. } => None,
    })
}

fn whole_foot(foot: Foot, side: Side) -> Vec<Act> {
    let horn = |horn| Place::Horn(foot, side, horn);
    let claw = Place::Claw(foot, side);
    vec![
        Act::Find(horn(Horn::SoleBulb), Finding::SU),
        Act::Find(horn(Horn::Bulb), Finding::HHE),
        Act::Find(Place::Skin(foot, Skin::Cleft), Finding::IH),
        Act::Find(horn(Horn::Bulb), Finding::BU),
        Act::Find(claw, Finding::CC),
        Act::Find(Place::Foot(foot), Finding::AC),
        Act::Find(Place::Foot(foot), Finding::SC),
        Act::Find(claw, Finding::CD),
        Act::Text(TextFor::OwnWords(Place::Dewclaw(foot, side))),
        Act::Text(TextFor::OwnWords(Place::Above(foot))),
        Act::Text(TextFor::OwnWords(Place::Foot(foot))),
    ]
}

/// A block of the kind used last today.
pub fn block(session: &Session, foot: Foot, side: Side) -> Put {
    Put::Block { foot, side, kind: session.used.block.unwrap_or(BlockKind::NotTold) }
}

/// The claw a block belongs on: the sound partner of the sorer claw. None where both are sore, none is, or it is gone.
pub fn partner(session: &Session, foot: Foot) -> Option<Side> {
    let history = &session.crush.as_ref()?.history;
    let sore = |side| sign_off::soreness(history, foot, side);
    let side = match (sore(Side::Outer), sore(Side::Inner)) {
        (outer, 0) if outer > 0 => Side::Inner,
        (0, inner) if inner > 0 => Side::Outer,
        _ => return None,
    };
    sign_off::is_sound(history, foot, side).then_some(side)
}

/// Where a wrap goes: over the skin that the cursor is on, else round the whole foot.
fn wrap(session: &Session, hand: Hand, foot: Foot) -> Put {
    let over = match hand.zone {
        Some(Zone::Skin(skin)) => Place::Skin(foot, skin),
        Some(Zone::Horn(_)) | None => Place::Foot(foot),
    };
    Put::Wrap { over, colour: session.used.colour }
}

fn dressing(session: &Session, hand: Hand, foot: Foot) -> Put {
    let place = hand.place().filter(|place| place.zone().is_some()).unwrap_or(Place::Foot(foot));
    Put::Dressing { place, product: session.used.products.first().cloned().unwrap_or_default() }
}

/// What a hand can put on a foot: the program names the partner of the sorer claw before it is written.
pub fn put_on(session: &Session, hand: Hand) -> Vec<Choice> {
    let Some(foot) = hand.foot else { return Vec::new() };
    let block_act = match partner(session, foot) {
        Some(side) => Act::Put(block(session, foot, side)),
        None => Act::Ask(Ask::BlockClaw(foot)),
    };
    let (wrap, dressing) = (wrap(session, hand, foot), dressing(session, hand, foot));
    let both = wrap_over(session, foot, &dressing, &wrap).map(|act| Choice { key: OVER, act });
    let list = in_order(
        [
            block_act,
            Act::Put(wrap),
            Act::Put(dressing),
            Act::Ask(Ask::BlockClaw(foot)),
            Act::PutByOthers(Put::Wrap { over: Place::Foot(foot), colour: None }),
            Act::PutByOthers(Put::Block { foot, side: hand.side, kind: BlockKind::NotTold }),
        ]
        .into_iter()
        .chain(withdrawal::to_tell(session, foot).map(|put| Act::Ask(Ask::Stated(put)))),
    );
    list.into_iter().chain(both).collect()
}

/// The key of a wrap over a dressing.
const OVER: u8 = 8;

/// The wrap of the day over the product of the day, as it is mostly done. Only where neither is on yet, and nothing is to be
/// asked about the product: under a wrap that would be lost.
fn wrap_over(session: &Session, foot: Foot, dressing: &Put, wrap: &Put) -> Option<Act> {
    let product = session.used.products.first()?;
    let (_, turn) = session.turn()?;
    let block = |put: &Put| matches!(put, Put::Block { .. });
    let bare = turn.puts.iter().all(|view| view.put.foot() != Some(foot) || block(&view.put));
    let asks = withdrawal::is_medicine(session, product);
    (bare && !asks).then(|| Act::WrapOver(dressing.clone(), wrap.clone()))
}

/// Days on their own digits; none is taken silently.
fn wrap_day(session: &Session, put: PutId) -> Vec<Choice> {
    let day = |key: u8, milking| {
        let day = session.today + Days::new(u64::from(key));
        Act::TellPut(put, PutDetail::OffBy(OffBy { day, milking }))
    };
    [1, 2, 3, 5].into_iter().map(|key| Choice { key, act: day(key, Milking::Evening) }).collect()
}

/// The farm's people first, each always on the same key; then who else was named today.
fn wrap_who(session: &Session, put: PutId) -> Vec<Choice> {
    let here = session.farm.as_ref().map_or(&[][..], |farm| &farm.contacts);
    let used = session.used.removers.iter().filter(|name| named(here, name).is_none());
    let names = here.iter().map(|one| &one.name).chain(used).cloned();
    let acts = names.map(|name| Act::TellPut(put, PutDetail::Remover(name)));
    contact::offered(acts, Act::Text(TextFor::Remover(put)))
}

fn product(session: &Session, put: PutId) -> Vec<Choice> {
    let names = session.used.products.iter().take(8).cloned();
    let mut list = in_order(names.map(|name| Act::TellPut(put, PutDetail::Product(name))));
    list.push(Choice { key: 0, act: Act::Text(TextFor::Product(put)) });
    list
}

/// What is on a foot, then what nobody here knew of.
fn take_off(session: &Session, foot: Foot) -> Vec<Choice> {
    let known = items_on(session, foot).into_iter().map(|put| Act::Ask(Ask::Seen(put)));
    let met = [
        Act::Seen(Item::Met(Place::Foot(foot)), Off::Bare),
        Act::Seen(Item::Met(Place::Foot(foot)), Off::Ring),
        Act::Seen(Item::Met(Place::Claw(foot, Side::Outer)), Off::TakenOff),
        Act::Seen(Item::Met(Place::Claw(foot, Side::Inner)), Off::TakenOff),
    ];
    in_order(known.chain(met))
}

/// Wraps and blocks that stand on the list for a foot.
pub fn items_on(session: &Session, foot: Foot) -> Vec<PutId> {
    let Some(crush) = &session.crush else { return Vec::new() };
    crush
        .history
        .open
        .iter()
        .filter_map(|item| match item {
            OpenItem::On { put, what, .. } if what.foot() == Some(foot) => Some(*put),
            OpenItem::On { .. }
            | OpenItem::LookSoon { .. }
            | OpenItem::Recheck { .. }
            | OpenItem::SetByHand { .. }
            | OpenItem::Lame { .. }
            | OpenItem::Withheld { .. }
            | OpenItem::Vet { .. } => None,
        })
        .collect()
}

fn gait(scale: GaitScale) -> Vec<Choice> {
    scale.range().map(|score| Choice { key: score, act: Act::Gait(Gait { scale, score }) }).collect()
}

fn whole(session: &Session, hand: Hand) -> Vec<Choice> {
    let kicker = session.crush.as_ref().is_some_and(|crush| crush.history.kicker);
    let place = hand.place().unwrap_or(Place::Animal);
    let weeks = |weeks: u64| Act::Recheck(place, session.today + Days::new(weeks * 7));
    // Pressed twice it is asked, not taken back.
    let kicks = if kicker { Act::Ask(Ask::Twice(Box::new(Act::Kicker(false)))) } else { Act::Kicker(true) };
    let mut acts = vec![
        kicks,
        Act::Cull,
        Act::Relief(Relief::Given),
        Act::Relief(Relief::Not),
        Act::Relief(Relief::NotKnown),
        weeks(1),
        weeks(2),
        weeks(4),
    ];
    match (hand.foot, &session.crush) {
        (Some(foot), _) => acts.extend([Act::Sore(place), Act::ClawGone(foot, hand.side)]),
        (None, Some(crush)) => {
            let wears = Wears { animal: crush.animal, labels: crush.history.labels.clone() };
            // Whom she was joined with is taken apart on Today: with her turn under way nobody knows whose it would be.
            acts.push(Act::Ask(Ask::Amend(amend::Ask::Labels(wears, Vec::new()))));
        }
        (None, None) => {}
    }
    let mut list = in_order(acts);
    list.push(Choice { key: DOT, act: Act::WrongNumber });
    list
}

/// Stop signs, nine a page.
fn vet(place: Place, page: u8) -> Vec<Choice> {
    let signs = Sign::ALL.iter().skip(usize::from(page) * 9).take(9);
    let mut list: Vec<Choice> =
        signs.zip(1_u8..).map(|(sign, key)| Choice { key, act: Act::Vet(place, *sign) }).collect();
    let pages = Sign::ALL.len().div_ceil(9) as u8;
    list.push(Choice { key: 0, act: Act::Ask(Ask::Vet(place, (page + 1) % pages)) });
    list
}
