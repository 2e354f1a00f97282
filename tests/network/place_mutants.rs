//! Every `at ...` of a shipped family, and every case of a value or a fate, taken out one at a time, is noticed, or stands in
//! the list of that family beside this file with the reason why nobody but the author can know it.

use std::path::Path;

use benchleaf::language::parse;
use benchleaf::language::tree::{
    Case, FamilyClause, FastenerClause, Fate, GaugeClause, Item, JointClause, PartClause, Tree,
};
use benchleaf::procedure;
use benchleaf::source::{FileId, Sources};
use rayon::prelude::*;
use thin_vec::ThinVec;

use super::handling_mutants::{noticed, said};
use super::mutants::{held_by_list, shipped, trees_of, words};

/// The trees of a family with one deletion, and the deletion in words.
type Mutated = (String, Vec<Tree>);

/// Where in a line `at AXIS = POSITION [and ...]` stands, outside comments and texts.
fn places_said(line: &str) -> Vec<std::ops::Range<usize>> {
    let mut found = Vec::new();
    let (mut quoted, mut at) = (false, 0);
    while at < line.len() {
        let rest = &line[at..];
        if rest.starts_with('"') {
            quoted = !quoted;
        }
        if !quoted && rest.starts_with("--") {
            break;
        }
        if let Some(settings) = rest.strip_prefix(" at ").filter(|_| !quoted) {
            let length = settings_length(settings);
            if length > 0 {
                found.push(at..at + " at ".len() + length);
            }
        }
        at += rest.chars().next().map_or(1, char::len_utf8);
    }
    found
}

/// How long `AXIS = POSITION [and ...]` is; nought where nothing of the kind stands there.
fn settings_length(text: &str) -> usize {
    let word =
        |text: &str| text.find(|sign: char| !sign.is_alphanumeric() && sign != '_').unwrap_or(text.len());
    let axis = word(text);
    let Some(position) = text[axis..].strip_prefix(" = ") else { return 0 };
    let length = axis + " = ".len() + word(position);
    match text[length..].strip_prefix(" and ") {
        Some(more) if settings_length(more) > 0 => length + " and ".len() + settings_length(more),
        _ => length,
    }
}

fn without_places(sources: &Sources, trees: &[Tree]) -> Vec<Mutated> {
    let mut found = Vec::new();
    // The root was read first, and its tree stands last.
    let files: Vec<FileId> = sources.files().map(|(id, _)| id).collect();
    for (index, file) in files.iter().enumerate() {
        let text = &sources.file(*file).text;
        let tree = (index + files.len() - 1) % files.len();
        let (mut start, mut owner) = (0, "");
        for line in text.split_inclusive('\n') {
            if line.starts_with(|sign: char| sign.is_alphabetic()) {
                owner = line.split([' ', '[']).nth(1).unwrap_or_default();
            }
            for said in places_said(line) {
                let clause = line[..said.start].rfind("  ").map_or(0, |at| at + 2);
                let name = format!("{owner}: {}, without its `at`", line[clause..said.end].trim());
                let mut left = text.to_string();
                left.replace_range(start + said.start..start + said.end, "");
                let mut mutated = trees.to_vec();
                mutated[tree] = parse(*file, &left).value;
                found.push((name, mutated));
            }
            start += line.len();
        }
    }
    found
}

/// A list of cases, each taken out; a value that stands alone is none.
fn without_each_case<T: Clone>(
    sources: &Sources,
    cases: &[Case<T>],
    mut add: impl FnMut(String, ThinVec<Case<T>>),
) {
    for (index, case) in cases.iter().enumerate().filter(|_| cases.len() > 1) {
        let mut left: ThinVec<Case<T>> = cases.iter().cloned().collect();
        left.remove(index);
        add(words(sources, case.span), left);
    }
}

/// A declaration with one case of a clause taken out.
macro_rules! clause_without {
    ($sources:expr, $declaration:expr, $item:path, $index:expr, $cases:expr, $clause:expr, $add:expr) => {
        without_each_case($sources, $cases, |said, left| {
            let mut without = $declaration.clone();
            without.clauses[$index].value = $clause(left);
            $add(format!("{}: without the case {said}", $declaration.name.value), $item(without));
        })
    };
}

fn without_cases(sources: &Sources, trees: &[Tree]) -> Vec<Mutated> {
    let mut found = Vec::new();
    for (tree, items) in trees.iter().enumerate() {
        for (item, declared) in items.items.iter().enumerate() {
            let mut add = |name: String, without: Item| {
                let mut mutated = trees.to_vec();
                mutated[tree].items[item] = without;
                found.push((name, mutated));
            };
            match declared {
                Item::Part(part) => {
                    for (index, clause) in part.clauses.iter().enumerate() {
                        match &clause.value {
                            PartClause::Catalogue(cases) => {
                                clause_without!(
                                    sources,
                                    part,
                                    Item::Part,
                                    index,
                                    cases,
                                    PartClause::Catalogue,
                                    add
                                );
                            }
                            PartClause::Fate(Fate::Choice { cases, otherwise }) => {
                                for left_out in 0..=cases.len() {
                                    let (mut cases, mut otherwise) = (cases.clone(), otherwise.clone());
                                    let said = if left_out < cases.len() {
                                        words(sources, cases.remove(left_out).0.span)
                                    } else if otherwise.take().is_some() {
                                        "else".to_owned()
                                    } else {
                                        continue;
                                    };
                                    let mut without = part.clone();
                                    without.clauses[index].value =
                                        PartClause::Fate(Fate::Choice { cases, otherwise });
                                    let name = format!("{}: fate without {said}", part.name.value);
                                    add(name, Item::Part(without));
                                }
                            }
                            _ => {}
                        }
                    }
                }
                Item::Fasteners(set) => {
                    for (index, clause) in set.clauses.iter().enumerate() {
                        match &clause.value {
                            FastenerClause::Lengths(cases) => {
                                clause_without!(
                                    sources,
                                    set,
                                    Item::Fasteners,
                                    index,
                                    cases,
                                    FastenerClause::Lengths,
                                    add
                                );
                            }
                            FastenerClause::Reuse(cases) => {
                                clause_without!(
                                    sources,
                                    set,
                                    Item::Fasteners,
                                    index,
                                    cases,
                                    FastenerClause::Reuse,
                                    add
                                );
                            }
                            FastenerClause::Tighten(cases) => {
                                clause_without!(
                                    sources,
                                    set,
                                    Item::Fasteners,
                                    index,
                                    cases,
                                    FastenerClause::Tighten,
                                    add
                                );
                            }
                            _ => {}
                        }
                    }
                }
                Item::Joint(joint) => {
                    for (index, clause) in joint.clauses.iter().enumerate() {
                        if let JointClause::Tighten { set, tightening } = &clause.value {
                            let with = |tightening| JointClause::Tighten { set: set.clone(), tightening };
                            clause_without!(sources, joint, Item::Joint, index, tightening, with, add);
                        }
                    }
                }
                Item::Gauge(gauge) => {
                    for (index, clause) in gauge.clauses.iter().enumerate() {
                        match &clause.value {
                            GaugeClause::Made(cases) => {
                                clause_without!(
                                    sources,
                                    gauge,
                                    Item::Gauge,
                                    index,
                                    cases,
                                    GaugeClause::Made,
                                    add
                                );
                            }
                            GaugeClause::Worn(cases) => {
                                clause_without!(
                                    sources,
                                    gauge,
                                    Item::Gauge,
                                    index,
                                    cases,
                                    GaugeClause::Worn,
                                    add
                                );
                            }
                            GaugeClause::Bands { .. } => {
                                let lists = gauge.clauses.iter();
                                if lists
                                    .filter(|other| matches!(other.value, GaugeClause::Bands { .. }))
                                    .count()
                                    > 1
                                {
                                    let mut without = gauge.clone();
                                    without.clauses.remove(index);
                                    let said = words(sources, clause.span);
                                    add(
                                        format!("{}: without {said}", gauge.name.value),
                                        Item::Gauge(without),
                                    );
                                }
                            }
                            _ => {}
                        }
                    }
                }
                Item::Family(family) => {
                    for (index, clause) in family.clauses.iter().enumerate() {
                        if let FamilyClause::Capacity { name, amounts } = &clause.value {
                            let with = |amounts| FamilyClause::Capacity { name: name.clone(), amounts };
                            clause_without!(sources, family, Item::Family, index, amounts, with, add);
                        }
                    }
                }
                _ => {}
            }
        }
    }
    found
}

/// What is said of the results that fates hang on.
fn results(trees: &[Tree]) -> Vec<String> {
    let found = crate::decide::lint(&procedure::resolve(trees).value);
    found.into_iter().map(|diagnostic| diagnostic.message).collect()
}

fn held(family: &str, least: usize) {
    let read = shipped(family);
    held_in(read, family, least);
}

fn held_in((sources, trees): (Sources, Vec<Tree>), family: &str, least: usize) {
    let before = said(&trees, |_| false);
    let results_before = results(&trees);
    let mut mutants = without_places(&sources, &trees);
    mutants.extend(without_cases(&sources, &trees));
    assert!(mutants.len() >= least, "only {} mutants", mutants.len());
    let silent: Vec<(String, String)> = mutants
        .into_par_iter()
        .filter(|(_, mutated)| !noticed(mutated, &before) && results(mutated) == results_before)
        .map(|(name, _)| (name, String::new()))
        .collect();
    held_by_list(&silent, &format!("{family}.place_mutants.txt"));
}

#[test]
fn every_place_and_case_that_is_taken_out_is_noticed_or_listed_with_its_reason() {
    held("brackwater3", 20);
}

#[test]
fn every_place_and_case_of_the_engine_in_two_banks_is_noticed_or_listed_with_its_reason() {
    held("hallowmere4", 50);
}

#[test]
fn every_place_of_what_is_said_of_handling_is_noticed_or_listed_with_its_reason() {
    held_in(trees_of(Path::new("tests/network/handled_at.rebuild")), "handled_at", 15);
}
