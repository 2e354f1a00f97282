//! What is tried more than once until it fits: figures smaller so that their step stays whole, blocks that are kept
//! together.

use super::Composer;
use crate::page::flow::Flow;
use crate::page::furniture::RUNNING_HEIGHT;
use crate::page::pieces::Unit;
use crate::sheet::{Block, Sheet, StepBlock, StepLine};

/// Shares of the page's height that the joints of a step may take, the first unless the step is then cut.
pub(super) const FIGURE_SHARES: [f32; 6] = [0.34, 0.28, 0.23, 0.19, 0.16, 0.13];

/// Share that a joint may take which is hard to read when it is smaller.
pub(in crate::page) const LARGEST: f32 = 0.46;

/// Share of a page that a smaller figure has to save where the step is cut all the same.
const WORTH_SMALLER: f32 = 0.25;

impl Composer<'_> {
    /// The units of a sheet below its title.
    pub(super) fn units(&mut self, sheet: &Sheet, title: Unit) -> Vec<Unit> {
        self.title_above = title.extent();
        self.headings_above = 0.0;
        let page = self.setup.content_height() - RUNNING_HEIGHT;
        // Height of the sheet's title and of headings above a notice.
        let mut above_notice = 0.0;
        let mut units = vec![title];
        for (index, block) in sheet.blocks.iter().enumerate() {
            let mut made = self.block(block);
            // What is told of the steps of a block stands above the first of them.
            let of_step = matches!(sheet.blocks.get(index + 1), Some(Block::Step(_)));
            if let (Block::Notice(_), true, Some(last)) = (block, of_step, made.last_mut()) {
                last.with_next = true;
            }
            // Rather on the page before than that the step is cut for it.
            if let (Block::Step(_), Some(above), Some(step)) = (block, units.last_mut(), made.first()) {
                let notice = index > 0 && matches!(sheet.blocks[index - 1], Block::Notice(_));
                let room = page - above_notice - above.extent();
                if notice && step.extent_at_top() <= page && step.extent() > room {
                    above.with_next = false;
                }
            }
            if matches!(block, Block::Notice(_)) {
                above_notice = (self.title_above - RUNNING_HEIGHT).max(0.0) + self.headings_above;
            }
            if matches!(block, Block::Heading { .. }) {
                let at_top = self.title_above <= 0.0 && self.headings_above <= 0.0;
                let dropped = made.first().map_or(0.0, |first| first.extent() - first.extent_at_top());
                self.headings_above += made.iter().map(Unit::extent).sum::<f32>();
                self.headings_above -= if at_top { dropped } else { 0.0 };
            } else {
                (self.title_above, self.headings_above) = (0.0, 0.0);
            }
            units.extend(made);
        }
        units
    }

    /// A step with its figures as large as they may be without the step being cut: under the sheet's title and the
    /// headings that it stays with, else on a later page below its headings. One that is longer than a page even so
    /// has smaller figures only where that saves a good part of a page.
    pub(super) fn fitting_step(&mut self, step: &StepBlock) -> Unit {
        let page = self.setup.content_height();
        let above = if self.title_above > 0.0 { self.title_above } else { RUNNING_HEIGHT };
        let room = page - above - self.headings_above;
        let at_top = self.title_above <= 0.0 && self.headings_above <= 0.0;
        let made = self.elements.len();
        let mut best = (FIGURE_SHARES[0], f32::INFINITY);
        if step.lines.iter().any(|line| matches!(line, StepLine::Figure(_))) {
            for share in FIGURE_SHARES {
                let unit = self.step_with_figures(step, share);
                let extent = if at_top { unit.extent_at_top() } else { unit.extent() };
                if extent <= room {
                    return unit;
                }
                let length = Flow::length(&self.setup, above + self.headings_above, &unit);
                if length < best.1 - WORTH_SMALLER * page {
                    best = (share, length);
                }
                self.elements.truncate(made);
            }
        }
        self.step_with_figures(step, best.0)
    }

    fn step_with_figures(&mut self, step: &StepBlock, share: f32) -> Unit {
        self.figure_share = share;
        let unit = self.step(step);
        self.figure_share = FIGURE_SHARES[0];
        unit
    }

    /// The pieces of several blocks as one unit. Longer than a page, it goes on under its heading.
    pub(super) fn together(&mut self, blocks: &[Block]) -> Vec<Unit> {
        let mut whole = Unit::whole(Vec::new());
        for block in blocks {
            for unit in self.block(block) {
                let heads = whole.heads.len();
                whole.heads.extend(unit.heads);
                whole.pieces.extend(unit.pieces.into_iter().map(|mut piece| {
                    piece.head = piece.head.map(|head| head + heads);
                    piece
                }));
            }
        }
        if let Some(Block::Heading { text, .. }) = blocks.first() {
            let width = self.setup.content_width();
            whole.continued = Some(self.gone_on(text, 0.0, width));
            whole.goes_on = Some(self.goes_on(&text.words(), 0.0, width));
        }
        vec![whole]
    }
}
