//! The family: what the engine is and where its data comes from.

use super::cases::Owner;
use super::errors;
use super::model::*;
use super::resolver::Resolver;
use crate::language::tree::{Amount, AmountRange, Case, Declaration, FamilyClause, Quote, Word};
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
                // Its clauses have come in.
                FamilyClause::Of { .. } => {}
                FamilyClause::Edition(amount) => family.edition = self.count(amount, "editions"),
                FamilyClause::Revised { edition, what, names } => {
                    self.revised(edition, what, names, declaration);
                }
                FamilyClause::Summary(text) => family.summary = Some(text.value.clone()),
                FamilyClause::Origin(text) => family.origin = Some(text.value.clone()),
                FamilyClause::Invented => family.invented = true,
                FamilyClause::Identify { place, reads } => {
                    let owner = Owner::Line(place.value.clone());
                    let reads = self.cases(&owner, reads, |_, case| Some(case.value.value.clone()));
                    family.identify.push((place.value.clone(), reads));
                }
                FamilyClause::NumberOne(end) => family.number_one = self.word(end, "an end", &ENDS),
                FamilyClause::Turns { direction, seen_from } => {
                    let direction = self.word(direction, "a direction of rotation", &ROTATIONS);
                    let end = self.word(seen_from, "an end", &ENDS);
                    family.turns = direction.zip(end);
                }
                FamilyClause::Sides(end) => family.sides_seen_from = self.word(end, "an end", &ENDS),
                FamilyClause::Ends { front, rear } => {
                    family.ends = Some((front.value.clone(), rear.value.clone()));
                }
                FamilyClause::Called(noun) => family.called = Some(noun.value.clone()),
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
                FamilyClause::Capacity { name, amounts } => {
                    let what = format!("capacity `{}`", name.value);
                    let read = |resolver: &mut Self, amount: &Amount| {
                        let low = resolver.positive(amount, Dimension::VOLUME)?;
                        Some(Datum { low: Measure::Amount(low), high: None })
                    };
                    capacities.push(self.datum(name, amounts, true, &what, read));
                }
                FamilyClause::Data { name, amounts } => {
                    let what = format!("`{}`", name.value);
                    let read = |resolver: &mut Self, amount: &AmountRange| {
                        resolver.measure_range(amount).map(|(low, high)| Datum { low, high })
                    };
                    data.push(self.datum(name, amounts, false, &what, read));
                }
            }
        }
        if !declaration.clauses.iter().any(|clause| matches!(clause.value, FamilyClause::Origin(_))) {
            self.complain_of_absence(declaration.span, errors::no_family_origin(&declaration.name));
        }
        family.key_data = capacities.into_iter().chain(data).collect();
        self.procedure.family = Some(family);
    }

    /// What an edition changed: told to whoever is `of` this one. It speaks of what there is, and of no edition to come.
    fn revised(
        &mut self,
        edition: &Amount,
        what: &Quote,
        names: &[Word],
        family: &Declaration<FamilyClause>,
    ) {
        self.instruction(what);
        for name in names {
            if self.procedure.names.contains(&name.value) || self.any_unread() {
                continue;
            }
            let complaint = errors::revised_unknown(name, self.procedure.names.iter().map(|(id, _)| id));
            self.complain_of_absence(name.span, complaint);
        }
        let now = family.clauses.iter().find_map(|clause| match &clause.value {
            FamilyClause::Edition(now) => Some(now),
            _ => None,
        });
        if let Some(now) = now.filter(|now| now.value < edition.value) {
            self.complain(errors::revised_later(edition, now));
        }
    }

    /// A line of the key data page. A value that can't be read is complained of, and unknown from here on.
    fn datum<T>(
        &mut self,
        name: &Quote,
        amounts: &[Case<Option<T>>],
        capacity: bool,
        what: &str,
        read: impl Fn(&mut Self, &T) -> Option<Datum>,
    ) -> KeyDatum {
        let owner = Owner::Line(name.value.clone());
        let value = self.cases(&owner, amounts, |resolver, case| {
            let Some(amount) = &case.value else { return Some(None) };
            resolver.needs_origin(&case.origin, case.span, what);
            Some(read(resolver, amount))
        });
        KeyDatum { name: name.value.clone(), capacity, value }
    }
}
