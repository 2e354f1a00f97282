//! What the readings of each gauge come to at each place, for a table of them all: every reading with how far it has gone,
//! how unlike readings of one thing are, and how far the worst is past what it was made to. What becomes of a part it must
//! not know.

use std::collections::BTreeMap;

use super::acceptance::limits_back;
use super::book::Book;
use super::findings::worst_wear;
use super::settling::settled;
use super::{Decisions, Value, shown};
use crate::metrology::{Grid, Limits, Made, Measured, Side, Wear};
use crate::procedure::model::{GaugeId, Place, Procedure};
use crate::quantity::number_and_doubt;
use crate::record::{Job, Occasion};
use crate::structure::Structure;

/// What a gauge shows at one place on one occasion; figures are in its unit, which stands beside the table.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Showing {
    /// Unit of the figures, as it is printed; empty for a pure number.
    pub unit: &'static str,
    /// Every reading, by station and then by direction; of a computed value those that reach furthest.
    pub each: Vec<Figure>,
    /// The worst of them.
    pub worst: Figure,
    /// Largest less smallest at one station, where one was read in two directions.
    pub oval: Option<String>,
    /// Largest less smallest in one direction, where it was read at two stations.
    pub taper: Option<String>,
    /// How far the worst is past the limits as made, on the side to which it wears; none within them, or without such.
    pub worn_by: Option<String>,
}

/// One reading, or one of what is computed.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Figure {
    pub number: String,
    /// How far it may be off; told of what is computed alone.
    pub doubt: Option<String>,
    pub gone: Gone,
}

/// How far a reading has gone.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Gone {
    /// Nothing says what it should be.
    NotJudged,
    /// As it was made.
    AsMade,
    /// Worn, within the limit.
    Worn,
    /// Below what is allowed.
    Under,
    /// Above what is allowed.
    Over,
    /// So near a limit that the instrument can't tell.
    TooNear,
}

/// Every gauge of which all readings of an occasion were taken.
pub(crate) fn showings(
    procedure: &Procedure,
    structure: &Structure,
    job: &Job,
    decisions: &Decisions,
) -> BTreeMap<(GaugeId, Place, Occasion), Showing> {
    let procedure = settled(procedure, decisions);
    // What is wrong with a record was told when it was read.
    let book = Book::new(&procedure, structure, job, &mut Vec::new());
    let shown = decisions.values.iter().filter(|(_, value)| !value.each.is_empty());
    shown.map(|(at, value)| (*at, showing(&book, decisions, *at, value))).collect()
}

fn showing(
    book: &Book,
    decisions: &Decisions,
    (id, place, occasion): (GaugeId, Place, Occasion),
    value: &Value,
) -> Showing {
    // Once its piece was machined or renewed, it is judged by what that is to be.
    let limits = if occasion == Occasion::AsFound {
        book.limits((id, place), occasion)
    } else {
        limits_back(book, decisions, (id, place), occasion).unwrap_or_default()
    };
    let made = limits.made.and_then(|made| {
        let (low, high) = made.range();
        Some((low.or(high)?, high.or(low)?))
    });
    let computed = book.procedure.gauge(id).formula.is_some();
    let figure = |measured: Measured| {
        // Of what is computed the doubt is told; what was read is told as it was.
        let (_, doubt) = number_and_doubt(measured.value, measured.doubt(), value.unit, value.places);
        Figure {
            number: without_unit(shown::plain(measured.value, value.unit, value.places), value),
            doubt: doubt.filter(|_| computed).map(|doubt| doubt.to_string()),
            gone: gone(&limits, value, measured),
        }
    };
    let each: Vec<Figure> = value.each.iter().map(|(_, measured)| figure(*measured)).collect();
    let (_, index) = worst_wear(&limits, value);
    let grid = book.grid(id, place, occasion).ok().filter(|_| !computed);
    let apart = |spread: Measured| {
        let unit = value.unit.map(crate::quantity::Unit::apart);
        without_unit(shown::plain(spread.value, unit, value.places), value)
    };
    let past = |(_, measured): &(String, Measured)| match (limits.side(), made) {
        (Some(Side::Grows), Some((_, high))) => Some(measured.value - high),
        (Some(Side::Shrinks), Some((low, _))) => Some(low - measured.value),
        _ => None,
    };
    let worn_by = value.each.iter().filter_map(past).fold(0.0, f64::max);
    Showing {
        unit: value.unit.map_or("", |unit| unit.printed),
        worst: each[index].clone(),
        oval: grid.and_then(Grid::out_of_round).map(|unlike| apart(unlike.spread)),
        taper: grid.and_then(Grid::taper).map(|unlike| apart(unlike.spread)),
        worn_by: (worn_by > 0.0).then(|| apart(Measured::exact(worn_by))),
        each,
    }
}

/// How far one reading has gone by the limits of its gauge. That nought would be best is no limit.
fn gone(limits: &Limits, value: &Value, measured: Measured) -> Gone {
    if limits.made == Some(Made::FromNought) && limits.worn.is_none() {
        return Gone::NotJudged;
    }
    let one = Value { each: vec![(String::new(), measured)], ..value.clone() };
    let over = || {
        let (low, high) = limits.made.map_or((None, None), |made| made.range());
        let middle = low.zip(high).map(|(low, high)| f64::midpoint(low, high)).or(low).or(high);
        middle.is_none_or(|middle| measured.value > middle)
    };
    match worst_wear(limits, &one).0 {
        Wear::AsMade => Gone::AsMade,
        Wear::WithinWorn => Gone::Worn,
        Wear::Beyond | Wear::WrongSide if over() => Gone::Over,
        Wear::Beyond | Wear::WrongSide => Gone::Under,
        Wear::MeasureAgain => Gone::TooNear,
        Wear::Unknown => Gone::NotJudged,
    }
}

/// A figure whose unit stands beside the table.
fn without_unit(words: String, value: &Value) -> String {
    let unit = value.unit.map(|unit| unit.behind()).unwrap_or_default();
    words.strip_suffix(&unit).map(str::to_owned).unwrap_or(words)
}
