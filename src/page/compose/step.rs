//! Steps: a large number in a column of its own, tick boxes below it, and the work to the right. Longer than most, since
//! every kind of line has its function here, readings and holds apart.

use super::furniture::RUNNING_HEIGHT;
use super::held::{hold_bar, strike};
use super::prose::{frame, tick_beside};
use super::{Composer, SMALL, WORK};
use crate::packet::sheet::{Boxes, Drawing, Figure, StepBlock, StepLine, Table, Text};
use crate::page::draw::{self, TICK_BOX};
use crate::page::flow::{Piece, Unit};
use crate::page::fonts::{self, Face};
use crate::page::pages::{Area, ElementId, Item, Mark, Role, Stroke};
use crate::page::words::Type;

/// Width of the column of numbers and tick boxes.
pub(super) const NUMBERS: f32 = 48.0;
/// Left edge of the work.
pub(super) const LEFT: f32 = NUMBERS + 10.0;
/// Left edge of the tick boxes.
const TICKS: f32 = NUMBERS - TICK_BOX;
/// Size of a step's number.
const LARGE: f32 = 30.0;
/// Size of the end of a range of numbers, and how far below its beginning it stands.
const RANGE_SIZE: f32 = 17.0;
const RANGE_END: f32 = 17.0;
/// Type of titles.
const TITLE: Type = Type::bold(16.0, 20.0);
/// Type of torques and angles.
const TORQUE: Type = Type::bold(16.0, 21.0);
/// Type of remarks.
const REMARK: Type = Type::new(11.5, 15.5);
/// Type of the title that is repeated when a step goes on.
const CONTINUED: Type = Type::bold(13.0, 17.0);
/// Lines of a remark that stay together.
const REMARK_LINES: usize = 5;
/// Height of the title that is repeated when a step goes on.
const CONTINUED_HEIGHT: f32 = 25.0;

/// Pieces that are seen together: of an act, of the figure that shows it, and of the torques that follow.
struct Shown {
    act: usize,
    figure: usize,
    end: usize,
}

impl Composer {
    pub(super) fn step(&mut self, step: &StepBlock) -> Unit {
        let width = self.setup.content_width() - LEFT;
        let level = self.level + 1;
        self.within(Role::Section, |composer| {
            let mut heads = Vec::new();
            let mut pieces = composer.step_title(step, level, width);
            let facts = joined(&step.facts);
            composer.add_text(&mut pieces, &facts, SMALL, width, 2.0);
            composer.add_text(&mut pieces, &step.reason, SMALL, width, 1.0);
            let held = !step.held_by.is_empty();
            if held {
                composer.wait(&mut pieces, &step.held_by, width);
            }
            for piece in &mut pieces {
                piece.with_next = true;
            }
            composer.step_lines(&mut pieces, &mut heads, step, held, width);
            if let Some(signed) = &step.signature {
                if let Some(last) = pieces.last_mut() {
                    last.with_next = true;
                }
                pieces.push(composer.signature(signed, width));
            }
            if held {
                hold_bar(&mut pieces);
            }
            let continued = composer.continued(step, width);
            Unit { heads, continued: Some(continued), ..Unit::whole(pieces) }
        })
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

    fn step_title(&mut self, step: &StepBlock, level: u8, width: f32) -> Vec<Piece> {
        let element = self.element(Role::Heading(level));
        let number = self.characters.line(&step.number);
        // The number is a part of the heading, so it has to be in an element without children.
        let (number_element, title_element) =
            (self.child(Role::Span, Some(element)), self.child(Role::Span, Some(element)));
        let mut pieces = self.text_pieces(title_element, &step.title, TITLE, LEFT, width);
        if pieces.is_empty() {
            pieces.push(Piece::new(0.0, TITLE.leading));
        }
        let baseline = TITLE.baseline() + 1.5;
        // The end of a range stands below its beginning, where both would be small beside each other.
        let below = pieces.len() > 1 || !step.facts.is_empty();
        let (begin, end) = match number.split_once('–').filter(|_| below && number_size(&number) < LARGE) {
            Some((begin, end)) => (begin.to_owned(), format!("–{end}")),
            None => (number, String::new()),
        };
        // Invisible, but it parts the number from the title when the text is taken out of the page.
        let spaced = |words: &str, last: bool| if last { format!("{words} ") } else { words.to_owned() };
        let sized = [
            (spaced(&begin, end.is_empty()), begin, baseline, LARGE),
            (spaced(&end, true), end, baseline + RANGE_END, RANGE_SIZE),
        ];
        if let Some(first) = pieces.first_mut() {
            let mut items = Vec::new();
            for (spaced, words, baseline, largest) in sized.iter().filter(|(_, words, ..)| !words.is_empty())
            {
                let size = number_size(words).min(*largest);
                if let Some(Item::Text(mut run)) = draw::text(0.0, *baseline, Face::Bold, size, spaced) {
                    run.width = fonts::width(Face::Bold, size, words);
                    items.push(Item::Text(run));
                }
            }
            if !items.is_empty() {
                let mark = Mark::Element(number_element);
                first.groups.insert(0, crate::page::pages::Group { mark, items });
            }
            first.above = 26.0;
            first.anchors.push(step.anchor.clone());
            let title = step.title.words();
            first.bookmark = Some((level, format!("{} {title}", step.number).trim().to_string()));
            // Figures taller than the line of the title stand out above it.
            first.shift(0.0, 7.0);
            first.height += 7.0;
        }
        pieces
    }

    /// What stands on top of the next page when a step is longer than one.
    fn continued(&mut self, step: &StepBlock, width: f32) -> Piece {
        let number = self.characters.line(&step.number);
        let mut piece = self.gone_on(&step.title, LEFT, width);
        let baseline = CONTINUED.baseline() + 2.0;
        let size = number_size(&number).min(20.0);
        piece.add(Mark::Artefact, draw::text(0.0, baseline, Face::Bold, size, &number).into_iter().collect());
        piece
    }

    /// A title again where what is below it goes on.
    pub(super) fn gone_on(&mut self, title: &Text, x: f32, width: f32) -> Piece {
        let title = self.characters.line(&title.words());
        let title = fonts::shortened(Face::Bold, CONTINUED.size, &title, width - 80.0);
        let mut piece = Piece::new(0.0, CONTINUED_HEIGHT);
        let baseline = CONTINUED.baseline() + 2.0;
        let end = x + fonts::width(Face::Bold, CONTINUED.size, &title) + 5.0;
        let words = [
            draw::text(x, baseline, Face::Bold, CONTINUED.size, &title),
            draw::text(end, baseline, Face::Regular, SMALL.size, "continued"),
        ];
        piece.add(Mark::Artefact, words.into_iter().flatten().collect());
        piece
    }

    /// The lines of a step. A remark stays with what it is about; an act stays with the figure that shows it, and the
    /// torques that follow with that figure, as far as a page holds them.
    fn step_lines(
        &mut self,
        pieces: &mut Vec<Piece>,
        heads: &mut Vec<Piece>,
        step: &StepBlock,
        held: bool,
        width: f32,
    ) {
        // Where the last act begins whose boxes are told apart by a figure.
        let mut act = None;
        let title = pieces.len();
        let mut shown: Vec<Shown> = Vec::new();
        let mut open = false;
        let mut before: Option<&StepLine> = None;
        let mut worked = false;
        let room = self.setup.content_height() - RUNNING_HEIGHT - CONTINUED_HEIGHT;
        let mut rest = step.lines.as_slice();
        while let [line, after @ ..] = rest {
            rest = after;
            let begun = pieces.len();
            if let StepLine::Figure(figure) = line {
                let told = matches!(before, Some(StepLine::Act { .. } | StepLine::Note(_)));
                if let Some((mut piece, count)) = self.joint_beside(figure, after, told, held, width, room) {
                    // What has just been started by hand stands above the torque that it gets.
                    if let Some(last) = pieces.last_mut() {
                        last.with_next = true;
                    }
                    piece.above = 12.0;
                    pieces.push(piece);
                    (act, open, before) = (None, false, after[..count].last());
                    rest = &after[count..];
                    continue;
                }
            }
            match line {
                StepLine::Note(_) | StepLine::If { .. } => {
                    // What is remarked on a figure is long, and may follow on the next page.
                    let long = |figure: &Figure| !matches!(figure.drawing, Drawing::Way(_));
                    let shown = matches!(before, Some(StepLine::Figure(figure)) if long(figure));
                    let last = pieces.last_mut().filter(|_| !shown);
                    if let Some(last) = last {
                        last.with_next = true;
                    }
                }
                // A small picture of the part in hand.
                StepLine::Figure(Figure { drawing: Drawing::Way(_), .. }) => {
                    if let Some(last) = pieces.last_mut() {
                        last.with_next = true;
                    }
                }
                StepLine::Figure(Figure { drawing: Drawing::Stations(_), .. }) => {}
                StepLine::Figure(_) => {
                    shown.push(Shown { act: act.unwrap_or(begun), figure: begun, end: begun });
                    open = true;
                }
                StepLine::Torque { .. } => {
                    // What has just been started by hand stands above the torque that it gets.
                    if let (Some(StepLine::Act { .. } | StepLine::Note(_)), Some(last)) =
                        (before, pieces.last_mut())
                    {
                        last.with_next = true;
                    }
                    act = None;
                }
                StepLine::Act { boxes: Boxes::Grid(_) | Boxes::Results(..), .. } => {
                    act = Some(begun);
                    open = false;
                }
                _ => {
                    act = None;
                    open = false;
                }
            }
            self.step_line(pieces, heads, line, held, width);
            // What is remarked before any work stands above the first of it.
            worked |= !matches!(line, StepLine::Note(_));
            if let (false, Some(last)) = (worked, pieces.last_mut()) {
                last.with_next = true;
            }
            // Where to measure stands above what is measured.
            if let (StepLine::Figure(Figure { drawing: Drawing::Stations(_), .. }), Some(last)) =
                (line, pieces.last_mut())
            {
                last.with_next = true;
            }
            let belongs = open && matches!(line, StepLine::Figure(_) | StepLine::Torque { .. });
            if let Some(group) = shown.last_mut().filter(|_| belongs) {
                group.end = pieces.len();
            }
            before = Some(line);
        }
        for Shown { act, figure, end } in shown {
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
                    first.above = 10.0;
                }
                // A warning stays with the act that it is about.
                if let Some(last) = made.last_mut() {
                    last.with_next = true;
                }
                made
            }
            StepLine::Act { text, boxes } => self.act(text, boxes, held, width),
            StepLine::PutOn { text, equipment } => self.put_on(text, equipment, held, width),
            StepLine::Torque { text, value, condition, held: open, boxes } => {
                self.torque(text, value, condition, *open, held, boxes, width)
            }
            StepLine::Reading { text, limit, unit, blanks } => {
                self.reading(text, limit, unit, blanks, held, width)
            }
            StepLine::Figure(figure) => {
                let mut made = self.figure(figure, LEFT, width, LEFT);
                if let Some(first) = made.first_mut() {
                    first.above = 12.0;
                }
                made
            }
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
        };
        pieces.append(&mut made);
    }

    fn remark(&mut self, text: &Text, width: f32) -> Vec<Piece> {
        let mut made = Vec::new();
        self.add_text(&mut made, text, REMARK, width, 5.0);
        // A short one is read at a glance, and not parted.
        if made.len() <= REMARK_LINES {
            let parts = made.len().saturating_sub(1);
            made[..parts].iter_mut().for_each(|part| part.with_next = true);
        }
        made
    }

    pub(super) fn act(&mut self, text: &Text, boxes: &Boxes, held: bool, width: f32) -> Vec<Piece> {
        let element = self.element(Role::Paragraph);
        let mut made = self.text_pieces(element, text, WORK, LEFT, width);
        if held {
            strike(&mut made);
            self.wait_mark(&mut made, WORK);
        } else if *boxes == Boxes::One {
            tick_beside(&mut made, TICKS, WORK);
        }
        if let Some(first) = made.first_mut() {
            first.above = 8.0;
        }
        match boxes {
            Boxes::Grid(names) if !held => self.grid(&mut made, names, None, width),
            Boxes::Results(names, taken) if !held => self.grid(&mut made, names, *taken, width),
            _ => {}
        }
        made
    }

    #[expect(clippy::too_many_arguments, reason = "the fields of a torque line")]
    fn torque(
        &mut self,
        text: &Text,
        value: &str,
        condition: &str,
        open: bool,
        held: bool,
        boxes: &Boxes,
        width: f32,
    ) -> Vec<Piece> {
        let mut made =
            self.act(text, if *boxes == Boxes::One { boxes } else { &Boxes::None }, held || open, width);
        if let Some(last) = made.last_mut() {
            last.with_next = true;
        }
        let element = self.element(Role::Paragraph);
        let mut values = if open {
            let kind = Type::bold(13.0, 17.5);
            let text = Text::bold("Not known yet: ").and_bold(value);
            let mut lines = self.text_pieces(element, &text, kind, LEFT + 10.0, width - 20.0);
            frame(&mut lines, Area::new(LEFT, 0.0, width, 0.0), 1.4, 6.0);
            lines
        } else {
            let kind = Type { bold: false, ..TORQUE };
            let gap = if condition.is_empty() { "" } else { "\u{a0}\u{a0} " };
            let beside = Text::bold(value).and_bold(gap).and(condition);
            let setting = self.set(&beside, kind, width);
            if setting.lines.len() <= 1 || condition.is_empty() {
                self.text_pieces(element, &beside, kind, LEFT, width)
            } else {
                // What it is tightened with stands below the value rather than half beside it.
                let mut lines = self.text_pieces(element, &Text::bold(value), kind, LEFT, width);
                lines.extend(self.text_pieces(element, &Text::plain(condition), WORK, LEFT, width));
                lines
            }
        };
        if let Some(first) = values.first_mut() {
            first.above = 3.0;
        }
        let Boxes::Grid(names) = boxes else {
            made.append(&mut values);
            return made;
        };
        if open || held {
            made.append(&mut values);
            return made;
        }
        let mut ticks = vec![Piece::new(0.0, 0.0)];
        self.grid(&mut ticks, names, None, width);
        match (values.as_mut_slice(), ticks.as_slice()) {
            // Few boxes stand at the end of the line that the value leaves free.
            ([value, _, ..], [_, row]) if value.reach() + 16.0 + row.reach() - LEFT <= LEFT + width => {
                let mut row = row.clone();
                row.shift(LEFT + width - row.reach(), (value.height - row.height) / 2.0);
                value.absorb(row);
            }
            _ => {
                if let Some(last) = values.last_mut() {
                    last.with_next = true;
                }
                values.extend(ticks.into_iter().skip(1));
            }
        }
        made.append(&mut values);
        made
    }

    /// Tick boxes with their names, in rows, one of them ticked.
    fn grid(&mut self, made: &mut Vec<Piece>, names: &[String], ticked: Option<usize>, width: f32) {
        let kind = Type::bold(12.0, 16.0);
        let room = width - TICK_BOX - 6.0;
        let settings: Vec<_> =
            names.iter().map(|name| self.set(&Text::bold(name), kind, room.min(240.0))).collect();
        let widest = settings.iter().map(|setting| setting.width()).fold(0.0, f32::max);
        let cell = TICK_BOX + 5.0 + widest + 14.0;
        let columns = balanced(names.len(), ((width + 14.0) / cell) as usize);
        if let Some(last) = made.last_mut() {
            last.with_next = true;
        }
        let element = self.element(Role::Paragraph);
        let rows = settings.len().div_ceil(columns);
        for (index, row) in settings.chunks(columns).enumerate() {
            let tallest = row.iter().map(|setting| setting.height()).fold(TICK_BOX, f32::max);
            let mut piece = Piece::new(7.0, tallest);
            piece.with_next = rows <= 4 && index + 1 < rows;
            for (column, setting) in row.iter().enumerate() {
                let x = LEFT + column as f32 * cell;
                piece.add(Mark::Element(element), vec![draw::tick_box(x, 0.0)]);
                if ticked == Some(index * columns + column) {
                    piece.add(Mark::Element(element), draw::tick(x, 0.0));
                }
                let y = (TICK_BOX - kind.leading) / 2.0;
                self.put(&mut piece, element, setting, &setting.lines, x + TICK_BOX + 5.0, y);
            }
            made.push(piece);
        }
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

    fn signature(&mut self, signed: &Text, width: f32) -> Piece {
        let element = self.element(Role::Paragraph);
        let setting = self.set(signed, SMALL, width * 0.42);
        let height = setting.height().max(18.0) + 18.0;
        let mut piece = Piece::new(6.0, height);
        let base = height - 5.0;
        let top = base - setting.height() + 4.0;
        self.put(&mut piece, element, &setting, &setting.lines, LEFT, top);
        let mut x = LEFT + setting.width() + 14.0;
        let right = LEFT + width;
        let mut items = Vec::new();
        let room = (right - x) * 0.62;
        for (label, end) in [("", x + room), ("date ", right)] {
            items.extend(draw::text(x, base - 0.5, Face::Regular, SMALL.size, label));
            let from = x + fonts::width(Face::Regular, SMALL.size, label) + 3.0;
            items.push(draw::line(from, base, end, base, Stroke::solid(0.8)));
            x = end + 14.0;
        }
        let field = self.child_span(element, setting.linked);
        piece.add(Mark::Element(field), items);
        piece
    }

    /// The element itself, or a part of it if it has parts.
    fn child_span(&mut self, element: ElementId, parted: bool) -> ElementId {
        if parted { self.child(Role::Span, Some(element)) } else { element }
    }
}

/// Columns of a grid with at most `most` of them, so that its rows are of about the same length.
pub(super) fn balanced(count: usize, most: usize) -> usize {
    let rows = count.div_ceil(most.max(1)).max(1);
    count.div_ceil(rows).max(1)
}

/// Size at which a number fits its column.
fn number_size(number: &str) -> f32 {
    let width = fonts::width(Face::Bold, LARGE, number);
    if width <= NUMBERS { LARGE } else { LARGE * NUMBERS / width }
}

fn joined(facts: &[Text]) -> Text {
    let mut all = Text::default();
    for (index, fact) in facts.iter().enumerate() {
        if index > 0 {
            all = all.and(" · ");
        }
        all.0.extend(fact.0.iter().cloned());
    }
    all
}
