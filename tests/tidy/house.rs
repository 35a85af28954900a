//! The plan of the house as tables: who may use whom, which outside crate, and what only one place may name.

/// A room, and what it may use.
pub struct Room {
    /// Its folder under `src`.
    pub name: &'static str,
    /// Rooms of ours it may name.
    pub rooms: &'static [&'static str],
    /// Outside crates it may name.
    pub crates: &'static [&'static str],
}

const fn room(name: &'static str, rooms: &'static [&'static str], crates: &'static [&'static str]) -> Room {
    Room { name, rooms, crates }
}

/// Every room.
#[rustfmt::skip]
pub const ROOMS: &[Room] = &[
    room("domain", &[], &["chrono", "thiserror"]),
    room("claw_map", &["domain"], &["thiserror"]),
    room("wire", &["domain"], &["bincode", "chrono", "crc32fast", "csv", "serde", "serde_json", "thiserror", "toml"]),
    room("store", &["domain", "wire"], &["chrono", "getrandom", "redb", "thiserror"]),
    room("keys", &["domain"], &["thiserror", "toml"]),
    room("session", &["domain", "claw_map", "keys"], &["chrono"]),
    room("report", &["domain", "claw_map"], &["chrono", "maud", "unicode_width"]),
    room("screen", &["domain", "claw_map", "keys", "session", "report"], &["chrono", "ratatui", "unicode_width"]),
    room("plain", &["domain", "keys", "session", "report", "screen"], &["thiserror", "unicode_width"]),
    room("terminal", &["keys"], &["chrono", "ratatui", "signal_hook", "thiserror"]),
    room("command", &["domain", "wire", "store", "keys", "report"],
        &["chrono", "clap", "clap_complete", "clap_mangen", "etcetera", "serde_json", "tempfile", "thiserror"]),
    room("run", &["domain", "claw_map", "wire", "store", "keys", "session", "report", "screen", "plain", "terminal",
        "command"], &["chrono", "ratatui", "thiserror"]),
];

/// What only the files under one path may name, as a piece of a path in the source, and why.
pub const ONLY: &[(&[&str], &str, &str)] = &[
    (&["bincode"], "src/wire/codec.rs", "it is no longer developed, and must be replaceable in one file"),
    (&["crossterm"], "src/terminal/", "pictures are drawn into a buffer, never to a terminal"),
    (&["CrosstermBackend"], "src/terminal/", "pictures are drawn into a buffer, never to a terminal"),
    (&["chrono", "Local"], "src/terminal/", "time is an argument everywhere else"),
    (&["chrono", "Utc"], "src/terminal/", "time is an argument everywhere else"),
    (&["time", "Instant"], "src/terminal/", "time is an argument everywhere else"),
    (&["time", "SystemTime"], "src/terminal/", "time is an argument everywhere else"),
];

/// Methods that only the files under one path may call, and why.
pub const CALLS: &[(&str, &str, &str)] = &[("elapsed", "src/terminal/", "time is an argument everywhere else")];

/// Words of the serde attribute that change the shape of what is written without anybody seeing it, or cannot be read
/// back from bytes.
pub const UNSAFE_SERDE: &[&str] = &["skip_serializing_if", "flatten", "untagged"];

/// Most lines in one file.
pub const MOST_LINES: usize = 600;
/// Most packages that the program itself is built from.
pub const MOST_NORMAL: usize = 120;
/// Most packages in the lock file.
pub const MOST_LOCKED: usize = 240;

/// The room of a file: the folder under `src`.
pub fn room_of(path: &str) -> Option<&'static Room> {
    let name = path.strip_prefix("src/")?.split('/').next()?;
    ROOMS.iter().find(|room| room.name == name)
}
