//! How long closing up takes at 8, 16 and 24 standing combs, with 6 loose bars and 8 shims.

#[path = "../examples/closing_up_hunt/instances.rs"]
mod instances;

use advice::closing_up::solve;
use criterion::{BenchmarkId, Criterion, criterion_group, criterion_main};
use instances::{MAKES, Size, instance};

fn closing_up(criterion: &mut Criterion) {
    let mut group = criterion.benchmark_group("closing_up");
    for standing in [8, 16, 24] {
        let size = Size {
            standing,
            loose: 6,
            shims: 8,
        };
        for make in MAKES {
            let problem = instance(size, make, 1);
            let id = BenchmarkId::new(format!("{make:?}"), standing);
            group.bench_with_input(id, &problem, |bencher, problem| {
                bencher.iter(|| solve(problem));
            });
        }
    }
    group.finish();
}

criterion_group!(benches, closing_up);
criterion_main!(benches);
