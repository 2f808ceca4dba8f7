//! What people read: the sheet keeps to 80 columns, the pictures are well formed, JSON says units.

#![expect(clippy::unwrap_used, reason = "a test's own input is known")]

use comb::{Mass, ToldIn};
use jiff::civil::date;
use season::calibrate::Calibration;
use season::draw;
use season::outlook::LastTake;
use season::report::{Ask, FullComb, Report, report};
use season::reserve::Question;
use season::weather::{MonthMeans, YearOfMonths};
use season::{Climate, Colony, Place, Queen, Setting, Source};

fn made_up(honey: f64, bees: f64) -> Report {
    let means = |i: usize| MonthMeans {
        tmin_c: 4.0 + 1.5 * (6.0 - (i as f64 - 6.0).abs()),
        tmax_c: 12.0 + 2.0 * (6.0 - (i as f64 - 6.0).abs()),
        spread_k: 3.0,
        rain_mm: 70.0,
        rain_days: 9.0,
    };
    let place = Place::new(44.0, None).unwrap();
    let months = YearOfMonths(std::array::from_fn(means));
    let years = place.years(&Source::Monthly(Box::new(months)), 11).unwrap();
    let setting = Setting {
        place,
        years: &years,
        forage: Climate::Temperate.forage(44.0),
        warmer_k: 0.0,
        forecast: None,
        calibration: Calibration::default(),
    };
    let colony = Colony {
        bees,
        brood_cells: 5000.0,
        honey_kg: Mass::kg(honey),
        unripe_kg: Mass::ZERO,
        pollen_kg: None,
        queen: Queen::Laying,
        room_kg: Mass::kg(40.0),
    };
    let ask = Ask {
        question: Question {
            runs: 96,
            ..Question::new(date(2026, 9, 20), date(2027, 4, 1))
        },
        comb: FullComb {
            kg: Mass::kg(2.2),
            low_kg: Mass::kg(1.9),
            high_kg: Mass::kg(2.5),
        },
        take_kg: Mass::ZERO,
        bees_held: 22_000.0,
        outlook_days: 365,
        outlook_runs: 96,
    };
    report(&setting, &colony, &ask).unwrap()
}

#[test]
fn sheets_fit_eighty_columns_and_say_units() {
    for report in [
        made_up(6.0, 15_000.0),
        made_up(30.0, 22_000.0),
        made_up(10.0, 3000.0),
    ] {
        let sheet = draw::sheet(&report, ToldIn::Metric);
        for line in sheet.lines() {
            assert!(
                line.chars().count() <= 80,
                "{} columns: {line}",
                line.chars().count()
            );
        }
        for needed in ["kg", "rule of thumb", "seed", "handbooks advise"] {
            assert!(sheet.contains(needed), "{needed} is missing in\n{sheet}");
        }
    }
}

#[test]
fn a_difference_that_rounds_to_nothing_is_told_as_none() {
    let mut report = made_up(30.0, 22_000.0);
    let (low, high) = report.handbook.kg;
    for (needed, agrees) in [(low - 0.4, true), (low - 3.0, false), (high + 0.4, false)] {
        report.reserve.needed_kg = Some(Mass::kg(needed));
        let words = report.words_in(ToldIn::Metric).join(" ");
        assert!(
            !words.contains(" 0 kg less") && !words.contains(" 0 kg over"),
            "{words}"
        );
        assert!(!words.contains(" 0 kg under"), "{words}");
        assert_eq!(
            words.contains("the handbooks agree"),
            agrees,
            "{needed}: {words}"
        );
    }
}

#[test]
fn a_poor_hive_is_told_what_to_feed_and_a_small_one_that_it_is_small() {
    let poor = made_up(6.0, 15_000.0);
    let feed = poor.feed.unwrap();
    let short = poor.reserve.needed_kg.unwrap().to_kg() - 6.0;
    assert!((feed.short_kg.to_kg() - short).abs() < 1e-9);
    let small = made_up(10.0, 3000.0);
    assert!(
        small
            .words
            .iter()
            .any(|said| said.starts_with("Small clusters")),
        "{:?}",
        small.words
    );
    assert!(made_up(38.0, 15_000.0).feed.is_none());
}

#[test]
fn pictures_are_whole_and_hold_only_numbers() {
    let report = made_up(12.0, 15_000.0);
    for svg in [
        draw::stores_fan(
            &report.outlook,
            report.reserve.needed_kg,
            &draw::Style::file(ToldIn::Metric),
        ),
        draw::bees_fan(&report.outlook, &draw::Style::file(ToldIn::Metric)),
        draw::bar_chart(
            &report.drivers,
            report.reserve.needed_kg,
            &draw::Style::file(ToldIn::Metric),
        ),
        draw::forage_ribbon(&report.forage, &draw::Style::file(ToldIn::Metric)),
    ] {
        assert!(svg.starts_with("<svg ") && svg.trim_end().ends_with("</svg>"));
        assert!(!svg.contains("NaN") && !svg.contains("inf"), "{svg}");
        for tag in ["text", "polygon", "svg", "title"] {
            let opened = svg.matches(&format!("<{tag}")).count();
            let closed = svg.matches(&format!("</{tag}>")).count();
            let empty = if tag == "polygon" { opened } else { closed };
            assert_eq!(opened, empty, "{tag}");
        }
    }
}

#[test]
fn json_names_its_units() {
    let json = serde_json::to_value(made_up(12.0, 15_000.0)).unwrap();
    assert!(json["reserve"]["needed_kg"].is_number());
    assert!(json["outlook"]["weeks"][3]["stores_kg"]["p50"].is_number());
    assert_eq!(json["reserve"]["question"]["from"], "2026-09-20");
}

/// One concept, one figure: what can be spared today is what is there less what must stay, and no line of
/// the sheet says otherwise.
#[test]
fn what_can_be_spared_now_is_one_figure() {
    let rich = made_up(38.0, 15_000.0);
    let must_stay = rich
        .reserve
        .needed_kg
        .unwrap()
        .to_kg()
        .max(rich.thumb.combs.1 * 2.2);
    let spare = rich.spare_kg.unwrap().to_kg();
    assert!((spare - (38.0 - must_stay)).abs() < 1e-9);
    let sheet = draw::sheet(&rich, ToldIn::Metric);
    assert!(sheet.contains(&format!("{spare:.1} kg  now")), "{sheet}");
    let poor = made_up(6.0, 15_000.0);
    assert!(poor.spare_kg.unwrap() < Mass::ZERO);
    let from = match poor.last_take {
        LastTake::Nothing => None,
        LastTake::NoLimit { from } | LastTake::On { from, .. } => Some(from),
    };
    assert_ne!(from, Some(None), "short, yet a comb can be spared now");
    assert!(!draw::sheet(&poor, ToldIn::Metric).contains("can be spared now"));
}
