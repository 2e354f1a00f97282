//! An engine that is not of the family: every sheet says so, alone and in the packet, and so do the lists that leave the house.

use super::words_of;
use crate::cli::{Scratch, benchleaf};
use benchleaf::model::Phase;
use benchleaf::{PacketOptions, sheet_kinds};

const FAMILY: &str =
    "family e \"E\" { edition 1  origin \"invented for tests\"  invented  identify \"pad\" reads \"E3-\" }
part sump \"Sump\" { held by sump_bolts  fate reuse }
part ring \"Ring\" { fate renew  price 4 EUR }
fasteners sump_bolts 4 \"Sump bolt\" { kind bolt  thread M8x1.25  length 20 mm  reusable  tighten by feel }
strip off \"Sump off\" { undo sump_bolts  take sump, ring }
survey look_at \"Look\" { do \"Look at the block.\" }
start run \"Run it\" { do \"Fill it with oil.\" }
";

fn record(number: &str) -> String {
    format!("job: \"1\"\nprocedure: e.rebuild\nengine_no: {number}\n")
}

#[test]
fn every_sheet_of_another_engine_holds() {
    let told = "the machine is stamped otherwise than this family";
    for phase in [Phase::Strip, Phase::Survey, Phase::Build, Phase::Start] {
        for kind in sheet_kinds(phase) {
            let options = PacketOptions { sheets: vec![kind], all: true, ..PacketOptions::of(phase) };
            let right = words_of(("e.rebuild", FAMILY), &record("E3-17"), &options);
            assert!(!right.contains(told), "{phase:?} {kind:?}: {right}");
            let wrong = words_of(("e.rebuild", FAMILY), &record("XX9-1"), &options);
            // A phase that has no such sheet has nothing to say on it.
            assert!(!right.contains("===") || wrong.contains(told), "{phase:?} {kind:?}: {wrong}");
        }
    }
}

#[test]
fn lists_for_another_engine_hold_line_by_line() {
    let scratch = Scratch::new("other-engine");
    scratch.file("e.rebuild", FAMILY);
    for (number, held) in [("E3-17", false), ("XX9-1", true)] {
        let job = scratch.file("job.yaml", record(number));
        let output = benchleaf(&["verdict", &job, "--format", "order-csv"]);
        let text = String::from_utf8(output.stdout).unwrap();
        let lines: Vec<&str> = text.lines().skip(1).collect();
        assert!(!lines.is_empty(), "{text}");
        assert!(lines.iter().all(|line| line.contains("stamped otherwise") == held), "{text}");
    }
}
