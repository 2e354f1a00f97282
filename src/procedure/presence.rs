//! Which things engines have, read before all that hangs on it: what is there under which answers, what a set holds, and what
//! a gauge measures. What is said of a thing counts only where that is there.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::collect::Declared;
use super::model::*;
use super::purposes::Purposes;
use super::resolver::Resolver;
use crate::language::tree::{Declaration, FastenerClause, GaugeClause, JointClause, PartClause, Reference};

impl Resolver {
    /// Under which answers engines have parts and sets, and for which parts sets and gauges are there. Of a name that isn't
    /// known, or of another kind, the clause that it stands in complains.
    pub(super) fn presences(&mut self, declared: &Declared) {
        declared.parts.numbered().for_each(|(id, part)| self.part_present(id, part));
        declared.sets.numbered().for_each(|(id, set)| self.set_present(id, set));
        self.purposes = Arc::new(self.read_purposes(declared));
    }

    /// Under which answers engines have a part.
    pub(super) fn part_present(&mut self, id: PartId, part: &Declaration<PartClause>) {
        for clause in &part.clauses {
            if let PartClause::Present(settings, scope) = &clause.value {
                let guard = self.guard(settings);
                let at = self.places(Name::Part(id), &scope.at);
                self.procedure.parts[id].present.extend(at.map(|at| (guard, at)));
            }
        }
    }

    /// Under which answers engines have a set.
    pub(super) fn set_present(&mut self, id: SetId, set: &Declaration<FastenerClause>) {
        for clause in &set.clauses {
            if let FastenerClause::Present(settings, scope) = &clause.value {
                let guard = self.guard(settings);
                let at = self.places(Name::Set(id), &scope.at);
                self.procedure.sets[id].present.extend(at.map(|at| (guard, at)));
            }
        }
    }

    /// For which parts sets and gauges are there.
    pub(super) fn read_purposes(&self, declared: &Declared) -> Purposes {
        let mut purposes = Purposes::default();
        let named = |reference: &Reference| self.procedure.names.get(&reference.name.value).copied();
        let mut clamped: BTreeMap<JointId, (Vec<PartId>, Vec<SetId>)> = BTreeMap::new();
        for (id, joint) in declared.joints.numbered() {
            let (parts, sets) = clamped.entry(id).or_default();
            for clause in &joint.clauses {
                match &clause.value {
                    // The last is the base that stays.
                    JointClause::Clamps(clamps) => {
                        let held = clamps.split_last().map_or(&[][..], |(_, held)| held);
                        parts.extend(held.iter().filter_map(|part| match named(part) {
                            Some(Name::Part(part)) => Some(part),
                            _ => None,
                        }));
                    }
                    JointClause::Holes { set, .. } | JointClause::Tighten { set, .. } => {
                        sets.extend(match named(set) {
                            Some(Name::Set(set)) => Some(set),
                            _ => None,
                        });
                    }
                    _ => {}
                }
            }
        }
        for (parts, sets) in clamped.values() {
            for set in sets {
                purposes.held.entry(*set).or_default().extend(parts);
            }
        }
        for (id, part) in declared.parts.numbered() {
            for clause in &part.clauses {
                let PartClause::HeldBy(holders, _) = &clause.value else { continue };
                for holder in holders {
                    let sets = match named(holder) {
                        Some(Name::Set(set)) => vec![set],
                        Some(Name::Joint(joint)) => {
                            clamped.get(&joint).map_or(Vec::new(), |(_, sets)| sets.clone())
                        }
                        _ => Vec::new(),
                    };
                    for set in sets {
                        purposes.held.entry(set).or_default().push(id);
                    }
                }
            }
        }
        for (id, gauge) in declared.gauges.numbered() {
            for clause in &gauge.clauses {
                if let GaugeClause::Of(part) = &clause.value
                    && let Some(Name::Part(part)) = named(part)
                {
                    purposes.measured.insert(id, part);
                }
            }
        }
        purposes
    }

    /// Under which answers engines have a thing at one of its places: under any of these. One without a term: under all.
    pub(super) fn there(&self, owner: Name, place: Place) -> Vec<Guard> {
        let own = match owner {
            Name::Part(id) => self.procedure.present((id, place)),
            Name::Set(id) => self.procedure.set_present((id, place)),
            _ => Guard::default(),
        };
        let parts: Vec<PartId> = match owner {
            Name::Set(id) => self.purposes.held.get(&id).cloned().unwrap_or_default(),
            Name::Gauge(id) => self.purposes.measured.get(&id).copied().into_iter().collect(),
            _ => Vec::new(),
        };
        // A part that some engine has anyway somewhere is what the thing is there for.
        let there = |part: &PartId| {
            let everywhere = self.procedure.part(*part).present.iter().filter(|(_, at)| at.everywhere());
            Guard(everywhere.flat_map(|(guard, _)| guard.0.iter().cloned()).collect())
        };
        if parts.is_empty() {
            return vec![own];
        }
        let both = |other: Guard| Guard(own.0.iter().cloned().chain(other.0).collect());
        parts.iter().map(|part| both(there(part))).collect()
    }
}
