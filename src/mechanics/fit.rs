//! Limits and fits: a size with `H7/p6` to the limits of hole and shaft and the clearance between them.
//!
//! Tables for sizes up to 500 mm stand in `fit_table`. Holes follow from shafts by the standard's rules.

use std::fmt;

use crate::english::Mend;

use super::band::Band;
use super::citation::{Citation, Seen};
use super::fit_table as table;
use crate::quantity::Length;

/// Where limits come from.
pub(crate) const FIT_SOURCE: Citation = Citation::new(
    "ISO 286-1 and 286-2; holes H and shafts c to u, grades 5 to 11, compared whole with an independent open table",
    Seen::FromMemory,
);

/// A tolerance class: letter and grade, capital for holes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct ToleranceClass {
    letter: &'static str,
    hole: bool,
    grade: u8,
}

/// Why there are no limits.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum FitError {
    /// Not written as `H7/p6`.
    NotAFit {
        /// As written.
        text: String,
    },
    /// Not a class known here.
    NoSuchClass {
        /// As written.
        text: String,
    },
    /// The size is out of the tables.
    SizeOutOfRange,
    /// The class doesn't exist at this size.
    NotAtThisSize {
        /// The class.
        class: String,
    },
}

impl FitError {
    /// What mends it.
    pub(crate) fn mend(&self) -> Mend {
        match self {
            FitError::NotAFit { .. } => {
                Mend::write("the hole's class in a capital, a stroke, and the shaft's: `H7/p6`")
            }
            FitError::NoSuchClass { .. } => Mend::doing(format!(
                "letters known are {} and their capitals for holes; grades {} to {}",
                table::letters().collect::<Vec<_>>().join(", "),
                table::FIRST_GRADE,
                table::LAST_GRADE
            )),
            FitError::SizeOutOfRange => Mend::doing("sizes go from above 0 up to 500 mm"),
            FitError::NotAtThisSize { .. } => Mend::doing("choose a class that is tabled at this size"),
        }
    }
}

impl fmt::Display for FitError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            FitError::NotAFit { text } => write!(f, "`{text}` is no fit"),
            FitError::NoSuchClass { text } => write!(f, "no tolerance class `{text}` is known"),
            FitError::SizeOutOfRange => f.write_str("the size is outside the tables"),
            FitError::NotAtThisSize { class } => write!(f, "class `{class}` has no value at this size"),
        }
    }
}

impl std::error::Error for FitError {}

impl ToleranceClass {
    /// Reads `H7` (a hole) or `p6` (a shaft).
    ///
    /// # Errors
    /// The letter or the grade isn't known.
    pub(crate) fn parse(text: &str) -> Result<ToleranceClass, FitError> {
        let wrong = || FitError::NoSuchClass { text: text.to_owned() };
        let split = text.find(|c: char| c.is_ascii_digit()).ok_or_else(wrong)?;
        let (letter, grade) = text.split_at(split);
        let grade: u8 = grade.parse().map_err(|_| wrong())?;
        let lower = letter.to_lowercase();
        let hole = letter.chars().all(char::is_uppercase);
        let shaft = letter.chars().all(char::is_lowercase);
        let known = table::letters().find(|known| *known == lower).ok_or_else(wrong)?;
        if !(hole || shaft) || !(table::FIRST_GRADE..=table::LAST_GRADE).contains(&grade) {
            return Err(wrong());
        }
        Ok(ToleranceClass { letter: known, hole, grade })
    }

    /// Whether it is for a hole.
    pub(crate) fn is_hole(self) -> bool {
        self.hole
    }

    /// Lower and upper deviation from a nominal size.
    ///
    /// # Errors
    /// The size is outside the tables, or the class doesn't exist there.
    pub(crate) fn deviations(self, size: Length) -> Result<Band<Length>, FitError> {
        let tolerance = table::tolerance_um(size, self.grade).ok_or(FitError::SizeOutOfRange)?;
        if self.letter == "js" {
            return Ok(Band { low: micrometres(-tolerance / 2.0), high: micrometres(tolerance / 2.0) });
        }
        let shaft = table::shaft_deviation_um(size, self.letter, self.grade)
            .ok_or_else(|| FitError::NotAtThisSize { class: self.to_string() })?;
        let above = table::lies_above(self.letter);
        if self.hole && self.letter == "k" && self.grade > 8 && size.mm() > 3.0 {
            return Err(FitError::NotAtThisSize { class: self.to_string() });
        }
        // What is given is the deviation nearest the nominal size; the tolerance points away from it.
        Ok(match (self.hole, above) {
            (false, false) => Band { low: micrometres(shaft - tolerance), high: micrometres(shaft) },
            (false, true) => Band { low: micrometres(shaft), high: micrometres(shaft + tolerance) },
            (true, false) => Band { low: micrometres(-shaft), high: micrometres(-shaft + tolerance) },
            (true, true) => {
                let upper = self.hole_upper_um(size, shaft);
                Band { low: micrometres(upper - tolerance), high: micrometres(upper) }
            }
        })
    }

    /// Upper deviation of holes K to ZC: the shaft's reversed, plus the step between this grade and the next finer
    /// one for K, M and N up to grade 8 and P onwards up to grade 7, from 3 mm up.
    fn hole_upper_um(self, size: Length, shaft: f64) -> f64 {
        if self.letter == "n" && self.grade > 8 && size.mm() > 3.0 {
            return 0.0;
        }
        let stepped = self.grade <= if matches!(self.letter, "k" | "m" | "n") { 8 } else { 7 };
        let step = if stepped && size.mm() > 3.0 { table::step_um(size, self.grade) } else { None };
        // The one exception in the standard: M6 over 250 up to 315 mm.
        if self.letter == "m" && self.grade == 6 && size.mm() > 250.0 && size.mm() <= 315.0 {
            return -9.0;
        }
        // At grade 8 holes K take the shaft deviation of the fine grades.
        let shaft =
            if self.letter == "k" { table::shaft_deviation_um(size, "k", 7).unwrap_or(shaft) } else { shaft };
        -shaft + step.unwrap_or(0.0)
    }
}

impl fmt::Display for ToleranceClass {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.hole {
            write!(f, "{}{}", self.letter.to_uppercase(), self.grade)
        } else {
            write!(f, "{}{}", self.letter, self.grade)
        }
    }
}

fn micrometres(value: f64) -> Length {
    Length::from_mm(value / 1e3)
}

/// What a fit is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum FitKind {
    /// Always some play.
    Clearance,
    /// Play or grip, as the sizes fall.
    Transition,
    /// Always grip.
    Interference,
}

/// Hole and shaft of one nominal size.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Fit {
    /// Deviations of the hole.
    pub hole: Band<Length>,
    /// Deviations of the shaft.
    pub shaft: Band<Length>,
}

impl Fit {
    /// Least to greatest clearance; below nothing it is interference.
    pub(crate) fn clearance(&self) -> Band<Length> {
        Band { low: self.hole.low - self.shaft.high, high: self.hole.high - self.shaft.low }
    }

    /// What it is. A fit whose limits just touch counts as the kind that it otherwise is.
    pub(crate) fn kind(&self) -> FitKind {
        let clearance = self.clearance();
        let hair = micrometres(1e-6);
        if clearance.low >= -hair {
            FitKind::Clearance
        } else if clearance.high <= hair {
            FitKind::Interference
        } else {
            FitKind::Transition
        }
    }
}

/// Reads `H7/p6`: hole first.
///
/// # Errors
/// It isn't written so, or a class isn't known.
pub(crate) fn parse(text: &str) -> Result<(ToleranceClass, ToleranceClass), FitError> {
    let wrong = || FitError::NotAFit { text: text.to_owned() };
    let (hole, shaft) = text.split_once('/').ok_or_else(wrong)?;
    let (hole, shaft) = (ToleranceClass::parse(hole.trim())?, ToleranceClass::parse(shaft.trim())?);
    if hole.is_hole() && !shaft.is_hole() { Ok((hole, shaft)) } else { Err(wrong()) }
}

/// Limits of hole and shaft for a size.
///
/// # Errors
/// The size is outside the tables, or a class doesn't exist there.
pub(crate) fn fit(size: Length, hole: ToleranceClass, shaft: ToleranceClass) -> Result<Fit, FitError> {
    Ok(Fit { hole: hole.deviations(size)?, shaft: shaft.deviations(size)? })
}
