//! What holds a step though its answers are known: an unknown torque, an open fate, a set of which nobody has said
//! whether it may be used again.

use super::types::{Hold, HoldCause, Placed, PlacedKind, PlannedAct, PlannedLine};
use super::{Known, decided, words};
use crate::decide::{Torque, Verdict};
use crate::network::Node;
use crate::procedure::model::{
    Deed, FastenerSet, FasteningWork, PartWork, Phase, Place, Procedure, Reuse, SetId,
};

/// Everything that holds the acts of a step.
pub(super) fn holds(known: &Known, node: &Node, lines: &[PlannedLine]) -> Vec<Hold> {
    let mut holds = Vec::new();
    for line in lines {
        let PlannedLine::Act(act) = line else { continue };
        match &act.act.deed {
            // A trial states its own torque, and old fasteners serve.
            Deed::Fasten { work: FasteningWork::Tighten | FasteningWork::Retighten, to: None, .. }
                if !node.trial =>
            {
                tightening_holds(known, act, &mut holds);
            }
            Deed::Part { work: PartWork::Fit, .. } if node.phase == Phase::Build && !node.trial => {
                part_holds(known, act, &mut holds);
            }
            _ => {}
        }
    }
    holds
}

fn tightening_holds(known: &Known, act: &PlannedAct, holds: &mut Vec<Hold>) {
    let procedure = known.procedure;
    for set in fastened(procedure, &act.things) {
        let one = procedure.set(set);
        let name = words::the_many(&one.naming.title, one.count);
        let lacks = match known.decisions.torques.of(set) {
            Torque::Passes(..) | Torque::ByFeel => None,
            Torque::NotInTable => Some(no_value(one)),
            Torque::NoTable => Some("from the shop's own table, which was not given".to_owned()),
            Torque::Open => Some("not known".to_owned()),
        };
        holds.extend(lacks.map(|lacks| Hold {
            cause: HoldCause::Torque(set),
            text: format!("the tightening torque of {name}: {lacks}"),
        }));
        let open = || {
            let places = known.decisions.sets.range((set, Place(0))..=(set, Place(u32::MAX)));
            places.into_iter().any(|(_, decision)| decision.verdict == Verdict::Open)
        };
        if matches!(one.reuse, Some((Reuse::Unknown, _))) && open() {
            holds.push(Hold {
                cause: HoldCause::Reuse(set),
                text: format!("word whether {name} may be used again"),
            });
        }
    }
}

/// What the shop's own table lacks where it has no value for a set.
pub(crate) fn no_value(set: &FastenerSet) -> String {
    let said = |text: Option<&str>, missing: &str| text.unwrap_or(missing).to_owned();
    let thread = said(set.thread.as_ref().map(|thread| thread.written.as_str()), "a thread not stated");
    let class = said(set.class.as_ref().map(|class| class.written.as_str()), "of no stated class");
    format!("the shop's table has no value for {thread} {class}")
}

/// What the parts that are fitted wait for, places that wait for the same told once.
fn part_holds(known: &Known, act: &PlannedAct, holds: &mut Vec<Hold>) {
    for placed in &act.things {
        let PlacedKind::Part(id) = placed.kind else { continue };
        for place in &placed.places {
            let Some(decision) = known.decisions.fates.get(&(id, *place)) else { continue };
            let mut waits =
                decision.holds.iter().filter(|wait| known.options.recorded || !decided::arrives(wait));
            let mut any = false;
            for wait in &mut waits {
                any = true;
                let text = decided::wait_words(known.procedure, id, *place, wait);
                holds.push(Hold { cause: HoldCause::Fate(id), text });
            }
            if !any && decision.verdict == Verdict::Open {
                let name = words::the(&known.procedure.part(id).naming.title);
                holds.push(Hold {
                    cause: HoldCause::Fate(id),
                    text: format!("a decision: what becomes of {name}"),
                });
            }
        }
    }
}

/// The sets that an act on these things fastens.
pub(crate) fn fastened(procedure: &Procedure, things: &[Placed]) -> Vec<SetId> {
    let mut found = Vec::new();
    for thing in things {
        match thing.kind {
            PlacedKind::Joint(id) => {
                found.extend(procedure.joint(id).members.iter().map(|member| member.set.id));
            }
            PlacedKind::Set(id) => found.push(id),
            _ => {}
        }
    }
    found
}
