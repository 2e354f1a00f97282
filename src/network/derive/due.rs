//! What is off, out or slack when the survey ends and the author's own build steps don't put back, place by place.

use std::collections::{BTreeMap, BTreeSet};

use super::{Builder, Due, Origin};
use crate::network::acts::fastened;
use crate::network::answers::Case;
use crate::network::values::{Fit, ThingKind, Tightness, Value};
use crate::procedure::model::*;

/// What the author's own build steps do, with the answers under which they do it.
#[derive(Default)]
pub(super) struct AuthorDoes {
    pub parts: BTreeMap<(PartId, Place), Vec<Case>>,
    pub sets: BTreeMap<(SetId, Place), Vec<Case>>,
    /// Gauges and looks that they take somewhere.
    pub taken: BTreeSet<Name>,
}

impl Builder<'_, '_> {
    pub(super) fn parts_due(&mut self, own: &AuthorDoes) -> Vec<Due<(PartId, Place)>> {
        let (procedure, walk) = (self.facts.procedure, self.walk);
        let mut due = Vec::new();
        for (id, part) in procedure.parts.numbered() {
            for place in procedure.places(&part.axes) {
                let what = (id, place);
                let thing = self.facts.thing(ThingKind::Part(what.0, place));
                for held in walk.of(&self.facts.things, thing).iter() {
                    let Some(origin) = self.origin(held) else { continue };
                    let reopen =
                        matches!(self.deed(origin), Some(Deed::Part { work: PartWork::PutBack, .. }));
                    if held.value != Value::of(Fit::Off) && !reopen {
                        continue;
                    }
                    let left_out = self.facts.left_out(what.0, place);
                    let done = own.parts.get(&what).into_iter().flatten();
                    let pieces = self.facts.outside(held.case.clone(), left_out.iter().chain(done));
                    due.extend(pieces.into_iter().map(|case| Due { what, case, origin, reopen }));
                }
            }
        }
        due
    }

    pub(super) fn sets_due(&mut self, own: &AuthorDoes) -> Vec<Due<(SetId, Place)>> {
        let (procedure, walk) = (self.facts.procedure, self.walk);
        let mut due = Vec::new();
        for (id, set) in procedure.sets.numbered() {
            for place in procedure.places(&set.axes) {
                let what = (id, place);
                let things = self.facts.set_things(what.0, place);
                let mut found: Vec<(Case, Origin, bool)> = Vec::new();
                for (_, holes) in things {
                    let thing = self.facts.thing(holes.kind());
                    for held in walk.of(&self.facts.things, thing).iter() {
                        let Some(origin) =
                            self.origin(held).filter(|_| held.value != Value::of(Tightness::Tight))
                        else {
                            continue;
                        };
                        let nipped = held.value == Value::of(Tightness::Slack)
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
                let left_out = self.facts.nothing_to_hold(what);
                for (case, origin, reopen) in found {
                    let done = own.sets.get(&what).into_iter().flatten();
                    let pieces = self.facts.outside(case, left_out.iter().chain(done));
                    due.extend(pieces.into_iter().map(|case| Due { what, case, origin, reopen }));
                }
            }
        }
        due
    }

    /// What the author's own build steps fit and tighten, with the answers under which they do.
    pub(super) fn author_does(&mut self) -> AuthorDoes {
        let procedure = self.facts.procedure;
        let mut own = AuthorDoes::default();
        for step in &procedure.steps {
            let trial = step.group.is_some_and(|group| procedure.group(group).kind == GroupKind::Trial);
            if step.phase != Phase::Build || trial {
                continue;
            }
            let bindings: Vec<Binding> = if step.apart {
                procedure.places(&step.each).map(|at| procedure.bound(&step.each, at)).collect()
            } else {
                vec![Binding::default()]
            };
            for binding in bindings {
                let Some(case) = self.facts.case(&step.when, &binding) else { continue };
                for act in step.acts() {
                    let Some(binding) = procedure.narrowed(&binding, &act.scope.at) else { continue };
                    let given = self.facts.case(&act.scope.when, &binding);
                    let Some(case) = given.and_then(|given| case.and(&given)) else { continue };
                    match &act.deed {
                        Deed::Part { work: PartWork::Fit, what } => {
                            for target in what {
                                for (_, place) in procedure.meant(target, &binding) {
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
                        Deed::Gauge(what) => {
                            own.taken.extend(what.iter().map(|target| Name::Gauge(target.id)));
                        }
                        Deed::Look(what) => own.taken.extend(what.iter().map(|target| Name::Look(target.id))),
                        _ => {}
                    }
                }
            }
        }
        own
    }
}
