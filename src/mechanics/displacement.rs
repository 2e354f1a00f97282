//! Displacement and compression ratio of a piston engine.

use super::citation::{Citation, Seen};
use crate::quantity::{Length, Ratio, Volume};

/// Swept volume.
pub(crate) const SWEPT_SOURCE: Citation =
    Citation::new("V = π (B/2)² S N, FAA-H-8083-30 chapter 1", Seen::ReadCopy);
/// Compression ratio.
pub(crate) const RATIO_SOURCE: Citation =
    Citation::new("ratio = (V_d + V_c)/V_c, by definition", Seen::Derived);

/// Volume that one piston sweeps.
pub(crate) fn swept(bore: Length, stroke: Length) -> Volume {
    let radius = bore.mm() / 20.0;
    Volume::from_cubic_centimetres(std::f64::consts::PI * radius * radius * stroke.mm() / 10.0)
}

/// Volume at bottom dead centre over that at top dead centre.
pub(crate) fn compression_ratio(swept: Volume, chamber: Volume) -> Ratio {
    Ratio::from_fraction((swept + chamber) / chamber)
}
