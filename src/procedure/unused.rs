//! What the root file declares and nothing uses. Files that are brought in may hold what other families use.

use super::errors;
use super::handling::{drives, reaches, torques};
use super::model::*;
use super::resolver::Resolver;
use super::uses::judged_by_use;
use crate::source::FileId;

impl Resolver {
    pub(super) fn unused(&mut self, root: FileId) {
        let mut complaints = Vec::new();
        for (id, name) in self.procedure.names.iter() {
            let Some(kind) = judged_by_use(name) else { continue };
            if matches!(name, Name::Tool(tool) if self.may_be_brought(tool)) {
                continue;
            }
            if matches!(name, Name::Part(part) if self.procedure.part(part).is_placed()) {
                continue;
            }
            let word = self.declared(name);
            // Whoever names the groups of an axis means its positions.
            let groups = match name {
                Name::Axis(axis) => self.procedure.axis(axis).groupings.clone(),
                _ => Vec::new(),
            };
            let by_group = groups.iter().any(|grouping| self.is_used(Name::Axis(grouping.by), ""));
            if word.span.file == root && !by_group && !self.is_used(name, id) {
                complaints.push(match name {
                    Name::Hazard(hazard) => {
                        let thing = self.brings(self.procedure.hazard(hazard).kind, id);
                        let thing = thing.as_ref().map(|(thing, clause)| (*thing, clause.as_str()));
                        errors::unused_hazard(&word, thing)
                    }
                    Name::Part(_) => errors::unused_part(&word),
                    _ => errors::unused(kind, &word),
                });
            }
        }
        self.diagnostics.extend(complaints);
    }

    /// The first thing that usually brings a hazard of this kind, and the clause with which it would say so.
    fn brings(&self, kind: HazardKind, hazard: &str) -> Option<(&Naming, String)> {
        // What names a hazard of the kind already isn't meant.
        let bare = |part: &&Part| {
            !part.handling.each_hazard().any(|(_, named, _)| self.procedure.hazard(named).kind == kind)
        };
        let part = |wanted: PartKind, way: &str| {
            let of_kind = self.procedure.parts.iter().filter(|part| part.kind == Some(wanted));
            let found = of_kind.clone().find(bare).or_else(|| of_kind.clone().next())?;
            Some((&found.naming, format!("hazard {hazard} {way}")))
        };
        let tool = |wanted: ToolKind| {
            let found = self.procedure.tools.iter().find(|tool| tool.kind == wanted)?;
            Some((&found.naming, format!("hazard {hazard}")))
        };
        match kind {
            HazardKind::Spring => part(PartKind::Spring, "both ways"),
            HazardKind::GasketDust => part(PartKind::Gasket, "off"),
            HazardKind::SealResidue => part(PartKind::Seal, "off"),
            HazardKind::Lead => part(PartKind::Bearing, "off"),
            HazardKind::Puller => tool(ToolKind::Puller),
            HazardKind::Lifting => {
                let heavy = self.procedure.parts.iter().find(|part| self.procedure.is_heavy(part));
                let heavy = heavy.map(|part| (&part.naming, format!("hazard {hazard} both ways")));
                heavy.or_else(|| tool(ToolKind::Hoist))
            }
            // What runs is a state of the whole, with the danger of it.
            HazardKind::Rotating => {
                let state = self.procedure.states.iter().find(|state| state.values.len() > 1)?;
                let value = state.values.iter().enumerate().find(|(index, _)| *index != state.at_first)?.1;
                Some((&state.naming, format!("hazard {hazard} while {value}")))
            }
            _ => None,
        }
    }

    /// Whether a derived step may take this tool for some set: it drives it, or it reaches its torques.
    fn may_be_brought(&self, tool: ToolId) -> bool {
        let tool = self.procedure.tool(tool);
        self.procedure.sets.numbered().any(|(id, set)| match tool.kind {
            ToolKind::TorqueWrench => {
                torques(&self.procedure, id).iter().any(|torque| reaches(tool, *torque))
            }
            _ => matches!(set.drive, Some(Drive::AcrossFlats(size)) if drives(tool, size)),
        })
    }
}
