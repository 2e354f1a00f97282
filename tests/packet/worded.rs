//! What a sheet says stands at the act that it is about, and once. Invented data.

use super::words_of;
use benchleaf::PacketOptions;
use benchleaf::model::Phase;

const ENGINE: &str = "family demo \"Demo\" { edition 1  origin \"invented\"  invented  lifting limit 20 kg }
axis bank \"bank\" = left, right
tool hoist \"Hoist, 250 kg\" { kind hoist  range 0 kg .. 250 kg }
tool socket_13 \"13 mm socket\" { kind socket  size 13 mm }
tool wrench \"Torque wrench\" { kind wrench  range 5 N.m .. 60 N.m }
supply oil \"Clean oil\"
hazard lifting warning lifting { hazard \"Heavy.\"  consequence \"Crushed hands.\"  avoid \"Rig first.\" }
section demo \"Engine\" refit \"Engine\"
fasteners cap_bolts 2 \"Cap bolt\" {
    kind bolt  thread M8x1.25  class 8.8  drive 13 mm  length 40 mm  once
    oil threads, faces with oil
    tighten 20 N.m from \"invented\"
}
fasteners studs 2 \"Stud\" {
    goes on \"Two nuts, locked.\"  kind stud  thread M8x1.25  class 8.8  length 60 mm  stand out 22 mm  reusable
    under cover
    dry
    tighten 12 N.m from \"invented\"
}
part cover[bank] \"Cover\" { fate reuse }
part cap \"Cap\" { held by cap_bolts  fate reuse }
part shaft \"Shaft\" {
    kind running  under cap, cover  coat with oil \"journals\"  mass 30 kg  lift at \"slings\"  hazard lifting both ways
    fate reuse
}
part seal \"Seal ring\" { coat with oil \"lip\"  within shaft  under wheel  fate renew }
part wheel \"Wheel\" { dry  within shaft  under nut  fate reuse }
part nut \"Nut\" { dry  within shaft  fate reuse }
part key \"Key\" { dry  within shaft  fate reuse }
part plug \"Plug\" { dry  within shaft  fate reuse }
gauge bore \"Bore, cap tight\" {
    of cap  needs cap_bolts tight, shaft off  plausible 30 mm .. 50 mm  instrument \"bore gauge\" resolution 0.01 mm
}
gauge journal \"Journal\" { of shaft  taken off  plausible 30 mm .. 50 mm  instrument \"micrometer\" resolution 0.01 mm }
gauge clearance \"Oil clearance\" {
    of shaft  is min(bore) - max(journal)  made 0.03 mm .. 0.06 mm from \"invented\"  worn 0.08 mm from \"invented\"
}
strip covers_off \"Covers off\" { each bank apart  hold \"a second person looks\"  take cover[bank] }
strip off \"Shaft out\" {
    hands 2  tools hoist
    undo cap_bolts
    take cap
    support shaft
    take shaft
    undo studs
}
strip wheel_off \"Wheel off\" { take nut  take wheel  take seal }
strip small \"Key and plug out\" { after wheel_off  take key  take plug }
survey measure \"Measure it\" { gauge journal }
trial tried \"Bore with the cap on\" {
    build try_it \"Cap on\" {
        fit cap
        start by hand cap_bolts
        tighten cap_bolts to 20 N.m \"Evenly.\"
        gauge bore
        undo cap_bolts
        take cap
    }
}
build shut \"Shaft in, cap on\" {
    after tried
    hands 2
    fit shaft
    fit cap \"Number to the left.\"
    tighten cap_bolts \"Crosswise.\"
}
";

fn sheets(phase: Phase) -> String {
    words_of(("demo.rebuild", ENGINE), "job: \"D-1\"\nprocedure: demo.rebuild\n", &PacketOptions::of(phase))
}

/// The words between two of the build packet.
fn between(build: &str, from: &str, to: &str) -> String {
    let rest = build.split_once(from).unwrap_or_else(|| panic!("no `{from}` in {build}")).1;
    rest.split_once(to).unwrap_or_else(|| panic!("no `{to}` behind `{from}` in {build}")).0.to_owned()
}

#[test]
fn words_on_tightening_stand_at_the_first_pass() {
    let build = sheets(Phase::Build);
    assert!(build.contains("2 new cap bolts (a). Crosswise."), "{build}");
    assert!(build.contains("2 cap bolts, trial only. Evenly."), "{build}");
    assert!(!build.contains("to the left. Crosswise."), "{build}");
}

#[test]
fn in_a_trial_the_old_fasteners_serve_oiled_as_their_torque_is_meant() {
    let build = sheets(Phase::Build);
    let tried = between(&build, "Cap on", "Shaft in, cap on");
    assert!(tried.contains("Oil the threads and faces of the 2 cap bolts with clean oil."), "{tried}");
    assert!(tried.contains("Start the 2 cap bolts") && !tried.contains("new cap bolts"), "{tried}");
}

#[test]
fn what_hangs_on_the_hoist_is_coated_before_it_is_rigged() {
    let build = sheets(Phase::Build);
    let coated = build.find("Coat the shaft with clean oil: journals.").unwrap();
    let rigged = build.find("Rig the hoist to the shaft.").unwrap();
    assert!(coated < rigged, "{build}");
}

#[test]
fn a_stud_stands_out_so_far_and_its_words_are_said_once() {
    let build = sheets(Phase::Build);
    assert!(build.contains("Stands out: 22 mm when home."), "{build}");
    assert_eq!(build.matches("Two nuts, locked.").count(), 1, "{build}");
}

#[test]
fn what_readings_give_stands_behind_the_last_of_them() {
    let told = "Gives the oil clearance: smallest bore, cap tight, less largest journal.";
    let (survey, build) = (sheets(Phase::Survey), sheets(Phase::Build));
    assert!(build.contains(told) && build.contains("worn limit 0.08 mm"), "{build}");
    assert!(!survey.contains("Gives the oil clearance"), "{survey}");
}

#[test]
fn a_place_of_words_stands_apart_from_the_name() {
    let strip = sheets(Phase::Strip);
    assert!(
        strip.contains("Remove the cover (left).") && strip.contains("Remove the cover (right)."),
        "{strip}"
    );
}

#[test]
fn two_pieces_of_work_on_one_assembly_have_titles_of_their_own() {
    let build = sheets(Phase::Build);
    assert!(!build.contains("Put the shaft together"), "{build}");
    assert!(build.contains("Fit the plug and the key"), "{build}");
    assert!(build.contains("Fit the seal ring, the wheel and the nut"), "{build}");
}
