//! Files of prices: what is complained of, what they come before, and prices by size and grade.

use benchleaf::diagnostics::render_lines;
use benchleaf::procedure;
use benchleaf::procedure::model::Procedure;
use benchleaf::record::{Prices, read_prices};
use benchleaf::source::Sources;

use crate::cli::{Scratch, benchleaf};
use crate::expected;

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

const PRICES: &str = "origin: invented for tests
goods:
  piston:
    price: 64 EUR
    part_number: P-100
    supplier: Harbour
    pieces:
      0.50 mm: {price: 69.50 EUR, part_number: P-150}
      0.010 in: {price: 68 EUR}
  gasket: {price: 7 EUR, lead_time: 4 day}
work:
  block: {price: 270 EUR, supplier: the borer}
";

#[test]
fn the_price_is_that_of_the_size_that_is_bought() {
    let scratch = Scratch::new("prices");
    for name in ["pump.rebuild", "rebore.yaml", "good.yaml"] {
        let text = std::fs::read_to_string(expected::folder("jobs/verdicts").join(name)).unwrap();
        scratch.file(name, text);
    }
    let prices = scratch.file("prices.yaml", PRICES);
    let at = |name: &str| format!("{}/{name}", scratch.path());
    let verdict = |record: &str| {
        let output = benchleaf(&[
            "verdict",
            &at("pump.rebuild"),
            "--job",
            &at(record),
            "--prices",
            &prices,
            "--format",
            "order-csv",
        ]);
        assert_eq!(output.status.code(), Some(0), "{}", String::from_utf8_lossy(&output.stderr));
        String::from_utf8(output.stdout).unwrap()
    };
    let rebored = verdict("rebore.yaml");
    let row = |table: &str, id: &str| {
        table.lines().find(|line| line.starts_with(id)).unwrap_or_default().trim_end().to_owned()
    };
    // Two pistons of half a millimetre over, at their own price and number, from the supplier of all of them.
    let piston = row(&rebored, "piston,");
    for part in ["2", "0.50 mm", "P-150", "139.00 EUR", "Harbour"] {
        assert!(piston.split(',').any(|field| field == part), "{part} in {piston}");
    }
    assert!(row(&rebored, "gasket,").contains("7.00 EUR"), "{rebored}");
    // A file with a fault gives no verdict.
    scratch.file("prices.yaml", PRICES.replace("piston:", "pistn:"));
    let output =
        benchleaf(&["verdict", &at("pump.rebuild"), "--job", &at("rebore.yaml"), "--prices", &prices]);
    assert_eq!(output.status.code(), Some(1));
    assert!(output.stdout.is_empty());
    assert!(String::from_utf8_lossy(&output.stderr).contains("record/unknown-name"));
}

#[test]
fn a_packet_carries_the_prices_of_the_file_on_the_command_line() {
    let scratch = Scratch::new("packet-prices");
    let prices = scratch
        .file("other.prices.yaml", "origin: invented for tests\ngoods:\n  thermostat: {price: 31.25 EUR}\n");
    let out = format!("{}/survey.pdf", scratch.path());
    let job = "procedures/brackwater3.measured.job.yaml";
    let packet = |prices: &str| {
        benchleaf(&[
            "packet",
            "procedures/brackwater3.rebuild",
            "--job",
            job,
            "--phase",
            "survey",
            "--sheets",
            "orders",
            "--prices",
            prices,
            "-o",
            &out,
        ])
    };
    let printed = packet(&prices);
    assert_eq!(printed.status.code(), Some(0), "{}", String::from_utf8_lossy(&printed.stderr));
    let with = std::fs::read(&out).unwrap();
    // The file that the record names costs the thermostat otherwise.
    let printed = packet("procedures/brackwater3.prices.yaml");
    assert_eq!(printed.status.code(), Some(0));
    assert_ne!(std::fs::read(&out).unwrap(), with);
    let before = std::fs::read(&out).unwrap();
    scratch.file("other.prices.yaml", "goods:\n  thermostatt: {price: 31.25 EUR}\n");
    let refused = packet(&prices);
    assert_eq!(refused.status.code(), Some(1));
    assert!(
        String::from_utf8_lossy(&refused.stderr).contains("other.prices.yaml, line 2"),
        "{}",
        String::from_utf8_lossy(&refused.stderr)
    );
    // With a fault no packet is written, and the one that is there stays.
    assert_eq!(std::fs::read(&out).unwrap(), before);
    let missing = packet("nowhere.prices.yaml");
    assert_eq!(missing.status.code(), Some(2));
}
