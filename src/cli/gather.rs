//! `gather`: brings back into the record what was filled in on paper, by the plan that the packet carries. All or nothing.

use std::collections::BTreeMap;
use std::io::{BufRead, IsTerminal};
use std::path::{Path, PathBuf};
use std::process::ExitCode;

use clap::Args;

use super::progress::during;
use super::sitting::Writer;
use super::writing::{self, Drafted, Opened};
use super::{errors, next, output, sitting};
use crate::decide::verdict_text;
use crate::diagnostics::{Diagnostic, codes, unreadable};
use crate::gather::{
    Changes, Filled, Gathered, Hand, Printed, Today, changes, read_table, read_words, write_table, written,
};
use crate::network::connect;
use crate::packet::step_marks;
use crate::page::{TICKED, read_pdf};
use crate::plan::Standing;
use crate::record::{standing, step_key};
use crate::screen::read_html;
use crate::sheet::{AGAIN, Form};
use crate::source::{Disk, Files, Lock, read_bytes};
use crate::workshop::{Decided, JobView, Request, Workshop, is_record, together};

/// Lines of each list that are told.
const TOLD: usize = 12;

/// Bring what was filled in on paper into the record
#[derive(Debug, Args)]
pub(super) struct Gather {
    /// The packet as it was printed, or as its form was filled in; or the one for a screen
    #[arg(value_name = "PACKET.pdf")]
    packet: PathBuf,
    /// What is read off paper: `done` and steps, `done 1-9 12`; a number and what is written from there on, in the order
    /// of the sheet, `28.3 74.055 - 74.085`. A number in the middle of a line takes a colon
    #[arg(value_name = "NUMBER VALUE", allow_negative_numbers = true)]
    words: Vec<String>,
    /// The record; else the one of this job beside the packet, or here
    #[arg(long, value_name = "JOB.yaml")]
    job: Option<PathBuf>,
    /// A table of what is open: written, or read back where it is there; also what was saved at a screen
    #[arg(long, value_name = "TABLE.csv", conflicts_with = "words")]
    table: Option<PathBuf>,
    /// Ask blank by blank, from the number on that is named: Enter is "not yet", `=` what was typed before, `.` the end
    #[arg(long, conflicts_with = "table")]
    ask: bool,
    /// Initials; else whose sitting it is
    #[arg(long)]
    by: Option<String>,
    /// Day, as 2026-03-05; else that of the sitting, or today
    #[arg(long)]
    date: Option<String>,
    /// In place of what the record says
    #[arg(long)]
    again: bool,
    /// Write values too that can hardly be right
    #[arg(long)]
    yes: bool,
}

/// Everything that what was filled in is judged by.
struct Bench<'a> {
    printed: &'a Printed,
    opened: &'a Opened,
    /// The record as planned today.
    view: &'a JobView,
    text: &'a str,
}

impl Gather {
    pub(super) fn run(&self) -> ExitCode {
        let mut workshop = Workshop::new();
        match self.gather(&mut workshop) {
            Ok(warnings) => {
                let warnings = output::without_notices(together(warnings));
                output::report(workshop.sources(), &warnings, output::Format::Text);
                ExitCode::SUCCESS
            }
            Err(diagnostics) => {
                let diagnostics = together(diagnostics);
                let code = output::exit_code(&diagnostics);
                let diagnostics = output::without_notices(diagnostics);
                output::report(workshop.sources(), &diagnostics, output::Format::Text);
                code
            }
        }
    }

    fn gather(&self, workshop: &mut Workshop) -> Result<Vec<Diagnostic>, Vec<Diagnostic>> {
        let bytes = read_bytes(&self.packet)
            .map_err(|error| vec![errors::unreadable_packet(&self.packet, &error)])?;
        let on_paper = read_pdf(&bytes).unwrap_or_default();
        let plan = on_paper.files.iter().find(|(name, _)| name == "plan.json").map(|(_, plan)| plan.clone());
        let printed = plan.or_else(|| read_html(&bytes)).and_then(|plan| Printed::read(&plan));
        let printed = printed.ok_or_else(|| vec![errors::no_packet(&self.packet)])?;
        let path = self.record(&printed)?;
        let _lock = Lock::wait(&path).map_err(|error| vec![errors::unwritable(&path, &error)])?;
        let opened = writing::open(workshop, &path)?;
        let record = opened.decided.job.name.clone().unwrap_or_default();
        if record != printed.job {
            return Err(vec![errors::other_job(&printed.job, &record)]);
        }
        let text = workshop.sources().file(opened.file).text.clone();
        let planned = during("working the order out", || Workshop::new().job(&Request::of(&path)));
        let Some(view) = planned.value else { return Err(planned.diagnostics) };
        let bench = Bench { printed: &printed, opened: &opened, view: &view, text: &text };
        let writer = sitting::writer(&path, &text, self.by.as_deref(), self.date.as_deref())?;
        let filled = match (&self.table, self.ask) {
            (Some(table), _) if !table.exists() => return self.write(workshop, &bench, table),
            (Some(table), _) => {
                let file = workshop
                    .sources_mut()
                    .read(table)
                    .map_err(|failure| vec![unreadable(table, &failure)])?;
                read_table(&printed, &workshop.sources().file(file).text)
            }
            (None, true) => {
                let first = self.words.first().and_then(|word| printed.find(word)).unwrap_or_default();
                Ok(ask(&bench, first, &writer))
            }
            (None, false) if self.words.is_empty() => of_form(&printed, &on_paper.fields),
            (None, false) => read_words(&printed, &self.words),
        };
        let filled = filled.map_err(|wrong| refusals(wrong.into_iter().map(|why| (String::new(), why))))?;
        self.take(workshop, &path, &bench, &filled, writer)
    }

    /// Takes over what was filled in.
    fn take(
        &self,
        workshop: &mut Workshop,
        path: &Path,
        bench: &Bench,
        filled: &Filled,
        writer: Writer,
    ) -> Result<Vec<Diagnostic>, Vec<Diagnostic>> {
        // A step needs somebody who did it; what was signed at a screen has told.
        let named = |at: &usize| filled.signed.get(at).is_some_and(|signed| signed.by.is_some());
        let unsigned = |(at, _): &(usize, String)| bench.printed.numbers[*at].form.is_none() && !named(at);
        let steps = !filled.done.is_empty() || filled.values.iter().any(unsigned);
        let writer = if steps {
            let (by, date) = sitting::signed(path, bench.text, writer, self.date.as_deref())?;
            Writer { by: Some(by), date }
        } else {
            writer
        };
        let hand = Hand { by: writer.by, date: writer.date, again: self.again };
        let written = &bench.opened.decided.as_written;
        let marks = step_marks(written, &connect(written).value);
        let of_job = |id: &str| {
            let steps = || bench.view.plan.steps().map(|(_, step)| step);
            let absent = |step: &crate::plan::PlannedStep| step.standing == Standing::Absent;
            !steps().any(|step| step.key.id(&bench.view.procedure) == id && absent(step))
        };
        let mark = |id: &str| {
            let key = step_key(&bench.view.procedure, id).filter(|_| of_job(id))?;
            marks.of(&key).map(str::to_owned)
        };
        let made = changes(bench.printed, filled, &hand, &Today { record: bench.text, mark: &mark });
        if !made.refused.is_empty() {
            return Err(refusals(made.refused));
        }
        if made.edits.is_empty() {
            output::print(&told(bench, &made, None));
            return Ok(Vec::new());
        }
        let drafted = writing::draft(workshop, path, bench.opened, &made.edits)?;
        let slip = |diagnostic: &&Diagnostic| diagnostic.code.name == codes::decide::IMPLAUSIBLE.name;
        let slips = drafted.fresh.iter().filter(slip).count();
        if slips > 0 && !self.yes && !agreed(workshop, &drafted) {
            return Err(drafted.fresh.into_iter().chain([errors::to_be_asked(slips)]).collect());
        }
        writing::save(path, bench.text, &drafted.text)?;
        output::print(&told(bench, &made, Some((&bench.opened.decided, &drafted))));
        output::print(&next_steps(path));
        Ok(drafted.fresh)
    }

    /// The record: named, or the only one of this job beside the packet or here.
    fn record(&self, printed: &Printed) -> Result<PathBuf, Vec<Diagnostic>> {
        if let Some(job) = &self.job {
            return Ok(job.clone());
        }
        let beside = self.packet.parent().filter(|folder| !folder.as_os_str().is_empty());
        let mut found: Vec<PathBuf> = Vec::new();
        for folder in [beside.unwrap_or(Path::new(".")), Path::new(".")] {
            for path in next::records_in(folder) {
                let text = Disk.read(&path).unwrap_or_default();
                let job = standing(&text, &["job".to_owned()]).texts;
                let known = found.iter().any(|other| Disk.same(other, &path));
                if is_record(&path) && job.first() == Some(&printed.job) && !known {
                    found.push(path);
                }
            }
        }
        match found.as_slice() {
            [one] => Ok(one.clone()),
            many => Err(vec![errors::which_record(&printed.job, many.len())]),
        }
    }

    /// Writes what is open as a table.
    fn write(
        &self,
        workshop: &Workshop,
        bench: &Bench,
        table: &Path,
    ) -> Result<Vec<Diagnostic>, Vec<Diagnostic>> {
        let open = open(bench, bench.text);
        let text = write_table(bench.printed, &open);
        if output::write_as(workshop.sources(), table, text.as_bytes(), &["csv"]).is_err() {
            return Err(Vec::new());
        }
        output::print(&format!(
            "{} blanks are open: fill in the last column, and gather it again\n",
            open.len()
        ));
        Ok(Vec::new())
    }
}

fn refusals(wrong: impl IntoIterator<Item = (String, String)>) -> Vec<Diagnostic> {
    wrong.into_iter().map(|(number, why)| errors::not_gathered(&number, &why)).collect()
}

/// Places of the numbers that belong in the record and are not there yet, of steps that are still to be done or done.
fn open(bench: &Bench, record: &str) -> Vec<usize> {
    let numbers = bench.printed.numbers.iter().enumerate();
    let is_open = |keys: &[String]| standing(record, keys).texts.is_empty();
    numbers.filter(|(_, number)| !number.keys.is_empty() && is_open(&number.keys)).map(|(at, _)| at).collect()
}

/// What stands in the fields of a form. Of a reading that was taken twice either blank may hold it, not two values.
fn of_form(printed: &Printed, fields: &[(String, String)]) -> Result<Filled, Vec<String>> {
    let mut values: BTreeMap<usize, String> = BTreeMap::new();
    let mut wrong = Vec::new();
    for (name, value) in fields {
        let first = name.strip_suffix(AGAIN).unwrap_or(name);
        let Some(at) = printed.numbers.iter().position(|number| number.number == first) else {
            wrong.push(format!("its field `{name}` is no number of its plan"));
            continue;
        };
        // A box at a day is ticked on the day.
        let day = matches!(printed.numbers[at].form, Some(Form::Day)) && value == TICKED;
        let value = if day { "x".to_owned() } else { on_one_line(value) };
        match values.get(&at).filter(|other| **other != value) {
            Some(other) => wrong.push(format!(
                "{first} was read twice, `{other}` and `{value}`: leave the one that counts, and empty the other"
            )),
            // Programs keep fields in orders of their own.
            None => drop(values.insert(at, value)),
        }
    }
    if wrong.is_empty() {
        Ok(Filled { values: values.into_iter().collect(), ..Filled::default() })
    } else {
        Err(wrong)
    }
}

/// What was written on several lines, on one.
fn on_one_line(written: &str) -> String {
    written.split(['\r', '\n']).map(str::trim).filter(|line| !line.is_empty()).collect::<Vec<_>>().join(" ")
}

/// Asks for every open blank from the first on; one that is no value of its kind is asked for again.
fn ask(bench: &Bench, first: usize, writer: &Writer) -> Filled {
    let mut filled = Filled::default();
    let mut lines = std::io::stdin().lock().lines();
    let mut before = String::new();
    for at in open(bench, bench.text).into_iter().filter(|at| *at >= first) {
        let number = &bench.printed.numbers[at];
        let Some(form) = &number.form else { continue };
        loop {
            output::complain(&format!("{} {}: ", number.number, number.what));
            let Some(Ok(typed)) = lines.next() else { return filled };
            let typed = if typed.trim() == "=" { before.clone() } else { typed.trim().to_owned() };
            match typed.as_str() {
                "" | "-" => break,
                "." => return filled,
                _ => {}
            }
            match written(form, &typed, writer.date) {
                Ok(_) => {
                    before.clone_from(&typed);
                    filled.values.push((at, typed));
                    break;
                }
                Err(why) => output::complain(&format!("{why}\n")),
            }
        }
    }
    filled
}

/// Whether somebody at a terminal says that values which can hardly be right are as read.
fn agreed(workshop: &Workshop, drafted: &Drafted) -> bool {
    if !std::io::stdin().is_terminal() {
        return false;
    }
    output::report(workshop.sources(), &output::without_notices(drafted.fresh.clone()), output::Format::Text);
    output::complain("Write them all the same? y/N ");
    let mut typed = String::new();
    std::io::stdin().lock().read_line(&mut typed).is_ok() && typed.trim().eq_ignore_ascii_case("y")
}

/// What was understood, what is still empty on the lines that were filled in, and what becomes of it.
fn told(bench: &Bench, made: &Changes, after: Option<(&Decided, &Drafted)>) -> String {
    let Printed { job, fingerprint, phase, .. } = bench.printed;
    let mut out = format!("{job}, {phase} {fingerprint}\n");
    for Gathered { number, what, value } in &made.new {
        out += &format!("  {number}  {what}: {value}\n");
    }
    if !made.known.is_empty() {
        out += &format!("  known already: {}\n", made.known.len());
    }
    for begun in &made.begun {
        out += &format!("  {begun}\n");
    }
    let record = after.map_or(bench.text, |(_, drafted)| drafted.text.as_str());
    let empty = open(bench, record);
    let number = |at: &usize| &bench.printed.numbers[*at];
    let lines: Vec<&str> = made.new.iter().map(|told| told.number.as_str()).collect();
    let touched = |at: &&usize| {
        let line = number(at).line();
        lines.iter().any(|other| {
            *other == line || other.starts_with(&format!("{line}.")) || other.starts_with(&format!("{line} "))
        })
    };
    let here: Vec<String> = empty.iter().filter(touched).map(|at| number(at).number.clone()).collect();
    if !here.is_empty() {
        let some: Vec<String> = here.iter().take(TOLD).cloned().collect();
        let more = if here.len() > TOLD { format!(" and {} more", here.len() - TOLD) } else { String::new() };
        out += &format!("still empty there: {}{more}\n", some.join(", "));
    }
    out += &format!("still empty on these sheets: {}\n", empty.len());
    if let Some((before, Drafted { decided, .. })) = after {
        let text = |of: &Decided| verdict_text(&of.procedure, &of.job, &of.decisions, Some(&[]));
        let (before, now) = (text(before), text(decided));
        let fresh = now.lines().filter(|line| !before.lines().any(|other| other == *line));
        let fresh: Vec<&str> = fresh.filter(|line| !line.starts_with("    ")).collect();
        if !fresh.is_empty() {
            out += "what it changes:\n";
            for line in fresh.iter().take(TOLD) {
                out += &format!("  {}\n", line.trim());
            }
            if fresh.len() > TOLD {
                out += &format!("  and {} lines more: `benchleaf verdict` tells all\n", fresh.len() - TOLD);
            }
        }
    }
    out
}

/// What can be done next, in one line.
fn next_steps(path: &Path) -> String {
    let planned = during("working the order out", || Workshop::new().job(&Request::of(path)));
    let Some(view) = planned.value else { return String::new() };
    let Some(plan) = view.plan.at_work() else { return String::new() };
    let steps = next::names(&view, &crate::plan::can_be_done(plan));
    if let Some(first) = plan.before.first() {
        return format!("next: {} not begun before this: {}\n", plan.phase.word(), first.words());
    }
    if steps.is_empty() {
        return "next: nothing can be done before what it waits for; `benchleaf next` tells\n".to_owned();
    }
    format!("next: {}\n", steps.into_iter().take(3).collect::<Vec<_>>().join("; "))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_reading_that_was_taken_twice_is_one() {
        let plan = r#"{"job": "1", "fingerprint": "f", "phase": "strip", "steps": [],
            "numbers": [{"number": "7.1", "what": "Lash", "form": "quantity", "unit": "mm", "keys": ["readings", "as_found", "lash"]}]}"#;
        let printed = Printed::read(plan.as_bytes()).unwrap();
        let read = |fields: &[(&str, &str)]| {
            let fields: Vec<(String, String)> =
                fields.iter().map(|(name, value)| ((*name).to_owned(), (*value).to_owned())).collect();
            of_form(&printed, &fields).map(|filled| filled.values)
        };
        let one = Ok(vec![(0, "0.30".to_owned())]);
        assert_eq!(read(&[("7.1", "0.30")]), one);
        assert_eq!(read(&[("7.1 again", "0.30")]), one);
        assert_eq!(read(&[("7.1", "0.30"), ("7.1 again", "0.30")]), one);
        assert!(read(&[("7.1", "0.30"), ("7.1 again", "0.35")]).unwrap_err()[0].contains("read twice"));
        assert!(read(&[("7.2", "0.30")]).is_err());
    }
}
