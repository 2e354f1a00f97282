//! Rules by which a torque that is meant for clean, dry threads into steel or iron is set lower.

use super::citation::{Citation, Seen};
use crate::quantity::Ratio;

/// Where the shares stand.
pub(crate) const REDUCTION_SOURCE: Citation = Citation::new(
    "US Army torque-limit work packages: dry values 10 % less if oiled, 20 % less if new plated (TM 5-3805-291-23-2); into \
     aluminium 30 % less or more, and 2 d of thread (TM 9-2320-303-24-1)",
    Seen::Read,
);

/// Why a torque is set lower.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Reduction {
    /// Oiled where it is meant dry.
    Oiled,
    /// Newly plated.
    NewPlated,
    /// Into aluminium.
    IntoAluminium,
}

impl Reduction {
    /// What is left of the torque.
    pub(crate) fn share(self) -> Ratio {
        Ratio::from_percent(match self {
            Reduction::Oiled => 90.0,
            Reduction::NewPlated => 80.0,
            Reduction::IntoAluminium => 70.0,
        })
    }

    /// The rule in words.
    pub(crate) fn words(self) -> &'static str {
        match self {
            Reduction::Oiled => "10 % less: oiled where it is meant dry",
            Reduction::NewPlated => "20 % less: new plated where it is meant plain and dry",
            Reduction::IntoAluminium => "30 % less: into aluminium, with 2 d of thread in it",
        }
    }
}
