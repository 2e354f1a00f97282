//! Figures in the flow: the drawing, then its caption.

use super::{Composer, SMALL};
use crate::packet::sheet::{Drawing, Figure, Text};
use crate::page::draw::{self, Drawn};
use crate::page::flow::{Piece, link};
use crate::page::pages::{ElementId, Mark, Role};
use crate::page::words::Characters;

/// Share of their usual size to which the marks of a joint may shrink with it.
const READABLE: f32 = 0.7;

/// Share of the page's height that an order may take: the sheet's title and the caption fit beside it.
const ORDER_SHARE: f32 = 0.82;

impl Composer {
    /// A figure at `x`; a long overview comes as several pieces, each to be continued by the next. A joint may
    /// go further to the left by `spare`, where that lets it be larger.
    pub(super) fn figure(&mut self, figure: &Figure, x: f32, width: f32, spare: f32) -> Vec<Piece> {
        let element = self.element(Role::Figure);
        self.elements[element.0].alternative = figure.alternative.clone();
        let page = self.setup.content_height();
        let characters = &mut self.characters;
        let mut caption = figure.caption.clone();
        let mut pieces = match &figure.drawing {
            Drawing::Joint(joint) => {
                let share = |share: f32, characters: &mut Characters| {
                    draw::joint(joint, width + spare, page * share, characters)
                };
                let mut made = share(self.figure_share, characters);
                // A picture that is hard to read is no gain to a step that stays whole.
                if self.figure_share < super::FIGURE_SHARES[0] {
                    let large = share(super::FIGURE_SHARES[0], characters);
                    if made.crowded || made.radius < large.radius * READABLE {
                        made = large;
                    }
                }
                let draw::DrawnJoint { drawn, scale, .. } = made;
                let drawn_x = x - (drawn.width - width).max(0.0);
                // A caption that already names the view is not made to say it twice.
                let said = caption.words().to_lowercase();
                for words in [joint.view.as_str(), scale.as_str()] {
                    if words.is_empty() || said.contains(&words.to_lowercase()) {
                        continue;
                    }
                    // After a sentence comes a sentence.
                    let end = caption.words().trim_end().chars().last();
                    caption = match (end, words.chars().next()) {
                        (None, _) => caption.and(words),
                        (Some('.'), Some(_)) => caption.and(format!(" {}.", sentence_case(words))),
                        _ => caption.and(format!(" · {words}")),
                    };
                }
                let mut legend = draw::joint_legend(&joint.sizes, width, characters);
                let mut piece = placed(drawn, drawn_x, element);
                for item in &mut legend.items {
                    item.shift(x, piece.height + 4.0);
                }
                piece.height += 4.0 + legend.height;
                piece.anchors.extend(joint.anchor.clone());
                piece.add(Mark::Element(element), legend.items);
                vec![piece]
            }
            Drawing::Bars(bars) => vec![placed(draw::bars(bars, width, page * 0.6, characters), x, element)],
            Drawing::Way(way) => vec![placed(draw::way(way, width, characters), x, element)],
            Drawing::Stations(stations) => {
                let (drawn, scale) = draw::stations(stations, width, characters);
                let gap = if caption.0.is_empty() { "" } else { " " };
                caption = caption.and(format!("{gap}{}.", sentence_case(&scale)));
                vec![placed(drawn, x, element)]
            }
            Drawing::Plan(plan) => vec![placed(draw::plan(plan, width, characters), x, element)],
            Drawing::Order(order) => {
                let bands = draw::order(order, width, page * ORDER_SHARE, characters);
                let mut pieces = Vec::with_capacity(bands.len());
                for (drawn, nodes) in bands {
                    let mut piece = placed(drawn, x, element);
                    for (area, node) in nodes {
                        let Some(anchor) = order.nodes[node].anchor.clone() else { continue };
                        let lead = self.element(Role::Link);
                        self.elements[lead.0].alternative = order.nodes[node].label.clone();
                        piece.links.push(link(area.moved(x, 0.0), anchor, lead));
                    }
                    pieces.push(piece);
                }
                pieces
            }
        };
        if !caption.words().trim().is_empty() {
            let mut caption = self.caption(&caption, x, width);
            match pieces.as_mut_slice() {
                // A picture is never parted from its caption.
                [only] if !matches!(figure.drawing, Drawing::Order(_)) => {
                    caption.shift(0.0, only.height + caption.above);
                    only.height += caption.extent();
                    only.absorb(caption);
                }
                several => {
                    if let Some(last) = several.last_mut() {
                        last.with_next = true;
                    }
                    pieces.push(caption);
                }
            }
        }
        pieces
    }

    fn caption(&mut self, caption: &Text, x: f32, width: f32) -> Piece {
        let mut piece = self.text_piece(Role::Caption, caption, SMALL, x, width);
        piece.above = 5.0;
        piece
    }
}

/// Words with a capital, as they begin a sentence.
fn sentence_case(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map(|first| first.to_uppercase().chain(letters).collect()).unwrap_or_default()
}

fn placed(drawn: Drawn, x: f32, element: ElementId) -> Piece {
    let mut piece = Piece::new(0.0, drawn.height);
    piece.add(Mark::Element(element), drawn.items);
    piece.shift(x, 0.0);
    piece
}
