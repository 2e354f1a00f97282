//! A piece chosen of those that are sold, on every sheet that speaks of it. Invented data.

use super::words_of;
use benchleaf::PacketOptions;
use benchleaf::model::Phase;

const HEAD: &str = "family block \"Block\" { edition 1  origin \"invented\"  invented }
axis cyl = 1 .. 2
part head \"Cylinder head\" { held by nuts  fate reuse }
part gasket \"Head gasket\" { under head  fate renew  price 46.00 EUR }
fasteners nuts 2 \"Head nut\" { kind nut  thread M10x1.5  class 8  drive 17 mm  reusable  tighten 20 N.m from \"invented\" }
gauge protrusion[cyl] \"Piston above the deck\" { unit mm  made 0.50 mm .. 0.80 mm from \"invented\"  instrument \"dial gauge\" resolution 0.01 mm }
gauge gasket_wanted \"Gasket for the highest piston\" {
    of gasket
    is max(protrusion) + 0.55 mm
    sold 1.1 mm, 1.2 mm, 1.3 mm within 0.05 mm from \"invented\"
}
tool wrench \"Torque wrench\" { kind wrench  drive 1/2 in  range 10 N.m .. 60 N.m }
tool socket \"Socket 17 mm\" { kind socket  size 17 mm }
strip off \"Head off\" { tools socket  undo nuts  take head  take gasket }
survey measure \"Measure\" { gauge protrusion }
";

const READ: &str = "readings: {as_found: {\"protrusion[1]\": 0.58 mm, \"protrusion[2]\": 0.62 mm}}\n";

fn sheets(phase: Phase, record: &str) -> String {
    let record = format!("job: \"B-1\"\nprocedure: head.rebuild\n{record}");
    words_of(("head.rebuild", HEAD), &record, &PacketOptions::of(phase))
}

/// 0.62 + 0.55 = 1.17: the 1.2 mm gasket.
#[test]
fn the_step_that_fits_it_waits_for_the_choice() {
    let build = sheets(Phase::Build, READ);
    let waits = "a choice in the record: which head gasket goes in, by gasket for the highest piston: 1.2 mm";
    assert!(build.contains(waits), "{build}");
    assert!(build.contains("Then write it in the record: the piece, who chose it, the day."), "{build}");
    let survey = sheets(Phase::Survey, READ);
    // The order list holds for the choice, and the step has the rule with all the pieces.
    assert!(survey.contains(waits) && build.contains("From: 1.1 mm, 1.2 mm, 1.3 mm."), "{survey}");
    assert!(
        !build.contains("Chosen: 1.2 mm") && !survey.contains("Head gasket, 1.2 mm"),
        "nobody has chosen it"
    );
}

#[test]
fn what_was_chosen_is_on_step_kit_order_list_and_ledger() {
    let record = format!("{READ}chosen: {{gasket: {{piece: 1.2 mm, by: HK, date: 2026-03-05}}}}\n");
    let build = sheets(Phase::Build, &record);
    assert!(!build.contains("a choice in the record"), "{build}");
    assert!(build.contains("Chosen: 1.2 mm by HK on 2026-03-05, of 1.1 mm, 1.2 mm, 1.3 mm."), "{build}");
    assert!(build.contains("| [ ] | 1 Head gasket, 1.2 mm |"), "the kit: {build}");
    let strip = sheets(Phase::Strip, &record);
    let ledger = strip.lines().find(|line| line.contains("| Head gasket; ")).unwrap_or_default();
    assert!(ledger.contains("new, 1.2 mm"), "the ledger: {ledger}\n{strip}");
    let survey = sheets(Phase::Survey, &record);
    assert!(survey.contains("| 1\u{a0}× | Head gasket, 1.2 mm. "), "the order list: {survey}");
}
