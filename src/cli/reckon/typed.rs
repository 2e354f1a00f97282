//! What was typed after an option, as quantities of the kind that is wanted; and complaints that name the option and
//! the dimension.

use super::super::errors;
use super::answer::{Answer, Line};
use crate::diagnostics::{Diagnostic, Mend};
use crate::mechanics::heat::{self, Expansion, METALS};
use crate::mechanics::torque::BELIEVED_FRICTION;
use crate::mechanics::{Band, Class, Strength, Thread};
use crate::quantity::{
    Dimension, DimensionError, Force, Kind, Length, Numeral, ParseError, Quantity, Ratio, Unit, stated_figure,
};

/// What was asked for, or why it can't be used.
pub(super) type Asked<T> = Result<T, Box<Diagnostic>>;

/// A quantity or a range as typed.
#[derive(Debug, Clone, Copy)]
pub(super) struct Given<K> {
    /// From one end to the other.
    pub band: Band<K>,
    low: Quantity,
    high: Quantity,
}

impl<K: Kind> Given<K> {
    /// The quantity, where no range was allowed.
    pub(super) fn value(&self) -> K {
        self.band.low
    }

    /// The unit it was typed in.
    pub(super) fn unit(&self) -> &'static str {
        self.low.unit().symbol
    }

    /// The unit in which lengths are answered: that of the system it was typed in.
    pub(super) fn bench_unit(&self) -> &'static str {
        if matches!(self.unit(), "in" | "thou") { "in" } else { "mm" }
    }

    /// The input echoed in its own unit only, where it is held against a limit.
    pub(super) fn alone(&self, name: &str) -> Line {
        Line::alone(name, self.low)
    }

    /// The input echoed.
    pub(super) fn line(&self, name: &str) -> Line {
        Line::typed(name, self.low, self.high)
    }
}

/// One quantity of the kind wanted.
pub(super) fn quantity<K>(option: &str, text: &str) -> Asked<Given<K>>
where
    K: Kind + TryFrom<Quantity, Error = DimensionError>,
{
    let written = parsed(option, text, K::MEASURES)?;
    let value = K::try_from(written).map_err(|error| wrong(option, &error.to_string(), error.mend()))?;
    Ok(Given { band: Band::exactly(value), low: written, high: written })
}

/// One quantity that must be more than nothing.
pub(super) fn positive<K>(option: &str, text: &str) -> Asked<Given<K>>
where
    K: Kind + TryFrom<Quantity, Error = DimensionError>,
{
    let given: Given<K> = quantity(option, text)?;
    more_than_nothing(option, text, given.low)?;
    Ok(given)
}

/// One quantity that may be nothing, and not less.
pub(super) fn not_below_nothing<K>(option: &str, text: &str) -> Asked<Given<K>>
where
    K: Kind + TryFrom<Quantity, Error = DimensionError>,
{
    let given: Given<K> = quantity(option, text)?;
    if given.low.numeral().value() < 0.0 {
        let problem = format!("`{}` is less than nothing", text.trim());
        return Err(wrong(
            option,
            &problem,
            Mend::doing(format!("give {} of nothing or more", K::MEASURES.name())),
        ));
    }
    Ok(given)
}

/// Quantities of one kind between commas.
pub(super) fn list<K>(option: &str, text: &str) -> Asked<Vec<K>>
where
    K: Kind + TryFrom<Quantity, Error = DimensionError>,
{
    text.split(',').map(|one| Ok(quantity::<K>(option, one.trim())?.value())).collect()
}

/// Thicknesses of what is sold, between commas: each more than nothing.
pub(super) fn sold(text: &str) -> Asked<Vec<Length>> {
    text.split(',').map(|one| Ok(positive::<Length>("--sold", one.trim())?.value())).collect()
}

/// Pairs between commas, each of two quantities with an equals sign between them.
fn parted<A, B>(option: &str, text: &str, written: &str) -> Asked<Vec<(A, B)>>
where
    A: Kind + TryFrom<Quantity, Error = DimensionError>,
    B: Kind + TryFrom<Quantity, Error = DimensionError>,
{
    let pair = |one: &str| {
        let (first, second) = one.split_once('=').ok_or_else(|| {
            let problem = format!("`{}` is no pair", one.trim());
            wrong(option, &problem, Mend::write(format!("pairs with an equals sign: `{written}`")))
        })?;
        Ok((positive::<A>(option, first)?.value(), positive::<B>(option, second)?.value()))
    };
    text.split(',').map(pair).collect()
}

/// Pairs of one kind: `1.5 mm = 0.05 mm, 1.0 mm = 0.08 mm`.
pub(super) fn pairs<K>(option: &str, text: &str) -> Asked<Vec<(K, K)>>
where
    K: Kind + TryFrom<Quantity, Error = DimensionError>,
{
    parted(option, text, "1.5 mm = 0.05 mm, 1.0 mm = 0.08 mm")
}

/// Heights with the loads there: `40 mm = 250 N, 31 mm = 620 N`.
pub(super) fn heights_and_loads(option: &str, text: &str) -> Asked<Vec<(Length, Force)>> {
    parted(option, text, "40 mm = 250 N, 31 mm = 620 N")
}

/// A metal whose expansion is known.
pub(super) fn metal(option: &str, name: &str) -> Asked<&'static Expansion> {
    heat::metal_named(name.trim()).ok_or_else(|| {
        let names: Vec<&str> = METALS.iter().map(|metal| metal.name).collect();
        let problem = format!("no metal is called `{}` here", name.trim());
        wrong_word(option, &problem, Mend::doing(format!("metals known are {}", names.join(", "))))
    })
}

/// A quantity, or a range written `40 N.m .. 60 N.m`; more than nothing.
pub(super) fn range<K>(option: &str, text: &str) -> Asked<Given<K>>
where
    K: Kind + TryFrom<Quantity, Error = DimensionError>,
{
    let Some((low, high)) = text.split_once("..") else { return positive(option, text) };
    let (low, high): (Given<K>, Given<K>) = (positive(option, low)?, positive(option, high)?);
    if high.value() < low.value() {
        let problem = format!("`{}` ends below its beginning", text.trim());
        return Err(wrong(option, &problem, Mend::write("the lower end first")));
    }
    Ok(Given { band: Band::between(low.value(), high.value()), low: low.low, high: high.low })
}

/// The same for what may be left out.
pub(super) fn maybe<T>(text: Option<&String>, read: impl FnOnce(&str) -> Asked<T>) -> Asked<Option<T>> {
    text.map(|text| read(text)).transpose()
}

/// A pure number or a range of it, such as a coefficient of friction: `0.12`, `0.10 .. 0.14`.
pub(super) fn ratio(option: &str, text: &str) -> Asked<Band<Ratio>> {
    let mend = "a number such as `0.12`, or a range such as `0.10 .. 0.14`";
    let one = |text: &str| {
        let fail = |problem: String| Err(wrong(option, &problem, Mend::write(mend)));
        match Numeral::parse(text) {
            Some(numeral) if numeral.value() > 1e3 => fail("the number is out of all reason".to_owned()),
            Some(numeral) if numeral.value() > 0.0 => Ok(Ratio::from_fraction(numeral.value())),
            Some(_) => fail(format!("`{}` is not more than nothing", text.trim())),
            None => match Quantity::parse(text) {
                Ok(quantity) if quantity.dimension() == Dimension::RATIO => {
                    Ok(Ratio::from_fraction(quantity.base()))
                }
                Ok(quantity) => fail(format!(
                    "`{quantity}` is {}, where {} was expected",
                    quantity.dimension().name(),
                    Dimension::RATIO.name()
                )),
                Err(_) => fail(format!(
                    "`{}` can't be read, where {} was expected",
                    text.trim(),
                    Dimension::RATIO.name()
                )),
            },
        }
    };
    match text.split_once("..") {
        Some((low, high)) => {
            let (low, high) = (one(low)?, one(high)?);
            if high < low {
                let problem = format!("`{}` ends below its beginning", text.trim());
                return Err(wrong(option, &problem, Mend::write("the lower end first")));
            }
            Ok(Band::between(low, high))
        }
        None => one(text).map(Band::exactly),
    }
}

/// A coefficient of friction or its range, as far as one is believed.
pub(super) fn friction(option: &str, text: &str) -> Asked<Band<Ratio>> {
    believed(option, ratio(option, text)?, BELIEVED_FRICTION, "coefficients of friction")
}

/// The friction that is typed, or what is assumed instead: said in the answer either way.
pub(super) fn friction_or(
    text: Option<&String>,
    unstated: Band<Ratio>,
    answer: &mut Answer,
) -> Asked<Band<Ratio>> {
    let typed = maybe(text, |text| friction("--friction", text))?;
    let mu = typed.unwrap_or(unstated);
    answer.given_or(typed.is_some(), Line::stated("friction μ", mu.low.fraction(), mu.high.fraction(), 2));
    Ok(mu)
}

/// Refuses what lies outside the range that is believed, and says the range.
pub(super) fn believed(
    option: &str,
    found: Band<Ratio>,
    range: Band<Ratio>,
    what: &str,
) -> Asked<Band<Ratio>> {
    if found.low >= range.low && found.high <= range.high {
        return Ok(found);
    }
    let odd = if found.low < range.low { found.low } else { found.high };
    let [low, high, odd] = [range.low, range.high, odd].map(|ratio| stated_figure(ratio.fraction(), 0));
    let problem = format!("{odd} is out of all reason");
    Err(wrong(option, &problem, Mend::doing(format!("{what} are taken from {low} to {high}"))))
}

/// A thread by its designation.
pub(super) fn thread(text: &str) -> Asked<Thread> {
    Thread::parse(text).map_err(|error| wrong_word("THREAD", &error.to_string(), error.mend()))
}

/// A property class by its name, and what it holds in this thread.
pub(super) fn strength(text: &str, thread: &Thread) -> Asked<(Class, Strength)> {
    let class =
        Class::parse(text).map_err(|error| wrong_word("--class", &error.to_string(), error.mend()))?;
    let strength =
        class.strength(thread).map_err(|error| wrong_word("--class", &error.to_string(), error.mend()))?;
    Ok((class, strength))
}

/// A complaint about a quantity.
pub(super) fn wrong(option: &str, problem: &str, mend: Mend) -> Box<Diagnostic> {
    Box::new(errors::wrong_quantity(option, problem, mend))
}

/// A complaint about a word or a designation.
pub(super) fn wrong_word(option: &str, problem: &str, mend: Mend) -> Box<Diagnostic> {
    Box::new(errors::wrong_word(option, problem, mend))
}

/// A complaint about what was left out.
pub(super) fn too_little(problem: &str, mend: Mend) -> Box<Diagnostic> {
    Box::new(errors::too_little(problem, mend))
}

/// Numbers beyond this are slips of the finger at any bench.
const OUT_OF_REASON: f64 = 1e9;

/// Complains of a number that no bench knows.
pub(super) fn within_reason(option: &str, value: f64) -> Asked<()> {
    if value.abs() <= OUT_OF_REASON {
        return Ok(());
    }
    Err(wrong(option, "the number is out of all reason", Mend::write("it with fewer digits")))
}

/// More than any engine has, in base units: what lies beyond is a slip of the finger or of the unit. Our own bounds, no
/// source: they leave room for a ship's engine.
const MOST: [(Dimension, f64, &str); 7] = [
    (Dimension::LENGTH, 20.0, "20 m"),
    (Dimension::MASS, 2e5, "200000 kg"),
    (Dimension::FORCE, 2e7, "20000 kN"),
    (Dimension::TORQUE, 2e5, "200000 N.m"),
    (Dimension::PRESSURE, 5e8, "500 MPa"),
    (Dimension::VOLUME, 10.0, "10000 L"),
    (Dimension::STIFFNESS, 1e10, "10000000 N/mm"),
];

/// Complains of a quantity that is more than anything at a bench.
fn at_a_bench(option: &str, written: Quantity) -> Asked<()> {
    let most = MOST.iter().find(|(dimension, ..)| *dimension == written.dimension());
    match most {
        Some((_, most, words)) if written.base().abs() > *most => {
            let problem = format!("`{written}` is more than any engine has");
            Err(wrong(option, &problem, Mend::doing(format!("mind the unit: up to {words} is believed"))))
        }
        _ => Ok(()),
    }
}

fn parsed(option: &str, text: &str, wanted: Dimension) -> Asked<Quantity> {
    let read = Quantity::parse(text);
    if let Ok(written) = &read {
        within_reason(option, written.numeral().value())?;
        at_a_bench(option, *written)?;
    }
    read.map_err(|error| {
        let symbols: Vec<String> = Unit::measuring(wanted).map(|unit| format!("`{}`", unit.symbol)).collect();
        let mend = match &error {
            ParseError::UnknownUnit { nearest: Some(_), .. } => error.mend(),
            _ => Mend::doing(format!("give {} in {}", wanted.name(), symbols.join(", "))),
        };
        wrong(option, &format!("{error}, where {} was expected", wanted.name()), mend)
    })
}

fn more_than_nothing(option: &str, text: &str, written: Quantity) -> Asked<()> {
    if written.numeral().value() > 0.0 {
        return Ok(());
    }
    let problem = format!("`{}` is not more than nothing", text.trim());
    Err(wrong(option, &problem, Mend::doing(format!("give {} above nothing", written.dimension().name()))))
}
