//! The packets in `output-samples/`, made from what the repository ships. `REWRITE_EXPECTED=1 cargo test` makes them
//! anew; without it a sample that is not what the program makes now fails.

use std::fs;

use benchleaf::model::Phase;

use super::{PHASES, made_all, root};

#[test]
fn the_samples_are_what_the_program_makes() {
    let mut stale = Vec::new();
    for (phase, word) in PHASES {
        // One job at three moments; the survey with what is done already, so that every kind of sheet is there.
        let (record, all) = match phase {
            Phase::Strip => ("procedures/brackwater3.job.yaml", false),
            Phase::Survey => ("procedures/brackwater3.measured.job.yaml", true),
            Phase::Build | Phase::Start => ("procedures/brackwater3.ready.job.yaml", false),
        };
        let made = made_all("procedures/brackwater3.rebuild", Some(record), phase, all);
        let path = root(&format!("output-samples/brackwater3-{word}.pdf"));
        if std::env::var_os("REWRITE_EXPECTED").is_some() {
            fs::write(&path, &made.pdf).unwrap();
        } else if fs::read(&path).unwrap_or_default() != made.pdf {
            stale.push(path.display().to_string());
        }
    }
    assert!(stale.is_empty(), "stale (REWRITE_EXPECTED=1 cargo test makes them anew): {}", stale.join(", "));
}
