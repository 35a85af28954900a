//! Names of records, and what they stand for when a record begins something.

/// Name of one record: the series it was written in and its number there, dense from 1.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct RecordId {
    /// Random 64 bits, one series a store and begun anew after restore or rescue.
    pub series: u64,
    /// Number in the series, dense from 1, so that a gap shows.
    pub seq: u64,
}

impl RecordId {
    /// The practice itself: whom records about people, products, prices and rules are about. No record has this id.
    pub const PRACTICE: RecordId = RecordId { series: 0, seq: 0 };

    /// A name of its own for one of several records that were written under this one: the bytes' checksum tells them apart,
    /// so the name is the same in every book and whichever came first.
    pub fn told_apart(self, checksum: u32) -> RecordId {
        RecordId { seq: APART | u64::from(checksum) << WRITTEN_BITS | self.seq & WRITTEN, ..self }
    }

    /// Whether a series ever gets this far. A number beyond is nobody's, and might be taken for one told apart.
    pub fn is_possible(self) -> bool {
        (1..=WRITTEN).contains(&self.seq)
    }

    /// The name this record was written under, where it had to be told apart from another.
    pub fn written_as(self) -> Option<RecordId> {
        (self.seq & APART != 0).then_some(RecordId { seq: self.seq & WRITTEN, ..self })
    }
}

/// Set in the number of a record that was told apart: no series gets that far.
const APART: u64 = 1 << 63;
/// Low bits of such a number: the number it was written under.
const WRITTEN_BITS: u32 = 31;
const WRITTEN: u64 = (1 << WRITTEN_BITS) - 1;

impl std::fmt::Display for RecordId {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{:016x}-{}", self.series, self.seq)
    }
}

impl std::str::FromStr for RecordId {
    type Err = ();
    fn from_str(text: &str) -> Result<RecordId, ()> {
        let (series, seq) = text.split_once('-').ok_or(())?;
        let series = u64::from_str_radix(series, 16).map_err(|_| ())?;
        Ok(RecordId { series, seq: seq.parse().map_err(|_| ())? })
    }
}

macro_rules! ids {
    ($($(#[$doc:meta])* $name:ident)+) => {$(
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub struct $name(pub RecordId);
    )+};
}

ids! {
    /// A farm: the record that began it.
    FarmId
    /// An animal: the record that began her.
    AnimalId
    /// A visit: the record that began it.
    VisitId
    /// A turn in the crush: the record that began it.
    TurnId
    /// Something put on a foot: the record that put it on.
    PutId
    /// A case: the record of its first finding.
    CaseId
    /// A person who records: the record that named them.
    PersonId
}
