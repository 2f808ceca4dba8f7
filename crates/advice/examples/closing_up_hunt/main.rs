//! Hunts for problems that take long: many instances of every make, the spread of the times, the
//! slowest instance as JSON on request.
//!
//! `cargo run --release -p advice --example closing_up_hunt -- [standing] [loose] [shims] [instances] [show]`
#![expect(
    clippy::print_stdout,
    reason = "a table on the terminal is what this example is for"
)]

mod instances;

use std::hint::black_box;
use std::time::Instant;

use advice::closing_up::{Outcome, Problem, solve};
use instances::{MAKES, Size, instance};

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let mut args = std::env::args().skip(1);
    let mut number = |default: usize| -> Result<usize, std::num::ParseIntError> {
        args.next().map_or(Ok(default), |text| text.parse())
    };
    let size = Size {
        standing: number(24)?,
        loose: number(6)?,
        shims: number(8)?,
    };
    let (count, show) = (number(1000)?, number(0)? > 0);
    println!("{size:?}, {count} instances of each make; milliseconds");
    println!(
        "{:>16} {:>8} {:>8} {:>8} {:>8} {:>8}",
        "make", "median", "99 %", "max", "of seed", "closed"
    );
    let mut slowest = (0.0, None);
    for make in MAKES {
        let mut closed = 0;
        let mut times = Vec::with_capacity(count);
        for seed in 0..count as u64 {
            let problem = instance(size, make, seed);
            closed += usize::from(matches!(solve(&problem), Ok(Outcome::Closed(_))));
            times.push((milliseconds(&problem), seed));
        }
        times.sort_by(|a, b| a.0.total_cmp(&b.0));
        let at = |share: f64| times[((times.len() - 1) as f64 * share) as usize];
        let (median, most, max) = (at(0.5).0, at(0.99).0, at(1.0));
        println!(
            "{:>16} {median:8.3} {most:8.3} {:8.3} {:8} {closed:8}",
            format!("{make:?}"),
            max.0,
            max.1
        );
        if max.0 > slowest.0 {
            slowest = (max.0, Some((make, max.1)));
        }
    }
    if let (true, (_, Some((make, seed)))) = (show, slowest) {
        println!("{}", serde_json::to_string(&instance(size, make, seed))?);
    }
    Ok(())
}

/// Of a few runs the fastest, since others use the machine too.
fn milliseconds(problem: &Problem) -> f64 {
    let once = |_| {
        let start = Instant::now();
        let _ = black_box(solve(black_box(problem)));
        start.elapsed().as_secs_f64() * 1e3
    };
    let first = once(0);
    let again = if first > 1.0 { 4 } else { 0 };
    (0..again).map(once).fold(first, f64::min)
}
