//! Each thing that a record says is on a sheet that is printed later: a walk over every key and value of every shipped record
//! and of records drawn at random. Words of a person's own are changed for words that stand nowhere else, so that finding one
//! on a sheet shows that it came from there; a number, a day or a word of the procedure has to stand within a few lines of
//! what it is about, or of such a word of its entry.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

use benchleaf::{PacketOptions, Request, Workshop, sheet};
use serde_yaml::Value;

use super::{PHASES, root, view};
use crate::cli::Scratch;
use crate::random_job::{Dice, files};

/// Keys behind which a person writes words of his own.
const OWN_WORDS: [&str; 35] = [
    "job",
    "customer",
    "stand",
    "complaint",
    "seller",
    "came_with",
    "missing",
    "broken",
    "photographs",
    "leave_to_strip",
    "by",
    "second",
    "with",
    "says",
    "condition",
    "added",
    "because",
    "out_of_order",
    "goes_back",
    "clean_and_back",
    "renew",
    "leave_out",
    "declined",
    "good",
    "risk",
    "why",
    "hold",
    "what",
    "title",
    "do",
    "supplier",
    "wrench",
    "returned",
    "running_in",
    "part_number",
];

/// Keys that no sheet repeats, each with what becomes of it.
const NOT_REPEATED: [(&str, &str); 13] = [
    ("procedure", "a path; what the file says is what the sheets are made of"),
    ("prices", "a path; what the file says is on the estimate"),
    ("crib", "a path; what the file says is in the kit"),
    ("changes", "a path; what the file changes is on a sheet of its own"),
    ("origin", "of the record itself: nothing depends on it"),
    ("family", "held against the procedure; the sheets name it by its title"),
    ("edition", "held against the procedure, whose own edition the sheets bear"),
    ("fingerprint", "not for reading: says whether a step or a sheet is as it was"),
    ("prints", "not for reading: says which sheets differ from the last print"),
    ("estimates", "what was in an estimate is held against the next one, which says what is new"),
    ("phase", "of extra work: the packet in which it is printed"),
    ("after", "of extra work: its place in the order, in which the steps are printed"),
    ("before", "of extra work: its place in the order, in which the steps are printed"),
];

/// Something that a record says.
#[derive(Debug)]
struct Leaf {
    /// Keys from the top, numbers for the places in a list.
    path: Vec<String>,
    /// What has to stand on a sheet, in small letters.
    wanted: String,
    /// Whether it stands nowhere else.
    own: bool,
}

/// Puts words that stand nowhere else in place of a person's own, and notes everything that the record says.
fn mark(value: &mut Value, path: &mut Vec<String>, leaves: &mut Vec<Leaf>) {
    match value {
        Value::Mapping(entries) => {
            for (key, value) in entries.iter_mut() {
                let key = key.as_str().map_or_else(|| format!("{key:?}"), str::to_owned);
                path.push(key);
                mark(value, path, leaves);
                path.pop();
            }
        }
        Value::Sequence(items) => {
            for (at, item) in items.iter_mut().enumerate() {
                path.push(at.to_string());
                mark(item, path, leaves);
                path.pop();
            }
        }
        Value::Null => {}
        scalar => {
            if path.iter().any(|key| NOT_REPEATED.iter().any(|(known, _)| key == known)) {
                return;
            }
            let text = match &*scalar {
                Value::String(text) => text.clone(),
                other => serde_yaml::to_string(other).unwrap().trim().to_owned(),
            };
            let own = is_own(path, &text);
            let wanted = if own { format!("Quill{}", leaves.len()) } else { text };
            if own {
                *scalar = Value::String(wanted.clone());
            }
            leaves.push(Leaf { path: path.clone(), wanted: wanted.to_lowercase(), own });
        }
    }
}

/// Whether what stands at this place of a record is a person's own words.
fn is_own(path: &[String], text: &str) -> bool {
    let key = path.iter().rev().find(|key| key.parse::<usize>().is_err()).map(String::as_str);
    let within = |above: &str| path.first().is_some_and(|top| top == above);
    let of_a_set = path.iter().any(|key| key == "wrench");
    let of_a_tool = within("extra") && path.len() == 3 && path[1] == "tools";
    // An estimate is agreed to by its number, a thing by its name.
    let named = within("approved") && key != Some("by");
    // A size is a quantity, a settled gauge has the name of a band as its key.
    let settled = within("settled") && path.len() == 3 && key != Some("date");
    let names = within("extra")
        && matches!(
            path.get(3).map(String::as_str),
            Some("tools" | "parts" | "hazards" | "after" | "before")
        );
    !named
        && !names
        && (key.is_some_and(|key| OWN_WORDS.contains(&key)) || of_a_set || of_a_tool || settled)
        && text != "without"
        && text != "off"
}

/// Words in small letters, without what a sheet may print otherwise.
fn bare(text: &str) -> String {
    text.replace(['\u{a0}', '\u{202f}'], " ").to_lowercase()
}

/// Whether a line says it: a number as the same number however many noughts it has, a word as that word.
fn says(line: &str, wanted: &str) -> bool {
    let number = wanted
        .split(' ')
        .next()
        .and_then(|first| first.trim_end_matches(|c: char| c.is_alphabetic()).parse::<f64>().ok());
    let Some(number) = number else {
        return line.contains(wanted)
            || line.contains(&wanted.replace('_', " "))
            || short_day(wanted).is_some_and(|day| line.contains(&day));
    };
    let tokens = line.split(|c: char| !c.is_ascii_digit() && c != '.');
    tokens
        .filter_map(|token| token.trim_matches('.').parse::<f64>().ok())
        .any(|found| (found - number.abs()).abs() < 1e-9)
}

/// A day as the lists of a few weeks print it: `10 apr`.
fn short_day(text: &str) -> Option<String> {
    const MONTHS: [&str; 12] =
        ["jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec"];
    let [_, month, day] = text.split('-').collect::<Vec<_>>()[..] else { return None };
    let month = MONTHS.get(month.parse::<usize>().ok()?.checked_sub(1)?)?;
    Some(format!("{} {month}", day.parse::<u8>().ok()?))
}

/// What a record says that no sheet does.
fn untold(record: &Path, leaves: &[Leaf]) -> Vec<String> {
    let mut workshop = Workshop::new();
    let view = view(&mut workshop, &Request::of(record));
    let mut lines: Vec<String> = Vec::new();
    for (phase, _) in PHASES {
        let packet = view.packet(&workshop, &PacketOptions { all: true, ..PacketOptions::of(phase) });
        lines.extend(sheet::plain_text(&packet).lines().map(bare));
    }
    let whole = lines.concat();
    let mut of_entry: BTreeMap<&[String], Vec<&str>> = BTreeMap::new();
    for leaf in leaves.iter().filter(|leaf| leaf.own) {
        of_entry.entry(&leaf.path[..leaf.path.len() - 1]).or_default().push(&leaf.wanted);
    }
    let told = |leaf: &Leaf| {
        if leaf.own {
            return whole.contains(&leaf.wanted);
        }
        let words_of = |text: &str| {
            let id = text.split(['[', ' ']).next().unwrap_or_default();
            let name = view.procedure.names.get(id)?;
            let title = bare(&view.procedure.naming(*name).title);
            // What is named in the middle of a sentence has no addition, and may be several.
            let words = title.split(',').next().unwrap_or_default().split(' ');
            Some(
                words
                    .map(|word| word.trim_end_matches('y').trim_end_matches('s').to_owned())
                    .collect::<Vec<_>>(),
            )
        };
        let titled = |line: &String, words: &[String]| words.iter().all(|word| line.contains(word.as_str()));
        // A thing that is named is told by its title.
        if let Some(words) = words_of(&leaf.wanted) {
            return lines.iter().any(|line| titled(line, &words));
        }
        // What is settled in a word is told by what goes in: a new one, or without a word the one that came from there.
        let in_a_word = leaf.path[0] == "settled" && leaf.path.len() == 2;
        let wanted = match leaf.wanted.as_str() {
            "goes_back" if in_a_word => return true,
            "renew" if in_a_word => "new",
            // The whole is told by what its procedure calls it.
            "engine" if leaf.path.last().is_some_and(|key| key == "about") => view.procedure.whole(),
            wanted => wanted,
        };
        let titles: Vec<Vec<String>> = leaf.path[1..].iter().filter_map(|key| words_of(key)).collect();
        // What happened to the whole job is told by itself.
        let of_the_job = ["intake", "handover"].contains(&leaf.path[0].as_str());
        let entry = &leaf.path[..leaf.path.len() - 1];
        let beside = of_entry.get(entry).filter(|_| !of_the_job);
        let beside: Vec<&str> = beside.into_iter().flatten().copied().collect();
        // What was read at several spots stands below the title of its gauge, what was sent out below a heading.
        let above = match leaf.path[0].as_str() {
            "readings" => 16,
            "sent" => 8,
            _ => 4,
        };
        // What came on the same days from one supplier stands below a row with the days.
        let of_a_group = |line: &&String| {
            line.strip_prefix("| ").is_some_and(|row| row.starts_with(|c: char| c.is_ascii_digit()))
        };
        let near = |at: usize| {
            let heads = leaf.path[0] == "orders" && !of_a_group(&&lines[at]);
            let group = if heads { lines[at + 1..].iter().take_while(of_a_group).count() } else { 0 };
            let end = (at + 2).max(at + 1 + group).min(lines.len());
            let lines = &lines[at.saturating_sub(above)..end];
            titles.is_empty() && beside.is_empty()
                || lines.iter().any(|line| {
                    titles.iter().any(|title| titled(line, title))
                        || beside.iter().any(|own| line.contains(own))
                })
        };
        lines.iter().enumerate().any(|(at, line)| says(line, wanted) && near(at))
    };
    leaves
        .iter()
        .filter(|leaf| !told(leaf))
        .map(|leaf| format!("{}: {}", leaf.path.join(" / "), leaf.wanted))
        .collect()
}

/// A record with its words marked, written where it can be read, and what it says.
fn marked(scratch: &Scratch, text: &str, folder: &Path) -> (PathBuf, Vec<Leaf>) {
    let mut record: Value = serde_yaml::from_str(text).unwrap();
    let mut leaves = Vec::new();
    mark(&mut record, &mut Vec::new(), &mut leaves);
    for key in ["procedure", "prices", "crib", "changes"] {
        if let Some(path) = record.get_mut(key) {
            let absolute = folder.join(path.as_str().unwrap());
            *path = Value::String(absolute.to_str().unwrap().to_owned());
        }
    }
    let path = scratch.file("job.yaml", serde_yaml::to_string(&record).unwrap());
    (PathBuf::from(path), leaves)
}

#[test]
fn everything_that_a_shipped_record_says_is_on_a_sheet() {
    let folder = root("procedures");
    let mut paths: Vec<PathBuf> = fs::read_dir(&folder).unwrap().map(|entry| entry.unwrap().path()).collect();
    paths.retain(|path| path.to_str().unwrap().ends_with(".job.yaml"));
    paths.sort();
    let mut missing = Vec::new();
    let mut count = 0;
    for path in paths {
        let name = path.file_name().unwrap().to_str().unwrap().to_owned();
        let scratch = Scratch::new(&format!("walked-{name}"));
        let (record, leaves) = marked(&scratch, &fs::read_to_string(&path).unwrap(), &folder);
        count += leaves.len();
        missing.extend(untold(&record, &leaves).into_iter().map(|leaf| format!("{name}: {leaf}")));
    }
    assert!(missing.is_empty(), "{count} things, on no sheet {}:\n{}", missing.len(), missing.join("\n"));
    assert!(count > 4000, "{count}");
}

#[test]
fn everything_that_a_record_drawn_at_random_says_is_on_a_sheet() {
    let mut dice = Dice(41);
    let (mut missing, mut count) = (Vec::new(), 0);
    for at in 0..40 {
        let mut drawn = files(&mut dice);
        let (_, record) = drawn.pop().unwrap();
        let scratch = Scratch::new(&format!("walked-{at}"));
        let mut folder = PathBuf::new();
        for (name, text) in &drawn {
            folder = PathBuf::from(scratch.file(name, text)).parent().unwrap().to_owned();
        }
        let (record, leaves) = marked(&scratch, &record, &folder);
        count += leaves.len();
        missing.extend(untold(&record, &leaves).into_iter().map(|leaf| format!("{at}: {leaf}")));
    }
    assert!(missing.is_empty(), "{count} things, on no sheet {}:\n{}", missing.len(), missing.join("\n"));
    assert!(count > 500, "{count}");
}
