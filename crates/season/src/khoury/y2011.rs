//! Khoury, Myerscough and Barron 2011, "A quantitative model of honey bee colony population
//! dynamics", PLoS ONE 6(4):e18491. Equations and parameters from memory; they reproduce the
//! critical death rate that the paper prints (0.355).
//!
//! ```text
//! dH/dt = L (H+F)/(w+H+F) - H R      dF/dt = H R - m F      R = alpha - sigma F/(H+F)
//! ```

/// The parameters of the paper.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Parameters {
    /// Eggs a day, L.
    pub laying: f64,
    /// Bees at which half the eggs become adults, w.
    pub half_eclosion: f64,
    /// Recruitment with no foragers, 1/day, alpha.
    pub alpha: f64,
    /// Social inhibition, 1/day, sigma.
    pub sigma: f64,
}

impl Default for Parameters {
    fn default() -> Self {
        Self {
            laying: 2000.0,
            half_eclosion: 27_000.0,
            alpha: 0.25,
            sigma: 0.75,
        }
    }
}

/// A colony at rest.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Equilibrium {
    /// Foragers per hive bee, J.
    pub ratio: f64,
    /// Hive bees, H.
    pub hive: f64,
    /// Foragers, F.
    pub foragers: f64,
    /// Mean age at which foraging begins, days, 1/R.
    pub onset: f64,
}

impl Parameters {
    /// Recruitment to foraging, 1/day.
    pub fn recruitment(&self, hive: f64, foragers: f64) -> f64 {
        let bees = hive + foragers;
        if bees <= 0.0 {
            return self.alpha;
        }
        self.alpha - self.sigma * foragers / bees
    }

    /// (dH/dt, dF/dt) at (H, F) with forager death rate `m` a day.
    pub fn rates(&self, [hive, foragers]: [f64; 2], m: f64) -> [f64; 2] {
        let bees = hive + foragers;
        let recruits = hive * self.recruitment(hive, foragers);
        let eclosion = self.laying * bees / (self.half_eclosion + bees);
        [eclosion - recruits, recruits - m * foragers]
    }

    /// The colony at rest under forager death rate `m`; `None` where no colony can live.
    pub fn equilibrium(&self, m: f64) -> Option<Equilibrium> {
        let ratio = super::forager_ratio(self.alpha, self.sigma, m);
        let foragers = self.laying / m - self.half_eclosion * ratio / (1.0 + ratio);
        let hive = foragers / ratio;
        (foragers > 0.0).then(|| Equilibrium {
            ratio,
            hive,
            foragers,
            onset: 1.0 / self.recruitment(hive, foragers),
        })
    }

    /// The forager death rate above which the colony fails; `None` when alpha <= L/w (the colony
    /// then lives under any).
    pub fn critical_death_rate(&self) -> Option<f64> {
        let Self {
            laying,
            half_eclosion: w,
            alpha,
            sigma,
        } = *self;
        let lw = laying / w;
        let root = libm::sqrt((alpha - sigma) * (alpha - sigma) + 4.0 * sigma * lw);
        (alpha > lw).then(|| 0.5 * lw * (alpha + sigma + root) / (alpha - lw))
    }
}
