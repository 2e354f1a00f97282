//! `compare`: each change at the bench once, under its heading, whatever else was laid out or put elsewhere.

use std::fs;

use super::{Scratch, benchleaf, stderr, stdout};

const OLD: &str = "family pump \"Pump\" { edition 1  origin \"invented\"  invented }
part cover \"Cover\" { held by screws  fate reuse }
part ring \"Ring\" { under cover  fate renew  harmless \"nitrile\" }
fasteners screws 4 \"Screw\" { thread M6x1  class 8.8  drive 10 mm  reusable  tighten 8 N.m from \"sheet 1, invented\" }
fasteners plug 1 \"Plug\" { thread M8x1  drive 12 mm  reusable  tighten by feel }
tool socket_10 \"10 mm socket\" { kind socket  size 10 mm  drive 1/4 in }
tool socket_12 \"12 mm socket\" { kind socket  size 12 mm  drive 1/4 in }
hazard spring caution spring { hazard \"The ring is sprung.\"  consequence \"It flies.\"  avoid \"Goggles on.\" }
strip plug_out \"Plug out\" { tools socket_12  undo plug }
strip cover_off \"Cover off\" {
    tools socket_10
    undo screws
    take cover
    hazard spring
    take ring
}
strip look_in \"Look into it\" { after cover_off  photo \"the inside\" }
";

/// The second edition: other layout and order of clauses, which is no change, and changes of every kind.
fn new() -> String {
    OLD.replace("edition 1", "edition 2")
        .replace("held by screws  fate reuse", "fate reuse\n    held by   screws")
        .replace("reusable  tighten 8 N.m", "once  tighten 9 N.m")
        .replace("avoid \"Goggles on.\"", "avoid \"Goggles on, hand over it.\"")
        .replace("    take ring\n", "    take ring \"By hand.\"\n")
        .replace("strip look_in \"Look into it\" { after cover_off  photo \"the inside\" }\n", "")
        .replace("strip plug_out \"Plug out\" {", "strip plug_out \"Plug out\" { after cover_off ")
        + "part gasket \"Gasket\" { under ring  fate renew  harmless \"paper\" }\nstrip gasket_off \"Gasket off\" { take gasket }\n"
}

#[test]
fn each_change_is_told_once_where_it_belongs() {
    let scratch = Scratch::new("compare");
    let old = scratch.file("old.rebuild", OLD);
    let new = scratch.file("new.rebuild", new());
    let output = benchleaf(&["compare", &old, &new]);
    assert!(output.status.success(), "{}", stderr(&output));
    let told = stdout(&output);
    let expected = "Pump, edition 1, then edition 2: 10 changes

Torques and how fasteners are treated
  Screw (screws): was tighten to 8 N·m (sheet 1, invented)
                  is  tighten to 9 N·m (sheet 1, invented) (line 5)

Used once or again
  Screw (screws): was may be used again
                  is  serves once: a new one each time (line 5)

Hazards
  spring (spring): was to avoid it: Goggles on.
                   is  to avoid it: Goggles on, hand over it. (line 9)

Steps
  Plug out (plug_out): new: not before cover off (line 10)
  Cover off (cover_off): was take off ring
                         is  take off ring: By hand. (line 16)
  Look into it (look_in): gone: strip: not before cover off; photo: the inside (line 17 of the old)
  Gasket off (gasket_off): new: strip: take off gasket (line 19)

Parts, fasteners, tools and what else is declared
  Gasket (gasket): new: part: lies under ring; becomes: renew; harmless: paper (line 18)

Order of work
  Cover off, in the strip: was behind \"Plug out\"
                           is  first (place 1 of those in both)
  Tighten the plug, in the build: was behind \"Tighten the screws\"
                                  is  first (place 1 of those in both)
";
    assert_eq!(told, expected);
    assert!(!told.contains("held by"), "what is only laid out otherwise is no change: {told}");
}

#[test]
fn the_same_laid_out_anew_changes_nothing_and_a_sheet_never_replaces_an_edition() {
    let scratch = Scratch::new("compare-same");
    let old = scratch.file("old.rebuild", OLD);
    let new = scratch.file("new.rebuild", OLD.replace("  ", "\n    "));
    let output = benchleaf(&["compare", &old, &new]);
    assert_eq!(
        stdout(&output),
        "Pump, edition 1, then edition 1: nothing changes at the bench\n",
        "{}",
        stderr(&output)
    );
    let refused = benchleaf(&["compare", &old, &new, "-o", &old]);
    assert_eq!(refused.status.code(), Some(2));
    assert_eq!(fs::read_to_string(&old).unwrap(), OLD);
    let sheet = format!("{}/changes.pdf", scratch.path());
    let changed = scratch.file("changed.rebuild", super::compare::new());
    assert!(benchleaf(&["compare", &old, &changed, "-o", &sheet]).status.success());
    assert!(fs::read(&sheet).unwrap().starts_with(b"%PDF-"));
}

#[test]
fn a_job_alone_is_held_against_its_procedure() {
    let scratch = Scratch::new("compare-job");
    let old = scratch.file("old.rebuild", OLD);
    scratch.file(
        "own.rebuild",
        "change fasteners screws { tighten 9 N.m from \"the new ring, invented\" }\n\
         change strip cover_off { behind take cover { do \"Look for the washer.\" } }\n",
    );
    let record = "job: \"7\"\nprocedure: old.rebuild\nchanges: own.rebuild
extra:
  parts: {insert: {title: \"Insert\", count: 1}}
  steps: {fit_insert: {title: \"Fit an insert\", after: look_in, phase: strip, do: [\"Wind it in.\"], parts: [insert]}}
not_done:
  plug_out: {because: seized, by: HK, date: 2026-03-05}
notes:
  - {about: screws, found: {count: 3}, by: HK, date: 2026-03-05}
  - {about: cover, says: scored, by: HK, date: 2026-03-05}
";
    let job = scratch.file("job.yaml", record);
    let output = benchleaf(&["compare", &job]);
    assert!(output.status.success(), "{}", stderr(&output));
    let told = stdout(&output);
    let first = told.lines().next().unwrap_or_default();
    assert!(first.starts_with("Pump, edition 1, then edition 1 in job 7: "), "{told}");
    for line in [
        "  Screw (screws): was tighten to 8 N·m (sheet 1, invented)",
        "is  tighten to 9 N·m (the new ring, invented)",
        "Look for the washer.",
        "Fit an insert (fit_insert): new: strip:",
        "  plug_out: was a step of the procedure",
        "is  not done: seized, HK, 2026-03-05 (job.yaml line 8)",
        "  screws: was 4 in number",
        "is  3 in number, HK, 2026-03-05 (old.rebuild line 4)",
    ] {
        assert!(told.contains(line), "no `{line}` in\n{told}");
    }
    assert!(!told.contains("scored"), "a remark is no difference: {told}");
    assert_eq!(told, stdout(&benchleaf(&["compare", &old, &job])));
    let sheet = format!("{}/own.pdf", scratch.path());
    assert!(benchleaf(&["compare", &job, "-o", &sheet]).status.success());
    assert!(fs::read(&sheet).unwrap().starts_with(b"%PDF-"));
    // A procedure alone has nothing to be held against.
    let refused = benchleaf(&["compare", &old]);
    assert_eq!(refused.status.code(), Some(2));
    assert!(stderr(&refused).contains("to hold it against is named"), "{}", stderr(&refused));
}

#[test]
fn what_an_edition_of_a_shipped_pump_changed_is_told_to_whoever_builds_on_it() {
    let shipped = |name: &str| fs::read_to_string(format!("procedures/first/{name}.rebuild")).unwrap();
    let (pump, variant) = (shipped("harbour_pump"), shipped("harbour_pump_e"));
    let revised = pump.lines().find(|line| line.trim_start().starts_with("revised 2 ")).unwrap();
    let ring = pump.find("part snap_ring").unwrap();
    let fate = ring + pump[ring..].find("fate renew").unwrap();
    let mut first = pump.clone();
    first.replace_range(fate..fate + "fate renew".len(), "fate reuse");
    let first = first.replace(&format!("{revised}\n"), "").replace("edition 2", "edition 1");
    assert_ne!(first, pump);
    let scratch = Scratch::new("compare-shipped");
    let old = scratch.file("old.rebuild", first);
    let new = scratch.file("harbour_pump.rebuild", &pump);
    let output = benchleaf(&["compare", &old, &new]);
    assert!(output.status.success(), "{}", stderr(&output));
    let told = stdout(&output);
    assert!(told.starts_with("Harbour pump, edition 1, then edition 2: "), "{told}");
    assert!(told.contains("Snap ring (snap_ring): was becomes: reuse\n"), "{told}");

    let clean = scratch.file("clean.rebuild", &variant);
    let output = benchleaf(&["check", &clean]);
    assert!(output.status.success() && !stdout(&output).contains("edition"), "{}", stdout(&output));
    let behind = scratch.file("behind.rebuild", variant.replace("at edition 2", "at edition 1"));
    let output = benchleaf(&["check", &behind]);
    let told = stdout(&output) + &stderr(&output);
    assert!(
        told.contains("this was written against edition 1, and that procedure is at edition 2"),
        "{told}"
    );
    assert!(told.contains("the snap ring is renewed each time"), "{told}");
}
