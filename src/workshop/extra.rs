//! The extra work of a job, put beside its procedure as one more text, and what the job changes in it; what is said of the
//! extra work is told at the record.

use std::path::Path;

use super::Workshop;
use super::record::named_file;
use crate::diagnostics::{Diagnostic, Label, Outcome};
use crate::procedure::{self, OfJob, model::Procedure};
use crate::record::{self, Record};
use crate::source::{FileId, Spanned};

impl Workshop {
    /// The procedure with what a record declares of its own.
    pub(super) fn load(
        &mut self,
        path: &Path,
        record: Option<(&Path, &Record)>,
    ) -> Outcome<Option<Procedure>> {
        let more = record.and_then(|(job, record)| Some((record, self.declare(job, record)?)));
        let (changes, unread) = match record.and_then(|(job, record)| Some((job, record.changes.as_ref()?))) {
            Some((job, written)) => self.changes(job, written),
            None => (None, None),
        };
        let of_job = OfJob { more: more.map(|(_, file)| file), changes };
        let mut loaded = procedure::load_with(&mut self.sources, &mut self.brought_in, path, of_job);
        loaded.diagnostics.extend(unread);
        if let (Some((record, file)), Some(procedure)) = (more, &mut loaded.value) {
            loaded.diagnostics.extend(record::place_extra(record, procedure, |step| step.span.file == file));
        }
        loaded
    }

    /// The file of what a record changes in its procedure; complains where it can't be read.
    fn changes(&mut self, job: &Path, written: &Spanned<String>) -> (Option<FileId>, Option<Diagnostic>) {
        self.of_jobs.push(written.span.file);
        match named_file(&mut self.sources, job, ("changes", written)) {
            Ok(file) => {
                self.of_jobs.push(file);
                (Some(file), None)
            }
            Err(complaint) => (None, Some(complaint)),
        }
    }

    /// Puts what a record declares among the texts; none where it declares nothing.
    fn declare(&mut self, job: &Path, record: &Record) -> Option<FileId> {
        let declarations = record.extra.declarations()?;
        let name = format!("{}, extra work", job.display());
        let file = self.sources.add(name, declarations.text.clone());
        self.declared.push((file, declarations));
        Some(file)
    }

    /// Whether a complaint is about what a record declares or changes.
    pub(super) fn is_of_record(&self, diagnostic: &Diagnostic) -> bool {
        let declared = |label: &Label| {
            let file = label.span.file;
            self.declared.iter().any(|(declared, _)| *declared == file) || self.of_jobs.contains(&file)
        };
        diagnostic.labels.iter().any(declared)
    }

    /// Complaints of what a record declares, told where the record says it.
    pub(super) fn in_record(&self, mut diagnostics: Vec<Diagnostic>) -> Vec<Diagnostic> {
        for label in diagnostics.iter_mut().flat_map(|diagnostic| &mut diagnostic.labels) {
            let declared = self.declared.iter().find(|(file, _)| *file == label.span.file);
            let said = declared.and_then(|(_, declarations)| declarations.in_record(label.span.start()));
            label.span = said.unwrap_or(label.span);
        }
        diagnostics
    }
}
