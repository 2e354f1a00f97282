//! `next`: what can be done on a job now, what waits for what, and what to measure, fetch, order and ask today.

use std::path::{Path, PathBuf};
use std::process::ExitCode;

use clap::Args;

use super::calendar::calendar;
use super::output;
use super::packet::day;
use super::prepared::prepare;
use crate::decide::{Asked, Finding, OrderLine, machine_shop_order, order_list};
use crate::english::counted;
use crate::plan::{PhasePlan, PlannedStep, can_be_done, pieces, step_of};
use crate::record::Date;
use crate::source::{Disk, Files, days_since_1970};
use crate::workshop::{JobView, Request, is_record};

/// Lines of each list that are told.
const TOLD: usize = 12;

/// What can be done on a job now, and what waits for what
#[derive(Debug, Args)]
pub(super) struct Next {
    /// The record of the job
    #[arg(value_name = "JOB.yaml")]
    job: PathBuf,
    /// The day, as 2026-03-05; else today
    #[arg(long, value_name = "DAY", value_parser = day)]
    on: Option<Date>,
}

impl Next {
    pub(super) fn run(&self) -> ExitCode {
        let prepared = match prepare(&Request::of(&self.job)) {
            Ok(prepared) => prepared,
            Err(code) => return code,
        };
        let day = today(self.on);
        let mut told = told(&prepared, day);
        section(&mut told, "Wrenches out of date", &outdated(&prepared, day));
        if let Some(calendar) = calendar(&prepared.workshop, &prepared) {
            section(&mut told, "Calendar, backwards from the promised day", &calendar.lines(day));
        }
        output::print(&told);
        ExitCode::SUCCESS
    }
}

/// The day that is meant: the one given, or that of the clock.
pub(super) fn today(given: Option<Date>) -> Option<Date> {
    given.or_else(|| Date::from_days_since_1970(days_since_1970()))
}

/// Records that lie in a folder, in the order of their names.
pub(super) fn records_in(folder: &Path) -> Vec<PathBuf> {
    let mut found = Disk.below(folder).unwrap_or_default();
    found.retain(|path| is_record(path) && path.parent() == Some(folder));
    found.sort();
    found
}

/// Steps as they are told: number, title, place.
pub(super) fn names(view: &JobView, steps: &[&PlannedStep]) -> Vec<String> {
    let name = |step: &&PlannedStep| {
        let title = &step_of(&view.procedure, &view.network, step.source).naming.title;
        let places: Vec<String> = view
            .procedure
            .axes
            .ids()
            .filter_map(|axis| {
                let at = step.binding.position(axis)?;
                Some(view.procedure.axis(axis).positions[usize::from(at)].clone())
            })
            .collect();
        let place = if places.is_empty() { String::new() } else { format!(", {}", places.join(" ")) };
        let done = view.decisions.done_places(&view.procedure, &step.key);
        let done =
            if done.is_empty() { String::new() } else { format!(" (done already at {})", done.join(", ")) };
        format!("{} {title}{place}{done}", step.number.unwrap_or_default())
    };
    let mut names: Vec<String> = steps.iter().map(name).collect();
    names.dedup();
    names
}

/// What is waited for of goods and work: what, and since when.
pub(super) struct Errands {
    /// What came and is not compared with the old one yet.
    pub compare: Vec<String>,
    /// What should have come by now.
    pub late: Vec<String>,
    /// What is on its way.
    pub coming: Vec<String>,
    /// What is out, with whom, since when.
    pub out: Vec<String>,
    /// What came back and is not accepted yet.
    pub accept: Vec<String>,
    /// What is to be sent out.
    pub send: Vec<String>,
    /// What can be ordered: from whom, and what.
    pub order: Vec<(String, String)>,
    /// What the owner has to agree to first.
    pub agree: Vec<String>,
    /// Questions that are open.
    pub ask: Vec<String>,
}

impl Errands {
    /// Goods that are ordered and not here: late, where they were due before the day.
    fn on_its_way(&mut self, title: &str, ordered: Date, due: Option<Date>, day: Option<Date>) {
        let until = due.map_or_else(String::new, |due| format!(", due {due}"));
        let late = due.zip(day).is_some_and(|(due, day)| due < day);
        let errands = if late { &mut self.late } else { &mut self.coming };
        errands.push(format!("{title}, ordered {ordered}{until}"));
    }
}

/// Wrenches of the shop's crib whose calibration is over on a day.
pub(super) fn outdated(view: &JobView, day: Option<Date>) -> Vec<String> {
    let tools = view.shop.iter().flat_map(|shop| &shop.crib.tools);
    let outdated = tools.filter_map(|tool| {
        let until = tool.calibrated_until.filter(|until| day.is_some_and(|day| *until < day))?;
        Some(format!("{}, until {until}", tool.name.value))
    });
    outdated.collect()
}

/// Works out the errands of a job on a day.
pub(super) fn errands(view: &JobView, day: Option<Date>) -> Errands {
    let (procedure, job, decisions) = (&view.procedure, &view.job, &view.decisions);
    let mut made = Errands {
        compare: Vec::new(),
        late: Vec::new(),
        coming: Vec::new(),
        out: Vec::new(),
        accept: Vec::new(),
        send: Vec::new(),
        order: Vec::new(),
        agree: Vec::new(),
        ask: Vec::new(),
    };
    for line in order_list(procedure, job, decisions).lines {
        let OrderLine { title, supplier, ordered, due, arrived, compared, .. } = &line;
        let from = supplier.clone().unwrap_or_else(|| "no supplier named".to_owned());
        match (ordered, arrived, compared) {
            (_, _, Some(_)) => {}
            (_, Some(came), None) => made.compare.push(format!("{title}, here since {came}")),
            (Some(ordered), None, None) => made.on_its_way(title, *ordered, *due, day),
            (None, None, None) if !line.waits_for.is_empty() => {}
            (None, None, None) if line.approved => {
                made.order.push((from, format!("{} {title}", line.quantity)));
            }
            (None, None, None) => made.agree.push(title.clone()),
        }
    }
    for line in view.used_up() {
        match (line.ordered, line.arrived) {
            (_, Some(_)) => {}
            (Some(ordered), None) => made.on_its_way(&line.title, ordered, line.due, day),
            // Where the shop doesn't say what it has, nothing of it is known to be wanted.
            (None, None) if line.known_missing => {
                let amount = line.amount.map_or_else(String::new, |amount| format!(", {amount}"));
                made.order.push(("no supplier named".to_owned(), format!("{}{amount}", line.title)));
            }
            (None, None) => {}
        }
    }
    for line in machine_shop_order(procedure, job, decisions) {
        let to = line.to.clone().unwrap_or_else(|| "nobody named".to_owned());
        match (line.sent, line.back, line.accepted) {
            (_, _, Some(_)) => {}
            (_, Some(_), None) if line.refused.is_some() => {
                made.send.push(format!("{}, again: {}", line.title, line.refused.unwrap_or_default()));
            }
            (_, Some(back), None) => made.accept.push(format!("{}, back since {back}", line.title)),
            (Some(sent), None, None) => made.out.push(format!("{}, with {to} since {sent}", line.title)),
            (None, None, None) if !line.waits_for.is_empty() => {}
            (None, None, None) if line.approved => made.send.push(format!("{}: {}", line.title, line.what)),
            (None, None, None) => made.agree.push(format!("{}: {}", line.title, line.what)),
        }
    }
    let asked = decisions.open_questions().filter_map(|(asked, _)| match asked {
        Asked::Ask(id) => Some(procedure.ask(id).naming.title.clone()),
        _ => None,
    });
    made.ask.extend(asked);
    if !decisions.leave_to_strip {
        made.ask.push("leave to strip: the owner has not given it".to_owned());
    }
    made
}

/// Steps of a phase that wait, each with what for.
fn waiting(view: &JobView, plan: &PhasePlan) -> Vec<String> {
    let held = plan.steps.iter().filter_map(|step| {
        let holds = step.standing.waits();
        let name = || names(view, &[step]).join("");
        (!holds.is_empty()).then(|| format!("{}: for {}", name(), holds.join("; ")))
    });
    held.collect()
}

/// The heading over what can be done: not yet, where the phase as a whole waits.
pub(super) fn heading_of_ready(plan: &PhasePlan) -> &'static str {
    if plan.before.is_empty() { "Can be done now" } else { "Can be done then" }
}

fn told(view: &JobView, day: Option<Date>) -> String {
    let mut out = String::new();
    let job = view.job.name.clone().unwrap_or_default();
    match view.plan.at_work() {
        Some(plan) => {
            let left = counted(pieces(plan.left()), "step");
            out += &format!("{job}: {}, {left} left\n", plan.phase.word());
            let before: Vec<String> = plan.before.iter().map(|before| before.words()).collect();
            section(&mut out, "Not begun before this", &before);
            section(&mut out, heading_of_ready(plan), &names(view, &can_be_done(plan)));
            section(&mut out, "Waits", &waiting(view, plan));
        }
        None => out += &format!("{job}: every step is done\n"),
    }
    section(&mut out, "Beyond its limit, and nobody lets it pass", &beyond(view));
    section(&mut out, "Never read, though its step is done", &never_read(view));
    let measure: Vec<String> = view
        .decisions
        .to_measure
        .iter()
        .map(|open| {
            format!("{}, {}: {}", open.asked.name(&view.procedure), open.occasion.words(), open.because)
        })
        .collect();
    section(&mut out, "To measure", &measure);
    let errands = errands(view, day);
    section(&mut out, "Late: ask where it is", &errands.late);
    section(&mut out, "Here: compare with the old one", &errands.compare);
    section(&mut out, "Back: check and accept", &errands.accept);
    section(&mut out, "On its way", &errands.coming);
    section(&mut out, "Out", &errands.out);
    section(&mut out, "To send out", &errands.send);
    let order: Vec<String> = errands.order.iter().map(|(from, what)| format!("{from}: {what}")).collect();
    section(&mut out, "To order", &order);
    section(&mut out, "The owner has to agree to", &errands.agree);
    section(&mut out, "To ask", &errands.ask);
    out
}

/// What was read of what goes out and is beyond its limit.
fn beyond(view: &JobView) -> Vec<String> {
    let standing = view.decisions.findings.iter().filter(|finding| finding.stands);
    let name = |finding: &Finding| Asked::Gauge(finding.gauge, finding.place).name(&view.procedure);
    standing
        .map(|finding| format!("{}, {}: {}", name(finding), finding.occasion.words(), finding.words))
        .collect()
}

/// What a step of the start reads that is done, and the record has not.
fn never_read(view: &JobView) -> Vec<String> {
    let unread = view.plan.unread_in_start(&view.procedure, &view.decisions);
    unread.into_iter().map(|(gauge, place)| Asked::Gauge(gauge, place).name(&view.procedure)).collect()
}

/// A list with its heading; nothing of an empty one.
pub(super) fn section(out: &mut String, heading: &str, lines: &[String]) {
    if lines.is_empty() {
        return;
    }
    *out += &format!("\n{heading}\n");
    for line in lines.iter().take(TOLD) {
        *out += &format!("  {line}\n");
    }
    if lines.len() > TOLD {
        *out += &format!("  and {} more\n", lines.len() - TOLD);
    }
}
