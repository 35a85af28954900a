//! A number or a name that may be a slip of the pen for another: numbers called out over the noise of a race are written down with one figure
//! wrong or with two of them swapped (common practice).

/// Whether two names differ by one letter: another, one more or fewer, or two beside each other swapped; capitals aside.
pub fn is_letter_off(one: &str, other: &str) -> bool {
    let letters = |name: &str| name.trim().to_lowercase().chars().collect::<Vec<char>>();
    let (one, other) = (letters(one), letters(other));
    let before = one.iter().zip(&other).take_while(|(one, other)| one == other).count();
    let (one, other) = (&one[before..], &other[before..]);
    let behind = one.iter().rev().zip(other.iter().rev()).take_while(|(one, other)| one == other).count();
    match (&one[..one.len() - behind], &other[..other.len() - behind]) {
        ([_], [] | [_]) | ([], [_]) => true,
        ([first, second], [third, fourth]) => first == fourth && second == third,
        _ => false,
    }
}

/// How two numbers differ by one slip.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Slip {
    /// Two figures are swapped.
    Swapped,
    /// One figure is another.
    Figure,
}

/// By which slip one of two numbers becomes the other; none where they are the same, differ by more, or are not figures only.
pub fn slip(written: &str, known: &str) -> Option<Slip> {
    let (written, known) = (written.trim().as_bytes(), known.trim().as_bytes());
    let figures = |number: &[u8]| !number.is_empty() && number.iter().all(u8::is_ascii_digit);
    if written.len() != known.len() || !figures(written) || !figures(known) {
        return None;
    }
    let apart: Vec<(&u8, &u8)> = written.iter().zip(known).filter(|(one, other)| one != other).collect();
    match apart.as_slice() {
        [_] => Some(Slip::Figure),
        [(one, other), (third, fourth)] if one == fourth && other == third => Some(Slip::Swapped),
        _ => None,
    }
}
