//! Records as they were written by earlier editions of the program are still read; where something is called otherwise since,
//! the message says what to write. The files in `tests/record/old/` are such records, as they were: nothing in them is changed.

use std::fs;
use std::path::{Path, PathBuf};

use benchleaf::diagnostics::{Severity, render_lines};
use benchleaf::record;
use benchleaf::source::{Memory, Sources};
use benchleaf::workshop::{Request, Workshop};

fn old() -> Vec<(String, String)> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/record/old");
    let mut paths: Vec<PathBuf> = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()).collect();
    paths.sort();
    let read = |path: &PathBuf| {
        let name = path.file_name().unwrap().to_string_lossy().into_owned();
        (name, fs::read_to_string(path).unwrap())
    };
    paths.iter().map(read).collect()
}

#[test]
fn every_key_of_an_old_record_is_still_read() {
    let old = old();
    assert!(old.len() >= 3);
    for (name, text) in old {
        let mut sources = Sources::new();
        let file = sources.add(name.as_str(), text.clone());
        let read = record::read(file, &text);
        assert!(read.diagnostics.is_empty(), "{}", render_lines(&sources, &read.diagnostics));
    }
}

#[test]
fn what_a_procedure_has_renamed_since_is_told_and_the_rest_counts() {
    let procedures = Path::new(env!("CARGO_MANIFEST_DIR")).join("procedures");
    for (name, text) in old() {
        // Beside the procedure that it names, under the ending that procedures have now.
        let renamed = text.replace("brackwater3.leaf", "brackwater3.rebuild");
        let shipped = shipped(&procedures, "").into_iter();
        let files = shipped.fold(Memory::new(), |files, (name, text)| files.with(name, text));
        let mut workshop = Workshop::over(files.with(name.as_str(), renamed));
        let opened = workshop.job(&Request::of(name.as_str()));
        let errors: Vec<_> =
            opened.diagnostics.iter().filter(|one| one.severity() == Severity::Error).collect();
        for error in &errors {
            let told = error.mend.as_ref().is_some();
            assert!(told, "{name}: {} says nothing of what to write", error.message);
            // Only steps of a procedure have got other names since.
            let of_a_step = ["record/unknown-name", "decide/skipped-step"].contains(&error.code.name);
            assert!(of_a_step && error.message.contains('`'), "{name}: {}", error.message);
        }
        assert_eq!(errors.is_empty(), !name.starts_with("ready"), "{name}: {}", errors.len());
    }
}

#[test]
fn nothing_is_odd_about_the_records_that_are_shipped() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("procedures");
    let mut looked_at = 0;
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.to_string_lossy().ends_with(".job.yaml") {
            looked_at += 1;
            let mut workshop = Workshop::new();
            let found = workshop.check_record(&path);
            let odd: Vec<_> = found.into_iter().filter(|one| one.severity() != Severity::Notice).collect();
            assert!(odd.is_empty(), "{}", render_lines(workshop.sources(), &odd));
        }
    }
    assert!(looked_at > 15, "{looked_at}");
}

/// The files of a folder of procedures, as they are named from there.
fn shipped(folder: &Path, below: &str) -> Vec<(String, String)> {
    let mut found = Vec::new();
    for entry in fs::read_dir(folder.join(below)).unwrap().map(Result::unwrap) {
        let name = format!("{below}{}", entry.file_name().to_string_lossy());
        if entry.path().is_dir() {
            found.extend(shipped(folder, &format!("{name}/")));
        } else if name.ends_with(".rebuild") || name.ends_with(".yaml") {
            found.push((name, fs::read_to_string(entry.path()).unwrap()));
        }
    }
    found
}
