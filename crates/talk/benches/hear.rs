//! How long a phrase takes, and how much chatter is heard a second.

use std::hint::black_box;

use criterion::{Criterion, Throughput, criterion_group, criterion_main};
use talk::{Listener, hear_text};

const VISIT: &str = include_str!("../tests/visits/13-peppercorn-both-ends.txt");

fn phrases(c: &mut Criterion) {
    let lines: Vec<&str> = VISIT.lines().collect();
    hear_text(VISIT);
    c.bench_function("one phrase of a visit", |b| {
        let mut listener = Listener::new();
        let mut at = 0;
        b.iter(|| {
            if at == lines.len() {
                listener = Listener::new();
                at = 0;
            }
            let heard = listener.hear(black_box(lines[at]));
            at += 1;
            heard
        });
    });
    c.bench_function("a visit of 57 phrases", |b| {
        b.iter(|| hear_text(black_box(VISIT)));
    });
}

/// As a general recogniser gave them (see `talk`'s `readings.rs`), in the middle of a visit.
fn readings(c: &mut Criterion) {
    let (before, _) = VISIT.split_at(VISIT.len() / 2);
    let mut listener = Listener::new();
    for line in before.lines() {
        listener.hear(line);
    }
    let six = [
        "bar seventeen is funny as well",
        "barr seventeen is funny as well",
        "are seventeen is funny as well",
        "our seventeen is funny as well",
        "bahr seventeen is funny as well",
        "bar seventeen is honey as well",
    ];
    c.bench_function("the likeliest of six readings", |b| {
        b.iter(|| listener.likeliest(black_box(&six)));
    });
}

fn chatter(c: &mut Criterion) {
    let line = "well my neighbour down the road said the weather would turn before the weekend so we had tea\n";
    let text = line.repeat(10_000);
    let mut group = c.benchmark_group("chatter");
    group.throughput(Throughput::Bytes(text.len() as u64));
    group.sample_size(10);
    group.bench_function("about nothing", |b| b.iter(|| hear_text(black_box(&text))));
    group.finish();
}

criterion_group!(benches, phrases, readings, chatter);
criterion_main!(benches);
