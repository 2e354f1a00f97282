//! Limits, bands and results of readings against each other: what a right part would be refused by, and what leaves a
//! reading without a result.

use std::collections::BTreeSet;

use super::cases::{SaidLimits, said_limits};
use super::errors;
use super::model::*;
use super::resolver::Resolver;
use crate::diagnostics::Diagnostic;
use crate::quantity::Quantity;
use crate::source::Span;

impl Resolver {
    /// Complains of limits that don't go together, and of questions that ask nothing.
    pub(super) fn limits(&mut self) {
        // Where something couldn't be parsed, a limit may stand there.
        let any_trouble = self.any_trouble();
        let procedure = &self.procedure;
        let mut complaints: Vec<Diagnostic> = Vec::new();
        for ask in procedure.asks.iter().filter(|ask| ask.answers.len() == 1) {
            complaints.push(errors::one_answer(&ask.naming, "answer", ask.naming.span));
        }
        for look in procedure.looks.iter().filter(|look| look.results.len() == 1) {
            complaints.push(errors::one_answer(&look.naming, "result", look.naming.span));
        }
        let formulas = procedure.gauges.iter().filter_map(|gauge| gauge.formula.as_ref());
        let inputs: BTreeSet<GaugeId> =
            formulas.flat_map(|(formula, _)| formula.readings()).map(|input| input.id).collect();
        for (id, gauge) in procedure.gauges.numbered() {
            let judged = !gauge.made.is_empty() || !gauge.worn.is_empty() || !gauge.bands.is_empty();
            if !any_trouble
                && !judged
                && !gauge.noted_only
                && gauge.sizes.is_none()
                && gauge.formula.is_none()
                && !inputs.contains(&id)
            {
                complaints.push(errors::no_limit(&gauge.naming));
            }
            if let [only] = gauge.bands.as_slice() {
                complaints.push(errors::one_answer(&gauge.naming, "band", only.span));
            }
            let places = procedure.places(&gauge.axes);
            let all: Vec<Said> = places.flat_map(|place| Said::at(procedure, gauge, place)).collect();
            let said = || all.iter();
            complaints.extend(said().find_map(|said| said.outside_plausible()));
            complaints.extend(said().find_map(|said| said.worn_within_made()));
            complaints.extend(said().find_map(|said| said.bands_against_worn()));
            complaints.extend(one_for_all(procedure, gauge));
            complaints.extend(key_data_differ(procedure, gauge));
            if gauge.best_at_nought {
                complaints.extend(clearance(procedure, gauge));
                complaints.extend(said().find_map(|said| said.begins_above_nought()));
            }
            if gauge.bands.len() > 1 && !chooses_a_piece(procedure, gauge) {
                complaints.extend(said().find_map(|said| said.half_bands()));
            }
        }
        self.diagnostics.extend(complaints);
    }
}

/// What a gauge says of one of its places.
struct Said<'a> {
    gauge: &'a Gauge,
    made: Option<&'a Sourced<(Quantity, Option<Quantity>)>>,
    worn: Option<(Quantity, Span)>,
    edges: &'a [Edges],
}

impl<'a> Said<'a> {
    /// Under each combination of answers.
    fn at(procedure: &Procedure, gauge: &'a Gauge, place: Place) -> Vec<Said<'a>> {
        let said = |said: SaidLimits<'a>| Said {
            gauge,
            made: said.made,
            worn: said.worn.and_then(|worn| Some((worn.value?, worn.span))),
            edges: said.edges.map_or(&[][..], |edges| edges.value.as_slice()),
        };
        said_limits(procedure, gauge, place).into_iter().map(said).collect()
    }

    fn as_made(&self) -> impl Iterator<Item = (Quantity, Span)> {
        let ends = |made: &'a Sourced<(Quantity, Option<Quantity>)>| {
            [Some(made.value.0), made.value.1].into_iter().flatten().map(|limit| (limit, made.span))
        };
        self.made.into_iter().flat_map(ends)
    }

    /// A limit that no plausible reading reaches: a right part would be taken for a slip of the pencil.
    fn outside_plausible(&self) -> Option<Diagnostic> {
        let (low, high) = self.gauge.plausible?;
        let plausible = low.base()..=high.base();
        let mut limits = self.as_made().chain(self.worn);
        let (limit, span) = limits.find(|(limit, _)| !plausible.contains(&limit.base()))?;
        Some(errors::limit_implausible(&self.gauge.naming, limit, (low, high), span))
    }

    fn worn_within_made(&self) -> Option<Diagnostic> {
        let (made, (limit, span)) = (self.made?, self.worn?);
        let (low, high) = (made.value.0, made.value.1?);
        let within = low.base() < limit.base() && limit.base() < high.base();
        within.then(|| errors::worn_within_made(&self.gauge.naming, limit, span, made.span))
    }

    /// A limit as worn that is no edge of a band: the bands say something else of a part than the limit.
    fn bands_against_worn(&self) -> Option<Diagnostic> {
        let ((limit, span), first) = (self.worn?, self.gauge.bands.first()?);
        let mut edges = self.edges.iter().flat_map(|edges| [edges.low, edges.high]).flatten();
        let met = edges.any(|edge| same(edge, limit));
        (!met).then(|| errors::bands_against_worn(&self.gauge.naming, limit, span, first.span))
    }

    /// A limit as made, or the lowest end of the bands, above what is said to be best.
    fn begins_above_nought(&self) -> Option<Diagnostic> {
        let lowest = self.edges.iter().map(|edges| edges.low);
        let lowest = lowest.reduce(|one, other| match (one?, other?) {
            (one, other) if one.base() < other.base() => Some(one),
            (_, other) => Some(other),
        });
        let bands = lowest.flatten().zip(self.gauge.bands.first().map(|first| first.span));
        let mut ends = self.made.map(|made| (made.value.0, made.span)).into_iter().chain(bands);
        let (low, span) = ends.find(|(low, _)| low.base() > 0.0)?;
        Some(errors::begins_above_nought(&self.gauge.naming, low, span))
    }

    /// Readings that lie beside all bands: they would be open whatever is measured.
    fn half_bands(&self) -> Option<Diagnostic> {
        let first = self.gauge.bands.first()?.span;
        let missing = |outside: String| Some(errors::half_bands(&self.gauge.naming, &outside, first));
        let inside = |value: f64| self.edges.iter().any(|edges| within(edges, value));
        if let Some((outside, _)) = self.as_made().find(|(limit, _)| !inside(limit.base())) {
            return missing(format!("{outside}, as made"));
        }
        let ends = |end: fn(&Edges) -> Option<Quantity>| self.edges.iter().filter_map(end);
        let open = |end: fn(&Edges) -> Option<Quantity>| self.edges.iter().any(|edges| end(edges).is_none());
        let (below, above) = (open(|edges| edges.low), open(|edges| edges.high));
        if !below && !above {
            let last = ends(|edges| edges.high).max_by(|a, b| a.base().total_cmp(&b.base()))?;
            return missing(format!("a reading above {last}"));
        }
        let lowest = ends(|edges| edges.low).min_by(|a, b| a.base().total_cmp(&b.base()))?;
        if self.made.is_none() && lowest.base() > 0.0 && !below {
            return missing(format!("a reading below {lowest}"));
        }
        None
    }
}

/// One limit as made at all positions of what is computed, though a reading that it is computed from has others at others.
fn one_for_all(procedure: &Procedure, gauge: &Gauge) -> Option<Diagnostic> {
    let (formula, _) = gauge.formula.as_ref()?;
    let span = gauge.made.values().next()?.span;
    if differs(procedure, gauge) {
        return None;
    }
    let inputs = formula.readings().into_iter().map(|reading| procedure.gauge(reading.id));
    let shared = |input: &&Gauge| input.axes.iter().any(|axis| gauge.axes.contains(axis));
    let input = inputs.into_iter().filter(shared).find(|input| differs(procedure, input))?;
    Some(errors::one_for_all(&gauge.naming, &input.naming, span))
}

/// A line of the key data by the title of a gauge, or by that and one of its positions, that is none of its limits as made there.
fn key_data_differ(procedure: &Procedure, gauge: &Gauge) -> Option<Diagnostic> {
    let data = &procedure.family.as_ref()?.key_data;
    let title = gauge.naming.title.to_lowercase();
    procedure.places(&gauge.axes).find_map(|place| {
        let here = [gauge.axes.as_slice()].into_iter().chain(gauge.axes.iter().map(std::slice::from_ref));
        let bound = procedure.bound(&gauge.axes, place);
        let positions = here.filter_map(|axes| {
            let names: Option<Vec<&str>> = axes
                .iter()
                .map(|axis| {
                    Some(procedure.axis(*axis).positions[usize::from(bound.position(*axis)?)].as_str())
                })
                .collect();
            Some(names?.join(", ").to_lowercase())
        });
        let names: Vec<String> =
            positions.map(|at| format!("{title}, {at}")).chain([title.clone()]).collect();
        let datum = data.iter().find(|datum| names.contains(&datum.name.to_lowercase()))?;
        let stated: Vec<(Quantity, Quantity, Span)> = datum
            .value
            .values()
            .filter_map(|stated| {
                let Datum { low: Measure::Amount(low), high } = stated.value? else { return None };
                let high = match high {
                    None => low,
                    Some(Measure::Amount(high)) => high,
                    Some(Measure::Count(_)) => return None,
                };
                Some((low, high, stated.span))
            })
            .collect();
        let made: Vec<&Sourced<(Quantity, Option<Quantity>)>> =
            said_limits(procedure, gauge, place).into_iter().filter_map(|said| said.made).collect();
        // One value may be the middle of what is allowed; two ends are the ends.
        let met = stated.iter().any(|(low, high, _)| {
            made.iter().any(|made| {
                let (least, most) = (made.value.0, made.value.1.unwrap_or(made.value.0));
                let within = least.base() <= low.base() && high.base() <= most.base();
                same(least, *low) && same(most, *high) || same(*low, *high) && within
            })
        });
        let ((low, high, said), made) = (stated.first()?, made.first()?);
        let compared = low.dimension() == made.value.0.dimension();
        (compared && !met)
            .then(|| errors::key_data_differ(&gauge.naming, (&datum.name, *low, *high, *said), made.span))
    })
}

/// Whether the limits as made of a gauge are others at others of its positions.
fn differs(procedure: &Procedure, gauge: &Gauge) -> bool {
    let made = |place| {
        said_limits(procedure, gauge, place)
            .into_iter()
            .filter_map(|said| said.made.map(|made| made.value))
            .collect::<Vec<_>>()
    };
    let mut places = procedure.places(&gauge.axes).map(made);
    places.next().is_some_and(|first| places.any(|other| other != first))
}

/// What is worked out between two parts is their clearance: two that fit without any don't go together.
fn clearance(procedure: &Procedure, gauge: &Gauge) -> Option<Diagnostic> {
    let (formula, span) = gauge.formula.as_ref()?;
    let parts = formula.readings().into_iter().filter_map(|reading| procedure.gauge(reading.id).of.as_ref());
    let parts: BTreeSet<PartId> = parts.map(|of| of.id).collect();
    (parts.len() > 1).then(|| errors::clearance_at_nought(&gauge.naming, *span))
}

fn within(edges: &Edges, value: f64) -> bool {
    edges.low.is_none_or(|low| low.base() <= value) && edges.high.is_none_or(|high| value <= high.base())
}

/// Whether its bands are pieces to choose from, of which only so many are sold.
fn chooses_a_piece(procedure: &Procedure, gauge: &Gauge) -> bool {
    gauge.of.as_ref().is_some_and(|part| procedure.part(part.id).select_from.is_some())
}

/// Whether two limits are one, whatever units they are written in.
fn same(one: Quantity, other: Quantity) -> bool {
    (one.base() - other.base()).abs() <= 1e-9 * one.base().abs().max(other.base().abs())
}
