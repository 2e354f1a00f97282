//! The words, tables and holes of a packet as JSON, and the fonts, for other programs to set.

use super::raw;
use benchleaf::Face;
use benchleaf::sheet::{
    Block, Boxes, Cell, Drawing, Figure, HazardBox, Packet, SignalWord, StepBlock, StepLine, Style, Table,
    Text,
};
use serde_json::{Value, json};
use std::path::Path;

/// Writes `content.json` and the three font files into a folder that exists.
#[expect(clippy::disallowed_methods, reason = "hands the content to other programs")]
pub fn write(packet: &Packet, folder: &Path) {
    let sheets: Vec<Value> = packet
        .sheets
        .iter()
        .map(|sheet| {
            let blocks: Vec<Value> = sheet.blocks.iter().map(block).collect();
            json!({"title": sheet.title, "subtitle": sheet.subtitle, "blocks": blocks})
        })
        .collect();
    let footer = json!({"procedure": packet.footer.procedure, "job": packet.footer.job,
        "fingerprint": packet.footer.fingerprint});
    let content = json!({"title": packet.title, "footer": footer, "sheets": sheets});
    let save = |name: &str, bytes: &[u8]| {
        std::fs::write(folder.join(name), bytes).expect("the folder can be written to");
    };
    save("content.json", content.to_string().as_bytes());
    for (face, name) in [(Face::Regular, "regular"), (Face::Bold, "bold"), (Face::Mono, "mono")] {
        save(&format!("{name}.ttf"), raw::data(face));
    }
}

/// Runs as pairs of words and style.
fn text(text: &Text) -> Value {
    let style = |style: Style| match style {
        Style::Plain => "plain",
        Style::Bold => "bold",
        Style::Mono => "mono",
        Style::Number => "number",
    };
    text.0.iter().map(|run| json!([run.text, style(run.style)])).collect()
}

fn texts(all: &[Text]) -> Value {
    all.iter().map(text).collect()
}

fn block(block: &Block) -> Value {
    match block {
        Block::Heading { level, text: words, .. } => {
            json!({"kind": "heading", "level": level, "text": text(words)})
        }
        Block::Paragraph(words) => json!({"kind": "paragraph", "text": text(words)}),
        Block::Table(table) => self::table(table),
        Block::Step(step) => self::step(step),
        // The benchmark's packet holds nothing else.
        other => panic!("{other:?} is not handed on"),
    }
}

fn table(table: &Table) -> Value {
    let cell = |cell: &Cell| match cell.printed() {
        Cell::Text(words) | Cell::Counted(words, _) => json!({"text": text(words)}),
        Cell::Tick | Cell::Ticked => json!({"tick": true}),
        Cell::Blank(unit) | Cell::Twice(unit) => json!({"blank": unit}),
        Cell::Day | Cell::Field(..) => json!({"blank": ""}),
    };
    let columns: Vec<Value> = table
        .columns
        .iter()
        .map(|column| json!({"heading": column.heading, "share": column.share, "right": column.to_the_right}))
        .collect();
    let rows: Vec<Vec<Value>> = table.rows.iter().map(|row| row.iter().map(cell).collect()).collect();
    json!({"kind": "table", "caption": text(&table.caption), "columns": columns, "rows": rows})
}

fn hazard(hazard: &HazardBox) -> Value {
    let word = match hazard.word {
        SignalWord::Danger => "DANGER",
        SignalWord::Warning => "WARNING",
        SignalWord::Caution => "CAUTION",
        SignalWord::Notice => "NOTICE",
    };
    json!({"kind": "hazard", "word": word, "wear": hazard.protective_equipment,
        "texts": [text(&hazard.hazard), text(&hazard.consequence), text(&hazard.avoidance)]})
}

fn step(step: &StepBlock) -> Value {
    json!({"kind": "step", "number": step.number, "title": text(&step.title), "facts": texts(&step.facts),
        "reason": text(&step.reason), "held": texts(&step.held_by),
        "lines": step.lines.iter().map(line).collect::<Vec<_>>()})
}

fn boxes(boxes: &Boxes) -> Value {
    match boxes {
        Boxes::None => json!([]),
        Boxes::One => json!([""]),
        Boxes::Grid(names) | Boxes::Results(names, ..) => json!(names),
    }
}

fn figure(figure: &Figure) -> Value {
    let Drawing::Joint(joint) = &figure.drawing else { panic!("only joints are handed on") };
    let holes: Vec<Value> = joint
        .holes
        .iter()
        .map(|hole| json!({"x": hole.x, "y": hole.y, "letter": hole.letter, "number": hole.number}))
        .collect();
    json!({"kind": "figure", "caption": text(&figure.caption), "alternative": figure.alternative, "holes": holes})
}

fn line(line: &StepLine) -> Value {
    match line {
        StepLine::Hazard(hazard) => self::hazard(hazard),
        StepLine::Act { text: words, boxes: ticks } => {
            json!({"kind": "act", "text": text(words), "boxes": boxes(ticks)})
        }
        StepLine::Torque { text: words, value, condition, boxes: ticks, .. } => {
            json!({"kind": "torque", "text": text(words), "value": value, "condition": condition, "boxes": boxes(ticks)})
        }
        StepLine::Reading { text: words, limit, unit, blanks } => {
            let names: Vec<&str> = blanks.iter().map(|blank| blank.name.as_str()).collect();
            json!({"kind": "reading", "text": text(words), "limit": limit, "unit": unit, "blanks": names})
        }
        StepLine::PutOn { text: words, .. } => json!({"kind": "act", "text": text(words), "boxes": [""]}),
        StepLine::Figure(figure) => self::figure(figure),
        StepLine::Table(table) => self::table(table),
        StepLine::If { condition, action } => {
            json!({"kind": "if", "condition": text(condition), "action": text(action)})
        }
        // The benchmark's packet holds none.
        StepLine::Readings { .. } => panic!("tables of readings are not handed on"),
        StepLine::Hold(words) => json!({"kind": "hold", "text": text(words)}),
        StepLine::Note(words) => json!({"kind": "note", "text": text(words)}),
    }
}
