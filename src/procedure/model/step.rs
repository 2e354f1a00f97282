//! Steps and groups of steps.

use super::{
    Act, AxisId, Binding, Condition, Departure, GaugeId, Guard, HazardId, Local, Measure, Naming, Pattern,
    Places, SectionId, Seldom, SetupId, StepId, SupplyId, ToolId,
};
pub use crate::language::tree::{GroupKind, Phase};
use crate::quantity::Quantity;
use crate::source::Span;

/// A step of work.
#[derive(Debug, Clone, PartialEq)]
pub struct Step {
    /// Name.
    pub naming: Naming,
    /// Phase.
    pub phase: Phase,
    /// The section it belongs to.
    pub section: Option<SectionId>,
    /// The block or trial it belongs to.
    pub group: Option<super::GroupId>,
    /// Steps that come before it.
    pub after: Seldom<StepLink>,
    /// Steps that come after it.
    pub before: Seldom<StepLink>,
    /// Steps derived for the build that come before it; for the extra work of a job alone.
    pub after_derived: Seldom<super::DerivedKey>,
    /// Steps derived for the build that come after it.
    pub before_derived: Seldom<super::DerivedKey>,
    /// The step that it follows at once, and within what time.
    pub straight_after: Option<Box<(StepLink, Option<Quantity>)>>,
    /// Answers under which it is done.
    pub when: Guard,
    /// Where the guard is said.
    pub when_span: Option<Span>,
    /// Axes along which it repeats.
    pub each: Seldom<AxisId>,
    /// Groups of one of them, one of which is done after the other.
    pub by_group: Option<AxisId>,
    /// Whether each repeat is a step of its own; else one step with a tick box per position.
    pub apart: bool,
    /// Tools.
    pub tools: Seldom<Local<(ToolId, Span)>>,
    /// Supplies with the quantity used.
    pub supplies: Seldom<Local<(SupplyId, Option<Measure>, Span)>>,
    /// How the bench stands.
    pub setups: Seldom<Stance>,
    /// People.
    pub hands: u32,
    /// Time it takes.
    pub time: Option<Quantity>,
    /// Time that putting back takes what it takes off.
    pub refit_time: Option<Quantity>,
    /// What must be so when it starts.
    pub needs: Seldom<Local<Condition>>,
    /// Not mirrored in the build.
    pub strip_only: bool,
    /// What to do if something common goes wrong.
    pub contingencies: Seldom<Local<(String, String)>>,
    /// What is tried again until it is within its limits.
    pub repeats: Seldom<Repeat>,
    /// Departures from rules.
    pub departures: Seldom<Departure>,
    /// Hazards and acts in the order in which they come.
    pub lines: Seldom<StepLine>,
    /// From the keyword to the closing brace.
    pub span: Span,
}

impl Step {
    /// A step that says nothing yet: one pair of hands, always done.
    pub fn blank(naming: Naming, phase: Phase, span: Span) -> Step {
        Step {
            naming,
            phase,
            section: None,
            group: None,
            after: Seldom::new(),
            before: Seldom::new(),
            after_derived: Seldom::new(),
            before_derived: Seldom::new(),
            straight_after: None,
            when: Guard::default(),
            when_span: None,
            each: Seldom::new(),
            by_group: None,
            apart: false,
            tools: Seldom::new(),
            supplies: Seldom::new(),
            setups: Seldom::new(),
            hands: 1,
            time: None,
            refit_time: None,
            needs: Seldom::new(),
            strip_only: false,
            contingencies: Seldom::new(),
            repeats: Seldom::new(),
            departures: Seldom::new(),
            lines: Seldom::new(),
            span,
        }
    }

    /// Adds a tool where it is used, unless the step has it there.
    pub fn bring_tool(&mut self, tool: (ToolId, Span), at: &Places) {
        let same = |own: &Local<(ToolId, Span)>| own.what.0 == tool.0;
        if self.tools.iter().any(|own| same(own) && (own.at.everywhere() || own.at == *at)) {
            return;
        }
        if at.everywhere() {
            self.tools.retain(|own| !same(own));
        }
        self.tools.push(Local { what: tool, at: at.clone() });
    }

    /// Its tools, wherever they are used.
    pub fn listed(&self) -> impl Iterator<Item = (ToolId, Span)> {
        self.tools.iter().map(|tool| tool.what)
    }

    /// Its tools where its axes stand as `bound` says.
    pub fn tools_at(&self, bound: &Binding) -> impl Iterator<Item = ToolId> {
        self.tools.iter().filter_map(|tool| tool.here(bound)).map(|(tool, _)| *tool)
    }

    /// Its supplies where its axes stand as `bound` says, each with how much of it.
    pub fn supplies_at(&self, bound: &Binding) -> impl Iterator<Item = &(SupplyId, Option<Measure>, Span)> {
        self.supplies.iter().filter_map(|supply| supply.here(bound))
    }

    /// The axes along which it is a step of its own at each position; none where it is one step for all of them.
    pub fn repeats(&self) -> &[AxisId] {
        if self.apart { &self.each } else { &[] }
    }

    /// Adds a supply with how much of it, at these positions of its axes, unless the step has it there.
    pub fn bring_supply(&mut self, supply: (SupplyId, Option<Measure>, Span), at: &Places) {
        let same = |own: &Local<(SupplyId, Option<Measure>, Span)>| own.what.0 == supply.0;
        if !self.supplies.iter().any(|own| same(own) && (own.at.everywhere() || own.at == *at)) {
            self.supplies.push(Local { what: supply, at: at.clone() });
        }
    }

    /// Its acts in order.
    pub fn acts(&self) -> impl Iterator<Item = &Act> {
        self.lines.iter().filter_map(|line| match line {
            StepLine::Act(act) => Some(act),
            StepLine::Hazard(..) | StepLine::Hold(..) => None,
        })
    }

    /// How the bench stands during it where its axes stand as `bound` says: of what is said of one setup, the first that holds.
    pub fn setups_at(&self, bound: &Binding) -> impl Iterator<Item = &Stance> {
        let here = self.setups.iter().enumerate().filter(|(_, stance)| stance.at.hold(bound));
        let first = |(index, stance): &(usize, &Stance)| {
            let mut before = self.setups[..*index].iter();
            !before.any(|other| other.setup == stance.setup && other.at.hold(bound))
        };
        here.filter(first).map(|(_, stance)| stance)
    }

    /// Its hazards in order.
    pub fn hazards(&self) -> impl Iterator<Item = HazardId> {
        self.lines.iter().filter_map(|line| match line {
            StepLine::Hazard(hazard, _) => Some(hazard.what),
            StepLine::Act(_) | StepLine::Hold(..) => None,
        })
    }

    /// Whether work stops for a second person in it where its axes stand as `bound` says.
    pub fn holds_at(&self, bound: &Binding) -> bool {
        self.lines.iter().any(|line| matches!(line, StepLine::Hold(hold, _) if hold.here(bound).is_some()))
    }

    /// Whether work stops for a second person somewhere in it.
    pub fn holds(&self) -> bool {
        self.lines.iter().any(|line| matches!(line, StepLine::Hold(..)))
    }
}

/// A reading of a step that is taken again until it is within its limits.
#[derive(Debug, Clone, PartialEq)]
pub struct Repeat {
    /// What is read.
    pub until: GaugeId,
    /// How often it is tried at most.
    pub at_most: u32,
    /// What is done between two readings.
    pub work: String,
    /// Where it is said.
    pub span: Span,
}

/// How a setup stands during a step.
#[derive(Debug, Clone, PartialEq)]
pub struct Stance {
    /// The setup.
    pub setup: SetupId,
    /// Its value, by index.
    pub value: usize,
    /// At which positions of the step.
    pub at: Places,
    /// Where it is said.
    pub span: Span,
}

/// One line of a step.
#[derive(Debug, Clone, PartialEq)]
pub enum StepLine {
    /// A hazard, shown before the act that follows.
    Hazard(Local<HazardId>, Span),
    /// What a second person checks before work goes on.
    Hold(Local<String>, Span),
    /// An act.
    Act(Act),
}

/// A step named by another.
#[derive(Debug, Clone, PartialEq)]
pub struct StepLink {
    /// The step or group.
    pub to: LinkEnd,
    /// Its position, for steps done apart.
    pub pattern: Pattern,
    /// Whether every position is waited for.
    pub all: bool,
    /// Where it is said.
    pub span: Span,
}

/// What a link leads to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LinkEnd {
    /// A step.
    Step(StepId),
    /// A block or trial.
    Group(super::GroupId),
}

/// Steps that no order splits.
#[derive(Debug, Clone, PartialEq)]
pub struct Group {
    /// Name.
    pub naming: Naming,
    /// Block or trial.
    pub kind: GroupKind,
    /// Its steps in written order.
    pub steps: Vec<StepId>,
    /// From the keyword to the closing brace.
    pub span: Span,
}
