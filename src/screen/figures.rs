//! Big figures, so that the animal's number is read from where she stands. Plain characters, three columns by five rows.

/// Rows of a figure.
pub const ROWS: u16 = 5;

/// Digits 0 to 9, row by row.
const DIGITS: [[&str; 5]; 10] = [
    ["###", "# #", "# #", "# #", "###"],
    [" # ", "## ", " # ", " # ", "###"],
    ["###", "  #", "###", "#  ", "###"],
    ["###", "  #", "###", "  #", "###"],
    ["# #", "# #", "###", "  #", "  #"],
    ["###", "#  ", "###", "  #", "###"],
    ["###", "#  ", "###", "# #", "###"],
    ["###", "  #", "  #", "  #", "  #"],
    ["###", "# #", "###", "# #", "###"],
    ["###", "# #", "###", "  #", "###"],
];

/// The number as five rows of text; none where it has no digits only, or is wider than so many columns.
pub fn rows(number: &str, columns: u16) -> Option<Vec<String>> {
    let digits: Vec<usize> =
        number.chars().map(|letter| letter.to_digit(10).map(|digit| digit as usize)).collect::<Option<_>>()?;
    if digits.is_empty() || digits.len() * 4 > usize::from(columns) {
        return None;
    }
    let row = |row: usize| digits.iter().map(|digit| DIGITS[*digit][row]).collect::<Vec<_>>().join(" ");
    Some((0..usize::from(ROWS)).map(row).collect())
}
