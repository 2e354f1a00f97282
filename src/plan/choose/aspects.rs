//! The bench as aspects with values, what each step demands of them, and what a change takes.
//!
//! An aspect that a step doesn't mention stays as it is. Protective equipment is put on once and stays on, which costs
//! the same in every order; the hoist is wheeled away for a step that says how the bench stands and doesn't use it.

use std::collections::BTreeMap;

use super::super::{Bench, Known};
use super::cost::{Change, Cost};
use super::times::{ChangeTimes, tenths};
use super::units::steps;
use crate::english::spaced;
use crate::network::NodeId;
use crate::procedure::model::{
    Binding, Deed, Fastening, FasteningWork, Number, Pass, SetId, Step, StepLine, ToolKind,
};
use crate::sequence::search::{Aspect, Demand};

/// Most values that one aspect tells apart, and most aspects: what a search can take. Beyond them a demand is dropped,
/// which leaves the order allowed and only its cost less sharp.
const MOST_VALUES: usize = 250;
const MOST_ASPECTS: usize = 16;

/// How the hoist stands before the first step.
const NO_HOIST: &str = "put away";

/// One aspect: what it is called, its values in words, and what a change to another takes.
struct Named {
    title: String,
    values: Vec<String>,
    change: u32,
    /// What going back to the first value takes, where that differs.
    back: Option<u32>,
    start: Option<usize>,
    /// Whether it is asked for in one value only, so that every order pays for it alike.
    once: bool,
}

impl Named {
    fn cost(&self, from: usize, to: usize) -> u32 {
        match self.back {
            _ if from == to => 0,
            Some(back) if to == 0 => back,
            _ => self.change,
        }
    }
}

/// What can differ at the bench, and what each node demands of it.
pub(super) struct Aspects {
    named: Vec<Named>,
    demands: BTreeMap<NodeId, Vec<Demand>>,
    /// Changes within a node, by node.
    inside: BTreeMap<NodeId, Vec<Change>>,
}

/// What makes a value of an aspect, in the order in which a step asks for it.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
enum Asked {
    Setup(usize, usize),
    Socket(String),
    Hand(String),
    /// Torque in tenths of a newton metre.
    Torque(i64),
    /// Whether it is wanted or in the way.
    Hoist(bool),
    Wear(String),
}

impl Aspects {
    /// Reads them off the steps of a phase.
    pub(super) fn of(known: &Known, author: &[NodeId], bench: &Bench, times: &ChangeTimes) -> Aspects {
        let (procedure, network) = (known.procedure, known.network);
        let mut named: Vec<Named> = procedure
            .setups
            .iter()
            .zip(&bench.values)
            .take(MOST_ASPECTS / 2)
            .map(|(setup, (_, now))| Named {
                title: setup.naming.title.clone(),
                values: setup.values.iter().take(MOST_VALUES).map(|value| spaced(value)).collect(),
                change: setup.change.map_or(times.setup, tenths),
                back: None,
                start: Some(*now),
                once: false,
            })
            .collect();
        let mut index_of: BTreeMap<String, usize> = BTreeMap::new();
        let mut found = Aspects { named: Vec::new(), demands: BTreeMap::new(), inside: BTreeMap::new() };
        for node in author {
            let mut sequence: Vec<(usize, usize)> = Vec::new();
            let members = &network.nodes[node.index()].members;
            let all = steps(procedure, network, *node).into_iter().zip(members);
            for asked in all.flat_map(|(step, member)| asked(known, step, &member.binding)) {
                sequence.extend(value_of(&asked, times, &mut named, &mut index_of));
            }
            let mut demands: Vec<Demand> = Vec::new();
            let mut inside = Vec::new();
            for (aspect, value) in sequence {
                match demands.iter_mut().find(|demand| demand.aspect == aspect) {
                    Some(demand) => {
                        if demand.exit != value {
                            inside.push((aspect, demand.exit, value));
                        }
                        demand.exit = value;
                    }
                    None => demands.push(Demand { aspect, entry: value, exit: value }),
                }
            }
            let inside = inside.into_iter().map(|(aspect, from, to)| Change {
                node: *node,
                inside: true,
                aspect: named[aspect].title.clone(),
                from: Some(named[aspect].values[from].clone()),
                to: named[aspect].values[to].clone(),
                tenths: u64::from(named[aspect].cost(from, to)),
            });
            found.inside.insert(*node, inside.collect());
            found.demands.insert(*node, demands);
        }
        found.named = named;
        found
    }

    /// The aspects as a search takes them.
    pub(super) fn tables(&self) -> Vec<Aspect> {
        let table = |named: &Named| {
            let values = named.values.len().max(1);
            let rows: Vec<Vec<u32>> =
                (0..values).map(|from| (0..values).map(|to| named.cost(from, to)).collect()).collect();
            Aspect::new(&rows)
        };
        self.named.iter().map(table).collect()
    }

    /// Values before the first step.
    pub(super) fn start(&self) -> Vec<Option<usize>> {
        self.named.iter().map(|named| named.start).collect()
    }

    /// What nodes that stand together demand as one.
    pub(super) fn demands(&self, nodes: &[NodeId]) -> Vec<Demand> {
        let mut all: Vec<Demand> = Vec::new();
        let demands = nodes.iter().filter_map(|node| self.demands.get(node)).flatten();
        for demand in demands.filter(|demand| !self.named[demand.aspect].once) {
            match all.iter_mut().find(|known| known.aspect == demand.aspect) {
                Some(known) => known.exit = demand.exit,
                None => all.push(*demand),
            }
        }
        all
    }

    /// Aspects, by title, in which two nodes ask for the same value.
    pub(super) fn shared(&self, one: &[NodeId], other: &[NodeId]) -> Vec<(String, String)> {
        let others = self.demands(other);
        let same = self.demands(one).into_iter().filter_map(|demand| {
            let alike = others.iter().find(|known| known.aspect == demand.aspect)?;
            let value = [demand.entry, demand.exit]
                .into_iter()
                .find(|value| [alike.entry, alike.exit].contains(value))?;
            let named = &self.named[demand.aspect];
            Some((named.title.clone(), named.values[value].clone()))
        });
        same.collect()
    }

    /// What an order costs, boundary by boundary.
    pub(super) fn cost(&self, order: &[NodeId], parted: u64, times: &ChangeTimes) -> Cost {
        let mut now: Vec<Option<usize>> = self.start();
        let mut changes = Vec::new();
        for node in order {
            for demand in self.demands.get(node).into_iter().flatten() {
                let named = &self.named[demand.aspect];
                let before = now[demand.aspect].replace(demand.exit);
                if before.is_some_and(|before| before != demand.entry) {
                    changes.push(Change {
                        node: *node,
                        inside: false,
                        aspect: named.title.clone(),
                        from: before.map(|before| named.values[before].clone()),
                        to: named.values[demand.entry].clone(),
                        tenths: u64::from(named.cost(before.unwrap_or(demand.entry), demand.entry)),
                    });
                }
            }
            changes.extend(self.inside.get(node).into_iter().flatten().cloned());
        }
        Cost::of(changes, parted, times)
    }
}

/// Index of the aspect and of the value that a demand means; none past what a search can take.
fn value_of(
    asked: &Asked,
    times: &ChangeTimes,
    named: &mut Vec<Named>,
    index_of: &mut BTreeMap<String, usize>,
) -> Option<(usize, usize)> {
    let (title, value, change, start) = match asked {
        Asked::Setup(setup, value) => {
            return (*setup < named.len() && *value < MOST_VALUES).then_some((*setup, *value));
        }
        Asked::Socket(tool) => ("socket", tool.clone(), times.socket, None),
        Asked::Hand(tool) => ("hand tool", tool.clone(), times.hand_tool, None),
        Asked::Torque(tenths) => {
            let words = format!("{} N·m", *tenths as f64 / 10.0);
            ("torque setting", words, times.torque_setting, None)
        }
        Asked::Hoist(rigged) => {
            let value = if *rigged { "rigged" } else { NO_HOIST };
            ("hoist", value.to_owned(), times.hoist, Some(NO_HOIST))
        }
        Asked::Wear(what) => (what.as_str(), "on".to_owned(), times.wear, Some("off")),
    };
    let aspect = match index_of.get(title) {
        Some(aspect) => *aspect,
        None if named.len() == MOST_ASPECTS => return None,
        None => {
            named.push(Named {
                title: title.to_owned(),
                values: start.iter().map(|value| (*value).to_owned()).collect(),
                change,
                back: matches!(asked, Asked::Hoist(_)).then_some(times.hoist_off),
                start: start.map(|_| 0),
                once: matches!(asked, Asked::Wear(_)),
            });
            index_of.insert(title.to_owned(), named.len() - 1);
            named.len() - 1
        }
    };
    let values = &mut named[aspect].values;
    let index = match values.iter().position(|known| *known == value) {
        Some(index) => index,
        None if values.len() == MOST_VALUES => return None,
        None => {
            values.push(value);
            values.len() - 1
        }
    };
    Some((aspect, index))
}

/// What a step asks of the bench, in order.
fn asked(known: &Known, step: &Step, binding: &Binding) -> Vec<Asked> {
    let procedure = known.procedure;
    let mut all = Vec::new();
    let stances = step.setups_at(binding);
    all.extend(stances.map(|stance| Asked::Setup(stance.setup.index(), stance.value)));
    for tool in step.tools_at(binding) {
        let tool = procedure.tool(tool);
        match tool.kind {
            ToolKind::Socket => all.push(Asked::Socket(tool.naming.title.clone())),
            ToolKind::Hoist => all.push(Asked::Hoist(true)),
            // Which wrench it is follows from its setting.
            ToolKind::TorqueWrench => {}
            ToolKind::Spanner | ToolKind::Puller | ToolKind::Measuring | ToolKind::Other => {
                all.push(Asked::Hand(tool.naming.title.clone()));
            }
        }
    }
    if !step.setups.is_empty() && !all.contains(&Asked::Hoist(true)) {
        all.push(Asked::Hoist(false));
    }
    for line in &step.lines {
        match line {
            StepLine::Hazard(hazard, _) => {
                let Some(hazard) = hazard.here(binding) else { continue };
                all.extend(procedure.hazard(*hazard).wear.iter().map(|what| Asked::Wear(what.clone())));
            }
            StepLine::Hold(..) => {}
            StepLine::Act(act) => {
                if let Deed::Fasten {
                    work: FasteningWork::Tighten | FasteningWork::Retighten, what, ..
                } = &act.deed
                {
                    all.extend(what.iter().flat_map(|fastening| torques(known, fastening)));
                }
            }
        }
    }
    all
}

/// The torques that a set or joint is tightened to, first to last.
fn torques(known: &Known, fastening: &Fastening) -> Vec<Asked> {
    let sets: Vec<SetId> = match fastening {
        Fastening::Set(target) => vec![target.id],
        Fastening::Joint(target) => {
            known.procedure.joint(target.id).members.iter().map(|member| member.set.id).collect()
        }
    };
    sets.into_iter()
        .filter_map(|set| known.decisions.torques.everywhere(set)?.passes())
        .flatten()
        .filter_map(|pass| match pass {
            Pass::Torque(torque, _) => Some(Asked::Torque((torque.base() * 10.0).round() as i64)),
            Pass::Angle(..) => None,
        })
        .collect()
}
