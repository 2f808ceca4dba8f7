//! What a colony eats in a day, from bees, temperature and brood.
//!
//! ```text
//! need = max( N min(4.2 2.5^((T-12)/10), 7.0) mg ,  P2 (Tc-T)/19 / 12.7 MJ/kg )  +  0.114 g E
//! P2 = 22.69 (0.12 N)^0.521 ml O2/h * 21.1 J/ml      Tc = 21 without brood, 34.5 with
//! ```
//! N bees, T mean air temperature, E new workers reared a day. Source: reference/colony.md F
//! (Southwick 1985, Harbo 1983, Norrstrom 2021, Khoury 2013); each figure's standing is in
//! [`crate::figures`].
//!
//! Known to be low: small clusters (under some 8000 bees) by about a third. Whole winters come out
//! well under the handbooks' totals; [`crate::reserve`] shows both and does not tune the gap away.

use comb::{Mass, Temperature};

use crate::figures as fig;

const SECONDS_PER_DAY: f64 = 86_400.0;
const SECONDS_PER_HOUR: f64 = 3600.0;

/// Honey that one adult needs in a day at this mean air temperature when it need not heat, mg.
pub fn per_bee_mg(air: Temperature) -> f64 {
    let steps = (air.to_celsius() - fig::BEE_AT_REST_C.value) / 10.0;
    let warm = fig::BEE_AT_REST.value * libm::pow(fig::BEE_Q10.value, steps);
    warm.min(fig::BEE_MOST.value)
}

/// Honey for heat, g a day, per `N^0.521` and per kelvin between core and air.
pub fn heating_factor() -> f64 {
    let oxygen =
        fig::CLUSTER_FACTOR.value * libm::pow(fig::BEE_MASS.value, fig::CLUSTER_POWER.value);
    let watt = oxygen * fig::OXYGEN_HEAT.value / SECONDS_PER_HOUR;
    let grams_a_day = watt * SECONDS_PER_DAY / (fig::HONEY_HEAT.value * 1e6) * 1000.0;
    grams_a_day / (fig::CORE_BROODLESS.value - fig::CLUSTER_AT.value)
}

/// Honey that a colony needs in a day. `reared` is the number of new workers reared a day; with any,
/// the core is kept at brood heat.
pub fn daily_need(bees: f64, air: Temperature, reared: f64) -> Mass {
    let core = if reared > 0.0 {
        fig::CORE_BROOD.value
    } else {
        fig::CORE_BROODLESS.value
    };
    let living = bees * per_bee_mg(air) / 1000.0;
    let colder = (core - air.to_celsius()).max(0.0);
    let heating = heating_factor() * libm::pow(bees, fig::CLUSTER_POWER.value) * colder;
    Mass::grams(living.max(heating) + fig::HONEY_PER_BEE.value * reared)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn heating_grows_more_slowly_than_the_cluster() {
        let cold = Temperature::celsius(-5.0);
        let (small, large) = (
            daily_need(8000.0, cold, 0.0),
            daily_need(16_000.0, cold, 0.0),
        );
        // 2^0.521 = 1.435
        assert!((large / small - 1.435).abs() < 0.001);
    }
}
