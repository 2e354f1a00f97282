//! Steps: titles, tick boxes below their numbers, the work to the right, and what of it stays together over a page end.
//! Titles, torques, readings and holds have files of their own.

use super::boxes::{Marks, number_beside};
use super::held::{hold_bar, strike};
use super::holes::{AtHoles, ticked_at_holes};
use super::title::{CONTINUED_HEIGHT, in_brief, joined, told_first};
use super::{Composer, FIELD, LEFT, NUMBERS, PITCH, SMALL, WORK};
use crate::page::draw::{self, TICK_BOX};
use crate::page::fonts::{self, Face};
use crate::page::furniture::RUNNING_HEIGHT;
use crate::page::pages::{Area, ElementId, Filling, Mark, Role, Stroke};
use crate::page::pieces::{Piece, Unit};
use crate::page::words::Type;
use crate::sheet::{Boxes, Drawing, Figure, Form, StepBlock, StepLine, Table, Text};

/// Left edge of the tick boxes.
pub(super) const TICKS: f32 = NUMBERS - TICK_BOX;
/// Type of remarks.
const REMARK: Type = Type::new(12.0, 15.5);
/// Lines of a remark that stay together.
const REMARK_LINES: usize = 5;

/// Pieces that are seen together: of an act, of the figure that shows it, and of the torques that follow.
struct Shown {
    act: usize,
    figure: usize,
    end: usize,
}

/// The lines of a step as far as they have come.
#[derive(Default)]
struct Told<'s> {
    /// Where the last act begins whose boxes are told apart by a figure.
    act: Option<usize>,
    shown: Vec<Shown>,
    /// Whether what comes now belongs to the figure shown last.
    open: bool,
    before: Option<&'s StepLine>,
    /// Whether more than remarks have come.
    worked: bool,
}

/// The rule across the page above a hold.
fn hold_rule(width: f32) -> Piece {
    let mut piece = Piece::new(8.0, 3.0);
    piece.add(Mark::Artefact, vec![draw::line(LEFT, 1.5, LEFT + width, 1.5, Stroke::solid(2.0))]);
    piece
}

/// The last piece stays with what follows it.
fn stay(pieces: &mut [Piece]) {
    if let Some(last) = pieces.last_mut() {
        last.with_next = true;
    }
}

impl<'s> Told<'s> {
    /// Whether the line before is work or a remark on it.
    fn work(&self) -> bool {
        matches!(self.before, Some(StepLine::Act { .. } | StepLine::Note(_)))
    }

    /// What holds of the pieces before a line is laid out.
    fn begin(&mut self, line: &StepLine, pieces: &mut [Piece]) {
        match line {
            StepLine::Note(_) | StepLine::If { .. } => {
                // What is remarked on a figure is long, and may follow on the next page.
                let long = |figure: &Figure| !matches!(figure.drawing, Drawing::Way(_));
                if !matches!(self.before, Some(StepLine::Figure(figure)) if long(figure)) {
                    stay(pieces);
                }
            }
            // A small picture of the part in hand.
            StepLine::Figure(Figure { drawing: Drawing::Way(_), .. }) => stay(pieces),
            StepLine::Figure(Figure { drawing: Drawing::Stations(_), .. }) => {}
            StepLine::Figure(_) => {
                let figure = pieces.len();
                self.shown.push(Shown { act: self.act.unwrap_or(figure), figure, end: figure });
                self.open = true;
            }
            StepLine::Torque { .. } => {
                // What has just been started by hand stands above the torque that it gets.
                if self.work() {
                    stay(pieces);
                }
                self.act = None;
            }
            // What is ticked in the figure above belongs to it.
            line if ticked_at_holes(line) && self.open => {}
            line if ticked_at_holes(line) => self.act = Some(pieces.len()),
            StepLine::Act { boxes: Boxes::Grid(_) | Boxes::Results(..), .. } => {
                (self.act, self.open) = (Some(pieces.len()), false);
            }
            _ => {
                // What has just been done stands above the rows in which the rest of it is ticked.
                if matches!((line, self.before), (StepLine::Table(_), Some(StepLine::Act { .. }))) {
                    stay(pieces);
                }
                (self.act, self.open) = (None, false);
            }
        }
    }

    /// What holds of the pieces when a line has been laid out.
    fn end(&mut self, line: &'s StepLine, pieces: &mut [Piece]) {
        // What is remarked before any work stands above the first of it.
        self.worked |= !matches!(line, StepLine::Note(_));
        // Where to measure stands above what is measured.
        if !self.worked || matches!(line, StepLine::Figure(Figure { drawing: Drawing::Stations(_), .. })) {
            stay(pieces);
        }
        let of_it = matches!(line, StepLine::Figure(_) | StepLine::Torque { .. }) || ticked_at_holes(line);
        let belongs = self.open && of_it;
        if let Some(group) = self.shown.last_mut().filter(|_| belongs) {
            group.end = pieces.len();
        }
        self.before = Some(line);
    }
}

impl Composer<'_> {
    pub(super) fn step(&mut self, step: &StepBlock) -> Unit {
        let width = self.setup.content_width() - LEFT;
        let level = self.level + 1;
        self.within(Role::Section, |composer| {
            if in_brief(step) {
                return Unit::whole(composer.brief_step(step, level, width));
            }
            let mut heads = Vec::new();
            let mut pieces = composer.step_title(step, level, width);
            for facts in composer.head_lines(step, &mut pieces, width) {
                composer.add_text(&mut pieces, &facts, SMALL, width, 1.0);
            }
            let held = !step.held_by.is_empty();
            if held {
                composer.wait(&mut pieces, &step.held_by, width);
            }
            for piece in &mut pieces {
                piece.with_next = true;
            }
            let mut lines = composer.joined_notes(&step.lines, width);
            let holes = if held { Vec::new() } else { composer.boxes_to_holes(&mut lines, width) };
            composer.step_lines(&mut pieces, &mut heads, (&lines, &holes), held, width);
            if held {
                hold_bar(&mut pieces);
            }
            let continued = composer.continued(step, width);
            let goes_on = Some(composer.goes_on(&format!("Step {}", step.number), LEFT, width));
            Unit { heads, continued: Some(continued), goes_on, ..Unit::whole(pieces) }
        })
    }

    /// Where, with whom, how long and after what, and the tools: behind the title where all of it has room there; else each
    /// on lines of its own, or together where that saves a line; where that saves another, what comes first of them stands
    /// behind the title.
    fn head_lines(&mut self, step: &StepBlock, title: &mut [Piece], width: f32) -> Vec<Text> {
        let first = told_first(step);
        let (facts, tools) = (joined(&first), joined(&step.tools));
        let both = joined(&[first.as_slice(), &step.tools].concat());
        if self.behind_title(step, &both, title, width) {
            return Vec::new();
        }
        let count = |composer: &mut Self, texts: &[&Text]| {
            texts.iter().map(|text| composer.set(text, SMALL, width).lines.len()).sum::<usize>()
        };
        let (together, apart) = (count(self, &[&both]), count(self, &[&facts, &tools]));
        if count(self, &[&tools]) < together.min(apart) && self.behind_title(step, &facts, title, width) {
            return vec![tools];
        }
        if together < apart { vec![both] } else { vec![facts, tools] }
    }

    pub(super) fn add_text(
        &mut self,
        pieces: &mut Vec<Piece>,
        text: &Text,
        kind: Type,
        width: f32,
        above: f32,
    ) {
        if text.words().trim().is_empty() {
            return;
        }
        let element = self.element(Role::Paragraph);
        let mut lines = self.text_pieces(element, text, kind, LEFT, width);
        if let Some(first) = lines.first_mut() {
            first.above = above;
        }
        pieces.extend(lines);
    }

    /// The lines of a step. A remark stays with what it is about; an act stays with the figure that shows it, and the
    /// torques that follow with that figure, as far as a page holds them.
    fn step_lines(
        &mut self,
        pieces: &mut Vec<Piece>,
        heads: &mut Vec<Piece>,
        (lines, holes): (&[StepLine], &[Option<AtHoles>]),
        held: bool,
        width: f32,
    ) {
        let title = pieces.len();
        let room = self.setup.content_height() - RUNNING_HEIGHT - CONTINUED_HEIGHT;
        let mut told = Told::default();
        let mut rest = lines;
        while let [line, after @ ..] = rest {
            rest = after;
            let holes = holes.get(lines.len() - after.len() - 1).and_then(Option::as_ref);
            if let StepLine::Figure(figure) = line
                && let Some((mut piece, count)) =
                    self.joint_beside(figure, after, holes, (told.work(), held), width, room)
            {
                // What has just been started by hand stands above the torque that it gets.
                stay(pieces);
                piece.above = 12.0;
                pieces.push(piece);
                told = Told {
                    shown: told.shown,
                    before: after[..count].last(),
                    worked: true,
                    ..Told::default()
                };
                rest = &after[count..];
                continue;
            }
            // Rounds that are ticked in the figure above share a line.
            let rounds = 1 + after.iter().take_while(|line| ticked_at_holes(line)).count();
            if ticked_at_holes(line)
                && rounds > 1
                && told.open
                && let Some(piece) =
                    self.in_one_line(&lines[lines.len() - after.len() - 1..][..rounds], width)
            {
                pieces.push(piece);
                told.end(&after[rounds - 2], pieces);
                rest = &after[rounds - 1..];
                continue;
            }
            told.begin(line, pieces);
            match (line, holes) {
                (StepLine::Figure(figure), Some(_)) => pieces.extend(self.step_figure(figure, width, holes)),
                _ => self.step_line(pieces, heads, line, held, width),
            }
            told.end(line, pieces);
        }
        for Shown { act, figure, end } in told.shown {
            // What begins right below the title has to leave it room on its page.
            let tied = |from: usize| pieces[title..from].iter().all(|piece| piece.with_next);
            let start = |from: usize| if tied(from) { 0 } else { from };
            let extent = |from: usize| pieces[start(from)..end].iter().map(Piece::extent).sum::<f32>();
            let from = [act, figure].into_iter().find(|from| extent(*from) <= room);
            if let Some(from) = from {
                for piece in &mut pieces[from..end.saturating_sub(1).max(from)] {
                    piece.with_next = true;
                }
            }
        }
    }

    pub(super) fn step_line(
        &mut self,
        pieces: &mut Vec<Piece>,
        heads: &mut Vec<Piece>,
        line: &StepLine,
        held: bool,
        width: f32,
    ) {
        let mut made = match line {
            StepLine::Hazard(hazard) => {
                let mut made = self.hazard(hazard, LEFT, width);
                if let Some(first) = made.first_mut() {
                    first.above = 6.0;
                }
                // A warning stays with the act that it is about.
                if let Some(last) = made.last_mut() {
                    last.with_next = true;
                }
                made
            }
            StepLine::Act { text, boxes } => self.act(text, boxes, held, width),
            StepLine::PutOn { text, equipment } => self.put_on(text, equipment, width),
            StepLine::Torque { text, value, condition, held: open, boxes } => {
                self.torque(text, value, condition, *open, held, boxes, width)
            }
            StepLine::Reading { text, limit, unit, blanks } => {
                self.reading(text, limit, unit, blanks, held, width)
            }
            StepLine::Figure(figure) => self.step_figure(figure, width, None),
            StepLine::Readings { text, limit, table } => {
                let mut made = self.reading_head(text, limit, held, width);
                made.extend(self.step_table(heads, table, width));
                made
            }
            StepLine::Table(table) => self.step_table(heads, table, width),
            StepLine::If { condition, action } => {
                let mut text = Text::bold("If ");
                text.0.extend(condition.0.iter().cloned());
                text = text.and(": ");
                text.0.extend(action.0.iter().cloned());
                self.remark(&text, width)
            }
            StepLine::Note(text) => self.remark(text, width),
            StepLine::Hold(text) => {
                // Said and signed in one piece; what comes next waits below it.
                let mut made = vec![hold_rule(width)];
                self.add_text(&mut made, &text.unnumbered(), WORK, width, 3.0);
                made.iter_mut().for_each(|piece| piece.with_next = true);
                let mut signature =
                    self.signature(&Text::bold("Seen by"), text.number().unwrap_or_default(), width);
                let base = signature.height - 5.0;
                number_beside(&mut signature, text.number().unwrap_or_default(), NUMBERS, base);
                made.push(signature);
                made
            }
        };
        pieces.append(&mut made);
    }

    fn step_figure(&mut self, figure: &Figure, width: f32, holes: Option<&AtHoles>) -> Vec<Piece> {
        let mut made = self.figure(figure, LEFT, width, LEFT, holes);
        if let Some(first) = made.first_mut() {
            first.above = 9.0;
        }
        made
    }

    /// The lines of a step, remarks that follow each other and fit on one line together as one.
    fn joined_notes(&mut self, lines: &[StepLine], width: f32) -> Vec<StepLine> {
        let mut joined: Vec<StepLine> = Vec::with_capacity(lines.len());
        for line in lines {
            if let (Some(StepLine::Note(before)), StepLine::Note(text)) = (joined.last_mut(), line) {
                let mut both = before.clone().and(" ");
                both.0.extend(text.0.iter().cloned());
                if self.set(&both, REMARK, width).lines.len() <= 1 {
                    *before = both;
                    continue;
                }
            }
            joined.push(line.clone());
        }
        joined
    }

    fn remark(&mut self, text: &Text, width: f32) -> Vec<Piece> {
        let mut made = Vec::new();
        self.add_text(&mut made, text, REMARK, width, 3.0);
        // A short one is read at a glance, and not parted.
        if made.len() <= REMARK_LINES {
            let parts = made.len().saturating_sub(1);
            made[..parts].iter_mut().for_each(|part| part.with_next = true);
        }
        made
    }

    pub(super) fn act(&mut self, text: &Text, boxes: &Boxes, held: bool, width: f32) -> Vec<Piece> {
        let element = self.element(Role::Paragraph);
        let mut made = self.text_pieces(element, &text.unnumbered(), WORK, LEFT, width);
        if held {
            strike(&mut made);
            self.wait_mark(&mut made, WORK);
        } else if *boxes == Boxes::One {
            self.tick_beside(&mut made, text.number(), TICKS, WORK);
        }
        if let (Some(first), Some(number), false) = (made.first_mut(), text.number(), held) {
            number_beside(first, number, TICKS - 3.0, WORK.baseline());
        }
        if let Some(first) = made.first_mut() {
            first.above = PITCH;
        }
        match boxes {
            Boxes::Grid(names) if !held => {
                self.grid_beside(&mut made, Marks::each(text.number()), names, width);
            }
            Boxes::Results(names, taken, entry) if !held => {
                // What is ticked is the word of the record, if it has a place there.
                let choices = match entry.as_ref().map(|entry| &entry.form) {
                    Some(Form::Word(words)) => words,
                    _ => names,
                };
                let marks =
                    Marks { number: text.number(), shown: false, choices: Some(choices), ticked: *taken };
                self.grid_beside(&mut made, marks, names, width);
            }
            _ => {}
        }
        made
    }

    fn step_table(&mut self, heads: &mut Vec<Piece>, table: &Table, width: f32) -> Vec<Piece> {
        let mut made = Vec::new();
        for band in self.table_bands(table, LEFT, width) {
            heads.push(band.head);
            made.extend(band.pieces.into_iter().map(|mut piece| {
                piece.head = piece.head.map(|_| heads.len() - 1);
                piece
            }));
        }
        made
    }

    fn signature(&mut self, signed: &Text, number: &str, width: f32) -> Piece {
        let element = self.element(Role::Paragraph);
        let setting = self.set(signed, SMALL, width * 0.42);
        let height = setting.height().max(18.0) + 9.0;
        let mut piece = Piece::new(2.0, height);
        let base = height - 5.0;
        let top = base - setting.height() + 4.0;
        self.put(&mut piece, element, &setting, &setting.lines, LEFT, top);
        let mut x = LEFT + setting.width() + 14.0;
        let right = LEFT + width;
        let mut items = Vec::new();
        let room = (right - x) * 0.62;
        let mut name = Area::default();
        for (label, end) in [("", x + room), ("date ", right)] {
            items.extend(draw::text(x, base - 0.5, Face::Regular, SMALL.size, label));
            let from = x + fonts::width(Face::Regular, SMALL.size, label) + 3.0;
            items.push(draw::line(from, base, end, base, Stroke::solid(0.8)));
            if label.is_empty() {
                name = Area::new(from, base - FIELD, end - from, FIELD);
            }
            x = end + 14.0;
        }
        let lines = self.child_span(element, setting.linked);
        piece.add(Mark::Element(lines), items);
        self.field(&mut piece, lines, number, name, Filling::Line);
        piece
    }

    /// The element itself, or a part of it if it has parts.
    fn child_span(&mut self, element: ElementId, parted: bool) -> ElementId {
        if parted { self.child(Role::Span, Some(element)) } else { element }
    }
}
