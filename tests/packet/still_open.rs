//! Readings that a step passed over are told when it is marked done, and printed until they are taken.

use benchleaf::model::Phase;
use benchleaf::{Only, PacketOptions};

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

/// The block was bored, came back, and is measured once more in a step that receives nothing.
const BORED: &str = "job: \"1\"
procedure: twin.rebuild
readings:
  as_found: {\"bore[1]\": 80.160 mm, \"bore[2]\": 80.150 mm, \"skirt[1]\": 79.95 mm, \"skirt[2]\": 79.95 mm, flatness: 0.02 mm}
  as_returned: {\"bore[1]\": 80.260 mm, \"bore[2]\": 80.255 mm}
looks: {as_found: {\"skirt_look[1]\": good, \"skirt_look[2]\": good}, as_returned: {honed: good}}
done:
  head_off: {by: HK, date: 2026-03-05}
  pistons_out: {by: HK, date: 2026-03-05}
  block_down: {by: HK, date: 2026-03-05}
  measure: {by: HK, date: 2026-03-05}
  send_block: {by: HK, date: 2026-03-06}
  block_back: {by: HK, date: 2026-03-20}
";

fn twin_measured_again() -> String {
    format!(
        "{ENGINE}look honed \"Honing\" {{ of block  results good, coarse }}
survey block_again \"Measure the block again\" {{ when wear = bore  after block_back  gauge bore  look honed }}\n"
    )
}

#[test]
fn what_is_read_after_a_part_came_back_is_as_it_came_back_wherever_that_is_asked() {
    let scratch = Scratch::new("read-as-returned");
    scratch.file("twin.rebuild", twin_measured_again());
    let job = scratch.file("job.yaml", BORED);
    let done = |step: &str| {
        let done = benchleaf(&["record", &job, "done", step, "--by", "HK", "--date", "2026-03-21"]);
        let said = [done.stdout, done.stderr].concat();
        String::from_utf8_lossy(&said).into_owned()
    };
    let said = done("block_again");
    assert!(said.contains("block_again") && !said.contains("still empty"), "{said}");
    // Without those readings the blanks are told, though the same gauge was read as found.
    let found_only = BORED
        .replace(", as_returned: {honed: good}", "")
        .replace("as_returned: {\"bore[1]\": 80.260 mm, \"bore[2]\": 80.255 mm}", "");
    scratch.file("job.yaml", &found_only);
    let said = done("block_again");
    assert!(said.contains("still empty there: Bore 1, Bore 2, Honing"), "{said}");
    // On paper the blanks of that step are filled with what belongs to it.
    let record = format!("{BORED}  block_again: {{by: HK, date: 2026-03-21}}\n");
    let only = Some(Only::Step(4));
    let options = PacketOptions { all: true, only, ..PacketOptions::of(Phase::Survey) };
    let again = words_of(("twin.rebuild", &twin_measured_again()), &record, &options);
    assert!(again.contains("80.26") && again.contains("80.255") && !again.contains("80.16"), "{again}");
}
