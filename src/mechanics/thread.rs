//! Screw threads: a designation such as `M12x1.25` or `3/8-16 UNC` to its diameters and stress area.
//!
//! Which pitch belongs to which diameter stands in `thread_table`. Threads of other kinds (pipe, Whitworth)
//! are not known here, and nothing is computed for them.

use std::fmt;

use crate::english::Mend;

use super::citation::{Citation, Seen};
use super::thread_table::{INCH, InchRow, METRIC, MetricRow};
use crate::quantity::{Area, Length};

/// Stress area and diameters of metric threads.
pub(crate) const METRIC_SOURCE: Citation = Citation::new(
    "ISO 898-1: A_s = π/4 · ((d2 + d3)/2)², d2 = d − 0.649519 P, d3 = d − 1.226869 P",
    Seen::FromMemory,
);
/// Stress area of inch threads.
pub(crate) const INCH_SOURCE: Citation =
    Citation::new("FED-STD-H28/2B Table II.B.1 formula (1b): A_t = 0.7854 (D − 0.9743/n)²", Seen::Read);

/// Which family of threads.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Series {
    /// ISO metric, the pitch that goes without saying.
    MetricCoarse,
    /// ISO metric, another pitch.
    MetricFine,
    /// Unified coarse.
    UnifiedCoarse,
    /// Unified fine.
    UnifiedFine,
    /// Unified extra fine.
    UnifiedExtraFine,
    /// Unified, a pitch outside these series.
    UnifiedSpecial,
}

impl Series {
    /// Whether the thread is measured in millimetres.
    pub fn is_metric(self) -> bool {
        matches!(self, Series::MetricCoarse | Series::MetricFine)
    }
}

/// A screw thread of a known series.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Thread {
    series: Series,
    /// As the size is written: `M12`, `3/8`, `No. 8`.
    size: &'static str,
    diameter: Length,
    /// Pitch in millimetres, or threads per inch.
    pitch_written: f64,
}

/// Why a designation names no thread that is known here.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum ThreadError {
    /// It is neither of the form `M12x1.25` nor `3/8-16 UNC`.
    NoDesignation {
        /// As written.
        text: String,
    },
    /// The diameter is not in the series.
    NoSuchSize {
        /// As written.
        size: String,
    },
    /// The diameter is known, this pitch of it is not.
    NoSuchPitch {
        /// As written.
        text: String,
        /// Designations of this size that are known.
        known: Vec<String>,
    },
    /// The series named is not that of the pitch.
    WrongSeries {
        /// As written.
        text: String,
        /// The designation with its own series.
        right: String,
    },
}

impl ThreadError {
    /// What mends it.
    pub fn mend(&self) -> Mend {
        match self {
            ThreadError::NoDesignation { .. } => {
                Mend::write("a thread as `M12`, `M12x1.25`, `3/8-16 UNC` or `No. 8-32 UNC`")
            }
            ThreadError::NoSuchSize { .. } => Mend::doing(
                "sizes known are M1.6 to M39 and No. 4 to 1 1/2 in; other threads carry no strength values",
            ),
            ThreadError::NoSuchPitch { known, .. } => Mend::doing(format!("known are {}", known.join(", "))),
            ThreadError::WrongSeries { right, .. } => Mend::write(format!("`{right}`")),
        }
    }
}

impl fmt::Display for ThreadError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            ThreadError::NoDesignation { text } => write!(f, "`{text}` is no thread designation"),
            ThreadError::NoSuchSize { size } => write!(f, "no thread size `{size}` is known"),
            ThreadError::NoSuchPitch { text, .. } => write!(f, "`{text}` has no pitch of its series"),
            ThreadError::WrongSeries { text, .. } => write!(f, "`{text}` names the wrong series"),
        }
    }
}

impl std::error::Error for ThreadError {}

impl Thread {
    /// Reads `M8` (coarse goes without saying), `M8x1`, `3/8-16 UNC`, `3/8-16`, `No. 8-32 UNC`, `1 1/8-7 UNC`.
    ///
    /// # Errors
    /// Says which part is unknown and what is known.
    pub fn parse(text: &str) -> Result<Thread, ThreadError> {
        let text = text.trim();
        match text.strip_prefix('M') {
            Some(rest) => parse_metric(text, rest),
            None => parse_inch(text),
        }
    }

    /// Every thread of the tables, in order of size.
    pub fn all() -> Vec<Thread> {
        let metric = METRIC.iter().flat_map(|row| row.pitches().map(|pitch| row.thread(pitch)));
        let inch = INCH.iter().flat_map(|row| row.pitches().map(|(series, pitch)| row.thread(series, pitch)));
        metric.chain(inch).collect()
    }

    /// The family it belongs to.
    pub fn series(&self) -> Series {
        self.series
    }

    /// Nominal diameter d.
    pub fn diameter(&self) -> Length {
        self.diameter
    }

    /// Pitch P.
    pub fn pitch(&self) -> Length {
        if self.series.is_metric() {
            Length::from_mm(self.pitch_written)
        } else {
            Length::from_inches(1.0 / self.pitch_written)
        }
    }

    /// Pitch diameter d2 = d − 0.649519 P.
    pub fn pitch_diameter(&self) -> Length {
        self.diameter - self.pitch() * 0.649_519
    }

    /// Minor diameter of the bolt at the root, d3 = d − 1.226869 P.
    pub fn root_diameter(&self) -> Length {
        self.diameter - self.pitch() * 1.226_869
    }

    /// Minor diameter of the nut, D1 = d − 1.082532 P.
    pub fn nut_minor_diameter(&self) -> Length {
        self.diameter - self.pitch() * 1.082_532
    }

    /// Diameter of a round bar with the stress area: (d2 + d3)/2, or D − 0.9743/n for inch threads.
    pub fn stress_diameter(&self) -> Length {
        if self.series.is_metric() {
            (self.pitch_diameter() + self.root_diameter()) / 2.0
        } else {
            // 9√3/16 = 0.9743, from the formula before rounding.
            self.diameter - self.pitch() * (9.0 * 3f64.sqrt() / 16.0)
        }
    }

    /// Nominal stress area. See [`Thread::source`].
    pub fn stress_area(&self) -> Area {
        circle(self.stress_diameter())
    }

    /// Area at the root, π/4 · d3².
    pub fn root_area(&self) -> Area {
        circle(self.root_diameter())
    }

    /// Area of the plain shank, π/4 · d².
    pub fn shank_area(&self) -> Area {
        circle(self.diameter)
    }

    /// Where the stress area's formula comes from.
    pub fn source(&self) -> Citation {
        if self.series.is_metric() { METRIC_SOURCE } else { INCH_SOURCE }
    }
}

impl MetricRow {
    fn pitches(&self) -> impl Iterator<Item = f64> {
        self.coarse.into_iter().chain(self.fine.iter().copied())
    }

    fn thread(&self, pitch: f64) -> Thread {
        let series = if self.coarse == Some(pitch) { Series::MetricCoarse } else { Series::MetricFine };
        Thread { series, size: self.size, diameter: Length::from_mm(self.diameter), pitch_written: pitch }
    }
}

impl InchRow {
    fn pitches(&self) -> impl Iterator<Item = (Series, f64)> {
        let special = self.special.map(|pitch| (Series::UnifiedSpecial, pitch));
        let extra_fine = self.extra_fine.map(|pitch| (Series::UnifiedExtraFine, pitch));
        [(Series::UnifiedCoarse, self.coarse), (Series::UnifiedFine, self.fine)]
            .into_iter()
            .chain(extra_fine)
            .chain(special)
    }

    fn thread(&self, series: Series, pitch: f64) -> Thread {
        Thread { series, size: self.size, diameter: Length::from_inches(self.diameter), pitch_written: pitch }
    }
}

/// Area of a circle of this diameter.
pub(super) fn circle(diameter: Length) -> Area {
    Area::from_square_mm(std::f64::consts::FRAC_PI_4 * diameter.mm() * diameter.mm())
}

fn parse_metric(text: &str, rest: &str) -> Result<Thread, ThreadError> {
    let (size, pitch) = match rest.split_once(['x', '×']) {
        Some((size, pitch)) => (size.trim(), Some(pitch.trim())),
        None => (rest, None),
    };
    let number = |part: &str| {
        let plain = part.bytes().all(|b| b.is_ascii_digit() || b == b'.');
        if plain { part.parse::<f64>().ok() } else { None }
    };
    let wrong = || ThreadError::NoDesignation { text: text.to_owned() };
    let diameter = number(size).ok_or_else(wrong)?;
    let row = METRIC
        .iter()
        .find(|row| row.diameter == diameter)
        .ok_or_else(|| ThreadError::NoSuchSize { size: format!("M{size}") })?;
    let wanted = match pitch {
        Some(pitch) => Some(number(pitch).ok_or_else(wrong)?),
        None => row.coarse,
    };
    match wanted.filter(|wanted| row.pitches().any(|pitch| pitch == *wanted)) {
        Some(pitch) => Ok(row.thread(pitch)),
        None => Err(ThreadError::NoSuchPitch {
            text: text.to_owned(),
            known: row.pitches().map(|pitch| row.thread(pitch).to_string()).collect(),
        }),
    }
}

fn parse_inch(text: &str) -> Result<Thread, ThreadError> {
    let wrong = || ThreadError::NoDesignation { text: text.to_owned() };
    let (body, named) = match text.rsplit_once(' ') {
        Some((body, "UNC")) => (body, Some(Series::UnifiedCoarse)),
        Some((body, "UNF")) => (body, Some(Series::UnifiedFine)),
        Some((body, "UNEF")) => (body, Some(Series::UnifiedExtraFine)),
        Some((body, "UNS" | "UN")) => (body, Some(Series::UnifiedSpecial)),
        _ => (text, None),
    };
    let (size, threads) = body.rsplit_once('-').ok_or_else(wrong)?;
    let threads: u32 = threads.trim().parse().map_err(|_| wrong())?;
    let size = size.trim().trim_start_matches("No.").trim_start_matches('#').trim().replace('-', " ");
    let row = INCH
        .iter()
        .find(|row| row.size.trim_start_matches("No. ") == size)
        .ok_or_else(|| ThreadError::NoSuchSize { size: size.clone() })?;
    let known = || row.pitches().map(|(series, pitch)| row.thread(series, pitch));
    let thread = known().find(|thread| thread.pitch_written == f64::from(threads)).ok_or_else(|| {
        ThreadError::NoSuchPitch {
            text: text.to_owned(),
            known: known().map(|thread| thread.to_string()).collect(),
        }
    })?;
    match named {
        Some(series) if series != thread.series => {
            Err(ThreadError::WrongSeries { text: text.to_owned(), right: thread.to_string() })
        }
        _ => Ok(thread),
    }
}

/// The full designation: `M12x1.25`, `M8` where the coarse pitch goes without saying, `3/8-16 UNC`.
impl fmt::Display for Thread {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.series {
            Series::MetricCoarse => f.write_str(self.size),
            Series::MetricFine => write!(f, "{}x{}", self.size, self.pitch_written),
            Series::UnifiedCoarse => write!(f, "{}-{} UNC", self.size, self.pitch_written),
            Series::UnifiedFine => write!(f, "{}-{} UNF", self.size, self.pitch_written),
            Series::UnifiedExtraFine => write!(f, "{}-{} UNEF", self.size, self.pitch_written),
            Series::UnifiedSpecial => write!(f, "{}-{} UNS", self.size, self.pitch_written),
        }
    }
}
