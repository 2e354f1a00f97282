//! Standard tolerances and fundamental deviations up to 500 mm, in micrometres: ISO 286-1, from memory.
//!
//! Ranges are "over a, up to and including b".

use crate::quantity::Length;

/// Finest grade tabled here; the standard has finer ones.
pub(super) const FIRST_GRADE: u8 = 4;
/// Coarsest grade tabled here; the standard has coarser ones.
pub(super) const LAST_GRADE: u8 = 12;

/// Upper ends of the main ranges in millimetres: ISO 286-1, from memory.
const MAIN: [f64; 13] = [3.0, 6.0, 10.0, 18.0, 30.0, 50.0, 80.0, 120.0, 180.0, 250.0, 315.0, 400.0, 500.0];
/// Upper ends of the ranges for letters with finer steps: ISO 286-1, from memory.
const FINE: [f64; 25] = [
    3.0, 6.0, 10.0, 14.0, 18.0, 24.0, 30.0, 40.0, 50.0, 65.0, 80.0, 100.0, 120.0, 140.0, 160.0, 180.0, 200.0,
    225.0, 250.0, 280.0, 315.0, 355.0, 400.0, 450.0, 500.0,
];

/// Tolerance by grade (from 4) and main range: ISO 286-1, from memory.
#[rustfmt::skip]
const TOLERANCES: [[f64; 13]; 9] = [
    [ 3.0,   4.0,   4.0,   5.0,   6.0,   7.0,   8.0,  10.0,  12.0,  14.0,  16.0,  18.0,  20.0],
    [ 4.0,   5.0,   6.0,   8.0,   9.0,  11.0,  13.0,  15.0,  18.0,  20.0,  23.0,  25.0,  27.0],
    [ 6.0,   8.0,   9.0,  11.0,  13.0,  16.0,  19.0,  22.0,  25.0,  29.0,  32.0,  36.0,  40.0],
    [10.0,  12.0,  15.0,  18.0,  21.0,  25.0,  30.0,  35.0,  40.0,  46.0,  52.0,  57.0,  63.0],
    [14.0,  18.0,  22.0,  27.0,  33.0,  39.0,  46.0,  54.0,  63.0,  72.0,  81.0,  89.0,  97.0],
    [25.0,  30.0,  36.0,  43.0,  52.0,  62.0,  74.0,  87.0, 100.0, 115.0, 130.0, 140.0, 155.0],
    [40.0,  48.0,  58.0,  70.0,  84.0, 100.0, 120.0, 140.0, 160.0, 185.0, 210.0, 230.0, 250.0],
    [60.0,  75.0,  90.0, 110.0, 130.0, 160.0, 190.0, 220.0, 250.0, 290.0, 320.0, 360.0, 400.0],
    [100.0, 120.0, 150.0, 180.0, 210.0, 250.0, 300.0, 350.0, 400.0, 460.0, 520.0, 570.0, 630.0],
];

/// Tolerances of grade 3, which no class here has: only the step from it to grade 4 counts, for holes. ISO 286-1, from
/// memory.
const GRADE_3: [f64; 13] = [2.0, 2.5, 2.5, 3.0, 4.0, 4.0, 5.0, 6.0, 8.0, 10.0, 12.0, 13.0, 15.0];

/// Shaft letters on the main ranges: upper deviation below the nominal size, lower deviation above it. ISO 286-1, from
/// memory.
#[rustfmt::skip]
const ON_MAIN: [(&str, [f64; 13]); 9] = [
    ("d", [-20.0, -30.0, -40.0, -50.0, -65.0, -80.0, -100.0, -120.0, -145.0, -170.0, -190.0, -210.0, -230.0]),
    ("e", [-14.0, -20.0, -25.0, -32.0, -40.0, -50.0, -60.0, -72.0, -85.0, -100.0, -110.0, -125.0, -135.0]),
    ("f", [-6.0, -10.0, -13.0, -16.0, -20.0, -25.0, -30.0, -36.0, -43.0, -50.0, -56.0, -62.0, -68.0]),
    ("g", [-2.0, -4.0, -5.0, -6.0, -7.0, -9.0, -10.0, -12.0, -14.0, -15.0, -17.0, -18.0, -20.0]),
    ("h", [0.0; 13]),
    ("k", [0.0, 1.0, 1.0, 1.0, 2.0, 2.0, 2.0, 3.0, 3.0, 4.0, 4.0, 4.0, 5.0]),
    ("m", [2.0, 4.0, 6.0, 7.0, 8.0, 9.0, 11.0, 13.0, 15.0, 17.0, 20.0, 21.0, 23.0]),
    ("n", [4.0, 8.0, 10.0, 12.0, 15.0, 17.0, 20.0, 23.0, 27.0, 31.0, 34.0, 37.0, 40.0]),
    ("p", [6.0, 12.0, 15.0, 18.0, 22.0, 26.0, 32.0, 37.0, 43.0, 50.0, 56.0, 62.0, 68.0]),
];

/// No value at this size.
const NONE: f64 = f64::NAN;

/// Shaft letters on the finer ranges: ISO 286-1, from memory.
#[rustfmt::skip]
const ON_FINE: [(&str, [f64; 25]); 5] = [
    ("c", [-60.0, -70.0, -80.0, -95.0, -95.0, -110.0, -110.0, -120.0, -130.0, -140.0, -150.0, -170.0, -180.0, -200.0,
           -210.0, -230.0, -240.0, -260.0, -280.0, -300.0, -330.0, -360.0, -400.0, -440.0, -480.0]),
    ("r", [10.0, 15.0, 19.0, 23.0, 23.0, 28.0, 28.0, 34.0, 34.0, 41.0, 43.0, 51.0, 54.0, 63.0, 65.0, 68.0, 77.0, 80.0,
           84.0, 94.0, 98.0, 108.0, 114.0, 126.0, 132.0]),
    ("s", [14.0, 19.0, 23.0, 28.0, 28.0, 35.0, 35.0, 43.0, 43.0, 53.0, 59.0, 71.0, 79.0, 92.0, 100.0, 108.0, 122.0,
           130.0, 140.0, 158.0, 170.0, 190.0, 208.0, 232.0, 252.0]),
    ("t", [NONE, NONE, NONE, NONE, NONE, NONE, 41.0, 48.0, 54.0, 66.0, 75.0, 91.0, 104.0, 122.0, 134.0, 146.0, 166.0,
           180.0, 196.0, 218.0, 240.0, 268.0, 294.0, 330.0, 360.0]),
    ("u", [18.0, 23.0, 28.0, 33.0, 33.0, 41.0, 48.0, 60.0, 70.0, 87.0, 102.0, 124.0, 144.0, 170.0, 190.0, 210.0, 236.0,
           258.0, 284.0, 315.0, 350.0, 390.0, 435.0, 490.0, 540.0]),
];

/// Every letter there is, as shafts.
pub(super) fn letters() -> impl Iterator<Item = &'static str> {
    let mut all: Vec<&str> = ON_MAIN.iter().map(|(letter, _)| *letter).collect();
    all.extend(ON_FINE.iter().map(|(letter, _)| *letter));
    all.push("js");
    all.sort_unstable();
    all.into_iter()
}

/// Whether a shaft of this letter lies above the nominal size.
pub(super) fn lies_above(letter: &str) -> bool {
    letter >= "k"
}

fn range(ends: &[f64], size: Length) -> Option<usize> {
    let size = size.mm();
    // A hair of slack, so that a size converted from another unit stays in its range.
    if size <= 0.0 { None } else { ends.iter().position(|end| size <= end + 1e-9) }
}

/// Standard tolerance of a grade at a size.
pub(super) fn tolerance_um(size: Length, grade: u8) -> Option<f64> {
    let row = TOLERANCES.get(usize::from(grade.checked_sub(FIRST_GRADE)?))?;
    range(&MAIN, size).map(|column| row[column])
}

/// The step from the next finer grade to this one.
pub(super) fn step_um(size: Length, grade: u8) -> Option<f64> {
    let finer = if grade == FIRST_GRADE {
        range(&MAIN, size).map(|column| GRADE_3[column])
    } else {
        tolerance_um(size, grade - 1)
    };
    Some(tolerance_um(size, grade)? - finer?)
}

/// Deviation of a shaft nearest the nominal size.
pub(super) fn shaft_deviation_um(size: Length, letter: &str, grade: u8) -> Option<f64> {
    if letter == "k" && grade > 7 {
        return Some(0.0);
    }
    if let Some((_, row)) = ON_MAIN.iter().find(|(name, _)| *name == letter) {
        return range(&MAIN, size).map(|column| row[column]);
    }
    let (_, row) = ON_FINE.iter().find(|(name, _)| *name == letter)?;
    range(&FINE, size).map(|column| row[column]).filter(|value| !value.is_nan())
}
