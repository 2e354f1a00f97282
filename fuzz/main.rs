//! Spoils procedures, records, shop's files and command lines at random and holds the program to what it promises: it
//! answers, quickly, within its memory, and loses nothing. `fuzz/README.md` tells how to run it.
//!
//! The cases are run by processes of their own, so that one that hangs, runs out of memory or aborts is seen from
//! outside and told by its seed. The same seed is the same case again.
#![allow(
    unreachable_pub,
    clippy::unwrap_used,
    clippy::panic,
    clippy::print_stdout,
    clippy::print_stderr,
    clippy::disallowed_methods,
    missing_docs,
    reason = "a test with a clock and a voice of its own"
)]

mod chance;
mod seeds;
mod spoil;
mod targets;

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Child, Command, ExitCode, Stdio};
use std::time::{Duration, Instant};

use targets::TARGETS;

/// Seconds that one case may take: far more than any does, on a busy machine too.
const SLOWEST: u64 = 30;
/// Bytes of memory that the process of a case may hold.
const LARGEST: u64 = 1 << 30;
/// Cases of each target where nothing else is asked for.
const FEW: u64 = 10;

/// What is asked for.
struct Asked {
    targets: Vec<&'static targets::Target>,
    seed: u64,
    cases: Option<u64>,
    seconds: Option<u64>,
}

impl Asked {
    fn read() -> Result<Self, String> {
        let mut asked = Asked { targets: TARGETS.iter().collect(), seed: 1, cases: None, seconds: None };
        let mut words = std::env::args().skip(1);
        while let Some(word) = words.next() {
            let mut number = || -> Result<u64, String> {
                let value = words.next().ok_or(format!("{word} wants a number"))?;
                value.parse().map_err(|_| format!("{value} is no number"))
            };
            match word.as_str() {
                "--seed" => asked.seed = number()?,
                "--cases" => asked.cases = Some(number()?),
                "--seconds" => asked.seconds = Some(number()?),
                // Words that every test target is given.
                other if other.starts_with('-') => {}
                name => {
                    let known = TARGETS.iter().find(|target| target.name == name);
                    asked.targets = vec![known.ok_or(format!("there is no target {name}"))?];
                }
            }
        }
        Ok(asked)
    }
}

fn main() -> ExitCode {
    if let Ok(case) = std::env::var("BENCHLEAF_FUZZ") {
        work(&case);
        return ExitCode::SUCCESS;
    }
    let asked = match Asked::read() {
        Ok(asked) => asked,
        Err(why) => {
            eprintln!("{why}");
            return ExitCode::FAILURE;
        }
    };
    let begin = Instant::now();
    let until = asked.seconds.map(|seconds| begin + Duration::from_secs(seconds));
    let several = std::thread::available_parallelism().map_or(1, usize::from);
    let most = asked.cases.or(until.is_none().then_some(FEW)).unwrap_or(u64::MAX);
    // Each target gets turns of the same length, on all cores, until the time or the cases are over.
    let mut turns: Vec<Turn> =
        asked.targets.iter().map(|target| Turn::new(target, asked.seed, most)).collect();
    let mut found = 0;
    while turns.iter().any(|turn| turn.left > 0) && until.is_none_or(|until| Instant::now() < until) {
        for batch in turns.chunks_mut(several) {
            let mut running: Vec<(&mut Turn, Running)> = batch
                .iter_mut()
                .filter(|turn| turn.left > 0)
                .map(|turn| {
                    let running = turn.begin(until);
                    (turn, running)
                })
                .collect();
            while running.iter().any(|(_, running)| !running.over) {
                std::thread::sleep(Duration::from_millis(20));
                running.iter_mut().for_each(|(_, running)| running.look());
            }
            for (turn, running) in running {
                found += usize::from(turn.end(&running));
            }
        }
    }
    for turn in &turns {
        println!("{:<10} {:>9} cases, seeds from {}", turn.target.name, turn.done, asked.seed);
    }
    let cases: u64 = turns.iter().map(|turn| turn.done).sum();
    println!("{cases} cases in {:.0} s, {found} found", begin.elapsed().as_secs_f64());
    if found == 0 { ExitCode::SUCCESS } else { ExitCode::FAILURE }
}

/// One target's way through its seeds.
struct Turn {
    target: &'static targets::Target,
    next: u64,
    left: u64,
    done: u64,
}

impl Turn {
    fn new(target: &'static targets::Target, seed: u64, most: u64) -> Self {
        Turn { target, next: seed, left: most, done: 0 }
    }

    fn begin(&self, until: Option<Instant>) -> Running {
        let folder = std::env::temp_dir().join(format!(
            "benchleaf-fuzz-{}-{}-{}",
            std::process::id(),
            self.target.name,
            self.next
        ));
        fs::create_dir_all(&folder).unwrap();
        let seconds = until.map_or(u64::MAX, |_| 5);
        let case = format!("{} {} {} {}", self.target.name, self.next, self.left, seconds);
        let child = Command::new(std::env::current_exe().unwrap())
            .env("BENCHLEAF_FUZZ", case)
            .env("NO_COLOR", "1")
            .current_dir(&folder)
            .stdin(Stdio::null())
            .stdout(Stdio::null())
            .stderr(fs::File::create(folder.join("said")).unwrap())
            .spawn()
            .unwrap();
        Running { child, folder, seed: self.next, since: Instant::now(), over: false, wrong: None }
    }

    /// Counts what was done; whether something was found, which is told and kept.
    fn end(&mut self, running: &Running) -> bool {
        let after = running.now().map_or(self.next, |seed| seed + u64::from(running.wrong.is_some()));
        let done = after.saturating_sub(self.next);
        self.done += done;
        self.next += done.max(1);
        self.left -= done.max(1).min(self.left);
        let Some(wrong) = &running.wrong else {
            let _ = fs::remove_dir_all(&running.folder);
            return false;
        };
        let name = self.target.name;
        println!("FOUND {name} --seed {}: {wrong}", running.seed);
        println!("  its files are in {}", running.folder.display());
        let said = fs::read(running.folder.join("said")).unwrap_or_default();
        let said = String::from_utf8_lossy(&said);
        let last: Vec<&str> = said.lines().rev().take(12).collect();
        last.iter().rev().for_each(|line| println!("  {line}"));
        true
    }
}

/// A process at work on a stretch of seeds.
struct Running {
    child: Child,
    folder: PathBuf,
    seed: u64,
    since: Instant,
    over: bool,
    wrong: Option<String>,
}

impl Running {
    /// The seed that the process says it is at; behind the last one when it is through.
    fn now(&self) -> Option<u64> {
        fs::read_to_string(self.folder.join("now")).ok()?.trim().parse().ok()
    }

    /// Looks after the process: whether it is through, hangs, or holds too much.
    fn look(&mut self) {
        if self.over {
            return;
        }
        if let Some(seed) = self.now().filter(|seed| *seed != self.seed) {
            (self.seed, self.since) = (seed, Instant::now());
        }
        if let Some(status) = self.child.try_wait().unwrap() {
            self.over = true;
            self.seed = self.now().unwrap_or(self.seed);
            self.wrong = (!status.success()).then(|| format!("{status}"));
            return;
        }
        let held = memory_of(self.child.id());
        let why = if self.since.elapsed() > Duration::from_secs(SLOWEST) {
            format!("still at work after {SLOWEST} s")
        } else if held > LARGEST {
            format!("holds {} MiB", held >> 20)
        } else {
            return;
        };
        let _ = self.child.kill();
        let _ = self.child.wait();
        (self.over, self.wrong) = (true, Some(why));
    }
}

/// Bytes that a process holds in memory, where the system tells; else nought.
fn memory_of(process: u32) -> u64 {
    let told = fs::read_to_string(format!("/proc/{process}/statm")).unwrap_or_default();
    let pages: u64 = told.split_whitespace().nth(1).and_then(|pages| pages.parse().ok()).unwrap_or(0);
    pages * 4096
}

/// The cases of one process: name of the target, first seed, how many, and for how many seconds.
fn work(case: &str) {
    let mut words = case.split(' ');
    let name = words.next().unwrap();
    let mut number = || words.next().unwrap().parse::<u64>().unwrap();
    let (first, many, seconds) = (number(), number(), number());
    let target = TARGETS.iter().find(|target| target.name == name).unwrap();
    let begin = Instant::now();
    let folder = std::env::current_dir().unwrap();
    let seeds = seeds::Seeds::read(Path::new(env!("CARGO_MANIFEST_DIR")));
    let mut seed = first;
    while seed < first.saturating_add(many) && begin.elapsed().as_secs() < seconds {
        fs::write(folder.join("now"), seed.to_string()).unwrap();
        let mut chance = chance::Chance::new(name, seed);
        if let Err(why) = (target.run)(&seeds, &mut chance, &folder) {
            panic!("{why}");
        }
        seed += 1;
    }
    fs::write(folder.join("now"), seed.to_string()).unwrap();
}
