//! What the owner agreed to: an estimate by its number, what is new since or dearer, and the labour in it.

use std::path::Path;

use benchleaf::PacketOptions;
use benchleaf::decide::order_list;
use benchleaf::model::Phase;
use benchleaf::packet::estimate_now;
use benchleaf::sheet::{SheetKind, plain_text};
use benchleaf::source::Memory;
use benchleaf::workshop::{JobView, Request, Workshop};

const PUMP: &str = "family pump \"Pump\" { origin \"invented for tests\" }
part cover \"Cover\" { held by screws  fate by eye }
part ring \"Ring\" { under cover  fate renew }
part seal \"Seal\" { under ring  fate renew }
fasteners screws 4 \"Screw\" { thread M5x0.8  reusable  tighten by feel }
look eye \"Cover by eye\" { of cover  results good, renew }
strip cover_off \"Take it apart\" { hands 2  time 30 min  undo screws  take cover, ring, seal }
strip marks \"Mark it\" { time 1 h  do \"Mark it.\" }
survey judge \"Judge it\" { time 30 min  look eye }
";
const PRICES: &str = "labour: 60 EUR
goods: {ring: {price: 20 EUR}, cover: {price: 50 EUR}}
";

fn view(prices: &str, record: &str) -> JobView {
    let record = format!("job: \"1\"\nprocedure: pump.rebuild\nprices: prices.yaml\n{record}");
    let files = Memory::new().with("pump.rebuild", PUMP).with("prices.yaml", prices).with("job.yaml", record);
    let mut workshop = Workshop::over(files);
    let opened = workshop.job(&Request::of(Path::new("job.yaml")));
    opened.value.unwrap_or_else(|| panic!("{:?}", opened.diagnostics))
}

/// The things on the order list, each with whether the owner has agreed to it.
fn agreed(view: &JobView) -> Vec<(String, bool)> {
    let lines = order_list(&view.procedure, &view.job, &view.decisions).lines;
    let mut lines: Vec<(String, bool)> = lines.into_iter().map(|line| (line.id, line.approved)).collect();
    lines.sort();
    lines
}

#[test]
fn what_is_agreed_is_one_printed_estimate() {
    let looked = "looks: {as_found: {eye: good}}\n";
    let before = view(PRICES, looked);
    let workshop = Workshop::new();
    let quoted = estimate_now(&before.material(&workshop));
    // The seal has no price, and the screws go back.
    assert_eq!(quoted.goods, [("ring".to_owned(), benchleaf::quantity::Money::parse("20 EUR").unwrap())]);
    let sum = quoted.sum.as_ref().unwrap().to_string();
    let number = &quoted.number;
    let agreement = format!(
        "estimates: [{{number: {number}, sum: {sum}, goods: {{ring: 20 EUR}}}}]\n\
         approved: [{{by: \"the owner\", estimate: {number}}}]\n"
    );
    let said = |id: &str, approved| (id.to_owned(), approved);
    let now = view(PRICES, &format!("{looked}{agreement}"));
    assert_eq!(agreed(&now), [said("ring", true), said("seal", false)]);
    // Agreeing changes nothing of what is agreed to.
    assert_eq!(estimate_now(&now.material(&workshop)).number, *number);
    // A cover that is condemned later, and a ring that costs more, are for quote again.
    let later = view(PRICES, &format!("looks: {{as_found: {{eye: renew}}}}\n{agreement}"));
    assert_eq!(agreed(&later), [said("cover", false), said("ring", true), said("seal", false)]);
    let dearer = view(&PRICES.replace("price: 20", "price: 21"), &format!("{looked}{agreement}"));
    assert_eq!(agreed(&dearer), [said("ring", false), said("seal", false)]);
    // A limit is held against the sum with its labour.
    let limited = agreement.replace("}]\n", ", up_to: 30 EUR}]\n").replacen(", up_to: 30 EUR", "", 1);
    let limited = view(PRICES, &format!("{looked}{limited}"));
    assert_eq!(agreed(&limited), [said("ring", false), said("seal", false)]);
    // Where none was printed nothing is covered, however much has a price now; what is named is.
    for up_to in ["", ", up_to: 900 EUR"] {
        let plain = view(PRICES, &format!("{looked}approved: [{{by: \"the owner\"{up_to}}}]\n"));
        assert_eq!(agreed(&plain), [said("ring", false), said("seal", false)]);
    }
    let named = view(PRICES, &format!("{looked}approved: [{{by: \"the owner\", items: [ring]}}]\n"));
    assert_eq!(agreed(&named), [said("ring", true), said("seal", false)]);
    // Whoever names a thing that had a price has seen that price.
    let printed = agreement.split("approved").next().unwrap();
    let named = format!("{looked}{printed}approved: [{{by: \"the owner\", items: [ring, seal]}}]\n");
    assert_eq!(agreed(&view(PRICES, &named)), [said("ring", true), said("seal", true)]);
    assert_eq!(
        agreed(&view(&PRICES.replace("price: 20", "price: 21"), &named)),
        [said("ring", false), said("seal", true)]
    );
    // Where estimates were printed it is of the last one up to its day: a cover that is condemned later isn't on that.
    let unnumbered = |day: &str| {
        let printed = agreement.split("approved").next().unwrap().replace(", sum", ", date: 2026-03-05, sum");
        let later = "looks: {as_found: {eye: renew}}\n";
        view(PRICES, &format!("{later}{printed}approved: [{{by: \"the owner\", date: {day}}}]\n"))
    };
    assert_eq!(
        agreed(&unnumbered("2026-03-06")),
        [said("cover", false), said("ring", true), said("seal", false)]
    );
    assert_eq!(
        agreed(&unnumbered("2026-03-04")),
        [said("cover", false), said("ring", false), said("seal", false)]
    );
    assert_eq!(agreed(&unnumbered("2026-03-06, up_to: 900 EUR")), agreed(&unnumbered("2026-03-06")));
}

#[test]
fn labour_counts_each_pair_of_hands_and_what_was_worked() {
    let sum = |record: &str| {
        let view = view(PRICES, record);
        let quoted = estimate_now(&view.material(&Workshop::new()));
        quoted.sum.unwrap().hundredths - 2000
    };
    let looked = "looks: {as_found: {eye: good}}\n";
    let all = sum(looked);
    let done =
        |time: &str| sum(&format!("{looked}done: {{cover_off: {{by: HK, date: 2026-03-05{time}}}}}\n"));
    // Work that is done is paid for as work that is left.
    assert_eq!(done(""), all);
    // As worked: three hours of one person where the procedure says half an hour of two.
    assert_eq!(done(", time: 3 h") - all, 2 * 6000);
}

/// The words of the estimate.
fn estimate(prices: &str, record: &str) -> String {
    let options = PacketOptions { sheets: vec![SheetKind::Estimate], ..PacketOptions::of(Phase::Survey) };
    plain_text(&view(prices, record).packet(&Workshop::new(), &options))
}

#[test]
fn tax_and_what_was_paid_on_account_are_taken_as_the_shop_states_them() {
    let looked = "looks: {as_found: {eye: good}}\n";
    let sum = |prices: &str, record: &str| {
        estimate_now(&view(prices, record).material(&Workshop::new())).sum.unwrap().hundredths
    };
    let bare = sum(PRICES, looked);
    let silent = estimate(PRICES, looked);
    assert!(silent.contains("| Tax | not stated: whether it is in the prices isn't known |"), "{silent}");
    assert!(!silent.contains("Left to pay") && !silent.contains("Together with tax"), "{silent}");
    let taxed = format!("tax: 20 %\n{PRICES}");
    // A fifth on top, by hand.
    assert_eq!(sum(&taxed, looked) * 5, bare * 6);
    let money = |hundredths: i64| format!("{}.{:02} EUR", hundredths / 100, hundredths % 100);
    let paid = format!("{looked}intake: {{deposit: 50 EUR}}\n");
    let said = estimate(&taxed, &paid);
    assert!(said.contains(&format!("| Tax, 20 % | {} |", money(bare / 5))), "{said}");
    assert!(said.contains(&format!("| Together with tax | {} |", money(bare * 6 / 5))), "{said}");
    assert!(said.contains("| Paid on account | 50.00 EUR |"), "{said}");
    let left = money(bare * 6 / 5 - 5000);
    assert!(said.contains(&format!("| Left to pay, as far as prices are known | {left} |")), "{said}");
    let much = estimate(PRICES, &format!("{looked}intake: {{deposit: 5000 EUR}}\n"));
    let over = money(500_000 - bare);
    assert!(
        much.contains(&format!("| More was paid than this comes to, as far as prices are known | {over} |")),
        "{much}"
    );
    let other = estimate(PRICES, &format!("{looked}intake: {{deposit: 50 USD}}\n"));
    assert!(other.contains("| Left to pay | paid in another currency than what is priced |"), "{other}");
    // What the owner lets be spent is held against what is paid in the end.
    let limit = |prices: &str| {
        let limit = money(bare);
        estimate(prices, &format!("{looked}intake: {{spend_limit: {limit}}}\n"))
    };
    assert!(limit(PRICES).contains("What is priced is within it"));
    assert!(limit(&taxed).contains("What is priced is above it"));
}
