//! Pieces that a part is sold in, of which the value of a gauge chooses one: their sizes to the bands of that gauge.

use super::cases::sourced;
use super::errors;
use super::model::*;
use super::resolver::Resolver;
use crate::language::tree::{Amount, Declaration, GaugeClause};
use crate::quantity::Quantity;

/// Whether the trial that a step belongs to finds which of the pieces sold of a part goes in: what it is put together with is
/// the old one.
pub(crate) fn sized_in_trial(procedure: &Procedure, step: &Step, part: PartId) -> bool {
    let Some(group) = step.group else { return false };
    let taken = |gauge: GaugeId| {
        let steps = procedure.steps.iter().filter(|step| step.group == Some(group));
        let mut deeds = steps.flat_map(Step::acts).map(|act| &act.deed);
        deeds.any(
            |deed| matches!(deed, Deed::Gauge(targets) if targets.iter().any(|target| target.id == gauge)),
        )
    };
    let decides = |gauge: &Gauge| gauge.sold.is_some() && gauge.of.as_ref().is_some_and(|of| of.id == part);
    let mut gauges = procedure.gauges.numbered().filter(|(_, gauge)| decides(gauge));
    gauges.any(|(gauge, _)| {
        let behind = procedure.readings_behind(gauge, Place(0));
        behind.into_iter().any(|(gauge, _)| taken(gauge))
    })
}

/// Names of the pieces of a gauge, as its bands: `1.2 mm`.
pub(super) fn piece_names(declaration: &Declaration<GaugeClause>) -> Vec<Band> {
    let pieces = declaration.clauses.iter().find_map(|clause| match &clause.value {
        GaugeClause::Sold { pieces, .. } => Some(pieces),
        _ => None,
    });
    let named = |piece: &Amount| Band { name: piece_name(piece), span: piece.span };
    pieces.into_iter().flatten().map(named).collect()
}

fn piece_name(piece: &Amount) -> String {
    let unit = piece.unit.as_ref().map_or("", |unit| unit.value.as_str());
    format!("{} {unit}", piece.digits)
}

impl Resolver {
    /// What a part is sold in: each piece is a band about its own size, as wide as it may be off, and no wider than to the
    /// middle between it and the next.
    pub(super) fn sold(&mut self, gauge: &mut Gauge, declaration: &Declaration<GaugeClause>) {
        let Some(clause) =
            declaration.clauses.iter().find(|clause| matches!(clause.value, GaugeClause::Sold { .. }))
        else {
            return;
        };
        let GaugeClause::Sold { pieces, by, within, origin } = &clause.value else { return };
        self.needs_origin(origin, clause.span, "a list of what is sold");
        let bands = |clause: &&_| matches!(clause, GaugeClause::Bands { .. });
        if declaration.clauses.iter().map(|clause| &clause.value).any(|clause| bands(&clause)) {
            self.complain(errors::sold_and_bands(clause.span, &gauge.naming));
            return;
        }
        let Some(of) = gauge.of.as_ref().map(|of| of.id).filter(|_| gauge.formula.is_some()) else {
            self.complain_of_absence(clause.span, errors::sold_for_nothing(clause.span, &gauge.naming));
            return;
        };
        let dimension = gauge.dimension;
        let sizes: Vec<Quantity> =
            pieces.iter().filter_map(|piece| self.amount_of(piece, dimension)).collect();
        let Some(reach) = self.amount_of(within, dimension) else { return };
        if sizes.len() != gauge.bands.len() {
            return;
        }
        let edges = around(&sizes, reach);
        let mut sorted: Vec<&Edges> = edges.iter().collect();
        let end = |end: Option<Quantity>| end.map_or(0.0, Quantity::base);
        sorted.sort_by(|a, b| end(a.low).total_cmp(&end(b.low)));
        let gap = sorted
            .windows(2)
            .find(|pair| end(pair[1].low) - end(pair[0].high) > 1e-9 * end(pair[1].low).abs());
        if let Some([Edges { high: Some(from), .. }, Edges { low: Some(to), .. }]) =
            gap.map(|pair| [*pair[0], *pair[1]])
        {
            self.complain(errors::sold_too_far_apart(clause.span, within.span, from, to));
        }
        let words = match (by, sizes.first(), sizes.last()) {
            (Some(step), Some(first), Some(last)) => {
                let step = self.amount_of(step, dimension).map(|step| format!(" by {}", step.printed()));
                format!("{} to {}{}", first.printed(), last.printed(), step.unwrap_or_default())
            }
            _ => sizes.iter().map(|size| size.printed()).collect::<Vec<_>>().join(", "),
        };
        self.procedure.parts[of].select_from.get_or_insert(words);
        gauge.edges = Cases(vec![(sourced(edges, origin, clause.span), Scope::default())].into());
        gauge.sold = Some(sourced((sizes, reach), origin, clause.span));
    }
}

/// The values that each piece serves.
fn around(sizes: &[Quantity], reach: Quantity) -> Vec<Edges> {
    let places = |size: &Quantity| match size.numeral().step() {
        Some(step) => (-step.log10()).round().clamp(0.0, 5.0) as u8,
        None => 5,
    };
    let places = sizes.iter().chain([&reach]).map(places).max().unwrap_or(5) + 1;
    let edge = |size: &Quantity, base: f64| {
        let exact = Quantity::from_base(base, size.unit(), places);
        // Without a nought behind it that says nothing.
        let shorter = Quantity::from_base(base, size.unit(), places - 1);
        Some(if (shorter.base() - base).abs() < 1e-9 * base.abs() { shorter } else { exact })
    };
    let nearest = |from: f64, below: bool| {
        let others = sizes
            .iter()
            .map(|other| other.base())
            .filter(|other| if below { *other < from } else { *other > from });
        others.min_by(|a, b| (a - from).abs().total_cmp(&(b - from).abs()))
    };
    let served = |size: &Quantity| {
        let (own, reach) = (size.base(), reach.base());
        let to = |below: bool| {
            let side = if below { -1.0 } else { 1.0 };
            let middle = nearest(own, below).map_or(f64::INFINITY, |other| (other - own).abs() / 2.0);
            edge(size, own + side * reach.min(middle))
        };
        Edges { low: to(true), high: to(false) }
    };
    sizes.iter().map(served).collect()
}
