//! The packets in `output-samples/`, made from what the repository ships. `REWRITE_EXPECTED=1 cargo test` makes them
//! anew; without it a sample that is not what the program makes now fails.

use std::fs;

use benchleaf::model::Phase;

use super::{PHASES, made_all, root};

#[test]
fn the_samples_are_what_the_program_makes() {
    // The first engine's job at three moments, the survey with what is done already, so that every kind of sheet is there;
    // of the second what is written once for both banks, and a messy job of it half stripped, measured, and ready to be built.
    const SAMPLES: [(&str, Phase, &str, bool); 9] = [
        ("brackwater3", Phase::Strip, "job", false),
        ("brackwater3", Phase::Survey, "measured.job", true),
        ("brackwater3", Phase::Build, "ready.job", false),
        ("brackwater3", Phase::Start, "ready.job", false),
        ("hallowmere4", Phase::Strip, "job", false),
        ("hallowmere4", Phase::Build, "measured.job", false),
        ("hallowmere4.bodged", Phase::Strip, "job", false),
        ("hallowmere4.bodged", Phase::Survey, "measured.job", true),
        ("hallowmere4.bodged", Phase::Build, "ready.job", false),
    ];
    let mut stale = Vec::new();
    for (engine, phase, record, all) in SAMPLES {
        let word = PHASES.iter().find(|(of, _)| *of == phase).unwrap().1;
        let family = engine.split('.').next().unwrap();
        let procedure = format!("procedures/{family}.rebuild");
        let made = made_all(&procedure, Some(&format!("procedures/{engine}.{record}.yaml")), phase, all);
        let path = root(&format!("output-samples/{}-{word}.pdf", engine.replace('.', "-")));
        if std::env::var_os("REWRITE_EXPECTED").is_some() {
            fs::write(&path, &made.pdf).unwrap();
        } else if fs::read(&path).unwrap_or_default() != made.pdf {
            stale.push(path.display().to_string());
        }
    }
    assert!(stale.is_empty(), "stale (REWRITE_EXPECTED=1 cargo test makes them anew): {}", stale.join(", "));
}
