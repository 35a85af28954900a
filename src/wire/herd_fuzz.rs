//! Body of the fuzz target for herd lists: any bytes as two lists of one farm, read, compared and taken.

use super::herd_csv::{HerdList, read, rows};
use super::plain_text::decode;
use super::table;
use crate::domain::herd::{Herd, Labels};
use crate::domain::herd_list::column::Column;
use crate::domain::herd_list::compare::{Preview, compare};
use crate::domain::herd_list::doubt::doubts;
use crate::domain::herd_list::figures::Figures;
use crate::domain::herd_list::{Known, Row};
use crate::domain::ids::{AnimalId, RecordId};
use crate::domain::letters::is_unseen;
use chrono::NaiveDate;

/// The day of both lists.
const DAY: NaiveDate = NaiveDate::from_ymd_opt(2026, 5, 14).expect("a day");

/// Any bytes, cut in two at a line that begins with `%`: each part is a list. No problem is without its line and none of its
/// words moves a cursor; a row stands on the line it is told with; a line counts once; a list taken twice changes nothing; and the herd written out and read again is the
/// herd.
pub fn fuzz_herd(bytes: &[u8]) {
    let cut = bytes.windows(2).position(|two| two == b"\n%").unwrap_or(bytes.len());
    let (first, then) = bytes.split_at(cut);
    let mut herd = Vec::new();
    for part in [first, then.strip_prefix(b"\n%").unwrap_or(then)] {
        let lines = lines(part);
        for figures in [Figures::Unsaid, Figures::DayFirst, Figures::MonthFirst] {
            let list = read(part, "fuzz", figures);
            well_told(&list, &lines);
            let preview = compare(&list.rows, &list.unread, &herd, DAY);
            counted(&list, &preview, &herd);
            take(&mut herd, &preview);
            let again = compare(&list.rows, &list.unread, &herd, DAY);
            let waited = again.new.iter().map(|row| row.line).chain(again.changed.iter().map(|one| one.row.line));
            let clashed: Vec<u64> = preview.clashes.iter().map(|clash| clash.line).collect();
            waited.for_each(|line| assert!(clashed.contains(&line), "line {line} was taken and is new again"));
        }
    }
    written_and_read(&herd);
}

/// The lines of a list as an editor shows them.
fn lines(part: &[u8]) -> Vec<String> {
    let text = decode(part).0.replace("\r\n", "\n").replace('\r', "\n");
    text.split('\n').map(str::to_owned).collect()
}

fn well_told(list: &HerdList, lines: &[String]) {
    let mut met = 0;
    for row in &list.rows {
        assert!(met < row.line, "rows stand in the order of their lines");
        met = row.line;
        let line = usize::try_from(row.line).ok().and_then(|line| lines.get(line - 1));
        assert!(line.is_some_and(|line| !line.trim().is_empty()), "row {} stands on its line", row.line);
    }
    for problem in list.problems.iter().chain(&list.broken) {
        assert!(problem.line > 0, "a problem says its line");
        assert!(!problem.to_string().chars().any(char::is_control), "a message moves no cursor");
    }
    for row in &list.rows {
        assert!(row.labels != Labels::default(), "a row says whom it means");
        for column in <Column as crate::domain::vocabulary::Vocabulary>::ALL {
            assert!(!column.of(row).contains(is_unseen), "a cell holds what is seen");
        }
        doubts(row, DAY);
    }
}

/// Every line is one thing, every animal is one thing.
fn counted(list: &HerdList, preview: &Preview, herd: &[Known]) {
    let Preview { new, changed, same, missing, nameless, clashes } = preview;
    assert_eq!(new.len() + changed.len() + same + clashes.len(), list.rows.len(), "{preview:?}");
    assert!(changed.len() + same + missing.len() + nameless <= herd.len(), "{preview:?}");
}

/// Does to the herd what the list says.
fn take(herd: &mut Vec<Known>, preview: &Preview) {
    for changed in &preview.changed {
        let Some(known) = herd.iter_mut().find(|known| known.animal == changed.animal) else { continue };
        for change in &changed.changes {
            change.column.lay_over(&changed.row, &mut known.labels, &mut known.herd);
        }
    }
    for Row { labels, herd: told, .. } in &preview.new {
        let animal = AnimalId(RecordId { series: 1, seq: herd.len() as u64 + 1 });
        let (labels, told) = (labels.clone(), told.clone());
        herd.push(Known { animal, labels, earlier: Vec::new(), herd: told, left: None, told: Some(DAY) });
    }
}

fn written_and_read(herd: &[Known]) {
    let animals: Vec<(Labels, Herd)> = herd.iter().map(|known| (known.labels.clone(), known.herd.clone())).collect();
    let text = table::write(&rows(animals.iter().map(|(labels, herd)| (labels, herd)))).expect("a table of text");
    let list = read(text.as_bytes(), "again", Figures::Unsaid);
    assert_eq!((list.problems, list.broken, list.notices), (Vec::new(), Vec::new(), Vec::new()));
    let again: Vec<(Labels, Herd)> = list.rows.iter().map(|row| (row.labels.clone(), row.herd.clone())).collect();
    assert_eq!(again, animals, "written out and read again");
    let preview = compare(&list.rows, &[], herd, DAY);
    assert!(preview.is_empty(), "a herd's own list changes nothing: {preview:?}");
}
