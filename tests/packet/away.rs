//! What was sent out, came back and was accepted is one state, whoever says so: a casting that never went out isn't back, and the
//! step that says so isn't done.

use crate::cli::{Scratch, benchleaf};
use crate::random_job::ENGINE;

const MEASURED: &str = "job: \"1\"
procedure: twin.rebuild
readings:
  as_found: {\"bore[1]\": 80.015 mm, \"bore[2]\": 80.015 mm, \"skirt[1]\": 79.95 mm, \"skirt[2]\": 79.95 mm, flatness: 0.12 mm}
looks: {as_found: {\"skirt_look[1]\": good, \"skirt_look[2]\": good}}
";
const DONE: &str = "done:
  head_off: {by: HK, date: 2026-03-05}
  pistons_out: {by: HK, date: 2026-03-05}
  block_down: {by: HK, date: 2026-03-05}
  measure: {by: HK, date: 2026-03-05}
";

/// What `check`, `verdict` and `next` say of the twin's record with these lines behind its measured state.
fn said(scratch: &Scratch, lines: &str) -> [String; 3] {
    scratch.file("twin.rebuild", ENGINE);
    let job = scratch.file("job.yaml", format!("{MEASURED}{DONE}{lines}"));
    ["check", "verdict", "next"].map(|command| {
        let output = benchleaf(&[command, &job]);
        String::from_utf8_lossy(&output.stdout).into_owned() + &String::from_utf8_lossy(&output.stderr)
    })
}

#[test]
fn what_never_went_out_is_not_back() {
    let scratch = Scratch::new("away");
    let back = "  head_back: {by: HK, date: 2026-03-16";
    let [check, verdict, next] = said(&scratch, &format!("{back}, out_of_order: it stood in the corner}}\n"));
    assert!(check.contains("`head` came back, and nothing says when it was sent"), "{check}");
    assert!(!verdict.contains("back 2026-03-16") && !verdict.contains("accepted"), "{verdict}");
    assert!(verdict.contains("waits: not sent out"), "{verdict}");
    assert!(next.contains("2 Send the head out"), "{next}");

    // Whoever sends it no more has nothing to take back.
    let never = "not_done: {send_head: {because: no time, by: HK, date: 2026-03-05}}\n";
    let [check, verdict, next] = said(&scratch, &format!("{back}}}\n{never}"));
    assert!(check.contains("`head` came back, and nothing says when it was sent"), "{check}");
    assert!(!verdict.contains("accepted"), "{verdict}");
    assert!(next.contains("Head back: for the head: not sent out yet"), "{next}");

    // It counts from the day that it went.
    let sent = "  send_head: {by: HK, date: 2026-03-20}\n";
    let [check, verdict, next] = said(&scratch, &format!("{sent}{back}}}\n"));
    assert!(check.contains("`head` came back on 2026-03-16, and was sent only on 2026-03-20"), "{check}");
    assert!(verdict.contains("sent 2026-03-20") && !verdict.contains("back 2026"), "{verdict}");
    assert!(next.contains("Head back"), "{next}");

    let sent = "  send_head: {by: HK, date: 2026-03-06}\n";
    let [check, verdict, _] = said(&scratch, &format!("{sent}{back}}}\n"));
    assert!(check.contains("no warnings"), "{check}");
    assert!(verdict.contains("sent 2026-03-06; back 2026-03-16; accepted 2026-03-16"), "{verdict}");

    // What the record says of it and what the step says are the same.
    let entry = "sent: {head: {to: Works, sent: 2026-03-06}}\n";
    let [check, verdict, _] = said(&scratch, &format!("{back}}}\n{entry}"));
    assert!(check.contains("no warnings"), "{check}");
    assert!(verdict.contains("accepted 2026-03-16"), "{verdict}");
    let [check, verdict, _] =
        said(&scratch, "sent: {head: {sent: 2026-03-06, accepted: 2026-03-16, by: HK}}\n");
    assert!(check.contains("`head` was accepted, and nothing says when it came back"), "{check}");
    assert!(!verdict.contains("accepted 2026"), "{verdict}");
}

#[test]
fn what_did_not_come_was_not_compared() {
    let scratch = Scratch::new("not-come");
    let [check, verdict, _] =
        said(&scratch, "orders: {gasket: {ordered: 2026-03-05, compared: 2026-03-07}}\n");
    assert!(check.contains("`gasket` was compared, and nothing says when it came"), "{check}");
    assert!(verdict.contains("ordered 2026-03-05") && !verdict.contains("compared 2026"), "{verdict}");
}

#[test]
fn what_was_out_for_work_of_this_job_alone_says_at_its_step_that_it_was_accepted() {
    let out = |accepted: &str| {
        let record = format!(
            "{MEASURED}{DONE}extra: {{work: {{block: {{what: weld the ear}}}}}}
sent: {{block: {{to: Works, sent: 2026-03-06, back: 2026-03-19{accepted}}}}}\n"
        );
        super::words_of(
            ("twin.rebuild", ENGINE),
            &record,
            &benchleaf::PacketOptions::of(benchleaf::model::Phase::Build),
        )
    };
    let accepted = out(", accepted: 2026-03-20");
    assert!(accepted.contains("Accepted after the goods-back check, 2026-03-20."), "{accepted}");
    let not_yet = out("");
    assert!(not_yet.contains("Only if it was accepted after the goods-back check."), "{not_yet}");
    assert!(not_yet.contains("back, but not accepted yet"), "{not_yet}");
}
