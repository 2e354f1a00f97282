//! Readings against their limits: beyond one, on one, without doubt of one, and who settles what the instrument can't.
//! All readings and limits are invented; what they must lead to follows from comparing them by hand.

use benchleaf::decide::{decide, verdict_text};
use benchleaf::diagnostics::{Diagnostic, Severity, render_lines};
use benchleaf::record;
use benchleaf::source::Sources;
use benchleaf::structure::Structure;

use crate::tests::network::connected;

/// The verdict of one procedure under one record, and what is complained of.
pub(super) fn verdict_with(family: &str, record: &str) -> (String, Vec<Diagnostic>) {
    let (procedure, ..) =
        connected(&format!("family e \"E\" {{ origin \"invented for tests\" }}\n{family}\n"));
    let text = format!("job: \"1\"\nprocedure: e.rebuild\n{record}\n");
    let mut sources = Sources::new();
    let file = sources.add("job.yaml", text.clone());
    let written = record::read(file, &text);
    let job = record::bind(&written.value, &procedure);
    let decided = decide(&procedure, &Structure::of(&procedure), &job.value);
    let diagnostics = [written.diagnostics, job.diagnostics, decided.diagnostics].concat();
    let errors: Vec<Diagnostic> =
        diagnostics.iter().filter(|one| one.severity() == Severity::Error).cloned().collect();
    assert!(errors.is_empty(), "{}", render_lines(&sources, &errors));
    (verdict_text(&procedure, &job.value, &decided.value, Some(&[])), diagnostics)
}

/// The same with readings as found alone, one to a line.
fn verdict(family: &str, readings: &str) -> String {
    let lines: Vec<String> = readings.split(", ").map(|reading| format!("    {reading}")).collect();
    verdict_with(family, &format!("readings:\n  as_found:\n{}", lines.join("\n"))).0
}

pub(super) fn says(verdict: &str, words: &str) {
    assert!(verdict.contains(words), "`{words}` is not in\n{verdict}");
}

pub(super) fn says_not(verdict: &str, words: &str) {
    assert!(!verdict.contains(words), "`{words}` is in\n{verdict}");
}

const WEB: &str = "gauge web \"Web\" { of crank  unit mm  made 50.00 mm .. 50.02 mm from \"invented\"  worn 49.95 mm from \
                   \"invented\"  instrument \"micrometer\" resolution 0.01 mm }\nstrip measure \"Measure\" { gauge web }";

#[test]
fn a_reading_beyond_its_worn_limit_is_found_and_holds_what_goes_back() {
    for fate in ["fate reuse", "mass 4 kg"] {
        let family = format!("part crank \"Crank\" {{ {fate} }}\n{WEB}");
        let beyond = verdict(&family, "web: 49.00 mm");
        says(
            &beyond,
            "Beyond their limits\n  web, as found: 49.00 ± 0.005 mm, beyond the worn limit 49.95 mm",
        );
        says(&beyond, "not good: `web` is 49.00 ± 0.005 mm, beyond the worn limit 49.95 mm");
        for good in ["50.01 mm", "49.96 mm", "49.95 mm"] {
            let verdict = verdict(&family, &format!("web: {good}"));
            says_not(&verdict, "Beyond their limits");
            says_not(&verdict, "waits");
        }
        let other_side = verdict(&family, "web: 50.10 mm");
        says(&other_side, "on the other side of what it was made to (50.00 to 50.02 mm) than it wears");
    }
}

#[test]
fn where_no_limit_as_worn_is_known_what_is_not_as_made_waits_for_a_word() {
    let made = WEB.replace("worn 49.95 mm from \"invented\"  ", "");
    let part = "part crank \"Crank\" { fate reuse }";
    let not_good = "waits: not good: `web` is 49.00 ± 0.005 mm, not as made (50.00 to 50.02 mm), and no limit as worn is known";
    let found = format!("{part}\n{made}");
    says(&verdict(&found, "web: 49.00 mm"), not_good);
    says_not(&verdict(&found, "web: 50.01 mm"), "waits");
    let settled = "readings:\n  as_found:\n    web: 49.00 mm\nsettled:\n  web: {good: \"ran well\", by: HK, date: 2026-03-05}";
    says_not(&verdict_with(&found, settled).0, "waits");
    // What is set on the way back is found as it is; what it is set to then counts.
    let set_again = format!("{found}\nbuild set \"Set it\" {{ gauge web }}");
    says_not(&verdict(&set_again, "web: 49.00 mm"), "waits");
    says(&verdict_with(&set_again, "readings:\n  as_built:\n    web: 49.00 mm").0, not_good);
}

#[test]
fn a_fate_by_limits_alone_is_decided_by_them() {
    let family = format!("part crank \"Crank\" {{ fate by web }}\n{WEB}");
    for (reading, becomes) in [
        ("50.01 mm", "crank: goes back\n      why: Web = 50.01 ± 0.005 mm: within the worn limit 49.95 mm"),
        ("49.95 mm", "crank: goes back\n"),
        ("49.94 mm", "crank: renew\n      why: Web = 49.94 ± 0.005 mm: beyond the worn limit 49.95 mm"),
        ("49.00 mm", "crank: renew\n"),
    ] {
        let verdict = verdict(&family, &format!("web: {reading}"));
        says(&verdict, becomes);
        says_not(&verdict, "clean up");
    }
    // With sizes it is machined to the next.
    let sized = family.replace("instrument", "sizes 0.25 mm, 0.50 mm from \"invented\"  instrument");
    says(
        &verdict(&sized, "web: 49.90 mm"),
        "crank: machine: to the next size: web 49.75 to 49.77 mm (−0.25 mm)",
    );
}

/// Flatness: nothing is less than 0.00, and ovality computed from readings is nothing where they are alike.
const FLAT: &str = "part block \"Block\" { fate by flatness }\ngauge flatness \"Flatness\" { of block  unit mm  best at nought  plausible 0 mm .. 2 mm  \
                    instrument \"straight edge\" resolution 0.01 mm  bands good 0 mm .. 0.05 mm, skim 0.05 mm .. 0.3 mm, renew above \
                    0.3 mm from \"invented\" }\nstrip measure \"Measure\" { gauge flatness }";

#[test]
fn the_better_the_reading_the_better_the_verdict() {
    for (reading, becomes) in [
        ("0.00 mm", "block: goes back"),
        ("0 mm", "block: goes back"),
        ("0.01 mm", "block: goes back"),
        ("0.04 mm", "block: goes back"),
        ("0.05 mm", "block: goes back"),
        ("0.06 mm", "block: machine: skim"),
        ("0.30 mm", "block: machine: skim"),
        ("0.31 mm", "block: renew"),
    ] {
        says(&verdict(FLAT, &format!("flatness: {reading}")), becomes);
    }
}

const BORE: &str = "part block \"Block\" { fate by oval }\ngauge bore \"Bore\" { of block  unit mm  directions along, across  \
                    instrument \"bore gauge\" resolution 0.01 mm }\ngauge oval \"Ovality\" { is max(bore) - min(bore)  bands good 0 mm \
                    .. 0.03 mm, bore above 0.03 mm from \"invented\" }\ngauge wear \"Wear\" { is max(bore) - 80.00 mm  bands good 0 mm .. \
                    0.05 mm, bore above 0.05 mm from \"invented\" }\nstrip measure \"Measure\" { gauge bore }";

#[test]
fn an_engine_as_new_goes_back() {
    let verdict = verdict(BORE, "bore along: 80.00 mm, bore across: 80.00 mm");
    says(&verdict, "block: goes back");
    says(&verdict, "0.00 ± 0.01 mm: good");
    says_not(&verdict, "Open questions");
    says_not(&verdict, "measure again");
}

#[test]
fn what_the_instrument_cannot_tell_a_person_settles_with_a_name() {
    // Three readings of 0.01 make a doubt of 0.015, so that 0.05 and what is just inside are both in doubt.
    let family = BORE
        .replace("max(bore) - 80.00 mm", "max(bore) - 2 * rim")
        .replace("fate by oval", "fate by wear")
        + "\ngauge rim \"Rim\" { of block  unit mm  instrument \"micrometer\" resolution 0.01 mm }\nstrip rim_too \"Rim\" { gauge rim }";
    let readings =
        "readings:\n  as_found:\n    bore along: 80.04 mm\n    bore across: 80.05 mm\n    rim: 40.00 mm\n";
    let (open, _) = verdict_with(&family, readings);
    says(&open, "block: open");
    says(&open, "wear: 0.05 ± 0.02 mm from 80.05 mm at across: good or bore: measure again");
    let settled = |words: &str| verdict_with(&family, &format!("{readings}settled: {{wear: {words}}}\n"));
    let (good, _) = settled("{good: \"read again with an air gauge\", by: HK, date: 2026-03-05}");
    says(&good, "block: goes back");
    says(
        &good,
        "Wear = 0.05 ± 0.02 mm from 80.05 mm at across: good, settled by HK on 2026-03-05: read again with an air gauge",
    );
    let (bored, _) = settled("{bore: \"the owner wants it bored\", by: HK, date: 2026-03-05}");
    says(&bored, "block: machine");
    // What is in no doubt no person settles.
    let clear = readings.replace("80.05", "80.50");
    let (verdict, diagnostics) = verdict_with(
        &family,
        &format!("{clear}settled: {{wear: {{good: \"it will do\", by: HK, date: 2026-03-05}}}}\n"),
    );
    says(&verdict, "block: machine");
    assert!(diagnostics.iter().any(|one| one.code.name == "decide/not-in-doubt"), "{diagnostics:?}");
}

#[test]
fn a_person_accepts_what_is_beyond_a_limit_that_nothing_hangs_on() {
    let family = format!("part crank \"Crank\" {{ fate reuse }}\n{WEB}");
    let record = "readings: {as_found: {web: 49.90 mm}}\nsettled: {web: {good: \"the owner takes the risk\", by: HK, date: 2026-03-05}}";
    let (verdict, diagnostics) = verdict_with(&family, record);
    says(&verdict, "beyond the worn limit 49.95 mm; settled by HK on 2026-03-05: the owner takes the risk");
    says_not(&verdict, "waits");
    assert!(diagnostics.is_empty(), "{diagnostics:?}");
}

const SPRINGS: &str = "part spring \"Spring\" { fate by height }\ngauge height \"Height\" { of spring  unit mm  stations first, second, \
                       third  bands renew below 50.00 mm, good 50.00 mm .. 50.02 mm from \"invented\" }\nstrip measure \"Measure\" { gauge \
                       height }";

#[test]
fn the_reading_that_decides_is_shown_with_its_place() {
    let outside = verdict(SPRINGS, "height first: 50.01 mm, height second: 50.05 mm, height third: 50.01 mm");
    says(&outside, "50.05 ± 0.005 mm at second: in none of its bands");
    says_not(&outside, "50.02 ±");
    let doubtful = SPRINGS
        .replace("stations", "instrument \"caliper\" resolution 0.5 mm  stations")
        .replace("50.02 mm from", "60.00 mm from");
    let again = verdict(&doubtful, "height first: 52.0 mm, height second: 50.2 mm, height third: 53.0 mm");
    says(&again, "50.2 ± 0.3 mm at second: renew or good: measure again");
    let further = verdict(SPRINGS, "height first: 50.05 mm, height second: 50.30 mm, height third: 50.10 mm");
    says(&further, "50.30 ± 0.005 mm at second: in none of its bands");
    // Of two that the instrument can't place the one that may be worse is shown.
    let faces = "part head \"Head\" { fate by flatness }\ngauge flatness \"Flatness\" { of head  unit mm  stations first, second, third  \
                 instrument \"straight edge\" resolution 0.04 mm  bands good 0 mm .. 0.08 mm, skim 0.08 mm .. 0.30 mm, renew above \
                 0.30 mm from \"invented\" }\nstrip measure \"Measure\" { gauge flatness }";
    let both = verdict(faces, "flatness first: 0.07 mm, flatness second: 0.29 mm, flatness third: 0.02 mm");
    says(&both, "0.29 ± 0.02 mm at second: good or skim or renew: measure again");
    let renewed = verdict(SPRINGS, "height first: 50.01 mm, height second: 49.98 mm, height third: 50.01 mm");
    says(&renewed, "spring: renew");
}

/// A limit allows what is exactly on it, to whichever side: a fraction read off a rule too.
#[test]
fn a_minimum_allows_itself() {
    let family = "part spring \"Spring\" { fate by height }\ngauge height \"Height\" { of spring  unit in  bands renew below 1 5/8 in, good \
                  above 1 5/8 in from \"invented\" }\nstrip measure \"Measure\" { gauge height }";
    for (reading, becomes) in [
        ("1 5/8 in", "spring: goes back"),
        ("1 39/64 in", "spring: renew"),
        ("1 41/64 in", "spring: goes back"),
    ] {
        says(&verdict(family, &format!("height: {reading}")), becomes);
    }
    // A fraction has a doubt of half a sixty-fourth.
    // 1.6875 ± 1/128: 1.69 ± 0.008 would leave out the least that it may be.
    says(&verdict(family, "height: 1 11/16 in"), "1.688 ± 0.009 in");
}

/// By definition of the scales 1 K = 1 °C of difference = 1.8 °F of difference.
#[test]
fn temperatures_lie_apart_by_kelvin() {
    let family = |is: &str, limit: &str| {
        format!(
            "part radiator \"Radiator\" {{ fate by rise }}\ngauge tin \"in\" {{ of radiator  unit degC  stations one, two }}\ngauge tout \
             \"out\" {{ of radiator  unit degC }}\ngauge rise \"Rise\" {{ is {is}  bands good below {limit}, renew above {limit} from \
             \"invented\" }}\nstrip read_all \"Read\" {{ gauge tin, tout }}"
        )
    };
    let readings = "tin one: 76 degC, tin two: 76 degC, tout: 96 degC";
    for limit in ["10 degC", "10 K", "18 degF"] {
        let verdict = verdict(&family("tout - max(tin)", limit), readings);
        says(&verdict, "radiator: renew");
        says_not(&verdict, "-2");
    }
    let rise = verdict(&family("tout - max(tin)", "10 degC"), readings);
    says(&rise, "out − max(in) = 96 °C − 76 °C = 20 ± 1 K, from 76 °C at one: renew (above 10 K");
    says(
        &verdict(&family("tout - max(tin)", "18 degF"), readings),
        "= 36 ± 2 °F, from 76 °C at one: renew (above 18 °F",
    );
    let spread =
        verdict(&family("spread(tin)", "10 degC"), "tin one: 80 degC, tin two: 100 degC, tout: 96 degC");
    says(&spread, "spread(in) = 20 ± 1 K, from 100 °C at two and 80 °C at one: renew");
    let above = verdict(&family("tout - 20 degC", "80 degC"), readings);
    says(&above, "96 °C − 20 °C = 76 ± 0.5 K: good");
    let mean = verdict(&family("mean(tin)", "80 degC"), "tin one: 70 degC, tin two: 80 degC, tout: 96 degC");
    says(&mean, "= 75 ± 0.5 °C: good");
}

/// A pull on a string times its radius is a torque, a torque over a radius a pull, and a load over a way a spring rate.
#[test]
fn pulls_torques_and_rates_follow_from_each_other() {
    let family = "part spring \"Spring\" { fate by rate }\npart pinion \"Pinion\" { fate by turning }\npart drum \"Drum\" { fate by string }\n\
                  gauge pull \"Pull\" { of pinion  unit N  instrument \"spring balance\" resolution 1 N }\n\
                  gauge turning \"Preload\" { of pinion  unit N.m  is pull * 75 mm  bands good 1 N.m .. 2 N.m, renew above 2 N.m \
                  from \"invented\" }\n\
                  gauge drag \"Drag\" { of drum  unit lbf.in  instrument \"torque wrench\" resolution 1 lbf.in }\n\
                  gauge string \"Pull on the string\" { of drum  unit lbf  is drag / 2 in  bands good 4 lbf .. 6 lbf, renew above \
                  6 lbf from \"invented\" }\n\
                  gauge low \"Load at 31 mm\" { of spring  unit N  instrument \"scales\" resolution 1 N }\n\
                  gauge high \"Load at 40 mm\" { of spring  unit N  instrument \"scales\" resolution 1 N }\n\
                  gauge rate \"Rate\" { of spring  unit N/mm  is (low - high) / 9 mm  bands renew below 34 N/mm, good above 34 N/mm \
                  from \"invented\" }\n\
                  strip measure \"Measure\" { gauge pull, drag, low, high }";
    let found = verdict(family, "pull: 18 N, drag: 14 lbf.in, low: 565 N, high: 250 N");
    says(&found, "= 1.35 ± 0.04 N·m: good (1 to 2 N·m, from invented)");
    says(&found, "= 7.0 ± 0.3 lbf: renew (above 6 lbf, from invented)");
    says(&found, "= 35.0 ± 0.2 N/mm: good (above 34 N/mm, from invented)");
}

#[test]
fn a_working_keeps_its_brackets() {
    let family = |is: &str| {
        format!(
            "part block \"Block\" {{ fate by sum }}\ngauge a \"a\" {{ of block  unit mm }}\ngauge b \"b\" {{ of block  unit mm }}\ngauge c \
             \"c\" {{ of block  unit mm }}\ngauge sum \"Sum\" {{ is {is}  bands good below 500 mm, renew above 500 mm from \"invented\" \
             }}\nstrip measure \"Measure\" {{ gauge a, b, c }}"
        )
    };
    let readings = "a: 80.25 mm, b: 40.00 mm, c: 39.80 mm";
    for (is, words) in [
        ("a - (b + c)", "a − (b + c) = 80.25 mm − (40.00 mm + 39.80 mm) = 0.45 ± "),
        ("a - (b - c)", "80.25 mm − (40.00 mm − 39.80 mm) = 80.05 ± "),
        ("(a - b) / 4", "(a − b) ÷ 4 = (80.25 mm − 40.00 mm) ÷ 4 = 10.063 ± 0.003 mm"),
        ("a - b + c", "80.25 mm − 40.00 mm + 39.80 mm = 80.05 ± "),
        ("a / (b / c)", "80.25 mm ÷ (40.00 mm ÷ 39.80 mm) = 79.85"),
    ] {
        says(&verdict(&family(is), readings), words);
    }
}

/// (80.25 − 80.00)/4 is 0.0625: shown as 0.06 it would be on the limit that it is beyond.
#[test]
fn no_reading_is_rounded_onto_a_limit() {
    let family = "part block \"Block\" { fate by quarter }\ngauge bore \"bore\" { of block  unit mm }\ngauge quarter \"Quarter\" { is (bore - \
                  80.00 mm) / 4  bands good below 0.06 mm, renew above 0.06 mm from \"invented\" }\nstrip measure \"Measure\" { gauge bore }";
    says(&verdict(family, "bore: 80.25 mm"), "= 0.0625 ± 0.0013 mm: renew");
    // What was written is shown as it was, whatever the instrument's step.
    let coarse = WEB.replace("resolution 0.01", "resolution 0.1");
    let shown = verdict(&format!("part crank \"Crank\" {{ fate by web }}\n{coarse}"), "web: 50.195 mm");
    says(&shown, "50.195");
}

/// A micrometer with a certificate that allows it four micrometres: clear of the limit is only what is clear of both.
#[test]
fn what_an_instrument_may_be_off_counts_beside_its_step() {
    let family = |error: &str| {
        format!(
            "part crank \"Crank\" {{ fate by web }}\ngauge web \"Web\" {{ of crank  unit mm  instrument \"micrometer\" resolution 0.001 mm \
             {error}  bands renew below 49.950 mm, good above 49.950 mm from \"invented\" }}\nstrip measure \"Measure\" {{ gauge web }}"
        )
    };
    let stated = family("error 0.004 mm from \"its certificate, invented\"");
    let fine = family("");
    for (reading, without, with) in [
        ("49.949 mm", "crank: renew", "crank: open"),
        ("49.950 mm", "crank: goes back", "crank: open"),
        ("49.952 mm", "crank: goes back", "crank: open"),
        ("49.955 mm", "crank: goes back", "crank: goes back"),
        ("49.945 mm", "crank: renew", "crank: renew"),
    ] {
        says(&verdict(&fine, &format!("web: {reading}")), without);
        says(&verdict(&stated, &format!("web: {reading}")), with);
    }
    says(&verdict(&stated, "web: 49.952 mm"), "49.952 ± 0.005 mm");
}

/// The furthest beyond is shown wherever it stands among the readings, not the first of them.
#[test]
fn of_several_readings_the_furthest_beyond_its_limit_is_shown() {
    let family = "part shaft \"Shaft\" { fate reuse }\ngauge journal \"Journal\" { of shaft  unit mm  stations front 10 mm, middle 50 mm, rear \
                  90 mm  made 49.98 mm .. 50.00 mm from \"invented\"  worn 49.95 mm from \"invented\"  instrument \"micrometer\" resolution \
                  0.001 mm }\nstrip measure \"Measure\" { gauge journal }";
    let read =
        verdict(family, "journal front: 49.990 mm, journal middle: 49.930 mm, journal rear: 49.940 mm");
    says(&read, "49.930 ± 0.0005 mm at middle, beyond the worn limit 49.95 mm");
    let last =
        verdict(family, "journal front: 49.945 mm, journal middle: 49.940 mm, journal rear: 49.930 mm");
    says(&last, "49.930 ± 0.0005 mm at rear, beyond the worn limit 49.95 mm");
}

#[test]
fn on_its_old_centre_a_bore_takes_twice_its_wear() {
    let family = |old: &str| {
        format!(
            "part block \"Block\" {{ fate by wear }}\ngauge bore \"Bore\" {{ of block  unit mm  made 80.00 mm .. 80.02 mm from \"invented\"  worn \
             80.10 mm from \"invented\"  instrument \"bore gauge\" resolution 0.01 mm  sizes 0.25 mm, 0.50 mm allowance 0.02 mm {old} from \
             \"invented\" }}\ngauge wear \"Wear\" {{ of block  is bore - 80.00 mm  bands keep 0 mm .. 0.10 mm, bore above 0.10 mm from \
             \"invented\" }}\nstrip measure \"Measure\" {{ gauge bore }}"
        )
    };
    says(&verdict(&family(""), "bore: 80.20 mm"), "bore 80.25 to 80.27 mm (+0.25 mm)");
    let old = verdict(&family("on old centre"), "bore: 80.20 mm");
    says(&old, "bore 80.50 to 80.52 mm (+0.50 mm)");
    says(
        &old,
        "80.50 mm ≥ 80.00 mm + 2 × (largest bore 80.20 mm − 80.00 mm) + 0.02 mm to clean up, worn on one side and machined on the old centre",
    );
}

/// The furthest beyond a limit is told with its place, of what is read at several and of what is computed from such: of
/// 50.02, 50.15 and 50.12 the second, and of it less the front journal the same, with what it is taken from.
#[test]
fn the_worst_reading_is_told_with_its_place() {
    let family = "part block \"Block\" { fate by bore }\npart shaft \"Shaft\" { fate by play }\ngauge bore \"Bore\" { of block  unit mm  \
                  stations a, b, c  made 50.00 mm .. 50.02 mm from \"invented\"  worn 50.10 mm from \"invented\"  instrument \"bore gauge\" \
                  resolution 0.01 mm }\ngauge journal \"Journal\" { of shaft  unit mm  instrument \"micrometer\" resolution 0.01 mm }\ngauge play \
                  \"Play\" { of shaft  is bore - journal  bands good 0 mm .. 0.10 mm, renew above 0.10 mm from \"invented\" }\nstrip measure \
                  \"Measure\" { gauge bore, journal }";
    let found = verdict(family, "bore a: 50.02 mm, bore b: 50.15 mm, bore c: 50.12 mm, journal: 49.97 mm");
    says(&found, "Bore = 50.15 ± 0.005 mm at b: beyond the worn limit 50.10 mm");
    says(
        &found,
        "bore − journal = 50.02 mm to 50.15 mm − 49.97 mm = 0.05 mm to 0.18 mm, furthest 0.18 ± 0.01 mm from 50.15 mm at b: renew \
         (above 0.10 mm",
    );
}

/// Between 80.25 and 80.50 the instrument can't tell: 80.25 − 0.02 is 80.23. A person says which, with name and day; a size that
/// can't clean up is not taken from anybody.
#[test]
fn a_size_in_doubt_is_settled_by_a_person() {
    let family = "part block \"Block\" { fate by wear }\ngauge bore \"Bore\" { of block  unit mm  made 80.00 mm .. 80.02 mm from \"invented\"  worn \
                  80.10 mm from \"invented\"  instrument \"bore gauge\" resolution 0.01 mm  sizes 0.25 mm, 0.50 mm, 0.75 mm allowance 0.02 mm from \
                  \"invented\" }\ngauge wear \"Wear\" { of block  is bore - 80.00 mm  bands keep 0 mm .. 0.10 mm, bore above 0.10 mm from \
                  \"invented\" }\nstrip measure \"Measure\" { gauge bore }";
    let settled = |reading: &str, size: &str| {
        let by = if size.is_empty() {
            String::new()
        } else {
            format!("\nsettled: {{bore: {{{size}: \"read again with a ring\", by: HK, date: 2026-03-05}}}}")
        };
        verdict_with(family, &format!("readings:\n  as_found:\n    bore: {reading}{by}")).0
    };
    says(&settled("80.23 mm", ""), "too near for the instrument: measure again");
    // What is read just beyond is not rounded onto what cleans up.
    says(&settled("80.731 mm", ""), "80.75 mm < largest bore 80.731 mm + 0.02 mm to clean up (too near");
    for (reading, size, to) in [
        ("80.23 mm", "0.25 mm", "bore 80.25 to 80.27 mm"),
        ("80.23 mm", "0.50 mm", "bore 80.50 to 80.52 mm"),
        ("80.15 mm", "0.50 mm", "bore 80.50 to 80.52 mm"),
    ] {
        let verdict = settled(reading, size);
        says(&verdict, to);
        says(&verdict, "settled by HK on 2026-03-05: read again with a ring");
    }
    let too_small = settled("80.40 mm", "0.25 mm");
    says(&too_small, "that doesn't clean up");
    says_not(&too_small, "bore 80.25 to 80.27 mm");
}

/// Worn along by 0.20 and across by 0.02, all on one side: 80.00 + 2 × 0.20 + 0.02 = 80.42 takes 0.50 on the old centre, where
/// 80.20 + 0.02 takes 0.25.
#[test]
fn a_bore_worn_more_one_way_asks_on_which_centre_it_is_bored() {
    let family = "part block \"Block\" { fate by wear }\ngauge bore \"Bore\" { of block  unit mm  directions along, across  made 80.00 mm .. 80.02 mm from \
                  \"invented\"  worn 80.10 mm from \"invented\"  instrument \"bore gauge\" resolution 0.01 mm  sizes 0.25 mm, 0.50 mm allowance \
                  0.02 mm from \"invented\" }\ngauge wear \"Wear\" { of block  is max(bore) - 80.00 mm  bands keep 0 mm .. 0.10 mm, bore above \
                  0.10 mm from \"invented\" }\nstrip measure \"Measure\" { gauge bore }";
    let unlike = verdict(family, "bore along: 80.20 mm, bore across: 80.02 mm");
    says(&unlike, "bore 80.25 to 80.27 mm");
    says(
        &unlike,
        "bore is 0.18 mm out of round: machined on the old centre? then it takes 0.50 mm, settled in the record by whoever says so",
    );
    // Worn alike all round there is nothing to ask, nor where the same size does on either centre.
    says_not(&verdict(family, "bore along: 80.20 mm, bore across: 80.20 mm"), "old centre");
    says_not(&verdict(family, "bore along: 80.11 mm, bore across: 80.02 mm"), "old centre");
}

#[test]
fn a_cracked_part_is_renewed_whatever_else_judges_it() {
    let family = "part head \"Head\" { crack test cracks  fate by flatness }
look cracks \"Cracks\" { of head  results sound, cracked }
gauge flatness \"Flatness\" { of head  unit mm  instrument \"straight edge\" resolution 0.01 mm
    bands good 0 mm .. 0.08 mm, skim above 0.08 mm from \"invented\" }
strip measure \"Measure\" { look cracks  gauge flatness }";
    let with = |cracks: &str, flatness: &str| {
        let record = format!(
            "readings: {{as_found: {{flatness: {flatness}}}}}\nlooks: {{as_found: {{cracks: {cracks}}}}}"
        );
        verdict_with(family, &record).0
    };
    says(&with("sound", "0.02 mm"), "head: goes back");
    says(&with("sound", "0.12 mm"), "head: machine: skim");
    says(&with("cracked", "0.02 mm"), "head: renew\n      why: Cracks: cracked");
    says(&with("cracked", "0.12 mm"), "head: renew\n      why: Cracks: cracked");
}

#[test]
fn a_size_without_tolerance_is_as_made_where_it_is_read_so() {
    let family = "part rocker \"Rocker\" { fate reuse }\ngauge lash \"Lash\" { of rocker  unit mm  made 0.20 mm from \"invented\"  instrument \"feelers\" \
                  resolution 0.05 mm }\nstrip measure \"Measure\" { gauge lash }";
    says_not(&verdict(family, "lash: 0.20 mm"), "Beyond their limits");
    says(
        &verdict(family, "lash: 0.30 mm"),
        "lash, as found: 0.30 ± 0.03 mm, not as made (0.20 mm), and no limit as worn is known",
    );
}
