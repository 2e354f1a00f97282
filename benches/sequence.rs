//! The search for the cheapest order on made-up procedures of 1,000 and 10,000 steps, and on a made-up matrix.
//!
//! The procedures are structured as real ones are: sections of some fifty steps, in each a few threads of work that the
//! author wrote one after the other, a tool for most steps, a stand position or a side for some. All is invented.
#![allow(unreachable_pub, reason = "its modules serve several programs")]

#[path = "../examples/instances/ordering/mod.rs"]
mod ordering;

use std::hint::black_box;

use benchleaf::search::{Aspect, Demand, Effort, Problem, Setups, best_order};
use benchleaf::{Acyclic, Precedence};
use criterion::{Criterion, criterion_group, criterion_main};

/// Numbers that look random and are the same everywhere.
struct Made(u64);

impl Made {
    fn below(&mut self, limit: usize) -> usize {
        self.0 = self.0.wrapping_mul(6364136223846793005).wrapping_add(1442695040888963407);
        (self.0 >> 33) as usize % limit
    }
}

/// A procedure of `steps` steps with tools, torque settings, stand positions and sides; costs in tenths of a second.
fn procedure(steps: usize) -> Problem {
    let mut made = Made(steps as u64);
    let flat = |values: usize, cost: u32| {
        let row = |x| (0..values).map(|y| if x == y { 0 } else { cost }).collect();
        Aspect::new(&(0..values).map(row).collect::<Vec<Vec<u32>>>())
    };
    let round = |values: usize, cost: u32| {
        let stops = |x: usize, y: usize| x.abs_diff(y).min(values - x.abs_diff(y)) as u32;
        let row = |x| (0..values).map(|y| cost * stops(x, y)).collect();
        Aspect::new(&(0..values).map(row).collect::<Vec<Vec<u32>>>())
    };
    let aspects = vec![flat(14, 80), flat(6, 200), round(4, 600), round(4, 31)];
    let mut pairs = Vec::new();
    let mut demands = Vec::new();
    let section = |step: usize| step / 50;
    let mut thread = (0, 0, 0);
    for step in 0..steps {
        let begins = step % 50 == 0 || made.below(7) == 0;
        if begins {
            thread = (made.below(14), made.below(4), made.below(4));
        } else if made.below(3) > 0 {
            pairs.push((step - 1, step));
        }
        // Now and then a need from elsewhere in the section.
        let first = section(step) * 50;
        if step > first && made.below(3) == 0 {
            pairs.push((first + made.below(step - first), step));
        }
        let mut wanted = Vec::new();
        let mut want = |aspect, value| wanted.push(Demand { aspect, entry: value, exit: value });
        if made.below(5) > 0 {
            want(0, if made.below(3) == 0 { made.below(14) } else { thread.0 });
        }
        if made.below(6) == 0 {
            want(1, made.below(6));
        }
        if made.below(3) == 0 {
            want(2, thread.1);
        }
        if made.below(2) == 0 {
            want(3, thread.2);
        }
        demands.push(wanted);
    }
    let follower = (0..steps).map(|step| {
        let next = step + 1;
        (next < steps && section(next) == section(step)).then_some(next)
    });
    let setups = Setups {
        aspects,
        demands,
        start: vec![None; 4],
        follower: follower.collect(),
        parting: 200,
        section: (0..steps).map(section).collect(),
    };
    let graph = Acyclic::new(Precedence::new(steps, pairs)).expect("edges lead from earlier to later steps");
    Problem::setups(graph, setups).expect("edges stay in their section")
}

/// A matrix of `nodes` nodes with a few edges.
fn matrix(nodes: usize) -> ordering::Problem {
    let mut made = Made(nodes as u64);
    let cost = (0..nodes * nodes).map(|_| made.below(500) as u32).collect();
    let pairs: Vec<(usize, usize)> = (1..nodes).map(|node| (made.below(node), node)).step_by(3).collect();
    let graph = Acyclic::new(Precedence::new(nodes, pairs)).expect("edges lead from lower to higher nodes");
    ordering::Problem::new(graph, cost)
}

fn searches(criterion: &mut Criterion) {
    let mut group = criterion.benchmark_group("sequence");
    group.sample_size(10);
    for steps in [100, 1_000, 10_000] {
        let problem = procedure(steps);
        group.bench_function(format!("procedure of {steps} steps, default effort"), |b| {
            b.iter(|| best_order(black_box(&problem), Effort::default()));
        });
    }
    let problem = matrix(100);
    let found = ordering::best_order(&problem, Effort::default());
    assert!(problem.allows(&found.order) && problem.cost_of(&found.order) == found.cost);
    group.bench_function("matrix of 100 nodes, default effort", |b| {
        b.iter(|| ordering::best_order(black_box(&problem), Effort::default()));
    });
    group.finish();
}

criterion_group!(benches, searches);
criterion_main!(benches);
