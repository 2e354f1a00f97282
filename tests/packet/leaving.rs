//! Sheets that leave the shop: its head, one machine-shop order a firm, an order list by supplier, a line to sign.

use benchleaf::model::Phase;

use super::{Made, made_all};

fn survey() -> Made {
    made_all(
        "procedures/brackwater3.rebuild",
        Some("procedures/brackwater3.measured.job.yaml"),
        Phase::Survey,
        true,
    )
}

fn sheets<'w>(words: &'w str, title: &str) -> Vec<&'w str> {
    words.split("\n=== ").filter(|sheet| sheet.starts_with(title)).collect()
}

#[test]
fn an_estimate_has_the_head_of_the_shop_a_last_day_and_a_line_to_sign() {
    let made = survey();
    let [estimate] = sheets(&made.words, "Estimate")[..] else { panic!("one estimate") };
    for words in ["Example Engine Shop (invented)", "1 Example Quay", "R. Ostwick", "Holds until", "Signed"] {
        assert!(estimate.contains(words), "{words}: {estimate}");
    }
    // As of the last day of the record, and 30 days on.
    let day =
        estimate.lines().find(|line| line.contains("R. Ostwick, motor boat Plover |")).unwrap_or_default();
    assert!(day.contains("2026-03-"), "{estimate}");
}

#[test]
fn each_firm_gets_an_order_of_its_own_without_the_prices_of_others() {
    let made = survey();
    let orders = sheets(&made.words, "Machine-shop order");
    assert_eq!(orders.len(), 3, "{orders:?}");
    for firm in ["Lowgate Radiators", "Quayside Diesel Bench", "Stanner Machine Works"] {
        let of_it: Vec<_> = orders.iter().filter(|order| order.contains(firm)).collect();
        assert_eq!(of_it.len(), 1, "{firm}");
    }
    let machine = orders.iter().find(|order| order.contains("Stanner Machine Works")).unwrap();
    // The clearance that the bore is wanted for goes with it.
    assert!(machine.contains("Piston play in its bore"), "{machine}");
    assert!(machine.contains("Finish, fillets and hone angle"), "{machine}");
    assert!(!machine.contains("Injector"), "{machine}");
}

#[test]
fn the_order_list_stands_by_supplier() {
    let made = survey();
    let [list] = sheets(&made.words, "Order list")[..] else { panic!("one list") };
    // A supplier's name stands over what is agreed and over what has a price, and behind the few lines that have none or wait;
    // not in each of its lines.
    assert!(list.matches("Harbour Engine Parts").count() <= 3, "{list}");
    assert!(list.contains("Tidewater Fixings"), "{list}");
}

#[test]
fn the_first_start_has_a_card_with_what_stops_it_and_a_log() {
    let made = made_all(
        "procedures/brackwater3.rebuild",
        Some("procedures/brackwater3.ready.job.yaml"),
        Phase::Start,
        false,
    );
    let [card] = sheets(&made.words, "STOP card")[..] else { panic!("one card") };
    for words in [
        "No oil pressure shows after 5 seconds",
        "Anything knocks or squeals",
        "runs away",
        "Log of the run",
        "Oil pressure, hot",
    ] {
        assert!(card.contains(words), "{words}: {card}");
    }
    // It comes before the first step that turns the engine.
    assert!(made.words.find("=== STOP card") < made.words.find("=== First start"), "{}", made.words);
}
