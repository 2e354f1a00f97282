//! Orders the sequential ordering instances named on the command line and prints what it found.
//!
//! `cargo run --release --example sop -- FILE... [--seconds S] [--own] [--seed N] [--work W]`
//!
//! FILE is a TSPLIB file with EDGE_WEIGHT_SECTION and a full matrix, or a bare square matrix (SOPLIB); an entry of -1
//! at row i, column j says that j comes before i. One line each: name, cost, lower bound, proved or not, work spent.
//! The search counts work; `--seconds` (10 unless told) turns time into work by what the first tenth took.
#![allow(unreachable_pub, reason = "its modules serve several programs")]

#[allow(dead_code, reason = "each example reads one kind of file")]
mod instances;
#[path = "instances/watch.rs"]
mod watch;

use std::error::Error;
use std::path::Path;

use instances::{Options, sequential_ordering};
use watch::Watch;

#[allow(
    clippy::print_stdout,
    clippy::disallowed_methods,
    reason = "an example reads files and the clock, and prints"
)]
fn main() -> Result<(), Box<dyn Error>> {
    let options = Options::parse(std::env::args().skip(1))?;
    println!("{:<16} {:>10} {:>10} {:<7} {:>13} {:>8}", "name", "cost", "bound", "proved", "work", "seconds");
    for file in &options.files {
        let name = Path::new(file).file_stem().unwrap_or_default().to_string_lossy();
        let text = std::fs::read_to_string(file).map_err(|error| format!("{file}: {error}"))?;
        let problem = sequential_ordering(&text).map_err(|error| format!("{file}: {error}"))?;
        let watch = Watch::new(options.own);
        let mut search = problem.search(options.seed);
        if let Some(work) = options.work {
            search.advance(work);
        } else {
            search.advance(2_000_000);
            // The rate differs between the kinds of work, so the plan is made in steps.
            for part in [0.1, 0.3, 0.6, 0.85, 1.0] {
                let elapsed = watch.seconds();
                let rate = search.found().work as f64 / elapsed;
                search.advance(((options.seconds * part - elapsed).max(0.0) * rate) as u64);
            }
        }
        let found = search.found();
        let elapsed = watch.seconds();
        if !problem.allows(&found.order) || problem.cost_of(&found.order) != found.cost {
            return Err("the order found doesn't stand up to a second look".into());
        }
        let proved = if found.proved { "proved" } else { "-" };
        println!(
            "{name:<16} {:>10} {:>10} {proved:<7} {:>13} {elapsed:>8.2}",
            found.cost, found.bound, found.work
        );
    }
    Ok(())
}
