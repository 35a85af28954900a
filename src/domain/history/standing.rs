//! First pass: which records stand, what they say after correction, whose turn is whose, and who is one animal.
use super::super::record::Record;
/// x
pub struct Standing;
impl Standing {
    /// x
    pub fn of(_: Vec<Record>) -> Standing {
        Standing
    }
}
