//! Who should come through the crush on a day and why: reasons, most pressing first. Nothing here is stored; it is read from
//! the facts of each animal as they were when the day began, and from what was told since.

use super::follow_up::list::DueItem;
use super::follow_up::rules::{RoutineRules, Rules};
use super::follow_up::{Due, Urgency, due};
use super::herd::{Labels, Status};
use super::hinds::{self, How};
use super::history::open::{Open, OpenItem};
use super::history::{History, Outside, Turn, TurnState};
use super::hours;
use super::ids::{AnimalId, TurnId, VisitId};
use super::record::{Moment, Record};
use super::vocabulary::vocabulary;
use crate::domain::event::Event;
use chrono::NaiveDate;
use std::cmp::Reverse;
use std::collections::{BTreeMap, BTreeSet};

vocabulary! {
    /// Kinds of reason, the most pressing first.
    Reason, "reason" {
        /// Urgent now: late beyond its time, or the farm says that she is swollen, smells or is lamer.
        Urgent = 1 "urgent",
        /// A wrap or block is on her.
        LeftOn = 2 "left-on",
        /// A finding is to be looked at again.
        LookAgain = 3 "look-again",
        /// The farm called about her since she was last here.
        Called = 4 "called",
        /// Lame by score, and not looked at.
        Lame = 5 "lame",
        /// Her last turn was not signed off, and nobody finished it.
        HalfDone = 10 "half-done",
        /// Dried off lately: a routine trim.
        DriedOff = 6 "dried-off",
        /// Some months in milk: a routine trim.
        InMilk = 7 "in-milk",
        /// Not seen for too long.
        Unseen = 8 "unseen",
        /// Due to calve, and there is still time for a routine trim.
        Calving = 9 "calving",
    }
}

/// One reason with the facts behind it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Why {
    /// Something open; of a wrap or block also what no rule asks for yet.
    Open(OpenItem, Option<Due>),
    /// The farm called on that day.
    Called {
        /// The day.
        on: NaiveDate,
        /// What was said.
        words: String,
        /// Said to be urgent.
        urgent: bool,
    },
    /// She got away, was set aside or was left in the crush on that day.
    HalfDone(NaiveDate),
    /// Dried off on that day.
    DriedOff(NaiveDate),
    /// So many days in milk.
    InMilk(i64),
    /// Last seen on that day; none: never.
    Unseen(Option<NaiveDate>),
    /// Seen since, and both hind feet were last up on that day; none: never.
    HindsUnseen(Option<NaiveDate>),
    /// So many days until she is due to calve.
    Calving(i64),
}

impl Why {
    /// The kind of reason it is.
    pub fn reason(&self) -> Reason {
        match self {
            // Whatever the farm says of something on her is urgent by its own rule.
            Why::Open(_, Some(Due { urgency: Urgency::Urgent, .. })) => Reason::Urgent,
            Why::Open(OpenItem::On { .. }, _) => Reason::LeftOn,
            Why::Open(OpenItem::Lame { .. }, _) => Reason::Lame,
            Why::Open(
                OpenItem::LookSoon { .. }
                | OpenItem::Recheck { .. }
                | OpenItem::SetByHand { .. }
                | OpenItem::Withheld { .. }
                | OpenItem::Vet { .. },
                _,
            ) => Reason::LookAgain,
            Why::Called { urgent: true, .. } => Reason::Urgent,
            Why::Called { urgent: false, .. } => Reason::Called,
            Why::HalfDone(_) => Reason::HalfDone,
            Why::DriedOff(_) => Reason::DriedOff,
            Why::InMilk(_) => Reason::InMilk,
            Why::Unseen(_) | Why::HindsUnseen(_) => Reason::Unseen,
            Why::Calving(_) => Reason::Calving,
        }
    }

    /// Its place among reasons.
    fn place(&self) -> Rank {
        let due = if let Why::Open(_, due) = self { *due } else { None };
        let reason = self.reason();
        // What the farm calls urgent is no less so than what a day makes urgent.
        let urgency = if reason == Reason::Urgent { Some(Urgency::Urgent) } else { due.map(|due| due.urgency) };
        let day = due.map(|due| due.day);
        let is_trouble = matches!(self, Why::Open(OpenItem::On { trouble: Some(_), .. }, _));
        let severe = if let Why::Open(OpenItem::Lame { gait, .. }, _) = self { Some(gait) } else { None };
        let severe = severe.is_some_and(|gait| gait.scale.is_severe(gait.score));
        let (trouble, severe) = (Reverse(is_trouble), Reverse(severe));
        Rank { reason, urgency: Reverse(urgency), trouble, undated: day.is_none(), day, severe }
    }
}

/// The place of a reason, the most pressing first.
#[derive(PartialEq, Eq, PartialOrd, Ord)]
struct Rank {
    /// What kind it is.
    reason: Reason,
    /// How urgent it is, where it is due at all.
    urgency: Reverse<Option<Urgency>>,
    /// Whether the farm says that she is swollen, smells or is lamer where something is on her.
    trouble: Reverse<bool>,
    /// What is due on no day comes behind what is.
    undated: bool,
    /// Since when.
    day: Option<NaiveDate>,
    /// Of two that are lame since then, the worse one.
    severe: Reverse<bool>,
}

vocabulary! {
    /// How an animal came on a day.
    Came, "how she came" {
        /// Her turn is under way.
        InTheCrush = 1 "in-the-crush",
        /// She got away, or was set aside.
        SetAside = 2 "set-aside",
        /// Signed off with nothing looked at: what she was asked for is not done.
        NoFootUp = 3 "no-foot-up",
        /// Signed off.
        Done = 4 "done",
    }
}

impl Came {
    /// How a turn says that she came.
    fn of(turn: &Turn) -> Came {
        match turn.state {
            TurnState::Open => Came::InTheCrush,
            TurnState::Paused => Came::SetAside,
            TurnState::Signed if turn.is_look() => Came::Done,
            TurnState::Signed => Came::NoFootUp,
        }
    }
}

/// One animal of the list.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Line {
    /// Who.
    pub animal: AnimalId,
    /// What she is called.
    pub labels: Labels,
    /// Why she should come, the most pressing first; empty where she came unasked.
    pub why: Vec<Why>,
    /// How her newest turn of the day stands, one that was gone on with among them; none where she has not come.
    pub came: Option<Came>,
    /// The first of the visits to which she was expected and did not come, up to this one.
    pub missed: Option<NaiveDate>,
    /// Her last turn before the day.
    pub last: Option<Turn>,
    /// What was open when the day began.
    pub open: Open,
    /// When she was scored lame, where a clock told it that very day: hours are counted from it, and nothing else.
    pub scored: Option<Moment>,
}

/// An animal that is left for now: nothing but a routine trim is due, and she is close to calving.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Spared {
    /// Who.
    pub animal: AnimalId,
    /// What she is called.
    pub labels: Labels,
    /// The day she is due to calve.
    pub due_to_calve: NaiveDate,
}

/// An animal that nobody saw, and told nothing of, for so long that she may have left without a word.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StillHere {
    /// Who.
    pub animal: AnimalId,
    /// What she is called.
    pub labels: Labels,
    /// Her last turn.
    pub last: Option<NaiveDate>,
}

/// The list of a day.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct DayList {
    /// Who should come, the most pressing first.
    pub expected: Vec<Line>,
    /// Who came and was not expected.
    pub unasked: Vec<Line>,
    /// Who is left for now.
    pub spared: Vec<Spared>,
    /// Who may have left without a word: asked about, and not expected.
    pub still_here: Vec<StillHere>,
}

impl DayList {
    /// How many were expected, and how many of them are done.
    pub fn done(&self) -> (usize, usize) {
        let done = self.expected.iter().filter(|line| line.came == Some(Came::Done)).count();
        (self.expected.len(), done)
    }
}

/// Days on which anybody of a farm was in the crush, each with its visits.
pub type VisitDays = BTreeMap<NaiveDate, BTreeSet<VisitId>>;

/// What one animal's records say about a day, so that after a press only hers are read again.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Part {
    /// Her line; it is on the list where it has a reason, or where she came.
    line: Line,
    /// Whether she is left for now.
    spared: Option<Spared>,
    /// Whether she may have left without a word.
    still_here: Option<StillHere>,
    /// Days before this one on which she was in the crush.
    seen: Vec<NaiveDate>,
}

impl Part {
    /// Reads her records. `visits` are the days before this one on which anybody of the farm was in the crush.
    pub fn of(animal: AnimalId, records: &[Record], visits: &VisitDays, rules: &Rules, today: NaiveDate) -> Part {
        let known: Vec<&Record> = records.iter().filter(|record| record.on <= today).collect();
        let fold = |records: &[&Record]| History::of(records.iter().copied().cloned().collect(), animal);
        let before = as_it_began(&known, today);
        let now = fold(&known);
        // Of most animals nothing was written today: one fold says both.
        let mut began = if before.len() == known.len() { now.clone() } else { fold(&before) };
        // A turn that was broken off on another day and gone on with today is one of today.
        let gone_on: BTreeSet<TurnId> = known.iter().filter(|record| record.on == today).filter_map(turn_of).collect();
        let waited = |turn: &Turn| began.turn(turn.id).is_some_and(|then| then.state != TurnState::Signed);
        let of_today = |turn: &&Turn| turn.on == today || gone_on.contains(&turn.id) && waited(turn);
        let came = now.turns.iter().rfind(of_today).map(Came::of);
        // Whoever was done and then left, that day, was expected and done all the same.
        began.left = began.left.filter(|(_, on)| came.is_none() || *on < today);
        let why = whys(&began, rules, today);
        // What was told after she was signed off asks for her once more.
        let came = came.filter(|came| *came != Came::Done || !is_asked_again(&now));
        let before_today = || now.turns.iter().filter(|turn| turn.on < today);
        let seen = before_today().map(|turn| turn.on).collect();
        // She came with one foot too, or with none that would come up, whatever she was asked for.
        let stayed = |turn: &&Turn| turn.is_look() || turn.state == TurnState::Signed;
        let here: Vec<&Turn> = before_today().filter(stayed).collect();
        let missed = if why.is_empty() { None } else { missed(&began, (&known, &before), &here, rules, visits, fold) };
        let spared = spared(&began, &why, rules, today).filter(|_| came.is_none());
        let asked =
            why.is_empty() && came.is_none() && began.left.is_none() && is_long_unheard_of(&began, rules, today);
        let last = began.turns.last().cloned();
        let still_here = || StillHere { animal, labels: now.labels.clone(), last: last.as_ref().map(|turn| turn.on) };
        let still_here = asked.then(still_here);
        let open = Open::of(&began);
        let scored = hours::scored(&open, records);
        let line = Line { animal, labels: now.labels, why, came, missed, last, open, scored };
        Part { line, spared, still_here, seen }
    }

    /// Days before this one on which she was in the crush.
    pub fn seen(&self) -> impl Iterator<Item = NaiveDate> {
        self.seen.iter().copied()
    }
}

impl DayList {
    /// The list of a farm's day out of the part of each of its animals.
    pub fn of<'p>(parts: impl Iterator<Item = &'p Part>) -> DayList {
        let mut list = DayList::default();
        for part in parts {
            list.spared.extend(part.spared.clone());
            list.still_here.extend(part.still_here.clone());
            match (part.line.why.is_empty(), part.line.came) {
                (false, _) => list.expected.push(part.line.clone()),
                (true, Some(_)) => list.unasked.push(part.line.clone()),
                (true, None) => {}
            }
        }
        list.expected.sort_by_cached_key(|line| (line.why.first().map(Why::place), number(&line.labels)));
        list.unasked.sort_by_cached_key(|line| number(&line.labels));
        list.spared.sort_by_cached_key(|spared| (spared.due_to_calve, number(&spared.labels)));
        list.still_here.sort_by_cached_key(|unseen| number(&unseen.labels));
        list
    }

    /// How the day stands.
    pub fn counts(&self) -> Counts {
        let of = |lines: &[Line], wanted: &[Came]| {
            lines.iter().filter(|line| line.came.is_some_and(|came| wanted.contains(&came))).count()
        };
        let waits = [Came::InTheCrush, Came::SetAside];
        let (expected, done) = self.done();
        let waiting = of(&self.expected, &waits);
        let unasked_waiting = of(&self.unasked, &waits);
        let to_come = expected - done - waiting;
        Counts { expected, done, waiting, to_come, unasked: self.unasked.len(), unasked_waiting }
    }

    /// Who was expected and came so; none: has not come.
    pub fn who(&self, came: Option<Came>) -> impl Iterator<Item = &Line> {
        self.expected.iter().filter(move |line| line.came == came)
    }
}

/// How a day stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Counts {
    /// Who should come, whether or not she came.
    pub expected: usize,
    /// Of them done.
    pub done: usize,
    /// Of them in the crush, got away or set aside.
    pub waiting: usize,
    /// Of them not here yet, or let go with no foot up.
    pub to_come: usize,
    /// Who came and was not expected.
    pub unasked: usize,
    /// Of those in the crush, got away or set aside.
    pub unasked_waiting: usize,
}

/// Numbers in the order in which people look for them.
fn number(labels: &Labels) -> (usize, String) {
    (labels.number.len(), labels.number.clone())
}

/// Of what is known, what was known when that day's work began: without its turns, with what was told outside of them.
fn as_it_began<'r>(known: &[&'r Record], on: NaiveDate) -> Vec<&'r Record> {
    let before = |record: &&&Record| record.on < on || record.on == on && turn_of(record).is_none();
    known.iter().filter(before).copied().collect()
}

/// The turn that a record begins, or is of.
fn turn_of(record: &&Record) -> Option<TurnId> {
    record.event().and_then(|event| match event {
        Event::TurnBegun { .. } => Some(TurnId(record.id)),
        other => other.turn(),
    })
}

/// The first of the visits, back from the last one without a gap, to which she was expected and did not come.
fn missed<'r>(
    began: &History,
    (known, before): (&[&'r Record], &[&'r Record]),
    here: &[&Turn],
    rules: &Rules,
    visits: &VisitDays,
    fold: impl Fn(&[&'r Record]) -> History,
) -> Option<NaiveDate> {
    // Whoever stays away is written about rarely: one fold serves for many visits.
    let mut folded = (before.len(), None);
    let mut first = None;
    for (on, of) in visits.iter().rev() {
        let then = as_it_began(known, *on);
        // Whoever was done on the first day of a visit does not stay away from its second.
        if here.iter().any(|turn| turn.on == *on || turn.on < *on && of.contains(&turn.visit)) {
            break;
        }
        if then.len() != folded.0 {
            folded = (then.len(), Some(fold(&then)));
        }
        if whys(folded.1.as_ref().unwrap_or(began), rules, *on).is_empty() {
            break;
        }
        first = Some(*on);
    }
    first
}

/// Why she should come on that day, the most pressing first.
pub fn whys(history: &History, rules: &Rules, today: NaiveDate) -> Vec<Why> {
    if history.left.is_some() {
        return Vec::new();
    }
    let open = opened(history, rules, today).chain(calls(history));
    let mut whys: Vec<Why> = open.chain(half_done(history, rules, today)).collect();
    if !is_close_to_calving(history, &rules.of_her(history).routine, today) {
        whys.extend(routine(history, rules, today));
    }
    // Of one animal what is open comes before what was said of it.
    whys.sort_by_cached_key(Why::place);
    whys
}

/// What is open on her. What the vet is asked about, and days that milk is withheld, need no crush.
fn opened<'h>(history: &'h History, rules: &'h Rules, today: NaiveDate) -> impl Iterator<Item = Why> + 'h {
    let open = Open::of(history);
    history.open.iter().filter_map(move |item| {
        let due = due(&open, item, rules, today);
        let is_due = due.is_some_and(|due| {
            let is_long_unseen = DueItem { open: &open, item, due }.is_long_unseen(rules, today);
            due.urgency > Urgency::Coming && !(is_long_unseen && is_long_unheard_of(history, rules, today))
        });
        let wanted = match item {
            OpenItem::On { .. } => true,
            OpenItem::LookSoon { .. } | OpenItem::Recheck { .. } | OpenItem::SetByHand { .. } => is_due,
            // Hours count: she is wanted before they are over.
            OpenItem::Lame { looked, .. } => !looked,
            OpenItem::Withheld { .. } | OpenItem::Vet { .. } => false,
        };
        wanted.then(|| Why::Open(item.clone(), due))
    })
}

/// Her newest turn was not signed off, so that a foot waits; not of one who may have left without a word (common practice). One that was
/// signed off with no foot up finished nothing.
fn half_done(history: &History, rules: &Rules, today: NaiveDate) -> Option<Why> {
    let newest = history.turns.iter().rfind(|turn| turn.state != TurnState::Signed || turn.is_look());
    let broken_off = newest.filter(|turn| turn.state != TurnState::Signed)?;
    (!is_long_unheard_of(history, rules, today)).then_some(Why::HalfDone(broken_off.on))
}

/// What was told of her since she was last looked at: whoever got away was not.
fn told_since(history: &History) -> impl Iterator<Item = &Outside> {
    let looked = history.turns.iter().rposition(Turn::is_look);
    history.outside.iter().filter(move |told| looked.is_none_or(|looked| told.turns > looked))
}

/// Whether the farm called about her since, or she walked by lame and nobody has looked for it.
fn is_asked_again(history: &History) -> bool {
    let lame = history.open.iter().any(|item| matches!(item, OpenItem::Lame { looked: false, .. }));
    let walked = || told_since(history).any(|told| matches!(told.event, Event::Walked { .. }));
    calls(history).next().is_some() || lame && walked()
}

/// Calls about her since then. One foot up answers them: it was lifted for that.
fn calls(history: &History) -> impl Iterator<Item = Why> + '_ {
    told_since(history).filter_map(|told| {
        if let Event::FarmCalled { words, urgent, .. } = &told.event {
            Some(Why::Called { on: told.on, words: words.clone(), urgent: *urgent })
        } else {
            None
        }
    })
}

/// Routine trims that her year asks for.
fn routine(history: &History, rules: &Rules, today: NaiveDate) -> Vec<Why> {
    let all = rules.of_her(history);
    let set = &all.routine;
    let herd = &history.herd;
    // A foot that she was called out for answers no routine: both hind feet do.
    let trimmed = hinds::both(history, How::GoneOver);
    let ago = |day: NaiveDate| (today - day).num_days();
    let lately = trimmed.is_some_and(|day| ago(day) < i64::from(set.again));
    let mut whys = Vec::new();
    // The newer of the two days says which she is; her state may be older than either.
    let has_calved_since = |dry: NaiveDate| herd.calved.is_some_and(|calved| dry < calved && calved <= today);
    let dry = herd.dry_from.filter(|day| (0..=i64::from(set.dry_off)).contains(&ago(*day)) && !lately);
    let dry = dry.filter(|day| !has_calved_since(*day));
    let is_dried_since = |calved: NaiveDate| herd.dry_from.is_some_and(|dry| calved < dry && dry <= today);
    whys.extend(dry.map(Why::DriedOff));
    let milk = i64::from(set.milk_from)..=i64::from(set.milk_to);
    let in_milk = |day: &NaiveDate| milk.contains(&ago(*day)) && trimmed.is_none_or(|trimmed| trimmed < *day);
    // Whoever is told dry and not since when was dried off after she calved.
    let is_told_dry = herd.status == Some(Status::Dry) && herd.dry_from.is_none();
    let calved = herd.calved.filter(in_milk).filter(|day| !is_dried_since(*day) && !is_told_dry);
    whys.extend(calved.map(|day| Why::InMilk(ago(day))));
    let soon = i64::from(set.calving) + 1..=i64::from(set.before);
    let to_calve = herd.days_to_calving(today).filter(|days| soon.contains(days) && !lately);
    whys.extend(to_calve.map(Why::Calving));
    whys.extend(unseen(history, rules, today).filter(|_| !is_long_unheard_of(history, rules, today)));
    whys
}

/// How often a hind foot that is long overdue may stay down at a sign-off, until it is no longer waited for (common practice: one that
/// was asked for three times does not come up).
const STAYED_DOWN: usize = 3;

/// Not seen for too long, or seen since with less than both hind feet up.
fn unseen(history: &History, rules: &Rules, today: NaiveDate) -> Option<Why> {
    let overdue = i64::from(rules.of_her(history).overdue);
    let is_long = |day: NaiveDate| (today - day).num_days() > overdue;
    // Whoever has calved and was never here has feet too.
    let has_calved = history.herd.calved.is_some() || history.herd.lactation.is_some_and(|lactation| lactation > 0);
    let mut looks = history.turns.iter().filter(|turn| turn.is_look()).map(|turn| turn.on);
    let first = looks.next();
    let Some(last) = looks.next_back().or(first) else { return has_calved.then_some(Why::Unseen(None)) };
    if is_long(last) {
        return Some(Why::Unseen(Some(last)));
    }
    let up = hinds::both(history, How::Up);
    let late = |turn: &&Turn| up.is_none_or(|up| (turn.on - up).num_days() > overdue);
    let stayed_down = history.turns.iter().filter(|turn| turn.state == TurnState::Signed).filter(late).count();
    let asked = up.map_or(has_calved || first.is_some_and(is_long), is_long) && stayed_down < STAYED_DOWN;
    asked.then_some(Why::HindsUnseen(up))
}

/// Whether nobody saw her in the crush, and nobody told anything of her, for so long that she may have left without a word.
fn is_long_unheard_of(history: &History, rules: &Rules, today: NaiveDate) -> bool {
    let seen = history.turns.last().map(|turn| turn.on);
    let told = history.told.last().map(|(on, _)| *on);
    let outside = history.outside.last().map(|told| told.on);
    let last = [seen, told, outside, history.back].into_iter().flatten().max();
    last.is_some_and(|last| (today - last).num_days() > i64::from(rules.of_her(history).still_here))
}

/// Whether she is due to calve so soon that a routine trim is left, or should have calved and nobody said so yet.
fn is_close_to_calving(history: &History, set: &RoutineRules, today: NaiveDate) -> bool {
    history.herd.due_to_calve.is_some_and(|day| {
        let days = (day - today).num_days();
        let calved = history.herd.calved.is_some_and(|calved| calved > day - chrono::TimeDelta::days(60));
        days <= i64::from(set.calving) && days > -i64::from(set.calving) && !calved
    })
}

/// Whether she is left for now: a routine trim would be due, nothing else is, and she is close to calving. Whoever is lame or has
/// something on never is, also where nothing is asked for today.
fn spared(history: &History, why: &[Why], rules: &Rules, today: NaiveDate) -> Option<Spared> {
    let hurts = |item: &OpenItem| matches!(item, OpenItem::On { .. } | OpenItem::Lame { .. });
    if history.open.iter().any(hurts) || history.left.is_some() || !why.is_empty() {
        return None;
    }
    let close = is_close_to_calving(history, &rules.of_her(history).routine, today);
    let due_to_calve = history.herd.due_to_calve.filter(|_| close)?;
    let wanted = !routine(history, rules, today).is_empty();
    let animal = history.animals.first().copied().unwrap_or(AnimalId(super::ids::RecordId::PRACTICE));
    wanted.then(|| Spared { animal, labels: history.labels.clone(), due_to_calve })
}
