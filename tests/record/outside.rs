//! Sent, back and accepted are one state, whether a step says it or the record.

use benchleaf::decide::decide;
use benchleaf::record;
use benchleaf::source::Sources;

use crate::tests::network::connected;

const FAMILY: &str = "family e \"E\" { origin \"invented for tests\" }
part head \"Head\" { held by bolts  fate send \"skim\" }
fasteners bolts 4 \"Bolt\" { thread M8x1.25  reusable  tighten by feel }
strip head_off \"Take the head off\" { undo bolts  take head }
survey send_head \"Send it\" { send head }
survey head_back \"Take it back\" { receive head  accept head }
";

/// What the record comes to: the days of the head, steps done, and what holds it.
fn state(record: &str) -> (Vec<String>, Vec<String>, usize) {
    let (procedure, network, ..) = connected(FAMILY);
    let text = format!("job: \"1\"\nprocedure: e.rebuild\n{record}");
    let file = Sources::new().add("job.yaml", text.clone());
    let job = record::bind(&record::read(file, &text).value, &procedure).value;
    let decisions = decide(&procedure, &network.structure, &job).value;
    let days = job.sent.values().flat_map(|sent| [sent.sent, sent.back, sent.accepted]).flatten();
    let mut done: Vec<String> = decisions.done.iter().map(|key| key.id(&procedure)).collect();
    done.sort();
    let holds = decisions.fates.values().map(|decision| decision.holds.len()).sum();
    (days.map(|day| day.to_string()).collect(), done, holds)
}

#[test]
fn a_step_done_and_an_entry_of_the_record_say_the_same() {
    let said = |days: &[&str], done: &[&str], holds| {
        let words = |list: &[&str]| list.iter().map(|word| (*word).to_owned()).collect::<Vec<String>>();
        (words(days), words(done), holds)
    };
    assert_eq!(state(""), said(&[], &[], 1));
    let by_step = state("done: {send_head: {by: HK, date: 2026-03-05}}\n");
    assert_eq!(by_step, said(&["2026-03-05"], &["send_head"], 1));
    assert_eq!(state("sent: {head: {sent: 2026-03-05}}\n"), by_step);
    // Only what has all its days is done.
    let back = state("sent: {head: {sent: 2026-03-05, back: 2026-03-09}}\n");
    assert_eq!(back, said(&["2026-03-05", "2026-03-09"], &["send_head"], 1));
    let all = ["2026-03-05", "2026-03-09", "2026-03-10"];
    let accepted = state("sent: {head: {sent: 2026-03-05, back: 2026-03-09, accepted: 2026-03-10}}\n");
    assert_eq!(accepted, said(&all, &["head_back", "send_head"], 0));
    // The record's own day goes before that of the step.
    let both =
        "done: {send_head: {by: HK, date: 2026-03-06}}\nsent: {head: {to: \"Works\", sent: 2026-03-05}}\n";
    assert_eq!(state(both).0, ["2026-03-05"]);
}
