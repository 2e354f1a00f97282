//! The object graph of the file: fonts, pages, and what makes them a document.

use super::bytes::Written;
use super::embed::Fonts;
use super::tokens::{ascii, text};
use super::{outline, structure};
use crate::page::pages::Pages;
use lopdf::{Dictionary, Document, Object, ObjectId, Stream, dictionary};
use printpdf::{FontId, ParsedFont};
use std::collections::BTreeMap;

/// A font of Latin letters (ISO 32000-1, table 123).
const NON_SYMBOLIC: i64 = 1 << 5;

/// The graph and the objects in it that the content of each page becomes.
pub(super) struct Graph {
    document: Document,
    contents: Vec<ObjectId>,
    written: Written,
}

impl Graph {
    /// The whole document, with the compressed content of its pages.
    pub(super) fn with(mut self, painted: Vec<Vec<u8>>) -> (Document, Written) {
        for (id, content) in self.contents.into_iter().zip(painted) {
            let stream = Stream::new(dictionary! { "Filter" => "FlateDecode" }, content);
            self.document.set_object(id, stream);
        }
        (self.document, self.written)
    }
}

/// Builds the graph around the content of pages.
pub(super) fn around(pages: &Pages, fonts: &Fonts) -> Graph {
    let (mut document, resources) = with_fonts(fonts);
    let tree = document.new_object_id();
    let page_ids: Vec<ObjectId> = pages.pages.iter().map(|_| document.new_object_id()).collect();
    let tags = structure::add(&mut document, pages, &page_ids);
    let size = vec![0.into(), 0.into(), Object::Real(pages.width), Object::Real(pages.height)];
    let mut contents = Vec::with_capacity(page_ids.len());
    for (index, page_id) in page_ids.iter().enumerate() {
        let content = document.new_object_id();
        contents.push(content);
        let mut page = dictionary! {
            "Type" => "Page",
            "Parent" => Object::Reference(tree),
            "Contents" => Object::Reference(content),
            "StructParents" => index as i64,
            "Tabs" => "S",
        };
        let annotations: Vec<Object> = tags.links[index]
            .iter()
            .chain(&tags.form.on_pages[index])
            .copied()
            .map(Object::Reference)
            .collect();
        if !annotations.is_empty() {
            page.set("Annots", annotations);
        }
        document.set_object(*page_id, page);
    }
    let kids: Vec<Object> = page_ids.iter().copied().map(Object::Reference).collect();
    document.set_object(
        tree,
        dictionary! {
            "Type" => "Pages",
            "Count" => kids.len() as i64,
            "Kids" => kids,
            "MediaBox" => size,
            "Resources" => Object::Reference(resources),
        },
    );
    let mut catalogue = dictionary! {
        "Type" => "Catalog",
        "Pages" => Object::Reference(tree),
        "Lang" => ascii(&pages.language),
        "MarkInfo" => dictionary! { "Marked" => true },
        "StructTreeRoot" => Object::Reference(tags.root),
        "ViewerPreferences" => dictionary! { "DisplayDocTitle" => true },
        "PageLabels" => dictionary! { "Nums" => vec![0.into(), Object::Dictionary(dictionary! { "S" => "D" })] },
    };
    if let Some(outline) = outline::add(&mut document, pages, &page_ids) {
        catalogue.set("Outlines", Object::Reference(outline));
        catalogue.set("PageMode", "UseOutlines");
    }
    if let Some(form) = tags.form.form {
        catalogue.set("AcroForm", Object::Reference(form));
    }
    attach(&mut document, &mut catalogue, pages);
    let metadata = metadata(pages);
    let metadata = document.add_object(metadata);
    catalogue.set("Metadata", Object::Reference(metadata));
    let catalogue = document.add_object(catalogue);
    let info = document.add_object(dictionary! {
        "Title" => text(&pages.title),
        "Subject" => text(&pages.fingerprint),
        "Creator" => text("benchleaf"),
        "Producer" => text(concat!("benchleaf ", env!("CARGO_PKG_VERSION"))),
    });
    document.trailer.set("Root", Object::Reference(catalogue));
    document.trailer.set("Info", Object::Reference(info));
    Graph { document, contents, written: tags.written }
}

/// A graph that holds nothing but the fonts.
///
/// printpdf tells the letters behind the glyphs; the dictionaries are written here. printpdf's own way to a whole
/// document would link in a colour profile that stands under terms of its own.
fn with_fonts(fonts: &Fonts) -> (Document, ObjectId) {
    let mut document = Document::with_version("1.7");
    let mut named = Dictionary::new();
    for (name, font) in &fonts.map {
        let written = font_in(&mut document, name, font);
        named.set(*name, Object::Reference(written));
    }
    let resources = document.add_object(dictionary! { "Font" => named });
    (document, resources)
}

/// Writes a font whose codes are its glyphs (ISO 32000-1, 9.7).
fn font_in(document: &mut Document, name: &str, font: &ParsedFont) -> ObjectId {
    // Of letters that share a glyph the last stands for it.
    let letters = font.codepoint_to_glyph.iter();
    let glyphs: BTreeMap<u16, String> =
        letters.filter_map(|(code, glyph)| Some((*glyph, char::from_u32(*code)?.into()))).collect();
    let glyphs: Vec<(u16, String)> = glyphs.into_iter().collect();
    let letters = printpdf::font::generate_cmap_string(font, &FontId(name.to_owned()), &glyphs);
    let letters = document.add_object(Stream::new(Dictionary::new(), letters.into_bytes()));
    let program = font.original_bytes.clone();
    let program =
        document.add_object(Stream::new(dictionary! { "Length1" => program.len() as i64 }, program));
    let metrics = &font.pdf_font_metrics;
    // Descriptors count in thousandths of the em.
    let scaled = |units: i16| (f32::from(units) * (1000.0 / f32::from(metrics.units_per_em))).round() as i64;
    let (ascent, descent) = (scaled(font.font_metrics.ascent), scaled(font.font_metrics.descent));
    let edges = [metrics.x_min, metrics.y_min, metrics.x_max, metrics.y_max];
    // No table of a font tells its stem: common practice, no source.
    let stem = 50 + (f32::from(metrics.us_weight_class) / 65.0).powi(2).round() as i64;
    let full_name = font.font_name.clone().unwrap_or_else(|| name.to_owned()).into_bytes();
    let descriptor = document.add_object(dictionary! {
        "Type" => "FontDescriptor",
        "FontName" => Object::Name(full_name.clone()),
        "Ascent" => ascent,
        "Descent" => descent,
        "CapHeight" => ascent,
        "ItalicAngle" => 0,
        "Flags" => NON_SYMBOLIC,
        "StemV" => stem,
        "FontBBox" => edges.into_iter().map(|edge| scaled(edge).into()).collect::<Vec<Object>>(),
        "FontFile2" => Object::Reference(program),
    });
    let system = dictionary! {
        "Registry" => ascii("Adobe"),
        "Ordering" => ascii("Identity"),
        "Supplement" => 0,
    };
    let descendant = dictionary! {
        "Type" => "Font",
        "BaseFont" => Object::Name(full_name.clone()),
        "Subtype" => "CIDFontType2",
        "CIDSystemInfo" => system,
        "W" => widths(font, glyphs.iter().map(|(glyph, _)| *glyph)),
        "DW" => 1000,
        "FontDescriptor" => Object::Reference(descriptor),
        "CIDToGIDMap" => "Identity",
    };
    document.add_object(dictionary! {
        "Type" => "Font",
        "Subtype" => "Type0",
        "BaseFont" => Object::Name(full_name),
        "Encoding" => "Identity-H",
        "ToUnicode" => Object::Reference(letters),
        "DescendantFonts" => vec![Object::Dictionary(descendant)],
    })
}

/// Widths of glyphs in thousandths of the em: the first glyph of each unbroken run, then the widths of the run.
fn widths(font: &ParsedFont, glyphs: impl Iterator<Item = u16>) -> Vec<Object> {
    let per_em = f32::from(font.pdf_font_metrics.units_per_em);
    let mut runs: Vec<(u16, Vec<Object>)> = Vec::new();
    for glyph in glyphs {
        let units = font.get_glyph_width(glyph).unwrap_or(0);
        let width = (f32::from(units) * 1000.0 / per_em) as i64;
        match runs.last_mut() {
            Some((first, run)) if usize::from(glyph - *first) == run.len() => run.push(width.into()),
            _ => runs.push((glyph, vec![width.into()])),
        }
    }
    runs.into_iter().flat_map(|(first, run)| [i64::from(first).into(), Object::Array(run)]).collect()
}

fn attach(document: &mut Document, catalogue: &mut Dictionary, pages: &Pages) {
    if pages.attachments.is_empty() {
        return;
    }
    let mut files: Vec<_> = pages.attachments.iter().collect();
    files.sort_by(|a, b| a.name.cmp(&b.name));
    let mut names = Vec::new();
    let mut associated = Vec::new();
    for file in files {
        let mut stream = Stream::new(
            dictionary! {
                "Type" => "EmbeddedFile",
                "Params" => dictionary! { "Size" => file.bytes.len() as i64 },
            },
            file.bytes.clone(),
        );
        stream.dict.set("Subtype", Object::Name(file.media_type.clone().into_bytes()));
        let content = document.add_object(stream);
        let specification = document.add_object(dictionary! {
            "Type" => "Filespec",
            "F" => text(&file.name),
            "UF" => text(&file.name),
            "Desc" => text(&file.description),
            "AFRelationship" => "Data",
            "EF" => dictionary! { "F" => Object::Reference(content), "UF" => Object::Reference(content) },
        });
        names.push(text(&file.name));
        names.push(Object::Reference(specification));
        associated.push(Object::Reference(specification));
    }
    let tree = document.add_object(dictionary! { "Names" => names });
    catalogue.set("Names", dictionary! { "EmbeddedFiles" => Object::Reference(tree) });
    catalogue.set("AF", associated);
}

/// Title and language for readers that look for XMP (ISO 16684-1).
fn metadata(pages: &Pages) -> Stream {
    let language = if pages.language.is_empty() { "x-default" } else { &pages.language };
    let packet = format!(
        "<?xpacket begin=\"\u{feff}\" id=\"W5M0MpCehiHzreSzNTczkc9d\"?>\n\
         <x:xmpmeta xmlns:x=\"adobe:ns:meta/\"><rdf:RDF xmlns:rdf=\"http://www.w3.org/1999/02/22-rdf-syntax-ns#\">\
         <rdf:Description rdf:about=\"\" xmlns:dc=\"http://purl.org/dc/elements/1.1/\">\
         <dc:title><rdf:Alt><rdf:li xml:lang=\"x-default\">{}</rdf:li></rdf:Alt></dc:title>\
         <dc:language><rdf:Bag><rdf:li>{}</rdf:li></rdf:Bag></dc:language>\
         </rdf:Description></rdf:RDF></x:xmpmeta>\n<?xpacket end=\"r\"?>",
        escaped(&pages.title),
        escaped(language)
    );
    Stream::new(dictionary! { "Type" => "Metadata", "Subtype" => "XML" }, packet.into_bytes())
}

fn escaped(words: &str) -> String {
    let words: String = words.chars().filter(|c| !c.is_control()).collect();
    words.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;")
}
