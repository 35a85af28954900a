//! One way to write a closed list of words: the enum, its stored number and its stable word stand in one table.
//!
//! Numbers and words are what the record keeps and what the outside reads. They are given by hand and never change
//! meaning; a word that falls out of use keeps its number. Words on the screen live elsewhere (`report::words`), because
//! they change with the region.

/// A closed list of words, each with a number that is never given to another.
pub trait Vocabulary: Copy + Eq + std::fmt::Debug + 'static {
    /// Name of the list, in the singular, for error messages.
    const NAME: &'static str;
    /// Every member, in reading order.
    const ALL: &'static [Self];
    /// Number kept in the record.
    fn number(self) -> u16;
    /// Stable word, kept in JSON and in sheets.
    fn word(self) -> &'static str;
    /// The member with this number, if this program knows it.
    fn from_number(number: u16) -> Option<Self> {
        Self::ALL.iter().copied().find(|member| member.number() == number)
    }
    /// The member with this word, ASCII case folded.
    fn from_word(word: &str) -> Option<Self> {
        Self::ALL.iter().copied().find(|member| member.word().eq_ignore_ascii_case(word))
    }
}

/// Writes an enum and its [`Vocabulary`] from rows `Member = number "word"`.
macro_rules! vocabulary {
    ($(#[$doc:meta])* $name:ident, $singular:literal { $($(#[$row:meta])* $member:ident = $number:literal $word:literal,)+ }) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum $name { $($(#[$row])* $member,)+ }
        impl $crate::domain::vocabulary::Vocabulary for $name {
            const NAME: &'static str = $singular;
            const ALL: &'static [Self] = &[$(Self::$member,)+];
            fn number(self) -> u16 { match self { $(Self::$member => $number,)+ } }
            fn word(self) -> &'static str { match self { $(Self::$member => $word,)+ } }
        }
    };
}
pub(crate) use vocabulary;
