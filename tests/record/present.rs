//! An engine that was bored or ground before: limits, bands, the next size and new parts count from what it is now. Invented
//! figures; each answer follows from adding the present size by hand.

use super::limits::{says, says_not, verdict_with};

const FAMILY: &str = "axis cyl = 1 .. 2
part block \"Block\" { fate by wear }
part piston[cyl] \"Piston\" { fate by skirt_look }
look skirt_look[cyl] \"Skirt\" { of piston[cyl]  results good, scored }
part crank \"Crank\" { fate by journal }
gauge bore[cyl] \"Bore\" { of block  unit mm  made 80.00 mm .. 80.02 mm from \"invented\"  worn 80.10 mm from \"invented\"
    instrument \"bore gauge\" resolution 0.001 mm  sizes 0.25 mm, 0.50 mm, 0.75 mm allowance 0.02 mm from \"invented\" }
gauge skirt[cyl] \"Skirt size\" { of piston[cyl]  unit mm  made 79.94 mm .. 79.96 mm from \"invented\"  worn 79.90 mm from \"invented\" }
gauge play[cyl] \"Play\" { of piston[cyl]  is bore[cyl] - skirt[cyl]  made 0.04 mm .. 0.08 mm from \"invented\"  worn 0.15 mm from \"invented\" }
gauge wear \"Wear\" { of block  is max(bore) - 80.00 mm  bands keep 0 mm .. 0.10 mm, bore 0.10 mm .. 0.70 mm, scrap above 0.70 mm from \"invented\" }
gauge journal \"Journal\" { of crank  unit mm  made 41.98 mm .. 42.00 mm from \"invented\"  worn 41.95 mm from \"invented\"
    instrument \"micrometer\" resolution 0.001 mm  sizes 0.25 mm, 0.50 mm allowance 0.02 mm from \"invented\" }
strip measure \"Measure\" { gauge bore, journal  look skirt_look }";

fn verdict(present: &str, bores: [&str; 2], journal: &str) -> String {
    let record = format!(
        "present: {{{present}}}\nreadings:\n  as_found:\n    bore[1]: {}\n    bore[2]: {}\n    journal: {journal}\nlooks:\n  as_found: \
         {{\"skirt_look[1]\": scored, \"skirt_look[2]\": good}}",
        bores[0], bores[1]
    );
    let (verdict, diagnostics) = verdict_with(FAMILY, &record);
    assert!(diagnostics.is_empty(), "{diagnostics:?}");
    verdict
}

#[test]
fn an_engine_bored_before_is_not_bored_again() {
    let bored = verdict("bore: 0.25 mm", ["80.260 mm", "80.270 mm"], "41.990 mm");
    says(&bored, "Present sizes\n  bore[1], bore[2]: 0.25 mm over\n");
    says(&bored, "block: goes back\n");
    says(
        &bored,
        "0.020 ± 0.0005 mm (counted: bore 1 from 0.25 mm over, bore 2 from 0.25 mm over): keep (0.00 to 0.10 mm, from invented)",
    );
    // A new piston goes into the bore as it is.
    says(
        &bored,
        "piston[1]: renew, size 0.25 mm\n      why: Block is 0.25 mm over already, so the new one in that size",
    );
    says_not(&bored, "Beyond their limits");
}

#[test]
fn the_next_size_counts_from_the_standard_one_and_limits_from_the_present() {
    let worn = verdict("bore: 0.25 mm", ["80.260 mm", "80.400 mm"], "41.990 mm");
    says(&worn, "bore 80.50 to 80.52 mm (+0.50 mm)");
    says(&worn, "bore[2], as found: 80.400 ± 0.0005 mm, beyond the worn limit 80.35 mm");
    says(&worn, "piston[1], piston[2]: renew, size 0.50 mm");
}

#[test]
fn a_journal_ground_before_goes_back() {
    let ground = verdict("journal: 0.25 mm", ["80.010 mm", "80.010 mm"], "41.740 mm");
    says(&ground, "crank: goes back");
    says(&ground, "journal: 0.25 mm under");
    let worn = verdict("journal: 0.25 mm", ["80.010 mm", "80.010 mm"], "41.690 mm");
    says(&worn, "beyond the worn limit 41.70 mm");
    says(&worn, "journal 41.48 to 41.50 mm (−0.50 mm)");
}

#[test]
fn mixed_sizes_are_told_and_a_sleeve_is_standard() {
    let mixed = verdict("bore: 0.25 mm, \"bore[2]\": 0 mm", ["80.260 mm", "80.010 mm"], "41.990 mm");
    says(&mixed, "bore[1]: 0.25 mm over; bore[2]: standard; mixed sizes");
    says(&mixed, "block: goes back");
    says(&mixed, "piston[1]: renew, size 0.25 mm");
    says_not(&mixed, "Beyond their limits");
}

#[test]
fn readings_that_tell_of_another_size_ask_for_it() {
    let unsaid = verdict("", ["80.260 mm", "80.010 mm"], "41.990 mm");
    says(
        &unsaid,
        "bore[1], as found: 80.260 ± 0.0005 mm, beyond the worn limit 80.10 mm; right for 0.25 mm over: if it is that already, `present: {bore: 0.25 mm}`",
    );
    let wrong = verdict("bore: 0.50 mm", ["80.260 mm", "80.510 mm"], "41.990 mm");
    says(
        &wrong,
        "bore[1], as found: 80.260 ± 0.0005 mm, on the other side of what it was made to (80.50 to 80.52 mm) than it wears",
    );
}

#[test]
fn rings_are_bought_for_the_pistons_that_stay() {
    let family =
        format!("{FAMILY}\npart rings[cyl] \"Rings\" {{ within piston  sized with piston  fate renew }}");
    let record = "present: {bore: 0.25 mm}
readings:
  as_found: {\"bore[1]\": 80.260 mm, \"bore[2]\": 80.260 mm, \"skirt[1]\": 80.200 mm, \"skirt[2]\": 80.190 mm, journal: 41.990 mm}
looks:
  as_found: {\"skirt_look[1]\": good, \"skirt_look[2]\": good}";
    let (verdict, diagnostics) = verdict_with(&family, record);
    assert!(diagnostics.is_empty(), "{diagnostics:?}");
    says(&verdict, "piston[1]: goes back");
    says(&verdict, "rings[1]: renew, size 0.25 mm\n      why: Piston 1 is 0.25 mm over already");
    // A skirt of 80.20 mm is as made for a bore of 0.25 mm over: 79.94 to 79.96 mm and 0.25 mm more.
    says_not(&verdict, "Beyond their limits");
}
