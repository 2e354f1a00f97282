//! Procedures that say only in what they differ.

use std::path::Path;

use benchleaf::diagnostics::{Severity, render_lines};
use benchleaf::packet::PacketOptions;
use benchleaf::procedure::load;
use benchleaf::procedure::model::{Phase, Procedure};
use benchleaf::source::{Memory, Sources};
use benchleaf::workshop::{Request, Workshop};

const BASE: &str = r#"family pump "Pump" {
    edition 3  origin "invented"  invented  capacity "Oil" 1 L from "sheet 1"  data "Lift" 2 m from "sheet 1"
}
axis port = inlet, outlet
section head "Head" refit "Head"
part guard "Guard" { fate reuse }
part cover "Cover" { under guard  held by cover_screws  mass 3 kg  fate reuse }
part bar "Bar" { under cover  fate renew }
part valve[port] "Valve" { under cover, bar  worn in  dry  fate reuse }
fasteners cover_screws 4 "Cover screw" {
    thread M5x0.8  drive 8 mm  length 14 mm  reusable  tighten 4 N.m from "sheet 2"
}
fasteners bar_nut 1 "Bar nut" { kind nut  thread M5x0.8  under cover  drive 8 mm  reusable  tighten by feel }
tool socket_8 "8 mm socket" { kind socket  size 8 mm }
strip guard_off "Guard off" { time 1 min  take guard }
strip cover_off "Cover off" { tools socket_8  time 5 min  undo cover_screws  take cover  do "Wipe it." }
section inside "Inside" refit "Inside"
strip bar_out "Bar out" { tools socket_8  time 5 min  undo bar_nut  take bar  do "Look down the bore." }
strip valves_out "Valves out" { after bar_out  each port together  time 5 min  take valve[port] }
"#;

const VARIANT: &str = r#"family pump_t "Pump T" {
    of "pump.rebuild" at edition 3
    edition 1
    capacity "Oil" 1.2 L from "sheet 9"
    data "Head" 3 m from "sheet 9"
}
without guard, guard_off, bar_nut
change part cover "Lid" { mass 4 kg  way "arrow up" }
change part bar { instead of under cover { held by bar_screws } }
change part valve { without dry }
change fasteners cover_screws 6 { tighten 5 N.m from "sheet 9" }
fasteners bar_screws 2 "Bar screw" { thread M6x1  under cover  drive 10 mm  length 20 mm  reusable  tighten by feel }
change tool socket_8 "Sockets, 8 and 10 mm" { instead of size 8 mm { size 8 mm  special } }
tool socket_10 "10 mm socket" { kind socket  size 10 mm }
strip jets_out "Jets out" { after cover_off  time 2 min  do "Unscrew the jets." }
strip jets_racked "Jets on the rack" { after cover_off  time 2 min  do "Rack them." }
change strip cover_off "Lid off" {
    time 6 min
    hold "a second person is there"
    ahead of take cover { do "Tap it." }
    behind take cover { do "Cap the port." }
}
change strip bar_out {
    tools socket_10
    ahead of take bar { undo bar_screws }
    instead of do "Look down" { do "Look up." }
}
change section inside "Bore" refit "Bore"
strip bore_wiped "Wipe the bore" { after valves_out  time 1 min  do "Wipe it." }
"#;

const WHOLE: &str = r#"family pump_t "Pump T" {
    origin "invented"  invented  data "Lift" 2 m from "sheet 1"
    edition 1
    capacity "Oil" 1.2 L from "sheet 9"
    data "Head" 3 m from "sheet 9"
}
axis port = inlet, outlet
section head "Head" refit "Head"
part cover "Lid" { held by cover_screws  mass 4 kg  fate reuse  way "arrow up" }
part bar "Bar" { held by bar_screws  fate renew }
part valve[port] "Valve" { under cover, bar  worn in  fate reuse }
fasteners cover_screws 6 "Cover screw" {
    thread M5x0.8  drive 8 mm  length 14 mm  reusable  tighten 5 N.m from "sheet 9"
}
tool socket_8 "Sockets, 8 and 10 mm" { kind socket  size 8 mm  special }
strip cover_off "Lid off" {
    tools socket_8
    time 6 min
    undo cover_screws
    do "Tap it."
    take cover
    do "Cap the port."
    do "Wipe it."
    hold "a second person is there"
}
strip jets_out "Jets out" { after cover_off  time 2 min  do "Unscrew the jets." }
strip jets_racked "Jets on the rack" { after cover_off  time 2 min  do "Rack them." }
section inside "Bore" refit "Bore"
strip bar_out "Bar out" {
    tools socket_8
    time 5 min
    tools socket_10
    undo bar_screws
    take bar
    do "Look up."
}
strip valves_out "Valves out" { after bar_out  each port together  time 5 min  take valve[port] }
strip bore_wiped "Wipe the bore" { after valves_out  time 1 min  do "Wipe it." }
fasteners bar_screws 2 "Bar screw" { thread M6x1  under cover  drive 10 mm  length 20 mm  reusable  tighten by feel }
tool socket_10 "10 mm socket" { kind socket  size 10 mm }
"#;

/// A procedure out of texts in memory, without an error, with what was said of it.
fn read(texts: &[(&str, &str)], root: &str) -> (Procedure, String) {
    let files = texts.iter().fold(Memory::new(), |files, (name, text)| files.with(*name, *text));
    let mut sources = Sources::over(files);
    let outcome = load(&mut sources, Path::new(root));
    let told = render_lines(&sources, &outcome.diagnostics);
    assert!(!outcome.diagnostics.iter().any(|one| one.severity() == Severity::Error), "{told}");
    (outcome.value.unwrap(), told)
}

/// All that a procedure says, without where it is said and what it is of.
fn told(mut procedure: Procedure) -> String {
    procedure.differing.clear();
    procedure.of = None;
    procedure.files.clear();
    let text = format!("{procedure:?}");
    let mut out = String::new();
    let mut rest = text.as_str();
    while let Some(at) = rest.find("Span {") {
        out.push_str(&rest[..at]);
        rest = &rest[at..];
        rest = &rest[rest.find('}').unwrap() + 1..];
    }
    out + rest
}

#[test]
fn what_differs_gives_the_procedure_that_is_written_out() {
    let (variant, said) = read(&[("pump.rebuild", BASE), ("pump_t.rebuild", VARIANT)], "pump_t.rebuild");
    let (whole, of_whole) = read(&[("whole.rebuild", WHOLE)], "whole.rebuild");
    // Complaints of both are the same, wherever their places are.
    let codes = |told: &str| -> Vec<String> {
        let mut codes: Vec<String> = told
            .lines()
            .filter(|line| line.starts_with(['□', '▫', '■']))
            .map(|line| line.split("  ").nth(1).unwrap_or("").split(' ').next().unwrap_or("").to_owned())
            .collect();
        codes.sort();
        codes
    };
    assert_eq!(codes(&said), codes(&of_whole), "{said}\n{of_whole}");
    let (variant, whole) = (told(variant), told(whole));
    for (one, other) in variant.split(", ").zip(whole.split(", ")) {
        assert_eq!(one, other);
    }
    assert_eq!(variant, whole);
}

#[test]
fn every_difference_is_noted_with_its_place() {
    let (variant, _) = read(&[("pump.rebuild", BASE), ("pump_t.rebuild", VARIANT)], "pump_t.rebuild");
    let noted: Vec<String> = variant
        .differing
        .iter()
        .map(|one| {
            let words = |said: &Option<benchleaf::procedure::model::Quoted>| {
                said.as_ref().map_or("-".to_owned(), |said| said.words.clone())
            };
            let line = VARIANT[..one.at.start()].matches('\n').count() + 1;
            let whole = if one.whole { " (whole)" } else { "" };
            format!("{line} {} {}: {} > {}{whole}", one.word, one.id, words(&one.was), words(&one.is))
        })
        .collect();
    for wanted in [
        "8 part cover: mass 3 kg > mass 4 kg",
        "8 part cover: part cover \"Cover\" > part cover \"Lid\"",
        "8 part cover: - > way \"arrow up\"",
        "7 part cover: under guard > -",
        "9 part bar: under cover > held by bar_screws",
        "10 part valve: dry > -",
        "11 fasteners cover_screws: tighten 4 N.m from \"sheet 2\" > tighten 5 N.m from \"sheet 9\"",
        "11 fasteners cover_screws: fasteners cover_screws 4 \"Cover screw\" > fasteners cover_screws 6 \"Cover screw\"",
        "4 family pump_t: capacity \"Oil\" 1 L from \"sheet 1\" > capacity \"Oil\" 1.2 L from \"sheet 9\"",
        "5 family pump_t: - > data \"Head\" 3 m from \"sheet 9\"",
        "7 strip bar_out: undo bar_nut > -",
    ] {
        assert!(noted.iter().any(|line| line == wanted), "{wanted}\n{}", noted.join("\n"));
    }
    assert!(noted.iter().any(|line| line.starts_with("7 part guard:") && line.ends_with("> - (whole)")));
    assert!(noted.iter().any(|line| line.contains("strip jets_out: - >") && line.ends_with("(whole)")));
    assert_eq!(variant.of.unwrap().edition.as_deref(), Some("3"));
}

/// What is like a thing that is taken out keeps what it had from it, and what is like that again too.
#[test]
fn what_is_like_a_thing_that_is_taken_out_keeps_what_it_has_from_it() {
    const FULL: &str = "part lid \"Lid\" { held by short  fate reuse }\n\
        part base \"Base\" { held by last  under lid  fate reuse }\n\
        joint lid_joint \"Lid to base\" {\n\
            clamps lid, seal, base  seen from top, front left  holes short at (0,0) (90,0) mm\n\
            tighten short 7 N.m from \"z\"\n\
        }\n\
        tool socket_10 \"10 mm socket\" { kind socket  size 10 mm }\n\
        tool wrench \"Wrench\" { kind wrench  range 2 N.m .. 30 N.m }\n\
        strip off \"Lid off\" { undo lid_joint  take lid  take seal }\n\
        strip base_off \"Base off\" { undo last  take base }\n\
        survey read \"Read it\" { gauge play }\n";
    let base = format!(
        "family lid \"Lid\" {{ edition 1  origin \"invented\"  invented }}\n\
         fasteners long 2 \"Long screw\" {{\n\
             kind screw  thread M6x1  class 8.8  drive 10 mm  length 30 mm  reusable  tighten 9 N.m from \"x\"\n\
         }}\n\
         fasteners short 2 \"Short screw\" {{ like long  length 16 mm }}\n\
         fasteners last 2 \"Last screw\" {{ like short  length 12 mm }}\n\
         part cap \"Cap\" {{ held by long  fate reuse }}\n\
         part first_seal \"First\" {{ kind gasket  harmless \"cork\"  under cap  fate renew  catalogue \"1\" }}\n\
         part seal \"Gasket\" {{ like first_seal  under lid  catalogue \"2\" }}\n\
         gauge gap \"Gap\" {{ of cap  taken off  worn 2 mm from \"y\"  best at nought }}\n\
         gauge play \"Play\" {{ like gap  of lid }}\n\
         {FULL}\
         strip cap_off \"Cap off\" {{ undo long  take cap  take first_seal }}\n\
         survey read_gap \"Read the gap\" {{ gauge gap }}\n"
    );
    let whole = format!(
        "family lid_s \"Lid S\" {{ origin \"invented\"  invented  edition 1 }}\n\
         fasteners short 2 \"Short screw\" {{\n\
             length 16 mm  kind screw  thread M6x1  class 8.8  drive 10 mm  reusable\n\
         }}\n\
         fasteners last 2 \"Last screw\" {{\n\
             length 12 mm  kind screw  thread M6x1  class 8.8  drive 10 mm  reusable  tighten 9 N.m from \"x\"\n\
         }}\n\
         part seal \"Gasket\" {{ under lid  catalogue \"2\"  kind gasket  harmless \"cork\"  fate renew }}\n\
         gauge play \"Play\" {{ of lid  taken off  unit mm  worn 2 mm from \"y\"  best at nought }}\n\
         {FULL}"
    );
    let variant = "family lid_s \"Lid S\" { of \"lid.rebuild\" at edition 1  edition 1 }\n\
                   without cap, long, first_seal, gap, cap_off, read_gap\n";
    let (variant, _) = read(&[("lid.rebuild", &base), ("lid_s.rebuild", variant)], "lid_s.rebuild");
    let (whole, _) = read(&[("whole.rebuild", &whole)], "whole.rebuild");
    let sets = |procedure: &Procedure| {
        let told = procedure.sets.iter().map(|set| {
            let thread = set.thread.as_ref().map(|thread| &thread.written);
            format!("{} {:?} {thread:?} {:?}", set.naming.id, set.kind, set.drive)
        });
        let mut told: Vec<String> = told.collect();
        told.sort();
        told
    };
    assert_eq!(sets(&variant), sets(&whole));
    let seal = |procedure: &Procedure| {
        let seal = procedure.parts.iter().find(|part| part.naming.id == "seal").unwrap();
        format!("{:?} {:?} {:?}", seal.kind, seal.fate.is_some(), seal.under.len())
    };
    assert_eq!(seal(&variant), seal(&whole));
    let torque = |procedure: &Procedure, name: &str| {
        let (id, _) = procedure.sets.numbered().find(|(_, set)| set.naming.id == name).unwrap();
        format!("{:?}", procedure.tightening(id).values().map(|said| &said.value).collect::<Vec<_>>())
    };
    for name in ["short", "last"] {
        assert_eq!(torque(&variant, name), torque(&whole, name), "{name}");
    }
    assert!(torque(&variant, "short").contains('7') && torque(&variant, "last").contains('9'));
}

/// A family of a family: each layer changes what the ones below it say.
#[test]
fn layers_lie_on_each_other() {
    let second = "family pump_u \"Pump U\" { of \"pump_t.rebuild\" at edition 1  edition 1 }\n\
                  change part cover { instead of mass 4 kg { mass 5 kg } }\n\
                  change strip jets_out { time 3 min }\n";
    let texts = [("pump.rebuild", BASE), ("pump_t.rebuild", VARIANT), ("pump_u.rebuild", second)];
    let (procedure, _) = read(&texts, "pump_u.rebuild");
    let cover = procedure.parts.iter().find(|part| part.naming.id == "cover").unwrap();
    assert_eq!(cover.mass.as_ref().unwrap().to_string(), "5 kg");
    assert_eq!(cover.naming.title, "Lid");
    let jets = procedure.steps.iter().find(|step| step.naming.id == "jets_out").unwrap();
    assert_eq!(jets.time.as_ref().unwrap().to_string(), "3 min");
    assert_eq!(procedure.of.unwrap().title, "Pump T");
}

const CHANGES: &str = "change fasteners cover_screws { instead of length 14 mm { length 16 mm } }\n\
                       change strip bar_out { behind take bar { do \"Keep its washer.\" } }\n";

fn job(changes: &str) -> Workshop {
    let record = "job: \"2026-001\"\nprocedure: pump_t.rebuild\nchanges: own.rebuild\n";
    let files = Memory::new().with("pump.rebuild", BASE).with("pump_t.rebuild", VARIANT);
    let files = files.with("job.yaml", record);
    Workshop::over(if changes.is_empty() { files } else { files.with("own.rebuild", changes) })
}

/// What one job has otherwise stands in its packet and nowhere else.
#[test]
fn a_job_changes_its_own_procedure() {
    let mut workshop = job(CHANGES);
    let view = workshop.job(&Request::of("job.yaml")).value.unwrap();
    let packet = view.packet(&workshop, &PacketOptions::of(Phase::Strip));
    let text = format!("{packet:?}");
    for wanted in
        ["Keep its washer.", "changed for this job", "This job alone", "length 14 mm", "length 16 mm"]
    {
        assert!(text.contains(wanted), "{wanted}");
    }
    let of_family = workshop.job(&Request::of("pump_t.rebuild")).value.unwrap();
    let text = format!("{:?}", of_family.packet(&workshop, &PacketOptions::of(Phase::Strip)));
    assert!(!text.contains("Keep its washer.") && !text.contains("This job alone"));
    assert!(text.contains("not as on Pump"));
}

/// A fault in what a job changes is told as one of the record, and a file that isn't there at the record's line.
#[test]
fn what_a_job_changes_is_checked_with_its_record() {
    let codes = |changes: &str| -> Vec<&'static str> {
        job(changes).check_record(Path::new("job.yaml")).iter().map(|one| one.code.name).collect()
    };
    assert_eq!(codes(CHANGES), Vec::<&str>::new());
    assert_eq!(codes("change part lid { mass 2 kg }\n"), ["procedure/change-unknown"]);
    assert_eq!(codes("change part cover { mass 4 kg }\n"), ["procedure/changes-nothing"]);
    assert_eq!(codes("family own \"Own\" { origin \"invented\" }\n"), ["procedure/second-family"]);
    assert_eq!(codes(""), ["workshop/named-file"]);
}
