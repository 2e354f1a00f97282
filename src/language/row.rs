//! What the tables of clauses and declarations are made of. It must not know which clauses there are.

use super::grammar::Rule;

/// A clause: what it takes to know one when it is misspelt or out of place.
#[derive(Debug)]
pub(super) struct Row {
    /// Its rule in the grammar.
    pub rule: Rule,
    /// The fixed words it begins with, up to the first that is the author's own. Of the kinds of a first word, ` | `.
    pub words: &'static str,
}

impl Row {
    /// The word it begins with, or each of several.
    pub(super) fn first_words(&self) -> impl Iterator<Item = &'static str> {
        self.words.split(" | ").filter_map(|words| words.split(' ').next())
    }
}

/// The rules of a declaration that has a head and clauses in braces.
#[derive(Debug)]
pub(super) struct Shape {
    /// The words that start it.
    pub words: &'static [&'static str],
    /// The whole.
    pub declaration: Rule,
    /// Keyword, name, title.
    pub head: Rule,
    /// Braces and clauses.
    pub body: Rule,
    /// What stands in the braces.
    pub clauses: Rule,
    /// One of them.
    pub clause: Rule,
    /// Their table, if they have one; for a step that of the acts and that of the rest.
    pub rows: [&'static [Row]; 2],
    /// Of a declaration that is changed, what else may stand in the braces: none for one that is declared.
    pub change: Option<Change>,
}

/// The rules of what only a changed declaration has.
#[derive(Debug, Clone, Copy)]
pub(super) struct Change {
    /// The declaration itself.
    pub of: Rule,
    /// A clause that is taken out or gives way to others; none where only steps stand in the braces.
    pub difference: Option<Rule>,
    /// What stands in the braces of such a clause.
    pub clauses: Rule,
}
