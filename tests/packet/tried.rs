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

const SHELLS: &str = "family box \"Box\" { edition 1  origin \"invented\"  invented }
section all \"All\" from \"invented\"
tool socket_17 \"17 mm socket\" { kind socket  size 17 mm }
tool wrench \"Torque wrench\" { kind wrench  range 10 N.m .. 60 N.m }
fasteners bolts 2 \"Cap bolt\" {
    drive 17 mm  thread M10x1.25  class 10.9  reuse by bolt_length  catalogue \"B-1\"
    tighten 40 N.m
}
part cap \"Cap\" { dry  held by bolts  mark ours \"paint line across cap and block\"  fate reuse }
part shaft \"Shaft\" { dry  under cap  fate size by parts in hand when journal_verdict = grind, else reuse }
part shell \"Shell\" { dry  under shaft  sized by journal  select from \"standard, 0.25 mm under\"  fate renew }
gauge journal \"Journal\" {
    of shaft  taken off  made 47.98 mm .. 48.00 mm  worn 47.95 mm  sizes 0.25 mm, 0.50 mm allowance 0.03 mm
}
gauge journal_verdict \"Wear\" {
    of shaft  is 48.00 mm - journal  bands keep 0 mm .. 0.05 mm, grind above 0.05 mm
}
gauge bolt_length \"Bolt, length\" { needs bolts out  worn 46.3 mm  bands good below 46.3 mm, renew above 46.3 mm }
gauge bore \"Bore\" { of shell  needs bolts tight, shaft off  made 48.03 mm .. 48.06 mm  worn 48.08 mm }
strip apart \"Apart\" { mark cap  undo bolts  take cap  take shaft  take shell }
survey read \"Read\" { gauge journal  gauge bolt_length }
trial bores \"Bores\" {
    build tried \"Try them\" { fit shell  fit cap  start by hand bolts  tighten bolts to 40 N.m }
    build read_bores \"Read them\" { gauge bore  undo bolts  take cap  take shell }
}
build shut \"Shut it\" { fit shell  fit shaft  fit cap  start by hand bolts  tighten bolts }
";

fn shells(read: &str) -> String {
    let record = format!("job: \"B-2\"\nprocedure: box.rebuild\n{read}");
    let options = PacketOptions { all: true, ..PacketOptions::of(Phase::Build) };
    words_of(("box.rebuild", SHELLS), &record, &options)
}

#[test]
fn a_trial_waits_for_the_size_of_what_it_puts_in_new_and_its_later_steps_for_it() {
    let build = shells("");
    let (tried, read) = build.split_once("Read them").unwrap();
    assert!(tried.contains("a reading: wear"), "{build}");
    assert!(read.contains("Not before step 1, which waits"), "{build}");
    assert!(!build.contains("the rest wait"), "{build}");
}

#[test]
fn what_is_measured_says_in_the_trial_which_fasteners_go_back_and_new_ones_are_not_for_it() {
    let read = |length: &str| {
        shells(&format!("readings:\n  as_found:\n    journal: 47.99 mm\n    bolt_length: {length}\n"))
    };
    let good = read("46.1 mm");
    assert!(good.contains("Measured good, they go back."), "{good}");
    assert!(good.contains("Our mark: paint line across cap and block."), "{good}");
    let stretched = read("46.8 mm");
    assert!(stretched.contains("They do not go back, new ones go in."), "{stretched}");
    let kit =
        stretched.lines().find(|line| line.contains("Cap bolt") && line.contains("B\u{2011}1")).unwrap();
    assert!(kit.contains("| 3 |") && !kit.contains("1,") && !kit.contains("2,"), "{kit}");
}
