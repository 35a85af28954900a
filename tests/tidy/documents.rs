//! The guide names everything that it has to explain: each room, and each crate with its reason.

use super::files::read;
use super::house::ROOMS;

/// The words of a part of the guide, from its heading to the next.
fn words(guide: &str, heading: &str) -> Vec<String> {
    let (_, part) = guide.split_once(&format!("\n## {heading}\n")).unwrap_or_else(|| panic!("no part {heading}"));
    let part = part.split("\n## ").next().unwrap_or(part);
    part.split(|letter: char| !letter.is_alphanumeric() && !"-_".contains(letter)).map(str::to_owned).collect()
}

#[test]
fn the_guide_explains_every_room() {
    let words = words(&read("DEVELOPERS.md"), "The house");
    let missing: Vec<&str> =
        ROOMS.iter().map(|room| room.name).filter(|name| !words.iter().any(|w| w == name)).collect();
    assert!(missing.is_empty(), "DEVELOPERS.md, The house: nothing about {}", missing.join(", "));
}

#[test]
fn the_guide_gives_a_reason_for_every_crate() {
    let words = words(&read("DEVELOPERS.md"), "Dependencies");
    let manifest: toml::Table = read("Cargo.toml").parse().expect("the manifest is TOML");
    for list in ["dependencies", "dev-dependencies"] {
        for name in manifest[list].as_table().expect("a list of crates").keys() {
            assert!(words.contains(name), "DEVELOPERS.md, Dependencies: nothing about {name}");
        }
    }
}
