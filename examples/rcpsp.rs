//! Schedules the single-mode PSPLIB instances named on the command line and prints what it found.
//!
//! `cargo run --release --example rcpsp -- FILE... [--seconds S] [--own] [--seed N] [--work W]`
//!
//! FILE is a PSPLIB `.sm` file. One line each: name, span, lower bound, proved or not, work spent. The search counts
//! work; `--seconds` (10 unless told) turns time into work by what a first short search took.
#![allow(unreachable_pub, reason = "its modules serve several programs")]

#[allow(dead_code, reason = "each example reads one kind of file")]
mod instances;
#[path = "instances/watch.rs"]
mod watch;

use std::error::Error;
use std::path::Path;

use benchleaf::schedule::best_schedule;
use benchleaf::search::Effort;
use instances::{Options, project};
use watch::Watch;

#[allow(
    clippy::print_stdout,
    clippy::disallowed_methods,
    reason = "an example reads files and the clock, and prints"
)]
fn main() -> Result<(), Box<dyn Error>> {
    let options = Options::parse(std::env::args().skip(1))?;
    println!("{:<16} {:>10} {:>10} {:<7} {:>13} {:>8}", "name", "span", "bound", "proved", "work", "seconds");
    for file in &options.files {
        let name = Path::new(file).file_stem().unwrap_or_default().to_string_lossy();
        let text = std::fs::read_to_string(file).map_err(|error| format!("{file}: {error}"))?;
        let job = project(&text).map_err(|error| format!("{file}: {error}"))?;
        let watch = Watch::new(options.own);
        let schedule = |work: u64| {
            best_schedule(&job, job.graph.order(), Effort { work, seed: options.seed })
                .map_err(|task| format!("{file}: task {task} needs too much"))
        };
        let mut found = schedule(options.work.unwrap_or(2_000_000))?;
        if options.work.is_none() && !found.proved {
            let elapsed = watch.seconds();
            let rate = found.work as f64 / elapsed;
            let longer = schedule(((options.seconds - elapsed).max(0.0) * rate) as u64)?;
            let work = found.work + longer.work;
            if longer.span <= found.span {
                found = longer;
            }
            found.work = work;
        }
        let elapsed = watch.seconds();
        if let Some(conflict) = job.conflict(&found.start) {
            return Err(format!("the schedule doesn't stand up to a second look: {conflict:?}").into());
        }
        let proved = if found.proved { "proved" } else { "-" };
        println!(
            "{name:<16} {:>10} {:>10} {proved:<7} {:>13} {elapsed:>8.2}",
            found.span, found.bound, found.work
        );
    }
    Ok(())
}
