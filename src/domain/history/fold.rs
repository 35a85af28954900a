//! Second pass: the standing records of one animal, oldest to newest.
use super::super::ids::AnimalId;
use super::History;
pub(super) fn fold(_: &super::standing::Standing, _: AnimalId) -> History {
    unreachable!()
}
