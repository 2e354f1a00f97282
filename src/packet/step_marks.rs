//! A fingerprint of each step as the procedure alone has it, so that a record can say which edition of a step was done.

use std::collections::BTreeMap;

use super::bench::{Bench, Material};
use super::fingerprint::short;
use super::steps::step_block;
use crate::decide::decide;
use crate::network::Network;
use crate::plan::{Choosing, PlanOptions, plan};
use crate::procedure::model::{Phase, Procedure, StepKey};
use crate::record::Job;
use crate::sheet::{Block, Text, block_text};
use crate::source::Sources;

/// A fingerprint of each step.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct StepMarks(BTreeMap<StepKey, String>);

impl StepMarks {
    /// The steps that a key means, each with its fingerprint: without a place a step that is done apart is meant at every
    /// place.
    pub fn meant(&self, key: &StepKey) -> impl Iterator<Item = (&StepKey, &str)> {
        let meant = self.0.iter().filter(move |(known, _)| known.meets(key));
        meant.map(|(key, mark)| (key, mark.as_str()))
    }

    /// The fingerprint of a step. One that is done apart, named without a position, has that of its first place: it
    /// reads alike at all of them but for the names of the places.
    pub fn of(&self, key: &StepKey) -> Option<&str> {
        self.meant(key).next().map(|(_, mark)| mark)
    }
}

/// The fingerprint of every step. Neither a job nor the place of a step in the order bears on it: only what
/// the procedure says is to be done.
pub fn step_marks(sources: &Sources, procedure: &Procedure, network: &Network) -> StepMarks {
    let job = Job::default();
    let decisions = decide(procedure, &job).value;
    let choosing = Choosing { as_written: true, ..Choosing::default() };
    let plan = plan(procedure, network, &decisions, PlanOptions { recorded: false, choosing });
    let material = Material {
        sources,
        procedure,
        network,
        decisions: &decisions,
        plan: &plan,
        job: &job,
        shop: None,
        touched: &[],
    };
    let mut marks = BTreeMap::new();
    for phase in [Phase::Strip, Phase::Survey, Phase::Build, Phase::Start] {
        let bench = Bench::new(&material, phase, true);
        for planned in bench.steps() {
            let mut block = step_block(&bench, &[planned].to_vec());
            block.number.clear();
            block.reason = Text::default();
            block.held_by.clear();
            let text = format!("\n===  []\n{}", block_text(&Block::Step(block)));
            marks.insert(planned.key.clone(), short(&text));
        }
    }
    StepMarks(marks)
}
