//! A few declarations read anew in a procedure of which everything else is resolved: what comes of them and what there is to
//! say, as if all had been read. It must not know why they are.

use std::collections::BTreeSet;

use super::blank;
use super::collect::{Declared, naming};
use super::heard::{Heard, Listened};
use super::model::*;
use super::resolver::Resolver;
use super::spans::placed_nowhere;

/// The declarations that are to be read anew, by their numbers.
#[derive(Debug, Default)]
pub(super) struct Anew {
    pub gauges: BTreeSet<GaugeId>,
    pub looks: BTreeSet<LookId>,
    pub sets: BTreeSet<SetId>,
    pub parts: BTreeSet<PartId>,
    pub steps: BTreeSet<StepId>,
    /// Something was typed in a part or in a gauge: sets and gauges may be there for another purpose.
    pub purposes: bool,
}

/// How often and under which answers there is something, and along which axes.
type Header = (Seldom<AxisId>, Cases<Sourced<u32>>, Seldom<(Guard, Places)>);

/// What others see of the things that are read anew, wherever it is said; of steps the axes and groups.
#[derive(PartialEq)]
struct Seen {
    gauges: Vec<(Gauge, bool)>,
    looks: Vec<Look>,
    sets: Vec<Header>,
    parts: Vec<Header>,
    steps: Vec<(Seldom<AxisId>, Option<AxisId>, bool)>,
}

impl Anew {
    /// Reads all of them; none if others might see a difference, or something is to be said of more than their clauses.
    pub(super) fn read(
        &self,
        resolver: &mut Resolver,
        declared: &Declared,
        listened: &mut Listened,
    ) -> Option<()> {
        // What a gauge chooses is noted at the part that it measures.
        let chosen = |of: &Option<Target<PartId>>| of.as_ref().is_none_or(|of| self.parts.contains(&of.id));
        let mut choosing = resolver.procedure.gauges.iter().filter(|gauge| gauge.sold.is_some());
        if choosing.any(|gauge| chosen(&gauge.of)) {
            return None;
        }
        let seen = self.seen(&resolver.procedure);
        self.make_blank(resolver, declared);
        let ((), heard) = resolver.listen(|resolver| self.headers(resolver, declared));
        if heard.noise > 0 || !resolver.is_sound() {
            return None;
        }
        let gauges: Vec<Heard> = self
            .gauges
            .iter()
            .map(|id| resolver.listen(|resolver| resolver.gauge_measure(*id, declared.gauges[*id])).1)
            .collect();
        let (_, heard) = resolver.listen(|resolver| {
            self.gauges.iter().for_each(|id| resolver.formula_dimension(*id));
        });
        if heard.noise > 0 {
            return None;
        }
        for (id, measured) in self.gauges.iter().zip(gauges) {
            let (_, heard) = resolver.listen(|resolver| resolver.gauge_clauses(*id, declared.gauges[*id]));
            listened.gauges[id.index()] = heard.and(measured);
        }
        for id in &self.looks {
            let (_, heard) = resolver.listen(|resolver| resolver.look_clauses(*id, declared.looks[*id]));
            listened.looks[id.index()] = heard;
        }
        if self.seen(&resolver.procedure) != seen {
            return None;
        }
        /// Reads what is read beside others.
        macro_rules! beside {
            ($things:ident, $clauses:ident) => {
                let all: Vec<_> = self.$things.iter().map(|id| (*id, declared.$things[*id])).collect();
                let (made, heard) = resolver.each_of(&all, Resolver::$clauses);
                for (((id, _), made), heard) in all.iter().zip(made).zip(heard) {
                    resolver.procedure.$things.put(*id, made);
                    listened.$things[id.index()] = heard;
                }
            };
        }
        beside!(sets, set_clauses);
        beside!(parts, part_clauses);
        beside!(steps, step_clauses);
        Some(())
    }

    /// Each as it stands with every clause left out.
    fn make_blank(&self, resolver: &mut Resolver, declared: &Declared) {
        let procedure = &mut *resolver.procedure;
        /// What a thing is called, and where.
        macro_rules! named {
            ($things:ident, $id:expr) => {
                naming(&declared.$things[*$id].name, declared.$things[*$id].title.as_ref())
            };
        }
        for id in &self.gauges {
            procedure.gauges[*id] = blank::gauge(named!(gauges, id));
        }
        for id in &self.looks {
            procedure.looks[*id] = blank::look(named!(looks, id));
        }
        for id in &self.sets {
            procedure.sets[*id] = blank::set(named!(sets, id));
        }
        for id in &self.parts {
            procedure.parts[*id] = blank::part(named!(parts, id));
        }
        for id in &self.steps {
            let Step { phase, section, group, .. } = procedure.steps[*id];
            let mut step = Step::blank(named!(steps, id), phase, declared.steps[*id].span);
            (step.section, step.group) = (section, group);
            procedure.steps[*id] = step;
        }
    }

    /// What positions, counts and answers need.
    fn headers(&self, resolver: &mut Resolver, declared: &Declared) {
        for id in &self.parts {
            let part = declared.parts[*id];
            resolver.procedure.parts[*id].axes = resolver.axes(Name::Part(*id), &part.axes).into();
        }
        for id in &self.sets {
            let set = declared.sets[*id];
            resolver.procedure.sets[*id].axes = resolver.axes(Name::Set(*id), &set.axes).into();
        }
        for id in &self.gauges {
            let gauge = declared.gauges[*id];
            resolver.procedure.gauges[*id].axes = resolver.axes(Name::Gauge(*id), &gauge.axes).into();
        }
        for id in &self.looks {
            let look = declared.looks[*id];
            resolver.procedure.looks[*id].axes = resolver.axes(Name::Look(*id), &look.axes).into();
        }
        self.steps.iter().for_each(|id| resolver.step_axes(*id, declared.steps[*id]));
        self.gauges.iter().for_each(|id| resolver.bands_of(*id, declared.gauges[*id]));
        self.looks.iter().for_each(|id| resolver.results_of(*id, declared.looks[*id]));
        self.parts.iter().for_each(|id| resolver.part_present(*id, declared.parts[*id]));
        self.sets.iter().for_each(|id| resolver.set_present(*id, declared.sets[*id]));
        for id in &self.parts {
            resolver.procedure.parts[*id].count =
                resolver.counts(Name::Part(*id), &declared.parts[*id].count, "parts");
        }
        for id in &self.sets {
            resolver.procedure.sets[*id].count =
                resolver.counts(Name::Set(*id), &declared.sets[*id].count, "fasteners");
        }
    }

    /// What others see, wherever it is said. Of what a gauge says that is all but its instrument and its limits, of which others see
    /// whether there are any.
    fn seen(&self, procedure: &Procedure) -> Seen {
        let gauges = self.gauges.iter().map(|id| {
            let mut seen = placed_nowhere(procedure.gauge(*id));
            let limited = !seen.made.is_empty() || !seen.worn.is_empty();
            (seen.made, seen.worn) = Default::default();
            (seen.plausible, seen.instrument, seen.error) = Default::default();
            (seen, limited)
        });
        let looks = self.looks.iter().map(|id| Look { by: None, ..placed_nowhere(procedure.look(*id)) });
        let sets = self.sets.iter().map(|id| {
            let set = procedure.set(*id);
            (set.axes.clone(), placed_nowhere(&set.count), placed_nowhere(&set.present))
        });
        let parts = self.parts.iter().map(|id| {
            let part = procedure.part(*id);
            (part.axes.clone(), placed_nowhere(&part.count), placed_nowhere(&part.present))
        });
        let steps = self.steps.iter().map(|id| {
            let step = procedure.step(*id);
            (step.each.clone(), step.by_group, step.apart)
        });
        Seen {
            gauges: gauges.collect(),
            looks: looks.collect(),
            sets: sets.collect(),
            parts: parts.collect(),
            steps: steps.collect(),
        }
    }
}
