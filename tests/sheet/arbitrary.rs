//! Any sheet at all: what is printed reads back the same, and prints the same again.

use chrono::{Days, NaiveDate};
use crushbook::domain::anatomy::{Foot, Horn, Place, Side, Skin};
use crushbook::domain::event::{Gap, OpenGap, PauseWhy};
use crushbook::domain::finding::{Degree, FINDINGS, Finding, Grade, Scale, Stage};
use crushbook::domain::herd::{Change, FarmFact, Leaving, MedicineUse, Scope, VisitWhy, VisitWord};
use crushbook::domain::history::{Look, Verdict};
use crushbook::domain::label::Label;
use crushbook::domain::sheet::{End, Fact, FarmTold, Line, NewFinding, Sheet, SheetTurn, Thing, Told, VisitEnd};
use crushbook::domain::treatment::{
    BlockKind, Colour, Gait, GaitScale, Means, Measure, Milking, Off, OffBy, Outcome, Put, Relief, Sign, SkinState,
    Trim, Word,
};
use crushbook::domain::vocabulary::Vocabulary;
use crushbook::domain::which::Which;
use crushbook::wire::sheet;
use proptest::collection::vec;
use proptest::option;
use proptest::prelude::*;
use proptest::sample::{select, subsequence};

fn any_of<V: Vocabulary>() -> impl Strategy<Value = V> {
    select(V::ALL)
}

fn maybe<S: Strategy<Value = String>>(text: S) -> impl Strategy<Value = String> {
    prop_oneof![Just(String::new()), text]
}

/// Such words, some letters that are seen among them.
fn words() -> impl Strategy<Value = String> {
    text().prop_filter("something is said", |text| !text.trim().is_empty())
}

/// Words as people and terminals can make them: quotes, backslashes, newlines, marks that turn the writing.
fn text() -> impl Strategy<Value = String> {
    prop_oneof![
        "[a-zA-Z0-9 '#,=-]{1,20}",
        "\\PC{1,12}",
        select(vec!["off", "by", "LH", "\"", "\\", "a\nb", "\u{1b}[2J", "\u{202e}gnol", "\u{feff}", "14 May", "\t"])
            .prop_map(str::to_string),
    ]
}

pub fn today() -> NaiveDate {
    NaiveDate::from_ymd_opt(2026, 5, 14).expect("a day of the calendar")
}

fn near_day() -> impl Strategy<Value = NaiveDate> {
    (0..1500_u64).prop_map(|days| today() + Days::new(days))
}

fn any_day() -> impl Strategy<Value = NaiveDate> {
    (0..30_000_u64).prop_map(|days| NaiveDate::from_ymd_opt(1990, 1, 1).expect("a day") + Days::new(days))
}

fn on_a_foot() -> impl Strategy<Value = Place> {
    select(Foot::ALL.iter().flat_map(|foot| every_place(*foot)).collect::<Vec<_>>())
}

fn anywhere() -> impl Strategy<Value = Place> {
    prop_oneof![Just(Place::Animal), on_a_foot()]
}

/// A finding at a place where it can be, as exact as the place makes it.
fn found_at() -> impl Strategy<Value = (Finding, Place)> {
    let everywhere = Foot::ALL.iter().flat_map(|foot| every_place(*foot));
    let possible = everywhere.flat_map(|place| {
        Finding::ALL.iter().filter(move |what| what.can_be_at(place)).map(move |what| (*what, place))
    });
    select(possible.collect::<Vec<_>>())
        .prop_map(|(what, place)| (place.zone().map_or(what, |zone| what.told_by(zone)), place))
}

fn every_place(foot: Foot) -> Vec<Place> {
    let mut places = vec![Place::Above(foot), Place::Foot(foot)];
    places.extend(Skin::ALL.iter().map(|skin| Place::Skin(foot, *skin)));
    for side in Side::ALL {
        places.extend([Place::Claw(foot, *side), Place::Dewclaw(foot, *side)]);
        places.extend(Horn::ALL.iter().map(|horn| Place::Horn(foot, *side, *horn)));
    }
    places
}

fn degree(what: Finding) -> BoxedStrategy<Degree> {
    match what.row().scale {
        Scale::Grade => {
            option::of(any_of::<Grade>()).prop_map(|grade| grade.map_or(Degree::NotGiven, Degree::Grade)).boxed()
        }
        Scale::Stage => {
            option::of(any_of::<Stage>()).prop_map(|stage| stage.map_or(Degree::NotGiven, Degree::Stage)).boxed()
        }
        Scale::None => Just(Degree::NotGiven).boxed(),
    }
}

fn found() -> impl Strategy<Value = Fact> {
    found_at().prop_flat_map(|(what, place)| {
        let words = if what == Finding::OwnWords { text().boxed() } else { maybe(text()).boxed() };
        let side = if place.side().is_none() { option::of(any_of::<Side>()).boxed() } else { Just(None).boxed() };
        (degree(what), any::<bool>(), any::<bool>(), side, words).prop_map(
            move |(degree, infected, deep, side, words)| {
                let infected = infected && what.row().infectable;
                Fact::Found(NewFinding { place, what, degree, infected, deep, side, words })
            },
        )
    })
}

fn answered() -> impl Strategy<Value = Fact> {
    (found_at(), any_of::<Outcome>(), any_of::<Stage>()).prop_map(|((what, place), outcome, stage)| {
        let staged = what.row().scale == Scale::Stage && outcome != Outcome::NotLooked;
        let verdict = if staged { Verdict::Stage(stage) } else { Verdict::Outcome(outcome) };
        Fact::Answered { place, what, verdict }
    })
}

fn put() -> impl Strategy<Value = Put> {
    prop_oneof![
        (any_of::<Foot>(), any_of::<Side>(), any_of::<BlockKind>()).prop_map(|(foot, side, kind)| Put::Block {
            foot,
            side,
            kind
        }),
        (on_a_foot(), option::of(any_of::<Colour>())).prop_map(|(over, colour)| Put::Wrap { over, colour }),
        (on_a_foot(), maybe(text())).prop_map(|(place, product)| Put::Dressing { place, product }),
    ]
}

fn put_on(by_others: impl Strategy<Value = String>) -> impl Strategy<Value = Fact> {
    let off_by = (near_day(), any_of::<Milking>()).prop_map(|(day, milking)| OffBy { day, milking });
    (put(), option::of(off_by), maybe(text()), by_others).prop_map(|(put, off_by, remover, by_others)| Fact::Put {
        put,
        off_by,
        remover,
        by_others,
    })
}

fn off() -> impl Strategy<Value = Fact> {
    let possible = Thing::ALL
        .iter()
        .flat_map(|thing| Off::ALL.iter().filter(|off| thing.can_be(**off)).map(move |off| (*thing, *off)));
    (select(possible.collect::<Vec<_>>()), on_a_foot(), any_of::<SkinState>())
        .prop_map(|((thing, outcome), place, skin)| Fact::Off { thing, place, outcome, skin })
}

fn look() -> impl Strategy<Value = Fact> {
    (any_of::<Foot>(), any::<[bool; 3]>()).prop_map(|(foot, [lifted, trimmed, all_seen])| {
        // A foot that was trimmed or seen was lifted.
        Fact::Look { foot, look: Look { lifted: lifted || trimmed || all_seen, trimmed, all_seen } }
    })
}

fn gait() -> impl Strategy<Value = Fact> {
    any_of::<GaitScale>().prop_flat_map(|scale| scale.range().prop_map(move |score| Fact::Gait(Gait { scale, score })))
}

fn medicine() -> impl Strategy<Value = Fact> {
    let words = (text(), vec(maybe(text()), 12));
    let days = (option::of(any_day()), option::of(any_day()), option::of(any_day()));
    let counts = (option::of(any::<u16>()), option::of(any::<u16>()), option::of(any::<u16>()));
    (words, days, counts).prop_map(|((product, words), (expiry, first, last), (doses, meat_days, milk_days))| {
        let mut words = words.into_iter();
        let mut next = || words.next().unwrap_or_default();
        Fact::Medicine(Box::new(MedicineUse {
            product,
            registration: next(),
            batch: next(),
            expiry,
            first,
            last,
            doses,
            quantity: next(),
            unit: next(),
            route: next(),
            reason: next(),
            given_by: next(),
            prescriber: next(),
            prescriber_contact: next(),
            supplier: next(),
            supplier_address: next(),
            document: next(),
            meat_days,
            milk_days,
            stated_by: next(),
        }))
    })
}

/// Facts that need no turn.
fn outside() -> impl Strategy<Value = Fact> {
    prop_oneof![
        gait(),
        medicine(),
        (anywhere(), text()).prop_map(|(place, text)| Fact::Note { place, text }),
        (anywhere(), any_of::<Sign>(), maybe(text())).prop_map(|(place, sign, words)| Fact::Vet { place, sign, words }),
        (anywhere(), near_day(), maybe(text())).prop_map(|(place, on, words)| Fact::Recheck { place, on, words }),
    ]
}

fn fact() -> impl Strategy<Value = Fact> {
    prop_oneof![
        look(),
        found(),
        answered(),
        put_on(maybe(text())),
        off(),
        outside(),
        (on_a_foot(), any_of::<Trim>()).prop_map(|(place, how)| Fact::Trimmed { place, how }),
        (on_a_foot(), any_of::<Measure>(), any::<u16>()).prop_map(|(place, what, mm)| Fact::Measured {
            place,
            what,
            mm
        }),
        anywhere().prop_map(Fact::Sore),
        any_of::<Relief>().prop_map(Fact::Relief),
        words().prop_map(Fact::HandedOver),
    ]
}

fn turn() -> impl Strategy<Value = Line> {
    let gap = (any_of::<Gap>(), anywhere()).prop_map(|(gap, place)| OpenGap { gap, place });
    let end = prop_oneof![
        Just(End::Open),
        option::of(any_of::<PauseWhy>()).prop_map(End::Paused),
        vec(gap, 0..3).prop_map(End::Signed),
    ];
    (text(), vec(fact(), 0..8), end).prop_map(|(animal, facts, end)| Line::Turn(SheetTurn { animal, facts, end }))
}

fn told() -> impl Strategy<Value = Told> {
    prop_oneof![
        (on_a_foot(), any_of::<Thing>(), maybe(text()), any_of::<Means>(), any_of::<Word>())
            .prop_map(|(place, thing, by, means, word)| Told::Word { place, thing, by, means, word }),
        (any_of::<Leaving>(), maybe(text())).prop_map(|(why, words)| Told::Left { why, words }),
        maybe(text()).prop_map(Told::Back),
        (any_of::<Label>(), text(), any::<bool>()).prop_map(|(label, text, shared)| Told::Label {
            label,
            text,
            shared
        }),
        any::<bool>().prop_map(Told::Kicks),
        Just(Told::Cull),
        (any_of::<Foot>(), any_of::<Side>()).prop_map(|(foot, side)| Told::ClawGone(foot, side)),
        any_day().prop_map(Told::Dry),
        any_day().prop_map(Told::Calved),
        any_day().prop_map(Told::DueToCalve),
        (0..=30u8).prop_map(Told::Lactation),
        text().prop_map(Told::Group),
        (words(), any::<bool>(), maybe(text())).prop_map(|(words, urgent, caller)| Told::Called {
            words,
            urgent,
            caller
        }),
        (anywhere(), maybe(text())).prop_map(|(place, words)| Told::VetAnswered { place, words }),
        prop_oneof![outside(), put_on(text())].prop_map(Told::Fact),
    ]
}

fn farm_told() -> impl Strategy<Value = FarmTold> {
    prop_oneof![
        (any_of::<FarmFact>(), text()).prop_map(|(fact, words)| FarmTold::Fact(fact, words)),
        (text(), maybe(text()), maybe(text()), any::<bool>()).prop_map(|(name, does, phone, gone)| FarmTold::Contact {
            name,
            does,
            phone,
            gone
        }),
        (any_of::<Change>(), maybe(text())).prop_map(|(change, words)| FarmTold::Changed(change, words)),
        (words(), any::<bool>(), maybe(text())).prop_map(|(words, urgent, caller)| FarmTold::Called {
            words,
            urgent,
            caller
        }),
        (any::<bool>(), maybe(text()), maybe(text())).prop_map(|(answered, who, words)| FarmTold::Rung {
            answered,
            who,
            words
        }),
        (
            (any_of::<Scope>(), any::<bool>()),
            said(),
            maybe(said()),
            maybe(said()),
            option::of(near_day()),
            option::of(maybe(said()))
        )
            .prop_map(|((scope, again), text, asked_by, why, review_on, vet)| FarmTold::Instructed {
                scope,
                text,
                again,
                asked_by,
                why,
                review_on,
                vet
            }),
        (any_of::<Scope>(), which(), maybe(text()), option::of(near_day())).prop_map(
            |(scope, which, words, review_on)| FarmTold::InstructionReviewed { scope, which, words, review_on }
        ),
        (any_of::<Scope>(), which(), maybe(text())).prop_map(|(scope, which, why)| FarmTold::InstructionEnded {
            scope,
            which,
            why
        }),
    ]
}

/// More than blanks: an instruction has words, and one that takes horn away a vet.
fn said() -> impl Strategy<Value = String> {
    text().prop_filter("words", |words| !words.trim().is_empty())
}

fn which() -> impl Strategy<Value = Which> {
    (maybe(text()), option::of(any_day())).prop_map(|(words, since)| Which { words, since })
}

fn any_sheet() -> impl Strategy<Value = Sheet> {
    let animal =
        prop_oneof![text(), select(vec!["note", "vet", "phone", "rung", "instruction"]).prop_map(str::to_string)];
    let line = prop_oneof![
        3 => turn(),
        1 => (animal, told()).prop_map(|(animal, told)| Line::Animal { animal, told }),
        1 => farm_told().prop_map(Line::Farm),
    ];
    let herd = select(vec![None, Some(VisitWord::WholeHerd), Some(VisitWord::Selected)]);
    let rest = [VisitWord::CleanedBefore, VisitWord::CleanedAfter, VisitWord::GoneOn];
    let visit =
        (herd, subsequence(rest.to_vec(), 0..=3)).prop_map(|(herd, rest)| herd.into_iter().chain(rest).collect());
    // That it is routine is said or left out; a call-out is always said.
    let said = |why: VisitWhy, is_said: bool| (is_said && why == VisitWhy::Routine).then_some(VisitWord::Routine);
    let visit = (visit, any::<bool>());
    let ended = option::of(any_of::<VisitEnd>());
    (text(), any_of::<VisitWhy>(), (visit, ended), maybe(text()), vec(line, 0..6)).prop_map(
        move |(farm, why, ((words, is_said), ended), by, lines): (_, _, ((Vec<VisitWord>, bool), _), _, _)| {
            let visit = said(why, is_said).into_iter().chain(words).collect();
            Sheet { farm, on: today(), by, why, visit, ended, lines }
        },
    )
}

proptest! {
    #[test]
    fn parse_and_print_are_inverses(sheet in any_sheet()) {
        let printed = sheet::print(&sheet);
        prop_assert!(printed.chars().all(|next| next == '\n' || !next.is_control()), "{printed:?}");
        let read = sheet::parse(&printed, "any").map_err(|mistakes| {
            TestCaseError::fail(format!("{}\n{printed}", mistakes.iter().map(ToString::to_string).collect::<Vec<_>>().join("\n")))
        })?;
        prop_assert_eq!(&read, &sheet, "{}", printed);
        prop_assert_eq!(sheet::print(&read), printed);
    }

    #[test]
    fn any_bytes_are_read_without_panic(bytes in vec(any::<u8>(), 0..400)) {
        sheet::fuzz(&bytes);
    }

    #[test]
    fn a_sheet_with_words_swapped_about_is_read_without_panic(
        sheet in any_sheet(), from in any::<prop::sample::Index>(), to in any::<prop::sample::Index>()
    ) {
        let printed = sheet::print(&sheet);
        let mut words: Vec<&str> = printed.split_inclusive(' ').collect();
        let (from, to) = (from.index(words.len()), to.index(words.len()));
        words.swap(from, to);
        sheet::fuzz(words.concat().as_bytes());
    }
}

#[test]
fn every_kept_seed_is_read_without_panic() {
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/sheet/seeds");
    let mut count = 0;
    for entry in std::fs::read_dir(folder).expect("the seeds") {
        sheet::fuzz(&std::fs::read(entry.expect("an entry").path()).expect("a seed"));
        count += 1;
    }
    assert!(count >= 4, "{count} seeds");
}

#[test]
fn every_finding_can_be_written_somewhere() {
    for row in FINDINGS {
        let places = ["LH", "LH heel", "LH cleft", "LH outer", "LH outer 1", "LH outer 4", "LH outer 7", "LH outer 11"];
        let mut lines = places.map(|place| format!("{place} {}", row.finding.word())).into_iter();
        let read = |line: String| {
            let words = if row.finding == Finding::OwnWords { " \"x\"" } else { "" };
            sheet::parse(&format!("farm A\nday 14 May 2026\nanimal 1\n{line}{words}"), "x").is_ok()
        };
        assert!(lines.any(read), "{}", row.name);
    }
}
