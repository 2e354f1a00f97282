//! The tree of meaning, so that a screen reader follows the order of work (ISO 32000-1, 14.7 and 14.8).

use super::bytes::{Written, write_object};
use super::fields::{self, Form};
use super::kids::{Kid, Kids, WaysBack};
use super::outline::destination;
use super::tokens::text;
use crate::page::pages::{Element, ElementId, Mark, Pages, Role};
use lopdf::{Document, Object, ObjectId, dictionary};
use std::collections::BTreeMap;

/// What was added.
pub(super) struct Tags {
    /// Root of the tree.
    pub root: ObjectId,
    /// Link annotations of each page.
    pub links: Vec<Vec<ObjectId>>,
    /// What can be filled in.
    pub form: Form,
    /// Elements, written already.
    pub written: Written,
}

/// Adds the tree, the way back from content to it, and the links.
pub(super) fn add(document: &mut Document, pages: &Pages, page_ids: &[ObjectId]) -> Tags {
    let count = pages.elements.len();
    let root = document.new_object_id();
    let ids: Vec<ObjectId> = (0..count).map(|_| document.new_object_id()).collect();
    let mut kids = Kids::of(count);
    // The page of an element's first content, so that most content needs only its number.
    let mut first_page: Vec<Option<usize>> = vec![None; count];
    let mut ways_back = WaysBack::default();
    let mut marks: Vec<ObjectId> = Vec::new();
    for (index, page) in pages.pages.iter().enumerate() {
        marks.clear();
        for group in &page.groups {
            let Mark::Element(ElementId(element)) = group.mark else { continue };
            let number = u32::try_from(marks.len()).expect("a page has fewer marks than that");
            marks.push(ids[element]);
            let own = *first_page[element].get_or_insert(index);
            let here = own == index;
            kids.put(
                element,
                if here { Kid::Content(number) } else { Kid::ContentOf(page_ids[index], number) },
            );
        }
        ways_back.of_page(index as i64, &marks);
    }
    let mut written = Written::default();
    let links = add_links((document, &mut written), pages, (page_ids, &ids), (&mut kids, &mut ways_back));
    let next = (pages.pages.len() + links.iter().map(Vec::len).sum::<usize>()) as i64;
    let form =
        fields::add(document, pages, (page_ids, &ids), next, (&mut kids, &mut ways_back), &mut written);
    let next_key = next + form.on_pages.iter().map(Vec::len).sum::<usize>() as i64;
    // Children come after what stands in the element itself.
    let empty = empty(pages, &kids);
    for (index, element) in pages.elements.iter().enumerate() {
        if let (Some(ElementId(parent)), false) = (element.parent, empty[index]) {
            kids.put(parent, Kid::Element(ids[index]));
        }
    }
    let kids = kids.sorted();
    for (index, element) in pages.elements.iter().enumerate() {
        if empty[index] && element.parent.is_some() {
            continue;
        }
        let parent = element.parent.map_or(root, |ElementId(parent)| ids[parent]);
        let out = &mut written.bytes;
        out.extend_from_slice(b"<</S /");
        out.extend_from_slice(name(element.role).as_bytes());
        out.extend_from_slice(b"/P ");
        write_object(out, &Object::Reference(parent));
        if let Some(page) = first_page[index] {
            out.extend_from_slice(b"/Pg ");
            write_object(out, &Object::Reference(page_ids[page]));
        }
        kids.write(index, out);
        // What a field is for, the field says itself.
        if !element.alternative.is_empty() && element.role != Role::Form {
            out.extend_from_slice(b"/Alt ");
            write_object(out, &text(&element.alternative));
        }
        let scope = match element.role {
            Role::ColumnHeading => Some("Column"),
            Role::RowHeading => Some("Row"),
            _ => None,
        };
        if let Some(scope) = scope {
            out.extend_from_slice(b"/A <</O /Table/Scope /");
            out.extend_from_slice(scope.as_bytes());
            if element.across > 1 {
                out.extend_from_slice(b"/ColSpan ");
                out.extend_from_slice(element.across.to_string().as_bytes());
            }
            out.extend_from_slice(b">>");
        }
        out.extend_from_slice(b">>");
        let end = out.len();
        written.ends.push((ids[index].0, end));
    }
    let found_by = document.new_object_id();
    ways_back.write(found_by, &mut written);
    document.set_object(
        root,
        dictionary! {
            "Type" => "StructTreeRoot",
            "K" => Object::Reference(ids[0]),
            "ParentTree" => Object::Reference(found_by),
            "ParentTreeNextKey" => next_key,
        },
    );
    Tags { root, links, form, written }
}

fn add_links(
    (document, written): (&mut Document, &mut Written),
    pages: &Pages,
    (page_ids, ids): (&[ObjectId], &[ObjectId]),
    (kids, ways_back): (&mut Kids, &mut WaysBack),
) -> Vec<Vec<ObjectId>> {
    let mut key = pages.pages.len() as i64;
    let titles: BTreeMap<(usize, u32), &str> = pages
        .bookmarks
        .iter()
        .map(|bookmark| ((bookmark.place.page, bookmark.place.y.to_bits()), bookmark.title.as_str()))
        .collect();
    let mut all = Vec::with_capacity(pages.pages.len());
    for (index, page) in pages.pages.iter().enumerate() {
        let mut links = Vec::with_capacity(page.links.len());
        for link in &page.links {
            let Some(place) = pages.anchors.get(&link.to) else { continue };
            let rectangle = [
                link.area.x,
                pages.height - link.area.y - link.area.height,
                link.area.x + link.area.width,
                pages.height - link.area.y,
            ];
            // What is read aloud for the link: the title that stands where it leads, or the kind of place.
            let words = match titles.get(&(place.page, place.y.to_bits())) {
                Some(title) => title.chars().filter(|c| !c.is_control()).collect(),
                None => link.to.0.replace(':', " "),
            };
            let annotation = document.new_object_id();
            let entries = dictionary! {
                "Type" => "Annot",
                "Subtype" => "Link",
                "Rect" => rectangle.map(|side| Object::Real((side * 100.0).round() / 100.0)).to_vec(),
                "Border" => vec![0.into(), 0.into(), 0.into()],
                "F" => 4,
                "Contents" => text(&words),
                "Dest" => destination(pages, page_ids, place.page, place.y),
                "StructParent" => key,
            };
            written.put(annotation, |out| write_object(out, &Object::Dictionary(entries)));
            kids.put(link.element.0, Kid::Annotation(annotation, page_ids[index]));
            ways_back.of_one(key, ids[link.element.0]);
            key += 1;
            links.push(annotation);
        }
        all.push(links);
    }
    all
}

/// Elements in which nothing stands: an empty list, a caption without words.
fn empty(pages: &Pages, kids: &Kids) -> Vec<bool> {
    let bare = |(index, element): (usize, &Element)| {
        let cell = matches!(element.role, Role::TableCell | Role::RowHeading | Role::ColumnHeading);
        kids.none_in(index) && !cell
    };
    let mut empty: Vec<bool> = pages.elements.iter().enumerate().map(bare).collect();
    for (index, element) in pages.elements.iter().enumerate().rev() {
        if let (Some(ElementId(parent)), false) = (element.parent, empty[index]) {
            empty[parent] = false;
        }
    }
    empty
}

fn name(role: Role) -> &'static str {
    match role {
        Role::Document => "Document",
        Role::Section => "Sect",
        Role::Division => "Div",
        Role::Heading(1) => "H1",
        Role::Heading(2) => "H2",
        Role::Heading(3) => "H3",
        Role::Heading(4) => "H4",
        Role::Heading(_) => "H5",
        Role::Paragraph => "P",
        Role::List => "L",
        Role::ListItem => "LI",
        Role::ListBody => "LBody",
        Role::Table => "Table",
        Role::TableRow => "TR",
        Role::ColumnHeading | Role::RowHeading => "TH",
        Role::TableCell => "TD",
        Role::Figure => "Figure",
        Role::Caption => "Caption",
        Role::Span => "Span",
        Role::Link => "Link",
        Role::Form => "Form",
    }
}
