//! What stands together: blocks that are kept on one page, and a joint beside the torques that it shows the order of.

use std::collections::BTreeSet;

use super::breaks::{named, sheet, step, words};
use benchleaf::pages::Area;
use benchleaf::pages::Pages;
use benchleaf::sheet::*;
use benchleaf::{PageSetup, lay_out};

/// The pages on which words stand.
fn pages_with(pages: &Pages, wanted: &str) -> BTreeSet<usize> {
    let on = |index: usize| pages.pages[index].groups.iter().flat_map(|group| &group.items).filter_map(words);
    (0..pages.pages.len()).filter(|index| on(*index).any(|words| words == wanted)).collect()
}

#[test]
fn blocks_that_belong_together_come_on_one_page() {
    let lines = |word: &str, count: usize| -> Vec<Text> {
        (0..count).map(|n| Text::plain(format!("{word} {n}"))).collect()
    };
    for before in 1..40 {
        let heading = Block::Heading { level: 2, text: Text::plain("Kept"), anchor: None };
        let kept = Block::List { items: lines("kept", 12), tick: true };
        let list = Block::List { items: lines("before", before), tick: false };
        let together = Block::Together(vec![heading, kept]);
        let packet = Packet { sheets: vec![sheet(vec![list, together])], ..Packet::default() };
        let pages = lay_out(&packet, &PageSetup::default()).value;
        let on = pages_with(&pages, "Kept");
        assert_eq!(on.len(), 1, "{before} items before");
        for item in 0..12 {
            assert_eq!(pages_with(&pages, &format!("kept {item}")), on, "{before} items before");
        }
    }
    // Longer than a page, it goes on under its heading.
    let heading = Block::Heading { level: 2, text: Text::plain("Kept"), anchor: None };
    let kept = Block::List { items: lines("kept", 60), tick: true };
    let blocks = vec![Block::Together(vec![heading, kept])];
    let pages =
        lay_out(&Packet { sheets: vec![sheet(blocks)], ..Packet::default() }, &PageSetup::default()).value;
    assert_eq!(pages.pages.len(), 2);
    assert_eq!(pages_with(&pages, "Kept").len(), 2);
    assert_eq!(pages_with(&pages, "continued"), BTreeSet::from([1]));
}

/// A step of a joint of two holes, `apart` millimetres from each other, and its torques.
fn cap_step(apart: f64) -> Block {
    let hole = |number: &str, letter: &str, y: f64| HoleMark {
        x: 0.0,
        y,
        diameter: 10.0,
        letter: letter.into(),
        number: number.into(),
        size: 0,
        note: String::new(),
    };
    let holes = vec![hole("1", "A", 0.0), hole("2", "B", apart)];
    let joint = JointDrawing {
        whole: JointWhole::of(&holes, 2, Some(Toward::Left)),
        holes,
        view: "seen from below".into(),
        front: Some(Toward::Left),
        front_name: "front".into(),
        sizes: vec!["2 cap bolts: M10×1.25, 17 mm across flats".into()],
        anchor: None,
    };
    let figure = Figure {
        caption: Text::plain("Cap"),
        alternative: "Two holes.".into(),
        drawing: Drawing::Joint(joint),
    };
    let torque = |value: &str| StepLine::Torque {
        text: Text::plain("2 cap bolts"),
        value: value.into(),
        condition: "threads and faces oiled".into(),
        held: false,
        boxes: Boxes::Grid(vec!["1 A".into(), "2 B".into()]),
    };
    let start = StepLine::Act { text: Text::plain("Start the 2 cap bolts."), boxes: Boxes::One };
    step(vec![start, StepLine::Figure(figure), torque("20 N·m"), torque("40 N·m")])
}

#[test]
fn a_narrow_joint_stands_beside_its_torques() {
    let packet = named(vec![sheet(vec![cap_step(90.0)])]);
    let pages = lay_out(&packet, &PageSetup::default()).value;
    let place = |wanted: &str| -> Area {
        let items = pages.pages[0].groups.iter().flat_map(|group| &group.items);
        let mut found = items.filter(|item| {
            words(item).is_some_and(|words| {
                words.trim_end() == wanted || (wanted.ends_with('\u{a0}') && words.starts_with(wanted))
            })
        });
        found.next().unwrap_or_else(|| panic!("{wanted} stands somewhere")).bounds()
    };
    let (first, second) = (place("20 N·m"), place("40 N·m"));
    let (low, high) = (place("A"), place("B"));
    assert!(low.x > first.x + first.width + 20.0, "the marks stand to the right of the torques");
    assert!(high.y < second.y + second.height && low.y + low.height > first.y, "and at their height");
    let caption = place("Cap · seen from below · scale 1\u{a0}:\u{a0}");
    assert!(caption.y > low.y, "the caption stands below the joint");
}
