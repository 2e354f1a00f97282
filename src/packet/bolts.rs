//! Bolts at full size: a gauge to lay each on, and for joints with bolts of several lengths a card to push each through at
//! its place; before them a rule by which it is seen whether the print is of full size.

use super::bench::Bench;
use super::fastener;
use super::joint_figure::holes;
use super::lengths::length_at;
use crate::plan::words::{capital, inner, list};
use crate::procedure::model::{Drive, End, FastenerKind, Joint, Lengths, Place, Seen, SetId, View};
use crate::procedure::point;
use crate::quantity::{Length, Quantity};
use crate::sheet::{Block, Drawing, Figure, Shape, ShapesDrawing, Sheet, SheetKind, Text};

/// Thickness of a head as a share of its thread. Common practice, no source.
const HEAD: f64 = 0.65;
/// Width of a head across its flats as a share of its thread, where the drive doesn't say. Common practice, no source.
const FLATS: f64 = 1.6;
/// Room for a line of words, in millimetres.
const WORDS: f64 = 6.0;
/// The widest and the tallest that every paper holds, in millimetres.
const ROOM: (f64, f64) = (178.0, 225.0);
/// Room round the holes of a card, in millimetres.
const ROUND: f64 = 9.0;

/// The sheet of bolts; none where no length is known.
pub(super) fn bolts(bench: &Bench) -> Vec<Sheet> {
    let gauge = gauge(bench);
    let cards = cards(bench);
    if gauge.is_empty() && cards.is_empty() {
        return Vec::new();
    }
    let check = Text::bold("Measure the rule before you lay a bolt on this sheet: ").and(
        "from its first to its last line it is 100 mm. If it isn't, print again at 100 %, without fitting to the page. Heads \
         are drawn plainly; what counts is the thread and the length under the head.",
    );
    let mut blocks = vec![Block::Paragraph(check), Block::Figure(rule())];
    if !gauge.is_empty() {
        blocks.push(heading("Gauge: lay the bolt on its picture"));
        blocks.extend(gauge);
    }
    if !cards.is_empty() {
        blocks.push(heading("Cards: push each bolt through its place"));
        blocks.extend(cards);
    }
    vec![Sheet::new(
        SheetKind::Bolts,
        "Bolts",
        "At full size, by the lengths of the procedure and the record",
        blocks,
    )]
}

fn heading(text: &str) -> Block {
    Block::Heading { level: 2, text: Text::plain(text), anchor: None }
}

fn line(from: (f64, f64), to: (f64, f64), heavy: bool) -> Shape {
    Shape::Line { from, to, heavy, dashed: false }
}

fn words(at: (f64, f64), words: impl Into<String>, bold: bool) -> Shape {
    Shape::Words { at, words: words.into(), bold, around: false }
}

/// A rule of 100 mm.
fn rule() -> Figure {
    let (left, foot) = (2.0, 2.0);
    let mut shapes = vec![line((left, foot), (left + 100.0, foot), false)];
    for step in 0..=20u8 {
        let x = left + 5.0 * f64::from(step);
        let tall = if step.is_multiple_of(2) { 5.0 } else { 3.0 };
        shapes.push(line((x, foot), (x, foot + tall), step == 0 || step == 20));
    }
    shapes.push(words((left + 104.0, foot + 2.5), "100 mm", true));
    Figure {
        caption: Text::default(),
        alternative: "A rule of 100 mm, to check that the print is of full size.".to_owned(),
        drawing: Drawing::Shapes(ShapesDrawing { width: 130.0, height: 9.0, full_size: true, shapes }),
    }
}

/// One size of bolt with what it holds.
struct Size {
    thread: String,
    drive: String,
    diameter: f64,
    flats: f64,
    length: Quantity,
    head: bool,
    names: Vec<String>,
}

fn gauge(bench: &Bench) -> Vec<Block> {
    let mut sizes: Vec<Size> = Vec::new();
    for (id, set) in bench.procedure.sets.numbered() {
        let headless = matches!(set.kind, FastenerKind::Stud | FastenerKind::Plug);
        if set.kind == FastenerKind::Nut {
            continue;
        }
        let Some(diameter) = set.size().map(Length::mm) else { continue };
        let flats = match &set.drive {
            Some(Drive::AcrossFlats(size)) => size.base() * 1000.0,
            _ => diameter * FLATS,
        };
        let thread = fastener::thread(set).unwrap_or_default();
        let drive = fastener::drive(set).unwrap_or_default();
        for (length, letters) in lengths(bench, id).known {
            let holes = if letters.is_empty() { String::new() } else { format!(", {}", list(&letters)) };
            let name = format!("{}{holes}", fastener::all(bench.procedure, id));
            let same = |size: &&mut Size| {
                size.thread == thread
                    && size.drive == drive
                    && size.head != headless
                    && (size.length.base() - length.base()).abs() < 1e-6
            };
            match sizes.iter_mut().find(same) {
                Some(size) => size.names.push(name),
                None => sizes.push(Size {
                    thread: thread.clone(),
                    drive: drive.clone(),
                    diameter,
                    flats,
                    length,
                    head: !headless,
                    names: vec![name],
                }),
            }
        }
    }
    sizes.sort_by(|a, b| {
        a.diameter
            .total_cmp(&b.diameter)
            .then(a.length.base().total_cmp(&b.length.base()))
            .then(a.drive.cmp(&b.drive))
    });
    sizes.iter().map(|size| Block::Figure(picture(size))).collect()
}

/// How long the fasteners of a set are.
pub(super) struct SetLengths {
    /// Each length, with the letters of its holes where the others are of another or nobody knows theirs.
    pub(super) known: Vec<(Quantity, Vec<String>)>,
    /// The letters of the holes whose fastener nobody has measured, at some place at least.
    pub(super) open: Vec<String>,
}

impl SetLengths {
    /// The one length of all of them.
    fn only(&self) -> Option<Quantity> {
        match self.known.as_slice() {
            [(length, _)] if self.open.is_empty() => Some(*length),
            _ => None,
        }
    }

    /// Whether all of both are of one and the same length.
    pub(super) fn same(&self, other: &SetLengths) -> bool {
        let both = self.only().zip(other.only());
        both.is_some_and(|(one, other)| (one.base() - other.base()).abs() < 1e-6)
    }

    /// In words, as it stands behind their name.
    pub(super) fn told(&self) -> String {
        let not_known = "length not known";
        match (self.only(), self.known.is_empty()) {
            (Some(length), _) => length.printed(),
            (None, true) => not_known.to_owned(),
            (None, false) => {
                let known = self.known.iter().map(|(length, holes)| (length.printed(), holes));
                let open = std::iter::once((not_known.to_owned(), &self.open));
                let told = known.chain(open).filter(|(_, holes)| !holes.is_empty());
                told.map(|(says, holes)| format!("{}: {says}", holes.join(" ")))
                    .collect::<Vec<_>>()
                    .join("; ")
            }
        }
    }
}

/// How long the fasteners of a set are at all of its places, as they came out or as stated.
fn lengths(bench: &Bench, id: SetId) -> SetLengths {
    let places: Vec<Place> = bench.procedure.places(&bench.procedure.set(id).axes).collect();
    lengths_at(bench, id, &places)
}

/// The same at these places.
pub(super) fn lengths_at(bench: &Bench, id: SetId, places: &[Place]) -> SetLengths {
    let set = bench.procedure.set(id);
    let mut known: Vec<(Quantity, Vec<String>)> = Vec::new();
    let mut open: Vec<String> = Vec::new();
    let mut note = |length: Quantity, letter: String| match known
        .iter_mut()
        .find(|(known, _)| (known.base() - length.base()).abs() < 1e-6)
    {
        Some((_, letters)) if !letters.contains(&letter) => letters.push(letter),
        Some(_) => {}
        None => known.push((length, vec![letter])),
    };
    let letters = bench.procedure.hole_letters(id);
    for place in places.iter().copied() {
        let stated = match set.lengths.throughout(bench.procedure, &set.axes, &[place]) {
            Some(Lengths::One(length)) => Some(*length),
            _ => None,
        };
        if letters.is_empty()
            && let Some(length) = stated
        {
            note(length, String::new());
        }
        for letter in &letters {
            match length_at(bench, id, &[place], letter).or(stated) {
                Some(length) => note(length, letter.clone()),
                None if open.contains(letter) => {}
                None => open.push(letter.clone()),
            }
        }
    }
    if known.len() == 1 && open.is_empty() {
        known.iter_mut().for_each(|(_, letters)| letters.clear());
    }
    known.iter_mut().for_each(|(_, letters)| letters.retain(|letter| !letter.is_empty()));
    SetLengths { known, open }
}

/// A bolt lying on its side, its words behind it or, where it is long, below it.
fn picture(size: &Size) -> Figure {
    let thick = if size.head { size.diameter * HEAD } else { 0.0 };
    let length = size.length.base() * 1000.0;
    let reach = thick + length;
    let tall = if size.head { size.flats.max(size.diameter) } else { size.diameter };
    let below = reach > ROOM.0 * 0.55;
    let foot = 1.0 + if below { WORDS } else { 0.0 };
    let middle = foot + tall / 2.0;
    let block = |x: f64, width: f64, height: f64| {
        let (low, high) = (middle - height / 2.0, middle + height / 2.0);
        Shape::Outline(vec![(x, low), (x + width, low), (x + width, high), (x, high)])
    };
    let mut shapes = vec![block(thick, length, size.diameter)];
    if size.head {
        shapes.push(block(0.0, thick, size.flats));
    }
    let drive = if size.drive.is_empty() { String::new() } else { format!(", {}", size.drive) };
    let name = format!("{} × {}{drive}", size.thread, size.length.printed());
    let says =
        format!("{name}: {}", size.names.iter().map(|name| inner(name)).collect::<Vec<_>>().join("; "));
    let at = if below { (0.0, WORDS / 2.0) } else { (reach + 4.0, middle) };
    shapes.push(words(at, name.clone(), true));
    let shown = reach <= ROOM.0;
    Figure {
        caption: Text::plain(capital(&size.names.join("; "))).and(if shown {
            "."
        } else {
            ". Longer than this paper: measure it."
        }),
        alternative: format!("A bolt at full size, {says}."),
        drawing: Drawing::Shapes(ShapesDrawing {
            width: if below { reach } else { ROOM.0 },
            height: foot + tall + 1.0,
            full_size: true,
            shapes,
        }),
    }
}

/// A card for each joint whose bolts are of several lengths.
fn cards(bench: &Bench) -> Vec<Block> {
    let mut cards = Vec::new();
    for joint in bench.procedure.joints.iter() {
        let places: Vec<Place> = bench.procedure.places(&joint.axes).collect();
        let Some(place) = places.first() else { continue };
        let several = joint.members.iter().map(|member| lengths(bench, member.set.id)).collect::<Vec<_>>();
        let mut all: Vec<i64> = several
            .iter()
            .flat_map(|set| &set.known)
            .map(|(length, _)| (length.base() * 1e6).round() as i64)
            .collect();
        all.sort_unstable();
        all.dedup();
        let holes = holes(bench.procedure, joint);
        if all.len() < 2 || holes.len() < 2 {
            continue;
        }
        cards.push(card(bench, joint, *place));
    }
    cards
}

fn card(bench: &Bench, joint: &Joint, place: Place) -> Block {
    let procedure = bench.procedure;
    let holes = holes(procedure, joint);
    let points: Vec<(f64, f64)> =
        holes.iter().map(|(hole, ..)| (point(hole).x.mm(), point(hole).y.mm())).collect();
    let ends = |pick: fn(&(f64, f64)) -> f64| {
        let all = points.iter().map(pick);
        (all.clone().fold(f64::INFINITY, f64::min), all.fold(f64::NEG_INFINITY, f64::max))
    };
    let ((left, right), (low, high)) = (ends(|at| at.0), ends(|at| at.1));
    let (width, height) = (right - left + 2.0 * ROUND + 14.0, high - low + 2.0 * ROUND);
    let title = &joint.naming.title;
    if width > ROOM.0 || height > ROOM.1 {
        let text = Text::bold(format!("{title}: "))
            .and("too large for this paper at full size; use its map at the step.");
        return Block::Paragraph(text);
    }
    let mut shapes = Vec::new();
    for ((hole, set, size), (x, y)) in holes.iter().zip(&points) {
        let (x, y) = (x - left + ROUND, y - low + ROUND);
        let diameter = set.size().map_or(8.0, Length::mm);
        let reach = diameter / 2.0 + 2.0;
        shapes.push(Shape::Circle { middle: (x, y), radius: diameter / 2.0, heavy: false });
        shapes.push(line((x - reach, y), (x + reach, y), false));
        shapes.push(line((x, y - reach), (x, y + reach), false));
        let member = &joint.members[*size];
        let at = procedure.places(&procedure.set(member.set.id).axes).next().unwrap_or(place);
        let length = length_at(bench, member.set.id, &[at], &hole.letter).or_else(|| {
            let set = procedure.set(member.set.id);
            match set.lengths.throughout(procedure, &set.axes, &[at]) {
                Some(Lengths::One(length)) => Some(*length),
                _ => None,
            }
        });
        let length = length.map_or_else(|| "?".to_owned(), |length| length.numeral().to_string());
        shapes.push(words(
            (x + reach * 0.8, y - reach * 0.8 - 1.0),
            format!("{} {length}", hole.letter),
            true,
        ));
    }
    let seen = joint.seen.at(&procedure.bound(&joint.axes, place)).map(|seen| seen.value);
    Block::Figure(Figure {
        caption: Text::bold(format!("{title}.")).and(format!(
            " At full size, {}. A letter for each hole, and the length that belongs there.",
            view(bench, seen)
        )),
        alternative: format!("A card with the {} holes of the joint {title} at full size.", holes.len()),
        drawing: Drawing::Shapes(ShapesDrawing { width, height, full_size: true, shapes }),
    })
}

fn view(bench: &Bench, seen: Option<Seen>) -> String {
    let end = |end: End| format!("seen from the {}", bench.procedure.end_name(end));
    match seen.map(|seen| seen.view) {
        Some(View::Top) => "seen from above".to_owned(),
        Some(View::Below) => "seen from below".to_owned(),
        Some(View::Front) => end(End::Front),
        Some(View::Rear) => end(End::Rear),
        Some(View::Left) => "seen from the left side".to_owned(),
        Some(View::Right) => "seen from the right side".to_owned(),
        None => "view not stated".to_owned(),
    }
}
