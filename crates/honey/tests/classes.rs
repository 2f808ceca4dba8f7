//! Colour, keeping and limits, against their tables.

mod reference;

use honey::colour::ColourClass;
use honey::fermentation::{Keeping, YeastVerdict, keeping, with_yeast_count};
use honey::limits::{Item, Kind, Side, UsGrade, limit, limits, us_grade_by_moisture};
use honey::region::REGIONS;
use honey::{Moisture, Region};
use reference::{figure, rows};

fn water(percent: f64) -> Moisture {
    Moisture::percent(percent).expect("a possible moisture")
}

#[test]
fn colour_limits_belong_to_the_lighter_class() {
    for row in rows(include_str!("reference/pfund.csv")) {
        let name = row["name"].as_str();
        let at = |mm| ColourClass::from_pfund_mm(mm).unwrap();
        if let Some(over) = figure(&row, "over_mm_exclusive") {
            assert_eq!(at(over + 0.1).name(), name, "{row:?}");
            assert_ne!(at(over).name(), name, "{row:?}");
        }
        if let Some(to) = figure(&row, "to_mm_inclusive") {
            assert_eq!(at(to).name(), name, "{row:?}");
            assert_eq!(at(to).upper_mm(), Some(to), "{row:?}");
            let dense = figure(&row, "optical_density_max");
            assert_eq!(at(to).max_optical_density(), dense, "{row:?}");
        }
    }
    assert_eq!(
        ColourClass::from_pfund_mm(0.0).unwrap().name(),
        "Water White"
    );
    for bad in [-0.1, 141.0, f64::NAN] {
        assert!(ColourClass::from_pfund_mm(bad).is_err(), "{bad}");
    }
}

#[test]
fn yeast_verdicts_follow_the_table_at_its_limits() {
    for row in rows(include_str!("reference/fermentation.csv")) {
        let over = figure(&row, "over_water_pct_exclusive").unwrap_or(13.0) + 0.1;
        let to = figure(&row, "to_water_pct_inclusive").unwrap_or(25.0);
        let limit = figure(&row, "yeast_limit_per_g");
        for w in [over, to] {
            let got = |count| with_yeast_count(water(w), count);
            match row["limit_kind"].as_str() {
                "any" => assert_eq!(got(1e6), YeastVerdict::Safe, "{row:?}"),
                "at_most" => {
                    assert_eq!(got(limit.unwrap()), YeastVerdict::Safe, "{row:?}");
                    assert_eq!(got(limit.unwrap() + 1.0), YeastVerdict::AtRisk, "{row:?}");
                }
                "below" => {
                    assert_eq!(got(limit.unwrap()), YeastVerdict::AtRisk, "{row:?}");
                    assert_eq!(got(limit.unwrap() - 0.5), YeastVerdict::Safe, "{row:?}");
                }
                "none" => assert_eq!(got(0.0), YeastVerdict::AlwaysInDanger, "{row:?}"),
                other => panic!("unknown limit kind {other}"),
            }
        }
    }
}

#[test]
fn advice_on_water_alone_keeps_its_limits() {
    // reference notes, section 6: <= 17.0 safe, to 18.0 normally safe, to 19.0 doubtful (practice)
    let table = [
        (17.0, Keeping::Safe),
        (17.1, Keeping::NormallySafe),
        (18.0, Keeping::NormallySafe),
        (18.1, Keeping::Doubtful),
        (19.0, Keeping::Doubtful),
        (19.1, Keeping::UseSoon),
    ];
    for (percent, want) in table {
        assert_eq!(keeping(water(percent)), want, "{percent}");
    }
    // lawful in the EU, and yet it will not keep: the two are never merged
    let wet = water(19.8);
    let legal = limit(Region::Eu, Item::Moisture, Kind::General).unwrap();
    assert!(legal.admits_moisture(wet));
    assert_eq!(keeping(wet), Keeping::UseSoon);
}

#[test]
fn moisture_limits_are_those_of_the_instruments() {
    // reference notes, section 1, both tables
    let table = [
        (Region::Codex, Kind::General, 20.0),
        (Region::Codex, Kind::Heather, 23.0),
        (Region::Eu, Kind::General, 20.0),
        (Region::Eu, Kind::Heather, 23.0),
        (Region::Eu, Kind::Bakers, 23.0),
        (Region::Uk, Kind::BakersHeather, 25.0),
        (Region::Us, Kind::UsGradeAb, 18.6),
        (Region::Us, Kind::UsGradeC, 20.0),
        (Region::Australia, Kind::General, 21.0),
        (Region::NewZealand, Kind::General, 21.0),
        (Region::Australia, Kind::Stingless, 28.0),
    ];
    for (region, kind, percent) in table {
        let limit = limit(region, Item::Moisture, kind).unwrap();
        assert!(limit.admits_moisture(water(percent)), "{limit:?}");
        assert!(
            limit.admits_moisture(water(percent + 0.04)),
            "rounds: {limit:?}"
        );
        assert!(!limit.admits_moisture(water(percent + 0.1)), "{limit:?}");
        assert_eq!(limit.binding, region != Region::Us, "{limit:?}");
        assert!(!limit.instrument.is_empty());
    }
    // no region lends its figure to another
    assert!(limit(Region::Us, Item::Moisture, Kind::General).is_err());
    assert!(limit(Region::Codex, Item::Moisture, Kind::Bakers).is_err());
    assert!(limit(Region::Australia, Item::Hmf, Kind::General).is_err());
}

#[test]
fn other_limits_are_those_of_the_directive() {
    // Directive 2001/110/EC Annex II (seen; tropical HMF memory)
    let table = [
        (Item::InvertSugars, Kind::General, Side::AtLeast, 60.0),
        (Item::InvertSugars, Kind::Honeydew, Side::AtLeast, 45.0),
        (Item::Sucrose, Kind::General, Side::AtMost, 5.0),
        (Item::Sucrose, Kind::ListedPlants, Side::AtMost, 10.0),
        (Item::Sucrose, Kind::LavenderBorage, Side::AtMost, 15.0),
        (Item::Insolubles, Kind::General, Side::AtMost, 0.1),
        (Item::Insolubles, Kind::Pressed, Side::AtMost, 0.5),
        (Item::Conductivity, Kind::General, Side::AtMost, 0.8),
        (Item::Conductivity, Kind::Honeydew, Side::AtLeast, 0.8),
        (Item::FreeAcid, Kind::General, Side::AtMost, 50.0),
        (Item::FreeAcid, Kind::Bakers, Side::AtMost, 80.0),
        (Item::Diastase, Kind::General, Side::AtLeast, 8.0),
        (Item::Diastase, Kind::LowEnzyme, Side::AtLeast, 3.0),
        (Item::Hmf, Kind::General, Side::AtMost, 40.0),
        (Item::Hmf, Kind::Tropical, Side::AtMost, 80.0),
    ];
    for (item, kind, side, value) in table {
        for region in [Region::Eu, Region::Uk] {
            let limit = limit(region, item, kind).unwrap();
            assert_eq!(limit.side, side, "{limit:?}");
            assert!((limit.value - value).abs() < 1e-12, "{limit:?}");
            assert!(limit.admits(value));
            let worse = if side == Side::AtMost { 1.001 } else { 0.999 };
            assert!(!limit.admits(value * worse), "{limit:?}");
        }
    }
    // the annex of Codex is voluntary
    let acid = limit(Region::Codex, Item::FreeAcid, Kind::General).unwrap();
    assert!(!acid.binding);
    for region in REGIONS {
        assert!(!limits(region).is_empty(), "{region}");
    }
}

#[test]
fn us_grades_by_moisture() {
    // USDA 1985 standard: A and B to 18.6 %, C to 20 % (seen)
    for (percent, grade) in [
        (18.6, UsGrade::AOrB),
        (18.7, UsGrade::C),
        (20.0, UsGrade::C),
        (20.1, UsGrade::Substandard),
    ] {
        assert_eq!(us_grade_by_moisture(water(percent)), grade, "{percent}");
    }
}
