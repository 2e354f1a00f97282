//! What the program does to files: nothing that was read is written over, and no input keeps a command for ever.

use std::fs;
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

use super::{SOUND, Scratch, benchleaf, stderr};

const JOB: &str = "job: \"7\"\nprocedure: e.rebuild\ncrib: crib.yaml\nprices: prices.yaml\n";

/// A procedure that brings in another file, its record, crib and prices.
fn shop(name: &str) -> Scratch {
    let scratch = Scratch::new(name);
    scratch.file("tools.rebuild", "tool bar \"Bar\"\n");
    scratch.file(
        "e.rebuild",
        format!("use \"tools.rebuild\"\n{}", SOUND.replace("{ take", "{ tools bar  take")),
    );
    scratch.file("job.yaml", JOB);
    scratch.file("crib.yaml", "tools: {bar: {}}\n");
    scratch.file("prices.yaml", "labour: 60 EUR\n");
    scratch
}

#[test]
fn no_input_is_written_over() {
    let scratch = shop("inputs");
    let at = |name: &str| format!("{}/{name}", scratch.path());
    fs::create_dir(at("sub")).unwrap();
    let mut targets =
        vec!["e.rebuild", "tools.rebuild", "job.yaml", "crib.yaml", "prices.yaml", "sub/../job.yaml"];
    #[cfg(unix)]
    {
        std::os::unix::fs::symlink(at("job.yaml"), at("link.pdf")).unwrap();
        fs::hard_link(at("e.rebuild"), at("twin.pdf")).unwrap();
        targets.extend(["link.pdf", "twin.pdf"]);
    }
    for target in targets {
        let before = fs::read(at(target)).unwrap();
        let packet = ["packet", &at("e.rebuild"), "--job", &at("job.yaml"), "-o", &at(target)];
        let output = benchleaf(&packet);
        assert_eq!(output.status.code(), Some(2), "{target}: {}", stderr(&output));
        assert!(stderr(&output).contains("cli/output-is-input"), "{target}: {}", stderr(&output));
        assert_eq!(fs::read(at(target)).unwrap(), before, "{target} was changed");
    }
}

#[test]
fn only_a_file_of_the_same_kind_is_replaced() {
    let scratch = shop("occupied");
    let at = |name: &str| format!("{}/{name}", scratch.path());
    let packet = |target: &str| benchleaf(&["packet", &at("e.rebuild"), "-o", &at(target)]);
    scratch.file("letter.pdf", "Dear Sir\n");
    fs::create_dir(at("folder.pdf")).unwrap();
    for target in ["letter.pdf", "folder.pdf"] {
        let output = packet(target);
        assert_eq!(output.status.code(), Some(2), "{target}");
        assert!(stderr(&output).contains("cli/occupied"), "{target}: {}", stderr(&output));
    }
    assert_eq!(fs::read(at("letter.pdf")).unwrap(), b"Dear Sir\n");
    assert_eq!(packet("new.pdf").status.code(), Some(0));
    assert_eq!(packet("new.pdf").status.code(), Some(0), "a packet is replaced by a packet");
    #[cfg(unix)]
    {
        std::os::unix::fs::symlink(at("nothing"), at("dangling.pdf")).unwrap();
        assert_eq!(packet("dangling.pdf").status.code(), Some(2));
        std::os::unix::fs::symlink(at("new.pdf"), at("link.pdf")).unwrap();
        assert_eq!(packet("link.pdf").status.code(), Some(0));
        assert!(fs::symlink_metadata(at("link.pdf")).unwrap().is_symlink(), "a link stays a link");
        assert!(Command::new("mkfifo").arg(at("pipe.pdf")).status().unwrap().success());
        assert_eq!(packet("pipe.pdf").status.code(), Some(2));
    }
}

#[test]
fn lists_that_end_in_any_letter_are_added_to() {
    let scratch = shop("letters");
    for (list, entry) in [
        ("notes:\n  - about: cover\n    says: bolt bent 5°\n", vec!["note", "cover", "second"]),
        ("notes:\n  - about: cover\n    says: usé", vec!["note", "cover", "second"]),
        (
            "approved:\n  - {items: [cover], by: José}\n  - items: [cover]\n    by: José\n",
            vec!["approved", "cover", "--by", "José"],
        ),
    ] {
        let path = scratch.file("own.yaml", format!("job: \"7\"\nprocedure: e.rebuild\n{list}"));
        let mut arguments = vec!["record", path.as_str()];
        arguments.extend(entry);
        for _ in 0..2 {
            let output = benchleaf(&arguments);
            assert_eq!(output.status.code(), Some(0), "{list}: {}", stderr(&output));
        }
        let after = fs::read_to_string(&path).unwrap();
        assert!(after.contains(list), "what stood there stays:\n{after}");
    }
}

/// Letters that no page can hold are refused by whatever makes something of a record, and never entered.
#[test]
fn what_cannot_be_printed_is_refused_by_all() {
    let scratch = shop("unset");
    let procedure = format!("{}/e.rebuild", scratch.path());
    let record = scratch.file("own.yaml", "job: \"7\"\nprocedure: e.rebuild\ncustomer: \"王伟\"\n");
    let out = format!("{}/out", scratch.path());
    let (pdf, html) = (format!("{out}.pdf"), format!("{out}.html"));
    for words in [
        vec!["check", record.as_str()],
        vec!["packet", &record, "-o", &pdf],
        vec!["packet", &procedure, "--job", &record, "-o", &html],
        vec!["order", &record],
        vec!["next", &record],
        vec!["ledger", &record],
        vec!["verdict", &record],
        vec!["verdict", &record, "--format", "order-csv"],
    ] {
        let output = benchleaf(&words);
        assert_eq!(output.status.code(), Some(1), "{words:?}: {}", stderr(&output));
        assert!(stderr(&output).contains("page/unsupported-script"), "{words:?}: {}", stderr(&output));
    }
    assert!(!Path::new(&pdf).exists() && !Path::new(&html).exists());
    let before = fs::read(&record).unwrap();
    let output = benchleaf(&["record", &record, "note", "cover", "看"]);
    assert_eq!(output.status.code(), Some(1), "{}", stderr(&output));
    assert_eq!(fs::read(&record).unwrap(), before);
    let output = benchleaf(&["record", &record, "note", "cover", "bent 5°"]);
    assert_eq!(
        output.status.code(),
        Some(0),
        "what stood there is no reason to lose an entry: {}",
        stderr(&output)
    );
}

#[cfg(unix)]
#[test]
fn a_lock_ends_with_its_process() {
    let scratch = shop("lock");
    let record = format!("{}/job.yaml", scratch.path());
    let holder = fs::File::open(&record).unwrap();
    holder.lock().unwrap();
    let mut child = Command::new(env!("CARGO_BIN_EXE_benchleaf"))
        .args(["record", &record, "note", "cover", "first"])
        .stderr(Stdio::null())
        .spawn()
        .unwrap();
    std::thread::sleep(Duration::from_millis(200));
    assert!(child.try_wait().unwrap().is_none(), "it waits for whoever holds the lock");
    child.kill().unwrap();
    child.wait().unwrap();
    drop(holder);
    let output = benchleaf(&["record", &record, "note", "cover", "second"]);
    assert_eq!(output.status.code(), Some(0), "{}", stderr(&output));
    let text = fs::read_to_string(&record).unwrap();
    assert!(text.contains("second") && !text.contains("first"), "{text}");
    let mut left: Vec<String> = fs::read_dir(scratch.path())
        .unwrap()
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .filter(|name| name.contains("job"))
        .collect();
    left.sort();
    assert_eq!(
        left,
        ["job.yaml", "job.yaml.before"],
        "beside the record lies what it was before, and no draft"
    );
}

/// Runs a command that has to come back, and gives its exit code; none if it doesn't within ten seconds.
pub(super) fn within_reason(arguments: &[&str]) -> Option<i32> {
    let mut child = Command::new(env!("CARGO_BIN_EXE_benchleaf"))
        .args(arguments)
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .spawn()
        .unwrap();
    let begun = Instant::now();
    while begun.elapsed() < Duration::from_secs(10) {
        if let Some(status) = child.try_wait().unwrap() {
            return status.code();
        }
        std::thread::sleep(Duration::from_millis(10));
    }
    child.kill().unwrap();
    child.wait().unwrap();
    None
}

pub(super) fn every_command(procedure: &str, record: &str, out: &str) -> [Vec<String>; 9] {
    let svg = format!("{out}.svg");
    let words = |words: &[&str]| words.iter().map(|word| (*word).to_owned()).collect::<Vec<String>>();
    [
        words(&["check", procedure]),
        words(&["order", procedure]),
        words(&["why", procedure, "s"]),
        words(&["ledger", procedure]),
        words(&["graph", procedure, "-o", &svg]),
        words(&["packet", procedure, "--job", record, "-o", out]),
        words(&["verdict", procedure, "--job", record]),
        words(&["notes", record]),
        words(&["record", record, "note", "b", "dented"]),
    ]
}

#[test]
fn gauges_computed_in_a_ring_stop_every_command() {
    let scratch = Scratch::new("ring");
    let procedure = scratch.file(
        "x.rebuild",
        "family x \"X\" { origin \"invented\" }\npart b \"B\" {}\n\
         gauge ovality \"O\" { of b is max(ovality) - min(ovality) }\nstrip s \"S\" { take b }\n",
    );
    let record = scratch.file("job.yaml", "job: \"7\"\nprocedure: x.rebuild\n");
    for arguments in every_command(&procedure, &record, &format!("{}/x.pdf", scratch.path())) {
        let arguments: Vec<&str> = arguments.iter().map(String::as_str).collect();
        assert_eq!(within_reason(&arguments), Some(1), "{arguments:?}");
    }
}

#[test]
fn gauges_that_use_one_gauge_twice_are_worked_out_once() {
    let scratch = Scratch::new("doubling");
    let mut text = "family x \"X\" { origin \"invented\" }\npart b \"B\"\n\
                    gauge g0 \"G0\" { of b  unit mm }\nstrip s \"S\" { gauge g0  take b }\n"
        .to_owned();
    for level in 1..=60 {
        let below = level - 1;
        text += &format!("gauge g{level} \"G{level}\" {{ of b is g{below} + g{below} }}\n");
    }
    let procedure = scratch.file("x.rebuild", &text);
    let record = scratch
        .file("job.yaml", "job: \"7\"\nprocedure: x.rebuild\nreadings:\n  as_found:\n    g0: 1.00 mm\n");
    for arguments in every_command(&procedure, &record, &format!("{}/x.pdf", scratch.path())) {
        let arguments: Vec<&str> = arguments.iter().map(String::as_str).collect();
        assert_eq!(within_reason(&arguments), Some(0), "{arguments:?}");
    }
}

/// What is true of a record beside its text stays: a link to it, its mode, its line ends; write protection and a second name are
/// respected.
#[cfg(unix)]
#[test]
fn a_record_stays_what_it_is() {
    use std::os::unix::fs::{MetadataExt, PermissionsExt, symlink};
    let scratch = shop("kept");
    let at = |name: &str| format!("{}/{name}", scratch.path());
    let note = |name: &str| benchleaf(&["record", &at(name), "note", "cover", "bent"]);
    symlink(at("job.yaml"), at("link.yaml")).unwrap();
    fs::set_permissions(at("job.yaml"), PermissionsExt::from_mode(0o640)).unwrap();
    let owner = fs::metadata(at("job.yaml")).unwrap().uid();
    let output = note("link.yaml");
    assert_eq!(output.status.code(), Some(0), "{}", stderr(&output));
    assert!(fs::symlink_metadata(at("link.yaml")).unwrap().is_symlink(), "a link stays a link");
    let after = fs::metadata(at("job.yaml")).unwrap();
    assert_eq!((after.mode() & 0o777, after.uid()), (0o640, owner));
    // What it was is kept beside the record itself, and read by nobody who can't read the record.
    let kept = fs::metadata(at("job.yaml.before")).unwrap();
    assert_eq!((kept.mode() & 0o777, kept.uid()), (0o640, owner));
    assert!(!Path::new(&at("link.yaml.before")).exists());
    assert!(fs::read_to_string(at("job.yaml")).unwrap().contains("bent"));

    scratch.file("windows.yaml", JOB.replace('\n', "\r\n"));
    assert_eq!(note("windows.yaml").status.code(), Some(0));
    let text = fs::read_to_string(at("windows.yaml")).unwrap();
    assert!(text.starts_with(&JOB.replace('\n', "\r\n")) && text.contains("bent"), "{text:?}");
    assert_eq!(text.matches('\n').count(), text.matches("\r\n").count(), "{text:?}");

    scratch.file("shut.yaml", JOB);
    fs::set_permissions(at("shut.yaml"), PermissionsExt::from_mode(0o444)).unwrap();
    scratch.file("first.yaml", JOB);
    fs::hard_link(at("first.yaml"), at("second.yaml")).unwrap();
    for (name, words) in [("shut.yaml", "write-protected"), ("second.yaml", "it has a second")] {
        let output = note(name);
        assert_eq!(output.status.code(), Some(2), "{name}");
        // Where a line ends hangs on how long the path is.
        let told: Vec<String> = stderr(&output).split_whitespace().map(str::to_owned).collect();
        assert!(told.join(" ").contains(words), "{}", stderr(&output));
        assert_eq!(fs::read_to_string(at(name)).unwrap(), JOB);
    }
}

/// Drafts of processes that were killed are cleared away by the next; what an unrelated file is called doesn't matter.
#[test]
fn a_draft_that_was_left_is_cleared_away() {
    let scratch = shop("drafts");
    scratch.file(".job.yaml.4242.part", "half of it");
    let other = scratch.file(".job.yaml.mine.part", "somebody's own");
    let output = benchleaf(&["record", &format!("{}/job.yaml", scratch.path()), "note", "cover", "bent"]);
    assert_eq!(output.status.code(), Some(0), "{}", stderr(&output));
    assert!(!fs::exists(format!("{}/.job.yaml.4242.part", scratch.path())).unwrap());
    assert!(fs::exists(other).unwrap());
}
