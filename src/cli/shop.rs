//! `shop`: every job of a folder on one sheet for the wall: a line a job, then what is to be ordered, fetched and asked over
//! all of them.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::process::ExitCode;

use clap::Args;

use super::calendar::calendar;
use super::next::{Errands, errands, names, outdated, records_in, section, today};
use super::sheets::{self, columns};
use super::{errors, output};
use crate::decide::{machine_shop_order, order_list, totals, within_the_limit};
use crate::english::counted;
use crate::page::PageSetup;
use crate::plan::{can_be_done, pieces, step_of};
use crate::procedure::model::ToolKind;
use crate::quantity::Money;
use crate::record::{Date, standing};
use crate::sheet::{Block, Cell, DEFERRAL, Footer, Packet, Sheet, SheetKind, Table, Text};
use crate::source::{Disk, Files};
use crate::workshop::{JobView, Request, Workshop, together};

/// All jobs of a folder on one sheet
#[derive(Debug, Args)]
pub(super) struct Shop {
    /// The folder with the records
    #[arg(value_name = "FOLDER")]
    folder: PathBuf,
    /// The day, as 2026-03-05; else today
    #[arg(long, value_name = "DAY", value_parser = super::packet::day)]
    on: Option<Date>,
    /// A sheet for the wall
    #[arg(short, long, value_name = "WALL.pdf")]
    output: Option<PathBuf>,
}

/// One job on the sheet.
struct Line {
    /// Name of the job, whose, which engine.
    job: String,
    /// How far it is.
    state: String,
    /// What can be done next.
    next: String,
    /// What the first waiting step waits for.
    waits: String,
    /// The stand that it sits on.
    stand: String,
    /// What the owner agreed to, and what is spent of it.
    money: String,
    /// Days since anything happened.
    rest: String,
    errands: Errands,
    /// The promised day, and when its build has to begin.
    promised: String,
    /// Until when what has to be ordered or sent.
    latest: Vec<(Date, String)>,
    /// Wrenches of its crib that are out of date.
    wrenches: Vec<String>,
    /// What it needs now that other jobs may need too, each with the step.
    wants: Vec<(String, String)>,
}

impl Shop {
    pub(super) fn run(&self) -> ExitCode {
        let day = today(self.on);
        let mut lines = Vec::new();
        let mut code = ExitCode::SUCCESS;
        for path in records_in(&self.folder) {
            // Prices and cribs lie beside the records and are none.
            let text = Disk.read(&path).unwrap_or_default();
            if standing(&text, &["procedure".to_owned()]).texts.is_empty() {
                continue;
            }
            let mut workshop = Workshop::new();
            let opened = workshop.job(&Request::of(&path));
            match opened.value {
                Some(view) => lines.push(line(&workshop, &view, day)),
                None => {
                    let diagnostics = together(opened.diagnostics);
                    code = output::exit_code(&diagnostics);
                    let diagnostics = output::without_notices(diagnostics);
                    output::report(workshop.sources(), &diagnostics, output::Format::Text);
                }
            }
        }
        if lines.is_empty() {
            return if code == ExitCode::SUCCESS {
                output::refuse(&errors::no_records(&self.folder))
            } else {
                code
            };
        }
        match &self.output {
            None => output::print(&told(&lines)),
            Some(path) => {
                if let Err(failed) = write(path, &lines, day) {
                    return failed;
                }
            }
        }
        code
    }
}

fn line(workshop: &Workshop, view: &JobView, day: Option<Date>) -> Line {
    let job = &view.job;
    let whose = job.customer.iter().cloned();
    let number = job.engine_no.iter().map(|number| number.value.clone());
    let name = job.name.iter().cloned().chain(whose).chain(number).collect::<Vec<_>>().join(", ");
    let (state, next, waits) = match view.plan.at_work() {
        None => ("every step is done".to_owned(), String::new(), String::new()),
        Some(plan) => {
            let (all, left) = (pieces(plan.of_the_job()), pieces(plan.left()));
            let first = plan.before.iter().map(|before| before.words());
            let held = first.chain(plan.steps.iter().flat_map(|step| step.standing.waits())).next();
            let state = format!("{}, {} of {all} done", plan.phase.word(), all - left);
            let next = names(view, &can_be_done(plan)).into_iter().next();
            (state, next.unwrap_or_else(|| "nothing can be done".to_owned()), held.unwrap_or_default())
        }
    };
    let rest = match (day, job.last_day()) {
        (Some(day), Some(last)) => (day.day_number() - last.day_number()).max(0).to_string(),
        _ => String::new(),
    };
    let calendar = calendar(workshop, view);
    let promised = calendar.as_ref().map_or(String::new(), |calendar| {
        format!("{}, the build begins by {}", calendar.promised, calendar.build)
    });
    Line {
        job: name,
        state,
        next,
        waits,
        stand: job.stand.clone().unwrap_or_default(),
        money: money(view),
        rest,
        promised,
        latest: calendar.map(|calendar| calendar.latest).unwrap_or_default(),
        errands: errands(view, day),
        wrenches: outdated(view, day),
        wants: wants(view),
    }
}

/// What the owner agreed to last, and what goods that are ordered and work that is sent out come to.
fn money(view: &JobView) -> String {
    let job = &view.job;
    let of = |number: &str| job.estimate(number).and_then(|estimate| estimate.sum.as_ref());
    let agreed = job.approvals.last().map(|approval| {
        let sum = approval.estimate.as_ref().and_then(|number| of(&number.value)).or(approval.up_to.as_ref());
        sum.map_or("agreed without a sum".to_owned(), |sum| format!("agreed {sum}"))
    });
    let allowed = || {
        let estimate = within_the_limit(job).last().and_then(|estimate| estimate.sum.as_ref())?;
        Some(format!("{estimate} without asking"))
    };
    let ordered = order_list(&view.procedure, job, &view.decisions).lines;
    let sent = machine_shop_order(&view.procedure, job, &view.decisions);
    let bought: Vec<Option<Money>> =
        ordered.iter().filter(|line| line.ordered.is_some()).map(|line| line.cost()).collect();
    let out: Vec<Option<Money>> =
        sent.iter().filter(|line| line.sent.is_some()).map(|line| line.price.clone()).collect();
    let unpriced = bought.iter().chain(&out).filter(|cost| cost.is_none()).count();
    let sums: Vec<String> =
        totals(bought.into_iter().chain(out).flatten()).iter().map(ToString::to_string).collect();
    let spent = (!sums.is_empty() || unpriced > 0).then(|| {
        let mut words = if sums.is_empty() {
            "ordered and sent:".to_owned()
        } else {
            format!("ordered and sent: {}", sums.join(" and "))
        };
        if unpriced > 0 {
            let and = if sums.is_empty() { "" } else { " and" };
            words += &format!("{and} {} without a price", counted(unpriced, "thing"));
        }
        words
    });
    agreed.or_else(allowed).into_iter().chain(spent).collect::<Vec<_>>().join(", ")
}

/// What there is one of in a shop and the steps that can be done now need: stands, hoists and pullers, each with a step.
fn wants(view: &JobView) -> Vec<(String, String)> {
    let Some(plan) = view.plan.at_work() else { return Vec::new() };
    let mut wants = Vec::new();
    for planned in can_be_done(plan) {
        let step = step_of(&view.procedure, &view.network, planned.source);
        for tool in step.tools.iter().map(|used| view.procedure.tool(used.what.0)) {
            if matches!(tool.kind, ToolKind::Hoist | ToolKind::Puller) {
                wants.push((tool.naming.title.clone(), names(view, &[planned]).join("")));
            }
        }
    }
    wants
}

/// What more than one job needs for a step that it could do now, with those steps, and stands on which two engines are said
/// to sit. Of everything there is one.
fn clashes(lines: &[Line]) -> Vec<String> {
    let mut wanted: BTreeMap<&str, Vec<(&str, &str)>> = BTreeMap::new();
    for line in lines {
        for (thing, step) in &line.wants {
            let jobs = wanted.entry(thing).or_default();
            if !jobs.iter().any(|(job, _)| *job == line.job) {
                jobs.push((&line.job, step));
            }
        }
    }
    let mut sitting: BTreeMap<&str, Vec<&str>> = BTreeMap::new();
    for line in lines.iter().filter(|line| !line.stand.is_empty()) {
        sitting.entry(&line.stand).or_default().push(&line.job);
    }
    let sitting = sitting.into_iter().filter(|(_, jobs)| jobs.len() > 1);
    let sitting = sitting.map(|(stand, jobs)| format!("{stand}: both sit on it: {}", jobs.join("; ")));
    let several = wanted.into_iter().filter(|(_, jobs)| jobs.len() > 1);
    let told = several.map(|(thing, jobs)| {
        let jobs: Vec<String> = jobs.iter().map(|(job, step)| format!("{step} ({job})")).collect();
        format!("{thing}: {}", jobs.join("; "))
    });
    told.chain(sitting).collect()
}

/// A list over all jobs: its heading, and its lines.
type List = (&'static str, Vec<String>);

/// The lists over all jobs.
fn lists(lines: &[Line]) -> Vec<List> {
    let of = |pick: fn(&Errands) -> &Vec<String>| -> Vec<String> {
        let all = lines
            .iter()
            .flat_map(|line| pick(&line.errands).iter().map(|what| format!("{what} ({})", line.job)));
        all.collect()
    };
    let mut order: BTreeMap<&str, Vec<String>> = BTreeMap::new();
    for line in lines {
        for (from, what) in &line.errands.order {
            order.entry(from).or_default().push(format!("{what} ({})", line.job));
        }
    }
    let order = order
        .into_iter()
        .flat_map(|(from, list)| list.into_iter().map(move |what| format!("{from}: {what}")));
    let mut wrenches: Vec<String> = lines.iter().flat_map(|line| line.wrenches.clone()).collect();
    wrenches.sort();
    wrenches.dedup();
    let fetch =
        [of(|errands| &errands.late), of(|errands| &errands.out), of(|errands| &errands.send)].concat();
    let here = [of(|errands| &errands.compare), of(|errands| &errands.accept)].concat();
    let ask = [of(|errands| &errands.agree), of(|errands| &errands.ask)].concat();
    let mut latest: Vec<(Date, String)> = lines
        .iter()
        .flat_map(|line| {
            line.latest.iter().map(|(day, what)| (*day, format!("{day}  {what} ({})", line.job)))
        })
        .collect();
    latest.sort();
    let latest = latest.into_iter().map(|(_, what)| what).collect();
    vec![
        ("Clashes: one of each, and two want it", clashes(lines)),
        ("Latest days", latest),
        ("To order", order.collect()),
        ("To fetch or send", fetch),
        ("Here, to be checked", here),
        ("To ask the owner", ask),
        ("Wrenches out of date", wrenches),
    ]
}

fn told(lines: &[Line]) -> String {
    let mut out = String::new();
    for Line { job, state, next, waits, stand, money, rest, promised, .. } in lines {
        out += &format!("{job}: {state}\n");
        for (word, what) in [
            ("next", next),
            ("waits for", waits),
            ("sits on", stand),
            ("money", money),
            ("promised", promised),
            ("days at rest", rest),
        ] {
            if !what.is_empty() {
                out += &format!("  {word}: {what}\n");
            }
        }
    }
    for (heading, list) in lists(lines) {
        section(&mut out, heading, &list);
    }
    out
}

/// Writes the sheet for the wall.
fn write(path: &Path, lines: &[Line], day: Option<Date>) -> Result<(), ExitCode> {
    let cell = |text: &String| Cell::Text(Text::plain(text.clone()));
    let row = |line: &Line| {
        vec![
            Cell::Text(Text::bold(line.job.clone())),
            cell(&line.state),
            cell(&line.next),
            cell(&line.waits),
            cell(&line.stand),
            cell(&line.money),
            cell(&line.promised),
            cell(&line.rest),
        ]
    };
    let columns = columns(&[
        ("Job", 3.0),
        ("State", 2.0),
        ("Next", 2.6),
        ("Waits for", 2.4),
        ("Sits on", 1.2),
        ("Agreed; ordered and sent", 1.6),
        ("Promised", 1.5),
        ("At rest, days", 0.8),
    ]);
    let mut blocks = vec![Block::Table(Table {
        caption: Text::default(),
        columns,
        rows: lines.iter().map(row).collect(),
    })];
    for (heading, list) in lists(lines).into_iter().filter(|(_, list)| !list.is_empty()) {
        blocks.push(Block::Heading { level: 2, text: Text::plain(heading), anchor: None });
        blocks.push(Block::List { items: list.into_iter().map(Text::plain).collect(), tick: true });
    }
    let when = day.map(|day| day.to_string()).unwrap_or_default();
    let packet = Packet {
        title: "The shop".to_owned(),
        language: "en".to_owned(),
        footer: Footer { job: when.clone(), deferral: DEFERRAL.to_owned(), ..Footer::default() },
        sheets: vec![Sheet::new(SheetKind::Front, "The shop", when, blocks)],
        meanings: BTreeMap::new(),
        attachments: Vec::new(),
    };
    sheets::write(Workshop::new().sources(), &packet, &PageSetup::default(), path).map(|_| ())
}
