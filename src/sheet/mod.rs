//! What a packet is made of: sheets, and on them blocks of words, tables and figures.
//!
//! These types know order, meaning and hole coordinates. They must not know page millimetres or fonts (how
//! large a tick box is, or where a line breaks, is decided by the room that lays them out), nor procedures and plans.

use std::collections::BTreeMap;

mod field;
mod figure;
mod kind;
mod plain;
mod step;
mod table;
mod text;

pub use field::{AGAIN, Entry, Field, Form};
pub use figure::{
    BarDrawing, Drawing, Figure, HoleMark, JointDrawing, JointWhole, OrderDrawing, OrderNode, PlanDrawing,
    PlanRow, Shape, ShapesDrawing, StationMark, StationsDrawing, StepName, Toward, Turning, WayDrawing,
};
pub use kind::{SheetKind, StepRange, UnknownKind};
pub use plain::{block_text, plain_text, sheet_text};
pub use step::{Blank, Boxes, HazardBox, Lies, SignalWord, StepBlock, StepLine};
pub use table::{Cell, Column, Table};
pub use text::{Anchor, Run, Style, Text};

/// A whole packet, ready to be laid out.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Packet {
    /// Title of the document, also of its PDF.
    pub title: String,
    /// BCP 47 language of the text, such as `en`.
    pub language: String,
    /// What stands at the foot of every sheet.
    pub footer: Footer,
    /// The sheets in order; each starts on a new page, but chapters of work and what may follow.
    pub sheets: Vec<Sheet>,
    /// What is filled in at each number of the sheets, in their own words.
    pub meanings: BTreeMap<String, String>,
    /// Files carried inside the PDF.
    pub attachments: Vec<Attachment>,
}

/// What goes before every figure, whoever prints it.
pub const DEFERRAL: &str = "The maker's data, local codes and licensed practice come first.";

/// The parts of the footer; "page x of y" is added by the layout.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Footer {
    /// Procedure and edition.
    pub procedure: String,
    /// Job, or empty.
    pub job: String,
    /// Fingerprint of the packet: sheets of two editions can't be mixed unseen.
    pub fingerprint: String,
    /// What is said before the deferral, strongly, such as that the data is invented; or empty.
    pub warning: String,
    /// What comes before these sheets; it is never shortened.
    pub deferral: String,
}

/// A file carried inside the PDF.
#[derive(Debug, Clone, PartialEq)]
pub struct Attachment {
    /// File name.
    pub name: String,
    /// Media type, such as `application/json`.
    pub media_type: String,
    /// What it is, for the reader's list of attachments.
    pub description: String,
    /// The content.
    pub bytes: Vec<u8>,
}

/// One sheet: may run over several pages, and can be printed alone.
#[derive(Debug, Clone, PartialEq)]
pub struct Sheet {
    /// What it is.
    pub kind: SheetKind,
    /// Title at its head.
    pub title: String,
    /// A line under the title, or empty.
    pub subtitle: String,
    /// Which steps it holds, if it is a sheet of work.
    pub steps: Option<StepRange>,
    /// Content from top to bottom.
    pub blocks: Vec<Block>,
    /// For sheets that are cut up, the size of one label; blocks are then only labels.
    pub labels: Option<LabelSize>,
    /// Whether it may stand below the sheet before it where it has room there, rather than on a page of its own.
    pub follows: bool,
    /// Whether it goes on below the sheet before it, from page to page.
    pub flows: bool,
}

impl Sheet {
    /// A sheet that is neither of work nor cut up.
    pub fn new(
        kind: SheetKind,
        title: impl Into<String>,
        subtitle: impl Into<String>,
        blocks: Vec<Block>,
    ) -> Self {
        Sheet {
            kind,
            title: title.into(),
            subtitle: subtitle.into(),
            steps: None,
            blocks,
            labels: None,
            follows: false,
            flows: false,
        }
    }
}

/// One block of a sheet.
#[derive(Debug, Clone, PartialEq)]
pub enum Block {
    /// A heading inside the sheet: 2 for a section, 3 below it.
    Heading {
        /// 2 or 3.
        level: u8,
        /// Its words.
        text: Text,
        /// Where links to it lead.
        anchor: Option<Anchor>,
    },
    /// A paragraph.
    Paragraph(Text),
    /// A paragraph in a frame, for what must not be overlooked but is not a hazard (holds, "for quote").
    Notice(Text),
    /// Items with a dot, or with a tick box to tick off.
    List {
        /// The items.
        items: Vec<Text>,
        /// Whether each has a tick box.
        tick: bool,
    },
    /// What is in the packet: words and where they lead, each with the page on which that is.
    Contents(Vec<(String, Anchor)>),
    /// Names and values in two columns, such as the job's data.
    Facts(Vec<(Text, Text)>),
    /// A table with headings.
    Table(Table),
    /// A table of short rows: half as wide as the page, it goes on beside its first half before it goes on below.
    Halves(Table),
    /// A hazard box.
    Hazard(HazardBox),
    /// A step of work; never cut by a page end unless longer than a page.
    Step(StepBlock),
    /// A figure that stands by itself.
    Figure(Figure),
    /// Empty ruled lines to write on, with a label.
    Lines {
        /// What to write there.
        label: Text,
        /// How many lines.
        count: usize,
    },
    /// Blocks that come on one page if a page holds them, the first of them their heading.
    Together(Vec<Block>),
    /// A cut-out label of a label sheet.
    Label(LabelBlock),
}

/// One cut-out label.
#[derive(Debug, Clone, PartialEq)]
pub struct LabelBlock {
    /// The part and place, printed at 24 pt.
    pub title: String,
    /// Further lines: bag n of m, which way round, job, destination.
    pub lines: Vec<String>,
    /// A number short enough for a wire tag.
    pub number: String,
    /// The words that its QR code holds; empty for none.
    pub code_text: String,
    /// Where links to it lead.
    pub anchor: Option<Anchor>,
    /// Where its title leads: the step at which the part comes off.
    pub step: Option<Anchor>,
}

/// Size of a cut-out label in millimetres of paper (a fact of the label stock, not of the layout).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LabelSize {
    /// Width in millimetres.
    pub width: f64,
    /// Height in millimetres.
    pub height: f64,
}
