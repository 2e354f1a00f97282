//! Plan to sheets: what is printed, in words, tables and figures. It must not know millimetres of paper or fonts.

mod again;
mod already;
mod bench;
mod bench_notes;
mod bolts;
mod data;
mod desk;
mod differing;
mod fasten_lines;
mod fastener;
mod fingerprint;
mod front;
mod gears;
mod hands;
mod hazard;
mod instruct;
mod joint_figure;
mod joint_whole;
mod key_data;
mod kit;
mod labels;
mod ledger;
mod lengths;
mod numbers;
mod overview;
mod part_lines;
mod phrases;
mod questions;
mod rack;
mod reading;
mod reckoned;
mod repeated;
mod results;
mod row_by_row;
mod setting;
mod side_by_side;
mod shop;
mod sources;
mod step_facts;
mod stop;
mod step_marks;
mod steps;
mod tighten;
mod titles;
mod tools;
mod torques;
mod tries;
mod turning;
mod who_read;
mod word;
mod wrenches;

pub use bench::Material;
pub(crate) use bench::Shop;
pub(crate) use desk::Quoted;
pub(crate) use fingerprint::{fingerprint, sheet_fingerprints};
pub(crate) use ledger::step_list;
pub(crate) use overview::{graphml, links_csv, picture_of, svg};
pub(crate) use step_marks::{Compared, step_marks};
pub use steps::Only;

use crate::procedure::model::Phase;
use crate::sheet::{DEFERRAL, Footer, Packet, Sheet, SheetKind};
use bench::Bench;

/// What to print.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PacketOptions {
    /// The phase that is worked.
    pub phase: Phase,
    /// Kinds of sheet; empty is everything that the phase needs.
    pub sheets: Vec<SheetKind>,
    /// Whether steps that are done are printed too.
    pub all: bool,
    /// For how many pairs of hands a schedule is printed; none without one.
    pub hands: Option<u32>,
    /// The piece of work that alone is printed; none for all of it.
    pub only: Option<Only>,
}

impl PacketOptions {
    /// Every sheet that a phase needs, of the steps that are left.
    pub fn of(phase: Phase) -> Self {
        PacketOptions { phase, sheets: Vec::new(), all: false, hands: None, only: None }
    }
}

/// When a kind of sheet is printed, and what makes it.
struct Maker {
    kind: SheetKind,
    /// Phases in which it is printed unattended.
    phases: &'static [Phase],
    /// Phases in which it can be asked for beside those.
    asked: &'static [Phase],
    make: fn(&Bench) -> Vec<Sheet>,
}

/// Blocks of work from which each sheet has a page of its own. Our own choice, no source.
const LONG: usize = 6;

/// Sheets that are read before the work and stay with it: one goes on where the one before it ends. Of the others each can be
/// handed to somebody, or hung on a wall.
const TOGETHER: &[SheetKind] = &[
    SheetKind::Front,
    SheetKind::Kit,
    SheetKind::Questions,
    SheetKind::Key,
    SheetKind::Differences,
    SheetKind::Results,
];

const ALL: &[Phase] = &[Phase::Strip, Phase::Survey, Phase::Build, Phase::Start];

/// Every kind of sheet in the order in which they lie in a packet.
const MAKERS: &[Maker] = &[
    Maker { kind: SheetKind::Front, phases: ALL, asked: &[], make: front::front },
    Maker { kind: SheetKind::Kit, phases: ALL, asked: &[], make: kit::kit },
    Maker { kind: SheetKind::Key, phases: ALL, asked: &[], make: key_data::key_data },
    Maker { kind: SheetKind::Differences, phases: ALL, asked: &[], make: differing::differing },
    Maker { kind: SheetKind::Results, phases: &[Phase::Survey], asked: ALL, make: results::results },
    Maker { kind: SheetKind::Intake, phases: &[Phase::Strip], asked: ALL, make: desk::intake },
    Maker { kind: SheetKind::Questions, phases: &[], asked: ALL, make: questions::questions },
    Maker { kind: SheetKind::Estimate, phases: &[Phase::Survey], asked: ALL, make: desk::estimate },
    Maker { kind: SheetKind::Machining, phases: &[Phase::Survey], asked: ALL, make: desk::machining },
    Maker { kind: SheetKind::Orders, phases: &[Phase::Survey, Phase::Build], asked: ALL, make: desk::orders },
    Maker { kind: SheetKind::Stop, phases: &[Phase::Start], asked: &[], make: stop::stop },
    Maker { kind: SheetKind::Steps, phases: ALL, asked: &[], make: steps::sheets },
    Maker {
        kind: SheetKind::Rack,
        phases: &[Phase::Strip, Phase::Build],
        asked: &[Phase::Survey],
        make: rack::rack,
    },
    Maker { kind: SheetKind::Bolts, phases: &[], asked: ALL, make: bolts::bolts },
    Maker { kind: SheetKind::Tags, phases: &[Phase::Strip], asked: &[], make: labels::labels },
    Maker { kind: SheetKind::Torques, phases: &[Phase::Build], asked: &[], make: torques::torques },
    Maker { kind: SheetKind::GoodsBack, phases: &[Phase::Survey], asked: ALL, make: desk::goods_back },
    Maker { kind: SheetKind::Ledger, phases: &[Phase::Strip], asked: &[Phase::Build], make: ledger::ledger },
    Maker { kind: SheetKind::Hands, phases: ALL, asked: &[], make: hands::hands },
    Maker { kind: SheetKind::Overview, phases: &[], asked: ALL, make: overview::overview },
    Maker { kind: SheetKind::Handover, phases: &[Phase::Start], asked: ALL, make: desk::handover },
];

/// The estimate of a job as it would be printed now.
pub(crate) fn estimate_now(material: &Material) -> Quoted {
    desk::quoted(&Bench::new(material, Phase::Survey, false))
}

/// The work that is left of a phase: seconds of one person, and how many steps there are whose time nobody has said.
pub(crate) fn seconds_left(material: &Material, phase: Phase) -> (f64, usize) {
    desk::left(&Bench::new(material, phase, false))
}

/// The titles of the sections into which the work of a phase is parted, as [`Only::Section`] takes them.
pub(crate) fn sections(material: &Material, phase: Phase, all: bool) -> Vec<String> {
    steps::section_titles(&Bench::new(material, phase, all))
}

/// Kinds of sheet that can be asked for in a phase.
///
/// ```
/// use benchleaf::model::Phase;
/// use benchleaf::sheet::SheetKind;
/// use benchleaf::sheet_kinds;
///
/// assert!(sheet_kinds(Phase::Strip).contains(&SheetKind::Rack));
/// assert!(!sheet_kinds(Phase::Start).contains(&SheetKind::Rack));
/// ```
pub fn sheet_kinds(phase: Phase) -> Vec<SheetKind> {
    let in_phase = |maker: &&Maker| maker.phases.contains(&phase) || maker.asked.contains(&phase);
    MAKERS.iter().filter(in_phase).map(|maker| maker.kind).collect()
}

/// Makes the sheets of one phase.
///
/// ```
/// use benchleaf::model::Phase;
/// use benchleaf::{Memory, PacketOptions, Request, Workshop, packet};
///
/// let files = Memory::new().with(
///     "pump.rebuild",
///     "family pump \"Pump\" { origin \"invented\"  invented }\n\
///      part cover \"Cover\"\n\
///      strip cover_off \"Take the cover off\" { take cover }\n",
/// );
/// let mut workshop = Workshop::over(files);
/// let view = workshop.job(&Request::of("pump.rebuild")).value.expect("nothing is wrong with it");
/// let packet = packet(&view.material(&workshop), &PacketOptions::of(Phase::Strip));
/// assert_eq!(packet.title, "Pump: strip");
/// assert_eq!(packet.footer.warning, "Invented: not a real machine.");
/// assert_eq!(packet.attachments[0].name, "plan.json");
/// assert!(String::from_utf8_lossy(&packet.attachments[0].bytes).contains("\"invented\": true"));
/// ```
pub fn packet(material: &Material, options: &PacketOptions) -> Packet {
    let mut bench = Bench { hands: options.hands, ..Bench::new(material, options.phase, options.all) };
    if let Some(only) = &options.only {
        steps::keep(&mut bench, only);
    }
    let results = options.sheets.is_empty() || options.sheets.contains(&SheetKind::Results);
    bench.in_brief = options.phase == Phase::Survey && options.only.is_none() && results;
    let stop = options.sheets.is_empty() || options.sheets.contains(&SheetKind::Stop);
    bench.stop_card = options.phase == Phase::Start && options.only.is_none() && stop;
    let bench = bench;
    let wanted = |maker: &&Maker| {
        if options.only.is_some() {
            maker.kind == SheetKind::Steps
        } else if options.sheets.is_empty() {
            let worth = match maker.kind {
                // Nobody has brought an engine where there is no job.
                SheetKind::Intake => material.job.name.is_some(),
                SheetKind::Tags => bench.blocks.len() >= LONG,
                _ => true,
            };
            worth && maker.phases.contains(&options.phase)
        } else {
            options.sheets.contains(&maker.kind)
        }
    };
    let mut sheets: Vec<Sheet> =
        MAKERS.iter().filter(wanted).flat_map(|maker| (maker.make)(&bench)).collect();
    front::hold_other_engine(&mut sheets, &bench);
    if bench.blocks.len() < LONG {
        // A short piece of work is a page or two in all.
        sheets.iter_mut().skip(1).for_each(|sheet| {
            sheet.follows = sheet.kind != SheetKind::Steps && sheet.labels.is_none();
        });
    }
    let marks = sheet_fingerprints(&sheets);
    front::tell_changes(&mut sheets, &bench, &marks, options.sheets.is_empty() && options.only.is_none());
    if bench.blocks.len() >= LONG {
        front::list_contents(&mut sheets);
    }
    let before: Vec<SheetKind> = sheets.iter().map(|sheet| sheet.kind).collect();
    for (sheet, before) in sheets.iter_mut().skip(1).zip(before) {
        sheet.flows = TOGETHER.contains(&before) && TOGETHER.contains(&sheet.kind);
    }
    let warning = bench.warning();
    front::defer(&mut sheets, &warning, bench.procedure.whole());
    let numbered = numbers::number(&mut sheets);
    let mut packet = Packet {
        title: format!("{}: {}", bench.family_title(), options.phase.word()),
        language: "en".to_owned(),
        footer: Footer {
            procedure: bench.edition_line(),
            // A job that was named after its procedure is told once.
            job: material.job.name.clone().filter(|name| *name != bench.family_title()).unwrap_or_default(),
            fingerprint: String::new(),
            warning,
            deferral: DEFERRAL.to_owned(),
        },
        sheets,
        meanings: numbered.iter().map(|numbered| (numbered.number.clone(), numbered.what.clone())).collect(),
        attachments: Vec::new(),
    };
    packet.footer.fingerprint = fingerprint(&packet);
    packet.attachments = vec![data::attachment(&bench, &packet.footer, &marks, &numbered)];
    packet
}
