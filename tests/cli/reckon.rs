//! Bench calculations as typed: each file of `tests/cli/reckon` begins with a command line, and after it stand the
//! exit code and what came out. `REWRITE_EXPECTED=1` writes them anew.

use std::fs;

use super::{benchleaf, stderr, stdout};
use crate::expected::{compare, files, folder};

/// Splits a command line at blanks outside double quotes.
pub fn words(line: &str) -> Vec<String> {
    let mut words = vec![String::new()];
    let mut quoted = false;
    for c in line.chars() {
        match c {
            '"' => quoted = !quoted,
            ' ' if !quoted => words.push(String::new()),
            _ => words.last_mut().unwrap().push(c),
        }
    }
    assert!(!quoted, "an open quote: {line}");
    words.retain(|word| !word.is_empty());
    words
}

/// Runs the command line after `$ benchleaf` and gives everything that came of it.
fn told(line: &str) -> String {
    let typed = words(line.strip_prefix("$ benchleaf ").expect("a file begins with `$ benchleaf`"));
    let arguments: Vec<&str> = typed.iter().map(String::as_str).collect();
    let output = benchleaf(&arguments);
    let mut out = format!("{line}\nexit {}\n", output.status.code().unwrap());
    for (name, text) in [("output", stdout(&output)), ("complaints", stderr(&output))] {
        if !text.is_empty() {
            out += &format!("-- {name}\n{text}");
        }
    }
    out
}

#[test]
fn every_form_answers_as_written_down() {
    let mut faults = Vec::new();
    for path in files(&folder("cli/reckon"), "txt") {
        let text = fs::read_to_string(&path).unwrap();
        faults.extend(compare(&path, &told(text.lines().next().unwrap())).err());
    }
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

#[test]
fn every_form_has_a_good_and_a_bad_case() {
    let help = stdout(&benchleaf(&["reckon", "--help"]));
    let forms: Vec<&str> = help
        .lines()
        .filter(|line| line.starts_with("  ") && !line.starts_with("   "))
        .filter_map(|line| line.split_whitespace().next())
        .filter(|form| form.starts_with(|c: char| c.is_ascii_lowercase()))
        .collect();
    assert!(forms.len() >= 28, "{help}");
    let readme = fs::read_to_string(concat!(env!("CARGO_MANIFEST_DIR"), "/README.md")).unwrap();
    let cases: Vec<String> =
        files(&folder("cli/reckon"), "txt").iter().map(|path| fs::read_to_string(path).unwrap()).collect();
    for form in forms {
        assert!(
            readme.contains(&format!("\nbenchleaf reckon {form} ")),
            "the README doesn't show `reckon {form}`"
        );
        for exit in [0, 2] {
            let begins = format!("$ benchleaf reckon {form} ");
            let found = cases.iter().any(|case| {
                // A form may be asked with nothing behind it.
                case.replacen('\n', " \n", 1).starts_with(&begins)
                    && case.lines().nth(1) == Some(format!("exit {exit}").as_str())
            });
            assert!(found, "`reckon {form}` has no case that exits {exit}");
        }
    }
}

/// Each option of which the help says what holds where it is not stated is told in the answer where it was left out.
#[test]
fn what_was_not_given_is_told_as_assumed() {
    let readme = fs::read_to_string(concat!(env!("CARGO_MANIFEST_DIR"), "/README.md")).unwrap();
    let mut left_out = 0;
    for line in readme.lines().filter(|line| line.starts_with("benchleaf reckon ")) {
        let typed = words(line);
        let help = stdout(&benchleaf(&["reckon", &typed[2], "--help"]));
        let options = help.split("\n  --").skip(1);
        let unstated = options.filter(|option| option.contains("not stated"));
        let names: Vec<String> =
            unstated.map(|option| format!("--{}", option.split_whitespace().next().unwrap())).collect();
        let omitted = names.iter().filter(|name| !typed.contains(*name)).count();
        let told = told(&format!("$ {line} --format json"));
        let json = told.split_once("-- output\n").unwrap().1;
        let answer: serde_json::Value = serde_json::from_str(json).unwrap();
        let assumed = answer["assumed"].as_array().map_or(0, Vec::len);
        // A form may ask for less where another way into it is taken.
        let ways = usize::from(["spring", "press", "lift", "release"].contains(&typed[2].as_str()));
        assert!(
            assumed + ways >= omitted,
            "{line}: {omitted} left out of {names:?}, {assumed} told as assumed"
        );
        left_out += omitted;
    }
    assert!(left_out >= 12, "{left_out}");
}

/// What is computed says that it is an estimate, and every answer names a source.
#[test]
fn computed_numbers_say_estimate_and_answers_name_a_source() {
    for path in files(&folder("cli/reckon"), "txt") {
        let text = fs::read_to_string(&path).unwrap();
        let line = text.lines().next().unwrap();
        if !text.contains("\nexit 0\n") || line.contains("--format") {
            continue;
        }
        let with_json = told(&format!("{line} --format json"));
        let json = with_json.split_once("-- output\n").unwrap().1;
        let answer: serde_json::Value = serde_json::from_str(json).unwrap();
        assert!(!answer["sources"].as_array().unwrap().is_empty(), "{}", path.display());
        assert!(!answer["given"].as_array().unwrap().is_empty() || answer["reckon"] == "units");
        let computed = answer["results"].as_array().unwrap().iter().any(|result| result["estimate"] == true);
        assert_eq!(computed, text.contains("Result (estimate)"), "{}", path.display());
        for result in answer["results"].as_array().unwrap() {
            assert!(result["low"].is_null() || result["unit"].is_string(), "{result}");
            assert!(result["low"].as_f64() <= result["high"].as_f64(), "{result}");
        }
    }
}

/// The lines of the README that reckon, as they stand there.
#[test]
fn the_readme_reckons() {
    let readme = fs::read_to_string(concat!(env!("CARGO_MANIFEST_DIR"), "/README.md")).unwrap();
    let mut count = 0;
    for line in readme.lines().filter(|line| line.starts_with("benchleaf reckon ")) {
        let text = told(&format!("$ {line}"));
        assert!(text.contains("\nexit 0\n"), "{text}");
        count += 1;
    }
    assert!(count >= 9);
}

/// A pipe that closes, a flood of digits, signs where none belong: an answer or a complaint, never a crash.
#[test]
fn odd_input_is_told_of() {
    let long = "9".repeat(4000);
    for line in [
        "thread M",
        "thread \"\"",
        "thread \"1/0-20 UNC\"",
        "torque M10 --class 8.8 --friction 0",
        "torque M10 --class 8.8 --friction \"0.14 .. 0.1.0\"",
        "torque M10 --preload \"-5 kN\" --friction 0.1",
        "torque M10 --torque \"60 N.m .. 40 N.m\" --friction 0.1",
        "wrench --torque \"0 N.m\"",
        "pattern --grid 0x5",
        "pattern --ring 0",
        "pattern --grid 999999999999x2",
        "pattern",
        "lift --mass \"1 kg\" --reach \"-1 cm\"",
        "fit \"0 mm\" H7/p6",
        "fit \"50 mm\" H77/p6",
        "fit \"50 mm\" \"\"",
        "fit \"50 mm\" /",
        "heat --bore \"1 mm\" --interference \"90 mm\" --material steel --cool",
        "displacement --bore \"80 mm\" --stroke \"88 mm\" --cylinders 0",
        &format!("units \"{long} mm\"") as &str,
        "units \"99999999999 mm\"",
        "torque M10 --class 8.8 --friction 99999",
        "heat --bore \"0.000000001 mm\" --interference \"900000000 m\" --material steel --cool",
    ] {
        let output = told(&format!("$ benchleaf reckon {line}"));
        assert!(output.contains("\nexit 2\n"), "{line}\n{output}");
    }
}
