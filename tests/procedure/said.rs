//! What may be said of things as the trade says it: pipe threads, the pull at a radius, ends with names of their own.

use std::path::Path;

use benchleaf::diagnostics::Diagnostic;
use benchleaf::model::{End, FastenerSet};
use benchleaf::quantity::Dimension;
use benchleaf::{Memory, Workshop};

use super::{clean, codes, resolved};
use crate::tests::expected;

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

/// What is said of a procedure outside backticks and quotes: those hold words of the language, and of whoever wrote it.
fn own_words(told: &Diagnostic) -> String {
    let mend = told.mend.as_ref().map(|mend| mend.text().to_owned()).unwrap_or_default();
    let labels = told.labels.iter().map(|label| label.text.clone());
    let all = labels.chain([told.message.clone(), mend]).collect::<Vec<_>>().join(" ");
    let bare = all.split('`').step_by(2).collect::<String>();
    bare.split('"').step_by(2).collect::<String>().to_lowercase()
}

#[test]
fn no_complaint_speaks_of_an_engine_where_the_procedure_says_what_it_is() {
    let (mut asked, mut wrong) = (0, Vec::new());
    for room in ["procedure", "network", "language"] {
        for path in expected::files(&expected::folder("diagnostics").join(room), "rebuild") {
            let text = std::fs::read_to_string(&path).unwrap();
            let Some((head, rest)) = text.split_once('{').filter(|(head, _)| head.contains("family ")) else {
                continue;
            };
            if text.contains(" called ") || text.contains("firing order") || text.contains("cycle ") {
                continue;
            }
            let text = format!("{head}{{ called \"winch\" {rest}");
            let mut workshop = Workshop::over(Memory::new().with("a.rebuild", text));
            for told in workshop.check(Path::new("a.rebuild")).diagnostics {
                asked += 1;
                if own_words(&told).contains("engine") {
                    wrong.push(format!("{}: {}: {}", path.display(), told.code.name, own_words(&told)));
                }
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    assert!(asked > 300, "{asked} complaints were looked at");
}
