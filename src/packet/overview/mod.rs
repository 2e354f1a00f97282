//! The order of a phase as a picture: steps in layers, each below all that must come before it, with only the links
//! that no others imply. One drawing for the packet, an SVG for the screen, GraphML and a table for programs.

mod layers;
mod links;
mod svg;

pub(crate) use links::{graphml, links_csv};
pub(crate) use svg::svg;

use std::collections::BTreeMap;

use super::bench::{Bench, Material, capital_phase};
use crate::network::{Link, NodeId, Reason};
use crate::plan::{PlannedStep, Standing, reason_words};
use crate::procedure::model::Phase;
use crate::sequence::{Acyclic, Precedence, redundant_edges};
use crate::sheet::{Block, Drawing, Figure, OrderDrawing, OrderNode, Sheet, SheetKind, StepName, Text};

/// Kinds of reason, gravest first: where a link has several, the first of them names it.
pub(super) const KINDS: [&str; 4] = [
    "a fact: under, held by, within",
    "a condition: state, reading, temporary",
    "joint rule",
    "the author says so",
];

/// Index into [`KINDS`].
pub(super) fn kind_of(reason: Reason) -> usize {
    match reason {
        Reason::Under
        | Reason::HeldBy
        | Reason::Within
        | Reason::Itself
        | Reason::Releases
        | Reason::Errand => 0,
        Reason::Supported
        | Reason::Steady
        | Reason::Needs
        | Reason::Temporary
        | Reason::Reading
        | Reason::Question
        | Reason::Clean
        | Reason::Ledger => 1,
        Reason::Rule(_) => 2,
        Reason::Stated | Reason::StraightAfter | Reason::Reopened => 3,
    }
}

/// The steps of a phase that are done in this job, and the links between them that no others imply.
pub(crate) struct Picture<'b> {
    /// Title of the phase.
    pub(super) title: String,
    /// The nodes.
    pub(super) nodes: Vec<StepName>,
    /// The steps of each node, with their ids and titles: several for a block.
    pub(super) steps: Vec<Vec<(&'b PlannedStep, [String; 2])>>,
    /// Links: from, to, kind, reason in words.
    pub(super) links: Vec<(usize, usize, usize, String)>,
}

/// The picture of a phase.
pub(super) fn picture<'b>(bench: &'b Bench) -> Picture<'b> {
    // Places of the order with a step that is done in this job.
    let mut members: BTreeMap<usize, Vec<&PlannedStep>> = BTreeMap::new();
    let place_of: BTreeMap<NodeId, usize> =
        bench.plan.order.iter().enumerate().map(|(place, node)| (*node, place)).collect();
    for step in bench.plan.steps.iter().filter(|step| step.standing != Standing::Absent) {
        let Some(place) = place_of.get(&step.node).copied() else { continue };
        members.entry(place).or_default().push(step);
    }
    let visible: Vec<usize> = members.keys().copied().collect();
    let index: BTreeMap<usize, usize> = visible.iter().enumerate().map(|(at, place)| (*place, at)).collect();
    let edges = between(&bench.plan.edges, bench.plan.order.len(), &index);
    let nodes = members
        .iter()
        .map(|(place, steps)| {
            let (from, to) = (number(steps[0]), number(steps[steps.len() - 1]));
            let number = if from == to { from } else { format!("{from}–{to}") };
            let node = &bench.network.nodes[bench.plan.order[*place].index()];
            match node.group {
                Some(group) => {
                    let title = bench.procedure.group(group).naming.title.clone();
                    StepName { number, title, position: String::new() }
                }
                None => StepName {
                    number,
                    title: bench.step(steps[0]).naming.title.clone(),
                    position: bench.position(steps[0]),
                },
            }
        })
        .collect();
    // Of several links between two places the one of the weightiest kind, the first of those.
    let mut best: BTreeMap<(NodeId, NodeId), &Link> = BTreeMap::new();
    for link in &bench.network.links {
        let kept = best.entry((link.from, link.to)).or_insert(link);
        if kind_of(link.reason) < kind_of(kept.reason) {
            *kept = link;
        }
    }
    let links = edges
        .into_iter()
        .map(|(from, to)| {
            let ends = (bench.plan.order[visible[from]], bench.plan.order[visible[to]]);
            match best.get(&ends) {
                Some(link) => {
                    (from, to, kind_of(link.reason), reason_words(bench.procedure, bench.network, link))
                }
                None => (from, to, 3, "through a step that this job leaves out".to_owned()),
            }
        })
        .collect();
    let named = |step: &PlannedStep| [step.key.id(bench.procedure), bench.step_title(step)];
    Picture {
        title: format!("{}: order of the {}", bench.family_title(), bench.phase.word()),
        nodes,
        steps: members
            .into_values()
            .map(|steps| steps.into_iter().map(|step| (step, named(step))).collect())
            .collect(),
        links,
    }
}

/// The number of a step on its sheet.
fn number(step: &PlannedStep) -> String {
    step.number.map(|number| number.to_string()).unwrap_or_default()
}

/// Links between visible places, through hidden ones too, reduced again.
fn between(edges: &[(usize, usize)], places: usize, index: &BTreeMap<usize, usize>) -> Vec<(usize, usize)> {
    let mut after: Vec<Vec<usize>> = vec![Vec::new(); places];
    for (from, to) in edges {
        after[*from].push(*to);
    }
    let mut pairs = Vec::new();
    // The visible place from which a place was last seen.
    let mut seen: Vec<Option<usize>> = vec![None; places];
    for (place, from) in index {
        let mut waiting = after[*place].clone();
        while let Some(next) = waiting.pop() {
            if seen[next].replace(*from) == Some(*from) {
                continue;
            }
            match index.get(&next) {
                Some(to) => pairs.push((*from, *to)),
                None => waiting.extend(&after[next]),
            }
        }
    }
    let graph = Precedence::new(index.len(), pairs);
    let Ok(acyclic) = Acyclic::new(graph.clone()) else { return graph.edges().to_vec() };
    let redundant = redundant_edges(&acyclic);
    graph.edges().iter().copied().filter(|edge| redundant.binary_search(edge).is_err()).collect()
}

/// The picture of a phase, for the screen or for programs.
pub(crate) fn picture_of<T>(material: &Material, phase: Phase, draw: impl FnOnce(&Picture) -> T) -> T {
    let bench = Bench::new(material, phase, false);
    draw(&picture(&bench))
}

/// The overview sheet; none for a phase without steps.
pub(super) fn overview(bench: &Bench) -> Vec<Sheet> {
    let picture = picture(bench);
    if picture.nodes.is_empty() {
        return Vec::new();
    }
    let pairs: Vec<(usize, usize)> = picture.links.iter().map(|(from, to, _, _)| (*from, *to)).collect();
    let places = layers::places(picture.nodes.len(), &pairs);
    let nodes = picture
        .nodes
        .iter()
        .zip(&picture.steps)
        .zip(places)
        .map(|((node, steps), (layer, place))| OrderNode {
            step: node.clone(),
            layer,
            place,
            anchor: Some(bench.anchor(steps[0].0)),
        })
        .collect();
    let drawing = OrderDrawing {
        nodes,
        links: picture.links.iter().map(|(from, to, kind, _)| (*from, *to, *kind)).collect(),
        kinds: KINDS.iter().map(|kind| (*kind).to_owned()).collect(),
    };
    let figure = Figure {
        caption: Text::plain(
            "A step stands below everything that must come before it. Steps that don't wait for each other, even \
             through others, may be worked in either order.",
        ),
        alternative: format!(
            "The {} steps of the {} in layers from top to bottom, with {} links.",
            picture.nodes.len(),
            bench.phase.word(),
            picture.links.len()
        ),
        drawing: Drawing::Order(drawing),
    };
    vec![Sheet::new(
        SheetKind::Overview,
        "Overview of the order",
        format!("{}: what must come before what", capital_phase(bench.phase)),
        vec![Block::Figure(figure)],
    )]
}
