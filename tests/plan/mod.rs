//! The order that the plan chooses: against every order of small procedures, closed forms, and the author's own.
//!
//! Costs are counted here afresh from the reference: a socket changed 4 s, another hand tool 8 s, the stand as the
//! procedure says, 20 s for each of the author's neighbours parted.

mod crew;
mod danger;
mod interleaved;
mod said_at_places;
mod turned;

use benchleaf::decide::decide;
use benchleaf::plan::{ChangeTimes, Choice, Choosing, PlanOptions, plan};
use benchleaf::procedure::model::Phase;
use benchleaf::record::Job;
use proptest::prelude::*;

use crate::tests::network::connected;

/// A step of a small procedure: its section, socket, hand tool, side of the stand, and the steps it comes after.
#[derive(Debug, Clone)]
struct Work {
    section: usize,
    socket: Option<usize>,
    hand: Option<usize>,
    stand: Option<usize>,
    after: Vec<usize>,
}

const STAND_SECONDS: u64 = 60;

fn text(works: &[Work]) -> String {
    let mut text = String::from("family small \"Small\" { edition 1  origin \"invented for a test\" }\n");
    text += "setup stand \"Stand\" = up (at first), over, nose  change 60 s\n";
    for tool in 0..3 {
        text += &format!("tool socket{tool} \"Socket {tool}\" {{ kind socket  size {} mm }}\n", 10 + tool);
        text += &format!("tool hand{tool} \"Tool {tool}\" {{ kind other }}\n");
    }
    let mut section = None;
    for (index, work) in works.iter().enumerate() {
        if section != Some(work.section) {
            section = Some(work.section);
            text += &format!("section part{} \"Part {}\"\n", work.section, work.section);
        }
        text += &format!("strip step{index} \"Step {index}\" {{ do \"Work.\" ");
        for other in &work.after {
            text += &format!(" after step{other} ");
        }
        let tools: Vec<String> = (work.socket.iter().map(|tool| format!("socket{tool}")))
            .chain(work.hand.iter().map(|tool| format!("hand{tool}")))
            .collect();
        if !tools.is_empty() {
            text += &format!(" tools {} ", tools.join(", "));
        }
        if let Some(stand) = work.stand {
            text += &format!(" with stand {} ", ["up", "over", "nose"][stand]);
        }
        text += "}\n";
    }
    text
}

/// Seconds of an order, by the table of the reference.
fn seconds(works: &[Work], order: &[usize], parting: u64) -> u64 {
    let (mut socket, mut hand, mut stand) = (None, None, 0);
    let mut total = 0;
    for index in order {
        let work = &works[*index];
        if let Some(own) = work.socket {
            total += if socket.is_some_and(|now| now != own) { 4 } else { 0 };
            socket = Some(own);
        }
        if let Some(own) = work.hand {
            total += if hand.is_some_and(|now| now != own) { 8 } else { 0 };
            hand = Some(own);
        }
        if let Some(own) = work.stand {
            total += if own == stand { 0 } else { STAND_SECONDS };
            stand = own;
        }
    }
    let together = |a: usize| order.windows(2).any(|pair| pair == [a, a + 1]);
    let neighbours = (1..works.len()).filter(|b| works[b - 1].section == works[*b].section);
    total + parting * neighbours.filter(|b| !together(b - 1)).count() as u64
}

/// Every order that keeps the sections and what each step comes after.
fn orders(works: &[Work]) -> Vec<Vec<usize>> {
    fn extend(works: &[Work], order: &mut Vec<usize>, found: &mut Vec<Vec<usize>>) {
        if order.len() == works.len() {
            found.push(order.clone());
            return;
        }
        for next in 0..works.len() {
            let ready = !order.contains(&next)
                && works[next].after.iter().all(|before| order.contains(before))
                && (0..works.len()).all(|o| works[o].section >= works[next].section || order.contains(&o));
            if ready {
                order.push(next);
                extend(works, order, found);
                order.pop();
            }
        }
    }
    let mut found = Vec::new();
    extend(works, &mut Vec::new(), &mut found);
    found
}

/// The choice for the strip, and its order as numbers of steps.
fn chosen(works: &[Work], as_written: bool, parting: u64) -> (Choice, Vec<usize>) {
    let (procedure, network, _, _) = connected(&text(works));
    let decisions = decide(&procedure, &network.structure, &Job::default()).value;
    let times = ChangeTimes { parting: u32::try_from(parting * 10).unwrap(), ..ChangeTimes::PLANNING };
    let options = PlanOptions { recorded: false, choosing: Choosing { as_written, times } };
    let plan = plan(&procedure, &network, &decisions, options);
    let strip = plan.phase(Phase::Strip).unwrap();
    let number = |id: &str| id.trim_start_matches("step").parse().unwrap();
    let order = strip.order.iter().map(|node| number(&network.nodes[node.index()].id(&procedure))).collect();
    (strip.choice.clone().unwrap(), order)
}

fn works() -> impl Strategy<Value = Vec<Work>> {
    (2..7usize).prop_flat_map(|count| {
        (0..count)
            .map(|index| {
                let tool = || prop::option::weighted(0.7, 0..3usize);
                let after = prop::collection::vec(prop::bool::weighted(0.25), index);
                (tool(), tool(), prop::option::weighted(0.3, 0..3usize), after, prop::bool::weighted(0.15))
                    .prop_map(|(socket, hand, stand, after, begins)| {
                        let after = after.iter().enumerate().filter(|(_, yes)| **yes).map(|(o, _)| o);
                        let section = usize::from(begins);
                        Work { section, socket, hand, stand, after: after.collect() }
                    })
            })
            .collect::<Vec<_>>()
            .prop_map(|mut works| {
                // Sections follow each other.
                let mut section = 0;
                for work in &mut works {
                    section += work.section;
                    work.section = section;
                }
                works
            })
    })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 200, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn no_allowed_order_is_cheaper(works in works(), parting in prop::sample::select(vec![0u64, 3, 20])) {
        let (choice, order) = chosen(&works, false, parting);
        let all = orders(&works);
        prop_assert!(all.contains(&order), "{order:?} is not allowed");
        let least = all.iter().map(|order| seconds(&works, order, parting)).min().unwrap();
        prop_assert_eq!(choice.cost.total, seconds(&works, &order, parting) * 10);
        prop_assert_eq!(choice.cost.total, least * 10);
        prop_assert!(choice.proved);
        prop_assert_eq!(choice.bound, choice.cost.total);
        let written: Vec<usize> = (0..works.len()).collect();
        prop_assert_eq!(choice.author_cost.total, seconds(&works, &written, parting) * 10);
        if seconds(&works, &written, parting) == least {
            prop_assert_eq!(order, written, "the author's order costs no more");
        }
    }

    #[test]
    fn the_changes_add_up(works in works()) {
        let (choice, _) = chosen(&works, false, 20);
        let listed: u64 = choice.cost.changes.iter().map(|change| change.tenths).sum();
        prop_assert_eq!(listed + choice.cost.parted * 200, choice.cost.total);
        let kinds: u64 = choice.cost.kinds.values().map(|(_, tenths)| tenths).sum();
        prop_assert_eq!(kinds, listed);
    }

    #[test]
    fn another_place_costs_what_it_is_said_to_cost(works in works()) {
        let (choice, order) = chosen(&works, false, 20);
        let all = orders(&works);
        for (at, node) in choice.order.iter().enumerate() {
            let (earlier, later) = choice.shifts(*node);
            for (shift, back) in [(earlier, true), (later, false)] {
                let Ok(shift) = shift else { continue };
                let mut other = order.clone();
                let step = other.remove(at);
                other.insert(if back { at - shift.places } else { at + shift.places }, step);
                prop_assert!(all.contains(&other));
                let extra = seconds(&works, &other, 20) as i64 - seconds(&works, &order, 20) as i64;
                prop_assert_eq!(shift.extra, extra * 10);
            }
        }
    }
}

fn alternating(pairs: usize, chained: bool) -> Vec<Work> {
    (0..2 * pairs)
        .map(|index| Work {
            section: 0,
            socket: Some(index % 2),
            hand: None,
            stand: None,
            after: if chained && index > 0 { vec![index - 1] } else { Vec::new() },
        })
        .collect()
}

#[test]
fn free_steps_of_two_tools_need_one_change() {
    let (choice, _) = chosen(&alternating(6, false), false, 0);
    assert_eq!(choice.cost.kinds["socket"], (1, 40));
    assert!(!choice.moved.is_empty());
}

#[test]
fn a_chain_of_alternating_tools_changes_at_every_step() {
    let (choice, order) = chosen(&alternating(6, true), false, 0);
    assert_eq!(choice.cost.kinds["socket"], (11, 440));
    assert_eq!(order, (0..12).collect::<Vec<_>>());
}

#[test]
fn a_socket_is_not_worth_the_thread() {
    let (choice, order) = chosen(&alternating(6, false), false, 20);
    assert_eq!(order, (0..12).collect::<Vec<_>>());
    assert!(choice.moved.is_empty() && choice.proved);
}

#[test]
fn the_authors_order_is_kept_when_asked() {
    let (choice, order) = chosen(&alternating(6, false), true, 0);
    assert_eq!(order, (0..12).collect::<Vec<_>>());
    assert_eq!(choice.cost, choice.author_cost);
}

#[test]
fn a_hold_keeps_the_step_behind_it() {
    let text = "family h \"H\" { edition 1  origin \"invented for a test\" }\n\
                setup stand \"Stand\" = up (at first), over  change 60 s\n\
                section first \"First\"\n\
                strip zero \"Zero\" { with stand over  do \"Work.\" }\n\
                strip one \"One\" { with stand up  do \"Work.\"  hold \"a second person looks\" }\n\
                section second \"Second\"\n\
                strip two \"Two\" { with stand over  do \"Work.\" }\n\
                strip three \"Three\" { with stand up  do \"Work.\" }\n";
    let (procedure, network, _, _) = connected(text);
    let decisions = decide(&procedure, &network.structure, &Job::default()).value;
    let times = ChangeTimes { parting: 0, ..ChangeTimes::PLANNING };
    let options = PlanOptions { recorded: false, choosing: Choosing { as_written: false, times } };
    let plan = plan(&procedure, &network, &decisions, options);
    let steps = plan.phase(Phase::Strip).unwrap().steps.iter();
    let ids: Vec<String> = steps.map(|step| step.key.id(&procedure)).collect();
    let one = ids.iter().position(|id| id == "one").unwrap();
    assert_eq!(ids[one + 1], "two", "{ids:?}");
}
