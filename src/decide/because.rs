//! Why a part or a set has its verdict. The words are made when they are printed.

use std::fmt;

/// Why a part or a set has its verdict.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub enum Because {
    /// Nothing is settled, or the verdict says it all.
    #[default]
    Silent,
    /// The procedure says nothing of it.
    NothingSaid,
    /// The procedure gives it this fate whatever was found.
    Always,
    /// A set that serves once.
    OnceOnly,
    /// A set that serves again.
    Reusable,
    /// The record settles it, with a reason or without.
    Record(Option<String>),
    /// What was found, or what follows from another part, each with its arithmetic.
    Found(Vec<String>),
}

impl Because {
    /// What was found; silent if it is nothing.
    pub fn found(reasons: Vec<String>) -> Self {
        if reasons.is_empty() { Because::Silent } else { Because::Found(reasons) }
    }

    /// This reason and what came to it.
    #[must_use]
    pub fn and(self, words: String) -> Self {
        let mut reasons = match self {
            Because::Silent => Vec::new(),
            Because::Found(reasons) => reasons,
            said => vec![said.to_string()],
        };
        reasons.push(words);
        Because::Found(reasons)
    }
}

impl fmt::Display for Because {
    fn fmt(&self, out: &mut fmt::Formatter) -> fmt::Result {
        match self {
            Because::Silent => Ok(()),
            Because::NothingSaid => out.write_str("nothing else is said"),
            Because::Always => out.write_str("always"),
            Because::OnceOnly => out.write_str("used once only"),
            Because::Reusable => out.write_str("may be used again"),
            Because::Record(None) => out.write_str("settled in the record"),
            Because::Record(Some(why)) => write!(out, "settled in the record: {why}"),
            Because::Found(reasons) => out.write_str(&reasons.join("; ")),
        }
    }
}
