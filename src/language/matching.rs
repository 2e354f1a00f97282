//! Stretches to the declarations in them: the grammar matches each, and what doesn't match is recovered.
//!
//! No stretch depends on another, so a long file is matched on as many threads as there are. The batches are the same
//! on every machine, and so is what comes of them.

use rayon::prelude::*;
use std::collections::BTreeSet;

use super::MOST_FAULTS;
use super::errors;
use super::grammar::{Rule, read};
use super::kept::{Kept, Made, Since};
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

impl Cut<'_> {
    /// Whether a stretch ends with the line end that is put behind the text, and nothing else was.
    fn is_at_end(&self, stretch: &Stretch) -> bool {
        stretch.end == self.length + 1 && self.text.len() == self.length + 1
    }
}

/// What one batch of stretches gives.
#[derive(Default)]
struct Batch {
    items: Vec<Item>,
    faults: Vec<Diagnostic>,
    found: Found,
    /// Stretches that were read without fault, with as many of the items as are of each.
    read: Vec<(Stretch, std::ops::Range<usize>)>,
    /// What each stretch was read to; fewer, where there were too many faults to go on.
    made: Vec<Made>,
}

/// The declarations of all stretches in order, and every fault in them up to about [`MOST_FAULTS`]. What is kept is not read
/// again, and what was read is kept.
pub(super) fn matched(
    cut: &Cut<'_>,
    stretches: &[Stretch],
    mut kept: Option<&mut Kept>,
) -> (Vec<Item>, Vec<Diagnostic>) {
    let common = kept.as_deref_mut().and_then(|kept| kept.common(cut.file, cut.text, stretches));
    #[cfg(test)]
    if let Some(kept) = kept.as_deref_mut() {
        kept.looked_at = common.as_ref().map_or(stretches.len(), |common| common.left(stretches).len());
    }
    if let Some(common) = common {
        let left = common.left(stretches);
        let all = all(cut, &left, kept.as_deref_mut());
        // Of a text with more faults than are told the rest isn't read.
        if cut.faults.len() + all.faults.len() <= MOST_FAULTS && all.made.len() == left.len() {
            let (items, made, since) = common.with(all.items, all.made);
            lend(cut, stretches, made, since, kept);
            return (items, all.faults);
        }
    }
    let all = all(cut, stretches, kept.as_deref_mut());
    lend(cut, stretches, all.made, None, kept);
    (all.items, all.faults)
}

/// Lets the text be given back as a whole, if the whole was read.
fn lend(
    cut: &Cut<'_>,
    stretches: &[Stretch],
    made: Vec<Made>,
    since: Option<Since>,
    kept: Option<&mut Kept>,
) {
    if let Some(kept) = kept.filter(|_| made.len() == stretches.len()) {
        kept.lend(cut.file, cut.text.to_owned(), stretches, made, since);
    }
}

/// What these stretches give.
fn all(cut: &Cut<'_>, stretches: &[Stretch], mut kept: Option<&mut Kept>) -> Batch {
    let known = kept.as_deref();
    // A single batch needs no other core, and waking them takes longer than a short text does.
    let batches: Vec<Batch> = match stretches.len() {
        0..=BATCH => vec![batch(cut, stretches, known)],
        _ => stretches.par_chunks(BATCH).map(|stretches| batch(cut, stretches, known)).collect(),
    };
    let mut all = Batch::default();
    all.items.reserve_exact(batches.iter().map(|batch| batch.items.len()).sum());
    for batch in batches {
        if cut.faults.len() + all.faults.len() > MOST_FAULTS {
            break;
        }
        if let Some(kept) = &mut kept {
            for (stretch, of_it) in batch.read {
                kept.keep(&cut.text[stretch.start..stretch.end], stretch.start, &batch.items[of_it]);
            }
        }
        all.items.extend(batch.items);
        all.faults.extend(batch.faults);
        all.found.add(batch.found);
        all.made.extend(batch.made);
    }
    all.faults.extend(std::mem::take(&mut all.found).faults());
    all
}

fn batch(cut: &Cut<'_>, stretches: &[Stretch], kept: Option<&Kept>) -> Batch {
    // A place that has been complained of is not complained of again.
    let mut faults = cut.faults.to_vec();
    let mut done = Batch::default();
    for stretch in stretches {
        if faults.len() > MOST_FAULTS {
            break;
        }
        let text = &cut.text[stretch.start..stretch.end];
        if let Some(items) = kept.and_then(|kept| kept.of(text, cut.file, stretch.start)) {
            done.made.push(Made {
                items: items.len(),
                sound: stretch.end <= cut.length,
                at_end: cut.is_at_end(stretch),
            });
            done.items.extend(items);
            continue;
        }
        if text.len() > LONGEST {
            let start = Span::new(cut.file, stretch.start, stretch.start);
            faults.push(errors::too_large(start, "this declaration"));
            done.made.push(Made { items: 0, sound: false, at_end: false });
            continue;
        }
        let builder = Builder::new(cut.file, cut.length);
        builder.start_at(stretch.start);
        let before = done.items.len();
        let whole = match read(Rule::stretch, text) {
            Ok(node) => {
                let items = node.into_inner().filter(|child| child.as_rule() != Rule::EOI);
                done.items.extend(items.map(|child| item(&builder, &child)));
                true
            }
            Err(_) => {
                let mut recovery = Recovery {
                    builder: &builder,
                    faults: &mut faults,
                    faulty_lines: cut.faulty_lines,
                    whole: cut.text,
                    owner: "",
                };
                done.items.extend(recovery.stretch(Place { file: cut.file, base: stretch.start, text }));
                false
            }
        };
        let found = builder.finish();
        // Places behind the end of the text were drawn in.
        let faultless = whole && found.is_empty();
        let sound = faultless && stretch.end <= cut.length;
        let at_end = faultless && cut.is_at_end(stretch);
        if sound && kept.is_some() {
            done.read.push((*stretch, before..done.items.len()));
        }
        done.made.push(Made { items: done.items.len() - before, sound, at_end });
        done.found.add(found);
    }
    done.faults = faults.split_off(cut.faults.len());
    done
}
