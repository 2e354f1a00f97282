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

/// A value on the way through a formula: itself, and how it is written with figures. Of several readings, it has those
/// that reach furthest.
pub(super) struct Term {
    pub(super) values: Vec<Measured>,
    pub(super) figures: String,
    bond: Bond,
}

/// What holds the parts of a written formula together, from firm to loose.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Bond {
    /// One figure, name or call.
    Whole,
    /// A product or quotient.
    Product,
    /// A sum, a difference, or a range of figures.
    Sum,
}

/// What a gauge gave, or why it gave nothing.
type Read = Result<Vec<Measured>, Why>;

/// Values as things stood on one occasion: each gauge is worked out once, however many formulas use it.
pub(super) struct Reckoning {
    occasion: Occasion,
    /// Whether sizes are counted from what they are now, so that they stand to a stated one as they would as standard.
    from_standard: bool,
    known: RefCell<BTreeMap<(GaugeId, Place), Read>>,
}

impl Reckoning {
    pub(super) fn new(occasion: Occasion, from_standard: bool) -> Self {
        Reckoning { occasion, from_standard, known: RefCell::default() }
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
                Ok(Term::whole(vec![Measured::exact(quantity.base())], quantity.printed()))
            }
            Formula::Count(count) => Ok(Term::whole(vec![Measured::exact(*count)], count.to_string())),
            Formula::Reading(target) => {
                let mut values = Vec::new();
                for (_, place) in self.procedure.meant(target, bound) {
                    values.extend(self.reading(target.id, place, reckoning)?);
                }
                let figures = self.figures(target.id, &values, false);
                let bond = if values.len() > 1 { Bond::Sum } else { Bond::Whole };
                Ok(Term { values, figures, bond })
            }
            Formula::Operation { operator, left, right } => {
                let (left, right) = (inner(left)?, inner(right)?);
                let figures = joined(*operator, (&left.figures, left.bond), (&right.figures, right.bond));
                let mut values = Vec::new();
                for a in Measured::extremes(&left.values) {
                    for b in Measured::extremes(&right.values) {
                        values.push(match operator {
                            Operator::Add => a + b,
                            Operator::Subtract => a - b,
                            Operator::Multiply => a * b,
                            Operator::Divide => a.over(b).ok_or(Why::Undefined)?,
                        });
                    }
                }
                let values = Measured::extremes(&values);
                Ok(Term { values, figures, bond: bond(*operator) })
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
            None => self.counted(id, place, reckoning).map(|grid| {
                let off = if reckoning.from_standard { self.off_standard((id, place)) } else { 0.0 };
                grid.values().into_iter().map(|reading| reading - Measured::exact(off)).collect()
            }),
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
            return Ok(Term::whole(vec![worst], self.figures(target.id, &[worst], true)));
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
        let differs = function.of_differences();
        let figures = match unit {
            Some(gauge) => self.figures(gauge, &[value], differs),
            None => self.written(&Formula::Call { function, arguments: arguments.to_vec() }),
        };
        Ok(Term::whole(vec![value], figures))
    }

    /// A formula as the procedure writes it.
    pub(super) fn written(&self, formula: &Formula) -> String {
        self.bound_words(formula).0
    }

    fn bound_words(&self, formula: &Formula) -> (String, Bond) {
        let words = match formula {
            Formula::Amount(quantity) => quantity.printed(),
            Formula::Count(count) => count.to_string(),
            Formula::Reading(target) => inner(&self.procedure.gauge(target.id).naming.title),
            Formula::Operation { operator, left, right } => {
                let (left, right) = (self.bound_words(left), self.bound_words(right));
                let words = joined(*operator, (&left.0, left.1), (&right.0, right.1));
                return (words, bond(*operator));
            }
            Formula::Call { function, arguments } => {
                let arguments: Vec<String> =
                    arguments.iter().map(|argument| self.written(argument)).collect();
                format!("{}({})", word(*function), arguments.join(", "))
            }
        };
        (words, Bond::Whole)
    }
}

impl Term {
    fn whole(values: Vec<Measured>, figures: String) -> Self {
        Term { values, figures, bond: Bond::Whole }
    }
}

fn bond(operator: Operator) -> Bond {
    match operator {
        Operator::Add | Operator::Subtract => Bond::Sum,
        Operator::Multiply | Operator::Divide => Bond::Product,
    }
}

/// Both sides of an operation with its sign, in brackets where they would be read otherwise without.
fn joined(operator: Operator, left: (&str, Bond), right: (&str, Bond)) -> String {
    let product = bond(operator) == Bond::Product;
    let loose = |bond: Bond| product && bond == Bond::Sum;
    let right_loose = loose(right.1)
        || operator == Operator::Subtract && right.1 == Bond::Sum
        || operator == Operator::Divide && right.1 == Bond::Product
        || right.0.starts_with('-');
    let side = |text: &str, loose: bool| if loose { format!("({text})") } else { text.to_owned() };
    format!("{} {} {}", side(left.0, loose(left.1)), sign(operator), side(right.0, right_loose))
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
