//! In which facts the procedure differs from the one that it is of, and what this job alone has otherwise: a table, so that
//! whoever knows the other engine sees at once what is not as he knows it.

use super::bench::Bench;
use super::bench_notes::concerns;
use super::questions::columns;
use crate::plan::PlannedStep;
use crate::plan::line_of;
use crate::plan::words::{capital, inner};
use crate::procedure::model::{Below, Differing, Name, Procedure, Quoted, StepKey};
use crate::record::About;
use crate::sheet::{Block, Cell, Sheet, SheetKind, Table, Text};

/// The sheet of what differs; none for a procedure that stands by itself.
pub(super) fn differing(bench: &Bench) -> Vec<Sheet> {
    let all = &bench.procedure.differing;
    if all.is_empty() {
        return Vec::new();
    }
    let mut blocks = vec![Block::Paragraph(Text::plain(
        "Everything that is not listed here is as in the other procedure. The words are those of the files.",
    ))];
    let of_family: Vec<&Differing> = all.iter().filter(|one| !one.of_job).collect();
    let of_job: Vec<&Differing> = all.iter().filter(|one| one.of_job).collect();
    if let (Some(below), false) = (&bench.procedure.of, of_family.is_empty()) {
        blocks.push(heading(format!("Beside {}", named(below))));
        blocks.push(table(bench, &below.title, &of_family));
    }
    if !of_job.is_empty() {
        blocks.push(heading("This job alone".to_owned()));
        blocks.push(table(bench, "The procedure", &of_job));
    }
    let title = format!("{}: what differs", bench.family_title());
    let mut sheet = Sheet::new(SheetKind::Differences, title, "", blocks);
    sheet.follows = all.len() <= SHORT;
    vec![sheet]
}

/// Rows that don't take a page of their own. Our own choice, no source.
const SHORT: usize = 8;

/// What stands in the head of a step in which something is not as in the other procedure: the step itself, or what it handles.
pub(super) fn marks(bench: &Bench, planned: &PlannedStep) -> Vec<Text> {
    let written = match planned.key {
        StepKey::Written(id, _) => Some(bench.procedure.step(id).naming.id.as_str()),
        StepKey::Derived(_) => None,
    };
    let is_here = |one: &&Differing| {
        let about = bench.procedure.names.get(&one.id).and_then(|name| match name {
            Name::Part(id) => Some(About::Part(*id, None)),
            Name::Set(id) => Some(About::Set(*id, None)),
            Name::Joint(id) => Some(About::Joint(*id, None)),
            Name::Gauge(id) => Some(About::Gauge(*id, None)),
            Name::Look(id) => Some(About::Look(*id, None)),
            _ => None,
        });
        written == Some(one.id.as_str()) || about.is_some_and(|about| concerns(bench, planned, &about))
    };
    let here: Vec<&Differing> = bench.procedure.differing.iter().filter(is_here).collect();
    let mut marks = Vec::new();
    if let (Some(below), true) = (&bench.procedure.of, here.iter().any(|one| !one.of_job)) {
        marks.push(Text::plain(format!("not as on {}", below.title)));
    }
    if here.iter().any(|one| one.of_job) {
        marks.push(Text::plain("changed for this job"));
    }
    marks
}

fn plain(words: impl Into<String>) -> Cell {
    Cell::Text(Text::plain(words))
}

fn heading(text: String) -> Block {
    Block::Heading { level: 2, text: Text::plain(text), anchor: None }
}

/// The other procedure, with its edition.
pub(super) fn named(below: &Below) -> String {
    let edition = below.edition.as_ref().map(|edition| format!(", edition {edition}")).unwrap_or_default();
    format!("{}{edition}", below.title)
}

fn table(bench: &Bench, other: &str, rows: &[&Differing]) -> Block {
    // What is said of one thing stands together, in the order in which the things come first.
    let first = |one: &Differing| rows.iter().position(|other| other.id == one.id);
    let mut sorted = rows.to_vec();
    sorted.sort_by_key(|one| first(one));
    let mut last: Option<&str> = None;
    let mut cells = Vec::new();
    for one in sorted {
        let again = last == Some(one.id.as_str());
        last = Some(&one.id);
        let what = if again { String::new() } else { called(bench, one) };
        let (was, is) = match (one.whole, &one.was) {
            (true, Some(_)) => ("has it".to_owned(), "taken out".to_owned()),
            (true, None) => ("hasn't got it".to_owned(), "new".to_owned()),
            (false, _) => (
                shown(bench, one, one.was.as_ref(), "says nothing"),
                shown(bench, one, one.is.as_ref(), "left out"),
            ),
        };
        cells.push(vec![plain(what), plain(was), plain(is), plain(line_of(bench.material.sources, one.at))]);
    }
    Block::Table(Table {
        caption: Text::default(),
        columns: columns(&[("What", 2.4), (other, 3.2), ("Here", 3.4), ("Said in", 2.6)]),
        rows: cells,
    })
}

/// What a thing is called here, or was called there.
fn called(bench: &Bench, one: &Differing) -> String {
    let here = bench.procedure.names.get(&one.id).map(|name| bench.procedure.naming(*name).title.as_str());
    if one.word == "family" {
        format!("The {}", bench.procedure.whole())
    } else {
        capital(here.unwrap_or(&one.title))
    }
}

/// The words of a file as they are read at the stand, with titles for names; of the head of a declaration what stands behind
/// its name.
fn shown(bench: &Bench, one: &Differing, said: Option<&Quoted>, none: &str) -> String {
    let Some(said) = said else { return none.to_owned() };
    let words = said.words.replace("N.m", "N·m");
    let named = format!("{} {}", one.word, one.id);
    if let Some(rest) = words.strip_prefix(&named) {
        return rest.split(" {").next().unwrap_or(rest).trim_start().to_owned();
    }
    in_titles(bench.procedure, &words)
}

/// A clause with the titles of what it names. Its first word is of the language, and what stands in quotes stays.
fn in_titles(procedure: &Procedure, clause: &str) -> String {
    let mut out = String::new();
    for (at, piece) in clause.split('"').enumerate() {
        if at > 0 {
            out.push('"');
        }
        if at % 2 == 1 {
            out.push_str(piece);
            continue;
        }
        let part_of_word = |letter: char| letter.is_ascii_alphanumeric() || letter == '_';
        for (nth, piece) in piece.split_inclusive(|letter| !part_of_word(letter)).enumerate() {
            let word = piece.trim_end_matches(|letter| !part_of_word(letter));
            let first = at == 0 && nth == 0;
            let title = procedure
                .names
                .get(word)
                .filter(|_| !first)
                .map(|name| inner(&procedure.naming(*name).title));
            out.push_str(title.as_deref().unwrap_or(word));
            out.push_str(&piece[word.len()..]);
        }
    }
    out
}
