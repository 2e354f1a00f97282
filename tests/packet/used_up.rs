//! What the build uses up beside parts and fasteners stands on the order list, once each, with what it is for.

use std::path::Path;

use benchleaf::model::Phase;
use benchleaf::sheet::{SheetKind, plain_text};
use benchleaf::{Memory, PacketOptions, Request, Workshop};

use super::view;

const FAMILY: &str = "family e \"E\" { origin \"invented for tests\" }
ask deep \"Is the sump the deep one?\" = yes, no
supply paste \"Assembly paste\"
supply locker \"Thread-locker\"
supply wire \"Lock wire\" { quantity 5 m }
supply sealant \"Face sealant\"
supply rag \"Rag\"
supply dye \"Dye\"
part cam \"Camshaft\" { under sump  coat with paste  fate reuse }
part sump \"Sump\" { held by bolts, plugs  fate reuse }
part hub \"Hub\" { held by hub_bolts  fate reuse }
fasteners bolts 4 when deep = yes, else 6 \"Sump bolt\" { thread M6x1  reusable  locked by wire wire  tighten 8 N.m from \"invented\" }
fasteners plugs 2 \"Sump plug\" { kind plug  thread M10x1.25  reusable  apply locker  tighten 8 N.m from \"invented\" }
fasteners hub_bolts 3 \"Hub bolt\" { thread M10x1.25  reusable  locked by thread-locker locker  tighten 40 N.m from \"invented\" }
strip all_off \"Take all off\" { undo bolts, plugs, hub_bolts  take sump, cam, hub  supplies dye 1 }
build close_sump \"Close the sump\" { supplies sealant 5 mL, rag 2  fit sump  tighten bolts, plugs }
build wipe \"Wipe it down\" { supplies sealant 2.5 mL, rag  do \"Wipe it down.\" }
";

/// The order list of the build with what the record, the answers and the crib say.
fn orders(record: &str, crib: &str) -> String {
    let record = format!("job: \"1\"\nprocedure: e.rebuild\ncrib: crib.yaml\n{record}");
    let files = Memory::new().with("e.rebuild", FAMILY).with("job.yaml", &record).with("crib.yaml", crib);
    let mut workshop = Workshop::over(files);
    let view =
        view(&mut workshop, &Request { record: Some(Path::new("job.yaml")), ..Request::of("e.rebuild") });
    let options = PacketOptions { sheets: vec![SheetKind::Orders], ..PacketOptions::of(Phase::Build) };
    plain_text(&view.packet(&workshop, &options))
}

#[test]
fn each_stands_once_with_what_it_is_for_and_no_number_that_nobody_knows() {
    let told = orders("", "paper: a4\n");
    assert!(told.contains("What the shop has of these is not known"), "{told}");
    assert!(told.contains("| Assembly paste. To coat camshaft."), "{told}");
    assert!(told.contains("| Thread-locker. For 5 threads: sump plugs and hub bolts."), "{told}");
    // How many bolts there are hangs on an open answer.
    assert!(told.contains("| Lock wire, sold by 5 m. To wire sump bolts."), "{told}");
    assert!(
        told.contains(
            "| Face sealant, 7.5 mL. For \u{201c}Close the sump\u{201d} and \u{201c}Wipe it down\u{201d}."
        ),
        "{told}"
    );
    assert!(told.contains("| Rag, 2 and more. For "), "{told}");
    assert!(!told.contains("Dye"), "the strip uses it: {told}");
    assert!(!told.contains("Total"), "nothing else is bought: {told}");
    for supply in ["Assembly paste", "Thread-locker", "Lock wire", "Face sealant", "Rag"] {
        assert_eq!(
            told.lines().filter(|line| line.starts_with(&format!("| {supply}"))).count(),
            1,
            "{supply}: {told}"
        );
    }
    let answered = orders("answers: {deep: yes}\n", "paper: a4\n");
    assert!(answered.contains("| Lock wire, sold by 5 m. To wire 4 fasteners: sump bolts."), "{answered}");
}

#[test]
fn what_the_crib_keeps_is_not_ordered() {
    let told = orders("", "supplies: [rag, Thread-locker]\n");
    assert!(told.contains("The crib has none of these in stock"), "{told}");
    assert!(!told.contains("Rag") && !told.contains("Thread-locker"), "{told}");
    assert!(told.contains("Lock wire") && told.contains("Assembly paste"), "{told}");
}

#[test]
fn its_order_is_kept_in_the_record_and_what_is_done_needs_no_more() {
    let told = orders("orders: {wire: {ordered: 2026-03-02, arrived: 2026-03-05}}\n", "paper: a4\n");
    assert!(told.contains("To wire sump bolts. | 2\u{a0}Mar | 5\u{a0}Mar |"), "{told}");
    let done = orders(
        "done: {all_off: {by: JS, date: 2026-03-02}, \"fit:cam\": {by: JS, date: 2026-03-04}, close_sump: {by: JS, date: 2026-03-05}}\n",
        "paper: a4\n",
    );
    assert!(!done.contains("Lock wire"), "{done}");
    assert!(done.contains("Thread-locker. For 3 threads: hub bolts."), "{done}");
}
