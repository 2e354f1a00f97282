//! The units of the language, each with its exact size in base units.
//!
//! Factors are exact products of the inch (0.0254 m), the pound (0.45359237 kg) and standard gravity
//! (9.80665 m/s²), as NIST Special Publication 811, Appendix B gives them.

use std::f64::consts::PI;

use super::Dimension;

/// A unit as it is written in a procedure.
#[derive(Debug, PartialEq)]
pub struct Unit {
    /// As written in the language: `N.m`.
    pub symbol: &'static str,
    /// As printed on a sheet: `N·m`.
    pub printed: &'static str,
    /// What it measures.
    pub dimension: Dimension,
    /// Base units in one of this unit, as numerator and denominator so that both stay exact.
    size: (f64, f64),
    /// Added before scaling; only temperature scales have one.
    offset: f64,
}

const fn unit(
    symbol: &'static str,
    printed: &'static str,
    dimension: Dimension,
    numerator: f64,
    denominator: f64,
) -> Unit {
    Unit { symbol, printed, dimension, size: (numerator, denominator), offset: 0.0 }
}

/// Newtons in a pound-force: 0.453 592 37 kg (international pound) times 9.806 65 m/s² (standard gravity), exact by
/// definition; from memory.
const POUND_FORCE: f64 = 4.448_221_615_260_5;

/// A kelvin: what a temperature differs by.
const KELVIN: Unit = unit("K", "K", Dimension::TEMPERATURE, 1.0, 1.0);

/// A degree Fahrenheit as a difference: without the offset of the scale.
static FAHRENHEIT_APART: Unit = unit("degF", "°F", Dimension::TEMPERATURE, 5.0, 9.0);

/// A degree Celsius as a difference.
static CELSIUS_APART: Unit = unit("degC", "°C", Dimension::TEMPERATURE, 1.0, 1.0);

/// Every unit there is; within a dimension the one most used at the bench comes first. Their sizes are exact by the
/// definitions of the SI, of the international inch and pound, and of standard gravity; from memory.
static UNITS: [Unit; 44] = [
    unit("mm", "mm", Dimension::LENGTH, 1.0, 1e3),
    unit("um", "µm", Dimension::LENGTH, 1.0, 1e6),
    unit("cm", "cm", Dimension::LENGTH, 1.0, 1e2),
    unit("m", "m", Dimension::LENGTH, 1.0, 1.0),
    unit("in", "in", Dimension::LENGTH, 254.0, 1e4),
    unit("thou", "thou", Dimension::LENGTH, 254.0, 1e7),
    unit("N", "N", Dimension::FORCE, 1.0, 1.0),
    unit("kN", "kN", Dimension::FORCE, 1e3, 1.0),
    unit("lbf", "lbf", Dimension::FORCE, POUND_FORCE, 1.0),
    unit("N.m", "N·m", Dimension::TORQUE, 1.0, 1.0),
    unit("lbf.ft", "lbf·ft", Dimension::TORQUE, POUND_FORCE * 3048.0, 1e4),
    unit("lbf.in", "lbf·in", Dimension::TORQUE, POUND_FORCE * 254.0, 1e4),
    unit("kgf.m", "kgf·m", Dimension::TORQUE, 9.80665, 1.0),
    unit("kgf.cm", "kgf·cm", Dimension::TORQUE, 9.80665, 1e2),
    unit("cN.m", "cN·m", Dimension::TORQUE, 1.0, 1e2),
    unit("deg", "°", Dimension::ANGLE, PI, 180.0),
    unit("turn", "turn", Dimension::ANGLE, 2.0 * PI, 1.0),
    unit("mL", "mL", Dimension::VOLUME, 1.0, 1e6),
    unit("L", "L", Dimension::VOLUME, 1.0, 1e3),
    unit("cm3", "cm³", Dimension::VOLUME, 1.0, 1e6),
    unit("in3", "in³", Dimension::VOLUME, 254.0 * 254.0 * 254.0, 1e12),
    unit("kg", "kg", Dimension::MASS, 1.0, 1.0),
    unit("g", "g", Dimension::MASS, 1.0, 1e3),
    unit("lb", "lb", Dimension::MASS, 45_359_237.0, 1e8),
    unit("min", "min", Dimension::DURATION, 60.0, 1.0),
    unit("s", "s", Dimension::DURATION, 1.0, 1.0),
    unit("h", "h", Dimension::DURATION, 3_600.0, 1.0),
    unit("day", "day", Dimension::DURATION, 86_400.0, 1.0),
    unit("bar", "bar", Dimension::PRESSURE, 1e5, 1.0),
    unit("kPa", "kPa", Dimension::PRESSURE, 1e3, 1.0),
    unit("MPa", "MPa", Dimension::PRESSURE, 1e6, 1.0),
    unit("psi", "psi", Dimension::PRESSURE, POUND_FORCE * 1e8, 254.0 * 254.0),
    unit("kgf/cm2", "kgf/cm²", Dimension::PRESSURE, 9.80665 * 1e4, 1.0),
    unit("N/mm", "N/mm", Dimension::STIFFNESS, 1e3, 1.0),
    unit("lbf/in", "lbf/in", Dimension::STIFFNESS, POUND_FORCE * 1e4, 254.0),
    Unit {
        symbol: "degC",
        printed: "°C",
        dimension: Dimension::TEMPERATURE,
        size: (1.0, 1.0),
        offset: 273.15,
    },
    Unit {
        symbol: "degF",
        printed: "°F",
        dimension: Dimension::TEMPERATURE,
        size: (5.0, 9.0),
        offset: 459.67,
    },
    // Only of differences: a point on the absolute scale is read at no bench.
    KELVIN,
    unit("rpm", "rpm", Dimension::SPEED, PI, 30.0),
    unit("V", "V", Dimension::VOLTAGE, 1.0, 1.0),
    unit("A", "A", Dimension::CURRENT, 1.0, 1.0),
    unit("ohm", "Ω", Dimension::RESISTANCE, 1.0, 1.0),
    unit("%", "%", Dimension::RATIO, 1.0, 1e2),
    // How the trade writes a compression ratio: `9.4:1`.
    unit(":1", ":1", Dimension::RATIO, 1.0, 1.0),
];

/// Units that computed results are shown in; nothing is written in them. Sizes as above.
static RESULTS: [Unit; 3] = [
    unit("mm2", "mm²", Dimension::AREA, 1.0, 1e6),
    unit("in2", "in²", Dimension::AREA, 64_516.0, 1e8),
    unit("kN/mm", "kN/mm", Dimension::STIFFNESS, 1e6, 1.0),
];

/// What people write instead, as [`plain`] makes it, by the unit that is meant.
const SLIPS: [(&str, &[&str]); 33] = [
    ("N.m", &["newtonmetre", "newtonmetres"]),
    ("lbf.ft", &["ftlb", "ftlbs", "ftlbf", "lbft"]),
    ("lbf.in", &["inlb", "inlbs", "inlbf", "lbin"]),
    ("kgf.m", &["kgm", "mkg", "mkp", "kpm"]),
    ("kgf.cm", &["kgcm", "cmkg", "kpcm"]),
    ("cN.m", &["centinewtonmetre", "centinewtonmetres"]),
    ("kgf/cm2", &["kgcm2", "kpcm2", "kgf/cm\u{b2}", "at"]),
    ("N/mm", &["newtonspermillimetre"]),
    ("lbf/in", &["lb/in", "lbs/in"]),
    ("in3", &["cuin", "cubicinch", "cubicinches"]),
    ("K", &["kelvin", "kelvins"]),
    ("N", &["newton", "newtons"]),
    ("in", &["inch", "inches", "\""]),
    ("thou", &["mil", "mils", "thous", "thousandths"]),
    ("mm", &["millimetre", "millimetres", "millimeter", "millimeters"]),
    ("cm", &["centimetre", "centimetres", "centimeter", "centimeters"]),
    ("um", &["micron", "microns", "\u{b5}m", "\u{3bc}m"]),
    ("deg", &["\u{b0}", "degree", "degrees"]),
    ("turn", &["turns", "rev", "revs"]),
    ("degC", &["c", "\u{b0}c"]),
    ("degF", &["f", "\u{b0}f"]),
    ("L", &["litre", "litres", "liter", "liters", "ltr"]),
    ("mL", &["millilitre", "millilitres"]),
    ("cm3", &["cc", "ccm"]),
    ("g", &["gram", "grams"]),
    ("kg", &["kgs", "kilo", "kilos"]),
    ("lb", &["lbs", "pound", "pounds"]),
    ("s", &["sec", "secs", "second", "seconds"]),
    ("min", &["mins", "minute", "minutes"]),
    ("h", &["hr", "hrs", "hour", "hours"]),
    ("day", &["days", "d"]),
    ("bar", &["bars"]),
    ("%", &["percent"]),
];

/// A spelling without case and without what people put between the parts of a unit.
fn plain(text: &str) -> String {
    text.chars().filter(|c| !". -·*_/".contains(*c)).flat_map(char::to_lowercase).collect()
}

impl Unit {
    /// Every unit there is.
    pub fn all() -> &'static [Unit] {
        &UNITS
    }

    /// What is printed behind a number: a degree sign and `:1` stand close, other units behind a space.
    pub fn behind(&self) -> String {
        let space = if self.is_apart() { " " } else { "" };
        format!("{space}{}", self.printed)
    }

    /// Whether a space stands between a number and it.
    pub fn is_apart(&self) -> bool {
        !matches!(self.printed, "°" | ":1")
    }

    /// The unit written like this, letter for letter.
    pub fn find(symbol: &str) -> Option<&'static Unit> {
        UNITS.iter().find(|unit| unit.symbol == symbol)
    }

    /// The unit of this symbol among those of the language and those that results are shown in.
    pub fn for_results(symbol: &str) -> Option<&'static Unit> {
        Unit::find(symbol).or_else(|| RESULTS.iter().find(|unit| unit.symbol == symbol))
    }

    /// The units that measure this dimension, the one most used at the bench first.
    pub fn measuring(dimension: Dimension) -> impl Iterator<Item = &'static Unit> {
        UNITS.iter().filter(move |unit| unit.dimension == dimension)
    }

    /// The unit probably meant by a spelling that isn't one: `Nm`, `ft-lb` or `ML`.
    pub fn nearest(symbol: &str) -> Option<&'static Unit> {
        let wanted = plain(symbol);
        // A stroke makes a rate of what is a torque without it.
        let rate = |slips: &[&str]| symbol.contains('/') && slips.contains(&symbol.to_lowercase().as_str());
        if let Some((meant, _)) = SLIPS.iter().find(|(_, slips)| rate(slips)) {
            return Unit::find(meant);
        }
        let spelt = UNITS.iter().find(|unit| plain(unit.symbol) == wanted || plain(unit.printed) == wanted);
        spelt.or_else(|| {
            let (meant, _) = SLIPS.iter().find(|(_, slips)| slips.contains(&wanted.as_str()))?;
            Unit::find(meant)
        })
    }

    /// Every way in which a unit is written, rightly or by a slip, with the unit that is meant.
    pub fn spellings() -> impl Iterator<Item = (&'static str, &'static Unit)> {
        let slips = SLIPS.iter().flat_map(|(meant, slips)| slips.iter().map(|slip| (*slip, *meant)));
        let meant = slips.filter_map(|(slip, meant)| Some((slip, Unit::find(meant)?)));
        UNITS.iter().map(|unit| (unit.symbol, unit)).chain(meant)
    }

    /// Everything that is written or printed behind a number: symbols, and what sheets show for them.
    pub fn signs() -> impl Iterator<Item = &'static str> {
        UNITS.iter().chain(&RESULTS).flat_map(|unit| [unit.symbol, unit.printed])
    }

    /// Whether its numbers are points on a scale that doesn't begin at nothing, which can't be added or multiplied.
    pub fn is_scale(&self) -> bool {
        self.offset != 0.0
    }

    /// The unit in which points on this scale lie apart: kelvin for degrees Celsius; itself where it is no scale.
    pub fn apart(&'static self) -> &'static Unit {
        match self.symbol {
            "degC" => Unit::find("K").unwrap_or(self),
            "degF" => &FAHRENHEIT_APART,
            _ => self,
        }
    }

    /// The same degrees without the offset of their scale: as differences that keep their sign.
    pub fn degrees_apart(&'static self) -> &'static Unit {
        match self.symbol {
            "degC" => &CELSIUS_APART,
            _ => self.apart(),
        }
    }

    /// How much a number of this unit is in base units.
    pub fn to_base(&self, value: f64) -> f64 {
        (value + self.offset) * self.size.0 / self.size.1
    }

    /// How many of this unit an amount in base units is.
    pub fn number_for(&self, base: f64) -> f64 {
        base * self.size.1 / self.size.0 - self.offset
    }

    /// How many base units a difference of one of this unit is; for a temperature scale, kelvin in a degree.
    pub fn scale(&self) -> f64 {
        self.size.0 / self.size.1
    }
}
