//! `check --mend`: what is sure is changed, the rest is shown, and nothing is changed twice.

use std::fs;

use super::{Scratch, benchleaf, stderr, stdout};

const FAULTY: &str = "family pump “Pump” { origin \"invented\"  lifting limit 20kg }
fasteners screws 4 \"Screw\" { thread M6×1  class 8.8  drive 10mm  length 12 mm,  engagement 6,5 mm  reusable  tighten 9 N·m from \"invented\" }
part cover \"Cover\" { held by screw }
strip off \"Cover off\" { undo screws  take cover }
";

const MENDED: &str = "family pump \"Pump\" { origin \"invented\"  lifting limit 20 kg }
fasteners screws 4 \"Screw\" { thread M6x1  class 8.8  drive 10 mm  length 12 mm  engagement 6.5 mm  reusable  tighten 9 N.m from \"invented\" }
part cover \"Cover\" { held by screw }
strip off \"Cover off\" { undo screws  take cover }
";

#[test]
fn what_is_sure_is_changed_and_the_rest_is_shown() {
    let scratch = Scratch::new("mend");
    let path = scratch.file("pump.rebuild", FAULTY);
    let output = benchleaf(&["check", "--mend", &path]);
    assert_eq!(fs::read_to_string(&path).unwrap(), MENDED, "{}", stderr(&output));
    assert!(stderr(&output).starts_with(&format!("{path}: 7 places mended\n")), "{}", stderr(&output));
    // Which set was meant isn't sure: it is proposed, and left.
    assert!(stderr(&output).contains("nothing is called `screw`"), "{}", stderr(&output));
    assert_eq!(output.status.code(), Some(1));
    let again = benchleaf(&["check", "--mend", &path]);
    assert!(!stderr(&again).contains("mended"), "{}", stderr(&again));
    assert_eq!(fs::read_to_string(&path).unwrap(), MENDED);
}

#[test]
fn every_proposal_is_given_to_programs() {
    let scratch = Scratch::new("mend-json");
    let path = scratch.file("pump.rebuild", FAULTY);
    let output = benchleaf(&["check", "--format", "json", &path]);
    let found: serde_json::Value = serde_json::from_str(&stdout(&output)).unwrap();
    let mut text = FAULTY.to_owned();
    let mut edits: Vec<(usize, usize, String)> = Vec::new();
    for fault in found.as_array().unwrap() {
        let edit = &fault["edit"];
        if edit["sure"] == true {
            let at = |key: &str| usize::try_from(edit[key].as_u64().unwrap()).unwrap();
            edits.push((at("start"), at("end"), edit["text"].as_str().unwrap().to_owned()));
        }
    }
    edits.sort();
    for (start, end, with) in edits.iter().rev() {
        text.replace_range(*start..*end, with);
    }
    assert!(edits.len() >= 3, "{edits:?}");
    assert!(text.starts_with("family pump \"Pump\" {") && text.contains("thread M6x1 "), "{text}");
}
