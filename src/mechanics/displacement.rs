//! Displacement and compression ratio of a piston engine.

use super::citation::{Citation, Seen};
use super::thread::circle;
use crate::quantity::{Length, Ratio, Volume};

/// Swept volume.
pub(crate) const SWEPT_SOURCE: Citation =
    Citation::new("V = π (B/2)² S N, FAA-H-8083-30 chapter 1", Seen::ReadCopy);
/// Compression ratio.
pub(crate) const RATIO_SOURCE: Citation =
    Citation::new("ratio = (V_d + V_c)/V_c, by definition", Seen::Derived);

/// A round disc of this diameter and thickness; below nothing where the thickness is.
pub(crate) fn disc(diameter: Length, thickness: Length) -> Volume {
    Volume::from_cubic_centimetres(circle(diameter).square_mm() * thickness.mm() / 1e3)
}

/// Volume that one piston sweeps.
pub(crate) fn swept(bore: Length, stroke: Length) -> Volume {
    disc(bore, stroke)
}

/// Volume at bottom dead centre over that at top dead centre.
pub(crate) fn compression_ratio(swept: Volume, chamber: Volume) -> Ratio {
    Ratio::from_fraction((swept + chamber) / chamber)
}

/// What makes up the volume above a piston at top dead centre.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Above {
    /// Bore of the cylinder.
    pub bore: Length,
    /// Chamber in the head, valves and plug in.
    pub chamber: Volume,
    /// Hole of the gasket.
    pub gasket_bore: Length,
    /// Gasket, crushed.
    pub gasket: Length,
    /// From the deck down to the flat of the piston; below nothing where it stands out.
    pub deck: Length,
    /// Hollow of the piston; below nothing for a dome.
    pub dish: Volume,
}

impl Above {
    /// The whole of it.
    pub(crate) fn volume(&self) -> Volume {
        self.chamber + disc(self.gasket_bore, self.gasket) + disc(self.bore, self.deck) + self.dish
    }

    /// What is to be cut from the deck for a wanted ratio, above one; below nothing where it would have to be added.
    pub(crate) fn cut_for(&self, swept: Volume, wanted: Ratio) -> Length {
        let excess = self.volume() - swept / (wanted.fraction() - 1.0);
        Length::from_mm(excess.cubic_centimetres() * 1e3 / circle(self.bore).square_mm())
    }
}
