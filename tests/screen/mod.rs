//! The packet for a screen beside the packet on paper: the same words in the same order, a control wherever paper has a box or
//! a blank, with the same number, and nothing that leads out of the file.

use std::collections::BTreeSet;
use std::path::Path;

use crate::gather::{Number, Printed};
use crate::screen::{read_html, write_html};
use crate::sheet::{Blank, Block, Boxes, Cell, Figure, HazardBox, Packet, StepBlock, StepLine, Table, Text};
use benchleaf::model::Phase;
use benchleaf::{Memory, PacketOptions, Request, Workshop};

const PHASES: [Phase; 4] = [Phase::Strip, Phase::Survey, Phase::Build, Phase::Start];

/// Every packet of the shipped jobs.
fn packets() -> Vec<(String, Packet)> {
    let procedures = Path::new(env!("CARGO_MANIFEST_DIR")).join("procedures");
    let records = [
        "brackwater3.job",
        "brackwater3.ready.job",
        "hallowmere4.bodged.measured.job",
        "skerryvane180.built.job",
    ];
    let mut packets = Vec::new();
    for record in records {
        let path = procedures.join(format!("{record}.yaml"));
        let mut workshop = Workshop::new();
        let view = workshop.job(&Request::of(&path)).value.expect("it is sound");
        for phase in PHASES {
            let options = PacketOptions { all: record.contains("measured"), ..PacketOptions::of(phase) };
            packets.push((format!("{record}, {}", phase.word()), view.packet(&workshop, &options)));
        }
    }
    packets
}

/// Words between the tags, every stretch of space as one.
fn words_of(html: &str) -> String {
    let body = html.split_once("<main").unwrap().1.split_once("<footer>").unwrap().0;
    let mut words = String::new();
    for part in body.split('<') {
        let (tag, text) = part.split_once('>').unwrap_or_default();
        // A number stands with its control and is no word of the text.
        words += if tag.contains("class=\"no\"") { "" } else { text };
        words.push(
            if tag.starts_with("/strong")
                || tag.starts_with("strong")
                || tag.starts_with("/a")
                || tag.starts_with("a ")
                || tag.starts_with("code")
                || tag.starts_with("/code")
            {
                '\u{1}'
            } else {
                ' '
            },
        );
    }
    let words = words.replace('\u{1}', "");
    squeezed(&words.replace("&lt;", "<").replace("&gt;", ">").replace("&quot;", "\"").replace("&amp;", "&"))
}

/// Without spaces: where a line ends says nothing.
fn squeezed(words: &str) -> String {
    words.chars().filter(|letter| !letter.is_whitespace()).collect()
}

/// Everything that is to be read of a packet, in its order.
fn to_read(packet: &Packet) -> Vec<String> {
    let mut all = Vec::new();
    for sheet in &packet.sheets {
        all.extend([sheet.title.clone(), sheet.subtitle.clone()]);
        sheet.blocks.iter().for_each(|block| of_block(&mut all, block));
    }
    all.into_iter().map(|words| squeezed(&words)).filter(|words| !words.is_empty()).collect()
}

fn of_block(all: &mut Vec<String>, block: &Block) {
    match block {
        Block::Heading { text, .. } | Block::Paragraph(text) | Block::Notice(text) => all.push(text.words()),
        Block::List { items, .. } => all.extend(items.iter().map(Text::words)),
        Block::Contents(entries) => all.extend(entries.iter().map(|(words, _)| words.clone())),
        Block::Facts(facts) => {
            all.extend(facts.iter().flat_map(|(name, value)| [name.words(), value.words()]));
        }
        Block::Table(table) | Block::Halves(table) => of_table(all, table),
        Block::Hazard(hazard) => of_hazard(all, hazard),
        Block::Step(step) => of_step(all, step),
        Block::Figure(figure) => of_figure(all, figure),
        Block::Lines { label, .. } => all.push(label.words()),
        Block::Together(blocks) => blocks.iter().for_each(|block| of_block(all, block)),
        Block::Label(label) => {
            all.push(label.title.clone());
            all.extend(label.lines.iter().cloned());
        }
    }
}

fn of_step(all: &mut Vec<String>, step: &StepBlock) {
    all.extend([step.number.clone(), step.title.words()]);
    all.extend(step.facts.iter().chain(&step.tools).map(Text::words));
    all.push(step.reason.words());
    all.extend(step.held_by.iter().map(Text::words));
    for line in &step.lines {
        match line {
            StepLine::Hazard(hazard) => of_hazard(all, hazard),
            StepLine::Act { text, boxes } => {
                all.push(text.words());
                of_boxes(all, boxes, step);
            }
            StepLine::PutOn { text, .. } | StepLine::Note(text) | StepLine::Hold(text) => {
                all.push(text.words());
            }
            StepLine::Torque { text, value, condition, held, boxes } => {
                all.extend([text.words(), value.clone()]);
                if !held {
                    all.push(condition.clone());
                    of_boxes(all, boxes, step);
                }
            }
            StepLine::Reading { text, limit, blanks, .. } => {
                all.extend([text.words(), limit.clone()]);
                for Blank { name, written, .. } in blanks {
                    all.extend([name.clone(), written.clone()]);
                }
            }
            StepLine::Readings { text, limit, table } => {
                all.extend([text.words(), limit.clone()]);
                of_table(all, table);
            }
            StepLine::Figure(figure) => of_figure(all, figure),
            StepLine::Table(table) => of_table(all, table),
            StepLine::If { condition, action } => all.extend([condition.words(), action.words()]),
        }
    }
}

fn of_boxes(all: &mut Vec<String>, boxes: &Boxes, step: &StepBlock) {
    if let (Boxes::Grid(names) | Boxes::Results(names, _, _), true) = (boxes, step.held_by.is_empty()) {
        all.extend(names.iter().cloned());
    }
}

fn of_hazard(all: &mut Vec<String>, hazard: &HazardBox) {
    if !hazard.told {
        all.extend([hazard.hazard.words(), hazard.consequence.words()]);
    }
    all.push(hazard.avoidance.words());
    if !hazard.told {
        all.extend(hazard.protective_equipment.iter().cloned());
    }
}

fn of_figure(all: &mut Vec<String>, figure: &Figure) {
    all.push(figure.caption.words());
}

fn of_table(all: &mut Vec<String>, table: &Table) {
    all.push(table.caption.words());
    all.extend(table.columns.iter().map(|column| column.heading.clone()));
    for cell in table.rows.iter().flatten() {
        if let Cell::Text(text) = cell.printed() {
            all.push(text.words());
        }
    }
}

/// Numbers of the controls, in their order.
fn controls(html: &str) -> Vec<String> {
    let body = html.split_once("<main").unwrap().1.split_once("<footer>").unwrap().0;
    let number = |part: &str| part.split_once('"').map(|(number, _)| number.to_owned());
    let mut numbers: Vec<String> = body.split("data-n=\"").skip(1).filter_map(number).collect();
    numbers.retain(|number| !number.is_empty());
    numbers.dedup();
    numbers
}

/// Numbers of boxes that paper doesn't print, because their act waits or is not known yet; and of what is filled in already.
fn not_asked(packet: &Packet) -> BTreeSet<String> {
    let mut numbers = BTreeSet::new();
    let filled_in = |table: &Table| -> Vec<String> {
        let cells = table.rows.iter().flatten();
        let read = cells.filter(|cell| matches!(cell.printed(), Cell::Text(_) | Cell::Ticked));
        read.filter_map(|cell| Some(cell.field()?.number.clone())).collect()
    };
    let blocks = packet.sheets.iter().flat_map(|sheet| &sheet.blocks).flat_map(|block| match block {
        Block::Together(blocks) => blocks.iter().collect::<Vec<_>>(),
        block => vec![block],
    });
    for block in blocks {
        let step = match block {
            Block::Table(table) | Block::Halves(table) => {
                numbers.extend(filled_in(table));
                continue;
            }
            Block::Step(step) => step,
            _ => continue,
        };
        for line in &step.lines {
            let (text, boxes, held) = match line {
                StepLine::Act { text, boxes } => (text, boxes, false),
                StepLine::Torque { text, boxes, held, .. } => (text, boxes, *held),
                StepLine::Reading { blanks, .. } => {
                    let written = blanks.iter().filter(|blank| !blank.written.is_empty());
                    numbers.extend(written.map(|blank| blank.field.number.clone()));
                    continue;
                }
                StepLine::Readings { table, .. } | StepLine::Table(table) => {
                    numbers.extend(filled_in(table));
                    continue;
                }
                _ => continue,
            };
            if !held && step.held_by.is_empty() {
                continue;
            }
            let number = text.number().unwrap_or_default();
            numbers.insert(number.to_owned());
            if let Boxes::Grid(names) = boxes {
                numbers.extend((1..=names.len()).map(|index| format!("{number}.{index}")));
            }
        }
    }
    numbers
}

#[test]
fn a_screen_says_what_paper_says() {
    for (name, packet) in packets() {
        let html = write_html(&packet);
        assert_eq!(html, write_html(&packet), "{name}: the same bytes twice");
        let words = words_of(&html);
        let mut at = 0;
        for wanted in to_read(&packet) {
            match words[at..].find(&wanted) {
                Some(found) => at += found + wanted.len(),
                None => panic!(
                    "{name}: `{wanted}` does not follow\n{}",
                    &words[at.saturating_sub(300)..(at + 300).min(words.len())]
                ),
            }
        }
        let blocks = packet.sheets.iter().flat_map(|sheet| &sheet.blocks);
        let waits = blocks.filter(|block| matches!(block, Block::Step(step) if !step.held_by.is_empty()));
        assert_eq!(words.matches("WAITfor").count(), waits.count(), "{name}: what waits says so");
    }
}

#[test]
fn every_number_of_paper_has_its_control() {
    for (name, packet) in packets() {
        let html = write_html(&packet);
        let printed = Printed::read(&packet.attachments[0].bytes).unwrap();
        let not_asked = not_asked(&packet);
        let asked = |number: &&Number| !not_asked.contains(&number.number);
        let numbers = printed.numbers.iter().filter(asked).map(|number| number.number.clone());
        let wanted: BTreeSet<String> = numbers.collect();
        let controls = controls(&html);
        let made: BTreeSet<String> =
            controls.iter().filter(|number| !not_asked.contains(*number)).cloned().collect();
        assert_eq!(made, wanted, "{name}");
        let known = |number: &String| printed.numbers.iter().any(|known| known.number == *number);
        assert!(controls.iter().all(known), "{name}: no control has a number of its own");
        for step in printed.steps.iter().filter(|step| step.number.is_some()) {
            assert!(html.matches(&format!("data-step=\"{}\"", step.id)).count() <= 1, "{name}: {}", step.id);
        }
    }
}

#[test]
fn nothing_leads_out_of_it_and_the_plan_comes_back() {
    for (name, packet) in packets() {
        let html = write_html(&packet);
        for outward in [
            "http:",
            "https:",
            "//www",
            "url(",
            "@import",
            " src=",
            "import(",
            "fetch(",
            "XMLHttp",
            "WebSocket",
        ] {
            assert!(!html.contains(outward), "{name}: {outward}");
        }
        assert!(html.contains("default-src 'none'"), "{name}");
        let ids: Vec<&str> =
            html.split(" id=\"").skip(1).filter_map(|part| part.split_once('"')).map(|(id, _)| id).collect();
        let apart: BTreeSet<&str> = ids.iter().copied().collect();
        assert_eq!(ids.len(), apart.len(), "{name}: an id stands once");
        for to in html.split("href=\"#").skip(1).filter_map(|part| part.split_once('"')).map(|(id, _)| id) {
            assert!(apart.contains(to), "{name}: nothing is at {to}");
        }
        let plan = read_html(html.as_bytes()).unwrap();
        assert_eq!(Printed::read(&plan), Printed::read(&packet.attachments[0].bytes), "{name}");
    }
    assert_eq!(read_html(b"<!doctype html><p>another's page"), None);
}

#[test]
fn words_of_a_record_are_no_markup() {
    let procedure = "family pump \"Pump <b>\" { edition 1  origin \"invented\"  invented }\npart cover \"Cover & <i>lid</i>\"\n\
                     strip off \"Take the cover off\" { take cover }\n";
    let record = "job: \"</script><script>alert(1)</script>\"\nprocedure: pump.rebuild\n";
    let files = Memory::new().with("pump.rebuild", procedure).with("job.yaml", record);
    let mut workshop = Workshop::over(files);
    let request = Request { record: Some(Path::new("job.yaml")), ..Request::of("pump.rebuild") };
    let view = workshop.job(&request).value.expect("it is sound");
    let packet = view.packet(&workshop, &PacketOptions::of(Phase::Strip));
    let html = write_html(&packet);
    assert_eq!(html.matches("<script").count(), 2, "the plan and ours");
    assert_eq!(html.matches("</script>").count(), 2);
    assert!(!html.contains("<i>lid") && html.contains("Cover &amp; &lt;i&gt;lid"));
    let printed = Printed::read(&read_html(html.as_bytes()).unwrap()).unwrap();
    assert_eq!(printed.job, "</script><script>alert(1)</script>");
}
