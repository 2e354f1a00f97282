//! Each number that a form of `reckon` takes, at nought, turned round and a thousand times as large: what is beyond what its
//! formula covers is refused or marked. `tests/cli/odd.txt` has what came of each, and is read as a diff: what is taken
//! there as it stands is inside what the formula covers, such as an angle the other way round, a pull however strong, a
//! temperature below freezing. `REWRITE_EXPECTED=1` writes it anew. What is no number of its kind, and what another option
//! leaves without any meaning, is refused by every form.

use std::thread;

use super::reckon::words;
use super::{benchleaf, stderr, stdout};
use crate::expected::{compare, folder};

/// Every form, each of its ways, with numbers for what it takes.
const WAYS: [&str; 42] = [
    "thread M10 --class 8.8 --nut 8 --into iron --engagement \"20 mm\"",
    "torque M10 --class 8.8 --friction 0.12 --head-friction 0.10 --torque \"40 N.m\" --washer-face \"14.6 mm\" --hole \"11 mm\"",
    "torque M10 --class 8.8 --friction 0.12 --preload \"20 kN\"",
    "torque M10 --class 8.8 --nut-factor 0.2 --torque \"40 N.m\"",
    "wrench --torque \"30 N.m\" --length \"250 mm\" --adapter \"100 mm\" --angle \"90 deg\" --scale \"10 N.m .. 60 N.m\"",
    "wrench --torque \"30 N.m\" --drag \"3 N.m\" --drag-rule always",
    "angle M10 --class 8.8 --grip \"60 mm\" --turn \"30 deg\" --shank \"20 mm\" --torque \"20 N.m\" --friction 0.12",
    "pattern --ring 8 --torque \"95 N.m\"",
    "pattern --row 5",
    "pattern --grid 2x5",
    "release procedures/brackwater3.rebuild carrier_joint --rounds 3 --gasket cork --gasket-thickness \"2 mm\" --preload \"20 kN\" --spring \"300 N\" --cover-thickness \"10 mm\" --cover-metal aluminium",
    "lift --mass \"12 kg\" --reach \"40 cm\" --height \"75 cm\" --travel \"50 cm\" --twist \"30 deg\" --per-minute 1 --shop-limit \"25 kg\"",
    "lift --mass \"12 kg\" --reach \"40 cm\" --height \"75 cm\" --to-reach \"45 cm\" --to-height \"100 cm\" --to-twist \"10 deg\"",
    "fit \"50 mm\" H7/p6",
    "clearance --hole \"80.02 mm .. 80.04 mm\" --shaft \"79.95 mm\" --hole-metal \"grey iron\" --shaft-metal aluminium --at \"90 degC\" --shaft-at \"160 degC\"",
    "heat --bore \"50 mm\" --interference \"0.042 mm\" --material steel --slip \"0.02 mm\" --start \"20 degC\" --lost \"15 degC\" --top \"250 degC\"",
    "heat --bore \"50 mm\" --interference \"0.02 mm\" --material steel --slip \"0.01 mm\" --start \"20 degC\" --lost \"15 degC\" --cool",
    "displacement --bore \"80 mm\" --stroke \"88 mm\" --cylinders 4 --chamber \"48 cm3\"",
    "bearing --bore \"56.003 mm\" --shell \"1.978 mm\" --journal \"51.990 mm\" --wanted \"0.03 mm .. 0.07 mm\" --sold \"1.97 mm, 1.98 mm\"",
    "bearing --strip \"1.27 mm\" --marks \"1.5 mm = 0.05 mm, 1.0 mm = 0.08 mm\"",
    "ring-gap --gap \"0.28 mm\" --tried-in \"80.02 mm\" --bore \"80.52 mm\" --wanted \"0.30 mm .. 0.45 mm\"",
    "shim --play \"0.22 mm\" --old \"2.38 mm\" --wanted \"0.15 mm .. 0.20 mm\" --sold \"2.40 mm, 2.45 mm\" --pieces 1",
    "compression --bore \"80 mm\" --stroke \"88 mm\" --chamber \"38 cm3\" --gasket \"1.2 mm\" --gasket-bore \"81 mm\" --deck \"0.2 mm\" --dish \"4 cm3\" --wanted 9.5",
    "spring --measured \"40 mm = 250 N, 31 mm = 620 N\" --fitted \"38 mm\" --lift \"8 mm\" --solid \"26 mm\"",
    "spring --free \"45 mm\" --wire \"4 mm\" --outside \"32 mm\" --coils 6.5 --closed 2 --fitted \"38 mm\" --lift \"8 mm\"",
    "spring --rate \"35 N/mm\" --load \"40 mm = 250 N\" --fitted \"38 mm\" --lift \"8 mm\"",
    "spring --rate \"35 N/mm\" --free \"45 mm\" --fitted \"38 mm\" --lift \"8 mm\" --solid \"26 mm\"",
    "stretch M10 --grip \"60 mm\" --shank \"20 mm\" --class 8.8 --preload \"20 kN\"",
    "stretch M10 --grip \"60 mm\" --shank \"20 mm\" --class 8.8 --before \"80.00 mm\" --tight \"80.12 mm\" --limits \"0.10 mm .. 0.20 mm\"",
    "stretch M10 --grip \"60 mm\" --before \"80.00 mm\" --after \"80.02 mm\" --most-set \"0.05 mm\"",
    "timing --inlet-opens \"10 deg\" --inlet-closes \"50 deg\" --exhaust-opens \"50 deg\" --exhaust-closes \"10 deg\" --read-at \"1 mm\"",
    "piston --stroke \"88 mm\" --rod \"140 mm\" --angle \"30 deg\"",
    "piston --stroke \"88 mm\" --rod \"140 mm\" --down \"10 mm\"",
    "runout --readings \"0 mm, 0.03 mm, -0.02 mm\" --most \"0.08 mm\"",
    "runout --gap \"0.10 mm\" --span \"150 mm\" --most \"0.15 mm\"",
    "backlash --dial \"0.12 mm\" --dial-radius \"60 mm\" --pitch-radius \"50 mm\" --wanted \"0.08 mm .. 0.15 mm\"",
    "pull --pull \"18 N\" --radius \"30 mm\"",
    "press --diameter \"30 mm\" --length \"25 mm\" --outside \"60 mm\" --hollow \"10 mm\" --interference \"0.02 mm .. 0.04 mm\" --hub steel --shaft steel --friction \"0.10 .. 0.15\"",
    "sling --mass \"180 kg\" --apart \"600 mm\" --centre \"250 mm\" --height \"700 mm\" --leg-limit \"5 kN\"",
    "sling --scale-first \"100 kg\" --scale-second \"80 kg\" --apart \"600 mm\" --height \"700 mm\"",
    "injector --opens \"168 bar\" --wanted \"175 bar\" --step \"0.05 mm\" --raises \"5 bar\"",
    "tapping M8 --drill \"6.8 mm\"",
];

/// What came of a command line.
enum Outcome {
    Refused(String),
    Answered { findings: Vec<String>, assumed: usize },
}

fn outcome(arguments: &[String]) -> Outcome {
    let fixed = ["reckon", "--format", "json"];
    let typed = arguments.iter().map(String::as_str);
    let output = benchleaf(&fixed.into_iter().chain(typed).collect::<Vec<&str>>());
    match output.status.code() {
        Some(0) => {
            let answer: serde_json::Value = serde_json::from_str(&stdout(&output)).unwrap();
            let list = |key: &str| answer[key].as_array().cloned().unwrap_or_default();
            let findings = list("findings");
            let findings = findings.iter().map(|finding| finding.as_str().unwrap().to_owned()).collect();
            Outcome::Answered { findings, assumed: list("assumed").len() }
        }
        Some(1 | 2) => {
            let told: serde_json::Value = serde_json::from_str(&stdout(&output)).unwrap_or_default();
            let told = told[0]["message"].as_str().map_or_else(|| stderr(&output), str::to_owned);
            assert!(!told.trim().is_empty(), "{arguments:?} is refused without a word");
            Outcome::Refused(told)
        }
        code => panic!("{arguments:?}: {code:?}"),
    }
}

/// All numbers in a value times `factor`.
fn times(value: &str, factor: f64) -> String {
    let mut out = String::new();
    let mut number = String::new();
    for sign in value.chars().chain(['\0']) {
        let within = sign.is_ascii_digit()
            || sign == '.' && !number.is_empty() && !number.contains('.') && number != "-"
            || sign == '-' && number.is_empty();
        if within {
            number.push(sign);
            continue;
        }
        if let Ok(read) = number.trim_end_matches('.').parse::<f64>() {
            out += &format!("{:.3}", read * factor);
            out += if number.ends_with('.') { "." } else { "" };
        } else {
            out += &number;
        }
        number.clear();
        if sign != '\0' {
            out.push(sign);
        }
    }
    out
}

/// A way with one of its values in another's place.
fn with(way: &[String], at: usize, value: &str) -> Vec<String> {
    let mut typed = way.to_vec();
    value.clone_into(&mut typed[at]);
    typed
}

/// The values of a way that are numbers, with their options; a place on the line where there is none.
fn numbers(way: &[String]) -> Vec<(usize, String)> {
    let option = |at: usize| way[at - 1].strip_prefix("--").map(str::to_owned);
    (1..way.len())
        .filter(|at| {
            way[*at].starts_with(|sign: char| sign.is_ascii_digit()) && !way[*at].ends_with(".rebuild")
        })
        .filter(|at| !["--class", "--nut"].contains(&way[at - 1].as_str()))
        .map(|at| (at, option(at).unwrap_or_else(|| "on the line".to_owned())))
        .collect()
}

/// Works on all of some things at once, on two threads, and keeps their order.
fn on_two_threads<T: Sync, R: Send>(things: &[T], work: impl Fn(&T) -> R + Sync) -> Vec<R> {
    let (first, second) = things.split_at(things.len() / 2);
    thread::scope(|scope| {
        let other = scope.spawn(|| second.iter().map(&work).collect::<Vec<R>>());
        let mut all: Vec<R> = first.iter().map(&work).collect();
        all.extend(other.join().unwrap());
        all
    })
}

#[test]
fn what_a_formula_does_not_cover_is_refused_or_marked() {
    let told = on_two_threads(&WAYS, |line| {
        let way = words(line);
        let Outcome::Answered { findings: known, .. } = outcome(&way) else { panic!("{line} is refused") };
        let mut out = format!("$ benchleaf reckon {line}\n");
        for (at, option) in numbers(&way) {
            for (name, factor) in [("nought", 0.0), ("turned round", -1.0), ("a thousandfold", 1000.0)] {
                let value = times(&way[at], factor);
                let what = match outcome(&with(&way, at, &value)) {
                    Outcome::Refused(message) => format!("refused: {message}"),
                    Outcome::Answered { findings, .. } => {
                        let new: Vec<String> =
                            findings.into_iter().filter(|finding| !known.contains(finding)).collect();
                        if new.is_empty() {
                            "taken".to_owned()
                        } else {
                            format!("marked: {}", new.join("; "))
                        }
                    }
                };
                out += &format!("{option}, {name}, `{value}`: {what}\n");
            }
            let wrong = if way[at].ends_with("kg") { "7 mm" } else { "7 kg" };
            for value in [wrong, "much"] {
                let outcome = outcome(&with(&way, at, value));
                assert!(matches!(outcome, Outcome::Refused(_)), "{line}: {option} `{value}` is taken");
            }
        }
        out
    });
    compare(&folder("cli").join("odd.txt"), &told.join("\n")).unwrap_or_else(|fault| panic!("{fault}"));
}

/// The options of a form, by its help.
fn options(form: &str) -> Vec<String> {
    let help = stdout(&benchleaf(&["reckon", form, "--help"]));
    let names = help.split("\n  --").skip(1).filter_map(|option| option.split_whitespace().next());
    names.filter(|name| *name != "format").map(|name| format!("--{name}")).collect()
}

/// An option that says nothing beside the others of a way is no part of it: typed there, it is refused.
#[test]
fn no_option_is_passed_over() {
    let forms = stdout(&benchleaf(&["reckon", "--help"]));
    let of = |form: &str| WAYS.iter().any(|way| way.starts_with(&format!("{form} ")));
    let names = forms.lines().filter(|line| line.starts_with("  ") && !line.starts_with("   "));
    let names = names.filter_map(|line| line.split_whitespace().next());
    for form in names.filter(|name| name.starts_with(|sign: char| sign.is_ascii_lowercase())) {
        assert!(of(form) || ["units", "table"].contains(&form), "{form} has no way here");
    }
    let faults = on_two_threads(&WAYS, |line| {
        let way = words(line);
        let others = options(&way[0]).into_iter().filter(|option| !way.contains(option));
        let taken = others.filter(|option| {
            let mut typed = way.clone();
            typed.extend([option.clone(), "much".to_owned()]);
            matches!(outcome(&typed), Outcome::Answered { .. })
        });
        taken.map(|option| format!("{option} is passed over in: {line}")).collect::<Vec<_>>()
    });
    let faults = faults.concat();
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

/// A form that is given less says more of what it assumes: of what can be left out, each that is left out is told.
#[test]
fn what_is_left_out_is_assumed_and_told() {
    let faults = on_two_threads(&WAYS, |line| {
        let way = words(line);
        let Outcome::Answered { assumed: known, .. } = outcome(&way) else { panic!("{line} is refused") };
        let mut silent = Vec::new();
        for at in (1..way.len()).filter(|at| way[*at].starts_with("--")) {
            let takes = way.get(at + 1).is_some_and(|next| !next.starts_with("--"));
            let mut less = way.clone();
            less.drain(at..if takes { at + 2 } else { at + 1 });
            match outcome(&less) {
                Outcome::Answered { assumed, .. } if assumed <= known => {
                    silent.push(format!("{line}: without {} nothing more is assumed", way[at]));
                }
                _ => {}
            }
        }
        silent
    });
    let silent = faults.concat();
    compare(&folder("cli").join("left_out.txt"), &(silent.join("\n") + "\n"))
        .unwrap_or_else(|fault| panic!("{fault}"));
}
