//! A trial that finds which piece goes in, and what is done at both ends of a gearbox. Invented data.

use super::words_of;
use benchleaf::PacketOptions;
use benchleaf::model::Phase;

const BOX: &str = "family box \"Box\" { edition 1  origin \"invented\"  invented  ends \"motor end\", \"drum end\"  called \"gearbox\" }
axis end_of \"end\" = motor, drum
setup side \"End you stand at\" = top (at first), motor_end, drum_end  for each person
part cover[end_of] \"Cover\" { held by bolts  fate reuse }
part shim \"Shim\" { under cover[motor]  fate renew }
fasteners bolts[end_of] 4 \"Cover bolt\" { thread M8x1.25  class 8.8  drive 13 mm  reusable }
part body \"Body\" { under cover, shim }
joint cover_joint[end_of] \"Cover to body\" {
    clamps cover, body
    seen from front at end_of = motor
    seen from rear at end_of = drum
    holes bolts circle 4 on 80 mm
    tighten bolts 20 N.m from \"invented\"
}
gauge old_shim \"Shim that was in\" { unit mm  needs shim off  plausible 0 mm .. 2 mm }
gauge float_tried \"End float with the old shim\" { unit mm  plausible 0 mm .. 2 mm }
gauge shim_wanted \"Shim for 0.10 mm\" {
    of shim  unit mm
    is old_shim + 0.10 mm - float_tried
    sold 0.40 mm, 0.50 mm within 0.05 mm from \"invented\"
}
strip covers_off \"Covers off\" {
    each end_of apart
    with side motor_end at end_of = motor
    with side drum_end at end_of = drum
    do \"Clean the seam.\"
    do \"Mark the cover.\"
    undo bolts
    take cover
}
strip shim_out \"Shim out\" { take shim  gauge old_shim }
trial find \"Find the shim\" {
    build tried \"Try it\" { fit shim  fit cover[motor]  nip bolts[motor]  gauge float_tried }
    build apart_again \"Apart again\" { undo bolts[motor]  take cover[motor]  take shim }
}
build shut \"Shut it\" { after find  fit shim  fit cover[motor]  start by hand bolts[motor]  tighten cover_joint[motor] }
";

fn sheets(phase: Phase) -> String {
    words_of(("box.rebuild", BOX), "job: \"B-1\"\nprocedure: box.rebuild\n", &PacketOptions::of(phase))
}

#[test]
fn a_trial_that_finds_the_size_is_put_together_with_the_old_piece() {
    let build = sheets(Phase::Build);
    let (tried, shut) = build.split_once("Apart again").unwrap();
    let tried = tried.split_once("Try it").unwrap().1;
    assert!(tried.contains("Fit the shim, the old one."), "{tried}");
    assert!(!tried.contains("Choose by") && !tried.contains("new shim"), "{tried}");
    assert!(shut.contains("Fit the new shim") && shut.contains("Choose by"), "{shut}");
}

#[test]
fn where_one_stands_is_told_of_each_place() {
    let strip = sheets(Phase::Strip);
    let told = "End you stand at: motor → motor end, drum → drum end";
    assert!(
        strip.contains(told)
            || strip.contains("End you stand at: motor end") && strip.contains("End you stand at: drum end"),
        "{strip}"
    );
}

#[test]
fn ends_are_called_by_their_names() {
    let build = sheets(Phase::Build);
    assert!(
        build.contains("Seen from the motor end.") && build.contains("Seen from the drum end."),
        "{build}"
    );
    assert!(build.contains("Invented: not a real gearbox."), "{build}");
    assert!(!build.contains("from the front") && !build.contains("from the rear"), "{build}");
}
