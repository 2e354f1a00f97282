//! What was tried and is beyond its limit, or was never read: `next`, `check` and the handover say so, though every step is done.

use std::fs;

use super::{Scratch, benchleaf, stdout};

const RAM: &str = "family ram \"Ram\" { origin \"invented for tests\" }
part valve \"Relief valve\" { fate reuse }
gauge opens \"Relief valve opens at\" { of valve  unit bar  made 180 bar .. 190 bar from \"invented for tests\"  worn 200 bar from \"invented for tests\" }
strip valve_off \"Valve off\" { take valve }
start try \"Try it\" { gauge opens }
";

/// What `next` and the handover say of a job on which everything is done, with these lines of the record besides.
fn told(more: &str) -> (String, String) {
    let scratch = Scratch::new("going-out");
    scratch.file("ram.rebuild", RAM);
    let done = "done:\n  valve_off: {by: HK, date: 2026-03-02}\n  fit:valve: {by: HK, date: 2026-03-03}\n  \
                try: {by: HK, date: 2026-03-04}\n";
    let record = scratch.file("ram.job.yaml", format!("job: \"R-1\"\nprocedure: ram.rebuild\n{done}{more}"));
    let next = stdout(&benchleaf(&["next", &record, "--on", "2026-03-05"]));
    let page = scratch.path() + "/out.html";
    let packet = benchleaf(&["packet", &record, "--phase", "start", "--all", "-o", &page]);
    assert!(packet.status.success());
    (next, fs::read_to_string(page).unwrap())
}

#[test]
fn what_is_beyond_its_limit_is_not_handed_over_before_a_person_lets_it_pass() {
    const HELD: &str = "Not to be handed over before";
    let read = "readings:\n  as_built: {opens: 235 bar}\n";
    let (next, handover) = told(read);
    assert!(
        next.contains("every step is done") && next.contains("\nBeyond its limit, and nobody lets it pass\n"),
        "{next}"
    );
    assert!(next.contains("opens, as built: 235") && !next.contains("Never read"), "{next}");
    assert!(handover.contains(HELD) && handover.contains("beyond the worn limit 200"), "{handover}");
    let passed =
        format!("{read}settled:\n  opens: {{good: \"the owner wants it\", by: HK, date: 2026-03-05}}\n");
    let (next, handover) = told(&passed);
    assert!(!next.contains("Beyond its limit") && !handover.contains(HELD), "{next}");
    let (next, handover) = told("readings:\n  as_built: {opens: 185 bar}\n");
    assert!(!next.contains("Beyond its limit") && !next.contains("Never read"), "{next}");
    assert!(!handover.contains(HELD));
}

#[test]
fn what_the_start_should_have_read_is_told_when_every_step_is_done() {
    let (next, _) = told("");
    assert!(next.contains("\nNever read, though its step is done\n  opens\n"), "{next}");
}
