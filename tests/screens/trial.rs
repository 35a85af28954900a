//! The screen of keys being tried: whole at the smallest size, no panic at any, nothing raw.

use std::time::Duration;

use super::world::text;
use crushbook::domain::practice::Region;
use crushbook::keys::keymap::BuiltIn;
use crushbook::keys::trial::Trial;
use crushbook::report::words::Words;
use crushbook::screen::theme::Colour;
use crushbook::screen::trial::draw;
use ratatui::Terminal;
use ratatui::backend::TestBackend;

fn shown(trial: &Trial, region: Region, (cols, rows): (u16, u16)) -> String {
    let mut terminal = Terminal::new(TestBackend::new(cols, rows)).expect("a test screen");
    terminal.draw(|frame| draw(frame, trial, Words(region), Colour::None)).expect("it draws");
    text(terminal.backend().buffer())
}

fn tried() -> Trial {
    let mut trial = Trial::new(BuiltIn::RightHand.keymap());
    for (at, key) in [(0, "j"), (700, "n"), (1400, "p"), (2100, "l"), (2190, "l")] {
        trial.tick(Duration::from_millis(at));
        trial.take(Duration::from_millis(at), key.parse().expect("a key"));
    }
    trial.tick(Duration::from_millis(3000));
    trial
}

#[test]
fn all_that_counts_has_room_on_the_smallest_screen() {
    let seen = shown(&tried(), Region::NorthAmerica, (60, 20));
    let lines: Vec<&str> = seen.lines().collect();
    assert_eq!(lines[0], " keys as they arrive: right-hand");
    for words in
        ["[x]1", "[x]3", "[_]7", "[x]help n p", "[_]leave n h", "NumLock", "animal    lift the right rear foot"]
    {
        assert!(seen.contains(words), "{words}\n{seen}");
    }
    let last: Vec<&str> =
        lines.iter().rev().find(|line| line.starts_with('l')).expect("l").split_whitespace().collect();
    assert_eq!(last, ["l", "+700", "ms", "finger"]);
    assert!(lines.iter().any(|line| line.split_whitespace().eq(["l", "+90", "ms", "bounced"])), "{seen}");
}

#[test]
fn no_size_and_no_paste_breaks_it() {
    let mut trial = tried();
    trial.paste(Duration::from_secs(9), "\u{1b}[2J\u{202e}turned");
    for size in [(1, 1), (2, 3), (9, 2), (20, 5), (60, 20), (200, 60)] {
        let seen = shown(&trial, Region::Plain, size);
        assert!(!seen.contains(['\u{1b}', '\u{202e}']), "{size:?}");
        assert_eq!(seen.lines().count(), usize::from(size.1), "{size:?}");
    }
}
