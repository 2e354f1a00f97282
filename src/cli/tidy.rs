//! `tidy`: the text of procedures in its one form.

use std::path::{Path, PathBuf};
use std::process::ExitCode;

use clap::Args;

use super::progress::Progress;
use super::{errors, output};
use crate::diagnostics::unreadable;
use crate::english::counted;
use crate::language::tidied;
use crate::procedure::another_kind;
use crate::source::replace;
use crate::workshop::{Workshop, together};

/// Lay procedures out in their one form: the same words and comments, spaced and broken into lines anew
#[derive(Debug, Args)]
pub(super) struct Tidy {
    /// Procedures, or folders with procedures in them
    #[arg(required = true, value_name = "PATH")]
    paths: Vec<PathBuf>,
    /// Change nothing: say which files would be laid out anew, and exit with 1 if there are any
    #[arg(long)]
    check: bool,
}

/// What became of one file.
enum Done {
    /// It had its form.
    Already,
    /// It was laid out, or would be.
    Laid,
}

impl Tidy {
    pub(super) fn run(&self) -> ExitCode {
        let mut workshop = Workshop::new();
        let mut diagnostics = Vec::new();
        let mut files = Vec::new();
        for path in &self.paths {
            if !workshop.sources().is_folder(path) {
                files.push(path.clone());
                continue;
            }
            match workshop.sources().procedure_files(path) {
                Ok(found) => files.extend(found),
                Err(failure) => diagnostics.push(unreadable(path, &failure)),
            }
        }
        let mut laid = 0;
        let progress = Progress::begun();
        for (at, path) in files.iter().enumerate() {
            progress.says(&format!("laying out {} of {}", at + 1, files.len()));
            match self.file(&mut workshop, path) {
                Ok(Done::Already) => {}
                Ok(Done::Laid) => laid += 1,
                Err(faults) => diagnostics.extend(faults),
            }
        }
        drop(progress);
        let diagnostics = together(diagnostics);
        output::report(workshop.sources(), &diagnostics, output::Format::Text);
        let already = files.len() - laid;
        let words = if self.check { "to lay out" } else { "laid out" };
        if diagnostics.is_empty() {
            output::complain(&format!(
                "{}: {laid} {words}, {already} tidy already\n",
                counted(files.len(), "file")
            ));
        }
        match output::exit_code(&diagnostics) {
            ExitCode::SUCCESS if self.check && laid > 0 => ExitCode::FAILURE,
            code => code,
        }
    }

    fn file(&self, workshop: &mut Workshop, path: &Path) -> Result<Done, Vec<crate::Diagnostic>> {
        let file = workshop.sources_mut().read(path).map_err(|failure| vec![unreadable(path, &failure)])?;
        let text = workshop.sources().file(file).text.clone();
        let tidied = tidied(file, &text);
        let Some(tidy) = tidied.value else {
            let other = another_kind(workshop.sources(), file, false, &tidied.diagnostics);
            return Err(other.map_or(tidied.diagnostics, |other| vec![other]));
        };
        if tidy == text {
            return Ok(Done::Already);
        }
        let first = text.lines().zip(tidy.lines()).take_while(|(old, new)| old == new).count();
        let shown = path.display();
        if self.check {
            output::print(&format!("{shown}:{}: would be laid out anew from here\n", first + 1));
        } else {
            replace(path, text.as_bytes(), tidy.as_bytes())
                .map_err(|error| vec![errors::unwritable(path, &error)])?;
            output::print(&format!("{shown}: laid out\n"));
        }
        Ok(Done::Laid)
    }
}
