//! What is put on and how it came off: `LH heel wrap blue off by 17 May evening by "Tom"`, `LH inner block fell off`.

use super::Mistake;
use super::day;
use super::mistake::{did_you_mean, safe};
use super::place;
use super::reader::{Reader, choices, plain};
use super::words::{MILKINGS, OFFS, all, first_word, look_up, printed};
use crate::domain::anatomy::Place;
use crate::domain::sheet::{Fact, Thing};
use crate::domain::treatment::{BlockKind, Colour, Milking, Off, OffBy, Put, SkinState};
use crate::domain::vocabulary::Vocabulary;

/// Reads the rest of a line after the place, where a wrap, block or dressing comes next; none where none does.
pub(super) fn read(reader: &mut Reader, place: Place) -> Result<Option<Fact>, Mistake> {
    let at = reader.at();
    if reader.take("dressing") {
        on_a_foot(reader, at, place, "a dressing")?;
        let product = reader.words();
        return put(reader, Put::Dressing { place, product }).map(Some);
    }
    let Some(thing) = reader.member::<Thing>() else {
        return Ok(None);
    };
    on_a_foot(reader, at, place, &format!("a {}", printed(thing)))?;
    if let Some(fact) = off(reader, thing, place)? {
        return Ok(Some(fact));
    }
    match thing {
        Thing::Wrap => wrap(reader, place),
        Thing::Block => block(reader, at, place),
    }
    .map(Some)
}

fn on_a_foot(reader: &Reader, at: usize, place: Place, what: &str) -> Result<(), Mistake> {
    match place.foot() {
        Some(_) => Ok(()),
        None => Err(reader.stumble_at(at, format!("{what} on which foot?"), "write the foot first: LH, RH, LF or RF")),
    }
}

/// How it was found. "off" alone is refused: only what was seen bare all round is known to be off.
fn off(reader: &mut Reader, thing: Thing, place: Place) -> Result<Option<Fact>, Mistake> {
    let at = reader.at();
    let Some(outcome) = reader.longest(|word| look_up(OFFS, word)) else {
        if reader.take("off") && !reader.take("by") {
            return Err(how_off(reader, at, thing));
        }
        reader.back_to(at);
        return Ok(None);
    };
    if !thing.can_be(outcome) {
        return Err(how_off(reader, at, thing));
    }
    let mut skin = SkinState::NotTold;
    if reader.take("skin") {
        skin = reader.need::<SkinState>()?;
    }
    reader.finish(&plain(&["skin sound", "skin raw", "skin cut in"]))?;
    Ok(Some(Fact::Off { thing, place, outcome, skin }))
}

fn how_off(reader: &Reader, at: usize, thing: Thing) -> Mistake {
    let ways: Vec<String> =
        Off::ALL.iter().filter(|off| thing.can_be(**off)).map(|off| first_word(OFFS, *off)).collect();
    let name = printed(thing);
    reader.stumble_at(at, format!("how was the {name} found?"), format!("write {name} and one of: {}", ways.join(", ")))
}

fn wrap(reader: &mut Reader, place: Place) -> Result<Fact, Mistake> {
    let colour = reader.member::<Colour>();
    let over = over(reader, place)?;
    put(reader, Put::Wrap { over, colour })
}

/// "over heel", "over outer", "over outer 4": what the wrap covers, where the line began with the foot alone.
fn over(reader: &mut Reader, place: Place) -> Result<Place, Mistake> {
    let at = reader.at();
    if !reader.take("over") {
        return Ok(place);
    }
    match place {
        Place::Foot(foot) => place::on_foot(reader, foot),
        Place::Animal
        | Place::Above(_)
        | Place::Skin(_, _)
        | Place::Claw(_, _)
        | Place::Dewclaw(_, _)
        | Place::Horn(_, _, _) => Err(reader.stumble_at(
            at,
            "the place is told twice",
            "take out \"over ...\" or write the foot alone in front",
        )),
    }
}

fn block(reader: &mut Reader, at: usize, place: Place) -> Result<Fact, Mistake> {
    let Place::Claw(foot, side) = place else {
        let foot = place.foot().map(printed).unwrap_or_default();
        let instead = format!("write {foot} inner block ... or {foot} outer block ...");
        return Err(reader.stumble_at(at, "a block goes under one claw: which one?", instead));
    };
    let kind = reader.need::<BlockKind>()?;
    put(reader, Put::Block { foot, side, kind })
}

/// Reads what may follow anything put on: by when off, by whom, who put it on.
fn put(reader: &mut Reader, put: Put) -> Result<Fact, Mistake> {
    let mut off_by = None;
    let (mut remover, mut by_others) = (String::new(), String::new());
    loop {
        if reader.take("off by") {
            // `off by "Tom"`: a name, not a day.
            match reader.at_quote() {
                true => remover = reader.words(),
                false => off_by = Some(promised(reader)?),
            }
        } else if reader.take("put on by") {
            by_others = reader.text("who put it on")?;
        } else if reader.take("by") {
            remover = reader.text("who takes it off")?;
        } else {
            break;
        }
    }
    let mut more = plain(&["off by", "by", "put on by"]);
    match &put {
        Put::Wrap { colour: None, .. } => more.extend(all::<Colour>()),
        Put::Wrap { .. } | Put::Block { .. } | Put::Dressing { .. } => {}
    }
    reader.finish(&more)?;
    Ok(Fact::Put { put, off_by, remover, by_others })
}

fn promised(reader: &mut Reader) -> Result<OffBy, Mistake> {
    let day = day::to_come(reader)?;
    let milking = reader.longest(|word| look_up(MILKINGS, word)).unwrap_or(Milking::Any);
    Ok(OffBy { day, milking })
}

/// What was said about a wrap or block, for a line outside a turn; the words for a message.
pub(super) fn unknown_thing(reader: &Reader) -> Mistake {
    let things = choices(Thing::ALL.iter().copied());
    match reader.peek() {
        Some(token) => {
            reader.stumble(format!("{} is not understood here", safe(&token.text)), did_you_mean(&token.text, &things))
        }
        None => reader.stumble("what about that foot?", "write wrap or block and what was said"),
    }
}
