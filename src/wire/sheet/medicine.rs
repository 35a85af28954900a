//! A medicine's line: `medicine product="..." batch="..." milk-days=0`, one key for each column that the law asks of the
//! keeper (exchange columns of EU Reg. 2019/6 Art. 108). One table reads and writes them all.

use super::Mistake;
use super::day::{self, Near};
use super::mistake::{did_you_mean, safe};
use super::reader::Reader;
use super::tokens::quoted;
use crate::domain::herd::MedicineUse;
use chrono::NaiveDate;

/// How a column is reached in a [`MedicineUse`].
enum Column {
    Text(fn(&mut MedicineUse) -> &mut String),
    Day(fn(&mut MedicineUse) -> &mut Option<NaiveDate>),
    Count(fn(&mut MedicineUse) -> &mut Option<u16>),
}

const COLUMNS: &[(&str, Column)] = &[
    ("product", Column::Text(|m| &mut m.product)),
    ("registration", Column::Text(|m| &mut m.registration)),
    ("batch", Column::Text(|m| &mut m.batch)),
    ("expiry", Column::Day(|m| &mut m.expiry)),
    ("first", Column::Day(|m| &mut m.first)),
    ("last", Column::Day(|m| &mut m.last)),
    ("doses", Column::Count(|m| &mut m.doses)),
    ("quantity", Column::Text(|m| &mut m.quantity)),
    ("unit", Column::Text(|m| &mut m.unit)),
    ("route", Column::Text(|m| &mut m.route)),
    ("reason", Column::Text(|m| &mut m.reason)),
    ("given-by", Column::Text(|m| &mut m.given_by)),
    ("prescriber", Column::Text(|m| &mut m.prescriber)),
    ("prescriber-contact", Column::Text(|m| &mut m.prescriber_contact)),
    ("supplier", Column::Text(|m| &mut m.supplier)),
    ("supplier-address", Column::Text(|m| &mut m.supplier_address)),
    ("document", Column::Text(|m| &mut m.document)),
    ("meat-days", Column::Count(|m| &mut m.meat_days)),
    ("milk-days", Column::Count(|m| &mut m.milk_days)),
    ("stated-by", Column::Text(|m| &mut m.stated_by)),
];

/// Reads the keys to the end of the line.
pub(super) fn read(reader: &mut Reader) -> Result<MedicineUse, Mistake> {
    let mut medicine = MedicineUse::default();
    let mut told = Vec::new();
    while let Some(token) = reader.peek() {
        let at = reader.at();
        let key = token.text.strip_suffix('=').filter(|_| !token.quoted);
        let Some((name, column)) =
            COLUMNS.iter().find(|(name, _)| key.is_some_and(|key| name.eq_ignore_ascii_case(key)))
        else {
            let keys: Vec<String> = COLUMNS.iter().map(|(name, _)| format!("{name}=")).collect();
            let said = format!("{} is no column of a medicine", safe(&token.text));
            return Err(reader.stumble(said, did_you_mean(&token.text, &keys)));
        };
        reader.back_to(at + 1);
        if told.contains(name) {
            return Err(reader.stumble_at(at, format!("{name} is told twice"), "take one out"));
        }
        told.push(*name);
        match column {
            Column::Text(field) => *field(&mut medicine) = reader.text(name)?,
            Column::Day(field) => *field(&mut medicine) = Some(day::read(reader, Near::Behind)?),
            Column::Count(field) => {
                let count = reader.number::<u16>();
                let wrong = || reader.stumble(format!("{name} is a whole number"), format!("write it like {name}=0"));
                *field(&mut medicine) = Some(count.ok_or_else(wrong)?);
            }
        }
    }
    if told.is_empty() {
        return Err(reader.stumble("which medicine?", "write it like medicine product=\"...\" given-by=\"...\""));
    }
    Ok(medicine)
}

/// Writes the columns that are told.
pub(super) fn print(medicine: &MedicineUse) -> String {
    let mut medicine = medicine.clone();
    let mut out = String::from("medicine");
    for (name, column) in COLUMNS {
        let value = match column {
            Column::Text(field) => {
                Some(&*field(&mut medicine)).filter(|text| !text.is_empty()).map(|text| quoted(text))
            }
            Column::Day(field) => field(&mut medicine).map(|day| quoted(&day::full(day))),
            Column::Count(field) => field(&mut medicine).map(|count| count.to_string()),
        };
        if let Some(value) = value {
            out.push_str(&format!(" {name}={value}"));
        }
    }
    out
}
