//! In which system of units pictures and sentences tell their figures. What is reckoned and written stays
//! metric.

use std::fmt::{self, Display, Formatter};

use crate::{Body, Length, Mass, MassRange, Section, Temperature, Volume};

/// The units told.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum ToldIn {
    /// Millimetres, kilograms, litres, degrees Celsius.
    #[default]
    Metric,
    /// Inches, pounds, US gallons and quarts, degrees Fahrenheit.
    Us,
}

/// A ruler's parts of an inch, the coarser first.
const PARTS_OF_AN_INCH: [u32; 2] = [16, 32];

/// Quarts in a gallon.
const QUARTS: f64 = 4.0;

impl ToldIn {
    /// The sign of the unit of mass.
    pub const fn mass_sign(self) -> &'static str {
        match self {
            Self::Metric => "kg",
            Self::Us => "lb",
        }
    }

    /// The sign of the unit of length.
    pub const fn length_sign(self) -> &'static str {
        match self {
            Self::Metric => "mm",
            Self::Us => "in",
        }
    }

    /// A mass in that unit.
    pub fn mass(self, mass: Mass) -> f64 {
        match self {
            Self::Metric => mass.to_kg(),
            Self::Us => mass.to_pounds(),
        }
    }

    /// A mass to a tenth, with its unit.
    pub fn mass_words(self, mass: Mass) -> String {
        format!("{:.1} {}", self.mass(mass), self.mass_sign())
    }

    /// A mass with its range.
    ///
    /// ```
    /// use comb::{Mass, MassRange, ToldIn};
    /// let range = MassRange::new(Mass::kg(1.5), Mass::kg(2.0), Mass::kg(2.5)).expect("a range");
    /// assert_eq!(ToldIn::Metric.range_words(range), "2.0 kg (1.5 to 2.5)");
    /// assert_eq!(ToldIn::Us.range_words(range), "4.4 lb (3.3 to 5.5)");
    /// ```
    pub fn range_words(self, range: MassRange) -> String {
        let (low, high) = (self.mass(range.low()), self.mass(range.high()));
        format!("{} ({low:.1} to {high:.1})", self.mass_words(range.best()))
    }

    /// A length without its unit: whole millimetres, inches to a hundredth.
    fn length(self, length: Length) -> String {
        match self {
            Self::Metric => format!("{:.0}", length.to_mm()),
            Self::Us => {
                let inches = format!("{:.2}", length.to_inches());
                inches
                    .trim_end_matches('0')
                    .trim_end_matches('.')
                    .to_owned()
            }
        }
    }

    /// A length with its unit: whole millimetres, inches to a hundredth.
    ///
    /// ```
    /// use comb::{Length, ToldIn};
    /// assert_eq!(ToldIn::Metric.length_words(Length::mm(34.9)), "35 mm");
    /// assert_eq!(ToldIn::Us.length_words(Length::mm(34.925)), "1.38 in");
    /// assert_eq!(ToldIn::Us.length_words(Length::mm(101.6)), "4 in");
    /// ```
    pub fn length_words(self, length: Length) -> String {
        format!("{} {}", self.length(length), self.length_sign())
    }

    /// The width of a shim or gap without its unit: whole millimetres; the sixteenth of an inch that is within
    /// `near` of it, else the thirty-second, else inches to a hundredth.
    ///
    /// ```
    /// use comb::{Length, ToldIn};
    /// let half_mm = Length::mm(0.5);
    /// assert_eq!(ToldIn::Metric.shim(Length::mm(5.0), half_mm), "5");
    /// assert_eq!(ToldIn::Us.shim(Length::mm(5.0), half_mm), "3/16");
    /// assert_eq!(ToldIn::Us.shim(Length::mm(19.0), half_mm), "3/4");
    /// assert_eq!(ToldIn::Us.shim(Length::mm(35.0), half_mm), "1 3/8");
    /// assert_eq!(ToldIn::Us.shim(Length::mm(18.0), half_mm), "23/32");
    /// assert_eq!(ToldIn::Us.shim(Length::mm(18.0), Length::mm(0.1)), "0.71");
    /// ```
    pub fn shim(self, width: Length, near: Length) -> String {
        let ruled = match self {
            Self::Metric => None,
            Self::Us => ruled(width, near),
        };
        ruled.unwrap_or_else(|| self.length(width))
    }

    /// A volume to a tenth, with its unit. US: gallons, less than one in quarts.
    ///
    /// ```
    /// use comb::{ToldIn, Volume};
    /// assert_eq!(ToldIn::Metric.volume_words(Volume::litres(1.5)), "1.5 litres");
    /// assert_eq!(ToldIn::Us.volume_words(Volume::us_gallons(2.0)), "2.0 gallons");
    /// assert_eq!(ToldIn::Us.volume_words(Volume::us_gallons(0.5)), "2.0 quarts");
    /// ```
    pub fn volume_words(self, volume: Volume) -> String {
        let gallons = volume.to_us_gallons();
        match self {
            Self::Metric => format!("{:.1} litres", volume.to_litres()),
            Self::Us if gallons < 0.95 => format!("{:.1} quarts", gallons * QUARTS),
            Self::Us => format!("{gallons:.1} gallons"),
        }
    }

    /// A temperature to the whole degree, with its unit.
    ///
    /// ```
    /// use comb::{Temperature, ToldIn};
    /// assert_eq!(ToldIn::Metric.temperature_words(Temperature::celsius(20.0)), "20 degrees C");
    /// assert_eq!(ToldIn::Us.temperature_words(Temperature::celsius(20.0)), "68 degrees F");
    /// ```
    pub fn temperature_words(self, temperature: Temperature) -> String {
        match self {
            Self::Metric => format!("{:.0} degrees C", temperature.to_celsius()),
            Self::Us => format!("{:.0} degrees F", temperature.to_fahrenheit()),
        }
    }

    /// A hive body's shape and measures.
    pub fn body_words(self, body: &Body) -> String {
        let (top, bottom) = (
            self.length(body.top_width()),
            self.length(body.bottom_width()),
        );
        let (sign, depth) = (self.length_sign(), self.length_words(body.depth()));
        match body.section() {
            // the floor of a half barrel is a line
            Section::Rounded if bottom == "0" => {
                format!("rounded, {top} {sign} wide, {depth} deep")
            }
            Section::Sloped => format!(
                "sloped {:.1} degrees, {top} to {bottom} {sign} wide, {depth} deep",
                body.slope().to_degrees()
            ),
            Section::Rectangular => format!("rectangular, {top} {sign} wide, {depth} deep"),
            Section::Rounded => format!("rounded, {top} to {bottom} {sign} wide, {depth} deep"),
        }
    }
}

/// "3/16", "1 3/8", "2"; nothing where no such part of an inch is so near.
fn ruled(width: Length, near: Length) -> Option<String> {
    PARTS_OF_AN_INCH.into_iter().find_map(|parts| {
        let nearest = (width.to_inches() * f64::from(parts)).round();
        let off = width - Length::inches(nearest / f64::from(parts));
        if nearest < 1.0 || off.abs() >= near {
            return None;
        }
        let nearest = nearest as u32;
        let (whole, rest) = (nearest / parts, nearest % parts);
        let halved = rest.trailing_zeros();
        Some(match (whole, rest) {
            (whole, 0) => whole.to_string(),
            (0, rest) => format!("{}/{}", rest >> halved, parts >> halved),
            (whole, rest) => format!("{whole} {}/{}", rest >> halved, parts >> halved),
        })
    })
}

/// What tells figures in either system of units.
pub trait Tell {
    /// Writes it.
    ///
    /// # Errors
    /// The writer's.
    fn tell(&self, f: &mut Formatter<'_>, told_in: ToldIn) -> fmt::Result;

    /// It, to be written in these units.
    fn told(&self, told_in: ToldIn) -> In<'_, Self> {
        In {
            what: self,
            told_in,
        }
    }
}

/// Something in the units it is told in.
#[derive(Debug, Clone, Copy)]
pub struct In<'a, T: ?Sized> {
    what: &'a T,
    told_in: ToldIn,
}

impl<T: Tell + ?Sized> Display for In<'_, T> {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        self.what.tell(f, self.told_in)
    }
}
