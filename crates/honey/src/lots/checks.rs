//! Looks that events share: each gives the reason for a refusal.

use jiff::civil::Date;

use super::amount::Amount;
use super::house::House;
use super::id::LotId;
use super::record::Lot;
use crate::HoneyError;

impl House {
    /// A lot that is not younger than what happens to it.
    pub(crate) fn dated_lot(&self, lot: &LotId, on: Date) -> Result<usize, HoneyError> {
        let at = self.find_lot(lot)?;
        not_before(
            ("an entry for", lot.as_str(), on),
            (lot.as_str(), self.lots[at].on),
        )?;
        Ok(at)
    }

    /// What the lot holds once this is gone.
    pub(crate) fn left_after(
        &self,
        lot: &LotId,
        on: Date,
        gone: Amount,
    ) -> Result<Amount, HoneyError> {
        holds(&self.lots[self.dated_lot(lot, on)?], gone)
    }
}

pub(crate) fn holds(lot: &Lot, asked: Amount) -> Result<Amount, HoneyError> {
    lot.mass.less(asked).ok_or_else(|| HoneyError::MoreThanLot {
        lot: lot.lot.clone(),
        there: lot.mass(),
        asked: asked.mass(),
    })
}

pub(crate) fn free_name(what: &'static str, name: &str, taken: bool) -> Result<(), HoneyError> {
    if taken {
        return Err(HoneyError::NameTaken {
            what,
            name: name.to_owned(),
        });
    }
    Ok(())
}

pub(crate) fn made_of_something(
    what: &'static str,
    name: &str,
    empty: bool,
) -> Result<(), HoneyError> {
    if empty {
        return Err(HoneyError::MadeOfNothing {
            what,
            name: name.to_owned(),
        });
    }
    Ok(())
}

pub(crate) fn unknown(what: &'static str, name: &str) -> HoneyError {
    HoneyError::Unknown {
        what,
        name: name.to_owned(),
    }
}

/// Refuses what is dated before what it is made of.
pub(crate) fn not_before(
    (what, name, on): (&'static str, &str, Date),
    (source, source_on): (&str, Date),
) -> Result<(), HoneyError> {
    if on >= source_on {
        return Ok(());
    }
    Err(HoneyError::BeforeItsSource {
        what,
        name: name.to_owned(),
        on,
        source_name: source.to_owned(),
        source_on,
    })
}
