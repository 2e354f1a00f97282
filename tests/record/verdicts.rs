//! Verdicts of whole jobs, as text, each record with its report beside it; and what machining holds elsewhere until it is
//! read again.

use std::path::Path;

use benchleaf::decide::{Chosen, decide, verdict_json, verdict_text};
use benchleaf::diagnostics::{Severity, render_lines};
use benchleaf::plan::{Choosing, PlanOptions, Standing, plan};
use benchleaf::procedure::model::{Phase, Procedure};
use benchleaf::record::Job;
use benchleaf::source::Sources;
use benchleaf::structure::Structure;
use benchleaf::{network, procedure, record};

use crate::tests::expected;

/// Folders of `tests/jobs` with records of verdicts, and their procedure.
const FOLDERS: [(&str, &str); 3] =
    [("verdicts", "pump.rebuild"), ("skimmed", "head.rebuild"), ("by_place", "stages.rebuild")];

#[test]
fn reports_are_those_kept_beside_the_records() {
    let mut wrong = Vec::new();
    for (folder, family) in FOLDERS {
        let folder = expected::folder("jobs").join(folder);
        for path in expected::files(&folder, "yaml") {
            let (procedure, job) = loaded(&folder.join(family), &path);
            let decided = decide(&procedure, &Structure::of(&procedure), &job).value;
            let report = verdict_text(&procedure, &job, &decided, Some(&[]));
            wrong.extend(expected::compare(&path.with_extension("txt"), &report).err());
            let json: serde_json::Value =
                serde_json::from_str(&verdict_json(&procedure, &job, &decided, Some(&[]))).unwrap();
            assert_eq!(json["parts"].as_array().map(Vec::len), Some(decided.fates.len()));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// A procedure and a record of it, both without an error.
fn loaded(family: &Path, path: &Path) -> (Procedure, Job) {
    let mut sources = Sources::new();
    let loaded = procedure::load(&mut sources, family);
    let procedure = loaded.value.unwrap();
    let file = sources.read(path).unwrap();
    let text = sources.file(file).text.clone();
    let read = record::read(file, &text);
    let bound = record::bind(&read.value, &procedure);
    let decided = decide(&procedure, &Structure::of(&procedure), &bound.value);
    // `unused` and the like don't bear on a verdict; an error would.
    let errors: Vec<_> = [loaded.diagnostics, read.diagnostics, bound.diagnostics, decided.diagnostics]
        .concat()
        .into_iter()
        .filter(|diagnostic| diagnostic.severity() == Severity::Error)
        .collect();
    assert!(errors.is_empty(), "{}", render_lines(&sources, &errors));
    (procedure, bound.value)
}

/// What holds a step of the build of the skimmed head under a record.
fn held(record: &str, step: &str) -> Vec<String> {
    let folder = expected::folder("jobs/skimmed");
    let (procedure, job) = loaded(&folder.join("head.rebuild"), &folder.join(record));
    let network = network::connect(&procedure).value;
    let decisions = decide(&procedure, &network.structure, &job).value;
    let options = PlanOptions { recorded: true, choosing: Choosing::default() };
    let plan = plan(&procedure, &network, &decisions, options);
    let steps = &plan.phase(Phase::Build).unwrap().steps;
    let step = steps.iter().find(|other| other.key.id(&procedure) == step).unwrap();
    match &step.standing {
        Standing::Held(holds) => holds.iter().map(|hold| hold.text.clone()).collect(),
        Standing::Present => Vec::new(),
        other => panic!("{other:?}"),
    }
}

#[test]
fn what_sits_in_a_machined_part_is_held_until_it_is_read_again() {
    let again = "a new reading, since the cylinder head is machined: valve below the face";
    for record in ["skim.yaml", "unread.yaml"] {
        assert_eq!(held(record, "fit:valve"), [again], "{record}");
    }
    for record in ["found.yaml", "back.yaml"] {
        assert_eq!(held(record, "fit:valve"), [""; 0], "{record}");
    }
    // Read again and too deep: it holds still, for another reason.
    let [hold] = held("deep.yaml", "fit:valve").try_into().unwrap();
    assert!(hold.contains("not good") && hold.contains("1.24"), "{hold}");
}

#[test]
fn a_shim_is_chosen_anew_after_the_seat_was_faced() {
    let chosen = |record: &str| {
        let folder = expected::folder("jobs/skimmed");
        let (procedure, job) = loaded(&folder.join("head.rebuild"), &folder.join(record));
        let decisions = decide(&procedure, &Structure::of(&procedure), &job).value;
        let [chosen] = decisions.chosen.into_values().collect::<Vec<_>>().try_into().unwrap();
        match chosen {
            Chosen::Piece { piece, .. } => piece,
            Chosen::AtTheBench(..) => "at the bench".to_owned(),
            Chosen::Open(_) => "open".to_owned(),
        }
    };
    assert_eq!(chosen("found.yaml"), "middle");
    assert_eq!(chosen("skim.yaml"), "open");
    assert_eq!(chosen("unread.yaml"), "open");
    assert_eq!(chosen("back.yaml"), "thick");
}
