//! Nothing overlaps that shouldn't, and nothing leaves the page, whatever a packet holds.

use super::demo;
use benchleaf::pages::Pages;
use benchleaf::pages::{Area, Group, Item, Mark};
use benchleaf::sheet::*;
use benchleaf::{PageSetup, Paper, lay_out};
use proptest::prelude::*;

/// Side of a tick box in points (5.5 mm).
const TICK_BOX: f32 = 15.6;

/// What is wrong with a layout, in words: overlapping words and boxes, items outside the margins.
pub fn faults(pages: &Pages) -> Vec<String> {
    let mut faults = Vec::new();
    for (index, page) in pages.pages.iter().enumerate() {
        let number = index + 1;
        let (foot, content) = page.groups.split_last().expect("every page has a foot");
        for group in &page.groups {
            for item in &group.items {
                let area = item.bounds();
                let sides = [area.x, area.y, area.width, area.height];
                if sides.iter().any(|side| !side.is_finite()) {
                    faults.push(format!("page {number}: {item:?} is not finite"));
                }
                if area.x < 18.0
                    || area.y < 18.0
                    || area.x + area.width > pages.width - 18.0
                    || area.y + area.height > pages.height - 18.0
                {
                    faults.push(format!("page {number}: {} leaves the page at {area:?}", words(item)));
                }
            }
        }
        let boxes = solid(content);
        for (area, name) in &boxes {
            if area.y + area.height > foot.items[0].bounds().y + 0.1 {
                faults.push(format!("page {number}: {name} stands in the foot"));
            }
        }
        let boxes: Vec<_> = boxes.into_iter().chain(solid(std::slice::from_ref(foot))).collect();
        for (place, (area, name)) in boxes.iter().enumerate() {
            for (other, other_name) in &boxes[place + 1..] {
                if area.overlap(other) > 0.5 {
                    faults.push(format!("page {number}: {name} covers {other_name}"));
                }
            }
        }
    }
    faults
}

/// Words, tick boxes and codes: what must never lie over each other.
fn solid(groups: &[Group]) -> Vec<(Area, String)> {
    groups
        .iter()
        .flat_map(|group| &group.items)
        .filter(|item| match item {
            Item::Text(_) => true,
            Item::Rectangle { area, .. } => {
                (area.width + 1.1 - TICK_BOX).abs() < 0.01 && (area.height + 1.1 - TICK_BOX).abs() < 0.01
            }
            Item::Shape { rings, .. } => rings.len() > 20,
            Item::Line { .. } => false,
        })
        .map(|item| (item.bounds(), words(item)))
        .collect()
}

fn words(item: &Item) -> String {
    match item {
        Item::Text(run) => format!("`{}`", run.text),
        Item::Rectangle { .. } => "a box".into(),
        Item::Shape { .. } => "a shape".into(),
        Item::Line { .. } => "a line".into(),
    }
}

fn no_faults(packet: &Packet) -> Result<(), TestCaseError> {
    for (paper, two_sided) in [(Paper::A4, false), (Paper::Letter, true)] {
        let outcome = lay_out(packet, &PageSetup { paper, two_sided });
        prop_assert!(!outcome.has_errors(), "{:?}", outcome.diagnostics);
        let faults = faults(&outcome.value);
        prop_assert!(faults.is_empty(), "{}", faults.join("\n"));
    }
    Ok(())
}

#[test]
fn the_checks_see_faults() {
    let mut pages = lay_out(&demo::packet(), &PageSetup::default()).value;
    assert_eq!(faults(&pages), Vec::<String>::new());
    let mut moved = pages.pages[0].groups[0].clone();
    moved.items[0].shift(3.0, 2.0);
    pages.pages[0].groups.insert(0, moved);
    assert!(faults(&pages).iter().any(|fault| fault.contains("covers")));
    pages.pages[0].groups[0].items[0].shift(-500.0, 0.0);
    assert!(faults(&pages).iter().any(|fault| fault.contains("leaves the page")));
}

#[test]
fn every_page_carries_its_number_and_the_fingerprint() {
    let pages = lay_out(&demo::packet(), &PageSetup { two_sided: true, ..PageSetup::default() }).value;
    let count = pages.pages.len();
    for (index, page) in pages.pages.iter().enumerate() {
        let foot = page.groups.last().unwrap();
        assert_eq!(foot.mark, Mark::Artefact);
        let words: Vec<String> = foot.items.iter().map(words).collect();
        assert!(words.contains(&format!("`page {} of {count}`", index + 1)), "{words:?}");
        assert!(words.contains(&"`7f3a-91c2`".to_string()), "{words:?}");
    }
}

fn word() -> impl Strategy<Value = String> {
    prop_oneof![
        8 => "[a-zA-Zäöüßéèøåłčñç]{1,12}",
        2 => "[0-9]{1,4}(\\.[0-9]{1,2})? (mm|N·m|°|lbf·ft|×|h)",
        1 => "[A-Z]{2}-[0-9]{3,6}",
        1 => "[α-ωа-я]{1,14}",
        1 => "[a-z]{60,90}",
    ]
}

fn phrase(most: usize) -> impl Strategy<Value = String> {
    proptest::collection::vec(word(), 0..most).prop_map(|words| words.join(" "))
}

fn text(most: usize) -> impl Strategy<Value = Text> {
    proptest::collection::vec((phrase(most), 0..4_u8), 0..3).prop_map(|runs| {
        runs.into_iter().fold(Text::default(), |text, (words, kind)| match kind {
            0 => text.and(words),
            1 => text.and_bold(words),
            2 => text.and_link(words, demo::anchor("step:1")),
            _ => {
                let mut text = text;
                text.0.push(Run { text: words, style: Style::Mono, link: None });
                text
            }
        })
    })
}

fn hazard() -> impl Strategy<Value = HazardBox> {
    let word = prop_oneof![
        Just(SignalWord::Danger),
        Just(SignalWord::Warning),
        Just(SignalWord::Caution),
        Just(SignalWord::Notice)
    ];
    (word, text(12), text(20), text(30), proptest::collection::vec(phrase(3), 0..4)).prop_map(
        |(word, hazard, consequence, avoidance, protective_equipment)| HazardBox {
            word,
            hazard,
            consequence,
            avoidance,
            protective_equipment,
            turned: None,
            told: false,
        },
    )
}

fn table() -> impl Strategy<Value = Table> {
    let cell = prop_oneof![
        4 => text(8).prop_map(Cell::Text),
        1 => Just(Cell::Tick),
        1 => Just(Cell::Ticked),
        1 => phrase(2).prop_map(Cell::Blank),
        1 => phrase(2).prop_map(Cell::Twice),
    ];
    let column = (phrase(3), 0.0..4.0_f64, any::<bool>()).prop_map(|(heading, share, to_the_right)| Column {
        heading,
        share,
        to_the_right,
    });
    (text(5), proptest::collection::vec(column, 0..14), 0..12_usize).prop_flat_map(
        move |(caption, columns, rows)| {
            let width = columns.len();
            proptest::collection::vec(proptest::collection::vec(cell.clone(), width), rows)
                .prop_map(move |rows| Table { caption: caption.clone(), columns: columns.clone(), rows })
        },
    )
}

fn boxes() -> impl Strategy<Value = Boxes> {
    prop_oneof![
        Just(Boxes::None),
        Just(Boxes::One),
        proptest::collection::vec(phrase(2), 0..50).prop_map(Boxes::Grid),
    ]
}

fn joint() -> impl Strategy<Value = Figure> {
    let front = prop_oneof![
        Just(None),
        Just(Some(Toward::Left)),
        Just(Some(Toward::Right)),
        Just(Some(Toward::Up)),
        Just(Some(Toward::Down)),
        Just(Some(Toward::Reader)),
        Just(Some(Toward::Away)),
    ];
    (text(6), 1..9_usize, 1..9_usize, 30.0..120.0_f64, front, phrase(3)).prop_map(
        |(caption, across, down, pitch, front, view)| {
            let holes: Vec<HoleMark> = (0..across * down)
                .map(|index| HoleMark {
                    x: (index % across) as f64 * pitch,
                    y: (index / across) as f64 * pitch,
                    diameter: 10.0,
                    letter: format!("A{index}"),
                    number: (index + 1).to_string(),
                    size: index % 7,
                    note: if index % 5 == 0 { "?".into() } else { String::new() },
                })
                .collect();
            let sizes = vec!["M10".into(), "M8 × 1".into(), "stud".into()];
            let front_name = "front".into();
            Figure {
                caption,
                alternative: "holes".into(),
                drawing: Drawing::Joint(JointDrawing {
                    whole: JointWhole::of(&holes, 1 + holes.len() % 3, front),
                    holes,
                    view,
                    front,
                    front_name,
                    sizes,
                    anchor: None,
                }),
            }
        },
    )
}

fn order() -> impl Strategy<Value = Figure> {
    (proptest::collection::vec((phrase(4), phrase(2), 0..20_usize), 0..60), text(4)).prop_map(
        |(nodes, caption)| {
            let links = (1..nodes.len()).map(|to| (to / 2, to, to % 5)).collect();
            let nodes = nodes
                .into_iter()
                .enumerate()
                .map(|(place, (title, position, layer))| {
                    let step = StepName { number: format!("{place}"), title, position };
                    OrderNode { step, layer, place, anchor: None }
                })
                .collect();
            let kinds = vec!["in the way".into(), "stated".into(), "safer".into()];
            let drawing = Drawing::Order(OrderDrawing { nodes, links, kinds });
            Figure { caption, alternative: "order".into(), drawing }
        },
    )
}

fn way() -> impl Strategy<Value = Figure> {
    let toward = prop_oneof![Just(Toward::Left), Just(Toward::Right)];
    (proptest::collection::vec(phrase(1), 0..20), toward, phrase(12)).prop_map(|(places, toward, words)| {
        Figure {
            caption: Text::default(),
            alternative: "way round".into(),
            drawing: Drawing::Way(WayDrawing { places, toward, front: "front".into(), words }),
        }
    })
}

fn stations() -> impl Strategy<Value = Figure> {
    proptest::collection::vec((phrase(2), 0.0..400.0_f64), 0..5).prop_map(|stations| Figure {
        caption: Text::plain("Where to measure."),
        alternative: "where to measure".into(),
        drawing: Drawing::Stations(StationsDrawing {
            upright: stations.len() % 2 == 0,
            stations: stations.into_iter().map(|(name, at)| StationMark { name, at }).collect(),
        }),
    })
}

fn bars() -> impl Strategy<Value = Figure> {
    let row = (phrase(3), proptest::collection::vec((1.0..200.0_f64, phrase(4)), 0..8));
    proptest::collection::vec(row, 0..6).prop_map(|rows| {
        let mut bars = Vec::new();
        for (index, (_, lengths)) in rows.iter().enumerate() {
            let mut start = 0.0;
            for (length, label) in lengths {
                bars.push((index, start, start + length, label.clone()));
                start += length;
            }
        }
        let rows = rows.into_iter().map(|(name, _)| name).collect();
        Figure {
            caption: Text::default(),
            alternative: "bars".into(),
            drawing: Drawing::Bars(BarDrawing { rows, first: 0.0, bars }),
        }
    })
}

fn figure() -> impl Strategy<Value = Figure> {
    prop_oneof![3 => joint(), 1 => order(), 1 => bars(), 1 => way(), 1 => stations()]
}

fn blank() -> impl Strategy<Value = Blank> {
    (phrase(3), prop_oneof![3 => Just(String::new()), 1 => phrase(2)]).prop_map(|(name, written)| Blank {
        name,
        written,
        ..Blank::default()
    })
}

fn step_line() -> impl Strategy<Value = StepLine> {
    prop_oneof![
        1 => hazard().prop_map(StepLine::Hazard),
        4 => (text(20), boxes()).prop_map(|(text, boxes)| StepLine::Act { text, boxes }),
        1 => (text(12), proptest::collection::vec("goggles|gloves|safety boots|FFP3 mask|apron", 0..6))
            .prop_map(|(text, equipment)| StepLine::PutOn { text, equipment }),
        2 => (text(8), phrase(4), phrase(4), any::<bool>(), boxes()).prop_map(
            |(text, value, condition, held, boxes)| StepLine::Torque { text, value, condition, held, boxes }
        ),
        2 => (text(8), phrase(5), phrase(2), proptest::collection::vec(blank(), 0..9)).prop_map(
            |(text, limit, unit, blanks)| StepLine::Reading { text, limit, unit, blanks }
        ),
        1 => (text(8), phrase(5), table())
            .prop_map(|(text, limit, table)| StepLine::Readings { text, limit, table }),
        1 => figure().prop_map(StepLine::Figure),
        1 => table().prop_map(StepLine::Table),
        1 => (text(6), text(12)).prop_map(|(condition, action)| StepLine::If { condition, action }),
        1 => text(12).prop_map(StepLine::Note),
        1 => text(12).prop_map(StepLine::Hold),
    ]
}

fn step() -> impl Strategy<Value = StepBlock> {
    let facts = proptest::collection::vec(text(3), 0..5);
    let held = prop_oneof![3 => Just(Vec::new()), 1 => proptest::collection::vec(text(9), 1..3)];
    ("[0-9]{0,5}[a-c]?", text(8), facts, text(9), held, proptest::collection::vec(step_line(), 0..8))
        .prop_map(|(number, title, facts, reason, held_by, lines)| StepBlock {
            number,
            title,
            anchor: demo::anchor("step:1"),
            facts,
            also: Vec::new(),
            lies: None,
            tools: Vec::new(),
            reason,
            held_by,
            lines,
        })
}

fn block() -> impl Strategy<Value = Block> {
    prop_oneof![
        12 => single_block(),
        1 => proptest::collection::vec(single_block(), 0..4).prop_map(Block::Together),
    ]
}

fn single_block() -> impl Strategy<Value = Block> {
    prop_oneof![
        1 => (2..4_u8, text(9)).prop_map(|(level, text)| Block::Heading { level, text, anchor: None }),
        2 => text(60).prop_map(Block::Paragraph),
        1 => text(30).prop_map(Block::Notice),
        1 => proptest::collection::vec((phrase(9), 0..9_usize), 0..30).prop_map(|entries| Block::Contents(
            entries.into_iter().map(|(words, sheet)| (words, Anchor::of_sheet(sheet))).collect()
        )),
        1 => (proptest::collection::vec(text(20), 0..9), any::<bool>()).prop_map(|(items, tick)| Block::List { items, tick }),
        1 => proptest::collection::vec((text(4), text(9)), 0..8).prop_map(Block::Facts),
        1 => table().prop_map(Block::Table),
        1 => hazard().prop_map(Block::Hazard),
        4 => step().prop_map(Block::Step),
        1 => figure().prop_map(Block::Figure),
        1 => (text(6), 0..8_usize).prop_map(|(label, count)| Block::Lines { label, count }),
        1 => label().prop_map(Block::Label),
    ]
}

fn label() -> impl Strategy<Value = LabelBlock> {
    (phrase(6), proptest::collection::vec(phrase(6), 0..5), "[0-9]{0,4}", "[a-zA-Z0-9 /]{0,80}").prop_map(
        |(title, lines, number, code_text)| LabelBlock {
            title,
            lines,
            number,
            code_text,
            anchor: None,
            step: Some(demo::anchor("step:1")),
        },
    )
}

pub fn sheet() -> impl Strategy<Value = Sheet> {
    let ordinary = (phrase(9), phrase(12), proptest::collection::vec(block(), 0..8))
        .prop_map(|(title, subtitle, blocks)| Sheet::new(SheetKind::Steps, title, subtitle, blocks));
    let size = (30.0..200.0_f64, 25.0..140.0_f64).prop_map(|(width, height)| LabelSize { width, height });
    let labels = (phrase(4), proptest::collection::vec(label().prop_map(Block::Label), 0..14), size)
        .prop_map(|(title, blocks, size)| Sheet {
            labels: Some(size),
            ..Sheet::new(SheetKind::Tags, title, "", blocks)
        });
    prop_oneof![4 => ordinary, 1 => labels]
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 400, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn nothing_overlaps_in_random_packets(sheets in proptest::collection::vec(sheet(), 0..3), job in phrase(12)) {
        let footer = Footer { procedure: job.clone(), job, fingerprint: "0123-4567".into(), ..Footer::default() };
        no_faults(&Packet { title: "Random".into(), language: "en".into(), footer, sheets, ..Packet::default() })?;
    }
}
