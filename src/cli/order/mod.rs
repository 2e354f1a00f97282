//! `order`: the steps of a phase in the order in which they are worked, with what each comes after.

mod cost;
mod hands;

use std::collections::BTreeMap;
use std::path::PathBuf;
use std::process::ExitCode;

use clap::{Args, ValueEnum};
use serde::Serialize;

use super::phases::{PhaseName, when};
use super::prepared::{Prepared, prepare};
use super::{errors, output};
use crate::cli::wrong_use::whole;
use crate::network::NodeId;
use crate::plan::{ChangeTimes, Choosing, PhasePlan, PlannedStep, Standing, line_of, reason_words, step_of};
use crate::workshop::Request;
use cost::ChoiceReport;

/// Show the order of work, and what each step comes after
#[derive(Debug, Args)]
pub(super) struct Order {
    /// The procedure; or the record of a job, which names it
    #[arg(value_name = "PROCEDURE")]
    path: PathBuf,
    /// The phase
    #[arg(long, value_enum, default_value_t = PhaseName::Strip)]
    phase: PhaseName,
    /// Keep the author's order
    #[arg(long)]
    as_written: bool,
    /// What parting two of the author's neighbours must save, in seconds
    #[arg(long, value_name = "SECONDS", default_value_t = 20, allow_negative_numbers = true, value_parser = whole::<u32>(0, 3600))]
    parting: u32,
    /// Show instead how so many people share the work
    #[arg(long, value_name = "PEOPLE", allow_negative_numbers = true, value_parser = whole::<u32>(1, 4))]
    hands: Option<u32>,
    /// The record of the job; without it every question is open
    #[arg(long, value_name = "JOB.yaml")]
    job: Option<PathBuf>,
    /// The shop's own file, for what changes at its bench take; else the one that the record names
    #[arg(long, value_name = "CRIB.yaml")]
    crib: Option<PathBuf>,
    /// List every change at the bench and what it takes
    #[arg(long)]
    changes: bool,
    /// Form of the list
    #[arg(long, value_enum, default_value_t = ListFormat::Text)]
    format: ListFormat,
}

/// Forms of a list.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(super) enum ListFormat {
    /// For reading
    Text,
    /// For programs
    Json,
}

/// The whole list, for programs.
#[derive(Serialize)]
struct OrderList {
    /// What the order costs, and how it was chosen; none for a phase without steps.
    choice: Option<ChoiceReport>,
    steps: Vec<OrderStep>,
}

/// A step, for programs.
#[derive(Serialize)]
struct OrderStep {
    id: String,
    title: String,
    /// Answers under which it is done; none if always.
    when: Option<String>,
    /// Steps that must come before it, those that others imply left out.
    after: Vec<String>,
    /// As the sheets count; none for a step that the answers leave out.
    number: Option<usize>,
    /// Where it stands in the job, if it isn't simply to be done.
    standing: Option<&'static str>,
    /// Places at which it is done already, where it isn't done at all of them.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    done_at: Vec<String>,
    /// What it waits for, in words.
    waits_for: Vec<String>,
    /// Steps that wait and come before it in every order, the nearest on each way.
    not_before: Vec<String>,
    section: Option<String>,
    reasons: Vec<OrderReason>,
    /// First and last place it can take; steps of a block count as one place.
    earliest: usize,
    latest: usize,
}

/// Why a step comes after another, for programs.
#[derive(Serialize)]
struct OrderReason {
    after: String,
    kind: &'static str,
    why: String,
    at: String,
}

impl Order {
    pub(super) fn run(&self) -> ExitCode {
        let times = ChangeTimes { parting: self.parting * 10, ..ChangeTimes::PLANNING };
        let choosing = Choosing { as_written: self.as_written, times };
        let phase = self.phase.phase();
        let request = Request {
            record: self.job.as_deref(),
            crib: self.crib.as_deref(),
            choosing,
            last: &|_, _| phase,
            ..Request::of(&self.path)
        };
        let prepared = match prepare(&request) {
            Ok(prepared) => prepared,
            Err(code) => return code,
        };
        if let Some(count) = self.hands {
            let crew = match prepared.crew(phase, count) {
                Ok(crew) => crew,
                Err(step) => return output::refuse(&errors::too_few_hands(&step, count)),
            };
            let report = crew.map(|crew| hands::report(&prepared, phase, &crew));
            match self.format {
                ListFormat::Json => output::print_json(&report),
                ListFormat::Text => {
                    output::print(&report.map(|report| hands::text(&report)).unwrap_or_default());
                }
            }
            return ExitCode::SUCCESS;
        }
        let plan = prepared.plan.phase(phase);
        let steps = plan.map(|plan| steps(&prepared, plan)).unwrap_or_default();
        let choice = plan.and_then(|plan| cost::report(&prepared, plan));
        match self.format {
            ListFormat::Json => output::print_json(&OrderList { choice, steps }),
            ListFormat::Text => {
                let said = choice.map(|choice| cost::text(&choice, self.changes)).unwrap_or_default();
                output::print(&format!("{}{said}", text(&steps)));
            }
        }
        ExitCode::SUCCESS
    }
}

fn steps(prepared: &Prepared, plan: &PhasePlan) -> Vec<OrderStep> {
    let place_of: BTreeMap<NodeId, usize> =
        plan.order.iter().enumerate().map(|(at, node)| (*node, at)).collect();
    // The steps of a block stand one after the other, so a node has a first and a last one.
    let last_of: BTreeMap<NodeId, &PlannedStep> = plan.steps.iter().map(|step| (step.node, step)).collect();
    let id = |step: &PlannedStep| step.key.id(&prepared.procedure);
    let mut before: Vec<Vec<usize>> = vec![Vec::new(); plan.order.len()];
    for (from, to) in &plan.edges {
        before[*to].push(*from);
    }
    plan.steps
        .iter()
        .enumerate()
        .map(|(index, step)| {
            let after: Vec<String> = if step.member > 0 {
                vec![id(&plan.steps[index - 1])]
            } else {
                let before =
                    place_of.get(&step.node).map(|place| before[*place].as_slice()).unwrap_or_default();
                let last = before.iter().filter_map(|from| last_of.get(&plan.order[*from]));
                last.map(|step| id(step)).collect()
            };
            order_step(prepared, plan, step, after)
        })
        .collect()
}

fn order_step(prepared: &Prepared, plan: &PhasePlan, step: &PlannedStep, after: Vec<String>) -> OrderStep {
    let written = step_of(&prepared.procedure, &prepared.network, step.source);
    let reasons = step
        .reasons
        .iter()
        .map(|reasoned| {
            let link = &prepared.network.links[reasoned.link];
            OrderReason {
                after: prepared.network.nodes[plan.order[reasoned.from].index()].id(&prepared.procedure),
                kind: link.reason.word(),
                why: reason_words(&prepared.procedure, &prepared.network, link),
                at: line_of(prepared.sources(), link.fact),
            }
        })
        .collect();
    OrderStep {
        id: step.key.id(&prepared.procedure),
        title: written.naming.title.clone(),
        when: when(prepared, step),
        after,
        number: step.number,
        standing: match step.standing {
            Standing::Done => Some("done"),
            Standing::NotDone(_) => Some("not done"),
            Standing::Held(_) => Some("waits"),
            Standing::Present | Standing::Absent => None,
        },
        done_at: prepared.decisions.done_places(&prepared.procedure, &step.key),
        waits_for: step.standing.waits(),
        not_before: step.waits_for.iter().map(|at| plan.steps[*at].key.id(&prepared.procedure)).collect(),
        section: written.section.map(|section| prepared.procedure.section(section).naming.id.clone()),
        reasons,
        earliest: step.window.earliest,
        latest: step.window.latest,
    }
}

fn text(steps: &[OrderStep]) -> String {
    let mut out = String::new();
    let number_of: BTreeMap<&str, usize> =
        steps.iter().filter_map(|step| Some((step.id.as_str(), step.number?))).collect();
    for step in steps {
        let numbers = step.after.iter().filter_map(|id| number_of.get(id.as_str()).copied());
        // Steps that share a number are one piece of work.
        let after: Vec<String> =
            numbers.filter(|number| Some(*number) != step.number).map(|number| number.to_string()).collect();
        let after = if after.is_empty() { String::new() } else { format!("  after {}", after.join(", ")) };
        let when = step.when.as_ref().map(|when| format!("  when {when}")).unwrap_or_default();
        let number = step.number.map_or_else(|| "–".to_owned(), |number| number.to_string());
        let standing = step.standing.map(|standing| format!("  {standing}")).unwrap_or_default();
        let done_at = if step.done_at.is_empty() {
            String::new()
        } else {
            format!("  done already at {}", step.done_at.join(", "))
        };
        out += &format!("{number:>4}  {}  ({}){standing}{done_at}{after}{when}\n", step.title, step.id);
        if !step.waits_for.is_empty() {
            out += &format!("      waits for {}\n", step.waits_for.join("; "));
        }
    }
    out
}
