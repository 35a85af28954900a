//! How one field is kept: the trait, the plain values, and the three macros that write it for structs and sums.
//!
//! A kept struct is never edited once a release has written it: a new shape is a new struct and a new revision of every
//! kind that holds it. Sums are kept as structs of which exactly one part is told, so that no enum reaches the codec.

use super::days::{day_from, day_number};
use super::error::{WireError, plain};
use crate::domain::ids::{AnimalId, CaseId, FarmId, PersonId, PutId, RecordId, TurnId, VisitId};
use crate::domain::vocabulary::Vocabulary;
use chrono::NaiveDate;
use serde::de::{DeserializeOwned, Error as _};
use serde::ser::Error as _;
use serde::{Deserialize, Deserializer, Serialize, Serializer};
use std::marker::PhantomData;

/// Most bytes one text may have.
pub const TEXT_LIMIT: usize = 4000;

/// Something of the domain that can be kept.
pub trait Stored: Sized {
    /// The shape it is kept in.
    type Kept: Serialize + DeserializeOwned;
    /// Its kept shape. Refuses what could not be read back.
    fn keep(&self) -> Result<Self::Kept, WireError>;
    /// What the kept shape stands for.
    fn restore(kept: Self::Kept) -> Result<Self, WireError>;
}

macro_rules! as_it_is {
    ($($type:ty)+) => {$(
        impl Stored for $type {
            type Kept = $type;
            fn keep(&self) -> Result<$type, WireError> { Ok(*self) }
            fn restore(kept: $type) -> Result<$type, WireError> { Ok(kept) }
        }
    )+};
}
as_it_is! { bool u8 u16 u32 u64 }

impl Stored for String {
    type Kept = String;
    fn keep(&self) -> Result<String, WireError> {
        String::restore(self.clone())
    }
    fn restore(kept: String) -> Result<String, WireError> {
        match kept.len() {
            0..=TEXT_LIMIT => Ok(kept),
            bytes => Err(WireError::TooLong { what: "a text", bytes, limit: TEXT_LIMIT }),
        }
    }
}

impl<T: Stored> Stored for Option<T> {
    type Kept = Option<T::Kept>;
    fn keep(&self) -> Result<Self::Kept, WireError> {
        self.as_ref().map(T::keep).transpose()
    }
    fn restore(kept: Self::Kept) -> Result<Self, WireError> {
        kept.map(T::restore).transpose()
    }
}

impl<T: Stored> Stored for Vec<T> {
    type Kept = Vec<T::Kept>;
    fn keep(&self) -> Result<Self::Kept, WireError> {
        self.iter().map(T::keep).collect()
    }
    fn restore(kept: Self::Kept) -> Result<Self, WireError> {
        kept.into_iter().map(T::restore).collect()
    }
}

impl<A: Stored, B: Stored> Stored for (A, B) {
    type Kept = (A::Kept, B::Kept);
    fn keep(&self) -> Result<Self::Kept, WireError> {
        Ok((self.0.keep()?, self.1.keep()?))
    }
    fn restore(kept: Self::Kept) -> Result<Self, WireError> {
        Ok((A::restore(kept.0)?, B::restore(kept.1)?))
    }
}

/// A word of a closed list: its number in bytes, the word in JSON.
pub struct Code<V> {
    number: u16,
    list: PhantomData<V>,
}

impl<V: Vocabulary> Stored for V {
    type Kept = Code<V>;
    fn keep(&self) -> Result<Code<V>, WireError> {
        Ok(Code { number: self.number(), list: PhantomData })
    }
    fn restore(kept: Code<V>) -> Result<V, WireError> {
        V::from_number(kept.number).ok_or(WireError::UnknownCode(V::NAME, kept.number))
    }
}

impl<V: Vocabulary> Serialize for Code<V> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        if !serializer.is_human_readable() {
            return serializer.serialize_u16(self.number);
        }
        let unknown = || S::Error::custom(WireError::UnknownCode(V::NAME, self.number));
        serializer.serialize_str(V::from_number(self.number).ok_or_else(unknown)?.word())
    }
}

impl<'de, V: Vocabulary> Deserialize<'de> for Code<V> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Code<V>, D::Error> {
        if !deserializer.is_human_readable() {
            return Ok(Code { number: u16::deserialize(deserializer)?, list: PhantomData });
        }
        let word = String::deserialize(deserializer)?;
        let unknown = || D::Error::custom(format_args!("no {} is called {}", V::NAME, plain(&word)));
        Ok(Code { number: V::from_word(&word).ok_or_else(unknown)?.number(), list: PhantomData })
    }
}

/// The name of a record: two numbers in bytes, its printed form in JSON.
pub struct IdKept(pub RecordId);

impl Serialize for IdKept {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        if serializer.is_human_readable() {
            return serializer.collect_str(&self.0);
        }
        (self.0.series, self.0.seq).serialize(serializer)
    }
}

impl<'de> Deserialize<'de> for IdKept {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<IdKept, D::Error> {
        if !deserializer.is_human_readable() {
            let (series, seq) = Deserialize::deserialize(deserializer)?;
            return Ok(IdKept(RecordId { series, seq }));
        }
        let text = String::deserialize(deserializer)?;
        text.parse().map(IdKept).map_err(|()| D::Error::custom(WireError::BadId(plain(&text))))
    }
}

impl Stored for RecordId {
    type Kept = IdKept;
    fn keep(&self) -> Result<IdKept, WireError> {
        Ok(IdKept(*self))
    }
    fn restore(kept: IdKept) -> Result<RecordId, WireError> {
        Ok(kept.0)
    }
}

macro_rules! ids {
    ($($id:ident)+) => {$(
        impl Stored for $id {
            type Kept = IdKept;
            fn keep(&self) -> Result<IdKept, WireError> { self.0.keep() }
            fn restore(kept: IdKept) -> Result<$id, WireError> { RecordId::restore(kept).map($id) }
        }
    )+};
}
ids! { FarmId AnimalId VisitId TurnId PutId CaseId PersonId }

/// A day: its number in bytes, "2025-05-14" in JSON.
pub struct DayKept(NaiveDate);

impl Serialize for DayKept {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        if serializer.is_human_readable() {
            return serializer.collect_str(&self.0.format("%Y-%m-%d"));
        }
        day_number(self.0).map_err(S::Error::custom)?.serialize(serializer)
    }
}

impl<'de> Deserialize<'de> for DayKept {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<DayKept, D::Error> {
        if !deserializer.is_human_readable() {
            return day_from(i32::deserialize(deserializer)?).map(DayKept).map_err(D::Error::custom);
        }
        let text = String::deserialize(deserializer)?;
        let unreadable = |_| D::Error::custom(format_args!("{} is no day as in 2025-05-14", plain(&text)));
        NaiveDate::parse_from_str(&text, "%Y-%m-%d").map(DayKept).map_err(unreadable)
    }
}

impl Stored for NaiveDate {
    type Kept = DayKept;
    fn keep(&self) -> Result<DayKept, WireError> {
        day_number(*self).map(|_| DayKept(*self))
    }
    fn restore(kept: DayKept) -> Result<NaiveDate, WireError> {
        day_number(kept.0).map(|_| kept.0)
    }
}

/// Puts the field's name in front of its error.
pub fn within<T>(field: &str, result: Result<T, WireError>) -> Result<T, WireError> {
    result.map_err(|why| why.at(field))
}

/// Keeps a struct field by field: `Gait as GaitKept { scale: GaitScale, score: u8 }`.
macro_rules! record {
    ($domain:ident as $kept:ident { $($field:ident: $type:ty),+ $(,)? }) => {
        #[doc = concat!("The kept shape of `", stringify!($domain), "`.")]
        #[derive(serde::Serialize, serde::Deserialize)]
        #[serde(deny_unknown_fields)]
        pub struct $kept { $($field: <$type as Stored>::Kept,)+ }
        impl Stored for $domain {
            type Kept = $kept;
            fn keep(&self) -> Result<$kept, WireError> {
                Ok($kept { $($field: within(stringify!($field), Stored::keep(&self.$field))?,)+ })
            }
            fn restore(kept: $kept) -> Result<$domain, WireError> {
                Ok($domain { $($field: within(stringify!($field), Stored::restore(kept.$field))?,)+ })
            }
        }
    };
}
pub(super) use record;

/// Keeps a sum whose variants hold one value each: `Verdict as VerdictKept { outcome: Outcome(Outcome), ... }`.
macro_rules! choice {
    ($domain:ident as $kept:ident { $($field:ident: $variant:ident($type:ty)),+ $(,)? }) => {
        #[doc = concat!("The kept shape of `", stringify!($domain), "`: exactly one part is told.")]
        #[derive(Default, serde::Serialize, serde::Deserialize)]
        #[serde(deny_unknown_fields)]
        pub struct $kept { $($field: Option<<$type as Stored>::Kept>,)+ }
        impl Stored for $domain {
            type Kept = $kept;
            fn keep(&self) -> Result<$kept, WireError> {
                let mut kept = $kept::default();
                match self { $($domain::$variant(value) => {
                    kept.$field = Some(within(stringify!($field), Stored::keep(value))?);
                })+ }
                Ok(kept)
            }
            fn restore(kept: $kept) -> Result<$domain, WireError> {
                let mut told = Vec::new();
                $(if let Some(value) = kept.$field {
                    told.push($domain::$variant(within(stringify!($field), Stored::restore(value))?));
                })+
                the_one(stringify!($domain), told)
            }
        }
    };
}
pub(super) use choice;

/// Keeps a sum whose variants hold named fields: `Put as PutKept { block: Block as BlockKept { foot: Foot, ... }, ... }`.
macro_rules! sum {
    ($domain:ident as $kept:ident {
        $($part:ident: $variant:ident as $inner:ident { $($field:ident: $type:ty),+ $(,)? }),+ $(,)?
    }) => {
        $(
            #[doc = concat!("The kept shape of `", stringify!($domain), "::", stringify!($variant), "`.")]
            #[derive(serde::Serialize, serde::Deserialize)]
            #[serde(deny_unknown_fields)]
            pub struct $inner { $($field: <$type as Stored>::Kept,)+ }
        )+
        #[doc = concat!("The kept shape of `", stringify!($domain), "`: exactly one part is told.")]
        #[derive(Default, serde::Serialize, serde::Deserialize)]
        #[serde(deny_unknown_fields)]
        pub struct $kept { $($part: Option<$inner>,)+ }
        impl Stored for $domain {
            type Kept = $kept;
            fn keep(&self) -> Result<$kept, WireError> {
                let mut kept = $kept::default();
                match self { $($domain::$variant { $($field),+ } => {
                    kept.$part = Some($inner { $($field: within(stringify!($field), Stored::keep($field))?,)+ });
                })+ }
                Ok(kept)
            }
            fn restore(kept: $kept) -> Result<$domain, WireError> {
                let mut told = Vec::new();
                $(if let Some(inner) = kept.$part {
                    told.push($domain::$variant {
                        $($field: within(stringify!($field), Stored::restore(inner.$field))?,)+
                    });
                })+
                the_one(stringify!($domain), told)
            }
        }
    };
}
pub(super) use sum;

/// The only member of a list that must have one.
pub fn the_one<T>(what: &'static str, mut told: Vec<T>) -> Result<T, WireError> {
    match (told.pop(), told.len()) {
        (Some(only), 0) => Ok(only),
        (last, others) => {
            Err(WireError::NotOne { what, told: others + usize::from(last.is_some()), wanted: "exactly one" })
        }
    }
}
