//! Electronic numbers: what a reader reads. Fifteen digits, three for the country or the maker and twelve for the animal; they
//! have no check digit, so all that can be said is what cannot be one (ISO 11784: the twelve are 38 bits).

/// Digits of a whole number.
pub const DIGITS: usize = 15;
/// Digits before the animal's own.
const FRONT: usize = 3;
/// The highest that 38 bits hold.
const HIGHEST: u64 = 274_877_906_943;
/// In place of a country: the transponder is for tests.
const TEST: &str = "999";

/// Why a number is doubtful. It warns and refuses nothing: what the reader showed is kept as it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Doubt {
    /// So many digits, not fifteen.
    Length(usize),
    /// The last twelve are more than a transponder holds.
    TooHigh,
    /// A number for tests.
    Test,
}

/// What is doubtful about these digits.
pub fn doubt(digits: &str) -> Option<Doubt> {
    if digits.len() != DIGITS {
        return Some(Doubt::Length(digits.len()));
    }
    let (front, own) = digits.split_at(FRONT);
    match own.parse::<u64>() {
        Ok(own) if own <= HIGHEST => (front == TEST).then_some(Doubt::Test),
        Ok(_) | Err(_) => Some(Doubt::TooHigh),
    }
}

/// Whether two say the same number, blanks and dashes aside: herd lists write it in groups.
pub fn same(one: &str, other: &str) -> bool {
    let digits = |text: &str| text.chars().filter(|c| !c.is_whitespace() && *c != '-').collect::<String>();
    !one.is_empty() && digits(one) == digits(other)
}

/// As people read it: the country, a blank, the animal's own.
pub fn spaced(digits: &str) -> String {
    match digits.split_at_checked(FRONT) {
        Some((front, own)) if digits.len() == DIGITS => format!("{front} {own}"),
        Some(_) | None => digits.to_owned(),
    }
}
