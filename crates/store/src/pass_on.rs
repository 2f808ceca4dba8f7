//! Passing entries on to other devices, in the order in which they arrived here.

use exchange::wire::{MOST_RECORDS, first_sizes};
use exchange::{Position, Pull, Pulled};

use crate::error::StoreError;
use crate::intake::sound;
use crate::journal::Journal;
use crate::sql;

impl Journal {
    /// Records that arrived after the position asked for, as the exchange hands them out: at most
    /// as many as asked for, and no more once [`exchange::wire::ENOUGH_BYTES`] are together.
    ///
    /// Damaged entries are passed over, since no device could take them in and all would wait behind
    /// them; the position moves past them. When a sound copy turns up it arrives anew and is handed
    /// out then. [`Journal::verify`] tells of them.
    ///
    /// # Errors
    /// Only when the file cannot be read.
    pub async fn pull(&self, pull: Pull) -> Result<Pulled, StoreError> {
        let mut tx = self.reading().await?;
        let after = match pull.since {
            None => 0,
            Some(Position { place, hash }) => {
                let Ok(place) = i64::try_from(place) else {
                    return Ok(Pulled::Elsewhere);
                };
                let stated = self.said(sql::hash_at(&mut tx, place).await)?;
                if stated.is_none_or(|stated| stated != hash.0) {
                    return Ok(Pulled::Elsewhere);
                }
                place
            }
        };
        let limit = pull.limit.clamp(1, MOST_RECORDS);
        let one_more = i64::try_from(limit + 1).unwrap_or(i64::MAX);
        let sizes = self.said(sql::sizes_since(&mut tx, after, one_more).await)?;
        let lengths = sizes.iter().map(|(_, bytes)| bytes.unsigned_abs() as usize);
        let first = first_sizes(lengths.take(limit));
        let upto = first.checked_sub(1).map_or(after, |last| sizes[last].0);
        let rows = self.said(sql::rows_between(&mut tx, after, upto).await)?;
        let last = rows.last().and_then(|row| {
            Some(Position {
                place: row.arrival.unsigned_abs(),
                hash: sql::hash(&row.hash)?,
            })
        });
        Ok(Pulled::Page {
            records: rows.iter().filter_map(sound).collect(),
            next: last.or(pull.since),
            more: sizes.len() > first,
        })
    }
}
