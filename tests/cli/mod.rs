//! The program as a user runs it: exit codes, and what goes to which output.

mod agree;
mod folder;
mod order;
mod bounds;
mod paper;
mod worked;
mod compare;
mod complaints;
mod files;
mod going_out;
mod manual;
mod mend;
mod new;
mod odd;
mod prices;
mod reckon;
mod renamed;
mod shelf;
mod success;
mod sums;
mod tidy;
mod watch;
mod writing;

use std::fs;
use std::path::PathBuf;
use std::process::{Command, Output};
use std::sync::atomic::{AtomicUsize, Ordering};

/// Runs the program with these arguments, from the package's folder.
pub fn benchleaf(arguments: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_benchleaf"))
        .args(arguments)
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .env_remove("NO_COLOR")
        .output()
        .unwrap()
}

pub fn stdout(output: &Output) -> String {
    String::from_utf8(output.stdout.clone()).unwrap()
}

fn stderr(output: &Output) -> String {
    String::from_utf8(output.stderr.clone()).unwrap()
}

/// A folder of its own for a test, removed when the test is over.
pub struct Scratch(PathBuf);

impl Scratch {
    /// A folder no other test has, whatever the other calls its own: tests run at the same time.
    pub fn new(name: &str) -> Self {
        static MADE: AtomicUsize = AtomicUsize::new(0);
        let number = MADE.fetch_add(1, Ordering::Relaxed);
        let path = std::env::temp_dir().join(format!("benchleaf-{number:04}-{name}-{}", std::process::id()));
        fs::create_dir_all(&path).unwrap();
        Scratch(path)
    }

    /// Writes a file and gives its path.
    pub fn file(&self, name: &str, bytes: impl AsRef<[u8]>) -> String {
        let path = self.0.join(name);
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(&path, bytes).unwrap();
        path.to_string_lossy().into_owned()
    }

    pub fn path(&self) -> String {
        self.0.to_string_lossy().into_owned()
    }
}

impl Drop for Scratch {
    fn drop(&mut self) {
        let _ = fs::remove_dir_all(&self.0);
    }
}

const SOUND: &str = "family e \"E\" { origin \"invented\" }\npart cover \"Cover\"\n\
                     strip lift \"Lift the cover\" { take cover }\n";
const FAULTY: &str = "family e \"E\" { origin \"invented\" }\npart cover \"Cover\"\n\
                      strip lift \"Lift the cover\" { take covr }\n";

#[test]
fn a_sound_procedure_exits_0() {
    let scratch = Scratch::new("sound");
    let output = benchleaf(&["check", &scratch.file("sound.rebuild", SOUND)]);
    assert_eq!(output.status.code(), Some(0), "{}", stderr(&output));
    assert_eq!(stderr(&output), "1 procedure: no errors, no warnings, no notices\n");
    assert!(output.stdout.is_empty());
}

#[test]
fn an_error_exits_1_and_is_drawn_without_colour_where_nobody_looks() {
    let scratch = Scratch::new("faulty");
    let output = benchleaf(&["check", &scratch.file("faulty.rebuild", FAULTY)]);
    assert_eq!(output.status.code(), Some(1));
    let text = stderr(&output);
    assert!(
        text.contains("nothing is called `covr`") && text.contains("Write: `cover`, if that is meant"),
        "{text}"
    );
    assert!(!text.contains('\u{1b}'), "no escape codes but at a terminal");
    assert!(output.stdout.is_empty());
}

#[test]
fn a_record_is_checked_with_the_procedure_that_it_names() {
    let scratch = Scratch::new("record-checked");
    scratch.file("e.rebuild", SOUND);
    let record = |more: &str| scratch.file("job.yaml", format!("job: \"1\"\nprocedure: e.rebuild\n{more}"));
    let output = benchleaf(&["check", &record("")]);
    assert_eq!(output.status.code(), Some(0), "{}", stderr(&output));
    assert_eq!(stderr(&output), "1 record: no errors, no warnings, no notices\n");
    let path = record("notes:\n  - {about: covr, says: \"bent\"}\n");
    let output = benchleaf(&["check", "--format", "line", &path]);
    assert_eq!(output.status.code(), Some(1));
    assert!(stdout(&output).starts_with(&format!("{path}:4:13: error:")), "{}", stdout(&output));
    scratch.file("e.rebuild", FAULTY);
    let output = benchleaf(&["check", &record("")]);
    assert!(stderr(&output).contains("nothing is called `covr`"), "nothing is decided of a faulty procedure");
}

#[test]
fn a_record_stands_in_place_of_its_procedure() {
    let (procedure, record) = ("procedures/hallowmere4.rebuild", "procedures/hallowmere4.measured.job.yaml");
    for command in [&["order"][..], &["ledger"], &["verdict", "--format", "json"]] {
        let alone = benchleaf(&[command, &[record]].concat());
        let both = benchleaf(&[command, &[procedure, "--job", record]].concat());
        assert_eq!(alone.status.code(), Some(0), "{}", stderr(&alone));
        assert_eq!(stdout(&alone), stdout(&both), "{command:?}");
        assert!(!stdout(&alone).is_empty());
    }
    let output = benchleaf(&["verdict", procedure]);
    assert_eq!(output.status.code(), Some(2));
    assert!(stderr(&output).contains("no record is named"), "{}", stderr(&output));
    let output = benchleaf(&["packet", procedure, "--prices", "x.yaml", "-o", "x.pdf"]);
    assert!(stderr(&output).contains("`--prices` is about a job"), "{}", stderr(&output));
}

#[test]
fn json_is_one_array_on_the_standard_output() {
    let scratch = Scratch::new("json");
    let path = scratch.file("faulty.rebuild", FAULTY);
    let output = benchleaf(&["check", "--format", "json", &path]);
    assert_eq!(output.status.code(), Some(1));
    assert!(output.stderr.is_empty());
    let array: Vec<serde_json::Value> = serde_json::from_str(&stdout(&output)).unwrap();
    let [complaint] = array.as_slice() else { panic!("one complaint") };
    assert_eq!(complaint["name"], "procedure/unknown-name");
    assert_eq!(complaint["severity"], "error");
    assert_eq!(complaint["file"], path.as_str());
    assert_eq!(complaint["write"], "`cover`, if that is meant");
    assert!(complaint["mend"].is_null());
    let label = &complaint["places"][0];
    let (start, end) = (label["start"].as_u64().unwrap() as usize, label["end"].as_u64().unwrap() as usize);
    assert_eq!(&FAULTY[start..end], "covr");
    assert_eq!((label["line"].as_u64(), label["column"].as_u64()), (Some(3), Some(36)));
}

#[test]
fn lines_begin_with_path_line_and_column() {
    let scratch = Scratch::new("line");
    let path = scratch.file("faulty.rebuild", FAULTY);
    let output = benchleaf(&["check", "--format", "line", &path]);
    assert_eq!(output.status.code(), Some(1));
    let wanted = format!(
        "{path}:3:36: error: nothing is called `covr`; write: `cover`, if that is meant (procedure/unknown-name)\n"
    );
    assert!(stdout(&output).starts_with(&wanted), "{}", stdout(&output));
}

#[test]
fn a_folder_means_the_procedures_in_it() {
    let scratch = Scratch::new("folder");
    scratch.file("deep/down/one.rebuild", SOUND);
    scratch.file("deep/two.rebuild", SOUND);
    scratch.file("deep/tools.rebuild", "tool bar \"Bar\"\n");
    let output = benchleaf(&["check", &scratch.path()]);
    assert_eq!(output.status.code(), Some(0), "{}", stderr(&output));
    assert!(stderr(&output).starts_with("2 procedures:"), "{}", stderr(&output));
}

#[test]
fn what_several_procedures_bring_in_is_complained_of_once() {
    let scratch = Scratch::new("shared");
    scratch.file("shared.rebuild", "tool bar \"Bar\" { size 12 kg }\n");
    let text = format!("use \"shared.rebuild\"\n{}", SOUND.replace("{ take", "{ tools bar  take"));
    scratch.file("one.rebuild", &text);
    scratch.file("two.rebuild", &text);
    let output = benchleaf(&["check", "--format", "line", &scratch.path()]);
    assert_eq!(output.status.code(), Some(1));
    assert_eq!(stdout(&output).lines().count(), 1, "{}", stdout(&output));
}

#[test]
fn what_cannot_be_read_exits_2() {
    let scratch = Scratch::new("unreadable");
    fs::create_dir_all(PathBuf::from(scratch.path()).join("a/b/c")).unwrap();
    let empty = format!("{}/a", scratch.path());
    let no_text = scratch.file("picture.rebuild", [0x66, 0xff, 0xfe, 0x00]);
    let former = scratch.file("pump.leaf", SOUND);
    for (path, says) in [
        (empty.as_str(), "workshop/no-procedure"),
        (no_text.as_str(), "source/not-text"),
        ("no/such/file.rebuild", "source/unreadable"),
        (former.as_str(), "source/former-ending"),
    ] {
        let output = benchleaf(&["check", path]);
        assert_eq!(output.status.code(), Some(2), "{path}");
        assert!(stderr(&output).contains(says), "{}", stderr(&output));
        let output = benchleaf(&["check", "--format", "json", path]);
        let array: Vec<serde_json::Value> = serde_json::from_str(&stdout(&output)).unwrap();
        assert_eq!(array[0]["name"], says);
    }
}

#[test]
fn a_picture_is_told_as_no_text_and_an_old_encoding_as_one_to_save_again() {
    let scratch = Scratch::new("no-text");
    scratch.file("empty.txt", "");
    let told = |name: &str, bytes: &[u8]| {
        let path = format!("{}/{name}", scratch.path());
        fs::write(&path, bytes).unwrap();
        let output = benchleaf(&["check", &path]);
        assert_eq!(output.status.code(), Some(2), "{}", stderr(&output));
        stderr(&output)
    };
    let picture = told("plate.png", b"\x89PNG\r\n\x1a\n\x00\x00\x00\rIHDR");
    assert!(picture.contains("is no text, but a picture") && !picture.contains("UTF-8"), "{picture}");
    let document = told("sheet.rebuild", b"%PDF-1.7\n%\xe2\xe3\xcf\xd3\n");
    assert!(document.contains("is no text, but a picture"), "{document}");
    for old in [&b"family p \"K\xfchler\"\n"[..], b"\xff\xfef\x00a\x00"] {
        let told = told("old.rebuild", old);
        assert!(told.contains("save it again as plain UTF-8 text"), "{told}");
    }
}

#[test]
fn wrong_use_exits_2_and_help_exits_0() {
    for arguments in
        [&[][..], &["check"], &["chekc", "x.rebuild"], &["check", "--format", "xml", "x.rebuild"]]
    {
        let output = benchleaf(arguments);
        assert_eq!(output.status.code(), Some(2), "{arguments:?}");
        assert!(output.stdout.is_empty() && !output.stderr.is_empty());
    }
    for arguments in [&["--help"][..], &["check", "--help"], &["--version"]] {
        let output = benchleaf(arguments);
        assert_eq!(output.status.code(), Some(0), "{arguments:?}");
        assert!(output.stderr.is_empty() && !output.stdout.is_empty());
    }
}

#[test]
fn complaints_are_explained_and_listed() {
    let output = benchleaf(&["complaint", "procedure/unknown-name"]);
    assert_eq!(output.status.code(), Some(0));
    assert!(stdout(&output).starts_with("procedure/unknown-name (error)\n\n"));
    let alone = benchleaf(&["complaint", "nothing-frees"]);
    assert_eq!(stdout(&alone), stdout(&benchleaf(&["complaint", "network/nothing-frees"])));
    // Two rooms have complaints of this name.
    let several = stdout(&benchleaf(&["complaint", "unknown-name"]));
    assert!(
        several.contains("procedure/unknown-name (error)") && several.contains("record/unknown-name (error)")
    );
    let output = benchleaf(&["complaint", "procedure/unknown-nmae"]);
    assert_eq!(output.status.code(), Some(2));
    let text = stderr(&output);
    assert!(text.contains("Write: `procedure/unknown-name`, if that is meant"), "{text}");
    let output = benchleaf(&["complaint"]);
    assert_eq!(stdout(&output).lines().count(), benchleaf::codes::all().len());
}

#[test]
fn wrong_use_is_told_like_every_complaint() {
    for (arguments, says) in [
        (&["ordr", "x.rebuild"][..], "Write: `order`, if that is meant"),
        (&["check", "x.rebuild", "--formt", "line"], "Write: `--format`, if that is meant"),
        (&["check", "x.rebuild", "--format", "xml"], "Write: one of `text`, `json`, `line`"),
        (&["check"], "Write: `benchleaf check"),
        (&["order", "x.rebuild", "--hands", "9"], "Write: a whole number from 1 to 4"),
        (&["order", "x.rebuild", "--parting", "-4"], "`-4` is no value for `--parting`"),
        (&["graph", "x.rebuild", "-o"], "`--output` has no value behind it"),
        (&["graph", "x.rebuild", "-o", "a.svg", "y"], "`y` is one word too many"),
        (&["packet", "x.rebuild", "-o", "x.pdf", "--on", "soon"], "Write: a day such as 2026-03-05"),
        (&["record", "job.yaml", "dnoe"], "Write: `done`, if that is meant"),
        (&["record", "job.yaml", "settled"], "`THING`, `WORD` are missing"),
        (&["reckon", "torq"], "Write: `torque`, if that is meant"),
        (&["reckon", "pattern"], "`--ring N` or `--row N` or"),
    ] {
        let output = benchleaf(arguments);
        let text = stderr(&output);
        assert_eq!(output.status.code(), Some(2), "{text}");
        assert!(text.starts_with("■ error  cli/wrong-use ─"), "{text}");
        assert!(text.contains(says), "{text}");
        assert!(text.lines().all(|line| line.chars().count() <= 80), "{text}");
    }
}

#[test]
fn input_made_to_hurt_is_told_of_and_breaks_nothing() {
    let scratch = Scratch::new("hostile");
    let nested = format!("{SOUND}part a \"A\" {}", "{ ".repeat(10_000));
    let parts = "part a \"A\" { under a } ".repeat(20_000);
    for (name, bytes) in [
        ("empty.rebuild", Vec::new()),
        ("blank.rebuild", b"\n\n   \n".to_vec()),
        ("braces.rebuild", vec![b'{'; 50_000_000]),
        ("zeros.rebuild", vec![0; 1_000_000]),
        ("nested.rebuild", nested.into_bytes()),
        ("same.rebuild", parts.into_bytes()),
    ] {
        let output = benchleaf(&["check", &scratch.file(name, bytes)]);
        assert!(matches!(output.status.code(), Some(1 | 2)), "{name}: {:?}", output.status);
        assert!(output.stderr.len() < 1_000_000, "{name}: {} bytes of complaint", output.stderr.len());
    }
}
