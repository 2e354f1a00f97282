//! The dimension of a quantity, as exponents of its base measures.
//!
//! An angle counts as a base measure of its own, so that a torque (work per angle) and an energy differ.

use std::ops::{Div, Mul};

/// Exponents of length, mass, time, temperature, angle and electric current. A ratio has none.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Dimension {
    length: i8,
    mass: i8,
    time: i8,
    temperature: i8,
    angle: i8,
    current: i8,
}

impl Dimension {
    /// A share of something: per cent.
    pub const RATIO: Dimension =
        Dimension { length: 0, mass: 0, time: 0, temperature: 0, angle: 0, current: 0 };
    /// Metres.
    pub const LENGTH: Dimension = Dimension { length: 1, ..Dimension::RATIO };
    /// Kilograms.
    pub const MASS: Dimension = Dimension { mass: 1, ..Dimension::RATIO };
    /// Seconds.
    pub const DURATION: Dimension = Dimension { time: 1, ..Dimension::RATIO };
    /// Kelvin.
    pub const TEMPERATURE: Dimension = Dimension { temperature: 1, ..Dimension::RATIO };
    /// Radians.
    pub const ANGLE: Dimension = Dimension { angle: 1, ..Dimension::RATIO };
    /// Square metres.
    pub const AREA: Dimension = Dimension::LENGTH.times(Dimension::LENGTH);
    /// Cubic metres.
    pub const VOLUME: Dimension = Dimension::AREA.times(Dimension::LENGTH);
    /// Newtons.
    pub const FORCE: Dimension =
        Dimension::MASS.times(Dimension::LENGTH).per(Dimension::DURATION).per(Dimension::DURATION);
    /// Newton metres: work for each radian turned.
    pub const TORQUE: Dimension = Dimension::FORCE.times(Dimension::LENGTH).per(Dimension::ANGLE);
    /// Pascals; a stress has the same.
    pub const PRESSURE: Dimension = Dimension::FORCE.per(Dimension::AREA);
    /// Newtons per metre.
    pub const STIFFNESS: Dimension = Dimension::FORCE.per(Dimension::LENGTH);
    /// Speed of turning: radians per second.
    pub const SPEED: Dimension = Dimension::ANGLE.per(Dimension::DURATION);

    /// Amperes.
    pub const CURRENT: Dimension = Dimension { current: 1, ..Dimension::RATIO };
    /// Volts: watts for each ampere.
    pub const VOLTAGE: Dimension =
        Dimension::FORCE.times(Dimension::LENGTH).per(Dimension::DURATION).per(Dimension::CURRENT);
    /// Ohms.
    pub const RESISTANCE: Dimension = Dimension::VOLTAGE.per(Dimension::CURRENT);

    const fn times(self, other: Dimension) -> Dimension {
        Dimension {
            length: self.length + other.length,
            mass: self.mass + other.mass,
            time: self.time + other.time,
            temperature: self.temperature + other.temperature,
            angle: self.angle + other.angle,
            current: self.current + other.current,
        }
    }

    const fn per(self, other: Dimension) -> Dimension {
        Dimension {
            length: self.length - other.length,
            mass: self.mass - other.mass,
            time: self.time - other.time,
            temperature: self.temperature - other.temperature,
            angle: self.angle - other.angle,
            current: self.current - other.current,
        }
    }

    /// What a person calls it, with its article: `a torque`, `an angle`.
    pub fn name(self) -> &'static str {
        const NAMES: [(Dimension, &str); 16] = [
            (Dimension::RATIO, "a ratio"),
            (Dimension::LENGTH, "a length"),
            (Dimension::MASS, "a mass"),
            (Dimension::DURATION, "a time"),
            (Dimension::TEMPERATURE, "a temperature"),
            (Dimension::ANGLE, "an angle"),
            (Dimension::AREA, "an area"),
            (Dimension::VOLUME, "a volume"),
            (Dimension::FORCE, "a force"),
            (Dimension::TORQUE, "a torque"),
            (Dimension::PRESSURE, "a pressure"),
            (Dimension::STIFFNESS, "a stiffness"),
            (Dimension::SPEED, "a speed of turning"),
            (Dimension::CURRENT, "a current"),
            (Dimension::VOLTAGE, "a voltage"),
            (Dimension::RESISTANCE, "a resistance"),
        ];
        NAMES.iter().find(|(dimension, _)| *dimension == self).map_or("a derived quantity", |(_, name)| name)
    }
}

impl Mul for Dimension {
    type Output = Dimension;

    fn mul(self, other: Dimension) -> Dimension {
        self.times(other)
    }
}

impl Div for Dimension {
    type Output = Dimension;

    fn div(self, other: Dimension) -> Dimension {
        self.per(other)
    }
}
