//! `packet`: the sheets of one phase as a PDF. With a fault in the input nothing is written.

use std::path::PathBuf;
use std::process::ExitCode;

use clap::{Args, ValueEnum};

use super::phases::PhaseName;
use super::prepared::prepare;
use super::{errors, output};
use crate::diagnostics::Severity;
use crate::packet::{PacketOptions, packet, sheet_names};
use crate::page::{PageSetup, Paper, lay_out, write_pdf};
use crate::source::write_atomically;

/// Print the sheets of a phase as a PDF
#[derive(Debug, Args)]
pub struct PacketCommand {
    /// The procedure
    #[arg(value_name = "PROCEDURE")]
    path: PathBuf,
    /// The record of the job; without it every question is open
    #[arg(long, value_name = "JOB.yaml")]
    job: Option<PathBuf>,
    /// The phase
    #[arg(long, value_enum, default_value_t = PhaseName::Strip)]
    phase: PhaseName,
    /// Paper
    #[arg(long, value_enum, default_value_t = PaperName::A4)]
    paper: PaperName,
    /// Print on both sides: margins change sides, and every sheet starts on a right-hand page
    #[arg(long)]
    two_sided: bool,
    /// Only these sheets
    #[arg(long, value_name = "NAME", value_delimiter = ',')]
    sheets: Vec<String>,
    /// The file to write
    #[arg(short, long, value_name = "OUT.pdf")]
    output: PathBuf,
}

/// Paper as it is typed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum PaperName {
    /// 210 × 297 mm
    A4,
    /// 8.5 × 11 in
    Letter,
}

impl PacketCommand {
    pub fn run(&self) -> ExitCode {
        let known = sheet_names(self.phase.phase());
        for name in &self.sheets {
            if !known.contains(&name.as_str()) {
                return output::refuse(&errors::unknown_sheet(name, &known));
            }
        }
        let prepared = match prepare(&self.path, self.job.as_ref()) {
            Ok(prepared) => prepared,
            Err(code) => return code,
        };
        let options = PacketOptions { phase: self.phase.phase(), sheets: self.sheets.clone() };
        let packet = packet(&prepared.material(), &options);
        if packet.sheets.is_empty() {
            return output::refuse(&errors::nothing_to_print(super::phases::word(options.phase)));
        }
        let paper = match self.paper {
            PaperName::A4 => Paper::A4,
            PaperName::Letter => Paper::Letter,
        };
        let pages = lay_out(&packet, &PageSetup { paper, two_sided: self.two_sided });
        if pages.diagnostics.iter().any(|diagnostic| diagnostic.severity() == Severity::Error) {
            output::report(&prepared.sources, &pages.diagnostics, output::Format::Text);
            return output::exit_code(&pages.diagnostics);
        }
        match write_atomically(&self.output, &write_pdf(&pages.value)) {
            Ok(()) => ExitCode::SUCCESS,
            Err(error) => output::refuse(&errors::unwritable(&self.output, &error)),
        }
    }
}
