//! What is still to be measured or looked at, and why: for open questions, for what holds a part, and anew after
//! machining and renewal.

use super::book::Book;
use super::changed::{again_on, comes_later, looked_at_in_building, read_since, spoilt};
use super::{Asked, Change, Decisions, Hold, ToMeasure, Why};
use crate::procedure::model::{GaugeId, Place};
use crate::record::Occasion;
use crate::structure::PartAt;

/// Why a new part is measured.
const NEW: &str = "the new part is measured";

/// Why a machined part is.
const MACHINED: &str = "machined parts are measured as they came back";

/// What is still to be measured, in declared order: gauges that are read and looks, with why.
pub(super) fn to_measure(book: &Book, decisions: &Decisions) -> Vec<ToMeasure> {
    let mut found: Vec<ToMeasure> = Vec::new();
    let mut add = |asked: Asked, occasion: Occasion, because: String| {
        let never = occasion == Occasion::AsFound && book.never.contains_key(&asked);
        if !never && !found.iter().any(|other| other.asked == asked && other.occasion == occasion) {
            found.push(ToMeasure { asked, occasion, because });
        }
    };
    let procedure = book.procedure;
    for (asked, why) in decisions.open_questions() {
        let name = asked.name(procedure);
        match (asked, why) {
            (Asked::Look(id, _), _) if looked_at_in_building(book, id) => {
                add(asked, Occasion::AsBuilt, "looked at while it is built".to_owned());
            }
            (Asked::Look(..), _) => add(asked, Occasion::AsFound, "not looked at yet".to_owned()),
            (Asked::Gauge(..), Why::NotTaken(inputs)) => {
                for (id, place) in inputs {
                    let occasion =
                        if comes_later(book, *id, *place) { Occasion::AsBuilt } else { Occasion::AsFound };
                    add(Asked::Gauge(*id, *place), occasion, format!("`{name}` needs it"));
                }
            }
            (Asked::Gauge(id, place), Why::MeasureAgain(value, _)) => {
                for (id, place) in book.inputs(id, place) {
                    let because = format!("`{name}` is {value}, too near a limit: measure again");
                    add(Asked::Gauge(id, place), last_read(book, id, place), because);
                }
            }
            (Asked::Gauge(id, place), Why::Implausible) => {
                for (id, place) in book.inputs(id, place) {
                    let because = "a reading can hardly be right".to_owned();
                    add(Asked::Gauge(id, place), last_read(book, id, place), because);
                }
            }
            _ => {}
        }
    }
    for decision in decisions.fates.values() {
        for hold in &decision.holds {
            match hold {
                Hold::NewPartUnmeasured(id, place) => {
                    for (id, place) in book.inputs(*id, *place) {
                        add(Asked::Gauge(id, place), Occasion::AsBuilt, NEW.to_owned());
                    }
                }
                Hold::Unmeasured(id, place) => {
                    for (id, place) in book.inputs(*id, *place) {
                        add(Asked::Gauge(id, place), Occasion::AsReturned, MACHINED.to_owned());
                    }
                }
                Hold::Question(Asked::Gauge(id, place)) if book.procedure.gauge(*id).bands.is_empty() => {
                    for (id, place) in book.inputs(*id, *place) {
                        let on = |occasion| book.grid(id, place, occasion).is_ok();
                        let sized = book.procedure.gauge(id).sizes.is_some();
                        let (occasion, because) = if on(Occasion::AsReturned) {
                            (Occasion::AsReturned, "too near a limit of the size ordered: measure again")
                        } else if on(Occasion::AsFound) && !sized {
                            (Occasion::AsFound, "too near its limit: measure again")
                        } else if !sized {
                            (Occasion::AsFound, "what becomes of a part hangs on it")
                        } else if on(Occasion::AsFound) {
                            (Occasion::AsFound, "too near what a size would clean up: measure again")
                        } else {
                            (Occasion::AsFound, "a size hangs on it")
                        };
                        add(Asked::Gauge(id, place), occasion, because.to_owned());
                    }
                }
                _ => {}
            }
        }
    }
    for (id, gauge) in procedure.gauges.numbered() {
        for place in procedure.places(&gauge.axes) {
            if let Some((occasion, because)) = anew(book, decisions, id, place) {
                add(Asked::Gauge(id, place), occasion, because);
            }
        }
    }
    found
}

/// The occasion of the latest reading of a gauge; as found where there is none.
fn last_read(book: &Book, id: GaugeId, place: Place) -> Occasion {
    let mut later = [Occasion::AsBuilt, Occasion::AsReturned].into_iter();
    later.find(|occasion| book.touched(id, place, *occasion)).unwrap_or(Occasion::AsFound)
}

/// When and why a gauge is read anew; none where it need not be, or was.
fn anew(book: &Book, decisions: &Decisions, id: GaugeId, place: Place) -> Option<(Occasion, String)> {
    let gauge = book.procedure.gauge(id);
    let change = spoilt(book, decisions, (id, place), None)?;
    if read_since(book, id, place) {
        return None;
    }
    let again = book.touched(id, place, Occasion::AsFound);
    let judges = !gauge.bands.is_empty() || !gauge.made.is_empty() || !gauge.worn.is_empty();
    // What only the building reads, and what nothing is said of, is no debt of the record before that.
    if !again && (comes_later(book, id, place) || !judges) {
        return None;
    }
    let own = |piece: PartAt| book.procedure.measured((id, place)).contains(&piece);
    let occasion = again_on(book, id, change);
    let because = match change {
        Change::Renewed(part, at) if own((part, at)) => NEW.to_owned(),
        Change::Machined(part, at) if own((part, at)) && occasion == Occasion::AsReturned => {
            MACHINED.to_owned()
        }
        change => {
            let word = if again { "measured again" } else { "measured" };
            format!("{word}, since {}", change.words(book.procedure))
        }
    };
    Some((occasion, because))
}
