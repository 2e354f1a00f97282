//! What a verdict makes necessary: a rebored block new pistons of that size, a renewed camshaft new followers.

use std::collections::{BTreeMap, BTreeSet};

use super::book::Book;
use super::choosing::choosing;
use super::sizes::Present;
use super::{Asked, Because, Hold, PartDecision, Verdict, shown};
use crate::procedure::model::{GaugeId, PartId, Place};
use crate::quantity::Quantity;
use crate::record::{Occasion, Settlement};
use crate::structure::PartAt;

/// What a verdict makes necessary: renewed together, or renewed in the size that its partner is machined to.
pub(super) fn follow(book: &Book, fates: &mut BTreeMap<(PartId, Place), PartDecision>) {
    let links = links(book);
    // What is new or machined goes before what an engine is found with: the size that it gets is the one that counts. Each
    // pass settles at least one more part or is the last.
    let mut changed_only = true;
    loop {
        let mut forced: BTreeMap<(PartId, Place), (Option<Quantity>, String)> = BTreeMap::new();
        for link in &links {
            let Some(cause) = fates.get(&link.cause) else { continue };
            let name = |(part, place): (PartId, Place)| {
                let part = book.procedure.part(part);
                shown::titled(book.procedure, &part.naming, &part.axes, place)
            };
            let size = match &cause.verdict {
                Verdict::Machine { to, .. } => {
                    match to.iter().find(|size| Tie::Machined(size.gauge) == link.by) {
                        Some(size) => Some(size.step),
                        None => continue,
                    }
                }
                Verdict::GoesBack | Verdict::CleanAndBack if changed_only => continue,
                Verdict::GoesBack | Verdict::CleanAndBack => match already(book, &links, link) {
                    Some(present) if is_standard(fates.get(&link.effect)) => {
                        let words = format!(
                            "{} is {} already, so the new one in that size",
                            name(link.cause),
                            present.words()
                        );
                        forced.entry(link.effect).or_insert((Some(present.step), words));
                        continue;
                    }
                    _ => continue,
                },
                Verdict::Renew { size } if link.by == Tie::Together => *size,
                Verdict::Renew { size: Some(size) } if link.by == Tie::SizeOf => Some(*size),
                Verdict::Renew { size: None } if goes_back(fates.get(&link.effect)) => {
                    let Some(present) = already(book, &links, link) else { continue };
                    if !book.by_hand(link.effect).is_some_and(Settlement::keeps) {
                        let words = format!(
                            "{} is renewed, in the standard size, and the old one fits what was {}",
                            name(link.cause),
                            present.words()
                        );
                        forced.entry(link.effect).or_insert((None, words));
                    }
                    continue;
                }
                _ => continue,
            };
            let words = match size {
                Some(size) if matches!(cause.verdict, Verdict::Machine { .. }) => {
                    format!(
                        "{}: machined to {}, so the new one in that size",
                        name(link.cause),
                        size.printed()
                    )
                }
                Some(size) if link.by == Tie::SizeOf => {
                    format!("{}: bought in {}, and this with it", name(link.cause), size.printed())
                }
                _ => format!("renewed together with: {}", name(link.cause)),
            };
            let known = fates.get(&link.effect).map(|effect| &effect.verdict);
            let needs = match known {
                Some(Verdict::Renew { size: known }) => size.is_some() && known.is_none(),
                Some(Verdict::LeaveOut(_)) | None => false,
                // What a person keeps stays.
                Some(_) if book.by_hand(link.effect).is_some_and(Settlement::keeps) => false,
                Some(_) => true,
            };
            if needs {
                forced.entry(link.effect).or_insert((size, words));
            }
        }
        if forced.is_empty() && !changed_only {
            break;
        }
        changed_only = !forced.is_empty() && changed_only;
        for (key, (size, words)) in forced {
            fates.insert(key, PartDecision::settled(Verdict::Renew { size }, Because::found(vec![words])));
        }
    }
    wait_for_size(&links, fates);
}

/// The size that the cause of a link has already: its own, or that of what it goes into.
fn already(book: &Book, links: &[Link], link: &Link) -> Option<Present> {
    match link.by {
        Tie::Machined(gauge) => book.present((gauge, link.at?), Occasion::AsFound),
        Tie::SizeOf => {
            let mut into = links.iter().filter(|into| into.effect == link.cause && into.by != Tie::SizeOf);
            into.find_map(|into| already(book, links, into))
        }
        Tie::Together => None,
    }
}

/// Whether a part goes back as it is.
fn goes_back(decision: Option<&PartDecision>) -> bool {
    decision.is_some_and(|decision| matches!(decision.verdict, Verdict::GoesBack | Verdict::CleanAndBack))
}

/// Whether a part is renewed, and in the standard size.
fn is_standard(decision: Option<&PartDecision>) -> bool {
    decision.is_some_and(|decision| decision.verdict == Verdict::Renew { size: None })
}

/// A new part whose partner may be machined to another size, or be bought in one, waits for the same answers as that does: ordered
/// now, it would be ordered in a size that nobody knows.
fn wait_for_size(links: &[Link], fates: &mut BTreeMap<(PartId, Place), PartDecision>) {
    let standard = Verdict::Renew { size: None };
    // What waits may make others wait, until none is added.
    loop {
        let mut added = false;
        for link in links.iter().filter(|link| link.by != Tie::Together) {
            let Some(cause) = fates.get(&link.cause) else { continue };
            let before = |hold: &&Hold| match (hold, link.by) {
                (Hold::SizedBefore(sized, ..), Tie::Machined(by)) => *sized == by,
                (Hold::SizedBefore(..), _) => matches!(cause.verdict, Verdict::Renew { .. }),
                _ => false,
            };
            let before: Vec<Hold> = cause.holds.iter().filter(before).cloned().collect();
            let open = |hold: &&Hold| match (&cause.verdict, link.by) {
                (Verdict::Machine { to, .. }, Tie::Machined(sized)) => {
                    !to.iter().any(|size| size.gauge == sized)
                        && matches!(hold, Hold::Question(Asked::Gauge(id, _)) if *id == sized)
                }
                (Verdict::Open, _) => matches!(hold, Hold::Question(_)),
                (verdict, Tie::SizeOf) if *verdict == standard => matches!(hold, Hold::Question(_)),
                _ => false,
            };
            let open: Vec<Hold> = cause.holds.iter().filter(open).cloned().collect();
            let Some(effect) = fates.get_mut(&link.effect) else { continue };
            let renewed = matches!(effect.verdict, Verdict::Renew { .. });
            let open = if effect.verdict == standard { open } else { Vec::new() };
            for hold in open.into_iter().chain(before.into_iter().filter(|_| renewed)) {
                if !effect.holds.contains(&hold) {
                    effect.holds.push(hold);
                    added = true;
                }
            }
        }
        if !added {
            return;
        }
    }
}

/// Parts that are bought in the size of something else.
pub(super) fn sized_parts(book: &Book) -> BTreeSet<(PartId, Place)> {
    let sized = |link: &Link| link.by != Tie::Together;
    links(book).iter().filter(|link| sized(link)).map(|link| link.effect).collect()
}

/// New parts that are bought in the size of something else and go in in the standard one, since all of that is settled and has
/// no other size. What a gauge of its own chooses from several pieces is none of them.
pub(super) fn standard_parts(
    book: &Book,
    fates: &BTreeMap<(PartId, Place), PartDecision>,
) -> BTreeSet<(PartId, Place)> {
    let links = links(book);
    let open = |link: &&Link| match fates.get(&link.cause) {
        Some(PartDecision { verdict: Verdict::GoesBack | Verdict::CleanAndBack, .. }) => {
            already(book, &links, link).is_some()
        }
        Some(PartDecision { verdict: Verdict::Renew { size }, .. }) => size.is_some(),
        Some(PartDecision { verdict: Verdict::Machine { .. }, holds, .. }) => {
            holds.iter().any(|hold| matches!(hold, Hold::Question(_) | Hold::Never(..)))
        }
        _ => true,
    };
    let mut found = sized_parts(book);
    let chosen_by_gauge = |key: &PartAt| choosing(book, *key).next().is_some();
    found.retain(|key| {
        let mut into = links.iter().filter(|link| link.effect == *key && link.by != Tie::Together);
        is_standard(fates.get(key)) && !chosen_by_gauge(key) && !into.any(|link| open(&link))
    });
    found
}

/// A part whose verdict bears on another.
struct Link {
    cause: (PartId, Place),
    effect: (PartId, Place),
    by: Tie,
    /// Where the gauge is read to whose size the cause is machined, if it is tied by one.
    at: Option<Place>,
}

/// How a verdict bears on another part.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Tie {
    /// They are renewed together.
    Together,
    /// Where the cause is bought in a size, so is the other.
    SizeOf,
    /// The other goes into what is machined to the size of this gauge.
    Machined(GaugeId),
}

/// Parts matched with each other, parts bought in the size of another, and parts between which a clearance is computed of which one has sizes: the
/// other goes into it.
fn links(book: &Book) -> Vec<Link> {
    let procedure = book.procedure;
    let mut links = Vec::new();
    for (id, part) in procedure.parts.numbered() {
        for place in procedure.places(&part.axes) {
            let bound = procedure.bound(&part.axes, place);
            for target in &part.matched_with {
                for (_, other) in procedure.meant(target, &bound) {
                    let (a, b) = ((id, place), (target.id, other));
                    links.push(Link { cause: a, effect: b, by: Tie::Together, at: None });
                    links.push(Link { cause: b, effect: a, by: Tie::Together, at: None });
                }
            }
            for target in &part.sized_with {
                let axes = &procedure.part(target.id).axes;
                let others = procedure.matching(axes, &target.pattern, &bound);
                links.extend(others.into_iter().map(|other| Link {
                    cause: (target.id, other),
                    effect: (id, place),
                    by: Tie::SizeOf,
                    at: None,
                }));
            }
            for target in &part.sized_by {
                for (_, at) in procedure.meant(target, &bound) {
                    links.extend(procedure.measured((target.id, at)).into_iter().map(|cause| Link {
                        cause,
                        effect: (id, place),
                        by: Tie::Machined(target.id),
                        at: Some(at),
                    }));
                }
            }
        }
    }
    for (id, gauge) in procedure.gauges.numbered() {
        let Some((formula, _)) = &gauge.formula else { continue };
        if formula.readings().len() < 2 {
            continue;
        }
        for place in procedure.places(&gauge.axes) {
            let inputs = book.inputs(id, place).into_iter();
            let measured: Vec<((GaugeId, Place), Vec<PartAt>)> =
                inputs.map(|input| (input, procedure.measured(input))).collect();
            let part = |pieces: &[PartAt]| pieces.first().map(|(part, _)| *part);
            for ((sized, at), causes) in &measured {
                if procedure.gauge(*sized).sizes.is_none() {
                    continue;
                }
                for (_, effects) in measured.iter().filter(|(_, effects)| part(effects) != part(causes)) {
                    for cause in causes {
                        let by = Tie::Machined(*sized);
                        links.extend(effects.iter().map(|effect| Link {
                            cause: *cause,
                            effect: *effect,
                            by,
                            at: Some(*at),
                        }));
                    }
                }
            }
        }
    }
    links
}
