//! Khoury, Barron and Myerscough 2013, "Modelling food and population dynamics in honey bee
//! colonies", PLoS ONE 8(5):e59084. Equations and parameters from memory, not compared with Table 1
//! of the paper.
//!
//! ```text
//! df/dt = c F - gA (F+H) - gB B           S = f^2/(f^2+b^2) * H/(H+v)
//! dB/dt = L S - phi B                     R = amin + amax b^2/(b^2+f^2) - sigma F/(F+H)
//! dH/dt = phi B - R H                     dF/dt = R H - m F
//! ```

use crate::figures;

/// The parameters of the paper; grams and days.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Parameters {
    /// Eggs a day, L.
    pub laying: f64,
    /// Brood to adult, 1/day, phi.
    pub phi: f64,
    /// Hive bees at which half the brood is reared, v.
    pub half_hive: f64,
    /// Food at which half the brood is reared, g, b.
    pub half_food: f64,
    /// Recruitment without foragers, food ample, 1/day.
    pub alpha_min: f64,
    /// Extra recruitment without food, 1/day.
    pub alpha_max: f64,
    /// Social inhibition, 1/day.
    pub sigma: f64,
    /// Food brought by a forager, g/day, c.
    pub brought: f64,
    /// Food of an adult, g/day.
    pub adult_food: f64,
    /// Food of a brood item, g/day.
    pub brood_food: f64,
}

impl Default for Parameters {
    fn default() -> Self {
        Self {
            laying: figures::KHOURY_L.value,
            phi: figures::KHOURY_PHI.value,
            half_hive: figures::KHOURY_V.value,
            half_food: figures::KHOURY_B.value * 1000.0,
            alpha_min: figures::KHOURY_A_MIN.value,
            alpha_max: figures::KHOURY_A_MAX.value,
            sigma: figures::KHOURY_SIGMA.value,
            brought: figures::KHOURY_C.value,
            adult_food: figures::KHOURY_GAMMA_A.value,
            brood_food: figures::KHOURY_GAMMA_B.value,
        }
    }
}

/// The steady colony while food is ample; food itself then rises or falls steadily.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Plateau {
    /// Hive bees, H.
    pub hive: f64,
    /// Foragers, F.
    pub foragers: f64,
    /// Brood, B.
    pub brood: f64,
    /// Change of food, g/day.
    pub food_change: f64,
}

impl Parameters {
    /// (df, dB, dH, dF)/dt at (f, B, H, F) with forager death rate `m` a day. Food below nothing
    /// counts as none.
    pub fn rates(&self, [food, brood, hive, foragers]: [f64; 4], m: f64) -> [f64; 4] {
        let food = food.max(0.0);
        let bees = hive + foragers;
        let (f2, b2) = (food * food, self.half_food * self.half_food);
        let survival = f2 / (f2 + b2) * hive / (hive + self.half_hive);
        let recruits = hive
            * (self.alpha_min + self.alpha_max * b2 / (b2 + f2) - self.sigma * foragers / bees);
        let eaten = self.adult_food * bees + self.brood_food * brood;
        let change = self.brought * foragers - eaten;
        [
            if food > 0.0 { change } else { change.max(0.0) },
            self.laying * survival - self.phi * brood,
            self.phi * brood - recruits,
            recruits - m * foragers,
        ]
    }

    /// The steady colony under ample food; `None` where none can live.
    pub fn plateau(&self, m: f64) -> Option<Plateau> {
        let ratio = super::forager_ratio(self.alpha_min, self.sigma, m);
        let hive = self.laying / (m * ratio) - self.half_hive;
        let foragers = ratio * hive;
        let brood = self.laying / self.phi * hive / (hive + self.half_hive);
        let eaten = self.adult_food * (hive + foragers) + self.brood_food * brood;
        (hive > 0.0).then_some(Plateau {
            hive,
            foragers,
            brood,
            food_change: self.brought * foragers - eaten,
        })
    }

    /// The forager death rate at which the food of the plateau neither rises nor falls; `None`
    /// when there is none under 2 a day.
    pub fn balance_death_rate(&self) -> Option<f64> {
        let change = |m: f64| self.plateau(m).map_or(-1.0, |plateau| plateau.food_change);
        let (mut low, mut high) = (0.01, 2.0);
        if change(low) <= 0.0 || change(high) > 0.0 {
            return None;
        }
        while high - low > 1e-12 {
            let middle = f64::midpoint(low, high);
            if change(middle) > 0.0 {
                low = middle;
            } else {
                high = middle;
            }
        }
        Some(low)
    }
}
