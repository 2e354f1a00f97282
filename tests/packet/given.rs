//! Acts that hang on an answer: dropped with their hazards under other answers, printed with their condition while it is
//! open, and held unless their own step finds it out.

use benchleaf::PacketOptions;
use benchleaf::model::Phase;

use super::words_of;

const PUMP: &str = "family pump \"Pump\" { edition 1  origin \"invented\"  invented }
ask seal_kind \"Which seal is fitted?\" = lip, face
tool jaw \"Jaw puller\" { kind puller }
hazard dust warning gasket_dust { hazard \"The old seal may hold asbestos.\"  avoid \"Wet it.\" }
part cover \"Cover\"
part lip \"Lip seal\" { under cover  hazard dust off }
part shim \"Shim\" { under cover }
look face \"Face of the pump\" { results even, stepped  taken in place }
strip open \"Open the pump\" {
    take cover
    take lip when seal_kind = lip \"Flat.\"
    look face
    take shim when face = stepped
    do \"Mark the high spot.\" when face = stepped
}
";

fn strip(record: &str) -> String {
    words_of(("pump.rebuild", PUMP), record, &PacketOptions::of(Phase::Strip))
}

fn record(more: &str) -> String {
    format!("job: \"P-1\"\nprocedure: pump.rebuild\n{more}")
}

#[test]
fn under_other_answers_there_is_neither_the_act_nor_its_hazard() {
    let words = strip(&record("answers: {seal_kind: face}\n"));
    assert!(words.contains("Remove the cover") && !words.contains("lip seal"), "{words}");
    assert!(!words.contains("asbestos"), "{words}");
    let words = strip(&record("answers: {seal_kind: lip}\n"));
    assert!(words.contains("Remove the lip seal. Flat.") && words.contains("asbestos"), "{words}");
}

#[test]
fn an_open_answer_is_printed_before_the_act_and_holds_it() {
    let words = strip(&record(""));
    assert!(
        words.contains("Only if \u{201c}Which seal is fitted? lip\u{201d}: Remove the lip seal"),
        "{words}"
    );
    assert!(words.contains("an answer: Which seal is fitted?"), "{words}");
}

#[test]
fn what_the_step_itself_finds_out_holds_nothing() {
    let words = strip(&record("answers: {seal_kind: face}\n"));
    assert!(words.contains("Only if \u{201c}Face of the pump: stepped\u{201d}: Remove the shim"), "{words}");
    assert!(!words.contains("a look: face of the pump"), "{words}");
    let words = strip(&record("answers: {seal_kind: face}\nlooks: {as_found: {face: even}}\n"));
    assert!(!words.contains("Remove the shim") && !words.contains("Mark the high spot"), "{words}");
}
