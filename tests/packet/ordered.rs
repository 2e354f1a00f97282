//! What was ordered is on the order list whatever became of it: not agreed to, not called for, come in part.

use std::fs;

use benchleaf::PacketOptions;
use benchleaf::model::Phase;

use super::{root, words_of};
use crate::cli::{Scratch, benchleaf};
use crate::random_job::{ENGINE, PUMP};

fn order_list(files: (&str, &str), record: &str) -> String {
    let kinds = benchleaf::sheet_kinds(Phase::Build).into_iter().filter(|kind| kind.name() == "orders");
    let options = PacketOptions { sheets: kinds.collect(), ..PacketOptions::of(Phase::Build) };
    words_of(files, record, &options).replace('\u{a0}', " ")
}

#[test]
fn what_nothing_asks_for_is_told_on_the_order_list_and_in_the_verdict() {
    let pump = fs::read_to_string(root(PUMP)).unwrap();
    let record = "job: \"1\"\nprocedure: harbour_pump.rebuild\norders:
  cover_screws: {ordered: 2026-03-05, due: 2026-03-07, arrived: 2026-03-06, quantity: 2, supplier: Fixings}\n";
    let list = order_list(("harbour_pump.rebuild", &pump), record);
    let told = "Cover screw, 2 pieces, Fixings, ordered 5 Mar, due 7 Mar, arrived 6 Mar: nothing in this job asks for \
                it: back to the supplier, or into stock.";
    assert!(list.contains("Ordered, and not called for") && list.contains(told), "{list}");
    let scratch = Scratch::new("not-called-for");
    scratch.file("harbour_pump.rebuild", &pump);
    let job = scratch.file("job.yaml", record);
    let verdict = String::from_utf8_lossy(&benchleaf(&["verdict", &job]).stdout).into_owned();
    assert!(verdict.contains("Cover screw (cover_screws): ordered 2026-03-05"), "{verdict}");
    // Once one is missing it is wanted.
    let missing =
        format!("{record}notes: [{{about: cover_screws, found: {{count: 3}}, by: HK, date: 2026-03-05}}]\n");
    let list = order_list(("harbour_pump.rebuild", &pump), &missing);
    assert!(!list.contains("not called for"), "{list}");
}

#[test]
fn what_came_of_one_place_has_not_come_of_another() {
    let record = "job: \"1\"\nprocedure: twin.rebuild\nlooks: {as_found: {\"skirt_look[1]\": scored, \"skirt_look[2]\": scored}}
settled: {\"piston[1]\": {renew: scored}, \"piston[2]\": {renew: scored}}
approved: [{by: the owner, items: [piston]}]
orders:
  \"piston[1]\": {ordered: 2026-03-05, due: 2026-03-09, arrived: 2026-03-08, compared: 2026-03-08}
  \"piston[2]\": {ordered: 2026-03-06}
";
    let list = order_list(("twin.rebuild", ENGINE), record);
    let rows: Vec<&str> = list.lines().filter(|line| line.contains("Piston")).collect();
    let row =
        |day: &str| *rows.iter().find(|row| row.contains(day)).unwrap_or_else(|| panic!("{day}\n{list}"));
    assert!(row("6 Mar").contains("Piston for 2") && row("6 Mar").ends_with("| ____ | [ ] |"), "{list}");
    assert!(row("8 Mar").contains("Piston for 1"), "{list}");
}

#[test]
fn what_was_ordered_without_the_owner_says_so() {
    let record =
        "job: \"1\"\nprocedure: twin.rebuild\norders: {gasket: {ordered: 2026-03-05, arrived: 2026-03-08}}\n";
    let list = order_list(("twin.rebuild", ENGINE), record);
    assert!(list.contains("Not agreed to, though ordered 5 Mar and arrived 8 Mar."), "{list}");
}
