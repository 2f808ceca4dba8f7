//! Times 10,000 colony-years and one reserve answer on one core; best of several. Processor time where
//! the system tells it (Linux), else the clock's: other work on the machine then counts less.
//!
//! `cargo run --release -p season --example season_speed -- WEATHER.csv`
//! prints one line of JSON that bench/season.sh sets beside the numpy version's.

#![expect(clippy::print_stdout, reason = "an example prints its answer")]

use std::sync::LazyLock;
use std::time::Instant;

use comb::Mass;
use jiff::civil::date;
use season::calibrate::Calibration;
use season::ensemble::Ensemble;
use season::reserve::{Question, reserve};
use season::weather::read_csv;
use season::{Climate, Colony, Place, Queen, Setting, Span, WhatIf, Years};

static STARTED: LazyLock<Instant> = LazyLock::new(Instant::now);

/// Seconds that this process has had a processor; the clock's where that is not told.
fn seconds() -> f64 {
    let told = std::fs::read_to_string("/proc/self/schedstat").ok();
    let nanoseconds = told.and_then(|text| text.split(' ').next()?.parse::<f64>().ok());
    nanoseconds.map_or_else(|| STARTED.elapsed().as_secs_f64(), |ns| ns * 1e-9)
}

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let file = std::env::args().nth(1).ok_or("give a weather file")?;
    let years = Years::new(&read_csv(&std::fs::read_to_string(file)?)?.series)?;
    let setting = Setting {
        place: Place::new(40.4, None)?,
        years: &years,
        forage: Climate::ColdContinental.forage(40.4),
        warmer_k: 0.0,
        forecast: None,
        calibration: Calibration::default(),
    };
    let colony = Colony {
        bees: 15_000.0,
        brood_cells: 4000.0,
        honey_kg: Mass::kg(40.0),
        unripe_kg: Mass::ZERO,
        pollen_kg: None,
        queen: Queen::Laying,
        room_kg: Mass::kg(60.0),
    };
    let from = date(2026, 10, 1);
    let span = Span {
        from,
        days: 365,
        runs: 10_000,
        seed: 1,
    };
    let best = |times: usize, work: &mut dyn FnMut()| -> f64 {
        let once = |_| {
            let start = seconds();
            work();
            seconds() - start
        };
        (0..times).map(once).fold(f64::INFINITY, f64::min)
    };
    let ensemble = Ensemble::new(&setting, &colony, &span)?;
    let (honey, unripe) = ensemble.own_stores();
    let (mut living, mut spring) = (0.0, Vec::new());
    let mut years_of = |ensemble: &Ensemble| {
        living = 0.0;
        spring.clear();
        for group in ensemble.groups() {
            let end = ensemble.live(group, &WhatIf::default(), honey, unripe, |day, colonies| {
                if day == 195 {
                    spring.extend(colonies.stores().to_array());
                }
                true
            });
            living += end.alive.to_array().iter().sum::<f32>();
        }
    };
    let draw = best(5, &mut || {
        let drawn = Ensemble::new(&setting, &colony, &span);
        assert!(drawn.is_ok());
    });
    let live = best(15, &mut || years_of(&ensemble));
    let question = Question::new(from, date(2027, 4, 15));
    let mut answer = None;
    let answering = best(10, &mut || {
        answer = reserve(&setting, &colony, &question).ok();
    });
    let answer = answer.ok_or("no answer")?;
    spring.sort_by(f32::total_cmp);
    let median = spring[spring.len() / 2];
    println!(
        "{{\"colony_years\": 10000, \"draw_s\": {draw:.4}, \"live_s\": {live:.4}, \"alive\": {living}, \"spring_stores_kg\": {median:.3}, \
         \"reserve_s\": {answering:.4}, \"reserve_runs\": {}, \"needed_kg\": {:?}, \"between_kg\": {:?}}}",
        answer.runs,
        answer.needed_kg.map(Mass::to_kg),
        (
            answer.between_kg.0.to_kg(),
            answer.between_kg.1.map(Mass::to_kg)
        ),
    );
    Ok(())
}
