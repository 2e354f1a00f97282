//! `check`: everything that can be said about procedures and records of jobs, without making anything of them.

use std::path::PathBuf;
use std::process::ExitCode;

use clap::Args;

use super::output::{self, Format};
use crate::english::counted;
use crate::workshop::{Workshop, is_record, together};

/// Check procedures and records of jobs: names, units, order, and what is missing
#[derive(Debug, Args)]
pub(super) struct Check {
    /// Procedures, folders with procedures in them, records of jobs
    #[arg(required = true, value_name = "PATH")]
    paths: Vec<PathBuf>,
    /// Form of the report
    #[arg(long, value_enum, default_value_t = Format::Text)]
    format: Format,
}

impl Check {
    pub(super) fn run(&self) -> ExitCode {
        let mut workshop = Workshop::new();
        let (records, procedures): (Vec<PathBuf>, Vec<PathBuf>) =
            self.paths.iter().cloned().partition(|path| is_record(path));
        let found = workshop.procedures(&procedures);
        let mut diagnostics = found.diagnostics;
        for path in &found.value {
            diagnostics.extend(workshop.check(path).diagnostics);
        }
        for path in &records {
            diagnostics.extend(workshop.check_record(path));
        }
        let diagnostics = together(diagnostics);
        output::report(workshop.sources(), &diagnostics, self.format);
        if self.format == Format::Text {
            let counts = [(found.value.len(), "procedure"), (records.len(), "record")];
            let counts = counts
                .into_iter()
                .filter(|(count, what)| *count > 0 || *what == "procedure" && records.is_empty());
            let counts: Vec<String> = counts.map(|(count, what)| counted(count, what)).collect();
            output::complain(&format!("{}: {}\n", counts.join(", "), output::summary(&diagnostics)));
        }
        output::exit_code(&diagnostics)
    }
}
