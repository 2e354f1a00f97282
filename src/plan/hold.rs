//! What holds a step though its answers are known: an unknown torque, an open fate, a set of which nobody has said
//! whether it may be used again.

use super::types::{Hold, HoldCause, Placed, PlacedKind, PlannedAct, PlannedLine};
use super::{Known, decided, words};
use crate::decide::Verdict;
use crate::network::Node;
use crate::procedure::model::{
    Deed, FasteningWork, PartWork, Phase, Place, Procedure, Reuse, SetId, Sourced, Tightening,
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
    for (set, tightening) in tightened(procedure, &act.things) {
        let one = procedure.set(set);
        let name = words::the_many(&one.naming.title, one.count);
        match tightening.map(|sourced| &sourced.value) {
            None | Some(Tightening::Unknown) => holds.push(Hold {
                cause: HoldCause::Torque(set),
                text: format!("the tightening torque of {name}: not known"),
            }),
            Some(Tightening::General) => holds.push(Hold {
                cause: HoldCause::Torque(set),
                text: match no_value(procedure, set, tightening) {
                    Some(no_value) => format!("the tightening torque of {name}: {no_value}"),
                    None => format!(
                        "the tightening torque of {name}: from the shop's own table, which was not given"
                    ),
                },
            }),
            Some(Tightening::Passes(_) | Tightening::ByFeel) => {}
        }
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

/// What the shop's own table lacks, where it was looked in: `general` then carries its origin.
pub fn no_value(
    procedure: &Procedure,
    set: SetId,
    tightening: Option<&Sourced<Tightening>>,
) -> Option<String> {
    tightening?.origin.as_ref()?;
    let set = procedure.set(set);
    let said = |text: Option<&str>, missing: &str| text.unwrap_or(missing).to_owned();
    let thread = said(set.thread.as_ref().map(|(thread, _)| thread.as_str()), "a thread not stated");
    let class = said(set.class.as_ref().map(|(class, _)| class.as_str()), "of no stated class");
    Some(format!("the shop's table has no value for {thread} {class}"))
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

/// The sets that are tightened, each with what it is tightened to, if anybody has said.
pub fn tightened<'a>(
    procedure: &'a Procedure,
    things: &[Placed],
) -> Vec<(SetId, Option<&'a Sourced<Tightening>>)> {
    let mut found = Vec::new();
    for thing in things {
        match thing.kind {
            PlacedKind::Joint(id) => {
                for member in &procedure.joint(id).members {
                    let own = procedure.set(member.set.id).tightening.as_ref();
                    found.push((member.set.id, member.tightening.as_ref().or(own)));
                }
            }
            PlacedKind::Set(id) => found.push((id, tightening_of(procedure, id))),
            _ => {}
        }
    }
    found
}

/// What a set is tightened to, by itself or as a member of its joint.
pub fn tightening_of(procedure: &Procedure, set: SetId) -> Option<&Sourced<Tightening>> {
    let members = procedure.joints.iter().flat_map(|joint| &joint.members);
    let stated = members.filter(|member| member.set.id == set).find_map(|member| member.tightening.as_ref());
    procedure.set(set).tightening.as_ref().or(stated)
}
