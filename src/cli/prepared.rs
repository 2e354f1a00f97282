//! What every command on a whole procedure begins with: a planned job, or everything that is wrong, reported.

use std::ops::Deref;
use std::process::ExitCode;

use super::output::{self, Format};
use crate::diagnostics::{Diagnostic, Severity};
use crate::english::counted;
use crate::packet::Material;
use crate::procedure::model::Procedure;
use crate::source::Sources;
use crate::workshop::{JobView, Request, Workshop};

/// A planned job and the workshop that it was read in.
pub struct Prepared {
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
    pub fn material(&self) -> Material<'_> {
        self.view.material(&self.workshop)
    }

    /// The texts that were read.
    pub fn sources(&self) -> &Sources {
        self.workshop.sources()
    }
}

/// Prepares a procedure and the record of a job. With an error everything found is reported, and the exit code given.
///
/// # Errors
/// The exit code of a run that has to stop here.
pub fn prepare(request: &Request<'_>) -> Result<Prepared, ExitCode> {
    let mut workshop = Workshop::new();
    let opened = workshop.job(request);
    let diagnostics = opened.diagnostics;
    if let Some(view) = opened.value {
        warn(workshop.sources(), &view.procedure, &diagnostics);
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
fn warn(sources: &Sources, procedure: &Procedure, diagnostics: &[Diagnostic]) {
    let warnings = diagnostics.iter().filter(|diagnostic| diagnostic.severity() == Severity::Warning);
    // What stands in the record may point on at the procedure: its first place tells whose it is.
    let of_procedure = |diagnostic: &Diagnostic| {
        diagnostic.labels.first().is_some_and(|label| procedure.files.contains(&label.span.file))
    };
    let (of_procedure, of_job): (Vec<Diagnostic>, Vec<Diagnostic>) =
        warnings.cloned().partition(of_procedure);
    output::report(sources, &of_job, Format::Text);
    if !of_procedure.is_empty() {
        let count = counted(of_procedure.len(), "warning");
        output::complain(&format!("{count} about the procedure: `benchleaf check` shows them\n"));
    }
}
