//! What the trade says: the rule of thumb in combs and the handbooks' totals, for setting beside
//! the model's answer.

use comb::Mass;
use serde::Serialize;

use crate::figures as fig;
use crate::weather::Years;

/// How hard a place's winter is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Winter {
    /// The coldest month's mean is under freezing.
    Cold,
    /// A real winter above freezing.
    Real,
    /// Bees fly all winter.
    Mild,
    /// No winter to speak of.
    None,
}

/// The rule of thumb, and what it comes to in this hive's own combs.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Thumb {
    /// The winter it goes by.
    pub winter: Winter,
    /// Full combs that stay, from and to. Common practice, no source.
    pub combs: (f64, f64),
    /// The same in this hive's combs.
    pub kg: (Mass, Mass),
}

/// A handbook's total for a winter.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Handbook {
    /// From and to, kg.
    pub kg: (f64, f64),
    /// Whose it is and how well it is known.
    pub source: &'static str,
}

impl Winter {
    /// From the mean of a place's coldest month.
    pub fn of(years: &Years, warmer_k: f64) -> Self {
        match coldest_month(years) + warmer_k {
            mean if mean < 0.0 => Self::Cold,
            mean if mean < fig::REAL_WINTER.value => Self::Real,
            mean if mean < 16.0 => Self::Mild,
            _ => Self::None,
        }
    }

    /// Full combs that stay, by the rule of thumb.
    pub fn thumb(self, full_comb: Mass) -> Thumb {
        let combs = match self {
            Self::Cold | Self::Real => (fig::THUMB_WINTER_LOW.value, fig::THUMB_WINTER_HIGH.value),
            Self::Mild | Self::None => (fig::THUMB_MILD.value, fig::THUMB_MILD.value),
        };
        Thumb {
            winter: self,
            combs,
            kg: (full_comb * combs.0, full_comb * combs.1),
        }
    }

    /// The handbooks' total for such a winter (reference/winter-consumption.csv).
    pub fn handbook(self) -> Handbook {
        let (kg, source) = match self {
            Self::Cold => (
                (27.0, 41.0),
                "northern US, 60 to 90 lb; extension rule, practice",
            ),
            Self::Real => ((20.0, 30.0), "Britain, 20 to 30 kg; seen on a trade page"),
            Self::Mild => (
                (18.0, 27.0),
                "mild Australia, at least 18 kg, seen as quoted; 27 kg is ours",
            ),
            Self::None => ((14.0, 18.0), "warm US states, 30 to 40 lb; practice"),
        };
        Handbook { kg, source }
    }
}

fn coldest_month(years: &Years) -> f64 {
    let (mut sums, mut counts) = ([0.0; 12], [0.0; 12]);
    for day in years.days() {
        if let Some(mean) = day.mean_c() {
            let month = usize::from(day.date.month().unsigned_abs()) - 1;
            sums[month] += mean;
            counts[month] += 1.0;
        }
    }
    let means = sums
        .iter()
        .zip(counts)
        .map(|(sum, n)| sum / f64::max(n, 1.0));
    means.fold(f64::INFINITY, f64::min)
}
