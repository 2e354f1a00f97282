//! What goes before every figure, on every page: the deferral, and that invented data is invented.

use std::fs;

use benchleaf::model::Phase;
use benchleaf::pages::{Item, Page, Pages};
use benchleaf::sheet::{DEFERRAL, SheetKind};
use benchleaf::{Memory, PacketOptions, PageSetup, Paper, Request, Workshop, lay_out, sheet_kinds};

use super::{PHASES, root, view};

const WARNING: &str = "Invented: not a real engine.";
const AT_LENGTH: &str = "The engine maker's own data comes first, then the law and local codes,";

/// The runs of words on a page as painted.
fn runs(page: &Page) -> Vec<&str> {
    let items = page.groups.iter().flat_map(|group| &group.items);
    items
        .filter_map(|item| match item {
            Item::Text(run) => Some(run.text.as_str()),
            _ => None,
        })
        .collect()
}

/// The large engine late in its job, with pages of it to be had.
fn with_large_engine(test: impl FnOnce(&dyn Fn(Phase, SheetKind, &PageSetup) -> Pages)) {
    let mut workshop = Workshop::new();
    let (procedure, record) =
        (root("procedures/brackwater3.rebuild"), root("procedures/brackwater3.ready.job.yaml"));
    let view = view(&mut workshop, &Request { record: Some(&record), ..Request::of(&procedure) });
    test(&|phase, sheet, setup| {
        let options = PacketOptions { sheets: vec![sheet], all: true, ..PacketOptions::of(phase) };
        lay_out(&view.packet(&workshop, &options), setup).value
    });
}

fn every_page_says(pages: &Pages, what: &str) {
    assert!(!pages.pages.is_empty(), "{what}: no page");
    for (index, page) in pages.pages.iter().enumerate() {
        for line in [DEFERRAL, WARNING] {
            let told = runs(page).iter().filter(|run| **run == line).count();
            assert_eq!(told, 1, "{what}, page {}: {line}", index + 1);
        }
    }
}

#[test]
fn sheets_that_are_printed_alone_defer_on_every_page() {
    with_large_engine(|printed| {
        for (phase, word) in PHASES {
            for kind in sheet_kinds(phase).into_iter().filter(|kind| *kind != SheetKind::Hands) {
                let pages = printed(phase, kind, &PageSetup::default());
                // Not every phase has something for every sheet: nothing is written then, though a file needs a page.
                if pages.bookmarks.is_empty() {
                    assert_ne!(kind, SheetKind::Front);
                    continue;
                }
                every_page_says(&pages, &format!("{word} {kind:?}"));
                if kind != SheetKind::Tags {
                    let first = runs(&pages.pages[0]).concat();
                    let (title, deferral) = (pages.bookmarks[0].title.as_str(), first.find(AT_LENGTH));
                    assert!(deferral.is_some_and(|at| at < title.len() + 160), "{word} {kind:?}: {first}");
                }
            }
        }
    });
}

#[test]
fn steps_alone_defer_on_both_papers_and_on_both_sides() {
    with_large_engine(|printed| {
        for paper in [Paper::A4, Paper::Letter] {
            let pages = printed(Phase::Build, SheetKind::Steps, &PageSetup { paper, two_sided: true });
            every_page_says(&pages, &format!("{paper:?}"));
            for item in pages.pages.iter().flat_map(|page| &page.groups).flat_map(|group| &group.items) {
                let area = item.bounds();
                assert!(area.x + area.width <= pages.width - 33.0, "over the margin: {item:?}");
            }
        }
    });
}

#[test]
fn a_family_whose_data_is_not_invented_does_not_say_so() {
    let text = "family pump \"Invented\" { origin \"invented, say a title and an origin\" }\n\
                part cover \"Invented cover\"\nstrip look_over \"Look it over\" { do \"Look.\" }\n";
    let warned = |text: &str| {
        let mut workshop = Workshop::over(Memory::new().with("pump.rebuild", text));
        let view = view(&mut workshop, &Request::of("pump.rebuild"));
        let packet = view.packet(&workshop, &PacketOptions::of(Phase::Strip));
        let pages = lay_out(&packet, &PageSetup::default()).value.pages;
        assert!(pages.iter().all(|page| runs(page).contains(&DEFERRAL)));
        pages.iter().any(|page| runs(page).contains(&"Invented: not a real machine."))
    };
    assert!(!warned(text), "no word of a title or an origin means anything");
    assert!(warned(&text.replace("family pump \"Invented\" { ", "family pump \"A pump\" { invented  ")));
}

#[test]
fn every_family_that_is_shipped_says_that_it_is_invented() {
    let mut families = 0;
    for folder in ["procedures", "procedures/first", "procedures/shared"] {
        for entry in fs::read_dir(root(folder)).unwrap() {
            let path = entry.unwrap().path();
            if path.extension().is_none_or(|ending| ending != "rebuild") {
                continue;
            }
            let text = fs::read_to_string(&path).unwrap();
            if !text.lines().any(|line| line.starts_with("family ")) {
                continue;
            }
            let mut workshop = Workshop::new();
            let view = view(&mut workshop, &Request::of(&path));
            assert!(view.procedure.family.as_ref().unwrap().invented, "{}", path.display());
            families += 1;
        }
    }
    assert!(families >= 5, "{families} families");
}
