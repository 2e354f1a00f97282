//! Readings: gauges with places, stations and limits; looks with named results; conditions and guards.

use std::collections::BTreeSet;

use super::{
    AxisId, Cases, GaugeId, Local, Naming, PartId, Place, Procedure, Seldom, SetId, Sourced, StateId, Target,
    TemporaryId,
};
use crate::quantity::{Dimension, Quantity, Unit};
use crate::source::Span;

/// A reading, or a value computed from readings.
#[derive(Debug, Clone, PartialEq)]
pub struct Gauge {
    /// Name.
    pub naming: Naming,
    /// Axes.
    pub axes: Seldom<AxisId>,
    /// What is measured.
    pub of: Option<Target<PartId>>,
    /// Unit in which it is written down.
    pub unit: Option<&'static Unit>,
    /// Its dimension, also of a computed value.
    pub dimension: Option<Dimension>,
    /// Whether its value is how far two points on a scale lie apart, not a point on it: a rise of temperature. Its limits
    /// are such differences too.
    pub difference: bool,
    /// Stations along the part, with their depth.
    pub stations: Vec<(String, Option<Quantity>)>,
    /// Directions at each station.
    pub directions: Vec<String>,
    /// Limits as made.
    pub made: Cases<Sourced<(Quantity, Option<Quantity>)>>,
    /// Limit as worn; a value of none is unknown.
    pub worn: Cases<Sourced<Option<Quantity>>>,
    /// Whether it is how far something is off, so that none is best: no limit as made is stated, and any lies above it.
    pub best_at_nought: bool,
    /// Nothing is judged by it.
    pub noted_only: bool,
    /// What is plausible, from and to.
    pub plausible: Option<(Quantity, Quantity)>,
    /// Instrument and its smallest step.
    pub instrument: Option<(String, Option<Quantity>)>,
    /// How far the instrument may itself be off, to either side.
    pub error: Option<Sourced<Quantity>>,
    /// Whether it is taken with the part off; none where nothing is said.
    pub taken_off: Option<bool>,
    /// What must be so when it is taken.
    pub needs: Vec<Local<Condition>>,
    /// How it is computed; none for a reading.
    pub formula: Option<(Formula, Span)>,
    /// Named results.
    pub bands: Vec<Band>,
    /// Where one of them ends and the next begins: the ends of each, in their order.
    pub edges: Cases<Sourced<Vec<Edges>>>,
    /// Sizes that its part is sold in, of which the one that comes nearest to its value goes in, and how far that may be off.
    /// Its bands are these pieces.
    pub sold: Option<Sourced<(Vec<Quantity>, Quantity)>>,
    /// Oversizes or undersizes that exist, and the allowance to clean up.
    pub sizes: Option<Sourced<(Vec<Quantity>, Option<Quantity>)>>,
    /// Whether it is machined to them on the centre that it has: wear on one side then takes twice its depth.
    pub old_centre: bool,
}

/// A named result of a gauge.
#[derive(Debug, Clone, PartialEq)]
pub struct Band {
    /// The result.
    pub name: String,
    /// Where it is said.
    pub span: Span,
}

/// The ends of a band.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Edges {
    /// Lower end; none is open.
    pub low: Option<Quantity>,
    /// Upper end; none is open.
    pub high: Option<Quantity>,
}

/// A small formula over readings, dimensions checked.
#[derive(Debug, Clone, PartialEq)]
pub enum Formula {
    /// A number.
    Amount(Quantity),
    /// A bare count.
    Count(f64),
    /// A reading.
    Reading(Target<GaugeId>),
    /// An operation.
    Operation {
        /// Which.
        operator: Operator,
        /// Left.
        left: Box<Formula>,
        /// Right.
        right: Box<Formula>,
    },
    /// A function of all values of its arguments.
    Call {
        /// Which.
        function: Function,
        /// Its arguments.
        arguments: Vec<Formula>,
    },
}

/// Operations of formulas.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[allow(missing_docs, reason = "each variant is what its name says")]
pub enum Operator {
    Add,
    Subtract,
    Multiply,
    Divide,
}

/// Functions of formulas.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[allow(missing_docs, reason = "each variant is what its name says")]
pub enum Function {
    Max,
    Min,
    Mean,
    Sum,
    /// Largest less smallest.
    Spread,
    /// Largest spread between directions at one station.
    OutOfRound,
    /// Largest spread along one direction between stations.
    Taper,
}

impl Function {
    /// Whether it gives how far its arguments lie apart.
    pub fn of_differences(self) -> bool {
        matches!(self, Function::Spread | Function::OutOfRound | Function::Taper)
    }
}

/// A condition judged by eye or touch.
#[derive(Debug, Clone, PartialEq)]
pub struct Look {
    /// Name.
    pub naming: Naming,
    /// Axes.
    pub axes: Seldom<AxisId>,
    /// What is looked at.
    pub of: Option<Target<PartId>>,
    /// Gears of which it is seen whether their timing marks meet; the first turns with the crankshaft.
    pub marks_of: Vec<Target<PartId>>,
    /// Named results.
    pub results: Vec<String>,
    /// How it is judged.
    pub by: Option<String>,
    /// Whether it is taken with the part off; none where nothing is said.
    pub taken_off: Option<bool>,
    /// What must be so when it is taken.
    pub needs: Vec<Local<Condition>>,
}

/// A condition that something must be in.
#[derive(Debug, Clone, PartialEq)]
pub enum Condition {
    /// A part.
    Part(Target<PartId>, PartCondition),
    /// A fastener set.
    Set(Target<SetId>, SetCondition),
    /// A temporary, in or not.
    Temporary(Target<TemporaryId>, bool),
    /// A state has the value with this index.
    State(StateId, usize, Span),
}

/// Conditions of a part.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
#[allow(missing_docs, reason = "each variant is what its name says")]
pub enum PartCondition {
    Fitted,
    Off,
    Supported,
}

/// Conditions of a fastener set.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
#[allow(missing_docs, reason = "each variant is what its name says")]
pub enum SetCondition {
    Tight,
    Slack,
    Out,
}

impl Formula {
    /// Every reading that the formula names, from left to right.
    pub fn readings(&self) -> Vec<&Target<GaugeId>> {
        match self {
            Formula::Amount(_) | Formula::Count(_) => Vec::new(),
            Formula::Reading(target) => vec![target],
            Formula::Operation { left, right, .. } => [left.readings(), right.readings()].concat(),
            Formula::Call { arguments, .. } => arguments.iter().flat_map(Formula::readings).collect(),
        }
    }
}

impl Procedure {
    /// The gauges that are read for a gauge at one place, with their places, sorted: itself unless it is computed.
    /// Each is met once, so that formulas that share what they use cost no more, and a ring of them ends.
    pub fn readings_behind(&self, id: GaugeId, place: Place) -> Vec<(GaugeId, Place)> {
        let mut met = BTreeSet::from([(id, place)]);
        let mut waiting = vec![(id, place)];
        let mut found = Vec::new();
        while let Some((id, place)) = waiting.pop() {
            let gauge = self.gauge(id);
            let Some((formula, _)) = &gauge.formula else {
                found.push((id, place));
                continue;
            };
            let bound = self.bound(&gauge.axes, place);
            for target in formula.readings() {
                let places = self.matching(&self.gauge(target.id).axes, &target.pattern, &bound);
                waiting.extend(
                    places.into_iter().map(|place| (target.id, place)).filter(|input| met.insert(*input)),
                );
            }
        }
        found.sort_unstable();
        found
    }

    /// The parts that a gauge measures at one of its places.
    pub fn measured(&self, (id, place): (GaugeId, Place)) -> Vec<(PartId, Place)> {
        let of = self.gauge(id).of.as_ref();
        of.map(|of| self.meant(of, &self.bound_at((id, place)))).unwrap_or_default()
    }
}
