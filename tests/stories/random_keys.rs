//! Any keys and any typed lines on the whole program: nothing raw is drawn, nothing shown is not kept, and the book stays sound.

use crushbook::run::fuzz::{fuzz_keys, fuzz_lines};
use proptest::collection::vec;
use proptest::prelude::{ProptestConfig, any, proptest};
use std::path::Path;

#[test]
fn kept_seeds_hold() {
    for (name, body) in [("keys", fuzz_keys as fn(&[u8])), ("lines", fuzz_lines)] {
        let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/stories/seeds").join(name);
        let mut seeds = 0;
        for entry in std::fs::read_dir(folder).expect("a folder of seeds") {
            body(&std::fs::read(entry.expect("a seed").path()).expect("a seed can be read"));
            seeds += 1;
        }
        assert!(seeds >= 4, "{seeds} seeds of {name}");
    }
}

/// Few cases, since each is a whole program; `PROPTEST_CASES` asks for more.
fn config() -> ProptestConfig {
    let given = ProptestConfig::default();
    let cases = if std::env::var_os("PROPTEST_CASES").is_some() { given.cases } else { 12 };
    ProptestConfig { cases, failure_persistence: None, ..given }
}

proptest! {
    #![proptest_config(config())]
    #[test]
    fn any_keys_hold(bytes in vec(any::<u8>(), 1..500)) {
        fuzz_keys(&bytes);
    }

    #[test]
    fn any_lines_hold(bytes in vec(any::<u8>(), 1..500)) {
        fuzz_lines(&bytes);
    }
}
