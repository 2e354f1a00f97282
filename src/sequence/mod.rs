//! Precedence on integers: turns "x before y" pairs into orders, reachability, reduction, cycles and places.
//!
//! Nodes are `0..n`; the room must not know what a node stands for. It is the only room that names petgraph.
//!
//! * [`Precedence`] holds the pairs; [`topological_order`] and [`Acyclic`] judge them.
//! * [`Acyclic`] is a precedence that has passed; everything below asks for one.
//! * [`Before`] answers "must x come before y" at once from the full closure (n²/8 bytes);
//!   [`before_each`] answers a batch of such questions in O(n) memory.
//! * [`search`] finds the cheapest order, [`schedule`] the shortest schedule for several hands.
//! * [`redundant_edges`], [`windows`], [`fixed_nodes`] and [`shortest_path`] explain an order.

mod acyclic;
mod bits;
mod blocks;
mod cycles;
mod precedence;
mod random;
mod reachability;
mod rise;
pub mod schedule;
pub mod search;
mod windows;

pub use acyclic::Acyclic;
#[cfg(test)]
pub(crate) use acyclic::topological_order;
pub(crate) use blocks::before_each;
pub use blocks::redundant_edges;
#[cfg(test)]
pub(crate) use cycles::shortest_cycles;
pub use cycles::{Cycle, feedback_edges};
pub use precedence::Precedence;
pub use reachability::Before;
pub(crate) use reachability::shortest_path;
pub(crate) use rise::longest_rise;
pub use windows::{Window, fixed_nodes, windows};
