//! Figures of a sheet: what is to be drawn, with the coordinates of holes in millimetres of the part. They must not
//! know how large they will be on paper.

use super::{Anchor, Text};

/// A drawing with its caption and the words that stand for it where it can't be seen.
#[derive(Debug, Clone, PartialEq)]
pub struct Figure {
    /// Caption under the figure.
    pub caption: Text,
    /// Alternative text.
    pub alternative: String,
    /// What is drawn.
    pub drawing: Drawing,
}

/// What a figure shows.
#[derive(Debug, Clone, PartialEq)]
pub enum Drawing {
    /// Holes of a joint, to scale.
    Joint(JointDrawing),
    /// Steps and their links, as an overview of the order.
    Order(OrderDrawing),
    /// Bars over time, for two people at one engine.
    Bars(BarDrawing),
    /// The engine from above, as a diagram of its numbered places.
    Plan(PlanDrawing),
    /// Which way round a part lies.
    Way(WayDrawing),
    /// Where along a bore or a journal it is read.
    Stations(StationsDrawing),
    /// Plain shapes: a bolt at its full size, a crank seen from its end.
    Shapes(ShapesDrawing),
}

/// Holes of a joint as the fitter sees them, to scale; y is up. Coordinates are already turned (never mirrored).
#[derive(Debug, Clone, PartialEq)]
pub struct JointDrawing {
    /// The holes.
    pub holes: Vec<HoleMark>,
    /// View in words, such as `seen from above`.
    pub view: String,
    /// Where the engine's front is in the picture.
    pub front: Option<Toward>,
    /// What the front is called.
    pub front_name: String,
    /// Legend: one entry per size, in the order of [`HoleMark::size`].
    pub sizes: Vec<String>,
    /// Where links to it lead.
    pub anchor: Option<Anchor>,
    /// By what its scale is chosen, the same on every sheet that shows the joint.
    pub whole: JointWhole,
}

/// A joint as its procedure has it, with the most that any sheet may show at its holes: by it one scale is chosen for all
/// sheets.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct JointWhole {
    /// Every hole that it may have, as declared, each with the longest word that may stand at it.
    pub holes: Vec<HoleMark>,
    /// How many boxes stand at each of them in the work that has most.
    pub boxes: Vec<usize>,
    /// Where the engine's front is in the picture as declared.
    pub front: Option<Toward>,
}

impl JointWhole {
    /// A joint that is shown with all of its holes and no more boxes than so many at each.
    pub fn of(holes: &[HoleMark], boxes: usize, front: Option<Toward>) -> Self {
        JointWhole { holes: holes.to_vec(), boxes: vec![boxes; holes.len()], front }
    }
}

/// A direction in a picture.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Toward {
    /// To the left.
    Left,
    /// To the right.
    Right,
    /// Upwards.
    Up,
    /// Downwards.
    Down,
    /// Towards the reader (looking at the front from the front).
    Reader,
    /// Away from the reader (looking from the rear).
    Away,
}

/// One hole of a joint drawing.
#[derive(Debug, Clone, PartialEq)]
pub struct HoleMark {
    /// Millimetres to the right.
    pub x: f64,
    /// Millimetres up.
    pub y: f64,
    /// Nominal thread diameter in millimetres, for the size of the mark.
    pub diameter: f64,
    /// Letter of the hole, set small.
    pub letter: String,
    /// Number in the order of work, set large; empty if the order is free.
    pub number: String,
    /// Index of its size in [`JointDrawing::sizes`]; each size has its own shape.
    pub size: usize,
    /// A word under the mark, such as a length or `?`; may be empty.
    pub note: String,
}

/// Steps in layers from top to bottom with links between them.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct OrderDrawing {
    /// The nodes.
    pub nodes: Vec<OrderNode>,
    /// Links: from node, to node, kind of reason (index into `kinds`).
    pub links: Vec<(usize, usize, usize)>,
    /// Kinds of reason, each with its own line style.
    pub kinds: Vec<String>,
}

/// What a step, or a group of steps that stay together, is called in a picture of the order.
#[derive(Debug, Clone, PartialEq)]
pub struct StepName {
    /// Its number, or the first and last of a group.
    pub number: String,
    /// What is done.
    pub title: String,
    /// Where, if the same is done at several places; else empty.
    pub position: String,
}

impl StepName {
    /// Title and position.
    pub fn words(&self) -> String {
        if self.position.is_empty() {
            self.title.clone()
        } else {
            format!("{}: {}", self.title, self.position)
        }
    }
}

impl std::fmt::Display for StepName {
    fn fmt(&self, out: &mut std::fmt::Formatter) -> std::fmt::Result {
        write!(out, "{} {}", self.number, self.words())
    }
}

/// A node of an order drawing.
#[derive(Debug, Clone, PartialEq)]
pub struct OrderNode {
    /// The step, or a group of them that stay together.
    pub step: StepName,
    /// Layer from the top, from 0.
    pub layer: usize,
    /// Place within its layer from the left, from 0.
    pub place: usize,
    /// Where a link leads.
    pub anchor: Option<Anchor>,
}

/// Bars over time in rows.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct BarDrawing {
    /// Names of the rows from the top.
    pub rows: Vec<String>,
    /// Minutes at the left edge, for the scale of times.
    pub first: f64,
    /// Bars: row, start and end in minutes from the left edge, label.
    pub bars: Vec<(usize, f64, f64, String)>,
}

/// The engine from above with its front to the left; a diagram, not to scale.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct PlanDrawing {
    /// Names of its places from the front to the rear: in one row, or in a row for each bank.
    pub rows: Vec<PlanRow>,
    /// What the front is called.
    pub front: String,
    /// Which way it turns, if that is stated.
    pub turns: Option<Turning>,
    /// Name of the side that lies above in the picture; may be empty.
    pub above: String,
    /// Name of the side that lies below; may be empty.
    pub below: String,
    /// Words beside the picture, such as the firing order; may be empty.
    pub beside: String,
    /// Which piston is up: degrees that the crankshaft turns until each is at its top, with their names; may be empty.
    pub clock: Vec<(f64, String)>,
}

/// A row of places.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct PlanRow {
    /// Name of the bank; empty where there is one row only.
    pub name: String,
    /// Names of its places from the front to the rear.
    pub places: Vec<String>,
}

/// A direction of rotation, and from where it is seen.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Turning {
    /// Clockwise to somebody at that end.
    pub clockwise: bool,
    /// Seen from the front, otherwise from the rear.
    pub at_front: bool,
    /// The same in words.
    pub words: String,
}

/// Plain shapes by their coordinates, in millimetres to the right and up.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct ShapesDrawing {
    /// Width of all of it.
    pub width: f64,
    /// Height of all of it.
    pub height: f64,
    /// Whether a millimetre is one on paper, so that the piece itself can be laid on the picture; else it is a diagram.
    pub full_size: bool,
    /// The shapes, later ones over earlier ones.
    pub shapes: Vec<Shape>,
}

/// One shape of a drawing.
#[derive(Debug, Clone, PartialEq)]
pub enum Shape {
    /// A line; heavy where it is what counts, dashed where it only leads the eye.
    Line {
        /// Where it begins.
        from: (f64, f64),
        /// Where it ends.
        to: (f64, f64),
        /// Whether it is heavy.
        heavy: bool,
        /// Whether it is dashed.
        dashed: bool,
    },
    /// A circle, white inside.
    Circle {
        /// Its middle.
        middle: (f64, f64),
        /// Its radius.
        radius: f64,
        /// Whether its line is heavy.
        heavy: bool,
    },
    /// A closed outline, white inside.
    Outline(Vec<(f64, f64)>),
    /// Lines through points with a head at the last.
    Arrow(Vec<(f64, f64)>),
    /// Words on one line: from a point to the right, or around it.
    Words {
        /// The point: the middle of their height.
        at: (f64, f64),
        /// The words.
        words: String,
        /// Whether they are bold.
        bold: bool,
        /// Whether the point is their middle.
        around: bool,
    },
}

/// How a part lies at each of its places, seen from above with the engine's front to the left; a diagram.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct WayDrawing {
    /// Names of the places; one without a name for a part that is there once.
    pub places: Vec<String>,
    /// Which way its mark points; the front is to the left.
    pub toward: Toward,
    /// What the front is called.
    pub front: String,
    /// The same in words, such as `arrow on the crown to the front`.
    pub words: String,
}

/// Stations of a gauge along what it measures, to scale from the edge.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct StationsDrawing {
    /// Whether it is the inside of something, which stands upright, its edge above; else it lies.
    pub upright: bool,
    /// The stations, in written order.
    pub stations: Vec<StationMark>,
}

/// One station.
#[derive(Debug, Clone, PartialEq)]
pub struct StationMark {
    /// Its name with its distance.
    pub name: String,
    /// Millimetres from the edge.
    pub at: f64,
}
