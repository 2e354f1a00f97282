//! The search by a matrix of costs against brute force and closed forms.

use benchleaf::sequence::search::{Effort, Found};
use proptest::prelude::*;

use super::graph::{acyclic_pairs, all_orders};
use super::instances::shared::ordering::{Problem, best_order};
use super::search::{SHORT, acyclic};

/// An acyclic graph of at most `most` nodes and a matrix of costs below `below`.
fn matrices(most: usize, below: u32) -> impl Strategy<Value = (usize, Vec<(usize, usize)>, Vec<u32>)> {
    acyclic_pairs(most).prop_flat_map(move |(nodes, pairs)| {
        (Just(nodes), Just(pairs), prop::collection::vec(0..below, nodes * nodes))
    })
}

/// What must hold of any answer.
fn stands(problem: &Problem, found: &Found) {
    assert!(problem.allows(&found.order));
    assert_eq!(problem.cost_of(&found.order), found.cost);
    assert!(found.bound <= found.cost);
    assert_eq!(found.proved, found.bound == found.cost);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(100))]

    #[test]
    fn the_cheapest_order_of_a_small_matrix_is_found_and_proved(
        (nodes, pairs, cost) in matrices(8, 30),
        seed in 0..5_u64,
    ) {
        let problem = Problem::new(acyclic(nodes, &pairs), cost);
        let least = all_orders(nodes, &pairs).iter().map(|order| problem.cost_of(order)).min().unwrap();
        let found = best_order(&problem, Effort { seed, ..SHORT });
        stands(&problem, &found);
        prop_assert_eq!(found.cost, least);
        prop_assert!(found.proved);
    }

    #[test]
    fn a_bound_never_exceeds_the_least_cost((nodes, pairs, cost) in matrices(8, 4), work in 1..40_000_u64) {
        // Few distinct costs make ties, and little work leaves the proof unfinished.
        let problem = Problem::new(acyclic(nodes, &pairs), cost);
        let least = all_orders(nodes, &pairs).iter().map(|order| problem.cost_of(order)).min().unwrap();
        let mut search = problem.search(1);
        for _ in 0..3 {
            search.advance(work);
            let found = search.found();
            stands(&problem, &found);
            prop_assert!(found.bound <= least);
        }
    }
}

#[test]
fn a_chain_has_one_order() {
    let nodes = 40;
    let pairs: Vec<(usize, usize)> = (1..nodes).map(|node| (node - 1, node)).collect();
    let cost = (0..nodes * nodes).map(|at| (at * 7 % 100) as u32).collect();
    let problem = Problem::new(acyclic(nodes, &pairs), cost);
    let found = best_order(&problem, SHORT);
    stands(&problem, &found);
    assert!(found.proved);
    assert_eq!(found.order, (0..nodes).collect::<Vec<_>>());
}

#[test]
fn independent_groups_of_one_tool_each_need_one_change_fewer_than_groups() {
    // 5 groups of 6 steps; changing the tool costs 10.
    let tool = |step: usize| step % 5;
    let cost = (0..900).map(|at| if tool(at / 30) == tool(at % 30) { 0 } else { 10 }).collect();
    let problem = Problem::new(acyclic(30, &[]), cost);
    let found = best_order(&problem, SHORT);
    stands(&problem, &found);
    assert_eq!(found.cost, 40);
}

#[test]
fn places_along_a_street_are_visited_from_one_end_to_the_other() {
    // What costs the same both ways is put in order by turning runs of steps round.
    let place = |step: usize| (step * 37 % 101) as u32;
    let cost = (0..80 * 80).map(|at| place(at / 80).abs_diff(place(at % 80))).collect();
    let problem = Problem::new(acyclic(80, &[]), cost);
    let found = best_order(&problem, Effort { work: 6_000_000, seed: 1 });
    stands(&problem, &found);
    let places = || (0..80).map(place);
    assert_eq!(found.cost, u64::from(places().max().unwrap() - places().min().unwrap()));
}

#[test]
fn the_same_effort_gives_the_same_answer() {
    let nodes = 60;
    let mut state = 9_u64;
    let mut next = || {
        state = state.wrapping_mul(6364136223846793005).wrapping_add(1442695040888963407);
        state >> 33
    };
    let cost: Vec<u32> = (0..nodes * nodes).map(|_| (next() % 500) as u32).collect();
    let pairs: Vec<(usize, usize)> = (0..40)
        .map(|_| {
            let y = 1 + next() as usize % (nodes - 1);
            (next() as usize % y, y)
        })
        .collect();
    let problem = Problem::new(acyclic(nodes, &pairs), cost);
    let effort = Effort { work: 3_000_000, seed: 7 };
    let found = best_order(&problem, effort);
    stands(&problem, &found);
    let elsewhere = {
        let problem = problem.clone();
        std::thread::spawn(move || best_order(&problem, effort)).join().unwrap()
    };
    assert_eq!(found, elsewhere);
}

#[test]
fn nothing_to_order_is_no_trouble() {
    for nodes in 0..3 {
        let problem = Problem::new(acyclic(nodes, &[]), vec![3; nodes * nodes]);
        let found = best_order(&problem, SHORT);
        stands(&problem, &found);
        assert!(found.proved);
    }
}
