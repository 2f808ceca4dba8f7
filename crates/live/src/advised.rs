//! What the rules say beside the keeper's word, and combs that are carried to another hive.

use advice::ripe::{RipeRule, verdict};
use comb::Contents;
use hive::entry::Harvest;
use hive::{BarId, Hive, HiveId, Known};
use talk::record::Recording;

/// Notes the verdict beside each decision, by what this visit saw of the comb.
pub fn note_advice(hive: &Hive, recording: &mut Recording) {
    let rule = RipeRule::with_mean(hive.ripeness);
    let seen: Vec<(BarId, Contents)> = recording
        .drafts
        .iter()
        .filter_map(|draft| match &draft.known {
            Known::CombSeen { bar, contents } => Some((*bar, contents.clone())),
            _ => None,
        })
        .collect();
    for draft in &mut recording.drafts {
        if let Known::Decided { bar, advised, .. } = &mut draft.known {
            let contents = seen.iter().find(|(which, _)| which == bar);
            *advised = contents.map(|(_, c)| verdict(c, rule).to_string());
        }
    }
}

/// Combs carried away on their bars go to another hive together, in the order met.
pub fn to_the_split(recording: &mut Recording, to: HiveId) {
    let carried = |known: &Known| match known {
        Known::CombTaken {
            bar,
            how: Harvest::Whole,
        } => Some(*bar),
        _ => None,
    };
    let drafts = &recording.drafts;
    let bars: Vec<BarId> = drafts.iter().filter_map(|d| carried(&d.known)).collect();
    let Some(last) = drafts.iter().rposition(|d| carried(&d.known).is_some()) else {
        return;
    };
    let together = Known::SplitTo {
        bars: bars.clone(),
        to,
    };
    recording.drafts[last].known = together;
    recording.drafts.retain(|draft| match &draft.known {
        // a row that still has them is not the row that was closed
        Known::EndArranged { row, .. } => !row
            .iter()
            .any(|piece| piece.bar().is_some_and(|b| bars.contains(&b))),
        known => carried(known).is_none(),
    });
}
