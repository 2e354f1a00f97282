//! The picture for programs: steps and links as GraphML, or the links alone as a table.

use std::fmt::Write;

use super::svg::escaped;
use super::{KINDS, Picture};
use crate::decide::csv_table;

/// What begins every file: the published schema, and what is said of nodes and edges.
const HEAD: &str = r#"<?xml version="1.0" encoding="UTF-8"?>
<graphml xmlns="http://graphml.graphdrawing.org/xmlns"
    xmlns:xsi="http://www.w3.org/2001/XMLSchema-instance"
    xsi:schemaLocation="http://graphml.graphdrawing.org/xmlns http://graphml.graphdrawing.org/xmlns/1.0/graphml.xsd">
  <key id="step" for="node" attr.name="step" attr.type="string"/>
  <key id="number" for="node" attr.name="number" attr.type="string"/>
  <key id="title" for="node" attr.name="title" attr.type="string"/>
  <key id="kind" for="edge" attr.name="kind" attr.type="string"/>
  <key id="reason" for="edge" attr.name="reason" attr.type="string"/>
  <graph id="order" edgedefault="directed">
"#;

/// The picture as GraphML. Ids of steps hold signs that ids of nodes may not, so they are data of their node.
pub fn graphml(picture: &Picture) -> String {
    let mut out = HEAD.to_owned();
    let data = |key: &str, text: &str| format!("<data key=\"{key}\">{}</data>", escaped(text));
    // Writing to a String can't fail.
    let _ = writeln!(out, "    <desc>{}</desc>", escaped(&picture.title));
    for (index, (step, (number, title))) in picture.steps.iter().zip(&picture.nodes).enumerate() {
        let said = data("step", &step.id) + &data("number", number) + &data("title", title);
        let _ = writeln!(out, "    <node id=\"n{index}\">{said}</node>");
    }
    for (from, to, kind, reason) in &picture.links {
        let said = data("kind", KINDS[*kind]) + &data("reason", reason);
        let _ = writeln!(out, "    <edge source=\"n{from}\" target=\"n{to}\">{said}</edge>");
    }
    out.push_str("  </graph>\n</graphml>\n");
    out
}

/// The links as a table, comma separated, with a line of titles (RFC 4180).
pub fn links_csv(picture: &Picture) -> String {
    let titles = ["from", "from_title", "to", "to_title", "kind", "reason"].map(str::to_owned).to_vec();
    let end = |node: usize| [picture.steps[node].id.clone(), picture.nodes[node].1.clone()];
    let rows = picture.links.iter().map(|(from, to, kind, reason)| {
        [end(*from), end(*to), [KINDS[*kind].to_owned(), reason.clone()]].concat()
    });
    csv_table(std::iter::once(titles).chain(rows))
}
