//! How many mistakes of one file are told: whoever named a wrong file must not lose the sentence that says so.

/// Most that are told; the rest is counted.
pub const TOLD: usize = 24;

/// The first of them, and how many more there are.
pub fn told(all: &[String]) -> Vec<String> {
    let more = all.len().saturating_sub(TOLD);
    let rest = (more > 0).then(|| format!("and {more} more"));
    all.iter().take(TOLD).cloned().chain(rest).collect()
}
