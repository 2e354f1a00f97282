//! What a joint clamps, and what seals its parts, as a stack: `clamps` names it from the top down to the base, so each
//! lies under the one before; a seal lies under what it seals. What is said with `under` goes before it. It must not
//! know what is done to anything.

use super::model::*;
use super::resolver::Resolver;

impl Resolver {
    /// Makes every stack into facts.
    pub(super) fn stack(&mut self) {
        let mut pairs: Vec<(PartId, Target<PartId>)> = Vec::new();
        for joint in self.procedure.joints.iter() {
            for pair in joint.held().windows(2) {
                let [upper, lower] = pair else { continue };
                let axes = |id: PartId| self.procedure.part(id).axes.as_slice();
                let pattern =
                    self.procedure.carried(&lower.pattern, axes(lower.id), &upper.pattern, axes(upper.id));
                pairs.push((lower.id, Target { id: upper.id, pattern, span: upper.span }));
            }
        }
        for (id, part) in self.procedure.parts.numbered() {
            for seal in &part.sealed_by {
                let axes = &self.procedure.part(seal.id).axes;
                let pattern = self.procedure.carried(&seal.pattern, axes, &Pattern::default(), &part.axes);
                pairs.push((seal.id, Target { id, pattern, span: seal.span }));
            }
        }
        for (lower, upper) in pairs {
            if !self.related(lower, upper.id) {
                let span = upper.span;
                self.procedure.parts[lower].under.push(Cover::by_part(upper, span));
            }
        }
    }

    /// Whether something is said already of which of the two comes off first.
    fn related(&self, one: PartId, other: PartId) -> bool {
        let says = |lower: PartId, upper: PartId| {
            let part = self.procedure.part(lower);
            let covers =
                part.under.iter().any(|cover| matches!(&cover.by, CoverThing::Part(by) if by.id == upper));
            covers || part.within.as_ref().is_some_and(|within| within.host.id == upper)
        };
        one == other || says(one, other) || says(other, one)
    }
}
