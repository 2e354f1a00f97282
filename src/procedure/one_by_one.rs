//! Acts that are done at one position of an axis after the other, written out: `each cyl in turn`, `each cyl in firing
//! order`. It must not know what an act does.

use std::collections::BTreeMap;

use crate::language::tree::{
    Act, ActKind, Clause, FamilyClause, Item, Objects, Reference, StepClause, Tree, Word,
};

/// The positions of each axis, and the order in which cylinders fire.
pub(super) struct Positions {
    axes: BTreeMap<String, Vec<Word>>,
    firing: Vec<Word>,
}

impl Positions {
    pub(super) fn of(trees: &[Tree]) -> Positions {
        let mut found = Positions { axes: BTreeMap::new(), firing: Vec::new() };
        for item in trees.iter().flat_map(|tree| &tree.items) {
            match item {
                Item::Axis(axis) => {
                    found.axes.entry(axis.name.value.clone()).or_insert_with(|| axis.positions.to_vec());
                }
                Item::Family(family) => {
                    for clause in &family.clauses {
                        if let FamilyClause::FiringOrder(order) = &clause.value {
                            found.firing = order.to_vec();
                        }
                    }
                }
                _ => {}
            }
        }
        found
    }

    /// Writes out what stands behind `each AXIS in turn`, position by position. A hazard is told once.
    pub(super) fn one_by_one(&self, clauses: &mut Vec<Clause<StepClause>>) {
        let turn = clauses.iter().enumerate().find_map(|(place, clause)| match &clause.value {
            StepClause::InTurn { axis, firing } => Some((place, axis.clone(), *firing)),
            _ => None,
        });
        let Some((place, axis, firing)) = turn else { return };
        // An axis that isn't there, or cylinders that don't fire, are complained of where the clause is read.
        let positions = if firing { Some(&self.firing) } else { self.axes.get(&axis.value) };
        let Some((first, others)) = positions.and_then(|positions| positions.split_first()) else { return };
        let repeated =
            |clause: &&Clause<StepClause>| matches!(clause.value, StepClause::Act(_) | StepClause::Hold(..));
        let written: Vec<Clause<StepClause>> = clauses.iter().skip(place).filter(repeated).cloned().collect();
        for clause in clauses.iter_mut().skip(place) {
            put(clause, &axis, first);
        }
        for position in others {
            clauses.extend(written.iter().cloned().map(|mut clause| {
                put(&mut clause, &axis, position);
                clause
            }));
        }
    }
}

/// Puts a position in the place of the axis, wherever the act names it.
fn put(clause: &mut Clause<StepClause>, axis: &Word, position: &Word) {
    let StepClause::Act(Act { kind, .. }) = &mut clause.value else { return };
    if let ActKind::TurnByHand { to: Some(to), .. } = kind
        && to.axis.value == axis.value
        && to.cylinder.is_none()
    {
        to.cylinder = Some(Word { value: position.value.clone(), span: to.axis.span });
    }
    for word in references(kind).iter_mut().flat_map(|reference| &mut reference.positions) {
        if word.value == axis.value {
            word.value.clone_from(&position.value);
        }
    }
}

fn references(kind: &mut ActKind) -> &mut [Reference] {
    match kind.objects_mut() {
        Objects::Several(list) => list,
        Objects::One(thing) => std::slice::from_mut(thing),
        Objects::None => &mut [],
    }
}
