//! The shop's own file, and a procedure's tools against it.

use benchleaf::decide::{InCrib, Torque, decide, kit_in_crib, verdict_text};
use benchleaf::diagnostics::render_lines;
use benchleaf::procedure;
use benchleaf::procedure::model::{Pass, Place};
use benchleaf::record::{self, BenchChange, Crib, Date, Job, read_crib};
use benchleaf::source::Sources;
use benchleaf::structure::Structure;

use crate::tests::network::connected;

fn read(text: &str) -> (Crib, String) {
    let mut sources = Sources::new();
    let file = sources.add("crib.yaml", text);
    let outcome = read_crib(file, text);
    (outcome.value, render_lines(&sources, &outcome.diagnostics))
}

const CRIB: &str = "
origin: invented for tests
currency: EUR
paper: a4
units: metric
lifting_limit: 20 kg
tools:
  13 mm socket: {size: 13 mm, drive: 1/2 in}
  small torque wrench: {range: [5 N.m, 60 N.m], calibrated_until: 2026-01-31}
  press plate:
supplies: [Clean rag, thread_locker]
";

const PROCEDURE: &str = "
-- Invented.
family kit \"Kit\" { origin \"invented for tests\" }
tool socket_13 \"Socket 13\" { kind socket  size 13 mm }
tool socket_17 \"Socket 17\" { kind socket  size 17 mm }
tool wrench \"Torque wrench\" { kind wrench  range 10 N.m .. 40 N.m }
tool big_wrench \"Large torque wrench\" { kind wrench  range 40 N.m .. 200 N.m }
tool puller \"Two-leg puller\" { kind puller  special  or \"press plate\" if \"the pulley has tapped holes\" }
tool cam_lock \"Cam locking pin\" { special }
";

#[test]
fn tools_are_there_stand_in_or_are_missing() {
    let (crib, complaints) = read(CRIB);
    assert_eq!(complaints, "");
    assert_eq!(
        crib.supplies.as_deref(),
        Some(["Clean rag".to_owned(), "thread_locker".to_owned()].as_slice())
    );
    assert_eq!(read("paper: a4").0.supplies, None, "nobody has said");
    assert_eq!(read("supplies: []").0.supplies.as_deref(), Some([].as_slice()), "it keeps none");
    assert_eq!(crib.lifting_limit.map(|limit| limit.to_string()).as_deref(), Some("20 kg"));
    let folder = std::env::temp_dir().join(format!("benchleaf-crib-{}", std::process::id()));
    std::fs::create_dir_all(&folder).unwrap();
    let path = folder.join("kit.rebuild");
    std::fs::write(&path, PROCEDURE).unwrap();
    let loaded = procedure::load(&mut Sources::new(), &path);
    assert!(!loaded.has_errors(), "{:?}", loaded.diagnostics);
    let procedure = loaded.value.unwrap();
    std::fs::remove_dir_all(&folder).unwrap();
    assert_eq!(procedure.tools.len(), 6);
    let standing = |today: &str| -> Vec<(String, InCrib)> {
        let kit = kit_in_crib(&procedure, &crib, Date::parse(today));
        kit.into_iter().map(|(id, standing)| (procedure.tool(id).naming.id.clone(), standing)).collect()
    };
    let have = |name: &str| InCrib::Have(name.to_owned());
    let expected = |wrench: InCrib| {
        vec![
            ("socket_13".to_owned(), have("13 mm socket")),
            ("socket_17".to_owned(), InCrib::Missing),
            ("wrench".to_owned(), wrench),
            ("big_wrench".to_owned(), InCrib::Missing),
            (
                "puller".to_owned(),
                InCrib::StandIn {
                    name: "press plate".to_owned(),
                    condition: Some("the pulley has tapped holes".to_owned()),
                },
            ),
            ("cam_lock".to_owned(), InCrib::Missing),
        ]
    };
    assert_eq!(standing("2026-01-31"), expected(have("small torque wrench")));
    let until = Date::parse("2026-01-31").unwrap();
    assert_eq!(standing("2026-02-01"), expected(InCrib::OutOfDate("small torque wrench".to_owned(), until)));
    assert_eq!(standing("no day"), expected(have("small torque wrench")));
}

#[test]
fn faults_of_a_crib_are_told_with_their_line() {
    let (_, complaints) = read(
        "currency: euro\npaper: a5\nlifting_limit: 20 N\ntools:\n  wrench: {range: [5 N.m, 60 mm]}\n  vice: {colour: red}\n  saw: {range: [5 N.m]}\n",
    );
    for (line, words) in [
        ("crib.yaml:1:", "record/not-money"),
        ("crib.yaml:2:", "`paper` has no answer `a5`"),
        ("crib.yaml:3:", "is a force, where a mass was expected"),
        ("crib.yaml:5:", "is a length, where a torque was expected"),
        ("crib.yaml:6:", "a tool has no key `colour`"),
        ("crib.yaml:7:", "a list of two values"),
    ] {
        assert!(
            complaints.lines().any(|complaint| complaint.starts_with(line) && complaint.contains(words)),
            "{line} {words} in\n{complaints}"
        );
    }
    let (_, complaints) = read("");
    assert!(complaints.contains("record/empty") && complaints.contains("paper: a4"), "{complaints}");
}

#[test]
fn what_changes_take_is_read_and_a_change_unknown_is_told() {
    let (crib, complaints) = read("changes: {socket: 5 s, hoist_off: 6 min}\n");
    assert_eq!(complaints, "");
    let read_off: Vec<(BenchChange, String)> =
        crib.changes.iter().map(|(change, time)| (*change, time.to_string())).collect();
    let expected = [(BenchChange::Socket, "5 s".to_owned()), (BenchChange::HoistOff, "6 min".to_owned())];
    assert_eq!(read_off, expected);
    let (crib, complaints) = read("changes:\n  socket: 5 s\n  hand_tol: 9 s\n  wear: 2 m\n");
    assert_eq!(crib.changes.len(), 1);
    for (line, words) in
        [("crib.yaml:3:", "`hand_tol`"), ("crib.yaml:4:", "is a length, where a time was expected")]
    {
        assert!(
            complaints.lines().any(|complaint| complaint.starts_with(line) && complaint.contains(words)),
            "{line} {words} in\n{complaints}"
        );
    }
    assert!(complaints.contains("write: `hand_tool`, if that is meant"), "{complaints}");
}

const TABLE: &str = "
general_torques:
  origin: wall chart, invented
  values:
    M8x1.25 8.8: 22 N.m
    3/8-16 UNC SAE 5: 30 lbf.ft
";

const GENERAL: &str = "
-- Invented.
family general \"General\" { origin \"invented for tests\" }
part cover \"Cover\" { held by bolts, nuts, odd }
fasteners bolts 4 \"Bolt\" { kind bolt  thread M8  class 8.8  tighten general }
fasteners nuts  2 \"Nut\"  { kind nut   thread M8  class 8    tighten general }
fasteners odd   1 \"Odd bolt\" { kind bolt  thread M8  class 10.9  tighten general }
strip off \"Take the cover off\" { undo bolts, nuts, odd  take cover }
";

/// `general` takes the shop's value with its origin; where the table has none, it is known that it was looked in.
#[test]
fn general_torques_come_from_the_shops_table() {
    let (crib, complaints) = read(TABLE);
    assert_eq!(complaints, "");
    let table = crib.general_torques.unwrap();
    assert_eq!(table.values.len(), 2);
    let folder = std::env::temp_dir().join(format!("benchleaf-general-{}", std::process::id()));
    std::fs::create_dir_all(&folder).unwrap();
    let path = folder.join("general.rebuild");
    std::fs::write(&path, GENERAL).unwrap();
    let procedure = procedure::load(&mut Sources::new(), &path).value.unwrap();
    std::fs::remove_dir_all(&folder).unwrap();
    let job = Job { general_torques: Some(table), ..Job::default() };
    let torques = decide(&procedure, &Structure::of(&procedure), &job).value.torques;
    let said: Vec<String> = procedure
        .sets
        .ids()
        .map(|set| match torques.of(set, Place(0)) {
            Torque::Passes(passes, origin) => match passes.as_slice() {
                [Pass::Torque(torque, None)] => {
                    format!("{torque}, {}", origin.as_deref().unwrap_or("no origin"))
                }
                _ => "other".to_owned(),
            },
            Torque::NotInTable => "not in the table".to_owned(),
            _ => "other".to_owned(),
        })
        .collect();
    let origin = "the shop's own table: wall chart, invented";
    let expected = [format!("22 N.m, {origin}"), format!("22 N.m, {origin}"), "not in the table".to_owned()];
    assert_eq!(said, expected);
}

#[test]
fn a_table_of_torques_is_checked() {
    for (text, says) in [
        ("general_torques: {values: {M8 8.8: 22 N.m}}", "record/wrong-type"),
        ("general_torques: {origin: chart, values: {M8: 22 N.m}}", "record/wrong-type"),
        ("general_torques: {origin: chart, values: {M8 8.8: 22 mm}}", "record/wrong-dimension"),
        ("general_torques: {origin: chart, values: {M8 8.8: 22}}", "record/not-a-quantity"),
    ] {
        let (_, complaints) = read(text);
        assert!(complaints.contains(says), "{text}: {complaints}");
    }
}

/// The crib that is shipped reads without complaint, and its wrenches and table are there.
#[test]
fn the_shipped_crib_is_sound() {
    let text = std::fs::read_to_string(concat!(env!("CARGO_MANIFEST_DIR"), "/procedures/crib.yaml")).unwrap();
    let (crib, complaints) = read(&text);
    assert_eq!(complaints, "");
    assert!(text.contains("invented") && crib.tools.iter().filter(|tool| tool.range.is_some()).count() == 4);
    assert!(!crib.general_torques.unwrap().values.is_empty());
}

/// A micrometre or two of the instrument put a reading in doubt: what the record says of the reading goes before the crib,
/// and the crib before the procedure.
#[test]
fn the_error_of_an_instrument_comes_with_its_name() {
    let (crib, complaints) = read(
        "tools:\n  Bore gauge: {error: 0.004 mm}\n  fine_gauge: {error: 0.001 mm}\n  Wrench: {error: 1 N.m}\n",
    );
    assert_eq!(complaints, "");
    let family = "part block \"Block\" { fate by bore }\ngauge bore \"Bore\" { of block  unit mm  instrument \"bore gauge\" resolution 0.001 mm \
                  error 0.010 mm from \"invented\"  bands good below 80.100 mm, renew above 80.100 mm from \"invented\" }\nstrip measure \
                  \"Measure\" { gauge bore }";
    let (procedure, ..) = connected(&format!("family e \"E\" {{ origin \"invented\" }}\n{family}\n"));
    let verdict = |reading: &str, crib: Option<&Crib>| {
        let text = format!("job: \"1\"\nprocedure: e.rebuild\nreadings: {{as_found: {{bore: {reading}}}}}\n");
        let written = record::read(Sources::new().add("job.yaml", text.clone()), &text);
        let mut job = record::bind(&written.value, &procedure);
        assert!(written.diagnostics.is_empty() && job.diagnostics.is_empty());
        job.value.instrument_errors = crib.map(Crib::instrument_errors).unwrap_or_default();
        let decisions = decide(&procedure, &Structure::of(&procedure), &job.value).value;
        verdict_text(&procedure, &job.value, &decisions, Some(&[]))
    };
    for (reading, without, with) in [
        // ±(half of 0.001 + 0.010) of the procedure, + 0.004 of the crib, + 0.001 of the fine gauge, + 0.002 of the record.
        ("80.093 mm", "block: open", "block: goes back"),
        ("80.097 mm", "block: open", "block: open"),
        ("{value: 80.097 mm, with: Fine gauge}", "block: open", "block: goes back"),
        ("{value: 80.097 mm, with: Fine gauge, error: 0.004 mm}", "block: open", "block: open"),
        ("{value: 80.097 mm, error: 0.002 mm}", "block: goes back", "block: goes back"),
        // Of an instrument that the crib doesn't know the procedure's error stands.
        ("{value: 80.093 mm, with: borrowed gauge}", "block: open", "block: open"),
    ] {
        for (crib, wanted) in [(None, without), (Some(&crib), with)] {
            let found = verdict(reading, crib);
            assert!(found.contains(wanted), "{reading}: {wanted} is not in\n{found}");
        }
    }
}
