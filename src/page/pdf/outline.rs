//! The outline: nested as the bookmarks are, open at the level of sheets.

use super::tokens::text;
use crate::page::pages::{Bookmark, Pages};
use lopdf::{Document, Object, ObjectId, dictionary};

/// Adds the outline; none if there are no bookmarks.
pub(super) fn add(document: &mut Document, pages: &Pages, page_ids: &[ObjectId]) -> Option<ObjectId> {
    if pages.bookmarks.is_empty() {
        return None;
    }
    let root = document.new_object_id();
    let ids: Vec<ObjectId> = pages.bookmarks.iter().map(|_| document.new_object_id()).collect();
    let parents = parents(&pages.bookmarks);
    let mut children: Vec<Vec<usize>> = vec![Vec::new(); ids.len() + 1];
    for (index, parent) in parents.iter().enumerate() {
        children[parent.map_or(0, |parent| parent + 1)].push(index);
    }
    for (index, bookmark) in pages.bookmarks.iter().enumerate() {
        let siblings = &children[parents[index].map_or(0, |parent| parent + 1)];
        let place = siblings.iter().position(|sibling| *sibling == index).unwrap_or(0);
        let title: String = bookmark.title.chars().filter(|c| !c.is_control()).collect();
        let mut entry = dictionary! {
            "Title" => text(&title),
            "Parent" => Object::Reference(parents[index].map_or(root, |parent| ids[parent])),
            "Dest" => destination(pages, page_ids, bookmark.place.page, bookmark.place.y),
        };
        if let Some(before) = place.checked_sub(1) {
            entry.set("Prev", Object::Reference(ids[siblings[before]]));
        }
        if let Some(after) = siblings.get(place + 1) {
            entry.set("Next", Object::Reference(ids[*after]));
        }
        let own = &children[index + 1];
        if let (Some(first), Some(last)) = (own.first(), own.last()) {
            entry.set("First", Object::Reference(ids[*first]));
            entry.set("Last", Object::Reference(ids[*last]));
            // Negative: closed, with so many entries inside.
            entry.set("Count", -(own.len() as i64));
        }
        document.set_object(ids[index], entry);
    }
    let top = &children[0];
    let mut outlines = dictionary! { "Type" => "Outlines", "Count" => top.len() as i64 };
    if let (Some(first), Some(last)) = (top.first(), top.last()) {
        outlines.set("First", Object::Reference(ids[*first]));
        outlines.set("Last", Object::Reference(ids[*last]));
    }
    document.set_object(root, outlines);
    Some(root)
}

/// A place as a destination: the top of the window a little above it.
pub(super) fn destination(pages: &Pages, page_ids: &[ObjectId], page: usize, y: f32) -> Object {
    let top = (pages.height - y + 12.0).min(pages.height).round();
    Object::Array(vec![
        page_ids.get(page).map_or(Object::Null, |id| Object::Reference(*id)),
        "XYZ".into(),
        Object::Null,
        Object::Integer(top as i64),
        Object::Null,
    ])
}

/// The entry that each entry stands under: the last one before it of a lower level.
fn parents(bookmarks: &[Bookmark]) -> Vec<Option<usize>> {
    let mut open: Vec<usize> = Vec::new();
    let mut parents = Vec::with_capacity(bookmarks.len());
    for (index, bookmark) in bookmarks.iter().enumerate() {
        while open.last().is_some_and(|last| bookmarks[*last].level >= bookmark.level) {
            open.pop();
        }
        parents.push(open.last().copied());
        open.push(index);
    }
    parents
}
