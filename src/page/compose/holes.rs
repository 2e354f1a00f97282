//! Boxes at the holes of a joint: which lines of work are ticked there, and what the caption says of them.

use super::boxes::number_beside;
use super::{Composer, LEFT, NUMBERS, PITCH, SMALL, WORK};
use crate::page::draw::{self, DrawnJoint, TICK_BOX};
use crate::page::fonts::{self, Face};
use crate::page::pages::{Area, Filling, Mark, Role};
use crate::page::pieces::Piece;
use crate::sheet::{Boxes, Drawing, Figure, JointDrawing, StepLine};

/// Lines whose boxes stand at the holes of a joint.
pub(super) struct AtHoles {
    /// Their numbers, in their order; empty for none.
    numbers: Vec<String>,
    /// For each hole the lines that have a box there, each with the place of the hole in its order of work.
    holes: Vec<Vec<(usize, usize)>>,
}

/// Whether a line has a box for each of several things, all of which can be ticked now.
fn ticked(line: &StepLine) -> Option<(&[String], &str)> {
    match line {
        StepLine::Act { text, boxes: Boxes::Grid(names) }
        | StepLine::Torque { text, boxes: Boxes::Grid(names), held: false, .. } => {
            Some((names, text.number().unwrap_or_default()))
        }
        _ => None,
    }
}

/// Whether a line is ticked at the holes of a joint: it has a number, and no box of its own.
pub(super) fn ticked_at_holes(line: &StepLine) -> bool {
    matches!(line, StepLine::Act { text, boxes: Boxes::None } if text.number().is_some())
}

impl AtHoles {
    /// Of these lines those with a box for each hole; none where one of them has boxes for something else.
    pub(super) fn of<'s>(
        joint: &JointDrawing,
        lines: impl IntoIterator<Item = &'s StepLine>,
    ) -> Option<AtHoles> {
        let named: Vec<String> =
            joint.holes.iter().map(|hole| format!("{} {}", hole.number, hole.letter)).collect();
        let mut found = AtHoles { numbers: Vec::new(), holes: vec![Vec::new(); joint.holes.len()] };
        for (names, number) in lines.into_iter().filter_map(ticked) {
            let line = found.numbers.len();
            for (place, name) in names.iter().enumerate() {
                let mut same = named.iter().enumerate().filter(|(_, known)| *known == name);
                let (Some((hole, _)), None) = (same.next(), same.next()) else { return None };
                found.holes[hole].push((line, place));
            }
            found.numbers.push(number.to_owned());
        }
        (!found.numbers.is_empty()).then_some(found)
    }

    /// How many boxes stand at each hole.
    pub(super) fn counts(&self) -> Vec<usize> {
        self.holes.iter().map(Vec::len).collect()
    }

    /// Which box is for which line: `Boxes at each hole, from the left: 8.3, 8.4.`
    fn told(&self, joint: &JointDrawing) -> String {
        /// Holes that share their lines: these, and each hole's number with its place in the order of work.
        type Kind = (Vec<usize>, Vec<(usize, usize)>);
        let mut kinds: Vec<Kind> = Vec::new();
        for (hole, boxes) in joint.holes.iter().zip(&self.holes) {
            let lines: Vec<usize> = boxes.iter().map(|(line, _)| *line).collect();
            let Ok(number) = hole.number.parse::<usize>() else { continue };
            let place = boxes.first().map_or(0, |(_, place)| *place);
            match kinds.iter_mut().find(|(known, _)| *known == lines) {
                Some((_, holes)) => holes.push((number, place)),
                None if lines.is_empty() => {}
                None => kinds.push((lines, vec![(number, place)])),
            }
        }
        for (_, holes) in &mut kinds {
            holes.sort_unstable();
        }
        kinds.sort_by_key(|(lines, _)| lines.first().copied());
        let all = kinds.len() == 1 && self.holes.iter().all(|boxes| !boxes.is_empty());
        let several = self.holes.iter().any(|boxes| boxes.len() > 1);
        let told = kinds.iter().map(|(lines, holes)| {
            let numbers: Vec<&str> = lines.iter().map(|line| self.numbers[*line].as_str()).collect();
            let (first, place) = holes[0];
            let run = holes.windows(2).all(|pair| pair[0].0 + 1 == pair[1].0);
            let which = match holes.as_slice() {
                _ if all => "each hole".to_owned(),
                [(one, _)] => one.to_string(),
                [(one, _), .., (last, _)] if run => format!("{one} to {last}"),
                several => {
                    several.iter().map(|(number, _)| number.to_string()).collect::<Vec<_>>().join(", ")
                }
            };
            // Boxes are counted in the order of work, which a size of its own begins anew.
            let begins = if place + 1 == first {
                String::new()
            } else {
                format!(" ({first} is {}.{})", numbers[0], place + 1)
            };
            format!("{which}: {}{begins}", numbers.join(", "))
        });
        let word = if several { "Boxes, from the left, at" } else { "Box at" };
        format!("{word} {}.", told.collect::<Vec<_>>().join("; at "))
    }
}

impl Composer<'_> {
    /// Lines whose boxes stand in a joint's figure are left without them: those that follow it, and the act before it that
    /// it shows. Where boxes have no room at the holes they stay with their lines.
    pub(super) fn boxes_to_holes(&mut self, lines: &mut [StepLine], width: f32) -> Vec<Option<AtHoles>> {
        let mut found: Vec<Option<AtHoles>> = Vec::new();
        found.resize_with(lines.len(), || None);
        for at in 0..lines.len() {
            let StepLine::Figure(Figure { drawing: Drawing::Joint(joint), .. }) = &lines[at] else {
                continue;
            };
            let note = |line: &StepLine| matches!(line, StepLine::Note(_));
            let worked = |line: &StepLine| ticked(line).is_some() || matches!(line, StepLine::Torque { .. });
            let before = lines[..at].iter().rposition(|line| !note(line));
            let before = before
                .filter(|before| matches!(&lines[*before], StepLine::Act { boxes: Boxes::Grid(_), .. }));
            let behind = lines[at + 1..].iter().take_while(|line| note(line) || worked(line)).count();
            let of =
                |lines: &[StepLine], run: &[usize]| AtHoles::of(joint, run.iter().map(|line| &lines[*line]));
            // An act above that has boxes for something else keeps them.
            let before = before.filter(|before| of(lines, &[*before]).is_some());
            let mut run: Vec<usize> = before.into_iter().chain(at + 1..=at + behind).collect();
            run.retain(|line| ticked(&lines[*line]).is_some());
            let Some(holes) = of(lines, &run) else { continue };
            let joint = joint.clone();
            if self.drawn_joint(&joint, width + LEFT, &holes.counts()).boxes.is_empty() {
                continue;
            }
            for line in run {
                if let StepLine::Act { boxes, .. } | StepLine::Torque { boxes, .. } = &mut lines[line] {
                    *boxes = Boxes::None;
                }
            }
            found[at] = Some(holes);
        }
        found
    }

    /// Puts the boxes of lines into a drawn joint, its left edge at `x`; what the caption says of them.
    pub(super) fn hole_boxes(
        &mut self,
        piece: &mut Piece,
        (joint, drawn): (&JointDrawing, &DrawnJoint),
        holes: &AtHoles,
        x: f32,
    ) -> String {
        for (line, number) in holes.numbers.iter().enumerate() {
            let element = self.element(Role::Paragraph);
            let mut of_line: Vec<(usize, Area)> = Vec::new();
            for (boxes, areas) in holes.holes.iter().zip(&drawn.boxes) {
                let here = boxes.iter().zip(areas).filter(|((of, _), _)| *of == line);
                of_line.extend(here.map(|((_, place), area)| (*place, area.moved(x, 0.0))));
            }
            // In the order of work, as a reader is told them.
            of_line.sort_by_key(|(place, _)| *place);
            let count = of_line.len();
            for (place, area) in of_line {
                piece.add(Mark::Element(element), vec![draw::tick_box(area.x, area.y)]);
                let number = match number.as_str() {
                    "" => String::new(),
                    number if count == 1 => number.to_owned(),
                    number => format!("{number}.{}", place + 1),
                };
                let area = Area::new(area.x, area.y, TICK_BOX, TICK_BOX);
                self.field(piece, element, &number, area, Filling::Tick);
            }
        }
        if holes.numbers.iter().any(String::is_empty) { String::new() } else { holes.told(joint) }
    }

    /// Acts beside each other, each behind its number; none where they need more than a line.
    pub(super) fn in_one_line(&mut self, lines: &[StepLine], width: f32) -> Option<Piece> {
        const APART: f32 = 14.0;
        let mut piece = Piece::new(PITCH, WORK.leading);
        let elements = self.elements.len();
        let mut x = LEFT;
        for line in lines {
            let StepLine::Act { text, .. } = line else { return None };
            let number = text.number().unwrap_or_default();
            let setting = self.set(&text.unnumbered(), WORK, width);
            let element = self.element(Role::Paragraph);
            let mut act = Piece::new(0.0, WORK.leading);
            self.put(&mut act, element, &setting, &setting.lines, 0.0, 0.0);
            if x > LEFT {
                x += fonts::width(Face::Regular, SMALL.size, number) + 4.0;
            }
            number_beside(
                &mut act,
                number,
                if x > LEFT { -4.0 } else { NUMBERS - TICK_BOX - 3.0 - LEFT },
                WORK.baseline(),
            );
            act.shift(x, 0.0);
            piece.absorb(act);
            x += setting.width() + APART;
            if setting.lines.len() > 1 || x - APART > LEFT + width {
                self.elements.truncate(elements);
                return None;
            }
        }
        Some(piece)
    }
}
