//! What is begun is whole: it checks clean, prints, and is never written over anything.

use std::fs;
use std::path::Path;
use std::process::Command;

use super::{Scratch, benchleaf, stderr, stdout};

const KINDS: [&str; 4] = ["machine", "pump", "engine", "gearbox"];

/// A procedure begun in a folder of its own, and its path.
fn begun(kind: &str, name: &str) -> (Scratch, String) {
    let scratch = Scratch::new(&format!("new-{kind}-{}", name.replace(' ', "-")));
    fs::create_dir_all(scratch.path()).unwrap();
    let output = benchleaf(&["new", &format!("{}/{name}", scratch.path()), "--like", kind]);
    assert!(output.status.success(), "{}", stderr(&output));
    let id = name.to_lowercase().replace(' ', "_");
    let path = format!("{}/{id}.rebuild", scratch.path());
    assert!(stdout(&output).starts_with(&format!("{path}: written, with ")), "{}", stdout(&output));
    (scratch, path)
}

#[test]
fn every_beginning_is_clean_and_prints_each_phase() {
    for kind in KINDS {
        let (scratch, path) = begun(kind, "Dock winch");
        let text = fs::read_to_string(&path).unwrap();
        assert!(text.contains("family dock_winch \"Dock winch\""), "{text}");
        assert!(text.starts_with("-- AN EXAMPLE TO WRITE OVER: "), "{text}");
        // An engine is called that by its firing order.
        assert_eq!(text.contains("called \"dock winch\""), kind != "engine", "{text}");
        let checked = benchleaf(&["check", &path]);
        assert!(stderr(&checked).ends_with("no errors, no warnings, no notices\n"), "{}", stderr(&checked));
        for phase in ["strip", "build", "start"] {
            let target = format!("{}/{phase}.pdf", scratch.path());
            let printed = benchleaf(&["packet", &path, "--phase", phase, "-o", &target]);
            assert!(printed.status.success(), "{kind}, {phase}: {}", stderr(&printed));
        }
    }
}

#[test]
fn what_the_example_is_and_how_to_have_another_is_told() {
    let scratch = Scratch::new("new-told");
    fs::create_dir_all(scratch.path()).unwrap();
    let output = benchleaf(&["new", &format!("{}/Yard winch", scratch.path())]);
    let said = stdout(&output);
    assert!(said.contains("written, with a small machine as the example"), "{said}");
    assert!(said.contains("add `--like pump`, `--like engine` or `--like gearbox` to the command"), "{said}");
}

#[test]
fn nothing_is_written_over() {
    let (_scratch, path) = begun("pump", "Bilge");
    fs::write(&path, "mine\n").unwrap();
    let again = benchleaf(&["new", path.trim_end_matches(".rebuild")]);
    assert_eq!(again.status.code(), Some(2));
    assert!(stderr(&again).contains("cli/occupied"), "{}", stderr(&again));
    assert_eq!(fs::read_to_string(&path).unwrap(), "mine\n");
}

#[test]
fn a_name_without_a_letter_in_front_is_refused() {
    let refused = benchleaf(&["new", "7 up"]);
    assert_eq!(refused.status.code(), Some(2));
    assert!(stderr(&refused).contains("no name can be made of `7 up`"), "{}", stderr(&refused));
    let empty = benchleaf(&["new", ""]);
    assert_eq!(empty.status.code(), Some(2));
    let told = stderr(&empty);
    assert!(told.contains("an empty name names nothing") && told.contains("`new \"Dock"), "{told}");
}

#[test]
fn a_shop_with_tools_of_its_own_has_those() {
    let (scratch, path) = begun("pump", "Bilge");
    scratch.file("shared/tools.rebuild", "tool socket_10 \"Ten, the red one\" { size 10 mm }\n");
    let checked = benchleaf(&["check", &path, "--format", "line"]);
    assert!(stdout(&checked).contains("procedure/unknown-name"), "no `tray` there: {}", stdout(&checked));
    scratch.file(
        "shared/tools.rebuild",
        "tool socket_10 \"Ten, the red one\" { size 10 mm }\ntool tray \"Tray\"\ntool scraper \"Scraper\"\n",
    );
    let checked = benchleaf(&["check", &path]);
    assert!(checked.status.success(), "{}", stderr(&checked));
}

#[test]
fn what_the_shop_shares_is_found_from_the_folder_of_the_procedure_as_from_above_it() {
    let (scratch, path) = begun("pump", "Bilge");
    // Without a tray, which what comes with the program has.
    scratch.file("shared/tools.rebuild", "tool socket_10 \"Ten, the red one\" { size 10 mm }\n");
    let inner = scratch.file("pumps/bilge/bilge.rebuild", fs::read_to_string(&path).unwrap());
    let folder = Path::new(&inner).parent().unwrap().to_string_lossy().into_owned();
    for (path, folder) in [("bilge.rebuild", &*folder), (&*inner, "/")] {
        let mut command = Command::new(env!("CARGO_BIN_EXE_benchleaf"));
        let checked = command.args(["check", path, "--format", "line"]).current_dir(folder).output().unwrap();
        let told = stdout(&checked);
        assert!(told.contains("nothing is called `tray`"), "{folder}: {told}");
    }
}

#[test]
fn what_is_not_on_the_shelf_is_a_file_that_is_missing() {
    let scratch = Scratch::new("new-shelf");
    let path = scratch.file("e.rebuild", "use \"shared/hoists\"\nfamily e \"E\" { origin \"invented\" }\n");
    let checked = benchleaf(&["check", &path]);
    assert_eq!(checked.status.code(), Some(1));
    assert!(stderr(&checked).contains("shared/hoists"), "{}", stderr(&checked));
}

/// The record of a job on the engine, begun.
fn job() -> (Scratch, String, String) {
    let (scratch, path) = begun("engine", "Twin");
    let output = benchleaf(&["new", "job", &path, "--name", "T-1: \"Plover\""]);
    assert!(output.status.success(), "{}", stderr(&output));
    let record = path.replace(".rebuild", ".job.yaml");
    let text = fs::read_to_string(&record).unwrap();
    (scratch, record, text)
}

#[test]
fn a_record_begun_is_a_record() {
    let (_scratch, record, text) = job();
    assert!(text.contains("job: \"T-1: \\\"Plover\\\"\""), "{text}");
    let checked = benchleaf(&["check", &record]);
    assert!(
        stderr(&checked).ends_with("1 record: no errors, no warnings, no notices\n"),
        "{}",
        stderr(&checked)
    );
    let again = benchleaf(&["new", "job", &record.replace(".job.yaml", ".rebuild")]);
    assert!(stderr(&again).contains("cli/occupied"), "{}", stderr(&again));
}

#[test]
fn a_record_in_another_folder_reaches_its_procedure_from_there() {
    let (scratch, path) = begun("pump", "Bilge");
    let (job, other) = (format!("{}/jobs/7/bilge.yaml", scratch.path()), format!("{}/moved", scratch.path()));
    fs::create_dir_all(format!("{}/jobs/7", scratch.path())).unwrap();
    let output = benchleaf(&["new", "job", &path, "-o", &job]);
    assert!(output.status.success(), "{}", stderr(&output));
    assert!(fs::read_to_string(&job).unwrap().contains("procedure: \"../../bilge.rebuild\"\n"));
    // Both are found again wherever they are put together.
    fs::create_dir_all(format!("{other}/jobs/7")).unwrap();
    fs::rename(&job, format!("{other}/jobs/7/bilge.yaml")).unwrap();
    fs::rename(&path, format!("{other}/bilge.rebuild")).unwrap();
    let checked = benchleaf(&["check", &format!("{other}/jobs/7/bilge.yaml")]);
    assert!(checked.status.success(), "{}", stderr(&checked));
}

#[test]
fn a_record_is_written_only_where_it_is_read_as_one() {
    let (scratch, path) = begun("pump", "Bilge");
    let target = format!("{}/bilge.txt", scratch.path());
    let refused = benchleaf(&["new", "job", &path, "-o", &target]);
    assert_eq!(refused.status.code(), Some(2));
    assert!(stderr(&refused).contains("let the name end in `.yaml`"), "{}", stderr(&refused));
    assert!(!Path::new(&target).exists());
}

#[test]
fn every_blank_of_a_record_begun_takes_what_belongs_there() {
    let (_scratch, record, text) = job();
    let mut blanks = 0;
    let filled: Vec<String> = text
        .lines()
        .map(|line| {
            let Some(bare) = line
                .strip_prefix("# ")
                .filter(|_| !line.starts_with("# The") && !line.starts_with("# colon"))
            else {
                return line.to_owned();
            };
            let (key, says) =
                bare.split_once('#').map_or((bare, ""), |(key, says)| (key.trim_end(), says.trim()));
            let value = match (key.trim_start(), says) {
                (key, says) if key.starts_with("\"lash") && says.starts_with("mm;") => "0.20 mm",
                (key, says) if key.starts_with("\"rod_look") && says.starts_with("good or renew;") => "good",
                ("received:", _) => "2026-03-05",
                ("hours:", _) => "1200 h",
                ("complaint:", _) => "\"smokes\"",
                ("came_with:" | "missing:", list) => list,
                ("spend_limit:", money) => money,
                ("leave_to_strip:", _) => "true",
                ("engine_no:" | "customer:", _) => "\"R. Ostwick\"",
                ("crib: crib.yaml" | "prices: prices.yaml", _) => return line.to_owned(),
                _ => return bare.to_owned(),
            };
            blanks += 1;
            format!("{key} {value}")
        })
        .collect();
    // Four lashes found and four built, four rods, seven of the intake, number and owner.
    assert_eq!(blanks, 4 + 4 + 4 + 7 + 2, "{}", filled.join("\n"));
    fs::write(&record, filled.join("\n") + "\n").unwrap();
    let checked = benchleaf(&["check", &record, "--format", "line"]);
    assert!(!stdout(&checked).contains("error"), "{}\n{}", stdout(&checked), filled.join("\n"));
}

#[test]
fn the_tools_that_come_along_bring_their_hazards_and_a_shop_with_hazards_of_its_own_has_those() {
    let scratch = Scratch::new("new-hazards");
    let pump = "use \"shared/tools\"\nfamily pump \"Pump\" { origin \"invented\"  invented }\npart cover \"Cover\" { fate reuse }\n\
                strip cover_off \"Cover off\" { time 5 min  take cover }\n";
    let path = scratch.file("pump.rebuild", pump);
    let checked = benchleaf(&["check", &path]);
    assert!(stderr(&checked).contains("no errors, no warnings"), "{}", stderr(&checked));
    let own = fs::read_to_string("procedures/shared/hazards.rebuild").unwrap();
    scratch.file(
        "shared/hazards.rebuild",
        own.replace("puller", "draw_off").replace("warning draw_off", "warning puller"),
    );
    let checked = benchleaf(&["check", &path, "--format", "line"]);
    let told = stdout(&checked);
    assert!(
        told.contains("`puller_load`") && !told.contains("duplicate"),
        "the shop's hazards count: {told}"
    );
}
