//! `grammar/GUIDE.md` held to what the program does: its pieces, put together, are the file that ships; that file is
//! sound; every complaint shown is what is said when the line is left out; the record of its job can be built by.

use std::fs;
use std::path::Path;

use benchleaf::model::Phase;
use benchleaf::{Memory, Request, Standing, Workshop};

const SHARED: [&str; 3] = ["shared/tools.rebuild", "shared/supplies.rebuild", "shared/hazards.rebuild"];
const FILE: &str = "procedures/first/coolant_pump.rebuild";

fn text(path: &str) -> String {
    fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join(path)).unwrap()
}

/// A fenced block of the guide: its language, the line that stands over it, and its words.
struct Shown {
    language: String,
    over: String,
    words: String,
}

fn shown() -> Vec<Shown> {
    let page = text("grammar/GUIDE.md");
    let mut shown = Vec::new();
    let mut over = String::new();
    let mut open: Option<Shown> = None;
    for line in page.lines() {
        match (&mut open, line.strip_prefix("```")) {
            (Some(_), Some("")) => shown.extend(open.take()),
            (Some(block), _) => block.words += &format!("{line}\n"),
            (None, Some(language)) => {
                open =
                    Some(Shown { language: language.to_owned(), over: over.clone(), words: String::new() });
            }
            (None, None) => over = line.to_owned(),
        }
    }
    shown
}

fn of(language: &str) -> Vec<Shown> {
    shown().into_iter().filter(|block| block.language == language).collect()
}

/// What is said of a procedure that stands at the place of the one that ships.
fn said_of(procedure: &str) -> Vec<String> {
    let mut files = Memory::new().with("pump.rebuild", procedure);
    for shared in SHARED {
        files = files.with(shared, text(&format!("procedures/{shared}")));
    }
    let mut workshop = Workshop::over(files);
    let outcome = workshop.check(Path::new("pump.rebuild"));
    outcome.diagnostics.iter().map(|diagnostic| diagnostic.message.clone()).collect()
}

#[test]
fn the_pieces_are_the_file_that_ships() {
    let pieces: Vec<String> = of("rebuild").into_iter().map(|block| block.words).collect();
    assert!(pieces.len() > 10, "{}", pieces.len());
    assert_eq!(pieces.join("\n"), text(FILE));
}

#[test]
fn the_file_is_sound() {
    assert_eq!(said_of(&text(FILE)), Vec::<String>::new());
}

/// The file without what the comment over a complaint names: the first line that is it, or else the first that holds it;
/// with `on:`, the first line that holds that.
fn without(over: &str) -> String {
    let named = over.strip_prefix("<!-- without: ").and_then(|rest| rest.strip_suffix(" -->"));
    let named = named.unwrap_or_else(|| panic!("{over}"));
    let (gone, on) = named.split_once(" on: ").unwrap_or((named, named));
    let file = text(FILE);
    let whole = file.lines().position(|line| line.trim() == on);
    let at = whole.or_else(|| file.lines().position(|line| line.contains(on)));
    let at = at.unwrap_or_else(|| panic!("{on}"));
    let kept = file.lines().enumerate().map(|(number, line)| match number == at {
        true => line.replacen(gone, "", 1),
        false => line.to_owned(),
    });
    kept.map(|line| line + "\n").collect()
}

#[test]
fn what_is_left_out_is_complained_of_as_shown() {
    let complaints = of("complaint");
    assert!(complaints.len() > 4, "{}", complaints.len());
    for Shown { over, words, .. } in complaints {
        let said = said_of(&without(&over));
        assert!(said.contains(&words.trim().to_owned()), "{over}: {said:?}");
    }
}

/// What steps of the build wait for, with a record or without.
fn waits(record: Option<&str>) -> Vec<String> {
    let mut files = Memory::new().with("job.yaml", record.unwrap_or_default());
    for file in SHARED.into_iter().chain(["first/coolant_pump.rebuild"]) {
        files = files.with(file.trim_start_matches("first/"), text(&format!("procedures/{file}")));
    }
    let mut workshop = Workshop::over(files);
    let named = record.map(|_| Path::new("job.yaml"));
    let request = Request { record: named, ..Request::of("coolant_pump.rebuild") };
    let opened = workshop.job(&request);
    assert!(opened.diagnostics.is_empty(), "{:?}", opened.diagnostics);
    let view = opened.value.unwrap();
    let build = view.plan.phase(Phase::Build).unwrap();
    let held = build.steps.iter().filter_map(|step| match &step.standing {
        Standing::Held(holds) => Some(holds),
        _ => None,
    });
    held.flatten().map(|hold| hold.text.clone()).collect()
}

#[test]
fn with_the_record_nothing_is_waited_for() {
    let records = of("yaml");
    assert_eq!(records.len(), 1);
    assert_eq!(waits(Some(&records[0].words)), Vec::<String>::new());
    assert!(!waits(None).is_empty());
}
