//! Blocks that are kept together, and what may be parted for it.

use super::Composer;
use crate::page::furniture::RUNNING_HEIGHT;
use crate::page::pieces::Unit;
use crate::sheet::{Block, Sheet};

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
