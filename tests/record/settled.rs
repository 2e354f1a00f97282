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
