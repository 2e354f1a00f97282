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
            let word = self.declared(name);
            // Whoever names the groups of an axis means its positions.
            let groups = match name {
                Name::Axis(axis) => self.procedure.axis(axis).groupings.clone(),
                _ => Vec::new(),
            };
            let by_group = groups.iter().any(|grouping| self.is_used(Name::Axis(grouping.by), ""));
            if word.span.file == root && !by_group && !self.is_used(name, id) {
                complaints.push(errors::unused(kind, &word));
            }
        }
        self.diagnostics.extend(complaints);
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
