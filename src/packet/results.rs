//! What was measured and looked at, in one table: what was read at each place beside what it has to be, what that comes to,
//! and a mark for each that is right or isn't. It must not work anything out.

use std::collections::BTreeMap;

use super::again;
use super::bench::Bench;
use super::questions::columns;
use super::reading::{self, occasion_word};
use super::side_by_side::{by_axes, place_heads};
use super::{who_read, word};
use crate::decide::{Answer, Asked, Figure, Gone, Meaning, Showing, meaning, showings};
use crate::english::{capital, spaced};
use crate::plan::PlacedKind;
use crate::plan::words::list;
use crate::procedure::model::{AxisId, Deed, GaugeId, LookId, Phase, Place};
use crate::record::Occasion;
use crate::sheet::{Block, Cell, Sheet, SheetKind, Table, Text};

/// Spots of one place that stand beside each other; with more the stations stand below each other. Our own choice, no source.
const ABREAST: usize = 8;

/// Places beside which a column of names would be too narrow to read. Our own choice, no source.
const MANY_PLACES: usize = 6;

/// Rows up to which the results stand below the sheet before them. Our own choice, no source.
const FEW_ROWS: usize = 16;

/// What readings of one occasion come to, in one of the words told beside them.
type Pick = fn(&Showing) -> &Option<String>;

/// Everything that a packet shows of readings, by gauge, place and occasion.
pub(super) type Shown = BTreeMap<(GaugeId, Place, Occasion), Showing>;

/// What the readings of the job come to.
pub(super) fn shown(bench: &Bench) -> Shown {
    let material = bench.material;
    showings(material.procedure, &material.network.structure, material.job, material.decisions)
}

/// The sheet of results; none where nothing was measured or looked at.
pub(super) fn results(bench: &Bench) -> Vec<Sheet> {
    let shown = shown(bench);
    let mut blocks = measured(bench, &shown);
    blocks.extend(looked_at(bench));
    if blocks.is_empty() {
        return Vec::new();
    }
    let judged = word::judged(bench);
    blocks.insert(0, Block::Paragraph(legend(!judged.is_empty())));
    let below: Vec<Text> = judged.into_iter().chain(again::all(bench)).chain(with_another(bench)).collect();
    if !below.is_empty() {
        blocks.push(Block::List { items: below, tick: false });
    }
    blocks.extend(who_read::table(bench));
    blocks.extend(not_taken(bench));
    let rows = |block: &Block| match block {
        Block::Table(table) | Block::Halves(table) => table.rows.len(),
        _ => 0,
    };
    // A short one needs no page of its own.
    let follows = blocks.iter().map(rows).sum::<usize>() <= FEW_ROWS;
    let subtitle = "What was measured and looked at, what it has to be, and what it comes to";
    vec![Sheet { follows, ..Sheet::new(SheetKind::Results, "Results", subtitle, blocks) }]
}

/// What was read with another instrument than the gauge names, readings with the same one together; what was read again says so
/// by itself.
fn with_another(bench: &Bench) -> Vec<Text> {
    let mut told: BTreeMap<(GaugeId, &str, Option<String>), Vec<Place>> = BTreeMap::new();
    for reading in bench.material.job.readings.iter().filter(|reading| reading.earlier.is_empty()) {
        let Some(instrument) = &reading.instrument else { continue };
        let error = reading.error.map(|error| error.printed());
        let places = told.entry((reading.gauge, instrument, error)).or_default();
        if !places.contains(&reading.place) {
            places.push(reading.place);
        }
    }
    let line = |((id, instrument, error), places): ((GaugeId, &str, Option<String>), Vec<Place>)| {
        let gauge = bench.procedure.gauge(id);
        let names: Vec<String> = places.iter().map(|place| bench.place_name(&gauge.axes, *place)).collect();
        let names = list(&names);
        let at = if names.is_empty() { String::new() } else { format!(", {names}") };
        let error = error.map(|error| format!(", which may be off by {error}")).unwrap_or_default();
        Text::bold(format!("{}{at}, read with: ", gauge.naming.title)).and(format!("{instrument}{error}."))
    };
    told.into_iter().map(line).collect()
}

/// What the marks mean; that of a person's word only where there is one.
fn legend(judged: bool) -> Text {
    let text = marks();
    if judged { text.and(" ").and_bold("*").and(" judged by a person, told below.") } else { text }
}

fn marks() -> Text {
    Text::bold("✓")
        .and(" as made. ")
        .and_bold("(✓)")
        .and(" worn, within its limit. ")
        .and_bold("▲ ▼")
        .and(" above or below its limit as worn, or where none is known, what it was made to. ")
        .and_bold("?")
        .and(
            " too near a limit to tell: measure again. No mark: nothing says what it has to be. Oval: largest less smallest \
             at one station. Taper: largest less smallest in one direction. Worn by: how far the worst is past the limits \
             as made.",
        )
}

/// A figure with the mark of how far it has gone; what isn't right is bold.
fn marked(figure: &Figure, doubt: Doubt) -> Text {
    let number = match &figure.doubt {
        Some(off) if doubt == Doubt::Here => format!("{} ± {off}", figure.number),
        _ => figure.number.clone(),
    };
    match figure.gone {
        Gone::NotJudged => Text::plain(number),
        Gone::AsMade => Text::plain(format!("{number}\u{a0}✓")),
        Gone::Worn => Text::plain(format!("{number}\u{a0}(✓)")),
        Gone::Over => Text::bold(format!("{number}\u{a0}▲")),
        Gone::Under => Text::bold(format!("{number}\u{a0}▼")),
        Gone::TooNear => Text::bold(format!("{number}\u{a0}?")),
    }
}

/// Where it is told how far a figure may be off.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Doubt {
    /// Behind the figure.
    Here,
    /// Once for the row.
    Apart,
}

const OCCASIONS: [Occasion; 3] = [Occasion::AsFound, Occasion::AsReturned, Occasion::AsBuilt];

/// Gauges read at spots each in a table of their own, the others together by the places at which they are read.
fn measured(bench: &Bench, shown: &Shown) -> Vec<Block> {
    let mut blocks = Vec::new();
    let mut once = Vec::new();
    for (id, gauge) in bench.procedure.gauges.numbered() {
        if !OCCASIONS.iter().any(|occasion| is_read(bench, shown, id, *occasion)) {
            continue;
        }
        if gauge.stations.len().max(1) * gauge.directions.len().max(1) > 1 {
            blocks.push(Block::Table(by_spot(bench, shown, id)));
            continue;
        }
        once.push(id);
    }
    blocks.extend(by_axes(bench, once).iter().map(|(axes, gauges)| {
        let table = by_place(bench, shown, axes, gauges);
        if table.columns.len() < 3 { Block::Halves(table) } else { Block::Table(table) }
    }));
    blocks
}

/// Whether anything was read of a gauge on an occasion, or is worked out from what was read.
fn is_read(bench: &Bench, shown: &Shown, id: GaugeId, occasion: Occasion) -> bool {
    let readings = &bench.material.job.readings;
    bench.procedure.places(&bench.procedure.gauge(id).axes).any(|place| {
        shown.contains_key(&(id, place, occasion))
            || readings.iter().any(|read| (read.gauge, read.place, read.occasion) == (id, place, occasion))
    })
}

/// The name of a gauge with its unit and its limits on the occasions on which it was read.
fn headed(bench: &Bench, shown: &Shown, id: GaugeId) -> Text {
    let gauge = bench.procedure.gauge(id);
    let places: Vec<Place> = bench.procedure.places(&gauge.axes).collect();
    let read = OCCASIONS.iter().filter(|occasion| is_read(bench, shown, id, **occasion));
    let mut limits: Vec<String> = Vec::new();
    for occasion in read {
        let said = reading::limit_beside(bench, id, &places, *occasion);
        let word = occasion_word(*occasion);
        let before = if word.is_empty() || limits.is_empty() { String::new() } else { format!("{word}: ") };
        if !said.is_empty() && !limits.contains(&said) {
            limits.push(before + &said);
        }
    }
    let head = Text::bold(gauge.naming.title.clone());
    if !limits.is_empty() {
        return head.and(format!(": {}", limits.join("; ")));
    }
    // The limits have the unit of what is read; without them it stands alone.
    let unit = shown.iter().find(|((of, ..), _)| *of == id).map_or("", |(_, showing)| showing.unit);
    if unit.is_empty() { head } else { head.and(format!(", {unit}")) }
}

/// A reading at one spot by station and direction, or the worst of what is computed, where all were read.
fn figure<'a>(
    bench: &Bench,
    shown: &'a Shown,
    key: (GaugeId, Place, Occasion),
    (station, direction): (usize, usize),
) -> Option<&'a Figure> {
    let gauge = bench.procedure.gauge(key.0);
    let showing = shown.get(&key)?;
    if gauge.formula.is_some() {
        return Some(&showing.worst);
    }
    showing.each.get(station * gauge.directions.len().max(1) + direction)
}

/// What was read at one spot, or is worked out.
fn at(
    bench: &Bench,
    shown: &Shown,
    key: (GaugeId, Place, Occasion),
    spot: (usize, usize),
    doubt: Doubt,
) -> Text {
    let (id, place, occasion) = key;
    if shown.contains_key(&key) {
        let text = figure(bench, shown, key, spot).map(|figure| marked(figure, doubt)).unwrap_or_default();
        return match band(bench, id, place) {
            _ if occasion != Occasion::AsFound => text,
            band => {
                let text = band.into_iter().fold(text, |text, band| text.and(", ").and_bold(band));
                let judged = bench.material.job.judged.contains_key(&(id, place));
                if judged { text.and_bold("*") } else { text }
            }
        };
    }
    let (station, direction) = spot;
    // Where not all of its spots were read nothing is judged.
    let taken = bench.material.job.readings.iter().rev().find(|read| {
        (read.gauge, read.place, read.occasion) == (id, place, occasion)
            && read.station.unwrap_or_default() == station
            && read.direction.unwrap_or_default() == direction
    });
    taken.map(|read| Text::plain(read.value.printed())).unwrap_or_default()
}

/// The band that a gauge with such is in, as it was found.
fn band(bench: &Bench, id: GaugeId, place: Place) -> Option<String> {
    let bands = &bench.procedure.gauge(id).bands;
    match bench.material.decisions.answers.get(&Asked::Gauge(id, place))? {
        Answer::Settled { answer, .. } => bands.get(*answer).map(|band| spaced(&band.name)),
        Answer::Open(_) => None,
    }
}

/// A gauge that is read at several spots: a row a place, a column a spot, and what they come to.
fn by_spot(bench: &Bench, shown: &Shown, id: GaugeId) -> Table {
    let gauge = bench.procedure.gauge(id);
    let (stations, directions) = (gauge.stations.len().max(1), gauge.directions.len().max(1));
    let below = stations * directions > ABREAST;
    let station = |at: usize| {
        gauge.stations.get(at).map(|(name, depth)| match depth {
            Some(depth) => format!("{} {}", spaced(name), depth.printed().replace(' ', "\u{a0}")),
            None => spaced(name),
        })
    };
    let direction = |at: usize| gauge.directions.get(at).map(|name| spaced(name));
    let abreast: Vec<(usize, usize)> = if below {
        (0..directions).map(|direction| (0, direction)).collect()
    } else {
        (0..stations).flat_map(|station| (0..directions).map(move |direction| (station, direction))).collect()
    };
    let rows_down: Vec<usize> = if below { (0..stations).collect() } else { vec![0] };
    let mut rows = Vec::new();
    let comes_to = |pick: Pick| shown.iter().any(|((of, ..), showing)| *of == id && pick(showing).is_some());
    let picks: [(&str, Pick); 3] = [
        ("Oval", |showing| &showing.oval),
        ("Taper", |showing| &showing.taper),
        ("Worn by", |showing| &showing.worn_by),
    ];
    let picks: Vec<_> = picks.into_iter().filter(|(_, pick)| comes_to(*pick)).collect();
    for place in bench.procedure.places(&gauge.axes) {
        for occasion in OCCASIONS {
            for down in &rows_down {
                let key = (id, place, occasion);
                let cells: Vec<Text> = abreast
                    .iter()
                    .map(|(station, direction)| {
                        let spot = (if below { *down } else { *station }, *direction);
                        at(bench, shown, key, spot, Doubt::Here)
                    })
                    .collect();
                if cells.iter().all(|text| text.words().is_empty()) {
                    continue;
                }
                let name = [bench.place_name(&gauge.axes, place), occasion_word(occasion).to_owned()];
                let name = name.into_iter().filter(|word| !word.is_empty()).collect::<Vec<_>>().join(", ");
                let mut row = vec![Cell::Text(Text::bold(name))];
                if below {
                    row.push(Cell::Text(Text::plain(station(*down).unwrap_or_default())));
                }
                row.extend(cells.into_iter().map(Cell::Text));
                row.extend(picks.iter().map(|(_, pick)| {
                    // Beside several rows of one place they stand once.
                    let showing = shown.get(&key).filter(|_| *down == 0);
                    Cell::Text(Text::plain(
                        showing.and_then(|showing| pick(showing).clone()).unwrap_or_default(),
                    ))
                }));
                rows.push(row);
            }
        }
    }
    let heads: Vec<String> = abreast
        .iter()
        .map(|(at_station, at_direction)| {
            let of_station = if below { None } else { station(*at_station) };
            let words = [of_station, direction(*at_direction)];
            capital(&words.into_iter().flatten().collect::<Vec<_>>().join(" "))
        })
        .collect();
    let mut headings = vec![("Place", 1.0)];
    headings.extend(below.then_some(("At", 1.4)));
    headings.extend(heads.iter().map(|head| (head.as_str(), 1.3)));
    headings.extend(picks.iter().map(|(word, _)| (*word, 0.8)));
    Table { caption: headed(bench, shown, id), columns: columns(&headings), rows }
}

/// Gauges that are read once at each of the same places: a row a gauge, a column a place.
fn by_place(bench: &Bench, shown: &Shown, axes: &[AxisId], gauges: &[GaugeId]) -> Table {
    let places: Vec<Place> = bench.procedure.places(axes).collect();
    let names = place_heads(bench, axes, &places, "Reading");
    let mut rows = Vec::new();
    for id in gauges {
        let mut first = true;
        for occasion in OCCASIONS {
            let cell = |place: &Place, doubt| at(bench, shown, (*id, *place, occasion), (0, 0), doubt);
            let told: Vec<&Place> =
                places.iter().filter(|place| !cell(place, Doubt::Here).words().is_empty()).collect();
            if told.is_empty() {
                continue;
            }
            let doubt_at = |place: &&Place| {
                figure(bench, shown, (*id, **place, occasion), (0, 0))
                    .and_then(|figure| figure.doubt.as_deref())
            };
            let doubt = same_doubt(&told.iter().map(doubt_at).collect::<Vec<_>>());
            let where_told = if doubt.is_some() { Doubt::Apart } else { Doubt::Here };
            let cells = places.iter().map(|place| cell(place, where_told));
            let word = capital(occasion_word(occasion));
            let name = if first {
                let head = headed(bench, shown, *id);
                if word.is_empty() { head } else { head.and(format!(". {word}")) }
            } else {
                Text::plain(word)
            };
            let name = match doubt {
                Some(doubt) => name.and(format!(", each ±\u{a0}{doubt}")),
                None => name,
            };
            first = false;
            if places.len() >= MANY_PLACES {
                rows.push(vec![Cell::Text(name)]);
                rows.push(cells.map(Cell::Text).collect());
            } else {
                rows.push(std::iter::once(name).chain(cells).map(Cell::Text).collect());
            }
        }
    }
    // With few places the names have the more room; with many they stand on lines of their own.
    let wide = if places.len() < 4 { 6.0 } else { 4.4 };
    let named = (places.len() < MANY_PLACES).then_some(("Measured, and what it has to be", wide));
    let mut headings: Vec<(&str, f64)> = named.into_iter().collect();
    headings.extend(names.iter().map(|name| (name.as_str(), 1.2)));
    Table { caption: Text::default(), columns: columns(&headings), rows }
}

/// The doubt that all of at least two figures of a row have; none where something stands there without.
fn same_doubt<'a>(doubts: &[Option<&'a str>]) -> Option<&'a str> {
    let (first, rest) = doubts.split_first()?;
    (*first).filter(|_| !rest.is_empty() && rest.iter().all(|doubt| doubt == first))
}

/// Every look with its results by place; what isn't good is bold.
fn looked_at(bench: &Bench) -> Vec<Block> {
    let row = |id: LookId| -> Option<Vec<Cell>> {
        let look = bench.procedure.look(id);
        let mut by_result: Vec<(usize, Occasion, Vec<Place>)> = Vec::new();
        for place in bench.procedure.places(&look.axes) {
            for occasion in OCCASIONS {
                let mut taken = bench.material.job.looks.iter().rev();
                let taken =
                    taken.find(|taken| (taken.look, taken.place, taken.occasion) == (id, place, occasion));
                let Some(taken) = taken else { continue };
                match by_result.iter_mut().find(|(result, on, _)| (*result, *on) == (taken.result, occasion))
                {
                    Some((.., places)) => places.push(place),
                    None => by_result.push((taken.result, occasion, vec![place])),
                }
            }
        }
        by_result.sort_by_key(|(result, occasion, _)| (*occasion, *result));
        let mut text = Text::default();
        for (index, (result, occasion, places)) in by_result.iter().enumerate() {
            let result = &look.results[*result];
            let names: Vec<String> =
                places.iter().map(|place| bench.place_name(&look.axes, *place)).collect();
            let all = places.len() == bench.procedure.places(&look.axes).count();
            let names = if all { String::new() } else { format!(": {}", names.join(", ")) };
            let word = match occasion_word(*occasion) {
                "" => String::new(),
                word => format!("{word}: "),
            };
            let words = format!("{word}{}{names}", spaced(result));
            let between = if index == 0 { "" } else { "; " };
            text = text.and(between);
            text =
                if meaning(result) == Some(Meaning::Back) { text.and(words) } else { text.and_bold(words) };
        }
        (!by_result.is_empty())
            .then(|| vec![Cell::Text(Text::plain(look.naming.title.clone())), Cell::Text(text)])
    };
    let rows: Vec<Vec<Cell>> = bench.procedure.looks.ids().filter_map(row).collect();
    if rows.is_empty() {
        return Vec::new();
    }
    let columns = columns(&[("Looked at", 1.2), ("Found", 1.0)]);
    vec![Block::Halves(Table { caption: Text::default(), columns, rows })]
}

/// What steps of this phase have still to take, with their numbers.
fn not_taken(bench: &Bench) -> Option<Block> {
    let mut text = Text::bold("Not taken yet: ");
    let mut any = false;
    for planned in bench.left_steps() {
        let mut titles: Vec<&str> = Vec::new();
        for act in bench.acts(planned).filter(|act| matches!(act.act.deed, Deed::Gauge(_) | Deed::Look(_))) {
            titles.extend(act.things.iter().filter_map(|placed| match placed.kind {
                PlacedKind::Gauge(id) => Some(bench.procedure.gauge(id).naming.title.as_str()),
                PlacedKind::Look(id) => Some(bench.procedure.look(id).naming.title.as_str()),
                _ => None,
            }));
        }
        if titles.is_empty() {
            continue;
        }
        let number = planned.number.map(|number| number.to_string()).unwrap_or_default();
        text =
            text.and(if any { "; step\u{a0}" } else { "step\u{a0}" }).and_link(number, bench.anchor(planned));
        text = text.and(format!(": {}", titles.join(", ")));
        any = true;
    }
    (any && bench.phase == Phase::Survey).then(|| Block::Paragraph(text.and(".")))
}
