//! Pieces in, pages out: what stays together, what is repeated after a page end, and what stands on every page.
//!
//! It must not know what is inside a piece.

use super::compose::Furniture;
use super::draw;
use super::fonts::{self, Face};
use super::pages::{Area, Bookmark, ElementId, Group, Item, Link, Mark, Page, Place, Position};
use super::setup::{PageSetup, TOP};
use crate::packet::sheet::Anchor;
use std::collections::BTreeMap;

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
    pub fn new(above: f32, height: f32) -> Self {
        Piece { above, height, ..Piece::default() }
    }

    /// Adds items of one meaning.
    pub fn add(&mut self, mark: Mark, items: Vec<Item>) {
        if !items.is_empty() {
            self.groups.push(Group { mark, items });
        }
    }

    /// Height with the white space above.
    pub fn extent(&self) -> f32 {
        self.above + self.height
    }

    /// How far to the right its words and lines go.
    pub fn reach(&self) -> f32 {
        let items = self.groups.iter().flat_map(|group| &group.items);
        items.map(|item| item.bounds()).map(|area| area.x + area.width).fold(0.0, f32::max)
    }

    /// Makes the white space above a part of the piece, so that a line drawn beside it has no gap.
    pub fn close_gap(&mut self) {
        let above = std::mem::take(&mut self.above);
        self.shift(0.0, above);
        self.height += above;
    }

    /// Moves everything inside.
    pub fn shift(&mut self, dx: f32, dy: f32) {
        for group in &mut self.groups {
            for item in &mut group.items {
                item.shift(dx, dy);
            }
        }
        for link in &mut self.links {
            link.area = link.area.moved(dx, dy);
        }
        for number in &mut self.page_numbers {
            number.at = Position::new(number.at.x + dx, number.at.y + dy);
        }
    }

    /// The same to look at, but skipped by a screen reader: it has been read before.
    pub fn repeated(&self) -> Self {
        let groups = self.groups.iter().map(|g| Group { mark: Mark::Artefact, items: g.items.clone() });
        Piece { above: self.above, height: self.height, groups: groups.collect(), ..Piece::default() }
    }

    /// Takes in the content of another piece.
    pub fn absorb(&mut self, other: Piece) {
        self.groups.extend(other.groups);
        self.links.extend(other.links);
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
}

impl Unit {
    /// Pieces that are never parted.
    pub fn whole(pieces: Vec<Piece>) -> Self {
        Unit { pieces, whole: true, ..Unit::default() }
    }

    /// Pieces that may be parted.
    pub fn flowing(pieces: Vec<Piece>) -> Self {
        Unit { pieces, ..Unit::default() }
    }

    /// Height with the white space above.
    pub fn extent(&self) -> f32 {
        self.pieces.iter().map(Piece::extent).sum()
    }

    /// Height at the top of a page, where the white space above falls away.
    pub fn extent_at_top(&self) -> f32 {
        self.extent() - self.pieces.first().map_or(0.0, |piece| piece.above)
    }

    /// Height that must be there so that the unit may begin on a page. One that is longer than a page begins where
    /// a good part of it has room: a title and a line at the end of a page are soon forgotten on the next.
    fn least(&self, page: f32) -> f32 {
        if self.whole && self.extent_at_top() <= page { self.extent() } else { self.beginning(page) }
    }

    /// Height of the first piece and all that stays with it; of what is better not cut, of a good part of it.
    fn beginning(&self, page: f32) -> f32 {
        let first = chains(&self.pieces, |_| page).first().copied().unwrap_or(0.0);
        if self.whole { first.max(page * BEGINNING).min(self.extent()) } else { first }
    }
}

/// For each piece the height of it and of all that stays with it, as far as the page that it begins has room.
fn chains(pieces: &[Piece], room: impl Fn(&Piece) -> f32) -> Vec<f32> {
    let mut chains = vec![0.0; pieces.len()];
    let mut next = 0.0;
    for (index, piece) in pieces.iter().enumerate().rev() {
        let alone = piece.extent();
        chains[index] = if piece.with_next && alone + next <= room(piece) { alone + next } else { alone };
        next = chains[index];
    }
    chains
}

/// Pages as they grow.
pub(super) struct Flow<'a> {
    setup: &'a PageSetup,
    furniture: Furniture,
    /// Finished and open pages.
    pub pages: Vec<Page>,
    /// Where anchors are.
    pub anchors: BTreeMap<Anchor, Place>,
    /// Outline.
    pub bookmarks: Vec<Bookmark>,
    /// Numbers of pages still to be set, each with its page and its group there.
    page_numbers: Vec<(PageNumber, usize, usize)>,
    /// Distance from the top of the content to the end of what is placed.
    y: f32,
    /// Whether something is on the open page besides its furniture.
    begun: bool,
}

impl<'a> Flow<'a> {
    /// Nothing yet.
    pub fn new(setup: &'a PageSetup, furniture: Furniture) -> Self {
        Flow {
            setup,
            furniture,
            pages: Vec::new(),
            anchors: BTreeMap::new(),
            bookmarks: Vec::new(),
            page_numbers: Vec::new(),
            y: 0.0,
            begun: false,
        }
    }

    /// Begins a sheet on a new page; printed on both sides, on a right-hand one.
    pub fn begin_sheet(&mut self, title: &str) {
        if self.setup.two_sided && self.pages.len() % 2 == 1 {
            self.pages.push(Page::default());
        }
        self.furniture.sheet_begins(title);
        self.open_page();
    }

    /// How many pages a sheet of these units takes, and what the last of them is filled to.
    pub fn tried(setup: &'a PageSetup, units: &[Unit]) -> (usize, f32) {
        let mut flow = Flow::new(setup, Furniture::only_height());
        flow.begin_sheet(" ");
        flow.place(units.to_vec());
        (flow.pages.len(), flow.y)
    }

    /// Height that a unit takes below `above` on a page, whole pages counted with the white space left on them.
    pub fn length(setup: &'a PageSetup, above: f32, unit: &Unit) -> f32 {
        let above = Unit { with_next: true, ..Unit::whole(vec![Piece::new(0.0, above)]) };
        let (pages, last) = Flow::tried(setup, &[above, unit.clone()]);
        (pages - 1) as f32 * setup.content_height() + last
    }

    fn open_page(&mut self) {
        self.pages.push(Page::default());
        self.begun = false;
        self.y = 0.0;
        if let Some(head) = self.furniture.running_head() {
            self.paint(head);
            self.begun = false;
        }
    }

    fn page_height(&self) -> f32 {
        self.setup.content_height() - self.furniture.running_head_height()
    }

    fn room(&self) -> f32 {
        self.setup.content_height() - self.y
    }

    /// Places units from top to bottom.
    pub fn place(&mut self, mut units: Vec<Unit>) {
        // What is empty would come between a heading and what it stays with.
        units.retain(|unit| !unit.pieces.is_empty());
        let page = self.page_height();
        // The first page of a sheet has its title instead of the running head.
        let first = if self.begun { page } else { self.room() };
        // Height that each unit needs to begin: its own, and of what it stays with. What would leave a heading alone
        // on a page is begun below it, and cut.
        let mut needs: Vec<f32> = vec![0.0; units.len()];
        // The same where what it stays with is only begun there.
        let mut leasts: Vec<f32> = vec![0.0; units.len()];
        for (index, unit) in units.iter().enumerate().rev() {
            let room = if index == 0 { first } else { page };
            let own = unit.extent();
            // What doesn't fit below is begun on the next page, without the white space above it.
            let top = unit.extent_at_top();
            needs[index] = unit.least(room);
            leasts[index] = unit.beginning(page);
            let next = index + 1;
            if !unit.with_next || next == units.len() {
                continue;
            }
            if top + leasts[next] <= room {
                leasts[index] = own + leasts[next];
            }
            if top + needs[next] <= room {
                needs[index] = own + needs[next];
            } else if top + leasts[next] <= room {
                needs[index] = leasts[index];
                for later in next..units.len() {
                    needs[later] = leasts[later];
                    if !units[later].with_next {
                        break;
                    }
                }
            }
        }
        for (unit, need) in units.into_iter().zip(needs) {
            let above = if self.begun { 0.0 } else { unit.pieces.first().map_or(0.0, |piece| piece.above) };
            if need - above > self.room() + TOLERANCE && self.begun {
                self.open_page();
            }
            self.place_unit(unit);
        }
    }

    fn place_unit(&mut self, unit: Unit) {
        let Unit { pieces, heads, continued, .. } = unit;
        // What stays together has to fit a page below what is repeated there.
        let page = self.page_height() - continued.as_ref().map_or(0.0, Piece::extent);
        let room = |piece: &Piece| page - piece.head.map_or(0.0, |head| heads[head].extent());
        let chains = chains(&pieces, room);
        for (index, (piece, chain)) in pieces.into_iter().zip(chains).enumerate() {
            let needed = if self.begun { chain } else { chain - piece.above };
            if index > 0 && needed > self.room() + TOLERANCE && self.begun {
                self.open_page();
                // What is repeated gives way to a piece that needs the whole page.
                let mut spare = self.room() - piece.extent();
                let head = piece.head.map(|head| &heads[head]);
                for repeated in [continued.as_ref(), head].into_iter().flatten() {
                    if repeated.extent() <= spare {
                        spare -= repeated.extent();
                        self.paint(repeated.clone());
                    }
                }
            }
            self.paint(piece);
        }
    }

    fn paint(&mut self, mut piece: Piece) {
        if self.begun {
            self.y += piece.above;
        }
        let number = self.pages.len();
        let (dx, dy) = (self.setup.left(number), TOP + self.y);
        piece.shift(dx, dy);
        let place = Place { page: number - 1, y: dy };
        for anchor in piece.anchors {
            self.anchors.entry(anchor).or_insert(place);
        }
        if let Some((level, title)) = piece.bookmark {
            self.bookmarks.push(Bookmark { level, title, place });
        }
        self.add(piece.groups, piece.links);
        if let Some(page) = self.pages.last_mut() {
            for number in piece.page_numbers {
                let mark = Mark::Element(number.element);
                self.page_numbers.push((number, place.page, page.groups.len()));
                page.groups.push(Group { mark, items: Vec::new() });
            }
        }
        self.y += piece.height;
        self.begun = true;
    }

    /// Puts a piece where it is told to stand on the open page, as cut-out labels are.
    pub fn place_at(&mut self, mut piece: Piece, area: Area) {
        let number = self.pages.len();
        piece.shift(area.x, area.y);
        self.add(piece.groups, piece.links);
        for anchor in piece.anchors {
            self.anchors.entry(anchor).or_insert(Place { page: number - 1, y: area.y });
        }
    }

    /// Adds groups to the open page; neighbours of one meaning become one group.
    fn add(&mut self, groups: Vec<Group>, links: Vec<Link>) {
        let Some(page) = self.pages.last_mut() else { return };
        for group in groups {
            match page.groups.last_mut() {
                Some(last) if last.mark == group.mark => last.items.extend(group.items),
                _ => page.groups.push(group),
            }
        }
        page.links.extend(links);
    }

    /// Begins a new page of the same sheet.
    pub fn next_page(&mut self) {
        self.open_page();
    }

    /// Distance from the top of the content to the end of what is placed.
    pub fn used(&self) -> f32 {
        self.y
    }

    /// Number of the open page, from 1.
    pub fn number(&self) -> usize {
        self.pages.len()
    }

    /// Puts the feet under all pages.
    pub fn finish(mut self) -> (Vec<Page>, BTreeMap<Anchor, Place>, Vec<Bookmark>) {
        for (number, page, group) in std::mem::take(&mut self.page_numbers) {
            let Some(place) = self.anchors.get(&number.to) else { continue };
            let words = (place.page + 1).to_string();
            let width = fonts::width(Face::Regular, number.size, &words);
            let run = draw::text(number.at.x - width, number.at.y, Face::Regular, number.size, &words);
            self.pages[page].groups[group].items.extend(run);
        }
        let count = self.pages.len();
        for (index, page) in self.pages.iter_mut().enumerate() {
            let foot = self.furniture.foot(index + 1, count, self.setup);
            page.groups.push(Group { mark: Mark::Artefact, items: foot });
        }
        (self.pages, self.anchors, self.bookmarks)
    }
}

/// Share of a page that must be free where something longer than a page begins.
const BEGINNING: f32 = 0.4;

/// Rounding may not open a page.
const TOLERANCE: f32 = 0.01;

/// An area of a piece that leads elsewhere.
pub(super) fn link(area: Area, to: Anchor, element: ElementId) -> Link {
    Link { area, to, element }
}
