//! The README lists every key that a record may have.

use benchleaf::record;
use benchleaf::source::Sources;

#[test]
fn the_readme_names_every_key_of_a_record() {
    let readme = include_str!("../../README.md");
    let table = readme.split("### Every key of a record").nth(1).unwrap().split("\n## ").next().unwrap();
    let table: Vec<&str> = table.lines().filter(|line| line.starts_with("| `")).collect();
    for key in record::KEYS {
        let listed = |line: &&&str| line.split('|').nth(1).unwrap().contains(&format!("`{key}`"));
        assert!(table.iter().any(|line| listed(&line)), "`{key}` is not in the table");
    }
    // And nothing else: each key in the first column is one that a record may have.
    for line in table {
        for key in line.split('|').nth(1).unwrap().split('`').skip(1).step_by(2) {
            let text = format!("job: \"1\"\nprocedure: e.rebuild\n{key}:\n");
            let read = record::read(Sources::new().add("job.yaml", text.clone()), &text);
            let unknown =
                read.diagnostics.iter().any(|complaint| complaint.code.name == "record/unknown-key");
            assert!(!unknown, "a record has no `{key}`");
        }
    }
}
