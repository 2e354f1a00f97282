//! Orders, reachability, reduction, cycles and windows against naive definitions, on random small graphs.

use std::collections::BTreeSet;

use benchleaf::sequence::{
    Acyclic, Before, Precedence, before_each, feedback_edges, fixed_nodes, redundant_edges, shortest_cycles,
    shortest_path, topological_order, windows,
};
use proptest::prelude::*;

/// Pairs that never close a cycle, on shuffled node numbers.
pub(super) fn acyclic_pairs(most: usize) -> impl Strategy<Value = (usize, Vec<(usize, usize)>)> {
    (1..=most)
        .prop_flat_map(|nodes| {
            let shuffled = Just((0..nodes).collect::<Vec<usize>>()).prop_shuffle();
            let pairs = prop::collection::vec((0..nodes, 0..nodes), 0..nodes * 3);
            (shuffled, pairs)
        })
        .prop_map(|(name, pairs)| {
            let pairs = pairs.into_iter().filter(|(x, y)| x != y);
            let pairs = pairs.map(|(x, y)| (name[x.min(y)], name[x.max(y)])).collect();
            (name.len(), pairs)
        })
}

fn any_pairs(most: usize) -> impl Strategy<Value = (usize, Vec<(usize, usize)>)> {
    (1..=most).prop_flat_map(|nodes| (Just(nodes), prop::collection::vec((0..nodes, 0..nodes), 0..nodes * 2)))
}

/// Floyd and Warshall's closure on booleans.
fn naive_closure(nodes: usize, pairs: &[(usize, usize)]) -> Vec<Vec<bool>> {
    let mut reach = vec![vec![false; nodes]; nodes];
    for &(x, y) in pairs {
        reach[x][y] = true;
    }
    for via in 0..nodes {
        for x in 0..nodes {
            for y in 0..nodes {
                reach[x][y] |= reach[x][via] && reach[via][y];
            }
        }
    }
    reach
}

/// Every order that the pairs allow.
pub(super) fn all_orders(nodes: usize, pairs: &[(usize, usize)]) -> Vec<Vec<usize>> {
    fn extend(nodes: usize, pairs: &[(usize, usize)], order: &mut Vec<usize>, found: &mut Vec<Vec<usize>>) {
        if order.len() == nodes {
            found.push(order.clone());
        }
        for node in 0..nodes {
            if !order.contains(&node) && pairs.iter().all(|(x, y)| *y != node || order.contains(x)) {
                order.push(node);
                extend(nodes, pairs, order, found);
                order.pop();
            }
        }
    }
    let mut found = Vec::new();
    extend(nodes, pairs, &mut Vec::new(), &mut found);
    found
}

proptest! {
    #[test]
    fn closure_matches_the_naive_one((nodes, pairs) in acyclic_pairs(40)) {
        let naive = naive_closure(nodes, &pairs);
        let graph = Acyclic::new(Precedence::new(nodes, pairs)).unwrap();
        let before = Before::new(&graph);
        let questions: Vec<(usize, usize)> = (0..nodes).flat_map(|x| (0..nodes).map(move |y| (x, y))).collect();
        let answers = before_each(&graph, &questions);
        for (&(x, y), answer) in questions.iter().zip(answers) {
            prop_assert_eq!(before.before(x, y), naive[x][y]);
            prop_assert_eq!(answer, naive[x][y]);
            let path = shortest_path(graph.graph(), x, y);
            prop_assert_eq!(path.is_some(), x == y || naive[x][y]);
            if let Some(path) = path {
                prop_assert_eq!((path[0], path[path.len() - 1]), (x, y));
                prop_assert!(path.windows(2).all(|step| graph.graph().states(step[0], step[1])));
            }
        }
        for x in 0..nodes {
            let after: Vec<usize> = (0..nodes).filter(|&y| naive[x][y]).collect();
            prop_assert_eq!(before.count_after(x), after.len());
            prop_assert_eq!(before.after(x).collect::<Vec<_>>(), after);
        }
    }

    #[test]
    fn an_edge_is_redundant_if_the_others_imply_it((nodes, pairs) in acyclic_pairs(20)) {
        let graph = Acyclic::new(Precedence::new(nodes, pairs)).unwrap();
        let edges = graph.graph().edges();
        let naive: Vec<(usize, usize)> = edges.iter().copied().filter(|edge| {
            let rest: Vec<(usize, usize)> = edges.iter().copied().filter(|other| other != edge).collect();
            naive_closure(nodes, &rest)[edge.0][edge.1]
        }).collect();
        prop_assert_eq!(redundant_edges(&graph), naive);
    }

    #[test]
    fn windows_are_what_some_order_reaches((nodes, pairs) in acyclic_pairs(7)) {
        let graph = Acyclic::new(Precedence::new(nodes, pairs.iter().copied())).unwrap();
        let mut places = vec![BTreeSet::new(); nodes];
        for order in all_orders(nodes, &pairs) {
            prop_assert!(graph.allows(&order));
            for (at, &node) in order.iter().enumerate() {
                places[node].insert(at + 1);
            }
        }
        let mut fixed: Vec<usize> = Vec::new();
        for (node, window) in windows(&graph).iter().enumerate() {
            prop_assert_eq!(&places[node], &(window.earliest..=window.latest).collect::<BTreeSet<_>>());
            if window.slack() == 0 {
                fixed.push(node);
            }
        }
        let found = fixed_nodes(&graph);
        fixed.sort_by_key(|node| places[*node].first().copied());
        prop_assert_eq!(found, fixed);
    }

    #[test]
    fn the_order_by_rank_is_the_smallest((nodes, pairs) in acyclic_pairs(7), seed in any::<u64>()) {
        let mut rank: Vec<usize> = (0..nodes).collect();
        rank.rotate_left(seed as usize % nodes);
        let graph = Precedence::new(nodes, pairs.iter().copied());
        let by_rank = |order: &Vec<usize>| order.iter().map(|&node| rank[node]).collect::<Vec<_>>();
        let smallest = all_orders(nodes, &pairs).into_iter().min_by_key(by_rank);
        prop_assert_eq!(topological_order(&graph, &rank).ok(), smallest);
    }

    #[test]
    fn cycles_are_shortest_and_feedback_breaks_them((nodes, pairs) in any_pairs(12)) {
        let graph = Precedence::new(nodes, pairs.iter().copied());
        let reach = naive_closure(nodes, &pairs);
        // The shortest way round through each node, by counting steps of the relation.
        let mut round = vec![usize::MAX; nodes];
        let mut step: Vec<Vec<bool>> = (0..nodes).map(|x| (0..nodes).map(|y| x == y).collect()).collect();
        for length in 1..=nodes {
            step = (0..nodes)
                .map(|x| (0..nodes).map(|y| pairs.iter().any(|&(a, b)| b == y && step[x][a])).collect())
                .collect();
            for node in 0..nodes {
                if step[node][node] {
                    round[node] = round[node].min(length);
                }
            }
        }
        let mut expected = Vec::new();
        for node in 0..nodes {
            let component: Vec<usize> =
                (0..nodes).filter(|&other| other == node || reach[node][other] && reach[other][node]).collect();
            if reach[node][node] && component[0] == node {
                expected.push(component.iter().map(|&other| round[other]).min().unwrap());
            }
        }
        let cycles = shortest_cycles(&graph);
        prop_assert_eq!(cycles.iter().map(|cycle| cycle.len()).collect::<Vec<_>>(), expected.clone());
        prop_assert!(cycles.iter().all(|cycle| cycle.edges().all(|(x, y)| graph.states(x, y))));
        prop_assert!(cycles.iter().all(|cycle| cycle.nodes().iter().min() == cycle.nodes().first()));
        prop_assert_eq!(Acyclic::new(graph.clone()).is_ok(), expected.is_empty());
        let feedback = feedback_edges(&graph);
        prop_assert_eq!(feedback.is_empty(), expected.is_empty());
        let rest = graph.edges().iter().copied().filter(|edge| !feedback.contains(edge));
        prop_assert!(Acyclic::new(Precedence::new(nodes, rest)).is_ok());
        let names: Vec<usize> = (0..nodes).collect();
        match topological_order(&graph, &names) {
            Ok(_) => prop_assert!(expected.is_empty()),
            Err(cycle) => prop_assert_eq!(Some(&cycle.len()), expected.iter().min()),
        }
    }
}

#[test]
fn blocks_beyond_one_agree_with_the_full_closure() {
    // More than two blocks of targets, edges scattered by a fixed linear congruence.
    let nodes = 1500;
    let mut state = 12345_usize;
    let mut next = |below: usize| {
        state = state.wrapping_mul(6364136223846793005).wrapping_add(1442695040888963407);
        (state >> 33) % below
    };
    let name: Vec<usize> = (0..nodes).map(|node| node * 7 % nodes).collect();
    let pairs: Vec<(usize, usize)> = (0..3000)
        .map(|_| {
            let y = 1 + next(nodes - 1);
            (name[y - 1 - next(y.min(60))], name[y])
        })
        .collect();
    let graph = Acyclic::new(Precedence::new(nodes, pairs)).unwrap();
    let before = Before::new(&graph);
    let questions: Vec<(usize, usize)> = (0..20_000).map(|_| (next(nodes), next(nodes))).collect();
    for (&(x, y), answer) in questions.iter().zip(before_each(&graph, &questions)) {
        assert_eq!(answer, before.before(x, y));
    }
    for (node, window) in windows(&graph).iter().enumerate() {
        assert_eq!(window.latest, nodes - before.count_after(node));
        assert_eq!(window.earliest, 1 + (0..nodes).filter(|&other| before.before(other, node)).count());
    }
    let redundant = redundant_edges(&graph);
    for &(x, y) in graph.graph().edges() {
        let implied = graph.graph().successors(x).iter().any(|&via| before.before(via, y));
        assert_eq!(redundant.binary_search(&(x, y)).is_ok(), implied);
    }
}

#[test]
fn a_node_before_itself_is_a_cycle_of_one() {
    let graph = Precedence::new(3, [(0, 1), (1, 1), (1, 2), (0, 1)]);
    assert_eq!(graph.edges(), [(0, 1), (1, 1), (1, 2)]);
    let cycles = Acyclic::new(graph).unwrap_err();
    assert_eq!(cycles[0].nodes(), [1]);
}
