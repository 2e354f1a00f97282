//! Fasteners in words: what they are, what turns them, what is special about them.

use super::bench::Bench;
use super::lengths::{any_recorded, found_length};
use crate::decide::{Decisions, GoesIn, by_answer, by_place, set_goes_in, shared_name};
use crate::plan::words;
use crate::procedure::model::{
    Drive, FastenerSet, FasteningWork, Lengths, Lock, LockPiece, Locking, Pieces, Place, Procedure, Reuse,
    SetId, Sourced, grouped,
};
use crate::record::Goods;
use crate::sheet::{HazardBox, SignalWord, Text};

/// Thread as it is printed: `M12×1.25`.
pub(super) fn thread(set: &FastenerSet) -> Option<String> {
    let written = &set.thread.as_ref()?.written;
    Some(if written.starts_with('M') { written.replacen('x', "×", 1) } else { written.clone() })
}

/// What turns them: `AF 19`, in millimetres where no unit stands.
pub(super) fn drive(set: &FastenerSet) -> Option<String> {
    set.drive.as_ref().map(|drive| match drive {
        Drive::AcrossFlats(size) if size.unit().symbol == "mm" => format!("AF {}", size.numeral()),
        Drive::AcrossFlats(size) => format!("AF {}", size.printed()),
        Drive::Words(words) => words.clone(),
        Drive::ByHand => "by hand".to_owned(),
    })
}

/// All of a set, over all its places: `6 rod bolts`.
pub(super) fn all(procedure: &Procedure, id: SetId) -> String {
    words::many(&procedure.set(id).naming.title, total(procedure, id))
}

/// How many there are in a set, over all its places.
pub(super) fn total(procedure: &Procedure, id: SetId) -> Pieces {
    let places: Vec<Place> = procedure.places(&procedure.set(id).axes).collect();
    procedure.set_pieces(id, &places)
}

/// Thread, length and drive: `M8×1.25 × 35 mm (stated 30 mm), AF 13`. Empty where nothing is said. The length
/// that was found is in force; of new ones both are told.
pub(super) fn facts(bench: &Bench, id: SetId, places: &[Place], new: bool) -> String {
    let procedure = bench.procedure;
    let set = procedure.set(id);
    let mut facts: Vec<String> = Vec::new();
    let stated = match set.lengths.throughout(procedure, &set.axes, places) {
        Some(Lengths::One(length)) => Some(length.printed()),
        Some(Lengths::ByHole(_) | Lengths::Unknown) | None => None,
    };
    let length = match (found_length(bench, id, places), stated) {
        (Some(found), Some(stated)) if found.printed() != stated => Some(if new {
            format!("{stated} stated, {} came out", found.printed())
        } else {
            format!("{} (stated {stated})", found.printed())
        }),
        (Some(found), _) if !new => Some(found.printed()),
        // Where they differ the line below tells each hole.
        (None, Some(_)) if !new && any_recorded(bench, id, places) => None,
        (_, stated) => stated,
    };
    match (thread(set), length) {
        (Some(thread), Some(length)) => facts.push(format!("{thread} × {length}")),
        (Some(thread), None) => facts.push(thread),
        (None, Some(length)) => facts.push(format!("{length} long")),
        (None, None) => {}
    }
    facts.extend(drive(set));
    facts.join(", ")
}

/// The set as the object of an instruction: `the 8 head nuts (M12×1.25, AF 19)`.
pub(super) fn object(bench: &Bench, id: SetId, places: &[Place], new: bool) -> String {
    let procedure = bench.procedure;
    let set = procedure.set(id);
    let count = procedure.set_pieces(id, places);
    let title = words::inner(&set.naming.title);
    let title = if new { format!("new {title}") } else { title };
    let name = words::the_many(&title, count);
    let facts = facts(bench, id, places, new);
    if facts.is_empty() { name } else { format!("{name} ({facts})") }
}

/// Whether new ones go in, when they are started: those that serve once, or are renewed at each of these places.
pub(super) fn goes_in_new(decisions: &Decisions, id: SetId, places: &[Place], work: FasteningWork) -> bool {
    let new = |place: &Place| set_goes_in(decisions, id, *place).is_new();
    work == FasteningWork::StartByHand && places.iter().all(new)
}

/// What is to be known before work on it starts, as short sentences. In a trial the old ones serve.
pub(super) fn remarks(
    bench: &Bench,
    id: SetId,
    places: &[Place],
    (work, trial): (FasteningWork, bool),
) -> Vec<Text> {
    let procedure = bench.procedure;
    let set = procedure.set(id);
    let undoing = matches!(work, FasteningWork::Undo | FasteningWork::Slacken);
    let mut remarks = Vec::new();
    if work == FasteningWork::StartByHand && !trial {
        remarks.extend(some_new(bench, id, places));
        let stands_out = set.stand_out.map(|height| format!("{} when home.", height.printed()));
        remarks.extend(stands_out.map(|height| Text::bold("Stands out: ").and(height)));
    }
    if undoing {
        remarks.extend(fewer_there(bench, id, places));
    }
    // The other locks are lines of their own, before.
    let held = |lock: &Lock, place: &Place| lock.at.hold(&procedure.bound(&set.axes, *place));
    let lockers = set.locked_by.iter().filter(|lock| lock.how == Locking::ThreadLocker);
    for lock in lockers.filter(|lock| undoing && places.iter().any(|place| held(lock, place))).take(1) {
        let all = places.iter().all(|place| held(lock, place));
        let at = if all { String::new() } else { words::only_at(procedure, &lock.at) };
        remarks.push(Text::plain(format!("Thread-locker is on the threads{at}.")));
    }
    if work == FasteningWork::Undo {
        match set.reuse.throughout(procedure, &set.axes, places) {
            Some(Reuse::Once) => {
                remarks.push(Text::bold("Use once.").and(if !set.count.at_a_place().several() {
                    " This one does not go back: a new one goes in."
                } else {
                    " These do not go back: new ones go in."
                }));
            }
            Some(Reuse::By(gauge)) => remarks.push(measured(bench, id, places).unwrap_or_else(|| {
                Text::bold("Keep them.").and(format!(
                    " They go back only if measured good: {}.",
                    words::inner(&procedure.gauge(gauge.id).naming.title)
                ))
            })),
            Some(Reuse::Unknown) => {
                remarks.push(Text::bold("Keep them.").and(" Nobody has said yet whether they may go back."));
            }
            Some(Reuse::Reusable) => {}
            None => {
                let told = reuse_told(procedure, id, places);
                if !told.is_empty() {
                    remarks.push(Text::bold("Keep them.").and(format!(" Whether they go back: {told}.")));
                }
            }
        }
    }
    remarks
}

/// How many pieces of a set come out at these places: those that were there, as far as the record tells.
pub(super) fn came_out(bench: &Bench, id: SetId, places: &[Place]) -> Pieces {
    let decisions = bench.material.decisions;
    let there = |place: &&Place| !decisions.came.contains_key(&Goods::Set(id, Some(**place)));
    let there: Vec<Place> = places.iter().filter(there).copied().collect();
    let all = bench.procedure.set_pieces(id, &there);
    let missing: u32 = there
        .iter()
        .filter_map(|place| decisions.sets.get(&(id, *place)))
        .map(|decision| decision.new_among.not_there())
        .sum();
    match all.settled() {
        Some(count) if !there.is_empty() => Pieces::from(count.saturating_sub(missing)),
        None if !there.is_empty() => all,
        _ => Pieces::from(0),
    }
}

/// That not all of a set are there to come out, where the record tells so.
fn fewer_there(bench: &Bench, id: SetId, places: &[Place]) -> Option<Text> {
    let all = bench.procedure.set_pieces(id, places).settled()?;
    let there = came_out(bench, id, places).settled()?;
    (there < all).then(|| Text::bold(format!("Only {there} of the {all} are there.")))
}

/// Where fasteners differ from what the procedure says of them, for a step that doesn't start them: new ones among them,
/// and their length as it was found.
pub(super) fn differs(bench: &Bench, id: SetId, places: &[Place]) -> Vec<Text> {
    let set = bench.procedure.set(id);
    let mut told = some_new(bench, id, places);
    if let Some(Lengths::One(stated)) = set.lengths.throughout(bench.procedure, &set.axes, places)
        && let Some(found) =
            found_length(bench, id, places).filter(|found| found.printed() != stated.printed())
        && !places.iter().all(|place| set_goes_in(bench.material.decisions, id, *place).is_new())
    {
        told.push(Text::bold("Length: ").and(format!("{} (stated {}).", found.printed(), stated.printed())));
    }
    told
}

/// How many are new, and why, where some are and the others go back: `2: 1 NEW of 8: 7 of 8 came out.`
fn some_new(bench: &Bench, id: SetId, places: &[Place]) -> Vec<Text> {
    let set = bench.procedure.set(id);
    let groups = grouped(places.iter().copied(), |place| set_goes_in(bench.material.decisions, id, place));
    let several = groups.len() > 1;
    let told = groups.into_iter().filter_map(|(goes_in, at)| {
        let of = bench.procedure.set_pieces(id, &at[..1]);
        let at = if several {
            format!("{}: ", shared_name(bench.procedure, &set.axes, &at))
        } else {
            String::new()
        };
        match goes_in {
            GoesIn::SomeNew(among) if among.pieces() > 0 => {
                let new = format!("{at}{} NEW", among.pieces());
                Some(Text::bold(new).and(format!(" of {of}: {}.", among.because.join("; "))))
            }
            GoesIn::New(_) if several => Some(Text::bold(format!("{at}NEW."))),
            _ => None,
        }
    });
    told.collect()
}

/// Which of a set go back, where their readings are taken and have settled it: `1 and 3: measured good, they go back.`
fn measured(bench: &Bench, id: SetId, places: &[Place]) -> Option<Text> {
    let axes = &bench.procedure.set(id).axes;
    let groups = grouped(places.iter().copied(), |place| set_goes_in(bench.material.decisions, id, place));
    let several = groups.len() > 1;
    let mut text = Text::default();
    for (index, (goes_in, at)) in groups.into_iter().enumerate() {
        let words = match goes_in {
            GoesIn::Same => "measured good, they go back.",
            GoesIn::New(_) => "they do not go back, new ones go in.",
            _ => return None,
        };
        let gap = if index > 0 { " " } else { "" };
        text = if several {
            let at = shared_name(bench.procedure, axes, &at);
            text.and_bold(format!("{gap}{}: ", words::capital(&at))).and(words)
        } else {
            text.and(words::capital(words))
        };
    }
    Some(text)
}

/// Whether a set goes back, where that differs by place or hangs on open answers: `left: use once; right: they may go
/// back`.
fn reuse_told(procedure: &Procedure, id: SetId, places: &[Place]) -> String {
    let set = procedure.set(id);
    let word = |reuse: &Sourced<Reuse>| match &reuse.value {
        Reuse::Once => "use once".to_owned(),
        Reuse::Reusable => "they may go back".to_owned(),
        Reuse::By(gauge) => {
            format!("only if measured good, {}", words::inner(&procedure.gauge(gauge.id).naming.title))
        }
        Reuse::Unknown => "nobody has said yet".to_owned(),
    };
    by_place(procedure, &set.axes, places, |place| {
        by_answer(procedure, set.reuse.each(&procedure.bound_at((id, place))), word)
    })
}

/// The length of fasteners that are all as long, where that differs by place or hangs on open answers: `left: 40 mm;
/// right: 45 mm`. Empty where it is told beside the thread, or not known.
pub(super) fn length_told(procedure: &Procedure, id: SetId, places: &[Place]) -> String {
    let set = procedure.set(id);
    if set.lengths.throughout(procedure, &set.axes, places).is_some() {
        return String::new();
    }
    let word = |lengths: &Sourced<Lengths>| match &lengths.value {
        Lengths::One(length) => length.printed(),
        Lengths::ByHole(holes) => {
            let holes = holes.iter().map(|(hole, length)| format!("{hole} {}", length.printed()));
            holes.collect::<Vec<_>>().join(", ")
        }
        Lengths::Unknown => "not known".to_owned(),
    };
    by_place(procedure, &set.axes, places, |place| {
        by_answer(procedure, set.lengths.each(&procedure.bound_at((id, place))), word)
    })
}

/// What a list says of a left-hand thread behind a name; nothing of others.
pub(super) fn hand(set: &FastenerSet) -> &'static str {
    if set.left_hand { ", left-hand" } else { "" }
}

/// The loud box for a left-hand thread, where it has one.
pub(super) fn left_hand(set: &FastenerSet, work: FasteningWork) -> Option<HazardBox> {
    if !set.left_hand {
        return None;
    }
    let undone = matches!(work, FasteningWork::Undo | FasteningWork::Slacken);
    let (direction, wrong) = if undone {
        ("CLOCKWISE to undo", "it only gets tighter")
    } else {
        ("ANTICLOCKWISE to tighten", "it only comes undone")
    };
    Some(HazardBox {
        word: SignalWord::Notice,
        hazard: Text::bold("LEFT-HAND THREAD.")
            .and(format!(" {}.", words::capital(&words::the(&set.naming.title)))),
        consequence: Text::plain(format!("Turned the usual way {wrong}.")),
        avoidance: Text::bold(format!("Turn it {direction}.")),
        protective_equipment: Vec::new(),
        turned: Some(undone),
        told: false,
    })
}

/// The condition in which a torque holds, as it stands beside it.
pub(super) fn condition_words(procedure: &Procedure, set: &FastenerSet) -> String {
    condition(procedure, set).unwrap_or_else(|| "oiled or dry not stated".to_owned())
}

/// The condition in which a torque holds; none where the procedure says nothing of it.
pub(super) fn condition(procedure: &Procedure, set: &FastenerSet) -> Option<String> {
    let mut parts = Vec::new();
    if let Some(oil) = &set.oil {
        parts.push(format!("{} oiled", words::list(&oil.places)));
    } else if set.dry {
        parts.push("dry".to_owned());
    }
    let lockers = set.locked_by.iter().filter_map(|lock| match lock.piece {
        Some(LockPiece::Supply(supply)) if lock.how == Locking::ThreadLocker => Some((supply, &lock.at)),
        _ => None,
    });
    for (supply, at) in set.apply.iter().map(|applied| (applied.what.0, &applied.at)).chain(lockers) {
        let at = words::only_at(procedure, at);
        parts.push(format!("with {}{at}", words::inner(&procedure.supply(supply).naming.title)));
    }
    (!parts.is_empty()).then(|| parts.join(", "))
}

/// A name for a legend: `Head nut, M12×1.25, AF 19`.
pub(super) fn legend(bench: &Bench, id: SetId, places: &[Place]) -> String {
    let set = bench.procedure.set(id);
    let facts = facts(bench, id, places, false);
    let name = words::capital(&words::many(
        &set.naming.title,
        bench.procedure.set_pieces(id, places.get(..1).unwrap_or(places)),
    ));
    if facts.is_empty() { name } else { format!("{name}: {facts}") }
}
