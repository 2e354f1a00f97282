//! Numbers as written to quantities of the dimension that is wanted.

use super::errors;
use super::model::Measure;
use super::resolver::Resolver;
use crate::language::tree::{Amount, AmountRange, Word};
use crate::quantity::{Dimension, Numeral, Quantity, Unit};

/// No engine has more of one thing. Our own line, no source.
const MOST: u32 = 10_000;
/// Nothing at a bench takes longer, in seconds: a year. Our own line, no source.
const LONGEST: f64 = 366.0 * 86_400.0;

impl Resolver {
    fn numeral(&mut self, amount: &Amount) -> Option<Numeral> {
        let numeral = Numeral::parse(&amount.digits);
        if numeral.is_none() {
            self.complain(errors::not_a_number(amount));
        }
        numeral
    }

    /// The unit written, which must exist.
    fn unit(&mut self, word: &Word, expected: Option<Dimension>) -> Option<&'static Unit> {
        let unit = Unit::find(&word.value);
        if unit.is_none() {
            self.complain(errors::unknown_unit(word, expected));
        }
        unit
    }

    /// A unit that stands alone, such as in `unit mm`.
    pub(super) fn lone_unit(&mut self, word: &Word) -> Option<&'static Unit> {
        self.unit(word, None)
    }

    /// A quantity of any dimension.
    pub(super) fn any_quantity(&mut self, amount: &Amount) -> Option<Quantity> {
        self.read(amount, None)
    }

    fn read(&mut self, amount: &Amount, expected: Option<Dimension>) -> Option<Quantity> {
        let Some(word) = &amount.unit else {
            self.complain_of_end(amount.span, errors::no_unit(amount, expected));
            return None;
        };
        let unit = self.unit(word, expected)?;
        match Quantity::new(self.numeral(amount)?, unit).warm_enough() {
            Ok(quantity) => Some(quantity),
            Err(error) => {
                self.complain(errors::too_cold(amount, &error));
                None
            }
        }
    }

    /// A quantity of this dimension.
    pub(super) fn quantity(&mut self, amount: &Amount, expected: Dimension) -> Option<Quantity> {
        match self.read(amount, Some(expected))?.expect_dimension(expected) {
            Ok(quantity) => Some(quantity),
            Err(error) => {
                self.complain(errors::wrong_dimension(amount, error));
                None
            }
        }
    }

    /// A quantity of this dimension that is more than nothing.
    pub(super) fn positive(&mut self, amount: &Amount, expected: Dimension) -> Option<Quantity> {
        let quantity = self.quantity(amount, expected)?;
        if quantity.numeral().value() <= 0.0 {
            self.complain(errors::not_positive(amount));
            return None;
        }
        if expected == Dimension::DURATION && quantity.base() > LONGEST {
            self.complain(errors::too_long_a_time(amount));
            return None;
        }
        Some(quantity)
    }

    /// Both ends of a range; a unit behind the upper end counts for the lower as well.
    fn ends(range: &AmountRange) -> (Amount, Option<&Amount>) {
        let mut low = range.low.clone();
        if let (None, Some(high)) = (&low.unit, &range.high) {
            low.unit.clone_from(&high.unit);
        }
        (low, range.high.as_ref())
    }

    /// Whether a range runs upwards; complains if not.
    fn runs_up(&mut self, range: &AmountRange, low: f64, high: f64) -> bool {
        if let (true, Some(end)) = (low > high, &range.high) {
            self.complain(errors::range_reversed(range, end));
        }
        low <= high
    }

    /// A quantity or a range of them, read by `read`.
    fn range_by(
        &mut self,
        range: &AmountRange,
        mut read: impl FnMut(&mut Self, &Amount) -> Option<Quantity>,
    ) -> Option<(Quantity, Option<Quantity>)> {
        let (low, high) = Self::ends(range);
        let first = read(self, &low);
        // An upper end without unit is a fault of its own only if the lower end has one.
        let second = match high {
            Some(high) if high.unit.is_some() || low.unit.is_some() => Some(read(self, high)),
            Some(_) => Some(None),
            None => None,
        };
        match (first?, second) {
            (low, None) => Some((low, None)),
            (low, Some(high)) => {
                let high = high?;
                self.runs_up(range, low.base(), high.base()).then_some((low, Some(high)))
            }
        }
    }

    /// A quantity of this dimension, or a range.
    pub(super) fn range(
        &mut self,
        range: &AmountRange,
        expected: Dimension,
    ) -> Option<(Quantity, Option<Quantity>)> {
        self.range_by(range, |resolver, amount| resolver.quantity(amount, expected))
    }

    /// A range with both ends; a lone quantity is a complaint of its own elsewhere, and here both ends at once.
    pub(super) fn full_range(
        &mut self,
        range: &AmountRange,
        expected: Dimension,
    ) -> Option<(Quantity, Quantity)> {
        let (low, high) = self.range(range, expected)?;
        Some((low, high.unwrap_or(low)))
    }

    /// A torque or an angle, or a range of either.
    pub(super) fn torque_or_angle(&mut self, range: &AmountRange) -> Option<(Quantity, Option<Quantity>)> {
        let mut dimension = None;
        self.range_by(range, |resolver, amount| {
            if amount.unit.is_none() {
                resolver.complain_of_end(amount.span, errors::no_unit(amount, Some(Dimension::TORQUE)));
                return None;
            }
            let quantity = resolver.any_quantity(amount)?;
            let found = quantity.dimension();
            if found != Dimension::TORQUE && found != Dimension::ANGLE {
                resolver.complain(errors::torque_or_angle(amount, quantity));
                return None;
            }
            // The second end is held against the first.
            let expected = *dimension.get_or_insert(found);
            resolver.positive(amount, expected)
        })
    }

    /// A whole number of at least one.
    pub(super) fn count(&mut self, amount: &Amount, what: &str) -> Option<u32> {
        let whole = amount.value >= 1.0 && amount.value.fract() == 0.0 && amount.value <= f64::from(u32::MAX);
        if amount.unit.is_some() || !whole || amount.digits.contains('/') {
            self.complain(errors::not_a_count(amount, what));
            return None;
        }
        if amount.value > f64::from(MOST) {
            self.complain(errors::too_large_a_count(amount, what, MOST));
            return None;
        }
        amount.digits.parse().ok()
    }

    /// A bare number or a quantity of any dimension.
    pub(super) fn measure(&mut self, amount: &Amount) -> Option<Measure> {
        if amount.unit.is_some() {
            self.any_quantity(amount).map(Measure::Amount)
        } else {
            self.numeral(amount).map(Measure::Count)
        }
    }

    /// How much of a supply: a number of pieces, a volume, a mass, a length or an area.
    pub(super) fn supplied(&mut self, amount: &Amount) -> Option<Measure> {
        let measure = self.measure(amount)?;
        if let Measure::Amount(quantity) = measure {
            let kinds = [Dimension::VOLUME, Dimension::MASS, Dimension::LENGTH, Dimension::AREA];
            if !kinds.contains(&quantity.dimension()) {
                self.complain(errors::not_an_amount(amount, quantity));
                return None;
            }
        }
        Some(measure)
    }

    /// A bare number or a quantity, or a range.
    pub(super) fn measure_range(&mut self, range: &AmountRange) -> Option<(Measure, Option<Measure>)> {
        let (low, high) = Self::ends(range);
        let low_measure = self.measure(&low);
        let high_measure = high.map(|high| match (&low_measure, &high.unit) {
            (Some(Measure::Amount(quantity)), _) => {
                self.quantity(high, quantity.dimension()).map(Measure::Amount)
            }
            _ => self.measure(high),
        });
        let value = |measure: Measure| match measure {
            Measure::Count(number) => number.value(),
            Measure::Amount(quantity) => quantity.base(),
        };
        match (low_measure?, high_measure) {
            (low, None) => Some((low, None)),
            (low, Some(high)) => {
                let high = high?;
                self.runs_up(range, value(low), value(high)).then_some((low, Some(high)))
            }
        }
    }

    /// A coefficient of friction, or a range: bare numbers above nothing.
    pub(super) fn friction(&mut self, range: &AmountRange) -> Option<(f64, f64)> {
        let high = range.high.as_ref().unwrap_or(&range.low);
        for amount in [&range.low, high] {
            if let Some(unit) = &amount.unit {
                self.complain(errors::friction_unit(unit));
                return None;
            }
            if amount.value <= 0.0 {
                self.complain(errors::not_positive(amount));
                return None;
            }
        }
        self.runs_up(range, range.low.value, high.value).then_some((range.low.value, high.value))
    }
}
