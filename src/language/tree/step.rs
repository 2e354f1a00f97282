//! Steps, and groups of steps that no order splits.

use super::{Act, Amount, Clause, Condition, Quote, Reference, Scope, Setting, Word};
use crate::source::Span;
use thin_vec::ThinVec;

/// The four stretches of a job, in the order in which they run.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Phase {
    /// Taking apart.
    Strip,
    /// Measuring, judging and sending out.
    Survey,
    /// Putting together.
    Build,
    /// First start and running in.
    Start,
}

impl Phase {
    /// All four, in order.
    pub const ALL: [Phase; 4] = [Phase::Strip, Phase::Survey, Phase::Build, Phase::Start];

    /// The word that declares a step of this phase.
    pub fn word(self) -> &'static str {
        match self {
            Phase::Strip => "strip",
            Phase::Survey => "survey",
            Phase::Build => "build",
            Phase::Start => "start",
        }
    }

    /// The phase that this word declares a step of.
    pub fn of_word(word: &str) -> Option<Phase> {
        Phase::ALL.into_iter().find(|phase| phase.word() == word)
    }
}

/// `strip open_head "Release and lift the cylinder head" { ... }`
#[derive(Debug, Clone, PartialEq)]
pub struct Step {
    /// Which phase.
    pub phase: Phase,
    /// Its id.
    pub name: Word,
    /// Its title.
    pub title: Option<Quote>,
    /// Clauses and acts in written order.
    pub clauses: Vec<Clause<StepClause>>,
    /// From the keyword to the closing brace.
    pub span: Span,
}

/// What a group of steps is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum GroupKind {
    /// `block`: no order splits it.
    Block,
    /// `trial`: put together to measure, and apart again; leaves only readings.
    Trial,
}

/// `block lift_and_turn "..." { strip a {...} strip b {...} }`
#[derive(Debug, Clone, PartialEq)]
pub struct Group {
    /// Block or trial.
    pub kind: GroupKind,
    /// Its id.
    pub name: Word,
    /// Its title.
    pub title: Option<Quote>,
    /// Steps in written order.
    pub steps: Vec<Step>,
    /// From the keyword to the closing brace.
    pub span: Span,
}

/// A step named by another: `pull_piston`, `pull_piston[2]`, `all pull_piston`.
#[derive(Debug, Clone, PartialEq)]
pub struct StepReference {
    /// `all`: every position of it.
    pub all: bool,
    /// Which step.
    pub step: Reference,
}

/// Clauses of a step.
#[derive(Debug, Clone, PartialEq)]
pub enum StepClause {
    /// `after drain, all pull_injector`
    After(ThinVec<StepReference>),
    /// `before lift_head`
    Before(ThinVec<StepReference>),
    /// `straight after apply_sealant within 10 min`
    StraightAfter {
        /// Which step.
        step: Box<StepReference>,
        /// Within what time.
        within: Option<Box<Amount>>,
    },
    /// `when valve_gear = renew and plating = worn`
    When(ThinVec<Setting>),
    /// `each cyl, valve together`, `each cyl apart`
    Each {
        /// Axes.
        axes: ThinVec<Word>,
        /// `of bank`: group by group.
        of: Option<Word>,
        /// `apart`: a step per position.
        apart: bool,
    },
    /// `each cyl in turn`, `each cyl in firing order`: the acts behind it, at one position after the other
    InTurn {
        /// The axis.
        axis: Word,
        /// In the order in which they fire; else in that of the axis.
        firing: bool,
    },
    /// `tools injector_puller, slide_hammer`
    Tools(ThinVec<Reference>, Scope),
    /// `supplies gasket_sealant 20 mL, rag 2`
    Supplies(ThinVec<(Reference, Option<Amount>)>, Scope),
    /// `with stand upright, side front`: setups and their values
    With(ThinVec<(Word, Word)>, Scope),
    /// `hands 2`
    Hands(Box<Amount>),
    /// `time 25 min`, `time 25 min both ways`
    Time {
        /// How long it takes.
        time: Box<Amount>,
        /// As long as putting back what it takes off.
        both_ways: bool,
    },
    /// `refit time 20 min`: of putting back what it takes off
    RefitTime(Box<Amount>),
    /// `hold "a second person checks the marks"`
    Hold(Quote, Scope),
    /// `hazard falling_mass`: shown before the act that follows
    Hazard(Reference, Scope),
    /// `needs coolant = drained, crank_pin in`
    Needs(ThinVec<Condition>, Scope),
    /// `strip only`: not mirrored in the build
    StripOnly,
    /// `if "the gasket grips" do "Tap the lugs with a soft hammer."`
    If {
        /// What goes wrong.
        condition: Quote,
        /// What to do.
        action: Quote,
        /// Where.
        scope: Scope,
    },
    /// `repeat until cord_pull within limits at most 4 times "Covers off, a shim out, covers on."`
    Repeat {
        /// What is read until it is within its limits.
        until: Box<Reference>,
        /// How often it is tried.
        at_most: Box<Amount>,
        /// What is done between two readings.
        work: Quote,
    },
    /// `except small_first because "..."`: the step departs from a rule
    Except {
        /// The rule.
        rule: Box<Reference>,
        /// Why.
        because: Quote,
    },
    /// An act.
    Act(Act),
}
