//! What goes to the machine shop and to the bench of others, and the check of what comes back from there.

use super::super::bench::Bench;
use super::super::numbers::kept;
use super::super::questions::columns;
use super::super::reading;
use super::{Addressee, bold, day, for_quote, heading, letterhead, plain, to_machine, to_sign};
use crate::decide::{Because, Size, Verdict, WorkLine, choosing_rule, puts_a_sleeve_in};
use crate::plan::words::{self, capital, list, many, sentence};
use crate::procedure::model::{FastenerKind, Gauge, GaugeId, Part, PartId, Place, SetId, grouped};
use crate::quantity::{Quantity, from_to, pair, range_pair};
use crate::record::{Goods, Occasion, Refused};
use crate::sheet::{Block, Cell, Field, Form, Sheet, SheetKind, Table, Text};

/// Places that stand beside each other. Our own choice, no source.
const ABREAST: usize = 6;

/// What is looked at on everything that comes back, whatever was done to it. Common practice, no source.
const GOODS_BACK: [&str; 6] = [
    "The piece that left: our mark is on it",
    "Every item of the order is done",
    "Galleries and oilways brushed, washed, blown through",
    "Plugs, dowels and studs back in, none too many",
    "No chips, grit or blasting dust anywhere",
    "No knocks, no rust; faces oiled and covered",
];

/// Work on one part, told once for all of its places where it is the same.
struct Work<'a> {
    line: &'a WorkLine,
    places: Vec<Place>,
    sizes: &'a [Size],
}

fn works<'a>(bench: &'a Bench, lines: &'a [WorkLine]) -> Vec<Work<'a>> {
    let mut works: Vec<Work> = Vec::new();
    for line in lines {
        let sizes =
            match bench.material.decisions.fates.get(&(line.part, line.place)).map(|fate| &fate.verdict) {
                Some(Verdict::Machine { to, .. }) => to.as_slice(),
                _ => &[],
            };
        let same = |work: &&mut Work| {
            let known = work.line;
            known.part == line.part
                && (&known.what, &known.waits_for, known.approved)
                    == (&line.what, &line.waits_for, line.approved)
                && (&known.to, known.sent, known.back, known.accepted)
                    == (&line.to, line.sent, line.back, line.accepted)
                && work.sizes == sizes
        };
        match works.iter_mut().find(same) {
            Some(work) => work.places.push(line.place),
            None => works.push(Work { line, places: vec![line.place], sizes }),
        }
    }
    works
}

impl Work<'_> {
    /// Whether a sleeve is put in.
    fn sleeved(&self) -> bool {
        puts_a_sleeve_in(&self.line.what)
    }

    /// Its id in a record, where it is one: the part at its only place of these, or at all.
    fn name(&self, bench: &Bench) -> Option<String> {
        let part = bench.procedure.part(self.line.part);
        match self.places.as_slice() {
            [place] => Some(words::id_at(bench.procedure, &part.naming, &part.axes, *place)),
            places => {
                let all = places.len() == bench.procedure.places(&part.axes).len();
                all.then(|| part.naming.id.clone())
            }
        }
    }

    /// The part with the places that are meant, where they are not all.
    fn title(&self, bench: &Bench) -> String {
        let part = bench.procedure.part(self.line.part);
        if self.places.len() == bench.procedure.places(&part.axes).len() {
            return match self.places.len() {
                1 => self.line.title.clone(),
                count => format!("{}, all {count}", self.line.title),
            };
        }
        let places: Vec<String> =
            self.places.iter().map(|place| bench.place_name(&part.axes, *place)).collect();
        format!("{} {}", self.line.title, list(&places))
    }
}

/// The machine-shop order; none if nothing is sent out.
pub(in crate::packet) fn machining(bench: &Bench) -> Vec<Sheet> {
    let lines = to_machine(bench);
    if lines.is_empty() {
        return Vec::new();
    }
    let mut firms: Vec<(&Option<String>, Vec<Work>)> = Vec::new();
    for work in works(bench, &lines) {
        match firms.iter_mut().find(|(firm, _)| **firm == work.line.to) {
            Some((_, works)) => works.push(work),
            None => firms.push((&work.line.to, vec![work])),
        }
    }
    firms.iter().map(|(firm, works)| of_firm(bench, firm.as_ref(), works)).collect()
}

/// The order to one firm, with nobody else's prices on it.
fn of_firm(bench: &Bench, firm: Option<&String>, works: &[Work]) -> Sheet {
    let mut blocks = vec![letterhead(bench, Addressee::Firm(firm.cloned()))];
    if works.iter().any(|work| !work.line.approved) {
        blocks.push(for_quote(
            "Where \"for quote\" stands, the owner has not agreed yet: name a price, do not start.",
        ));
    }
    let mut words = Text::plain(
        "Do what is listed and nothing more: every other face, thread and mark stays as it is. If a size can't be held, or \
         something else is found, stop and ask. Send this sheet back with the part.",
    );
    if works.iter().any(|work| !work.sizes.is_empty()) {
        words = words
            .and(" Write the finished sizes on it. ")
            .and_bold("Finish, fillets and hone angle: ")
            .and(format!(
                "as the maker of the {} or of the new parts says; the procedure doesn't state them.",
                bench.procedure.whole()
            ));
    }
    blocks.push(Block::Paragraph(words));
    for work in works {
        blocks.push(Block::Together(order(bench, work)));
    }
    blocks.push(to_sign("Ordered", "For the shop"));
    let subtitle = match firm {
        Some(firm) => format!("What goes to {firm}, what is to be done to it, and to what size"),
        None => "What goes out, what is to be done to it, and to what size".to_owned(),
    };
    Sheet::new(SheetKind::Machining, "Machine-shop order", subtitle, blocks)
}

/// The days on which it went, came back and was accepted, by whom where that is known.
fn so_far(bench: &Bench, work: &Work) -> String {
    let line = work.line;
    let accepted_by = bench.material.job.sent.get(&(line.part, line.place)).and_then(|sent| sent.by.as_ref());
    let by = accepted_by.map(|by| format!(" by {by}")).unwrap_or_default();
    // That it was refused stands above.
    let back = line.back.filter(|_| line.refused.is_none());
    let days = [("sent", line.sent, ""), ("back", back, ""), ("accepted", line.accepted, by.as_str())];
    let told = days.into_iter().filter_map(|(word, day, by)| day.map(|day| format!("{word} {day}{by}")));
    told.collect::<Vec<_>>().join(", ")
}

fn order(bench: &Bench, work: &Work) -> Vec<Block> {
    let line = work.line;
    let mut facts = vec![(Text::plain("To be done"), Text::bold(sentence(&line.what)))];
    for size in work.sizes {
        let gauge = bench.procedure.gauge(size.gauge);
        facts.push((Text::plain(gauge.naming.title.clone()), Text::bold(finished(size))));
        facts.extend(clearances(bench, size.gauge));
    }
    let mut standing = if line.approved { "agreed by the owner" } else { "for quote" }.to_owned();
    if let Some(price) = &line.price {
        let each = if work.places.len() > 1 { " each" } else { "" };
        let time = line.lead_time.map(|time| format!(", {}", time.printed())).unwrap_or_default();
        standing += &format!(", {price}{each}{time}");
    }
    facts.push((Text::plain("Standing"), Text::bold(standing)));
    let so_far = so_far(bench, work);
    if !so_far.is_empty() {
        facts.push((Text::plain("So far"), Text::plain(so_far)));
    }
    let mut blocks = vec![heading(&work.title(bench))];
    if !line.waits_for.is_empty() {
        let waits = line.waits_for.on_paper(bench.procedure, Goods::Part(line.part, Some(line.place)));
        let waits = format!("Do not start. Waits for {}.", waits.join("; "));
        blocks.push(Block::Notice(Text::bold("HOLD. ").and(waits)));
    }
    blocks.extend(refusals(bench, work));
    blocks.push(Block::Facts(facts));
    let why = if line.because == Because::Always { String::new() } else { line.because.plain() };
    if !why.is_empty() {
        blocks.push(Block::Paragraph(Text::plain(format!("Why: {why}"))));
    }
    let mut before: Vec<Text> =
        line.mark.iter().map(|mark| Text::bold("Mark before it leaves: ").and(mark.clone())).collect();
    before.push(Text::plain("Our job number on a wire tag or painted, never on a journal or a face."));
    blocks.push(Block::List { items: before, tick: true });
    if !work.sizes.is_empty() || work.sleeved() {
        let blank = |_: GaugeId, _: Place| Cell::Blank(String::new());
        let rows: [(&str, Filled); 2] = [("smallest", &blank), ("largest", &blank)];
        blocks.extend(by_places(bench, work, "Finished size, and what is wanted", &rows));
    }
    blocks
}

/// What stands in the table of a gauge at a place.
type Filled<'a> = &'a dyn Fn(GaugeId, Place) -> Cell;

/// The readings of what comes back, in a table for each set of places: rows for each gauge, a column for each place.
fn by_places(bench: &Bench, work: &Work, title: &str, rows: &[(&str, Filled)]) -> Vec<Block> {
    let mut tables: Vec<(Vec<String>, Vec<Vec<Cell>>)> = Vec::new();
    for (id, gauge) in gauges_back(bench, work.line.part) {
        let unit = reading::unit(bench, gauge);
        let unit = if unit.is_empty() { unit } else { format!(", {unit}") };
        let places = places_of_work(bench, id, work);
        // What is wanted differs by place in few gauges: those have rows of their own.
        for (wanted, places) in grouped(places, |place| wanted(bench, (id, place), work)) {
            for places in places.chunks(ABREAST) {
                let named = |place: &Place| match bench.place_name(&gauge.axes, *place) {
                    name if name.is_empty() => "Reading".to_owned(),
                    name => name,
                };
                let names: Vec<String> = places.iter().map(named).collect();
                let made = rows.iter().enumerate().map(|(index, (word, cell))| {
                    let head = if index > 0 {
                        plain(*word)
                    } else {
                        let word =
                            if word.is_empty() { String::new() } else { format!(". {}", capital(word)) };
                        Cell::Text(
                            Text::bold(gauge.naming.title.clone()).and(format!("{unit}: {wanted}{word}")),
                        )
                    };
                    std::iter::once(head).chain(places.iter().map(|place| cell(id, *place))).collect()
                });
                let made: Vec<Vec<Cell>> = made.collect();
                match tables.iter_mut().find(|(known, _)| *known == names) {
                    Some((_, rows)) => rows.extend(made),
                    None => tables.push((names, made)),
                }
            }
        }
    }
    let table_of = |(names, rows): (Vec<String>, Vec<Vec<Cell>>)| {
        let mut widths = vec![(title, if names.len() < 4 { 4.4 } else { 3.2 })];
        widths.extend(names.iter().map(|name| (name.as_str(), 1.2)));
        table(&widths, rows)
    };
    tables.into_iter().map(table_of).collect()
}

/// What a size gives together with that of another part: the clearance that is wanted.
fn clearances(bench: &Bench, size: GaugeId) -> Vec<(Text, Text)> {
    let procedure = bench.procedure;
    let part = |id: GaugeId| procedure.gauge(id).of.as_ref().map(|of| of.id);
    let given = procedure.gauges.numbered().filter(|(_, gauge)| {
        let behind = gauge.formula.iter().flat_map(|(formula, _)| formula.readings());
        let behind: Vec<GaugeId> = behind.map(|target| target.id).collect();
        behind.contains(&size) && behind.iter().any(|other| part(*other) != part(size))
    });
    let told = given.filter_map(|(id, gauge)| {
        let limits = reading::limit(bench, id, &places_of(bench, gauge), Occasion::AsReturned);
        (!limits.is_empty()).then(|| (Text::plain(gauge.naming.title.clone()), Text::plain(limits)))
    });
    told.collect()
}

/// How often a piece came back and didn't pass, and why.
fn refusals(bench: &Bench, work: &Work) -> Option<Block> {
    let job = bench.material.job;
    let refused = work.places.iter().flat_map(|place| job.refusals(work.line.part, *place));
    let mut told: Vec<String> = refused.map(Refused::words).collect();
    told.dedup();
    let again = if work.line.refused.is_some() { ". It goes out again." } else { "." };
    (!told.is_empty())
        .then(|| Block::Notice(Text::bold("Came back, and was refused: ").and(told.join("; ")).and(again)))
}

fn table(widths: &[(&str, f64)], rows: Vec<Vec<Cell>>) -> Block {
    Block::Table(Table { caption: Text::default(), columns: columns(widths), rows })
}

/// `74.250 to 74.269 mm (2.9232 to 2.9240 in), 0.25 mm over`.
fn finished(size: &Size) -> String {
    let to = match size.high {
        Some(high) => range_pair(size.low, high).to_string(),
        None => format!("{}, the tolerance is not stated", pair(size.low)),
    };
    format!("{to}, {}", size.way())
}

/// Readings of a part that can be taken on the bench when it comes back.
fn gauges_back<'a>(bench: &Bench<'a>, part: PartId) -> Vec<(GaugeId, &'a Gauge)> {
    let gauges = bench.procedure.gauges.numbered();
    gauges
        .filter(|(_, gauge)| {
            gauge.of.as_ref().is_some_and(|of| of.id == part)
                && gauge.formula.is_none()
                && gauge.taken_off != Some(false)
        })
        .collect()
}

/// The places at which a gauge measures some pieces of a part.
fn places_of_work(bench: &Bench, id: GaugeId, work: &Work) -> Vec<Place> {
    let of_it = |place: &Place| {
        let measured = bench.procedure.measured((id, *place));
        work.places.iter().any(|piece| measured.contains(&(work.line.part, *piece)))
    };
    places_of(bench, bench.procedure.gauge(id)).into_iter().filter(of_it).collect()
}

pub(super) fn places_of(bench: &Bench, gauge: &Gauge) -> Vec<Place> {
    bench.procedure.places(&gauge.axes).collect()
}

/// The size ordered, or the limits of the procedure.
fn wanted(bench: &Bench, (id, place): (GaugeId, Place), work: &Work) -> String {
    match work.sizes.iter().find(|size| size.gauge == id) {
        Some(size) => reading::finished_size(size),
        None if work.sleeved() && bench.procedure.gauge(id).sizes.is_some() => {
            reading::as_made(bench, (id, place), true)
        }
        None => match reading::limit(bench, id, &[place], Occasion::AsReturned) {
            // What judges it when it is back is told, where that is all there is.
            limit if limit.is_empty() => match choosing_rule(bench.procedure, (id, place)) {
                bands if bands.is_empty() => "no limit stated".to_owned(),
                bands => bands,
            },
            limit => limit,
        },
    }
}

/// What was read of a gauge at a place on an occasion, as it was written: one value, or from the smallest to the largest. In
/// a second unit it would be rounded.
fn read(bench: &Bench, gauge: GaugeId, place: Place, occasion: Occasion) -> Option<String> {
    let (first, last) = ends_read(bench, gauge, place, occasion)?;
    Some(last.map_or_else(|| first.printed(), |last| from_to(first, last)))
}

/// The same for a table in the unit of the gauge, which is told once: with a unit only where it was written in another.
pub(super) fn read_beside(bench: &Bench, gauge: GaugeId, place: Place, occasion: Occasion) -> Option<String> {
    let (first, last) = ends_read(bench, gauge, place, occasion)?;
    let unit = reading::unit(bench, bench.procedure.gauge(gauge));
    let of_it = |value: &Quantity| value.unit().printed == unit;
    if !std::iter::once(first).chain(last).all(|value| of_it(&value)) {
        return read(bench, gauge, place, occasion);
    }
    let last = last.map(|last| format!(" to {}", last.numeral())).unwrap_or_default();
    Some(format!("{}{last}", first.numeral()))
}

/// The smallest value that was read, and the largest where that is another.
fn ends_read(
    bench: &Bench,
    gauge: GaugeId,
    place: Place,
    occasion: Occasion,
) -> Option<(Quantity, Option<Quantity>)> {
    let readings = bench.material.job.readings.iter();
    let mut values: Vec<Quantity> = readings
        .filter(|reading| (reading.gauge, reading.place, reading.occasion) == (gauge, place, occasion))
        .map(|reading| reading.value)
        .collect();
    values.sort_by(|a, b| a.base().total_cmp(&b.base()));
    let (first, last) = (*values.first()?, *values.last()?);
    Some((first, (first.base() < last.base()).then_some(last)))
}

/// The check of what comes back; none if nothing was sent out.
pub(in crate::packet) fn goods_back(bench: &Bench) -> Vec<Sheet> {
    let lines = to_machine(bench);
    if lines.is_empty() {
        return Vec::new();
    }
    let mut blocks = vec![Block::Paragraph(
        Text::bold("Nothing is fitted before it has passed here. ")
            .and("Measure yourself; a report from outside is read, not believed."),
    )];
    let works = works(bench, &lines);
    blocks.push(looked_at(bench, &works));
    for work in &works {
        blocks.extend(check(bench, work));
    }
    vec![Sheet::new(
        SheetKind::GoodsBack,
        "Goods-back check",
        "What came back from outside, before it is signed for",
        blocks,
    )]
}

/// What is looked at on every piece, one column a piece.
fn looked_at(bench: &Bench, works: &[Work]) -> Block {
    let titles: Vec<String> = works.iter().map(|work| work.title(bench)).collect();
    let mut widths = vec![("Looked at on every piece", 3.6)];
    widths.extend(titles.iter().map(|title| (title.as_str(), 1.0)));
    let row = |text: &&str| {
        let mut row = vec![plain(*text)];
        row.extend(works.iter().map(|_| Cell::Tick));
        row
    };
    let mut rows: Vec<Vec<Cell>> = GOODS_BACK.iter().map(row).collect();
    let mut back = vec![bold("Back, day")];
    let stage = |work: &Work, stage: &str, cell: Cell| match (work.name(bench), cell) {
        (Some(name), Cell::Day) => kept(Cell::Day, &["sent", &name, stage], Form::Day),
        (_, cell) => cell,
    };
    back.extend(works.iter().map(|work| stage(work, "back", day(work.line.back))));
    rows.push(back);
    let mut accepted = vec![bold("Accepted, by and day")];
    accepted.extend(works.iter().map(|work| match work.line.accepted {
        Some(date) => {
            let sent =
                work.places.first().and_then(|place| bench.material.job.sent.get(&(work.line.part, *place)));
            let by = sent.and_then(|sent| sent.by.clone()).map(|by| format!("{by}, ")).unwrap_or_default();
            bold(format!("{by}{date}"))
        }
        None => stage(work, "accepted", Cell::Day),
    }));
    rows.push(accepted);
    table(&widths, rows)
}

fn check(bench: &Bench, work: &Work) -> Vec<Block> {
    let line = work.line;
    let mut blocks = Vec::new();
    let plugs = plugs(bench, line.part);
    if !plugs.is_empty() {
        let items = vec![Text::plain(format!("Its own plugs, counted: {}.", list(&plugs)))];
        blocks.push(Block::List { items, tick: true });
    }
    let cell = |id: GaugeId, place: Place| {
        let gauge = bench.procedure.gauge(id);
        if let Some(found) = read_beside(bench, id, place, Occasion::AsReturned) {
            return plain(found);
        }
        let whole = gauge.stations.is_empty() && gauge.directions.is_empty();
        let entry = || reading::entry(bench, (id, place), (None, None), Occasion::AsReturned);
        let blank = Cell::Blank(String::new());
        if whole { blank.belonging(Field::of(entry())) } else { blank }
    };
    let tick = |_: GaugeId, _: Place| Cell::Tick;
    let rows: [(&str, Filled); 2] = [("", &cell), ("good", &tick)];
    let tables = by_places(bench, work, "Measured again, and what is wanted", &rows);
    let from = line.to.clone().unwrap_or_else(|| "where it was, the record doesn't say".to_owned());
    let ordered = Text::plain(format!("{} From: {from}.", sentence(&line.what)));
    if !tables.is_empty() || !blocks.is_empty() {
        blocks.insert(0, Block::Paragraph(ordered));
    }
    blocks.extend(tables);
    if let Some(refused) = refusals(bench, work) {
        blocks.insert(0, refused);
    }
    if !blocks.is_empty() {
        blocks.insert(0, heading(&work.title(bench)));
    }
    blocks
}

/// Plugs that hold what is within a part: they are out when it is sent, and have to be in again.
fn plugs(bench: &Bench, part: PartId) -> Vec<String> {
    let within = |other: &Part| other.within.as_ref().is_some_and(|within| within.host.id == part);
    let held: Vec<SetId> = bench
        .procedure
        .parts
        .iter()
        .filter(|other| within(other))
        .flat_map(|other| other.held_by.iter().map(|held| held.what.id))
        .collect();
    let sets = bench.procedure.sets.numbered();
    sets.filter(|(id, set)| set.kind == FastenerKind::Plug && held.contains(id))
        .map(|(id, set)| {
            let places: Vec<Place> = bench.procedure.places(&set.axes).collect();
            let pieces = bench.procedure.set_pieces(id, &places);
            if pieces.several() {
                many(&set.naming.title, pieces)
            } else {
                format!("1 {}", many(&set.naming.title, pieces))
            }
        })
        .collect()
}
