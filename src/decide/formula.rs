//! Values computed from readings: a formula to its value, and to how it is written with figures. It must not know
//! what a value means for a part.

use super::Why;
use super::values::{Book, DEEPEST, Superseded, places};
use crate::metrology::{Grid, Measured};
use crate::procedure::model::{Binding, Formula, Function, GaugeId, Operator, Place, Target};
use crate::procedure::titles::inner;
use crate::record::Occasion;

/// A value on the way through a formula: itself, and how it is written with figures.
pub(super) struct Term {
    pub(super) values: Vec<Measured>,
    pub(super) figures: String,
}

impl Book<'_> {
    /// The value of a formula where the axes in `bound` stand at one position.
    pub(super) fn term(
        &self,
        formula: &Formula,
        bound: &Binding,
        occasion: Occasion,
        superseded: Superseded,
        depth: usize,
    ) -> Result<Term, Why> {
        let inner = |formula: &Formula| self.term(formula, bound, occasion, superseded, depth);
        match formula {
            Formula::Amount(quantity) => {
                Ok(Term { values: vec![Measured::exact(quantity.base())], figures: quantity.printed() })
            }
            Formula::Count(count) => {
                Ok(Term { values: vec![Measured::exact(*count)], figures: count.to_string() })
            }
            Formula::Reading(target) => {
                let mut values = Vec::new();
                for place in places(self.procedure, target, bound) {
                    values.extend(self.reading(target.id, place, occasion, superseded, depth)?);
                }
                Ok(Term { figures: self.figures(target.id, &values), values })
            }
            Formula::Operation { operator, left, right } => {
                let (left, right) = (inner(left)?, inner(right)?);
                let figures = format!("{} {} {}", left.figures, sign(*operator), right.figures);
                let (Some(a), Some(b)) = (together(&left.values), together(&right.values)) else {
                    return Err(Why::Undefined);
                };
                let value = match operator {
                    Operator::Add => a + b,
                    Operator::Subtract => a - b,
                    Operator::Multiply => a * b,
                    Operator::Divide => a.over(b).ok_or(Why::Undefined)?,
                };
                Ok(Term { values: vec![value], figures })
            }
            Formula::Call { function, arguments } => {
                self.call(*function, arguments, bound, occasion, superseded, depth)
            }
        }
    }

    /// Everything read or computed for a gauge at one place.
    fn reading(
        &self,
        id: GaugeId,
        place: Place,
        occasion: Occasion,
        superseded: Superseded,
        depth: usize,
    ) -> Result<Vec<Measured>, Why> {
        let gauge = self.procedure.gauge(id);
        match &gauge.formula {
            Some(_) if depth >= DEEPEST => Err(Why::Undefined),
            Some((formula, _)) => {
                let bound = self.procedure.bound(&gauge.axes, place);
                self.term(formula, &bound, occasion, superseded, depth + 1).map(|term| term.values)
            }
            None => {
                let counting = self.counting(id, place, occasion, superseded)?;
                self.grid(id, place, counting).map(Grid::values)
            }
        }
    }

    fn call(
        &self,
        function: Function,
        arguments: &[Formula],
        bound: &Binding,
        occasion: Occasion,
        superseded: Superseded,
        depth: usize,
    ) -> Result<Term, Why> {
        if let (Function::OutOfRound | Function::Taper, [Formula::Reading(target)]) = (function, arguments) {
            let mut values = Vec::new();
            for place in places(self.procedure, target, bound) {
                let counting = self.counting(target.id, place, occasion, superseded)?;
                let grid = self.grid(target.id, place, counting)?;
                let value = if function == Function::Taper { grid.taper() } else { grid.out_of_round() };
                values.push(value.ok_or(Why::Undefined)?);
            }
            let worst = Measured::max(&values).ok_or(Why::Undefined)?;
            return Ok(Term { figures: self.figures(target.id, &[worst]), values: vec![worst] });
        }
        let mut values = Vec::new();
        let mut unit = None;
        for argument in arguments {
            values.extend(self.term(argument, bound, occasion, superseded, depth)?.values);
            for_each_reading(argument, &mut |target| unit = unit.or(Some(target.id)));
        }
        let value = match function {
            Function::Max => Measured::max(&values),
            Function::Min => Measured::min(&values),
            Function::Mean => Measured::mean(&values),
            Function::Sum => Measured::sum(&values),
            // Stations and directions only a single gauge has; over anything else both are the whole spread.
            Function::Spread | Function::OutOfRound | Function::Taper => Measured::spread(&values),
        };
        let value = value.ok_or(Why::Undefined)?;
        let figures = match unit {
            Some(gauge) => self.figures(gauge, &[value]),
            None => self.written(&Formula::Call { function, arguments: arguments.to_vec() }),
        };
        Ok(Term { values: vec![value], figures })
    }

    /// A formula as the procedure writes it.
    pub(super) fn written(&self, formula: &Formula) -> String {
        match formula {
            Formula::Amount(quantity) => quantity.printed(),
            Formula::Count(count) => count.to_string(),
            Formula::Reading(target) => inner(&self.procedure.gauge(target.id).naming.title),
            Formula::Operation { operator, left, right } => {
                let side = |side: &Formula, tight: bool| {
                    let loose = matches!(
                        side,
                        Formula::Operation { operator: Operator::Add | Operator::Subtract, .. }
                    );
                    let text = self.written(side);
                    if tight && loose { format!("({text})") } else { text }
                };
                let product = matches!(operator, Operator::Multiply | Operator::Divide);
                let right_tight = product || *operator == Operator::Subtract;
                format!("{} {} {}", side(left, product), sign(*operator), side(right, right_tight))
            }
            Formula::Call { function, arguments } => {
                let arguments: Vec<String> =
                    arguments.iter().map(|argument| self.written(argument)).collect();
                format!("{}({})", word(*function), arguments.join(", "))
            }
        }
    }
}

/// From the least to the largest of several values, around their mean.
pub(super) fn together(values: &[Measured]) -> Option<Measured> {
    Some(Measured {
        low: Measured::min(values)?.low,
        value: Measured::mean(values)?.value,
        high: Measured::max(values)?.high,
    })
}

fn sign(operator: Operator) -> &'static str {
    match operator {
        Operator::Add => "+",
        Operator::Subtract => "−",
        Operator::Multiply => "×",
        Operator::Divide => "÷",
    }
}

fn word(function: Function) -> &'static str {
    match function {
        Function::Max => "max",
        Function::Min => "min",
        Function::Mean => "mean",
        Function::Sum => "sum",
        Function::Spread => "spread",
        Function::OutOfRound => "out_of_round",
        Function::Taper => "taper",
    }
}

/// Every reading that a formula names.
pub(super) fn for_each_reading(formula: &Formula, found: &mut dyn FnMut(&Target<GaugeId>)) {
    match formula {
        Formula::Amount(_) | Formula::Count(_) => {}
        Formula::Reading(target) => found(target),
        Formula::Operation { left, right, .. } => {
            for_each_reading(left, found);
            for_each_reading(right, found);
        }
        Formula::Call { arguments, .. } => {
            arguments.iter().for_each(|argument| for_each_reading(argument, found));
        }
    }
}
