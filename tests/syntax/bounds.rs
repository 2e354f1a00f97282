//! Texts that no one writes on purpose: they get a clear complaint, quickly, and never a crash.

use std::time::Instant;

use benchleaf::source::Sources;

use super::parse_text;

/// Seconds that any of these may take: a wide bound, since tests run side by side and without optimisation.
const SLOWEST: f64 = 20.0;

/// The codes of the complaints about `text`.
fn codes(text: &str) -> Vec<&'static str> {
    let started = Instant::now();
    let (_, diagnostics) = parse_text(&mut Sources::new(), "odd.rebuild", text);
    let seconds = started.elapsed().as_secs_f64();
    assert!(seconds < SLOWEST, "{seconds} s for {} bytes of {:?}", text.len(), &text[..text.len().min(20)]);
    diagnostics.iter().map(|diagnostic| diagnostic.code.name).collect()
}

#[test]
fn huge_files_are_not_read() {
    assert_eq!(codes(&"{".repeat(50_000_000)), ["language/too-large"]);
}

#[test]
fn nesting_without_end_is_told_once() {
    for text in ["{", "(", "["] {
        assert_eq!(codes(&text.repeat(10_000)), ["language/too-deep"]);
        assert_eq!(codes(&format!("gauge a {{ is {}", text.repeat(10_000))), ["language/too-deep"]);
    }
    assert_eq!(codes(&"block a { ".repeat(10_000)), ["language/too-deep"]);
    assert_eq!(codes(&"{".repeat(16_000_000)), ["language/too-deep"]);
}

#[test]
fn many_faults_end_with_a_notice() {
    for line in [
        "under x\n",
        "x\n",
        "part A-\n",
        "part a { x y }\n",
        "}\n\n",
        "\"\n",
        "é \n",
        "part {",
        "part a {\n",
        "}{",
        "a{}",
    ] {
        let found = codes(&line.repeat(5_000));
        assert!(found.len() <= 101, "{} complaints about {line:?}", found.len());
        assert!(!found.is_empty(), "{line:?}");
    }
    assert_eq!(codes(&"undr x\n".repeat(500)).last(), Some(&"language/too-many"));
}

#[test]
fn one_endless_declaration_is_bounded() {
    for clause in
        ["under x ", "undr x ", "under x, ", "held by ", "\"a\" ", "1 ", "mass 1 kg\n", "mass 1 kgg\n"]
    {
        let text = format!("part a {{ {} }}", clause.repeat(50_000 / clause.len()));
        codes(&text);
    }
    codes(&format!("part a {{ under {} }}", "x, ".repeat(20_000)));
    codes(&"(".repeat(30).repeat(1_000));
    codes(&"part a {} ".repeat(10_000));
}

#[test]
fn a_declaration_without_end_is_not_read() {
    assert_eq!(codes(&"part a {} ".repeat(300_000)), ["language/too-large"]);
    assert_eq!(codes(&format!("part a {{ {} }}", "under x\n".repeat(300_000))), ["language/too-large"]);
}

#[test]
fn five_thousand_steps_are_read() {
    let step = "strip lift \"Lift the cover\" {\n    tools puller  hands 2  time 25 min\n    undo nuts\n    take cover\n}\n";
    assert!(codes(&step.repeat(5_000)).is_empty());
}

#[test]
fn a_text_without_anything_is_told() {
    for text in ["", " \n\t\n", "-- only a comment", ";;;"] {
        assert_eq!(codes(text), ["language/empty"], "{text:?}");
    }
}
