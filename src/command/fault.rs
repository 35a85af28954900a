//! One form for everything that goes wrong on the command line: what, causes, and what to do next.

use crate::store::error::StoreError;

/// Something that ends a command.
#[derive(Debug)]
pub struct Fault {
    /// Exit code: 1 for what failed, 2 for what was asked wrongly.
    pub code: u8,
    /// What happened.
    pub what: String,
    /// Each thing behind it, one a line.
    pub causes: Vec<String>,
    /// What to do next; may be empty where the sentence says it already.
    pub hint: String,
}

impl Fault {
    /// Something failed.
    pub fn failed(what: impl Into<String>, hint: impl Into<String>) -> Fault {
        Fault { code: 1, what: what.into(), causes: Vec::new(), hint: hint.into() }
    }

    /// Something was asked wrongly.
    pub fn usage(what: impl Into<String>, hint: impl Into<String>) -> Fault {
        Fault { code: 2, ..Fault::failed(what, hint) }
    }

    /// With what is behind it.
    pub fn because(self, causes: Vec<String>) -> Fault {
        Fault { causes, ..self }
    }
}

impl std::fmt::Display for Fault {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "crushbook: {}", self.what)?;
        for cause in &self.causes {
            write!(f, "\n  {cause}")?;
        }
        if !self.hint.is_empty() {
            write!(f, "\nhint: {}", self.hint)?;
        }
        Ok(())
    }
}

impl From<StoreError> for Fault {
    fn from(error: StoreError) -> Fault {
        Fault::failed(error.to_string(), "")
    }
}

impl From<std::io::Error> for Fault {
    fn from(error: std::io::Error) -> Fault {
        Fault::failed(format!("the output cannot be written: {error}"), "look whether the disk is full")
    }
}
