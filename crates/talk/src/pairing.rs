//! Which share is for which face, where a phrase names several of both.
//!
//! "half this side a third the other", "this side half the other a third", "half, and behind it a
//! third": people say the face before its share or after it, and leave one of them out. The pairing
//! that leaves least unpaired and crosses the fewest pauses is taken.

use crate::ear::Faces;
use crate::mark::Mark;

/// A face or a share, in the order said.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Item {
    Face(Faces, Mark),
    Share(f64, Mark),
    /// The same as the face spoken of before.
    Same(Mark),
    /// More or less than the face spoken of before, by this much.
    Differs(f64, Mark),
    /// "capped", "open": a share only where no other is said.
    Bare(f64, Mark),
    /// A clause ends, the harder the later words are apart from the earlier.
    Gap(u8),
}

impl Item {
    fn is_face(&self) -> bool {
        matches!(self, Self::Face(..))
    }

    fn is_share(&self) -> bool {
        matches!(
            self,
            Self::Share(..) | Self::Same(_) | Self::Differs(..) | Self::Bare(..)
        )
    }

    /// What it costs to leave it without a partner.
    fn alone(&self) -> u32 {
        match self {
            Self::Face(Faces::Both, _) => 7,
            Self::Face(..) => 6,
            Self::Share(..) => 8,
            Self::Same(_) | Self::Differs(..) => 3,
            Self::Bare(..) | Self::Gap(_) => 0,
        }
    }

    /// What it costs to take it for a face's share.
    fn as_share(&self) -> u32 {
        if matches!(self, Self::Bare(..)) { 2 } else { 0 }
    }
}

/// For each item, the place of its partner.
pub(crate) fn pairs(items: &[Item]) -> Vec<Option<usize>> {
    let n = items.len();
    let mut best = vec![0_u32; n + 1];
    let mut with: Vec<Option<usize>> = vec![None; n];
    for at in (0..n).rev() {
        best[at] = items[at].alone() + best[at + 1];
        let mut cost = 0;
        for to in at + 1..n {
            let (a, b) = (&items[at], &items[to]);
            if a.is_face() && b.is_share() || a.is_share() && b.is_face() {
                let share = a.as_share().max(b.as_share());
                let all = cost + share + best[to + 1];
                if all < best[at] || all == best[at] && with[at].is_none() {
                    best[at] = all;
                    with[at] = Some(to);
                }
            }
            match items[to] {
                Item::Gap(weight) => cost += u32::from(weight),
                Item::Bare(..) => {}
                _ => break,
            }
        }
    }
    let mut partner = vec![None; n];
    let mut at = 0;
    while at < n {
        if let Some(to) = with[at] {
            partner[at] = Some(to);
            partner[to] = Some(at);
            at = to;
        }
        at += 1;
    }
    partner
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::concept::Concept;

    fn mark() -> Mark {
        Mark {
            concept: Concept::Word,
            value: 0.0,
            from: 0,
            to: 1,
            phrase: None,
        }
    }

    fn items(said: &str) -> Vec<Item> {
        said.chars()
            .map(|c| match c {
                't' => Item::Face(Faces::This, mark()),
                'o' => Item::Face(Faces::Other, mark()),
                'c' => Item::Bare(1.0, mark()),
                ',' => Item::Gap(1),
                _ => Item::Share(0.5, mark()),
            })
            .collect()
    }

    #[test]
    fn a_share_goes_to_the_face_beside_it() {
        let pairs = |said: &str| {
            pairs(&items(said))
                .iter()
                .map(|p| p.map_or('-', |p| char::from(b'0' + p as u8)))
                .collect::<String>()
        };
        assert_eq!(pairs("tsos"), "1032");
        assert_eq!(pairs("stso"), "1032");
        assert_eq!(pairs("s,os"), "--32");
        assert_eq!(pairs("sto"), "10-");
        assert_eq!(pairs("ctco"), "1032");
        assert_eq!(pairs("tcs"), "2-0");
    }
}
