//! How many values and answers are told apart: 64, and one more is refused where it is declared.

use benchleaf::procedure::resolve;
use benchleaf::source::Sources;

use super::connected;

/// `name0, name1, ...`, so many of them.
fn listed(name: &str, count: usize) -> String {
    (0..count).map(|index| format!("{name}{index}")).collect::<Vec<_>>().join(", ")
}

/// A procedure with such a declaration and steps.
fn procedure(body: &str) -> String {
    format!("family demo \"Demo engine\" {{ origin \"invented\" }}\n{body}\n")
}

/// The codes that resolving a text gives.
fn refusals(text: &str) -> Vec<&'static str> {
    let mut sources = Sources::new();
    let file = sources.add("test.rebuild", text);
    let tree = benchleaf::language::parse(file, text);
    assert!(!tree.has_errors(), "{text}");
    resolve(&[tree.value]).diagnostics.iter().map(|complaint| complaint.code.name).collect()
}

#[test]
fn the_last_of_64_values_is_one_of_its_own() {
    for count in [63, 64] {
        let last = count - 1;
        let lock = format!("state lock = {}\n", listed("v", count));
        let never =
            procedure(&format!("{lock}strip open \"Open it\" {{ needs lock = v{last}  do \"Open.\" }}"));
        let (.., complaints, _) = connected(&never);
        assert_eq!(
            complaints.iter().map(|complaint| complaint.code.name).collect::<Vec<_>>(),
            ["network/nothing-frees"],
            "{count}"
        );
        let turned = procedure(&format!(
            "{lock}strip turn \"Turn it\" {{ set lock = v{last} }}\n\
             strip open \"Open it\" {{ needs lock = v{last}  do \"Open.\" }}"
        ));
        assert!(connected(&turned).2.is_empty(), "{count}");
    }
}

#[test]
fn more_than_64_are_refused() {
    let declarations: [(&str, fn(&str) -> String); 5] = [
        ("v", |values| format!("state lock = {values}")),
        ("v", |values| format!("setup holder \"Holder\" = {values}")),
        ("a", |answers| format!("ask which \"Which?\" = {answers}")),
        ("r", |results| {
            format!("part it \"It\" {{ fate reuse }}\nlook at_it \"It\" {{ of it  results {results} }}")
        }),
        ("b", |_| String::new()),
    ];
    for (name, declare) in declarations {
        for (count, refused) in [(63, false), (64, false), (65, true)] {
            let bands = (0..count).map(|index| format!("b{index} {index} mm .. {} mm", index + 1));
            let text = procedure(&match name {
                "b" => format!(
                    "part it \"It\" {{ fate reuse }}\ngauge wear \"Wear\" {{ of it  unit mm  bands {} }}",
                    bands.collect::<Vec<_>>().join(", ")
                ),
                _ => declare(&listed(name, count)),
            });
            let codes = refusals(&text);
            assert_eq!(codes.contains(&"procedure/too-many-values"), refused, "{count}: {text}\n{codes:?}");
        }
    }
}

#[test]
fn what_chooses_a_torque_is_read_before_it() {
    let text = |reads: &str, links: &str| {
        format!(
            "family e \"E\" {{ origin \"invented\" }}\npart lid \"Lid\" {{ held by nuts }}\n\
             gauge stretch \"Stretch\" {{ unit mm  bands short below 0.5 mm, long above 0.5 mm from \"invented\" }}\n\
             fasteners nuts 2 \"Nut\" {{ kind nut  thread M10x1.5  reusable  \
             tighten 31 N.m when stretch = short, else 42 N.m from \"invented\" }}\n\
             strip off \"Off\" {{ undo nuts  take lid }}\n{reads}\n\
             build on \"On\" {{ {links} fit lid  start by hand nuts  tighten nuts }}\n"
        )
    };
    let faults = |reads: &str, links: &str| {
        let said = connected(&text(reads, links)).2;
        said.iter().filter(|said| said.code.name.starts_with("network/")).count()
    };
    assert_eq!(faults("build read \"Read\" { gauge stretch }", ""), 0);
    assert_eq!(faults("survey read \"Read\" { gauge stretch }", ""), 0);
    assert_ne!(faults("", ""), 0);
    assert_ne!(faults("build read \"Read\" { after on  gauge stretch }", ""), 0);
}
