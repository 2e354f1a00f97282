//! The picture in the graph description language DOT: steps as nodes, reasons as edge styles and texts.

use std::fmt::Write;

use super::{KINDS, Picture};

/// Edge styles by kind of reason.
const STYLES: [&str; 4] = ["solid", "dashed", "bold", "dotted"];

/// The picture as DOT.
pub fn dot(picture: &Picture) -> String {
    let mut out = String::new();
    // Writing to a String can't fail.
    let _ = writeln!(out, "digraph order {{");
    let _ = writeln!(out, "  label={}; labelloc=t; rankdir=TB;", quoted(&picture.title));
    let _ = writeln!(out, "  node [shape=box, fontname=\"sans-serif\", fontsize=11];");
    let _ = writeln!(out, "  edge [fontname=\"sans-serif\", fontsize=8];");
    for (step, node) in picture.steps.iter().zip(&picture.nodes) {
        let _ = writeln!(
            out,
            "  {} [label={}];",
            quoted(&step.id),
            quoted(&format!("{}  {}", node.number, node.words()))
        );
    }
    for (from, to, kind, reason) in &picture.links {
        let _ = writeln!(
            out,
            "  {} -> {} [style={}, tooltip={}, edgetooltip={}];",
            quoted(&picture.steps[*from].id),
            quoted(&picture.steps[*to].id),
            STYLES[*kind],
            quoted(KINDS[*kind]),
            quoted(reason)
        );
    }
    out.push_str("}\n");
    out
}

fn quoted(text: &str) -> String {
    format!("\"{}\"", text.replace('\\', "\\\\").replace('"', "\\\"").replace('\n', "\\n"))
}
