//! The phone and the desk reckon the same season: the same code as WebAssembly in Chromium and as a
//! native program, one the reference of the other, compared to the last digit.

use std::fmt::Write as _;
use std::time::Duration;

use advice::on_record::means;
use advice::season_model::{ModelAsk, RUNS, SEED, SURE, SeasonAsk, season_of};
use hive::entry::Climate;
use hive::{Entry, Yard};
use jiff::civil::Date;
use season::weather::read_csv;
use season::{Place, Series};
use serde_json::Value;
use web_tests::browser::{Browser, PHONE};
use web_tests::stage::Stage;
use web_tests::{home, wattle_bend};

async fn within(test: impl Future<Output = ()>) {
    tokio::time::timeout(Duration::from_mins(4), test)
        .await
        .expect("it takes too long");
}

/// Latitude of the place that is told, and its height above the sea in metres.
const LATITUDE: f64 = -34.4;

/// Ten made-up years for a real winter, as a file. Only that both read the same file matters here.
fn weather_file() -> String {
    let years = means(Some(Climate::RealWinter), LATITUDE).years(10, 7);
    let mut file = String::from("date,tmin_c,tmax_c,rain_mm\n");
    for day in years.expect("the means are sound").days() {
        let known = |figure: Option<f64>| figure.expect("made-up days are whole");
        let (low, high, rain) = (known(day.tmin_c), known(day.tmax_c), known(day.rain_mm));
        writeln!(file, "{},{low},{high},{rain}", day.date).expect("a string takes it");
    }
    file
}

fn yard(stage: &Stage) -> Yard {
    let records = stage.journal.records().into_iter();
    Yard::fold(records.map(|record| Entry::parse(&record.text).expect("an entry")))
}

/// The yard once the server has the place that the phone was told.
async fn yard_with_the_place(stage: &Stage) -> Yard {
    loop {
        let yard = yard(stage);
        let told = yard
            .apiaries()
            .filter_map(|apiary| apiary.place)
            .any(|place| place.latitude.to_bits() == LATITUDE.to_bits());
        if told {
            return yard;
        }
        tokio::time::sleep(Duration::from_millis(100)).await;
    }
}

fn day(text: &Value) -> Date {
    text.as_str().expect("a day").parse().expect("a day")
}

#[tokio::test(flavor = "multi_thread")]
async fn the_phone_reckons_as_the_desk_does() {
    within(async {
        let folder = tempfile::tempdir().expect("a folder");
        let file = folder.path().join("weather.csv");
        std::fs::write(&file, weather_file()).expect("written");
        let weather: Series = read_csv(&weather_file()).expect("it reads").series;

        let stage = Stage::start();
        let browser = Browser::start(home::empty(), PHONE).await;
        wattle_bend::bring(&browser, &stage).await;
        browser.open(&stage.at("/settings")).await;
        browser.click(".row-button").await;
        browser.write_into("#latitude", &LATITUDE.to_string()).await;
        browser.write_into("#longitude", "150.9").await;
        browser.click("#keep-place").await;
        browser.see("main", "Kept on this device").await;
        let yard = yard_with_the_place(&stage).await;

        browser.open(&stage.at("/season")).await;
        browser
            .type_into("#weather", &file.display().to_string())
            .await;
        browser.see("main", "days of weather are kept").await;
        browser.click("#reckon").await;
        browser
            .see_within("#season-answer", "Stores needed", 90)
            .await;
        let saved = browser.saved_by("#save-season").await;
        let phone: Value = serde_json::from_str(&saved).expect("JSON");

        let name = phone["hive"].as_str().expect("a name");
        let hive = yard.hive_named(name).expect("it is in the yard");
        let apiary = hive.apiary.and_then(|id| yard.apiary(id));
        let there = apiary.and_then(|apiary| apiary.place).expect("told");
        let place = Place::new(there.latitude, there.altitude_m).expect("a place");
        let ask = SeasonAsk {
            from: day(&phone["report"]["reserve"]["question"]["from"]),
            sure: SURE,
            take_combs: 0.0,
            runs: RUNS,
            seed: SEED,
        };
        let desk = season_of(&yard, hive, place, Some(&weather), &ask).expect("reckoned");
        // as text: each figure's shortest digits tell it from every other
        let digits = |report: &Value| serde_json::to_string_pretty(report).expect("JSON");
        let desk_report = serde_json::to_value(&desk.report).expect("JSON");
        assert_eq!(digits(&phone["report"]), digits(&desk_report));

        // the reserve that stands in advice, reckoned in the background
        let kept = "return localStorage.getItem('reserves')";
        let phone = loop {
            let kept = browser.script(kept).await;
            let lines: Vec<String> = kept
                .as_str()
                .unwrap_or_default()
                .lines()
                .map(str::to_owned)
                .collect();
            if lines.len() == yard.living_hives().len() {
                break lines;
            }
            tokio::time::sleep(Duration::from_millis(200)).await;
        };
        let mut larger = None;
        for hive in yard.living_hives() {
            let ask = ModelAsk::of(&yard, hive, ask.from).expect("a colony on record");
            let desk = ask.answer(&weather).expect("the weather makes years");
            let answer = desk.map_or_else(String::new, |desk| {
                format!(" {} {} {}", desk.mass.to_kg(), desk.sure, desk.until)
            });
            let of_hive = |line: &&String| line.starts_with(&hive.id.to_string());
            let line = phone.iter().find(of_hive).expect("each hive has a line");
            let told = line.splitn(3, ' ').nth(2);
            assert_eq!(
                told.unwrap_or_default(),
                answer.trim_start(),
                "{}",
                hive.name
            );
            larger = larger.or(desk.map(|desk| (hive.id, desk)));
        }
        let (hive, model) = larger.expect("one of five colonies has a reserve");
        browser.open(&stage.at(&format!("/hive/{hive}"))).await;
        browser.see("main", "The season model asks for").await;
        let kg = format!("{} kg", (model.mass.to_kg() * 10.0).round() / 10.0);
        browser.see("main", &kg).await;
        assert_eq!(browser.complaints().await, Vec::<String>::new());
        browser.end().await;
    })
    .await;
}
