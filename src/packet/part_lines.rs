//! Work on parts as instructions: what is taken, fitted, supported or sent, with mass, rack places, way round and
//! marks.

use super::bench::Bench;
use super::phrases::{objects, objects_called, places, with_note};
use crate::decide::{Chosen, GoesIn, Verdict, choosing_rule, part_goes_in, part_number, shared_name};
use crate::english::list;
use crate::plan::words::{self, inner};
use crate::plan::{Placed, PlacedKind, PlannedAct, PlannedStep, may_go_back, verdict};
use crate::procedure::model::{
    End, Lock, LockPiece, Locking, Mark, MarkKind, PartId, PartWork, Phase, Place, grouped,
};
use crate::procedure::sized_in_trial;
use crate::quantity::{Quantity, pair};
use crate::record::Date;
use crate::sheet::{Boxes, Drawing, Figure, StepLine, Text, Toward, WayDrawing};

/// Before the rack place that a piece comes from: it stays with the number behind it.
pub(super) const FROM: &str = "←\u{a0}";

/// A mass in both systems without brackets: `24 kg, 53 lb`.
pub(super) fn mass_words(mass: Quantity) -> String {
    let pair = pair(mass);
    match pair.secondary {
        Some(other) => format!("{}, {other}", pair.primary),
        None => pair.primary,
    }
}

/// The hoist takes what it weighs.
pub(super) fn weight(mass: Option<Quantity>, what: &str) -> Text {
    let text = Text::plain(format!("Take the weight of {what}"));
    match mass {
        Some(mass) => text.and(": ").and_bold(mass_words(mass)).and("."),
        None => text.and("."),
    }
}

/// The lines of work on parts.
pub(super) fn part(bench: &Bench, planned: &PlannedStep, act: &PlannedAct, work: PartWork) -> Vec<StepLine> {
    let old = |placed: &Placed| work == PartWork::Fit && finds_its_size(bench, planned, placed);
    let new = |placed: &Placed| work == PartWork::Fit && renewed(bench, placed) && !old(placed);
    let what = objects_called(bench, &act.things, new);
    let verb = match work {
        PartWork::Take => "Remove",
        PartWork::PutBack => "Put back",
        PartWork::Fit => "Fit",
        PartWork::Support => "Support",
        PartWork::Press if bench.phase == Phase::Strip => "Press out",
        PartWork::Press => "Press in",
        PartWork::Send => "Send out",
        PartWork::Receive => "Receive back",
        PartWork::Accept => "Check and accept",
    };
    let mut text = Text::plain(format!("{verb} {what}"));
    let parts: Vec<PartId> = act.things.iter().filter_map(|placed| part_id(placed.kind)).collect();
    for id in &parts {
        let part = bench.procedure.part(*id);
        if matches!(work, PartWork::Take | PartWork::Support | PartWork::Fit)
            && let Some(mass) = part.mass
        {
            let supported = work != PartWork::Support && bench.supported(planned, *id);
            if !supported {
                text = text.and(", ").and_bold(mass_words(mass));
            }
        }
    }
    if let (PartWork::Fit, [placed]) = (work, act.things.as_slice()) {
        text = match new_facts(bench, placed).filter(|_| !old(placed)) {
            _ if old(placed) => text.and(", the old one"),
            Some(facts) => text.and(format!(", {facts}")),
            None => text,
        };
    }
    text = text.and(".");
    if let (PartWork::Support, [part]) = (work, parts.as_slice()) {
        let part = bench.procedure.part(*part);
        if part.lift_at.is_some() {
            text = weight(part.mass, &objects(bench, &act.things));
        }
    }
    let text = with_note(text, act.act.note.as_deref());
    let boxes = match work {
        PartWork::Take => racked(bench, &act.things),
        PartWork::Fit if !act.things.iter().any(old) => from_where(bench, &act.things),
        _ => places(bench, &act.things),
    };
    let mut lines = vec![StepLine::Act { text, boxes }];
    for id in parts {
        let placed = act.things.iter().find(|placed| part_id(placed.kind) == Some(id));
        let shown = placed.filter(|_| matches!(work, PartWork::Fit | PartWork::PutBack));
        lines.extend(shown.and_then(|placed| way_figure(bench, placed, id)).map(StepLine::Figure));
        let at = placed.map_or(&[][..], |placed| &placed.places);
        let alone = act.things.len() == 1;
        // Of the old piece only which way round it goes is to be told.
        let work = if placed.is_some_and(old) { PartWork::PutBack } else { work };
        let remarks = part_remarks(bench, (id, at, alone), work, act.act.note.as_deref());
        lines.extend(remarks.into_iter().map(StepLine::Note));
    }
    lines
}

/// Whether the step belongs to a trial that finds which of the pieces sold goes in: what it is put together with is the
/// old one.
pub(super) fn finds_its_size(bench: &Bench, planned: &PlannedStep, placed: &Placed) -> bool {
    let Some(id) = part_id(placed.kind) else { return false };
    planned.trial && sized_in_trial(bench.procedure, bench.step(planned), id)
}

/// Whether new ones go in at every place.
fn renewed(bench: &Bench, placed: &Placed) -> bool {
    let new =
        |id| placed.places.iter().all(|place| part_goes_in(bench.material.decisions, id, *place).is_new());
    part_id(placed.kind).is_some_and(new)
}

fn part_id(kind: PlacedKind) -> Option<PartId> {
    match kind {
        PlacedKind::Part(id) => Some(id),
        _ => None,
    }
}

/// A box per place, each with where its piece goes: the rack place of what goes back where it was.
fn racked(bench: &Bench, things: &[Placed]) -> Boxes {
    let decisions = bench.material.decisions;
    labelled(bench, things, |name, id, place| match bench.racks.get(&(id, place)) {
        Some(rack) if may_go_back(decisions, id, place) => format!("{name} → {rack}"),
        Some(_) => format!("{name}: renewed"),
        None => name,
    })
}

/// A box per place, each with where its piece comes from: the rack, or new.
fn from_where(bench: &Bench, things: &[Placed]) -> Boxes {
    let decisions = bench.material.decisions;
    labelled(bench, things, |name, id, place| match part_goes_in(decisions, id, place) {
        GoesIn::Same => match bench.racks.get(&(id, place)) {
            Some(rack) => format!("{name} {FROM}{rack}"),
            None => name,
        },
        GoesIn::SomeNew(among) => format!("{name}: {} NEW", among.pieces()),
        GoesIn::New(_) => format!("{name}: NEW"),
        GoesIn::WhenAccepted => format!("{name}: once accepted"),
        GoesIn::Nothing => format!("{name}: none"),
        GoesIn::Unsettled => format!("{name}: to settle"),
    })
}

/// A box per place of a part that is at several, labelled as `label` says where that tells places apart: where the
/// same is to be said of all, the sentence says it.
fn labelled(bench: &Bench, things: &[Placed], label: impl Fn(String, PartId, Place) -> String) -> Boxes {
    let several = |placed: &&Placed| placed.places.len() > 1;
    let found = things.iter().find_map(|placed| Some((part_id(placed.kind)?, placed)));
    let Some((id, placed)) = found.filter(|(_, placed)| several(placed)) else {
        return places(bench, things);
    };
    let bare = |place: &Place| label(String::new(), id, *place);
    if grouped(placed.places.iter().copied(), |place| bare(&place)).len() == 1 {
        return places(bench, things);
    }
    let names = bench.place_names(placed);
    Boxes::Grid(names.into_iter().zip(&placed.places).map(|(name, place)| label(name, id, *place)).collect())
}

fn part_remarks(
    bench: &Bench,
    (id, places, alone): (PartId, &[Place], bool),
    work: PartWork,
    note: Option<&str>,
) -> Vec<Text> {
    let part = bench.procedure.part(id);
    let way = way(bench, id, places);
    let mut remarks = Vec::new();
    let said = |words: &str| note.is_some_and(|note| note.to_lowercase().contains(&words.to_lowercase()));
    match work {
        PartWork::Take => {
            let back = |place: &Place| may_go_back(bench.material.decisions, id, *place);
            if part.worn_in && places.iter().any(back) {
                let rack = bench.racks.get(&(id, Place(0))).filter(|_| part.axes.is_empty());
                let place = rack.map(|rack| format!(" Rack place {rack}.")).unwrap_or_default();
                let way = way.filter(|way| !said(way)).map(|way| format!(" Way round: {way}."));
                remarks.push(
                    Text::bold("Worn in: back to its own place, same way round.")
                        .and(place)
                        .and(way.unwrap_or_default()),
                );
            }
            remarks.extend(leaves(bench, id, places));
            if !part.matched_with.is_empty() {
                let others: Vec<String> = part
                    .matched_with
                    .iter()
                    .map(|other| words::the(&bench.procedure.part(other.id).naming.title))
                    .collect();
                remarks.push(Text::plain(format!("Keep it together with {}.", list(&others))));
            }
        }
        PartWork::Fit | PartWork::PutBack => {
            // A way that can be drawn is drawn, with its words.
            if let Some(way) = way.filter(|way| !said(way) && toward(bench, way).is_none()) {
                remarks.push(Text::bold("Way round: ").and(format!("{way}.")));
            }
            let marked =
                |mark: &Mark, place: &Place| mark.at.hold(&bench.procedure.bound(&part.axes, *place));
            let here = |mark: &&Mark| places.iter().any(|place| marked(mark, place));
            for mark in part.marks.iter().filter(here).filter(|mark| mark.kind != MarkKind::Ours) {
                let kind = if mark.kind == MarkKind::Timing { "Timing mark" } else { "Balance mark" };
                let all = places.iter().all(|place| marked(mark, place));
                let at = if all { String::new() } else { words::only_at(bench.procedure, &mark.at) };
                remarks.push(Text::bold(format!("{kind}{at}: ")).and(format!("{}.", mark.text)));
            }
            // A mark that we made tells which of several like pieces it is, and how it lay. What the rack has a place for, or has
            // its way round said, is told already.
            let told = bench.racks.keys().any(|(part, _)| *part == id);
            let new = |place: &Place| part_goes_in(bench.material.decisions, id, *place).is_new();
            // The author's words may speak of it shorter.
            let spoken = |mark: &Mark| said(&mark.text.split(' ').take(2).collect::<Vec<&str>>().join(" "));
            if let Some(mark) = part.marks.iter().filter(here).find(|mark| mark.kind == MarkKind::Ours)
                && !told
                && !spoken(mark)
                && !places.iter().all(new)
            {
                remarks.push(Text::bold("Our mark: ").and(format!("{}.", mark.text)));
            }
            if work == PartWork::Fit {
                let mut locks = bench.procedure.sets.iter().flat_map(|set| &set.locked_by);
                let pin = |lock: &Lock| {
                    lock.how == Locking::SplitPin
                        && matches!(&lock.piece, Some(LockPiece::Part(pin)) if pin.id == id)
                };
                if locks.any(pin) && note.is_none() {
                    remarks.push(Text::plain("Bend both ends over."));
                }
                remarks.extend(what_goes_in(bench, (id, places, alone)));
            }
            if work == PartWork::Fit {
                remarks.extend(part.select_from.as_ref().map(|select| choice(bench, id, places, select)));
            }
        }
        _ => {}
    }
    remarks
}

/// Whether a part that goes back as it is was sent out all the same: for work of this job alone.
fn was_out(bench: &Bench, id: PartId, places: &[Place]) -> bool {
    let job = bench.material.job;
    places
        .iter()
        .all(|place| job.sent.contains_key(&(id, *place)) || job.extra_work.contains_key(&(id, *place)))
}

/// That what was out has passed the goods-back check, or has to.
fn accepted(bench: &Bench, id: PartId, places: &[Place]) -> String {
    let day = |place: &Place| bench.material.job.sent.get(&(id, *place))?.accepted;
    match places.iter().map(day).collect::<Option<Vec<Date>>>().as_deref() {
        Some([first, rest @ ..]) if rest.iter().all(|other| other == first) => {
            format!("Accepted after the goods-back check, {first}.")
        }
        Some([_, ..]) => "Accepted after the goods-back check.".to_owned(),
        _ => "Only if it was accepted after the goods-back check.".to_owned(),
    }
}

/// Where a part goes once it is off, unless it simply waits to go back; with its positions where that differs.
fn leaves(bench: &Bench, id: PartId, places: &[Place]) -> Vec<Text> {
    let words = |place: Place| match verdict(bench.material.decisions, id, place) {
        // What is tried in the building was out already.
        Verdict::Machine { what, .. } if matches!(bench.phase, Phase::Strip | Phase::Survey) => {
            Some(Text::plain(format!("Goes out: {what}.")))
        }
        Verdict::Keep => Some(Text::bold("Keep it.").and(" What becomes of it is not settled.")),
        Verdict::LeaveOut(why) => Some(Text::plain(format!("It does not go back: {why}."))),
        _ => None,
    };
    let groups = grouped(places.iter().copied(), words);
    let several = groups.len() > 1;
    let told = groups.into_iter().filter_map(|(words, places)| {
        let words = words?;
        let axes = &bench.procedure.part(id).axes;
        let mut text = Text::default();
        if several {
            text = Text::bold(format!("{}: ", shared_name(bench.procedure, axes, &places)));
        }
        text.0.extend(words.0);
        Some(text)
    });
    told.collect()
}

/// Which way round a part goes at some of its places; where that differs, each with its positions.
fn way(bench: &Bench, id: PartId, places: &[Place]) -> Option<String> {
    let (procedure, part) = (bench.procedure, bench.procedure.part(id));
    let ways = grouped(places.iter().copied(), |place| part.way.at(&procedure.bound(&part.axes, place)));
    if let [(way, _)] = ways.as_slice() {
        return way.cloned();
    }
    let named = ways.iter().filter_map(|(way, places)| {
        way.map(|way| format!("{}: {way}", shared_name(procedure, &part.axes, places)))
    });
    let named: Vec<String> = named.collect();
    (!named.is_empty()).then(|| named.join("; "))
}

/// Which way a mark points by the words that end its description; none where they name no end of the engine. A side
/// is not drawn: on the stand it may lie the other way.
fn toward(bench: &Bench, way: &str) -> Option<Toward> {
    let ends = [(End::Front, Toward::Left), (End::Rear, Toward::Right)];
    let names = |end: End| way.ends_with(&format!("to the {}", bench.procedure.end_name(end)));
    ends.into_iter().find(|(end, _)| names(*end)).map(|(_, toward)| toward)
}

/// Which way round a part goes in, where its mark points to a side of the engine.
fn way_figure(bench: &Bench, placed: &Placed, id: PartId) -> Option<Figure> {
    let part = bench.procedure.part(id);
    let way = way(bench, id, &placed.places)?;
    let toward = toward(bench, &way)?;
    Some(Figure {
        caption: Text::default(),
        alternative: format!("Way round of {}: {way}.", words::the(&part.naming.title)),
        drawing: Drawing::Way(WayDrawing {
            places: bench.place_names(placed),
            toward,
            front: bench.procedure.end_name(End::Front).to_owned(),
            words: way,
        }),
    })
}

/// Which of the graded pieces goes in: the one chosen, or by what it is chosen.
fn choice(bench: &Bench, id: PartId, places: &[Place], select: &str) -> Text {
    let decisions = bench.material.decisions;
    // Where a piece differs by place, its places are named.
    let pieces = grouped(places.iter().copied(), |place| decisions.piece((id, place)));
    if pieces.len() > 1 {
        let axes = &bench.procedure.part(id).axes;
        let of_places = pieces.iter().map(|(piece, at)| {
            let at: Vec<String> = at.iter().map(|place| bench.procedure.place_name(axes, *place)).collect();
            format!("{}: {}", list(&at), piece.unwrap_or("not chosen yet"))
        });
        let of_places: Vec<String> = of_places.collect();
        return Text::bold("Chosen: ").and(format!("{}; of {select}.", of_places.join("; ")));
    }
    let first = places.first().copied().unwrap_or(Place(0));
    match decisions.chosen.get(&(id, first)) {
        Some(Chosen::Piece { piece, .. }) => {
            let by = bench.material.job.chosen.get(&(id, first)).map(|chosen| chosen.signature.words());
            Text::bold("Chosen: ").and(format!("{piece}{}, of {select}.", by.unwrap_or_default()))
        }
        Some(Chosen::AtTheBench(gauge, place) | Chosen::Open(Some((gauge, place)))) => {
            let by = inner(&bench.procedure.gauge(*gauge).naming.title);
            let rule = choosing_rule(bench.procedure, (*gauge, *place));
            let record = match bench.procedure.gauge(*gauge).sold {
                Some(_) => " Then write it in the record: the piece, who chose it, the day.",
                None => "",
            };
            Text::bold(format!("Choose by {by}: ")).and(format!("{rule}. From: {select}.{record}"))
        }
        Some(Chosen::Open(None)) => Text::bold("Choose: ").and(format!("{select}.")),
        // Which size is bought hangs on what the step waits for.
        None if part_goes_in(decisions, id, first).is_new() => {
            Text::bold("Not chosen yet: ").and(format!("of {select}."))
        }
        None => Text::plain(format!("Of {select}: the one that was there.")),
    }
}

/// Size and part number of a new piece: `size 0.25 mm, part no. BW3-0510`; none where nothing is known of them.
fn facts_of_new(bench: &Bench, id: PartId, places: &[Place], size: Option<Quantity>) -> Option<String> {
    let part = bench.procedure.part(id);
    let size = size.map(|size| format!("size {}", size.printed()));
    let number = part_number(bench.procedure, &part.axes, places, &part.catalogue);
    let number = number.map(|number| format!("part no. {number}"));
    let facts: Vec<String> = size.into_iter().chain(number).collect();
    (!facts.is_empty()).then(|| facts.join(", "))
}

/// The same of what is new and alike at every place.
fn new_facts(bench: &Bench, placed: &Placed) -> Option<String> {
    let id = part_id(placed.kind)?;
    let goes_in = |place| part_goes_in(bench.material.decisions, id, place);
    match grouped(placed.places.iter().copied(), goes_in).as_slice() {
        [(GoesIn::New(size), places)] => facts_of_new(bench, id, places, *size),
        _ => None,
    }
}

/// Which pieces go in, as far as that is decided and the sentence of one part `alone` doesn't say it; with their places
/// where not all are alike.
fn what_goes_in(bench: &Bench, (id, places, alone): (PartId, &[Place], bool)) -> Vec<Text> {
    let part = bench.procedure.part(id);
    let decisions = bench.material.decisions;
    let groups = grouped(places.iter().copied(), |place| part_goes_in(decisions, id, place));
    let several = groups.len() > 1;
    let told = groups.into_iter().filter_map(|(goes_in, at)| {
        let (first, said) = match goes_in {
            GoesIn::Same if part.worn_in => {
                let rack = bench.racks.get(&(id, at[0])).filter(|_| places.len() == 1);
                // Where a step is done place by place, as its boxes say it elsewhere.
                let arrow = if part.axes.is_empty() { "" } else { FROM };
                let rack = rack
                    .map_or_else(|| ", from the rack.".to_owned(), |rack| format!(": rack {arrow}{rack}."));
                let back = if was_out(bench, id, &at) {
                    format!(" {}", accepted(bench, id, &at))
                } else {
                    String::new()
                };
                ("Its own place", rack + &back)
            }
            GoesIn::Same if was_out(bench, id, &at) => ("", accepted(bench, id, &at)),
            GoesIn::New(size) => match facts_of_new(bench, id, &at, size) {
                _ if alone && !several => return None,
                // Of several parts in one sentence each says whose size and number it is.
                Some(facts) if !several => ("New", format!(" {}: {facts}.", inner(&part.naming.title))),
                Some(facts) => ("New", format!(": {facts}.")),
                None if several => ("New", ".".to_owned()),
                None => return None,
            },
            GoesIn::SomeNew(among) => {
                let of = bench.procedure.part_pieces(id, &at[..1]);
                ("New", format!(": {} of {of}, {}.", among.pieces(), among.because.join("; ")))
            }
            GoesIn::WhenAccepted => ("", accepted(bench, id, &at)),
            GoesIn::Nothing => ("Nothing", " goes in.".to_owned()),
            GoesIn::Unsettled if part.worn_in => {
                ("", "If the old one goes back: its own place, from the rack.".to_owned())
            }
            GoesIn::Same | GoesIn::Unsettled => return None,
        };
        if !several {
            return Some(Text::bold(first).and(said));
        }
        let named = shared_name(bench.procedure, &part.axes, &at);
        let text = Text::plain(format!("{named}: "));
        Some(if first.is_empty() { text.and(inner(&said)) } else { text.and_bold(inner(first)).and(said) })
    });
    told.collect()
}
