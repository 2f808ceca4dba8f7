//! What a closing-up takes for granted because nobody said it.

use std::fmt::{self, Formatter};

use comb::{Length, Tell, ToldIn};
use serde::{Serialize, Serializer};

/// One thing assumed. Serialises as its sentence, in millimetres.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub enum ClosingAssumed {
    /// The follower board, which the record does not know, is so wide.
    Follower(Length),
    /// No shims are at hand.
    NoShims,
    /// A bar that went to another hive was so wide.
    GoneBar(Length),
    /// So much of the hive's length, on which the record has no bars, is covered by something else.
    Covered(Length),
    /// Combs of these numbers are straight.
    Straight(Vec<u32>),
    /// Combs of these numbers are not capped where nobody spoke of it.
    NotCapped(Vec<u32>),
}

impl Tell for ClosingAssumed {
    fn tell(&self, f: &mut Formatter<'_>, told_in: ToldIn) -> fmt::Result {
        match self {
            Self::Follower(width) => write!(
                f,
                "the follower board is {} wide",
                told_in.length_words(*width)
            ),
            Self::NoShims => f.write_str("no shims are at hand"),
            Self::GoneBar(width) => write!(
                f,
                "the width of a bar that went to another hive is not known, {} is taken",
                told_in.length_words(*width)
            ),
            Self::Covered(length) => write!(
                f,
                "{} of the hive's length, on which the record has no bars, are covered by something \
                 else: how is not known, look that nothing stays open",
                told_in.length_words(*length)
            ),
            Self::Straight(combs) => write!(
                f,
                "straight, since nothing else was said: comb {}",
                numbers(combs)
            ),
            Self::NotCapped(combs) => write!(
                f,
                "not capped on a side that nobody spoke of: comb {}",
                numbers(combs)
            ),
        }
    }
}

fn numbers(combs: &[u32]) -> String {
    let numbers: Vec<String> = combs.iter().map(u32::to_string).collect();
    numbers.join(", ")
}

impl Serialize for ClosingAssumed {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(&self.told(ToldIn::Metric))
    }
}
