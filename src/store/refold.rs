//! After a taking-in: whoever was touched is folded again, with all they are tied to, and their rows are overwritten. What
//! rows they had is noted, so that none is left over when their labels, days or company change.

use super::rows::{Derived, Folded, list};
use super::shelf::{Group, Shelf};
use super::tables::{FORK, LISTS, PAGE, PAGE_OF, ROWS_OF, id_bytes};
use crate::domain::ids::RecordId;
use redb::{ReadableTable, Table, WriteTransaction};
use std::collections::{BTreeMap, BTreeSet};

type Bytes = &'static [u8];

/// Folds everybody touched, and all they are tied to, and overwrites their rows. Hands back the animals among those touched;
/// none at all where `go_on`, told how many are done of how many, says no.
pub fn fold(
    transaction: &WriteTransaction,
    touched: &BTreeSet<RecordId>,
    go_on: &mut dyn FnMut(usize, usize) -> bool,
) -> Result<Option<Vec<Folded>>, redb::Error> {
    let (page, fork, page_of) =
        (transaction.open_table(PAGE)?, transaction.open_table(FORK)?, transaction.open_table(PAGE_OF)?);
    let mut rows = Rows::open(transaction)?;
    let shelf = Shelf { page: &page, fork: &fork, page_of: &page_of, hand: None };
    let mut done = BTreeSet::new();
    let mut folded = Vec::new();
    for (index, &subject) in touched.iter().enumerate() {
        if !go_on(index, touched.len()) {
            return Ok(None);
        }
        if !done.contains(&subject) {
            let group = shelf.group(subject)?;
            folded.extend(rows.replace(&group)?);
            done.extend(group.subjects);
        }
    }
    folded.retain(|animal| animal.ids.iter().any(|id| touched.contains(&id.0)));
    Ok(Some(folded))
}

/// The lists, open for writing.
struct Rows<'t> {
    rows_of: Table<'t, Bytes, Bytes>,
    lists: BTreeMap<u8, Table<'t, Bytes, Bytes>>,
}

impl<'t> Rows<'t> {
    fn open(transaction: &'t WriteTransaction) -> Result<Rows<'t>, redb::Error> {
        let mut lists = BTreeMap::new();
        for (_, number, table) in LISTS {
            lists.insert(number, transaction.open_table(table)?);
        }
        Ok(Rows { rows_of: transaction.open_table(ROWS_OF)?, lists })
    }

    /// Takes away every row of a group and writes what its records add up to now. Hands back its animals.
    fn replace(&mut self, group: &Group) -> Result<Vec<Folded>, redb::Error> {
        let mut notes = BTreeMap::new();
        for (&subject, &count) in &group.counts {
            let old = self.rows_of.get(id_bytes(subject).as_slice())?.map(|row| Note::decode(row.value()));
            for (list, key) in old.map(|note| note.keys).unwrap_or_default() {
                if let Some(table) = self.lists.get_mut(&list) {
                    table.remove(key.as_slice())?;
                }
            }
            notes.insert(subject, Note { count, keys: Vec::new() });
        }
        let derived = Derived::of(group);
        for (list, subject, key, value) in derived.written() {
            if let (Some(table), Some(note)) = (self.lists.get_mut(&list), notes.get_mut(&subject)) {
                table.insert(key.as_slice(), &*value)?;
                note.keys.push((list, key));
            }
        }
        for (subject, note) in notes {
            self.rows_of.insert(id_bytes(subject).as_slice(), note.encode().as_slice())?;
        }
        Ok(derived.animals)
    }
}

/// What ROWS_OF says of a subject.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Note {
    /// How many records in the book are about it.
    pub count: u64,
    /// Its rows: number of the list, and key.
    pub keys: Vec<(u8, Vec<u8>)>,
}

impl Note {
    /// Bytes: the count, then for each row the list, the length of the key (u16), the key. Little endian.
    pub fn encode(&self) -> Vec<u8> {
        let mut bytes = self.count.to_le_bytes().to_vec();
        for (list, key) in &self.keys {
            // A key holds three names and a label of at most 4000 bytes.
            let length = u16::try_from(key.len()).unwrap_or(u16::MAX);
            bytes.push(*list);
            bytes.extend(length.to_le_bytes());
            bytes.extend(key.iter().take(length.into()));
        }
        bytes
    }

    /// As much as the bytes say.
    pub fn decode(bytes: &[u8]) -> Note {
        let Some((count, mut rest)) = bytes.split_first_chunk::<8>() else { return Note::default() };
        let mut note = Note { count: u64::from_le_bytes(*count), keys: Vec::new() };
        while let Some((&[number, low, high], tail)) = rest.split_first_chunk::<3>() {
            let length = usize::from(u16::from_le_bytes([low, high]));
            let Some((key, tail)) = tail.split_at_checked(length) else { break };
            if list(number).is_some() {
                note.keys.push((number, key.to_vec()));
            }
            rest = tail;
        }
        note
    }
}
