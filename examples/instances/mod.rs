//! What the measuring examples share: their arguments, and how they read public instance files.

pub mod ordering;

use benchleaf::schedule::{Job, Task};
use benchleaf::{Acyclic, Precedence};
use ordering::Problem;

/// What was asked for on the command line.
#[derive(Clone, Debug, PartialEq)]
pub struct Options {
    /// Instance files, in the order given.
    pub files: Vec<String>,
    /// Seconds for each instance.
    pub seconds: f64,
    /// Start of the random numbers.
    pub seed: u64,
    /// Units of work for each instance, instead of seconds.
    pub work: Option<u64>,
    /// Whether a second is one that this process had a processor for, not one of the clock on the wall.
    pub own: bool,
}

impl Options {
    /// Reads `FILE... [--seconds S] [--own] [--seed N] [--work W]`; a value may also follow its option after `=`.
    ///
    /// # Errors
    /// What is wrong with them, as a message.
    pub fn parse(arguments: impl IntoIterator<Item = String>) -> Result<Options, String> {
        let mut options = Options { files: Vec::new(), seconds: 10.0, seed: 1, work: None, own: false };
        let mut arguments = arguments.into_iter();
        while let Some(argument) = arguments.next() {
            let Some(option) = argument.strip_prefix("--") else {
                options.files.push(argument);
                continue;
            };
            let (name, value) = match option.split_once('=') {
                Some((name, value)) => (name.to_owned(), Some(value.to_owned())),
                None => (option.to_owned(), None),
            };
            if name == "own" {
                options.own = true;
                continue;
            }
            if !["seconds", "seed", "work"].contains(&name.as_str()) {
                return Err(format!(
                    "`--{name}` is not an option; there are --seconds, --own, --seed and --work"
                ));
            }
            let value = value.or_else(|| arguments.next()).ok_or(format!("`--{name}` needs a value"))?;
            let wrong = || format!("`{value}` is no value for `--{name}`");
            match name.as_str() {
                "seconds" => {
                    options.seconds = value.parse().map_err(|_| wrong())?;
                    if !options.seconds.is_finite() || options.seconds <= 0.0 {
                        return Err(wrong());
                    }
                }
                "seed" => options.seed = value.parse().map_err(|_| wrong())?,
                _ => options.work = Some(value.parse().map_err(|_| wrong())?),
            }
        }
        if options.files.is_empty() { Err("name at least one instance file".to_owned()) } else { Ok(options) }
    }
}

/// Reads a sequential ordering instance: a TSPLIB file with EDGE_WEIGHT_SECTION and a full matrix, or the bare matrix
/// (SOPLIB), with or without its side before it. An entry of -1 at row i, column j says that j comes before i; the
/// first node is first and the last one last.
///
/// # Errors
/// What is wrong with the file, as a message.
pub fn sequential_ordering(text: &str) -> Result<Problem, String> {
    let matrix = text.split_once("EDGE_WEIGHT_SECTION").map_or(text, |(_, matrix)| matrix);
    let mut numbers: Vec<i64> = Vec::new();
    for word in matrix.split_whitespace() {
        match word.parse() {
            Ok(number) => numbers.push(number),
            // The end, or a section of no interest.
            Err(_) if word.starts_with(|first: char| first.is_ascii_uppercase()) => break,
            Err(_) => return Err(format!("`{word}` is not a whole number")),
        }
    }
    let entries = match numbers.split_first() {
        Some((&first, rest)) if first > 0 && first.checked_mul(first) == Some(rest.len() as i64) => rest,
        _ => &numbers[..],
    };
    let nodes = entries.len().isqrt();
    if nodes == 0 || nodes * nodes != entries.len() {
        return Err(format!("{} entries make no square matrix", entries.len()));
    }
    let stated = (0..nodes * nodes).filter(|&at| entries[at] == -1 && at / nodes != at % nodes);
    let stated = stated.map(|at| (at % nodes, at / nodes));
    let ends = (1..nodes).map(|node| (0, node)).chain((0..nodes - 1).map(|node| (node, nodes - 1)));
    let graph = Acyclic::new(Precedence::new(nodes, stated.chain(ends)))
        .map_err(|_| "the precedence has a cycle".to_owned())?;
    let cost = entries.iter().map(|&cost| match u32::try_from(cost.max(0)) {
        Ok(cost) if cost < 1 << 28 => Ok(cost),
        _ => Err(format!("{cost} is too large a cost")),
    });
    Ok(Problem::new(graph, cost.collect::<Result<_, _>>()?))
}

/// The numbers of each line after the one that begins with `title`, up to a line without a leading number.
fn rows(text: &str, title: &str) -> Vec<Vec<usize>> {
    let after = text.lines().skip_while(|line| !line.trim_start().starts_with(title)).skip(1);
    let numbers =
        after.map(|line| line.split_whitespace().map_while(|word| word.parse().ok()).collect::<Vec<_>>());
    numbers.skip_while(Vec::is_empty).take_while(|row| !row.is_empty()).collect()
}

/// Reads a single-mode project scheduling instance, a PSPLIB `.sm` file.
///
/// # Errors
/// What is wrong with the file, as a message.
pub fn project(text: &str) -> Result<Job, String> {
    let precedence = rows(text, "PRECEDENCE RELATIONS");
    let requests = rows(text, "REQUESTS/DURATIONS");
    let available = rows(text, "RESOURCEAVAILABILITIES");
    let capacity: Vec<u32> =
        available.first().ok_or("no resources")?.iter().map(|&number| number as u32).collect();
    let count = precedence.len();
    if count == 0 || requests.len() != count {
        return Err(format!("{count} jobs with successors, {} with durations", requests.len()));
    }
    let mut pairs = Vec::new();
    for row in &precedence {
        for &next in row.get(3..).unwrap_or_default() {
            if row[0] == 0 || row[0] > count || next == 0 || next > count {
                return Err(format!("no job {next} or {}", row[0]));
            }
            pairs.push((row[0] - 1, next - 1));
        }
    }
    let graph = Acyclic::new(Precedence::new(count, pairs)).map_err(|_| "the precedence has a cycle")?;
    let mut tasks = Vec::with_capacity(count);
    for row in &requests {
        if row.len() != 3 + capacity.len() || row[1] != 1 {
            return Err(format!("job {} is not of a single mode with a need a resource", row[0]));
        }
        let needs = row[3..].iter().map(|&number| number as u32).collect();
        tasks.push(Task {
            duration: row[2] as u64,
            needs,
            states: Vec::new(),
            sets: Vec::new(),
            relies: Vec::new(),
        });
    }
    Ok(Job { graph, tasks, capacity, change: Vec::new() })
}
