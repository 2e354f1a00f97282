//! What every command on a whole procedure begins with: a planned job, or everything that is wrong, reported.

use std::ops::Deref;
use std::process::ExitCode;

use super::output::{self, Format};
use super::progress::during;
use crate::diagnostics::{Diagnostic, Severity};
use crate::english::counted;
use crate::packet::Material;
use crate::source::Sources;
use crate::workshop::{JobView, Request, Workshop};

/// A planned job and the workshop that it was read in.
pub(super) struct Prepared {
    pub workshop: Workshop,
    view: JobView,
}

impl Deref for Prepared {
    type Target = JobView;

    fn deref(&self) -> &JobView {
        &self.view
    }
}

impl Prepared {
    /// What sheets are made from.
    pub(super) fn material(&self) -> Material<'_> {
        self.view.material(&self.workshop)
    }

    /// The texts that were read, when nothing else is wanted any more.
    pub(super) fn into_sources(self) -> Sources {
        self.workshop.into_sources()
    }

    /// The texts that were read.
    pub(super) fn sources(&self) -> &Sources {
        self.workshop.sources()
    }
}

/// Prepares a procedure and the record of a job. With an error everything found is reported, and the exit code given.
///
/// # Errors
/// The exit code of a run that has to stop here.
pub(super) fn prepare(request: &Request<'_>) -> Result<Prepared, ExitCode> {
    let mut workshop = Workshop::new();
    let opened = during("working the order out", || workshop.job(request));
    let diagnostics = opened.diagnostics;
    if let Some(view) = opened.value {
        warn(workshop.sources(), &view);
        return Ok(Prepared { workshop, view });
    }
    let errors: Vec<Diagnostic> =
        diagnostics.iter().filter(|diagnostic| diagnostic.severity() == Severity::Error).cloned().collect();
    output::report(workshop.sources(), &errors, Format::Text);
    output::complain(&format!(
        "{}: nothing is made of this until the errors are mended\n",
        output::summary(&diagnostics)
    ));
    Err(output::exit_code(&diagnostics))
}

/// Tells what is odd about the job, and how much there is to say about the procedure.
fn warn(sources: &Sources, view: &JobView) {
    let warnings = |all: &[Diagnostic]| -> Vec<Diagnostic> {
        all.iter().filter(|diagnostic| diagnostic.severity() == Severity::Warning).cloned().collect()
    };
    output::report(sources, &warnings(&view.of_job), Format::Text);
    let of_procedure = warnings(&view.of_procedure).len();
    if of_procedure > 0 {
        let count = counted(of_procedure, "warning");
        output::complain(&format!("{count} about the procedure, shown by `benchleaf check`\n"));
    }
}
