//! Water to be taken out, and the one published word on how long that takes.

use comb::Mass;

use crate::{HoneyError, Moisture};

/// Water that must leave honey to bring it from one moisture to a drier one:
/// `m (W1 - W2) / (100 - W2)`. A mass balance, any moisture; source computed.
///
/// # Errors
/// [`HoneyError::NotDrier`] when `to` is not below `from`; [`HoneyError::NotPositive`].
pub fn water_to_remove(honey: Mass, from: Moisture, to: Moisture) -> Result<Mass, HoneyError> {
    HoneyError::positive("mass", "kg", honey.to_kg())?;
    let (w1, w2) = drier(from, to)?;
    Ok(honey * ((w1 - w2) / (100.0 - w2)))
}

/// Days of drying, as a range.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DaysHint {
    /// At the faster published rate.
    pub least: f64,
    /// At the slower published rate.
    pub most: f64,
}

/// Published rates for UNCUT COMBS in a stream of warm air, at most 35 C: one to three points of
/// moisture a day. Source: a how-to page in two copies (en.drinkfood.biz 11975, ehow.com 5904022);
/// status seen, no measurement behind it. Nothing was found for honey in a pail, so there is no
/// such function: for a pail say the water to be removed and read the refractometer daily.
const POINTS_PER_DAY: (f64, f64) = (1.0, 3.0);

/// Days for combs, before they are crushed, from one moisture to a drier one. A hint to plan by,
/// not a promise; read daily. One to three points a day in warm air of at most 35 C.
/// Source: two copies of one how-to page, see the constant; status seen, no measurement behind it.
///
/// # Errors
/// [`HoneyError::NotDrier`] when `to` is not below `from`.
pub fn days_for_combs(from: Moisture, to: Moisture) -> Result<DaysHint, HoneyError> {
    let (w1, w2) = drier(from, to)?;
    Ok(DaysHint {
        least: (w1 - w2) / POINTS_PER_DAY.1,
        most: (w1 - w2) / POINTS_PER_DAY.0,
    })
}

fn drier(from: Moisture, to: Moisture) -> Result<(f64, f64), HoneyError> {
    let (w1, w2) = (from.to_percent(), to.to_percent());
    if w2 < w1 {
        Ok((w1, w2))
    } else {
        Err(HoneyError::NotDrier { from, to })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn solids_stay_when_water_leaves() {
        // by hand: 20 kg at 20 % holds 16 kg solids; at 18 % that is 16/0.82 = 19.5122 kg
        let at = |percent| Moisture::percent(percent).unwrap();
        let gone = water_to_remove(Mass::kg(20.0), at(20.0), at(18.0)).unwrap();
        assert!((gone.to_kg() - (20.0 - 16.0 / 0.82)).abs() < 1e-12);
        assert!(water_to_remove(Mass::kg(20.0), at(18.0), at(18.0)).is_err());
    }
}
