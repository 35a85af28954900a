//! Any two lists of few labels, so that they meet: a line counts once, a list taken twice changes nothing, the herd written out
//! is the herd.

use crushbook::wire::herd_fuzz::fuzz_herd;
use proptest::collection::vec;
use proptest::prelude::{Strategy, proptest};
use proptest::sample::select;

fn list() -> impl Strategy<Value = String> {
    let label = || select(vec!["", "", "1", "2", "3", "UK A", "uk a", "UK B", "Fern", "=1"]);
    let electronic = select(vec!["", "", "", "826000000000001", "826 000000000002", "3"]);
    let lactation = select(vec!["", "1", "2", "x"]);
    let row =
        (label(), label(), electronic, label(), lactation).prop_map(|(number, tag, electronic, name, lactation)| {
            format!("{number};{tag};{electronic};{name};{lactation}\n")
        });
    vec(row, 0..9).prop_map(|rows| format!("number;tag;eid;name;parity\n{}", rows.concat()))
}

proptest! {
    #[test]
    fn any_two_lists_are_compared_and_taken_without_a_doubt_left(first in list(), then in list()) {
        fuzz_herd(format!("{first}%{then}").as_bytes());
    }
}
