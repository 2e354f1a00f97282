//! Instruments that gauges name in words against the tools of the step that reads them: what is only named isn't in the kit.
//! Words of both are compared, without those that every instrument has: common practice, no source.

use std::collections::BTreeSet;

use super::Judged;
use crate::diagnostics::Diagnostic;
use crate::procedure::errors;
use crate::procedure::model::*;

/// Words that tell no instrument from another.
const OF_ANY: [&str; 13] =
    ["gauge", "scale", "set", "with", "the", "and", "for", "small", "large", "two", "one", "tool", "instrument"];

/// Words behind which it is said where the instrument stands, no longer what it is.
const WHERE: [&str; 4] = [" on ", " at ", " in ", " of "];

impl Judged<'_> {
    /// Readings whose instrument none of the step's tools is called by, each instrument once.
    pub(super) fn instruments(&self) -> Vec<Diagnostic> {
        let measures = |tool: &Tool| tool.kind == ToolKind::Measuring;
        // A file that declares nothing to measure with says by the gauges alone what is to be at hand.
        if self.derived || !self.procedure.tools.iter().any(measures) {
            return Vec::new();
        }
        let listed: Vec<&Tool> = self.step.listed().map(|(tool, _)| self.procedure.tool(tool)).collect();
        let mut told: Vec<&str> = Vec::new();
        let mut complaints = Vec::new();
        for act in self.step.acts() {
            let Deed::Gauge(targets) = &act.deed else { continue };
            for target in targets {
                let gauge = self.procedure.gauge(target.id);
                let Some((instrument, _)) = &gauge.instrument else { continue };
                let ends = WHERE.iter().filter_map(|word| instrument.find(word));
                let wanted = words(&instrument[..ends.min().unwrap_or(instrument.len())]);
                if wanted.is_empty() || told.contains(&instrument.as_str()) {
                    continue;
                }
                let serves = |tool: &Tool| !words(&tool.naming.title).is_disjoint(&wanted);
                if listed.iter().any(|tool| serves(tool)) {
                    continue;
                }
                told.push(instrument);
                let declared = self.procedure.tools.iter().filter(|tool| measures(tool) && serves(tool));
                let declared: Vec<&str> = declared.map(|tool| tool.naming.id.as_str()).collect();
                let named = (&gauge.naming, instrument.as_str());
                complaints.push(errors::no_instrument(named, self.id, target.span, &declared));
            }
        }
        complaints
    }
}

/// The words that tell an instrument from others, one and several alike.
fn words(text: &str) -> BTreeSet<String> {
    let text = text.to_lowercase();
    let words = text.split(|c: char| !c.is_alphanumeric()).filter(|word| word.len() > 2);
    let words = words.filter(|word| !word.starts_with(|c: char| c.is_ascii_digit()));
    let one = words.map(|word| word.strip_suffix('s').unwrap_or(word).to_owned());
    one.filter(|word| !OF_ANY.contains(&word.as_str())).collect()
}
