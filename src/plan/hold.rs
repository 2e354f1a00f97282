//! What holds a step though its answers are known: an unknown torque, an open fate, a set of which nobody has said
//! whether it may be used again.

use super::expand::answered_within;
use super::types::{Hold, HoldCause, Placed, PlacedKind, PlannedAct, PlannedLine};
use super::{Known, step_of, words};
use crate::decide::{Hold as Wait, Torque, Truth, Verdict, hangs_on, places_asked, shared_name};
use crate::network::{self, Node};
use crate::procedure::model::{
    Binding, Cases, Deed, FastenerSet, FasteningWork, Guard, GuardTerm, PartId, PartWork, Phase, Place,
    Procedure, Reuse, SetId, StepKey, SupplyId,
};
use crate::procedure::{in_joint, sized_in_trial};
use crate::record::Goods;

/// Everything that holds the acts of a step, which is one of those of a node.
pub(super) fn holds(known: &Known, node: &Node, member: usize, lines: &[PlannedLine]) -> Vec<Hold> {
    let mut holds = Vec::new();
    let case = &node.members[member].case;
    let settled = known.decisions.case(known.procedure, known.network, case) == Truth::Yes;
    for line in lines {
        let PlannedLine::Act(act) = line else { continue };
        let here = Here { known, node, member, act };
        match &act.act.deed {
            // A trial states its own torque, and old fasteners serve.
            Deed::Fasten { work: FasteningWork::Tighten | FasteningWork::Retighten, to: None, .. }
                if !node.trial =>
            {
                here.tightening_holds(&mut holds);
            }
            Deed::Fasten { work: FasteningWork::StartByHand, .. } if !node.trial => {
                here.length_holds(&mut holds);
            }
            Deed::Part { work: PartWork::Fit, .. } if node.phase == Phase::Build && !node.trial => {
                part_holds(known, act, true, &mut holds);
            }
            // What a trial puts in new is the piece that goes in for good.
            Deed::Part { work: PartWork::Fit, .. } if node.phase == Phase::Build => {
                here.trial_holds(&mut holds);
            }
            // What can't be ordered yet doesn't leave: nobody knows to what size.
            Deed::Part { work: PartWork::Send, .. } if !node.trial => {
                part_holds(known, act, settled, &mut holds);
            }
            // What was refused, or never went out and won't any more, isn't there to be taken back.
            Deed::Part { work: PartWork::Receive | PartWork::Accept, .. } => {
                not_there_holds(known, act, &mut holds);
            }
            _ => {}
        }
    }
    holds
}

/// The parts among those taken back or accepted that were refused and have not gone out again, and those that have not
/// gone out though the step that sends them was passed over.
fn not_there_holds(known: &Known, act: &PlannedAct, holds: &mut Vec<Hold>) {
    for placed in &act.things {
        let PlacedKind::Part(id) = placed.kind else { continue };
        for place in &placed.places {
            let decision = known.decisions.fates.get(&(id, *place));
            let waits = decision.into_iter().flat_map(|decision| &decision.holds).filter(|wait| match wait {
                Wait::Refused(_) => true,
                Wait::NotSent => never_sent(known, id),
                _ => false,
            });
            holds.extend(waits.map(|wait| {
                let text = wait.words_of_part(known.procedure, id, *place);
                Hold { cause: HoldCause::Fate(id), text }
            }));
        }
    }
}

/// Whether a step that sends a part out was passed over.
fn never_sent(known: &Known, part: PartId) -> bool {
    let sends = |deed: &Deed| match deed {
        Deed::Part { work: PartWork::Send, what } => what.iter().any(|target| target.id == part),
        _ => false,
    };
    known.decisions.not_done.iter().any(|(key, _)| match key {
        StepKey::Written(id, _) => known.procedure.step(*id).acts().any(|act| sends(&act.deed)),
        StepKey::Derived(_) => false,
    })
}

/// Whether something is sent out by these lines.
pub(super) fn sends(lines: &[PlannedLine]) -> bool {
    lines.iter().any(|line| {
        matches!(line, PlannedLine::Act(act) if matches!(act.act.deed, Deed::Part { work: PartWork::Send, .. }))
    })
}

/// The parts of this job's own that a step puts in, and that have not come.
pub(super) fn own_parts(known: &Known, member: &network::Member) -> Vec<Hold> {
    let Known { procedure, network, decisions, options } = *known;
    let supplies = step_of(procedure, network, member.step).supplies_at(&member.binding);
    let wanted = supplies.map(|(id, ..)| *id).filter(|id| {
        let own = decisions.own_parts.contains_key(id);
        options.recorded && own && !decisions.in_hand.contains(&Goods::Supply(*id))
    });
    let hold = |id: SupplyId| Hold {
        cause: HoldCause::Supply(id),
        text: format!("{}: not in hand", words::the(&procedure.supply(id).naming.title)),
    };
    wanted.map(hold).collect()
}

/// An act, and where it stands.
struct Here<'a> {
    known: &'a Known<'a>,
    node: &'a Node,
    member: usize,
    act: &'a PlannedAct,
}

impl Here<'_> {
    fn tightening_holds(&self, holds: &mut Vec<Hold>) {
        let procedure = self.known.procedure;
        for (set, places) in fastened(procedure, &self.act.things) {
            let one = procedure.set(set);
            let name = words::the_many(&one.naming.title, procedure.set_pieces(set, &places[..1]));
            holds.extend(self.presence_hold(set, &places, &name));
            for (torque, at) in self.known.decisions.torques.at(set, &places) {
                let lacks = match torque {
                    Torque::Passes(..) | Torque::ByFeel => None,
                    Torque::NotInTable => Some(no_value(one)),
                    Torque::NoTable => Some("from the shop's own table, which was not given".to_owned()),
                    Torque::Open => Some("not known".to_owned()),
                    Torque::ByAnswer(_) => self.hangs_on(procedure.tightening(set), set, &at),
                };
                let part = if at.len() == places.len() {
                    String::new()
                } else {
                    format!(", {}", shared_name(procedure, &one.axes, &at))
                };
                holds.extend(lacks.map(|lacks| Hold {
                    cause: HoldCause::Torque(set),
                    text: format!("the tightening torque of {name}{part}: {lacks}"),
                }));
            }
            holds.extend(self.set_holds(set, &places));
            holds.extend(self.reuse_hold(set, &places, &name));
        }
    }

    /// New parts of a trial that have not come, or not in their size, or of which nobody knows the size: what the trial itself
    /// finds isn't waited for.
    fn trial_holds(&self, holds: &mut Vec<Hold>) {
        let Known { procedure, network, decisions, options } = *self.known;
        let step = step_of(procedure, network, self.node.members[self.member].step);
        for placed in &self.act.things {
            let PlacedKind::Part(id) = placed.kind else { continue };
            if sized_in_trial(procedure, step, id) {
                continue;
            }
            for place in &placed.places {
                let Some(decision) = decisions.fates.get(&(id, *place)) else { continue };
                let waits = decision.before_fitting(options.recorded).filter(|wait| {
                    matches!(
                        wait,
                        Wait::Question(_) | Wait::NotInHand(_) | Wait::WrongSize(..) | Wait::NotStandard(_)
                    )
                });
                let new = matches!(decision.verdict, Verdict::Renew { .. });
                holds.extend(waits.filter(|_| new).map(|wait| Hold {
                    cause: HoldCause::Fate(id),
                    text: wait.words_of_part(procedure, id, *place),
                }));
            }
        }
    }

    /// What is open of whether this engine has a set.
    fn presence_hold(&self, set: SetId, places: &[Place], name: &str) -> Option<Hold> {
        let Known { procedure, decisions, .. } = *self.known;
        let open = |place: &Place| {
            let present = procedure.set_present((set, *place));
            let truth = decisions.guard(procedure, &present, &procedure.bound_at((set, *place)));
            matches!(truth, Truth::Open(_)).then_some(present)
        };
        let choosing: Vec<Guard> = places.iter().filter_map(open).collect();
        let hangs = (!choosing.is_empty()).then(|| hangs_on(procedure, &choosing))?;
        let text = format!("whether this {} has {name}: {hangs}", procedure.whole());
        Some(Hold { cause: HoldCause::Present(set), text })
    }

    /// What somebody has still to say of whether a set may go back, before it is tightened for good.
    fn reuse_hold(&self, set: SetId, places: &[Place], name: &str) -> Option<Hold> {
        let Known { procedure, decisions, .. } = *self.known;
        let reuse = &procedure.set(set).reuse;
        let unknown = |place: &Place| {
            let said = reuse.at(&procedure.bound_at((set, *place)));
            let decision = decisions.sets.get(&(set, *place));
            said.is_some_and(|said| said.value == Reuse::Unknown)
                && decision.is_some_and(|decision| decision.verdict == Verdict::Open)
        };
        let why = match self.hangs_on(reuse, set, places) {
            Some(hangs) => format!(": {hangs}"),
            None if places.iter().any(unknown) => String::new(),
            None => return None,
        };
        let text = format!("word whether {name} may be used again{why}");
        Some(Hold { cause: HoldCause::Reuse(set), text })
    }

    /// What the lengths of the sets hang on, before they are started.
    fn length_holds(&self, holds: &mut Vec<Hold>) {
        let procedure = self.known.procedure;
        for (set, places) in fastened(procedure, &self.act.things) {
            let one = procedure.set(set);
            let name = words::the_many(&one.naming.title, procedure.set_pieces(set, &places[..1]));
            holds.extend(self.presence_hold(set, &places, &name));
            holds.extend(self.set_holds(set, &places));
            holds.extend(self.hangs_on(&one.count, set, &places).map(|hangs| Hold {
                cause: HoldCause::Count(set),
                text: format!(
                    "how many {} there are: {hangs}",
                    words::plural(&words::inner(&one.naming.title))
                ),
            }));
            holds.extend(self.hangs_on(&one.lengths, set, &places).map(|hangs| Hold {
                cause: HoldCause::Length(set),
                text: format!("the length of {name}: {hangs}"),
            }));
        }
    }

    /// What the fasteners themselves wait for before they go in: new ones that have not come, a condition that nobody has
    /// settled.
    fn set_holds(&self, set: SetId, places: &[Place]) -> Vec<Hold> {
        let Known { procedure, decisions, options, .. } = *self.known;
        let waits = |place: &Place| {
            let waits = decisions.before_starting(set, *place, options.recorded);
            waits.into_iter().map(|wait| (*place, wait)).collect::<Vec<(Place, &Wait)>>()
        };
        let hold = |(place, wait): (Place, &Wait)| Hold {
            cause: HoldCause::Fastener(set),
            text: wait.words_of_set(procedure, set, place),
        };
        places.iter().flat_map(waits).map(hold).collect()
    }

    /// The questions that a value of a set hangs on; none if it hangs on nothing but what earlier acts of the step tell.
    fn hangs_on<T>(&self, cases: &Cases<T>, set: SetId, places: &[Place]) -> Option<String> {
        let procedure = self.known.procedure;
        let before = (self.member, self.act.number);
        let later = |term: &GuardTerm, bound: &Binding| {
            let mut asked = places_asked(procedure, &term.question, bound).into_iter();
            asked.any(|asked| !answered_within(self.known, self.node, before, asked))
        };
        let bounds: Vec<Binding> = places.iter().map(|place| procedure.bound_at((set, *place))).collect();
        let choosing = bounds.iter().flat_map(|bound| cases.chosen_by(bound).map(move |when| (bound, when)));
        let open: Vec<&Guard> = choosing
            .filter(|(bound, when)| when.0.iter().any(|term| later(term, bound)))
            .map(|(_, when)| when)
            .collect();
        (!open.is_empty()).then(|| hangs_on(procedure, open))
    }
}

/// What the shop's own table lacks where it has no value for a set.
pub(crate) fn no_value(set: &FastenerSet) -> String {
    let said = |text: Option<&str>, missing: &str| text.unwrap_or(missing).to_owned();
    let thread = said(set.thread.as_ref().map(|thread| thread.written.as_str()), "a thread not stated");
    let class = said(set.class.as_ref().map(|class| class.written.as_str()), "of no stated class");
    format!("the shop's table has no value for {thread} {class}")
}

/// What the parts that are fitted or sent wait for, places that wait for the same told once. While the step that sends them
/// hangs on questions itself, those say it all.
fn part_holds(known: &Known, act: &PlannedAct, settled: bool, holds: &mut Vec<Hold>) {
    let sends = matches!(act.act.deed, Deed::Part { work: PartWork::Send, .. });
    for placed in &act.things {
        let PlacedKind::Part(id) = placed.kind else { continue };
        for place in &placed.places {
            let Some(decision) = known.decisions.fates.get(&(id, *place)) else { continue };
            // What doesn't leave before something has come stays here, whether or not the record follows goods: the machine-shop
            // order says so too.
            let waits: Vec<&Wait> = if sends {
                let open = |wait: &&Wait| settled || !matches!(wait, Wait::Question(_));
                decision.before_sending().filter(open).collect()
            } else {
                decision.before_fitting(known.options.recorded).collect()
            };
            if waits.is_empty() && decision.verdict == Verdict::Open && settled {
                let name = words::the(&known.procedure.part(id).naming.title);
                let text = format!("a decision: what becomes of {name}");
                holds.push(Hold { cause: HoldCause::Fate(id), text });
            }
            holds.extend(waits.into_iter().map(|wait| {
                let text = wait.words_of_part(known.procedure, id, *place);
                Hold { cause: HoldCause::Fate(id), text }
            }));
        }
    }
}

/// The sets that an act on these things fastens, each at its places.
pub(crate) fn fastened(procedure: &Procedure, things: &[Placed]) -> Vec<(SetId, Vec<Place>)> {
    let mut found = Vec::new();
    for thing in things {
        match thing.kind {
            PlacedKind::Joint(id) => {
                let members = procedure.joint(id).members.iter();
                let here = members.map(|member| {
                    (member.set.id, in_joint(procedure, procedure.joint(id), member, &thing.places))
                });
                found.extend(here.filter(|(_, places)| !places.is_empty()));
            }
            PlacedKind::Set(id) => found.push((id, thing.places.clone())),
            _ => {}
        }
    }
    found
}
