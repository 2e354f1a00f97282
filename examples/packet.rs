//! One packet through the library: `cargo run --example packet -- PROCEDURE.rebuild OUT.pdf`.

#![expect(clippy::print_stderr, reason = "an example of a program of its own")]

use std::path::Path;
use std::process::ExitCode;

use benchleaf::model::Phase;
use benchleaf::{
    PacketOptions, PageSetup, Request, Workshop, lay_out, render_lines, write_atomically, write_pdf,
};

fn main() -> ExitCode {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let [procedure, out] = arguments.as_slice() else {
        eprintln!("write: packet PROCEDURE.rebuild OUT.pdf");
        return ExitCode::from(2);
    };
    let mut workshop = Workshop::new();
    let opened = workshop.job(&Request::of(procedure));
    eprint!("{}", render_lines(workshop.sources(), &opened.diagnostics));
    let Some(view) = opened.value else { return ExitCode::from(1) };
    let packet = view.packet(&workshop, &PacketOptions::of(Phase::Strip));
    let pages = lay_out(&packet, &PageSetup::default());
    if pages.has_errors() {
        return ExitCode::from(1);
    }
    match write_atomically(Path::new(out), &write_pdf(&pages.value)) {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            eprintln!("{out}: {error}");
            ExitCode::from(2)
        }
    }
}
