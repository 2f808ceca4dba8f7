//! Recording honey-house events: dated, looked at by the house, all or none.

use hive::{Known, Yard};
use honey::lots::{House, LotEvent};
use jiff::Timestamp;
use jiff::civil::Date;

use super::Context;
use crate::failure::Failure;
use crate::honey_house::{Kept, local_day};
use crate::journal::{Open, Saying};

/// What the makers of events may look at.
pub(super) struct Standing<'a> {
    /// The yard as it stands.
    pub(super) yard: &'a Yard,
    /// The house as it stands.
    pub(super) house: &'a House,
    /// The day it happened.
    pub(super) on: Date,
}

/// Events to record, with notes to stand beside them.
#[derive(Default)]
pub(super) struct Batch {
    /// In order.
    pub(super) events: Vec<LotEvent>,
    /// Recorded as notes of the yard.
    pub(super) notes: Vec<String>,
}

impl From<LotEvent> for Batch {
    fn from(event: LotEvent) -> Self {
        Self {
            events: vec![event],
            notes: Vec::new(),
        }
    }
}

/// Records what `make` gives, if the house can take all of it; gives the house as it then stands.
pub(super) async fn record(
    context: &Context,
    on: Option<Date>,
    make: impl FnOnce(&Standing<'_>) -> Result<Batch, Failure> + Send,
) -> Result<(Vec<LotEvent>, Kept), Failure> {
    let today = context.now().date();
    let on = on.unwrap_or(today);
    if on > today {
        return Err(Failure::input(format!("{on} is in the future"))
            .help("Record things when they have happened."));
    }
    let open = Open::to_write(&context.folder).await?;
    let (yard, events) = open
        .write(|desk| {
            let before = Kept::of(desk.yard());
            let standing = Standing {
                yard: desk.yard(),
                house: &before.house,
                on,
            };
            let batch = make(&standing)?;
            let mut house = before.house.clone();
            for event in &batch.events {
                house.apply(event)?;
            }
            let at = instant(context, desk.yard(), on)?;
            for event in &batch.events {
                let serde_json::Value::Object(event) = serde_json::to_value(event)? else {
                    return Err(Failure::input("an event that is no object"));
                };
                desk.say(
                    Saying::of_yard(at, Known::HoneyHouse { event }),
                    &context.writer,
                )?;
            }
            for text in batch.notes {
                desk.say(Saying::of_yard(at, Known::Note { text }), &context.writer)?;
            }
            let after = Kept::of(desk.yard());
            if let Some(why) = after.refused.iter().find(|w| !before.refused.contains(w)) {
                return Err(Failure::input(format!(
                    "it does not fit what was recorded later: {why}"
                ))
                .help("Take the later entry back first: combwright honey undo"));
            }
            Ok(batch.events)
        })
        .await?;
    Ok((events, Kept::of(&yard)))
}

/// The instant of a day: now for today, else its noon, but never before what was recorded of the
/// same day, so that things of one day keep the order in which they were told.
fn instant(context: &Context, yard: &Yard, on: Date) -> Result<Timestamp, Failure> {
    if on == context.now().date() {
        return Ok(context.now().timestamp());
    }
    let noon = on
        .at(12, 0, 0, 0)
        .to_zoned_datetime(context.now().time_zone().clone())
        .map_err(|why| Failure::input(format!("{on}: {why}")))?
        .timestamp();
    let same_day = yard.acts().iter().filter(|act| {
        matches!(act.what().known(), Some(Known::HoneyHouse { .. }))
            && local_day(act.entry().at, &act.entry().zone) == on
    });
    Ok(same_day
        .map(hive::yard::Act::effective)
        .fold(noon, Timestamp::max))
}
