//! Sums of the bench that a procedure states as computed gauges: what the verdict and the sheets say of them is what the form
//! of `reckon` says, and where there is no form, what was worked by hand. The forms are held to other people's programs by
//! `tests/outside/bench_plays.py` and `bench_sums.py`.

use serde_json::Value as Json;

use super::reckon::words;
use super::{benchleaf, stderr, stdout};
use crate::packet::{Made, made};
use benchleaf::model::Phase;

const PROCEDURE: &str = "tests/jobs/sums/sums.rebuild";
const RECORD: &str = "tests/jobs/sums/sums.job.yaml";

/// Where the right answer is from.
enum By {
    /// A form with its options, which result of it by the beginning of its name, and how many of its units make one of the
    /// gauge's.
    Form(&'static str, &'static str, f64),
    /// Worked by hand in the unit of the gauge, as the comment beside it says.
    Hand(f64),
}
use By::{Form, Hand};

/// Each computed gauge of the procedure.
const SUMS: [(&str, By); 32] = [
    (
        "main_play",
        Form(
            "bearing --bore \"56.003 mm\" --shell \"1.978 mm\" --journal \"51.990 mm\"",
            "clearance on diameter",
            1.0,
        ),
    ),
    (
        "new_shell",
        Form(
            "bearing --bore \"56.003 mm\" --journal \"51.990 mm\" --wanted \"0.05 mm\"",
            "thickness of a shell",
            1.0,
        ),
    ),
    (
        "strip_play",
        Form(
            "bearing --strip \"1.27 mm\" --marks \"1.5 mm = 0.05 mm, 1.0 mm = 0.08 mm\"",
            "clearance by the strip",
            1.0,
        ),
    ),
    (
        "new_washer",
        Form("shim --play \"0.22 mm\" --old \"2.38 mm\" --wanted \"0.15 mm\"", "thickness, all", 1.0),
    ),
    (
        "new_disc",
        Form("shim --play \"0.31 mm\" --old \"2.45 mm\" --wanted \"0.20 mm\"", "thickness, all", 1.0),
    ),
    // 0.66 mm + 0.75 mm: the highest piston counts.
    ("gasket_to_take", Hand(1.41)),
    // 1.05 mm and the change that stands below.
    ("new_shim", Hand(1.12)),
    (
        "shim_change",
        Form(
            "injector --opens \"168 bar\" --wanted \"175 bar\" --step \"0.05 mm\" --raises \"5 bar\"",
            "shims thicker",
            1.0,
        ),
    ),
    (
        "gap_in_bore",
        Form(
            "ring-gap --gap \"0.28 mm\" --tried-in \"80.02 mm\" --bore \"80.52 mm\"",
            "gap in this bore",
            1.0,
        ),
    ),
    (
        "to_file",
        Form("ring-gap --gap \"0.28 mm\" --bore \"80.02 mm\" --wanted \"0.36009 mm\"", "to file off", 1.0),
    ),
    ("ratio", Form(COMPRESSION, "compression ratio", 1.0)),
    ("to_cut", Form(COMPRESSION, "to cut from the deck", 1.0)),
    (
        "play_warm",
        Form(
            "clearance --hole \"80.02 mm\" --shaft \"79.93 mm\" --hole-metal \"grey iron\" --shaft-metal aluminium \
             --at \"95 degC\" --shaft-at \"180 degC\"",
            "clearance at that temperature",
            1.0,
        ),
    ),
    ("rate", Form(SPRING, "rate", 1.0)),
    ("load_fitted", Form(SPRING, "load at the fitted", 1.0)),
    (
        "rate_by_wire",
        Form("spring --wire \"4.2 mm\" --outside \"32 mm\" --coils 6.5 --free \"47 mm\"", "rate k", 1.0),
    ),
    // 38 mm − 9 mm − 6.5 · 4.2 mm.
    ("bind", Hand(1.7)),
    ("stretch", Form(STRETCH, "stretch", 1.0)),
    ("kept", Form(STRETCH, "kept for good", 1.0)),
    ("run_out", Form("runout --readings \"0 mm, 0.03 mm, -0.02 mm, 0.01 mm\"", "run-out", 1.0)),
    ("bend", Form("runout --readings \"0 mm, 0.03 mm, -0.02 mm, 0.01 mm\"", "bend", 1.0)),
    // Thousandths there, hundredths here.
    ("rod_bend", Form("runout --gap \"0.12 mm\" --span \"150 mm\"", "twist or bend", 10.0)),
    (
        "backlash",
        Form("backlash --dial \"0.14 mm\" --dial-radius \"60 mm\" --pitch-radius \"45 mm\"", "play at", 1.0),
    ),
    ("preload", Form("pull --pull \"18 N\" --radius \"44 mm\"", "torque T", 1.0)),
    (
        "centre",
        Form(
            "sling --scale-first \"82 kg\" --scale-second \"118 kg\" --apart \"600 mm\" --height \"400 mm\"",
            "centre of gravity",
            1.0,
        ),
    ),
    (
        "leg_pull",
        Form("sling --mass \"200 kg\" --apart \"600 mm\" --height \"400 mm\"", "first leg, pull", 0.001),
    ),
    // 415 g − 409 g.
    ("balance", Hand(6.0)),
    // 191.9 mm over 190.5 mm, less one.
    ("chain_longer", Hand(0.734_908)),
    ("inlet_open_for", Form(TIMING, "inlet open for", 1.0)),
    ("lobe_centre", Form(TIMING, "inlet lobe centre", 1.0)),
    ("press_force", Form(PRESS, "force to press it home", 1.0)),
    ("holds", Form(PRESS, "torque that it holds", 1.0)),
];

const COMPRESSION: &str = "compression --bore \"80.02 mm\" --stroke \"88 mm\" --chamber \"46 cm3\" --gasket \"1.2 mm\" \
                           --deck \"0.2 mm\" --dish \"3.5 cm3\" --wanted 9.5";
const SPRING: &str = "spring --measured \"40 mm = 250 N, 31 mm = 620 N\" --fitted \"38 mm\" --lift \"9 mm\"";
const STRETCH: &str =
    "stretch M10 --grip \"60 mm\" --before \"92.14 mm\" --tight \"92.25 mm\" --after \"92.15 mm\"";
const TIMING: &str = "timing --inlet-opens \"12 deg\" --inlet-closes \"48 deg\" --exhaust-opens \"50 deg\" \
                      --exhaust-closes \"10 deg\"";
const PRESS: &str = "press --diameter \"30 mm\" --length \"25 mm\" --outside \"60 mm\" --interference \"0.026 mm\" \
                     --hub steel --shaft steel";

/// Both ends of a result.
fn reckoned(line: &str, name: &str) -> (f64, f64) {
    let mut typed = vec!["reckon".to_owned()];
    typed.extend(words(line));
    typed.extend(["--format".to_owned(), "json".to_owned()]);
    let typed: Vec<&str> = typed.iter().map(String::as_str).collect();
    let output = benchleaf(&typed);
    assert!(output.status.success(), "{line}\n{}", stderr(&output));
    let answer: Json = serde_json::from_str(&stdout(&output)).unwrap();
    let results = answer["results"].as_array().unwrap();
    let found = results.iter().find(|result| result["name"].as_str().unwrap().starts_with(name));
    let found = found.unwrap_or_else(|| panic!("{line} has no `{name}`"));
    (found["low"].as_f64().unwrap(), found["high"].as_f64().unwrap())
}

/// What the verdict says of a gauge: the number behind the last equals sign with half its last step, and its doubt.
fn said(because: &str) -> (f64, f64, f64) {
    let value = because.rsplit(" = ").next().unwrap();
    let (number, rest) = value.split_once([' ', '°', ':']).unwrap();
    let places = number.split_once('.').map_or(0, |(_, after)| after.len());
    let doubt = rest.strip_prefix("± ").map_or(0.0, |rest| {
        let digits = rest.find(|c: char| !c.is_ascii_digit() && c != '.').unwrap();
        rest[..digits].parse().unwrap()
    });
    (number.parse().unwrap(), 0.5 / 10f64.powi(i32::try_from(places).unwrap()), doubt)
}

#[test]
fn the_verdict_says_what_reckon_says() {
    let output = benchleaf(&["verdict", RECORD, "--format", "json"]);
    assert!(output.status.success(), "{}", stderr(&output));
    let verdict: Json = serde_json::from_str(&stdout(&output)).unwrap();
    let answers = verdict["answers"].as_array().unwrap();
    for (gauge, by) in &SUMS {
        let answer = answers.iter().find(|answer| answer["question"] == *gauge);
        let answer = answer.unwrap_or_else(|| panic!("`{gauge}` is not judged"));
        assert!(!answer["answer"].is_null(), "{answer}");
        let because = answer["because"].as_str().unwrap();
        let (shown, half_step, doubt) = said(because);
        let (low, high) = match by {
            Form(line, name, units) => {
                let (low, high) = reckoned(line, name);
                (low / units, high / units)
            }
            Hand(value) => (*value, *value),
        };
        // Of a range the procedure states one end: the cautious one.
        let near = [low, high].into_iter().map(|end| (shown - end).abs()).fold(f64::INFINITY, f64::min);
        assert!(near <= half_step + 1e-9, "{gauge}: {low} to {high}, and the verdict: {because}");
        assert!(doubt > 0.0 && doubt < 0.6 * shown.abs().max(0.02), "{because}");
    }
    assert_eq!(answers.len(), SUMS.len(), "each sum is held against something");
    // What stands in between is shown so finely that the sum holds as it is printed.
    let ratio =
        answers.iter().find(|answer| answer["question"] == "ratio").unwrap()["because"].as_str().unwrap();
    assert!(ratio.contains("(442.56 cm³ + 56.54 cm³) ÷ 56.54 cm³ = 8.83 ± 0.04:1"), "{ratio}");
}

#[test]
fn the_sheets_say_what_the_verdict_says() {
    let Made { words, .. } = made(PROCEDURE, Some(RECORD), Phase::Survey);
    let one_line = words.split_whitespace().collect::<Vec<_>>().join(" ");
    for wanted in [
        "by disc to put in: 2.55 mm",
        "by shell to put in: 1.98 mm",
        "by washer to put in: 2.45 mm",
        "by gasket to take: 1.40 mm",
        "by shim to put in: 1.10 mm",
        "Bend of the rod: 0.080 % (renew: above 0.05 %)",
    ] {
        assert!(one_line.contains(wanted), "{wanted}\n{words}");
    }
}
