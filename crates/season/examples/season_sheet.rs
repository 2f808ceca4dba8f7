//! Prints a season sheet for a made-up hive under a given weather file, and writes its pictures.
//!
//! `cargo run --release -p season --example season_sheet -- WEATHER.csv LATITUDE CLIMATE FROM UNTIL [OUT_DIR]`

#![expect(clippy::print_stdout, reason = "an example prints its answer")]

use comb::{Mass, ToldIn};
use season::calibrate::Calibration;
use season::draw;
use season::report::{Ask, FullComb, report};
use season::reserve::Question;
use season::weather::read_csv;
use season::{Climate, Colony, Place, Queen, Setting, Years};

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let words: Vec<String> = std::env::args().skip(1).collect();
    let [file, latitude, climate, from, until, out @ ..] = words.as_slice() else {
        return Err("WEATHER.csv LATITUDE CLIMATE FROM UNTIL [OUT_DIR]".into());
    };
    let years = Years::new(&read_csv(&std::fs::read_to_string(file)?)?.series)?;
    let latitude: f64 = latitude.parse()?;
    let climate: Climate = serde_json::from_value(serde_json::Value::String(climate.clone()))?;
    let setting = Setting {
        place: Place::new(latitude, None)?,
        years: &years,
        forage: climate.forage(latitude),
        warmer_k: 0.0,
        forecast: None,
        calibration: Calibration::default(),
    };
    let colony = Colony {
        bees: 15_000.0,
        brood_cells: 6000.0,
        honey_kg: Mass::kg(14.0),
        unripe_kg: Mass::kg(1.0),
        pollen_kg: None,
        queen: Queen::Laying,
        room_kg: Mass::kg(45.0),
    };
    let ask = Ask {
        question: Question::new(from.parse()?, until.parse()?),
        comb: FullComb {
            kg: Mass::kg(2.3),
            low_kg: Mass::kg(2.0),
            high_kg: Mass::kg(2.6),
        },
        take_kg: Mass::kg(0.0),
        bees_held: 25_000.0,
        outlook_days: 365,
        outlook_runs: 1000,
    };
    let start = std::time::Instant::now();
    let report = report(&setting, &colony, &ask)?;
    let took = start.elapsed();
    print!("{}", draw::sheet(&report, ToldIn::Metric));
    println!("({took:.1?} for everything)");
    if let [folder] = out {
        let save = |name: &str, text: String| std::fs::write(format!("{folder}/{name}"), text);
        save(
            "stores.svg",
            draw::stores_fan(
                &report.outlook,
                report.reserve.needed_kg,
                &draw::Style::file(ToldIn::Metric),
            ),
        )?;
        save(
            "bees.svg",
            draw::bees_fan(&report.outlook, &draw::Style::file(ToldIn::Metric)),
        )?;
        save(
            "drivers.svg",
            draw::bar_chart(
                &report.drivers,
                report.reserve.needed_kg,
                &draw::Style::file(ToldIn::Metric),
            ),
        )?;
        save(
            "forage.svg",
            draw::forage_ribbon(&report.forage, &draw::Style::file(ToldIn::Metric)),
        )?;
        save("report.json", serde_json::to_string_pretty(&report)?)?;
    }
    Ok(())
}
