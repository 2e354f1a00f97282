//! The tightening of what came loose: one step per joint whose sets came loose together, else one per set, each
//! followed by what the joint says is done then.

use std::collections::{BTreeMap, BTreeSet};

use super::due::AuthorDoes;
use super::follow::Once;
use super::places::{group, shared, targets, together};
use super::{Builder, Due, key};
use crate::english::work_on;
use crate::network::answers::Case;
use crate::network::types::*;
use crate::network::values::{ThingKind, Tightness, Value};
use crate::procedure::model::*;
use crate::source::Span;

/// A joint at one place that is tightened as one, with its sets in the list of what is due.
type WholeJoint = (Place, Vec<usize>);

impl Builder<'_, '_> {
    pub(super) fn tighten_steps(
        &mut self,
        due: Vec<Due<(SetId, Place)>>,
        own: &AuthorDoes,
        steps: &mut Vec<DerivedStep>,
    ) {
        let mut once = Once::default();
        let rest = self.whole_joints(due, own, steps, &mut once);
        let procedure = self.facts.procedure;
        for group in group(rest, |due: &Due<(SetId, Place)>| due.what.0) {
            let set_id = group[0].what.0;
            let set = procedure.set(set_id);
            for some in together(&group, !set.then.is_empty()) {
                let chosen: Vec<Place> = some.iter().map(|due| due.what.1).collect();
                let what: Vec<Fastening> = targets(procedure, set_id, &set.axes, &chosen, set.naming.span)
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
                let key = key(DerivedWork::TightenSet(set_id), shared(procedure, &set.axes, &chosen));
                // A plug or a stud is what is put in, not what holds something.
                let goes_in = matches!(set.kind, FastenerKind::Plug | FastenerKind::Stud);
                let title = work_on(
                    if goes_in { "Fit" } else { "Tighten" },
                    &set.naming.title,
                    set.count.at_a_place().several() || chosen.len() > 1,
                );
                let mut step =
                    self.step(key, title, tightening(loose, what), some[0].origin, &some[0].case, 2);
                let binding = procedure.bound(&set.axes, chosen[0]);
                once.follow(procedure, own, &mut step, &set.then, &binding, &[set_id]);
                steps.push(step);
            }
        }
        steps.extend(once.steps(procedure));
    }

    /// A joint whose sets all came loose in one step, under the same answers, is tightened as one; what is left of
    /// the list is returned.
    fn whole_joints(
        &mut self,
        due: Vec<Due<(SetId, Place)>>,
        own: &AuthorDoes,
        steps: &mut Vec<DerivedStep>,
        once: &mut Once,
    ) -> Vec<Due<(SetId, Place)>> {
        let procedure = self.facts.procedure;
        let mut of_set: BTreeMap<(SetId, Place), Vec<usize>> = BTreeMap::new();
        for (at, entry) in due.iter().enumerate() {
            of_set.entry(entry.what).or_default().push(at);
        }
        let mut taken: BTreeSet<usize> = BTreeSet::new();
        for (id, joint) in procedure.joints.numbered() {
            // What follows each tightening follows at each place, so that such places are tightened one by one.
            let apart = !joint.then.is_empty();
            let mut by_node: BTreeMap<(NodeId, u32, Case, Option<Place>), Vec<WholeJoint>> = BTreeMap::new();
            for place in procedure.places(&joint.axes) {
                let Some(all) = self.whole(joint, place, &due, &of_set, &taken) else { continue };
                let (all, case) = all;
                let Due { origin, .. } = &due[all[0]];
                by_node
                    .entry((origin.node, origin.member, case, apart.then_some(place)))
                    .or_default()
                    .push((place, all));
            }
            for ((_, _, case, _), group) in by_node {
                let chosen: Vec<Place> = group.iter().map(|(place, _)| *place).collect();
                let members: Vec<usize> = group.iter().flat_map(|(_, all)| all.iter().copied()).collect();
                taken.extend(members.iter().copied());
                let origin =
                    members.iter().map(|at| due[*at].origin).min().expect("a joint in the list has sets");
                let joint_targets = targets(procedure, id, &joint.axes, &chosen, joint.naming.span);
                let what: Vec<Fastening> = joint_targets.into_iter().map(Fastening::Joint).collect();
                let loose: Vec<Fastening> = self.out_sets(&due, &members, joint.naming.span);
                let at = shared(procedure, &joint.axes, &chosen);
                let title = work_on("Tighten", &joint.naming.title, false);
                let key = key(DerivedWork::TightenJoint(id), at);
                let mut step = self.step(key, title, tightening(loose, what), origin, &case, 2);
                let sets: Vec<SetId> = joint.members.iter().map(|member| member.set.id).collect();
                let binding = procedure.bound(&joint.axes, chosen[0]);
                once.follow(procedure, own, &mut step, &joint.then, &binding, &sets);
                steps.push(step);
            }
        }
        due.into_iter().enumerate().filter(|(at, _)| !taken.contains(at)).map(|(_, due)| due).collect()
    }

    /// The sets of a joint at one place, as indices into the list, if they all came loose in one step under the same
    /// answers and none is taken yet; and those answers. A set that only some engines have came loose on those.
    fn whole(
        &mut self,
        joint: &Joint,
        place: Place,
        due: &[Due<(SetId, Place)>],
        of_set: &BTreeMap<(SetId, Place), Vec<usize>>,
        taken: &BTreeSet<usize>,
    ) -> Option<(Vec<usize>, Case)> {
        let procedure = self.facts.procedure;
        let binding = procedure.bound(&joint.axes, place);
        let mut all: Vec<(usize, Option<Case>)> = Vec::new();
        for member in &joint.members {
            for what in procedure.meant(&member.set, &binding) {
                let [only] = of_set.get(&what)?.as_slice() else { return None };
                let present = procedure.set_present(what);
                let some = !present.0.is_empty();
                let present = some.then(|| self.facts.case(&present, &procedure.bound_at(what)));
                all.push((*only, present.flatten()));
            }
        }
        let case = match all.iter().find(|(_, present)| present.is_none()) {
            Some((at, _)) => due[*at].case.clone(),
            // Where no engine has one of them for sure, what is left without the answers that they are there under.
            None => {
                let (at, present) = all.first()?;
                due[*at].case.beside(present.as_ref()?)
            }
        };
        let first = &due[all.first()?.0];
        let alike = |(at, present): &(usize, Option<Case>)| {
            let here = present.as_ref().map_or_else(|| Some(case.clone()), |present| case.and(present));
            due[*at].origin.node == first.origin.node
                && Some(&due[*at].case) == here.as_ref()
                && !taken.contains(at)
        };
        all.iter().all(alike).then(|| (all.iter().map(|(at, _)| *at).collect(), case))
    }

    /// Sets of the list that are out when the build starts, or opened again by it, and so are started by hand.
    fn out_sets(&mut self, due: &[Due<(SetId, Place)>], members: &[usize], span: Span) -> Vec<Fastening> {
        let procedure = self.facts.procedure;
        let mut out: BTreeMap<SetId, Vec<Place>> = BTreeMap::new();
        for at in members {
            let (set, place) = due[*at].what;
            let mut things = self.facts.set_things(set, place);
            let is_out = things.all(|(_, holes)| {
                let thing = self.facts.thing(holes.kind());
                let held = self.walk.of(&self.facts.things, thing);
                held.iter().all(|held| held.value == Value::of(Tightness::Out))
            });
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
        let held: Vec<(PartId, Place)> =
            self.facts.structure.held((set, place)).iter().map(|hold| hold.part).collect();
        held.into_iter().any(|(part, at)| {
            let thing = self.facts.thing(ThingKind::Part(part, at));
            let held = self.walk.of(&self.facts.things, thing);
            held.iter().any(|held| {
                self.origin(held).is_some_and(|origin| {
                    matches!(self.deed(origin), Some(Deed::Part { work: PartWork::PutBack, .. }))
                })
            })
        })
    }
}

/// Every fastener is started by hand before any is tightened.
fn tightening(loose: Vec<Fastening>, what: Vec<Fastening>) -> Vec<Deed> {
    let start = (!loose.is_empty()).then_some(Deed::Fasten {
        work: FasteningWork::StartByHand,
        what: loose.into(),
        to: None,
        bit_by_bit: false,
    });
    start
        .into_iter()
        .chain([Deed::Fasten {
            work: FasteningWork::Tighten,
            what: what.into(),
            to: None,
            bit_by_bit: false,
        }])
        .collect()
}
