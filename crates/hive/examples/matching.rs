//! Measures the matching of unmarked bars on invented hives.
//!
//!     cargo run -p hive --release --example matching [SEED]

#[path = "../tests/simulation/mod.rs"]
mod simulation;

use std::time::Instant;

use simulation::{Case, Changes, Combs, Moves, Talk, Tally, run, shuffled_once};

const HIVES: u64 = 100;

#[expect(clippy::print_stdout, reason = "an example that reports")]
fn main() {
    let seed = std::env::args()
        .nth(1)
        .and_then(|s| s.parse().ok())
        .unwrap_or(20_260_912);
    println!("seed {seed}, {HIVES} hives of 20 bars, 10 visits each, 10 days apart");
    println!(
        "between visits: one swap of neighbours, one bar moved up to 5 places; shares +-0.15\n"
    );
    for (name, case) in cases() {
        let began = Instant::now();
        let tally = run(case, HIVES, seed);
        let each = began.elapsed().as_secs_f64() * 1000.0 / (HIVES * 10) as f64;
        report(name, &tally);
        println!("  {each:.1} ms a visit, simulation included\n");
    }
    report(
        "full talk, the row shuffled",
        &shuffled_once(Talk::Full, HIVES, seed),
    );
    report(
        "spare talk, the row shuffled",
        &shuffled_once(Talk::Spare, HIVES, seed),
    );
}

/// "Once": one comb in and one out in ten visits; otherwise before every visit.
fn cases() -> [(&'static str, Case); 8] {
    let unlike = Case {
        combs: Combs::Unlike,
        talk: Talk::Full,
        changes: Changes::Once,
        moves: Moves::Anywhere,
        met: 20,
    };
    let ripening = Case {
        combs: Combs::Ripening,
        moves: Moves::OutsideNest,
        ..unlike
    };
    let spare = |case| Case {
        talk: Talk::Spare,
        ..case
    };
    let every = |case| Case {
        changes: Changes::EveryVisit,
        ..case
    };
    let brood_too = Case {
        moves: Moves::Anywhere,
        ..ripening
    };
    let outer = Case { met: 9, ..ripening };
    [
        ("unlike combs, full talk, once", unlike),
        ("unlike combs, full talk, every visit", every(unlike)),
        ("unlike combs, spare talk, once", spare(unlike)),
        ("ripening combs, full talk, once", ripening),
        ("ripening combs, full talk, every visit", every(ripening)),
        ("ripening combs, spare talk, once", spare(ripening)),
        (
            "ripening combs, full talk, once, brood moved too",
            brood_too,
        ),
        ("ripening combs, full talk, once, 9 combs met", outer),
    ]
}

#[expect(clippy::print_stdout, reason = "an example that reports")]
fn report(name: &str, tally: &Tally) {
    println!("{name}");
    println!("  right at each visit {:.1} %", tally.right() * 100.0);
    if tally.there_throughout > 0 {
        println!(
            "  still called right after ten visits {:.1} %",
            tally.kept_right() * 100.0
        );
    }
    for (from, to) in [
        (0.0, 0.5),
        (0.5, 0.7),
        (0.7, 0.8),
        (0.8, 0.9),
        (0.9, 0.95),
        (0.95, 0.99),
        (0.99, 1.01),
    ] {
        let (count, said, right) = tally.band(from, to);
        println!(
            "  says {:>3.0} to {:>3.0} %: {count:>6} matches, says {:>5.1} %, right {:>5.1} %",
            from * 100.0,
            (to * 100.0_f64).min(100.0),
            said * 100.0,
            right * 100.0
        );
    }
}
