//! Where two tablets disagree about one foot, in words: both facts, so that the next look can tell.

use crate::domain::disagreement::{self, Disagreement, Fact};
use crate::domain::history::History;
use crate::domain::vocabulary::Vocabulary;
use crate::report::turn::verdict;
use crate::report::words::{self, Words};

/// What nobody has looked at since, a line each.
pub fn lines(history: &History, words: Words) -> Vec<String> {
    disagreement::of(history).iter().filter(|differ| !differ.settled).map(|differ| line(differ, words)).collect()
}

/// One of them: `two tablets differ, 14 May: LH outer 4 SU severe / SU light`.
pub fn line(differ: &Disagreement, words: Words) -> String {
    let day = differ.on.format("%-d %b");
    if differ.said.iter().all(|said| said.what == Fact::InCrush) {
        return words.fill(&format!("{day}: in the {{crush}} on two tablets. Is one of them another animal?"));
    }
    let [one, other] = said(differ, words);
    format!("two tablets differ, {day}: {} {one} / {other}", words.place(differ.place))
}

/// What each of the two said.
pub fn said(differ: &Disagreement, words: Words) -> [String; 2] {
    differ.said.each_ref().map(|said| fact(&said.what, words))
}

fn fact(fact: &Fact, words: Words) -> String {
    match fact {
        Fact::InCrush => words.fill("in the {crush}"),
        Fact::Found(what, degree) => words::finding(*what, *degree, ""),
        Fact::Answered(what, told) => format!("{} {}", what.word(), verdict(*told)),
        Fact::PutOn(put) => format!("{} put on", words.put(put)),
        Fact::Seen(outcome) => words::off(*outcome).to_owned(),
    }
}
