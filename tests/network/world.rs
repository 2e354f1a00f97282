//! Small random procedures: as a description that the brute-force oracle reads, and as the text that the tool reads.

use proptest::prelude::*;

/// A position: the three cylinders stand in two banks, the first and the last in the left one.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Spot {
    Cyl(usize),
    Bank(usize),
}

/// Cylinders.
pub const CYLS: usize = 3;
/// Banks.
pub const BANKS: usize = 2;

impl Spot {
    /// As it is written in a procedure.
    pub fn name(self) -> String {
        match self {
            Spot::Cyl(cyl) => (cyl + 1).to_string(),
            Spot::Bank(bank) => ["left", "right"][bank].to_owned(),
        }
    }
}

/// The bank of a cylinder.
pub fn bank_of(cyl: usize) -> usize {
    cyl % 2
}

/// What a thing or a step is there for: once, for each cylinder, for each bank.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Axis {
    Once,
    Cyl,
    Bank,
}

impl Axis {
    /// Behind the name in a declaration.
    fn text(self) -> &'static str {
        match self {
            Axis::Once => "",
            Axis::Cyl => "[cyl]",
            Axis::Bank => "[bank]",
        }
    }
}

/// How a step is repeated.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Each {
    Once,
    /// One step, each act at all cylinders before the next.
    CylTogether,
    CylApart,
    BankApart,
    /// A step for each bank, each act at all of its cylinders before the next.
    CylOfBank,
}

impl Each {
    fn text(self) -> &'static str {
        match self {
            Each::Once => "",
            Each::CylTogether => "  each cyl together\n",
            Each::CylApart => "  each cyl apart\n",
            Each::BankApart => "  each bank apart\n",
            Each::CylOfBank => "  each cyl of bank together\n",
        }
    }

    /// The positions at which the step is done by itself.
    pub fn spots(self) -> Vec<Option<Spot>> {
        match self {
            Each::Once | Each::CylTogether => vec![None],
            Each::CylApart => (0..CYLS).map(|cyl| Some(Spot::Cyl(cyl))).collect(),
            Each::BankApart | Each::CylOfBank => (0..BANKS).map(|bank| Some(Spot::Bank(bank))).collect(),
        }
    }
}

/// A thing with a value, as the oracle names it: a part and a set at its position.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Thing {
    Part(usize, Option<Spot>),
    Set(usize, Option<Spot>),
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
    /// Every set of the joint.
    UndoJoint,
    TightenJoint,
    Set(usize, usize),
    PutIn,
    TakeOut,
    Turn,
}

/// A step: what it needs, when it is done, what it comes after, and its acts, each with when that is done.
#[derive(Debug, Clone)]
pub struct Step {
    pub acts: Vec<Act>,
    /// The answer under which an act is done; in any case, if there is none.
    pub given: Vec<Option<(usize, usize)>>,
    /// The cylinder at which alone an act is done.
    pub at: Vec<Option<usize>>,
    pub each: Each,
    pub needs: Option<(usize, usize)>,
    /// The cylinder at which alone the state is needed.
    pub needs_at: Option<usize>,
    pub when: Option<(usize, usize)>,
    pub after: Vec<usize>,
}

/// A small procedure. Parts may be under others and held by sets; steps of `block` are not split.
#[derive(Debug, Clone)]
pub struct World {
    pub part_axis: Vec<Axis>,
    pub set_axis: Vec<Axis>,
    pub under: Vec<Vec<usize>>,
    /// The cylinder at which alone a part is under others.
    pub under_at: Vec<Option<usize>>,
    /// The answer under which the engine has a part; always, if there is none.
    pub present: Vec<Option<(usize, usize)>>,
    /// The cylinder at which alone that is said; at all, if there is none.
    pub present_at: Vec<Option<usize>>,
    pub held: Vec<Vec<usize>>,
    pub set_under: Vec<Option<usize>>,
    /// The answer under which the engine has a set; always, if there is none.
    pub set_present: Vec<Option<(usize, usize)>>,
    /// What a joint clamps to a base that stays, and its sets; of things that are there once.
    pub joint: Option<(usize, Vec<usize>)>,
    pub states: usize,
    pub steps: Vec<Step>,
    pub block: Option<(usize, usize)>,
}

/// Every question has two answers.
pub const ASKS: usize = 2;

impl Step {
    /// A step that is done once, its acts in any case.
    fn plain(acts: Vec<Act>) -> Step {
        let (given, at) = (vec![None; acts.len()], vec![None; acts.len()]);
        Step { acts, given, at, each: Each::Once, needs: None, needs_at: None, when: None, after: Vec::new() }
    }
}

impl World {
    /// What an act is about, and how often that is there.
    pub fn subject(&self, act: Act) -> Axis {
        match act {
            Act::Take(p) | Act::PutBack(p) => self.part_axis[p],
            Act::Slacken(s) | Act::Undo(s) | Act::Nip(s) | Act::Tighten(s) => self.set_axis[s],
            Act::UndoJoint | Act::TightenJoint | Act::Set(..) | Act::PutIn | Act::TakeOut | Act::Turn => {
                Axis::Once
            }
        }
    }

    /// A world of one state and nothing else.
    fn of_steps(steps: Vec<Step>) -> World {
        World {
            part_axis: Vec::new(),
            set_axis: Vec::new(),
            under: Vec::new(),
            under_at: Vec::new(),
            present: Vec::new(),
            present_at: Vec::new(),
            held: Vec::new(),
            set_under: Vec::new(),
            set_present: Vec::new(),
            joint: None,
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
        text += "axis cyl \"cylinder\" = 1 .. 3 in bank \"bank\" left 1, 3, right 2\n";
        text += "temporary rag \"Rag\" { into \"a hole\" }\n";
        for (part, under) in self.under.iter().enumerate() {
            text += &format!("part p{part}{} \"Part {part}\" {{", self.part_axis[part].text());
            for other in under {
                text += &format!(" under p{other}");
                if let Some(cyl) = self.under_at[part] {
                    text += &format!(" at cyl = {}", cyl + 1);
                }
            }
            for set in &self.held[part] {
                text += &format!(" held by s{set}");
            }
            if let Some((ask, answer)) = self.present[part] {
                text += &format!(" present when q{ask} = {}", if answer == 0 { "yes" } else { "no" });
                if let Some(cyl) = self.present_at[part] {
                    text += &format!(" at cyl = {}", cyl + 1);
                }
            }
            text += " fate reuse }\n";
        }
        for (set, under) in self.set_under.iter().enumerate() {
            text += &format!("fasteners s{set}{} 2 \"Set {set}\" {{ kind bolt", self.set_axis[set].text());
            if let Some(part) = under {
                text += &format!(" under p{part}");
            }
            if let Some((ask, answer)) = self.set_present[set] {
                text += &format!(" present when q{ask} = {}", if answer == 0 { "yes" } else { "no" });
            }
            text += " reusable }\n";
        }
        if let Some((part, sets)) = &self.joint {
            let tighten: String = sets.iter().map(|set| format!("  tighten s{set} by feel")).collect();
            text += &format!("part base \"Base\"\njoint jt \"Joint\" {{ clamps p{part}, base{tighten} }}\n");
        }
        for (index, step) in self.steps.iter().enumerate() {
            if self.block.is_some_and(|(start, _)| start == index) {
                text += "block together \"Together\" {\n";
            }
            text += &format!("strip step{index} \"Step {index}\" {{\n");
            text += step.each.text();
            for other in &step.after {
                text += &format!("  after step{other}\n");
            }
            if let Some((ask, answer)) = step.when {
                text += &format!("  when q{ask} = {}\n", if answer == 0 { "yes" } else { "no" });
            }
            if let Some((state, value)) = step.needs {
                text += &format!("  needs st{state} = v{value}");
                if let Some(cyl) = step.needs_at {
                    text += &format!(" at cyl = {}", cyl + 1);
                }
                text.push('\n');
            }
            for ((act, given), at) in step.acts.iter().zip(&step.given).zip(&step.at) {
                text += &match act {
                    Act::Take(p) => format!("  take p{p}\n"),
                    Act::PutBack(p) => format!("  put back p{p}\n"),
                    Act::Slacken(s) => format!("  slacken s{s}\n"),
                    Act::Undo(s) => format!("  undo s{s}\n"),
                    Act::Nip(s) => format!("  nip s{s}\n"),
                    Act::Tighten(s) => format!("  tighten s{s}\n"),
                    Act::UndoJoint => "  undo jt\n".to_owned(),
                    Act::TightenJoint => "  tighten jt\n".to_owned(),
                    Act::Set(s, v) => format!("  set st{s} = v{v}\n"),
                    Act::PutIn => "  put in rag\n".to_owned(),
                    Act::TakeOut => "  take out rag\n".to_owned(),
                    Act::Turn => "  turn clockwise 90 deg\n".to_owned(),
                };
                if let Some(cyl) = at {
                    text.truncate(text.trim_end().len());
                    text += &format!(" at cyl = {}\n", cyl + 1);
                }
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

fn act(parts: usize, sets: usize, states: usize, joint: bool) -> impl Strategy<Value = Act> {
    let of_joint = prop_oneof![2 => Just(Act::UndoJoint), 1 => Just(Act::TightenJoint)];
    let others = prop_oneof![
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
    ];
    if joint { prop_oneof![1 => of_joint, 5 => others].boxed() } else { others.boxed() }
}

fn step(
    (parts, sets, states): (usize, usize, usize),
    index: usize,
    joint: bool,
) -> impl Strategy<Value = Step> {
    (
        prop::collection::vec(
            (act(parts, sets, states, joint), prop::option::weighted(0.25, (0..ASKS, 0..2usize))),
            1..4,
        ),
        prop::option::weighted(0.4, (0..states, 0..2usize)),
        prop::option::weighted(0.4, (0..ASKS, 0..2usize)),
        prop::collection::vec(prop::bool::weighted(0.25), index),
    )
        .prop_map(|(acts, needs, when, after)| {
            let after = after.iter().enumerate().filter(|(_, yes)| **yes).map(|(other, _)| other).collect();
            let (acts, given): (Vec<Act>, Vec<_>) = acts.into_iter().unzip();
            Step { given, needs, when, after, ..Step::plain(acts) }
        })
}

/// A random world.
pub fn world() -> impl Strategy<Value = World> {
    of_things(false)
}

/// A random world of which a joint has sets that some engines haven't got.
pub fn joined() -> impl Strategy<Value = World> {
    of_things(true)
}

fn of_things(joint: bool) -> impl Strategy<Value = World> {
    (1..4usize, 1..3usize, 1..3usize, 2..6usize).prop_flat_map(move |(parts, sets, states, steps)| {
        let under =
            (0..parts).map(|part| prop::collection::vec(prop::bool::weighted(0.3), part)).collect::<Vec<_>>();
        let held = prop::collection::vec(prop::collection::vec(prop::bool::weighted(0.3), sets), parts);
        let set_under = prop::collection::vec(prop::option::weighted(0.2, 0..parts), sets);
        let present = prop::collection::vec(prop::option::weighted(0.2, (0..ASKS, 0..2usize)), parts);
        let set_present = prop::collection::vec(prop::option::weighted(0.4, (0..ASKS, 0..2usize)), sets);
        let steps = (0..steps).map(|index| step((parts, sets, states), index, joint)).collect::<Vec<_>>();
        let block = prop::option::weighted(0.3, (0..4usize, 2..4usize));
        (under, held, (set_under, set_present), present, steps, block).prop_map(
            move |(under, held, (set_under, set_present), present, steps, block)| {
                let pick = |yes: &Vec<bool>| {
                    yes.iter().enumerate().filter(|(_, y)| **y).map(|(i, _)| i).collect::<Vec<_>>()
                };
                let block = block.filter(|(start, length)| start + length <= steps.len());
                let joint = joint.then(|| (0, (0..sets).collect::<Vec<usize>>()));
                // What is in the joint holds by it alone.
                let held = if joint.is_some() { vec![vec![false; sets]; parts] } else { held };
                World {
                    set_present,
                    joint,
                    part_axis: vec![Axis::Once; parts],
                    set_axis: vec![Axis::Once; sets],
                    under_at: vec![None; parts],
                    under: under.iter().map(pick).collect(),
                    present_at: vec![None; present.len()],
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
                            Step { given: vec![given; acts.len()], needs, when, after, ..Step::plain(acts) }
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
            steps.push(Step { after, ..Step::plain(vec![Act::Set(0, usize::from(mends))]) });
        }
        let after = (0..pairs).map(|pair| 2 * pair + 1).collect();
        steps.push(Step { needs: Some((0, 1)), after, ..Step::plain(vec![Act::Turn]) });
        World::of_steps(steps)
    })
}

/// Most units in a world with positions: every order of them is gone through.
const MOST_UNITS: usize = 6;

/// A random world on an engine with cylinders in banks: parts and sets that are there for each, steps that are done
/// for each, together or apart, and acts at one cylinder only.
pub fn placed() -> impl Strategy<Value = World> {
    let axis = || prop_oneof![2 => Just(Axis::Once), 3 => Just(Axis::Cyl), 2 => Just(Axis::Bank)];
    let each = || {
        prop_oneof![
            3 => Just(Each::Once),
            1 => Just(Each::CylTogether),
            2 => Just(Each::CylApart),
            2 => Just(Each::BankApart),
            1 => Just(Each::CylOfBank),
        ]
    };
    let at = || prop::option::weighted(0.4, 0..CYLS);
    (
        world(),
        prop::collection::vec(axis(), 3),
        prop::collection::vec(axis(), 2),
        prop::collection::vec(each(), 5),
        prop::collection::vec(at(), 15),
        prop::collection::vec((at(), at()), 3),
        prop::collection::vec(at(), 5),
    )
        .prop_map(|(mut world, parts, sets, each, at, part_at, needs_at)| {
            world.part_axis = parts[..world.under.len()].to_vec();
            world.set_axis = sets[..world.set_under.len()].to_vec();
            for (part, (under, present)) in part_at.into_iter().take(world.under.len()).enumerate() {
                if world.part_axis[part] == Axis::Cyl {
                    world.under_at[part] = under;
                    world.present_at[part] = present.filter(|_| world.present[part].is_some());
                }
            }
            let mut units = world.steps.len();
            for index in 0..world.steps.len() {
                let blocked =
                    world.block.is_some_and(|(start, length)| (start..start + length).contains(&index));
                let more = each[index].spots().len() - 1;
                if (more == 0 || !blocked) && units + more <= MOST_UNITS {
                    world.steps[index].each = each[index];
                    units += more;
                }
                let subjects: Vec<Axis> =
                    world.steps[index].acts.iter().map(|act| world.subject(*act)).collect();
                let step = &mut world.steps[index];
                if step.each == Each::CylApart && step.needs.is_some() {
                    step.needs_at = needs_at[index];
                }
                for (number, subject) in subjects.into_iter().enumerate() {
                    if subject == Axis::Cyl || (subject == Axis::Once && step.each == Each::CylApart) {
                        step.at[number] = at[index * 3 + number];
                    }
                }
            }
            world
        })
}
