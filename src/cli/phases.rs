//! Phases as they are typed, and steps as they are named on the command line.

use clap::ValueEnum;

use super::prepared::Prepared;
use crate::procedure::model::Phase;

/// A phase as it is typed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(super) enum PhaseName {
    /// Taking apart
    Strip,
    /// Measuring, judging and sending out
    Survey,
    /// Putting together
    Build,
    /// First start and running in
    Start,
}

impl PhaseName {
    /// The phase that is meant.
    pub(super) fn phase(self) -> Phase {
        match self {
            PhaseName::Strip => Phase::Strip,
            PhaseName::Survey => Phase::Survey,
            PhaseName::Build => Phase::Build,
            PhaseName::Start => Phase::Start,
        }
    }
}

/// The answers under which a step is done, as `valve_gear = reuse and cam_bearings = renew`; none if always.
pub(super) fn when(prepared: &Prepared, step: &crate::plan::PlannedStep) -> Option<String> {
    let member = &prepared.network.nodes[step.node.index()].members[step.member];
    (!member.case.is_always())
        .then(|| crate::network::words::case(&prepared.procedure, &prepared.network.questions, &member.case))
}
