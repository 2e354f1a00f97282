//! What a packet is made of: sheets, and on them blocks of words, tables and figures.
//!
//! These types know order, meaning and hole coordinates. They must not know page millimetres or fonts: how
//! large a tick box is, or where a line breaks, is decided by the room that lays them out.

/// A whole packet, ready to be laid out.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Packet {
    /// Title of the document, also of its PDF.
    pub title: String,
    /// BCP 47 language of the text, such as `en`.
    pub language: String,
    /// What stands at the foot of every sheet.
    pub footer: Footer,
    /// The sheets in order; each starts on a new page.
    pub sheets: Vec<Sheet>,
    /// Files carried inside the PDF.
    pub attachments: Vec<Attachment>,
}

/// The parts of the footer; "page x of y" is added by the layout.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Footer {
    /// Procedure and edition.
    pub procedure: String,
    /// Job, or empty.
    pub job: String,
    /// Fingerprint of the packet: sheets of two editions can't be mixed unseen.
    pub fingerprint: String,
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
    /// Short name by which it is asked for, such as `front`, `kit`, `strip`.
    pub name: String,
    /// Title at its head.
    pub title: String,
    /// A line under the title, or empty.
    pub subtitle: String,
    /// Content from top to bottom.
    pub blocks: Vec<Block>,
    /// For sheets that are cut up, the size of one label; blocks are then only labels.
    pub labels: Option<LabelSize>,
}

/// Size of a cut-out label in millimetres of paper (a fact of the label stock, not of the layout).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LabelSize {
    /// Width in millimetres.
    pub width: f64,
    /// Height in millimetres.
    pub height: f64,
}

/// A piece of running text with its emphasis.
#[derive(Debug, Clone, PartialEq)]
pub struct Run {
    /// The words.
    pub text: String,
    /// How they are set.
    pub style: Style,
    /// Anchor that they lead to, if they are a link.
    pub link: Option<Anchor>,
}

/// Emphasis of a run.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Style {
    /// Ordinary text.
    Plain,
    /// Bold.
    Bold,
    /// Codes, part numbers, hole letters.
    Mono,
}

/// Text as a row of runs.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Text(pub Vec<Run>);

impl Text {
    /// Ordinary text.
    pub fn plain(text: impl Into<String>) -> Self {
        Text::default().and(text)
    }

    /// Bold text.
    pub fn bold(text: impl Into<String>) -> Self {
        Text::default().and_bold(text)
    }

    /// Adds ordinary text.
    #[must_use]
    pub fn and(self, text: impl Into<String>) -> Self {
        self.push(text, Style::Plain, None)
    }

    /// Adds bold text.
    #[must_use]
    pub fn and_bold(self, text: impl Into<String>) -> Self {
        self.push(text, Style::Bold, None)
    }

    /// Adds text that leads to `anchor`.
    #[must_use]
    pub fn and_link(self, text: impl Into<String>, anchor: Anchor) -> Self {
        self.push(text, Style::Plain, Some(anchor))
    }

    /// Adds bold text that leads to `anchor`.
    #[must_use]
    pub fn and_bold_link(self, text: impl Into<String>, anchor: Anchor) -> Self {
        self.push(text, Style::Bold, Some(anchor))
    }

    fn push(mut self, text: impl Into<String>, style: Style, link: Option<Anchor>) -> Self {
        let text = text.into();
        if !text.is_empty() {
            self.0.push(Run { text, style, link });
        }
        self
    }

    /// The words alone.
    pub fn words(&self) -> String {
        self.0.iter().map(|run| run.text.as_str()).collect()
    }
}

/// A place that links can lead to; unique within a packet, such as `step:open_head`.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct Anchor(pub String);

impl Anchor {
    /// The head of a sheet, by its place in the packet.
    pub fn of_sheet(index: usize) -> Self {
        Anchor(format!("sheet:{index}"))
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

/// A table: its head is repeated on every page that it runs over, rows are never cut.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Table {
    /// Words above the table, or empty.
    pub caption: Text,
    /// The columns from left to right.
    pub columns: Vec<Column>,
    /// The rows; each has as many cells as there are columns.
    pub rows: Vec<Vec<Cell>>,
}

/// A column of a table.
#[derive(Debug, Clone, PartialEq)]
pub struct Column {
    /// Its heading.
    pub heading: String,
    /// Share of the width relative to the other columns.
    pub share: f64,
    /// Whether numbers are set to the right.
    pub to_the_right: bool,
}

/// A cell of a table.
#[derive(Debug, Clone, PartialEq)]
pub enum Cell {
    /// Words.
    Text(Text),
    /// A tick box.
    Tick,
    /// A tick box that is ticked already: what the record has.
    Ticked,
    /// A blank to write in, with the unit printed behind it (may be empty).
    Blank(String),
    /// The same twice, for a reading and the one that checks it.
    Twice(String),
    /// A short blank, for a day or initials.
    Day,
}

/// Signal word of a hazard box, in the sense of ANSI Z535.6 / ISO 3864-2.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum SignalWord {
    /// Will result in death or serious injury.
    Danger,
    /// Could result in death or serious injury.
    Warning,
    /// Could result in minor or moderate injury.
    Caution,
    /// Not about injury; has no alert triangle.
    Notice,
}

/// A hazard box: the word, then hazard, consequence, avoidance.
#[derive(Debug, Clone, PartialEq)]
pub struct HazardBox {
    /// Signal word.
    pub word: SignalWord,
    /// What the hazard is.
    pub hazard: Text,
    /// What it does.
    pub consequence: Text,
    /// How it is avoided.
    pub avoidance: Text,
    /// Protective equipment, by name.
    pub protective_equipment: Vec<String>,
}

/// A step as it stands on a strip, survey, build or start sheet.
#[derive(Debug, Clone, PartialEq)]
pub struct StepBlock {
    /// Number in the order of work, printed large; empty if it has none.
    pub number: String,
    /// Title.
    pub title: Text,
    /// Where links to it lead.
    pub anchor: Anchor,
    /// Tools, stand, side, people, time: short facts under the title.
    pub facts: Vec<Text>,
    /// Why it stands here, or empty: "the cover must be off first (line 41)".
    pub reason: Text,
    /// If the step waits, what for; its acts are printed struck with a "wait" mark, and nothing is ticked.
    pub held_by: Vec<Text>,
    /// The work, line by line.
    pub lines: Vec<StepLine>,
    /// Whether a signature line closes the step, and what is signed.
    pub signature: Option<Text>,
}

/// One line of a step.
#[derive(Debug, Clone, PartialEq)]
pub enum StepLine {
    /// A hazard box; stands before the act that it is about.
    Hazard(HazardBox),
    /// Something to do, with the boxes that are ticked when it is done.
    Act {
        /// The instruction.
        text: Text,
        /// Tick boxes.
        boxes: Boxes,
    },
    /// Protective equipment to put on, with its signs.
    PutOn {
        /// What, and until when.
        text: Text,
        /// Its names, for the signs.
        equipment: Vec<String>,
    },
    /// A tightening: torque or angle in large bold type with "oiled" or "dry" beside it.
    Torque {
        /// What is tightened and in which pass, such as `Head nuts, pass 2 of 3`.
        text: Text,
        /// The value, such as `60 N·m (44 lbf·ft)`, or a hold in words.
        value: String,
        /// Such as `threads and faces oiled`, or `dry`.
        condition: String,
        /// Whether the value is still open, so that nothing may be read off.
        held: bool,
        /// Tick boxes, a box per hole.
        boxes: Boxes,
    },
    /// A reading to write down: a label, limits, blanks.
    Reading {
        /// What and where.
        text: Text,
        /// Limit beside the blank, such as `0.05–0.11 mm, worn 0.15`; may be empty.
        limit: String,
        /// Unit behind the blank.
        unit: String,
        /// The blanks, one per place; a single one without a name stands alone.
        blanks: Vec<Blank>,
    },
    /// Readings at several spots of each place: a label and limits as above, and a table of blanks under them.
    Readings {
        /// What and where.
        text: Text,
        /// Limit, as above; may be empty.
        limit: String,
        /// A row per place and spot.
        table: Table,
    },
    /// A figure of this step, kept on its page.
    Figure(Figure),
    /// A tick table: one row per position, one column per thing to do or note.
    Table(Table),
    /// A small line: what to do if something common goes wrong.
    If {
        /// What happens.
        condition: Text,
        /// What to do then.
        action: Text,
    },
    /// A plain remark.
    Note(Text),
}

/// A blank to write a reading in.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Blank {
    /// Its name; may be empty.
    pub name: String,
    /// The reading with its unit, if it has been taken; empty for an open blank.
    pub written: String,
}

impl Blank {
    /// An open blank.
    pub fn open(name: impl Into<String>) -> Self {
        Blank { name: name.into(), written: String::new() }
    }
}

/// Tick boxes of a line.
#[derive(Debug, Clone, PartialEq)]
pub enum Boxes {
    /// None.
    None,
    /// One.
    One,
    /// One per position, each with its name, laid out in rows.
    Grid(Vec<String>),
    /// One per result of which one holds, and which one is ticked already, if the record has it.
    Results(Vec<String>, Option<usize>),
}

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
    /// Legend: one entry per size, in the order of [`HoleMark::size`].
    pub sizes: Vec<String>,
    /// Where links to it lead.
    pub anchor: Option<Anchor>,
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

/// A node of an order drawing.
#[derive(Debug, Clone, PartialEq)]
pub struct OrderNode {
    /// Short label.
    pub label: String,
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
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct PlanDrawing {
    /// Names of its places from the front to the rear.
    pub places: Vec<String>,
    /// Which way it turns, if that is stated.
    pub turns: Option<Turning>,
    /// Name of the side that lies above in the picture; may be empty.
    pub above: String,
    /// Name of the side that lies below; may be empty.
    pub below: String,
    /// Words beside the picture, such as the firing order; may be empty.
    pub beside: String,
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

/// How a part lies at each of its places, seen from above with the engine's front to the left; a diagram.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct WayDrawing {
    /// Names of the places; one without a name for a part that is there once.
    pub places: Vec<String>,
    /// Which way its mark points; the front is to the left.
    pub toward: Toward,
    /// The same in words, such as `arrow on the crown to the front`.
    pub words: String,
}

/// Stations of a gauge along what it measures, to scale from the edge.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct StationsDrawing {
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
