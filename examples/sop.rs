//! Orders the sequential ordering instances named on the command line and prints what it found.
//!
//! `cargo run --release --example sop -- FILE... [--seconds S] [--seed N] [--work W]`
//!
//! FILE is a TSPLIB file with EDGE_WEIGHT_SECTION and a full matrix, or a bare square matrix (SOPLIB); an entry of -1
//! at row i, column j says that j comes before i. One line each: name, cost, lower bound, proved or not, work spent.
//! The search counts work; `--seconds` (10 unless told) turns time into work by what the first tenth took.

use std::error::Error;
use std::path::Path;
use std::time::Instant;

use benchleaf::sequence::search::{Problem, Search};
use benchleaf::sequence::{Acyclic, Precedence};

fn read(text: &str) -> Result<Problem, Box<dyn Error>> {
    let matrix = text.split("EDGE_WEIGHT_SECTION").last().unwrap_or_default();
    let numbers = matrix
        .split_whitespace()
        .take_while(|word| *word != "EOF")
        .map(str::parse)
        .collect::<Result<Vec<i64>, _>>()?;
    let side = |count: usize| (1..=count).take_while(|side| side * side <= count).last().unwrap_or(0);
    let (nodes, entries) = match numbers.split_first() {
        Some((&first, rest)) if rest.len() as i64 == first * first => (first as usize, rest),
        _ => (side(numbers.len()), &numbers[..]),
    };
    if nodes * nodes != entries.len() {
        return Err("the matrix is not square".into());
    }
    let before = (0..nodes * nodes).filter(|&at| entries[at] == -1).map(|at| (at % nodes, at / nodes));
    let graph = Acyclic::new(Precedence::new(nodes, before)).map_err(|_| "the precedence has a cycle")?;
    let cost = entries.iter().map(|&cost| u32::try_from(cost.max(0))).collect::<Result<Vec<_>, _>>()?;
    Ok(Problem::matrix(graph, cost))
}

#[allow(
    clippy::print_stdout,
    clippy::disallowed_methods,
    reason = "an example reads files and the clock, and prints"
)]
fn main() -> Result<(), Box<dyn Error>> {
    let mut files = Vec::new();
    let mut seconds = 10.0;
    let mut seed = 1;
    let mut work = None;
    let mut arguments = std::env::args().skip(1);
    while let Some(argument) = arguments.next() {
        let mut value = || arguments.next().ok_or(format!("{argument} needs a value"));
        match argument.as_str() {
            "--seconds" => seconds = value()?.parse()?,
            "--seed" => seed = value()?.parse()?,
            "--work" => work = Some(value()?.parse::<u64>()?),
            _ => files.push(argument),
        }
    }
    println!("{:<16} {:>10} {:>10} {:<7} {:>13} {:>8}", "name", "cost", "bound", "proved", "work", "seconds");
    for file in &files {
        let problem = read(&std::fs::read_to_string(file)?)?;
        let start = Instant::now();
        let mut search = Search::new(&problem, seed);
        if let Some(work) = work {
            search.advance(work);
        } else {
            search.advance(2_000_000);
            // The rate differs between the kinds of work, so the plan is made in steps.
            for part in [0.1, 1.0, 1.0] {
                let elapsed = start.elapsed().as_secs_f64();
                let rate = search.found().work as f64 / elapsed;
                search.advance(((seconds * part - elapsed).max(0.0) * rate) as u64);
            }
        }
        let found = search.found();
        let elapsed = start.elapsed().as_secs_f64();
        if !problem.graph().allows(&found.order) || problem.cost_of(&found.order) != found.cost {
            return Err("the order found doesn't stand up to a second look".into());
        }
        let name = Path::new(file).file_stem().unwrap_or_default().to_string_lossy();
        let proved = if found.proved { "proved" } else { "-" };
        println!(
            "{name:<16} {:>10} {:>10} {proved:<7} {:>13} {elapsed:>8.2}",
            found.cost, found.bound, found.work
        );
    }
    Ok(())
}
