//! Facts on things reach every step that handles them, in their direction; the way back is not the strip read backwards.

use std::collections::BTreeSet;
use std::path::Path;

use benchleaf::network::{Network, connect};
use benchleaf::procedure::model::*;
use benchleaf::source::Sources;

use super::connected;

const FAMILY: &str = "family e \"E\" { origin \"invented for tests\" }
setup stand \"Stand\" = up (at first), over  change 60 s  hazard swing
tool jaw \"Jaw puller\" { kind puller  hazard load }
tool drift \"Drift\"
tool small \"8 mm socket\" { kind socket  size 8 mm }
tool middle \"13 mm socket\" { kind socket  size 13 mm }
tool ring \"13 mm ring spanner\" { kind spanner  size 13 mm }
tool wide \"Wide torque wrench\" { kind wrench  range 10 N.m .. 200 N.m }
tool narrow \"Narrow torque wrench\" { kind wrench  range 10 N.m .. 60 N.m }
tool low \"Low torque wrench\" { kind wrench  range 1 N.m .. 15 N.m }
supply paste \"Paste\" { hazard fumes }
hazard swing warning lifting { hazard \"It swings.\"  avoid \"Hold it.\" }
hazard load warning puller { hazard \"Loaded.\"  avoid \"Stand aside.\" }
hazard fumes caution chemical { hazard \"Fumes.\"  avoid \"Open the door.\" }
hazard dust caution gasket_dust { hazard \"Dust.\"  avoid \"Wet it.\" }
hazard jump caution spring { hazard \"It jumps.\"  avoid \"Cover it.\" }
part cover \"Cover\" { held by bolts  hazard dust off  comes off \"Flat.\"  goes on \"Square.\" }
part gear \"Gear\" { under cover  off with jaw  on with drift  coat with paste \"bore\" }
part spring \"Spring\" { under gear  hazard jump both ways }
part body \"Body\"
fasteners bolts 4 \"Bolt\" { thread M8x1.25  class 8.8  drive 13 mm  reusable }
joint lid \"Lid\" { clamps cover, body  tighten bolts 12 N.m, 20 N.m from \"invented\" }
strip open \"Open\" { tools ring  time 10 min  hands 2  undo bolts  take cover }
strip draw \"Draw\" { take gear \"Straight.\"  take spring }
";

/// The lines of a step as short words.
fn told(procedure: &Procedure, step: &Step) -> Vec<String> {
    let line = |line: &StepLine| match line {
        StepLine::Hazard(hazard, _) => format!("! {}", procedure.hazard(hazard.what).naming.id),
        StepLine::Hold(text, _) => format!("hold {}", text.what),
        StepLine::Act(act) => match &act.deed {
            Deed::Coat { with, place, .. } => {
                format!("coat {} {}", procedure.supply(*with).naming.id, place.clone().unwrap_or_default())
            }
            Deed::Part { work, what } => {
                let note = act.note.as_ref().map(|note| format!(" {note}")).unwrap_or_default();
                format!("{work:?} {}{note}", procedure.part(what[0].id).naming.id)
            }
            Deed::Fasten { work, .. } => format!("{work:?}"),
            other => format!("{other:?}"),
        },
    };
    step.lines.iter().map(line).collect()
}

fn tools(procedure: &Procedure, step: &Step) -> Vec<String> {
    step.listed().map(|(tool, _)| procedure.tool(tool).naming.id.clone()).collect()
}

fn derived<'n>(network: &'n Network, id: &str) -> &'n Step {
    &network.derived.iter().find(|derived| derived.step.naming.id == id).expect(id).step
}

#[test]
fn what_a_thing_says_stands_in_each_step_that_handles_it_in_its_direction() {
    let (procedure, network, ..) = connected(FAMILY);
    let open = &procedure.steps[StepId(0)];
    assert_eq!(told(&procedure, open), ["Undo", "! dust", "Take cover Flat."]);
    assert_eq!(tools(&procedure, open), ["ring"]);
    let draw = &procedure.steps[StepId(1)];
    // The words of the step count before those of the thing; the puller's load is met where the puller is used.
    assert_eq!(told(&procedure, draw), ["! load", "Take gear Straight.", "! jump", "Take spring"]);
    assert_eq!(tools(&procedure, draw), ["jaw"]);

    let gear = derived(&network, "fit:gear");
    assert_eq!(told(&procedure, gear), ["! fumes", "coat paste bore", "Fit gear"]);
    assert_eq!(tools(&procedure, gear), ["drift"]);
    assert_eq!(gear.supplies.len(), 1);
    assert_eq!(told(&procedure, derived(&network, "fit:spring")), ["! jump", "Fit spring"]);
    let cover = derived(&network, "fit:cover");
    assert_eq!(told(&procedure, cover), ["Fit cover Square."]);
    // Nobody states a mass: one pair of hands, as far as anybody knows.
    assert_eq!(cover.hands, 1);
}

#[test]
fn a_derived_tightening_has_its_driver_and_the_narrowest_wrench_that_holds_every_pass() {
    // What undid it drives it home, but no spanner where a torque is stated, unless it is the nut of a pipe.
    let (procedure, network, ..) = connected(FAMILY);
    assert_eq!(tools(&procedure, derived(&network, "tighten:lid")), ["middle", "narrow"]);
    let of_pipe = FAMILY.replace("fasteners bolts 4 \"Bolt\" {", "fasteners bolts 4 \"Bolt\" { stays ");
    assert_ne!(of_pipe, FAMILY);
    let (procedure, network, ..) = connected(&of_pipe);
    assert_eq!(tools(&procedure, derived(&network, "tighten:lid")), ["ring", "narrow"]);
    // Where the step named no tool that fits, a declared socket does.
    let (procedure, network, ..) = connected(&FAMILY.replace("tools ring  ", "tools small  "));
    assert_eq!(tools(&procedure, derived(&network, "tighten:lid")), ["middle", "narrow"]);
}

/// Common practice, no source: a gauge or a plastic strip reads what lies between two parts, paste and sealant with it.
#[test]
fn a_trial_is_put_together_without_coats() {
    let (trial, off) = ("build on \"On\" { fit gear  look seat }", "build off_again \"Off\" { take gear }");
    let look = "look seat \"Seat\" { of gear  results good, loose  taken in place  needs gear fitted }";
    let (procedure, network, ..) =
        connected(&format!("{FAMILY}{look}\ntrial dry \"Dry\" {{ {trial}  {off} }}\n"));
    let on = procedure.steps.iter().find(|step| step.naming.id == "on").unwrap();
    assert_eq!(told(&procedure, on)[0], "Fit gear");
    assert!(on.supplies.is_empty());
    assert!(told(&procedure, derived(&network, "fit:gear")).contains(&"coat paste bore".to_owned()));
}

#[test]
fn a_hazard_of_a_step_is_told_once_and_only_there() {
    let text = FAMILY.replace("undo bolts  take cover", "hazard dust  hazard swing  undo bolts  take cover");
    let (procedure, network, ..) = connected(&text);
    assert_eq!(
        told(&procedure, &procedure.steps[StepId(0)]),
        ["! dust", "! swing", "Undo", "Take cover Flat."]
    );
    assert_eq!(told(&procedure, derived(&network, "fit:cover")), ["Fit cover Square."]);
}

/// Common practice, no source: old gaskets, burnt seals, lead dust, hot coolant, used oil and pullers are met when taking
/// apart. No step that the tool itself makes of the shipped engine for the way back warns of them.
#[test]
fn no_refit_of_the_shipped_engine_warns_of_what_nobody_does_there() {
    let mut sources = Sources::new();
    let procedure =
        benchleaf::procedure::load(&mut sources, Path::new("procedures/brackwater3.rebuild")).value.unwrap();
    let network = connect(&procedure).value;
    let off: BTreeSet<&str> =
        ["old_gasket", "burnt_seal", "lead_overlay", "hot_coolant", "used_oil", "puller_load"].into();
    let mut hazards = 0;
    for derived in &network.derived {
        for hazard in derived.step.hazards() {
            let id = procedure.hazard(hazard).naming.id.as_str();
            assert!(!off.contains(id), "{} warns of {id}", derived.step.naming.id);
            hazards += 1;
        }
        for (tool, _) in derived.step.listed() {
            let tool = procedure.tool(tool);
            assert_ne!(tool.kind, ToolKind::Puller, "{} asks for a puller", derived.step.naming.id);
        }
    }
    assert!(hazards > 0, "circlips fly on the way back too");
}

/// A pawl whose spring comes off under a hazard that only the step says, in words as they may be.
const WINCH: &str = "family winch \"Winch\" { origin \"invented for tests\" }
hazard flies caution spring { hazard \"It flies.\"  avoid \"Cover it.\" }
part guard \"Guard\" { fate reuse }
part pawl_spring \"Pawl spring\" { under guard  fate renew }
strip guard_off \"Guard off\" { take guard }
strip spring_off \"Spring off\" { hazard flies  take pawl_spring }
";

#[test]
fn what_comes_off_under_load_is_asked_about_where_it_goes_back() {
    let told = |text: &str| -> Vec<String> {
        let (.., diagnostics, _) = connected(text);
        diagnostics.iter().map(|told| format!("{}: {}", told.code.name, told.message)).collect()
    };
    let expected = "procedure/hazard-expected: `pawl_spring` (\"Pawl spring\") comes off under load, and goes back under load, \
                    and the step that the build gets by itself, `fit:pawl_spring`, names no hazard of kind `spring` before \
                    that";
    assert_eq!(told(WINCH), [expected]);
    // A spring by its kind, whatever the step says.
    let by_kind = WINCH.replace("under guard", "kind spring  under guard");
    assert_eq!(told(&by_kind), [expected]);
    // Where the way back is said, nothing is asked; nor where what lies over it loads it and says so.
    let said = |way: &str| WINCH.replace("under guard", &format!("under guard  hazard flies {way}"));
    assert_eq!(told(&said("both ways")), [""; 0]);
    assert_eq!(told(&said("off")), [expected]);
    let let_go = by_kind
        .replace("hazard flies  take", "take")
        .replace("{ fate reuse }", "{ hazard flies both ways  fate reuse }");
    assert_eq!(told(&let_go), [""; 0]);
    let of_a_set = WINCH
        .replace("under guard", "held by pin")
        .replace("strip guard_off", "fasteners pin 1 \"Pin\"\nstrip guard_off")
        .replace("take pawl_spring", "undo pin  take pawl_spring");
    assert_eq!(
        told(&of_a_set),
        [
            "procedure/hazard-expected: `pin` (\"Pin\") comes off under load, and goes back under load, and the step that the build gets by \
          itself, `tighten:pin`, names no hazard of kind `spring` before that"
        ]
    );
}
