//! A packet that uses every kind of block. The engine, its makers, its people and all numbers are invented.

use benchleaf::sheet::*;

pub fn anchor(name: &str) -> Anchor {
    Anchor(name.to_string())
}

fn plain(words: &str) -> Text {
    Text::plain(words)
}

fn heading(level: u8, words: &str) -> Block {
    Block::Heading { level, text: plain(words), anchor: None }
}

fn column(heading: &str, share: f64, to_the_right: bool) -> Column {
    Column { heading: heading.into(), share, to_the_right }
}

fn cell(words: &str) -> Cell {
    Cell::Text(plain(words))
}

fn mono(words: &str) -> Cell {
    Cell::Text(Text(vec![Run { text: words.into(), style: Style::Mono, link: None }]))
}

pub fn hazard(word: SignalWord) -> HazardBox {
    HazardBox {
        word,
        hazard: plain("Head weighs 68 kg and hangs by one eye."),
        consequence: plain("It swings when the last stud is clear, and crushes hands against the block."),
        avoidance: plain(
            "Lift at both eyes with a spreader. Guide it with a rope from the side, never from below.",
        ),
        protective_equipment: vec!["gloves".into(), "safety boots".into()],
        turned: None,
        told: false,
    }
}

pub fn head_holes() -> Vec<HoleMark> {
    let mut holes = Vec::new();
    let order = [9, 5, 1, 3, 7, 10, 6, 2, 4, 8];
    for row in 0..2 {
        for column in 0..5 {
            let index = row * 5 + column;
            holes.push(HoleMark {
                x: column as f64 * 92.0,
                y: row as f64 * 118.0,
                diameter: 12.0,
                letter: char::from(b'A' + index as u8).to_string(),
                number: order[index].to_string(),
                size: 0,
                note: String::new(),
            });
        }
    }
    for (index, x) in [46.0, 184.0, 322.0].into_iter().enumerate() {
        holes.push(HoleMark {
            x,
            y: 146.0,
            diameter: 8.0,
            letter: char::from(b'K' + index as u8).to_string(),
            number: (11 + index).to_string(),
            size: 1,
            note: "?".into(),
        });
    }
    holes
}

pub fn head_joint(front: Option<Toward>) -> Figure {
    Figure {
        caption: plain("Head nuts, order of release"),
        alternative: "Thirteen holes of the head in three rows; release begins at C, H, D, I.".into(),
        drawing: Drawing::Joint(JointDrawing {
            holes: head_holes(),
            view: "seen from above".into(),
            front,
            front_name: "front".into(),
            sizes: vec!["stud nut M12 × 1.5".into(), "bolt M8, length not known".into()],
            anchor: None,
            whole: JointWhole::of(&head_holes(), 2, front),
        }),
    }
}

fn step(number: &str, title: &str, lines: Vec<StepLine>) -> StepBlock {
    StepBlock {
        number: number.into(),
        title: plain(title),
        anchor: anchor(&format!("step:{number}")),
        facts: vec![plain("engine upright"), plain("0.4 h")],
        also: Vec::new(),
        lies: None,
        tools: vec![plain("13 mm ring spanner")],
        reason: plain("The rocker cover must be off first (line 41)."),
        held_by: vec![],
        lines,
    }
}

fn act(words: &str, boxes: Boxes) -> StepLine {
    StepLine::Act { text: plain(words), boxes }
}

fn strip() -> Sheet {
    let mut lift = step(
        "13",
        "Lift the cylinder head off its studs",
        vec![
            StepLine::Hazard(hazard(SignalWord::Warning)),
            act("Hang the spreader on both lifting eyes and take the weight, no more.", Boxes::One),
            act("Break the gasket loose at the pry lugs, left and right in turn.", Boxes::One),
            act("Lift straight up until it clears the studs, 140 mm, and set it down on timber.", Boxes::One),
            StepLine::If {
                condition: plain("it will not come off"),
                action: plain(
                    "screw a nut onto each stud again by two turns and strike the lugs with a soft hammer.",
                ),
            },
            StepLine::Note(plain("Keep the old gasket: it shows where water went.")),
        ],
    );
    lift.facts =
        vec![plain("hoist with spreader"), plain("two people"), plain("engine upright"), plain("0.6 h")];
    lift.lines.push(StepLine::Hold(plain("Head down on timber, nothing left on the deck")));
    let mut nuts = step(
        "12",
        "Undo the cylinder head nuts and bolts",
        vec![
            StepLine::Figure(head_joint(Some(Toward::Left))),
            act(
                "Slacken by a quarter turn in the order of the figure.",
                Boxes::Grid((1..=13).map(|n| n.to_string()).collect()),
            ),
            act(
                "Go round again and take all nuts and washers off. Thread them on a wire in the order of the letters.",
                Boxes::One,
            ),
            act(
                "Measure the bolts K, L, M below the head and write the lengths on the fastener map.",
                Boxes::One,
            ),
        ],
    );
    nuts.reason = Text::plain("Now, because ")
        .and_link("the rocker shaft", anchor("step:11"))
        .and(" must be off first (line 41).");
    let mut held = step(
        "14",
        "Draw the pulley off the crankshaft nose",
        vec![
            StepLine::Hazard(hazard(SignalWord::Danger)),
            act("Fit the puller with two M8 screws, at least 16 mm deep.", Boxes::One),
            act("Turn the spindle in by hand until it sits in the centre of the shaft.", Boxes::One),
            StepLine::Torque {
                text: plain("Pulley screw"),
                value: "the maker's figure for this stage".into(),
                condition: "dry".into(),
                held: true,
                boxes: Boxes::One,
            },
        ],
    );
    held.held_by = vec![
        plain("question 3: is the pulley keyed or pressed on?"),
        plain("the puller, which this shop does not have."),
    ];
    let pistons = step(
        "15",
        "Measure and push out the pistons",
        vec![
            StepLine::Hazard(hazard(SignalWord::Caution)),
            StepLine::Hazard(HazardBox {
                protective_equipment: vec![],
                turned: None,
                told: false,
                hazard: plain("Rod caps belong to one rod and go one way round."),
                consequence: plain("Swapped, they ruin the bearing within minutes."),
                avoidance: plain(
                    "Stamp rod and cap on the same side with the cylinder's number before undoing them.",
                ),
                word: SignalWord::Notice,
            }),
            StepLine::Reading {
                text: plain("Ridge at the top of the bore, across the crankshaft"),
                limit: "below 0.10 mm; above 0.25 mm ream first".into(),
                unit: "mm".into(),
                blanks: vec![Blank::open("cyl. 1"), Blank::open("cyl. 2"), Blank::open("cyl. 3")],
            },
            StepLine::Reading {
                text: plain("End play of the crankshaft"),
                limit: "0.08–0.22 mm, worn 0.30 mm".into(),
                unit: "mm".into(),
                blanks: vec![Blank::default()],
            },
            StepLine::Table(Table {
                caption: plain("Tick as each is done"),
                columns: vec![
                    column("Place", 1.0, false),
                    column("Cap marked", 1.0, false),
                    column("Pushed out", 1.0, false),
                    column("Rings kept", 1.0, false),
                    column("Big-end wear", 1.6, false),
                ],
                rows: (1..=3)
                    .map(|n| {
                        vec![
                            cell(&format!("cylinder {n}")),
                            Cell::Tick,
                            Cell::Tick,
                            Cell::Tick,
                            Cell::Blank("mm".into()),
                        ]
                    })
                    .collect(),
            }),
        ],
    );
    let tighten = step(
        "16",
        "Tighten the head nuts",
        vec![
            StepLine::Torque {
                text: plain("Head nuts, pass 1 of 3, in the order of the figure"),
                value: "40 N·m (30 lbf·ft)".into(),
                condition: "threads and faces oiled".into(),
                held: false,
                boxes: Boxes::Grid((1..=10).map(|n| n.to_string()).collect()),
            },
            StepLine::Torque {
                text: plain("Head nuts, pass 3 of 3"),
                value: "+ 90° ± 5°".into(),
                condition: "oiled".into(),
                held: false,
                boxes: Boxes::Grid((1..=10).map(|n| n.to_string()).collect()),
            },
            StepLine::Torque {
                text: plain("Water outlet, two bolts"),
                value: "22 N·m (16 lbf·ft)".into(),
                condition: "dry".into(),
                held: false,
                boxes: Boxes::One,
            },
        ],
    );
    let rocker = step(
        "11",
        "Take off the rocker shaft",
        vec![
            act(
                "Slacken the pedestal nuts half a turn at a time, from the outside in.",
                Boxes::Grid(vec!["1".into(), "2".into(), "3".into(), "4".into()]),
            ),
            act(
                "Lift the shaft off and tie it up as it is: the rockers are worn in on their places.",
                Boxes::One,
            ),
        ],
    );
    Sheet::new(
        SheetKind::Steps,
        "Strip sheets",
        "Top end, in the order of work. Tick each box as it is done.",
        vec![
            heading(2, "Top end"),
            Block::Paragraph(plain(
                "Wear gloves from here on, until the end of the valve gear: old oil is on everything.",
            )),
            Block::Step(rocker),
            Block::Step(nuts),
            Block::Step(lift),
            Block::Step(held),
            heading(2, "Bottom end"),
            Block::Step(pistons),
            Block::Step(tighten),
        ],
    )
}

fn front() -> Sheet {
    Sheet::new(
        SheetKind::Front,
        "Strip packet: Brackwater 3",
        "Three-cylinder marine diesel, invented for this example",
        vec![
            Block::Facts(vec![
                (plain("Job"), plain("0117, motor launch Wren")),
                (plain("Engine no."), Text(vec![Run { text: "BW3-00417".into(), style: Style::Mono, link: None }])),
                (plain("Procedure"), plain("Brackwater 3, edition 2")),
                (plain("Answers"), plain("raw-water cooled; hand start removed")),
                (plain("Hours of work"), plain("about 11 h (estimate)")),
            ]),
            Block::Notice(
                Text::bold("The maker's data comes first. ")
                    .and("So do local codes and licensed practice. This packet puts the work in order; it doesn't make anyone fit to do it."),
            ),
            heading(2, "What holds the work"),
            Block::List {
                items: vec![
                    Text::plain("Step 14 waits for question 3: is the pulley keyed or pressed on? ").and_link("See step 14.", anchor("step:14")),
                    plain("Bolts K, L, M: length not known. Measure at step 12."),
                ],
                tick: false,
            },
            heading(2, "Hazards"),
            Block::Hazard(hazard(SignalWord::Danger)),
            heading(3, "Before you begin"),
            Block::List {
                items: vec![
                    plain("Battery off, both leads tied back."),
                    plain("Sea cock shut and tagged. Exhaust hose plugged with a rag that can be seen from the companionway, so that nobody forgets it."),
                    plain("Photographs taken from all four sides."),
                ],
                tick: true,
            },
            Block::Lines { label: plain("What the owner says"), count: 4 },
        ],
    )
}

fn kit() -> Sheet {
    let rows = (1..=34)
        .map(|n| {
            vec![
                Cell::Tick,
                cell(
                    [
                        "Ring spanner",
                        "Socket, 12-point, thin wall",
                        "Puller, two-legged",
                        "Torque wrench 20–100 N·m",
                    ][n % 4],
                ),
                mono(&format!("T-{n:03}")),
                cell(
                    ["shelf 2", "drawer 4, left", "borrow from the yard; ask two days before", "wall"][n % 4],
                ),
                cell(&format!("{}", n * 7 % 40)),
            ]
        })
        .collect();
    Sheet::new(
        SheetKind::Kit,
        "Kit",
        "Lay out before starting",
        vec![
            Block::Paragraph(plain(
                "Everything that any step of this packet asks for, against what this shop has.",
            )),
            Block::Table(Table {
                caption: plain("Tools"),
                columns: vec![
                    column("", 0.3, false),
                    column("Tool", 3.0, false),
                    column("Code", 1.0, false),
                    column("Where it is", 2.4, false),
                    column("Step", 0.7, true),
                ],
                rows,
            }),
        ],
    )
}

fn overview() -> Sheet {
    let labels = [
        "Drain oil",
        "Drain water",
        "Battery off",
        "Injection pipes",
        "Injectors",
        "Rocker cover",
        "Rocker shaft",
        "Push rods",
        "Manifolds",
        "Head nuts",
        "Head off",
        "Pulley",
        "Timing cover",
        "Sump",
        "Pistons",
        "Crankshaft",
    ];
    let layers = [0, 0, 0, 1, 2, 1, 2, 3, 1, 3, 4, 4, 5, 5, 6, 7];
    let mut places = [0; 8];
    let nodes = labels
        .iter()
        .zip(layers)
        .enumerate()
        .map(|(index, (label, layer))| {
            places[layer] += 1;
            OrderNode {
                step: StepName {
                    number: format!("{}", index + 1),
                    title: (*label).to_owned(),
                    position: String::new(),
                },
                layer,
                place: places[layer] - 1,
                anchor: (index == 9).then(|| anchor("step:12")),
            }
        })
        .collect();
    Sheet::new(
        SheetKind::Overview,
        "The order of work",
        "",
        vec![
            Block::Figure(Figure {
                caption: plain("What must come before what"),
                alternative: "Sixteen steps in eight layers; the longest chain runs from the rocker cover to the crankshaft.".into(),
                drawing: Drawing::Order(OrderDrawing {
                    nodes,
                    links: vec![(0, 13, 0), (1, 9, 0), (2, 3, 1), (3, 4, 0), (5, 6, 0), (6, 7, 2), (6, 9, 0), (8, 9, 1), (9, 10, 0), (10, 14, 0), (11, 12, 0), (12, 15, 0), (13, 14, 0), (14, 15, 0), (4, 10, 3)],
                    kinds: vec!["in the way".into(), "stated by the author".into(), "safer so".into(), "kept clean".into()],
                }),
            }),
            Block::Figure(Figure {
                caption: plain("Two people at one engine"),
                alternative: "Bars: the first person strips the top end in four hours while the second drains and takes off the ancillaries.".into(),
                drawing: Drawing::Bars(BarDrawing {
                    rows: vec!["first person".into(), "second person".into()],
                    first: 0.0,
                    bars: vec![
                        (0, 0.0, 45.0, "3 Battery off".into()),
                        (0, 45.0, 130.0, "4 Injection pipes".into()),
                        (0, 130.0, 260.0, "11 Head off, with the second person".into()),
                        (1, 0.0, 60.0, "1 Drain oil".into()),
                        (1, 60.0, 180.0, "9 Manifolds".into()),
                        (1, 200.0, 260.0, "11".into()),
                    ],
                }),
            }),
        ],
    )
}

fn tags() -> Sheet {
    let labels = (1..=3)
        .flat_map(|n| {
            (1..=2).map(move |copy| {
                Block::Label(LabelBlock {
                    title: format!("Piston, cylinder {n}"),
                    lines: vec![
                        format!("bag {copy} of 2"),
                        "arrow to the front".into(),
                        "job 0117 · to: rack, place A".into(),
                    ],
                    number: format!("{}", 40 + n),
                    code_text: format!("0117 piston cyl {n} bag {copy}/2 arrow to front"),
                    anchor: Some(anchor(&format!("tag:{n}"))),
                    step: Some(anchor("step:15")),
                })
            })
        })
        .collect();
    let subtitle = "Cut along the marks. Two of each: one into the bag, one onto it.";
    Sheet {
        labels: Some(LabelSize { width: 82.0, height: 55.0 }),
        ..Sheet::new(SheetKind::Tags, "Tags", subtitle, labels)
    }
}

pub fn packet() -> Packet {
    Packet {
        title: "Strip packet: Brackwater 3".into(),
        language: "en".into(),
        footer: Footer {
            procedure: "Brackwater 3, edition 2".into(),
            job: "job 0117, motor launch Wren".into(),
            fingerprint: "7f3a-91c2".into(),
            warning: "Invented: not a real engine.".into(),
            deferral: DEFERRAL.into(),
        },
        sheets: vec![front(), kit(), strip(), overview(), tags()],
        meanings: std::collections::BTreeMap::new(),
        attachments: vec![Attachment {
            name: "plan.json".into(),
            media_type: "application/json".into(),
            description: "The plan that this packet was printed from".into(),
            bytes: b"{\"steps\": []}".to_vec(),
        }],
    }
}
