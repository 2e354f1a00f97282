//! Values computed from readings: a formula to its value, and to how it is written with figures. It must not know
//! what a value means for a part.

use std::cell::RefCell;
use std::collections::BTreeMap;

use super::Why;
use super::book::Book;
use super::traced::{Traced, Witness};
use crate::english::inner;
use crate::metrology::{Grid, Measured, Spot};
use crate::procedure::model::{Binding, Formula, Function, GaugeId, Operator, Place};
use crate::record::Occasion;

/// A value on the way through a formula: itself, and how it is written with figures. Of several readings, it has those
/// that reach furthest.
pub(super) struct Term {
    pub(super) values: Vec<Traced>,
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
type Read = Result<Vec<Traced>, Why>;

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
            Formula::Amount(quantity) => Ok(Term::exactly(quantity.base(), quantity.printed())),
            Formula::Count(count) => Ok(Term::exactly(*count, count.to_string())),
            Formula::Reading(target) => {
                let mut values = Vec::new();
                let places = self.procedure.meant(target, bound);
                for (_, place) in &places {
                    let mut read = self.reading(target.id, *place, reckoning)?;
                    for witness in read.iter_mut().flat_map(|value| &mut value.by) {
                        witness.of_several |= places.len() > 1;
                    }
                    values.extend(read);
                }
                let figures = self.figures(target.id, &Traced::bare(&values), false);
                let bond = if values.len() > 1 { Bond::Sum } else { Bond::Whole };
                Ok(Term { values, figures, bond })
            }
            Formula::Operation { operator, left, right } => {
                let (left, right) = (inner(left)?, inner(right)?);
                let figures = joined(*operator, (&left.figures, left.bond), (&right.figures, right.bond));
                let mut values = Vec::new();
                for left in Traced::extremes(&left.values) {
                    for right in Traced::extremes(&right.values) {
                        let (a, b) = (left.measured, right.measured);
                        let measured = match operator {
                            Operator::Add => a + b,
                            Operator::Subtract => a - b,
                            Operator::Multiply => a * b,
                            Operator::Divide => a.over(b).ok_or(Why::Undefined)?,
                        };
                        values.push(Traced::of_both(measured, &left, &right));
                    }
                }
                let values = Traced::extremes(&values);
                Ok(Term { values, figures, bond: bond(*operator) })
            }
            Formula::Call { function, arguments } => self.call(*function, arguments, bound, reckoning),
        }
    }

    /// Everything read or computed for a gauge at one place.
    fn reading(&self, id: GaugeId, place: Place, reckoning: &Reckoning) -> Read {
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
                let off = if reckoning.from_standard {
                    self.off_standard((id, place), reckoning.occasion)
                } else {
                    0.0
                };
                let several = grid.values().len() > 1;
                let traced = |(spot, reading): (Spot, Measured)| Traced {
                    measured: reading - Measured::exact(off),
                    by: vec![Witness {
                        at: (id, place),
                        spot: several.then_some(spot),
                        of_several: false,
                        read: reading.value,
                    }],
                };
                grid.spots().map(traced).collect()
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
            let places = self.procedure.meant(target, bound);
            for (_, place) in &places {
                let grid = self.counted(target.id, *place, reckoning)?;
                let unlike = if function == Function::Taper { grid.taper() } else { grid.out_of_round() };
                let unlike = unlike.ok_or(Why::Undefined)?;
                let of_several = places.len() > 1;
                let taken = |(spot, reading): (Spot, Measured)| Witness {
                    at: (target.id, *place),
                    spot: Some(spot),
                    of_several,
                    read: reading.value,
                };
                values.push(Traced { measured: unlike.spread, by: unlike.ends.map(taken).to_vec() });
            }
            let worst = Measured::max(&Traced::bare(&values)).ok_or(Why::Undefined)?;
            let figures = self.figures(target.id, &[worst], true);
            let by = Traced::largest(&values);
            return Ok(Term::whole(vec![Traced { measured: worst, by }], figures));
        }
        let mut values = Vec::new();
        let mut unit = None;
        for argument in arguments {
            values.extend(self.term(argument, bound, reckoning)?.values);
            unit = unit.or_else(|| argument.readings().first().map(|target| target.id));
        }
        let bare = Traced::bare(&values);
        let (value, by) = match function {
            Function::Max => (Measured::max(&bare), Traced::largest(&values)),
            Function::Min => (Measured::min(&bare), Traced::smallest(&values)),
            Function::Mean => (Measured::mean(&bare), Vec::new()),
            Function::Sum => (Measured::sum(&bare), Vec::new()),
            // Stations and directions only a single gauge has; over anything else both are the whole spread.
            Function::Spread | Function::OutOfRound | Function::Taper => {
                (Measured::spread(&bare), Traced::furthest_apart(&values))
            }
        };
        let value = value.ok_or(Why::Undefined)?;
        let differs = function.of_differences();
        let figures = match unit {
            Some(gauge) => self.figures(gauge, &[value], differs),
            None => self.written(&Formula::Call { function, arguments: arguments.to_vec() }),
        };
        Ok(Term::whole(vec![Traced { measured: value, by }], figures))
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
    fn whole(values: Vec<Traced>, figures: String) -> Self {
        Term { values, figures, bond: Bond::Whole }
    }

    fn exactly(value: f64, figures: String) -> Self {
        Term::whole(vec![Traced { measured: Measured::exact(value), by: Vec::new() }], figures)
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
