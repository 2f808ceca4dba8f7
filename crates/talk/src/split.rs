//! Combs met in one breath and then told apart: "one comes home the other stays", "one yes two no".

use crate::act::Decision;
use crate::concept::Concept as C;
use crate::ear::Ear;
use crate::mark::Mark;
use crate::opening::whole;

impl Ear<'_> {
    /// "one of them is full and the other's half": each part is said of its comb. True if the
    /// phrase was that.
    pub(crate) fn told_apart(&mut self, marks: &[Mark]) -> bool {
        let group = self.pair_in_hand();
        if group.len() < 2 {
            return false;
        }
        if self.counted_out(marks, &group) {
            return true;
        }
        let (Some(one), Some(other)) = (self.one_of(0), self.other_one()) else {
            return false;
        };
        if one >= other || group.len() != 2 {
            return false;
        }
        let first: Vec<Mark> = part(marks, one, other);
        let second: Vec<Mark> = part(marks, other, usize::MAX);
        if first.is_empty() || second.is_empty() {
            return false;
        }
        for (comb, marks) in group.iter().zip([first, second]) {
            self.state.hand = vec![*comb];
            self.describe(&marks);
        }
        self.state.hand = group;
        true
    }

    /// The combs that "one" and "the other" may mean: those in hand, or the last met together.
    fn pair_in_hand(&self) -> Vec<usize> {
        if self.state.hand.len() > 1 {
            self.state.hand.clone()
        } else if self.in_group(1).is_some() {
            self.state.group.clone()
        } else {
            Vec::new()
        }
    }

    /// The word "one" that stands for a comb: not "one side", "one third", "one more".
    fn one_of(&self, from: usize) -> Option<usize> {
        (from..self.tokens.len()).find(|&i| {
            self.word(i) == "one"
                && matches!(
                    self.word(i + 1),
                    "of" | "is"
                        | "'s"
                        | "has"
                        | "comes"
                        | "goes"
                        | "stays"
                        | "for"
                        | "can"
                        | "looks"
                        | "full"
                        | "capped"
                        | "sealed"
                        | "half"
                        | "was"
                        | "i"
                        | "we"
                        | "to"
                        | "in"
                        | "out"
                        | "back"
                        | "empty"
                        | "with"
                        | "all"
                        | "got"
                        | "that"
                        | "just"
                        | "only"
                        | "mostly"
                        | "coming"
                        | "going"
                )
                && !matches!(
                    self.word(i.wrapping_sub(1)),
                    "this"
                        | "that"
                        | "other"
                        | "next"
                        | "each"
                        | "the"
                        | "another"
                        | "first"
                        | "bar"
                        | "comb"
                        | "number"
                )
        })
    }

    /// "the other", "other one": not a face.
    fn other_one(&self) -> Option<usize> {
        (0..self.tokens.len()).find(|&i| {
            self.word(i) == "other"
                && !matches!(
                    self.word(i + 1),
                    "side" | "face" | "end" | "hand" | "day" | "hive" | "way" | "cheek"
                )
        })
    }

    /// "one yes two no", "one out and one back": of combs not decided yet, in their order.
    fn counted_out(&mut self, marks: &[Mark], group: &[usize]) -> bool {
        let open = group
            .iter()
            .all(|&c| self.state.visit.combs[c].decision.is_none());
        if !open {
            return false;
        }
        let plain = marks.iter().all(|m| {
            matches!(
                m.concept,
                C::Num
                    | C::Take
                    | C::Leave
                    | C::Cut
                    | C::Other
                    | C::Not
                    | C::Word
                    | C::And
                    | C::Then
                    | C::But
                    | C::Stop
                    | C::That
                    | C::Total
                    | C::Comb
                    | C::Those
                    | C::Here
            )
        });
        let counts: Vec<Mark> = marks
            .iter()
            .copied()
            .filter(|m| whole(m).is_some())
            .collect();
        let sum: f64 = counts.iter().map(|m| m.value).sum();
        if !plain || counts.len() < 2 || sum as usize != group.len() {
            return false;
        }
        // "two out one back": the verdict after the count; "take two leave one": before it
        let end = self.tokens.len();
        let after: Vec<Option<Decision>> = (0..counts.len())
            .map(|k| {
                self.verdict(
                    marks,
                    counts[k].to,
                    counts.get(k + 1).map_or(end, |n| n.from),
                )
            })
            .collect();
        let before: Vec<Option<Decision>> = (0..counts.len())
            .map(|k| {
                let from = k.checked_sub(1).map_or(0, |k| counts[k].to);
                self.verdict(marks, from, counts[k].from)
            })
            .collect();
        let said = if after.iter().all(Option::is_some) {
            after
        } else {
            before
        };
        if said.iter().any(Option::is_none) {
            return false;
        }
        let mut combs = group.iter();
        for (m, decision) in counts.iter().zip(said) {
            let some: Vec<usize> = combs.by_ref().take(m.value as usize).copied().collect();
            self.decide("counted out", decision, &some, &[*m]);
        }
        true
    }

    /// The verdict between two words.
    fn verdict(&self, marks: &[Mark], from: usize, to: usize) -> Option<Decision> {
        let said = marks.iter().find_map(|m| {
            (m.from >= from && m.to <= to).then_some(match m.concept {
                C::Take | C::Cut => Some(Decision::Take),
                C::Leave => Some(Decision::Leave),
                _ => None,
            })?
        });
        said.or_else(|| {
            (from..to).find_map(|i| match self.word(i) {
                "yes" | "yep" | "yeah" | "out" | "off" | "mine" | "gone" | "home" | "me" => {
                    Some(Decision::Take)
                }
                "no" | "nope" | "back" | "in" | "stay" | "left" | "not" | "them" => {
                    Some(Decision::Leave)
                }
                _ => None,
            })
        })
    }
}

fn part(marks: &[Mark], from: usize, to: usize) -> Vec<Mark> {
    marks
        .iter()
        .copied()
        .filter(|m| m.from >= from && m.to <= to.max(from))
        .filter(|m| !(m.concept == C::Other && m.from <= from && m.to <= from + 2))
        .filter(|m| !(m.concept == C::Num && m.from == from))
        .collect()
}
