//! The real `benchleaf editor`, driven by keys that were recorded: how long after each key the complaints of that text
//! come, and what is known over a word and offered at a place. The texts are made up, of 2,000 and 10,000 steps, and
//! the shipped engine stands beside them.
#![expect(
    clippy::print_stdout,
    clippy::disallowed_methods,
    reason = "a benchmark reads the clock and prints"
)]

use std::io::BufReader;
use std::path::{Path, PathBuf};
use std::process::{Child, ChildStdin, ChildStdout, Command, Stdio};
use std::time::{Duration, Instant};

use lsp_server::{Message, Notification, Request};
use serde_json::{Value, json};

#[path = "../made_up.rs"]
mod made_up;

use made_up::procedure;

/// What was typed.
const TYPED: &str = include_str!("typed.txt");

/// Between an answer and the next key.
const PAUSE: Duration = Duration::from_millis(60);

fn main() {
    let asked: Option<usize> = std::env::args().nth(1).and_then(|size| size.parse().ok());
    println!("{:<24} {:>6} {:>5}  median / 95th / most, ms", "text", "lines", "keys");
    for steps in asked.map_or_else(|| vec![2_000, 10_000], |size| vec![size]) {
        drive(&format!("{steps} steps"), &procedure(steps), steps / 4);
    }
    if asked.is_none() {
        let shipped = std::fs::read_to_string("procedures/brackwater3.rebuild").expect("it is shipped");
        drive("the shipped engine", &shipped, 0);
    }
}

/// A key: the bytes that go, and what comes in their place.
struct Key {
    at: usize,
    gone: usize,
    put: String,
}

/// The keys that were recorded, in a text; those at places that it doesn't have are left out.
fn keys(text: &str, middle: usize) -> Vec<Key> {
    let mut text = text.to_owned();
    let mut at = text.len() / 2;
    at = text[..at].rfind('\n').map_or(0, |end| end + 1);
    let mut keys = Vec::new();
    let mut found = true;
    for line in TYPED.lines().filter(|line| !line.starts_with("--")) {
        let (word, rest) = line.split_once(' ').expect("a line is a word and what it is about");
        let rest = rest
            .replace("{middle}", &middle.to_string())
            .replace("{before}", &middle.saturating_sub(1).to_string())
            .replace('|', "\n");
        let mut press = |at: &mut usize, gone: usize, put: &str| {
            let start = *at - gone;
            text.replace_range(start..*at, put);
            keys.push(Key { at: start, gone, put: put.to_owned() });
            *at = start + put.len();
        };
        match word {
            "at" => {
                let place = text.find(&rest);
                found = place.is_some() || middle == 0;
                if let Some(place) = place {
                    at = place + rest.len();
                }
            }
            _ if !found => {}
            "type" => rest.chars().for_each(|letter| press(&mut at, 0, letter.encode_utf8(&mut [0; 4]))),
            "back" => (0..rest.parse().expect("a number")).for_each(|_| press(&mut at, 1, "")),
            _ => press(&mut at, 0, &rest),
        }
    }
    keys
}

/// The server, and what it has said.
struct Server {
    child: Child,
    to: ChildStdin,
    from: BufReader<ChildStdout>,
    asked: i32,
}

impl Server {
    fn start() -> Server {
        let mut child = Command::new(env!("CARGO_BIN_EXE_benchleaf"))
            .arg("editor")
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .spawn()
            .expect("it was built");
        let to = child.stdin.take().expect("it is piped");
        let from = BufReader::new(child.stdout.take().expect("it is piped"));
        let mut server = Server { child, to, from, asked: 0 };
        server.ask("initialize", json!({ "capabilities": {} }));
        server.tell("initialized", json!({}));
        server
    }

    fn tell(&mut self, method: &str, params: Value) {
        let note = Notification { method: method.to_owned(), params };
        Message::Notification(note).write(&mut self.to).expect("it listens");
    }

    fn next(&mut self) -> Message {
        Message::read(&mut self.from).expect("it speaks the protocol").expect("it is still there")
    }

    fn ask(&mut self, method: &str, params: Value) -> Value {
        self.asked += 1;
        let request = Request { id: self.asked.into(), method: method.to_owned(), params };
        Message::Request(request).write(&mut self.to).expect("it listens");
        loop {
            if let Message::Response(answer) = self.next()
                && answer.id == self.asked.into()
            {
                return answer.response_result.ok().unwrap_or(Value::Null);
            }
        }
    }

    /// Waits for the complaints of this version of the text; how many there are, and how many of them are errors.
    fn told(&mut self, version: usize) -> (usize, usize) {
        loop {
            if let Message::Notification(note) = self.next()
                && note.method == "textDocument/publishDiagnostics"
                && note.params["version"] == version
            {
                let complaints = note.params["diagnostics"].as_array().expect("a list");
                let errors = complaints.iter().filter(|complaint| complaint["severity"] == 1);
                return (complaints.len(), errors.count());
            }
        }
    }
}

fn drive(name: &str, text: &str, middle: usize) {
    let folder = std::env::temp_dir().join(format!("benchleaf-typed-{}", std::process::id()));
    let path = written(&folder, text);
    let uri = format!("file://{}", path.display());
    let mut server = Server::start();
    let document = json!({ "uri": uri, "languageId": "rebuild", "version": 0, "text": text });
    server.tell("textDocument/didOpen", json!({ "textDocument": document }));
    let (complaints, errors) = server.told(0);
    // The order of a text with faults isn't looked at.
    assert_eq!(errors, 0, "the text is sound before anything is typed");
    let mut text = text.to_owned();
    let (mut told, mut known, mut offered) = (Vec::new(), Vec::new(), Vec::new());
    let keys = keys(&text, middle);
    for (index, key) in keys.iter().enumerate() {
        std::thread::sleep(PAUSE);
        let range = json!({ "start": place(&text, key.at), "end": place(&text, key.at + key.gone) });
        text.replace_range(key.at..key.at + key.gone, &key.put);
        let change = json!({ "range": range, "text": key.put });
        let identified = json!({ "uri": uri, "version": index + 1 });
        let change = json!({ "textDocument": identified, "contentChanges": [change] });
        let begin = Instant::now();
        server.tell("textDocument/didChange", change);
        server.told(index + 1);
        told.push(begin.elapsed());
        let here =
            json!({ "textDocument": { "uri": uri }, "position": place(&text, key.at + key.put.len()) });
        let begin = Instant::now();
        server.ask("textDocument/completion", here);
        offered.push(begin.elapsed());
        let word = text[..key.at].rfind("part").or(text.find("part")).expect("there is a part") + 1;
        let over = json!({ "textDocument": { "uri": uri }, "position": place(&text, word) });
        let begin = Instant::now();
        server.ask("textDocument/hover", over);
        known.push(begin.elapsed());
    }
    server.ask("shutdown", Value::Null);
    server.tell("exit", Value::Null);
    server.child.wait().expect("it leaves");
    let lines = text.lines().count();
    println!("{name:<24} {lines:>6} {:>5}  complaints {}  ({complaints} at first)", keys.len(), times(told));
    println!("{:<24} {:>6} {:>5}  hover {}  completion {}", "", "", "", times(known), times(offered));
    let _ = std::fs::remove_dir_all(folder);
}

/// The text as a file, with the shipped files that it may bring in beside it.
fn written(folder: &Path, text: &str) -> PathBuf {
    let shared = folder.join("shared");
    std::fs::create_dir_all(&shared).expect("there is room");
    for name in ["tools", "supplies", "hazards"] {
        let file = format!("{name}.rebuild");
        std::fs::copy(format!("procedures/shared/{file}"), shared.join(file)).expect("it is shipped");
    }
    let path = folder.join("typed.rebuild");
    std::fs::write(&path, text).expect("there is room");
    path
}

fn place(text: &str, at: usize) -> Value {
    let before = &text[..at];
    let line = before.matches('\n').count();
    let start = before.rfind('\n').map_or(0, |end| end + 1);
    json!({ "line": line, "character": before[start..].encode_utf16().count() })
}

fn times(mut times: Vec<Duration>) -> String {
    times.sort_unstable();
    let at = |share: f64| {
        let index = ((times.len() as f64 * share) as usize).min(times.len() - 1);
        times[index].as_secs_f64() * 1e3
    };
    format!("{:.1} / {:.1} / {:.1}", at(0.5), at(0.95), at(1.0))
}
