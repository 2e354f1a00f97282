//! Readings and looks on a step: what is measured where, limits beside the blanks, results to tick.

use super::bench::Bench;
use super::phrases::with_note;
use crate::decide::{
    Present, Size, Sizes, Verdict, by_answer, by_place, goes_into_a_clearance, puts_a_sleeve_in,
};
use crate::english::spaced;
use crate::metrology::Side;
use crate::plan::words;
use crate::plan::{Placed, PlacedKind, PlannedAct, PlannedStep, Standing};
use crate::procedure::model::{Edges, Gauge, GaugeId, LookId, Place};
use crate::quantity::{Bound, Quantity, from_to, limit_pair, numerals_from_to, pair, range_pair};
use crate::record::{LookTaken, Occasion, Reading};
use crate::sheet::{
    Blank, Boxes, Cell, Column, Drawing, Entry, Field, Figure, Form, StationMark, StationsDrawing, StepLine,
    Table, Text,
};

/// Blanks for one instrument that stand side by side; with more the page is too narrow for a pencil. Our own
/// choice, no source.
const ABREAST: usize = 4;

/// Blanks for the readings of an act; what the record already has is written in.
pub(super) fn gauge_lines(bench: &Bench, planned: &PlannedStep, act: &PlannedAct) -> Vec<StepLine> {
    let mut lines = Vec::new();
    for placed in &act.things {
        if let PlacedKind::Gauge(id) = placed.kind {
            lines.extend(gauge_line(bench, planned, placed, id, act.act.note.as_deref()));
        }
    }
    lines
}

fn gauge_line(
    bench: &Bench,
    planned: &PlannedStep,
    placed: &Placed,
    id: GaugeId,
    note: Option<&str>,
) -> Vec<StepLine> {
    let gauge = bench.procedure.gauge(id);
    let occasion = occasion(bench, planned, placed);
    let mut text = Text::bold(gauge.naming.title.clone());
    if let Some((instrument, resolution)) = &gauge.instrument {
        let resolution = resolution.map(|step| format!(", read to {}", step.printed())).unwrap_or_default();
        let job = bench.material.job;
        let in_crib = gauge.dimension.and_then(|dimension| job.instrument_error(instrument, dimension));
        let error = in_crib.or(gauge.error.as_ref().map(|error| error.value));
        let error = error.map(|error| format!(", off by at most {}", error.printed()));
        text = text.and(format!(", {instrument}{resolution}{}", error.unwrap_or_default()));
    }
    text = with_note(text.and("."), note);
    let stated = limit_on(bench, id, &placed.places, occasion);
    let beyond = beyond(bench, id, &placed.places, occasion);
    let limit = [stated, beyond].into_iter().filter(|words| !words.is_empty()).collect::<Vec<_>>().join("; ");
    let unit = unit(bench, gauge);
    if let Some(table) = spot_table(bench, planned, placed, id, &unit) {
        // Where the blanks of a row have no room for it the unit stands above.
        let bare = table.rows.iter().flatten().any(|cell| *cell.printed() == Cell::Twice(String::new()));
        let text = if bare && !unit.is_empty() { text.and(format!(" In {unit}.")) } else { text };
        let mut lines: Vec<StepLine> = stations_figure(bench, id).map(StepLine::Figure).into_iter().collect();
        lines.push(StepLine::Readings { text, limit, table });
        return lines;
    }
    let mut blanks = Vec::new();
    for (name, place) in bench.place_names(placed).into_iter().zip(&placed.places) {
        let kept = occasion_at(bench, planned, (placed.kind, *place));
        for (station, at) in either(&stations(gauge)) {
            for (direction, way) in either(&directions(gauge)) {
                let words = [name.as_str(), at, way].into_iter().filter(|word| !word.is_empty());
                blanks.push(Blank {
                    name: words.collect::<Vec<_>>().join(" "),
                    written: recorded(bench, planned, (id, *place), station, direction).unwrap_or_default(),
                    field: Field::of(entry(bench, (id, *place), (station, direction), kept)),
                });
            }
        }
    }
    vec![StepLine::Reading { text, limit, unit, blanks }]
}

/// Where along its bore or journal a gauge is read; none where that is not stated of every station.
fn stations_figure(bench: &Bench, id: GaugeId) -> Option<Figure> {
    let gauge = bench.procedure.gauge(id);
    // What wears larger is the inside of something.
    let upright = bench.procedure.limits((id, Place(0))).side() == Some(Side::Grows);
    let stations: Option<Vec<StationMark>> = gauge
        .stations
        .iter()
        .map(|(name, depth)| {
            let depth = (*depth)?;
            let name = format!("{} {}", spaced(name), depth.printed());
            Some(StationMark { name, at: depth.base() * 1000.0 })
        })
        .collect();
    let stations = stations.filter(|stations| stations.len() > 1)?;
    let names: Vec<String> = stations.iter().map(|station| station.name.clone()).collect();
    let title = &gauge.naming.title;
    Some(Figure {
        caption: Text::bold(format!("{title}: where to measure.")),
        alternative: format!("{title} is measured from its edge at {}.", words::list(&names)),
        drawing: Drawing::Stations(StationsDrawing { upright, stations }),
    })
}

/// Readings at several spots of several places as a table: a row for a place and its station, a column for a
/// direction. None where a row would be no more than one blank, or wider than the page.
fn spot_table(
    bench: &Bench,
    planned: &PlannedStep,
    placed: &Placed,
    id: GaugeId,
    unit: &str,
) -> Option<Table> {
    let gauge = bench.procedure.gauge(id);
    let (stations, directions) = (stations(gauge), directions(gauge));
    let by_direction = directions.len() > 1;
    // Every spot of a place stands in its row where that leaves room for a pencil.
    let all = by_direction && stations.len() > 1 && stations.len() * directions.len() <= ABREAST;
    let spots = || stations.iter().flat_map(|at| directions.iter().map(move |way| format!("{at} {way}")));
    let abreast = match (all, by_direction) {
        (true, _) => &spots().collect::<Vec<String>>(),
        (false, true) => &directions,
        (false, false) => &stations,
    };
    if !(2..=ABREAST).contains(&abreast.len()) {
        return None;
    }
    let down: Vec<(Option<usize>, &str)> =
        if by_direction && !all { either(&stations) } else { vec![(None, "")] };
    let named = placed.places.len() > 1 || bench.place_names(placed).iter().any(|name| !name.is_empty());
    let place = if all { "At" } else { "Place" };
    let columns_of_names = [named.then_some((place, 0.7)), (down.len() > 1).then_some(("At", 1.9))];
    let mut columns: Vec<Column> = columns_of_names
        .into_iter()
        .flatten()
        .map(|(heading, share)| column(heading.to_owned(), share))
        .collect();
    let in_cell = if all { "" } else { unit };
    columns.extend(abreast.iter().map(|heading| column(words::capital(heading), 3.0)));
    let mut rows = Vec::new();
    for (name, place) in bench.place_names(placed).into_iter().zip(&placed.places) {
        let kept = occasion_at(bench, planned, (placed.kind, *place));
        for (station, at) in &down {
            let mut row = Vec::new();
            if named {
                row.push(Cell::Text(Text::bold(name.clone())));
            }
            if down.len() > 1 {
                row.push(Cell::Text(Text::plain(*at)));
            }
            row.extend((0..abreast.len()).map(|index| {
                let (station, direction) = match (all, by_direction) {
                    (true, _) => (Some(index / directions.len()), Some(index % directions.len())),
                    (false, true) => (*station, Some(index)),
                    (false, false) => (Some(index), None),
                };
                recorded(bench, planned, (id, *place), station, direction)
                    .map_or_else(|| Cell::Twice(in_cell.to_owned()), |value| Cell::Text(Text::bold(value)))
                    .belonging(Field::of(entry(bench, (id, *place), (station, direction), kept)))
            }));
            rows.push(row);
        }
    }
    Some(Table { caption: Text::default(), columns, rows })
}

pub(super) fn column(heading: String, share: f64) -> Column {
    Column { heading, share, to_the_right: false }
}

/// Every name with its index, or one blank name without.
fn either(names: &[String]) -> Vec<(Option<usize>, &str)> {
    if names.is_empty() {
        return vec![(None, "")];
    }
    names.iter().enumerate().map(|(index, name)| (Some(index), name.as_str())).collect()
}

fn stations(gauge: &Gauge) -> Vec<String> {
    let station = |(name, depth): &(String, Option<Quantity>)| match depth {
        Some(depth) => format!("{} ({})", spaced(name), depth.printed()),
        None => spaced(name),
    };
    gauge.stations.iter().map(station).collect()
}

fn directions(gauge: &Gauge) -> Vec<String> {
    gauge.directions.iter().map(|name| spaced(name)).collect()
}

/// When in the life of its part something is read or judged at a step, at the first of its places where they are many.
pub(super) fn occasion(bench: &Bench, planned: &PlannedStep, placed: &Placed) -> Occasion {
    let place = placed.places.first().copied().unwrap_or(Place(0));
    occasion_at(bench, planned, (placed.kind, place))
}

/// The same at one place.
pub(super) fn occasion_at(bench: &Bench, planned: &PlannedStep, read: (PlacedKind, Place)) -> Occasion {
    bench.plan.occasion(bench.procedure, planned, read)
}

/// Where a reading belongs in the record.
pub(super) fn entry(
    bench: &Bench,
    (id, place): (GaugeId, Place),
    (station, direction): (Option<usize>, Option<usize>),
    occasion: Occasion,
) -> Entry {
    let gauge = bench.procedure.gauge(id);
    let mut name = words::id_at(bench.procedure, &gauge.naming, &gauge.axes, place);
    let station = station.and_then(|index| gauge.stations.get(index)).map(|(name, _)| name);
    let direction = direction.and_then(|index| gauge.directions.get(index));
    for word in station.into_iter().chain(direction) {
        name = format!("{name} {word}");
    }
    let measured = |unit| bench.material.shop.map_or(unit, |shop| shop.crib.measured_in(unit));
    let unit = gauge.unit.map(measured);
    let symbol = unit.map(|unit| unit.symbol.to_owned()).unwrap_or_default();
    let plausible = Sizes::plausible(bench.procedure, bench.material.job, (id, place), occasion).zip(unit);
    let plausible =
        plausible.map(|((low, high), unit)| (unit.number_for(low.base()), unit.number_for(high.base())));
    Entry { plausible, ..Entry::new(&["readings", key(occasion), &name], Form::Quantity(symbol)) }
}

/// What an occasion is called behind what was read on it; nothing for what was found.
pub(super) fn occasion_word(occasion: Occasion) -> &'static str {
    match occasion {
        Occasion::AsFound => "",
        Occasion::AsReturned => "returned",
        Occasion::AsBuilt => "as built",
    }
}

/// The key of an occasion in a record.
fn key(occasion: Occasion) -> &'static str {
    Occasion::KEYS.iter().find(|(_, known)| *known == occasion).map_or("", |(key, _)| key)
}

/// Where the result of a look belongs in the record.
pub(super) fn look_keys(bench: &Bench, (id, place): (LookId, Place), occasion: Occasion) -> [String; 3] {
    let look = bench.procedure.look(id);
    let name = words::id_at(bench.procedure, &look.naming, &look.axes, place);
    ["looks".to_owned(), key(occasion).to_owned(), name]
}

/// What the record has of one reading of a step that is done, with its unit. A step still to be worked is read anew.
fn recorded(
    bench: &Bench,
    planned: &PlannedStep,
    (gauge, place): (GaugeId, Place),
    station: Option<usize>,
    direction: Option<usize>,
) -> Option<String> {
    if planned.standing != Standing::Done {
        return None;
    }
    let occasion = occasion_at(bench, planned, (PlacedKind::Gauge(gauge), place));
    let taken = |reading: &&Reading| {
        (reading.gauge, reading.place, reading.occasion) == (gauge, place, occasion)
            && (reading.station, reading.direction) == (station, direction)
    };
    bench.material.job.readings.iter().rev().find(taken).map(|reading| reading.value.printed())
}

/// What the record already has beyond a limit of a gauge at some of its places: `FOUND 0.60 ± 0.005 mm, beyond the worn limit
/// 0.08 mm`.
fn beyond(bench: &Bench, id: GaugeId, places: &[Place], occasion: Occasion) -> String {
    let found = bench.material.decisions.findings.iter().filter(|finding| {
        finding.gauge == id && finding.occasion == occasion && places.contains(&finding.place)
    });
    let axes = &bench.procedure.gauge(id).axes;
    let words = found.map(|finding| {
        let place = bench.procedure.place_name(axes, finding.place);
        let place = if place.is_empty() { String::new() } else { format!(" at {place}") };
        let accepted = finding.accepted.as_ref().map(|words| format!(" ({words})")).unwrap_or_default();
        format!("FOUND{place} {}{accepted}", finding.words)
    });
    words.collect::<Vec<_>>().join("; ")
}

/// The unit behind the blanks of a gauge, as this shop measures.
pub(super) fn unit(bench: &Bench, gauge: &Gauge) -> String {
    let measured = |unit| bench.material.shop.map_or(unit, |shop| shop.crib.measured_in(unit));
    gauge.unit.map(|unit| measured(unit).printed.to_owned()).unwrap_or_default()
}

/// What a gauge has to read on an occasion, at each of some places. Once the piece that is measured there was machined to a
/// size, or a new one of another size goes in, the limits of the standard size are no longer the ones to meet.
pub(super) fn limit_on(bench: &Bench, id: GaugeId, places: &[Place], occasion: Occasion) -> String {
    limit_told(bench, id, places, occasion, true)
}

/// The same in the unit of the gauge alone, for a table of readings in that unit.
pub(super) fn limit_beside(bench: &Bench, id: GaugeId, places: &[Place], occasion: Occasion) -> String {
    limit_told(bench, id, places, occasion, false)
}

fn limit_told(bench: &Bench, id: GaugeId, places: &[Place], occasion: Occasion, both: bool) -> String {
    let procedure = bench.procedure;
    by_place(procedure, &procedure.gauge(id).axes, places, |place| {
        limit_to_meet(bench, (id, place), occasion, both)
    })
}

fn limit_to_meet(bench: &Bench, at: (GaugeId, Place), occasion: Occasion, both: bool) -> String {
    let procedure = bench.procedure;
    let gauge = procedure.gauge(at.0);
    let limit = || limit_at(bench, at, occasion, both);
    if gauge.of.is_none() || occasion == Occasion::AsFound {
        return limit();
    }
    let fates = &bench.material.decisions.fates;
    let pieces = procedure.measured(at);
    for verdict in pieces.iter().filter_map(|piece| Some(&fates.get(piece)?.verdict)) {
        match verdict {
            Verdict::Machine { what, to } => match to.iter().find(|size| size.gauge == at.0) {
                Some(size) => {
                    let to = if both { finished_size(size) } else { size_in_one(size) };
                    return format!("wanted {to}");
                }
                None if puts_a_sleeve_in(what) && gauge.sizes.is_some() => {
                    return format!("wanted {}", as_made(bench, at, both));
                }
                None => {}
            },
            Verdict::Renew { size: Some(size) }
                if !gauge.made.is_empty() && goes_into_a_clearance(procedure, at.0) =>
            {
                return format!("{} of the standard size; fitted: {}", limit(), size.printed());
            }
            _ => {}
        }
    }
    limit()
}

/// The finished size of machining in its own unit.
fn size_in_one(size: &Size) -> String {
    size.high.map_or_else(|| size.low.printed(), |high| from_to(size.low, high))
}

/// As made, in the size that it has: a sleeve is finished to that.
pub(super) fn as_made(bench: &Bench, at: (GaugeId, Place), both: bool) -> String {
    let (job, fates) = (bench.material.job, &bench.material.decisions.fates);
    let sizes = Sizes::on(bench.procedure, job, fates, Occasion::AsReturned);
    let Some(made) = sizes.limits_said(at).made else { return "not stated".to_owned() };
    let made = made_in(made, both);
    let present = sizes.of(at).map(|present| format!(", {}", present.words())).unwrap_or_default();
    format!("{made}{present}")
}

/// What a thing is as made, alone or between two limits: also in a second unit, or in its own.
fn made_in(made: (Quantity, Option<Quantity>), both: bool) -> String {
    match made {
        (nominal, None) if both => pair(nominal).to_string(),
        (low, Some(high)) if both => range_pair(low, high).to_string(),
        (nominal, None) => nominal.printed(),
        (low, Some(high)) => from_to(low, high),
    }
}

/// The finished size of machining, with its tolerance where one is stated.
pub(super) fn finished_size(size: &Size) -> String {
    match size.high {
        Some(high) => range_pair(size.low, high).to_string(),
        None => pair(size.low).to_string(),
    }
}

/// Limits at some places of a gauge, as made and as worn: `as made 0.05 to 0.11 mm, worn limit 0.15 mm`; of a gauge
/// that has neither, its results. An unknown limit says so. Where they differ, each stands behind the positions at which it holds: `inlet: as made 0.20 mm`; while
/// open answers choose them, behind its condition.
pub(super) fn limit(bench: &Bench, id: GaugeId, places: &[Place], occasion: Occasion) -> String {
    limits(bench, id, places, occasion, true)
}

fn limits(bench: &Bench, id: GaugeId, places: &[Place], occasion: Occasion, both: bool) -> String {
    let procedure = bench.procedure;
    let at = |place| limit_at(bench, (id, place), occasion, both);
    by_place(procedure, &procedure.gauge(id).axes, places, at)
}

fn limit_at(bench: &Bench, (id, place): (GaugeId, Place), occasion: Occasion, both: bool) -> String {
    let procedure = bench.procedure;
    let gauge = procedure.gauge(id);
    let bound = procedure.bound(&gauge.axes, place);
    let sizes = Sizes::on(procedure, bench.material.job, &bench.material.decisions.fates, occasion);
    let present = sizes.of((id, place));
    let now = |limit, of: fn(Present, Quantity) -> Quantity| present.map_or(limit, |now| of(now, limit));
    let chosen = gauge.made.chosen_by(&bound).chain(gauge.worn.chosen_by(&bound)).next().is_some();
    let only_worn =
        gauge.worn.each(&bound).next().filter(|_| !both && !chosen).and_then(|(worn, _)| worn.value);
    // A sign close behind its number belongs to it.
    let unit_of_worn = only_worn.map(|limit| now(limit, Present::worn).unit()).filter(|unit| unit.is_apart());
    let made = by_answer(procedure, gauge.made.each(&bound), |made| {
        let high = made.value.1.map(|high| now(high, Present::most));
        let low = now(made.value.0, if high.is_some() { Present::least } else { Present::of });
        // In a table, where every line counts, a unit that both limits have stands once, behind the other.
        let made = match unit_of_worn {
            Some(unit) if low.unit() == unit && high.is_none_or(|high| high.unit() == unit) => {
                high.map_or_else(|| low.numeral().to_string(), |high| numerals_from_to(low, high))
            }
            _ => made_in((low, high), both),
        };
        format!("as made {made}")
    });
    let side = procedure.limits((id, place)).side().map(|side| match side {
        Side::Grows => Bound::Most,
        Side::Shrinks => Bound::Least,
    });
    let worn = by_answer(procedure, gauge.worn.each(&bound), |worn| match worn.value {
        Some(limit) if both => format!("worn limit {}", limit_pair(now(limit, Present::worn), side)),
        Some(limit) => format!("worn limit {}", now(limit, Present::worn).printed()),
        None => "worn limit not known".to_owned(),
    });
    let size = present.map(Present::words).unwrap_or_default();
    // Where nothing else says what is good, the results do, each with where it begins and ends; pieces to choose from have a list.
    let alone = made.is_empty() && worn.is_empty() && present.is_none() && gauge.sold.is_none();
    let results = by_answer(procedure, gauge.edges.each(&bound).filter(|_| alone), |edges| {
        gauge
            .bands
            .iter()
            .zip(&edges.value)
            .map(|(band, ends)| result(&band.name, *ends))
            .collect::<Vec<_>>()
            .join(", ")
    });
    let parts: Vec<String> =
        [size, made, worn, results].into_iter().filter(|part| !part.is_empty()).collect();
    parts.join(if chosen { "; " } else { ", " })
}

/// A result of a gauge with where it begins and ends: `good 0.05 to 0.15 mm`, `loose above 0.15 mm`.
fn result(name: &str, ends: Edges) -> String {
    let name = spaced(name);
    match (ends.low, ends.high) {
        (Some(low), Some(high)) => format!("{name} {}", from_to(low, high)),
        (None, Some(high)) => format!("{name} below {}", high.printed()),
        (Some(low), None) => format!("{name} above {}", low.printed()),
        (None, None) => name,
    }
}

/// Results to tick for the looks of an act.
pub(super) fn look_lines(bench: &Bench, planned: &PlannedStep, act: &PlannedAct) -> Vec<StepLine> {
    let mut lines = Vec::new();
    for placed in &act.things {
        if let PlacedKind::Look(id) = placed.kind {
            lines.push(look_line(bench, planned, placed, id, act.act.note.as_deref()));
        }
    }
    lines
}

/// What the record has of a look at each of its places, by the index of its result; nothing at a step still to be worked.
fn found(bench: &Bench, planned: &PlannedStep, placed: &Placed, id: LookId) -> Vec<Option<usize>> {
    if planned.standing != Standing::Done {
        return vec![None; placed.places.len()];
    }
    let result = |place: &Place| {
        let mut looks = bench.material.job.looks.iter().rev();
        let occasion = occasion_at(bench, planned, (placed.kind, *place));
        let here = |taken: &&LookTaken| (taken.look, taken.place, taken.occasion) == (id, *place, occasion);
        looks.find(here).map(|taken| taken.result)
    };
    placed.places.iter().map(result).collect()
}

fn look_line(
    bench: &Bench,
    planned: &PlannedStep,
    placed: &Placed,
    id: LookId,
    note: Option<&str>,
) -> StepLine {
    let look = bench.procedure.look(id);
    let by = look.by.as_ref().map(|by| format!(", {by}")).unwrap_or_default();
    let text = with_note(Text::bold(look.naming.title.clone()).and(format!("{by}.")), note);
    let results: Vec<String> = look.results.iter().map(|result| spaced(result)).collect();
    let places = bench.place_names(placed);
    let found = found(bench, planned, placed, id);
    let entry = |place: Place| {
        let keys = look_keys(bench, (id, place), occasion_at(bench, planned, (placed.kind, place)));
        Entry { keys: keys.to_vec(), form: Form::Word(look.results.clone()), plausible: None }
    };
    if places.len() < 2 {
        let place = placed.places.first().copied().unwrap_or(Place(0));
        let entry = Some(entry(place));
        return StepLine::Act {
            text,
            boxes: Boxes::Results(results, found.first().copied().flatten(), entry),
        };
    }
    // Many places with few results stand in two halves beside each other.
    let halves = if places.len() >= 4 && results.len() <= 2 { 2 } else { 1 };
    let down = places.len().div_ceil(halves);
    let of_half = || {
        let place = column("Place".to_owned(), if halves == 2 { 1.3 } else { 2.0 });
        let results = results.iter().map(|result| column(words::capital(result), 1.0));
        std::iter::once(place).chain(results)
    };
    let columns = (0..halves).flat_map(|_| of_half()).collect();
    let cells = |index: usize| {
        let name = places.get(index).cloned().unwrap_or_default();
        let tick = |result: usize| match found.get(index) {
            None => Cell::Text(Text::default()),
            Some(found) => {
                let cell = if *found == Some(result) { Cell::Ticked } else { Cell::Tick };
                cell.belonging(Field::of(entry(placed.places[index])))
            }
        };
        std::iter::once(Cell::Text(Text::bold(name))).chain((0..results.len()).map(tick)).collect::<Vec<_>>()
    };
    let row = |row: usize| (0..halves).flat_map(|half| cells(row + half * down)).collect();
    StepLine::Table(Table { caption: text, columns, rows: (0..down).map(row).collect() })
}
