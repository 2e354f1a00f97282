//! How things are handled, brought to the steps: what is said once of a part, a set, a tool, a supply or a setup stands in every
//! step that does it, written or derived: tools in its list, hazards and coats before their act. It must not know in
//! which order steps come.

use super::lifts::bring_lifts;
use super::locks::{Written, bring_locks, in_trial, sets_of};
use super::model::*;
use super::resolver::{BATCH, Resolver};
use crate::language::tree;
use crate::quantity::Quantity;
use crate::source::Span;

impl Resolver {
    /// One clause of a part or a set.
    pub(super) fn handling(&mut self, own: Name, handling: &mut Handling, clause: &tree::Handling) {
        match clause {
            tree::Handling::With(direction, tools, scope) => {
                let Some(at) = self.places(own, &scope.at) else { return };
                for tool in tools {
                    let found = self.target(tool).map(|Target { id, span, .. }| (*direction, id, span));
                    handling.tools.extend(found.map(|what| Local { what, at: at.clone() }));
                }
            }
            tree::Handling::Hazard(direction, hazard, scope) => {
                let found = self.target(hazard).map(|Target { id, span, .. }| (*direction, id, span));
                let at = self.places(own, &scope.at);
                handling.hazards.extend(found.zip(at).map(|(what, at)| Local { what, at }));
            }
            tree::Handling::ComesOff(text, scope) => {
                self.instruction(text);
                let at = self.places(own, &scope.at);
                handling.comes_off.extend(at.map(|at| Local { what: text.value.clone(), at }));
            }
            tree::Handling::GoesOn(text, scope) => {
                self.instruction(text);
                let at = self.places(own, &scope.at);
                handling.goes_on.extend(at.map(|at| Local { what: text.value.clone(), at }));
            }
        }
    }

    /// Complains of words that no position is left for, because others before them say it.
    pub(super) fn idle_words(&mut self, own: Name, said: &[(Span, &tree::Handling)], handling: &Handling) {
        let spans = |off: bool| {
            let of_way = said.iter().filter(move |(_, clause)| match clause {
                tree::Handling::ComesOff(..) => off,
                tree::Handling::GoesOn(..) => !off,
                _ => false,
            });
            of_way.map(|(span, _)| *span).collect::<Vec<Span>>()
        };
        for (spans, words) in [(spans(true), &handling.comes_off), (spans(false), &handling.goes_on)] {
            // What can't be read is told already.
            if spans.len() == words.len() {
                let places = words.iter().map(|words| &words.at);
                self.idle_cases(own, &spans.into_iter().zip(places).collect::<Vec<_>>());
            }
        }
    }

    /// Brings the facts on things to every written step.
    pub(super) fn equip_steps(&mut self) {
        let written = Written::of(&self.procedure);
        let mut steps = std::mem::take(&mut self.procedure.steps);
        let procedure: &Procedure = &self.procedure;
        steps.change_each(BATCH, |step| {
            bring_drivers(procedure, &[], step);
            equip(procedure, &written, step);
        });
        self.procedure.steps = steps;
    }
}

/// Brings to a step what is said of the things that it handles. What the step says itself is not said twice.
pub(crate) fn equip(procedure: &Procedure, written: &Written, step: &mut Step) {
    bring_locks(procedure, written, step);
    bring_lifts(procedure, &written.refit, step);
    let lines = std::mem::take(&mut step.lines);
    let shown = lines.iter().filter_map(|line| match line {
        StepLine::Hazard(hazard, _) => {
            Some((hazard.what, Scope { at: hazard.at.clone(), when: Guard::default() }))
        }
        StepLine::Act(_) | StepLine::Hold(..) => None,
    });
    let mut shown: Vec<(HazardId, Scope)> = shown.collect();
    let mut handled: Vec<Handled> =
        lines.iter().map(|line| Handled::by(procedure, step.phase, line)).collect();
    // A trial is put together clean and dry, to be measured: paste and sealant would be measured with it. What a trial of the
    // build takes off is what goes in: what is met only when the old one comes off isn't met there.
    if in_trial(procedure, step) {
        handled.iter_mut().for_each(|handled| handled.coats.clear());
        if step.phase == Phase::Build {
            for handled in &mut handled {
                handled.hazards.retain(|met| !handled.of_the_old.contains(&met.what.0));
            }
        }
    }
    // A tool that a part asks for is met at that part, one that the step lists at its first act.
    let met =
        |tool: &ToolId| handled.iter().flat_map(|handled| &handled.tools).any(|other| other.what.0 == *tool);
    let mut of_the_step: Vec<Local<(HazardId, Span)>> = Vec::new();
    for Local { what: (tool, _), at } in step.tools.iter().filter(|tool| !met(&tool.what.0)) {
        let hazards = procedure.tool(*tool).hazards.iter();
        of_the_step.extend(hazards.map(|hazard| Local { what: *hazard, at: at.clone() }));
    }
    for (line, handled) in lines.iter().zip(&handled) {
        let StepLine::Act(act) = line else { continue };
        for tool in &handled.tools {
            let at = procedure.along(step.repeats(), &act.scope.at.and(&tool.at));
            step.bring_tool(tool.what, &at);
        }
    }
    for (line, handled) in lines.iter().zip(&handled) {
        let StepLine::Act(act) = line else { continue };
        for (_, coat) in &handled.coats {
            let at = procedure.along(step.repeats(), &act.scope.at.and(&coat.at));
            step.bring_supply((coat.with, None, coat.span), &at);
        }
    }
    for Local { what: (supply, ..), at } in &step.supplies {
        let hazards = procedure.supply(*supply).hazards.iter();
        of_the_step.extend(hazards.map(|hazard| Local { what: *hazard, at: at.clone() }));
    }
    coat_on_the_bench(&lines, &mut handled);
    // What is said of a fastener is said once, where it is first turned.
    let mut told: Vec<Vec<Local<String>>> = Vec::new();
    for (line, handled) in lines.into_iter().zip(handled) {
        if let StepLine::Act(act) = &line {
            for Local { what: (hazard, span), at } in of_the_step.drain(..).chain(handled.hazards) {
                let at = procedure.along(step.repeats(), &at);
                let here = Scope { at: act.scope.at.and(&at), when: act.scope.when.clone() };
                // Before an act that is done at some places only it is shown there only.
                let known = |(other, scope): &(HazardId, Scope)| {
                    *other == hazard && (scope.always() || *scope == here)
                };
                if !shown.iter().any(known) {
                    shown.push((hazard, here));
                    step.lines.push(StepLine::Hazard(Local { what: hazard, at }, span));
                }
            }
            for (part, Coat { with, place, at, span }) in handled.coats {
                let deed = Deed::Coat { what: part, with, place: place.map(String::into_boxed_str) };
                let scope = Scope { at: act.scope.at.and(&at), when: act.scope.when.clone() };
                step.lines.push(StepLine::Act(Act::of(deed, scope, span)));
            }
            let words = Some(handled.words).filter(|words| !words.is_empty() && !told.contains(words));
            if matches!(act.deed, Deed::Fasten { .. }) {
                told.extend(words.clone());
            }
            let words = words.filter(|_| act.note.is_none()).unwrap_or_default();
            let (note, told) = match words.as_slice() {
                [one] if one.at.everywhere() => (Some(one.what.clone()), Seldom::new()),
                _ => (act.note.clone(), words.into()),
            };
            step.lines.push(StepLine::Act(Act { note, told, ..act.clone() }));
        } else {
            step.lines.push(line);
        }
    }
    wet_before_the_bead(procedure, &mut step.lines);
    step.lines.shrink_to_fit();
}

/// A bead that has to be closed within its time is laid last: what goes on threads in the same step goes on before it, unless that
/// has a time of its own, or something comes off between.
fn wet_before_the_bead(procedure: &Procedure, lines: &mut Seldom<StepLine>) {
    let open = |supply: SupplyId| procedure.supply(supply).open_time.is_some();
    let is_bead = |line: &StepLine| matches!(line, StepLine::Act(Act { deed: Deed::Coat { with, .. }, .. }) if open(*with));
    let Some(bead) = lines.iter().position(is_bead) else { return };
    let comes_off = |line: &StepLine| match line {
        StepLine::Act(Act { deed: Deed::Part { work: PartWork::Take, .. }, .. }) => true,
        StepLine::Act(Act { deed: Deed::Fasten { work, .. }, .. }) => {
            matches!(work, FasteningWork::Slacken | FasteningWork::Undo)
        }
        _ => false,
    };
    let end = lines[bead..].iter().position(comes_off).map_or(lines.len(), |at| bead + at);
    let first = |line: &StepLine| match line {
        StepLine::Act(Act { deed: Deed::Wet { with, .. }, .. }) => match with {
            Wetting::Oil | Wetting::Locker(None) => true,
            Wetting::Supply(supply) | Wetting::Locker(Some(supply)) => !open(*supply),
        },
        _ => false,
    };
    let (wet, rest): (Vec<StepLine>, Vec<StepLine>) = lines.drain(bead..end).partition(first);
    lines.splice(bead..bead, wet.into_iter().chain(rest));
}

/// What is coated and hangs on the hoist as it goes on is coated before it is rigged.
fn coat_on_the_bench(lines: &[StepLine], handled: &mut [Handled]) {
    let rigs = |line: &StepLine, id: PartId| match line {
        StepLine::Act(Act { deed: Deed::Lift { what, work }, .. }) => {
            what.id == id && matches!(work, LiftWork::Rig | LiftWork::TakeTheWeight)
        }
        _ => false,
    };
    for at in 0..lines.len() {
        let Some(id) = handled[at].coats.first().map(|(part, _)| part.id) else { continue };
        let lifts = lines[..at].iter().rev().take_while(|line| rigs(line, id)).count();
        if lifts > 0 {
            let coats = std::mem::take(&mut handled[at].coats);
            handled[at - lifts].coats.extend(coats);
        }
    }
}

/// Brings to a step the tools that its fasteners are driven and tightened with: of the size of the drive, what undid them
/// (a pipe nut takes no socket; what is tightened to a torque takes no spanner), else a declared socket or spanner; the wrench with the narrowest range that holds
/// every torque. A drive in words has its tool said by the set (`both ways with ...`). A driver that serves, listed by the
/// step or asked for by the set, is taken; so is every wrench that the step lists.
pub(crate) fn bring_drivers(procedure: &Procedure, undone_with: &[(ToolId, Span)], step: &mut Step) {
    let listed: Vec<&Tool> = step.tools.iter().map(|listed| procedure.tool(listed.what.0)).collect();
    let lists_wrench = listed.iter().any(|tool| tool.kind == ToolKind::TorqueWrench);
    let mut tools: Vec<((ToolId, Span), Places)> = Vec::new();
    for act in step.acts() {
        let here = |tool: ToolId, span: Span| ((tool, span), act.scope.at.clone());
        let Deed::Fasten { work, what, to, .. } = &act.deed else { continue };
        for Target { id: set, .. } in what.iter().flat_map(|fastening| sets_of(procedure, fastening)) {
            let entry = procedure.set(set);
            let span = entry.naming.span;
            if *work != FasteningWork::StartByHand
                && let Some(Drive::AcrossFlats(size)) = entry.drive
                && !listed.iter().any(|tool| drives(tool, size))
                && !entry.handling.each_tool().any(|(_, tool, _)| drives(procedure.tool(tool), size))
            {
                let by_torque = *work != FasteningWork::Undo && wants_a_socket(procedure, set);
                tools.extend(driver(procedure, undone_with, size, by_torque).map(|tool| here(tool, span)));
            }
            if matches!(work, FasteningWork::Tighten | FasteningWork::Retighten) && !lists_wrench {
                let stops = to.map_or_else(|| torques(procedure, set), |to| vec![to]);
                tools.extend(wrench(procedure, &stops).map(|tool| here(tool, span)));
            }
        }
    }
    for (tool, at) in tools {
        step.bring_tool(tool, &at);
    }
}

/// Whether fasteners are tightened to a torque that is stated, so that what drives them sits on a wrench: all but the nuts of
/// pipes, which no socket goes over.
pub(super) fn wants_a_socket(procedure: &Procedure, set: SetId) -> bool {
    !procedure.set(set).stays && !torques(procedure, set).is_empty()
}

fn driver(
    procedure: &Procedure,
    undone_with: &[(ToolId, Span)],
    size: Quantity,
    by_torque: bool,
) -> Option<ToolId> {
    let fits = |id: &ToolId| drives(procedure.tool(*id), size);
    let declared =
        |kind: ToolKind| procedure.tools.ids().find(|id| procedure.tool(*id).kind == kind && fits(id));
    undone_with
        .iter()
        .map(|(tool, _)| *tool)
        .find(|tool| fits(tool) && !(by_torque && procedure.tool(*tool).kind == ToolKind::Spanner))
        .or_else(|| declared(ToolKind::Socket))
        .or_else(|| declared(ToolKind::Spanner))
        .or_else(|| declared(ToolKind::Other))
}

/// Whether a tool drives a hexagon of this size.
pub(super) fn drives(tool: &Tool, flats: Quantity) -> bool {
    let turns = matches!(tool.kind, ToolKind::Socket | ToolKind::Spanner | ToolKind::Other);
    turns && tool.size.is_some_and(|size| size.base() == flats.base())
}

/// Whether a wrench can be set to this torque; one that doesn't say its range can.
pub(super) fn reaches(wrench: &Tool, torque: Quantity) -> bool {
    wrench.range.is_none_or(|(low, high)| (low.base()..=high.base()).contains(&torque.base()))
}

/// Every torque that the passes of a set stop at; none where it isn't tightened by passes.
pub(super) fn torques(procedure: &Procedure, set: SetId) -> Vec<Quantity> {
    let passes = procedure.tightening(set).values().filter_map(|stated| match &stated.value {
        Tightening::Passes(passes) => Some(passes),
        _ => None,
    });
    let stops = passes.flatten().map(|pass| match pass {
        Pass::Torque(low, high) => [Some(*low), *high],
        Pass::Angle(..) => [None, None],
    });
    stops.flatten().flatten().collect()
}

fn wrench(procedure: &Procedure, torques: &[Quantity]) -> Option<ToolId> {
    let width = |(low, high): (Quantity, Quantity)| high.base() - low.base();
    let holds = |tool: &Tool| tool.range.is_some() && torques.iter().all(|torque| reaches(tool, *torque));
    procedure
        .tools
        .numbered()
        .filter(|(_, tool)| tool.kind == ToolKind::TorqueWrench && holds(tool) && !torques.is_empty())
        .min_by(|(_, a), (_, b)| {
            a.range.map(width).partial_cmp(&b.range.map(width)).unwrap_or(std::cmp::Ordering::Equal)
        })
        .map(|(id, _)| id)
}

/// What the things of one act ask for.
#[derive(Default)]
struct Handled {
    tools: Vec<Local<(ToolId, Span)>>,
    hazards: Vec<Local<(HazardId, Span)>>,
    /// Those that are met only when something comes off.
    of_the_old: Vec<HazardId>,
    coats: Vec<(Target<PartId>, Coat)>,
    words: Vec<Local<String>>,
}

impl Handled {
    fn by(procedure: &Procedure, phase: Phase, line: &StepLine) -> Handled {
        let mut handled = Handled::default();
        let StepLine::Act(act) = line else { return handled };
        match &act.deed {
            Deed::Part { work, what } => {
                let off = match work {
                    PartWork::Take => true,
                    PartWork::Fit | PartWork::PutBack | PartWork::Press => false,
                    // What carries its weight is done for the act that follows.
                    PartWork::Support => matches!(phase, Phase::Strip | Phase::Survey),
                    // It is carried as it is when it comes off and goes on.
                    PartWork::Send | PartWork::Receive => {
                        for target in what {
                            let meant = |at: &Places| procedure.meets(target, &act.scope.at, at);
                            handled.carried(procedure, &procedure.part(target.id).handling, &meant);
                        }
                        return handled;
                    }
                    PartWork::Accept => return handled,
                };
                for target in what {
                    let part = procedure.part(target.id);
                    let meant = |at: &Places| procedure.meets(target, &act.scope.at, at);
                    let alone = what.iter().all(|other| other.id == target.id) && *work != PartWork::Support;
                    handled.add(procedure, &part.handling, (off, alone), &meant);
                    if *work == PartWork::Fit {
                        let coats = part.handling.coats.iter().filter(|coat| meant(&coat.at)).cloned();
                        handled.coats.extend(coats.map(|coat| (target.clone(), coat)));
                    }
                }
            }
            Deed::Fasten { work, what, .. } => {
                let off = matches!(work, FasteningWork::Slacken | FasteningWork::Undo);
                for fastening in what {
                    let sets = sets_of(procedure, fastening);
                    let alone = sets.len() == 1 && what.iter().all(|other| one_set(other, &sets[0]));
                    for target in sets {
                        let meant = |at: &Places| procedure.meets(&target, &act.scope.at, at);
                        handled.add(procedure, &procedure.set(target.id).handling, (off, alone), &meant);
                    }
                }
            }
            Deed::Lift { what, .. } => {
                let off = matches!(phase, Phase::Strip | Phase::Survey);
                let meant = |at: &Places| procedure.meets(what, &act.scope.at, at);
                handled.add(procedure, &procedure.part(what.id).handling, (off, false), &meant);
            }
            Deed::TurnByHand { .. } => {
                let turned = procedure.parts.iter().find(|part| part.turned_by_hand);
                let words = turned.and_then(|part| part.turning_words.clone());
                handled.words = words.map(Local::everywhere).into_iter().collect();
            }
            _ => {}
        }
        handled
    }

    /// What threatens whoever lifts it, said for both ways.
    fn carried(&mut self, procedure: &Procedure, handling: &Handling, meant: &dyn Fn(&Places) -> bool) {
        let lifts = |hazard: HazardId| procedure.hazard(hazard).kind == HazardKind::Lifting;
        let both = handling.hazards.iter().filter(|hazard| {
            let (to, hazard, _) = hazard.what;
            to.counts(true) && to.counts(false) && lifts(hazard)
        });
        let here = both.filter(|hazard| meant(&hazard.at));
        self.hazards
            .extend(here.map(|hazard| Local { what: (hazard.what.1, hazard.what.2), at: hazard.at.clone() }));
    }

    /// What is said of a thing, on the way off or on, where `meant` says that the act is done.
    fn add(
        &mut self,
        procedure: &Procedure,
        handling: &Handling,
        (off, alone): (bool, bool),
        meant: &dyn Fn(&Places) -> bool,
    ) {
        for Local { what: (to, tool, span), at } in &handling.tools {
            if !to.counts(off) || !meant(at) {
                continue;
            }
            self.tools.push(Local { what: (*tool, *span), at: at.clone() });
            let hazards = procedure.tool(*tool).hazards.iter();
            self.hazards.extend(hazards.map(|(id, _)| Local { what: (*id, *span), at: at.clone() }));
        }
        for Local { what: (to, hazard, span), at } in handling.hazards.iter().filter(|met| meant(&met.at)) {
            if to.counts(true) && !to.counts(false) {
                self.of_the_old.push(*hazard);
            }
            if to.counts(off) {
                self.hazards.push(Local { what: (*hazard, *span), at: at.clone() });
            }
        }
        if alone {
            let words = if off { &handling.comes_off } else { &handling.goes_on };
            // An act of one thing at several places names it more than once.
            let known = std::mem::take(&mut self.words);
            let here = words.iter().filter(|words| meant(&words.at) || known.contains(words));
            self.words = here.cloned().collect();
        }
    }
}

/// Whether a fastening is of that set alone, at whatever places.
fn one_set(fastening: &Fastening, set: &Target<SetId>) -> bool {
    matches!(fastening, Fastening::Set(other) if other.id == set.id)
}
