//! What a key means: one table of intents, four keymaps, and the filter that keeps
//! scans, palms and wet fingers from being read as commands.
//!
//! Everything here is pure. Time is an argument, the terminal is somewhere else
//! (`terminal` turns what a terminal sends into [`key::Key`]), and nothing here knows
//! what an intent will do: that is the business of the session.
//!
//! The walk of one key: [`filter::Filter`] decides whether it was a finger at all,
//! [`keymap::Keymap::resolve`] looks it up in the present [`context::Context`], and out
//! comes an [`intent::Intent`].

pub mod bounce;
pub mod burst;
pub mod context;
pub mod fault;
pub mod filter;
pub mod help;
pub mod intent;
pub mod key;
pub mod keymap;
pub mod load;
pub mod near;
pub mod num_lock;
pub mod reading;
pub mod table;
pub mod trial;

/// Takes one arbitrary reading apart; it never panics, and what comes out are digits.
///
/// The body of the fuzz target, kept here so that the ordinary tests replay its seeds.
pub fn fuzz_reading(data: &[u8]) {
    let text = String::from_utf8_lossy(data);
    if let Some(digits) = reading::tag_digits(&text) {
        assert!(!digits.is_empty() && digits.chars().all(|c| c.is_ascii_digit()));
        // Digits are a reading of themselves.
        assert_eq!(reading::tag_digits(&digits), Some(digits));
    }
}

/// Runs one arbitrary keymap file through everything that reads keymaps; it never panics.
///
/// The body of the fuzz target, kept here so that the ordinary tests replay its seeds.
pub fn fuzz_keymap(data: &[u8]) {
    let (map, problems) = load::load("fuzz.toml", data);
    for problem in &problems {
        assert!(!problem.to_string().contains(char::is_control));
    }
    let text = String::from_utf8_lossy(data);
    let typed: Vec<key::Key> = text.chars().take(64).map(key::Key::Char).collect();
    for context in context::Context::ALL {
        help::rows(&map, context);
        for (place, key) in typed.iter().enumerate() {
            map.resolve(context, &typed[place.saturating_sub(2)..place], *key);
        }
    }
    let mut trial = trial::Trial::new(map);
    let mut at = std::time::Duration::ZERO;
    for (place, key) in (0_u64..).zip(typed) {
        // Fingers, bounces and readers in turn.
        at += std::time::Duration::from_millis(place / 9 % 3 * 90 + 5);
        trial.tick(at);
        trial.take(at, key);
    }
    assert!(trial.meanings().iter().all(|(context, meaning)| !meaning.words(*context).contains(char::is_control)));
}
