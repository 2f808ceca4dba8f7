//! What advice says of each comb, as marks in the drawn hive.

use advice::taking::{CombAdvice, Taking};
use hive::{BarId, Hive, Lies};
use paper::Mark;

/// A mark for each comb of which something can be said.
pub fn marks<'a>(
    hive: &'a Hive,
    combs: &'a [CombAdvice],
) -> impl Iterator<Item = (BarId, Mark)> + 'a {
    combs
        .iter()
        .filter_map(|comb| Some((comb.bar, mark(hive, comb)?)))
}

/// The mark of one comb.
pub fn mark(hive: &Hive, comb: &CombAdvice) -> Option<Mark> {
    let aside = hive
        .bar(comb.bar)
        .is_some_and(|bar| bar.lies == Lies::Aside);
    if aside {
        return Some(Mark::SetAside);
    }
    match comb.taking {
        Taking::MayBeTaken => Some(Mark::Take),
        Taking::LookFirst => comb.is_known().then_some(Mark::LookAgain),
        Taking::Stays if comb.ripeness.is_ripening() => Some(Mark::Ripening),
        Taking::Stays
        | Taking::NeededForReserve
        | Taking::BehindBrood
        | Taking::LeftByKeeper
        | Taking::Withheld => Some(Mark::Stays),
    }
}
