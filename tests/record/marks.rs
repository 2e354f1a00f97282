//! Fingerprints of steps: each hangs on the facts of its step, and on nothing that the program says in its own words.

use std::collections::BTreeMap;

use benchleaf::packet::{Compared, step_marks};
use benchleaf::procedure::model::StepId;

use crate::tests::network::connected;

const FAMILY: &str = "family e \"E\" { origin \"invented for tests\" }
axis cyl = 1 .. 2
setup stand \"Stand\" = up (at first), over
tool bar \"Long bar\"
hazard rig warning lifting { hazard \"The cover is heavy.\"  consequence \"It crushes.\"  avoid \"Use the hoist.\" }
part cover \"Cover\" { held by bolts }
part plate \"Plate\" { held by screws }
part liner[cyl] \"Liner\" { under cover }
fasteners bolts 4 \"Cover bolt\" { thread M8x1.25  reusable }
fasteners screws 2 \"Plate screw\" { thread M6x1  reusable }
joint lid \"Lid\" { clamps cover, plate  tighten bolts 20 N.m from \"invented\" }
gauge bore[cyl] \"Bore\" { of liner[cyl]  unit mm  taken off }
strip cover_off \"Take the cover off\" { with stand over  tools bar  hazard rig  undo bolts  take cover }
strip plate_off \"Take the plate off\" { undo screws \"Mind the shims.\"  take plate }
strip liner_out \"Draw the liner\" { each cyl apart  take liner[cyl] }
survey bores \"Measure the bores\" { gauge bore }
";

fn marks(text: &str) -> BTreeMap<String, String> {
    let (procedure, network, ..) = connected(text);
    let marks = step_marks(&procedure, &network);
    let members = network.nodes.iter().flat_map(|node| &node.members);
    members.map(|member| (member.key.id(&procedure), marks.of(&member.key).unwrap().to_owned())).collect()
}

/// The steps whose marks differ.
fn changed(from: &str, to: &str) -> Vec<String> {
    assert!(FAMILY.contains(from), "{from}");
    let (before, after) = (marks(FAMILY), marks(&FAMILY.replacen(from, to, 1)));
    before.into_iter().filter(|(id, mark)| after.get(id) != Some(mark)).map(|(id, _)| id).collect()
}

#[test]
fn a_fact_changes_the_marks_of_its_own_steps() {
    assert_eq!(changed("20 N.m", "22 N.m"), ["tighten:lid"]);
    assert_eq!(changed("Mind the shims.", "Keep the shims."), ["plate_off"]);
    assert_eq!(
        changed("undo screws \"Mind the shims.\"", "slacken screws  undo screws \"Mind the shims.\""),
        ["plate_off"]
    );
    assert_eq!(changed("with stand over  ", ""), ["cover_off", "fit:cover", "tighten:lid"]);
    assert_eq!(changed("It crushes.", "It kills."), ["cover_off"]);
    assert_eq!(
        changed("\"Liner\"", "\"Wet liner\""),
        ["bores", "fit:liner[1]", "fit:liner[2]", "liner_out[1]", "liner_out[2]"]
    );
    assert_eq!(changed("unit mm", "unit um"), ["bores"]);
}

#[test]
fn neither_lines_before_nor_ids_change_a_mark() {
    assert!(changed("part plate", "-- A remark.\n\npart plate").is_empty());
    let renamed = FAMILY.replace("bolts", "nuts").replace("liner", "sleeve").replace("stand", "holder");
    let renamed = renamed
        .replace("cover", "lid_plate")
        .replace(" rig", " hoist")
        .replace("\"The lid_plate", "\"The cover");
    let renamed = renamed.replace("the lid_plate off", "the cover off").replace("the sleeve", "the liner");
    let of = |text| marks(text).into_values().collect::<std::collections::BTreeSet<String>>();
    assert_eq!(of(&renamed), of(FAMILY));
}

#[test]
fn the_title_that_the_program_gives_a_derived_step_is_no_fact() {
    let (mut procedure, mut network, ..) = connected(FAMILY);
    let before = step_marks(&procedure, &network);
    assert!(!network.derived.is_empty());
    for derived in &mut network.derived {
        derived.step.naming.title = "Said in other words".to_owned();
    }
    assert_eq!(step_marks(&procedure, &network), before);
    procedure.steps[StepId(0)].naming.title = "Said by the author in other words".to_owned();
    assert_ne!(step_marks(&procedure, &network), before);
}

/// Whoever changes what is told of a step, or how, raises the edition: marks that stand in records would all differ.
#[test]
fn marks_of_this_edition_stay_as_they_are() {
    let marks = marks(FAMILY);
    let pinned = PINNED.map(|(id, mark)| (id.to_owned(), mark.to_owned()));
    assert_eq!(marks, BTreeMap::from(pinned));
}

const PINNED: [(&str, &str); 11] = [
    ("bores", "2-ezd83-qk3rd"),
    ("cover_off", "2-a1wsc-nxxv5"),
    ("fit:cover", "2-ef4jz-66jvm"),
    ("fit:liner[1]", "2-598tz-p9ax6"),
    ("fit:liner[2]", "2-a6qdq-6ck4t"),
    ("fit:plate", "2-n77hr-64wps"),
    ("liner_out[1]", "2-35cw0-6v938"),
    ("liner_out[2]", "2-46j59-pcvsm"),
    ("plate_off", "2-gem2a-2251v"),
    ("tighten:lid", "2-p6k7b-sypbq"),
    ("tighten:screws", "2-tb7hv-8hbkd"),
];

#[test]
fn a_mark_of_another_edition_tells_nothing() {
    let (procedure, network, ..) = connected(FAMILY);
    let marks = step_marks(&procedure, &network);
    let key = &network.nodes[0].members[0].key;
    let now = marks.of(key).unwrap();
    assert_eq!(marks.compare(key, now), Some(Compared::Same));
    assert_eq!(marks.compare(key, "2-00000-00000"), Some(Compared::Changed));
    for other in ["00000-00000", "1-00000-00000", "3-00000-00000", "21345-00000", "seen", ""] {
        assert_eq!(marks.compare(key, other), Some(Compared::OtherEdition), "{other}");
    }
}

/// What is tightened to a value that answers choose, or is so long, or once: each value and each condition is a fact.
#[test]
fn a_value_that_answers_choose_changes_the_marks_of_its_steps() {
    const CHOSEN: &str = "family e \"E\" { origin \"invented for tests\" }
ask year \"Year\" = early, late
part cover \"Cover\" { held by bolts }
fasteners bolts 4 \"Bolt\" {
    thread M8x1.25
    length 30 mm when year = early, else 35 mm
    once when year = late, else reusable
    tighten 20 N.m when year = early, else 25 N.m from \"invented\"
}
strip cover_off \"Take the cover off\" { undo bolts  take cover }
";
    let changed = |from: &str, to: &str| {
        assert!(CHOSEN.contains(from), "{from}");
        let (before, after) = (marks(CHOSEN), marks(&CHOSEN.replacen(from, to, 1)));
        before
            .into_iter()
            .filter(|(id, mark)| after.get(id) != Some(mark))
            .map(|(id, _)| id)
            .collect::<Vec<_>>()
    };
    assert_eq!(changed("20 N.m when", "21 N.m when"), ["tighten:bolts"]);
    assert_eq!(changed("else 25 N.m", "else 26 N.m"), ["tighten:bolts"]);
    assert_eq!(changed("20 N.m when year = early", "20 N.m when year = late"), ["tighten:bolts"]);
    assert!(changed("else 35 mm", "else 40 mm").contains(&"tighten:bolts".to_owned()));
    assert!(changed("once when year = late", "once when year = early").contains(&"tighten:bolts".to_owned()));
}
