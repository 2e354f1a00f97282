//! Physical kinds as types of their own, so that a length can't be handed over as a force.

#![allow(unreachable_pub, reason = "one macro makes them all, and the model that others get holds but some")]

use std::f64::consts::{PI, TAU};
use std::ops::{Add, Div, Mul, Neg, Sub};

use super::{Dimension, DimensionError, Quantity, Unit};

/// What every kind has in common, for code that shows quantities of any kind.
pub trait Kind: Copy + PartialOrd {
    /// What it measures.
    const MEASURES: Dimension;

    /// In base units.
    fn in_base(self) -> f64;
}

/// Declares a kind: its dimension, and pairs of constructor and accessor in units of use.
macro_rules! kind {
    ($(#[$doc:meta])* $name:ident, $dimension:expr,
     $($unit_doc:literal $from:ident $to:ident $numerator:tt / $denominator:tt),+) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
        pub struct $name(f64);

        #[allow(dead_code, reason = "every kind has every way in and out, used or not")]
        impl $name {
            /// What it measures.
            pub const DIMENSION: Dimension = $dimension;
            /// None of it.
            pub const ZERO: $name = $name(0.0);

            $(
                #[doc = concat!("From a number of ", $unit_doc, ".")]
                pub const fn $from(value: f64) -> Self {
                    $name(value * $numerator / $denominator)
                }

                #[doc = concat!("As a number of ", $unit_doc, ".")]
                pub const fn $to(self) -> f64 {
                    self.0 * $denominator / $numerator
                }
            )+

            /// In base units.
            pub const fn base(self) -> f64 {
                self.0
            }

            /// As a quantity in `unit`, which must measure this kind, rounded to so many places.
            ///
            /// # Errors
            /// The unit measures something else.
            pub fn in_unit(self, unit: &'static Unit, places: u8) -> Result<Quantity, DimensionError> {
                Quantity::from_base(self.0, unit, places).expect_dimension(Self::DIMENSION)
            }

            /// The smaller of two.
            pub fn min(self, other: Self) -> Self {
                $name(self.0.min(other.0))
            }

            /// The larger of two.
            pub fn max(self, other: Self) -> Self {
                $name(self.0.max(other.0))
            }

            /// Without its sign.
            pub fn abs(self) -> Self {
                $name(self.0.abs())
            }
        }

        impl Kind for $name {
            const MEASURES: Dimension = $dimension;

            fn in_base(self) -> f64 {
                self.0
            }
        }

        impl TryFrom<Quantity> for $name {
            type Error = DimensionError;

            fn try_from(quantity: Quantity) -> Result<Self, DimensionError> {
                quantity.expect_dimension(Self::DIMENSION).map(|quantity| $name(quantity.base()))
            }
        }

        impl Add for $name {
            type Output = $name;
            fn add(self, other: $name) -> $name {
                $name(self.0 + other.0)
            }
        }

        impl Sub for $name {
            type Output = $name;
            fn sub(self, other: $name) -> $name {
                $name(self.0 - other.0)
            }
        }

        impl Neg for $name {
            type Output = $name;
            fn neg(self) -> $name {
                $name(-self.0)
            }
        }

        impl Mul<f64> for $name {
            type Output = $name;
            fn mul(self, factor: f64) -> $name {
                $name(self.0 * factor)
            }
        }

        impl Div<f64> for $name {
            type Output = $name;
            fn div(self, divisor: f64) -> $name {
                $name(self.0 / divisor)
            }
        }

        impl Div for $name {
            type Output = f64;
            fn div(self, other: $name) -> f64 {
                self.0 / other.0
            }
        }
    };
}

kind!(
    /// A length.
    Length, Dimension::LENGTH,
    "millimetres" from_mm mm 1.0 / 1e3,
    "metres" from_metres metres 1.0 / 1.0,
    "inches" from_inches inches 254.0 / 1e4
);
kind!(
    /// An area.
    Area, Dimension::AREA,
    "square millimetres" from_square_mm square_mm 1.0 / 1e6,
    "square inches" from_square_inches square_inches 64_516.0 / 1e8
);
kind!(
    /// A torque.
    Torque, Dimension::TORQUE,
    "newton metres" from_newton_metres newton_metres 1.0 / 1.0,
    "pound-force feet" from_pound_force_feet pound_force_feet 1.355_817_948_331_400_4 / 1.0,
    "pound-force inches" from_pound_force_inches pound_force_inches 0.112_984_829_027_616_7 / 1.0
);
kind!(
    /// A force.
    Force, Dimension::FORCE,
    "newtons" from_newtons newtons 1.0 / 1.0,
    "kilonewtons" from_kilonewtons kilonewtons 1e3 / 1.0,
    "pounds-force" from_pounds_force pounds_force 4.448_221_615_260_5 / 1.0
);
kind!(
    /// An angle.
    Angle, Dimension::ANGLE,
    "degrees" from_degrees degrees PI / 180.0,
    "radians" from_radians radians 1.0 / 1.0,
    "turns" from_turns turns TAU / 1.0
);
kind!(
    /// A mass.
    Mass, Dimension::MASS,
    "kilograms" from_kilograms kilograms 1.0 / 1.0,
    "grams" from_grams grams 1.0 / 1e3,
    "pounds" from_pounds pounds 45_359_237.0 / 1e8
);
kind!(
    /// A volume.
    Volume, Dimension::VOLUME,
    "litres" from_litres litres 1.0 / 1e3,
    "cubic centimetres" from_cubic_centimetres cubic_centimetres 1.0 / 1e6
);
kind!(
    /// A pressure or a mechanical stress.
    Pressure, Dimension::PRESSURE,
    "pascals" from_pascals pascals 1.0 / 1.0,
    "kilopascals" from_kilopascals kilopascals 1e3 / 1.0,
    "megapascals" from_megapascals megapascals 1e6 / 1.0,
    "pounds-force per square inch" from_psi psi 6_894.757_293_168_361 / 1.0
);
kind!(
    /// A stiffness: force for each length of give.
    Stiffness, Dimension::STIFFNESS,
    "newtons per millimetre" from_newtons_per_mm newtons_per_mm 1e3 / 1.0
);
kind!(
    /// A share of something, or a pure number such as a coefficient of friction.
    Ratio, Dimension::RATIO,
    "parts of one" from_fraction fraction 1.0 / 1.0,
    "per cent" from_percent percent 1.0 / 1e2
);
kind!(
    /// A temperature on the absolute scale; the difference of two is one as well.
    Temperature, Dimension::TEMPERATURE,
    "kelvin" from_kelvin kelvin 1.0 / 1.0
);

impl Temperature {
    /// From degrees on the Celsius scale.
    pub const fn from_celsius(value: f64) -> Self {
        Temperature(value + 273.15)
    }

    /// On the Celsius scale.
    pub const fn celsius(self) -> f64 {
        self.0 - 273.15
    }
}
