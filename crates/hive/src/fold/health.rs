//! How treatments and signs are told.

use crate::entry::Known;
use crate::fault::Why;
use crate::fold::Told;
use crate::health::{SignOnRecord, Treated};
use crate::history::Happened;
use crate::hive::Hive;
use crate::id::EntryId;
use crate::sign::Sign;

impl Hive {
    /// One entry about the colony's health.
    pub(super) fn tend(&mut self, told: Told<'_>, known: &Known) -> Result<(), Why> {
        match known {
            Known::TreatmentBegun(given) => self.treatments.push(Treated {
                when: told.when(),
                given: given.clone(),
                ended: None,
            }),
            Known::TreatmentEnded(end) => {
                let treatment = end.treatment;
                let found = self.treatments.iter_mut();
                let treated = found.rev().find(|t| t.when.entry == treatment);
                let treated = treated.ok_or(Why::NoSuchTreatment { treatment })?;
                treated.ended = Some(end.clone());
            }
            Known::SignSeen(sign) => return self.see_sign(sign, told),
            Known::SignReported(report) => {
                self.sign_mut(report.sign)?.reports.push(report.clone());
            }
            Known::SignCleared(clearing) => {
                self.sign_mut(clearing.sign)?.cleared = Some(clearing.clone());
            }
            _ => {}
        }
        Ok(())
    }

    fn see_sign(&mut self, sign: &Sign, told: Told<'_>) -> Result<(), Why> {
        if let Some(bar) = sign.bar {
            self.met_bar(bar, told)?;
        }
        self.signs.push(SignOnRecord {
            when: told.when(),
            sign: sign.clone(),
            reports: Vec::new(),
            cleared: None,
        });
        if let Some(bar) = sign.bar {
            let happened = Happened::SignSeen {
                condition: sign.condition.clone(),
                certainty: sign.certainty,
            };
            self.happened(bar, told, happened);
        }
        Ok(())
    }

    fn sign_mut(&mut self, sign: EntryId) -> Result<&mut SignOnRecord, Why> {
        let mut found = self.signs.iter_mut().rev();
        found
            .find(|seen| seen.when.entry == sign)
            .ok_or(Why::NoSuchSign { sign })
    }
}
