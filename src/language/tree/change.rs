//! What differs from the procedure that a family is `of`: declarations that are changed or taken out.

use super::{Declaration, GroupKind, Item, Quote, Word};
use crate::source::Span;
use thin_vec::ThinVec;

/// `change part manifold { mass 12 kg  without under heat_shield }`
#[derive(Debug, Clone, PartialEq)]
pub struct Change {
    /// The declaration as far as the change says it: its head, and the clauses that come to it or stand in the place of what
    /// may be said once. A declaration without braces takes the place of the other as a whole.
    pub said: Item,
    /// What is taken out of it, gives way to something else, or is the place of something else.
    pub differences: Vec<Difference>,
    /// From `change` to the closing brace.
    pub span: Span,
}

/// A clause of the other declaration, named by its words, and what is done about it.
#[derive(Debug, Clone, PartialEq)]
pub struct Difference {
    /// What is done about it.
    pub kind: DifferenceKind,
    /// The words by which the clause is named.
    pub named: Span,
    /// A declaration with this head and the clause as it is named.
    pub clause: Item,
    /// A declaration with this head and the clauses that are put in.
    pub put: Item,
    /// All of it.
    pub span: Span,
}

/// What is done about a clause of another declaration.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum DifferenceKind {
    /// `without take glow_bar`
    Without,
    /// `instead of take exchanger { ... }`
    InsteadOf,
    /// `ahead of take exchanger { ... }`
    AheadOf,
    /// `behind take exchanger { ... }`
    Behind,
}

/// `without glow_bar, glow_leads`: declarations that are taken out, with what only handles them.
#[derive(Debug, Clone, PartialEq)]
pub struct Without {
    /// Their names.
    pub names: ThinVec<Word>,
    /// All of it.
    pub span: Span,
}

/// What a declaration begins with: its word, name and title, and where its head ends.
struct Head<'i> {
    word: &'static str,
    name: Option<&'i Word>,
    title: Option<&'i Quote>,
    /// Where what stands before the braces ends.
    end: usize,
    span: Span,
}

fn head_of<'i, C>(word: &'static str, declaration: &'i Declaration<C>) -> Head<'i> {
    let counts = declaration.count.last().map(|case| case.span);
    // Behind the last axis stands a bracket.
    let axes = declaration.axes.last().map(|axis| axis.span.ending(axis.span.end() + 1));
    let title = declaration.title.as_ref();
    // What was changed stands in another file.
    let here = |span: &Span| span.file == declaration.span.file;
    let end = [counts, axes, title.map(|title| title.span)].into_iter().flatten().filter(here);
    Head {
        word,
        name: Some(&declaration.name),
        title,
        end: end.map(|span| span.end()).fold(declaration.name.span.end(), usize::max),
        span: declaration.span,
    }
}

impl Item {
    fn begins(&self) -> Head<'_> {
        let end = |name: &Word, title: Option<&Quote>| {
            let title = title.filter(|title| title.span.file == name.span.file);
            title.map_or(name.span.end(), |title| title.span.end())
        };
        let plain =
            |word, name, title: Option<_>, span: Span| Head { word, name, title, end: span.end(), span };
        match self {
            Item::Use(path) => plain("use", None, Some(path), path.span),
            Item::Section { name, title, refit, origin } => {
                let end = origin
                    .as_ref()
                    .or(refit.as_ref())
                    .or(title.as_ref())
                    .map_or(name.span, |quote| quote.span);
                plain("section", Some(name), title.as_ref(), name.span.to(end))
            }
            Item::Family(d) => head_of("family", d),
            Item::Axis(d) => plain("axis", Some(&d.name), d.title.as_ref(), d.span),
            Item::Ask(d) => plain("ask", Some(&d.name), Some(&d.question), d.span),
            Item::Setup(d) => plain("setup", Some(&d.name), d.title.as_ref(), d.span),
            Item::State(d) => plain("state", Some(&d.name), d.title.as_ref(), d.span),
            Item::Tool(d) => head_of("tool", d),
            Item::Supply(d) => head_of("supply", d),
            Item::Part(d) => head_of("part", d),
            Item::Fasteners(d) => head_of("fasteners", d),
            Item::Joint(d) => head_of("joint", d),
            Item::Gauge(d) => head_of("gauge", d),
            Item::Look(d) => head_of("look", d),
            Item::Temporary(d) => head_of("temporary", d),
            Item::Rule(d) => head_of("rule", d),
            Item::Hazard(d) => {
                Head { end: d.kind.span.end(), ..plain("hazard", Some(&d.name), None, d.span) }
            }
            Item::Step(d) => Head {
                end: end(&d.name, d.title.as_ref()),
                ..plain(d.phase.word(), Some(&d.name), d.title.as_ref(), d.span)
            },
            Item::Group(d) => {
                let word = if d.kind == GroupKind::Block { "block" } else { "trial" };
                Head {
                    end: end(&d.name, d.title.as_ref()),
                    ..plain(word, Some(&d.name), d.title.as_ref(), d.span)
                }
            }
            Item::Change(change) => Head { word: "change", ..change.said.begins() },
            Item::Without(without) => plain("without", None, None, without.span),
        }
    }

    /// The word that declares it: `part`, `strip`.
    pub fn word(&self) -> &'static str {
        self.begins().word
    }

    /// Its name, if it has one.
    pub fn name(&self) -> Option<&Word> {
        self.begins().name
    }

    /// Its title, or the question of an `ask`.
    pub fn title(&self) -> Option<&Quote> {
        self.begins().title
    }

    /// All of it; of a section from its name on.
    pub fn span(&self) -> Span {
        self.begins().span
    }

    /// What stands before its braces; all of what has none.
    pub fn head(&self) -> Option<Span> {
        let head = self.begins();
        (head.end > head.span.start()).then(|| Span::new(head.span.file, head.span.start(), head.end))
    }
}
