//! Values that cannot be, refused before they are recorded and when a journal is read.

use std::ops::RangeInclusive;

use comb::{Contents, Length, Mass, Share, Temperature};
use serde_json::Value;

use crate::HiveError;
use crate::entry::{Known, Piece, Place, Reserve, What};
use crate::treatment::LabelPeriod;

/// Widest piece of a row taken for one; a wider one is a slip of the unit (common practice, no
/// source).
const WIDEST_MM: f64 = 300.0;
/// Thickest comb taken for one (common practice, no source).
const THICKEST_MM: f64 = 200.0;
/// Heaviest comb taken for one (common practice, no source).
const HEAVIEST_KG: f64 = 30.0;
/// Longest withholding period taken for one; a longer one is a slip (common practice, no source).
const LONGEST_LABEL_DAYS: u16 = 1000;
/// Air that a keeper may plan for, degrees C; beyond it is a slip (common practice, no source).
const AIR_C: RangeInclusive<f64> = -40.0..=60.0;
/// Capped share from which a comb may count as ripe: 2/3 to 3/4 (common practice, no source).
/// The bounds leave room for "67 %" and "66 %" as they are typed.
pub const RIPENESS: (f64, f64) = (0.66, 0.75);

impl What {
    /// [`Known::check_values`]; foreign kinds are not looked into.
    pub fn check_values(&self) -> Result<(), HiveError> {
        self.known().map_or(Ok(()), Known::check_values)
    }
}

impl Known {
    /// Refuses names that are empty and figures that cannot be; shares and bodies check themselves
    /// when they are made.
    ///
    /// # Errors
    /// [`HiveError::Value`] with the field and its bound, [`HiveError::Comb`] for an overfull face.
    pub fn check_values(&self) -> Result<(), HiveError> {
        match self {
            Self::Apiary { name, place, .. } => {
                named(name)?;
                place.as_ref().map_or(Ok(()), check_place)
            }
            Self::HiveStarted { name, .. } | Self::HiveRenamed { name } => named(name),
            Self::ReserveSet { reserve } => reserve.map_or(Ok(()), check_reserve),
            Self::RipenessSet { mean_capped } => check_ripeness(*mean_capped),
            Self::BarAdded { width_mm, .. } => check_width(*width_mm),
            Self::Arranged { row } | Self::EndArranged { row, .. } => {
                row.iter().try_for_each(check_piece)
            }
            Self::CombSeen { contents, .. } => check_contents(contents),
            Self::MiteWash { bees, .. } if *bees == 0 => {
                Err(refused("bees in the sample", "at least 1", &0))
            }
            Self::Fed {
                litres, mass_kg, ..
            } => check_feed(*litres, *mass_kg),
            Self::HoneyHouse { event } if !event.get("event").is_some_and(Value::is_string) => {
                Err(refused(
                    "a honey-house event",
                    "an object with its kind in `event`",
                    &"without",
                ))
            }
            Self::Corrected { what, .. } => what.check_values(),
            known if known.is_of_health() => check_health(known),
            _ => Ok(()),
        }
    }
}

fn refused(field: &'static str, bound: &'static str, value: &impl ToString) -> HiveError {
    HiveError::Value {
        field,
        bound,
        value: value.to_string(),
    }
}

fn check_health(known: &Known) -> Result<(), HiveError> {
    match known {
        Known::TreatmentBegun(given) => {
            worded("the product's name", &given.product)?;
            check_label(given.withholding)?;
            check_air(given.air_from_c)?;
            check_air(given.air_to_c)?;
            match given.planned_removal {
                Some(out) if out < given.on => {
                    let bound = "the day of the treatment or later";
                    Err(refused("the planned removal", bound, &out))
                }
                _ => Ok(()),
            }
        }
        Known::SignSeen(sign) => worded("the disease or pest", &sign.condition),
        Known::SignReported(report) => worded("whom it was reported to", &report.to),
        Known::SignCleared(clearing) => worded("the reason", &clearing.why),
        Known::MedicineBought(bought) => {
            worded("the product's name", &bought.product)?;
            check_label(bought.withholding)
        }
        Known::MedicineDisposed(disposed) => {
            worded("the product's name", &disposed.product)?;
            worded("how it was disposed of", &disposed.how)
        }
        _ => Ok(()),
    }
}

fn worded(field: &'static str, words: &str) -> Result<(), HiveError> {
    if words.trim().is_empty() {
        return Err(refused(field, "more than blanks", &format!("{words:?}")));
    }
    Ok(())
}

fn check_label(label: Option<LabelPeriod>) -> Result<(), HiveError> {
    match label {
        Some(LabelPeriod::Days { days } | LabelPeriod::HoneyOnIsLost { days })
            if days > LONGEST_LABEL_DAYS =>
        {
            let bound = "from 0 to 1000 days";
            Err(refused("the withholding period", bound, &days))
        }
        _ => Ok(()),
    }
}

fn check_air(air: Option<Temperature>) -> Result<(), HiveError> {
    match air.map(Temperature::to_celsius) {
        Some(degrees) if !AIR_C.contains(&degrees) => {
            let bound = "from -40 to 60 degrees C";
            Err(refused("the air's temperature", bound, &degrees))
        }
        _ => Ok(()),
    }
}

fn named(name: &str) -> Result<(), HiveError> {
    if name.trim().is_empty() {
        return Err(refused("a name", "more than blanks", &format!("{name:?}")));
    }
    Ok(())
}

fn check_place(place: &Place) -> Result<(), HiveError> {
    if !(-90.0..=90.0).contains(&place.latitude) {
        let bound = "from -90 to 90 degrees";
        return Err(refused("the latitude", bound, &place.latitude));
    }
    if !(-180.0..=180.0).contains(&place.longitude) {
        let bound = "from -180 to 180 degrees";
        return Err(refused("the longitude", bound, &place.longitude));
    }
    Ok(())
}

fn check_reserve(reserve: Reserve) -> Result<(), HiveError> {
    match reserve {
        Reserve::Combs(combs) if !(0.0..=100.0).contains(&combs) => {
            Err(refused("the reserve", "from 0 to 100 combs", &combs))
        }
        Reserve::Kg(mass) if !(0.0..=200.0).contains(&mass.to_kg()) => {
            Err(refused("the reserve", "from 0 to 200 kg", &mass.to_kg()))
        }
        _ => Ok(()),
    }
}

fn check_ripeness(mean_capped: Share) -> Result<(), HiveError> {
    if (RIPENESS.0..=RIPENESS.1).contains(&mean_capped.get()) {
        return Ok(());
    }
    let bound = "from 2/3 to 3/4 (67 to 75 %)";
    Err(refused(
        "the capped share of ripe combs",
        bound,
        &mean_capped,
    ))
}

fn check_width(width: Length) -> Result<(), HiveError> {
    // written so that not-a-number is refused
    if width.to_mm() > 0.0 && width.to_mm() <= WIDEST_MM {
        return Ok(());
    }
    let bound = "more than 0 and at most 300 mm";
    Err(refused("a width", bound, &width.to_mm()))
}

fn check_piece(piece: &Piece) -> Result<(), HiveError> {
    match piece {
        Piece::Bar { .. } => Ok(()),
        Piece::Follower { width_mm } | Piece::Shim { width_mm } => check_width(*width_mm),
    }
}

fn check_contents(contents: &Contents) -> Result<(), HiveError> {
    contents.left.clone().checked()?;
    contents.right.clone().checked()?;
    if let Some(thickness) = contents.thickness_mm
        && !(thickness.to_mm() > 0.0 && thickness.to_mm() <= THICKEST_MM)
    {
        let bound = "more than 0 and at most 200 mm";
        return Err(refused("a comb's thickness", bound, &thickness.to_mm()));
    }
    if let Some(mass) = contents.mass_kg
        && !(0.0..=HEAVIEST_KG).contains(&mass.to_kg())
    {
        let bound = "from 0 to 30 kg";
        return Err(refused("a comb's mass", bound, &mass.to_kg()));
    }
    Ok(())
}

fn check_feed(litres: Option<f64>, mass: Option<Mass>) -> Result<(), HiveError> {
    if let Some(litres) = litres
        && !(0.0..=100.0).contains(&litres)
    {
        return Err(refused("feed", "from 0 to 100 litres", &litres));
    }
    if let Some(mass) = mass
        && !(0.0..=100.0).contains(&mass.to_kg())
    {
        return Err(refused("feed", "from 0 to 100 kg", &mass.to_kg()));
    }
    Ok(())
}
