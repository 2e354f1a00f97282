//! What things are there for: the parts that a set holds, the part that a gauge measures.

use std::collections::BTreeMap;

use super::model::{GaugeId, PartId, SetId};

/// The parts that things are there for.
#[derive(Debug, Default, PartialEq)]
pub(super) struct Purposes {
    /// What sets hold, by themselves or in a joint.
    pub held: BTreeMap<SetId, Vec<PartId>>,
    /// What gauges measure.
    pub measured: BTreeMap<GaugeId, PartId>,
}
