//! An engine in two banks: what a group of positions means, and what is done at one of them only.

use benchleaf::network::words;
use benchleaf::network::{Effect, Network, NodeId, Reason};
use benchleaf::procedure::model::{Phase, Procedure, StepLine};

use super::connected;

const VEE: &str = include_str!("../jobs/banks/vee.rebuild");

/// The codes of what is said of the engine with some of its words changed.
fn said(changes: &[(&str, &str)]) -> Vec<&'static str> {
    let text = changes.iter().fold(VEE.to_owned(), |text, (from, to)| {
        assert!(text.contains(from), "{from}");
        text.replace(from, to)
    });
    let (_, _, diagnostics, _) = connected(&text);
    diagnostics.iter().map(|diagnostic| diagnostic.code.name).collect()
}

fn node(procedure: &Procedure, network: &Network, id: &str) -> NodeId {
    let found = (0u32..).zip(&network.nodes).find(|(_, node)| node.id(procedure) == id);
    NodeId(found.unwrap_or_else(|| panic!("no step {id}")).0)
}

/// What a step brings about: `head[left] off`.
fn results(procedure: &Procedure, network: &Network, id: &str) -> Vec<String> {
    let events = &network.nodes[node(procedure, network, id).index()].events;
    let result = |event: &benchleaf::network::Event| match event.effect {
        Effect::Set(value) => {
            let thing = &network.things[event.thing.index()];
            let name = words::thing_name(procedure, &network.questions, thing);
            Some(format!("{name} {:?}", thing.kind.is(value)))
        }
        Effect::Need(..) => None,
    };
    events.iter().filter_map(result).collect()
}

#[test]
fn it_comes_apart_and_goes_together() {
    assert_eq!(said(&[]), [""; 0]);
}

#[test]
fn an_act_at_one_bank_is_done_there_only() {
    let (procedure, network, _, _) = connected(VEE);
    let taken = |id: &str, what: &str| {
        results(&procedure, &network, id)
            .iter()
            .any(|result| result.starts_with(what) && result.contains("Off"))
    };
    assert!(taken("heads_off[left]", "water_pipe"));
    assert!(!taken("heads_off[right]", "water_pipe"));
    assert!(taken("heads_off[left]", "head[left]") && !taken("heads_off[left]", "head[right]"));
}

#[test]
fn a_step_for_each_group_works_on_its_positions_and_no_others() {
    let (procedure, network, _, _) = connected(VEE);
    let mut pistons = results(&procedure, &network, "pistons_out[right]");
    pistons.retain(|result| result.starts_with("piston"));
    assert_eq!(pistons, ["piston[2] Part(Off)", "piston[4] Part(Off)"]);
}

#[test]
fn group_by_group_one_after_the_other() {
    let (procedure, network, _, _) = connected(VEE);
    let order: Vec<String> =
        network.orders[&Phase::Strip].iter().map(|node| network.nodes[node.index()].id(&procedure)).collect();
    let caps: Vec<&str> = order.iter().map(String::as_str).filter(|id| id.starts_with("caps_off")).collect();
    assert_eq!(caps, ["caps_off[1]", "caps_off[3]", "caps_off[2]", "caps_off[4]"]);
}

#[test]
fn what_is_under_the_head_of_its_bank_waits_for_that_head() {
    let (procedure, network, _, _) = connected(VEE);
    let waits = |from: &str, to: &str| {
        let (from, to) = (node(&procedure, &network, from), node(&procedure, &network, to));
        network.links.iter().any(|link| (link.from, link.to) == (from, to))
    };
    assert!(waits("heads_off[left]", "pistons_out[left]"));
    assert!(!waits("heads_off[left]", "pistons_out[right]"));
}

#[test]
fn what_falls_at_one_bank_falls_there_only() {
    // Both heads would fall with either side up: the one that is still bolted down does not, the one just fitted would.
    let wherever = [
        ("falls when stand = left_up at bank = right", "falls when stand = left_up"),
        ("falls when stand = right_up at bank = left", "falls when stand = right_up"),
    ];
    assert!(said(&wherever).iter().any(|code| code.starts_with("network/")), "{:?}", said(&wherever));
    // The stand turned the wrong way for each.
    let turned = [
        ("with stand left_up at bank = left", "with stand right_up at bank = left"),
        ("with stand right_up at bank = right", "with stand left_up at bank = right"),
    ];
    assert!(said(&turned).iter().any(|code| code.starts_with("network/")), "{:?}", said(&turned));
}

#[test]
fn an_act_without_its_bank_is_done_twice() {
    let twice = said(&[("take water_pipe at bank = left", "take water_pipe")]);
    assert!(twice.iter().any(|code| code.starts_with("network/")), "{twice:?}");
}

/// The words of a step's own lines, tools and supplies, at one position.
fn said_in(text: &str, id: &str) -> String {
    let (procedure, network, _, _) = connected(text);
    let at = node(&procedure, &network, id);
    let member = &network.nodes[at.index()].members[0];
    let step = procedure.steps.iter().find(|step| id.starts_with(step.naming.id.as_str())).unwrap();
    let tools = step.tools_at(&member.binding).map(|tool| procedure.tool(tool).naming.id.clone());
    let supplies =
        step.supplies_at(&member.binding).map(|(supply, ..)| procedure.supply(*supply).naming.id.clone());
    let lines = step.lines.iter().filter_map(|line| match line {
        StepLine::Hazard(hazard, _) => {
            hazard.here(&member.binding).map(|hazard| procedure.hazard(*hazard).naming.id.clone())
        }
        StepLine::Hold(hold, _) => hold.here(&member.binding).cloned(),
        StepLine::Act(_) => None,
    });
    let wrong = step.contingencies.iter().filter_map(|wrong| wrong.here(&member.binding));
    let wrong = wrong.map(|(_, done)| done.clone());
    tools.chain(supplies).chain(lines).chain(wrong).collect::<Vec<_>>().join(", ")
}

#[test]
fn what_a_step_says_of_one_bank_is_said_there_only() {
    let said = "    tools socket_17, socket_13\n    tools torque_wrench at bank = left\n    supplies clean_oil at bank = right\n\
                \x20   hold \"seen\" at bank = right\n    hazard drip at bank = left\n    if \"it sticks\" do \"Warm it\" at bank = right\n    undo pipe_bolts";
    let drip = "hazard drip caution chemical { hazard \"It drips.\"  avoid \"Wear goggles.\" }\n\npart cover";
    let text =
        VEE.replace("    tools socket_17, socket_13\n    undo pipe_bolts", said).replace("part cover", drip);
    assert_eq!(said_in(&text, "heads_off[left]"), "socket_17, socket_13, torque_wrench, drip, old_gasket");
    assert_eq!(
        said_in(&text, "heads_off[right]"),
        "socket_17, socket_13, clean_oil, seen, old_gasket, Warm it"
    );
}

#[test]
fn what_holds_a_head_may_differ_by_bank() {
    let held = |bank: &str| {
        let text = VEE.replace(
            "part head[bank] \"Cylinder head\" {",
            &format!("part head[bank] \"Cylinder head\" {{ held by pipe_bolts at bank = {bank}"),
        );
        let (procedure, network, _, _) = connected(&text);
        let events = &network.nodes[node(&procedure, &network, "heads_off[left]").index()].events;
        let wanted = |event: &&benchleaf::network::Event| {
            let thing = &network.things[event.thing.index()];
            matches!(&event.effect, Effect::Need(_, why) if why.reason == Reason::HeldBy)
                && words::thing_name(&procedure, &network.questions, thing) == "pipe_bolts"
        };
        events.iter().filter(wanted).count()
    };
    // The pipe itself is held by them too.
    assert_eq!((held("left"), held("right")), (2, 1));
}

#[test]
fn what_a_step_needs_may_differ_by_bank() {
    let needs = |bank: &str| format!("    undo head_joint\n    needs water_pipe off at bank = {bank}");
    assert_eq!(said(&[("    undo head_joint", &needs("right"))]), [""; 0], "the left head comes off first");
    let early = said(&[("    undo head_joint", &needs("left"))]);
    assert!(early.iter().any(|code| code.starts_with("network/")), "{early:?}");
}

#[test]
fn what_falls_is_carried_though_no_step_says_how_the_stand_is() {
    let codes = |strip: &str| -> Vec<&'static str> {
        let text = format!(
            "family e \"E\" {{ origin \"invented for tests\" }}\n\
             setup stand \"Stand\" = upright (at first), level\n\
             part head \"Head\" {{ held by bolts  mass 1 kg  falls when stand = upright }}\n\
             fasteners bolts 4 \"Head bolt\" {{ thread M8x1.25  tighten 20 N.m from \"invented\" }}\n\
             strip head_off \"Head off\" {{ {strip} }}\n\
             build head_on \"Head on\" {{ fit head  support head  start by hand bolts  tighten bolts }}\n"
        );
        let (_, _, diagnostics, _) = connected(&text);
        diagnostics.iter().map(|one| one.code.name).filter(|code| code.starts_with("network/")).collect()
    };
    assert_eq!(codes("undo bolts  take head"), ["network/unsupported"]);
    assert_eq!(codes("support head  undo bolts  take head"), [""; 0]);
    // Stated, it is asked as ever; where the stand lies level, it doesn't fall.
    assert_eq!(codes("with stand upright  undo bolts  take head"), ["network/unsupported"]);
    assert_eq!(codes("with stand level  undo bolts  take head"), [""; 0]);
}
