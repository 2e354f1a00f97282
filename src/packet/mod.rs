//! Plan to sheets: what is printed, in words, tables and figures. It must not know millimetres of paper or fonts.

mod bench;
mod bench_notes;
mod data;
mod desk;
mod fasten_lines;
mod fastener;
mod fingerprint;
mod front;
mod hands;
mod hazard;
mod instruct;
mod joint_figure;
mod key_data;
mod kit;
mod ledger;
mod overview;
mod part_lines;
mod questions;
mod rack;
mod reading;
mod setting;
mod shop;
mod sources;
mod step_marks;
mod steps;
mod tighten;
mod torques;

pub use bench::{Material, Shop};
pub use fingerprint::{fingerprint, sheet_fingerprints};
pub use ledger::step_list;
pub use overview::{Picture, dot, picture_of, svg};
pub use step_marks::{StepMarks, step_marks};

use crate::procedure::model::Phase;
use crate::sheet::{Footer, Packet, Sheet};
use bench::Bench;

/// What to print.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PacketOptions {
    /// The phase that is worked.
    pub phase: Phase,
    /// Names of the sheets; empty is everything that the phase needs.
    pub sheets: Vec<String>,
    /// Whether steps that are done are printed too.
    pub all: bool,
    /// For how many pairs of hands a schedule is printed; none without one.
    pub hands: Option<u32>,
}

impl PacketOptions {
    /// Every sheet that a phase needs, of the steps that are left.
    pub fn of(phase: Phase) -> Self {
        PacketOptions { phase, sheets: Vec::new(), all: false, hands: None }
    }
}

/// A kind of sheet: its name on the command line, what it is, and what makes it.
struct Kind {
    name: &'static str,
    /// Phases in which it is printed unattended.
    phases: &'static [Phase],
    /// Phases in which it can be asked for beside those.
    asked: &'static [Phase],
    make: fn(&Bench) -> Vec<Sheet>,
}

const ALL: &[Phase] = &[Phase::Strip, Phase::Survey, Phase::Build, Phase::Start];

/// Every kind of sheet in the order in which they lie in a packet.
const KINDS: &[Kind] = &[
    Kind { name: "front", phases: ALL, asked: &[], make: front::front },
    Kind { name: "intake", phases: &[Phase::Strip], asked: ALL, make: desk::intake },
    Kind { name: "kit", phases: ALL, asked: &[], make: kit::kit },
    Kind { name: "questions", phases: ALL, asked: &[], make: questions::questions },
    Kind { name: "estimate", phases: &[Phase::Survey], asked: ALL, make: desk::estimate },
    Kind { name: "machining", phases: &[Phase::Survey], asked: ALL, make: desk::machining },
    Kind { name: "orders", phases: &[Phase::Survey, Phase::Build], asked: ALL, make: desk::orders },
    Kind { name: "key", phases: ALL, asked: &[], make: key_data::key_data },
    Kind { name: "steps", phases: ALL, asked: &[], make: steps::sheets },
    Kind { name: "rack", phases: &[Phase::Strip], asked: &[], make: rack::rack },
    Kind { name: "tags", phases: &[Phase::Strip], asked: &[], make: rack::tags },
    Kind { name: "torques", phases: &[Phase::Build], asked: &[], make: torques::torques },
    Kind { name: "goods-back", phases: &[Phase::Survey], asked: ALL, make: desk::goods_back },
    Kind { name: "ledger", phases: &[Phase::Strip, Phase::Build], asked: &[], make: ledger::ledger },
    Kind { name: "hands", phases: ALL, asked: &[], make: hands::hands },
    Kind { name: "overview", phases: ALL, asked: &[], make: overview::overview },
    Kind { name: "handover", phases: &[Phase::Start], asked: ALL, make: desk::handover },
];

/// Names of the sheets that can be asked for in a phase.
pub fn sheet_names(phase: Phase) -> Vec<&'static str> {
    let in_phase = |kind: &&Kind| kind.phases.contains(&phase) || kind.asked.contains(&phase);
    KINDS.iter().filter(in_phase).map(|kind| kind.name).collect()
}

/// Makes the sheets of one phase.
pub fn packet(material: &Material, options: &PacketOptions) -> Packet {
    let bench = Bench { hands: options.hands, ..Bench::new(material, options.phase, options.all) };
    let wanted = |kind: &&Kind| {
        if options.sheets.is_empty() {
            kind.phases.contains(&options.phase)
        } else {
            options.sheets.iter().any(|name| name == kind.name)
        }
    };
    let mut sheets: Vec<Sheet> = KINDS.iter().filter(wanted).flat_map(|kind| (kind.make)(&bench)).collect();
    let marks = sheet_fingerprints(&sheets);
    front::tell_changes(&mut sheets, &bench, &marks, options.sheets.is_empty());
    front::list_contents(&mut sheets);
    let mut packet = Packet {
        title: format!("{}: {}", bench.family_title(), bench::phase_title(options.phase)),
        language: "en".to_owned(),
        footer: Footer {
            procedure: bench.edition_line(),
            job: material.job.name.clone().unwrap_or_default(),
            fingerprint: String::new(),
        },
        sheets,
        attachments: Vec::new(),
    };
    packet.footer.fingerprint = fingerprint(&packet);
    packet.attachments = vec![data::attachment(&bench, &packet.footer, &marks)];
    packet
}
