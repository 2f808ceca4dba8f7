//! Density, volume and drain time, against handbook figures.

mod reference;

use comb::{Mass, Temperature, Volume};
use honey::Moisture;
use honey::density::{
    KG_PER_L_PER_CELSIUS, density, mass_of, pounds_per_us_gallon, specific_gravity, volume_of,
};
use honey::viscosity::drain_ratio;
use reference::{figure, rows};

const TABLE: &str = include_str!("reference/honey-density.csv");

fn water(percent: f64) -> Moisture {
    Moisture::percent(percent).expect("a possible moisture")
}

fn celsius(celsius: f64) -> Temperature {
    Temperature::celsius(celsius)
}

#[test]
fn density_rows_are_met_within_a_fiftieth_of_a_per_cent() {
    // issue: 0.2 %; the last printed digit is 0.007 %
    let mut worst: f64 = 0.0;
    for row in rows(TABLE) {
        let w = water(figure(&row, "water_pct").unwrap());
        let figures = [
            (specific_gravity(w).unwrap(), "sg_20_20"),
            (density(w, celsius(20.0)).unwrap(), "density_g_per_ml_20C"),
            (pounds_per_us_gallon(w).unwrap(), "lb_per_us_gal_air_20C"),
        ];
        for (got, column) in figures {
            let off = (got / figure(&row, column).unwrap() - 1.0).abs();
            worst = worst.max(off);
            assert!(off < 0.0002, "{column} of {row:?}: {got}");
        }
    }
    println!("density: worst deviation {:.4} %", worst * 100.0);
}

#[test]
fn seen_weights_of_a_gallon_agree() {
    // pages that were opened, sg x 8.34 as they reckon: 13 % 12.057138 lb, 21 % 11.6343 lb
    // ("The density of honey", proquest 743887512); sg 1.423 at 17 %, 1.417 at 18 %
    for (percent, pounds) in [(13.0, 12.057_138), (21.0, 11.6343)] {
        let got = specific_gravity(water(percent)).unwrap() * 8.34;
        assert!((got / pounds - 1.0).abs() < 0.002, "{percent}: {got}");
    }
    for (percent, sg) in [(17.0, 1.423), (18.0, 1.417)] {
        let got = specific_gravity(water(percent)).unwrap();
        assert!((got / sg - 1.0).abs() < 0.002, "{percent}: {got}");
    }
    // White's average honey, 17.2 %: 11 lb 13.2 oz a gallon (from memory)
    let got = pounds_per_us_gallon(water(17.2)).unwrap();
    assert!((got / 11.825 - 1.0).abs() < 0.002, "{got}");
}

#[test]
fn known_jars_hold_what_they_hold() {
    // reference notes, section 3 (computed): 18 % at 20 C
    for (grams, millilitres) in [
        (454.0, 321.0),
        (340.0, 240.0),
        (500.0, 353.0),
        (1000.0, 707.0),
    ] {
        let volume = volume_of(Mass::grams(grams), water(18.0), celsius(20.0)).unwrap();
        let got = volume.to_litres() * 1000.0;
        assert!((got - millilitres).abs() < 0.6, "{grams} g: {got} mL");
        let back = mass_of(volume, water(18.0), celsius(20.0)).unwrap();
        assert!((back.to_grams() - grams).abs() < 1e-9);
    }
}

/// Density of sucrose solution, kg/m3. ICUMSA polynomial (Emmerich), coefficients as stored in
/// two public sources that agree; it gives the `icumsa_kg_per_m3` column of the sucrose table.
fn icumsa(brix: f64, celsius: f64) -> f64 {
    let rows: [&[f64]; 5] = [
        &[385.1761, 135.3705, 40.9299, -3.9646, 13.4853, -17.2890],
        &[-46.2720, -7.1720, 1.1597, 5.1126, 17.5254],
        &[59.7712, 7.2491, 12.3630, -35.4791],
        &[-47.2207, -21.6977, 27.6301],
        &[18.3184, 12.3081],
    ];
    let t = celsius;
    let water = [
        999.839_52,
        16.952_577,
        -7.990_512_7e-3,
        -46.241_757e-6,
        105.846_01e-9,
        -281.030_06e-12,
    ];
    let rising = |figures: &[f64], x: f64| figures.iter().rev().fold(0.0, |sum, f| sum * x + f);
    let (w, x) = (brix / 100.0, (t - 20.0) / 100.0);
    let sugar: Vec<f64> = rows.iter().map(|row| rising(row, w) * w).collect();
    rising(&water, t) / (1.0 + 16.887_236e-3 * t) + rising(&sugar, x)
}

#[test]
fn the_slope_with_temperature_follows_the_sucrose_polynomial() {
    for row in rows(include_str!("reference/sucrose-density.csv")) {
        let brix = figure(&row, "brix_pct_w_w").unwrap();
        let printed = figure(&row, "icumsa_kg_per_m3").unwrap();
        let got = icumsa(brix, 20.0);
        assert!((got - printed).abs() < 0.006, "{brix}: {got}");
    }
    let mut worst: f64 = 0.0;
    for brix in [78.0, 80.0, 82.0, 84.0] {
        for degrees in [10.0, 15.0, 25.0, 30.0, 35.0, 40.0] {
            let change = (icumsa(brix, degrees) - icumsa(brix, 20.0)) / 1000.0;
            let ours = KG_PER_L_PER_CELSIUS * (degrees - 20.0);
            worst = worst.max((ours - change).abs());
            assert!((ours - change).abs() < 0.0004, "{brix} Bx {degrees} C");
        }
    }
    println!("thermal slope: worst {worst:.5} kg/L from 10 to 40 C");
    // reference notes, section 3: 20 to 40 C is -0.011 g/mL
    let cooled = density(water(18.0), celsius(20.0)).unwrap();
    let warmed = density(water(18.0), celsius(40.0)).unwrap();
    assert!((warmed - cooled + 0.011).abs() < 0.0005);
}

#[test]
fn the_density_table_is_not_carried_further() {
    for percent in [12.9, 21.1, 28.0] {
        let told = specific_gravity(water(percent)).unwrap_err().to_string();
        assert!(told.contains("weigh"), "{told}");
    }
    for degrees in [9.0, 41.0, f64::NAN] {
        assert!(density(water(18.0), celsius(degrees)).is_err(), "{degrees}");
    }
    let none = Volume::litres(0.0);
    assert!(mass_of(none, water(18.0), celsius(20.0)).is_err());
}

#[test]
fn warming_and_water_speed_the_draining_as_measured() {
    // seen clover rows at 16 % (beeclubpellas.blogspot.com): 20 C 190, 30 C 65, 40 C 20 poise
    for (from, to, measured) in [(20.0, 30.0, 190.0 / 65.0), (30.0, 40.0, 65.0 / 20.0)] {
        let ratio = drain_ratio((water(16.0), celsius(from)), (water(16.0), celsius(to))).unwrap();
        println!(
            "drain ratio {from} to {to} C: {:.2}, measured {measured:.2}",
            ratio.likely
        );
        assert!((ratio.low..=ratio.high).contains(&measured), "{ratio:?}");
    }
    // seen: 1 % water is worth about 3.5 C; at 18 % and 25 C
    let wetter = drain_ratio((water(17.0), celsius(25.0)), (water(18.0), celsius(25.0))).unwrap();
    let warmer = drain_ratio((water(17.0), celsius(25.0)), (water(17.0), celsius(28.5))).unwrap();
    assert!(
        (wetter.likely / warmer.likely - 1.0).abs() < 0.1,
        "{wetter:?} {warmer:?}"
    );
}

#[test]
fn the_viscosity_curve_is_the_one_fitted() {
    // reference notes, section 4; the curve was FITTED to these rows, so this is no check of it,
    // only of our copy of its coefficients: errors +13 to -23 %, ratios within 1.5
    let rows = [
        (16.1, 13.7, 600.0),
        (16.1, 20.6, 189.6),
        (16.1, 29.0, 68.4),
        (16.1, 39.4, 21.4),
        (14.2, 25.0, 269.0),
        (15.5, 25.0, 138.0),
        (17.1, 25.0, 69.0),
        (18.2, 25.0, 48.1),
        (19.1, 25.0, 34.9),
        (20.2, 25.0, 20.4),
        (21.5, 25.0, 13.6),
    ];
    let (w0, c0, poise0) = rows[7];
    for (w, c, poise) in rows {
        let ratio = drain_ratio((water(w), celsius(c)), (water(w0), celsius(c0))).unwrap();
        let off = ratio.likely / (poise / poise0);
        assert!((0.87..1.14).contains(&off), "{w} % {c} C: {off}");
    }
    assert!(drain_ratio((water(18.0), celsius(20.0)), (water(18.0), celsius(50.0))).is_err());
    assert!(drain_ratio((water(12.0), celsius(20.0)), (water(18.0), celsius(20.0))).is_err());
}
