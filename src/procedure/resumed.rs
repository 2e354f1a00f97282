//! What was resolved of a text, taken up again for the next state of it, in which a declaration or two have been typed in: those
//! are read anew, and everything else is put where it stands now.
//!
//! That holds as long as nobody else could see a difference: the names, kinds and places of things are the same, and so is of each
//! declaration all that the clauses of others look at (`seen`). What had complaints is always read anew, so that what is said
//! of it is said again; where the family, axes, joints or names had some, all is. It must not know what was typed.

use std::collections::BTreeSet;
use std::sync::Arc;

use rayon::prelude::*;

use super::anew::Anew;
use super::collect::{Declared, declared};
use super::heard::{Heard, Listened};
use super::model::*;
use super::purposes::Purposes;
use super::resolver::{BATCH, Resolver};
use super::spans::Spans;
use super::troubles::Troubles;
use crate::language::tree::{Item, Tree};
use crate::language::{Kept, Since};
use crate::source::FileId;

/// What was resolved last of a procedure, up to what its steps say; nothing at first, and where it can't be taken up.
#[derive(Debug, Clone, Default)]
pub(crate) struct Remembered {
    state: Option<State>,
    /// How often it was taken up.
    #[cfg(test)]
    pub resumed: usize,
}

#[derive(Debug, Clone)]
struct State {
    /// The files in the order in which their declarations come in, each with the number of its reading.
    readings: Vec<(FileId, u64)>,
    procedure: Procedure,
    listened: Listened,
    /// What is used by all that isn't listened to.
    used: BTreeSet<Name>,
    joints_of: Arc<Vec<Vec<JointId>>>,
    purposes: Arc<Purposes>,
}

impl Remembered {
    /// Keeps what a resolver has made of whole trees, if nothing was said but of what was listened to.
    pub(super) fn keep(&mut self, trees: &[Tree], read: &Kept, resolver: &Resolver, listened: &Listened) {
        let noise: usize = listened.all().map(|heard| heard.noise).sum();
        let readings = readings(trees, read).filter(|_| resolver.noise() == noise && resolver.is_sound());
        self.state = readings.map(|readings| State {
            readings,
            procedure: (*resolver.procedure).clone(),
            listened: listened.clone(),
            used: resolver.used_elsewhere().clone(),
            joints_of: Arc::clone(&resolver.joints_of),
            purposes: Arc::clone(&resolver.purposes),
        });
    }

    /// Takes up what was resolved of the readings just before these; none where all is to be resolved anew. `liked` are the names of
    /// what anything is like.
    pub(super) fn resume<'t>(
        &mut self,
        trees: &'t [Tree],
        read: &Kept,
        liked: &BTreeSet<String>,
        troubles: &Arc<Troubles>,
    ) -> Option<(Resolver, Declared<'t>)> {
        let state = self.state.take()?;
        let since = state.since(trees, read)?;
        let declared = declared(trees);
        let anew = state.anew(trees, since, &declared, liked)?;
        let State { mut procedure, mut listened, used, joints_of, purposes, .. } = state;
        let anew = put_where_it_stands(&mut procedure, &mut listened, since, anew)?;
        let known = (Arc::clone(&joints_of), Arc::clone(&purposes));
        let mut resolver = Resolver::resumed(procedure, Arc::clone(troubles), known);
        if anew.purposes && resolver.read_purposes(&declared) != *purposes {
            return None;
        }
        anew.read(&mut resolver, &declared, &mut listened)?;
        self.state = Some(State {
            readings: readings(trees, read)?,
            procedure: (*resolver.procedure).clone(),
            listened: listened.clone(),
            used: used.clone(),
            joints_of,
            purposes,
        });
        #[cfg(test)]
        (self.resumed += 1);
        resolver.use_too(used.into_iter().chain(listened.used()));
        Some((resolver, declared))
    }
}

/// The number of the last reading of each text.
fn readings(trees: &[Tree], read: &Kept) -> Option<Vec<(FileId, u64)>> {
    trees.iter().map(|tree| Some((tree.file, read.reading(tree.file)?.number))).collect()
}

impl State {
    /// What has changed since, if that is known and has changed in one text only.
    fn since<'k>(&self, trees: &[Tree], read: &'k Kept) -> Option<&'k Since> {
        if trees.len() != self.readings.len() {
            return None;
        }
        let mut changed = None;
        let mut last = None;
        for (tree, (file, number)) in trees.iter().zip(&self.readings) {
            let since = read.reading(tree.file)?.since.as_ref()?;
            if tree.file != *file || since.number != *number {
                return None;
            }
            if !since.is_nothing() && changed.replace(since).is_some() {
                return None;
            }
            last = Some(since);
        }
        changed.or(last)
    }

    /// The declarations that are to be read anew: those that were typed in, if each is what it was, and those that had complaints.
    fn anew(
        &self,
        trees: &[Tree],
        since: &Since,
        declared: &Declared,
        liked: &BTreeSet<String>,
    ) -> Option<Anew> {
        let mut anew = Anew::default();
        let tree = trees.iter().find(|tree| tree.file == since.file())?;
        /// Notes a declaration that has the number and the name that it had.
        macro_rules! same {
            ($declaration:expr, $name:ident, $things:ident) => {{
                let name = &$declaration.name.value;
                let Some(Name::$name(id)) = self.procedure.names.get(name).copied() else { return None };
                if !std::ptr::eq(*declared.$things.get(id.index())?, $declaration) || liked.contains(name) {
                    return None;
                }
                anew.$things.insert(id);
                id
            }};
        }
        for at in &since.anew {
            match tree.items.get(*at)? {
                Item::Part(part) => {
                    same!(part, Part, parts);
                    anew.purposes = true;
                }
                Item::Fasteners(set) => drop(same!(set, Set, sets)),
                Item::Gauge(gauge) => {
                    same!(gauge, Gauge, gauges);
                    anew.purposes = true;
                }
                Item::Look(look) => drop(same!(look, Look, looks)),
                Item::Step(step) => {
                    let id = same!(step, Step, steps);
                    if self.procedure.step(id).phase != step.phase {
                        return None;
                    }
                }
                _ => return None,
            }
        }
        anew.gauges.extend(noisy::<GaugeId>(&self.listened.gauges));
        anew.looks.extend(noisy::<LookId>(&self.listened.looks));
        anew.sets.extend(noisy::<SetId>(&self.listened.sets));
        anew.parts.extend(noisy::<PartId>(&self.listened.parts));
        anew.steps.extend(noisy::<StepId>(&self.listened.steps));
        Some(anew)
    }
}

/// The numbers of the things of which something was said.
fn noisy<Id: Number>(heard: &[Heard]) -> impl Iterator<Item = Id> {
    let noisy = heard.iter().enumerate().filter(|(_, heard)| heard.noise > 0);
    noisy.map(|(index, _)| Id::of(index))
}

/// Puts all places where they stand now, those of what is read anew excepted; none if one of them was typed in. Sets, parts and
/// steps that speak of such a place are to be read anew too.
fn put_where_it_stands(
    procedure: &mut Procedure,
    listened: &mut Listened,
    since: &Since,
    mut anew: Anew,
) -> Option<Anew> {
    let mut gauges = std::mem::take(&mut procedure.gauges);
    let mut looks = std::mem::take(&mut procedure.looks);
    let (sets, lost_sets) = things_put(std::mem::take(&mut procedure.sets), &mut listened.sets, since);
    let (parts, lost_parts) = things_put(std::mem::take(&mut procedure.parts), &mut listened.parts, since);
    let (steps, lost_steps) = things_put(std::mem::take(&mut procedure.steps), &mut listened.steps, since);
    let kept_gauges =
        gauges.iter_mut().enumerate().filter(|(at, _)| !anew.gauges.contains(&GaugeId::of(*at)));
    let kept_looks = looks.iter_mut().enumerate().filter(|(at, _)| !anew.looks.contains(&LookId::of(*at)));
    let whole = put(procedure, since)
        && kept_gauges.fold(true, |whole, (_, gauge)| put(gauge, since) && whole)
        && kept_looks.fold(true, |whole, (_, look)| put(look, since) && whole);
    (procedure.gauges, procedure.looks) = (gauges, looks);
    (procedure.sets, procedure.parts, procedure.steps) = (sets, parts, steps);
    anew.sets.extend(lost_sets);
    anew.parts.extend(lost_parts);
    anew.steps.extend(lost_steps);
    whole.then_some(anew)
}

/// Puts every place of a thing where it stands now; whether that is known of all of them.
fn put(thing: &mut impl Spans, since: &Since) -> bool {
    let mut known = true;
    thing.each_span(&mut |span| match since.now(*span) {
        Some(now) => *span = now,
        None => known = false,
    });
    known
}

/// The same for each of many, of which those are shared that stand where they stood; the numbers of those of which it isn't known.
fn things_put<Id: Number + Send, T: Spans + Clone + Send + Sync>(
    mut things: Things<Id, T>,
    listened: &mut [Heard],
    since: &Since,
) -> (Things<Id, T>, Vec<Id>) {
    let lost = things.shared_mut().par_chunks_mut(BATCH).zip(listened.par_chunks_mut(BATCH)).enumerate().map(
        |(batch, (entries, listened))| {
            let mut lost = Vec::new();
            for (at, (entry, heard)) in entries.iter_mut().zip(listened).enumerate() {
                let reach = heard.reach.map(|reach| (reach, since.now(reach)));
                if let Some((was, Some(now))) = reach {
                    heard.reach = Some(now);
                    if was == now {
                        continue;
                    }
                }
                if !put(Arc::make_mut(entry), since) {
                    lost.push(Id::of(batch * BATCH + at));
                }
            }
            lost
        },
    );
    let lost: Vec<Vec<Id>> = lost.collect();
    (things, lost.concat())
}
