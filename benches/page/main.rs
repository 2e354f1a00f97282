//! How long it takes from sheets to pages and from pages to the file, against the same pages written raw.
//!
//! The raw writer puts down the same operators in the same fonts, compressed at the same level, and nothing else: no
//! tags, outline, links, attachments or identity. It gets as many threads as the packet's writer takes; where `taskset`
//! is there, both are measured on one core too. Every ratio is of medians from one run, the two taking turns. No line is quite like
//! another, as in a real packet. Peak
//! memory is that of a process of its own.
//!
//! ```sh
//! cargo bench --bench page
//! ```
//!
//! `--export PAGES FOLDER`, `--file PAGES OUT.pdf` and `--raw PAGES OUT.pdf` serve `compare.py`, which sets the same content with other programs.
#![allow(unreachable_pub, reason = "its modules serve several programs")]
#![allow(clippy::panic, reason = "a benchmark that can't go on stops")]
#![expect(
    clippy::disallowed_methods,
    clippy::print_stdout,
    reason = "a benchmark looks at the clock and reports"
)]

#[path = "../../tests/page/demo.rs"]
mod demo;
mod export;
mod raw;

use benchleaf::pages::Item;
use benchleaf::pages::Pages;
use benchleaf::sheet::{Block, Packet, StepBlock};
use benchleaf::{PageSetup, lay_out, write_pdf};
use std::hint::black_box;
use std::path::Path;
use std::process::Command;
use std::time::{Duration, Instant};

/// A packet of at least so many pages: the steps, tables, hazards and figures of the demonstration again and again.
fn packet(pages: usize) -> Packet {
    let mut packet = demo::packet();
    let strip = packet.sheets.remove(2);
    let kit = packet.sheets.remove(1);
    packet.sheets.clear();
    let mut number = 0;
    let mut add = |packet: &mut Packet| {
        let mut sheet = strip.clone();
        for block in &mut sheet.blocks {
            if let Block::Step(StepBlock { number: own, anchor, .. }) = block {
                number += 1;
                *own = number.to_string();
                *anchor = demo::anchor(&format!("step:{number}"));
            }
        }
        sheet.blocks.extend(kit.blocks.iter().cloned());
        packet.sheets.push(sheet);
    };
    add(&mut packet);
    let each = lay_out(&packet, &PageSetup::default()).value.pages.len();
    while packet.sheets.len() * each < pages {
        add(&mut packet);
    }
    packet
}

/// Turns the words of every line round and changes its numbers: on a real packet few lines are the same, while their
/// words are.
fn vary(pages: &mut Pages) {
    let mut state: u64 = 7;
    let mut below = |limit: u64| {
        state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (state >> 33) % limit
    };
    for item in pages.pages.iter_mut().flat_map(|page| &mut page.groups).flat_map(|group| &mut group.items) {
        let Item::Text(run) = item else { continue };
        let mut words: Vec<&str> = run.text.split(' ').collect();
        let turns = below(words.len() as u64) as usize;
        words.rotate_left(turns);
        let turned = words.join(" ");
        let digit = |c: char| if c.is_ascii_digit() { (b'0' + below(10) as u8) as char } else { c };
        run.text = turned.chars().map(digit).collect();
    }
}

fn time<T>(work: impl FnOnce() -> T) -> Duration {
    let start = Instant::now();
    black_box(work());
    start.elapsed()
}

/// Milliseconds of the run in the middle.
fn median(mut times: Vec<Duration>) -> f64 {
    times.sort();
    times[times.len() / 2].as_secs_f64() * 1e3
}

/// As many threads as the packet's writer takes.
fn threads() -> usize {
    std::thread::available_parallelism().map_or(1, usize::from)
}

fn report(pages: usize, runs: usize) {
    let packet = packet(pages);
    let mut laid_out: Pages = lay_out(&packet, &PageSetup::default()).value;
    vary(&mut laid_out);
    let (mut layout, mut written, mut raw) = (Vec::new(), Vec::new(), Vec::new());
    for _ in 0..runs {
        layout.push(time(|| lay_out(&packet, &PageSetup::default())));
        written.push(time(|| write_pdf(&laid_out)));
        raw.push(time(|| raw::write(&laid_out, threads())));
    }
    let (size, raw_size) = (write_pdf(&laid_out).len(), raw::write(&laid_out, 1).len());
    let (layout, written, raw) = (median(layout), median(written), median(raw));
    println!(
        "{:5} pages, {} core{}: layout {layout:7.1} ms; file {written:7.1} ms, raw {raw:7.1} ms, ratio {:.2}; \
         {} KB, raw {} KB",
        laid_out.pages.len(),
        threads(),
        if threads() == 1 { "" } else { "s" },
        written / raw,
        size / 1024,
        raw_size / 1024,
    );
}

fn report_all() {
    report(60, 41);
    report(1000, 11);
}

/// Largest memory of this process so far, in KiB, where the system tells.
fn peak() -> Option<u64> {
    let status = std::fs::read_to_string("/proc/self/status").ok()?;
    status
        .lines()
        .find_map(|line| line.strip_prefix("VmHWM:")?.trim().strip_suffix("kB")?.trim().parse().ok())
}

/// What a command prints; none if it can't be run.
fn said(command: &mut Command) -> Option<String> {
    let output = command.output().ok().filter(|output| output.status.success())?;
    Some(String::from_utf8_lossy(&output.stdout).trim_end().to_string())
}

fn main() {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let arguments: Vec<&str> =
        arguments.iter().map(String::as_str).filter(|word| *word != "--bench").collect();
    match arguments.as_slice() {
        [how @ ("--file" | "--raw"), pages, path] => {
            let packet = packet(pages.parse().expect("a number of pages"));
            let taken = time(|| {
                let pages = lay_out(&packet, &PageSetup::default()).value;
                let bytes = if *how == "--raw" { raw::write(&pages, threads()) } else { write_pdf(&pages) };
                std::fs::write(path, &bytes).expect("the file can be written");
            });
            println!("{} {}", peak().unwrap_or(0), taken.as_secs_f64());
        }
        ["--export", pages, folder] => {
            export::write(&packet(pages.parse().expect("a number of pages")), Path::new(folder));
        }
        ["--one-core"] => report_all(),
        _ => {
            report_all();
            let program = std::env::current_exe().expect("a process knows its program");
            match said(Command::new("taskset").args(["-c", "0"]).arg(&program).arg("--one-core")) {
                Some(words) => println!("{words}"),
                None => println!("no taskset: nothing is measured on one core"),
            }
            let out = std::env::temp_dir().join(format!("benchleaf-bench-{}.pdf", std::process::id()));
            let told = said(Command::new(&program).args(["--file", "1000"]).arg(&out)).unwrap_or_default();
            std::fs::remove_file(&out).unwrap_or_default();
            let peak: u64 = told.split(' ').next().and_then(|peak| peak.parse().ok()).unwrap_or(0);
            println!("peak memory of 1000 pages, layout and file: {} MiB", peak / 1024);
        }
    }
}
