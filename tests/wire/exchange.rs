//! The exchange file: written and read the same, and whatever happens to one on its way, never a wrong record and always a
//! sentence.

use super::examples::{examples, record, ulcer};
use crushbook::wire::envelope::{Raw, encode};
use crushbook::wire::exchange::{LINE_LIMIT, Reading, Writing, Wrong, is_exchange};

fn raws() -> Vec<Raw> {
    examples().iter().take(12).map(|record| encode(record).expect("encodes")).collect()
}

fn file(raws: &[Raw]) -> Vec<u8> {
    let mut bytes = Vec::new();
    let mut writing = Writing::begin(&mut bytes).expect("memory takes it");
    for raw in raws {
        writing.record(raw).expect("memory takes it").expect("a record can be written");
    }
    assert_eq!(writing.end().expect("memory takes it"), raws.len() as u64);
    bytes
}

/// What is read, and what is wrong.
fn read(bytes: &[u8]) -> (Vec<Raw>, Vec<Wrong>) {
    let (mut raws, mut wrongs) = (Vec::new(), Vec::new());
    for given in Reading::new(bytes) {
        match given {
            Ok(raw) => raws.push(raw),
            Err(wrong) => wrongs.push(wrong),
        }
    }
    (raws, wrongs)
}

fn said(bytes: &[u8]) -> String {
    let (raws, wrongs) = read(bytes);
    assert_eq!((raws.len(), wrongs.len()), (0, 1), "{wrongs:?}");
    wrongs[0].to_string()
}

#[test]
fn a_file_is_as_written_by_hand() {
    let raw = encode(&record(7, ulcer())).expect("encodes");
    let line = crushbook::wire::jsonl::to_json(&raw).expect("writes");
    let by_hand = format!("{{\"crushbook\":\"exchange\",\"layout\":1}}\n{line}\n{{\"end\":1}}\n");
    assert_eq!(String::from_utf8(file(&[raw])).expect("text"), by_hand);
    assert!(is_exchange(by_hand.as_bytes()) && is_exchange(format!("\u{feff}{by_hand}").as_bytes()));
    assert!(!is_exchange(b"{\"crush") && !is_exchange(b"redb"));
}

#[test]
fn what_was_written_is_read_whatever_an_editor_did_to_its_line_ends() {
    let (raws, bytes) = (raws(), file(&raws()));
    let text = String::from_utf8(bytes.clone()).expect("text");
    for same in [
        bytes.clone(),
        format!("\u{feff}{text}").into_bytes(),
        text.replace('\n', "\r\n").into_bytes(),
        format!("\u{feff}{}\r\n\r\n", text.replace('\n', "\r\n")).into_bytes(),
        text.trim_end().as_bytes().to_vec(),
        text.replace('\n', "\n\n").into_bytes(),
    ] {
        assert_eq!(read(&same), (raws.clone(), vec![]), "{}", String::from_utf8_lossy(&same));
    }
    let twice = [bytes.clone(), bytes].concat();
    assert_eq!(read(&twice), ([raws.clone(), raws].concat(), vec![]), "one file behind the other");
    assert_eq!(read(&file(&[])), (vec![], vec![]), "a book without a record");
}

#[test]
fn a_file_cut_anywhere_gives_what_is_whole_and_says_that_it_was_cut() {
    let (raws, bytes) = (raws(), file(&raws()));
    for cut in 0..bytes.len() {
        let (found, wrongs) = read(&bytes[..cut]);
        assert_eq!(found, raws[..found.len()], "cut at {cut}");
        // Without its last line break it is whole all the same.
        let whole = cut == bytes.len() - 1;
        assert_eq!(wrongs.len(), usize::from(!whole), "cut at {cut}: {wrongs:?}");
        let lines = bytes[..cut].iter().filter(|byte| **byte == b'\n').count();
        assert!(found.len() + 1 >= lines, "every whole line came in: {cut}");
        assert!(wrongs.iter().all(|wrong| wrong.is_on_its_way() || wrong.is_foreign()), "cut at {cut}: {wrongs:?}");
    }
    assert_eq!(read(&bytes[..bytes.len() - 3]).1, [Wrong::Cut(14)]);
    let without_end = bytes.len() - "{\"end\":12}\n".len();
    assert_eq!(read(&bytes[..without_end]).1, [Wrong::NoEnd(12)]);
}

#[test]
fn a_flipped_bit_never_gives_a_wrong_record() {
    let raws = &raws()[..4];
    let bytes = file(raws);
    for at in 0..bytes.len() {
        for bit in [0, 2, 5] {
            let mut hurt = bytes.clone();
            hurt[at] ^= 1 << bit;
            let (found, wrongs) = read(&hurt);
            assert!(found.iter().all(|raw| raws.contains(raw)), "bit {bit} of byte {at}: {wrongs:?}");
            // A letter of an escape or of a checksum may change its case, and a line break may become another blank.
            assert!(found == raws || !wrongs.is_empty(), "bit {bit} of byte {at} is not told");
            assert!(
                found.len() + 2 >= raws.len() || at < 40,
                "bit {bit} of byte {at} costs its own line only: {wrongs:?}"
            );
        }
    }
}

#[test]
fn a_damaged_line_is_told_with_its_number_and_costs_itself_only() {
    let raws = raws();
    let text = String::from_utf8(file(&raws)).expect("text");
    let mut lines: Vec<&str> = text.lines().collect();
    let other = lines[4].replace("\"tick\":", "\"tick\":1");
    lines[4] = &other;
    lines[7] = "half a line";
    let (found, wrongs) = read(lines.join("\n").as_bytes());
    assert_eq!(found.len(), raws.len() - 2);
    let said: Vec<String> = wrongs.iter().map(ToString::to_string).collect();
    assert_eq!(said.len(), 3, "{said:?}");
    assert!(said[0].starts_with("line 5: record ") && said[0].contains("changed after it was written"), "{}", said[0]);
    assert!(said[1].starts_with("line 8: column 1: ") && said[1].contains("correct the line"), "{}", said[1]);
    assert_eq!(
        said[2], "line 14 says that 12 records stand before it, and 10 do. Bring the whole file",
        "so lines lost whole are noticed too"
    );
}

#[test]
fn a_head_that_is_damaged_or_missing_does_not_cost_the_records() {
    let raws = raws();
    let text = String::from_utf8(file(&raws)).expect("text");
    let damaged = text.replacen("exchange", "exchxnge", 1);
    let (found, wrongs) = read(damaged.as_bytes());
    assert_eq!(found, raws);
    assert!(matches!(wrongs.as_slice(), [Wrong::Line { line: 1, .. }, Wrong::NoHead(2)]), "{wrongs:?}");
    let (_, without) = text.split_once('\n').expect("a head");
    assert_eq!(read(without.as_bytes()), (raws, vec![Wrong::NoHead(1)]));
}

#[test]
fn what_is_no_exchange_file_is_called_by_its_name() {
    let csv: String = (0..5000).map(|row| format!("{row},UK 123456 {row:05},Holstein\n")).collect();
    for (bytes, wanted) in [
        (&b""[..], "it is empty"),
        (b"\n\n", "it is empty"),
        (b"redb\x1a\n\xa9\r\n", "it is a book. crushbook join"),
        // The signature of a PNG file (ISO/IEC 15948, 5.2), the start of a JPEG/JFIF file (ISO/IEC 10918-5).
        (b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR", "it is no text at all"),
        (b"\xff\xd8\xff\xe0\0\x10JFIF\0", "it is no text at all"),
        (b"\xff\xfe{\0\"\0", "UTF-16"),
        (csv.as_bytes(), "it begins with \"0,UK 123456 00000,Holstein\""),
        (b"{\"some\":\"json\"}\n", "it begins with \"{\"some\":\"json\"}\""),
        (b"\x1b[2Jboo\n", "it begins with \"\\u{1b}[2Jboo\""),
        (b"{\"crushbook\":\"exchange\",\"layout\":2}\n{\"id\":\"later\"}\n", "a newer crushbook wrote it (layout 2"),
    ] {
        let said = said(bytes);
        assert!(said.contains(wanted), "{said}\nshould contain {wanted}");
        assert!(!said.contains(char::is_control), "{said:?}");
    }
}

#[test]
fn a_huge_line_is_told_and_never_held() {
    let raws = raws();
    let text = String::from_utf8(file(&raws)).expect("text");
    let huge = "x".repeat(LINE_LIMIT + 1);
    let (found, wrongs) = read(text.replacen("\n{\"id\"", &format!("\n{huge}\n{{\"id\""), 1).as_bytes());
    assert_eq!((found, wrongs), (raws, vec![Wrong::Long(2)]));
    // A longest record fits: a text of letters that take six each.
    let mut longest = record(7, ulcer());
    if let crushbook::domain::record::Body::Known(crushbook::domain::event::Event::Found { words, .. }) =
        &mut longest.body
    {
        *words = "\u{1}".repeat(3000);
    }
    let raw = encode(&longest).expect("encodes");
    assert_eq!(read(&file(std::slice::from_ref(&raw))), (vec![raw], vec![]));
}
