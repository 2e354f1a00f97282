//! The sheet of results: what was read stands in its place with what it comes to, and a mark for what isn't right.

use benchleaf::model::Phase;

use super::{Made, made_all};

fn measured() -> Made {
    made_all(
        "procedures/brackwater3.rebuild",
        Some("procedures/brackwater3.measured.job.yaml"),
        Phase::Survey,
        true,
    )
}

/// The rows of the table whose caption or head has these words.
fn rows_below<'w>(words: &'w str, head: &str) -> Vec<&'w str> {
    let lines = words.lines().skip_while(|line| !line.contains(head)).skip(1);
    lines.take_while(|line| line.contains('|')).collect()
}

#[test]
fn readings_stand_by_place_with_what_they_come_to() {
    let made = measured();
    let results = made.words.split("=== Results").nth(1).expect("a sheet of results");
    let rows = rows_below(results, "Cylinder bore: as made 74.000 to 74.019, worn limit 74.120 mm");
    // By hand from the record: bore 1 reads 74.055, 74.085 at the top, 74.035, 74.050 in the middle, 74.015, 74.030 at the
    // bottom. Most unlike at one station: 0.030; in one direction: across, 74.085 less 74.030; past 74.019: 0.066.
    let cells: Vec<&str> = rows[1].split('|').map(str::trim).filter(|cell| !cell.is_empty()).collect();
    assert_eq!(
        cells,
        [
            "1",
            "74.055\u{a0}(✓)",
            "74.085\u{a0}(✓)",
            "74.035\u{a0}(✓)",
            "74.050\u{a0}(✓)",
            "74.015\u{a0}✓",
            "74.030\u{a0}(✓)",
            "0.030",
            "0.055",
            "0.066"
        ],
        "{rows:?}"
    );
    // Beyond its limit at the top: 74.160 across, 74.130 along.
    assert!(rows[2].contains("74.130\u{a0}▲") && rows[2].contains("74.160\u{a0}▲"), "{rows:?}");
    assert!(!rows[1].contains('▲') && !rows[3].contains('▲'), "{rows:?}");
}

#[test]
fn what_is_read_once_at_each_place_stands_beside_what_it_has_to_be() {
    let made = measured();
    let results = made.words.split("=== Results").nth(1).expect("a sheet of results");
    // With six places the names have lines of their own, the readings below them.
    let row = |name: &str| {
        let lines = results.lines().skip_while(|line| !line.contains(name));
        lines.take(2).collect::<Vec<_>>().join(" ")
    };
    let springs = row("Valve spring, free length: as made 42.0 to 42.6, worn limit 41.0 mm");
    assert!(springs.contains("40.60\u{a0}▼") && springs.matches('▼').count() == 1, "{springs}");
    // What is worked out stands there too, its doubt once.
    let clearance = row("Clearance of the valve in its guide");
    assert!(clearance.contains("each ±\u{a0}0.005") && clearance.contains("0.110\u{a0}(✓)"), "{clearance}");
    let looks = row("Rocker pad");
    assert!(looks.contains("pitted: 3 inlet"), "{looks}");
}

#[test]
fn what_is_done_and_measured_is_told_in_brief_and_alone_in_full() {
    let made = measured();
    assert!(made.words.contains("Done, RT, 2026-03-02"), "{}", made.words);
    let before = made.words.split("=== Results").next().unwrap_or_default();
    assert!(!before.contains("Set the bore gauge in the micrometer"));
    assert!(!made.words.contains("Set the bore gauge in the micrometer"), "told among the results");
    // A step that is left is told in full.
    assert!(made.words.contains("Receive back the cylinder block."), "{}", made.words);
}

#[test]
fn nothing_is_marked_where_nothing_says_what_it_has_to_be() {
    let made = made_all(
        "procedures/brackwater3.rebuild",
        Some("procedures/brackwater3.job.yaml"),
        Phase::Survey,
        false,
    );
    assert!(!made.words.contains("=== Results"), "nothing is read yet");
}
