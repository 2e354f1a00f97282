//! The least that a PDF with this text and these shapes takes: streams, fonts, pages.
//!
//! The content of a page is what the packet's own writer puts there, operator for operator: nothing is said twice, and
//! text goes on in one text object. Left out are marks, tags, outline, links, attachments and identity.

use benchleaf::Face;
use benchleaf::pages::{Dash, Ink, Item, Page, Pages, Ring, Segment, Stroke, TextRun};
use flate2::{Compress, Compression, FlushCompress, Status};
use pdf_writer::types::{CidFontType, FontFlags, SystemInfo};
use pdf_writer::{Content, Filter, Finish, Name, Pdf, Rect, Ref, Str};
use std::collections::{BTreeMap, BTreeSet};
use std::sync::atomic::{AtomicUsize, Ordering};
use subsetter::GlyphRemapper;

/// The font file of a face.
pub fn data(face: Face) -> &'static [u8] {
    match face {
        Face::Regular => dejavu::sans_condensed::regular(),
        Face::Bold => dejavu::sans_condensed::bold(),
        Face::Mono => dejavu::sans_mono::regular(),
    }
}

fn name(face: Face) -> Name<'static> {
    Name(match face {
        Face::Regular => b"R",
        Face::Bold => b"B",
        Face::Mono => b"M",
    })
}

/// A face cut down to the letters that are used.
struct Font {
    face: Face,
    program: Vec<u8>,
    /// Glyph of each character below [`COMMON`], none as 0.
    common: Vec<u16>,
    others: BTreeMap<char, u16>,
    widths: Vec<f32>,
}

/// Characters that are looked up in a plain list.
const COMMON: usize = 0x500;

impl Font {
    fn cut_down(face: Face, letters: &BTreeSet<char>) -> Self {
        let file = ttf_parser::Face::parse(data(face), 0).expect("the font crate holds a font");
        let mut remapper = GlyphRemapper::new();
        let (mut common, mut others, mut widths) = (vec![0; COMMON], BTreeMap::new(), vec![600.0]);
        for letter in letters {
            let old = file.glyph_index(*letter).unwrap_or_default();
            let new = remapper.remap(old.0);
            let advance = f32::from(file.glyph_hor_advance(old).unwrap_or(0));
            widths.resize(widths.len().max(usize::from(new) + 1), 0.0);
            widths[usize::from(new)] = advance * 1000.0 / f32::from(file.units_per_em());
            match common.get_mut(*letter as usize) {
                Some(place) => *place = new,
                None => {
                    others.insert(*letter, new);
                }
            }
        }
        let program = subsetter::subset(data(face), 0, &remapper).expect("a font can be cut down");
        Font { face, program, common, others, widths }
    }

    fn glyph(&self, letter: char) -> u16 {
        self.common.get(letter as usize).copied().unwrap_or_else(|| self.others[&letter])
    }
}

fn fonts(pages: &Pages) -> Vec<Font> {
    let mut used: [BTreeSet<char>; 3] = Default::default();
    for item in pages.pages.iter().flat_map(|page| &page.groups).flat_map(|group| &group.items) {
        if let Item::Text(run) = item {
            used[run.face as usize].extend(run.text.chars());
        }
    }
    Face::ALL.into_iter().map(|face| Font::cut_down(face, &used[face as usize])).collect()
}

/// The file, its pages made by so many threads.
pub fn write(pages: &Pages, threads: usize) -> Vec<u8> {
    let fonts = fonts(pages);
    let mut pdf = Pdf::new();
    let (catalogue, tree, resources) = (Ref::new(1), Ref::new(2), Ref::new(3));
    let mut next = 4;
    let mut kids = Vec::new();
    for stream in contents(pages, &fonts, threads) {
        let (id, content_id) = (Ref::new(next), Ref::new(next + 1));
        next += 2;
        kids.push(id);
        pdf.stream(content_id, &stream).filter(Filter::FlateDecode);
        pdf.page(id).parent(tree).contents(content_id);
    }
    let mut font_ids = Vec::new();
    for font in &fonts {
        let ids = [0, 1, 2, 3].map(|offset| Ref::new(next + offset));
        next += 4;
        font_ids.push((name(font.face), ids[0]));
        embed(&mut pdf, font, ids);
    }
    pdf.catalog(catalogue).pages(tree);
    let mut all = pdf.pages(tree);
    all.count(kids.len() as i32).kids(kids).media_box(Rect::new(0.0, 0.0, pages.width, pages.height));
    all.pair(Name(b"Resources"), resources);
    all.finish();
    let mut dictionary = pdf.indirect(resources).dict();
    let mut names = dictionary.insert(Name(b"Font")).dict();
    for (name, id) in font_ids {
        names.pair(name, id);
    }
    names.finish();
    dictionary.finish();
    pdf.finish()
}

fn embed(pdf: &mut Pdf, font: &Font, ids: [Ref; 4]) {
    let base = Name(b"ABCDEF+Font");
    pdf.type0_font(ids[0]).base_font(base).encoding_predefined(Name(b"Identity-H")).descendant_font(ids[1]);
    let info = SystemInfo { registry: Str(b"Adobe"), ordering: Str(b"Identity"), supplement: 0 };
    let mut descendant = pdf.cid_font(ids[1]);
    descendant.subtype(CidFontType::Type2).base_font(base).system_info(info).font_descriptor(ids[2]);
    descendant.cid_to_gid_map_predefined(Name(b"Identity"));
    descendant.widths().consecutive(0, font.widths.iter().copied());
    descendant.finish();
    pdf.font_descriptor(ids[2])
        .name(base)
        .flags(FontFlags::SYMBOLIC)
        .bbox(Rect::new(-500.0, -300.0, 1500.0, 1100.0))
        .italic_angle(0.0)
        .ascent(900.0)
        .descent(-200.0)
        .cap_height(729.0)
        .stem_v(90.0)
        .font_file2(ids[3]);
    let mut deflater = Compress::new(Compression::new(6), true);
    pdf.stream(ids[3], &deflate(&mut deflater, &font.program)).filter(Filter::FlateDecode);
}

/// The compressed content of each page.
fn contents(pages: &Pages, fonts: &[Font], threads: usize) -> Vec<Vec<u8>> {
    let next = AtomicUsize::new(0);
    let work = || {
        let mut made = Vec::new();
        let mut deflater = Compress::new(Compression::new(6), true);
        loop {
            let index = next.fetch_add(1, Ordering::Relaxed);
            let Some(page) = pages.pages.get(index) else { return made };
            made.push((index, deflate(&mut deflater, &Painter::new(pages.height, fonts).page(page))));
        }
    };
    let mut all: Vec<(usize, Vec<u8>)> = std::thread::scope(|scope| {
        let others: Vec<_> = (1..threads).map(|_| scope.spawn(work)).collect();
        let mut all = work();
        all.extend(others.into_iter().flat_map(|other| other.join().expect("no thread panics")));
        all
    });
    all.sort_by_key(|(index, _)| *index);
    all.into_iter().map(|(_, stream)| stream).collect()
}

/// Compresses as the packet's writer does, at the same level and with one state for many streams.
fn deflate(deflater: &mut Compress, content: &[u8]) -> Vec<u8> {
    deflater.reset();
    let mut out = Vec::with_capacity(content.len() / 3 + 64);
    loop {
        let rest = &content[deflater.total_in() as usize..];
        match deflater.compress_vec(rest, &mut out, FlushCompress::Finish) {
            Ok(Status::StreamEnd) => return out,
            Ok(_) => out.reserve(out.capacity()),
            Err(error) => panic!("compressing bytes in memory can't fail: {error}"),
        }
    }
}

fn cut(length: f32) -> f32 {
    (length * 100.0).round() / 100.0
}

/// A page as it is painted, and what it is set to.
struct Painter<'a> {
    content: Content,
    height: f32,
    fonts: &'a [Font],
    font: Option<(Face, f32)>,
    fill: Option<Ink>,
    line: Option<Ink>,
    width: Option<f32>,
    dash: Option<Dash>,
    cursor: Option<(f32, f32)>,
}

impl<'a> Painter<'a> {
    fn new(height: f32, fonts: &'a [Font]) -> Self {
        let content = Content::new();
        Painter {
            content,
            height,
            fonts,
            font: None,
            fill: None,
            line: None,
            width: None,
            dash: None,
            cursor: None,
        }
    }

    fn page(mut self, page: &Page) -> Vec<u8> {
        for group in &page.groups {
            for item in &group.items {
                match item {
                    Item::Text(run) => self.text(run),
                    other => {
                        self.end_text();
                        self.shape(other);
                    }
                }
            }
            // Where the packet's writer ends what is marked, its text object ends too.
            self.end_text();
        }
        self.content.finish().into_vec()
    }

    fn text(&mut self, run: &TextRun) {
        let (x, y) = (cut(run.at.x), cut(self.height - run.at.y));
        let (last_x, last_y) = self.cursor.unwrap_or((0.0, 0.0));
        if self.cursor.is_none() {
            self.content.begin_text();
        }
        self.fill(run.ink);
        if self.font != Some((run.face, run.size)) {
            self.content.set_font(name(run.face), run.size);
            self.font = Some((run.face, run.size));
        }
        self.content.next_line(cut(x - last_x), cut(y - last_y));
        let font = &self.fonts[run.face as usize];
        let bytes: Vec<u8> = run.text.chars().flat_map(|letter| font.glyph(letter).to_be_bytes()).collect();
        self.content.show(Str(&bytes));
        self.cursor = Some((x, y));
    }

    fn end_text(&mut self) {
        if self.cursor.take().is_some() {
            self.content.end_text();
        }
    }

    fn shape(&mut self, item: &Item) {
        let up = |y: f32| cut(self.height - y);
        match item {
            Item::Text(_) => {}
            Item::Line { from, to, stroke } => {
                let (from, to) = ((cut(from.x), up(from.y)), (cut(to.x), up(to.y)));
                self.stroke(*stroke);
                self.content.move_to(from.0, from.1).line_to(to.0, to.1).stroke();
            }
            Item::Rectangle { area, fill, stroke } => {
                let bottom = up(area.y + area.height);
                self.inks(*fill, *stroke);
                self.content.rect(cut(area.x), bottom, cut(area.width), cut(area.height));
                self.end(fill.is_some(), stroke.is_some());
            }
            Item::Shape { rings, fill, stroke } => {
                self.inks(*fill, *stroke);
                for ring in rings {
                    self.ring(ring);
                }
                self.end(fill.is_some(), stroke.is_some());
            }
        }
    }

    fn ring(&mut self, ring: &Ring) {
        let height = self.height;
        let up = |y: f32| cut(height - y);
        self.content.move_to(cut(ring.start.x), up(ring.start.y));
        for segment in &ring.segments {
            match segment {
                Segment::Line(p) => self.content.line_to(cut(p.x), up(p.y)),
                Segment::Curve(a, b, p) => {
                    self.content.cubic_to(cut(a.x), up(a.y), cut(b.x), up(b.y), cut(p.x), up(p.y))
                }
            };
        }
        self.content.close_path();
    }

    fn fill(&mut self, ink: Ink) {
        if self.fill != Some(ink) {
            self.content.set_fill_gray(grey(ink));
            self.fill = Some(ink);
        }
    }

    fn stroke(&mut self, stroke: Stroke) {
        if self.line != Some(stroke.ink) {
            self.content.set_stroke_gray(grey(stroke.ink));
            self.line = Some(stroke.ink);
        }
        if self.width != Some(stroke.width) {
            self.content.set_line_width(stroke.width);
            self.width = Some(stroke.width);
        }
        if self.dash != Some(stroke.dash) {
            let pattern: &[f32] = match stroke.dash {
                Dash::Solid => &[],
                Dash::Dashed => &[5.0, 3.5],
                Dash::Dotted => &[1.2, 2.4],
                Dash::DashDot => &[6.0, 2.5, 1.2, 2.5],
            };
            self.content.set_dash_pattern(pattern.iter().copied(), 0.0);
            self.dash = Some(stroke.dash);
        }
    }

    fn inks(&mut self, fill: Option<Ink>, stroke: Option<Stroke>) {
        if let Some(ink) = fill {
            self.fill(ink);
        }
        if let Some(stroke) = stroke {
            self.stroke(stroke);
        }
    }

    fn end(&mut self, fill: bool, stroke: bool) {
        match (fill, stroke) {
            (true, true) => self.content.fill_nonzero_and_stroke(),
            (true, false) => self.content.fill_nonzero(),
            (false, true) => self.content.stroke(),
            (false, false) => self.content.end_path(),
        };
    }
}

fn grey(ink: Ink) -> f32 {
    if ink == Ink::Black { 0.0 } else { 1.0 }
}
