//! Changes to the text of a record: one value put at a path, everything else left byte for byte as it was.
//!
//! The change is made in the text, the result is read again and compared with what was meant; a change that
//! would do anything else is refused.

use super::comments::comments_in;
use super::yaml::{self, Entry, Node, Value};
use crate::source::FileId;

/// What is put where.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Edit {
    /// Keys from the top of the record.
    pub path: Vec<String>,
    /// What happens there.
    pub put: Put,
}

/// What happens at the end of a path.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum Put {
    /// The last key gets this value; it must not have one yet.
    Value(Written),
    /// The last key gets this value in place of the one that it has, if it has one.
    Instead(Written),
    /// The same, but what it has is kept behind the value, as taken earlier; the word is the key of the value proper.
    Again(&'static str, Written),
    /// The list under the last key gets this item more.
    Item(Written),
}

/// A value to be written.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum Written {
    /// Text.
    Text(String),
    /// Texts, on one line.
    List(Vec<String>),
    /// Values one behind the other, on one line.
    Items(Vec<Written>),
    /// Keys with texts, on one line.
    Fields(Vec<(String, Written)>),
}

/// Why a change was not made.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum Refusal {
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
pub(crate) fn edit(text: &str, edit: &Edit) -> Result<String, Refusal> {
    let before = tree(text)?;
    let edit = &keeping_earlier(&before, edit);
    let mut after = text.to_owned();
    match old_value(&before, edit) {
        Some(old) => {
            let mut written = new_value(text, old, &edit.put)?;
            for comment in comments_in(&text[old.span.start()..old.span.end()]) {
                written.push_str("  ");
                written.push_str(comment);
            }
            after.replace_range(old.span.start()..old.span.end(), &written);
        }
        None => {
            let (at, insertion) = place(text, &before, edit)?;
            after.insert_str(at, &insertion);
        }
    }
    let after = ending_alike(text, after);
    let found = plain(&tree(&after)?);
    let mut meant = plain(&before);
    apply(&mut meant, &edit.path, &edit.put);
    if found == meant { Ok(after) } else { Err(Refusal::Unsafe) }
}

/// Lines end as they did, where they all ended as on Windows.
fn ending_alike(before: &str, after: String) -> String {
    let all = before.contains('\n') && before.matches('\n').count() == before.matches("\r\n").count();
    if all { after.replace("\r\n", "\n").replace('\n', "\r\n") } else { after }
}

/// The change with what stands there written behind the new value, where that is to be kept.
fn keeping_earlier(root: &Node, edit: &Edit) -> Edit {
    let Put::Again(key, now) = &edit.put else { return edit.clone() };
    let mut fields = match now {
        Written::Fields(fields) => fields.clone(),
        value => vec![((*key).to_owned(), value.clone())],
    };
    let put = match standing_at(root, &edit.path) {
        Some(old) => {
            let mut earlier = Vec::new();
            let mut own = Vec::new();
            match &old.value {
                Value::Mapping(entries) => {
                    for entry in entries {
                        match &entry.value.value {
                            Value::List(before) if entry.key.value == EARLIER => {
                                earlier.extend(before.iter().map(copied));
                            }
                            _ => own.push((entry.key.value.clone(), copied(&entry.value))),
                        }
                    }
                }
                _ => own.push(((*key).to_owned(), copied(old))),
            }
            earlier.push(Written::Fields(own));
            fields.push((EARLIER.to_owned(), Written::Items(earlier)));
            Put::Instead(Written::Fields(fields))
        }
        None => Put::Instead(now.clone()),
    };
    Edit { path: edit.path.clone(), put }
}

/// The key under which is kept what was taken before it was taken again.
const EARLIER: &str = "earlier";

/// A value as it is written again elsewhere.
fn copied(node: &Node) -> Written {
    match &node.value {
        Value::Null => Written::Text(String::new()),
        Value::Scalar { text, .. } => Written::Text(text.clone()),
        Value::List(items) => Written::Items(items.iter().map(copied).collect()),
        Value::Mapping(entries) => Written::Fields(
            entries.iter().map(|entry| (entry.key.value.clone(), copied(&entry.value))).collect(),
        ),
    }
}

/// The value that another is put in place of.
fn old_value<'a>(root: &'a Node, edit: &Edit) -> Option<&'a Node> {
    if !matches!(edit.put, Put::Instead(_)) {
        return None;
    }
    standing_at(root, &edit.path)
}

/// The value at the end of a path, if it has one.
fn standing_at<'a>(root: &'a Node, path: &[String]) -> Option<&'a Node> {
    let found = path.iter().try_fold(root, |node, key| match &node.value {
        Value::Mapping(entries) => {
            entries.iter().find(|entry| entry.key.value == *key).map(|entry| &entry.value)
        }
        _ => None,
    });
    found.filter(|node| node.value != Value::Null)
}

/// The text that stands in place of an old value, which must be a single value or stand in brackets.
fn new_value(text: &str, old: &Node, put: &Put) -> Result<String, Refusal> {
    let plain = matches!(old.value, Value::Scalar { .. }) || is_flow(text, old);
    match put {
        Put::Instead(value) if plain => Ok(written(value, true)),
        _ => Err(Refusal::OtherKind(line_of(text, old.span.start()))),
    }
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

/// Column in bytes of a place in its line; a mark of the encoding before the first line is no part of it.
fn column(text: &str, at: usize) -> usize {
    let first = if text.starts_with('\u{feff}') { '\u{feff}'.len_utf8() } else { 0 };
    at - text[..at].rfind('\n').map_or(first, |newline| newline + 1)
}

/// Where something is put in, and what.
fn place(text: &str, root: &Node, edit: &Edit) -> Result<(usize, String), Refusal> {
    let mut node = root;
    for (depth, key) in edit.path.iter().enumerate() {
        let rest = &edit.path[depth + 1..];
        let Value::Mapping(entries) = &node.value else {
            return Err(Refusal::OtherKind(line_of(text, node.span.start())));
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
        (Put::Value(_) | Put::Instead(_) | Put::Again(..), _) => {
            Err(Refusal::Present(line_of(text, node.span.start())))
        }
        (Put::Item(_), _) => Err(Refusal::OtherKind(line_of(text, node.span.start()))),
    }
}

fn is_flow(text: &str, node: &Node) -> bool {
    text[node.span.start()..].starts_with(['{', '['])
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
        Put::Value(value) | Put::Instead(value) | Put::Again(_, value) => {
            out.push_str(&format!(" {}", written(value, false)));
        }
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
            Put::Value(value) | Put::Instead(value) | Put::Again(_, value) => written(value, true),
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
        let before = text[..mapping.span.end() - 1].trim_end();
        let comma = if empty || before.ends_with(',') { "" } else { ", " };
        return (before.len(), format!("{comma}{inside}"));
    }
    let indentation = column(text, mapping.span.start());
    let last = last_byte(mapping);
    line_below(text, last, &lines(path, put, indentation))
}

/// Where the last entry of a block mapping ends.
fn last_byte(mapping: &Node) -> usize {
    match &mapping.value {
        Value::Mapping(entries) => entries.last().map_or(mapping.span.end(), |entry| {
            if matches!(entry.value.value, Value::Mapping(_) | Value::List(_)) {
                entry.value.span.end().max(entry.key.span.end())
            } else {
                entry.value.span.end()
            }
        }),
        _ => mapping.span.end(),
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
    let written_null = entry.value.span.start() != entry.key.span.start();
    let colon = text[entry.key.span.end()..].find(':').map(|length| entry.key.span.end() + length + 1);
    let (Some(colon), false) = (colon, written_null) else {
        return Err(Refusal::Present(line_of(text, entry.key.span.start())));
    };
    if is_flow(text, mapping) {
        let inner = one_line(rest, put);
        let inner = if rest.is_empty() { inner } else { format!("{{{inner}}}") };
        return Ok((colon, format!(" {inner}")));
    }
    if let (Put::Value(value) | Put::Instead(value) | Put::Again(_, value), []) = (put, rest) {
        return Ok((colon, format!(" {}", written(value, false))));
    }
    let indentation = column(text, mapping.span.start()) + 2;
    let below = match (put, rest) {
        (Put::Item(item), []) => format!("{}- {}", " ".repeat(indentation), written(item, true)),
        _ => lines(rest, put, indentation),
    };
    Ok(line_below(text, colon, &below))
}

fn next_item(text: &str, list: &Node, items: &[Node], item: &Written) -> (usize, String) {
    if is_flow(text, list) {
        let before = text[..list.span.end() - 1].trim_end();
        let comma = if items.is_empty() || before.ends_with(',') { "" } else { ", " };
        return (before.len(), format!("{comma}{}", written(item, true)));
    }
    let indentation = column(text, list.span.start());
    let line = format!("{}- {}", " ".repeat(indentation), written(item, true));
    // The span may end behind a line break: the line of its last letter, which may be several bytes long, is meant.
    let written = &text[list.span.start()..list.span.end()];
    let last = list.span.start() + written.char_indices().next_back().map_or(0, |(at, _)| at);
    line_below(text, last, &line)
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
        Written::Items(items) => {
            let items: Vec<String> = items.iter().map(|item| written(item, true)).collect();
            format!("[{}]", items.join(", "))
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
        Written::Items(items) => Plain::List(items.iter().map(plain_of).collect()),
        Written::Fields(fields) => {
            Plain::Mapping(fields.iter().map(|(key, value)| (key.clone(), plain_of(value))).collect())
        }
    }
}

/// What the change means for the tree.
fn apply(tree: &mut Plain, path: &[String], put: &Put) {
    let Some((key, rest)) = path.split_first() else {
        match (put, tree) {
            (Put::Value(value) | Put::Instead(value) | Put::Again(_, value), tree) => *tree = plain_of(value),
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
