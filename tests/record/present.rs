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
    let (verdict, complaints) = asking(present, bores, journal);
    assert!(complaints.is_empty(), "{complaints:?}");
    verdict
}

/// The same with what is complained of.
fn asking(present: &str, bores: [&str; 2], journal: &str) -> (String, Vec<String>) {
    let record = format!(
        "present: {{{present}}}\nreadings:\n  as_found:\n    bore[1]: {}\n    bore[2]: {}\n    journal: {journal}\nlooks:\n  as_found: \
         {{\"skirt_look[1]\": scored, \"skirt_look[2]\": good}}",
        bores[0], bores[1]
    );
    let (verdict, diagnostics) = verdict_with(FAMILY, &record);
    (verdict, diagnostics.iter().map(|one| one.message.clone()).collect())
}

#[test]
fn a_worn_engine_is_not_asked_whether_it_was_bored() {
    // Nearer to 0.25 mm over than to standard, and smaller than any bore of that size is made: it can only be worn.
    let (worn, asked) = asking("", ["80.240 mm", "80.010 mm"], "41.990 mm");
    assert!(asked.is_empty(), "{asked:?}");
    says_not(&worn, "already?");
    // Bored and worn since: the largest size on whose side it lies.
    let (_, asked) = asking("", ["80.560 mm", "80.530 mm"], "41.740 mm");
    assert_eq!(
        asked,
        [
            "`bore` may be 0.50 mm over already, and nobody has said so",
            "`journal` may be 0.25 mm under already, and nobody has said so"
        ]
    );
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
    let (unsaid, asked) = asking("", ["80.260 mm", "80.010 mm"], "41.990 mm");
    says(
        &unsaid,
        "bore[1], as found: 80.260 ± 0.0005 mm, beyond the worn limit 80.10 mm; or is it 0.25 mm over already?",
    );
    assert_eq!(asked, ["`bore[1]` may be 0.25 mm over already, and nobody has said so"]);
    let question =
        "is `bore` 0.25 mm over already? `present: {bore: 0.25 mm}` if it is, `present: {bore: 0 mm}` if not";
    // It holds the block, and what is bought in the size of its bores.
    says(&unsaid, "block: machine");
    assert!(unsaid.matches(question).count() >= 3, "{unsaid}");
    // The word of a person, either way, ends the question.
    let said = verdict("\"bore[1]\": 0 mm", ["80.260 mm", "80.010 mm"], "41.990 mm");
    says_not(&said, "already?");
    says(&said, "bore 80.50 to 80.52 mm (+0.50 mm)");
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

const RINGS: &str = "\npart rings[cyl] \"Rings\" { within piston  sized with piston  fate renew }\n";

#[test]
fn everything_new_is_of_the_size_that_is_machined_to_and_not_of_the_one_that_was() {
    let record = "present: {bore: 0.25 mm}
readings:
  as_found: {\"bore[1]\": 80.260 mm, \"bore[2]\": 80.400 mm, journal: 41.990 mm}
looks:
  as_found: {\"skirt_look[1]\": good, \"skirt_look[2]\": good}";
    let (verdict, diagnostics) = verdict_with(&format!("{FAMILY}{RINGS}"), record);
    assert!(diagnostics.is_empty(), "{diagnostics:?}");
    says(&verdict, "bore 80.50 to 80.52 mm (+0.50 mm)");
    says(&verdict, "piston[1], piston[2]: renew, size 0.50 mm");
    says(&verdict, "2 × Rings (rings); size 0.50 mm");
    says_not(&verdict, "size 0.25 mm");
}

#[test]
fn a_new_part_is_judged_as_the_standard_one_that_it_is() {
    let record = "present: {bore: 0.25 mm, journal: 0.25 mm}
readings:
  as_found: {\"bore[1]\": 80.260 mm, \"bore[2]\": 80.260 mm, \"skirt[1]\": 80.200 mm, \"skirt[2]\": 80.200 mm, journal: 41.740 mm}
  as_built: {\"bore[1]\": 80.010 mm, \"bore[2]\": 80.010 mm, \"skirt[1]\": 79.950 mm, \"skirt[2]\": 79.950 mm, journal: 41.990 mm}
looks:
  as_found: {\"skirt_look[1]\": good, \"skirt_look[2]\": good}
settled: {block: {renew: \"cracked\", by: HK, date: 2026-03-05}, crank: {renew: \"bent\", by: HK, date: 2026-03-05}}";
    let (verdict, diagnostics) = verdict_with(&format!("{FAMILY}{RINGS}"), record);
    assert!(diagnostics.is_empty(), "{diagnostics:?}");
    // The old pistons are too large for a bore of the standard size, be they as good as they may.
    says(
        &verdict,
        "piston[1], piston[2]: renew\n      why: Block is renewed, in the standard size, and the old one fits what was 0.25 mm over",
    );
    says(&verdict, "rings[1], rings[2]: renew\n");
    says_not(&verdict, "Beyond their limits");
    says_not(&verdict, "size 0.25 mm");
    // What was read on the new ones is judged by their own limits.
    let worn = record.replace("41.990", "41.940").replace("80.010", "80.110");
    let (verdict, _) = verdict_with(&format!("{FAMILY}{RINGS}"), &worn);
    says(&verdict, "bore[1], as built: 80.110 ± 0.0005 mm, beyond the worn limit 80.10 mm");
    says(&verdict, "journal, as built: 41.940 ± 0.0005 mm, beyond the worn limit 41.95 mm");
}

const LARGEST: &str = "\ngauge largest \"Largest bore\" { of block  is max(bore)  made 80.00 mm .. 80.02 mm from \"invented\"  worn 80.10 mm from \
                       \"invented\" }\ngauge apart \"Bores apart\" { of block  is max(bore) - min(bore)  worn 0.05 mm from \"invented\" }\ngauge swept \
                       \"Swept by one\" { of block  is max(bore) * max(bore) * 90.0 mm * 0.7854  bands good 430 cm3 .. 460 cm3, scrap above 460 cm3 from \
                       \"invented\" }\n";

fn largest(present: &str, bores: [&str; 2]) -> String {
    let record = format!(
        "present: {{{present}}}\nreadings:\n  as_found: {{\"bore[1]\": {}, \"bore[2]\": {}}}",
        bores[0], bores[1]
    );
    verdict_with(&format!("{FAMILY}{LARGEST}"), &record).0
}

#[test]
fn what_is_computed_from_sizes_is_judged_by_those_that_they_are_now() {
    let bored = largest("bore: 0.25 mm", ["80.260 mm", "80.270 mm"]);
    says_not(&bored, "Beyond their limits");
    let worn = largest("bore: 0.25 mm", ["80.260 mm", "80.360 mm"]);
    says(&worn, "largest, as found: 80.360 ± 0.0005 mm at bore 2, beyond the worn limit 80.35 mm");
    // Of unlike sizes, each counts from its own.
    let mixed = largest("\"bore[1]\": 0.25 mm", ["80.260 mm", "80.015 mm"]);
    says_not(&mixed, "Beyond their limits");
    let mixed = largest("\"bore[1]\": 0.25 mm", ["80.260 mm", "80.120 mm"]);
    says(&mixed, "largest, as found: 80.120 ± 0.0005 mm at bore 2, beyond the worn limit 80.10 mm");
    says(&mixed, "apart, as found: 0.110 ± 0.001 mm");
}

#[test]
fn a_volume_is_of_the_bore_as_it_is() {
    // π/4 · 81² · 90 mm³, by hand; of the standard bore, 0.75 less, it would be 455.2 cm³, and good.
    let (verdict, _) = verdict_with(
        &format!("{FAMILY}{LARGEST}part head \"Head\" {{ fate by swept }}"),
        "present: {bore: 0.75 mm}\nreadings:\n  as_found: {\"bore[1]\": 81.000 mm, \"bore[2]\": 81.000 mm}",
    );
    says(&verdict, "head: renew");
    says(&verdict, "463.77 ± 0.007 cm³");
}

#[test]
fn wear_on_one_side_counts_from_the_size_that_it_was_worn_on() {
    let family = FAMILY.replace("allowance 0.02 mm from", "allowance 0.02 mm on old centre from");
    let readings =
        "readings:\n  as_found: {\"bore[1]\": 80.260 mm, \"bore[2]\": 80.360 mm, journal: 41.690 mm}\n";
    let (bored, _) =
        verdict_with(&family, &format!("present: {{bore: 0.25 mm, journal: 0.25 mm}}\n{readings}"));
    // 80.25 + 2 × 0.11 + 0.02 = 80.49, which 80.50 cleans up; from 80.00 it would be 80.74.
    says(&bored, "bore 80.50 to 80.52 mm (+0.50 mm)");
    says(&bored, "80.50 mm ≥ 80.25 mm + 2 × (largest bore 80.360 mm − 80.25 mm) + 0.02 mm to clean up");
    says(&bored, "journal 41.48 to 41.50 mm (−0.50 mm)");
    says(&bored, "41.50 mm ≤ 41.75 mm − 2 × (41.75 mm − smallest journal 41.690 mm) − 0.02 mm to clean up");
    // The furthest gone of unlike sizes isn't the largest: 80.00 + 2 × 0.20 + 0.02 = 80.42 beside 80.25 + 2 × 0.01 + 0.02.
    let readings = "readings:\n  as_found: {\"bore[1]\": 80.260 mm, \"bore[2]\": 80.200 mm}\n";
    let (mixed, _) = verdict_with(&family, &format!("present: {{\"bore[1]\": 0.25 mm}}\n{readings}"));
    says(&mixed, "80.50 mm ≥ 80.00 mm + 2 × (largest bore 80.200 mm − 80.00 mm) + 0.02 mm to clean up");
}

#[test]
fn what_is_plausible_moves_with_the_size() {
    let family = FAMILY.replace("worn 80.10 mm from", "plausible 79.80 mm .. 80.20 mm  worn 80.10 mm from");
    let said = |present: &str, occasion: &str, bore: &str| {
        let record = format!("present: {{{present}}}\nreadings:\n  {occasion}: {{\"bore[1]\": {bore}}}");
        verdict_with(&family, &record).1.len()
    };
    assert_eq!(said("", "as_found", "80.26 mm"), 1);
    assert_eq!(said("bore: 0.25 mm", "as_found", "80.26 mm"), 0);
    assert_eq!(said("bore: 0.25 mm", "as_found", "80.46 mm"), 1);
    // After machining it may be of any of its sizes.
    assert_eq!(said("", "as_returned", "80.76 mm"), 0);
    assert_eq!(said("", "as_returned", "80.96 mm"), 1);
}

#[test]
fn a_sleeve_asks_for_no_size_of_its_own() {
    let each = "\ngauge gone[cyl] \"Gone\" { of block  is bore[cyl] - 80.00 mm  bands keep 0 mm .. 0.10 mm, bore 0.10 mm .. 0.70 mm, resleeve above \
                0.70 mm from \"invented\" }\n";
    let family = format!("{FAMILY}{each}").replace("fate by wear", "fate by gone");
    let verdict = |bores: [&str; 2]| {
        let record =
            format!("readings:\n  as_found: {{\"bore[1]\": {}, \"bore[2]\": {}}}", bores[0], bores[1]);
        verdict_with(&family, &record).0
    };
    let sleeved = verdict(["80.010 mm", "80.900 mm"]);
    says(&sleeved, "block: machine: resleeve\n");
    says(&sleeved, "Block (block): resleeve; price unknown");
    // Where another is bored, the sleeve is finished with it.
    let both = verdict(["80.200 mm", "80.900 mm"]);
    says(&both, "block: machine: bore, resleeve: bore 80.25 to 80.27 mm (+0.25 mm)\n");
    says(&both, "80.25 mm ≥ largest bore 80.200 mm + 0.02 mm to clean up");
}

#[test]
fn a_size_in_other_units_is_a_limit_to_the_side_that_it_allows() {
    let family = "part block \"Block\" { fate by bore }\ngauge bore \"Bore\" { of block  unit in  made 3.1500 in .. 3.1508 in from \"invented\"  worn 3.1540 \
                  in from \"invented\"  instrument \"bore gauge\" resolution 0.0001 in  sizes 0.25 mm, 0.50 mm allowance 0.001 in from \
                  \"invented\" }\nstrip measure \"Measure\" { gauge bore }";
    // 0.25 mm is 0.00984252 in: 3.15984252 up to 3.15985, 3.16064252 down to 3.16064, and 3.16384252 down to 3.16384.
    let (verdict, _) =
        verdict_with(family, "present: {bore: 0.25 mm}\nreadings:\n  as_found: {bore: 3.1650 in}");
    says(&verdict, "beyond the worn limit 3.16384 in");
    // 0.50 mm is 0.01968504 in.
    says(&verdict, "bore 3.16969 to 3.17048 in (+0.50 mm)");
}
