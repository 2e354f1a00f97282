//! The object graph of the file: fonts as printpdf writes them, pages, and what makes them a document.

use super::embed::{Fonts, resource};
use super::{outline, structure};
use crate::page::pages::Pages;
use lopdf::{Dictionary, Document, Object, ObjectId, Stream, StringFormat, dictionary};
use printpdf::{Op, PdfFontHandle, PdfPage, PdfSaveOptions, Pt, TextItem};

/// The graph and the objects in it that the content of each page becomes.
pub(super) struct Graph {
    document: Document,
    contents: Vec<ObjectId>,
}

impl Graph {
    /// The whole document, with the compressed content of its pages.
    pub fn with(mut self, painted: Vec<Vec<u8>>) -> Document {
        for (id, content) in self.contents.into_iter().zip(painted) {
            let stream = Stream::new(dictionary! { "Filter" => "FlateDecode" }, content);
            self.document.set_object(id, stream);
        }
        self.document
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
        let links = &tags.links[index];
        if !links.is_empty() {
            page.set("Annots", links.iter().copied().map(Object::Reference).collect::<Vec<_>>());
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
    Graph { document, contents }
}

/// A graph that holds nothing but the fonts: printpdf writes them for a page on which every letter is used.
fn with_fonts(fonts: &Fonts) -> (Document, ObjectId) {
    let mut ops = vec![Op::StartTextSection];
    for (face, letters) in &fonts.letters {
        ops.push(Op::SetFont { font: PdfFontHandle::External(resource(*face)), size: Pt(10.0) });
        ops.push(Op::ShowText { items: vec![TextItem::Text(letters.clone())] });
    }
    ops.push(Op::EndTextSection);
    let mut sample = Fonts::document(fonts.map.clone());
    sample.pages.push(PdfPage::new(printpdf::Mm(1.0), printpdf::Mm(1.0), ops));
    let options = PdfSaveOptions { optimize: false, subset_fonts: false, ..PdfSaveOptions::default() };
    let graph = printpdf::serialize::to_lopdf_doc(&sample, &options, &mut Vec::new());
    let fonts = graph
        .page_iter()
        .next()
        .and_then(|page| graph.get_dictionary(page).ok())
        .and_then(|page| page.get_deref(b"Resources", &graph).and_then(Object::as_dict).ok())
        .and_then(|resources| resources.get_deref(b"Font", &graph).and_then(Object::as_dict).ok())
        .cloned()
        .unwrap_or_default();
    let mut document = Document::with_version("1.7");
    let copied = copy(&Object::Dictionary(fonts), &graph, &mut document);
    let resources = document.add_object(dictionary! { "Font" => copied });
    (document, resources)
}

/// Copies an object and all that it refers to. Fonts refer to nothing twice and never back.
fn copy(object: &Object, from: &Document, to: &mut Document) -> Object {
    let inside = |dictionary: &Dictionary, to: &mut Document| {
        let mut copied = Dictionary::new();
        for (key, value) in dictionary.iter() {
            copied.set(key.clone(), copy(value, from, to));
        }
        copied
    };
    match object {
        Object::Reference(id) => match from.get_object(*id) {
            Ok(target) => {
                let copied = copy(target, from, to);
                Object::Reference(to.add_object(copied))
            }
            Err(_) => Object::Null,
        },
        Object::Dictionary(dictionary) => Object::Dictionary(inside(dictionary, to)),
        Object::Array(items) => Object::Array(items.iter().map(|item| copy(item, from, to)).collect()),
        Object::Stream(stream) => {
            let dictionary = inside(&stream.dict, to);
            Object::Stream(Stream::new(dictionary, stream.content.clone()))
        }
        other => other.clone(),
    }
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

/// A text string: plain bytes if it is ASCII, otherwise UTF-16 (ISO 32000-1, 7.9.2.2).
pub(super) fn text(words: &str) -> Object {
    if words.is_ascii() {
        return ascii(words);
    }
    let mut bytes = vec![0xfe, 0xff];
    bytes.extend(words.encode_utf16().flat_map(u16::to_be_bytes));
    Object::String(bytes, StringFormat::Hexadecimal)
}

fn ascii(words: &str) -> Object {
    Object::String(words.bytes().filter(u8::is_ascii).collect(), StringFormat::Literal)
}
