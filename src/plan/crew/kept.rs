//! What keeps its written place though several work: the author's order is given up only between steps of which the
//! facts say everything that one can do to the other.

use std::collections::BTreeSet;

use super::units::Unit;
use crate::network::ThingId;

/// Which two units keep the planned order, by their places in it.
pub(super) struct Kept<'u> {
    units: &'u [Unit],
    /// How often the engine was turned up to each unit.
    turned: Vec<usize>,
    /// States whose values bring hazards with them.
    hazardous: &'u BTreeSet<ThingId>,
}

impl<'u> Kept<'u> {
    pub(super) fn new(units: &'u [Unit], hazardous: &'u BTreeSet<ThingId>) -> Kept<'u> {
        let turned = units.iter().scan(0, |turned, unit| {
            *turned += usize::from(unit.turns_stand);
            Some(*turned)
        });
        Kept { units, turned: turned.collect(), hazardous }
    }

    /// Whether the two keep their order: one takes the whole engine, the engine is turned between them, one is done
    /// with parts that the other moves, or one sets what puts the other in danger.
    pub(super) fn apart(&self, first: usize, then: usize) -> bool {
        let (a, b) = (&self.units[first], &self.units[then]);
        if a.steps.is_empty() || b.steps.is_empty() {
            return false;
        }
        let at_engine = a.at_engine && b.at_engine;
        let whole = !a.whole.is_empty() || !b.whole.is_empty() || self.turned[first] != self.turned[then];
        let moves = |a: &Unit, b: &Unit| !a.away_with.is_disjoint(&b.sets);
        let danger = |unit: &Unit| !unit.sets.is_disjoint(self.hazardous);
        at_engine && whole || moves(a, b) || moves(b, a) || danger(a) || danger(b)
    }

    /// The units that can't be on the chart: held, or behind such a unit in every order that is left open. `links` are
    /// pairs of places.
    pub(super) fn left_out(&self, links: &[(usize, usize)]) -> Vec<bool> {
        let mut out = vec![false; self.units.len()];
        for (then, unit) in self.units.iter().enumerate() {
            let behind = |first: usize| {
                out[first] && (self.apart(first, then) || links.binary_search(&(first, then)).is_ok())
            };
            out[then] = unit.held || (0..then).any(behind);
        }
        out
    }
}
