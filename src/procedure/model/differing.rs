//! In which facts a procedure differs from the one that it is of.

use crate::source::Span;

/// The procedure that another is of.
#[derive(Debug, Clone, PartialEq)]
pub struct Below {
    /// What its engine is called.
    pub title: String,
    /// Its edition, as it is written.
    pub edition: Option<String>,
    /// Its family, where it is declared.
    pub span: Span,
}

/// A fact that is said otherwise than by the procedure that a family is `of`.
#[derive(Debug, Clone, PartialEq)]
pub struct Differing {
    /// Said for one job alone, and not for the family.
    pub of_job: bool,
    /// The word that declares the thing: `part`, `strip`, `family`.
    pub word: &'static str,
    /// Its id.
    pub id: String,
    /// Its title, or its id in words.
    pub title: String,
    /// What the other procedure says; none for what it doesn't say.
    pub was: Option<Quoted>,
    /// What holds here; none for what is taken out.
    pub is: Option<Quoted>,
    /// It is all of the thing that comes or goes.
    pub whole: bool,
    /// Where the difference is said.
    pub at: Span,
}

impl Differing {
    /// How long a step takes, where that is said for one job alone.
    pub(crate) fn own_time(&self) -> Option<&str> {
        self.is.as_ref().filter(|_| self.of_job)?.words.strip_prefix("time ")
    }
}

/// Words of a text, and where they stand.
#[derive(Debug, Clone, PartialEq)]
pub struct Quoted {
    /// On one line, without comments.
    pub words: String,
    /// Where they stand.
    pub span: Span,
}
