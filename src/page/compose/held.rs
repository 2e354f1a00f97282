//! What marks a held step: what it waits for, its acts struck, "wait" where a box would be, and a bar at its left.

use super::Composer;
use super::prose::frame;
use super::{LEFT, NUMBERS};
use crate::page::draw;
use crate::page::fonts::{self, Face};
use crate::page::pages::{Area, Item, Mark, Role, Stroke};
use crate::page::pieces::Piece;
use crate::page::words::Type;
use crate::sheet::Text;

impl Composer<'_> {
    /// Says what a held step waits for.
    pub(super) fn wait(&mut self, pieces: &mut Vec<Piece>, held_by: &[Text], width: f32) {
        let mut box_pieces = Vec::new();
        for (index, reason) in held_by.iter().enumerate() {
            let element = self.element(Role::Paragraph);
            let text = if index == 0 { Text::bold("WAIT for ") } else { Text::plain("and for ") };
            let text = Text(text.0.into_iter().chain(reason.0.iter().cloned()).collect());
            box_pieces.extend(self.text_pieces(
                element,
                &text,
                Type::new(13.0, 17.0),
                LEFT + 12.0,
                width - 24.0,
            ));
        }
        frame(&mut box_pieces, Area::new(LEFT, 0.0, width, 0.0), 2.2, 7.0);
        if let Some(first) = box_pieces.first_mut() {
            first.above = 7.0;
        }
        pieces.extend(box_pieces);
    }

    /// The word "wait" where the tick box would be.
    pub(super) fn wait_mark(&mut self, made: &mut [Piece], kind: Type) {
        let Some(first) = made.first_mut() else { return };
        let size = 11.0;
        let x = NUMBERS - fonts::width(Face::Bold, size, "wait");
        let items: Vec<Item> =
            draw::text(x, kind.baseline(), Face::Bold, size, "wait ").into_iter().collect();
        match first.groups.first_mut() {
            Some(group) => group.items.splice(0..0, items).for_each(drop),
            None => first.add(Mark::Artefact, items),
        }
    }
}

/// Draws a line through all words: thin, since what waits has to be read by whoever answers it.
pub(super) fn strike(pieces: &mut [Piece]) {
    for piece in pieces {
        let mut lines = Vec::new();
        for item in piece.groups.iter().flat_map(|group| &group.items) {
            if let Item::Text(run) = item {
                let y = run.at.y - run.size * 0.26;
                lines.push(draw::line(run.at.x, y, run.at.x + run.width, y, Stroke::solid(0.5)));
            }
        }
        piece.add(Mark::Artefact, lines);
    }
}

/// A broken bar down the left of a held step, to be seen while leafing.
pub(super) fn hold_bar(pieces: &mut [Piece]) {
    const WIDTH: f32 = 4.0;
    const DASH: f32 = 5.0;
    const PERIOD: f32 = 8.0;
    let mut begun = 0.0;
    for piece in pieces.iter_mut().skip(1) {
        piece.close_gap();
        let mut dashes = Vec::new();
        let mut y = -(begun % PERIOD);
        while y < piece.height {
            let (from, to) = (y.max(0.0), (y + DASH).min(piece.height));
            if to > from {
                dashes.push(draw::vertical(2.0, from, WIDTH, to - from));
            }
            y += PERIOD;
        }
        begun += piece.height;
        piece.add(Mark::Artefact, dashes);
    }
}
