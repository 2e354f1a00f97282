//! Extra work of one job: its steps, parts, tools and machine-shop lines are on every sheet like any other.

use std::path::Path;

use benchleaf::decide::{machine_shop_order, order_list};
use benchleaf::packet::PacketOptions;
use benchleaf::procedure::model::Phase;
use benchleaf::sheet::{SheetKind, plain_text};
use benchleaf::source::Memory;
use benchleaf::workshop::{JobView, Request, Workshop};

const PUMP: &str = "family pump \"Pump\" { origin \"invented for tests\" }
section top \"Top\"
part cover \"Cover\" { held by screws  fate reuse }
part ring \"Ring\" { under cover  fate renew }
part body \"Body\" { under cover }
fasteners screws 4 \"Screw\" { thread M5x0.8  reusable  tighten by feel }
strip cover_off \"Take the cover off\" { undo screws  take cover }
strip ring_out \"Take the ring out\" { take ring }
survey judge \"Judge it\" { do \"Look at it.\" }
";

const EXTRA: &str = "extra:
  steps:
    drill_stud:
      {title: \"Drill out the sheared screw\", phase: strip, after: cover_off, do: [\"Drill 4.2 mm, \\\"straight\\\".\"],
       tools: [drill_4], hands: 2, time: 40 min, why: \"sheared at C\", by: HK, date: 2026-03-05}
    fit_insert:
      {title: \"Fit the insert\", after: fit:ring, before: fit:cover, do: [Tap it., Wind the insert in.],
       tools: [insert_kit], parts: [insert_m5 1], hold: \"the insert is below the face\"}
  parts:
    insert_m5: {title: \"M5 insert\", count: 2, price: 3.20 EUR, supplier: Tidewater Fixings, lead_time: 3 day}
  tools: {drill_4: 4.2 mm drill, insert_kit: M5 insert kit}
  work:
    cover: {what: \"skim the face\", price: 40 EUR, to: Stanner Machine Works}
";

fn opened(record: &str) -> (Workshop, Result<JobView, Vec<String>>) {
    let record = format!("job: \"1\"\nprocedure: pump.rebuild\n{record}");
    let mut workshop = Workshop::over(Memory::new().with("pump.rebuild", PUMP).with("job.yaml", record));
    let opened = workshop.job(&Request::of(Path::new("job.yaml")));
    let told = || {
        let label = |complaint: &benchleaf::diagnostics::Diagnostic| {
            let span = complaint.labels[0].span;
            let file = workshop.sources().file(span.file);
            format!(
                "{} {} `{}`",
                complaint.code.name,
                file.path.display(),
                &file.text[span.start()..span.end()]
            )
        };
        opened.diagnostics.iter().map(label).collect()
    };
    let view = opened.value.ok_or_else(told);
    (workshop, view)
}

/// The steps of a phase by number and id.
fn steps(view: &JobView, phase: Phase) -> Vec<String> {
    let steps = view.plan.phase(phase).unwrap().steps.iter();
    steps.map(|step| format!("{} {}", step.number.unwrap_or(0), step.key.id(&view.procedure))).collect()
}

#[test]
fn extra_steps_are_steps_like_any_other() {
    let (workshop, view) = opened(EXTRA);
    let view = view.unwrap();
    assert_eq!(steps(&view, Phase::Strip), ["1 cover_off", "2 drill_stud", "3 ring_out"]);
    let build = steps(&view, Phase::Build);
    let at = |id: &str| build.iter().position(|step| step.ends_with(id)).unwrap();
    assert!(at("fit:ring") < at("fit_insert") && at("fit_insert") < at("fit:cover"), "{build:?}");

    let lines = order_list(&view.procedure, &view.job, &view.decisions).lines;
    let insert = lines.iter().find(|line| line.id == "insert_m5").unwrap();
    assert_eq!((insert.quantity.settled().unwrap(), insert.cost().unwrap().hundredths), (2, 640));
    let work = machine_shop_order(&view.procedure, &view.job, &view.decisions);
    assert_eq!(work.iter().map(|line| line.what.as_str()).collect::<Vec<_>>(), ["skim the face"]);
    // What is sent out is not fitted before it is back and accepted.
    let cover =
        view.decisions.fates.iter().find(|((part, _), _)| view.procedure.part(*part).naming.id == "cover");
    assert_eq!(cover.unwrap().1.holds.len(), 1);

    let words = |phase| plain_text(&view.packet(&workshop, &PacketOptions::of(phase)));
    let (strip, survey, build) = (words(Phase::Strip), words(Phase::Survey), words(Phase::Build));
    let start = words(Phase::Start);
    for (sheet, text) in [
        (&strip, "Drill 4.2 mm, \"straight\"."),
        (&strip, "4.2 mm drill"),
        (&build, "Wind the insert in."),
        (&build, "M5 insert kit"),
        (&build, "M5 insert"),
        (&build, "the insert is below the face"),
        (&survey, "M5 insert"),
        (&survey, "kim the face"),
        // On the estimate and the handover with why.
        (&survey, "Drill out the sheared screw: sheared at C"),
        (&start, "Drill out the sheared screw: sheared at C"),
    ] {
        assert!(sheet.to_lowercase().contains(&text.to_lowercase()), "{text} is missing:\n{sheet}");
    }
}

#[test]
fn faults_of_extra_work_are_told_in_the_record() {
    let told = |extra: &str| opened(extra).1.err().unwrap();
    assert_eq!(
        told(&EXTRA.replace("tools: [drill_4]", "tools: [drill_5]")),
        ["procedure/unknown-name job.yaml `drill_5`"]
    );
    assert_eq!(
        told(&EXTRA.replace("after: cover_off", "after: coverr_off")),
        ["procedure/unknown-name job.yaml `coverr_off`"]
    );
    assert_eq!(
        told(&EXTRA.replace("after: fit:ring", "after: fit:rings")),
        ["record/unknown-name job.yaml `fit:rings`"]
    );
    // A name that the procedure has already.
    let twice = told(&EXTRA.replace("drill_stud", "ring_out"));
    assert!(twice.iter().any(|said| said.starts_with("procedure/")), "{twice:?}");
}

#[test]
fn a_neighbour_that_is_no_step_is_told_in_the_record() {
    let told = |after: &str| opened(&EXTRA.replace("after: fit:ring", after)).1.err().unwrap_or_default();
    assert_eq!(told("after: fit:ring"), [""; 0]);
    assert_eq!(told("after: fit:body"), ["decide/unknown-step job.yaml `fit_insert`"]);
}

#[test]
fn a_step_waits_for_the_part_that_it_puts_in() {
    let waits = |orders: &str| {
        let (workshop, view) = opened(&format!("{EXTRA}orders:\n  ring: {{ordered: 2026-03-05}}\n{orders}"));
        let view = view.unwrap();
        let build = PacketOptions::of(Phase::Build);
        let text = plain_text(&view.packet(&workshop, &build));
        let ledger =
            plain_text(&view.packet(&workshop, &PacketOptions { sheets: vec![SheetKind::Ledger], ..build }));
        assert!(ledger.contains("M5 insert:\u{a0}2"), "in the ledger\n{ledger}");
        text.contains("WAIT: the M5 insert: not in hand")
    };
    assert!(waits(""), "it has not come");
    assert!(!waits("  insert_m5: {ordered: 2026-03-05, arrived: 2026-03-06}\n"), "it has");
}
