//! A step that is done at each place with nothing different is one step with a box for each; a hold keeps places apart.

use benchleaf::PacketOptions;
use benchleaf::model::Phase;

use super::words_of;

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
