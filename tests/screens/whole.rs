//! No word is cut: at none of the three sizes does any screen end a line inside a word.

use super::pads::{SIZES, every_screen};
use super::world::{buffer, six_days_later, text};
use crate::stories::rig::Rig;
use crushbook::domain::anatomy::{Foot, Horn, Place, Side};
use crushbook::domain::ids::{FarmId, PutId, RecordId};
use crushbook::domain::label::Label;
use crushbook::domain::treatment::Measure;
use crushbook::domain::vocabulary::Vocabulary;
use crushbook::keys::keymap::BuiltIn;
use crushbook::screen::brief::forms;
use crushbook::screen::theme::Colour;
use crushbook::screen::words::prompt;
use crushbook::session::Session;
use crushbook::session::amend::labels::Wears;
use crushbook::session::amend::{self};
use crushbook::session::choices::choices;
use crushbook::session::mode::{Mode, TextFor};
use std::collections::BTreeSet;

const MAP: BuiltIn = BuiltIn::TwoHands;
/// Shorter pieces of words are codes on the map, which are shortened there on purpose.
const LETTERS: usize = 4;

fn picture(session: &Session, size: (u16, u16)) -> String {
    text(&buffer(session, MAP, Colour::Full, size))
}

fn words(text: &str) -> BTreeSet<String> {
    let all = text.split(|letter: char| !letter.is_alphabetic());
    all.filter(|word| word.len() >= LETTERS).map(str::to_owned).collect()
}

/// Every mode, every question, help over each, and the lights of a sign-off.
fn screens() -> Vec<Session> {
    let mut all = every_screen();
    for session in all.clone() {
        let mut helped = session.clone();
        helped.mode = Mode::Help { top: 0, under: Box::new(session.mode) };
        all.push(helped);
    }
    all
}

/// The words of every form of every choice.
fn shorter(session: &Session) -> BTreeSet<String> {
    let Mode::Pad { ask, .. } = &session.mode else { return BTreeSet::new() };
    let forms = choices(session, ask).into_iter().flat_map(|choice| forms(session, &choice.act));
    words(&forms.collect::<Vec<_>>().join(" "))
}

#[test]
fn no_screen_cuts_a_word_at_any_size() {
    let all = screens();
    // Words as they are: what a screen far wider and higher than any shows.
    let wide = all.iter().flat_map(|session| words(&picture(session, (240, 90))));
    // And the shorter forms of choices, which are whole words too.
    let known: BTreeSet<String> = wide.chain(all.iter().flat_map(shorter)).collect();
    assert!(known.len() > 300, "{} words are known", known.len());
    let mut cut = BTreeSet::new();
    for session in &all {
        for size in SIZES {
            let shown = picture(session, size);
            for word in words(&shown).difference(&known) {
                if let Some(whole) = known.iter().find(|whole| whole.starts_with(word.as_str())) {
                    cut.insert(format!("{word} of {whole} at {size:?} in {:?}\n{shown}", session.mode));
                }
            }
        }
    }
    let cut: Vec<String> = cut.into_iter().collect();
    assert!(cut.is_empty(), "{} words are cut:\n{}", cut.len(), cut.join("\n"));
}

/// Everything that can be typed for.
fn texts(rig: &Rig) -> Vec<TextFor> {
    let place = Place::Horn(Foot::RightHind, Side::Outer, Horn::CleftWallHeel);
    let put = PutId(RecordId { series: 1, seq: 1 });
    let farm = FarmId(RecordId { series: 1, seq: 1 });
    let crush = rig.session().crush.as_ref().expect("an animal is in the crush");
    let wears = Wears { animal: crush.animal, labels: crush.history.labels.clone() };
    let fields = Label::ALL.iter().map(|label| TextFor::Amend(amend::Text::Label(wears.clone(), *label)));
    let mut all = vec![
        TextFor::Note(place),
        TextFor::OwnWords(place),
        TextFor::ForeignBody(place),
        TextFor::Product(put),
        TextFor::Stated(put),
        TextFor::Remover(put),
        TextFor::Measure(place, Measure::DorsalWall),
        TextFor::Measure(place, Measure::Sole),
        TextFor::Who,
        TextFor::FarmName,
        TextFor::Group,
        TextFor::FarmNote,
        TextFor::VetSaid(crush.animal, put.0),
        TextFor::Answers(farm),
        TextFor::HandedTo(farm),
        TextFor::Amend(amend::Text::Whose(crush.animal, crush.turn)),
        TextFor::Amend(amend::Text::Day(put)),
    ];
    all.extend(fields);
    all
}

#[test]
fn what_a_text_is_typed_for_stands_there_whole() {
    let mut rig = six_days_later(MAP);
    rig.press("1 3 8 2 Enter 3");
    for what in texts(&rig) {
        let wanted = prompt(rig.session(), &what);
        for size in SIZES {
            let mut session = rig.session().clone();
            let under = Box::new(session.mode.base().clone());
            session.mode = Mode::Text { what: what.clone(), text: String::new(), under };
            let shown = picture(&session, size);
            // Beside the map it goes on from line to line: what stands right of the map, in one.
            let left = match size {
                (60, _) => 40,
                (80, _) => 52,
                _ => 77,
            };
            let right = |line: &str| line.chars().skip(left).collect::<String>();
            let one: Vec<String> = shown.lines().map(|line| right(line).trim().to_owned()).collect();
            assert!(one.join(" ").contains(&wanted), "{wanted:?} at {size:?}\n{shown}");
        }
    }
}

#[test]
fn help_stands_whole_on_a_large_screen_for_every_place() {
    for session in every_screen() {
        let mut helped = session.clone();
        helped.mode = Mode::Help { top: 0, under: Box::new(session.mode.clone()) };
        let keymap = MAP.keymap();
        let shown = picture(&helped, (120, 40)).split_whitespace().collect::<Vec<_>>().join(" ");
        for row in crushbook::keys::help::rows(&keymap, session.mode.context()) {
            let words = row.words.replace("{crush}", "crush").replace("{hind}", "hind").replace("{wrap}", "wrap");
            let last = words.replace("{gait}", "gait").split(' ').next_back().map(str::to_owned).unwrap_or_default();
            assert!(shown.contains(&last), "{words:?} in {:?}", session.mode);
        }
    }
}

fn in_one(session: &Session, size: (u16, u16)) -> String {
    picture(session, size).split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn the_caution_stands_whole_where_a_farm_is_chosen() {
    let mut rig = six_days_later(MAP);
    rig.press("v");
    let caution = "no diagnosis: treatment, medicines and anaesthesia belong to the animal's vet and to local law";
    for size in SIZES {
        let shown = in_one(rig.session(), size);
        assert!(shown.contains(caution), "{size:?}: {shown}");
    }
}

#[test]
fn before_she_goes_what_has_no_room_is_counted_and_the_key_stands_there() {
    let mut rig = six_days_later(MAP);
    rig.press("1 3 8 2 Enter Enter");
    let small = picture(rig.session(), (60, 20));
    assert!(small.contains("press its number\n") || small.contains("press its number "), "{small}");
    assert!(small.contains("4 left open"), "{small}");
    let large = picture(rig.session(), (120, 40));
    assert!(large.contains("left open:") && large.contains("RH not looked at"), "{large}");
}

#[test]
fn a_question_about_her_names_her_where_no_number_stands_above() {
    let mut rig = six_days_later(MAP);
    rig.press("7 Enter 5 Enter 7 Enter");
    for size in SIZES {
        let shown = picture(rig.session(), size);
        assert!(shown.contains("7 was in today"), "{size:?}\n{shown}");
    }
}
