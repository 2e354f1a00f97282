//! The jobs of a folder, opened one after the other for whoever tells of all of them.

use std::path::Path;
use std::process::ExitCode;

use super::next::records_in;
use super::progress::during;
use super::{errors, output};
use crate::record::standing;
use crate::source::{Disk, Files};
use crate::workshop::{JobView, Request, Workshop, together};

/// Hands on each job whose record lies in a folder, and complains of those that can't be opened. The exit code.
///
/// # Errors
/// The exit code where there was none to hand on; why has been told.
pub(super) fn each_job(
    folder: &Path,
    mut take: impl FnMut(&Workshop, &JobView),
) -> Result<ExitCode, ExitCode> {
    let (mut code, mut none) = (ExitCode::SUCCESS, true);
    for path in records_in(folder) {
        // Prices and cribs lie beside the records and are none.
        let text = Disk.read(&path).unwrap_or_default();
        if standing(&text, &["procedure".to_owned()]).texts.is_empty() {
            continue;
        }
        let mut workshop = Workshop::new();
        let opened = during(&format!("opening {}", path.display()), || workshop.job(&Request::of(&path)));
        match opened.value {
            Some(view) => {
                none = false;
                take(&workshop, &view);
            }
            None => {
                let diagnostics = together(opened.diagnostics);
                code = output::exit_code(&diagnostics);
                let diagnostics = output::without_notices(diagnostics);
                output::report(workshop.sources(), &diagnostics, output::Format::Text);
            }
        }
    }
    match (none, code == ExitCode::SUCCESS) {
        (false, _) => Ok(code),
        (true, true) => Err(output::refuse(&errors::no_records(folder))),
        (true, false) => Err(code),
    }
}
