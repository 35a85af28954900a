//! Words of the screens: choices, questions, refusals, the last line. Words of the trade come from the report's table.

use super::page::UNBROKEN;
use crate::claw_map::marks::Tone;
use crate::domain::anatomy::{Foot, Place};
use crate::domain::backup::Lag;
use crate::domain::day::NoDay;
use crate::domain::event::{Gap, Item, PutDetail};
use crate::domain::finding::{Finding, Stage};
use crate::domain::herd::{Leaving, Status};
use crate::domain::history::course::Course;
use crate::domain::history::open::{Knowing, OpenItem};
use crate::domain::ids::{AnimalId, PutId};
use crate::domain::record::Moment;
use crate::domain::travel::Caution;
use crate::domain::treatment::{Off, Put};
use crate::domain::vocabulary::Vocabulary;
use crate::keys::intent::Intent;
use crate::report::safe::safe;
use crate::report::withheld;
use crate::report::words::{self, Words};
use crate::screen::{View, amend, brief, herd_list, of_farm, saved, visit};
use crate::session::act::{Act, Ask};
use crate::session::amend::Ask as AmendAsk;
use crate::session::herd::{Ask as HerdAsk, Page};
use crate::session::mode::{Mode, Only, TextFor};
use crate::session::of_farm::Ask as FarmAsk;
use crate::session::sign_off::{Check, Line};
use crate::session::walk::scale;
use crate::session::{Dropped, Notice, Refusal, Session};

/// The words of the practice's region.
pub fn of(session: &Session) -> Words {
    Words(session.practice.region)
}

/// What a choice says, shortest first: the pad takes the first that fits.
pub fn act(session: &Session, act: &Act) -> String {
    let words = of(session);
    match act {
        Act::Find(_, what) => finding(*what),
        Act::Tell(_, detail) => words::detail(*detail),
        Act::Answer(_, outcome) => words::outcome(*outcome).to_owned(),
        Act::Stage(_, Stage::M0) => "M0, healed".to_owned(),
        Act::Stage(_, stage) => stage.word().to_owned(),
        Act::Seen(Item::Known(_), off) => seen(*off).to_owned(),
        Act::Seen(Item::Met(place), off) => format!("unknown, {}: {}", words.place(*place), words::off(*off)),
        Act::Skin(_, _, skin) => words::skin(*skin).to_owned(),
        Act::Replace(_) => "replaced by new".to_owned(),
        Act::Put(put @ Put::Block { side, .. }) => format!("{} on {}", words.put(put), side.word().to_uppercase()),
        Act::Put(put) => words.put(put),
        Act::WrapOver(dressing, wrap) => format!("{} over {}", words.put(wrap), words.put(dressing)),
        Act::PutByOthers(put) => format!("{} by others", words.put(put)),
        Act::TellPut(_, PutDetail::OffBy(promise)) => words::weekday(promise.day),
        Act::TellPut(_, PutDetail::Remover(name)) => safe(name),
        Act::TellPut(_, detail) => words::put_detail(detail),
        Act::Stated(stated) => withheld::days(stated),
        Act::Trim(_, how) => words::trim(*how).to_owned(),
        Act::Gait(gait) => format!("score {}", gait.score),
        Act::Vet(_, sign) => words.sign(*sign).to_owned(),
        Act::Kicker(true) => "kicks".to_owned(),
        Act::Kicker(false) => "kicks no more".to_owned(),
        Act::Cull => "farmer says cull".to_owned(),
        Act::Sore(_) => "sore to testers".to_owned(),
        Act::ClawGone(_, side) => format!("{} claw gone", side.word()),
        Act::Relief(relief) => words::relief(*relief).to_owned(),
        Act::Recheck(_, on) => format!("look {}", words::weekday(*on)),
        Act::Ask(asked) => asked_for(session, asked),
        Act::Text(TextFor::OwnWords(Place::Dewclaw(_, _))) => "dewclaw, in words".to_owned(),
        Act::Text(TextFor::OwnWords(Place::Above(_))) => "above the foot".to_owned(),
        Act::Text(TextFor::OwnWords(Place::Foot(_))) => "foot, own words".to_owned(),
        Act::Text(TextFor::OwnWords(_)) => "own words".to_owned(),
        Act::Text(TextFor::ForeignBody(_)) => "nail, wire, stone".to_owned(),
        Act::Text(TextFor::Measure(_, what)) => words::measure(*what).to_owned(),
        Act::Text(TextFor::VetSaid(_, _)) => "the vet knows: say what".to_owned(),
        Act::Text(_) => "type it".to_owned(),
        Act::AnotherTurn(_) => "in once more".to_owned(),
        Act::Reopen(_, _) => "open her again".to_owned(),
        Act::Left(_, why) => match why {
            Leaving::Gone => "gone, not told how",
            Leaving::Sold => "sold",
            Leaving::Died => "died",
            Leaving::Slaughter => "to slaughter",
        }
        .to_owned(),
        Act::Back(_) | Act::BackIn(_) => "she is back".to_owned(),
        Act::AnotherOf(_) => "another, new here".to_owned(),
        Act::Stands(_, status) => match status {
            Status::Dry => "dried off",
            Status::InMilk => "in milk again",
            Status::Heifer => "heifer",
            Status::Male => "bull or steer",
        }
        .to_owned(),
        Act::Word(_, word) => words::word(*word).to_owned(),
        Act::Sure(_) => "it is her".to_owned(),
        Act::Meant(act) => format!("yes, {}", self::act(session, act)),
        Act::WrongNumber => "wrong number".to_owned(),
        Act::Lift(foot) => format!("lift {}", words.foot(*foot)),
        Act::Pass(_) => "leave it open".to_owned(),
        Act::Amend(act) => amend::act(session, act),
        Act::Farm(act) => of_farm::act(session, act),
    }
}

/// How something was found, in the room of a choice on the smallest screen.
fn seen(off: Off) -> &'static str {
    match off {
        Off::Bare => "all off and bare",
        Off::Ring => "ring: cut off now",
        Off::AlreadyOff => "already off, bare",
        Off::TakenOff | Off::FellOff | Off::Replaced | Off::LeftSound | Off::LeftWorn | Off::LeftOn | Off::NotFound => {
            words::off(off)
        }
    }
}

fn finding(what: Finding) -> String {
    format!("{} {}", what.word(), what.row().name)
}

fn asked_for(session: &Session, ask: &Ask) -> String {
    let words = of(session);
    match ask {
        Ask::Seen(put) => crate::session::choices::on(session, *put)
            .map_or("this one".to_owned(), |put| format!("{} {}", words.place(put.place()), words.put(&put))),
        Ask::BlockClaw(_) => "block: which claw?".to_owned(),
        Ask::Vet(_, _) => "more signs".to_owned(),
        Ask::WrapDay(_) => "say the day".to_owned(),
        Ask::WrapWho(_) => "say who".to_owned(),
        Ask::Finding(_) => "something new".to_owned(),
        Ask::Stated(_) => words.fill("{withdrawal} stated"),
        Ask::Twice(act) => self::act(session, act),
        Ask::Amend(AmendAsk::Labels(_, _)) => "new number, tag".to_owned(),
        _ => title(session, ask),
    }
}

/// The heading of a question.
pub fn title(session: &Session, ask: &Ask) -> String {
    let words = of(session);
    match ask {
        Ask::Finding(place) => words.place(*place),
        Ask::About(id) => about(session, *id),
        Ask::Answer(id) => match crate::session::ghost::case(session, *id) {
            Some(case) => format!(
                "{} {}d?",
                join(&words.place(case.place), &words::finding(case.what, case.degree, &case.words)),
                (session.today - case.last).num_days()
            ),
            None => "last time's mark?".to_owned(),
        },
        Ask::Seen(id) => match crate::session::choices::on(session, *id) {
            Some(put) => format!("{}{} {}?", look_for(session, *id, &put), words.place(put.place()), words.put(&put)),
            None => "what was on?".to_owned(),
        },
        Ask::Skin(_, _) => "skin under it?".to_owned(),
        Ask::WholeFoot(foot, side) => format!("{} {}, or by name", words.foot(*foot), side.word()),
        Ask::PutOn(hand) => format!("put on {}", hand.foot.map_or("", |foot| words.foot(foot))),
        Ask::BlockClaw(foot) => format!("{} block: no sound partner known", words.foot(*foot)),
        Ask::BlockKind(_) => "block of?".to_owned(),
        Ask::WrapDay(_) => words.fill(&format!("{{WRAP}}: off by when? rule {} d", session.rule_set().wrap.off)),
        // Nobody handles a dry animal daily (common practice): somebody has to fetch her.
        Ask::WrapWho(_) if is_dry(session) => "DRY: who fetches her?".to_owned(),
        Ask::WrapWho(_) => words.fill("{WRAP}: who takes it off?"),
        Ask::WrapColour(_) => words.fill("{wrap} colour?"),
        Ask::Product(_) => "dressed with?".to_owned(),
        Ask::Stated(_) => words.fill("{withdrawal} stated?"),
        Ask::TakeOff(foot) => format!("off {}", words.foot(*foot)),
        Ask::Trim(foot, side) => format!("trimmed {} {}", words.foot(*foot), side.word()),
        Ask::Gait => words.fill("{gait}: how does she walk?"),
        Ask::Whole(_) => "the animal".to_owned(),
        Ask::Vet(_, _) => "STOP: let her down, vet".to_owned(),
        Ask::Measure(_) => "measure".to_owned(),
        Ask::Left(animal, _) => {
            let number = session.open.iter().find(|open| open.animal == *animal).map(|open| &open.labels.number);
            let line = session.herd.iter().find(|line| line.id == *animal).map(|line| &line.labels.number);
            format!("{}: what became of her?", line.or(number).map_or(String::new(), |number| safe(number)))
        }
        Ask::Told(call) => match crate::session::ring::told(session, call) {
            Some(item) => format!("{}: what do they say?", words.place(item.place())),
            None => "what do they say?".to_owned(),
        },
        Ask::Doubt(act) => doubt(session, act),
        Ask::Twice(act) if matches!(**act, Act::Kicker(_)) => "she kicks: no more?".to_owned(),
        Ask::Twice(meant) => format!("same key twice: {}?", act(session, meant)),
        Ask::Again(animal, _) => {
            let line = session.herd.iter().find(|line| line.id == *animal);
            let her = line.map_or("she".to_owned(), |line| crate::report::due::called(&line.labels));
            let days = session.visits.under_way().map_or(1, |visit| visit.days.len());
            format!("{her} was in {}", if days > 1 { "already" } else { "today" })
        }
        Ask::Gone(animal) => gone(session, *animal),
        Ask::Reopen(animal, press) => {
            let line = session.herd.iter().find(|line| line.id == *animal);
            let press = session.trail.iter().find(|known| known.id == *press);
            let what = press.map_or(String::new(), |press| saved::press(session, &press.records));
            let number = line.map_or(String::new(), |line| safe(&line.labels.number));
            format!("{number}: go back to her to take back \"{what}\"?")
        }
        Ask::Settle(check) => self::check(session, *check),
        Ask::Amend(asked) => amend::title(session, asked),
        Ask::Farm(asked) => of_farm::title(session, asked),
    }
}

/// That she is known to be gone, and how.
fn gone(session: &Session, animal: AnimalId) -> String {
    let line = session.herd.iter().find(|line| line.id == animal);
    let her = line.map_or("she".to_owned(), |line| crate::report::due::called(&line.labels));
    let how = match line.and_then(|line| line.left) {
        Some(Leaving::Sold) => "was sold",
        Some(Leaving::Died) => "DIED",
        Some(Leaving::Slaughter) => "went to slaughter",
        Some(Leaving::Gone) | None => "is gone",
    };
    format!("{her} {how}: is she back?")
}

/// What the farm said of it is looked at before anything is believed: a cut wrap can leave a ring that tightens.
fn look_for(session: &Session, id: PutId, put: &Put) -> &'static str {
    let open = session.crush.as_ref().map_or(&[][..], |crush| &crush.history.open);
    let told = open.iter().any(
        |item| matches!(item, OpenItem::On { put, knowing: Knowing::ToldOff | Knowing::ToldBare, .. } if *put == id),
    );
    match put {
        Put::Wrap { .. } if told => "LOOK FOR A RING: ",
        Put::Block { .. } if told => "TOLD OFF, LOOK: ",
        Put::Wrap { .. } | Put::Block { .. } | Put::Dressing { .. } => "",
    }
}

/// What is said aloud before a choice is made.
pub fn shouts(ask: &Ask) -> Vec<String> {
    if let Ask::Amend(asked) = ask {
        return amend::doubt(asked).into_iter().collect();
    }
    if let Ask::Farm(FarmAsk::Visit(asked)) = ask {
        return visit::shouts(asked);
    }
    let Ask::Left(_, cautions) = ask else { return Vec::new() };
    let said = cautions.iter().map(|caution| match caution {
        Caution::VeryLame(gait) => format!("VERY LAME, {} on {}", gait.score, gait.scale.word()),
        Caution::Meat(until) => format!("MEDICINE: NO MEAT UNTIL {} IS OVER, as stated", words::weekday(*until)),
    });
    let last = (!cautions.is_empty()).then(|| "sold or to slaughter: fitness to travel is for the vet".to_owned());
    said.chain(last).collect()
}

/// What is worth knowing beside a question.
pub fn note(session: &Session, ask: &Ask) -> Option<String> {
    if let Ask::Farm(FarmAsk::Visit(asked)) = ask {
        return visit::note(session, asked);
    }
    if let Ask::Farm(FarmAsk::Herd(HerdAsk::List(asked))) = ask {
        return herd_list::note(session, *asked);
    }
    if let Ask::Stated(_) = ask {
        return Some(of(session).fill(withheld::ONLY_THE_VET));
    }
    let foot = if let Ask::PutOn(hand) = ask { hand.foot } else { wrapped_now(session, ask) }?;
    let sole_ulcer = |course: &Course| course.what() == Finding::SU && course.place.foot() == Some(foot);
    session.crush.as_ref()?.history.open_courses().any(sole_ulcer).then(|| of(session).fill(OPEN_ULCERS))
}

/// Healed at week 4 in the one trial there is: 19 of 32 sole ulcers left open, 7 of 24 under a wrap.
const OPEN_ULCERS: &str = "in one trial 19 of 32 sole ulcers healed open, 7 of 24 under a {wrap}";

/// The foot of the wrap that a day is asked for.
fn wrapped_now(session: &Session, ask: &Ask) -> Option<Foot> {
    let Ask::WrapDay(put) = ask else { return None };
    crate::session::choices::on(session, *put)?.foot()
}

/// Why the number is doubted.
fn doubt(session: &Session, act: &Act) -> String {
    let number = session.her_labels().number;
    let why = match act {
        Act::Seen(Item::Known(put), _) => match crate::session::choices::on(session, *put) {
            Some(put) => format!("{} {} should be on", of(session).foot_of(put.place()), of(session).put(&put)),
            None => "something should be on".to_owned(),
        },
        _ => "the book knows of none".to_owned(),
    };
    format!("{why}. Is this {}?", safe(&number))
}

fn about(session: &Session, id: crate::domain::ids::RecordId) -> String {
    let found = session.turn().and_then(|(_, turn)| turn.found.iter().find(|found| found.id == id));
    match found {
        Some(found) => join(&of(session).place(found.place), &words::finding(found.what, found.degree, &found.words)),
        None => "finding".to_owned(),
    }
}

fn join(one: &str, other: &str) -> String {
    format!("{one} {other}")
}

fn is_dry(session: &Session) -> bool {
    session.crush.as_ref().is_some_and(|crush| crush.history.herd.status == Some(Status::Dry))
}

/// How many lines of the due list are shown, and which.
pub fn only(only: Only, count: usize) -> String {
    match only {
        Only::All => format!("{count} items"),
        Only::Farm => format!("{count} items of this farm"),
        Only::LeftOn => format!("{count} still on"),
        Only::Late => format!("{count} late or urgent"),
    }
}

/// A line of the sign-off.
pub fn check(session: &Session, line: Line) -> String {
    let words = of(session);
    let thing = match crate::session::choices::on(session, PutId(line.of)) {
        Some(put) => format!("{} {}", words.place(put.place()), words.put(&put)),
        None => words.place(line.place),
    };
    match line.check {
        Check::StillOn => format!("{thing} was not looked at"),
        Check::WrapDay => format!("{thing}: no day to be off"),
        Check::WrapWho => format!("{thing}: nobody takes it off"),
        Check::BlockDoubt => format!("{thing}: this claw is sore"),
        Check::Stop => format!("{thing} STOP SIGN: has the vet been told?"),
    }
}

/// What a text is typed for.
pub fn prompt(session: &Session, what: &TextFor) -> String {
    let words = of(session);
    match what {
        TextFor::Note(place) => format!("note, {}", words.place(*place)),
        TextFor::OwnWords(place) => format!("found, {}, in own words", words.place(*place)),
        TextFor::ForeignBody(place) => format!("what is in {}", words.place(*place)),
        TextFor::Product(_) => "dressed with".to_owned(),
        TextFor::Stated(_) => "days stated, and who did: milk 2 meat 10 label".to_owned(),
        TextFor::Remover(_) => words.fill("who takes the {wrap} off"),
        TextFor::Measure(place, what) => format!("{} {}, mm", words.place(*place), words::measure(*what)),
        TextFor::Who => "who records".to_owned(),
        TextFor::FarmName => "name of the new farm".to_owned(),
        TextFor::VetSaid(_, _) => "what the vet did or said".to_owned(),
        TextFor::Answers(_) => "who answers the telephone".to_owned(),
        TextFor::HandedTo(_) => "farm given up: the list goes to".to_owned(),
        TextFor::FarmNote => "note about the farm".to_owned(),
        TextFor::Amend(text) => amend::prompt(text),
        TextFor::Farm(text) => of_farm::prompt(session, text),
        TextFor::Group => "unknown numbers are new, in group".to_owned(),
    }
}

/// The last line: what was saved and when, or why not.
pub fn notice(session: &Session, view: &View<'_>, notice: &Notice) -> String {
    match notice {
        Notice::Saved { press, at } => format!("saved {} {}", time(*at), saved::press(session, press)),
        Notice::Refused(refusal) => self::refusal(session, view, refusal),
        Notice::Spelled(spelled) => {
            let key = key(session, view, Intent::TakeOff);
            format!("was {} the next animal? {key} takes those keys back", safe(&spelled.number))
        }
        Notice::Words(text) => safe(text),
        Notice::Saving => "saving ... wait".to_owned(),
        Notice::NotSaved(why) => format!("NOT SAVED, any key tries again: {}", safe(why)),
    }
}

/// What stands at the head of every screen while paper is typed up.
pub fn paper(session: &Session) -> String {
    format!("PAPER of {}", words::weekday_by(session.today, session.really()))
}

/// Days after that of the paper on which she was in the crush.
pub fn later(session: &Session) -> Option<String> {
    let days: Vec<String> = session.later.iter().map(|on| words::day(*on)).collect();
    (!days.is_empty()).then(|| format!("later: {}", days.join(", ")))
}

/// Who records, where more than one may.
pub fn recorder(session: &Session) -> Option<String> {
    let [_, _, ..] = session.people.as_slice() else { return None };
    let name = session.people.iter().find(|(id, _)| Some(*id) == session.by).map(|(_, name)| name.as_str());
    Some(safe(name.unwrap_or("nobody")))
}

/// A press that did not count.
pub fn dropped(dropped: Dropped) -> String {
    match dropped {
        Dropped::Again(key) => format!("2nd {} ignored", safe(&key.to_string())),
        Dropped::Late(key) => format!("{} ignored", safe(&key.to_string())),
    }
}

/// How many marks of last time wait, and the key that goes to the next.
pub fn ghosts(session: &Session, view: &View<'_>, count: usize) -> String {
    let marks = if count == 1 { "MARK" } else { "MARKS" };
    let keys = view.keymap.keys_for(session.mode.context(), Intent::NextGhost);
    match keys.first() {
        // The keys of a sequence stay on one line.
        Some(key) => format!("{count} OLD {marks}: {} ANSWERS", key.replace(' ', UNBROKEN)),
        None => format!("{count} OLD {marks}"),
    }
}

/// How it stands with backups, where that is to be said without being asked: what is wrong as a warning.
pub fn backup(session: &Session, view: &View<'_>) -> Option<(String, Tone)> {
    let keeping = session.backup.as_ref()?;
    let how = match keeping.named {
        true => format!("{} makes one", key(session, view, Intent::Backup)),
        false => "name a folder in practice.toml".to_owned(),
    };
    match (keeping.trouble.as_str(), keeping.lag) {
        _ if keeping.under_way => Some(("backing up".to_owned(), Tone::Note)),
        ("", None) => None,
        ("", Some(Lag::Never)) => Some((format!("no backup of this book yet: {how}"), Tone::Note)),
        ("", Some(Lag::Since(day))) => Some((format!("no backup since {}: {how}", words::day(day)), Tone::Warn)),
        (trouble, _) => Some((safe(trouble), Tone::Warn)),
    }
}

/// How it stands with backups, for whoever looks.
pub fn backup_state(session: &Session, view: &View<'_>) -> Option<String> {
    let keeping = session.backup.as_ref()?;
    let last = keeping.last.map(|last| format!("backup of {}, {} records", words::day(last.on), last.count));
    Some(match backup(session, view) {
        Some((said, _)) => said,
        None => last.unwrap_or_else(|| "no backup yet".to_owned()),
    })
}

/// The first key for an intent here.
pub fn key(session: &Session, view: &View<'_>, intent: Intent) -> String {
    let keys = view.keymap.keys_for(session.mode.context(), intent);
    keys.into_iter().next().unwrap_or_else(|| "no key".to_owned())
}

/// A wish in the last row, as it is meant on this very screen.
pub fn wish(session: &Session, intent: Intent, short: &str) -> String {
    let text = match (&session.mode, intent) {
        // The list is walked by its lines; that of her turns is gone back from.
        (Mode::Last { .. } | Mode::Always { .. } | Mode::Paper { .. } | Mode::Totals { .. }, Intent::GoOn) => "back",
        (Mode::Card { .. } | Mode::Herd { page: Page::Her(_), .. }, Intent::GoOn) => "change",
        (Mode::Herd { page: Page::List, .. }, Intent::GoOn) => "take it?",
        (Mode::Due { .. }, Intent::GoOn) if session.crush.is_some() => "back",
        (Mode::Walk(_), Intent::GoOn) => "score",
        (Mode::Pad { ask: Ask::About(_), .. }, Intent::TakeOff) => "off again",
        (Mode::Pad { ask, .. }, Intent::GoOn) => brief::go_on(ask).first().copied().unwrap_or(short),
        _ => short,
    };
    of(session).fill(text)
}

/// The keys that lift the four feet, as they lie.
fn feet(session: &Session, view: &View<'_>) -> String {
    let lifts = [Intent::LiftLf, Intent::LiftRf, Intent::LiftLh, Intent::LiftRh];
    lifts.map(|lift| key(session, view, lift)).join(" ")
}

/// A zone in a word or two, for the pad; the shorter form where the longer has no room.
pub fn zone(number: u8, room: usize) -> &'static str {
    let (long, short) = match number {
        0 => ("cleft skin", "skin"),
        1 => ("toe line", "toe"),
        2 => ("white line", "line"),
        3 => ("heel line", "line"),
        4 => ("sole-bulb", "sole"),
        5 => ("sole", "sole"),
        6 => ("bulb", "bulb"),
        7 => ("wall, toe", "wall"),
        8 => ("wall, heel", "wall"),
        9 => ("front skin", "skin"),
        10 => ("heel skin", "skin"),
        11 => ("cleft wall", "11"),
        12 => ("cleft heel", "12"),
        _ => ("", ""),
    };
    if long.len() <= room { long } else { short }
}

fn time(at: Moment) -> String {
    at.format("%H:%M:%S").to_string()
}

/// Why something was not done, and what to do instead.
pub fn refusal(session: &Session, view: &View<'_>, refusal: &Refusal) -> String {
    match refusal {
        Refusal::NoFarm => "choose a farm first".to_owned(),
        Refusal::Unknown(number) => {
            format!("{} is not in this herd: {} adds her", safe(number), key(session, view, Intent::Add))
        }
        Refusal::NothingTyped => "type a number first".to_owned(),
        Refusal::NotHere => "that means nothing here".to_owned(),
        Refusal::NoFoot => format!("lift the foot first: {}", feet(session, view)),
        Refusal::AnswerFirst => "say first how what is on was found".to_owned(),
        Refusal::ClawGone => "she has lost that claw: the other one, or the whole foot".to_owned(),
        Refusal::NoPartner => "there is no partner claw for that".to_owned(),
        Refusal::NothingOn => "nothing is on this foot".to_owned(),
        Refusal::NothingToRepeat => "nothing found on this foot yet".to_owned(),
        Refusal::NothingToUndo => "nothing to take back".to_owned(),
        Refusal::NothingToRedo => "nothing to put back".to_owned(),
        Refusal::NotSettled(1) => "one line is not settled: press its number".to_owned(),
        Refusal::NotSettled(count) => format!("{count} lines are not settled: press their numbers"),
        Refusal::AlreadySo => "already so, nothing new written".to_owned(),
        Refusal::AllHaveSomething => "something is on those feet: lift them".to_owned(),
        Refusal::Unstated(why) => why.to_string(),
        Refusal::NoMoreLetters => "no more letters fit: keep it, and write another".to_owned(),
        Refusal::NotANumber(typed) => format!("\"{}\" does not fit: 1 to 200 mm", safe(typed)),
        Refusal::NoSuchChoice => "no choice on that key".to_owned(),
        Refusal::NoGhost => "every mark of last time has its answer".to_owned(),
        Refusal::NoBackups => "this book is thrown away at the end: nothing to back up".to_owned(),
        Refusal::NoneTwice => "nothing here seems to be entered twice".to_owned(),
        Refusal::NothingFound => "nothing was found in that turn".to_owned(),
        Refusal::Shared(number) => format!("several are {}: pick the line first", safe(number)),
        Refusal::IsToday => "that is today: paper is of a day gone by".to_owned(),
        Refusal::OnPaper => format!("that is of today: put the paper away first, {}", key(session, view, Intent::Farm)),
        Refusal::NoScore(number) => format!("{}: her score comes behind her number", safe(number)),
        Refusal::NotOnScale(typed) => {
            let range = scale(session).range();
            format!("\"{}\" is no score here: {} to {}", safe(typed), range.start(), range.end())
        }
        Refusal::HasLeft(number) => format!("{} has left: is she back, open her on Today", safe(number)),
        Refusal::Farm(why) => of_farm::refused(session, why),
        Refusal::NoVisit => "no visit is under way: the first animal begins one".to_owned(),
        Refusal::NoDay(typed, why) => no_day(&safe(typed), *why),
        Refusal::NoDays(typed) => format!("\"{}\" does not fit: 0 to 30 days", safe(typed)),
        Refusal::NoZone(typed) => format!("\"{}\" is no zone: 0 to 12", safe(typed)),
        Refusal::NotReopened => "only her newest turn of today opens again".to_owned(),
    }
}

/// What is written down as left open.
pub fn gap(session: &Session, gap: Gap) -> String {
    let text = match gap {
        Gap::Unanswered => "not answered",
        Gap::NotLooked => "not looked at",
        Gap::NoRelief => "deep, nothing to take the load off",
        Gap::ActiveUntreated => "active, nothing done",
        Gap::LameNothingFound => "lame, nothing found",
        Gap::NoWithdrawal => "medicine without {withdrawal} told",
        Gap::StillOn => "not seen bare",
        Gap::NoDay => "no day or nobody to take it off",
        Gap::BlockDoubt => "block on a doubtful claw",
        Gap::StopSign => "stop sign",
    };
    of(session).fill(text)
}

/// Why a text is no day gone by, and how one is written.
fn no_day(typed: &str, why: NoDay) -> String {
    match why {
        NoDay::Unread => format!("\"{typed}\" is no day: write day and month, 30 4"),
        NoDay::NotThere => format!("\"{typed}\": there is no such day"),
        NoDay::ToCome => format!("\"{typed}\" is still to come"),
        NoDay::GoneBy => format!("\"{typed}\" is not after today"),
    }
}
