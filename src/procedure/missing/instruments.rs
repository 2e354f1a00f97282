//! Instruments that gauges name in words against the tools of the step that reads them: what is only named isn't in the kit.
//! Words of both are compared, without those that every instrument has: common practice, no source.

use std::collections::BTreeSet;

use super::Judged;
use crate::diagnostics::Diagnostic;
use crate::procedure::errors;
use crate::procedure::model::*;

/// Words that tell no instrument from another.
const OF_ANY: [&str; 13] = [
    "gauge",
    "scale",
    "set",
    "with",
    "the",
    "and",
    "for",
    "small",
    "large",
    "two",
    "one",
    "tool",
    "instrument",
];

/// Words behind which it is said where the instrument stands, no longer what it is.
const WHERE: [&str; 4] = [" on ", " at ", " in ", " of "];

impl Judged<'_> {
    /// Readings whose instrument none of the step's tools is called by, each instrument once.
    pub(super) fn instruments(&self) -> Vec<Diagnostic> {
        // A file that declares nothing to measure with says by the gauges alone what is to be at hand.
        if self.derived || !self.known.measures {
            return Vec::new();
        }
        let measures = |tool: &Tool| tool.kind == ToolKind::Measuring;
        let listed: Vec<&Tool> = self.step.listed().map(|(tool, _)| self.procedure.tool(tool)).collect();
        let mut told: Vec<&str> = Vec::new();
        let mut complaints = Vec::new();
        for act in self.step.acts() {
            let Deed::Gauge(targets) = &act.deed else { continue };
            for target in targets {
                let gauge = self.procedure.gauge(target.id);
                let Some((instrument, _)) = &gauge.instrument else { continue };
                if told.contains(&instrument.as_str()) {
                    continue;
                }
                told.push(instrument);
                let pieces: Vec<BTreeSet<String>> = pieces(instrument).collect();
                let best = |piece: &BTreeSet<String>| {
                    let all = self.procedure.tools.iter().filter(|tool| measures(tool));
                    all.map(|tool| shared(tool, piece)).max().unwrap_or(0)
                };
                // A wrench that is set to a torque reads none, where something to read with is called by more of the words.
                let reads = |tool: &Tool, piece: &BTreeSet<String>| {
                    called(tool, piece)
                        && (tool.kind != ToolKind::TorqueWrench || shared(tool, piece) >= best(piece))
                };
                let served = |piece: &&BTreeSet<String>| listed.iter().any(|tool| reads(tool, piece));
                let lacking = pieces.iter().filter(|piece| !served(piece));
                let lacking: Vec<&BTreeSet<String>> = lacking.collect();
                let declared = self.procedure.tools.iter().filter(|tool| measures(tool));
                let declared = declared.filter(|tool| {
                    lacking.iter().any(|piece| called(tool, piece) && shared(tool, piece) == best(piece))
                });
                let declared: Vec<&str> = declared.map(|tool| tool.naming.id.as_str()).collect();
                // A piece that no tool is called by is part of another, or says how it is used, where any other is there.
                if !lacking.is_empty() && (lacking.len() == pieces.len() || !declared.is_empty()) {
                    let named = (&gauge.naming, instrument.as_str());
                    complaints.push(errors::no_instrument(named, self.id, target.span, &declared));
                }
            }
        }
        complaints
    }
}

/// Whether a tool is called by the words of a piece.
fn called(tool: &Tool, piece: &BTreeSet<String>) -> bool {
    shared(tool, piece) > 0
}

/// How many of the words of a piece a tool is called by.
fn shared(tool: &Tool, piece: &BTreeSet<String>) -> usize {
    words(&tool.naming.title).intersection(piece).count()
}

/// The pieces that an instrument is made up of, each by its words: `straight edge and feelers`. One that is told by words of any
/// instrument only is left out.
fn pieces(instrument: &str) -> impl Iterator<Item = BTreeSet<String>> {
    let pieces = instrument.split(',').flat_map(|piece| piece.split(" and "));
    let pieces = pieces.map(|piece| {
        let ends = WHERE.iter().filter_map(|word| piece.find(word));
        words(&piece[..ends.min().unwrap_or(piece.len())])
    });
    pieces.filter(|piece| !piece.is_empty())
}

/// The words that tell an instrument from others, one and several alike.
fn words(text: &str) -> BTreeSet<String> {
    let text = text.to_lowercase();
    let words = text.split(|c: char| !c.is_alphanumeric()).filter(|word| word.len() > 2);
    let words = words.filter(|word| !word.starts_with(|c: char| c.is_ascii_digit()));
    let one = words.map(|word| word.strip_suffix('s').unwrap_or(word).to_owned());
    one.filter(|word| !OF_ANY.contains(&word.as_str())).collect()
}
