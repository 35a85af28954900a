//! Big figures, so that the animal's number is read from where she stands. Plain characters, three columns wide: five rows
//! high where there is room, else three.

/// Letters and figures, five rows each.
#[rustfmt::skip]
const TALL: [(char, [&str; 5]); 38] = [
    ('0', ["###", "# #", "# #", "# #", "###"]), ('1', [" # ", "## ", " # ", " # ", "###"]),
    ('2', ["###", "  #", "###", "#  ", "###"]), ('3', ["###", "  #", "###", "  #", "###"]),
    ('4', ["# #", "# #", "###", "  #", "  #"]), ('5', ["###", "#  ", "###", "  #", "###"]),
    ('6', ["###", "#  ", "###", "# #", "###"]), ('7', ["###", "  #", "  #", "  #", "  #"]),
    ('8', ["###", "# #", "###", "# #", "###"]), ('9', ["###", "# #", "###", "  #", "###"]),
    ('A', [" # ", "# #", "###", "# #", "# #"]), ('B', ["## ", "# #", "## ", "# #", "## "]),
    ('C', [" ##", "#  ", "#  ", "#  ", " ##"]), ('D', ["## ", "# #", "# #", "# #", "## "]),
    ('E', ["###", "#  ", "## ", "#  ", "###"]), ('F', ["###", "#  ", "## ", "#  ", "#  "]),
    ('G', [" ##", "#  ", "# #", "# #", " ##"]), ('H', ["# #", "# #", "###", "# #", "# #"]),
    ('I', ["###", " # ", " # ", " # ", "###"]), ('J', ["  #", "  #", "  #", "# #", " # "]),
    ('K', ["# #", "# #", "## ", "# #", "# #"]), ('L', ["#  ", "#  ", "#  ", "#  ", "###"]),
    ('M', ["# #", "###", "###", "# #", "# #"]), ('N', ["## ", "# #", "# #", "# #", "# #"]),
    ('O', [" # ", "# #", "# #", "# #", " # "]), ('P', ["## ", "# #", "## ", "#  ", "#  "]),
    ('Q', [" # ", "# #", "# #", "## ", " ##"]), ('R', ["## ", "# #", "## ", "## ", "# #"]),
    ('S', [" ##", "#  ", " # ", "  #", "## "]), ('T', ["###", " # ", " # ", " # ", " # "]),
    ('U', ["# #", "# #", "# #", "# #", " ##"]), ('V', ["# #", "# #", "# #", " # ", " # "]),
    ('W', ["# #", "# #", "###", "###", "# #"]), ('X', ["# #", "# #", " # ", "# #", "# #"]),
    ('Y', ["# #", "# #", " # ", " # ", " # "]), ('Z', ["###", "  #", " # ", "#  ", "###"]),
    ('-', ["   ", "   ", "###", "   ", "   "]), (' ', ["   ", "   ", "   ", "   ", "   "]),
];

/// Figures of three rows, as a counter shows them. Letters would be guesses there.
#[rustfmt::skip]
const LOW: [(char, [&str; 3]); 12] = [
    ('0', [" _ ", "| |", "|_|"]), ('1', ["   ", "  |", "  |"]), ('2', [" _ ", " _|", "|_ "]),
    ('3', [" _ ", " _|", " _|"]), ('4', ["   ", "|_|", "  |"]), ('5', [" _ ", "|_ ", " _|"]),
    ('6', [" _ ", "|_ ", "|_|"]), ('7', [" _ ", "  |", "  |"]), ('8', [" _ ", "|_|", "|_|"]),
    ('9', [" _ ", "|_|", " _|"]), ('-', ["   ", " _ ", "   "]), (' ', ["   ", "   ", "   "]),
];

/// The number in big figures, in so many columns and at most so many rows: on one line if it can be, else on several. None
/// where it is empty, has letters that no figure is known of, or has no room.
pub fn fitted(number: &str, columns: u16, rows: u16) -> Option<Vec<String>> {
    let letters: Vec<char> = number.to_uppercase().chars().collect();
    let each = (usize::from(columns) + 1) / 4;
    if letters.is_empty() || each == 0 {
        return None;
    }
    // As even as can be: a last line of one figure is overlooked.
    let each = letters.len().div_ceil(letters.len().div_ceil(each));
    let lines: Vec<&[char]> = letters.chunks(each).collect();
    let tall = lines.len() * 6 - 1;
    let low = lines.len() * 3;
    if tall <= usize::from(rows) {
        return drawn(&lines, &TALL, true);
    }
    if low <= usize::from(rows) { drawn(&lines, &LOW, false) } else { None }
}

fn drawn<const ROWS: usize>(
    lines: &[&[char]],
    font: &[(char, [&'static str; ROWS])],
    apart: bool,
) -> Option<Vec<String>> {
    let mut rows = Vec::new();
    for (at, line) in lines.iter().enumerate() {
        let figures: Vec<&[&str; ROWS]> = line
            .iter()
            .map(|letter| font.iter().find(|(known, _)| known == letter).map(|(_, rows)| rows))
            .collect::<Option<_>>()?;
        if at > 0 && apart {
            rows.push(String::new());
        }
        rows.extend((0..ROWS).map(|row| figures.iter().map(|figure| figure[row]).collect::<Vec<_>>().join(" ")));
    }
    Some(rows)
}
