//! Small random procedures: as a description that the brute-force oracle reads, and as the text that the tool reads.

use proptest::prelude::*;

/// A thing with a value, as the oracle names it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Thing {
    Part(usize),
    Set(usize),
    State(usize),
    Rag,
}

/// What an act does.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Act {
    Take(usize),
    PutBack(usize),
    Slacken(usize),
    Undo(usize),
    Nip(usize),
    Tighten(usize),
    Set(usize, usize),
    PutIn,
    TakeOut,
    Turn,
}

/// A step: what it needs, when it is done, what it comes after, and its acts, each with when that is done.
#[derive(Debug, Clone, Default)]
pub struct Step {
    pub acts: Vec<Act>,
    /// The answer under which an act is done; in any case, if there is none.
    pub given: Vec<Option<(usize, usize)>>,
    pub needs: Option<(usize, usize)>,
    pub when: Option<(usize, usize)>,
    pub after: Vec<usize>,
}

/// A small procedure. Parts may be under others and held by sets; steps of `block` are not split.
#[derive(Debug, Clone)]
pub struct World {
    pub under: Vec<Vec<usize>>,
    /// The answer under which the engine has a part; always, if there is none.
    pub present: Vec<Option<(usize, usize)>>,
    pub held: Vec<Vec<usize>>,
    pub set_under: Vec<Option<usize>>,
    pub states: usize,
    pub steps: Vec<Step>,
    pub block: Option<(usize, usize)>,
}

/// Every question has two answers.
pub const ASKS: usize = 2;

impl World {
    /// A world of one state and nothing else.
    fn of_steps(steps: Vec<Step>) -> World {
        World {
            under: Vec::new(),
            present: Vec::new(),
            held: Vec::new(),
            set_under: Vec::new(),
            states: 1,
            steps,
            block: None,
        }
    }

    /// The text of it.
    pub fn text(&self) -> String {
        let mut text = String::from("family world \"World\" { edition 1  origin \"invented\" }\n");
        for ask in 0..ASKS {
            text += &format!("ask q{ask} \"Question {ask}?\" = yes, no\n");
        }
        for state in 0..self.states {
            text += &format!("state st{state} \"State {state}\" = v0 (at first), v1\n");
        }
        text += "temporary rag \"Rag\" { into \"a hole\" }\n";
        for (part, under) in self.under.iter().enumerate() {
            text += &format!("part p{part} \"Part {part}\" {{");
            for other in under {
                text += &format!(" under p{other}");
            }
            for set in &self.held[part] {
                text += &format!(" held by s{set}");
            }
            if let Some((ask, answer)) = self.present[part] {
                text += &format!(" present when q{ask} = {}", if answer == 0 { "yes" } else { "no" });
            }
            text += " fate reuse }\n";
        }
        for (set, under) in self.set_under.iter().enumerate() {
            text += &format!("fasteners s{set} 2 \"Set {set}\" {{ kind bolt");
            if let Some(part) = under {
                text += &format!(" under p{part}");
            }
            text += " reusable }\n";
        }
        for (index, step) in self.steps.iter().enumerate() {
            if self.block.is_some_and(|(start, _)| start == index) {
                text += "block together \"Together\" {\n";
            }
            text += &format!("strip step{index} \"Step {index}\" {{\n");
            for other in &step.after {
                text += &format!("  after step{other}\n");
            }
            if let Some((ask, answer)) = step.when {
                text += &format!("  when q{ask} = {}\n", if answer == 0 { "yes" } else { "no" });
            }
            if let Some((state, value)) = step.needs {
                text += &format!("  needs st{state} = v{value}\n");
            }
            for (act, given) in step.acts.iter().zip(&step.given) {
                text += &match act {
                    Act::Take(p) => format!("  take p{p}\n"),
                    Act::PutBack(p) => format!("  put back p{p}\n"),
                    Act::Slacken(s) => format!("  slacken s{s}\n"),
                    Act::Undo(s) => format!("  undo s{s}\n"),
                    Act::Nip(s) => format!("  nip s{s}\n"),
                    Act::Tighten(s) => format!("  tighten s{s}\n"),
                    Act::Set(s, v) => format!("  set st{s} = v{v}\n"),
                    Act::PutIn => "  put in rag\n".to_owned(),
                    Act::TakeOut => "  take out rag\n".to_owned(),
                    Act::Turn => "  turn clockwise 90 deg\n".to_owned(),
                };
                if let Some((ask, answer)) = given {
                    text.truncate(text.trim_end().len());
                    text += &format!(" when q{ask} = {}\n", if *answer == 0 { "yes" } else { "no" });
                }
            }
            text += "}\n";
            if self.block.is_some_and(|(start, length)| start + length == index + 1) {
                text += "}\n";
            }
        }
        text
    }
}

fn act(parts: usize, sets: usize, states: usize) -> impl Strategy<Value = Act> {
    prop_oneof![
        3 => (0..parts).prop_map(Act::Take),
        2 => (0..parts).prop_map(Act::PutBack),
        1 => (0..sets).prop_map(Act::Slacken),
        3 => (0..sets).prop_map(Act::Undo),
        1 => (0..sets).prop_map(Act::Nip),
        1 => (0..sets).prop_map(Act::Tighten),
        4 => (0..states, 0..2usize).prop_map(|(s, v)| Act::Set(s, v)),
        1 => Just(Act::PutIn),
        1 => Just(Act::TakeOut),
        1 => Just(Act::Turn),
    ]
}

fn step(parts: usize, sets: usize, states: usize, index: usize) -> impl Strategy<Value = Step> {
    (
        prop::collection::vec(
            (act(parts, sets, states), prop::option::weighted(0.25, (0..ASKS, 0..2usize))),
            1..4,
        ),
        prop::option::weighted(0.4, (0..states, 0..2usize)),
        prop::option::weighted(0.4, (0..ASKS, 0..2usize)),
        prop::collection::vec(prop::bool::weighted(0.25), index),
    )
        .prop_map(|(acts, needs, when, after)| {
            let after = after.iter().enumerate().filter(|(_, yes)| **yes).map(|(other, _)| other).collect();
            let (acts, given) = acts.into_iter().unzip();
            Step { acts, given, needs, when, after }
        })
}

/// A random world.
pub fn world() -> impl Strategy<Value = World> {
    (1..4usize, 1..3usize, 1..3usize, 2..6usize).prop_flat_map(|(parts, sets, states, steps)| {
        let under =
            (0..parts).map(|part| prop::collection::vec(prop::bool::weighted(0.3), part)).collect::<Vec<_>>();
        let held = prop::collection::vec(prop::collection::vec(prop::bool::weighted(0.3), sets), parts);
        let set_under = prop::collection::vec(prop::option::weighted(0.2, 0..parts), sets);
        let present = prop::collection::vec(prop::option::weighted(0.2, (0..ASKS, 0..2usize)), parts);
        let steps = (0..steps).map(|index| step(parts, sets, states, index)).collect::<Vec<_>>();
        let block = prop::option::weighted(0.3, (0..4usize, 2..4usize));
        (under, held, set_under, present, steps, block).prop_map(
            move |(under, held, set_under, present, steps, block)| {
                let pick = |yes: &Vec<bool>| {
                    yes.iter().enumerate().filter(|(_, y)| **y).map(|(i, _)| i).collect::<Vec<_>>()
                };
                let block = block.filter(|(start, length)| start + length <= steps.len());
                World {
                    under: under.iter().map(pick).collect(),
                    present,
                    held: held.iter().map(pick).collect(),
                    set_under,
                    states,
                    steps,
                    block,
                }
            },
        )
    })
}

/// A random world in which steps only set one state and need it, over and over: what tells an exact test from a
/// usual one.
pub fn toggles() -> impl Strategy<Value = World> {
    (4..7usize)
        .prop_flat_map(|steps| {
            (0..steps)
                .map(|index| {
                    let acts = prop::collection::vec((0..2usize).prop_map(|v| Act::Set(0, v)), 0..2);
                    let given = prop::option::weighted(0.2, (0..ASKS, 0..2usize));
                    let needs = prop::option::weighted(0.3, (Just(0), 0..2usize));
                    let when = prop::option::weighted(0.15, (0..ASKS, 0..2usize));
                    (acts, given, needs, when, prop::collection::vec(prop::bool::weighted(0.35), index))
                        .prop_map(|(acts, given, needs, when, after)| {
                            let after =
                                after.iter().enumerate().filter(|(_, yes)| **yes).map(|(o, _)| o).collect();
                            let acts = if acts.is_empty() { vec![Act::Turn] } else { acts };
                            let given = vec![given; acts.len()];
                            Step { acts, given, needs, when, after }
                        })
                })
                .collect::<Vec<_>>()
        })
        .prop_map(World::of_steps)
}

/// Worlds built to provoke false alarms: pairs of a step that spoils a state and one that mends it again, in any
/// order of the pairs, before a step that needs it mended.
pub fn provoking() -> impl Strategy<Value = World> {
    (2..4usize, prop::collection::vec(prop::bool::weighted(0.1), 36)).prop_map(|(pairs, noise)| {
        let mut steps: Vec<Step> = Vec::new();
        for index in 0..2 * pairs {
            let mends = index % 2 == 1;
            let mut after: Vec<usize> = (0..index).filter(|other| noise[index * 6 + other]).collect();
            if mends && !after.contains(&(index - 1)) {
                after.push(index - 1);
            }
            let acts = vec![Act::Set(0, usize::from(mends))];
            steps.push(Step { acts, given: vec![None], needs: None, when: None, after });
        }
        let after = (0..pairs).map(|pair| 2 * pair + 1).collect();
        steps.push(Step { acts: vec![Act::Turn], given: vec![None], needs: Some((0, 1)), when: None, after });
        World::of_steps(steps)
    })
}
