//! Drawings: plain shapes, symbols, and the figures made of them.
//!
//! Each function gives items in a frame of its own, the origin in the upper left.

mod bars;
mod front;
mod joint;
mod joint_scale;
mod order;
mod order_list;
mod outline;
mod plan;
mod plain;
mod scales;
mod shapes;
mod stations;
mod symbols;
mod way;

pub(super) use bars::draw as bars;
pub(super) use joint::{DrawnJoint, draw as joint, legend as joint_legend};
pub(super) use joint_scale::{BESIDE, scale as joint_scale};
pub(super) use order::draw as order;
pub(super) use plain::draw as drawn_shapes;
pub(super) use plan::draw as plan;
pub(super) use scales::Scale;
pub(super) use shapes::{
    TICK_BOX, circle, front_name, line, small_box, text, text_centred, tick, tick_box, vertical,
};
pub(super) use stations::draw as stations;
pub(super) use symbols::{LYING, alert, lying, protective, turned_hexagon};
pub(super) use way::draw as way;

use super::pages::Item;

/// A drawing and the room that it takes.
#[derive(Debug, Clone, Default)]
pub(super) struct Drawn {
    /// What is painted.
    pub items: Vec<Item>,
    /// Width.
    pub width: f32,
    /// Height.
    pub height: f32,
}
