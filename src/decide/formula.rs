//! Values computed from readings: a formula to its value, and to how it is written with figures. It must not know
//! what a value means for a part.

use std::cell::RefCell;
use std::collections::BTreeMap;

use super::Why;
use super::book::Book;
use crate::english::inner;
use crate::metrology::{Grid, Measured};
use crate::procedure::model::{Binding, Formula, Function, GaugeId, Operator, Place};
use crate::record::Occasion;

/// A value on the way through a formula: itself, and how it is written with figures.
pub(super) struct Term {
    pub(super) values: Vec<Measured>,
    pub(super) figures: String,
}

/// What a gauge gave, or why it gave nothing.
type Read = Result<Vec<Measured>, Why>;

/// Values as things stood on one occasion: each gauge is worked out once, however many formulas use it.
pub(super) struct Reckoning {
    occasion: Occasion,
    known: RefCell<BTreeMap<(GaugeId, Place), Read>>,
}

impl Reckoning {
    pub(super) fn new(occasion: Occasion) -> Self {
        Reckoning { occasion, known: RefCell::default() }
    }
}

impl Book<'_> {
    /// The value of a formula where the axes in `bound` stand at one position.
    pub(super) fn term(
        &self,
        formula: &Formula,
        bound: &Binding,
        reckoning: &Reckoning,
    ) -> Result<Term, Why> {
        let inner = |formula: &Formula| self.term(formula, bound, reckoning);
        match formula {
            Formula::Amount(quantity) => {
                Ok(Term { values: vec![Measured::exact(quantity.base())], figures: quantity.printed() })
            }
            Formula::Count(count) => {
                Ok(Term { values: vec![Measured::exact(*count)], figures: count.to_string() })
            }
            Formula::Reading(target) => {
                let mut values = Vec::new();
                for (_, place) in self.procedure.meant(target, bound) {
                    values.extend(self.reading(target.id, place, reckoning)?);
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
            Formula::Call { function, arguments } => self.call(*function, arguments, bound, reckoning),
        }
    }

    /// Everything read or computed for a gauge at one place.
    fn reading(&self, id: GaugeId, place: Place, reckoning: &Reckoning) -> Result<Vec<Measured>, Why> {
        if let Some(known) = reckoning.known.borrow().get(&(id, place)) {
            return known.clone();
        }
        // What is asked for its own value on the way to it has none.
        reckoning.known.borrow_mut().insert((id, place), Err(Why::Undefined));
        let gauge = self.procedure.gauge(id);
        let found = match &gauge.formula {
            Some((formula, _)) => {
                let bound = self.procedure.bound(&gauge.axes, place);
                self.term(formula, &bound, reckoning).map(|term| term.values)
            }
            None => self.counted(id, place, reckoning).map(Grid::values),
        };
        reckoning.known.borrow_mut().insert((id, place), found.clone());
        found
    }

    /// The readings of a gauge that count.
    fn counted(&self, id: GaugeId, place: Place, reckoning: &Reckoning) -> Result<&Grid, Why> {
        let counting = self.counting(id, place, reckoning.occasion)?;
        self.grid(id, place, counting)
    }

    fn call(
        &self,
        function: Function,
        arguments: &[Formula],
        bound: &Binding,
        reckoning: &Reckoning,
    ) -> Result<Term, Why> {
        if let (Function::OutOfRound | Function::Taper, [Formula::Reading(target)]) = (function, arguments) {
            let mut values = Vec::new();
            for (_, place) in self.procedure.meant(target, bound) {
                let grid = self.counted(target.id, place, reckoning)?;
                let value = if function == Function::Taper { grid.taper() } else { grid.out_of_round() };
                values.push(value.ok_or(Why::Undefined)?);
            }
            let worst = Measured::max(&values).ok_or(Why::Undefined)?;
            return Ok(Term { figures: self.figures(target.id, &[worst]), values: vec![worst] });
        }
        let mut values = Vec::new();
        let mut unit = None;
        for argument in arguments {
            values.extend(self.term(argument, bound, reckoning)?.values);
            unit = unit.or_else(|| argument.readings().first().map(|target| target.id));
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
