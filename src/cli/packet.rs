//! `packet`: the sheets of one phase as a PDF. With a fault in the input nothing is written.

use std::path::{Path, PathBuf};
use std::process::ExitCode;

use clap::{Args, ValueEnum};

use super::phases::PhaseName;
use super::prepared::prepare;
use super::progress::Progress;
use super::record::record_print;
use super::watch::watched;
use super::wrong_use::whole;
use super::{errors, output, sheets};
use crate::english::counted;
use crate::packet::{Only, PacketOptions, Quoted, estimate_now, sections, sheet_fingerprints, sheet_kinds};
use crate::page::{PageSetup, Paper};
use crate::plan::Choosing;
use crate::procedure::model::Phase;
use crate::record::Date;
use crate::sheet::{Packet, SheetKind};
use crate::workshop::{Request, Workshop, is_record};

/// Print the sheets of a phase as a PDF, or write them for a screen
///
/// A file that ends in `.html` is for a tablet at the bench: one file that works without a network, keeps what is ticked and
/// written in the browser, and saves it as a table for `gather`.
#[derive(Debug, Args)]
pub(super) struct PacketCommand {
    /// The procedure; or the record of a job, which names it
    #[arg(value_name = "PROCEDURE")]
    path: PathBuf,
    /// The record of the job; without it every question is open
    #[arg(long, value_name = "JOB.yaml")]
    job: Option<PathBuf>,
    /// The shop's own file: tools, wrenches, table of torques; else the one that the record names
    #[arg(long, value_name = "CRIB.yaml")]
    crib: Option<PathBuf>,
    /// What things and work cost; else the file that the record names
    #[arg(long, value_name = "PRICES.yaml")]
    prices: Option<PathBuf>,
    /// The day for which calibrations are judged, as 2026-03-05
    #[arg(long, value_name = "DAY", value_parser = day)]
    on: Option<Date>,
    /// The phase
    #[arg(long, value_enum, default_value_t = PhaseName::Strip)]
    phase: PhaseName,
    /// Paper; else what the crib says, else A4
    #[arg(long, value_enum)]
    paper: Option<PaperName>,
    /// Print on both sides: margins change sides, and every sheet starts on a right-hand page
    #[arg(long)]
    two_sided: bool,
    /// Steps that are done too; otherwise only what is left is printed
    #[arg(long)]
    all: bool,
    /// Print too how so many people share the work
    #[arg(long, value_name = "PEOPLE", allow_negative_numbers = true, value_parser = whole::<u32>(1, 4))]
    hands: Option<u32>,
    /// Keep the author's order
    #[arg(long)]
    as_written: bool,
    /// Only these sheets
    #[arg(long, value_name = "NAME", value_delimiter = ',')]
    sheets: Vec<String>,
    /// Only one piece of work, such as a sheet that was spoilt: the title of a section, the number of a step, or the name of a sheet
    #[arg(long, value_name = "PIECE", conflicts_with = "sheets")]
    only: Option<String>,
    /// Write into the record that this was printed, so that the next print can say what changed
    #[arg(long, requires = "on", conflicts_with_all = ["sheets", "only"])]
    record: bool,
    /// Print again whenever one of the files has changed
    #[arg(long, conflicts_with = "record")]
    watch: bool,
    /// The file to write: paper, or for a screen where it ends in `.html`
    #[arg(short, long, value_name = "OUT.pdf")]
    output: PathBuf,
}

/// Paper as it is typed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(super) enum PaperName {
    /// 210 × 297 mm
    A4,
    /// 8.5 × 11 in
    Letter,
}

/// A day as it is typed.
pub(super) fn day(text: &str) -> Result<Date, String> {
    Date::parse(text).ok_or_else(|| "a day such as 2026-03-05".to_owned())
}

impl PacketCommand {
    pub(super) fn run(&self) -> ExitCode {
        if self.watch { watched(|files| self.once(files)) } else { self.once(&mut Vec::new()) }
    }

    /// Prints once, and adds the files that were read to those that are known.
    fn once(&self, files: &mut Vec<PathBuf>) -> ExitCode {
        let given = [Some(&self.path), self.job.as_ref(), self.crib.as_ref(), self.prices.as_ref()];
        files.extend(given.into_iter().flatten().cloned());
        let known = sheet_kinds(self.phase.phase());
        let mut sheets = Vec::new();
        let piece = self.only.as_ref().map(|piece| (piece.parse::<SheetKind>(), piece));
        let only = match piece {
            None => None,
            Some((Ok(kind), _)) if known.contains(&kind) => {
                sheets.push(kind);
                None
            }
            Some((_, piece)) => Some(match piece.trim().parse() {
                Ok(number) => Only::Step(number),
                Err(_) => Only::Section(piece.clone()),
            }),
        };
        for name in &self.sheets {
            match name.parse().ok().filter(|kind| known.contains(kind)) {
                Some(kind) => sheets.push(kind),
                None => return output::refuse(&errors::unknown_sheet(name, &known)),
            }
        }
        let record = self.job.as_deref().or(Some(self.path.as_path()).filter(|path| is_record(path)));
        for (option, given) in [("--prices", self.prices.is_some()), ("--record", self.record)] {
            if given && record.is_none() {
                return output::refuse(&errors::no_job(option));
            }
        }
        for (option, given) in [("--paper", self.paper.is_some()), ("--two-sided", self.two_sided)] {
            if given && sheets::is_for_a_screen(&self.output) {
                return output::refuse(&errors::paper_on_a_screen(option, &self.output));
            }
        }
        let choosing = Choosing { as_written: self.as_written, ..Choosing::default() };
        let request = Request {
            record: self.job.as_deref(),
            crib: self.crib.as_deref(),
            prices: self.prices.as_deref(),
            day: self.on,
            choosing,
            ..Request::of(&self.path)
        };
        let prepared = match prepare(&request) {
            Ok(prepared) => prepared,
            Err(code) => return code,
        };
        files.extend(prepared.sources().files().map(|(_, file)| file.path.clone()));
        let options =
            PacketOptions { phase: self.phase.phase(), sheets, all: self.all, hands: self.hands, only };
        if let Some(hands) = self.hands
            && let Err(step) = prepared.crew(options.phase, hands)
        {
            return output::refuse(&errors::too_few_hands(&step, hands));
        }
        let progress = Progress::begun();
        progress.says("writing the sheets");
        let packet = prepared.packet(&prepared.workshop, &options);
        if let (true, Some(piece)) = (packet.sheets.is_empty(), &self.only) {
            let sections = sections(&prepared.material(), options.phase, self.all);
            return output::refuse(&errors::unknown_piece(piece, &sections));
        }
        if packet.sheets.is_empty() {
            return output::refuse(&errors::nothing_to_print(options.phase.word()));
        }
        let usual = prepared.shop.as_ref().and_then(|shop| shop.crib.paper.as_deref());
        let paper = match (self.paper, usual) {
            (Some(PaperName::Letter), _) | (None, Some("letter")) => Paper::Letter,
            (Some(PaperName::A4), _) | (None, _) => Paper::A4,
        };
        let setup = PageSetup { paper, two_sided: self.two_sided };
        let estimate = packet.sheets.iter().any(|sheet| sheet.kind == SheetKind::Estimate) && self.record;
        let estimate = estimate.then(|| estimate_now(&prepared.material()));
        // A long packet takes less memory where what it was made from is gone before it is laid out.
        let sources = prepared.into_sources();
        progress.says(&format!("laying out {}", counted(packet.sheets.len(), "sheet")));
        let written = sheets::write(&sources, &packet, &setup, &self.output);
        drop(progress);
        let count = match written {
            Ok(count) => count,
            Err(code) => return code,
        };
        let count = if sheets::is_for_a_screen(&self.output) {
            counted(packet.sheets.len(), "sheet")
        } else {
            counted(count, "page")
        };
        output::complain(&format!("{}: {count}, {}\n", self.output.display(), options.phase.word()));
        match (record, self.on) {
            (Some(job), Some(day)) if self.record => {
                note_print(job, day, (options.phase, &packet), estimate.as_ref())
            }
            _ => ExitCode::SUCCESS,
        }
    }
}

/// Says in the record that a packet was printed.
fn note_print(
    job: &Path,
    day: Date,
    (phase, packet): (Phase, &Packet),
    estimate: Option<&Quoted>,
) -> ExitCode {
    let mut workshop = Workshop::new();
    let marks = sheet_fingerprints(&packet.sheets);
    let of = (day, phase.word());
    match record_print(&mut workshop, job, of, (&packet.footer.fingerprint, &marks), estimate) {
        Ok(()) => ExitCode::SUCCESS,
        Err(diagnostics) => {
            output::report(
                workshop.sources(),
                &output::without_notices(diagnostics.clone()),
                output::Format::Text,
            );
            output::exit_code(&diagnostics)
        }
    }
}
