//! How long the language takes over a text of ten thousand steps.

use std::fmt::Write;

use benchleaf::{FileId, parse};
use criterion::{Criterion, Throughput, criterion_group, criterion_main};

/// A text of `steps` steps with as many parts and sets of fasteners; about 150 bytes a step.
fn steps(steps: usize) -> String {
    let mut text = String::new();
    for step in 0..steps {
        write!(
            text,
            "strip lift_{step} \"Lift cover {step}\" {{\n    after lift_{step}\n    tools puller  hands 2  time 25 min\n    \
             hazard falling\n    undo nuts_{step}\n    take cover_{step} \"Straight up.\"\n}}\n"
        )
        .expect("a String takes all that is written to it");
    }
    text
}

fn language(criterion: &mut Criterion) {
    let mut group = criterion.benchmark_group("language");
    group.sample_size(10);
    for count in [1_000, 10_000, 50_000] {
        let text = steps(count);
        group.throughput(Throughput::Bytes(text.len() as u64));
        group.bench_function(format!("{count} steps"), |bench| bench.iter(|| parse(FileId(0), &text)));
    }
    group.finish();
}

criterion_group!(benches, language);
criterion_main!(benches);
