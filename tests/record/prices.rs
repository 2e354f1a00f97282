//! Files of prices: what is complained of, what they come before, and prices by size and grade.

use benchleaf::diagnostics::render_lines;
use benchleaf::procedure;
use benchleaf::procedure::model::Procedure;
use benchleaf::record::{Prices, read_prices};
use benchleaf::source::Sources;

use crate::tests::expected;

fn pump() -> Procedure {
    let path = expected::folder("jobs/verdicts").join("pump.rebuild");
    procedure::load(&mut Sources::new(), &path).value.unwrap()
}

/// The prices, and what is complained of, a line each without what stands in the procedure.
fn read(text: &str) -> (Prices, Vec<String>) {
    let procedure = pump();
    let mut sources = Sources::new();
    let file = sources.add("prices.yaml", text);
    let outcome = read_prices(file, text, &procedure);
    let own: Vec<_> = outcome
        .diagnostics
        .iter()
        .cloned()
        .map(|mut diagnostic| {
            diagnostic.labels.retain(|label| label.span.file == file);
            diagnostic
        })
        .collect();
    (outcome.value, render_lines(&sources, &own).lines().map(str::to_owned).collect())
}

#[test]
fn faults_of_a_file_of_prices_are_told_with_their_line() {
    let text = "origin: invented
labour: 58
goods:
  pistn: {price: 64 EUR}
  gasket: {price: 46.005 EUR}
  head: {cost: 12 EUR}
  \"piston[3]\": {price: 64 EUR}
  \"piston[2]\": {price: 64 EUR, lead_time: 3 mm}
  silencer: 12 EUR
  rod_bolts: {price: 3.20 EUR, pieces: {0.25 mm: {price: 4 EUR}, thick: {price: 5 EUR}}}
  head_bolts: {price: 1 EUR}
  \"head_bolts\": {price: 2 EUR}
work:
  block: {price: 270 EUR, pieces: {0.25 mm: {price: 4 EUR}}}
  gaskett: {price: 1 EUR}
";
    let (_, complaints) = read(text);
    let expected = [
        ("prices.yaml:12:3: error: ", "(record/duplicate-key)"),
        ("prices.yaml:2:9: error: ", "(record/not-money)"),
        ("prices.yaml:5:19: error: ", "(record/not-money)"),
        ("prices.yaml:6:10: error: ", "(record/unknown-key)"),
        ("prices.yaml:8:43: error: ", "(record/wrong-dimension)"),
        ("prices.yaml:9:13: error: ", "(record/wrong-type)"),
        ("prices.yaml:10:66: error: ", "(record/unknown-answer)"),
        ("prices.yaml:14:27: error: ", "(record/unknown-key)"),
        ("prices.yaml:4:3: error: ", "(record/unknown-name)"),
        ("prices.yaml:7:3: error: ", "(record/unknown-place)"),
        ("prices.yaml:15:3: error: ", "(record/unknown-name)"),
    ];
    assert_eq!(complaints.len(), expected.len(), "{complaints:#?}");
    for (complaint, (place, name)) in complaints.iter().zip(expected) {
        assert!(complaint.starts_with(place) && complaint.ends_with(name), "{complaint}\nnot {place} {name}");
    }
    assert!(complaints[8].contains("write: `piston`, if that is meant"), "{}", complaints[8]);
    for (text, code) in [
        ("", "record/empty"),
        ("- a\n", "record/not-a-mapping"),
        ("goods: &a {gasket: *a}\n", "record/anchor"),
        ("goods: {gasket: {price: [}\n", "record/not-yaml"),
        ("prices: {}\n", "record/unknown-key"),
        (
            "goods: {piston: {pieces: {0.25 mm: {price: 4 EUR}, 0.250 mm: {price: 5 EUR}}}}\n",
            "record/duplicate-reading",
        ),
    ] {
        let (_, complaints) = read(text);
        assert!(complaints.iter().any(|complaint| complaint.contains(code)), "{text}: {complaints:?}");
    }
}
