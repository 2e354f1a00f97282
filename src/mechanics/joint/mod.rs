//! A bolted joint as a plate on a gasket: holes, bolt and gasket stiffness and preload to the load on each
//! fastener while others are tightened or released.
//!
//! The plate (rigid, or thin and elastic for covers) lies on gasket cells that only push, and is held by bolts
//! that only pull. Left out are creep and hysteresis of the gasket, yield, seized threads, bolt bending and ribs,
//! so what comes out is a class with its assumptions, never a single number to trust. It knows points and
//! springs, and not what the joint is called.

mod gasket;
mod linear;
mod outline;
mod plate;
mod release;
mod state;
mod tighten;

pub(crate) use outline::Ground;
pub(crate) use plate::{Followed, Plate, modulus_of, plate_metals};
pub(crate) use release::study as study_release;
pub(crate) use release::{Course, ReleaseReport, Risk, course_in_rounds};
pub(crate) use state::{NoEquilibrium, State};
pub(crate) use tighten::{Pass, PassResult, study_passes};

use super::band::Band;
use super::citation::{Citation, Seen};
use super::class::{self, Strength};
use super::pattern::Point;
use super::thread::Thread;
use crate::quantity::{Force, Length, Ratio, Stiffness, figure, stated_figure};

/// The model is our own; its parts are ordinary statics.
pub(crate) const MODEL_SOURCE: Citation = Citation::new(
    "plate on compression-only gasket springs with tension-only bolt springs, our own model; bolt stiffness VDI 2230, from memory",
    Seen::Estimate,
);

/// How far a plate carries a load on.
pub(crate) const REACH_SOURCE: Citation = Citation::new(
    "thin plate on springs under a load at a point: beyond five reaches it gives by less than a fiftieth, 4/π · kei",
    Seen::FromMemory,
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
    /// What it bears, where the class is known.
    pub bears: Option<Bears>,
}

/// What a bolt of a class bears at least.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Bears {
    /// Without lasting stretch.
    pub proof: Force,
    /// Until it yields in plain pull.
    pub yielding: Force,
    /// Until it breaks.
    pub breaking: Force,
}

impl Bears {
    /// By its class.
    pub(crate) fn of(thread: &Thread, strength: &Strength) -> Bears {
        Bears {
            proof: class::proof_load(thread, strength),
            yielding: class::yield_load(thread, strength),
            breaking: class::ultimate_load(thread, strength),
        }
    }
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

    /// The material that a few written words mean: `multi-layer steel, rubber coated`, `cork and rubber`, `fibre 0.8 mm`.
    /// What is only a coat doesn't count, and rubber counts only where nothing else is named; of several materials that lie
    /// on each other the softest gives way.
    pub(crate) fn named(words: &str) -> Option<GasketMaterial> {
        let words = without_coats(&words.to_lowercase());
        let has = |part: &str| words.contains(part);
        let fibre = has("fibre") || has("fiber");
        match () {
            () if has("cork") => Some(GasketMaterial::Cork),
            () if has("soft") && fibre => Some(GasketMaterial::SoftFibre),
            () if fibre || has("composition") => Some(GasketMaterial::HardFibre),
            () if has("paper") => Some(GasketMaterial::Paper),
            () if has("steel") || has("metal") || has("copper") => Some(GasketMaterial::Steel),
            () if has("rubber") => Some(GasketMaterial::Cork),
            () => None,
        }
    }

    /// How its stiffness follows from its thickness.
    fn give(self) -> Give {
        match self {
            GasketMaterial::Steel => Give::Faces(500.0, 2_000.0),
            GasketMaterial::HardFibre => Give::Bulk { modulus: (150.0, 600.0), usual: 1.0 },
            GasketMaterial::Paper => Give::Bulk { modulus: (50.0, 150.0), usual: 0.5 },
            GasketMaterial::SoftFibre => Give::Bulk { modulus: (50.0, 200.0), usual: 1.0 },
            GasketMaterial::Cork => Give::Bulk { modulus: (20.0, 80.0), usual: 2.0 },
        }
    }

    /// Stiffness when unloading at a thickness, in newtons for each cubic millimetre: half and twice the estimate.
    pub(crate) fn stiffness(self, thickness: Option<Length>) -> Band<f64> {
        match self.give() {
            Give::Faces(low, high) => Band { low, high },
            Give::Bulk { modulus: (low, high), usual } => {
                let thick = thickness.map_or(usual, Length::mm);
                Band { low: low / thick, high: high / thick }
            }
        }
    }

    /// Share of its thickness by which it is pressed together, at the most, where it gives way in its bulk.
    fn strain(self, megapascals: f64) -> Option<f64> {
        match self.give() {
            Give::Faces(..) => None,
            Give::Bulk { modulus: (low, _), .. } => Some(megapascals / low),
        }
    }
}

/// Where a gasket gives way. Orders of magnitude, estimates.
enum Give {
    /// At its faces, beads and coats, whatever its thickness: newtons for each cubic millimetre.
    Faces(f64, f64),
    /// In its bulk: a modulus in megapascals, over the thickness in millimetres; and the thickness taken where none is said.
    Bulk { modulus: (f64, f64), usual: f64 },
}

/// Words without what they call a coat: `rubber coated`, `rubber-coated`, `coated with rubber`, `rubber coating`.
fn without_coats(words: &str) -> String {
    let words: Vec<&str> =
        words.split(|c: char| !c.is_alphanumeric()).filter(|word| !word.is_empty()).collect();
    let coat = |word: &str| word.starts_with("coat");
    let kept = words.iter().enumerate().filter(|(place, word)| {
        let with = words.get(place + 2) == Some(&"with");
        let next = words.get(place + 1).is_some_and(|next| coat(next)) && !with;
        let behind = *place >= 2 && coat(words[place - 2]) && words[place - 1] == "with";
        !next && !behind && !coat(word)
    });
    kept.map(|(_, word)| *word).collect::<Vec<_>>().join(" ")
}

/// Pressed together by more than this share of its thickness a gasket is no spring any more. Our own line, no source.
const MOST_STRAIN: f64 = 0.3;

/// A joint to be computed.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Joint {
    /// Its fasteners.
    pub bolts: Vec<Bolt>,
    /// How far the gasket, which lies on the whole face, reaches beyond the outermost holes.
    pub margin: Length,
    /// What it is made of.
    pub material: GasketMaterial,
    /// How thick it is as fitted; none takes what is usual of its material.
    pub thickness: Option<Length>,
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
        let area: f64 = outline::cells(&points, self.margin).iter().map(|cell| cell.area_mm2).sum();
        self.stiffness().map(|stiffness| Ratio::from_fraction(bolts / (bolts + stiffness * area)))
    }

    /// Stiffness of the gasket when unloading, in newtons for each cubic millimetre.
    pub(crate) fn stiffness(&self) -> Band<f64> {
        self.material.stiffness(self.thickness)
    }

    /// How thick the gasket is taken, where it gives way by its thickness.
    pub(crate) fn thickness_taken(&self) -> Option<Length> {
        match self.material.give() {
            Give::Faces(..) => None,
            Give::Bulk { usual, .. } => Some(self.thickness.unwrap_or(Length::from_mm(usual))),
        }
    }

    /// Why the gasket is no spring under these loads, if it isn't: it is pressed together too far for that.
    pub(crate) fn overpressed(&self) -> Option<String> {
        let load: f64 = self.bolts.iter().map(|bolt| bolt.load.newtons()).sum();
        let points: Vec<Point> = self.bolts.iter().map(|bolt| bolt.at).collect();
        let area: f64 = outline::cells(&points, self.margin).iter().map(|cell| cell.area_mm2).sum();
        let strain = self.material.strain(load / area).filter(|strain| *strain > MOST_STRAIN)?;
        Some(format!(
            "{} N/mm² may press a gasket of {} together by {} % of its thickness: it is no spring so far in, and the \
             figures are no more than an order of magnitude",
            figure(load / area, 0),
            self.material.name(),
            figure((strain * 100.0).min(100.0), 0)
        ))
    }

    /// How far the model follows the plate's bending.
    pub(crate) fn followed(&self) -> Followed {
        let holes: Vec<Point> = self.bolts.iter().map(|bolt| bolt.at).collect();
        let mut points = holes.clone();
        points.extend(outline::cells(&holes, self.margin).iter().map(|cell| cell.at));
        let half = outline::half_extents_mm(&points);
        let band = self.stiffness();
        plate::followed(self.plate, (band.low, band.high), half.0.max(half.1), self.nearest().mm())
    }

    /// How far on the plate carries a load at the least and at the most; nothing of a rigid one, which carries it everywhere.
    pub(crate) fn reach(&self) -> Option<Band<Length>> {
        let band = self.stiffness();
        let (low, high) = (self.plate.reach_mm(band.high)?, self.plate.reach_mm(band.low)?);
        Some(Band { low: Length::from_mm(low), high: Length::from_mm(high) })
    }

    /// How far apart the two fasteners stand that are nearest to each other.
    pub(crate) fn nearest(&self) -> Length {
        let pairs = self
            .bolts
            .iter()
            .enumerate()
            .flat_map(|(index, a)| self.bolts[index + 1..].iter().map(|b| a.at.distance_mm(b.at)));
        Length::from_mm(pairs.fold(f64::INFINITY, f64::min))
    }

    /// What the figures rest on, in words.
    pub(crate) fn assumptions(&self) -> Vec<String> {
        let band = self.stiffness();
        let thick = match (self.thickness_taken(), self.thickness) {
            (Some(taken), Some(_)) => format!(", {} mm thick", stated_figure(taken.mm(), 0)),
            (Some(taken), None) => {
                format!(", taken as {} mm thick, since none is said", stated_figure(taken.mm(), 0))
            }
            (None, _) => ", whatever its thickness: it gives way at its faces".to_owned(),
        };
        let too_fine = matches!(self.followed(), Followed::AtMost | Followed::Not).then(|| {
            "so thin it bends in shapes finer than the model's six, so the peaks err to the high side"
                .to_owned()
        });
        let said = vec![
            format!(
                "{} gasket{thick}, with {} to {} N/mm³ when unloading (estimate, order of magnitude)",
                self.material.name(),
                figure(band.low, 0),
                figure(band.high, 0)
            ),
            format!(
                "gasket on the whole face, {} mm beyond the outermost holes; openings left out",
                figure(self.margin.mm(), 0)
            ),
            self.plate.words(),
            "bolts as springs by VDI 2230; every fastener at its stated load when work starts".into(),
            "left out: creep and hysteresis of the gasket, yield, seized threads, bolt bending, ribs, weight"
                .into(),
        ];
        said.into_iter().chain(too_fine).collect()
    }
}
