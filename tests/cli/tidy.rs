//! `tidy` as a user meets it: what it writes, what it leaves, how it exits.

use std::fs;

use super::{Scratch, benchleaf, stderr, stdout};

const LOOSE: &str = "part a \"A\"\n\n\n\npart b\n  \"B\" {  under a }\n";
const FORM: &str = "part a \"A\"\n\n\npart b \"B\" { under a }\n";

#[test]
fn files_and_folders_are_laid_out_once() {
    let scratch = Scratch::new("tidy");
    let path = scratch.file("shop/pump.rebuild", LOOSE);
    let other = scratch.file("shop/shared/tools.rebuild", "tool tray \"Tray\" { kind other }\n");
    scratch.file("shop/notes.txt", LOOSE);

    let would = benchleaf(&["tidy", "--check", &scratch.path()]);
    assert_eq!(would.status.code(), Some(1));
    assert_eq!(stdout(&would), format!("{path}:4: would be laid out anew from here\n"));
    assert_eq!(stderr(&would), "2 files: 1 to lay out, 1 tidy already\n");
    assert_eq!(fs::read_to_string(&path).unwrap(), LOOSE);

    let laid = benchleaf(&["tidy", &path, &other]);
    assert_eq!(
        (laid.status.code(), stderr(&laid)),
        (Some(0), "2 files: 1 laid out, 1 tidy already\n".to_owned())
    );
    assert_eq!(fs::read_to_string(&path).unwrap(), FORM);
    let again = benchleaf(&["tidy", "--check", &scratch.path()]);
    assert_eq!((again.status.code(), stdout(&again)), (Some(0), String::new()));
}

#[test]
fn a_file_with_a_fault_is_left_and_the_others_are_laid_out() {
    let scratch = Scratch::new("tidy-fault");
    let faulty = scratch.file("a.rebuild", "part a {  under }\n");
    let sound = scratch.file("b.rebuild", LOOSE);
    let output = benchleaf(&["tidy", &faulty, &sound]);
    assert_eq!(output.status.code(), Some(1));
    assert!(stderr(&output).contains("language/missing-name"), "{}", stderr(&output));
    assert_eq!(fs::read_to_string(&faulty).unwrap(), "part a {  under }\n");
    assert_eq!(fs::read_to_string(&sound).unwrap(), FORM);
}

#[cfg(unix)]
#[test]
fn a_link_stays_a_link_and_a_file_that_may_not_be_written_is_left() {
    use std::os::unix::fs::{PermissionsExt, symlink};
    let scratch = Scratch::new("tidy-link");
    let path = scratch.file("real.rebuild", LOOSE);
    let link = format!("{}/link.rebuild", scratch.path());
    symlink(&path, &link).unwrap();
    assert!(benchleaf(&["tidy", &link]).status.success());
    assert!(fs::symlink_metadata(&link).unwrap().is_symlink());
    assert_eq!(fs::read_to_string(&path).unwrap(), FORM);

    let kept = scratch.file("kept.rebuild", LOOSE);
    fs::set_permissions(&kept, fs::Permissions::from_mode(0o444)).unwrap();
    let output = benchleaf(&["tidy", &kept]);
    assert_eq!(output.status.code(), Some(2), "{}", stderr(&output));
    assert_eq!(fs::read_to_string(&kept).unwrap(), LOOSE);
}
