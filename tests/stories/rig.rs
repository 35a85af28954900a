//! A desk without a terminal: keys in one line of text.

use crate::store::disk::{Disk, Power};
use crate::support::sample;
use crate::support::tablet::{day, moment};
use chrono::{Days, NaiveDate};
use crushbook::domain::history::History;
use crushbook::domain::history::open::OpenItem;
use crushbook::domain::ids::{AnimalId, RecordId};
use crushbook::domain::practice::Practice;
use crushbook::domain::record::Record;
use crushbook::keys::context::Context;
use crushbook::keys::intent::Intent;
use crushbook::keys::key::Key;
use crushbook::keys::keymap::BuiltIn;
use crushbook::run::Start;
use crushbook::run::desk::{Desk, Flow};
use crushbook::run::plain::Talk;
use crushbook::session::mode::Mode;
use crushbook::session::{Notice, Session};
use crushbook::store::Store;
use crushbook::terminal::event::Event;
use crushbook::wire::envelope::encode;
use std::path::PathBuf;
use std::time::Duration;

/// Time between two keys of a person in no hurry.
const PACE: Duration = Duration::from_millis(400);

pub struct Rig {
    pub power: Power,
    hand: Disk,
    book: Disk,
    desk: Option<Desk>,
    talk: Option<Talk>,
    map: BuiltIn,
    pub today: NaiveDate,
    pub practice: Practice,
    clock: Duration,
    pace: Duration,
    series: u64,
    farm: Option<String>,
    /// The folder in which herd lists are looked for.
    pub lists: Option<PathBuf>,
}

impl Rig {
    /// A new book with a farm and no animals, open on Today.
    pub fn new(map: BuiltIn) -> Rig {
        let mut rig = Rig::empty(map);
        rig.open();
        rig.press("Enter T h i s t l e Enter");
        // The first record of a book asks who records.
        rig.press("A n n Enter");
        rig
    }

    /// The sample herd on its last day, open on Today of that farm.
    pub fn at(map: BuiltIn, farm: &str) -> Rig {
        let mut rig = Rig { today: sample::today(), farm: Some(farm.to_owned()), ..Rig::empty(map) };
        let (mut store, _) = Store::open(rig.hand.medium(), rig.book.medium(), &mut || Ok(99)).expect("a new book");
        sample::fill(&mut store);
        store.close().expect("at rest");
        rig.open();
        if rig.session().by.is_none() {
            rig.press("y 1");
        }
        rig
    }

    /// A book of these records a week after its newest, open on Today of that farm.
    pub fn over(map: BuiltIn, records: &[Record], farm: &str) -> Rig {
        let mut rig = Rig { today: day(9), ..Rig::empty(map) };
        let (mut store, _) = Store::open(rig.hand.medium(), rig.book.medium(), &mut || Ok(99)).expect("a new book");
        let mut raws = records.iter().map(|record| Ok(encode(record).expect("it can be kept")));
        store.take(&mut raws).expect("taken");
        rig.farm = Some(farm.to_owned());
        store.close().expect("at rest");
        rig.open();
        if rig.session().by.is_none() {
            rig.press("y A n n Enter");
        }
        rig
    }

    /// A machine on which the program was never started.
    pub fn empty(map: BuiltIn) -> Rig {
        let power = Power::default();
        let (hand, book) = (Disk::new(&power), Disk::new(&power));
        Rig {
            power,
            hand,
            book,
            desk: None,
            talk: None,
            map,
            today: day(1),
            practice: Practice::default(),
            clock: Duration::ZERO,
            pace: PACE,
            series: 100,
            farm: None,
            lists: None,
        }
    }

    /// A new book with a farm and these animals.
    pub fn with(map: BuiltIn, numbers: &[&str]) -> Rig {
        let mut rig = Rig::new(map);
        let keymap = map.keymap();
        let key = |context, intent| keymap.keys_for(context, intent).remove(0);
        let (add, sign) = (key(Context::Today, Intent::Add), key(Context::Animal, Intent::GoOn));
        for number in numbers {
            let digits: Vec<String> = number.chars().map(String::from).collect();
            // Added, and let go with no foot up: the turn is then another day's, and nothing waits.
            rig.press(&format!("{} {add} {sign}", digits.join(" ")));
        }
        rig.pass(1);
        rig
    }

    /// The same machine with another power switch, its program not running.
    pub fn copy(&self) -> Rig {
        let power = Power::default();
        let (hand, book) = (self.hand.copy(&power), self.book.copy(&power));
        Rig {
            power,
            hand,
            book,
            desk: None,
            talk: None,
            farm: self.farm.clone(),
            practice: self.practice.clone(),
            lists: self.lists.clone(),
            ..*self
        }
    }

    /// The same with other keys.
    pub fn copy_with(&self, map: BuiltIn) -> Rig {
        Rig { map, ..self.copy() }
    }

    /// Another tablet, to which this one's book was given.
    pub fn other(&mut self) -> Rig {
        let mut rig = Rig { today: self.today, series: self.series + 400, ..Rig::empty(self.map) };
        rig.open();
        rig.join(self);
        rig
    }

    /// Both are left, and this one takes in what the other has.
    pub fn join(&mut self, other: &mut Rig) {
        for rig in [&mut *self, &mut *other] {
            rig.desk.take().expect("open").close().expect("closes");
        }
        let open = |rig: &Rig| Store::open(rig.hand.medium(), rig.book.medium(), &mut || Ok(rig.series + 1));
        let (mut store, _) = open(self).expect("opens");
        let (theirs, _) = open(other).expect("opens");
        store.take(&mut theirs.every().expect("reads")).expect("taken in");
        store.close().expect("closes");
        theirs.close().expect("closes");
        self.open();
        other.open();
    }

    /// Every record that is left when the battery was pulled; the book must be sound.
    pub fn left(&mut self) -> Vec<RecordId> {
        self.desk = None;
        self.power.cut_at(self.power.operations(), 11);
        self.hand.lose_power();
        self.book.lose_power();
        self.power.restore();
        let opened = Store::open(self.hand.medium(), self.book.medium(), &mut || Ok(self.series + 1));
        let (mut store, problems) = opened.expect("the book opens");
        assert_eq!(problems, []);
        let verdict = store.verify().expect("checked");
        assert!(verdict.is_sound(), "{verdict:?}");
        store.every().expect("read").map(|raw| raw.expect("every record can be read").id).collect()
    }

    pub fn open(&mut self) {
        let series = &mut self.series;
        let mut source = || {
            *series += 1;
            Ok(*series)
        };
        let (store, _) = Store::open(self.hand.medium(), self.book.medium(), &mut source).expect("the book opens");
        let start = Start {
            today: Some(self.today),
            farm: self.farm.clone(),
            keymap: self.map.keymap(),
            problems: Vec::new(),
            practice: self.practice.clone(),
            lists: self.lists.clone(),
        };
        let now = moment(self.today);
        let mut desk = Desk::new(store, start, now);
        desk.begin(now);
        self.desk = Some(desk);
        self.talk = None;
    }

    /// Days pass: the program is left and opened again.
    pub fn pass(&mut self, days: u64) {
        let desk = self.desk.take().expect("open");
        desk.close().expect("closes");
        self.today = self.today + Days::new(days);
        self.open();
    }

    /// Waits until no backup is being made.
    pub fn settle(&mut self) -> Flow {
        let mut flow = Flow::On;
        while flow == Flow::On && self.session().backup.as_ref().is_some_and(|backup| backup.under_way) {
            std::thread::yield_now();
            self.clock += self.pace;
            let desk = self.desk.as_mut().expect("open");
            flow = desk.tick(self.clock, moment(self.today));
        }
        flow
    }

    /// The program is left, what another tablet wrote is taken in, and it is opened again.
    pub fn take(&mut self, records: &[Record]) {
        self.desk.take().expect("open").close().expect("closes");
        let source = &mut || Ok(self.series + 1);
        let (mut store, _) = Store::open(self.hand.medium(), self.book.medium(), source).expect("the book opens");
        let raws: Vec<_> = records.iter().map(|record| Ok(encode(record).expect("can be written"))).collect();
        store.take(&mut raws.into_iter()).expect("taken");
        let verdict = store.verify().expect("checked");
        assert!(verdict.is_sound(), "{verdict:?}");
        store.close().expect("closes");
        self.open();
    }

    /// The battery is pulled and put back.
    pub fn pull_battery(&mut self) {
        self.desk = None;
        self.hand.lose_power();
        self.book.lose_power();
        self.power.restore();
        self.open();
    }

    /// From now on keys come faster.
    pub fn hurry(&mut self) {
        self.pace = Duration::from_millis(120);
    }

    /// Every record of the book, in the order of writing. The program is left and opened again for it.
    pub fn every(&mut self) -> Vec<Record> {
        self.desk.take().expect("open").close().expect("closes");
        let source = &mut || Ok(self.series + 1);
        let (store, _) = Store::open(self.hand.medium(), self.book.medium(), source).expect("the book opens");
        let mut records: Vec<Record> = store
            .every()
            .expect("read")
            .map(|raw| raw.expect("every record can be read").decode().expect("a record of this program"))
            .collect();
        records.sort_by_key(|record| record.id);
        store.close().expect("closes");
        self.open();
        records
    }

    /// Presses keys, a space between them.
    pub fn press(&mut self, keys: &str) -> Flow {
        let mut flow = Flow::On;
        for word in keys.split_whitespace() {
            let key: Key = word.parse().unwrap_or_else(|_| panic!("{word} is a key"));
            let now = moment(self.today);
            self.clock += self.pace;
            let desk = self.desk.as_mut().expect("open");
            flow = desk.take(self.clock, Event::Key(key), now);
            self.clock += self.pace;
            // Filters may wait in turn: a run of keys first, then a repeat of the same one.
            for _ in 0..2 {
                if flow == Flow::On && desk.wakes_at().is_some_and(|at| at <= self.clock) {
                    flow = desk.tick(self.clock, now);
                }
                self.clock += self.pace;
            }
        }
        flow
    }

    /// A reader types this, with so long between the keys, and its Enter.
    pub fn scan_at(&mut self, text: &str, gap: Duration) {
        self.clock += Duration::from_secs(1);
        let keys: Vec<Key> = text.chars().map(Key::Char).chain([Key::Enter]).collect();
        self.keys(keys.into_iter().map(|key| (gap, key)));
    }

    /// A reader types this as most do.
    pub fn scan(&mut self, text: &str) {
        self.scan_at(text, Duration::from_millis(4));
    }

    /// A key is held down: it comes once, again after the delay, then at this pace.
    pub fn hold(&mut self, key: &str, delay: u64, every: u64) {
        let key: Key = key.parse().expect("a key");
        let ms = Duration::from_millis;
        let gaps = [ms(1000), ms(delay)].into_iter().chain(std::iter::repeat_n(ms(every), 40));
        self.keys(gaps.map(|gap| (gap, key)));
    }

    /// Keys, each so long after the one before; what waits for silence gets it, as in the loop.
    fn keys(&mut self, keys: impl Iterator<Item = (Duration, Key)>) {
        let now = moment(self.today);
        let desk = self.desk.as_mut().expect("open");
        for (gap, key) in keys {
            self.clock += gap;
            while let Some(wake) = desk.wakes_at().filter(|wake| *wake < self.clock) {
                desk.tick(wake, now);
            }
            desk.take(self.clock, Event::Key(key), now);
        }
        while let Some(wake) = desk.wakes_at() {
            self.clock = wake;
            desk.tick(wake, now);
        }
        self.clock += self.pace;
    }

    /// How many records the book and the hand hold.
    pub fn held(&self) -> u64 {
        self.desk.as_ref().expect("open").held()
    }

    /// Types a line, as in a terminal that can do no more; what is told.
    pub fn line(&mut self, line: &str) -> String {
        let now = moment(self.today);
        self.clock += self.pace * 4;
        let desk = self.desk.as_mut().expect("open");
        let talk = self.talk.get_or_insert_with(|| Talk::begin(desk, now).0);
        talk.take(desk, line, self.clock, now).1
    }

    /// Time passes; what is told without a line.
    pub fn tick(&mut self) -> String {
        let now = moment(self.today);
        self.clock += self.pace * 10;
        let desk = self.desk.as_mut().expect("open");
        let talk = self.talk.get_or_insert_with(|| Talk::begin(desk, now).0);
        talk.tick(desk, self.clock, now).1
    }

    /// Every record there is: the program is left and opened again.
    pub fn kept(&mut self) -> Vec<Record> {
        self.desk.take().expect("open").close().expect("closes");
        let opened = Store::open(self.hand.medium(), self.book.medium(), &mut || Ok(self.series + 1));
        let (store, problems) = opened.expect("the book opens");
        assert_eq!(problems, []);
        let every = store.every().expect("read").map(|raw| raw.expect("read").decode().expect("decoded")).collect();
        store.close().expect("closes");
        self.open();
        every
    }

    /// A tap at a cell of an 80 by 24 screen.
    pub fn tap(&mut self, column: u16, row: u16) {
        let now = moment(self.today);
        self.clock += self.pace;
        let desk = self.desk.as_mut().expect("open");
        desk.set_size(80, 24);
        desk.take(self.clock, Event::Tap { column, row }, now);
    }

    pub fn session(&self) -> &Session {
        self.desk.as_ref().expect("open").session()
    }

    pub fn mode(&self) -> &Mode {
        &self.session().mode
    }

    pub fn notice(&self) -> Option<&Notice> {
        self.session().notice.as_ref()
    }

    /// The history of the animal in the crush.
    pub fn history(&self) -> &History {
        &self.session().crush.as_ref().expect("an animal is in the crush").history
    }

    pub fn records(&self) -> usize {
        self.session().crush.as_ref().expect("an animal is in the crush").records.len()
    }

    pub fn animal(&self, number: &str) -> AnimalId {
        self.session().herd.iter().find(|line| line.labels.number == number).expect("the animal is known").id
    }

    /// What is on an animal, in words of the domain.
    pub fn on(&self, number: &str) -> Vec<crushbook::domain::treatment::Put> {
        let animal = self.animal(number);
        let open = self.session().open.iter().find(|open| open.animal == animal);
        open.map_or(Vec::new(), |open| {
            open.items
                .iter()
                .filter_map(|item| match item {
                    OpenItem::On { what, .. } => Some(what.clone()),
                    _ => None,
                })
                .collect()
        })
    }
}
