//! "Did you mean": the known word nearest to a mistyped one.

/// The candidate that needs the fewest single-letter changes, if it is near enough to be
/// worth offering: at most a third of the word, and never more than three letters.
pub fn nearest<'c>(word: &str, candidates: impl IntoIterator<Item = &'c str>) -> Option<&'c str> {
    let length = word.chars().count();
    if length > 64 {
        return None;
    }
    let allowed = length.div_ceil(3).min(3);
    candidates
        .into_iter()
        .map(|candidate| (distance(word, candidate), candidate))
        .filter(|(changes, _)| *changes <= allowed)
        .min_by_key(|(changes, _)| *changes)
        .map(|(_, candidate)| candidate)
}

/// How many letters must be put in, taken out or changed to turn one word into the other.
fn distance(one: &str, other: &str) -> usize {
    let other: Vec<char> = other.chars().flat_map(char::to_lowercase).collect();
    let mut row: Vec<usize> = (0..=other.len()).collect();
    for (i, a) in one.chars().flat_map(char::to_lowercase).enumerate() {
        let mut corner = row[0];
        row[0] = i + 1;
        for (j, b) in other.iter().enumerate() {
            let change = corner + usize::from(a != *b);
            corner = row[j + 1];
            row[j + 1] = change.min(corner + 1).min(row[j] + 1);
        }
    }
    row[other.len()]
}
