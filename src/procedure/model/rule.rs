//! Ordering rules, and departures from them.

use super::{JointId, Naming, RuleId, SetId, Target};
use crate::source::Span;

/// An ordering rule beside or instead of the two house rules (undo smaller before larger, tighten larger before
/// smaller), or exceptions from them.
#[derive(Debug, Clone, PartialEq)]
pub struct Rule {
    /// Name.
    pub naming: Naming,
    /// What it orders.
    pub orders: Vec<RuleOrder>,
    /// The joints it is for; empty is every joint.
    pub joints: Vec<Target<JointId>>,
    /// Joints that depart from it, and why.
    pub exceptions: Vec<(Target<JointId>, String)>,
}

/// One order of a rule.
#[derive(Debug, Clone, PartialEq)]
pub struct RuleOrder {
    /// Undoing, or tightening.
    pub undoing: bool,
    /// What comes first.
    pub first: RuleSide,
    /// What comes then.
    pub then: RuleSide,
    /// Where it is said.
    pub span: Span,
}

/// One side of a rule.
#[derive(Debug, Clone, PartialEq)]
pub enum RuleSide {
    /// The smaller of two nominal diameters.
    Smaller,
    /// The larger.
    Larger,
    /// A set.
    Set(Target<SetId>),
}

/// A step's departure from a rule.
#[derive(Debug, Clone, PartialEq)]
pub struct Departure {
    /// The rule; none for the house rules.
    pub rule: Option<RuleId>,
    /// Why.
    pub because: String,
    /// Where it is said.
    pub span: Span,
}
