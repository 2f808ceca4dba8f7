//! Jars filled from a lot.

use comb::Mass;
use honey::Region;
use honey::label::words::usual_best_before;
use honey::limits::Kind;
use honey::lots::event::JarsFilled;
use honey::lots::{Caution, FillId, LotEvent, LotId, Weight};
use jiff::civil::Date;

use crate::error::HouseError;
use crate::lot::named;
use crate::record::{Batch, Standing};
use crate::withheld::withholdings;
use crate::words;

/// What is to be filled. What is not told is taken from the lot and from what was told once for all.
#[derive(Debug, Clone, PartialEq)]
pub struct Fill {
    /// The lot.
    pub lot: LotId,
    /// Net quantity of one jar.
    pub net: Mass,
    /// How many.
    pub count: u32,
    /// Honey drawn for all of them; else what the labels promise.
    pub drawn: Option<Mass>,
    /// Lot mark on the label; else the lot's name.
    pub mark: Option<String>,
    /// Best before; else two years from the oldest honey in it.
    pub best_before: Option<Date>,
    /// Name of this filling; else the lot's name and a number.
    pub fill: Option<String>,
    /// Where it is sold; else as told once for all.
    pub region: Option<Region>,
    /// Fill although something grave speaks against it; that is recorded beside.
    pub anyway: bool,
}

/// What speaks against filling jars from a lot for sale in a region, gravest first.
///
/// # Errors
/// [`HouseError::NoRegion`] when neither this nor the seller says where; [`honey::HoneyError::Unknown`].
pub fn against(
    standing: &Standing<'_>,
    lot: &LotId,
    region: Option<Region>,
) -> Result<Vec<Caution>, HouseError> {
    let house = standing.house;
    house.lot(lot)?;
    let region = region.or(house.seller().region);
    let region = region.ok_or(HouseError::NoRegion)?;
    let held = withholdings(standing.yard, standing.day_of);
    Ok(house.cautions(lot, region, Kind::General, &held)?)
}

/// The filling, and what speaks softly against it: told, not refused.
///
/// # Errors
/// [`HouseError::MayNotBeSold`] when something grave speaks against it, unless the keeper fills it
/// anyway; [`HouseError::NoRegion`], [`HouseError::NoBestBefore`], [`HouseError::Unnamed`].
pub fn fill(standing: &Standing<'_>, asked: Fill) -> Result<(Batch, Vec<Caution>), HouseError> {
    let house = standing.house;
    let name = asked.lot;
    let cautions = against(standing, &name, asked.region)?;
    let lot = house.lot(&name)?;
    let (blocks, soft): (Vec<_>, Vec<_>) = cautions
        .into_iter()
        .partition(|caution| caution.weight() == Weight::Block);
    if !blocks.is_empty() && !asked.anyway {
        return Err(HouseError::MayNotBeSold {
            lot: name,
            why: blocks,
        });
    }
    let number = house.fillings().iter().filter(|f| f.lot == name).count() + 1;
    let fill = asked.fill.unwrap_or_else(|| format!("{name}/{number}"));
    let best_before = asked
        .best_before
        .or_else(|| usual_best_before(lot.oldest))
        .ok_or(HouseError::NoBestBefore)?;
    let notes = if blocks.is_empty() {
        Vec::new()
    } else {
        let why = words::cautions(&blocks);
        vec![format!("jars {fill} filled although: {why}")]
    };
    let batch = Batch {
        events: vec![LotEvent::JarsFilled(JarsFilled {
            fill: FillId::from(named("filling", &fill)?),
            mark: asked.mark.unwrap_or_else(|| name.to_string()),
            lot: name,
            on: standing.on,
            net_kg: asked.net,
            count: asked.count,
            drawn_kg: asked.drawn,
            best_before,
        })],
        notes,
    };
    Ok((batch, soft))
}
