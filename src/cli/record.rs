//! `record`: writes into the record of a job. Names are checked before anything is written, comments and order of the
//! file stay, and two writers at once lose nothing.

use std::path::{Path, PathBuf};
use std::process::ExitCode;

use clap::Args;

use super::added::text;
use super::entry::Entry;
use super::{errors, output};
use crate::decide::progress;
use crate::diagnostics::{Diagnostic, Outcome, unreadable};
use crate::network::connect;
use crate::packet::{Quoted, step_marks};
use crate::quantity::Money;
use crate::record::{self, Date, Edit, Put, Refusal, Written, edit, step_key};
use crate::source::{FileId, Lock, Span, replace};
use crate::workshop::{Decided, Named, Workshop, together};

/// Write into the record of a job
#[derive(Debug, Args)]
pub(super) struct Record {
    /// The record
    #[arg(value_name = "JOB.yaml")]
    job: PathBuf,
    #[command(subcommand)]
    entry: Entry,
}

impl Record {
    pub(super) fn run(&self) -> ExitCode {
        let mut workshop = Workshop::new();
        let (diagnostics, code) = match self.write(&mut workshop) {
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
    fn write(&self, workshop: &mut Workshop) -> Result<Vec<Diagnostic>, Vec<Diagnostic>> {
        let _lock = Lock::wait(&self.job).map_err(|error| vec![errors::unwritable(&self.job, &error)])?;
        let file = workshop
            .sources_mut()
            .read(&self.job)
            .map_err(|failure| vec![unreadable(&self.job, &failure)])?;
        let before = workshop.decide_text(file, &self.job, Named::default());
        let loaded = match before.value {
            Some(loaded) if output::exit_code(&before.diagnostics) == ExitCode::SUCCESS => loaded,
            _ => return Err(before.diagnostics),
        };
        let told = |diagnostic: &Diagnostic| {
            let same = |other: &Diagnostic| {
                (other.code.name, &other.message) == (diagnostic.code.name, &diagnostic.message)
            };
            before.diagnostics.iter().any(same)
        };
        let mut change = self.entry.edit(&loaded.procedure, &loaded.crib);
        if let (Entry::Done { step, .. }, Put::Value(Written::Fields(fields))) =
            (&self.entry, &mut change.put)
        {
            let network = connect(&loaded.procedure).value;
            let marks = step_marks(&loaded.procedure, &network);
            let mark = step_key(&loaded.procedure, step).and_then(|key| marks.of(&key).map(text));
            fields.extend(mark.map(|mark| ("fingerprint".to_owned(), mark)));
        }
        let read = workshop.sources().file(file).text.clone();
        let (after, checked) = changed(workshop, &self.job, file, &change)?;
        let mut diagnostics = checked.diagnostics;
        if let (Entry::Done { .. } | Entry::NotDone { .. }, Some(loaded)) = (&self.entry, &checked.value) {
            let network = connect(&loaded.procedure).value;
            diagnostics.extend(progress(&loaded.procedure, &network, &loaded.job, &loaded.decisions));
        }
        diagnostics.retain(|diagnostic| !told(diagnostic));
        if output::exit_code(&diagnostics) != ExitCode::SUCCESS {
            return Err(diagnostics);
        }
        replace(&self.job, read.as_bytes(), after.as_bytes())
            .map_err(|error| vec![errors::unwritable(&self.job, &error)])?;
        Ok(diagnostics)
    }
}

/// The text of a record with a change made, read again as any record is, so that every name and value is checked.
fn changed(
    workshop: &mut Workshop,
    path: &Path,
    file: FileId,
    change: &Edit,
) -> Result<(String, Outcome<Option<Decided>>), Vec<Diagnostic>> {
    let text = workshop.sources().file(file).text.clone();
    let after = edit(&text, change).map_err(|refusal| {
        let line = match refusal {
            Refusal::Present(line) | Refusal::OtherKind(line) => line,
            Refusal::Unreadable | Refusal::Unsafe => 1,
        };
        let start = workshop.sources().file(file).line_start(line).unwrap_or_default();
        let words = text[start..].lines().next().unwrap_or_default();
        let span =
            Span::new(file, start + words.len() - words.trim_start().len(), start + words.trim_end().len());
        vec![errors::not_recorded(span, &change.path.join(" "), &refusal)]
    })?;
    let draft = workshop.sources_mut().add(path.to_path_buf(), after.clone());
    let checked = workshop.decide_text(draft, path, Named::default());
    Ok((after, checked))
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
    let mut file = workshop.sources_mut().read(path).map_err(|failure| vec![unreadable(path, &failure)])?;
    let read = workshop.sources().file(file).text.clone();
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
    for (key, item) in items {
        let change = Edit { path: vec![key.to_owned()], put: Put::Item(Written::Fields(item)) };
        let (after, checked) = changed(workshop, path, file, &change)?;
        if output::exit_code(&checked.diagnostics) != ExitCode::SUCCESS {
            return Err(checked.diagnostics);
        }
        file = workshop.sources_mut().add(path.to_path_buf(), after);
    }
    let after = &workshop.sources().file(file).text;
    replace(path, read.as_bytes(), after.as_bytes()).map_err(|error| vec![errors::unwritable(path, &error)])
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
