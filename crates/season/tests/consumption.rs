//! Daily need against `reference/winter-consumption.csv`: our own function's table (computed
//! there by other code), and what was measured or advised.

#[path = "common/csv.rs"]
mod csv;

use comb::Temperature;
use season::consumption::daily_need;

const REFERENCE: &str = include_str!("reference/winter-consumption.csv");

#[test]
fn the_function_gives_the_reference_table() {
    let mut checked = 0;
    for line in REFERENCE.lines().filter(|line| line.starts_with("model")) {
        let f = csv::fields(line);
        let number = |text: &str| -> f64 { text.parse().expect("a number") };
        let air = Temperature::celsius(number(&f[2]));
        let need = daily_need(number(&f[1]), air, number(&f[3]));
        let off = (need.to_grams() - number(&f[4])).abs();
        assert!(off < 0.06, "{line}: ours {}", need.to_grams());
        checked += 1;
    }
    assert!(checked >= 40, "{checked}");
}

#[test]
fn need_lies_in_the_measured_ranges() {
    let grams =
        |bees, celsius, reared| daily_need(bees, Temperature::celsius(celsius), reared).to_grams();
    // (what, grams a day, low, high); standing as in the reference file
    let rows = [
        // Norrstrom et al. 2021, PLoS ONE 16(10):e0258398: 39 +/- 13 at 3.5 C; seen. Not fitted to.
        ("10000 bees at 3.5 C", grams(10_000.0, 3.5, 0.0), 26.0, 52.0),
        ("15000 bees at 3.5 C", grams(15_000.0, 3.5, 0.0), 26.0, 52.0),
        ("20000 bees at 3.5 C", grams(20_000.0, 3.5, 0.0), 26.0, 52.0),
        // two scale hives, Czech lowland, winter: 33 to 50; seen (mean temperature about 0, ours)
        ("10000 bees at 0 C", grams(10_000.0, 0.0, 0.0), 33.0, 50.0),
        // Harbo 1983, 8900 bees, 4.5 +/- 1.7 mg a bee; seen (12 C is the reference's assumption)
        (
            "8900 bees at 12 C",
            grams(8900.0, 12.0, 0.0),
            8900.0 * 2.8e-3,
            8900.0 * 6.2e-3,
        ),
        // top-bar handbook, strong colony without forage: 130 g a day; seen as quoted
        (
            "20000 bees with brood at 10 C",
            grams(20_000.0, 10.0, 500.0),
            100.0,
            160.0,
        ),
    ];
    for (what, ours, low, high) in rows {
        assert!(
            (low..=high).contains(&ours),
            "{what}: {ours} not in {low}..{high}"
        );
    }
    // FIXME known to be wrong: 4400 bees at 12 C ate 29.5 g (Harbo 1983), the function gives 18;
    // small clusters are not covered (reference/colony.md F)
    let small = grams(4400.0, 12.0, 0.0);
    assert!((17.0..20.0).contains(&small), "{small}");
}
