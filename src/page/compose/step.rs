//! Steps: a large number in a column of its own, tick boxes below it, and the work to the right.

use super::furniture::RUNNING_HEIGHT;
use super::prose::{frame, tick_beside};
use super::{Composer, SMALL, Setting, WORK};
use crate::packet::sheet::{Blank, Boxes, Drawing, Figure, Run, StepBlock, StepLine, Style, Table, Text};
use crate::page::draw::{self, TICK_BOX};
use crate::page::flow::{Piece, Unit};
use crate::page::fonts::{self, Face};
use crate::page::pages::{Area, ElementId, Item, Mark, Role, Stroke};
use crate::page::words::Type;

/// Width of the column of numbers and tick boxes.
const NUMBERS: f32 = 48.0;
/// Left edge of the work.
pub(super) const LEFT: f32 = NUMBERS + 10.0;
/// Left edge of the tick boxes.
const TICKS: f32 = NUMBERS - TICK_BOX;
/// Type of titles.
const TITLE: Type = Type::bold(16.0, 20.0);
/// Type of torques and angles.
const TORQUE: Type = Type::bold(16.0, 21.0);
/// Type of remarks.
const REMARK: Type = Type::new(11.5, 15.5);
/// Height of the title that is repeated when a step goes on.
const CONTINUED_HEIGHT: f32 = 25.0;
/// Type of limits and units.
const LIMIT: Type = Type::new(12.0, 16.0);
/// Type of the names of blanks.
const NAME: Type = Type::bold(12.0, 16.0);
/// Least width of a blank to write a reading in.
const BLANK: f32 = 68.0;

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

    fn add_text(&mut self, pieces: &mut Vec<Piece>, text: &Text, kind: Type, width: f32, above: f32) {
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
        let size = number_size(&number);
        let baseline = TITLE.baseline() + 1.5;
        if let Some(first) = pieces.first_mut() {
            let words = if number.is_empty() { String::new() } else { format!("{number} ") };
            if let Some(Item::Text(mut run)) = draw::text(0.0, baseline, Face::Bold, size, &words) {
                run.width = fonts::width(Face::Bold, size, &number);
                first.groups.insert(
                    0,
                    crate::page::pages::Group {
                        mark: Mark::Element(number_element),
                        items: vec![Item::Text(run)],
                    },
                );
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
        let kind = Type::bold(13.0, 17.0);
        let title =
            fonts::shortened(Face::Bold, kind.size, &self.characters.line(&step.title.words()), width - 80.0);
        let mut piece = Piece::new(0.0, CONTINUED_HEIGHT);
        let baseline = kind.baseline() + 2.0;
        let size = number_size(&number).min(20.0);
        let words = [
            draw::text(0.0, baseline, Face::Bold, size, &number),
            draw::text(LEFT, baseline, Face::Bold, kind.size, &title),
            draw::text(
                LEFT + fonts::width(Face::Bold, kind.size, &title) + 5.0,
                baseline,
                Face::Regular,
                SMALL.size,
                "continued",
            ),
        ];
        piece.add(Mark::Artefact, words.into_iter().flatten().collect());
        piece
    }

    /// Says what a held step waits for.
    fn wait(&mut self, pieces: &mut Vec<Piece>, held_by: &[Text], width: f32) {
        let mut box_pieces = Vec::new();
        for (index, reason) in held_by.iter().enumerate() {
            let element = self.element(Role::Paragraph);
            let text = if index == 0 { Text::bold("WAIT for ") } else { Text::plain("and for ") };
            let text = Text(text.0.into_iter().chain(reason.0.iter().cloned()).collect());
            box_pieces.extend(self.text_pieces(
                element,
                &text,
                Type::new(12.5, 17.0),
                LEFT + 12.0,
                width - 24.0,
            ));
        }
        frame(&mut box_pieces, Area::new(LEFT, 0.0, width, 0.0), 2.2, 7.0);
        if let Some(first) = box_pieces.first_mut() {
            first.above = 7.0;
        }
        pieces.extend(box_pieces);
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
        for line in &step.lines {
            let begun = pieces.len();
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
                StepLine::Figure(_) => {
                    shown.push(Shown { act: act.unwrap_or(begun), figure: begun, end: begun });
                    open = true;
                }
                StepLine::Torque { .. } => act = None,
                StepLine::Act { boxes: Boxes::Grid(_), .. } => {
                    act = Some(begun);
                    open = false;
                }
                _ => {
                    act = None;
                    open = false;
                }
            }
            self.step_line(pieces, heads, line, held, width);
            let belongs = open && matches!(line, StepLine::Figure(_) | StepLine::Torque { .. });
            if let Some(group) = shown.last_mut().filter(|_| belongs) {
                group.end = pieces.len();
            }
            before = Some(line);
        }
        let room = self.setup.content_height() - RUNNING_HEIGHT - CONTINUED_HEIGHT;
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

    fn step_line(
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
        if let (Boxes::Grid(names), false) = (boxes, held) {
            self.grid(&mut made, names, width);
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
            let gap = "\u{a0}\u{a0} ";
            let mut run = Text::bold(value);
            if !condition.is_empty() {
                run = run.and_bold(gap);
                run.0.push(Run { text: condition.to_string(), style: Style::Plain, link: None });
            }
            self.text_pieces(element, &run, Type { bold: false, ..TORQUE }, LEFT, width)
        };
        if let Some(first) = values.first_mut() {
            first.above = 3.0;
        }
        made.append(&mut values);
        if let (Boxes::Grid(names), false) = (boxes, open || held) {
            self.grid(&mut made, names, width);
        }
        made
    }

    /// Tick boxes with their names, in rows.
    fn grid(&mut self, made: &mut Vec<Piece>, names: &[String], width: f32) {
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

    /// What is read and its limits, to stand above the blanks.
    fn reading_head(&mut self, text: &Text, limit: &str, held: bool, width: f32) -> Vec<Piece> {
        let mut made = self.act(text, &Boxes::None, held, width);
        self.add_text(&mut made, &Text::plain(limit), LIMIT, width, 2.0);
        for piece in &mut made {
            piece.with_next = true;
        }
        made
    }

    fn reading(
        &mut self,
        text: &Text,
        limit: &str,
        unit: &str,
        blanks: &[Blank],
        held: bool,
        width: f32,
    ) -> Vec<Piece> {
        let single = blanks.len() == 1;
        let unit = self.set(&Text::plain(unit), LIMIT, width / 3.0);
        let names: Vec<_> =
            blanks.iter().map(|blank| self.set(&Text::bold(&blank.name), NAME, width * 0.4)).collect();
        let written: Vec<_> =
            blanks.iter().map(|blank| self.set(&Text::bold(&blank.written), NAME, width * 0.4)).collect();
        let widest = |settings: &[Setting]| settings.iter().map(Setting::width).fold(0.0, f32::max);
        let name_room = if widest(&names) > 0.0 { widest(&names) + 6.0 } else { 0.0 };
        let unit_room = if unit.lines.is_empty() { 0.0 } else { unit.width() + 5.0 };
        let field = BLANK.max(widest(&written) - unit_room);
        let least = name_room + field + unit_room + 14.0;
        let columns = balanced(names.len(), ((width + 14.0) / least) as usize);
        let blank = (((width + 14.0) / columns as f32).min(least + 40.0) - (least - field)).max(field);
        let cell = least - field + blank;
        // A short limit stands beside a single blank, a longer one above.
        let beside = self.set(&Text::plain(limit), LIMIT, width);
        let left = name_room + blank + unit_room + 16.0;
        // A reading is taken twice where it stands alone; a number of a photograph is not.
        let again =
            self.set(&Text::plain(if single && unit_room > 0.0 { "again" } else { "" }), LIMIT, width);
        let again_room =
            if again.lines.is_empty() { 0.0 } else { again.width() + 6.0 + field + unit_room + 16.0 };
        let second = again_room > 0.0 && left + again_room <= width && blanks[0].written.is_empty();
        let left = if second { left + again_room } else { left };
        let limit_beside = single && beside.lines.len() == 1 && left + beside.width() <= width;
        let mut made = self.reading_head(text, if limit_beside { "" } else { limit }, held, width);
        let element = self.element(Role::Paragraph);
        let in_one_line = |settings: &[Setting]| settings.iter().all(|setting| setting.lines.len() <= 1);
        let whole = made.len() == 1
            && single
            && beside.lines.is_empty()
            && in_one_line(&names)
            && in_one_line(&written);
        if let Some(first) =
            made.first_mut().filter(|first| whole && first.reach() + left + 16.0 <= LEFT + width)
        {
            // A blank and no more stands at the end of the line.
            let start = LEFT + width - left + 16.0;
            self.blank(
                first,
                element,
                (&names[0], &written[0], &unit),
                start,
                name_room,
                blank,
                WORK.leading - 3.0,
            );
            first.with_next = false;
            return made;
        }
        for (names, written) in names.chunks(columns).zip(written.chunks(columns)) {
            let heights = names.iter().chain(written).map(Setting::height);
            let height = heights.fold(unit.height().max(16.0), f32::max) + 12.0;
            let mut piece = Piece::new(1.0, height);
            let base = height - 4.0;
            for (column, (name, written)) in names.iter().zip(written).enumerate() {
                let x = LEFT + column as f32 * cell;
                self.blank(&mut piece, element, (name, written, &unit), x, name_room, blank, base);
                if second {
                    let x = x + name_room + blank + unit_room + 16.0;
                    let fields = (&again, written, &unit);
                    self.blank(&mut piece, element, fields, x, again.width() + 6.0, field, base);
                }
                if limit_beside {
                    let x = x + left;
                    self.put(&mut piece, element, &beside, &beside.lines, x, base - beside.height() + 4.0);
                }
            }
            made.push(piece);
        }
        made
    }

    /// A blank with its name before and its unit behind it, or what was written there.
    #[expect(clippy::too_many_arguments, reason = "three words, and where each stands")]
    fn blank(
        &mut self,
        piece: &mut Piece,
        element: ElementId,
        (name, written, unit): (&Setting, &Setting, &Setting),
        x: f32,
        name_room: f32,
        width: f32,
        base: f32,
    ) {
        self.put(piece, element, name, &name.lines, x, base - name.height() + 4.0);
        let (from, to) = (x + name_room, x + name_room + width);
        if written.lines.is_empty() {
            let line = draw::line(from, base, to, base, Stroke::solid(0.8));
            piece.add(Mark::Element(element), vec![line]);
            self.put(piece, element, unit, &unit.lines, to + 5.0, base - unit.height() + 4.0);
        } else {
            self.put(piece, element, written, &written.lines, from, base - written.height() + 4.0);
        }
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

    /// The word "wait" where the tick box would be.
    fn wait_mark(&mut self, made: &mut [Piece], kind: Type) {
        let Some(first) = made.first_mut() else { return };
        let size = 11.0;
        let x = NUMBERS - fonts::width(Face::Bold, size, "wait");
        let items: Vec<Item> =
            draw::text(x, kind.baseline(), Face::Bold, size, "wait ").into_iter().collect();
        match first.groups.first_mut() {
            Some(group) => group.items.splice(0..0, items).for_each(drop),
            None => first.add(Mark::Artefact, items),
        }
    }
}

/// Columns of a grid with at most `most` of them, so that its rows are of about the same length.
fn balanced(count: usize, most: usize) -> usize {
    let rows = count.div_ceil(most.max(1)).max(1);
    count.div_ceil(rows).max(1)
}

/// Size at which a number fits its column.
fn number_size(number: &str) -> f32 {
    const LARGE: f32 = 30.0;
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

/// Draws a line through all words.
fn strike(pieces: &mut [Piece]) {
    for piece in pieces {
        let mut lines = Vec::new();
        for item in piece.groups.iter().flat_map(|group| &group.items) {
            if let Item::Text(run) = item {
                let y = run.at.y - run.size * 0.26;
                lines.push(draw::line(run.at.x, y, run.at.x + run.width, y, Stroke::solid(0.9)));
            }
        }
        piece.add(Mark::Artefact, lines);
    }
}

/// A broken bar down the left of a held step, to be seen while leafing.
fn hold_bar(pieces: &mut [Piece]) {
    const WIDTH: f32 = 4.0;
    const DASH: f32 = 5.0;
    const PERIOD: f32 = 8.0;
    let mut begun = 0.0;
    for piece in pieces.iter_mut().skip(1) {
        piece.close_gap();
        let mut dashes = Vec::new();
        let mut y = -(begun % PERIOD);
        while y < piece.height {
            let (from, to) = (y.max(0.0), (y + DASH).min(piece.height));
            if to > from {
                dashes.push(draw::vertical(2.0, from, WIDTH, to - from));
            }
            y += PERIOD;
        }
        begun += piece.height;
        piece.add(Mark::Artefact, dashes);
    }
}
