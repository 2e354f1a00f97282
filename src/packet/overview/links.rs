//! The picture for programs: steps and links as GraphML, or the links alone as a table.

use std::fmt::Write;
use std::iter;

use super::svg::escaped;
use super::{KINDS, Picture, number};
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

/// A step is named by the node that it belongs to and its place there.
type Place = (usize, usize);

/// The picture as GraphML. Ids of steps hold signs that ids of nodes may not, so they are data of their node.
pub(crate) fn graphml(picture: &Picture) -> String {
    let mut out = HEAD.to_owned();
    let data = |key: &str, text: &str| format!("<data key=\"{key}\">{}</data>", escaped(text));
    let name = |(node, at): Place| format!("n{node}.{at}");
    // Writing to a String can't fail.
    let _ = writeln!(out, "    <desc>{}</desc>", escaped(&picture.title));
    for (node, steps) in picture.steps.iter().enumerate() {
        for (at, (step, [id, title])) in steps.iter().enumerate() {
            let said = data("step", id) + &data("number", &number(step)) + &data("title", title);
            let _ = writeln!(out, "    <node id=\"{}\">{said}</node>", name((node, at)));
        }
    }
    for (from, to, kind, reason) in links(picture) {
        let said = data("kind", kind) + &data("reason", reason);
        let (from, to) = (name(from), name(to));
        let _ = writeln!(out, "    <edge source=\"{from}\" target=\"{to}\">{said}</edge>");
    }
    out.push_str("  </graph>\n</graphml>\n");
    out
}

/// The links as a table, comma separated, with a line of titles (RFC 4180).
pub(crate) fn links_csv(picture: &Picture) -> String {
    let titles = ["from", "from_title", "to", "to_title", "kind", "reason"].map(str::to_owned).to_vec();
    let end = |(node, at): Place| {
        let (_, named) = &picture.steps[node][at];
        named.clone()
    };
    let rows = links(picture)
        .map(|(from, to, kind, reason)| [end(from), end(to), [kind.to_owned(), reason.to_owned()]].concat());
    csv_table(iter::once(titles).chain(rows))
}

/// The links between steps: those within blocks, one after the other, then those of the picture, from the last step of
/// a block to the first of the next.
fn links<'p>(picture: &'p Picture) -> impl Iterator<Item = (Place, Place, &'static str, &'p str)> {
    let last = |node: usize| picture.steps[node].len() - 1;
    let within = picture.steps.iter().enumerate().flat_map(|(node, steps)| {
        (1..steps.len()).map(move |at| ((node, at - 1), (node, at), KINDS[3], "one block of steps"))
    });
    let between = picture
        .links
        .iter()
        .map(move |(from, to, kind, reason)| ((*from, last(*from)), (*to, 0), KINDS[*kind], reason.as_str()));
    within.chain(between)
}
