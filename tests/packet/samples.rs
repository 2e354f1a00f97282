//! The packets in `output-samples/`, made from what the repository ships. `UPDATE_EXPECTED=1 cargo test` makes them
//! anew; without it a sample that is not what the program makes now fails.

use std::fs;

use super::{PHASES, made, root};

#[test]
fn the_samples_are_what_the_program_makes() {
    let mut stale = Vec::new();
    for (phase, word) in PHASES {
        let made = made("procedures/brackwater3.leaf", Some("procedures/brackwater3.job.yaml"), phase);
        let path = root(&format!("output-samples/brackwater3-{word}.pdf"));
        if std::env::var_os("UPDATE_EXPECTED").is_some() {
            fs::write(&path, &made.pdf).unwrap();
        } else if fs::read(&path).unwrap_or_default() != made.pdf {
            stale.push(path.display().to_string());
        }
    }
    assert!(stale.is_empty(), "stale (UPDATE_EXPECTED=1 cargo test makes them anew): {}", stale.join(", "));
}
