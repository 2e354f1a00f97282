//! A bolted joint as a plate on a gasket: holes, bolt and gasket stiffness and preload to the load on each
//! fastener while others are tightened or released.
//!
//! The plate (rigid, or thin and elastic for covers) lies on gasket cells that only push, and is held by bolts
//! that only pull. Left out are creep and hysteresis of the gasket, yield, seized threads, bolt bending and ribs,
//! so what comes out is a class with its assumptions, never a single number to trust. It knows points and
//! springs, and not what the joint is called.

mod linear;
mod outline;
mod plate;
mod release;
mod state;
mod tighten;

pub(crate) use outline::GasketShape;
pub(crate) use plate::{Plate, modulus_of, plate_metals};
pub(crate) use release::study as study_release;
pub(crate) use release::{Course, ReleaseReport, Risk, course_in_rounds};
pub(crate) use state::{NoEquilibrium, State};
pub(crate) use tighten::{Pass, PassResult, study_passes};

use super::band::Band;
use super::citation::{Citation, Seen};
use super::pattern::Point;
use crate::quantity::{Force, Length, Ratio, Stiffness};

/// The model is our own; its parts are ordinary statics.
pub(crate) const MODEL_SOURCE: Citation = Citation::new(
    "plate on compression-only gasket springs with tension-only bolt springs, our own model; bolt stiffness VDI 2230, from memory",
    Seen::Estimate,
);

/// One fastener as a spring.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Bolt {
    /// Where it stands.
    pub at: Point,
    /// Nominal thread diameter, which decides who goes first.
    pub diameter: Length,
    /// Stiffness of bolt and nut.
    pub stiffness: Stiffness,
    /// Load when the joint is tight.
    pub load: Force,
    /// Proof load, where the class is known.
    pub proof: Option<Force>,
}

/// Gasket materials by their stiffness when unloading: orders of magnitude, estimates.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum GasketMaterial {
    /// Metal, multi-layer steel, or metal on metal.
    Steel,
    /// Hard fibre.
    HardFibre,
    /// Thin paper.
    Paper,
    /// Soft fibre.
    SoftFibre,
    /// Cork or rubber-bound cork.
    Cork,
}

impl GasketMaterial {
    /// Every material.
    pub(crate) const ALL: [GasketMaterial; 5] = [
        GasketMaterial::Steel,
        GasketMaterial::HardFibre,
        GasketMaterial::Paper,
        GasketMaterial::SoftFibre,
        GasketMaterial::Cork,
    ];

    /// What it is called.
    pub(crate) fn name(self) -> &'static str {
        match self {
            GasketMaterial::Steel => "steel",
            GasketMaterial::HardFibre => "hard fibre",
            GasketMaterial::Paper => "paper",
            GasketMaterial::SoftFibre => "soft fibre",
            GasketMaterial::Cork => "cork",
        }
    }

    /// The material that a few written words mean: `multi-layer steel`, `cork and rubber`, `fibre 0.8 mm`.
    pub(crate) fn named(words: &str) -> Option<GasketMaterial> {
        let words = words.to_lowercase();
        let has = |part: &str| words.contains(part);
        match () {
            () if has("cork") || has("rubber") => Some(GasketMaterial::Cork),
            () if has("soft") && (has("fibre") || has("fiber")) => Some(GasketMaterial::SoftFibre),
            () if has("fibre") || has("fiber") || has("composition") => Some(GasketMaterial::HardFibre),
            () if has("paper") => Some(GasketMaterial::Paper),
            () if has("steel") || has("metal") || has("copper") => Some(GasketMaterial::Steel),
            () => None,
        }
    }

    /// Stiffness when unloading, in newtons for each cubic millimetre: half and twice the estimate.
    pub(crate) fn stiffness(self) -> Band<f64> {
        let (low, high) = match self {
            GasketMaterial::Steel => (500.0, 2_000.0),
            GasketMaterial::HardFibre => (150.0, 600.0),
            GasketMaterial::Paper => (100.0, 300.0),
            GasketMaterial::SoftFibre => (50.0, 200.0),
            GasketMaterial::Cork => (10.0, 40.0),
        };
        Band { low, high }
    }
}

/// A joint to be computed.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Joint {
    /// Its fasteners.
    pub bolts: Vec<Bolt>,
    /// Where the gasket lies.
    pub shape: GasketShape,
    /// What it is made of.
    pub material: GasketMaterial,
    /// What lies on it.
    pub plate: Plate,
    /// What pushes the plate off: a spring under a cover, with the point where it acts. Weight is left out.
    pub springs: Vec<(Point, Force)>,
}

impl Joint {
    /// Everything that pushes the plate off.
    pub(crate) fn spring_load(&self) -> Force {
        self.springs.iter().fold(Force::ZERO, |sum, (_, force)| sum + *force)
    }

    /// Share of the bolts in the stiffness of the whole, φ = Σk/(Σk + Σg), over the gasket's band: near 0 the
    /// others hardly feel a release, towards 1 they take it all.
    pub(crate) fn stiffness_ratio(&self) -> Band<Ratio> {
        let bolts: f64 = self.bolts.iter().map(|bolt| bolt.stiffness.newtons_per_mm()).sum();
        let points: Vec<Point> = self.bolts.iter().map(|bolt| bolt.at).collect();
        let area: f64 = outline::cells(&points, self.shape).iter().map(|cell| cell.area_mm2).sum();
        self.material.stiffness().map(|stiffness| Ratio::from_fraction(bolts / (bolts + stiffness * area)))
    }

    /// What the figures rest on, in words.
    pub(crate) fn assumptions(&self) -> Vec<String> {
        let band = self.material.stiffness();
        vec![
            format!(
                "{} gasket with {} to {} N/mm³ when unloading (estimate, order of magnitude)",
                self.material.name(),
                band.low,
                band.high
            ),
            self.shape.words(),
            self.plate.words(),
            "bolts as springs by VDI 2230; every fastener at its stated load when work starts".into(),
            "left out: creep and hysteresis of the gasket, yield, seized threads, bolt bending, ribs, weight"
                .into(),
        ]
    }
}
