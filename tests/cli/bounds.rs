//! What no input may do: keep a command for ever, fill the memory, act on the terminal, or pass half an answer for a whole one.

use std::fs;
use std::process::{Command, Stdio};

use super::files::{every_command, within_reason};
use super::{SOUND, Scratch, benchleaf, stderr, stdout};

/// Counts, times and choices far beyond use: refused by every command, at once.
#[test]
fn what_is_beyond_reason_is_refused() {
    let scratch = Scratch::new("beyond");
    let head = "family x \"X\" { origin \"invented\" }\n";
    let part = "part b \"B\" { fate reuse }\n";
    let strip = "strip s \"S\" { take b }\n";
    let questions: String = (0..60).map(|index| format!("ask q{index} \"Q{index}?\" = a, b, c\n")).collect();
    let cases: Vec<String> =
        (0..30).map(|index| format!("renew when q{} = a and q{} = b", 2 * index, 2 * index + 1)).collect();
    for (name, text) in [
        (
            "set",
            format!(
                "{head}part b \"B\" {{ held by f  fate reuse }}\nfasteners f 4000000000 \"F\" {{ thread M8 }}\nstrip s \"S\" {{ undo f  take b }}\n"
            ),
        ),
        ("part", format!("{head}part b 50000000 \"B\" {{ fate reuse }}\n{strip}")),
        ("time", format!("{head}{part}strip s \"S\" {{ take b  time 1000000 h }}\n")),
        ("minutes", format!("{head}{part}strip s \"S\" {{ take b  time 18446744073709551616 min }}\n")),
        ("change", format!("{head}setup stand = up (at first), down  change 4294967295 s\n{part}{strip}")),
        (
            "answers",
            format!("{head}{questions}part b \"B\" {{ fate {}, else reuse }}\n{strip}", cases.join(", ")),
        ),
        ("price", format!("{head}part b \"B\" {{ fate renew  price 99999999999 EUR }}\n{strip}")),
    ] {
        let procedure = scratch.file("x.rebuild", &text);
        let record = scratch.file("job.yaml", "job: \"7\"\nprocedure: x.rebuild\n");
        for arguments in every_command(&procedure, &record, &format!("{}/x.pdf", scratch.path())) {
            let arguments: Vec<&str> = arguments.iter().map(String::as_str).collect();
            assert_eq!(within_reason(&arguments), Some(1), "{name}: {arguments:?}");
        }
        let told = stderr(&benchleaf(&["check", &procedure]));
        assert!(told.contains("procedure/out-of-reason") || told.contains("procedure/not-money"), "{told}");
    }
}

/// A pipe never ends by itself: it is refused where it is named, brought in, or found in a folder.
#[cfg(unix)]
#[test]
fn a_pipe_or_a_device_is_no_input() {
    let scratch = Scratch::new("pipes");
    let at = |name: &str| format!("{}/{name}", scratch.path());
    scratch.file("e.rebuild", SOUND);
    scratch.file("in.rebuild", format!("use \"pipe.rebuild\"\n{SOUND}"));
    assert!(Command::new("mkfifo").arg(at("pipe.rebuild")).status().unwrap().success());
    for (arguments, code) in [
        (vec!["check", &at("pipe.rebuild") as &str], 2),
        (vec!["check", &at("in.rebuild")], 1),
        (vec!["check", &scratch.path()], 2),
        (vec!["verdict", &at("e.rebuild"), "--job", &at("pipe.rebuild")], 2),
        (vec!["packet", &at("e.rebuild"), "--prices", &at("pipe.rebuild"), "-o", &at("e.pdf")], 2),
        (vec!["check", "/dev/zero"], 2),
    ] {
        assert_eq!(within_reason(&arguments), Some(code), "{arguments:?}");
    }
    let told = stderr(&benchleaf(&["check", &at("in.rebuild")]));
    assert!(told.contains("a pipe or a device"), "{told}");
}

/// A full disk behind the output is no success; a reader that has read enough is.
#[cfg(target_os = "linux")]
#[test]
fn what_could_not_be_written_is_an_error() {
    let scratch = Scratch::new("full");
    let procedure = scratch.file("e.rebuild", SOUND);
    for arguments in [
        vec!["order", &procedure as &str],
        vec!["ledger", &procedure],
        vec!["check", &procedure, "--format", "json"],
        vec!["reckon", "units", "82 N.m"],
    ] {
        let full = fs::OpenOptions::new().write(true).open("/dev/full").unwrap();
        let output =
            Command::new(env!("CARGO_BIN_EXE_benchleaf")).args(&arguments).stdout(full).output().unwrap();
        assert_eq!(output.status.code(), Some(2), "{arguments:?}");
        assert!(stderr(&output).contains("can't be written whole"), "{}", stderr(&output));
        let mut child = Command::new(env!("CARGO_BIN_EXE_benchleaf"))
            .args(&arguments)
            .stdout(Stdio::piped())
            .spawn()
            .unwrap();
        drop(child.stdout.take());
        assert_eq!(child.wait().unwrap().code(), Some(0), "{arguments:?}");
    }
}

/// Signs that blank the screen, colour it, hide what follows or turn it round stand in titles, comments, notes and file names.
#[test]
fn nothing_from_a_file_acts_on_the_terminal() {
    const EVIL: &str = "\u{1b}[2J\u{1b}]0;x\u{7}\u{9b}5m\u{202e}live\u{2066}\u{7f}";
    let scratch = Scratch::new("signs");
    let sound = scratch.file(
        "e.rebuild",
        format!(
            "family e \"E {EVIL}\" {{ origin \"invented {EVIL}\" }}\npart b \"B {EVIL}\" {{ fate reuse }} -- {EVIL}\nstrip s \"S {EVIL}\" {{ \
             take b }}\n"
        ),
    );
    let faulty = scratch.file(
        "f.rebuild",
        format!("family f \"F\" {{ origin \"i\" }} use \"{EVIL}\"\npart b \"{EVIL}\" {{ under c }}\n"),
    );
    let record = scratch.file(
        "job.yaml",
        "job: \"7\"\nprocedure: e.rebuild\ncustomer: \"\\e[2J\"\nnotes:\n  - {about: b, says: \"\\e[2J \\x9b5m\"}\nanswers: {\"\\e[31m\": x}\n",
    );
    for arguments in [
        vec!["check", &faulty as &str],
        vec!["check", &faulty, "--format", "line"],
        vec!["check", &faulty, "--format", "json"],
        vec!["check", &record],
        vec!["order", &sound],
        vec!["order", &sound, "--format", "json"],
        vec!["ledger", &sound],
        vec!["why", &sound, "s"],
        vec!["notes", &record],
        vec!["verdict", &record],
        vec!["check", "no\u{1b}[2Jfile.rebuild"],
    ] {
        let output = benchleaf(&arguments);
        for text in [stdout(&output), stderr(&output)] {
            let acts = text
                .chars()
                .find(|sign| sign.is_control() && *sign != '\n' || "\u{202e}\u{2066}".contains(*sign));
            assert_eq!(acts, None, "{arguments:?}: {text:?}");
        }
        // What is refused has nothing for programs to read but the complaints of `check`.
        if arguments.contains(&"json") && (arguments[0] == "check" || output.status.success()) {
            serde_json::from_str::<serde_json::Value>(&stdout(&output)).unwrap();
        }
    }
}
