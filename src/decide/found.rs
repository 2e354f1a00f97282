//! What was found different of a part or set, as far as it bears on what becomes of it: pieces that are missing, and
//! conditions in which a thing can't simply go back. The words of a condition decide nothing: a person does.

use std::collections::BTreeMap;

use super::book::Book;
use super::words::came_without_it;
use super::{Because, Hold, NewAmong, PartDecision, Verdict, errors};
use crate::diagnostics::Diagnostic;
use crate::english::list;
use crate::procedure::model::{Pieces, Place, SetId};
use crate::record::{About, Came, Found, Goods, Job, Note, Settled};

/// What becomes of a thing at a place, by what was found of it: `decided` otherwise.
pub(super) fn as_found(book: &Book, goods: Goods, count: &Pieces, decided: PartDecision) -> PartDecision {
    if matches!(decided.verdict, Verdict::Renew { .. } | Verdict::LeaveOut(_)) {
        return decided;
    }
    let mut decided = decided;
    let told = || book.job.notes.iter().rev().filter(|note| speaks_of(note, goods));
    let found = || told().flat_map(|note| &note.found);
    // What was noted last is in force; what was off but there was all there.
    let last = found().find_map(|found| match found {
        Found::Count(count) => Some((Some(count.value), false)),
        Found::Came(Came::Without) => Some((Some(0), true)),
        Found::Came(Came::Off) => Some((None, false)),
        _ => None,
    });
    let (came_out, without) = last.unwrap_or_default();
    if came_out == Some(0) && count.most() > 0 {
        let words = if without { came_without_it(book.procedure) } else { "none came out".to_owned() };
        return PartDecision::settled(Verdict::Renew { size: None }, Because::found(vec![words]));
    }
    let mut among = NewAmong::default();
    // While it is open how many there are, it is open how many are missing.
    if let (Some(count), Some(came_out)) = (count.settled(), came_out) {
        among.missing = count.saturating_sub(came_out);
        if among.missing > 0 {
            among.because.push(format!("{came_out} of {count} came out"));
        }
    }
    let bearing =
        book.job.notes.iter().rev().filter(|note| speaks_of(note, goods) || bears_on(book, note, goods));
    let conditions = bearing.flat_map(|note| &note.found).filter_map(|found| match found {
        Found::Condition(condition) => Some(condition.clone()),
        _ => None,
    });
    let everywhere = match goods {
        Goods::Part(id, _) => Goods::Part(id, None),
        Goods::Set(id, _) => Goods::Set(id, None),
        Goods::Supply(_) => goods,
    };
    if book.job.settled(goods, everywhere).is_none() {
        decided.holds.extend(conditions.map(|condition| Hold::Found(None, condition)));
    }
    by_hole(book, goods, &mut decided, &mut among);
    decided.new_among = among;
    decided
}

/// What was found of single holes, and what was settled of them.
fn by_hole(book: &Book, goods: Goods, decided: &mut PartDecision, among: &mut NewAmong) {
    let Goods::Set(set, Some(place)) = goods else { return };
    let settled = |letter: &str| book.job.settled_holes.get(&(set, place, letter.to_owned()));
    among.empty = book.procedure.hole_letters(set);
    among.empty.retain(|letter| came_out_of(book.job, (set, place), letter) == Some(0));
    if among.missing < u32::try_from(among.empty.len()).expect("holes have letters") {
        among.because.push(format!("nothing came out of {}", list(&among.empty)));
    }
    for note in &book.job.notes {
        let About::Hole(id, at, letter) = &note.about else { continue };
        if *id != set || at.is_some_and(|at| at != place) || settled(letter).is_some() {
            continue;
        }
        for found in &note.found {
            if let Found::Condition(condition) = found {
                decided.holds.push(Hold::Found(Some(letter.clone()), condition.clone()));
                if !among.open.contains(letter) {
                    among.open.push(letter.clone());
                }
            }
        }
    }
    for ((_, _, letter), settlement) in
        book.job.settled_holes.iter().filter(|((id, at, _), _)| (*id, *at) == (set, place))
    {
        let why = settlement.words().unwrap_or_default();
        if settlement.what == Settled::Renew {
            // What didn't come out is bought once, whatever else is said of its hole.
            if !among.empty.contains(letter) {
                among.holes.push(letter.clone());
            }
            among.because.push(format!("{letter}: {why}"));
        } else {
            decided.because = std::mem::take(&mut decided.because).and(format!("{letter} goes back: {why}"));
        }
    }
}

/// How many pieces came out of one hole, where a note tells: none or one.
fn came_out_of(job: &Job, (set, place): (SetId, Place), letter: &str) -> Option<u32> {
    let of_it = |note: &&Note| match &note.about {
        About::Hole(id, at, hole) => *id == set && at.is_none_or(|at| at == place) && hole == letter,
        _ => false,
    };
    let found = job.notes.iter().rev().filter(of_it).flat_map(|note| &note.found);
    found.into_iter().find_map(|found| match found {
        Found::Count(count) => Some(count.value),
        Found::Came(Came::Without) => Some(0),
        _ => None,
    })
}

/// Complains where some fasteners of a set didn't come out, and another is renewed of which nobody says whether it did: it may
/// be one of those.
pub(super) fn counted_twice(book: &Book, sets: &BTreeMap<(SetId, Place), PartDecision>) -> Vec<Diagnostic> {
    let settled = book.job.settled_holes.iter().filter(|(_, settlement)| settlement.what == Settled::Renew);
    let doubtful = settled.filter_map(|((set, place, letter), settlement)| {
        let among = &sets.get(&(*set, *place))?.new_among;
        let known = u32::try_from(among.empty.len()).expect("holes have letters");
        let unknown = among.missing.saturating_sub(known);
        let told = came_out_of(book.job, (*set, *place), letter).is_some();
        let name = format!("{} {letter}", super::words::set_name(book.procedure, *set, *place));
        (!told && unknown > 0).then(|| errors::counted_twice(settlement.span, &name, unknown))
    });
    doubtful.collect()
}

/// Complains where more of a thing came out than the procedure has of it anywhere: a slip, or an engine that has more of them.
pub(super) fn too_many(book: &Book) -> Vec<Diagnostic> {
    let procedure = book.procedure;
    let said = |note: &Note| {
        let counts = note.found.iter().filter_map(|found| match found {
            Found::Count(count) => Some(count),
            _ => None,
        });
        let (name, declared, most) = match &note.about {
            About::Part(id, place) => {
                let part = procedure.part(*id);
                let places = at_or_everywhere(procedure.places(&part.axes), *place);
                (
                    part.naming.id.clone(),
                    part.naming.span,
                    most(places.map(|at| procedure.part_pieces(*id, &[at]))),
                )
            }
            About::Set(id, place) => {
                let set = procedure.set(*id);
                let places = at_or_everywhere(procedure.places(&set.axes), *place);
                (
                    set.naming.id.clone(),
                    set.naming.span,
                    most(places.map(|at| procedure.set_pieces(*id, &[at]))),
                )
            }
            About::Hole(id, _, letter) => {
                let naming = &procedure.set(*id).naming;
                (format!("{} {letter}", naming.id), naming.span, 1)
            }
            _ => return Vec::new(),
        };
        let too_many = counts.filter(|count| count.value > most);
        too_many.map(|count| errors::too_many(count.span, &name, [count.value, most], declared)).collect()
    };
    book.job.notes.iter().flat_map(said).collect()
}

/// One place, or all.
fn at_or_everywhere(all: impl Iterator<Item = Place>, at: Option<Place>) -> impl Iterator<Item = Place> {
    all.filter(move |place| at.is_none_or(|at| at == *place))
}

/// The largest number that there may be at one of several places.
fn most(pieces: impl Iterator<Item = Pieces>) -> u32 {
    pieces.map(|pieces| pieces.most()).max().unwrap_or(0)
}

/// Whether a note is about a joint of a set, or about what judges or measures a part: in whatever condition that is, what
/// depends on it waits too.
fn bears_on(book: &Book, note: &Note, goods: Goods) -> bool {
    let procedure = book.procedure;
    match (&note.about, goods) {
        (About::Joint(id, at), Goods::Set(set, Some(place))) => {
            let joint = procedure.joint(*id);
            let at = at.map_or_else(|| procedure.places(&joint.axes).collect(), |at| vec![at]);
            let members = joint.members.iter().flat_map(|member| {
                at.iter().flat_map(|at| procedure.meant(&member.set, &procedure.bound(&joint.axes, *at)))
            });
            members.into_iter().any(|meant| meant == (set, place))
        }
        (About::Gauge(id, at), Goods::Part(part, Some(place))) => {
            let at = at.map_or_else(|| procedure.places(&procedure.gauge(*id).axes).collect(), |at| vec![at]);
            at.iter().any(|at| procedure.measured((*id, *at)).contains(&(part, place)))
        }
        (About::Look(id, at), Goods::Part(part, Some(place))) => {
            let look = procedure.look(*id);
            let Some(of) = &look.of else { return false };
            let at = at.map_or_else(|| procedure.places(&look.axes).collect(), |at| vec![at]);
            let mut pieces = at.iter().flat_map(|at| procedure.meant(of, &procedure.bound(&look.axes, *at)));
            pieces.any(|meant| meant == (part, place))
        }
        _ => false,
    }
}

/// The conditions in which the whole engine was found, as long as nobody has said that work on it goes on all the same.
pub(super) fn of_the_engine(job: &Job) -> Vec<String> {
    if job.settled_engine.is_some() {
        return Vec::new();
    }
    let notes = job.notes.iter().filter(|note| note.about == About::Engine);
    let conditions = notes.flat_map(|note| &note.found).filter_map(|found| match found {
        Found::Condition(condition) => Some(condition.clone()),
        _ => None,
    });
    conditions.collect()
}

/// Whether a note is about a part or set at a place: without a place, it is about every one.
fn speaks_of(note: &Note, goods: Goods) -> bool {
    match (&note.about, goods) {
        (About::Part(id, at), Goods::Part(part, place)) => *id == part && (at.is_none() || *at == place),
        (About::Set(id, at), Goods::Set(set, place)) => *id == set && (at.is_none() || *at == place),
        _ => false,
    }
}
