//! The same book in SQLite: records with three indexes, and the list of what is open with the same rows. WAL, synchronous
//! FULL.

use crate::rounds::Outcome;
use crushbook::domain::history::History;
use crushbook::domain::history::open::Open;
use crushbook::domain::ids::{AnimalId, RecordId};
use crushbook::domain::record::Record;
use crushbook::wire::envelope::Raw;
use crushbook::wire::rows::{decode_open, encode_open};
use rusqlite::{Connection, params};
use std::path::Path;

const TABLES: &str = "
    CREATE TABLE record (
        series INTEGER, seq INTEGER, tick INTEGER, about_series INTEGER, about_seq INTEGER, happened INTEGER, bytes BLOB,
        PRIMARY KEY (series, seq)) WITHOUT ROWID;
    CREATE INDEX of_subject ON record (about_series, about_seq, happened, tick);
    CREATE INDEX of_day ON record (happened, about_series, about_seq);
    CREATE INDEX of_tick ON record (tick, series, seq);
    CREATE TABLE open (farm BLOB, animal BLOB, bytes BLOB, PRIMARY KEY (farm, animal)) WITHOUT ROWID;";
const INSERT: &str = "INSERT INTO record VALUES (?, ?, ?, ?, ?, ?, ?)";

/// An open SQLite book.
pub struct Twin(Connection);

/// SQLite's numbers are signed; the bits are the same.
fn signed(number: u64) -> i64 {
    number.cast_signed()
}

fn key(id: RecordId) -> [u8; 16] {
    let mut bytes = [0; 16];
    bytes[..8].copy_from_slice(&id.series.to_be_bytes());
    bytes[8..].copy_from_slice(&id.seq.to_be_bytes());
    bytes
}

impl Twin {
    /// Opens the file, new or not.
    pub fn open(file: &Path) -> Outcome<Twin> {
        let new = !file.exists();
        let connection = Connection::open(file)?;
        connection.pragma_update(None, "journal_mode", "WAL")?;
        connection.pragma_update(None, "synchronous", "FULL")?;
        if new {
            connection.execute_batch(TABLES)?;
        }
        Ok(Twin(connection))
    }

    /// Takes in every record, and what is open.
    pub fn fill(&mut self, records: impl Iterator<Item = Raw>, open: &[Open]) -> Outcome<()> {
        let transaction = self.0.transaction()?;
        for raw in records {
            insert(&transaction, &raw)?;
        }
        for row in open {
            transaction.execute(
                "INSERT INTO open VALUES (?, ?, ?)",
                params![key(row.farm.0), key(row.animal.0), &*encode_open(row)?],
            )?;
        }
        transaction.commit()?;
        Ok(self.0.pragma_update(None, "wal_checkpoint", "TRUNCATE")?)
    }

    /// One press: one transaction, on disk when it returns.
    pub fn append(&mut self, raw: &Raw) -> Outcome<()> {
        let transaction = self.0.transaction()?;
        insert(&transaction, raw)?;
        Ok(transaction.commit()?)
    }

    /// Everybody with something open.
    pub fn open_items(&self) -> Outcome<Vec<Open>> {
        let mut asked = self.0.prepare_cached("SELECT bytes FROM open ORDER BY farm, animal")?;
        let mut rows = asked.query([])?;
        let mut open = Vec::new();
        while let Some(row) = rows.next()? {
            open.push(decode_open(row.get_ref(0)?.as_blob()?)?);
        }
        Ok(open)
    }

    /// One animal's history.
    pub fn history(&self, animal: AnimalId) -> Outcome<History> {
        let mut asked = self.0.prepare_cached(
            "SELECT bytes FROM record WHERE about_series = ? AND about_seq = ? ORDER BY happened, tick",
        )?;
        let mut rows = asked.query(params![signed(animal.0.series), signed(animal.0.seq)])?;
        let mut records: Vec<Record> = Vec::new();
        while let Some(row) = rows.next()? {
            records.push(Raw::parse(row.get_ref(0)?.as_blob()?)?.decode()?);
        }
        Ok(History::of(records, animal))
    }
}

fn insert(connection: &Connection, raw: &Raw) -> Outcome<()> {
    connection.prepare_cached(INSERT)?.execute(params![
        signed(raw.id.series),
        signed(raw.id.seq),
        signed(raw.tick),
        signed(raw.about.series),
        signed(raw.about.seq),
        chrono::Datelike::num_days_from_ce(&raw.on),
        &*raw.bytes
    ])?;
    Ok(())
}
