//! What is laid on the paper is drawn at its full size: the rule that checks the print, bolts, cards.

use benchleaf::model::Phase;
use benchleaf::pages::{Item, Pages, Segment};
use benchleaf::sheet::SheetKind;
use benchleaf::{PacketOptions, PageSetup, Paper, Request, Workshop, lay_out, points};

use super::{root, view};

fn bolts(setup: &PageSetup) -> Pages {
    let (procedure, record) =
        (root("procedures/brackwater3.rebuild"), root("procedures/brackwater3.job.yaml"));
    let mut workshop = Workshop::new();
    let view = view(&mut workshop, &Request { record: Some(&record), ..Request::of(&procedure) });
    let options = PacketOptions { sheets: vec![SheetKind::Bolts], ..PacketOptions::of(Phase::Strip) };
    let laid_out = lay_out(&view.packet(&workshop, &options), setup);
    assert!(!laid_out.has_errors());
    laid_out.value
}

fn items(pages: &Pages) -> impl Iterator<Item = &Item> {
    pages.pages.iter().flat_map(|page| &page.groups).flat_map(|group| &group.items)
}

/// Width and height of a closed outline of straight lines.
fn outline(item: &Item) -> Option<(f32, f32)> {
    let Item::Shape { rings, .. } = item else { return None };
    let mut corners = vec![rings.first()?.start];
    for segment in &rings[0].segments {
        let Segment::Line(corner) = segment else { return None };
        corners.push(*corner);
    }
    let reach = |pick: fn(&benchleaf::pages::Position) -> f32| {
        let all = corners.iter().map(pick);
        all.clone().fold(f32::NEG_INFINITY, f32::max) - all.fold(f32::INFINITY, f32::min)
    };
    Some((reach(|at| at.x), reach(|at| at.y)))
}

#[test]
fn the_rule_is_a_hundred_millimetres_on_either_paper() {
    for paper in [Paper::A4, Paper::Letter] {
        let pages = bolts(&PageSetup { paper, ..PageSetup::default() });
        let long = |item: &&Item| match item {
            Item::Line { from, to, .. } => {
                from.y == to.y && ((to.x - from.x).abs() - points(100.0)).abs() < 0.01
            }
            _ => false,
        };
        assert_eq!(items(&pages).filter(long).count(), 1);
    }
}

#[test]
fn a_bolt_can_be_laid_on_its_picture() {
    let pages = bolts(&PageSetup::default());
    // The edge bolts of the head, M8 × 55, under the head, and the timing cover's M8, each as thick as its thread.
    let shank = (points(55.0), points(8.0));
    let same = |(wide, tall): (f32, f32)| (wide - shank.0).abs() < 0.01 && (tall - shank.1).abs() < 0.01;
    assert!(items(&pages).filter_map(outline).any(same));
    // Nothing of it reaches over the edge of the content.
    for item in items(&pages) {
        let area = item.bounds();
        assert!(area.x >= 0.0 && area.x + area.width <= pages.width, "{area:?}");
    }
}
