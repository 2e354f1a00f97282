//! What layout yields: pages of placed items, and beside them what the items mean.
//!
//! Nothing here names a PDF library: another back end could paint the same list.

use super::fonts::Face;
use crate::sheet::{Anchor, Attachment};
use std::collections::BTreeMap;

/// A laid-out packet.
#[derive(Debug, Clone, PartialEq)]
pub struct Pages {
    /// Title of the document.
    pub title: String,
    /// BCP 47 language of the text.
    pub language: String,
    /// Fingerprint that stands on every page.
    pub fingerprint: String,
    /// Width of every page.
    pub width: f32,
    /// Height of every page.
    pub height: f32,
    /// The pages in order.
    pub pages: Vec<Page>,
    /// The meaning of the content as a tree, in reading order; the first element is the root, and a parent
    /// stands before its children.
    pub elements: Vec<Element>,
    /// Entries of the outline in order of their places.
    pub bookmarks: Vec<Bookmark>,
    /// Where links lead.
    pub anchors: BTreeMap<Anchor, Place>,
    /// Files carried along.
    pub attachments: Vec<Attachment>,
}

/// One side of paper.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Page {
    /// What is painted, in order.
    pub groups: Vec<Group>,
    /// Areas that lead elsewhere.
    pub links: Vec<Link>,
    /// Places to be filled in.
    pub fields: Vec<FormField>,
}

/// Items that mean one thing together.
#[derive(Debug, Clone, PartialEq)]
pub struct Group {
    /// What they mean.
    pub mark: Mark,
    /// What is painted.
    pub items: Vec<Item>,
}

/// Whether a group is content, and of which element.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Mark {
    /// Decoration, or a repeated head: skipped by a screen reader.
    Artefact,
    /// Content of an element without children.
    Element(ElementId),
}

/// Index into [`Pages::elements`].
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct ElementId(pub usize);

/// A node of the tree of meaning: it has either children or content, never both; only the fields to be filled in that
/// stand in its content are its children beside it.
#[derive(Debug, Clone, PartialEq)]
pub struct Element {
    /// What it is.
    pub role: Role,
    /// The element around it; none for the root.
    pub parent: Option<ElementId>,
    /// Words that stand for it where it can't be seen; empty for none.
    pub alternative: String,
    /// Of a cell, across how many columns it stands.
    pub across: usize,
}

/// What an element is, in the terms of tagged PDF (ISO 32000-1, 14.8.4).
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Role {
    /// The whole document.
    Document,
    /// A sheet, or a step of work.
    Section,
    /// A division without a title of its own, such as a hazard box.
    Division,
    /// A heading of level 1 to 6.
    Heading(u8),
    /// A paragraph.
    Paragraph,
    /// A list.
    List,
    /// An item of a list.
    ListItem,
    /// What an item says.
    ListBody,
    /// A table.
    Table,
    /// A row.
    TableRow,
    /// A cell that heads a column.
    ColumnHeading,
    /// A cell that heads a row.
    RowHeading,
    /// An ordinary cell.
    TableCell,
    /// A drawing.
    Figure,
    /// Words about a figure or a table.
    Caption,
    /// A part of a paragraph.
    Span,
    /// A part of a paragraph that leads elsewhere.
    Link,
    /// A place to be filled in.
    Form,
}

/// A point.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct Position {
    /// From the left.
    pub x: f32,
    /// From the top.
    pub y: f32,
}

/// A rectangle with its sides along the page.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct Area {
    /// Left edge.
    pub x: f32,
    /// Upper edge.
    pub y: f32,
    /// Width.
    pub width: f32,
    /// Height.
    pub height: f32,
}

/// Something painted.
#[derive(Debug, Clone, PartialEq)]
pub enum Item {
    /// Words on one baseline.
    Text(TextRun),
    /// A straight line.
    Line {
        /// One end.
        from: Position,
        /// The other end.
        to: Position,
        /// How it is drawn.
        stroke: Stroke,
    },
    /// A rectangle.
    Rectangle {
        /// Where.
        area: Area,
        /// Ink inside, if any.
        fill: Option<Ink>,
        /// Line around, if any; it runs along the edge.
        stroke: Option<Stroke>,
    },
    /// Closed outlines, filled by the non-zero rule.
    Shape {
        /// The outlines.
        rings: Vec<Ring>,
        /// Ink inside, if any.
        fill: Option<Ink>,
        /// Line around, if any.
        stroke: Option<Stroke>,
    },
}

/// Words on one baseline, in one face.
#[derive(Debug, Clone, PartialEq)]
pub struct TextRun {
    /// Left end of the baseline.
    pub at: Position,
    /// Width as measured.
    pub width: f32,
    /// Face.
    pub face: Face,
    /// Size.
    pub size: f32,
    /// Ink.
    pub ink: Ink,
    /// The words: never empty, without control characters.
    pub text: String,
}

/// A closed outline.
#[derive(Debug, Clone, PartialEq)]
pub struct Ring {
    /// Where it starts.
    pub start: Position,
    /// How it goes on; the last segment is joined to the start.
    pub segments: Vec<Segment>,
}

/// A part of an outline.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Segment {
    /// Straight to a point.
    Line(Position),
    /// A cubic Bézier curve: two handles and its end.
    Curve(Position, Position, Position),
}

/// How a line is drawn.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stroke {
    /// Width.
    pub width: f32,
    /// Ink.
    pub ink: Ink,
    /// Pattern.
    pub dash: Dash,
}

/// Pattern of a line.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Dash {
    /// Unbroken.
    Solid,
    /// Dashes.
    Dashed,
    /// Dots.
    Dotted,
    /// Dash and dot.
    DashDot,
}

/// Ink: the pages are made for black-and-white printers.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Ink {
    /// Black.
    Black,
    /// Paper left white, over something black.
    White,
}

/// An area that leads to an anchor.
#[derive(Debug, Clone, PartialEq)]
pub struct Link {
    /// Where.
    pub area: Area,
    /// Where it leads.
    pub to: Anchor,
    /// Its element of role [`Role::Link`].
    pub element: ElementId,
}

/// A place that can be filled in on a screen: on paper it is a box or a line.
#[derive(Debug, Clone, PartialEq)]
pub struct FormField {
    /// Where.
    pub area: Area,
    /// The number printed beside it; those of one number hold one value.
    pub number: String,
    /// How it is filled in.
    pub filling: Filling,
    /// Its element of role [`Role::Form`], whose words say what is filled in.
    pub element: ElementId,
}

/// How a field is filled in.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Filling {
    /// Ticked.
    Tick,
    /// Ticked as one of several, for this value.
    Choice(String),
    /// Written on one line.
    Line,
    /// Written on several lines.
    Lines,
}

/// A place in the document.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Place {
    /// Index of the page, from 0.
    pub page: usize,
    /// Distance from the top of the page.
    pub y: f32,
}

/// An entry of the outline.
#[derive(Debug, Clone, PartialEq)]
pub struct Bookmark {
    /// Depth: 1 for a sheet.
    pub level: u8,
    /// Its words.
    pub title: String,
    /// Where it leads.
    pub place: Place,
}

impl Position {
    /// A point.
    pub fn new(x: f32, y: f32) -> Self {
        Position { x, y }
    }

    fn moved(self, dx: f32, dy: f32) -> Self {
        Position { x: self.x + dx, y: self.y + dy }
    }
}

impl Area {
    /// A rectangle.
    pub fn new(x: f32, y: f32, width: f32, height: f32) -> Self {
        Area { x, y, width, height }
    }

    /// The rectangle elsewhere.
    #[must_use]
    pub fn moved(self, dx: f32, dy: f32) -> Self {
        Area { x: self.x + dx, y: self.y + dy, ..self }
    }

    /// Whether two rectangles share more than an edge.
    pub fn overlaps(&self, other: &Area) -> bool {
        self.overlap(other) > 0.0
    }

    /// Size of the surface that two rectangles share.
    pub fn overlap(&self, other: &Area) -> f32 {
        let width = (self.x + self.width).min(other.x + other.width) - self.x.max(other.x);
        let height = (self.y + self.height).min(other.y + other.height) - self.y.max(other.y);
        if width > 0.0 && height > 0.0 { width * height } else { 0.0 }
    }

    fn around(points: impl Iterator<Item = Position>) -> Area {
        let (mut low, mut high) = (Position::new(f32::MAX, f32::MAX), Position::new(f32::MIN, f32::MIN));
        for p in points {
            low = Position::new(low.x.min(p.x), low.y.min(p.y));
            high = Position::new(high.x.max(p.x), high.y.max(p.y));
        }
        Area::new(low.x, low.y, high.x - low.x, high.y - low.y)
    }
}

impl Stroke {
    /// An unbroken black line.
    pub fn solid(width: f32) -> Self {
        Stroke { width, ink: Ink::Black, dash: Dash::Solid }
    }
}

impl Item {
    /// Moves the item.
    pub fn shift(&mut self, dx: f32, dy: f32) {
        match self {
            Item::Text(run) => run.at = run.at.moved(dx, dy),
            Item::Line { from, to, .. } => {
                *from = from.moved(dx, dy);
                *to = to.moved(dx, dy);
            }
            Item::Rectangle { area, .. } => *area = area.moved(dx, dy),
            Item::Shape { rings, .. } => {
                for ring in rings {
                    ring.start = ring.start.moved(dx, dy);
                    for segment in &mut ring.segments {
                        *segment = match *segment {
                            Segment::Line(p) => Segment::Line(p.moved(dx, dy)),
                            Segment::Curve(a, b, p) => {
                                Segment::Curve(a.moved(dx, dy), b.moved(dx, dy), p.moved(dx, dy))
                            }
                        };
                    }
                }
            }
        }
    }

    /// The rectangle that the item keeps to, without the width of its lines. For text: the width as measured,
    /// from the height of capitals to the usual depth of descenders.
    pub fn bounds(&self) -> Area {
        match self {
            Item::Text(run) => {
                Area::new(run.at.x, run.at.y - run.size * 0.76, run.width, run.size * (0.76 + 0.2))
            }
            Item::Line { from, to, .. } => Area::around([*from, *to].into_iter()),
            Item::Rectangle { area, .. } => *area,
            Item::Shape { rings, .. } => Area::around(rings.iter().flat_map(|ring| {
                std::iter::once(ring.start).chain(ring.segments.iter().flat_map(|segment| match *segment {
                    Segment::Line(p) => vec![p],
                    Segment::Curve(a, b, p) => vec![a, b, p],
                }))
            })),
        }
    }
}
