//! What outside readers make of the file. They have to be installed (qpdf, poppler-utils, mupdf-tools,
//! zbar-tools), so these checks run only when asked for: `cargo test --test main page::readers -- --ignored`.

use super::demo;
use benchleaf::sheet::Block;
use benchleaf::{PageSetup, lay_out, write_pdf};
use std::path::PathBuf;
use std::process::Command;

/// Writes the demonstration packet under its own name, since tests run side by side.
#[expect(clippy::disallowed_methods, reason = "hands the file to other programs")]
fn file(name: &str) -> PathBuf {
    let path = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join(format!("{name}.pdf"));
    std::fs::write(&path, write_pdf(&lay_out(&demo::packet(), &PageSetup::default()).value)).unwrap();
    path
}

fn run(program: &str, arguments: &[&str]) -> String {
    let out =
        Command::new(program).args(arguments).output().unwrap_or_else(|_| panic!("{program} is installed"));
    assert!(out.status.success(), "{program}: {}", String::from_utf8_lossy(&out.stderr));
    String::from_utf8_lossy(&out.stdout).into_owned()
}

/// Titles of all steps in order.
fn titles() -> Vec<String> {
    let packet = demo::packet();
    let blocks = packet.sheets.iter().flat_map(|sheet| &sheet.blocks);
    blocks
        .filter_map(|block| match block {
            Block::Step(step) => Some(step.title.words()),
            _ => None,
        })
        .collect()
}

fn in_order(text: &str, words: &[String]) {
    let mut rest = text;
    for word in words {
        let at = rest.find(word.as_str()).unwrap_or_else(|| panic!("`{word}` is missing or out of order"));
        rest = &rest[at + word.len()..];
    }
}

#[test]
#[ignore = "needs qpdf"]
fn qpdf_finds_no_fault() {
    let path = file("qpdf");
    assert!(
        run("qpdf", &["--check", path.to_str().unwrap()]).contains("No syntax or stream encoding errors")
    );
}

#[test]
#[ignore = "needs poppler-utils"]
fn every_font_is_embedded_cut_down_and_can_be_read_as_text() {
    let path = file("fonts");
    let fonts = run("pdffonts", &[path.to_str().unwrap()]);
    let rows: Vec<&str> = fonts.lines().skip(2).collect();
    assert_eq!(rows.len(), 3, "{fonts}");
    for row in rows {
        assert!(row.as_bytes()[6] == b'+' && row.contains("yes yes yes"), "{row}");
    }
}

#[test]
#[ignore = "needs poppler-utils, mupdf-tools and qpdf"]
fn two_readers_find_every_step_in_order() {
    let path = file("order");
    let path = path.to_str().unwrap();
    in_order(&run("pdftotext", &[path, "-"]), &titles());
    in_order(&run("mutool", &["draw", "-q", "-F", "txt", path]), &titles());
    let structure = run("pdfinfo", &["-struct-text", path]);
    in_order(&structure, &titles());
    for role in ["H1", "H2", "H3", "TH", "TD", "LBody", "Figure", "Caption", "Link"] {
        assert!(
            structure.lines().any(|line| line.trim_start().starts_with(role)),
            "no {role} in the structure"
        );
    }
    // poppler does not print alternative texts: qpdf writes the objects out, where they can be read.
    let objects = run("qpdf", &["--qdf", "--object-streams=disable", path, "-"]);
    assert!(objects.contains("/Alt (Thirteen holes of the head"), "the figure has no alternative text");
}

#[test]
#[ignore = "needs poppler-utils"]
fn the_document_says_what_it_is() {
    let path = file("info");
    let path = path.to_str().unwrap();
    let info = run("pdfinfo", &[path]);
    assert!(info.contains("Title:           Strip packet: Brackwater 3"), "{info}");
    assert!(info.contains("Tagged:          yes") && info.contains("Suspects:        no"), "{info}");
    assert!(run("pdfdetach", &["-list", path]).contains("plan.json"));
}

#[test]
#[ignore = "needs mupdf-tools"]
fn the_outline_is_nested_and_links_lead_somewhere() {
    let path = file("outline");
    let path = path.to_str().unwrap();
    let outline = run("mutool", &["show", path, "outline"]);
    let depth = |words: &str| {
        let line = outline.lines().find(|line| line.contains(words)).unwrap_or_else(|| panic!("no {words}"));
        line[1..].chars().take_while(|c| *c == '\t').count()
    };
    assert_eq!([depth("Strip sheets"), depth("Top end"), depth("12 Undo the")], [1, 2, 3]);
    let objects = run("mutool", &["show", path, "grep"]);
    let links = objects.lines().filter(|line| line.contains("/Subtype/Link")).count();
    // One on the front sheet, one at step 12, one in the overview of the order, and one on each of six tags.
    assert_eq!(links, 9);
    assert!(
        objects.lines().filter(|line| line.contains("/Subtype/Link")).all(|line| line.contains("/Dest["))
    );
}

#[test]
#[ignore = "needs poppler-utils and zbar-tools"]
fn every_code_on_the_tags_reads_as_its_words() {
    let path = file("tags");
    let pages = lay_out(&demo::packet(), &PageSetup::default()).value.pages.len().to_string();
    let picture = path.with_extension("");
    run(
        "pdftoppm",
        &[
            "-r",
            "300",
            "-gray",
            "-png",
            "-singlefile",
            "-f",
            &pages,
            path.to_str().unwrap(),
            picture.to_str().unwrap(),
        ],
    );
    let read = run("zbarimg", &["--nodbus", "-q", "--raw", path.with_extension("png").to_str().unwrap()]);
    let mut read: Vec<&str> = read.lines().collect();
    read.sort_unstable();
    let packet = demo::packet();
    let mut written: Vec<&str> = packet
        .sheets
        .iter()
        .flat_map(|sheet| &sheet.blocks)
        .filter_map(|block| match block {
            Block::Label(label) => Some(label.code_text.as_str()),
            _ => None,
        })
        .collect();
    written.sort_unstable();
    assert_eq!(read, written);
}
