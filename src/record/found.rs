//! What the text of a record has at a place already, whatever way the place is written there: `valve[1,inlet]` and
//! `valve[1, inlet]` are one.

use super::Named;
use super::yaml::{self, Value};
use crate::source::FileId;

/// A place in a record as it is written there, and what stands there.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(crate) struct Standing {
    /// The keys, those that are there as they are written.
    pub keys: Vec<String>,
    /// What stands there: the value, each item of a list, or the value or result of one with fields; empty for nothing.
    pub texts: Vec<String>,
}

/// What stands at a place; an unreadable text has nothing anywhere.
pub(crate) fn standing(text: &str, keys: &[String]) -> Standing {
    let mut found = Standing { keys: keys.to_vec(), texts: Vec::new() };
    let Ok(root) = yaml::scan(FileId(0), text) else { return found };
    let mut node = &root;
    for (depth, key) in keys.iter().enumerate() {
        let Value::Mapping(entries) = &node.value else { return found };
        let Some(entry) = entries.iter().find(|entry| same(&entry.key.value, key)) else { return found };
        found.keys[depth].clone_from(&entry.key.value);
        node = &entry.value;
    }
    found.texts = texts(&node.value);
    found
}

fn texts(value: &Value) -> Vec<String> {
    match value {
        Value::Null => Vec::new(),
        Value::Scalar { text, .. } => vec![text.clone()],
        Value::List(items) => items.iter().flat_map(|item| texts(&item.value)).collect(),
        Value::Mapping(entries) => {
            let said =
                entries.iter().find(|entry| ["value", "result", "says"].contains(&entry.key.value.as_str()));
            said.map_or_else(|| vec![String::new()], |said| texts(&said.value.value))
        }
    }
}

/// Whether two keys name the same thing at the same place.
fn same(one: &str, other: &str) -> bool {
    let plain = |text: &str| Named::typed(text).map(|named| named.to_string());
    one == other || plain(one).is_some_and(|named| Some(named) == plain(other))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_place_is_found_however_it_is_written() {
        let text = "readings:\n  as_found:\n    \"lash[1,inlet]\": {value: 0.30 mm, by: HK}\n    bore[1]  top: 80.0 mm\n\
                    intake: {photographs: [a, b]}\n\
                    notes:\n  - {about: engine, says: \"a \\\\ stroke\"}\n";
        let at =
            |keys: &[&str]| standing(text, &keys.iter().map(|key| (*key).to_owned()).collect::<Vec<_>>());
        let lash = at(&["readings", "as_found", "lash[1, inlet]"]);
        assert_eq!((lash.keys[2].as_str(), lash.texts), ("lash[1,inlet]", vec!["0.30 mm".to_owned()]));
        assert_eq!(at(&["readings", "as_found", "bore[1] top"]).texts, ["80.0 mm"]);
        assert_eq!(at(&["intake", "photographs"]).texts, ["a", "b"]);
        assert_eq!(at(&["notes"]).texts, ["a \\ stroke"]);
        assert!(at(&["readings", "as_found", "bore[2] top"]).texts.is_empty());
    }
}
