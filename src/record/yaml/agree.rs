//! The tree of places held against what serde_yaml reads: the only file that names serde_yaml.

use super::{Fault, Node, Value};
use crate::source::{FileId, Span};

/// Passes if serde_yaml reads `text` as the same tree as `node`.
pub(in crate::record) fn agree(file: FileId, text: &str, node: &Node) -> Result<(), Fault> {
    let read: serde_yaml::Value = serde_yaml::from_str(text).map_err(|error| refused(file, text, &error))?;
    same(node, &read)
}

/// What serde_yaml complains of, at the place that it gives.
fn refused(file: FileId, text: &str, error: &serde_yaml::Error) -> Fault {
    let start = error.location().map_or(0, |location| location.index()).min(text.len());
    let end = text[start..].find('\n').map_or(text.len(), |length| start + length);
    let words = error.to_string();
    let words = words.split(" at line ").next().unwrap_or(&words).to_owned();
    Fault::Syntax(Span::new(file, start, end), words)
}

fn same(node: &Node, read: &serde_yaml::Value) -> Result<(), Fault> {
    let differs = || {
        let words = "this can be read in two ways: put the text between quotes, or write it more plainly";
        Err(Fault::Syntax(node.span, words.to_owned()))
    };
    match (&node.value, read) {
        (Value::Null, serde_yaml::Value::Null) => Ok(()),
        (Value::Scalar { text, .. }, serde_yaml::Value::String(other)) if text == other => Ok(()),
        (Value::Scalar { text, plain: true }, serde_yaml::Value::Bool(other))
            if text.eq_ignore_ascii_case(&other.to_string()) =>
        {
            Ok(())
        }
        (Value::Scalar { plain: true, .. }, serde_yaml::Value::Number(_)) => Ok(()),
        (Value::List(items), serde_yaml::Value::Sequence(others)) if items.len() == others.len() => {
            items.iter().zip(others).try_for_each(|(item, other)| same(item, other))
        }
        (Value::Mapping(entries), serde_yaml::Value::Mapping(others)) if entries.len() == others.len() => {
            entries.iter().zip(others).try_for_each(|(entry, (key, value))| {
                if key_text(key).as_deref().is_none_or(|text| text == entry.key.value) {
                    same(&entry.value, value)
                } else {
                    differs()
                }
            })
        }
        _ => differs(),
    }
}

/// A key as text; none where it was written as a number, whose spelling serde_yaml does not keep.
fn key_text(key: &serde_yaml::Value) -> Option<String> {
    match key {
        serde_yaml::Value::String(text) => Some(text.clone()),
        serde_yaml::Value::Bool(truth) => Some(truth.to_string()),
        serde_yaml::Value::Null => Some("null".to_owned()),
        _ => None,
    }
}
