//! What editors colour by, written from the grammar and the list of units: it knows each word of the language, and no more.

use std::collections::BTreeSet;
use std::path::Path;

use serde_json::{Value, json};

use crate::tests::expected;
use benchleaf::quantity::Unit;

/// Every word that stands between quotes in the grammar, and those of its rules for single words.
fn words() -> BTreeSet<String> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("grammar");
    // A unit is told by the number before it, unless it is a word of its own, such as `in`.
    let units: BTreeSet<&str> = Unit::all().iter().map(|unit| unit.symbol).collect();
    let mut words = BTreeSet::new();
    for path in expected::files(&folder, "pest") {
        let text = std::fs::read_to_string(&path).unwrap();
        for line in text.lines().map(|line| line.split("//").next().unwrap()) {
            let quoted = line.split('"').skip(1).step_by(2);
            let quoted = quoted.flat_map(|quoted| quoted.split(' '));
            words.extend(quoted.filter(|word| !units.contains(word)).map(str::to_owned));
            let named =
                line.trim_start().strip_prefix("key_").and_then(|rest| rest.split_whitespace().next());
            words.extend(named.map(|word| word.replace("left_hand", "left-hand")));
        }
    }
    let letters =
        |word: &String| word.len() > 1 && word.bytes().all(|byte| byte.is_ascii_lowercase() || byte == b'-');
    words.retain(letters);
    words
}

/// One of some words, the longest first, so that none hides another that it begins.
fn any<'w>(words: impl IntoIterator<Item = &'w str>) -> String {
    let mut words: Vec<String> =
        words.into_iter().map(|word| word.replace('.', "\\.").replace('/', "\\/")).collect();
    words.sort_by_key(|word| (std::cmp::Reverse(word.len()), word.clone()));
    words.join("|")
}

fn definition() -> Value {
    let words = words();
    let fixed = any(words.iter().map(String::as_str));
    let units = any(Unit::all().iter().map(|unit| unit.symbol));
    let number = "-?[0-9]+(?:\\.[0-9]+)?(?: [0-9]+\\/[0-9]+|\\/[0-9]+)?";
    json!({
        "name": "benchleaf procedure",
        "scopeName": "source.rebuild",
        "fileTypes": ["rebuild"],
        "patterns": [
            { "name": "comment.line.double-dash.rebuild", "match": "--.*$" },
            {
                "name": "string.quoted.double.rebuild",
                "begin": "\"",
                "end": "\"|$",
                "patterns": [{ "name": "constant.character.escape.rebuild", "match": "\\\\[\"\\\\]" }],
            },
            {
                "name": "constant.numeric.thread.rebuild",
                "match": "(?<![\\w.])(?:M[0-9]+(?:\\.[0-9]+)?(?:x[0-9.]+)?|(?:No\\. )?[0-9\\/ -]+-[0-9.]+ UN[A-Z]*)(?![\\w])",
            },
            {
                "name": "constant.numeric.class.rebuild",
                "match": "(?<=\\bclass )(?:SAE [0-9.]+|[A-Z]?[0-9]+(?:[.-][0-9]+)?)(?![\\w.])",
            },
            {
                "match": format!("(?<![\\w.])({number}) ?({units})?(?![\\w\\/%.])"),
                "captures": {
                    "1": { "name": "constant.numeric.rebuild" },
                    "2": { "name": "keyword.other.unit.rebuild" },
                },
            },
            { "name": "constant.numeric.rebuild", "match": format!("(?<![\\w.]){number}") },
            // Behind the brackets of a point, behind the last of a list, and by itself.
            { "name": "keyword.other.unit.rebuild", "match": format!("(?<=\\) |[0-9], |unit )(?:{units})(?![\\w\\/%.])") },
            // The currency of a price.
            { "name": "keyword.other.unit.rebuild", "match": "(?<=[0-9] )[A-Z]{3}(?!\\w)" },
            { "name": "keyword.other.rebuild", "match": format!("(?<![\\w-])(?:{fixed})(?![\\w-])") },
            { "name": "variable.other.rebuild", "match": "(?<![\\w-])[A-Za-z_][A-Za-z0-9_]*(?![\\w-])" },
        ],
    })
}

#[test]
fn the_colours_of_editors_are_those_of_the_grammar() {
    let mut text = serde_json::to_string_pretty(&definition()).unwrap();
    text.push('\n');
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("grammar/rebuild.tmLanguage.json");
    expected::compare(&path, &text).unwrap();
}
