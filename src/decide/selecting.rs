//! Which of the graded pieces goes in, for a new part that is `select from` some: by the size that it is bought in, by
//! the record's order, or by the bands of a gauge of it.

use std::collections::BTreeMap;

use super::book::Book;
use super::choosing::{choosing, choosing_from_sold};
use super::conditions::by_answer;
use super::meaning::is_no_piece;
use super::{Answer, Asked, Chosen, Decisions, Hold, Verdict, Why, changed, errors, follow, shown};
use crate::diagnostics::Diagnostic;
use crate::english::spaced;
use crate::procedure::model::{GaugeId, Place, Procedure};
use crate::record::Goods;
use crate::structure::PartAt;

/// Chooses for every new part that has to be chosen, and holds those for which nothing tells.
pub(super) fn select(book: &Book, decisions: &mut Decisions) {
    let sized = follow::sized_parts(book);
    let standard = follow::standard_parts(book, &decisions.fates);
    let mut chosen = BTreeMap::new();
    for ((id, place), decision) in &mut decisions.fates {
        let part = book.procedure.part(*id);
        let (Some(_), Verdict::Renew { size }) = (&part.select_from, &decision.verdict) else { continue };
        let key = (*id, *place);
        // In which size it is bought hangs on what is open still.
        let waits = size.is_none() && sized.contains(&key) && decision.before_ordering().next().is_some();
        if waits && !book.job.chosen.contains_key(&key) {
            continue;
        }
        let ordered = [Goods::Part(*id, Some(*place)), Goods::Part(*id, None)]
            .into_iter()
            .find_map(|goods| book.job.orders.get(&goods).and_then(|order| order.size));
        let choice = if let Some(size) = size {
            Chosen::Piece { piece: size.printed(), because: decision.because.to_string() }
        } else if let Some(chosen) = book.job.chosen.get(&key) {
            Chosen::Piece { piece: chosen.piece.clone(), because: chosen.words() }
        } else if let Some(size) = ordered.filter(|_| !standard.contains(&key)) {
            Chosen::Piece { piece: size.printed(), because: "so it was ordered".to_owned() }
        } else if sized.contains(&key) {
            let because = "what it goes with is machined to no other size".to_owned();
            Chosen::Piece { piece: "standard".to_owned(), because }
        } else {
            by_gauge(book, &decisions.answers, key)
        };
        let is_sold = |gauge: GaugeId| book.procedure.gauge(gauge).sold.is_some();
        match &choice {
            Chosen::Open(Some((gauge, at))) => {
                let asked = Asked::Gauge(*gauge, *at);
                let hold = match decisions.answers.get(&asked) {
                    Some(Answer::Settled { answer, .. }) if is_sold(*gauge) => {
                        Hold::ToChoose(*gauge, *at, Some(*answer))
                    }
                    Some(Answer::Settled { answer, .. }) => {
                        let name = &book.procedure.gauge(*gauge).bands[*answer].name;
                        Hold::NotGood(asked, spaced(name))
                    }
                    _ => Hold::Question(asked),
                };
                if !decision.holds.contains(&hold) {
                    decision.holds.push(hold);
                }
            }
            Chosen::Open(None) => decision.holds.push(Hold::NotChosen),
            Chosen::AtTheBench(gauge, at) if is_sold(*gauge) => {
                decision.holds.push(Hold::ToChoose(*gauge, *at, None));
            }
            Chosen::Piece { .. } | Chosen::AtTheBench(..) => {}
        }
        chosen.insert(key, choice);
    }
    decisions.chosen = chosen;
}

/// The bands of a gauge of the part that doesn't judge whether it goes back: their names are the pieces.
fn by_gauge(book: &Book, answers: &BTreeMap<Asked, Answer>, key: PartAt) -> Chosen {
    let Some((gauge_id, at)) = choosing(book, key).next() else { return Chosen::Open(None) };
    let gauge = book.procedure.gauge(gauge_id);
    match answers.get(&Asked::Gauge(gauge_id, at)) {
        Some(Answer::Settled { answer, .. }) if is_no_piece(&gauge.bands[*answer].name) => {
            Chosen::Open(Some((gauge_id, at)))
        }
        // It is chosen when somebody says so in the record.
        Some(Answer::Settled { .. }) if gauge.sold.is_some() => Chosen::Open(Some((gauge_id, at))),
        Some(Answer::Settled { answer, because }) => {
            Chosen::Piece { piece: spaced(&gauge.bands[*answer].name), because: because.to_string() }
        }
        // A reading that is there and doesn't tell is to be taken again; one that isn't, the building takes.
        Some(Answer::Open(Why::NotTaken(_) | Why::Superseded(..)))
            if changed::comes_later(book, gauge_id, at) =>
        {
            Chosen::AtTheBench(gauge_id, at)
        }
        _ => Chosen::Open(Some((gauge_id, at))),
    }
}

/// Complains of a piece that was chosen though the reading asks for another, and nobody says why.
pub(super) fn other_pieces(book: &Book, decisions: &Decisions) -> Vec<Diagnostic> {
    let other = book.job.chosen.iter().filter_map(|((id, place), chosen)| {
        let (gauge, at) = choosing_from_sold(book, (*id, *place))?;
        let Some(Answer::Settled { answer, because }) = decisions.answers.get(&Asked::Gauge(gauge, at))
        else {
            return None;
        };
        let gauge = book.procedure.gauge(gauge);
        let asked = &gauge.bands[*answer].name;
        (*asked != chosen.piece && chosen.why.is_none()).then(|| {
            errors::other_piece(chosen.span, (asked, &chosen.piece), &because.full, gauge.naming.span)
        })
    });
    other.collect()
}

/// The bands of a gauge at one of its places as a rule to choose by: `one notch: 0.50 to 0.60 mm; two notches: above
/// 0.60 mm`.
pub(crate) fn choosing_rule(procedure: &Procedure, (id, place): (GaugeId, Place)) -> String {
    let gauge = procedure.gauge(id);
    by_answer(procedure, gauge.edges.each(&procedure.bound(&gauge.axes, place)), |edges| {
        let bands =
            gauge.bands.iter().zip(&edges.value).map(|(band, edges)| {
                format!("{}: {}", spaced(&band.name), shown::range(edges.low, edges.high))
            });
        bands.collect::<Vec<_>>().join("; ")
    })
}
