//! Figures in the flow: the drawing, then its caption.

use super::LEFT;
use super::holes::{AtHoles, ticked_at_holes};
use super::{Composer, SMALL};
use crate::english::capital;
use crate::page::draw::{self, BESIDE, Drawn};
use crate::page::pages::{ElementId, Mark, Role};
use crate::page::pieces::{Piece, link};
use crate::sheet::{Boxes, Drawing, Figure, JointDrawing, StepLine, Text};

/// White space between the torques and the joint beside them.
const GAP: f32 = 10.0;

/// Share of the page's height that an order may take: the sheet's title and the caption fit beside it.
const ORDER_SHARE: f32 = 0.82;

impl Composer<'_> {
    /// A figure at `x`; a long overview comes as several pieces, each to be continued by the next. A joint may
    /// go further to the left by `spare`, where that lets it be larger.
    pub(super) fn figure(
        &mut self,
        figure: &Figure,
        x: f32,
        width: f32,
        spare: f32,
        holes: Option<&AtHoles>,
    ) -> Vec<Piece> {
        let element = self.element(Role::Figure);
        self.elements[element.0].alternative = figure.alternative.clone();
        let page = self.setup.content_height();
        let characters = &mut self.characters;
        let mut caption = figure.caption.clone();
        let mut pieces = match &figure.drawing {
            Drawing::Joint(joint) => {
                let counts = holes.map(AtHoles::counts).unwrap_or_default();
                let made = self.drawn_joint(joint, width + spare, &counts);
                caption = joint_caption(caption, joint, &made.scale);
                let drawn_x = x - (made.drawn.width - width).max(0.0);
                let mut piece = placed(made.drawn.clone(), drawn_x, element);
                if let Some(holes) = holes {
                    let told = self.hole_boxes(&mut piece, (joint, &made), holes, drawn_x);
                    caption = caption_with(caption, &told);
                }
                // The only size there is has been told in the act that it shows.
                if joint.sizes.len() > 1 || spare == 0.0 {
                    self.add_legend(&mut piece, element, joint, x, width);
                }
                piece.anchors.extend(joint.anchor.clone());
                vec![piece]
            }
            Drawing::Bars(bars) => vec![placed(draw::bars(bars, width, page * 0.6, characters), x, element)],
            Drawing::Way(way) => vec![placed(draw::way(way, width, characters), x, element)],
            Drawing::Stations(stations) => {
                let (drawn, scale) = draw::stations(stations, width, characters);
                let gap = if caption.0.is_empty() { "" } else { " " };
                caption = caption.and(format!("{gap}{}.", capital(&scale)));
                vec![placed(drawn, x, element)]
            }
            Drawing::Shapes(shapes) => {
                vec![placed(draw::drawn_shapes(shapes, width, characters), x, element)]
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
                        self.elements[lead.0].alternative = order.nodes[node].step.to_string();
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

    /// A joint that is narrow, beside the torques that it shows the order of, its caption below both; without the
    /// size of its fasteners where the act above has just told the only one. Remarks stand beside it as far as it is
    /// higher; how many lines do is told with it. None where no torque follows, where it is too wide, or all of it
    /// higher than `room`.
    pub(super) fn joint_beside(
        &mut self,
        figure: &Figure,
        lines: &[StepLine],
        holes: Option<&AtHoles>,
        (told, held): (bool, bool),
        width: f32,
        room: f32,
    ) -> Option<(Piece, usize)> {
        let Drawing::Joint(joint) = &figure.drawing else { return None };
        // What has a box for each hole: a torque, or a round of undoing.
        let torque = |line: &StepLine| {
            matches!(line, StepLine::Torque { .. } | StepLine::Act { boxes: Boxes::Grid(_), .. })
                || ticked_at_holes(line)
        };
        let run = lines.iter().take_while(|line| torque(line) || matches!(line, StepLine::Note(_))).count();
        let torques = lines[..run].iter().rposition(torque)? + 1;
        if !torque(&lines[0]) {
            return None;
        }
        let counts = holes.map(AtHoles::counts).unwrap_or_default();
        let narrow = self.drawn_joint(joint, width * BESIDE, &counts);
        if holes.is_some() && narrow.boxes.is_empty() {
            return None;
        }
        let alone = self.drawn_joint(joint, width + LEFT, &counts);
        let poorer = narrow.scale != alone.scale || (narrow.crowded && !alone.crowded);
        if poorer || narrow.drawn.width > width * BESIDE {
            return None;
        }
        let (drawn, scale) = (narrow.drawn.clone(), narrow.scale.clone());
        let made = self.elements.len();
        let element = self.element(Role::Figure);
        self.elements[element.0].alternative = figure.alternative.clone();
        let beside = width - drawn.width - GAP;
        let mut piece = placed(drawn, LEFT + beside + GAP, element);
        let boxed =
            holes.map(|holes| self.hole_boxes(&mut piece, (joint, &narrow), holes, LEFT + beside + GAP));
        let mut height = 0.0;
        for line in &lines[..torques] {
            let made = self.lines_beside(line, held, beside);
            height = stacked(&mut piece, height, made);
        }
        let mut count = torques;
        let caption = joint_caption(figure.caption.clone(), joint, &scale);
        let caption = caption_with(caption, &boxed.unwrap_or_default());
        let legend = !told || joint.sizes.len() > 1;
        let before = self.elements.len();
        let below = self.caption(&caption, LEFT + beside + GAP, width - beside - GAP);
        if !legend && piece.height + below.extent() <= height {
            let end = piece.height;
            stacked(&mut piece, end, vec![below]);
            piece.height = height;
        } else {
            self.elements.truncate(before);
            for line in &lines[torques..run] {
                let before = self.elements.len();
                let made = self.lines_beside(line, held, beside);
                if height + made.iter().map(Piece::extent).sum::<f32>() > piece.height {
                    self.elements.truncate(before);
                    break;
                }
                height = stacked(&mut piece, height, made);
                count += 1;
            }
            piece.height = piece.height.max(height);
            if legend {
                self.add_legend(&mut piece, element, joint, LEFT, width);
            }
            let caption = self.caption(&caption, LEFT, width);
            let end = piece.height;
            piece.height = stacked(&mut piece, end, vec![caption]);
        }
        piece.anchors.extend(joint.anchor.clone());
        if piece.height > room {
            self.elements.truncate(made);
            return None;
        }
        Some((piece, count))
    }

    fn lines_beside(&mut self, line: &StepLine, held: bool, width: f32) -> Vec<Piece> {
        let mut pieces = Vec::new();
        self.step_line(&mut pieces, &mut Vec::new(), line, held, width);
        pieces
    }

    /// A joint at its scale, in at most this width.
    pub(super) fn drawn_joint(
        &mut self,
        joint: &JointDrawing,
        width: f32,
        boxes: &[usize],
    ) -> draw::DrawnJoint {
        let scale = self.joint_scale(joint);
        draw::joint(joint, scale, width, boxes, &mut self.characters)
    }

    /// The scale of a joint, which is looked for once.
    fn joint_scale(&mut self, joint: &JointDrawing) -> draw::Scale {
        if let Some((_, scale)) = self.scales.iter().find(|(whole, _)| *whole == joint.whole) {
            return *scale;
        }
        let scale = draw::joint_scale(&joint.whole, &joint.front_name);
        self.scales.push((joint.whole.clone(), scale));
        scale
    }

    fn add_legend(
        &mut self,
        piece: &mut Piece,
        element: ElementId,
        joint: &JointDrawing,
        x: f32,
        width: f32,
    ) {
        let mut legend = draw::joint_legend(&joint.sizes, width, &mut self.characters);
        for item in &mut legend.items {
            item.shift(x, piece.height + 4.0);
        }
        piece.height += 4.0 + legend.height;
        piece.add(Mark::Element(element), legend.items);
    }

    fn caption(&mut self, caption: &Text, x: f32, width: f32) -> Piece {
        let mut piece = self.text_piece(Role::Caption, caption, SMALL, x, width);
        piece.above = 5.0;
        piece
    }
}

/// Takes pieces into another, one below the other from `height` on; how far down they reach.
fn stacked(piece: &mut Piece, mut height: f32, pieces: Vec<Piece>) -> f32 {
    for mut line in pieces {
        height += if height > 0.0 { line.above } else { 0.0 };
        line.shift(0.0, height);
        height += line.height;
        piece.absorb(line);
    }
    height
}

/// The caption with a sentence more, bold: it is looked for at every hole.
fn caption_with(caption: Text, told: &str) -> Text {
    if told.is_empty() {
        return caption;
    }
    let end = if caption.words().trim_end().ends_with('.') { " " } else { ". " };
    caption.and(end).and_bold(told)
}

/// The caption with the view and the scale. One that already names the view is not made to say it twice.
pub(in crate::page) fn joint_caption(mut caption: Text, joint: &JointDrawing, scale: &str) -> Text {
    let said = caption.words().to_lowercase();
    for words in [joint.view.as_str(), scale] {
        if words.is_empty() || said.contains(&words.to_lowercase()) {
            continue;
        }
        // After a sentence comes a sentence.
        let end = caption.words().trim_end().chars().last();
        caption = match (end, words.chars().next()) {
            (None, _) => caption.and(words),
            (Some('.'), Some(_)) => caption.and(format!(" {}.", capital(words))),
            _ => caption.and(format!(" · {words}")),
        };
    }
    caption
}

fn placed(drawn: Drawn, x: f32, element: ElementId) -> Piece {
    let mut piece = Piece::new(0.0, drawn.height);
    piece.add(Mark::Element(element), drawn.items);
    piece.shift(x, 0.0);
    piece
}
