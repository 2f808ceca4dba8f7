//! The running count, kept so that the keeper need not: taken, ripening, brood, stores.

use std::fmt;

use hive::{Hive, Visit};
use serde::Serialize;

use crate::stores::StoresAccount;
use crate::taking::{CombAdvice, Combs, Taking};

/// The count as it stands now.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Count {
    /// Combs taken in this visit.
    pub taken: usize,
    /// Combs taken as the keeper counted them, when a count was said.
    pub taken_by_keeper: Option<u32>,
    /// Combs set aside, their fate open.
    pub aside: usize,
    /// Further combs that may be taken.
    pub may_be_taken: usize,
    /// Ripe combs whose honey is withheld.
    pub withheld: usize,
    /// Combs whose honey is not ripe.
    pub ripening: usize,
    /// Combs with brood.
    pub brood: usize,
    /// Combs looked at in this visit.
    pub looked_at: usize,
    /// Stores that stay, in full combs.
    pub stores_combs: f64,
    /// Combs that nobody has looked at: what they hold is in no figure of the stores.
    pub not_looked_at: usize,
    /// What must stay, in full combs.
    pub reserve_combs: f64,
}

impl Count {
    /// From the hive, its visit (the running or the last one) and the advice on its combs.
    pub fn of(
        hive: &Hive,
        visit: Option<&Visit>,
        combs: &[CombAdvice],
        account: &StoresAccount,
    ) -> Self {
        let with = |test: &dyn Fn(&CombAdvice) -> bool| combs.iter().filter(|c| test(c)).count();
        Self {
            taken: visit.map_or(0, |v| v.taken.len()),
            taken_by_keeper: visit.and_then(|v| v.taken_counted),
            aside: hive
                .bars
                .values()
                .filter(|bar| bar.lies == hive::Lies::Aside)
                .count(),
            may_be_taken: with(&|c| c.taking == Taking::MayBeTaken),
            withheld: with(&|c| c.taking == Taking::Withheld),
            ripening: with(&|c| c.ripeness.is_ripening()),
            brood: with(&|c| c.ripeness == crate::ripe::Verdict::Brood),
            looked_at: visit.map_or(0, |v| v.seen.len()),
            stores_combs: account.combs,
            not_looked_at: account.not_looked_at.len(),
            reserve_combs: account.reserve.combs,
        }
    }

    /// What does not agree between the keeper's count and the record, in words.
    pub fn disagreement(&self) -> Option<String> {
        let said = self.taken_by_keeper? as usize;
        (said != self.taken)
            .then(|| format!("you count {said} taken, the record has {}", self.taken))
    }
}

impl fmt::Display for Count {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} taken", self.taken)?;
        if self.aside > 0 {
            write!(f, ", {} set aside", self.aside)?;
        }
        if self.withheld > 0 {
            write!(f, ", {} ripe but withheld", self.withheld)?;
        }
        write!(
            f,
            ", {} ripening, {} with brood; {} stay against a reserve of {}",
            self.ripening,
            self.brood,
            Combs(self.stores_combs),
            Combs(self.reserve_combs)
        )?;
        match self.not_looked_at {
            0 => Ok(()),
            unseen => write!(f, ", {unseen} not looked at"),
        }
    }
}
