//! Big figures, so that the animal's number is read from where she stands. Plain characters, three columns wide: five rows
//! high where there is room, else three. Of a number that is too long for both its end is shown, behind dots.

use crate::report::safe::safe;
use unicode_width::UnicodeWidthChar;

/// Stands for what goes before the end of a number.
const BEFORE: char = '\u{2026}';
/// Figures of an end, as many as have room: fewer would be another animal's as well.
const END: [usize; 3] = [6, 5, 4];
/// Columns of a figure.
const COLUMNS: usize = 3;

/// A set of figures.
struct Font<const ROWS: usize> {
    figures: [(char, [&'static str; ROWS]); 39],
    /// Whether they are told apart without a blank between them: squares that are filled run into each other.
    open: bool,
}

const TALL: Font<5> = Font { figures: FIVE, open: false };
const LOW: Font<3> = Font { figures: THREE, open: true };

/// Letters and figures, five rows each.
#[rustfmt::skip]
const FIVE: [(char, [&str; 5]); 39] = [
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
    (BEFORE, ["   ", "   ", "   ", "   ", "# #"]),
];

/// The same of three rows, figures as a counter shows them. What a letter shares with a figure is its outline: it is round or has
/// feet where the figure is square.
#[rustfmt::skip]
const THREE: [(char, [&str; 3]); 39] = [
    ('0', [" _ ", "| |", "|_|"]), ('1', ["   ", "  |", "  |"]), ('2', [" _ ", " _|", "|_ "]),
    ('3', [" _ ", " _|", " _|"]), ('4', ["   ", "|_|", "  |"]), ('5', [" _ ", "|_ ", " _|"]),
    ('6', [" _ ", "|_ ", "|_|"]), ('7', [" _ ", "  |", "  |"]), ('8', [" _ ", "|_|", "|_|"]),
    ('9', [" _ ", "|_|", " _|"]), ('-', ["   ", " _ ", "   "]), (' ', ["   ", "   ", "   "]),
    ('A', [" _ ", "|_|", "| |"]), ('B', [" _ ", "|_)", "|_)"]), ('C', [" __", "|  ", "|__"]),
    ('D', [" _ ", "| \\", "|_/"]), ('E', [" __", "|_ ", "|__"]), ('F', [" __", "|_ ", "|  "]),
    ('G', [" __", "| _", "|_)"]), ('H', ["   ", "|_|", "| |"]), ('I', ["___", " | ", "_|_"]),
    ('J', ["   ", "  |", "(_|"]), ('K', ["   ", "|_/", "| \\"]), ('L', ["   ", "|  ", "|__"]),
    ('M', ["   ", "|v|", "| |"]), ('N', ["   ", "|\\|", "| |"]), ('O', [" _ ", "/ \\", "\\_/"]),
    ('P', [" _ ", "|_)", "|  "]), ('Q', [" _ ", "/ \\", "\\_X"]), ('R', [" _ ", "|_)", "| \\"]),
    ('S', [" _ ", "(_ ", " _)"]), ('T', ["___", " | ", " | "]), ('U', ["   ", "| |", "(_)"]),
    ('V', ["   ", "\\ /", " V "]), ('W', ["   ", "| |", "|^|"]), ('X', ["   ", "\\ /", "/ \\"]),
    ('Y', ["   ", "\\_/", " | "]), ('Z', ["___", " / ", "/__"]), (BEFORE, ["   ", "   ", ".. "]),
];

/// The number in big figures, in so many columns and at most so many rows: whole on one line if it can be, else on several, else
/// its end behind dots. None where it is empty or has no room.
pub fn fitted(number: &str, columns: u16, rows: u16) -> Option<Vec<String>> {
    let letters: Vec<char> = safe(number).to_uppercase().chars().collect();
    let room = (usize::from(columns), usize::from(rows));
    let whole = || lines_of(&letters, room, &TALL).or_else(|| lines_of(&letters, room, &LOW));
    let end = |count: usize| {
        let start = letters.len().checked_sub(count)?;
        let end: Vec<char> = [BEFORE].iter().chain(&letters[start..]).copied().collect();
        one_line(&end, room, &TALL).or_else(|| one_line(&end, room, &LOW))
    };
    (!letters.is_empty()).then(whole)?.or_else(|| END.into_iter().find_map(end))
}

/// One line a blank apart, else one without, else several.
fn lines_of<const ROWS: usize>(
    letters: &[char],
    (columns, rows): (usize, usize),
    font: &Font<ROWS>,
) -> Option<Vec<String>> {
    if let Some(line) = one_line(letters, (columns, rows), font) {
        return Some(line);
    }
    if font.open && ROWS <= rows && letters.len() * COLUMNS <= columns {
        return Some(drawn(letters, font, ""));
    }
    // As even as can be: a last line of one figure is overlooked.
    let count = letters.len().div_ceil(((columns + 1) / (COLUMNS + 1)).max(1));
    let each = letters.len().div_ceil(count);
    let apart = usize::from(!font.open);
    if each * (COLUMNS + 1) > columns + 1 || count * (ROWS + apart) > rows + apart {
        return None;
    }
    let mut all = Vec::new();
    for line in letters.chunks(each) {
        let blank = if all.is_empty() { 0 } else { apart };
        all.extend(vec![String::new(); blank]);
        all.extend(drawn(line, font, " "));
    }
    Some(all)
}

fn one_line<const ROWS: usize>(
    letters: &[char],
    (columns, rows): (usize, usize),
    font: &Font<ROWS>,
) -> Option<Vec<String>> {
    let fits = letters.len() * (COLUMNS + 1) <= columns + 1 && ROWS <= rows;
    fits.then(|| drawn(letters, font, " "))
}

fn drawn<const ROWS: usize>(letters: &[char], font: &Font<ROWS>, between: &str) -> Vec<String> {
    let row = |row: usize| letters.iter().map(|letter| piece(*letter, font, row)).collect::<Vec<_>>().join(between);
    (0..ROWS).map(row).collect()
}

/// A row of a letter; one that nobody drew stands as it is in the middle of its place.
fn piece<const ROWS: usize>(letter: char, font: &Font<ROWS>, row: usize) -> String {
    match font.figures.iter().find(|(known, _)| *known == letter) {
        Some((_, rows)) => rows[row].to_owned(),
        None if row == ROWS / 2 => {
            let wide = letter.width().unwrap_or(0).min(COLUMNS - 1);
            format!(" {letter}{}", " ".repeat(COLUMNS - 1 - wide))
        }
        None => " ".repeat(COLUMNS),
    }
}
