//! The whole check of made-up procedures of growing size: read, resolved, connected and proved. Prints the time of
//! each stage by itself, and of the whole with its lints, and the exponent with which the whole grows from size to size.
#![expect(
    clippy::print_stdout,
    clippy::disallowed_methods,
    reason = "a benchmark reads the clock and prints"
)]

use std::fmt::Write;
use std::hint::black_box;
use std::path::Path;
use std::time::{Duration, Instant};

use benchleaf::{Memory, Workshop, connect, parse, resolve};

/// A made-up procedure of about `steps` strip steps: assemblies of ten parts, each under the next and held by a set
/// of its own, the sets undone and the parts taken in steps of their own; oil drained once, and some steps done under
/// one answer only.
fn procedure(steps: usize) -> String {
    let mut text =
        String::from("-- Made up for a benchmark.\nfamily big \"Big\" { edition 1  origin \"invented\" }\n");
    text += "state oil \"Oil\" = full (at first), drained\nask fan \"Is a fan fitted?\" = yes, no\n";
    let parts = steps / 2;
    let mut add = |line: std::fmt::Arguments<'_>| writeln!(text, "{line}").expect("a string takes all");
    for part in 0..parts {
        let cover = if part % 10 == 9 || part + 1 == parts {
            String::new()
        } else {
            format!("under part{} ", part + 1)
        };
        let releases = if part % 50 == 0 { "releases oil = full " } else { "" };
        add(format_args!("part part{part} \"Part\" {{ {cover}held by set{part} {releases}fate reuse }}"));
        add(format_args!("fasteners set{part} 4 \"Set\" {{ kind bolt  thread M8  reusable }}"));
    }
    add(format_args!("strip drain \"Drain the oil\" {{ set oil = drained }}"));
    for part in 0..parts {
        if part % 500 == 0 {
            add(format_args!("section section{part} \"Section\""));
        }
        add(format_args!("strip undo{part} \"Undo a set\" {{ undo set{part} }}"));
        add(format_args!("strip take{part} \"Take a part\" {{ take part{part} }}"));
        if part % 97 == 0 {
            add(format_args!(
                "strip note{part} \"Note\" {{ when fan = yes  needs part{part} off  do \"Look at it.\" }}"
            ));
        }
    }
    text
}

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
