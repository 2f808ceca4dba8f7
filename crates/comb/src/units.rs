//! Quantities as types: made and read by unit, so that a millimetre never meets a kilogram.

use std::fmt;
use std::iter::Sum;
use std::ops::{Add, Div, Mul, Neg, Sub};

use serde::{Deserialize, Serialize};

use crate::CombError;

/// Millimetres in one inch, exact by definition (international yard and pound agreement, 1959;
/// from memory).
pub const MM_PER_INCH: f64 = 25.4;
/// Kilograms in one pound avoirdupois, exact by definition (same agreement; from memory).
pub const KG_PER_POUND: f64 = 0.453_592_37;
/// Litres in one US liquid gallon, exact: 231 cubic inches (from memory).
pub const LITRES_PER_US_GALLON: f64 = 3.785_411_784;

macro_rules! quantity {
    ($(#[$doc:meta])* $name:ident) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Default, Serialize, Deserialize)]
        #[serde(transparent)]
        pub struct $name(f64);

        impl $name {
            /// None of it.
            pub const ZERO: Self = Self(0.0);

            /// Total order, for sorting; not-a-number never gets in through the checked makers.
            pub fn total_cmp(&self, other: &Self) -> std::cmp::Ordering {
                self.0.total_cmp(&other.0)
            }
            /// The larger of two.
            #[must_use]
            pub fn max(self, other: Self) -> Self {
                Self(self.0.max(other.0))
            }
            /// The smaller of two.
            #[must_use]
            pub fn min(self, other: Self) -> Self {
                Self(self.0.min(other.0))
            }
            /// The size without the sign.
            #[must_use]
            pub fn abs(self) -> Self {
                Self(self.0.abs())
            }
            /// False for infinities and not-a-number.
            pub fn is_finite(self) -> bool {
                self.0.is_finite()
            }
        }
        impl Add for $name {
            type Output = Self;
            fn add(self, other: Self) -> Self {
                Self(self.0 + other.0)
            }
        }
        impl Sub for $name {
            type Output = Self;
            fn sub(self, other: Self) -> Self {
                Self(self.0 - other.0)
            }
        }
        impl Neg for $name {
            type Output = Self;
            fn neg(self) -> Self {
                Self(-self.0)
            }
        }
        impl Mul<f64> for $name {
            type Output = Self;
            fn mul(self, factor: f64) -> Self {
                Self(self.0 * factor)
            }
        }
        impl Mul<Share> for $name {
            type Output = Self;
            fn mul(self, share: Share) -> Self {
                Self(self.0 * share.get())
            }
        }
        impl Div<f64> for $name {
            type Output = Self;
            fn div(self, divisor: f64) -> Self {
                Self(self.0 / divisor)
            }
        }
        impl Div for $name {
            type Output = f64;
            fn div(self, other: Self) -> f64 {
                self.0 / other.0
            }
        }
        impl Sum for $name {
            fn sum<I: Iterator<Item = Self>>(parts: I) -> Self {
                parts.fold(Self::ZERO, Add::add)
            }
        }
    };
}

quantity! {
    /// A length. Serialises as millimetres; name the field `.._mm`.
    Length
}
quantity! {
    /// An area. Serialises as square decimetres; name the field `.._dm2`.
    Area
}
quantity! {
    /// A volume. Serialises as litres; name the field `.._l`.
    Volume
}
quantity! {
    /// A mass. Serialises as kilograms; name the field `.._kg`.
    Mass
}
quantity! {
    /// A difference of two temperatures, kelvin. Serialises as kelvin; name the field `.._k`.
    TemperatureDifference
}

impl Length {
    /// From millimetres.
    pub const fn mm(mm: f64) -> Self {
        Self(mm)
    }
    /// From inches.
    pub fn inches(inches: f64) -> Self {
        Self(inches * MM_PER_INCH)
    }
    /// In millimetres.
    pub const fn to_mm(self) -> f64 {
        self.0
    }
    /// In inches.
    pub fn to_inches(self) -> f64 {
        self.0 / MM_PER_INCH
    }
    /// The area of a rectangle of these sides.
    #[must_use]
    pub fn by(self, other: Length) -> Area {
        Area(self.0 * other.0 / 10_000.0)
    }
}

impl Area {
    /// From square decimetres (one face of a comb is some 5 to 10 of them).
    pub const fn dm2(dm2: f64) -> Self {
        Self(dm2)
    }
    /// In square decimetres.
    pub const fn to_dm2(self) -> f64 {
        self.0
    }
}

impl Volume {
    /// From litres.
    pub const fn litres(litres: f64) -> Self {
        Self(litres)
    }
    /// From US liquid gallons.
    pub fn us_gallons(gallons: f64) -> Self {
        Self(gallons * LITRES_PER_US_GALLON)
    }
    /// In litres.
    pub const fn to_litres(self) -> f64 {
        self.0
    }
    /// In US liquid gallons.
    pub fn to_us_gallons(self) -> f64 {
        self.0 / LITRES_PER_US_GALLON
    }
}

impl Mass {
    /// From kilograms.
    pub const fn kg(kg: f64) -> Self {
        Self(kg)
    }
    /// From grams.
    pub fn grams(grams: f64) -> Self {
        Self(grams / 1000.0)
    }
    /// From pounds avoirdupois.
    pub fn pounds(pounds: f64) -> Self {
        Self(pounds * KG_PER_POUND)
    }
    /// In kilograms.
    pub const fn to_kg(self) -> f64 {
        self.0
    }
    /// In grams.
    pub fn to_grams(self) -> f64 {
        self.0 * 1000.0
    }
    /// In pounds avoirdupois.
    pub fn to_pounds(self) -> f64 {
        self.0 / KG_PER_POUND
    }
}

impl TemperatureDifference {
    /// From kelvin (a degree Celsius apart is a kelvin apart).
    pub const fn kelvin(kelvin: f64) -> Self {
        Self(kelvin)
    }
    /// In kelvin.
    pub const fn to_kelvin(self) -> f64 {
        self.0
    }
}

quantity! {
    /// An angle. Serialises as degrees; name the field `.._deg`.
    Angle
}

impl Angle {
    /// From degrees.
    pub const fn degrees(degrees: f64) -> Self {
        Self(degrees)
    }
    /// From radians.
    pub fn radians(radians: f64) -> Self {
        Self(radians.to_degrees())
    }
    /// In degrees.
    pub const fn to_degrees(self) -> f64 {
        self.0
    }
    /// In radians.
    pub fn to_radians(self) -> f64 {
        self.0.to_radians()
    }
}

/// A temperature. Serialises as degrees Celsius; name the field `.._c`.
///
/// Two temperatures do not add; they subtract to a [`TemperatureDifference`].
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Temperature(f64);

impl Temperature {
    /// From degrees Celsius.
    pub const fn celsius(celsius: f64) -> Self {
        Self(celsius)
    }
    /// From degrees Fahrenheit.
    pub fn fahrenheit(fahrenheit: f64) -> Self {
        Self((fahrenheit - 32.0) / 1.8)
    }
    /// In degrees Celsius.
    pub const fn to_celsius(self) -> f64 {
        self.0
    }
    /// In degrees Fahrenheit.
    pub fn to_fahrenheit(self) -> f64 {
        self.0 * 1.8 + 32.0
    }
    /// False for infinities and not-a-number.
    pub fn is_finite(self) -> bool {
        self.0.is_finite()
    }
}

impl Sub for Temperature {
    type Output = TemperatureDifference;
    fn sub(self, other: Self) -> TemperatureDifference {
        TemperatureDifference(self.0 - other.0)
    }
}
impl Add<TemperatureDifference> for Temperature {
    type Output = Self;
    fn add(self, difference: TemperatureDifference) -> Self {
        Self(self.0 + difference.0)
    }
}

/// A share of a whole, never outside 0..=1 and never not-a-number.
///
/// ```
/// use comb::Share;
/// assert_eq!(Share::percent(67.0)?.get(), 0.67);
/// assert!(Share::new(1.2).is_err());
/// # Ok::<(), comb::CombError>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Default, Serialize, Deserialize)]
#[serde(try_from = "f64", into = "f64")]
pub struct Share(f64);

impl Share {
    /// Nothing.
    pub const ZERO: Self = Self(0.0);
    /// One half.
    pub const HALF: Self = Self(0.5);
    /// The whole.
    pub const ONE: Self = Self(1.0);

    /// From a fraction.
    ///
    /// # Errors
    /// [`CombError::Share`] when outside 0..=1 or not a number.
    pub fn new(share: f64) -> Result<Self, CombError> {
        if (0.0..=1.0).contains(&share) {
            Ok(Self(share))
        } else {
            Err(CombError::Share(share))
        }
    }
    /// From per cent.
    ///
    /// # Errors
    /// [`CombError::Share`] when outside 0..=100 or not a number.
    pub fn percent(percent: f64) -> Result<Self, CombError> {
        Self::new(percent / 100.0)
    }
    /// From a count of eighths, as they are tapped on a drawn face; more than eight is the whole.
    #[must_use]
    pub fn eighths(eighths: u8) -> Self {
        Self(f64::from(eighths.min(8)) / 8.0)
    }
    /// The nearest share that is in range; not-a-number becomes nothing.
    #[must_use]
    pub fn clamped(share: f64) -> Self {
        if share.is_nan() {
            Self::ZERO
        } else {
            Self(share.clamp(0.0, 1.0))
        }
    }
    /// The fraction.
    pub const fn get(self) -> f64 {
        self.0
    }
    /// In per cent.
    pub fn to_percent(self) -> f64 {
        self.0 * 100.0
    }
    /// What is left of the whole.
    #[must_use]
    pub fn rest(self) -> Self {
        Self(1.0 - self.0)
    }
    /// The mean of two shares.
    #[must_use]
    pub fn mean(self, other: Self) -> Self {
        Self(f64::midpoint(self.0, other.0))
    }
    /// Total order, for sorting.
    pub fn total_cmp(&self, other: &Self) -> std::cmp::Ordering {
        self.0.total_cmp(&other.0)
    }
}

impl TryFrom<f64> for Share {
    type Error = CombError;
    fn try_from(share: f64) -> Result<Self, CombError> {
        Self::new(share)
    }
}
impl From<Share> for f64 {
    fn from(share: Share) -> f64 {
        share.0
    }
}
impl Mul for Share {
    type Output = Self;
    fn mul(self, other: Self) -> Self {
        Self(self.0 * other.0)
    }
}
impl fmt::Display for Share {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{:.0} %", self.to_percent())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_share_cannot_leave_its_range() {
        for bad in [-0.01, 1.01, f64::NAN, f64::INFINITY] {
            assert!(Share::new(bad).is_err(), "{bad}");
            assert!(
                serde_json::from_value::<Share>(serde_json::json!(bad)).is_err(),
                "{bad}"
            );
        }
        assert!(serde_json::from_str::<Share>("1.5").is_err());
    }

    #[test]
    fn temperatures_subtract_to_a_difference() {
        // 68 F is 20 C: definition of the Fahrenheit scale (from memory)
        let warm = Temperature::fahrenheit(68.0);
        assert!((warm.to_celsius() - 20.0).abs() < 1e-12);
        assert!(((warm - Temperature::celsius(4.0)).to_kelvin() - 16.0).abs() < 1e-12);
    }
}
