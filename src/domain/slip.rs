//! A number that may be a slip of the pen for another: numbers called out over the noise of a race are written down with one figure
//! wrong or with two of them swapped (common practice).

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
