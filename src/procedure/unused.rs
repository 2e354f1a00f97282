//! What the root file declares and nothing uses. Files that are brought in may hold what other families use.

use super::errors;
use super::model::*;
use super::resolver::Resolver;
use crate::source::FileId;

impl Resolver {
    pub(super) fn unused(&mut self, root: FileId) {
        let names: Vec<(String, Name)> =
            self.procedure.names.iter().map(|(id, name)| (id.clone(), *name)).collect();
        for (id, name) in names {
            let kind = match name {
                Name::Axis(_) => "axis",
                Name::Ask(_) => "question",
                Name::Setup(_) => "setup",
                Name::State(_) => "state",
                Name::Tool(_) => "tool",
                Name::Supply(_) => "supply",
                Name::Temporary(_) => "temporary",
                Name::Hazard(_) => "hazard",
                // Parts, sets, joints and readings that no step touches are judged by what is done to them, and
                // rules hold without being named.
                Name::Section(_)
                | Name::Part(_)
                | Name::Set(_)
                | Name::Joint(_)
                | Name::Gauge(_)
                | Name::Look(_)
                | Name::Rule(_)
                | Name::Step(_)
                | Name::Group(_) => continue,
            };
            let word = self.declared(name);
            // Whoever names the groups of an axis means its positions.
            let groups = match name {
                Name::Axis(axis) => self.procedure.axis(axis).groupings.clone(),
                _ => Vec::new(),
            };
            let by_group = groups.iter().any(|grouping| self.is_used(Name::Axis(grouping.by), ""));
            if word.span.file == root && !by_group && !self.is_used(name, &id) {
                self.complain(errors::unused(kind, &word));
            }
        }
    }
}
