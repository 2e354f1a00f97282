//! Every room's entry function on the shipped family and its job, one after the other: from text to PDF.

use std::hint::black_box;
use std::path::Path;

use benchleaf::model::Phase;
use benchleaf::{
    Choosing, JobView, PacketOptions, PageSetup, PlanOptions, Request, Workshop, bind_record, connect,
    decide, lay_out, packet, parse, plan, read_record, resolve, write_pdf,
};
use criterion::{Criterion, criterion_group, criterion_main};

fn rooms(criterion: &mut Criterion) {
    let root = Path::new("procedures/brackwater3.rebuild");
    let record = Path::new("procedures/brackwater3.job.yaml");
    let mut workshop = Workshop::new();
    let opened = workshop.job(&Request { record: Some(record), ..Request::of(root) });
    let view = opened.value.expect("the family and its job are shipped");
    let JobView { procedure: loaded, network, decisions, job, .. } = &view;
    let sources = workshop.sources();
    let text = |path: &Path| {
        let (id, file) = sources.files().find(|(_, file)| file.path == path).expect("it was read");
        (id, file.text.as_str())
    };
    let ((file, procedure), (yaml_file, yaml)) = (text(root), text(record));
    let trees: Vec<_> =
        loaded.files.iter().rev().map(|id| parse(*id, &sources.file(*id).text).value).collect();
    let material = view.material(&workshop);
    let options = PacketOptions::of(Phase::Strip);
    let sheets = view.packet(&workshop, &options);
    let setup = PageSetup::default();
    let pages = lay_out(&sheets, &setup).value;

    let mut group = criterion.benchmark_group("rooms");
    group.sample_size(20);
    group.bench_function("language", |b| b.iter(|| parse(file, black_box(procedure))));
    group.bench_function("procedure", |b| b.iter(|| resolve(black_box(&trees))));
    group.bench_function("network", |b| b.iter(|| connect(black_box(loaded))));
    group.bench_function("record", |b| {
        b.iter(|| bind_record(&read_record(yaml_file, black_box(yaml)).value, loaded));
    });
    group.bench_function("decide", |b| b.iter(|| decide(loaded, &network.structure, black_box(job))));
    group.bench_function("plan", |b| {
        b.iter(|| {
            plan(
                loaded,
                network,
                black_box(decisions),
                PlanOptions { recorded: false, choosing: Choosing::default() },
            )
        });
    });
    group.bench_function("packet", |b| b.iter(|| packet(black_box(&material), &options)));
    group.bench_function("page", |b| b.iter(|| lay_out(black_box(&sheets), &setup)));
    group.bench_function("pdf", |b| b.iter(|| write_pdf(black_box(&pages))));
    group.finish();
}

criterion_group!(benches, rooms);
criterion_main!(benches);
