//! Stretches to the declarations in them: the grammar matches each, and what doesn't match is recovered.
//!
//! No stretch depends on another, so a long file is matched on as many threads as there are. The batches are the same
//! on every machine, and so is what comes of them.

use rayon::prelude::*;
use std::collections::BTreeSet;

use super::MOST_FAULTS;
use super::errors;
use super::grammar::{Rule, read};
use super::lower::{Builder, Found};
use super::place::Place;
use super::recover::Recovery;
use super::shape::item;
use super::stretch::Stretch;
use super::tree::Item;
use crate::diagnostics::Diagnostic;
use crate::source::{FileId, Span};

/// Bytes that one declaration may have, or several on one line: a block of more than ten thousand steps.
const LONGEST: usize = 2 * 1024 * 1024;

/// Stretches that a thread takes at once. A procedure of one engine is one batch or two.
const BATCH: usize = 512;

/// A file that is scanned and cut.
pub(super) struct Cut<'a> {
    /// The file.
    pub file: FileId,
    /// Its text, its braces mended.
    pub text: &'a str,
    /// Bytes of the text as it was written.
    pub length: usize,
    /// What has been complained of so far.
    pub faults: &'a [Diagnostic],
    /// Starts of the lines that have been complained of.
    pub faulty_lines: &'a BTreeSet<usize>,
}

/// What one batch of stretches gives.
struct Batch {
    items: Vec<Item>,
    faults: Vec<Diagnostic>,
    found: Found,
}

/// The declarations of all stretches in order, and every fault in them up to about [`MOST_FAULTS`].
pub(super) fn matched(cut: &Cut<'_>, stretches: &[Stretch]) -> (Vec<Item>, Vec<Diagnostic>) {
    let batches: Vec<Batch> = stretches.par_chunks(BATCH).map(|stretches| batch(cut, stretches)).collect();
    let (mut items, mut faults, mut found) = (Vec::new(), Vec::new(), Found::default());
    for batch in batches {
        if cut.faults.len() + faults.len() > MOST_FAULTS {
            break;
        }
        items.extend(batch.items);
        faults.extend(batch.faults);
        found.add(batch.found);
    }
    faults.extend(found.faults());
    (items, faults)
}

fn batch(cut: &Cut<'_>, stretches: &[Stretch]) -> Batch {
    let builder = Builder::new(cut.file, cut.length);
    let mut items = Vec::new();
    // A place that has been complained of is not complained of again.
    let mut faults = cut.faults.to_vec();
    for stretch in stretches {
        if faults.len() > MOST_FAULTS {
            break;
        }
        builder.start_at(stretch.start);
        let text = &cut.text[stretch.start..stretch.end];
        if text.len() > LONGEST {
            let start = Span::new(cut.file, stretch.start, stretch.start);
            faults.push(errors::too_large(start, "this declaration"));
            continue;
        }
        match read(Rule::stretch, text) {
            Ok(node) => items.extend(
                node.into_inner()
                    .filter(|child| child.as_rule() != Rule::EOI)
                    .map(|child| item(&builder, &child)),
            ),
            Err(_) => {
                let mut recovery = Recovery {
                    builder: &builder,
                    faults: &mut faults,
                    faulty_lines: cut.faulty_lines,
                    whole: cut.text,
                    owner: "",
                };
                items.extend(recovery.stretch(Place { file: cut.file, base: stretch.start, text }));
            }
        }
    }
    Batch { items, faults: faults.split_off(cut.faults.len()), found: builder.finish() }
}
