//! The whole check of made-up procedures of growing size: read, resolved, connected and proved. Prints the time of
//! each stage by itself, and of the whole with its lints, and the exponent with which the whole grows from size to size.
#![expect(
    clippy::print_stdout,
    clippy::disallowed_methods,
    reason = "a benchmark reads the clock and prints"
)]

use std::hint::black_box;
use std::path::Path;
use std::time::{Duration, Instant};

use benchleaf::{Memory, Workshop, connect, parse, resolve};

mod made_up;

use made_up::procedure;

fn main() {
    let asked: Option<usize> = std::env::args().nth(1).and_then(|size| size.parse().ok());
    let sizes = asked.map_or_else(|| vec![100, 1_000, 10_000, 50_000], |size| vec![size]);
    let mut last: Option<(usize, Duration)> = None;
    println!("{:>7} {:>9} {:>9} {:>9} {:>9}  exponent", "steps", "read", "resolve", "connect", "whole");
    for size in sizes {
        let mut workshop = Workshop::over(Memory::new().with("big.rebuild", procedure(size)));
        let begin = Instant::now();
        let checked = workshop.check(Path::new("big.rebuild")).value.expect("it can be read");
        let whole = begin.elapsed();
        let network = checked.network.expect("the benchmark's procedure is sound");
        assert!(network.nodes.len() >= size, "every step has its node");
        let file = checked.procedure.files[0];
        let begin = Instant::now();
        let tree = parse(file, &workshop.sources().file(file).text).value;
        let read = begin.elapsed();
        let begin = Instant::now();
        let resolved = resolve(&[tree]).value;
        let resolve = begin.elapsed();
        let begin = Instant::now();
        black_box(connect(&resolved));
        let connect = begin.elapsed();
        let exponent = last.map_or(String::new(), |(before, time)| {
            let growth = (whole.as_secs_f64() / time.as_secs_f64()).ln() / (size as f64 / before as f64).ln();
            format!("{growth:.2}")
        });
        let ms = |time: Duration| format!("{:.1}ms", time.as_secs_f64() * 1e3);
        println!(
            "{size:>7} {:>9} {:>9} {:>9} {:>9}  {exponent}",
            ms(read),
            ms(resolve),
            ms(connect),
            ms(whole)
        );
        last = Some((size, whole));
    }
}
