//! Declarations that were read before, by their text: in a text that changes key by key almost all of them stay the same.
//!
//! Two ways lead to them. A text that was read as a whole and given back afterwards is taken up again where it has not changed,
//! at its start and at its end, and nothing of it is copied. What stands between is looked up declaration by declaration.

use std::collections::HashMap;
use std::ops::Range;
use std::sync::Arc;

use rayon::prelude::*;

use super::stretch::Stretch;
use super::tree::{Item, Move, Moved, Tree};
use crate::source::{FileId, Span};

/// Declarations that a thread moves at once.
const BATCH: usize = 512;

/// Stretches that are kept: those of several procedures of ten thousand steps.
const MOST_STRETCHES: usize = 100_000;

/// Texts that are kept as a whole: those of a few procedures with all that they bring in.
const MOST_TEXTS: usize = 64;

/// What was read of texts, for whoever reads nearly the same texts again.
#[derive(Debug, Clone, Default)]
pub(crate) struct Kept {
    stretches: HashMap<Box<str>, Arc<Known>>,
    texts: Vec<Text>,
    /// How each file was read last.
    readings: Vec<(FileId, Reading)>,
    /// How many readings there have been.
    count: u64,
    /// Stretches of the last text that were not taken up again with all around them.
    #[cfg(test)]
    pub(crate) looked_at: usize,
}

/// One reading of a text.
#[derive(Debug, Clone)]
pub(crate) struct Reading {
    /// Its number, which no other has.
    pub number: u64,
    /// What has changed since an earlier one; none where that isn't known, or where there are more declarations or fewer.
    pub since: Option<Since>,
}

/// What has changed since an earlier reading, which had as many declarations.
#[derive(Debug, Clone)]
pub(crate) struct Since {
    /// The number of that reading.
    pub number: u64,
    /// The declarations that were read anew, by their number. All others say the same.
    pub anew: Vec<usize>,
    /// The file, and its bytes then between what has stayed at its start and what has stayed at its end.
    file: FileId,
    went: Range<usize>,
    /// Where the end begins now.
    end: usize,
}

impl Since {
    /// Where a place of that reading is now; none for one that was read anew.
    pub(crate) fn now(&self, was: Span) -> Option<Span> {
        if was.file != self.file || (was.start() < self.went.start && was.end() <= self.went.start) {
            return Some(was);
        }
        let at = |byte: usize| byte - self.went.end + self.end;
        // A place without length between the two could be of either.
        let behind =
            was.start() >= self.went.end && (was.start() > self.went.start || was.end() > was.start());
        behind.then(|| Span::new(was.file, at(was.start()), at(was.end())))
    }

    /// The file.
    pub(crate) fn file(&self) -> FileId {
        self.file
    }

    /// Whether the whole text is as it was.
    pub(crate) fn is_nothing(&self) -> bool {
        self.anew.is_empty() && self.went.is_empty() && self.went.end == self.end
    }
}

/// The declarations of a stretch without fault.
#[derive(Debug)]
struct Known {
    /// Where it started.
    start: usize,
    items: Vec<Item>,
}

/// What a stretch was read to.
#[derive(Debug, Clone, Copy)]
pub(super) struct Made {
    /// How many declarations are of it.
    pub items: usize,
    /// It was read without fault, and all of it lies in the text as it was written.
    pub sound: bool,
    /// It was read without fault, and ends with the line end that is put behind every text.
    pub at_end: bool,
}

/// A text that was read as a whole.
#[derive(Debug, Clone)]
struct Text {
    file: FileId,
    /// Of which reading it is.
    number: u64,
    /// As it was scanned, its braces mended.
    text: String,
    stretches: Vec<(Stretch, Made)>,
    /// Its declarations; none while somebody has them.
    items: Option<Vec<Item>>,
}

/// What a text has in common with the one that was read before it.
pub(super) struct Common {
    /// The declarations at its start, those that have gone, and those at its end, all of them where they stand now.
    items: Vec<Item>,
    /// Which of them have gone.
    gone: Range<usize>,
    /// What the stretches at its start and at its end were read to.
    start: Vec<Made>,
    end: Vec<Made>,
    /// Those among them that had faults, which are to be told again: each with the declarations that it was read to.
    again: Vec<(usize, Range<usize>)>,
    /// What has changed, but for the declarations.
    since: Option<Since>,
}

/// Stretches with faults that are told again by themselves; where there are more, what lies between them is looked up.
const MOST_AGAIN: usize = 16;

impl Kept {
    /// The declarations of a stretch with this text, as they stand if it starts at this byte of a file.
    pub(super) fn of(&self, text: &str, file: FileId, start: usize) -> Option<Vec<Item>> {
        let known = self.stretches.get(text)?;
        let mut items = known.items.clone();
        items.moved(Move { file, from: known.start, to: start });
        Some(items)
    }

    /// A reading of a file begins.
    pub(super) fn begin(&mut self, file: FileId) {
        self.count += 1;
        self.readings.retain(|(known, _)| *known != file);
        self.readings.push((file, Reading { number: self.count, since: None }));
    }

    /// The last reading of a file.
    pub(crate) fn reading(&self, file: FileId) -> Option<&Reading> {
        self.readings.iter().find(|(known, _)| *known == file).map(|(_, reading)| reading)
    }

    /// How many stretches are kept.
    #[cfg(test)]
    pub(crate) fn known(&self) -> usize {
        self.stretches.len()
    }

    /// Keeps what a stretch without fault was read to.
    pub(super) fn keep(&mut self, text: &str, start: usize, items: &[Item]) {
        if self.stretches.len() >= MOST_STRETCHES {
            self.stretches.clear();
        }
        self.stretches.insert(text.into(), Arc::new(Known { start, items: items.to_vec() }));
    }

    /// What a text of the file, cut into these stretches, has in common with the one that was read before, if that was given back.
    pub(super) fn common(&mut self, file: FileId, text: &str, stretches: &[Stretch]) -> Option<Common> {
        let at = self.texts.iter().position(|known| known.file == file)?;
        let known = self.texts.swap_remove(at);
        let mut items = known.items?;
        let same = |was: &Stretch, is: &Stretch| {
            was.end - was.start == is.end - is.start
                && known.text.as_bytes()[was.start..was.end] == text.as_bytes()[is.start..is.end]
        };
        let pairs = known.stretches.iter().zip(stretches);
        let mut faulty = 0;
        let from_start = |((was, made), is): &(&(Stretch, Made), &Stretch)| {
            faulty += usize::from(!made.sound);
            faulty <= MOST_AGAIN && was.start == is.start && same(was, is)
        };
        let start = pairs.take_while(from_start).count();
        let (was_left, is_left) = (&known.stretches[start..], &stretches[start..]);
        // What was the last is at the end again.
        let mut faulty = 0;
        let from_end = |((was, made), is): &(&(Stretch, Made), &Stretch)| {
            faulty += usize::from(!made.sound && !made.at_end);
            faulty <= MOST_AGAIN && same(was, is)
        };
        let end = was_left.iter().rev().zip(is_left.iter().rev()).take_while(from_end);
        // All at the end have moved by as much as the first of them.
        let by = |(was, is): (&(Stretch, Made), &Stretch)| is.start.wrapping_sub(was.0.start);
        let first = was_left.last().zip(is_left.last()).map(by);
        let end = end.take_while(|pair| Some(by((pair.0, pair.1))) == first).count();
        let count =
            |stretches: &[(Stretch, Made)]| stretches.iter().map(|(_, made)| made.items).sum::<usize>();
        let made = |stretches: &[(Stretch, Made)]| stretches.iter().map(|(_, made)| *made).collect();
        let (before, behind) = (&known.stretches[..start], &was_left[was_left.len() - end..]);
        let gone = count(before)..items.len() - count(behind);
        if let (Some((was, _)), Some(is)) = (behind.first(), is_left.get(is_left.len() - end))
            && was.start != is.start
        {
            let by = Move { file, from: was.start, to: is.start };
            items[gone.end..].par_chunks_mut(BATCH).flatten().for_each(|item| item.moved(by));
        }
        let at_start = again(before, 0, |made| !made.sound);
        let at_end = again(behind, gone.end, |made| !made.sound && !made.at_end);
        let again = at_start.chain(at_end.map(|(at, of)| (start + at, of))).collect();
        let since = Some(Since {
            number: known.number,
            anew: Vec::new(),
            file,
            went: before.last().map_or(0, |(last, _)| last.end)
                ..behind.first().map_or(known.text.len(), |(first, _)| first.start),
            end: is_left.get(is_left.len() - end).map_or(text.len(), |first| first.start),
        });
        Some(Common { items, gone, start: made(before), end: made(behind), again, since })
    }

    /// Keeps a text as a whole, but for its declarations, which whoever has them may give back.
    pub(super) fn lend(
        &mut self,
        file: FileId,
        text: String,
        stretches: &[Stretch],
        made: Vec<Made>,
        since: Option<Since>,
    ) {
        let reading = self.readings.iter_mut().find(|(known, _)| *known == file);
        let number = reading.map_or(0, |(_, reading)| {
            reading.since = since;
            reading.number
        });
        self.texts.retain(|known| known.file != file);
        if self.texts.len() >= MOST_TEXTS {
            self.texts.remove(0);
        }
        let stretches = stretches.iter().copied().zip(made).collect();
        self.texts.push(Text { file, number, text, stretches, items: None });
    }

    /// Takes back the declarations of the text that was read last of a file. They must be as they were read.
    pub(crate) fn give_back(&mut self, tree: Tree) {
        if let Some(known) = self.texts.iter_mut().find(|known| known.file == tree.file) {
            let count = known.stretches.iter().map(|(_, made)| made.items).sum::<usize>();
            known.items = Some(tree.items).filter(|items| items.len() == count);
        }
    }
}

impl Common {
    /// Those of these stretches that are to be read: what is not common, and what had faults.
    pub(super) fn left(&self, stretches: &[Stretch]) -> Vec<Stretch> {
        let (start, between) = (self.start.len(), stretches.len() - self.start.len() - self.end.len());
        let before = self.faulty_at_start();
        let faulty =
            |(at, _): &(usize, Range<usize>)| stretches[if *at < start { *at } else { *at + between }];
        let new = stretches[start..start + between].iter().copied();
        let (before, behind) = self.again.split_at(before);
        before.iter().map(faulty).chain(new).chain(behind.iter().map(faulty)).collect()
    }

    /// How many of those with faults stand at the start.
    fn faulty_at_start(&self) -> usize {
        self.again.partition_point(|(at, _)| *at < self.start.len())
    }

    /// All declarations and what each stretch was read to, with these where the others have gone: what those that were left have
    /// been read to, in order; and what has changed, if there are as many as before.
    pub(super) fn with(
        mut self,
        mut items: Vec<Item>,
        mut made: Vec<Made>,
    ) -> (Vec<Item>, Vec<Made>, Option<Since>) {
        let mut since = self.since.take();
        let (before, start) = (self.faulty_at_start(), self.start.len());
        let behind = self.again.split_off(before);
        let between = made.len() - before - behind.len();
        let mut put = |gone: Range<usize>, made: &[Made]| {
            let count: usize = made.iter().map(|made| made.items).sum();
            since = since.take().filter(|_| count == gone.len());
            since.iter_mut().for_each(|since| since.anew.extend(gone.clone()));
            self.items.splice(gone, items.split_off(items.len() - count));
        };
        // From the end, so that nothing has moved of what is still to be put.
        for ((at, gone), own) in behind.into_iter().zip(made.split_off(before + between)).rev() {
            put(gone, &[own]);
            self.end[at - start] = own;
        }
        let between = made.split_off(before);
        put(self.gone, &between);
        for ((at, gone), own) in self.again.into_iter().zip(made).rev() {
            put(gone, &[own]);
            self.start[at] = own;
        }
        self.start.extend(between);
        self.start.extend(self.end);
        (self.items, self.start, since)
    }
}

/// Those of some stretches that had faults, each with its declarations; those of the first begin at a number.
fn again(
    stretches: &[(Stretch, Made)],
    first: usize,
    faulty: fn(&Made) -> bool,
) -> impl Iterator<Item = (usize, Range<usize>)> {
    let mut next = first;
    stretches.iter().enumerate().filter_map(move |(at, (_, made))| {
        let own = next..next + made.items;
        next = own.end;
        faulty(made).then_some((at, own))
    })
}
