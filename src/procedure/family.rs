//! The family: what the engine is and where its data comes from.

use super::errors;
use super::model::*;
use super::resolver::Resolver;
use crate::language::tree::{Declaration, FamilyClause};
use crate::quantity::Dimension;

pub(super) const ENDS: [(&str, End); 2] = [("front", End::Front), ("rear", End::Rear)];

const CYCLES: [(&str, Cycle); 2] = [("two-stroke", Cycle::TwoStroke), ("four-stroke", Cycle::FourStroke)];

const ROTATIONS: [(&str, Rotation); 2] =
    [("clockwise", Rotation::Clockwise), ("anticlockwise", Rotation::Anticlockwise)];

impl Resolver {
    /// Reads the clauses of the family.
    pub(super) fn family(&mut self, declaration: &Declaration<FamilyClause>) {
        let Some(mut family) = self.procedure.family.take() else { return };
        let mut capacities = Vec::new();
        let mut data = Vec::new();
        for clause in self.distinct(&declaration.clauses) {
            match &clause.value {
                FamilyClause::Edition(amount) => family.edition = self.count(amount, "editions"),
                FamilyClause::Summary(text) => family.summary = Some(text.value.clone()),
                FamilyClause::Origin(text) => family.origin = Some(text.value.clone()),
                FamilyClause::Invented => family.invented = true,
                FamilyClause::Identify { place, reads } => {
                    family.identify.push((place.value.clone(), reads.value.clone()));
                }
                FamilyClause::NumberOne(end) => family.number_one = self.word(end, "an end", &ENDS),
                FamilyClause::Turns { direction, seen_from } => {
                    let direction = self.word(direction, "a direction of rotation", &ROTATIONS);
                    let end = self.word(seen_from, "an end", &ENDS);
                    family.turns = direction.zip(end);
                }
                FamilyClause::Sides(end) => family.sides_seen_from = self.word(end, "an end", &ENDS),
                FamilyClause::Cycle(word) => family.cycle = self.word(word, "a cycle", &CYCLES),
                FamilyClause::FiringIntervals(amounts) => {
                    let angle = |amount| self.positive(amount, Dimension::ANGLE);
                    family.firing_intervals = amounts.iter().filter_map(angle).collect();
                }
                FamilyClause::FiringOrder(cylinders) => {
                    family.firing_order = self.list(cylinders, "cylinder");
                }
                FamilyClause::LiftingLimit(amount) => {
                    family.lifting_limit = self.positive(amount, Dimension::MASS);
                }
                FamilyClause::Capacity { name, amount, origin } => {
                    let low = amount.as_ref().map(|amount| self.positive(amount, Dimension::VOLUME));
                    if amount.is_some() {
                        self.needs_origin(origin, clause.span, &format!("capacity `{}`", name.value));
                    }
                    // A value that can't be read is complained of, and unknown from here on.
                    capacities.push(KeyDatum {
                        name: name.value.clone(),
                        capacity: true,
                        low: low.flatten().map(Measure::Amount),
                        high: None,
                        origin: origin.as_ref().map(|origin| origin.value.clone()),
                        span: clause.span,
                    });
                }
                FamilyClause::Data { name, amount, origin } => {
                    let range = amount.as_ref().and_then(|amount| self.measure_range(amount));
                    if amount.is_some() {
                        self.needs_origin(origin, clause.span, &format!("`{}`", name.value));
                    }
                    data.push(KeyDatum {
                        name: name.value.clone(),
                        capacity: false,
                        low: range.map(|(low, _)| low),
                        high: range.and_then(|(_, high)| high),
                        origin: origin.as_ref().map(|origin| origin.value.clone()),
                        span: clause.span,
                    });
                }
            }
        }
        if !declaration.clauses.iter().any(|clause| matches!(clause.value, FamilyClause::Origin(_))) {
            self.complain_of_absence(declaration.span, errors::no_family_origin(&declaration.name));
        }
        family.key_data = capacities.into_iter().chain(data).collect();
        self.procedure.family = Some(family);
    }
}
