//! The way back: derived build steps from what is off, out or slack when the survey ends.
//!
//! One `fit:` step per part and one `tighten:` step per joint (or set), with their places grouped as they came
//! off; what was only put back or nipped is opened first. A derived step is written like one of the author's and
//! mirrors setup, hands, tools, hazards and state needs of the strip step, unless that is `strip only`.

use std::collections::{BTreeMap, BTreeSet};

use super::acts::{fastened, places};
use super::answers::Case;
use super::expand::Nodes;
use super::facts::Facts;
use super::types::*;
use super::values::{Held, Values};
use crate::procedure::model::*;
use crate::source::Span;

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
    pub values: &'b Values,
    /// Nodes of strip and survey with their place in the order of work.
    pub done: &'b BTreeMap<NodeId, usize>,
}

impl Builder<'_, '_> {
    /// All derived steps.
    pub fn derive(mut self) -> Vec<DerivedStep> {
        let parts = self.parts_due();
        let sets = self.sets_due();
        let mut steps = Vec::new();
        for group in group(parts, |due: &Due<(PartId, Place)>| due.what.0) {
            self.fit_steps(&group, &mut steps);
        }
        self.tighten_steps(sets, &mut steps);
        self.state_steps(&mut steps);
        steps.sort_by(|a, b| (a.rank, &a.step.naming.id).cmp(&(b.rank, &b.step.naming.id)));
        distinguish(&mut steps);
        steps
    }

    fn origin(&self, held: &Held) -> Option<Origin> {
        let (node, event) = held.by?;
        let event = &self.nodes.nodes[node.index()].events[event];
        let place = *self.done.get(&node)?;
        Some(Origin { place, node, member: event.member, act: event.act.unwrap_or(0) })
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

    fn parts_due(&mut self) -> Vec<Due<(PartId, Place)>> {
        let procedure = self.facts.procedure;
        let own = self.author_does();
        let mut due = Vec::new();
        for (index, part) in (0u32..).zip(&procedure.parts) {
            for place in places(procedure, &part.axes) {
                let what = (PartId(index), place);
                let thing = self.facts.thing(ThingKind::Part(what.0, place));
                for held in self.values.of(&self.facts.things, thing) {
                    let Some(origin) = self.origin(&held) else { continue };
                    let reopen =
                        matches!(self.deed(origin), Some(Deed::Part { work: PartWork::PutBack, .. }));
                    if held.value != OFF && !reopen {
                        continue;
                    }
                    let mut pieces = vec![held.case.clone()];
                    let left_out = self.facts.left_out(what.0, place);
                    let done = own.parts.get(&what).into_iter().flatten().cloned();
                    for gone in left_out.into_iter().chain(done) {
                        pieces = pieces.iter().flat_map(|p| p.without(&gone, |q| self.all(q))).collect();
                    }
                    due.extend(pieces.into_iter().map(|case| Due { what, case, origin, reopen }));
                }
            }
        }
        due
    }

    fn all(&self, question: super::answers::QuestionId) -> super::answers::Answers {
        self.facts.questions[question.0 as usize].all()
    }

    fn sets_due(&mut self) -> Vec<Due<(SetId, Place)>> {
        let procedure = self.facts.procedure;
        let own = self.author_does();
        let mut due = Vec::new();
        for (index, set) in (0u32..).zip(&procedure.sets) {
            for place in places(procedure, &set.axes) {
                let what = (SetId(index), place);
                let things = self.facts.set_things(what.0, place);
                let mut found: Vec<(Case, Origin, bool)> = Vec::new();
                for (_, thing) in things {
                    for held in self.values.of(&self.facts.things, thing) {
                        let Some(origin) = self.origin(&held).filter(|_| held.value != TIGHT) else {
                            continue;
                        };
                        let nipped = held.value == SLACK
                            && matches!(
                                self.deed(origin),
                                Some(Deed::Fasten {
                                    work: FasteningWork::Nip | FasteningWork::StartByHand,
                                    ..
                                })
                            );
                        if !found.iter().any(|(case, _, _)| held.case.implies(case)) {
                            found.push((held.case.clone(), origin, nipped));
                        }
                    }
                }
                let left_out = self.nothing_to_hold(what);
                for (case, origin, reopen) in found {
                    let mut pieces = vec![case];
                    let done = own.sets.get(&what).into_iter().flatten().cloned();
                    for gone in left_out.iter().cloned().chain(done) {
                        pieces = pieces.iter().flat_map(|p| p.without(&gone, |q| self.all(q))).collect();
                    }
                    due.extend(pieces.into_iter().map(|case| Due { what, case, origin, reopen }));
                }
            }
        }
        due
    }

    /// Answers under which every part that a set holds is left out.
    fn nothing_to_hold(&mut self, set: (SetId, Place)) -> Vec<Case> {
        let held: Vec<(PartId, Place)> = self.facts.held(set.0, set.1).map(|hold| hold.part).collect();
        let mut cases: Option<Vec<Case>> = None;
        for (part, place) in held {
            let out = self.facts.left_out(part, place);
            cases = Some(match cases {
                None => out,
                Some(before) => before.iter().flat_map(|a| out.iter().filter_map(|b| a.and(b))).collect(),
            });
        }
        cases.unwrap_or_default()
    }

    /// What the author's own build steps fit and tighten, with the answers under which they do.
    fn author_does(&mut self) -> AuthorDoes {
        let procedure = self.facts.procedure;
        let mut own = AuthorDoes::default();
        for step in &procedure.steps {
            let trial = step.group.is_some_and(|group| procedure.group(group).kind == GroupKind::Trial);
            if step.phase != Phase::Build || trial {
                continue;
            }
            let bindings: Vec<Binding> = if step.apart {
                places(procedure, &step.each)
                    .map(|at| super::acts::binding_of(procedure, &step.each, at))
                    .collect()
            } else {
                vec![Binding::default()]
            };
            for binding in bindings {
                let Some(case) = self.facts.case(&step.when, &binding) else { continue };
                for act in step.acts() {
                    match &act.deed {
                        Deed::Part { work: PartWork::Fit, what } => {
                            for target in what {
                                for place in procedure.matching(
                                    &procedure.part(target.id).axes,
                                    &target.pattern,
                                    &binding,
                                ) {
                                    own.parts.entry((target.id, place)).or_default().push(case.clone());
                                }
                            }
                        }
                        Deed::Fasten { work: FasteningWork::Tighten, what, .. } => {
                            for (set, place, _) in fastened(procedure, FasteningWork::Tighten, what, &binding)
                            {
                                own.sets.entry((set, place)).or_default().push(case.clone());
                            }
                        }
                        _ => {}
                    }
                }
            }
        }
        own
    }

    fn fit_steps(&mut self, due: &[Due<(PartId, Place)>], steps: &mut Vec<DerivedStep>) {
        let procedure = self.facts.procedure;
        let part = procedure.part(due[0].what.0);
        let total = procedure.places(&part.axes);
        for group in group_refs(due) {
            let chosen: Vec<Place> = group.iter().map(|due| due.what.1).collect();
            let targets = targets(procedure, due[0].what.0, &part.axes, &chosen, part.naming.span);
            let suffix = suffix(procedure, &part.axes, &chosen, total);
            let origin = group[0].origin;
            let case = &group[0].case;
            if group[0].reopen {
                let mut acts = Vec::new();
                let holders: BTreeSet<(SetId, Place)> = chosen
                    .iter()
                    .flat_map(|place| self.facts.holders(due[0].what.0, *place))
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
                    acts.push(Deed::Fasten { work: FasteningWork::Undo, what: open, to: None });
                }
                acts.push(Deed::Part { work: PartWork::Take, what: targets.clone() });
                let title = format!("Take off again: {}", part.naming.title);
                steps.push(self.step(
                    format!("open:{}{suffix}", part.naming.id),
                    title,
                    acts,
                    origin,
                    case,
                    0,
                ));
            }
            let acts = vec![Deed::Part { work: PartWork::Fit, what: targets }];
            let title = format!("Fit: {}", part.naming.title);
            steps.push(self.step(format!("fit:{}{suffix}", part.naming.id), title, acts, origin, case, 1));
        }
    }

    fn is_slack(&mut self, set: (SetId, Place)) -> bool {
        let things = self.facts.set_things(set.0, set.1);
        things
            .iter()
            .any(|(_, thing)| self.values.of(&self.facts.things, *thing).iter().any(|held| held.value != OUT))
    }

    fn tighten_steps(&mut self, due: Vec<Due<(SetId, Place)>>, steps: &mut Vec<DerivedStep>) {
        let procedure = self.facts.procedure;
        let mut of_set: BTreeMap<(SetId, Place), Vec<usize>> = BTreeMap::new();
        for (at, entry) in due.iter().enumerate() {
            of_set.entry(entry.what).or_default().push(at);
        }
        // A joint whose sets all came loose in one step, under the same answers, is tightened as one.
        let mut taken: BTreeSet<usize> = BTreeSet::new();
        for (index, joint) in (0u32..).zip(&procedure.joints) {
            let mut whole: Vec<(Place, Vec<usize>)> = Vec::new();
            for place in places(procedure, &joint.axes) {
                let binding = super::facts::joint_binding(procedure, joint, place);
                let mut all = Vec::new();
                for member in &joint.members {
                    let axes = &procedure.set(member.set.id).axes;
                    for at in procedure.matching(axes, &member.set.pattern, &binding) {
                        all.push(of_set.get(&(member.set.id, at)).map(|list| list[0]));
                    }
                }
                let Some(all) = all.into_iter().collect::<Option<Vec<usize>>>() else { continue };
                let first = all.first().map(|first| (&due[*first].origin, &due[*first].case));
                let alike = all.iter().all(|at| {
                    Some((due[*at].origin.node, &due[*at].case))
                        == first.map(|(origin, case)| (origin.node, case))
                        && of_set[&due[*at].what].len() == 1
                        && !taken.contains(at)
                });
                if alike && !all.is_empty() {
                    whole.push((place, all));
                }
            }
            let mut by_node: BTreeMap<(NodeId, u32, Case), Vec<WholeJoint>> = BTreeMap::new();
            for (place, all) in whole {
                let first = &due[all[0]];
                by_node
                    .entry((first.origin.node, first.origin.member, first.case.clone()))
                    .or_default()
                    .push((place, all));
            }
            for ((_, _, case), group) in by_node {
                let chosen: Vec<Place> = group.iter().map(|(place, _)| *place).collect();
                let members: Vec<usize> = group.iter().flat_map(|(_, all)| all.iter().copied()).collect();
                taken.extend(members.iter().copied());
                let origin =
                    members.iter().map(|at| due[*at].origin).min().expect("a joint in the list has sets");
                let joint_targets =
                    targets(procedure, JointId(index), &joint.axes, &chosen, joint.naming.span);
                let what: Vec<Fastening> = joint_targets.into_iter().map(Fastening::Joint).collect();
                let loose: Vec<Fastening> = self.out_sets(&due, &members, joint.naming.span);
                let suffix = suffix(procedure, &joint.axes, &chosen, procedure.places(&joint.axes));
                let title = format!("Tighten: {}", joint.naming.title);
                let id = format!("tighten:{}{suffix}", joint.naming.id);
                let step = self.step(id, title, tightening(loose, what), origin, &case, 2);
                steps.push(step);
            }
        }
        let rest: Vec<Due<(SetId, Place)>> =
            due.into_iter().enumerate().filter(|(at, _)| !taken.contains(at)).map(|(_, due)| due).collect();
        for group in group(rest, |due: &Due<(SetId, Place)>| due.what.0) {
            let set = procedure.set(group[0].what.0);
            let total = procedure.places(&set.axes);
            for some in group_refs(&group) {
                let chosen: Vec<Place> = some.iter().map(|due| due.what.1).collect();
                let what: Vec<Fastening> =
                    targets(procedure, group[0].what.0, &set.axes, &chosen, set.naming.span)
                        .into_iter()
                        .map(Fastening::Set)
                        .collect();
                let all: Vec<usize> = group
                    .iter()
                    .enumerate()
                    .filter(|(_, due)| chosen.contains(&due.what.1))
                    .map(|(at, _)| at)
                    .collect();
                let loose = self.out_sets(&group, &all, set.naming.span);
                let suffix = suffix(procedure, &set.axes, &chosen, total);
                let title = format!("Tighten: {}", set.naming.title);
                let id = format!("tighten:{}{suffix}", set.naming.id);
                let step = self.step(id, title, tightening(loose, what), some[0].origin, &some[0].case, 2);
                steps.push(step);
            }
        }
    }

    /// Sets of the list that are out when the build starts, or opened again by it, and so are started by hand.
    fn out_sets(&mut self, due: &[Due<(SetId, Place)>], members: &[usize], span: Span) -> Vec<Fastening> {
        let procedure = self.facts.procedure;
        let mut out: BTreeMap<SetId, Vec<Place>> = BTreeMap::new();
        for at in members {
            let (set, place) = due[*at].what;
            let things = self.facts.set_things(set, place);
            let is_out = things
                .iter()
                .all(|(_, thing)| self.values.of(&self.facts.things, *thing).iter().all(|h| h.value == OUT));
            let reopened = due[*at].reopen && self.reopened(set, place);
            if is_out || reopened {
                out.entry(set).or_default().push(place);
            }
        }
        out.into_iter()
            .flat_map(|(set, chosen)| targets(procedure, set, &procedure.set(set).axes, &chosen, span))
            .map(Fastening::Set)
            .collect()
    }

    /// Whether a derived `open:` step takes this set out again.
    fn reopened(&mut self, set: SetId, place: Place) -> bool {
        let held: Vec<(PartId, Place)> = self.facts.held(set, place).map(|hold| hold.part).collect();
        held.into_iter().any(|(part, at)| {
            let thing = self.facts.thing(ThingKind::Part(part, at));
            let held = self.values.of(&self.facts.things, thing);
            held.iter().any(|held| {
                self.origin(held).is_some_and(|origin| {
                    matches!(self.deed(origin), Some(Deed::Part { work: PartWork::PutBack, .. }))
                })
            })
        })
    }

    fn step(
        &self,
        id: String,
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
        let act = |deed: Deed| StepLine::Act(Act { deed, note: None, span });
        let mirrors = mirrored.filter(|step| !step.strip_only);
        let hazards: Vec<StepLine> = mirrors
            .iter()
            .flat_map(|step| step.lines.iter().filter(|line| matches!(line, StepLine::Hazard(..))).cloned())
            .collect();
        let state_needs = mirrors
            .iter()
            .flat_map(|step| step.needs.iter().filter(|need| matches!(need, Condition::State(..))).cloned())
            .collect();
        let step = Step {
            naming: Naming { id, title, span },
            phase: Phase::Build,
            section: mirrored.and_then(|step| step.section),
            group: None,
            after: Vec::new(),
            before: Vec::new(),
            straight_after: None,
            when: Guard::default(),
            when_span: None,
            each: Vec::new(),
            apart: false,
            tools: mirrors.map(|step| step.tools.clone()).unwrap_or_default(),
            supplies: Vec::new(),
            setups: mirrors.map(|step| step.setups.clone()).unwrap_or_default(),
            hands: mirrors.map_or(1, |step| step.hands),
            time: mirrors.and_then(|step| step.time),
            holds: Vec::new(),
            needs: state_needs,
            strip_only: false,
            contingencies: Vec::new(),
            departures: Vec::new(),
            lines: hazards.into_iter().chain(deeds.into_iter().map(act)).collect(),
            unchecked: mirrors.map(|step| step.unchecked.clone()).unwrap_or_default(),
            span,
        };
        // Later in the strip is earlier in the build; within one strip step the last act comes back first.
        let rank = ((u64::MAX >> 8) - ((origin.place as u64) << 16) - u64::from(origin.act)) * 4 + stage;
        DerivedStep { step, case: case.clone(), mirrors: Some(origin.node), rank }
    }

    /// A state that a mirrored step needs, that does not hold when the build starts and that no build step sets.
    fn state_steps(&mut self, steps: &mut Vec<DerivedStep>) {
        let procedure = self.facts.procedure;
        let mut wanted: BTreeMap<(StateId, usize), u64> = BTreeMap::new();
        for derived in steps.iter() {
            for need in &derived.step.needs {
                let Condition::State(state, value, _) = need else { continue };
                let earliest = wanted.entry((*state, *value)).or_insert(derived.rank);
                *earliest = derived.rank.min(*earliest);
            }
        }
        for ((state, value), rank) in wanted {
            let thing = self.facts.thing(ThingKind::State(state));
            let holds = self.values.of(&self.facts.things, thing).iter().all(|held| held.value == 1 << value);
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
            let title =
                format!("Set: {} {}", declared.naming.title, declared.values[value].replace('_', " "));
            let id = format!("set:{}", declared.naming.id);
            let span = declared.naming.span;
            let mut step = blank_step(id, title, span);
            step.lines.push(StepLine::Act(Act { deed: Deed::Set(state, value), note: None, span }));
            steps.push(DerivedStep {
                step,
                case: Case::always(),
                mirrors: None,
                rank: rank.saturating_sub(1),
            });
        }
    }
}

/// A joint at one place that is tightened as one, with its sets in the list of what is due.
type WholeJoint = (Place, Vec<usize>);

#[derive(Default)]
struct AuthorDoes {
    parts: BTreeMap<(PartId, Place), Vec<Case>>,
    sets: BTreeMap<(SetId, Place), Vec<Case>>,
}

fn blank_step(id: String, title: String, span: Span) -> Step {
    Step {
        naming: Naming { id, title, span },
        phase: Phase::Build,
        section: None,
        group: None,
        after: Vec::new(),
        before: Vec::new(),
        straight_after: None,
        when: Guard::default(),
        when_span: None,
        each: Vec::new(),
        apart: false,
        tools: Vec::new(),
        supplies: Vec::new(),
        setups: Vec::new(),
        hands: 1,
        time: None,
        holds: Vec::new(),
        needs: Vec::new(),
        strip_only: false,
        contingencies: Vec::new(),
        departures: Vec::new(),
        lines: Vec::new(),
        unchecked: Vec::new(),
        span,
    }
}

/// Every fastener is started by hand before any is tightened.
fn tightening(loose: Vec<Fastening>, what: Vec<Fastening>) -> Vec<Deed> {
    let start = (!loose.is_empty()).then_some(Deed::Fasten {
        work: FasteningWork::StartByHand,
        what: loose,
        to: None,
    });
    start.into_iter().chain([Deed::Fasten { work: FasteningWork::Tighten, what, to: None }]).collect()
}

fn group<T, K: Ord>(due: Vec<T>, key: impl Fn(&T) -> K) -> Vec<Vec<T>> {
    let mut groups: BTreeMap<K, Vec<T>> = BTreeMap::new();
    for entry in due {
        groups.entry(key(&entry)).or_default().push(entry);
    }
    groups.into_values().collect()
}

/// Places that came off in one step under the same answers go back in one step.
fn group_refs<T>(due: &[Due<T>]) -> Vec<Vec<&Due<T>>> {
    let mut groups: BTreeMap<(NodeId, u32, Case, bool), Vec<&Due<T>>> = BTreeMap::new();
    for entry in due {
        groups
            .entry((entry.origin.node, entry.origin.member, entry.case.clone(), entry.reopen))
            .or_default()
            .push(entry);
    }
    groups.into_values().collect()
}

/// Targets that mean exactly these places: one without positions if they are all, else one per place.
fn targets<Id: Copy>(
    procedure: &Procedure,
    id: Id,
    axes: &[AxisId],
    chosen: &[Place],
    span: Span,
) -> Vec<Target<Id>> {
    if chosen.len() == procedure.places(axes) {
        return vec![Target { id, pattern: Pattern::default(), span }];
    }
    chosen
        .iter()
        .map(|place| {
            let at = procedure.coordinates(axes, *place);
            let positions = at.into_iter().map(|at| At::Position(u16::try_from(at).expect("axes are short")));
            Target { id, pattern: Pattern(positions.collect()), span }
        })
        .collect()
}

/// Positions behind the id of a derived step: those that all of its places share, where it is not all places.
fn suffix(procedure: &Procedure, axes: &[AxisId], chosen: &[Place], total: usize) -> String {
    if chosen.len() == total {
        return String::new();
    }
    let all: Vec<Vec<usize>> = chosen.iter().map(|place| procedure.coordinates(axes, *place)).collect();
    let shared: Vec<&str> = axes
        .iter()
        .enumerate()
        .filter(|(index, _)| all.iter().all(|at| at[*index] == all[0][*index]))
        .map(|(index, axis)| procedure.axis(*axis).positions[all[0][index]].as_str())
        .collect();
    if shared.is_empty() {
        let names: Vec<String> = chosen.iter().map(|place| procedure.place_name(axes, *place)).collect();
        return format!("[{}]", names.join("; "));
    }
    format!("[{}]", shared.join(", "))
}

/// Ids must differ; steps that differ only in their answers get a number.
fn distinguish(steps: &mut [DerivedStep]) {
    let mut seen: BTreeMap<String, usize> = BTreeMap::new();
    for step in steps {
        let count = seen.entry(step.step.naming.id.clone()).or_insert(0);
        *count += 1;
        if *count > 1 {
            step.step.naming.id = format!("{}:{count}", step.step.naming.id);
        }
    }
}
