//! Prices by size, and prices on the command line. Goods and prices are invented.

use super::{Scratch, benchleaf};
use crate::expected;

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
