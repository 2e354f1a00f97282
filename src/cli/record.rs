//! `record`: writes into the record of a job. Names are checked before anything is written, comments and order of the
//! file stay, and two writers at once lose nothing.

use std::cell::OnceCell;
use std::ffi::OsString;
use std::io::BufRead;
use std::path::{Path, PathBuf};
use std::process::ExitCode;

use clap::{Args, Parser};

use super::added::text;
use super::entry::{Context, Entry};
use super::left_blank::left_blank;
use super::progress::during;
use super::{errors, meant, output, sitting, writing};
use crate::diagnostics::{Diagnostic, unreadable};
use crate::network::connect;
use crate::packet::{Quoted, step_marks};
use crate::procedure::model::Phase;
use crate::quantity::Money;
use crate::record::{self, Date, Edit, Put, Written, step_key};
use crate::source::{Lock, replace};
use crate::workshop::{Request, Workshop, together};

/// Write into the record of a job
#[derive(Debug, Args)]
pub(super) struct Record {
    /// The record
    #[arg(value_name = "JOB.yaml")]
    job: PathBuf,
    /// Without an entry, entries line by line at the keyboard, each as it stands behind the record: `by HK 24.2`, `done 1-9`
    #[command(subcommand)]
    entry: Option<Entry>,
}

/// An entry as it is typed on a line of its own.
#[derive(Debug, Parser)]
#[command(no_binary_name = true, disable_help_flag = true)]
struct Typed {
    #[command(subcommand)]
    entry: Entry,
}

impl Record {
    pub(super) fn run(&self) -> ExitCode {
        match &self.entry {
            Some(entry) => self.once(entry),
            None => self.lines(),
        }
    }

    /// Takes a line after the other until an empty one or the end. Each is written or refused by itself; of lines of which one
    /// was refused the code is that of the refusal.
    fn lines(&self) -> ExitCode {
        let mut worst = ExitCode::SUCCESS;
        for line in std::io::stdin().lock().lines() {
            let Ok(line) = line else { break };
            if line.trim().is_empty() {
                break;
            }
            let words = words_of(&line).into_iter().map(OsString::from).map(super::pointed);
            let code = match Typed::try_parse_from(words) {
                Ok(Typed { entry }) => self.once(&entry),
                Err(_) => output::refuse(&errors::no_entry(line.trim())),
            };
            if code != ExitCode::SUCCESS {
                worst = code;
            }
        }
        worst
    }

    fn once(&self, entry: &Entry) -> ExitCode {
        let mut workshop = Workshop::new();
        let (diagnostics, code) = match self.write(entry, &mut workshop) {
            Ok(warnings) => (together(warnings), ExitCode::SUCCESS),
            Err(diagnostics) => {
                let diagnostics = together(diagnostics);
                let code = output::exit_code(&diagnostics);
                (diagnostics, code)
            }
        };
        output::report(workshop.sources(), &output::without_notices(diagnostics), output::Format::Text);
        code
    }

    /// Writes the entry, and gives the warnings that it brings: what is odd about it is told while the engine is at hand.
    fn write(&self, entry: &Entry, workshop: &mut Workshop) -> Result<Vec<Diagnostic>, Vec<Diagnostic>> {
        let _lock = Lock::wait(&self.job).map_err(|error| vec![errors::unwritable(&self.job, &error)])?;
        let opened = writing::open(workshop, &self.job)?;
        let before = workshop.sources().file(opened.file).text.clone();
        match entry {
            Entry::By { initials, day, date } => {
                let day = date.as_ref().or(day.as_ref()).map(String::as_str);
                let writer = sitting::begin(&self.job, &before, initials, day)?;
                output::print(&format!("{initials} is writing, as of {}\n", writer.date));
                return Ok(Vec::new());
            }
            Entry::Undo => {
                let lines = writing::undo(&self.job, &before)?;
                output::print(&format!("taken back:\n  {}\n", lines.join("\n  ")));
                return Ok(Vec::new());
            }
            _ => {}
        }
        let (by, date) = entry.signature();
        let writer = sitting::writer(&self.job, &before, by, date)?;
        let writer = if entry.is_signed() {
            let (by, date) = sitting::signed(&self.job, &before, writer, date)?;
            sitting::Writer { by: Some(by), date }
        } else {
            writer
        };
        let procedure = &opened.decided.procedure;
        let marks = OnceCell::new();
        let mark = |id: &str| {
            let written = &opened.decided.as_written;
            let marks = marks.get_or_init(|| step_marks(written, &connect(written).value));
            step_key(procedure, id).and_then(|key| marks.of(&key).map(str::to_owned))
        };
        let view = OnceCell::new();
        let steps = |typed: &str, phase: Option<Phase>| {
            // Where the id of a step is typed, nobody has to plan the whole job.
            if step_key(procedure, typed).is_some() {
                return Ok(vec![typed.to_owned()]);
            }
            let planned = view.get_or_init(|| {
                during("working the order out", || Workshop::new().job(&Request::of(&self.job)))
            });
            match &planned.value {
                Some(view) => meant::steps(view, typed, phase).map_err(|wrong| vec![wrong]),
                None => Err(planned.diagnostics.clone()),
            }
        };
        let context = Context {
            procedure,
            crib: &opened.decided.crib,
            by: writer.by,
            date: writer.date.to_string(),
            steps: &steps,
            mark: &mark,
        };
        let edits = entry.edits(&context)?;
        let drafted = writing::draft(workshop, &self.job, &opened, &edits)?;
        writing::save(&self.job, &before, &drafted.text)?;
        output::print(&told(&edits));
        let done = edits.iter().filter_map(|edit| match edit.path.as_slice() {
            [top, step] if top == "done" => Some(step.as_str()),
            _ => None,
        });
        let blank = left_blank(&drafted.decided, done);
        if !blank.is_empty() {
            output::print(&format!("still empty there: {}\n", blank.join(", ")));
        }
        Ok(drafted.fresh)
    }
}

/// The words of a line: between quotes spaces part none.
fn words_of(line: &str) -> Vec<String> {
    let mut words = Vec::new();
    let mut word: Option<String> = None;
    let mut quote: Option<char> = None;
    for letter in line.chars() {
        match (quote, letter) {
            (Some(open), _) if letter == open => quote = None,
            (None, '"' | '\'') => {
                quote = Some(letter);
                word.get_or_insert_default();
            }
            (None, _) if letter.is_whitespace() => words.extend(word.take()),
            _ => word.get_or_insert_default().push(letter),
        }
    }
    words.extend(word);
    words
}

/// What was understood, a line for each change.
fn told(edits: &[Edit]) -> String {
    let mut lines = String::new();
    for Edit { path, put } in edits {
        let (Put::Value(value) | Put::Instead(value) | Put::Again(_, value) | Put::Item(value)) = put;
        lines += &format!("{}: {}\n", path.join(" > "), words(value));
    }
    lines
}

/// A value as it is told; the fingerprint of a step tells nobody anything.
fn words(value: &Written) -> String {
    match value {
        Written::Text(text) => text.clone(),
        Written::List(texts) => texts.join(", "),
        Written::Items(items) => items.iter().map(words).collect::<Vec<_>>().join("; "),
        Written::Fields(fields) => {
            let fields = fields.iter().filter(|(key, _)| key != "fingerprint");
            fields.map(|(key, value)| format!("{key} {}", words(value))).collect::<Vec<_>>().join(", ")
        }
    }
}

/// Writes into a record that a packet was printed: when, of which phase, with which fingerprints; and the estimate in it,
/// if that isn't there yet, by whose number the owner agrees.
///
/// # Errors
/// The record can't be read or written, or would no longer be sound.
pub(super) fn record_print(
    workshop: &mut Workshop,
    path: &Path,
    (date, phase): (Date, &str),
    (fingerprint, sheets): (&str, &[(String, String)]),
    estimate: Option<&Quoted>,
) -> Result<(), Vec<Diagnostic>> {
    let _lock = Lock::wait(path).map_err(|error| vec![errors::unwritable(path, &error)])?;
    let file = workshop.sources_mut().read(path).map_err(|failure| vec![unreadable(path, &failure)])?;
    let marks = sheets.iter().map(|(name, mark)| (name.clone(), text(mark))).collect();
    let print = vec![
        ("date".to_owned(), text(&date.to_string())),
        ("phase".to_owned(), text(phase)),
        ("fingerprint".to_owned(), text(fingerprint)),
        ("sheets".to_owned(), Written::Fields(marks)),
    ];
    let known = record::read(file, &workshop.sources().file(file).text).value.estimates;
    let estimate = estimate.filter(|now| known.iter().all(|known| known.number.value != now.number));
    let items = std::iter::once(("prints", print)).chain(estimate.map(|now| ("estimates", noted(now, date))));
    let mut changes = Vec::new();
    for (key, item) in items {
        let change = Edit { path: vec![key.to_owned()], put: Put::Item(Written::Fields(item)) };
        changes.push(change);
    }
    let opened = writing::open(workshop, path)?;
    let read = workshop.sources().file(opened.file).text.clone();
    let drafted = writing::draft(workshop, path, &opened, &changes)?;
    replace(path, read.as_bytes(), drafted.text.as_bytes())
        .map_err(|error| vec![errors::unwritable(path, &error)])
}

/// An estimate as it stands in a record.
fn noted(estimate: &Quoted, date: Date) -> Vec<(String, Written)> {
    let costs = |list: &[(String, Money)]| {
        Written::Fields(list.iter().map(|(name, cost)| (name.clone(), text(&cost.to_string()))).collect())
    };
    let mut fields =
        vec![("number".to_owned(), text(&estimate.number)), ("date".to_owned(), text(&date.to_string()))];
    fields.extend(estimate.sum.as_ref().map(|sum| ("sum".to_owned(), text(&sum.to_string()))));
    fields.push(("goods".to_owned(), costs(&estimate.goods)));
    fields.push(("work".to_owned(), costs(&estimate.work)));
    fields
}
