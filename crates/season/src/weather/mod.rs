//! Weather at a place: daily series or monthly means, day length, resampled years, a forecast.

mod day_length;
mod forecast;
mod monthly;
mod place;
mod read;
mod resample;
mod series;

pub use day_length::{day_length_hours, days_from_j2000};
pub use forecast::{FORECAST_FORMAT, Forecast, ForecastDay};
pub(crate) use monthly::interpolate;
pub use monthly::{MonthMeans, YearOfMonths};
pub use place::{Place, Source};
pub use read::{Doubt, Read, read_csv};
pub use resample::{Path, Years};
pub(crate) use resample::{SLOTS, slot};
pub use series::{Day, Series};
