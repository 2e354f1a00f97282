//! The form of a file: every box and line of it as a field to be filled in on a screen, under the number that is printed
//! beside it (ISO 32000-1, 12.5.6.19 and 12.7). A number with points, such as `28.3.2`, is the full name of a field in a
//! field in a field. The boxes of one number hold one value.

use super::bytes::{Written, write_name, write_object};
use super::drawing::{EmptyLine, PLACES, drawing};
use super::kids::{Kid, Kids, WaysBack};
use super::tokens::{literal, text};
use crate::page::draw::TICK_BOX;
use crate::page::pages::{ElementId, Filling, FormField, Pages};
use lopdf::{Document, Object, ObjectId, dictionary};
use std::collections::BTreeMap;
use std::io::Write;

/// A field of several boxes of which one is ticked; and one of several lines (tables 226 and 228).
const ONE_OF_SEVERAL: u32 = 1 << 15;
const SEVERAL_LINES: u32 = 1 << 12;
/// What stands for a ticked box.
pub(crate) const TICKED: &str = "Yes";
/// What was added.
pub(super) struct Form {
    /// The dictionary of the whole form; none if nothing is filled in.
    pub form: Option<ObjectId>,
    /// The boxes and lines of each page.
    pub on_pages: Vec<Vec<ObjectId>>,
}

/// A name in the tree of fields.
#[derive(Default)]
struct Name {
    /// The part of the full name that it adds.
    own: String,
    parent: Option<usize>,
    inner: Vec<usize>,
    /// Boxes and lines, by their place in the list of all.
    places: Vec<usize>,
}

/// A box or line, with the page and the key under which its element is found.
struct Placed<'p> {
    field: &'p FormField,
    page: usize,
    key: i64,
    id: ObjectId,
}

/// Adds the form, and what leads from each field to its element and back.
pub(super) fn add(
    document: &mut Document,
    pages: &Pages,
    (page_ids, element_ids): (&[ObjectId], &[ObjectId]),
    first_key: i64,
    (kids, ways_back): (&mut Kids, &mut WaysBack),
    written: &mut Written,
) -> Form {
    let mut placed: Vec<Placed> = Vec::new();
    let mut on_pages = Vec::with_capacity(pages.pages.len());
    for (page, content) in pages.pages.iter().enumerate() {
        let mut here = Vec::with_capacity(content.fields.len());
        for field in &content.fields {
            let (key, id) = (first_key + placed.len() as i64, document.new_object_id());
            let ElementId(element) = field.element;
            kids.put(element, Kid::Annotation(id, page_ids[page]));
            ways_back.of_one(key, element_ids[element]);
            placed.push(Placed { field, page, key, id });
            here.push(id);
        }
        on_pages.push(here);
    }
    if placed.is_empty() {
        return Form { form: None, on_pages };
    }
    let names = names(&placed);
    let looks = Looks::add(document);
    let ids: Vec<ObjectId> = names.iter().map(|name| own_id(document, name, &placed)).collect();
    for (name, id) in names.iter().zip(&ids) {
        let parent = name.parent.map(|parent| ids[parent]);
        let places = || name.places.iter().map(|place| &placed[*place]);
        let Some(first) = places().next() else {
            let inner: Vec<ObjectId> = name.inner.iter().map(|inner| ids[*inner]).collect();
            put(written, *id, |out| {
                head(out, &name.own, parent);
                references(out, &inner);
            });
            continue;
        };
        let shared = |out: &mut Vec<u8>| {
            head(out, &name.own, parent);
            kind(out, &first.field.filling);
            out.extend_from_slice(b"/TU ");
            let ElementId(element) = first.field.element;
            write_object(out, &text(&pages.elements[element].alternative));
        };
        if first.id == *id {
            let look = looks.of((document, written), first.field);
            put(written, *id, |out| {
                shared(out);
                place(out, pages, page_ids, first, &look);
            });
            continue;
        }
        put(written, *id, |out| {
            shared(out);
            references(out, &places().map(|place| place.id).collect::<Vec<_>>());
        });
        for one in places() {
            let look = looks.of((document, written), one.field);
            put(written, one.id, |out| {
                out.extend_from_slice(b"<</Parent ");
                write_object(out, &Object::Reference(*id));
                place(out, pages, page_ids, one, &look);
            });
        }
    }
    let top = names.iter().zip(&ids).filter(|(name, _)| name.parent.is_none());
    let letters = document.add_object(dictionary! {
        "Type" => "Font",
        "Subtype" => "Type1",
        "BaseFont" => "Helvetica",
        "Encoding" => "WinAnsiEncoding",
    });
    let form = document.add_object(dictionary! {
        "Fields" => top.map(|(_, id)| Object::Reference(*id)).collect::<Vec<_>>(),
        "DR" => dictionary! { "Font" => dictionary! { "Helv" => Object::Reference(letters) } },
        // As large as the field has room for.
        "DA" => super::tokens::ascii("/Helv 0 Tf 0 g"),
    });
    Form { form: Some(form), on_pages }
}

/// The tree of names, parents before what is in them.
fn names(placed: &[Placed]) -> Vec<Name> {
    let mut names: Vec<Name> = Vec::new();
    let mut known: BTreeMap<(Option<usize>, &str), usize> = BTreeMap::new();
    for (index, place) in placed.iter().enumerate() {
        let mut parent = None;
        for own in place.field.number.split('.') {
            let name = *known.entry((parent, own)).or_insert_with(|| {
                let new = names.len();
                if let Some(parent) = parent {
                    let parent: &mut Name = &mut names[parent];
                    parent.inner.push(new);
                }
                names.push(Name { own: own.to_owned(), parent, ..Name::default() });
                new
            });
            parent = Some(name);
        }
        if let Some(name) = parent {
            names[name].places.push(index);
        }
    }
    names
}

/// A field of one box or line is that itself.
fn own_id(document: &mut Document, name: &Name, placed: &[Placed]) -> ObjectId {
    match name.places.as_slice() {
        [one] if !matches!(placed[*one].field.filling, Filling::Choice(_)) => placed[*one].id,
        _ => document.new_object_id(),
    }
}

fn put(written: &mut Written, id: ObjectId, write: impl FnOnce(&mut Vec<u8>)) {
    written.put(id, |out| {
        write(out);
        out.extend_from_slice(b">>");
    });
}

fn head(out: &mut Vec<u8>, own: &str, parent: Option<ObjectId>) {
    out.extend_from_slice(b"<</T ");
    literal(out, own.bytes());
    if let Some(parent) = parent {
        out.extend_from_slice(b"/Parent ");
        write_object(out, &Object::Reference(parent));
    }
}

fn references(out: &mut Vec<u8>, ids: &[ObjectId]) {
    out.extend_from_slice(b"/Kids ");
    write_object(out, &Object::Array(ids.iter().copied().map(Object::Reference).collect()));
}

fn kind(out: &mut Vec<u8>, filling: &Filling) {
    let (kind, flags) = match filling {
        Filling::Tick => ("Btn", 0),
        Filling::Choice(_) => ("Btn", ONE_OF_SEVERAL),
        Filling::Line => ("Tx", 0),
        Filling::Lines => ("Tx", SEVERAL_LINES),
    };
    formatted(out, format_args!("/FT/{kind}"));
    if flags > 0 {
        formatted(out, format_args!("/Ff {flags}"));
    }
}

/// What a box or line says of itself: where it stands, its element and its looks.
fn place(
    out: &mut Vec<u8>,
    pages: &Pages,
    page_ids: &[ObjectId],
    place: &Placed,
    look: &[(String, ObjectId)],
) {
    let Placed { field, page, key, .. } = place;
    let rounded = |side: f32| (side * PLACES).round() / PLACES;
    let (left, top) = (field.area.x, pages.height - field.area.y);
    let sides = [left, top - field.area.height, left + field.area.width, top].map(rounded);
    out.extend_from_slice(b"/Type/Annot/Subtype/Widget/F 4/P ");
    write_object(out, &Object::Reference(page_ids[*page]));
    let [left, foot, right, top] = sides;
    formatted(out, format_args!("/StructParent {key}/Rect[{left} {foot} {right} {top}]"));
    match (&field.filling, look) {
        (Filling::Line | Filling::Lines, [(_, look)]) => {
            out.extend_from_slice(b"/AP<</N ");
            write_object(out, &Object::Reference(*look));
            out.extend_from_slice(b">>");
        }
        (_, looks) => {
            // A tick in the signs of the usual font of forms, for programs that draw their own.
            out.extend_from_slice(b"/MK<</CA(4)>>/AS/Off/AP<</N<<");
            for (name, look) in looks {
                write_name(out, name.as_bytes());
                out.push(b' ');
                write_object(out, &Object::Reference(*look));
            }
            out.extend_from_slice(b">>>>");
        }
    }
}

fn formatted(out: &mut Vec<u8>, words: std::fmt::Arguments<'_>) {
    out.write_fmt(words).expect("writing to memory can't fail");
}

/// How boxes look, ticked and not: all are of one size and share what they look like.
struct Looks {
    ticked: ObjectId,
    empty: ObjectId,
}

impl Looks {
    fn add(document: &mut Document) -> Self {
        // The tick of a box that is printed ticked.
        let rounded = |side: f32| (side * TICK_BOX * PLACES).round() / PLACES;
        let at = |across: f32, up: f32| format!("{} {}", rounded(across), rounded(up));
        let tick = format!("2.4 w {} m {} l {} l S", at(0.2, 0.5), at(0.42, 0.24), at(0.82, 0.8));
        let mut look = |drawn: &str| document.add_object(drawing(TICK_BOX, TICK_BOX, drawn));
        Looks { ticked: look(&tick), empty: look("") }
    }

    /// What a field may look like, by name.
    fn of(
        &self,
        (document, written): (&mut Document, &mut Written),
        field: &FormField,
    ) -> Vec<(String, ObjectId)> {
        let ticked = |name: &str| vec![(name.to_owned(), self.ticked), ("Off".to_owned(), self.empty)];
        match &field.filling {
            Filling::Tick => ticked(TICKED),
            Filling::Choice(word) => ticked(word),
            Filling::Line | Filling::Lines => {
                let id = document.new_object_id();
                let empty = EmptyLine { width: field.area.width, height: field.area.height };
                written.lines.push((id.0, empty));
                vec![(String::new(), id)]
            }
        }
    }
}
