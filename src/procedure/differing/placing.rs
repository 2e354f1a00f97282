//! Where a new step stands among the steps that are there: what it is after or before says it, or the section that is gone on
//! with.

use crate::language::tree::{Item, Step, StepClause, StepReference, Tree};

/// Puts something at the end of a section; gives it back where there is no such section.
pub(super) fn in_section(trees: &mut [Tree], section: &str, item: Item) -> Option<Item> {
    let is_section = |item: &Item| matches!(item, Item::Section { .. });
    for tree in trees {
        let named = |item: &Item| is_section(item) && item.name().is_some_and(|name| name.value == section);
        let Some(at) = tree.items.iter().position(named) else { continue };
        let length = tree.items[at + 1..].iter().take_while(|item| !is_section(item)).count();
        tree.items.insert(at + 1 + length, item);
        return None;
    }
    Some(item)
}

/// Puts a step behind the last of those that it is after, or else ahead of the first of those that it is before, among the steps
/// of its phase; a block as its first step says. Gives back what nothing places.
pub(super) fn by_links(trees: &mut [Tree], item: Item) -> Option<Item> {
    let first = match &item {
        Item::Step(step) => Some(step),
        Item::Group(group) => group.steps.first(),
        _ => None,
    };
    let Some(step) = first.cloned() else { return Some(item) };
    let named = |links: fn(&StepClause) -> Option<&[StepReference]>| -> Vec<(usize, usize)> {
        let links = step.clauses.iter().filter_map(|clause| links(&clause.value)).flatten();
        let mut places: Vec<(usize, usize)> =
            links.filter_map(|link| place(trees, &link.step.name.value, &step)).collect();
        places.sort_unstable();
        places
    };
    let after = named(|clause| match clause {
        StepClause::After(links) => Some(links),
        StepClause::StraightAfter { step, .. } => Some(std::slice::from_ref(step)),
        _ => None,
    });
    let before = named(|clause| match clause {
        StepClause::Before(links) => Some(links),
        _ => None,
    });
    let (text, at) = match (after.last(), before.first()) {
        (Some((text, at)), _) => {
            // Several that come behind the same step stand in the order in which they are written.
            let file = step.span.file;
            let of_same = |item: &&Item| item.span().file == file;
            (*text, at + 1 + trees[*text].items[at + 1..].iter().take_while(of_same).count())
        }
        (None, Some(place)) => *place,
        (None, None) => return Some(item),
    };
    trees[text].items.insert(at, item);
    None
}

/// Where the step of this name stands, if it is of the same phase; of a step in a block, where the block stands.
fn place(trees: &[Tree], name: &str, like: &Step) -> Option<(usize, usize)> {
    let is = |step: &Step| step.name.value == name && step.phase == like.phase;
    trees.iter().enumerate().find_map(|(text, tree)| {
        let at = tree.items.iter().position(|item| match item {
            Item::Step(step) => is(step),
            Item::Group(group) => group.steps.iter().any(is),
            _ => false,
        })?;
        Some((text, at))
    })
}
