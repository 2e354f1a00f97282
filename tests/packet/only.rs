//! One piece of a packet printed alone: a section, a step, a sheet, each with what is said of the maker's data at its foot.

use benchleaf::model::Phase;
use benchleaf::sheet::{Block, DEFERRAL, Packet, SheetKind, StepBlock, plain_text};
use benchleaf::{Only, PacketOptions, Request, Workshop};

use super::{root, view};
use crate::cli::{Scratch, benchleaf};

fn printed(only: Only) -> Packet {
    let (procedure, record) =
        (root("procedures/brackwater3.rebuild"), root("procedures/brackwater3.job.yaml"));
    let mut workshop = Workshop::new();
    let view = view(&mut workshop, &Request { record: Some(&record), ..Request::of(&procedure) });
    view.packet(&workshop, &PacketOptions { only: Some(only), ..PacketOptions::of(Phase::Strip) })
}

fn steps(packet: &Packet) -> Vec<&StepBlock> {
    let blocks = packet.sheets.iter().flat_map(|sheet| &sheet.blocks);
    blocks.filter_map(|block| if let Block::Step(step) = block { Some(step) } else { None }).collect()
}

#[test]
fn a_section_is_printed_alone() {
    let packet = printed(Only::Section("cylinder head off".to_owned()));
    assert!(packet.sheets.iter().all(|sheet| sheet.kind == SheetKind::Steps));
    let steps = steps(&packet);
    assert!(
        steps.len() > 2
            && steps.iter().any(|step| step.title.words() == "Release and lift the cylinder head")
    );
    let words = plain_text(&packet);
    assert!(words.contains(DEFERRAL) && !words.contains("Take the sump off"), "{words}");
}

#[test]
fn a_step_is_printed_alone_with_its_hazards_in_full() {
    let packet = printed(Only::Step(8));
    let steps = steps(&packet);
    assert_eq!(steps.iter().map(|step| step.number.as_str()).collect::<Vec<_>>(), ["8"]);
    let words = plain_text(&packet);
    assert!(words.contains("CAUTION: Old joints may hold asbestos"), "{words}");
    assert!(!words.contains("as before"), "nothing came before it: {words}");
    assert!(words.contains(DEFERRAL));
}

#[test]
fn a_sheet_is_printed_alone() {
    let scratch = Scratch::new("only-a-sheet");
    let pdf = format!("{}/kit.pdf", scratch.path());
    let cover = "procedures/first/cover.rebuild";
    assert!(benchleaf(&["packet", cover, "--only", "kit", "-o", &pdf]).status.success());
    assert!(std::fs::metadata(&pdf).is_ok());
}

/// The start of the first engine, all of it or a piece, as plain text.
fn start(only: Option<Only>) -> String {
    let (procedure, record) =
        (root("procedures/brackwater3.rebuild"), root("procedures/brackwater3.ready.job.yaml"));
    let mut workshop = Workshop::new();
    let view = view(&mut workshop, &Request { record: Some(&record), ..Request::of(&procedure) });
    plain_text(&view.packet(&workshop, &PacketOptions { only, ..PacketOptions::of(Phase::Start) }))
}

#[test]
fn what_stops_the_engine_stands_on_the_card_and_in_the_step_that_is_printed_without_it() {
    let (rule, told) = ("runs away", "anything shows that the STOP card names: Stop at once");
    let all = start(None);
    let (card, steps) = all.split_once("=== First start").expect("the card before the steps");
    assert!(card.to_lowercase().contains(&format!("it {rule}")), "{card}");
    assert!(steps.contains(told) && !steps.contains(&format!("if it {rule}")), "{steps}");
    // One or two rules are told where they are met too.
    assert!(steps.contains("if nothing shows after six tries"), "{steps}");
    let alone = start(Some(Only::Step(6)));
    assert!(alone.contains(&format!("if it {rule}")) && !alone.contains(told), "{alone}");
}
