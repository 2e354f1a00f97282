//! Packets as documents: what a screen reader makes of them, and where links lead.

use std::collections::BTreeSet;

use benchleaf::model::Phase;
use benchleaf::pages::Pages;
use benchleaf::sheet::Anchor;

use super::{JOBS, PHASES, job, made};
use crate::page::tagged;

#[test]
fn every_packet_can_be_read_aloud() {
    let mut wrong = Vec::new();
    for (procedure, record, name) in JOBS {
        for (phase, word) in PHASES {
            let faults: BTreeSet<String> =
                tagged::faults(&made(procedure, record, phase).pdf).into_iter().collect();
            wrong.extend(faults.into_iter().map(|fault| format!("{name} {word}: {fault}")));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// Kinds of places between which links lead, by the words before the colon of an anchor.
fn kind(anchor: &Anchor) -> &str {
    anchor.0.split(':').next().unwrap()
}

/// The anchor above a link on the page of its sheet: the step in which it stands.
fn from(pages: &Pages, page: usize, y: f32) -> Option<&Anchor> {
    let above = pages.anchors.iter().filter(|(_, place)| (place.page, place.y) <= (page, y + 0.5));
    above
        .max_by(|(_, a), (_, b)| (a.page, a.y).partial_cmp(&(b.page, b.y)).unwrap())
        .map(|(anchor, _)| anchor)
}

#[test]
fn links_lead_from_the_front_sheet_and_between_steps_figures_and_what_is_waited_for() {
    let mut ways: BTreeSet<(String, String)> = BTreeSet::new();
    for (procedure, record, _) in JOBS {
        for (phase, _) in PHASES {
            let pages = made(procedure, record, phase).pages;
            for (page, on) in pages.pages.iter().enumerate() {
                for link in &on.links {
                    let there =
                        pages.anchors.get(&link.to).unwrap_or_else(|| panic!("{:?} is nowhere", link.to));
                    assert!(there.page < pages.pages.len());
                    let start = from(&pages, page, link.area.y).map_or("", kind);
                    let start = if page == 0 { "front" } else { start };
                    ways.insert((start.to_owned(), kind(&link.to).to_owned()));
                }
            }
        }
    }
    for way in
        [("front", "step"), ("step", "step"), ("step", "figure"), ("sheet", "figure"), ("sheet", "step")]
    {
        assert!(
            ways.contains(&(way.0.to_owned(), way.1.to_owned())),
            "no link from {} to {}: {ways:?}",
            way.0,
            way.1
        );
    }
}

#[test]
fn the_contents_lead_to_every_sheet() {
    let (procedure, record) = job("brackwater3");
    let pages = made(procedure, record, Phase::Strip).pages;
    let sheets: BTreeSet<&Anchor> = pages.anchors.keys().filter(|anchor| kind(anchor) == "sheet").collect();
    let links: BTreeSet<&Anchor> = pages
        .pages
        .iter()
        .flat_map(|page| &page.links)
        .map(|link| &link.to)
        .filter(|to| kind(to) == "sheet")
        .collect();
    assert_eq!(sheets.len(), links.len() + 1, "every sheet but the front sheet itself");
    assert!(links.is_subset(&sheets));
}
