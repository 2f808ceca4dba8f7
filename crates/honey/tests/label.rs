//! What labels must say, against the tables of the reference notes.

use comb::{Area, Length, Mass, Share};
use honey::label::lettering::{flat_panel, net_quantity_height, round_panel, x_height};
use honey::label::words::{
    best_before, lot_mark, names, net_quantity, origin, shortest_best_before, usual_best_before,
};
use honey::label::{Duty, Field, Given, draft, rules};
use honey::lots::event::Method;
use honey::region::REGIONS;
use honey::{HoneyError, Region};
use jiff::civil::date;

#[test]
fn each_region_asks_for_what_the_table_says() {
    // reference notes, section 10: M mandatory, V voluntary, c conditional, - no general rule;
    // columns EU, UK, US, Australia, NZ, Codex
    let table = "
        Name         M M M M M M
        NetQuantity  M M M M M M
        Business     M M M M M M
        Origin       M M c M V c
        Lot          M M - M M M
        BestBefore   M M - c c M
        Storage      c c - c c c
        Nutrition    - - c M M -
        Ingredients  - - - - - -
        InfantCaution V V V V V -";
    let order = [
        Region::Eu,
        Region::Uk,
        Region::Us,
        Region::Australia,
        Region::NewZealand,
        Region::Codex,
    ];
    let mut rows = 0;
    for line in table.lines().filter(|line| !line.trim().is_empty()) {
        let mut words = line.split_whitespace();
        let field = words.next().unwrap();
        for (region, mark) in order.iter().zip(words) {
            let rules = rules(*region);
            let rule = rules
                .iter()
                .find(|rule| format!("{:?}", rule.field) == field);
            let rule = rule.unwrap_or_else(|| panic!("no {field}"));
            let want = match mark {
                "M" => Duty::Mandatory,
                "V" => Duty::Voluntary,
                "c" => Duty::Conditional,
                _ => Duty::NoRule,
            };
            assert_eq!(rule.duty, want, "{field} in {region}");
            assert!(!rule.instrument.is_empty());
            assert!(
                rule.duty != Duty::Conditional || !rule.note.is_empty(),
                "{rule:?}"
            );
        }
        rows += 1;
    }
    assert_eq!(rows, 10);
}

#[test]
fn figures_are_as_high_as_the_directive_asks() {
    // seen (usda-eu.org; FPVO par. 11): up to 50 g 2 mm, 200 g 3 mm, 1000 g 4 mm, over 6 mm
    let panel = Area::dm2(0.5);
    for (grams, mm) in [
        (28.0, 2.0),
        (50.0, 2.0),
        (50.1, 3.0),
        (200.0, 3.0),
        (227.0, 4.0),
        (1000.0, 4.0),
        (1001.0, 6.0),
    ] {
        for region in [Region::Eu, Region::Uk] {
            let height = net_quantity_height(region, Mass::grams(grams), panel).unwrap();
            assert!(
                (height.height.to_mm() - mm).abs() < 1e-9,
                "{grams} g in {region}"
            );
        }
    }
    // 21 CFR 101.7(i), memory: square inches and inches
    for (square_inches, inches) in [
        (5.0, 0.0625),
        (5.1, 0.125),
        (25.0, 0.125),
        (100.0, 0.1875),
        (400.0, 0.25),
        (401.0, 0.5),
    ] {
        let panel = flat_panel(Length::inches(1.0), Length::inches(square_inches));
        let height = net_quantity_height(Region::Us, Mass::grams(340.0), panel).unwrap();
        assert!(
            (height.height.to_inches() - inches).abs() < 1e-9,
            "{square_inches}"
        );
    }
    for region in [Region::Codex, Region::Australia, Region::NewZealand] {
        let none = net_quantity_height(region, Mass::grams(340.0), panel).unwrap_err();
        assert!(matches!(none, HoneyError::NoRule { .. }), "{none}");
    }
    // 80 cm2 is not under 80 cm2
    for (dm2, mm) in [(0.79, 0.9), (0.8, 1.2), (2.0, 1.2)] {
        let height = x_height(Region::Eu, Area::dm2(dm2)).unwrap().height;
        assert!((height.to_mm() - mm).abs() < 1e-9, "{dm2}");
    }
    // 21 CFR 101.1 (seen): 40 % of height x circumference of a round jar
    let round = round_panel(Length::mm(80.0), Length::mm(230.0));
    assert!((round.to_dm2() - 0.736).abs() < 1e-9);
}

#[test]
fn net_quantities_are_worded_as_each_place_reads_them() {
    for (region, grams, words) in [
        (Region::Eu, 340.0, "340 g"),
        (Region::Uk, 1000.0, "1 kg"),
        (Region::Australia, 1360.0, "1.36 kg"),
        // seen (trytruli.com): NET WT 12 OZ (340 g)
        (Region::Us, 340.0, "NET WT 12 OZ (340 g)"),
        (Region::Us, 453.592_37, "NET WT 1 LB (454 g)"),
        (Region::Us, 680.4, "NET WT 1 LB 8 OZ (680 g)"),
        (Region::Us, 1360.8, "NET WT 3 LB (1.361 kg)"),
    ] {
        let net = net_quantity(region, Mass::grams(grams)).unwrap();
        assert_eq!(net.text, words);
        assert!(net.promised_kg.to_grams() > grams - 0.5, "{net:?}");
    }
    for bad in [0.0, 4.0, 26_000.0, f64::NAN] {
        assert!(net_quantity(Region::Eu, Mass::grams(bad)).is_err(), "{bad}");
    }
}

#[test]
fn a_short_date_never_promises_more_than_the_full_one() {
    let packed = date(2026, 2, 20);
    let short = |day| shortest_best_before(Region::Uk, packed, day).unwrap();
    assert_eq!(short(date(2027, 12, 31)), "Best before end 2027");
    assert_eq!(short(date(2028, 2, 29)), "Best before end Feb 2028");
    assert_eq!(short(date(2028, 2, 8)), "Best before 8 Feb 2028");
    assert_eq!(short(date(2026, 12, 31)), "Best before end Dec 2026");
    assert_eq!(short(date(2026, 4, 30)), "Best before 30 Apr 2026");
    assert!(shortest_best_before(Region::Us, packed, date(2028, 2, 8)).is_err());
    assert_eq!(best_before(date(2028, 2, 8)), "Best before 8 Feb 2028");
    assert_eq!(
        usual_best_before(date(2024, 2, 29)),
        Some(date(2026, 2, 28))
    );
}

#[test]
fn origins_fall_by_share_and_make_a_hundred() {
    let shares = |parts: &[(&str, f64)]| {
        let each = parts
            .iter()
            .map(|(c, s)| ((*c).to_owned(), Share::new(*s).unwrap()));
        each.collect::<Vec<_>>()
    };
    let thirds = shares(&[("B", 1.0 / 3.0), ("A", 1.0 / 3.0), ("C", 1.0 / 3.0)]);
    assert_eq!(
        origin(Region::Eu, &thirds).unwrap(),
        "A 34 %, B 33 %, C 33 %"
    );
    assert_eq!(origin(Region::Uk, &thirds).unwrap(), "A, B, C");
    let two = shares(&[("Small", 0.29), ("Large", 0.71)]);
    assert_eq!(origin(Region::Eu, &two).unwrap(), "Large 71 %, Small 29 %");
    let one = shares(&[("Australia", 1.0)]);
    assert_eq!(origin(Region::Eu, &one).unwrap(), "Australia");
    let part = shares(&[("Australia", 0.9)]);
    assert!(
        origin(Region::Eu, &part)
            .unwrap_err()
            .to_string()
            .contains("90.0 %")
    );
}

#[test]
fn comb_is_never_sold_as_plain_honey() {
    // Directive 2001/110/EC Annex I (seen)
    assert!(!names(Method::Comb).contains(&"Honey"));
    for method in [Method::Drained, Method::Pressed, Method::Extracted] {
        assert_eq!(names(method)[0], "Honey");
    }
    assert_eq!(lot_mark("26-4"), "L 26-4");
    assert_eq!(lot_mark(" L26-4 "), "L26-4");
}

#[test]
fn a_draft_says_what_is_missing() {
    let panel = Area::dm2(0.7);
    let mut given = Given {
        name: Some("Honey".to_owned()),
        net: Some(Mass::grams(340.0)),
        ..Given::default()
    };
    let bare = draft(Region::Uk, &given, panel).unwrap();
    let missing: Vec<Field> = bare.missing.iter().map(|rule| rule.field).collect();
    let all = [
        Field::Business,
        Field::Origin,
        Field::Lot,
        Field::BestBefore,
    ];
    assert_eq!(missing, all);
    given.business = Some("Wattle Bend, 1 Creek Road".to_owned());
    given.countries = vec![("Australia".to_owned(), Share::ONE)];
    given.mark = Some("26-4".to_owned());
    given.best_before = Some(date(2028, 2, 8));
    for region in REGIONS {
        let full = draft(region, &given, panel).unwrap();
        let missing: Vec<Field> = full.missing.iter().map(|rule| rule.field).collect();
        let panel_needed = matches!(region, Region::Australia | Region::NewZealand);
        assert_eq!(missing.is_empty(), !panel_needed, "{region}: {missing:?}");
        let caution = full
            .lines
            .iter()
            .find(|line| line.field == Field::InfantCaution);
        assert!(
            caution.unwrap().text.contains("12 months"),
            "printed by default"
        );
    }
    let uk = draft(Region::Uk, &given, panel).unwrap();
    let heights: Vec<Option<f64>> = uk
        .lines
        .iter()
        .map(|line| line.least_height.map(Length::to_mm))
        .collect();
    // 340 g: 4 mm figures; a face under 80 cm2: 0.9 mm letters
    assert_eq!(heights[..2], [Some(0.9), Some(4.0)]);
    given.business = Some("  ".to_owned());
    let blank = draft(Region::Uk, &given, panel).unwrap();
    assert_eq!(
        blank.missing[0].field,
        Field::Business,
        "blanks are not words"
    );
}

#[test]
fn an_unknown_region_is_refused_in_words() {
    for (text, region) in [("EU", Region::Eu), ("new zealand", Region::NewZealand)] {
        assert_eq!(text.parse::<Region>().unwrap(), region);
    }
    let told = "Atlantis".parse::<Region>().unwrap_err().to_string();
    assert!(
        told.contains("Atlantis") && told.contains("choose"),
        "{told}"
    );
}
