//! Sheets as plain text: everything that a packet says, in reading order. Used for fingerprints, for comparing two
//! packets, and by whoever wants to read one in a terminal.

use std::fmt::Write;

use super::*;

/// The whole packet as text.
pub fn plain_text(packet: &Packet) -> String {
    let mut out = String::new();
    let footer = &packet.footer;
    let _ =
        writeln!(out, "{} | {} | {} | {}", packet.title, footer.procedure, footer.job, footer.fingerprint);
    let _ = writeln!(out, "{}", format!("{} {}", footer.warning, footer.deferral).trim());
    for sheet in &packet.sheets {
        out += &sheet_text(sheet);
    }
    out
}

/// One sheet as text.
pub fn sheet_text(sheet: &Sheet) -> String {
    let mut out = String::new();
    let _ = writeln!(out, "\n=== {} [{}]", sheet.title, sheet.kind);
    if !sheet.subtitle.is_empty() {
        let _ = writeln!(out, "{}", sheet.subtitle);
    }
    for block in &sheet.blocks {
        self::block(&mut out, block);
    }
    out
}

/// One block as text.
pub fn block_text(content: &Block) -> String {
    let mut out = String::new();
    block(&mut out, content);
    out
}

// Writing to a String can't fail, so the results of `writeln!` are dropped throughout.
fn block(out: &mut String, content: &Block) {
    match content {
        Block::Heading { level, text, .. } => {
            let _ = writeln!(out, "\n{} {}", "#".repeat(usize::from(*level)), text.words());
        }
        Block::Paragraph(text) => {
            let _ = writeln!(out, "{}", text.words());
        }
        Block::Notice(text) => {
            let _ = writeln!(out, "[!] {}", text.words());
        }
        Block::List { items, tick } => {
            for item in items {
                let _ = writeln!(out, "{} {}", if *tick { "[ ]" } else { "-" }, item.words());
            }
        }
        Block::Contents(entries) => {
            for (words, _) in entries {
                let _ = writeln!(out, "- {words}");
            }
        }
        Block::Facts(facts) => {
            for (name, value) in facts {
                let _ = writeln!(out, "{}: {}", name.words(), value.words());
            }
        }
        Block::Table(table) | Block::Halves(table) => self::table(out, table, ""),
        Block::Hazard(hazard) => self::hazard(out, hazard, ""),
        Block::Step(step) => self::step(out, step),
        Block::Figure(figure) => self::figure(out, figure, ""),
        Block::Lines { label, count } => {
            let _ = writeln!(out, "{}: {}", label.words(), "____ ".repeat(*count).trim_end());
        }
        Block::Together(blocks) => blocks.iter().for_each(|inner| block(out, inner)),
        Block::Label(label) => {
            let _ = writeln!(
                out,
                "<{}> {} | {} | {}",
                label.number,
                label.title,
                label.lines.join(" | "),
                label.code_text
            );
        }
    }
}

fn step(out: &mut String, step: &StepBlock) {
    let _ = writeln!(out, "\n{} {}", step.number, step.title.words());
    if !step.facts.is_empty() {
        let facts: Vec<String> = step.facts.iter().map(Text::words).collect();
        let _ = writeln!(out, "  ({})", facts.join(" | "));
    }
    if !step.tools.is_empty() {
        let tools: Vec<String> = step.tools.iter().map(Text::words).collect();
        let _ = writeln!(out, "  ({})", tools.join(" | "));
    }
    if !step.reason.0.is_empty() {
        let _ = writeln!(out, "  because {}", step.reason.words());
    }
    for hold in &step.held_by {
        let _ = writeln!(out, "  WAIT: {}", hold.words());
    }
    for line in &step.lines {
        step_line(out, line);
    }
}

fn step_line(out: &mut String, line: &StepLine) {
    match line {
        StepLine::Hazard(hazard) => self::hazard(out, hazard, "  "),
        StepLine::Act { text, boxes } => {
            let _ = writeln!(out, "  {}{}", text.words(), self::boxes(boxes));
        }
        StepLine::PutOn { text, .. } => {
            let _ = writeln!(out, "  {}", text.words());
        }
        StepLine::Torque { text, value, condition, held, boxes } => {
            let mark = if *held { "HOLD " } else { "" };
            let _ = writeln!(out, "  {}: {mark}{value} ({condition}){}", text.words(), self::boxes(boxes));
        }
        StepLine::Reading { text, limit, unit, blanks } => {
            let blank = |blank: &Blank| match blank.written.as_str() {
                "" => format!("{} ____ {unit}", blank.name),
                written => format!("{} {written}", blank.name),
            };
            let blanks: Vec<String> = blanks.iter().map(blank).collect();
            let limit = if limit.is_empty() { String::new() } else { format!(" ({limit})") };
            let _ = writeln!(out, "  {}{limit}: {}", text.words(), blanks.join("; "));
        }
        StepLine::Readings { text, limit, table } => {
            let limit = if limit.is_empty() { String::new() } else { format!(" ({limit})") };
            let _ = writeln!(out, "  {}{limit}:", text.words());
            self::table(out, table, "  ");
        }
        StepLine::Figure(figure) => self::figure(out, figure, "  "),
        StepLine::Table(table) => self::table(out, table, "  "),
        StepLine::If { condition, action } => {
            let _ = writeln!(out, "  if {}: {}", condition.words(), action.words());
        }
        StepLine::Hold(text) => {
            let _ = writeln!(out, "  {} Seen by: ____", text.words());
        }
        StepLine::Note(text) => {
            let _ = writeln!(out, "  ({})", text.words());
        }
    }
}

fn boxes(boxes: &Boxes) -> String {
    match boxes {
        Boxes::None => String::new(),
        Boxes::One => " [ ]".to_owned(),
        Boxes::Grid(names) => names.iter().map(|name| format!(" [ ]{name}")).collect(),
        Boxes::Results(names, taken, _) => {
            let tick = |index: usize| if Some(index) == *taken { "x" } else { " " };
            names.iter().enumerate().map(|(index, name)| format!(" [{}]{name}", tick(index))).collect()
        }
    }
}

fn hazard(out: &mut String, hazard: &HazardBox, indent: &str) {
    let word = match hazard.word {
        SignalWord::Danger => "DANGER",
        SignalWord::Warning => "WARNING",
        SignalWord::Caution => "CAUTION",
        SignalWord::Notice => "NOTICE",
    };
    if hazard.told {
        let _ = writeln!(out, "{indent}{word} as before: {}", hazard.avoidance.words());
        return;
    }
    let _ = write!(
        out,
        "{indent}{word}: {} {} {}",
        hazard.hazard.words(),
        hazard.consequence.words(),
        hazard.avoidance.words()
    );
    if !hazard.protective_equipment.is_empty() {
        let _ = write!(out, " Wear: {}.", hazard.protective_equipment.join(", "));
    }
    out.push('\n');
}

fn table(out: &mut String, table: &Table, indent: &str) {
    if !table.caption.words().is_empty() {
        let _ = writeln!(out, "{indent}{}", table.caption.words());
    }
    let headings: Vec<&str> = table.columns.iter().map(|column| column.heading.as_str()).collect();
    let _ = writeln!(out, "{indent}| {} |", headings.join(" | "));
    for row in &table.rows {
        let cells: Vec<String> = row
            .iter()
            .map(|cell| match cell.printed() {
                Cell::Text(text) => text.words(),
                Cell::Tick => "[ ]".to_owned(),
                Cell::Ticked => "[x]".to_owned(),
                Cell::Counted(text, count) => {
                    format!("{} {}", text.words(), "[]".repeat(*count)).trim_end().to_owned()
                }
                Cell::Twice(unit) => format!("____ ____ {unit}"),
                Cell::Day => "____".to_owned(),
                Cell::Blank(unit) => format!("____ {unit}").trim_end().to_owned(),
                Cell::Field(..) => String::new(),
            })
            .collect();
        let _ = writeln!(out, "{indent}| {} |", cells.join(" | "));
    }
}

fn figure(out: &mut String, figure: &Figure, indent: &str) {
    let _ = writeln!(out, "{indent}Figure: {}", figure.caption.words());
    match &figure.drawing {
        Drawing::Joint(joint) => {
            let _ = writeln!(
                out,
                "{indent}  {}; front {:?}; {}",
                joint.view,
                joint.front,
                joint.sizes.join("; ")
            );
            for hole in &joint.holes {
                let _ = writeln!(
                    out,
                    "{indent}  {} {} at ({:.3}, {:.3}) d {:.3} size {} {}",
                    hole.number, hole.letter, hole.x, hole.y, hole.diameter, hole.size, hole.note
                );
            }
        }
        Drawing::Order(order) => {
            for node in &order.nodes {
                let _ = writeln!(out, "{indent}  layer {} place {}: {}", node.layer, node.place, node.step);
            }
            for (from, to, kind) in &order.links {
                let kind = order.kinds.get(*kind).map(String::as_str).unwrap_or_default();
                let _ = writeln!(out, "{indent}  {from} -> {to} ({kind})");
            }
        }
        Drawing::Plan(plan) => {
            let turns = plan.turns.as_ref().map(|turns| turns.words.as_str()).unwrap_or_default();
            let row = |row: &PlanRow| {
                let name = if row.name.is_empty() { String::new() } else { format!("{}: ", row.name) };
                name + &row.places.join(" ")
            };
            let places = plan.rows.iter().map(row).collect::<Vec<_>>().join(" | ");
            let _ = writeln!(
                out,
                "{indent}  front: {places}; {turns}; {} above, {} below; {}",
                plan.above, plan.below, plan.beside
            );
        }
        Drawing::Way(way) => {
            let places = way.places.join(" ");
            let _ = writeln!(out, "{indent}  {places} toward {:?}: {}", way.toward, way.words);
        }
        Drawing::Stations(drawing) => {
            for station in &drawing.stations {
                let _ = writeln!(out, "{indent}  {} at {:.3}", station.name, station.at);
            }
        }
        Drawing::Shapes(drawing) => {
            for shape in &drawing.shapes {
                if let Shape::Words { at: (x, y), words, .. } = shape {
                    let _ = writeln!(out, "{indent}  {words} at ({x:.1}, {y:.1})");
                }
            }
        }
        Drawing::Bars(bars) => {
            for (row, start, end, label) in &bars.bars {
                let row = bars.rows.get(*row).map(String::as_str).unwrap_or_default();
                let _ = writeln!(out, "{indent}  {row}: {start:.1} to {end:.1} {label}");
            }
        }
    }
}
