//! Words for people, in one place: what the trade calls things by region, places, findings, and what happened.

use crate::claw_map::marks::Names;
use crate::domain::anatomy::{Foot, Place, Skin, Zone};
use crate::domain::event::{Detail, Event, Item, PutDetail};
use crate::domain::finding::{Degree, Finding};
use crate::domain::follow_up::{Urgency, What};
use crate::domain::herd::{Change, VisitWord};
use crate::domain::history::open::Knowing;
use crate::domain::history::{DoubtWhat, History};
use crate::domain::practice::Region;
use crate::domain::treatment::{
    BlockKind, Gait, Measure, Milking, Off, OffBy, Outcome, Put, Relief, Sign, SkinState, Trim, Word,
};
use crate::domain::vocabulary::Vocabulary;
use crate::report::contact;
use crate::report::safe::safe;
use chrono::{Datelike, NaiveDate};
use std::collections::BTreeMap;

/// A term that regions say differently.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Term {
    /// What the animal stands in.
    Crush,
    /// What goes round a foot.
    Wrap,
    /// The same, called out.
    LoudWrap,
    /// The same where the map has hardly room.
    ShortWrap,
    /// The back feet.
    Hind,
    /// Left hind foot in two letters.
    LeftHind,
    /// Right hind foot in two letters.
    RightHind,
    /// How gait is scored.
    Gait,
    /// Interdigital phlegmon. UK "footrot" is a disease of sheep.
    Foul,
    /// How long milk or meat may not be sold. Never "clear".
    Withdrawal,
}

/// Terms by region, each with the name it has in a text to be filled: plain words, then United Kingdom and Ireland, North
/// America, New Zealand and Australia. Common practice of the trade.
#[rustfmt::skip]
const TERMS: [(Term, &str, [&str; 4]); 10] = [
    (Term::Crush,      "{crush}",      ["crush",      "crush",      "chute",      "crush"]),
    (Term::Wrap,       "{wrap}",       ["wrap",       "bandage",    "wrap",       "bandage"]),
    (Term::LoudWrap,   "{WRAP}",       ["WRAP",       "BANDAGE",    "WRAP",       "BANDAGE"]),
    (Term::ShortWrap,  "{W}",          ["W",          "BDG",        "W",          "BDG"]),
    (Term::Hind,       "{hind}",       ["hind",       "hind",       "rear",       "hind"]),
    (Term::LeftHind,   "{LH}",         ["LH",         "LH",         "LR",         "LH"]),
    (Term::RightHind,  "{RH}",         ["RH",         "RH",         "RR",         "RH"]),
    (Term::Gait,       "{gait}",       ["gait",       "mobility",   "locomotion", "lameness"]),
    (Term::Foul,       "{foul}",       ["foul",       "foul",       "foot rot",   "footrot"]),
    (Term::Withdrawal, "{withdrawal}", ["withdrawal", "withdrawal", "withdrawal", "withholding"]),
];

/// The words of one region.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Words(pub Region);

impl Words {
    /// The region's word for a term.
    pub fn term(self, term: Term) -> &'static str {
        TERMS.iter().find(|(row, _, _)| *row == term).map_or("", |(_, _, words)| self.of(words))
    }

    /// A text of this program's own with the region's words in the places that are named for them: `{wrap} off`. Never a
    /// text that somebody typed.
    pub fn fill(self, text: &str) -> String {
        TERMS.iter().fold(text.to_owned(), |text, (_, name, words)| text.replace(name, self.of(words)))
    }

    fn of(self, words: &[&'static str; 4]) -> &'static str {
        match self.0 {
            Region::Plain => words[0],
            Region::Uk => words[1],
            Region::NorthAmerica => words[2],
            Region::NzAustralia => words[3],
        }
    }

    /// What stands on the map.
    pub fn on_map(self) -> Names {
        let feet = [Foot::LeftFront, Foot::RightFront, Foot::LeftHind, Foot::RightHind].map(|foot| self.foot(foot));
        Names { feet, wrap: self.term(Term::LoudWrap), wrap_short: self.term(Term::ShortWrap) }
    }

    /// A foot in two letters: LF RF LH RH.
    pub fn foot(self, foot: Foot) -> &'static str {
        match foot {
            Foot::LeftFront | Foot::RightFront => foot.word(),
            Foot::LeftHind => self.term(Term::LeftHind),
            Foot::RightHind => self.term(Term::RightHind),
        }
    }

    /// The foot of a place, and its claw: `LH outer`; nothing where it has none.
    pub fn foot_of(self, place: Place) -> String {
        let foot = place.foot().map_or("", |foot| self.foot(foot));
        join(&[foot, place.side().map_or("", Vocabulary::word)])
    }

    /// A place: `LH outer 4`, `LH heel 10`, `LH`, `whole animal`.
    pub fn place(self, place: Place) -> String {
        match place {
            Place::Animal => "whole animal".to_owned(),
            Place::Above(foot) => format!("{} above the foot", self.foot(foot)),
            Place::Foot(foot) => self.foot(foot).to_owned(),
            Place::Skin(foot, skin) => format!("{} {} {}", self.foot(foot), skin_word(skin), Zone::Skin(skin).number()),
            Place::Claw(foot, side) => format!("{} {}", self.foot(foot), side.word()),
            Place::Dewclaw(foot, side) => format!("{} {} dewclaw", self.foot(foot), side.word()),
            Place::Horn(foot, side, horn) => {
                format!("{} {} {}", self.foot(foot), side.word(), Zone::Horn(horn).number())
            }
        }
    }

    /// Something put on.
    pub fn put(self, put: &Put) -> String {
        match put {
            Put::Block { kind: BlockKind::NotTold, .. } => "block".to_owned(),
            Put::Block { kind, .. } => format!("{} block", kind.word()),
            Put::Wrap { colour, .. } => join(&[colour.map_or("", Vocabulary::word), self.term(Term::Wrap)]),
            Put::Dressing { product, .. } => join(&["dressing", &safe(product)]),
        }
    }

    /// What was put on without its colour or material.
    pub fn kind_of(self, put: &Put) -> String {
        match put {
            Put::Block { .. } => "block".to_owned(),
            Put::Wrap { .. } => self.term(Term::Wrap).to_owned(),
            Put::Dressing { .. } => "dressing".to_owned(),
        }
    }

    /// What is to be done about an item, in the nine columns that a list of several farms has for it.
    pub fn what_short(self, what: What) -> String {
        let short = match what {
            What::WrapOff => "off",
            What::RingLook => "any ring?",
            What::BlockLook | What::LookAgain => "look",
            What::BlockOff => "block off",
            What::Vet => "VET",
            What::TellKeeper => "tell",
            What::Withheld => "withheld",
            What::VetsDays => "ask vet",
            What::Review => "review",
        };
        short.to_owned()
    }

    /// What is to be done about an item.
    pub fn what(self, what: What) -> String {
        self.fill(match what {
            What::WrapOff => "{wrap} off",
            What::RingLook => "look for a ring",
            What::BlockLook => "look at block",
            What::BlockOff => "block off",
            What::LookAgain => "look again",
            What::Vet => "VET",
            What::TellKeeper => "tell new keeper",
            What::Withheld => "{withdrawal}",
            What::VetsDays => "ask the vet",
            What::Review => "review",
        })
    }

    /// A stop sign in words that a farm hand understands.
    pub fn sign(self, sign: Sign) -> String {
        self.fill(match sign {
            Sign::Advised => "vet advised",
            Sign::OneSided => "one side swollen, very lame",
            Sign::AbovePastern => "swollen above the pastern",
            Sign::Long => "very lame over 14 days",
            Sign::FoulNotBetter => "{foul} no better in 3 days",
            Sign::CoronetFront => "swollen at front of coronet",
            Sign::PainUnderBlock => "still sore with a block on",
            Sign::Tract => "a hole that runs",
            Sign::Joint => "joint or tendon bare",
            Sign::ToeNecrosis => "toe dead or rotten",
            Sign::Sloughed => "claw coming off",
            Sign::Bleeding => "bleeding does not stop",
            Sign::DeepNail => "nail or wire deep",
            Sign::CutIn => "{wrap} cut into the skin",
            Sign::CannotRise => "cannot rise, leg wrong",
            Sign::RawHeels => "many with raw heels",
            Sign::Notifiable => "BLISTERS: nobody leaves",
            Sign::LookHigher => "lame, foot is sound",
        })
    }

    /// A gait score with its scale: `mobility 2 on 0-3`.
    pub fn gait(self, gait: Gait) -> String {
        format!("{} {} on {}", self.term(Term::Gait), gait.score, gait.scale.word())
    }

    /// What happened, in a few words for the "saved" line.
    pub fn event(self, event: &Event) -> String {
        let at = |spot: Place, words: &str| format!("{} {words}", self.place(spot));
        match event {
            Event::PersonBegun { name } => format!("{} records", safe(name)),
            Event::ProductNamed { name, .. } => format!("product {}", safe(name)),
            Event::PriceSet { charge, amount, .. } => format!("price of {} {}", charge.word(), safe(amount)),
            Event::RulesAdopted { .. } => "rules adopted".to_owned(),
            Event::FarmBegun { name } => format!("farm {}", safe(name)),
            Event::FarmDescribed { fact, words, .. } => format!("{} {}", fact.word(), safe(words)),
            Event::ContactTold { name, gone: true, .. } => format!("{} is there no longer", safe(name)),
            Event::ContactTold { name, does, phone, .. } => contact::line(name, does, phone),
            Event::FarmGivenUp { handed_to, .. } => format!("farm given up, list to {}", safe(handed_to)),
            Event::FarmChanged { change, words, .. } => {
                format!("{} {}", self::change(*change), safe(words)).trim_end().to_owned()
            }
            Event::FarmCalled { words, .. } => format!("farm called: {}", safe(words)),
            Event::FarmRung { answered: true, .. } => "farm rung, answered".to_owned(),
            Event::FarmRung { answered: false, .. } => "farm rung, no answer".to_owned(),
            Event::Instructed { text, review_on, vet, .. } => {
                let vet = if vet.is_empty() { String::new() } else { format!(", vet {}", safe(vet)) };
                let review = review_on.map_or(String::new(), |on| format!(", review {}", day(on)));
                format!("standing instruction{vet}{review}: {}", safe(text))
            }
            Event::InstructionEnded { why, .. } if why.is_empty() => "standing instruction ended".to_owned(),
            Event::InstructionEnded { why, .. } => format!("standing instruction ended: {}", safe(why)),
            Event::InstructionReviewed { review_on: Some(day), .. } => {
                format!("standing instruction goes on, review {}", self::day(*day))
            }
            Event::InstructionReviewed { review_on: None, .. } => "standing instruction goes on".to_owned(),
            Event::VisitBegun { why, .. } => format!("{} visit begun", why.word()),
            Event::VisitPaused { .. } => "visit set aside".to_owned(),
            Event::VisitClosed { .. } => "visit closed".to_owned(),
            Event::VisitDescribed { word, .. } => visit_word(*word).to_owned(),
            Event::Counted { count, .. } => format!("{count} without numbers"),
            Event::AnimalBegun { labels, .. } => format!("new animal {}", safe(&labels.number)),
            Event::Renumbered { labels, .. } => format!("now number {}", safe(&labels.number)),
            Event::Described { .. } => "herd data".to_owned(),
            Event::Left { why, .. } => why.word().to_owned(),
            Event::CameBack { .. } => "back in the herd".to_owned(),
            Event::CullSaid { .. } => "farmer says cull, still here".to_owned(),
            Event::Kicker { kicks: true, .. } => "kicks".to_owned(),
            Event::Kicker { kicks: false, .. } => "no longer kicks".to_owned(),
            Event::ClawGone { foot, side, .. } => at(Place::Claw(*foot, *side), "gone"),
            Event::Joined { .. } => "two are one".to_owned(),
            Event::Parted { .. } => "taken apart again".to_owned(),
            Event::KeptApart { .. } => "two, not one".to_owned(),
            Event::TurnBegun { .. } => self.fill("in the {crush}"),
            Event::TurnPaused { why: crate::domain::event::PauseWhy::GotAway, .. } => {
                "got away, her turn waits".to_owned()
            }
            Event::TurnPaused { why: crate::domain::event::PauseWhy::SetAside, .. } => "set aside".to_owned(),
            Event::TurnResumed { .. } => "goes on".to_owned(),
            Event::TurnSigned { .. } => "signed off".to_owned(),
            Event::TurnReopened { .. } => "opened again".to_owned(),
            Event::TurnMoved { .. } => "turn moved".to_owned(),
            Event::Looked { foot, lifted: true, trimmed: true, all_seen: true, .. } => {
                format!("{} trimmed, all looked at", self.foot(*foot))
            }
            Event::Looked { foot, .. } => format!("{} looked at in part", self.foot(*foot)),
            Event::Found { place, what, degree, words, .. } => {
                let name = if *what == Finding::OwnWords { "" } else { what.row().name };
                at(*place, &join(&[name, self::degree(*degree), &safe(words)]))
            }
            Event::Detailed { detail, .. } => self::detail(*detail),
            Event::Answered { outcome, .. } => format!("last time's mark: {}", self::outcome(*outcome)),
            Event::Staged { stage, .. } => format!("last time's mark: now {}", stage.word()),
            Event::Trimmed { place, how, .. } => at(*place, trim(*how)),
            Event::PutOn { put, by_others, .. } if by_others.is_empty() => at(put.place(), &self.put(put)),
            Event::PutOn { put, by_others, .. } => {
                at(put.place(), &format!("{} put on by {}", self.put(put), safe(by_others)))
            }
            Event::PutDetailed { detail, .. } => put_detail(detail),
            Event::SeenOff { item: Item::Met(spot), outcome, skin, .. } => {
                at(*spot, &join(&[off(*outcome), self::skin(*skin)]))
            }
            Event::SeenOff { item: Item::Known(_), outcome, skin, .. } => join(&[off(*outcome), self::skin(*skin)]),
            Event::ToldOff { word, by, .. } if by.trim().is_empty() => self::word(*word).to_owned(),
            Event::ToldOff { word, by, .. } => format!("{} ({})", self::word(*word), safe(by)),
            Event::MedicineGiven { medicine, .. } => format!("medicine {}", safe(&medicine.product)),
            Event::PainRelief { relief, .. } => self::relief(*relief).to_owned(),
            Event::Measured { place, what, mm, .. } => at(*place, &format!("{} {mm} mm", measure(*what))),
            Event::Walked { gait, .. } => self.gait(*gait),
            Event::Sore { place, .. } => at(*place, "sore to testers"),
            Event::Noted { text, .. } => format!("note: {}", safe(text)),
            Event::VetAdvised { place, sign, .. } => at(*place, &format!("VET: {}", self.sign(*sign))),
            Event::VetAnswered { words, .. } => format!("vet: {}", safe(words)),
            Event::RecheckSet { place, on, .. } => at(*place, &format!("look again {}", weekday(*on))),
            Event::Undone { .. } => "taken back".to_owned(),
            Event::Redone { .. } => "put back".to_owned(),
            Event::Corrected { why, .. } => format!("corrected: {}", safe(why)),
        }
    }
}

/// A foot in full words, as farm papers write it: "R" alone is ambiguous.
pub fn foot_in_full(foot: Foot) -> &'static str {
    match foot {
        Foot::LeftFront => "FRONT LEFT",
        Foot::RightFront => "FRONT RIGHT",
        Foot::LeftHind => "BACK LEFT",
        Foot::RightHind => "BACK RIGHT",
    }
}

fn skin_word(skin: Skin) -> &'static str {
    match skin {
        Skin::Cleft => "cleft",
        Skin::Front => "front",
        Skin::Heel => "heel",
    }
}

/// A grade or stage in words; nothing where none was given.
pub fn degree(degree: Degree) -> &'static str {
    match degree {
        Degree::NotGiven => "",
        Degree::Grade(grade) => grade.word(),
        Degree::Stage(stage) => stage.word(),
    }
}

/// A finding by its name in the Atlas; nothing for one in own words, which stand beside it.
pub fn finding_name(what: Finding) -> &'static str {
    if what == Finding::OwnWords { "" } else { what.row().name }
}

/// A finding by its code and degree: `SU severe`, `DD M2`.
pub fn finding(what: Finding, told: Degree, words: &str) -> String {
    let code = match what {
        Finding::OwnWords => String::new(),
        other => other.word().to_owned(),
    };
    join(&[&code, degree(told), &safe(words)])
}

fn join(parts: &[&str]) -> String {
    parts.iter().filter(|part| !part.is_empty()).copied().collect::<Vec<_>>().join(" ")
}

/// Weekday and month in letters: `FRI 15 May`.
pub fn weekday(day: NaiveDate) -> String {
    let text = day.format("%a %-d %b").to_string();
    let (weekday, rest) = text.split_at(3);
    format!("{}{rest}", weekday.to_uppercase())
}

/// The same with the year where it is not that of today: `MON 1 Feb 2027`.
pub fn weekday_by(day: NaiveDate, today: NaiveDate) -> String {
    if day.year() == today.year() { weekday(day) } else { format!("{} {}", weekday(day), day.year()) }
}

/// A day: `14 May 2026`.
pub fn day(day: NaiveDate) -> String {
    day.format("%-d %b %Y").to_string()
}

/// The milking of a day in two letters, as the trade writes it; nothing where none was told.
pub fn milking(milking: Milking) -> &'static str {
    match milking {
        Milking::Any => "",
        Milking::Morning => "AM",
        Milking::Evening => "PM",
    }
}

/// A promised day.
pub fn off_by(promise: OffBy) -> String {
    let milking = match promise.milking {
        Milking::Any => "",
        Milking::Morning => " morning milking",
        Milking::Evening => " evening milking",
    };
    format!("{}{milking}", weekday(promise.day))
}

/// What to do at once at a stop sign, in words that a farm hand understands. The program names no treatment.
pub fn stop(sign: Sign, vet_phone: &str) -> String {
    let vet = join(&["ring the vet", &safe(vet_phone)]);
    match sign {
        // In many countries the law requires it at once.
        Sign::Notifiable => format!(" STOP: nobody and nothing leaves the farm, {vet} or the authority"),
        Sign::Advised | Sign::LookHigher => format!(" {vet}"),
        Sign::OneSided
        | Sign::AbovePastern
        | Sign::Long
        | Sign::FoulNotBetter
        | Sign::CoronetFront
        | Sign::PainUnderBlock
        | Sign::Tract
        | Sign::Joint
        | Sign::ToeNecrosis
        | Sign::Sloughed
        | Sign::Bleeding
        | Sign::DeepNail
        | Sign::CutIn
        | Sign::CannotRise
        | Sign::RawHeels => format!(" cut no deeper, let her down, {vet}"),
    }
}

/// How something was found.
pub fn off(outcome: Off) -> &'static str {
    match outcome {
        Off::Bare => "all off, seen bare",
        Off::Ring => "ring or part left, cut off now",
        Off::AlreadyOff => "already off, seen bare",
        Off::TakenOff => "taken off",
        Off::FellOff => "had fallen off",
        Off::Replaced => "replaced",
        Off::LeftSound => "left on, sound",
        Off::LeftWorn => "left on, worn",
        Off::NotFound => "not found",
        Off::LeftOn => "left on",
    }
}

/// What is told about a visit.
pub fn visit_word(word: VisitWord) -> &'static str {
    match word {
        VisitWord::Routine => "a routine visit",
        VisitWord::CallOut => "a call-out",
        VisitWord::WholeHerd => "the whole herd",
        VisitWord::Selected => "selected animals",
        VisitWord::CleanedBefore => "cleaned before",
        VisitWord::CleanedAfter => "cleaned after",
        VisitWord::GoneOn => "the visit goes on",
    }
}

/// A change on a farm.
pub fn change(what: Change) -> &'static str {
    match what {
        Change::Footbath => "footbath",
        Change::Mats => "mats or bedding",
        Change::Housed => "housed",
        Change::TurnedOut => "turned out",
        Change::Feed => "feed",
        Change::Other => "something else",
    }
}

/// Skin under what came off.
pub fn skin(state: SkinState) -> &'static str {
    match state {
        SkinState::NotTold => "",
        SkinState::Sound => "skin sound",
        SkinState::Raw => "skin raw",
        SkinState::CutIn => "SKIN CUT IN: the vet today",
    }
}

/// An answer to an earlier finding.
pub fn outcome(outcome: Outcome) -> &'static str {
    match outcome {
        Outcome::Healed => "healed",
        Outcome::Better => "better",
        Outcome::Same => "same",
        Outcome::Worse => "worse",
        Outcome::NotLooked => "not looked at",
    }
}

/// A trim.
pub fn trim(how: Trim) -> &'static str {
    match how {
        Trim::Routine => "trimmed",
        Trim::Lowered => "claw lowered",
        Trim::LooseHorn => "loose horn off",
        Trim::Dewclaw => "dewclaw short",
    }
}

/// What was measured.
pub fn measure(what: Measure) -> &'static str {
    match what {
        Measure::DorsalWall => "front wall",
        Measure::Sole => "sole at the toe",
    }
}

/// Pain relief, as told.
pub fn relief(relief: Relief) -> &'static str {
    match relief {
        Relief::Given => "pain relief given",
        Relief::Not => "pain relief not given",
        Relief::NotKnown => "pain relief not known",
    }
}

/// So many facts of hers are doubtful, and what to look at.
pub fn doubt(what: DoubtWhat, count: usize) -> String {
    let facts = if count == 1 { "1 fact".to_owned() } else { format!("{count} facts") };
    let why = match what {
        DoubtWhat::Missing => {
            "names a record that is not hers, or not in this book: moved to her, or on another tablet"
        }
        DoubtWhat::TurnTakenBack => "stands in a turn that was taken back",
        DoubtWhat::OtherKind => "was corrected into another kind of fact",
        DoubtWhat::TwoUnderOneName => "two tablets wrote under one name: all of it stands, so look her feet over",
        DoubtWhat::Clock => "was written before the one before it: was the tablet's clock wrong?",
    };
    format!("{facts}: {why}")
}

/// The doubts of a history, each kind in one line.
pub fn doubts(history: &History) -> Vec<String> {
    let mut kinds: BTreeMap<DoubtWhat, usize> = BTreeMap::new();
    for doubt in &history.doubts {
        *kinds.entry(doubt.what).or_default() += 1;
    }
    kinds.into_iter().map(|(what, count)| doubt(what, count)).collect()
}

/// How urgent it is, with its sign.
pub fn urgency(urgency: Urgency) -> &'static str {
    match urgency {
        Urgency::Coming => "coming",
        Urgency::Due => "due",
        Urgency::Late => "LATE !",
        Urgency::Urgent => "URGENT !!",
    }
}

/// What is known about something left on.
pub fn knowing(knowing: Knowing) -> &'static str {
    match knowing {
        Knowing::NotHeard => "nobody asked",
        Knowing::Asked => "no answer yet",
        Knowing::StillOn => "seen still on",
        Knowing::ToldOff => "told off",
        Knowing::ToldBare => "told bare and felt",
        Knowing::KeeperTold => "new keeper told",
    }
}

/// What is known about something left on, where there is hardly room.
pub fn knowing_short(knowing: Knowing) -> &'static str {
    match knowing {
        Knowing::NotHeard => "not asked",
        Knowing::Asked => "no answer",
        Knowing::StillOn => "still on",
        Knowing::ToldOff => "told off",
        Knowing::ToldBare => "told bare",
        Knowing::KeeperTold => "told",
    }
}

/// The farm's word.
pub fn word(word: Word) -> &'static str {
    match word {
        Word::NoAnswer => "no answer",
        Word::Tonight => "off tonight",
        Word::Off => "said to be off",
        Word::Felt => "said to be all off, bare and felt",
        Word::StillOn => "said to be still on",
        Word::KeeperTold => "new keeper told",
        Word::Trouble => "swollen, smells or lamer",
    }
}

/// More about a finding.
pub fn detail(detail: Detail) -> String {
    match detail {
        Detail::Degree(told) => degree(told).to_owned(),
        Detail::Subtype(what) => what.word().to_owned(),
        Detail::Infected(true) => "infected".to_owned(),
        Detail::Infected(false) => "not infected".to_owned(),
        Detail::Deep(true) => "deep".to_owned(),
        Detail::Deep(false) => "not deep".to_owned(),
        Detail::Side(side) => side.word().to_owned(),
    }
}

/// More about something put on.
pub fn put_detail(detail: &PutDetail) -> String {
    match detail {
        PutDetail::OffBy(promise) => format!("off by {}", off_by(*promise)),
        PutDetail::Remover(name) => format!("taken off by {}", safe(name)),
        PutDetail::Colour(colour) => colour.word().to_owned(),
        PutDetail::Kind(kind) => kind.word().to_owned(),
        PutDetail::Product(product) => safe(product),
    }
}
