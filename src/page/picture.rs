//! Figures and signs by themselves, as placed items, for whoever shows them elsewhere than on a page: they are drawn as on
//! paper, but of what is no longer true off it, such as a scale of so many millimetres, nothing is said.

use super::compose::joint_caption;
use super::draw::{self, Drawn};
use super::pages::Item;
use super::setup::PageSetup;
use super::words::Characters;
use crate::sheet::{Drawing, Figure, Text};

/// Height of the picture of an order that is still looked at in one piece.
const TALLEST: f32 = 700.0;
/// Share of a page's height that bars may take.
const BARS: f32 = 0.6;
/// White space between a joint and its legend.
const APART: f32 = 4.0;

/// A drawing by itself.
#[derive(Debug, Clone, Default)]
pub(crate) struct Picture {
    /// What is painted, the origin in the upper left.
    pub items: Vec<Item>,
    /// Width.
    pub width: f32,
    /// Height.
    pub height: f32,
}

impl From<Drawn> for Picture {
    fn from(Drawn { items, width, height }: Drawn) -> Self {
        Picture { items, width, height }
    }
}

/// A figure in pictures, of which each is continued by the next, and its caption with the view that is shown. Letters that
/// can't be set stand as question marks: whoever lays out the packet has complained of them.
pub(crate) fn pictures(figure: &Figure) -> (Vec<Picture>, Text) {
    let setup = PageSetup::default();
    let (width, page) = (setup.content_width(), setup.content_height());
    let characters = &mut Characters::default();
    let mut caption = figure.caption.clone();
    let pictures = match &figure.drawing {
        Drawing::Joint(joint) => {
            caption = joint_caption(caption, joint, "");
            let scale = draw::joint_scale(&joint.whole, &joint.front_name);
            let mut drawn = draw::joint(joint, scale, width, &[], characters).drawn;
            let mut legend = draw::joint_legend(&joint.sizes, drawn.width.max(width / 2.0), characters);
            for item in &mut legend.items {
                item.shift(0.0, drawn.height + APART);
            }
            drawn.items.append(&mut legend.items);
            drawn.width = drawn.width.max(legend.width);
            drawn.height += APART + legend.height;
            vec![drawn]
        }
        Drawing::Bars(bars) => vec![draw::bars(bars, width, page * BARS, characters)],
        Drawing::Way(way) => vec![draw::way(way, width, characters)],
        Drawing::Stations(stations) => vec![draw::stations(stations, width, characters).0],
        Drawing::Shapes(shapes) => vec![draw::drawn_shapes(shapes, width, characters)],
        Drawing::Plan(plan) => vec![draw::plan(plan, width, characters)],
        Drawing::Order(order) => {
            draw::order(order, width, TALLEST, characters).into_iter().map(|(drawn, _)| drawn).collect()
        }
    };
    (pictures.into_iter().map(Picture::from).collect(), caption)
}

/// The alert triangle, `height` tall; `solid` fills it.
pub(crate) fn alert_sign(height: f32, solid: bool) -> Picture {
    Picture { items: draw::alert(0.0, 0.0, height, solid), width: height * 1.1547, height }
}

/// The sign of a piece of protective equipment, `height` tall; none for what has no sign.
pub(crate) fn protective_sign(name: &str, height: f32) -> Option<Picture> {
    Some(Picture { items: draw::protective(name, 0.0, 0.0, height)?, width: height, height })
}
