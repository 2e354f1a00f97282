//! How long it takes from sheets to pages and from pages to the file, against the same pages written raw.
//!
//! The raw writer puts down the same text and shapes in the same fonts, compressed at the same level on one
//! thread, and nothing else: no tags, outline, links or identity. Prints medians, ratios, sizes, and the peak
//! memory of a process that makes a thousand pages. `cargo bench --bench page`

#![expect(
    clippy::disallowed_methods,
    clippy::print_stdout,
    reason = "a benchmark looks at the clock and reports"
)]

#[path = "../../tests/page/demo.rs"]
mod demo;
mod raw;

use benchleaf::packet::sheet::{Block, Packet, StepBlock};
use benchleaf::page::{PageSetup, Pages, lay_out, write_pdf};
use std::hint::black_box;
use std::time::{Duration, Instant};

/// A packet of about this many pages: the steps of the demonstration again and again.
fn packet(pages: usize) -> Packet {
    let mut packet = demo::packet();
    let strip = packet.sheets.remove(2);
    let kit = packet.sheets.remove(1);
    packet.sheets.clear();
    let mut number = 0;
    while packet.sheets.len() * 8 < pages {
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
    }
    packet
}

fn median<T>(runs: usize, mut work: impl FnMut() -> T) -> Duration {
    let mut times: Vec<Duration> = (0..runs)
        .map(|_| {
            let start = Instant::now();
            black_box(work());
            start.elapsed()
        })
        .collect();
    times.sort();
    times[times.len() / 2]
}

fn report(pages: usize, runs: usize) {
    let packet = packet(pages);
    let setup = PageSetup::default();
    let laid_out: Pages = lay_out(&packet, &setup).value;
    let layout = median(runs, || lay_out(&packet, &setup));
    let written = median(runs, || write_pdf(&laid_out));
    let raw = median(runs, || raw::write(&laid_out));
    let (size, raw_size) = (write_pdf(&laid_out).len(), raw::write(&laid_out).len());
    println!(
        "{:5} pages: layout {:7.1} ms, file {:7.1} ms, raw {:7.1} ms, ratio {:.2}; {} KB against {} KB",
        laid_out.pages.len(),
        layout.as_secs_f64() * 1e3,
        written.as_secs_f64() * 1e3,
        raw.as_secs_f64() * 1e3,
        written.as_secs_f64() / raw.as_secs_f64(),
        size / 1024,
        raw_size / 1024,
    );
}

/// Largest memory of this process so far, in KiB, where the system tells.
fn peak() -> Option<u64> {
    let status = std::fs::read_to_string("/proc/self/status").ok()?;
    status
        .lines()
        .find_map(|line| line.strip_prefix("VmHWM:")?.trim().strip_suffix("kB")?.trim().parse().ok())
}

fn main() {
    // A child of this process makes the thousand pages, so that nothing else counts.
    if std::env::args().any(|argument| argument == "--memory") {
        let bytes = write_pdf(&lay_out(&packet(1000), &PageSetup::default()).value);
        println!("peak memory {} MiB for {} KB", peak().unwrap_or(0) / 1024, bytes.len() / 1024);
        return;
    }
    report(60, 31);
    report(1000, 7);
    if let Ok(program) = std::env::current_exe() {
        let child = std::process::Command::new(program).arg("--memory").output();
        println!(
            "{}",
            child.map(|out| String::from_utf8_lossy(&out.stdout).trim().to_string()).unwrap_or_default()
        );
    }
}
