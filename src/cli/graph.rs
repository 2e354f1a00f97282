//! `graph`: what must come before what, as a drawing or for programs.

use std::path::PathBuf;
use std::process::ExitCode;

use clap::Args;

use super::phases::PhaseName;
use super::prepared::prepare;
use super::{errors, output};
use crate::english::counted;
use crate::packet::{graphml, links_csv, picture_of, svg};
use crate::workshop::Request;

/// Draw what must come before what, or give it to other programs
#[derive(Debug, Args)]
pub(super) struct Graph {
    /// The procedure; or the record of a job, which names it
    #[arg(value_name = "PROCEDURE")]
    path: PathBuf,
    /// The record of the job; without it every step is drawn
    #[arg(long, value_name = "JOB.yaml")]
    job: Option<PathBuf>,
    /// The phase
    #[arg(long, value_enum, default_value_t = PhaseName::Strip)]
    phase: PhaseName,
    /// The file to write: `.svg` to look at it, `.graphml` or `.csv` (the links) for programs
    #[arg(short, long, value_name = "FILE")]
    output: PathBuf,
}

impl Graph {
    pub(super) fn run(&self) -> ExitCode {
        let draw = match self.output.extension().and_then(|extension| extension.to_str()) {
            Some("svg") => svg,
            Some("graphml") => graphml,
            Some("csv") => links_csv,
            _ => return output::refuse(&errors::unknown_drawing(&self.output)),
        };
        let phase = self.phase.phase();
        let request = Request { record: self.job.as_deref(), last: &|_, _| phase, ..Request::of(&self.path) };
        let prepared = match prepare(&request) {
            Ok(prepared) => prepared,
            Err(code) => return code,
        };
        let text = picture_of(&prepared.material(), phase, draw);
        match output::write(prepared.sources(), &self.output, text.as_bytes()) {
            Ok(()) => {
                let steps = prepared.plan.phase(phase).map_or(0, |plan| plan.steps.len());
                let (shown, steps) = (self.output.display(), counted(steps, "step"));
                output::complain(&format!("{shown}: {}, {steps}\n", phase.word()));
                ExitCode::SUCCESS
            }
            Err(code) => code,
        }
    }
}
