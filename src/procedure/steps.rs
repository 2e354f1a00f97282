//! Steps: links, guards, setups, tools, and their acts in order.

use std::collections::BTreeSet;

use super::errors;
use super::model::*;
use super::resolver::{Resolver, Seen};
use crate::language::tree::{self, StepClause, StepReference};
use crate::quantity::Dimension;
use crate::source::Span;

impl Resolver {
    /// The axes of a step, which others need to name its positions.
    pub(super) fn step_axes(&mut self, id: StepId, declaration: &tree::Step) {
        let each = declaration.clauses.iter().find_map(|clause| match &clause.value {
            StepClause::Each { axes, of, apart } => Some((axes, of.as_ref(), *apart)),
            _ => None,
        });
        if let Some((words, of, apart)) = each {
            let axes = self.axes(Name::Step(id), words);
            let groups = of.and_then(|of| self.groups_of(&axes, of));
            let step = &mut self.procedure.steps[id];
            step.apart = apart || groups.is_some();
            // All of a group together is one step for each group.
            step.each = match groups {
                Some((axis, by)) if !apart => {
                    axes.iter().map(|own| if *own == axis { by } else { *own }).collect()
                }
                _ => axes.into(),
            };
            step.by_group = groups.filter(|_| apart).map(|(_, by)| by);
        }
    }

    /// The axis that is in these groups, and the groups.
    fn groups_of(&mut self, axes: &[AxisId], of: &tree::Word) -> Option<(AxisId, AxisId)> {
        let Name::Axis(by) = self.lookup(of, &["an axis"])? else { return None };
        let grouped =
            |axis: &AxisId| self.procedure.axis(*axis).groupings.iter().any(|grouping| grouping.by == by);
        let found = axes.iter().copied().find(grouped);
        if found.is_none() {
            let declared = self.declared(Name::Axis(by)).span;
            self.complain(errors::no_groups_of(of, declared));
        }
        found.map(|axis| (axis, by))
    }

    pub(super) fn step_clauses(&mut self, id: StepId, declaration: &tree::Step) -> Step {
        let mut step = self.procedure.step(id).clone();
        let each = step.each.clone();
        let mut seen = Seen::default();
        let mut listed = Seen::default();
        for clause in self.distinct(&declaration.clauses) {
            match &clause.value {
                StepClause::After(links) => {
                    step.after.extend(links.iter().filter_map(|link| self.link(id, link, "after")));
                }
                StepClause::Before(links) => {
                    step.before.extend(links.iter().filter_map(|link| self.link(id, link, "before")));
                }
                StepClause::StraightAfter { step: link, within } => {
                    let within = within.as_ref().and_then(|time| self.positive(time, Dimension::DURATION));
                    let link = self.link(id, link, "straight after");
                    step.straight_after = link.map(|link| Box::new((link, within)));
                }
                StepClause::When(settings) => {
                    // By their order, and not by their places: some may stand in another file.
                    let before = declaration.clauses.iter().take_while(|other| other.span != clause.span);
                    let mut acts = before.filter(|other| matches!(other.value, StepClause::Act(_)));
                    if let Some(first) = acts.next().map(|act| act.span) {
                        self.complain(errors::late_when(clause.span, first));
                    }
                    step.when = self.guard(settings);
                    step.when_span = Some(clause.span);
                }
                StepClause::Each { .. } => {}
                StepClause::InTurn { axis, firing } => self.in_turn(axis, *firing, clause.span),
                StepClause::Tools(tools, scope) => {
                    let Some(at) = self.places(Name::Step(id), &scope.at) else { continue };
                    for tool in tools {
                        if let Some(Target { id, span, .. }) = self.target(tool)
                            && (!at.everywhere()
                                || listed.once(self, &tool.name.value, span, errors::repeated_entry))
                        {
                            step.tools.push(Local { what: (id, span), at: at.clone() });
                        }
                    }
                }
                StepClause::Supplies(supplies, scope) => {
                    let Some(at) = self.places(Name::Step(id), &scope.at) else { continue };
                    for (supply, amount) in supplies {
                        let amount = amount.as_ref().map(|amount| self.supplied(amount));
                        if let Some(Target { id, span, .. }) = self.target(supply)
                            && (!at.everywhere()
                                || listed.once(self, &supply.name.value, span, errors::repeated_entry))
                        {
                            let what = (id, amount.flatten(), span);
                            step.supplies.push(Local { what, at: at.clone() });
                        }
                    }
                }
                StepClause::With(settings, scope) => {
                    let Some(at) = self.places(Name::Step(id), &scope.at) else { continue };
                    for (setup, value) in settings {
                        let span = setup.span.to(value.span);
                        let everywhere = at.everywhere();
                        if !everywhere || seen.first(self, &format!("with {}", setup.value), span) {
                            let found = self.setup(setup, value);
                            let stance = |(setup, value)| Stance { setup, value, at: at.clone(), span };
                            step.setups.extend(found.map(stance));
                        }
                    }
                }
                StepClause::Hands(amount) => step.hands = self.count(amount, "people").unwrap_or(1),
                StepClause::Time { time, both_ways } => {
                    step.time = self.positive(time, Dimension::DURATION);
                    if *both_ways && seen.first(self, "refit time", clause.span) {
                        step.refit_time = step.time;
                    }
                }
                StepClause::RefitTime(amount) => {
                    let time = self.positive(amount, Dimension::DURATION);
                    if seen.first(self, "refit time", clause.span) {
                        step.refit_time = time;
                    }
                }
                StepClause::Hold(text, scope) => {
                    let at = self.places(Name::Step(id), &scope.at);
                    let hold = at.map(|at| Local { what: text.value.clone(), at });
                    step.lines.extend(hold.map(|hold| StepLine::Hold(hold, clause.span)));
                }
                StepClause::Hazard(hazard, scope) => {
                    let at = self.places(Name::Step(id), &scope.at);
                    if let (Some(Target { id, span, .. }), Some(at)) = (self.target(hazard), at) {
                        step.lines.push(StepLine::Hazard(Local { what: id, at }, span));
                    }
                }
                StepClause::Needs(conditions, scope) => {
                    step.needs.extend(self.conditions(Name::Step(id), conditions, scope));
                }
                StepClause::StripOnly => step.strip_only = true,
                StepClause::If { condition, action, scope } => {
                    self.instruction(action);
                    let at = self.places(Name::Step(id), &scope.at);
                    let what = (condition.value.clone(), action.value.clone());
                    step.contingencies.extend(at.map(|at| Local { what, at }));
                }
                StepClause::Repeat { until, at_most, work } => {
                    self.instruction(work);
                    step.repeats.extend(self.repeat(until, at_most, work, clause.span));
                }
                StepClause::Except { rule, because } => {
                    step.departures.extend(self.departure(rule, because, clause.span));
                }
                StepClause::Act(act) => {
                    if let Some(act) = self.act(act, clause.span, &each) {
                        step.lines.push(StepLine::Act(act));
                    }
                }
            }
        }
        for repeat in &step.repeats {
            let reads = |act: &Act| match &act.deed {
                Deed::Gauge(gauges) => gauges.iter().any(|gauge| gauge.id == repeat.until),
                _ => false,
            };
            if !step.acts().any(reads) {
                let gauge = self.procedure.gauge(repeat.until).naming.clone();
                self.complain_of_absence(repeat.span, errors::repeat_unread(repeat.span, &gauge));
            }
        }
        if !declaration.clauses.iter().any(|clause| matches!(clause.value, StepClause::Act(_))) {
            self.complain_of_absence(declaration.span, errors::empty_step(&declaration.name));
        }
        for setup in step.setups.iter().map(|stance| stance.setup).collect::<BTreeSet<_>>() {
            let own = step.setups.iter().filter(|stance| stance.setup == setup);
            let said: Vec<(Span, &Places)> = own.map(|stance| (stance.span, &stance.at)).collect();
            self.idle_cases(Name::Step(id), &said);
        }
        self.idle_axes(&step, declaration);
        // Most steps have a line or two, and there are very many steps.
        step.lines.shrink_to_fit();
        step
    }

    /// `repeat until GAUGE within limits at most 4 times "..."`
    fn repeat(
        &mut self,
        until: &tree::Reference,
        at_most: &tree::Amount,
        work: &tree::Quote,
        span: Span,
    ) -> Option<Repeat> {
        let Target { id: until, .. } = self.target::<GaugeId>(until)?;
        let gauge = self.procedure.gauge(until);
        if gauge.made.is_empty() && gauge.worn.is_empty() {
            let naming = gauge.naming.clone();
            self.complain_of_absence(naming.span, errors::repeat_without_limits(span, &naming));
            return None;
        }
        let tries = self.count(at_most, "tries")?;
        if !(2..=9).contains(&tries) {
            self.complain(errors::repeat_tries(at_most));
            return None;
        }
        Some(Repeat { until, at_most: tries, work: work.value.clone(), span })
    }

    /// `each cyl in firing order`: the acts are written out already, where that could be done.
    fn in_turn(&mut self, axis: &tree::Word, firing: bool, span: Span) {
        let Some(Name::Axis(id)) = self.lookup(axis, &["an axis"]) else { return };
        if !firing {
            return;
        }
        let Some(family) = self.procedure.family.as_ref() else { return };
        let (place, order) = (family.naming.span, family.firing_order.clone());
        let positions = self.procedure.axis(id).positions.clone();
        if order.is_empty() {
            self.complain(errors::no_firing_order(span, place, "firing order 1, 3, 2"));
        } else if positions.iter().collect::<BTreeSet<_>>() != order.iter().collect() {
            let declared = self.declared(Name::Axis(id));
            let (order, positions) = (order.join(", "), positions.join(", "));
            self.complain(errors::firing_order_of_others(span, &order, &declared, &positions));
        }
    }

    /// A step or group named by another step.
    fn link(&mut self, own: StepId, reference: &StepReference, relation: &str) -> Option<StepLink> {
        let span = reference.step.span;
        let (name, pattern) = self.thing(&reference.step, &["a step", "a group of steps"])?;
        let to = match name {
            Name::Step(id) if id == own && reference.step.positions.is_empty() => {
                let own = self.declared(name);
                self.complain(errors::links_itself(&own, relation, span));
                return None;
            }
            Name::Step(id) => LinkEnd::Step(id),
            Name::Group(id) => LinkEnd::Group(id),
            _ => return None,
        };
        if let (LinkEnd::Step(id), false) = (to, reference.step.positions.is_empty())
            && !self.procedure.step(id).apart
        {
            let step = self.declared(name);
            self.complain(errors::not_apart(span, &step));
            return None;
        }
        Some(StepLink { to, pattern, all: reference.all, span })
    }

    /// Warns of axes to repeat along that no act has; plain words and the like may well be said per position.
    fn idle_axes(&mut self, step: &Step, declaration: &tree::Step) {
        if step.each.is_empty() || step.acts().count() == 0 {
            return;
        }
        let mut touched = Vec::new();
        for act in step.acts() {
            match self.axes_touched(&act.deed) {
                Some(axes) => touched.extend(axes),
                None => return,
            }
        }
        // What stands along an axis differs from group to group as well.
        let along = |own: &AxisId, wanted: AxisId| {
            *own == wanted || self.procedure.axis(*own).groupings.iter().any(|grouping| grouping.by == wanted)
        };
        let idle = |axis: &AxisId| !touched.iter().any(|own| along(own, *axis));
        let idle: Vec<AxisId> = step.each.iter().copied().filter(idle).collect();
        let words = declaration.clauses.iter().find_map(|clause| match &clause.value {
            StepClause::Each { axes, .. } => Some(axes),
            _ => None,
        });
        for word in words.into_iter().flatten() {
            let id = self.procedure.names.get(&word.value);
            if idle.iter().any(|axis| id == Some(&Name::Axis(*axis))) {
                self.complain(errors::idle_axis(word));
            }
        }
    }
}
