//! Limits, bands and values on an occasion, counted from the sizes that the engine has then. It must not know what becomes of a
//! part.

use super::book::Book;
use super::offset;
use super::sizes::{Present, Sizes};
use crate::metrology::Limits;
use crate::procedure::model::{Edges, GaugeId, LimitsSaid, Place};
use crate::quantity::Quantity;
use crate::record::Occasion;

impl Book<'_> {
    /// The size of a gauge on an occasion, by what is decided so far; none where it is standard.
    pub(super) fn present(&self, at: (GaugeId, Place), occasion: Occasion) -> Option<Present> {
        self.sizes(occasion).of(at)
    }

    fn sizes(&self, occasion: Occasion) -> Sizes<'_> {
        Sizes::on(self.procedure, self.job, &self.fates, occasion)
    }

    /// The limits of a gauge on an occasion, as they are written.
    pub(super) fn limits_said(&self, at: (GaugeId, Place), occasion: Occasion) -> LimitsSaid {
        self.sizes(occasion).limits_said(at)
    }

    /// The same in base units.
    pub(super) fn limits(&self, at: (GaugeId, Place), occasion: Occasion) -> Limits {
        let limits = self.procedure.limits(at);
        self.present(at, occasion).map_or(limits, |present| limits.moved(present.shift()))
    }

    /// The ends of each band of a gauge on an occasion, in their order, with their origin. Bands of what is read count from
    /// the size that it has then.
    pub(super) fn edges(
        &self,
        at: (GaugeId, Place),
        occasion: Occasion,
    ) -> Option<(Vec<Edges>, Option<&str>)> {
        let edges = self.procedure.gauge(at.0).edges.at(&self.procedure.bound_at(at))?;
        let origin = edges.origin.as_deref();
        let Some(present) = self.present(at, occasion) else { return Some((edges.value.clone(), origin)) };
        let of = |end: Option<Quantity>| end.map(|end| present.of(end));
        let now = edges.value.iter().map(|edges| Edges { low: of(edges.low), high: of(edges.high) });
        Some((now.collect(), origin))
    }

    /// Whether a gauge is computed from sizes and tells how far they are from standard, or from each other: of such as
    /// `max(bore) - 80 mm`, and of `max(bore)` where they aren't all the same, each counts from what it is now.
    pub(super) fn counts_from_standard(&self, (id, place): (GaugeId, Place), occasion: Occasion) -> bool {
        let Some((formula, _)) = &self.procedure.gauge(id).formula else { return false };
        let sized = |(input, _): &(GaugeId, Place)| self.procedure.gauge(*input).sizes.is_some();
        let inputs = self.inputs(id, place);
        let moves = offset::moves(self.procedure, formula);
        if inputs.is_empty() || !inputs.iter().all(sized) || moves.is_none() {
            return false;
        }
        let first = self.present(inputs[0], occasion);
        let mixed = || inputs.iter().any(|input| self.present(*input, occasion) != first);
        offset::states_a_length(self.procedure, id) || mixed()
    }

    /// By how much the readings of a gauge are off standard, in base units.
    pub(super) fn off_standard(&self, at: (GaugeId, Place), occasion: Occasion) -> f64 {
        self.present(at, occasion).map_or(0.0, Present::shift)
    }

    /// From which sizes a computed value is counted, in words; none where all are standard.
    pub(super) fn counted_from(&self, (id, place): (GaugeId, Place), occasion: Occasion) -> Option<String> {
        let mut told: Vec<String> = Vec::new();
        for at in self.inputs(id, place) {
            if let Some(present) = self.present(at, occasion) {
                let gauge = self.procedure.gauge(at.0);
                let name = super::shown::titled(self.procedure, &gauge.naming, &gauge.axes, at.1);
                let words = format!("{} from {}", crate::english::inner(&name), present.words());
                if !told.contains(&words) {
                    told.push(words);
                }
            }
        }
        (!told.is_empty()).then(|| format!("counted: {}", told.join(", ")))
    }
}
