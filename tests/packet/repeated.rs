//! A step that is done at each place with nothing different is one step with a box for each; a hold keeps places apart.

use benchleaf::PacketOptions;
use benchleaf::model::Phase;

use super::{made, words_of};

fn strip(more: &str) -> String {
    let procedure = format!(
        "family pump \"Pump\" {{ origin \"invented\"  invented }}\n\
         axis cyl \"cylinder\" = 1, 2, 3\n\
         part piston[cyl] \"Piston\" {{ dry }}\n\
         strip piston_out \"Push the piston out\" {{ each cyl apart  take piston[cyl]  do \"Wipe the bore.\"  {more} }}\n"
    );
    let record = "job: \"B-1\"\nprocedure: pump.rebuild\n";
    words_of(("pump.rebuild", &procedure), record, &PacketOptions::of(Phase::Strip))
}

#[test]
fn steps_that_repeat_each_other_are_one_with_a_box_for_each_place() {
    let words = strip("");
    assert!(words.contains("\n1–3 Push the piston out: cylinder 1, 2, 3\n"), "{words}");
    assert!(words.contains("Remove piston no. 1, 2, 3. [ ]1 [ ]2 [ ]3\n"), "{words}");
    assert!(words.contains("Wipe the bore. [ ]1 [ ]2 [ ]3\n"), "{words}");
}

#[test]
fn a_hold_keeps_the_places_apart() {
    let words = strip("hold \"A second person looks in.\"");
    assert!(words.contains("\n1 Push the piston out: cylinder 1\n"), "{words}");
    assert!(words.contains("\n3 Push the piston out: cylinder 3\n"), "{words}");
}

#[test]
fn valves_set_one_cylinder_after_the_other_have_a_row_each_and_a_column_for_each_act() {
    let job = "procedures/brackwater3.ready.job.yaml";
    let words = made("procedures/brackwater3.rebuild", Some(job), Phase::Start).words;
    let (_, from) = words.split_once("13 Lash once more").unwrap();
    let (step, _) = from.split_once("14 Cover on").unwrap();
    let told = |what: &str| step.matches(what).count();
    assert_eq!(told("Slacken the 2 lock nuts"), 1, "what is done is told once: {step}");
    assert_eq!(told("Turn the crankshaft clockwise"), 3, "{step}");
    assert_eq!(told("a Slacken | b Turn | c Tight | d Valve lash, cold |"), 3, "{step}");
    for cylinder in 1..=3 {
        for port in ["inlet", "exhaust"] {
            assert_eq!(told(&format!("| {cylinder} {port} | [ ] | [ ] | [ ] | ____ mm |")), 1, "{step}");
        }
    }
    // Each limit is that of its valves.
    assert_eq!(
        told("(Inlet: as made 0.20 mm (0.0079 in); exhaust: as made 0.25 mm (0.0098 in))"),
        1,
        "{step}"
    );
}
