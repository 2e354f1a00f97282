//! `why`: what must come before and after a step and why, or what orders two steps.

use std::collections::BTreeMap;
use std::path::PathBuf;
use std::process::ExitCode;

use clap::Args;
use serde::Serialize;

use super::order::ListFormat;
use super::prepared::{Prepared, prepare};
use super::{errors, output};
use crate::network::{Link, Network, Node, NodeId};
use crate::plan::{Bar, PhasePlan, PlannedStep, Shift, line_of, node_title, reason_words, step_of};
use crate::procedure::model::{GroupId, Name, Phase, Procedure, StepKey};
use crate::record::step_key;
use crate::sequence::{Precedence, shortest_path};
use crate::workshop::Request;

/// Say what must come before and after a step, and why
#[derive(Debug, Args)]
pub(super) struct Why {
    /// The procedure; or the record of a job, which names it
    #[arg(value_name = "PROCEDURE")]
    path: PathBuf,
    /// A step, with its position if it has several: `pull_piston[2]`; or its title, or its number in the phase at work
    #[arg(value_name = "STEP")]
    step: String,
    /// Another step: say what orders the two
    #[arg(value_name = "STEP")]
    other: Option<String>,
    /// Form of the answer
    #[arg(long, value_enum, default_value_t = ListFormat::Text)]
    format: ListFormat,
}

/// Where a step stands.
#[derive(Serialize)]
struct StepAnswer {
    step: String,
    title: String,
    phase: &'static str,
    /// Where each of its parts stands in the job; one for a step by itself, none without a record.
    standing: Vec<StandingAnswer>,
    /// What its phase waits for as a whole.
    phase_waits_for: Vec<String>,
    /// Its place, and the first and last it can take; a block takes one place.
    place: usize,
    places: usize,
    earliest: usize,
    latest: usize,
    before: Vec<Neighbour>,
    after: Vec<Neighbour>,
    /// How many steps come before and after it in every order, these neighbours included.
    all_before: usize,
    all_after: usize,
    /// What it would cost to do it elsewhere in the order that was chosen, all else staying.
    earlier: Option<ShiftAnswer>,
    later: Option<ShiftAnswer>,
    /// What is in the way where it can't be done earlier or later by itself.
    not_earlier: Option<String>,
    not_later: Option<String>,
    /// Why it stands at its place and not at another that is allowed.
    stands: &'static str,
}

/// Where a step stands in the job.
#[derive(Serialize)]
struct StandingAnswer {
    step: String,
    /// As the sheets count; none for a step that the answers leave out.
    number: Option<usize>,
    standing: &'static str,
    /// What it waits for itself.
    waits_for: Vec<String>,
    /// Steps that wait and come before it in every order, the nearest on each way.
    not_before: Vec<String>,
}

/// The cheapest other place on one side.
#[derive(Serialize)]
struct ShiftAnswer {
    /// How many places away.
    places: usize,
    /// Extra seconds at the bench.
    extra: f64,
}

/// A step next to another with the reasons.
#[derive(Serialize)]
struct Neighbour {
    step: String,
    title: String,
    reasons: Vec<ReasonAnswer>,
}

/// A reason and where it is said.
#[derive(Serialize)]
struct ReasonAnswer {
    kind: &'static str,
    why: String,
    at: String,
}

/// What orders two steps.
#[derive(Serialize)]
struct PairAnswer {
    first: String,
    then: String,
    /// Whether the first comes before the other in every order.
    ordered: bool,
    /// Each step with the reasons why the next comes after it.
    chain: Vec<Neighbour>,
}

impl Why {
    /// The last phase that a step asked about belongs to; the last of all where a name isn't known as it stands.
    fn last_phase(&self, procedure: &Procedure, network: &Network) -> Phase {
        let phase_of = |name: &str| {
            let asked = Asked::read(procedure, name)?;
            let has = |id: &NodeId| asked.is(&network.nodes[id.index()]);
            network.orders.iter().find(|(_, order)| order.iter().any(has)).map(|(phase, _)| *phase)
        };
        let names = std::iter::once(&self.step).chain(&self.other);
        names.map(|name| phase_of(name).unwrap_or(Phase::Start)).max().unwrap_or(Phase::Start)
    }

    pub(super) fn run(&self) -> ExitCode {
        let last = |procedure: &Procedure, network: &Network| self.last_phase(procedure, network);
        let prepared = match prepare(&Request { last: &last, ..Request::of(&self.path) }) {
            Ok(prepared) => prepared,
            Err(code) => return code,
        };
        let one = match find(&prepared, &self.step) {
            Ok(found) => found,
            Err(code) => return code,
        };
        let Some(other) = &self.other else {
            let answer = about(&prepared, one);
            match self.format {
                ListFormat::Json => output::print_json(&answer),
                ListFormat::Text => output::print(&answer_text(&answer)),
            }
            return ExitCode::SUCCESS;
        };
        let other = match find(&prepared, other) {
            Ok(found) => found,
            Err(code) => return code,
        };
        let answer = between(&prepared, one, other);
        match self.format {
            ListFormat::Json => output::print_json(&answer),
            ListFormat::Text => output::print(&pair_text(&answer)),
        }
        ExitCode::SUCCESS
    }
}

/// A node with the plan of its phase and its place there.
#[derive(Clone, Copy)]
struct Found<'a> {
    plan: &'a PhasePlan,
    place: usize,
}

/// What a name on the command line means.
enum Asked {
    Step(StepKey),
    Group(GroupId),
}

impl Asked {
    fn read(procedure: &Procedure, name: &str) -> Option<Asked> {
        match procedure.names.get(name.trim()) {
            Some(Name::Group(group)) => Some(Asked::Group(*group)),
            _ => step_key(procedure, name).map(Asked::Step),
        }
    }

    /// Whether a node is it, or has it in it.
    fn is(&self, node: &Node) -> bool {
        match self {
            Asked::Group(group) => node.group == Some(*group),
            Asked::Step(key) => node.members.iter().any(|member| member.key == *key),
        }
    }
}

/// The node that a name on the command line means.
fn find<'a>(prepared: &'a Prepared, name: &str) -> Result<Found<'a>, ExitCode> {
    let procedure = &prepared.procedure;
    let asked = Asked::read(procedure, name);
    let mut positions = Vec::new();
    let mut known = Vec::new();
    for plan in &prepared.plan.phases {
        for (place, node) in plan.order.iter().enumerate() {
            let node = &prepared.network.nodes[node.index()];
            if asked.as_ref().is_some_and(|asked| asked.is(node)) {
                return Ok(Found { plan, place });
            }
            let keys = node.members.iter().map(|member| &member.key);
            if let Some(Asked::Step(asked)) = &asked {
                positions.extend(keys.clone().filter(|key| key.repeats(asked)).map(|key| key.id(procedure)));
            }
            known.push(node.id(procedure));
            known.extend(keys.map(|key| key.id(procedure)));
        }
    }
    if let Some(found) = by_number_or_title(prepared, name) {
        return Ok(found);
    }
    let complaint = if positions.is_empty() {
        errors::unknown_step(name, crate::diagnostics::nearest(name, known.iter().map(String::as_str)))
    } else {
        errors::which_step(name, &positions)
    };
    Err(output::refuse(&complaint))
}

/// The one step that is meant by its number in the phase at work, or by its title.
fn by_number_or_title<'a>(prepared: &'a Prepared, name: &str) -> Option<Found<'a>> {
    let place = |plan: &PhasePlan, node: NodeId| plan.order.iter().position(|known| *known == node);
    if let Ok(number) = name.trim().parse::<usize>() {
        let plan = prepared.plan.at_work()?;
        let step = plan.steps.iter().find(|step| step.number == Some(number))?;
        return Some(Found { plan, place: place(plan, step.node)? });
    }
    let titled = |step: &PlannedStep| {
        let title = &step_of(&prepared.procedure, &prepared.network, step.source).naming.title;
        title.to_lowercase() == name.trim().to_lowercase()
    };
    let mut found = prepared.plan.steps().filter(|(_, step)| titled(step));
    let (plan, step) = found.next()?;
    found.all(|(_, other)| other.node == step.node).then_some(())?;
    Some(Found { plan, place: place(plan, step.node)? })
}

/// Links of a phase by the places they join.
fn links<'a>(prepared: &'a Prepared, plan: &PhasePlan) -> BTreeMap<(usize, usize), Vec<&'a Link>> {
    let places: BTreeMap<NodeId, usize> =
        plan.order.iter().enumerate().map(|(at, node)| (*node, at)).collect();
    let mut found: BTreeMap<(usize, usize), Vec<&Link>> = BTreeMap::new();
    for link in &prepared.network.links {
        if let (Some(from), Some(to)) = (places.get(&link.from), places.get(&link.to)) {
            found.entry((*from, *to)).or_default().push(link);
        }
    }
    found
}

fn reasons(prepared: &Prepared, links: &[&Link]) -> Vec<ReasonAnswer> {
    let mut found: Vec<ReasonAnswer> = Vec::new();
    for link in links {
        let reason = ReasonAnswer {
            kind: link.reason.word(),
            why: reason_words(&prepared.procedure, &prepared.network, link),
            at: line_of(prepared.sources(), link.fact),
        };
        if !found.iter().any(|known| known.why == reason.why && known.at == reason.at) {
            found.push(reason);
        }
    }
    found
}

fn name_of(prepared: &Prepared, plan: &PhasePlan, place: usize) -> (String, String) {
    let node = &prepared.network.nodes[plan.order[place].index()];
    (node.id(&prepared.procedure), node_title(&prepared.procedure, &prepared.network, node))
}

fn about(prepared: &Prepared, found: Found) -> StepAnswer {
    let Found { plan, place } = found;
    let links = links(prepared, plan);
    let neighbour = |edge: (usize, usize), there: usize| {
        let (step, title) = name_of(prepared, plan, there);
        let links = links.get(&edge).map(Vec::as_slice).unwrap_or_default();
        Neighbour { step, title, reasons: reasons(prepared, links) }
    };
    let before =
        plan.edges.iter().filter(|(_, to)| *to == place).map(|edge| neighbour(*edge, edge.0)).collect();
    let after =
        plan.edges.iter().filter(|(from, _)| *from == place).map(|edge| neighbour(*edge, edge.1)).collect();
    let window = plan.steps.iter().find(|step| step.node == plan.order[place]).map(|step| step.window);
    let (earliest, latest) = window.map_or((1, plan.order.len()), |window| (window.earliest, window.latest));
    let (step, title) = name_of(prepared, plan, place);
    let node = plan.order[place];
    let (earlier, later) =
        plan.choice.as_ref().map_or((Err(Bar::End), Err(Bar::End)), |choice| choice.shifts(node));
    let moved =
        plan.choice.as_ref().is_some_and(|choice| choice.moved.iter().any(|moved| moved.node == node));
    let stands = if earliest == latest {
        "where every order has it"
    } else if moved {
        "where it saves changes at the bench"
    } else {
        "where the author put it"
    };
    let shift = |shift: Result<Shift, Bar>| {
        shift.ok().map(|shift| ShiftAnswer { places: shift.places, extra: shift.extra as f64 / 10.0 })
    };
    let barred = |shift: Result<Shift, Bar>, later: bool| {
        let title = |node: NodeId| {
            node_title(&prepared.procedure, &prepared.network, &prepared.network.nodes[node.index()])
        };
        shift.err().map(|bar| match (bar, later) {
            (Bar::Node(node), false) => format!("“{}”, right before it, has to come first", title(node)),
            (Bar::Node(node), true) => format!("“{}”, right behind it, waits for it", title(node)),
            (Bar::Section, false) => "its section begins with it".to_owned(),
            (Bar::Section, true) => "its section ends with it".to_owned(),
            (Bar::End, false) => format!("the {} begins with it", plan.phase.word()),
            (Bar::End, true) => format!("the {} ends with it", plan.phase.word()),
        })
    };
    let own = plan.steps.iter().filter(|planned| planned.node == node);
    // Of a procedure alone nothing stands anywhere yet.
    let of_a_job = prepared.decisions.of_a_job;
    let phase_waits = plan.before.iter().filter(|_| of_a_job);
    let standing = own.map(|planned| StandingAnswer {
        step: planned.key.id(&prepared.procedure),
        number: planned.number,
        standing: planned.standing.word(),
        waits_for: planned.standing.waits(),
        not_before: planned.waits_for.iter().map(|at| plan.steps[*at].key.id(&prepared.procedure)).collect(),
    });
    StepAnswer {
        step,
        title,
        phase: plan.phase.word(),
        standing: standing.filter(|_| of_a_job).collect(),
        phase_waits_for: phase_waits.map(|before| before.words()).collect(),
        place: place + 1,
        places: plan.order.len(),
        earliest,
        latest,
        before,
        after,
        all_before: earliest - 1,
        all_after: plan.order.len() - latest,
        earlier: shift(earlier),
        later: shift(later),
        not_earlier: barred(earlier, false),
        not_later: barred(later, true),
        stands,
    }
}

fn between(prepared: &Prepared, one: Found, other: Found) -> PairAnswer {
    let name = |found: Found| name_of(prepared, found.plan, found.place).0;
    if one.plan.phase != other.plan.phase {
        // Each phase starts where the last ended.
        let (first, then) = if one.plan.phase < other.plan.phase { (one, other) } else { (other, one) };
        let (step, title) = name_of(prepared, first.plan, first.place);
        let why = format!("the {} comes before the {}", first.plan.phase.word(), then.plan.phase.word());
        let reason = ReasonAnswer { kind: "phase", why, at: String::new() };
        let (last, last_title) = name_of(prepared, then.plan, then.place);
        return PairAnswer {
            first: step.clone(),
            then: last.clone(),
            ordered: true,
            chain: vec![
                Neighbour { step, title, reasons: vec![reason] },
                Neighbour { step: last, title: last_title, reasons: Vec::new() },
            ],
        };
    }
    let plan = one.plan;
    let links = links(prepared, plan);
    let graph = Precedence::new(plan.order.len(), links.keys().copied());
    let forwards = shortest_path(&graph, one.place, other.place);
    let (first, then, path) = match forwards {
        Some(path) => (one, other, path),
        None => match shortest_path(&graph, other.place, one.place) {
            Some(path) => (other, one, path),
            None => (one, other, Vec::new()),
        },
    };
    let chain = path
        .iter()
        .enumerate()
        .map(|(at, place)| {
            let (step, title) = name_of(prepared, plan, *place);
            let links = path.get(at + 1).and_then(|next| links.get(&(*place, *next)));
            let reasons = reasons(prepared, links.map(Vec::as_slice).unwrap_or_default());
            Neighbour { step, title, reasons }
        })
        .collect();
    PairAnswer { first: name(first), then: name(then), ordered: !path.is_empty(), chain }
}

fn reason_line(reason: &ReasonAnswer) -> String {
    if reason.at.is_empty() {
        format!("    {}\n", reason.why)
    } else {
        format!("    {} ({})\n", reason.why, reason.at)
    }
}

fn neighbours(out: &mut String, heading: &str, neighbours: &[Neighbour], all: usize) {
    if neighbours.is_empty() {
        *out += &format!("\nNothing has to come {heading} it.\n");
        return;
    }
    *out += &format!("\nDirectly {heading} it:\n");
    for neighbour in neighbours {
        *out += &format!("  {}  {}\n", neighbour.step, neighbour.title);
        for reason in &neighbour.reasons {
            *out += &reason_line(reason);
        }
    }
    let more = all.saturating_sub(neighbours.len());
    if more > 0 {
        *out += &format!("  and through these {more} more\n");
    }
}

fn answer_text(answer: &StepAnswer) -> String {
    let mut out = format!("{}  {}\n", answer.step, answer.title);
    out += &format!(
        "{}, place {} of {}; {}\n",
        answer.phase,
        answer.place,
        answer.places,
        if answer.earliest == answer.latest {
            "what must come before and after it leaves no other".to_owned()
        } else {
            format!(
                "what must come before and after it leaves it places {} to {}",
                answer.earliest, answer.latest
            )
        }
    );
    out += &format!("It stands {}.\n", answer.stands);
    for part in &answer.standing {
        out += &standing_line(part, answer.standing.len() > 1);
    }
    for wait in &answer.phase_waits_for {
        out += &format!("The {} is not begun before this: {wait}\n", answer.phase);
    }
    out += &shift_line("earlier", answer.earlier.as_ref(), answer.not_earlier.as_ref());
    out += &shift_line("later", answer.later.as_ref(), answer.not_later.as_ref());
    neighbours(&mut out, "before", &answer.before, answer.all_before);
    neighbours(&mut out, "after", &answer.after, answer.all_after);
    out
}

/// Where a step stands in the job, named where it is one of several.
fn standing_line(part: &StandingAnswer, several: bool) -> String {
    let whose = if several { format!("`{}`: ", part.step) } else { String::new() };
    let number = part.number.map(|number| format!("step {number} on the sheets, ")).unwrap_or_default();
    let waits =
        if part.waits_for.is_empty() { String::new() } else { format!(" for {}", part.waits_for.join("; ")) };
    let before = if part.not_before.is_empty() {
        String::new()
    } else {
        format!("; not before {}, held itself", part.not_before.join(", "))
    };
    format!("In this job: {whose}{number}{}{waits}{before}.\n", part.standing)
}

fn shift_line(side: &str, shift: Option<&ShiftAnswer>, barred: Option<&String>) -> String {
    match shift {
        None => {
            let barred = barred.map(|barred| format!(": {barred}")).unwrap_or_default();
            format!("It can't be done {side} by itself{barred}.\n")
        }
        Some(ShiftAnswer { places, extra }) => {
            let places = if *places == 1 { "one place".to_owned() } else { format!("{places} places") };
            format!("Done {places} {side}, it would cost {extra} s more at the bench.\n")
        }
    }
}

fn pair_text(answer: &PairAnswer) -> String {
    if answer.first == answer.then {
        return format!("`{}` is one step of the order: nothing comes between its parts.\n", answer.first);
    }
    if !answer.ordered {
        return format!("Nothing orders `{}` and `{}`: either may come first.\n", answer.first, answer.then);
    }
    let mut out = format!("`{}` comes before `{}`:\n", answer.first, answer.then);
    for neighbour in &answer.chain {
        out += &format!("  {}  {}\n", neighbour.step, neighbour.title);
        for reason in &neighbour.reasons {
            out += &reason_line(reason);
        }
    }
    out
}
