//! Pieces, which are never cut, and units of those that belong together. It must not know what they hold or where they go.

use super::pages::{Area, ElementId, FormField, Group, Item, Link, Mark, Position};
use crate::sheet::Anchor;

/// Share of a page that must be free where something longer than a page begins.
const BEGINNING: f32 = 0.3;

/// Shares of a page: a step up to so high is never cut, and of a higher one so much stands before the cut and behind it.
/// Our own choice, no source.
const NEVER_CUT: f32 = 0.4;
const BEFORE_CUT: f32 = 0.13;
const BEHIND_CUT: f32 = 0.11;

/// Something that is never cut: placed items in a frame of their own, its origin in the upper left.
#[derive(Debug, Clone, Default)]
pub(super) struct Piece {
    /// White space above it, dropped at the top of a page.
    pub above: f32,
    /// Height.
    pub height: f32,
    /// What is painted.
    pub groups: Vec<Group>,
    /// Areas that lead elsewhere.
    pub links: Vec<Link>,
    /// Places to be filled in.
    pub fields: Vec<FormField>,
    /// Numbers of pages that are known only when all pages are.
    pub page_numbers: Vec<PageNumber>,
    /// Anchors that lead to the top of this piece.
    pub anchors: Vec<Anchor>,
    /// Entry of the outline: level and words.
    pub bookmark: Option<(u8, String)>,
    /// Stays on the page of the next piece.
    pub with_next: bool,
    /// Index into [`Unit::heads`] of what is repeated above this piece when it comes first on a page.
    pub head: Option<usize>,
}

/// The number of the page on which an anchor is, to be set to the left of a place.
#[derive(Debug, Clone)]
pub(super) struct PageNumber {
    /// Right end of its baseline.
    pub at: Position,
    /// Size of its figures.
    pub size: f32,
    /// Where it leads.
    pub to: Anchor,
    /// What it is a part of.
    pub element: ElementId,
}

impl Piece {
    /// An empty piece.
    pub(super) fn new(above: f32, height: f32) -> Self {
        Piece { above, height, ..Piece::default() }
    }

    /// Adds items of one meaning.
    pub(super) fn add(&mut self, mark: Mark, items: Vec<Item>) {
        if !items.is_empty() {
            self.groups.push(Group { mark, items });
        }
    }

    /// Height with the white space above.
    pub(super) fn extent(&self) -> f32 {
        self.above + self.height
    }

    /// How far to the right its words and lines go.
    pub(super) fn reach(&self) -> f32 {
        let items = self.groups.iter().flat_map(|group| &group.items);
        items.map(|item| item.bounds()).map(|area| area.x + area.width).fold(0.0, f32::max)
    }

    /// Makes the white space above a part of the piece, so that a line drawn beside it has no gap.
    pub(super) fn close_gap(&mut self) {
        let above = std::mem::take(&mut self.above);
        self.shift(0.0, above);
        self.height += above;
    }

    /// Moves everything inside.
    pub(super) fn shift(&mut self, dx: f32, dy: f32) {
        for group in &mut self.groups {
            for item in &mut group.items {
                item.shift(dx, dy);
            }
        }
        for link in &mut self.links {
            link.area = link.area.moved(dx, dy);
        }
        for field in &mut self.fields {
            field.area = field.area.moved(dx, dy);
        }
        for number in &mut self.page_numbers {
            number.at = Position::new(number.at.x + dx, number.at.y + dy);
        }
    }

    /// The same to look at, but skipped by a screen reader: it has been read before.
    pub(super) fn repeated(&self) -> Self {
        let groups = self.groups.iter().map(|g| Group { mark: Mark::Artefact, items: g.items.clone() });
        Piece { above: self.above, height: self.height, groups: groups.collect(), ..Piece::default() }
    }

    /// Takes in the content of another piece.
    pub(super) fn absorb(&mut self, other: Piece) {
        self.groups.extend(other.groups);
        self.links.extend(other.links);
        self.fields.extend(other.fields);
        self.page_numbers.extend(other.page_numbers);
        self.anchors.extend(other.anchors);
        self.bookmark = self.bookmark.take().or(other.bookmark);
    }
}

/// Pieces that belong together.
#[derive(Debug, Clone, Default)]
pub(super) struct Unit {
    /// From top to bottom.
    pub pieces: Vec<Piece>,
    /// Never parted by a page end unless longer than a page.
    pub whole: bool,
    /// Stays on the page of what follows.
    pub with_next: bool,
    /// What may be repeated above a piece after a page end.
    pub heads: Vec<Piece>,
    /// What stands first on the page after a page end.
    pub continued: Option<Piece>,
    /// Of a table in halves: how far to the right of the first the second stands.
    pub beside: Option<f32>,
    /// What stands last on a page where it is cut. Only what has this may be cut though a page would hold it.
    pub goes_on: Option<Piece>,
}

impl Unit {
    /// Pieces that are never parted.
    pub(super) fn whole(pieces: Vec<Piece>) -> Self {
        Unit { pieces, whole: true, ..Unit::default() }
    }

    /// Pieces that may be parted.
    pub(super) fn flowing(pieces: Vec<Piece>) -> Self {
        Unit { pieces, ..Unit::default() }
    }

    /// Height with the white space above.
    pub(super) fn extent(&self) -> f32 {
        self.pieces.iter().map(Piece::extent).sum()
    }

    /// Height at the top of a page, where the white space above falls away.
    pub(super) fn extent_at_top(&self) -> f32 {
        self.extent() - self.top()
    }

    /// The white space above.
    pub(super) fn top(&self) -> f32 {
        self.pieces.first().map_or(0.0, |piece| piece.above)
    }

    /// Height that must be there so that the unit may begin on a page. One that is longer than a page begins where
    /// a good part of it has room: a title and a line at the end of a page are soon forgotten on the next.
    pub(super) fn least(&self, page: f32) -> f32 {
        if !self.whole || self.extent_at_top() > page {
            return self.beginning(page);
        }
        self.cuts(page).first().map_or_else(|| self.extent(), |cut| cut.needed)
    }

    /// Where something that fits a page may be cut all the same, rather than that most of a page stays empty: not if it
    /// is short, and where a good part of it stands on either side.
    pub(super) fn cuts(&self, page: f32) -> Vec<Cut> {
        let (Some(goes_on), true) = (&self.goes_on, self.whole) else { return Vec::new() };
        let (whole, mut before) = (self.extent(), 0.0);
        if self.extent_at_top() > page || whole <= page * NEVER_CUT {
            return Vec::new();
        }
        let mut cuts = Vec::new();
        for (index, pair) in self.pieces.windows(2).enumerate() {
            before += pair[0].extent();
            let parts = before >= page * BEFORE_CUT && whole - before >= page * BEHIND_CUT;
            if parts && !pair[0].with_next {
                cuts.push(Cut { piece: index + 1, needed: before + goes_on.extent() });
            }
        }
        cuts
    }

    /// Height of the first piece and all that stays with it; of what is better not cut, of a good part of it.
    pub(super) fn beginning(&self, page: f32) -> f32 {
        let first = chains(&self.pieces, |_| page).first().copied().unwrap_or(0.0);
        if self.whole { first.max(page * BEGINNING).min(self.extent()) } else { first }
    }
}

/// A place between two pieces where a unit may be cut.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Cut {
    /// Index of the piece behind it.
    pub piece: usize,
    /// Height up to it, with what says there that the unit goes on.
    pub needed: f32,
}

/// For each piece the height of it and of all that stays with it, as far as the page that it begins has room.
pub(super) fn chains(pieces: &[Piece], room: impl Fn(&Piece) -> f32) -> Vec<f32> {
    let mut chains = vec![0.0; pieces.len()];
    let mut next = 0.0;
    for (index, piece) in pieces.iter().enumerate().rev() {
        let alone = piece.extent();
        chains[index] = if piece.with_next && alone + next <= room(piece) { alone + next } else { alone };
        next = chains[index];
    }
    chains
}

/// An area of a piece that leads elsewhere.
pub(super) fn link(area: Area, to: Anchor, element: ElementId) -> Link {
    Link { area, to, element }
}
