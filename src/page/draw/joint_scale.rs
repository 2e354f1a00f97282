//! The scale of a joint: chosen once from all that any sheet may show at its holes, so that the joint has one scale in every
//! packet and on either paper. It must not know on which sheet the joint stands, nor what is drawn there now.

use super::joint::{Extent, MARGIN, RADIUS, at_scale, placed_holes};
use super::scales::{Scale, scales};
use crate::page::setup::{PageSetup, Paper};
use crate::page::words::Characters;
use crate::sheet::{HoleMark, JointDrawing, JointWhole, Toward};

/// Share of the page's height that holes with room between them may take.
const MODEST: f32 = 0.13;
/// Share of the page's height that holes may take which lie close.
const TALLEST: f32 = 0.4;
/// Share of the width that a joint may take which stands beside its torques.
pub(in crate::page) const BESIDE: f32 = 0.42;
/// Share of their usual size to which marks may shrink with the joint.
const READABLE: f32 = 0.8;

/// Width and height that the content has on every paper.
fn room() -> (f32, f32) {
    let setups = [Paper::A4, Paper::Letter].map(|paper| PageSetup { paper, two_sided: false });
    let least = |size: fn(&PageSetup) -> f32| setups.iter().map(size).fold(f32::INFINITY, f32::min);
    (least(PageSetup::content_width), least(PageSetup::content_height))
}

/// The scale of a joint: as large as leaves the step a good part of the page, beside its torques if it can be read there, and
/// larger only where letters or boxes find no room of their own otherwise.
pub(in crate::page) fn scale(whole: &JointWhole, front_name: &str) -> Scale {
    let (width, height) = room();
    let Some(Extent { wide, tall, .. }) = Extent::of(&placed_holes(&whole.holes)) else {
        return Scale::odd(1.0);
    };
    let most = ((width - 2.0 * MARGIN) / wide.max(1.0)).min(height * TALLEST / tall.max(1.0));
    let smallest = Scale::odd(most);
    let fitting: Vec<Scale> = scales().filter(|scale| scale.paper() <= most).collect();
    let modest = |scale: &&Scale| tall * scale.paper() <= height * MODEST;
    let views = [joint(whole, front_name, false), joint(whole, front_name, true)];
    let boxed = whole.boxes.iter().any(|count| *count > 0);
    // Where boxes find no room at any scale they stay with their lines.
    for boxes in if boxed { vec![whole.boxes.as_slice(), &[]] } else { vec![&[][..]] } {
        let legible = |scale: &&Scale, width: f32| {
            let shown = |joint: &JointDrawing, boxes: &[usize]| {
                let made = at_scale(joint, **scale, width, boxes, &mut Characters::default());
                let has_boxes = boxes.is_empty() || !made.boxes.is_empty();
                has_boxes && !made.crowded && made.radius >= RADIUS * READABLE && made.drawn.width <= width
            };
            // Turned, its boxes may stand with their lines; its letters may not touch.
            shown(&views[0], boxes) && shown(&views[1], &[])
        };
        let beside = fitting.iter().filter(modest).find(|scale| legible(scale, width * BESIDE));
        let alone = || fitting.iter().filter(modest).find(|scale| legible(scale, width));
        let larger = || fitting.iter().rev().find(|scale| legible(scale, width));
        if let Some(found) = beside.or_else(alone).or_else(larger) {
            return *found;
        }
    }
    fitting.first().copied().unwrap_or(smallest)
}

/// The joint with the most that may stand at its holes, as declared or turned a quarter.
fn joint(whole: &JointWhole, front_name: &str, turned: bool) -> JointDrawing {
    let holes = whole.holes.iter().map(|hole| match turned {
        true => HoleMark { x: -hole.y, y: hole.x, ..hole.clone() },
        false => hole.clone(),
    });
    let front = whole.front.map(|front| match front {
        Toward::Right if turned => Toward::Up,
        Toward::Up if turned => Toward::Left,
        Toward::Left if turned => Toward::Down,
        Toward::Down if turned => Toward::Right,
        front => front,
    });
    JointDrawing {
        holes: holes.collect(),
        view: String::new(),
        front,
        front_name: front_name.to_owned(),
        sizes: Vec::new(),
        anchor: None,
        whole: JointWhole::default(),
    }
}
