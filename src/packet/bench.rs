//! What every sheet is made from, and the questions that several sheets ask of it.

use std::collections::BTreeMap;
use std::sync::OnceLock;

use super::sources::Sources as Origins;
use crate::decide::Decisions;
use crate::english::in_runs;
use crate::network::{Network, NodeId, QuestionKind, StepSource};
use crate::plan::{
    Hold, HoldCause, PhasePlan, Placed, PlacedKind, Plan, PlannedAct, PlannedLine, PlannedStep, Standing,
    pieces, step_of,
};
use crate::procedure::clamping::Added;
use crate::procedure::model::{
    AxisId, Deed, LiftWork, PartId, PartWork, Phase, Place, Procedure, Step, StepKey, View,
};
use crate::record::{Crib, Date, Job};
use crate::sheet::{Anchor, JointWhole, Text};
use crate::source::Sources;

/// Two gears that meet, and the mark at which they do.
pub(super) type Meeting<'p> = (PartId, PartId, &'p str);

/// Numbers of steps that a list tells: of a longer row the first show where to look. Our own choice, no source.
const NUMBERS_TOLD: usize = 8;
/// The same in a narrow column.
const FEW_TOLD: usize = 3;

/// The shop that does the job.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Shop {
    /// Its own file.
    pub crib: Crib,
    /// The day for which calibrations are judged; without one it is the last day of the record.
    pub day: Option<Date>,
}

/// Everything that sheets are made from.
#[derive(Debug, Clone, Copy)]
pub struct Material<'a> {
    /// The texts, for line numbers.
    pub sources: &'a Sources,
    /// The engine family.
    pub procedure: &'a Procedure,
    /// Its acts and links.
    pub network: &'a Network,
    /// What the job has decided.
    pub decisions: &'a Decisions,
    /// The plan made of these.
    pub plan: &'a Plan,
    /// The record of the job; an empty one where there is none.
    pub job: &'a Job,
    /// The shop, where its crib was given.
    pub shop: Option<&'a Shop>,
    /// Ids of steps that are done and that the procedure has changed since.
    pub touched: &'a [StepKey],
}

/// The material of one phase with what is looked up often.
pub(super) struct Bench<'a> {
    pub(super) material: &'a Material<'a>,
    pub(super) procedure: &'a Procedure,
    pub(super) network: &'a Network,
    pub(super) phase: Phase,
    /// The plan of the phase; empty if the procedure has no step for it.
    pub(super) plan: PhasePlan,
    /// Steps that are printed in one block, by index into the plan's steps; most stand alone.
    pub(super) blocks: Vec<Vec<usize>>,
    /// For each step that is printed, the first of its block.
    pub(super) firsts: BTreeMap<StepKey, usize>,
    /// Whether steps that are done are printed too.
    pub(super) all: bool,
    /// Whether a step that is done is told by its title alone, because a sheet of results tells what it found.
    pub(super) in_brief: bool,
    /// Whether the STOP card is printed with the steps, which then leave to it what stops the engine.
    pub(super) stop_card: bool,
    /// For how many pairs of hands a schedule is printed.
    pub(super) hands: Option<u32>,
    /// Numbers of the rack places for what goes back in its own place.
    pub(super) racks: BTreeMap<(PartId, Place), usize>,
    /// The letters of where torques come from.
    pub(super) origins: Origins,
    /// Gears that run in each other.
    pub(super) meetings: Vec<Meeting<'a>>,
    /// Joints with the most that any packet shows of them, once somebody asks.
    pub(super) wholes: OnceLock<BTreeMap<String, JointWhole>>,
}

impl<'a> Bench<'a> {
    pub(super) fn new(material: &'a Material<'a>, phase: Phase, all: bool) -> Bench<'a> {
        let empty = PhasePlan {
            phase,
            order: Vec::new(),
            edges: Vec::new(),
            steps: Vec::new(),
            before: Vec::new(),
            choice: None,
        };
        let plan = material.plan.phase(phase).cloned().unwrap_or(empty);
        let procedure = material.procedure;
        let mut racks = BTreeMap::new();
        for (id, part) in procedure.parts.numbered().filter(|(_, part)| part.worn_in) {
            for place in procedure.places(&part.axes) {
                let number = racks.len() + 1;
                racks.insert((id, place), number);
            }
        }
        let blocks = blocks(&plan, all);
        let firsts = blocks
            .iter()
            .flat_map(|block| block.iter().map(|at| (plan.steps[*at].key.clone(), block[0])))
            .collect();
        Bench {
            material,
            procedure,
            network: material.network,
            phase,
            plan,
            blocks,
            firsts,
            all,
            in_brief: false,
            stop_card: false,
            hands: None,
            racks,
            origins: Origins::of_torques(procedure, material.decisions),
            meetings: meetings(procedure).collect(),
            wholes: OnceLock::new(),
        }
    }

    /// What the shop adds to what the procedure says of a joint: the torques of its own table.
    pub(super) fn added(&self) -> Added {
        let torques = &self.material.decisions.torques;
        let known =
            self.procedure.sets.ids().filter_map(|id| Some((id, torques.everywhere(id)?.passes()?.to_vec())));
        Added { torques: known.collect(), ..Added::default() }
    }

    /// Steps that the answers leave in: to be done, done or held.
    pub(super) fn steps(&self) -> impl Iterator<Item = &PlannedStep> {
        self.plan.of_the_job()
    }

    /// Steps that are left: to be done or held.
    pub(super) fn left_steps(&self) -> impl Iterator<Item = &PlannedStep> {
        self.plan.left()
    }

    /// Steps that are printed: those still to be done or held, and where all are asked for the others.
    pub(super) fn open_steps(&self) -> impl Iterator<Item = &PlannedStep> {
        self.steps().filter(|step| self.all || step.standing.is_left())
    }

    /// Where links to a step lead: to the block in which it is printed.
    pub(super) fn anchor(&self, step: &PlannedStep) -> Anchor {
        let first = self.firsts.get(&step.key).map_or(step, |at| &self.plan.steps[*at]);
        Anchor(format!("step:{}", first.key.id(self.procedure)))
    }

    /// What a step waits for, leading to the step of this phase that finds it out, if one does.
    pub(super) fn hold_text(&self, hold: &Hold, words: String) -> Text {
        let HoldCause::Question(id) = hold.cause else { return Text::plain(words) };
        let (kind, place) = match self.network.questions[id.0 as usize].kind {
            QuestionKind::Gauge(id, place) => (PlacedKind::Gauge(id), place),
            QuestionKind::Look(id, place) => (PlacedKind::Look(id), place),
            QuestionKind::Ask(_) => return Text::plain(words),
        };
        let finds = |step: &&PlannedStep| {
            self.acts(step)
                .flat_map(|act| &act.things)
                .any(|placed| placed.kind == kind && place.is_none_or(|place| placed.places.contains(&place)))
        };
        match self.open_steps().find(finds) {
            Some(step) => Text::default().and_link(words, self.anchor(step)),
            None => Text::plain(words),
        }
    }

    /// The strip step that a derived step mirrors.
    pub(super) fn mirrored(&self, step: &PlannedStep) -> Option<NodeId> {
        mirrored(self.network, step)
    }

    /// The step as written.
    pub(super) fn step(&self, planned: &PlannedStep) -> &'a Step {
        step_of(self.procedure, self.network, planned.source)
    }

    pub(super) fn family_title(&self) -> String {
        self.procedure.family.as_ref().map(|family| family.naming.title.clone()).unwrap_or_default()
    }

    /// Procedure and edition, for the foot of every sheet.
    pub(super) fn edition_line(&self) -> String {
        let Some(family) = &self.procedure.family else { return String::new() };
        match family.edition {
            Some(edition) => format!("{}, edition {edition}", family.naming.title),
            None => family.naming.title.clone(),
        }
    }

    /// Whether the family is made up.
    pub(super) fn invented(&self) -> bool {
        self.procedure.family.as_ref().is_some_and(|family| family.invented)
    }

    /// What every page says before anything else of the family's data; empty for a real engine.
    pub(super) fn warning(&self) -> String {
        if self.invented() {
            format!("Invented: not a real {}.", self.procedure.whole())
        } else {
            String::new()
        }
    }

    /// The step's title with its position: `Push the piston and rod out: cylinder 2`.
    pub(super) fn step_title(&self, planned: &PlannedStep) -> String {
        let (title, position) = (&self.step(planned).naming.title, self.position(planned));
        if position.is_empty() { title.clone() } else { format!("{title}: {position}") }
    }

    /// Where a step is done: `cylinder 2`; empty for one that is done once.
    pub(super) fn position(&self, planned: &PlannedStep) -> String {
        let places: Vec<String> =
            planned.binding.stated.iter().map(|(axis, at)| self.position_name(*axis, *at)).collect();
        places.join(", ")
    }

    /// How many pieces of work steps are: those of one number count once.
    pub(super) fn pieces<'s>(steps: impl Iterator<Item = &'s PlannedStep>) -> usize {
        pieces(steps)
    }

    /// A position of an axis: `cylinder 2`, `left`.
    pub(super) fn position_name(&self, axis: AxisId, at: u16) -> String {
        let axis = self.procedure.axis(axis);
        let position = axis.positions.get(usize::from(at)).map(String::as_str).unwrap_or_default();
        // A bare number says nothing without the name of what it counts.
        if position.chars().all(|c| c.is_ascii_digit()) {
            format!("{} {position}", crate::plan::words::inner(&axis.naming.title))
        } else {
            position.to_owned()
        }
    }

    /// Steps as numbers that lead to them: `3, 7 and 12`.
    pub(super) fn step_numbers(&self, steps: &[&PlannedStep]) -> Text {
        self.first_numbers(steps, NUMBERS_TOLD)
    }

    /// The same for a narrow column.
    pub(super) fn few_numbers(&self, steps: &[&PlannedStep]) -> Text {
        self.first_numbers(steps, FEW_TOLD)
    }

    /// Three and more that follow each other are told by the first and the last: `6 to 11, 21`.
    fn first_numbers(&self, steps: &[&PlannedStep], most: usize) -> Text {
        let mut steps = steps.to_vec();
        steps.dedup_by_key(|step| step.number);
        let told: Vec<&[&PlannedStep]> = in_runs(&steps, |step| step.number).collect();
        let linked = |text: Text, step: &PlannedStep| {
            let number = step.number.map(|number| number.to_string()).unwrap_or_default();
            text.and_link(number, self.anchor(step))
        };
        let mut text = Text::default();
        for (index, run) in told.iter().enumerate() {
            if index > 0 {
                text = text.and(", ");
            }
            if index == most && told.len() > most + 2 {
                let left: usize = told[index..].iter().map(|run| run.len()).sum();
                return text.and(if most == FEW_TOLD {
                    "…".to_owned()
                } else {
                    format!("and {left} more")
                });
            }
            text = match run {
                [first, .., last] => linked(linked(text, first).and("\u{a0}to\u{a0}"), last),
                few => few.iter().fold(text, |text, step| linked(text, step)),
            };
        }
        text
    }

    /// Acts of a step with the things they are done to.
    pub(super) fn acts<'b>(&self, planned: &'b PlannedStep) -> impl Iterator<Item = &'b PlannedAct> {
        planned.lines.iter().filter_map(|line| match line {
            PlannedLine::Act(act) => Some(act),
            PlannedLine::Hazard(_) | PlannedLine::Hold(_) | PlannedLine::SetUp(..) => None,
        })
    }

    /// Names of places, for tick boxes: `1, inlet`. One without a name for a thing without axes.
    pub(super) fn place_names(&self, placed: &Placed) -> Vec<String> {
        let axes = placed.kind.axes(self.procedure);
        placed.places.iter().map(|place| self.place_name(axes, *place)).collect()
    }

    /// A place as it is printed: `2 inlet`.
    pub(super) fn place_name(&self, axes: &[AxisId], place: Place) -> String {
        self.procedure.place_name(axes, place).replace(", ", " ")
    }

    /// Whether the step supports the part, so that its mass has been told.
    pub(super) fn supported(&self, planned: &PlannedStep, part: PartId) -> bool {
        self.acts(planned).any(|act| {
            matches!(
                act.act.deed,
                Deed::Part { work: PartWork::Support, .. } | Deed::Lift { work: LiftWork::TakeTheWeight, .. }
            ) && act.things.iter().any(|placed| placed.kind == PlacedKind::Part(part))
        })
    }

    /// How the engine lies while a step is done, where a setup says so.
    pub(super) fn lie(&self, planned: &PlannedStep) -> Option<Lie<'a>> {
        planned.setups.iter().find_map(|(id, value)| {
            let setup = self.procedure.setup(*id);
            Some(Lie {
                uppermost: *setup.uppermost.get(*value)?,
                setup: &setup.naming.title,
                value: setup.values.get(*value)?,
            })
        })
    }
}

/// How the engine lies.
#[derive(Debug, Clone, Copy)]
pub(super) struct Lie<'a> {
    /// The face that lies uppermost.
    pub(super) uppermost: View,
    /// Title of the setup that turned it so, for print.
    pub(super) setup: &'a str,
    /// Its value.
    pub(super) value: &'a str,
}

fn mirrored(network: &Network, step: &PlannedStep) -> Option<NodeId> {
    match step.source {
        StepSource::Derived(index) => network.derived[index].mirrors,
        StepSource::Written(_) => None,
    }
}

/// The steps that are printed, those of one number together.
fn blocks(plan: &PhasePlan, all: bool) -> Vec<Vec<usize>> {
    let mut blocks: Vec<Vec<usize>> = Vec::new();
    for (index, step) in plan.steps.iter().enumerate() {
        if step.standing == Standing::Absent || (!step.standing.is_left() && !all) {
            continue;
        }
        match blocks.last_mut() {
            Some(block) if plan.steps[block[0]].number == step.number => block.push(index),
            _ => blocks.push(vec![index]),
        }
    }
    blocks
}

/// The phase with a capital.
pub(super) fn capital_phase(phase: Phase) -> String {
    crate::plan::words::capital(phase.word())
}

/// Every two gears that meet.
fn meetings(procedure: &Procedure) -> impl Iterator<Item = Meeting<'_>> {
    let parts = procedure.parts.numbered();
    parts.flat_map(|(id, part)| part.meshes.iter().map(move |mesh| (id, mesh.gear.id, mesh.mark.as_str())))
}
