//! What the record settles by hand: what is left out isn't put back, and nothing but it is tightened.

use benchleaf::decide::decide;
use benchleaf::plan::{Choosing, PlanOptions, Standing, plan};
use benchleaf::procedure::model::Phase;
use benchleaf::record;
use benchleaf::source::Sources;

use crate::tests::network::connected;

const FAMILY: &str = "family e \"E\" { origin \"invented for tests\" }
part heater \"Heater\" { held by heater_bolts, shared_bolts  fate keep until settled }
part bracket \"Bracket\" { held by shared_bolts  fate reuse }
fasteners heater_bolts 2 \"Heater bolt\" { thread M6x1  reusable  tighten by feel }
fasteners shared_bolts 2 \"Bracket bolt\" { thread M8x1.25  reusable  tighten by feel }
part lamp[side] \"Lamp\" { held by lamp_screws[side]  fate reuse }
fasteners lamp_screws[side] 2 \"Lamp screw\" { thread M5x0.8  reusable  tighten by feel }
axis side = left, right
strip all_off \"Take all off\" { undo heater_bolts, shared_bolts, lamp_screws  take heater, bracket, lamp }
";

/// Steps of the build that are to be done, with the places of their first thing.
fn to_do(settled: &str) -> Vec<String> {
    let (procedure, network, ..) = connected(FAMILY);
    let text = format!("job: \"1\"\nprocedure: e.rebuild\nsettled: {settled}\n");
    let file = Sources::new().add("job.yaml", text.clone());
    let written = record::read(file, &text);
    let job = record::bind(&written.value, &procedure);
    assert!(written.diagnostics.is_empty() && job.diagnostics.is_empty(), "{:?}", job.diagnostics);
    let decisions = decide(&procedure, &network.structure, &job.value).value;
    let plan =
        plan(&procedure, &network, &decisions, PlanOptions { recorded: true, choosing: Choosing::default() });
    let steps = plan.phase(Phase::Build).unwrap().steps.iter();
    let mut ids: Vec<String> =
        steps.filter(|step| step.standing != Standing::Absent).map(|step| step.key.id(&procedure)).collect();
    ids.sort();
    ids
}

#[test]
fn what_is_left_out_is_not_put_back_and_what_holds_nothing_else_is_not_tightened() {
    let everything = to_do("{heater: goes_back}");
    let without = to_do("{heater: {leave_out: \"the owner heats with a stove\"}}");
    let gone: Vec<&String> = everything.iter().filter(|id| !without.contains(id)).collect();
    // The bolts that hold the bracket too are tightened still.
    assert_eq!(gone, ["fit:heater", "tighten:heater_bolts"], "{everything:?}");
    assert!(without.contains(&"tighten:shared_bolts".to_owned()), "{without:?}");
    // One of two: the step stays for the other.
    assert_eq!(to_do("{heater: goes_back, \"lamp[left]\": {leave_out: \"broken, not wanted\"}}"), everything);
}

/// What becomes of the head and its bolts, and what holds them, with these words of a person.
fn kept(settled: &str) -> Vec<(String, usize)> {
    const CRACKED: &str = "family e \"E\" { origin \"invented for tests\" }
part head \"Head\" { fate by cracks  held by head_bolts  crack test cracks }
part seats \"Valve seats\" { fate reuse  matched with head }
fasteners head_bolts 4 \"Head bolt\" { thread M10x1.5  once  tighten 50 N.m from \"invented\" }
look cracks \"Cracks\" { of head  results sound, cracked }
strip head_off \"Take the head off\" { undo head_bolts  take head, seats }
survey judge \"Judge it\" { look cracks }
";
    let (procedure, network, ..) = connected(CRACKED);
    let text = format!(
        "job: \"1\"\nprocedure: e.rebuild\nlooks: {{as_found: {{cracks: cracked}}}}\nsettled: {{{settled}}}\n"
    );
    let file = Sources::new().add("job.yaml", text.clone());
    let written = record::read(file, &text);
    let job = record::bind(&written.value, &procedure);
    assert!(written.diagnostics.is_empty() && job.diagnostics.is_empty(), "{:?}", job.diagnostics);
    let decided = decide(&procedure, &network.structure, &job.value);
    assert!(!decided.has_errors(), "{:?}", decided.diagnostics);
    let parts = decided.value.fates.values().chain(decided.value.sets.values());
    parts.map(|decision| (decision.verdict.word().to_owned(), decision.holds.len())).collect()
}

#[test]
fn what_a_person_keeps_goes_back_and_holds_nothing() {
    let held = |word: &str, holds| (word.to_owned(), holds);
    assert_eq!(kept(""), [held("renew", 1), held("renew", 1), held("renew", 1)]);
    let signed = "by: HK, date: 2026-03-05, second: RT";
    // The seats go with a new head alone.
    let with = kept(&format!("head: {{declined: \"stitched, he says\", {signed}}}"));
    assert_eq!(with, [held("goes_back", 0), held("goes_back", 0), held("renew", 1)]);
    let with = kept(&format!(
        "head_bolts: {{goes_back: \"new last year\", {signed}}}, seats: {{goes_back: \"sound\", by: HK, date: 2026-03-05}}"
    ));
    assert_eq!(with, [held("renew", 1), held("goes_back", 0), held("goes_back", 0)]);
}
