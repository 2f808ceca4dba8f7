//! Recording honey-house events: thought through, then written, all or none.

use honey::lots::LotEvent;
use house::{Batch, HouseError, Kept, Standing, plan};
use jiff::civil::Date;

use super::Context;
use crate::failure::Failure;
use crate::journal::{Open, Saying};
use crate::surroundings::local_day;

/// Records what `make` gives, if the house can take all of it; gives the house as it then stands.
pub(super) async fn record(
    context: &Context,
    on: Option<Date>,
    mut make: impl FnMut(&Standing<'_>) -> Result<Batch, Failure> + Send,
) -> Result<(Vec<LotEvent>, Kept), Failure> {
    refuse_days_to_come(context, on)?;
    let open = Open::to_write(&context.folder).await?;
    let (_, (events, kept)) = open
        .write(|desk| {
            let planned = plan(desk.yard(), context.now(), on, &local_day, &mut make)?;
            for what in planned.says {
                desk.say(Saying::of_yard(planned.at, what), &context.writer)?;
            }
            Ok((planned.events, planned.kept))
        })
        .await?;
    Ok((events, kept))
}

/// Before a journal is made for nothing.
fn refuse_days_to_come(context: &Context, on: Option<Date>) -> Result<(), HouseError> {
    let today = context.now().date();
    match on.filter(|on| *on > today) {
        Some(on) => Err(HouseError::InTheFuture { on }),
        None => Ok(()),
    }
}
