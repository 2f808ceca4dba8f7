//! What the rules say beside the keeper's word, and combs that are carried to another hive.

use advice::ripe::{RipeRule, verdict};
use comb::Contents;
use hive::check::bars_named;
use hive::entry::Harvest;
use hive::{BarId, Hive, HiveId, Known};
use talk::record::{Draft, Recording};

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

/// Bars that are carried away whole with their combs, in the order met.
pub fn carried(recording: &Recording) -> Vec<BarId> {
    let drafts = recording.drafts.iter();
    drafts
        .filter_map(|draft| carried_by(&draft.known))
        .collect()
}

const fn carried_by(known: &Known) -> Option<BarId> {
    match known {
        Known::CombTaken {
            bar,
            how: Harvest::Whole,
        } => Some(*bar),
        _ => None,
    }
}

/// Combs carried away on their bars go to another hive together, in the order met, when everything
/// is told of them: from then on they are bars of that hive.
pub fn to_the_split(recording: &mut Recording, to: HiveId) {
    let bars = carried(recording);
    let drafts = &mut recording.drafts;
    let Some(last) = drafts.iter().rposition(|d| carried_by(&d.known).is_some()) else {
        return;
    };
    let (phrase, said) = (drafts[last].phrase, drafts[last].said.clone());
    drafts.retain(|draft| match &draft.known {
        // a row that still has them is not the row that was closed
        Known::EndArranged { row, .. } => !row
            .iter()
            .any(|piece| piece.bar().is_some_and(|b| bars.contains(&b))),
        known => carried_by(known).is_none(),
    });
    let tells = |known: &Known| bars_named(known).iter().any(|bar| bars.contains(bar));
    let behind = drafts.iter().rposition(|d| tells(&d.known));
    let phrase = behind.map_or(phrase, |at| phrase.max(drafts[at].phrase));
    let known = Known::SplitTo {
        bars: bars.clone(),
        to,
    };
    let together = Draft {
        phrase,
        said,
        known,
    };
    drafts.insert(behind.map_or(0, |at| at + 1), together);
}
