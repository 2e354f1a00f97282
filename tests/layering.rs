//! The house as data: which room may use which, and which crate belongs to which room.

mod circles;
mod printing;

use std::fs;
use std::path::{Path, PathBuf};

/// Rooms in order of dependency: each may use only those before it.
const ROOMS: [&str; 22] = [
    "source",
    "english",
    "quantity",
    "diagnostics",
    "mechanics",
    "metrology",
    "language",
    "procedure",
    "structure",
    "sequence",
    "network",
    "record",
    "decide",
    "plan",
    "sheet",
    "packet",
    "page",
    "gather",
    "screen",
    "workshop",
    "editor",
    "cli",
];

/// Rooms that stand beside the way: a pure room uses nothing but what is named here.
const PURE: [(&str, &[&str]); 9] = [
    ("source", &[]),
    ("english", &[]),
    ("quantity", &["english"]),
    ("mechanics", &["english", "quantity"]),
    ("metrology", &["quantity"]),
    ("sequence", &[]),
    ("sheet", &[]),
    ("page", &["source", "english", "quantity", "diagnostics", "sheet"]),
    ("screen", &["sheet", "page", "gather"]),
];

/// A crate and the only rooms that may name it.
const CRATES: [(&str, &[&str]); 20] = [
    ("pest", &["language"]),
    ("pest_derive", &["language"]),
    ("serde_yaml", &["record"]),
    ("csv", &["decide", "gather"]),
    ("thin_vec", &["language", "procedure"]),
    ("rayon", &["language", "page", "procedure", "workshop"]),
    ("petgraph", &["sequence"]),
    ("clap", &["cli"]),
    ("clap_complete", &["cli"]),
    ("clap_mangen", &["cli"]),
    ("lsp_server", &["editor"]),
    ("lsp_types", &["editor"]),
    ("miette", &["diagnostics"]),
    ("printpdf", &["page"]),
    ("lopdf", &["page"]),
    ("subsetter", &["page"]),
    ("ttf_parser", &["page"]),
    ("flate2", &["page"]),
    ("qrcodegen", &["page"]),
    ("dejavu", &["page"]),
];

fn rust_files(folder: &Path) -> Vec<PathBuf> {
    let mut files = Vec::new();
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            files.extend(rust_files(&path));
        } else if path.extension().is_some_and(|extension| extension == "rs") {
            files.push(path);
        }
    }
    files.sort();
    files
}

/// Whether `word` stands in `line` as a whole word.
fn names(line: &str, word: &str) -> bool {
    let part_of_word = |c: char| c.is_alphanumeric() || c == '_';
    line.match_indices(word).any(|(at, _)| {
        !line[..at].chars().next_back().is_some_and(part_of_word)
            && !line[at + word.len()..].chars().next().is_some_and(part_of_word)
    })
}

#[test]
fn each_room_uses_only_rooms_above_it_and_crates_of_its_own() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut faults = Vec::new();
    for (index, room) in ROOMS.iter().enumerate() {
        let pure = PURE.iter().find(|(name, _)| name == room).map(|(_, allowed)| *allowed);
        for file in rust_files(&root.join("src").join(room)) {
            let text = fs::read_to_string(&file).unwrap();
            for (number, line) in text.lines().enumerate() {
                let code = line.split("//").next().unwrap_or_default();
                let place = format!("{}:{}", file.strip_prefix(root).unwrap().display(), number + 1);
                for (other_index, other) in ROOMS.iter().enumerate() {
                    let used = code.contains(&format!("crate::{other}::"))
                        || code.contains(&format!("crate::{other};"))
                        || (code.contains("use crate::{") && names(code, other));
                    let allowed = match pure {
                        Some(list) => other == room || list.contains(other),
                        None => other_index <= index,
                    };
                    if used && !allowed {
                        faults.push(format!("{place}: `{room}` must not use `{other}`"));
                    }
                }
                for (name, owners) in CRATES {
                    let used = code.contains(&format!("{name}::"))
                        && names(code, name)
                        && !code.contains(&format!("::{name}::"));
                    if used && !owners.contains(room) {
                        faults.push(format!(
                            "{place}: `{room}` must not name the crate `{name}`, which belongs to {owners:?}"
                        ));
                    }
                }
            }
        }
    }
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

#[test]
fn the_table_of_contents_lists_the_rooms_in_order() {
    let text = fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("src/lib.rs")).unwrap();
    let listed: Vec<&str> = text
        .lines()
        .filter_map(|line| line.strip_prefix("pub mod ").or_else(|| line.strip_prefix("mod ")))
        .map(|rest| rest.trim_end_matches(';'))
        .filter(|name| *name != "tests")
        .collect();
    assert_eq!(listed, ROOMS);
}

#[test]
fn every_test_file_runs() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests");
    let lists = ["main.rs", "rooms.rs"].map(|list| fs::read_to_string(folder.join(list)).unwrap()).concat();
    for entry in fs::read_dir(&folder).unwrap() {
        let path = entry.unwrap().path();
        let name = path.file_stem().unwrap().to_string_lossy().into_owned();
        // The tests of the editor's room are listed by the room itself.
        let listed_by_room = fs::read_to_string(folder.join("../src").join(&name).join("mod.rs"))
            .is_ok_and(|text| text.contains(&format!("\"../../tests/{name}/mod.rs\"")));
        let is_test =
            !listed_by_room && (path.extension().is_some_and(|e| e == "rs") || path.join("mod.rs").exists());
        if is_test && name != "main" && name != "rooms" {
            assert!(
                lists.contains(&format!("mod {name};")),
                "tests/{name} is listed neither in tests/main.rs nor in tests/rooms.rs"
            );
        }
    }
}

/// Texts that name files: the pages, the grammar, and the header of every module.
fn texts_that_name_files(top: &Path) -> Vec<(PathBuf, String)> {
    let read = |path: PathBuf| (path.clone(), fs::read_to_string(path).unwrap());
    let mut texts: Vec<(PathBuf, String)> =
        ["README.md", "DEVELOPERS.md"].map(|page| read(top.join(page))).into_iter().collect();
    texts.extend(fs::read_dir(top.join("grammar")).unwrap().map(|entry| read(entry.unwrap().path())));
    for folder in ["src", "tests", "benches", "examples"] {
        for (path, text) in rust_files(&top.join(folder)).into_iter().map(read) {
            let header = text.lines().filter(|line| line.starts_with("//!")).collect::<Vec<_>>().join("\n");
            texts.push((path, header));
        }
    }
    texts
}

#[test]
fn every_file_that_is_named_exists() {
    let top = Path::new(env!("CARGO_MANIFEST_DIR"));
    let sources: Vec<String> = ["src", "tests", "benches", "examples"]
        .into_iter()
        .flat_map(|folder| rust_files(&top.join(folder)))
        .map(|path| path.file_name().unwrap().to_string_lossy().into_owned())
        .collect();
    let mut named = 0;
    let mut missing = Vec::new();
    for (text_path, text) in texts_that_name_files(top) {
        let part = |letter: char| letter.is_ascii_alphanumeric() || "_-./*<>".contains(letter);
        for word in text.split(|letter| !part(letter)).map(|word| word.trim_end_matches('.')) {
            let from_top = ["src/", "grammar/", "tests/", "benches/", "examples/"]
                .iter()
                .any(|folder| word.starts_with(folder));
            let exists = if word.contains(['*', '<']) {
                continue;
            } else if from_top {
                top.join(word).exists()
            } else if word.ends_with(".rs") && !word.contains('/') && word.len() > 3 {
                sources.iter().any(|source| source == word)
            } else {
                continue;
            };
            named += 1;
            if !exists {
                missing.push(format!("{}: {word}", text_path.display()));
            }
        }
    }
    assert!(named > 30, "only {named} files are named");
    assert!(missing.is_empty(), "no such file:\n{}", missing.join("\n"));
}
