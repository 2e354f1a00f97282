//! What paper asks for at the bench: sizes of type and boxes, margins for holes, and steps that stay whole.

use super::demo;
use benchleaf::pages::Pages;
use benchleaf::pages::{Ink, Item, Position, TextRun};
use benchleaf::sheet::*;
use benchleaf::{Face, PageSetup, Paper, lay_out, points};

fn runs(pages: &Pages) -> impl Iterator<Item = &TextRun> {
    pages.pages.iter().flat_map(|page| &page.groups).flat_map(|group| &group.items).filter_map(|item| {
        match item {
            Item::Text(run) => Some(run),
            _ => None,
        }
    })
}

fn run<'a>(pages: &'a Pages, words: &str) -> &'a TextRun {
    runs(pages).find(|run| run.text.contains(words)).unwrap_or_else(|| panic!("no `{words}`"))
}

#[test]
fn the_work_is_set_in_13_points_and_torques_in_16_bold() {
    for paper in [Paper::A4, Paper::Letter] {
        let pages = lay_out(&demo::packet(), &PageSetup { paper, two_sided: false }).value;
        assert_eq!(run(&pages, "Slacken by a quarter turn").size, 13.0);
        for value in ["40 N·m", "+ 90° ± 5°", "22 N·m"] {
            let torque = run(&pages, value);
            assert!(torque.size >= 16.0 && torque.face == Face::Bold, "{torque:?}");
        }
    }
}

/// Letters and numbers of holes may be smaller where they would touch, and labels where their words need it; all
/// else is read at arm's length.
#[test]
fn nothing_is_set_smaller_than_11_points_but_letters_of_holes_and_labels() {
    let mut packet = demo::packet();
    packet.sheets.retain(|sheet| sheet.labels.is_none());
    let pages = lay_out(&packet, &PageSetup::default()).value;
    for run in runs(&pages).filter(|run| run.text.trim().chars().count() > 2) {
        assert!(run.size >= 11.0, "`{}` is set in {} points", run.text, run.size);
    }
}

#[test]
fn tick_boxes_are_at_least_5_millimetres() {
    let pages = lay_out(&demo::packet(), &PageSetup::default()).value;
    let items = pages.pages.iter().flat_map(|page| &page.groups).flat_map(|group| &group.items);
    let sides: Vec<f32> = items
        .filter_map(|item| match item {
            Item::Rectangle { area, fill: None, stroke: Some(_) }
                if (area.width - area.height).abs() < 0.01 =>
            {
                Some(area.width)
            }
            _ => None,
        })
        .collect();
    assert!(sides.len() > 50, "{} boxes", sides.len());
    assert!(sides.iter().all(|side| *side >= points(5.0)), "{sides:?}");
}

#[test]
fn the_side_of_the_holes_has_the_wider_margin() {
    let least = |pages: &Pages, odd: bool| {
        let pages = pages.pages.iter().enumerate().filter(|(index, _)| (index % 2 == 0) == odd);
        let items = pages.flat_map(|(_, page)| &page.groups).flat_map(|group| &group.items);
        items.map(|item| item.bounds().x).fold(f32::MAX, f32::min)
    };
    for paper in [Paper::A4, Paper::Letter] {
        let one = lay_out(&demo::packet(), &PageSetup { paper, two_sided: false }).value;
        assert!(least(&one, true) >= points(17.0) && least(&one, false) >= points(17.0));
        let two = lay_out(&demo::packet(), &PageSetup { paper, two_sided: true }).value;
        assert!(least(&two, true) >= points(17.0));
        let even = least(&two, false);
        assert!(even >= points(12.0) && even < points(17.0), "{even}");
    }
}

/// A step with a figure and so many things to do.
fn step(acts: usize) -> Packet {
    let mut packet = demo::packet();
    let mut lines = vec![StepLine::Figure(demo::head_joint(Some(Toward::Left)))];
    lines.extend(
        (0..acts)
            .map(|act| StepLine::Act { text: Text::plain(format!("Thing {act} to do.")), boxes: Boxes::One }),
    );
    let block = StepBlock {
        number: "1".into(),
        title: Text::plain("A step with a figure"),
        anchor: demo::anchor("step:1"),
        facts: Vec::new(),
        also: Vec::new(),
        lies: None,
        tools: Vec::new(),
        reason: Text::default(),
        held_by: Vec::new(),
        lines,
    };
    packet.sheets = vec![Sheet::new(SheetKind::Steps, "Sheet", "", vec![Block::Step(block)])];
    packet
}

/// Height of a picture's marks, from the highest to the lowest letter of a hole.
fn spread(pages: &Pages) -> f32 {
    let letter = |run: &&TextRun| run.text.len() == 1 && run.text.chars().all(char::is_alphabetic);
    let holes: Vec<Position> =
        runs(pages).filter(|run| letter(run) && run.face == Face::Bold).map(|run| run.at).collect();
    let low = holes.iter().map(|at| at.y).fold(f32::MAX, f32::min);
    holes.iter().map(|at| at.y).fold(f32::MIN, f32::max) - low
}

#[test]
fn a_joint_is_as_large_wherever_it_stands() {
    let shown = |acts: usize, paper: Paper| {
        spread(&lay_out(&step(acts), &PageSetup { paper, ..PageSetup::default() }).value)
    };
    let alone = shown(3, Paper::A4);
    assert!(alone > 60.0, "{alone}");
    // Up to a step that fills its page, and beyond.
    for acts in 4..40 {
        for paper in [Paper::A4, Paper::Letter] {
            let here = shown(acts, paper);
            assert!((here - alone).abs() < 4.0, "{acts} acts on {paper:?}: {here} instead of {alone}");
        }
    }
}

#[test]
fn an_overview_of_sixty_steps_is_one_page() {
    let nodes = (0..60)
        .map(|index| OrderNode {
            step: StepName {
                number: format!("{}", index + 1),
                title: format!("Take off what is held by number {}", index + 1),
                position: String::new(),
            },
            layer: index / 4,
            place: index % 4,
            anchor: None,
        })
        .collect();
    let links = (4..60).flat_map(|to| [(to - 4, to, to % 4), (to - to % 4 - 1, to, 0)]).collect();
    let drawing = OrderDrawing {
        nodes,
        links,
        kinds: ["a fact", "a condition", "joint rule", "the author says so"].map(str::to_owned).to_vec(),
    };
    let mut packet = demo::packet();
    let figure = Figure {
        caption: Text::plain("A step stands below everything that must come before it."),
        alternative: "Sixty steps.".into(),
        drawing: Drawing::Order(drawing),
    };
    packet.sheets = vec![Sheet::new(
        SheetKind::Overview,
        "Overview of the order",
        "Strip: what must come before what",
        vec![Block::Figure(figure)],
    )];
    for paper in [Paper::A4, Paper::Letter] {
        let pages = lay_out(&packet, &PageSetup { paper, two_sided: false }).value;
        assert_eq!(pages.pages.len(), 1);
        assert!(runs(&pages).all(|run| run.size >= 11.0));
        assert_eq!(super::placing::faults(&pages), Vec::<String>::new());
    }
}

/// Ink is black or the white of the paper, so that no printer can lose it; white words stand on a black ground.
#[test]
fn white_ink_stands_on_black() {
    let pages = lay_out(&demo::packet(), &PageSetup::default()).value;
    let mut white = 0;
    for page in &pages.pages {
        let items: Vec<&Item> = page.groups.iter().flat_map(|group| &group.items).collect();
        for (place, item) in items.iter().enumerate() {
            let Item::Text(run) = item else { continue };
            if run.ink == Ink::Black {
                continue;
            }
            white += 1;
            let words = item.bounds();
            let ground = items[..place].iter().any(|below| {
                let area = below.bounds();
                let black = matches!(
                    below,
                    Item::Rectangle { fill: Some(Ink::Black), .. }
                        | Item::Shape { fill: Some(Ink::Black), .. }
                );
                black && area.overlap(&words) > words.width * words.height - 0.1
            });
            assert!(ground, "`{}` is white on white", run.text);
        }
    }
    assert!(white > 0, "the demonstration has a plate with white words");
}

#[test]
fn labels_have_marks_at_their_corners_and_other_sheets_have_none() {
    let marks = |packet: &Packet| {
        let pages = lay_out(packet, &PageSetup::default()).value;
        let mut marks = Vec::new();
        for item in pages.pages.iter().flat_map(|page| &page.groups).flat_map(|group| &group.items) {
            if let Item::Line { from, to, .. } = item {
                let length = (to.x - from.x).abs() + (to.y - from.y).abs();
                if (length - 6.0).abs() < 0.01 {
                    marks.push(*from);
                }
            }
        }
        marks
    };
    let mut packet = demo::packet();
    packet.sheets.retain(|sheet| sheet.labels.is_some());
    let labels = packet.sheets[0].blocks.len();
    let size = packet.sheets[0].labels.unwrap();
    let corners = marks(&packet);
    assert_eq!(corners.len(), labels * 8, "two marks at each corner of each label");
    // Opposite corners of a label lie a label's width and height apart.
    let (width, height) = (points(size.width as f32), points(size.height as f32));
    for at in &corners {
        let there = |dx: f32, dy: f32| {
            corners
                .iter()
                .any(|other| (other.x - at.x - dx).abs() < 0.01 && (other.y - at.y - dy).abs() < 0.01)
        };
        assert!(there(width, 0.0) || there(-width, 0.0), "{at:?}");
        assert!(there(0.0, height) || there(0.0, -height), "{at:?}");
    }
    let mut packet = demo::packet();
    packet.sheets.retain(|sheet| sheet.labels.is_none());
    assert_eq!(marks(&packet), Vec::new());
}

#[test]
fn a_sheet_printed_alone_is_as_in_the_packet() {
    let words = |pages: &Pages, from: usize, to: usize| -> Vec<String> {
        let pages = pages.pages[from..to].iter();
        let groups = pages.flat_map(|page| &page.groups[..page.groups.len() - 1]);
        let runs = groups.flat_map(|group| &group.items).filter_map(|item| match item {
            Item::Text(run) => Some(format!("{:.1} {:.1} {}", run.at.x, run.at.y, run.text)),
            _ => None,
        });
        runs.collect()
    };
    let packet = demo::packet();
    let whole = lay_out(&packet, &PageSetup::default()).value;
    let starts: Vec<usize> =
        whole.bookmarks.iter().filter(|mark| mark.level == 1).map(|mark| mark.place.page).collect();
    assert_eq!(starts.len(), packet.sheets.len());
    for (index, sheet) in packet.sheets.iter().enumerate() {
        let start = starts[index];
        let end = starts.get(index + 1).copied().unwrap_or(whole.pages.len());
        assert!(end > start, "`{}` starts on a page of its own", sheet.kind);
        let alone = Packet { sheets: vec![sheet.clone()], ..packet.clone() };
        let alone = lay_out(&alone, &PageSetup::default()).value;
        assert_eq!(words(&alone, 0, alone.pages.len()), words(&whole, start, end), "{}", sheet.kind);
    }
}
