//! What paper asks of a step is kept in the record, and printed where all steps are.

use std::path::Path;

use benchleaf::packet::PacketOptions;
use benchleaf::procedure::model::Phase;
use benchleaf::sheet::plain_text;
use benchleaf::source::Memory;
use benchleaf::workshop::{Request, Workshop};

#[test]
fn who_signed_with_what_wrench_and_which_photographs() {
    let pump = "family pump \"Pump\" { origin \"invented for tests\" }
part cover \"Cover\" { held by screws  fate reuse }
fasteners screws 4 \"Screw\" { thread M8x1.25  reusable  tighten 20 N.m from \"invented\" }
strip cover_off \"Take the cover off\" { undo screws  take cover }
";
    let signed = "by: HK, date: 2026-03-05";
    let record = format!(
        "job: \"1\"\nprocedure: pump.rebuild\ndone:\n  cover_off: {{{signed}, photographs: [p1.jpg, 7]}}\n  \
         fit:cover: {{{signed}}}\n  tighten:screws: {{{signed}, second: RT, wrench: TW-2}}\n"
    );
    let mut workshop = Workshop::over(Memory::new().with("pump.rebuild", pump).with("job.yaml", record));
    let view = workshop.job(&Request::of(Path::new("job.yaml"))).value.unwrap();
    let words = |phase| {
        let options = PacketOptions { all: true, ..PacketOptions::of(phase) };
        plain_text(&view.packet(&workshop, &options))
    };
    let (strip, build) = (words(Phase::Strip), words(Phase::Build));
    assert!(strip.contains("Photographs: p1.jpg, 7."), "{strip}");
    assert!(build.contains("Signed too by RT.") && build.contains("Wrench: TW-2."), "{build}");
    let row = build.lines().find(|line| line.contains("| TW-2 |")).unwrap_or_else(|| panic!("{build}"));
    assert!(row.ends_with("| HK, 2026-03-05 |"), "the torque register: {row}");
}
