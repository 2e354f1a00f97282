//! How much a person should lift, by the revised NIOSH lifting equation, and who or what should lift a mass.
//!
//! Not for one hand, seated or kneeling work, restricted space, unstable loads, carrying, or fast lifts: the
//! source excludes them, and nothing here can see them.

use std::fmt;

use super::band::Band;
use super::citation::{Citation, Seen};
use crate::quantity::{Angle, Length, Mass, Ratio};

/// The equation and its limits.
pub(crate) const EQUATION_SOURCE: Citation = Citation::new(
    "revised NIOSH lifting equation, DHHS (NIOSH) 94-110: 23 kg (51 lb) · HM · VM · DM · AM · FM · CM",
    Seen::ReadCopy,
);
/// The table of frequency multipliers.
pub(crate) const FREQUENCY_SOURCE: Citation = Citation::new("DHHS (NIOSH) 94-110 table 5", Seen::FromMemory);
/// The table of coupling multipliers.
pub(crate) const COUPLING_SOURCE: Citation = Citation::new("DHHS (NIOSH) 94-110 table 7", Seen::FromMemory);
/// Two people.
pub(crate) const TWO_PEOPLE_SOURCE: Citation = Citation::new("", Seen::CommonPractice);

/// The equation's constants in one of its two forms, which differ by up to three per cent: of [`EQUATION_SOURCE`].
struct Constants {
    /// Most that it recommends under the best conditions.
    load: Mass,
    /// Length that H is compared with, and the least H and D.
    near: f64,
    /// Greatest H.
    far: f64,
    /// Best V.
    knuckles: f64,
    /// Loss of VM for each unit of length off it.
    slope: f64,
    /// Added to DM, times a unit of length.
    short: f64,
    /// Greatest V and D.
    high: f64,
}

const METRIC: Constants = Constants {
    load: Mass::from_kilograms(23.0),
    near: 25.0,
    far: 63.0,
    knuckles: 75.0,
    slope: 0.003,
    short: 4.5,
    high: 175.0,
};
const INCH: Constants = Constants {
    load: Mass::from_pounds(51.0),
    near: 10.0,
    far: 25.0,
    knuckles: 30.0,
    slope: 0.0075,
    short: 1.8,
    high: 70.0,
};

/// In which of its two forms the equation is used.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum System {
    /// Centimetres and kilograms.
    Metric,
    /// Inches and pounds.
    Inch,
}

impl System {
    fn constants(self) -> &'static Constants {
        match self {
            System::Metric => &METRIC,
            System::Inch => &INCH,
        }
    }

    fn number(self, length: Length) -> f64 {
        match self {
            System::Metric => length.mm() / 10.0,
            System::Inch => length.inches(),
        }
    }

    /// Whether a reach or a way is so short that the equation takes the shortest that it knows.
    pub(crate) fn counts_as_nearest(self, length: Length) -> bool {
        self.number(length) < self.constants().near * (1.0 - 1e-9)
    }
}
/// Lifts in a minute below which the equation takes no fewer: READ in a copy of the source, pages 14 and 15.
pub(crate) const FEWEST: f64 = 0.2;
/// Share of two people's limits together that two may lift: [`TWO_PEOPLE_SOURCE`].
const TWO_PEOPLE_SHARE: f64 = 2.0 / 3.0;

/// How well the load can be gripped.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Grip {
    /// Handles or good hand-holds.
    Good,
    /// Hand-holds less than good, or a smooth box gripped from below.
    Fair,
    /// Bulky, sharp or without hand-holds.
    Poor,
}

/// How long lifting goes on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Stretch {
    /// Up to one hour.
    OneHour,
    /// Up to two hours.
    TwoHours,
    /// Up to eight hours.
    EightHours,
}

/// A lift.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Lift {
    /// The equation's form.
    pub system: System,
    /// H: hands to the middle between the ankles, level.
    pub reach: Length,
    /// V: height of the hands above the floor at the start.
    pub height: Length,
    /// D: how far it is moved up or down.
    pub travel: Length,
    /// A: how far the body is twisted.
    pub twist: Angle,
    /// F: lifts in a minute; 0.2 or less counts as 0.2.
    pub per_minute: f64,
    /// How long it goes on.
    pub stretch: Stretch,
    /// How well it can be gripped.
    pub grip: Grip,
}

/// The six multipliers and what they make of the load constant.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Recommended {
    /// HM = 25 cm / H.
    pub horizontal: Ratio,
    /// VM = 1 − 0.003 |V − 75 cm|.
    pub vertical: Ratio,
    /// DM = 0.82 + 4.5 cm / D.
    pub distance: Ratio,
    /// AM = 1 − 0.0032 A.
    pub asymmetry: Ratio,
    /// FM, from the table.
    pub frequency: Ratio,
    /// CM, from the table.
    pub coupling: Ratio,
    /// Recommended weight for one person.
    pub weight: Mass,
}

/// The end of a lift, where the load must be set down with care.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct SetDown {
    /// H at the end.
    pub reach: Length,
    /// V at the end.
    pub height: Length,
    /// A at the end.
    pub twist: Angle,
}

/// The recommended weight at the beginning of a lift; nothing where the source says that it must not be done by hand.
pub(crate) fn recommended(lift: &Lift) -> Recommended {
    let end = SetDown { reach: lift.reach, height: lift.height, twist: lift.twist };
    recommended_at_end(lift, &end)
}

/// The recommended weight at the end of a lift. The frequency multiplier goes by the height at which it begins, as the
/// source has it.
pub(crate) fn recommended_at_end(lift: &Lift, end: &SetDown) -> Recommended {
    let constants = lift.system.constants();
    let number = |length: Length| lift.system.number(length);
    // A hair of slack, so that a limit converted from another unit is still on it.
    let beyond = |value: f64, limit: f64| value > limit * (1.0 + 1e-9);
    let reach = number(end.reach).max(constants.near);
    let horizontal = if beyond(reach, constants.far) { 0.0 } else { constants.near / reach };
    let height = number(end.height);
    let off = (height - constants.knuckles).abs();
    let within = height >= 0.0 && !beyond(height, constants.high);
    let vertical = if within { 1.0 - constants.slope * off } else { 0.0 };
    let travel = number(lift.travel.abs()).max(constants.near);
    let distance =
        if beyond(travel, constants.high) { 0.0 } else { (0.82 + constants.short / travel).min(1.0) };
    let twist = end.twist.abs().degrees();
    let asymmetry = if beyond(twist, 135.0) { 0.0 } else { 1.0 - 0.0032 * twist };
    let high = |length: Length| number(length) >= constants.knuckles * (1.0 - 1e-9);
    let frequency = frequency_multiplier(lift.per_minute, lift.stretch, high(lift.height));
    let coupling = match (lift.grip, high(end.height)) {
        (Grip::Good, _) | (Grip::Fair, true) => 1.0,
        (Grip::Fair, false) => 0.95,
        (Grip::Poor, _) => 0.90,
    };
    let product = horizontal * vertical * distance * asymmetry * frequency * coupling;
    Recommended {
        horizontal: Ratio::from_fraction(horizontal),
        vertical: Ratio::from_fraction(vertical),
        distance: Ratio::from_fraction(distance),
        asymmetry: Ratio::from_fraction(asymmetry),
        frequency: Ratio::from_fraction(frequency),
        coupling: Ratio::from_fraction(coupling),
        weight: constants.load * product,
    }
}

/// Lifts per minute, then multipliers for one hour (hands low, high), two hours and eight hours: of
/// [`FREQUENCY_SOURCE`].
#[rustfmt::skip]
const FREQUENCIES: [(f64, [f64; 6]); 18] = [
    (0.2,  [1.00, 1.00, 0.95, 0.95, 0.85, 0.85]),
    (0.5,  [0.97, 0.97, 0.92, 0.92, 0.81, 0.81]),
    (1.0,  [0.94, 0.94, 0.88, 0.88, 0.75, 0.75]),
    (2.0,  [0.91, 0.91, 0.84, 0.84, 0.65, 0.65]),
    (3.0,  [0.88, 0.88, 0.79, 0.79, 0.55, 0.55]),
    (4.0,  [0.84, 0.84, 0.72, 0.72, 0.45, 0.45]),
    (5.0,  [0.80, 0.80, 0.60, 0.60, 0.35, 0.35]),
    (6.0,  [0.75, 0.75, 0.50, 0.50, 0.27, 0.27]),
    (7.0,  [0.70, 0.70, 0.42, 0.42, 0.22, 0.22]),
    (8.0,  [0.60, 0.60, 0.35, 0.35, 0.18, 0.18]),
    (9.0,  [0.52, 0.52, 0.30, 0.30, 0.00, 0.15]),
    (10.0, [0.45, 0.45, 0.26, 0.26, 0.00, 0.13]),
    (11.0, [0.41, 0.41, 0.00, 0.23, 0.00, 0.00]),
    (12.0, [0.37, 0.37, 0.00, 0.21, 0.00, 0.00]),
    (13.0, [0.00, 0.34, 0.00, 0.00, 0.00, 0.00]),
    (14.0, [0.00, 0.31, 0.00, 0.00, 0.00, 0.00]),
    (15.0, [0.00, 0.28, 0.00, 0.00, 0.00, 0.00]),
    (16.0, [0.00, 0.00, 0.00, 0.00, 0.00, 0.00]),
];

/// From the table, straight between its rows; nothing above the last row that allows anything.
fn frequency_multiplier(per_minute: f64, stretch: Stretch, high: bool) -> f64 {
    let column = match stretch {
        Stretch::OneHour => 0,
        Stretch::TwoHours => 2,
        Stretch::EightHours => 4,
    } + usize::from(high);
    let wanted = per_minute.max(FEWEST);
    for pair in FREQUENCIES.windows(2) {
        let ((from, low), (to, up)) = (&pair[0], &pair[1]);
        if wanted <= *to {
            if up[column] == 0.0 && wanted > *from {
                return 0.0;
            }
            let share = (wanted - from) / (to - from);
            return low[column] + share * (up[column] - low[column]);
        }
    }
    0.0
}

/// Who or what should lift a mass.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Lifter {
    /// One person.
    OnePerson,
    /// Two people.
    TwoPeople,
    /// A hoist.
    Hoist,
}

impl fmt::Display for Lifter {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Lifter::OnePerson => "one person",
            Lifter::TwoPeople => "two people",
            Lifter::Hoist => "a hoist",
        })
    }
}

/// What two limits make of a mass.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Advice {
    /// The least that will do.
    pub lifter: Lifter,
    /// Limits for one and for two people.
    pub limits: Band<Mass>,
    /// Mass over the recommended weight for one person; more than any number where that weight is nothing.
    pub lifting_index: f64,
    /// Whether the shop's own limit was the lower one.
    pub shop_decides: bool,
}

/// Advice for a mass. The shop's own limit for one person counts where it is lower, never where it is higher.
pub(crate) fn advise(mass: Mass, recommended: &Recommended, shop_limit: Option<Mass>) -> Advice {
    let shop_decides = shop_limit.is_some_and(|limit| limit < recommended.weight);
    let one = shop_limit.map_or(recommended.weight, |limit| limit.min(recommended.weight));
    let two = one * (2.0 * TWO_PEOPLE_SHARE);
    let lifter = if mass <= one {
        Lifter::OnePerson
    } else if mass <= two {
        Lifter::TwoPeople
    } else {
        Lifter::Hoist
    };
    Advice {
        lifter,
        limits: Band { low: one, high: two },
        lifting_index: mass / recommended.weight,
        shop_decides,
    }
}
