//! A folder of procedures checked at once says what its files say one by one.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

use benchleaf::{Diagnostic, Workshop, render_lines};

/// Complaints as lines, so that the same of another reading of a file is the same.
fn lines(workshop: &Workshop, diagnostics: &[Diagnostic]) -> BTreeSet<String> {
    render_lines(workshop.sources(), diagnostics).lines().map(str::to_owned).collect()
}

#[test]
fn a_folder_says_what_its_files_say() {
    let mut found = 0;
    for folder in ["procedures", "tests/diagnostics/procedure", "tests/diagnostics/network"] {
        let mut whole = Workshop::new();
        let paths: Vec<PathBuf> = whole.procedures(&[Path::new(folder).to_owned()]).value;
        assert!(paths.len() > 5, "{folder}");
        let at_once = whole.check_all(&paths);
        let mut apart = BTreeSet::new();
        for path in &paths {
            let mut alone = Workshop::new();
            let diagnostics = alone.check(path).diagnostics;
            apart.extend(lines(&alone, &diagnostics));
        }
        assert_eq!(lines(&whole, &at_once), apart, "{folder}");
        found += apart.len();
        // Again in one and the same run, when every file has been read.
        let again = whole.check_all(&paths);
        assert_eq!(lines(&whole, &again), apart, "{folder}");
    }
    assert!(found > 200, "{found}");
}
