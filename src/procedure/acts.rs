//! Acts: what is done to what.

use super::errors;
use super::model::*;
use super::resolver::Resolver;
use crate::language::tree::{self, ActKind, Reference, Setting};
use crate::quantity::Dimension;
use crate::source::Span;

impl Resolver {
    /// One act; none if what it acts on can't be resolved.
    pub(super) fn act(&mut self, act: &tree::Act, span: Span, each: &[AxisId]) -> Option<Act> {
        if let Some(note) = &act.note {
            self.instruction(note);
        }
        let deed = self.deed(&act.kind)?;
        let at = self.act_places(&deed, &act.scope.at, each)?;
        let when = self.guard(&act.scope.when);
        // A condition that can't be read must not turn into "always".
        let scope = (when.0.len() == act.scope.when.len()).then_some(Scope { at, when })?;
        let note = act.note.as_ref().map(|note| note.value.clone());
        Some(Act { note, ..Act::of(deed, scope, span) })
    }

    /// Where an act of a step that repeats along `each` is done. What is done to no thing in particular may be told of
    /// any position.
    fn act_places(&mut self, deed: &Deed, at: &[Setting], each: &[AxisId]) -> Option<Places> {
        if at.is_empty() {
            return Some(Places::default());
        }
        let mut axes = each.to_vec();
        match self.axes_touched(deed) {
            Some(touched) => axes.extend(touched),
            None => axes.extend(self.procedure.axes.ids()),
        }
        self.places_along(&axes, at, |_, axis| errors::act_along_no_axis(axis))
    }

    fn deed(&mut self, kind: &ActKind) -> Option<Deed> {
        Some(match kind {
            ActKind::Slacken(what) => self.fasten(FasteningWork::Slacken, what)?,
            ActKind::Undo { what, bit_by_bit } => Deed::Fasten {
                work: FasteningWork::Undo,
                what: self.fastenings(what)?.into(),
                to: None,
                bit_by_bit: *bit_by_bit,
            },
            ActKind::StartByHand(what) => self.fasten(FasteningWork::StartByHand, what)?,
            ActKind::Nip(what) => self.fasten(FasteningWork::Nip, what)?,
            ActKind::Retighten(what) => self.fasten(FasteningWork::Retighten, what)?,
            ActKind::Tighten { what, to } => {
                let torque = to.as_ref().and_then(|to| self.positive(to, Dimension::TORQUE));
                let what = self.fastenings(what)?;
                Deed::Fasten {
                    work: FasteningWork::Tighten,
                    what: what.into(),
                    to: torque,
                    bit_by_bit: false,
                }
            }
            ActKind::Take(what) => self.work(PartWork::Take, what)?,
            ActKind::PutBack(what) => self.work(PartWork::PutBack, what)?,
            ActKind::Fit(what) => self.work(PartWork::Fit, what)?,
            ActKind::Support(what) => self.work(PartWork::Support, what)?,
            ActKind::Press(what) => self.work(PartWork::Press, what)?,
            ActKind::Send(what) => self.work(PartWork::Send, what)?,
            ActKind::Receive(what) => self.work(PartWork::Receive, what)?,
            ActKind::Accept(what) => self.work(PartWork::Accept, what)?,
            ActKind::Heat { what, to, origin } => {
                self.needs_origin(origin, to.span, "a temperature to heat to");
                let to = self.quantity(to, Dimension::TEMPERATURE);
                let origin = origin.as_ref().map(|origin| origin.value.clone());
                Deed::Heat { what: Box::new(self.target(what)?), to: Box::new(to?), origin }
            }
            ActKind::Gauge(what) => Deed::Gauge(self.all(what, Self::target)?.into()),
            ActKind::Look(what) => Deed::Look(self.all(what, Self::target)?.into()),
            ActKind::Clean(what) => Deed::Clean(self.all(what, Self::part_or_set)?.into()),
            ActKind::Mark(what) => Deed::Mark(self.all(what, Self::part_or_set)?.into()),
            ActKind::Chase(what) => Deed::Chase(self.all(what, Self::target)?.into()),
            ActKind::Set(setting) => {
                let (state, value) = self.state(setting)?;
                Deed::Set(state, value)
            }
            ActKind::PutIn(what) => Deed::PutIn(self.target(what)?),
            ActKind::TakeOut(what) => Deed::TakeOut(self.target(what)?),
            ActKind::TurnByHand { direction, angle, to } => Deed::TurnByHand {
                direction: direction.unwrap_or(TurnDirection::AsItRuns),
                angle: match angle {
                    Some(angle) => Some(self.positive(angle, Dimension::ANGLE)?),
                    None => None,
                },
                to: match to {
                    Some(to) => Some(Box::new(self.cylinder_at(to)?)),
                    None => None,
                },
            },
            ActKind::Photo => Deed::Photo,
            ActKind::Cap => Deed::Cap,
            ActKind::Isolate => Deed::Isolate,
            ActKind::Dispose { into } => Deed::Dispose(into.value.clone()),
            ActKind::Wait(time) => Deed::Wait(self.positive(time, Dimension::DURATION)?),
            ActKind::Words => Deed::Words,
        })
    }

    /// Everything in a list that can be resolved; none if nothing can.
    fn all<T>(
        &mut self,
        references: &[Reference],
        mut one: impl FnMut(&mut Self, &Reference) -> Option<T>,
    ) -> Option<Vec<T>> {
        let mut found: Vec<T> = references.iter().filter_map(|reference| one(self, reference)).collect();
        found.shrink_to_fit();
        (!found.is_empty()).then_some(found)
    }

    fn fasten(&mut self, work: FasteningWork, what: &[Reference]) -> Option<Deed> {
        Some(Deed::Fasten { work, what: self.fastenings(what)?.into(), to: None, bit_by_bit: false })
    }

    fn fastenings(&mut self, what: &[Reference]) -> Option<Vec<Fastening>> {
        self.all(what, |resolver, reference| {
            let span = reference.span;
            match resolver.thing(reference, &["a fastener set", "a joint"])? {
                (Name::Set(id), pattern) => Some(Fastening::Set(Target { id, pattern, span })),
                (Name::Joint(id), pattern) => Some(Fastening::Joint(Target { id, pattern, span })),
                _ => None,
            }
        })
    }

    fn work(&mut self, work: PartWork, what: &[Reference]) -> Option<Deed> {
        Some(Deed::Part { work, what: self.all(what, Self::target)?.into() })
    }

    fn part_or_set(&mut self, reference: &Reference) -> Option<Thing> {
        let span = reference.span;
        match self.thing(reference, &["a part", "a fastener set"])? {
            (Name::Part(id), pattern) => Some(Thing::Part(Target { id, pattern, span })),
            (Name::Set(id), pattern) => Some(Thing::Set(Target { id, pattern, span })),
            _ => None,
        }
    }

    /// The axes along which an act differs from position to position; none for an act on the whole, which may be
    /// repeated along any axis.
    pub(super) fn axes_touched(&self, deed: &Deed) -> Option<Vec<AxisId>> {
        let mut axes = Vec::new();
        let mut add = |name: Name, pattern: &Pattern| {
            for (index, axis) in self.axes_of(name).iter().enumerate() {
                if !matches!(pattern.0.get(index), Some(At::Position(_))) {
                    axes.push(*axis);
                }
            }
        };
        match deed {
            Deed::Fasten { what, .. } => what.iter().for_each(|fastening| match fastening {
                Fastening::Set(target) => add(Name::Set(target.id), &target.pattern),
                Fastening::Joint(target) => {
                    add(Name::Joint(target.id), &target.pattern);
                    for member in &self.procedure.joint(target.id).members {
                        add(Name::Set(member.set.id), &member.set.pattern);
                    }
                }
            }),
            Deed::Part { what, .. } => {
                what.iter().for_each(|target| add(Name::Part(target.id), &target.pattern));
            }
            Deed::Heat { what, .. } => add(Name::Part(what.id), &what.pattern),
            Deed::Coat { what, .. } | Deed::Lift { what, .. } => {
                add(Name::Part(what.id), &what.pattern);
            }
            Deed::Wet { what, .. } | Deed::Lock { what, .. } => add(Name::Set(what.id), &what.pattern),
            Deed::Clean(things) | Deed::Mark(things) => things.iter().for_each(|thing| match thing {
                Thing::Part(target) => add(Name::Part(target.id), &target.pattern),
                Thing::Set(target) => add(Name::Set(target.id), &target.pattern),
            }),
            Deed::Chase(sets) => sets.iter().for_each(|target| add(Name::Set(target.id), &target.pattern)),
            Deed::Gauge(gauges) => {
                gauges.iter().for_each(|target| add(Name::Gauge(target.id), &target.pattern));
            }
            Deed::Look(looks) => looks.iter().for_each(|target| add(Name::Look(target.id), &target.pattern)),
            Deed::PutIn(target) | Deed::TakeOut(target) => {
                add(Name::Temporary(target.id), &target.pattern);
            }
            Deed::Set(..) => {}
            Deed::TurnByHand { .. }
            | Deed::Photo
            | Deed::Cap
            | Deed::Isolate
            | Deed::Dispose(_)
            | Deed::Wait(_)
            | Deed::Words => return None,
        }
        Some(axes)
    }
}
