//! Names carry no meaning: the shipped procedures and their records, with every id replaced by an invented one, come to the
//! same in every output, but for the ids.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;
use std::thread;

use benchleaf::model::Phase;
use benchleaf::sheet::plain_text;
use benchleaf::tree::{Item, Tree};
use benchleaf::{PacketOptions, Request, Sources, Workshop, parse};

use super::{Scratch, benchleaf, stderr, stdout};

/// Files that are brought along, from the folder of the procedures.
const FOLDERS: [&str; 3] = ["", "shared", "first"];

/// Procedures with their records.
const SHIPPED: [(&str, &[&str]); 5] = [
    ("first/cover.rebuild", &[]),
    ("first/harbour_pump.rebuild", &[]),
    ("first/harbour_pump_e.rebuild", &[]),
    ("first/two_cylinder.rebuild", &[]),
    ("brackwater3.rebuild", &["brackwater3.measured.job.yaml", "brackwater3.ready.job.yaml"]),
];

/// Words of the tree that are words of the language or values, and no ids.
const NO_NAMES: [&str; 15] = [
    "Carries",
    "kind",
    "Kind",
    "value",
    "unit",
    "Unit",
    "face",
    "view",
    "front",
    "signal",
    "act",
    "condition",
    "direction",
    "Into",
    "Taken",
];

fn part_of_word(character: char) -> bool {
    character.is_ascii_alphanumeric() || character == '_'
}

/// An id with its invented one, of the same length, so that nothing is broken over lines elsewhere.
#[derive(Default)]
struct Renaming(BTreeMap<String, String>);

/// Whether what stands in the tree under this field is an id. A section is never referred to, and may be called as the
/// value of a setup is.
fn is_id(field: &str, word: &str, tree: &Tree) -> bool {
    let section = |item: &Item| matches!(item, Item::Section { name, .. } if name.value == word);
    !NO_NAMES.iter().any(|kind| field.ends_with(kind))
        && (field.ends_with("name") || !tree.items.iter().any(section))
}

impl Renaming {
    /// Letters of which no word is made; a later id comes earlier in the alphabet.
    const LETTERS: [char; 19] =
        ['z', 'x', 'w', 'v', 't', 's', 'r', 'q', 'p', 'n', 'm', 'l', 'k', 'j', 'h', 'g', 'f', 'd', 'c'];

    fn add(&mut self, id: &str) {
        if self.0.contains_key(id) {
            return;
        }
        let count = Self::LETTERS.len();
        let mut number = self.0.len();
        let mut letters: Vec<char> = Vec::new();
        for _ in 1..id.len().min(5) {
            letters.push(Self::LETTERS[number % count]);
            number /= count;
        }
        letters.resize(id.len() - 1, 'z');
        letters.push('z');
        self.0.insert(id.to_owned(), letters.iter().rev().collect());
    }

    fn add_all(&mut self, tree: &Tree) {
        for item in &tree.items {
            match item {
                // What is changed is declared elsewhere.
                Item::Use(_) | Item::Change(_) | Item::Without(_) => {}
                Item::Section { name, .. } => self.add(&name.value),
                Item::Family(family) => self.add(&family.name.value),
                Item::Axis(axis) => self.add(&axis.name.value),
                Item::Ask(ask) => self.add(&ask.name.value),
                Item::Setup(setup) => self.add(&setup.name.value),
                Item::State(state) => self.add(&state.name.value),
                Item::Tool(tool) => self.add(&tool.name.value),
                Item::Supply(supply) => self.add(&supply.name.value),
                Item::Part(part) => self.add(&part.name.value),
                Item::Fasteners(set) => self.add(&set.name.value),
                Item::Joint(joint) => self.add(&joint.name.value),
                Item::Gauge(gauge) => self.add(&gauge.name.value),
                Item::Look(look) => self.add(&look.name.value),
                Item::Temporary(temporary) => self.add(&temporary.name.value),
                Item::Hazard(hazard) => self.add(&hazard.name.value),
                Item::Rule(rule) => self.add(&rule.name.value),
                Item::Step(step) => self.add(&step.name.value),
                Item::Group(group) => {
                    self.add(&group.name.value);
                    group.steps.iter().for_each(|step| self.add(&step.name.value));
                }
            }
        }
    }

    /// A procedure: the words of its tree that are ids. Keywords, quotes and comments are no words of the tree, or have
    /// other signs about them in the text.
    fn procedure(&self, text: &str, tree: &Tree) -> String {
        let mut places: Vec<(usize, usize)> = Vec::new();
        let shown = format!("{tree:?}");
        let (mut before, mut list) = ("", "");
        for rest in shown.split("Spanned { value: \"") {
            let of = std::mem::replace(&mut before, rest)
                .trim_end_matches("Some(")
                .trim_end_matches([' ', ':', '(', '[']);
            // What follows in a list is of the kind of its first.
            let of = if of.ends_with(',') { list } else { of };
            list = of;
            let Some((value, rest)) = rest.split_once("\", span: Span { file: ") else { continue };
            let numbers: Vec<usize> = rest
                .split_once('}')
                .unwrap()
                .0
                .split(|c: char| !c.is_ascii_digit())
                .filter_map(|n| n.parse().ok())
                .collect();
            let [_, start, end] = numbers.as_slice() else {
                panic!("a span has a file and two ends: {rest}")
            };
            if self.0.contains_key(value) && &text[*start..*end] == value && is_id(of, value, tree) {
                places.push((*start, *end));
            }
        }
        places.sort_unstable();
        places.dedup();
        let mut out = String::new();
        let mut last = 0;
        for (start, end) in places {
            out += &text[last..start];
            out += &self.0[&text[start..end]];
            last = end;
        }
        out + &text[last..]
    }

    /// A record: every word outside quotes and comments that is an id, and ids with a place, which stand in quotes. The
    /// crib is of the shop and knows no ids.
    fn record(&self, text: &str) -> String {
        // A word before a full stop is the name of a file.
        let name = |word: &str, behind: &str| self.0.get(word).filter(|_| behind != ".").map(String::as_str);
        let mut out = String::new();
        for line in text.split_inclusive('\n') {
            let comment = line.find(" #").filter(|_| !line.contains('"')).unwrap_or(line.len());
            let (said, comment) = if line.starts_with('#') { ("", line) } else { line.split_at(comment) };
            // Every second piece between quotes is quoted.
            for (at, piece) in said.split('"').enumerate() {
                if at > 0 {
                    out.push('"');
                }
                let id = piece.split_once('[').map(|(id, _)| id);
                let placed = piece.ends_with(']') && id.is_some_and(|id| id.chars().all(part_of_word));
                out += &if at % 2 == 0 || placed { exchanged(piece, name) } else { piece.to_owned() };
            }
            out += comment;
        }
        out
    }

    /// An output with the ids as they were.
    fn back(&self, output: &str) -> String {
        let old: BTreeMap<&str, &str> =
            self.0.iter().map(|(old, new)| (new.as_str(), old.as_str())).collect();
        exchanged(output, |word, _| old.get(word).copied())
    }
}

/// A text with some of its words exchanged, as the word and the sign behind it ask for.
fn exchanged<'a>(text: &str, by: impl Fn(&str, &str) -> Option<&'a str>) -> String {
    let mut out = String::new();
    for piece in text.split_inclusive(|character| !part_of_word(character)) {
        let word = piece.trim_end_matches(|character| !part_of_word(character));
        let behind = &piece[word.len()..];
        out += by(word, behind).unwrap_or(word);
        out += behind;
    }
    out
}

/// The first line that differs, of outputs that should be one.
fn differ(of: &str, one: &str, other: &str) -> Option<String> {
    let (mut ours, mut theirs) = (one.lines(), other.lines());
    loop {
        match (ours.next(), theirs.next()) {
            (None, None) => return None,
            (a, b) if a == b => {}
            (a, b) => return Some(format!("{of}:\n  {}\n  {}", a.unwrap_or("-"), b.unwrap_or("-"))),
        }
    }
}

/// Every output of a procedure and its records, by what was asked.
fn outputs(folder: &str, procedure: &str, records: &[&str], step: &str) -> Vec<(String, String)> {
    let mut found = Vec::new();
    let path = |name: &str| format!("{folder}/{name}");
    let mut ask = |arguments: &[&str]| {
        let output = benchleaf(arguments);
        assert_ne!(output.status.code(), Some(2), "{arguments:?}: {}", stderr(&output));
        let said = format!("{}{}", stdout(&output), stderr(&output)).replace(folder, "");
        found.push((arguments.join(" ").replace(folder, ""), said));
    };
    let text = path(procedure);
    ask(&["check", &text]);
    ask(&["order", &text, "--phase", "build", "--changes"]);
    ask(&["why", &text, step]);
    ask(&["ledger", &text]);
    let drawing = path("order.svg");
    ask(&["graph", &text, "-o", &drawing]);
    for record in records {
        ask(&["verdict", &text, "--job", &path(record)]);
    }
    records.last().iter().for_each(|record| ask(&["notes", &path(record)]));
    found.push((format!("drawing of {procedure}"), fs::read_to_string(&drawing).unwrap()));
    let record = records.last().map(|record| path(record));
    let mut workshop = Workshop::new();
    let request = Request { record: record.as_deref().map(Path::new), ..Request::of(&text) };
    let view = workshop.job(&request);
    let said = view.diagnostics.iter().map(|complaint| format!("{}\n", complaint.message)).collect();
    found.push((format!("complaints of {procedure} and {record:?}").replace(folder, ""), said));
    let view = view.value.unwrap_or_else(|| panic!("{:?}", view.diagnostics));
    for phase in [Phase::Strip, Phase::Survey, Phase::Build, Phase::Start] {
        // Sharing the work takes long where there is much of it; a record that is ready leaves little to strip.
        let hands = (phase == Phase::Strip).then_some(2);
        let options = PacketOptions { all: true, hands, ..PacketOptions::of(phase) };
        let mut packet = view.packet(&workshop, &options);
        // It is of every word, and some words are ids; so are those of the sheets.
        packet.footer.fingerprint.clear();
        found.push((
            format!("packet of {procedure} and {record:?}, {phase:?}").replace(folder, ""),
            plain_text(&packet),
        ));
        let data = packet.attachments.iter().map(|attached| String::from_utf8_lossy(&attached.bytes));
        let data = data.collect::<String>();
        let data = data.lines().filter(|line| !line.trim_start().starts_with("\"fingerprint\": "));
        found.push((
            format!("data of {procedure} and {record:?}, {phase:?}").replace(folder, ""),
            data.collect::<Vec<_>>().join("\n"),
        ));
    }
    found
}

#[test]
fn only_ids_change_where_every_id_is_renamed() {
    let (ours, theirs) = (Scratch::new("names-old"), Scratch::new("names-new"));
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("procedures");
    let mut texts = Vec::new();
    let mut renaming = Renaming::default();
    let mut sources = Sources::new();
    for folder in FOLDERS {
        for entry in fs::read_dir(root.join(folder)).unwrap() {
            let path = entry.unwrap().path();
            if path.is_dir() {
                continue;
            }
            let text = fs::read_to_string(&path).unwrap();
            let name = path.strip_prefix(&root).unwrap().to_string_lossy().into_owned();
            let tree = name.ends_with(".rebuild").then(|| {
                let file = sources.read(&path).unwrap();
                parse(file, &text).value
            });
            tree.iter().for_each(|tree| renaming.add_all(tree));
            texts.push((name, text, tree));
        }
    }
    assert!(renaming.0.len() > 500, "{}", renaming.0.len());
    for (name, text, tree) in &texts {
        ours.file(name, text);
        let renamed = match tree {
            Some(tree) => renaming.procedure(text, tree),
            None if name == "crib.yaml" => text.clone(),
            None => renaming.record(text),
        };
        assert!(name == "first/impeller.rebuild" || tree.is_none() || renamed != *text, "{name}");
        theirs.file(name, renamed);
    }
    let mut faults = Vec::new();
    for (procedure, records) in SHIPPED {
        let (_, _, tree) = texts.iter().find(|(name, ..)| name == procedure).unwrap();
        let mut steps = tree.iter().flat_map(|tree| &tree.items).filter_map(|item| match item {
            Item::Step(step) => Some(step.name.value.as_str()),
            _ => None,
        });
        let step = steps.next().unwrap();
        let (before, after) = thread::scope(|at_once| {
            let before = at_once.spawn(|| outputs(&ours.path(), procedure, records, step));
            let after = outputs(&theirs.path(), procedure, records, &renaming.0[step]);
            (before.join().unwrap(), after)
        });
        assert_eq!(before.len(), after.len());
        for ((of, one), (_, other)) in before.iter().zip(&after) {
            assert!(
                !one.is_empty()
                    || of.starts_with("notes")
                    || of.starts_with("graph")
                    || of.starts_with("complaints"),
                "{of}"
            );
            faults.extend(differ(of, one, &renaming.back(other)));
        }
    }
    assert!(faults.is_empty(), "{} outputs hang on a name:\n{}", faults.len(), faults.join("\n"));
}
