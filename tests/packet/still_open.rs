//! Readings that a step passed over are told when it is marked done, and printed until they are taken.

use benchleaf::PacketOptions;
use benchleaf::model::Phase;

use super::words_of;
use crate::cli::{Scratch, benchleaf};
use crate::random_job::ENGINE;

const HALF: &str = "job: \"1\"
procedure: twin.rebuild
readings: {as_found: {\"bore[1]\": 80.015 mm, \"skirt[1]\": 79.95 mm, flatness: 0.02 mm}}
looks: {as_found: {\"skirt_look[1]\": good}}
done:
  head_off: {by: HK, date: 2026-03-05}
  pistons_out: {by: HK, date: 2026-03-05}
  block_down: {by: HK, date: 2026-03-05}
";

#[test]
fn a_step_that_is_marked_done_says_what_of_it_is_still_empty() {
    let scratch = Scratch::new("still-empty");
    scratch.file("twin.rebuild", ENGINE);
    let job = scratch.file("job.yaml", HALF);
    let done = benchleaf(&["record", &job, "done", "measure", "--by", "HK", "--date", "2026-03-05"]);
    let said = String::from_utf8_lossy(&done.stdout).into_owned();
    assert!(said.contains("still empty there: Bore 2, Skirt 2, Skirt 2\n"), "{said}");
}

#[test]
fn what_was_passed_over_as_found_is_not_what_comes_back_later() {
    let record = format!("{HALF}  measure: {{by: HK, date: 2026-03-05}}\n");
    let words = words_of(("twin.rebuild", ENGINE), &record, &PacketOptions::of(Phase::Survey));
    let (_, open) = words.split_once("## Still to be taken").unwrap();
    // The bore is read again when the block comes back, but that is another reading.
    assert!(open.contains("| Bore 2 | as found: ") && open.contains("| Skirt 2 | as found: "), "{words}");
    assert!(words.contains("2 readings still to be taken at steps that are done"), "{words}");
}
