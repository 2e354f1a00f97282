//! What a `.rebuild` text says, declaration by declaration, with the place of every word and every comment kept.
//!
//! The tree knows spelling and nesting. It must not know what a name means, whether it exists, or whether a
//! unit fits: numbers keep the unit as it was written.

mod act;
mod change;
mod declaration;
mod moved;
mod step;

pub(crate) use act::Objects;
pub use act::{Act, ActKind, Turn, TurnTarget};
pub use change::{Change, Difference, DifferenceKind, Without};
pub use declaration::*;
pub(crate) use moved::{Move, Moved};
pub use step::*;

use crate::source::{FileId, Span, Spanned};
use thin_vec::ThinVec;

/// A word that names something, as written.
pub type Word = Spanned<String>;
/// A quoted text, without its quotes and with escapes resolved.
pub type Quote = Spanned<String>;

/// One file.
#[derive(Debug, Clone, PartialEq)]
pub struct Tree {
    /// The file it was read from.
    pub file: FileId,
    /// Declarations and steps in written order; what could not be understood is left out and was complained of.
    pub items: Vec<Item>,
    /// Comments in written order, each from `--` to the end of its line.
    pub comments: Vec<Spanned<String>>,
}

/// A number as written, with its unit if it has one. A fraction such as `7/16` is one number.
#[derive(Debug, Clone, PartialEq)]
pub struct Amount {
    /// The value in the unit written.
    pub value: f64,
    /// The digits as written, such as `7/16` or `0.050`.
    pub digits: String,
    /// The unit as written; none makes it a count.
    pub unit: Option<Word>,
    /// Number and unit.
    pub span: Span,
}

/// `20 N.m`, or `45 N.m .. 60 N.m`. The unit of the first may be left out if the second has one.
#[derive(Debug, Clone, PartialEq)]
pub struct AmountRange {
    /// The only value, or the lower end.
    pub low: Amount,
    /// The upper end, for a range.
    pub high: Option<Amount>,
}

/// A use of a name, with its position: `push_rod`, `push_rod[2, inlet]`, `push_rod[cyl, inlet]`.
#[derive(Debug, Clone, PartialEq)]
pub struct Reference {
    /// The name.
    pub name: Word,
    /// What stands in square brackets: positions or names of axes.
    pub positions: ThinVec<Word>,
    /// Name and brackets.
    pub span: Span,
}

/// `NAME = VALUE`.
#[derive(Debug, Clone, PartialEq)]
pub struct Setting {
    /// What is asked, set or needed, with its position if it has one.
    pub name: Reference,
    /// Its value.
    pub value: Word,
}

/// Where and under which answers something holds: `at port = inlet when year = early`. Nothing said: always.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Scope {
    /// Axes, each with one of its positions.
    pub at: ThinVec<Setting>,
    /// Questions, each with its answer.
    pub when: ThinVec<Setting>,
}

/// One of the values of a clause that may have several.
#[derive(Debug, Clone, PartialEq)]
pub struct Case<T> {
    /// The value.
    pub value: T,
    /// Where it holds.
    pub scope: Scope,
    /// Where it comes from.
    pub origin: Origin,
    /// From its first word to its last.
    pub span: Span,
}

/// Where a number comes from: `from "demo sheet 3"`.
pub type Origin = Option<Quote>;

/// A declaration, a step, or a group of steps.
#[derive(Debug, Clone, PartialEq)]
pub enum Item {
    /// `use "shared/tools.rebuild"`
    Use(Quote),
    /// `section head_off "Cylinder head off" refit "Cylinder head" from "demo sheet 3"`: what follows belongs to it.
    Section {
        /// Its id.
        name: Word,
        /// Its title.
        title: Option<Quote>,
        /// Its title on the way back.
        refit: Option<Quote>,
        /// Where the numbers come from that stand in it and name no other origin.
        origin: Origin,
    },
    /// `family ...`
    Family(Declaration<FamilyClause>),
    /// `axis cyl = 1 .. 3`
    Axis(Axis),
    /// `ask valve_gear "Are the push rods going back in?" = reuse, renew`
    Ask(Ask),
    /// `setup stand "Engine stand" = upright (at first), inverted  change 90 s`
    Setup(Box<Setup>),
    /// `state coolant "Coolant" = full (at first), drained (at build)`
    State(State),
    /// `tool ...`
    Tool(Declaration<ToolClause>),
    /// `supply ...`
    Supply(Declaration<SupplyClause>),
    /// `part ...`
    Part(Declaration<PartClause>),
    /// `fasteners ...`
    Fasteners(Declaration<FastenerClause>),
    /// `joint ...`
    Joint(Declaration<JointClause>),
    /// `gauge ...`
    Gauge(Declaration<GaugeClause>),
    /// `look ...`
    Look(Declaration<LookClause>),
    /// `temporary ...`
    Temporary(Declaration<TemporaryClause>),
    /// `hazard falling_mass warning lifting { ... }`
    Hazard(Hazard),
    /// `rule ...`
    Rule(Declaration<RuleClause>),
    /// `strip ...`, `survey ...`, `build ...`, `start ...`
    Step(Step),
    /// `block ID "Title" { steps }` or `trial ID "Title" { steps }`
    Group(Group),
    /// `change part manifold { ... }`
    Change(Box<Change>),
    /// `without glow_bar`
    Without(Without),
}

/// The common shape: `KEYWORD NAME[axes] COUNT "Title" { clauses }`.
#[derive(Debug, Clone, PartialEq)]
pub struct Declaration<C> {
    /// Its id.
    pub name: Word,
    /// Axes in square brackets behind the name.
    pub axes: ThinVec<Word>,
    /// How many there are (per position), where the keyword takes a count; none where nothing is said.
    pub count: ThinVec<Case<Amount>>,
    /// Its title.
    pub title: Option<Quote>,
    /// What stands in braces, each clause with its place.
    pub clauses: Vec<Clause<C>>,
    /// From the keyword to the closing brace.
    pub span: Span,
}

/// One thing that is said in braces.
#[derive(Debug, Clone, PartialEq)]
pub struct Clause<C> {
    /// What is said.
    pub value: C,
    /// For a clause that may stand only once in its declaration, the name under which it counts.
    pub once: Option<&'static str>,
    /// From its first word to its last.
    pub span: Span,
}
