//! One round: take what is new there, give what waits here, see it come back.

use thiserror::Error;

use crate::far::{Far, FarError};
use crate::near::Near;
use crate::wire::{MOST_RECORDS, Position, Pull, Pulled, Push, first_bytes};

/// What a round did.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Exchanged {
    /// Records given that the far side did not have.
    pub given: u64,
    /// Records handed over by the far side, those known already among them.
    pub taken: u64,
}

/// What broke off a round. Whatever was exchanged before stays exchanged.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum RoundError<N> {
    /// The journal at hand could not be read or written.
    #[error("{0}")]
    Near(N),
    /// The far side could not be reached, or refused.
    #[error(transparent)]
    Far(#[from] FarError),
    /// Where a journal was that had records of this one, there is now one that has none of them.
    /// Nothing was given and nothing kept. It stays so until that journal is back, or until the
    /// keeper wants both joined: [`Near::begin_anew`], once, and the next round joins them for good.
    #[error("the far side keeps another journal, with no record of this one")]
    Another,
}

/// One round of give and take.
///
/// May be cut off anywhere and begun again; done twice it changes nothing. A far side that was
/// restored from a copy shares records with the near one, and is brought up by itself; one that
/// shares none is another journal, and two journals are not mixed unasked.
///
/// # Errors
/// [`RoundError`], with everything up to there exchanged for good.
pub async fn round<N: Near, F: Far>(near: &N, far: &F) -> Result<Exchanged, RoundError<N::Error>> {
    // taking first, so that nothing is given that is there already
    let mut taken = take(near, far).await?;
    let (given, sent) = give(near, far).await?;
    if sent {
        taken += take(near, far).await?;
    }
    Ok(Exchanged { given, taken })
}

/// Gives what waits, once through; how many were new there, and whether anything was sent.
async fn give<N: Near, F: Far>(near: &N, far: &F) -> Result<(u64, bool), RoundError<N::Error>> {
    let (mut given, mut after) = (0, 0);
    loop {
        let waiting = near
            .waiting(after, MOST_RECORDS)
            .await
            .map_err(RoundError::Near)?;
        let first = first_bytes(waiting.iter().map(|(_, record)| record));
        let Some((last, _)) = first.checked_sub(1).and_then(|at| waiting.get(at)) else {
            return Ok((given, after > 0));
        };
        after = *last;
        let records = waiting
            .into_iter()
            .take(first)
            .map(|(_, record)| record)
            .collect();
        given += far.push(&Push { records }).await?.new;
    }
}

/// Takes what reached the far side since the position last kept; how many came.
async fn take<N: Near, F: Far>(near: &N, far: &F) -> Result<u64, RoundError<N::Error>> {
    let mut since = near.position().await.map_err(RoundError::Near)?;
    let (mut taken, mut anew) = (0, false);
    loop {
        let (records, next, more) = match far
            .pull(Pull {
                since,
                limit: MOST_RECORDS,
            })
            .await?
        {
            Pulled::Page {
                records,
                next,
                more,
            } => (records, next, more),
            Pulled::Elsewhere if since.is_some() && !anew => {
                if !related(near, far).await? {
                    return Err(RoundError::Another);
                }
                near.begin_anew().await.map_err(RoundError::Near)?;
                (since, anew) = (None, true);
                continue;
            }
            Pulled::Elsewhere => return Err(garbled("it never knows where we are")),
        };
        taken += records.len() as u64;
        let moved = place(next) > place(since);
        match next {
            Some(next) if moved => near.keep(records, next).await.map_err(RoundError::Near)?,
            _ if records.is_empty() => {}
            _ => return Err(garbled("records came without a new position")),
        }
        // one that promises more without moving on would keep us here for ever
        if !more || !moved {
            return Ok(taken);
        }
        since = next;
    }
}

/// Whether the far side has any record that is here, too. Of a copy the first page tells; a journal
/// with nothing in common is looked through to its end, and nothing of it is kept.
async fn related<N: Near, F: Far>(near: &N, far: &F) -> Result<bool, RoundError<N::Error>> {
    let mut since = None;
    loop {
        let pull = Pull {
            since,
            limit: MOST_RECORDS,
        };
        let Pulled::Page {
            records,
            next,
            more,
        } = far.pull(pull).await?
        else {
            return Err(garbled("it does not know the place that it named"));
        };
        if near.holds_any(&records).await.map_err(RoundError::Near)? {
            return Ok(true);
        }
        if !more || place(next) <= place(since) {
            return Ok(false);
        }
        since = next;
    }
}

fn place(position: Option<Position>) -> u64 {
    position.map_or(0, |position| position.place)
}

fn garbled<N>(why: &str) -> RoundError<N> {
    FarError::Garbled {
        why: why.to_owned(),
    }
    .into()
}
