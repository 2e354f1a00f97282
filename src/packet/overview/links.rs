//! The picture for programs: steps and links as GraphML, or the links alone as a table.

use std::fmt::Write;

use super::svg::escaped;
use super::{KINDS, Picture};

/// The picture as GraphML, as its published schema has it. Ids of steps hold signs that ids of nodes may not, so they
/// are data of their node.
pub fn graphml(picture: &Picture) -> String {
    let mut out = String::from(
        "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n\
         <graphml xmlns=\"http://graphml.graphdrawing.org/xmlns\" \
         xmlns:xsi=\"http://www.w3.org/2001/XMLSchema-instance\" \
         xsi:schemaLocation=\"http://graphml.graphdrawing.org/xmlns \
         http://graphml.graphdrawing.org/xmlns/1.0/graphml.xsd\">\n",
    );
    // Writing to a String can't fail.
    for (of, name) in
        [("node", "step"), ("node", "number"), ("node", "title"), ("edge", "kind"), ("edge", "reason")]
    {
        let _ = writeln!(
            out,
            "  <key id=\"{name}\" for=\"{of}\" attr.name=\"{name}\" attr.type=\"string\"/>"
        );
    }
    let _ = writeln!(out, "  <graph id=\"order\" edgedefault=\"directed\">");
    let _ = writeln!(out, "    <desc>{}</desc>", escaped(&picture.title));
    for (index, (step, (number, title))) in picture.steps.iter().zip(&picture.nodes).enumerate() {
        let _ = writeln!(
            out,
            "    <node id=\"n{index}\"><data key=\"step\">{}</data><data key=\"number\">{}</data><data key=\"title\">{}</data></node>",
            escaped(&step.id),
            escaped(number),
            escaped(title)
        );
    }
    for (from, to, kind, reason) in &picture.links {
        let _ = writeln!(
            out,
            "    <edge source=\"n{from}\" target=\"n{to}\"><data key=\"kind\">{}</data><data key=\"reason\">{}</data></edge>",
            escaped(KINDS[*kind]),
            escaped(reason)
        );
    }
    out.push_str("  </graph>\n</graphml>\n");
    out
}

/// The links as a table, comma separated, with a line of titles (RFC 4180).
pub fn links_csv(picture: &Picture) -> String {
    let mut out = String::from("from,from_title,to,to_title,kind,reason\r\n");
    for (from, to, kind, reason) in &picture.links {
        let cells = [
            picture.steps[*from].id.as_str(),
            &picture.nodes[*from].1,
            &picture.steps[*to].id,
            &picture.nodes[*to].1,
            KINDS[*kind],
            reason,
        ];
        out.push_str(&cells.map(cell).join(","));
        out.push_str("\r\n");
    }
    out
}

fn cell(text: &str) -> String {
    // A spreadsheet runs a cell that begins with one of these as a formula.
    let text = if text.starts_with(['=', '+', '-', '@']) { format!(" {text}") } else { text.to_owned() };
    if text.contains([',', '"', '\n', '\r']) { format!("\"{}\"", text.replace('"', "\"\"")) } else { text }
}
