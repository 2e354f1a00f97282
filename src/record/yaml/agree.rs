//! The tree of places held against what serde_yaml reads: the only file that names serde_yaml.

use super::{Fault, Node, Value};
use crate::source::{FileId, Span};

/// Passes if serde_yaml reads `text` as the same tree as `node`.
pub(in crate::record) fn agree(file: FileId, text: &str, node: &Node) -> Result<(), Fault> {
    // serde_yaml takes a byte order mark for a document of its own.
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
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

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::super::scan;
    use super::*;

    const FILE: FileId = FileId(0);

    fn read(text: &str) -> Result<Node, Fault> {
        let node = scan(FILE, text)?;
        agree(FILE, text, &node).map(|()| node)
    }

    fn tree() -> impl Strategy<Value = serde_yaml::Value> {
        let text = "[ -~\n]{0,24}|[a-z]{1,8}( [a-z0-9.]{1,8}){0,3}|-?[0-9]{1,4}(\\.[0-9]{1,3})?";
        let leaf = text.prop_map(serde_yaml::Value::String);
        leaf.prop_recursive(5, 40, 5, |inner| {
            let list = proptest::collection::vec(inner.clone(), 0..5).prop_map(serde_yaml::Value::Sequence);
            let map =
                proptest::collection::btree_map("[a-z_]{1,6}(\\[[0-9], [a-z]\\])?|[ -~]{1,8}", inner, 0..5);
            let map = map.prop_map(|entries| {
                let entries = entries.into_iter().map(|(key, value)| (serde_yaml::Value::String(key), value));
                serde_yaml::Value::Mapping(entries.collect())
            });
            prop_oneof![list, map]
        })
    }

    proptest! {
        #![proptest_config(ProptestConfig { cases: 400, failure_persistence: None, ..ProptestConfig::default() })]

        /// Whatever serde_yaml writes, the scanner finds the same tree in it.
        #[test]
        fn what_serde_yaml_writes_is_found(tree in tree()) {
            let text = serde_yaml::to_string(&tree).unwrap();
            let found = read(&text);
            prop_assert!(found.is_ok(), "{found:?} in\n{text}");
        }

        /// No text makes the scanner panic, and what it takes serde_yaml takes the same way or refuses.
        #[test]
        fn any_text_is_taken_or_refused(text in "([a-c]: |- |  |\n|\"|'|[{}\\[\\],#&*!|>%?]|[a-cé]| ){0,40}") {
            let _ = read(&text);
        }
    }

    #[test]
    fn places_are_those_of_the_text() {
        let text =
            "job: \"7\" # a comment\nreadings:\n  bore[1] top: 80.030 mm\nlist:\n- a\n- {b: c d, e: [f]}\n";
        let Value::Mapping(entries) = read(text).unwrap().value else { panic!("not a mapping") };
        let shown = |span: Span| &text[span.start()..span.end()];
        assert_eq!(shown(entries[0].value.span), "\"7\"");
        let Value::Mapping(readings) = &entries[1].value.value else { panic!("not a mapping") };
        assert_eq!(readings[0].key.value, "bore[1] top");
        assert_eq!(shown(readings[0].value.span), "80.030 mm");
        assert_eq!(shown(entries[2].value.span), "- a\n- {b: c d, e: [f]}");
    }

    #[test]
    fn texts_in_every_style_are_read_as_serde_yaml_reads_them() {
        for text in [
            "a: |\n  one\n   two\n\n  three\nb: >-\n  one\n  two\n\n  three\n    four\n  five\n",
            "a: 'it''s'\nb: \"tab\\t \\u00e9 \\\"x\\\"\"\nc: one\n  two\n\n  three\n",
            "a: {b: [1, 2.50, x y], c: {}}\nd: []\n",
            "- - 1\n  - 2\n- a: 1\n  b:\n  - 3\n-\n  c: ~\n",
            "a: \"two\n  lines\n\n  and more\"\nb: http://x#y\n",
            "--- \n# nothing yet\na: {\n  b: 1, # comment\n  c: 2\n}\n",
            "\u{feff}a: 1\r\nb: x\r\n",
            "true: yes\n'null': no\n",
        ] {
            assert!(read(text).is_ok(), "{:?} in\n{text}", read(text));
        }
    }

    #[test]
    fn hostile_texts_are_refused_at_once() {
        let deep = "[".repeat(1_000_000);
        assert!(matches!(read(&deep), Err(Fault::Deep(_))));
        let deep = "{a: ".repeat(100_000);
        assert!(matches!(read(&deep), Err(Fault::Deep(_))));
        let deep = "- ".repeat(10_000);
        assert!(matches!(read(&deep), Err(Fault::Deep(_))));
        let bomb = "a: &a [x, x]\nb: &b [*a, *a]\nc: [*b, *b]\n";
        assert!(matches!(read(bomb), Err(Fault::Anchor(_))));
        assert!(matches!(read("a: !!binary x\n"), Err(Fault::Anchor(_))));
        assert!(matches!(read("a: 1\nb: 2\na: 3\n"), Err(Fault::Duplicate(..))));
        let colon = read("a: b: c\n");
        assert!(matches!(&colon, Err(Fault::Colon(value)) if value.value == "b: c"), "{colon:?}");
        for text in
            ["a: [1\n", "a: \"x\n", "a: 1\n  b: 2\n", "a:\n\tb: 1\n", "a: 1\n---\nb: 2\n", "? a\n: b\n"]
        {
            assert!(matches!(read(text), Err(Fault::Syntax(..))), "{:?} in\n{text}", read(text));
        }
    }
}
