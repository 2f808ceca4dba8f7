//! Hunts for problems that take long: many instances of every make, the spread of the times and
//! of the states searched (which no other load on the machine changes), the slowest instance as JSON on
//! request.
//!
//! `cargo run --release -p advice --example closing_up_hunt -- [standing] [loose] [shims] [instances] [show]`
#![expect(
    clippy::print_stdout,
    reason = "a table on the terminal is what this example is for"
)]

mod instances;

use std::fmt;
use std::hint::black_box;
use std::time::Instant;

use advice::closing_up::{Effort, Outcome, Problem, solve, solve_counting};
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
    println!("{size:?}, {count} instances of each make");
    println!(
        "{:>16} {:>39} | {:>39}",
        "", "milliseconds", "states of the search"
    );
    let columns = format!(
        "{:>9} {:>9} {:>9} {:>9}",
        "median", "99 %", "max", "of seed"
    );
    println!(
        "{:>16} {columns} | {columns} {:>7} {:>7}",
        "make", "closed", "gave up"
    );
    let mut slowest = (0.0, None);
    for make in MAKES {
        let (mut closed, mut gave_up) = (0, 0);
        let mut times = Vec::with_capacity(count);
        let mut states = Vec::with_capacity(count);
        for seed in 0..count as u64 {
            let problem = instance(size, make, seed);
            let mut effort = Effort::default();
            match solve_counting(&problem, &mut effort) {
                Ok(Outcome::Closed(_)) => closed += 1,
                Ok(Outcome::Impossible { .. }) => {}
                Err(_) => gave_up += 1,
            }
            states.push((effort.states as f64, seed));
            times.push((milliseconds(&problem), seed));
        }
        let (times, states) = (Spread::of(times), Spread::of(states));
        println!(
            "{:>16} {times:.3} | {states:.0} {closed:7} {gave_up:7}",
            format!("{make:?}"),
        );
        if times.max.0 > slowest.0 {
            slowest = (times.max.0, Some((make, times.max.1)));
        }
    }
    if let (true, (_, Some((make, seed)))) = (show, slowest) {
        println!("{}", serde_json::to_string(&instance(size, make, seed))?);
    }
    Ok(())
}

/// How figures of many instances spread.
struct Spread {
    median: f64,
    most: f64,
    /// The largest, and the seed it is of.
    max: (f64, u64),
}

impl Spread {
    fn of(mut figures: Vec<(f64, u64)>) -> Self {
        figures.sort_by(|a, b| a.0.total_cmp(&b.0));
        let at = |share: f64| figures[((figures.len() - 1) as f64 * share) as usize];
        Self {
            median: at(0.5).0,
            most: at(0.99).0,
            max: at(1.0),
        }
    }
}

impl fmt::Display for Spread {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let digits = f.precision().unwrap_or(3);
        let (max, seed) = self.max;
        write!(
            f,
            "{:9.digits$} {:9.digits$} {max:9.digits$} {seed:9}",
            self.median, self.most
        )
    }
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
