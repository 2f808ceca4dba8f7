//! Why something is not recorded, or cannot be answered.

use honey::HoneyError;
use honey::lots::{Caution, LotId};
use jiff::civil::Date;
use thiserror::Error;

use crate::words;

/// One variant a cause.
#[derive(Debug, Clone, PartialEq, Error)]
#[non_exhaustive]
pub enum HouseError {
    /// The honey house itself refuses.
    #[error(transparent)]
    Honey(#[from] HoneyError),
    /// A hive is not known.
    #[error(transparent)]
    Hive(#[from] hive::HiveError),
    /// A thing without a name.
    #[error("a {what} needs a name")]
    Unnamed {
        /// Pail, lot or filling.
        what: &'static str,
    },
    /// A day that is still to come.
    #[error("{on} is in the future")]
    InTheFuture {
        /// The day.
        on: Date,
    },
    /// It fits what was there on that day, but not what was recorded of later days.
    #[error("it does not fit what was recorded later: {why}")]
    DoesNotFitLater {
        /// The first later entry that could not be any more.
        why: String,
    },
    /// No comb of those asked for waits.
    #[error("{} waits for a pail", no_comb(*.bar))]
    NoCombWaits {
        /// The bar that was asked for, if one was.
        bar: Option<u32>,
        /// The combs that wait, hive and bars in a few words; empty when none does.
        waiting: String,
    },
    /// More honey than combs can give.
    #[error(
        "{:.0} kg cannot come from {combs} {}: a full comb gives {:.0} kg at most",
        mass.to_kg(), if *combs == 1 { "comb" } else { "combs" }, most_each.to_kg()
    )]
    MassBeyondCombs {
        /// What was told.
        mass: comb::Mass,
        /// Combs in the pail.
        combs: usize,
        /// Most that one comb is believed to give.
        most_each: comb::Mass,
    },
    /// Where it was harvested is not told.
    #[error("the country of harvest is not known")]
    NoCountry,
    /// Where it is sold is not told.
    #[error("it is not known where this honey is sold")]
    NoRegion,
    /// Something grave speaks against filling jars.
    #[error("lot {lot} may not be sold as honey: {}", words::cautions(.why))]
    MayNotBeSold {
        /// The lot.
        lot: LotId,
        /// All that is grave.
        why: Vec<Caution>,
    },
    /// Best before cannot be counted from the oldest honey in it.
    #[error("no date best before can be counted for it: say one")]
    NoBestBefore,
    /// A lot whose moisture nobody read.
    #[error("the moisture of lot {lot} was never read")]
    NeverRead {
        /// The lot.
        lot: String,
    },
    /// Nothing to blend.
    #[error("no lots or vessels were named")]
    NothingToBlend,
    /// Nothing has to be poured.
    #[error("all are at {target} or under it: there is nothing to pour")]
    NothingToPour {
        /// What was asked for.
        target: honey::Moisture,
    },
    /// No sum of money.
    #[error("{sum} {currency} is no sum of money")]
    NoMoney {
        /// As it was given.
        sum: String,
        /// As it was given.
        currency: String,
    },
    /// A bar whose combs never went into a pail.
    #[error("no comb of bar {bar} of {hive} is in a pail")]
    NotInAPail {
        /// Its hive.
        hive: String,
        /// Its number.
        bar: u32,
    },
}

fn no_comb(bar: Option<u32>) -> String {
    bar.map_or_else(
        || "no comb".to_owned(),
        |bar| format!("no comb of bar {bar}"),
    )
}
