//! A packet's file read back, as it was written or as another program has filled it in: the plan that it carries, and what
//! stands in the fields of its form.

use lopdf::{Document, Object};

/// What a file gives back.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct ReadBack {
    /// Files that it carries, by name.
    pub files: Vec<(String, Vec<u8>)>,
    /// Fields of its form that hold something: their full names and values.
    pub fields: Vec<(String, String)>,
}

/// Reads the files and the filled fields of a PDF; none if it is no PDF.
///
/// ```
/// use benchleaf::sheet::{Attachment, Packet};
/// use benchleaf::{PageSetup, lay_out, read_pdf, write_pdf};
///
/// let (name, bytes) = ("plan.json".to_owned(), b"{}".to_vec());
/// let plan = Attachment { name, media_type: "application/json".to_owned(), description: String::new(), bytes };
/// let packet = Packet { attachments: vec![plan], ..Packet::default() };
/// let file = write_pdf(&lay_out(&packet, &PageSetup::default()).value);
/// let back = read_pdf(&file).expect("it is a PDF");
/// assert_eq!(back.files, [("plan.json".to_owned(), b"{}".to_vec())]);
/// assert!(back.fields.is_empty());
/// assert_eq!(read_pdf(b"no PDF"), None);
/// ```
pub fn read_pdf(bytes: &[u8]) -> Option<ReadBack> {
    let document = Document::load_mem(bytes).ok()?;
    let catalogue = document.catalog().ok()?;
    let mut back = ReadBack::default();
    let embedded = catalogue.get(b"Names").ok().and_then(|names| {
        let names = resolved(&document, names).as_dict().ok()?;
        Some(resolved(&document, names.get(b"EmbeddedFiles").ok()?))
    });
    if let Some(tree) = embedded {
        files(&document, tree, &mut back.files, 0);
    }
    let fields = catalogue.get(b"AcroForm").ok().and_then(|form| {
        let form = resolved(&document, form).as_dict().ok()?;
        resolved(&document, form.get(b"Fields").ok()?).as_array().ok()
    });
    for field in fields.into_iter().flatten() {
        self::field(&document, resolved(&document, field), ("", false), &mut back.fields, 0);
    }
    Some(back)
}

/// Deepest tree that is followed: files of others may go in circles.
const DEEPEST: usize = 20;

fn resolved<'a>(document: &'a Document, object: &'a Object) -> &'a Object {
    document.dereference(object).map_or(object, |(_, object)| object)
}

fn files(document: &Document, tree: &Object, found: &mut Vec<(String, Vec<u8>)>, depth: usize) {
    let Ok(tree) = tree.as_dict() else { return };
    if depth > DEEPEST {
        return;
    }
    let list = |key: &[u8]| tree.get(key).ok().and_then(|list| resolved(document, list).as_array().ok());
    for kid in list(b"Kids").into_iter().flatten() {
        files(document, resolved(document, kid), found, depth + 1);
    }
    for pair in list(b"Names").into_iter().flat_map(|names| names.chunks(2)) {
        let [name, specification] = pair else { continue };
        let content = || {
            let specification = resolved(document, specification).as_dict().ok()?;
            let streams = resolved(document, specification.get(b"EF").ok()?).as_dict().ok()?;
            let stream = resolved(document, streams.get(b"F").ok()?).as_stream().ok()?;
            Some(stream.decompressed_content().unwrap_or_else(|_| stream.content.clone()))
        };
        if let (Some(name), Some(content)) = (words(resolved(document, name)), content()) {
            found.push((name, content));
        }
    }
}

/// The text of a string or a name.
fn words(object: &Object) -> Option<String> {
    match object {
        Object::String(bytes, _) => Some(match bytes.as_slice() {
            [0xfe, 0xff, rest @ ..] => {
                let units: Vec<u16> =
                    rest.chunks_exact(2).map(|pair| u16::from_be_bytes([pair[0], pair[1]])).collect();
                String::from_utf16_lossy(&units)
            }
            [0xef, 0xbb, 0xbf, rest @ ..] => String::from_utf8_lossy(rest).into_owned(),
            // What is left of PDFDocEncoding stands for its own code in every language that a sheet is filled in with.
            bytes => bytes.iter().map(|byte| char::from(*byte)).collect(),
        }),
        Object::Name(bytes) => Some(String::from_utf8_lossy(bytes).into_owned()),
        _ => None,
    }
}

fn field(
    document: &Document,
    object: &Object,
    (before, above): (&str, bool),
    found: &mut Vec<(String, String)>,
    depth: usize,
) {
    let Ok(field) = object.as_dict() else { return };
    if depth > DEEPEST {
        return;
    }
    let own = field.get(b"T").ok().and_then(|name| words(resolved(document, name)));
    let name = match (before, own) {
        (before, None) => before.to_owned(),
        ("", Some(own)) => own,
        (before, Some(own)) => format!("{before}.{own}"),
    };
    let button = field.get(b"FT").is_ok_and(|kind| matches!(kind.as_name(), Ok(b"Btn")));
    let value = field.get(b"V").ok().and_then(|value| words(resolved(document, value)));
    // Some programs write the name of a box as words, with the stroke that names begin with.
    let value = value.map(|value| match value.strip_prefix('/') {
        Some(bare) if button => bare.to_owned(),
        _ => value,
    });
    let value = value.filter(|value| !value.trim().is_empty() && value != "Off");
    let own = field.has(b"T");
    // A box of several may repeat what its field says.
    let said = value.is_some() || above && !own;
    if let Some(value) = value.filter(|_| own || !above) {
        found.push((name.clone(), value));
    }
    let kids = field.get(b"Kids").ok().and_then(|kids| resolved(document, kids).as_array().ok());
    for kid in kids.into_iter().flatten() {
        self::field(document, resolved(document, kid), (&name, said), found, depth + 1);
    }
}
