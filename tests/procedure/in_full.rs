//! What is said in short is what is said in full: two texts, one procedure.

use benchleaf::procedure::model::{Deed, Procedure, Tightening};

use super::{clean, codes, resolved};

/// Everything that a procedure says, without the places where it is said.
fn said(procedure: &Procedure) -> String {
    let told = format!("{procedure:#?}");
    let mut kept = Vec::new();
    let mut within = 0;
    for line in told.lines() {
        let opens = line.trim_start().starts_with("Span {") || line.contains("span: Span {");
        if within > 0 || opens {
            within += line.matches(['{', '(']).count();
            within -= line.matches(['}', ')']).count();
            continue;
        }
        kept.push(line);
    }
    kept.join("\n")
}

const BENCH: &str = "tool socket_13 \"Socket\" { kind socket  size 13 mm }\n\
    axis cyl \"cylinder\" = 1 .. 3\n\
    hazard dust caution gasket_dust { hazard \"Fibre.\"  consequence \"Lungs.\"  avoid \"Wet it.\" }\n";

fn same(short: &str, full: &str) {
    let read = |text: &str| said(&resolved(&format!("{BENCH}{text}")).value);
    let (short, full) = (read(short), read(full));
    let first = short.lines().zip(full.lines()).position(|(short, full)| short != full);
    assert_eq!(short, full, "from line {first:?} on");
}

#[test]
fn what_is_like_another_says_what_that_says() {
    same(
        "fasteners a 2 \"A\" { kind bolt  thread M8x1.25  class 8.8  drive 13 mm  length 30 mm  reusable  to water }\n\
         fasteners b 3 \"B\" { like a  length 45 mm  once }\n\
         part lid \"Lid\" { held by a }\n\
         part one \"One\" { kind gasket  hazard dust off  under lid  fate renew  catalogue \"1\" }\n\
         part two \"Two\" { like one  catalogue \"2\" }\n\
         gauge play \"Play\" { of lid  taken off  worn 2 mm from \"x\"  best at nought }\n\
         gauge gap \"Gap\" { like play  worn 3 mm from \"y\" }\n\
         look seen \"Seen\" { of lid  by \"eye\"  taken off  results good, bad }\n\
         look again \"Again\" { like seen  by \"touch\" }\n",
        "fasteners a 2 \"A\" { kind bolt  thread M8x1.25  class 8.8  drive 13 mm  length 30 mm  reusable  to water }\n\
         fasteners b 3 \"B\" { kind bolt  thread M8x1.25  class 8.8  drive 13 mm  length 45 mm  once  to water }\n\
         part lid \"Lid\" { held by a }\n\
         part one \"One\" { kind gasket  hazard dust off  under lid  fate renew  catalogue \"1\" }\n\
         part two \"Two\" { kind gasket  hazard dust off  under lid  fate renew  catalogue \"2\" }\n\
         gauge play \"Play\" { of lid  taken off  unit mm  worn 2 mm from \"x\"  best at nought }\n\
         gauge gap \"Gap\" { of lid  taken off  unit mm  worn 3 mm from \"y\"  best at nought }\n\
         look seen \"Seen\" { of lid  by \"eye\"  taken off  results good, bad }\n\
         look again \"Again\" { of lid  by \"touch\"  taken off  results good, bad }\n",
    );
}

#[test]
fn a_torque_is_not_taken_over_by_a_set_of_a_joint() {
    let pump = clean(
        "fasteners a 2 \"A\" { thread M8x1.25  class 8.8  drive 13 mm  reusable  tighten 20 N.m from \"x\" }\n\
         fasteners b 2 \"B\" { like a }\n\
         part lid \"Lid\" { held by joined }\n\
         part body \"Body\" { under lid }\n\
         joint joined \"Lid to body\" {\n\
             clamps lid, body  seen from front  holes b at (0,0) (10,0) mm  tighten b 9 N.m from \"x\"\n\
         }\n\
         part cap \"Cap\" { held by a }\n\
         strip off \"Off\" { undo joined  take lid  undo a  take cap }\n",
    );
    let set = |name: &str| pump.sets.numbered().find(|(_, set)| set.naming.id == name).unwrap().0;
    let torque = |name: &str| {
        let stated = pump.tightening(set(name)).values().next().unwrap().value.clone();
        let Tightening::Passes(passes) = stated else { return String::new() };
        format!("{passes:?}")
    };
    assert!(torque("a").contains("20"), "{}", torque("a"));
    assert!(torque("b").contains('9') && !torque("b").contains("20"), "{}", torque("b"));
}

#[test]
fn an_origin_is_said_once() {
    same(
        "part lid \"Lid\"\n\
         section top \"Top\" from \"sheet 4\"\n\
         fasteners a 2 \"A\" { drive 13 mm  tighten 20 N.m }\n\
         fasteners b 2 \"B\" { drive 13 mm  tighten 20 N.m from \"sheet 5\" }\n\
         gauge play \"Play\" { of lid  made 1 mm .. 2 mm  worn 3 mm }\n\
         gauge gap \"Gap\" { of lid  made 1 mm .. 2 mm  worn 3 mm from \"sheet 6\" }\n\
         gauge dent \"Dent\" { of lid  made 1 mm .. 2 mm from \"sheet 7\"  worn unknown }\n\
         fasteners d 2 \"D\" { drive 13 mm }\n\
         joint rim \"Rim\" { clamps lid  holes d at (0,0) (9,0) mm  tighten d 9 N.m  sequence A, B }\n\
         build lid_on \"Lid on\" { heat lid to 60 degC  heat lid to 90 degC from \"sheet 8\" }\n\
         section rest \"Rest\"\n\
         fasteners c 2 \"C\" { drive 13 mm  tighten general }\n",
        "part lid \"Lid\"\n\
         section top \"Top\"\n\
         fasteners a 2 \"A\" { drive 13 mm  tighten 20 N.m from \"sheet 4\" }\n\
         fasteners b 2 \"B\" { drive 13 mm  tighten 20 N.m from \"sheet 5\" }\n\
         gauge play \"Play\" { of lid  made 1 mm .. 2 mm from \"sheet 4\"  worn 3 mm from \"sheet 4\" }\n\
         gauge gap \"Gap\" { of lid  made 1 mm .. 2 mm from \"sheet 6\"  worn 3 mm from \"sheet 6\" }\n\
         gauge dent \"Dent\" { of lid  made 1 mm .. 2 mm from \"sheet 7\"  worn unknown }\n\
         fasteners d 2 \"D\" { drive 13 mm }\n\
         joint rim \"Rim\" { clamps lid  holes d at (0,0) (9,0) mm  tighten d 9 N.m from \"sheet 4\" \
         sequence A, B from \"sheet 4\" }\n\
         build lid_on \"Lid on\" { heat lid to 60 degC from \"sheet 4\"  heat lid to 90 degC from \"sheet 8\" }\n\
         section rest \"Rest\"\n\
         fasteners c 2 \"C\" { drive 13 mm  tighten general }\n",
    );
    // What stands in no such section says it itself.
    let bare = resolved("part lid \"Lid\"\ngauge play \"Play\" { of lid  made 1 mm .. 2 mm  worn 3 mm }\n");
    assert!(codes(&bare.diagnostics).contains(&"procedure/no-origin"), "{:?}", codes(&bare.diagnostics));
}

#[test]
fn acts_in_turn_are_done_at_one_position_after_the_other() {
    let nuts = "part lid[cyl] \"Lid\" { held by nuts[cyl] }\n\
        fasteners nuts[cyl] 1 \"Nut\" { drive 13 mm }\n";
    same(
        &format!(
            "{nuts}strip off \"Off\" {{ do \"First.\"  each cyl in turn  undo nuts[cyl]  take lid[cyl] \"Up.\" }}\n"
        ),
        &format!(
            "{nuts}strip off \"Off\" {{ do \"First.\"  undo nuts[1]  take lid[1] \"Up.\"  undo nuts[2]  \
             take lid[2] \"Up.\"  undo nuts[3]  take lid[3] \"Up.\" }}\n"
        ),
    );
}

/// The order is that of the family, and cylinders are turned to one by one.
#[test]
fn acts_in_firing_order_follow_it() {
    let text = "family engine \"Engine\" { origin \"invented\"  cycle four-stroke  firing order 1, 3, 2 }\n\
        axis cyl \"cylinder\" = 1 .. 3\n\
        strip turned \"Turned\" { each cyl in firing order  turn to cyl top firing }\n";
    let mut sources = benchleaf::source::Sources::new();
    let file = sources.add("test.rebuild", text.to_owned());
    let tree = benchleaf::language::parse(file, text).value;
    let engine = benchleaf::procedure::resolve(&[tree]).value;
    let step = engine.steps.iter().next().unwrap();
    let turned: Vec<String> = step
        .acts()
        .map(|act| match &act.deed {
            Deed::TurnByHand { to: Some(to), .. } => format!("{:?}", to.cylinder),
            other => panic!("{other:?}"),
        })
        .collect();
    assert_eq!(turned, ["Position(0)", "Position(2)", "Position(1)"]);
}

/// Without a firing order nothing is guessed.
#[test]
fn no_order_to_fire_in_is_a_fault() {
    let outcome = resolved(
        "axis cyl \"cylinder\" = 1 .. 3\nstrip turned \"Turned\" { each cyl in firing order  do \"Look.\" }\n",
    );
    assert!(codes(&outcome.diagnostics).contains(&"procedure/firing-order"));
}

#[test]
fn time_both_ways_is_also_that_of_the_refit() {
    same(
        "part lid \"Lid\"\nstrip off \"Off\" { time 5 min both ways  take lid }\n",
        "part lid \"Lid\"\nstrip off \"Off\" { time 5 min  refit time 5 min  take lid }\n",
    );
}

/// The crankshaft says once what is told at each turn; a turn with words of its own keeps them.
#[test]
fn words_of_turning_stand_at_each_turn_without_its_own() {
    let engine = clean(
        "part crankshaft \"Crankshaft\" { turned by hand \"Stop if it stiffens.\" }\n\
         strip turned \"Turned\" { turn clockwise 90 deg  turn clockwise 90 deg \"Slowly.\" }\n",
    );
    let notes: Vec<_> =
        engine.steps.iter().flat_map(|step| step.acts()).map(|act| act.note.clone()).collect();
    assert_eq!(notes, [Some("Stop if it stiffens.".to_owned()), Some("Slowly.".to_owned())]);
}

/// A step that lists no driver has the one that its fasteners ask for.
#[test]
fn a_step_takes_the_driver_that_it_needs() {
    let tools = |listed: &str| {
        let engine = resolved(&format!(
            "tool socket_13 \"Socket\" {{ kind socket  size 13 mm }}\n\
             tool ring_13 \"Ring spanner\" {{ kind spanner  size 13 mm }}\n\
             fasteners nuts 2 \"Nut\" {{ kind nut  drive 13 mm }}\n\
             part lid \"Lid\" {{ held by nuts }}\n\
             strip off \"Off\" {{ {listed} undo nuts  take lid }}\n"
        ))
        .value;
        let step = engine.steps.iter().next().unwrap();
        step.listed().map(|(tool, _)| engine.tool(tool).naming.id.clone()).collect::<Vec<_>>()
    };
    assert_eq!(tools(""), ["socket_13"]);
    assert_eq!(tools("tools ring_13 "), ["ring_13"]);
}
