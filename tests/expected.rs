//! Results that stand in files beside the tests. `REWRITE_EXPECTED=1 cargo test` writes them anew; read the
//! difference before committing it.

use std::fs;
use std::path::{Path, PathBuf};

use benchleaf::{Diagnostic, Look, Sources, codes, render_terminal};

/// `tests/FOLDER`.
pub fn folder(folder: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests").join(folder)
}

/// Every file of `folder` with this extension, sorted; not those in folders inside it.
pub fn files(folder: &Path, extension: &str) -> Vec<PathBuf> {
    let mut files: Vec<PathBuf> = fs::read_dir(folder)
        .unwrap_or_else(|error| panic!("{}: {error}", folder.display()))
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.extension().is_some_and(|found| found == extension))
        .collect();
    files.sort();
    assert!(!files.is_empty(), "no .{extension} in {}", folder.display());
    files
}

/// Compares `actual` with the text of `path`, or writes it there when told to. Gives a complaint if they differ.
pub fn compare(path: &Path, actual: &str) -> Result<(), String> {
    if std::env::var_os("REWRITE_EXPECTED").is_some() {
        fs::write(path, actual).unwrap();
        return Ok(());
    }
    let expected = fs::read_to_string(path).unwrap_or_default();
    if expected == actual {
        return Ok(());
    }
    let line = expected.lines().zip(actual.lines()).take_while(|(a, b)| a == b).count();
    Err(format!(
        "{} differs at line {} (REWRITE_EXPECTED=1 writes it anew)\n  expected: {}\n  actual:   {}",
        path.display(),
        line + 1,
        expected.lines().nth(line).unwrap_or("(the end)"),
        actual.lines().nth(line).unwrap_or("(the end)"),
    ))
}

/// All complaints as they are printed at a terminal, without colour, at a fixed width.
pub fn printed(sources: &Sources, diagnostics: &[Diagnostic]) -> String {
    let text = render_terminal(sources, diagnostics, Look { colour: false, width: 80 });
    text.lines().map(str::trim_end).collect::<Vec<_>>().join("\n") + "\n"
}

/// Holds the fixtures of a room, `tests/diagnostics/ROOM/FAULT.EXTENSION` or `FAULT-more-words.EXTENSION`: each
/// raises the code it is named after, and prints the complaints of the `.txt` beside it; and each code of the room has
/// a fixture, but for those in `elsewhere`, which a test in code raises.
pub fn fixtures(
    room: &str,
    extension: &str,
    elsewhere: &[&str],
    run: impl Fn(&mut Sources, &Path) -> Vec<Diagnostic>,
) {
    let folder = folder("diagnostics").join(room);
    let faults: Vec<&str> =
        codes::all().iter().filter_map(|code| code.name.strip_prefix(room)?.strip_prefix('/')).collect();
    let mut seen: Vec<&str> = elsewhere.to_vec();
    let mut wrong = Vec::new();
    for path in files(&folder, extension) {
        let stem = path.file_stem().unwrap().to_string_lossy().into_owned();
        let named = |fault: &&&str| stem == ***fault || stem.starts_with(&format!("{fault}-"));
        let Some(fault) = faults.iter().filter(named).max_by_key(|fault| fault.len()) else {
            wrong.push(format!("{}: no code of `{room}` has this name", path.display()));
            continue;
        };
        seen.push(fault);
        let mut sources = Sources::new();
        let diagnostics = run(&mut sources, &path);
        let code = format!("{room}/{fault}");
        if !diagnostics.iter().any(|diagnostic| diagnostic.code.name == code) {
            wrong.push(format!("{}: `{code}` is not raised", path.display()));
        }
        wrong.extend(diagnostics.iter().filter_map(shape_fault));
        wrong.extend(compare(&path.with_extension("txt"), &printed(&sources, &diagnostics)).err());
    }
    wrong.extend(
        faults
            .iter()
            .filter(|fault| !seen.contains(fault))
            .map(|fault| format!("`{room}/{fault}` has no fixture")),
    );
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// What every complaint must have: a message that starts small and doesn't end like a sentence, a place, and what mends it.
fn shape_fault(diagnostic: &Diagnostic) -> Option<String> {
    let message = &diagnostic.message;
    let sound = !message.starts_with(|c: char| c.is_uppercase()) && !message.ends_with('.');
    (!sound || diagnostic.mend.is_none() || diagnostic.labels.is_empty()).then(|| {
        format!(
            "`{}`: a small first letter, no full stop, a place and what mends it are wanted",
            diagnostic.code.name
        )
    })
}
