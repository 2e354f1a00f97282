//! Boxes of passes and rounds at the holes of a joint: each beside the mark of its hole, on nothing else, under the number
//! of its line; where there is no room for them they stay with their lines.

use super::breaks::{sheet, step, words};
use super::placing::faults;
use benchleaf::pages::{Area, Pages};
use benchleaf::sheet::*;
use benchleaf::{PageSetup, Paper, lay_out};

/// Holes of the joint: where they are in millimetres, and their places in the order of work.
const HOLES: [(f64, f64, &str, &str); 6] = [
    (0.0, 0.0, "2", "A"),
    (80.0, 0.0, "6", "B"),
    (160.0, 0.0, "4", "C"),
    (0.0, 90.0, "3", "D"),
    (80.0, 90.0, "5", "E"),
    (160.0, 90.0, "1", "F"),
];

/// A step that undoes the joint, drawn at a share of its size, in three rounds.
fn rounds(share: f64) -> Block {
    let hole = |(x, y, number, letter): &(f64, f64, &str, &str)| HoleMark {
        x: x * share,
        y: y * share,
        diameter: 8.0,
        letter: (*letter).into(),
        number: (*number).into(),
        size: 0,
        note: String::new(),
    };
    let holes: Vec<HoleMark> = HOLES.iter().map(hole).collect();
    let drawing = Drawing::Joint(JointDrawing {
        whole: JointWhole::of(&holes, 3, Some(Toward::Left)),
        holes,
        view: "seen from above".into(),
        front: Some(Toward::Left),
        front_name: "front".into(),
        sizes: vec!["6 nuts".into()],
        anchor: None,
    });
    let mut order: Vec<String> =
        HOLES.iter().map(|(_, _, number, letter)| format!("{number} {letter}")).collect();
    order.sort();
    let round = |number: &str| {
        let mut text = Text::plain(format!("Round {number}"));
        text.set_number(format!("7.{number}"));
        StepLine::Act { text, boxes: Boxes::Grid(order.clone()) }
    };
    let figure = Figure { caption: Text::plain("Cover"), alternative: "Six holes.".into(), drawing };
    let undo = StepLine::Act { text: Text::plain("Undo the 6 nuts."), boxes: Boxes::None };
    step(vec![undo, StepLine::Figure(figure), round("1"), round("2"), round("3")])
}

fn field(pages: &Pages, number: &str) -> Area {
    let mut fields = pages.pages.iter().flat_map(|page| &page.fields);
    fields.find(|field| field.number == number).unwrap_or_else(|| panic!("no box {number}")).area
}

/// Where a hole's place in the order of work stands, large in its mark.
fn mark(pages: &Pages, number: &str) -> Area {
    let items = pages.pages[0].groups.iter().flat_map(|group| &group.items);
    let mut found = items.filter(|item| words(item).is_some_and(|words| words.trim_end() == number));
    found.next().unwrap_or_else(|| panic!("no hole {number}")).bounds()
}

#[test]
fn each_hole_has_its_boxes_beside_it_from_the_left() {
    for paper in [Paper::A4, Paper::Letter] {
        let setup = PageSetup { paper, ..PageSetup::default() };
        let packet = Packet { sheets: vec![sheet(vec![rounds(1.0)])], ..Packet::default() };
        let pages = lay_out(&packet, &setup).value;
        assert_eq!(faults(&pages), Vec::<String>::new());
        for (_, _, number, _) in HOLES {
            let mark = mark(&pages, number);
            let boxes = ["7.1", "7.2", "7.3"].map(|line| field(&pages, &format!("{line}.{number}")));
            assert!(
                boxes.windows(2).all(|pair| pair[0].x + pair[0].width < pair[1].x && pair[0].y == pair[1].y)
            );
            // The row stands straight below or above its mark, or straight beside it.
            let (low, high) = (boxes[0].x, boxes[2].x + boxes[2].width);
            let (x, y) = (mark.x + mark.width / 2.0, mark.y + mark.height / 2.0);
            let across = ((low + high) / 2.0 - x).abs();
            let down = (boxes[0].y + boxes[0].height / 2.0 - y).abs();
            assert!(
                across < 4.0 && down < 34.0 || down < 4.0 && across < 50.0,
                "{number}: {mark:?} {boxes:?}"
            );
            // Whoever ticks a hole finds the boxes of no other hole nearer to it.
            for (_, _, other, _) in HOLES.iter().filter(|(_, _, other, _)| *other != number) {
                let theirs = field(&pages, &format!("7.2.{other}"));
                let far = |area: &Area| (area.x + area.width / 2.0 - x).hypot(area.y + area.height / 2.0 - y);
                let (own, far) = (far(&boxes[1]), far(&theirs));
                assert!(far > 1.5 * own, "{number} and {other}: {own} and {far}");
            }
        }
        let items = pages.pages[0].groups.iter().flat_map(|group| &group.items).filter_map(words);
        let all: String = items.collect();
        assert!(all.contains("Boxes, from the left, at each hole: 7.1, 7.2, 7.3."), "{all}");
    }
}

#[test]
fn where_holes_lie_close_the_boxes_stay_with_their_lines() {
    let setup = PageSetup::default();
    // Twenty to one, and there is no larger scale.
    let packet = Packet { sheets: vec![sheet(vec![rounds(0.02)])], ..Packet::default() };
    let pages = lay_out(&packet, &setup).value;
    assert_eq!(faults(&pages), Vec::<String>::new());
    let row: Vec<Area> = (1..=6).map(|place| field(&pages, &format!("7.1.{place}"))).collect();
    assert!(row.iter().all(|area| (area.y - row[0].y).abs() < 0.01), "{row:?}");
    assert!(row.windows(2).all(|pair| pair[0].x < pair[1].x), "{row:?}");
}
