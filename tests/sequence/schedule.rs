//! Schedules for several hands against every start-time vector of tiny jobs, and closed forms.

use benchleaf::sequence::schedule::{Job, Task, best_schedule};
use benchleaf::sequence::search::Effort;
use benchleaf::sequence::{Acyclic, Precedence};
use proptest::prelude::*;

use super::graph::acyclic_pairs;

const SHORT: Effort = Effort { work: 60_000, seed: 1 };

fn task(duration: u64, needs: &[u32], states: &[Option<usize>]) -> Task {
    Task { duration, needs: needs.to_vec(), states: states.to_vec(), sets: Vec::new(), relies: Vec::new() }
}

fn job(pairs: &[(usize, usize)], tasks: Vec<Task>, capacity: &[u32], change: &[u64]) -> Job {
    let graph = Acyclic::new(Precedence::new(tasks.len(), pairs.iter().copied())).unwrap();
    Job { graph, tasks, capacity: capacity.to_vec(), change: change.to_vec() }
}

/// Whether one changes a condition that the other changes or relies on.
fn clash(a: &Task, b: &Task) -> bool {
    let one_way =
        |a: &Task, b: &Task| a.sets.iter().any(|own| b.sets.contains(own) || b.relies.contains(own));
    one_way(a, b) || one_way(b, a)
}

/// Whether the job can be done by time `span`, trying every start of every task and every moment in turn.
fn fits(job: &Job, pairs: &[(usize, usize)], span: u64, start: &mut Vec<u64>) -> bool {
    let placed = start.len();
    let end = |start: &[u64], task: usize| start[task] + job.tasks[task].duration;
    if placed == job.tasks.len() {
        return pairs.iter().all(|&(x, y)| end(start, x) <= start[y]);
    }
    for at in 0..=span.saturating_sub(job.tasks[placed].duration) {
        if at + job.tasks[placed].duration > span {
            break;
        }
        start.push(at);
        let overlaps = |other: usize, gap: u64| {
            at < end(start, other) + gap && start[other] < at + job.tasks[placed].duration + gap
        };
        let differ = (0..placed).any(|other| {
            (0..job.change.len()).any(|state| {
                let (x, y) = (job.tasks[other].states[state], job.tasks[placed].states[state]);
                x.is_some() && y.is_some() && x != y && overlaps(other, job.change[state])
            }) || clash(&job.tasks[other], &job.tasks[placed]) && overlaps(other, 0)
        });
        let crowded = (0..span).any(|moment| {
            (0..job.capacity.len()).any(|resource| {
                let running =
                    (0..=placed).filter(|&other| start[other] <= moment && moment < end(start, other));
                running.map(|other| job.tasks[other].needs[resource]).sum::<u32>() > job.capacity[resource]
            })
        });
        let found = !differ && !crowded && fits(job, pairs, span, start);
        start.pop();
        if found {
            return true;
        }
    }
    false
}

fn jobs() -> impl Strategy<Value = (Vec<(usize, usize)>, Job)> {
    acyclic_pairs(4).prop_flat_map(|(count, pairs)| {
        let conditions = || prop::option::weighted(0.3, (0..2_usize, any::<bool>()));
        let work = (0..4_u64, 0..3_u32, 0..2_u32, prop::option::of(0..2_usize), conditions());
        let tasks = prop::collection::vec(work, count);
        (Just(pairs), tasks, 0..3_u64).prop_map(|(pairs, tasks, change)| {
            let tasks = tasks.into_iter().map(|(duration, hands, tool, side, condition)| {
                let mut made = task(duration, &[hands, tool], &[side]);
                match condition {
                    Some((condition, true)) => made.sets.push(condition),
                    Some((condition, false)) => made.relies.push(condition),
                    None => {}
                }
                made
            });
            let made = job(&pairs, tasks.collect(), &[2, 1], &[change]);
            (pairs, made)
        })
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(150))]

    #[test]
    fn the_shortest_schedule_of_a_tiny_job_is_found((pairs, job) in jobs()) {
        let found = best_schedule(&job, job.graph.order(), SHORT).unwrap();
        prop_assert_eq!(job.conflict(&found.start), None);
        prop_assert!(fits(&job, &pairs, found.span, &mut Vec::new()));
        prop_assert!(found.span == 0 || !fits(&job, &pairs, found.span - 1, &mut Vec::new()));
        prop_assert!(found.bound <= found.span);
        prop_assert_eq!(found.proved, found.bound == found.span);
        prop_assert_eq!(best_schedule(&job, job.graph.order(), SHORT).unwrap(), found);
    }
}

#[test]
fn two_hands_halve_a_job_of_single_tasks() {
    let tasks = vec![task(5, &[1], &[]); 12];
    let job = job(&[], tasks, &[2], &[]);
    let found = best_schedule(&job, job.graph.order(), SHORT).unwrap();
    assert_eq!((found.span, found.proved), (30, true));
}

#[test]
fn a_task_for_two_waits_for_both_and_a_cure_takes_no_hands() {
    // Glue (1 hand), cure (none, 10), then a lift for two; beside it three single tasks.
    let tasks = vec![
        task(2, &[1], &[]),
        task(10, &[0], &[]),
        task(3, &[2], &[]),
        task(4, &[1], &[]),
        task(4, &[1], &[]),
        task(4, &[1], &[]),
    ];
    let job = job(&[(0, 1), (1, 2)], tasks, &[2], &[]);
    let found = best_schedule(&job, job.graph.order(), SHORT).unwrap();
    assert_eq!((found.span, found.proved), (15, true));
}

#[test]
fn a_stand_turned_once_serves_both_positions() {
    // Four tasks of 5 at two positions, two hands, a turn takes 6.
    let at = |side| task(5, &[1], &[Some(side)]);
    let job = job(&[], vec![at(0), at(1), at(0), at(1)], &[2], &[6]);
    let found = best_schedule(&job, job.graph.order(), SHORT).unwrap();
    assert_eq!(found.span, 16);
    assert_eq!(job.conflict(&[0, 5, 0, 5]), Some((0, 1)));
}

#[test]
fn a_task_that_needs_more_than_there_is_is_named() {
    let job = job(&[], vec![task(1, &[1], &[]), task(1, &[3], &[])], &[2], &[]);
    assert_eq!(best_schedule(&job, &[0, 1], SHORT), Err(1));
}

#[test]
fn what_is_relied_on_together_overlaps_and_what_changes_it_does_not() {
    let mut tasks = vec![task(4, &[1], &[]); 4];
    for relying in &mut tasks[..3] {
        relying.relies.push(0);
    }
    tasks[3].sets.push(0);
    let job = job(&[], tasks, &[4], &[]);
    let found = best_schedule(&job, job.graph.order(), SHORT).unwrap();
    assert_eq!((found.span, job.conflict(&found.start)), (8, None));
    assert_eq!(job.conflict(&[0, 0, 0, 3]), Some((0, 3)));
}

/// Ten thousand tasks of one stand, many conditions and two hands: placed in a moment, not in the square of it.
#[test]
fn a_long_job_is_placed_in_work_that_grows_with_it() {
    let long = |count: usize| {
        let tasks: Vec<Task> = (0..count)
            .map(|index| {
                let mut made =
                    task(1 + index as u64 % 7, &[1], &[(index % 3 == 0).then_some(index / 40 % 2)]);
                made.sets.push(index / 5);
                made.relies.push(index / 9 + count);
                made
            })
            .collect();
        let pairs: Vec<(usize, usize)> = (8..count).map(|index| (index - 8, index)).collect();
        let job = job(&pairs, tasks, &[2], &[3]);
        best_schedule(&job, job.graph.order(), Effort { work: 1, seed: 1 }).unwrap().work
    };
    let (short, tenfold) = (long(1_000), long(10_000));
    assert!(tenfold < 15 * short, "{tenfold} units for ten times the tasks of {short}");
}
