//! Every single deletion of a shipped family (each step, act and physical fact in turn) is noticed, or stands in the list
//! of that family beside this file with the reason why the procedure stays true without it.

use std::collections::BTreeSet;
use std::path::Path;

use benchleaf::diagnostics::Diagnostic;
use benchleaf::language::tree::{ActKind, FastenerClause, Item, PartClause, StepClause, Tree};
use benchleaf::network::connect;
use benchleaf::procedure;
use benchleaf::source::{Sources, Span};
use rayon::prelude::*;

use crate::tests::expected;

/// One deletion: what is taken out, in words, and the tree without it.
pub(super) struct Mutant {
    pub name: String,
    /// Which tree, and which of its items.
    pub tree: usize,
    pub item: usize,
    pub without: Option<Item>,
}

impl Mutant {
    /// The trees with what it leaves.
    pub(super) fn apply(self, trees: &[Tree]) -> Vec<Tree> {
        let mut mutated = trees.to_vec();
        match self.without {
            Some(item) => mutated[self.tree].items[self.item] = item,
            None => drop(mutated[self.tree].items.remove(self.item)),
        }
        mutated
    }
}

/// The trees of a shipped family, the root last.
pub(super) fn shipped(family: &str) -> (Sources, Vec<Tree>) {
    trees_of(&Path::new("procedures").join(format!("{family}.rebuild")))
}

/// The trees of a family at a path, the root last.
pub(super) fn trees_of(path: &Path) -> (Sources, Vec<Tree>) {
    let mut sources = Sources::new();
    assert!(!procedure::load(&mut sources, path).has_errors());
    let mut trees: Vec<Tree> =
        sources.files().map(|(id, file)| benchleaf::language::parse(id, &file.text).value).collect();
    // Files that are brought in come before the root, which was read first.
    trees.rotate_left(1);
    (sources, trees)
}

/// Holds what no complaint follows, each with a hint, against the list beside this file.
pub(super) fn held_by_list(silent: &[(String, String)], list: &str) {
    let listed = std::fs::read_to_string(expected::folder("network").join(list)).unwrap();
    let mut wrong = Vec::new();
    let mut named = BTreeSet::new();
    for line in listed.lines().filter(|line| !line.starts_with('#') && !line.trim().is_empty()) {
        match line.rsplit_once(" -- ") {
            Some((name, reason)) if !reason.trim().is_empty() => drop(named.insert(name.to_owned())),
            _ => wrong.push(format!("no reason: {line}")),
        }
    }
    let unlisted = silent.iter().filter(|(name, _)| !named.contains(name));
    wrong.extend(unlisted.map(|(name, hint)| format!("not noticed, not listed: {name} -- {hint}")));
    let noticed = named.iter().filter(|name| !silent.iter().any(|(silent, _)| silent == *name));
    wrong.extend(noticed.map(|name| format!("listed, but noticed: {name}")));
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

pub(super) fn words(sources: &Sources, span: Span) -> String {
    sources.file(span.file).text[span.start()..span.end()].split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Acts that only instruct: nothing in the order of work depends on them, and the reference says so.
fn only_instructs(act: &ActKind) -> bool {
    matches!(
        act,
        ActKind::Photo
            | ActKind::Mark(_)
            | ActKind::Cap
            | ActKind::Chase(_)
            | ActKind::Isolate
            | ActKind::Dispose { .. }
            | ActKind::Wait(_)
            | ActKind::Words
            | ActKind::Press(_)
            | ActKind::Heat { .. }
            | ActKind::Clean(_)
            | ActKind::TurnByHand { .. }
    )
}

fn step_mutants(
    sources: &Sources,
    step: &benchleaf::language::tree::Step,
) -> Vec<(String, Option<benchleaf::language::tree::Step>)> {
    let mut found = vec![(format!("step {}", step.name.value), None)];
    for (index, clause) in step.clauses.iter().enumerate() {
        let StepClause::Act(act) = &clause.value else { continue };
        if only_instructs(&act.kind) {
            continue;
        }
        let mut without = step.clone();
        without.clauses.remove(index);
        found.push((format!("act in {}: {}", step.name.value, words(sources, clause.span)), Some(without)));
    }
    found
}

fn mutants(sources: &Sources, trees: &[Tree]) -> Vec<Mutant> {
    let mut found = Vec::new();
    for (tree_index, tree) in trees.iter().enumerate() {
        for (item_index, item) in tree.items.iter().enumerate() {
            let mut add = |name: String, without: Option<Item>| {
                found.push(Mutant { name, tree: tree_index, item: item_index, without });
            };
            match item {
                Item::Step(step) => {
                    for (name, without) in step_mutants(sources, step) {
                        add(name, without.map(Item::Step));
                    }
                }
                Item::Group(group) => {
                    for (index, step) in group.steps.iter().enumerate() {
                        for (name, without) in step_mutants(sources, step) {
                            let mut group = group.clone();
                            match without {
                                Some(step) => group.steps[index] = step,
                                None => drop(group.steps.remove(index)),
                            }
                            add(name, Some(Item::Group(group)));
                        }
                    }
                }
                Item::Part(part) => {
                    for (index, clause) in part.clauses.iter().enumerate() {
                        let fact = matches!(
                            clause.value,
                            PartClause::Under(_)
                                | PartClause::HeldBy(..)
                                | PartClause::Within { .. }
                                | PartClause::Releases(_)
                        );
                        if fact {
                            let mut without = part.clone();
                            without.clauses.remove(index);
                            let said = words(sources, clause.span);
                            add(format!("fact of {}: {said}", part.name.value), Some(Item::Part(without)));
                        }
                    }
                }
                Item::Fasteners(set) => {
                    for (index, clause) in set.clauses.iter().enumerate() {
                        if matches!(clause.value, FastenerClause::Under(_)) {
                            let mut without = set.clone();
                            without.clauses.remove(index);
                            let said = words(sources, clause.span);
                            add(
                                format!("fact of {}: {said}", set.name.value),
                                Some(Item::Fasteners(without)),
                            );
                        }
                    }
                }
                _ => {}
            }
        }
    }
    found
}

type Said = BTreeSet<(&'static str, String)>;
type Pairs = BTreeSet<(String, String)>;

fn said(found: Vec<Diagnostic>) -> Said {
    found.into_iter().map(|diagnostic| (diagnostic.code.name, diagnostic.message)).collect()
}

/// What is said of the trees beside what was said `before`, without places (those move with every deletion), and which
/// steps are linked; none of the links where the room below says something already.
fn new_complaints(trees: &[Tree], before: &Said) -> (Said, Pairs) {
    let resolved = procedure::resolve(trees);
    let new: Said = said(resolved.diagnostics).difference(before).cloned().collect();
    if !new.is_empty() {
        return (new, Pairs::new());
    }
    let network = connect(&resolved.value);
    let new = said(network.diagnostics).difference(before).cloned().collect();
    let id = |node: benchleaf::network::NodeId| network.value.nodes[node.index()].id(&resolved.value);
    (new, network.value.links.iter().map(|link| (id(link.from), id(link.to))).collect())
}

/// Whether `to` is reached from `from`.
fn reaches(links: &Pairs, from: &str, to: &str) -> bool {
    let mut seen = BTreeSet::from([from]);
    let mut waiting = vec![from];
    while let Some(here) = waiting.pop() {
        if here == to {
            return true;
        }
        let next = links.range((here.to_owned(), String::new())..).take_while(|(a, _)| a == here);
        waiting.extend(next.map(|(_, b)| b.as_str()).filter(|b| seen.insert(b)));
    }
    false
}

/// What a silent deletion does to the order, as a hint for its reason.
fn hint(before: &Pairs, after: &Pairs) -> String {
    match before.iter().find(|(a, b)| !reaches(after, a, b)) {
        Some((a, b)) => format!("the order is freer: `{b}` no longer waits for `{a}`"),
        None => "every link it gave follows from others".to_owned(),
    }
}

fn held(family: &str) {
    let (sources, trees) = shipped(family);
    let (before, links) = new_complaints(&trees, &Said::new());
    assert!(before.is_empty(), "said of the whole: {before:?}");
    let mutants = mutants(&sources, &trees);
    assert!(mutants.len() > 300, "only {} deletions", mutants.len());
    let silent: Vec<(String, String)> = mutants
        .into_par_iter()
        .filter_map(|mutant| {
            let name = mutant.name.clone();
            let (new, left) = new_complaints(&mutant.apply(&trees), &before);
            new.is_empty().then(|| (name, hint(&links, &left)))
        })
        .collect();
    held_by_list(&silent, &format!("{family}.mutants.txt"));
}

#[test]
fn every_single_deletion_is_noticed_or_listed_with_its_reason() {
    held("brackwater3");
}

#[test]
fn every_single_deletion_of_the_engine_in_two_banks_is_noticed_or_listed_with_its_reason() {
    held("hallowmere4");
}
