//! `shop`: every job of a folder on one sheet for the wall: a line a job, then what is to be ordered, fetched and asked over
//! all of them.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::process::ExitCode;

use clap::Args;

use super::calendar::calendar;
use super::jobs::each_job;
use super::next::{Errands, errands, names, outdated, section, today};
use super::output;
use super::sheets::{self, columns};
use crate::decide::{machine_shop_order, order_list, totals, within_the_limit};
use crate::english::counted;
use crate::page::PageSetup;
use crate::plan::{can_be_done, pieces, step_of};
use crate::procedure::model::ToolKind;
use crate::quantity::Money;
use crate::record::Date;
use crate::sheet::{Block, Cell, DEFERRAL, Footer, Packet, Sheet, SheetKind, Table, Text};
use crate::workshop::{JobView, Workshop};

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
    /// Number of the job, or its name where that has no comma.
    job: String,
    /// Name of the job, whose, which engine.
    name: String,
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
        let taken = each_job(&self.folder, |workshop, view| lines.push(line(workshop, view, day)));
        let code = match taken {
            Ok(code) => code,
            Err(code) => return code,
        };
        name_apart(&mut lines);
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

/// Gives jobs that begin alike their whole names: two engines of one boat are two jobs.
fn name_apart(lines: &mut [Line]) {
    let alike = |line: &Line| lines.iter().any(|other| other.job == line.job && other.name != line.name);
    let alike: Vec<bool> = lines.iter().map(alike).collect();
    for (line, _) in lines.iter_mut().zip(alike).filter(|(_, alike)| *alike) {
        line.job.clone_from(&line.name);
    }
}

fn line(workshop: &Workshop, view: &JobView, day: Option<Date>) -> Line {
    let job = &view.job;
    let whose = job.customer.iter().cloned();
    let number = job.engine_no.iter().map(|number| number.value.clone());
    let name = job.name.iter().cloned().chain(whose).chain(number).collect::<Vec<_>>().join(", ");
    let short = name.split(',').next().unwrap_or_default().to_owned();
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
        job: short,
        name,
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

/// Things of one job that a sheet for the wall names in a list; of more it says how many.
const NAMED: usize = 2;

/// Lines of one list, each thing with its job behind it; with `short`, those of one job, and of one supplier, as one line.
fn listed(things: &[(&str, &str, String)], short: bool) -> Vec<String> {
    let line = |from: &str, what: &str, job: &str| {
        let from = if from.is_empty() { String::new() } else { format!("{from}: ") };
        format!("{from}{what} ({job})")
    };
    if !short {
        return things.iter().map(|(from, job, what)| line(from, what, job)).collect();
    }
    let mut together: Vec<(&str, &str, Vec<&str>)> = Vec::new();
    for (from, job, what) in things {
        match together.iter_mut().find(|(other, of, _)| other == from && of == job) {
            Some((_, _, all)) => all.push(what),
            None => together.push((from, job, vec![what])),
        }
    }
    let told = together.iter().map(|(from, job, all)| {
        let mut words = all.iter().take(NAMED).copied().collect::<Vec<_>>().join("; ");
        if all.len() > NAMED {
            words += &format!("; and {} more", all.len() - NAMED);
        }
        line(from, &words, job)
    });
    told.collect()
}

/// The lists over all jobs.
fn lists(lines: &[Line], short: bool) -> Vec<List> {
    type Pick = fn(&Errands) -> &Vec<String>;
    let of = |picks: &[Pick]| {
        let things: Vec<(&str, &str, String)> = picks
            .iter()
            .flat_map(|pick| lines.iter().map(move |line| (line, pick(&line.errands))))
            .flat_map(|(line, list)| list.iter().map(|what| ("", line.job.as_str(), what.clone())))
            .collect();
        listed(&things, short)
    };
    let mut order: Vec<(&str, &str, String)> = lines
        .iter()
        .flat_map(|line| {
            line.errands.order.iter().map(|(from, what)| (from.as_str(), line.job.as_str(), what.clone()))
        })
        .collect();
    order.sort_by_key(|(from, _, _)| *from);
    let mut wrenches: Vec<String> = lines.iter().flat_map(|line| line.wrenches.clone()).collect();
    wrenches.sort();
    wrenches.dedup();
    let mut latest: Vec<(Date, String)> = lines
        .iter()
        .flat_map(|line| {
            line.latest.iter().map(|(day, what)| (*day, format!("{day}  {what} ({})", line.job)))
        })
        .collect();
    latest.sort();
    vec![
        ("Clashes: one of each, and two want it", clashes(lines)),
        ("Latest days", latest.into_iter().map(|(_, what)| what).collect()),
        ("To order", listed(&order, short)),
        ("To fetch or send", of(&[|errands| &errands.late, |errands| &errands.out, |errands| &errands.send])),
        ("Here, to be checked", of(&[|errands| &errands.compare, |errands| &errands.accept])),
        ("To ask the owner", of(&[|errands| &errands.agree, |errands| &errands.ask])),
        ("Wrenches out of date", wrenches),
    ]
}

fn told(lines: &[Line]) -> String {
    let mut out = String::new();
    for Line { name, state, next, waits, stand, money, rest, promised, .. } in lines {
        out += &format!("{name}: {state}\n");
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
    for (heading, list) in lists(lines, false) {
        section(&mut out, heading, &list);
    }
    out
}

/// A column of the sheet for the wall: its heading, its share of the width, and what it tells of a job.
type Told = (&'static str, f64, fn(&Line) -> &String);

/// Writes the sheet for the wall.
fn write(path: &Path, lines: &[Line], day: Option<Date>) -> Result<(), ExitCode> {
    let name = |line: &Line| {
        let rest = line.name.strip_prefix(&line.job).unwrap_or_default();
        Text::bold(line.job.clone()).and(rest)
    };
    let of: [Told; 7] = [
        ("State", 1.8, |line| &line.state),
        ("Next", 2.4, |line| &line.next),
        ("Waits for", 2.6, |line| &line.waits),
        ("Sits on", 1.2, |line| &line.stand),
        ("Agreed; ordered and sent", 1.9, |line| &line.money),
        ("Promised", 1.4, |line| &line.promised),
        ("At rest, days", 0.7, |line| &line.rest),
    ];
    // What nothing is known of takes no room.
    let told: Vec<Told> =
        of.into_iter().filter(|(_, _, pick)| lines.iter().any(|line| !pick(line).is_empty())).collect();
    let row = |line: &Line| {
        let cells = told.iter().map(|(_, _, pick)| Cell::Text(Text::plain(pick(line).clone())));
        std::iter::once(Cell::Text(name(line))).chain(cells).collect()
    };
    let headings: Vec<(&str, f64)> = std::iter::once(("Job", 2.8))
        .chain(told.iter().map(|(heading, share, _)| (*heading, *share)))
        .collect();
    let mut blocks = vec![Block::Table(Table {
        caption: Text::default(),
        columns: columns(&headings),
        rows: lines.iter().map(row).collect(),
    })];
    for (heading, list) in lists(lines, true).into_iter().filter(|(_, list)| !list.is_empty()) {
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
    let pages = sheets::write(Workshop::new().sources(), &packet, &PageSetup::default(), path)?;
    let (pages, jobs) = (counted(pages, "page"), counted(lines.len(), "job"));
    output::complain(&format!("{}: {pages}, {jobs}\n", path.display()));
    Ok(())
}
