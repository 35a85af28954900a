//! The sample herd as it is built into the program: of each farm its herd list and its sheets, oldest first.
//!
//! A table and nothing else. A new day is a word here and a file in `sample-herd/`; a test holds the two against each other.

/// A farm of the sample herd.
#[derive(Debug, Clone, Copy)]
pub struct SampleFarm {
    /// Its folder in `sample-herd/`.
    pub folder: &'static str,
    /// Its herd list.
    pub list: &'static [u8],
    /// Its sheets, each under the name of its day.
    pub sheets: &'static [(&'static str, &'static str)],
}

macro_rules! farm {
    ($folder:literal: $($day:literal)+) => {
        SampleFarm {
            folder: $folder,
            list: include_bytes!(concat!("../../sample-herd/", $folder, "/herd.csv")),
            sheets: &[$(($day, include_str!(concat!("../../sample-herd/", $folder, "/", $day, ".txt"))),)+],
        }
    };
}

/// The name and the text of the list that a farm sends afterwards: nobody has taken it, so that it can be tried.
pub const NEW_LIST: (&str, &[u8]) = ("new-list.csv", include_bytes!("../../sample-herd/quillbarrow/new-list.csv"));

/// Its farms, in the order in which the trimmer took them on; what happens on each stands in `sample-herd/README.md`.
pub const FARMS: &[SampleFarm] = &[
    farm! { "oddenfold":
        "2024-11-14" "2025-02-20" "2025-02-25" "2025-04-03" "2025-05-22" "2025-05-28" "2025-06-19" "2025-07-10"
        "2025-08-02" "2025-08-06" "2025-09-04" "2025-09-09" "2025-09-19" "2025-11-06" "2025-12-04" "2025-12-19" "2026-01-20"
        "2026-02-06" "2026-03-27" "2026-03-31" "2026-04-04" "2026-04-09" "2026-05-08" "2026-05-12"
    },
    farm! { "threlmarsh":
        "2024-11-19" "2024-12-10" "2024-12-31" "2025-01-21" "2025-01-25" "2025-02-11" "2025-03-04" "2025-03-08"
        "2025-03-25" "2025-04-15" "2025-05-06" "2025-05-27" "2025-06-17" "2025-07-08" "2025-07-14" "2025-07-29"
        "2025-08-01" "2025-08-19" "2025-08-20" "2025-08-22" "2025-09-09" "2025-09-13" "2025-09-30" "2025-10-01"
        "2025-10-21" "2025-10-22" "2025-11-11" "2025-11-15" "2025-12-02" "2025-12-06" "2025-12-10" "2025-12-23" "2025-12-27"
        "2026-01-13" "2026-01-22" "2026-02-03" "2026-02-06" "2026-02-24" "2026-03-02" "2026-03-17" "2026-04-07"
        "2026-04-20" "2026-04-28" "2026-05-04" "2026-05-08" "2026-05-10" "2026-05-12"
    },
    farm! { "quillbarrow":
        "2025-11-13" "2025-11-27" "2025-12-11" "2026-01-08" "2026-01-22" "2026-01-26" "2026-02-05" "2026-02-14"
        "2026-02-19" "2026-02-23" "2026-03-05" "2026-03-19" "2026-03-24" "2026-04-02" "2026-04-16" "2026-04-30"
        "2026-05-05" "2026-05-13" "2026-05-14"
    },
];
