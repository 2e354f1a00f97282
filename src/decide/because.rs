//! Why a part or a set has its verdict: with the arithmetic for the desk, and in plain words for the owner. The words are made
//! when they are printed.

use std::fmt;

/// One reason.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Reason {
    /// With the arithmetic and where the limits are from.
    pub full: String,
    /// As it is told to somebody who doesn't reckon: what was found, and what is allowed.
    pub plain: String,
}

impl From<String> for Reason {
    fn from(words: String) -> Reason {
        Reason { plain: words.clone(), full: words }
    }
}

impl fmt::Display for Reason {
    fn fmt(&self, out: &mut fmt::Formatter) -> fmt::Result {
        out.write_str(&self.full)
    }
}

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
    /// What was found, or what follows from another part.
    Found(Vec<Reason>),
}

impl Because {
    /// What was found; silent if it is nothing.
    pub fn found(reasons: Vec<impl Into<Reason>>) -> Self {
        let reasons: Vec<Reason> = reasons.into_iter().map(Into::into).collect();
        if reasons.is_empty() { Because::Silent } else { Because::Found(reasons) }
    }

    /// This reason and what came to it.
    #[must_use]
    pub fn and(self, reason: impl Into<Reason>) -> Self {
        let mut reasons = match self {
            Because::Silent => Vec::new(),
            Because::Found(reasons) => reasons,
            said => vec![said.to_string().into()],
        };
        reasons.push(reason.into());
        Because::Found(reasons)
    }

    /// As it is told to the owner.
    pub fn plain(&self) -> String {
        match self {
            Because::Found(reasons) => joined(reasons, |reason| &reason.plain),
            said => said.to_string(),
        }
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
            Because::Found(reasons) => out.write_str(&joined(reasons, |reason| &reason.full)),
        }
    }
}

fn joined(reasons: &[Reason], words: impl Fn(&Reason) -> &String) -> String {
    let told = reasons.iter().map(|reason| words(reason).as_str()).filter(|words| !words.is_empty());
    told.collect::<Vec<_>>().join("; ")
}
