//! Day length from latitude and date.

use jiff::civil::Date;

/// The sun's upper edge on a level horizon, refraction included: -0.833 degrees (the almanacs'
/// convention, from memory).
const HORIZON_DEGREES: f64 = -0.833;

/// Days from noon of 1 January 2000 to noon of a date.
pub fn days_from_j2000(date: Date) -> f64 {
    // the civil calendar's own count of days (Hinnant's algorithm, from memory)
    let (year, month, day) = (
        i64::from(date.year()),
        i64::from(date.month()),
        i64::from(date.day()),
    );
    let shifted = if month <= 2 { year - 1 } else { year };
    let era = shifted.div_euclid(400);
    let of_era = shifted - era * 400;
    let of_year = (153 * ((month + 9) % 12) + 2) / 5 + day - 1;
    let days = era * 146_097 + of_era * 365 + of_era / 4 - of_era / 100 + of_year;
    (days - 730_425) as f64
}

/// Hours from sunrise to sunset; 24 where the sun does not set, 0 where it does not rise.
/// `latitude` in degrees, south negative.
///
/// Source: the almanacs' low-precision solar coordinates (0.01 degree, 1950 to 2050; from memory).
pub fn day_length_hours(latitude: f64, date: Date) -> f64 {
    let days = days_from_j2000(date);
    let anomaly = (357.528 + 0.985_600_3 * days).to_radians();
    let mean_longitude = 280.460 + 0.985_647_4 * days;
    let longitude = mean_longitude + 1.915 * libm::sin(anomaly) + 0.020 * libm::sin(2.0 * anomaly);
    let obliquity = (23.439 - 0.000_000_4 * days).to_radians();
    let sin_declination = libm::sin(obliquity) * libm::sin(longitude.to_radians());
    let cos_declination = libm::sqrt(1.0 - sin_declination * sin_declination);
    let latitude = latitude.to_radians();
    let cos_half_day = (libm::sin(HORIZON_DEGREES.to_radians())
        - libm::sin(latitude) * sin_declination)
        / (libm::cos(latitude) * cos_declination);
    libm::acos(cos_half_day.clamp(-1.0, 1.0)).to_degrees() / 7.5
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;

    #[test]
    fn days_are_counted_from_the_epoch() {
        assert!(days_from_j2000(date(2000, 1, 1)).abs() < 1e-9);
        assert!((days_from_j2000(date(2000, 3, 1)) - 60.0).abs() < 1e-9);
        // jiff's own calendar as the other side
        let span = date(2026, 11, 25).duration_since(date(2000, 1, 1));
        assert!((days_from_j2000(date(2026, 11, 25)) - span.as_hours() as f64 / 24.0).abs() < 1e-9);
    }

    #[test]
    fn the_pole_has_no_day_in_winter_and_no_night_in_summer() {
        assert!(day_length_hours(80.0, date(2026, 12, 21)).abs() < 1e-9);
        assert!((day_length_hours(80.0, date(2026, 6, 21)) - 24.0).abs() < 1e-9);
    }
}
