//! Schedules the single-mode PSPLIB instances named on the command line and prints what it found.
//!
//! `cargo run --release --example rcpsp -- FILE... [--work W] [--seed N]`
//!
//! FILE is a PSPLIB `.sm` file. One line each: name, span, lower bound, proved or not, work spent.

use std::error::Error;
use std::path::Path;

use benchleaf::sequence::schedule::{Job, Task, best_schedule};
use benchleaf::sequence::search::Effort;
use benchleaf::sequence::{Acyclic, Precedence};

/// The numbers of each line after the one that begins with `title`, up to a line without a leading number.
fn rows(text: &str, title: &str) -> Vec<Vec<usize>> {
    let after = text.lines().skip_while(|line| !line.starts_with(title)).skip(1);
    let numbers =
        after.map(|line| line.split_whitespace().map_while(|word| word.parse().ok()).collect::<Vec<_>>());
    numbers.skip_while(Vec::is_empty).take_while(|row| !row.is_empty()).collect()
}

fn read(text: &str) -> Result<Job, Box<dyn Error>> {
    let precedence = rows(text, "PRECEDENCE RELATIONS");
    let requests = rows(text, "REQUESTS/DURATIONS");
    let available = rows(text, "RESOURCEAVAILABILITIES");
    let capacity = available.first().ok_or("no resources")?.iter().map(|&number| number as u32).collect();
    let pairs = precedence.iter().flat_map(|row| row[3..].iter().map(|&next| (row[0] - 1, next - 1)));
    let graph =
        Acyclic::new(Precedence::new(precedence.len(), pairs)).map_err(|_| "the precedence has a cycle")?;
    let task = |row: &Vec<usize>| Task {
        duration: row[2] as u64,
        needs: row[3..].iter().map(|&number| number as u32).collect(),
        states: Vec::new(),
    };
    let tasks = requests.iter().map(task).collect();
    Ok(Job { graph, tasks, capacity, change: Vec::new(), apart: Vec::new() })
}

#[allow(clippy::print_stdout, clippy::disallowed_methods, reason = "an example reads files and prints")]
fn main() -> Result<(), Box<dyn Error>> {
    let mut files = Vec::new();
    let mut effort = Effort { work: 300_000_000, seed: 1 };
    let mut arguments = std::env::args().skip(1);
    while let Some(argument) = arguments.next() {
        let mut value = || arguments.next().ok_or(format!("{argument} needs a value"));
        match argument.as_str() {
            "--work" => effort.work = value()?.parse()?,
            "--seed" => effort.seed = value()?.parse()?,
            _ => files.push(argument),
        }
    }
    println!("{:<12} {:>6} {:>6} {:<7} {:>12}", "name", "span", "bound", "proved", "work");
    for file in &files {
        let job = read(&std::fs::read_to_string(file)?)?;
        let found = best_schedule(&job, job.graph.order(), effort)
            .map_err(|task| format!("task {task} needs too much"))?;
        if let Some(conflict) = job.conflict(&found.start) {
            return Err(format!("the schedule doesn't stand up to a second look: {conflict:?}").into());
        }
        let name = Path::new(file).file_stem().unwrap_or_default().to_string_lossy();
        let proved = if found.proved { "proved" } else { "-" };
        println!("{name:<12} {:>6} {:>6} {proved:<7} {:>12}", found.span, found.bound, found.work);
    }
    Ok(())
}
