//! The file as a document: the same bytes each time, on both papers.

use super::demo;
use benchleaf::{PageSetup, Paper, lay_out, write_pdf};

fn demo_pdf() -> Vec<u8> {
    let outcome = lay_out(&demo::packet(), &PageSetup::default());
    assert!(outcome.diagnostics.is_empty(), "{:?}", outcome.diagnostics);
    write_pdf(&outcome.value)
}

#[test]
fn the_same_packet_gives_the_same_bytes() {
    assert!(demo_pdf() == demo_pdf());
}

#[test]
#[expect(clippy::disallowed_methods, reason = "compares files of two processes")]
fn another_process_gives_the_same_bytes() {
    let folder = std::path::Path::new(env!("CARGO_TARGET_TMPDIR")).join("other-process");
    std::fs::create_dir_all(&folder).unwrap();
    let ran = std::process::Command::new(std::env::current_exe().unwrap())
        .args(["--exact", "page::document::the_packet_fits_both_papers"])
        .env("BENCHLEAF_DEMO", &folder)
        .output()
        .unwrap();
    assert!(ran.status.success());
    assert!(std::fs::read(folder.join("a4.pdf")).unwrap() == demo_pdf());
}

#[test]
fn another_word_gives_another_identity() {
    let identity = |bytes: &[u8]| {
        let at = bytes.windows(4).rposition(|window| window == b"/ID ").unwrap();
        bytes[at..at + 40].to_vec()
    };
    let mut packet = demo::packet();
    packet.sheets[0].title.push('!');
    let other = write_pdf(&lay_out(&packet, &PageSetup::default()).value);
    assert_ne!(identity(&demo_pdf()), identity(&other));
}

#[test]
fn the_packet_fits_both_papers() {
    for (name, paper, two_sided) in [("a4", Paper::A4, false), ("letter", Paper::Letter, true)] {
        let outcome = lay_out(&demo::packet(), &PageSetup { paper, two_sided });
        assert_eq!(super::placing::faults(&outcome.value), Vec::<String>::new());
        super::show(name, &outcome.value);
    }
}
