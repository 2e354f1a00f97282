//! An engine bored or ground before, on its sheets: limits of the size that each piece has at its step, old or new. Invented
//! figures; each follows from adding the size by hand.

use super::{made, words_of};
use benchleaf::PacketOptions;
use benchleaf::model::Phase;

const FAMILY: &str = "family small \"Small\" { edition 1  origin \"invented\"  invented }
axis cyl = 1 .. 2
part block \"Block\" { fate by wear }
part piston[cyl] \"Piston\" { fate by skirt_look  dry }
part crank \"Crankshaft\" { fate by journal }
gauge bore[cyl] \"Bore\" { of block  unit mm  made 80.00 mm .. 80.02 mm from \"invented\"  worn 80.10 mm from \"invented\"
    instrument \"bore gauge\" resolution 0.001 mm  sizes 0.25 mm, 0.50 mm allowance 0.02 mm from \"invented\" }
gauge skirt[cyl] \"Skirt\" { of piston[cyl]  unit mm  made 79.94 mm .. 79.96 mm from \"invented\"  worn 79.90 mm from \"invented\" }
gauge play[cyl] \"Play\" { of piston[cyl]  is bore[cyl] - skirt[cyl]  made 0.04 mm .. 0.08 mm from \"invented\"  worn 0.15 mm from \"invented\" }
gauge wear[cyl] \"Wear\" { of block  is bore[cyl] - 80.00 mm  bands keep 0 mm .. 0.10 mm, bore 0.10 mm .. 0.40 mm, resleeve above 0.40 mm from \"invented\" }
gauge journal \"Journal\" { of crank  unit mm  made 41.98 mm .. 42.00 mm from \"invented\"  worn 41.95 mm from \"invented\"
    instrument \"micrometer\" resolution 0.001 mm  sizes 0.25 mm, 0.50 mm allowance 0.02 mm from \"invented\" }
look skirt_look[cyl] \"Skirt\" { of piston[cyl]  results good, scored }
strip pistons_out \"Pistons out\" { each cyl together  take piston[cyl] }
strip crank_out \"Crankshaft out\" { take crank }
strip block_off \"Block off\" { take block }
survey measure \"Measure\" { gauge bore, journal, skirt  look skirt_look }
survey block_out \"Send the block\" { after measure  send block }
survey crank_away \"Send the crankshaft\" { after measure  send crank }
survey block_back \"Block back\" { receive block  gauge bore  accept block }
survey crank_back \"Crankshaft back\" { receive crank  gauge journal  accept crank }
build block_on \"Block on\" { fit block  gauge bore }
build crank_in \"Crankshaft in\" { fit crank  gauge journal }
build pistons_in \"Pistons in\" { each cyl together  fit piston[cyl]  gauge skirt[cyl] }
";

fn sheets(phase: Phase, bore: &str, journal: &str, rest: &str) -> String {
    let record = format!(
        "job: \"1\"\nprocedure: small.rebuild\norigin: invented\npresent: {{bore: 0.25 mm, journal: 0.25 mm}}\nreadings:\n  as_found: \
         {{\"bore[1]\": 80.260 mm, \"bore[2]\": {bore}, journal: {journal}}}\nlooks:\n  as_found: {{\"skirt_look[1]\": good, \
         \"skirt_look[2]\": good}}\n{rest}"
    );
    let words = words_of(("small.rebuild", FAMILY), &record, &PacketOptions::of(phase));
    words.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn says(sheets: &str, words: &str) {
    assert!(sheets.contains(words), "`{words}` is not in\n{sheets}");
}

fn says_not(sheets: &str, words: &str) {
    assert!(!sheets.contains(words), "`{words}` is in\n{sheets}");
}

#[test]
fn a_new_piston_for_a_larger_bore_has_no_limits_of_the_bore_that_was() {
    let build = sheets(Phase::Build, "80.400 mm", "41.740 mm", "");
    says(&build, "Fit the 2 new pistons, size 0.50 mm.");
    says(&build, "of the standard size; fitted: 0.50 mm");
    says_not(&build, "as made 80.19");
    says(&build, "wanted 80.50 to 80.52 mm");
    says(
        &build,
        "Bore: 0.25 mm over. Limits count from there until it is machined to 0.50 mm over; new parts are for that size.",
    );
    says(&build, "Bore: 0.25 mm over, 80.25 to 80.27 mm, to be machined to 0.50 mm over");
    // The crankshaft goes back as it is.
    says(&build, "0.25 mm under, as made 41.73 to 41.75 mm");
    says(&build, "Journal: 0.25 mm under. Limits and new parts count from there.");
}

#[test]
fn what_is_new_is_read_against_the_standard_limits() {
    let renewed = "settled: {block: {renew: \"cracked\", by: HK, date: 2026-03-05}, crank: {renew: \"bent\", by: HK, date: 2026-03-05}}\n";
    let build = sheets(Phase::Build, "80.260 mm", "41.740 mm", renewed);
    says(&build, "as made 80.00 to 80.02 mm");
    says(&build, "as made 41.98 to 42.00 mm");
    says(&build, "as made 79.94 to 79.96 mm");
    says_not(&build, "80.25 to 80.27 mm");
    says_not(&build, "41.73 to 41.75 mm");
    says_not(&build, "Not standard on this");
    says(
        &build,
        "Bore: 0.25 mm over. Limits count from there until it is renewed; the new one is taken for standard.",
    );
    // While it is measured it is what it is.
    says(
        &sheets(Phase::Survey, "80.260 mm", "41.740 mm", renewed),
        "0.25 mm over, as made 80.25 to 80.27 mm",
    );
}

#[test]
fn a_sleeve_is_finished_to_the_size_of_the_others() {
    let survey = sheets(Phase::Survey, "80.800 mm", "41.740 mm", "");
    says(&survey, "Resleeve. ");
    says(&survey, "Bore, mm: 80.25 to 80.27 mm (3.15945 to 3.16023 in), 0.25 mm over");
    says_not(&survey, "0.50 mm over");
    // What is measured when it is back, fitted and run is the same size, not what wears.
    for phase in [Phase::Survey, Phase::Build] {
        let sheets = sheets(phase, "80.800 mm", "41.740 mm", "");
        says(&sheets, "wanted 80.25 to 80.27 mm (3.15945 to 3.16023 in), 0.25 mm over");
    }
    says_not(&sheets(Phase::Build, "80.800 mm", "41.740 mm", ""), "worn limit 80.35 mm");
}

const HEADS: &str = "family heads \"Heads\" { edition 1  origin \"invented\"  invented }
axis cyl = 1 .. 2
part head[cyl] \"Head\" { fate by guide[cyl] }
gauge guide[cyl] \"Guide\" { of head[cyl]  unit mm  made 80.00 mm .. 80.02 mm from \"invented\"  worn 80.10 mm from \"invented\"
    instrument \"bore gauge\" resolution 0.001 mm  sizes 0.25 mm, 0.50 mm allowance 0.02 mm from \"invented\" }
strip heads_off \"Heads off\" { each cyl together  take head[cyl] }
survey measure \"Measure\" { gauge guide }
survey heads_out \"Send\" { after measure  each cyl together  send head[cyl] }
survey heads_back \"Back\" { each cyl together  receive head[cyl]  gauge guide[cyl]  accept head[cyl] }
build heads_on \"Heads on\" { each cyl together  fit head[cyl]  gauge guide[cyl] }
";

#[test]
fn of_pieces_alike_only_the_one_that_is_machined_is_wanted_in_another_size() {
    let record = "job: \"1\"\nprocedure: heads.rebuild\norigin: invented\nreadings:\n  as_found: {\"guide[1]\": 80.010 mm, \
                  \"guide[2]\": 80.180 mm}\n";
    let words = words_of(("heads.rebuild", HEADS), record, &PacketOptions::of(Phase::Build));
    let build = words.split_whitespace().collect::<Vec<_>>().join(" ");
    says(
        &build,
        "1: as made 80.00 to 80.02 mm (3.14961 to 3.15039 in), worn limit 80.10 mm (3.1535 in); 2: wanted 80.25 to 80.27 mm",
    );
}

#[test]
fn what_was_machined_and_accepted_is_not_to_be_machined_again() {
    // The barrel on the left is back and accepted, the one on the right is standard and stays.
    let job = "procedures/cawdale2.ready.job.yaml";
    for phase in [Phase::Build, Phase::Start] {
        let words = made("procedures/cawdale2.rebuild", Some(job), phase).words;
        says(&words, "Bore left: 0.25 mm over; Bore right: standard; mixed sizes");
        says_not(&words, "to be machined to");
    }
}
