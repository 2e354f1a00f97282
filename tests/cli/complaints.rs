//! Complaints of the command line itself: each code of `cli` and `workshop` is brought about by a command, and what
//! is said stands in `tests/diagnostics/<code>.txt`.

use std::collections::BTreeSet;
use std::path::Path;
use std::process::Command;

use benchleaf::codes;

use super::Scratch;
use crate::expected;

/// A small procedure with a step for two, a step done position by position, and a joint without holes.
const FAMILY: &str = "family e \"E\" { origin \"invented for tests\" }
axis cyl = 1 .. 2
ask gear \"Does the gear go back?\" = reuse, renew
part cover \"Cover\" { held by bolts }
part plate \"Plate\" { under cover }
part liner[cyl] \"Liner\" { under cover }
fasteners bolts 4 \"Bolt\" { thread M8x1.25 }
joint lid \"Lid\" { clamps cover, plate  tighten bolts 20 N.m from \"invented\" }
strip cover_off \"Take the cover off\" { hands 2  undo bolts  take cover }
strip liner_out \"Draw the liner\" { each cyl apart  take liner[cyl] }
strip plate_off \"Take the plate off\" { take plate }
";

const JOB: &str = "job: \"1\"
procedure: e.rebuild
answers:
  gear: reuse
done:
  cover_off: {by: JS, date: 2026-03-05, fingerprint: 2-00000-00000}
";

/// Code, and the command that brings it about in a folder with `e.rebuild`, `job.yaml` and an empty folder `empty`.
const CASES: [(&str, &[&str]); 27] = [
    ("cli/wrong-use", &["ordr", "e.rebuild"]),
    ("workshop/no-procedure", &["check", "empty"]),
    ("workshop/named-file", &["check", "moved/job.yaml"]),
    ("workshop/two-records", &["order", "job.yaml", "--job", "former.yaml"]),
    ("cli/unknown-complaint", &["complaint", "network/nothing-fries"]),
    ("cli/unknown-step", &["why", "e.rebuild", "cover_of"]),
    ("cli/too-few-hands", &["order", "e.rebuild", "--hands", "1"]),
    ("workshop/done-step-changed", &["verdict", "e.rebuild", "--job", "job.yaml"]),
    ("workshop/former-fingerprint", &["verdict", "e.rebuild", "--job", "former.yaml"]),
    ("cli/which-step", &["why", "e.rebuild", "liner_out"]),
    ("cli/unknown-sheet", &["packet", "e.rebuild", "-o", "e.pdf", "--sheets", "kitt"]),
    ("cli/unknown-piece", &["packet", "e.rebuild", "-o", "e.pdf", "--only", "Lid off"]),
    (
        "cli/nothing-to-print",
        &["packet", "e.rebuild", "-o", "e.pdf", "--phase", "survey", "--sheets", "machining"],
    ),
    ("cli/unknown-drawing", &["graph", "e.rebuild", "-o", "e.png"]),
    ("cli/ends-otherwise", &["packet", "e.rebuild", "-o", "e.txt"]),
    ("cli/editor-left", &["editor"]),
    ("cli/unwritable", &["packet", "e.rebuild", "-o", "nowhere/e.pdf"]),
    ("cli/output-is-input", &["packet", "e.rebuild", "--job", "job.yaml", "-o", "job.yaml"]),
    ("cli/occupied", &["packet", "e.rebuild", "-o", "empty"]),
    ("cli/not-recorded", &["record", "job.yaml", "answer", "gear", "renew"]),
    ("cli/nothing-to-undo", &["record", "job.yaml", "undo"]),
    ("cli/not-gathered", &["gather", "e.rebuild", "1.1", "x"]),
    ("cli/wrong-quantity", &["reckon", "torque", "M10", "--class", "8.8", "--torque", "48 mm"]),
    ("cli/wrong-word", &["reckon", "torque", "M10", "--class", "88"]),
    ("cli/too-little-given", &["reckon", "torque", "M10"]),
    ("cli/unknown-joint", &["reckon", "pattern", "e.rebuild", "lidd"]),
    ("cli/joint-not-reckoned", &["reckon", "pattern", "e.rebuild", "lid"]),
];

#[test]
fn every_complaint_of_the_command_line_has_its_command() {
    let scratch = Scratch::new("complaints");
    scratch.file("e.rebuild", FAMILY);
    scratch.file("job.yaml", JOB);
    scratch.file("former.yaml", JOB.replace("2-00000-00000", "00000-00000"));
    scratch.file("moved/job.yaml", JOB);
    scratch.file("empty/readme.txt", "nothing here");
    let folder = scratch.path();
    let mut wrong = Vec::new();
    let mut seen = BTreeSet::new();
    for (code, arguments) in CASES {
        seen.insert(code);
        let (said, status) = run(Path::new(&folder), arguments);
        let (lines, _) = run(Path::new(&folder), &in_lines(arguments));
        if !said.contains(code) && !lines.contains(code) {
            wrong.push(format!("`{}` does not bring `{code}` about:\n{said}", arguments.join(" ")));
        }
        // A warning: the verdict is given all the same.
        let warns = ["workshop/done-step-changed", "workshop/former-fingerprint"].contains(&code);
        if status == Some(0) && !warns {
            wrong.push(format!("`{code}` exits 0"));
        }
        let path = expected::folder("diagnostics").join(format!("{code}.txt"));
        let text = format!("$ benchleaf {}\n\n{said}", arguments.join(" "));
        wrong.extend(expected::compare(&path, &text).err());
    }
    let known = codes::cli::ALL.iter().chain(codes::workshop::ALL).map(|code| code.name);
    wrong.extend(known.filter(|code| !seen.contains(code)).map(|code| format!("`{code}` has no command")));
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

fn in_lines<'a>(arguments: &[&'a str]) -> Vec<&'a str> {
    let mut all = arguments.to_vec();
    if arguments.first() == Some(&"check") {
        all.extend(["--format", "line"]);
    }
    all
}

/// What a command says on its error output, and its exit code.
fn run(folder: &Path, arguments: &[&str]) -> (String, Option<i32>) {
    let output =
        Command::new(env!("CARGO_BIN_EXE_benchleaf")).args(arguments).current_dir(folder).output().unwrap();
    (String::from_utf8(output.stderr).unwrap(), output.status.code())
}

#[test]
fn a_file_of_another_kind_is_one_complaint() {
    let scratch = Scratch::new("another-kind");
    let readme = std::fs::read_to_string(concat!(env!("CARGO_MANIFEST_DIR"), "/README.md")).unwrap();
    // What it shows of the language makes no procedure of it.
    let page = scratch.file("page.md", readme);
    let told = super::stdout(&super::benchleaf(&["check", &page, "--format", "line"]));
    assert_eq!(told.lines().count(), 1, "{told}");
    assert!(told.contains("`page.md` is no procedure"), "{told}");
    let told = super::stderr(&super::benchleaf(&["tidy", &page]));
    assert_eq!(told.matches("■").count(), 1, "{told}");
    // What begins like one is read, whatever its name.
    let text = scratch
        .file("pump.txt", "family p \"P\" { origin \"invented\"  invented  colour red }\nprat lid \"Lid\"\n");
    let told = super::stdout(&super::benchleaf(&["check", &text, "--format", "line"]));
    assert!(!told.contains("is no procedure") && told.lines().count() >= 2, "{told}");
}
