//! Pieces in, pages out: what stays together, what is repeated after a page end, and what stands on every page.
//!
//! It must not know what is inside a piece.

use super::draw;
use super::fonts::{self, Face};
use super::furniture::Furniture;
use super::pages::{Area, Bookmark, Group, Item, Link, Mark, Page, Place};
use super::pieces::{PageNumber, Piece, Unit, chains};
use super::setup::{PageSetup, TOP};
use crate::sheet::Anchor;
use std::collections::{BTreeMap, VecDeque};

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
    /// Whether the open page has labels on it, below which nothing follows.
    labels: bool,
    /// Whether the open sheet is one of chapters.
    chapters: bool,
    /// The title of a chapter that has nothing on paper yet.
    chapter: Option<String>,
}

impl<'a> Flow<'a> {
    /// Nothing yet.
    pub(super) fn new(setup: &'a PageSetup, furniture: Furniture) -> Self {
        Flow {
            setup,
            furniture,
            pages: Vec::new(),
            anchors: BTreeMap::new(),
            bookmarks: Vec::new(),
            page_numbers: Vec::new(),
            y: 0.0,
            begun: false,
            labels: false,
            chapters: false,
            chapter: None,
        }
    }

    /// Begins a sheet on a new page; printed on both sides, on a right-hand one.
    pub(super) fn begin_sheet(&mut self, title: &str, chapters: bool) {
        if self.setup.two_sided && self.pages.len() % 2 == 1 {
            self.pages.push(Page::default());
        }
        (self.labels, self.chapters, self.chapter) = (false, chapters, None);
        self.furniture.sheet_begins(title);
        self.open_page();
    }

    /// Whether a chapter may follow on the open page.
    pub(super) fn goes_on(&self) -> bool {
        self.chapters
    }

    /// Whether something may stand below what is on the open page.
    pub(super) fn may_follow(&self) -> bool {
        self.begun && !self.labels
    }

    /// Begins a chapter below what is on the open page.
    pub(super) fn begin_chapter(&mut self, title: &str) {
        self.chapter = Some(title.to_owned());
    }

    /// Begins a short sheet below what is on the open page, where all of it has room there, else on a page of its own.
    pub(super) fn follow(&mut self, title: &str, units: &[Unit]) {
        let height: f32 = units.iter().map(Unit::extent).sum();
        if self.may_follow() && height <= self.room() {
            self.begin_chapter(title);
        } else {
            self.begin_sheet(title, false);
        }
    }

    fn open_page(&mut self) {
        self.push_page();
        // Where a chapter begins on top of a page its own title is the head.
        if let (Some(head), None) = (self.furniture.running_head(), &self.chapter) {
            self.paint(head);
            self.begun = false;
        }
    }

    /// Opens a page on top of which something goes on: the title of the sheet stands behind what says so, where it has room
    /// there.
    fn open_page_with(&mut self, goes_on: Piece) {
        let words = goes_on.groups.iter().flat_map(|group| &group.items);
        let ends = words.filter_map(|item| match item {
            Item::Text(run) => Some((run.at.x + run.width, run.at.y)),
            _ => None,
        });
        // The last of its words stands where the line ends.
        let (end, baseline) = ends.fold((0.0, 0.0), |far, here| if here.0 > far.0 { here } else { far });
        let title = self.furniture.title_behind(end, self.setup.content_width(), baseline);
        let mut piece = goes_on;
        match title.filter(|_| self.chapter.is_none()) {
            Some(title) => {
                self.push_page();
                piece.add(Mark::Artefact, title);
            }
            None => self.open_page(),
        }
        self.paint(piece);
    }

    fn push_page(&mut self) {
        self.pages.push(Page::default());
        self.begun = false;
        self.y = 0.0;
    }

    fn page_height(&self) -> f32 {
        self.setup.content_height() - self.furniture.running_head_height()
    }

    fn room(&self) -> f32 {
        self.setup.content_height() - self.y
    }

    /// Places units from top to bottom.
    pub(super) fn place(&mut self, mut units: Vec<Unit>) {
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
            let above = if self.begun { 0.0 } else { unit.top() };
            if need - above > self.room() + TOLERANCE && self.begun {
                self.open_page();
            }
            self.place_unit(unit);
        }
    }

    fn place_unit(&mut self, unit: Unit) {
        if let Some(beside) = unit.beside {
            self.place_halves(unit, beside);
            return;
        }
        let (space, top) = (self.room() + TOLERANCE, if self.begun { 0.0 } else { unit.top() });
        let cuts = if unit.extent() - top > space { unit.cuts(self.page_height()) } else { Vec::new() };
        let cut = cuts.into_iter().rev().find(|cut| cut.needed - top <= space).map(|cut| cut.piece);
        let Unit { pieces, heads, continued, goes_on, .. } = unit;
        // What stays together has to fit a page below what is repeated there.
        let page = self.page_height() - continued.as_ref().map_or(0.0, Piece::extent);
        let room = |piece: &Piece| page - piece.head.map_or(0.0, |head| heads[head].extent());
        let chains = chains(&pieces, room);
        for (index, (piece, chain)) in pieces.into_iter().zip(chains).enumerate() {
            let needed = if self.begun { chain } else { chain - piece.above };
            if index > 0 && (cut == Some(index) || needed > self.room() + TOLERANCE) && self.begun {
                if let Some(goes_on) =
                    goes_on.as_ref().filter(|words| words.extent() <= self.room() + TOLERANCE)
                {
                    self.paint(goes_on.clone());
                }
                // What is repeated gives way to a piece that needs the whole page.
                let mut spare = self.page_height() - piece.extent();
                match continued.as_ref().filter(|continued| continued.extent() <= spare) {
                    Some(continued) => self.open_page_with(continued.clone()),
                    None => self.open_page(),
                }
                spare = spare.min(self.room() - piece.extent());
                let head = piece.head.map(|head| &heads[head]);
                if let Some(head) = head.filter(|head| head.extent() <= spare) {
                    self.paint(head.clone());
                }
            }
            self.paint(piece);
        }
    }

    /// Places rows in two columns of the same height, page by page, the head above both.
    fn place_halves(&mut self, unit: Unit, beside: f32) {
        let Unit { pieces, heads, .. } = unit;
        let (mut above, mut rows): (Vec<Piece>, VecDeque<Piece>) = (Vec::new(), VecDeque::new());
        for piece in pieces {
            if piece.head.is_some() { rows.push_back(piece) } else { above.push(piece) }
        }
        let head = heads.into_iter().next().unwrap_or_default();
        // What stands above the rows: a caption, and the head, which comes again.
        let first = above.pop().unwrap_or_default();
        above.into_iter().for_each(|piece| self.paint(piece));
        let mut left_head = Some(first);
        while !rows.is_empty() {
            let left = left_head.take().unwrap_or_else(|| head.clone());
            let white = if self.begun { left.above } else { 0.0 };
            let room = self.room() + TOLERANCE - white - left.height;
            if self.begun && rows[0].height > room {
                self.open_page();
                left_head = Some(left);
                continue;
            }
            let all: f32 = rows.iter().map(Piece::extent).sum();
            let mut page = Piece::new(left.above, left.height);
            page.absorb(left);
            let mut lowest = page.height;
            for (dx, most) in [(0.0, room.min(all / 2.0)), (beside, room)] {
                let mut y = page.height;
                // A row that has no room in the second column goes on to the next page.
                if dx > 0.0 && rows.front().is_some_and(|row| row.extent() > room) {
                    break;
                }
                if dx > 0.0 && !rows.is_empty() {
                    let mut again = head.clone();
                    again.shift(dx, 0.0);
                    page.absorb(again);
                }
                // A row goes into the first column as long as most of it stands in the first half; one at least, however
                // high.
                while let Some(mut row) = rows.pop_front() {
                    let used = y - page.height;
                    // What announces the next row goes where that goes.
                    let next = rows.front().filter(|_| row.with_next).map_or(0.0, Piece::extent);
                    let end = used + row.extent() + next;
                    let middle = end - if next > 0.0 { next } else { row.extent() } / 2.0;
                    let full = end > room || (dx == 0.0 && middle > most);
                    if used > 0.0 && full {
                        rows.push_front(row);
                        break;
                    }
                    row.shift(dx, y + row.above);
                    y += row.extent();
                    page.absorb(row);
                }
                lowest = lowest.max(y);
            }
            page.height = lowest;
            self.paint(page);
        }
    }

    fn paint(&mut self, mut piece: Piece) {
        if let Some(title) = self.chapter.take() {
            self.furniture.chapter_begins(&title);
        }
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
            page.fields.extend(piece.fields);
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
    pub(super) fn place_at(&mut self, mut piece: Piece, area: Area) {
        let number = self.pages.len();
        self.labels = true;
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
    pub(super) fn next_page(&mut self) {
        self.open_page();
    }

    /// Distance from the top of the content to the end of what is placed.
    pub(super) fn used(&self) -> f32 {
        self.y
    }

    /// Number of the open page, from 1.
    pub(super) fn number(&self) -> usize {
        self.pages.len()
    }

    /// Puts the feet under all pages.
    pub(super) fn finish(mut self) -> (Vec<Page>, BTreeMap<Anchor, Place>, Vec<Bookmark>) {
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

/// Rounding may not open a page.
const TOLERANCE: f32 = 0.01;
