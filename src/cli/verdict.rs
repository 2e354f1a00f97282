//! `verdict`: what becomes of each part, what to send out and what to buy.

use std::path::PathBuf;
use std::process::ExitCode;

use clap::{Args, ValueEnum};

use super::{errors, output};
use crate::decide::{machining_csv, order_csv, verdict_json, verdict_text};
use crate::network::connect;
use crate::workshop::{Named, Workshop, is_record, touched};

/// Decide from readings what becomes of each part, what to send out and what to buy
#[derive(Debug, Args)]
pub(super) struct Verdict {
    /// The procedure; or the record of a job, which names it
    #[arg(value_name = "PROCEDURE")]
    path: PathBuf,
    /// The record of the job
    #[arg(long, value_name = "JOB.yaml")]
    job: Option<PathBuf>,
    /// What things and work cost; else the file that the record names
    #[arg(long, value_name = "PRICES.yaml")]
    prices: Option<PathBuf>,
    /// Form of the report
    #[arg(long, value_enum, default_value_t = Form::Text)]
    format: Form,
}

/// In which form verdicts are given.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum Form {
    /// For people
    Text,
    /// One JSON object
    Json,
    /// The order list, comma separated
    OrderCsv,
    /// The machine-shop order, comma separated
    MachiningCsv,
}

impl Verdict {
    pub(super) fn run(&self) -> ExitCode {
        let mut workshop = Workshop::new();
        let (job, procedure) = match &self.job {
            Some(job) if !is_record(&self.path) => (job, Some(self.path.as_path())),
            None if is_record(&self.path) => (&self.path, None),
            Some(_) => return output::refuse(&errors::job_twice()),
            None => return output::refuse(&errors::no_job("verdict")),
        };
        let mut decided = workshop.decide(job, Named { procedure, prices: self.prices.as_deref() });
        if let Some(decided_job) = &decided.value {
            let network = connect(&decided_job.procedure).value;
            touched(&decided_job.procedure, &network, &decided_job.job, &mut decided.diagnostics);
        }
        output::print_if_sound(workshop.sources(), decided, |decided| {
            let (procedure, job, decisions) = (&decided.procedure, &decided.job, &decided.decisions);
            let report = match self.format {
                Form::Text => verdict_text,
                Form::Json => verdict_json,
                Form::OrderCsv => order_csv,
                Form::MachiningCsv => return machining_csv(procedure, job, decisions),
            };
            report(procedure, job, decisions, decided.used_up().as_deref())
        })
    }
}
