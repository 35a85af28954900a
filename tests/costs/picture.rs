//! What one key sends to the terminal.

use crate::screens::world::six_days_later;
use crate::support::tablet::moment;
use crushbook::domain::anatomy::{Foot, Horn, Place, Side};
use crushbook::domain::event::{Detail, Event};
use crushbook::domain::finding::{Degree, Finding, Grade};
use crushbook::domain::ids::{CaseId, RecordId};
use crushbook::domain::record::Stamp;
use crushbook::keys::keymap::BuiltIn;
use crushbook::screen::theme::Colour;
use crushbook::screen::{View, draw};
use crushbook::session::Session;
use ratatui::backend::CrosstermBackend;
use ratatui::layout::Rect;
use ratatui::{Terminal, TerminalOptions, Viewport};
use std::cell::RefCell;
use std::io::{self, Write};
use std::rc::Rc;

/// What was sent: a writer to hand out, and its bytes.
#[derive(Clone, Default)]
struct Sent(Rc<RefCell<Vec<u8>>>);

impl Write for Sent {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        self.0.borrow_mut().write(bytes)
    }
    fn flush(&mut self) -> io::Result<()> {
        Ok(())
    }
}

/// A terminal of so many columns and rows that counts what it is sent.
pub struct Wire {
    terminal: Terminal<CrosstermBackend<Sent>>,
    sent: Sent,
    map: BuiltIn,
}

impl Wire {
    pub fn new(map: BuiltIn, (cols, rows): (u16, u16)) -> Wire {
        let viewport = Viewport::Fixed(Rect::new(0, 0, cols, rows));
        let sent = Sent::default();
        let backend = CrosstermBackend::new(sent.clone());
        let terminal = Terminal::with_options(backend, TerminalOptions { viewport }).expect("a terminal in memory");
        Wire { terminal, sent, map }
    }

    /// Draws a session and says how many bytes that sent.
    pub fn draw(&mut self, session: &Session) -> usize {
        self.sent.0.borrow_mut().clear();
        let keymap = self.map.keymap();
        let view = View { keymap: &keymap, now: moment(session.today), colour: Colour::Full, targets: None };
        self.terminal.draw(|frame| draw(frame, session, &view)).expect("it draws");
        self.sent.0.borrow().len()
    }
}

/// A session, with more recorded of the animal in the crush. The last word stays: its row is not what is asked about.
fn with(session: &Session, event: Event) -> (Session, RecordId) {
    let mut after = session.clone();
    let crush = session.crush.as_ref().expect("an animal is in the crush");
    let (on, next) = (session.today, RecordId { series: 1000, seq: crush.records.len() as u64 });
    let stamp = Stamp { next, tick: 1000 + next.seq, by: None, now: moment(on), on };
    after.apply(&stamp.press([(crush.animal.0, event)]), moment(on));
    after.notice = session.notice.clone();
    (after, next)
}

/// Pictures of one foot in hand, each a step further: clean; with a finding in one zone and its sentence; graded moderate;
/// graded severe, for which the whole zone is painted.
fn steps() -> [Session; 4] {
    let mut rig = six_days_later(BuiltIn::TwoHands);
    rig.press("1 3 8 Enter 3");
    let clean = rig.session().clone();
    let turn = clean.crush.as_ref().expect("an animal is in the crush").turn;
    let place = Place::Horn(Foot::RightHind, Side::Inner, Horn::WhiteLine);
    let (what, degree) = (Finding::WLF, Degree::NotGiven);
    let (found, id) = with(&clean, Event::Found { turn, place, what, degree, words: String::new() });
    let graded = |session: &Session, grade| {
        with(session, Event::Detailed { of: CaseId(id), detail: Detail::Degree(Degree::Grade(grade)) }).0
    };
    let moderate = graded(&found, Grade::Moderate);
    let severe = graded(&moderate, Grade::Severe);
    [clean, found, moderate, severe]
}

#[test]
fn a_changed_zone_sends_few_bytes_and_an_unchanged_picture_next_to_none() {
    for size in [(60, 20), (80, 24), (100, 35)] {
        let [clean, found, moderate, severe] = steps();
        let mut wire = Wire::new(BuiltIn::TwoHands, size);
        let whole = wire.draw(&clean);
        // 12 KiB for a whole picture and 150 bytes for a zone are the goals.
        assert!(whole <= 12 << 10, "{size:?}: {whole} bytes for the whole picture");
        let same = wire.draw(&clean);
        assert!(same <= 25, "{size:?}: {same} bytes when nothing changed");
        let sentence = wire.draw(&found);
        assert!((151..=320).contains(&sentence), "{size:?}: {sentence} bytes for a zone, its sentence and two counts");
        let zone = wire.draw(&moderate);
        assert!((same + 1..=150).contains(&zone), "{size:?}: {zone} bytes for one zone");
        // Painting a zone moves the cursor once for each of its rows: up to seven on a large map.
        let painted = wire.draw(&severe);
        assert!((zone + 1..=200).contains(&painted), "{size:?}: {painted} bytes for one painted zone");
    }
}
