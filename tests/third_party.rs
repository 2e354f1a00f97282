//! The third-party file, for whoever hands out a binary: it names every crate that `Cargo.lock` binds into the program,
//! with the texts that their licences ask for. `REWRITE_EXPECTED=1 cargo test` makes it anew when it doesn't.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use serde_json::Value;

/// What comes before the list of crates.
const HEAD: &str = "Crates of others in the program

For whoever hands out benchleaf as a binary, which goes with this file, LICENSE-APACHE and NOTICE. It lists every crate
that any platform's binary is built from, those that only build included, and is made from Cargo.lock.

Some crates are offered under Apache-2.0 alone, so a binary as a whole stands under Apache-2.0 (LICENSE-APACHE), though
benchleaf's own source may be taken under MIT too. A crate that offers Apache-2.0 beside others is taken under that;
texts are given below where another licence, or a notice of its own, has to be passed on.
";

fn root(path: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join(path)
}

/// Name and version.
type Crate = (String, String);

/// The crates that the program is built from, from `Cargo.lock`: all that its dependencies lead to, but not what only
/// tests and benches use.
fn locked() -> BTreeSet<Crate> {
    let manifest = fs::read_to_string(root("Cargo.toml")).unwrap();
    // Those of every system, and those of some.
    let sections = manifest.split("\n[").filter(|section| {
        let head = section.split("]\n").next().unwrap_or_default();
        head == "dependencies" || head.starts_with("target.") && head.ends_with(".dependencies")
    });
    let lines = sections.flat_map(|section| section.lines().skip(1));
    let direct = lines.filter(|line| !line.starts_with('#')).filter_map(|line| line.split_once('='));
    let direct: Vec<&str> = direct.map(|(name, _)| name.trim()).collect();
    let lock = fs::read_to_string(root("Cargo.lock")).unwrap();
    let mut packages: BTreeMap<Crate, Vec<String>> = BTreeMap::new();
    for package in lock.split("[[package]]\n").skip(1) {
        let field = |name: &str| {
            let value = package.lines().find_map(|line| line.strip_prefix(name)?.strip_prefix(" = "));
            value.unwrap().trim_matches('"').to_owned()
        };
        let needs =
            package.split("dependencies = [\n").nth(1).map_or("", |list| list.split(']').next().unwrap());
        let needs = needs.lines().map(|line| line.trim_matches([' ', '"', ',']).to_owned());
        packages.insert((field("name"), field("version")), needs.filter(|need| !need.is_empty()).collect());
    }
    // A need is a name, with its version where the lock file has two of that name.
    let of = |need: &str| {
        let mut words = need.split(' ');
        let (name, version) = (words.next().unwrap(), words.next());
        let mut found =
            packages.keys().filter(|(known, at)| known == name && version.is_none_or(|it| it == at));
        let package = found.next().unwrap_or_else(|| panic!("{need} is not in Cargo.lock"));
        assert!(found.next().is_none(), "{need} stands for two");
        package.clone()
    };
    let own = packages.keys().find(|(name, _)| name == "benchleaf").unwrap();
    let mut open: Vec<Crate> = packages[own]
        .iter()
        .filter(|need| direct.contains(&need.split(' ').next().unwrap()))
        .map(|need| of(need))
        .collect();
    assert_eq!(open.len(), direct.len());
    let mut found = BTreeSet::new();
    while let Some(package) = open.pop() {
        if found.insert(package.clone()) {
            open.extend(packages[&package].iter().map(|need| of(need)));
        }
    }
    found
}

/// The crates that the file lists.
fn listed(file: &str) -> BTreeSet<Crate> {
    let lines = file.split("\n\n").nth(3).unwrap_or_default().lines();
    lines
        .filter_map(|line| {
            let mut words = line.split_whitespace();
            Some((words.next()?.to_owned(), words.next()?.to_owned()))
        })
        .collect()
}

#[test]
fn the_third_party_file_names_every_crate_of_the_program() {
    let (path, locked) = (root("THIRD-PARTY.txt"), locked());
    assert!(locked.len() > 100, "{} crates", locked.len());
    let stale = |file: &str| listed(file) != locked;
    if stale(&fs::read_to_string(&path).unwrap_or_default()) && std::env::var_os("REWRITE_EXPECTED").is_some()
    {
        fs::write(&path, written(&locked)).unwrap();
    }
    let file = fs::read_to_string(&path).unwrap_or_default();
    let listed = listed(&file);
    let (missing, gone): (Vec<_>, Vec<_>) =
        (locked.difference(&listed).collect(), listed.difference(&locked).collect());
    assert!(
        missing.is_empty() && gone.is_empty(),
        "THIRD-PARTY.txt: missing {missing:?}, no longer used {gone:?} (REWRITE_EXPECTED=1 cargo test writes it anew)"
    );
}

/// The file made anew, from what cargo tells of each crate and the files that came with it.
fn written(locked: &BTreeSet<Crate>) -> String {
    let told = Command::new(std::env::var_os("CARGO").unwrap_or_else(|| "cargo".into()))
        .args(["metadata", "--format-version", "1", "--locked"])
        .current_dir(root(""))
        .output()
        .unwrap();
    assert!(told.status.success(), "{}", String::from_utf8_lossy(&told.stderr));
    let told: Value = serde_json::from_slice(&told.stdout).unwrap();
    let mut about: BTreeMap<Crate, &Value> = BTreeMap::new();
    for package in told["packages"].as_array().unwrap() {
        let word = |name: &str| package[name].as_str().unwrap().to_owned();
        about.insert((word("name"), word("version")), package);
    }
    let mut list = String::new();
    let mut texts: BTreeMap<String, Vec<String>> = BTreeMap::new();
    for package in locked {
        let (name, version) = package;
        let licence = about[package]["license"].as_str().unwrap_or("not told");
        list += &format!("{name} {version}  {licence}\n");
        for text in texts_of(about[package], licence, &about) {
            texts.entry(text).or_default().push(format!("{name} {version}"));
        }
    }
    let mut texts: Vec<(String, Vec<String>)> = texts.into_iter().collect();
    texts.sort_by(|(_, a), (_, b)| a.cmp(b));
    let texts = texts.iter().map(|(text, of)| {
        let rule = "-".repeat(100);
        format!("\n{rule}\nOf {}:\n\n{text}\n", of.join(", "))
    });
    format!("{HEAD}\n{list}{}", texts.collect::<String>())
}

/// The texts that have to be passed on with a crate.
fn texts_of(package: &Value, licence: &str, about: &BTreeMap<Crate, &Value>) -> Vec<String> {
    let apache = licence.contains("Apache-2.0");
    let all = |name: &str| licence.contains(" AND ") && !name.contains("APACHE") && !name.contains("MIT");
    let wanted = |name: &str| name.contains("NOTICE") || !apache || all(name);
    let mut texts = files(package, &wanted);
    if !apache && texts.is_empty() {
        // Some ship no licence file: it stands with another crate from the same place, or at the head of the source.
        let sisters = about.values().filter(|other| other["repository"] == package["repository"]);
        texts = sisters.flat_map(|other| files(other, &wanted)).take(1).collect();
        if texts.is_empty() {
            let source = fs::read_to_string(folder(package).join("src/lib.rs")).unwrap();
            let comment = source.strip_prefix("/*").and_then(|rest| rest.split("*/").next());
            let lines = comment.unwrap_or_default().lines().map(|line| line.trim_start_matches([' ', '*']));
            texts.push(lines.collect::<Vec<_>>().join("\n").trim().to_owned());
        }
        assert!(texts[0].contains("Copyright"), "no licence text for {package}");
    }
    texts
}

/// What stands in the files of a crate that have to do with its licence.
fn files(package: &Value, wanted: &dyn Fn(&str) -> bool) -> Vec<String> {
    let mut found: Vec<PathBuf> =
        fs::read_dir(folder(package)).unwrap().map(|entry| entry.unwrap().path()).collect();
    found.sort();
    let texts = found.into_iter().filter_map(|path| {
        let name = path.file_name()?.to_str()?.to_uppercase();
        let begins = ["LICEN", "COPY", "NOTICE"].iter().any(|start| name.starts_with(start));
        let text = (begins && wanted(&name)).then(|| fs::read_to_string(&path).unwrap())?;
        let lines: Vec<&str> = text.lines().map(str::trim_end).collect();
        Some(lines.join("\n").trim().to_owned())
    });
    texts.collect()
}

fn folder(package: &Value) -> PathBuf {
    Path::new(package["manifest_path"].as_str().unwrap()).parent().unwrap().to_owned()
}
