//! The way back: derived build steps from what is off, out or slack when the survey ends.
//!
//! One `fit:` step per part and one `tighten:` step per joint (or set), with their places grouped as they came
//! off; what was only put back or nipped is opened first. A derived step is written like one of the author's. It mirrors
//! setups, time, state needs and, where a mass is stated, hands of the strip step, unless that is `strip only`. Tools, hazards,
//! coats and words are those that the things themselves state for the way on.

mod due;
mod follow;
mod places;
mod tighten;

use std::collections::{BTreeMap, BTreeSet};

use super::answers::Case;
use super::expand::Nodes;
use super::facts::Facts;
use super::types::*;
use super::values::{StateValue, ThingKind, Tightness, Value};
use super::walk::{Held, Walk};
use crate::english::{spaced, work_on};
use crate::procedure::model::*;
use crate::procedure::{Written, bring_drivers, equip};
use crate::source::Span;
use places::{distinguish, group, shared, targets, together};

/// Where in the strip or survey something was done: node, member, act, and its place in the order of work.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
struct Origin {
    place: usize,
    node: NodeId,
    member: u32,
    act: u32,
}

/// What has to be done at one place, and what it mirrors.
struct Due<T> {
    what: T,
    case: Case,
    origin: Origin,
    /// It was only put back or nipped, so that it must be opened first.
    reopen: bool,
}

pub(super) struct Builder<'b, 'p> {
    pub facts: &'b mut Facts<'p>,
    pub nodes: &'b Nodes,
    pub walk: &'b Walk,
    /// Nodes of strip and survey with their place in the order of work.
    pub done: &'b BTreeMap<NodeId, usize>,
    pub written: Written,
}

impl Builder<'_, '_> {
    /// All derived steps.
    pub(super) fn derive(mut self) -> Vec<DerivedStep> {
        let own = self.author_does();
        let mut parts = self.parts_due(&own);
        let sets = self.sets_due(&own);
        // A pin goes in with the tightening of what it keeps.
        let pins = pins(self.facts.procedure, &sets);
        parts.retain(|due| !pins.contains(&due.what));
        let due: BTreeSet<SetId> = sets.iter().map(|due| due.what.0).collect();
        let lifted = |part: &&Due<(PartId, Place)>| self.facts.procedure.part(part.what.0).lift_at.is_some();
        let holders = parts.iter().filter(lifted).filter_map(|part| {
            let holders = self.facts.structure.holders(part.what).iter();
            Some((part.what.0, holders.map(|hold| hold.set.0).find(|set| due.contains(set))?))
        });
        self.written.refit = holders.collect();
        let mut steps = Vec::new();
        for group in group(parts, |due: &Due<(PartId, Place)>| due.what.0) {
            self.fit_steps(&group, &mut steps);
        }
        self.tighten_steps(sets, &own, &mut steps);
        self.state_steps(&mut steps);
        let mut steps = sorted(steps);
        distinguish(self.facts.procedure, &mut steps);
        steps
    }

    fn origin(&self, held: &Held) -> Option<Origin> {
        let (node, event) = held.by?;
        let event = &self.nodes.nodes[node.index()].events[event];
        let place = *self.done.get(&node)?;
        Some(Origin { place, node, member: event.member, act: event.act.map_or(0, ActNumber::number) })
    }

    fn deed(&self, origin: Origin) -> Option<&Deed> {
        let step = self.step_at(origin)?;
        step.acts().nth(origin.act as usize).map(|act| &act.deed)
    }

    fn step_at(&self, origin: Origin) -> Option<&Step> {
        let member = &self.nodes.nodes[origin.node.index()].members[origin.member as usize];
        match member.step {
            StepSource::Written(id) => Some(self.facts.procedure.step(id)),
            StepSource::Derived(_) => None,
        }
    }

    fn fit_steps(&mut self, due: &[Due<(PartId, Place)>], steps: &mut Vec<DerivedStep>) {
        let procedure = self.facts.procedure;
        let part = procedure.part(due[0].what.0);
        for group in together(due, false) {
            let chosen: Vec<Place> = group.iter().map(|due| due.what.1).collect();
            let targets = targets(procedure, due[0].what.0, &part.axes, &chosen, part.naming.span);
            let at = shared(procedure, &part.axes, &chosen);
            let several = part.count.at_a_place().several() || chosen.len() > 1;
            let origin = group[0].origin;
            let case = &group[0].case;
            if group[0].reopen {
                let mut acts = Vec::new();
                let holders: BTreeSet<(SetId, Place)> = chosen
                    .iter()
                    .flat_map(|place| self.facts.structure.holders((due[0].what.0, *place)))
                    .map(|hold| hold.set)
                    .collect();
                let open: Vec<Fastening> = holders
                    .into_iter()
                    .filter(|set| self.is_slack(*set))
                    .flat_map(|(set, place)| {
                        let axes = &procedure.set(set).axes;
                        self::targets(procedure, set, axes, &[place], part.naming.span)
                    })
                    .map(Fastening::Set)
                    .collect();
                if !open.is_empty() {
                    acts.push(Deed::Fasten {
                        work: FasteningWork::Undo,
                        what: open.into(),
                        to: None,
                        bit_by_bit: false,
                    });
                }
                acts.push(Deed::Part { work: PartWork::Take, what: targets.clone().into() });
                let title = work_on("Take", &part.naming.title, several) + " off again";
                let key = key(DerivedWork::Open(due[0].what.0), at.clone());
                steps.push(self.step(key, title, acts, origin, case, 0));
            }
            let acts = vec![Deed::Part { work: PartWork::Fit, what: targets.into() }];
            let title = work_on("Fit", &part.naming.title, several);
            steps.push(self.step(key(DerivedWork::Fit(due[0].what.0), at), title, acts, origin, case, 1));
        }
    }

    fn is_slack(&mut self, set: (SetId, Place)) -> bool {
        let things = self.facts.set_things(set.0, set.1);
        things.into_iter().any(|(_, holes)| {
            let thing = self.facts.thing(holes.kind());
            self.walk.of(&self.facts.things, thing).iter().any(|held| held.value != Value::of(Tightness::Out))
        })
    }

    fn step(
        &self,
        key: DerivedKey,
        title: String,
        deeds: Vec<Deed>,
        origin: Origin,
        case: &Case,
        stage: u64,
    ) -> DerivedStep {
        let mirrored = self.step_at(origin);
        let node = &self.nodes.nodes[origin.node.index()];
        let span =
            mirrored.and_then(|step| step.acts().nth(origin.act as usize)).map_or(node.span, |act| act.span);
        let act = |deed: Deed| StepLine::Act(Act::of(deed, Scope::default(), span));
        let mirrors = mirrored.filter(|step| !step.strip_only);
        let state_needs = mirrors
            .iter()
            .flat_map(|step| {
                let here = step.needs.iter().filter_map(|need| need.here(self.binding(origin)));
                here.filter(|need| matches!(need, Condition::State(..))).cloned().map(Local::everywhere)
            })
            .collect();
        // As many people as took it off, where its mass is worth saying.
        let weighty = deeds.iter().any(|deed| match deed {
            Deed::Part { what, .. } => {
                what.iter().any(|target| self.facts.procedure.part(target.id).mass.is_some())
            }
            _ => false,
        });
        let mut step = Step {
            section: mirrored.and_then(|step| step.section),
            setups: mirrors.map_or_else(Seldom::new, |step| self.stances(step, origin)),
            hands: mirrors.filter(|_| weighty).map_or(1, |step| step.hands),
            time: mirrors.and_then(|step| step.refit_time),
            needs: state_needs,
            lines: deeds.into_iter().map(act).collect(),
            ..Step::blank(Naming { id: String::new(), title, span }, Phase::Build, span)
        };
        let undone_with: Vec<(ToolId, Span)> = mirrored.into_iter().flat_map(Step::listed).collect();
        bring_drivers(self.facts.procedure, &undone_with, &mut step);
        equip(self.facts.procedure, &self.written, &mut step);
        let rank = reverse_rank(origin.place, origin.act) + stage;
        DerivedStep { key, step, case: case.clone(), mirrors: Some(origin.node), rank }
    }

    /// How the bench stood where a step was worked.
    fn stances(&self, step: &Step, origin: Origin) -> Seldom<Stance> {
        let stances = step.setups_at(self.binding(origin));
        stances.map(|stance| Stance { at: Places::default(), ..stance.clone() }).collect()
    }

    /// Where the axes of a mirrored step stood.
    fn binding(&self, origin: Origin) -> &Binding {
        &self.nodes.nodes[origin.node.index()].members[origin.member as usize].binding
    }

    /// A state that a mirrored step needs, that does not hold when the build starts and that no build step sets.
    fn state_steps(&mut self, steps: &mut Vec<DerivedStep>) {
        let procedure = self.facts.procedure;
        let mut wanted: BTreeMap<(StateId, usize), u64> = BTreeMap::new();
        for derived in steps.iter() {
            for need in &derived.step.needs {
                let Condition::State(state, value, _) = &need.what else { continue };
                let earliest = wanted.entry((*state, *value)).or_insert(derived.rank);
                *earliest = derived.rank.min(*earliest);
            }
        }
        for ((state, value), rank) in wanted {
            let thing = self.facts.thing(ThingKind::State(state));
            let holds = self
                .walk
                .of(&self.facts.things, thing)
                .iter()
                .all(|held| held.value == Value::of(StateValue(value)));
            let set_by_author = procedure
                .steps
                .iter()
                .filter(|step| step.phase == Phase::Build)
                .flat_map(Step::acts)
                .any(|act| matches!(act.deed, Deed::Set(s, v) if (s, v) == (state, value)));
            if holds || set_by_author {
                continue;
            }
            let declared = procedure.state(state);
            let title = format!("Set: {} {}", declared.naming.title, spaced(&declared.values[value]));
            let span = declared.naming.span;
            let line = StepLine::Act(Act::of(Deed::Set(state, value), Scope::default(), span));
            let naming = Naming { id: String::new(), title, span };
            let step = Step { lines: vec![line].into(), ..Step::blank(naming, Phase::Build, span) };
            steps.push(DerivedStep {
                key: key(DerivedWork::Set(state), Vec::new()),
                step,
                case: Case::always(),
                mirrors: None,
                rank: rank.saturating_sub(1),
            });
        }
    }
}

/// By rank, then by key. Steps are large: each is moved once, to its place.
fn sorted(steps: Vec<DerivedStep>) -> Vec<DerivedStep> {
    let mut order: Vec<usize> = (0..steps.len()).collect();
    order.sort_by(|a, b| {
        let (a, b) = (&steps[*a], &steps[*b]);
        (a.rank, &a.key).cmp(&(b.rank, &b.key))
    });
    let mut steps: Vec<Option<DerivedStep>> = steps.into_iter().map(Some).collect();
    let mut placed = Vec::with_capacity(steps.len());
    placed.extend(order.into_iter().filter_map(|at| steps[at].take()));
    placed
}

/// The pins that keep these sets from coming loose.
fn pins(procedure: &Procedure, sets: &[Due<(SetId, Place)>]) -> BTreeSet<(PartId, Place)> {
    let of_set = |due: &Due<(SetId, Place)>| {
        let bound = procedure.bound_at(due.what);
        let locks = procedure.set(due.what.0).locked_by.iter();
        let pins = locks.filter_map(|lock| match &lock.piece {
            Some(LockPiece::Part(pin)) if lock.how == Locking::SplitPin && lock.at.hold(&bound) => Some(pin),
            _ => None,
        });
        pins.flat_map(|pin| procedure.meant(pin, &bound)).collect::<Vec<_>>()
    };
    sets.iter().flat_map(of_set).collect()
}

/// The key of a derived step before it is known whether another is like it.
fn key(work: DerivedWork, at: Vec<Vec<String>>) -> DerivedKey {
    DerivedKey { work, at, number: 1 }
}

/// Where in the build that comes back which came loose at this place of the strip with this act: later in the strip is
/// earlier in the build, and within one step the last act comes back first. Four ranks belong to each, for what is
/// opened, fitted, tightened, and measured after that.
pub(super) fn reverse_rank(place: usize, act: u32) -> u64 {
    ((u64::MAX >> 8) - ((place as u64) << 16) - u64::from(act)) * 4
}
