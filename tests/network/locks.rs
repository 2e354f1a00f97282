//! What keeps fasteners from coming loose, what goes on their threads, what hangs on the hoist and what lies on what, as
//! acts and links of their own. The ways of the trade in it: common practice, no source.

use benchleaf::network::StepSource;
use benchleaf::procedure::model::*;

use super::connected;

const FAMILY: &str = "family e \"E\" { origin \"invented for tests\" }
axis rod = 1, 2
supply oil \"Oil\"
supply wire \"Wire\"
supply locker \"Locker\"
supply sealant \"Sealant\"
fasteners bolt 1 \"Bolt\" { thread M8  reusable  locked by tab tab  tighten by feel }
fasteners nut[rod] 1 \"Nut\" { kind nut  thread M8  reusable  locked by split pin pin  oil threads with oil  tighten by feel }
fasteners screws 2 \"Screw\" { thread M8  reusable  locked by wire wire  locked by stake  tighten by feel }
fasteners studs 2 \"Stud\" { thread M8  reusable  locked by thread-locker locker  apply sealant  tighten by feel }
part tab \"Tab washer\" { fate renew }
part pin[rod] \"Split pin\" { fate renew }
part rod_part[rod] \"Rod\" { held by nut[rod]  fate reuse }
part gear \"Gear\" { held by bolt, screws, studs  under tab  mass 30 kg  lift at \"the eye\"  fate reuse }
";

/// The acts of a step as short words.
fn acts(procedure: &Procedure, step: &Step) -> Vec<String> {
    let set = |target: &Target<SetId>| procedure.set(target.id).naming.id.clone();
    let told = |act: &Act| match &act.deed {
        Deed::Fasten { work, what, .. } => {
            let names = what.iter().map(|what| match what {
                Fastening::Set(target) => set(target),
                Fastening::Joint(target) => procedure.joint(target.id).naming.id.clone(),
            });
            format!("{work:?} {}", names.collect::<Vec<_>>().join(" "))
        }
        Deed::Part { work, what } => format!("{work:?} {}", procedure.part(what[0].id).naming.id),
        Deed::Lock { what, how, close } => {
            format!("{} {how:?} of {}", if *close { "close" } else { "open" }, set(what))
        }
        Deed::Wet { what, with } => {
            let with = match with {
                Wetting::Oil => "oil".to_owned(),
                Wetting::Supply(id) | Wetting::Locker(Some(id)) => procedure.supply(*id).naming.id.clone(),
                Wetting::Locker(None) => "?".to_owned(),
            };
            format!("{with} on {}", set(what))
        }
        Deed::Lift { work, .. } => format!("{work:?}"),
        Deed::Gauge(_) => "gauge".to_owned(),
        other => format!("{other:?}"),
    };
    step.acts().map(told).collect()
}

fn told(text: &str, wanted: &[(&str, &[&str])]) {
    let (procedure, network, ..) = connected(&format!("{FAMILY}{text}"));
    for (id, expected) in wanted {
        let written = procedure.steps.iter().find(|step| step.naming.id == *id);
        let derived = network
            .derived
            .iter()
            .map(|derived| &derived.step)
            .find(|step| step.naming.id.split('[').next() == Some(*id));
        let step = written.or(derived).unwrap_or_else(|| panic!("no step {id}"));
        assert_eq!(acts(&procedure, step), *expected, "{id}");
    }
}

#[test]
fn a_lock_is_opened_before_its_set_and_closed_after_the_last_pass() {
    told(
        "strip open \"Open\" { undo bolt, screws, studs  take tab  support gear  take gear }
         strip rods \"Rods\" { each rod apart  undo nut[rod]  take rod_part[rod] }",
        &[
            (
                "open",
                &[
                    "open Tab of bolt",
                    "open Wire of screws",
                    "open Stake of screws",
                    "Undo bolt screws studs",
                    "Take tab",
                    "Rig",
                    "Support gear",
                    "Take gear",
                    "LetDown",
                    "Unrig",
                ],
            ),
            ("rods", &["Take pin", "Undo nut", "Take rod_part"]),
            // The weight hangs until the first of the sets that hold it is started.
            ("tighten:bolt", &["StartByHand bolt", "Unrig", "Tighten bolt", "close Tab of bolt"]),
            (
                "tighten:screws",
                &["StartByHand screws", "Tighten screws", "close Wire of screws", "close Stake of screws"],
            ),
            ("tighten:studs", &["sealant on studs", "locker on studs", "StartByHand studs", "Tighten studs"]),
            ("tighten:nut", &["oil on nut", "StartByHand nut", "Tighten nut", "Fit pin"]),
            ("fit:gear", &["Rig", "TakeTheWeight", "Fit gear"]),
        ],
    );
}

#[test]
fn a_lock_is_opened_once_and_what_the_author_does_is_not_done_twice() {
    told(
        "strip break \"Break loose\" { slacken bolt }
         strip open \"Open\" { undo bolt, screws, studs  take tab  take gear }
         strip rods \"Rods\" { each rod apart  take pin[rod]  undo nut[rod]  take rod_part[rod] }
         build home \"Home\" { fit gear  fit tab  start by hand bolt, screws, studs  tighten bolt, screws, studs }",
        &[
            ("break", &["open Tab of bolt", "Slacken bolt"]),
            (
                "open",
                &[
                    "open Wire of screws",
                    "open Stake of screws",
                    "Undo bolt screws studs",
                    "Take tab",
                    "Take gear",
                    "LetDown",
                    "Unrig",
                ],
            ),
            ("rods", &["Take pin", "Undo nut", "Take rod_part"]),
            (
                "home",
                &[
                    "Rig",
                    "TakeTheWeight",
                    "Fit gear",
                    "Fit tab",
                    "sealant on studs",
                    "locker on studs",
                    "StartByHand bolt screws studs",
                    "Unrig",
                    "Tighten bolt screws studs",
                    "close Tab of bolt",
                    "close Wire of screws",
                    "close Stake of screws",
                ],
            ),
        ],
    );
}

#[test]
fn a_trial_wets_with_oil_and_locks_nothing() {
    told(
        "gauge play \"Play\" { unit mm  worn 1 mm }
         strip open \"Open\" { undo bolt, screws, studs  take tab  take gear }
         strip rods \"Rods\" { each rod apart  undo nut[rod]  take rod_part[rod] }
         trial try \"Try\" {
             survey on \"On\" { each rod apart  fit rod_part[rod]  tighten nut[rod] to 5 N.m  gauge play  undo nut[rod]  take rod_part[rod] }
         }",
        &[("on", &["Fit rod_part", "oil on nut", "Tighten nut", "gauge", "Undo nut", "Take rod_part"])],
    );
}

#[test]
fn what_sets_hard_is_not_put_on_in_a_trial() {
    told(
        "gauge play \"Play\" { unit mm  worn 1 mm }
         strip open \"Open\" { undo bolt, screws, studs  take tab  take gear }
         strip rods \"Rods\" { each rod apart  undo nut[rod]  take rod_part[rod] }
         trial try \"Try\" {
             survey on \"On\" { fit gear  start by hand studs  tighten studs to 5 N.m  gauge play  undo studs  take gear }
         }",
        &[(
            "on",
            &[
                "Rig",
                "TakeTheWeight",
                "Fit gear",
                "StartByHand studs",
                "Unrig",
                "Tighten studs",
                "gauge",
                "Undo studs",
                "Take gear",
                "LetDown",
                "Unrig",
            ],
        )],
    );
}

#[test]
fn what_a_joint_clamps_and_what_seals_it_is_a_stack() {
    let text = "family e \"E\" { origin \"invented for tests\" }
        part head \"Head\" { sealed by ring  fate reuse }
        part gasket \"Gasket\" { fate renew }
        part ring \"Ring\" { fate renew }
        part block \"Block\"
        fasteners bolts 4 \"Bolt\" { thread M8  reusable }
        joint lid \"Lid\" { clamps head, gasket, block  tighten bolts by feel }
        strip open \"Open\" { undo lid  take head  take gasket  take ring }";
    let (_, network, diagnostics, _) = connected(text);
    assert!(diagnostics.is_empty(), "{diagnostics:?}");
    let order: Vec<&str> = network.orders[&Phase::Build]
        .iter()
        .flat_map(|node| &network.nodes[node.index()].members)
        .filter_map(|member| match member.step {
            StepSource::Derived(index) => Some(network.derived[index].step.naming.id.as_str()),
            StepSource::Written(_) => None,
        })
        .collect();
    assert_eq!(order.last(), Some(&"tighten:lid"));
    assert_eq!(order[order.len() - 2], "fit:head", "{order:?}");
    // The other way round the strip can't be worked.
    let (_, _, wrong, _) =
        connected(&text.replace("take head  take gasket  take ring", "take gasket  take head  take ring"));
    assert!(wrong.iter().any(|diagnostic| diagnostic.code.name == "network/nothing-frees"), "{wrong:?}");
}
