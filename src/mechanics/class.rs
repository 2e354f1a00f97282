//! Strength of bolts and nuts by the class marked on them.
//!
//! Sources: metric classes ISO 898-1 (read in a copy; 4.8 and 5.6 from memory), inch grades SAE J429 (read
//! in a copy). Values step with the size of the bolt.

use std::fmt;

use crate::english::Mend;

use super::citation::{Citation, Seen};
use super::thread::Thread;
use crate::quantity::{Force, Pressure};

/// Metric property classes.
pub(crate) const METRIC_SOURCE: Citation = Citation::new("ISO 898-1, property classes", Seen::ReadCopy);
/// Classes 4.8 and 5.6.
const METRIC_RECALLED: Citation = Citation::new("ISO 898-1, property classes", Seen::FromMemory);
/// Inch grades.
pub(crate) const INCH_SOURCE: Citation = Citation::new("SAE J429", Seen::ReadCopy);

/// A bolt's property class or grade.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
#[allow(missing_docs)]
pub enum Class {
    Iso4_6,
    Iso4_8,
    Iso5_6,
    Iso5_8,
    Iso6_8,
    Iso8_8,
    Iso9_8,
    Iso10_9,
    Iso12_9,
    Sae2,
    Sae5,
    Sae8,
}

/// Guaranteed stresses of a bolt.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Strength {
    /// Stress it bears without lasting stretch, S_p.
    pub proof: Pressure,
    /// Least yield stress, R_eL or R_p0.2.
    pub yielding: Pressure,
    /// Least tensile strength, R_m.
    pub tensile: Pressure,
}

/// Why a class gives no strength.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum ClassError {
    /// No class is written like this.
    Unknown {
        /// As written.
        text: String,
    },
    /// The class doesn't exist for this thread.
    OutOfRange {
        /// The class.
        class: Class,
        /// The thread.
        thread: String,
        /// For what the class exists.
        range: &'static str,
    },
}

impl ClassError {
    /// What mends it.
    pub fn mend(&self) -> Mend {
        match self {
            ClassError::Unknown { .. } => {
                let names: Vec<String> = Class::ALL.iter().map(Class::to_string).collect();
                Mend::doing(format!("classes known are {}", names.join(", ")))
            }
            ClassError::OutOfRange { class, range, .. } => {
                Mend::doing(format!("class {class} is for {range}"))
            }
        }
    }
}

impl fmt::Display for ClassError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            ClassError::Unknown { text } => write!(f, "no property class is written `{text}`"),
            ClassError::OutOfRange { class, thread, .. } => {
                write!(f, "class `{class}` has no values for thread `{thread}`")
            }
        }
    }
}

impl std::error::Error for ClassError {}

/// Class, upper end of the diameters in millimetres (inches for grades), then proof, yield and tensile in
/// megapascals (psi for grades). Rows of one class in order of size. Of [`METRIC_SOURCE`] and [`INCH_SOURCE`]; 4.8 and
/// 5.6 of [`METRIC_RECALLED`].
#[rustfmt::skip]
const STRENGTHS: [(Class, f64, f64, f64, f64); 15] = [
    (Class::Iso4_6,  39.0,  225.0,    240.0,    400.0),
    (Class::Iso4_8,  39.0,  310.0,    340.0,    420.0),
    (Class::Iso5_6,  39.0,  280.0,    300.0,    500.0),
    (Class::Iso5_8,  39.0,  380.0,    420.0,    520.0),
    (Class::Iso6_8,  39.0,  440.0,    480.0,    600.0),
    (Class::Iso8_8,  16.0,  580.0,    640.0,    800.0),
    (Class::Iso8_8,  39.0,  600.0,    660.0,    830.0),
    (Class::Iso9_8,  16.0,  650.0,    720.0,    900.0),
    (Class::Iso10_9, 39.0,  830.0,    940.0,   1040.0),
    (Class::Iso12_9, 39.0,  970.0,   1100.0,   1220.0),
    (Class::Sae2,    0.75,  55_000.0, 57_000.0, 74_000.0),
    (Class::Sae2,    1.5,   33_000.0, 36_000.0, 60_000.0),
    (Class::Sae5,    1.0,   85_000.0, 92_000.0, 120_000.0),
    (Class::Sae5,    1.5,   74_000.0, 81_000.0, 105_000.0),
    (Class::Sae8,    1.5,  120_000.0, 130_000.0, 150_000.0),
];

impl Class {
    /// Every class, weakest first, metric before inch.
    pub const ALL: [Class; 12] = [
        Class::Iso4_6,
        Class::Iso4_8,
        Class::Iso5_6,
        Class::Iso5_8,
        Class::Iso6_8,
        Class::Iso8_8,
        Class::Iso9_8,
        Class::Iso10_9,
        Class::Iso12_9,
        Class::Sae2,
        Class::Sae5,
        Class::Sae8,
    ];

    /// Reads `8.8`, `10.9`, `SAE 5`, `grade 5`.
    ///
    /// # Errors
    /// No class is written like this.
    pub fn parse(text: &str) -> Result<Class, ClassError> {
        let text = text.trim();
        let wanted = text.strip_prefix("grade ").map_or_else(|| text.to_owned(), |n| format!("SAE {n}"));
        Class::ALL
            .into_iter()
            .find(|class| class.to_string() == wanted)
            .ok_or_else(|| ClassError::Unknown { text: text.to_owned() })
    }

    /// Whether it is a class of metric bolts.
    pub fn is_metric(self) -> bool {
        self < Class::Sae2
    }

    /// Guaranteed stresses for a bolt of this thread. A metric class on an inch thread (or the reverse) uses
    /// the step that belongs to the diameter.
    ///
    /// # Errors
    /// The class doesn't exist at this size.
    pub fn strength(self, thread: &Thread) -> Result<Strength, ClassError> {
        let diameter = if self.is_metric() { thread.diameter().mm() } else { thread.diameter().inches() };
        let row = STRENGTHS.iter().find(|(class, up_to, ..)| *class == self && diameter <= up_to + 1e-9);
        let stress = |value| {
            if self.is_metric() { Pressure::from_megapascals(value) } else { Pressure::from_psi(value) }
        };
        match row {
            Some((_, _, proof, yielding, tensile)) => {
                Ok(Strength { proof: stress(*proof), yielding: stress(*yielding), tensile: stress(*tensile) })
            }
            None => Err(ClassError::OutOfRange {
                class: self,
                thread: thread.to_string(),
                range: match self {
                    Class::Iso9_8 => "bolts up to 16 mm",
                    _ if self.is_metric() => "bolts up to 39 mm",
                    _ => "bolts up to 1 1/2 in",
                },
            }),
        }
    }

    /// What the class says only of some bolts of this thread, of [`INCH_SOURCE`]; or that it isn't one for such threads.
    pub(crate) fn proviso(self, thread: &Thread) -> Option<&'static str> {
        if self.is_metric() != thread.series().is_metric() {
            return Some(
                "class and thread are of different standards; such bolts may be made, but which is meant should be looked at again",
            );
        }
        (self == Class::Sae2 && thread.diameter().inches() <= 0.75 + 1e-9).then_some(
            "SAE 2 of 3/4 in and less has these stresses only up to a length of 6 in; longer ones have those of the larger \
             sizes: proof 33,000, yield 36,000, tensile 60,000 psi",
        )
    }

    /// Where the stresses come from.
    pub fn source(self) -> Citation {
        match self {
            Class::Iso4_8 | Class::Iso5_6 => METRIC_RECALLED,
            _ if self.is_metric() => METRIC_SOURCE,
            _ => INCH_SOURCE,
        }
    }
}

impl fmt::Display for Class {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Class::Iso4_6 => "4.6",
            Class::Iso4_8 => "4.8",
            Class::Iso5_6 => "5.6",
            Class::Iso5_8 => "5.8",
            Class::Iso6_8 => "6.8",
            Class::Iso8_8 => "8.8",
            Class::Iso9_8 => "9.8",
            Class::Iso10_9 => "10.9",
            Class::Iso12_9 => "12.9",
            Class::Sae2 => "SAE 2",
            Class::Sae5 => "SAE 5",
            Class::Sae8 => "SAE 8",
        })
    }
}

/// Proof load: stress area times proof stress.
pub(crate) fn proof_load(thread: &Thread, strength: &Strength) -> Force {
    load(thread, strength.proof)
}

/// Load at which the bolt breaks at the latest: stress area times tensile strength.
pub(crate) fn ultimate_load(thread: &Thread, strength: &Strength) -> Force {
    load(thread, strength.tensile)
}

/// Load at which the bolt begins to yield in plain tension: stress area times yield stress.
pub(crate) fn yield_load(thread: &Thread, strength: &Strength) -> Force {
    load(thread, strength.yielding)
}

fn load(thread: &Thread, stress: Pressure) -> Force {
    Force::from_newtons(thread.stress_area().square_mm() * stress.megapascals())
}
