//! The order of made-up structured procedures of growing size, and the sheets made of it: how long each stage takes,
//! what the order saves, and how near it comes to what ten seconds find.
//!
//! `cargo bench --bench order` for 1,000 and 10,000 steps; `-- STEPS` for another size; `-- STEPS FILE.rebuild` writes the
//! procedure there instead, to time the whole program on it.
#![expect(
    clippy::print_stdout,
    clippy::disallowed_methods,
    reason = "a benchmark reads the clock, writes a file and prints"
)]

use std::fmt::Write;
use std::time::{Duration, Instant};

use benchleaf::model::Phase;
use benchleaf::{
    Choosing, JobView, Memory, PacketOptions, PlanOptions, Request, Workshop, connect, decide, plan, plan_to,
};

/// Parts to an assembly, and assemblies whose work stands in one section.
const PARTS: usize = 6;
const ASSEMBLIES: usize = 4;

/// Chance from a fixed seed.
struct Made(u64);

impl Made {
    fn below(&mut self, limit: usize) -> usize {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) as usize % limit
    }
}

/// A procedure of about `steps` strip steps: in each section four assemblies of six parts, each part under the next and
/// held by a set of its own. Its author goes from assembly to assembly without a thought for sockets and sides.
fn procedure(steps: usize) -> String {
    let mut made = Made(7);
    let mut text =
        String::from("-- Made up for a benchmark.\nfamily big \"Big\" { edition 1  origin \"invented\" }\n");
    let mut add = |line: std::fmt::Arguments<'_>| writeln!(text, "{line}").expect("a string takes all");
    add(format_args!("setup stand \"Stand\" = up (at first), over, nose, tail  change 60 s"));
    add(format_args!("setup side \"Side\" = top (at first), front, left, right  change 8 s"));
    for size in 8..22 {
        add(format_args!("tool socket_{size} \"{size} mm socket\" {{ kind socket  size {size} mm }}"));
    }
    for tool in 0..6 {
        add(format_args!("tool hand_{tool} \"Lever {tool}\" {{ kind other }}"));
    }
    let sections = steps.div_ceil(2 * PARTS * ASSEMBLIES);
    for section in 0..sections {
        add(format_args!("section section{section} \"Section {section}\""));
        let assemblies: Vec<(usize, usize, usize)> =
            (0..ASSEMBLIES).map(|_| (8 + made.below(14), made.below(4), made.below(4))).collect();
        let name = |assembly: usize, part: usize| format!("{section}_{assembly}_{part}");
        for assembly in 0..ASSEMBLIES {
            for part in 0..PARTS {
                let own = name(assembly, part);
                let over = match part {
                    0 => String::new(),
                    part => format!("under part{}  ", name(assembly, part - 1)),
                };
                let torque = [10, 12, 20, 22, 35, 48][made.below(6)];
                add(format_args!("part part{own} \"Part {own}\" {{ {over}held by set{own}  fate reuse }}"));
                add(format_args!(
                    "fasteners set{own} 4 \"Bolt {own}\" {{ kind bolt  thread M8  class 8.8  reusable  \
                     tighten {torque} N.m from \"invented\" }}"
                ));
            }
        }
        let side_names = ["top", "front", "left", "right"];
        let stand_names = ["up", "over", "nose", "tail"];
        for part in 0..PARTS {
            for (assembly, (socket, stand, side)) in assemblies.iter().enumerate() {
                let own = name(assembly, part);
                let socket = if made.below(3) == 0 { 8 + made.below(14) } else { *socket };
                let stand = if made.below(3) == 0 {
                    format!("stand {}, ", stand_names[*stand])
                } else {
                    String::new()
                };
                let minutes = 2 + made.below(9);
                add(format_args!(
                    "strip undo{own} \"Undo {own}\" {{ time {minutes} min  tools socket_{socket}  with {stand}side {}  \
                     undo set{own} }}",
                    side_names[*side]
                ));
                let lever = if made.below(5) == 0 {
                    format!("tools hand_{}  ", made.below(6))
                } else {
                    String::new()
                };
                let hands = 1 + usize::from(made.below(12) == 0);
                add(format_args!(
                    "strip take{own} \"Take {own}\" {{ hands {hands}  time 2 min  {lever}with side {}  take part{own} }}",
                    side_names[*side]
                ));
            }
        }
    }
    text
}

fn milliseconds(time: Duration) -> String {
    format!("{:.1} ms", time.as_secs_f64() * 1e3)
}

fn report(steps: usize) {
    let mut workshop = Workshop::over(Memory::new().with("big.rebuild", procedure(steps)));
    let mut begin = Instant::now();
    let mut stage = |name: &str| {
        println!("  {name:<28} {:>12}", milliseconds(begin.elapsed()));
        begin = Instant::now();
    };
    println!("{steps} steps");
    let opened = workshop.job(&Request::of("big.rebuild"));
    let view = opened.value.expect("the benchmark's procedure is sound");
    stage("from its text to a plan");
    let JobView { procedure, network, decisions, .. } = &view;
    connect(procedure);
    stage("of it: connect");
    decide(procedure, &network.structure, &view.job);
    stage("of it: decide");
    let options = PlanOptions { recorded: false, choosing: Choosing::default() };
    plan(procedure, network, decisions, options);
    stage("of it: plan of all phases");
    plan_to(procedure, network, decisions, options, Phase::Strip);
    stage("plan of the strip");
    let written = Choosing { as_written: true, ..Choosing::default() };
    plan_to(procedure, network, decisions, PlanOptions { choosing: written, ..options }, Phase::Strip);
    stage("the same as written");
    let shared = view.crew(Phase::Strip, 2).expect("no step needs more than two").expect("there is a strip");
    stage("two people at the strip");
    view.packet(&workshop, &PacketOptions::of(Phase::Strip));
    stage("sheets of the strip");
    for phase in &view.plan.phases {
        let choice = phase.choice.as_ref().expect("a phase with steps has an order");
        println!(
            "  {:?}: {} s as written, {} s chosen, {} of {} steps moved, {}",
            phase.phase,
            choice.author_cost.total / 10,
            choice.cost.total / 10,
            choice.moved.len(),
            choice.order.len(),
            choice.standing()
        );
    }
    println!("  shared by two: {} min, at least {} min", shared.span / 60, shared.bound / 60);
}

fn main() {
    let mut arguments = std::env::args().skip(1).filter(|argument| !argument.starts_with("--"));
    let size: Option<usize> = arguments.next().and_then(|size| size.parse().ok());
    if let (Some(size), Some(path)) = (size, arguments.next()) {
        std::fs::write(&path, procedure(size)).expect("the file can be written");
        return;
    }
    for size in size.map_or_else(|| vec![1_000, 10_000], |size| vec![size]) {
        report(size);
    }
}
