//! What may be said of things as the trade says it: pipe threads, the pull at a radius, ends with names of their own.

use benchleaf::model::{End, FastenerSet};
use benchleaf::quantity::Dimension;

use super::{clean, codes, resolved};

/// Outside diameter of the only set of a procedure, in millimetres.
fn diameter(thread: &str) -> f64 {
    let text = format!(
        "part lid \"Lid\" {{ held by plug  fate reuse }}
fasteners plug 1 \"Plug\" {{ thread {thread}  reusable }}
strip off \"Off\" {{ undo plug  take lid }}\n"
    );
    let procedure = clean(&text);
    let set: &FastenerSet = procedure.sets.iter().next().unwrap();
    set.diameter.unwrap().base() * 1e3
}

/// ISO 228-1 and ASME B1.20.1 (from memory): G 1/4 is 13.157 mm outside, G 3/8 16.662 mm.
#[test]
fn a_pipe_thread_is_known_by_its_outside() {
    assert!((diameter("G 1/4") - 13.157).abs() < 1e-6);
    assert!((diameter("G 3/8") - 16.662).abs() < 1e-6);
    assert!((diameter("1/8-27 NPT") - 9.728).abs() < 1e-6);
}

#[test]
fn a_pull_at_a_radius_is_a_torque() {
    let gauges = |unit: &str, formula: &str| {
        format!(
            "part shaft \"Shaft\" {{ fate reuse }}
gauge pull \"Pull\" {{ unit N  plausible 0 N .. 90 N }}
gauge drag \"Drag\" {{ unit N.m  plausible 0 N.m .. 9 N.m }}
gauge told \"Told\" {{ of shaft  unit {unit}  is {formula}  worn unknown }}
survey read \"Read\" {{ gauge pull  gauge drag }}\n"
        )
    };
    for (unit, formula) in [("N.m", "pull * 19 mm"), ("N", "drag / 19 mm"), ("mm", "drag / pull")] {
        let outcome = resolved(&gauges(unit, formula));
        assert!(!codes(&outcome.diagnostics).contains(&"procedure/formula-dimension"), "{formula}");
    }
    let outcome = resolved(&gauges("N", "pull * 19 mm"));
    assert!(codes(&outcome.diagnostics).contains(&"procedure/formula-dimension"));
    assert_eq!(Dimension::TORQUE.name(), "a torque");
}

#[test]
fn ends_have_their_own_names_where_the_family_says_so() {
    let named = |clauses: &str| {
        let text = format!("family box \"Box\" {{ origin \"invented\" {clauses} }}\n");
        let mut sources = benchleaf::source::Sources::new();
        let file = sources.add("box.rebuild", text.clone());
        benchleaf::procedure::resolve(&[benchleaf::language::parse(file, &text).value]).value
    };
    let plain = named("");
    assert_eq!(
        (plain.end_name(End::Front), plain.end_name(End::Rear), plain.whole()),
        ("front", "rear", "machine")
    );
    let own = named("ends \"motor end\", \"drum end\" called \"gearbox\"");
    assert_eq!(
        (own.end_name(End::Front), own.end_name(End::Rear), own.whole()),
        ("motor end", "drum end", "gearbox")
    );
}
