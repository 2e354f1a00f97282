//! What is spoiled: procedures and records that are shipped or serve tests, and the hostile ones under `fuzz/corpus`.

use std::fs;
use std::path::{Path, PathBuf};

/// A procedure or record with where it stands.
#[derive(Clone)]
pub struct Seed {
    pub path: PathBuf,
    pub text: String,
}

/// Everything that cases begin with.
pub struct Seeds {
    /// Procedures that stand alone or use what is shared; none of more than 20,000 letters, so that a case is quick.
    pub procedures: Vec<Seed>,
    /// Larger ones.
    pub large: Vec<Seed>,
    /// Records with their procedure.
    pub jobs: Vec<(Seed, Seed)>,
    /// Cribs and prices with the record and procedure that they are used with.
    pub shops: Vec<(Seed, Seed, Seed, Seed)>,
    /// What `use` brings in.
    pub shared: Vec<Seed>,
    /// Words of the language, from the file that holds all clauses.
    pub words: Vec<String>,
}

fn seed(path: PathBuf) -> Seed {
    let text = fs::read_to_string(&path).unwrap();
    Seed { path, text }
}

/// Files with this ending below a folder, in order of name.
fn below(folder: &Path, ending: &str, into: &mut Vec<PathBuf>) {
    let mut entries: Vec<PathBuf> =
        fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()).collect();
    entries.sort();
    for path in entries {
        if path.is_dir() {
            below(&path, ending, into);
        } else if path.to_string_lossy().ends_with(ending) {
            into.push(path);
        }
    }
}

impl Seeds {
    /// Reads them from the package's folder.
    pub fn read(root: &Path) -> Self {
        let mut paths = Vec::new();
        for folder in ["procedures", "tests/syntax/ok", "tests/jobs", "fuzz/corpus"] {
            below(&root.join(folder), ".rebuild", &mut paths);
        }
        let all: Vec<Seed> = paths.into_iter().map(seed).collect();
        let shared: Vec<Seed> =
            all.iter().filter(|seed| seed.path.parent().unwrap().ends_with("shared")).cloned().collect();
        let (procedures, large): (Vec<Seed>, Vec<Seed>) =
            all.into_iter().partition(|seed| seed.text.len() <= 20_000);
        let mut records = Vec::new();
        for folder in ["procedures", "tests/jobs", "fuzz/corpus"] {
            below(&root.join(folder), ".yaml", &mut records);
        }
        let named = |record: &Seed| {
            let line = record.text.lines().find_map(|line| line.strip_prefix("procedure: "))?;
            let path = record.path.parent().unwrap().join(line.trim().trim_matches('"'));
            path.is_file().then(|| seed(path))
        };
        let jobs: Vec<(Seed, Seed)> = records
            .into_iter()
            .map(seed)
            .filter_map(|record| named(&record).map(|procedure| (record, procedure)))
            .collect();
        let crib = seed(root.join("procedures/crib.yaml"));
        let shops = jobs
            .iter()
            .filter_map(|(record, procedure)| {
                let prices = procedure.path.with_extension("prices.yaml");
                let prices = prices.is_file().then(|| seed(prices))?;
                Some((crib.clone(), prices, record.clone(), procedure.clone()))
            })
            .collect();
        let everything = fs::read_to_string(root.join("tests/syntax/ok/everything.rebuild")).unwrap();
        let mut words: Vec<String> = everything
            .split(|c: char| !c.is_ascii_lowercase() && c != '_')
            .filter(|word| word.len() > 1)
            .map(str::to_owned)
            .collect();
        words.sort();
        words.dedup();
        Seeds { procedures, large, jobs, shops, shared, words }
    }
}
