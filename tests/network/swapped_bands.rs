//! Bands of a shipped family whose names stand the wrong way round are told: right parts would be thrown away and worn ones
//! kept.

use benchleaf::decide;
use benchleaf::language::tree::{GaugeClause, Item};
use benchleaf::procedure;

use super::mutants::shipped;

/// The gauges whose bands may be named the other way round without a word.
fn silent(family: &str) -> (usize, Vec<String>) {
    let (_, trees) = shipped(family);
    let mut tried = 0;
    let mut silent = Vec::new();
    for (at, tree) in trees.iter().enumerate() {
        for (index, item) in tree.items.iter().enumerate() {
            let Item::Gauge(gauge) = item else { continue };
            let mut swapped = gauge.clone();
            for clause in &mut swapped.clauses {
                if let GaugeClause::Bands { bands, .. } = &mut clause.value {
                    let names: Vec<_> = bands.iter().rev().map(|band| band.name.clone()).collect();
                    bands.iter_mut().zip(names).for_each(|(band, name)| band.name = name);
                }
            }
            if swapped == *gauge {
                continue;
            }
            tried += 1;
            let mut trees = trees.clone();
            trees[at].items[index] = Item::Gauge(swapped);
            let resolved = procedure::resolve(&trees);
            if resolved.diagnostics.is_empty() && decide::lint(&resolved.value).is_empty() {
                silent.push(gauge.name.value.clone());
            }
        }
    }
    (tried, silent)
}

#[test]
fn bands_named_the_wrong_way_round_are_told() {
    for (family, least) in [("brackwater3", 3), ("hallowmere4", 9)] {
        let (tried, silent) = silent(family);
        assert!(tried >= least, "{family}: only {tried}");
        assert!(silent.is_empty(), "{family}: {silent:?}");
    }
}
