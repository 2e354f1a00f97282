//! Changes to the text of a record: one value put at a path, everything else left byte for byte as it was.
//!
//! The change is made in the text, the result is read again and compared with what was meant; a change that
//! would do anything else is refused.

use super::yaml::{self, Entry, Node, Value};
use crate::source::FileId;

/// What is put where.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Edit {
    /// Keys from the top of the record.
    pub path: Vec<String>,
    /// What happens there.
    pub put: Put,
}

/// What happens at the end of a path.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Put {
    /// The last key gets this value; it must not have one yet.
    Value(Written),
    /// The list under the last key gets this item more.
    Item(Written),
}

/// A value to be written.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Written {
    /// Text.
    Text(String),
    /// Texts, on one line.
    List(Vec<String>),
    /// Keys with texts, on one line.
    Fields(Vec<(String, Written)>),
}

/// Why a change was not made.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Refusal {
    /// The text is not a record.
    Unreadable,
    /// There is a value already; it stands on this line, from 1.
    Present(usize),
    /// The key on this line has another kind of value than can be added to.
    OtherKind(usize),
    /// The text would no longer mean the same.
    Unsafe,
}

/// The text with the change made.
///
/// # Errors
/// Says why nothing was changed.
pub fn edit(text: &str, edit: &Edit) -> Result<String, Refusal> {
    let before = tree(text)?;
    let (at, insertion) = place(text, &before, edit)?;
    let mut after = text.to_owned();
    after.insert_str(at, &insertion);
    let found = plain(&tree(&after)?);
    let mut meant = plain(&before);
    apply(&mut meant, &edit.path, &edit.put);
    if found == meant { Ok(after) } else { Err(Refusal::Unsafe) }
}

fn tree(text: &str) -> Result<Node, Refusal> {
    let file = FileId(0);
    let node = yaml::scan(file, text).map_err(|_| Refusal::Unreadable)?;
    yaml::agree(file, text, &node).map_err(|_| Refusal::Unreadable)?;
    match node.value {
        Value::Mapping(_) => Ok(node),
        _ => Err(Refusal::Unreadable),
    }
}

fn line_of(text: &str, at: usize) -> usize {
    text[..at].matches('\n').count() + 1
}

/// Column in bytes of a place in its line.
fn column(text: &str, at: usize) -> usize {
    at - text[..at].rfind('\n').map_or(0, |newline| newline + 1)
}

/// Where something is put in, and what.
fn place(text: &str, root: &Node, edit: &Edit) -> Result<(usize, String), Refusal> {
    let mut node = root;
    for (depth, key) in edit.path.iter().enumerate() {
        let rest = &edit.path[depth + 1..];
        let Value::Mapping(entries) = &node.value else {
            return Err(Refusal::OtherKind(line_of(text, node.span.start)));
        };
        let Some(entry) = entries.iter().find(|entry| entry.key.value == *key) else {
            return Ok(missing_key(text, node, &edit.path[depth..], &edit.put));
        };
        if entry.value.value == Value::Null {
            return empty_key(text, node, entry, rest, &edit.put);
        }
        node = &entry.value;
    }
    match (&edit.put, &node.value) {
        (Put::Item(item), Value::List(items)) => Ok(next_item(text, node, items, item)),
        (Put::Value(_), _) => Err(Refusal::Present(line_of(text, node.span.start))),
        (Put::Item(_), _) => Err(Refusal::OtherKind(line_of(text, node.span.start))),
    }
}

fn is_flow(text: &str, node: &Node) -> bool {
    text[node.span.start..].starts_with(['{', '['])
}

/// End of the line on which a place stands, before its line break; the end of the text if it is the last.
fn line_end(text: &str, at: usize) -> usize {
    text[at..].find('\n').map_or(text.len(), |length| at + length)
}

/// A new line below the one that holds `at`.
fn line_below(text: &str, at: usize, line: &str) -> (usize, String) {
    let end = line_end(text, at);
    if end == text.len() && !text.ends_with('\n') {
        (end, format!("\n{line}\n"))
    } else {
        (end, format!("\n{line}"))
    }
}

/// Lines for keys that are not there yet, each deeper than the one before, and the value under the last.
fn lines(path: &[String], put: &Put, indentation: usize) -> String {
    let mut out = String::new();
    for (depth, key) in path.iter().enumerate() {
        if depth > 0 {
            out.push('\n');
        }
        out.push_str(&" ".repeat(indentation + 2 * depth));
        out.push_str(&key_text(key, false));
        out.push(':');
    }
    match put {
        Put::Value(value) => out.push_str(&format!(" {}", written(value, false))),
        Put::Item(item) => {
            let deeper = " ".repeat(indentation + 2 * path.len());
            out.push_str(&format!("\n{deeper}- {}", written(item, true)));
        }
    }
    out
}

/// The same on one line, for a mapping in braces.
fn one_line(path: &[String], put: &Put) -> String {
    let Some((key, rest)) = path.split_first() else {
        return match put {
            Put::Value(value) => written(value, true),
            Put::Item(item) => format!("[{}]", written(item, true)),
        };
    };
    let inner = one_line(rest, put);
    let key = key_text(key, true);
    if rest.is_empty() { format!("{key}: {inner}") } else { format!("{key}: {{{inner}}}") }
}

fn missing_key(text: &str, mapping: &Node, path: &[String], put: &Put) -> (usize, String) {
    if is_flow(text, mapping) {
        let empty = matches!(&mapping.value, Value::Mapping(entries) if entries.is_empty());
        let inside = one_line(path, put);
        let before = text[..mapping.span.end - 1].trim_end();
        let comma = if empty || before.ends_with(',') { "" } else { ", " };
        return (before.len(), format!("{comma}{inside}"));
    }
    let indentation = column(text, mapping.span.start);
    let last = last_byte(mapping);
    line_below(text, last, &lines(path, put, indentation))
}

/// Where the last entry of a block mapping ends.
fn last_byte(mapping: &Node) -> usize {
    match &mapping.value {
        Value::Mapping(entries) => entries.last().map_or(mapping.span.end, |entry| {
            if matches!(entry.value.value, Value::Mapping(_) | Value::List(_)) {
                entry.value.span.end.max(entry.key.span.end)
            } else {
                entry.value.span.end
            }
        }),
        _ => mapping.span.end,
    }
}

/// A key with nothing behind its colon.
fn empty_key(
    text: &str,
    mapping: &Node,
    entry: &Entry,
    rest: &[String],
    put: &Put,
) -> Result<(usize, String), Refusal> {
    let written_null = entry.value.span.start != entry.key.span.start;
    let colon = text[entry.key.span.end..].find(':').map(|length| entry.key.span.end + length + 1);
    let (Some(colon), false) = (colon, written_null) else {
        return Err(Refusal::Present(line_of(text, entry.key.span.start)));
    };
    if is_flow(text, mapping) {
        let inner = one_line(rest, put);
        let inner = if rest.is_empty() { inner } else { format!("{{{inner}}}") };
        return Ok((colon, format!(" {inner}")));
    }
    if let (Put::Value(value), []) = (put, rest) {
        return Ok((colon, format!(" {}", written(value, false))));
    }
    let indentation = column(text, mapping.span.start) + 2;
    let below = match (put, rest) {
        (Put::Item(item), []) => format!("{}- {}", " ".repeat(indentation), written(item, true)),
        _ => lines(rest, put, indentation),
    };
    Ok(line_below(text, colon, &below))
}

fn next_item(text: &str, list: &Node, items: &[Node], item: &Written) -> (usize, String) {
    if is_flow(text, list) {
        let before = text[..list.span.end - 1].trim_end();
        let comma = if items.is_empty() || before.ends_with(',') { "" } else { ", " };
        return (before.len(), format!("{comma}{}", written(item, true)));
    }
    let indentation = column(text, list.span.start);
    let line = format!("{}- {}", " ".repeat(indentation), written(item, true));
    line_below(text, list.span.end.saturating_sub(1).max(list.span.start), &line)
}

fn key_text(key: &str, in_flow: bool) -> String {
    // In braces a bracket or comma would end the key.
    if in_flow && key.contains(['[', ']', '{', '}', ',']) { quoted(key) } else { text_of(key, in_flow) }
}

fn written(value: &Written, in_flow: bool) -> String {
    match value {
        Written::Text(text) => text_of(text, in_flow),
        Written::List(texts) => {
            let texts: Vec<String> = texts.iter().map(|text| text_of(text, true)).collect();
            format!("[{}]", texts.join(", "))
        }
        Written::Fields(fields) => {
            let fields: Vec<String> = fields
                .iter()
                .map(|(key, value)| format!("{}: {}", key_text(key, true), written(value, true)))
                .collect();
            format!("{{{}}}", fields.join(", "))
        }
    }
}

/// Text plain where it reads back as itself, else between quotes.
fn text_of(text: &str, in_flow: bool) -> String {
    let words = |c: char| c.is_ascii_alphanumeric() || "_. -/+:[]%,".contains(c);
    let ends_in_flow = in_flow && text.contains(['[', ']', ',', ':']);
    let truth =
        matches!(text.to_ascii_lowercase().as_str(), "null" | "true" | "false" | "yes" | "no" | "on" | "off");
    let plain = text.starts_with(|c: char| c.is_ascii_alphanumeric())
        && text.chars().all(words)
        && !text.ends_with([' ', ':'])
        && !text.contains(": ")
        && !ends_in_flow
        && !truth;
    if plain { text.to_owned() } else { quoted(text) }
}

fn quoted(text: &str) -> String {
    let mut out = String::from('"');
    for letter in text.chars() {
        match letter {
            '"' => out.push_str("\\\""),
            '\\' => out.push_str("\\\\"),
            '\n' => out.push_str("\\n"),
            '\t' => out.push_str("\\t"),
            letter if letter.is_control() => out.push_str(&format!("\\u{:04x}", u32::from(letter))),
            letter => out.push(letter),
        }
    }
    out.push('"');
    out
}

/// A tree without places, for comparing.
#[derive(Debug, Clone, PartialEq)]
enum Plain {
    Null,
    Text(String),
    List(Vec<Plain>),
    Mapping(Vec<(String, Plain)>),
}

fn plain(node: &Node) -> Plain {
    match &node.value {
        Value::Null => Plain::Null,
        Value::Scalar { text, .. } => Plain::Text(text.clone()),
        Value::List(items) => Plain::List(items.iter().map(plain).collect()),
        Value::Mapping(entries) => Plain::Mapping(
            entries.iter().map(|entry| (entry.key.value.clone(), plain(&entry.value))).collect(),
        ),
    }
}

fn plain_of(value: &Written) -> Plain {
    match value {
        Written::Text(text) => Plain::Text(text.clone()),
        Written::List(texts) => Plain::List(texts.iter().cloned().map(Plain::Text).collect()),
        Written::Fields(fields) => {
            Plain::Mapping(fields.iter().map(|(key, value)| (key.clone(), plain_of(value))).collect())
        }
    }
}

/// What the change means for the tree.
fn apply(tree: &mut Plain, path: &[String], put: &Put) {
    let Some((key, rest)) = path.split_first() else {
        match (put, tree) {
            (Put::Value(value), tree) => *tree = plain_of(value),
            (Put::Item(item), Plain::List(items)) => items.push(plain_of(item)),
            (Put::Item(item), tree) => *tree = Plain::List(vec![plain_of(item)]),
        }
        return;
    };
    if *tree == Plain::Null {
        *tree = Plain::Mapping(Vec::new());
    }
    let Plain::Mapping(entries) = tree else { return };
    if let Some((_, value)) = entries.iter_mut().find(|(other, _)| other == key) {
        apply(value, rest, put);
    } else {
        let mut value = Plain::Null;
        apply(&mut value, rest, put);
        entries.push((key.clone(), value));
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn text(text: &str) -> Put {
        Put::Value(Written::Text(text.to_owned()))
    }

    fn at(path: &[&str], put: Put) -> Edit {
        Edit { path: path.iter().map(|key| (*key).to_owned()).collect(), put }
    }

    #[test]
    fn comments_and_order_stay() {
        let before = "# Job.\njob: \"7\"   # seven\nreadings:\n  as_found:\n    bore[1] top: 80.01 mm # first\n    # more to come\n\nanswers: {gear: reuse}\nnotes:\n- {about: sump, says: bent}\n";
        let after = edit(before, &at(&["readings", "as_found", "bore[1] bottom"], text("80.00 mm"))).unwrap();
        assert_eq!(after, before.replace("# first\n", "# first\n    bore[1] bottom: 80.00 mm\n"));
        let after = edit(before, &at(&["answers", "liners"], text("renew"))).unwrap();
        assert_eq!(after, before.replace("reuse}", "reuse, liners: renew}"));
        let item = Written::Fields(vec![
            ("about".to_owned(), Written::Text("rod[1, inlet]".to_owned())),
            ("says".to_owned(), Written::Text("it said: \"no\"".to_owned())),
        ]);
        let after = edit(before, &at(&["notes"], Put::Item(item))).unwrap();
        assert_eq!(after, format!("{before}- {{about: \"rod[1, inlet]\", says: \"it said: \\\"no\\\"\"}}\n"));
        let after = edit(before, &at(&["looks", "as_found", "cracks"], text("sound"))).unwrap();
        assert_eq!(after, format!("{before}looks:\n  as_found:\n    cracks: sound\n"));
    }

    #[test]
    fn what_is_there_is_not_overwritten() {
        let before = "job: a\nanswers:\n  gear: reuse\n  liners:\ndone: ~\n";
        assert_eq!(edit(before, &at(&["answers", "gear"], text("renew"))), Err(Refusal::Present(3)));
        assert_eq!(edit(before, &at(&["job", "x"], text("y"))), Err(Refusal::OtherKind(1)));
        assert_eq!(edit(before, &at(&["done", "x"], text("y"))), Err(Refusal::Present(5)));
        assert_eq!(edit("- a\n", &at(&["x"], text("y"))), Err(Refusal::Unreadable));
        let after = edit(before, &at(&["answers", "liners"], text("renew"))).unwrap();
        assert_eq!(after, before.replace("liners:", "liners: renew"));
        assert_eq!(edit("job: a", &at(&["b"], text("c"))).as_deref(), Ok("job: a\nb: c\n"));
    }

    proptest! {
        #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

        /// Any text comes back as itself, and every line of the record stays as it was.
        #[test]
        fn any_value_is_kept(value in "[ -~\\n\\té°]{1,30}", key in "[a-z]{1,6}(\\[[0-9], [a-z]{1,3}\\])?( [a-z]{1,5})?", style in 0usize..4) {
            let before = ["job: a\n", "job: a\nmore:\n  x: 1 # one\n", "job: a\nmore: {x: 1}\n", "job: a\nmore:\n# end"][style];
            prop_assume!(value.trim() == value && key != "x");
            let after = edit(before, &at(&["more", &key], text(&value)));
            prop_assert!(after.is_ok(), "{after:?}");
            let after = after.unwrap();
            for line in before.lines().filter(|line| !line.ends_with('}')) {
                prop_assert!(after.lines().any(|other| other == line), "`{line}` is gone from\n{after}");
            }
        }
    }
}
