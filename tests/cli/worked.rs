//! The worked job brought back from paper as somebody types it: how many keystrokes that takes, and whether the record then
//! says what the one that was written by hand says.

use std::collections::BTreeMap;
use std::fs;
use std::io::Write;
use std::path::Path;
use std::process::{Command, Stdio};

use benchleaf::read_pdf;
use serde_json::Value as Json;
use serde_yaml::Value;

use super::Scratch;

/// Keystrokes that all of the job may take.
const MOST_KEYSTROKES: usize = 4_000;

/// What has no command, and is written into the file as the engine arrives.
const HEADER: [&str; 10] = [
    "job",
    "procedure",
    "family",
    "edition",
    "prices",
    "crib",
    "engine_no",
    "customer",
    "intake",
    "handover",
];

struct Desk {
    scratch: Scratch,
    keystrokes: usize,
    commands: usize,
    /// Lines that are typed into the record, one behind the other.
    lines: Vec<String>,
    /// Whose sitting it is, and of which day.
    sitting: (String, String),
}

/// A word as it is typed.
fn quoted(word: &str) -> String {
    let plain = |c: char| c.is_ascii_alphanumeric() || "-_.:,*/=[]".contains(c);
    if word.chars().all(plain) && !word.is_empty() { word.to_owned() } else { format!("\"{word}\"") }
}

/// A day without its year: that of the sitting is meant.
fn short(day: &str) -> String {
    let parts: Vec<u32> = day.split('-').map(|part| part.parse().unwrap()).collect();
    format!("{}.{}", parts[2], parts[1])
}

impl Desk {
    /// Types a command with these lines behind it, and gives what it says, or what is wrong.
    fn command(&mut self, words: &[String], lines: &str) -> Result<String, String> {
        let mut child = Command::new(env!("CARGO_BIN_EXE_benchleaf"))
            .args(words)
            .current_dir(self.scratch.path())
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .unwrap();
        child.stdin.take().unwrap().write_all(lines.as_bytes()).unwrap();
        let output = child.wait_with_output().unwrap();
        if !output.status.success() {
            return Err(format!("{words:?}\n{lines}\n{}", String::from_utf8_lossy(&output.stderr)));
        }
        // The name of the program, a space before each word, the key that sends the line, and the lines with theirs.
        let typed = words.iter().map(|word| 1 + quoted(word).len()).sum::<usize>();
        self.keystrokes += "benchleaf".len() + typed + 1 + lines.chars().count();
        self.commands += 1;
        Ok(String::from_utf8(output.stdout).unwrap())
    }

    /// Adds a line to those that are typed into the record.
    fn line(&mut self, words: &[String]) {
        self.lines.push(words.iter().map(|word| quoted(word)).collect::<Vec<_>>().join(" "));
    }

    fn must(&mut self, words: &[&str]) {
        let words: Vec<String> = words.iter().map(|word| (*word).to_owned()).collect();
        self.line(&words);
    }

    /// From here on somebody writes, as of a day.
    fn by(&mut self, by: &str, day: &str) {
        if self.sitting == (by.to_owned(), day.to_owned()) {
            return;
        }
        // Which year it is is said once.
        let typed = if self.sitting.1.is_empty() { day.to_owned() } else { short(day) };
        self.must(&["by", by, &typed]);
        self.sitting = (by.to_owned(), day.to_owned());
    }

    /// Sends the lines, and an empty one.
    fn send(&mut self) {
        if self.lines.is_empty() {
            return;
        }
        let lines = self.lines.drain(..).collect::<Vec<_>>().join("\n") + "\n\n";
        let words = ["record".to_owned(), "j.yaml".to_owned()];
        self.command(&words, &lines).unwrap_or_else(|wrong| panic!("{wrong}"));
    }

    /// Prints a packet, which is not typing from paper, and reads the plan that it carries.
    fn prints(&mut self, phase: &str) -> Json {
        self.prints_with(phase, &[])
    }

    fn prints_with(&mut self, phase: &str, options: &[&str]) -> Json {
        self.send();
        let output = Command::new(env!("CARGO_BIN_EXE_benchleaf"))
            .args(["packet", "j.yaml", "--phase", phase, "-o", "p.pdf"])
            .args(options)
            .current_dir(self.scratch.path())
            .output()
            .unwrap();
        assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
        let bytes = fs::read(Path::new(&self.scratch.path()).join("p.pdf")).unwrap();
        let back = read_pdf(&bytes).unwrap();
        serde_json::from_slice(&back.files.iter().find(|(name, _)| name == "plan.json").unwrap().1).unwrap()
    }

    fn record(&mut self) -> Value {
        self.send();
        let text = fs::read_to_string(Path::new(&self.scratch.path()).join("j.yaml")).unwrap();
        serde_yaml::from_str(&text).unwrap()
    }
}

/// A number of a plan with what the record written by hand has there.
struct Wanted {
    number: String,
    keys: Vec<String>,
    form: String,
    unit: String,
    words: Vec<String>,
    value: Option<String>,
}

impl Wanted {
    fn line(&self) -> String {
        match self.number.split_once(' ') {
            Some((letter, _)) => letter.to_owned(),
            None => self.number.splitn(3, '.').take(2).collect::<Vec<_>>().join("."),
        }
    }

    fn goes_on(&self, other: &Wanted) -> bool {
        let by_place = ["readings", "looks", "lengths"].contains(&self.keys[0].as_str());
        let before = |wanted: &Wanted| wanted.keys[..wanted.keys.len() - 1].to_vec();
        let same =
            if by_place { before(self) == before(other) } else { self.keys.last() == other.keys.last() };
        self.line() == other.line() && self.form == other.form && self.keys.len() == other.keys.len() && same
    }

    /// The value as somebody types it.
    fn typed(&self) -> String {
        let Some(value) = &self.value else { return "-".to_owned() };
        match self.form.as_str() {
            "quantity" => value.strip_suffix(&format!(" {}", self.unit)).unwrap_or(value).to_owned(),
            "day" => short(value),
            "word" => (1..=value.len())
                .map(|length| value[..length].to_owned())
                .find(|begun| self.words.iter().filter(|word| word.starts_with(begun)).count() == 1)
                .unwrap_or_else(|| value.clone()),
            _ => value.clone(),
        }
    }
}

fn at(record: &Value, keys: &[String]) -> Option<String> {
    let found = keys.iter().try_fold(record, |value, key| value.get(key.as_str()))?;
    let found = found.get("value").or_else(|| found.get("result")).unwrap_or(found);
    match found {
        Value::String(text) => Some(text.clone()),
        Value::Number(number) => Some(number.to_string()),
        _ => None,
    }
}

fn wanted(plan: &Json, ready: &Value, kinds: &[&str]) -> Vec<Wanted> {
    let texts = |list: &Json| -> Vec<String> {
        list.as_array().into_iter().flatten().map(|text| text.as_str().unwrap().to_owned()).collect()
    };
    let text = |value: &Json| value.as_str().unwrap_or_default().to_owned();
    let numbers = plan["numbers"].as_array().unwrap().iter().map(|number| Wanted {
        number: text(&number["number"]),
        keys: texts(&number["keys"]),
        form: text(&number["form"]),
        unit: text(&number["unit"]),
        words: texts(&number["words"]),
        value: at(ready, &texts(&number["keys"])),
    });
    numbers.filter(|number| number.keys.first().is_some_and(|key| kinds.contains(&key.as_str()))).collect()
}

/// The words behind `gather p.pdf` that bring back what is wanted.
fn runs(numbers: &[Wanted], written: &Value) -> Vec<String> {
    let mut words = Vec::new();
    let mut full = true;
    let mut seen = vec![false; numbers.len()];
    for first in 0..numbers.len() {
        let open = |number: &Wanted| number.value.is_some() && at(written, &number.keys).is_none();
        if seen[first] || !open(&numbers[first]) {
            continue;
        }
        let run: Vec<usize> =
            (first..numbers.len()).filter(|at| numbers[first].goes_on(&numbers[*at])).collect();
        let last = run.iter().rposition(|at| open(&numbers[*at])).unwrap();
        let number = numbers[first].number.replace(' ', "");
        let sure = number.matches('.').count() == 2 || number.starts_with(char::is_alphabetic);
        words.push(if full || sure { number } else { format!("{number}:") });
        let mut told: Vec<(String, usize)> = Vec::new();
        for at in &run[..=last] {
            seen[*at] = true;
            let typed = if open(&numbers[*at]) { numbers[*at].typed() } else { "-".to_owned() };
            match told.last_mut() {
                Some((before, count)) if *before == typed => *count += 1,
                _ => told.push((typed, 1)),
            }
        }
        let mut before = String::new();
        for (value, count) in told {
            let typed = shortened(&before, &value);
            if value != "-" {
                before = value;
            }
            let repeated = format!("{typed}*{count}");
            if repeated.len() < (typed.len() + 1) * count {
                words.push(repeated);
            } else {
                words.extend(std::iter::repeat_n(typed, count));
            }
        }
        full = last + 1 == run.len();
    }
    words
}

/// A value by its last digits, where it begins as the one before it.
fn shortened(before: &str, value: &str) -> String {
    let same = before.chars().zip(value.chars()).take_while(|(one, other)| one == other).count();
    let end = value.get(same..).unwrap_or_default();
    let digits = |text: &str| !text.is_empty() && text.bytes().all(|byte| byte.is_ascii_digit());
    let replaced = before.get(same..).unwrap_or_default();
    if before.len() == value.len() && same > 1 && digits(end) && digits(replaced) {
        format!("_{end}")
    } else {
        value.to_owned()
    }
}

fn gather(desk: &mut Desk, plan: &Json, ready: &Value, kinds: &[&str]) {
    let words = runs(&wanted(plan, ready, kinds), &desk.record());
    if !words.is_empty() {
        let words = [vec!["gather".to_owned(), "p.pdf".to_owned()], words].concat();
        desk.command(&words, "").unwrap_or_else(|wrong| panic!("{wrong}"));
    }
}

/// Steps of a phase that are done, as one line: for each day and each person on it, the steps and then who and when.
fn done(desk: &mut Desk, plan: &Json, ready: &Value) {
    let mut days: BTreeMap<(String, String), Vec<u64>> = BTreeMap::new();
    for step in plan["steps"].as_array().unwrap() {
        let (Some(number), Some(id)) = (step["number"].as_u64(), step["id"].as_str()) else { continue };
        let bare = id.split('[').next().unwrap();
        let entry = ready["done"].get(id).or_else(|| ready["done"].get(bare));
        let Some(entry) = entry else { continue };
        let text = |key: &str| entry[key].as_str().unwrap().to_owned();
        let list = days.entry((text("date"), text("by"))).or_default();
        if list.last() != Some(&number) {
            list.push(number);
        }
    }
    let mut words = vec!["done".to_owned()];
    let mut told = String::new();
    for ((day, by), steps) in days {
        let mut left = steps.as_slice();
        while let Some(first) = left.first() {
            let row = left.iter().zip(*first..).take_while(|(number, wanted)| *number == wanted).count();
            words.push(if row == 1 { first.to_string() } else { format!("{first}-{}", left[row - 1]) });
            left = &left[row..];
        }
        words.extend(["by".to_owned(), by]);
        if told != day {
            words.extend(["on".to_owned(), short(&day)]);
            told = day;
        }
    }
    if words.len() > 1 {
        desk.line(&words);
    }
}

/// Things of a list with the same fields in one command.
fn goods(desk: &mut Desk, ready: &Value, list: &str, command: &str, date: &str, rest: &[&str]) {
    let mut groups: BTreeMap<(String, Vec<String>), Vec<String>> = BTreeMap::new();
    let written = desk.record();
    for (thing, entry) in ready[list].as_mapping().unwrap() {
        let thing = thing.as_str().unwrap().to_owned();
        let Some(day) = entry[date].as_str() else { continue };
        let said =
            written.get(list).and_then(|list| list.get(thing.as_str())).and_then(|entry| entry.get(date));
        if said.is_some() {
            continue;
        }
        let mut options = Vec::new();
        for key in rest {
            if let Some(value) = at(entry, &[(*key).to_owned()]) {
                options.extend([format!("--{key}"), if *key == "due" { short(&value) } else { value }]);
            }
        }
        groups.entry((day.to_owned(), options)).or_default().push(thing);
    }
    for ((day, options), things) in groups {
        let by = desk.sitting.0.clone();
        desk.by(&by, &day);
        desk.line(&[vec![command.to_owned()], things, options].concat());
    }
}

#[test]
fn the_worked_job_comes_back_from_paper_as_it_was_written_by_hand() {
    let scratch = Scratch::new("worked");
    let procedures = Path::new(env!("CARGO_MANIFEST_DIR")).join("procedures");
    for folder in [procedures.clone(), procedures.join("shared")] {
        for file in
            fs::read_dir(&folder).unwrap().map(|entry| entry.unwrap().path()).filter(|path| path.is_file())
        {
            let name = file.strip_prefix(&procedures).unwrap().to_string_lossy().into_owned();
            if !name.ends_with(".job.yaml") {
                scratch.file(&name, fs::read(&file).unwrap());
            }
        }
    }
    let text = fs::read_to_string(procedures.join("brackwater3.ready.job.yaml")).unwrap();
    let ready: Value = serde_yaml::from_str(&text).unwrap();
    let header: serde_yaml::Mapping =
        HEADER.iter().map(|key| (Value::from(*key), ready[*key].clone())).collect();
    scratch.file("j.yaml", serde_yaml::to_string(&header).unwrap());
    let mut desk = Desk {
        scratch,
        keystrokes: 0,
        commands: 0,
        lines: Vec::new(),
        sitting: (String::new(), String::new()),
    };

    for (ask, answer) in ready["answers"].as_mapping().unwrap() {
        desk.must(&["answer", ask.as_str().unwrap(), answer.as_str().unwrap()]);
    }
    // As the sheets lie there: those of one day and one hand together.
    let mut notes: Vec<&Value> = ready["notes"].as_sequence().unwrap().iter().collect();
    notes.sort_by_key(|note| (note["date"].as_str().unwrap(), note["by"].as_str().unwrap()));
    for note in notes {
        let text = |key: &str| note[key].as_str().unwrap();
        desk.by(text("by"), text("date"));
        let mut words = vec!["note", text("about")];
        words.extend(note.get("says").and_then(Value::as_str));
        let count = note.get("found").and_then(|found| at(found, &["count".to_owned()]));
        let length = note.get("found").and_then(|found| at(found, &["length".to_owned()]));
        words.extend(count.as_ref().map(|count| ["--count", count]).into_iter().flatten());
        words.extend(length.as_ref().map(|length| ["--length", length]).into_iter().flatten());
        desk.must(&words);
    }
    for (set, holes) in ready["lengths"].as_mapping().unwrap() {
        let lengths: Vec<&str> =
            holes.as_mapping().unwrap().values().map(|length| length.as_str().unwrap()).collect();
        let bare: Vec<&str> = lengths.iter().map(|length| length.strip_suffix(" mm").unwrap()).collect();
        let words = [vec!["length", set.as_str().unwrap()], bare].concat();
        desk.must(&words);
    }
    let strip = desk.prints("strip");
    gather(&mut desk, &strip, &ready, &["readings", "looks"]);
    done(&mut desk, &strip, &ready);
    let survey = desk.prints("survey");
    gather(&mut desk, &survey, &ready, &["readings", "looks"]);
    done(&mut desk, &survey, &ready);
    for (thing, word) in ready["settled"].as_mapping().unwrap() {
        desk.must(&["settled", thing.as_str().unwrap(), word.as_str().unwrap()]);
    }
    // What the owner agrees to without naming it is the estimate that was printed for him.
    let agreed_on = ready["estimates"][0]["date"].as_str().unwrap().to_owned();
    desk.prints_with("survey", &["--record", "--on", &agreed_on]);
    for approval in ready["approved"].as_sequence().unwrap() {
        let date = short(approval["date"].as_str().unwrap());
        let mut words = vec!["approved"];
        let items = approval.get("items").and_then(Value::as_sequence);
        words.extend(items.into_iter().flatten().map(|item| item.as_str().unwrap()));
        words.extend(["--by", approval["by"].as_str().unwrap(), "--date", &date]);
        words.extend(
            approval.get("up_to").and_then(Value::as_str).map(|sum| ["--up-to", sum]).into_iter().flatten(),
        );
        desk.must(&words);
    }
    // Goods whose size, number or supplier is told too, then all the others from the printed list.
    let mut special = ready.clone();
    let orders = special["orders"].as_mapping_mut().unwrap();
    orders.retain(|_, entry| ["size", "quantity", "supplier"].iter().any(|key| entry.get(key).is_some()));
    goods(&mut desk, &special, "orders", "ordered", "ordered", &["due", "size", "quantity", "supplier"]);
    let survey = desk.prints("survey");
    gather(&mut desk, &survey, &ready, &["orders"]);
    goods(&mut desk, &ready, "orders", "ordered", "ordered", &["due"]);
    goods(&mut desk, &ready, "orders", "arrived", "arrived", &[]);
    goods(&mut desk, &ready, "orders", "compared", "compared", &[]);
    goods(&mut desk, &ready, "sent", "sent", "sent", &["to"]);
    goods(&mut desk, &ready, "sent", "back", "back", &[]);
    goods(&mut desk, &ready, "sent", "accepted", "accepted", &[]);
    let build = desk.prints("build");
    gather(&mut desk, &build, &ready, &["readings", "looks"]);

    let record = desk.record();
    let mut missing = Vec::new();
    let mut entries = 0;
    for (list, depth) in [
        ("answers", 0),
        ("readings", 1),
        ("looks", 1),
        ("lengths", 1),
        ("settled", 0),
        ("orders", 1),
        ("sent", 1),
    ] {
        let mut paths: Vec<Vec<String>> = vec![vec![list.to_owned()]];
        for _ in 0..=depth {
            let below = |path: &Vec<String>| {
                let value = path.iter().fold(&ready, |value, key| &value[key.as_str()]);
                let keys = value.as_mapping().unwrap().keys().map(|key| key.as_str().unwrap().to_owned());
                keys.map(|key| [path.clone(), vec![key]].concat()).collect::<Vec<_>>()
            };
            paths = paths.iter().flat_map(below).collect();
        }
        for path in paths {
            // No command writes these two, and nothing on paper asks for them.
            if ["cost", "by"].contains(&path.last().unwrap().as_str()) {
                continue;
            }
            entries += 1;
            if at(&record, &path) != at(&ready, &path) {
                missing.push(format!(
                    "{}: {:?} for {:?}",
                    path.join(" > "),
                    at(&record, &path),
                    at(&ready, &path)
                ));
            }
        }
    }
    for (id, entry) in ready["done"].as_mapping().unwrap() {
        let id = id.as_str().unwrap();
        let same = |(key, other): (&Value, &Value)| {
            let key = key.as_str().unwrap();
            (key == id || key.starts_with(&format!("{id}[")))
                && other["by"] == entry["by"]
                && other["date"] == entry["date"]
        };
        entries += 1;
        if !record["done"].as_mapping().unwrap().iter().any(same) {
            missing.push(format!("done > {id}"));
        }
    }
    assert!(entries > 500, "{entries}");
    assert!(missing.is_empty(), "{} of {entries} entries are missing\n{}", missing.len(), missing.join("\n"));
    println!("{entries} entries: {} keystrokes in {} commands", desk.keystrokes, desk.commands);
    assert!(
        desk.keystrokes <= MOST_KEYSTROKES,
        "{} keystrokes in {} commands",
        desk.keystrokes,
        desk.commands
    );
}
