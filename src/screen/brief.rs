//! What a choice says in a cell of the pad: in full, then in as few letters as still say it. No word is ever cut.

use crate::domain::event::{Detail, Item, PutDetail};
use crate::domain::finding::{Finding, Stage};
use crate::domain::treatment::{Off, Outcome, Put, Relief, SkinState, Trim, Word};
use crate::domain::vocabulary::Vocabulary;
use crate::keys::context::Context;
use crate::keys::intent::Intent;
use crate::report::short::sign_forms;
use crate::screen::{contact, of_farm, words};
use crate::session::Session;
use crate::session::act::{Act, Ask};
use crate::session::amend;
use crate::session::mode::{Mode, TextFor};
use crate::session::ring::{GIVEN_UP, NOBODY, REST, WORDS};

/// The forms of a choice, fullest first; each is whole words.
pub fn forms(session: &Session, act: &Act) -> Vec<String> {
    let full = words::act(session, act);
    let mut forms = vec![full];
    forms.extend(shorter(session, act).into_iter().filter(|form| !form.is_empty()));
    forms
}

fn shorter(session: &Session, act: &Act) -> Vec<String> {
    let one = |text: &str| vec![words::of(session).fill(text)];
    let two = |text: &str, less: &str| [text, less].map(|text| words::of(session).fill(text)).into();
    match act {
        Act::Find(_, what) => vec![format!("{} {}", what.word(), plain(session, *what)), what.word().to_owned()],
        Act::Tell(_, Detail::Infected(false)) => one("clean"),
        Act::Answer(_, Outcome::NotLooked) => one("not seen"),
        Act::Stage(_, Stage::M0) => one("M0"),
        Act::Seen(Item::Known(_), off) => off_brief(*off).map(one).unwrap_or_default(),
        Act::Seen(Item::Met(place), off) => {
            let what = if place.side().is_some() { "block" } else { "{wrap}" };
            let what = words::of(session).fill(what);
            vec![format!("unknown {what}: {}", off_brief(*off).unwrap_or("off")), format!("other {what}")]
        }
        Act::Skin(_, _, skin) => match skin {
            SkinState::NotTold => Vec::new(),
            SkinState::Sound => one("sound"),
            SkinState::Raw => one("raw"),
            SkinState::CutIn => two("CUT IN: vet today", "CUT IN"),
        },
        Act::Replace(_) => two("new one on", "new"),
        Act::Put(Put::Block { side, .. }) => vec![format!("block {}", side.word().to_uppercase())],
        Act::Put(Put::Wrap { .. }) => two("{wrap}", "{W}"),
        Act::Put(Put::Dressing { .. }) => two("dressing", "salve"),
        Act::PutByOthers(Put::Block { .. }) => two("block by others", "their block"),
        Act::PutByOthers(Put::Wrap { .. }) => two("{wrap} by others", "their {wrap}"),
        Act::PutByOthers(Put::Dressing { .. }) => Vec::new(),
        Act::TellPut(_, PutDetail::Remover(name)) => {
            let here = session.farm.iter().flat_map(|farm| &farm.contacts).map(|one| &one.name);
            contact::name_brief(name, here.chain(&session.used.removers).map(String::as_str))
        }
        Act::TellPut(_, PutDetail::OffBy(promise)) => one(&promise.day.format("%a").to_string().to_uppercase()),
        Act::Trim(_, how) => match how {
            Trim::Routine => Vec::new(),
            Trim::Lowered => one("lower"),
            Trim::LooseHorn => two("loose horn", "loose"),
            Trim::Dewclaw => one("dewclaw"),
        },
        Act::Gait(_) => one("score"),
        Act::Vet(_, sign) => sign_forms(*sign).iter().map(|text| words::of(session).fill(text)).collect(),
        Act::Kicker(false) => one("calm"),
        Act::Cull => one("cull"),
        Act::Sore(_) => one("sore"),
        Act::ClawGone(_, _) => two("claw gone", "gone"),
        Act::Relief(relief) => match relief {
            Relief::Given => two("pain relief", "relief"),
            Relief::Not => two("no relief", "none"),
            Relief::NotKnown => two("relief not known", "relief ?"),
        },
        Act::Recheck(_, on) => vec![format!("look {}d", (*on - session.today).num_days())],
        Act::Ask(asked) => ask_brief(asked).iter().map(|text| words::of(session).fill(text)).collect(),
        Act::Text(TextFor::OwnWords(crate::domain::anatomy::Place::Dewclaw(_, _))) => one("dewclaw"),
        Act::Text(TextFor::OwnWords(crate::domain::anatomy::Place::Above(_))) => one("above"),
        Act::Text(TextFor::OwnWords(_)) => two("own words", "words"),
        Act::Text(TextFor::ForeignBody(_)) => two("nail, wire", "nail"),
        Act::Text(TextFor::Measure(_, _)) => Vec::new(),
        Act::Text(TextFor::VetSaid(_, _)) => one("vet knows"),
        Act::Text(_) => one("type"),
        Act::Word(_, word) => word_brief(*word).iter().map(|text| (*text).to_owned()).collect(),
        Act::Sure(_) => one("her"),
        Act::AnotherOf(_) => one("another"),
        Act::WrongNumber => one("not her"),
        Act::Meant(_) => one("yes"),
        Act::WrapOver(_, _) => vec![words::of(session).fill("salve, {wrap}"), words::of(session).fill("+ {W}")],
        Act::Pass(_) => one("leave"),
        Act::Tell(
            _,
            Detail::Degree(_) | Detail::Subtype(_) | Detail::Infected(true) | Detail::Deep(_) | Detail::Side(_),
        )
        | Act::Answer(_, Outcome::Healed | Outcome::Better | Outcome::Same | Outcome::Worse)
        | Act::Stage(_, _)
        | Act::TellPut(_, _)
        | Act::Stated(_)
        | Act::Kicker(true)
        | Act::Reopen(_, _)
        | Act::AnotherTurn(_)
        | Act::Left(_, _)
        | Act::Back(_)
        | Act::BackIn(_)
        | Act::Stands(_, _)
        | Act::Lift(_)
        | Act::Amend(_) => Vec::new(),
        Act::Farm(act) => of_farm::brief(session, act),
    }
}

/// A finding in one plain word beside its code, as trimmers say it (common practice).
fn plain(session: &Session, what: Finding) -> String {
    words::of(session).fill(match what {
        Finding::AC => "uneven",
        Finding::CD => "concave",
        Finding::CC => "twisted",
        Finding::SC => "crossed",
        Finding::DD => "digital",
        Finding::ID => "skin",
        Finding::IH => "growth",
        Finding::IP => "{foul}",
        Finding::SW => "swollen",
        Finding::DS => "double",
        Finding::TS => "thin",
        Finding::HHE => "eroded",
        Finding::HF | Finding::HFA | Finding::HFH | Finding::HFV => "crack",
        Finding::SH | Finding::SHD | Finding::SHC => "bruise",
        Finding::U | Finding::SU | Finding::BU | Finding::TU => "ulcer",
        Finding::TN => "dead",
        Finding::WL | Finding::WLF | Finding::WLA => "line",
        Finding::ForeignBody => "nail",
        Finding::OwnWords => "words",
    })
}

fn off_brief(off: Off) -> Option<&'static str> {
    match off {
        Off::Bare => Some("bare"),
        Off::Ring => Some("ring"),
        Off::AlreadyOff => Some("was off"),
        Off::TakenOff => Some("off now"),
        Off::FellOff => Some("fell"),
        Off::LeftSound => Some("on, sound"),
        Off::LeftWorn => Some("on, worn"),
        Off::LeftOn => Some("on"),
        Off::NotFound => Some("none"),
        Off::Replaced => Some("new"),
    }
}

fn ask_brief(ask: &Ask) -> &'static [&'static str] {
    match ask {
        Ask::BlockClaw(_) => &["block, which claw?", "block where"],
        Ask::Vet(_, _) => &["more"],
        Ask::Finding(_) => &["new"],
        Ask::Stated(_) => &["days stated", "days"],
        Ask::WrapDay(_) => &["day"],
        Ask::WrapWho(_) => &["who"],
        Ask::Seen(_) => &["look at it", "look"],
        Ask::Amend(_) => &["number, tag", "tag"],
        Ask::Twice(_) => &["no more?"],
        _ => &[],
    }
}

fn word_brief(word: Word) -> &'static [&'static str] {
    match word {
        Word::Felt => &["all off, bare and felt", "off, felt"],
        Word::Off => &["off, they say"],
        Word::StillOn => &["still on"],
        Word::Tonight => &["off tonight"],
        Word::NoAnswer => &["no answer about it", "no answer"],
        Word::KeeperTold => &["sold: new keeper told", "keeper told"],
        Word::Trouble => &["swollen, smells or lamer", "swollen"],
    }
}

/// What an answer of a farm on the telephone is, on its key.
pub fn answer(key: u8) -> Vec<String> {
    let of_word = WORDS.iter().find(|(known, _)| *known == key).map(|(_, word)| word_brief(*word));
    let texts: &[&str] = match key {
        NOBODY => &["nobody answers", "nobody"],
        GIVEN_UP => &["farm given up", "given up"],
        REST => &["the rest here all off and felt", "rest off, felt"],
        _ => of_word.unwrap_or_default(),
    };
    texts.iter().map(|text| (*text).to_owned()).collect()
}

/// What going on does at a question, fullest first.
pub fn go_on(ask: &Ask) -> &'static [&'static str] {
    match ask {
        Ask::About(_) => &["not given", "skip"],
        Ask::WrapDay(_) | Ask::WrapWho(_) => &["later"],
        Ask::Amend(amend::Ask::Wearer(_, _)) => &["not now"],
        _ => &["back"],
    }
}

/// Wishes in fewer letters than the table of intents has for them, where a cell is narrow.
const NARROW: [(Intent, Context, &str); 8] = [
    (Intent::AllSound, Context::Animal, "all"),
    (Intent::HindsSound, Context::Animal, "{hind}"),
    (Intent::RestSound, Context::Animal, "rest"),
    (Intent::Whole, Context::Animal, "her"),
    (Intent::Gait, Context::Animal, "walk"),
    (Intent::GoOn, Context::Animal, "go"),
    (Intent::GoOn, Context::Foot, "done"),
    (Intent::Last, Context::Animal, "last"),
];

/// A wish in a cell, fullest first.
pub fn wish(session: &Session, context: Context, intent: Intent, short: &str) -> Vec<String> {
    if let Intent::Zone(number) = intent {
        return [usize::MAX, 0].map(|room| words::zone(number, room).to_owned()).into();
    }
    if intent == Intent::GoOn && matches!(session.mode, Mode::Walk(_)) {
        return vec!["score".to_owned()];
    }
    if intent == Intent::GoOn && matches!(session.mode, Mode::Herd { .. }) {
        return vec![words::wish(session, intent, short)];
    }
    let narrow = NARROW.iter().filter(|(of, there, _)| *of == intent && *there == context).map(|(_, _, text)| *text);
    std::iter::once(short).chain(narrow).map(|text| words::of(session).fill(text)).collect()
}
