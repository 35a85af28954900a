//! What counts as a finger: bursts, bounces, held keys, pastes, NumLock.
//!
//! The times are those of real keyboards and injected readings, measured on ten terminals.

use std::time::Duration;

use crushbook::keys::bounce::BounceRules;
use crushbook::keys::burst::BurstRule;
use crushbook::keys::context::Context;
use crushbook::keys::filter::{Filter, Input};
use crushbook::keys::key::Key;
use crushbook::keys::num_lock::{Hint, NumLock};

fn ms(at: u64) -> Duration {
    Duration::from_millis(at)
}

/// Types keys at their times and lets time pass as the loop would, to the end.
fn run(context: Context, keys: &[(u64, Key)]) -> Vec<Input> {
    let mut filter = Filter::default();
    let mut out = Vec::new();
    for (at, key) in keys {
        while let Some(wake) = filter.wakes_at().filter(|wake| *wake < ms(*at)) {
            out.extend(filter.tick(wake, context));
        }
        out.extend(filter.take(ms(*at), *key, context));
    }
    while let Some(wake) = filter.wakes_at() {
        out.extend(filter.tick(wake, context));
    }
    out
}

fn typed(text: &str, from: u64, gap: u64) -> Vec<(u64, Key)> {
    (0..).zip(text.chars()).map(|(n, c)| (from + n * gap, key(c))).collect()
}

fn key(c: char) -> Key {
    if c == '\n' { Key::Enter } else { Key::Char(c) }
}

fn keys(text: &str) -> Vec<Input> {
    text.chars().map(|c| Input::Key(key(c))).collect()
}

const TAG: &str = "276009990001234";

#[test]
fn a_reading_is_one_input_at_every_speed_and_in_every_context() {
    for context in Context::ALL {
        for gap in [0, 1, 4, 10, 31, 35] {
            for end in ["", "\n", "\t"] {
                let text = format!("{TAG}{end}");
                let mut sent = typed(&text, 1000, gap);
                if end == "\t" {
                    sent.last_mut().expect("a key").1 = Key::Tab;
                }
                let got = run(context, &sent);
                assert_eq!(got, [Input::Reader(TAG.into())], "{context:?}, {gap} ms, {end:?}");
            }
        }
    }
}

#[test]
fn nothing_of_a_reading_ever_runs_as_a_command() {
    // Enter twice (CR LF), and a double reading 250 ms later that outlasts the deaf time.
    let mut sent = typed(&format!("{TAG}\n\n"), 0, 10);
    sent.extend(typed(&format!("{TAG}\n"), 150 + 250, 10));
    let got = run(Context::Foot, &sent);
    assert_eq!(got[0], Input::Reader(TAG.into()));
    let rest_dropped = got[1..].iter().all(|input| matches!(input, Input::Late(_)));
    assert!(rest_dropped, "{got:?}");
}

#[test]
fn the_bounce_stage_does_not_eat_the_repeated_digits_of_a_tag() {
    let got = run(Context::Animal, &typed("276000000000001\n", 0, 4));
    assert_eq!(got, [Input::Reader("276000000000001".into())]);
}

#[test]
fn fingers_are_keys_however_quick() {
    for gap in [60, 110, 200] {
        assert_eq!(run(Context::Foot, &typed("4132", 0, gap)), keys("4132"), "{gap} ms");
        assert_eq!(run(Context::Today, &typed("1382\n", 0, gap)), keys("1382\n"), "{gap} ms");
    }
    // Two fingers can land within 20 ms.
    assert_eq!(run(Context::Foot, &typed("41", 0, 5)), keys("41"));
    assert_eq!(run(Context::Foot, &typed("4+\n", 0, 20)), keys("4+\n"));
}

#[test]
fn a_palm_or_a_short_paste_is_shown_and_not_run() {
    for text in ["4132", "13827", "1382745"] {
        let got = run(Context::Foot, &typed(text, 0, 3));
        assert_eq!(got, [Input::Swept(text.into())], "{text}");
    }
    assert_eq!(run(Context::Text, &typed("heel", 0, 3)).len(), 4, "letters in a note hurt nobody");
}

#[test]
fn a_wet_key_counts_once_beside_the_crush() {
    for gap in [5, 40, 90, 119] {
        let got = run(Context::Foot, &typed("44", 0, gap));
        assert_eq!(got, [Input::Key(key('4')), Input::Bounced(key('4'))], "{gap} ms");
    }
    // Zone 4, then choice 4.
    assert_eq!(run(Context::Foot, &typed("44", 0, 130)), keys("44"));
    // Anything in between ends the waiting.
    assert_eq!(run(Context::Foot, &typed("4/4", 0, 50)), keys("4/4"));
    // CapsLock does not make another key of it.
    let got = run(Context::Foot, &typed("uU", 0, 90));
    assert_eq!(got, [Input::Key(key('u')), Input::Bounced(key('U'))]);
}

#[test]
fn the_second_press_may_bounce_too() {
    let sent = [(0, key('4')), (200, key('4')), (225, key('4'))];
    let got = run(Context::Foot, &sent);
    let counted: Vec<_> = got.iter().filter(|input| matches!(input, Input::Key(_))).collect();
    assert_eq!(counted.len(), 2, "{got:?}");
}

#[test]
fn number_fields_take_double_digits_at_typing_speed() {
    assert_eq!(run(Context::Today, &typed("4711\n", 0, 110)), keys("4711\n"));
    assert_eq!(run(Context::Today, &typed("11", 0, 50)), keys("11"));
    let got = run(Context::Today, &typed("11", 0, 40));
    assert_eq!(got, [Input::Key(key('1')), Input::Bounced(key('1'))]);
}

#[test]
fn a_held_key_counts_once_beside_the_crush() {
    // First repeat after 250 to 660 ms, then every 25 to 92 ms: a Wayland terminal 400/25, X 660/40
    // (measured), a bare console 250/92 (from memory).
    for (delay, every) in [(400, 25), (660, 40), (250, 92), (500, 33)] {
        for held in [Key::Char('u'), Key::Backspace] {
            let mut sent = vec![(0, held)];
            sent.extend((0..40).map(|n| (delay + n * every, held)));
            let got = run(Context::Foot, &sent);
            let counted = got.iter().filter(|input| matches!(input, Input::Key(_))).count();
            assert_eq!(counted, 1, "{held} {delay}/{every}");
        }
    }
    let apart = run(Context::Foot, &typed("uuu", 0, 400));
    assert_eq!(apart, keys("uuu"), "pressed three times it counts three times");
}

#[test]
fn where_numbers_are_typed_a_held_command_counts_once_too() {
    for context in [Context::Today, Context::List, Context::Help] {
        for held in [key('u'), key('/'), Key::Enter] {
            let mut sent = vec![(0, held)];
            sent.extend((0..40).map(|n| (400 + n * 25, held)));
            let counted = run(context, &sent).iter().filter(|input| matches!(input, Input::Key(_))).count();
            assert_eq!(counted, 1, "{held} in {context:?}");
        }
    }
    // Letters are typed quickly, but whoever holds Enter keeps one text.
    assert_eq!(run(Context::Text, &typed("aall", 0, 60)), keys("aall"));
    let enters: Vec<_> = [0, 400, 425, 450, 475].map(|at| (at, Key::Enter)).into();
    assert_eq!(run(Context::Text, &enters).iter().filter(|input| matches!(input, Input::Key(_))).count(), 1);
}

#[test]
fn the_limits_are_those_that_the_filter_is_given() {
    let ms = Duration::from_millis;
    let mut rules = BounceRules::default();
    (rules.crush.bounce, rules.fields.bounce) = (ms(200), ms(80));
    let counted = |context, gap: u64| {
        let mut filter = Filter::new(BurstRule { gap: ms(60), ..BurstRule::default() }, rules);
        let mut out = Vec::new();
        for at in [1000, 1000 + gap] {
            while let Some(wake) = filter.wakes_at().filter(|wake| *wake < ms(at)) {
                out.extend(filter.tick(wake, context));
            }
            out.extend(filter.take(ms(at), key('1'), context));
        }
        while let Some(wake) = filter.wakes_at() {
            out.extend(filter.tick(wake, context));
        }
        out.iter().filter(|input| matches!(input, Input::Key(_))).count()
    };
    let table = [(Context::Foot, 190, 1), (Context::Foot, 210, 2), (Context::Today, 70, 1), (Context::Today, 90, 2)];
    for (context, gap, count) in table {
        assert_eq!(counted(context, gap), count, "{context:?} {gap}");
    }
    let mut slow = Filter::new(BurstRule { gap: ms(60), ..BurstRule::default() }, rules);
    let got: Vec<Input> =
        typed(TAG, 0, 55).into_iter().flat_map(|(at, key)| slow.take(ms(at), key, Context::Foot)).collect();
    assert_eq!(got, [], "a slow wireless reader is still one reading");
    assert_eq!(slow.take(ms(15 * 55), Key::Enter, Context::Foot), [Input::Reader(TAG.into())]);
}

#[test]
fn a_held_arrow_walks_through_a_list() {
    let sent: Vec<_> = (0..20).map(|n| (n * 50, Key::Down)).collect();
    assert_eq!(run(Context::List, &sent).len(), 20);
    assert!(run(Context::List, &sent).iter().all(|input| *input == Input::Key(Key::Down)));
}

#[test]
fn order_is_kept_across_both_stages() {
    let sent = [(0, key('4')), (200, key('4')), (240, key('1')), (250, Key::Enter)];
    assert_eq!(run(Context::Foot, &sent), keys("441\n"));
}

#[test]
fn a_paste_is_text_where_text_is_written_and_a_reading_elsewhere() {
    let paste = |context, text| Filter::default().paste(ms(0), text, context);
    assert_eq!(paste(Context::Foot, "1382\n"), [Input::Reader("1382".into())]);
    assert_eq!(paste(Context::Text, "a\u{1b}[2Jb\n"), [Input::Text("a [2Jb".into())]);
    assert_eq!(paste(Context::Today, " \r\n"), []);
}

#[test]
fn a_keypad_without_num_lock_is_noticed_after_several_keys() {
    let mut watch = NumLock::default();
    let mut notice = |context, key| watch.notice(context, key);
    assert_eq!(notice(Context::Foot, Key::End), None);
    assert_eq!(notice(Context::Foot, Key::Left), None, "arrows have work of their own");
    assert_eq!(notice(Context::Foot, Key::Home), None);
    assert_eq!(notice(Context::Foot, Key::PageDown), Some(Hint::NumLockOff));
    assert_eq!(notice(Context::Foot, Key::End), None, "said once");
    assert_eq!(notice(Context::Foot, Key::End), None);
    assert_eq!(notice(Context::Foot, Key::Char('4')), None, "a digit: it is on");
    assert_eq!(notice(Context::Foot, Key::End), None);
    for _ in 0..9 {
        assert_eq!(notice(Context::List, Key::PageDown), None, "lists have pages");
    }
}
