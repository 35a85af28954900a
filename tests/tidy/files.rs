//! Every file there is, held to the rules; and no file that nobody compiles.

use super::rules::{Known, faults};
use super::shape::enums;
use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

/// The top of the repository.
pub fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// A file of the repository.
pub fn read(path: &str) -> String {
    std::fs::read_to_string(root().join(path)).unwrap_or_else(|why| panic!("{path}: {why}"))
}

/// Every Rust file under a folder, its path as from the top, with strokes.
fn rust_files(folder: &str) -> BTreeSet<String> {
    let mut found = BTreeSet::new();
    let mut folders = vec![PathBuf::from(folder)];
    while let Some(folder) = folders.pop() {
        let entries = std::fs::read_dir(root().join(&folder)).expect("a folder that was just listed can be read");
        for entry in entries {
            let entry = entry.expect("an entry of a folder can be read");
            let path = folder.join(entry.file_name());
            if entry.path().is_dir() {
                folders.push(path);
            } else if path.extension().is_some_and(|end| end == "rs") {
                found.insert(path.to_string_lossy().replace('\\', "/"));
            }
        }
    }
    found
}

/// Names of the outside crates in the manifest, as code spells them.
fn crates() -> BTreeSet<String> {
    let manifest: toml::Table = read("Cargo.toml").parse().expect("the manifest is TOML");
    let names = manifest["dependencies"].as_table().expect("the manifest lists dependencies");
    names.keys().map(|name| name.replace('-', "_")).collect()
}

#[test]
fn every_file_keeps_the_rules() {
    let domain = rust_files("src/domain");
    let parsed = domain.iter().map(|path| syn::parse_file(&read(path)).expect("a file that compiles can be read"));
    let mut enums: BTreeSet<String> = parsed.flat_map(|file| enums(&file)).collect();
    // States of the keys: a new one must be thought of wherever there is a choice between them.
    enums.extend(["Context", "Role"].map(str::to_owned));
    let known = Known { crates: crates(), enums };
    let files: BTreeSet<String> = [rust_files("src"), rust_files("tests")].into_iter().flatten().collect();
    let faults: Vec<String> = files.iter().flat_map(|path| faults(path, &read(path), &known)).collect();
    assert!(faults.is_empty(), "\n{}\n", faults.join("\n"));
}

#[test]
fn no_file_is_forgotten() {
    for (folder, tops) in [("src", &["src/lib.rs", "src/main.rs"][..]), ("tests", &["tests/main.rs"][..])] {
        let mut reached = BTreeSet::new();
        for top in tops {
            reach(top, &mut reached);
        }
        let forgotten: Vec<String> = rust_files(folder).difference(&reached).cloned().collect();
        assert!(forgotten.is_empty(), "no mod line names {}", forgotten.join(", "));
    }
}

/// Follows the mod lines of a file.
fn reach(path: &str, reached: &mut BTreeSet<String>) {
    reached.insert(path.to_owned());
    for name in modules(&read(path)) {
        let [file, folder] = places(path, &name);
        let child = if root().join(&file).exists() { file } else { folder };
        reach(&child, reached);
    }
}

/// Names of the modules that a file says are in files of their own.
pub fn modules(text: &str) -> Vec<String> {
    let file = syn::parse_file(text).expect("a file that compiles can be read");
    let modules = file.items.into_iter().filter_map(|item| match item {
        syn::Item::Mod(item) if item.content.is_none() => Some(item.ident.to_string()),
        _ => None,
    });
    modules.collect()
}

/// Where a module named in a file may lie.
pub fn places(path: &str, name: &str) -> [String; 2] {
    let (folder, file) = path.rsplit_once('/').expect("every path has a folder");
    let inside = match file {
        "main.rs" | "lib.rs" | "mod.rs" => folder.to_owned(),
        other => format!("{folder}/{}", other.trim_end_matches(".rs")),
    };
    [format!("{inside}/{name}.rs"), format!("{inside}/{name}/mod.rs")]
}
