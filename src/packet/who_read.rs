//! Who measured and looked at what, and when, as far as the record says; what was taken again is told by itself. It must not
//! know what follows from it.

use std::collections::BTreeMap;

use super::bench::Bench;
use super::questions::columns;
use super::reading::occasion_word;
use crate::plan::words::list;
use crate::procedure::model::{AxisId, GaugeId, LookId, Place};
use crate::record::{Date, Occasion, Signature};
use crate::sheet::{Block, Cell, Table, Text};

/// What was taken: a gauge or a look, and as what.
#[derive(PartialEq, Eq, PartialOrd, Ord)]
enum Taken {
    /// A gauge was read.
    Gauge(Occasion, GaugeId),
    /// It was looked at.
    Look(Occasion, LookId),
}

/// Who signed, and on which day.
type Signer<'s> = (Option<Date>, &'s str);

/// What one of them took, and at which places.
type TakenAt = BTreeMap<Taken, Vec<Place>>;

/// A row a day and person, in the order of the days; none where nobody signed anything.
pub(super) fn table(bench: &Bench) -> Option<Block> {
    let job = bench.material.job;
    let mut signed: BTreeMap<Signer, TakenAt> = BTreeMap::new();
    let readings =
        job.readings.iter().filter(|reading| reading.earlier.is_empty()).map(|reading| {
            (&reading.signature, Taken::Gauge(reading.occasion, reading.gauge), reading.place)
        });
    let looks = job.looks.iter().filter(|look| look.earlier.is_empty());
    let looks = looks.map(|look| (&look.signature, Taken::Look(look.occasion, look.look), look.place));
    for (Signature { by, date }, taken, place) in readings.chain(looks) {
        if by.is_none() && date.is_none() {
            continue;
        }
        let of_them = signed.entry((*date, by.as_deref().unwrap_or_default())).or_default();
        let places = of_them.entry(taken).or_default();
        if !places.contains(&place) {
            places.push(place);
        }
    }
    let row = |((date, by), taken): (Signer, TakenAt)| {
        let day = date.map(|date| date.to_string()).unwrap_or_default();
        let things: Vec<String> =
            taken.into_iter().map(|(taken, places)| name(bench, &taken, &places)).collect();
        [by.to_owned(), day, things.join("; ")].map(|words| Cell::Text(Text::plain(words))).into()
    };
    let rows: Vec<Vec<Cell>> = signed.into_iter().map(row).collect();
    let columns = columns(&[("Taken by", 1.0), ("On", 0.8), ("What", 8.0)]);
    (!rows.is_empty()).then(|| Block::Table(Table { caption: Text::default(), columns, rows }))
}

/// The title of what was taken, with its places where it was not taken at all of them.
fn name(bench: &Bench, taken: &Taken, places: &[Place]) -> String {
    let (title, axes, occasion): (&str, &[AxisId], Occasion) = match taken {
        Taken::Gauge(occasion, id) => {
            let gauge = bench.procedure.gauge(*id);
            (&gauge.naming.title, &gauge.axes, *occasion)
        }
        Taken::Look(occasion, id) => {
            let look = bench.procedure.look(*id);
            (&look.naming.title, &look.axes, *occasion)
        }
    };
    let names: Vec<String> = places.iter().map(|place| bench.place_name(axes, *place)).collect();
    let at = if places.len() == bench.procedure.places(axes).count() {
        String::new()
    } else {
        format!(" {}", list(&names))
    };
    match occasion_word(occasion) {
        "" => format!("{title}{at}"),
        word => format!("{title}{at} ({word})"),
    }
}
