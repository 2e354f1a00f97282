//! One line of an answer: a name with a quantity, a range, a limit or words, as it is shown and as programs get it. How ends
//! are rounded depends on what they are: results to the nearest, limits inward, what is allowed at the most down.

use serde::Serialize;

use crate::mechanics::Band;
use crate::quantity::{
    Kind, Numeral, Quantity, Unit, counterpart, counterpart_unit, figure, range_pair, stated_figure, tells,
    twelve_digits,
};

/// A name with what belongs to it.
#[derive(Debug, Clone, Serialize)]
pub(super) struct Line {
    pub(super) name: String,
    pub(super) text: String,
    #[serde(flatten)]
    number: Option<Number>,
    pub(super) estimate: bool,
}

/// The same for programs: both ends in one unit.
#[derive(Debug, Clone, Serialize)]
struct Number {
    low: f64,
    high: f64,
    unit: &'static str,
}

impl Line {
    /// Something said in words.
    pub(super) fn words(name: &str, text: impl Into<String>) -> Line {
        Line { name: name.to_owned(), text: text.into(), number: None, estimate: false }
    }

    /// A quantity or a range as it was typed.
    pub(super) fn typed(name: &str, low: Quantity, high: Quantity) -> Line {
        let text = if low == high {
            beside(low.printed(), counterpart(low).map(Quantity::printed))
        } else {
            range_pair(low, high).to_string()
        };
        Line { number: Some(number(low.base(), high.base(), low.unit())), ..Line::words(name, text) }
    }

    /// A quantity as it was typed, and not in the other system: the results say it more exactly.
    pub(super) fn alone(name: &str, typed: Quantity) -> Line {
        let base = typed.base();
        Line { number: Some(number(base, base, typed.unit())), ..Line::words(name, typed.printed()) }
    }

    /// A result to so many digits, in `unit` and in the other system.
    pub(super) fn result<K: Kind>(name: &str, band: Band<K>, unit: &str, digits: u8) -> Line {
        Line::against(name, band, unit, digits, &[])
    }

    /// The same, and to as many more digits as it takes so that neither end is shown on one of `limits`, or beyond it, that
    /// it is not on or beyond.
    pub(super) fn against<K: Kind>(name: &str, band: Band<K>, unit: &str, digits: u8, limits: &[K]) -> Line {
        let unit = Unit::for_results(unit).expect("a unit of the table");
        debug_assert!(unit.dimension == K::MEASURES);
        let (low, high) = (band.low.in_base(), band.high.in_base());
        let telling = |places: i8, unit: &'static Unit, own: bool| {
            let limits: Vec<f64> = limits.iter().map(|limit| unit.number_for(limit.in_base())).collect();
            let Ok(fewest) = u8::try_from(places) else { return places };
            let end = |base: f64| {
                let number = unit.number_for(base);
                // What lies on a limit is rounded with it where neither is a whole number of steps.
                let off = |limit: &&f64| own || (number - **limit).abs() > 1e-9 * number.abs();
                let limits: Vec<f64> = limits.iter().filter(off).copied().collect();
                tells(number, fewest, &limits)
            };
            i8::try_from(end(low).max(end(high))).unwrap_or(places)
        };
        let places = places(low, high, unit, digits);
        let shown = Quantity::from_base(high, unit, 0);
        let other = counterpart_unit(shown).map(|other| {
            let fine = unit.symbol == "um" || (unit.symbol == "mm" && places == FINEST_MM);
            let places = if fine && other.symbol == "in" {
                FINEST_INCH
            } else {
                self::places(low, high, other, digits)
            };
            range(low, high, other, telling(places, other, false))
        });
        let text = beside(range(low, high, unit, telling(places, unit, true)), other);
        Line { number: Some(number(low, high, unit)), ..Line::words(name, text) }
    }

    /// Limits of a table: exact in their own unit, and in the other system rounded inward, so that no printed limit is
    /// wider than the exact one.
    pub(super) fn limits<K: Kind>(name: &str, band: Band<K>, unit: &str) -> Line {
        let toward = if band.is_exact() { Toward::Nearest } else { Toward::Inward };
        Line::toward(name, band, unit, None, toward)
    }

    /// Ends between which something is chosen or worked, to so many digits: rounded inward, in both systems.
    pub(super) fn within<K: Kind>(name: &str, band: Band<K>, unit: &str, digits: u8) -> Line {
        let toward = if band.is_exact() { Toward::Nearest } else { Toward::Inward };
        Line::toward(name, band, unit, Some(digits), toward)
    }

    /// The one end of a table's limit, exact in its own unit, and in the other system rounded down.
    pub(super) fn limit<K: Kind>(name: &str, most: K, unit: &str) -> Line {
        Line::toward(name, Band::exactly(most), unit, None, Toward::Down)
    }

    /// The most that is allowed, to so many digits: rounded down, in both systems.
    pub(super) fn at_most<K: Kind>(name: &str, band: Band<K>, unit: &str, digits: u8) -> Line {
        Line::toward(name, band, unit, Some(digits), Toward::Down)
    }

    /// The most that is allowed, and to as many more digits as it takes so that `held`, where it is allowed, is never shown
    /// beyond it.
    pub(super) fn at_most_for<K: Kind>(name: &str, most: K, unit: &str, digits: u8, held: K) -> Line {
        Line::toward(name, Band::exactly(most), unit, Some(digits), Toward::DownTo(held.in_base()))
    }

    fn toward<K: Kind>(name: &str, band: Band<K>, unit: &str, digits: Option<u8>, toward: Toward) -> Line {
        let unit = Unit::for_results(unit).expect("a unit of the table");
        let (low, high) = (band.low.in_base(), band.high.in_base());
        let shown = |unit: &'static Unit| {
            let places = match digits {
                None => exact_places(low, high, unit),
                Some(digits) => places(low, high, unit, digits).max(0),
            };
            let places = u8::try_from(places).unwrap_or_default();
            let end = |base: f64, places: u8, up: bool| {
                Quantity::new(moved(unit.number_for(base), places, up), unit)
            };
            match toward {
                Toward::Nearest => Quantity::from_base(high, unit, places).printed(),
                Toward::Down => joined(end(low, places, false), end(high, places, false)),
                Toward::DownTo(held) => {
                    let tells = |places: &u8| held > high || end(high, *places, false).base() >= held;
                    let places = (places..places + MORE_PLACES).find(tells).unwrap_or(places + MORE_PLACES);
                    end(high, places, false).printed()
                }
                Toward::Inward => {
                    // Ends closer than a step would pass each other: they take finer steps.
                    let apart =
                        |places: &u8| end(low, *places, true).base() < end(high, *places, false).base();
                    let places = (places..places + MORE_PLACES).find(apart).unwrap_or(places + MORE_PLACES);
                    joined(end(low, places, true), end(high, places, false))
                }
            }
        };
        let other = counterpart_unit(Quantity::from_base(high, unit, 0)).map(shown);
        let text = beside(shown(unit), other);
        Line { number: Some(number(low, high, unit)), ..Line::words(name, text) }
    }

    /// An amount in base units, in one unit of its kind, exactly.
    pub(super) fn in_unit(unit: &'static Unit, base: f64) -> Line {
        // Six digits, or as many more as it takes to be exact: an inch is 25.4 mm, and a thou 0.0254 mm.
        let amount = unit.number_for(base);
        let exact =
            |places: &u8| (Numeral::rounded(amount, *places).value() - amount).abs() <= 1e-12 * amount.abs();
        let exact = (0..=9).find(exact).and_then(|places| i8::try_from(places).ok());
        // Here a conversion is asked for, and no size that was measured: as fine as it takes.
        let six = || {
            let before_point = if amount.abs() > NOISE { amount.abs().log10().floor() as i8 + 1 } else { 1 };
            (6 - before_point).min(9)
        };
        let text = range(base, base, unit, exact.unwrap_or_else(six));
        Line { number: Some(number(base, base, unit)), ..Line::words(unit.symbol, text) }
    }

    /// A bare number as a result: a factor, a ratio, an index.
    pub(super) fn ratio(name: &str, low: f64, high: f64, places: u8) -> Line {
        Line::bare(name, [low, high], [low, high].map(|end| figure(end, places)))
    }

    /// A bare number, or a range of such, as it was typed or assumed: with at least so many places, and as many as it takes.
    pub(super) fn stated(name: &str, low: f64, high: f64, fewest: u8) -> Line {
        Line::bare(name, [low, high], [low, high].map(|end| stated_figure(end, fewest)))
    }

    fn bare(name: &str, [low, high]: [f64; 2], [a, b]: [String; 2]) -> Line {
        let text = if a == b { a } else { format!("{a} to {b}") };
        Line {
            number: Some(Number { low: twelve_digits(low), high: twelve_digits(high), unit: "1" }),
            ..Line::words(name, text)
        }
    }

    /// Marks it as computed: an estimate.
    #[must_use]
    pub(super) fn estimated(mut self) -> Line {
        self.estimate = true;
        self
    }
}

fn number(low: f64, high: f64, unit: &'static Unit) -> Number {
    Number {
        low: twelve_digits(unit.number_for(low)),
        high: twelve_digits(unit.number_for(high)),
        unit: unit.symbol,
    }
}

/// Places that lengths are never shown beyond: a thousandth of a millimetre, a ten-thousandth of an inch.
const FINEST_MM: i8 = 3;
const FINEST_INCH: i8 = 4;
/// Nor angles: beyond a hundredth of a degree no wheel is read.
const FINEST_DEGREE: i8 = 2;

/// Numbers smaller than this are noise of the arithmetic, and shown as nothing.
const NOISE: f64 = 1e-9;

/// Places after the point with which the larger end has so many digits. Nothing is left of larger numbers' last ones:
/// see [`range`].
fn places(low: f64, high: f64, unit: &'static Unit, digits: u8) -> i8 {
    let larger = unit.number_for(low).abs().max(unit.number_for(high).abs());
    let before_point = if larger > NOISE { larger.log10().floor() as i32 + 1 } else { 1 };
    let finest = match unit.symbol {
        "mm" => FINEST_MM,
        "in" => FINEST_INCH,
        "um" => 0,
        "deg" => FINEST_DEGREE,
        _ => 9,
    };
    (i32::from(digits) - before_point).clamp(-9, i32::from(finest)) as i8
}

/// Where an end goes that isn't whole in the last place shown.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Toward {
    /// To the nearest, as for a size that limits nothing.
    Nearest,
    /// The lower end up, the upper end down.
    Inward,
    /// Both down.
    Down,
    /// Down, but not below what is allowed, in base units.
    DownTo(f64),
}

/// Fewest places that show both ends exactly, up to the finest that limits are shown to: tenths of a micrometre and
/// hundred-thousandths of an inch.
fn exact_places(low: f64, high: f64, unit: &'static Unit) -> i8 {
    let finest = match unit.symbol {
        "um" => 1,
        "mm" => 4,
        _ => 5,
    };
    let whole = |places: i8| {
        [low, high].iter().all(|end| {
            let scaled = unit.number_for(*end) * 10f64.powi(i32::from(places));
            (scaled - scaled.round()).abs() < ROUNDING
        })
    };
    (0..finest).find(|places| whole(*places)).unwrap_or(finest)
}

/// Places by which ends that lie close together may be shown more finely.
const MORE_PLACES: u8 = 3;

/// What the arithmetic itself may leave of a last place.
const ROUNDING: f64 = 1e-6;

/// A number brought to so many places by going up or down; one that is whole already stays.
fn moved(value: f64, places: u8, up: bool) -> Numeral {
    let scale = 10f64.powi(i32::from(places));
    let scaled = value * scale;
    let whole = if up { (scaled - ROUNDING).ceil() } else { (scaled + ROUNDING).floor() };
    Numeral::rounded(whole / scale, places)
}

/// Both ends with as many places; with places below nothing, as many noughts before the point.
fn range(low: f64, high: f64, unit: &'static Unit, places: i8) -> String {
    let shown = |base: f64| match u8::try_from(places) {
        Ok(places) => Quantity::from_base(base, unit, places),
        Err(_) => {
            let step = 10f64.powi(-i32::from(places));
            Quantity::new(Numeral::rounded((unit.number_for(base) / step).round() * step, 0), unit)
        }
    };
    joined(shown(low), shown(high))
}

/// Both ends with one unit; ends that print alike but once.
fn joined(low: Quantity, high: Quantity) -> String {
    if low.numeral().to_string() == high.numeral().to_string() {
        high.printed()
    } else {
        format!("{} to {}", low.numeral(), high.printed())
    }
}

fn beside(first: String, second: Option<String>) -> String {
    match second {
        Some(second) => format!("{first} ({second})"),
        None => first,
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::quantity::{Length, Mass};

    /// The numbers in a text, in order.
    fn numbers(line: &Line) -> Vec<f64> {
        let text = line.text.split(|c: char| !(c.is_ascii_digit() || ".-".contains(c)));
        text.filter_map(|word| word.parse().ok()).collect()
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(4_000))]

        /// Neither in micrometres nor in inches.
        #[test]
        fn no_printed_limit_is_wider_than_the_exact_one(low in -600.0..600.0f64, wide in 0.6..300.0f64) {
            let band = Band { low: Length::from_mm(low / 1e3), high: Length::from_mm((low + wide) / 1e3) };
            for line in [Line::limits("a limit", band, "um"), Line::within("a choice", band, "mm", 4)] {
                let found = numbers(&line);
                prop_assert_eq!(found.len() % 2, 0, "{}", line.text);
                let own: f64 = if line.text.contains("µm") { 1e3 } else { 1.0 };
                let (first, second) = found.split_at(found.len() / 2);
                for (shown, size) in [(first, own), (second, 1.0f64 / 25.4)] {
                    let (least, most) = (shown[0], shown[shown.len() - 1]);
                    // What the arithmetic may leave of the last place.
                    let slack = 2e-9 * size;
                    prop_assert!(least >= band.low.mm() * size - slack, "{}", line.text);
                    prop_assert!(most <= band.high.mm() * size + slack, "{}", line.text);
                    prop_assert!(least <= most, "{}", line.text);
                }
            }
        }

        /// What may be lifted at most is never shown as more than it is, in either system.
        #[test]
        fn the_most_is_never_rounded_up(kilograms in 0.05..200.0f64, digits in 2..5u8) {
            let most = Mass::from_kilograms(kilograms);
            let found = numbers(&Line::at_most("the most", Band::exactly(most), "kg", digits));
            prop_assert_eq!(found.len(), 2);
            prop_assert!(found[0] <= most.kilograms() + 1e-6 && found[1] <= most.pounds() + 1e-6, "{:?}", found);
            prop_assert!(found[0] > most.kilograms() * 0.89 - 0.1);
        }

        /// What may just be lifted is not shown as more than what may be.
        #[test]
        fn what_is_allowed_is_not_shown_beyond_the_most(grams in 500..200_000i32, under in 0..100i32) {
            let (most, held) = (f64::from(grams) / 1e3, f64::from(grams - under) / 1e3);
            let held = Mass::from_kilograms(held);
            let found = numbers(&Line::at_most_for("the most", Mass::from_kilograms(most), "kg", 3, held));
            prop_assert!(found[0] <= most + 1e-6 && found[0] >= held.kilograms() - 1e-6, "{:?}", found);
            prop_assert!(found[1] >= held.pounds() - 1e-3, "{:?}", found);
        }
    }
}
