//! What mends a fault, as words and as their kind: so that each reader of a complaint knows whether to type them.

/// What mends a fault.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Mend {
    /// Something to type: `` `5 mm`, or `0.2 in` ``.
    Write(String),
    /// Something else to do, as a sentence without its full stop: ``check that the path is spelt right``.
    Do(String),
}

impl Mend {
    /// Something to type.
    pub fn write(text: impl Into<String>) -> Self {
        Mend::Write(text.into())
    }

    /// Something else to do.
    pub fn doing(text: impl Into<String>) -> Self {
        Mend::Do(text.into())
    }

    /// The word that introduces it.
    pub fn word(&self) -> &'static str {
        match self {
            Mend::Write(_) => "write",
            Mend::Do(_) => "mend",
        }
    }

    /// What follows the word.
    pub fn text(&self) -> &str {
        match self {
            Mend::Write(text) | Mend::Do(text) => text,
        }
    }
}
