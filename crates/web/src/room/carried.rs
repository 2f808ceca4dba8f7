//! Where combs go that are carried away on their bars: which hives can be chosen, and how it is said.

use comb::order::InOrder as _;
use hive::entry::End;
use hive::{BarId, Hive, HiveId, Yard};

use super::command;

/// A hive that combs can go to.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Goal {
    /// Which.
    pub hive: HiveId,
    /// Its name.
    pub name: String,
    /// Its row is empty but for these combs: they hang in it in the order in which they come.
    pub fresh: bool,
}

/// Hives that combs of this one can go to: other living ones that stand closed. Those with nothing but
/// these combs in their row come first, a split is mostly for them; then those of the same apiary, each
/// by name. The one that was chosen stays, whatever became of it.
pub fn goals(yard: &Yard, from: HiveId, carried: &[BarId], chosen: Option<HiveId>) -> Vec<Goal> {
    let here = yard.hive(from).and_then(|hive| hive.apiary);
    let fresh = |hive: &Hive| {
        let bars = hive.bars_from(End::Left);
        bars.iter().all(|bar| carried.contains(&bar.id))
    };
    let mut hives: Vec<_> = yard
        .living_hives()
        .into_iter()
        .filter(|hive| hive.id != from && hive.open_visit().is_none())
        .collect();
    hives.order_by_key(|hive| (!fresh(hive), hive.apiary != here));
    let lost = chosen.filter(|chosen| hives.iter().all(|hive| hive.id != *chosen));
    hives.extend(lost.and_then(|chosen| yard.hive(chosen)));
    let goal = |hive: &Hive| Goal {
        hive: hive.id,
        name: hive.name.clone(),
        fresh: fresh(hive),
    };
    hives.into_iter().map(goal).collect()
}

/// The hive that a whole phrase sends the carried combs to; none when the phrase says more, or when no
/// hive or several bear the name.
pub(super) fn said(phrase: &str, goals: &[Goal]) -> Option<HiveId> {
    let phrase = command::plain(phrase);
    let name = BEGINNINGS
        .iter()
        .find_map(|words| phrase.strip_prefix(words))?;
    let mut named = goals
        .iter()
        .filter(|goal| command::plain(&goal.name) == name);
    match (named.next(), named.next()) {
        (Some(goal), None) => Some(goal.hive),
        _ => None,
    }
}

const BEGINNINGS: [&str; 4] = [
    "they go to ",
    "these go to ",
    "the split goes to ",
    "split to ",
];

#[cfg(test)]
mod tests {
    use super::*;

    fn goal(nth: u128, name: &str) -> Goal {
        Goal {
            hive: HiveId(uuid::Uuid::from_u128(nth)),
            name: name.to_owned(),
            fresh: true,
        }
    }

    #[test]
    fn only_a_whole_phrase_with_one_hives_name_sends_combs_away() {
        let goals = [goal(1, "Tea-tree"), goal(2, "Banksia"), goal(3, "banksia")];
        let tea_tree = Some(goals[0].hive);
        for words in [
            "They go to Tea-tree.",
            "um, split to tea tree",
            "the split goes to tea tree please",
        ] {
            assert_eq!(said(words, &goals), tea_tree, "{words}");
        }
        for words in [
            "they go to tea tree when it is warm",
            "they go to banksia",
            "they go to the wall",
            "tea tree",
            "they go to",
        ] {
            assert_eq!(said(words, &goals), None, "{words}");
        }
    }
}
