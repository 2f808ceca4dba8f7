//! In which units measures are told back; they are understood in all.

/// How each measure is written, its unit with it.
#[derive(Debug, Clone, Copy)]
pub struct Units {
    /// A mass given in kilograms.
    pub mass: fn(f64) -> String,
    /// A thickness given in millimetres.
    pub thickness: fn(f64) -> String,
    /// A temperature given in degrees Celsius.
    pub temperature: fn(f64) -> String,
}

impl Units {
    /// Tenths of a kilogram, whole millimetres, whole degrees Celsius.
    pub const METRIC: Self = Self {
        mass: |kg| format!("{kg:.1} kg"),
        thickness: |mm| format!("{mm:.0} mm"),
        temperature: |celsius| format!("{celsius:.0} degrees C"),
    };
}
