//! What a step asks for on account of the things that it handles, so that it can be without what only things bring that an
//! engine hasn't got.

use super::handling::{drives, reaches, torques};
use super::locks::sets_of;
use super::model::*;
use crate::source::Span;

/// A thing that a step handles.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Handled {
    Part(PartId),
    Set(SetId),
}

/// Things that an engine hasn't got anywhere.
pub(crate) struct Missing<'a> {
    /// Whether it is without a part.
    pub part: &'a dyn Fn(PartId) -> bool,
    /// Whether it is without a set.
    pub set: &'a dyn Fn(SetId) -> bool,
}

impl Missing<'_> {
    fn lacks(&self, thing: Handled) -> bool {
        match thing {
            Handled::Part(id) => (self.part)(id),
            Handled::Set(id) => (self.set)(id),
        }
    }
}

/// The tools of a step that only things ask for which are missing where it is done.
pub(crate) fn idle_tools(procedure: &Procedure, missing: &Missing, step: &Step) -> Vec<ToolId> {
    let acts = step.lines.iter().flat_map(|line| handled(procedure, step.phase, line));
    let acts: Vec<(Handled, bool, bool)> = acts.collect();
    let users = |tool: ToolId| {
        let uses = move |(thing, off, tightened): &&(Handled, bool, bool)| {
            uses_tool(procedure, tool, *thing, *off, *tightened)
        };
        acts.iter().filter(uses)
    };
    let idle = |tool: &ToolId| {
        users(*tool).next().is_some() && users(*tool).all(|(thing, ..)| missing.lacks(*thing))
    };
    step.listed().map(|(tool, _)| tool).filter(idle).collect()
}

/// The hazards of a step that only things bring to it which are missing where it is done, not the step itself, a tool that is
/// still used, a supply or a state.
pub(crate) fn idle_hazards(procedure: &Procedure, missing: &Missing, step: &Step) -> Vec<HazardId> {
    let acts: Vec<(Handled, bool, bool)> =
        step.lines.iter().flat_map(|line| handled(procedure, step.phase, line)).collect();
    let idle_tools = idle_tools(procedure, missing, step);
    let used = step.listed().map(|(tool, _)| tool).filter(|tool| !idle_tools.contains(tool));
    let mut of_step: Vec<HazardId> =
        used.flat_map(|tool| &procedure.tool(tool).hazards).map(|(hazard, _)| *hazard).collect();
    let supplies = step.supplies.iter().flat_map(|supply| &procedure.supply(supply.what.0).hazards);
    of_step.extend(supplies.map(|(hazard, _)| *hazard));
    of_step.extend(procedure.states.iter().flat_map(|state| &state.hazards).map(|(hazard, ..)| *hazard));
    let facts = |(thing, ..): &(Handled, bool, bool)| hazards(procedure, *thing, None);
    let brought = |span: Span| acts.iter().flat_map(facts).any(|(_, at)| at == span);
    let lines = || {
        step.lines.iter().filter_map(|line| match line {
            StepLine::Hazard(hazard, span) => Some((hazard.what, *span)),
            _ => None,
        })
    };
    let idle = |id: HazardId| {
        let bring = |(thing, off, _): &&(Handled, bool, bool)| {
            hazards(procedure, *thing, Some(*off)).iter().any(|(hazard, _)| *hazard == id)
        };
        let mut by = acts.iter().filter(bring).peekable();
        by.peek().is_some()
            && by.all(|(thing, ..)| missing.lacks(*thing))
            && !of_step.contains(&id)
            && lines().filter(|(hazard, _)| *hazard == id).all(|(_, span)| brought(span))
    };
    let mut found: Vec<HazardId> = lines().map(|(id, _)| id).filter(|id| idle(*id)).collect();
    found.sort_unstable();
    found.dedup();
    found
}

/// Takes from a step the tools, supplies and hazards that only things bring to it that an engine hasn't got. Its acts stay as
/// they are: what they are done to is another matter.
pub(crate) fn leave_out(procedure: &Procedure, missing: &Missing, step: &mut Step) {
    let acts: Vec<Vec<(Handled, bool, bool)>> =
        step.lines.iter().map(|line| handled(procedure, step.phase, line)).collect();
    let all = || acts.iter().flatten().copied();
    if !all().any(|(thing, ..)| missing.lacks(thing)) {
        return;
    }
    let only_missing = |uses: &dyn Fn(Handled, bool, bool) -> bool| {
        let users = || all().filter(|(thing, off, tightened)| uses(*thing, *off, *tightened));
        users().next().is_some() && users().all(|(thing, ..)| missing.lacks(thing))
    };
    step.tools.retain(|tool| {
        let of = |thing, off, tightened| uses_tool(procedure, tool.what.0, thing, off, tightened);
        !only_missing(&of)
    });
    step.supplies.retain(|supply| {
        let (id, amount, span) = &supply.what;
        let brings = |thing, off: bool, _| !off && supplies(procedure, thing).contains(&(*id, *span));
        let same =
            |thing, off: bool, _| !off && supplies(procedure, thing).iter().any(|(other, _)| other == id);
        amount.is_some() || !only_missing(&brings) || !only_missing(&same)
    });
    let tools: Vec<ToolId> = step.listed().map(|(tool, _)| tool).collect();
    let of_tools = tools.iter().flat_map(|tool| &procedure.tool(*tool).hazards).map(|(hazard, _)| *hazard);
    let of_supplies = step.supplies.iter().flat_map(|supply| &procedure.supply(supply.what.0).hazards);
    let of_step: Vec<HazardId> = of_tools.chain(of_supplies.map(|(hazard, _)| *hazard)).collect();
    let brought = |span: Span| {
        let facts = |(thing, ..): (Handled, bool, bool)| hazards(procedure, thing, None);
        all().flat_map(facts).any(|(_, at)| at == span)
    };
    let mut waiting: Vec<(Local<HazardId>, Span)> = Vec::new();
    let mut lines = Vec::new();
    for (line, things) in std::mem::take(&mut step.lines).into_iter().zip(&acts) {
        match line {
            // What the step itself says stays.
            StepLine::Hazard(hazard, span) if brought(span) => waiting.push((hazard, span)),
            StepLine::Act(act) => {
                let here = things.iter().filter(|(thing, ..)| !missing.lacks(*thing));
                let mut met: Vec<HazardId> = of_step.clone();
                met.extend(
                    here.flat_map(|(thing, off, _)| hazards(procedure, *thing, Some(*off))).map(|(id, _)| id),
                );
                waiting.retain(|(hazard, span)| {
                    let now = met.contains(&hazard.what);
                    if now {
                        lines.push(StepLine::Hazard(hazard.clone(), *span));
                    }
                    !now
                });
                lines.push(StepLine::Act(act));
            }
            line => lines.push(line),
        }
    }
    step.lines = lines.into();
}

/// What a line is done to: whether on the way off, and whether it is tightened.
fn handled(procedure: &Procedure, phase: Phase, line: &StepLine) -> Vec<(Handled, bool, bool)> {
    let StepLine::Act(act) = line else { return Vec::new() };
    let stripping = matches!(phase, Phase::Strip | Phase::Survey);
    match &act.deed {
        Deed::Part { work, what } => {
            let off = match work {
                PartWork::Take => true,
                PartWork::Fit | PartWork::PutBack | PartWork::Press => false,
                PartWork::Support => stripping,
                PartWork::Send | PartWork::Receive | PartWork::Accept => return Vec::new(),
            };
            what.iter().map(|target| (Handled::Part(target.id), off, false)).collect()
        }
        Deed::Fasten { work, what, .. } => {
            let off = matches!(work, FasteningWork::Slacken | FasteningWork::Undo);
            let tightened = matches!(work, FasteningWork::Tighten | FasteningWork::Retighten);
            let sets = what.iter().flat_map(|fastening| sets_of(procedure, fastening));
            sets.map(|target| (Handled::Set(target.id), off, tightened)).collect()
        }
        Deed::Lift { what, .. } => vec![(Handled::Part(what.id), stripping, false)],
        _ => Vec::new(),
    }
}

fn handling(procedure: &Procedure, thing: Handled) -> &Handling {
    match thing {
        Handled::Part(id) => &procedure.part(id).handling,
        Handled::Set(id) => &procedure.set(id).handling,
    }
}

fn uses_tool(procedure: &Procedure, tool: ToolId, thing: Handled, off: bool, tightened: bool) -> bool {
    let said = handling(procedure, thing).each_tool().any(|(to, id, _)| id == tool && to.counts(off));
    let entry = procedure.tool(tool);
    said || match thing {
        Handled::Part(_) => false,
        Handled::Set(id) => {
            let driven = match procedure.set(id).drive {
                Some(Drive::AcrossFlats(size)) => drives(entry, size),
                _ => false,
            };
            let torques = torques(procedure, id);
            let wrench = entry.kind == ToolKind::TorqueWrench && !torques.is_empty();
            driven || (tightened && wrench && torques.iter().all(|torque| reaches(entry, *torque)))
        }
    }
}

/// Hazards of a thing and of the tools that it asks for, on the way off or on, or on either.
fn hazards(procedure: &Procedure, thing: Handled, off: Option<bool>) -> Vec<(HazardId, Span)> {
    let handling = handling(procedure, thing);
    let counts = |to: &Direction| off.is_none_or(|off| to.counts(off));
    let own = handling.each_hazard().filter(|(to, ..)| counts(to)).map(|(_, id, span)| (id, span));
    let tools = handling.each_tool().filter(|(to, ..)| counts(to));
    let of_tools =
        tools.flat_map(|(_, tool, span)| procedure.tool(tool).hazards.iter().map(move |(id, _)| (*id, span)));
    own.chain(of_tools).collect()
}

/// What is used up when a thing goes on, each with where it is said.
fn supplies(procedure: &Procedure, thing: Handled) -> Vec<(SupplyId, Span)> {
    match thing {
        Handled::Part(id) => {
            procedure.part(id).handling.coats.iter().map(|coat| (coat.with, coat.span)).collect()
        }
        Handled::Set(id) => {
            let set = procedure.set(id);
            let oil = set.oil.iter().filter_map(|oil| Some((oil.with?, oil.span)));
            let locks = set.locked_by.iter().filter_map(|lock| match lock.piece {
                Some(LockPiece::Supply(supply)) => Some((supply, lock.span)),
                _ => None,
            });
            oil.chain(set.apply.iter().map(|applied| applied.what)).chain(locks).collect()
        }
    }
}
