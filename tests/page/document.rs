//! The file as a document: the same bytes each time, and what outside readers make of it.

use super::demo;
use benchleaf::page::{PageSetup, Paper, lay_out, write_pdf};

fn demo_pdf(setup: &PageSetup) -> Vec<u8> {
    let outcome = lay_out(&demo::packet(), setup);
    assert!(outcome.diagnostics.is_empty(), "{:?}", outcome.diagnostics);
    write_pdf(&outcome.value)
}

#[test]
fn the_same_packet_gives_the_same_bytes() {
    let setup = PageSetup::default();
    assert!(demo_pdf(&setup) == demo_pdf(&setup));
}

#[test]
fn the_packet_fits_both_papers() {
    for (name, paper, two_sided) in [("a4", Paper::A4, false), ("letter", Paper::Letter, true)] {
        let outcome = lay_out(&demo::packet(), &PageSetup { paper, two_sided });
        assert_eq!(super::placing::faults(&outcome.value), Vec::<String>::new());
        super::show(name, &outcome.value);
    }
}
