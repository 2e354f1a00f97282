//! Displacement and compression ratio.

use std::f64::consts::PI;

use super::Measured;

/// Swept volume of all cylinders: area of the bore times stroke times number of cylinders.
///
/// Formula: Aviation Maintenance Technician Handbook, General, mathematics chapter (read
/// in a reprint).
pub fn displacement(bore: Measured, stroke: Measured, cylinders: u32) -> Measured {
    Measured::exact(PI / 4.0) * bore * bore * stroke * Measured::exact(f64::from(cylinders))
}

/// Compression ratio from the swept volume of one cylinder and the volume left above the piston: (swept + left)
/// ÷ left. None where nothing may be left. By definition.
pub fn compression_ratio(swept: Measured, left: Measured) -> Option<Measured> {
    // Written so that the volume left stands only once, which keeps the bounds as narrow as they are.
    swept.over(left).map(|ratio| ratio + Measured::exact(1.0))
}
