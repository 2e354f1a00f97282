//! A torque that is set lower by a rule: the sheets have what is set, and beside it what was stated, by which rule and where
//! that stands.

use super::words_of;
use benchleaf::PacketOptions;
use benchleaf::model::Phase;

fn build(tighten: &str) -> String {
    let family = format!(
        "family e \"E\" {{ edition 1  origin \"invented for tests\"  invented }}
ask bolts \"Which bolts go in?\" = plain, plated
part sump \"Sump\" {{ held by sump_bolts  mass 1 kg  fate reuse }}
fasteners sump_bolts 4 \"Sump bolt\" {{ kind bolt  thread M8x1.25  drive 13 mm  length 20 mm  reusable  oil threads  tighten {tighten} }}
tool wrench \"Torque wrench\" {{ kind wrench  drive 3/8 in  range 5 N.m .. 24 N.m }}
tool socket \"Socket 13 mm\" {{ kind socket  size 13 mm }}
strip off \"Sump off\" {{ undo sump_bolts  take sump }}
"
    );
    let record = "job: \"1\"\nprocedure: e.rebuild\nanswers: {bolts: plated}\n";
    words_of(("e.rebuild", &family), record, &PacketOptions { all: true, ..PacketOptions::of(Phase::Build) })
}

/// 25 − 10 % is 22.5 N·m, which the wrench that ends at 24 reaches; 25 it would not. The share is that of US Army TM
/// 5-3805-291-23-2 for dry values on oiled threads (read).
#[test]
fn what_is_set_is_printed_with_what_was_stated_and_the_rule() {
    let words = build(
        "25 N.m from \"demo sheet 3\" less 10 % because \"oiled where it is meant dry\" from \"TM 5-3805-291-23-2\"",
    );
    assert!(words.contains("22.5 N·m (16.6 lbf·ft)"), "{words}");
    let told = "demo sheet 3: 25 N·m (18.4 lbf·ft); set 10 % lower, oiled where it is meant dry (TM 5-3805-291-23-2)";
    assert!(words.contains(told), "{words}");
    assert!(!words.contains("no torque wrench"), "{words}");
}

/// 20 % less of 25 is 20 where plated ones go in; the plain ones have their own value.
#[test]
fn a_rule_holds_for_the_case_that_it_stands_behind() {
    let words = build(
        "25 N.m when bolts = plated from \"demo sheet 3\" less 20 % because \"new plated\" from \"TM 5-3805-291-23-2\", else 24 N.m \
         from \"demo sheet 3\"",
    );
    assert!(
        words.contains("20 N·m (14.8 lbf·ft)") && words.contains("set 20 % lower, new plated"),
        "{words}"
    );
    assert!(!words.contains("24 N·m (18"), "{words}");
}

/// Both ends of a castle nut's range, rounded inward: 27 − 10 % is 24.3, 33 − 10 % is 29.7.
#[test]
fn a_range_is_lowered_at_both_ends() {
    let words = build("27 N.m .. 33 N.m from \"demo sheet 3\" less 10 % because \"oiled\" from \"invented\"");
    assert!(words.contains("24.3 to 29.7 N·m"), "{words}");
}
