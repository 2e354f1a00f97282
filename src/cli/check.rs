//! `check`: everything that can be said about procedures and records of jobs, without making anything of them.

use std::path::PathBuf;
use std::process::ExitCode;

use clap::Args;

use super::mend::mend;
use super::output::{self, Format};
use super::progress::Progress;
use super::watch::watched;
use crate::diagnostics::Diagnostic;
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
    /// Make the changes that complaints propose, where nothing else can have been meant, and show the rest
    #[arg(long)]
    mend: bool,
    /// Check again whenever one of the files has changed
    #[arg(long, conflicts_with = "mend")]
    watch: bool,
}

impl Check {
    pub(super) fn run(&self) -> ExitCode {
        if self.watch {
            return watched(|files| {
                let mut workshop = Workshop::new();
                let (counts, diagnostics) = self.found(&mut workshop);
                files.extend(self.paths.iter().cloned());
                files.extend(workshop.sources().files().map(|(_, file)| file.path.clone()));
                self.tell(&workshop, counts, &diagnostics)
            });
        }
        if !self.mend {
            let mut workshop = Workshop::new();
            let (counts, diagnostics) = self.found(&mut workshop);
            return self.tell(&workshop, counts, &diagnostics);
        }
        match mend(|workshop| self.found(workshop)) {
            Ok(mended) => {
                mended.lines.iter().for_each(|line| output::complain(line));
                self.tell(&mended.workshop, mended.counts, &mended.left)
            }
            Err(fault) => output::refuse(&fault),
        }
    }

    /// How many procedures and records there are, and what is to be said about them.
    fn found(&self, workshop: &mut Workshop) -> ([usize; 2], Vec<Diagnostic>) {
        let (records, procedures): (Vec<PathBuf>, Vec<PathBuf>) =
            self.paths.iter().cloned().partition(|path| is_record(path));
        let found = workshop.procedures(&procedures);
        let mut diagnostics = found.diagnostics;
        let all = found.value.len() + records.len();
        let progress = Progress::begun();
        progress.says("checking");
        let judged = |done: usize| {
            if all > 1 {
                progress.says(&format!("checked {done} of {all}"));
            }
        };
        diagnostics.extend(workshop.check_each(&found.value, &judged));
        for (at, path) in records.iter().enumerate() {
            diagnostics.extend(workshop.check_record(path));
            judged(found.value.len() + at + 1);
        }
        ([found.value.len(), records.len()], together(diagnostics))
    }

    fn tell(
        &self,
        workshop: &Workshop,
        [procedures, records]: [usize; 2],
        diagnostics: &[Diagnostic],
    ) -> ExitCode {
        output::report(workshop.sources(), diagnostics, self.format);
        if self.format == Format::Text {
            let counts = [(procedures, "procedure"), (records, "record")];
            let counts =
                counts.into_iter().filter(|(count, what)| *count > 0 || *what == "procedure" && records == 0);
            let counts: Vec<String> = counts.map(|(count, what)| counted(count, what)).collect();
            output::complain(&format!("{}: {}\n", counts.join(", "), output::summary(diagnostics)));
        }
        output::exit_code(diagnostics)
    }
}
