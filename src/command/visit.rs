//! `crushbook visit`: the visit of a day added up, and one thing said of it as one press, with the checks that the screens have.

use super::cli::{Cli, word};
use super::farm::Farms;
use super::fault::Fault;
use super::form::ListForm;
use super::herd::option;
use super::press::press;
use super::totals::{of_visit, on_day, write};
use super::{World, note, place, today};
use crate::domain::event::Event;
use crate::domain::herd::{VisitWhy, VisitWord};
use crate::domain::ids::{FarmId, RecordId, VisitId};
use crate::domain::totals::Totals;
use crate::domain::visit::{No, Visits};
use crate::domain::visit_log::Visit;
use crate::domain::visit_sum::VisitSum;
use crate::report::safe::safe;
use crate::report::visit::waits;
use crate::report::words;
use crate::store::Store;
use chrono::NaiveDate;
use clap::ValueEnum;

/// What can be said of a visit: one thing at a time, as a key does.
#[derive(Debug, Clone, Default, clap::Args)]
#[group(multiple = false)]
pub struct VisitTold {
    /// It begins; the first animal begins it too
    #[arg(long)]
    pub begin: bool,
    /// It is set aside, to go on later that day or on another
    #[arg(long)]
    pub pause: bool,
    /// The one that was set aside last goes on
    #[arg(long)]
    pub resume: bool,
    /// It is over
    #[arg(long)]
    pub close: bool,
    /// It is over, though animals wait or nothing was told of washing after
    #[arg(long)]
    pub close_all_the_same: bool,
    /// Knives and crush were washed and disinfected
    #[arg(long, value_enum, value_name = "WHEN")]
    pub cleaned: Option<Cleaned>,
    /// Why it is made: routine, call-out
    #[arg(long, value_name = "WHY", value_parser = visit_why)]
    pub why: Option<VisitWhy>,
    /// The whole herd is to come through
    #[arg(long)]
    pub whole_herd: bool,
    /// Animals were selected
    #[arg(long)]
    pub selected: bool,
}

/// When knives and crush were washed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum Cleaned {
    /// Before the first animal
    Before,
    /// After the last one
    After,
}

fn visit_why(text: &str) -> Result<VisitWhy, String> {
    word(text, "reasons for a visit")
}

/// What is wished.
enum Wish {
    Begin,
    Pause,
    Resume,
    Close { all_the_same: bool },
    Say(VisitWord),
}

impl VisitTold {
    /// The one thing that was said; none: it is only shown.
    fn wish(&self) -> Option<Wish> {
        let said = |word: VisitWord, is_said: bool| (is_said, Wish::Say(word));
        [
            (self.begin, Wish::Begin),
            (self.pause, Wish::Pause),
            (self.resume, Wish::Resume),
            (self.close, Wish::Close { all_the_same: false }),
            (self.close_all_the_same, Wish::Close { all_the_same: true }),
            said(VisitWord::CleanedBefore, self.cleaned == Some(Cleaned::Before)),
            said(VisitWord::CleanedAfter, self.cleaned == Some(Cleaned::After)),
            said(VisitWord::Routine, self.why == Some(VisitWhy::Routine)),
            said(VisitWord::CallOut, self.why == Some(VisitWhy::CallOut)),
            said(VisitWord::WholeHerd, self.whole_herd),
            said(VisitWord::Selected, self.selected),
        ]
        .into_iter()
        .find_map(|(is_said, wish)| is_said.then_some(wish))
    }
}

/// Shows the visit of the day, or says something of it.
///
/// # Errors
/// A farm that is not there; what is so already; no visit to say it of; one that asks before it is closed.
pub fn visit(cli: &Cli, world: &mut World, farm: Option<&str>, told: &VisitTold, form: ListForm) -> Result<(), Fault> {
    place::with_book(cli, world, |store, world| {
        let (farms, problems) = Farms::of(store)?;
        note(world, &problems)?;
        let farm = farms.meant(farm)?;
        let at = At { farm, name: farms.name(farm), on: today(cli, world) };
        let visits = at.visits(store, world)?;
        if let Some(wish) = told.wish() {
            let facts = at.facts(store, world, &visits, wish)?;
            press(store, cli, world, facts)?;
            writeln!(world.out, "Written. crushbook undo{} takes it back.", option(&at.name))?;
        }
        let visits = at.visits(store, world)?;
        let sum = at.shown(&visits).map(|visit| at.sum(store, world, visit)).transpose()?;
        match (&sum, form) {
            (None, ListForm::Text) => {
                writeln!(world.out, "{}: no visit on {}.", safe(&at.name), words::weekday(at.on))?;
                Ok(())
            }
            _ => {
                let totals = sum.as_ref().map_or(Totals::default(), |sum| sum.totals);
                write(cli, world, (&at.name, at.on), &totals, (sum.as_slice(), form))
            }
        }
    })
}

/// Where and when.
struct At {
    farm: FarmId,
    name: String,
    on: NaiveDate,
}

impl At {
    fn visits(&self, store: &Store, world: &mut World) -> Result<Visits, Fault> {
        let (visits, problems) = on_day(store, self.farm, self.on)?;
        note(world, &problems)?;
        Ok(visits)
    }

    fn sum(&self, store: &Store, world: &mut World, visit: &Visit) -> Result<VisitSum, Fault> {
        let (sum, problems) = of_visit(store, self.farm, visit.clone(), self.on)?;
        note(world, &problems)?;
        Ok(sum)
    }

    /// The visit that is shown: the one under way, else the newest of the day, else the newest that waits to go on.
    fn shown<'v>(&self, visits: &'v Visits) -> Option<&'v Visit> {
        let of_day = || visits.of_day(self.on).next();
        visits.under_way().or_else(of_day).or_else(|| visits.waiting(self.on).next())
    }

    fn facts(
        &self,
        store: &Store,
        world: &mut World,
        visits: &Visits,
        wish: Wish,
    ) -> Result<Vec<(RecordId, Event)>, Fault> {
        let farm = self.farm;
        let facts = match wish {
            Wish::Begin => visits.begin(farm),
            Wish::Pause => visits.pause(farm),
            Wish::Resume => match visits.aside(self.on).or_else(|| visits.waiting(self.on).next()) {
                Some(visit) => visits.go_on(farm, visit.id),
                None => return Err(Fault::failed("no visit of this farm was set aside", NOTHING)),
            },
            Wish::Close { all_the_same } => match visits.to_close() {
                Ok(visit) => {
                    if !all_the_same {
                        self.may_close(store, world, visits, visit)?;
                    }
                    visits.close(farm, visit)
                }
                Err(no) => Err(no),
            },
            Wish::Say(_) if visits.asks(self.on) => return Err(self.which(visits)),
            Wish::Say(word) => visits.say(word, farm, self.on, store.next_id()),
        };
        facts.map_err(|no| match no {
            No::AlreadySo => Fault::failed("it is already so", NOTHING),
            No::NoVisit => Fault::failed("no visit is under way there", "The first animal begins one, or --begin."),
        })
    }

    /// One that somebody waits in, or of which nothing was told of washing after, asks for another word than an accident's.
    fn may_close(&self, store: &Store, world: &mut World, visits: &Visits, visit: VisitId) -> Result<(), Fault> {
        let Some(visit) = visits.get(visit) else { return Ok(()) };
        let sum = self.sum(store, world, visit)?;
        if !sum.asks() {
            return Ok(());
        }
        let waits = waits(&sum).map(|who| format!("still waits: {who}"));
        let washed =
            (!sum.visit.holds(sum.visit.cleaned_after)).then(|| "nothing was told of washing after".to_owned());
        let causes = waits.into_iter().chain(washed).collect();
        let hint = "--close-all-the-same closes it; --cleaned after tells of washing. Nothing was written.";
        Err(Fault::failed(format!("the visit of {} is not closed", words::weekday(sum.visit.on)), hint).because(causes))
    }

    fn which(&self, visits: &Visits) -> Fault {
        let days: Vec<String> = visits.waiting(self.on).map(|visit| words::weekday(visit.on)).collect();
        let what = format!("a visit was set aside: {}", days.join(", "));
        Fault::failed(what, "Say first which it is: --resume goes on with the newest, --begin begins another.")
    }
}

const NOTHING: &str = "Nothing was written.";
