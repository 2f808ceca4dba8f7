//! How much faster honey drains when it is warmer or wetter: a ratio, never hours.

use comb::Temperature;

use crate::bound::Bound;
use crate::{HoneyError, Moisture};

const FIT_MOISTURE: Bound = Bound {
    quantity: "moisture",
    low: 13.7,
    high: 21.5,
    unit: "%",
    advice: "the measured clover honeys run from 13.7 to 21.5 %",
};

/// The measurements reach 71 C, the advice does not: above 45 C strained honey leaves the
/// definition of pressed honey (Directive 2001/110/EC Annex I; seen) and harm begins.
const FIT_TEMPERATURE: Bound = Bound {
    quantity: "temperature of the honey",
    low: 13.7,
    high: 45.0,
    unit: "C",
    advice: "measured from 13.7 C, and honey is not to be warmed above 45 C",
};

/// A drain-time ratio with its spread.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DrainRatio {
    /// How many times faster; below one it is slower.
    pub likely: f64,
    /// Lower end: other honeys at the same water differ by half as much again.
    pub low: f64,
    /// Upper end.
    pub high: f64,
}

/// Spread of the fit and of its seen temperature rows against it, either way: the fit's own
/// errors are +13 to -23 %, a second series of clover rows lies up to 28 % below. Status computed.
const SPREAD: f64 = 1.3;

/// Times faster that the same bag drains at `to` than at `from`, both (moisture, temperature).
///
/// Drain time through a given bag is proportional to viscosity. Crystals, wax fines and a clogged
/// bag slow it, so this is never turned into hours. Not for heather or manuka (gels) or for
/// granulated honey. Range 13.7 to 21.5 % water, 13.7 to 45 C.
/// `ln(poise) = 11.560 - 0.42205 W + 11571 u + 6.815e6 u^2`, `u = 1/T - 1/298.15`.
/// Source: 14 rows of clover honey, Munro 1943 in White 1975 (memory) and one seen; status fit.
///
/// # Errors
/// [`HoneyError::OutOfRange`] outside the range.
///
/// ```
/// use comb::Temperature;
/// use honey::{Moisture, viscosity::drain_ratio};
/// let w = Moisture::percent(17.0)?;
/// let ratio = drain_ratio((w, Temperature::celsius(20.0)), (w, Temperature::celsius(30.0)))?;
/// assert!(ratio.low < 3.0 && 3.0 < ratio.high); // about three times
/// # Ok::<(), honey::HoneyError>(())
/// ```
pub fn drain_ratio(
    from: (Moisture, Temperature),
    to: (Moisture, Temperature),
) -> Result<DrainRatio, HoneyError> {
    let likely = libm::exp(ln_poise(from)? - ln_poise(to)?);
    Ok(DrainRatio {
        likely,
        low: likely / SPREAD,
        high: likely * SPREAD,
    })
}

fn ln_poise((moisture, at): (Moisture, Temperature)) -> Result<f64, HoneyError> {
    let w = FIT_MOISTURE.check(moisture.to_percent())?;
    let t = FIT_TEMPERATURE.check(at.to_celsius())? + 273.15;
    let u = 1.0 / t - 1.0 / 298.15;
    Ok(11.560 - 0.422_05 * w + 11_571.0 * u + 6.815e6 * u * u)
}
