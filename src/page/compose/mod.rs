//! Blocks to units of pieces, and the whole packet to pages.

mod boxes;
mod columns;
mod figure;
mod fitting;
mod hazard;
mod held;
mod holes;
mod label;
mod prose;
mod reading;
mod step;
mod table;
mod title;
mod torque;

pub(super) use figure::joint_caption;

use super::draw;
use super::errors;
use super::flow::Flow;
use super::furniture::Furniture;
use super::pages::{
    Area, Element, ElementId, Filling, FormField, Item, Mark, Page, Pages, Position, Role, TextRun,
};
use super::pieces::{Piece, Unit, link};
use super::setup::PageSetup;
use super::words::{self, Characters, Line, Type};
use crate::diagnostics::Outcome;
use crate::sheet::{AGAIN, Anchor, Block, JointWhole, Packet, Sheet, SheetKind, Text};
use std::collections::BTreeMap;

/// Running text.
const BODY: Type = Type::new(11.0, 14.2);
/// Small facts: still readable at arm's length.
const SMALL: Type = Type::new(11.0, 13.6);
/// The work itself.
const WORK: Type = Type::new(13.0, 16.5);
/// White space between two lines of work: with [`WORK`] a pitch of 7.5 mm.
const PITCH: f32 = 4.8;
/// Width of the column of numbers and tick boxes.
const NUMBERS: f32 = 42.0;
/// Height of a field over a line to write on.
const FIELD: f32 = 16.0;
/// Left edge of the work.
const LEFT: f32 = NUMBERS + 8.0;

/// Sets a packet on pages. Every character that can't be set is an error; the pages then hold question marks in
/// its place and must not be printed.
///
/// ```
/// use benchleaf::model::Phase;
/// use benchleaf::{Memory, PacketOptions, PageSetup, Request, Workshop, lay_out};
///
/// let files = Memory::new().with(
///     "pump.rebuild",
///     "family pump \"Pump\" { origin \"invented\"  invented }\n\
///      part cover \"Cover\"\n\
///      strip cover_off \"Take the cover off\" { take cover }\n",
/// );
/// let mut workshop = Workshop::over(files);
/// let view = workshop.job(&Request::of("pump.rebuild")).value.expect("nothing is wrong with it");
/// let packet = view.packet(&workshop, &PacketOptions::of(Phase::Strip));
/// let laid_out = lay_out(&packet, &PageSetup::default());
/// assert!(laid_out.diagnostics.is_empty());
/// assert!(!laid_out.value.pages.is_empty());
/// ```
pub fn lay_out(packet: &Packet, setup: &PageSetup) -> Outcome<Pages> {
    let mut composer = Composer::new(*setup, &packet.meanings);
    let furniture = Furniture::new(&packet.footer, &mut composer.characters);
    let mut flow = Flow::new(setup, furniture);
    for (index, sheet) in packet.sheets.iter().enumerate() {
        composer.sheet(sheet, Anchor::of_sheet(index), &mut flow);
    }
    if packet.sheets.is_empty() {
        // A PDF without a page can't be read.
        flow.begin_sheet("", false);
    }
    let (pages, anchors, bookmarks) = flow.finish();
    let (width, height) = setup.size();
    composer.crowded.dedup();
    let crowded = composer.crowded.iter().map(|title| errors::label_too_small(title));
    let diagnostics = composer.characters.refused().iter().map(errors::refused).chain(crowded).collect();
    let mut pages = Pages {
        title: packet.title.clone(),
        language: packet.language.clone(),
        fingerprint: packet.footer.fingerprint.clone(),
        width,
        height,
        pages,
        elements: composer.elements,
        bookmarks,
        anchors,
        attachments: packet.attachments.clone(),
    };
    drop_dead_links(&mut pages);
    Outcome { value: pages, diagnostics }
}

/// A sheet printed alone may lead to sheets that aren't there.
fn drop_dead_links(pages: &mut Pages) {
    let Pages { pages, anchors, elements, .. } = pages;
    for Page { links, .. } in pages {
        links.retain(|link| {
            let alive = anchors.contains_key(&link.to);
            if !alive {
                elements[link.element.0].role = Role::Span;
            }
            alive
        });
    }
}

/// Words broken into lines, with how they are set.
struct Setting {
    lines: Vec<Line>,
    kind: Type,
    linked: bool,
}

impl Setting {
    fn height(&self) -> f32 {
        self.lines.len() as f32 * self.kind.leading
    }

    fn width(&self) -> f32 {
        self.lines.iter().map(|line| line.width).fold(0.0, f32::max)
    }
}

/// Turns blocks into pieces and keeps the tree of meaning.
struct Composer<'p> {
    setup: PageSetup,
    /// What is filled in at each number.
    meanings: &'p BTreeMap<String, String>,
    characters: Characters,
    elements: Vec<Element>,
    /// Elements that are open, outermost first.
    open: Vec<ElementId>,
    /// Titles of labels whose words don't fit them.
    crowded: Vec<String>,
    /// Level of the last heading, for the outline.
    level: u8,
    /// Scales of joints, as far as they have been looked for.
    scales: Vec<(JointWhole, draw::Scale)>,
    /// Height of the sheet's title above its first block; none once something else than a heading stands there.
    title_above: f32,
    /// Height of the headings right above the next block.
    headings_above: f32,
}

impl<'p> Composer<'p> {
    fn new(setup: PageSetup, meanings: &'p BTreeMap<String, String>) -> Self {
        let root = Element { role: Role::Document, parent: None, alternative: String::new(), across: 1 };
        Composer {
            setup,
            meanings,
            characters: Characters::default(),
            elements: vec![root],
            open: vec![ElementId(0)],
            crowded: Vec::new(),
            level: 1,
            scales: Vec::new(),
            title_above: 0.0,
            headings_above: 0.0,
        }
    }

    /// Adds an element under the innermost open one.
    fn element(&mut self, role: Role) -> ElementId {
        let parent = self.open.last().copied();
        self.child(role, parent)
    }

    fn child(&mut self, role: Role, parent: Option<ElementId>) -> ElementId {
        self.elements.push(Element { role, parent, alternative: String::new(), across: 1 });
        ElementId(self.elements.len() - 1)
    }

    /// Composes with an element open around what is made.
    fn within<T>(&mut self, role: Role, make: impl FnOnce(&mut Self) -> T) -> T {
        let element = self.element(role);
        self.open.push(element);
        let made = make(self);
        self.open.pop();
        made
    }

    fn set(&mut self, text: &Text, kind: Type, width: f32) -> Setting {
        let lines = words::set(text, &kind, width, &mut self.characters);
        Setting { lines, kind, linked: text.0.iter().any(|run| run.link.is_some()) }
    }

    /// Puts lines into a piece, as content of `element`, their upper left at `x`, `y`.
    fn put(
        &mut self,
        piece: &mut Piece,
        element: ElementId,
        setting: &Setting,
        lines: &[Line],
        x: f32,
        y: f32,
    ) {
        for (index, line) in lines.iter().enumerate() {
            let top = y + index as f32 * setting.kind.leading;
            let count = line.parts.len();
            for (place, part) in line.parts.iter().enumerate() {
                let mut words = part.words.clone();
                if place + 1 == count {
                    // Invisible, but it parts the lines when the text is taken out of the page.
                    words.push(' ');
                }
                let run = Item::Text(TextRun {
                    at: Position::new(x + part.x, top + setting.kind.baseline()),
                    width: part.width,
                    face: part.face,
                    size: setting.kind.size,
                    ink: setting.kind.ink,
                    text: words,
                });
                let mark = match &part.link {
                    Some(to) => {
                        let element = self.child(Role::Link, Some(element));
                        let area = Area::new(x + part.x, top, part.width, setting.kind.leading);
                        piece.links.push(link(area, to.clone(), element));
                        element
                    }
                    None if setting.linked => self.child(Role::Span, Some(element)),
                    None => element,
                };
                match piece.groups.last_mut() {
                    Some(group) if group.mark == Mark::Element(mark) => group.items.push(run),
                    _ => piece.add(Mark::Element(mark), vec![run]),
                }
            }
        }
    }

    /// Lets a place of a piece be filled in on a screen, under the number that it has on paper; without one it stays on
    /// paper. `element` is what is printed there.
    fn field(&mut self, piece: &mut Piece, element: ElementId, number: &str, area: Area, filling: Filling) {
        if number.is_empty() {
            return;
        }
        // A number is never parted on paper.
        let number = number.replace('\u{a0}', " ");
        let form = self.child(Role::Form, Some(element));
        let (first, again) = match number.strip_suffix(AGAIN) {
            Some(first) => (first, ", again"),
            None => (number.as_str(), ""),
        };
        let meaning = self.meanings.get(first).map_or("", String::as_str);
        self.elements[form.0].alternative = format!("{first} {meaning}{again}").trim_end().to_owned();
        piece.fields.push(FormField { area, number, filling, element: form });
    }

    /// One piece per line, so that long text may go on over a page end, but never a single line.
    fn text_pieces(&mut self, element: ElementId, text: &Text, kind: Type, x: f32, width: f32) -> Vec<Piece> {
        let setting = self.set(text, kind, width);
        let count = setting.lines.len();
        let mut pieces = Vec::with_capacity(count);
        for (index, line) in setting.lines.iter().enumerate() {
            let mut piece = Piece::new(0.0, kind.leading);
            self.put(&mut piece, element, &setting, std::slice::from_ref(line), x, 0.0);
            piece.with_next = index + 1 < count && (index == 0 || index + 2 == count);
            pieces.push(piece);
        }
        pieces
    }

    /// All lines in one piece.
    fn text_piece(&mut self, role: Role, text: &Text, kind: Type, x: f32, width: f32) -> Piece {
        let element = self.element(role);
        let setting = self.set(text, kind, width);
        let mut piece = Piece::new(0.0, setting.height());
        self.put(&mut piece, element, &setting, &setting.lines, x, 0.0);
        piece
    }

    fn sheet(&mut self, sheet: &Sheet, anchor: Anchor, flow: &mut Flow) {
        let title = self.characters.line(&sheet.title);
        let chapter = sheet.kind == SheetKind::Steps;
        let flows = sheet.flows && !sheet.follows && flow.may_follow();
        if chapter && flow.goes_on() || flows {
            flow.begin_chapter(&title);
        } else if !sheet.follows {
            flow.begin_sheet(&title, chapter);
        }
        self.level = 1;
        self.within(Role::Section, |composer| {
            let small = chapter || sheet.follows || flows || sheet.labels.is_some();
            let mut title = if small { composer.chapter_title(sheet) } else { composer.sheet_title(sheet) };
            if let Some(first) = title.pieces.first_mut() {
                first.anchors.push(anchor);
            }
            match sheet.labels {
                Some(size) => {
                    flow.place(vec![title]);
                    composer.labels(&sheet.blocks, size, flow);
                }
                None => {
                    let mut units = composer.units(sheet, title);
                    let led = small && matches!(sheet.blocks.first(), Some(Block::Paragraph(_)));
                    if led && let Some(lead) = units.get_mut(1) {
                        // A title and a line under it are not left alone at the end of a page.
                        lead.with_next = true;
                    }
                    if sheet.follows {
                        flow.follow(&composer.characters.line(&sheet.title), &units);
                    }
                    flow.place(units);
                }
            }
        });
    }

    fn sheet_title(&mut self, sheet: &Sheet) -> Unit {
        let width = self.setup.content_width();
        let text = Text::bold(&sheet.title);
        let short = sheet.title.chars().count() <= 80;
        let kind = if short { Type::bold(26.0, 31.0) } else { Type::bold(16.0, 20.0) };
        let element = self.element(Role::Heading(1));
        let mut pieces = self.text_pieces(element, &text, kind, 0.0, width);
        if let Some(first) = pieces.first_mut() {
            first.bookmark = Some((1, sheet.title.clone()));
        }
        if !sheet.subtitle.is_empty() {
            let element = self.element(Role::Paragraph);
            let mut lines =
                self.text_pieces(element, &Text::plain(&sheet.subtitle), Type::new(13.0, 17.5), 0.0, width);
            if let Some(first) = lines.first_mut() {
                first.above = 3.0;
            }
            pieces.extend(lines);
        }
        let mut rule = Piece::new(8.0, 3.0);
        rule.add(Mark::Artefact, vec![draw::vertical(0.0, 0.0, width, 3.0)]);
        pieces.push(rule);
        for piece in &mut pieces {
            piece.with_next = true;
        }
        Unit { with_next: true, ..Unit::flowing(pieces) }
    }

    /// The title of a chapter of work, which goes on where the one before it ends.
    fn chapter_title(&mut self, sheet: &Sheet) -> Unit {
        const CHAPTER: Type = Type::bold(20.0, 23.0);
        let width = self.setup.content_width();
        let element = self.element(Role::Heading(1));
        let mut pieces = self.text_pieces(element, &Text::bold(&sheet.title), CHAPTER, 0.0, width);
        if let Some(first) = pieces.first_mut() {
            first.shift(0.0, 7.0);
            first.height += 7.0;
            first.add(Mark::Artefact, vec![draw::vertical(0.0, 0.0, width, 2.5)]);
            first.above = 15.0;
            first.bookmark = Some((1, sheet.title.clone()));
        }
        for piece in &mut pieces {
            piece.with_next = true;
        }
        Unit { with_next: true, ..Unit::flowing(pieces) }
    }

    fn block(&mut self, block: &Block) -> Vec<Unit> {
        match block {
            Block::Heading { level, text, anchor } => vec![self.heading(*level, text, anchor.as_ref())],
            Block::Paragraph(text) => self.paragraph(text),
            Block::Notice(text) => vec![self.notice(text)],
            Block::List { items, tick } => self.list(items, *tick),
            Block::Contents(entries) => self.contents(entries),
            Block::Facts(facts) => self.facts(facts),
            Block::Table(table) => self.table(table, 0.0, self.setup.content_width()),
            Block::Halves(table) => self.halves(table),
            Block::Hazard(hazard) => {
                let mut pieces = self.hazard(hazard, 0.0, self.setup.content_width());
                if let Some(first) = pieces.first_mut() {
                    first.above = 12.0;
                }
                vec![Unit::whole(pieces)]
            }
            Block::Step(step) => vec![self.step(step)],
            Block::Figure(figure) => {
                let mut pieces = self.figure(figure, 0.0, self.setup.content_width(), 0.0, None);
                if let Some(first) = pieces.first_mut() {
                    first.above = 12.0;
                }
                vec![Unit::flowing(pieces)]
            }
            Block::Lines { label, count } => vec![self.ruled_lines(label, *count)],
            Block::Together(blocks) => self.together(blocks),
            // A label among other blocks stands on its own, at a usual size of label.
            Block::Label(label) => vec![Unit::whole(vec![self.label_piece(label)])],
        }
    }
}
