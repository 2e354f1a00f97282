//! The way through for a program of its own: texts from memory make the same packet as files, and faults come back as
//! values.

use std::fs;
use std::path::Path;

use benchleaf::model::Phase;
use benchleaf::sheet::plain_text;
use benchleaf::{Memory, PacketOptions, Request, Sources, Workshop};

use super::view;

#[test]
fn texts_in_memory_make_the_packet_that_files_make() {
    let folder = Path::new("procedures");
    let texts =
        fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()).filter(|path| path.is_file());
    let shared = Sources::new().procedure_files(folder).unwrap();
    let memory = texts.chain(shared).fold(Memory::new(), |memory, path| {
        let text = fs::read_to_string(&path).unwrap();
        memory.with(path, text)
    });
    let request = Request {
        record: Some(Path::new("procedures/brackwater3.measured.job.yaml")),
        ..Request::of("procedures/brackwater3.rebuild")
    };
    for phase in [Phase::Strip, Phase::Survey] {
        let made = |mut workshop: Workshop| {
            let view = view(&mut workshop, &request);
            plain_text(&view.packet(&workshop, &PacketOptions::of(phase)))
        };
        let from_memory = made(Workshop::over(memory.clone()));
        assert!(from_memory.contains("Brackwater"));
        assert_eq!(from_memory, made(Workshop::new()));
    }
}

#[test]
fn faults_come_back_as_values_with_their_place() {
    let memory = Memory::new()
        .with("shop/pump.rebuild", "use \"../shared/tools.rebuild\"\nfamily p \"P\" { origin \"invented\" }\npart a \"A\"\nstrip s \"S\" { tools bar  take a, b }\n")
        .with("shared/tools.rebuild", "tool bar \"Bar\"\n");
    let mut workshop = Workshop::over(memory);
    let opened = workshop.job(&Request::of("shop/pump.rebuild"));
    assert!(opened.value.is_none());
    let [complaint] = opened.diagnostics.as_slice() else { panic!("{:?}", opened.diagnostics) };
    assert_eq!(complaint.code.name, "procedure/unknown-name");
    let file = workshop.sources().file(complaint.labels[0].span.file);
    assert_eq!(file.position(complaint.labels[0].span.start()).line, 4);

    let found = workshop.procedures(&["shop".into(), "nowhere.rebuild".into()]);
    assert_eq!(found.value, [Path::new("shop/pump.rebuild"), Path::new("nowhere.rebuild")]);
    let missing = workshop.check(Path::new("nowhere.rebuild"));
    assert!(missing.value.is_none());
    assert_eq!(missing.diagnostics[0].code.name, "source/unreadable");
}
