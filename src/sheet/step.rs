//! A step as it stands on a sheet: its hazards, lines, boxes to tick and blanks to fill.

use super::{Anchor, Entry, Field, Figure, Table, Text};

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
    /// For what turns the other way than usual: an arrow round a hexagon, whether it is clockwise.
    pub turned: Option<bool>,
    /// Whether it has been told in full before on these sheets, so that its word and how it is avoided are enough.
    pub told: bool,
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
    /// Where links to the steps lead that it tells too.
    pub also: Vec<Anchor>,
    /// How the engine lies on its stand, as a small picture; none where nothing says so.
    pub lies: Option<Lies>,
    /// Stand, side, people, time: short facts under the title.
    pub facts: Vec<Text>,
    /// Tools and supplies, on a line of their own.
    pub tools: Vec<Text>,
    /// Why it stands here, or empty: "the cover must be off first (line 41)".
    pub reason: Text,
    /// If the step waits, what for; its acts are printed struck with a "wait" mark, and nothing is ticked.
    pub held_by: Vec<Text>,
    /// The work, line by line.
    pub lines: Vec<StepLine>,
}

/// How the engine lies.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Lies {
    /// As it runs.
    Upright,
    /// Its underside above.
    Inverted,
    /// Its front above.
    FrontUp,
    /// Its rear above.
    RearUp,
    /// On its side, its top to the left of whoever looks from the end from which sides are named.
    TopLeft,
    /// The same, its top to the right.
    TopRight,
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
    /// Protective equipment that is worn, in the head of the step at which it goes on, with its signs.
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
    /// Work stops here until somebody else has seen this and signed for it.
    Hold(Text),
}

/// A blank to write a reading in.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Blank {
    /// Its name; may be empty.
    pub name: String,
    /// The reading with its unit, if it has been taken; empty for an open blank.
    pub written: String,
    /// Its number, and where it belongs.
    pub field: Field,
}

impl Blank {
    /// An open blank.
    pub fn open(name: impl Into<String>) -> Self {
        Blank { name: name.into(), ..Blank::default() }
    }
}

impl StepLine {
    /// Its words, where there is something to tick, to fill in or to sign: they bear the number.
    pub fn filled_in(&mut self) -> Option<&mut Text> {
        match self {
            StepLine::Act { boxes: Boxes::None, .. } | StepLine::Torque { boxes: Boxes::None, .. } => None,
            StepLine::Act { text, .. }
            | StepLine::Torque { text, .. }
            | StepLine::Reading { text, .. }
            | StepLine::Readings { text, .. }
            | StepLine::Hold(text) => Some(text),
            StepLine::Table(table) if table.is_filled_in() => Some(&mut table.caption),
            StepLine::Table(_)
            | StepLine::PutOn { .. }
            | StepLine::Hazard(_)
            | StepLine::Figure(_)
            | StepLine::If { .. }
            | StepLine::Note(_) => None,
        }
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
    /// One per result of which one holds, which one is ticked already, if the record has it, and where it belongs there.
    Results(Vec<String>, Option<usize>, Option<Entry>),
}
