//! The manual's pages and the shells' files, made of the same declarations as `--help`: every command and option stands on its
//! page, and bash takes its file.

use std::fs;
use std::process::Command;

use super::{Scratch, benchleaf, stderr, stdout};

#[test]
fn every_command_has_a_page_with_its_options_and_shells_take_their_files() {
    let scratch = Scratch::new("manual");
    let output = benchleaf(&["manual", &scratch.path()]);
    assert!(output.status.success(), "{}", stderr(&output));
    let help = stdout(&benchleaf(&["--help"]));
    let commands: Vec<&str> = help
        .lines()
        .filter_map(|line| line.strip_prefix("  "))
        .filter(|line| line.starts_with(|c: char| c.is_ascii_lowercase()))
        .filter_map(|line| line.split_whitespace().next())
        .collect();
    assert!(commands.len() > 12, "{help}");
    for command in commands {
        let page = fs::read_to_string(format!("{}/benchleaf-{command}.1", scratch.path())).unwrap();
        let help = stdout(&benchleaf(&[command, "--help"]));
        for option in help.split([' ', ',', '\n']).filter(|word| word.starts_with("--") && word.len() > 2) {
            let option = option.trim_end_matches(|c: char| !c.is_ascii_alphanumeric());
            let set = option.replace('-', "\\-");
            assert!(page.contains(&set), "{command}: {option} is not on its page");
        }
    }
    let pages = fs::read_dir(scratch.path()).unwrap().map(|entry| entry.unwrap().file_name());
    let again: Vec<_> = pages.filter(|name| name.to_string_lossy().contains("-help")).collect();
    assert!(again.is_empty(), "pages that only say again what others say: {again:?}");
    let bash = format!("{}/benchleaf.bash", scratch.path());
    let script = format!(
        "source '{bash}' && COMP_WORDS=(benchleaf ti) COMP_CWORD=1 && _benchleaf benchleaf ti benchleaf && echo \"${{COMPREPLY[@]}}\""
    );
    // Where there is no bash, its file is not tried.
    if let Ok(completed) = Command::new("bash").args(["-c", &script]).output() {
        assert_eq!(stdout(&completed), "tidy\n", "{}", stderr(&completed));
    }
}

#[test]
fn a_folder_that_is_not_there_is_told() {
    let output = benchleaf(&["manual", "nowhere/at/all"]);
    assert_eq!(output.status.code(), Some(2));
    assert!(stderr(&output).contains("cli/unwritable"), "{}", stderr(&output));
}
