//! What stands on every page: the foot, and on pages after the first of a sheet its title again.

use super::draw;
use super::fonts::{self, Face};
use super::pages::{Item, Mark, Stroke};
use super::pieces::Piece;
use super::setup::{BOTTOM, PageSetup};
use super::words::Characters;
use crate::sheet::Footer;

/// Size of the foot.
const FOOT: f32 = 11.0;
/// Size of the page number and of the title repeated.
const RUNNING: f32 = 11.0;
/// White space between the parts of the foot.
const APART: f32 = 9.0;
/// Height of the title repeated, with the white space below it.
pub(super) const RUNNING_HEIGHT: f32 = 17.5;

/// Furniture of the pages.
pub(super) struct Furniture {
    procedure: String,
    job: String,
    fingerprint: String,
    warning: String,
    deferral: String,
    title: String,
    first: bool,
}

impl Furniture {
    pub(super) fn new(footer: &Footer, characters: &mut Characters) -> Self {
        Furniture {
            procedure: characters.line(&footer.procedure),
            job: characters.line(&footer.job),
            fingerprint: characters.line(&footer.fingerprint),
            warning: characters.line(&footer.warning),
            deferral: characters.line(&footer.deferral),
            title: String::new(),
            first: true,
        }
    }

    /// From here on the pages are those of another sheet.
    pub(crate) fn sheet_begins(&mut self, title: &str) {
        self.title = title.to_string();
        self.first = true;
    }

    /// From here on the pages are those of another chapter of the same sheet.
    pub(crate) fn chapter_begins(&mut self, title: &str) {
        self.title = title.to_string();
    }

    /// What stands at the top of the next page, if anything.
    pub(crate) fn running_head(&mut self) -> Option<Piece> {
        if std::mem::take(&mut self.first) || self.title.is_empty() {
            return None;
        }
        let words = fonts::shortened(Face::Bold, RUNNING, &self.title, 340.0);
        let mut items: Vec<Item> = draw::text(0.0, 10.0, Face::Bold, RUNNING, &words).into_iter().collect();
        let x = fonts::width(Face::Bold, RUNNING, &words) + 5.0;
        items.extend(draw::text(x, 10.0, Face::Regular, RUNNING, "continued"));
        let mut piece = Piece::new(0.0, RUNNING_HEIGHT);
        piece.add(Mark::Artefact, items);
        Some(piece)
    }

    /// The title of the sheet at the right end of a line that says what goes on, `from` where its words end; none where it has
    /// no room there. It stands instead of what [`Furniture::running_head`] gives, if that gives something.
    pub(crate) fn title_behind(&self, from: f32, width: f32, baseline: f32) -> Option<Vec<Item>> {
        if self.first || self.title.is_empty() {
            return None;
        }
        let words = fonts::shortened(Face::Bold, RUNNING, &self.title, 340.0);
        let x = width - fonts::width(Face::Bold, RUNNING, &words);
        if from + 2.0 * APART > x {
            return None;
        }
        draw::text(x, baseline, Face::Bold, RUNNING, &words).map(|words| vec![words])
    }

    /// Height of the running head.
    pub(crate) fn running_head_height(&self) -> f32 {
        RUNNING_HEIGHT
    }

    /// The foot of a page, placed.
    pub(crate) fn foot(&self, number: usize, count: usize, setup: &PageSetup) -> Vec<Item> {
        let (left, width) = (setup.left(number), setup.content_width());
        let top = setup.size().1 - BOTTOM + 5.0;
        let (first, second) = (top + 12.0, top + 24.5);
        let page = format!("page {number} of {count}");
        let page_width = fonts::width(Face::Bold, RUNNING, &page);
        let mark_width = fonts::width(Face::Mono, FOOT, &self.fingerprint);
        let fingerprint = fonts::shortened(Face::Mono, FOOT, &self.fingerprint, width / 3.0);
        // What procedure and job leave is shortened: the longer of them first.
        let room = width - page_width - mark_width.min(width / 3.0) - 3.0 * APART;
        let (procedure, job) = (self.procedure.as_str(), self.job.as_str());
        let widths = [procedure, job].map(|words| fonts::width(Face::Regular, FOOT, words));
        let half = (room - widths[0].min(widths[1])).max(room / 2.0);
        let procedure = fonts::shortened(Face::Regular, FOOT, procedure, half);
        let after = fonts::width(Face::Regular, FOOT, &procedure);
        let job = fonts::shortened(Face::Regular, FOOT, job, room - after);
        let right = left + width;
        let mut items = vec![draw::line(left, top, right, top, Stroke::solid(0.6))];
        items.extend(draw::text(left, first, Face::Regular, FOOT, &procedure));
        items.extend(draw::text(left + after + APART, first, Face::Regular, FOOT, &job));
        items.extend(draw::text(right - page_width, first, Face::Bold, RUNNING, &page));
        let x = right - page_width - APART - fonts::width(Face::Mono, FOOT, &fingerprint);
        items.extend(draw::text(x, first, Face::Mono, FOOT, &fingerprint));
        items.extend(draw::text(left, second, Face::Bold, FOOT, &self.warning));
        let warned = match self.warning.as_str() {
            "" => 0.0,
            warning => fonts::width(Face::Bold, FOOT, warning) + 5.0,
        };
        items.extend(draw::text(left + warned, second, Face::Regular, FOOT, &self.deferral));
        items
    }
}
