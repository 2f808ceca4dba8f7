//! In which system of units pictures and sentences tell their figures. What is reckoned and written stays
//! metric.

use crate::{Length, Mass};

/// The units told.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum ToldIn {
    /// Millimetres, kilograms, degrees Celsius.
    #[default]
    Metric,
    /// Inches, pounds, degrees Fahrenheit.
    Us,
}

impl ToldIn {
    /// The sign of the unit of mass.
    pub const fn mass_sign(self) -> &'static str {
        match self {
            Self::Metric => "kg",
            Self::Us => "lb",
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

    /// A length with its unit: whole millimetres, inches to a hundredth.
    ///
    /// ```
    /// use comb::{Length, ToldIn};
    /// assert_eq!(ToldIn::Metric.length_words(Length::mm(34.9)), "35 mm");
    /// assert_eq!(ToldIn::Us.length_words(Length::mm(34.925)), "1.38 in");
    /// assert_eq!(ToldIn::Us.length_words(Length::mm(101.6)), "4 in");
    /// ```
    pub fn length_words(self, length: Length) -> String {
        match self {
            Self::Metric => format!("{:.0} mm", length.to_mm()),
            Self::Us => {
                let inches = format!("{:.2}", length.to_inches());
                format!("{} in", inches.trim_end_matches('0').trim_end_matches('.'))
            }
        }
    }
}
