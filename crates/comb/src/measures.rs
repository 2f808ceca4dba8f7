//! In which units measures are told.

use crate::{Body, Length, Mass, Temperature, ToldIn};

/// How each measure is written, its unit with it; all units are understood. The papers and the command line
/// tell the metric ones, a screen may be set to others.
#[derive(Debug, Clone, Copy)]
pub struct Measures {
    /// A length: a bar, a shim, a comb's thickness.
    pub length: fn(Length) -> String,
    /// A mass: a comb, what must stay, feed.
    pub mass: fn(Mass) -> String,
    /// A temperature of the air.
    pub temperature: fn(Temperature) -> String,
    /// A hive body by its measures.
    pub body: fn(&Body) -> String,
}

impl Measures {
    /// Whole millimetres, tenths of a kilogram, whole degrees Celsius.
    pub const METRIC: Self = Self {
        length: |length| ToldIn::Metric.length_words(length),
        mass: |mass| ToldIn::Metric.mass_words(mass),
        temperature: |temperature| format!("{:.0} degrees C", temperature.to_celsius()),
        body: Body::name,
    };
}
