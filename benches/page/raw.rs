//! The least that a PDF with this text and these shapes takes: streams, fonts, pages.

use benchleaf::page::{Dash, Face, Ink, Item, Pages, Segment, Stroke};
use flate2::{Compression, write::ZlibEncoder};
use pdf_writer::types::{CidFontType, FontFlags, SystemInfo};
use pdf_writer::{Content, Filter, Finish, Name, Pdf, Rect, Ref, Str};
use std::collections::BTreeMap;
use std::io::Write;
use subsetter::GlyphRemapper;

fn data(face: Face) -> &'static [u8] {
    match face {
        Face::Regular => dejavu::sans_condensed::regular(),
        Face::Bold => dejavu::sans_condensed::bold(),
        Face::Mono => dejavu::sans_mono::regular(),
    }
}

struct Font {
    face: ttf_parser::Face<'static>,
    name: &'static [u8],
    remapper: GlyphRemapper,
    glyphs: BTreeMap<char, u16>,
    widths: Vec<f32>,
}

pub fn write(pages: &Pages) -> Vec<u8> {
    let mut fonts: BTreeMap<Face, Font> = [(Face::Regular, "R"), (Face::Bold, "B"), (Face::Mono, "M")]
        .into_iter()
        .map(|(face, name)| {
            let file = ttf_parser::Face::parse(data(face), 0).expect("the font crate holds a font");
            let font = Font {
                face: file,
                name: name.as_bytes(),
                remapper: GlyphRemapper::new(),
                glyphs: BTreeMap::new(),
                widths: vec![600.0],
            };
            (face, font)
        })
        .collect();
    let mut pdf = Pdf::new();
    let (catalogue, tree, resources) = (Ref::new(1), Ref::new(2), Ref::new(3));
    let mut next = 4;
    let mut kids = Vec::new();
    for page in &pages.pages {
        let mut content = Content::new();
        for item in page.groups.iter().flat_map(|group| &group.items) {
            paint(&mut content, item, pages.height, &mut fonts);
        }
        let stream = deflate(&content.finish());
        let (id, content_id) = (Ref::new(next), Ref::new(next + 1));
        next += 2;
        kids.push(id);
        pdf.stream(content_id, &stream).filter(Filter::FlateDecode);
        pdf.page(id).parent(tree).contents(content_id);
    }
    let mut font_ids = Vec::new();
    for (face, font) in &fonts {
        let ids = [0, 1, 2, 3].map(|offset| Ref::new(next + offset));
        next += 4;
        font_ids.push((font.name, ids[0]));
        let base = Name(b"ABCDEF+Font");
        pdf.type0_font(ids[0])
            .base_font(base)
            .encoding_predefined(Name(b"Identity-H"))
            .descendant_font(ids[1]);
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
        let program =
            deflate(&subsetter::subset(data(*face), 0, &font.remapper).expect("a font can be cut down"));
        pdf.stream(ids[3], &program).filter(Filter::FlateDecode);
    }
    pdf.catalog(catalogue).pages(tree);
    let mut all = pdf.pages(tree);
    all.count(kids.len() as i32).kids(kids).media_box(Rect::new(0.0, 0.0, pages.width, pages.height));
    all.pair(Name(b"Resources"), resources);
    all.finish();
    let mut dictionary = pdf.indirect(resources).dict();
    let mut names = dictionary.insert(Name(b"Font")).dict();
    for (name, id) in font_ids {
        names.pair(Name(name), id);
    }
    names.finish();
    dictionary.finish();
    pdf.finish()
}

fn deflate(content: &[u8]) -> Vec<u8> {
    let mut encoder = ZlibEncoder::new(Vec::new(), Compression::new(6));
    encoder.write_all(content).expect("a list of bytes takes all");
    encoder.finish().expect("a list of bytes takes all")
}

fn cut(length: f32) -> f32 {
    (length * 100.0).round() / 100.0
}

fn paint(content: &mut Content, item: &Item, height: f32, fonts: &mut BTreeMap<Face, Font>) {
    match item {
        Item::Text(run) => {
            let font = fonts.get_mut(&run.face).expect("every face was listed");
            content.begin_text().set_font(Name(font.name), run.size);
            grey(content, run.ink, false);
            content.next_line(cut(run.at.x), cut(height - run.at.y));
            let mut bytes = Vec::with_capacity(run.text.len() * 2);
            for character in run.text.chars() {
                let glyph = *font.glyphs.entry(character).or_insert_with(|| {
                    let old = font.face.glyph_index(character).unwrap_or_default();
                    let new = font.remapper.remap(old.0);
                    let advance = f32::from(font.face.glyph_hor_advance(old).unwrap_or(0));
                    font.widths.resize(usize::from(new) + 1, 0.0);
                    font.widths[usize::from(new)] = advance * 1000.0 / f32::from(font.face.units_per_em());
                    new
                });
                bytes.extend(glyph.to_be_bytes());
            }
            content.show(Str(&bytes)).end_text();
        }
        Item::Line { from, to, stroke } => {
            set(content, *stroke);
            content
                .move_to(cut(from.x), cut(height - from.y))
                .line_to(cut(to.x), cut(height - to.y))
                .stroke();
        }
        Item::Rectangle { area, fill, stroke } => {
            inks(content, *fill, *stroke);
            content.rect(cut(area.x), cut(height - area.y - area.height), cut(area.width), cut(area.height));
            end(content, fill.is_some(), stroke.is_some());
        }
        Item::Shape { rings, fill, stroke } => {
            inks(content, *fill, *stroke);
            for ring in rings {
                content.move_to(cut(ring.start.x), cut(height - ring.start.y));
                for segment in &ring.segments {
                    match segment {
                        Segment::Line(p) => content.line_to(cut(p.x), cut(height - p.y)),
                        Segment::Curve(a, b, p) => content.cubic_to(
                            cut(a.x),
                            cut(height - a.y),
                            cut(b.x),
                            cut(height - b.y),
                            cut(p.x),
                            cut(height - p.y),
                        ),
                    };
                }
                content.close_path();
            }
            end(content, fill.is_some(), stroke.is_some());
        }
    }
}

fn grey(content: &mut Content, ink: Ink, line: bool) {
    let grey = if ink == Ink::Black { 0.0 } else { 1.0 };
    if line {
        content.set_stroke_gray(grey);
    } else {
        content.set_fill_gray(grey);
    }
}

fn set(content: &mut Content, stroke: Stroke) {
    grey(content, stroke.ink, true);
    content.set_line_width(stroke.width);
    let pattern: &[f32] = if stroke.dash == Dash::Solid { &[] } else { &[5.0, 3.5] };
    content.set_dash_pattern(pattern.iter().copied(), 0.0);
}

fn inks(content: &mut Content, fill: Option<Ink>, stroke: Option<Stroke>) {
    if let Some(ink) = fill {
        grey(content, ink, false);
    }
    if let Some(stroke) = stroke {
        set(content, stroke);
    }
}

fn end(content: &mut Content, fill: bool, stroke: bool) {
    match (fill, stroke) {
        (true, true) => content.fill_nonzero_and_stroke(),
        (true, false) => content.fill_nonzero(),
        (false, true) => content.stroke(),
        (false, false) => content.end_path(),
    };
}
