//! What is built in stays little enough to be looked at.

use super::files::{read, root};
use super::house::{MOST_LOCKED, MOST_NORMAL};
use std::collections::BTreeSet;
use std::process::Command;

/// Packages in the lock file: more than are ever built on one system.
fn locked(text: &str) -> usize {
    text.lines().filter(|line| *line == "[[package]]").count()
}

#[test]
fn the_lock_file_stays_in_its_budget() {
    let count = locked(&read("Cargo.lock"));
    assert!((1..=MOST_LOCKED).contains(&count), "{count} packages in Cargo.lock, {MOST_LOCKED} is the most");
}

#[test]
fn the_program_is_built_from_few_packages() {
    let tree = Command::new(env!("CARGO"))
        .args(["tree", "--edges", "normal", "--prefix", "none", "--no-dedupe", "--locked", "--offline"])
        .current_dir(root())
        .output()
        .expect("cargo runs");
    assert!(tree.status.success(), "{}", String::from_utf8_lossy(&tree.stderr));
    let text = String::from_utf8(tree.stdout).expect("cargo writes UTF-8");
    let packages: BTreeSet<&str> = text.lines().filter(|line| !line.is_empty()).collect();
    let count = packages.len();
    assert!((1..=MOST_NORMAL).contains(&count), "{count} packages in the program, {MOST_NORMAL} is the most");
}

/// What the manifest says of one crate.
fn dependency(name: &str) -> toml::Value {
    let manifest: toml::Table = read("Cargo.toml").parse().expect("the manifest is TOML");
    manifest["dependencies"][name].clone()
}

#[test]
fn what_is_no_longer_developed_is_pinned() {
    // 3.0.0 cannot be compiled; RUSTSEC-2025-0141 says that the crate is no longer developed.
    assert_eq!(dependency("bincode")["version"].as_str(), Some("=2.0.1"));
}

#[test]
fn what_brings_more_than_is_used_is_cut_down() {
    for name in ["bincode", "chrono", "ratatui"] {
        assert_eq!(dependency(name)["default-features"].as_bool(), Some(false), "{name}");
    }
}
