//! Every room's entry function on the shipped family and its job, one after the other: from text to PDF.

use std::hint::black_box;
use std::path::Path;

use benchleaf::model::Phase;
use benchleaf::{
    Choosing, Material, PacketOptions, PageSetup, Paper, PlanOptions, Sources, bind_record, connect, decide,
    lay_out, load, packet, parse, plan, read_record, resolve, write_pdf,
};
use criterion::{Criterion, criterion_group, criterion_main};

fn rooms(criterion: &mut Criterion) {
    let root = Path::new("procedures/brackwater3.rebuild");
    let mut sources = Sources::new();
    let loaded = load(&mut sources, root).value.expect("the family is shipped");
    let file = sources.read(Path::new("procedures/brackwater3.job.yaml")).expect("its job is shipped");
    let yaml = sources.file(file).text.clone();
    let (file, text) =
        sources.files().map(|(id, file)| (id, file.text.clone())).next().expect("the root was read");
    let trees: Vec<_> =
        loaded.files.iter().rev().map(|id| parse(*id, &sources.file(*id).text).value).collect();
    let network = connect(&loaded).value;
    let written = read_record(file, &yaml).value;
    let job = bind_record(&written, &loaded).value;
    let decisions = decide(&loaded, &network.structure, &job).value;
    let planned =
        plan(&loaded, &network, &decisions, PlanOptions { recorded: false, choosing: Choosing::default() });
    let material = Material {
        sources: &sources,
        procedure: &loaded,
        network: &network,
        decisions: &decisions,
        plan: &planned,
        job: &job,
        shop: None,
        touched: &[],
    };
    let options = PacketOptions { phase: Phase::Strip, sheets: Vec::new(), all: false, hands: None };
    let sheets = packet(&material, &options);
    let setup = PageSetup { paper: Paper::A4, two_sided: false };
    let pages = lay_out(&sheets, &setup).value;

    let mut group = criterion.benchmark_group("rooms");
    group.sample_size(20);
    group.bench_function("language", |b| b.iter(|| parse(file, black_box(&text))));
    group.bench_function("procedure", |b| b.iter(|| resolve(black_box(&trees))));
    group.bench_function("network", |b| b.iter(|| connect(black_box(&loaded))));
    group.bench_function("record", |b| {
        b.iter(|| bind_record(&read_record(file, black_box(&yaml)).value, &loaded));
    });
    group.bench_function("decide", |b| b.iter(|| decide(&loaded, &network.structure, black_box(&job))));
    group.bench_function("plan", |b| {
        b.iter(|| {
            plan(
                &loaded,
                &network,
                black_box(&decisions),
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
