//! `check`: everything that can be said about procedures, without making anything of them.

use std::path::PathBuf;
use std::process::ExitCode;

use clap::Args;

use super::output::{self, Format};
use crate::english::counted;
use crate::workshop::{Workshop, together};

/// Check procedures: names, units, order, and what is missing
#[derive(Debug, Args)]
pub(super) struct Check {
    /// Procedures, or folders with procedures in them
    #[arg(required = true, value_name = "PATH")]
    paths: Vec<PathBuf>,
    /// Form of the report
    #[arg(long, value_enum, default_value_t = Format::Text)]
    format: Format,
}

impl Check {
    pub(super) fn run(&self) -> ExitCode {
        let mut workshop = Workshop::new();
        let found = workshop.procedures(&self.paths);
        let mut diagnostics = found.diagnostics;
        for path in &found.value {
            diagnostics.extend(workshop.check(path).diagnostics);
        }
        let diagnostics = together(diagnostics);
        output::report(workshop.sources(), &diagnostics, self.format);
        if self.format == Format::Text {
            let procedures = counted(found.value.len(), "procedure");
            output::complain(&format!("{procedures}: {}\n", output::summary(&diagnostics)));
        }
        output::exit_code(&diagnostics)
    }
}
