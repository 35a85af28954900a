//! Trying keys: what each press was read as, what it means, what is ticked off, and how it ends.

use std::time::Duration;

use crushbook::keys::context::Context;
use crushbook::keys::intent::Intent;
use crushbook::keys::keymap::BuiltIn;
use crushbook::keys::trial::{Heard, Meaning, Trial, Verdict};

/// Presses keys at these times, and lets time pass as the loop would.
fn pressed(map: BuiltIn, keys: &[(u64, &str)]) -> Trial {
    let mut trial = Trial::new(map.keymap());
    for (at, name) in keys {
        let at = Duration::from_millis(*at);
        while let Some(wake) = trial.wakes_at().filter(|wake| *wake < at) {
            trial.tick(wake);
        }
        trial.take(at, name.parse().expect("a key"));
    }
    while let Some(wake) = trial.wakes_at() {
        trial.tick(wake);
    }
    trial
}

/// Keys one after the other, in no hurry.
fn slowly(map: BuiltIn, keys: &str) -> Trial {
    let timed: Vec<(u64, &str)> = (1..).map(|n| n * 700).zip(keys.split(' ')).collect();
    pressed(map, &timed)
}

fn verdicts(trial: &Trial) -> Vec<Verdict> {
    let verdict = |heard: &Heard| match heard {
        Heard::Press { verdict, .. } => Some(*verdict),
        Heard::Paste(_) | Heard::Tap(_, _) => None,
    };
    trial.heard().filter_map(verdict).collect()
}

#[test]
fn each_press_says_what_the_filter_saw_in_it() {
    use Verdict::{Bounced, Finger, Held, Reader, Swept};
    let two = |keys: &[(u64, &str)]| verdicts(&pressed(BuiltIn::TwoHands, keys));
    assert_eq!(two(&[(0, "4"), (400, "1"), (800, "3")]), [Finger; 3]);
    // The times are those of `filter.rs`: a wet key within 120 ms, a held one after 400 ms and then every 25.
    assert_eq!(two(&[(0, "4"), (90, "4"), (500, "1")]), [Finger, Bounced, Finger]);
    assert_eq!(two(&[(0, "u"), (400, "u"), (425, "u"), (450, "u"), (475, "u")]), [Finger, Held, Held, Held, Held]);
    let tag: Vec<(u64, String)> = (0..).zip("276009990001234".chars()).map(|(n, c)| (n * 4, c.to_string())).collect();
    let mut tag: Vec<(u64, &str)> = tag.iter().map(|(at, key)| (*at, key.as_str())).collect();
    tag.push((60, "Enter"));
    assert_eq!(two(&tag), [Reader; 16], "with the Enter that ends it");
    assert_eq!(two(&[(0, "4"), (3, "1"), (6, "3"), (9, "2")]), [Swept; 4]);
}

#[test]
fn the_time_since_the_last_press_is_that_of_the_fingers() {
    let trial = pressed(BuiltIn::TwoHands, &[(100, "4"), (350, "1")]);
    let since = |heard: &Heard| match heard {
        Heard::Press { since, .. } => *since,
        Heard::Paste(_) | Heard::Tap(_, _) => None,
    };
    let since: Vec<_> = trial.heard().map(since).collect();
    assert_eq!(since, [None, Some(Duration::from_millis(250))]);
}

#[test]
fn the_newest_press_says_what_it_means_in_every_context() {
    let trial = slowly(BuiltIn::Keypad, "* 7");
    let means = |wanted| trial.meanings().iter().find(|(context, _)| *context == wanted).map(|(_, meaning)| *meaning);
    assert_eq!(trial.meanings().len(), Context::ALL.len());
    assert_eq!(means(Context::Foot), Some(Meaning::Is(Intent::Zone(11))));
    assert_eq!(means(Context::Today), Some(Meaning::Is(Intent::Left)));
    assert_eq!(means(Context::Animal), Some(Meaning::Nothing));
    assert_eq!(slowly(BuiltIn::Keypad, "*").meanings()[0].1, Meaning::Begins);
}

#[test]
fn the_list_ticks_off_what_came() {
    for map in BuiltIn::ALL {
        let keymap = map.keymap();
        let mut trial = Trial::new(map.keymap());
        assert_eq!(trial.wanted().len(), 14, "ten digits, go on, undo, help, leave");
        let all: Vec<String> = trial
            .wanted()
            .iter()
            .map(|wanted| keymap.keys_for(Context::Today, wanted.intent).first().expect("a key").clone())
            .collect();
        let mut at = Duration::ZERO;
        for name in all.iter().flat_map(|keys| keys.split(' ')) {
            at += Duration::from_millis(700);
            trial.take(at, name.parse().expect("a key"));
            while let Some(wake) = trial.wakes_at() {
                trial.tick(wake);
            }
        }
        let missing: Vec<_> = trial.wanted().iter().filter(|wanted| !wanted.came).collect();
        assert!(missing.is_empty(), "{missing:?}");
        assert!(!trial.is_done(), "leave was pressed once");
    }
}

#[test]
fn leave_twice_running_or_ctrl_c_once_ends_it() {
    for (map, once) in [(BuiltIn::TwoHands, "q"), (BuiltIn::Keypad, "* -"), (BuiltIn::LeftHand, "Tab q")] {
        assert!(!slowly(map, once).is_done(), "{map:?}");
        assert!(slowly(map, &format!("{once} {once}")).is_done(), "{map:?}");
        assert!(!slowly(map, &format!("{once} 4 {once}")).is_done(), "{map:?}: not one after the other");
        assert!(slowly(map, "Ctrl+c").is_done());
    }
}

#[test]
fn num_lock_is_said_as_it_looks() {
    assert_eq!(slowly(BuiltIn::Keypad, "Enter").num_lock(), None);
    assert_eq!(slowly(BuiltIn::Keypad, "4").num_lock(), Some(true));
    assert_eq!(slowly(BuiltIn::Keypad, "End Home PageUp").num_lock(), Some(false));
    assert_eq!(slowly(BuiltIn::Keypad, "End Home PageUp 4").num_lock(), Some(true));
}

#[test]
fn taps_and_pastes_are_heard() {
    let mut trial = Trial::new(BuiltIn::TwoHands.keymap());
    trial.tap(5, 12);
    trial.paste(Duration::from_millis(900), "a\u{1b}[2Jb");
    let heard: Vec<_> = trial.heard().cloned().collect();
    assert_eq!(heard, [Heard::Tap(5, 12), Heard::Paste("a [2Jb".to_owned())]);
    assert!(!trial.is_done());
}
