//! Will it keep? Advice on water, kept apart from what the law allows ([`crate::limits`]).

use serde::Serialize;

use crate::Moisture;

/// Readings that differ from a class limit only by rounding belong to the drier class.
const ROUNDING: f64 = 1e-6;

/// How the honey will keep for about a year, unheated, judged on its water alone.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Keeping {
    /// Up to 17.0 %.
    Safe,
    /// Over 17.0 to 18.0 %.
    NormallySafe,
    /// Over 18.0 to 19.0 %.
    Doubtful,
    /// Over 19.0 %.
    UseSoon,
}

impl Keeping {
    /// What to do.
    pub const fn advice(self) -> &'static str {
        match self {
            Self::Safe => "safe to keep",
            Self::NormallySafe => "normally safe to keep; sealed and cool is better",
            Self::Doubtful => "doubtful: sell or eat it within months, or blend it down",
            Self::UseSoon => {
                "will probably ferment: use soon, keep below 11 C, or blend it down before it starts"
            }
        }
    }
}

/// How honey of this moisture will keep. Any moisture.
///
/// Below 11 C (52 F) no honey ferments; granulation favours it. The legal limit of 20 or 21 % lies
/// ABOVE the safe one: honey may be lawful and still ferment.
/// Source: Lochhead 1933 as tabulated in two secondary works (seen), drawn together on water alone
/// because a keeper rarely knows the yeast count (practice).
pub fn keeping(moisture: Moisture) -> Keeping {
    match moisture.to_percent() - ROUNDING {
        w if w <= 17.0 => Keeping::Safe,
        w if w <= 18.0 => Keeping::NormallySafe,
        w if w <= 19.0 => Keeping::Doubtful,
        _ => Keeping::UseSoon,
    }
}

/// What Lochhead's table says when the yeasts were counted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum YeastVerdict {
    /// Safe for about a year.
    Safe,
    /// Expected to ferment.
    AtRisk,
    /// Always in danger, whatever the count.
    AlwaysInDanger,
}

/// One class of Lochhead's table.
struct YeastClass {
    /// Upper limit of moisture, per cent, inclusive.
    to: f64,
    /// Count at or below which it is safe, per g; `None` for any count.
    safe_up_to: Option<f64>,
}

/// Source: Lochhead 1933 (Zentralbl. Bakt. II 88:296), two secondary works; status seen. Between
/// 19 and 20 % one copy says safe below 1 per g, the other that even 1 per g ferments: safe below
/// 1 agrees with both.
const YEAST: [YeastClass; 3] = [
    YeastClass {
        to: 17.0,
        safe_up_to: None,
    },
    YeastClass {
        to: 18.0,
        safe_up_to: Some(1000.0),
    },
    YeastClass {
        to: 19.0,
        safe_up_to: Some(10.0),
    },
];

/// The verdict of the table for a counted honey, yeasts per gram. Any moisture; a count that is
/// not a number counts as high.
pub fn with_yeast_count(moisture: Moisture, yeasts_per_g: f64) -> YeastVerdict {
    let w = moisture.to_percent() - ROUNDING;
    if let Some(class) = YEAST.iter().find(|class| w <= class.to) {
        let safe = class.safe_up_to.is_none_or(|most| yeasts_per_g <= most);
        return if safe {
            YeastVerdict::Safe
        } else {
            YeastVerdict::AtRisk
        };
    }
    if w > 20.0 {
        YeastVerdict::AlwaysInDanger
    } else if yeasts_per_g < 1.0 {
        YeastVerdict::Safe
    } else {
        YeastVerdict::AtRisk
    }
}
