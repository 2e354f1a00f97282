//! The whole check of procedures of shapes that have grown badly before: chains, fans, positions done together, a state
//! brought about and undone over and over, and the shipped engine many times in one file. Each shape is checked at
//! growing sizes; the exponent tells how the time grows from size to size.
#![expect(
    clippy::print_stdout,
    clippy::disallowed_methods,
    reason = "a benchmark reads the clock and prints"
)]

use std::collections::BTreeSet;
use std::fmt::Write;
use std::path::Path;
use std::time::{Duration, Instant};

use benchleaf::{Memory, Workshop};

const FAMILY: &str =
    "-- Made up for a benchmark.\nfamily big \"Big\" { edition 1  origin \"invented\"  invented }\n";

/// A shape with the sizes at which it is checked.
struct Shape {
    name: &'static str,
    text: fn(usize) -> String,
    sizes: &'static [usize],
}

const SHAPES: &[Shape] = &[
    Shape {
        name: "each part under the last",
        text: |n| one_after_another(n, "under"),
        sizes: &[1_000, 4_000, 16_000],
    },
    Shape { name: "parts between cover and base", text: fan, sizes: &[1_000, 4_000, 16_000] },
    Shape { name: "one set holds all", text: held_by_one, sizes: &[500, 2_000, 8_000] },
    Shape {
        name: "parts within each other",
        text: |n| one_after_another(n, "within"),
        sizes: &[500, 1_000, 2_000],
    },
    Shape { name: "positions together, squared", text: positions, sizes: &[25, 50, 100] },
    Shape { name: "a state toggled", text: |n| toggled(n, true), sizes: &[250, 500, 1_000] },
    Shape { name: "the same, order left open", text: |n| toggled(n, false), sizes: &[125, 250, 500] },
    Shape { name: "a pin in, out, a turn", text: pinned, sizes: &[125, 250, 500] },
    Shape { name: "one state, many ways to it", text: drained, sizes: &[250, 500, 1_000] },
    Shape { name: "things put in and taken out", text: temporaries, sizes: &[1_000, 4_000, 10_000] },
    Shape { name: "the shipped engine, times", text: engines, sizes: &[1, 4, 16, 64] },
];

fn main() {
    let asked = std::env::args().nth(1).filter(|word| !word.starts_with("--"));
    println!("{:<30} {:>7} {:>10} {:>9}  exponent", "shape", "size", "time", "complaints");
    for shape in SHAPES.iter().filter(|shape| asked.as_ref().is_none_or(|word| shape.name.contains(word))) {
        let mut last: Option<(usize, Duration)> = None;
        for size in shape.sizes {
            let text = (shape.text)(*size);
            // The least of three: what else the machine does only adds.
            let runs = (0..3).map(|_| checked(&text));
            let (time, complaints) = runs.min().expect("three runs were made");
            let exponent = last.map_or(String::new(), |(before, less)| {
                let growth = (time.as_secs_f64() / less.as_secs_f64()).ln();
                format!("{:.2}", growth / (*size as f64 / before as f64).ln())
            });
            let time_ms = format!("{:.1} ms", time.as_secs_f64() * 1e3);
            println!("{:<30} {size:>7} {time_ms:>10} {complaints:>9}  {exponent}", shape.name);
            last = Some((*size, time));
        }
    }
}

/// How long the check takes, and how much it complains of.
fn checked(text: &str) -> (Duration, usize) {
    let shared = ["tools", "supplies", "hazards"].map(|name| {
        let path = format!("shared/{name}.rebuild");
        let text = std::fs::read_to_string(format!("procedures/{path}")).expect("it is shipped");
        (path, text)
    });
    let memory = shared.into_iter().fold(Memory::new(), |memory, (path, text)| memory.with(path, text));
    let mut workshop = Workshop::over(memory.with("big.rebuild", text.to_owned()));
    let begin = Instant::now();
    let checked = workshop.check(Path::new("big.rebuild"));
    (begin.elapsed(), checked.diagnostics.len())
}

/// Text built line by line.
#[derive(Default)]
struct Lines(String);

impl Lines {
    fn begun() -> Self {
        Lines(FAMILY.to_owned())
    }

    fn add(&mut self, line: std::fmt::Arguments<'_>) {
        writeln!(self.0, "{line}").expect("a string takes all");
    }
}

/// Parts of which each says this of the one before it.
fn one_after_another(size: usize, how: &str) -> String {
    let mut lines = Lines::begun();
    lines.add(format_args!("part p0 \"P\" {{}}"));
    (1..size).for_each(|i| lines.add(format_args!("part p{i} \"P\" {{ {how} p{} }}", i - 1)));
    (0..size).for_each(|i| lines.add(format_args!("strip s{i} \"S\" {{ take p{i} }}")));
    lines.0
}

fn fan(size: usize) -> String {
    let mut lines = Lines::begun();
    lines.add(format_args!("part cover \"C\" {{}}"));
    (0..size).for_each(|i| lines.add(format_args!("part p{i} \"P\" {{ under cover }}")));
    let all: Vec<String> = (0..size).map(|i| format!("p{i}")).collect();
    lines.add(format_args!(
        "part base \"B\" {{ under {} }}\nstrip off \"C\" {{ take cover }}",
        all.join(", ")
    ));
    (0..size).for_each(|i| lines.add(format_args!("strip s{i} \"S\" {{ take p{i} }}")));
    lines.add(format_args!("strip last \"B\" {{ take base }}"));
    lines.0
}

fn held_by_one(size: usize) -> String {
    let mut lines = Lines::begun();
    lines.add(format_args!("fasteners f 4 \"F\" {{ thread M8 }}"));
    (0..size).for_each(|i| lines.add(format_args!("part p{i} \"P\" {{ held by f }}")));
    lines.add(format_args!("strip free \"U\" {{ undo f }}"));
    (0..size).for_each(|i| lines.add(format_args!("strip s{i} \"S\" {{ take p{i} }}")));
    lines.0
}

fn positions(size: usize) -> String {
    let mut lines = Lines::begun();
    lines.add(format_args!("axis a = 1 .. {size}\naxis b = 1 .. {size}\npart p[a, b] \"P\" {{}}"));
    lines.add(format_args!("strip s \"S\" {{ each a, b together  take p }}"));
    lines.0
}

/// Lock, work, free, again and again; each round after the last, or left open.
fn toggled(size: usize, said: bool) -> String {
    let mut lines = Lines::begun();
    lines.add(format_args!("state crank \"Crank\" = free (at first), locked\npart p0 \"P\" {{}}"));
    (1..size).for_each(|i| lines.add(format_args!("part p{i} \"P\" {{ under p{} }}", i - 1)));
    for i in 0..size {
        let after = |step: String| if said { format!("after {step}  ") } else { String::new() };
        let again = if i == 0 { String::new() } else { after(format!("free{}", i - 1)) };
        lines.add(format_args!("strip lock{i} \"L\" {{ {again}set crank = locked }}"));
        let locked = after(format!("lock{i}"));
        lines.add(format_args!("strip work{i} \"W\" {{ {locked}needs crank = locked  take p{i} }}"));
        let done = after(format!("work{i}"));
        lines.add(format_args!("strip free{i} \"F\" {{ {done}set crank = free }}"));
    }
    lines.0
}

fn pinned(size: usize) -> String {
    let mut lines = Lines::begun();
    lines.add(format_args!("temporary pin \"Pin\" {{ into \"crank\" }}\npart p0 \"P\" {{}}"));
    (1..size).for_each(|i| lines.add(format_args!("part p{i} \"P\" {{ under p{} }}", i - 1)));
    for i in 0..size {
        let again = if i == 0 { String::new() } else { format!("after turn{}  ", i - 1) };
        lines.add(format_args!("strip pin{i} \"L\" {{ {again}put in pin }}"));
        lines.add(format_args!("strip work{i} \"W\" {{ after pin{i}  needs pin in  take p{i} }}"));
        lines.add(format_args!("strip out{i} \"F\" {{ after work{i}  take out pin }}"));
        lines.add(format_args!("strip turn{i} \"T\" {{ after out{i}  needs pin out  do \"Turn.\" }}"));
    }
    lines.0
}

fn drained(size: usize) -> String {
    let mut lines = Lines::begun();
    lines.add(format_args!("state oil \"Oil\" = full (at first), drained"));
    (0..size).for_each(|i| lines.add(format_args!("part p{i} \"P\" {{}}")));
    (0..size).for_each(|i| lines.add(format_args!("strip drain{i} \"D\" {{ set oil = drained }}")));
    (0..size).for_each(|i| lines.add(format_args!("strip s{i} \"S\" {{ needs oil = drained  take p{i} }}")));
    lines.0
}

fn temporaries(size: usize) -> String {
    let mut lines = Lines::begun();
    (0..size).for_each(|i| lines.add(format_args!("temporary t{i} \"T\" {{ into \"hole\" }}")));
    for i in 0..size {
        lines
            .add(format_args!("strip in{i} \"I\" {{ put in t{i} }}\nstrip out{i} \"O\" {{ take out t{i} }}"));
    }
    lines.0
}

/// The shipped engine so many times, what belongs to one engine renamed in each copy after the first; tools, hazards,
/// questions, axes and set-ups are shared.
fn engines(times: usize) -> String {
    let shipped = std::fs::read_to_string("procedures/brackwater3.rebuild").expect("it is shipped");
    // Two of its names are words of the language too, which in copies would be renamed with them.
    let shipped = shipped
        .replace("section below", "section under_side")
        .replace("block retighten", "block tighten_again")
        .replace("after retighten", "after tighten_again");
    let mut items: Vec<String> = Vec::new();
    for line in shipped.lines().filter(|line| !line.starts_with("--")) {
        if line.starts_with(|first: char| first.is_ascii_lowercase()) {
            items.push(String::new());
        }
        if let Some(item) = items.last_mut() {
            writeln!(item, "{line}").expect("a string takes all");
        }
    }
    let shared =
        ["use", "family", "axis", "ask", "setup", "tool", "hazard", "supply", "instrument", "supplier"];
    let own =
        |item: &&String| !shared.contains(&item.split_whitespace().next().expect("it begins with a word"));
    let mut names: BTreeSet<&str> = BTreeSet::new();
    for item in items.iter().filter(own) {
        for line in item.lines() {
            let mut words =
                line.split(|c: char| c.is_whitespace() || c == '[').filter(|word| !word.is_empty());
            let first = words.next().unwrap_or_default();
            let inner = line.starts_with(' ') && ["strip", "survey", "build", "start"].contains(&first);
            if !line.starts_with(' ') || (inner && line.contains('"')) {
                names.extend(words.next());
            }
        }
    }
    names.retain(|name| !name.starts_with('"'));
    let mut text = String::new();
    for copy in 0..times {
        for item in items.iter().filter(|item| copy == 0 || own(item)) {
            text += &renamed(item, &names, copy);
        }
    }
    text
}

/// An item with these names told apart from those of other copies, outside of texts.
fn renamed(item: &str, names: &BTreeSet<&str>, copy: usize) -> String {
    if copy == 0 {
        return item.to_owned();
    }
    let word = |c: char| c.is_ascii_alphanumeric() || c == '_';
    let mut text = String::new();
    for (index, stretch) in item.split('"').enumerate() {
        if index > 0 {
            text.push('"');
        }
        if index % 2 == 1 {
            text += stretch;
            continue;
        }
        let mut rest = stretch;
        while !rest.is_empty() {
            let end = rest.find(|c| !word(c)).unwrap_or(rest.len());
            let (name, behind) = rest.split_at(end);
            text += name;
            if names.contains(name) {
                write!(text, "_{copy}").expect("a string takes all");
            }
            let next = behind.find(word).unwrap_or(behind.len());
            text += &behind[..next];
            rest = &behind[next..];
        }
    }
    text
}
