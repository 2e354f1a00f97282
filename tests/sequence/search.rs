//! The search for the cheapest order against brute force and closed forms.

use benchleaf::sequence::search::{
    Aspect, Demand, Effort, Found, Problem, Search, Setups, Shifts, best_order,
};
use benchleaf::sequence::{Acyclic, Precedence};
use proptest::prelude::*;

use super::graph::{acyclic_pairs, all_orders};

pub const SHORT: Effort = Effort { work: 1_000_000, seed: 1 };

pub fn acyclic(nodes: usize, pairs: &[(usize, usize)]) -> Acyclic {
    Acyclic::new(Precedence::new(nodes, pairs.iter().copied())).unwrap()
}

/// What must hold of any answer.
fn stands(problem: &Problem, found: &Found) {
    assert!(problem.allows(&found.order));
    assert_eq!(problem.cost_of(&found.order), found.cost);
    assert!(found.bound <= found.cost);
    assert_eq!(found.proved, found.bound == found.cost);
}

/// A set-up problem as the tests hold it: everything stated, nothing shared with the search.
#[derive(Clone, Debug)]
struct Bench {
    pairs: Vec<(usize, usize)>,
    change: Vec<Vec<Vec<u32>>>,
    /// For each step and aspect: nothing, or entry and exit.
    demand: Vec<Vec<Option<(usize, usize)>>>,
    start: Vec<Option<usize>>,
    /// Step i is followed by step i + 1 in the author's order.
    follows: Vec<bool>,
    parting: u32,
    section: Vec<usize>,
}

impl Bench {
    fn problem(&self) -> Problem {
        let demands = self.demand.iter().map(|demand| {
            let stated = demand.iter().enumerate();
            let stated =
                stated.filter_map(|(aspect, d)| d.map(|(entry, exit)| Demand { aspect, entry, exit }));
            stated.collect()
        });
        let setups = Setups {
            aspects: self.change.iter().map(|table| Aspect::new(table)).collect(),
            demands: demands.collect(),
            start: self.start.clone(),
            follower: self.follows.iter().enumerate().map(|(at, &yes)| yes.then_some(at + 1)).collect(),
            parting: self.parting,
            section: self.section.clone(),
        };
        Problem::setups(acyclic(self.section.len(), &self.pairs), setups).unwrap()
    }

    /// The cost by simulation, aspect by aspect.
    fn cost(&self, order: &[usize]) -> u64 {
        let mut total = 0;
        for aspect in 0..self.change.len() {
            let mut now = self.start[aspect];
            for &step in order {
                if let Some((entry, exit)) = self.demand[step][aspect] {
                    total += now.map_or(0, |now| u64::from(self.change[aspect][now][entry]));
                    now = Some(exit);
                }
            }
        }
        let parted = self
            .follows
            .iter()
            .enumerate()
            .filter(|&(step, &yes)| yes && !order.windows(2).any(|pair| pair == [step, step + 1]));
        total + u64::from(self.parting) * parted.count() as u64
    }

    fn orders(&self) -> Vec<Vec<usize>> {
        let steps = self.section.len();
        let barriers = (0..steps).flat_map(|x| (0..steps).map(move |y| (x, y)));
        let barriers = barriers.filter(|&(x, y)| self.section[x] < self.section[y]);
        all_orders(steps, &self.pairs.iter().copied().chain(barriers).collect::<Vec<_>>())
    }
}

/// Two or three aspects of three values; `metric` closes the tables under detours, `blocks` lets exits differ.
fn benches(most: usize) -> impl Strategy<Value = Bench> {
    let table = prop_oneof![prop::collection::vec(0..3_u32, 9), prop::collection::vec(1..30_u32, 9)];
    let tables = prop::collection::vec(table, 1..=3);
    (acyclic_pairs(most), tables, any::<bool>(), any::<bool>(), 0..3_u32)
        .prop_flat_map(|((steps, pairs), tables, metric, blocks, price)| {
            let aspects = tables.len();
            let demand = prop::option::weighted(0.4, (0..3_usize, 0..3_usize));
            let demands = prop::collection::vec(prop::collection::vec(demand, aspects), steps);
            let start = prop::collection::vec(prop::option::of(0..3_usize), aspects);
            let sections = prop::collection::vec(0..4_usize, steps);
            let follows = prop::collection::vec(prop::bool::weighted(0.8), steps);
            (Just((pairs, tables, metric, blocks, price * 8)), demands, start, sections, follows)
        })
        .prop_map(
            |((mut pairs, tables, metric, blocks, parting), mut demand, start, mut section, mut follows)| {
                let change = tables.into_iter().map(|table| {
                    let mut rows: Vec<Vec<u32>> = table.chunks(3).map(<[u32]>::to_vec).collect();
                    for value in 0..3 {
                        rows[value][value] = 0;
                    }
                    for via in 0..if metric { 3 } else { 0 } {
                        for x in 0..3 {
                            for y in 0..3 {
                                rows[x][y] = rows[x][y].min(rows[x][via] + rows[via][y]);
                            }
                        }
                    }
                    rows
                });
                let change = change.collect();
                if !blocks {
                    for (entry, exit) in demand.iter_mut().flatten().flatten() {
                        *exit = *entry;
                    }
                }
                // Sections by step number; edges that would go against them are left out.
                section.iter_mut().for_each(|section| *section /= 2);
                section.sort_unstable();
                pairs.retain(|&(x, y)| section[x] <= section[y]);
                if let Some(last) = follows.last_mut() {
                    *last = false;
                }
                Bench { pairs, change, demand, start, follows, parting, section }
            },
        )
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(300))]

    #[test]
    fn the_cheapest_order_of_set_ups_is_found_and_proved(bench in benches(7)) {
        let problem = bench.problem();
        let orders = bench.orders();
        let least = orders.iter().map(|order| bench.cost(order)).min().unwrap();
        for order in orders.iter().take(20) {
            prop_assert_eq!(problem.cost_of(order), bench.cost(order));
        }
        let found = best_order(&problem, SHORT);
        stands(&problem, &found);
        prop_assert_eq!(found.cost, least);
        prop_assert!(found.proved);
    }

    #[test]
    fn a_bound_on_set_ups_never_exceeds_the_least_cost(bench in benches(8), work in 1..3_000_u64) {
        let problem = bench.problem();
        let least = bench.orders().iter().map(|order| bench.cost(order)).min().unwrap();
        let mut search = Search::new(&problem, 1);
        for _ in 0..3 {
            search.advance(work);
            let found = search.found();
            stands(&problem, &found);
            prop_assert!(found.bound <= least && least <= found.cost);
        }
    }
}

#[test]
fn a_tool_chain_that_alternates_needs_a_change_at_every_step_but_the_first() {
    let steps = 20;
    let bench = Bench {
        pairs: (1..steps).map(|step| (step - 1, step)).collect(),
        change: vec![vec![vec![0, 8], vec![8, 0]]],
        demand: (0..steps).map(|step| vec![Some((step % 2, step % 2))]).collect(),
        start: vec![None],
        follows: vec![false; steps],
        parting: 0,
        section: vec![0; steps],
    };
    let found = best_order(&bench.problem(), SHORT);
    assert_eq!((found.cost, found.proved), (8 * (steps as u64 - 1), true));
}

#[test]
fn groups_of_one_tool_each_are_done_together_unless_parting_costs_more() {
    // 60 steps in the author's order, their tool changing at each: 3 tools, 8 a change, all steps independent.
    let steps = 60;
    let mut bench = Bench {
        pairs: Vec::new(),
        change: vec![vec![vec![0, 8, 8], vec![8, 0, 8], vec![8, 8, 0]]],
        demand: (0..steps).map(|step| vec![Some((step % 3, step % 3))]).collect(),
        start: vec![None],
        follows: (0..steps).map(|step| step + 1 < steps).collect(),
        parting: 0,
        section: vec![0; steps],
    };
    let found = best_order(&bench.problem(), SHORT);
    assert_eq!((found.cost, found.proved), (16, true));
    bench.parting = 20;
    let found = best_order(&bench.problem(), SHORT);
    assert_eq!((found.cost, found.order), (8 * 59, (0..steps).collect()));
}

/// However many steps a phase has and however few of them are in order, what is found costs no more than a plain sort by what is
/// dearest to change, and takes about the work that it may.
#[test]
fn steps_without_an_order_cost_no_more_than_sorted() {
    for (steps, of_section) in [(120, 40), (3_200, 40), (3_000, 3_000)] {
        let side = |step: usize| step * 7_919 % 101 % 4;
        let socket = |step: usize| step * 104_729 % 997 % 14;
        let same = |cost: u32, values: usize| {
            let row = |from: usize| (0..values).map(move |to| if from == to { 0 } else { cost }).collect();
            (0..values).map(row).collect::<Vec<Vec<u32>>>()
        };
        let bench = Bench {
            pairs: Vec::new(),
            change: vec![same(40, 14), same(80, 4)],
            demand: (0..steps)
                .map(|step| vec![Some((socket(step), socket(step))), Some((side(step), side(step)))])
                .collect(),
            start: vec![None, None],
            follows: vec![false; steps],
            parting: 0,
            section: (0..steps).map(|step| step / of_section).collect(),
        };
        let mut sorted: Vec<usize> = (0..steps).collect();
        sorted.sort_by_key(|&step| (step / of_section, side(step), socket(step)));
        let (problem, effort) = (bench.problem(), Effort { work: 8_000 * steps as u64, seed: 1 });
        let found = best_order(&problem, effort);
        stands(&problem, &found);
        assert!(found.cost <= bench.cost(&sorted), "{steps} steps: {} by search", found.cost);
        assert!(found.work <= 2 * effort.work, "{steps} steps: {} units", found.work);
    }
}

#[test]
fn an_edge_against_the_sections_is_handed_back() {
    let setups = Setups {
        aspects: Vec::new(),
        demands: vec![Vec::new(); 3],
        start: Vec::new(),
        follower: vec![None; 3],
        parting: 0,
        section: vec![1, 0, 0],
    };
    assert_eq!(Problem::setups(acyclic(3, &[(0, 1)]), setups).unwrap_err(), (0, 1));
}

/// Every step of an order at every other place, against the order itself counted afresh.
fn shifts_are_right(problem: &Problem, order: &[usize]) {
    let shifts = Shifts::new(problem, order);
    let now = problem.cost_of(order) as i64;
    for from in 0..order.len() {
        for to in 0..order.len() {
            let mut other = order.to_vec();
            let step = other.remove(from);
            other.insert(to, step);
            let wanted = problem.allows(&other).then(|| problem.cost_of(&other) as i64 - now);
            assert_eq!(shifts.extra(from, to), wanted, "{order:?}: place {from} to {to}");
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(100))]

    #[test]
    fn a_step_put_elsewhere_costs_what_the_whole_order_then_costs(bench in benches(7)) {
        let problem = bench.problem();
        for order in bench.orders().iter().take(20) {
            shifts_are_right(&problem, order);
        }
    }
}
