//! Formulas of computed gauges: names resolved, dimensions checked, circles found.

use std::collections::VecDeque;

use super::errors;
use super::model::*;
use super::resolver::Resolver;
use crate::language::tree;
use crate::quantity::{Dimension, Unit};
use crate::source::Span;

const FUNCTIONS: [(&str, Function); 7] = [
    ("max", Function::Max),
    ("min", Function::Min),
    ("mean", Function::Mean),
    ("sum", Function::Sum),
    ("spread", Function::Spread),
    ("out_of_round", Function::OutOfRound),
    ("taper", Function::Taper),
];

impl Resolver {
    /// A formula with its names resolved; none if any part of it can't be.
    pub(super) fn formula(&mut self, formula: &tree::Formula) -> Option<Formula> {
        match formula {
            tree::Formula::Amount(amount) => match self.measure(amount)? {
                Measure::Amount(quantity) => Some(Formula::Amount(quantity)),
                Measure::Count(number) => Some(Formula::Count(number.value())),
            },
            tree::Formula::Reading(reference) => self.target(reference).map(Formula::Reading),
            tree::Formula::Operation { operator, left, right } => {
                let left = self.formula(left);
                let right = self.formula(right);
                let operator = match operator.value {
                    '+' => Operator::Add,
                    '-' => Operator::Subtract,
                    '*' => Operator::Multiply,
                    _ => Operator::Divide,
                };
                Some(Formula::Operation { operator, left: Box::new(left?), right: Box::new(right?) })
            }
            tree::Formula::Call { name, arguments } => {
                let function = self.word(name, "a function", &FUNCTIONS);
                let arguments: Vec<Option<Formula>> =
                    arguments.iter().map(|argument| self.formula(argument)).collect();
                let arguments = arguments.into_iter().collect::<Option<Vec<Formula>>>()?;
                Some(Formula::Call { function: function?, arguments })
            }
        }
    }

    /// Works out the dimension of every computed gauge, each after those it needs, and complains of circles.
    pub(super) fn formula_dimensions(&mut self) {
        let count = self.procedure.gauges.len();
        let needs: Vec<Vec<GaugeId>> = self.procedure.gauges.iter().map(readings_of).collect();
        let mut users: Vec<Vec<usize>> = vec![Vec::new(); count];
        let mut open: Vec<usize> = needs.iter().map(Vec::len).collect();
        for (user, needed) in needs.iter().enumerate() {
            for gauge in needed {
                users[gauge.index()].push(user);
            }
        }
        let mut ready: VecDeque<usize> = (0..count).filter(|gauge| open[*gauge] == 0).collect();
        while let Some(gauge) = ready.pop_front() {
            self.formula_dimension(GaugeId::of(gauge));
            for user in &users[gauge] {
                open[*user] -= 1;
                if open[*user] == 0 {
                    ready.push_back(*user);
                }
            }
        }
        self.circles(&needs, &open);
    }

    /// Complains once of each circle among gauges that never became ready.
    fn circles(&mut self, needs: &[Vec<GaugeId>], open: &[usize]) {
        let mut walked: Vec<usize> = vec![0; needs.len()];
        for start in 0..needs.len() {
            let mut path = Vec::new();
            let mut here = start;
            while open[here] > 0 && walked[here] == 0 {
                walked[here] = start + 1;
                path.push(here);
                let stuck = needs[here].iter().find(|needed| open[needed.index()] > 0);
                let Some(next) = stuck else { break };
                here = next.index();
            }
            if let Some(entry) = path.iter().position(|gauge| *gauge == here && open[here] > 0) {
                let names: Vec<String> = path[entry..]
                    .iter()
                    .map(|gauge| self.procedure.gauge(GaugeId::of(*gauge)).naming.id.clone())
                    .collect();
                let first = self.procedure.gauge(GaugeId::of(path[entry]));
                let at = first.formula.as_ref().map(|(_, span)| *span);
                if let Some(at) = at {
                    self.complain(errors::formula_circle(at, &names));
                }
            }
        }
    }

    /// The dimension of one gauge, once those it needs are known.
    pub(super) fn formula_dimension(&mut self, id: GaugeId) {
        let Some((formula, span)) = self.procedure.gauges[id].formula.clone() else {
            let gauge = &mut self.procedure.gauges[id];
            let apart = |unit: &'static Unit| unit.dimension == Dimension::TEMPERATURE && !unit.is_scale();
            gauge.difference = gauge.unit.is_some_and(apart);
            return;
        };
        let Some(Gives { dimension: found, point }) = self.gives(&formula, span) else { return };
        let found = measured(found);
        let gauge = &mut self.procedure.gauges[id];
        gauge.difference = found == Dimension::TEMPERATURE && !point;
        match gauge.unit {
            None => gauge.dimension = Some(found),
            Some(unit) if unit.dimension != found => {
                let message =
                    format!("the formula gives {}, and the gauge is in `{}`", found.name(), unit.symbol);
                let help = format!(
                    "correct the formula, or the unit: `{}` measures {}",
                    unit.symbol,
                    unit.dimension.name()
                );
                self.complain(errors::formula_dimension(span, &message, &help));
            }
            Some(_) => {}
        }
    }

    /// What a formula gives; none if that isn't known or was complained of.
    fn gives(&mut self, formula: &Formula, span: Span) -> Option<Gives> {
        match formula {
            Formula::Amount(quantity) => {
                Some(Gives { dimension: reckoned(quantity.dimension()), point: quantity.unit().is_scale() })
            }
            Formula::Count(_) => Some(Gives { dimension: Dimension::RATIO, point: false }),
            Formula::Reading(target) => {
                let gauge = self.procedure.gauge(target.id);
                let dimension = reckoned(gauge.dimension?);
                Some(Gives { dimension, point: dimension == Dimension::TEMPERATURE && !gauge.difference })
            }
            Formula::Operation { operator, left, right } => {
                let left = self.gives(left, span);
                let right = self.gives(right, span);
                let (left, right) = (left?, right?);
                let dimension = match operator {
                    Operator::Multiply => left.dimension * right.dimension,
                    Operator::Divide => left.dimension / right.dimension,
                    Operator::Add | Operator::Subtract => {
                        self.alike(left.dimension, right.dimension, span)?
                    }
                };
                let point = match (operator, left.point, right.point) {
                    (_, false, false) | (Operator::Subtract, true, true) => false,
                    (Operator::Add, true, false) | (Operator::Add, false, true) => true,
                    (Operator::Subtract, true, false) => true,
                    _ => {
                        self.complain(errors::points_combined(span, *operator));
                        return None;
                    }
                };
                Some(Gives { dimension, point })
            }
            Formula::Call { function, arguments } => {
                let given: Vec<Option<Gives>> =
                    arguments.iter().map(|argument| self.gives(argument, span)).collect();
                let given = given.into_iter().collect::<Option<Vec<Gives>>>()?;
                let first = *given.first()?;
                for next in &given {
                    self.alike(first.dimension, next.dimension, span)?;
                }
                let mixed = given.iter().any(|next| next.point != first.point);
                if mixed || first.point && *function == Function::Sum {
                    self.complain(errors::points_combined(span, Operator::Add));
                    return None;
                }
                Some(Gives { point: first.point && !function.of_differences(), ..first })
            }
        }
    }

    fn alike(&mut self, left: Dimension, right: Dimension, span: Span) -> Option<Dimension> {
        if left != right {
            let message = format!(
                "{} and {} can't be added, subtracted or compared",
                measured(left).name(),
                measured(right).name()
            );
            self.complain(errors::formula_dimension(
                span,
                &message,
                "combine readings that measure the same",
            ));
            return None;
        }
        Some(left)
    }
}

/// As a formula reckons with it: a torque is a pull times its radius, in whatever order factors stand.
fn reckoned(dimension: Dimension) -> Dimension {
    if dimension == Dimension::TORQUE { Dimension::FORCE * Dimension::LENGTH } else { dimension }
}

/// What a formula's value measures: work, which is a force times a way as well, is measured at no bench.
fn measured(dimension: Dimension) -> Dimension {
    if dimension == Dimension::FORCE * Dimension::LENGTH { Dimension::TORQUE } else { dimension }
}

/// What a formula gives.
#[derive(Clone, Copy)]
struct Gives {
    dimension: Dimension,
    /// Whether it is a point on a scale that doesn't begin at nothing, not how far two points lie apart.
    point: bool,
}

/// The gauges that a formula reads, each once.
fn readings_of(gauge: &Gauge) -> Vec<GaugeId> {
    let mut found = Vec::new();
    let mut waiting: Vec<&Formula> = gauge.formula.iter().map(|(formula, _)| formula).collect();
    while let Some(formula) = waiting.pop() {
        match formula {
            Formula::Amount(_) | Formula::Count(_) => {}
            Formula::Reading(target) => found.push(target.id),
            Formula::Operation { left, right, .. } => waiting.extend([left.as_ref(), right.as_ref()]),
            Formula::Call { arguments, .. } => waiting.extend(arguments),
        }
    }
    found.sort_unstable();
    found.dedup();
    found
}
