//! The proof that a chart may be worked: whoever is early or late, each act finds what it needs.
//!
//! One order of all is run through the conditions act by act. Any other that the chart leaves open comes from it by
//! exchanging acts of units that nothing puts in an order, one after the other (Mazurkiewicz 1977, from memory). Neither of
//! two such units sets what the other sets or needs, so each exchange leaves every need as it was.

use super::moment::{Known, Moment};
use super::units::Unit;
use crate::procedure::model::Phase;
use crate::sequence::{Acyclic, Before};

/// Whether two units may be under way at the same time, by their conditions.
pub(super) fn disjoint(a: &Unit, b: &Unit) -> bool {
    let clash = |a: &Unit, b: &Unit| !a.sets.is_disjoint(&b.sets) || !a.sets.is_disjoint(&b.needs);
    !clash(a, b) && !clash(b, a)
}

/// Whether every order of acts that keeps `waits` is allowed; `units` are those of the chart, in one such order.
pub(super) fn holds(known: Known<'_>, phase: Phase, units: &[&Unit], waits: &Acyclic) -> bool {
    let mut moment = Moment::beginning(known, phase);
    let mut nodes = units.iter().map(|unit| &known.network.nodes[unit.node.index()]);
    let done = nodes.all(|node| moment.pass(known, node));
    let before = Before::new(waits);
    let free = |a: usize, b: usize| before.related(a, b) || disjoint(units[a], units[b]);
    done && (0..units.len()).all(|a| (a + 1..units.len()).all(|b| free(a, b)))
}
