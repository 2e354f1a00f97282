//! No circle of files inside a room: whoever reads a file can read first what it stands on.
//!
//! A file stands on another if it names it or something in it, in a `use` or by a path. A name that a `mod.rs` only hands
//! on (`pub use`) leads to the file that defines it. What the `mod.rs` of a folder around a file defines itself is the
//! common ground of that folder, and free to all in it; a `mod.rs` of another folder is a file like any other. Tests in
//! a file don't count; neither do calls of methods, which name no file.

use std::collections::{BTreeMap, BTreeSet, VecDeque};
use std::fs;
use std::path::Path;

use super::rust_files;

/// The way to a module or to something in it, without `crate`.
type Way = Vec<String>;

/// A file by what it says of others.
struct Source {
    /// What it uses, each with the name that it has here; `*` is all that is there.
    uses: Vec<(Way, String)>,
    /// Paths in its code.
    paths: Vec<Way>,
    /// What it defines.
    defines: BTreeSet<String>,
}

/// Every file by its module.
type House = BTreeMap<Way, Source>;

fn way(path: &str) -> Way {
    path.split("::").map(str::trim).filter(|word| !word.is_empty()).map(str::to_owned).collect()
}

fn joined(before: &[String], after: &[String]) -> Way {
    [before, after].concat()
}

impl Source {
    fn read(text: &str) -> Source {
        let text = text.split("#[cfg(test)]\nmod tests {").next().unwrap_or_default();
        let lines = text.lines().map(|line| line.split("//").next().unwrap_or_default());
        let (mut uses, mut code, mut open) = (Vec::new(), String::new(), String::new());
        for line in lines {
            let bare = line.trim_start();
            let bare = bare.strip_prefix("pub").map_or(bare, |seen| {
                seen.strip_prefix('(').and_then(|seen| seen.split_once(") ")).map_or(seen, |(_, rest)| rest)
            });
            let bare = bare.trim_start();
            if open.is_empty() && !bare.starts_with("use ") {
                code += line;
                code.push('\n');
                continue;
            }
            open += bare;
            open.push(' ');
            if let Some(whole) = open.trim_end().strip_suffix(';') {
                used(&[], whole.trim_start_matches("use "), &mut uses);
                open.clear();
            }
        }
        let part = |letter: char| letter.is_alphanumeric() || letter == '_';
        let paths = code.split(|letter| !part(letter) && letter != ':').filter(|word| word.contains("::"));
        let words: Vec<&str> = code.split(|letter| !part(letter)).filter(|word| !word.is_empty()).collect();
        let kinds = ["struct", "enum", "type", "trait", "fn", "const", "static"];
        let defined = words.windows(2).filter(|pair| kinds.contains(&pair[0])).map(|pair| pair[1].to_owned());
        Source {
            paths: paths.map(way).filter(|path| path.len() > 1).collect(),
            defines: defined.collect(),
            uses,
        }
    }
}

/// The members of a `use`, each with its name: `a::{b, c as d}`.
fn used(before: &[String], tree: &str, found: &mut Vec<(Way, String)>) {
    let mut depth = 0;
    let members = tree.split(|letter| {
        depth += i32::from(letter == '{') - i32::from(letter == '}');
        letter == ',' && depth == 0
    });
    for member in members.map(str::trim).filter(|member| !member.is_empty()) {
        if let Some((head, inner)) = member.split_once('{') {
            used(&joined(before, &way(head)), inner.trim_end().trim_end_matches('}'), found);
            continue;
        }
        let (path, name) = member.split_once(" as ").unwrap_or((member, ""));
        let mut path = joined(before, &way(path));
        if path.len() > 1 && path.last().is_some_and(|last| last == "self") {
            path.pop();
        }
        let name =
            if name.is_empty() { path.last().cloned().unwrap_or_default() } else { name.trim().to_owned() };
        found.push((path, name));
    }
}

/// A path as it is meant in a module; none where it leads out of the house.
fn meant(house: &House, module: &[String], path: &[String]) -> Option<Way> {
    match path.first()?.as_str() {
        "crate" => Some(path[1..].to_vec()),
        "self" => Some(joined(module, &path[1..])),
        "super" => {
            let up = path.iter().take_while(|word| *word == "super").count();
            Some(joined(module.get(..module.len().checked_sub(up)?)?, &path[up..]))
        }
        _ => Some(joined(module, path)).filter(|whole| house.contains_key(&whole[..=module.len()])),
    }
}

/// The file that defines what a path leads to.
fn definer<'h>(house: &'h House, path: &[String], hops: usize) -> Option<&'h Way> {
    let length = (1..=path.len()).rev().find(|length| house.contains_key(&path[..*length]))?;
    let (module, source) = house.get_key_value(&path[..length])?;
    let Some(name) = path.get(length).filter(|name| hops > 0 && !source.defines.contains(*name)) else {
        return Some(module);
    };
    let whole = |path: &[String]| meant(house, module, path);
    let handed_on = source.uses.iter().find(|(_, known)| known == name).and_then(|(path, _)| whole(path));
    let among = source.uses.iter().filter(|(_, known)| known == "*").filter_map(|(path, _)| {
        let folder = whole(&path[..path.len() - 1])?;
        house.get(&folder)?.defines.contains(name).then(|| joined(&folder, std::slice::from_ref(name)))
    });
    match handed_on.or_else(|| among.into_iter().next()) {
        Some(path) => definer(house, &path, hops - 1),
        None => Some(module),
    }
}

/// What a file stands on.
fn stands_on<'h>(house: &'h House, module: &Way, source: &Source) -> BTreeSet<&'h Way> {
    let by_name = |path: &Way| {
        let renamed = source.uses.iter().find(|(_, name)| *name == path[0]);
        renamed.map_or_else(|| path.clone(), |(whole, _)| joined(whole, &path[1..]))
    };
    let named = source.uses.iter().map(|(path, _)| path.clone()).chain(source.paths.iter().map(by_name));
    let whole: Vec<Way> = named.filter_map(|path| meant(house, module, &path)).collect();
    let all = whole.iter().filter_map(|path| path.strip_suffix(&["*".to_owned()])).filter_map(|folder| {
        let uses = house.get(folder)?.uses.iter();
        Some(uses.filter_map(|(path, _)| meant(house, folder, path)).collect::<Vec<Way>>())
    });
    let all: Vec<Way> = all.flatten().collect();
    let files = whole.iter().chain(&all).filter_map(|path| definer(house, path, 9));
    files.filter(|other| !module.starts_with(other)).collect()
}

/// The shortest circle through each file that stands in one, each circle once.
fn circles(files: &[(&str, &str)]) -> Vec<String> {
    let house: House = files.iter().map(|(module, text)| (way(module), Source::read(text))).collect();
    let below: BTreeMap<&Way, BTreeSet<&Way>> =
        house.iter().map(|(module, source)| (module, stands_on(&house, module, source))).collect();
    let mut found: BTreeMap<BTreeSet<&Way>, String> = BTreeMap::new();
    for start in house.keys() {
        let mut from: BTreeMap<&Way, &Way> = BTreeMap::new();
        let mut queue = VecDeque::from([start]);
        while let Some(at) = queue.pop_front().filter(|_| !from.contains_key(start)) {
            for next in &below[at] {
                if !from.contains_key(next) {
                    from.insert(next, at);
                    queue.push_back(next);
                }
            }
        }
        let mut circle = Vec::new();
        let mut at = from.get(start).copied();
        while let Some(file) = at {
            circle.push(file);
            at = from.get(file).copied().filter(|_| file != start);
        }
        if !circle.is_empty() {
            let names: Vec<String> =
                circle.iter().rev().chain([&start]).map(|module| module.join("/")).collect();
            found.entry(circle.into_iter().collect()).or_insert_with(|| names.join(" → "));
        }
    }
    found.into_values().collect()
}

#[test]
fn no_circle_of_files_inside_a_room() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let texts: Vec<(String, String)> = rust_files(&root)
        .into_iter()
        .filter(|file| file.parent() != Some(&root))
        .map(|file| {
            let module =
                file.strip_prefix(&root).unwrap().with_extension("").to_string_lossy().replace('/', "::");
            (module.trim_end_matches("::mod").to_owned(), fs::read_to_string(file).unwrap())
        })
        .collect();
    let files: Vec<(&str, &str)> = texts.iter().map(|(module, text)| (&**module, &**text)).collect();
    let found = circles(&files);
    assert!(found.is_empty(), "files stand on each other in a circle:\n{}", found.join("\n"));
}

#[test]
fn circles_are_seen() {
    let face = (
        "room",
        "mod one;\nmod two;\npub use one::*;\npub(crate) use two::{Second,\n    third};\npub struct Ground;",
    );
    let one = |text| ("room::one", text);
    let two = |text| ("room::two", text);
    let seen = |one, two| circles(&[face, one, two]);
    let circle = ["room/one → room/two → room/one".to_owned()];
    // By name, by path, and by what the room hands on.
    assert_eq!(seen(one("use super::two::third;\npub fn first() {}"), two("use super::one::first;")), circle);
    assert_eq!(
        seen(one("pub fn first() { super::two::third() }"), two("use super::{Ground, first};")),
        circle
    );
    assert_eq!(
        seen(one("use super::Second;\npub enum First {}"), two("use crate::room::First as Other;")),
        circle
    );
    assert_eq!(
        seen(one("use super::two;\npub fn first() { two::third() }"), two("use crate::room::first;")),
        circle
    );
    assert_eq!(seen(one("pub fn first() {}"), two("use super::*;\npub fn third() {}")).len(), 0);
    assert_eq!(seen(one("use super::Second;"), two("use super::*;\npub struct Second;")), circle);
    // One way alone, the common ground, and tests make none.
    let tests = "pub struct Second;\n#[cfg(test)]\nmod tests {\n    use super::super::first;\n}";
    assert!(seen(one("use super::{Ground, Second};\npub fn first() {}"), two(tests)).is_empty());
    assert!(seen(one("use super::Ground;"), two("// use super::one::first;\nuse super::Ground;")).is_empty());
}
